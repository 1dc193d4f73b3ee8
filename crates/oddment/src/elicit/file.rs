//! The written form of judgements: a file of them, and each by itself.

use super::fit::Family;
use super::pool::PoolKind;
use crate::text::{bounded, optional_pair};
use schemars::JsonSchema;
use serde::{Deserialize, Deserializer, Serialize};

/// The `schema` field of a judgement file.
pub const JUDGEMENT_SCHEMA: &str = "oddment/judgement/1";

/// The most judgements or experts of a file.
pub(super) const MOST_JUDGEMENTS: usize = 1_000;

/// The most values of one judgement read; more than any may have, so that it is noticed.
const MOST_VALUES: usize = 20;

/// What one or several people judge of one or several numbers.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JudgementFile {
    /// Always `oddment/judgement/1`.
    pub schema: String,
    /// Id of a form that comes with oddment: the numbers are then looked up in its pack.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub form: Option<String>,
    /// Which pool the numbers printed are of; `linear` when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pool: Option<PoolKind>,
    /// What counts are added to; `jeffreys` when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start: Option<Start>,
    /// The share of cases that ranges hold; 0.9 when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub credible: Option<f64>,
    /// Who judges, and how much each counts.
    #[serde(default, rename = "expert", deserialize_with = "list")]
    pub experts: Vec<ExpertFile>,
    /// What they judge.
    #[serde(default, rename = "judgement", deserialize_with = "list")]
    pub judgements: Vec<JudgementEntry>,
}

/// Somebody who judges.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExpertFile {
    /// Initials or a role, as the judgements name it.
    pub id: String,
    /// How much the opinion counts, above 0; 1 when absent. Only the proportions matter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weight: Option<f64>,
}

/// What counts are added to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Start {
    /// Half a piece of each sort (H. Jeffreys): hardly any opinion.
    #[default]
    Jeffreys,
    /// One piece of each sort: every chance as likely as any other.
    Uniform,
}

impl Start {
    /// Pieces of each sort.
    pub(super) fn pieces(self) -> f64 {
        match self {
            Self::Jeffreys => 0.5,
            Self::Uniform => 1.0,
        }
    }
}

/// What one person judges of one number. Exactly one of `quartiles`, `quantiles`, `between` (with
/// or without `about`), `count`, `counts` and `level` says it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JudgementEntry {
    /// The number's id in its pack, such as `sign/hollow-at-join/shows/converted`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub number: Option<String>,
    /// Id of who judges; may be left out where there is only one opinion on the number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expert: Option<String>,
    /// Lower quartile, median, upper quartile.
    #[serde(
        default,
        deserialize_with = "values",
        skip_serializing_if = "Option::is_none"
    )]
    pub quartiles: Option<Vec<f64>>,
    /// Two to five pairs of a level (0.05 for the 5 % value) and the value stayed below so often.
    #[serde(
        default,
        deserialize_with = "levels_and_values",
        skip_serializing_if = "Option::is_none"
    )]
    pub quantiles: Option<Vec<Vec<f64>>>,
    /// The best single figure, taken for the median; goes with `between`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about: Option<f64>,
    /// The least and the most it could well be.
    #[serde(
        default,
        deserialize_with = "optional_pair",
        skip_serializing_if = "Option::is_none"
    )]
    pub between: Option<(f64, f64)>,
    /// The share of cases that `between` holds; as the file says when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub credible: Option<f64>,
    /// How many pieces showed it, and how many were looked at.
    #[serde(
        default,
        deserialize_with = "optional_pair",
        skip_serializing_if = "Option::is_none"
    )]
    pub count: Option<(f64, f64)>,
    /// How many pieces were of each level of a row.
    #[serde(
        default,
        deserialize_with = "values",
        skip_serializing_if = "Option::is_none"
    )]
    pub counts: Option<Vec<f64>>,
    /// The levels of a row, each with judgements of its chance.
    #[serde(
        default,
        rename = "level",
        deserialize_with = "levels",
        skip_serializing_if = "Option::is_none"
    )]
    pub levels: Option<Vec<LevelEntry>>,
    /// What counts are added to; as the file says when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start: Option<Start>,
    /// Chances are given out of this many: 100 for percentages.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<f64>,
    /// The unit of a measure; without it, a chance is judged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Whether the measure cannot be 0 or below.
    #[serde(default)]
    pub positive: bool,
    /// The family of the measure's density; the best fitting one when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub family: Option<Family>,
    /// Whether it is a factor, an elasticity or another positive number of a pack.
    #[serde(default)]
    pub factor: bool,
}

/// What is judged of one level of a row.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LevelEntry {
    /// The level's name, for reading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Lower quartile, median, upper quartile of its chance.
    #[serde(
        default,
        deserialize_with = "values",
        skip_serializing_if = "Option::is_none"
    )]
    pub quartiles: Option<Vec<f64>>,
    /// Two to five pairs of a level (0.05 for the 5 % value) and the value stayed below so often.
    #[serde(
        default,
        deserialize_with = "levels_and_values",
        skip_serializing_if = "Option::is_none"
    )]
    pub quantiles: Option<Vec<Vec<f64>>>,
    /// The best single figure, taken for the median; goes with `between`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about: Option<f64>,
    /// The least and the most it could well be.
    #[serde(
        default,
        deserialize_with = "optional_pair",
        skip_serializing_if = "Option::is_none"
    )]
    pub between: Option<(f64, f64)>,
}

/// No more than one above what is let pass, so that a short text cannot ask for much memory.
fn list<'de, D: Deserializer<'de>, T: Deserialize<'de>>(
    deserializer: D,
) -> Result<Vec<T>, D::Error> {
    bounded(deserializer, MOST_JUDGEMENTS + 1)
}

/// A bounded list of anything.
struct Few<T>(Vec<T>);

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Few<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        bounded(deserializer, MOST_VALUES).map(Self)
    }
}

fn values<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Vec<f64>>, D::Error> {
    Ok(Option::<Few<f64>>::deserialize(deserializer)?.map(|Few(values)| values))
}

fn levels<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Vec<LevelEntry>>, D::Error> {
    Ok(Option::<Few<LevelEntry>>::deserialize(deserializer)?.map(|Few(levels)| levels))
}

fn levels_and_values<'de, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<Option<Vec<Vec<f64>>>, D::Error> {
    let pairs = Option::<Few<Few<f64>>>::deserialize(deserializer)?;
    Ok(pairs.map(|Few(pairs)| pairs.into_iter().map(|Few(pair)| pair).collect()))
}
