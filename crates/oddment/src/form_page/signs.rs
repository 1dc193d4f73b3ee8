//! What can be seen or felt.

use super::looking::{check_link, incident_link};
use super::markdown::{Page, Row, stopped};
use crate::pack::{NumberId, Reliability, Shows, Sign};
use crate::text::figure;

pub(super) fn sign_link(sign: &Sign) -> String {
    format!("[{0}](#sign-{0})", sign.id)
}

pub(super) fn write(page: &mut Page<'_>) {
    page.heading(2, "Signs");
    let pack = page.pack;
    for sign in &pack.signs {
        self::sign(page, sign);
    }
}

/// Which variants have it, where not all do.
pub(super) fn only(page: &Page<'_>, variants: Option<&[usize]>) -> String {
    let Some(variants) = variants else {
        return String::new();
    };
    let ids = variants
        .iter()
        .map(|variant| format!("`{}`", page.pack.variants[*variant].id));
    let ids: Vec<String> = ids.collect();
    format!(" Only of pieces offered as {}.", ids.join(", "))
}

fn sign(page: &mut Page<'_>, sign: &Sign) {
    let pack = page.pack;
    page.heading(3, &format!("Sign `{}`", sign.id));
    let parts = sign
        .parts
        .iter()
        .map(|part| format!("`{}`", pack.parts[*part].id));
    let parts: Vec<String> = parts.collect();
    let group = sign.group.and_then(|place| pack.groups.get(place));
    let group = group.map_or_else(String::new, |group| {
        format!("; of the group [{0}](#group-{0})", group.id)
    });
    page.paragraph(&format!(
        "**{}** Looked for at {}, by {}{group}.{}",
        stopped(&sign.name),
        parts.join(", "),
        check_link(page, sign.check),
        only(page, sign.variants.as_deref())
    ));
    page.list([
        format!("Points to: {}", stopped(&sign.points_to)),
        format!("Innocent reading: {}", stopped(&sign.innocent)),
    ]);
    match &sign.shows {
        Shows::History(rows) => {
            let rows = page.by_selector(&format!("sign/{}/shows/", sign.id), rows);
            page.numbers("stories", &columns(sign), &rows);
        }
        Shows::Dated {
            curve,
            visible,
            added,
            removed,
        } => {
            dated(page, *curve, *visible);
            for (field, what, numbers) in [
                ("added", "put on, in 100", added),
                ("removed", "taken off, in 100", removed),
            ] {
                let numbers = numbers.iter().map(|id| id.iter().copied().collect());
                let numbers: Vec<Vec<NumberId>> = numbers.collect();
                let prefix = format!("sign/{}/dated/{field}/", sign.id);
                let rows = page.by_selector(&prefix, &numbers);
                page.numbers("stories", &[what.to_owned()], &rows);
            }
        }
    }
    incidents(page, sign);
    reliability(page, sign);
}

/// Heads of the columns of chances.
fn columns(sign: &Sign) -> Vec<String> {
    match sign.levels.len() {
        2 => vec!["shows it, in 100".to_owned()],
        _ => sign.levels.clone(),
    }
}

fn dated(page: &mut Page<'_>, place: usize, visible: NumberId) {
    let pack = page.pack;
    let Some(curve) = pack.curves.get(place) else {
        return;
    };
    let before = curve.not_before.map_or_else(String::new, |year| {
        format!(" Before {year} there was none.")
    });
    page.paragraph(&format!(
        "Dates its part by when it was in use: {}, in so many of 100 new pieces of work, by year.{before}",
        curve.name
    ));
    // Many points make a long table; few years make a short one that reads well across.
    let head = curve.points.iter().map(|(year, _)| format!(" {year}"));
    let shares = curve.points.iter().map(|(_, share)| figure(100.0 * share));
    page.table(&head.collect::<Vec<String>>(), &[shares.collect()]);
    page.paragraph(&stopped(&curve.note));
    if let Some(half) = pack.curve_halves.get(place) {
        page.paragraph(&format!(
            "In the year in which the curve stands at one half it is {}; the whole curve moves with \
             it.",
            page.chance(*half)
        ));
    }
    page.paragraph(&format!(
        "Work done in that way still shows it in {}.",
        page.chance(visible)
    ));
}

fn incidents(page: &mut Page<'_>, sign: &Sign) {
    let causes: Vec<Row> = sign
        .causes
        .iter()
        .map(|(incident, ids)| (incident_link(page, *incident), ids.clone()))
        .collect();
    let columns = match sign.levels.len() {
        2 => vec!["causes it, in 100".to_owned()],
        _ => sign
            .levels
            .iter()
            .map(|level| format!("causes {level}"))
            .collect(),
    };
    page.numbers("incident", &columns, &causes);
    let hides: Vec<Row> = sign
        .hides
        .iter()
        .map(|(incident, id)| (incident_link(page, *incident), vec![*id]))
        .collect();
    page.numbers("incident", &["hides it, in 100".to_owned()], &hides);
}

fn reliability(page: &mut Page<'_>, sign: &Sign) {
    let text = match sign.reliability {
        Reliability::YesNo { found, cleared } => format!(
            "An average examiner finds it where it is in {}, and clears a piece that has none in {}.",
            page.chance(found),
            page.chance(cleared)
        ),
        Reliability::Graded { exact } => format!(
            "An average examiner reports the true level in {}, and else one beside it.",
            page.chance(exact)
        ),
    };
    page.paragraph(&text);
}
