//! Texts made to exhaust memory, time or the stack: all end soon, in an error with a place.

use super::{CASE, LIBRARY, PACK, edited, json_case, load, problems, small_pack};
use oddment::{Case, Error, MAX_TEXT_BYTES, Problem, Text};

fn first<T>(result: Result<T, Error>, texts: &[(&str, &str)]) -> String {
    let problems = problems(result, texts);
    assert!(problems.len() <= 50, "{}", problems.len());
    problems.first().map_or_else(|| "no error".to_owned(), Problem::to_string)
}

fn of_pack(pack: &str) -> String {
    first(load(pack, LIBRARY), &[("pack", pack), ("library", LIBRARY)])
}

fn of_library(library: &str) -> String {
    first(load(PACK, library), &[("pack", PACK), ("library", library)])
}

fn of_case(case: &str) -> String {
    let loaded = Case::load(Text::new("case", case), &small_pack());
    first(loaded, &[("case", case)])
}

/// A piece of text so many times, its `{}` replaced by the count.
fn repeated(piece: &str, times: usize) -> String {
    (0..times).map(|time| piece.replace("{}", &time.to_string())).collect()
}

#[test]
fn ten_thousand_levels() {
    let (open, close) = ("[".repeat(10_000), "]".repeat(10_000));
    assert_eq!(
        of_pack(&format!("x = {open}{close}")),
        "pack:1:85: nested too deeply; make it flatter [pack/syntax]"
    );
    assert_eq!(
        of_case(&format!("x = {}1{}", "{a = ".repeat(10_000), "}".repeat(10_000))),
        "case:1:405: nested too deeply; make it flatter [case/syntax]"
    );
    assert_eq!(
        of_library(&format!("{}a = 1", "a.".repeat(10_000))),
        "library:1:1: nested too deeply; make it flatter [library/syntax]"
    );
    assert_eq!(
        of_library(&format!("[{}a]", "a.".repeat(10_000))),
        "library:1:2: nested too deeply; make it flatter [library/syntax]"
    );
    assert_eq!(
        of_case(&format!("{{\"schema\": \"oddment/case/1\", \"piece\": {open}{close}}}")),
        "case:1:40: invalid type: string \"\", expected a table [case/syntax]"
    );
    let mixture = r#"{"family": "mixture", "parts": [{"weight": 1.0, "density": "#;
    let file: oddment::pack::file::PackFile =
        toml::from_str(PACK).unwrap_or_else(|error| panic!("{error}"));
    let json = serde_json::to_string(&file).unwrap_or_default();
    let normal = r#"{"family":"normal","mean":530.0,"sd":40.0}"#;
    let deep = format!("{}{}", mixture.repeat(10_000), "}]}".repeat(10_000));
    assert_eq!(
        of_pack(&edited(&json, normal, &deep)),
        "?"
    );
    let three = format!("{}{normal}{}", mixture.repeat(4), "}]}".repeat(4));
    assert_eq!(
        of_pack(&edited(&json, normal, &three)),
        "?"
    );
}

#[test]
fn too_long_a_text() {
    let long = " ".repeat(MAX_TEXT_BYTES + 1);
    assert_eq!(
        of_case(&long),
        "case:1:1: the text has 4194305 bytes, at most 4194304 are allowed [case/syntax]"
    );
    assert_eq!(
        of_library(&long),
        "library:1:1: the text has 4194305 bytes, at most 4194304 are allowed [library/syntax]"
    );
}

#[test]
fn too_many_entries() {
    let regions = repeated("[[region]]\nid = \"region-{}\"\nname = \"Region\"\n", 1_000);
    assert_eq!(
        of_pack(&format!("{PACK}{regions}")),
        "?"
    );
    // Three are there.
    let histories = repeated(
        "[[history]]\nid = \"more-{}\"\nverdict = \"faked\"\nkind = \"k\"\nname = \"\"\nstory = \"\"\n",
        62,
    );
    assert_eq!(
        of_pack(&format!("{PACK}{histories}")),
        "?"
    );
    let drawn = repeated("[[sign]]\nfrom = \"saw-arcs\"\nid = \"more-{}\"\nparts = [\"seat\"]\n", 20);
    assert_eq!(
        of_pack(&format!("{PACK}{drawn}")),
        "?"
    );
    assert_eq!(
        of_pack(&format!("{PACK}{}", "[[sign]]\n".repeat(100_000))),
        "?"
    );
    let visits = repeated("[[visit]]\nid = \"visit-{}\"\n", 99);
    assert_eq!(
        of_case(&format!("{CASE}{visits}")),
        "?"
    );
    let findings = repeated(
        "[[finding]]\nsign = \"seat-fits\"\nfound = \"no\"\nvisit = \"home\"\nlook = {}\n",
        1_996,
    );
    assert_eq!(
        of_case(&format!("{CASE}{findings}")),
        "?"
    );
    let finding = r#"{"sign": "seat-fits", "found": "no", "visit": "home"},"#;
    let json = edited(&json_case(), "\"finding\": [", &format!("\"finding\": [{}", finding.repeat(20_000)));
    assert_eq!(
        of_case(&json),
        "?"
    );
    // Seven visits, each with a finding, of which six are allowed.
    let visits = repeated(
        "[[visit]]\nid = \"visit-{}\"\n[[finding]]\nsign = \"seat-fits\"\nfound = \"no\"\nvisit = \"visit-{}\"\n",
        5,
    );
    assert_eq!(
        of_case(&format!("{CASE}{visits}")),
        "?"
    );
}

/// Where each problem, each id or each pair of them costs time, there are as many as fit.
#[test]
fn a_megabyte_of_mistakes() {
    let long = "s".repeat(60);
    for (pack, message) in [
        (format!("{PACK}{}", "[[region]]\nid = \"R\"\nname = \"r\"\n".repeat(990)), "?"),
        (
            format!(
                "{PACK}{}",
                repeated("[[sign]]\nid = \"s-{}\"\nshows = { ", 1) + &repeated(&format!("{long}-{{}} = 0.5, "), 12_000)
                    + "}\n"
            ),
            "?",
        ),
        (edited(PACK, "[\"frame\", \"feet\"]", &format!("[{}]", repeated("\"seats-{}\", ", 60_000))), "?"),
        (edited(PACK, "[0.2, 0.3, 0.5]", &format!("[{}]", "0.1,".repeat(200_000))), "?"),
        (
            edited(
                PACK,
                "{ family = \"normal\", mean = 530.0, sd = 40.0 }",
                &format!(
                    "{{ family = \"mixture\", parts = [{}] }}",
                    "{weight=0,density={family=\"half-normal\",scale=1}},".repeat(15_000)
                ),
            ),
            "?",
        ),
        (edited(PACK, "\"as-made\"\nverdict", &format!("\"{}\"\nverdict", "h".repeat(1_000_000))), "?"),
        (edited(PACK, "shoulder = 15.0", &format!("shoulder = \"{}\"", "x".repeat(1_000_000))), "?"),
        (format!("{} = 1", "k".repeat(1_000_000)), "?"),
        ("a = 1\n".repeat(150_000), "?"),
        ("\"\n".repeat(500_000), "?"),
        ("[".repeat(1_000_000), "?"),
        ("=".repeat(1_000_000), "?"),
        (repeated("[a{}.b.c]\n", 70_000), "?"),
        ("{\"a\":[".repeat(200_000), "?"),
    ] {
        let found = of_pack(&pack);
        let shown: String = found.chars().take(100).collect();
        assert!(found.starts_with(message), "{shown}");
    }
    for (case, message) in [
        (format!("{CASE}{}", repeated("\"{}\" = 0.5\n", 70_000)), "?"),
        (format!("{CASE}{}", repeated("[[visit]]\nid = \"v{}\"\n", 50_000)), "?"),
        (
            format!("{CASE}{}", repeated(&format!("[[finding]]\nsign = \"{long}{{}}\"\nfound = \"no\"\n"), 1_900)),
            "?",
        ),
        (edited(CASE, "[piece.timber]\n", &format!("[piece.timber]\n{}", repeated("t{} = { species = \"oak\" }\n", 40_000))), "?"),
        (edited(CASE, "[known]\n", &format!("[known]\n{}", repeated("i{} = true\n", 70_000))), "?"),
        (edited(CASE, "[prior]\n", &format!("[prior]\n{}", repeated("h{} = 1\n", 90_000))), "?"),
        (
            edited(&json_case(), "\"prior\": {", &format!("\"prior\": {{{}", "\"as-made\": 1,".repeat(70_000))),
            "?",
        ),
    ] {
        let found = of_case(&case);
        let shown: String = found.chars().take(100).collect();
        assert!(found.starts_with(message), "{shown}");
    }
}
