//! Weights of evidence: decibans, and the words for them.
//!
//! A likelihood ratio compares how probable the findings are under a first
//! proposition and under a second. Everything here takes its natural logarithm,
//! as the engine carries it, so nothing overflows.
//!
//! The verbal scale is that of the European Network of Forensic Science
//! Institutes, *Guideline for Evaluative Reporting in Forensic Science* (2015):
//!
//! | Likelihood ratio | Support |
//! |---|---|
//! | 1 | none either way |
//! | over 1 to 10 | weak |
//! | over 10 to 100 | moderate |
//! | over 100 to 1,000 | moderately strong |
//! | over 1,000 to 10,000 | strong |
//! | over 10,000 to 1,000,000 | very strong |
//! | over 1,000,000 | extremely strong |
//!
//! A ratio below 1 supports the second proposition as strongly as its reciprocal
//! would support the first. A ratio exactly on an edge takes the lower word. (The
//! guideline itself prints its first band as 2 to 10: from memory, unverified.)
//! The words describe the findings, never the posterior odds, and readers move
//! less than the ratio warrants: show the number beside them.
//!
//! ```
//! use oddment::scale::{Direction, Strength, decibans, strength};
//!
//! let ln_lr = libm::log(250.0);
//! assert_eq!(strength(ln_lr)?, (Direction::First, Strength::ModeratelyStrong));
//! assert!((decibans(ln_lr) - 23.979400086720375).abs() < 1e-12);
//! # Ok::<(), oddment::scale::ScaleError>(())
//! ```

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Slack, in natural log units, within which a ratio counts as being on an edge:
/// the rounding of a sum of logarithms must not lift a ratio of 10 to "moderate",
/// nor call a ratio of 1 "weak support".
pub const EDGE_SLACK: f64 = 1e-12;

/// Which of the two propositions the findings favour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// The first, the numerator: ratio above 1.
    First,
    /// Neither: ratio 1.
    Neither,
    /// The second, the denominator: ratio below 1.
    Second,
}

/// The ENFSI 2015 strengths of support, weakest first.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Strength {
    /// Ratio 1.
    NoSupport,
    /// Over 1, to 10.
    Weak,
    /// Over 10, to 100.
    Moderate,
    /// Over 100, to 1,000.
    ModeratelyStrong,
    /// Over 1,000, to 10,000.
    Strong,
    /// Over 10,000, to 1,000,000.
    VeryStrong,
    /// Over 1,000,000.
    ExtremelyStrong,
}

impl Strength {
    /// Every strength, weakest first.
    pub const ALL: [Strength; 7] = [
        Strength::NoSupport,
        Strength::Weak,
        Strength::Moderate,
        Strength::ModeratelyStrong,
        Strength::Strong,
        Strength::VeryStrong,
        Strength::ExtremelyStrong,
    ];

    /// The words, to stand after "the findings give".
    ///
    /// ```
    /// # use oddment::scale::Strength;
    /// assert_eq!(Strength::ModeratelyStrong.words(), "moderately strong support");
    /// assert_eq!(Strength::ALL.len(), 7);
    /// ```
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Strength::NoSupport => "no support either way",
            Strength::Weak => "weak support",
            Strength::Moderate => "moderate support",
            Strength::ModeratelyStrong => "moderately strong support",
            Strength::Strong => "strong support",
            Strength::VeryStrong => "very strong support",
            Strength::ExtremelyStrong => "extremely strong support",
        }
    }

    /// The band as a likelihood ratio for the favoured proposition: above the
    /// first number, up to and including the second.
    ///
    /// ```
    /// # use oddment::scale::Strength;
    /// assert_eq!(Strength::VeryStrong.band(), (10_000.0, 1_000_000.0));
    /// ```
    #[must_use]
    pub const fn band(self) -> (f64, f64) {
        match self {
            Strength::NoSupport => (1.0, 1.0),
            Strength::Weak => (1.0, 10.0),
            Strength::Moderate => (10.0, 100.0),
            Strength::ModeratelyStrong => (100.0, 1_000.0),
            Strength::Strong => (1_000.0, 10_000.0),
            Strength::VeryStrong => (10_000.0, 1_000_000.0),
            Strength::ExtremelyStrong => (1_000_000.0, f64::INFINITY),
        }
    }
}

/// Why a weight has no words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ScaleError {
    /// The log likelihood ratio is not a number, as when both probabilities are 0.
    #[error(
        "ln_lr is NaN: it must be the logarithm of a likelihood ratio; if both probabilities are \
         0 the findings are impossible under either proposition"
    )]
    NotANumber,
}

/// The strength of support of a natural log likelihood ratio, on the ENFSI 2015
/// scale, and the side it falls on.
///
/// Any number will do, infinities included. Compared with `ln(10)`, `ln(100)`, ...
/// in log space, exact to [`EDGE_SLACK`].
///
/// # Errors
/// [`ScaleError::NotANumber`] for NaN.
///
/// ```
/// # use oddment::scale::{Direction, Strength, strength};
/// assert_eq!(strength(libm::log(10.0))?, (Direction::First, Strength::Weak));
/// assert_eq!(strength(-libm::log(10.5))?, (Direction::Second, Strength::Moderate));
/// # Ok::<(), oddment::scale::ScaleError>(())
/// ```
pub fn strength(ln_lr: f64) -> Result<(Direction, Strength), ScaleError> {
    if ln_lr.is_nan() {
        return Err(ScaleError::NotANumber);
    }
    let size = ln_lr.abs();
    let strength = Strength::ALL
        .into_iter()
        .find(|s| size <= libm::log(s.band().1) + EDGE_SLACK)
        .unwrap_or(Strength::ExtremelyStrong);
    let direction = match strength {
        Strength::NoSupport => Direction::Neither,
        _ if ln_lr > 0.0 => Direction::First,
        _ => Direction::Second,
    };
    Ok((direction, strength))
}

/// Weight of evidence in decibans.
///
/// ```text
/// 10 log10(LR) = 10 ln(LR) / ln(10)
/// ```
///
/// Ten decibans are odds of 10 to 1; one is about the least change a person
/// notices, evens to 5 to 4. Positive for the first proposition. Infinite in,
/// infinite out; NaN in, NaN out. Source: I. J. Good, after A. M. Turing (1940).
///
/// ```
/// # use oddment::scale::decibans;
/// assert!((decibans(libm::log(2.0)) - 3.0103).abs() < 1e-5);
/// ```
#[must_use]
pub fn decibans(ln_likelihood_ratio: f64) -> f64 {
    10.0 * ln_likelihood_ratio / std::f64::consts::LN_10
}

/// The natural log likelihood ratio of a weight in decibans: the inverse of
/// [`decibans`], to rounding.
///
/// ```text
/// ln(LR) = decibans ln(10) / 10
/// ```
///
/// ```
/// # use oddment::scale::ln_from_decibans;
/// assert!((ln_from_decibans(30.0) - libm::log(1000.0)).abs() < 1e-14);
/// ```
#[must_use]
pub fn ln_from_decibans(decibans: f64) -> f64 {
    decibans * std::f64::consts::LN_10 / 10.0
}

/// The ratio that a weight in decibans stands for: what odds are multiplied by.
///
/// ```text
/// LR = 10^(decibans / 10)
/// ```
///
/// Infinite, or 0, where it is beyond what a number holds.
///
/// ```
/// # use oddment::scale::ratio;
/// assert_eq!(ratio(20.0), 100.0);
/// assert_eq!(ratio(-10.0), 0.1);
/// ```
#[must_use]
pub fn ratio(decibans: f64) -> f64 {
    libm::pow(10.0, decibans / 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Absolute difference; fails on NaN.
    #[track_caller]
    fn within(got: f64, want: f64, tolerance: f64) {
        assert!(
            (got - want).abs() <= tolerance,
            "got {got:?}, want {want:?} to {tolerance:e}"
        );
    }

    fn of(lr: f64) -> (Direction, Strength) {
        strength(libm::log(lr)).unwrap()
    }

    #[test]
    fn bands_and_edges() {
        use Strength::{
            ExtremelyStrong, Moderate, ModeratelyStrong, NoSupport, Strong, VeryStrong, Weak,
        };
        for (lr, want) in [
            (1.0, NoSupport),
            (1.000_001, Weak),
            (2.0, Weak),
            (9.999, Weak),
            (10.0, Weak),
            (10.000_001, Moderate),
            (55.0, Moderate),
            (100.0, Moderate),
            (100.000_01, ModeratelyStrong),
            (1_000.0, ModeratelyStrong),
            (1_000.000_1, Strong),
            (10_000.0, Strong),
            (10_000.001, VeryStrong),
            (100_000.0, VeryStrong),
            (1_000_000.0, VeryStrong),
            (1_000_000.1, ExtremelyStrong),
            (f64::MAX, ExtremelyStrong),
            (f64::INFINITY, ExtremelyStrong),
        ] {
            let side = |yes| {
                if want == NoSupport {
                    Direction::Neither
                } else {
                    yes
                }
            };
            assert_eq!(of(lr), (side(Direction::First), want), "{lr}");
            // The reciprocal, on the other side.
            assert_eq!(of(1.0 / lr), (side(Direction::Second), want), "1/{lr}");
            assert_eq!(strength(-libm::log(lr)).unwrap().1, want, "-ln {lr}");
        }
        assert_eq!(of(0.0), (Direction::Second, ExtremelyStrong));
    }

    #[test]
    fn an_edge_reached_by_a_sum_is_still_the_edge() {
        let ten = libm::log(2.0) + libm::log(5.0);
        assert_eq!(strength(ten).unwrap().1, Strength::Weak);
        let thousand: f64 = [10.0, 20.0, 5.0].map(libm::log).iter().sum();
        assert_eq!(strength(thousand).unwrap().1, Strength::ModeratelyStrong);
        let one = libm::log(3.0) + libm::log(0.1) + libm::log(10.0 / 3.0);
        assert_eq!(strength(one), Ok((Direction::Neither, Strength::NoSupport)));
        for zero in [0.0, -0.0, 5e-324, -5e-324] {
            assert_eq!(
                strength(zero),
                Ok((Direction::Neither, Strength::NoSupport))
            );
        }
    }

    /// One glossary prints "extremely strong" above 10,000; ENFSI does not.
    #[test]
    fn ten_thousand_is_not_extreme() {
        assert_eq!(of(20_000.0).1, Strength::VeryStrong);
    }

    #[test]
    fn not_a_number_is_an_error() {
        assert_eq!(strength(f64::NAN), Err(ScaleError::NotANumber));
        assert!(decibans(f64::NAN).is_nan() && ln_from_decibans(f64::NAN).is_nan());
        assert_eq!(decibans(f64::NEG_INFINITY), f64::NEG_INFINITY);
    }

    #[test]
    fn decibans_of_known_ratios() {
        for (lr, want, tolerance) in [
            (1.0, 0.0, 0.0),
            (2.0, 3.0103, 5e-5),
            (1.25, 0.9691, 5e-5),
            (6.0, 7.782, 5e-4),
            (10.0, 10.0, 1e-14),
            (100.0, 20.0, 1e-14),
            (1_000.0, 30.0, 1e-13),
            (0.1, -10.0, 1e-14),
        ] {
            within(decibans(libm::log(lr)), want, tolerance);
            within(
                ln_from_decibans(decibans(libm::log(lr))),
                libm::log(lr),
                1e-14,
            );
        }
        for lr in [0.001, 0.2, 1.0, 3.5, 1e6] {
            within(ratio(decibans(libm::log(lr))) / lr, 1.0, 1e-13);
        }
        assert_eq!(ratio(f64::INFINITY), f64::INFINITY);
        // One ban is 2.30 nats and 3.32 bits.
        within(ln_from_decibans(10.0), 2.30, 0.005);
        within(ln_from_decibans(10.0) / std::f64::consts::LN_2, 3.32, 0.005);
    }

    #[test]
    fn bands_join_end_to_end() {
        for pair in Strength::ALL.windows(2) {
            assert_eq!(pair[0].band().1, pair[1].band().0);
            assert!(pair[0] < pair[1] && pair[0].words() != pair[1].words());
        }
    }

    #[test]
    fn written_in_kebab_case() {
        let text = serde_json::to_string(&Strength::ModeratelyStrong).unwrap();
        assert_eq!(text, "\"moderately-strong\"");
        let back: Strength = serde_json::from_str("\"no-support\"").unwrap();
        assert_eq!(back, Strength::NoSupport);
        assert_eq!(
            serde_json::to_string(&Direction::First).unwrap(),
            "\"first\""
        );
        let schema = serde_json::to_string(&schemars::schema_for!(Strength)).unwrap();
        assert!(schema.contains("extremely-strong"), "{schema}");
    }
}
