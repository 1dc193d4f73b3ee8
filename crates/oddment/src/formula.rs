//! How everything that is computed from elicited numbers is computed: once as plain arithmetic,
//! once as formulas that can be evaluated again for other numbers and differentiated by them.

use crate::order::sort_numbers;
use crate::pack::NumberId;
use hashbrown::HashTable;
use std::collections::{BTreeMap, BTreeSet};

/// What the model's entries are computed with. Everything is written once, for either.
pub(crate) trait Arithmetic {
    /// A value: a plain number, or a formula.
    type Value: Copy;

    fn constant(&mut self, value: f64) -> Self::Value;
    fn number(&mut self, id: NumberId) -> Self::Value;
    fn plus(&mut self, a: Self::Value, b: Self::Value) -> Self::Value;
    fn times(&mut self, a: Self::Value, b: Self::Value) -> Self::Value;
    fn over(&mut self, a: Self::Value, b: Self::Value) -> Self::Value;
    /// `1 - a`.
    fn rest(&mut self, a: Self::Value) -> Self::Value;
    /// `min(a, 1 - a)`.
    fn lesser(&mut self, a: Self::Value) -> Self::Value;
    /// `max(a, floor)`.
    fn at_least(&mut self, a: Self::Value, floor: f64) -> Self::Value;
    /// `base^a`, for a base above zero.
    fn power(&mut self, base: f64, a: Self::Value) -> Self::Value;
    /// Mean over some shares of each share with its odds multiplied by those of `a`:
    /// `u a / (u a + (1 - u) (1 - a))`.
    fn moved_share(&mut self, shares: &[f64], a: Self::Value) -> Self::Value;

    fn sum(&mut self, values: &[Self::Value]) -> Self::Value {
        let mut total = self.constant(0.0);
        for value in values {
            total = self.plus(total, *value);
        }
        total
    }
}

/// Sets of numbers evaluated side by side.
pub(crate) const ABREAST: usize = 8;

fn abreast(a: &[f64; ABREAST], b: &[f64; ABREAST], of: impl Fn(f64, f64) -> f64) -> [f64; ABREAST] {
    std::array::from_fn(|place| of(a[place], b[place]))
}

/// A share with its odds multiplied by those of `half`, which changes nothing at one half, nor where
/// nobody or everybody did it.
fn moved(share: f64, half: f64) -> f64 {
    if share == 0.0 || share == 1.0 {
        return share;
    }
    let (for_it, against) = (share * half, (1.0 - share) * (1.0 - half));
    for_it / (for_it + against)
}

fn mean_moved(shares: &[f64], half: f64) -> f64 {
    if half == 0.5 {
        return shares.iter().sum::<f64>() / shares.len() as f64;
    }
    // Outside a curve's points all years of a bin have the same share.
    if shares.windows(2).all(|pair| pair[0] == pair[1]) {
        return moved(shares[0], half);
    }
    let sum: f64 = shares.iter().map(|share| moved(*share, half)).sum();
    sum / shares.len() as f64
}

/// Plain arithmetic on given values of the numbers.
pub(crate) struct Plain<'n>(pub &'n [f64]);

impl Arithmetic for Plain<'_> {
    type Value = f64;

    fn constant(&mut self, value: f64) -> f64 {
        value
    }
    fn number(&mut self, id: NumberId) -> f64 {
        self.0[id.index()]
    }
    fn plus(&mut self, a: f64, b: f64) -> f64 {
        a + b
    }
    fn times(&mut self, a: f64, b: f64) -> f64 {
        a * b
    }
    fn over(&mut self, a: f64, b: f64) -> f64 {
        a / b
    }
    fn rest(&mut self, a: f64) -> f64 {
        1.0 - a
    }
    fn lesser(&mut self, a: f64) -> f64 {
        a.min(1.0 - a)
    }
    fn at_least(&mut self, a: f64, floor: f64) -> f64 {
        a.max(floor)
    }
    fn power(&mut self, base: f64, a: f64) -> f64 {
        libm::pow(base, a)
    }
    fn moved_share(&mut self, shares: &[f64], a: f64) -> f64 {
        mean_moved(shares, a)
    }
}

/// A formula's place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct FormulaId(u32);

impl FormulaId {
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Formula {
    Constant(f64),
    Number(NumberId),
    Plus(FormulaId, FormulaId),
    Times(FormulaId, FormulaId),
    Over(FormulaId, FormulaId),
    Rest(FormulaId),
    Lesser(FormulaId),
    AtLeast(FormulaId, f64),
    Power(f64, FormulaId),
    /// Range of [`Formulas::shares`].
    MovedShare(u32, u32, FormulaId),
}

/// What tells two formulas apart.
type Key = (u8, u64, u64);

/// The same on every machine, though nothing but speed hangs on it.
fn hash_of((kind, one, other): &Key) -> u64 {
    let mut hash = u64::from(*kind);
    for part in [one, other] {
        hash = (hash ^ part).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        hash ^= hash >> 32;
    }
    hash.wrapping_mul(0xD6E8_FEB8_6659_FD93)
}

/// A tape of formulas over the numbers; equal formulas are one.
#[derive(Debug, Clone, Default)]
pub(crate) struct Formulas {
    steps: Vec<Formula>,
    shares: Vec<f64>,
    known: HashTable<(Key, FormulaId)>,
    users: Vec<Vec<u32>>,
    known_shares: BTreeMap<Vec<u64>, (u32, u32)>,
}

impl Formulas {
    fn push(&mut self, key: Key, formula: Formula) -> FormulaId {
        let hash = hash_of(&key);
        if let Some((_, id)) = self.known.find(hash, |(known, _)| *known == key) {
            return *id;
        }
        let id = FormulaId(self.steps.len() as u32);
        self.steps.push(formula);
        self.known
            .insert_unique(hash, (key, id), |(known, _)| hash_of(known));
        id
    }

    /// The numbers that some formula uses, in order.
    pub fn numbers(&self) -> Vec<NumberId> {
        let mut numbers: Vec<NumberId> = self
            .steps
            .iter()
            .filter_map(|step| match step {
                Formula::Number(id) => Some(*id),
                _ => None,
            })
            .collect();
        numbers.sort_unstable();
        numbers
    }

    /// Evaluates all formulas at given numbers.
    pub fn evaluate(&self, numbers: &[f64], values: &mut Vec<f64>) {
        values.clear();
        self.evaluate_from(numbers, values);
    }

    /// Evaluates the formulas that came since `values` was last filled.
    pub fn evaluate_from(&self, numbers: &[f64], values: &mut Vec<f64>) {
        let known = values.len();
        values.resize(self.steps.len().max(known), 0.0);
        let values = &mut values[..];
        for place in known..self.steps.len() {
            values[place] = self.value(&self.steps[place], numbers, values);
        }
    }

    /// Evaluates all formulas at up to [`ABREAST`] sets of numbers side by side.
    pub fn evaluate_abreast(&self, sets: &[Vec<f64>], values: &mut Vec<[f64; ABREAST]>) {
        values.clear();
        values.reserve(self.steps.len());
        let each = |of: &dyn Fn(usize) -> f64| -> [f64; ABREAST] { std::array::from_fn(of) };
        for step in &self.steps {
            let at = |id: FormulaId| &values[id.index()];
            let value = match *step {
                Formula::Constant(value) => [value; ABREAST],
                // A set that is not there repeats the last; nobody reads it.
                Formula::Number(id) => each(&|set| {
                    let last = sets.len().saturating_sub(1);
                    sets.get(set.min(last)).map_or(0.0, |set| set[id.index()])
                }),
                Formula::Plus(a, b) => abreast(at(a), at(b), |a, b| a + b),
                Formula::Times(a, b) => abreast(at(a), at(b), |a, b| a * b),
                Formula::Over(a, b) => abreast(at(a), at(b), |a, b| a / b),
                Formula::Rest(a) => at(a).map(|a| 1.0 - a),
                Formula::Lesser(a) => at(a).map(|a| a.min(1.0 - a)),
                Formula::AtLeast(a, floor) => at(a).map(|a| a.max(floor)),
                Formula::Power(base, a) => at(a).map(|a| libm::pow(base, a)),
                Formula::MovedShare(from, to, a) => {
                    let shares = &self.shares[from as usize..to as usize];
                    at(a).map(|half| mean_moved(shares, half))
                }
            };
            values.push(value);
        }
    }

    /// Evaluates some formulas again, which must run upward.
    pub fn evaluate_steps(&self, numbers: &[f64], steps: &[usize], values: &mut [f64]) {
        for place in steps {
            values[*place] = self.value(&self.steps[*place], numbers, values);
        }
    }

    // Plain indices: where this is compiled small, a closure stays a call.
    fn value(&self, step: &Formula, numbers: &[f64], values: &[f64]) -> f64 {
        match *step {
            Formula::Constant(value) => value,
            Formula::Number(id) => numbers[id.index()],
            Formula::Plus(a, b) => values[a.index()] + values[b.index()],
            Formula::Times(a, b) => values[a.index()] * values[b.index()],
            Formula::Over(a, b) => values[a.index()] / values[b.index()],
            Formula::Rest(a) => 1.0 - values[a.index()],
            Formula::Lesser(a) => values[a.index()].min(1.0 - values[a.index()]),
            Formula::AtLeast(a, floor) => values[a.index()].max(floor),
            Formula::Power(base, a) => libm::pow(base, values[a.index()]),
            Formula::MovedShare(from, to, a) => {
                mean_moved(&self.shares[from as usize..to as usize], values[a.index()])
            }
        }
    }

    /// Passes the derivatives of something by the formulas back to the numbers: on entry `slopes`
    /// holds, for each formula, its derivative by the formula's value; afterwards `numbers` has
    /// been added to.
    pub fn pass_back(&self, values: &[f64], slopes: &mut [f64], numbers: &mut [f64]) {
        for (place, step) in self.steps.iter().enumerate().rev() {
            let slope = slopes[place];
            if slope == 0.0 {
                continue;
            }
            match *step {
                Formula::Constant(_) => {}
                Formula::Number(id) => numbers[id.index()] += slope,
                Formula::Plus(a, b) => {
                    slopes[a.index()] += slope;
                    slopes[b.index()] += slope;
                }
                Formula::Times(a, b) => {
                    slopes[a.index()] += slope * values[b.index()];
                    slopes[b.index()] += slope * values[a.index()];
                }
                Formula::Over(a, b) => {
                    slopes[a.index()] += slope / values[b.index()];
                    slopes[b.index()] -=
                        slope * values[a.index()] / (values[b.index()] * values[b.index()]);
                }
                Formula::Rest(a) => slopes[a.index()] -= slope,
                Formula::Lesser(a) => {
                    slopes[a.index()] += if values[a.index()] <= 0.5 {
                        slope
                    } else {
                        -slope
                    };
                }
                Formula::AtLeast(a, floor) => {
                    if values[a.index()] >= floor {
                        slopes[a.index()] += slope;
                    }
                }
                Formula::Power(base, a) => {
                    slopes[a.index()] +=
                        slope * libm::log(base) * libm::pow(base, values[a.index()]);
                }
                Formula::MovedShare(from, to, a) => {
                    let shares = &self.shares[from as usize..to as usize];
                    let half = values[a.index()];
                    let each = shares.iter().map(|share| {
                        if *share == 0.0 || *share == 1.0 {
                            return 0.0;
                        }
                        let total = share * half + (1.0 - share) * (1.0 - half);
                        share * (1.0 - share) / (total * total)
                    });
                    slopes[a.index()] += slope * each.sum::<f64>() / shares.len() as f64;
                }
            }
        }
    }

    /// For each formula, those that use it.
    fn users(&self) -> Vec<Vec<u32>> {
        let mut users = vec![Vec::new(); self.steps.len()];
        for (place, step) in self.steps.iter().enumerate() {
            let mut note = |id: FormulaId| users[id.index()].push(place as u32);
            match *step {
                Formula::Constant(_) | Formula::Number(_) => {}
                Formula::Plus(a, b) | Formula::Times(a, b) | Formula::Over(a, b) => {
                    note(a);
                    note(b);
                }
                Formula::Rest(a)
                | Formula::Lesser(a)
                | Formula::AtLeast(a, _)
                | Formula::Power(_, a)
                | Formula::MovedShare(_, _, a) => note(a),
            }
        }
        users
    }

    /// How formulas depend on one direction of the numbers.
    pub fn dependence(&self, values: &[f64], direction: &[(NumberId, f64)]) -> Dependence {
        // By formula that moves at all: its change to first order, and its degree. Formulas use
        // earlier ones only, so that they can be gone through upward.
        let mut moved: BTreeMap<u32, (f64, u32)> = BTreeMap::new();
        let mut open: BTreeSet<u32> = BTreeSet::new();
        for (number, slope) in direction {
            let key = (1, number.index() as u64, 0);
            let known = self.known.find(hash_of(&key), |(known, _)| *known == key);
            let Some((_, id)) = known else {
                continue;
            };
            moved.insert(id.0, (*slope, 1));
            open.extend(&self.users[id.index()]);
        }
        let mut kinks = Vec::new();
        let mut polynomial = true;
        while let Some(place) = open.pop_first() {
            let at = |id: FormulaId| values[id.index()];
            let of = |id: FormulaId| moved.get(&id.0).copied().unwrap_or((0.0, 0));
            // A kink lies where what bends crosses a level; it is straight up to there.
            let mut kink = |a: FormulaId, level: f64| {
                let slope = of(a).0;
                if slope != 0.0 {
                    kinks.push((level - at(a)) / slope);
                }
            };
            let result = match self.steps[place as usize] {
                Formula::Constant(_) | Formula::Number(_) => continue,
                Formula::Plus(a, b) => {
                    let ((x, m), (y, n)) = (of(a), of(b));
                    // What gives way to what is raised, as in the sum of a row, stands still.
                    if (x + y).abs() < 1e-12 * x.abs().max(y.abs()) && m.max(n) <= 1 {
                        continue;
                    }
                    (x + y, m.max(n))
                }
                Formula::Times(a, b) => {
                    let ((x, m), (y, n)) = (of(a), of(b));
                    (x * at(b) + y * at(a), m + n)
                }
                Formula::Over(a, b) => {
                    let ((x, m), (_, n)) = (of(a), of(b));
                    polynomial &= n == 0;
                    (x / at(b), m)
                }
                Formula::Rest(a) => (-of(a).0, of(a).1),
                Formula::Lesser(a) => {
                    kink(a, 0.5);
                    let (x, m) = of(a);
                    (if at(a) <= 0.5 { x } else { -x }, m)
                }
                Formula::AtLeast(a, floor) => {
                    kink(a, floor);
                    let (x, m) = of(a);
                    (if at(a) >= floor { x } else { 0.0 }, m)
                }
                Formula::Power(_, a) | Formula::MovedShare(_, _, a) => {
                    polynomial = false;
                    of(a)
                }
            };
            moved.insert(place, result);
            open.extend(&self.users[place as usize]);
        }
        sort_numbers(&mut kinks);
        kinks.dedup_by(|a, b| (*a - *b).abs() < 1e-12);
        Dependence {
            degrees: moved
                .into_iter()
                .map(|(place, (_, degree))| (place as usize, degree))
                .collect(),
            kinks,
            polynomial,
        }
    }

    /// Closes the tape: needed before [`dependence`](Self::dependence).
    pub fn close(&mut self) {
        self.users = self.users();
    }
}

/// How formulas depend on a parameter t that moves the numbers along a direction.
#[derive(Debug, Clone)]
pub(crate) struct Dependence {
    /// Places of the formulas that move, each with the most its degree in t can be.
    pub degrees: Vec<(usize, u32)>,
    /// Values of t where some formula has a kink, rising.
    pub kinks: Vec<f64>,
    /// Whether every formula is a polynomial in t between kinks.
    pub polynomial: bool,
}

impl Arithmetic for Formulas {
    type Value = FormulaId;

    fn constant(&mut self, value: f64) -> FormulaId {
        self.push((0, value.to_bits(), 0), Formula::Constant(value))
    }
    fn number(&mut self, id: NumberId) -> FormulaId {
        self.push((1, id.index() as u64, 0), Formula::Number(id))
    }
    fn plus(&mut self, a: FormulaId, b: FormulaId) -> FormulaId {
        match (self.steps[a.index()], self.steps[b.index()]) {
            (Formula::Constant(x), Formula::Constant(y)) => self.constant(x + y),
            (Formula::Constant(0.0), _) => b,
            (_, Formula::Constant(0.0)) => a,
            _ => self.push((2, u64::from(a.0), u64::from(b.0)), Formula::Plus(a, b)),
        }
    }
    fn times(&mut self, a: FormulaId, b: FormulaId) -> FormulaId {
        match (self.steps[a.index()], self.steps[b.index()]) {
            (Formula::Constant(x), Formula::Constant(y)) => self.constant(x * y),
            (Formula::Constant(1.0), _) => b,
            (_, Formula::Constant(1.0)) => a,
            (Formula::Constant(0.0), _) | (_, Formula::Constant(0.0)) => self.constant(0.0),
            _ => self.push((3, u64::from(a.0), u64::from(b.0)), Formula::Times(a, b)),
        }
    }
    fn over(&mut self, a: FormulaId, b: FormulaId) -> FormulaId {
        self.push((4, u64::from(a.0), u64::from(b.0)), Formula::Over(a, b))
    }
    fn rest(&mut self, a: FormulaId) -> FormulaId {
        match self.steps[a.index()] {
            Formula::Constant(value) => self.constant(1.0 - value),
            _ => self.push((5, u64::from(a.0), 0), Formula::Rest(a)),
        }
    }
    fn lesser(&mut self, a: FormulaId) -> FormulaId {
        match self.steps[a.index()] {
            Formula::Constant(value) => self.constant(value.min(1.0 - value)),
            _ => self.push((6, u64::from(a.0), 0), Formula::Lesser(a)),
        }
    }
    fn at_least(&mut self, a: FormulaId, floor: f64) -> FormulaId {
        match self.steps[a.index()] {
            Formula::Constant(value) => self.constant(value.max(floor)),
            _ => self.push(
                (7, u64::from(a.0), floor.to_bits()),
                Formula::AtLeast(a, floor),
            ),
        }
    }
    fn power(&mut self, base: f64, a: FormulaId) -> FormulaId {
        self.push((8, base.to_bits(), u64::from(a.0)), Formula::Power(base, a))
    }
    fn moved_share(&mut self, shares: &[f64], a: FormulaId) -> FormulaId {
        // A technology that did not exist yet, or all of the trade used, is so whatever the curve.
        if shares.iter().all(|share| *share == 0.0) {
            return self.constant(0.0);
        }
        let bits: Vec<u64> = shares.iter().map(|share| share.to_bits()).collect();
        let (from, to) = *self.known_shares.entry(bits).or_insert_with(|| {
            let from = self.shares.len() as u32;
            self.shares.extend(shares);
            (from, self.shares.len() as u32)
        });
        self.push(
            (9, u64::from(from), u64::from(a.0)),
            Formula::MovedShare(from, to, a),
        )
    }
}
