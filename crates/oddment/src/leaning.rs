//! How far the answer hangs on which numbers, and on whose.

use crate::assessment::{PackStamp, PieceSummary};
use crate::pack::Verdict;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The `schema` field of a leaning.
pub const LEANING_SCHEMA: &str = "oddment/leaning/1";

/// How far a verdict hangs on the elicited numbers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Leaning {
    /// Always `oddment/leaning/1`.
    pub schema: String,
    /// Version of the engine.
    pub engine: String,
    /// The pack it rests on.
    pub pack: PackStamp,
    /// The piece, as claimed.
    pub piece: PieceSummary,
    /// The verdict whose probability is looked at: the leading one unless another was asked for.
    pub verdict: Verdict,
    /// Its probability.
    pub probability: f64,
    /// The verdict that leads.
    pub leading: Verdict,
    /// The probability whose side it should stay on, if one was asked for; otherwise what must hold is
    /// that the leading verdict goes on leading.
    pub threshold: Option<f64>,
    /// Every number that matters here, the widest swing over its own 90 % range first.
    pub numbers: Vec<NumberLeaning>,
    /// How many numbers of the pack do not matter to this case at all. How much worse instruments
    /// are in a poor examination is counted here too: it is not leaned on, though with readings it
    /// moves the answer a little.
    pub unmoved: usize,
    /// Lowest and highest probability when every number may move within its range at once.
    pub bounds: Vec<RobustBounds>,
    /// The verdicts over a sweep of the prior.
    pub sweep: PriorSweep,
    /// Two numbers moved together, if asked.
    pub grid: Option<TwoWayGrid>,
    /// Several opinions pooled, if asked.
    pub pool: Option<Pool>,
    /// What this is not.
    pub limits: String,
}

/// How far the probability hangs on one number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NumberLeaning {
    /// Id of the number.
    pub id: String,
    /// What the number says, in the pack's own words.
    pub words: String,
    /// The unit its values are told in.
    pub unit: NumberUnit,
    /// Its value in this case.
    pub value: f64,
    /// Its own 90 % range: 5 in 100 are below.
    pub low: f64,
    /// 5 in 100 are above.
    pub high: f64,
    /// Equivalent sample size.
    pub strength: f64,
    /// Id of its source.
    pub source: String,
    /// The probability as a function of the number, everything else as it is.
    pub curve: Curve,
    /// Slope of the curve at the value.
    pub slope: f64,
    /// The probability at the low end of the range.
    pub at_low: f64,
    /// The probability at the high end.
    pub at_high: f64,
    /// The values around its own within which what must hold holds: the lowest, or the lowest that
    /// the curve was computed for.
    pub holds_from: f64,
    /// The highest.
    pub holds_to: f64,
    /// Where it stops to hold, nearest first; empty when no value of the curve does that.
    pub flips: Vec<Flip>,
}

/// In what a number is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NumberUnit {
    /// A chance, told as so many in 100.
    Chance,
    /// A count out of 1,000 pieces.
    Count,
    /// A plain factor or power.
    Plain,
    /// A shift in the measure's own unit.
    Shift,
}

/// A value at which what must hold stops to hold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Flip {
    /// The value.
    pub at: f64,
    /// True when it stops above the value, false when below.
    pub above: bool,
    /// The verdict that leads beyond it.
    pub leads: Verdict,
}

/// A probability as a function of one number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Curve {
    /// Exactly a ratio of two polynomials in `t`, the number less its value in this case, on each
    /// piece.
    Exact {
        /// The pieces, from the smallest values up.
        pieces: Vec<CurvePiece>,
    },
    /// Computed at some values, straight in between.
    Points {
        /// Value and probability.
        points: Vec<(f64, f64)>,
    },
}

/// One piece of an exact curve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CurvePiece {
    /// First value it holds for.
    pub from: f64,
    /// Last value it holds for.
    pub to: f64,
    /// Coefficients of the numerator, the constant first.
    pub numerator: Vec<f64>,
    /// Coefficients of the denominator.
    pub denominator: Vec<f64>,
}

/// Lowest and highest probability of a verdict found with every number moving within its range.
///
/// Found by going uphill from several starts: the true spread is at least as wide.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RobustBounds {
    /// The verdict.
    pub verdict: Verdict,
    /// The lowest found.
    pub low: f64,
    /// The highest found.
    pub high: f64,
}

/// The verdicts over a sweep of the prior share that is not original.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PriorSweep {
    /// The share not original before any finding, in this case.
    pub here: f64,
    /// How that share is divided over married, converted and faked, summing to 1.
    pub mix: Vec<f64>,
    /// The sweep, from 1 in 100 to 60 in 100 and beyond where the verdict turns there.
    pub points: Vec<SweepPoint>,
    /// The shares not original at which the leading verdict changes.
    pub turns: Vec<SweepTurn>,
}

/// One point of a sweep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SweepPoint {
    /// Share not original before any finding.
    pub not_original: f64,
    /// Probabilities of the verdicts given all findings, in the usual order.
    pub verdicts: Vec<f64>,
}

/// A change of the leading verdict along a sweep.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SweepTurn {
    /// Share not original before any finding.
    pub at: f64,
    /// Leads below it.
    pub below: Verdict,
    /// Leads above it.
    pub above: Verdict,
}

/// The probability over two numbers moved together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TwoWayGrid {
    /// Ids of the two numbers.
    pub ids: (String, String),
    /// Their words.
    pub words: (String, String),
    /// Values of the first.
    pub first: Vec<f64>,
    /// Values of the second.
    pub second: Vec<f64>,
    /// For each value of the first a row over the second.
    pub probabilities: Vec<Vec<f64>>,
    /// The leading verdict in each place.
    pub leading: Vec<Vec<Verdict>>,
}

/// Several opinions and what they come to together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Pool {
    /// Each opinion's own answer.
    pub opinions: Vec<Opinion>,
    /// The weighted mean of the probabilities, in the usual order of verdicts.
    pub linear: Vec<f64>,
    /// The weighted geometric mean, normalised; empty when the opinions rule out every verdict
    /// between them.
    pub logarithmic: Vec<f64>,
}

/// One opinion's answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Opinion {
    /// Whose.
    pub name: String,
    /// Its weight, all summing to 1.
    pub weight: f64,
    /// Its prior probabilities of the verdicts, in the usual order.
    pub priors: Vec<f64>,
    /// Its probabilities given all findings.
    pub verdicts: Vec<f64>,
}
