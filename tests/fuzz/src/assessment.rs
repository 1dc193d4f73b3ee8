//! What must hold of every assessment.

use crate::network::in_range;
use oddment::{Assessment, Case, Error, Pack, Text, assess};

/// Loads and assesses a case; panics when a valid one gives anything but numbers in range or a
/// typed error.
pub fn assess_text(pack: &Pack, text: &str) {
    match Case::load(Text::new("case", text), pack) {
        Ok(case) => match assess(pack, &case) {
            Ok(assessment) => check(&assessment),
            Err(error) => refused(&error),
        },
        Err(error) => refused(&error),
    }
}

/// Panics when an error says nothing or points outside its text.
pub fn refused(error: &Error) {
    assert!(!error.to_string().is_empty() && !error.code().is_empty());
    for problem in error.problems() {
        assert!(!problem.message.is_empty());
        assert!(problem.line > 0 && problem.column > 0, "{problem:?}");
    }
}

fn check(assessment: &Assessment) {
    let verdicts = &assessment.verdicts;
    in_range(&verdicts.iter().map(|v| v.prior).collect::<Vec<_>>());
    in_range(&verdicts.iter().map(|v| v.probability).collect::<Vec<_>>());
    assert_eq!(verdicts.iter().map(|v| v.in_thousand).sum::<u32>(), 1_000);
    for verdict in verdicts {
        assert!((0.0..=1e300).contains(&verdict.odds), "{verdict:?}");
        assert!(verdict.log10_odds.abs() <= 300.0, "{verdict:?}");
        assert!(verdict.decibans.is_finite(), "{verdict:?}");
    }
    let histories = &assessment.histories;
    in_range(&histories.iter().map(|h| h.prior).collect::<Vec<_>>());
    in_range(&histories.iter().map(|h| h.probability).collect::<Vec<_>>());
    assert!(histories.iter().all(|h| h.decibans.is_finite()));
    for pair in histories.windows(2) {
        assert!(pair[0].probability >= pair[1].probability, "order");
    }
    let probability = |number: f64| {
        assert!((0.0..=1.0 + 1e-9).contains(&number), "probability {number}");
    };
    for incident in &assessment.incidents {
        probability(incident.prior);
        probability(incident.probability);
    }
    for date in &assessment.dates {
        in_range(&date.bins.iter().map(|bin| bin.prior).collect::<Vec<_>>());
        in_range(
            &date
                .bins
                .iter()
                .map(|bin| bin.probability)
                .collect::<Vec<_>>(),
        );
        assert!(
            date.low <= date.median && date.median <= date.high,
            "{date:?}"
        );
    }
    for finding in &assessment.findings {
        let opposite = finding.opposite.iter().flat_map(|o| o.decibans.values());
        for weight in finding.decibans.values().chain(opposite) {
            assert!(weight.is_finite(), "{finding:?}");
        }
        if let Some(shift) = &finding.incident {
            probability(shift.with);
            probability(shift.without);
        }
    }
    for visit in &assessment.visits {
        probability(visit.prior);
        probability(visit.probability);
    }
    probability(assessment.fit.share_as_rare);
    assert!(assessment.ln_evidence.is_finite(), "ln P(findings)");
    let json = serde_json::to_string(assessment).expect("an assessment serialises");
    let again: Assessment = serde_json::from_str(&json).expect("and is read back");
    assert_eq!(&again, assessment);
}
