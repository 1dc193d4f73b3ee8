//! Networks and evidence as JSON and UAI: nothing is lost, and what is broken is explained.

use oddment_circuit::{
    Circuit, CompileOptions, Distribution, Error, Evidence, MAX_VARIABLES, Network, NetworkBuilder,
    VariableId,
};
use std::fmt::Write;

/// The network that the broken evidence below is about.
fn taxicab() -> Network {
    let text = r#"{"name": "taxicab", "variables": [
        {"name": "witness", "states": ["blue", "green"], "parents": ["cab"],
         "table": [0.8, 0.2, 0.2, 0.8]},
        {"name": "cab", "states": ["blue", "green"], "table": [0.15, 0.85]},
        {"name": "reading", "parents": ["cab", "witness"], "likelihood": true}]}"#;
    Network::from_json(text).expect("valid")
}

/// A network of these variables, in JSON.
fn json(variables: &str) -> String {
    format!(r#"{{"name": "n", "variables": [{variables}]}}"#)
}

const CAB: &str = r#"{"name": "cab", "states": ["blue", "green"], "table": [0.15, 0.85]}"#;

/// Compares messages and reports all that differ.
fn assert_messages<'a>(rows: impl IntoIterator<Item = (String, &'a str, Option<Error>)>) {
    let mut differences = String::new();
    for (input, expected, error) in rows {
        let message = error.map_or("no error".into(), |error| error.to_string());
        if message != expected {
            let start: String = input.chars().take(200).collect();
            let _ = writeln!(
                differences,
                "{start}\n  said: {message}\n  not:  {expected}"
            );
        }
    }
    assert!(differences.is_empty(), "\n{differences}");
}
/// Broken JSON documents; `CAB` stands for the sound variable [`CAB`].
const BROKEN_DOCUMENTS: &[(&str, &str)] = &[
    ("", "network: line 1, column 1: EOF while parsing a value"),
    (
        "{",
        "network: line 1, column 1: EOF while parsing an object",
    ),
    (
        "[1]",
        "network: line 1, column 1: is a list, must be an object",
    ),
    (
        r#"{"name": "n"}"#,
        "network: line 1, column 13: missing field `variables`",
    ),
    (
        r#"{"name": "n", "name": "m", "variables": []}"#,
        "network: line 1, column 20: duplicate field `name`",
    ),
    (
        r#"{"name": "n", "lane": "cab", "variables": [CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "copying": {"source": "cab", "share": [0.5, 0.5], "own": [0.5, 0.5, 0.5, 0.5]}}]}"#,
        "variable `a`: copies the lane variable `cab`; give it a table instead",
    ),
    (
        r#"{"name": "n", "lane": "cab", "variables": [CAB, {"name": "b", "states": ["x", "y"], "table": [1, 0]}, {"name": "a", "states": ["x", "y"], "parents": ["cab", "b"], "copying": {"source": "b", "share": [0.5, 0.5], "own": [0.5, 0.5, 0.5, 0.25]}}]}"#,
        "variable `a`: `own` for `cab` = `green` sums to 0.75, must be 1 within 1e-9",
    ),
    (
        r#"{"name": "n", "lane": "cap", "variables": [CAB]}"#,
        "network: `lane` names an unknown variable `cap`; nearest: `cab`",
    ),
    (
        r#"{"name": "n", "lane": "w", "variables": [CAB, {"name": "w", "states": ["x"], "parents": ["cab"], "table": [1, 1]}]}"#,
        "variable `w`: is the lane variable and must have a plain table and no parents",
    ),
];

/// Networks in JSON with these broken variables; `CAB` stands for the sound variable [`CAB`].
const BROKEN_VARIABLES: &[(&str, &str)] = &[
    (
        r#"{"name": 3}"#,
        "network: line 1, column 38: invalid type: integer `3`, expected a string",
    ),
    (
        "7",
        "network: line 1, column 29: invalid type: integer `7`, expected a variable: an object with `name`, `states`, `parents` and `table`",
    ),
    ("", "network: has no variables; give at least one"),
    (
        r#"{"name": "a", "states": ["x"], "tabel": [1]}"#,
        "network: line 1, column 66: unknown field `tabel`, expected one of `name`, `states`, `parents`, `table`, `noisy_max`, `copying`, `likelihood`",
    ),
    (
        r#"{"name": "", "states": ["x"], "table": [1]}"#,
        "network: a variable has an empty name; give it one",
    ),
    (
        "CAB, CAB",
        "variable `cab`: is declared twice; names must be unique",
    ),
    (
        r#"{"name": "a", "states": ["x", "y", "x"], "table": [1, 0, 0]}"#,
        "variable `a`: has the state `x` twice; states must be unique",
    ),
    (
        r#"{"name": "a", "table": [1]}"#,
        "variable `a`: has no states; give at least one",
    ),
    (
        r#"CAB, {"name": "w", "states": ["x"], "parents": ["cap"], "table": [1, 1]}"#,
        "variable `w`: names the unknown variable `cap`, perhaps `cab`",
    ),
    (
        r#"CAB, {"name": "w", "states": ["x"], "parents": ["truth"], "table": [1, 1]}"#,
        "variable `w`: names the unknown variable `truth`; declare it, too",
    ),
    (
        r#"CAB, {"name": "w", "states": ["x"], "parents": ["cab", "cab"], "table": [1, 1, 1, 1]}"#,
        "variable `w`: has the parent `cab` twice; name each once",
    ),
    (
        r#"{"name": "a", "states": ["x"], "parents": ["a"], "table": [1]}"#,
        "variable `a`: depends on itself; parents must not depend on their children",
    ),
    (
        r#"{"name": "z", "states": ["x"], "parents": ["c"], "table": [1]}, {"name": "a", "states": ["x"], "parents": ["b"], "table": [1]}, {"name": "b", "states": ["x"], "parents": ["c"], "table": [1]}, {"name": "c", "states": ["x"], "parents": ["a"], "table": [1]}"#,
        "variable `c`: depends on itself through `a`, `b`; parents must not depend on their children",
    ),
    (
        r#"CAB, {"name": "w", "states": ["x", "y"], "parents": ["cab"], "table": [0.5, 0.5, 1]}"#,
        "variable `w`: `table` has length 3, must be 4",
    ),
    (
        r#"CAB, {"name": "w", "states": ["x", "y"], "parents": ["cab"], "table": [0.5, 0.5, 0.5, 0.4]}"#,
        "variable `w`: `table` for `cab` = `green` sums to 0.9, must be 1 within 1e-9",
    ),
    (
        r#"{"name": "a", "states": ["x", "y"], "table": [0.5, 0.500001]}"#,
        "variable `a`: `table` sums to 1.0000010000000001, must be 1 within 1e-9",
    ),
    (
        r#"{"name": "a", "states": ["x", "y"], "table": [-0.5, 1.5]}"#,
        "variable `a`: `table` number 1 of 2 is -0.5, must lie in [0, 1]",
    ),
    (
        r#"{"name": "a", "states": ["x", "y"], "table": [0.5, 1e999]}"#,
        "network: line 1, column 84: number out of range",
    ),
    (
        r#"{"name": "a", "states": ["x", "y"], "table": [0.5, NaN]}"#,
        "network: line 1, column 80: expected value",
    ),
    (
        r#"{"name": "a", "states": ["x", "y"], "table": [0.5, null]}"#,
        "network: line 1, column 83: invalid type: null, expected f64",
    ),
    (
        r#"{"name": "a", "states": ["x"]}"#,
        "variable `a`: has no distribution, needs exactly one of `table`, `noisy_max`, `copying`, `likelihood`",
    ),
    (
        r#"{"name": "a", "states": ["x"], "table": [1], "likelihood": true}"#,
        "variable `a`: has `table` and `likelihood`, needs exactly one of `table`, `noisy_max`, `copying`, `likelihood`",
    ),
    (
        r#"CAB, {"name": "m", "states": ["x"], "parents": ["cab"], "likelihood": true}"#,
        "variable `m`: is a likelihood and must have no states, has 1",
    ),
    (
        r#"CAB, {"name": "m", "parents": ["cab"], "likelihood": true}, {"name": "a", "states": ["x"], "parents": ["m"], "table": [1]}"#,
        "variable `a`: has the parent `m`, which has no states to depend on",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x"], "noisy_max": {"base_parents": [], "base": []}}"#,
        "variable `a`: is a noisy-max with 1 state; it needs at least two",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "noisy_max": {"base_parents": [], "base": [0.5]}}"#,
        "variable `a`: has the parent `cab`, which is neither base parent, cause nor hide",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "noisy_max": {"base_parents": ["cab"], "base": [0.5, 0.5]}}"#,
        "variable `a`: uses `cab`, which is not among its parents",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "noisy_max": {"base_parents": ["cab", "cab"], "base": [0.5, 0.5, 0.5, 0.5]}}"#,
        "variable `a`: has the base parent `cab` twice; name each once",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "noisy_max": {"base_parents": ["cab"], "base": [0.5]}}"#,
        "variable `a`: `base` has length 1, must be 2",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y", "z"], "parents": ["cab"], "noisy_max": {"base_parents": ["cab"], "base": [0.5, 0.6, 0.6, 0.5]}}"#,
        "variable `a`: `base` for `cab` = `green` falls from 0.6 to 0.5; cumulative probabilities must not fall",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "noisy_max": {"base_parents": [], "base": [0.5], "causes": [{"parent": "cab", "cumulative": [0.5]}]}}"#,
        "variable `a`: `cumulative` of cause `cab` has length 1, must be 2",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y", "z"], "parents": ["cab"], "noisy_max": {"base_parents": [], "base": [0.5, 1], "causes": [{"parent": "cab", "cumulative": [0.5, 0.4, 1, 1]}]}}"#,
        "variable `a`: `cumulative` of cause `cab` for `cab` = `blue` falls from 0.5 to 0.4; cumulative probabilities must not fall",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "noisy_max": {"base_parents": [], "base": [0.5], "hides": [{"parent": "cab", "blank": [0.5, 1.5]}]}}"#,
        "variable `a`: `blank` of hide `cab` number 2 of 2 is 1.5, must lie in [0, 1]",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "noisy_max": {"base_parents": [], "base": [0.5], "hides": [{"parent": "cap", "blank": [0.5, 0.5]}]}}"#,
        "variable `a`: names the unknown variable `cap`, perhaps `cab`",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "noisy_max": {"base_parents": [], "base": [0.5], "hide": []}}"#,
        "network: line 1, column 208: unknown field `hide`, expected one of `base_parents`, `base`, `causes`, `hides`",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "copying": {"source": "cab", "share": [0.5], "own": [0.5, 0.5]}}"#,
        "variable `a`: copies `cab`, which is not among its parents",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y", "z"], "parents": ["cab"], "copying": {"source": "cab", "share": [0.5], "own": [0.5, 0.5, 0]}}"#,
        "variable `a`: has 3 states and copies `cab`, which has 2; they must have as many",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "copying": {"source": "cab", "share": [0.5, 0.5], "own": [0.5, 0.5]}}"#,
        "variable `a`: `share` has length 2, must be 1",
    ),
    (
        r#"CAB, {"name": "a", "states": ["x", "y"], "parents": ["cab"], "copying": {"source": "cab", "share": [0.5], "own": [0.5, 0.25]}}"#,
        "variable `a`: `own` sums to 0.75, must be 1 within 1e-9",
    ),
    (
        r#"CAB, {"name": "b", "states": ["x", "y"], "table": [1, 0]}, {"name": "a", "states": ["x", "y"], "parents": ["cab", "b"], "copying": {"source": "cab", "share": [0.5], "own": [0.5, 0.5]}}"#,
        "variable `a`: copies, so its parents may only be its source and the lane variable, not `b`",
    ),
];

/// Broken networks in UAI format.
const BROKEN_UAI: &[(&str, &str)] = &[
    (
        "",
        "network: line 1, column 1: the file is empty, must begin with `BAYES`",
    ),
    (
        "MARKOV 1",
        "network: line 1, column 1: preamble `MARKOV` is not supported, must be `BAYES`",
    ),
    (
        "BAYES",
        "network: line 1, column 6: the file ends where the number of variables should stand",
    ),
    (
        "BAYES 0",
        "network: line 1, column 7: 0 variables; between 1 and 20000 are allowed",
    ),
    (
        "BAYES 20001",
        "network: line 1, column 7: 20001 variables; between 1 and 20000 are allowed",
    ),
    (
        "BAYES two",
        "network: line 1, column 7: `two` is not the number of variables",
    ),
    (
        "BAYES -1",
        "network: line 1, column 7: `-1` is not the number of variables",
    ),
    (
        "BAYES\n2\n2 0",
        "network: line 3, column 3: 0 states; between 1 and 65535 are allowed",
    ),
    (
        "BAYES\n1\n65536",
        "network: line 3, column 1: 65536 states; between 1 and 65535 are allowed",
    ),
    (
        "BAYES\n2\n60000 60000\n",
        "network: line 3, column 1: 60000 states so far; the file is too short for their tables",
    ),
    (
        "BAYES\n1\n2\n2",
        "network: line 4, column 1: the number of tables is 2, must be 1, one for each variable",
    ),
    (
        "BAYES\n1\n2\n1\n0",
        "network: line 5, column 1: a scope of 0 variables; between 1 and 1 are possible",
    ),
    (
        "BAYES\n1\n2\n1\n2 0 0",
        "network: line 5, column 1: a scope of 2 variables; between 1 and 1 are possible",
    ),
    (
        "BAYES\n2\n2 2\n2\n1 2",
        "network: line 5, column 3: variable 2 does not exist, the last is 1",
    ),
    (
        "BAYES\n2\n2 2\n2\n1 0\n2 0 1\n3 0.5 0.25 0.25",
        "network: line 7, column 1: the table over the scope [0] has length 3, must be 2",
    ),
    (
        "BAYES\n1\n2\n1\n1 0\n2 0.5",
        "network: line 6, column 6: the file ends where a probability should stand",
    ),
    (
        "BAYES\n1\n2\n1\n1 0\n2 0.5 half",
        "network: line 6, column 7: `half` is not a probability",
    ),
    (
        "BAYES\n1\n2\n1\n1 0\n2 0.5 0.5 7",
        "network: line 6, column 11: `7` stands after the end",
    ),
    (
        "BAYES\n2\n2 2\n2\n1 0\n1 0\n2 0.5 0.5\n2 0.5 0.5",
        "network: line 8, column 7: variable 0 has two tables; each has exactly one",
    ),
    (
        "BAYES\n1\n2\n1\n1 0\n2 0.5 0.25",
        "variable `x0`: `table` sums to 0.75, must be 1 within 1e-9",
    ),
    (
        "BAYES\n1\n2\n1\n1 0\n2 NaN 0.25",
        "variable `x0`: `table` number 1 of 2 is NaN, must lie in [0, 1]",
    ),
    (
        "BAYES\n1\n2\n1\n1 0\n2 1.5 -0.5",
        "variable `x0`: `table` number 1 of 2 is 1.5, must lie in [0, 1]",
    ),
    (
        "BAYES\n2\n1 1\n2\n2 1 0\n2 0 1\n1 1\n1 1",
        "variable `x0`: depends on itself through `x1`; parents must not depend on their children",
    ),
    (
        "BAYES\n2\n2 2\n2\n1 0\n3 0 0 1\n2 0.5 0.5\n8 1 0 1 0 1 0 1 0",
        "network: line 6, column 1: a scope of 3 variables; between 1 and 2 are possible",
    ),
];

/// Broken evidence in JSON, for [`taxicab`].
const BROKEN_EVIDENCE_JSON: &[(&str, &str)] = &[
    ("", "evidence: line 1, column 1: EOF while parsing a value"),
    (
        "[]",
        "evidence: line 1, column 1: is a list, must be an object",
    ),
    (
        r#"{"hard": []}"#,
        "evidence: line 1, column 9: invalid type: sequence, expected an object with a finding for each variable",
    ),
    (
        r#"{"firm": {}}"#,
        "evidence: line 1, column 7: unknown field `firm`, expected `hard` or `soft`",
    ),
    (
        r#"{"hard": {"cap": "blue"}}"#,
        "unknown variable `cap`; nearest: `cab`",
    ),
    (
        r#"{"hard": {"something": "blue"}}"#,
        "unknown variable `something`; no name is like it",
    ),
    (
        r#"{"hard": {"cab": "bleu"}}"#,
        "variable `cab` has no state `bleu`; its states are `blue`, `green`",
    ),
    (
        r#"{"hard": {"cab": 0}}"#,
        "evidence: line 1, column 18: invalid type: integer `0`, expected a string",
    ),
    (
        r#"{"hard": {"reading": "blue"}}"#,
        "variable `reading` has no state `blue`; it is a likelihood over its parents' states and takes a likelihood only",
    ),
    (
        r#"{"hard": {"cab": "blue", "cab": "green"}}"#,
        "evidence: line 1, column 40: `cab` is observed twice",
    ),
    (
        r#"{"soft": {"cab": [1]}}"#,
        "likelihood of `cab`: has length 1, must be 2",
    ),
    (
        r#"{"soft": {"cab": [1, -0.5]}}"#,
        "likelihood of `cab`: holds -0.5; entries must be finite and not negative",
    ),
    (
        r#"{"soft": {"cab": [1, 1e999]}}"#,
        "evidence: line 1, column 26: number out of range",
    ),
    (
        r#"{"soft": {"cab": "blue"}}"#,
        r#"evidence: line 1, column 23: invalid type: string "blue", expected a sequence"#,
    ),
    (
        r#"{"soft": {"reading": [1, 1]}}"#,
        "likelihood of `reading`: has length 2, must be 4",
    ),
    (
        r#"{"soft": {"cab": [1, 1], "cab": [1, 1]}}"#,
        "evidence: line 1, column 39: `cab` is observed twice",
    ),
];

/// Broken evidence in UAI format, for [`taxicab`].
const BROKEN_EVIDENCE_UAI: &[(&str, &str)] = &[
    (
        "",
        "evidence: line 1, column 1: the file ends where the number of observations should stand",
    ),
    (
        "one",
        "evidence: line 1, column 1: `one` is not the number of observations",
    ),
    (
        "1",
        "evidence: line 1, column 2: the file ends where a variable number should stand",
    ),
    (
        "1 3 0",
        "evidence: line 1, column 3: variable 3 does not exist, the last is 2",
    ),
    (
        "1 0",
        "evidence: line 1, column 4: the file ends where a state number should stand",
    ),
    (
        "1 0 2",
        "evidence: line 1, column 5: likelihood of `witness`: has no state number 2, the last is 1",
    ),
    (
        "2 0 0 0 0",
        "evidence: line 1, column 7: variable 0 is observed twice",
    ),
    (
        "1 0 0 9",
        "evidence: line 1, column 7: `9` stands after the end",
    ),
    (
        "1 2 0",
        "evidence: line 1, column 5: likelihood of `reading`: has no states of its own to observe; give one entry for each joint state of its parents",
    ),
    (
        "1 -1 0",
        "evidence: line 1, column 3: `-1` is not a variable number",
    ),
    (
        "3 0 0",
        "evidence: line 1, column 6: the file ends where a variable number should stand",
    ),
];

#[test]
fn broken_networks_are_explained() {
    let read = |text: String| {
        let error = Network::from_json(&text).err();
        (text, error)
    };
    let documents = BROKEN_DOCUMENTS.iter().map(|(text, message)| {
        let (text, error) = read(text.replace("CAB", CAB));
        (text, *message, error)
    });
    let variables = BROKEN_VARIABLES.iter().map(|(text, message)| {
        let (text, error) = read(json(&text.replace("CAB", CAB)));
        (text, *message, error)
    });
    let uai = BROKEN_UAI.iter().map(|(text, message)| {
        let error = Network::from_uai("n", text).err();
        ((*text).to_owned(), *message, error)
    });
    assert_messages(documents.chain(variables).chain(uai));
}

#[test]
fn broken_evidence_is_explained() {
    let network = taxicab();
    let json = BROKEN_EVIDENCE_JSON.iter().map(|(text, message)| {
        let error = Evidence::from_json(&network, text).err();
        ((*text).to_owned(), *message, error)
    });
    let uai = BROKEN_EVIDENCE_UAI.iter().map(|(text, message)| {
        let error = Evidence::from_uai(&network, text).err();
        ((*text).to_owned(), *message, error)
    });
    assert_messages(json.chain(uai));
}

/// As many binary variables without parents, in JSON.
fn coins(count: usize) -> String {
    let coins: Vec<String> = (0..count)
        .map(|index| {
            format!(r#"{{"name": "c{index}", "states": ["0", "1"], "table": [0.5, 0.5]}}"#)
        })
        .collect();
    coins.join(", ")
}

#[test]
fn what_is_too_large_to_be_a_network_is_explained() {
    let states: Vec<String> = (0..65_536).map(|state| format!("\"{state}\"")).collect();
    let parents: Vec<String> = (0..70).map(|index| format!("\"c{index}\"")).collect();
    let parents = parents.join(", ");
    let rows = [
        (
            coins(MAX_VARIABLES + 1),
            "network: has 20001 variables, at most 20000 are allowed",
        ),
        (
            format!(
                r#"{{"name": "a", "states": [{}], "table": []}}"#,
                states.join(", ")
            ),
            "variable `a`: has 65536 states, at most 65535 are allowed",
        ),
        (
            format!(
                r#"{}, {{"name": "m", "parents": [{parents}], "likelihood": true}}"#,
                coins(70)
            ),
            "variable `m`: has more joint parent states than can be counted",
        ),
        (
            format!(
                r#"{}, {{"name": "m", "states": ["x"], "parents": [{parents}], "table": [1]}}"#,
                coins(70)
            ),
            "variable `m`: has more joint parent states than can be counted",
        ),
        (
            format!(
                r#"{}, {{"name": "m", "states": ["x", "y"], "parents": [{parents}],
                "noisy_max": {{"base_parents": [{parents}], "base": [1]}}}}"#,
                coins(70)
            ),
            "variable `m`: `base` would have more numbers than can be counted",
        ),
    ];
    assert_messages(rows.map(|(variables, message)| {
        let text = json(&variables);
        let error = Network::from_json(&text).err();
        (text, message, error)
    }));
}

#[test]
fn the_builder_explains_what_the_files_cannot_say() {
    let table = |numbers: &[f64]| Distribution::Table(numbers.to_vec());
    // Ids of a larger network.
    let foreign: Vec<VariableId> = taxicab().ids().collect();
    let with_parent = {
        let mut builder = NetworkBuilder::new("n");
        builder
            .variable("a", &["x"], &foreign[2..], table(&[1.0]))
            .expect("checked later");
        builder.finish()
    };
    let with_lane = {
        let mut builder = NetworkBuilder::new("n");
        builder
            .variable("a", &["x"], &[], table(&[1.0]))
            .expect("checked later");
        builder.lane(foreign[2]);
        builder.finish()
    };
    let network = taxicab();
    let [witness, cab, reading] = [foreign[0], foreign[1], foreign[2]];
    let observed = |id, likelihoods: &[&[f64]]| {
        let mut evidence = Evidence::new();
        likelihoods
            .iter()
            .try_for_each(|likelihood| evidence.likelihood(&network, id, likelihood))
            .err()
    };
    let mut evidence = Evidence::new();
    let out_of_range = evidence.observe(&network, cab, 2).err();
    let of_likelihood = evidence.observe(&network, reading, 0).err();
    assert_eq!(evidence, Evidence::new());
    let small = Network::from_json(&json(CAB)).expect("valid");
    let circuit = Circuit::compile(&small, &CompileOptions::default()).expect("small");
    let elsewhere = {
        let mut evidence = Evidence::new();
        evidence
            .observe(&network, witness, 0)
            .expect("a state it has");
        evidence.observe(&network, cab, 0).expect("a state it has");
        let mut workspace = circuit.workspace(1);
        circuit.set_evidence(&mut workspace, 0, &evidence).err()
    };
    let rows = [
        (
            "a parent of another network",
            "variable `a`: has a parent from another network",
            with_parent.err(),
        ),
        (
            "a lane of another network",
            "network: the lane variable is from another network",
            with_lane.err(),
        ),
        (
            "NaN",
            "likelihood of `cab`: holds NaN; entries must be finite and not negative",
            observed(cab, &[&[f64::NAN, 1.0]]),
        ),
        (
            "infinity",
            "likelihood of `cab`: holds inf; entries must be finite and not negative",
            observed(cab, &[&[f64::INFINITY, 1.0]]),
        ),
        (
            "a product too small",
            "likelihood of `cab`: observed again, 1e-200 times 1e-200 is out of range; scale what \
             is given, for example to a largest entry of 1",
            observed(cab, &[&[1e-200, 1.0], &[1e-200, 0.0]]),
        ),
        (
            "a product too large",
            "likelihood of `cab`: observed again, 1e200 times 1e200 is out of range; scale what \
             is given, for example to a largest entry of 1",
            observed(cab, &[&[1e200, 1.0], &[1e200, 0.0]]),
        ),
        (
            "a state out of range",
            "likelihood of `cab`: has no state number 2, the last is 1",
            out_of_range,
        ),
        (
            "a state of a likelihood",
            "likelihood of `reading`: has no states of its own to observe; give one entry for each \
             joint state of its parents",
            of_likelihood,
        ),
        (
            "evidence of another network",
            "likelihood of `variable 1`: was made for another network",
            elsewhere,
        ),
    ];
    assert_messages(rows.map(|(what, message, error)| (what.to_owned(), message, error)));
}

#[test]
fn other_errors_say_what_they_mean() {
    let contradiction = |names: &[&str]| Error::Impossible {
        contradiction: names.iter().map(|name| (*name).to_owned()).collect(),
    };
    let rows = [
        (
            contradiction(&[]),
            "impossible evidence: its probability is zero",
        ),
        (
            contradiction(&["a"]),
            "impossible evidence: what is observed of `a` cannot be true",
        ),
        (
            contradiction(&["a", "b"]),
            "impossible evidence: `a`, `b` cannot be true together",
        ),
        (
            Error::TooLarge {
                log10_operations: 7.25,
                limit: 12_000_000,
            },
            "too large: about 10^7.2 operations estimated, limit 12000000; raise the limit or \
             compile with the evidence given",
        ),
    ];
    assert_messages(rows.map(|(error, message)| (String::new(), message, Some(error))));
    let unknown = taxicab().find("wittness").err();
    let message = "unknown variable `wittness`; nearest: `witness`";
    assert_messages([(String::new(), message, unknown)]);
}
