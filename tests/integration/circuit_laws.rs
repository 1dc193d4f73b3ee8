//! Laws that hold for every network and all evidence, tested on generated ones.

use oddment_circuit::{
    Cause, Circuit, CompileOptions, Distribution, Evidence, Hide, Network, NetworkBuilder,
    NoisyMax, Parameter, ParameterId, VariableId,
};
use oddment_tests::assert_close;
use oddment_tests::generate::{
    ANY, Choices, Finding, Lane, SMALL, Sample, Shape, drawn, evidence, findings, network, samples,
};
use oddment_tests::oracle::Oracle;
use oddment_tests::permute::Rewriting;
use oddment_tests::property::check;
use oddment_tests::query::{Query, possible};
use std::cell::Cell;

/// Equal numbers folded into constants.
pub(crate) fn folded() -> CompileOptions<'static> {
    CompileOptions {
        keep_parameters: false,
        ..CompileOptions::default()
    }
}

/// Equal numbers of one distribution made one.
pub(crate) fn tied() -> CompileOptions<'static> {
    CompileOptions {
        tie_equal: true,
        ..CompileOptions::default()
    }
}

/// Counts how often each branch of a property was taken, so that none is left untested.
#[derive(Default)]
pub(crate) struct Tally {
    yes: Cell<u32>,
    no: Cell<u32>,
}

impl Tally {
    pub(crate) fn count(&self, outcome: bool) -> bool {
        let cell = if outcome { &self.yes } else { &self.no };
        cell.set(cell.get() + 1);
        outcome
    }

    pub(crate) fn expect(&self, yes: u32, no: u32) {
        let (had_yes, had_no) = (self.yes.get(), self.no.get());
        assert!(
            had_yes >= yes && had_no >= no,
            "{had_yes} and {had_no} inputs, wanted {yes} and {no}"
        );
    }
}

/// Compares an answer that may be "impossible".
pub(crate) fn assert_same(actual: Option<Vec<f64>>, expected: Option<Vec<f64>>, what: &str) {
    assert_eq!(actual.is_some(), expected.is_some(), "possible: {what}");
    if let (Some(actual), Some(expected)) = (actual, expected) {
        assert_close!(actual, expected, rel = 1e-12, "{what}");
    }
}

#[test]
fn answers_equal_enumeration() {
    let tally = Tally::default();
    check(250, samples(ANY, 2), |sample| {
        for options in [CompileOptions::default(), folded(), tied()] {
            let mut query = Query::with(&sample.network, &Evidence::new(), &options);
            for case in 0..sample.cases.len() {
                let evidence = sample.evidence(case);
                let answers = Oracle::new(&sample.network, &evidence).answers();
                query.ask(&evidence);
                let ln_evidence = libm::log(answers.evidence());
                tally.count(ln_evidence.is_finite());
                assert_close!(query.ln_evidence(), ln_evidence, ln = 1e-12);
                for lane in 0..query.circuit.lanes() {
                    let expected = answers.lane_value(lane);
                    assert_close!(query.lane_value(lane), expected, rel = 1e-12, "lane {lane}");
                }
                for id in sample.network.ids() {
                    let name = &sample.network.variable(id).name;
                    assert_same(query.posterior(id), answers.posterior(id), name);
                    assert_same(query.withdrawn(id), answers.withdrawn(id), name);
                    if Some(id) == sample.network.lane() {
                        continue;
                    }
                    for lane in 0..query.circuit.lanes() {
                        for state in 0..answers.states(id) {
                            let expected = answers.lane_joint(lane, id, state);
                            let joint = query.lane_joint(lane, id, state);
                            assert_close!(joint, expected, rel = 1e-12, "{name} {lane} {state}");
                        }
                    }
                }
            }
        }
    });
    tally.expect(500, 100);
}

#[test]
fn posteriors_are_distributions() {
    check(200, samples(ANY, 2), |sample| {
        for case in 0..sample.cases.len() {
            let query = Query::new(&sample.network, &sample.evidence(case));
            for id in sample.network.ids() {
                for posterior in [query.posterior(id), query.withdrawn(id)].iter().flatten() {
                    let sum: f64 = posterior.iter().sum();
                    assert_close!(sum, 1.0, rel = 1e-14, "{posterior:?}");
                    let inside = posterior.iter().all(|entry| (0.0..=1.0).contains(entry));
                    assert!(inside, "{posterior:?}");
                }
            }
        }
    });
}

#[test]
fn without_evidence_its_probability_is_that_of_all_rows_together() {
    // One, for tables that are exact; the generated ones miss it by as much as they are allowed.
    check(100, samples(ANY, 0), |sample| {
        let query = Query::new(&sample.network, &Evidence::new());
        assert_close!(query.ln_evidence(), 0.0, ln = 1e-8);
        let answers = Oracle::new(&sample.network, &Evidence::new()).answers();
        assert_close!(
            query.ln_evidence(),
            libm::log(answers.evidence()),
            ln = 1e-14
        );
    });
}

#[test]
fn the_order_of_findings_and_earlier_queries_leave_no_trace() {
    check(150, samples(ANY, 2), |sample| {
        let fresh = Query::new(&sample.network, &sample.evidence(0));
        let expected = fresh.bits(&sample.network);
        let mut reversed = sample.cases[0].clone();
        reversed.reverse();
        let mut query = Query::new(&sample.network, &sample.evidence(1));
        query.ask(&evidence(&sample.network, &reversed));
        assert_eq!(query.bits(&sample.network), expected);
    });
}

#[test]
fn withdrawing_is_as_good_as_never_having_observed() {
    let tally = Tally::default();
    check(150, samples(ANY, 1), |sample| {
        let all = sample.evidence(0);
        let query = Query::new(&sample.network, &all);
        for id in sample.network.ids() {
            let mut findings = sample.cases[0].clone();
            findings.retain(|finding| finding.id != id);
            let never = evidence(&sample.network, &findings);
            let mut withdrawn = all.clone();
            withdrawn.withdraw(id);
            assert_eq!(withdrawn, never);
            let without = Query::new(&sample.network, &never);
            let name = &sample.network.variable(id).name;
            tally.count(all.get(id).is_some());
            // For a variable never observed this is its plain posterior.
            assert_same(query.withdrawn(id), without.posterior(id), name);
        }
    });
    tally.expect(300, 100);
}

#[test]
fn a_likelihood_of_zeros_and_a_one_is_a_hard_finding() {
    let tally = Tally::default();
    check(100, samples(ANY, 1), |sample| {
        let (mut hard, mut soft, mut json) = (Evidence::new(), Evidence::new(), String::new());
        for finding in &sample.cases[0] {
            let variable = sample.network.variable(finding.id);
            let Some(state) = finding.likelihood.iter().position(|entry| *entry > 0.0) else {
                continue;
            };
            if variable.states.is_empty() || hard.get(finding.id).is_some() {
                continue;
            }
            let network = &sample.network;
            let mut likelihood = vec![0.0; variable.states.len()];
            likelihood[state] = 1.0;
            hard.observe(network, finding.id, state)
                .expect("a state it has");
            soft.likelihood(network, finding.id, &likelihood)
                .expect("fits");
            let comma = if json.is_empty() { "" } else { "," };
            json += &format!("{comma}{:?}:{:?}", variable.name, variable.states[state]);
        }
        let json = format!("{{\"hard\":{{{json}}}}}");
        let read = Evidence::from_json(&sample.network, &json).expect("names it has");
        assert_eq!(hard, soft);
        assert_eq!(hard, read);
        tally.count(hard.iter().count() > 1);
        let bits = |evidence| Query::new(&sample.network, evidence).bits(&sample.network);
        assert_eq!(bits(&hard), bits(&soft));
    });
    tally.expect(50, 1);
}

#[test]
fn scaling_a_likelihood_changes_nothing_but_the_probability_of_the_evidence() {
    check(150, samples(ANY, 1), |sample| {
        let plain = Query::new(&sample.network, &sample.evidence(0));
        let mut scaled = sample.cases[0].clone();
        let mut ln_scale = 0.0;
        for (finding, scale) in scaled
            .iter_mut()
            .zip([3.7, 1e-6, 250.0].into_iter().cycle())
        {
            ln_scale += libm::log(scale);
            for entry in &mut finding.likelihood {
                *entry *= scale;
            }
        }
        let scaled = Query::new(&sample.network, &evidence(&sample.network, &scaled));
        let expected = plain.ln_evidence() + ln_scale;
        assert_close!(scaled.ln_evidence(), expected, ln = 1e-12);
        for id in sample.network.ids() {
            let name = &sample.network.variable(id).name;
            assert_same(scaled.posterior(id), plain.posterior(id), name);
            assert_same(scaled.withdrawn(id), plain.withdrawn(id), name);
        }
    });
}

/// A noisy-max of independent causes and hides, each stronger from state to state, with findings on
/// all parents but one.
#[derive(Debug)]
struct Causes {
    network: Network,
    effect: VariableId,
    asked: VariableId,
    hides: bool,
    evidence: Evidence,
}

fn causes(choices: &mut Choices) -> Causes {
    let mut builder = NetworkBuilder::new("causes");
    let levels = 1 + choices.below(3);
    let (mut parents, mut causes, mut hides) = (Vec::new(), Vec::new(), Vec::new());
    for index in 0..2 + choices.below(4) {
        let states = 2 + choices.below(2);
        let names: Vec<String> = (0..states).map(|state| format!("{state}")).collect();
        let table = Distribution::Table(choices.row(states, false));
        let parent = builder
            .variable(format!("parent {index}"), &names, &[], table)
            .expect("a new name");
        parents.push(parent);
        if choices.hundredths(65) {
            let mut row = choices.rising(1, levels, false);
            let mut cumulative = row.clone();
            for _ in 1..states {
                let weaker = choices.probability(true);
                row.iter_mut().for_each(|entry| *entry *= weaker);
                cumulative.extend(&row);
            }
            causes.push(Cause { parent, cumulative });
        } else {
            let mut blank: Vec<f64> = (0..states).map(|_| choices.probability(true)).collect();
            blank.sort_by(f64::total_cmp);
            hides.push(Hide { parent, blank });
        }
    }
    let asked = parents[choices.below(parents.len())];
    let asked_hides = hides.iter().any(|hide| hide.parent == asked);
    let names: Vec<String> = (0..=levels).map(|level| format!("{level}")).collect();
    let noisy = NoisyMax {
        base_parents: Vec::new(),
        base: choices.rising(1, levels, false),
        causes,
        hides,
    };
    let effect = builder
        .variable("effect", &names, &parents, Distribution::NoisyMax(noisy))
        .expect("a new name");
    let network = builder.finish().expect("valid");
    let mut found = findings(choices, &network);
    found.retain(|finding| ![asked, effect].contains(&finding.id));
    Causes {
        evidence: evidence(&network, &found),
        network,
        effect,
        asked,
        hides: asked_hides,
    }
}

#[test]
fn a_stronger_cause_raises_the_effect_and_a_stronger_hide_lowers_it() {
    let (strict, kind) = (Tally::default(), Tally::default());
    // The chance of lying above each level.
    let above = |posterior: &[f64]| -> Vec<f64> {
        (1..posterior.len())
            .map(|level| posterior[level..].iter().sum())
            .collect()
    };
    check(200, drawn(causes), |drawn| {
        let Causes {
            network,
            effect,
            asked,
            hides,
            evidence,
        } = drawn;
        let mut query = Query::new(&network, &evidence);
        if query.ln_evidence() == f64::NEG_INFINITY {
            // Only a likelihood of nothing but zeros can do that to independent causes.
            assert!(
                evidence
                    .iter()
                    .any(|(_, entries)| entries.iter().all(|entry| *entry == 0.0))
            );
            return;
        }
        kind.count(hides);
        let mut before: Option<Vec<f64>> = None;
        for state in 0..network.variable(asked).states.len() {
            let mut known = evidence.clone();
            known
                .observe(&network, asked, state)
                .expect("a state it has");
            query.ask(&known);
            let now = above(&query.posterior(effect).expect("possible"));
            if let Some(before) = before {
                for (before, now) in before.iter().zip(&now) {
                    let (weak, strong) = if hides { (now, before) } else { (before, now) };
                    assert!(*weak <= strong + 1e-14, "{weak} {strong}");
                    strict.count(*weak < strong - 1e-6);
                }
            }
            before = Some(now);
        }
        // And backwards: an effect seen speaks for its causes and against what hides it.
        query.ask(&evidence);
        let prior = above(&query.posterior(asked).expect("possible"));
        let mut seen = vec![1.0; network.variable(effect).states.len()];
        seen[0] = 0.0;
        let mut known = evidence.clone();
        known.likelihood(&network, effect, &seen).expect("fits");
        query.ask(&known);
        // A hide of chance 1 makes the effect impossible.
        let Some(posterior) = query.posterior(asked) else {
            return;
        };
        for (prior, posterior) in prior.iter().zip(above(&posterior)) {
            let (weak, strong) = if hides {
                (posterior, *prior)
            } else {
                (*prior, posterior)
            };
            assert!(weak <= strong + 1e-14, "{weak} {strong}");
            strict.count(weak < strong - 1e-6);
        }
    });
    strict.expect(400, 1);
    kind.expect(30, 80);
}

/// A sample and the same network written another way.
#[derive(Debug)]
struct Rewritten {
    sample: Sample,
    rewriting: Rewriting,
}

#[test]
fn names_and_the_order_of_variables_parents_and_states_do_not_matter() {
    let strategy = drawn(|choices| {
        let network = network(choices, ANY);
        let cases = vec![findings(choices, &network)];
        Rewritten {
            rewriting: Rewriting::draw(choices, &network),
            sample: Sample { network, cases },
        }
    });
    let tally = Tally::default();
    check(250, strategy, |Rewritten { sample, rewriting }| {
        let old = &sample.network;
        let new = rewriting.network(old);
        let moved: Vec<Finding> = sample.cases[0]
            .iter()
            .map(|finding| rewriting.finding(old, &new, finding))
            .collect();
        let plain = Query::new(old, &sample.evidence(0));
        let other = Query::new(&new, &evidence(&new, &moved));
        tally.count(
            new.variables()
                .iter()
                .zip(new.ids())
                .any(|(variable, id)| variable.parents.iter().any(|parent| *parent > id)),
        );
        assert_close!(other.ln_evidence(), plain.ln_evidence(), ln = 1e-12);
        for id in old.ids() {
            let renamed = new.find(&rewriting.name(id)).expect("a new name for each");
            if old.variable(id).states.is_empty() {
                continue;
            }
            let expected = plain.posterior(id);
            let actual = other.posterior(renamed).map(|posterior| {
                let states = 0..posterior.len();
                states
                    .map(|old| posterior[rewriting.new_state(id, old)])
                    .collect()
            });
            assert_same(actual, expected, &rewriting.name(id));
        }
    });
    // Both with children before their parents and without.
    tally.expect(100, 20);
}

#[test]
fn a_lane_without_prior_stays_impossible() {
    let shape = Shape {
        lane: Lane::Always,
        ..ANY
    };
    let (ruled_out, possible) = (Tally::default(), Tally::default());
    check(200, samples(shape, 2), |sample| {
        let lane = sample.network.lane().expect("a lane variable");
        let Distribution::Table(prior) = &sample.network.variable(lane).distribution else {
            panic!("a lane variable has a table");
        };
        for case in 0..sample.cases.len() {
            let query = Query::new(&sample.network, &sample.evidence(case));
            for posterior in [query.posterior(lane), query.withdrawn(lane)] {
                let Some(posterior) = posterior else {
                    possible.count(false);
                    continue;
                };
                possible.count(true);
                for (prior, posterior) in prior.iter().zip(&posterior) {
                    if ruled_out.count(*prior == 0.0) {
                        assert_eq!(*posterior, 0.0);
                    }
                }
            }
        }
    });
    ruled_out.expect(100, 100);
    possible.expect(100, 10);
}

#[test]
fn a_derivative_is_the_exact_multilinear_difference() {
    let roles = std::cell::RefCell::new(std::collections::BTreeSet::new());
    check(80, samples(SMALL, 1), |sample| {
        let evidence = sample.evidence(0);
        for options in [CompileOptions::default(), folded()] {
            let mut query = Query::with(&sample.network, &evidence, &options);
            let oracle = Oracle::new(&sample.network, &evidence);
            let lanes = query.circuit.lanes();
            let parameters = query.circuit.parameters().to_vec();
            let slopes: Vec<(ParameterId, Vec<f64>)> = parameters
                .iter()
                .map(|parameter| {
                    let id = query
                        .circuit
                        .find_parameter(parameter.variable, parameter.role, parameter.index)
                        .expect("a parameter is found where it says it is");
                    let slopes = (0..lanes).map(|lane| query.lane_slope(lane, id)).collect();
                    (id, slopes)
                })
                .collect();
            for (parameter, (id, slopes)) in parameters.iter().zip(&slopes) {
                roles.borrow_mut().insert(parameter.role);
                for (lane, slope) in slopes.iter().enumerate() {
                    let (expected, scale) = oracle.slope(parameter, lane);
                    let allowed = 1e-13 * scale.max(f64::MIN_POSITIVE);
                    assert_close!(*slope, expected, abs = allowed, "{parameter:?} {lane}");
                    let mut at = |number: f64| {
                        query
                            .circuit
                            .set_parameter(&mut query.workspace, *id, lane, number);
                        query.circuit.value(&mut query.workspace);
                        query.lane_value(lane)
                    };
                    let difference = at(1.0) - at(0.0);
                    at(parameter.values[lane]);
                    assert_close!(*slope, difference, abs = allowed, "{parameter:?} {lane}");
                }
            }
        }
    });
    // Table, base, cause, hide, share and own have all been met.
    assert!(roles.borrow().len() >= 6, "{:?}", roles.borrow());
}

#[test]
fn the_derivative_by_tied_numbers_is_that_by_all_of_them_together() {
    let several = Tally::default();
    check(150, samples(ANY, 1), |sample| {
        let evidence = sample.evidence(0);
        let tied = Query::with(&sample.network, &evidence, &tied());
        let loose = Query::new(&sample.network, &evidence);
        for parameter in tied.circuit.parameters() {
            let find = |query: &Query, parameter: &Parameter| {
                query
                    .circuit
                    .find_parameter(parameter.variable, parameter.role, parameter.index)
                    .expect("a parameter is found where it says it is")
            };
            let same = loose.circuit.parameters().iter().filter(|other| {
                (other.variable, other.role) == (parameter.variable, parameter.role)
                    && other.values == parameter.values
            });
            several.count(same.clone().count() > 1);
            for lane in 0..tied.circuit.lanes() {
                let slopes = same
                    .clone()
                    .map(|other| loose.lane_slope(lane, find(&loose, other)));
                let (sum, scale) = slopes.fold((0.0, f64::MIN_POSITIVE), |(sum, scale), slope| {
                    (sum + slope, scale + slope.abs())
                });
                let slope = tied.lane_slope(lane, find(&tied, parameter));
                let allowed = 1e-13 * scale.max(tied.lane_value(lane));
                assert_close!(slope, sum, abs = allowed, "{parameter:?} {lane}");
            }
        }
    });
    several.expect(50, 50);
}

#[test]
fn a_derivative_by_a_likelihood_is_the_exact_multilinear_difference() {
    check(80, samples(SMALL, 1), |sample| {
        let mut query = Query::new(&sample.network, &sample.evidence(0));
        let answers = Oracle::new(&sample.network, &sample.evidence(0)).answers();
        for id in sample.network.ids() {
            if Some(id) == sample.network.lane() {
                continue;
            }
            let lanes = query.circuit.lanes();
            for at in 0..answers.states(id) * lanes {
                let (state, lane) = (at / lanes, at % lanes);
                query.circuit.derivative(&mut query.workspace);
                let joint = query.lane_joint(lane, id, state);
                let before = query
                    .circuit
                    .input_weight(&query.workspace, 0, lane, id, state);
                let mut at = |weight: f64| {
                    query
                        .circuit
                        .set_likelihood(&mut query.workspace, id, state, 0, lane, weight);
                    query.circuit.value(&mut query.workspace);
                    query.lane_value(lane)
                };
                let (one, zero) = (at(1.0), at(0.0));
                at(before);
                let allowed = 1e-14 * (one + zero).max(f64::MIN_POSITIVE);
                assert_close!(joint, one - zero, abs = allowed, "{id:?} {state} {lane}");
            }
        }
    });
}

#[test]
fn a_batch_answers_as_its_cases_do_one_at_a_time() {
    let sizes = Tally::default();
    check(60, samples(ANY, 11), |sample| {
        let network = &sample.network;
        let circuit = Circuit::compile(network, &CompileOptions::default()).expect("small");
        let mut batch = circuit.workspace(sample.cases.len());
        sizes.count(circuit.lanes() > 1);
        for case in 0..sample.cases.len() {
            let evidence = sample.evidence(case);
            circuit
                .set_evidence(&mut batch, case, &evidence)
                .expect("its own evidence");
        }
        circuit.derivative(&mut batch);
        for case in 0..sample.cases.len() {
            let single = Query::new(network, &sample.evidence(case));
            assert_close!(
                circuit.ln_evidence(&batch, case),
                single.ln_evidence(),
                ln = 1e-14
            );
            for id in network.ids() {
                // To the bit, however the neighbours in the batch turn out.
                assert_eq!(
                    possible(circuit.posterior(&batch, case, id)),
                    single.posterior(id)
                );
                let withdrawn = circuit.posterior_withdrawn(&batch, case, id);
                assert_eq!(possible(withdrawn), single.withdrawn(id));
            }
        }
    });
    sizes.expect(15, 15);
}

#[test]
fn a_number_changed_and_changed_back_leaves_no_trace() {
    let changes = Tally::default();
    check(100, samples(ANY, 1), |sample| {
        let mut query = Query::new(&sample.network, &sample.evidence(0));
        let before = query.bits(&sample.network);
        for parameter in query.circuit.parameters().to_vec() {
            let id = query
                .circuit
                .find_parameter(parameter.variable, parameter.role, parameter.index)
                .expect("a parameter is found where it says it is");
            let circuit = &query.circuit;
            for (lane, number) in parameter.values.iter().enumerate() {
                let workspace = &mut query.workspace;
                circuit.set_parameter(workspace, id, lane, 0.5 * number + 0.25);
                circuit.derivative(workspace);
                let changed = (0..circuit.lanes()).any(|lane| {
                    let slope = circuit.lane_slope(workspace, 0, lane, id);
                    slope != 0.0 && *number != 0.5
                });
                changes.count(changed);
                circuit.set_parameter(workspace, id, lane, *number);
            }
        }
        query.circuit.derivative(&mut query.workspace);
        assert_eq!(query.bits(&sample.network), before);
    });
    changes.expect(300, 1);
}

#[test]
fn compiling_twice_gives_the_same_circuit_and_the_same_bits() {
    check(100, samples(ANY, 1), |sample| {
        for options in [CompileOptions::default(), folded(), tied()] {
            let twice = [(), ()].map(|()| {
                let query = Query::with(&sample.network, &sample.evidence(0), &options);
                let circuit = &query.circuit;
                let sizes = [
                    circuit.slots(),
                    circuit.steps(),
                    circuit.prelude_steps(),
                    circuit.operations(),
                ];
                (
                    sizes,
                    circuit.parameters().to_vec(),
                    query.bits(&sample.network),
                )
            });
            assert_eq!(twice[0], twice[1]);
        }
    });
}

#[test]
fn folding_and_compiling_with_evidence_shrink_the_circuit_and_change_no_answer() {
    let (possible, sizes) = (Tally::default(), Cell::new((0, 0)));
    check(200, samples(ANY, 2), |sample| {
        let network = &sample.network;
        let compiled_in = sample.evidence(0);
        let mut both = sample.cases[0].clone();
        both.extend(sample.cases[1].iter().cloned());
        let both = evidence(network, &both);
        for keep_parameters in [true, false] {
            let options = CompileOptions {
                keep_parameters,
                ..CompileOptions::default()
            };
            let mut open = Query::with(network, &compiled_in, &options);
            let options = CompileOptions {
                evidence: Some(&compiled_in),
                ..options
            };
            let mut closed = Query::with(network, &compiled_in, &options);
            let (small, large) = (closed.circuit.operations(), open.circuit.operations());
            sizes.set((sizes.get().0 + small, sizes.get().1 + large));
            // The evidence compiled in, then more evidence on top of it.
            for asked in [&compiled_in, &both] {
                open.ask(asked);
                closed.ask(asked);
                possible.count(open.ln_evidence().is_finite());
                assert_close!(closed.ln_evidence(), open.ln_evidence(), ln = 1e-12);
                for id in network.ids() {
                    let name = &network.variable(id).name;
                    assert_same(closed.posterior(id), open.posterior(id), name);
                    let whole = compiled_in
                        .get(id)
                        .is_none_or(|entries| entries.iter().all(|entry| *entry > 0.0));
                    if whole {
                        assert_same(closed.withdrawn(id), open.withdrawn(id), name);
                    }
                }
            }
        }
    });
    possible.expect(400, 100);
    // Not a law for every single network, since the elimination order is a heuristic.
    let (small, large) = sizes.get();
    assert!(2 * small < large, "{small} {large}");
}
