//! Likelihood families for a measured sign, with the instrument's error folded
//! in.
//!
//! A measurement (millimetres out of round, saw marks to the inch, a moisture
//! percentage) is never read exactly. Every evaluation here therefore comes in
//! two forms: of the *true* value ([`Density::pdf`], [`Density::cdf`]) and of
//! the *observed* value
//!
//! ```text
//! Y = X + E,   X ~ the family,   E ~ N(0, sigma^2) independent of X
//! f_Y(y) = integral f_X(t) phi((y - t) / sigma) / sigma dt
//! ```
//!
//! as [`Density::density_at`] for a reading and
//! [`Density::probability_between`] for a censored one ("under 2 mm", "more than
//! fits the gauge").
//!
//! Normal families, and the densities of half-normal and uniform ones, have
//! closed forms. The rest is integrated by a globally adaptive Gauss-Kronrod
//! rule in a coordinate in which the family is smooth, cut at the places where
//! either the family or the error changes character, so that an instrument much
//! coarser or much finer than the family does no harm. The relative error is
//! below 1e-12 (checked against 50-digit arithmetic), deep tails included.
//! Only `+ - * / sqrt` and `libm` are used, so results have the same bits
//! natively and in WebAssembly.
//!
//! Parameters are held to wide but finite ranges (locations within
//! ±[`LARGEST`], scales from [`SMALLEST_SCALE`] to [`LARGEST`]), which is what
//! keeps every intermediate value a number.
//!
//! ```
//! use oddment::density::Density;
//!
//! // True out-of-round 8 ± 4 mm, callipers good to 3 mm: observed 8 ± 5 mm.
//! let tops = Density::Normal { mean: 8.0, sd: 4.0 };
//! let seen = tops.density_at(8.0, 3.0)?;
//! assert!((seen - 0.0797884560802865).abs() < 1e-15);
//! # Ok::<(), oddment::density::DensityError>(())
//! ```

mod error;
mod kernel;
mod quadrature;
pub(crate) mod special;
#[cfg(test)]
mod tests;
mod written;

pub use error::DensityError;
use error::{LOCATION, SCALE, check, check_order, check_sigma};
use kernel::Leaf;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Largest magnitude of a location, a scale or a reading (any unit).
pub const LARGEST: f64 = 1e100;
/// Smallest scale parameter or non-zero instrument error (any unit).
pub const SMALLEST_SCALE: f64 = 1e-100;
/// Deepest nesting of mixtures: a mixture of mixtures of mixtures.
pub const DEEPEST_MIXTURE: usize = 3;
/// Most simple families in one density, all levels of mixture together.
pub const MOST_PARTS: usize = 64;
/// How far the weights of a mixture may be from summing to 1.
pub const WEIGHT_TOLERANCE: f64 = 1e-9;

/// A continuous likelihood family for one measurement.
///
/// Lengths, scales and readings share whatever unit the sign is measured in.
/// Written in a file as a table with the tag `family`:
///
/// ```
/// use oddment::density::Density;
///
/// let text = r#"{ "family": "mixture", "parts": [
///     { "weight": 0.7, "density": { "family": "normal", "mean": 8, "sd": 4 } },
///     { "weight": 0.3, "density": { "family": "half-normal", "scale": 1 } } ] }"#;
/// let density: Density = serde_json::from_str(text).unwrap();
/// density.validate().unwrap();
/// assert!((density.mean().unwrap() - 5.839365368240859).abs() < 1e-14);
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "family", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Density {
    /// The normal distribution.
    Normal {
        /// Centre, within ±[`LARGEST`].
        mean: f64,
        /// Standard deviation, above 0.
        sd: f64,
    },
    /// A positive quantity whose logarithm is normal.
    LogNormal {
        /// Median, above 0.
        median: f64,
        /// Multiplicative standard deviation: about two thirds of the mass lies
        /// between `median / spread` and `median * spread`. From 1.000001 to
        /// 1,000,000; the standard deviation of the logarithm is `ln(spread)`.
        spread: f64,
    },
    /// The gamma distribution: a positive quantity of mean `shape * scale`.
    Gamma {
        /// Shape, from 0.01 to 1,000,000; below 1 the density is unbounded at 0.
        shape: f64,
        /// Scale, above 0.
        scale: f64,
    },
    /// Student's t, for measurements with the occasional wild value.
    StudentT {
        /// Centre, within ±[`LARGEST`].
        location: f64,
        /// Scale, above 0 (not the standard deviation).
        scale: f64,
        /// Degrees of freedom, from 0.5 to 1,000,000; no mean at or below 1.
        degrees: f64,
    },
    /// The magnitude of a normal deviate, |N(0, scale^2)|: densest at 0.
    HalfNormal {
        /// Standard deviation of the deviate before its sign is dropped, above 0.
        scale: f64,
    },
    /// Equally dense between two limits and zero outside.
    Uniform {
        /// Lower limit, within ±[`LARGEST`].
        low: f64,
        /// Upper limit, above `low`.
        high: f64,
    },
    /// One of several families, each with its share.
    Mixture {
        /// Up to [`MOST_PARTS`] shares summing to 1 within [`WEIGHT_TOLERANCE`].
        parts: Vec<Part>,
    },
}

/// One share of a [`Density::Mixture`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Share of the mixture, from 0 to 1.
    pub weight: f64,
    /// The family that share follows.
    pub density: Density,
}

/// Position of `x` among all finite `f64` in increasing order.
fn ordinal(x: f64) -> i64 {
    let bits = x.to_bits() as i64;
    if bits < 0 { i64::MIN - bits } else { bits }
}

fn from_ordinal(n: i64) -> f64 {
    f64::from_bits(if n < 0 { i64::MIN - n } else { n } as u64)
}

impl Density {
    /// The simple families this density is made of, with their shares.
    fn leaves(&self) -> Result<Vec<(f64, Leaf)>, DensityError> {
        let mut leaves = Vec::with_capacity(1);
        self.collect(1.0, 1, &mut leaves)?;
        Ok(leaves)
    }

    fn collect(
        &self,
        share: f64,
        depth: usize,
        leaves: &mut Vec<(f64, Leaf)>,
    ) -> Result<(), DensityError> {
        let leaf = match *self {
            Self::Normal { mean, sd } => Leaf::Normal {
                mean: check("mean", mean, LOCATION)?,
                sd: check("sd", sd, SCALE)?,
            },
            Self::LogNormal { median, spread } => Leaf::LogNormal {
                median: check("median", median, SCALE)?,
                spread: libm::log(check("spread", spread, (1.000_001, 1e6))?),
            },
            Self::Gamma { shape, scale } => Leaf::gamma(
                check("shape", shape, (0.01, 1e6))?,
                check("scale", scale, SCALE)?,
            ),
            Self::StudentT {
                location,
                scale,
                degrees,
            } => Leaf::student_t(
                check("location", location, LOCATION)?,
                check("scale", scale, SCALE)?,
                check("degrees", degrees, (0.5, 1e6))?,
            ),
            Self::HalfNormal { scale } => Leaf::HalfNormal {
                scale: check("scale", scale, SCALE)?,
            },
            Self::Uniform { low, high } => {
                check("low", low, LOCATION)?;
                check("high", high, LOCATION)?;
                check_order(low, high)?;
                Leaf::Uniform {
                    low,
                    high,
                    width: high - low,
                }
            }
            Self::Mixture { ref parts } => return collect_parts(parts, share, depth, leaves),
        };
        leaves.push((share, leaf));
        Ok(())
    }

    /// Whether some family in it has a centre that can be shifted; the others are positive and can
    /// only be stretched.
    pub fn is_located(&self) -> bool {
        match self {
            Self::Normal { .. } | Self::StudentT { .. } | Self::Uniform { .. } => true,
            Self::LogNormal { .. } | Self::Gamma { .. } | Self::HalfNormal { .. } => false,
            Self::Mixture { parts } => parts.iter().any(|part| part.density.is_located()),
        }
    }

    /// The density with this added to the centre of every family that has one.
    #[must_use]
    pub fn shifted(&self, by: f64) -> Self {
        let mut shifted = self.clone();
        match &mut shifted {
            Self::Normal { mean: centre, .. }
            | Self::StudentT {
                location: centre, ..
            } => {
                *centre += by;
            }
            Self::Uniform { low, high } => {
                *low += by;
                *high += by;
            }
            Self::LogNormal { .. } | Self::Gamma { .. } | Self::HalfNormal { .. } => {}
            Self::Mixture { parts } => {
                for part in parts {
                    part.density = part.density.shifted(by);
                }
            }
        }
        shifted
    }

    /// The density of a positive quantity multiplied by a factor above 0.
    #[must_use]
    pub fn stretched(&self, by: f64) -> Self {
        let mut stretched = self.clone();
        match &mut stretched {
            Self::LogNormal { median: scale, .. }
            | Self::Gamma { scale, .. }
            | Self::HalfNormal { scale } => *scale *= by,
            Self::Normal { .. } | Self::StudentT { .. } | Self::Uniform { .. } => {}
            Self::Mixture { parts } => {
                for part in parts {
                    part.density = part.density.stretched(by);
                }
            }
        }
        stretched
    }

    /// The widest scale among its families that have a centre; the standard deviation of a normal.
    pub(crate) fn widest_scale(&self) -> f64 {
        match self {
            Self::Normal { sd: scale, .. } | Self::StudentT { scale, .. } => *scale,
            // The standard deviation of a uniform quantity is its width over the root of twelve.
            Self::Uniform { low, high } => (high - low) / 12.0_f64.sqrt(),
            Self::LogNormal { .. } | Self::Gamma { .. } | Self::HalfNormal { .. } => 0.0,
            Self::Mixture { parts } => {
                let scales = parts.iter().map(|part| part.density.widest_scale());
                scales.fold(0.0, f64::max)
            }
        }
    }

    /// Checks every parameter, at every level of a mixture.
    ///
    /// All other methods check too; this one reports early.
    ///
    /// # Errors
    /// The first parameter found wrong, by its path.
    ///
    /// ```
    /// use oddment::density::Density;
    ///
    /// let error = Density::Normal { mean: 8.0, sd: -4.0 }.validate().unwrap_err();
    /// assert_eq!(
    ///     error.to_string(),
    ///     "sd is -4.0: it must be a number from 1e-100 to 1e100",
    /// );
    /// ```
    pub fn validate(&self) -> Result<(), DensityError> {
        self.leaves().map(drop)
    }

    /// Density of the true value at `x`, per unit of measurement.
    ///
    /// Zero outside a family's support; at a uniform limit or a half-normal's
    /// zero, the value inside.
    ///
    /// # Errors
    /// A bad parameter, an `x` that is not a number within ±[`LARGEST`], or
    /// [`DensityError::Unbounded`] at the zero of a gamma of shape below 1.
    ///
    /// ```
    /// # use oddment::density::Density;
    /// let gamma = Density::Gamma { shape: 2.0, scale: 3.0 };
    /// // x exp(-x / scale) / scale^2
    /// assert!((gamma.pdf(3.0)? - 0.12262648039048077).abs() < 1e-15);
    /// # Ok::<(), oddment::density::DensityError>(())
    /// ```
    pub fn pdf(&self, x: f64) -> Result<f64, DensityError> {
        self.density_at(x, 0.0)
    }

    /// Probability that the true value is at most `x`.
    ///
    /// # Errors
    /// A bad parameter, or an `x` that is not a number.
    ///
    /// ```
    /// # use oddment::density::Density;
    /// let rare = Density::LogNormal { median: 2.0, spread: 1.5 };
    /// assert!((rare.cdf(3.0)? - 0.8413447460685429).abs() < 1e-15);
    /// # Ok::<(), oddment::density::DensityError>(())
    /// ```
    pub fn cdf(&self, x: f64) -> Result<f64, DensityError> {
        check("x", x, (f64::MIN, f64::MAX))?;
        Ok(self.sum(|leaf| leaf.tails(x).0)?.min(1.0))
    }

    /// Mean of the true value.
    ///
    /// ```text
    /// normal mean; log-normal median exp(ln(spread)^2 / 2); gamma shape scale;
    /// Student location; half-normal scale sqrt(2 / pi); uniform (low + high) / 2
    /// ```
    ///
    /// # Errors
    /// A bad parameter, or [`DensityError::NoMean`] for Student's t with at most
    /// one degree of freedom.
    ///
    /// ```
    /// # use oddment::density::Density;
    /// assert_eq!(Density::Gamma { shape: 2.5, scale: 4.0 }.mean()?, 10.0);
    /// # Ok::<(), oddment::density::DensityError>(())
    /// ```
    pub fn mean(&self) -> Result<f64, DensityError> {
        match self {
            Self::Mixture { parts } => {
                self.validate()?;
                parts.iter().enumerate().try_fold(0.0, |sum, (i, part)| {
                    let mean = part.density.mean().map_err(|e| e.within(i, "density."))?;
                    Ok(sum + part.weight * mean)
                })
            }
            Self::StudentT { degrees, .. } if *degrees <= 1.0 => {
                self.validate()?;
                Err(DensityError::NoMean {
                    parameter: "degrees".to_owned(),
                    degrees: *degrees,
                })
            }
            _ => self.sum(Leaf::mean),
        }
    }

    /// Density of a *reading* `x` taken with an instrument of standard error
    /// `sigma`, per unit of measurement.
    ///
    /// `sigma` is 0 (a perfect instrument, the same as [`Density::pdf`]) or from
    /// [`SMALLEST_SCALE`] to [`LARGEST`], in the unit of `x`. Never negative and
    /// never NaN; it underflows to 0 some 38 standard errors into a normal tail.
    ///
    /// # Errors
    /// A bad parameter, reading or `sigma`; [`DensityError::Unbounded`] as for
    /// [`Density::pdf`].
    ///
    /// ```
    /// # use oddment::density::Density;
    /// // A half-normal seen through an error: readings below zero happen.
    /// let new = Density::HalfNormal { scale: 1.0 };
    /// assert!((new.density_at(-0.5, 0.5)? - 0.1198143416699132).abs() < 1e-15);
    /// # Ok::<(), oddment::density::DensityError>(())
    /// ```
    pub fn density_at(&self, x: f64, sigma: f64) -> Result<f64, DensityError> {
        check("x", x, LOCATION)?;
        check_sigma(sigma)?;
        let density = self.sum(|leaf| {
            if sigma == 0.0 {
                leaf.pdf(x)
            } else {
                leaf.density(x, sigma)
            }
        })?;
        if density.is_finite() {
            Ok(density.max(0.0))
        } else {
            Err(DensityError::Unbounded { value: x })
        }
    }

    /// Probability that a *reading* falls between two bounds, either of which
    /// may be absent: the likelihood of a censored reading.
    ///
    /// `sigma` as for [`Density::density_at`].
    ///
    /// # Errors
    /// A bad parameter, bound or `sigma`, or [`DensityError::Reversed`] where
    /// `low` is not less than `high`.
    ///
    /// ```
    /// # use oddment::density::Density;
    /// let tops = Density::Normal { mean: 8.0, sd: 4.0 };
    /// // "Under 3 mm" with a 3 mm error: one standard deviation below.
    /// let under = tops.probability_between(None, Some(3.0), 3.0)?;
    /// assert!((under - 0.15865525393145705).abs() < 1e-15);
    /// # Ok::<(), oddment::density::DensityError>(())
    /// ```
    pub fn probability_between(
        &self,
        low: Option<f64>,
        high: Option<f64>,
        sigma: f64,
    ) -> Result<f64, DensityError> {
        let from = low.map_or(Ok(f64::NEG_INFINITY), |x| check("low", x, LOCATION))?;
        let to = high.map_or(Ok(f64::INFINITY), |x| check("high", x, LOCATION))?;
        check_sigma(sigma)?;
        check_order(from, to)?;
        let probability = self.sum(|leaf| {
            if sigma == 0.0 || (low.is_none() && high.is_none()) {
                leaf.mass(from, to)
            } else {
                leaf.between(from, to, sigma)
            }
        })?;
        Ok(probability.clamp(0.0, 1.0))
    }

    /// The least `f64` at which [`Density::cdf`] reaches `p`.
    ///
    /// Found by bisection on the ordered bit patterns of `f64`: 64 steps
    /// whatever the family, so a draw by inversion takes a fixed, reproducible
    /// path. `p` must lie strictly between 0 and 1.
    ///
    /// # Errors
    /// A bad parameter, or a `p` outside the open interval.
    ///
    /// ```
    /// # use oddment::density::Density;
    /// let tops = Density::Normal { mean: 8.0, sd: 4.0 };
    /// assert!((tops.quantile(0.975)? - 15.839855938160216).abs() < 1e-12);
    /// # Ok::<(), oddment::density::DensityError>(())
    /// ```
    pub fn quantile(&self, p: f64) -> Result<f64, DensityError> {
        check("p", p, (f64::MIN_POSITIVE, 1.0 - f64::EPSILON / 2.0))?;
        let leaves = self.leaves()?;
        let (mut low, mut high) = (ordinal(f64::MIN), ordinal(f64::MAX));
        while high > low + 1 {
            let middle = i64::midpoint(low, high);
            let x = from_ordinal(middle);
            let below: f64 = leaves
                .iter()
                .map(|(share, leaf)| share * leaf.tails(x).0)
                .sum();
            if below >= p {
                high = middle;
            } else {
                low = middle;
            }
        }
        Ok(from_ordinal(high))
    }
    fn sum(&self, of: impl Fn(&Leaf) -> f64) -> Result<f64, DensityError> {
        let leaves = self.leaves()?;
        // A part of no weight must not turn an infinite density into NaN.
        let weighty = leaves.iter().filter(|(share, _)| *share > 0.0);
        Ok(weighty.map(|(share, leaf)| share * of(leaf)).sum())
    }
}

fn collect_parts(
    parts: &[Part],
    share: f64,
    depth: usize,
    leaves: &mut Vec<(f64, Leaf)>,
) -> Result<(), DensityError> {
    let parameter = || "parts".to_owned();
    if depth > DEEPEST_MIXTURE {
        return Err(DensityError::TooDeep {
            parameter: parameter(),
            depth,
        });
    }
    let count = leaves.len() + parts.len();
    if parts.is_empty() || count > MOST_PARTS {
        return Err(DensityError::Parts {
            parameter: parameter(),
            count,
        });
    }
    let mut sum = 0.0;
    for (i, part) in parts.iter().enumerate() {
        sum += check("weight", part.weight, (0.0, 1.0)).map_err(|e| e.within(i, ""))?;
        part.density
            .collect(share * part.weight, depth + 1, leaves)
            .map_err(|e| e.within(i, "density."))?;
    }
    if (sum - 1.0).abs() > WEIGHT_TOLERANCE {
        return Err(DensityError::Weights {
            parameter: parameter(),
            sum,
        });
    }
    Ok(())
}
