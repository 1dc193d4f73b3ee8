//! The argument: what every finding weighed, alone, together and on the way.

use crate::assessment::{PackStamp, PieceSummary};
use crate::case::Sureness;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The `schema` field of an argument.
pub const ARGUMENT_SCHEMA: &str = "oddment/argument/1";

/// How the findings built up from the prior, and what hangs together.
///
/// All weights are decibans: ten times the base-10 logarithm of a ratio of odds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Argument {
    /// Always `oddment/argument/1`.
    pub schema: String,
    /// Version of the engine.
    pub engine: String,
    /// The pack it rests on.
    pub pack: PackStamp,
    /// The piece, as claimed.
    pub piece: PieceSummary,
    /// What the weights are about: each verdict against all others, in the usual order, then two
    /// histories against each other if asked. Every list of weights below runs in this order.
    pub questions: Vec<Question>,
    /// The findings and readings, in the case's order.
    pub findings: Vec<WeighedFinding>,
    /// Findings with one thing behind them, so that double counting can be seen.
    pub together: Vec<Together>,
    /// How the fair shares were computed.
    pub shares: ShareMethod,
    /// What this is not.
    pub limits: String,
}

/// One thing set against another.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// Id of the verdict or history spoken for.
    pub favoured: String,
    /// Its name.
    pub favoured_name: String,
    /// Id of the history spoken against; all other verdicts together when absent.
    pub against: Option<String>,
    /// Its name.
    pub against_name: Option<String>,
    /// Odds before any finding, in decibans.
    pub before: f64,
    /// Odds given all findings, in decibans: `before + total`.
    pub after: f64,
    /// Weight of all findings together.
    pub total: f64,
    /// What adding up every finding's weight taken alone would have made of it: the naive sum.
    pub naive: f64,
    /// What all withdrawn weights leave of the total, `total - sum(withdrawn)`: what several
    /// findings say in common (positive when they repeat one another in favour).
    pub in_common: f64,
}

/// How the fair shares were computed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShareMethod {
    /// True when every order of the findings was taken into account.
    pub exact: bool,
    /// How many orders were drawn otherwise; 0 when exact.
    pub orders: u64,
    /// Seed of the draw.
    pub seed: u64,
}

/// What one finding or reading weighed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeighedFinding {
    /// Id of the sign or measure.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Id of the part.
    pub part: String,
    /// Id of the visit.
    pub visit: String,
    /// What was reported, in words.
    pub found: String,
    /// How sure.
    pub sure: Sureness,
    /// What it points to.
    pub points_to: String,
    /// The innocent reading.
    pub innocent: String,
    /// Its weights, one set for each question.
    pub weights: Vec<Weights>,
    /// Incidents that could by themselves explain the report.
    pub readings: Vec<InnocentReading>,
}

/// The weights of one finding for one question, in decibans.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Weights {
    /// Had it been the only finding.
    pub alone: f64,
    /// With everything, over with all but this: what would be lost by withdrawing it.
    pub withdrawn: f64,
    /// What it added when it came, after those before it; these re-add to the total.
    pub in_order: f64,
    /// The odds once it had come.
    pub running: f64,
    /// Its fair share, which does not depend on the order (the Shapley value of the log-odds);
    /// these re-add to the total.
    pub share: f64,
    /// Standard error of the share; 0 when exact.
    pub share_error: f64,
}

/// How far an innocent incident carries a finding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InnocentReading {
    /// Id of the incident.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Its probability given all other findings.
    pub without: f64,
    /// Its probability with this finding too.
    pub with: f64,
    /// What withdrawing the finding would cost were the incident known to have happened, one for
    /// each question; absent where the findings rule the incident out.
    pub if_happened: Option<Vec<f64>>,
}

/// Findings with one thing behind them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Together {
    /// What is behind them.
    pub behind: Behind,
    /// Id of the group, incident or part.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Positions of the findings in [`Argument::findings`], at least two.
    pub members: Vec<usize>,
    /// For each question.
    pub weights: Vec<TogetherWeight>,
}

/// What may be behind several findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Behind {
    /// One act that left them all.
    Act,
    /// An incident that can make or hide them all.
    Incident,
    /// The making date of one part.
    Date,
}

/// What several findings weigh together for one question.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TogetherWeight {
    /// Each counted as if it had come alone, and added up.
    pub naive: f64,
    /// Together, with nothing else found.
    pub joint: f64,
    /// What would be lost by withdrawing them all from what else was found.
    pub withdrawn: f64,
}
