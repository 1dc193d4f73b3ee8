//! Inference by enumeration of every joint state, from a network's public data and the documented
//! formulas alone, with 32 digits.

use crate::twofold::{ONE, Twofold, ZERO};
use oddment_circuit::{
    Copying, Distribution, Evidence, Network, NoisyMax, Parameter, Role, Variable, VariableId,
};

/// A network's variables, numbers that may be changed at will, and likelihoods.
#[derive(Debug, Clone)]
pub struct Oracle {
    ids: Vec<VariableId>,
    variables: Vec<Variable>,
    lane: Option<VariableId>,
    /// For each variable one for each state; for a likelihood variable, for each joint state of its
    /// parents.
    likelihoods: Vec<Vec<f64>>,
}

/// What one enumeration gives. Lanes are the states of the lane variable; one without it.
#[derive(Debug, Clone)]
pub struct Answers {
    lane: Option<usize>,
    /// Prior of each lane, and the same times the likelihood of its state.
    lane_priors: Vec<f64>,
    lane_weights: Vec<f64>,
    /// By lane: the probability of all evidence but the lane variable's own, given the lane.
    lane_values: Vec<Twofold>,
    /// By lane, variable and state: joint of the state and all evidence but that of the variable
    /// itself and of the lane variable, given the lane.
    others: Vec<Vec<Vec<Twofold>>>,
    /// By lane, variable and state: the likelihood of the state.
    own: Vec<Vec<Vec<f64>>>,
}

impl Oracle {
    /// An oracle for the network under the evidence.
    pub fn new(network: &Network, evidence: &Evidence) -> Self {
        let ids: Vec<VariableId> = network.ids().collect();
        let variables = network.variables().to_vec();
        let likelihoods = ids.iter().map(|id| {
            let ones = || vec![1.0; width(&variables, &variables[id.index()])];
            evidence.get(*id).map_or_else(ones, <[f64]>::to_vec)
        });
        Self {
            likelihoods: likelihoods.collect(),
            ids,
            lane: network.lane(),
            variables,
        }
    }

    /// The number of the network that a parameter of a circuit stands for, in one lane.
    pub fn number_mut(&mut self, parameter: &Parameter, lane: usize) -> &mut f64 {
        let variable = &mut self.variables[parameter.variable.index()];
        let numbers = match (&mut variable.distribution, parameter.role) {
            (Distribution::Table(table), Role::Table) => table,
            (Distribution::NoisyMax(noisy), Role::Base) => &mut noisy.base,
            (Distribution::NoisyMax(noisy), Role::Cause(at)) => &mut noisy.causes[at].cumulative,
            (Distribution::NoisyMax(noisy), Role::Hide(at)) => &mut noisy.hides[at].blank,
            (Distribution::Copying(copying), Role::Share) => &mut copying.share,
            (Distribution::Copying(copying), Role::Own) => &mut copying.own,
            (other, role) => panic!("{other:?} has no {role:?}"),
        };
        &mut numbers[parameter.index + lane * parameter.lane_stride]
    }

    /// The exact derivative of one lane's value by one number: the value is linear in it, and so
    /// the derivative is the difference between its values at 1 and at 0. Also a scale for absolute
    /// tolerances, since the contributions to such a derivative have both signs.
    pub fn slope(&self, parameter: &Parameter, lane: usize) -> (f64, f64) {
        let at = |number: f64| {
            let mut changed = self.clone();
            *changed.number_mut(parameter, lane) = number;
            changed.answers().lane_values[lane]
        };
        let (zero, one) = (at(0.0), at(1.0));
        let scale = zero.value().abs() + one.value().abs();
        ((one - zero).value(), scale)
    }

    /// The conditional distribution of a variable by its documented formula: joint states of the
    /// parents, the first slowest, then its own state. Empty for a likelihood variable.
    pub fn distribution(&self, id: VariableId) -> Vec<Twofold> {
        let variable = &self.variables[id.index()];
        let mut rows = Vec::new();
        for parents in joint_states(&self.sizes(&variable.parents)) {
            let state_of = |parent: VariableId| {
                let place = variable.parents.iter().position(|other| *other == parent);
                parents[place.expect("a distribution asks for its parents only")]
            };
            match &variable.distribution {
                Distribution::Table(table) => {
                    let row = rows.len();
                    let row = &table[row..row + variable.states.len()];
                    rows.extend(row.iter().map(|entry| Twofold::from(*entry)));
                }
                Distribution::NoisyMax(noisy) => {
                    rows.extend(self.noisy_max(noisy, variable.states.len(), &state_of));
                }
                Distribution::Copying(copying) => {
                    rows.extend(self.copying(copying, variable, &state_of));
                }
                _ => {}
            }
        }
        rows
    }

    /// `P(state <= l) = 1 - (1 - F_base(l) * prod_k F_k(l)) * prod_k (1 - r_k)` below the top.
    fn noisy_max(
        &self,
        noisy: &NoisyMax,
        states: usize,
        state_of: &impl Fn(VariableId) -> usize,
    ) -> Vec<Twofold> {
        let top = states - 1;
        let base_row = noisy.base_parents.iter().fold(0, |row, parent| {
            row * self.variables[parent.index()].states.len() + state_of(*parent)
        });
        let up_to = |level: usize| {
            if level == top {
                return ONE;
            }
            let mut below = Twofold::from(noisy.base[base_row * top + level]);
            for cause in &noisy.causes {
                let row = state_of(cause.parent) * top;
                below = below * Twofold::from(cause.cumulative[row + level]);
            }
            let mut shown = ONE - below;
            for hide in &noisy.hides {
                shown = shown * (ONE - Twofold::from(hide.blank[state_of(hide.parent)]));
            }
            ONE - shown
        };
        let level = |level: usize| match level {
            0 => up_to(0),
            _ => up_to(level) - up_to(level - 1),
        };
        (0..states).map(level).collect()
    }

    /// `P(x | source = y) = share * [x = y] + (1 - share) * own(x)`.
    fn copying(
        &self,
        copying: &Copying,
        variable: &Variable,
        state_of: &impl Fn(VariableId) -> usize,
    ) -> Vec<Twofold> {
        let by_lane = self.lane.filter(|lane| variable.parents.contains(lane));
        let lane = by_lane.map_or(0, state_of);
        let share = Twofold::from(copying.share[lane]);
        let states = variable.states.len();
        let entry = |x: usize| {
            let same = if x == state_of(copying.source) {
                ONE
            } else {
                ZERO
            };
            share * same + (ONE - share) * Twofold::from(copying.own[lane * states + x])
        };
        (0..states).map(entry).collect()
    }

    fn sizes(&self, ids: &[VariableId]) -> Vec<usize> {
        let states = |id: &VariableId| self.variables[id.index()].states.len();
        ids.iter().map(states).collect()
    }

    /// Goes through all joint states.
    pub fn answers(&self) -> Answers {
        let count = self.variables.len();
        let lane = self.lane.map(VariableId::index);
        let lanes = lane.map_or(1, |lane| self.variables[lane].states.len());
        let rows: Vec<Vec<Twofold>> = self.ids.iter().map(|id| self.distribution(*id)).collect();
        // A likelihood variable has no states; here it has one, without probability or effect.
        let states = self.variables.iter().map(|variable| {
            let own = variable.states.len();
            own.max(1)
        });
        let sizes: Vec<usize> = states.collect();
        let rest = |variable: usize| -> usize {
            let width = self.likelihoods[variable].len();
            let laned = self.variables[variable].states.is_empty()
                && self.variables[variable]
                    .parents
                    .iter()
                    .any(|p| Some(p.index()) == lane);
            if laned { width / lanes } else { width }
        };
        let of_each = || (0..count).map(|v| vec![ZERO; rest(v)]).collect::<Vec<_>>();
        let mut answers = Answers {
            lane,
            lane_priors: lane.map_or(vec![1.0], |lane| {
                rows[lane].iter().map(|p| p.value()).collect()
            }),
            lane_weights: Vec::new(),
            lane_values: vec![ZERO; lanes],
            others: vec![of_each(); lanes],
            own: vec![(0..count).map(|v| vec![1.0; rest(v)]).collect(); lanes],
        };
        answers.lane_weights = answers.lane_priors.clone();
        if let Some(lane) = lane {
            for (weight, likelihood) in answers.lane_weights.iter_mut().zip(&self.likelihoods[lane])
            {
                *weight *= likelihood;
            }
        }
        for joint in joint_states(&sizes) {
            let at = lane.map_or(0, |lane| joint[lane]);
            self.add(&joint, at, lane, &rows, &mut answers);
        }
        answers
    }

    /// Adds one joint state.
    fn add(
        &self,
        joint: &[usize],
        at: usize,
        lane: Option<usize>,
        rows: &[Vec<Twofold>],
        answers: &mut Answers,
    ) {
        let mut chance = ONE;
        // Place among the reported states, likelihood.
        let mut weights = Vec::with_capacity(joint.len());
        for (index, variable) in self.variables.iter().enumerate() {
            let (mut row, mut rest) = (0, 0);
            for parent in &variable.parents {
                let (size, state) = (
                    self.variables[parent.index()].states.len(),
                    joint[parent.index()],
                );
                row = row * size + state;
                if Some(parent.index()) != lane {
                    rest = rest * size + state;
                }
            }
            if variable.states.is_empty() {
                weights.push((rest, self.likelihoods[index][row]));
                continue;
            }
            if Some(index) == lane {
                weights.push((joint[index], 1.0));
                continue;
            }
            chance = chance * rows[index][row * variable.states.len() + joint[index]];
            weights.push((joint[index], self.likelihoods[index][joint[index]]));
        }
        for (index, (state, weight)) in weights.iter().enumerate() {
            answers.own[at][index][*state] = *weight;
        }
        if chance.is_zero() {
            return;
        }
        // Products of all likelihoods but one, from both ends.
        let mut after = vec![ONE; weights.len() + 1];
        for (index, (_, weight)) in weights.iter().enumerate().rev() {
            after[index] = after[index + 1] * Twofold::from(*weight);
        }
        answers.lane_values[at] += chance * after[0];
        let mut before = chance;
        for (index, (state, weight)) in weights.iter().enumerate() {
            answers.others[at][index][*state] += before * after[index + 1];
            before = before * Twofold::from(*weight);
        }
    }
}

impl Answers {
    /// The probability of all evidence.
    pub fn evidence(&self) -> f64 {
        let lanes = self.lane_weights.iter().zip(&self.lane_values);
        lanes.map(|(weight, value)| weight * value.value()).sum()
    }

    /// The probability of one lane's evidence, given the lane and without evidence on it.
    pub fn lane_value(&self, lane: usize) -> f64 {
        self.lane_values[lane].value()
    }

    /// The joint, given one lane, of a state and all evidence but the variable's own (for a
    /// likelihood variable: of a joint state of its parents, the lane variable left out).
    pub fn lane_joint(&self, lane: usize, id: VariableId, state: usize) -> f64 {
        self.others[lane][id.index()][state].value()
    }

    /// The number of states that [`lane_joint`](Self::lane_joint) knows of a variable.
    pub fn states(&self, id: VariableId) -> usize {
        self.others[0][id.index()].len()
    }

    /// The posterior of a variable; `None` when the evidence is impossible.
    pub fn posterior(&self, id: VariableId) -> Option<Vec<f64>> {
        self.normalised(id, true)
    }

    /// The posterior of a variable given all evidence but its own.
    pub fn withdrawn(&self, id: VariableId) -> Option<Vec<f64>> {
        self.normalised(id, false)
    }

    fn normalised(&self, id: VariableId, own_evidence: bool) -> Option<Vec<f64>> {
        let of_lane = |lane: usize| {
            if own_evidence {
                self.lane_weights[lane]
            } else {
                self.lane_priors[lane]
            }
        };
        let joint: Vec<f64> = if Some(id.index()) == self.lane {
            (0..self.lane_values.len())
                .map(|lane| of_lane(lane) * self.lane_value(lane))
                .collect()
        } else {
            let of = |state: usize, lane: usize| {
                let own = if own_evidence {
                    self.own[lane][id.index()][state]
                } else {
                    1.0
                };
                self.lane_weights[lane] * own * self.lane_joint(lane, id, state)
            };
            let lanes = 0..self.lane_values.len();
            (0..self.states(id))
                .map(|state| lanes.clone().map(|lane| of(state, lane)).sum())
                .collect()
        };
        let total: f64 = joint.iter().sum();
        (total > 0.0).then(|| joint.iter().map(|entry| entry / total).collect())
    }
}

/// The length of a variable's likelihood vector.
fn width(variables: &[Variable], variable: &Variable) -> usize {
    if variable.states.is_empty() {
        let states = |id: &VariableId| variables[id.index()].states.len();
        variable.parents.iter().map(states).product()
    } else {
        variable.states.len()
    }
}

/// All joint states of variables of these sizes, the first slowest.
pub fn joint_states(sizes: &[usize]) -> impl Iterator<Item = Vec<usize>> + '_ {
    let count: usize = sizes.iter().product();
    (0..count).map(|number| {
        let mut left = number;
        let mut states: Vec<usize> = sizes
            .iter()
            .rev()
            .map(|size| {
                let state = left % size;
                left /= size;
                state
            })
            .collect();
        states.reverse();
        states
    })
}
