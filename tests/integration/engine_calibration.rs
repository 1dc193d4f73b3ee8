//! On pieces simulated from the drop-leaf pack, stated probabilities come true.

use oddment::pack::VERDICTS;
use oddment::{Case, Model, Pack, Text, Verdict};
use oddment_tests::drop_leaf::pack;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use std::fmt::Write;

const PIECES: usize = 1000;

/// The naive product weighs every finding of a piece alone, so it is asked of fewer.
const NAIVE_PIECES: usize = 200;

/// Every second sign looked at, and every measure that needs no timber.
fn looked_at(pack: &Pack) -> Case {
    let mut text = format!(
        "schema = \"oddment/case/1\"\n[piece]\nform = \"{}\"\nvariant = \"oval\"\nperiod = \"bent-leg\"\n\
         region = \"britain\"\n",
        pack.id
    );
    for sign in pack.signs.iter().step_by(2) {
        let part = &pack.parts[sign.parts[0]].id;
        let _ = writeln!(
            text,
            "[[finding]]\nsign = \"{}\"\npart = \"{part}\"\nfound = \"{}\"",
            sign.id, sign.levels[0]
        );
    }
    for measure in pack.measures.iter().take(2) {
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

#[test]
fn stated_probabilities_come_true_and_beat_the_prior_and_the_naive_product() {
    let pack = pack();
    let template = looked_at(&pack);
    let model = Model::compile(&pack, template.years, &template.numbers)
        .unwrap_or_else(|error| panic!("{error}"));
    let priors = oddment::prior::history_priors(&pack, &template);
    let prior = verdict_sums(&pack, &priors);
    let mut rng = ChaCha8Rng::seed_from_u64(2026);
    let (mut outcomes, mut naive) = (Vec::new(), Vec::new());
    for _ in 0..PIECES {
        let piece = model.draw_piece(&priors, &[], &mut rng);
        let case = model.report(&pack, &template, &piece, &mut rng);
        let stated = model
            .histories(&pack, &case)
            .unwrap_or_else(|error| panic!("{error}"));
        let truth = place(pack.histories[piece.history].verdict);
        outcomes.push(Outcome {
            stated: verdict_sums(&pack, &stated),
            truth,
        });
        if naive.len() < NAIVE_PIECES {
            let product = naive_product(&pack, &model, &case, &priors);
            naive.push(Outcome {
                stated: verdict_sums(&pack, &product),
                truth,
            });
        }
    }
    reliable(&outcomes);
    let at_prior: Vec<Outcome> = outcomes
        .iter()
        .map(|outcome| Outcome {
            stated: prior,
            truth: outcome.truth,
        })
        .collect();
    assert!(
        brier(&outcomes) < 0.75 * brier(&at_prior),
        "{} {}",
        brier(&outcomes),
        brier(&at_prior)
    );
    let same = &outcomes[..naive.len()];
    assert!(
        brier(same) < brier(&naive),
        "{} {}",
        brier(same),
        brier(&naive)
    );
    assert!(
        log_score(same) < log_score(&naive),
        "{} {}",
        log_score(same),
        log_score(&naive)
    );
}

/// In each band of stated probability the share that came true lies within four standard errors.
fn reliable(outcomes: &[Outcome]) {
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
                "{band:?}: {true_count} of {count}, {stated} stated"
            );
        }
    }
    assert!(filled >= 6, "only {filled} bands have enough pieces");
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
