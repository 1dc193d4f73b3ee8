//! Published and independent values, laws, and what is refused.

use super::*;
use crate::density::Density;
use crate::text::Text;

#[track_caller]
fn close(have: f64, want: f64, relative: f64) {
    assert!((have / want - 1.0).abs() < relative, "{have} is not {want}");
}

fn chance(points: &[(f64, f64)]) -> (f64, f64) {
    let fit = fit_chance(&Quantiles::new(points).unwrap()).unwrap();
    fit.fitted.shapes().unwrap()
}

fn judged(entry: JudgementEntry) -> Result<ElicitedValue, String> {
    let file = JudgementFile {
        judgements: vec![entry],
        ..Default::default()
    };
    match elicit(&file) {
        Ok(elicited) => Ok(elicited.numbers.into_iter().next().unwrap()),
        Err(problems) => Err(format!("{}: {}", problems[0].path, problems[0].message)),
    }
}

/// Quartile inputs from the SHELF package's documentation (Oakley and O'Hagan); the fitted
/// parameters were computed independently for this project with limits 0-100.
#[test]
fn quartiles_of_the_shelf_documentation() {
    for (quartiles, a, b) in [
        ([25.0, 30.0, 35.0], 11.588, 26.712),
        ([30.0, 35.0, 50.0], 3.765, 6.001),
        ([25.0, 30.0, 40.0], 5.452, 11.606),
        ([30.0, 40.0, 50.0], 4.501, 6.633),
        ([20.0, 25.0, 35.0], 4.223, 11.323),
    ] {
        let shares = quartiles.map(|x| x / 100.0);
        let fit = fit_chance(&Quantiles::quartiles(shares).unwrap()).unwrap();
        let (have_a, have_b) = fit.fitted.shapes().unwrap();
        close(have_a, a, 1e-3);
        close(have_b, b, 1e-3);
        // Said out of 100, it is the same.
        let entry = JudgementEntry {
            quartiles: Some(quartiles.to_vec()),
            of: Some(100.0),
            ..Default::default()
        };
        assert_eq!(judged(entry).unwrap().result, fit.fitted);
    }
}

/// Computed for this project with scipy 1.17.1: `scipy.optimize.minimize(lambda x:
/// sum((beta(exp(x[0]), exp(x[1])).cdf(values) - levels)**2), ..., method="Nelder-Mead",
/// options=dict(xatol=1e-12, fatol=1e-18))`, run twice, and alike with norm, lognorm, gamma and t of
/// scipy.stats; levels .05, .5, .95.
#[test]
fn fits_of_another_program() {
    let (a, b) = chance(&[(0.05, 0.05), (0.5, 0.15), (0.95, 0.4)]);
    close(a, 2.612_608_56, 1e-6);
    close(b, 13.094_801_86, 1e-6);
    let stated = Quantiles::new(&[(0.05, 2.0), (0.5, 5.0), (0.95, 11.0)]).unwrap();
    let fits = fit_measures(&stated, false).unwrap();
    let families: Vec<Family> = fits.iter().map(|(family, _)| *family).collect();
    let order = [
        Family::Gamma,
        Family::LogNormal,
        Family::StudentT3,
        Family::StudentT10,
        Family::Normal,
    ];
    assert_eq!(families, order);
    for ((_, fit), want) in fits.iter().zip([
        [4.087_116_73, 1.338_347_87, 0.000_200_727_3],
        [4.964_992_91, 1.667_478_3, 0.000_279_537_3],
        [5.008_500_73, 1.392_609_59, 0.001_578_618_3],
        [5.007_780_09, 1.716_406_3, 0.002_247_262_3],
        [5.003_516_52, 1.846_402_66, 0.002_446_353_6],
    ]) {
        let Fitted::Measure { density } = &fit.fitted else {
            panic!("{fit:?}");
        };
        let (one, other) = match *density {
            Density::Gamma { shape, scale } => (shape, scale),
            // The standard deviation of the logarithm there was 0.51131291.
            Density::LogNormal { median, spread } => (median, spread),
            Density::StudentT {
                location, scale, ..
            } => (location, scale),
            Density::Normal { mean, sd } => (mean, sd),
            _ => panic!("{density:?}"),
        };
        close(one, want[0], 1e-6);
        close(other, want[1], 1e-6);
        close(fit.squares, want[2], 1e-5);
    }
}

/// Standard formulae of conjugate counting: Beta(a + x, b + n - x).
#[test]
fn counts_on_top_of_a_start() {
    let uniform = Fitted::of_count([3.0, 10.0], Start::Uniform).unwrap();
    close(uniform.mean().unwrap(), 1.0 / 3.0, 1e-12);
    assert!((uniform.quantile(0.025) - 0.1093).abs() < 5e-5);
    // To five places it is 0.60974.
    assert!((uniform.quantile(0.975) - 0.6098).abs() < 1e-4);
    let none = |start| Fitted::of_count([0.0, 20.0], start).unwrap().quantile(0.95);
    assert!((none(Start::Jeffreys) - 0.0905).abs() < 5e-5);
    // To five places it is 0.13295.
    assert!((none(Start::Uniform) - 0.1330).abs() < 1e-4);
}

#[test]
fn quantiles_of_a_beta_come_back_as_that_beta() {
    for mean in [0.004, 0.05, 0.3, 0.5, 0.77, 0.98] {
        for strength in [2.5, 8.0, 40.0, 700.0] {
            let beta = Fitted::Chance { mean, strength };
            for levels in [
                &[0.25, 0.5, 0.75][..],
                &[0.05, 0.95],
                &[0.05, 0.25, 0.5, 0.75, 0.95],
            ] {
                let points: Vec<(f64, f64)> =
                    levels.iter().map(|p| (*p, beta.quantile(*p))).collect();
                // Nobody states values this small, and this close to 1 their digits run out.
                let last = points[points.len() - 1].1;
                let stated = Quantiles::new(&points).ok().filter(|_| last < 0.999_99);
                let Some(stated) = stated else { continue };
                let fit = fit_chance(&stated).unwrap();
                close(fit.fitted.mean().unwrap(), mean, 1e-5);
                close(fit.fitted.strength().unwrap(), strength, 1e-5);
            }
        }
    }
}

#[test]
fn quantiles_of_every_family_come_back_as_that_density() {
    for density in [
        Density::Normal {
            mean: -3.0,
            sd: 0.02,
        },
        Density::LogNormal {
            median: 400.0,
            spread: 1.7,
        },
        Density::Gamma {
            shape: 0.6,
            scale: 3.0,
        },
        Density::Gamma {
            shape: 90.0,
            scale: 0.1,
        },
        Density::StudentT {
            location: 5.0,
            scale: 2.0,
            degrees: 3.0,
        },
        Density::StudentT {
            location: 5.0,
            scale: 2.0,
            degrees: 10.0,
        },
    ] {
        let measure = Fitted::Measure { density };
        let points = [0.05, 0.25, 0.5, 0.75, 0.95].map(|p| (p, measure.quantile(p)));
        let (_, fit) = &fit_measures(&Quantiles::new(&points).unwrap(), false).unwrap()[0];
        assert!(fit.squares < 1e-14, "{measure:?} {fit:?}");
        for p in [0.01, 0.4, 0.99] {
            close(fit.fitted.quantile(p), measure.quantile(p), 1e-4);
        }
    }
}

#[test]
fn the_unit_does_not_matter() {
    let points = [(0.1, 2.0), (0.5, 5.0), (0.9, 11.0)];
    let in_unit = |factor: f64| {
        let points = points.map(|(level, x)| (level, x * factor));
        fit_measures(&Quantiles::new(&points).unwrap(), false).unwrap()
    };
    for ((family, one), (other_family, other)) in in_unit(1.0).iter().zip(&in_unit(25.4e4)) {
        assert_eq!(family, other_family);
        close(other.squares, one.squares, 1e-6);
        close(
            other.fitted.quantile(0.3),
            25.4e4 * one.fitted.quantile(0.3),
            1e-6,
        );
    }
    let factor = |by: f64| {
        let points = points.map(|(level, x)| (level, x * by));
        fit_factor(&Quantiles::new(&points).unwrap())
            .unwrap()
            .fitted
    };
    close(
        factor(0.01).mean().unwrap(),
        0.01 * factor(1.0).mean().unwrap(),
        1e-6,
    );
    close(
        factor(0.01).strength().unwrap(),
        factor(1.0).strength().unwrap(),
        1e-6,
    );
}

#[test]
fn higher_judgements_give_a_higher_number_and_closer_ones_a_stronger() {
    let mean = |shift: f64| {
        let (a, b) = chance(&[
            (0.25, 0.2 + shift),
            (0.5, 0.25 + shift),
            (0.75, 0.3 + shift),
        ]);
        a / (a + b)
    };
    let strength = |half: f64| {
        let (a, b) = chance(&[(0.25, 0.4 - half), (0.5, 0.4), (0.75, 0.4 + half)]);
        a + b
    };
    for step in 1..20 {
        let step = f64::from(step);
        assert!(mean(0.03 * step) > mean(0.03 * (step - 1.0)));
        assert!(strength(0.01 * step) > strength(0.01 * (step + 1.0)));
    }
}

#[test]
fn a_chance_and_its_opposite_mirror_each_other() {
    let (a, b) = chance(&[(0.05, 0.1), (0.5, 0.2), (0.95, 0.5)]);
    let (c, d) = chance(&[(0.05, 0.5), (0.5, 0.8), (0.95, 0.9)]);
    close(a, d, 1e-6);
    close(b, c, 1e-6);
}

#[test]
fn rows_by_quantiles_and_by_counts() {
    let dirichlet = Fitted::Row {
        means: vec![0.6, 0.25, 0.15],
        strength: 20.0,
    };
    let levels = (0..3).map(|level| {
        let alone = dirichlet.level(level).unwrap();
        let quartiles = [0.25, 0.5, 0.75].map(|p| alone.quantile(p));
        LevelEntry {
            quartiles: Some(quartiles.to_vec()),
            ..Default::default()
        }
    });
    let entry = JudgementEntry {
        levels: Some(levels.collect()),
        ..Default::default()
    };
    let value = judged(entry).unwrap();
    close(value.result.strength().unwrap(), 20.0, 1e-4);
    assert_eq!(value.toml, "[0.6, 0.25, 0.15]");
    assert!(value.doubts.is_empty() && value.opinions[0].doubts.is_empty());
    assert_eq!(value.pieces.len(), 3);
    close(value.pieces[0].expected, 12.0, 1e-4);

    let counts = JudgementEntry {
        counts: Some(vec![14.0, 4.0, 2.0]),
        start: Some(Start::Uniform),
        ..Default::default()
    };
    let value = judged(counts).unwrap();
    let want = Fitted::Row {
        means: vec![15.0 / 23.0, 5.0 / 23.0, 3.0 / 23.0],
        strength: 23.0,
    };
    assert_eq!(value.result, want);
    assert_eq!(value.toml, "[0.6522, 0.2174, 0.1304]");
}

#[test]
fn a_range_is_taken_for_what_it_is_said_to_hold() {
    let of = |credible| JudgementEntry {
        about: Some(3.0),
        between: Some((1.0, 8.0)),
        of: Some(20.0),
        credible,
        ..Default::default()
    };
    let strength = |credible| judged(of(credible)).unwrap().result.strength().unwrap();
    assert_eq!(strength(None), strength(Some(0.9)));
    // The same range, held less surely, says less.
    assert!(strength(Some(0.5)) < 0.5 * strength(None));
    let (a, b) = chance(&[(0.05, 0.05), (0.5, 0.15), (0.95, 0.4)]);
    close(strength(None), a + b, 1e-6);
}

#[test]
fn what_there_is_to_doubt() {
    let doubts = |quartiles: [f64; 3]| {
        let entry = JudgementEntry {
            quartiles: Some(quartiles.to_vec()),
            ..Default::default()
        };
        judged(entry).unwrap().opinions[0].doubts.join(" ")
    };
    assert_eq!(doubts([0.25, 0.3, 0.35]), "");
    assert!(doubts([0.30, 0.35, 0.5]).starts_with("The judgements fit badly: what was said"));
    assert!(doubts([0.29, 0.3, 0.31]).contains(" pieces, more than most people"));
    assert!(doubts([0.05, 0.3, 0.8]).contains("hardly an opinion"));
    let count = JudgementEntry {
        count: Some((5.0, 2000.0)),
        ..Default::default()
    };
    let value = judged(count).unwrap();
    assert!(value.opinions[0].doubts[0].contains("really looked at"));
    let measure = JudgementEntry {
        unit: Some("mm".into()),
        between: Some((1.0, 20.0)),
        ..Default::default()
    };
    let doubts = judged(measure).unwrap().opinions[0].doubts.join(" ");
    assert!(
        doubts.contains("to values below 0; if there are none"),
        "{doubts}"
    );
    assert!(doubts.contains("Two values always fit"), "{doubts}");
}

const TWO: &str = r#"
schema = "oddment/judgement/1"
form = "drop-leaf-table"
[[expert]]
id = "restorer"
weight = 3
[[expert]]
id = "dealer"
[[judgement]]
number = "sign/tracks-stop-at-join/shows/pieced-out"
expert = "restorer"
quartiles = [0.7, 0.8, 0.88]
[[judgement]]
number = "sign/tracks-stop-at-join/shows/pieced-out"
expert = "dealer"
count = [3, 20]
[[judgement]]
number = "sign/hollow-at-join/shows/pieced-out"
expert = "dealer"
level = [
  { name = "none", quartiles = [0.1, 0.2, 0.3] },
  { name = "slight", quartiles = [0.2, 0.3, 0.4] },
  { name = "plain", between = [0.2, 0.8] },
]
[[judgement]]
number = "overhang-difference, original"
expert = "dealer"
unit = "mm"
positive = true
quantiles = [[0.05, 1], [0.5, 4], [0.95, 15]]
"#;

#[test]
fn a_file_of_several_people_and_numbers() {
    let elicited = elicit_text(Text::new("two.toml", TWO)).unwrap();
    assert_eq!(elicited.numbers.len(), 3);
    let value = &elicited.numbers[0];
    let [restorer, dealer] = &value.opinions[..] else {
        panic!("{value:?}");
    };
    assert_eq!((restorer.weight, dealer.weight), (0.75, 0.25));
    let pool = value.pool.as_ref().unwrap();
    let mean = 0.75 * restorer.fitted.mean().unwrap() + 0.25 * dealer.fitted.mean().unwrap();
    close(pool.linear.mean().unwrap(), mean, 1e-12);
    let shapes = [restorer, dealer].map(|opinion| opinion.fitted.shapes().unwrap());
    let (a, _) = pool.logarithmic.as_ref().unwrap().shapes().unwrap();
    close(a, 0.75 * shapes[0].0 + 0.25 * shapes[1].0, 1e-12);
    assert_eq!(pool.agreement, Agreement::Contradict);
    assert!(
        pool.words()
            .contains("restorer and dealer have nothing in common")
    );
    assert_eq!(value.result, pool.linear);
    // What is printed can be read as an opinion file's numbers.
    let block: toml::Table = elicited.numbers_toml().parse().unwrap();
    let numbers = block["numbers"].as_table().unwrap();
    assert_eq!(numbers.len(), 4);
    let rows = (0..3).map(|level| {
        let id = format!("sign/hollow-at-join/shows/pieced-out/{level}");
        numbers[&id].as_float().unwrap()
    });
    assert!((rows.sum::<f64>() - 1.0).abs() < 1e-9);
    // And what is for a pack is TOML.
    for value in &elicited.numbers {
        let table: Result<toml::Table, _> = format!("x = {}", value.toml).parse();
        assert!(table.is_ok(), "{}", value.toml);
    }
}

#[test]
fn the_linear_pool_of_alike_opinions_is_the_opinion() {
    for entry in [
        JudgementEntry {
            quartiles: Some(vec![0.25, 0.3, 0.35]),
            ..Default::default()
        },
        JudgementEntry {
            between: Some((1.0, 3.0)),
            factor: true,
            ..Default::default()
        },
        JudgementEntry {
            counts: Some(vec![3.0, 2.0, 5.0]),
            ..Default::default()
        },
    ] {
        let file = JudgementFile {
            judgements: vec![entry.clone(), entry],
            ..Default::default()
        };
        let value = elicit(&file).unwrap().numbers.remove(0);
        let pool = value.pool.unwrap();
        let (one, both) = (&value.opinions[0].fitted, &pool.linear);
        close(both.mean().unwrap(), one.mean().unwrap(), 1e-12);
        close(both.strength().unwrap(), one.strength().unwrap(), 1e-9);
        let geometric = pool.logarithmic.unwrap();
        close(
            geometric.strength().unwrap(),
            one.strength().unwrap(),
            1e-12,
        );
        assert_eq!((pool.agreement, pool.between), (Agreement::Agree, 0.0));
    }
}

#[test]
fn measures_are_pooled_as_a_mixture() {
    let of = |low, high| JudgementEntry {
        between: Some((low, high)),
        unit: Some("mm".into()),
        family: Some(Family::Normal),
        ..Default::default()
    };
    let file = JudgementFile {
        judgements: vec![of(1.0, 3.0), of(2.0, 4.0)],
        pool: Some(PoolKind::Logarithmic),
        ..Default::default()
    };
    let value = elicit(&file).unwrap().numbers.remove(0);
    let pool = value.pool.as_ref().unwrap();
    let middle = pool.linear.quantile(0.5);
    assert!((middle - 2.5).abs() < 1e-9, "{middle}");
    let Fitted::Measure {
        density: Density::Normal { mean, sd },
    } = value.result
    else {
        panic!("{value:?}");
    };
    close(mean, 2.5, 1e-9);
    close(sd, 1.0 / crate::spread::NORMAL_95, 1e-9);
    assert_eq!(value.pooled_by, PoolKind::Logarithmic);
}

#[test]
fn bad_judgements_are_refused_with_the_remedy() {
    let quartiles = |values: &[f64]| JudgementEntry {
        quartiles: Some(values.to_vec()),
        ..Default::default()
    };
    let count = |found, looked| JudgementEntry {
        count: Some((found, looked)),
        ..Default::default()
    };
    let nan = f64::NAN;
    for (entry, message) in [
        (
            quartiles(&[25.0, 30.0, 35.0]),
            "judgement[0].quartiles: 25 is no chance, which lies strictly between 0 and 1; 25 in 100 \
             is written 0.25 or, on the command line, 25%; or say `of = 100` (--of 100)",
        ),
        (
            quartiles(&[0.35, 0.3, 0.25]),
            "judgement[0].quartiles: the 25 % value 0.35 is above the 50 % value 0.3: values must \
             rise with their levels",
        ),
        (
            quartiles(&[0.3, 0.3, 0.35]),
            "judgement[0].quartiles: the 25 % value and the 50 % value are both 0.3: values must \
             rise with their levels",
        ),
        (
            quartiles(&[-0.1, 0.3, 0.35]),
            "judgement[0].quartiles: -0.1 is no chance, which lies strictly between 0 and 1",
        ),
        (
            quartiles(&[0.0, 0.3, 0.35]),
            "judgement[0].quartiles: 0 is no chance, which lies strictly between 0 and 1; nobody can \
             be that sure of a frequency, and a true 0 or 1 is `structural`, not elicited",
        ),
        (
            quartiles(&[nan, 0.3, 0.35]),
            "judgement[0].quartiles: NaN is no chance, which lies strictly between 0 and 1",
        ),
        (
            quartiles(&[0.3]),
            "judgement[0].quartiles: 1 values: quartiles are three, the value stayed below in a \
             quarter of cases, in half and in three quarters",
        ),
        (
            JudgementEntry {
                quantiles: Some(vec![vec![0.5, 0.3]]),
                ..Default::default()
            },
            "judgement[0].quantiles: one judgement: two to five are needed, such as the quartiles \
             (25 %, 50 % and 75 %) or the 5 %, 50 % and 95 % values",
        ),
        (
            JudgementEntry {
                quantiles: Some(vec![vec![5.0, 0.3], vec![95.0, 0.4]]),
                ..Default::default()
            },
            "judgement[0].quantiles: level 5 must be 0.001 to 0.999, such as 0.25 for the lower \
             quartile",
        ),
        (
            count(3.0, 2.0),
            "judgement[0].count: 3 in 2: give how many showed it, then how many were looked at, \
             whole numbers with the first at most the second and the second 1 to 1,000,000",
        ),
        (
            JudgementEntry {
                about: Some(0.3),
                ..Default::default()
            },
            "judgement[0].about: one judgement: two to five are needed, such as the quartiles (25 %, \
             50 % and 75 %) or the 5 %, 50 % and 95 % values",
        ),
        (
            JudgementEntry {
                between: Some((1.0, 25.0)),
                of: Some(20.0),
                ..Default::default()
            },
            "judgement[0].between: 25 out of 20 is no chance: it must be above 0 and below 20",
        ),
        (
            JudgementEntry {
                credible: Some(90.0),
                between: Some((0.1, 0.3)),
                ..Default::default()
            },
            "judgement[0].credible: 90 must be the share of cases within the range, from 0.1 to \
             0.998, such as 0.9",
        ),
        (
            JudgementEntry {
                count: Some((1.0, 2.0)),
                ..quartiles(&[0.1, 0.2, 0.3])
            },
            "judgement[0].count: `quartiles` and `count` say it twice: give one of them",
        ),
        (
            JudgementEntry {
                unit: Some("mm".into()),
                ..count(1.0, 2.0)
            },
            "judgement[0].count: `count` does not go with a measure: leave it out",
        ),
        (
            JudgementEntry {
                unit: Some("mm".into()),
                positive: true,
                ..quartiles(&[-1.0, 2.0, 3.0])
            },
            "judgement[0]: -1 must be above 0: this quantity is positive",
        ),
        (
            JudgementEntry {
                unit: Some("mm".into()),
                positive: true,
                family: Some(Family::Normal),
                ..quartiles(&[1.0, 2.0, 3.0])
            },
            "judgement[0].family: `family` does not go with a positive measure unless it is \
             log-normal or gamma: leave it out",
        ),
        (
            quartiles(&[1e-300, 0.3, 0.4]),
            "judgement[0].quartiles: 1e-300 must be a number within ±1e9 and, unless 0, no smaller \
             than 1e-9",
        ),
        (
            JudgementEntry::default(),
            "judgement[0]: nothing is said of it: give quartiles, quantiles, a range, or a count",
        ),
        (
            JudgementEntry {
                counts: Some(vec![1.0, 2.0]),
                ..Default::default()
            },
            "judgement[0].counts: 2 levels: a row has 3 to 9; a sign of two levels takes a single \
             chance",
        ),
    ] {
        assert_eq!(judged(entry).unwrap_err(), message);
    }
    for (found, looked) in [
        (nan, 3.0),
        (1.0, f64::INFINITY),
        (-1.0, 3.0),
        (0.5, 3.0),
        (0.0, 0.0),
    ] {
        assert!(judged(count(found, looked)).is_err(), "{found} {looked}");
    }
}

#[test]
fn problems_of_a_file_have_a_place() {
    let problems = |from: &str, to: &str| {
        assert!(TWO.contains(from), "{from}");
        let text = TWO.replacen(from, to, 1);
        let error = elicit_text(Text::new("two.toml", &text)).unwrap_err();
        error.to_string()
    };
    assert_eq!(
        problems("[0.7, 0.8, 0.88]", "[0.7, 0.88, 0.8]"),
        "two.toml:12:1: the 50 % value 0.88 is above the 75 % value 0.8: values must rise with \
         their levels [judgement/order]"
    );
    assert_eq!(
        problems("shows/pieced-out", "shows/peiced-out"),
        "two.toml:10:1: the pack `drop-leaf-table` has no number \
         `sign/tracks-stop-at-join/shows/peiced-out`, perhaps \
         `sign/tracks-stop-at-join/shows/pieced-out`; docs/forms lists them all \
         [judgement/unknown-number]"
    );
    assert_eq!(
        problems("id = \"dealer\"", "id = \"dealr\""),
        "two.toml:15:1: unknown expert `dealer`, perhaps `dealr`; add an [[expert]], or leave all \
         out [judgement/unknown-expert]\n\
         two.toml:19:1: unknown expert `dealer`, perhaps `dealr`; add an [[expert]], or leave all \
         out [judgement/unknown-expert]\n\
         two.toml:27:1: unknown expert `dealer`, perhaps `dealr`; add an [[expert]], or leave all \
         out [judgement/unknown-expert]"
    );
    assert!(problems("weight = 3", "weight = -3").contains("6:1: weight -3 must be 0.000001"));
    assert!(problems("judgement/1", "judgment/1").contains("[judgement/schema]"));
    assert!(problems("quartiles", "quartile").contains("perhaps `quartiles`"));
    assert!(problems("count = [3, 20]", "factor = true").contains("nothing is said of it"));
    let kind = problems("count = [3, 20]", "factor = true\nbetween = [1, 2]");
    assert!(
        kind.contains("judged as a chance before and as a factor here"),
        "{kind}"
    );
    assert!(kind.contains("is a chance; leave `factor` out"), "{kind}");
}

/// Whatever is stated, something comes back within a moment, and all figures are numbers.
#[test]
fn extreme_judgements_end_well() {
    for points in [
        &[(0.001, 1e-9), (0.999, 0.999_999_999)][..],
        &[(0.001, 1e-9), (0.002, 0.5), (0.003, 0.999)],
        &[(0.4, 0.5), (0.5, 0.500_000_001), (0.6, 0.500_000_002)],
        &[(0.01, 1e-9), (0.5, 2e-9), (0.99, 0.9)],
        &[
            (0.1, 0.1),
            (0.2, 0.9),
            (0.8, 0.91),
            (0.9, 0.92),
            (0.95, 0.999),
        ],
    ] {
        let stated = Quantiles::new(points).unwrap();
        let fit = fit_chance(&stated).unwrap();
        let (mean, strength) = (fit.fitted.mean().unwrap(), fit.fitted.strength().unwrap());
        assert!(
            mean > 0.0 && mean < 1.0 && strength > 0.0 && fit.squares.is_finite(),
            "{fit:?}"
        );
        assert!(fit.fitted.pieces().unwrap().none.is_finite());
        assert!(fit.fitted.picture().iter().all(|bar| bar.share.is_finite()));
        for (family, fit) in fit_measures(&stated, false).unwrap() {
            let Fitted::Measure { density } = &fit.fitted else {
                panic!("{fit:?}");
            };
            density.validate().unwrap();
            assert!(fit.squares.is_finite(), "{family:?} {fit:?}");
        }
        fit_factor(&stated).unwrap();
    }
    let wide = Quantiles::new(&[(0.05, -1e9), (0.5, 0.0), (0.95, 1e9)]).unwrap();
    assert!(fit_measures(&wide, false).unwrap()[0].1.squares < 1e-9);
    assert!(matches!(
        fit_measures(&wide, true),
        Err(ElicitError::NotPositive { .. })
    ));
}

/// Texts cut short anywhere, and with any value made absurd, are refused or worked out.
#[test]
fn hostile_files_end_well() {
    let text = TWO.replace("form = \"drop-leaf-table\"\n", "");
    for end in (0..text.len()).step_by(3) {
        if let Ok(elicited) = elicit_text(Text::new("cut.toml", &text[..end])) {
            assert!(!elicited.numbers_toml().is_empty());
        }
    }
    for value in ["0.7", "0.88", "3, 20", "1]", "weight = 3", "0.8]", "15]"] {
        for absurd in [
            "nan", "inf", "-1e308", "1e308", "5e-324", "0", "[]", "\"x\"", "{}",
        ] {
            let changed = value.replacen(|c: char| c.is_ascii_digit(), "@", 1);
            let changed = changed.replace('@', absurd);
            let text = text.replacen(value, &changed, 1);
            let _ = elicit_text(Text::new("absurd.toml", &text));
        }
    }
}

#[test]
fn many_opinions_of_one_number_are_pooled_and_too_many_refused() {
    let of = |count: usize| {
        let judgements = (0..count).map(|place| JudgementEntry {
            quartiles: Some(vec![1.0, 2.0 + 0.01 * place as f64, 4.0]),
            unit: Some("mm".into()),
            family: Some(Family::StudentT3),
            ..Default::default()
        });
        elicit(&JudgementFile {
            judgements: judgements.collect(),
            ..Default::default()
        })
    };
    let value = of(64).unwrap().numbers.remove(0);
    let Fitted::Measure { density } = value.result else {
        panic!("{value:?}");
    };
    density.validate().unwrap();
    assert_eq!(of(65).unwrap_err()[0].code, "judgement/too-many");
}
