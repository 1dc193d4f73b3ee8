//! The graph of sums and products while it is being built: equal nodes shared, constants folded,
//! zeros gone.

use crate::error::Error;
use hashbrown::HashTable;

/// A node of the growing circuit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct NodeId(pub u32);

pub(crate) const ZERO: NodeId = NodeId(0);
pub(crate) const ONE: NodeId = NodeId(1);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Node {
    /// Index into the constants.
    Constant(u32),
    /// A number of the model that may change between queries.
    Parameter(u32),
    /// A likelihood supplied with the evidence.
    Input(u32),
    Multiply(NodeId, NodeId),
    Add(NodeId, NodeId),
    /// Sum of products: a range of the pairs.
    Dot {
        start: u32,
        length: u32,
    },
}

#[derive(Debug)]
pub(crate) struct Nodes {
    pub nodes: Vec<Node>,
    pub constants: Vec<f64>,
    pub pairs: Vec<(NodeId, NodeId)>,
    shared: HashTable<u32>,
    scratch: Vec<(NodeId, NodeId)>,
    limit: u64,
}

impl Nodes {
    pub fn new(limit: u64) -> Self {
        let mut nodes = Self {
            nodes: Vec::new(),
            constants: Vec::new(),
            pairs: Vec::new(),
            shared: HashTable::new(),
            scratch: Vec::new(),
            limit,
        };
        nodes.constant(0.0);
        nodes.constant(1.0);
        nodes
    }

    /// Fails once the circuit has outgrown the limit, which is in estimated operations, by more
    /// than the estimate can be wrong.
    pub fn check_size(&self) -> Result<(), Error> {
        let size = self.nodes.len().max(self.pairs.len()) as u64;
        if size > self.limit.saturating_mul(4) || size > u64::from(u32::MAX / 2) {
            return Err(Error::TooLarge {
                log10_operations: libm::log10(size as f64),
                limit: self.limit,
            });
        }
        Ok(())
    }

    pub fn constant(&mut self, value: f64) -> NodeId {
        let hash = mix(1, value.to_bits(), 0);
        let (nodes, constants) = (&self.nodes, &self.constants);
        let found = self.shared.find(hash, |id| {
            matches!(nodes[*id as usize], Node::Constant(at)
                if constants[at as usize].to_bits() == value.to_bits())
        });
        if let Some(id) = found {
            return NodeId(*id);
        }
        self.constants.push(value);
        let node = Node::Constant(self.constants.len() as u32 - 1);
        self.insert(hash, node)
    }

    pub fn parameter(&mut self, index: u32) -> NodeId {
        self.unshared(Node::Parameter(index))
    }

    pub fn input(&mut self, index: u32) -> NodeId {
        self.unshared(Node::Input(index))
    }

    fn unshared(&mut self, node: Node) -> NodeId {
        self.nodes.push(node);
        NodeId(self.nodes.len() as u32 - 1)
    }

    fn value(&self, id: NodeId) -> Option<f64> {
        match self.nodes[id.0 as usize] {
            Node::Constant(at) => Some(self.constants[at as usize]),
            _ => None,
        }
    }

    pub fn multiply(&mut self, one: NodeId, other: NodeId) -> NodeId {
        if one == ZERO || other == ZERO {
            return ZERO;
        }
        if one == ONE {
            return other;
        }
        if other == ONE {
            return one;
        }
        if let (Some(a), Some(b)) = (self.value(one), self.value(other))
            && folds(a, b)
        {
            return self.constant(a * b);
        }
        let (a, b) = (one.min(other), one.max(other));
        self.binary(2, a, b, Node::Multiply(a, b))
    }

    pub fn add(&mut self, one: NodeId, other: NodeId) -> NodeId {
        if one == ZERO {
            return other;
        }
        if other == ZERO {
            return one;
        }
        if let (Some(a), Some(b)) = (self.value(one), self.value(other)) {
            return self.constant(a + b);
        }
        let (a, b) = (one.min(other), one.max(other));
        self.binary(3, a, b, Node::Add(a, b))
    }

    /// `1 - x`.
    pub fn complement(&mut self, node: NodeId) -> NodeId {
        self.difference(ONE, node)
    }

    /// `one - other`.
    pub fn difference(&mut self, one: NodeId, other: NodeId) -> NodeId {
        if one == other {
            return ZERO;
        }
        let minus = self.constant(-1.0);
        self.dot([(one, ONE), (minus, other)])
    }

    /// The sum of the products of the pairs.
    pub fn dot(&mut self, pairs: impl IntoIterator<Item = (NodeId, NodeId)>) -> NodeId {
        let mut scratch = std::mem::take(&mut self.scratch);
        scratch.clear();
        let mut folded = 0.0;
        for (one, other) in pairs {
            if one == ZERO || other == ZERO {
                continue;
            }
            match (self.value(one), self.value(other)) {
                (Some(a), Some(b)) if folds(a, b) => folded += a * b,
                _ => scratch.push((one.min(other), one.max(other))),
            }
        }
        if folded != 0.0 {
            scratch.push((ONE, self.constant(folded)));
        }
        scratch.sort_unstable();
        let id = match scratch.as_slice() {
            [] => ZERO,
            [(a, b)] => self.multiply(*a, *b),
            [(ONE, a), (ONE, b)] => self.add(*a, *b),
            pairs => {
                let hash = pairs
                    .iter()
                    .fold(mix(4, pairs.len() as u64, 0), |hash, (a, b)| {
                        mix(hash, u64::from(a.0), u64::from(b.0))
                    });
                let (nodes, stored) = (&self.nodes, &self.pairs);
                let found = self.shared.find(hash, |id| {
                    matches!(nodes[*id as usize], Node::Dot { start, length }
                        if stored[start as usize..(start + length) as usize] == *pairs)
                });
                match found {
                    Some(id) => NodeId(*id),
                    None => {
                        let start = self.pairs.len() as u32;
                        self.pairs.extend_from_slice(pairs);
                        self.insert(
                            hash,
                            Node::Dot {
                                start,
                                length: pairs.len() as u32,
                            },
                        )
                    }
                }
            }
        };
        self.scratch = scratch;
        id
    }

    fn binary(&mut self, tag: u64, a: NodeId, b: NodeId, node: Node) -> NodeId {
        let hash = mix(tag, u64::from(a.0), u64::from(b.0));
        let nodes = &self.nodes;
        match self.shared.find(hash, |id| nodes[*id as usize] == node) {
            Some(id) => NodeId(*id),
            None => self.insert(hash, node),
        }
    }

    fn insert(&mut self, hash: u64, node: Node) -> NodeId {
        let id = self.nodes.len() as u32;
        self.nodes.push(node);
        let (nodes, constants, pairs) = (&self.nodes, &self.constants, &self.pairs);
        self.shared.insert_unique(hash, id, |id| {
            hash_of(nodes[*id as usize], constants, pairs)
        });
        NodeId(id)
    }
}

/// Whether the product of two constants may become one: not where it could underflow, since the
/// evaluation with scaling can do nothing about a constant.
fn folds(a: f64, b: f64) -> bool {
    (a * b).abs() >= 1e-150 || a == 0.0 || b == 0.0
}

fn hash_of(node: Node, constants: &[f64], pairs: &[(NodeId, NodeId)]) -> u64 {
    match node {
        Node::Constant(at) => mix(1, constants[at as usize].to_bits(), 0),
        Node::Multiply(a, b) => mix(2, u64::from(a.0), u64::from(b.0)),
        Node::Add(a, b) => mix(3, u64::from(a.0), u64::from(b.0)),
        Node::Dot { start, length } => {
            let pairs = &pairs[start as usize..(start + length) as usize];
            pairs
                .iter()
                .fold(mix(4, pairs.len() as u64, 0), |hash, (a, b)| {
                    mix(hash, u64::from(a.0), u64::from(b.0))
                })
        }
        // Never shared, so never asked for.
        Node::Parameter(_) | Node::Input(_) => 0,
    }
}

fn mix(seed: u64, one: u64, other: u64) -> u64 {
    let mut hash = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ one;
    hash = (hash ^ (hash >> 32)).wrapping_mul(0xD6E8_FEB8_6659_FD93);
    hash ^= other;
    hash = (hash ^ (hash >> 32)).wrapping_mul(0xD6E8_FEB8_6659_FD93);
    hash ^ (hash >> 32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_nodes_are_shared_and_constants_folded() {
        let mut nodes = Nodes::new(1000);
        let (a, b) = (nodes.input(0), nodes.input(1));
        assert_eq!(nodes.multiply(a, b), nodes.multiply(b, a));
        assert_eq!(nodes.add(a, ZERO), a);
        assert_eq!(nodes.multiply(a, ZERO), ZERO);
        let (half, third) = (nodes.constant(0.5), nodes.constant(0.25));
        let product = nodes.multiply(half, third);
        assert_eq!(product, nodes.constant(0.125));
        let one = nodes.dot([(a, half), (b, third)]);
        assert_eq!(one, nodes.dot([(third, b), (half, a), (ZERO, a)]));
        assert_eq!(nodes.dot([(ONE, a)]), a);
        assert_eq!(nodes.difference(ONE, ONE), ZERO);
    }

    #[test]
    fn constants_are_not_folded_into_an_underflow() {
        let mut nodes = Nodes::new(1000);
        let (tiny, half) = (nodes.constant(1e-100), nodes.constant(0.5));
        let product = nodes.multiply(tiny, tiny);
        assert_eq!(nodes.value(product), None);
        assert_eq!(nodes.dot([(tiny, tiny)]), product);
        let sum = nodes.dot([(tiny, tiny), (half, half), (half, half)]);
        assert_eq!(nodes.value(sum), None);
        let folded = nodes.dot([(half, half), (half, half)]);
        assert_eq!(folded, half);
    }

    #[test]
    fn growth_beyond_the_limit_is_an_error() {
        let mut nodes = Nodes::new(3);
        for index in 0..10 {
            nodes.input(index);
        }
        assert!(nodes.check_size().is_ok());
        nodes.input(10);
        assert!(matches!(
            nodes.check_size(),
            Err(Error::TooLarge { limit: 3, .. })
        ));
    }
}
