//! Findings with one thing behind them.

use super::{Told, numbers};
use crate::page::{FAINT, PLAIN, Page};
use crate::words::signed;
use oddment::argument::{Behind, Together};

/// The most groups told.
const GROUPS: usize = 8;

pub(super) fn render(page: &mut Page, told: Told<'_>) {
    let mut groups: Vec<(&Together, f64, f64)> = told
        .argument
        .together
        .iter()
        .filter_map(|group| {
            let weight = group.weights.get(told.place)?;
            Some((group, weight.naive, weight.joint))
        })
        .collect();
    page.heading("What hangs together");
    if groups.is_empty() {
        page.paragraph(PLAIN, 2, "No two findings have one thing behind them.");
        return;
    }
    // Where adding up is furthest out comes first.
    let apart = |naive: f64, joint: f64| (naive - joint).abs();
    groups.sort_by(|one, other| apart(other.1, other.2).total_cmp(&apart(one.1, one.2)));
    let more = groups.len().saturating_sub(GROUPS);
    for (group, naive, joint) in groups.into_iter().take(GROUPS) {
        let behind = match group.behind {
            Behind::Act => "One act",
            Behind::Incident => "One honest event",
            Behind::Date => "One making date",
        };
        let text = format!(
            "{behind}, {}: findings {}. Added up {}, together {}.",
            group.name.trim_end_matches('.'),
            numbers(&group.members),
            signed(naive),
            signed(joint)
        );
        page.hang(PLAIN, 2, "- ", &text);
    }
    if more > 0 {
        let text = format!("and {more} more where adding up is less far out");
        page.hang(PLAIN, 2, "- ", &text);
    }
    page.paragraph(
        FAINT,
        2,
        "Taken by themselves, with nothing else found. One finding may stand in several of these.",
    );
}
