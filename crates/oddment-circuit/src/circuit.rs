//! The compiled circuit: one flat immutable tape.

use crate::network::{Network, VariableId};
use crate::nodes::{Node, NodeId, Nodes, ONE, ZERO};

/// Which number of a variable's distribution a parameter is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// An entry of [`Distribution::Table`](crate::Distribution::Table).
    Table,
    /// An entry of [`NoisyMax::base`](crate::NoisyMax::base).
    Base,
    /// An entry of the cumulative contribution of the cause with this number.
    Cause(usize),
    /// An entry of the blanking chances of the hiding parent with this number.
    Hide(usize),
    /// An entry of [`Copying::share`](crate::Copying::share).
    Share,
    /// An entry of [`Copying::own`](crate::Copying::own).
    Own,
}

/// A number of the network that the circuit keeps changeable: one value for each lane.
#[derive(Debug, Clone, PartialEq)]
pub struct Parameter {
    /// The variable whose distribution holds it.
    pub variable: VariableId,
    /// Which part of the distribution.
    pub role: Role,
    /// Index into that part, for the first lane.
    pub index: usize,
    /// How far apart the values of two lanes lie in that part; 0 when all lanes share one number.
    pub lane_stride: usize,
    /// The value in each lane.
    pub values: Vec<f64>,
}

/// A parameter's place in [`Circuit::parameters`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ParameterId(pub(crate) u32);

impl ParameterId {
    /// The place as an index.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// One step of the tape; operands are slots filled earlier.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Step {
    Multiply(u32, u32),
    Add(u32, u32),
    /// A plain term and one product.
    MultiplyAdd(u32, u32, u32),
    /// Number of a sum in [`Circuit::sums`].
    Sum(u32),
}

/// A sum of plain terms and of products: ranges of the terms and the pairs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Sum {
    pub terms: (u32, u32),
    pub pairs: (u32, u32),
}

/// A sum's plain terms and its pairs of factors, as slots.
pub(crate) type Parts<'a> = (&'a [u32], &'a [(u32, u32)]);

/// A slot number that stands for "not in the circuit".
pub(crate) const ABSENT: u32 = u32::MAX;

/// The steps of a circuit that depend on some variables' likelihoods; see [`Circuit::cone`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cone {
    pub(crate) steps: Vec<u32>,
}

impl Cone {
    /// Number of steps.
    pub fn steps(&self) -> usize {
        self.steps.len()
    }
}

/// A network compiled to sums and products. Immutable, `Send` and `Sync`; queries go through a
/// [`Workspace`](crate::Workspace).
///
/// Slots: constants, parameters, inputs, then one for each step. Steps that depend on no input come
/// first (the *prelude*) and are evaluated only when numbers change.
#[derive(Debug, Clone)]
pub struct Circuit {
    pub(crate) names: Vec<String>,
    /// Number of states of each variable; of joint parent states for a likelihood.
    pub(crate) widths: Vec<usize>,
    /// Where the lane variable stands among a likelihood's parents: how far apart in the
    /// likelihood vector two of its states lie.
    pub(crate) lane_strides: Vec<Option<usize>>,
    pub(crate) lane: Option<VariableId>,
    pub(crate) lane_prior: Vec<f64>,
    pub(crate) constants: Vec<f64>,
    pub(crate) parameters: Vec<Parameter>,
    /// Slot of each parameter.
    pub(crate) parameter_slots: Vec<u32>,
    /// Slots of the inputs of each variable, [`ABSENT`] for impossible states.
    pub(crate) inputs: Vec<Vec<u32>>,
    /// The slot that the first step fills.
    pub(crate) first: u32,
    pub(crate) steps: Vec<Step>,
    pub(crate) sums: Vec<Sum>,
    pub(crate) terms: Vec<u32>,
    pub(crate) pairs: Vec<(u32, u32)>,
    /// How many steps are prelude.
    pub(crate) prelude: usize,
    pub(crate) root: u32,
}

impl Circuit {
    pub(crate) fn assemble(
        network: &Network,
        nodes: &Nodes,
        root: NodeId,
        parameters: Vec<(NodeId, Parameter)>,
        inputs: &[Vec<NodeId>],
    ) -> Self {
        let count = nodes.nodes.len();
        let mut wanted = vec![false; count];
        wanted[root.0 as usize] = true;
        for index in (0..count).rev() {
            if !wanted[index] {
                continue;
            }
            match nodes.nodes[index] {
                Node::Multiply(a, b) | Node::Add(a, b) => {
                    wanted[a.0 as usize] = true;
                    wanted[b.0 as usize] = true;
                }
                Node::Dot { start, length } => {
                    for (a, b) in &nodes.pairs[start as usize..(start + length) as usize] {
                        wanted[a.0 as usize] = true;
                        wanted[b.0 as usize] = true;
                    }
                }
                Node::Constant(_) | Node::Parameter(_) | Node::Input(_) => {}
            }
        }
        let mut slots = vec![ABSENT; count];
        let mut next = 0_u32;
        let mut take = |index: usize, slots: &mut Vec<u32>| {
            slots[index] = next;
            next += 1;
        };
        let mut constants = Vec::new();
        for (index, node) in nodes.nodes.iter().enumerate() {
            if let (true, Node::Constant(at)) = (wanted[index], node) {
                constants.push(nodes.constants[*at as usize]);
                take(index, &mut slots);
            }
        }
        let (mut kept, mut parameter_slots) = (Vec::new(), Vec::new());
        for (node, parameter) in parameters {
            if wanted[node.0 as usize] {
                take(node.0 as usize, &mut slots);
                parameter_slots.push(slots[node.0 as usize]);
                kept.push(parameter);
            }
        }
        let inputs: Vec<Vec<u32>> = inputs
            .iter()
            .map(|states| {
                states
                    .iter()
                    .map(|node| {
                        if *node == ZERO || !wanted[node.0 as usize] {
                            return ABSENT;
                        }
                        take(node.0 as usize, &mut slots);
                        slots[node.0 as usize]
                    })
                    .collect()
            })
            .collect();
        let first = constants.len() + kept.len();
        let first = (first
            + inputs
                .iter()
                .flatten()
                .filter(|slot| **slot != ABSENT)
                .count()) as u32;
        // An input makes all that rests on it depend on evidence.
        let mut dependent = vec![false; count];
        for index in 0..count {
            let of = |node: NodeId, dependent: &[bool]| dependent[node.0 as usize];
            dependent[index] = match nodes.nodes[index] {
                Node::Input(_) => true,
                Node::Multiply(a, b) | Node::Add(a, b) => of(a, &dependent) || of(b, &dependent),
                Node::Dot { start, length } => nodes.pairs
                    [start as usize..(start + length) as usize]
                    .iter()
                    .any(|(a, b)| of(*a, &dependent) || of(*b, &dependent)),
                Node::Constant(_) | Node::Parameter(_) => false,
            };
        }
        let (mut steps, mut prelude) = (Vec::new(), 0);
        let (mut sums, mut terms, mut pairs) = (Vec::new(), Vec::new(), Vec::new());
        for wave in [false, true] {
            for index in 0..count {
                if !wanted[index] || dependent[index] != wave {
                    continue;
                }
                let step = match nodes.nodes[index] {
                    Node::Multiply(a, b) => {
                        Step::Multiply(slots[a.0 as usize], slots[b.0 as usize])
                    }
                    Node::Add(a, b) => Step::Add(slots[a.0 as usize], slots[b.0 as usize]),
                    Node::Dot { start, length } => {
                        let range = start as usize..(start + length) as usize;
                        let (plain, products): (Vec<_>, Vec<_>) =
                            nodes.pairs[range].iter().partition(|(a, _)| *a == ONE);
                        let slot = |node: NodeId| slots[node.0 as usize];
                        if let ([(_, c)], [(a, b)]) = (plain.as_slice(), products.as_slice()) {
                            Step::MultiplyAdd(slot(*a), slot(*b), slot(*c))
                        } else {
                            let from = (terms.len() as u32, pairs.len() as u32);
                            terms.extend(plain.iter().map(|(_, term)| slot(*term)));
                            pairs.extend(products.iter().map(|(a, b)| (slot(*a), slot(*b))));
                            sums.push(Sum {
                                terms: (from.0, terms.len() as u32),
                                pairs: (from.1, pairs.len() as u32),
                            });
                            Step::Sum(sums.len() as u32 - 1)
                        }
                    }
                    Node::Constant(_) | Node::Parameter(_) | Node::Input(_) => continue,
                };
                slots[index] = first + steps.len() as u32;
                steps.push(step);
            }
            if !wave {
                prelude = steps.len();
            }
        }
        let widths = network
            .ids()
            .map(|id| {
                let variable = network.variable(id);
                match variable.states.len() {
                    0 => network.joint_states(&variable.parents).unwrap_or(0),
                    states => states,
                }
            })
            .collect();
        let lane_strides = network
            .ids()
            .map(|id| {
                let variable = network.variable(id);
                let place = variable
                    .parents
                    .iter()
                    .position(|v| Some(*v) == network.lane())?;
                variable.states.is_empty().then(|| {
                    network
                        .joint_states(&variable.parents[place + 1..])
                        .unwrap_or(1)
                })
            })
            .collect();
        let lane_prior = match network
            .lane()
            .map(|lane| &network.variable(lane).distribution)
        {
            Some(crate::Distribution::Table(table)) => table.clone(),
            _ => vec![1.0],
        };
        let circuit = Self {
            names: network
                .variables()
                .iter()
                .map(|variable| variable.name.clone())
                .collect(),
            widths,
            lane_strides,
            lane: network.lane(),
            lane_prior,
            constants,
            parameters: kept,
            parameter_slots,
            inputs,
            first,
            steps,
            sums,
            terms,
            pairs,
            prelude,
            root: slots[root.0 as usize],
        };
        circuit.check_tape();
        circuit
    }

    /// The tape's invariant, checked in release builds too because every query rests on it: steps
    /// read only slots that are filled before them.
    fn check_tape(&self) {
        for (place, step) in self.steps.iter().enumerate() {
            let out = self.first + place as u32;
            let earlier = match step {
                Step::Multiply(a, b) | Step::Add(a, b) => *a < out && *b < out,
                Step::MultiplyAdd(a, b, c) => *a < out && *b < out && *c < out,
                Step::Sum(sum) => self.sum(*sum).is_some_and(|(terms, pairs)| {
                    terms.iter().all(|term| *term < out)
                        && pairs.iter().all(|(a, b)| *a < out && *b < out)
                }),
            };
            assert!(
                earlier,
                "step {place} of the tape reads a slot that is not filled yet"
            );
        }
        assert!(
            (self.root as usize) < self.slots(),
            "the root is not on the tape"
        );
    }

    /// The terms and pairs of a sum.
    #[inline(always)]
    pub(crate) fn sum(&self, number: u32) -> Option<Parts<'_>> {
        let sum = self.sums.get(number as usize)?;
        let terms = self.terms.get(sum.terms.0 as usize..sum.terms.1 as usize)?;
        let pairs = self.pairs.get(sum.pairs.0 as usize..sum.pairs.1 as usize)?;
        Some((terms, pairs))
    }

    /// Number of slots: constants, parameters, inputs and steps.
    pub fn slots(&self) -> usize {
        self.first as usize + self.steps.len()
    }

    /// Number of arithmetic steps, those that depend on the numbers only included.
    pub fn steps(&self) -> usize {
        self.steps.len()
    }

    /// Number of steps that depend on the numbers only and are not repeated for each query.
    pub fn prelude_steps(&self) -> usize {
        self.prelude
    }

    /// Number of multiplications and additions of one evaluation.
    pub fn operations(&self) -> usize {
        let steps = self.steps.iter().map(|step| match step {
            Step::Multiply(..) | Step::Add(..) => 1,
            Step::MultiplyAdd(..) => 2,
            Step::Sum(_) => 0,
        });
        steps.sum::<usize>() + self.terms.len() + 2 * self.pairs.len()
    }

    /// The changeable numbers, ordered by variable, role and index.
    pub fn parameters(&self) -> &[Parameter] {
        &self.parameters
    }

    /// The steps to repeat when nothing but these variables' likelihoods changed, for
    /// [`value_in_cone`](Self::value_in_cone).
    pub fn cone(&self, variables: &[VariableId]) -> Cone {
        let mut touched = vec![false; self.slots()];
        for slots in variables
            .iter()
            .filter_map(|id| self.inputs.get(id.index()))
        {
            for slot in slots.iter().filter(|slot| **slot != ABSENT) {
                touched[*slot as usize] = true;
            }
        }
        let first = self.first as usize;
        let mut steps = Vec::new();
        for (place, step) in self.steps.iter().enumerate() {
            let depends = match *step {
                Step::Multiply(a, b) | Step::Add(a, b) => {
                    touched[a as usize] || touched[b as usize]
                }
                Step::MultiplyAdd(a, b, c) => {
                    [a, b, c].into_iter().any(|slot| touched[slot as usize])
                }
                Step::Sum(number) => {
                    let (terms, pairs) = self.sum(number).unwrap_or_default();
                    let pairs = pairs.iter().flat_map(|(a, b)| [*a, *b]);
                    let mut operands = terms.iter().copied().chain(pairs);
                    operands.any(|slot| touched[slot as usize])
                }
            };
            // The root is always repeated: an evaluation with scaling leaves it scaled.
            if depends || first + place == self.root as usize {
                touched[first + place] = true;
                steps.push(place as u32);
            }
        }
        Cone { steps }
    }

    /// The changeable number at a place of [`parameters`](Self::parameters).
    pub fn parameter_at(&self, place: usize) -> Option<ParameterId> {
        (place < self.parameters.len()).then_some(ParameterId(place as u32))
    }

    /// Finds a changeable number: `index` as in [`Parameter::index`]. `None` when it is structural
    /// (0 or 1 in all lanes), was folded, or cannot matter.
    pub fn find_parameter(
        &self,
        variable: VariableId,
        role: Role,
        index: usize,
    ) -> Option<ParameterId> {
        self.parameters
            .binary_search_by(|parameter| {
                (parameter.variable, parameter.role, parameter.index).cmp(&(variable, role, index))
            })
            .ok()
            .map(|at| ParameterId(at as u32))
    }

    /// States of the lane variable; 1 without one.
    pub fn lanes(&self) -> usize {
        self.lane_prior.len()
    }
}
