//! What is still worth looking at.

use crate::assessment::{CautionNote, PackStamp, PieceSummary};
use crate::pack::{Access, Leave, Verdict};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The `schema` field of an outlook.
pub const OUTLOOK_SCHEMA: &str = "oddment/outlook/1";

/// What every check still to do is expected to tell, and a plan for the time there is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Outlook {
    /// Always `oddment/outlook/1`.
    pub schema: String,
    /// Version of the engine.
    pub engine: String,
    /// The pack it rests on.
    pub pack: PackStamp,
    /// The piece, as claimed.
    pub piece: PieceSummary,
    /// The verdict that leads now.
    pub leading: Verdict,
    /// Its probability now.
    pub probability: f64,
    /// How open the verdict is now: its entropy, in bits (0 settled, 2 all four alike).
    pub open_bits: f64,
    /// Every check with something left to look at, the most telling per minute first, those not
    /// allowed last.
    pub checks: Vec<CheckValue>,
    /// The plan, when a time was given.
    pub plan: Option<Plan>,
    /// True when no check that is allowed has more than one chance in a thousand of changing the
    /// leading verdict, nor (where figures were given) is worth what it costs.
    pub nothing_left: bool,
    /// Cautions for the checks listed.
    pub cautions: Vec<CautionNote>,
    /// What this is not.
    pub limits: String,
}

/// What one check is expected to tell.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CheckValue {
    /// Id of the check.
    pub id: String,
    /// Its name.
    pub name: String,
    /// How to do it.
    pub how: String,
    /// What to bring.
    pub tools: Vec<String>,
    /// Minutes it takes.
    pub minutes: f64,
    /// How far one must go.
    pub access: Access,
    /// Whether the owner must be asked.
    pub leave: Leave,
    /// Whether it lies within the access asked for.
    pub allowed: bool,
    /// What it would answer that is not answered yet.
    pub answers: Vec<Unseen>,
    /// Expected information about the verdict: by how many bits it is expected to be less open.
    pub bits: f64,
    /// The same for each minute.
    pub bits_per_minute: f64,
    /// Chance that it changes the leading verdict.
    pub changes_verdict: f64,
    /// By how much naming the then leading verdict would be right more often, as a probability.
    pub right_more_often: f64,
    /// What it is worth in money, where figures were given.
    pub money: Option<CheckMoney>,
    /// How the values were computed.
    pub method: CheckMethod,
    /// The most telling answers, the one expected to move the verdict most first.
    pub telling: Vec<TellingAnswer>,
}

/// Something not looked at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Unseen {
    /// Id of the sign or measure.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Id of the part.
    pub part: String,
    /// Expected information of this one alone, in bits.
    pub bits: f64,
}

/// A check's worth in the user's money.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CheckMoney {
    /// What it is expected to add to the decision, before its cost.
    pub value: f64,
    /// What it costs.
    pub cost: f64,
    /// The difference.
    pub net: f64,
}

/// How a check's values were computed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum CheckMethod {
    /// Every combination of answers was gone through (readings on a fine grid).
    Exact {
        /// How many combinations.
        answers: u32,
    },
    /// Answers were drawn.
    Drawn {
        /// How many times.
        draws: u32,
        /// Seed of the draw.
        seed: u64,
        /// Standard error of the bits.
        standard_error: f64,
    },
}

/// One possible answer and where it would leave the verdict.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TellingAnswer {
    /// Id of the sign or measure.
    pub id: String,
    /// Id of the part.
    pub part: String,
    /// The report, in words.
    pub found: String,
    /// Chance of this report.
    pub chance: f64,
    /// The verdict's probabilities then, in the usual order.
    pub verdicts: Vec<f64>,
}

/// Checks chosen for a time and an access.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// Minutes there are.
    pub minutes: f64,
    /// Minutes the plan takes.
    pub used: f64,
    /// The checks, in the order to do them.
    pub steps: Vec<PlanStep>,
    /// Expected information of all of them together, in bits.
    pub bits: f64,
    /// Standard error of the bits: answers to several checks are drawn.
    pub standard_error: f64,
    /// Chance that they change the leading verdict.
    pub changes_verdict: f64,
    /// By how much naming the leading verdict would be right more often.
    pub right_more_often: f64,
    /// Expected information of every allowed check together, in bits: what is left to learn.
    pub bits_of_all: f64,
    /// Chance that all allowed checks together change the leading verdict.
    pub all_change_verdict: f64,
    /// How many sets of answers were drawn.
    pub draws: u32,
    /// Seed of the draw.
    pub seed: u64,
}

/// One step of a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlanStep {
    /// Id of the check.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Minutes it takes.
    pub minutes: f64,
    /// Expected information of the plan up to and with this step, in bits.
    pub bits_so_far: f64,
}
