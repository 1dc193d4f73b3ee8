//! Exported networks give the same posteriors as the assessment.

use crate::{oddment, scratch, small};
use oddment::Assessment;
use oddment_circuit::{Circuit, CompileOptions, Evidence, Network};
use std::path::Path;

fn assessment() -> Assessment {
    let json = oddment(&small(&["assess", "stool.toml", "--json"])).done();
    serde_json::from_str(&json).unwrap()
}

/// Checks the posterior of the histories and the probability of the evidence.
fn same_answer(network: &Network, history: usize, evidence: &Evidence, ln_scale: f64) {
    let assessment = assessment();
    let circuit = Circuit::compile(network, &CompileOptions::default()).unwrap();
    let mut workspace = circuit.workspace(1);
    circuit.set_evidence(&mut workspace, 0, evidence).unwrap();
    circuit.derivative(&mut workspace);
    let id = network.ids().nth(history).unwrap();
    let posterior = circuit.posterior(&workspace, 0, id).unwrap();
    let states = ["as-made", "new-seat", "cut-down", "made-up"];
    for (probability, state) in posterior.iter().zip(states) {
        let expected = assessment
            .histories
            .iter()
            .find(|history| history.id == state)
            .unwrap();
        let difference = (probability - expected.probability).abs();
        assert!(
            difference < 1e-12,
            "{state}: {probability} {}",
            expected.probability
        );
    }
    let ln = circuit.ln_evidence(&workspace, 0) + ln_scale;
    assert!(
        (ln - assessment.ln_evidence).abs() < 1e-9,
        "{ln} {}",
        assessment.ln_evidence
    );
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap()
}

/// The lines of what is said of written files, by first word.
fn said<'a>(stdout: &'a str, word: &str) -> &'a str {
    let line = stdout.lines().find_map(|line| line.strip_prefix(word));
    line.unwrap_or_else(|| panic!("no {word} in {stdout}"))
        .trim()
}

#[test]
fn json_on_standard_output() {
    let text = oddment(&small(&["export", "stool.toml", "--format", "json"])).done();
    let whole: serde_json::Value = serde_json::from_str(&text).unwrap();
    let network = Network::from_json(&whole["network"].to_string()).unwrap();
    let evidence = Evidence::from_json(&network, &whole["evidence"].to_string()).unwrap();
    let keys: Vec<&String> = whole.as_object().unwrap().keys().collect();
    assert_eq!(keys, ["evidence", "ln_scale", "network"]);
    same_answer(&network, 0, &evidence, whole["ln_scale"].as_f64().unwrap());
}

#[test]
fn json_in_files() {
    let prefix = scratch("json").join("stool");
    let prefix = prefix.to_str().unwrap();
    let stdout = oddment(&small(&[
        "export",
        "stool.toml",
        "--format",
        "json",
        "-o",
        prefix,
    ]))
    .done();
    let network = said(&stdout, "network");
    assert_eq!(network, format!("{prefix}.network.json"));
    assert_eq!(said(&stdout, "evidence"), format!("{prefix}.evidence.json"));
    let network = Network::from_json(&read(Path::new(network))).unwrap();
    let evidence = read(Path::new(said(&stdout, "evidence")));
    let evidence = Evidence::from_json(&network, &evidence).unwrap();
    same_answer(
        &network,
        0,
        &evidence,
        said(&stdout, "ln_scale").parse().unwrap(),
    );
}

#[test]
fn uai() {
    let prefix = scratch("uai").join("stool");
    let prefix = prefix.to_str().unwrap();
    let stdout = oddment(&small(&[
        "export",
        "stool.toml",
        "--format",
        "uai",
        "-o",
        prefix,
    ]))
    .done();
    assert_eq!(said(&stdout, "network"), format!("{prefix}.uai"));
    assert_eq!(said(&stdout, "evidence"), format!("{prefix}.uai.evid"));
    assert_eq!(
        said(&stdout, "history"),
        "0 as-made new-seat cut-down made-up"
    );
    let network = Network::from_uai("stool", &read(Path::new(said(&stdout, "network")))).unwrap();
    let evidence = read(Path::new(said(&stdout, "evidence")));
    let evidence = Evidence::from_uai(&network, &evidence).unwrap();
    same_answer(
        &network,
        0,
        &evidence,
        said(&stdout, "ln_scale").parse().unwrap(),
    );
}

#[test]
fn uai_needs_a_place() {
    let error = oddment(&small(&["export", "stool.toml", "--format", "uai"])).failed(2);
    assert!(error.contains("--output <PREFIX>"), "{error}");
}
