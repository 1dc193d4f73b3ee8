//! Fitting distributions to quantile judgements by least squares.
//!
//! ```text
//! sum over judgements of (F(value) - level)^2   made least
//! ```
//!
//! the criterion of the framework of J. E. Oakley and A. O'Hagan (SHELF). The search runs in
//! coordinates in which the unit does not matter, so fits are the same in any unit.

use super::fitted::Fitted;
use super::least_squares::{Bounds, Differences, MOST, least_along, minimise_from};
use super::{ElicitError, Quantiles};
use crate::density::Density;
use crate::draw::beta_below;
use crate::order::sort_by;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The strengths looked for, in pieces.
const STRENGTHS: (f64, f64) = (0.01, 1e5);

/// A difference in the sum of squares that tells no family from another.
const TIE: f64 = 1e-10;

/// A family of densities for a measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Family {
    /// Normal.
    Normal,
    /// Log-normal, of a positive quantity.
    LogNormal,
    /// Gamma, of a positive quantity.
    Gamma,
    /// Student's t with 10 degrees of freedom: tails somewhat heavier than normal.
    StudentT10,
    /// Student's t with 3 degrees of freedom: wild values now and then.
    StudentT3,
}

impl Family {
    /// All of them, those that claim least first: where several fit equally well the first is told.
    pub const ALL: [Self; 5] = [
        Self::Normal,
        Self::LogNormal,
        Self::Gamma,
        Self::StudentT10,
        Self::StudentT3,
    ];

    /// Its name for reading.
    pub fn name(self) -> &'static str {
        match self {
            Self::Normal => "normal",
            Self::LogNormal => "log-normal",
            Self::Gamma => "gamma",
            Self::StudentT10 => "Student's t, 10 degrees of freedom",
            Self::StudentT3 => "Student's t, 3 degrees of freedom",
        }
    }

    /// Whether it is of positive quantities only.
    pub fn is_positive(self) -> bool {
        matches!(self, Self::LogNormal | Self::Gamma)
    }
}

/// A fit and how well it fits.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The distribution.
    pub fitted: Fitted,
    /// The sum of the squared differences between stated levels and those of the fit.
    pub squares: f64,
}

/// The beta distribution closest to quantile judgements of a chance.
///
/// # Errors
/// [`ElicitError::NotAChance`] for a value that is not strictly between 0 and 1.
///
/// ```
/// use oddment::elicit::{Quantiles, fit_chance};
/// let fit = fit_chance(&Quantiles::quartiles([0.25, 0.30, 0.35])?)?;
/// let (a, b) = fit.fitted.shapes().unwrap();
/// assert!((a - 11.588).abs() < 0.01 && (b - 26.712).abs() < 0.01);
/// # Ok::<(), oddment::elicit::ElicitError>(())
/// ```
pub fn fit_chance(stated: &Quantiles) -> Result<Fit, ElicitError> {
    stated.of_chances()?;
    // In the log-odds of the mean and the logarithm of the strength.
    let differences = |[odds, strength]: [f64; 2]| -> Differences {
        let (mean, strength) = (share(odds), libm::exp(strength));
        differ(stated, |x| beta_below(x, mean, strength))
    };
    let (middle, deviation) = stated.line(|x| libm::log(x) - libm::log1p(-x));
    let mean = share(middle);
    // The variance of the log-odds is about 1 / (mean (1 - mean) strength).
    let strength = 1.0 / (mean * (1.0 - mean) * deviation * deviation);
    let starts = [1.0, 0.1, 10.0].map(|times| [middle, ln_within(strength * times, STRENGTHS)]);
    let bounds = [(-25.0, 25.0), ln_bounds(STRENGTHS)];
    let ([odds, strength], squares) = minimise_from(&starts, bounds, &differences);
    let fitted = Fitted::Chance {
        mean: share(odds),
        strength: libm::exp(strength),
    };
    Ok(Fit { fitted, squares })
}

/// The gamma distribution closest to quantile judgements of a positive number of a pack (a factor,
/// an elasticity, a stretch): its shape is the strength.
///
/// # Errors
/// [`ElicitError::NotPositive`] for a value that is not above 0.
///
/// ```
/// use oddment::elicit::{Fitted, Quantiles, fit_factor};
/// let stated = Quantiles::new(&[(0.05, 1.0), (0.5, 1.8), (0.95, 3.0)])?;
/// let Fitted::Factor { mean, strength } = fit_factor(&stated)?.fitted else { unreachable!() };
/// assert!((1.8..2.0).contains(&mean) && (5.0..15.0).contains(&strength));
/// # Ok::<(), oddment::elicit::ElicitError>(())
/// ```
pub fn fit_factor(stated: &Quantiles) -> Result<Fit, ElicitError> {
    let Fit { fitted, squares } = fit_measure(stated, Family::Gamma)?;
    let fitted = match fitted {
        Fitted::Measure {
            density: Density::Gamma { shape, scale },
        } => Fitted::Factor {
            mean: shape * scale,
            strength: shape,
        },
        other => other,
    };
    Ok(Fit { fitted, squares })
}

/// The density of one family closest to quantile judgements of a measure.
///
/// # Errors
/// [`ElicitError::NotPositive`] where the family is of positive quantities and a value is not.
///
/// ```
/// use oddment::density::Density;
/// use oddment::elicit::{Family, Fitted, Quantiles, fit_measure};
/// let stated = Quantiles::quartiles([-0.674489750196, 0.0, 0.674489750196])?;
/// let fit = fit_measure(&stated, Family::Normal)?;
/// let Fitted::Measure { density: Density::Normal { mean, sd } } = fit.fitted else { unreachable!() };
/// assert!(mean.abs() < 1e-9 && (sd - 1.0).abs() < 1e-9);
/// # Ok::<(), oddment::elicit::ElicitError>(())
/// ```
pub fn fit_measure(stated: &Quantiles, family: Family) -> Result<Fit, ElicitError> {
    if family.is_positive() {
        stated.of_positive()?;
    }
    Ok(match family {
        Family::Gamma => fit_gamma(stated),
        Family::LogNormal => {
            let (ln_median, deviation) =
                fit_located(stated, libm::log, &Density::Normal { mean: 0.0, sd: 1.0 });
            let spread = libm::exp(deviation).clamp(1.000_001, 1e6);
            let median = libm::exp(ln_median);
            measure(Density::LogNormal { median, spread }, stated)
        }
        Family::Normal => {
            let (mean, sd) = fit_located(stated, |x| x, &Density::Normal { mean: 0.0, sd: 1.0 });
            measure(Density::Normal { mean, sd }, stated)
        }
        Family::StudentT10 => fit_student(stated, 10.0),
        Family::StudentT3 => fit_student(stated, 3.0),
    })
}

/// Fits of every family that can be, the best first; families that fit equally well stand in the
/// order of [`Family::ALL`].
///
/// # Errors
/// [`ElicitError::NotPositive`] for a `positive` quantity with a value that is not above 0.
///
/// ```
/// use oddment::elicit::{Family, Quantiles, fit_measures};
/// let skew = Quantiles::new(&[(0.05, 1.0), (0.5, 4.0), (0.95, 16.0)])?;
/// assert_eq!(fit_measures(&skew, true)?[0].0, Family::LogNormal);
/// # Ok::<(), oddment::elicit::ElicitError>(())
/// ```
pub fn fit_measures(stated: &Quantiles, positive: bool) -> Result<Vec<(Family, Fit)>, ElicitError> {
    if positive {
        stated.of_positive()?;
    }
    let all_positive = stated.of_positive().is_ok();
    let mut fits = Vec::new();
    for family in Family::ALL {
        if (family.is_positive() && all_positive) || (!family.is_positive() && !positive) {
            fits.push((family, fit_measure(stated, family)?));
        }
    }
    // Rounded to what tells families apart, so that the order does not hang on the last bits.
    sort_by(&mut fits, |(_, one), (_, other)| {
        let round = |fit: &Fit| (fit.squares / TIE).round();
        round(one).total_cmp(&round(other))
    });
    Ok(fits)
}

/// The Dirichlet distribution closest to judgements of each level of a row.
///
/// Each level is fitted a beta distribution by itself; the means are those, normalised, and the
/// strength is that with the least sum of squares over all judgements, the means held. Also told is
/// what the means summed to before.
///
/// # Errors
/// [`ElicitError::Levels`] for fewer than three levels or more than nine,
/// [`ElicitError::NotAChance`].
///
/// ```
/// use oddment::elicit::{Fitted, Quantiles, fit_row};
/// let levels = [[0.5, 0.6, 0.7], [0.2, 0.27, 0.35], [0.07, 0.12, 0.19]].map(Quantiles::quartiles);
/// let levels: Vec<Quantiles> = levels.into_iter().collect::<Result<_, _>>()?;
/// let (fit, sum) = fit_row(&levels)?;
/// let Fitted::Row { means, strength } = fit.fitted else { unreachable!() };
/// assert!((means.iter().sum::<f64>() - 1.0).abs() < 1e-12 && (sum - 1.0).abs() < 0.05);
/// assert!((5.0..20.0).contains(&strength));
/// # Ok::<(), oddment::elicit::ElicitError>(())
/// ```
pub fn fit_row(levels: &[Quantiles]) -> Result<(Fit, f64), ElicitError> {
    check_levels(levels.len())?;
    let mut means = Vec::new();
    for level in levels {
        means.extend(fit_chance(level)?.fitted.mean());
    }
    let sum: f64 = means.iter().sum();
    means.iter_mut().for_each(|mean| *mean /= sum);
    let squares = |ln_strength: f64| -> f64 {
        let strength = libm::exp(ln_strength);
        let levels = levels.iter().zip(&means);
        levels
            .flat_map(|(level, mean)| differ(level, |x| beta_below(x, *mean, strength)))
            .map(|difference| difference * difference)
            .sum()
    };
    let ln_strength = least_along(ln_bounds(STRENGTHS), &squares);
    let squares = squares(ln_strength);
    let strength = libm::exp(ln_strength);
    let fitted = Fitted::Row { means, strength };
    Ok((Fit { fitted, squares }, sum))
}

/// A row from counts of each level, on top of a start.
pub(super) fn row_of_counts(counts: &[f64], start: super::Start) -> Result<Fitted, ElicitError> {
    check_levels(counts.len())?;
    let looked: f64 = counts.iter().sum();
    for count in counts {
        // Each count by itself is one of so many in all.
        Fitted::of_count([*count, looked], start)?;
    }
    let each = start.pieces();
    let strength = looked + each * counts.len() as f64;
    let means = counts.iter().map(|count| (count + each) / strength);
    Ok(Fitted::Row {
        means: means.collect(),
        strength,
    })
}

fn check_levels(given: usize) -> Result<(), ElicitError> {
    if (3..=9).contains(&given) {
        Ok(())
    } else {
        Err(ElicitError::Levels { given })
    }
}

fn measure(density: Density, stated: &Quantiles) -> Fit {
    let fitted = Fitted::Measure { density };
    let differences = differ(stated, |x| fitted.below(x));
    let squares = differences.iter().map(|x| x * x).sum();
    Fit { fitted, squares }
}

fn fit_student(stated: &Quantiles, degrees: f64) -> Fit {
    let unit = Density::StudentT {
        location: 0.0,
        scale: 1.0,
        degrees,
    };
    let (location, scale) = fit_located(stated, |x| x, &unit);
    let density = Density::StudentT {
        location,
        scale,
        degrees,
    };
    measure(density, stated)
}

/// Location and scale, in a coordinate, of a family given by its unit member.
fn fit_located(stated: &Quantiles, coordinate: impl Fn(f64) -> f64, unit: &Density) -> (f64, f64) {
    // From 0 at the lowest judgement to 1 at the highest.
    let ends = [0, stated.points().len() - 1].map(|place| coordinate(stated.points()[place].1));
    let width = (ends[1] - ends[0]).max(f64::MIN_POSITIVE);
    let inner = |x: f64| (coordinate(x) - ends[0]) / width;
    let differences = |[location, ln_scale]: [f64; 2]| -> Differences {
        let scale = libm::exp(ln_scale);
        differ(stated, |x| {
            unit.cdf((inner(x) - location) / scale).unwrap_or(f64::NAN)
        })
    };
    let (middle, deviation) = stated.line(inner);
    let starts = [1.0, 0.3, 3.0].map(|times| [middle, libm::log((deviation * times).max(1e-6))]);
    let bounds: Bounds = [(-100.0, 100.0), (-14.0, 10.0)];
    let ([location, ln_scale], _) = minimise_from(&starts, bounds, &differences);
    (ends[0] + location * width, libm::exp(ln_scale) * width)
}

/// In logarithms of the shape and of the mean, the latter over the middle of the judgements.
fn fit_gamma(stated: &Quantiles) -> Fit {
    let (ln_middle, deviation) = stated.line(libm::log);
    let middle = libm::exp(ln_middle);
    let differences = |[ln_shape, ln_mean]: [f64; 2]| -> Differences {
        let shape = libm::exp(ln_shape);
        let unit = Density::Gamma {
            shape,
            scale: libm::exp(ln_mean) / shape,
        };
        differ(stated, |x| unit.cdf(x / middle).unwrap_or(f64::NAN))
    };
    // The variance of the logarithm is about 1 / shape.
    let shape = 1.0 / (deviation * deviation);
    // Within what a density may have, by more than rounding.
    let shapes = (1.01 * STRENGTHS.0, 0.99 * STRENGTHS.1);
    let starts = [1.0, 0.1, 10.0].map(|times| {
        let shape = ln_within(shape * times, shapes);
        [shape, 0.5 * libm::exp(-shape).min(10.0)]
    });
    let bounds = [ln_bounds(shapes), (-20.0, 20.0)];
    let ([ln_shape, ln_mean], _) = minimise_from(&starts, bounds, &differences);
    let shape = libm::exp(ln_shape);
    let scale = libm::exp(ln_mean) / shape * middle;
    measure(Density::Gamma { shape, scale }, stated)
}

fn differ(stated: &Quantiles, below: impl Fn(f64) -> f64) -> Differences {
    let mut differences = [0.0; MOST];
    for (difference, (level, value)) in differences.iter_mut().zip(stated.points()) {
        *difference = below(*value) - level;
    }
    differences
}

/// The share with these log-odds.
fn share(log_odds: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-log_odds))
}

fn ln_bounds((low, high): (f64, f64)) -> (f64, f64) {
    (libm::log(low), libm::log(high))
}

fn ln_within(value: f64, bounds: (f64, f64)) -> f64 {
    let (low, high) = ln_bounds(bounds);
    libm::log(value).clamp(low, high)
}
