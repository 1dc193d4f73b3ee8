//! How often each sign shows, in closed form: incidents, dates and clarity summed out one sign at a
//! time.

use crate::examination::channel;
use crate::formula::{Arithmetic, Plain};
use crate::pack::{NumberId, Origin, Pack, Shows};
use crate::prior::{claim_weights, date_row, yearly_shares};
use std::collections::BTreeMap;

/// Which incidents may happen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Events {
    /// All of them, as often as the pack says.
    All,
    /// None.
    None,
    /// All but this one.
    AllBut(usize),
}

impl Events {
    fn allow(self, incident: usize) -> bool {
        match self {
            Self::All => true,
            Self::None => false,
            Self::AllBut(other) => other != incident,
        }
    }
}

/// Chances of every sign on its own, for one claim.
///
/// Given a history, a sign's incidents are independent, so that
///
/// ```text
/// P(level <= l) = 1 - (1 - removed) (prod (1 - q_k r_k) - F(l) prod (1 - q_k + q_k F_k(l) (1 - r_k)))
/// ```
///
/// with `q_k` the rate of incident k, `F_k` what it causes and `r_k` the chance that it hides; a
/// group's two clarities average to the chance itself, and `F` of a dated sign is the mean over the
/// making dates.
#[derive(Debug)]
pub(crate) struct Marginals<'a> {
    pack: &'a Pack,
    numbers: Vec<f64>,
    /// For each history and part the chance of each date bin, once for each way of making it.
    dates: Vec<Vec<f64>>,
    date_of: Vec<Vec<Option<usize>>>,
    /// For each curve that a sign uses, the share in use in each date bin.
    in_use: BTreeMap<usize, Vec<f64>>,
}

impl<'a> Marginals<'a> {
    pub fn new(pack: &'a Pack, years: (i32, i32)) -> Self {
        let numbers = pack.means();
        let mut in_use = BTreeMap::new();
        for sign in &pack.signs {
            if let Shows::Dated { curve, .. } = sign.shows {
                in_use
                    .entry(curve)
                    .or_insert_with(|| shares_in_use(pack, curve, &numbers));
            }
        }
        let mut dates = Vec::new();
        let mut known: Vec<(Origin, usize)> = Vec::new();
        let mut date_of = Vec::new();
        for history in &pack.histories {
            let of_part = (0..pack.parts.len()).map(|part| {
                let origin = own_origin(&history.origins, part)?;
                if let Some((_, place)) = known.iter().find(|(other, _)| *other == origin) {
                    return Some(*place);
                }
                dates.push(date_row(pack, origin, years)?);
                known.push((origin, dates.len() - 1));
                Some(dates.len() - 1)
            });
            date_of.push(of_part.collect());
        }
        Self {
            pack,
            numbers,
            dates,
            date_of,
            in_use,
        }
    }

    fn number(&self, id: NumberId) -> f64 {
        self.numbers[id.index()]
    }

    fn number_or_none(&self, id: Option<NumberId>) -> f64 {
        id.map_or(0.0, |id| self.number(id))
    }

    /// Chance of each date bin of a part under a history.
    pub fn dates(&self, history: usize, part: usize) -> Option<&[f64]> {
        Some(&self.dates[self.date_of[history][part]?])
    }

    /// Share in use in each date bin.
    pub fn in_use(&self, curve: usize) -> &[f64] {
        self.in_use.get(&curve).map_or(&[], Vec::as_slice)
    }

    /// Chance of each level of a sign at a part under a history.
    pub fn levels(&self, sign: usize, part: usize, history: usize, events: Events) -> Vec<f64> {
        let of = &self.pack.signs[sign];
        let base = self.base(sign, part, history);
        let mut kept = 1.0 - self.removed(sign, history);
        let mut below: Vec<f64> = base.iter().map(|below| below * kept).collect();
        for (place, incident) in self.pack.incidents.iter().enumerate() {
            let causes = of.causes.iter().find(|(incident, _)| *incident == place);
            let hides = of.hides.iter().find(|(incident, _)| *incident == place);
            if (causes.is_none() && hides.is_none()) || !events.allow(place) {
                continue;
            }
            let rate = self.number(incident.rates[history]);
            let left = 1.0 - hides.map_or(0.0, |(_, chance)| self.number(*chance));
            kept *= 1.0 - rate + rate * left;
            let caused = causes.map(|(_, row)| cumulative(&self.pack.spread(row)));
            for (level, below) in below.iter_mut().enumerate() {
                let caused = caused.as_ref().map_or(1.0, |caused| caused[level]);
                *below *= 1.0 - rate + rate * caused * left;
            }
        }
        let mut levels = Vec::with_capacity(of.levels.len());
        let mut before = 0.0;
        for below in below.iter().map(|below| 1.0 - kept + below) {
            levels.push((below - before).max(0.0));
            before = below;
        }
        levels.push((1.0 - before).max(0.0));
        levels
    }

    /// Chance that a history itself takes a dated sign off.
    fn removed(&self, sign: usize, history: usize) -> f64 {
        match &self.pack.signs[sign].shows {
            Shows::Dated { removed, .. } => self.number_or_none(removed[history]),
            Shows::History(_) => 0.0,
        }
    }

    /// Chances of staying at each level but the last or below, for the history's own part.
    fn base(&self, sign: usize, part: usize, history: usize) -> Vec<f64> {
        match &self.pack.signs[sign].shows {
            Shows::History(rows) => cumulative(&self.pack.spread(&rows[history])),
            Shows::Dated {
                curve,
                visible,
                added,
                ..
            } => {
                let visible = self.number(*visible);
                let shares = self.in_use(*curve);
                let absent: f64 = match self.dates(history, part) {
                    Some(dates) => dates
                        .iter()
                        .zip(shares)
                        .map(|(chance, share)| chance * (1.0 - visible * share))
                        .sum(),
                    None => 1.0,
                };
                vec![absent * (1.0 - self.number_or_none(added[history]))]
            }
        }
    }
}

fn shares_in_use(pack: &Pack, curve: usize, numbers: &[f64]) -> Vec<f64> {
    let mut plain = Plain(numbers);
    let half = plain.number(pack.curve_halves[curve]);
    yearly_shares(pack, curve)
        .iter()
        .map(|shares| plain.moved_share(shares, half))
        .collect()
}

/// When a part was made, seen through the parts whose date it shares.
fn own_origin(origins: &[Option<Origin>], part: usize) -> Option<Origin> {
    let mut at = part;
    // A circle does not load; one would end here all the same.
    for _ in 0..=origins.len() {
        match (*origins.get(at)?)? {
            Origin::Shares(other) => at = other,
            origin => return Some(origin),
        }
    }
    None
}

/// Chances of staying at each level but the last or below.
fn cumulative(row: &[f64]) -> Vec<f64> {
    let total: f64 = row.iter().sum();
    let mut sum = 0.0;
    row[..row.len().saturating_sub(1)]
        .iter()
        .map(|chance| {
            sum += chance;
            sum / total
        })
        .collect()
}

/// Which examinations a report may come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Care {
    /// One known to be sound.
    Sound,
    /// Sound or poor, as often as the pack says.
    Usual,
}

/// Chance of each report (second index) of an average examiner at each true level (first index).
pub(crate) fn reports(pack: &Pack, sign: usize, care: Care) -> Vec<Vec<f64>> {
    let numbers = pack.means();
    let of = |poor| channel(pack, &numbers, &pack.signs[sign], poor, 1.0);
    let mut sound = of(false);
    if care == Care::Sound {
        return sound;
    }
    let poor = pack.number(pack.examination.poor);
    for (row, other) in sound.iter_mut().zip(of(true)) {
        for (chance, other) in row.iter_mut().zip(other) {
            *chance = (1.0 - poor) * *chance + poor * other;
        }
    }
    sound
}

/// What is reported of levels with these chances.
pub(crate) fn reported(levels: &[f64], reports: &[Vec<f64>]) -> Vec<f64> {
    (0..levels.len())
        .map(|report| {
            let rows = levels.iter().zip(reports);
            rows.map(|(chance, row)| chance * row[report]).sum()
        })
        .collect()
}

/// What the outcomes of one observation are expected to tell of which history it is, in bits.
///
/// ```text
/// sum over h of P(h) sum over r of P(r | h) log2(P(r | h) / P(r))
/// ```
pub(crate) fn information(priors: &[f64], rows: &[Vec<f64>]) -> f64 {
    let outcomes = rows.first().map_or(0, Vec::len);
    let mut bits = 0.0;
    for outcome in 0..outcomes {
        let pairs = || priors.iter().zip(rows).map(|(p, row)| (p, row[outcome]));
        let mean: f64 = pairs().map(|(prior, chance)| prior * chance).sum();
        bits += pairs()
            .filter(|(prior, chance)| **prior > 0.0 && *chance > 0.0)
            .map(|(prior, chance)| prior * chance * libm::log2(chance / mean))
            .sum::<f64>();
    }
    bits.max(0.0)
}

/// The most variants, periods or regions gone through, evenly chosen where there are more.
pub(crate) const MOST_CLAIMED: usize = 24;

/// Places of a list, all or evenly chosen.
pub(crate) fn some_of(length: usize, most: usize) -> Vec<usize> {
    let most = most.clamp(1, MOST_CLAIMED);
    if length <= most {
        (0..length).collect()
    } else {
        (0..most).map(|place| place * length / most).collect()
    }
}

/// What pieces are offered as: for each period, how they divide over the histories.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Offered {
    /// Index of the period, and the weight of each history; all weights together come to 1.
    pub periods: Vec<(usize, Vec<f64>)>,
}

impl Offered {
    /// Pieces of these variants, periods and regions in equal parts; `None` where none of them gives
    /// any history any odds.
    pub fn of(
        pack: &Pack,
        variants: &[usize],
        periods: &[usize],
        regions: &[usize],
    ) -> Option<Self> {
        let mut claims = 0.0;
        let mut offered: Vec<(usize, Vec<f64>)> = Vec::new();
        for period in periods {
            let mut sums = vec![0.0; pack.histories.len()];
            for variant in variants {
                for region in regions {
                    let weights = claim_weights(pack, [*variant, *period, *region]);
                    let total: f64 = weights.iter().sum();
                    // What cannot be claimed at all is told elsewhere.
                    if !(total > 0.0 && total.is_finite()) {
                        continue;
                    }
                    claims += 1.0;
                    for (sum, weight) in sums.iter_mut().zip(&weights) {
                        *sum += weight / total;
                    }
                }
            }
            offered.push((*period, sums));
        }
        if claims == 0.0 {
            return None;
        }
        for weight in offered.iter_mut().flat_map(|(_, weights)| weights) {
            *weight /= claims;
        }
        Some(Self { periods: offered })
    }

    /// Weight of each history over all periods.
    pub fn histories(&self) -> Vec<f64> {
        let mut sums = vec![0.0; self.periods.first().map_or(0, |(_, weights)| weights.len())];
        for (_, weights) in &self.periods {
            for (sum, weight) in sums.iter_mut().zip(weights) {
                *sum += weight;
            }
        }
        sums
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn information_is_that_of_a_noisy_channel() {
        // A fair coin told rightly 9 times in 10: 1 - H(0.1).
        let rows = [vec![0.9, 0.1], vec![0.1, 0.9]];
        let bits = information(&[0.5, 0.5], &rows);
        assert!((bits - 0.531_004_406_410_719).abs() < 1e-12, "{bits}");
        assert_eq!(
            information(&[0.5, 0.5], &[vec![0.3, 0.7], vec![0.3, 0.7]]),
            0.0
        );
        assert_eq!(information(&[], &[]), 0.0);
        let nothing = f64::NAN;
        assert_eq!(information(&[1.0], &[vec![nothing]]), 0.0);
    }

    #[test]
    fn a_choice_is_even_and_never_empty() {
        assert_eq!(some_of(3, 24), [0, 1, 2]);
        assert_eq!(some_of(100, 4), [0, 25, 50, 75]);
        assert_eq!(some_of(100, 0), [0]);
        assert_eq!(some_of(1000, usize::MAX).len(), MOST_CLAIMED);
        assert!(some_of(0, 5).is_empty());
    }

    #[test]
    fn every_sign_has_the_chances_that_the_engine_gives_it() {
        let pack = crate::packs::load("drop-leaf-table").unwrap_or_else(|e| panic!("{e}"));
        let period = &pack.periods[1];
        let years = (period.from, period.to);
        let model = crate::Model::compile(&pack, years, &pack.means());
        let model = model.unwrap_or_else(|error| panic!("{error}"));
        let marginals = Marginals::new(&pack, years);
        let mut workspace = model.workspace(1);
        model.circuit.derivative(&mut workspace);
        for leaf in &model.leaves {
            for history in 0..pack.histories.len() {
                let levels = marginals.levels(leaf.sign, leaf.part, history, Events::All);
                for (level, chance) in levels.iter().enumerate() {
                    let (circuit, variable) = (&model.circuit, leaf.variable);
                    let engine = circuit.lane_joint(&workspace, 0, history, variable, level);
                    assert!((engine - chance).abs() < 1e-12, "{engine} {chance}");
                }
            }
        }
    }
}
