//! What the engine returns.

use crate::pack::Verdict;
use crate::scale::{Direction, Strength};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The `schema` field of an assessment.
pub const ASSESSMENT_SCHEMA: &str = "oddment/assessment/1";

/// Odds beyond this are reported as this: a stand-in for certainty that stays a finite number.
pub const ODDS_LIMIT: f64 = 1e300;

/// The odds of every rival history of a piece, with the reasons.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Assessment {
    /// Always `oddment/assessment/1`.
    pub schema: String,
    /// Version of the engine.
    pub engine: String,
    /// The pack it rests on.
    pub pack: PackStamp,
    /// The piece, as claimed.
    pub piece: PieceSummary,
    /// The verdicts, always in the same order.
    pub verdicts: Vec<VerdictOdds>,
    /// The histories, most likely first.
    pub histories: Vec<HistoryOdds>,
    /// The incidents, in the pack's order.
    pub incidents: Vec<IncidentOdds>,
    /// When each dated part was made.
    pub dates: Vec<PartDate>,
    /// What each finding and reading weighed, in the case's order.
    pub findings: Vec<FindingWeight>,
    /// Whether each visit's findings hang together.
    pub visits: Vec<VisitQuality>,
    /// What was not looked at, checks with least trouble first.
    pub not_looked: Vec<NotLooked>,
    /// Whether any story told here fits.
    pub fit: Fit,
    /// Natural logarithm of the probability (density, where readings were taken) of all findings.
    pub ln_evidence: f64,
    /// Cautions for the checks done and still to do.
    pub cautions: Vec<CautionNote>,
    /// What this is not.
    pub limits: String,
}

/// Which pack an assessment rests on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PackStamp {
    /// The form's id.
    pub id: String,
    /// The form's name.
    pub name: String,
    /// The pack's version.
    pub version: String,
    /// The shared library's version.
    pub library_version: String,
    /// SHA-256 of both texts.
    pub digest: String,
}

/// The piece, as claimed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PieceSummary {
    /// A line to know it by.
    pub title: Option<String>,
    /// Name of the variant.
    pub variant: String,
    /// Name of the period.
    pub period: String,
    /// First and last year claimed.
    pub years: (i32, i32),
    /// Name of the region.
    pub region: String,
    /// Why the prior is as it is: the variant's reason, then the shifts that hold.
    pub prior_reasons: Vec<String>,
}

/// Odds of a verdict.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VerdictOdds {
    /// The verdict.
    pub verdict: Verdict,
    /// Probability before any finding.
    pub prior: f64,
    /// How many of 1,000 pieces offered as such have the verdict, before any finding; the four
    /// counts sum to 1,000.
    pub prior_in_thousand: u32,
    /// Probability given all findings.
    pub probability: f64,
    /// How many of 1,000 pieces offered as such and showing just this have the verdict; the four
    /// counts sum to 1,000.
    pub in_thousand: u32,
    /// Odds of it against all others, at most 1e300.
    pub odds: f64,
    /// Base-10 logarithm of those odds, within -300 to 300.
    pub log10_odds: f64,
    /// Total weight of evidence for it, in decibans (negative: against).
    pub decibans: f64,
    /// Whether the findings support it.
    pub direction: Direction,
    /// How strongly, on the published verbal scale.
    pub strength: Strength,
}

/// Odds of a history.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HistoryOdds {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// The verdict it belongs to.
    pub verdict: Verdict,
    /// Its story.
    pub story: String,
    /// Probability before any finding.
    pub prior: f64,
    /// Probability given all findings.
    pub probability: f64,
    /// Total weight of evidence for it against all others, in decibans.
    pub decibans: f64,
}

/// Chance of an incident.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct IncidentOdds {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Probability before any finding.
    pub prior: f64,
    /// Probability given all findings.
    pub probability: f64,
}

/// When a part was made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PartDate {
    /// The part's id.
    pub part: String,
    /// The part's name.
    pub name: String,
    /// The year it is as likely to be older than as younger.
    pub median: f64,
    /// The year that 5 in 100 are older than.
    pub low: f64,
    /// The year that 5 in 100 are younger than.
    pub high: f64,
    /// Probability of each bin of the date grid.
    pub bins: Vec<DateBin>,
}

/// One bin of a date grid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DateBin {
    /// First year.
    pub from: i32,
    /// The year after the last.
    pub to: i32,
    /// Probability before any finding.
    pub prior: f64,
    /// Probability given all findings.
    pub probability: f64,
}

/// What a finding or reading weighed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FindingWeight {
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
    /// How sure; readings are always sure.
    pub sure: crate::case::Sureness,
    /// Decibans for each verdict against all others: the odds with everything over the odds with
    /// this alone withdrawn.
    pub decibans: BTreeMap<Verdict, f64>,
    /// The same had the opposite been reported; readings have none.
    pub opposite: Option<Opposite>,
    /// The innocent reading of the sign.
    pub innocent: String,
    /// What it points to.
    pub points_to: String,
    /// The most likely incident that could by itself explain the report: one that makes the sign
    /// where it was found, one that hides it where it was not.
    pub incident: Option<IncidentShift>,
}

/// What the opposite report would have weighed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Opposite {
    /// The report, in words.
    pub found: String,
    /// Decibans for each verdict.
    pub decibans: BTreeMap<Verdict, f64>,
}

/// How far a finding moved an incident's probability.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct IncidentShift {
    /// Id of the incident.
    pub id: String,
    /// Name of the incident.
    pub name: String,
    /// Its probability with the finding withdrawn.
    pub without: f64,
    /// Its probability with it.
    pub with: f64,
}

/// Whether a visit's findings hang together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VisitQuality {
    /// Id of the visit.
    pub id: String,
    /// Chance that the examination was poor, before.
    pub prior: f64,
    /// Chance that it was poor, given all findings.
    pub probability: f64,
}

/// Something not looked at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NotLooked {
    /// Id of the sign or measure.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Id of the part.
    pub part: String,
    /// Id of the check that would answer it.
    pub check: String,
    /// Name of the check.
    pub check_name: String,
    /// How far one must go.
    pub access: crate::pack::Access,
    /// Minutes the check takes.
    pub minutes: f64,
    /// True when it was tried and could not be looked at.
    pub no_access: bool,
}

/// A caution and the checks it is about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CautionNote {
    /// What to mind.
    pub text: String,
    /// Ids of the checks.
    pub checks: Vec<String>,
}

/// Whether any story told here fits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fit {
    /// Of simulated pieces looked at in the same places, the share whose findings were at least as
    /// rare as these.
    pub share_as_rare: f64,
    /// How many pieces were simulated.
    pub simulated: u32,
    /// Seed of the simulation.
    pub seed: u64,
    /// What follows.
    pub judgement: FitJudgement,
}

/// What the fit check says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FitJudgement {
    /// It was not asked for.
    NotAsked,
    /// Nothing was reported that could fit or not.
    NothingToJudge,
    /// Such findings are ordinary.
    Fits,
    /// Such findings are unusual under every story told here (rarer than 95 in 100).
    Unusual,
    /// No story told here fits well (rarer than 99 in 100).
    NoStoryFits,
}
