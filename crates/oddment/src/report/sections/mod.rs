//! What the report says, section by section.

mod argument;
mod basis;
mod examined;
mod histories;
mod next;
mod numbers;
mod opinion;

use super::ReportParts;
use super::document::{Document, Section};
use super::words;
use crate::assessment::{Assessment, FindingWeight, VerdictOdds};
use crate::pack::Verdict;

/// The longest title set in large letters; a longer one stands in full in the first section.
pub(super) const LONGEST_TITLE: usize = 160;

/// Decibans below which a finding says next to nothing.
pub(super) const LEAST: f64 = 0.5;

/// The whole report.
pub(super) fn document(parts: &ReportParts<'_>) -> Document {
    let piece = &parts.assessment.piece;
    let title = title(parts).unwrap_or_else(|| words::UNTITLED.to_owned());
    Document {
        title: super::figures::cut(&title, LONGEST_TITLE),
        subtitle: words::subtitle(&parts.assessment.pack.name, piece),
        sections: vec![
            section("piece", words::PIECE, opinion::piece(parts)),
            section("opinion", words::OPINION, opinion::opinion(parts)),
            section("argument", words::ARGUMENT, argument::blocks(parts)),
            section("histories", words::HISTORIES, histories::blocks(parts)),
            section("innocent", words::INNOCENT, histories::innocent(parts)),
            section("dates", words::DATES, examined::dates(parts)),
            section("examined", words::EXAMINED, examined::blocks(parts)),
            section("numbers", words::NUMBERS, numbers::blocks(parts)),
            section("next", words::NEXT, next::blocks(parts)),
            section("limits", words::LIMITS, basis::blocks(parts)),
        ],
    }
}

fn section(id: &'static str, title: &str, blocks: Vec<super::document::Block>) -> Section {
    Section {
        id,
        title: title.to_owned(),
        blocks,
    }
}

/// The piece's title, if it has one that shows.
fn title(parts: &ReportParts<'_>) -> Option<String> {
    let title = Document::clean(parts.assessment.piece.title.as_deref()?);
    (!title.is_empty()).then_some(title)
}

/// The likeliest verdict, the first of several alike.
fn leading(assessment: &Assessment) -> Option<&VerdictOdds> {
    let mut leading: Option<&VerdictOdds> = None;
    for odds in &assessment.verdicts {
        if leading.is_none_or(|known| odds.probability > known.probability) {
            leading = Some(odds);
        }
    }
    leading
}

/// A part's name by its id.
fn part_name<'a>(parts: &ReportParts<'a>, id: &'a str) -> &'a str {
    let part = parts.pack.parts.iter().find(|part| part.id == id);
    part.map_or(id, |part| part.name.as_str())
}

/// A weighed finding in one line.
fn told(parts: &ReportParts<'_>, finding: &FindingWeight) -> String {
    let part = part_name(parts, &finding.part);
    words::finding(&finding.name, part, &finding.found, finding.sure)
}

/// What a finding weighs for a verdict, in decibans.
fn weight(finding: &FindingWeight, verdict: Verdict) -> f64 {
    finding.decibans.get(&verdict).copied().unwrap_or(0.0)
}
