//! A noisy-max equals the table it stands for, however it is compiled.

use crate::circuit_laws::{Tally, assert_same, folded, tied};
use oddment_circuit::{
    Cause, CompileOptions, Distribution, Evidence, Hide, Network, NetworkBuilder, NoisyMax,
    VariableId,
};
use oddment_tests::assert_close;
use oddment_tests::generate::{Choices, Sample, drawn, findings};
use oddment_tests::oracle::Oracle;
use oddment_tests::property::check;
use oddment_tests::query::Query;

/// A network around one noisy-max with many parents, and the same with its table spelt out.
#[derive(Debug)]
struct Noisy {
    sample: Sample,
    effect: VariableId,
}

fn many_parents(choices: &mut Choices) -> Noisy {
    let mut builder = NetworkBuilder::new("many");
    let states: Vec<String> = (0..4).map(|state| state.to_string()).collect();
    let laned = choices.hundredths(50);
    let (mut parents, mut causes, mut hides) = (Vec::new(), Vec::new(), Vec::new());
    let (mut base_parents, mut rows) = (Vec::new(), 1);
    let levels = 1 + choices.below(2);
    for index in 0..5 + choices.below(5) {
        let count = if index == 0 { 1 + choices.below(3) } else { 2 };
        let above = if index > 1 && choices.hundredths(40) {
            &parents[..1]
        } else {
            &[]
        };
        let table = choices.rows(
            if above.is_empty() {
                1
            } else {
                count_of(&builder, above[0])
            },
            count,
            true,
        );
        let name = format!("parent {index}");
        let parent = builder
            .variable(name, &states[..count], above, Distribution::Table(table))
            .expect("a new name");
        if index == 0 && laned {
            builder.lane(parent);
        }
        parents.push(parent);
        match choices.below(6) {
            0 => {
                base_parents.push(parent);
                rows *= count;
            }
            1 | 2 => hides.push(Hide {
                parent,
                blank: (0..count).map(|_| choices.probability(true)).collect(),
            }),
            _ => causes.push(Cause {
                parent,
                cumulative: choices.rising(count, levels, true),
            }),
        }
    }
    let noisy = NoisyMax {
        base: choices.rising(rows, levels, true),
        base_parents,
        causes,
        hides,
    };
    let effect = builder
        .variable(
            "effect",
            &states[..=levels],
            &parents,
            Distribution::NoisyMax(noisy),
        )
        .expect("a new name");
    let report = choices.rows(levels + 1, 2, true);
    builder
        .variable(
            "report",
            &states[..2],
            &[effect],
            Distribution::Table(report),
        )
        .expect("a new name");
    let network = builder.finish().expect("valid");
    let cases = (0..2).map(|_| findings(choices, &network)).collect();
    Noisy {
        sample: Sample { network, cases },
        effect,
    }
}

fn count_of(builder: &NetworkBuilder, id: VariableId) -> usize {
    let network = builder.clone().finish().expect("valid so far");
    network.variable(id).states.len()
}

/// The network with one variable's distribution spelt out.
fn with_table(network: &Network, spelt: VariableId, table: &[f64]) -> Network {
    let mut builder = NetworkBuilder::new("spelt out");
    for id in network.ids() {
        let variable = network.variable(id);
        let distribution = if id == spelt {
            Distribution::Table(table.to_vec())
        } else {
            variable.distribution.clone()
        };
        builder
            .variable(
                &variable.name,
                &variable.states,
                &variable.parents,
                distribution,
            )
            .expect("as before");
    }
    if let Some(lane) = network.lane() {
        builder.lane(lane);
    }
    builder.finish().expect("as before")
}

#[test]
fn a_noisy_max_is_its_table_whether_compiled_whole_or_as_a_chain() {
    let tally = Tally::default();
    check(120, drawn(many_parents), |Noisy { sample, effect }| {
        let network = &sample.network;
        let oracle = Oracle::new(network, &Evidence::new());
        let literal: Vec<f64> = oracle
            .distribution(effect)
            .iter()
            .map(|entry| entry.value())
            .collect();
        let table = network
            .expanded_table(effect, 1 << 16)
            .expect("small enough")
            .expect("a noisy-max has a table");
        assert_close!(table, literal, rel = 1e-11);
        let spelt = with_table(network, effect, &table);
        let states: usize = network
            .variable(effect)
            .parents
            .iter()
            .filter(|parent| Some(**parent) != network.lane())
            .map(|parent| network.variable(*parent).states.len())
            .product();
        // Up to 128 joint parent states it is compiled whole.
        tally.count(states > 128);
        for options in [CompileOptions::default(), folded(), tied()] {
            let mut structured = Query::with(network, &Evidence::new(), &options);
            let mut plain = Query::with(&spelt, &Evidence::new(), &options);
            for case in 0..sample.cases.len() {
                let evidence = sample.evidence(case);
                structured.ask(&evidence);
                plain.ask(&evidence);
                assert_close!(structured.ln_evidence(), plain.ln_evidence(), ln = 1e-12);
                for id in network.ids() {
                    let name = &network.variable(id).name;
                    assert_same(structured.posterior(id), plain.posterior(id), name);
                    assert_same(structured.withdrawn(id), plain.withdrawn(id), name);
                }
            }
        }
    });
    tally.expect(30, 30);
}
