//! The written form of a case: what stands in the TOML or JSON file.

use super::MAX_FINDINGS;
use crate::pack::Verdict;
use crate::text::{bounded, optional_pair};
use schemars::JsonSchema;
use serde::{Deserialize, Deserializer, Serialize};
use std::collections::BTreeMap;

/// The `schema` field of a case file.
pub const CASE_SCHEMA: &str = "oddment/case/1";

/// A piece with what was found on it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CaseFile {
    /// Always `oddment/case/1`.
    pub schema: String,
    /// The piece and what is claimed of it.
    pub piece: PieceFile,
    /// Who looked, when and how. With none, one ordinary visit is assumed.
    #[serde(
        default,
        rename = "visit",
        skip_serializing_if = "Vec::is_empty",
        deserialize_with = "list"
    )]
    pub visits: Vec<VisitFile>,
    /// What was found, or looked for and not found, or could not be looked at. A sign that is not
    /// listed was not looked for.
    #[serde(
        default,
        rename = "finding",
        skip_serializing_if = "Vec::is_empty",
        deserialize_with = "list"
    )]
    pub findings: Vec<FindingFile>,
    /// Readings taken.
    #[serde(
        default,
        rename = "reading",
        skip_serializing_if = "Vec::is_empty",
        deserialize_with = "list"
    )]
    pub readings: Vec<ReadingFile>,
    /// Incidents known for certain from elsewhere (a repairer's bill), by incident id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub known: BTreeMap<String, bool>,
    /// The user's own prior counts by history id, replacing the pack's; they are normalised.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub prior: BTreeMap<String, f64>,
    /// The user's own values for numbers of the pack, by number id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub numbers: BTreeMap<String, f64>,
    /// What is at stake in buying it, on the user's own figures.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stakes: Option<StakesFile>,
}

/// The piece and what is claimed of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PieceFile {
    /// Id of the form.
    pub form: String,
    /// Id of the variant.
    pub variant: String,
    /// Id of the claimed period.
    pub period: String,
    /// Id of the claimed region.
    pub region: String,
    /// A line to know it by.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// Anything else. Say here when a case is invented.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// Claimed years, when narrower than the period's: first and last.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "optional_pair"
    )]
    pub claimed_years: Option<(i32, i32)>,
    /// Prices that set the temptation, in any one currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub prices: Option<PricesFile>,
    /// Timber and cut of parts, for the prediction of wood movement, by part id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub timber: BTreeMap<String, TimberFile>,
}

/// What the piece would fetch as claimed, and what the plainer thing would.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PricesFile {
    /// As claimed.
    pub as_claimed: f64,
    /// The plainer thing it could have been made from.
    pub plainer: f64,
}

/// What is at stake in buying a piece, on the user's own figures, all in one currency.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StakesFile {
    /// The price asked.
    pub asking: f64,
    /// What a minute of the examiner costs; 0 when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minute: Option<f64>,
    /// Constant relative risk aversion, 0 to 10; 0 (money counts as money) when absent. It needs
    /// `wealth`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub risk_aversion: Option<f64>,
    /// What the buyer owns before buying.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wealth: Option<f64>,
    /// The chance of loss to state a price for; 0.1 when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chance_of_loss: Option<f64>,
    /// What the piece would sell for, by verdict. `original` must be here, each other verdict here or
    /// in `share_of_original`.
    pub worth: BTreeMap<Verdict, f64>,
    /// The same as a share of what it would sell for if original, by verdict.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub share_of_original: BTreeMap<Verdict, f64>,
    /// What selling it costs; nothing when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resale_cost: Option<ResaleCostFile>,
    /// What a check costs beside the examiner's time, by check id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub check_cost: BTreeMap<String, f64>,
}

/// What selling a piece costs: a share of the price, an amount, or both.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ResaleCostFile {
    /// Share of what it sells for, 0 to 1.
    #[serde(default)]
    pub share: f64,
    /// Amount, whatever it sells for.
    #[serde(default)]
    pub amount: f64,
}

/// Timber of a part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimberFile {
    /// Id of a species in the wood table.
    pub species: String,
    /// How the boards were cut.
    #[serde(default)]
    pub cut: crate::wood::Cut,
}

/// One visit: one pair of eyes in one light.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VisitFile {
    /// Unique in the case.
    pub id: String,
    /// Who looked (initials or a role).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// When, as year-month-day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// Light, access, haste: in words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub how: Option<String>,
    /// Chance that the examination as a whole was poor; the pack's figure (5 %) when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub poor: Option<f64>,
    /// What this examiner's error rates are of an average examiner's: 0.5 for a skilled hand, 1 when
    /// absent, at most 2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub error_factor: Option<f64>,
}

/// How sure the examiner is of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Sureness {
    /// No doubt about what was seen.
    #[default]
    Sure,
    /// Some doubt.
    FairlySure,
    /// As good as a guess with a lean.
    Doubtful,
}

/// What the examiner reports for a sign at a part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FindingFile {
    /// Id of the sign.
    pub sign: String,
    /// Id of the part, when the sign can be at several.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// A level of the sign (`yes`, `no`, `slight` ...), or `not-looked`, or `no-access`.
    pub found: String,
    /// How sure; `sure` when absent.
    #[serde(default, skip_serializing_if = "is_default")]
    pub sure: Sureness,
    /// Id of the visit, when there are several.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub visit: Option<String>,
    /// Numbers repeated looks within one visit, so that an entry made twice by mistake is told from
    /// a second look.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub look: Option<u32>,
    /// Anything else.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// A measurement: exactly one of `value`, `less_than`, `more_than`, `between`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingFile {
    /// Id of the measure.
    pub measure: String,
    /// The reading, in the measure's unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// Known only to be below this.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub less_than: Option<f64>,
    /// Known only to be above this.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub more_than: Option<f64>,
    /// Known only to lie between these.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "optional_pair"
    )]
    pub between: Option<(f64, f64)>,
    /// Unit; when given it must be the measure's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Standard error of the instrument, when not the measure's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub error: Option<f64>,
    /// Id of the visit, when there are several.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub visit: Option<String>,
    /// Anything else.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// Reads a list, but no more of it than one entry above what is allowed.
fn list<'de, D, T>(deserializer: D) -> Result<Vec<T>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
{
    bounded(deserializer, MAX_FINDINGS + 1)
}
