//! What any part of the findings would have made of the histories, had only they been found.

use crate::case::Case;
use crate::error::Error;
use crate::evidence::{ItemLikelihood, Likelihoods, rule_out};
use crate::inquiry::Inquiry;
use crate::model::Model;
use oddment_circuit::{Cone, VariableId, Workspace};
use std::collections::{BTreeMap, BTreeSet};

/// Most findings that subsets are formed of.
pub(crate) const MOST_FINDINGS: usize = crate::shapley::MOST_SAMPLED;

/// How many subsets of one component are remembered.
const MOST_REMEMBERED: usize = 1 << 16;

/// Which findings are taken: bit i for the finding in place i.
pub(crate) type Subset = u128;

/// Findings that share no incident, date or clarity say what they say independently, given the
/// history and the quality of the examination. Each such component is evaluated by itself, and
/// every subset of it only once.
pub(crate) struct Coalitions<'a> {
    inquiry: &'a Inquiry<'a>,
    /// Only what was reported, with the numbers folded in: subsets are many.
    model: Model,
    likelihoods: Likelihoods,
    components: Vec<Component>,
    /// By quality and lane: the probability of what is known of incidents.
    base: Vec<f64>,
    workspace: Workspace,
    /// What the workspace holds of each component.
    held: Vec<Subset>,
}

struct Component {
    members: Subset,
    items: Vec<usize>,
    /// What depends on any of its findings.
    cone: Cone,
    /// What depends on each of them.
    cones: Vec<Cone>,
    /// By subset: for each quality and lane the probability of its findings over `base`.
    known: BTreeMap<Subset, Vec<f64>>,
}

pub(crate) fn bit(item: usize) -> Subset {
    1 << item
}

impl<'a> Coalitions<'a> {
    /// `None` when there are too many findings to form subsets of.
    ///
    /// # Errors
    /// [`Error::Circuit`]; none that the inquiry's own model did not give.
    pub fn new(inquiry: &'a Inquiry<'a>) -> Result<Option<Self>, Error> {
        if inquiry.likelihoods.items.len() > MOST_FINDINGS {
            return Ok(None);
        }
        let model = Model::compile_folded(inquiry.pack, inquiry.case)?;
        // The same reports and readings, at the places of this model.
        let likelihoods = inquiry.likelihoods.placed(&model, inquiry.case);
        let items = &likelihoods.items;
        let circuit = &model.circuit;
        let mut workspace = model.workspace(inquiry.workspace.batch());
        for (incident, happened) in &inquiry.case.known {
            rule_out(&model, &mut workspace, *incident, !happened);
        }
        circuit.value(&mut workspace);
        let components: Vec<Component> = components(inquiry, &model, &likelihoods)
            .into_iter()
            .map(|members| {
                let variables: Vec<VariableId> =
                    members.iter().map(|item| items[*item].variable).collect();
                let cones = variables.iter().map(|variable| circuit.cone(&[*variable]));
                Component {
                    cones: cones.collect(),
                    members: members.iter().fold(0, |all, item| all | bit(*item)),
                    items: members,
                    cone: circuit.cone(&variables),
                    known: BTreeMap::new(),
                }
            })
            .collect();
        let mut coalitions = Self {
            inquiry,
            model,
            likelihoods,
            held: vec![0; components.len()],
            components,
            base: Vec::new(),
            workspace,
        };
        coalitions.base = coalitions.lanes();
        Ok(Some(coalitions))
    }

    /// By quality and lane, the probability of what the workspace holds.
    fn lanes(&self) -> Vec<f64> {
        let circuit = &self.model.circuit;
        let scale = f64::from(self.workspace.exponent());
        let scale = libm::exp2(scale);
        let mut lanes = Vec::new();
        for quality in 0..self.workspace.batch() {
            lanes.extend(
                (0..circuit.lanes())
                    .map(|lane| scale * circuit.lane_value(&self.workspace, quality, lane)),
            );
        }
        lanes
    }

    /// Joint probability of each history and the findings of a subset.
    pub fn histories(&mut self, subset: Subset) -> Vec<f64> {
        let mut product = self.base.clone();
        for place in 0..self.components.len() {
            let within = subset & self.components[place].members;
            if within == 0 {
                continue;
            }
            if !self.components[place].known.contains_key(&within) {
                let lanes = self.evaluate(place, within);
                let known = &mut self.components[place].known;
                if known.len() >= MOST_REMEMBERED {
                    known.clear();
                }
                known.insert(within, lanes);
            }
            if let Some(lanes) = self.components[place].known.get(&within) {
                product.iter_mut().zip(lanes).for_each(|(p, l)| *p *= l);
            }
        }
        let histories = self.inquiry.priors.len();
        let chances = &self.inquiry.likelihoods.quality_chances;
        let mut joint = vec![0.0; histories];
        for (lanes, chance) in product.chunks(histories).zip(chances) {
            for (joint, lane) in joint.iter_mut().zip(lanes) {
                *joint += chance * lane;
            }
        }
        let priors = &self.inquiry.priors;
        joint.iter_mut().zip(priors).for_each(|(j, p)| *j *= p);
        joint
    }

    fn evaluate(&mut self, place: usize, within: Subset) -> Vec<f64> {
        let items = &self.likelihoods.items;
        let circuit = &self.model.circuit;
        // Other components are withdrawn, so that underflow stays far away.
        for (other, held) in self.held.iter_mut().enumerate() {
            let wanted = if other == place { within } else { 0 };
            let changed = *held ^ wanted;
            if changed == 0 {
                continue;
            }
            let component = &self.components[other];
            let mut cone = &component.cone;
            for (member, item) in component.items.iter().enumerate() {
                if changed & bit(*item) == 0 {
                    continue;
                }
                self.likelihoods.apply_at(
                    self.inquiry.pack,
                    &self.model,
                    &mut self.workspace,
                    &items[*item],
                    |kept| wanted & bit(kept) != 0,
                );
                if changed == bit(*item) {
                    cone = &component.cones[member];
                }
            }
            *held = wanted;
            circuit.value_in_cone(&mut self.workspace, cone);
        }
        self.lanes()
            .iter()
            .zip(&self.base)
            .map(|(lane, base)| if *base == 0.0 { 0.0 } else { lane / base })
            .collect()
    }
}

/// What stands between the history and an item: its unknown incidents, dates and clarities.
pub(crate) fn hidden_causes(model: &Model, case: &Case, item: &ItemLikelihood) -> BTreeSet<usize> {
    let known: Vec<VariableId> = case
        .known
        .iter()
        .map(|(incident, _)| model.incidents[*incident])
        .collect();
    let mut causes = BTreeSet::new();
    let mut open = vec![item.variable];
    while let Some(id) = open.pop() {
        for parent in &model.network.variable(id).parents {
            let given = *parent == model.history || known.contains(parent);
            if !given && causes.insert(parent.index()) {
                open.push(*parent);
            }
        }
    }
    causes.insert(item.variable.index());
    causes
}

fn components(inquiry: &Inquiry<'_>, model: &Model, likelihoods: &Likelihoods) -> Vec<Vec<usize>> {
    let mut components: Vec<(BTreeSet<usize>, Vec<usize>)> = Vec::new();
    for (place, item) in likelihoods.items.iter().enumerate() {
        let mut causes = hidden_causes(model, inquiry.case, item);
        let mut members = vec![place];
        components.retain_mut(|(others, items)| {
            let apart = causes.is_disjoint(others);
            if !apart {
                causes.append(others);
                members.append(items);
            }
            apart
        });
        members.sort_unstable();
        components.push((causes, members));
    }
    components.into_iter().map(|(_, items)| items).collect()
}
