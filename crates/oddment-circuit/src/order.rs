//! The order in which variables are eliminated, and what that will cost.

use std::collections::BTreeSet;

/// What makes a variable the next to be eliminated; ties go to the smaller table, then to the lower
/// index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Criterion {
    /// Fewest neighbour pairs newly connected.
    Fill,
    /// The same, each pair counted as its number of joint states.
    WeightedFill,
    /// Smallest table.
    Weight,
}

/// The interaction graph of a set of factors, with what constrains the order.
#[derive(Debug, Clone)]
pub(crate) struct Graph {
    /// Number of states of each variable.
    pub sizes: Vec<usize>,
    /// Neighbours of each variable: the variables it shares a factor with.
    pub neighbours: Vec<BTreeSet<u32>>,
    /// A variable that must be eliminated before this one.
    pub after: Vec<Option<u32>>,
    /// The variable whose state this one copies or ignores: summing it out then costs no more than
    /// one pass over the source's states.
    pub copies: Vec<Option<u32>>,
}

/// An elimination order with its estimated cost.
pub(crate) struct Order {
    pub sequence: Vec<u32>,
    /// Base-10 logarithm of the summed sizes of all tables the elimination goes through.
    pub log10_operations: f64,
}

impl Graph {
    pub fn new(sizes: Vec<usize>, scopes: impl Iterator<Item = Vec<u32>>) -> Self {
        let mut neighbours = vec![BTreeSet::new(); sizes.len()];
        for scope in scopes {
            for one in &scope {
                for other in &scope {
                    // A variable with one state binds nothing together.
                    let bound = sizes[*one as usize] > 1 && sizes[*other as usize] > 1;
                    if one != other && bound {
                        neighbours[*one as usize].insert(*other);
                    }
                }
            }
        }
        let (after, copies) = (vec![None; sizes.len()], vec![None; sizes.len()]);
        Self {
            sizes,
            neighbours,
            after,
            copies,
        }
    }

    fn log_weight(&self, variable: u32) -> f64 {
        let source = self.copies[variable as usize];
        let thin =
            source.is_some_and(|source| self.neighbours[variable as usize].contains(&source));
        let own = if thin {
            1
        } else {
            self.sizes[variable as usize].max(1)
        };
        let own = libm::log10(own as f64);
        self.neighbours[variable as usize]
            .iter()
            .fold(own, |sum, other| {
                sum + libm::log10(self.sizes[*other as usize].max(1) as f64)
            })
    }

    /// Neighbour pairs that elimination would newly connect, counted as the criterion says.
    fn fill(&self, variable: u32, criterion: Criterion) -> f64 {
        if criterion == Criterion::Weight {
            return 0.0;
        }
        let around: Vec<u32> = self.neighbours[variable as usize].iter().copied().collect();
        let mut fill = 0.0;
        for (place, one) in around.iter().enumerate() {
            let beside = &self.neighbours[*one as usize];
            for other in around[place + 1..]
                .iter()
                .filter(|other| !beside.contains(other))
            {
                fill += match criterion {
                    Criterion::WeightedFill => {
                        (self.sizes[*one as usize] * self.sizes[*other as usize]) as f64
                    }
                    _ => 1.0,
                };
            }
        }
        fill
    }

    /// The cheapest of the orders that the criteria give.
    pub fn order(&self, log10_limit: f64) -> Order {
        let orders = [Criterion::Fill, Criterion::WeightedFill, Criterion::Weight]
            .map(|criterion| self.clone().order_by(criterion, log10_limit));
        let [first, rest @ ..] = orders;
        rest.into_iter().fold(first, |best, order| {
            if order.log10_operations < best.log10_operations {
                order
            } else {
                best
            }
        })
    }

    /// The criterion decides among the variables whose clique fits the limit; variables with at most
    /// one neighbour go at once. When nothing fits any more, the smallest table alone, so that the
    /// estimate still comes quickly on hostile input.
    fn order_by(mut self, criterion: Criterion, log10_limit: f64) -> Order {
        let count = self.sizes.len();
        let mut alive = vec![true; count];
        let mut waiting: Vec<Vec<usize>> = vec![Vec::new(); count];
        for (variable, before) in self.after.iter().enumerate() {
            if let Some(before) = before {
                waiting[*before as usize].push(variable);
            }
        }
        let mut easy: BTreeSet<usize> = (0..count)
            .filter(|v| self.neighbours[*v].len() <= 1)
            .collect();
        // The others that may go, best first, and those to be ranked anew: only when one of them is
        // asked for, since a hub whose leaves go one by one would be ranked each time.
        let mut ranked: BTreeSet<Rank> = BTreeSet::new();
        let mut rank_of: Vec<Option<Rank>> = vec![None; count];
        let mut stale: BTreeSet<usize> = (0..count).collect();
        let mut sequence = Vec::with_capacity(count);
        let mut log10_operations = f64::NEG_INFINITY;
        while sequence.len() < count {
            let ready =
                |v: usize| alive[v] && self.after[v].is_none_or(|before| !alive[before as usize]);
            let mut next = easy.iter().copied().find(|v| ready(*v));
            if next.is_none() {
                for v in std::mem::take(&mut stale) {
                    if let Some(old) = rank_of[v].take() {
                        ranked.remove(&old);
                    }
                    if ready(v) {
                        let rank = self.rank(v, criterion, log10_limit);
                        ranked.insert(rank);
                        rank_of[v] = Some(rank);
                    }
                }
                next = ranked.first().map(|rank| rank.variable);
            }
            // `after` has no cycles, so something may always go.
            let Some(chosen) = next else { break };
            let weight = self.log_weight(chosen as u32);
            log10_operations = log10_add(log10_operations, weight);
            if log10_operations > log10_limit + 30.0 {
                // Hopeless; spare the time. The estimate is already far above any limit.
                break;
            }
            alive[chosen] = false;
            easy.remove(&chosen);
            stale.insert(chosen);
            stale.extend(&waiting[chosen]);
            sequence.push(chosen as u32);
            let around: Vec<u32> = std::mem::take(&mut self.neighbours[chosen])
                .into_iter()
                .collect();
            for one in &around {
                self.neighbours[*one as usize].remove(&(chosen as u32));
            }
            if weight <= log10_limit {
                for one in &around {
                    for other in &around {
                        if one != other {
                            self.neighbours[*one as usize].insert(*other);
                        }
                    }
                }
            }
            for one in &around {
                let beside = &self.neighbours[*one as usize];
                stale.insert(*one as usize);
                if around.len() > 1 {
                    // Where new pairs are connected, others have them as neighbours.
                    stale.extend(beside.iter().map(|other| *other as usize));
                }
                if beside.len() <= 1 {
                    easy.insert(*one as usize);
                } else {
                    easy.remove(&(*one as usize));
                }
            }
        }
        Order {
            sequence,
            log10_operations,
        }
    }

    fn rank(&self, variable: usize, criterion: Criterion, log10_limit: f64) -> Rank {
        let weight = self.log_weight(variable as u32);
        let beyond_limit = weight > log10_limit;
        let fill = if beyond_limit {
            0.0
        } else {
            self.fill(variable as u32, criterion)
        };
        Rank {
            beyond_limit,
            fill: fill.to_bits(),
            weight: weight.to_bits(),
            variable,
        }
    }
}

/// What decides between variables, in this order. Numbers that are not negative are ordered as their
/// bits are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Rank {
    beyond_limit: bool,
    fill: u64,
    weight: u64,
    variable: usize,
}

fn log10_add(one: f64, other: f64) -> f64 {
    let (high, low) = if one >= other {
        (one, other)
    } else {
        (other, one)
    };
    if low == f64::NEG_INFINITY {
        high
    } else {
        high + libm::log10(1.0 + libm::pow(10.0, low - high))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chain_costs_its_pairs() {
        let graph = Graph::new(vec![2; 4], [vec![0, 1], vec![1, 2], vec![2, 3]].into_iter());
        let order = graph.order(6.0);
        assert_eq!(order.sequence, [0, 1, 2, 3]);
        assert!((order.log10_operations - libm::log10(4.0 + 4.0 + 4.0 + 2.0)).abs() < 1e-12);
    }

    #[test]
    fn a_variable_waits_for_the_one_before_it() {
        let mut graph = Graph::new(vec![2; 3], [vec![0, 1], vec![1, 2]].into_iter());
        graph.after[0] = Some(1);
        assert_eq!(graph.order(6.0).sequence, [2, 1, 0]);
    }

    #[test]
    fn a_full_graph_over_the_limit_is_estimated_as_such() {
        let scope: Vec<u32> = (0..60).collect();
        let order = Graph::new(vec![2; 60], std::iter::once(scope)).order(6.0);
        assert!(order.log10_operations >= 60.0 * libm::log10(2.0));
    }
}
