//! Two histories against each other.

use super::Told;
use crate::page::{PLAIN, Page};
use crate::words::{odds, plain, signed, thousands};
use oddment::argument::{Question, WeighedFinding};
use oddment::pack::VERDICTS;
use oddment::scale::{self, Direction};

/// The most findings told each way.
const SHOWN: usize = 4;

/// Decibans below which a finding does not tell the two apart.
const LEAST: f64 = 0.5;

pub(super) fn render(page: &mut Page, told: Told<'_>) {
    let told = Told {
        place: VERDICTS.len(),
        ..told
    };
    let Some(question) = told.question() else {
        return;
    };
    let one = question.favoured_name.trim_end_matches('.');
    let other = question.against_name.as_deref().unwrap_or_default();
    let other = other.trim_end_matches('.');
    page.heading(&format!("`{one}` against `{other}`"));
    if told.argument.findings.is_empty() {
        let text = format!("Before looking, and still: {}.", odds(question.before));
        page.paragraph(PLAIN, 0, &text);
        return;
    }
    page.paragraph(PLAIN, 0, &support(question, one, other));
    let text = format!(
        "Before looking the odds of the one against the other were {}; now they are {}.",
        odds(question.before),
        odds(question.after)
    );
    page.paragraph(PLAIN, 0, &text);
    for (title, side) in [(one, 1.0), (other, -1.0)] {
        page.gap();
        page.paragraph(PLAIN, 0, &format!("Fair shares that speak for `{title}`:"));
        let mut findings: Vec<(usize, &WeighedFinding, f64)> = told
            .argument
            .findings
            .iter()
            .enumerate()
            .map(|(place, finding)| (place, finding, side * told.weights(finding).share))
            .filter(|(_, _, share)| *share >= LEAST)
            .collect();
        findings.sort_by(|one, other| other.2.total_cmp(&one.2));
        if findings.is_empty() {
            page.paragraph(PLAIN, 2, "None to speak of.");
        }
        for (place, finding, share) in findings.into_iter().take(SHOWN) {
            let label = format!("{:>8}  ", signed(share).trim_start_matches('+'));
            let text = format!("{}. {}", place + 1, told.told(finding));
            page.hang(PLAIN, 0, &label, &text);
        }
    }
}

/// The likelihood ratio, with the word for it.
fn support(question: &Question, one: &str, other: &str) -> String {
    let ln_ratio = scale::ln_from_decibans(question.total);
    let (direction, strength) =
        scale::strength(ln_ratio).unwrap_or((Direction::Neither, scale::Strength::NoSupport));
    let (likelier, rarer) = match direction {
        Direction::Neither => {
            return format!(
                "The findings are as likely under the one as under the other: {}.",
                strength.words()
            );
        }
        Direction::First => (one, other),
        Direction::Second => (other, one),
    };
    format!(
        "The findings are {} times as likely under `{likelier}` as under `{rarer}` ({} decibans): \
         {} for the former over the latter.",
        times(question.total),
        signed(question.total.abs()).trim_start_matches('+'),
        strength.words()
    )
}

/// A likelihood ratio above 1.
fn times(decibans: f64) -> String {
    let ratio = scale::ratio(decibans.abs());
    if ratio < 1_000.0 {
        plain(ratio)
    } else if ratio < 999_999.5 {
        thousands(ratio.round() as u64)
    } else {
        "over 1,000,000".to_owned()
    }
}
