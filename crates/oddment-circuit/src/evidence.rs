//! What has been observed.

use crate::error::Error;
use crate::network::{Distribution, Network, VariableId};
use std::collections::BTreeMap;

/// Observations: for each observed variable a likelihood over its states (for a
/// [`Distribution::Likelihood`] variable, over the joint states of its parents, the first slowest).
///
/// A likelihood weighs the observation; it is not the probability that results. `[0.8, 0.2]` says
/// that what was seen is four times as likely under the first state as under the second, whatever
/// was believed before. (Some books call this virtual or soft evidence.) Several observations of
/// one variable multiply.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Evidence {
    likelihoods: BTreeMap<VariableId, Vec<f64>>,
}

impl Evidence {
    /// Nothing observed.
    pub fn new() -> Self {
        Self::default()
    }

    /// Observes one state for certain.
    ///
    /// # Errors
    /// [`Error::Likelihood`] when the variable has no such state.
    pub fn observe(
        &mut self,
        network: &Network,
        id: VariableId,
        state: usize,
    ) -> Result<(), Error> {
        let count = network.variable(id).states.len();
        if state >= count {
            let message = match count {
                0 => "has no states of its own to observe; give one entry for each joint state of \
                      its parents"
                    .into(),
                _ => format!("has no state number {state}, the last is {}", count - 1),
            };
            return Err(Error::Likelihood {
                variable: network.variable(id).name.clone(),
                message,
            });
        }
        let mut likelihood = vec![0.0; count];
        likelihood[state] = 1.0;
        self.likelihood(network, id, &likelihood)
    }

    /// Multiplies in a likelihood.
    ///
    /// # Errors
    /// [`Error::Likelihood`] for a wrong length, an entry that is negative or not finite, or where
    /// the product with what was observed before cannot be represented.
    pub fn likelihood(
        &mut self,
        network: &Network,
        id: VariableId,
        likelihood: &[f64],
    ) -> Result<(), Error> {
        let variable = network.variable(id);
        let expected = match variable.distribution {
            Distribution::Likelihood => network
                .joint_states(&variable.parents)
                .unwrap_or(usize::MAX),
            _ => variable.states.len(),
        };
        let fault = |message| Error::Likelihood {
            variable: variable.name.clone(),
            message,
        };
        if likelihood.len() != expected {
            return Err(fault(format!(
                "has length {}, must be {expected}",
                likelihood.len()
            )));
        }
        if let Some(bad) = likelihood
            .iter()
            .find(|entry| !entry.is_finite() || **entry < 0.0)
        {
            return Err(fault(format!(
                "holds {bad}; entries must be finite and not negative"
            )));
        }
        let Some(present) = self.likelihoods.get(&id) else {
            self.likelihoods.insert(id, likelihood.to_vec());
            return Ok(());
        };
        let pairs = present.iter().zip(likelihood);
        let product: Vec<f64> = pairs.clone().map(|(one, other)| one * other).collect();
        let lost = pairs.zip(&product).find(|((one, other), product)| {
            let vanished = product.abs() < f64::MIN_POSITIVE && **one > 0.0 && **other > 0.0;
            vanished || !product.is_finite()
        });
        if let Some(((one, other), _)) = lost {
            return Err(fault(format!(
                "observed again, {one:e} times {other:e} is out of range; scale what is given, for \
                 example to a largest entry of 1"
            )));
        }
        self.likelihoods.insert(id, product);
        Ok(())
    }

    /// Withdraws all that was observed of a variable.
    pub fn withdraw(&mut self, id: VariableId) {
        self.likelihoods.remove(&id);
    }

    /// The observed variables with their likelihoods, in the network's order.
    pub fn iter(&self) -> impl Iterator<Item = (VariableId, &[f64])> {
        self.likelihoods
            .iter()
            .map(|(id, likelihood)| (*id, likelihood.as_slice()))
    }

    /// The likelihood of one variable, if it was observed.
    pub fn get(&self, id: VariableId) -> Option<&[f64]> {
        self.likelihoods.get(&id).map(Vec::as_slice)
    }
}
