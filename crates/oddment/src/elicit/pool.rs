//! Several people's distributions of one number, put together.

use super::fitted::Fitted;
use crate::density::{Density, Part};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How opinions are put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PoolKind {
    /// The weighted mean of the distributions: as wide as the opinions differ.
    #[default]
    Linear,
    /// Their weighted geometric mean: what they have in common.
    Logarithmic,
}

/// Whether several opinions agree.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Agreement {
    /// Everybody's median lies within everybody else's 90 % range.
    Agree,
    /// Somebody's median lies outside somebody else's 90 % range.
    Differ,
    /// Two 90 % ranges have nothing in common.
    Contradict,
}

/// Several opinions put together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ElicitedPool {
    /// The weighted mean of the distributions, as one distribution of the same kind (of the same
    /// mean and variance); of measures, the mixture itself.
    pub linear: Fitted,
    /// The weighted geometric mean; of measures only where all are of one family that it stays in.
    pub logarithmic: Option<Fitted>,
    /// Whether they agree.
    pub agreement: Agreement,
    /// The two that are furthest apart, unless all agree, and on which level of a row.
    pub apart: Option<(String, String)>,
    /// The share of the linear pool's variance that is between opinions and not within them, 0 to
    /// 1; the greatest of a row's levels.
    pub between: f64,
}

/// An opinion to be pooled: whose, its share of the weight, and what it is.
pub(super) type Held<'a> = (&'a str, f64, &'a Fitted);

/// Pools two or more opinions of one kind whose weights sum to one.
///
/// ```text
/// linear       sum of w f(x); its mean is sum w m, its variance sum w (v + m^2) less that squared
/// logarithmic  product of f(x)^w, normalised: Beta(sum w a, sum w b), and so on for shapes and
///              rates, Dirichlet parameters, precisions
/// ```
pub(super) fn pool(held: &[Held<'_>]) -> ElicitedPool {
    let (agreement, apart) = agreement(held);
    let levels = held.first().map_or(0, |(_, _, fitted)| fitted.levels());
    let between = (0..levels).map(|level| between(held, level));
    ElicitedPool {
        linear: linear(held),
        logarithmic: logarithmic(held),
        agreement,
        apart,
        between: between.fold(0.0, f64::max),
    }
}

/// The weighted sum of something.
fn weighted(held: &[Held<'_>], of: impl Fn(&Fitted) -> f64) -> f64 {
    held.iter()
        .map(|(_, weight, fitted)| weight * of(fitted))
        .sum()
}

/// Mean and variance of a level of an opinion; of measures where there are any.
fn moments(fitted: &Fitted, level: usize) -> (f64, f64) {
    match fitted.level(level) {
        Some(Fitted::Chance { mean, strength }) => (mean, mean * (1.0 - mean) / (strength + 1.0)),
        Some(Fitted::Factor { mean, strength }) => (mean, mean * mean / strength),
        // By quantiles, which every family has: as if normal.
        Some(measure @ Fitted::Measure { .. }) => {
            let half = 0.5 * (measure.quantile(0.95) - measure.quantile(0.05));
            let deviation = half / crate::spread::NORMAL_95;
            (measure.quantile(0.5), deviation * deviation)
        }
        _ => (f64::NAN, f64::NAN),
    }
}

/// Mean of the pool's level, and the parts of its variance within and between opinions.
fn parts(held: &[Held<'_>], level: usize) -> (f64, f64, f64) {
    let mean = weighted(held, |fitted| moments(fitted, level).0);
    let within = weighted(held, |fitted| moments(fitted, level).1);
    let between = weighted(held, |fitted| {
        let off = moments(fitted, level).0 - mean;
        off * off
    });
    (mean, within, between)
}

fn between(held: &[Held<'_>], level: usize) -> f64 {
    let (_, within, between) = parts(held, level);
    if between > 0.0 {
        between / (within + between)
    } else {
        0.0
    }
}

/// A strength that rounding must not bring to nothing where opinions are as far apart as can be.
fn positive(strength: f64) -> f64 {
    strength.max(1e-3)
}

fn linear(held: &[Held<'_>]) -> Fitted {
    let (mean, within, between) = parts(held, 0);
    let variance = within + between;
    match held.first().map(|(_, _, fitted)| *fitted) {
        Some(Fitted::Chance { .. }) => Fitted::Chance {
            mean,
            strength: positive(mean * (1.0 - mean) / variance - 1.0),
        },
        Some(Fitted::Factor { .. }) => Fitted::Factor {
            mean,
            strength: mean * mean / variance,
        },
        Some(Fitted::Row { means, .. }) => {
            let levels: Vec<(f64, f64, f64)> =
                (0..means.len()).map(|level| parts(held, level)).collect();
            let spread: f64 = levels.iter().map(|(mean, ..)| mean * (1.0 - mean)).sum();
            let variance: f64 = levels
                .iter()
                .map(|(_, within, between)| within + between)
                .sum();
            Fitted::Row {
                means: levels.into_iter().map(|(mean, ..)| mean).collect(),
                strength: positive(spread / variance - 1.0),
            }
        }
        Some(Fitted::Measure { .. }) | None => Fitted::Measure {
            density: Density::Mixture {
                parts: held
                    .iter()
                    .filter_map(|(_, weight, fitted)| match fitted {
                        Fitted::Measure { density } => Some(Part {
                            weight: *weight,
                            density: density.clone(),
                        }),
                        _ => None,
                    })
                    .collect(),
            },
        },
    }
}

fn logarithmic(held: &[Held<'_>]) -> Option<Fitted> {
    match held.first().map(|(_, _, fitted)| *fitted)? {
        Fitted::Chance { .. } => {
            let shape = |side: fn((f64, f64)) -> f64| {
                weighted(held, |fitted| fitted.shapes().map_or(f64::NAN, side))
            };
            Some(Fitted::of_shapes(shape(|(a, _)| a), shape(|(_, b)| b)))
        }
        Fitted::Factor { .. } => {
            let of = |side: fn((f64, f64)) -> f64| {
                weighted(held, |fitted| fitted.shapes().map_or(f64::NAN, side))
            };
            let (shape, rate) = (of(|(shape, _)| shape), of(|(_, rate)| rate));
            Some(Fitted::Factor {
                mean: shape / rate,
                strength: shape,
            })
        }
        Fitted::Row { means, .. } => {
            let parameter = |level| {
                weighted(held, |fitted| {
                    let mean = fitted.level(level).and_then(|level| level.mean());
                    mean.unwrap_or(f64::NAN) * fitted.strength().unwrap_or(f64::NAN)
                })
            };
            let parameters: Vec<f64> = (0..means.len()).map(parameter).collect();
            let strength: f64 = parameters.iter().sum();
            Some(Fitted::Row {
                means: parameters.iter().map(|x| x / strength).collect(),
                strength,
            })
        }
        Fitted::Measure { .. } => logarithmic_measure(held),
    }
}

/// Of measures of one family that the geometric mean stays in.
fn logarithmic_measure(held: &[Held<'_>]) -> Option<Fitted> {
    let densities: Vec<(f64, &Density)> = held
        .iter()
        .filter_map(|(_, weight, fitted)| match fitted {
            Fitted::Measure { density } => Some((*weight, density)),
            _ => None,
        })
        .collect();
    // Place and variance in the coordinate in which all of them are normal.
    let normal = |of: fn(&Density) -> Option<(f64, f64)>| -> Option<(f64, f64)> {
        let (mut precision, mut sum) = (0.0, 0.0);
        for (weight, density) in &densities {
            let (place, deviation) = of(density)?;
            precision += weight / (deviation * deviation);
            sum += weight * place / (deviation * deviation);
        }
        Some((sum / precision, 1.0 / precision.sqrt()))
    };
    let plain = normal(|density| match density {
        Density::Normal { mean, sd } => Some((*mean, *sd)),
        _ => None,
    });
    let logs = normal(|density| match density {
        Density::LogNormal { median, spread } => Some((libm::log(*median), libm::log(*spread))),
        _ => None,
    });
    let gammas =
        densities.iter().try_fold(
            (0.0, 0.0),
            |(shapes, rates), (weight, density)| match density {
                Density::Gamma { shape, scale } => {
                    Some((shapes + weight * shape, rates + weight / scale))
                }
                _ => None,
            },
        );
    let density = match (plain, logs, gammas) {
        (Some((mean, sd)), ..) => Density::Normal { mean, sd },
        (_, Some((place, deviation)), _) => Density::LogNormal {
            median: libm::exp(place),
            spread: libm::exp(deviation),
        },
        (.., Some((shape, rate))) => Density::Gamma {
            shape,
            scale: 1.0 / rate,
        },
        _ => return None,
    };
    Some(Fitted::Measure { density })
}

/// The 5, 50 and 95 % values of one level of an opinion.
type Range = [f64; 3];

/// How far the two furthest apart are, on any level.
fn agreement(held: &[Held<'_>]) -> (Agreement, Option<(String, String)>) {
    // Found once each: there may be many pairs.
    let ranges: Vec<Vec<Range>> = held.iter().map(|(_, _, fitted)| ranges(fitted)).collect();
    let mut worst = (Agreement::Agree, None, 0.0);
    for (place, one) in ranges.iter().enumerate() {
        for (further, other) in ranges.iter().enumerate().skip(place + 1) {
            for (one, other) in one.iter().zip(other) {
                let (agreement, apart) = agreement_of(*one, *other);
                let wider = agreement == worst.0 && apart > worst.2;
                if agreement > worst.0 || (wider && agreement > Agreement::Agree) {
                    worst = (agreement, Some((place, further)), apart);
                }
            }
        }
    }
    let name = |place: usize| held[place].0.to_owned();
    (
        worst.0,
        worst.1.map(|(one, other)| (name(one), name(other))),
    )
}

fn ranges(fitted: &Fitted) -> Vec<Range> {
    let levels = (0..fitted.levels()).filter_map(|level| fitted.level(level));
    levels
        .map(|level| [0.05, 0.5, 0.95].map(|p| level.quantile(p)))
        .collect()
}

/// Whether two agree, and by how much of their joint width their medians are apart.
fn agreement_of(
    [low, middle, high]: Range,
    [other_low, other_middle, other_high]: Range,
) -> (Agreement, f64) {
    let width = (high - low) + (other_high - other_low);
    let apart = (middle - other_middle).abs() / width;
    let within = (low..=high).contains(&other_middle) && (other_low..=other_high).contains(&middle);
    let agreement = if within {
        Agreement::Agree
    } else if low > other_high || other_low > high {
        Agreement::Contradict
    } else {
        Agreement::Differ
    };
    (agreement, apart)
}
