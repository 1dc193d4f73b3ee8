//! From what people say of a number to the number as a pack states it.
//!
//! Nobody carries means and strengths in the head. What people can say is where the middle lies and
//! how far off it could well be: quartiles, a few quantiles, a best figure with a range, or how many
//! in how many they have met. [`fit_chance`], [`fit_factor`], [`fit_measure`] and [`fit_row`] find
//! the distribution closest to that; [`elicit`] does so for a whole list of judgements of one or
//! several people, puts several opinions of one number together, and says what to doubt.
//!
//! ```
//! use oddment::elicit::{JudgementEntry, JudgementFile, elicit};
//! let judgement = JudgementEntry { quartiles: Some(vec![0.25, 0.30, 0.35]), ..Default::default() };
//! let file = JudgementFile { judgements: vec![judgement], ..Default::default() };
//! let elicited = elicit(&file).map_err(|problems| problems[0].message.clone())?;
//! assert_eq!(
//!     elicited.numbers[0].toml,
//!     r#"{ mean = 0.303, strength = 38.3, source = "elicited" }"#,
//! );
//! # Ok::<(), String>(())
//! ```
//!
//! The criterion is that of the SHELF framework (J. E. Oakley and A. O'Hagan): the sum of the
//! squared differences between the stated levels and those of the fit. A count is added to a
//! start: half a piece of each sort (H. Jeffreys), or one (uniform).

mod doubts;
mod error;
mod file;
mod fit;
mod fitted;
mod least_squares;
mod pool;
mod quantiles;
mod read;
#[cfg(test)]
mod tests;

pub use error::ElicitError;
pub use file::{ExpertFile, JUDGEMENT_SCHEMA, JudgementEntry, JudgementFile, LevelEntry, Start};
pub use fit::{Family, Fit, fit_chance, fit_factor, fit_measure, fit_measures, fit_row};
pub use fitted::{Bar, Fitted, PICTURED, Pieces, figures};
pub use pool::{Agreement, ElicitedPool, PoolKind};
pub use quantiles::{CREDIBLE, Quantiles};
pub use read::{JudgementProblem, elicit, elicit_text};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The `schema` field of what comes out.
pub const ELICITATION_SCHEMA: &str = "oddment/elicitation/1";

/// What all judgements come to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Elicitation {
    /// Always `oddment/elicitation/1`.
    pub schema: String,
    /// Version of the engine.
    pub engine: String,
    /// Each number judged, in the order in which they were first named.
    pub numbers: Vec<ElicitedValue>,
}

/// One number, and how it came about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ElicitedValue {
    /// Its id, if it was named.
    pub number: Option<String>,
    /// The unit of a measure.
    pub unit: Option<String>,
    /// What each person's judgements come to.
    pub opinions: Vec<ElicitedOpinion>,
    /// All of them together, where there are several.
    pub pool: Option<ElicitedPool>,
    /// Which pool `result` is.
    pub pooled_by: PoolKind,
    /// The number: the only opinion, or the pool.
    pub result: Fitted,
    /// How many of twenty pieces would show it: one for a chance, one for each level of a row.
    pub pieces: Vec<Pieces>,
    /// What there is to doubt about the whole.
    pub doubts: Vec<String>,
    /// The number as a pack states it, in TOML.
    pub toml: String,
}

/// What one person's judgements come to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ElicitedOpinion {
    /// Whose.
    pub expert: Option<String>,
    /// Its share of all weights.
    pub weight: f64,
    /// What was said: once, or once for each level of a row.
    pub said: Vec<Said>,
    /// What it comes to.
    pub fitted: Fitted,
    /// For a measure, every family tried, the best first.
    pub families: Vec<FamilyFit>,
    /// What there is to doubt about it.
    pub doubts: Vec<String>,
}

/// What was said of a number, or of one level of a row, beside what the fit makes of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Said {
    /// The level's name.
    pub name: Option<String>,
    /// How many showed it, and how many were looked at.
    pub count: Option<(f64, f64)>,
    /// Quantile judgements.
    pub quantiles: Vec<SaidQuantile>,
}

/// One quantile judgement beside the fit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SaidQuantile {
    /// The chance of staying below, as said.
    pub level: f64,
    /// The value said.
    pub said: f64,
    /// The value that the fit has there.
    pub fitted: f64,
    /// The fit's chance of staying below the value said.
    pub below: f64,
}

/// How well a family fits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FamilyFit {
    /// Which.
    pub family: Family,
    /// Its density.
    pub fitted: Fitted,
    /// The sum of squared differences of levels.
    pub squares: f64,
}

impl Elicitation {
    /// The numbers as a `[numbers]` block for a case or an opinion file, each below what a pack
    /// would have; densities of measures, which no such block can hold, as remarks.
    ///
    /// ```
    /// use oddment::elicit::{JudgementEntry, JudgementFile, elicit};
    /// let judgement = JudgementEntry {
    ///     number: Some("incident/top-off/rate/original".into()),
    ///     count: Some((3.0, 20.0)),
    ///     ..Default::default()
    /// };
    /// let file = JudgementFile { judgements: vec![judgement], ..Default::default() };
    /// let elicited = elicit(&file).map_err(|problems| problems[0].message.clone())?;
    /// let block = elicited.numbers_toml();
    /// assert!(block.starts_with("[numbers]\n# in a pack: { mean = 0.167, strength = 21, source"));
    /// assert!(block.ends_with("\"incident/top-off/rate/original\" = 0.167\n"));
    /// # Ok::<(), String>(())
    /// ```
    pub fn numbers_toml(&self) -> String {
        let mut text = String::from("[numbers]\n");
        for value in &self.numbers {
            let id = value.number.as_deref().unwrap_or("NUMBER");
            // A basic string of TOML is written as one of JSON.
            let key = |id: &str| serde_json::Value::from(id).to_string();
            let lines = match &value.result {
                Fitted::Measure { .. } => format!("for a pack, {id}: {}", value.toml),
                Fitted::Row { strength, .. } => format!(
                    "in a pack: {}, with `strength = {}` at its sign",
                    value.toml,
                    figures(*strength)
                ),
                _ => format!("in a pack: {}", value.toml),
            };
            lines
                .lines()
                .for_each(|line| text += &format!("# {line}\n"));
            match &value.result {
                Fitted::Chance { mean, .. } => {
                    text += &format!("{} = {}\n", key(id), fitted::chance_figure(*mean));
                }
                Fitted::Factor { mean, .. } => {
                    text += &format!("{} = {}\n", key(id), figures(*mean));
                }
                Fitted::Row { means, .. } => {
                    for (level, mean) in fitted::row_figures(means).iter().enumerate() {
                        text += &format!("{} = {mean}\n", key(&format!("{id}/{level}")));
                    }
                }
                Fitted::Measure { .. } => {}
            }
        }
        text
    }
}
