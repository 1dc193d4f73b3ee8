//! When each part was made, what was examined and what was not.

use super::part_name;
use crate::assess::reading_words;
use crate::case::{Finding, Outcome};
use crate::order::set;
use crate::report::document::{Block, Cell, Mark, Table, figure, head, text};
use crate::report::figures::{plain, year};
use crate::report::{ReportParts, charts, words};

/// Parts in one picture, so that each fits on a printed page.
const PARTS: usize = 8;

pub(super) fn dates(parts: &ReportParts<'_>) -> Vec<Block> {
    let dates = &parts.assessment.dates;
    let claim = parts.assessment.piece.years;
    if dates.is_empty() {
        return vec![Block::Paragraph(words::NO_DATES.to_owned())];
    }
    let span = charts::span(dates, claim);
    let pictures = dates.chunks(PARTS).enumerate().map(|(place, dates)| {
        let name = format!("dates-{}", place + 1);
        charts::strips(
            &name,
            words::STRIPS_TITLE,
            &words::strips_text(claim),
            dates,
            claim,
            span,
        )
    });
    let rows = dates.iter().map(|date| {
        vec![
            text(&date.name),
            figure(year(date.median)),
            text(words::between_years(date.low, date.high)),
        ]
    });
    vec![
        Block::Figure {
            pictures: pictures.collect(),
            caption: words::STRIPS.to_owned(),
        },
        Block::Table(Table {
            caption: words::DATE_TABLE.to_owned(),
            head: head(&[words::PART, words::ABOUT, words::NINETY]),
            rows: rows.collect(),
        }),
    ]
}

pub(super) fn blocks(parts: &ReportParts<'_>) -> Vec<Block> {
    let mut blocks = vec![Block::Paragraph(words::FOUR_MARKS.to_owned())];
    blocks.extend(checks_made(parts));
    for mark in Mark::ALL {
        let (count, table) = match mark {
            Mark::Found => reported(parts, mark, |level| level > 0),
            Mark::NotThere => reported(parts, mark, |level| level == 0),
            Mark::NoAccess => no_access(parts),
            Mark::NotLooked => not_looked(parts),
        };
        blocks.push(Block::Heading(words::mark_heading(mark, count)));
        blocks.push(table);
    }
    if !parts.case.readings.is_empty() {
        blocks.push(Block::Heading(words::READINGS.to_owned()));
        blocks.push(readings(parts));
    }
    blocks
}

/// By which checks something was found, looked for or measured, in the pack's order.
fn checks_made(parts: &ReportParts<'_>) -> Option<Block> {
    let pack = parts.pack;
    let looked = parts
        .case
        .findings
        .iter()
        .filter_map(|finding| match finding.outcome {
            Outcome::Reported { .. } => pack.signs.get(finding.sign).map(|sign| sign.check),
            Outcome::NotLooked | Outcome::NoAccess => None,
        });
    let measured = parts.case.readings.iter();
    let measured = measured.filter_map(|reading| Some(pack.measures.get(reading.measure)?.check));
    let made = set(looked.chain(measured));
    let names = made.iter().filter_map(|check| pack.checks.get(*check));
    let names: Vec<String> = names.map(|check| check.name.clone()).collect();
    let label = words::CHECKS_MADE.to_owned();
    (!names.is_empty()).then(|| Block::Entry(label, words::stopped(&names.join("; "))))
}

fn table(titles: &[&str], rows: Vec<Vec<Cell>>) -> (usize, Block) {
    if rows.is_empty() {
        return (0, Block::Paragraph(words::NONE.to_owned()));
    }
    let count = rows.len();
    let table = Table {
        caption: String::new(),
        head: head(titles),
        rows,
    };
    (count, Block::Table(table))
}

/// The visit, where there are several, and what was remarked.
fn remark(parts: &ReportParts<'_>, visit: usize, note: Option<&str>) -> Cell {
    let visit = parts
        .case
        .visits
        .get(visit)
        .filter(|_| parts.case.visits.len() > 1);
    text(words::visit_note(
        visit.map(|visit| visit.id.as_str()),
        note,
    ))
}

fn place(parts: &ReportParts<'_>, finding: &Finding) -> String {
    let sign = parts.pack.signs.get(finding.sign);
    let part = parts.pack.parts.get(finding.part);
    words::at(
        sign.map_or("", |sign| sign.name.as_str()),
        part.map_or("", |part| part.name.as_str()),
    )
}

fn reported(parts: &ReportParts<'_>, mark: Mark, wanted: fn(usize) -> bool) -> (usize, Block) {
    let mut rows = Vec::new();
    for finding in &parts.case.findings {
        let Outcome::Reported { level, sure } = finding.outcome else {
            continue;
        };
        if !wanted(level) {
            continue;
        }
        let sign = parts.pack.signs.get(finding.sign);
        let found = sign.and_then(|sign| sign.levels.get(level));
        rows.push(vec![
            Cell::Mark(mark),
            text(place(parts, finding)),
            text(words::reported(found.map_or("", String::as_str), sure)),
            remark(parts, finding.visit, finding.note.as_deref()),
        ]);
    }
    let titles = [words::OUTCOME, words::SIGN, words::REPORTED, words::REMARK];
    table(&titles, rows)
}

fn no_access(parts: &ReportParts<'_>) -> (usize, Block) {
    let tried = parts
        .case
        .findings
        .iter()
        .filter(|finding| finding.outcome == Outcome::NoAccess);
    let rows = tried.map(|finding| {
        vec![
            Cell::Mark(Mark::NoAccess),
            text(place(parts, finding)),
            remark(parts, finding.visit, finding.note.as_deref()),
        ]
    });
    let titles = [words::OUTCOME, words::SIGN, words::REMARK];
    table(&titles, rows.collect())
}

/// So many of what a check would have answered are named.
const NAMED: usize = 2;

/// What was not looked at, check by check.
fn not_looked(parts: &ReportParts<'_>) -> (usize, Block) {
    let mut checks: Vec<(&str, &str, Vec<String>)> = Vec::new();
    let mut count = 0;
    for item in parts
        .assessment
        .not_looked
        .iter()
        .filter(|item| !item.no_access)
    {
        count += 1;
        let what = words::at(&item.name, part_name(parts, &item.part));
        match checks.iter_mut().find(|(id, _, _)| *id == item.check) {
            Some((_, _, all)) => all.push(what),
            None => checks.push((&item.check, &item.check_name, vec![what])),
        }
    }
    let rows = checks.into_iter().map(|(_, name, what)| {
        vec![
            Cell::Mark(Mark::NotLooked),
            text(name),
            text(words::and_more(&what, NAMED)),
        ]
    });
    let titles = [words::OUTCOME, words::CHECK, words::WHAT];
    let (_, table) = table(&titles, rows.collect());
    (count, table)
}

fn readings(parts: &ReportParts<'_>) -> Block {
    let mut rows = Vec::new();
    for reading in &parts.case.readings {
        let Some(measure) = parts.pack.measures.get(reading.measure) else {
            continue;
        };
        let part = parts.pack.parts.get(measure.part);
        let unit = measure.unit.replace('-', " ");
        rows.push(vec![
            text(words::at(
                &measure.name,
                part.map_or("", |part| part.name.as_str()),
            )),
            text(reading_words(reading.value, &measure.unit)),
            text(format!("{} {unit}", plain(reading.error))),
            remark(parts, reading.visit, reading.note.as_deref()),
        ]);
    }
    let titles = [words::MEASURE, words::READING, words::ERROR, words::REMARK];
    table(&titles, rows).1
}
