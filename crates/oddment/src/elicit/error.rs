//! What can be wrong with a judgement.

use super::quantiles::{LARGEST_VALUE, LEVELS, SMALLEST_VALUE};
use crate::text::figure;

/// Why something said cannot be turned into a number of a pack.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ElicitError {
    /// A chance outside 0 to 1, most often a percentage written as a plain number.
    #[error("{} is no chance, which lies strictly between 0 and 1{}", figure(*value), chance_hint(*value))]
    NotAChance {
        /// The offending value, as stated.
        value: f64,
    },
    /// A value out of the number of pieces given that is none or all of them, or more.
    #[error("{} out of {} is no chance: it must be above 0 and below {}", figure(*value), figure(*of), figure(*of))]
    NotOutOf {
        /// The offending value, as stated.
        value: f64,
        /// Out of how many it was said to be.
        of: f64,
    },
    /// A value of a positive quantity that is 0 or below.
    #[error("{} must be above 0: this quantity is positive", figure(*value))]
    NotPositive {
        /// The offending value.
        value: f64,
    },
    /// Not a number, infinite or absurdly large.
    #[error(
        "{} must be a number within ±{} and, unless 0, no smaller than {}",
        figure(*value),
        figure(LARGEST_VALUE),
        figure(SMALLEST_VALUE)
    )]
    NotAValue {
        /// The offending value.
        value: f64,
    },
    /// Two values that do not rise with their levels.
    #[error("{}", order(*lower, *upper))]
    Order {
        /// The lower level and its value.
        lower: (f64, f64),
        /// The upper level and its value.
        upper: (f64, f64),
    },
    /// Two levels that do not rise.
    #[error("the level {} comes after {}: give levels in rising order, each once", percent(*level), percent(*before))]
    LevelOrder {
        /// The level before.
        before: f64,
        /// The offending level.
        level: f64,
    },
    /// A level that is no share, or too far out for anybody to judge.
    #[error("level {} must be {} to {}, such as 0.25 for the lower quartile", figure(*level), figure(LEVELS.0), figure(LEVELS.1))]
    Level {
        /// The offending level.
        level: f64,
    },
    /// Too few or too many judgements.
    #[error("{}", how_many(*given))]
    HowMany {
        /// How many there are.
        given: usize,
    },
    /// Not three quartiles.
    #[error(
        "{given} values: quartiles are three, the value stayed below in a quarter of cases, in half and in three quarters"
    )]
    Quartiles {
        /// How many there are.
        given: usize,
    },
    /// Not a level and a value.
    #[error(
        "{given} numbers: a quantile is two, a level and the value stayed below so often, such as [0.05, 0.2]"
    )]
    Pair {
        /// How many there are.
        given: usize,
    },
    /// A count that no looking can have given.
    #[error("{} in {}: give how many showed it, then how many were looked at, whole numbers with the first at most the second and the second 1 to 1,000,000", figure(*found), figure(*looked))]
    Count {
        /// How many showed it.
        found: f64,
        /// How many were looked at.
        looked: f64,
    },
    /// A denominator that is none.
    #[error("`of` is {}: it must be above 0 and at most 1,000,000, such as 100 for percentages", figure(*of))]
    Of {
        /// The offending value.
        of: f64,
    },
    /// A range taken for a share that is none.
    #[error("{} must be the share of cases within the range, from 0.1 to 0.998, such as 0.9", figure(*credible))]
    Credible {
        /// The offending value.
        credible: f64,
    },
    /// A weight that is none.
    #[error("weight {} must be 0.000001 to 1,000,000", figure(*weight))]
    Weight {
        /// The offending value.
        weight: f64,
    },
    /// Nothing was said, or not enough.
    #[error("nothing is said of it: give quartiles, quantiles, a range, or a count")]
    NothingSaid,
    /// One judgement said in two ways.
    #[error("`{one}` and `{other}` say it twice: give one of them")]
    SaidTwice {
        /// One of the ways.
        one: &'static str,
        /// Another.
        other: &'static str,
    },
    /// Something given that has no meaning for this kind of number.
    #[error("`{given}` does not go with {kind}: leave it out")]
    NotFor {
        /// What was given.
        given: &'static str,
        /// The kind of number.
        kind: &'static str,
    },
    /// A row of too few or too many levels.
    #[error("{given} levels: a row has 3 to 9; a sign of two levels takes a single chance")]
    Levels {
        /// How many there are.
        given: usize,
    },
    /// Opinions on one number that are not of one kind.
    #[error("judged as {one} before and as {other} here: one number is of one kind")]
    Mixed {
        /// What it was judged as first.
        one: String,
        /// What it is judged as here.
        other: String,
    },
}

impl ElicitError {
    /// A stable code for programs.
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotAChance { .. } | Self::NotOutOf { .. } => "judgement/chance",
            Self::NotPositive { .. } | Self::NotAValue { .. } => "judgement/value",
            Self::Order { .. } | Self::LevelOrder { .. } => "judgement/order",
            Self::Level { .. } => "judgement/level",
            Self::HowMany { .. }
            | Self::NothingSaid
            | Self::Quartiles { .. }
            | Self::Pair { .. } => "judgement/missing",
            Self::Count { .. } | Self::Of { .. } => "judgement/count",
            Self::Credible { .. } => "judgement/credible",
            Self::Weight { .. } => "judgement/weight",
            Self::SaidTwice { .. } | Self::NotFor { .. } | Self::Mixed { .. } => "judgement/kind",
            Self::Levels { .. } => "judgement/levels",
        }
    }
}

/// A level for reading.
pub(super) fn percent(level: f64) -> String {
    format!("{} %", figure(100.0 * level))
}

/// What was most likely meant.
fn chance_hint(value: f64) -> String {
    if value > 1.0 && value < 100.0 {
        format!(
            "; {} in 100 is written {} or, on the command line, {}%; or say `of = 100` (--of 100)",
            figure(value),
            figure(value / 100.0),
            figure(value)
        )
    } else if value == 0.0 || value == 1.0 {
        "; nobody can be that sure of a frequency, and a true 0 or 1 is `structural`, not elicited"
            .to_owned()
    } else {
        String::new()
    }
}

fn order((low, low_value): (f64, f64), (high, high_value): (f64, f64)) -> String {
    let (low, high) = (percent(low), percent(high));
    if figure(low_value) == figure(high_value) {
        format!(
            "the {low} value and the {high} value are both {}: values must rise with their levels",
            figure(low_value)
        )
    } else {
        format!(
            "the {low} value {} is above the {high} value {}: values must rise with their levels",
            figure(low_value),
            figure(high_value)
        )
    }
}

fn how_many(given: usize) -> String {
    let given = match given {
        0 => "no judgement".to_owned(),
        1 => "one judgement".to_owned(),
        many => format!("{many} judgements"),
    };
    format!(
        "{given}: two to five are needed, such as the quartiles (25 %, 50 % and 75 %) or the \
         5 %, 50 % and 95 % values"
    )
}
