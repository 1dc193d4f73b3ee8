//! Moments and quantiles by simulation from fixed seeds, quantiles against closed forms and
//! 40-digit arithmetic, and the bits themselves.

use super::*;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

const DRAWS: usize = 200_000;

fn rng() -> ChaCha8Rng {
    ChaCha8Rng::seed_from_u64(20)
}

#[track_caller]
fn relative(got: f64, want: f64, tolerance: f64) {
    assert!(
        (got - want).abs() <= tolerance * want.abs(),
        "got {got:?}, want {want:?} to {tolerance:e}"
    );
}

/// Compares mean, variance and a few quantiles of many draws with what they must be, each to four of
/// its standard errors.
#[track_caller]
fn distributed(
    mean: f64,
    variance: f64,
    kurtosis: f64,
    quantile: impl Fn(f64) -> f64,
    mut one: impl FnMut(&mut ChaCha8Rng) -> f64,
) {
    let mut rng = rng();
    let draws: Vec<f64> = (0..DRAWS).map(|_| one(&mut rng)).collect();
    let n = DRAWS as f64;
    let found: f64 = draws.iter().sum::<f64>() / n;
    let error = (variance / n).sqrt();
    assert!((found - mean).abs() < 4.0 * error, "mean {found} of {mean}");
    let spread = draws.iter().map(|draw| (draw - mean) * (draw - mean));
    let spread = spread.sum::<f64>() / n;
    let error = variance * ((kurtosis - 1.0) / n).sqrt();
    let off = (spread - variance).abs();
    assert!(off < 4.0 * error, "variance {spread} of {variance}");
    for p in [0.01, 0.1, 0.5, 0.9, 0.99] {
        let edge = quantile(p);
        let below = draws.iter().filter(|draw| **draw <= edge).count() as f64 / n;
        let error = (p * (1.0 - p) / n).sqrt();
        assert!((below - p).abs() < 4.0 * error, "{below} of {p}");
    }
}

#[test]
fn normal_draws_are_normal() {
    // The quantiles every table has.
    let quantile = |p: f64| match p {
        0.01 => -2.326_347_874_040_841,
        0.1 => -1.281_551_565_544_600_4,
        0.9 => 1.281_551_565_544_600_4,
        0.99 => 2.326_347_874_040_841,
        _ => 0.0,
    };
    distributed(0.0, 1.0, 3.0, quantile, standard_normal);
}

#[test]
fn gamma_draws_have_their_moments_and_quantiles() {
    for shape in [0.05, 0.5, 1.0, 1.7, 12.0, 900.0] {
        let kurtosis = 3.0 + 6.0 / shape;
        let quantile = |p| gamma_quantile(p, shape);
        distributed(shape, shape, kurtosis, quantile, |rng| gamma(shape, rng));
    }
}

#[test]
fn logarithms_of_gamma_draws_keep_their_mean_where_the_draws_underflow() {
    // E ln x = digamma(shape), about -1 / shape - 0.5772 when it is small; sd about 1 / shape.
    let shape = 1e-4;
    let mut rng = rng();
    let sum: f64 = (0..DRAWS).map(|_| ln_gamma_draw(shape, &mut rng)).sum();
    let error = 1.0 / shape / (DRAWS as f64).sqrt();
    assert!((sum / DRAWS as f64 + 1.0 / shape).abs() < 4.0 * error);
    assert!((0..100).all(|_| gamma(shape, &mut rng) > 0.0));
}

#[test]
fn beta_draws_have_their_moments_and_quantiles() {
    for (mean, strength) in [
        (0.5, 2.0),
        (0.5, 1.0),
        (0.05, 8.0),
        (0.3, 10.0),
        (0.9, 3.0),
        (0.98, 500.0),
    ] {
        let (a, b) = (mean * strength, (1.0 - mean) * strength);
        let variance = mean * (1.0 - mean) / (strength + 1.0);
        // Excess kurtosis of the beta distribution.
        let excess = 6.0 * ((a - b) * (a - b) * (a + b + 1.0) - a * b * (a + b + 2.0))
            / (a * b * (a + b + 2.0) * (a + b + 3.0));
        let quantile = |p| beta_quantile(p, mean, strength);
        distributed(mean, variance, 3.0 + excess, quantile, |rng| {
            beta(mean, strength, rng)
        });
    }
}

#[test]
fn dirichlet_draws_sum_to_one_and_each_is_beta() {
    let (means, strength) = ([0.6, 0.03, 0.0, 0.37], 12.0);
    let mut shares = [0.0; 4];
    for (place, mean) in [(0, 0.6_f64), (1, 0.03), (3, 0.37)] {
        let (a, b) = (mean * strength, (1.0 - mean) * strength);
        let excess = 6.0 * ((a - b) * (a - b) * (a + b + 1.0) - a * b * (a + b + 2.0))
            / (a * b * (a + b + 2.0) * (a + b + 3.0));
        let variance = mean * (1.0 - mean) / (strength + 1.0);
        let quantile = |p| beta_quantile(p, mean, strength);
        distributed(mean, variance, 3.0 + excess, quantile, |rng| {
            dirichlet(&means, strength, rng, &mut shares);
            assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-14);
            assert_eq!(shares[2], 0.0);
            shares[place]
        });
    }
}

#[test]
fn draws_stay_inside_their_range_whatever_is_asked() {
    let mut rng = rng();
    let figures = [
        0.0,
        -1.0,
        1e-300,
        1e-6,
        0.5,
        1.0 - 1e-16,
        1.0,
        2.0,
        1e300,
        f64::INFINITY,
        f64::NAN,
    ];
    for mean in figures {
        for strength in figures {
            let mut shares = [0.0; 3];
            for _ in 0..50 {
                let share = beta(mean, strength, &mut rng);
                assert!(share > 0.0 && share < 1.0, "{mean} {strength}: {share}");
                let size = gamma(strength, &mut rng);
                assert!(size > 0.0 && size.is_finite(), "{strength}: {size}");
                dirichlet(&[mean, 0.5], strength, &mut rng, &mut shares);
                let sum: f64 = shares.iter().sum();
                assert!((sum - 1.0).abs() < 1e-14, "{mean} {strength}: {shares:?}");
            }
        }
    }
    let mut nothing = [7.0; 2];
    dirichlet(&[0.0, f64::NAN], 5.0, &mut rng, &mut nothing);
    assert_eq!(nothing, [0.0; 2]);
}

#[test]
fn beta_quantiles_with_closed_forms() {
    for p in [1e-9, 0.025, 0.3, 0.5, 0.8, 0.975, 1.0 - 1e-9] {
        // Beta(1, b): 1 - (1 - p)^(1/b). Beta(a, 1): p^(1/a).
        for shape in [0.2, 1.0, 3.0, 40.0] {
            let (mean, strength) = (1.0 / (1.0 + shape), 1.0 + shape);
            let want = -libm::expm1(libm::log1p(-p) / shape);
            relative(beta_quantile(p, mean, strength), want, 1e-12);
            let want = libm::pow(p, 1.0 / shape);
            relative(beta_quantile(p, shape / strength, strength), want, 1e-12);
        }
        // The arcsine distribution.
        let sine = libm::sin(std::f64::consts::FRAC_PI_2 * p);
        relative(beta_quantile(p, 0.5, 1.0), sine * sine, 1e-12);
        // Beta(2, 2): 3 x^2 - 2 x^3 = p.
        let x = beta_quantile(p, 0.5, 4.0);
        relative(x * x * (3.0 - 2.0 * x), p, 1e-12);
    }
}

/// Three of ten on top of Beta(1, 1): 95 in 100 from .1093 to .6098 (as tabulated on public pages).
#[test]
fn beta_quantiles_as_published() {
    let (mean, strength) = (4.0 / 12.0, 12.0);
    assert!((beta_quantile(0.025, mean, strength) - 0.1093).abs() < 5e-5);
    assert!((beta_quantile(0.975, mean, strength) - 0.6098).abs() < 1e-4);
}

#[test]
fn beta_quantiles_against_forty_digits() {
    for (p, mean, strength, want) in [
        (0.025, 0.001, 50.0, 1.074_395_480_297_463_5e-34),
        (0.5, 0.05, 8.0, 0.019_663_464_013_715_513),
        (0.975, 0.3, 1_000.0, 0.328_759_368_852_069_5),
        (0.1, 0.9, 20.0, 0.810_234_436_675_370_7),
        (0.001, 0.2, 4.0, 5.240_921_169_337_001e-5),
        (0.999, 0.02, 10_000.0, 0.024_600_204_673_904_38),
        (0.3, 0.01, 2.0, 2.701_818_163_798_837e-27),
    ] {
        relative(beta_quantile(p, mean, strength), want, 1e-11);
    }
}

#[test]
fn gamma_quantiles_with_closed_forms() {
    for p in [1e-9, 0.025, 0.5, 0.8, 0.975, 1.0 - 1e-9] {
        relative(gamma_quantile(p, 1.0), -libm::log1p(-p), 1e-12);
        // Shape 2: 1 - (1 + x) exp(-x).
        let x = gamma_quantile(p, 2.0);
        relative(1.0 - p, (1.0 + x) * libm::exp(-x), 1e-12);
        // Shape 1/2: the square of a normal number over 2, so erf(sqrt x).
        let root = gamma_quantile(p, 0.5).sqrt();
        relative(1.0 - p, libm::erfc(root), 1e-12);
    }
}

/// Chi-square quantiles as every table prints them.
#[test]
fn gamma_quantiles_as_published() {
    for (p, degrees, want) in [
        (0.95, 1.0, 3.841),
        (0.95, 2.0, 5.991),
        (0.95, 10.0, 18.307),
        (0.05, 5.0, 1.145),
        (0.99, 30.0, 50.892),
    ] {
        let found = 2.0 * gamma_quantile(p, degrees / 2.0);
        assert!((found - want).abs() < 6e-4, "{found} {want}");
    }
}

#[test]
fn gamma_quantiles_against_forty_digits() {
    for (p, shape, want) in [
        (0.001, 0.1, 6.073_048_362_407_907e-31),
        (0.05, 2.5, 0.572_738_113_030_884_6),
        (0.95, 0.5, 1.920_729_410_347_062_2),
        (0.975, 100.0, 120.528_947_753_155_46),
        (0.999, 10_000.0, 10_311.875_224_539_538),
        (0.5, 30.0, 29.667_333_138_221_23),
    ] {
        relative(gamma_quantile(p, shape), want, 1e-11);
    }
}

#[test]
fn quantiles_are_numbers_whatever_is_asked() {
    for p in [
        -1.0,
        0.0,
        5e-324,
        1e-12,
        0.5,
        1.0 - 1e-16,
        1.0,
        2.0,
        f64::NAN,
    ] {
        for (mean, strength) in [
            (1e-6, 1.0),
            (1.0 - 1e-9, 1.0),
            (0.5, 1e-12),
            (0.0, 5.0),
            (f64::NAN, f64::INFINITY),
        ] {
            let share = beta_quantile(p, mean, strength);
            assert!(share > 0.0 && share < 1.0, "{p} {mean} {strength}: {share}");
            let size = gamma_quantile(p, strength);
            assert!(size > 0.0 && size.is_finite(), "{p} {strength}: {size}");
        }
    }
}

/// The same bits on every platform.
#[test]
fn pinned_bits() {
    let mut rng = rng();
    let mut shares = [0.0; 2];
    dirichlet(&[0.2, 0.8], 3.0, &mut rng, &mut shares);
    let found = [
        standard_normal(&mut rng),
        gamma(3.5, &mut rng),
        gamma(0.2, &mut rng),
        beta(0.3, 10.0, &mut rng),
        beta(0.01, 5.0, &mut rng),
        shares[0],
        beta_quantile(0.025, 0.2, 8.0),
        gamma_quantile(0.9, 2.5),
    ]
    .map(f64::to_bits);
    let pinned = [
        4_603_983_900_756_201_990,
        4_618_604_010_761_837_569,
        4_580_782_393_167_923_714,
        4_596_593_916_456_572_916,
        4_568_540_270_667_758_151,
        4_595_712_568_091_689_278,
        4_581_248_903_212_999_806,
        4_616_885_625_113_902_300,
    ];
    assert_eq!(found, pinned);
}
