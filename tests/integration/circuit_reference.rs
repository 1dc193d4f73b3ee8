//! The engine against two general-purpose libraries on published networks.
//!
//! `reference/README.md` says how the fixtures were made. Each record holds the largest relative
//! difference between the two libraries, at most 1.2e-15; the engine is held to 1e-13, which is
//! as close as the rounding of either side allows with some room.

use oddment_circuit::{Circuit, CompileOptions, DEFAULT_LIMIT, Error, Evidence, Network};
use oddment_tests::assert_close;
use oddment_tests::close::{Tolerance, distance};
use oddment_tests::query::Query;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

const NETWORKS: [&str; 12] = [
    "alarm",
    "andes",
    "asia",
    "cancer",
    "child",
    "earthquake",
    "hailfinder",
    "hepar2",
    "insurance",
    "sachs",
    "water",
    "win95pts",
];

/// One case with its answers.
#[derive(Deserialize)]
struct Record {
    evidence: Findings,
    log_p_e: f64,
    marginals: BTreeMap<String, Vec<f64>>,
    agreement: f64,
    engines: Vec<String>,
}

#[derive(Deserialize)]
struct Findings {
    hard: BTreeMap<String, String>,
    soft: BTreeMap<String, Vec<f64>>,
}

fn reference(folder: &str, name: &str) -> PathBuf {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference");
    root.join(folder).join(format!("{name}.json"))
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn network(name: &str) -> Network {
    let text = read(&reference("networks", name));
    Network::from_json(&text).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn records(name: &str) -> Vec<Record> {
    let path = reference("fixtures", name);
    serde_json::from_str(&read(&path)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Reads the findings by name, as a user would.
fn evidence(network: &Network, findings: &Findings) -> Evidence {
    let text = serde_json::json!({"hard": findings.hard, "soft": findings.soft}).to_string();
    Evidence::from_json(network, &text).expect("the fixtures fit their networks")
}

/// Compares every answer of a record; gives the largest relative difference.
fn compare(network: &Network, query: &Query, record: &Record, context: &str) -> f64 {
    assert_close!(query.ln_evidence(), record.log_p_e, ln = 1e-13, "{context}");
    let mut worst = (query.ln_evidence() - record.log_p_e).abs();
    for (name, expected) in &record.marginals {
        let id = network.find(name).expect("the fixtures fit their networks");
        let posterior = query.posterior(id).expect("possible");
        assert_close!(posterior, *expected, rel = 1e-13, "{context}: {name}");
        for (actual, expected) in posterior.iter().zip(expected) {
            worst = worst.max(distance(*actual, *expected, Tolerance::Rel(1e-13)));
        }
    }
    worst
}

fn ways() -> [CompileOptions<'static>; 3] {
    let usual = CompileOptions::default();
    [
        usual,
        CompileOptions {
            keep_parameters: false,
            ..usual
        },
        CompileOptions {
            tie_equal: true,
            ..usual
        },
    ]
}

#[test]
fn every_published_network_has_its_fixture() {
    for folder in ["networks", "fixtures"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("reference")
            .join(folder);
        let mut names: Vec<String> = std::fs::read_dir(&path)
            .unwrap_or_else(|error| panic!("{}: {error}", path.display()))
            .map(|entry| entry.expect("a readable folder").path())
            .filter_map(|path| {
                path.file_stem()
                    .map(|stem| stem.to_string_lossy().into_owned())
            })
            .filter(|name| name != "barley")
            .collect();
        names.sort();
        assert_eq!(names, NETWORKS, "{folder}");
    }
}

#[test]
fn the_libraries_agree_among_themselves_and_answer_for_every_variable() {
    for name in NETWORKS {
        let network = network(name);
        for (case, record) in records(name).iter().enumerate() {
            assert!(
                record.agreement <= 1.2e-15,
                "{name} {case}: {}",
                record.agreement
            );
            assert!(
                record.engines.len() >= 2,
                "{name} {case}: {:?}",
                record.engines
            );
            let answered = network.variables().len() - record.evidence.hard.len();
            assert_eq!(record.marginals.len(), answered, "{name} {case}");
        }
    }
}

#[test]
fn one_circuit_answers_all_cases_as_the_libraries_do() {
    let mut worst = BTreeMap::new();
    for name in NETWORKS {
        let network = network(name);
        for (way, options) in ways().iter().enumerate() {
            let mut query = Query::with(&network, &Evidence::new(), options);
            for (case, record) in records(name).iter().enumerate() {
                query.ask(&evidence(&network, &record.evidence));
                let context = format!("{name} case {case} way {way}");
                let difference = compare(&network, &query, record, &context);
                let entry = worst.entry(name).or_insert(0.0_f64);
                *entry = entry.max(difference);
            }
        }
    }
    println!("largest relative differences: {worst:?}");
}

#[test]
fn evidence_compiled_in_gives_the_same_answers() {
    let mut smaller = 0;
    for name in NETWORKS {
        let network = network(name);
        for options in ways() {
            let open = Circuit::compile(&network, &options).expect("small enough");
            for (case, record) in records(name).iter().enumerate() {
                let evidence = evidence(&network, &record.evidence);
                let options = CompileOptions {
                    evidence: Some(&evidence),
                    ..options
                };
                let query = Query::with(&network, &evidence, &options);
                compare(&network, &query, record, &format!("{name} case {case}"));
                if !record.evidence.hard.is_empty() {
                    let (closed, open) = (query.circuit.operations(), open.operations());
                    assert!(closed < open, "{name} case {case}: {closed} {open}");
                    smaller += 1;
                }
            }
        }
    }
    // Three cases of each network and one of andes and water, three ways.
    assert_eq!(smaller, 3 * (3 * 10 + 2));
}

#[test]
fn all_cases_of_a_network_in_one_batch() {
    for name in NETWORKS {
        let network = network(name);
        let records = records(name);
        let circuit = Circuit::compile(&network, &CompileOptions::default()).expect("small enough");
        let mut batch = circuit.workspace(records.len());
        for (case, record) in records.iter().enumerate() {
            let evidence = evidence(&network, &record.evidence);
            circuit
                .set_evidence(&mut batch, case, &evidence)
                .expect("its own evidence");
        }
        circuit.derivative(&mut batch);
        for (case, record) in records.iter().enumerate() {
            let ln_evidence = circuit.ln_evidence(&batch, case);
            assert_close!(
                ln_evidence,
                record.log_p_e,
                ln = 1e-13,
                "{name} case {case}"
            );
            for (variable, expected) in &record.marginals {
                let id = network
                    .find(variable)
                    .expect("the fixtures fit their networks");
                let posterior = circuit.posterior(&batch, case, id).expect("possible");
                assert_close!(
                    posterior,
                    *expected,
                    rel = 1e-13,
                    "{name} case {case} {variable}"
                );
            }
        }
    }
}

#[test]
fn structural_zeros_shrink_water() {
    // Counted dense, water takes more than ten times the operations that its zeros leave.
    let network = network("water");
    let dense = CompileOptions {
        limit: 1_000_000,
        ..CompileOptions::default()
    };
    let error = Circuit::compile(&network, &dense).expect_err("too large");
    let Error::TooLarge {
        log10_operations, ..
    } = error
    else {
        panic!("{error}");
    };
    assert!(log10_operations > 6.0, "{log10_operations}");
    for options in ways() {
        let circuit = Circuit::compile(&network, &options).expect("small enough");
        assert!(circuit.operations() < 100_000, "{}", circuit.operations());
    }
}

#[test]
fn barley_is_refused_with_the_estimate() {
    let network = network("barley");
    for options in ways() {
        let error = Circuit::compile(&network, &options).expect_err("too large");
        let Error::TooLarge {
            log10_operations,
            limit,
        } = error
        else {
            panic!("{error}");
        };
        assert_eq!(limit, DEFAULT_LIMIT);
        // Between the limit and what a machine could still do: it is no guess.
        assert!((7.1..9.0).contains(&log10_operations), "{error}");
    }
}
