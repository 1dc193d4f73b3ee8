//! The piece, and the opinion in words.

use super::{leading, title};
use crate::assessment::{FitJudgement, VerdictOdds, VisitQuality};
use crate::pack::Verdict;
use crate::report::document::{Block, Table, figure, head, text};
use crate::report::figures::{count_of, signed};
use crate::report::{ReportParts, charts, words};

/// A visit whose findings are likelier than this to come of a poor examination is remarked on.
const DOUBTED: f64 = 0.2;

/// So is one whose chance of having been poor has grown by this factor.
const DOUBT_GROWN: f64 = 3.0;

pub(super) fn piece(parts: &ReportParts<'_>) -> Vec<Block> {
    let piece = &parts.assessment.piece;
    let mut rows = Vec::new();
    let mut row = |name: &str, content: &str| rows.push(vec![text(name), text(content)]);
    if let Some(title) = title(parts).filter(|title| title.chars().count() > super::LONGEST_TITLE) {
        row(words::FULL_TITLE, &title);
    }
    row(words::FORM, &parts.assessment.pack.name);
    row(words::VARIANT, &piece.variant);
    row(words::PERIOD, &piece.period);
    row(words::YEARS, &words::years(piece.years));
    row(words::REGION, &piece.region);
    if let Some(note) = &parts.case.file.piece.note {
        row(words::NOTE, note);
    }
    let mut blocks = vec![Block::Table(Table {
        caption: words::OFFERED_AS.to_owned(),
        head: head(&[words::FIELD, words::CONTENT]),
        rows,
    })];
    blocks.push(visits(parts));
    blocks
}

fn visits(parts: &ReportParts<'_>) -> Block {
    if parts.case.file.visits.is_empty() {
        return Block::Paragraph(words::NO_VISITS.to_owned());
    }
    let stated = |known: &Option<String>| {
        let known = known
            .as_deref()
            .map(str::trim)
            .filter(|known| !known.is_empty());
        text(known.unwrap_or(words::NOT_STATED))
    };
    let visits = parts.case.visits.iter();
    let rows = visits.map(|visit| {
        vec![
            text(&visit.id),
            stated(&visit.by),
            stated(&visit.date),
            stated(&visit.how),
        ]
    });
    Block::Table(Table {
        caption: words::VISITS.to_owned(),
        head: head(&[words::VISIT, words::BY, words::DATE, words::HOW]),
        rows: rows.collect(),
    })
}

pub(super) fn opinion(parts: &ReportParts<'_>) -> Vec<Block> {
    let assessment = parts.assessment;
    let fit = &assessment.fit;
    let mut blocks = Vec::new();
    if fit.judgement == FitJudgement::NoStoryFits {
        blocks.push(Block::Loud(
            words::NO_STORY.to_owned(),
            words::no_story(fit),
        ));
    }
    if assessment.findings.is_empty() {
        blocks.push(Block::Paragraph(words::NOTHING_FOUND.to_owned()));
    } else if let Some(odds) = leading(assessment) {
        blocks.push(Block::Paragraph(match fit.judgement {
            FitJudgement::NoStoryFits => words::least_bad(odds),
            _ => words::leading(odds),
        }));
        if odds.probability <= 0.5 {
            blocks.push(Block::Paragraph(words::NOT_MORE_THAN_HALF.to_owned()));
        }
        blocks.push(Block::Paragraph(words::leading_strength(odds)));
    }
    blocks.push(Block::Paragraph(words::NOT_A_CERTIFICATE.to_owned()));
    match fit.judgement {
        FitJudgement::Unusual => blocks.push(Block::Paragraph(words::unusual(fit))),
        FitJudgement::Fits => blocks.push(Block::Paragraph(words::fits(fit))),
        FitJudgement::NoStoryFits | FitJudgement::NothingToJudge | FitJudgement::NotAsked => {}
    }
    let doubted = assessment.visits.iter().filter(|visit| is_doubted(visit));
    blocks.extend(doubted.map(|visit| Block::Paragraph(words::doubted(visit))));
    blocks.push(table(&assessment.verdicts));
    blocks.push(fields(&assessment.verdicts));
    blocks.push(Block::Heading(words::PRIOR_REASONS.to_owned()));
    blocks.push(Block::List(assessment.piece.prior_reasons.clone()));
    blocks.push(Block::Paragraph(words::DECLARED.to_owned()));
    blocks
}

fn is_doubted(visit: &VisitQuality) -> bool {
    visit.probability > visit.prior
        && (visit.probability > DOUBTED || visit.probability > DOUBT_GROWN * visit.prior)
}

fn table(verdicts: &[VerdictOdds]) -> Block {
    let rows = verdicts.iter().map(|odds| {
        vec![
            text(odds.verdict.id()),
            figure(count_of(1000, odds.prior_in_thousand, odds.prior)),
            figure(count_of(1000, odds.in_thousand, odds.probability)),
            text(words::support(odds)),
            figure(signed(odds.decibans)),
        ]
    });
    let titles = [
        words::VERDICT,
        words::BEFORE,
        words::NOW,
        words::FINDINGS_SAY,
        words::DECIBANS,
    ];
    Block::Table(Table {
        caption: words::VERDICT_TABLE.to_owned(),
        head: head(&titles),
        rows: rows.collect(),
    })
}

fn fields(verdicts: &[VerdictOdds]) -> Block {
    let before: Vec<(Verdict, u32)> = verdicts
        .iter()
        .map(|odds| (odds.verdict, odds.prior_in_thousand))
        .collect();
    let now: Vec<(Verdict, u32)> = verdicts
        .iter()
        .map(|odds| (odds.verdict, odds.in_thousand))
        .collect();
    let picture = |name, title, counts: &[(Verdict, u32)]| {
        charts::field(name, title, &words::field_text(counts), counts)
    };
    Block::Figure {
        pictures: vec![
            charts::key("key", words::KEY_TITLE, words::KEY_TEXT),
            picture("before", words::FIELD_BEFORE, &before),
            picture("now", words::FIELD_NOW, &now),
        ],
        caption: words::FIELDS.to_owned(),
    }
}
