//! Very small probabilities, impossible evidence, and networks too large to compile.

use oddment_circuit::{
    Cause, Circuit, CompileOptions, Copying, DEFAULT_LIMIT, Distribution, Error, Evidence, Hide,
    Network, NetworkBuilder, NoisyMax, VariableId,
};
use oddment_tests::assert_close;
use oddment_tests::generate::{ANY, Sample, drawn, evidence, findings, network, samples};
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
                if compiled_in.is_some() {
                    // The leaf's other state is not in the circuit.
                    continue;
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

#[test]
fn likelihoods_far_above_one_do_not_overflow() {
    let (network, ids) = star(&[0.25, 0.75], &vec![vec![0.5, 0.25]; 3]);
    let mut evidence = Evidence::new();
    for id in &ids[1..] {
        evidence
            .likelihood(&network, *id, &[3e200, 1e200])
            .expect("fits");
    }
    let query = Query::new(&network, &evidence);
    // Each leaf: 1e200 (3 p + 1 - p) = 1e200 (1 + 2 p).
    let joint = [0.25 * 8.0, 0.75 * 3.375];
    let total = joint[0] + joint[1];
    let ln_evidence = libm::log(total) + 600.0 * std::f64::consts::LN_10;
    assert_close!(query.ln_evidence(), ln_evidence, rel = 1e-15);
    let root = query.posterior(ids[0]).expect("possible");
    assert_close!(root, [joint[0] / total, joint[1] / total], rel = 1e-14);
}

#[test]
fn one_case_of_a_batch_may_underflow_and_another_be_impossible() {
    let (network, ids) = star(&[0.3, 0.7], &vec![vec![0.01, 0.02, 1.0][..2].to_vec(); 400]);
    let circuit = Circuit::compile(&network, &CompileOptions::default()).expect("small");
    let tiny = all_yes(&network, &ids[1..]);
    let mut usual = Evidence::new();
    usual.observe(&network, ids[1], 0).expect("a state it has");
    let mut impossible = usual.clone();
    impossible
        .observe(&network, ids[1], 1)
        .expect("a state it has");
    let less_tiny = all_yes(&network, &ids[1..200]);
    let cases = [tiny, usual, impossible, Evidence::new(), less_tiny];
    let mut batch = circuit.workspace(cases.len());
    for (case, evidence) in cases.iter().enumerate() {
        circuit
            .set_evidence(&mut batch, case, evidence)
            .expect("its own evidence");
    }
    circuit.derivative(&mut batch);
    for (case, evidence) in cases.iter().enumerate() {
        let alone = Query::new(&network, evidence);
        assert_eq!(
            circuit.ln_evidence(&batch, case),
            alone.ln_evidence(),
            "{case}"
        );
        for id in [ids[0], ids[1], ids[400]] {
            let posterior = possible(circuit.posterior(&batch, case, id));
            assert_eq!(posterior, alone.posterior(id), "{case}");
            let withdrawn = possible(circuit.posterior_withdrawn(&batch, case, id));
            assert_eq!(withdrawn, alone.withdrawn(id), "{case}");
        }
    }
    let ln_evidence = |case| circuit.ln_evidence(&batch, case);
    // 0.3 0.01^400 beside 0.7 0.02^400 is nothing.
    assert_close!(
        ln_evidence(0),
        ln_powers(&[(0.7, 1.0), (0.02, 400.0)]),
        rel = 1e-14
    );
    assert_close!(
        ln_evidence(1),
        libm::log(0.3 * 0.01 + 0.7 * 0.02),
        rel = 1e-14
    );
    assert_eq!(ln_evidence(2), f64::NEG_INFINITY);
    assert_close!(ln_evidence(3), 0.0, ln = 1e-14);
    assert_close!(
        ln_evidence(4),
        ln_powers(&[(0.7, 1.0), (0.02, 199.0)]),
        rel = 1e-14
    );
}

#[test]
fn a_lane_chosen_by_evidence_may_be_smaller_than_the_others_by_any_factor() {
    for (count, chances) in [(345, [0.1, 0.2]), (2_000, [0.01, 0.9])] {
        let mut builder = NetworkBuilder::new("laned");
        let table = Distribution::Table(vec![0.3, 0.7]);
        let lane = builder
            .variable("lane", &YES_NO, &[], table)
            .expect("valid");
        builder.lane(lane);
        let mut ids = Vec::new();
        for index in 0..count {
            let table = chances.iter().flat_map(|yes| [*yes, 1.0 - yes]).collect();
            let name = format!("leaf {index}");
            let leaf = builder.variable(name, &YES_NO, &[lane], Distribution::Table(table));
            ids.push(leaf.expect("valid"));
        }
        let network = builder.finish().expect("valid");
        let mut evidence = all_yes(&network, &ids);
        evidence.observe(&network, lane, 0).expect("a state it has");
        let query = Query::new(&network, &evidence);
        let power = f64::from(count);
        let ln_evidence = ln_powers(&[(0.3, 1.0), (chances[0], power)]);
        assert_close!(query.ln_evidence(), ln_evidence, rel = 1e-14, "{chances:?}");
        assert_eq!(query.posterior(lane), Some(vec![1.0, 0.0]));
        let leaf = query.withdrawn(ids[0]).expect("possible");
        assert_close!(
            leaf,
            [chances[0], 1.0 - chances[0]],
            rel = 1e-14,
            "{chances:?}"
        );
        // Without the finding on the lane itself the other is far ahead.
        let ratio = ln_powers(&[(0.3 / 0.7, 1.0), (chances[0] / chances[1], power)]);
        let withdrawn = query.withdrawn(lane).expect("possible");
        assert_close!(withdrawn[0], libm::exp(ratio), rel = 1e-11, "{chances:?}");
        assert_close!(withdrawn[1], 1.0, rel = 1e-14, "{chances:?}");
    }
}

#[test]
fn what_is_left_of_impossible_evidence_may_underflow() {
    // Impossible by the first leaf, and improbable by 2,000 others.
    let mut leaves = vec![vec![0.01, 0.02]; 2_001];
    leaves[0] = vec![0.0, 0.0];
    let (network, ids) = star(&[0.5, 0.5], &leaves);
    let query = Query::new(&network, &all_yes(&network, &ids[1..]));
    assert_eq!(query.ln_evidence(), f64::NEG_INFINITY);
    assert_eq!(query.posterior(ids[0]), None);
    assert_eq!(query.withdrawn(ids[2]), None);
    assert_eq!(query.withdrawn(ids[1]), Some(vec![0.0, 1.0]));
}

#[test]
fn a_lane_that_rules_out_every_level_allowed_is_left_with_exactly_nothing() {
    // Under the first lane the effect stays at its lowest level, which the finding excludes. Summed
    // by steps of the likelihood, rounding would leave 1e-18 or less than nothing.
    for levels in 2..=6_usize {
        let mut builder = NetworkBuilder::new("graded");
        let table = Distribution::Table(vec![0.3, 0.7]);
        let lane = builder
            .variable("lane", &YES_NO, &[], table)
            .expect("valid");
        builder.lane(lane);
        let states: Vec<String> = (0..levels).map(|level| level.to_string()).collect();
        let mut base = vec![1.0; levels - 1];
        base.extend((1..levels).map(|level| level as f64 / levels as f64));
        let noisy = NoisyMax {
            base_parents: vec![lane],
            base,
            causes: Vec::new(),
            hides: Vec::new(),
        };
        let effect = builder
            .variable("effect", &states, &[lane], Distribution::NoisyMax(noisy))
            .expect("valid");
        let network = builder.finish().expect("valid");
        let mut query = Query::new(&network, &Evidence::new());
        for seed in 1..200_usize {
            let mut evidence = Evidence::new();
            let entry = |level: usize| match level {
                0 => 0.0,
                level => (seed * level * 37 % 101) as f64 / 100.0,
            };
            let likelihood: Vec<f64> = (0..levels).map(entry).collect();
            evidence
                .likelihood(&network, effect, &likelihood)
                .expect("fits");
            evidence.observe(&network, lane, 0).expect("a state it has");
            query.ask(&evidence);
            assert_eq!(query.lane_value(0), 0.0, "{likelihood:?}");
            assert_eq!(query.ln_evidence(), f64::NEG_INFINITY, "{likelihood:?}");
            assert_eq!(query.posterior(effect), None, "{likelihood:?}");
        }
    }
}

#[test]
fn impossible_evidence_leaves_no_number_that_is_none() {
    let impossible = Cell::new(0);
    check(150, samples(ANY, 2), |sample| {
        let query = Query::new(&sample.network, &sample.evidence(0));
        let contradicted = query.ln_evidence() == f64::NEG_INFINITY;
        impossible.set(impossible.get() + usize::from(contradicted));
        assert!(!query.ln_evidence().is_nan());
        let circuit = &query.circuit;
        for lane in 0..circuit.lanes() {
            assert!(query.lane_value(lane).is_finite());
            for parameter in circuit.parameters() {
                let id = circuit
                    .find_parameter(parameter.variable, parameter.role, parameter.index)
                    .expect("a parameter is found where it says it is");
                assert!(query.lane_slope(lane, id).is_finite(), "{parameter:?}");
            }
        }
        for id in sample.network.ids() {
            let posterior = circuit.posterior(&query.workspace, 0, id);
            assert_eq!(posterior.is_err(), contradicted);
            if let Err(error) = posterior {
                assert!(matches!(error, Error::Impossible { .. }), "{error}");
            }
            for entry in query.withdrawn(id).iter().flatten() {
                assert!((0.0..=1.0).contains(entry), "{entry}");
            }
        }
    });
    assert!(impossible.get() >= 20, "{}", impossible.get());
}

#[test]
fn a_contradiction_is_named_by_a_minimal_set() {
    let strategy = drawn(|choices| {
        let network = network(choices, ANY);
        let mut case = findings(choices, &network);
        // Each observed once and for certain at most, so that several are needed to contradict.
        let mut seen = Vec::new();
        case.retain(|finding| {
            let first = !seen.contains(&finding.id);
            seen.push(finding.id);
            first && finding.likelihood.iter().any(|entry| *entry > 0.0)
        });
        for finding in &mut case {
            let kept = choices.below(finding.likelihood.len());
            finding.likelihood.fill(0.0);
            finding.likelihood[kept] = 1.0;
        }
        let cases = vec![case];
        Sample { network, cases }
    });
    let by_size = Cell::new([0_usize; 8]);
    check(600, strategy, |sample| {
        let network = &sample.network;
        let evidence_of = |ids: &[VariableId]| {
            let mut findings = sample.cases[0].clone();
            findings.retain(|finding| ids.contains(&finding.id));
            evidence(network, &findings)
        };
        let impossible = |ids: &[VariableId]| {
            let answers = Oracle::new(network, &evidence_of(ids)).answers();
            answers.evidence() == 0.0
        };
        let observed: Vec<VariableId> = sample.evidence(0).iter().map(|(id, _)| id).collect();
        let circuit = Circuit::compile(network, &CompileOptions::default()).expect("small");
        let named = circuit
            .contradiction(&sample.evidence(0))
            .expect("evidence of this network");
        assert_eq!(named.is_some(), impossible(&observed));
        let named = named.unwrap_or_default();
        let mut sizes = by_size.get();
        sizes[named.len()] += 1;
        by_size.set(sizes);
        assert!(named.iter().all(|id| observed.contains(id)));
        // Fewer findings are never less possible, so subsets one smaller stand for all.
        for left_out in &named {
            let rest: Vec<VariableId> = named.iter().copied().filter(|id| id != left_out).collect();
            assert!(!impossible(&rest), "{named:?} without {left_out:?}");
        }
        assert!(named.is_empty() || impossible(&named), "{named:?}");
    });
    let [possible, one, two, three, ..] = by_size.get();
    let enough = possible > 100 && one > 20 && two > 20 && three > 3;
    assert!(enough, "{:?}", by_size.get());
}

/// A noisy-max whose causes come first and whose hides come last.
fn noisy_max(base: f64, causes: &[(VariableId, f64)], hides: &[(VariableId, f64)]) -> Distribution {
    Distribution::NoisyMax(NoisyMax {
        base_parents: Vec::new(),
        base: vec![base],
        // The first state of every parent is "yes": it adds or hides, the second does nothing.
        causes: causes
            .iter()
            .map(|(parent, stays)| Cause {
                parent: *parent,
                cumulative: vec![*stays, 1.0],
            })
            .collect(),
        hides: hides
            .iter()
            .map(|(parent, blank)| Hide {
                parent: *parent,
                blank: vec![*blank, 0.0],
            })
            .collect(),
    })
}

/// 300 variables, each a noisy-max of the 20 before it.
fn braid() -> Network {
    let mut builder = NetworkBuilder::new("braid");
    let mut ids = Vec::new();
    for index in 0..300_usize {
        let before = &ids[index.saturating_sub(20)..];
        let causes: Vec<(VariableId, f64)> = before.iter().map(|id| (*id, 0.9)).collect();
        let name = format!("strand {index}");
        let id = builder.variable(name, &YES_NO, before, noisy_max(0.5, &causes, &[]));
        ids.push(id.expect("valid"));
    }
    builder.finish().expect("valid")
}

/// A square of variables, each with the ones to its left and above as parents.
fn grid(side: usize) -> Network {
    let mut builder = NetworkBuilder::new("grid");
    let mut ids: Vec<VariableId> = Vec::new();
    for at in 0..side * side {
        let mut parents = Vec::new();
        if at % side > 0 {
            parents.push(ids[at - 1]);
        }
        if at >= side {
            parents.push(ids[at - side]);
        }
        let table = [0.3, 0.7].repeat(1 << parents.len());
        let id = builder.variable(
            format!("v{at}"),
            &YES_NO,
            &parents,
            Distribution::Table(table),
        );
        ids.push(id.expect("valid"));
    }
    builder.finish().expect("valid")
}

/// A likelihood over the joint states of many parents.
fn wide_likelihood(parents: usize) -> Network {
    let mut builder = NetworkBuilder::new("wide");
    let mut ids = Vec::new();
    for index in 0..parents {
        let table = Distribution::Table(vec![0.5, 0.5]);
        let id = builder.variable(format!("parent {index}"), &YES_NO, &[], table);
        ids.push(id.expect("valid"));
    }
    let none: [&str; 0] = [];
    builder
        .variable("reading", &none, &ids, Distribution::Likelihood)
        .expect("valid");
    builder.finish().expect("valid")
}

#[test]
fn a_network_too_large_is_refused_before_any_work() {
    for (network, at_least) in [
        (braid(), 7.5),
        (grid(40), 10.0),
        (wide_likelihood(40), 12.0),
        (wide_likelihood(60), 18.0),
    ] {
        for keep_parameters in [true, false] {
            let options = CompileOptions {
                keep_parameters,
                ..CompileOptions::default()
            };
            let error = Circuit::compile(&network, &options).expect_err("too large");
            let Error::TooLarge {
                log10_operations,
                limit,
            } = error
            else {
                panic!("{}: {error}", network.name());
            };
            assert_eq!(limit, DEFAULT_LIMIT);
            assert!(log10_operations >= at_least, "{}: {error}", network.name());
            assert!(log10_operations.is_finite());
        }
    }
}

#[test]
fn a_likelihood_over_many_parents_is_refused_even_if_evidence_settles_them() {
    // The joint states of 40 parents cannot be numbered in memory, however few are left.
    let network = wide_likelihood(40);
    let parents: Vec<VariableId> = network.ids().take(40).collect();
    let evidence = all_yes(&network, &parents);
    let options = CompileOptions {
        evidence: Some(&evidence),
        ..CompileOptions::default()
    };
    let error = Circuit::compile(&network, &options).expect_err("too large");
    assert!(matches!(error, Error::TooLarge { .. }), "{error}");
}

#[test]
fn the_limit_is_the_callers() {
    let network = grid(6);
    let compile = |limit| {
        let options = CompileOptions {
            limit,
            ..CompileOptions::default()
        };
        Circuit::compile(&network, &options)
    };
    assert!(compile(DEFAULT_LIMIT).is_ok());
    for limit in [0, 1, 100] {
        let error = compile(limit).expect_err("too large");
        assert!(
            matches!(error, Error::TooLarge { limit: named, .. } if named == limit),
            "{error}"
        );
    }
}

#[test]
fn deep_and_wide_networks_give_their_closed_forms() {
    // A chain in which each link passes its state on with probability 1 - p:
    // P(last = first) = 1/2 + 1/2 (1 - 2 p)^(n - 1).
    for (count, p) in [(5_000_usize, 1e-4), (20_000, 1e-5)] {
        let mut builder = NetworkBuilder::new("chain");
        let mut before: Option<VariableId> = None;
        for index in 0..count {
            let (parents, table) = match before {
                None => (vec![], vec![0.3, 0.7]),
                Some(before) => (vec![before], vec![1.0 - p, p, p, 1.0 - p]),
            };
            let id = builder.variable(
                format!("{index}"),
                &YES_NO,
                &parents,
                Distribution::Table(table),
            );
            before = id.ok();
        }
        let network = builder.finish().expect("valid");
        let (first, last) = (
            network.find("0").expect("declared"),
            before.expect("declared"),
        );
        let query = Query::new(&network, &all_yes(&network, &[first]));
        let same = 0.5 + 0.5 * libm::pow(1.0 - 2.0 * p, (count - 1) as f64);
        let posterior = query.posterior(last).expect("possible");
        assert_close!(posterior, [same, 1.0 - same], rel = 1e-11, "{count}");
    }
    // A star: the posterior odds of the root are the prior odds times the likelihood ratios.
    for count in [5_000, 19_999] {
        let (network, ids) = star(&[0.3, 0.7], &vec![vec![0.5, 0.499]; count]);
        let query = Query::new(&network, &all_yes(&network, &ids[1..]));
        let ln_odds = ln_powers(&[(0.3 / 0.7, 1.0), (0.5 / 0.499, count as f64)]);
        let posterior = query.posterior(ids[0]).expect("possible");
        assert_close!(
            posterior[0],
            1.0 / (1.0 + libm::exp(-ln_odds)),
            rel = 1e-11,
            "{count}"
        );
        assert_close!(
            posterior[1],
            1.0 / (1.0 + libm::exp(ln_odds)),
            rel = 1e-10,
            "{count}"
        );
    }
    // An effect of independent causes and hides: P(no) = 1 - (1 - base prod f) prod (1 - r).
    for count in [8, 40, 2_000_usize] {
        let mut builder = NetworkBuilder::new("causes");
        let mut ids = Vec::new();
        for index in 0..count {
            let table = Distribution::Table(vec![0.1, 0.9]);
            ids.push(
                builder
                    .variable(format!("{index}"), &YES_NO, &[], table)
                    .expect("valid"),
            );
        }
        let (causing, hiding) = ids.split_at(count / 2);
        let weaker = |ids: &[VariableId], by: f64| -> Vec<(VariableId, f64)> {
            ids.iter().map(|id| (*id, by)).collect()
        };
        let noisy = noisy_max(0.9, &weaker(causing, 0.99), &weaker(hiding, 0.005));
        let effect = builder
            .variable("effect", &["no", "yes"], &ids, noisy)
            .expect("valid");
        let network = builder.finish().expect("valid");
        let half = (count / 2) as f64;
        let stays = 0.9 * libm::pow(0.1 * 0.99 + 0.9, half);
        let kept = libm::pow(0.1 * 0.995 + 0.9, half);
        let query = Query::new(&network, &Evidence::new());
        let posterior = query.posterior(effect).expect("possible");
        let yes = (1.0 - stays) * kept;
        assert_close!(posterior, [1.0 - yes, yes], rel = 1e-11, "{count}");
        // Seen, the effect says of one cause: P(c, yes) = 0.1 (1 - 0.99 rest) kept.
        let mut evidence = Evidence::new();
        evidence
            .observe(&network, effect, 1)
            .expect("a state it has");
        let query = Query::new(&network, &evidence);
        let rest = stays / (0.1 * 0.99 + 0.9);
        let cause = 0.1 * (1.0 - 0.99 * rest) / (1.0 - stays);
        let posterior = query.posterior(ids[0]).expect("possible");
        assert_close!(posterior, [cause, 1.0 - cause], rel = 1e-11, "{count}");
    }
}

#[test]
fn a_long_network_that_is_no_tree_compiles() {
    // Two rows of 10,000. Every variable is told its parents' states and does not care.
    let mut builder = NetworkBuilder::new("ladder");
    let mut ids: Vec<VariableId> = Vec::new();
    for at in 0..20_000 {
        let mut parents = ids[ids.len().saturating_sub(2)..].to_vec();
        if at % 2 == 0 {
            parents.truncate(1);
        }
        let table = Distribution::Table([0.3, 0.7].repeat(1 << parents.len()));
        let id = builder.variable(format!("{at}"), &YES_NO, &parents, table);
        ids.push(id.expect("valid"));
    }
    let network = builder.finish().expect("valid");
    let (seen, asked) = (ids[10_000], ids[19_999]);
    let query = Query::new(&network, &all_yes(&network, &[seen]));
    assert_close!(query.ln_evidence(), libm::log(0.3), rel = 1e-11);
    let posterior = query.posterior(asked).expect("possible");
    assert_close!(posterior, [0.3, 0.7], rel = 1e-11);
}

#[test]
fn what_evidence_settles_binds_nothing_together() {
    // 60 children of one hub, each with a hidden parent of its own. With the hub observed they
    // fall apart; multiplied into one table they would have 2^60 entries.
    let mut builder = NetworkBuilder::new("hub");
    let table = |numbers: &[f64]| Distribution::Table(numbers.to_vec());
    let hub = builder
        .variable("hub", &YES_NO, &[], table(&[0.5, 0.5]))
        .expect("valid");
    let mut children = Vec::new();
    for index in 0..60 {
        let name = format!("own {index}");
        let own = builder
            .variable(name, &YES_NO, &[], table(&[0.2, 0.8]))
            .expect("valid");
        let numbers = [0.9, 0.1, 0.6, 0.4, 0.3, 0.7, 0.5, 0.5];
        let child = builder
            .variable(
                format!("child {index}"),
                &YES_NO,
                &[hub, own],
                table(&numbers),
            )
            .expect("valid");
        children.push(child);
    }
    let network = builder.finish().expect("valid");
    let mut evidence = all_yes(&network, &children);
    evidence.observe(&network, hub, 1).expect("a state it has");
    let open = Query::new(&network, &evidence);
    let options = CompileOptions {
        evidence: Some(&evidence),
        ..CompileOptions::default()
    };
    let closed = Query::with(&network, &evidence, &options);
    assert!(closed.circuit.operations() < open.circuit.operations());
    let ln_evidence = ln_powers(&[(0.5, 1.0), (0.2 * 0.3 + 0.8 * 0.5, 60.0)]);
    for query in [open, closed] {
        assert_close!(query.ln_evidence(), ln_evidence, rel = 1e-14);
        let own = query
            .posterior(network.find("own 7").expect("declared"))
            .expect("possible");
        assert_close!(own, [0.06 / 0.46, 0.4 / 0.46], rel = 1e-14);
    }
}

#[test]
fn variables_of_one_state_cost_nothing() {
    // Each is a parent of one large table, which must not be gone through once for each of them.
    let mut builder = NetworkBuilder::new("single");
    let mut parents = Vec::new();
    for index in 0..1_014 {
        let states = if index < 14 {
            &YES_NO[..]
        } else {
            &YES_NO[..1]
        };
        let table = vec![1.0 / states.len() as f64; states.len()];
        let id = builder.variable(format!("{index}"), states, &[], Distribution::Table(table));
        parents.push(id.expect("valid"));
    }
    let table = [0.25, 0.75].repeat(1 << 14);
    let child = builder
        .variable("child", &YES_NO, &parents, Distribution::Table(table))
        .expect("valid");
    let network = builder.finish().expect("valid");
    let query = Query::new(&network, &Evidence::new());
    let posterior = query.posterior(child).expect("possible");
    assert_close!(posterior, [0.25, 0.75], rel = 1e-14);
}

#[test]
fn a_copying_variable_of_too_many_states_is_refused_before_its_table_is_filled() {
    let states: Vec<String> = (0..60_000).map(|state| state.to_string()).collect();
    let even = vec![1.0 / 60_000.0; 60_000];
    let mut builder = NetworkBuilder::new("copy");
    let source = builder
        .variable("source", &states, &[], Distribution::Table(even.clone()))
        .unwrap_or_else(|error| panic!("{error}"));
    let copying = Distribution::Copying(Copying {
        source,
        share: vec![0.5],
        own: even,
    });
    builder
        .variable("copy", &states, &[source], copying)
        .unwrap_or_else(|error| panic!("{error}"));
    let network = builder.finish().unwrap_or_else(|error| panic!("{error}"));
    let refused = Circuit::compile(&network, &CompileOptions::default());
    assert!(
        matches!(refused, Err(Error::TooLarge { .. })),
        "{refused:?}"
    );
}
