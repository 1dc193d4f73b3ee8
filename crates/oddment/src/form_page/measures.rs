//! What can be measured.

use super::looking::{check_link, incident_link};
use super::markdown::{Page, stopped, worth};
use super::signs::only;
use crate::density::Density;
use crate::elicit::figures;
use crate::pack::{Expectation, ExpectedValues, Measure, NumberId};
use crate::text::figure;

pub(super) fn write(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(2, "Measures");
    if pack.measures.is_empty() {
        page.paragraph("None.");
    }
    for measure in &pack.measures {
        self::measure(page, measure);
    }
}

fn measure(page: &mut Page<'_>, measure: &Measure) {
    let pack = page.pack;
    page.heading(3, &format!("Measure `{}`", measure.id));
    let (low, high) = measure.plausible;
    page.paragraph(&format!(
        "**{}** In {}, at `{}`, by {}; an ordinary instrument errs by {} (standard error); readings \
         outside {} to {} are refused.{}",
        stopped(&measure.name),
        measure.unit.replace('-', " "),
        pack.parts[measure.part].id,
        check_link(page, measure.check),
        figure(measure.error),
        figure(low),
        figure(high),
        only(page, measure.variants.as_deref())
    ));
    page.list([
        format!("Points to: {}", stopped(&measure.points_to)),
        format!("Innocent reading: {}", stopped(&measure.innocent)),
    ]);
    let head = ["stories", "9 in 10 values lie", "number"].map(str::to_owned);
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut known: Vec<NumberId> = Vec::new();
    for expectation in &measure.expectations {
        if !known.contains(&expectation.moved) {
            known.push(expectation.moved);
            let selector = selector(page, expectation);
            rows.push(row(page, format!("`{selector}`"), expectation));
        }
    }
    page.table(&head, &rows);
    if !measure.overrides.is_empty() {
        page.paragraph(
            "Whatever the story, once one of these happened (the first of them deciding):",
        );
        let head = ["incident", "9 in 10 values lie", "number"].map(str::to_owned);
        let rows = measure
            .overrides
            .iter()
            .map(|(incident, expectation)| row(page, incident_link(page, *incident), expectation));
        let rows: Vec<Vec<String>> = rows.collect();
        page.table(&head, &rows);
    }
    page.paragraph(&format!(
        "{}. A shift is added to all values (0 as it stands); a stretch \
         multiplies them (1 as it stands).",
        worth(pack, (measure.strength, measure.source))
    ));
}

/// What an expectation was written under, by its number's id.
fn selector(page: &Page<'_>, expectation: &Expectation) -> String {
    let id = &page.pack.numbers[expectation.moved.index()].id;
    id.rsplit('/').next().unwrap_or_default().to_owned()
}

fn row(page: &Page<'_>, label: String, expectation: &Expectation) -> Vec<String> {
    let id = &page.pack.numbers[expectation.moved.index()].id;
    let values = match &expectation.values {
        ExpectedValues::Density(density) => density_words(density),
        ExpectedValues::Movement(movement) => format!(
            "as the timber moves when its moisture falls by {} points, give or take {}; with {} mm \
             per m besides, give or take {}",
            figure(movement.moisture_fall),
            figure(movement.moisture_fall_sd),
            figure(movement.set),
            figure(movement.sd)
        ),
    };
    vec![label, values, format!("`{id}`")]
}

/// A density in words: where nine in ten values lie, and its family.
pub(super) fn density_words(density: &Density) -> String {
    let at = |p| density.quantile(p).map_or_else(|_| String::new(), figures);
    let between = |family: &str| format!("{} to {} ({family})", at(0.05), at(0.95));
    match density {
        Density::Normal { .. } => between("normal"),
        Density::LogNormal { .. } => between("log-normal"),
        Density::Gamma { .. } => between("gamma"),
        Density::StudentT { degrees, .. } => between(&format!(
            "Student's t, {} degrees of freedom",
            figure(*degrees)
        )),
        // Densest at 0, so that there is no lower end to leave out.
        Density::HalfNormal { .. } => format!("under {} (half-normal)", at(0.9)),
        Density::Uniform { low, high } => {
            format!("evenly anywhere from {} to {}", figure(*low), figure(*high))
        }
        Density::Mixture { parts } => {
            let parts = parts.iter().map(|part| {
                let share = figure(100.0 * part.weight);
                format!("{share} in 100: {}", density_words(&part.density))
            });
            parts.collect::<Vec<String>>().join("; ")
        }
    }
}
