//! How the findings built up.

use super::{leading, part_name, told, weight};
use crate::argument::{Argument, Question, WeighedFinding};
use crate::assessment::VerdictOdds;
use crate::report::charts::Step;
use crate::report::document::{Block, Cell, Table, figure, head, text};
use crate::report::figures::{odds, signed};
use crate::report::{ReportParts, charts, words};

/// Steps in one stretch of the stair, so that each fits on a printed page.
const STRETCH: usize = 7;

pub(super) fn blocks(parts: &ReportParts<'_>) -> Vec<Block> {
    let Some(leading) = leading(parts.assessment) else {
        return Vec::new();
    };
    if parts.assessment.findings.is_empty() {
        return vec![Block::Paragraph(words::NO_FINDINGS.to_owned())];
    }
    let argued = parts.argument.and_then(|argument| {
        let about = |question: &Question| {
            question.favoured == leading.verdict.id() && question.against.is_none()
        };
        let place = argument.questions.iter().position(about)?;
        Some((argument, place, argument.questions.get(place)?))
    });
    match argued {
        Some((argument, place, question)) => argue(parts, leading, argument, place, question),
        None => withdrawn(parts, leading),
    }
}

fn argue(
    parts: &ReportParts<'_>,
    leading: &VerdictOdds,
    argument: &Argument,
    place: usize,
    question: &Question,
) -> Vec<Block> {
    let verdict = leading.verdict;
    let mut blocks = vec![
        Block::Paragraph(words::stair_intro(verdict, question.before, question.after)),
        Block::Aside(words::DECIBANS_EXPLAINED.to_owned()),
        stairs(leading, argument, place, question),
        steps(parts, leading, argument, place, question),
        Block::Aside(words::columns(
            argument.shares.exact,
            argument.shares.orders,
        )),
        Block::Paragraph(words::double_counting(question)),
    ];
    blocks.extend(together(parts, argument, place));
    blocks
}

fn name(parts: &ReportParts<'_>, finding: &WeighedFinding) -> String {
    words::finding(
        &finding.name,
        part_name(parts, &finding.part),
        &finding.found,
        finding.sure,
    )
}

fn stairs(leading: &VerdictOdds, argument: &Argument, place: usize, question: &Question) -> Block {
    let mut all = vec![Step {
        label: words::BEFORE.to_owned(),
        found: String::new(),
        from: question.before,
        to: question.before,
    }];
    let mut from = question.before;
    for (number, finding) in argument.findings.iter().enumerate() {
        let Some(weights) = finding.weights.get(place) else {
            continue;
        };
        all.push(Step {
            label: words::numbered(number + 1, &finding.name),
            found: words::reported(&finding.found, finding.sure),
            from,
            to: weights.running,
        });
        from = weights.running;
    }
    let range = charts::scale(all.iter().flat_map(|step| [step.from, step.to]));
    // The first stretch also holds the start.
    let (first, rest) = all.split_at(all.len().min(STRETCH + 1));
    let stretches = std::iter::once(first).chain(rest.chunks(STRETCH));
    let pictures = stretches.enumerate().map(|(stretch, steps)| {
        let begins = stretch * STRETCH + 1;
        let ends = stretch * STRETCH + steps.len() - usize::from(stretch == 0);
        let reached =
            |step: Option<&Step>, end: fn(&Step) -> f64| step.map_or(question.before, end);
        let from = reached(steps.first(), |step| step.from);
        let to = reached(steps.last(), |step| step.to);
        charts::stair(
            &format!("stair-{}", stretch + 1),
            &words::stair_title(leading.verdict, begins, ends),
            &words::stair_text(from, to),
            steps,
            range,
        )
    });
    Block::Figure {
        pictures: pictures.collect(),
        caption: words::stair_caption(leading.verdict),
    }
}

fn steps(
    parts: &ReportParts<'_>,
    leading: &VerdictOdds,
    argument: &Argument,
    place: usize,
    question: &Question,
) -> Block {
    let none = || figure("");
    let mut rows: Vec<Vec<Cell>> = vec![vec![
        text(words::BEFORE),
        none(),
        figure(odds(question.before)),
        none(),
        none(),
        none(),
    ]];
    for (number, finding) in argument.findings.iter().enumerate() {
        let Some(weights) = finding.weights.get(place) else {
            continue;
        };
        rows.push(vec![
            text(words::numbered(number + 1, &name(parts, finding))),
            figure(signed(weights.in_order)),
            figure(odds(weights.running)),
            figure(signed(weights.share)),
            figure(signed(weights.alone)),
            figure(signed(weights.withdrawn)),
        ]);
    }
    rows.push(vec![
        text(words::ALL_TOGETHER),
        figure(signed(question.total)),
        figure(odds(question.after)),
        figure(signed(question.total)),
        figure(signed(question.naive)),
        none(),
    ]);
    let titles = [
        words::FINDING,
        words::STEP,
        words::RUNNING,
        words::SHARE,
        words::ALONE,
        words::WITHDRAWN,
    ];
    Block::Table(Table {
        caption: words::steps_table(leading.verdict),
        head: head(&titles),
        rows,
    })
}

fn together(parts: &ReportParts<'_>, argument: &Argument, place: usize) -> Vec<Block> {
    let mut rows = Vec::new();
    for group in &argument.together {
        let Some(weight) = group.weights.get(place) else {
            continue;
        };
        let members = group.members.iter().filter_map(|member| {
            let finding = argument.findings.get(*member)?;
            Some(words::numbered(
                member + 1,
                &words::at(&finding.name, part_name(parts, &finding.part)),
            ))
        });
        let members: Vec<String> = members.collect();
        rows.push(vec![
            text(words::behind(group.behind, &group.name)),
            text(members.join("; ")),
            figure(signed(weight.naive)),
            figure(signed(weight.joint)),
            figure(signed(weight.withdrawn)),
        ]);
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let titles = [
        words::BEHIND,
        words::MEMBERS,
        words::NAIVE,
        words::JOINT,
        words::WITHDRAWN,
    ];
    vec![
        Block::Heading(words::TOGETHER.to_owned()),
        Block::Paragraph(words::TOGETHER_INTRO.to_owned()),
        Block::Table(Table {
            caption: words::TOGETHER_TABLE.to_owned(),
            head: head(&titles),
            rows,
        }),
    ]
}

/// What stands in the assessment itself, where the argument was not worked out.
fn withdrawn(parts: &ReportParts<'_>, leading: &VerdictOdds) -> Vec<Block> {
    let verdict = leading.verdict;
    let findings = parts.assessment.findings.iter().enumerate();
    let rows = findings.map(|(number, finding)| {
        let opposite = finding.opposite.as_ref().and_then(|opposite| {
            let decibans = opposite.decibans.get(&verdict)?;
            Some(words::opposite(&opposite.found, *decibans))
        });
        vec![
            text(words::numbered(number + 1, &told(parts, finding))),
            figure(signed(weight(finding, verdict))),
            text(opposite.unwrap_or_default()),
        ]
    });
    vec![
        Block::Paragraph(words::without_argument(verdict)),
        Block::Aside(words::DECIBANS_EXPLAINED.to_owned()),
        Block::Table(Table {
            caption: words::withdrawn_table(verdict),
            head: head(&[words::FINDING, words::WITHDRAWN, words::OPPOSITE]),
            rows: rows.collect(),
        }),
    ]
}
