//! Every example case, exported as plain tables, against the answers of two reference libraries.
//!
//! After a change of pack or case, `cargo xtask reference --write` renews the answers.

use oddment::{Case, Pack, Text, assess, packs};
use oddment_circuit::{Circuit, CompileOptions};
use oddment_tests::assert_close;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

#[derive(serde::Deserialize)]
struct Expected {
    log_p_e: f64,
    marginals: BTreeMap<String, Vec<f64>>,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn names(folder: &Path, ending: &str) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
    let mut names: Vec<String> = entries
        .filter_map(|entry| {
            let name = entry.unwrap_or_else(|error| panic!("{error}")).file_name();
            name.to_string_lossy()
                .strip_suffix(ending)
                .map(str::to_owned)
        })
        .collect();
    names.sort();
    names
}

fn fixtures() -> PathBuf {
    root().join("reference/cases")
}

#[test]
fn every_example_case_has_a_fixture() {
    let cases = names(&root().join("../priors/cases"), ".toml");
    assert!(cases.len() >= 6);
    assert_eq!(names(&fixtures(), ".expected.json"), cases);
}

#[test]
fn exported_cases_agree_with_the_reference_libraries() {
    for name in names(&fixtures(), ".expected.json") {
        let text = read(&fixtures().join(format!("{name}.expected.json")));
        let expected: Expected =
            serde_json::from_str(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
        let text = read(&root().join(format!("../priors/cases/{name}.toml")));
        let pack = packs::text_for(Text::new(&name, &text))
            .and_then(|pack| Pack::load(pack, packs::library()))
            .unwrap_or_else(|error| panic!("{error}"));
        let case = Case::load(Text::new(&name, &text), &pack).unwrap_or_else(|e| panic!("{e}"));
        let export = oddment::export(&pack, &case).unwrap_or_else(|error| panic!("{error}"));

        // The plain tables, through the circuit.
        let options = CompileOptions {
            keep_parameters: false,
            evidence: Some(&export.evidence),
            ..CompileOptions::default()
        };
        let circuit = Circuit::compile(&export.network, &options).unwrap_or_else(|e| panic!("{e}"));
        let mut workspace = circuit.workspace(1);
        circuit
            .set_evidence(&mut workspace, 0, &export.evidence)
            .unwrap_or_else(|error| panic!("{error}"));
        circuit.derivative(&mut workspace);
        assert_close!(
            circuit.ln_evidence(&workspace, 0),
            expected.log_p_e,
            ln = 1e-12,
            "{name}"
        );
        for (variable, expected) in &expected.marginals {
            let id = export
                .network
                .find(variable)
                .unwrap_or_else(|error| panic!("{error}"));
            let posterior = circuit
                .posterior(&workspace, 0, id)
                .unwrap_or_else(|error| panic!("{error}"));
            assert_close!(
                posterior,
                expected.clone(),
                rel = 1e-12,
                "{name} {variable}"
            );
        }

        // The engine's own model, which never spells the tables out. The exported tables are
        // renormalised to take out rounding, which moves the last digits.
        let assessment = assess(&pack, &case).unwrap_or_else(|error| panic!("{error}"));
        let ln = expected.log_p_e + export.ln_scale;
        assert_close!(assessment.ln_evidence, ln, ln = 1e-12, "{name}");
        let history = export
            .network
            .find("history")
            .unwrap_or_else(|error| panic!("{error}"));
        for history_odds in &assessment.histories {
            let state = export
                .network
                .find_state(history, &history_odds.id)
                .unwrap_or_else(|error| panic!("{error}"));
            let expected = expected.marginals["history"][state];
            assert_close!(history_odds.probability, expected, rel = 1e-12, "{name}");
        }
        for incident in &assessment.incidents {
            if let Some(expected) = expected.marginals.get(&format!("incident/{}", incident.id)) {
                assert_close!(incident.probability, expected[1], rel = 1e-12, "{name}");
            }
        }
    }
}
