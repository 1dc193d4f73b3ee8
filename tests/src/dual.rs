//! Numbers with a derivative carried along, and a network's polynomial gone through world by world.

use oddment_circuit::{Distribution, Evidence, Network, VariableId};
use std::ops::{Add, Div, Mul, Sub};

/// A value and its derivative by one thing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dual {
    /// The value.
    pub value: f64,
    /// The derivative.
    pub by: f64,
}

impl Dual {
    /// A value that does not change.
    pub fn constant(value: f64) -> Self {
        Self { value, by: 0.0 }
    }

    /// The thing itself.
    pub fn variable(value: f64) -> Self {
        Self { value, by: 1.0 }
    }
}

impl Add for Dual {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            value: self.value + other.value,
            by: self.by + other.by,
        }
    }
}

impl Sub for Dual {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self {
            value: self.value - other.value,
            by: self.by - other.by,
        }
    }
}

impl Mul for Dual {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self {
            value: self.value * other.value,
            by: self.by * other.value + self.value * other.by,
        }
    }
}

impl Div for Dual {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let value = self.value / other.value;
        Self {
            value,
            by: (self.by - value * other.by) / other.value,
        }
    }
}

/// Sum over all worlds that agree with what was observed of the product of the tables' entries, the
/// entry `moved` of one variable's table being a variable; only for networks of plain tables.
///
/// # Panics
/// For any other distribution.
pub fn over_worlds(
    network: &Network,
    observed: &[(VariableId, usize)],
    moved: (VariableId, usize),
) -> Dual {
    let ids: Vec<VariableId> = network.ids().collect();
    let states = |id: VariableId| network.variable(id).states.len();
    let worlds: usize = ids.iter().map(|id| states(*id)).product();
    let mut sum = Dual::constant(0.0);
    for world in 0..worlds {
        let mut left = world;
        let mut at = vec![0; ids.len()];
        for id in &ids {
            at[id.index()] = left % states(*id);
            left /= states(*id);
        }
        if observed.iter().any(|(id, state)| at[id.index()] != *state) {
            continue;
        }
        let mut product = Dual::constant(1.0);
        for id in &ids {
            let variable = network.variable(*id);
            let Distribution::Table(table) = &variable.distribution else {
                panic!("{} is no plain table", variable.name);
            };
            // Parents in order, the first slowest, then the variable's own state.
            let row = variable
                .parents
                .iter()
                .fold(0, |row, parent| row * states(*parent) + at[parent.index()]);
            let entry = row * states(*id) + at[id.index()];
            product = product
                * match moved == (*id, entry) {
                    true => Dual::variable(table[entry]),
                    false => Dual::constant(table[entry]),
                };
        }
        sum = sum + product;
    }
    sum
}

/// Evidence of some observations.
///
/// # Panics
/// When the network has no such state.
pub fn evidence(network: &Network, observed: &[(VariableId, usize)]) -> Evidence {
    let mut evidence = Evidence::new();
    for (id, state) in observed {
        let seen = evidence.observe(network, *id, *state);
        seen.unwrap_or_else(|error| panic!("{error}"));
    }
    evidence
}
