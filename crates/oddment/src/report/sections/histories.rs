//! The rival histories, and what an honest life could answer.

use super::{LEAST, part_name, told, weight};
use crate::assessment::{FindingWeight, VerdictOdds};
use crate::order::sort_by;
use crate::pack::Verdict;
use crate::report::document::Block;
use crate::report::figures::count_of;
use crate::report::{ReportParts, words};
use crate::scale;

/// Findings named on each side of a verdict.
const NAMED: usize = 3;

pub(super) fn blocks(parts: &ReportParts<'_>) -> Vec<Block> {
    let assessment = parts.assessment;
    let mut blocks = vec![Block::Paragraph(words::HISTORIES_INTRO.to_owned())];
    let mut verdicts: Vec<&VerdictOdds> = assessment.verdicts.iter().collect();
    sort_by(&mut verdicts, |one, other| {
        other.probability.total_cmp(&one.probability)
    });
    for odds in verdicts {
        let histories = assessment.histories.iter();
        let mut of_it = histories
            .filter(|history| history.verdict == odds.verdict)
            .peekable();
        if of_it.peek().is_none() {
            continue;
        }
        let now = count_of(1000, odds.in_thousand, odds.probability);
        let before = count_of(1000, odds.prior_in_thousand, odds.prior);
        blocks.push(Block::Heading(words::verdict_heading(
            odds.verdict,
            &now,
            &before,
        )));
        for history in of_it {
            let ln = scale::ln_from_decibans(history.decibans);
            // A weight that is no number supports nothing.
            let (direction, strength) = scale::strength(ln)
                .unwrap_or((scale::Direction::Neither, scale::Strength::NoSupport));
            let text = words::history(history, direction, strength);
            blocks.push(Block::Entry(words::history_label(history), text));
        }
        if !assessment.findings.is_empty() {
            let label = words::most_for(odds.verdict);
            blocks.push(Block::Entry(label, heaviest(parts, odds.verdict, 1.0)));
            let label = words::most_against(odds.verdict);
            blocks.push(Block::Entry(label, heaviest(parts, odds.verdict, -1.0)));
        }
    }
    blocks
}

/// The findings on one side, the heaviest first.
fn on_side<'a>(
    parts: &ReportParts<'a>,
    verdict: Verdict,
    side: f64,
) -> Vec<(usize, &'a FindingWeight)> {
    let findings = parts.assessment.findings.iter().enumerate();
    let heavy = findings.filter(|(_, finding)| side * weight(finding, verdict) >= LEAST);
    let mut heavy: Vec<(usize, &FindingWeight)> = heavy.collect();
    sort_by(&mut heavy, |(_, one), (_, other)| {
        (side * weight(other, verdict)).total_cmp(&(side * weight(one, verdict)))
    });
    heavy
}

fn heaviest(parts: &ReportParts<'_>, verdict: Verdict, side: f64) -> String {
    let findings = on_side(parts, verdict, side);
    let named: Vec<String> = findings
        .into_iter()
        .take(NAMED)
        .map(|(_, finding)| words::weighed(&told(parts, finding), weight(finding, verdict)))
        .collect();
    if named.is_empty() {
        words::NO_SUCH_FINDING.to_owned()
    } else {
        words::stopped(&named.join("; "))
    }
}

/// For each finding against original, its innocent reading and how far that carries.
pub(super) fn innocent(parts: &ReportParts<'_>) -> Vec<Block> {
    let damning = on_side(parts, Verdict::Original, -1.0);
    if parts.assessment.findings.is_empty() {
        return vec![Block::Paragraph(words::NO_FINDINGS.to_owned())];
    }
    if damning.is_empty() {
        return vec![Block::Paragraph(words::NOTHING_DAMNING.to_owned())];
    }
    let mut blocks = vec![Block::Paragraph(words::INNOCENT_INTRO.to_owned())];
    for (place, finding) in damning {
        let part = part_name(parts, &finding.part);
        let found = words::finding(&finding.name, part, &finding.found, finding.sure);
        blocks.push(Block::Heading(words::damning(
            &found,
            weight(finding, Verdict::Original),
        )));
        blocks.push(Block::Paragraph(words::innocent(&finding.innocent)));
        blocks.push(incidents(parts, place, finding));
    }
    blocks
}

fn incidents(parts: &ReportParts<'_>, place: usize, finding: &FindingWeight) -> Block {
    let argued = parts.argument.and_then(|argument| {
        let question = argument.questions.iter().position(|question| {
            question.favoured == Verdict::Original.id() && question.against.is_none()
        })?;
        let weighed = argument.findings.get(place)?;
        (weighed.id == finding.id && weighed.part == finding.part).then_some((weighed, question))
    });
    if let Some((weighed, question)) = argued {
        let readings = weighed.readings.iter().map(|reading| {
            let happened = match &reading.if_happened {
                None => Some(words::if_happened(None)),
                // A list that does not reach so far says nothing.
                Some(weights) => weights
                    .get(question)
                    .map(|weight| words::if_happened(Some(*weight))),
            };
            let told = words::incident(&reading.name, reading.without, reading.with);
            format!("{told} {}", happened.unwrap_or_default())
        });
        let readings: Vec<String> = readings.collect();
        if !readings.is_empty() {
            return Block::List(readings);
        }
    } else if let Some(incident) = &finding.incident {
        let told = words::incident(&incident.name, incident.without, incident.with);
        let carries = words::carries(incident.without, incident.with);
        return Block::List(vec![format!("{told} {carries}")]);
    }
    Block::Paragraph(words::NO_INCIDENT.to_owned())
}
