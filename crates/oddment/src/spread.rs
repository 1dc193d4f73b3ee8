//! How surely each number is held: its distribution, its range, and what moves along with it.

use crate::draw;
use crate::pack::{Domain, NumberId, Pack, Shows};
use rand::Rng;

/// How a number may be other than its mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// So by the nature of the thing.
    Fixed,
    /// A chance of its own: Beta.
    Chance,
    /// One of a row of chances: Dirichlet.
    Row(usize),
    /// One of the counts of a variant: Dirichlet out of 1,000.
    Count(usize),
    /// A factor, an elasticity, a stretch: gamma with the strength as its shape.
    Positive,
    /// A shift in a measure's unit: normal.
    Shift,
}

/// The kinds of all numbers of a pack, and which of them sum to one together.
#[derive(Debug, Clone)]
pub(crate) struct Spreads {
    pub kinds: Vec<Kind>,
    /// Rows of chances, then the counts of each variant.
    rows: Vec<Vec<NumberId>>,
    counts: Vec<Vec<NumberId>>,
}

/// Half the width of a 90 % range of a normal quantity, in standard deviations (the 0.95 quantile).
pub(crate) const NORMAL_95: f64 = 1.644_853_626_951_472_2;

impl Spreads {
    pub fn of(pack: &Pack) -> Self {
        let mut kinds: Vec<Kind> = pack
            .numbers
            .iter()
            .map(|number| match number.domain {
                _ if number.structural => Kind::Fixed,
                Domain::Chance | Domain::Share => Kind::Chance,
                Domain::NotNegative | Domain::Stretch => Kind::Positive,
                Domain::Shift { .. } => Kind::Shift,
            })
            .collect();
        let mut rows: Vec<Vec<NumberId>> = Vec::new();
        for sign in &pack.signs {
            let shown: &[Vec<NumberId>] = match &sign.shows {
                Shows::History(rows) => rows,
                Shows::Dated { .. } => &[],
            };
            for row in shown.iter().chain(sign.causes.iter().map(|(_, row)| row)) {
                if row.len() > 1 && !matches!(kinds[row[0].index()], Kind::Row(_)) {
                    for id in row {
                        kinds[id.index()] = Kind::Row(rows.len());
                    }
                    rows.push(row.clone());
                }
            }
        }
        let mut counts = Vec::new();
        for (variant, prior) in pack.priors.iter().enumerate() {
            for id in &prior.counts {
                kinds[id.index()] = Kind::Count(variant);
            }
            counts.push(prior.counts.clone());
        }
        Self {
            kinds,
            rows,
            counts,
        }
    }

    /// The numbers that sum up together with a number, itself among them.
    fn row(&self, id: NumberId) -> Option<&[NumberId]> {
        match self.kinds[id.index()] {
            Kind::Row(row) => Some(&self.rows[row]),
            Kind::Count(variant) => Some(&self.counts[variant]),
            _ => None,
        }
    }

    /// How all numbers move when one of them is raised by one: the others of its row give way in
    /// proportion, so that the sum stays.
    pub fn direction(&self, id: NumberId, numbers: &[f64]) -> Vec<(NumberId, f64)> {
        let mut direction = vec![(id, 1.0)];
        if let Some(row) = self.row(id) {
            let others = row.iter().filter(|other| **other != id);
            let rest: f64 = others.clone().map(|other| numbers[other.index()]).sum();
            if rest > 0.0 {
                direction.extend(others.map(|other| (*other, -numbers[other.index()] / rest)));
            }
        }
        direction
    }

    /// The numbers with two of them at given values, the others of their rows giving way in
    /// proportion.
    pub fn with_two(
        &self,
        one: (NumberId, f64),
        other: (NumberId, f64),
        numbers: &[f64],
    ) -> Vec<f64> {
        let pair = [one, other];
        // Of one number given twice the last value holds.
        let pair = &pair[usize::from(one.0 == other.0)..];
        let mut moved = numbers.to_vec();
        for (id, _) in pair {
            let row = self.row(*id).unwrap_or_default();
            let sum: f64 = row.iter().map(|id| numbers[id.index()]).sum();
            let set = pair.iter().filter(|(id, _)| row.contains(id));
            let taken: f64 = set.map(|(_, value)| value).sum();
            let others = row.iter().filter(|id| pair.iter().all(|set| set.0 != **id));
            let rest: f64 = others.clone().map(|id| numbers[id.index()]).sum();
            if rest > 0.0 {
                // Two values that leave nothing over leave nothing to the others.
                let scale = ((sum - taken) / rest).max(0.0);
                others.for_each(|id| moved[id.index()] = scale * numbers[id.index()]);
            }
        }
        for (id, value) in pair {
            moved[id.index()] = *value;
        }
        moved
    }

    /// The values a number may take at all, around its value here.
    pub fn limits(&self, pack: &Pack, id: NumberId, numbers: &[f64]) -> (f64, f64) {
        let value = numbers[id.index()];
        match self.kinds[id.index()] {
            Kind::Fixed => (value, value),
            Kind::Chance => (0.0, 1.0),
            Kind::Row(_) | Kind::Count(_) => {
                let row = self.row(id).unwrap_or_default();
                (0.0, row.iter().map(|other| numbers[other.index()]).sum())
            }
            // As far as anyone would go: ten times what was elicited, or three for an elasticity
            // or factor of nothing.
            Kind::Positive => match pack.numbers[id.index()].domain {
                Domain::Stretch => (0.1, 10.0),
                _ => (0.0, if value > 0.0 { 10.0 * value } else { 3.0 }),
            },
            Kind::Shift => {
                let far = 5.0 * self.deviation(pack, id).max(1e-9);
                (value - far, value + far)
            }
        }
    }

    /// Standard deviation of a shift: that of one piece over the root of the pieces it is worth.
    fn deviation(&self, pack: &Pack, id: NumberId) -> f64 {
        let number = &pack.numbers[id.index()];
        match number.domain {
            Domain::Shift { deviation } => deviation / number.strength.sqrt(),
            _ => 0.0,
        }
    }

    /// The 90 % range of a number around its value here.
    pub fn range(&self, pack: &Pack, id: NumberId, numbers: &[f64]) -> (f64, f64) {
        let value = numbers[id.index()];
        let strength = pack.numbers[id.index()].strength;
        let beta = |mean: f64| {
            if mean <= 0.0 || mean >= 1.0 {
                return (mean, mean);
            }
            let at = |share| draw::beta_quantile(share, mean, strength);
            (at(0.05), at(0.95))
        };
        match self.kinds[id.index()] {
            Kind::Fixed => (value, value),
            Kind::Chance => beta(value),
            Kind::Row(_) | Kind::Count(_) => {
                let total = self.limits(pack, id, numbers).1;
                let (low, high) = beta(value / total);
                (low * total, high * total)
            }
            Kind::Positive if value <= 0.0 => (value, value),
            Kind::Positive => {
                let at = |share| draw::gamma_quantile(share, strength) / strength * value;
                (at(0.05), at(0.95))
            }
            Kind::Shift => {
                let half = NORMAL_95 * self.deviation(pack, id);
                (value - half, value + half)
            }
        }
    }

    /// Draws these numbers around their values in `centre` into `numbers`; rows are drawn whole.
    pub fn draw(
        &self,
        pack: &Pack,
        ids: &[NumberId],
        centre: &[f64],
        rng: &mut impl Rng,
        numbers: &mut [f64],
    ) {
        let mut row_drawn = None;
        for id in ids {
            let place = id.index();
            let (kind, strength) = (self.kinds[place], pack.numbers[place].strength);
            let value = centre[place];
            match kind {
                Kind::Fixed => {}
                Kind::Chance if value <= 0.0 || value >= 1.0 => {}
                Kind::Chance => numbers[place] = draw::beta(value, strength, rng),
                Kind::Row(_) | Kind::Count(_) => {
                    if row_drawn == Some(kind) {
                        continue;
                    }
                    row_drawn = Some(kind);
                    let row = self.row(*id).unwrap_or_default();
                    let total: f64 = row.iter().map(|other| centre[other.index()]).sum();
                    let mut shares = [0.0; 64];
                    let mut means = [0.0; 64];
                    let length = row.len().min(64);
                    for (mean, other) in means.iter_mut().zip(row) {
                        *mean = centre[other.index()] / total;
                    }
                    let (means, shares) = (&means[..length], &mut shares[..length]);
                    draw::dirichlet(means, strength, rng, shares);
                    for (share, other) in shares.iter().zip(row) {
                        numbers[other.index()] = share * total;
                    }
                }
                Kind::Positive if value <= 0.0 => {}
                Kind::Positive => {
                    numbers[place] = value * draw::gamma(strength, rng) / strength;
                }
                Kind::Shift => {
                    let deviation = self.deviation(pack, *id);
                    numbers[place] = value + deviation * draw::standard_normal(rng);
                }
            }
        }
    }
}
