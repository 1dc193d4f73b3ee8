//! `oddment next`: what is still worth looking at.

use crate::frame;
use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::report::part_name;
use crate::words::{self, amount, chance, count, first_sentence, list, minutes, out_of};
use oddment::Pack;
use oddment::outlook::{CheckMethod, CheckValue, Outlook, Plan, TellingAnswer};
use oddment::pack::VERDICTS;
use std::collections::BTreeSet;

/// The most checks told.
const CHECKS: usize = 8;

/// For how many of them the most telling answers are told.
const WITH_ANSWERS: usize = 3;

/// The most checks named that are not allowed.
const BEYOND: usize = 4;

/// The whole page.
pub(super) fn render(outlook: &Outlook, pack: &Pack) -> String {
    let mut page = Page::new();
    fill(&mut page, outlook, pack);
    page.finish()
}

pub(super) fn fill(page: &mut Page, outlook: &Outlook, pack: &Pack) {
    frame::head(page, &outlook.pack, &outlook.piece);
    standing(page, outlook);
    let allowed: Vec<&CheckValue> = outlook.checks.iter().filter(|c| c.allowed).collect();
    let told = &allowed[..allowed.len().min(CHECKS)];
    checks(page, outlook, pack, told, allowed.len());
    beyond(page, outlook);
    if let Some(plan) = &outlook.plan {
        render_plan(page, outlook, plan);
    }
    cautions(page, outlook, told);
    frame::foot(page, &outlook.pack, &outlook.engine, &outlook.limits);
}

/// Where things stand.
fn standing(page: &mut Page, outlook: &Outlook) {
    page.heading(&format!(
        "Now {} leads, {} of 1,000",
        outlook.leading.id(),
        out_of(1000, outlook.probability)
    ));
    let text = format!(
        "{}: {} bits open, where 0 is settled and 2 is all four verdicts alike.",
        openness(outlook.open_bits),
        bits(outlook.open_bits)
    );
    page.paragraph(PLAIN, 0, &text);
    if outlook.checks.is_empty() {
        page.paragraph(STRONG, 0, "Everything on the list has been looked at.");
    } else if outlook.nothing_left {
        let text = "Stop: nothing left that is allowed is expected to change the verdict.";
        page.paragraph(STRONG, 0, text);
    }
}

/// How open the verdict is, in words.
fn openness(bits: f64) -> &'static str {
    match bits {
        bits if bits < 0.1 => "As good as settled",
        bits if bits < 0.5 => "Nearly settled",
        bits if bits < 1.0 => "Still open",
        bits if bits < 1.5 => "Quite open",
        _ => "Wide open",
    }
}

fn checks(page: &mut Page, outlook: &Outlook, pack: &Pack, told: &[&CheckValue], allowed: usize) {
    if told.is_empty() {
        if !outlook.checks.is_empty() {
            page.heading("No check that is left is allowed.");
        }
        return;
    }
    page.heading("What each check is expected to tell, most for a minute first");
    for (place, check) in told.iter().enumerate() {
        let mut aside = vec![
            words::reach(check.access).to_owned(),
            minutes(check.minutes),
        ];
        aside.extend(words::leave(check.leave).map(str::to_owned));
        if !check.tools.is_empty() {
            aside.push(format!("bring {}", list(&check.tools)));
        }
        let label = format!("{:>3}. ", place + 1);
        let text = format!(
            "{} ({})",
            check.name.trim_end_matches('.'),
            aside.join(", ")
        );
        page.hang(PLAIN, 0, &label, &text);
        let text = format!(
            "changes the leading verdict: {}; tells {} bits{}, {} for a minute",
            changes(check.changes_verdict, drawn(&check.method)),
            bits(check.bits),
            margin(&check.method),
            bits(check.bits_per_minute)
        );
        page.paragraph(PLAIN, 5, &text);
        if let Some(money) = &check.money {
            let text = format!(
                "on your own figures: worth {}, costs {}, which leaves {}",
                amount(money.value),
                amount(money.cost),
                amount(money.net)
            );
            page.paragraph(PLAIN, 5, &text);
        }
        // Answers that change nothing are not worth reading.
        if place < WITH_ANSWERS && !outlook.nothing_left {
            for answer in &check.telling {
                page.hang(PLAIN, 5, "- ", &telling(outlook, pack, check, answer));
            }
        }
    }
    if allowed > told.len() {
        let more = count(allowed - told.len(), "more check", "more checks");
        page.paragraph(
            PLAIN,
            5,
            &format!("and {more} that tell less for a minute (`--json` has all)"),
        );
    }
}

/// Bits, no finer than anybody can use.
fn bits(bits: f64) -> String {
    if bits > 0.0 && bits < 0.005 {
        "under 0.01".to_owned()
    } else {
        format!("{bits:.2}")
    }
}

/// The chance of a change; where answers were drawn and none made one, that is said.
fn changes(probability: f64, drawn: Option<u32>) -> String {
    match drawn {
        Some(draws) if probability <= 0.0 => format!("none of {draws} draws"),
        _ => chance(probability),
    }
}

/// How many answers were drawn, where not all were gone through.
fn drawn(method: &CheckMethod) -> Option<u32> {
    match method {
        CheckMethod::Exact { .. } => None,
        CheckMethod::Drawn { draws, .. } => Some(*draws),
    }
}

/// How far a drawn value may be out.
fn margin(method: &CheckMethod) -> String {
    match method {
        CheckMethod::Drawn { standard_error, .. } if *standard_error >= 0.005 => {
            format!(" (give or take {})", bits(2.0 * standard_error))
        }
        _ => String::new(),
    }
}

/// An answer and where it would leave the verdict.
fn telling(outlook: &Outlook, pack: &Pack, check: &CheckValue, answer: &TellingAnswer) -> String {
    let seen = check
        .answers
        .iter()
        .find(|seen| seen.id == answer.id && seen.part == answer.part);
    let name = seen.map_or(answer.id.as_str(), |seen| seen.name.trim_end_matches('.'));
    let verdicts = VERDICTS.iter().zip(&answer.verdicts);
    // The first of equals, as everywhere.
    let leader = verdicts.rev().max_by(|one, other| one.1.total_cmp(other.1));
    let then = leader.map_or_else(String::new, |(verdict, probability)| {
        let lead = if *verdict == outlook.leading {
            "still"
        } else {
            "then"
        };
        format!(
            "{lead} {}, {} of 1,000",
            verdict.id(),
            out_of(1000, *probability)
        )
    });
    format!(
        "if `{name}` ({}) is `{}` ({}): {then}",
        part_name(pack, &answer.part),
        answer.found,
        chance(answer.chance)
    )
}

/// Checks that lie further than asked for.
fn beyond(page: &mut Page, outlook: &Outlook) {
    let checks: Vec<&CheckValue> = outlook.checks.iter().filter(|c| !c.allowed).collect();
    if checks.is_empty() {
        return;
    }
    page.gap();
    let mut names: Vec<String> = checks
        .iter()
        .take(BEYOND)
        .map(|check| {
            let mut aside = vec![words::reach(check.access).to_owned()];
            aside.extend(words::leave(check.leave).map(str::to_owned));
            aside.push(format!("{} bits", bits(check.bits)));
            format!(
                "{} ({})",
                check.name.trim_end_matches('.'),
                aside.join(", ")
            )
        })
        .collect();
    if checks.len() > BEYOND {
        names.push(format!("{} more", checks.len() - BEYOND));
    }
    let text = format!("Beyond what is allowed: {}.", names.join("; "));
    page.paragraph(PLAIN, 0, &text);
}

fn render_plan(page: &mut Page, outlook: &Outlook, plan: &Plan) {
    page.heading(&format!("A plan for {}", minutes(plan.minutes)));
    if plan.steps.is_empty() {
        let text = "No check that is allowed and tells anything can be done in that time.";
        page.paragraph(PLAIN, 2, text);
    }
    for (place, step) in plan.steps.iter().enumerate() {
        let text = format!(
            "{} ({}); {} bits so far",
            step.name.trim_end_matches('.'),
            minutes(step.minutes),
            bits(step.bits_so_far)
        );
        page.hang(PLAIN, 0, &format!("{:>3}. ", place + 1), &text);
    }
    let turned = |probability| changes(probability, Some(plan.draws));
    let mut text = String::new();
    if !plan.steps.is_empty() {
        text = format!(
            "It takes {}. Expected to tell: {} of the {} bits that are open. Changes the leading \
             verdict: {}. ",
            minutes(plan.used),
            bits(plan.bits),
            bits(outlook.open_bits),
            turned(plan.changes_verdict)
        );
    }
    text += &format!(
        "Every check that is allowed, however long it takes: {} bits; changes it: {}.",
        bits(plan.bits_of_all),
        turned(plan.all_change_verdict)
    );
    page.paragraph(PLAIN, 2, &text);
    let text = format!(
        "Reckoned from {} sets of answers drawn with seed {}; the bits are good to about {}.",
        words::thousands(u64::from(plan.draws)),
        plan.seed,
        bits(2.0 * plan.standard_error)
    );
    page.paragraph(FAINT, 2, &text);
}

/// The cautions of the checks told and planned, each once.
fn cautions(page: &mut Page, outlook: &Outlook, told: &[&CheckValue]) {
    let told = told.iter().map(|check| check.id.as_str());
    let planned = outlook.plan.iter().flat_map(|plan| &plan.steps);
    let named: BTreeSet<&str> = told.chain(planned.map(|step| step.id.as_str())).collect();
    let mut used = outlook
        .cautions
        .iter()
        .filter(|note| {
            note.checks
                .iter()
                .any(|check| named.contains(check.as_str()))
        })
        .peekable();
    if used.peek().is_none() {
        return;
    }
    page.heading(&format!(
        "Before you do (in full: `oddment signs {}`)",
        outlook.pack.id
    ));
    for note in used {
        page.hang(PLAIN, 2, "- ", first_sentence(&note.text));
    }
}
