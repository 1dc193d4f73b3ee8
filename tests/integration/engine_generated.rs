//! The laws of arguments, curves, outlooks and studies on packs that nobody wrote.

use oddment::leaning::Curve;
use oddment::pack::VERDICTS;
use oddment::study::{StudyOptions, study};
use oddment::{Case, LeanOptions, NextOptions, Pack, Text, explain, lean, look_next};
use oddment_tests::assert_close;
use oddment_tests::generated_pack::{self, Size};
use oddment_tests::property::check;
use oddment_tests::what_if::{decibans, load, only, verdicts, with_number};

const SMALL: Size = Size {
    histories: 6,
    incidents: 3,
    dated_parts: 2,
    signs: 16,
    measures: 2,
};

fn generated(seed: u64, every: usize) -> (Pack, Case) {
    let (library, pack) = (generated_pack::library(), generated_pack::pack(SMALL, seed));
    let pack = Pack::load(Text::new("pack", &pack), Text::new("library", &library));
    let pack = pack.unwrap_or_else(|error| panic!("{error}"));
    let case = load(&pack, &generated_pack::case(SMALL, every, seed));
    (pack, case)
}

#[test]
fn arguments_add_up_on_any_pack() {
    check(12, (0_u64..10_000, 1_usize..4), |(seed, every)| {
        let (pack, case) = generated(seed, every);
        let argument = explain(&pack, &case, None).unwrap_or_else(|error| panic!("{error}"));
        for (place, question) in argument.questions.iter().enumerate() {
            let of = argument
                .findings
                .iter()
                .map(|finding| finding.weights[place]);
            let share: f64 = of.clone().map(|weights| weights.share).sum();
            let in_order: f64 = of.clone().map(|weights| weights.in_order).sum();
            assert_close!(share, question.total, abs = 1e-6);
            assert_close!(in_order, question.total, abs = 1e-6);
            let last = argument.findings.len() - 1;
            let without = verdicts(&pack, &only(&case, |item| item != last));
            let want = decibans(&verdicts(&pack, &case), place) - decibans(&without, place);
            assert_close!(
                argument.findings[last].weights[place].withdrawn,
                want,
                abs = 1e-6
            );
        }
    });
}

#[test]
fn exact_curves_foretell_new_cases_on_any_pack() {
    check(10, (0_u64..10_000, 1_usize..3), |(seed, every)| {
        let (pack, case) = generated(seed, every);
        let leaning = lean(&pack, &case, &LeanOptions::default());
        let leaning = leaning.unwrap_or_else(|error| panic!("{error}"));
        let place = VERDICTS
            .iter()
            .position(|v| *v == leaning.verdict)
            .unwrap_or(9);
        for number in leaning.numbers.iter().step_by(9) {
            let Curve::Exact { pieces } = &number.curve else {
                continue;
            };
            for piece in pieces {
                let at = 0.37 * piece.from + 0.63 * piece.to;
                let value = |c: &[f64]| {
                    let t = at - number.value;
                    c.iter().rev().fold(0.0, |sum, c| sum * t + c)
                };
                let have = value(&piece.numerator) / value(&piece.denominator);
                let want = verdicts(&pack, &with_number(&pack, &case, &number.id, at));
                assert_close!(have, want[place], abs = 1e-9, "{} at {at}", number.id);
            }
        }
        for bounds in &leaning.bounds {
            assert!(bounds.low <= bounds.high, "{bounds:?}");
        }
        let bounds = &leaning.bounds[place];
        assert!(bounds.low <= leaning.probability && leaning.probability <= bounds.high);
    });
}

#[test]
fn information_lies_between_nothing_and_what_is_open_on_any_pack() {
    check(8, (0_u64..10_000, 3_usize..6), |(seed, every)| {
        let (pack, case) = generated(seed, every);
        let options = NextOptions {
            minutes: Some(20.0),
            ..NextOptions::default()
        };
        let outlook = look_next(&pack, &case, &options).unwrap_or_else(|error| panic!("{error}"));
        for check in &outlook.checks {
            assert!(check.bits >= 0.0 && check.bits <= outlook.open_bits + 1e-9);
        }
        let plan = outlook.plan.unwrap_or_else(|| panic!("no plan"));
        assert!(plan.used <= 20.0);
    });
}

#[test]
fn draws_are_probabilities_on_any_pack() {
    check(8, (0_u64..10_000, 1_usize..5), |(seed, every)| {
        let (pack, case) = generated(seed, every);
        let options = StudyOptions {
            draws: 40,
            seed,
            pairs: 10,
            threads: 2,
        };
        let study = study(&pack, &case, &options, &|_, _| true);
        let study = study.unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(study.draws.len(), 40);
        for draw in &study.draws {
            assert_close!(draw.iter().sum::<f64>(), 1.0, rel = 1e-12);
            assert!(draw.iter().all(|share| *share >= 0.0));
        }
    });
}
