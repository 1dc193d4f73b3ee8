//! How far it hangs on whose numbers.

use crate::leaning::{Leaning, NumberLeaning};
use crate::pack::{Standing, VERDICTS};
use crate::report::charts::Swing;
use crate::report::document::{Block, Table, figure, head, text};
use crate::report::figures::out_of;
use crate::report::{ReportParts, charts, words};

/// Numbers shown.
const SHOWN: usize = 10;

/// Standings, best first.
pub(super) const STANDINGS: [Standing; 5] = [
    Standing::Read,
    Standing::ReadInPart,
    Standing::FromMemory,
    Standing::CommonPractice,
    Standing::Elicited,
];

pub(super) fn blocks(parts: &ReportParts<'_>) -> Vec<Block> {
    let numbers = &parts.pack.numbers;
    let counts: Vec<(Standing, usize)> = STANDINGS
        .into_iter()
        .map(|standing| {
            let resting = numbers.iter().filter(|number| {
                let source = parts.pack.sources.get(number.source);
                source.is_some_and(|source| source.standing == standing)
            });
            (standing, resting.count())
        })
        .collect();
    let mut blocks = vec![Block::Paragraph(words::standing_counts(
        &counts,
        numbers.len(),
    ))];
    blocks.extend(own(parts));
    match parts.leaning {
        Some(leaning) => blocks.extend(leans(leaning)),
        None => blocks.push(Block::Paragraph(words::WITHOUT_LEANING.to_owned())),
    }
    blocks
}

/// What the case itself put in place of the pack's numbers.
fn own(parts: &ReportParts<'_>) -> Vec<Block> {
    let file = &parts.case.file;
    let mut blocks = Vec::new();
    let figures = |own: &std::collections::BTreeMap<String, f64>| {
        let figures = own.iter().map(|(id, value)| words::own_number(id, *value));
        figures.collect::<Vec<String>>()
    };
    for (label, own) in [
        (words::OWN_PRIOR, &file.prior),
        (words::OWN_NUMBERS, &file.numbers),
    ] {
        if !own.is_empty() {
            blocks.push(Block::Entry(
                label.to_owned(),
                words::stopped(&figures(own).join("; ")),
            ));
        }
    }
    let known = parts.case.known.iter().filter_map(|(incident, happened)| {
        let incident = parts.pack.incidents.get(*incident)?;
        Some(words::known(&incident.name, *happened))
    });
    let known: Vec<String> = known.collect();
    if !known.is_empty() {
        let known = words::stopped(&known.join("; "));
        blocks.push(Block::Entry(words::KNOWN.to_owned(), known));
    }
    blocks
}

fn leans(leaning: &Leaning) -> Vec<Block> {
    let shown: Vec<&NumberLeaning> = leaning.numbers.iter().take(SHOWN).collect();
    let mut blocks = vec![Block::Paragraph(words::leaning(leaning))];
    if !shown.is_empty() {
        blocks.push(swings(leaning, &shown));
        blocks.push(swings_table(leaning, &shown));
    }
    blocks.extend(sweep(leaning));
    if !leaning.bounds.is_empty() {
        let rows = leaning.bounds.iter().map(|bounds| {
            vec![
                text(bounds.verdict.id()),
                figure(out_of(1000, bounds.low)),
                figure(out_of(1000, bounds.high)),
            ]
        });
        blocks.push(Block::Table(Table {
            caption: words::BOUNDS_TABLE.to_owned(),
            head: head(&[words::VERDICT, words::LOWEST, words::HIGHEST]),
            rows: rows.collect(),
        }));
        blocks.push(Block::Aside(words::BOUNDS.to_owned()));
    }
    blocks
}

fn swings(leaning: &Leaning, shown: &[&NumberLeaning]) -> Block {
    let swings: Vec<Swing> = shown
        .iter()
        .map(|number| Swing {
            label: number.words.clone(),
            at_low: number.at_low,
            at_high: number.at_high,
        })
        .collect();
    let picture = charts::swings(
        "swings",
        &words::swings_title(leaning.verdict),
        &words::swings_text(shown.len()),
        &swings,
        leaning.probability,
    );
    Block::Figure {
        pictures: vec![picture],
        caption: words::swings_caption(leaning.verdict),
    }
}

fn swings_table(leaning: &Leaning, shown: &[&NumberLeaning]) -> Block {
    let rows = shown.iter().map(|number| {
        let value = |value: f64| words::number_value(value, number.unit);
        let flips = number.flips.iter().map(|flip| {
            words::flip(
                flip,
                number.unit,
                leaning.leading,
                leaning.threshold.is_some(),
            )
        });
        let flips: Vec<String> = flips.collect();
        let flips = if flips.is_empty() {
            words::NO_FLIP.to_owned()
        } else {
            flips.join(" ")
        };
        vec![
            text(&number.words),
            text(words::value_range(
                &value(number.value),
                &value(number.low),
                &value(number.high),
            )),
            text(words::low_high(number.at_low, number.at_high)),
            text(flips),
        ]
    });
    let titles = [
        words::NUMBER,
        words::VALUE,
        words::CHANCE_THEN,
        words::WHAT_FLIPS,
    ];
    Block::Table(Table {
        caption: words::SWINGS_TABLE.to_owned(),
        head: head(&titles),
        rows: rows.collect(),
    })
}

fn sweep(leaning: &Leaning) -> Vec<Block> {
    let sweep = &leaning.sweep;
    if sweep.points.is_empty() {
        return Vec::new();
    }
    let turns: Vec<String> = sweep
        .turns
        .iter()
        .map(|turn| words::sweep_turn(turn.at, turn.below, turn.above))
        .collect();
    let turns = if turns.is_empty() {
        words::NO_TURN.to_owned()
    } else {
        turns.join(" ")
    };
    let said = format!("{} {turns}", words::sweep_here(sweep.here));
    // The picture shows all of it; the table every twentieth part, this case and the turns.
    let told = |share: f64| {
        let twentieth = (share * 20.0 - (share * 20.0).round()).abs() < 1e-9;
        let turn = sweep.turns.iter().any(|turn| turn.at == share);
        twentieth || turn || share == sweep.here || share < 0.015
    };
    let points = sweep.points.iter().filter(|point| told(point.not_original));
    let rows = points.map(|point| {
        let verdicts = point
            .verdicts
            .iter()
            .map(|probability| figure(out_of(1000, *probability)));
        std::iter::once(figure(out_of(1000, point.not_original)))
            .chain(verdicts)
            .collect()
    });
    let titles = std::iter::once(words::NOT_ORIGINAL).chain(VERDICTS.map(|verdict| verdict.id()));
    let titles: Vec<&str> = titles.collect();
    vec![
        Block::Paragraph(said.clone()),
        Block::Figure {
            pictures: vec![charts::sweep("sweep", words::SWEEP_TITLE, &said, sweep)],
            caption: words::SWEEP_CAPTION.to_owned(),
        },
        Block::Table(Table {
            caption: words::SWEEP_TABLE.to_owned(),
            head: head(&titles),
            rows: rows.collect(),
        }),
    ]
}
