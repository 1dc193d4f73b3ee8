//! Incidents, checks, groups of signs, and how looking goes wrong.

use super::markdown::{Page, stopped};
use super::signs::sign_link;
use crate::pack::file::{Access, Leave};
use crate::pack::{NumberId, Shows};
use crate::text::figure;
use std::collections::BTreeSet;

pub(super) fn write_incidents(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(2, "Incidents");
    page.paragraph("Honest events of a long life, under any story.");
    for (place, incident) in pack.incidents.iter().enumerate() {
        page.heading(3, &format!("Incident `{}`", incident.id));
        page.paragraph(&format!(
            "**{}.** {}",
            incident.name,
            stopped(&incident.effect)
        ));
        let rates: Vec<Vec<NumberId>> = incident.rates.iter().map(|id| vec![*id]).collect();
        let rows = page.by_selector(&format!("incident/{}/rate/", incident.id), &rates);
        page.numbers("stories", &["happened, in 100".to_owned()], &rows);
        let causes = pack
            .signs
            .iter()
            .filter(|s| s.causes.iter().any(|c| c.0 == place));
        let hides = pack
            .signs
            .iter()
            .filter(|s| s.hides.iter().any(|h| h.0 == place));
        for (what, signs) in [
            ("Can cause", causes.collect::<Vec<_>>()),
            ("Can hide", hides.collect()),
        ] {
            let links: Vec<String> = signs.iter().map(|sign| sign_link(sign)).collect();
            if !links.is_empty() {
                page.paragraph(&format!("{what}: {}.", links.join(", ")));
            }
        }
    }
}

pub(super) fn incident_link(page: &Page<'_>, place: usize) -> String {
    let id = page
        .pack
        .incidents
        .get(place)
        .map_or("", |incident| &incident.id);
    format!("[{id}](#incident-{id})")
}

pub(super) fn check_link(page: &Page<'_>, place: usize) -> String {
    let check = page.pack.checks.get(place);
    let (id, name) = check.map_or(("", ""), |check| (&check.id, &check.name));
    format!("[{name}](#check-{id})")
}

fn access(access: Access) -> &'static str {
    match access {
        Access::WalkBy => "standing beside it",
        Access::Open => "opening doors and drawers, working its moving parts",
        Access::TurnOver => "underneath, or turned over",
        Access::Dismantle => "drawing a screw, taking off a part",
        Access::Laboratory => "a sample, or an instrument elsewhere",
        Access::Papers => "papers, not the piece",
    }
}

fn leave(leave: Leave) -> &'static str {
    match leave {
        Leave::NotNeeded => "nobody's leave needed",
        Leave::Ask => "ask the owner first",
        Leave::Written => "only with the owner's leave in writing",
    }
}

pub(super) fn write_checks(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(2, "Checks");
    for (place, check) in pack.checks.iter().enumerate() {
        page.heading(3, &format!("Check `{}`", check.id));
        page.paragraph(&format!("**{}.** {}", check.name, stopped(&check.how)));
        let tools = match check.tools.is_empty() {
            true => "nothing".to_owned(),
            false => check.tools.join(", "),
        };
        page.paragraph(&format!(
            "Bring: {tools}. {} min; {}; {}.",
            figure(check.minutes),
            access(check.access),
            leave(check.leave)
        ));
        let cautions = check
            .cautions
            .iter()
            .filter_map(|caution| pack.cautions.get(*caution));
        page.list(cautions.map(|caution| format!("**Caution.** {}", stopped(&caution.text))));
        let signs = pack
            .signs
            .iter()
            .filter(|sign| sign.check == place)
            .map(sign_link);
        let measures = pack
            .measures
            .iter()
            .filter(|measure| measure.check == place);
        let measures = measures.map(|measure| format!("[{0}](#measure-{0})", measure.id));
        let answers: Vec<String> = signs.chain(measures).collect();
        page.paragraph(&format!("Answers: {}.", answers.join(", ")));
    }
}

pub(super) fn write_groups(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(2, "Groups");
    page.paragraph(
        "Signs left by one act share how clearly it left its traces: with a coupling of 0 they are \
         independent witnesses, with 1 they stand and fall together.",
    );
    for (place, group) in pack.groups.iter().enumerate() {
        page.heading(3, &format!("Group `{}`", group.id));
        page.paragraph(&format!("**{}.** {}", group.name, stopped(&group.reason)));
        page.paragraph(&format!("Coupling {}.", page.number(group.coupling)));
        let signs = pack.signs.iter().filter(|sign| sign.group == Some(place));
        let signs: Vec<String> = signs.map(sign_link).collect();
        if !signs.is_empty() {
            page.paragraph(&format!("Signs: {}.", signs.join(", ")));
        }
    }
}

pub(super) fn write_examination(page: &mut Page<'_>) {
    let examination = &page.pack.examination;
    page.heading(2, "How looking goes wrong");
    let [sure, fairly_sure, doubtful] = examination.sureness;
    page.list([
        format!(
            "Chance that an examination as a whole is poor: {}.",
            page.chance(examination.poor)
        ),
        format!(
            "What a report's reliability above chance is then multiplied by: {}.",
            page.number(examination.poor_factor)
        ),
        format!(
            "How much larger an instrument's error then is: {} times.",
            page.number(examination.poor_instrument)
        ),
        format!("Weight of a sure report: {}.", page.number(sure)),
        format!(
            "Weight of a fairly sure report: {}.",
            page.number(fairly_sure)
        ),
        format!("Weight of a doubtful report: {}.", page.number(doubtful)),
    ]);
}

/// Curves of the library that this form has no sign for: they have numbers nevertheless.
pub(super) fn write_unused_curves(page: &mut Page<'_>) {
    let pack = page.pack;
    let used: BTreeSet<usize> = pack
        .signs
        .iter()
        .filter_map(|sign| match sign.shows {
            Shows::Dated { curve, .. } => Some(curve),
            Shows::History(_) => None,
        })
        .collect();
    let unused: Vec<String> = pack
        .curves
        .iter()
        .zip(&pack.curve_halves)
        .enumerate()
        .filter(|(place, _)| !used.contains(place))
        .map(|(_, (curve, half))| format!("{}: {}.", curve.name, page.chance(*half)))
        .collect();
    if unused.is_empty() {
        return;
    }
    page.heading(2, "Dated technologies that no sign here uses");
    page.paragraph("They come with the shared library and change nothing about this form.");
    page.list(unused);
}
