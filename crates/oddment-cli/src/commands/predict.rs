//! `oddment lint --predict`: what a pack's pieces would show.

use crate::arguments::Linting;
use crate::failure::Failure;
use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words::{plain, thousands, unit};
use oddment::Pack;
use oddment::pack::VERDICTS;
use oddment::predict::{
    PredictOptions, PredictedMeasure, PredictedSign, Prediction, Quartiles, Shares, predict,
};

/// Width of a column.
const COLUMN: usize = 10;

/// Width of what stands before the columns, and on a page without room for that.
const LABEL: usize = 22;
const SHORT_LABEL: usize = 12;

/// Whether there is room for nothing but what holds of all pieces.
fn few(page: &Page) -> bool {
    !page.has_room(SHORT_LABEL + COLUMN * (1 + VERDICTS.len()))
}

/// Reads one figure off the quartiles.
type Quarter = fn(&Quartiles) -> f64;

pub(super) fn work_out(pack: &Pack, asked: &Linting) -> Result<Prediction, Failure> {
    let standard = PredictOptions::default();
    let options = PredictOptions {
        variant: asked.variant.clone(),
        period: asked.period.clone(),
        region: asked.region.clone(),
        pieces: asked.pieces.unwrap_or(standard.pieces),
        seed: asked.seed,
    };
    predict(pack, &options).map_err(|error| Failure::engine(&error, &[]))
}

pub(super) fn render(prediction: &Prediction, pack: &Pack) -> String {
    let mut page = Page::new();
    fill(&mut page, prediction, pack);
    page.finish()
}

pub(super) fn fill(page: &mut Page, prediction: &Prediction, pack: &Pack) {
    head(page, prediction, pack);
    if !prediction.signs.is_empty() {
        page.heading("Signs: there / reported by an average examiner");
        columns(page);
    }
    for sign in &prediction.signs {
        self::sign(page, sign, pack);
    }
    if !prediction.measures.is_empty() {
        page.heading("Measures as read: a quarter, half and three quarters lie below");
        columns(page);
    }
    for measure in &prediction.measures {
        self::measure(page, measure, pack);
    }
    if !prediction.incidents.is_empty() {
        page.heading("Incidents: happened");
        columns(page);
    }
    for incident in &prediction.incidents {
        page.paragraph(PLAIN, 0, &incident.name);
        row(page, "", &cells(&incident.happened, None, few(page)));
    }
}

fn head(page: &mut Page, prediction: &Prediction, pack: &Pack) {
    let named = |id: &Option<String>, all: &str, name: &dyn Fn(&str) -> Option<String>| match id {
        Some(id) => name(id).unwrap_or_else(|| id.clone()),
        None => all.to_owned(),
    };
    let variants = |id: &str| {
        let entry = pack.variants.iter().find(|entry| entry.id == id)?;
        Some(entry.name.clone())
    };
    let periods = |id: &str| {
        let entry = pack.periods.iter().find(|entry| entry.id == id)?;
        Some(format!("{} ({}-{})", entry.name, entry.from, entry.to))
    };
    let regions = |id: &str| {
        let entry = pack.regions.iter().find(|entry| entry.id == id)?;
        Some(entry.name.clone())
    };
    page.paragraph(
        STRONG,
        0,
        &format!(
            "Of 100 pieces offered as {}: {}; {}; {}",
            pack.name,
            named(
                &prediction.variant,
                "all variants in equal parts",
                &variants
            ),
            named(&prediction.period, "all periods in equal parts", &periods),
            named(&prediction.region, "all regions in equal parts", &regions),
        ),
    );
    let shares: Vec<String> = prediction
        .verdicts
        .iter()
        .map(|of| format!("{} {}", of_hundred(of.share), of.verdict.id()))
        .collect();
    page.paragraph(PLAIN, 0, &format!("{}.", shares.join(", ")));
    page.paragraph(
        FAINT,
        0,
        &format!(
            "Counts in 100 of all pieces and of those of each verdict, from the pack's numbers \
             alone: they are what it claims, and worth holding against what you have seen. Signs \
             and incidents are exact, measures from {} simulated pieces (seed {}).",
            thousands(u64::from(prediction.pieces)),
            prediction.seed
        ),
    );
}

fn columns(page: &mut Page) {
    let mut names = vec!["all"];
    if !few(page) {
        names.extend(VERDICTS.map(|verdict| verdict.id()));
    }
    let names: Vec<String> = names
        .into_iter()
        .map(|name| name.chars().take(COLUMN - 1).collect())
        .collect();
    row_of(page, FAINT, "", &names);
}

fn row(page: &mut Page, label: &str, cells: &[String]) {
    row_of(page, PLAIN, label, cells);
}

fn row_of(page: &mut Page, style: anstyle::Style, label: &str, cells: &[String]) {
    // On a page without room for them the labels give way.
    let width = if page.has_room(LABEL + COLUMN * (1 + VERDICTS.len())) {
        LABEL
    } else {
        SHORT_LABEL
    };
    let label: String = label.chars().take(width - 2).collect();
    let cells: String = cells
        .iter()
        .map(|cell| format!("{cell:>COLUMN$}"))
        .collect();
    page.row(style, &format!("{:<width$}{cells}", format!("  {label}")));
}

fn sign(page: &mut Page, sign: &PredictedSign, pack: &Pack) {
    page.paragraph(
        PLAIN,
        0,
        &format!("{} ({})", sign.name, part(pack, &sign.part)),
    );
    let few = few(page);
    for level in &sign.levels {
        // That a yes/no sign is not there follows.
        if sign.levels.len() == 2 && level.level == sign.levels[0].level {
            continue;
        }
        let cells = cells(&level.there, Some(&level.reported), few);
        row(page, &level.level, &cells);
    }
}

fn part(pack: &Pack, id: &str) -> String {
    let part = pack.parts.iter().find(|part| part.id == id);
    part.map_or_else(
        || id.to_owned(),
        |part| crate::words::short_part(&part.name),
    )
}

fn measure(page: &mut Page, measure: &PredictedMeasure, pack: &Pack) {
    let refused = if measure.implausible >= 0.005 {
        format!(
            "; {} in 100 outside what the pack calls plausible",
            of_hundred(measure.implausible)
        )
    } else {
        String::new()
    };
    page.paragraph(
        PLAIN,
        0,
        &format!(
            "{} ({}), {}{refused}",
            measure.name,
            part(pack, &measure.part),
            unit(&measure.unit)
        ),
    );
    let quarters: [(&str, Quarter); 3] = [
        ("a quarter below", |of| of.lower),
        ("half below", |of| of.median),
        ("three quarters", |of| of.upper),
    ];
    let few = few(page);
    for (label, of) in quarters {
        let mut cells = vec![measure.all.as_ref().map(of)];
        if !few {
            cells.extend(measure.by_verdict.iter().map(|by| by.as_ref().map(of)));
        }
        let cells: Vec<String> = cells
            .into_iter()
            .map(|value| value.map_or_else(|| "-".to_owned(), plain))
            .collect();
        row(page, label, &cells);
    }
}

/// All, and each verdict where there is room.
fn cells(there: &Shares, reported: Option<&Shares>, few: bool) -> Vec<String> {
    let of = |shares: &Shares| {
        let mut all = vec![Some(shares.all)];
        if !few {
            all.extend(shares.by_verdict.iter().copied());
        }
        all
    };
    let there = of(there);
    let reported = reported.map(of);
    there
        .iter()
        .enumerate()
        .map(|(place, share)| {
            let told = reported
                .as_ref()
                .and_then(|told| told.get(place).copied().flatten());
            match (share, told) {
                (None, _) => "-".to_owned(),
                (Some(share), None) => of_hundred(*share),
                (Some(share), Some(told)) => {
                    format!("{} /{:>3}", of_hundred(*share), of_hundred(told))
                }
            }
        })
        .collect()
}

/// A count in 100 that does not make something of nothing, nor all of nearly all.
fn of_hundred(share: f64) -> String {
    if share > 0.0 && share < 0.005 {
        "<1".to_owned()
    } else if share < 1.0 && share > 0.995 {
        ">99".to_owned()
    } else {
        format!("{:.0}", 100.0 * share)
    }
}
