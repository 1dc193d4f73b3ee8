//! On pieces simulated from a pack, stated probabilities come true: every form, all its variants,
//! periods and regions.
//!
//! A thousand pieces a form; `ODDMENT_PIECES=10000 cargo test -p oddment-tests calibration` for more.

use oddment::pack::{ExpectedValues, VERDICTS};
use oddment::{Case, Model, Pack, Text, Verdict, packs};
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use std::fmt::Write;

/// How many pieces are simulated of a form, unless told otherwise.
const PIECES: usize = 1000;

/// The naive product weighs every finding of a piece alone, so it is asked of fewer.
const NAIVE_PIECES: usize = 120;

macro_rules! forms {
    ($($name:ident = $id:literal),* $(,)?) => {
        $(
            #[test]
            fn $name() {
                come_true_and_beat_the_prior_and_the_naive_product($id);
            }
        )*

        #[test]
        fn every_form_is_calibrated() {
            let here = [$($id),*];
            let all: Vec<&str> = packs::forms().collect();
            assert_eq!(all, here, "one line for each form");
        }
    };
}

forms! {
    drop_leaf_table = "drop-leaf-table",
}

fn pieces() -> usize {
    let asked = std::env::var("ODDMENT_PIECES").ok();
    asked.and_then(|text| text.parse().ok()).unwrap_or(PIECES)
}

/// A claim with every second sign looked at, and two measures that need no timber.
fn looked_at(pack: &Pack, variant: usize, period: usize, region: usize) -> Case {
    let mut text = format!(
        "schema = \"oddment/case/1\"\n[piece]\nform = \"{}\"\nvariant = \"{}\"\nperiod = \"{}\"\n\
         region = \"{}\"\n",
        pack.id, pack.variants[variant].id, pack.periods[period].id, pack.regions[region].id
    );
    for sign in pack.signs.iter().step_by(2) {
        let part = &pack.parts[sign.parts[0]].id;
        let _ = writeln!(
            text,
            "[[finding]]\nsign = \"{}\"\npart = \"{part}\"\nfound = \"{}\"",
            sign.id, sign.levels[0]
        );
    }
    let dry = pack.measures.iter().filter(|measure| {
        let first = measure.expectations.first();
        !first.is_some_and(|e| matches!(e.values, ExpectedValues::Movement(_)))
    });
    for measure in dry.take(2) {
        let middle = 0.5 * (measure.plausible.0 + measure.plausible.1);
        let _ = writeln!(
            text,
            "[[reading]]\nmeasure = \"{}\"\nvalue = {middle:?}",
            measure.id
        );
    }
    Case::load(Text::new("looked at", &text), pack).unwrap_or_else(|error| panic!("{error}"))
}

struct Outcome {
    stated: [f64; 4],
    truth: usize,
}

fn verdict_sums(pack: &Pack, histories: &[f64]) -> [f64; 4] {
    VERDICTS.map(|verdict| {
        let pairs = pack.histories.iter().zip(histories);
        pairs
            .filter(|(history, _)| history.verdict == verdict)
            .map(|(_, p)| p)
            .sum()
    })
}

fn place(verdict: Verdict) -> usize {
    VERDICTS
        .iter()
        .position(|other| *other == verdict)
        .unwrap_or(0)
}

fn come_true_and_beat_the_prior_and_the_naive_product(form: &str) {
    let pack = packs::load(form).unwrap_or_else(|error| panic!("{error}"));
    let mut rng = ChaCha8Rng::seed_from_u64(2026);
    let (mut outcomes, mut at_prior) = (Vec::new(), Vec::new());
    let (mut naive, mut joint) = (Vec::new(), Vec::new());
    let (periods, variants) = (pack.periods.len(), pack.variants.len());
    for period in 0..periods {
        let model = {
            let case = looked_at(&pack, 0, period, 0);
            Model::compile(&pack, case.years, &case.numbers)
                .unwrap_or_else(|error| panic!("{error}"))
        };
        for variant in 0..variants {
            let region = (period + variant) % pack.regions.len();
            let template = looked_at(&pack, variant, period, region);
            let priors = oddment::prior::history_priors(&pack, &template);
            let share = |of: usize| of.div_ceil(periods * variants);
            for number in 0..share(pieces()) {
                let piece = model.draw_piece(&priors, &[], &mut rng);
                let case = model.report(&pack, &template, &piece, &mut rng);
                let histories = model
                    .histories(&pack, &case)
                    .unwrap_or_else(|error| panic!("{error}"));
                let truth = place(pack.histories[piece.history].verdict);
                let outcome = |histories: &[f64]| Outcome {
                    stated: verdict_sums(&pack, histories),
                    truth,
                };
                outcomes.push(outcome(&histories));
                at_prior.push(outcome(&priors));
                if number < share(NAIVE_PIECES) {
                    joint.push(outcome(&histories));
                    naive.push(outcome(&naive_product(&pack, &model, &case, &priors)));
                }
            }
        }
    }
    reliable(form, &outcomes);
    let scores = format!(
        "{form}: Brier {:.4} (prior {:.4}), {} pieces; of {}: {:.4} (naive {:.4}), log score {:.4} \
         (naive {:.4})",
        brier(&outcomes),
        brier(&at_prior),
        outcomes.len(),
        joint.len(),
        brier(&joint),
        brier(&naive),
        log_score(&joint),
        log_score(&naive)
    );
    println!("{scores}");
    assert!(brier(&outcomes) < 0.8 * brier(&at_prior), "{scores}");
    assert!(brier(&joint) < brier(&naive), "{scores}");
    assert!(log_score(&joint) < log_score(&naive), "{scores}");
}

/// In each band of stated probability the share that came true lies within four standard errors.
fn reliable(form: &str, outcomes: &[Outcome]) {
    let edges = [0.0, 0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 0.98, 1.0 + 1e-9];
    let mut filled = 0;
    for band in edges.windows(2) {
        let (mut stated, mut variance, mut true_count, mut count) = (0.0, 0.0, 0.0, 0.0);
        for outcome in outcomes {
            for (verdict, p) in outcome.stated.iter().enumerate() {
                if (band[0]..band[1]).contains(p) {
                    stated += p;
                    variance += p * (1.0 - p);
                    true_count += f64::from(u8::from(outcome.truth == verdict));
                    count += 1.0;
                }
            }
        }
        if count >= 30.0 {
            filled += 1;
            let gap = (true_count - stated) / f64::sqrt(variance);
            assert!(
                gap.abs() < 4.0,
                "{form}: {band:?}: {true_count} of {count}, {stated} stated"
            );
        }
    }
    assert!(
        filled >= 5,
        "{form}: only {filled} bands have enough pieces"
    );
}

fn brier(outcomes: &[Outcome]) -> f64 {
    let total: f64 = outcomes
        .iter()
        .map(|outcome| {
            let squares = outcome.stated.iter().enumerate().map(|(verdict, p)| {
                let came = f64::from(u8::from(outcome.truth == verdict));
                (p - came) * (p - came)
            });
            squares.sum::<f64>()
        })
        .sum();
    total / outcomes.len() as f64
}

fn log_score(outcomes: &[Outcome]) -> f64 {
    let total: f64 = outcomes
        .iter()
        .map(|outcome| -libm::log(outcome.stated[outcome.truth].max(1e-300)))
        .sum();
    total / outcomes.len() as f64
}

/// Each finding weighed alone, and the weights multiplied as if nothing hung together.
fn naive_product(pack: &Pack, model: &Model, case: &Case, priors: &[f64]) -> Vec<f64> {
    let mut product = priors.to_vec();
    let mut alone = case.clone();
    let mut multiply = |alone: &Case| {
        let with = model
            .histories(pack, alone)
            .unwrap_or_else(|error| panic!("{error}"));
        for ((product, with), prior) in product.iter_mut().zip(&with).zip(priors) {
            if *prior > 0.0 {
                *product *= with / prior;
            }
        }
    };
    alone.readings.clear();
    for finding in &case.findings {
        alone.findings = vec![finding.clone()];
        multiply(&alone);
    }
    alone.findings.clear();
    for reading in &case.readings {
        alone.readings = vec![reading.clone()];
        multiply(&alone);
    }
    let total: f64 = product.iter().sum();
    product.iter().map(|weight| weight / total).collect()
}
