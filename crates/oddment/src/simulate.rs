//! Drawing pieces from the model: a history, what befell the piece, and what an examiner would
//! report of it.

use crate::case::{Case, Outcome, Reading, Value};
use crate::examination::{channel, expected_density, poor_chance, sureness_weight};
use crate::model::Model;
use crate::pack::Pack;
use oddment_circuit::{Distribution, VariableId};
use rand::{Rng, RngExt};

/// A piece drawn from the model: the state of every variable of its network.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Index of its history.
    pub history: usize,
    /// State of each variable of the model's network, 0 for measures.
    pub states: Vec<usize>,
}

/// Draws an index with probability proportional to its weight.
pub(crate) fn draw(weights: &[f64], rng: &mut impl Rng) -> usize {
    let total: f64 = weights.iter().sum();
    let mut left = rng.random::<f64>() * total;
    for (index, weight) in weights.iter().enumerate() {
        if left < *weight {
            return index;
        }
        left -= weight;
    }
    // Rounding can leave a sliver: the last index with any weight takes it.
    weights
        .iter()
        .rposition(|weight| *weight > 0.0)
        .unwrap_or(0)
}

impl Model {
    /// Draws a piece: its history from the given priors, everything else from the model.
    pub fn draw_piece(&self, priors: &[f64], rng: &mut impl Rng) -> Piece {
        let network = &self.network;
        let history = draw(priors, rng);
        let mut states = vec![0; network.variables().len()];
        states[self.history.index()] = history;
        // Parents are declared before their children.
        for id in network.ids() {
            if id == self.history {
                continue;
            }
            let row = self.row(id, &states);
            if !row.is_empty() {
                states[id.index()] = draw(&row, rng);
            }
        }
        Piece { history, states }
    }

    /// A case with the same visits, looked at in the same places with the same sureness, but with what
    /// would be reported of this piece.
    pub fn report(&self, pack: &Pack, case: &Case, piece: &Piece, rng: &mut impl Rng) -> Case {
        let mut simulated = case.clone();
        let poor: Vec<bool> = case
            .visits
            .iter()
            .map(|visit| rng.random::<f64>() < poor_chance(pack, &case.numbers, visit))
            .collect();
        for finding in &mut simulated.findings {
            let Outcome::Reported { level, sure } = &mut finding.outcome else {
                continue;
            };
            let sign = &pack.signs[finding.sign];
            let Some(leaf) = self
                .leaves
                .iter()
                .find(|l| l.sign == finding.sign && l.part == finding.part)
            else {
                continue;
            };
            let visit = &case.visits[finding.visit];
            let rows = channel(
                pack,
                &case.numbers,
                sign,
                poor[finding.visit],
                visit.error_factor,
            );
            let weight = sureness_weight(&pack.examination, *sure);
            let chance = 1.0 / sign.levels.len() as f64;
            let truth = piece.states[leaf.variable.index()];
            let row: Vec<f64> = rows[truth]
                .iter()
                .map(|right| weight * right + (1.0 - weight) * chance)
                .collect();
            *level = draw(&row, rng);
        }
        for reading in &mut simulated.readings {
            reading.value =
                simulated_value(pack, self, case, piece, reading, poor[reading.visit], rng);
        }
        simulated
    }

    /// The distribution of one variable given its parents' states.
    fn row(&self, id: VariableId, states: &[usize]) -> Vec<f64> {
        let network = &self.network;
        let variable = network.variable(id);
        let own = variable.states.len();
        let place = |parents: &[VariableId]| {
            parents.iter().fold(0, |index, parent| {
                index * network.variable(*parent).states.len() + states[parent.index()]
            })
        };
        match &variable.distribution {
            Distribution::Table(table) => {
                let row = place(&variable.parents);
                table[row * own..(row + 1) * own].to_vec()
            }
            Distribution::Copying(copying) => {
                let lane = states[self.history.index()];
                let share = copying.share[if copying.share.len() > 1 { lane } else { 0 }];
                let row = if copying.own.len() > own { lane } else { 0 };
                let source = states[copying.source.index()];
                let own_row = &copying.own[row * own..(row + 1) * own];
                own_row
                    .iter()
                    .enumerate()
                    .map(|(state, chance)| {
                        let taken = if state == source { share } else { 0.0 };
                        taken + (1.0 - share) * chance
                    })
                    .collect()
            }
            Distribution::NoisyMax(noisy) => {
                let levels = own - 1;
                let row = place(&noisy.base_parents);
                let keep: f64 = noisy
                    .hides
                    .iter()
                    .map(|hide| 1.0 - hide.blank[states[hide.parent.index()]])
                    .product();
                let mut below = 0.0;
                (0..own)
                    .map(|level| {
                        let upto = if level == levels {
                            1.0
                        } else {
                            let base = noisy.base[row * levels + level];
                            noisy.causes.iter().fold(base, |product, cause| {
                                let state = states[cause.parent.index()];
                                product * cause.cumulative[state * levels + level]
                            })
                        };
                        let hidden = if level == 0 { 1.0 - keep } else { 0.0 };
                        let chance = hidden + keep * (upto - below);
                        below = upto;
                        chance
                    })
                    .collect()
            }
            _ => Vec::new(),
        }
    }
}

/// What an instrument would read. A reading known only within bounds is simulated as falling within
/// them or not.
fn simulated_value(
    pack: &Pack,
    model: &Model,
    case: &Case,
    piece: &Piece,
    reading: &Reading,
    poor: bool,
    rng: &mut impl Rng,
) -> Value {
    let measure = &pack.measures[reading.measure];
    let overriding = measure
        .overrides
        .iter()
        .find(|(incident, _)| piece.states[model.incidents[*incident].index()] == 1);
    let density = match overriding {
        Some((_, density)) => density.clone(),
        None => expected_density(case, pack, measure, piece.history),
    };
    let truth = density.quantile(rng.random::<f64>()).unwrap_or(f64::NAN);
    let factor = if poor {
        pack.examination.poor_instrument
    } else {
        1.0
    };
    let noise: f64 = rng.sample(rand_distr::StandardNormal);
    let read = truth + reading.error * factor * noise;
    match reading.value {
        Value::Exactly(old) => Value::Exactly(if read.is_finite() { read } else { old }),
        Value::Between(low, high) => {
            let within = low.is_none_or(|low| read > low) && high.is_none_or(|high| read < high);
            match (within, low, high) {
                (true, _, _) => Value::Between(low, high),
                (false, Some(low), _) if read <= low => Value::Between(None, Some(low)),
                (false, _, high) => Value::Between(high, None),
            }
        }
    }
}
