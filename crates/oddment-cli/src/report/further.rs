//! What else follows: dates, incidents, what is still to be looked at.

use super::part_name;
use crate::page::{PLAIN, Page};
use crate::words::{self, count, first_sentence, list, out_of};
use oddment::Pack;
use oddment::assessment::{Assessment, IncidentOdds, NotLooked};
use std::collections::BTreeSet;

/// An incident whose probability changed by less has not moved.
const MOVED: f64 = 0.05;

/// The most incidents shown.
const INCIDENTS: usize = 5;

/// The most checks still to do shown; the list of signs has them all.
const CHECKS: usize = 6;

/// The most places without access named.
const NO_ACCESS: usize = 4;

pub(super) fn dates(page: &mut Page, assessment: &Assessment) {
    if assessment.dates.is_empty() {
        return;
    }
    page.heading("When the parts were made (9 chances in 10 between the years)");
    // Parts made together need one line.
    let mut lines: Vec<(String, Vec<String>)> = Vec::new();
    for date in &assessment.dates {
        let years = format!(
            "about {} ({} to {})",
            words::year(date.median),
            words::year(date.low),
            words::year(date.high)
        );
        let name = words::short_part(&date.name);
        match lines.iter_mut().find(|(known, _)| *known == years) {
            Some((_, names)) => names.push(name),
            None => lines.push((years, vec![name])),
        }
    }
    for (years, names) in lines {
        page.hang(PLAIN, 2, &format!("{years}  "), &list(&names));
    }
}

pub(super) fn incidents(page: &mut Page, assessment: &Assessment) {
    let shift = |incident: &IncidentOdds| (incident.probability - incident.prior).abs();
    let mut moved: Vec<&IncidentOdds> = assessment
        .incidents
        .iter()
        .filter(|incident| shift(incident) >= MOVED)
        .collect();
    if moved.is_empty() {
        return;
    }
    moved.sort_by(|one, other| shift(other).total_cmp(&shift(one)));
    page.heading("Honest events made likelier or less likely (in 100 such pieces)");
    for incident in moved.iter().take(INCIDENTS) {
        let label = format!("{:>8}  ", out_of(100, incident.probability));
        let text = format!(
            "{} (before looking {})",
            incident.name,
            out_of(100, incident.prior)
        );
        page.hang(PLAIN, 0, &label, &text);
    }
    if moved.len() > INCIDENTS {
        let text = format!("and {} more that moved less", moved.len() - INCIDENTS);
        page.paragraph(PLAIN, 10, &text);
    }
}

/// What one check would still answer.
struct ToDo<'a> {
    first: &'a NotLooked,
    number: usize,
}

pub(super) fn not_looked(page: &mut Page, assessment: &Assessment, pack: &Pack) {
    let mut to_do: Vec<ToDo<'_>> = Vec::new();
    for item in assessment.not_looked.iter().filter(|item| !item.no_access) {
        match to_do
            .iter_mut()
            .find(|to_do| to_do.first.check == item.check)
        {
            Some(to_do) => to_do.number += 1,
            None => to_do.push(ToDo {
                first: item,
                number: 1,
            }),
        }
    }
    let tried: Vec<&NotLooked> = assessment
        .not_looked
        .iter()
        .filter(|item| item.no_access)
        .collect();
    if to_do.is_empty() && tried.is_empty() {
        page.heading("Everything on the list has been looked at.");
        return;
    }
    page.heading("Not looked at (least trouble first)");
    for to_do in to_do.iter().take(CHECKS) {
        let mut aside = vec![words::reach(to_do.first.access).to_owned()];
        aside.push(words::minutes(to_do.first.minutes));
        let check = pack
            .checks
            .iter()
            .find(|check| check.id == to_do.first.check);
        aside.extend(
            check
                .and_then(|check| words::leave(check.leave))
                .map(str::to_owned),
        );
        let number = count(to_do.number, "thing", "things");
        let text = format!(
            "{}: {number} ({})",
            to_do.first.check_name,
            aside.join(", ")
        );
        page.hang(PLAIN, 2, "- ", &text);
    }
    if to_do.len() > CHECKS {
        let more = count(to_do.len() - CHECKS, "more check", "more checks");
        let text = format!("and {more}");
        page.hang(PLAIN, 2, "- ", &text);
    }
    if !tried.is_empty() {
        no_access(page, pack, &tried);
    }
    cautions(
        page,
        assessment,
        to_do
            .iter()
            .take(CHECKS)
            .map(|to_do| to_do.first.check.as_str()),
    );
}

fn no_access(page: &mut Page, pack: &Pack, tried: &[&NotLooked]) {
    let mut names: Vec<String> = tried
        .iter()
        .take(NO_ACCESS)
        .map(|item| format!("{} ({})", item.name, part_name(pack, &item.part)))
        .collect();
    if tried.len() > NO_ACCESS {
        names.push(format!("and {} more", tried.len() - NO_ACCESS));
    }
    let text = format!("Tried, but no access: {}.", names.join("; "));
    page.hang(PLAIN, 2, "- ", &text);
}

/// The cautions of the checks named, each once.
fn cautions<'a>(page: &mut Page, assessment: &Assessment, checks: impl Iterator<Item = &'a str>) {
    let named: BTreeSet<&str> = checks.collect();
    let mut used = assessment
        .cautions
        .iter()
        .filter(|note| {
            note.checks
                .iter()
                .any(|check| named.contains(check.as_str()))
        })
        .peekable();
    if used.peek().is_none() {
        return;
    }
    page.heading(&format!(
        "Before you do (in full: `oddment signs {}`)",
        assessment.pack.id
    ));
    for note in used {
        page.hang(PLAIN, 2, "- ", first_sentence(&note.text));
    }
}
