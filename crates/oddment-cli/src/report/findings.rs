//! Why: the findings that weigh most for and against original.

use super::part_name;
use crate::page::{FAINT, PLAIN, Page};
use crate::words::{out_of, size, stopped, sureness};
use oddment::assessment::{Assessment, FindingWeight};
use oddment::{Pack, Verdict};

/// The most findings shown each way.
const SHOWN: usize = 3;

/// Decibans below which a finding says next to nothing.
const LEAST: f64 = 0.5;

pub(super) fn render(page: &mut Page, assessment: &Assessment, pack: &Pack) {
    if assessment.findings.is_empty() {
        return;
    }
    let several_visits = assessment.visits.len() > 1;
    let (against, for_it) = (strongest(assessment, -1.0), strongest(assessment, 1.0));
    if against.is_empty() && for_it.is_empty() {
        page.heading("No finding by itself says much for or against original.");
        return;
    }
    for (title, findings, damning) in [
        ("Strongest findings against original", against, true),
        ("Strongest findings for original", for_it, false),
    ] {
        page.heading(title);
        if findings.is_empty() {
            page.paragraph(PLAIN, 2, "None.");
        }
        for finding in findings {
            render_finding(page, pack, finding, several_visits);
            if damning {
                innocence(page, finding);
            }
        }
    }
    page.gap();
    page.paragraph(
        FAINT,
        0,
        "Weights in decibans: 3 doubles the odds, 10 makes them tenfold, 20 a hundredfold. Each is \
         what the odds lose with that finding alone withdrawn; findings with one cause share \
         theirs, so they do not add up.",
    );
}

fn weight(finding: &FindingWeight) -> f64 {
    finding
        .decibans
        .get(&Verdict::Original)
        .copied()
        .unwrap_or(0.0)
}

/// The findings that weigh most on one side, heaviest first.
fn strongest(assessment: &Assessment, side: f64) -> Vec<&FindingWeight> {
    let mut findings: Vec<&FindingWeight> = assessment
        .findings
        .iter()
        .filter(|finding| side * weight(finding) >= LEAST)
        .collect();
    findings.sort_by(|one, other| weight(other).abs().total_cmp(&weight(one).abs()));
    findings.truncate(SHOWN);
    findings
}

fn render_finding(page: &mut Page, pack: &Pack, finding: &FindingWeight, several_visits: bool) {
    let part = part_name(pack, &finding.part);
    let visit = if several_visits {
        format!(", visit {}", finding.visit)
    } else {
        String::new()
    };
    let mut text = format!(
        "{} ({part}{visit}): {}{}.",
        finding.name.trim_end_matches('.'),
        finding.found,
        sureness(finding.sure),
    );
    let opposite = finding.opposite.as_ref().and_then(|opposite| {
        let decibans = opposite.decibans.get(&Verdict::Original)?;
        Some((opposite.found.as_str(), *decibans))
    });
    if let Some((found, decibans)) = opposite {
        let would = if decibans.abs() < LEAST {
            format!(" Had it been `{found}`: next to nothing either way.")
        } else {
            let side = if decibans > 0.0 { "for" } else { "against" };
            format!(" Had it been `{found}`: {} {side}.", size(decibans))
        };
        text.push_str(&would);
    }
    page.hang(PLAIN, 0, &format!("{:>8}  ", size(weight(finding))), &text);
}

/// What an honest piece could say to it.
fn innocence(page: &mut Page, finding: &FindingWeight) {
    let mut text = format!("Innocent reading: {}", stopped(&finding.innocent));
    if let Some(incident) = &finding.incident {
        text.push_str(&format!(
            " {}: {} in 100 such pieces ({} without this finding).",
            incident.name,
            out_of(100, incident.with),
            out_of(100, incident.without)
        ));
    }
    page.paragraph(PLAIN, 10, &text);
}
