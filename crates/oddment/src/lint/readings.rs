//! Measures of which one reading settles a case, or that tell nothing.

use super::marginal::information;
use super::signs::factor;
use super::{LIKELIHOOD_RATIO_CAP, Notes, Subject, blank_case};
use crate::density::Density;
use crate::examination::expected_density;
use crate::order::sort_by;
use crate::pack::{ExpectedValues, Pack, VERDICTS, Verdict};

/// Cells that the readings of a measure are told apart by.
const CELLS: usize = 60;

/// Readings that settle a case are to be reckoned with when at least this share of those under some
/// verdict do: rarer ones lie in tails that nobody has elicited.
const OFTEN: f64 = 0.01;

/// A measure that is expected to tell less than this of the history, in bits, says nothing.
const LEAST_BITS: f64 = 0.002;

/// How likely a measure's readings are under each history.
struct Readings {
    /// For each history the density in the middle of each cell, incidents summed over.
    rows: Vec<Vec<f64>>,
    /// The width of a cell.
    step: f64,
}

impl Readings {
    /// Sound readings of an ordinary instrument; `None` where no plausible one is expected.
    fn of(pack: &Pack, measure: usize) -> Option<Self> {
        let case = blank_case(pack, [0; 3]);
        let of = &pack.measures[measure];
        let mut densities: Vec<Density> = Vec::new();
        let mut place_of = |expectation| {
            let density = expected_density(&case, pack, &case.numbers, of, expectation);
            let known = densities.iter().position(|other| *other == density);
            known.unwrap_or_else(|| {
                densities.push(density);
                densities.len() - 1
            })
        };
        let overriding: Vec<usize> = of
            .overrides
            .iter()
            .map(|(_, over)| place_of(over))
            .collect();
        let expected: Vec<usize> = of.expectations.iter().map(place_of).collect();
        let (low, high) = range(of.plausible, of.error, &densities)?;
        let step = (high - low) / CELLS as f64;
        let cells: Vec<Vec<f64>> = densities
            .iter()
            .map(|density| {
                (0..CELLS)
                    .map(|cell| {
                        let middle = low + step * (cell as f64 + 0.5);
                        let at = density.density_at(middle, of.error).unwrap_or(0.0);
                        if at.is_finite() { at } else { 0.0 }
                    })
                    .collect()
            })
            .collect();
        let rows = expected.iter().enumerate().map(|(history, expected)| {
            let mut row = vec![0.0; CELLS];
            // The first incident that happened decides.
            let mut left = 1.0;
            let mut add = |place: usize, weight: f64| {
                for (sum, density) in row.iter_mut().zip(&cells[place]) {
                    *sum += weight * density;
                }
            };
            for ((incident, _), place) in of.overrides.iter().zip(&overriding) {
                let rate = pack.number(pack.incidents[*incident].rates[history]);
                add(*place, left * rate);
                left *= 1.0 - rate;
            }
            add(*expected, left);
            row
        });
        Some(Self {
            rows: rows.collect(),
            step,
        })
    }

    /// The density under each verdict that has any odds.
    fn verdicts(&self, subject: &Subject<'_>) -> Vec<(Verdict, Vec<f64>)> {
        let of = |verdict: Verdict| {
            let mut sum = vec![0.0; CELLS];
            let mut odds = 0.0;
            let histories = subject.pack.histories.iter();
            for ((history, row), prior) in histories.zip(&self.rows).zip(&subject.priors) {
                if history.verdict == verdict {
                    odds += prior;
                    for (sum, density) in sum.iter_mut().zip(row) {
                        *sum += prior * density;
                    }
                }
            }
            let mean = sum.iter().map(|sum| sum / odds).collect();
            (odds > 0.0).then_some((verdict, mean))
        };
        VERDICTS.into_iter().filter_map(of).collect()
    }

    /// Share of the readings with one density each of which alone shifts it against another by more
    /// than the cap, and the middle one of those shifts.
    fn settling(&self, one: &[f64], other: &[f64]) -> (f64, f64) {
        let mut ratios: Vec<(f64, f64)> = one
            .iter()
            .zip(other)
            .filter(|(a, b)| **a > LIKELIHOOD_RATIO_CAP * **b)
            .map(|(a, b)| (a / b, a * self.step))
            .collect();
        sort_by(&mut ratios, |one, other| one.0.total_cmp(&other.0));
        let share: f64 = ratios.iter().map(|(_, chance)| chance).sum();
        let mut sum = 0.0;
        let middle = ratios.iter().find(|(_, chance)| {
            sum += chance;
            sum >= 0.5 * share
        });
        (share, middle.map_or(1.0, |(ratio, _)| *ratio))
    }

    /// Chances of the cells, which come to 1.
    fn chances(&self) -> Vec<Vec<f64>> {
        let normalised = |row: &Vec<f64>| {
            let total: f64 = row.iter().sum();
            let share = |density: &f64| {
                if total > 0.0 {
                    density / total
                } else {
                    1.0 / CELLS as f64
                }
            };
            row.iter().map(share).collect()
        };
        self.rows.iter().map(normalised).collect()
    }
}

/// The plausible readings that some history expects.
fn range(plausible: (f64, f64), error: f64, densities: &[Density]) -> Option<(f64, f64)> {
    let ends = densities.iter().filter_map(|density| {
        let at = |share| density.quantile(share).ok();
        Some((at(0.001)? - 3.0 * error, at(0.999)? + 3.0 * error))
    });
    let (low, high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |all, one| {
        (all.0.min(one.0), all.1.max(one.1))
    });
    let (low, high) = (low.max(plausible.0), high.min(plausible.1));
    (low < high).then_some((low, high))
}

pub(super) fn all(subject: &Subject<'_>, notes: &mut Notes) {
    for measure in 0..subject.pack.measures.len() {
        if let Some(readings) = Readings::of(subject.pack, measure) {
            settling(subject, measure, &readings, notes);
            telling(subject, measure, &readings, notes);
        }
    }
}

fn settling(subject: &Subject<'_>, measure: usize, readings: &Readings, notes: &mut Notes) {
    let of = &subject.pack.measures[measure];
    let verdicts = readings.verdicts(subject);
    let mut widest = (0.0, 1.0, [Verdict::Original; 2]);
    for (one, density) in &verdicts {
        for (other, rival) in verdicts.iter().filter(|(other, _)| other != one) {
            let (share, ratio) = readings.settling(density, rival);
            if share > widest.0 {
                widest = (share, ratio, [*one, *other]);
            }
        }
    }
    let (share, ratio, [most, least]) = widest;
    let about = format!("measure/{}", of.id);
    if share >= OFTEN && of.settles.is_none() {
        let message = format!(
            "of 100 pieces that are {}, {:.0} have a reading that by itself shifts the odds \
             against {} by more than {LIKELIHOOD_RATIO_CAP} (as a rule by a factor of {}), so that \
             one reading settles the case; give the densities wider tails (a Student t, or a \
             mixture with a broad part), or argue for it in `settles`",
            most.id(),
            100.0 * share,
            least.id(),
            factor(ratio)
        );
        notes.note("lint/overwhelming", about, message);
    } else if share < OFTEN && of.settles.is_some() {
        let message = format!(
            "`settles` argues for more than it says: readings that shift two verdicts by more than a \
             factor of {LIKELIHOOD_RATIO_CAP} are rarer than 1 in 100 under every verdict; leave \
             it out"
        );
        notes.note("lint/argument", about, message);
    }
}

fn telling(subject: &Subject<'_>, measure: usize, readings: &Readings, notes: &mut Notes) {
    let of = &subject.pack.measures[measure];
    // That it expects the same everywhere is told as such.
    let same = of
        .expectations
        .windows(2)
        .all(|pair| pair[0].values == pair[1].values);
    let movement = matches!(
        of.expectations.first().map(|expected| &expected.values),
        Some(ExpectedValues::Movement(_))
    );
    if same && !movement {
        return;
    }
    let chances = readings.chances();
    let even = vec![1.0 / chances.len() as f64; chances.len()];
    let bits = information(&subject.priors, &chances).max(information(&even, &chances));
    if bits < LEAST_BITS {
        let message = format!(
            "a reading is expected to tell {bits:.5} of a bit about the history, which is nothing: \
             the densities hardly differ beside the instrument's error; let them differ, or leave \
             it out"
        );
        notes.note("lint/says-nothing", format!("measure/{}", of.id), message);
    }
}
