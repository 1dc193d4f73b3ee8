//! What may be asked beside a case, as other languages write it: plain values with bounds, which are
//! those of the command.
//!
//! ```
//! use oddment::ask::{self, NextOptions};
//! let asked: NextOptions = ask::read(Some(r#"{ "minutes": 15 }"#))?;
//! assert_eq!(asked.checked()?.minutes, Some(15.0));
//! let asked: NextOptions = ask::read(Some(r#"{ "minutes": -1 }"#))?;
//! assert_eq!(asked.checked().unwrap_err().code, "usage/option");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use crate::case::file::StakesFile;
use crate::pack::{Access, Verdict};
use crate::text::parse_json;
use crate::{lean, look, practice, study};
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// The largest whole number that JavaScript counts exactly.
const LARGEST_SEED: u64 = (1 << 53) - 1;

/// The most draws of one study: what a module's memory bears.
const DRAWS: RangeInclusive<u64> = 2..=1_000_000;

/// The longest time there may be for looking, in minutes: a week.
const MOST_MINUTES: f64 = 10_080.0;

/// The weights an opinion may have.
const WEIGHTS: RangeInclusive<f64> = 1e-6..=1e6;

/// The most parts a mix may give one verdict.
const MOST_PARTS: f64 = 1e9;

/// An option that cannot be worked with.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct OptionError {
    /// Stable code: `usage/option`, or `query/same-history` and the like.
    pub code: &'static str,
    /// What is wrong and what would be right.
    pub message: String,
}

impl OptionError {
    /// A value out of bounds.
    pub fn out_of_bounds(message: impl Into<String>) -> Self {
        Self::of("usage/option", message)
    }

    fn of(code: &'static str, message: impl Into<String>) -> Self {
        Self {
            code,
            message: message.into(),
        }
    }
}

/// Reads options, an object in JSON; none given are all left out.
///
/// # Errors
/// `usage/option` for what is no option, or not of the kind it must be.
pub fn read<T: DeserializeOwned + Default>(given: Option<&str>) -> Result<T, OptionError> {
    match given {
        Some(given) => parse_json(given).map_err(OptionError::out_of_bounds),
        None => Ok(T::default()),
    }
}

fn within(holds: bool, message: &str) -> Result<(), OptionError> {
    if holds {
        Ok(())
    } else {
        Err(OptionError::out_of_bounds(message))
    }
}

/// Nothing may be asked.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NoOptions {}

/// What to assess.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct AssessOptions {
    /// Whether to judge by simulation if any story fits, which takes most of the time; true when
    /// absent.
    pub fit: bool,
}

impl Default for AssessOptions {
    fn default() -> Self {
        Self { fit: true }
    }
}

/// What to explain.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct ExplainOptions {
    /// Ids of two histories to set against each other as well.
    pub between: Option<(String, String)>,
}

impl ExplainOptions {
    /// The two histories, if asked.
    ///
    /// # Errors
    /// `query/same-history` for one against itself.
    pub fn between(&self) -> Result<Option<(&str, &str)>, OptionError> {
        match &self.between {
            Some((one, other)) if one == other => Err(OptionError::of(
                "query/same-history",
                format!("`{one}` cannot be set against itself; give two histories"),
            )),
            Some((one, other)) => Ok(Some((one, other))),
            None => Ok(None),
        }
    }
}

/// What to allow of further looking.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct NextOptions {
    /// Minutes there are, above 0 and at most 10,080; a plan is made for them.
    pub minutes: Option<f64>,
    /// How far one may go; as far as it takes when absent. Papers may always be read.
    pub access: Option<Access>,
    /// Only checks that need nobody's leave.
    pub without_leave: bool,
}

impl NextOptions {
    /// Within bounds.
    ///
    /// # Errors
    /// `usage/option`.
    pub fn checked(self) -> Result<look::NextOptions, OptionError> {
        let minutes = self.minutes.unwrap_or(1.0);
        within(
            minutes > 0.0 && minutes <= MOST_MINUTES,
            "`minutes` must be above 0 and at most 10,080 (a week)",
        )?;
        Ok(look::NextOptions {
            minutes: self.minutes,
            access: self.access,
            without_leave: self.without_leave,
        })
    }
}

/// What to ask of the numbers.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct LeanOptions {
    /// The verdict to look at; the leading one when absent.
    pub verdict: Option<Verdict>,
    /// A probability above 0 and below 1 whose side it should stay on; when absent, the leading
    /// verdict should go on leading.
    pub threshold: Option<f64>,
    /// How the pieces that are not original are divided in the sweep of the starting odds; as in the
    /// case when absent. A verdict left out has no part.
    pub mix: Option<BTreeMap<Verdict, f64>>,
    /// Ids of two numbers to move together.
    pub grid: Option<(String, String)>,
    /// Other people's opinions to pool with the case as it stands.
    pub opinions: Vec<WeighedOpinion>,
}

/// An opinion and how much it counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeighedOpinion {
    /// TOML or JSON: an opinion, or a pack or extension under which the same case is put.
    pub opinion: String,
    /// Its weight, 0.000001 to 1,000,000; the case as it stands has 1.
    #[serde(default = "one")]
    pub weight: f64,
}

fn one() -> f64 {
    1.0
}

impl LeanOptions {
    /// Within bounds: all but the opinions, which are still to be read.
    ///
    /// # Errors
    /// `usage/option`, or `query/same-number` for one number against itself.
    pub fn checked(&self) -> Result<lean::LeanOptions, OptionError> {
        let threshold = self.threshold.unwrap_or(0.5);
        within(
            threshold > 0.0 && threshold < 1.0,
            "`threshold` must be a probability above 0 and below 1",
        )?;
        if let Some((one, other)) = &self.grid
            && one == other
        {
            let message = format!("`{one}` cannot be moved against itself; give two numbers");
            return Err(OptionError::of("query/same-number", message));
        }
        let weights = self.opinions.iter().map(|opinion| opinion.weight);
        within(
            { weights }.all(|weight| WEIGHTS.contains(&weight)),
            "`weight` of an opinion must be 0.000001 to 1,000,000",
        )?;
        Ok(lean::LeanOptions {
            verdict: self.verdict,
            threshold: self.threshold,
            mix: self.mix.as_ref().map(mix).transpose()?,
            grid: self.grid.clone(),
            opinions: Vec::new(),
        })
    }
}

fn mix(parts: &BTreeMap<Verdict, f64>) -> Result<[f64; 3], OptionError> {
    let of = |verdict| parts.get(&verdict).copied().unwrap_or(0.0);
    let mix = [Verdict::Married, Verdict::Converted, Verdict::Faked].map(of);
    within(
        !parts.contains_key(&Verdict::Original),
        "`original` has no part in the mix: it divides what is not original",
    )?;
    within(
        mix.iter().all(|part| (0.0..=MOST_PARTS).contains(part)),
        "each part of `mix` must be 0 to 1,000,000,000",
    )?;
    within(
        mix.iter().any(|part| *part > 0.0),
        "at least one part of `mix` must be above 0",
    )?;
    Ok(mix)
}

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct StudyOptions {
    /// How many draws, 2 to 1,000,000; 10,000 when absent.
    pub draws: u64,
    /// Equal seeds give equal bits; 1 when absent.
    pub seed: u64,
    /// Pairs of draws to tell from which numbers the spread comes, no more than half the draws; 0
    /// leaves it out; 1,000 when absent.
    pub pairs: u64,
}

impl Default for StudyOptions {
    fn default() -> Self {
        Self {
            draws: 10_000,
            seed: 1,
            pairs: 1_000,
        }
    }
}

impl StudyOptions {
    /// Within bounds.
    ///
    /// # Errors
    /// `usage/option`.
    pub fn checked(self) -> Result<study::StudyOptions, OptionError> {
        within(
            DRAWS.contains(&self.draws),
            "`draws` must be a whole number from 2 to 1,000,000",
        )?;
        seed(self.seed)?;
        Ok(study::StudyOptions {
            draws: self.draws,
            seed: self.seed,
            pairs: self.pairs.min(self.draws / 2),
            threads: 1,
        })
    }
}

fn seed(seed: u64) -> Result<(), OptionError> {
    within(
        seed <= LARGEST_SEED,
        "`seed` must be a whole number from 0 to 9,007,199,254,740,991",
    )
}

/// What to decide on.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct DecideOptions {
    /// The user's own figures, instead of those of the case.
    pub stakes: Option<StakesFile>,
}

/// What to write.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct ReportOptions {
    /// HTML when absent.
    pub format: ReportFormat,
}

/// In which form a report is written.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ReportFormat {
    /// One page that needs nothing else.
    #[default]
    Html,
    /// Plain Markdown.
    Markdown,
}

/// Which piece to draw for practice.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct PracticeOptions {
    /// Id of the variant it is offered as; drawn when absent.
    pub variant: Option<String>,
    /// Id of the period it is offered as; drawn when absent.
    pub period: Option<String>,
    /// Id of the region it is offered as; drawn when absent.
    pub region: Option<String>,
    /// Equal seeds give equal pieces; 0 when absent.
    pub seed: u64,
}

impl PracticeOptions {
    /// Within bounds.
    ///
    /// # Errors
    /// `usage/option`.
    pub fn checked(self) -> Result<practice::PracticeOptions, OptionError> {
        seed(self.seed)?;
        Ok(practice::PracticeOptions {
            variant: self.variant,
            period: self.period,
            region: self.region,
            seed: self.seed,
        })
    }
}
