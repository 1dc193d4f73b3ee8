//! The written form of packs and of the shared library: what stands in the TOML files.
//!
//! Everything here is optional-friendly and unchecked; [`super::Pack`] is the checked form.

use super::limits::list;
mod number;

pub use number::{Chance, Number, StatedNumber};

use crate::density::Density;
use crate::text::{pair, pairs};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The `schema` field of a pack file.
pub const PACK_SCHEMA: &str = "oddment/pack/1";
/// The `schema` field of a shared library file.
pub const LIBRARY_SCHEMA: &str = "oddment/library/1";

/// Values by *selector*. A selector is a history's id, a history's kind, a verdict
/// (`original`, `married`, `converted`, `faked`) or `any`; where several fit, the first in that
/// order decides.
pub type BySelector<T> = BTreeMap<String, T>;

/// The shared library: what several forms have in common.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LibraryFile {
    /// Always `oddment/library/1`.
    pub schema: String,
    /// Counts up with every change of content.
    pub version: String,
    /// How strongly numbers are held and where they come from, unless they say otherwise.
    pub defaults: Defaults,
    /// How reports go wrong in a poor examination.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub examination: Option<ExaminationFile>,
    /// References that numbers cite.
    #[serde(default, rename = "source", deserialize_with = "list")]
    pub sources: Vec<SourceFile>,
    /// In-use curves of dated technologies.
    #[serde(default, rename = "curve", deserialize_with = "list")]
    pub curves: Vec<CurveFile>,
    /// Cautions that checks point to.
    #[serde(default, rename = "caution", deserialize_with = "list")]
    pub cautions: Vec<CautionFile>,
    /// Ways of looking.
    #[serde(default, rename = "check", deserialize_with = "list")]
    pub checks: Vec<CheckFile>,
    /// Honest events of a long life.
    #[serde(default, rename = "incident", deserialize_with = "list")]
    pub incidents: Vec<IncidentFile>,
    /// Signs that several forms share.
    #[serde(default, rename = "sign", deserialize_with = "list")]
    pub signs: Vec<SignFile>,
}

/// One form's pack.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PackFile {
    /// Always `oddment/pack/1`.
    pub schema: String,
    /// The form's id, kebab-case, never reused.
    pub id: String,
    /// The form's name.
    pub name: String,
    /// Counts up with every change of content.
    pub version: String,
    /// What the pack covers and how far its numbers can be trusted.
    pub summary: String,
    /// How strongly numbers are held and where they come from, unless they say otherwise.
    pub defaults: Defaults,
    /// The grid of making dates.
    pub dates: DatesFile,
    /// How reports go wrong in a poor examination, where it differs from the library.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub examination: Option<ExaminationFile>,
    /// Kinds of the form that differ in price and in how often they are wrong.
    #[serde(default, rename = "variant", deserialize_with = "list")]
    pub variants: Vec<VariantFile>,
    /// Periods that pieces are claimed to be of.
    #[serde(default, rename = "period", deserialize_with = "list")]
    pub periods: Vec<PeriodFile>,
    /// Regions that pieces are claimed to come from.
    #[serde(default, rename = "region", deserialize_with = "list")]
    pub regions: Vec<RegionFile>,
    /// Named components.
    #[serde(default, rename = "part", deserialize_with = "list")]
    pub parts: Vec<PartFile>,
    /// When work later than the claim was done, as weights by year.
    #[serde(default, rename = "later_work", deserialize_with = "list")]
    pub later_work: Vec<LaterWorkFile>,
    /// The rival stories.
    #[serde(default, rename = "history", deserialize_with = "list")]
    pub histories: Vec<HistoryFile>,
    /// How many in 1,000 pieces offered as such have each history, by variant.
    #[serde(default, rename = "prior", deserialize_with = "list")]
    pub priors: Vec<PriorFile>,
    /// How a period or region shifts those counts.
    #[serde(default, rename = "prior_factor", deserialize_with = "list")]
    pub prior_factors: Vec<PriorFactorFile>,
    /// Signs left by one act share how clearly it left its traces.
    #[serde(default, rename = "group", deserialize_with = "list")]
    pub groups: Vec<GroupFile>,
    /// References beyond the library's.
    #[serde(default, rename = "source", deserialize_with = "list")]
    pub sources: Vec<SourceFile>,
    /// In-use curves beyond the library's, or replacing one of them.
    #[serde(default, rename = "curve", deserialize_with = "list")]
    pub curves: Vec<CurveFile>,
    /// Cautions beyond the library's.
    #[serde(default, rename = "caution", deserialize_with = "list")]
    pub cautions: Vec<CautionFile>,
    /// Checks beyond the library's, or (with `from`) overriding one. Library checks that a sign
    /// names need not be repeated.
    #[serde(default, rename = "check", deserialize_with = "list")]
    pub checks: Vec<CheckFile>,
    /// The incidents of this form; with `from`, what is not given is taken from the library.
    #[serde(default, rename = "incident", deserialize_with = "list")]
    pub incidents: Vec<IncidentFile>,
    /// What can be seen or felt; with `from`, what is not given is taken from the library.
    #[serde(default, rename = "sign", deserialize_with = "list")]
    pub signs: Vec<SignFile>,
    /// What can be measured.
    #[serde(default, rename = "measure", deserialize_with = "list")]
    pub measures: Vec<MeasureFile>,
}

/// Strength and provenance of every number in a file that does not state its own.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Defaults {
    /// Equivalent sample size: how many pieces seen the number is worth.
    pub strength: f64,
    /// Id of a source.
    pub source: String,
}

/// The grid of making dates.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DatesFile {
    /// First year of the first bin.
    pub from: i32,
    /// The year after the last bin.
    pub to: i32,
    /// Width of a bin in years.
    pub step: i32,
    /// Years over which the chance of making falls off on either side of a claimed period.
    pub shoulder: f64,
}

/// What a poor examination does to reports, and what the words of sureness weigh.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExaminationFile {
    /// Chance that an examination as a whole is poor, unless the case says otherwise.
    pub poor: Number,
    /// What a report's reliability above chance is multiplied by when it is.
    pub poor_factor: Number,
    /// How much larger an instrument's error then is.
    pub poor_instrument: Number,
    /// Weight of a sure report against an uninformative one.
    pub sure: Number,
    /// Weight of a fairly sure report.
    pub fairly_sure: Number,
    /// Weight of a doubtful report.
    pub doubtful: Number,
}

/// A reference that numbers cite.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SourceFile {
    /// Kebab-case.
    pub id: String,
    /// Author, year, title, table or page; or what kind of judgement it is.
    pub reference: String,
    /// How well it supports what it is cited for.
    pub standing: Standing,
    /// Anything a reader should know before relying on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// How well a source supports what it is cited for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// Published, and read for this purpose.
    Read,
    /// Published, and read in part or at second hand.
    ReadInPart,
    /// Published, recalled from memory, unverified.
    FromMemory,
    /// Common practice of the trade, no source.
    CommonPractice,
    /// A working guess.
    Elicited,
}

/// Share of new work that shows a technology, by year.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CurveFile {
    /// Kebab-case.
    pub id: String,
    /// The technology.
    pub name: String,
    /// Points `[year, share]`, years rising, shares in (0, 1). Between points the log-odds of the
    /// share run straight; outside, the end values hold.
    #[serde(deserialize_with = "pairs")]
    pub points: Vec<(i32, f64)>,
    /// Before this year the technology did not exist: the share is exactly 0 (structural).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_before: Option<i32>,
    /// Where and on what the curve holds, and where its sources disagree.
    pub note: String,
    /// Id of a source.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Equivalent sample size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<f64>,
}

/// A caution shown where it matters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CautionFile {
    /// Kebab-case.
    pub id: String,
    /// What to mind, deferring to local rules and licensed practice.
    pub text: String,
}

/// How far one must go to look.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Access {
    /// Standing beside it.
    WalkBy,
    /// Opening doors and drawers, working its moving parts.
    Open,
    /// Underneath, or turned over.
    TurnOver,
    /// Drawing a screw, taking off a part.
    Dismantle,
    /// A sample or an instrument elsewhere.
    Laboratory,
    /// Documents, not the piece.
    Papers,
}

/// Whether the owner must be asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Leave {
    /// Not needed.
    NotNeeded,
    /// Ask first.
    Ask,
    /// Needed in writing.
    Written,
}

/// A way of looking, which may answer several signs.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CheckFile {
    /// Kebab-case; taken from `from` when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// Id of a library check whose fields hold where none are given here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// A few words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// How to do it, step by step, in two or three sentences.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub how: Option<String>,
    /// What to bring.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tools: Option<Vec<String>>,
    /// Minutes it takes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<f64>,
    /// How far one must go.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub access: Option<Access>,
    /// Whether the owner must be asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leave: Option<Leave>,
    /// Ids of cautions.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cautions: Option<Vec<String>>,
}

/// An honest event of a long life that can cause or hide signs under any history.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct IncidentFile {
    /// Kebab-case; taken from `from` when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// Id of a library incident whose fields hold where none are given here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// A few words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// What it does to a piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub effect: Option<String>,
    /// Its chance, by selector.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rate: Option<BySelector<Number>>,
    /// Equivalent sample size of numbers that do not state their own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<f64>,
    /// Source of numbers that do not state their own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// A kind of the form.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VariantFile {
    /// Kebab-case.
    pub id: String,
    /// A few words.
    pub name: String,
    /// Price of this variant over the price of the plainer thing it could be made from. Also the
    /// reference ratio at which the prior counts hold.
    pub price_ratio: f64,
    /// The plainer thing.
    pub made_from: String,
    /// Anything worth knowing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A period that pieces are claimed to be of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PeriodFile {
    /// Kebab-case.
    pub id: String,
    /// A few words.
    pub name: String,
    /// First year of the claim.
    pub from: i32,
    /// Last year of the claim.
    pub to: i32,
    /// Anything worth knowing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A region that pieces are claimed to come from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RegionFile {
    /// Kebab-case.
    pub id: String,
    /// A few words.
    pub name: String,
    /// Usual timbers, peculiarities.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A named component.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PartFile {
    /// Kebab-case.
    pub id: String,
    /// A few words.
    pub name: String,
    /// Whether the part has a making date of its own, so that every history gives it an origin.
    #[serde(default)]
    pub dated: bool,
    /// Only pieces offered as these variants have it; all when absent. Its signs and measures are
    /// then asked of those alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variants: Option<Vec<String>>,
    /// Anything worth knowing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// When work later than the claim was done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LaterWorkFile {
    /// Kebab-case.
    pub id: String,
    /// Points `[year, weight]`, years rising, weights not negative; straight between points, zero
    /// outside. Only years after the claim count.
    #[serde(deserialize_with = "pairs")]
    pub points: Vec<(i32, f64)>,
    /// Why this shape.
    pub reason: String,
    /// Id of a source.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Equivalent sample size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<f64>,
}

/// The verdicts.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// As first made, honest wear and repair included.
    Original,
    /// Parts of different pieces put together.
    Married,
    /// Form, size or use changed later.
    Converted,
    /// Made or dressed up to deceive.
    Faked,
}

/// One rival story.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HistoryFile {
    /// Kebab-case.
    pub id: String,
    /// The verdict it belongs to.
    pub verdict: Verdict,
    /// A word that histories of several forms share, for use as a selector: `as-made`, `repaired`,
    /// `later-top`, `two-halves`, `re-cut`, `made-up`, `revival` ... Kebab-case.
    pub kind: String,
    /// A few words.
    pub name: String,
    /// One paragraph: what happened, and what it would have left behind.
    pub story: String,
    /// How the count grows with the price gap: multiplied by (ratio / reference ratio) to this
    /// power. Absent or 0 for histories that do not profit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elasticity: Option<Number>,
    /// Where each dated part comes from.
    #[serde(default)]
    pub origin: BTreeMap<String, OriginFile>,
}

/// When a part was made under a history.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum OriginFile {
    /// Within the claimed period: uniform, with soft shoulders.
    Claim,
    /// Uniform between two years.
    Between(i32, i32),
    /// After the claim, weighted as the `later_work` of this id.
    After(String),
    /// Before the claim: uniform over this many years before its start.
    Older(i32),
    /// At the same time as another part.
    Shares(String),
}

/// How many in 1,000 pieces of one variant offered as such have each history.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PriorFile {
    /// Id of a variant.
    pub variant: String,
    /// Counts by history id, summing to 1,000.
    pub counts: BTreeMap<String, f64>,
    /// Why these counts.
    pub reason: String,
    /// Equivalent sample size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<f64>,
    /// Id of a source.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// How a period, a region or a variant within them shifts the counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PriorFactorFile {
    /// Kebab-case.
    pub id: String,
    /// Only for these variants; all when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variants: Option<Vec<String>>,
    /// Only for these periods; all when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub periods: Option<Vec<String>>,
    /// Only for these regions; all when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub regions: Option<Vec<String>>,
    /// Multiplier of the count, by selector; 1 where nothing fits.
    pub factor: BySelector<f64>,
    /// Why.
    pub reason: String,
    /// Equivalent sample size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<f64>,
    /// Id of a source.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// Signs left by one and the same act.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GroupFile {
    /// Kebab-case.
    pub id: String,
    /// The act, in a few words.
    pub name: String,
    /// 0 for independent signs, 1 for signs that stand and fall together.
    pub coupling: Number,
    /// Why these hang together.
    pub reason: String,
}

/// Something that can be seen or felt at one or more parts.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SignFile {
    /// Kebab-case; taken from `from` when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// Id of a library sign whose fields hold where none are given here; maps are joined, entries
    /// given here win.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Ids of the parts it is looked for at; one finding each.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub parts: Option<Vec<String>>,
    /// The sign in one line, as the examiner would say it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Id of the check that answers it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub check: Option<String>,
    /// Id of a group of signs left by the same act; not for dated signs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// Only pieces offered as these variants have it to look for; all when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variants: Option<Vec<String>>,
    /// Names of the levels from "not there" upward; `["no", "yes"]` when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub levels: Option<Vec<String>>,
    /// Chance that it is there because of the history itself, incidents left out, by selector. For
    /// a graded sign a row of chances, one for each level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shows: Option<BySelector<Chance>>,
    /// For a dated sign, instead of `shows`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dated: Option<DatedFile>,
    /// Chance that an incident, if it happened, makes the sign by itself, by incident id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub caused_by: Option<BTreeMap<String, Chance>>,
    /// Chance that an incident, if it happened, wipes a present sign out, by incident id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hidden_by: Option<BTreeMap<String, Number>>,
    /// How often an average examiner reports it rightly.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reliability: Option<ReliabilityFile>,
    /// What it points to when it is there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub points_to: Option<String>,
    /// The innocent reading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub innocent: Option<String>,
    /// Why a single look at it may settle a case alone: lifts the bound on how much one unaided
    /// observation may say (see `lint/overwhelming`). At least a sentence.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub settles: Option<String>,
    /// Equivalent sample size of numbers that do not state their own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<f64>,
    /// Source of numbers that do not state their own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// A sign that dates the part it is on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DatedFile {
    /// Id of the in-use curve.
    pub curve: String,
    /// Chance that work done in that way still shows it.
    pub visible: Number,
    /// Chance that it was put on later to deceive or by other work, by selector; 0 where nothing
    /// fits.
    #[serde(default)]
    pub added: BySelector<Number>,
    /// Chance that it was taken off, by selector; 0 where nothing fits.
    #[serde(default)]
    pub removed: BySelector<Number>,
}

/// How often an average examiner reports a sign rightly.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields, untagged)]
pub enum ReliabilityFile {
    /// For a yes/no sign.
    YesNo {
        /// Of pieces that have it, the share reported as having it (sensitivity).
        found: Number,
        /// Of pieces that do not, the share reported as not having it (specificity).
        cleared: Number,
    },
    /// For a graded sign.
    Graded {
        /// Share of reports at the true level; the rest goes to the levels beside it.
        exact: Number,
    },
}

/// Something that can be measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasureFile {
    /// Kebab-case.
    pub id: String,
    /// Id of the part.
    pub part: String,
    /// What is measured, in one line.
    pub name: String,
    /// `mm`, `mm-per-m`, `steps`, `ratio`, `degrees`, `count`, `years`, `kg` or `percent`.
    pub unit: String,
    /// Id of the check.
    pub check: String,
    /// Standard error of an ordinary instrument in an ordinary hand, in the unit.
    pub error: f64,
    /// Readings outside are refused as slips of the pen.
    #[serde(deserialize_with = "pair")]
    pub plausible: (f64, f64),
    /// Only pieces offered as these variants have it to measure; all when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variants: Option<Vec<String>>,
    /// Density of the true value, by selector.
    #[serde(default)]
    pub density: BySelector<Density>,
    /// Instead of `density`, for movement across the grain in mm per m: the fall in moisture since
    /// the part was made, by selector. The published dimensional-change equation does the rest.
    #[serde(default)]
    pub movement: BySelector<MovementFile>,
    /// Densities that hold under any history once an incident happened; the first that happened
    /// decides.
    #[serde(default, rename = "override")]
    pub overrides: Vec<OverrideFile>,
    /// What it points to.
    pub points_to: String,
    /// The innocent reading.
    pub innocent: String,
    /// Why a single reading may settle a case alone: lifts the bound on how much one unaided
    /// observation may say (see `lint/overwhelming`). At least a sentence.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub settles: Option<String>,
    /// Equivalent sample size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<f64>,
    /// Id of a source.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// Movement across the grain since a part was made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MovementFile {
    /// Mean fall in moisture content, percentage points.
    pub moisture_fall: f64,
    /// Its standard deviation.
    pub moisture_fall_sd: f64,
    /// Movement not explained by the equation (compression set), mm per m.
    #[serde(default)]
    pub set: f64,
    /// Standard deviation of what the equation leaves, mm per m.
    pub sd: f64,
}

/// A measure's density once an incident happened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OverrideFile {
    /// Id of the incident.
    pub incident: String,
    /// Density of the true value then.
    pub density: Density,
}
