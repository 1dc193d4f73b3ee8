//! From a case's findings to likelihoods on the model's leaves.

use crate::case::{Case, Reading};
use crate::density::{Density, DensityError};
use crate::error::Error;
use crate::examination::{
    expected_density, instrument_factor, opposite, poor_chance, reading_likelihood,
    report_likelihood, reported,
};
use crate::model::Model;
use crate::pack::Pack;
use crate::rough::rough_likelihood;
use oddment_circuit::{VariableId, Workspace};

/// One thing that says something: a reported finding or a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Item {
    /// Index into the case's findings.
    Finding(usize),
    /// Index into the case's readings.
    Reading(usize),
}

/// The likelihoods of all items, by quality of the visit.
#[derive(Debug, Clone)]
pub(crate) struct Likelihoods {
    /// The visits that say something, in the case's order; each is sound or poor, so that the
    /// qualities of all of them together have two to their number joint states.
    pub visits: Vec<usize>,
    /// Chance of each joint state of qualities; bit v set when visit number v is poor.
    pub quality_chances: Vec<f64>,
    pub items: Vec<ItemLikelihood>,
    /// What all readings' densities were scaled by, as a natural logarithm.
    pub ln_scale: f64,
}

/// The likelihood of one item.
#[derive(Debug, Clone)]
pub(crate) struct ItemLikelihood {
    pub item: Item,
    /// Position of its visit among the visits that say something.
    pub visit: usize,
    /// Index of its leaf in [`Model::leaves`], or of its measure.
    pub place: usize,
    /// The variable of that leaf or measure.
    pub variable: VariableId,
    /// By sound and poor: for a finding one entry for each level; for a reading one for each
    /// history and joint state of the overriding incidents, the history slowest.
    pub by_quality: [Vec<f64>; 2],
    /// The same for the opposite report; readings have none.
    pub opposite: Option<[Vec<f64>; 2]>,
}

impl Likelihoods {
    /// Those of a case in which nothing was reported.
    pub fn none() -> Self {
        Self {
            visits: Vec::new(),
            quality_chances: vec![1.0],
            items: Vec::new(),
            ln_scale: 0.0,
        }
    }

    pub fn new(pack: &Pack, model: &Model, case: &Case) -> Result<Self, Error> {
        Self::with_visit(pack, model, case, None)
    }

    /// As [`new`](Self::new), with the quality of one more visit though it says nothing yet.
    pub fn with_visit(
        pack: &Pack,
        model: &Model,
        case: &Case,
        visit: Option<usize>,
    ) -> Result<Self, Error> {
        Self::by(pack, model, case, visit, reading_likelihood)
    }

    /// As [`new`](Self::new), readings taken by the quick rule: for asking much of many pieces.
    pub fn rough(pack: &Pack, model: &Model, case: &Case) -> Result<Self, Error> {
        let rule: Rule = |density, reading, error| Ok(rough_likelihood(density, reading, error));
        Self::by(pack, model, case, None, rule)
    }

    fn by(
        pack: &Pack,
        model: &Model,
        case: &Case,
        visit: Option<usize>,
        rule: Rule,
    ) -> Result<Self, Error> {
        let mut visits: Vec<usize> = visit.into_iter().collect();
        let speaking = case
            .findings
            .iter()
            .filter(|finding| reported(finding.outcome).is_some())
            .map(|finding| finding.visit)
            .chain(case.readings.iter().map(|reading| reading.visit));
        visits.extend(speaking);
        visits.sort_unstable();
        visits.dedup();
        let position = |visit: usize| visits.iter().position(|v| *v == visit).unwrap_or(0);
        let mut items = Vec::new();
        let mut ln_scale = 0.0;
        for (index, finding) in case.findings.iter().enumerate() {
            let Some((level, sure)) = reported(finding.outcome) else {
                continue;
            };
            let sign = &pack.signs[finding.sign];
            let visit = &case.visits[finding.visit];
            let of = |level: usize| {
                [false, true].map(|poor| {
                    report_likelihood(pack, &case.numbers, sign, level, sure, visit, poor)
                })
            };
            let leaf = model
                .leaves
                .iter()
                .position(|leaf| leaf.sign == finding.sign && leaf.part == finding.part);
            let Some(place) = leaf else { continue };
            items.push(ItemLikelihood {
                item: Item::Finding(index),
                visit: position(finding.visit),
                place,
                variable: model.leaves[place].variable,
                by_quality: of(level),
                opposite: Some(of(opposite(sign, level))),
            });
        }
        for (index, reading) in case.readings.iter().enumerate() {
            let Some(variable) = model.measures[reading.measure] else {
                continue;
            };
            let (by_quality, ln) = reading_vectors(pack, case, index, rule)?;
            ln_scale += ln;
            items.push(ItemLikelihood {
                item: Item::Reading(index),
                visit: position(reading.visit),
                place: reading.measure,
                variable,
                by_quality,
                opposite: None,
            });
        }
        let poor: Vec<f64> = visits
            .iter()
            .map(|visit| poor_chance(pack, &case.numbers, &case.visits[*visit]))
            .collect();
        let quality_chances = (0..1_usize << visits.len())
            .map(|state| {
                poor.iter()
                    .enumerate()
                    .map(|(v, poor)| {
                        if state >> v & 1 == 1 {
                            *poor
                        } else {
                            1.0 - poor
                        }
                    })
                    .product()
            })
            .collect();
        Ok(Self {
            visits,
            quality_chances,
            items,
            ln_scale,
        })
    }

    /// The same likelihoods at the places of another model of the same case; what that model was
    /// compiled without is left out.
    pub fn placed(&self, model: &Model, case: &Case) -> Self {
        let mut placed = self.clone();
        placed.items.retain_mut(|item| {
            let found = match item.item {
                Item::Finding(index) => {
                    let finding = &case.findings[index];
                    let of = |leaf: &crate::model::Leaf| {
                        (leaf.sign, leaf.part) == (finding.sign, finding.part)
                    };
                    model.leaves.iter().position(of).map(|place| {
                        item.place = place;
                        model.leaves[place].variable
                    })
                }
                Item::Reading(index) => model.measures[case.readings[index].measure],
            };
            if let Some(variable) = found {
                item.variable = variable;
            }
            found.is_some()
        });
        placed
    }

    /// Whether an item's visit is poor in a joint state of qualities.
    pub fn quality(&self, item: &ItemLikelihood, state: usize) -> usize {
        state >> item.visit & 1
    }

    /// Puts all items but those left out into a workspace with one case per joint quality state.
    pub fn apply(
        &self,
        pack: &Pack,
        model: &Model,
        case: &Case,
        workspace: &mut Workspace,
        keep: impl Fn(usize) -> bool,
    ) {
        workspace.clear_evidence(&model.circuit);
        for (incident, happened) in &case.known {
            rule_out(model, workspace, *incident, !happened);
        }
        for state in 0..self.quality_chances.len() {
            let mut done: Vec<(bool, usize)> = Vec::new();
            for item in &self.items {
                let is_reading = matches!(item.item, Item::Reading(_));
                if done.contains(&(is_reading, item.place)) {
                    continue;
                }
                done.push((is_reading, item.place));
                if let Some(product) = self.product(is_reading, item.place, state, &keep) {
                    put(pack, model, workspace, item, state, &product);
                }
            }
        }
    }

    /// Puts the kept items at one item's leaf or measure, whatever stood there before.
    pub fn apply_at(
        &self,
        pack: &Pack,
        model: &Model,
        workspace: &mut Workspace,
        item: &ItemLikelihood,
        keep: impl Fn(usize) -> bool,
    ) {
        for state in 0..self.quality_chances.len() {
            let is_reading = matches!(item.item, Item::Reading(_));
            let product = self.product(is_reading, item.place, state, &keep);
            let product = product.unwrap_or_else(|| vec![1.0; item.by_quality[0].len()]);
            put(pack, model, workspace, item, state, &product);
        }
    }

    /// The joint likelihood of all kept items at one leaf or measure.
    pub fn product(
        &self,
        reading: bool,
        place: usize,
        state: usize,
        keep: &impl Fn(usize) -> bool,
    ) -> Option<Vec<f64>> {
        let mut product: Option<Vec<f64>> = None;
        for (index, item) in self.items.iter().enumerate() {
            let same = matches!(item.item, Item::Reading(_)) == reading && item.place == place;
            if !same || !keep(index) {
                continue;
            }
            let likelihood = &item.by_quality[self.quality(item, state)];
            match &mut product {
                None => product = Some(likelihood.clone()),
                Some(product) => {
                    product
                        .iter_mut()
                        .zip(likelihood)
                        .for_each(|(p, l)| *p *= l);
                }
            }
        }
        product
    }
}

/// How a reading's likelihood under one density is worked out, the instrument erring by so much.
type Rule = fn(&Density, &Reading, f64) -> Result<f64, DensityError>;

/// Rules out that an incident happened, or that it did not.
pub(crate) fn rule_out(model: &Model, workspace: &mut Workspace, incident: usize, happened: bool) {
    let id = model.incidents[incident];
    for case in 0..workspace.batch() {
        let state = usize::from(happened);
        model
            .circuit
            .set_likelihood_alike(workspace, id, state, case, 0.0);
    }
}

/// Puts the likelihood of one leaf or measure into one joint state of qualities.
fn put(
    pack: &Pack,
    model: &Model,
    workspace: &mut Workspace,
    item: &ItemLikelihood,
    state: usize,
    likelihood: &[f64],
) {
    let histories = pack.histories.len();
    let (circuit, id) = (&model.circuit, item.variable);
    if matches!(item.item, Item::Reading(_)) {
        let rest = likelihood.len() / histories;
        for (index, weight) in likelihood.iter().enumerate() {
            let (lane, within) = (index / rest, index % rest);
            circuit.set_likelihood(workspace, id, within, state, lane, *weight);
        }
    } else {
        for (level, weight) in likelihood.iter().enumerate() {
            circuit.set_likelihood_alike(workspace, id, level, state, *weight);
        }
    }
}

/// A reading's likelihoods over histories and overriding incidents, scaled so that the largest is
/// one, and the logarithm of the scale.
fn reading_vectors(
    pack: &Pack,
    case: &Case,
    index: usize,
    rule: Rule,
) -> Result<([Vec<f64>; 2], f64), Error> {
    let numbers = &case.numbers;
    let reading = &case.readings[index];
    let measure = &pack.measures[reading.measure];
    let overrides = measure.overrides.len();
    // Histories often share one expectation, and convolving a density is dear: each is done once.
    let of = |expectation| expected_density(case, pack, numbers, measure, expectation);
    let expected: Vec<Density> = measure.expectations.iter().map(of).collect();
    let overriding: Vec<Density> = measure.overrides.iter().map(|(_, over)| of(over)).collect();
    let mut vectors = [Vec::new(), Vec::new()];
    for (quality, vector) in vectors.iter_mut().enumerate() {
        let error = reading.error * instrument_factor(pack, numbers, quality == 1);
        let mut known: Vec<(&Density, f64)> = Vec::new();
        for expected in &expected {
            for state in 0..1_usize << overrides {
                // Parents' states count with the first override slowest.
                let first = (0..overrides).find(|o| state >> (overrides - 1 - o) & 1 == 1);
                let density = first.map_or(expected, |over| &overriding[over]);
                let likelihood = match known.iter().find(|(known, _)| *known == density) {
                    Some((_, likelihood)) => *likelihood,
                    None => {
                        let likelihood = rule(density, reading, error).map_err(|error| {
                            impossible_reading(pack, index, case, &error.to_string())
                        })?;
                        known.push((density, likelihood));
                        likelihood
                    }
                };
                vector.push(likelihood);
            }
        }
    }
    let largest = vectors.iter().flatten().copied().fold(0.0, f64::max);
    if largest <= 0.0 || !largest.is_finite() {
        return Err(impossible_reading(
            pack,
            index,
            case,
            "no history gives it any chance",
        ));
    }
    for entry in vectors.iter_mut().flatten() {
        *entry /= largest;
    }
    Ok((vectors, libm::log(largest)))
}

fn impossible_reading(pack: &Pack, index: usize, case: &Case, why: &str) -> Error {
    let measure = &pack.measures[case.readings[index].measure];
    Error::Impossible {
        contradiction: vec![format!("reading of `{}` ({why})", measure.id)],
    }
}
