//! The caller's side of a query: numbers and evidence in, values and derivatives out.

use crate::circuit::{ABSENT, Circuit, Cone, ParameterId};
use crate::error::Error;
use crate::evaluate::{backward, forward};
use crate::evidence::Evidence;
use crate::network::VariableId;
use crate::scaled::evaluate_scaled;

/// Lanes evaluated side by side in one vector operation.
pub(crate) const WIDTH: usize = 8;

/// Outside this range the plain evaluation may have lost terms to underflow or overflow and is
/// repeated with scaling.
const SAFE_RANGE: std::ops::RangeInclusive<f64> = 1e-150..=1e150;

/// Buffers for queries to one circuit; create once, reuse for every query.
///
/// Holds a batch of cases side by side. Lanes are numbered case by case, and within a case by the
/// state of the lane variable. A query allocates nothing, except where it has to be repeated with
/// scaling because it underflowed.
#[derive(Debug, Clone)]
pub struct Workspace {
    batch: usize,
    lanes: usize,
    /// 1 for a single lane, else [`WIDTH`].
    width: usize,
    slots: usize,
    /// By block of lanes, then slot, then lane within the block.
    values: Vec<f64>,
    adjoints: Vec<f64>,
    /// Likelihood of each lane's state, times its prior.
    lane_weights: Vec<f64>,
    /// For each lane of each case: true values and adjoints are the stored ones times two to this
    /// power. Zero wherever the plain evaluation did.
    exponents: Vec<i32>,
    /// The power that callers are told: the largest of any possible lane.
    exponent: i32,
    stale_numbers: bool,
}

impl Circuit {
    /// Buffers for `batch` cases at once (at least one), holding the network's own numbers and no
    /// evidence.
    pub fn workspace(&self, batch: usize) -> Workspace {
        let batch = batch.max(1);
        let lanes = self.lanes() * batch;
        let width = if lanes == 1 { 1 } else { WIDTH };
        let blocks = lanes.div_ceil(width);
        let slots = self.slots();
        let mut workspace = Workspace {
            batch,
            lanes: self.lanes(),
            width,
            slots,
            values: vec![0.0; blocks * slots * width],
            adjoints: vec![0.0; blocks * slots * width],
            lane_weights: Vec::new(),
            exponents: vec![0; lanes],
            exponent: 0,
            stale_numbers: true,
        };
        for case in 0..batch {
            workspace.lane_weights.extend(&self.lane_prior);
            for lane in 0..self.lanes() {
                for (slot, constant) in self.constants.iter().enumerate() {
                    workspace.put(slot as u32, case * self.lanes() + lane, *constant);
                }
                for (parameter, slot) in self.parameters.iter().zip(&self.parameter_slots) {
                    workspace.put(*slot, case * self.lanes() + lane, parameter.values[lane]);
                }
            }
        }
        workspace.clear_evidence(self);
        workspace
    }

    /// Sets one changeable number in one lane (0 in a network without lanes), for all cases.
    pub fn set_parameter(
        &self,
        workspace: &mut Workspace,
        id: ParameterId,
        lane: usize,
        value: f64,
    ) {
        for case in 0..workspace.batch {
            let at = case * workspace.lanes + lane;
            workspace.put(self.parameter_slots[id.index()], at, value);
        }
        workspace.stale_numbers = true;
    }

    /// Sets one changeable number in all its lanes, for all cases.
    pub fn set_parameter_lanes(&self, workspace: &mut Workspace, id: ParameterId, values: &[f64]) {
        let slot = self.parameter_slots[id.index()];
        for case in 0..workspace.batch {
            workspace.put_lanes(slot, case, values);
        }
        workspace.stale_numbers = true;
    }

    /// Sets all evidence of one case.
    ///
    /// # Errors
    /// [`Error::Likelihood`] when the evidence was made for another network.
    pub fn set_evidence(
        &self,
        workspace: &mut Workspace,
        case: usize,
        evidence: &Evidence,
    ) -> Result<(), Error> {
        workspace.clear_case(self, case);
        for (id, likelihood) in evidence.iter() {
            if self.widths.get(id.index()) != Some(&likelihood.len()) {
                return Err(Error::Likelihood {
                    variable: self
                        .names
                        .get(id.index())
                        .cloned()
                        .unwrap_or_else(|| format!("variable {}", id.index())),
                    message: "was made for another network".into(),
                });
            }
            if Some(id) == self.lane {
                for (lane, weight) in likelihood.iter().enumerate() {
                    workspace.lane_weights[case * workspace.lanes + lane] *= weight;
                }
                continue;
            }
            for (state, weight) in likelihood.iter().enumerate() {
                match self.lane_strides[id.index()] {
                    Some(stride) => {
                        let (above, within) = (state / stride, state % stride);
                        let rest = (above / workspace.lanes) * stride + within;
                        let lane = above % workspace.lanes;
                        self.set_likelihood(workspace, id, rest, case, lane, *weight);
                    }
                    None => {
                        for lane in 0..workspace.lanes {
                            self.set_likelihood(workspace, id, state, case, lane, *weight);
                        }
                    }
                }
            }
        }
        Ok(())
    }

    /// Sets the likelihood of one state of one variable (of one joint parent state, the lane
    /// variable left out, for a likelihood variable) in one lane of one case.
    pub fn set_likelihood(
        &self,
        workspace: &mut Workspace,
        id: VariableId,
        state: usize,
        case: usize,
        lane: usize,
        weight: f64,
    ) {
        if let Some(slot) = self.inputs[id.index()].get(state) {
            workspace.put_if_present(*slot, case * workspace.lanes + lane, weight);
        }
    }

    /// Sets the likelihood of one state of one variable in all lanes of one case alike.
    pub fn set_likelihood_alike(
        &self,
        workspace: &mut Workspace,
        id: VariableId,
        state: usize,
        case: usize,
        weight: f64,
    ) {
        if let Some(slot) = self.inputs[id.index()].get(state)
            && *slot != ABSENT
        {
            workspace.fill_lanes(*slot, case, weight);
        }
    }

    /// The likelihood that stands for one state of one variable in one lane of one case; 1 without
    /// evidence, and for impossible states.
    pub fn input_weight(
        &self,
        workspace: &Workspace,
        case: usize,
        lane: usize,
        id: VariableId,
        state: usize,
    ) -> f64 {
        match self.inputs[id.index()].get(state) {
            Some(slot) if *slot != ABSENT => {
                workspace.slot_value(*slot, case * workspace.lanes + lane)
            }
            _ => 1.0,
        }
    }

    /// Evaluates upward: the probability of the evidence in every lane.
    pub fn value(&self, workspace: &mut Workspace) {
        self.evaluate(workspace);
        self.repeat_scaled(workspace, false);
    }

    /// Evaluates upward, then differentiates downward: afterwards the workspace answers for every
    /// variable, finding and number.
    pub fn derivative(&self, workspace: &mut Workspace) {
        self.evaluate(workspace);
        let (width, slots) = (workspace.width, workspace.slots);
        let blocks = workspace.values.chunks(slots * width);
        for (values, adjoints) in blocks.zip(workspace.adjoints.chunks_mut(slots * width)) {
            match width {
                1 => backward::<1>(self, values.as_chunks().0, adjoints.as_chunks_mut().0),
                _ => backward::<WIDTH>(self, values.as_chunks().0, adjoints.as_chunks_mut().0),
            }
        }
        self.repeat_scaled(workspace, true);
    }

    fn evaluate(&self, workspace: &mut Workspace) {
        let from = if workspace.stale_numbers {
            0
        } else {
            self.prelude
        };
        self.fill(workspace, from..self.steps.len());
        workspace.stale_numbers = false;
    }

    fn fill(&self, workspace: &mut Workspace, places: impl Iterator<Item = usize> + Clone) {
        let (width, slots) = (workspace.width, workspace.slots);
        for block in workspace.values.chunks_mut(slots * width) {
            match width {
                1 => forward::<1>(self, places.clone(), block.as_chunks_mut().0),
                _ => forward::<WIDTH>(self, places.clone(), block.as_chunks_mut().0),
            }
        }
        workspace.exponents.fill(0);
        workspace.exponent = 0;
    }

    /// Evaluates upward again after nothing but the likelihoods of a cone's variables changed since
    /// the last evaluation: the same result as [`value`](Self::value) for a part of the work.
    /// Derivatives are not renewed.
    ///
    /// ```
    /// use oddment_circuit::{Circuit, CompileOptions, Evidence, Network};
    ///
    /// let network = Network::from_json(r#"{
    ///   "name": "two",
    ///   "variables": [
    ///     {"name": "a", "states": ["no", "yes"], "parents": [], "table": [0.7, 0.3]},
    ///     {"name": "b", "states": ["no", "yes"], "parents": ["a"], "table": [0.9, 0.1, 0.2, 0.8]}
    ///   ]
    /// }"#)?;
    /// let circuit = Circuit::compile(&network, &CompileOptions::default())?;
    /// let mut workspace = circuit.workspace(1);
    /// circuit.value(&mut workspace);
    /// let b = network.find("b")?;
    /// let cone = circuit.cone(&[b]);
    /// circuit.set_likelihood(&mut workspace, b, 0, 0, 0, 0.0);
    /// circuit.value_in_cone(&mut workspace, &cone);
    /// assert!((circuit.lane_value(&workspace, 0, 0) - 0.31).abs() < 1e-15);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn value_in_cone(&self, workspace: &mut Workspace, cone: &Cone) {
        if workspace.stale_numbers {
            self.value(workspace);
            return;
        }
        self.fill(workspace, cone.steps.iter().map(|step| *step as usize));
        self.repeat_scaled(workspace, false);
    }

    /// Repeats with scaling the cases whose plain evaluation cannot be trusted.
    fn repeat_scaled(&self, workspace: &mut Workspace, derivative: bool) {
        let mut repeated = false;
        for case in 0..workspace.batch {
            // A lane without weight may be as small as it likes. NaN, which only an overflow can
            // bring about, is outside any range.
            let total: f64 = workspace
                .lanes_of(case)
                .map(|at| workspace.lane_weights[at] * workspace.slot_value(self.root, at))
                .sum();
            if !SAFE_RANGE.contains(&total) {
                evaluate_scaled(self, workspace, case, derivative);
                repeated = true;
            }
        }
        if repeated {
            let possible = (0..workspace.exponents.len())
                .filter(|at| workspace.slot_value(self.root, *at) != 0.0)
                .map(|at| workspace.exponents[at]);
            workspace.exponent = possible.max().unwrap_or(0);
        }
    }

    /// The probability of the evidence in one lane of one case, given that lane, divided by two to
    /// the power [`Workspace::exponent`].
    pub fn lane_value(&self, workspace: &Workspace, case: usize, lane: usize) -> f64 {
        workspace.read_scaled(&workspace.values, self.root, case * workspace.lanes + lane)
    }

    /// The natural logarithm of the probability of one case's evidence; negative infinity when it
    /// is impossible.
    pub fn ln_evidence(&self, workspace: &Workspace, case: usize) -> f64 {
        let (total, exponent) = self.total(workspace, case);
        libm::log(total) + f64::from(exponent) * std::f64::consts::LN_2
    }

    /// The probability of the evidence of one case, as a number times a power of two.
    fn total(&self, workspace: &Workspace, case: usize) -> (f64, i32) {
        let weighed = |at: usize| {
            let value = workspace.slot_value(self.root, at);
            (workspace.lane_weights[at] * value, workspace.exponents[at])
        };
        let terms = workspace.lanes_of(case).map(weighed);
        let exponent = largest_exponent(terms.clone());
        (sum_over(terms, exponent), exponent)
    }

    /// The derivative of one lane's value by the likelihood of one state: the joint probability, in
    /// that lane, of the state and all *other* evidence (over two to the power of the exponent).
    /// Needs [`derivative`](Self::derivative).
    pub fn lane_joint(
        &self,
        workspace: &Workspace,
        case: usize,
        lane: usize,
        id: VariableId,
        state: usize,
    ) -> f64 {
        match self.inputs[id.index()].get(state) {
            Some(slot) if *slot != ABSENT => {
                workspace.read_scaled(&workspace.adjoints, *slot, case * workspace.lanes + lane)
            }
            _ => 0.0,
        }
    }

    /// The derivative of one lane's value by one of its numbers. Needs
    /// [`derivative`](Self::derivative).
    pub fn lane_slope(
        &self,
        workspace: &Workspace,
        case: usize,
        lane: usize,
        id: ParameterId,
    ) -> f64 {
        let slot = self.parameter_slots[id.index()];
        workspace.read_scaled(&workspace.adjoints, slot, case * workspace.lanes + lane)
    }

    /// The posterior of one variable's states in one case. Needs
    /// [`derivative`](Self::derivative).
    ///
    /// # Errors
    /// [`Error::Impossible`] when the evidence has probability zero; it names the observed
    /// variables only as far as [`contradiction`](Self::contradiction) is asked.
    pub fn posterior(
        &self,
        workspace: &Workspace,
        case: usize,
        id: VariableId,
    ) -> Result<Vec<f64>, Error> {
        self.distribution_of(workspace, case, id, true)
    }

    /// As [`posterior`](Self::posterior), with the variable's own evidence withdrawn.
    ///
    /// # Errors
    /// [`Error::Impossible`] when all other evidence together is impossible.
    pub fn posterior_withdrawn(
        &self,
        workspace: &Workspace,
        case: usize,
        id: VariableId,
    ) -> Result<Vec<f64>, Error> {
        self.distribution_of(workspace, case, id, false)
    }

    fn distribution_of(
        &self,
        workspace: &Workspace,
        case: usize,
        id: VariableId,
        own_evidence: bool,
    ) -> Result<Vec<f64>, Error> {
        let is_lane = Some(id) == self.lane;
        let states = if is_lane {
            workspace.lanes
        } else {
            self.inputs[id.index()].len()
        };
        // One lane's part of a state's joint, over two to the power of the lane's exponent.
        let term = |state: usize, lane: usize| {
            let at = case * workspace.lanes + lane;
            let joint = if is_lane {
                let weight = if own_evidence {
                    workspace.lane_weights[at]
                } else {
                    self.lane_prior[lane]
                };
                weight * workspace.slot_value(self.root, at)
            } else {
                let slot = self.inputs[id.index()][state];
                if slot == ABSENT {
                    return (0.0, 0);
                }
                let weight = if own_evidence {
                    workspace.slot_value(slot, at)
                } else {
                    1.0
                };
                workspace.lane_weights[at] * weight * workspace.read(&workspace.adjoints, slot, at)
            };
            (joint, workspace.exponents[at])
        };
        let terms = |state: usize| {
            let lanes = if is_lane {
                state..state + 1
            } else {
                0..workspace.lanes
            };
            lanes.map(move |lane| term(state, lane))
        };
        let exponent = largest_exponent((0..states).flat_map(terms));
        let mut joint: Vec<f64> = (0..states)
            .map(|state| sum_over(terms(state), exponent))
            .collect();
        let total: f64 = joint.iter().sum();
        if total <= 0.0 {
            return Err(Error::Impossible {
                contradiction: Vec::new(),
            });
        }
        for entry in &mut joint {
            *entry /= total;
        }
        Ok(joint)
    }

    /// A minimal set of observed variables that cannot be true together, by withdrawing one after
    /// another for as long as the rest stays impossible; `None` when the evidence is possible.
    ///
    /// # Errors
    /// [`Error::Likelihood`] when the evidence was made for another network.
    pub fn contradiction(&self, evidence: &Evidence) -> Result<Option<Vec<VariableId>>, Error> {
        let mut workspace = self.workspace(1);
        let mut impossible = |evidence: &Evidence| -> Result<bool, Error> {
            self.set_evidence(&mut workspace, 0, evidence)?;
            self.value(&mut workspace);
            Ok(self.total(&workspace, 0).0 <= 0.0)
        };
        if !impossible(evidence)? {
            return Ok(None);
        }
        let mut kept = evidence.clone();
        for (id, _) in evidence.iter() {
            let mut fewer = kept.clone();
            fewer.withdraw(id);
            if impossible(&fewer)? {
                kept = fewer;
            }
        }
        let minimal = kept.iter().map(|(id, _)| id).collect();
        Ok(Some(minimal))
    }
}

impl Workspace {
    /// The power of two by which stored values and derivatives must be multiplied; 0 unless the
    /// plain evaluation underflowed.
    pub fn exponent(&self) -> i32 {
        self.exponent
    }

    /// Number of cases side by side.
    pub fn batch(&self) -> usize {
        self.batch
    }

    /// Withdraws all evidence of all cases.
    pub fn clear_evidence(&mut self, circuit: &Circuit) {
        for case in 0..self.batch {
            self.clear_case(circuit, case);
        }
    }

    fn clear_case(&mut self, circuit: &Circuit, case: usize) {
        for lane in self.lanes_of(case) {
            for slot in circuit.inputs.iter().flatten() {
                self.put_if_present(*slot, lane, 1.0);
            }
            self.lane_weights[lane] = circuit.lane_prior[lane % self.lanes];
        }
    }

    fn place(&self, slot: u32, lane: usize) -> usize {
        // The width is 1 or a power of two known beforehand: no division is needed.
        if self.width == 1 {
            return lane * self.slots + slot as usize;
        }
        let (block, within) = (lane / WIDTH, lane % WIDTH);
        (block * self.slots + slot as usize) * WIDTH + within
    }

    fn put(&mut self, slot: u32, lane: usize, value: f64) {
        let place = self.place(slot, lane);
        self.values[place] = value;
    }

    /// Whether every case fills whole blocks.
    fn is_blocked(&self) -> bool {
        self.width == WIDTH && self.lanes.is_multiple_of(WIDTH)
    }

    /// Puts one value into each lane of a case.
    fn put_lanes(&mut self, slot: u32, case: usize, values: &[f64]) {
        let first = case * self.lanes;
        if self.is_blocked() {
            for (block, values) in values.chunks_exact(WIDTH).enumerate() {
                let place = self.place(slot, first + block * WIDTH);
                self.values[place..place + WIDTH].copy_from_slice(values);
            }
        } else {
            for (lane, value) in values.iter().enumerate().take(self.lanes) {
                self.put(slot, first + lane, *value);
            }
        }
    }

    /// Puts the same value into each lane of a case.
    fn fill_lanes(&mut self, slot: u32, case: usize, value: f64) {
        let first = case * self.lanes;
        if self.is_blocked() {
            for block in 0..self.lanes / WIDTH {
                let place = self.place(slot, first + block * WIDTH);
                self.values[place..place + WIDTH].fill(value);
            }
        } else {
            for lane in 0..self.lanes {
                self.put(slot, first + lane, value);
            }
        }
    }

    fn put_if_present(&mut self, slot: u32, lane: usize, value: f64) {
        if slot != ABSENT {
            self.put(slot, lane, value);
        }
    }

    fn read(&self, from: &[f64], slot: u32, lane: usize) -> f64 {
        from[self.place(slot, lane)]
    }

    /// As [`read`](Self::read), over two to the power of the common exponent.
    fn read_scaled(&self, from: &[f64], slot: u32, lane: usize) -> f64 {
        shifted(
            self.read(from, slot, lane),
            self.exponents[lane],
            self.exponent,
        )
    }

    /// The lanes of one case.
    pub(crate) fn lanes_of(&self, case: usize) -> std::ops::Range<usize> {
        case * self.lanes..(case + 1) * self.lanes
    }

    pub(crate) fn slot_value(&self, slot: u32, lane: usize) -> f64 {
        self.read(&self.values, slot, lane)
    }

    pub(crate) fn store_adjoint(&mut self, slot: u32, lane: usize, adjoint: f64) {
        let place = self.place(slot, lane);
        self.adjoints[place] = adjoint;
    }

    pub(crate) fn store_value(&mut self, slot: u32, lane: usize, value: f64, exponent: i32) {
        self.put(slot, lane, value);
        self.exponents[lane] = exponent;
    }
}

/// A number over one power of two as a number over another.
fn shifted(value: f64, from: i32, to: i32) -> f64 {
    if from == to {
        value
    } else {
        libm::ldexp(value, from.saturating_sub(to))
    }
}

/// The largest exponent of the terms that are not zero.
fn largest_exponent(terms: impl Iterator<Item = (f64, i32)>) -> i32 {
    let exponents = terms
        .filter(|(value, _)| *value != 0.0)
        .map(|(_, exponent)| exponent);
    exponents.max().unwrap_or(0)
}

/// The sum of terms, over two to the power of one exponent.
fn sum_over(terms: impl Iterator<Item = (f64, i32)>, exponent: i32) -> f64 {
    terms
        .map(|(value, own)| shifted(value, own, exponent))
        .sum()
}
