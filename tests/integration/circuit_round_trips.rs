//! Networks and evidence survive being written and read again, in both formats.

use oddment_circuit::{Distribution, Evidence, Network, NetworkBuilder};
use oddment_tests::assert_close;
use oddment_tests::generate::{ANY, samples};
use oddment_tests::property::check;
use oddment_tests::query::Query;
use std::cell::Cell;

#[test]
fn json_holds_everything() {
    let kinds = Cell::new([0; 4]);
    check(200, samples(ANY, 0), |sample| {
        let mut counts = kinds.get();
        for variable in sample.network.variables() {
            let kind = match variable.distribution {
                Distribution::Table(_) => 0,
                Distribution::NoisyMax(_) => 1,
                Distribution::Copying(_) => 2,
                _ => 3,
            };
            counts[kind] += 1;
        }
        kinds.set(counts);
        let text = sample.network.to_json();
        let read = Network::from_json(&text).expect("its own writing");
        assert_eq!(read, sample.network);
        assert_eq!(read.to_json(), text);
    });
    assert!(
        kinds.get().iter().all(|count| *count > 30),
        "{:?}",
        kinds.get()
    );
}

#[test]
fn json_holds_any_names_and_all_digits() {
    let mut builder = NetworkBuilder::new("a \"name\"\n\\ with \u{0} everything é 木");
    let table = vec![0.1 + 0.2, 0.7 - 1e-17, f64::MIN_POSITIVE, 5e-324];
    let names = ["\"", "\\", " ", "\u{1F6CB}"];
    let id = builder
        .variable("", &names, &[], Distribution::Table(table.clone()))
        .expect("taken as it comes");
    builder.lane(id);
    assert!(
        builder.clone().finish().is_err(),
        "a name must not be empty"
    );
    let mut builder = NetworkBuilder::new("a \"name\"\n\\ with \u{0} everything é 木");
    let id = builder
        .variable("\t", &names, &[], Distribution::Table(table))
        .expect("taken as it comes");
    builder.lane(id);
    let network = builder.finish().expect("valid");
    let read = Network::from_json(&network.to_json()).expect("its own writing");
    assert_eq!(read, network);
}

#[test]
fn uai_holds_the_tables() {
    let (written, refused) = (Cell::new(0), Cell::new(0));
    check(200, samples(ANY, 1), |sample| {
        let network = &sample.network;
        let likelihood = network
            .variables()
            .iter()
            .find(|variable| variable.states.is_empty());
        let text = match (network.to_uai(), likelihood) {
            (Ok(text), None) => text,
            (Err(error), Some(variable)) => {
                let expected = format!(
                    "variable `{}`: is a likelihood, which the UAI format cannot express",
                    variable.name
                );
                assert_eq!(error.to_string(), expected);
                refused.set(refused.get() + 1);
                return;
            }
            (outcome, likelihood) => panic!("{outcome:?} {likelihood:?}"),
        };
        written.set(written.get() + 1);
        let read = Network::from_uai("again", &text).expect("its own writing");
        assert_eq!(read.to_uai().expect("tables only"), text);
        let mut evidence = Evidence::new();
        for finding in &sample.cases[0] {
            let id = read
                .find(&format!("x{}", finding.id.index()))
                .expect("as many variables");
            evidence
                .likelihood(&read, id, &finding.likelihood)
                .expect("as many states");
        }
        // The answers are those of the network as it was, lanes and structure and all.
        let (before, after) = (
            Query::new(network, &sample.evidence(0)),
            Query::new(&read, &evidence),
        );
        assert_close!(after.ln_evidence(), before.ln_evidence(), ln = 1e-12);
        for (old, new) in network.ids().zip(read.ids()) {
            let table = network
                .expanded_table(old, 1 << 16)
                .expect("small")
                .expect("a table");
            assert_eq!(read.variable(new).distribution, Distribution::Table(table));
            let (before, after) = (before.posterior(old), after.posterior(new));
            assert_eq!(before.is_some(), after.is_some());
            if let (Some(before), Some(after)) = (before, after) {
                assert_close!(after, before, rel = 1e-12);
            }
        }
    });
    assert!(
        written.get() > 80 && refused.get() > 20,
        "{} {}",
        written.get(),
        refused.get()
    );
}

#[test]
fn uai_evidence_holds_what_is_certain() {
    let (written, refused) = (Cell::new(0), Cell::new(0));
    check(200, samples(ANY, 1), |sample| {
        let network = &sample.network;
        let evidence = sample.evidence(0);
        // Each finding alone and all of them together.
        let mut certain = Evidence::new();
        for (id, likelihood) in evidence.iter() {
            let states = network.variable(id).states.len();
            let of_one = likelihood.iter().filter(|entry| **entry != 0.0).count() == 1;
            let hard = states > 0 && of_one && likelihood.contains(&1.0);
            let mut alone = Evidence::new();
            alone.likelihood(network, id, likelihood).expect("fits");
            match alone.to_uai(network) {
                Ok(text) => {
                    assert!(hard, "{text}");
                    assert_eq!(Evidence::from_uai(network, &text), Ok(alone));
                    certain.likelihood(network, id, likelihood).expect("fits");
                    written.set(written.get() + 1);
                }
                Err(error) => {
                    let name = &network.variable(id).name;
                    let expected = format!(
                        "likelihood of `{name}`: is not of one state for certain, which is all \
                         that the UAI format can express"
                    );
                    assert_eq!(error.to_string(), expected);
                    assert!(!hard, "{likelihood:?}");
                    refused.set(refused.get() + 1);
                }
            }
        }
        let text = certain.to_uai(network).expect("certain");
        assert_eq!(Evidence::from_uai(network, &text), Ok(certain));
    });
    assert!(
        written.get() > 100 && refused.get() > 100,
        "{} {}",
        written.get(),
        refused.get()
    );
}

#[test]
fn published_networks_survive_both_formats() {
    // Real names, real sizes, and parents that stand after their children.
    for name in ["asia", "alarm", "water", "hailfinder"] {
        let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
        let path = root.join(format!("reference/networks/{name}.json"));
        let text = std::fs::read_to_string(&path).expect("a reference network");
        let network = Network::from_json(&text).expect("valid");
        assert_eq!(
            Network::from_json(&network.to_json()).as_ref(),
            Ok(&network),
            "{name}"
        );
        let read = Network::from_uai(name, &network.to_uai().expect("tables")).expect("valid");
        for (old, new) in network.variables().iter().zip(read.variables()) {
            assert_eq!(old.distribution, new.distribution, "{name} {}", old.name);
            assert_eq!(old.parents, new.parents, "{name} {}", old.name);
        }
    }
}
