//! `oddment elicit`: from what people say of a number to the number as a pack states it.

use crate::arguments::{Judged, Value};
use crate::failure::Failure;
use crate::input::Source;
use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words::unit;
use oddment::elicit::{
    Agreement, Bar, Elicitation, ElicitedOpinion, ElicitedValue, Fitted, JudgementEntry,
    JudgementFile, LevelEntry, PICTURED, Pieces, PoolKind, Said, elicit, elicit_text, figures,
};
use std::path::Path;

/// The longest bar of a picture.
const LONGEST_BAR: usize = 40;

/// Works out a file of judgements, or the one on the command line.
pub(super) fn work_out(file: Option<&Path>, judged: &Judged) -> Result<Elicitation, Failure> {
    match file {
        Some(path) => {
            if says_something(judged) {
                let message = "a file and a judgement on the command line: give one of them (only \
                               --json goes with a file)";
                return Err(Failure::usage([("judgement/kind", message.to_owned())]));
            }
            let source = Source::read_or_input(path)?;
            elicit_text(source.text()).map_err(|error| Failure::engine(&error, &[&source]))
        }
        None => {
            let written = written(judged)?;
            elicit(&written).map_err(|problems| {
                let problems = problems.into_iter();
                Failure::usage(problems.map(|problem| (problem.code, problem.message)))
            })
        }
    }
}

/// Whether anything that belongs to a single judgement was given.
fn says_something(judged: &Judged) -> bool {
    judged.quartiles.is_some()
        || judged.quantiles.is_some()
        || judged.about.is_some()
        || judged.between.is_some()
        || judged.credible.is_some()
        || judged.count.is_some()
        || judged.counts.is_some()
        || !judged.level.is_empty()
        || judged.of.is_some()
        || judged.start.is_some()
        || judged.unit.is_some()
        || judged.positive
        || judged.family.is_some()
        || judged.factor
        || judged.number.is_some()
}

/// The command line as a judgement file of one judgement.
fn written(judged: &Judged) -> Result<JudgementFile, Failure> {
    let values = all_values(judged);
    let percent = values.iter().any(|value| value.percent);
    if percent && (judged.unit.is_some() || judged.factor || judged.of.is_some()) {
        let message = "a percentage such as 30% is a chance by itself: leave out `%`, or --unit, \
                       --factor and --of";
        return Err(Failure::usage([("judgement/chance", message.to_owned())]));
    }
    let plain = |values: &Vec<Value>| values.iter().map(|value| value.value).collect();
    let pair = |values: &Vec<f64>| match values[..] {
        [one, other] => Some((one, other)),
        _ => None,
    };
    let levels = judged.level.iter().map(|level| LevelEntry {
        name: level.name.clone(),
        quartiles: Some(plain(&level.quartiles)),
        ..LevelEntry::default()
    });
    let levels: Vec<LevelEntry> = levels.collect();
    let quantiles = judged.quantiles.as_ref().map(|quantiles| {
        let pairs = quantiles.iter();
        pairs.map(|q| vec![q.level.value, q.value.value]).collect()
    });
    let entry = JudgementEntry {
        number: judged.number.clone(),
        expert: None,
        quartiles: judged.quartiles.as_ref().map(plain),
        quantiles,
        about: judged.about.map(|about| about.value),
        between: judged.between.as_ref().and_then(|ends| pair(&plain(ends))),
        credible: judged.credible.map(|credible| credible.value),
        count: judged.count.as_ref().and_then(pair),
        counts: judged.counts.clone(),
        levels: (!levels.is_empty()).then_some(levels),
        start: judged.start,
        of: judged.of,
        unit: judged.unit.clone(),
        positive: judged.positive,
        family: judged.family,
        factor: judged.factor,
    };
    Ok(JudgementFile {
        judgements: vec![entry],
        ..JudgementFile::default()
    })
}

/// Every value that may be a percentage of the quantity itself.
fn all_values(judged: &Judged) -> Vec<Value> {
    let mut values: Vec<Value> = judged.quartiles.iter().flatten().copied().collect();
    values.extend(judged.between.iter().flatten().copied());
    values.extend(judged.about);
    values.extend(judged.quantiles.iter().flatten().map(|q| q.value));
    values.extend(
        judged
            .level
            .iter()
            .flat_map(|level| level.quartiles.clone()),
    );
    values
}

/// The whole page.
pub(super) fn render(elicited: &Elicitation, file: bool) -> String {
    let mut page = Page::new();
    fill(&mut page, elicited, file);
    page.finish()
}

/// Puts all numbers on a page; with a file, the block of all of them below.
pub(super) fn fill(page: &mut Page, elicited: &Elicitation, file: bool) {
    for (place, value) in elicited.numbers.iter().enumerate() {
        if place > 0 {
            page.gap();
        }
        number(page, value);
    }
    if file {
        page.heading("For a case or an opinion file, and (in the remarks) for a pack");
        for line in elicited.numbers_toml().lines() {
            page.row(PLAIN, line);
        }
    }
}

fn number(page: &mut Page, value: &ElicitedValue) {
    let title = match &value.number {
        Some(id) => id.clone(),
        None => kind(&value.result, value.unit.as_deref()),
    };
    page.paragraph(STRONG, 0, &title);
    page.paragraph(PLAIN, 0, &summary(&value.result, value.unit.as_deref()));
    let alone = value.opinions.len() == 1;
    for opinion in &value.opinions {
        self::opinion(page, opinion, value.unit.as_deref(), alone);
    }
    together(page, value);
    for doubt in &value.doubts {
        page.hang(PLAIN, 2, "! ", doubt);
    }
    pictured(page, value);
    for_a_pack(page, value);
}

/// What sort of number it is, as a title.
fn kind(fitted: &Fitted, unit: Option<&str>) -> String {
    match fitted {
        Fitted::Chance { .. } => "A chance".to_owned(),
        Fitted::Factor { .. } => "A factor".to_owned(),
        Fitted::Row { .. } => "Chances of the levels of a graded sign".to_owned(),
        Fitted::Measure { .. } => format!("A measure in {}", self::unit(unit.unwrap_or_default())),
    }
}

/// Mean and equivalent sample size, or the family.
fn summary(fitted: &Fitted, of_unit: Option<&str>) -> String {
    let pieces = |strength: f64| match figures(strength).as_str() {
        "1" => "1 piece".to_owned(),
        many => format!("{many} pieces"),
    };
    match fitted {
        Fitted::Chance { mean, strength } => {
            let (a, b) = fitted.shapes().unwrap_or_default();
            format!(
                "{} in 100 on average, worth {}: Beta({}, {}).",
                figures(100.0 * mean),
                pieces(*strength),
                figures(a),
                figures(b)
            )
        }
        Fitted::Factor { mean, strength } => format!(
            "{} on average, worth {}: gamma with that as its shape.",
            figures(*mean),
            pieces(*strength)
        ),
        Fitted::Row { means, strength } => {
            let means: Vec<String> = means.iter().map(|mean| figures(100.0 * mean)).collect();
            let (means, pieces) = (means.join(", "), pieces(*strength));
            format!("{means} in 100 on average, worth {pieces}: Dirichlet.")
        }
        Fitted::Measure { .. } => {
            let [low, middle, high] = [0.05, 0.5, 0.95].map(|p| figures(fitted.quantile(p)));
            let unit = of_unit.map(unit).unwrap_or_default();
            format!("Median {middle} {unit}; 90 in 100 between {low} and {high} {unit}.")
        }
    }
}

fn opinion(page: &mut Page, opinion: &ElicitedOpinion, unit: Option<&str>, alone: bool) {
    if !alone {
        let name = opinion.expert.as_deref().unwrap_or_default();
        let weight = figures(100.0 * opinion.weight);
        page.heading(&format!("{name}, {weight} in 100 of the weight"));
        page.paragraph(PLAIN, 2, &summary(&opinion.fitted, unit));
    }
    if opinion.said.iter().any(|said| !said.quantiles.is_empty()) {
        page.gap();
        page.row(FAINT, "  stays below in      said   this says");
    }
    for said in &opinion.said {
        self::said(page, said, alone);
    }
    families(page, opinion);
    if !opinion.doubts.is_empty() {
        page.gap();
    }
    for doubt in &opinion.doubts {
        page.hang(PLAIN, 2, "! ", doubt);
    }
}

fn said(page: &mut Page, said: &Said, alone: bool) {
    if let Some((found, looked)) = said.count {
        let who = if alone { "You counted" } else { "Counted:" };
        let text = format!("{who} {} in {}.", figures(found), figures(looked));
        page.paragraph(PLAIN, 2, &text);
    }
    if let Some(name) = &said.name {
        page.paragraph(PLAIN, 2, name);
    }
    for quantile in &said.quantiles {
        let level = format!("{} in 100", figures(100.0 * quantile.level));
        page.row(
            PLAIN,
            &format!(
                "  {level:>14}  {:>8}  {:>10}",
                figures(quantile.said),
                figures(quantile.fitted)
            ),
        );
    }
}

/// The families tried for a measure.
fn families(page: &mut Page, opinion: &ElicitedOpinion) {
    let (Some(best), true) = (opinion.families.first(), opinion.families.len() > 1) else {
        return;
    };
    let others = opinion.families[1..].iter().map(|fit| {
        format!(
            "{} ({})",
            fit.family.name(),
            figures(100.0 * fit.squares.sqrt())
        )
    });
    let others: Vec<String> = others.collect();
    let text = format!(
        "Fits best: {} (off by {} in 100); then {}.",
        best.family.name(),
        figures(100.0 * best.squares.sqrt()),
        others.join(", ")
    );
    page.gap();
    page.paragraph(PLAIN, 2, &text);
}

/// Several opinions as one.
fn together(page: &mut Page, value: &ElicitedValue) {
    let Some(pool) = &value.pool else {
        return;
    };
    let title = match pool.agreement {
        Agreement::Agree => "Together",
        Agreement::Differ => "Together, though they differ",
        Agreement::Contradict => "Together, though they CONTRADICT EACH OTHER",
    };
    page.heading(title);
    page.paragraph(PLAIN, 2, &pool.words());
    let unit = value.unit.as_deref();
    let mark = |kind| {
        if value.pooled_by == kind {
            " (used below)"
        } else {
            ""
        }
    };
    let linear = format!("linear pool{}: ", mark(PoolKind::Linear));
    page.hang(PLAIN, 2, &linear, &summary(&pool.linear, unit));
    if let Some(logarithmic) = &pool.logarithmic {
        let label = format!("logarithmic pool{}: ", mark(PoolKind::Logarithmic));
        page.hang(PLAIN, 2, &label, &summary(logarithmic, unit));
    }
}

/// What pieces would look like, and the picture.
fn pictured(page: &mut Page, value: &ElicitedValue) {
    match &value.result {
        Fitted::Chance { .. } => {
            page.heading(&format!("What {PICTURED} such pieces would look like"));
            value
                .pieces
                .iter()
                .for_each(|p| page.paragraph(PLAIN, 2, &pieces(p, "it")));
        }
        Fitted::Row { .. } => {
            page.heading(&format!("What {PICTURED} such pieces would look like"));
            let said = value.opinions.first().map(|opinion| &opinion.said[..]);
            for (place, pieces) in value.pieces.iter().enumerate() {
                let named = said.and_then(|said| said.get(place)?.name.clone());
                let name = named.unwrap_or_else(|| format!("level {place}"));
                page.hang(
                    PLAIN,
                    2,
                    &format!("{name}: "),
                    &self::pieces(pieces, "this"),
                );
            }
        }
        Fitted::Measure { .. } => {
            page.heading(&format!("What {PICTURED} such pieces would look like"));
            let [low, lower, middle, upper, high] =
                [0.05, 0.25, 0.5, 0.75, 0.95].map(|p| figures(value.result.quantile(p)));
            let text = format!(
                "1 would be below {low}, 5 below {lower}, 10 below {middle}, 15 below {upper}, and 1 \
                 above {high}."
            );
            page.paragraph(PLAIN, 2, &text);
        }
        Fitted::Factor { .. } => {
            page.heading("What it could be");
            let [low, high] = [0.05, 0.95].map(|p| figures(value.result.quantile(p)));
            page.paragraph(
                PLAIN,
                2,
                &format!("Between {low} and {high} 9 times in 10."),
            );
        }
    }
    if !matches!(value.result, Fitted::Row { .. }) {
        page.gap();
        page.paragraph(FAINT, 2, "Where it lies, in so many of 100 cases:");
        picture(page, &value.result.picture());
    }
}

/// Of a chance.
fn pieces(pieces: &Pieces, what: &str) -> String {
    let none = 100.0 * pieces.none;
    if none > 99.5 {
        return format!("As good as none would show {what}.");
    }
    let none = if none < 0.5 {
        String::new()
    } else {
        format!("; none at all {} in 100 times", figures(none.round()))
    };
    format!(
        "{:.1} show {what} on average, and 9 times in 10 between {} and {}{none}.",
        pieces.expected, pieces.low, pieces.high
    )
}

fn picture(page: &mut Page, bars: &[Bar]) {
    let most = bars
        .iter()
        .map(|bar| bar.share)
        .fold(f64::MIN_POSITIVE, f64::max);
    let labels: Vec<String> = bars.iter().map(edges).collect();
    let width = labels.iter().map(String::len).max().unwrap_or(0);
    // Ends of long labels keep bars short on a narrow page.
    let longest = page.width().saturating_sub(width + 9).min(LONGEST_BAR);
    for (bar, label) in bars.iter().zip(&labels) {
        let length = (bar.share / most * longest as f64).round() as usize;
        let share = match 100.0 * bar.share {
            share if share < 0.5 => String::new(),
            share => format!(" {share:.0}"),
        };
        page.row(
            PLAIN,
            &format!("  {label:>width$}  {}{share}", "#".repeat(length)),
        );
    }
}

/// From where to where a bar goes, without what rounding left.
fn edges(bar: &Bar) -> String {
    let step = bar.to - bar.from;
    // Steps are 1, 2 or 5 times a power of ten.
    let (mut decimals, mut unit) = (0, 1.0);
    while step * unit < 0.99 && decimals < 12 {
        decimals += 1;
        unit *= 10.0;
    }
    format!("{:.decimals$} to {:.decimals$}", bar.from, bar.to)
}

fn for_a_pack(page: &mut Page, value: &ElicitedValue) {
    page.heading("For a pack");
    for line in value.toml.lines() {
        page.row(PLAIN, &format!("  {line}"));
    }
    match &value.result {
        Fitted::Row { strength, .. } => {
            let text = format!("with `strength = {}` at its sign", figures(*strength));
            page.paragraph(PLAIN, 2, &text);
        }
        Fitted::Measure { .. } => {
            let text = "with the measure's `strength`: how many pieces this is worth";
            page.paragraph(PLAIN, 2, text);
        }
        Fitted::Chance { .. } | Fitted::Factor { .. } => {}
    }
}
