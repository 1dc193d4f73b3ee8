//! Laws that every assessment keeps.

use oddment::assessment::FitJudgement;
use oddment::pack::VERDICTS;
use oddment::{Assessment, Case, Model, Pack, Text, Verdict, assess, packs};
use oddment_tests::assert_close;
use oddment_tests::drop_leaf::{Sketch, odds, pack};
use oddment_tests::what_if::examples;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

fn example(name: &str) -> String {
    let found = examples().into_iter().find(|(known, _)| known == name);
    found
        .unwrap_or_else(|| panic!("the example {name} is missing"))
        .1
}

fn load(pack: &Pack, text: &str) -> Case {
    Case::load(Text::new("case", text), pack).unwrap_or_else(|error| panic!("{error}"))
}

fn run(pack: &Pack, case: &Case) -> Assessment {
    assess(pack, case).unwrap_or_else(|error| panic!("{error}"))
}

fn same_odds(one: &Assessment, other: &Assessment) {
    for verdict in VERDICTS {
        assert_close!(
            odds(one, verdict),
            odds(other, verdict),
            rel = 1e-11,
            "{}",
            verdict.id()
        );
    }
    assert_close!(one.ln_evidence, other.ln_evidence, ln = 1e-11);
}

#[test]
fn probabilities_sum_to_one_and_counts_to_a_thousand() {
    let pack = pack();
    for (name, text) in examples() {
        let assessment = run(&pack, &load(&pack, &text));
        let sum: f64 = assessment
            .histories
            .iter()
            .map(|history| history.probability)
            .sum();
        assert_close!(sum, 1.0, rel = 1e-12, "{name}");
        let counts: u32 = assessment
            .verdicts
            .iter()
            .map(|verdict| verdict.in_thousand)
            .sum();
        assert_eq!(counts, 1000, "{name}");
        for date in &assessment.dates {
            let sum: f64 = date.bins.iter().map(|bin| bin.probability).sum();
            assert_close!(sum, 1.0, rel = 1e-12, "{name} {}", date.part);
            assert!(
                date.low <= date.median && date.median <= date.high,
                "{name} {}",
                date.part
            );
        }
    }
}

#[test]
fn the_order_of_findings_is_irrelevant() {
    let pack = pack();
    for (_, text) in examples() {
        let case = load(&pack, &text);
        let mut turned = case.clone();
        turned.findings.reverse();
        turned.readings.reverse();
        same_odds(&run(&pack, &case), &run(&pack, &turned));
    }
}

#[test]
fn not_looked_and_no_access_say_nothing() {
    let pack = pack();
    for (_, text) in examples() {
        let case = load(&pack, &text);
        let mut silent = case.clone();
        silent
            .findings
            .retain(|finding| matches!(finding.outcome, oddment::case::Outcome::Reported { .. }));
        same_odds(&run(&pack, &case), &run(&pack, &silent));
    }
}

#[test]
fn an_untouched_case_stays_at_its_prior_on_every_variant_period_and_region() {
    let pack = pack();
    for variant in &pack.variants {
        for period in &pack.periods {
            for region in &pack.regions {
                let text = format!(
                    "schema = \"oddment/case/1\"\n[piece]\nform = \"{}\"\nvariant = \"{}\"\nperiod = \
                     \"{}\"\nregion = \"{}\"\n",
                    pack.id, variant.id, period.id, region.id
                );
                let assessment = run(&pack, &load(&pack, &text));
                for verdict in &assessment.verdicts {
                    assert_close!(verdict.probability, verdict.prior, rel = 1e-12, "{text}");
                }
            }
        }
    }
}

#[test]
fn a_history_with_prior_zero_stays_at_zero() {
    let pack = pack();
    let text = example("pieced-out-oval");
    let mut case = load(&pack, &text);
    let mut prior = oddment::prior::history_priors(&pack, &case);
    let barred = pack
        .histories
        .iter()
        .position(|h| h.id == "outline-pieced-out");
    let barred = barred.unwrap_or_else(|| panic!("no such history"));
    prior[barred] = 0.0;
    case.prior = Some(prior);
    let assessment = run(&pack, &case);
    let found = assessment
        .histories
        .iter()
        .find(|h| h.id == "outline-pieced-out");
    assert_eq!(found.map(|history| history.probability), Some(0.0));
    let sum: f64 = assessment
        .verdicts
        .iter()
        .map(|verdict| verdict.probability)
        .sum();
    assert_close!(sum, 1.0, rel = 1e-12);
}

#[test]
fn a_doubtful_report_weighs_less_than_a_sure_one() {
    let pack = pack();
    for sign in ["holes-stop-blind", "stranger-arc", "join-at-old-outline"] {
        let weight = |sure: &str| {
            let mut case = Sketch::of("oval").found(sign, "", "yes").case(&pack);
            if let oddment::case::Outcome::Reported { sure: words, .. } =
                &mut case.findings[0].outcome
            {
                *words = match sure {
                    "sure" => oddment::case::Sureness::Sure,
                    "fairly" => oddment::case::Sureness::FairlySure,
                    _ => oddment::case::Sureness::Doubtful,
                };
            }
            run(&pack, &case).findings[0].decibans[&Verdict::Original].abs()
        };
        let (sure, fairly, doubtful) = (weight("sure"), weight("fairly"), weight("doubtful"));
        assert!(
            sure > fairly && fairly > doubtful && doubtful > 0.0,
            "{sign}"
        );
    }
}

#[test]
fn findings_with_a_common_cause_count_for_less_than_the_naive_product() {
    let pack = pack();
    let joins = [
        "join-at-old-outline",
        "strip-differs",
        "tracks-stop-at-join",
    ];
    let before = Sketch::of("oval").assess(&pack);
    let mut all = Sketch::of("oval");
    let mut naive = 0.0;
    for sign in joins {
        let alone = Sketch::of("oval").found(sign, "", "yes").assess(&pack);
        naive += libm::log(odds(&alone, Verdict::Converted) / odds(&before, Verdict::Converted));
        all = all.found(sign, "", "yes");
    }
    let all = all.assess(&pack);
    let joint = libm::log(odds(&all, Verdict::Converted) / odds(&before, Verdict::Converted));
    assert!(
        joint > 0.0 && joint < 0.95 * naive,
        "joint {joint} naive {naive}"
    );
}

#[test]
fn thirty_agreeing_signs_do_not_claim_a_million_to_one() {
    // The chance that the whole examination was poor keeps certainty within reason.
    let pack = pack();
    let text = example("clean-rectangular");
    let assessment = run(&pack, &load(&pack, &text));
    assert!(odds(&assessment, Verdict::Original) < 1e4);
}

#[test]
fn contradicting_findings_raise_the_chance_of_a_poor_examination() {
    let pack = pack();
    let text = example("no-story-fits");
    let assessment = run(&pack, &load(&pack, &text));
    let visit = &assessment.visits[0];
    assert!(visit.probability > 5.0 * visit.prior);
    assert_eq!(assessment.fit.judgement, FitJudgement::NoStoryFits);
}

#[test]
fn pieces_of_the_model_seldom_fit_no_story_whatever_is_known_of_them() {
    let pack = pack();
    let text = example("innocent-holes");
    for known in [true, false] {
        let mut template = load(&pack, &text);
        let scrubbed = pack.incidents.iter().position(|i| i.id == "scrubbed");
        template.known = scrubbed.map(|index| (index, known)).into_iter().collect();
        assert_eq!(template.known.len(), 1);
        let model = Model::compile(&pack, template.years, &template.numbers)
            .unwrap_or_else(|error| panic!("{error}"));
        let priors = oddment::prior::history_priors(&pack, &template);
        let mut rng = ChaCha8Rng::seed_from_u64(7);
        let mut judged = [0_u32; 2];
        for _ in 0..60 {
            let piece = model.draw_piece(&priors, &template.known, &mut rng);
            let case = model.report(&pack, &template, &piece, &mut rng);
            let assessment = model
                .assess(&pack, &case, true)
                .unwrap_or_else(|error| panic!("{error}"));
            judged[0] += u32::from(assessment.fit.judgement == FitJudgement::NoStoryFits);
            judged[1] += u32::from(assessment.fit.share_as_rare < 0.5);
        }
        // One in a hundred is called so by construction, and half are rarer than the middle.
        assert!(judged[0] <= 4, "{judged:?} of 60");
        assert!((15..=45).contains(&judged[1]), "{judged:?} of 60");
    }
}

#[test]
fn the_same_case_gives_the_same_bits() {
    let pack = pack();
    for (name, text) in examples() {
        let case = load(&pack, &text);
        let bytes = || serde_json::to_string(&run(&pack, &case)).unwrap_or_default();
        assert_eq!(bytes(), bytes(), "{name}");
    }
}

#[test]
fn every_embedded_pack_loads_and_is_clean() {
    for form in packs::forms() {
        let pack = packs::load(form).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(pack.lint(), Vec::new(), "{form}");
    }
}

#[test]
fn the_fit_is_left_out_where_it_is_not_asked_for() {
    let pack = pack();
    let case = load(&pack, &example("pieced-out-oval"));
    let model = Model::compile(&pack, case.years, &case.numbers).unwrap();
    let whole = model.assess(&pack, &case, true).unwrap();
    let short = model.assess(&pack, &case, false).unwrap();
    assert_eq!(short.fit.judgement, FitJudgement::NotAsked);
    assert_eq!(short.fit.simulated, 0);
    assert!(whole.fit.simulated > 0);
    assert_eq!(short.verdicts, whole.verdicts);
    assert_eq!(short.histories, whole.histories);
}
