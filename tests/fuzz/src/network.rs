//! Any text as a network, with any text as its evidence.

use oddment_circuit::{Circuit, CompileOptions, Distribution, Error, Evidence, Network};

/// Circuits larger than this are refused, so that a run stays quick.
const LIMIT: u64 = 100_000;

/// Reads the bytes before the first NUL as a network, in JSON and in UAI, and those behind it as
/// evidence; what is valid must come through a round trip unchanged and answer queries in range.
pub fn network(bytes: &[u8]) {
    let mut parts = bytes.splitn(2, |byte| *byte == 0);
    let mut text = || std::str::from_utf8(parts.next().unwrap_or_default());
    let (Ok(network), Ok(evidence)) = (text(), text()) else {
        return;
    };
    for read in [
        Network::from_json(network),
        Network::from_uai("fuzz", network),
    ] {
        match read {
            Ok(network) => check(&network, evidence),
            Err(error) => assert!(!error.to_string().is_empty()),
        }
    }
}

fn check(network: &Network, text: &str) {
    let json = network.to_json();
    let again = Network::from_json(&json);
    assert_eq!(again.as_ref(), Ok(network), "JSON round trip");
    match network.to_uai() {
        Ok(uai) => {
            let again = Network::from_uai("fuzz", &uai).expect("what was written can be read");
            assert_eq!(again.variables().len(), network.variables().len());
            for (one, other) in network.variables().iter().zip(again.variables()) {
                if let (Distribution::Table(one), Distribution::Table(other)) =
                    (&one.distribution, &other.distribution)
                {
                    assert_eq!(one, other, "UAI round trip");
                }
            }
        }
        Err(error) => assert!(matches!(error, Error::Network { .. }), "{error}"),
    }
    query(network, &Evidence::new());
    for read in [
        Evidence::from_json(network, text),
        Evidence::from_uai(network, text),
    ] {
        let Ok(evidence) = read else { continue };
        if let Ok(text) = evidence.to_uai(network) {
            let again = Evidence::from_uai(network, &text).expect("what was written can be read");
            assert!(
                again
                    .iter()
                    .map(|(id, _)| id)
                    .eq(evidence.iter().map(|(id, _)| id))
            );
        }
        query(network, &evidence);
    }
}

fn query(network: &Network, evidence: &Evidence) {
    let options = CompileOptions {
        limit: LIMIT,
        ..CompileOptions::default()
    };
    let circuit = match Circuit::compile(network, &options) {
        Ok(circuit) => circuit,
        Err(Error::TooLarge { .. }) => return,
        Err(error) => panic!("a valid network does not compile: {error}"),
    };
    let mut workspace = circuit.workspace(1);
    circuit
        .set_evidence(&mut workspace, 0, evidence)
        .expect("evidence made for this network");
    circuit.derivative(&mut workspace);
    assert!(!circuit.ln_evidence(&workspace, 0).is_nan(), "ln P(e)");
    for id in network.ids() {
        if network.variable(id).states.is_empty() {
            continue;
        }
        match circuit.posterior(&workspace, 0, id) {
            Ok(posterior) => in_range(&posterior),
            Err(error) => assert!(matches!(error, Error::Impossible { .. }), "{error}"),
        }
    }
}

/// Panics unless these are probabilities that sum to one.
pub fn in_range(posterior: &[f64]) {
    for entry in posterior {
        assert!((0.0..=1.0 + 1e-9).contains(entry), "probability {entry}");
    }
    let sum: f64 = posterior.iter().sum();
    assert!((sum - 1.0).abs() < 1e-9, "probabilities sum to {sum}");
}
