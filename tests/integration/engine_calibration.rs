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

/// The naive product weighs every finding of a piece alone, so it is asked of fewer; but of pieces
/// with everything looked at, as double counting needs something to count twice.
const NAIVE_PIECES: usize = 360;

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
    armchair = "armchair",
    card_table = "card-table",
    chest_of_drawers = "chest-of-drawers",
    chest_on_chest = "chest-on-chest",
    drop_leaf_table = "drop-leaf-table",
    kneehole_desk = "kneehole-desk",
    library_bookcase = "library-bookcase",
    linen_press = "linen-press",
    looking_glass = "looking-glass",
    side_chairs = "side-chairs",
    sideboard = "sideboard",
    slant_front_desk = "slant-front-desk",
    tilt_top_table = "tilt-top-table",
}

fn pieces() -> usize {
    let asked = std::env::var("ODDMENT_PIECES").ok();
    asked.and_then(|text| text.parse().ok()).unwrap_or(PIECES)
}

/// A claim with every so many-th sign looked at, and two measures that need no timber.
fn looked_at(pack: &Pack, [variant, period, region]: [usize; 3], every: usize) -> Case {
    let mut text = format!(
        "schema = \"oddment/case/1\"\n[piece]\nform = \"{}\"\nvariant = \"{}\"\nperiod = \"{}\"\n\
         region = \"{}\"\n",
        pack.id, pack.variants[variant].id, pack.periods[period].id, pack.regions[region].id
    );
    let signs = pack.signs.iter().filter_map(|sign| {
        let part = pack.parts_of(sign, variant).next()?;
        Some((sign, &pack.parts[part].id))
    });
    for (sign, part) in signs.step_by(every) {
        let _ = writeln!(
            text,
            "[[finding]]\nsign = \"{}\"\npart = \"{part}\"\nfound = \"{}\"",
            sign.id, sign.levels[0]
        );
    }
    let concerning = pack.measures.iter().filter(|m| m.concerns(variant));
    let dry = concerning.filter(|measure| {
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

/// Pieces simulated for every claim, and what was stated of them.
struct Simulated {
    at_prior: Vec<Outcome>,
    joint: Vec<Outcome>,
    naive: Vec<Outcome>,
}

fn simulate(pack: &Pack, pieces: usize, every: usize, with_naive: bool) -> Simulated {
    let mut rng = ChaCha8Rng::seed_from_u64(2026);
    let mut all = Simulated {
        at_prior: Vec::new(),
        joint: Vec::new(),
        naive: Vec::new(),
    };
    let (periods, variants) = (pack.periods.len(), pack.variants.len());
    for period in 0..periods {
        let case = looked_at(pack, [0, period, 0], every);
        let model = Model::compile(pack, case.years, &case.numbers)
            .unwrap_or_else(|error| panic!("{error}"));
        for variant in 0..variants {
            let region = (period + variant) % pack.regions.len();
            let template = looked_at(pack, [variant, period, region], every);
            let priors = oddment::prior::history_priors(pack, &template);
            for _ in 0..pieces.div_ceil(periods * variants) {
                let piece = model.draw_piece(&priors, &[], &mut rng);
                let case = model.report(pack, &template, &piece, &mut rng);
                let histories = model
                    .histories(pack, &case)
                    .unwrap_or_else(|error| panic!("{error}"));
                let truth = place(pack.histories[piece.history].verdict);
                let outcome = |histories: &[f64]| Outcome {
                    stated: verdict_sums(pack, histories),
                    truth,
                };
                all.joint.push(outcome(&histories));
                all.at_prior.push(outcome(&priors));
                if with_naive {
                    let product = naive_product(pack, &model, &case, &priors);
                    all.naive.push(outcome(&product));
                }
            }
        }
    }
    all
}

fn come_true_and_beat_the_prior_and_the_naive_product(form: &str) {
    let pack = packs::load(form).unwrap_or_else(|error| panic!("{error}"));
    let half = simulate(&pack, pieces(), 2, false);
    reliable(form, &half.joint);
    let whole = simulate(&pack, NAIVE_PIECES, 1, true);
    let scores = format!(
        "{form}: {} pieces half looked at: Brier {:.4} (prior {:.4}); {} looked at all over: Brier \
         {:.4} (naive {:.4}), log score {:.4} (naive {:.4})",
        half.joint.len(),
        brier(&half.joint),
        brier(&half.at_prior),
        whole.joint.len(),
        brier(&whole.joint),
        brier(&whole.naive),
        log_score(&whole.joint),
        log_score(&whole.naive)
    );
    println!("{scores}");
    assert!(brier(&half.joint) < 0.8 * brier(&half.at_prior), "{scores}");
    assert!(brier(&whole.joint) < brier(&whole.naive), "{scores}");
    assert!(
        log_score(&whole.joint) < log_score(&whole.naive),
        "{scores}"
    );
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
