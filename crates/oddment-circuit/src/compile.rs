//! From network to circuit: symbolic variable elimination over node ids.

use crate::circuit::{Circuit, Parameter, Role};
use crate::error::Error;
use crate::factor::{Factor, advance, eliminate_one};
use crate::network::{Copying, Distribution, Network, NoisyMax, VariableId};
use crate::nodes::{NodeId, Nodes, ONE, ZERO};
use crate::options::CompileOptions;
use crate::order::Graph;
use std::collections::BTreeMap;

/// A noisy-max over more joint parent states than this is broken into a chain.
const NOISY_TABLE_LIMIT: usize = 128;

/// How many times the limit the slots of all lanes together may be.
const MOST_LANE_WORK: f64 = 4.0;

/// A table still to be filled with nodes, and the variables it spans (without the lane variable).
struct Planned {
    scope: Vec<u32>,
    kind: Kind,
}

enum Kind {
    /// The variable's whole conditional distribution.
    Whole(VariableId),
    /// A noisy-max without children, its own states already weighed by their likelihoods.
    Leaf(VariableId),
    /// The likelihood of one variable's states.
    Indicator(VariableId),
    /// First link of a noisy-max chain: the base contribution.
    ChainBase(VariableId),
    /// A cause joining the chain: maximum of the link before and the contribution.
    ChainCause(VariableId, usize),
    /// A hiding parent blanking the chain.
    ChainHide(VariableId, usize),
    /// Whether a copying variable takes its source's state.
    Switch(VariableId),
    /// A copying variable, given the switch.
    Copy(VariableId),
}

struct Compiler<'a> {
    network: &'a Network,
    keep: bool,
    tie: bool,
    /// States of the lane variable, one without it.
    lanes: usize,
    /// The states that each variable, auxiliary ones included, may take.
    domains: Vec<Vec<usize>>,
    /// The state of each variable while a table is filled.
    states: Vec<usize>,
    after: Vec<(u32, u32)>,
    planned: Vec<Planned>,
    nodes: Nodes,
    parameters: BTreeMap<(VariableId, Role, usize), (NodeId, Parameter)>,
    /// With ties, the node of each set of values that a distribution has shown so far.
    tied: BTreeMap<(VariableId, Role, Vec<u64>), NodeId>,
    inputs: Vec<Vec<NodeId>>,
}

impl Circuit {
    /// Compiles a network into a circuit that answers every query about it.
    ///
    /// # Errors
    /// [`Error::TooLarge`] with the size estimate, before any work, when the circuit would exceed
    /// the limit.
    pub fn compile(network: &Network, options: &CompileOptions<'_>) -> Result<Self, Error> {
        let lanes = network
            .lane()
            .map_or(1, |lane| network.variable(lane).states.len());
        let domains = network
            .ids()
            .map(|id| {
                let states = 0..network.variable(id).states.len();
                match options.evidence.and_then(|evidence| evidence.get(id)) {
                    Some(likelihood) => states.filter(|state| likelihood[*state] > 0.0).collect(),
                    None => states.collect(),
                }
            })
            .collect();
        let mut compiler = Compiler {
            network,
            keep: options.keep_parameters,
            tie: options.tie_equal,
            lanes,
            domains,
            states: Vec::new(),
            after: Vec::new(),
            planned: Vec::new(),
            nodes: Nodes::new(options.limit),
            parameters: BTreeMap::new(),
            tied: BTreeMap::new(),
            inputs: vec![Vec::new(); network.variables().len()],
        };
        compiler.plan();
        let sequence = compiler.order(options.limit)?;
        check_likelihoods(network, options.limit)?;
        let root = compiler.eliminate(&sequence)?;
        let parameters = compiler.parameters.into_values().collect();
        let nodes = &compiler.nodes;
        let circuit = Circuit::assemble(network, nodes, root, parameters, &compiler.inputs);
        // Every lane does the work and holds the slots over again.
        let work = circuit.slots() as f64 * lanes as f64;
        if lanes > 1 && work > MOST_LANE_WORK * options.limit as f64 {
            return Err(Error::TooLarge {
                log10_operations: libm::log10(work),
                limit: options.limit,
            });
        }
        Ok(circuit)
    }
}

impl Compiler<'_> {
    fn without_lane(&self, ids: impl IntoIterator<Item = VariableId>) -> Vec<u32> {
        let lane = self.network.lane();
        let mut scope: Vec<u32> = ids
            .into_iter()
            .filter(|id| Some(*id) != lane)
            .map(|id| id.0)
            .collect();
        scope.sort_unstable();
        scope.dedup();
        scope
    }

    fn auxiliary(&mut self, states: usize) -> u32 {
        self.domains.push((0..states).collect());
        self.domains.len() as u32 - 1
    }

    fn plan(&mut self) {
        let network = self.network;
        let mut has_children = vec![false; network.variables().len()];
        for parent in network
            .variables()
            .iter()
            .flat_map(|variable| &variable.parents)
        {
            has_children[parent.index()] = true;
        }
        for id in network.ids() {
            let variable = network.variable(id);
            if Some(id) == network.lane() {
                continue;
            }
            match &variable.distribution {
                Distribution::NoisyMax(noisy) => {
                    if self.plan_noisy_max(id, noisy, !has_children[id.index()]) {
                        continue;
                    }
                }
                Distribution::Copying(copying) => {
                    let switch = self.auxiliary(2);
                    // Summing the switch first would tie every state to every state of the source.
                    self.after.push((switch, id.0));
                    self.planned.push(Planned {
                        scope: vec![switch],
                        kind: Kind::Switch(id),
                    });
                    let mut scope = vec![id.0, copying.source.0, switch];
                    scope.sort_unstable();
                    self.planned.push(Planned {
                        scope,
                        kind: Kind::Copy(id),
                    });
                }
                Distribution::Table(_) => {
                    let scope = self.without_lane(variable.parents.iter().copied().chain([id]));
                    self.planned.push(Planned {
                        scope,
                        kind: Kind::Whole(id),
                    });
                }
                Distribution::Likelihood => {
                    let scope = self.without_lane(variable.parents.iter().copied());
                    self.planned.push(Planned {
                        scope,
                        kind: Kind::Whole(id),
                    });
                    continue;
                }
            }
            self.planned.push(Planned {
                scope: vec![id.0],
                kind: Kind::Indicator(id),
            });
        }
    }

    /// Plans a noisy-max; true when its own likelihood is part of what was planned.
    fn plan_noisy_max(&mut self, id: VariableId, noisy: &NoisyMax, leaf: bool) -> bool {
        let variable = self.network.variable(id);
        let scope = self.without_lane(variable.parents.iter().copied());
        let joint = scope.iter().try_fold(1_usize, |size, v| {
            size.checked_mul(self.domains[*v as usize].len())
        });
        let links = noisy.causes.len() + noisy.hides.len();
        if joint.is_some_and(|joint| joint <= NOISY_TABLE_LIMIT) || links == 0 {
            // A domain narrowed by evidence is left to the general form; so are four levels and
            // more, where the steps of a likelihood need not add up to exactly nothing when a lane
            // rules out every level that the likelihood allows.
            let states = variable.states.len();
            if leaf && states <= 3 && self.domains[id.index()].len() == states {
                self.planned.push(Planned {
                    scope,
                    kind: Kind::Leaf(id),
                });
                return true;
            }
            let scope = self.without_lane(variable.parents.iter().copied().chain([id]));
            self.planned.push(Planned {
                scope,
                kind: Kind::Whole(id),
            });
            return false;
        }
        let states = variable.states.len();
        let mut link = self.auxiliary(states);
        let mut scope = self.without_lane(noisy.base_parents.iter().copied());
        scope.push(link);
        self.planned.push(Planned {
            scope,
            kind: Kind::ChainBase(id),
        });
        for place in 0..links {
            let next = if place + 1 == links {
                id.0
            } else {
                self.auxiliary(states)
            };
            let (kind, parent) = match place.checked_sub(noisy.causes.len()) {
                None => (Kind::ChainCause(id, place), noisy.causes[place].parent),
                Some(hide) => (Kind::ChainHide(id, hide), noisy.hides[hide].parent),
            };
            let mut scope = self.without_lane([parent]);
            scope.extend([link, next]);
            scope.sort_unstable();
            // `chain_states` tells the links of a scope apart.
            self.planned.push(Planned { scope, kind });
            link = next;
        }
        false
    }

    fn sizes(&self) -> Vec<usize> {
        self.domains.iter().map(Vec::len).collect()
    }

    fn order(&self, limit: u64) -> Result<Vec<u32>, Error> {
        let scopes = self.planned.iter().map(|planned| planned.scope.clone());
        let mut graph = Graph::new(self.sizes(), scopes);
        for (variable, before) in &self.after {
            graph.after[*variable as usize] = Some(*before);
            let distribution = &self.network.variables()[*before as usize].distribution;
            if let Distribution::Copying(copying) = distribution {
                graph.copies[*before as usize] = Some(copying.source.0);
            }
        }
        let log10_limit = libm::log10(limit.max(1) as f64);
        let order = graph.order(log10_limit);
        // Elimination passes over a copying variable's table cheaply, but the table has to be filled.
        let sizes = self.sizes();
        let tables: f64 = self
            .planned
            .iter()
            .map(|planned| -> f64 {
                let states = planned.scope.iter().map(|v| sizes[*v as usize] as f64);
                states.product()
            })
            .sum();
        let log10_operations = order.log10_operations.max(libm::log10(tables));
        if log10_operations > log10_limit {
            return Err(Error::TooLarge {
                log10_operations,
                limit,
            });
        }
        Ok(order.sequence)
    }

    fn eliminate(&mut self, sequence: &[u32]) -> Result<NodeId, Error> {
        let sizes = self.sizes();
        self.states = vec![0; sizes.len()];
        let mut factors: Vec<Option<Factor>> = Vec::new();
        let mut holders: Vec<Vec<usize>> = vec![Vec::new(); sizes.len()];
        let mut root = ONE;
        for planned in std::mem::take(&mut self.planned) {
            let factor = self.fill(&planned, &sizes);
            self.nodes.check_size()?;
            if factor.scope.is_empty() {
                root = self.nodes.multiply(root, factor.table[0]);
                continue;
            }
            for variable in &factor.scope {
                holders[*variable as usize].push(factors.len());
            }
            factors.push(Some(factor));
        }
        for variable in sequence {
            let bucket: Vec<Factor> = holders[*variable as usize]
                .iter()
                .filter_map(|at| factors[*at].take())
                .collect();
            if bucket.is_empty() {
                // The lane variable and likelihoods, which no table spans.
                continue;
            }
            let factor = eliminate_one(bucket, *variable, &sizes, &mut self.nodes)?;
            if factor.scope.is_empty() {
                root = self.nodes.multiply(root, factor.table[0]);
                continue;
            }
            for variable in &factor.scope {
                holders[*variable as usize].push(factors.len());
            }
            factors.push(Some(factor));
        }
        Ok(root)
    }

    /// Fills a planned table with nodes.
    fn fill(&mut self, planned: &Planned, sizes: &[usize]) -> Factor {
        if planned.scope.iter().any(|v| sizes[*v as usize] == 0) {
            // Evidence rules out every state of a variable: nothing is possible.
            return Factor {
                scope: Vec::new(),
                table: vec![ZERO],
            };
        }
        // A variable of one state binds no factors together; left in the scope it would have all
        // that mention it multiplied into one.
        let scope: Vec<u32> = planned
            .scope
            .iter()
            .copied()
            .filter(|v| sizes[*v as usize] > 1)
            .collect();
        let digits: Vec<usize> = scope.iter().map(|v| sizes[*v as usize]).collect();
        let mut states = std::mem::take(&mut self.states);
        for variable in &planned.scope {
            states[*variable as usize] = self.domains[*variable as usize][0];
        }
        let mut table = Vec::new();
        let mut assignment = vec![0; scope.len()];
        loop {
            for (variable, digit) in scope.iter().zip(&assignment) {
                states[*variable as usize] = self.domains[*variable as usize][*digit];
            }
            table.push(self.entry(planned, &states));
            if !advance(&mut assignment, &digits) {
                break;
            }
        }
        self.states = states;
        Factor { scope, table }
    }

    /// One entry of a planned table, with every variable of its scope in the given state.
    fn entry(&mut self, planned: &Planned, states: &[usize]) -> NodeId {
        let network = self.network;
        let state_of = |variable: u32| states[variable as usize];
        match planned.kind {
            Kind::Indicator(id) => {
                let count = network.variable(id).states.len();
                self.input(id, state_of(id.0), count)
            }
            Kind::Leaf(id) => self.leaf_entry(id, noisy_of(network, id), &state_of),
            Kind::Whole(id) => {
                let variable = network.variable(id);
                match &variable.distribution {
                    Distribution::Table(table) => {
                        let order: Vec<VariableId> =
                            variable.parents.iter().copied().chain([id]).collect();
                        self.number(id, Role::Table, table, &order, &state_of)
                    }
                    Distribution::NoisyMax(noisy) => self.noisy_entry(id, noisy, &state_of),
                    Distribution::Likelihood => {
                        let sizes: Vec<usize> = self.table_sizes(&variable.parents);
                        let index =
                            variable
                                .parents
                                .iter()
                                .zip(&sizes)
                                .fold(0, |index, (v, size)| {
                                    index * size + if *size == 1 { 0 } else { state_of(v.0) }
                                });
                        self.input(id, index, sizes.iter().product())
                    }
                    Distribution::Copying(_) => ZERO,
                }
            }
            Kind::Switch(id) => {
                let Distribution::Copying(Copying { share, .. }) =
                    &network.variable(id).distribution
                else {
                    return ZERO;
                };
                let order = self.lane_order(share.len());
                let share = self.number(id, Role::Share, share, &order, &|_| 0);
                if state_of(planned.scope[0]) == 0 {
                    share
                } else {
                    self.nodes.complement(share)
                }
            }
            Kind::Copy(id) => {
                let Distribution::Copying(copying) = &network.variable(id).distribution else {
                    return ZERO;
                };
                let switch = planned
                    .scope
                    .iter()
                    .find(|v| **v as usize >= network.variables().len())
                    .map_or(0, |v| state_of(*v));
                if switch == 0 {
                    return if state_of(id.0) == state_of(copying.source.0) {
                        ONE
                    } else {
                        ZERO
                    };
                }
                let own = network.variable(id).states.len();
                let mut order = self.lane_order(copying.own.len() / own);
                order.push(id);
                self.number(id, Role::Own, &copying.own, &order, &state_of)
            }
            Kind::ChainBase(id) => {
                let noisy = noisy_of(network, id);
                // The link comes last.
                let level = planned.scope.last().map_or(0, |link| state_of(*link));
                self.level_chance(
                    id,
                    Role::Base,
                    &noisy.base,
                    &noisy.base_parents,
                    level,
                    &state_of,
                )
            }
            Kind::ChainCause(id, place) => {
                let cause = &noisy_of(network, id).causes[place];
                let (before, after, parent) =
                    chain_states(network, id, cause.parent, &planned.scope, states);
                if after < before {
                    return ZERO;
                }
                let fixed = |_: u32| parent;
                let parents = [cause.parent];
                let role = Role::Cause(place);
                if after > before {
                    return self.level_chance(id, role, &cause.cumulative, &parents, after, &fixed);
                }
                // The contribution stays at or below the level already there.
                let levels = network.variable(id).states.len() - 1;
                self.cumulative(id, role, &cause.cumulative, &parents, levels, after, &fixed)
            }
            Kind::ChainHide(id, place) => {
                let hide = &noisy_of(network, id).hides[place];
                let (before, after, parent) =
                    chain_states(network, id, hide.parent, &planned.scope, states);
                let fixed = |_: u32| parent;
                let blank = self.number(id, Role::Hide(place), &hide.blank, &[hide.parent], &fixed);
                match (before, after) {
                    (0, 0) => ONE,
                    (_, 0) => blank,
                    (before, after) if before == after => self.nodes.complement(blank),
                    _ => ZERO,
                }
            }
        }
    }

    fn lane_order(&self, rows: usize) -> Vec<VariableId> {
        self.network
            .lane()
            .filter(|_| rows > 1)
            .into_iter()
            .collect()
    }

    /// The sizes of a table's dimensions with the lane variable's taken as one.
    fn table_sizes(&self, order: &[VariableId]) -> Vec<usize> {
        order
            .iter()
            .map(|id| {
                if Some(*id) == self.network.lane() {
                    1
                } else {
                    self.network.variable(*id).states.len()
                }
            })
            .collect()
    }

    fn input(&mut self, id: VariableId, index: usize, count: usize) -> NodeId {
        let inputs = &mut self.inputs[id.index()];
        if inputs.is_empty() {
            inputs.resize(count, ZERO);
        }
        if inputs[index] == ZERO {
            inputs[index] = self.nodes.input(0);
        }
        inputs[index]
    }

    /// The node of one number: its values in all lanes, at the given states of the other variables
    /// in `order` (slowest first).
    fn number(
        &mut self,
        id: VariableId,
        role: Role,
        numbers: &[f64],
        order: &[VariableId],
        state_of: &impl Fn(u32) -> usize,
    ) -> NodeId {
        let (index, lane_stride) = self.place(order, (0, 1), state_of);
        self.number_at(id, role, numbers, index, lane_stride)
    }

    /// Where a number stands in a table whose dimensions are `order`, slowest first, and then one more
    /// with the given index and size; and how far apart there two lanes lie.
    fn place(
        &self,
        order: &[VariableId],
        (inner, inner_size): (usize, usize),
        state_of: &impl Fn(u32) -> usize,
    ) -> (usize, usize) {
        let (mut index, mut lane_stride, mut stride) = (inner, 0, inner_size);
        for variable in order.iter().rev() {
            if Some(*variable) == self.network.lane() {
                lane_stride = stride;
            } else {
                index += stride * state_of(variable.0);
            }
            stride *= self.network.variable(*variable).states.len();
        }
        (index, lane_stride)
    }

    fn number_at(
        &mut self,
        id: VariableId,
        role: Role,
        numbers: &[f64],
        index: usize,
        lane_stride: usize,
    ) -> NodeId {
        let first = numbers[index];
        let lanes = if lane_stride == 0 { 1 } else { self.lanes };
        let uniform = (0..lanes).all(|lane| numbers[index + lane * lane_stride] == first);
        if uniform && (first == 0.0 || first == 1.0) {
            return if first == 0.0 { ZERO } else { ONE };
        }
        if uniform && !self.keep {
            return self.nodes.constant(first);
        }
        if let Some((node, _)) = self.parameters.get(&(id, role, index)) {
            return *node;
        }
        let values: Vec<f64> = (0..self.lanes)
            .map(|lane| numbers[index + lane * lane_stride])
            .collect();
        let tie = self
            .tie
            .then(|| (id, role, values.iter().map(|v| v.to_bits()).collect()));
        if let Some(node) = tie.as_ref().and_then(|tie| self.tied.get(tie)) {
            return *node;
        }
        let node = self.nodes.parameter(0);
        self.tied.extend(tie.map(|tie| (tie, node)));
        let parameter = Parameter {
            variable: id,
            role,
            index,
            lane_stride,
            values,
        };
        self.parameters.insert((id, role, index), (node, parameter));
        node
    }

    #[allow(clippy::too_many_arguments)]
    fn cumulative(
        &mut self,
        id: VariableId,
        role: Role,
        numbers: &[f64],
        parents: &[VariableId],
        levels: usize,
        level: usize,
        state_of: &impl Fn(u32) -> usize,
    ) -> NodeId {
        if level >= levels {
            return ONE;
        }
        let (index, lane_stride) = self.place(parents, (level, levels), state_of);
        self.number_at(id, role, numbers, index, lane_stride)
    }

    /// The chance that one contribution is exactly at a level.
    fn level_chance(
        &mut self,
        id: VariableId,
        role: Role,
        numbers: &[f64],
        parents: &[VariableId],
        level: usize,
        state_of: &impl Fn(u32) -> usize,
    ) -> NodeId {
        let levels = self.network.variable(id).states.len() - 1;
        let upto = self.cumulative(id, role, numbers, parents, levels, level, state_of);
        match level.checked_sub(1) {
            None => upto,
            Some(below) => {
                let below = self.cumulative(id, role, numbers, parents, levels, below, state_of);
                self.nodes.difference(upto, below)
            }
        }
    }

    /// The chance that nothing hides a noisy-max, given all parents.
    fn kept(
        &mut self,
        id: VariableId,
        noisy: &NoisyMax,
        state_of: &impl Fn(u32) -> usize,
    ) -> NodeId {
        noisy
            .hides
            .iter()
            .enumerate()
            .fold(ONE, |keep, (place, hide)| {
                let role = Role::Hide(place);
                let blank = self.number(id, role, &hide.blank, &[hide.parent], state_of);
                let kept = self.nodes.complement(blank);
                self.nodes.multiply(keep, kept)
            })
    }

    /// The chance that a noisy-max's causes stay at or below a level, given all parents.
    fn caused_upto(
        &mut self,
        id: VariableId,
        noisy: &NoisyMax,
        level: usize,
        state_of: &impl Fn(u32) -> usize,
    ) -> NodeId {
        let levels = self.network.variable(id).states.len() - 1;
        let (base, parents) = (&noisy.base, &noisy.base_parents);
        let start = self.cumulative(id, Role::Base, base, parents, levels, level, state_of);
        noisy
            .causes
            .iter()
            .enumerate()
            .fold(start, |product, (place, cause)| {
                let (role, numbers) = (Role::Cause(place), &cause.cumulative);
                let factor =
                    self.cumulative(id, role, numbers, &[cause.parent], levels, level, state_of);
                self.nodes.multiply(product, factor)
            })
    }

    /// The weight of a childless noisy-max's evidence, given all parents.
    ///
    /// ```text
    /// lambda_L + sum_{l < L} (lambda_l - lambda_{l+1}) P(state <= l)
    /// ```
    fn leaf_entry(
        &mut self,
        id: VariableId,
        noisy: &NoisyMax,
        state_of: &impl Fn(u32) -> usize,
    ) -> NodeId {
        let states = self.network.variable(id).states.len();
        let keep = self.kept(id, noisy, state_of);
        let hidden = self.nodes.complement(keep);
        let mut pairs = Vec::with_capacity(states);
        for level in 0..states {
            let here = self.input(id, level, states);
            let upto = if level + 1 == states {
                ONE
            } else {
                let caused = self.caused_upto(id, noisy, level, state_of);
                self.nodes.dot([(hidden, ONE), (keep, caused)])
            };
            if upto == ONE {
                // No higher state is possible.
                pairs.push((here, ONE));
                break;
            }
            let above = self.input(id, level + 1, states);
            let step = self.nodes.difference(here, above);
            pairs.push((step, upto));
        }
        self.nodes.dot(pairs)
    }

    /// One entry of a noisy-max table: the chance of a level given all parents.
    fn noisy_entry(
        &mut self,
        id: VariableId,
        noisy: &NoisyMax,
        state_of: &impl Fn(u32) -> usize,
    ) -> NodeId {
        let level = state_of(id.0);
        let keep = self.kept(id, noisy, state_of);
        let last = self.network.variable(id).states.len() - 1;
        let upper = if level == last {
            ONE
        } else {
            self.caused_upto(id, noisy, level, state_of)
        };
        if level > 0 {
            let lower = self.caused_upto(id, noisy, level - 1, state_of);
            let shown = self.nodes.difference(upper, lower);
            return self.nodes.multiply(keep, shown);
        }
        let hidden = self.nodes.complement(keep);
        self.nodes.dot([(hidden, ONE), (keep, upper)])
    }
}

/// The inputs of a likelihood are numbered by the joint states of its parents, whatever evidence
/// leaves of them.
fn check_likelihoods(network: &Network, limit: u64) -> Result<(), Error> {
    for variable in network.variables() {
        let joint = network.joint_states(&variable.parents).map(|s| s as u64);
        let fits = joint.is_some_and(|joint| joint <= limit.min(u64::from(u32::MAX / 2)));
        if matches!(variable.distribution, Distribution::Likelihood) && !fits {
            let sizes = variable.parents.iter();
            let logs = sizes.map(|v| libm::log10(network.variable(*v).states.len() as f64));
            return Err(Error::TooLarge {
                log10_operations: logs.sum(),
                limit,
            });
        }
    }
    Ok(())
}

fn noisy_of(network: &Network, id: VariableId) -> &NoisyMax {
    static NONE: NoisyMax = NoisyMax {
        base_parents: Vec::new(),
        base: Vec::new(),
        causes: Vec::new(),
        hides: Vec::new(),
    };
    match &network.variable(id).distribution {
        Distribution::NoisyMax(noisy) => noisy,
        _ => &NONE,
    }
}

/// The states of the link before, the link after and the parent in a chain factor. Links are the
/// auxiliary variables in rising order; the last link is the variable itself.
fn chain_states(
    network: &Network,
    id: VariableId,
    parent: VariableId,
    scope: &[u32],
    states: &[usize],
) -> (usize, usize, usize) {
    let (mut before, mut after, mut at_parent) = (None, None, 0);
    for variable in scope {
        let state = states[*variable as usize];
        if *variable == parent.0 && Some(parent) != network.lane() {
            at_parent = state;
        } else if *variable == id.0 {
            after = Some(state);
        } else if before.is_none() {
            before = Some(state);
        } else {
            after = Some(state);
        }
    }
    (before.unwrap_or(0), after.unwrap_or(0), at_parent)
}
