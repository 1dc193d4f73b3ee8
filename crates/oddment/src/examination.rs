//! From what was reported to a likelihood over what is there.

use crate::case::{Case, Outcome, Reading, Sureness, Value, Visit};
use crate::density::{Density, DensityError};
use crate::pack::file::MovementFile;
use crate::pack::{Examination, Expectation, Measure, Pack, Reliability, Sign};
use crate::wood;

/// Chance of each report (second index) at each true level (first index).
///
/// ```text
/// yes/no:  P(found | there) = 1 - e (1 - sensitivity),  P(not found | not there) = 1 - e (1 - specificity)
/// graded:  P(l | l) = 1 - e (1 - exact), the rest shared by the levels beside l
/// poor:    f * P + (1 - f) / levels
/// ```
///
/// where `e` is the examiner's error factor (never worse than chance) and `f` what a poor
/// examination leaves of reliability above chance.
pub fn channel(
    pack: &Pack,
    numbers: &[f64],
    sign: &Sign,
    poor: bool,
    error_factor: f64,
) -> Vec<Vec<f64>> {
    let levels = sign.levels.len();
    let chance = 1.0 / levels as f64;
    let right =
        |id: crate::pack::NumberId| (1.0 - error_factor * (1.0 - numbers[id.index()])).max(chance);
    let mut rows = vec![vec![0.0; levels]; levels];
    match sign.reliability {
        Reliability::YesNo { found, cleared } => {
            let (found, cleared) = (right(found), right(cleared));
            rows[0] = vec![cleared, 1.0 - cleared];
            rows[1] = vec![1.0 - found, found];
        }
        Reliability::Graded { exact } => {
            let exact = right(exact);
            for (level, row) in rows.iter_mut().enumerate() {
                let beside: Vec<usize> = [level.checked_sub(1), Some(level + 1)]
                    .into_iter()
                    .flatten()
                    .filter(|other| *other < levels)
                    .collect();
                row[level] = exact;
                for other in &beside {
                    row[*other] = (1.0 - exact) / beside.len() as f64;
                }
            }
        }
    }
    if poor {
        let keep = numbers[pack.examination.poor_factor.index()];
        for entry in rows.iter_mut().flatten() {
            *entry = keep * *entry + (1.0 - keep) * chance;
        }
    }
    rows
}

/// How much a report of this sureness weighs against an uninformative one.
pub fn sureness_weight(examination: &Examination, sure: Sureness) -> f64 {
    match sure {
        Sureness::Sure => examination.sureness[0],
        Sureness::FairlySure => examination.sureness[1],
        Sureness::Doubtful => examination.sureness[2],
    }
}

/// The likelihood of each true level, given one report.
///
/// ```text
/// lambda_l = w P(report | l) + (1 - w) / levels
/// ```
#[allow(clippy::too_many_arguments)]
pub fn report_likelihood(
    pack: &Pack,
    numbers: &[f64],
    sign: &Sign,
    level: usize,
    sure: Sureness,
    visit: &Visit,
    poor: bool,
) -> Vec<f64> {
    let weight = sureness_weight(&pack.examination, sure);
    let chance = 1.0 / sign.levels.len() as f64;
    channel(pack, numbers, sign, poor, visit.error_factor)
        .iter()
        .map(|row| weight * row[level] + (1.0 - weight) * chance)
        .collect()
}

/// The report opposite to one made: "not there" for any level found, the highest level for
/// "not there".
pub fn opposite(sign: &Sign, level: usize) -> usize {
    if level > 0 { 0 } else { sign.levels.len() - 1 }
}

/// Chance that a visit was poor as a whole.
pub fn poor_chance(pack: &Pack, numbers: &[f64], visit: &Visit) -> f64 {
    visit.poor.unwrap_or(numbers[pack.examination.poor.index()])
}

/// The density that a history expects of a measure, in this case.
pub(crate) fn expected_density(
    case: &Case,
    pack: &Pack,
    measure: &Measure,
    history: usize,
) -> Density {
    match &measure.expectations[history] {
        Expectation::Density(density) => density.clone(),
        Expectation::Movement(movement) => {
            let part = &pack.parts[measure.part].id;
            let timber = case.file.piece.timber.get(part);
            let (low, high) = match timber.and_then(|timber| {
                let species = wood::species(&timber.species).ok()?;
                Some(wood::coefficient_range(species, timber.cut))
            }) {
                Some(range) => range,
                // Timber not stated: whatever the table holds.
                None => wood::SPECIES
                    .iter()
                    .map(|species| wood::coefficient_range(species, wood::Cut::Unknown))
                    .fold((f64::INFINITY, 0.0), |all, one| {
                        (all.0.min(one.0), f64::max(all.1, one.1))
                    }),
            };
            movement_density(movement, low, high)
        }
    }
}

/// Movement across the grain as a normal density in mm per m.
///
/// ```text
/// mean = 1000 C dM + set
/// var  = (1000 C s)^2 + (1000 dM r)^2 / 12 + sd^2
/// ```
///
/// where `C` is the middle and `r` the width of the range that published coefficients leave, `dM`
/// the mean fall in moisture and `s` its standard deviation.
fn movement_density(movement: &MovementFile, low: f64, high: f64) -> Density {
    let middle = 1000.0 * 0.5 * (low + high);
    let width = 1000.0 * (high - low) * movement.moisture_fall;
    let spread = middle * movement.moisture_fall_sd;
    let variance = spread * spread + width * width / 12.0 + movement.sd * movement.sd;
    Density::Normal {
        mean: middle * movement.moisture_fall + movement.set,
        sd: variance.sqrt(),
    }
}

/// The likelihood of a reading under one density, by the quality of the visit.
pub(crate) fn reading_likelihood(
    pack: &Pack,
    density: &Density,
    reading: &Reading,
    poor: bool,
) -> Result<f64, DensityError> {
    let factor = if poor {
        pack.examination.poor_instrument
    } else {
        1.0
    };
    let error = reading.error * factor;
    match reading.value {
        Value::Exactly(value) => density.density_at(value, error),
        Value::Between(low, high) => density.probability_between(low, high, error),
    }
}

/// Whether a finding says anything.
pub(crate) fn reported(outcome: Outcome) -> Option<(usize, Sureness)> {
    match outcome {
        Outcome::Reported { level, sure } => Some((level, sure)),
        Outcome::NotLooked | Outcome::NoAccess => None,
    }
}
