//! Lowest and highest probability with every number moving within its range at once.

use super::{Leaner, verdict_places};
use crate::inquiry::by_verdict;
use crate::leaning::RobustBounds;
use crate::order::sort_by;
use crate::pack::NumberId;
use crate::workings::Slopes;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Starts beside the one from the numbers as they are.
const RESTARTS: u64 = 1;

/// Rounds of one ascent at most.
const ROUNDS: usize = 12;

/// Log-odds gained in a round below which an ascent ends.
const ENOUGH: f64 = 1e-6;

impl Leaner<'_> {
    /// The bounds found for each verdict. Where everything else stands still the log-odds of a
    /// verdict rise or fall all the way along each number, so that the highest is sought with every
    /// number at an end of its range: all are moved to the end their slope points to, fewer of them
    /// where that went too far, until nothing rises any more.
    pub(super) fn bounds(&mut self) -> Vec<RobustBounds> {
        let workings = self.workings;
        let (pack, numbers) = (workings.pack, &workings.case.numbers);
        let ranges: Vec<(NumberId, f64, f64)> = workings
            .numbers()
            .iter()
            .map(|id| {
                let (low, high) = workings.spreads.range(pack, *id, numbers);
                (*id, low, high)
            })
            .filter(|(_, low, high)| high > low)
            .collect();
        verdict_places()
            .map(|(place, verdict)| {
                let share = |log_odds: f64| 1.0 / (1.0 + libm::exp(-log_odds));
                let highest = self.climb(place, 1.0, &ranges);
                let lowest = self.climb(place, -1.0, &ranges);
                RobustBounds {
                    verdict,
                    low: share(-lowest),
                    high: share(highest),
                }
            })
            .collect()
    }

    /// The highest log-odds of a verdict (of its opposite, for a sign of -1) found.
    fn climb(&mut self, verdict: usize, sign: f64, ranges: &[(NumberId, f64, f64)]) -> f64 {
        let mut best = f64::NEG_INFINITY;
        for start in 0..=RESTARTS {
            let mut numbers = self.workings.case.numbers.clone();
            if start > 0 {
                let mut rng = ChaCha8Rng::seed_from_u64(start);
                for (id, low, high) in ranges {
                    numbers[id.index()] = if rng.random::<bool>() { *low } else { *high };
                }
            }
            best = best.max(self.ascent(verdict, sign, ranges, numbers));
        }
        best
    }

    fn ascent(
        &mut self,
        verdict: usize,
        sign: f64,
        ranges: &[(NumberId, f64, f64)],
        mut numbers: Vec<f64>,
    ) -> f64 {
        let mut slopes = self.workings.slopes(&mut self.desk, &numbers);
        let mut height = sign * log_odds(&slopes.joint, verdict);
        for _ in 0..ROUNDS {
            // What each number promises at the end its slope points to.
            let mut steps: Vec<(f64, NumberId, f64)> = ranges
                .iter()
                .filter_map(|(id, low, high)| {
                    let slope = sign * log_odds_slope(&slopes, verdict, *id);
                    let end = if slope > 0.0 { *high } else { *low };
                    let promise = slope * (end - numbers[id.index()]);
                    (promise > 0.0).then_some((promise, *id, end))
                })
                .collect();
            sort_by(&mut steps, |one, other| other.0.total_cmp(&one.0));
            let mut take = steps.len();
            let mut risen = false;
            while take > 0 {
                let mut tried = numbers.clone();
                for (_, id, end) in &steps[..take] {
                    tried[id.index()] = *end;
                }
                let joint = self.workings.histories(&mut self.desk, &tried);
                let joint = by_verdict(self.workings.pack, &joint);
                let now = sign * log_odds(&joint, verdict);
                if now > height + ENOUGH {
                    (numbers, height, risen) = (tried, now, true);
                    break;
                }
                take /= 2;
            }
            if !risen {
                break;
            }
            slopes = self.workings.slopes(&mut self.desk, &numbers);
        }
        height
    }
}

fn log_odds(joint: &[f64; 4], verdict: usize) -> f64 {
    let others = (0..4).filter(|other| *other != verdict);
    libm::log(joint[verdict]) - libm::log(others.map(|other| joint[other]).sum())
}

fn log_odds_slope(slopes: &Slopes, verdict: usize, id: NumberId) -> f64 {
    let (joint, by) = (&slopes.joint, &slopes.by);
    let (mut others, mut others_by) = (0.0, 0.0);
    for other in (0..4).filter(|other| *other != verdict) {
        others += joint[other];
        others_by += by[other][id.index()];
    }
    by[verdict][id.index()] / joint[verdict] - others_by / others
}
