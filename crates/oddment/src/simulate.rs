//! Drawing pieces from the model: a history, what befell the piece, and what an examiner would
//! report of it.

use crate::case::{Case, Outcome, Reading, Value};
use crate::examination::{
    channel, expected_density, instrument_factor, poor_chance, sureness_weight,
};
use crate::model::Model;
use crate::pack::Pack;
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
    /// Draws a piece: its history from the given priors, everything else from the model, given the
    /// incidents known of the case (see [`Case::known`]).
    pub fn draw_piece(&self, priors: &[f64], known: &[(usize, bool)], rng: &mut impl Rng) -> Piece {
        let network = &self.network;
        let incident = |index: usize| self.incidents[index];
        let weights: Vec<f64> = priors
            .iter()
            .enumerate()
            .map(|(history, prior)| {
                let rates = known.iter().map(|(index, happened)| {
                    network.row(incident(*index), |_| history)[usize::from(*happened)]
                });
                prior * rates.product::<f64>()
            })
            .collect();
        let history = draw(&weights, rng);
        let mut states = vec![0; network.variables().len()];
        states[self.history.index()] = history;
        for (index, happened) in known {
            states[incident(*index).index()] = usize::from(*happened);
        }
        // Parents are declared before their children.
        for id in network.ids() {
            let given = id == self.history || known.iter().any(|(index, _)| incident(*index) == id);
            if given {
                continue;
            }
            let row = network.row(id, |parent| states[parent.index()]);
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
            let weight = sureness_weight(&pack.examination, &case.numbers, *sure);
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
    let expectation = overriding.map_or(&measure.expectations[piece.history], |(_, over)| over);
    let density = expected_density(case, pack, &case.numbers, measure, expectation);
    let truth = density.quantile(rng.random::<f64>()).unwrap_or(f64::NAN);
    let factor = instrument_factor(pack, &case.numbers, poor);
    let noise = crate::draw::standard_normal(rng);
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
