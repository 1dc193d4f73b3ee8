//! Posteriors by adding up every joint state: slow, and with nothing in common with the engine but
//! the tables.

use oddment_circuit::{Distribution, Evidence, Network, VariableId};

/// The most joint states added up.
const MAX_JOINT: usize = 1 << 13;

/// What enumeration says.
#[derive(Debug)]
pub struct Enumerated {
    /// Probability of the evidence.
    pub total: f64,
    /// For each variable with states, the joint probability of each state and the evidence.
    pub joint: Vec<Vec<f64>>,
}

/// Enumerates; `None` when there are too many joint states.
pub fn enumerate(network: &Network, evidence: &Evidence) -> Option<Enumerated> {
    let sizes: Vec<usize> = network
        .variables()
        .iter()
        .map(|variable| variable.states.len().max(1))
        .collect();
    let joint = sizes
        .iter()
        .try_fold(1_usize, |product, size| product.checked_mul(*size))?;
    if joint > MAX_JOINT {
        return None;
    }
    let tables: Vec<Option<Vec<f64>>> = network
        .ids()
        .map(|id| network.expanded_table(id, 1 << 16).ok())
        .collect::<Option<_>>()?;
    let mut total = 0.0;
    let mut sums: Vec<Vec<f64>> = sizes.iter().map(|size| vec![0.0; *size]).collect();
    for number in 0..joint {
        let mut rest = number;
        let states: Vec<usize> = sizes
            .iter()
            .map(|size| {
                let state = rest % size;
                rest /= size;
                state
            })
            .collect();
        let row = |parents: &[VariableId]| {
            parents.iter().fold(0, |row, parent| {
                row * sizes[parent.index()] + states[parent.index()]
            })
        };
        let mut product = 1.0;
        for id in network.ids() {
            let variable = network.variable(id);
            let at = id.index();
            let row = row(&variable.parents);
            if let Some(table) = &tables[at] {
                product *= table[row * sizes[at] + states[at]];
            }
            if let Some(likelihood) = evidence.get(id) {
                product *= match variable.distribution {
                    Distribution::Likelihood => likelihood[row],
                    _ => likelihood[states[at]],
                };
            }
        }
        total += product;
        for (at, state) in states.iter().enumerate() {
            sums[at][*state] += product;
        }
    }
    Some(Enumerated { total, joint: sums })
}
