//! Shapley values: what each of several players adds to a sum that they earn together.
//!
//! ```text
//! share of i = sum over sets S without i of  |S|! (n - |S| - 1)! / n!  (v(S + i) - v(S))
//! ```
//!
//! Equivalently the mean, over all orders in which the players could arrive, of what each adds on
//! arriving. Source: L. S. Shapley, 1953, A value for n-person games (from memory, unverified).
//! The shares add up to `v(all) - v(none)`, equal players get equal shares, one who adds nothing
//! gets nothing, and the shares of a sum of games are the sums of the shares: no other division has
//! all four properties.
//!
//! A game may have several outputs at once (the odds of each verdict, say); each is divided by
//! itself, for the price of one evaluation.
//!
//! ```
//! use oddment::shapley::exact;
//!
//! // A runway for three aircraft that need 8, 11 and 13 of it: each stretch is shared by those
//! // who use it.
//! let needs = [8.0, 11.0, 13.0];
//! let shares = exact(3, 1, |players, cost| {
//!     let used = (0..3).filter(|player| players >> player & 1 == 1);
//!     cost[0] = used.map(|player| needs[player]).fold(0.0, f64::max);
//! })?;
//! for (share, want) in shares.iter().zip([8.0 / 3.0, 25.0 / 6.0, 37.0 / 6.0]) {
//!     assert!((share[0] - want).abs() < 1e-14);
//! }
//! # Ok::<(), oddment::shapley::ShapleyError>(())
//! ```

use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use thiserror::Error;

/// The most players of [`exact`], which evaluates two to their number.
pub const MOST_EXACT: usize = 20;

/// The most players of [`sampled`]: a set of players is a 128-bit number.
pub const MOST_SAMPLED: usize = 128;

/// The fewest permutations of [`sampled`]: two pairs, without which there is no standard error.
const FEWEST: u64 = 4;

/// Pairs of permutations between two looks at the standard errors. A look after only a few pairs
/// could meet a game whose rare large contributions have not been seen yet.
const PAIRS_IN_BATCH: u64 = 32;

/// Why shares were not computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum ShapleyError {
    /// More players than the method takes.
    #[error(
        "{players} players are more than {most}, the most this method takes; group some of them, or \
         sample permutations (up to {MOST_SAMPLED} players)"
    )]
    TooManyPlayers {
        /// The players there are.
        players: usize,
        /// The most allowed.
        most: usize,
    },
}

/// How long to sample, and from which seed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sampling {
    /// The seed: equal seeds give equal bits.
    pub seed: u64,
    /// Sampling stops once no standard error is above this, in the unit of the outputs. At 0 (or
    /// not a number) it goes on to the end, unless the game has no randomness to it.
    pub tolerance: f64,
    /// The most permutations used; at least 4 are, and an odd number is made even.
    pub most: u64,
}

impl Default for Sampling {
    /// Seed 1, to a standard error of 0.001, in at most 20,000 permutations (choices of this
    /// project, no source).
    fn default() -> Self {
        Self {
            seed: 1,
            tolerance: 0.001,
            most: 20_000,
        }
    }
}

/// Estimated shares.
#[derive(Debug, Clone, PartialEq)]
pub struct Sampled {
    /// Share of each player (first index) in each output (second index). They add up to
    /// `v(all) - v(none)` to rounding, however few permutations were used.
    pub shares: Vec<Vec<f64>>,
    /// Standard error of each share, from the spread between pairs of permutations.
    pub standard_errors: Vec<Vec<f64>>,
    /// Permutations used.
    pub permutations: u64,
}

/// The Shapley values of a game of up to [`MOST_EXACT`] players, by going through every set of
/// them: the share of each player (first index) in each output (second index).
///
/// `value` gets a set of players, bit `i` set for player `i`, and a slice of `outputs` zeros to
/// fill; it is called once for each of the `2^players` sets. Memory is `8 * outputs * 2^players`
/// bytes (8 MB for 20 players and one output). A value that is not finite makes shares that are not.
///
/// # Errors
/// [`ShapleyError::TooManyPlayers`] above [`MOST_EXACT`] players.
///
/// ```
/// # use oddment::shapley::exact;
/// // A right glove is worth 1 with either of two left ones (players 0 and 1).
/// let shares = exact(3, 1, |players, worth| {
///     worth[0] = f64::from(u8::from(players >> 2 & 1 == 1 && players & 3 != 0));
/// })?;
/// assert!((shares[0][0] - 1.0 / 6.0).abs() < 1e-15 && (shares[2][0] - 4.0 / 6.0).abs() < 1e-15);
/// # Ok::<(), oddment::shapley::ShapleyError>(())
/// ```
pub fn exact(
    players: usize,
    outputs: usize,
    mut value: impl FnMut(u128, &mut [f64]),
) -> Result<Vec<Vec<f64>>, ShapleyError> {
    if players > MOST_EXACT {
        let most = MOST_EXACT;
        return Err(ShapleyError::TooManyPlayers { players, most });
    }
    let sets = 1_usize << players;
    let mut values = vec![0.0; sets * outputs];
    // A game without outputs has nothing to divide.
    for (set, row) in values.chunks_exact_mut(outputs.max(1)).enumerate() {
        value(set as u128, row);
    }
    let weights = weights(players);
    let mut shares = vec![vec![0.0; outputs]; players];
    for (player, share) in shares.iter_mut().enumerate() {
        let bit = 1 << player;
        for without in (0..sets).filter(|set| set & bit == 0) {
            let weight = weights[without.count_ones() as usize];
            let with = without | bit;
            for (output, sum) in share.iter_mut().enumerate() {
                // Differences before weights, so that a player who adds nothing gets exactly 0.
                *sum +=
                    weight * (values[with * outputs + output] - values[without * outputs + output]);
            }
        }
    }
    Ok(shares)
}

/// The weight of a set by its size: `s! (n - s - 1)! / n! = 1 / (n C(n - 1, s))`. The binomials of up
/// to 20 players are whole numbers that a double holds exactly, so no factorial is ever rounded.
fn weights(players: usize) -> Vec<f64> {
    let mut binomial = 1.0;
    (0..players)
        .map(|size| {
            let weight = 1.0 / (players as f64 * binomial);
            binomial = binomial * (players - 1 - size) as f64 / (size + 1) as f64;
            weight
        })
        .collect()
}

/// Estimates the Shapley values of a game of up to [`MOST_SAMPLED`] players from random orders of
/// arrival.
///
/// Every order is used forward and backward (antithetic pairs: a player who comes early in one comes
/// late in the other), the pairs' means are averaged, and their spread gives the standard errors.
/// Sources: J. Castro, D. Gómez and J. Tejada, 2009, Polynomial calculation of the Shapley value
/// based on sampling; R. Mitchell et al., 2022, Sampling permutations for Shapley value estimation
/// (both from memory, unverified).
///
/// `value` is as for [`exact`], and is called `players - 1` times for each permutation and twice
/// besides. After every 64 permutations the largest standard error is compared with the tolerance.
///
/// # Errors
/// [`ShapleyError::TooManyPlayers`] above [`MOST_SAMPLED`] players.
///
/// ```
/// # use oddment::shapley::{Sampling, sampled};
/// // Thirty players, each of whom brings its number: every order tells the same.
/// let found = sampled(30, 1, Sampling::default(), |players, sum| {
///     sum[0] = (0..30).filter(|player| players >> player & 1 == 1).map(|p| p as f64).sum();
/// })?;
/// assert_eq!((found.shares[7][0], found.standard_errors[7][0]), (7.0, 0.0));
/// # Ok::<(), oddment::shapley::ShapleyError>(())
/// ```
pub fn sampled(
    players: usize,
    outputs: usize,
    options: Sampling,
    mut value: impl FnMut(u128, &mut [f64]),
) -> Result<Sampled, ShapleyError> {
    if players > MOST_SAMPLED {
        let most = MOST_SAMPLED;
        return Err(ShapleyError::TooManyPlayers { players, most });
    }
    let all = match players {
        0 => 0,
        players => u128::MAX >> (128 - players),
    };
    let mut at = |set: u128| {
        let mut row = vec![0.0; outputs];
        value(set, &mut row);
        row
    };
    let ends = [at(0), at(all)];
    let mut rng = ChaCha8Rng::seed_from_u64(options.seed);
    let mut order: Vec<usize> = (0..players).collect();
    let mut means = vec![0.0; players * outputs];
    let mut squares = vec![0.0; players * outputs];
    let mut pair = vec![0.0; players * outputs];
    let most = options.most.max(FEWEST).div_ceil(2);
    let mut pairs = 0_u64;
    loop {
        for last in (1..players).rev() {
            order.swap(last, rng.random_range(0..=last as u32) as usize);
        }
        pair.fill(0.0);
        arrive(order.iter().copied(), &ends, &mut at, &mut pair);
        arrive(order.iter().rev().copied(), &ends, &mut at, &mut pair);
        pairs += 1;
        // Running means and sums of squared deviations (Welford 1962, from memory, unverified).
        for ((both, mean), square) in pair.iter().zip(&mut means).zip(&mut squares) {
            let away = 0.5 * both - *mean;
            *mean += away / pairs as f64;
            *square += away * (0.5 * both - *mean);
        }
        let done = pairs >= most;
        if done || pairs.is_multiple_of(PAIRS_IN_BATCH) {
            let error = |square: &f64| (square / ((pairs - 1) as f64 * pairs as f64)).sqrt();
            if done
                || squares
                    .iter()
                    .all(|square| error(square) <= options.tolerance)
            {
                let rows = |flat: Vec<f64>| -> Vec<Vec<f64>> {
                    (0..players)
                        .map(|player| flat[player * outputs..(player + 1) * outputs].to_vec())
                        .collect()
                };
                let standard_errors = rows(squares.iter().map(error).collect());
                return Ok(Sampled {
                    shares: rows(means),
                    standard_errors,
                    permutations: 2 * pairs,
                });
            }
        }
    }
}

/// Adds what each player adds on arriving in this order.
fn arrive(
    order: impl ExactSizeIterator<Item = usize>,
    [none, all]: &[Vec<f64>; 2],
    at: &mut impl FnMut(u128) -> Vec<f64>,
    shares: &mut [f64],
) {
    let outputs = none.len();
    let players = order.len();
    let (mut set, mut before) = (0_u128, none.clone());
    for (place, player) in order.enumerate() {
        set |= 1 << player;
        let now = if place + 1 == players {
            all.clone()
        } else {
            at(set)
        };
        for (output, (now, before)) in now.iter().zip(&before).enumerate() {
            shares[player * outputs + output] += now - before;
        }
        before = now;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_over_all_sets_sum_to_one() {
        for players in 1..=MOST_EXACT {
            let mut sets = 1.0;
            let mut total = 0.0;
            for (size, weight) in weights(players).iter().enumerate() {
                total += sets * weight;
                sets = sets * (players - 1 - size) as f64 / (size + 1) as f64;
            }
            assert!((total - 1.0).abs() < 1e-14, "{players}: {total}");
        }
    }

    #[test]
    fn nobody_and_nothing_to_divide() {
        assert_eq!(exact(0, 2, |_, _| ()), Ok(vec![]));
        assert_eq!(exact(2, 0, |_, _| ()), Ok(vec![vec![], vec![]]));
        let found = sampled(0, 1, Sampling::default(), |_, _| ()).unwrap();
        assert_eq!(found.shares, Vec::<Vec<f64>>::new());
        let found = sampled(1, 1, Sampling::default(), |set, value| {
            value[0] = 3.0 + set as f64;
        });
        assert_eq!(found.unwrap().shares, [[1.0]]);
    }

    #[test]
    fn too_many_players_are_refused() {
        let refused = exact(21, 1, |_, _| ()).unwrap_err();
        assert!(refused.to_string().contains("21 players"), "{refused}");
        assert!(sampled(128, 1, Sampling::default(), |_, _| ()).is_ok());
        assert!(sampled(129, 1, Sampling::default(), |_, _| ()).is_err());
    }

    #[test]
    fn a_seed_gives_the_same_bits_everywhere() {
        let options = Sampling {
            most: 100,
            tolerance: 0.0,
            seed: 7,
        };
        let found = sampled(5, 1, options, |set, value| {
            value[0] = (set as f64).sqrt();
        })
        .unwrap();
        let bits: Vec<u64> = found.shares.iter().map(|row| row[0].to_bits()).collect();
        assert_eq!(found.permutations, 100);
        let pinned = [
            4_599_432_393_920_088_094,
            4_602_250_724_366_050_565,
            4_606_094_975_239_854_840,
            4_609_041_515_200_504_727,
            4_612_766_137_811_017_046,
        ];
        assert_eq!(bits, pinned);
    }
}
