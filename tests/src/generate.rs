//! Random networks and findings: valid by construction, so that nothing is ever discarded.

use oddment_circuit::{
    Cause, Copying, Distribution, Evidence, Hide, Network, NetworkBuilder, NoisyMax, VariableId,
};
use proptest::prelude::{Strategy, any};
use std::fmt;

/// What kind of networks to draw.
#[derive(Debug, Clone, Copy)]
pub struct Shape {
    /// Fewest and most variables.
    pub variables: (usize, usize),
    /// Most states of a variable; the fewest are one.
    pub states: usize,
    /// Whether there is a lane variable.
    pub lane: Lane,
    /// Whether tables may hold structural zeros and ones.
    pub zeros: bool,
}

/// Whether a drawn network has a lane variable.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lane {
    /// It has none.
    Never,
    /// One network in two has one.
    Sometimes,
    /// It has one.
    Always,
}

/// Everything the engine knows: two to seven variables of up to four states, lanes, zeros.
pub const ANY: Shape = Shape {
    variables: (2, 7),
    states: 4,
    lane: Lane::Sometimes,
    zeros: true,
};

/// As [`ANY`] but small, for tests that enumerate once for every number of the network.
pub const SMALL: Shape = Shape {
    variables: (2, 4),
    states: 3,
    ..ANY
};

/// One observation: a likelihood over the states of a variable, or over the joint states of a
/// likelihood variable's parents.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// What was observed.
    pub id: VariableId,
    /// The likelihood.
    pub likelihood: Vec<f64>,
}

/// A network with several cases, each a list of findings, sometimes two of one variable.
#[derive(Clone)]
pub struct Sample {
    /// The network.
    pub network: Network,
    /// The cases.
    pub cases: Vec<Vec<Finding>>,
}

impl Sample {
    /// The evidence of one case.
    pub fn evidence(&self, case: usize) -> Evidence {
        evidence(&self.network, &self.cases[case])
    }
}

impl fmt::Debug for Sample {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}", self.network.to_json())?;
        for (number, case) in self.cases.iter().enumerate() {
            write!(f, "case {number}:")?;
            for finding in case {
                let name = &self.network.variable(finding.id).name;
                write!(f, " {name} {:?}", finding.likelihood)?;
            }
            writeln!(f)?;
        }
        Ok(())
    }
}

/// Puts findings together.
///
/// # Panics
/// When a finding does not fit the network.
pub fn evidence(network: &Network, findings: &[Finding]) -> Evidence {
    let mut evidence = Evidence::new();
    for finding in findings {
        evidence
            .likelihood(network, finding.id, &finding.likelihood)
            .expect("generated findings fit their network");
    }
    evidence
}

/// Draws networks of a shape with a number of cases each.
pub fn samples(shape: Shape, cases: usize) -> impl Strategy<Value = Sample> {
    drawn(move |choices| {
        let network = network(choices, shape);
        let cases = (0..cases).map(|_| findings(choices, &network)).collect();
        Sample { network, cases }
    })
}

/// Draws whatever a function builds from choices.
pub fn drawn<T: fmt::Debug>(build: impl Fn(&mut Choices) -> T) -> impl Strategy<Value = T> {
    proptest::collection::vec(any::<u32>(), 1500).prop_map(move |numbers| {
        build(&mut Choices {
            numbers: numbers.into_iter(),
        })
    })
}

/// A source of choices. Once it has run dry every choice is the first.
#[derive(Debug)]
pub struct Choices {
    numbers: std::vec::IntoIter<u32>,
}

impl Choices {
    /// A whole number below the bound.
    pub fn below(&mut self, bound: usize) -> usize {
        let number = u64::from(self.numbers.next().unwrap_or(0));
        ((number * bound as u64) >> 32) as usize
    }

    /// Whether something with this chance, in hundredths, happens.
    pub fn hundredths(&mut self, chance: usize) -> bool {
        self.below(100) >= 100 - chance
    }

    /// A probability from 0.01 to 0.99; with zeros, sometimes 0 or 1.
    pub fn probability(&mut self, zeros: bool) -> f64 {
        if zeros && self.hundredths(15) {
            return self.below(2) as f64;
        }
        if self.hundredths(20) {
            // So that equal numbers occur.
            return 0.5;
        }
        (1 + self.below(99)) as f64 / 100.0
    }

    /// A distribution; with zeros, some entries may be 0 and one may be 1.
    pub fn row(&mut self, states: usize, zeros: bool) -> Vec<f64> {
        let certain = zeros && self.hundredths(10);
        let most = if self.hundredths(20) { 2 } else { 30 };
        let mut weights: Vec<usize> = (0..states)
            .map(|_| {
                if zeros && self.hundredths(20) {
                    0
                } else {
                    1 + self.below(most)
                }
            })
            .collect();
        let kept = self.below(states);
        if certain {
            weights.fill(0);
        }
        if weights.iter().sum::<usize>() == 0 {
            weights[kept] = 1;
        }
        let sum: usize = weights.iter().sum();
        weights
            .iter()
            .map(|weight| *weight as f64 / sum as f64)
            .collect()
    }

    /// Several distributions, one after another. Some miss a sum of one, within the tolerance.
    pub fn rows(&mut self, rows: usize, states: usize, zeros: bool) -> Vec<f64> {
        let mut table = Vec::with_capacity(rows * states);
        for _ in 0..rows {
            table.extend(self.row(states, zeros));
            if let (true, Some(last)) = (self.hundredths(10), table.last_mut()) {
                *last *= 1.0 - 5e-10;
            }
        }
        table
    }

    /// Rows of rising cumulative probabilities, without the final one.
    pub fn rising(&mut self, rows: usize, levels: usize, zeros: bool) -> Vec<f64> {
        let mut numbers = Vec::with_capacity(rows * levels);
        for _ in 0..rows {
            let mut row: Vec<f64> = (0..levels).map(|_| self.probability(zeros)).collect();
            row.sort_by(f64::total_cmp);
            numbers.extend(row);
        }
        numbers
    }

    /// A permutation of the numbers below `count`.
    pub fn permutation(&mut self, count: usize) -> Vec<usize> {
        let mut order: Vec<usize> = (0..count).collect();
        for place in (1..count).rev() {
            // The first choice leaves everything in place.
            order.swap(place, place - self.below(place + 1));
        }
        order
    }
}

/// Draws a network.
pub fn network(choices: &mut Choices, shape: Shape) -> Network {
    let (fewest, most) = shape.variables;
    let count = fewest + choices.below(most - fewest + 1);
    let mut builder = NetworkBuilder::new("drawn");
    let laned = match shape.lane {
        Lane::Never => false,
        Lane::Sometimes => choices.hundredths(50),
        Lane::Always => true,
    };
    // The lane variable need not be the first.
    let lane_at = laned.then(|| choices.below(2));
    let mut drawn = Drawn {
        zeros: shape.zeros,
        sizes: Vec::new(),
        lane: None,
    };
    let mut ids: Vec<VariableId> = Vec::new();
    for index in 0..count {
        let states = 1 + choices.below(shape.states);
        let (parents, distribution, states) = if lane_at == Some(index) {
            let table = choices.row(states, shape.zeros);
            (Vec::new(), Distribution::Table(table), states)
        } else {
            drawn.variable(choices, &ids, states)
        };
        let names: Vec<String> = (0..states).map(|state| format!("s{state}")).collect();
        let id = builder
            .variable(format!("v{index}"), &names, &parents, distribution)
            .expect("generated variables are valid");
        if lane_at == Some(index) {
            builder.lane(id);
            drawn.lane = Some(id);
        }
        ids.push(id);
        drawn.sizes.push(states);
    }
    builder.finish().expect("generated networks are valid")
}

/// What is known of the network drawn so far.
struct Drawn {
    zeros: bool,
    sizes: Vec<usize>,
    lane: Option<VariableId>,
}

impl Drawn {
    fn joint(&self, ids: &[VariableId]) -> usize {
        ids.iter().map(|id| self.sizes[id.index()]).product()
    }

    fn variable(
        &self,
        choices: &mut Choices,
        earlier: &[VariableId],
        states: usize,
    ) -> (Vec<VariableId>, Distribution, usize) {
        let usable: Vec<VariableId> = earlier
            .iter()
            .copied()
            .filter(|id| self.sizes[id.index()] > 0)
            .collect();
        let kind = choices.below(10);
        let sources: Vec<VariableId> = usable
            .iter()
            .copied()
            .filter(|id| Some(*id) != self.lane)
            .collect();
        let most = if kind >= 5 { 5 } else { 3 };
        let mut parents: Vec<VariableId> = Vec::new();
        for place in choices.permutation(usable.len()) {
            let wanted = if Some(usable[place]) == self.lane {
                60
            } else {
                50
            };
            if parents.len() < most && choices.hundredths(wanted) {
                parents.push(usable[place]);
            }
        }
        match kind {
            5..=7 if states > 1 => {
                let noisy = self.noisy_max(choices, &parents, states);
                (parents, Distribution::NoisyMax(noisy), states)
            }
            8 if !sources.is_empty() => {
                let source = sources[choices.below(sources.len())];
                let states = self.sizes[source.index()];
                let mut parents = vec![source];
                let mut rows = 1;
                if let (true, Some(lane)) = (choices.hundredths(60), self.lane) {
                    parents.insert(choices.below(2), lane);
                    rows = self.sizes[lane.index()];
                }
                let copying = Copying {
                    source,
                    share: (0..rows).map(|_| choices.probability(self.zeros)).collect(),
                    own: choices.rows(rows, states, self.zeros),
                };
                (parents, Distribution::Copying(copying), states)
            }
            9 if !parents.is_empty() => (parents, Distribution::Likelihood, 0),
            _ => {
                let rows = self.joint(&parents);
                let table = choices.rows(rows, states, self.zeros);
                (parents, Distribution::Table(table), states)
            }
        }
    }

    fn noisy_max(&self, choices: &mut Choices, parents: &[VariableId], states: usize) -> NoisyMax {
        let levels = states - 1;
        let (mut base_parents, mut causes, mut hides) = (Vec::new(), Vec::new(), Vec::new());
        for parent in parents {
            let rows = self.sizes[parent.index()];
            let role = choices.below(8);
            if role < 3 {
                base_parents.push(*parent);
            }
            // The last two roles are both at once.
            if (3..5).contains(&role) || role > 5 {
                causes.push(Cause {
                    parent: *parent,
                    cumulative: choices.rising(rows, levels, self.zeros),
                });
            }
            if role >= 5 {
                hides.push(Hide {
                    parent: *parent,
                    blank: (0..rows).map(|_| choices.probability(self.zeros)).collect(),
                });
            }
        }
        let rows = self.joint(&base_parents);
        NoisyMax {
            base: choices.rising(rows, levels, self.zeros),
            base_parents,
            causes,
            hides,
        }
    }
}

/// Draws a case: some variables are observed for certain, some by a likelihood, some twice.
pub fn findings(choices: &mut Choices, network: &Network) -> Vec<Finding> {
    let mut findings = Vec::new();
    for place in choices.permutation(network.variables().len()) {
        let Some(id) = network.ids().nth(place) else {
            continue;
        };
        let times = [0, 0, 0, 1, 1, 1, 1, 2][choices.below(8)];
        for _ in 0..times {
            let likelihood = likelihood(choices, network, id);
            findings.push(Finding { id, likelihood });
        }
    }
    findings
}

fn likelihood(choices: &mut Choices, network: &Network, id: VariableId) -> Vec<f64> {
    let variable = network.variable(id);
    if variable.states.is_empty() {
        let states = |id: &VariableId| network.variable(*id).states.len();
        let joint = variable.parents.iter().map(states).product();
        // Densities may exceed one.
        return (0..joint).map(|_| choices.below(25) as f64 / 8.0).collect();
    }
    let count = variable.states.len();
    if choices.hundredths(50) {
        let mut hard = vec![0.0; count];
        hard[choices.below(count)] = 1.0;
        return hard;
    }
    (0..count)
        .map(|_| {
            if choices.hundredths(15) {
                0.0
            } else {
                (1 + choices.below(150)) as f64 / 100.0
            }
        })
        .collect()
}
