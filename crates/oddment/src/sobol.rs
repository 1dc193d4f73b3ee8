//! Sobol indices: how much of an answer's variance comes from which group of uncertain numbers.
//!
//! Draw all numbers twice, independently: `A` and `B`. For each group take `A` with that group's
//! numbers from `B`. With `f` the answer, `V` its variance and means over all rows:
//!
//! ```text
//! first = mean of (f(B) - f0) (f(A with the group from B) - f(A)) / V
//! total = mean of (f(A) - f(A with the group from B))^2 / (2 V)
//! ```
//!
//! The *first* index is the share of the variance that would go if the group alone were known; the
//! *total* one the share that would stay if all but the group were known. Their difference is what
//! the group does together with others. Sources: A. Saltelli et al., 2010, Variance based sensitivity
//! analysis of model output (the first index; that `f0`, the mean of all answers, is taken off `f(B)`
//! changes nothing in expectation and takes out the noise of a mean far from 0); M. J. W. Jansen,
//! 1999, Analysis of variance designs for model output (the total index). Both formulas from memory,
//! checked against a function whose indices are known.
//!
//! ```
//! use oddment::sobol::{Row, indices};
//! use rand::{RngExt, SeedableRng};
//!
//! // 3 x + y: nine tenths of the variance come from x.
//! let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(1);
//! let answer = |x: f64, y: f64| 3.0 * x + y;
//! let rows: Vec<Row> = (0..2_000)
//!     .map(|_| {
//!         let [x, y, other_x, other_y]: [f64; 4] = rng.random();
//!         Row {
//!             a: answer(x, y),
//!             b: answer(other_x, other_y),
//!             mixed: vec![answer(other_x, y), answer(x, other_y)],
//!         }
//!     })
//!     .collect();
//! let found = indices(&rows, 2, 200, 1);
//! assert!(found[0].total_low < 0.9 && 0.9 < found[0].total_high);
//! ```

use crate::order::sort_numbers;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Mass outside each end of an interval: 5 in 100, so that 90 in 100 lie within.
const TAIL: f64 = 0.05;

/// The answers for one pair of draws.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The answer with all numbers of the first draw, in any unit.
    pub a: f64,
    /// The answer with all numbers of the second draw.
    pub b: f64,
    /// For each group, the answer with the first draw but for that group's numbers, which are of
    /// the second.
    pub mixed: Vec<f64>,
}

/// The indices of one group, with intervals that hold 90 in 100 bootstrap estimates. An estimate may
/// stray a little outside 0 to 1, as estimates do.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Index {
    /// Share of the variance that would go if this group alone were known.
    pub first: f64,
    /// 5 in 100 bootstrap estimates of it lie below.
    pub first_low: f64,
    /// 5 in 100 lie above.
    pub first_high: f64,
    /// Share of the variance that would stay if all but this group were known.
    pub total: f64,
    /// 5 in 100 bootstrap estimates of it lie below.
    pub total_low: f64,
    /// 5 in 100 lie above.
    pub total_high: f64,
}

/// First and total Sobol indices of each of so many groups.
///
/// The intervals come from `bootstrap` resamplings of the rows with replacement (Efron's percentile
/// method, from memory, unverified), drawn from the seed: equal seeds give equal bits. With none, both
/// ends are the estimate. Where the answer does not vary, all is 0. A row that has not one mixed
/// answer for each group, or an answer that is not finite, is left out.
///
/// ```
/// # use oddment::sobol::{Row, indices};
/// let level = vec![Row { a: 2.0, b: 2.0, mixed: vec![2.0] }; 10];
/// assert_eq!(indices(&level, 1, 100, 1)[0].total_high, 0.0);
/// ```
#[must_use]
pub fn indices(rows: &[Row], groups: usize, bootstrap: usize, seed: u64) -> Vec<Index> {
    let rows: Vec<&Row> = rows
        .iter()
        .filter(|row| {
            let mut all = row.mixed.iter().chain([&row.a, &row.b]);
            row.mixed.len() == groups && all.all(|answer| answer.is_finite())
        })
        .collect();
    let estimates = estimate(&rows, groups);
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    // By group: all first indices, all total ones.
    let mut spread = vec![(Vec::new(), Vec::new()); groups];
    let mut sample = Vec::with_capacity(rows.len());
    for _ in 0..if rows.is_empty() { 0 } else { bootstrap } {
        sample.clear();
        let last = rows.len() as u64 - 1;
        sample.extend((0..rows.len()).map(|_| rows[rng.random_range(0..=last) as usize]));
        for (spread, (first, total)) in spread.iter_mut().zip(estimate(&sample, groups)) {
            spread.0.push(first);
            spread.1.push(total);
        }
    }
    estimates
        .into_iter()
        .zip(spread)
        .map(|((first, total), (mut firsts, mut totals))| {
            let (first_low, first_high) = ends(&mut firsts, first);
            let (total_low, total_high) = ends(&mut totals, total);
            Index {
                first,
                first_low,
                first_high,
                total,
                total_low,
                total_high,
            }
        })
        .collect()
}

/// The first and total index of each group.
fn estimate(rows: &[&Row], groups: usize) -> Vec<(f64, f64)> {
    let count = rows.len() as f64;
    let both = |row: &&Row| [row.a, row.b];
    let mean = rows.iter().flat_map(both).sum::<f64>() / (2.0 * count);
    let squares = rows.iter().flat_map(both).map(|answer| {
        let away = answer - mean;
        away * away
    });
    let variance = squares.sum::<f64>() / (2.0 * count);
    // Not a number where there are no rows; rounding of a level answer is no variance either.
    let least = f64::EPSILON * mean.abs();
    if variance.is_nan() || variance <= least * least {
        return vec![(0.0, 0.0); groups];
    }
    (0..groups)
        .map(|group| {
            let (mut first, mut total) = (0.0, 0.0);
            for row in rows {
                let change = row.mixed[group] - row.a;
                first += (row.b - mean) * change;
                total += change * change;
            }
            (first / (count * variance), total / (2.0 * count * variance))
        })
        .collect()
}

/// The two ends between which all but a tail on either side lie, straight between neighbours.
fn ends(estimates: &mut [f64], whole: f64) -> (f64, f64) {
    sort_numbers(estimates);
    let at = |share: f64| {
        let place = share * estimates.len().saturating_sub(1) as f64;
        let (below, along) = (place as usize, place.fract());
        match (estimates.get(below), estimates.get(below + 1)) {
            (Some(low), Some(high)) => low + (high - low) * along,
            (Some(only), None) => *only,
            _ => whole,
        }
    };
    (at(TAIL), at(1.0 - TAIL))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(a: f64, b: f64, mixed: &[f64]) -> Row {
        let mixed = mixed.to_vec();
        Row { a, b, mixed }
    }

    #[test]
    fn by_hand_on_two_rows() {
        // Mean 1.5, variance (2.25 + 2.25 + 0.25 + 0.25) / 4 = 1.25.
        let rows = [row(0.0, 3.0, &[2.0]), row(1.0, 2.0, &[1.0])];
        let found = indices(&rows, 1, 0, 1)[0];
        // First: (1.5 * 2 + 0.5 * 0) / 2 / 1.25. Total: (4 + 0) / 4 / 1.25.
        assert!((found.first - 1.2).abs() < 1e-15 && (found.total - 0.8).abs() < 1e-15);
        assert_eq!(
            (found.first_low, found.total_high),
            (found.first, found.total)
        );
    }

    #[test]
    fn an_answer_that_does_not_vary_has_no_shares() {
        let level = vec![row(0.1 + 0.2, 0.3, &[0.3, 0.1 + 0.2]); 5];
        let nothing = Index {
            first: 0.0,
            first_low: 0.0,
            first_high: 0.0,
            total: 0.0,
            total_low: 0.0,
            total_high: 0.0,
        };
        assert_eq!(indices(&level, 2, 20, 1), [nothing; 2]);
        assert_eq!(indices(&[], 2, 20, 1), [nothing; 2]);
        assert_eq!(indices(&level, 0, 20, 1), []);
    }

    #[test]
    fn rows_that_say_nothing_are_left_out() {
        let mut rows = vec![row(0.0, 3.0, &[2.0]), row(1.0, 2.0, &[1.0])];
        let clean = indices(&rows, 1, 50, 9);
        rows.push(row(f64::NAN, 1.0, &[1.0]));
        rows.push(row(1.0, 5.0, &[]));
        rows.push(row(1.0, 5.0, &[f64::INFINITY]));
        assert_eq!(indices(&rows, 1, 50, 9), clean);
    }
}
