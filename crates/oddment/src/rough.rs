//! How a reading's likelihood changes when what is expected of the measure is moved a little: a
//! quick rule for sensitivity, exact where nothing is moved.

use crate::case::{Reading, Value};
use crate::density::Density;

/// Nodes and weights of ten-point Gauss-Hermite quadrature, positive nodes only, for the weight
/// `exp(-x^2)`: Abramowitz and Stegun, 1964, Handbook of Mathematical Functions, table 25.10 (from
/// memory, unverified; a test integrates powers with them).
const NODES: [(f64, f64); 5] = [
    (0.342_901_327_223_704_6, 0.610_862_633_735_325_8),
    (1.036_610_829_789_513_6, 0.240_138_611_082_314_7),
    (1.756_683_649_299_881_8, 0.033_874_394_455_481_06),
    (2.532_731_674_232_789_7, 0.001_343_645_746_781_232_7),
    (3.436_159_118_837_737_4, 7.640_432_855_232_62e-6),
];

/// Mean of a function over a normal error around a value.
fn over_error(at: f64, error: f64, of: impl Fn(f64) -> f64) -> f64 {
    if error == 0.0 {
        return of(at);
    }
    let width = std::f64::consts::SQRT_2 * error;
    let sum: f64 = NODES
        .iter()
        .map(|(node, weight)| weight * (of(at - width * node) + of(at + width * node)))
        .sum();
    // The weights sum to the square root of pi.
    sum * std::f64::consts::FRAC_2_SQRT_PI * 0.5
}

/// The likelihood of a reading with an instrument error, by a ten-point rule over the error: good
/// to about a hundredth unless the error is much coarser than the density.
pub(crate) fn rough_likelihood(density: &Density, reading: &Reading, error: f64) -> f64 {
    match reading.value {
        Value::Exactly(value) => over_error(value, error, |x| density.pdf(x).unwrap_or(0.0)),
        Value::Between(low, high) => {
            let below = |limit: Option<f64>, beyond: f64| match limit {
                Some(limit) => over_error(limit, error, |x| density.cdf(x).unwrap_or(0.0)),
                None => beyond,
            };
            (below(high, 1.0) - below(low, 0.0)).max(0.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_integrates_even_powers_of_a_normal_error() {
        // Moments of the standard normal: 1, 1, 3, 15, 105.
        for (power, moment) in [(0, 1.0), (2, 1.0), (4, 3.0), (6, 15.0), (8, 105.0)] {
            let mean = over_error(0.0, 1.0, |x| (0..power).fold(1.0, |product, _| product * x));
            assert!((mean - moment).abs() < 1e-9 * moment, "{power}: {mean}");
        }
    }

    #[test]
    fn it_is_near_the_exact_likelihood_of_a_smooth_density() {
        let density = Density::StudentT {
            location: 14.0,
            scale: 5.5,
            degrees: 6.0,
        };
        let reading = Reading {
            measure: 0,
            value: Value::Exactly(9.0),
            error: 2.0,
            visit: 0,
            note: None,
        };
        let exact = density.density_at(9.0, 2.0).unwrap_or(f64::NAN);
        let rough = rough_likelihood(&density, &reading, 2.0);
        assert!((rough / exact - 1.0).abs() < 1e-4, "{rough} {exact}");
    }
}
