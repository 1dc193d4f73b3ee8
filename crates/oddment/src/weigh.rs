//! Weighing the findings: alone, withdrawn, in order, and each its fair share.

use crate::argument::{
    ARGUMENT_SCHEMA, Argument, Behind, InnocentReading, Question, ShareMethod, Together,
    TogetherWeight, WeighedFinding, Weights,
};
use crate::assess::{LIMITS, decibans, ln_odds, reading_words};
use crate::case::{Case, Sureness};
use crate::coalition::{Coalitions, Subset, bit, hidden_causes};
use crate::error::Error;
use crate::evidence::{Item, ItemLikelihood};
use crate::examination::reported;
use crate::inquiry::Inquiry;
use crate::model::Model;
use crate::pack::{Pack, VERDICTS, Verdict};
use crate::shapley::{self, Sampling};
use oddment_circuit::{VariableId, Workspace};
use std::collections::BTreeMap;

/// Up to this many findings every order is taken into account.
const MOST_EXACT: usize = 14;

/// Otherwise orders are drawn until no share is less certain than this, in decibans.
const SHARE_TOLERANCE: f64 = 0.1;

/// But no more orders than this.
const MOST_ORDERS: u64 = 400;

/// Fixed, so that a case always gets the same answer.
const SEED: u64 = 1;

/// What is set against what.
#[derive(Debug, Clone, Copy)]
enum Contrast {
    /// A verdict against all others.
    Verdict(Verdict),
    /// One history against another.
    Histories(usize, usize),
}

impl Contrast {
    /// The odds in decibans, within what odds are kept within.
    fn decibans(self, pack: &Pack, joint: &[f64]) -> f64 {
        decibans(match self {
            Self::Verdict(verdict) => ln_odds(pack, verdict, joint),
            Self::Histories(one, other) => libm::log(joint[one]) - libm::log(joint[other]),
        })
    }
}

/// How the findings of a case built up from the prior, and what hangs together. With `between`, the
/// ids of two histories, these are also set against each other.
///
/// ```text
/// L(S)           odds (in decibans) given the findings in S alone
/// alone          L({i}) - L({})
/// withdrawn      L(all) - L(all but i)
/// in order       L({1..i}) - L({1..i-1})
/// fair share     the mean over all orders of what i adds when it comes
/// ```
///
/// The weights in order and the fair shares add up to the total, `L(all) - L({})`; the withdrawn
/// weights and what they leave in common do; the weights alone add up to the naive sum.
///
/// # Errors
/// [`Error::Impossible`] when the findings contradict one another, [`Error::Circuit`] when the
/// pack's model is too large, [`Error::UnknownHistory`] for an id that the pack does not have.
///
/// ```
/// use oddment::{Case, Text, explain, packs};
/// let pack = packs::load("drop-leaf-table")?;
/// let text = include_str!("../../../priors/cases/innocent-holes.toml");
/// let case = Case::load(Text::new("innocent-holes.toml", text), &pack)?;
/// let argument = explain(&pack, &case, None)?;
/// let shares: f64 = argument.findings.iter().map(|f| f.weights[0].share).sum();
/// assert!((shares - argument.questions[0].total).abs() < 1e-6);
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn explain(pack: &Pack, case: &Case, between: Option<(&str, &str)>) -> Result<Argument, Error> {
    let model = Model::compile(pack, case.years, &case.numbers)?;
    Inquiry::open(pack, case, &model)?.argument(between)
}

impl Inquiry<'_> {
    /// The argument; see [`explain`].
    ///
    /// # Errors
    /// [`Error::UnknownHistory`] for an id that the pack does not have.
    pub fn argument(&self, between: Option<(&str, &str)>) -> Result<Argument, Error> {
        let mut contrasts: Vec<Contrast> = VERDICTS.map(Contrast::Verdict).to_vec();
        if let Some((one, other)) = between {
            let find = |id| find_history(self.pack, id);
            contrasts.push(Contrast::Histories(find(one)?, find(other)?));
        }
        let weigher = Weigher {
            inquiry: self,
            contrasts,
        };
        weigher.argument()
    }
}

/// A history's place.
pub(crate) fn find_history(pack: &Pack, id: &str) -> Result<usize, Error> {
    let place = pack.histories.iter().position(|history| history.id == id);
    place.ok_or_else(|| Error::UnknownHistory {
        id: id.to_owned(),
        valid: pack.histories.iter().map(|h| h.id.clone()).collect(),
    })
}

struct Weigher<'a> {
    inquiry: &'a Inquiry<'a>,
    contrasts: Vec<Contrast>,
}

impl Weigher<'_> {
    fn argument(&self) -> Result<Argument, Error> {
        let inquiry = self.inquiry;
        let items = &inquiry.likelihoods.items;
        // With more findings than subsets are formed of, the first of them are weighed one by one
        // and the rest stand in the order found only; no examination comes near that.
        let Some(mut coalitions) = Coalitions::new(inquiry)? else {
            return Ok(self.too_many());
        };
        let mut odds = |subset: Subset| -> Vec<f64> {
            let joint = coalitions.histories(subset);
            self.odds(&joint)
        };
        let all = (0..items.len()).fold(0, |all, item| all | bit(item));
        let (nothing, everything) = (odds(0), odds(all));
        let mut weights = vec![vec![NO_WEIGHTS; self.contrasts.len()]; items.len()];
        let mut before = nothing.clone();
        let mut so_far: Subset = 0;
        for (item, weights) in weights.iter_mut().enumerate() {
            so_far |= bit(item);
            let (alone, without, running) = (odds(bit(item)), odds(all & !bit(item)), odds(so_far));
            for (contrast, weights) in weights.iter_mut().enumerate() {
                weights.alone = alone[contrast] - nothing[contrast];
                weights.withdrawn = everything[contrast] - without[contrast];
                weights.in_order = running[contrast] - before[contrast];
                weights.running = running[contrast];
            }
            before = running;
        }
        let shares = self.shares(&mut weights, &mut odds);
        let together = self.together(&weights, &mut odds);
        let questions = self.questions(&nothing, &everything, &weights);
        let findings = self.findings(weights);
        Ok(self.finish(questions, findings, together, shares))
    }

    fn odds(&self, joint: &[f64]) -> Vec<f64> {
        let pack = self.inquiry.pack;
        let contrasts = self.contrasts.iter();
        contrasts
            .map(|contrast| contrast.decibans(pack, joint))
            .collect()
    }

    fn shares(
        &self,
        weights: &mut [Vec<Weights>],
        odds: &mut impl FnMut(Subset) -> Vec<f64>,
    ) -> ShareMethod {
        let (players, outputs) = (weights.len(), self.contrasts.len());
        let exact = players <= MOST_EXACT;
        let mut value = |subset: Subset, out: &mut [f64]| out.copy_from_slice(&odds(subset));
        if exact {
            let shares = shapley::exact(players, outputs, value).unwrap_or_default();
            for (weights, shares) in weights.iter_mut().zip(shares) {
                for (weights, share) in weights.iter_mut().zip(shares) {
                    weights.share = share;
                }
            }
            return ShareMethod {
                exact,
                orders: 0,
                seed: SEED,
            };
        }
        let options = Sampling {
            seed: SEED,
            most: MOST_ORDERS,
            tolerance: SHARE_TOLERANCE,
        };
        let Ok(sampled) = shapley::sampled(players, outputs, options, &mut value) else {
            return ShareMethod {
                exact,
                orders: 0,
                seed: SEED,
            };
        };
        let shares = sampled.shares.iter().zip(&sampled.standard_errors);
        for (weights, (shares, errors)) in weights.iter_mut().zip(shares) {
            for (contrast, weights) in weights.iter_mut().enumerate() {
                weights.share = shares[contrast];
                weights.share_error = errors[contrast];
            }
        }
        ShareMethod {
            exact,
            orders: sampled.permutations,
            seed: SEED,
        }
    }

    /// With too many findings for subsets, only the order found is told.
    fn too_many(&self) -> Argument {
        let inquiry = self.inquiry;
        let mut workspace = inquiry.workspace.clone();
        let mut odds_of_first = |count: usize| {
            let likelihoods = &inquiry.likelihoods;
            let (pack, model) = (inquiry.pack, inquiry.model);
            likelihoods.apply(pack, model, inquiry.case, &mut workspace, |i| i < count);
            model.circuit.value(&mut workspace);
            let answer = crate::answer::Answer {
                workspace: &workspace,
                ..inquiry.answer()
            };
            self.odds(&answer.histories())
        };
        let nothing = odds_of_first(0);
        let mut before = nothing.clone();
        let mut weights = Vec::new();
        for count in 1..=inquiry.likelihoods.items.len() {
            let running = odds_of_first(count);
            let step = |contrast: usize| {
                let in_order = running[contrast] - before[contrast];
                Weights {
                    alone: in_order,
                    withdrawn: in_order,
                    in_order,
                    running: running[contrast],
                    share: in_order,
                    share_error: 0.0,
                }
            };
            weights.push((0..self.contrasts.len()).map(step).collect());
            before = running;
        }
        let questions = self.questions(&nothing, &before, &weights);
        let findings = self.findings(weights);
        let shares = ShareMethod {
            exact: false,
            orders: 1,
            seed: SEED,
        };
        self.finish(questions, findings, Vec::new(), shares)
    }

    fn finish(
        &self,
        questions: Vec<Question>,
        findings: Vec<WeighedFinding>,
        together: Vec<Together>,
        shares: ShareMethod,
    ) -> Argument {
        Argument {
            schema: ARGUMENT_SCHEMA.into(),
            engine: env!("CARGO_PKG_VERSION").into(),
            pack: self.inquiry.stamp(),
            piece: self.inquiry.piece(),
            questions,
            findings,
            together,
            shares,
            limits: LIMITS.into(),
        }
    }

    fn questions(
        &self,
        nothing: &[f64],
        everything: &[f64],
        weights: &[Vec<Weights>],
    ) -> Vec<Question> {
        let pack = self.inquiry.pack;
        let history = |place: usize| {
            let history = &pack.histories[place];
            (history.id.clone(), history.name.clone())
        };
        self.contrasts
            .iter()
            .enumerate()
            .map(|(place, contrast)| {
                let (favoured, against) = match *contrast {
                    Contrast::Verdict(verdict) => {
                        ((verdict.id().to_owned(), verdict.id().to_owned()), None)
                    }
                    Contrast::Histories(one, other) => (history(one), Some(history(other))),
                };
                let (against, against_name) = against.unzip();
                let total = everything[place] - nothing[place];
                let sum = |of: fn(&Weights) -> f64| -> f64 {
                    weights.iter().map(|weights| of(&weights[place])).sum()
                };
                Question {
                    favoured: favoured.0,
                    favoured_name: favoured.1,
                    against,
                    against_name,
                    before: nothing[place],
                    after: everything[place],
                    total,
                    naive: sum(|weights| weights.alone),
                    in_common: total - sum(|weights| weights.withdrawn),
                }
            })
            .collect()
    }

    fn findings(&self, weights: Vec<Vec<Weights>>) -> Vec<WeighedFinding> {
        let (pack, case) = (self.inquiry.pack, self.inquiry.case);
        let mut workspace = self.inquiry.workspace.clone();
        let items = self.inquiry.likelihoods.items.iter().enumerate();
        items
            .zip(weights)
            .map(|((place, item), weights)| match item.item {
                Item::Finding(index) => {
                    let finding = &case.findings[index];
                    let sign = &pack.signs[finding.sign];
                    let (level, sure) = reported(finding.outcome).unwrap_or((0, Sureness::Sure));
                    WeighedFinding {
                        id: sign.id.clone(),
                        name: sign.name.clone(),
                        part: pack.parts[finding.part].id.clone(),
                        visit: case.visits[finding.visit].id.clone(),
                        found: sign.levels[level].clone(),
                        sure,
                        points_to: sign.points_to.clone(),
                        innocent: sign.innocent.clone(),
                        weights,
                        readings: self.innocent_readings(place, item, &mut workspace),
                    }
                }
                Item::Reading(index) => {
                    let reading = &case.readings[index];
                    let measure = &pack.measures[reading.measure];
                    WeighedFinding {
                        id: measure.id.clone(),
                        name: measure.name.clone(),
                        part: pack.parts[measure.part].id.clone(),
                        visit: case.visits[reading.visit].id.clone(),
                        found: reading_words(reading.value, &measure.unit),
                        sure: Sureness::Sure,
                        points_to: measure.points_to.clone(),
                        innocent: measure.innocent.clone(),
                        weights,
                        readings: self.innocent_readings(place, item, &mut workspace),
                    }
                }
            })
            .collect()
    }

    /// How far each incident that could explain a report does.
    fn innocent_readings(
        &self,
        place: usize,
        item: &ItemLikelihood,
        workspace: &mut Workspace,
    ) -> Vec<InnocentReading> {
        let inquiry = self.inquiry;
        let candidates = self.explaining(item);
        if candidates.is_empty() {
            return Vec::new();
        }
        let (pack, model) = (inquiry.pack, inquiry.model);
        let answer = inquiry.answer();
        let likelihoods = &inquiry.likelihoods;
        let histories = |variable, workspace: &mut Workspace| {
            let cone = model.circuit.cone(&[variable]);
            model.circuit.value_in_cone(workspace, &cone);
            let answer = crate::answer::Answer {
                workspace,
                ..inquiry.answer()
            };
            answer.histories()
        };
        likelihoods.apply_at(pack, model, workspace, item, |i| i != place);
        let without: f64 = histories(item.variable, workspace).iter().sum();
        let readings = candidates
            .into_iter()
            .map(|incident| {
                let variable = model.incidents[incident];
                // What is known of an incident holds for every history and quality.
                let known = |state| {
                    let circuit = &model.circuit;
                    circuit.input_weight(&inquiry.workspace, 0, 0, variable, state)
                };
                set_incident(model, workspace, variable, 0.0, known(1));
                let joint_without = histories(variable, workspace);
                set_incident(model, workspace, variable, known(0), known(1));
                histories(variable, workspace);
                let happened = known(1);
                let known = |_, _, state| if state == 1 { happened } else { 0.0 };
                let joint_with = answer.joint_with(variable, 2, known);
                let (with, before): (f64, f64) =
                    (joint_with.iter().sum(), joint_without.iter().sum());
                let if_happened = (with > 0.0 && before > 0.0).then(|| {
                    let (with, before) = (self.odds(&joint_with), self.odds(&joint_without));
                    with.iter().zip(before).map(|(w, b)| w - b).collect()
                });
                InnocentReading {
                    id: pack.incidents[incident].id.clone(),
                    name: pack.incidents[incident].name.clone(),
                    without: before / without,
                    with: with / inquiry.joint.iter().sum::<f64>(),
                    if_happened,
                }
            })
            .collect();
        // As it was, for the next finding.
        likelihoods.apply_at(pack, model, workspace, item, |_| true);
        histories(item.variable, workspace);
        readings
    }

    /// The incidents that could by themselves explain a report: those that make a sign where it
    /// was found, those that hide it where it was not, those that override a measure.
    fn explaining(&self, item: &ItemLikelihood) -> Vec<usize> {
        let (pack, case) = (self.inquiry.pack, self.inquiry.case);
        let mut incidents: Vec<usize> = match item.item {
            Item::Finding(index) => {
                let finding = &case.findings[index];
                let sign = &pack.signs[finding.sign];
                let there = reported(finding.outcome).is_some_and(|(level, _)| level > 0);
                if there {
                    sign.causes.iter().map(|(incident, _)| *incident).collect()
                } else {
                    sign.hides.iter().map(|(incident, _)| *incident).collect()
                }
            }
            Item::Reading(index) => {
                let measure = &pack.measures[case.readings[index].measure];
                measure.overrides.iter().map(|(i, _)| *i).collect()
            }
        };
        incidents.sort_unstable();
        incidents.dedup();
        incidents
    }

    /// Findings with one act, incident or making date behind them.
    fn together(
        &self,
        weights: &[Vec<Weights>],
        odds: &mut impl FnMut(Subset) -> Vec<f64>,
    ) -> Vec<Together> {
        let inquiry = self.inquiry;
        let (pack, case, model) = (inquiry.pack, inquiry.case, inquiry.model);
        let items = &inquiry.likelihoods.items;
        let all = (0..items.len()).fold(0, |all, item| all | bit(item));
        let mut behind: BTreeMap<(u8, usize), Vec<usize>> = BTreeMap::new();
        for (place, item) in items.iter().enumerate() {
            if let Item::Finding(index) = item.item
                && let Some(group) = pack.signs[case.findings[index].sign].group
            {
                behind.entry((0, group)).or_default().push(place);
            }
            for incident in self.explaining(item) {
                behind.entry((1, incident)).or_default().push(place);
            }
            let causes = hidden_causes(model, case, item);
            for (part, date) in model.dates.iter().enumerate() {
                if date.is_some_and(|date| causes.contains(&date.index())) {
                    behind.entry((2, part)).or_default().push(place);
                }
            }
        }
        let nothing = odds(0);
        let everything = odds(all);
        let mut together: Vec<Together> = Vec::new();
        for ((kind, index), members) in behind {
            if members.len() < 2 || together.iter().any(|other| other.members == members) {
                continue;
            }
            let (behind, id, name) = match kind {
                0 => (
                    Behind::Act,
                    &pack.groups[index].id,
                    &pack.groups[index].name,
                ),
                1 => (
                    Behind::Incident,
                    &pack.incidents[index].id,
                    &pack.incidents[index].name,
                ),
                _ => (Behind::Date, &pack.parts[index].id, &pack.parts[index].name),
            };
            let subset = members.iter().fold(0, |all, item| all | bit(*item));
            let (joint, rest) = (odds(subset), odds(all & !subset));
            let weights = (0..self.contrasts.len())
                .map(|contrast| TogetherWeight {
                    naive: members
                        .iter()
                        .map(|item| weights[*item][contrast].alone)
                        .sum(),
                    joint: joint[contrast] - nothing[contrast],
                    withdrawn: everything[contrast] - rest[contrast],
                })
                .collect();
            together.push(Together {
                behind,
                id: id.clone(),
                name: name.clone(),
                members,
                weights,
            });
        }
        together
    }
}

const NO_WEIGHTS: Weights = Weights {
    alone: 0.0,
    withdrawn: 0.0,
    in_order: 0.0,
    running: 0.0,
    share: 0.0,
    share_error: 0.0,
};

/// Sets the likelihoods of an incident not having and having happened.
fn set_incident(model: &Model, workspace: &mut Workspace, id: VariableId, no: f64, yes: f64) {
    let circuit = &model.circuit;
    for case in 0..workspace.batch() {
        for lane in 0..circuit.lanes() {
            circuit.set_likelihood(workspace, id, 0, case, lane, no);
            circuit.set_likelihood(workspace, id, 1, case, lane, yes);
        }
    }
}
