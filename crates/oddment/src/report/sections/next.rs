//! What to look at next, with what it takes and what to mind.

use super::part_name;
use crate::assessment::CautionNote;
use crate::outlook::{CheckValue, Outlook};
use crate::pack::VERDICTS;
use crate::report::document::Block;
use crate::report::{ReportParts, words};

/// Checks told in full.
const SHOWN: usize = 5;

/// Telling answers told for each.
const TELLING: usize = 1;

pub(super) fn blocks(parts: &ReportParts<'_>) -> Vec<Block> {
    match parts.outlook {
        Some(outlook) => by_worth(parts, outlook),
        None => by_trouble(parts),
    }
}

fn by_worth(parts: &ReportParts<'_>, outlook: &Outlook) -> Vec<Block> {
    if outlook.checks.is_empty() {
        return vec![Block::Paragraph(words::ALL_LOOKED.to_owned())];
    }
    let mut blocks = Vec::new();
    if outlook.nothing_left {
        blocks.push(Block::Paragraph(words::NOTHING_LEFT.to_owned()));
    }
    blocks.push(Block::Paragraph(words::NEXT_INTRO.to_owned()));
    for (place, check) in outlook.checks.iter().take(SHOWN).enumerate() {
        let mut said = vec![words::trouble(
            check.minutes,
            check.access,
            check.leave,
            &check.tools,
        )];
        if !check.allowed {
            said.push(words::NOT_ALLOWED.to_owned());
        }
        said.push(words::stopped(&check.how));
        said.push(words::expected(
            check.bits,
            check.changes_verdict,
            check.right_more_often,
        ));
        said.extend(words::check_method(&check.method));
        blocks.push(Block::Entry(
            words::check_label(place + 1, &check.name),
            said.join(" "),
        ));
        blocks.extend(telling(parts, check));
        blocks.extend(cautions(&outlook.cautions, &check.id));
    }
    blocks.extend(more(outlook.checks.len()));
    if let Some(plan) = &outlook.plan {
        blocks.push(Block::Heading(words::PLAN.to_owned()));
        blocks.push(Block::Paragraph(words::plan(plan)));
        let steps = plan
            .steps
            .iter()
            .map(|step| words::plan_step(&step.name, step.minutes));
        blocks.push(Block::List(steps.collect()));
    }
    blocks
}

fn telling(parts: &ReportParts<'_>, check: &CheckValue) -> Option<Block> {
    let answers = check.telling.iter().take(TELLING).map(|answer| {
        let name = check.answers.iter().find(|unseen| unseen.id == answer.id);
        let then: Vec<_> = VERDICTS
            .into_iter()
            .zip(answer.verdicts.iter().copied())
            .collect();
        words::telling(
            name.map_or(&answer.id, |unseen| &unseen.name),
            part_name(parts, &answer.part),
            &answer.found,
            answer.chance,
            &words::verdicts_then(&then),
        )
    });
    let answers: Vec<String> = answers.collect();
    let told = words::stopped(&answers.join("; "));
    (!answers.is_empty()).then(|| Block::Entry(words::TELLING.to_owned(), told))
}

/// Where the worth of checks was not worked out: least trouble first.
fn by_trouble(parts: &ReportParts<'_>) -> Vec<Block> {
    let mut left: Vec<(&str, Vec<String>)> = Vec::new();
    for item in parts
        .assessment
        .not_looked
        .iter()
        .filter(|item| !item.no_access)
    {
        let what = words::at(&item.name, part_name(parts, &item.part));
        match left.iter_mut().find(|(check, _)| *check == item.check) {
            Some((_, all)) => all.push(what),
            None => left.push((&item.check, vec![what])),
        }
    }
    if left.is_empty() {
        return vec![Block::Paragraph(words::ALL_LOOKED.to_owned())];
    }
    let mut blocks = vec![Block::Paragraph(words::WITHOUT_OUTLOOK.to_owned())];
    for (place, (id, what)) in left.iter().take(SHOWN).enumerate() {
        let Some(check) = parts.pack.checks.iter().find(|check| check.id == *id) else {
            continue;
        };
        let said = format!(
            "{} {} {} {}",
            words::trouble(check.minutes, check.access, check.leave, &check.tools),
            words::stopped(&check.how),
            words::ANSWERS,
            words::stopped(&what.join("; "))
        );
        blocks.push(Block::Entry(
            words::check_label(place + 1, &check.name),
            said,
        ));
        blocks.extend(cautions(&parts.assessment.cautions, id));
    }
    blocks.extend(more(left.len()));
    blocks
}

fn more(all: usize) -> Option<Block> {
    (all > SHOWN).then(|| Block::Paragraph(words::more_checks(all - SHOWN)))
}

fn cautions<'a>(notes: &'a [CautionNote], check: &'a str) -> impl Iterator<Item = Block> + 'a {
    let about = notes
        .iter()
        .filter(move |note| note.checks.iter().any(|id| id == check));
    about.map(|note| Block::Entry(words::CAUTION.to_owned(), words::stopped(&note.text)))
}
