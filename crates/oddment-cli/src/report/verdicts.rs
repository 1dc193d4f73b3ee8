//! How likely: verdicts as counts of pieces, the leading stories.

use crate::page::{PLAIN, Page, STRONG};
use crate::words::{count_out_of, first_sentence, out_of, size};
use oddment::assessment::{Assessment, HistoryOdds, VerdictOdds};
use oddment::scale::{Direction, Strength};

/// The most stories told.
const STORIES: usize = 3;

/// A story less likely than this is not told, unless it leads.
const WORTH_TELLING: f64 = 0.05;

pub(super) fn render(page: &mut Page, assessment: &Assessment) {
    if assessment.findings.is_empty() {
        page.heading("Nothing has been looked at yet. Of 1,000 pieces offered as this one is:");
        for odds in &assessment.verdicts {
            let count = count_out_of(1000, odds.prior_in_thousand, odds.prior);
            page.row(PLAIN, &format!("  {:10}{count:>9}", odds.verdict.id()));
        }
        return;
    }
    let leader = leader(assessment);
    page.heading("Of 1,000 pieces offered as this one is and showing just this:");
    if page.is_narrow() {
        for odds in &assessment.verdicts {
            let now = count_out_of(1000, odds.in_thousand, odds.probability);
            let before = count_out_of(1000, odds.prior_in_thousand, odds.prior);
            let verdict = odds.verdict.id();
            let text = format!("{verdict} ({before} before looking); {}", support(odds));
            page.hang(PLAIN, 0, &format!("{now:>8}  "), &text);
        }
        return;
    }
    page.row(
        PLAIN,
        "                  now   before looking   what the findings say (decibans)",
    );
    for odds in &assessment.verdicts {
        let line = format!(
            "  {:10}{:>9}   {:>10}       {}",
            odds.verdict.id(),
            count_out_of(1000, odds.in_thousand, odds.probability),
            count_out_of(1000, odds.prior_in_thousand, odds.prior),
            support(odds)
        );
        let leads = leader.is_some_and(|leader| leader.verdict == odds.verdict);
        page.row(if leads { STRONG } else { PLAIN }, &line);
    }
}

fn leader(assessment: &Assessment) -> Option<&VerdictOdds> {
    let verdicts = assessment.verdicts.iter();
    verdicts.max_by(|one, other| one.probability.total_cmp(&other.probability))
}

/// The strength of the findings in words, with the number beside it.
fn support(odds: &VerdictOdds) -> String {
    let side = match odds.direction {
        Direction::Neither => return Strength::NoSupport.words().to_owned(),
        Direction::First => "for",
        Direction::Second => "against",
    };
    format!("{} {side} ({})", odds.strength.words(), size(odds.decibans))
}

pub(super) fn render_histories(page: &mut Page, assessment: &Assessment) {
    let told: Vec<&HistoryOdds> = assessment
        .histories
        .iter()
        .enumerate()
        .filter(|(place, history)| *place == 0 || history.probability >= WORTH_TELLING)
        .map(|(_, history)| history)
        .take(STORIES)
        .collect();
    page.heading(if told.len() == 1 {
        "The leading story (of 1,000)"
    } else {
        "The leading stories (of 1,000)"
    });
    for history in told {
        let head = format!(
            "{}: {} ({} before looking)",
            history.name,
            history.verdict.id(),
            out_of(1000, history.prior)
        );
        let label = format!("{:>8}  ", out_of(1000, history.probability));
        page.hang(PLAIN, 0, &label, &head);
        page.paragraph(PLAIN, label.len(), first_sentence(&history.story));
    }
}
