//! Tables of circuit nodes over joint states, and the two operations elimination needs.

use crate::error::Error;
use crate::nodes::{NodeId, Nodes, ONE};

/// A table of nodes over the joint states of its scope: first variable slowest.
#[derive(Debug, Clone)]
pub(crate) struct Factor {
    /// Ascending.
    pub scope: Vec<u32>,
    pub table: Vec<NodeId>,
}

/// Steps a mixed-radix counter, the last digit fastest; false once it wraps to all zeros.
pub(crate) fn advance(digits: &mut [usize], sizes: &[usize]) -> bool {
    for place in (0..digits.len()).rev() {
        digits[place] += 1;
        if digits[place] < sizes[place] {
            return true;
        }
        digits[place] = 0;
    }
    false
}

fn union(one: &[u32], other: &[u32]) -> Vec<u32> {
    let mut all: Vec<u32> = one.iter().chain(other).copied().collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// How far an index into `scope`'s table moves per step of each variable of `within`.
fn strides(scope: &[u32], within: &[u32], sizes: &[usize]) -> Vec<usize> {
    within
        .iter()
        .map(
            |variable| match scope.iter().position(|own| own == variable) {
                Some(place) => scope[place + 1..]
                    .iter()
                    .map(|v| sizes[*v as usize])
                    .product(),
                None => 0,
            },
        )
        .collect()
}

/// Walks the joint states of a scope, giving the index into each factor's table.
struct Walk<'a> {
    digits: Vec<usize>,
    sizes: Vec<usize>,
    strides: [&'a [usize]; 2],
    index: [usize; 2],
}

impl<'a> Walk<'a> {
    fn new(scope: &[u32], sizes: &[usize], strides: [&'a [usize]; 2]) -> Self {
        Self {
            digits: vec![0; scope.len()],
            sizes: scope.iter().map(|v| sizes[*v as usize]).collect(),
            strides,
            index: [0, 0],
        }
    }

    fn step(&mut self) -> bool {
        for place in (0..self.digits.len()).rev() {
            self.digits[place] += 1;
            for side in 0..2 {
                self.index[side] += self.strides[side][place];
            }
            if self.digits[place] < self.sizes[place] {
                return true;
            }
            for side in 0..2 {
                self.index[side] -= self.strides[side][place] * self.sizes[place];
            }
            self.digits[place] = 0;
        }
        false
    }
}

/// The product of two factors over the union of their scopes.
fn product(
    one: &Factor,
    other: &Factor,
    sizes: &[usize],
    nodes: &mut Nodes,
) -> Result<Factor, Error> {
    let scope = union(&one.scope, &other.scope);
    let (first, second) = (
        strides(&one.scope, &scope, sizes),
        strides(&other.scope, &scope, sizes),
    );
    let mut walk = Walk::new(&scope, sizes, [&first, &second]);
    let mut table = Vec::new();
    loop {
        table.push(nodes.multiply(one.table[walk.index[0]], other.table[walk.index[1]]));
        if !walk.step() {
            break;
        }
    }
    nodes.check_size()?;
    Ok(Factor { scope, table })
}

/// The product of two factors summed over one variable.
fn sum_product(
    one: &Factor,
    other: &Factor,
    summed: u32,
    sizes: &[usize],
    nodes: &mut Nodes,
) -> Result<Factor, Error> {
    let mut scope = union(&one.scope, &other.scope);
    scope.retain(|variable| *variable != summed);
    let (first, second) = (
        strides(&one.scope, &scope, sizes),
        strides(&other.scope, &scope, sizes),
    );
    let inner = [
        strides(&one.scope, &[summed], sizes)[0],
        strides(&other.scope, &[summed], sizes)[0],
    ];
    let states = sizes[summed as usize];
    let mut walk = Walk::new(&scope, sizes, [&first, &second]);
    let mut table = Vec::new();
    loop {
        let [a, b] = walk.index;
        let pairs = (0..states).map(|state| {
            (
                one.table[a + state * inner[0]],
                other.table[b + state * inner[1]],
            )
        });
        table.push(nodes.dot(pairs));
        if table.len() % 4096 == 0 {
            nodes.check_size()?;
        }
        if !walk.step() {
            break;
        }
    }
    nodes.check_size()?;
    Ok(Factor { scope, table })
}

/// One everywhere over no variables: the neutral factor.
fn unit() -> Factor {
    Factor {
        scope: Vec::new(),
        table: vec![ONE],
    }
}

/// Multiplies a bucket together, cheapest pairs first, and sums the variable out.
pub(crate) fn eliminate_one(
    mut bucket: Vec<Factor>,
    summed: u32,
    sizes: &[usize],
    nodes: &mut Nodes,
) -> Result<Factor, Error> {
    bucket.sort_by_key(|factor| std::cmp::Reverse(factor.table.len()));
    while bucket.len() > 2 {
        let Some(smallest) = bucket.pop() else { break };
        let size =
            |scope: &[u32]| -> f64 { scope.iter().map(|v| sizes[*v as usize] as f64).product() };
        let (mut partner, mut least) = (0, f64::INFINITY);
        for (place, factor) in bucket.iter().enumerate().rev() {
            if factor.table.len() as f64 >= least {
                // So are all that come before it, and no product is smaller than its factors.
                break;
            }
            let cost = size(&union(&factor.scope, &smallest.scope));
            if cost < least {
                (partner, least) = (place, cost);
            }
        }
        let other = bucket.remove(partner);
        let joined = product(&smallest, &other, sizes, nodes)?;
        let place = bucket.partition_point(|factor| factor.table.len() >= joined.table.len());
        bucket.insert(place, joined);
    }
    let second = bucket.pop().unwrap_or_else(unit);
    let first = bucket.pop().unwrap_or_else(unit);
    sum_product(&first, &second, summed, sizes, nodes)
}
