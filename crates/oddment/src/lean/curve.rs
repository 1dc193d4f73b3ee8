//! The verdicts as functions of one number.

use crate::inquiry::leading;
use crate::leaning::{Curve, CurvePiece, Flip};
use crate::order::{sort_by, sort_numbers};
use crate::pack::Verdict;

/// Joints of the verdicts with the evidence as polynomials in t, between two values of t.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub from: f64,
    pub to: f64,
    /// For each verdict its coefficients, the constant first.
    pub joint: [Vec<f64>; 4],
}

/// Joints of the verdicts over values of t, rising.
#[derive(Debug, Clone)]
pub(super) enum Verdicts {
    Pieces(Vec<Piece>),
    Points(Vec<(f64, [f64; 4])>),
}

/// What must go on holding.
#[derive(Debug, Clone, Copy)]
pub(super) enum Keep {
    /// This verdict leads.
    Leads(usize),
    /// Its probability is at least this.
    AtLeast(usize, f64),
    /// Its probability is at most this.
    AtMost(usize, f64),
}

impl Keep {
    /// Above zero while it holds.
    fn margin(self, joint: &[f64; 4]) -> f64 {
        let total: f64 = joint.iter().sum();
        match self {
            Self::Leads(verdict) => {
                let others = joint.iter().enumerate().filter(|(v, _)| *v != verdict);
                let best = others.map(|(_, joint)| *joint).fold(0.0, f64::max);
                (joint[verdict] - best) / total
            }
            Self::AtLeast(verdict, threshold) => joint[verdict] / total - threshold,
            Self::AtMost(verdict, threshold) => threshold - joint[verdict] / total,
        }
    }

    /// The verdict that leads where it no longer holds.
    fn beyond(self, joint: &[f64; 4]) -> Verdict {
        match self {
            Self::Leads(verdict) => {
                let mut others = *joint;
                others[verdict] = f64::NEG_INFINITY;
                leading(&others)
            }
            Self::AtLeast(..) | Self::AtMost(..) => leading(joint),
        }
    }
}

fn polynomial(coefficients: &[f64], t: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * t + c)
}

impl Piece {
    pub fn at(&self, t: f64) -> [f64; 4] {
        [0, 1, 2, 3].map(|verdict| polynomial(&self.joint[verdict], t))
    }

    /// The piece through values at as many places as there are coefficients.
    pub fn through(from: f64, to: f64, values: &[(f64, [f64; 4])]) -> Self {
        let joint = [0, 1, 2, 3].map(|verdict| {
            let points: Vec<(f64, f64)> = values.iter().map(|(t, j)| (*t, j[verdict])).collect();
            interpolate(&points)
        });
        Self { from, to, joint }
    }
}

/// Coefficients of the polynomial through some points, by Newton's divided differences.
fn interpolate(points: &[(f64, f64)]) -> Vec<f64> {
    let mut differences: Vec<f64> = points.iter().map(|point| point.1).collect();
    for order in 1..points.len() {
        for place in (order..points.len()).rev() {
            let width = points[place].0 - points[place - order].0;
            differences[place] = (differences[place] - differences[place - 1]) / width;
        }
    }
    // Horner's rule on the Newton form, the coefficients multiplied out.
    let mut coefficients = vec![0.0; points.len()];
    for place in (0..points.len()).rev() {
        for power in (1..points.len()).rev() {
            coefficients[power] = coefficients[power - 1] - points[place].0 * coefficients[power];
        }
        coefficients[0] = differences[place] - points[place].0 * coefficients[0];
    }
    coefficients
}

/// Where to take values for a polynomial of a degree: the zeros of Chebyshev's polynomial, which
/// keep the interpolation steady.
pub(super) fn places(degree: usize, from: f64, to: f64) -> Vec<f64> {
    let count = degree + 1;
    (0..count)
        .map(|place| {
            let angle = std::f64::consts::PI * (place as f64 + 0.5) / count as f64;
            0.5 * (from + to) - 0.5 * (to - from) * libm::cos(angle)
        })
        .collect()
}

/// How finely a curve is searched for places where something stops to hold.
const SEARCHED: usize = 32;

impl Verdicts {
    pub fn at(&self, t: f64) -> [f64; 4] {
        match self {
            Self::Pieces(pieces) => {
                let last = pieces.len().saturating_sub(1);
                let piece = pieces
                    .iter()
                    .position(|piece| t <= piece.to)
                    .unwrap_or(last);
                pieces.get(piece).map_or([0.25; 4], |piece| piece.at(t))
            }
            Self::Points(points) => {
                let after = points
                    .partition_point(|point| point.0 <= t)
                    .clamp(1, points.len() - 1);
                let (one, other) = (&points[after - 1], &points[after]);
                let along = ((t - one.0) / (other.0 - one.0)).clamp(0.0, 1.0);
                [0, 1, 2, 3].map(|v| one.1[v] + along * (other.1[v] - one.1[v]))
            }
        }
    }

    /// The probability of one verdict.
    pub fn share(&self, verdict: usize, t: f64) -> f64 {
        let joint = self.at(t);
        joint[verdict] / joint.iter().sum::<f64>()
    }

    fn ends(&self) -> Vec<f64> {
        match self {
            Self::Pieces(pieces) => pieces.iter().flat_map(|p| [p.from, p.to]).collect(),
            Self::Points(points) => points.iter().map(|point| point.0).collect(),
        }
    }

    /// How far down and up it was computed.
    pub fn reach(&self) -> (f64, f64) {
        let ends = self.ends();
        let (first, last) = (ends.first(), ends.last());
        (
            first.copied().unwrap_or_default(),
            last.copied().unwrap_or_default(),
        )
    }

    /// Where it stops to hold nearest to 0, below and above.
    pub fn stops(&self, keep: Keep) -> [Option<(f64, Verdict)>; 2] {
        let mut places = self.ends();
        places.push(0.0);
        sort_numbers(&mut places);
        places.dedup();
        let straight = matches!(self, Self::Points(_))
            || matches!(self, Self::Pieces(p) if p.iter().all(|p| p.joint[0].len() <= 2));
        let mut fine = Vec::new();
        for pair in places.windows(2) {
            // What is straight on a piece cannot stop to hold and hold again within it.
            let steps = if straight { 1 } else { SEARCHED };
            fine.extend(
                (0..steps).map(|step| pair[0] + (pair[1] - pair[0]) * step as f64 / steps as f64),
            );
        }
        fine.extend(places.last());
        let above: Vec<f64> = fine.iter().copied().filter(|t| *t >= 0.0).collect();
        let below: Vec<f64> = fine.iter().rev().copied().filter(|t| *t <= 0.0).collect();
        [below, above].map(|places| {
            let pair = places.windows(2).find(|pair| {
                keep.margin(&self.at(pair[0])) >= 0.0 && keep.margin(&self.at(pair[1])) < 0.0
            })?;
            let (mut holds, mut fails) = (pair[0], pair[1]);
            for _ in 0..60 {
                let middle = 0.5 * (holds + fails);
                if keep.margin(&self.at(middle)) >= 0.0 {
                    holds = middle;
                } else {
                    fails = middle;
                }
            }
            Some((holds, keep.beyond(&self.at(fails))))
        })
    }

    /// For people: the probability of one verdict, t counted from `value`.
    pub fn curve(&self, verdict: usize, value: f64) -> Curve {
        match self {
            Self::Pieces(pieces) => Curve::Exact {
                pieces: pieces
                    .iter()
                    .map(|piece| {
                        let length = piece.joint[0].len();
                        let sum = |power| piece.joint.iter().map(|joint| joint[power]).sum();
                        CurvePiece {
                            from: value + piece.from,
                            to: value + piece.to,
                            numerator: piece.joint[verdict].clone(),
                            denominator: (0..length).map(sum).collect(),
                        }
                    })
                    .collect(),
            },
            Self::Points(points) => Curve::Points {
                points: points
                    .iter()
                    .map(|(t, joint)| {
                        let total: f64 = joint.iter().sum();
                        (value + t, joint[verdict] / total)
                    })
                    .collect(),
            },
        }
    }

    /// For people: where it stops to hold, t counted from `value`, the nearest first.
    pub fn flips(&self, keep: Keep, value: f64) -> Vec<Flip> {
        let [below, above] = self.stops(keep);
        let below = below.map(|(t, leads)| (t, false, leads));
        let above = above.map(|(t, leads)| (t, true, leads));
        let mut flips: Vec<(f64, bool, Verdict)> = below.into_iter().chain(above).collect();
        sort_by(&mut flips, |one, other| {
            one.0.abs().total_cmp(&other.0.abs())
        });
        flips
            .into_iter()
            .map(|(t, above, leads)| Flip {
                at: value + t,
                above,
                leads,
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn interpolation_gives_back_a_polynomial() {
        let want = [2.0, -1.0, 0.5, 3.0];
        let points: Vec<(f64, f64)> = places(3, -0.4, 1.1)
            .into_iter()
            .map(|t| (t, polynomial(&want, t)))
            .collect();
        for (have, want) in interpolate(&points).iter().zip(want) {
            assert!((have - want).abs() < 1e-12, "{have} {want}");
        }
    }

    #[test]
    fn a_verdict_stops_to_lead_where_two_lines_cross() {
        let piece = Piece {
            from: -1.0,
            to: 1.0,
            joint: [
                vec![0.6, -0.5],
                vec![0.1, 0.9],
                vec![0.0, 0.0],
                vec![0.05, 0.0],
            ],
        };
        let verdicts = Verdicts::Pieces(vec![piece]);
        let [below, above] = verdicts.stops(Keep::Leads(0));
        assert!(below.is_none());
        let (at, leads) = above.unwrap_or((f64::NAN, Verdict::Faked));
        // 0.6 - 0.5 t = 0.1 + 0.9 t
        assert!((at - 0.5 / 1.4).abs() < 1e-12, "{at}");
        assert_eq!(leads, Verdict::Married);
    }
}
