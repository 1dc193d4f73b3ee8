//! The same network written another way: other names, another order of variables, of states and of
//! parents.

use crate::generate::{Choices, Finding};
use crate::oracle::joint_states;
use oddment_circuit::{Distribution, Network, VariableId};
use serde_json::{Value, json};

/// How to write a network anew.
#[derive(Debug)]
pub struct Rewriting {
    /// For each new place the variable that comes to stand there. Parents need not come first.
    order: Vec<usize>,
    /// For each variable and each of its new states, the old one.
    states: Vec<Vec<usize>>,
}

impl Rewriting {
    /// Draws one. The states of a noisy-max stay as they are, for they are levels; a copying
    /// variable's states move with those of its source.
    pub fn draw(choices: &mut Choices, network: &Network) -> Self {
        let variables = network.variables();
        // The variable whose states decide for a whole chain of copies.
        let mut leader: Vec<usize> = (0..variables.len()).collect();
        for (index, variable) in variables.iter().enumerate() {
            if let Distribution::Copying(copying) = &variable.distribution {
                leader[index] = leader[copying.source.index()];
            }
        }
        let mut states: Vec<Vec<usize>> = Vec::new();
        for (index, variable) in variables.iter().enumerate() {
            let count = variable.states.len();
            states.push(if leader[index] != index {
                states[leader[index]].clone()
            } else if matches!(variable.distribution, Distribution::NoisyMax(_)) {
                (0..count).collect()
            } else {
                choices.permutation(count)
            });
        }
        let order = choices.permutation(variables.len());
        Self { order, states }
    }

    /// The new state of an old one.
    pub fn new_state(&self, id: VariableId, old: usize) -> usize {
        let states = &self.states[id.index()];
        states
            .iter()
            .position(|state| *state == old)
            .expect("a permutation holds every state")
    }

    /// The new name of a variable.
    pub fn name(&self, id: VariableId) -> String {
        format!("renamed {}", id.index())
    }

    /// A finding in the new network's terms.
    pub fn finding(&self, network: &Network, new: &Network, finding: &Finding) -> Finding {
        let variable = network.variable(finding.id);
        let axes = if variable.states.is_empty() {
            reversed(&variable.parents)
        } else {
            vec![(0, finding.id)]
        };
        Finding {
            id: new.find(&self.name(finding.id)).expect("it was renamed so"),
            likelihood: self.moved(network, &finding.likelihood, &axes, 1),
        }
    }

    /// The network, written anew.
    pub fn network(&self, network: &Network) -> Network {
        let variables: Vec<Value> = self
            .order
            .iter()
            .map(|index| {
                let id = network.ids().nth(*index).expect("a place in the network");
                self.variable(network, id)
            })
            .collect();
        let mut file = json!({"name": "rewritten", "variables": variables});
        if let Some(lane) = network.lane() {
            file["lane"] = self.name(lane).into();
        }
        Network::from_json(&file.to_string()).expect("a rewritten network is valid")
    }

    fn variable(&self, network: &Network, id: VariableId) -> Value {
        let variable = network.variable(id);
        let states: Vec<String> = self.states[id.index()]
            .iter()
            .map(|old| format!("was {old}"))
            .collect();
        let names = |ids: &mut dyn Iterator<Item = VariableId>| -> Vec<String> {
            ids.map(|id| self.name(id)).collect()
        };
        let mut file = json!({
            "name": self.name(id),
            "states": states,
            "parents": names(&mut variable.parents.iter().rev().copied()),
        });
        let own = variable.states.len();
        match &variable.distribution {
            Distribution::Table(table) => {
                let mut axes = reversed(&variable.parents);
                axes.push((axes.len(), id));
                file["table"] = self.moved(network, table, &axes, 1).into();
            }
            Distribution::NoisyMax(noisy) => {
                let levels = own - 1;
                let base_axes = reversed(&noisy.base_parents);
                let causes: Vec<Value> = noisy
                    .causes
                    .iter()
                    .rev()
                    .map(|cause| {
                        let axes = [(0, cause.parent)];
                        json!({"parent": self.name(cause.parent),
                               "cumulative": self.moved(network, &cause.cumulative, &axes, levels)})
                    })
                    .collect();
                let hides: Vec<Value> = noisy
                    .hides
                    .iter()
                    .rev()
                    .map(|hide| {
                        let axes = [(0, hide.parent)];
                        json!({"parent": self.name(hide.parent),
                               "blank": self.moved(network, &hide.blank, &axes, 1)})
                    })
                    .collect();
                file["noisy_max"] = json!({
                    "base_parents": names(&mut noisy.base_parents.iter().rev().copied()),
                    "base": self.moved(network, &noisy.base, &base_axes, levels),
                    "causes": causes,
                    "hides": hides,
                });
            }
            Distribution::Copying(copying) => {
                let by_lane: Vec<VariableId> = network
                    .lane()
                    .filter(|lane| variable.parents.contains(lane))
                    .into_iter()
                    .collect();
                let share_axes = reversed(&by_lane);
                let mut own_axes = share_axes.clone();
                own_axes.push((own_axes.len(), id));
                file["copying"] = json!({
                    "source": self.name(copying.source),
                    "share": self.moved(network, &copying.share, &share_axes, 1),
                    "own": self.moved(network, &copying.own, &own_axes, 1),
                });
            }
            Distribution::Likelihood => file["likelihood"] = true.into(),
            other => panic!("{other:?} is not known here"),
        }
        file
    }

    /// Moves numbers to where the new order of axes and states wants them. `axes` gives, for each
    /// new axis, its old place and its variable; each joint state has a run of numbers that stay
    /// together.
    fn moved(
        &self,
        network: &Network,
        numbers: &[f64],
        axes: &[(usize, VariableId)],
        run: usize,
    ) -> Vec<f64> {
        let size = |id: VariableId| network.variable(id).states.len();
        let new_sizes: Vec<usize> = axes.iter().map(|(_, id)| size(*id)).collect();
        let mut old_sizes = vec![1; axes.len()];
        for ((place, _), size) in axes.iter().zip(&new_sizes) {
            old_sizes[*place] = *size;
        }
        let mut moved = Vec::with_capacity(numbers.len());
        for new in joint_states(&new_sizes) {
            let mut old = vec![0; axes.len()];
            for ((place, id), state) in axes.iter().zip(&new) {
                old[*place] = self.states[id.index()][*state];
            }
            let row = old
                .iter()
                .zip(&old_sizes)
                .fold(0, |row, (state, size)| row * size + state);
            moved.extend(&numbers[row * run..(row + 1) * run]);
        }
        moved
    }
}

/// The axes of a table over these variables once their order is reversed.
fn reversed(ids: &[VariableId]) -> Vec<(usize, VariableId)> {
    ids.iter().copied().enumerate().rev().collect()
}
