//! A finished query, and what is read off it.

use crate::evidence::Likelihoods;
use crate::model::Model;
use crate::pack::Pack;
use oddment_circuit::{VariableId, Workspace};

/// Everything needed to read answers off a workspace that has been evaluated; all but
/// [`histories`](Self::histories) and [`ln_evidence`](Self::ln_evidence) need the derivative pass.
pub(crate) struct Answer<'a> {
    pub pack: &'a Pack,
    pub model: &'a Model,
    pub likelihoods: &'a Likelihoods,
    pub workspace: &'a Workspace,
    pub priors: &'a [f64],
}

impl<'a> Answer<'a> {
    pub fn new(
        pack: &'a Pack,
        model: &'a Model,
        likelihoods: &'a Likelihoods,
        workspace: &'a Workspace,
        priors: &'a [f64],
    ) -> Self {
        Self {
            pack,
            model,
            likelihoods,
            workspace,
            priors,
        }
    }

    /// Joint probability of each history and all evidence.
    pub fn histories(&self) -> Vec<f64> {
        self.over_qualities(|quality, lane| {
            self.model.circuit.lane_value(self.workspace, quality, lane)
        })
    }

    /// Natural logarithm of the probability (density, where readings were taken) of all evidence.
    pub fn ln_evidence(&self) -> f64 {
        libm::log(self.histories().iter().sum())
            + f64::from(self.workspace.exponent()) * std::f64::consts::LN_2
            + self.likelihoods.ln_scale
    }

    /// Joint probability of each history, a variable's state, and all evidence but that on the
    /// variable itself, with a likelihood over its states (by joint quality) put in its place.
    pub fn joint_with(
        &self,
        variable: VariableId,
        states: usize,
        likelihood: impl Fn(usize, usize, usize) -> f64,
    ) -> Vec<f64> {
        let circuit = &self.model.circuit;
        self.over_qualities(|quality, lane| {
            (0..states)
                .map(|state| {
                    let weight = likelihood(quality, lane, state);
                    if weight == 0.0 {
                        return 0.0;
                    }
                    weight * circuit.lane_joint(self.workspace, quality, lane, variable, state)
                })
                .sum()
        })
    }

    /// The distribution of a variable's states given all evidence. What is known of the variable
    /// itself is the same for every history and quality.
    pub fn states_of(&self, variable: VariableId, states: usize) -> Vec<f64> {
        let circuit = &self.model.circuit;
        let joint: Vec<f64> = (0..states)
            .map(|state| {
                let known = circuit.input_weight(self.workspace, 0, 0, variable, state);
                let lanes = self.over_qualities(|quality, lane| {
                    known * circuit.lane_joint(self.workspace, quality, lane, variable, state)
                });
                lanes.iter().sum()
            })
            .collect();
        let total: f64 = joint.iter().sum();
        joint.iter().map(|joint| joint / total).collect()
    }

    /// For each history its prior times the mean of something over the joint qualities.
    fn over_qualities(&self, of: impl Fn(usize, usize) -> f64) -> Vec<f64> {
        let qualities = &self.likelihoods.quality_chances;
        let lanes = self.priors.iter().enumerate();
        lanes
            .map(|(lane, prior)| {
                let chances = qualities.iter().enumerate();
                prior
                    * chances
                        .map(|(quality, chance)| chance * of(quality, lane))
                        .sum::<f64>()
            })
            .collect()
    }
}
