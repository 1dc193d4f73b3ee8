//! What judgements come to: a distribution of a number, and what it says.

use super::ElicitError;
use crate::density::Density;
use crate::draw::{beta_below, beta_quantile};
use crate::text::figure;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How many pieces one pictures to see what a number would mean.
pub const PICTURED: u32 = 20;

/// A distribution of a number, in the terms in which packs state it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Fitted {
    /// A chance: `Beta(mean strength, (1 - mean) strength)`.
    Chance {
        /// Between 0 and 1.
        mean: f64,
        /// Equivalent sample size in pieces, `a + b`.
        strength: f64,
    },
    /// A factor, an elasticity or another positive number of a pack: gamma of shape `strength` and
    /// scale `mean / strength`.
    Factor {
        /// Above 0.
        mean: f64,
        /// The shape.
        strength: f64,
    },
    /// What is expected of a measure.
    Measure {
        /// In the measure's unit.
        density: Density,
    },
    /// Chances of the levels of a sign: Dirichlet of `means` times `strength`.
    Row {
        /// One for each level, summing to 1.
        means: Vec<f64>,
        /// Equivalent sample size in pieces.
        strength: f64,
    },
}

/// How many of [`PICTURED`] pieces would show something.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Pieces {
    /// On average.
    pub expected: f64,
    /// The least count that is not among the rarest 5 in 100 below.
    pub low: u32,
    /// The greatest that is not among the rarest 5 in 100 above.
    pub high: u32,
    /// The chance that none would.
    pub none: f64,
}

/// A stretch of values and the chance of being in it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Bar {
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// The chance.
    pub share: f64,
}

impl Fitted {
    /// The shapes of the beta or gamma distribution behind a chance or a factor: `(a, b)`, or shape
    /// and rate.
    ///
    /// ```
    /// use oddment::elicit::Fitted;
    /// let (a, b) = Fitted::Chance { mean: 0.25, strength: 8.0 }.shapes().unwrap();
    /// assert_eq!((a, b), (2.0, 6.0));
    /// ```
    pub fn shapes(&self) -> Option<(f64, f64)> {
        match self {
            Self::Chance { mean, strength } => Some((mean * strength, (1.0 - mean) * strength)),
            Self::Factor { mean, strength } => Some((*strength, strength / mean)),
            Self::Measure { .. } | Self::Row { .. } => None,
        }
    }

    /// A chance from the shapes of its beta distribution.
    pub(super) fn of_shapes(a: f64, b: f64) -> Self {
        Self::Chance {
            mean: a / (a + b),
            strength: a + b,
        }
    }

    /// The equivalent sample size; none for a measure, whose pack states it.
    pub fn strength(&self) -> Option<f64> {
        match self {
            Self::Chance { strength, .. }
            | Self::Factor { strength, .. }
            | Self::Row { strength, .. } => Some(*strength),
            Self::Measure { .. } => None,
        }
    }

    /// One level of a row by itself; anything else is its own only level.
    pub fn level(&self, level: usize) -> Option<Self> {
        match self {
            Self::Row { means, strength } => means.get(level).map(|mean| Self::Chance {
                mean: *mean,
                strength: *strength,
            }),
            other => (level == 0).then(|| other.clone()),
        }
    }

    /// How many levels it has: 1, but for a row.
    pub fn levels(&self) -> usize {
        match self {
            Self::Row { means, .. } => means.len(),
            _ => 1,
        }
    }

    /// The density behind a factor or a measure.
    fn density(&self) -> Option<Density> {
        match self {
            Self::Factor { mean, strength } => Some(Density::Gamma {
                shape: *strength,
                scale: mean / strength,
            }),
            Self::Measure { density } => Some(density.clone()),
            Self::Chance { .. } | Self::Row { .. } => None,
        }
    }

    /// The chance of a value below `x`; of a row, of its first level.
    ///
    /// ```
    /// use oddment::elicit::Fitted;
    /// // Beta(1, 3): 1 - (1 - x)^3.
    /// let chance = Fitted::Chance { mean: 0.25, strength: 4.0 };
    /// assert!((chance.below(0.5) - 0.875).abs() < 1e-14);
    /// ```
    pub fn below(&self, x: f64) -> f64 {
        match (self.level(0), self.density()) {
            (Some(Self::Chance { mean, strength }), _) => beta_below(x, mean, strength),
            (_, Some(density)) => density.cdf(x).unwrap_or(f64::NAN),
            _ => f64::NAN,
        }
    }

    /// The value that is stayed below with the chance `p`, strictly between 0 and 1; of a row, of
    /// its first level.
    ///
    /// ```
    /// use oddment::elicit::Fitted;
    /// let chance = Fitted::Chance { mean: 0.25, strength: 4.0 };
    /// assert!((chance.quantile(0.875) - 0.5).abs() < 1e-13);
    /// ```
    pub fn quantile(&self, p: f64) -> f64 {
        match (self.level(0), self.density()) {
            (Some(Self::Chance { mean, strength }), _) => beta_quantile(p, mean, strength),
            (_, Some(density)) => density.quantile(p).unwrap_or(f64::NAN),
            _ => f64::NAN,
        }
    }

    /// The mean; of a row, of its first level; of a t with one degree of freedom or less, none.
    pub fn mean(&self) -> Option<f64> {
        match (self.level(0), self.density()) {
            (Some(Self::Chance { mean, .. }), _) => Some(mean),
            (_, Some(density)) => density.mean().ok(),
            _ => None,
        }
    }

    /// How many of twenty pieces would show it: for a chance, the beta-binomial distribution.
    ///
    /// ```text
    /// P(k) = C(n, k) B(a + k, b + n - k) / B(a, b)
    /// ```
    ///
    /// ```
    /// use oddment::elicit::Fitted;
    /// // Beta(1, 1): every count from 0 to 20 is equally likely.
    /// let pieces = Fitted::Chance { mean: 0.5, strength: 2.0 }.pieces().unwrap();
    /// assert_eq!((pieces.expected, pieces.low, pieces.high), (10.0, 1, 19));
    /// assert!((pieces.none - 1.0 / 21.0).abs() < 1e-15);
    /// ```
    pub fn pieces(&self) -> Option<Pieces> {
        let Self::Chance { mean, .. } = self else {
            return None;
        };
        let (a, b) = self.shapes()?;
        let chances = count_chances(a.max(1e-9), b.max(1e-9));
        let reaching = |wanted: f64| {
            let mut sum = 0.0;
            let place = chances.iter().position(|chance| {
                sum += chance;
                sum >= wanted
            });
            place.unwrap_or(chances.len() - 1) as u32
        };
        Some(Pieces {
            expected: mean * f64::from(PICTURED),
            low: reaching(0.05),
            high: reaching(0.95),
            none: chances[0],
        })
    }

    /// A small picture: seven to twenty stretches of equal, round width that hold 99 in 100 of it.
    ///
    /// ```
    /// use oddment::elicit::Fitted;
    /// let bars = Fitted::Chance { mean: 0.3, strength: 38.0 }.picture();
    /// assert!((0.98..=1.0).contains(&bars.iter().map(|bar| bar.share).sum::<f64>()));
    /// ```
    pub fn picture(&self) -> Vec<Bar> {
        let (low, high) = (self.quantile(0.005), self.quantile(0.995));
        let width = high - low;
        if !(width.is_finite() && width > 0.0) {
            return Vec::new();
        }
        let step = round_step(width / 7.0);
        let first = (low / step).floor();
        let count = ((high / step).ceil() - first).clamp(1.0, 40.0) as u32;
        let edge = |place: u32| (first + f64::from(place)) * step;
        (0..count)
            .map(|place| {
                let (from, to) = (edge(place), edge(place + 1));
                let share = (self.below(to) - self.below(from)).max(0.0);
                Bar { from, to, share }
            })
            .collect()
    }

    /// As a pack states it, in TOML: a number, a density, or a row with the strength of its entry.
    ///
    /// ```
    /// use oddment::elicit::Fitted;
    /// let chance = Fitted::Chance { mean: 0.30254, strength: 38.301 };
    /// assert_eq!(chance.toml(), r#"{ mean = 0.303, strength = 38.3, source = "elicited" }"#);
    /// ```
    pub fn toml(&self) -> String {
        match self {
            Self::Chance { mean, strength } => format!(
                "{{ mean = {}, strength = {}, source = \"elicited\" }}",
                chance_figure(*mean),
                figures(*strength)
            ),
            Self::Factor { mean, strength } => format!(
                "{{ mean = {}, strength = {}, source = \"elicited\" }}",
                figures(*mean),
                figures(*strength)
            ),
            Self::Measure { density } => density_toml(density),
            Self::Row { means, .. } => {
                let shown: Vec<String> = row_figures(means);
                format!("[{}]", shown.join(", "))
            }
        }
    }

    /// What it is, for messages.
    pub(super) fn kind(&self) -> String {
        match self {
            Self::Chance { .. } => "a chance".to_owned(),
            Self::Factor { .. } => "a factor".to_owned(),
            Self::Measure { .. } => "a measure".to_owned(),
            Self::Row { means, .. } => format!("a row of {} levels", means.len()),
        }
    }

    /// A chance from how many showed it of how many were looked at, on top of a start.
    pub(super) fn of_count(
        [found, looked]: [f64; 2],
        start: super::Start,
    ) -> Result<Self, ElicitError> {
        let whole = |x: f64| (0.0..=1e6).contains(&x) && x.fract() == 0.0;
        if !whole(found) || !whole(looked) || found > looked || looked < 1.0 {
            return Err(ElicitError::Count { found, looked });
        }
        let each = start.pieces();
        Ok(Self::of_shapes(found + each, looked - found + each))
    }
}

/// The chances of 0 to [`PICTURED`] pieces.
fn count_chances(a: f64, b: f64) -> Vec<f64> {
    let n = f64::from(PICTURED);
    let mut chance = (0..PICTURED)
        .map(f64::from)
        .fold(1.0, |product, i| product * ((b + i) / (a + b + i)));
    let mut chances = vec![chance];
    for k in (0..PICTURED).map(f64::from) {
        chance *= (n - k) / (k + 1.0) * ((a + k) / (b + n - k - 1.0));
        chances.push(chance);
    }
    let total: f64 = chances.iter().sum();
    chances.iter().map(|chance| chance / total).collect()
}

/// The greatest of 1, 2 and 5 times a power of ten that is no more than this.
fn round_step(most: f64) -> f64 {
    let power = libm::pow(10.0, libm::floor(libm::log10(most)));
    let steps = [5.0, 2.0, 1.0].map(|times| times * power);
    // The last is the power itself, unless rounding of the logarithm made it too great.
    steps
        .into_iter()
        .find(|step| *step <= most)
        .unwrap_or(0.5 * power)
}

/// A number to three figures, as it is printed for a pack.
///
/// ```
/// use oddment::elicit::figures;
/// assert_eq!([0.012345, 38.301, -7.0].map(figures), ["0.0123", "38.3", "-7"]);
/// ```
pub fn figures(value: f64) -> String {
    let decimals = decimals_for(value.abs());
    trimmed(value, decimals)
}

/// A chance to three figures of what it is from 0 or 1, whichever is nearer.
pub(super) fn chance_figure(mean: f64) -> String {
    let decimals = decimals_for(mean.min(1.0 - mean)).min(9);
    let least = libm::pow(10.0, -(decimals as f64));
    // A chance that is not 0 or 1 must not become one by rounding.
    trimmed(mean.clamp(least, 1.0 - least), decimals)
}

/// Decimals that show three figures.
fn decimals_for(size: f64) -> usize {
    if size.is_nan() || size <= 1e-12 {
        return 9;
    }
    // What rounds up to one digit more needs one decimal less, which trimming sees to.
    let exponent = libm::floor(libm::log10(size)) as i32;
    (2 - exponent).clamp(0, 12) as usize
}

fn trimmed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.contains('.') {
        // TOML reads a number without a point as well.
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// Chances to four decimals that still sum to one.
pub(super) fn row_figures(means: &[f64]) -> Vec<String> {
    const UNITS: f64 = 10_000.0;
    let mut counts: Vec<i64> = means
        .iter()
        .map(|mean| ((mean * UNITS).round() as i64).max(1))
        .collect();
    let over = counts.iter().sum::<i64>() - UNITS as i64;
    // What rounding left over goes where it matters least.
    if let Some(greatest) = counts.iter_mut().max() {
        *greatest -= over;
    }
    let shown = counts.iter().map(|count| *count as f64 / UNITS);
    shown.map(figure).collect()
}

/// A density as packs write it.
pub(super) fn density_toml(density: &Density) -> String {
    let write = |family: &str, fields: &[(&str, f64)]| {
        let fields: Vec<String> = fields
            .iter()
            .map(|(name, value)| format!("{name} = {}", figures(*value)))
            .collect();
        format!("{{ family = \"{family}\", {} }}", fields.join(", "))
    };
    match density {
        Density::Normal { mean, sd } => write("normal", &[("mean", *mean), ("sd", *sd)]),
        Density::LogNormal { median, spread } => {
            // A spread close to 1 is told by what it has above 1.
            let spread = format!("{:.*}", decimals_for(spread - 1.0).max(3), spread);
            let spread = spread.trim_end_matches('0').trim_end_matches('.');
            format!(
                "{{ family = \"log-normal\", median = {}, spread = {spread} }}",
                figures(*median)
            )
        }
        Density::Gamma { shape, scale } => write("gamma", &[("shape", *shape), ("scale", *scale)]),
        Density::StudentT {
            location,
            scale,
            degrees,
        } => write(
            "student-t",
            &[
                ("location", *location),
                ("scale", *scale),
                ("degrees", *degrees),
            ],
        ),
        Density::HalfNormal { scale } => write("half-normal", &[("scale", *scale)]),
        Density::Uniform { low, high } => write("uniform", &[("low", *low), ("high", *high)]),
        Density::Mixture { parts } => {
            let parts: Vec<String> = parts
                .iter()
                .map(|part| {
                    format!(
                        "  {{ weight = {}, density = {} }},\n",
                        part.weight,
                        density_toml(&part.density)
                    )
                })
                .collect();
            format!("{{ family = \"mixture\", parts = [\n{}] }}", parts.concat())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_keep_what_matters_and_never_make_a_certainty() {
        let shown = [0.302_54, 0.000_012_34, 0.999_987_6, 0.5, 1e-12].map(chance_figure);
        assert_eq!(
            shown,
            ["0.303", "0.0000123", "0.9999876", "0.5", "0.000000001"]
        );
        assert_eq!(
            [38.301, 1234.5, 0.0, 7.0].map(figures),
            ["38.3", "1234", "0", "7"]
        );
    }

    #[test]
    fn rows_sum_to_one_as_written() {
        let row = Fitted::Row {
            means: vec![1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0],
            strength: 9.0,
        };
        let written: toml::Table = format!("row = {}", row.toml()).parse().unwrap();
        let chances = written["row"].as_array().unwrap();
        let sum: f64 = chances.iter().map(|x| x.as_float().unwrap()).sum();
        assert!((sum - 1.0).abs() < 1e-9, "{}", row.toml());
    }

    #[test]
    fn steps_are_round() {
        let steps = [0.013, 0.02, 4.99, 1000.0, 7e-8].map(round_step);
        for (step, want) in steps.iter().zip([0.01, 0.02, 2.0, 1000.0, 5e-8]) {
            assert!((step / want - 1.0).abs() < 1e-12, "{step} {want}");
        }
    }
}
