//! The verdicts over a sweep of the prior share that is not original.

use crate::inquiry::{Inquiry, by_verdict};
use crate::leaning::{PriorSweep, SweepPoint, SweepTurn};
use crate::order::sort_numbers;
use crate::pack::VERDICTS;

/// The sweep runs over these shares in 100.
const SHARES: std::ops::RangeInclusive<u32> = 1..=60;

/// How much more a turning point is looked for on either side.
const SIDE: f64 = 1e-6;

impl Inquiry<'_> {
    /// The verdicts as the share not original before any finding is swept, that share divided over
    /// married, converted and faked as in `mix` (as in the case's prior when `None`). No published
    /// base rates exist; this is how much that matters.
    ///
    /// ```text
    /// P(verdict | findings, s) ~ prior(s) * P(findings | verdict),   prior(original) = 1 - s
    /// ```
    pub fn sweep(&self, mix: Option<[f64; 3]>) -> PriorSweep {
        let (before, joint) = (
            by_verdict(self.pack, &self.priors),
            by_verdict(self.pack, &self.joint),
        );
        let here = before[1] + before[2] + before[3];
        let total: f64 = mix.map_or(here, |mix| mix.iter().sum());
        let mix: Vec<f64> = match mix {
            Some(mix) => mix.iter().map(|share| share / total).collect(),
            None if here > 0.0 => before[1..].iter().map(|share| share / here).collect(),
            None => vec![1.0 / 3.0; 3],
        };
        // What each verdict makes of the findings. A verdict that cannot be stays out.
        let likelihood: Vec<f64> = (0..4)
            .map(|v| {
                if before[v] > 0.0 {
                    joint[v] / before[v]
                } else {
                    0.0
                }
            })
            .collect();
        let at = |share: f64| -> Vec<f64> {
            let prior = [1.0 - share, share * mix[0], share * mix[1], share * mix[2]];
            let joint: Vec<f64> = prior.iter().zip(&likelihood).map(|(p, l)| p * l).collect();
            let total: f64 = joint.iter().sum();
            joint.iter().map(|joint| joint / total).collect()
        };
        let best = (1..4)
            .map(|v| mix[v - 1] * likelihood[v])
            .enumerate()
            .max_by(|one, other| one.1.total_cmp(&other.1));
        let mut turns = Vec::new();
        if let Some((place, weight)) = best {
            let turn = likelihood[0] / (likelihood[0] + weight);
            if turn > SIDE && turn < 1.0 - SIDE {
                turns.push(SweepTurn {
                    at: turn,
                    below: VERDICTS[0],
                    above: VERDICTS[place + 1],
                });
            }
        }
        let mut shares: Vec<f64> = SHARES.map(|share| f64::from(share) / 100.0).collect();
        shares.extend(turns.iter().map(|turn| turn.at));
        shares.extend((here > 0.0 && here < 1.0).then_some(here));
        sort_numbers(&mut shares);
        shares.dedup();
        let points = shares
            .into_iter()
            .map(|share| SweepPoint {
                not_original: share,
                verdicts: at(share),
            })
            .collect();
        PriorSweep {
            here,
            mix,
            points,
            turns,
        }
    }
}
