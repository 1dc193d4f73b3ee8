//! The assessment against going through every world in turn, on small generated pieces.

use oddment::case::Outcome;
use oddment::pack::VERDICTS;
use oddment::{Assessment, Case, Pack, Text, Verdict, assess};
use oddment_tests::assert_close;
use oddment_tests::generated_pack::{self, Size};
use oddment_tests::piece_oracle::{World, worlds};

const SMALL: Size = Size {
    histories: 6,
    incidents: 3,
    dated_parts: 4,
    signs: 14,
    measures: 2,
};

/// Two groups at most, so that the oracle stays quick.
fn small_pack(seed: u64) -> Pack {
    let (library, pack) = (generated_pack::library(), generated_pack::pack(SMALL, seed));
    Pack::load(Text::new("pack", &pack), Text::new("library", &library))
        .unwrap_or_else(|error| panic!("{error}"))
}

/// A case with two visits, sureness of all kinds, a censored reading, prices and a known incident.
fn small_case(pack: &Pack, seed: u64) -> Case {
    let mut text = generated_pack::case(SMALL, 1, seed);
    text = text.replace("value = ", "visit = \"one\"\nvalue = ");
    text = text.replacen(
        "visit = \"one\"\nvalue = ",
        "visit = \"two\"\nless_than = ",
        1,
    );
    text = text.replace(
        "region = \"here\"\n",
        "region = \"here\"\nprices = { as_claimed = 900, plainer = 200 }\n",
    );
    let mut lines = String::new();
    let mut findings = 0;
    for line in text.lines() {
        lines.push_str(line);
        lines.push('\n');
        if line.starts_with("found = ") {
            findings += 1;
            let visit = if findings % 3 == 0 { "two" } else { "one" };
            let sure = ["sure", "fairly-sure", "doubtful"][findings % 3];
            lines.push_str(&format!("visit = \"{visit}\"\nsure = \"{sure}\"\n"));
        }
    }
    lines.push_str(
        "[[finding]]\nsign = \"sign-1\"\nfound = \"yes\"\nvisit = \"two\"\n\
         [[visit]]\nid = \"one\"\npoor = 0.2\n[[visit]]\nid = \"two\"\nerror_factor = 0.5\n",
    );
    if seed % 2 == 1 {
        lines.push_str("[known]\nincident-1 = true\n");
    }
    Case::load(Text::new("case", &lines), pack).unwrap_or_else(|error| panic!("{error}"))
}

fn sum(worlds: &[World], keep: impl Fn(&World) -> bool) -> f64 {
    worlds
        .iter()
        .filter(|world| keep(world))
        .map(|world| world.joint)
        .sum()
}

fn odds(pack: &Pack, worlds: &[World], verdict: Verdict) -> f64 {
    let has = |world: &World| pack.histories[world.history].verdict == verdict;
    sum(worlds, has) / sum(worlds, |world| !has(world))
}

#[test]
fn every_part_of_an_assessment_equals_going_through_all_worlds() {
    for seed in [3, 8, 21] {
        let pack = small_pack(seed);
        let case = small_case(&pack, seed);
        let assessment = assess(&pack, &case).unwrap_or_else(|error| panic!("{error}"));
        let worlds = worlds(&pack, &case, None);
        let total = sum(&worlds, |_| true);
        assert_close!(
            assessment.ln_evidence,
            libm::log(total),
            ln = 1e-10,
            "seed {seed}"
        );
        for (index, history) in pack.histories.iter().enumerate() {
            let given = assessment.histories.iter().find(|h| h.id == history.id);
            let given = given.map_or(f64::NAN, |history| history.probability);
            let expected = sum(&worlds, |world| world.history == index) / total;
            assert_close!(given, expected, rel = 1e-10, "{}", history.id);
        }
        for (index, incident) in assessment.incidents.iter().enumerate() {
            let expected = sum(&worlds, |world| world.incidents[index]) / total;
            assert_close!(
                incident.probability,
                expected,
                rel = 1e-10,
                "{}",
                incident.id
            );
        }
        for (index, visit) in assessment.visits.iter().enumerate() {
            let expected = sum(&worlds, |world| world.poor[index]) / total;
            assert_close!(visit.probability, expected, rel = 1e-10, "{}", visit.id);
        }
        dates(&pack, &case, &assessment, total);
        findings(&pack, &case, &assessment, &worlds);
    }
}

fn dates(pack: &Pack, case: &Case, assessment: &Assessment, total: f64) {
    for date in &assessment.dates {
        let part = pack
            .parts
            .iter()
            .position(|part| part.id == date.part)
            .unwrap_or(usize::MAX);
        for (bin, given) in date.bins.iter().enumerate().step_by(3) {
            let expected = sum(&worlds(pack, case, Some((part, bin))), |_| true) / total;
            // A bin that nothing reaches is exactly zero on both sides.
            assert_close!(
                given.probability,
                expected,
                rel = 1e-10,
                "{} {}",
                date.part,
                given.from
            );
        }
    }
}

fn findings(pack: &Pack, case: &Case, assessment: &Assessment, with: &[World]) {
    assert_eq!(
        assessment.findings.len(),
        case.findings.len() + case.readings.len()
    );
    for (index, finding) in assessment.findings.iter().enumerate() {
        let mut withdrawn = case.clone();
        let mut opposite = case.clone();
        let number = case.findings.len();
        if index < number {
            withdrawn.findings[index].outcome = Outcome::NotLooked;
            if let Outcome::Reported { level, .. } = &mut opposite.findings[index].outcome {
                let top = pack.signs[case.findings[index].sign].levels.len() - 1;
                *level = if *level == 0 { top } else { 0 };
            }
        } else {
            withdrawn.readings.remove(index - number);
        }
        let without = worlds(pack, &withdrawn, None);
        let flipped = worlds(pack, &opposite, None);
        for verdict in VERDICTS {
            let decibans = |with: &[World]| {
                10.0 * libm::log10(odds(pack, with, verdict) / odds(pack, &without, verdict))
            };
            let what = format!("{} {}", finding.id, verdict.id());
            assert_close!(
                finding.decibans[&verdict],
                decibans(with),
                abs = 1e-8,
                "{what}"
            );
            if let Some(opposite) = &finding.opposite {
                assert_close!(
                    opposite.decibans[&verdict],
                    decibans(&flipped),
                    abs = 1e-8,
                    "{what}"
                );
            }
        }
    }
}
