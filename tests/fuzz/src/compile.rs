//! Small networks of every kind of distribution, against enumeration.

use crate::bytes::Bytes;
use crate::network::in_range;
use crate::oracle::{Enumerated, enumerate};
use oddment_circuit::{
    Cause, Circuit, CompileOptions, Copying, Distribution, Error, Evidence, Hide, Network,
    NetworkBuilder, NoisyMax, VariableId,
};

const LIMIT: u64 = 50_000;
const MAX_VARIABLES: usize = 9;

/// Builds the network that the bytes spell, compiles it, and compares every posterior with
/// enumeration where that is well conditioned.
pub fn compile(bytes: &[u8]) {
    let Spelt {
        network,
        evidence,
        extreme,
        keep_parameters,
        tie_equal,
    } = spell(bytes);
    let options = CompileOptions {
        keep_parameters,
        tie_equal,
        limit: LIMIT,
        evidence: None,
    };
    let Some(answers) = query(&network, &evidence, &options) else {
        return;
    };
    let restricted = CompileOptions {
        evidence: Some(&evidence),
        ..options
    };
    let restricted =
        query(&network, &evidence, &restricted).expect("evidence only makes a circuit smaller");
    let Some(exact) = enumerate(&network, &evidence) else {
        return;
    };
    if extreme {
        return;
    }
    for answers in [&answers, &restricted] {
        if exact.total > 1e-6 {
            close(&network, answers, &exact);
        }
        if exact.total == 0.0 {
            // Cancellation may leave a grain where a noisy-max is exactly impossible.
            let impossible = answers.ln_evidence == f64::NEG_INFINITY;
            assert!(impossible || has_noisy_max(&network), "impossible");
        }
    }
}

/// What an input spells, to look at: the network as JSON, the evidence, and both answers.
pub fn describe(bytes: &[u8]) -> String {
    let spelt = spell(bytes);
    let mut text = format!("{}\n{:?}\n", spelt.network.to_json(), spelt.evidence);
    if let Some(exact) = enumerate(&spelt.network, &spelt.evidence) {
        text.push_str(&format!("enumeration: {exact:?}\n"));
    }
    for restricted in [None, Some(&spelt.evidence)] {
        let options = CompileOptions {
            keep_parameters: spelt.keep_parameters,
            tie_equal: spelt.tie_equal,
            limit: LIMIT,
            evidence: restricted,
        };
        match Circuit::compile(&spelt.network, &options) {
            Ok(circuit) => {
                let mut workspace = circuit.workspace(1);
                let set = circuit.set_evidence(&mut workspace, 0, &spelt.evidence);
                circuit.derivative(&mut workspace);
                let ln = circuit.ln_evidence(&workspace, 0);
                let exponent = workspace.exponent();
                text.push_str(&format!("{set:?}: ln P(e) {ln}, exponent {exponent}\n"));
                for id in spelt.network.ids() {
                    let posterior = circuit.posterior(&workspace, 0, id);
                    text.push_str(&format!("  {posterior:?}\n"));
                }
            }
            Err(error) => text.push_str(&format!("{error}\n")),
        }
    }
    text
}

struct Spelt {
    network: Network,
    evidence: Evidence,
    /// Whether numbers may be so small that queries underflow.
    extreme: bool,
    keep_parameters: bool,
    tie_equal: bool,
}

fn spell(bytes: &[u8]) -> Spelt {
    let mut bytes = Bytes::new(bytes);
    let extreme = bytes.once_in(4);
    let (keep_parameters, tie_equal) = match bytes.below(3) {
        1 => (false, false),
        2 => (true, true),
        _ => (true, false),
    };
    let network = build(&mut bytes, extreme);
    let evidence = observe(&mut bytes, &network, extreme);
    Spelt {
        network,
        evidence,
        extreme,
        keep_parameters,
        tie_equal,
    }
}

fn has_noisy_max(network: &Network) -> bool {
    network
        .variables()
        .iter()
        .any(|variable| matches!(variable.distribution, Distribution::NoisyMax(_)))
}

struct Answers {
    ln_evidence: f64,
    /// Empty when nothing is known; `None` for variables without states.
    posteriors: Vec<Option<Result<Vec<f64>, Error>>>,
}

/// Panics unless answers agree with enumeration; the evidence must not be so improbable that
/// rounding in either matters.
fn close(network: &Network, answers: &Answers, exact: &Enumerated) {
    let (ln, other) = (answers.ln_evidence, libm::log(exact.total));
    assert!(
        (ln - other).abs() < 1e-8,
        "ln P(e) {ln}, enumeration {other}"
    );
    for (id, answer) in network.ids().zip(&answers.posteriors) {
        let Some(answer) = answer else { continue };
        let posterior = answer.as_ref().expect("enumeration finds it possible");
        for (one, joint) in posterior.iter().zip(&exact.joint[id.index()]) {
            let other = joint / exact.total;
            assert!(
                (one - other).abs() < 1e-8,
                "{id:?}: {posterior:?}, enumeration {other}"
            );
        }
    }
}

/// Asks for every posterior, in a batch of three beside an empty case and again.
fn query(network: &Network, evidence: &Evidence, options: &CompileOptions<'_>) -> Option<Answers> {
    let circuit = match Circuit::compile(network, options) {
        Ok(circuit) => circuit,
        Err(Error::TooLarge { .. }) => return None,
        Err(error) => panic!("a valid network does not compile: {error}"),
    };
    let mut workspace = circuit.workspace(1);
    let made_here = "evidence made for this network";
    circuit
        .set_evidence(&mut workspace, 0, evidence)
        .expect(made_here);
    circuit.derivative(&mut workspace);
    let ln = circuit.ln_evidence(&workspace, 0);
    assert!(!ln.is_nan(), "ln P(e)");
    let mut batch = circuit.workspace(3);
    // The case between has no evidence, so that it is far more likely.
    for case in [0, 2] {
        circuit
            .set_evidence(&mut batch, case, evidence)
            .expect(made_here);
    }
    circuit.derivative(&mut batch);
    let mut answers = Vec::new();
    for id in network.ids() {
        if network.variable(id).states.is_empty() {
            answers.push(None);
            continue;
        }
        let answer = circuit.posterior(&workspace, 0, id);
        let beside = circuit.posterior(&batch, 2, id);
        match (&answer, &beside) {
            (Ok(one), Ok(other)) => {
                in_range(one);
                for (one, other) in one.iter().zip(other) {
                    assert!(
                        (one - other).abs() < 1e-9,
                        "in a batch {other}, alone {one}"
                    );
                }
            }
            (Err(Error::Impossible { .. }), Err(Error::Impossible { .. })) => {}
            _ => panic!("alone {answer:?}, in a batch {beside:?}"),
        }
        if let Ok(withdrawn) = circuit.posterior_withdrawn(&workspace, 0, id) {
            in_range(&withdrawn);
        }
        answers.push(Some(answer));
    }
    for lane in 0..circuit.lanes() {
        for id in 0..circuit.parameters().len() {
            let parameter = &circuit.parameters()[id];
            let id = circuit.find_parameter(parameter.variable, parameter.role, parameter.index);
            let slope = circuit.lane_slope(&workspace, 0, lane, id.expect("it is there"));
            // Nothing is divided by an impossible value; beside it a slope may be of any size.
            let impossible = ln == f64::NEG_INFINITY && !slope.is_nan();
            assert!(slope.is_finite() || impossible, "slope {slope}");
        }
    }
    let impossible = circuit.contradiction(evidence).expect(made_here);
    let scaled = workspace.exponent() != 0;
    circuit.value(&mut workspace);
    let alone = circuit.ln_evidence(&workspace, 0);
    assert_eq!(impossible.is_some(), alone == f64::NEG_INFINITY);
    // Beside derivatives the value gives way where one finding more makes it 2^1000 times smaller.
    assert!(
        ln == alone || scaled,
        "{ln} with derivatives, {alone} without"
    );
    Some(Answers {
        ln_evidence: ln,
        posteriors: answers,
    })
}

fn build(bytes: &mut Bytes<'_>, extreme: bool) -> Network {
    let mut builder = NetworkBuilder::new("fuzz");
    let count = 1 + bytes.below(MAX_VARIABLES);
    let mut ids: Vec<VariableId> = Vec::new();
    let mut sizes: Vec<usize> = Vec::new();
    let lane = bytes.once_in(2);
    for place in 0..count {
        let states = 1 + bytes.below(if place == 0 { 10 } else { 4 });
        let mut parents = Vec::new();
        for (parent, size) in sizes.iter().enumerate() {
            // Nearer ones more often, so that most networks stay narrow.
            if *size > 0 && parents.len() < 5 && bytes.byte() < 80 {
                parents.push(parent);
            }
        }
        let kind = if place == 0 && lane {
            0
        } else {
            bytes.below(6)
        };
        let (distribution, states) = match kind {
            1 | 2 if states > 1 => (noisy_max(bytes, &ids, &sizes, &parents, states), states),
            3 if !sizes.is_empty() => {
                let source = bytes.below(sizes.len());
                let by_lane = lane && source > 0 && bytes.once_in(2);
                if sizes[source] == 0 || (lane && source == 0) {
                    (table(bytes, &sizes, &parents, states, extreme), states)
                } else {
                    parents = if by_lane {
                        vec![0, source]
                    } else {
                        vec![source]
                    };
                    let rows = if by_lane { sizes[0] } else { 1 };
                    let states = sizes[source];
                    let copying = Copying {
                        source: ids[source],
                        share: (0..rows).map(|_| bytes.chance()).collect(),
                        own: (0..rows).flat_map(|_| bytes.row(states, extreme)).collect(),
                    };
                    (Distribution::Copying(copying), states)
                }
            }
            4 => (Distribution::Likelihood, 0),
            _ => (table(bytes, &sizes, &parents, states, extreme), states),
        };
        let names: Vec<String> = (0..states).map(|state| format!("s{state}")).collect();
        let parents: Vec<VariableId> = parents.iter().map(|parent| ids[*parent]).collect();
        let id = builder
            .variable(format!("v{place}"), &names, &parents, distribution)
            .expect("the name is new");
        ids.push(id);
        sizes.push(states);
    }
    if lane {
        builder.lane(ids[0]);
    }
    builder.finish().expect("built to the rules")
}

fn rows(sizes: &[usize], parents: &[usize]) -> usize {
    parents.iter().map(|parent| sizes[*parent]).product()
}

fn table(
    bytes: &mut Bytes<'_>,
    sizes: &[usize],
    parents: &[usize],
    states: usize,
    extreme: bool,
) -> Distribution {
    let rows = rows(sizes, parents);
    Distribution::Table((0..rows).flat_map(|_| bytes.row(states, extreme)).collect())
}

fn noisy_max(
    bytes: &mut Bytes<'_>,
    ids: &[VariableId],
    sizes: &[usize],
    parents: &[usize],
    states: usize,
) -> Distribution {
    let levels = states - 1;
    let (mut base_parents, mut causes, mut hides) = (Vec::new(), Vec::new(), Vec::new());
    for parent in parents {
        let role = bytes.below(8);
        // A parent may have several roles, but at least one.
        if role & 3 == 0 || role & 1 == 1 {
            base_parents.push(*parent);
        }
        if role & 2 == 2 {
            causes.push(Cause {
                parent: ids[*parent],
                cumulative: rising(bytes, sizes[*parent], levels),
            });
        }
        if role & 4 == 4 {
            hides.push(Hide {
                parent: ids[*parent],
                blank: (0..sizes[*parent]).map(|_| bytes.chance()).collect(),
            });
        }
    }
    let base = rising(bytes, rows(sizes, &base_parents), levels);
    Distribution::NoisyMax(NoisyMax {
        base_parents: base_parents.iter().map(|parent| ids[*parent]).collect(),
        base,
        causes,
        hides,
    })
}

fn rising(bytes: &mut Bytes<'_>, rows: usize, levels: usize) -> Vec<f64> {
    let mut numbers = Vec::new();
    for _ in 0..rows {
        let mut row: Vec<f64> = (0..levels).map(|_| bytes.chance()).collect();
        row.sort_by(f64::total_cmp);
        numbers.extend(row);
    }
    numbers
}

fn observe(bytes: &mut Bytes<'_>, network: &Network, extreme: bool) -> Evidence {
    let mut evidence = Evidence::new();
    for id in network.ids() {
        let variable = network.variable(id);
        let states = match variable.distribution {
            Distribution::Likelihood => variable
                .parents
                .iter()
                .map(|parent| network.variable(*parent).states.len())
                .product(),
            _ => variable.states.len(),
        };
        match bytes.below(4) {
            1 if !variable.states.is_empty() => {
                let state = bytes.below(states);
                evidence.observe(network, id, state).expect("it exists");
            }
            2 => {
                let likelihood: Vec<f64> =
                    (0..states).map(|_| bytes.weight(extreme) / 255.0).collect();
                evidence
                    .likelihood(network, id, &likelihood)
                    .expect("finite and not negative");
            }
            _ => {}
        }
    }
    evidence
}
