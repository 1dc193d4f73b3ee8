//! Prior odds of the histories, and when each history says a part was made.

use crate::case::Case;
use crate::formula::{Arithmetic, Plain};
use crate::pack::file::CurveFile;
use crate::pack::{Origin, Pack, PriorFactor};

/// Prior probability of each history: the variant's counts, shifted by period and region, times the
/// temptation of the price gap; normalised.
///
/// ```text
/// count * factors * (ratio / reference ratio)^elasticity
/// ```
///
/// where `ratio` is the price as claimed over that of the plainer thing; at the reference ratio, and
/// where no prices are given, nothing changes. A user's own prior replaces all of it.
pub fn history_priors(pack: &Pack, case: &Case) -> Vec<f64> {
    let weights = prior_weights(&mut Plain(&case.numbers), pack, case);
    let total: f64 = weights.iter().sum();
    weights.iter().map(|weight| weight / total).collect()
}

/// What [`history_priors`] are before they are normalised, in any arithmetic.
pub(crate) fn prior_weights<A: Arithmetic>(a: &mut A, pack: &Pack, case: &Case) -> Vec<A::Value> {
    if let Some(prior) = &case.prior {
        return prior.iter().map(|count| a.constant(*count)).collect();
    }
    (0..pack.histories.len())
        .map(|history| {
            let mut weight = a.number(pack.priors[case.variant].counts[history]);
            for factor in applying_factors(pack, case) {
                if let Some(id) = factor.factors[history] {
                    let factor = a.number(id);
                    weight = a.times(weight, factor);
                }
            }
            if let (Some(prices), Some(elasticity)) =
                (&case.file.piece.prices, pack.histories[history].elasticity)
            {
                let reference = pack.variants[case.variant].price_ratio;
                let ratio = prices.as_claimed / prices.plainer / reference;
                let elasticity = a.number(elasticity);
                let temptation = a.power(ratio, elasticity);
                weight = a.times(weight, temptation);
            }
            weight
        })
        .collect()
}

/// Prior weight of each history for a variant, a period and a region, at the reference price ratio;
/// not normalised.
pub(crate) fn claim_weights(pack: &Pack, claim: [usize; 3]) -> Vec<f64> {
    let prior = &pack.priors[claim[0]];
    let mut weights: Vec<f64> = prior.counts.iter().map(|id| pack.number(*id)).collect();
    for factor in factors_of(pack, claim) {
        for (weight, id) in weights.iter_mut().zip(&factor.factors) {
            *weight *= id.map_or(1.0, |id| pack.number(id));
        }
    }
    weights
}

/// The shifts that hold for a case's variant, period and region.
pub fn applying_factors<'p>(pack: &'p Pack, case: &Case) -> impl Iterator<Item = &'p PriorFactor> {
    factors_of(pack, [case.variant, case.period, case.region])
}

/// The shifts that hold for a variant, a period and a region.
fn factors_of(
    pack: &Pack,
    [variant, period, region]: [usize; 3],
) -> impl Iterator<Item = &PriorFactor> {
    let fits = |only: &Option<Vec<usize>>, index: usize| {
        only.as_ref().is_none_or(|only| only.contains(&index))
    };
    pack.prior_factors.iter().filter(move |factor| {
        fits(&factor.variants, variant)
            && fits(&factor.periods, period)
            && fits(&factor.regions, region)
    })
}

/// Chance of each date bin under an origin, for a claim of these years; `None` for an origin that
/// shares another part's date.
pub fn date_row(pack: &Pack, origin: Origin, (from, to): (i32, i32)) -> Option<Vec<f64>> {
    let grid = &pack.dates;
    let weight = |year: i32| -> f64 {
        match origin {
            Origin::Claim => {
                let outside = f64::from((from - year).max(year - to).max(0));
                // The middle of a year just outside lies half a year from the edge.
                let fall = (outside - 0.5) / grid.shoulder;
                if outside == 0.0 {
                    1.0
                } else {
                    (1.0 - fall).max(0.0)
                }
            }
            Origin::Between(first, last) => f64::from(u8::from((first..=last).contains(&year))),
            Origin::Older(years) => f64::from(u8::from((from - years..from).contains(&year))),
            Origin::After(later) => {
                if year > to {
                    straight(&pack.later_work[later].points, f64::from(year) + 0.5)
                } else {
                    0.0
                }
            }
            Origin::Shares(_) => 0.0,
        }
    };
    if matches!(origin, Origin::Shares(_)) {
        return None;
    }
    let bins: Vec<f64> = (0..grid.bins())
        .map(|bin| {
            let (start, end) = grid.years(bin);
            (start..end).map(weight).sum()
        })
        .collect();
    let total: f64 = bins.iter().sum();
    Some(bins.iter().map(|bin| bin / total).collect())
}

/// Straight lines between points, zero outside.
fn straight(points: &[(i32, f64)], year: f64) -> f64 {
    points
        .windows(2)
        .find(|pair| (f64::from(pair[0].0)..=f64::from(pair[1].0)).contains(&year))
        .map_or(0.0, |pair| {
            let (start, end) = (f64::from(pair[0].0), f64::from(pair[1].0));
            pair[0].1 + (pair[1].1 - pair[0].1) * (year - start) / (end - start)
        })
}

/// Share of new work that shows a technology in a year: straight in log-odds between the points,
/// level outside them, exactly 0 before the year it cannot have existed.
pub fn share_in_use(curve: &CurveFile, year: f64) -> f64 {
    if curve
        .not_before
        .is_some_and(|first| year < f64::from(first))
    {
        return 0.0;
    }
    let points = &curve.points;
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return 0.0;
    };
    if year <= f64::from(first.0) {
        return first.1;
    }
    if year >= f64::from(last.0) {
        return last.1;
    }
    let after = points.partition_point(|point| f64::from(point.0) <= year);
    let (one, other) = (points[after - 1], points[after]);
    let log_odds = |share: f64| libm::log(share / (1.0 - share));
    let along = (year - f64::from(one.0)) / f64::from(other.0 - one.0);
    let at = log_odds(one.1) + (log_odds(other.1) - log_odds(one.1)) * along;
    1.0 / (1.0 + libm::exp(-at))
}

/// Share in use in the middle of every year of each date bin.
pub(crate) fn yearly_shares(pack: &Pack, curve: usize) -> Vec<Vec<f64>> {
    (0..pack.dates.bins())
        .map(|bin| {
            let (start, end) = pack.dates.years(bin);
            (start..end)
                .map(|year| share_in_use(&pack.curves[curve], f64::from(year) + 0.5))
                .collect()
        })
        .collect()
}
