//! From what was reported to a likelihood over what is there.

use crate::case::{Case, Outcome, Reading, Sureness, Value, Visit};
use crate::density::{Density, DensityError};
use crate::formula::{Arithmetic, Plain};
use crate::pack::file::MovementFile;
use crate::pack::{
    Domain, Examination, Expectation, ExpectedValues, Measure, NumberId, Pack, Reliability, Sign,
};
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
    channel_in(&mut Plain(numbers), pack, sign, poor, error_factor)
}

fn channel_in<A: Arithmetic>(
    a: &mut A,
    pack: &Pack,
    sign: &Sign,
    poor: bool,
    error_factor: f64,
) -> Vec<Vec<A::Value>> {
    let levels = sign.levels.len();
    let chance = 1.0 / levels as f64;
    // 1 - e (1 - n), never worse than chance.
    let right = |a: &mut A, id: NumberId| {
        let number = a.number(id);
        let right = if error_factor == 1.0 {
            number
        } else {
            let wrong = a.rest(number);
            let factor = a.constant(error_factor);
            let wrong = a.times(factor, wrong);
            a.rest(wrong)
        };
        a.at_least(right, chance)
    };
    let nothing = a.constant(0.0);
    let mut rows = vec![vec![nothing; levels]; levels];
    match sign.reliability {
        Reliability::YesNo { found, cleared } => {
            let (found, cleared) = (right(a, found), right(a, cleared));
            rows[0] = vec![cleared, a.rest(cleared)];
            rows[1] = vec![a.rest(found), found];
        }
        Reliability::Graded { exact } => {
            let exact = right(a, exact);
            let wrong = a.rest(exact);
            for (level, row) in rows.iter_mut().enumerate() {
                let beside: Vec<usize> = [level.checked_sub(1), Some(level + 1)]
                    .into_iter()
                    .flatten()
                    .filter(|other| *other < levels)
                    .collect();
                row[level] = exact;
                let share = a.constant(1.0 / beside.len() as f64);
                for other in &beside {
                    row[*other] = a.times(wrong, share);
                }
            }
        }
    }
    if poor {
        let keep = a.number(pack.examination.poor_factor);
        for entry in rows.iter_mut().flatten() {
            *entry = diluted(a, *entry, keep, chance);
        }
    }
    rows
}

/// `weight * entry + (1 - weight) * chance`.
fn diluted<A: Arithmetic>(a: &mut A, entry: A::Value, weight: A::Value, chance: f64) -> A::Value {
    let kept = a.times(weight, entry);
    let lost = a.rest(weight);
    let chance = a.constant(chance);
    let lost = a.times(lost, chance);
    a.plus(kept, lost)
}

/// How much a report of this sureness weighs against an uninformative one.
pub fn sureness_weight(examination: &Examination, numbers: &[f64], sure: Sureness) -> f64 {
    numbers[sureness_number(examination, sure).index()]
}

fn sureness_number(examination: &Examination, sure: Sureness) -> NumberId {
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
    report_in(&mut Plain(numbers), pack, sign, (level, sure), visit, poor)
}

/// [`report_likelihood`] in any arithmetic.
pub(crate) fn report_in<A: Arithmetic>(
    a: &mut A,
    pack: &Pack,
    sign: &Sign,
    (level, sure): (usize, Sureness),
    visit: &Visit,
    poor: bool,
) -> Vec<A::Value> {
    let weight = a.number(sureness_number(&pack.examination, sure));
    let chance = 1.0 / sign.levels.len() as f64;
    let rows = channel_in(a, pack, sign, poor, visit.error_factor);
    rows.iter()
        .map(|row| diluted(a, row[level], weight, chance))
        .collect()
}

/// The report opposite to one made: "not there" for any level found, the highest level for
/// "not there".
pub fn opposite(sign: &Sign, level: usize) -> usize {
    if level > 0 { 0 } else { sign.levels.len() - 1 }
}

/// Chance that a visit was poor as a whole.
pub fn poor_chance(pack: &Pack, numbers: &[f64], visit: &Visit) -> f64 {
    poor_in(&mut Plain(numbers), pack, visit)
}

/// [`poor_chance`] in any arithmetic.
pub(crate) fn poor_in<A: Arithmetic>(a: &mut A, pack: &Pack, visit: &Visit) -> A::Value {
    match visit.poor {
        Some(poor) => a.constant(poor),
        None => a.number(pack.examination.poor),
    }
}

/// The density expected of a measure in this case, with these numbers.
pub(crate) fn expected_density(
    case: &Case,
    pack: &Pack,
    numbers: &[f64],
    measure: &Measure,
    expectation: &Expectation,
) -> Density {
    let density = match &expectation.values {
        ExpectedValues::Density(density) => density.clone(),
        ExpectedValues::Movement(movement) => {
            let part = &pack.parts[measure.part].id;
            let timber = case.file.piece.timber.get(part);
            match timber.and_then(|timber| {
                let species = wood::species(&timber.species).ok()?;
                Some(wood::coefficient_range(species, timber.cut))
            }) {
                Some((low, high)) => movement_density(movement, low, high),
                None => any_movement(movement),
            }
        }
    };
    let by = numbers[expectation.moved.index()];
    match pack.numbers[expectation.moved.index()].domain {
        Domain::Shift { .. } if by != 0.0 => density.shifted(by),
        Domain::Stretch if by != 1.0 => density.stretched(by),
        _ => density,
    }
}

/// Movement of timber that is not stated: whatever the table holds.
pub(crate) fn any_movement(movement: &MovementFile) -> Density {
    let (low, high) = wood::SPECIES
        .iter()
        .map(|species| wood::coefficient_range(species, wood::Cut::Unknown))
        .fold((f64::INFINITY, 0.0), |all, one| {
            (all.0.min(one.0), f64::max(all.1, one.1))
        });
    movement_density(movement, low, high)
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

/// The likelihood of a reading under one density, the instrument erring by so much.
pub(crate) fn reading_likelihood(
    density: &Density,
    reading: &Reading,
    error: f64,
) -> Result<f64, DensityError> {
    match reading.value {
        Value::Exactly(value) => density.density_at(value, error),
        Value::Between(low, high) => density.probability_between(low, high, error),
    }
}

/// How much larger an instrument's error is than in an ordinary hand.
pub(crate) fn instrument_factor(pack: &Pack, numbers: &[f64], poor: bool) -> f64 {
    if poor {
        numbers[pack.examination.poor_instrument.index()]
    } else {
        1.0
    }
}

/// Whether a finding says anything.
pub(crate) fn reported(outcome: Outcome) -> Option<(usize, Sureness)> {
    match outcome {
        Outcome::Reported { level, sure } => Some((level, sure)),
        Outcome::NotLooked | Outcome::NoAccess => None,
    }
}
