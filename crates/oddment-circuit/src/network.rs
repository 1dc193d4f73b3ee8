//! Discrete networks: named variables, named states, and how each depends on its parents.

use crate::error::Error;

/// How far a row of probabilities may miss a sum of one.
///
/// Not zero, because decimal rows seldom add up exactly in binary:
/// `0.04 + 0.04 + 0.82 + 0.10` is `0.9999999999999999`.
pub const ROW_SUM_TOLERANCE: f64 = 1e-9;

/// The most states one variable may have.
pub const MAX_STATES: usize = 65_535;

/// The most variables one network may have.
pub const MAX_VARIABLES: usize = 20_000;

/// A variable's place in its network.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct VariableId(pub(crate) u32);

impl VariableId {
    /// The place as an index into [`Network::variables`].
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// How a variable depends on its parents.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Distribution {
    /// A conditional probability table, flat: the first parent slowest, the variable's own state
    /// fastest; every row sums to one within [`ROW_SUM_TOLERANCE`].
    Table(Vec<f64>),
    /// Independent causes of which the strongest shows, then blanked by hiding parents.
    NoisyMax(NoisyMax),
    /// Takes the state of one parent, or is drawn anew.
    Copying(Copying),
    /// No states of its own: a likelihood over the joint states of the parents, supplied with the
    /// evidence (all ones until then). Used for measurements.
    Likelihood,
}

/// A graded effect with independent causes: the strongest contribution shows, and hiding parents
/// may blank it to the lowest state.
///
/// ```text
/// P(state <= l | parents) = 1 - (1 - F_base(l) * prod_k F_k(l)) * prod_k (1 - r_k),   l < L
/// ```
///
/// where `L` is the highest state, `F_base` the contribution that the base parents determine,
/// `F_k` that of cause `k` in its present state, and `r_k` the chance that hiding parent `k` in its
/// present state blanks the effect to state 0.
#[derive(Debug, Clone, PartialEq)]
pub struct NoisyMax {
    /// The parents that determine the base contribution (a subset of the variable's parents).
    pub base_parents: Vec<VariableId>,
    /// `F_base(l)` for `l < L`, flat: the first base parent slowest, the level fastest.
    pub base: Vec<f64>,
    /// Parents that add a contribution.
    pub causes: Vec<Cause>,
    /// Parents that can blank the effect.
    pub hides: Vec<Hide>,
}

/// A cause in a [`NoisyMax`].
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    /// The parent.
    pub parent: VariableId,
    /// `F(l)` for `l < L`, flat: the parent's state slowest, the level fastest.
    pub cumulative: Vec<f64>,
}

/// A hiding parent in a [`NoisyMax`].
#[derive(Debug, Clone, PartialEq)]
pub struct Hide {
    /// The parent.
    pub parent: VariableId,
    /// The chance of blanking, one for each state of the parent.
    pub blank: Vec<f64>,
}

/// A variable that takes its source's state with some probability and is otherwise drawn from a
/// distribution of its own.
///
/// ```text
/// P(x | source = y) = share * [x = y] + (1 - share) * own(x)
/// ```
///
/// `share` and `own` may depend on the lane variable and on nothing else.
#[derive(Debug, Clone, PartialEq)]
pub struct Copying {
    /// The parent whose state may be taken; it has the same number of states.
    pub source: VariableId,
    /// The probability of taking it: one number, or one for each state of the lane variable.
    pub share: Vec<f64>,
    /// The own distribution: one row, or one for each state of the lane variable.
    pub own: Vec<f64>,
}

/// A named variable with its states, parents and distribution.
#[derive(Debug, Clone, PartialEq)]
pub struct Variable {
    /// Unique in the network.
    pub name: String,
    /// Unique in the variable, in an order that is never changed; empty for
    /// [`Distribution::Likelihood`].
    pub states: Vec<String>,
    /// Earlier or later variables; no cycles.
    pub parents: Vec<VariableId>,
    /// How it depends on them.
    pub distribution: Distribution,
}

/// A validated network.
///
/// ```
/// use oddment_circuit::{Distribution, NetworkBuilder};
/// let mut builder = NetworkBuilder::new("coin");
/// let bias = builder.variable("bias", &["fair", "loaded"], &[], Distribution::Table(vec![0.9, 0.1]))?;
/// builder.variable("toss", &["head", "tail"], &[bias], Distribution::Table(vec![0.5, 0.5, 0.9, 0.1]))?;
/// let network = builder.finish()?;
/// assert_eq!(network.variables().len(), 2);
/// # Ok::<(), oddment_circuit::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Network {
    name: String,
    variables: Vec<Variable>,
    lane: Option<VariableId>,
}

impl Network {
    /// The network's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// All variables, in declared order.
    pub fn variables(&self) -> &[Variable] {
        &self.variables
    }

    /// The variable behind an id of this network.
    ///
    /// # Panics
    /// When the id belongs to a larger network.
    pub fn variable(&self, id: VariableId) -> &Variable {
        &self.variables[id.index()]
    }

    /// The lane variable, if the network has one.
    pub fn lane(&self) -> Option<VariableId> {
        self.lane
    }

    /// All ids, in declared order.
    pub fn ids(&self) -> impl Iterator<Item = VariableId> + use<> {
        (0..self.variables.len() as u32).map(VariableId)
    }

    /// Finds a variable by name.
    ///
    /// # Errors
    /// [`Error::UnknownVariable`] with the nearest names.
    pub fn find(&self, name: &str) -> Result<VariableId, Error> {
        match self
            .variables
            .iter()
            .position(|variable| variable.name == name)
        {
            Some(index) => Ok(VariableId(index as u32)),
            None => Err(Error::UnknownVariable {
                name: name.to_owned(),
                nearest: crate::error::nearest_names(
                    name,
                    self.variables.iter().map(|variable| variable.name.as_str()),
                ),
            }),
        }
    }

    /// Finds a state of a variable by name.
    ///
    /// # Errors
    /// [`Error::UnknownState`] with the valid states.
    pub fn find_state(&self, id: VariableId, state: &str) -> Result<usize, Error> {
        let variable = self.variable(id);
        variable
            .states
            .iter()
            .position(|name| name == state)
            .ok_or_else(|| Error::UnknownState {
                variable: variable.name.clone(),
                state: state.to_owned(),
                states: variable.states.clone(),
            })
    }

    /// The number of joint states of a list of variables, or `None` when it overflows.
    pub(crate) fn joint_states(&self, ids: &[VariableId]) -> Option<usize> {
        ids.iter().try_fold(1_usize, |size, id| {
            size.checked_mul(self.variable(*id).states.len().max(1))
        })
    }

    /// The conditional probability table that a variable's distribution amounts to, flat as in
    /// [`Distribution::Table`]; `None` for [`Distribution::Likelihood`].
    ///
    /// # Errors
    /// [`Error::Network`] when the table would have more than `limit` entries.
    pub fn expanded_table(&self, id: VariableId, limit: usize) -> Result<Option<Vec<f64>>, Error> {
        let variable = self.variable(id);
        let own = variable.states.len();
        let size = self
            .joint_states(&variable.parents)
            .and_then(|size| size.checked_mul(own))
            .filter(|size| *size <= limit)
            .ok_or_else(|| Error::Network {
                variable: variable.name.clone(),
                message: format!("its table would have more than {limit} entries"),
            })?;
        match &variable.distribution {
            Distribution::Table(table) => return Ok(Some(table.clone())),
            Distribution::Likelihood => return Ok(None),
            Distribution::NoisyMax(_) | Distribution::Copying(_) => {}
        }
        let sizes: Vec<usize> = variable
            .parents
            .iter()
            .map(|parent| self.variable(*parent).states.len())
            .collect();
        let mut table = Vec::with_capacity(size);
        let mut assignment = vec![0_usize; sizes.len()];
        loop {
            table.extend(self.row(id, |parent| {
                let place = variable.parents.iter().position(|own| *own == parent);
                place.map_or(0, |place| assignment[place])
            }));
            if !crate::factor::advance(&mut assignment, &sizes) {
                return Ok(Some(table));
            }
        }
    }

    /// The distribution of one variable's states, given the states of its parents; empty for
    /// [`Distribution::Likelihood`].
    ///
    /// # Panics
    /// When a parent is given a state that it does not have.
    pub fn row(&self, id: VariableId, state_of: impl Fn(VariableId) -> usize) -> Vec<f64> {
        let variable = self.variable(id);
        let own = variable.states.len();
        let joint = |parents: &[VariableId]| {
            parents.iter().fold(0, |row, parent| {
                row * self.variable(*parent).states.len() + state_of(*parent)
            })
        };
        match &variable.distribution {
            Distribution::Likelihood => Vec::new(),
            Distribution::Table(table) => {
                let row = joint(&variable.parents);
                table[row * own..(row + 1) * own].to_vec()
            }
            Distribution::Copying(copying) => {
                let lane = self.lane.map_or(0, &state_of);
                let share = copying.share[if copying.share.len() > 1 { lane } else { 0 }];
                let row = if copying.own.len() > own { lane } else { 0 };
                let source = state_of(copying.source);
                (0..own)
                    .map(|state| {
                        let taken = if state == source { share } else { 0.0 };
                        taken + (1.0 - share) * copying.own[row * own + state]
                    })
                    .collect()
            }
            Distribution::NoisyMax(noisy) => {
                let levels = own - 1;
                let row = joint(&noisy.base_parents);
                let keep: f64 = noisy
                    .hides
                    .iter()
                    .map(|hide| 1.0 - hide.blank[state_of(hide.parent)])
                    .product();
                let upto = |level: usize| {
                    let base = noisy.base[row * levels + level];
                    noisy.causes.iter().fold(base, |product, cause| {
                        product * cause.cumulative[state_of(cause.parent) * levels + level]
                    })
                };
                let mut below = 0.0;
                (0..own)
                    .map(|level| {
                        let upto = if level < levels { upto(level) } else { 1.0 };
                        let hidden = if level == 0 { 1.0 - keep } else { 0.0 };
                        let chance = hidden + keep * (upto - below);
                        below = upto;
                        chance
                    })
                    .collect()
            }
        }
    }
}

/// Builds a [`Network`] variable by variable, checking each as it comes.
#[derive(Debug, Clone)]
pub struct NetworkBuilder {
    network: Network,
}

impl NetworkBuilder {
    /// Starts an empty network.
    pub fn new(name: impl Into<String>) -> Self {
        Self {
            network: Network {
                name: name.into(),
                variables: Vec::new(),
                lane: None,
            },
        }
    }

    /// Adds a variable whose parents are already there; the distribution is checked at
    /// [`finish`](Self::finish).
    ///
    /// # Errors
    /// [`Error::Network`] for a name already taken.
    pub fn variable(
        &mut self,
        name: impl Into<String>,
        states: &[impl AsRef<str>],
        parents: &[VariableId],
        distribution: Distribution,
    ) -> Result<VariableId, Error> {
        let states = states
            .iter()
            .map(|state| state.as_ref().to_owned())
            .collect();
        let id = self.declare(name.into(), states)?;
        self.define(id, parents.to_vec(), distribution);
        Ok(id)
    }

    /// Marks the variable that the circuit is compiled conditional on, one lane for each of its
    /// states. It must have no parents and a plain table.
    pub fn lane(&mut self, id: VariableId) {
        self.network.lane = Some(id);
    }

    pub(crate) fn declare(
        &mut self,
        name: String,
        states: Vec<String>,
    ) -> Result<VariableId, Error> {
        let id = VariableId(self.network.variables.len() as u32);
        self.network.variables.push(Variable {
            name,
            states,
            parents: Vec::new(),
            distribution: Distribution::Likelihood,
        });
        Ok(id)
    }

    pub(crate) fn define(
        &mut self,
        id: VariableId,
        parents: Vec<VariableId>,
        distribution: Distribution,
    ) {
        let variable = &mut self.network.variables[id.index()];
        variable.parents = parents;
        variable.distribution = distribution;
    }

    pub(crate) fn find(&self, name: &str) -> Result<VariableId, Error> {
        self.network.find(name)
    }

    /// Checks everything and returns the network.
    ///
    /// # Errors
    /// [`Error::Network`] or [`Error::Whole`] for the first rule broken.
    pub fn finish(self) -> Result<Network, Error> {
        let network = self.network;
        if network.variables.is_empty() {
            return Err(Error::Whole {
                message: "has no variables; give at least one".into(),
            });
        }
        if network.variables.len() > MAX_VARIABLES {
            let message = format!(
                "has {} variables, at most {MAX_VARIABLES} are allowed",
                network.variables.len()
            );
            return Err(Error::Whole { message });
        }
        let mut names = std::collections::BTreeSet::new();
        for variable in &network.variables {
            if variable.name.is_empty() {
                return Err(Error::Whole {
                    message: "a variable has an empty name; give it one".into(),
                });
            }
            if !names.insert(variable.name.as_str()) {
                return Err(fault(
                    variable,
                    "is declared twice; names must be unique".into(),
                ));
            }
        }
        if network
            .lane
            .is_some_and(|lane| lane.index() >= network.variables.len())
        {
            return Err(Error::Whole {
                message: "the lane variable is from another network".into(),
            });
        }
        for id in network.ids() {
            check_variable(&network, id)?;
        }
        check_acyclic(&network)?;
        if let Some(lane) = network.lane {
            let variable = network.variable(lane);
            if !variable.parents.is_empty()
                || !matches!(variable.distribution, Distribution::Table(_))
            {
                return Err(fault(
                    variable,
                    "is the lane variable and must have a plain table and no parents".into(),
                ));
            }
        }
        Ok(network)
    }
}

fn fault(variable: &Variable, message: String) -> Error {
    Error::Network {
        variable: variable.name.clone(),
        message,
    }
}

fn check_variable(network: &Network, id: VariableId) -> Result<(), Error> {
    let variable = network.variable(id);
    let bad = |message: String| Err(fault(variable, message));
    let mut states = std::collections::BTreeSet::new();
    if let Some(again) = variable.states.iter().find(|state| !states.insert(*state)) {
        return bad(format!(
            "has the state `{again}` twice; states must be unique"
        ));
    }
    if variable.states.len() > MAX_STATES {
        return bad(format!(
            "has {} states, at most {MAX_STATES} are allowed",
            variable.states.len()
        ));
    }
    let mut parents = std::collections::BTreeSet::new();
    for parent in &variable.parents {
        if parent.index() >= network.variables.len() {
            return bad("has a parent from another network".into());
        }
        if !parents.insert(*parent) {
            return bad(format!(
                "has the parent `{}` twice; name each once",
                network.variable(*parent).name
            ));
        }
        if network.variable(*parent).states.is_empty() {
            return bad(format!(
                "has the parent `{}`, which has no states to depend on",
                network.variable(*parent).name
            ));
        }
    }
    let own = variable.states.len();
    if own == 0 && !matches!(variable.distribution, Distribution::Likelihood) {
        return bad("has no states; give at least one".into());
    }
    let rows = |parents: &[VariableId]| {
        network.joint_states(parents).ok_or_else(|| {
            fault(
                variable,
                "has more joint parent states than can be counted".into(),
            )
        })
    };
    match &variable.distribution {
        Distribution::Table(table) => {
            rows(&variable.parents)?;
            let row = Rows {
                network,
                variable,
                field: "`table`".into(),
                parents: &variable.parents,
            };
            row.check_sums(table, own)
        }
        Distribution::Likelihood => {
            if own > 0 {
                return bad(format!(
                    "is a likelihood and must have no states, has {own}"
                ));
            }
            rows(&variable.parents).map(|_| ())
        }
        Distribution::Copying(copying) => {
            if copying.source == id || !variable.parents.contains(&copying.source) {
                return bad(format!(
                    "copies {}, which is not among its parents",
                    network.quoted(copying.source)
                ));
            }
            if Some(copying.source) == network.lane {
                return bad(format!(
                    "copies the lane variable {}; give it a table instead",
                    network.quoted(copying.source)
                ));
            }
            for parent in &variable.parents {
                if *parent != copying.source && Some(*parent) != network.lane {
                    return bad(format!(
                        "copies, so its parents may only be its source and the lane variable, not {}",
                        network.quoted(*parent)
                    ));
                }
            }
            let source = network.variable(copying.source).states.len();
            if source != own {
                return bad(format!(
                    "has {own} states and copies {}, which has {source}; they must have as many",
                    network.quoted(copying.source)
                ));
            }
            let by_lane: Vec<VariableId> = network
                .lane
                .filter(|lane| variable.parents.contains(lane))
                .into_iter()
                .collect();
            let row = |field: &str| Rows {
                network,
                variable,
                field: format!("`{field}`"),
                parents: &by_lane,
            };
            row("share").check_numbers(&copying.share, 1)?;
            row("own").check_sums(&copying.own, own)
        }
        Distribution::NoisyMax(noisy) => check_noisy_max(network, variable, noisy, own),
    }
}

fn check_noisy_max(
    network: &Network,
    variable: &Variable,
    noisy: &NoisyMax,
    own: usize,
) -> Result<(), Error> {
    let bad = |message: String| Err(fault(variable, message));
    if own < 2 {
        return bad(format!(
            "is a noisy-max with {own} state; it needs at least two"
        ));
    }
    let levels = own - 1;
    let mut base = std::collections::BTreeSet::new();
    if let Some(again) = noisy.base_parents.iter().find(|id| !base.insert(**id)) {
        return bad(format!(
            "has the base parent {} twice; name each once",
            network.quoted(*again)
        ));
    }
    let parents: std::collections::BTreeSet<VariableId> =
        variable.parents.iter().copied().collect();
    let mut seen = std::collections::BTreeSet::new();
    let causes = noisy.causes.iter().map(|cause| cause.parent);
    let hides = noisy.hides.iter().map(|hide| hide.parent);
    for used in base.into_iter().chain(causes).chain(hides) {
        if !parents.contains(&used) {
            return bad(format!(
                "uses {}, which is not among its parents",
                network.quoted(used)
            ));
        }
        seen.insert(used);
    }
    if let Some(idle) = parents.difference(&seen).next() {
        return bad(format!(
            "has the parent {}, which is neither base parent, cause nor hide",
            network.quoted(*idle)
        ));
    }
    let rows = Rows {
        network,
        variable,
        field: "`base`".into(),
        parents: &noisy.base_parents,
    };
    rows.check_rising(&noisy.base, levels)?;
    for cause in &noisy.causes {
        let field = format!("`cumulative` of cause {}", network.quoted(cause.parent));
        let parents = &[cause.parent];
        let rows = Rows {
            field,
            parents,
            ..rows
        };
        rows.check_rising(&cause.cumulative, levels)?;
    }
    for hide in &noisy.hides {
        let field = format!("`blank` of hide {}", network.quoted(hide.parent));
        let parents = &[hide.parent];
        let rows = Rows {
            field,
            parents,
            ..rows
        };
        rows.check_numbers(&hide.blank, 1)?;
    }
    Ok(())
}

/// A field of numbers, in rows by the joint states of some variables, while it is checked.
struct Rows<'a> {
    network: &'a Network,
    variable: &'a Variable,
    /// As it is called in messages.
    field: String,
    parents: &'a [VariableId],
}

impl Rows<'_> {
    fn fault<T>(&self, message: String) -> Result<T, Error> {
        Err(fault(self.variable, format!("{}{message}", self.field)))
    }

    /// Which row is meant, in words.
    fn row(&self, mut row: usize) -> String {
        let mut states = Vec::new();
        for parent in self.parents.iter().rev() {
            let parent = self.network.variable(*parent);
            let state = row % parent.states.len();
            row /= parent.states.len();
            states.push(format!("`{}` = `{}`", parent.name, parent.states[state]));
        }
        states.reverse();
        match states.len() {
            0 => String::new(),
            1..=8 => format!(" for {}", states.join(", ")),
            _ => format!(" for {}, ...", states[..8].join(", ")),
        }
    }

    /// As many numbers as there must be, and all of them probabilities.
    fn check_numbers(&self, numbers: &[f64], width: usize) -> Result<(), Error> {
        let joint = self.network.joint_states(self.parents);
        let Some(expected) = joint.and_then(|rows| rows.checked_mul(width)) else {
            return self.fault(" would have more numbers than can be counted".into());
        };
        let given = numbers.len();
        if given != expected {
            return self.fault(format!(" has length {given}, must be {expected}"));
        }
        match numbers
            .iter()
            .position(|number| !(0.0..=1.0).contains(number))
        {
            Some(place) => self.fault(format!(
                " number {} of {expected} is {}, must lie in [0, 1]",
                place + 1,
                numbers[place]
            )),
            None => Ok(()),
        }
    }

    /// Rows that are distributions.
    fn check_sums(&self, numbers: &[f64], width: usize) -> Result<(), Error> {
        self.check_numbers(numbers, width)?;
        for (row, entries) in numbers.chunks(width).enumerate() {
            let sum: f64 = entries.iter().sum();
            if (sum - 1.0).abs() > ROW_SUM_TOLERANCE {
                let row = self.row(row);
                return self.fault(format!(
                    "{row} sums to {sum}, must be 1 within {ROW_SUM_TOLERANCE:e}"
                ));
            }
        }
        Ok(())
    }

    /// Rows of cumulative probabilities.
    fn check_rising(&self, numbers: &[f64], width: usize) -> Result<(), Error> {
        self.check_numbers(numbers, width)?;
        for (row, entries) in numbers.chunks(width).enumerate() {
            if let Some(pair) = entries.windows(2).find(|pair| pair[0] > pair[1]) {
                let row = self.row(row);
                return self.fault(format!(
                    "{row} falls from {} to {}; cumulative probabilities must not fall",
                    pair[0], pair[1]
                ));
            }
        }
        Ok(())
    }
}

fn check_acyclic(network: &Network) -> Result<(), Error> {
    let count = network.variables.len();
    let mut waiting: Vec<usize> = network
        .variables
        .iter()
        .map(|variable| variable.parents.len())
        .collect();
    let mut children = vec![Vec::new(); count];
    for id in network.ids() {
        for parent in &network.variable(id).parents {
            children[parent.index()].push(id.index());
        }
    }
    let mut ready: Vec<usize> = (0..count).filter(|index| waiting[*index] == 0).collect();
    let mut done = 0;
    while let Some(index) = ready.pop() {
        done += 1;
        for child in &children[index] {
            waiting[*child] -= 1;
            if waiting[*child] == 0 {
                ready.push(*child);
            }
        }
    }
    if done == count {
        return Ok(());
    }
    // Whatever still waits has a parent that waits, and so this walk ends in a cycle.
    let waits = |index: &usize| waiting[*index] > 0;
    let mut place = vec![None; count];
    let mut path = Vec::new();
    let mut next = (0..count).find(waits);
    while let Some(index) = next {
        if let Some(start) = place[index] {
            return Err(cycle(network, &path[start..]));
        }
        place[index] = Some(path.len());
        path.push(index);
        let parents = network.variables[index].parents.iter();
        next = parents.map(|parent| parent.index()).find(waits);
    }
    Ok(())
}

/// The error for a cycle, each of its variables a parent of the one before.
fn cycle(network: &Network, path: &[usize]) -> Error {
    let names = path[1..]
        .iter()
        .map(|index| network.variables[*index].name.as_str());
    let through: Vec<String> = names.take(5).map(|name| format!("`{name}`")).collect();
    let through = match path.len() {
        1 => String::new(),
        2..=6 => format!(" through {}", through.join(", ")),
        _ => format!(" through {}, ...", through.join(", ")),
    };
    let message = format!("depends on itself{through}; parents must not depend on their children");
    fault(&network.variables[path[0]], message)
}

impl Network {
    /// A variable's name as it stands in messages.
    fn quoted(&self, id: VariableId) -> String {
        match self.variables.get(id.index()) {
            Some(variable) => format!("`{}`", variable.name),
            None => "a variable of another network".into(),
        }
    }
}
