use super::quadrature::{MIDDLE, RULE};
use super::*;

mod reference;

fn normal(mean: f64, sd: f64) -> Density {
    Density::Normal { mean, sd }
}
fn log_normal(median: f64, spread: f64) -> Density {
    Density::LogNormal { median, spread }
}
fn gamma(shape: f64, scale: f64) -> Density {
    Density::Gamma { shape, scale }
}
fn student_t(location: f64, scale: f64, degrees: f64) -> Density {
    Density::StudentT {
        location,
        scale,
        degrees,
    }
}
fn half_normal(scale: f64) -> Density {
    Density::HalfNormal { scale }
}
fn uniform(low: f64, high: f64) -> Density {
    Density::Uniform { low, high }
}
fn mixture(parts: Vec<(f64, Density)>) -> Density {
    let parts = parts
        .into_iter()
        .map(|(weight, density)| Part { weight, density })
        .collect();
    Density::Mixture { parts }
}

/// Relative difference; fails on NaN.
#[track_caller]
fn near(got: f64, want: f64, tolerance: f64) {
    let gap = (got - want).abs();
    assert!(
        gap <= tolerance * want.abs(),
        "got {got:?}, want {want:?}: off by {:e}",
        gap / want.abs()
    );
}

fn one_of_each() -> Vec<Density> {
    vec![
        normal(8.0, 4.0),
        log_normal(6.0, 1.8),
        gamma(2.5, 3.0),
        gamma(0.3, 2.0),
        student_t(8.0, 2.0, 4.0),
        half_normal(1.5),
        uniform(2.0, 9.0),
        mixture(vec![(0.7, normal(8.0, 4.0)), (0.3, half_normal(1.0))]),
    ]
}

/// Simpson's rule on the reading's density gives the censored probability.
#[test]
fn the_two_forms_agree() {
    for density in one_of_each() {
        for sigma in [0.3, 2.0] {
            let (low, high, n) = (1.0, 4.0, 600);
            let step = (high - low) / f64::from(n);
            let mut sum = 0.0;
            for i in 0..=n {
                let weight = match i {
                    0 => 1.0,
                    _ if i == n => 1.0,
                    _ if i % 2 == 1 => 4.0,
                    _ => 2.0,
                };
                sum += weight
                    * density
                        .density_at(low + f64::from(i) * step, sigma)
                        .unwrap();
            }
            let mass = density.probability_between(Some(low), Some(high), sigma);
            near(mass.unwrap(), sum * step / 3.0, 1e-7);
        }
    }
}

#[test]
fn below_and_above_make_one() {
    for density in one_of_each() {
        for sigma in [0.0, 1e-6, 0.5, 30.0] {
            for cut in [-1.0, 0.5, 3.0, 12.0] {
                let below = density.probability_between(None, Some(cut), sigma).unwrap();
                let above = density.probability_between(Some(cut), None, sigma).unwrap();
                near(below + above, 1.0, 1e-12);
            }
            assert_eq!(density.probability_between(None, None, sigma), Ok(1.0));
        }
        let cdf = density.cdf(3.0).unwrap();
        let below = density.probability_between(None, Some(3.0), 0.0).unwrap();
        near(below, cdf, 1e-15);
    }
}

#[test]
fn a_fine_instrument_is_no_instrument() {
    for density in one_of_each() {
        let pdf = density.pdf(3.0).unwrap();
        near(density.density_at(3.0, 1e-7).unwrap(), pdf, 1e-11);
        near(density.density_at(3.0, 1e-90).unwrap(), pdf, 1e-11);
        let exact = density.probability_between(Some(3.0), Some(5.0), 0.0);
        let fine = density.probability_between(Some(3.0), Some(5.0), 1e-30);
        near(fine.unwrap(), exact.unwrap(), 1e-11);
    }
}

#[test]
fn a_coarse_instrument_drowns_the_family() {
    for density in one_of_each() {
        let want = 0.398_942_280_401_432_7 / 1e6;
        near(density.density_at(10.0, 1e6).unwrap(), want, 1e-6);
    }
}

/// Nothing panics, is negative or is NaN, whatever is asked.
#[test]
fn deep_tails_and_wild_arguments_stay_numbers() {
    let mut families = one_of_each();
    families.extend([
        normal(-1e100, 1e-100),
        log_normal(1e100, 1e6),
        log_normal(1e-100, 1.000_001),
        gamma(0.01, 1e-100),
        gamma(1e6, 1e100),
        student_t(1e100, 1e-100, 0.5),
        student_t(0.0, 1e100, 1e6),
        half_normal(1e-100),
        uniform(-1e100, 1e100),
        uniform(0.0, 1e-100),
    ]);
    let readings = [
        0.0,
        -0.0,
        5e-324,
        -5e-324,
        1e-300,
        1.0,
        -1.0,
        1e3,
        -1e3,
        1e9,
        1e100,
        -1e100,
        1e101,
        f64::MAX,
        f64::MIN,
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
    ];
    let sigmas = [
        0.0,
        -0.0,
        1e-100,
        1e-9,
        1.0,
        1e100,
        5e-324,
        -1.0,
        f64::NAN,
        f64::INFINITY,
    ];
    for density in &families {
        for x in readings {
            if let Ok(p) = density.cdf(x) {
                assert!((0.0..=1.0).contains(&p), "{density:?} {x}");
            }
            for sigma in sigmas {
                match density.density_at(x, sigma) {
                    Ok(f) => assert!(f >= 0.0 && f.is_finite(), "{density:?} {x} {sigma}: {f}"),
                    Err(DensityError::OutOfRange { .. } | DensityError::Unbounded { .. }) => {}
                    Err(other) => panic!("{density:?} {x} {sigma}: {other}"),
                }
                for (low, high) in [(None, Some(x)), (Some(x), None), (Some(x), Some(x + 1.0))] {
                    if let Ok(p) = density.probability_between(low, high, sigma) {
                        assert!(
                            (0.0..=1.0).contains(&p),
                            "{density:?} {low:?} {high:?} {sigma}"
                        );
                    }
                }
            }
        }
    }
    // Deep, but not yet below the smallest number.
    assert!(normal(0.0, 1.0).density_at(-37.0, 0.1).unwrap() > 0.0);
    assert!(gamma(2.0, 1.0).density_at(-30.0, 1.0).unwrap() > 0.0);
    assert_eq!(normal(0.0, 1.0).density_at(60.0, 0.0), Ok(0.0));
}

#[test]
fn unbounded_only_without_an_instrument() {
    let steep = gamma(0.3, 2.0);
    assert_eq!(steep.pdf(0.0), Err(DensityError::Unbounded { value: 0.0 }));
    assert!(steep.density_at(0.0, 0.1).unwrap() > 1.0);
    near(gamma(1.0, 4.0).pdf(0.0).unwrap(), 0.25, 1e-15);
    assert_eq!(gamma(2.0, 4.0).pdf(0.0), Ok(0.0));
    // A part of no weight counts for nothing, even where it is infinite.
    let both = mixture(vec![(0.0, steep), (1.0, gamma(1.0, 4.0))]);
    near(both.pdf(0.0).unwrap(), 0.25, 1e-15);
}

#[test]
fn supports_end_where_they_should() {
    assert_eq!(half_normal(1.0).pdf(-1e-9), Ok(0.0));
    near(
        half_normal(1.0).pdf(0.0).unwrap(),
        0.797_884_560_802_865_4,
        1e-15,
    );
    assert_eq!(uniform(2.0, 4.0).pdf(4.0), Ok(0.5));
    assert_eq!(uniform(2.0, 4.0).pdf(4.000_001), Ok(0.0));
    assert_eq!(log_normal(2.0, 2.0).cdf(-1.0), Ok(0.0));
    assert_eq!(log_normal(2.0, 2.0).pdf(0.0), Ok(0.0));
}

#[test]
fn means() {
    near(
        log_normal(2.0, std::f64::consts::E).mean().unwrap(),
        3.297_442_541_400_256_4,
        1e-14,
    );
    near(
        half_normal(2.0).mean().unwrap(),
        1.595_769_121_605_730_8,
        1e-15,
    );
    assert_eq!(uniform(2.0, 9.0).mean(), Ok(5.5));
    assert_eq!(student_t(3.0, 1.0, 2.0).mean(), Ok(3.0));
    let parts = mixture(vec![
        (0.5, normal(1.0, 1.0)),
        (0.5, student_t(0.0, 1.0, 1.0)),
    ]);
    assert_eq!(
        parts.mean().unwrap_err().to_string(),
        "parts[1].density.degrees is 1.0, so there is no mean: it must be above 1"
    );
}

#[test]
fn quantiles_invert_the_distribution_function() {
    for density in one_of_each() {
        for p in [1e-9, 0.01, 0.3, 0.5, 0.9, 0.999_999] {
            let x = density.quantile(p).unwrap();
            // The least number that reaches p.
            assert!(density.cdf(x).unwrap() >= p && density.cdf(x.next_down()).unwrap() < p);
            if p >= 0.01 {
                near(density.cdf(x).unwrap(), p, 1e-12);
            }
        }
    }
    near(
        normal(0.0, 1.0).quantile(0.975).unwrap(),
        1.959_963_984_540_054,
        1e-14,
    );
    near(student_t(0.0, 1.0, 1.0).quantile(0.75).unwrap(), 1.0, 1e-14);
    assert!(normal(0.0, 1.0).quantile(0.5).unwrap().abs() < 1e-15);
    for p in [0.0, 1.0, -0.1, 5e-324, f64::NAN] {
        assert!(normal(0.0, 1.0).quantile(p).is_err());
    }
}

#[test]
fn ordinals_count_the_floats_in_order() {
    let ladder = [f64::MIN, -1.0, -5e-324, 0.0, 5e-324, 1.0, f64::MAX];
    for pair in ladder.windows(2) {
        assert!(ordinal(pair[0]) < ordinal(pair[1]));
        assert_eq!(from_ordinal(ordinal(pair[0])).to_bits(), pair[0].to_bits());
    }
    assert_eq!(ordinal(-0.0), ordinal(0.0));
    assert_eq!(ordinal(5e-324) - ordinal(-5e-324), 2);
}

#[test]
fn errors_name_the_parameter_the_value_and_the_range() {
    let cases = [
        (
            normal(f64::NAN, 1.0),
            "mean is NaN: it must be a number from -1e100 to 1e100",
        ),
        (
            half_normal(0.0),
            "scale is 0.0: it must be a number from 1e-100 to 1e100",
        ),
        (
            log_normal(2.0, 1.0),
            "spread is 1.0: it must be a number from 1.000001 to 1000000.0",
        ),
        (
            gamma(0.001, 1.0),
            "shape is 0.001: it must be a number from 0.01 to 1000000.0",
        ),
        (
            student_t(0.0, 1.0, 0.1),
            "degrees is 0.1: it must be a number from 0.5 to 1000000.0",
        ),
        (
            uniform(5.0, 3.0),
            "low is 5.0 but the upper limit is 3.0: it must be less",
        ),
        (
            mixture(vec![]),
            "parts brings the whole to 0 densities: give from 1 to 64",
        ),
        (
            mixture(vec![(0.5, normal(0.0, 1.0)), (0.4, normal(0.0, 1.0))]),
            "the weights of parts sum to 0.9: they must sum to 1",
        ),
        (
            mixture(vec![(1.0, mixture(vec![(1.0, normal(0.0, -1.0))]))]),
            "parts[0].density.parts[0].density.sd is -1.0: \
             it must be a number from 1e-100 to 1e100",
        ),
        (
            mixture(vec![(f64::NAN, normal(0.0, 1.0))]),
            "parts[0].weight is NaN: it must be a number from 0.0 to 1.0",
        ),
    ];
    for (density, message) in cases {
        assert_eq!(density.validate().unwrap_err().to_string(), message);
        assert!(density.pdf(1.0).is_err() && density.quantile(0.5).is_err());
        assert!(density.mean().is_err() && density.cdf(1.0).is_err());
    }
    let fine = normal(0.0, 1.0);
    assert!(matches!(
        fine.probability_between(Some(2.0), Some(2.0), 1.0),
        Err(DensityError::Reversed { .. })
    ));
    assert!(
        fine.probability_between(Some(f64::INFINITY), None, 1.0)
            .is_err()
    );
}

#[test]
fn mixtures_nest_three_deep_and_no_deeper() {
    let wrap = |density| mixture(vec![(1.0, density)]);
    let three = wrap(wrap(wrap(normal(1.0, 2.0))));
    near(
        three.pdf(1.0).unwrap(),
        normal(1.0, 2.0).pdf(1.0).unwrap(),
        1e-15,
    );
    assert_eq!(
        wrap(three).validate(),
        Err(DensityError::TooDeep {
            parameter: "parts[0].density.parts[0].density.parts[0].density.parts".to_owned(),
            depth: 4
        })
    );
    let share = 1.0 / 64.0;
    let many = |n| mixture((0..n).map(|_| (share, normal(0.0, 1.0))).collect());
    assert_eq!(many(64).validate(), Ok(()));
    assert!(matches!(
        many(65).validate(),
        Err(DensityError::Parts { count: 65, .. })
    ));
}

#[test]
fn a_mixture_is_the_weighted_sum() {
    let both = mixture(vec![(0.7, normal(8.0, 4.0)), (0.3, gamma(2.5, 3.0))]);
    let sum = |f: &dyn Fn(&Density) -> f64| 0.7 * f(&normal(8.0, 4.0)) + 0.3 * f(&gamma(2.5, 3.0));
    let at = |d: &Density| d.density_at(5.0, 1.0).unwrap();
    near(at(&both), sum(&at), 1e-15);
    let under = |d: &Density| d.probability_between(None, Some(5.0), 1.0).unwrap();
    near(under(&both), sum(&under), 1e-15);
    near(both.mean().unwrap(), 0.7 * 8.0 + 0.3 * 7.5, 1e-15);
    // Shares multiply down the levels.
    let outer = mixture(vec![(0.4, both.clone()), (0.6, half_normal(1.0))]);
    let want = 0.4 * at(&both) + 0.6 * at(&half_normal(1.0));
    near(at(&outer), want, 1e-15);
}

#[test]
fn files_are_read_strictly() {
    for density in one_of_each() {
        let text = serde_json::to_string(&density).unwrap();
        assert_eq!(serde_json::from_str::<Density>(&text).unwrap(), density);
    }
    let read = |text: &str| serde_json::from_str::<Density>(text);
    assert_eq!(
        read(r#"{"family":"student-t","location":1,"scale":2,"degrees":3}"#).unwrap(),
        student_t(1.0, 2.0, 3.0)
    );
    assert!(read(r#"{"family":"normal","mean":1,"sd":2,"sigma":3}"#).is_err());
    assert!(read(r#"{"family":"normal","mean":1}"#).is_err());
    assert!(read(r#"{"family":"cauchy","scale":1}"#).is_err());
    let part = r#"{"family":"mixture","parts":[{"weight":1,"wieght":1,
        "density":{"family":"half-normal","scale":1}}]}"#;
    assert!(read(part).is_err());
    let said = |text: &str| read(text).unwrap_err().to_string();
    // Wherever `family` stands, it decides what else may.
    let late = r#"{"mean":1,"scale":2,"family":"normal","sd":2}"#;
    assert!(said(late).starts_with("unknown field `scale`, expected `mean` or `sd`"));
    let twice = r#"{"family":"half-normal","scale":1,"scale":2}"#;
    assert!(said(twice).starts_with("duplicate field `scale`"));
    assert!(said(r#"{"mean":1,"sd":2}"#).starts_with("missing field `family`"));
    assert!(said(r#"{"family":"mixture"}"#).starts_with("missing field `parts`"));
    // Whole numbers will do, in TOML too.
    let toml = "family = \"normal\"\nmean = 8\nsd = 4";
    assert_eq!(toml::from_str::<Density>(toml).unwrap(), normal(8.0, 4.0));
    let schema = serde_json::to_string(&schemars::schema_for!(Density)).unwrap();
    for tag in [
        "normal",
        "log-normal",
        "gamma",
        "student-t",
        "half-normal",
        "mixture",
    ] {
        assert!(
            schema.contains(&format!("\"const\":\"{tag}\"")),
            "{tag}: {schema}"
        );
    }
    assert!(schema.contains("\"additionalProperties\":false"));
}

/// The 21-point rule is exact to degree 31, the 10-point one to degree 19.
#[test]
fn the_rule_integrates_polynomials() {
    for degree in 0..=15 {
        let power = |x: f64| (0..2 * degree).fold(1.0, |p, _| p * x);
        let mut fine = MIDDLE * power(0.0);
        let mut coarse = 0.0;
        for (node, kronrod, gauss) in RULE {
            fine += 2.0 * kronrod * power(node);
            coarse += 2.0 * gauss * power(node);
        }
        let want = 2.0 / (2.0 * f64::from(degree) + 1.0);
        near(fine, want, 2e-15);
        if degree <= 9 {
            near(coarse, want, 2e-15);
        }
    }
}

/// The same bits on every platform: a change here is a change of results.
#[test]
fn bits_are_pinned() {
    let pinned = [
        (
            log_normal(6.0, 1.8).density_at(5.0, 1.0),
            0x3fbf_83b1_8b1f_5058,
        ),
        (gamma(2.5, 3.0).density_at(5.0, 1.0), 0x3fb9_4c73_6ace_3a0e),
        (
            student_t(8.0, 2.0, 4.0).density_at(9.0, 1.0),
            0x3fc2_fa9b_95a0_4098,
        ),
        (half_normal(1.5).density_at(0.5, 0.3), 0x3fde_074d_afb0_f0fe),
        (gamma(0.3, 2.0).quantile(0.4), 0x3fb1_4657_93fb_5744),
        (
            student_t(8.0, 2.0, 4.0).quantile(0.9),
            0x4026_2200_d354_6bb4,
        ),
    ];
    for (got, want) in pinned {
        assert_eq!(got.unwrap().to_bits(), want);
    }
}
