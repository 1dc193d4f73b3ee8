//! What is doubtful in a pack that is otherwise well-formed.

use super::{Domain, ExpectedValues, NumberId, Pack, Reliability, Shows, VERDICTS};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeSet;

/// A single unaided observation that can settle a case by itself claims more than examiners have
/// been shown to deliver: the highest likelihood ratio measured for experts' flat statements was
/// 376 (published summary of identification studies, read in abstract only).
const LIKELIHOOD_RATIO_CAP: f64 = 400.0;

/// Two histories that no sign's chances tell apart by more than this ratio are in effect one.
const TELLING_RATIO: f64 = 1.5;

/// Something doubtful.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(rename = "LintFinding")]
pub struct Finding {
    /// Stable code, such as `lint/unused`.
    pub code: &'static str,
    /// What it is about: an entry such as `sign/join-hollow`.
    pub about: String,
    /// What is doubtful and what could be done.
    pub message: String,
}

impl Pack {
    /// Looks for what is doubtful: histories that cannot be reached or told apart, signs that tell
    /// nothing or too much, entries that nothing uses.
    pub fn lint(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        let mut note = |code, about: String, message: String| {
            findings.push(Finding {
                code,
                about,
                message,
            });
        };
        self.lint_histories(&mut note);
        self.lint_signs(&mut note);
        self.lint_unused(&mut note);
        findings
    }

    /// Chances of each level of a sign under a history with no incident; `None` for a dated sign.
    fn level_chances(&self, sign: usize, history: usize) -> Option<Vec<f64>> {
        match &self.signs[sign].shows {
            Shows::History(rows) => Some(self.spread(&rows[history])),
            Shows::Dated { .. } => None,
        }
    }

    /// The chances of all levels that a written row or single chance stands for.
    pub(crate) fn spread(&self, row: &[NumberId]) -> Vec<f64> {
        match row {
            [single] => vec![1.0 - self.number(*single), self.number(*single)],
            row => row.iter().map(|chance| self.number(*chance)).collect(),
        }
    }

    fn lint_histories(&self, note: &mut impl FnMut(&'static str, String, String)) {
        for verdict in VERDICTS {
            if !self
                .histories
                .iter()
                .any(|history| history.verdict == verdict)
            {
                let message = "no history has this verdict, so it can never be given".to_owned();
                note("lint/verdict", format!("verdict/{}", verdict.id()), message);
            }
        }
        for (place, history) in self.histories.iter().enumerate() {
            let about = format!("history/{}", history.id);
            if self
                .priors
                .iter()
                .all(|prior| self.number(prior.counts[place]) == 0.0)
            {
                let message = "has a count of 0 for every variant, so it can never be".to_owned();
                note("lint/unreachable", about.clone(), message);
            }
            for (other, rival) in self.histories.iter().enumerate().skip(place + 1) {
                if !self.told_apart(place, other) {
                    let message = format!(
                        "nothing tells it from `{}`: no chance differs by a factor of \
                         {TELLING_RATIO}, no origin and no density differs; merge them or add a \
                         sign",
                        rival.id
                    );
                    note("lint/indistinct", about.clone(), message);
                }
            }
        }
    }

    fn told_apart(&self, one: usize, other: usize) -> bool {
        let dated = self.signs.iter().any(|sign| {
            matches!(sign.shows, Shows::Dated { .. })
                && sign.parts.iter().any(|part| {
                    self.histories[one].origins[*part] != self.histories[other].origins[*part]
                })
        });
        let shown = (0..self.signs.len()).any(|sign| {
            match (
                self.level_chances(sign, one),
                self.level_chances(sign, other),
            ) {
                (Some(a), Some(b)) => a
                    .iter()
                    .zip(&b)
                    .any(|(a, b)| a.max(*b) > TELLING_RATIO * a.min(*b)),
                _ => false,
            }
        });
        let measured = self
            .measures
            .iter()
            .any(|m| m.expectations[one].values != m.expectations[other].values);
        dated || shown || measured
    }

    fn lint_signs(&self, note: &mut impl FnMut(&'static str, String, String)) {
        for (place, sign) in self.signs.iter().enumerate() {
            let about = format!("sign/{}", sign.id);
            let rows: Option<Vec<Vec<f64>>> = (0..self.histories.len())
                .map(|h| self.level_chances(place, h))
                .collect();
            let Some(rows) = rows else { continue };
            let mut widest: f64 = 1.0;
            for report in 0..sign.levels.len() {
                let chances: Vec<f64> = rows
                    .iter()
                    .map(|row| {
                        (0..row.len())
                            .map(|level| row[level] * self.report(place, level, report))
                            .sum()
                    })
                    .collect();
                let highest = chances.iter().copied().fold(0.0, f64::max);
                let lowest = chances.iter().copied().fold(1.0, f64::min);
                widest = widest.max(highest / lowest);
            }
            if widest > LIKELIHOOD_RATIO_CAP {
                let message = format!(
                    "one report can shift two histories by a factor of {widest:.0}; above \
                     {LIKELIHOOD_RATIO_CAP} a single unaided look settles the case"
                );
                note("lint/overwhelming", about, message);
            } else if widest < 1.2 {
                let message = format!(
                    "no report shifts any two histories by more than a factor of {widest:.2}, so \
                     looking tells nothing"
                );
                note("lint/says-nothing", about, message);
            }
        }
        for sign in &self.signs {
            let weak = match sign.reliability {
                Reliability::YesNo { found, cleared } => {
                    self.number(found) + self.number(cleared) <= 1.0
                }
                Reliability::Graded { exact } => {
                    self.number(exact) <= 1.0 / sign.levels.len() as f64
                }
            };
            if weak {
                let message = "is reported no better than by chance".to_owned();
                note("lint/reliability", format!("sign/{}", sign.id), message);
            }
        }
    }

    /// Chance that an average examiner reports one level when another is true.
    fn report(&self, sign: usize, level: usize, report: usize) -> f64 {
        crate::examination::channel(self, &self.means(), &self.signs[sign], false, 1.0)[level]
            [report]
    }

    fn lint_unused(&self, note: &mut impl FnMut(&'static str, String, String)) {
        let mut unused = |about: String, message: &str| note("lint/unused", about, message.into());
        for (place, part) in self.parts.iter().enumerate() {
            let seen = self.signs.iter().any(|sign| sign.parts.contains(&place))
                || self.measures.iter().any(|measure| measure.part == place);
            if !seen {
                unused(
                    format!("part/{}", part.id),
                    "no sign or measure is at this part",
                );
            }
            let dated = self.signs.iter().any(|sign| {
                sign.parts.contains(&place) && matches!(sign.shows, Shows::Dated { .. })
            });
            if part.dated && !dated && !self.companions.contains(&Some(place)) {
                unused(
                    format!("part/{}", part.id),
                    "has a date of its own that no dated sign bears on",
                );
            }
        }
        for (place, group) in self.groups.iter().enumerate() {
            let members: usize = self
                .signs
                .iter()
                .filter(|sign| sign.group == Some(place))
                .map(|sign| sign.parts.len())
                .sum();
            if members < 2 {
                unused(
                    format!("group/{}", group.id),
                    "has fewer than two signs to couple",
                );
            }
        }
        for (place, incident) in self.incidents.iter().enumerate() {
            let acts = self.signs.iter().any(|sign| {
                sign.causes.iter().any(|(i, _)| *i == place)
                    || sign.hides.iter().any(|(i, _)| *i == place)
            }) || self
                .measures
                .iter()
                .any(|m| m.overrides.iter().any(|(i, _)| *i == place));
            if !acts {
                unused(
                    format!("incident/{}", incident.id),
                    "neither causes nor hides anything",
                );
            }
        }
        let used: BTreeSet<usize> = self.numbers.iter().map(|number| number.source).collect();
        let shares = self
            .numbers
            .iter()
            .filter(|number| number.domain == Domain::Chance)
            .count();
        if used.is_empty() || shares == 0 {
            unused("pack".into(), "holds no chances at all");
        }
        for (place, later) in self.later_work.iter().enumerate() {
            let after = self
                .histories
                .iter()
                .any(|history| history.origins.contains(&Some(super::Origin::After(place))));
            if !after {
                unused(
                    format!("later_work/{}", later.id),
                    "no history refers to it",
                );
            }
        }
        for measure in &self.measures {
            let all_same = measure
                .expectations
                .windows(2)
                .all(|pair| pair[0].values == pair[1].values);
            if all_same
                && !matches!(
                    measure
                        .expectations
                        .first()
                        .map(|expected| &expected.values),
                    Some(ExpectedValues::Movement(_))
                )
            {
                unused(
                    format!("measure/{}", measure.id),
                    "expects the same under every history",
                );
            }
        }
    }
}
