//! One question to the engine, and all it answers.

use oddment_circuit::{
    Circuit, CompileOptions, Error, Evidence, Network, ParameterId, VariableId, Workspace,
};

/// A compiled circuit whose workspace holds one case's evidence, differentiated.
#[derive(Debug)]
pub struct Query {
    /// The circuit.
    pub circuit: Circuit,
    /// Its workspace, for one case.
    pub workspace: Workspace,
}

impl Query {
    /// Compiles the network with its numbers kept, and asks.
    pub fn new(network: &Network, evidence: &Evidence) -> Self {
        Self::with(network, evidence, &CompileOptions::default())
    }

    /// Compiles the network and asks.
    ///
    /// # Panics
    /// When the network is too large or the evidence is another network's.
    pub fn with(network: &Network, evidence: &Evidence, options: &CompileOptions<'_>) -> Self {
        let circuit = Circuit::compile(network, options).expect("small enough to compile");
        let workspace = circuit.workspace(1);
        let mut query = Self { circuit, workspace };
        query.ask(evidence);
        query
    }

    /// Asks again with other evidence, in the same workspace.
    ///
    /// # Panics
    /// When the evidence is another network's.
    pub fn ask(&mut self, evidence: &Evidence) {
        self.circuit
            .set_evidence(&mut self.workspace, 0, evidence)
            .expect("evidence of this network");
        self.circuit.derivative(&mut self.workspace);
    }

    /// ln P(e).
    pub fn ln_evidence(&self) -> f64 {
        self.circuit.ln_evidence(&self.workspace, 0)
    }

    /// The posterior; `None` when the evidence is impossible.
    pub fn posterior(&self, id: VariableId) -> Option<Vec<f64>> {
        possible(self.circuit.posterior(&self.workspace, 0, id))
    }

    /// The posterior without the variable's own evidence.
    pub fn withdrawn(&self, id: VariableId) -> Option<Vec<f64>> {
        possible(self.circuit.posterior_withdrawn(&self.workspace, 0, id))
    }

    /// What a value or derivative of the workspace must be multiplied by.
    fn scale(&self) -> f64 {
        libm::exp2(f64::from(self.workspace.exponent()))
    }

    /// The value of one lane.
    pub fn lane_value(&self, lane: usize) -> f64 {
        self.circuit.lane_value(&self.workspace, 0, lane) * self.scale()
    }

    /// The derivative of one lane's value by the likelihood of a state.
    pub fn lane_joint(&self, lane: usize, id: VariableId, state: usize) -> f64 {
        let joint = self.circuit.lane_joint(&self.workspace, 0, lane, id, state);
        joint * self.scale()
    }

    /// The derivative of one lane's value by a number.
    pub fn lane_slope(&self, lane: usize, id: ParameterId) -> f64 {
        self.circuit.lane_slope(&self.workspace, 0, lane, id) * self.scale()
    }

    /// Every answer to the bit: ln P(e), lane values, posteriors with and without own evidence.
    pub fn bits(&self, network: &Network) -> Vec<u64> {
        let mut bits = vec![self.ln_evidence().to_bits()];
        bits.extend((0..self.circuit.lanes()).map(|lane| self.lane_value(lane).to_bits()));
        for id in network.ids() {
            for answer in [self.posterior(id), self.withdrawn(id)] {
                // A length, so that no two different lists of answers read the same.
                bits.push(answer.as_ref().map_or(0, Vec::len) as u64);
                bits.extend(answer.iter().flatten().map(|entry| entry.to_bits()));
            }
        }
        bits
    }
}

/// A posterior, or `None` for impossible evidence.
///
/// # Panics
/// On any other error.
pub fn possible(posterior: Result<Vec<f64>, Error>) -> Option<Vec<f64>> {
    match posterior {
        Ok(posterior) => Some(posterior),
        Err(Error::Impossible { .. }) => None,
        Err(other) => panic!("{other}"),
    }
}
