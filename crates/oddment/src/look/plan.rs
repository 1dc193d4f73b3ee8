//! A plan for the time there is.

use super::{Looker, Prospect, SEED, standard_error};
use crate::order::sort_by;
use crate::outlook::{CheckValue, Plan, PlanStep};
use oddment_circuit::VariableId;

/// Sets of answers drawn to value several checks together.
const DRAWS: u32 = 128;

/// Only so many of the most telling checks are tried in place of chosen ones.
const TRIED: usize = 8;

/// Bits below which one plan is no better than another.
const SAME: f64 = 1e-9;

/// Bits below which a further step is not worth taking: drawn answers do not tell so little from
/// nothing.
const NOT_A_STEP: f64 = 0.002;

/// One check as the plan sees it.
struct Candidate<'c> {
    check: &'c CheckValue,
    items: Vec<usize>,
}

/// Reports drawn for every item of the candidates.
struct Drawn {
    /// By draw and item, the place of the coarse answer.
    answers: Vec<Vec<usize>>,
}

impl Looker<'_> {
    /// Checks chosen for some minutes: the most telling per minute that still fits, again and
    /// again, then exchanged one for another as long as that tells more. Several checks are valued
    /// together over drawn sets of answers, the same for every plan.
    ///
    /// What a check adds hardly ever grows as others are chosen before it. So what it added when it
    /// was last tried is taken for the most it can add now, and only those are tried again that
    /// could then be the best.
    pub(super) fn plan(&self, minutes: f64, checks: &[CheckValue]) -> Plan {
        let pack = self.inquiry.pack;
        let candidates: Vec<Candidate<'_>> = checks
            .iter()
            .filter(|check| check.allowed)
            .map(|check| {
                let items: Vec<usize> = (0..self.items.len())
                    .filter(|place| pack.checks[self.items[*place].check].id == check.id)
                    .collect();
                Candidate { check, items }
            })
            .collect();
        let drawn = self.draw_answers(&candidates);
        let value = |chosen: &[usize]| self.of_set(&candidates, chosen, &drawn);
        let minutes_of =
            |chosen: &[usize]| -> f64 { chosen.iter().map(|c| candidates[*c].check.minutes).sum() };

        let mut chosen: Vec<usize> = Vec::new();
        let mut so_far = Vec::new();
        let mut bits = 0.0;
        // What each adds, as last tried.
        let mut adds = vec![f64::INFINITY; candidates.len()];
        let mut alone = vec![0.0; candidates.len()];
        loop {
            let left = minutes - minutes_of(&chosen);
            let rate = |c: usize, bits: f64| bits / candidates[c].check.minutes;
            let mut open: Vec<usize> = (0..candidates.len())
                .filter(|c| !chosen.contains(c) && candidates[*c].check.minutes <= left)
                .collect();
            sort_by(&mut open, |one, other| {
                rate(*other, adds[*other]).total_cmp(&rate(*one, adds[*one]))
            });
            let mut best: Option<(usize, f64)> = None;
            for c in open {
                if best.is_some_and(|(b, _)| rate(b, adds[b]) >= rate(c, adds[c])) {
                    break;
                }
                let mut more = chosen.clone();
                more.push(c);
                let bits_then = self.worth(&value(&more)).bits;
                adds[c] = bits_then - bits;
                if chosen.is_empty() {
                    alone[c] = bits_then;
                }
                if adds[c] >= NOT_A_STEP
                    && best.is_none_or(|(b, _)| rate(c, adds[c]) > rate(b, adds[b]))
                {
                    best = Some((c, bits_then));
                }
            }
            let Some((c, bits_then)) = best else {
                break;
            };
            chosen.push(c);
            bits = bits_then;
            so_far.push(bits);
        }
        if self.exchange(
            &mut chosen,
            &mut bits,
            minutes,
            &candidates,
            (&drawn, &alone),
        ) {
            // The order and what is known after each step, anew.
            so_far = (1..=chosen.len())
                .map(|count| self.worth(&value(&chosen[..count])).bits)
                .collect();
        }
        let prospects = value(&chosen);
        let worth = self.worth(&prospects);
        let everything: Vec<usize> = (0..candidates.len()).collect();
        let all = self.worth(&value(&everything));
        Plan {
            minutes,
            used: minutes_of(&chosen),
            steps: chosen
                .iter()
                .zip(so_far)
                .map(|(c, bits_so_far)| PlanStep {
                    id: candidates[*c].check.id.clone(),
                    name: candidates[*c].check.name.clone(),
                    minutes: candidates[*c].check.minutes,
                    bits_so_far,
                })
                .collect(),
            bits: worth.bits,
            standard_error: standard_error(&prospects, &self.now),
            changes_verdict: worth.changes,
            right_more_often: worth.right,
            bits_of_all: all.bits,
            all_change_verdict: all.changes,
            draws: DRAWS,
            seed: SEED,
        }
    }

    /// Tries other checks in place of chosen ones; whether anything was exchanged.
    fn exchange(
        &self,
        chosen: &mut Vec<usize>,
        bits: &mut f64,
        minutes: f64,
        candidates: &[Candidate<'_>],
        (drawn, alone): (&Drawn, &[f64]),
    ) -> bool {
        let mut others: Vec<usize> = (0..candidates.len())
            .filter(|c| candidates[*c].check.minutes <= minutes)
            .collect();
        sort_by(&mut others, |one, other| {
            alone[*other].total_cmp(&alone[*one])
        });
        let mut exchanged = false;
        for place in 0..chosen.len() {
            let mut rest = chosen.clone();
            rest.remove(place);
            let without = match rest.is_empty() {
                true => 0.0,
                false => self.worth(&self.of_set(candidates, &rest, drawn)).bits,
            };
            for other in others.iter().take(TRIED) {
                // It adds no more to the rest than it tells by itself.
                if chosen.contains(other) || without + alone[*other] <= *bits + SAME {
                    continue;
                }
                let mut tried = chosen.clone();
                tried[place] = *other;
                let used: f64 = tried.iter().map(|c| candidates[*c].check.minutes).sum();
                if used > minutes {
                    continue;
                }
                let worth = self.worth(&self.of_set(candidates, &tried, drawn));
                if worth.bits > *bits + SAME {
                    (*chosen, *bits, exchanged) = (tried, worth.bits, true);
                }
            }
        }
        exchanged
    }

    /// Draws a report for every item of the candidates.
    fn draw_answers(&self, candidates: &[Candidate<'_>]) -> Drawn {
        let wanted: Vec<usize> = candidates.iter().flat_map(|c| c.items.clone()).collect();
        let mut answers = Vec::new();
        let mut workspace = self.inquiry.workspace.clone();
        self.draw_reports(&wanted, DRAWS, &mut workspace, |chosen, _| {
            let mut all = vec![0; self.items.len()];
            for (place, chosen) in wanted.iter().zip(chosen) {
                all[*place] = *chosen;
            }
            answers.push(all);
        });
        Drawn { answers }
    }

    /// What some checks together could bring to light, over the drawn answers.
    fn of_set(
        &self,
        candidates: &[Candidate<'_>],
        chosen: &[usize],
        drawn: &Drawn,
    ) -> Vec<Prospect> {
        let circuit = &self.inquiry.model.circuit;
        let places: Vec<usize> = chosen
            .iter()
            .flat_map(|c| candidates[*c].items.iter().copied())
            .collect();
        let variables: Vec<VariableId> = places
            .iter()
            .map(|place| self.items[*place].variable)
            .collect();
        let cone = circuit.cone(&variables);
        let mut workspace = self.inquiry.workspace.clone();
        let joints: Vec<[f64; 4]> = drawn
            .answers
            .iter()
            .map(|answers| {
                // In place of whatever stood there.
                for place in &places {
                    let item = &self.items[*place];
                    let answer = &item.coarse[answers[*place]];
                    item.put(self.inquiry, &mut workspace, self.visit, Some(answer));
                }
                circuit.value_in_cone(&mut workspace, &cone);
                self.verdicts(&workspace)
            })
            .collect();
        self.of_draws(&joints)
    }
}
