//! Very small probabilities, impossible evidence, and networks too large to compile.

use oddment_circuit::{
    Cause, Circuit, CompileOptions, DEFAULT_LIMIT, Distribution, Error, Evidence, Hide, Network,
    NetworkBuilder, NoisyMax, VariableId,
};
use oddment_tests::assert_close;
use oddment_tests::generate::{ANY, Shape, evidence, samples};
use oddment_tests::oracle::Oracle;
use oddment_tests::property::check;
use oddment_tests::query::{Query, possible};
use std::cell::Cell;

const YES_NO: [&str; 2] = ["yes", "no"];

/// A root with one row of leaves under it: the root's prior, and for each leaf the probability of
/// "yes" under each of the root's states.
fn star(prior: &[f64], leaves: &[Vec<f64>]) -> (Network, Vec<VariableId>) {
    let mut builder = NetworkBuilder::new("star");
    let states: Vec<String> = (0..prior.len()).map(|state| format!("s{state}")).collect();
    let root = builder
        .variable("root", &states, &[], Distribution::Table(prior.to_vec()))
        .expect("a valid root");
    let mut ids = vec![root];
    for (index, chances) in leaves.iter().enumerate() {
        let table = chances.iter().flat_map(|yes| [*yes, 1.0 - yes]).collect();
        let leaf = builder
            .variable(
                format!("leaf {index}"),
                &YES_NO,
                &[root],
                Distribution::Table(table),
            )
            .expect("a valid leaf");
        ids.push(leaf);
    }
    (builder.finish().expect("a valid star"), ids)
}

fn all_yes(network: &Network, ids: &[VariableId]) -> Evidence {
    let mut evidence = Evidence::new();
    for id in ids {
        evidence.observe(network, *id, 0).expect("a state it has");
    }
    evidence
}

/// ln of a product of powers.
fn ln_powers(powers: &[(f64, f64)]) -> f64 {
    powers
        .iter()
        .map(|(base, power)| power * libm::log(*base))
        .sum()
}

#[test]
fn products_of_many_small_numbers_do_not_underflow() {
    // Number of leaves; probability of each under each state of a root of these priors. In all but
    // the first some states underflow alone, in some all do: 1e-324 is the least that f64 can hold.
    for (count, prior, chances) in [
        (2_000, vec![0.3, 0.7], vec![0.01, 0.01]),
        (2_000, vec![0.3, 0.7], vec![0.01, 0.0101]),
        (345, vec![0.5, 0.5], vec![0.1, 0.2]),
        (1_000, vec![0.2, 0.3, 0.5], vec![0.1, 0.2, 0.1005]),
        (150, vec![0.5, 0.5], vec![0.1, 0.9]),
        (400, vec![0.5, 0.5], vec![0.1, 0.9]),
    ] {
        let (network, ids) = star(&prior, &vec![chances.clone(); count]);
        let evidence = all_yes(&network, &ids[1..]);
        let power = count as f64;
        let joints: Vec<f64> = prior
            .iter()
            .zip(&chances)
            .map(|(prior, chance)| ln_powers(&[(*prior, 1.0), (*chance, power)]))
            .collect();
        let largest = joints.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let shares: Vec<f64> = joints
            .iter()
            .map(|joint| libm::exp(joint - largest))
            .collect();
        let total: f64 = shares.iter().sum();
        let ln_evidence = largest + libm::log(total);
        let posterior: Vec<f64> = shares.iter().map(|share| share / total).collect();
        for keep_parameters in [true, false] {
            for compiled_in in [None, Some(&evidence)] {
                let options = CompileOptions {
                    keep_parameters,
                    evidence: compiled_in,
                    ..CompileOptions::default()
                };
                let query = Query::with(&network, &evidence, &options);
                let context = format!("{count} {chances:?} {keep_parameters}");
                // Logarithms of thousands hold fewer digits after the point; so do their powers.
                assert_close!(query.ln_evidence(), ln_evidence, rel = 1e-14, "{context}");
                let found = query.posterior(ids[0]).expect("possible");
                if posterior.iter().all(|entry| *entry > 1e-150) {
                    assert_close!(found, posterior, rel = 1e-11, "{context}");
                } else {
                    // The lesser state lies beyond what is promised: below 1e-150 of the whole.
                    assert_close!(found, posterior, abs = 1e-150, "{context}");
                }
                // A leaf put back to unknown is as likely as its root makes it.
                let withdrawn = query.withdrawn(ids[1]).expect("possible")[0];
                let without: Vec<f64> = found.iter().zip(&chances).map(|(p, c)| p / c).collect();
                let sum: f64 = without.iter().sum();
                let expected: f64 = without.iter().zip(&chances).map(|(w, c)| w / sum * c).sum();
                assert_close!(withdrawn, expected, rel = 1e-11, "{context}");
            }
        }
    }
}
