//! Shapley values: published games, and the laws that single them out.

use oddment::shapley::{Sampled, Sampling, exact, sampled};
use oddment_tests::assert_close;
use oddment_tests::property::check;
use proptest::collection::vec;
use proptest::prelude::Strategy;

/// The game in which a set must pay for its most demanding member.
fn runway(needs: &[f64]) -> impl FnMut(u128, &mut [f64]) + '_ {
    |players, cost| {
        let used = (0..needs.len()).filter(|player| players >> player & 1 == 1);
        cost[0] = used.map(|player| needs[player]).fold(0.0, f64::max);
    }
}

/// A game given by the value of every set, one table for each output.
fn table<'a>(values: &'a [&'a [f64]]) -> impl FnMut(u128, &mut [f64]) + 'a {
    move |players, out| {
        for (out, table) in out.iter_mut().zip(values) {
            *out = table[players as usize];
        }
    }
}

fn shares(players: usize, outputs: usize, value: impl FnMut(u128, &mut [f64])) -> Vec<Vec<f64>> {
    exact(players, outputs, value).unwrap_or_else(|error| panic!("{error}"))
}

/// The shares in the first output.
fn first(rows: &[Vec<f64>]) -> Vec<f64> {
    rows.iter().map(|row| row[0]).collect()
}

fn estimate(players: usize, most: u64, value: impl FnMut(u128, &mut [f64])) -> Sampled {
    let options = Sampling {
        seed: 3,
        tolerance: 0.0,
        most,
    };
    sampled(players, 1, options, value).unwrap_or_else(|error| panic!("{error}"))
}

/// Littlechild and Owen, 1973, A simple expression for the Shapley value in a special case, as
/// tabulated on public pages.
#[test]
fn airport_game() {
    let found = shares(4, 1, runway(&[8.0, 11.0, 13.0, 18.0]));
    assert_close!(first(&found), [2.0, 3.0, 4.0, 9.0], rel = 1e-14);
}

/// Worked runway and taxi-fare examples of public teaching pages (author and year not recorded).
#[test]
fn further_airport_games() {
    let six = [40.0, 50.0, 60.0, 70.0, 80.0, 90.0];
    let want = [40.0, 52.0, 67.0, 87.0, 117.0, 177.0].map(|sixths| sixths / 6.0);
    assert_close!(first(&shares(6, 1, runway(&six))), want, rel = 1e-14);
    let three = shares(3, 1, runway(&[1500.0, 2200.0, 3000.0]));
    assert_close!(first(&three), [500.0, 850.0, 1650.0], rel = 1e-14);
}

/// One right glove (player 2) and two left ones.
#[test]
fn glove_game() {
    let found = shares(3, 1, |players, worth| {
        worth[0] = f64::from(u8::from(players >> 2 & 1 == 1 && players & 3 != 0));
    });
    assert_close!(
        first(&found),
        [1.0 / 6.0, 1.0 / 6.0, 4.0 / 6.0],
        rel = 1e-14
    );
}

#[test]
fn sampling_comes_within_four_standard_errors() {
    let needs = [40.0, 50.0, 60.0, 70.0, 80.0, 90.0];
    let want = shares(6, 1, runway(&needs));
    let found = estimate(6, 4_000, runway(&needs));
    assert_eq!(found.permutations, 4_000);
    for ((share, error), want) in found.shares.iter().zip(&found.standard_errors).zip(&want) {
        assert!((share[0] - want[0]).abs() <= 4.0 * error[0], "{found:?}");
        // And the errors say something: a share of some 30 is known to better than 1.
        assert!(error[0] > 0.0 && error[0] < 1.0, "{found:?}");
    }
    assert_close!(first(&found.shares).iter().sum::<f64>(), 90.0, rel = 1e-13);
}

#[test]
fn sampling_stops_at_its_tolerance() {
    let needs: Vec<f64> = (1..=30).map(f64::from).collect();
    let options = Sampling {
        seed: 5,
        tolerance: 0.1,
        most: 100_000,
    };
    let found = sampled(30, 1, options, runway(&needs)).unwrap_or_else(|e| panic!("{e}"));
    let largest = found.standard_errors.iter().flatten().copied();
    let largest = largest.fold(0.0, f64::max);
    assert!(largest <= 0.1 && largest > 0.05, "{largest}");
    assert!(found.permutations < 100_000, "{}", found.permutations);
}

#[test]
fn sampling_repeats_to_the_bit_and_follows_its_seed() {
    let needs = [3.0, 5.0, 8.0, 13.0];
    let one = estimate(4, 64, runway(&needs));
    assert_eq!(one, estimate(4, 64, runway(&needs)));
    let other = Sampling {
        seed: 4,
        tolerance: 0.0,
        most: 64,
    };
    let other = sampled(4, 1, other, runway(&needs)).unwrap_or_else(|e| panic!("{e}"));
    assert_ne!(one.shares, other.shares);
}

/// Values of every set of so many players.
fn games(players: usize, games: usize) -> impl Strategy<Value = Vec<Vec<f64>>> {
    vec(vec(-100.0..100.0_f64, 1 << players), games)
}

#[test]
fn shares_add_up_to_the_whole() {
    check(200, games(5, 1), |games| {
        let whole = games[0][31] - games[0][0];
        let exact: f64 = first(&shares(5, 1, table(&[&games[0]]))).iter().sum();
        assert_close!(exact, whole, abs = 1e-11);
        let sampled: f64 = first(&estimate(5, 10, table(&[&games[0]])).shares)
            .iter()
            .sum();
        assert_close!(sampled, whole, abs = 1e-11);
    });
}

#[test]
fn players_that_can_change_places_get_the_same() {
    check(200, games(4, 1), |games| {
        // Players 0 and 1 made equal: a set is worth the same with either.
        let value: Vec<f64> = (0..16_usize)
            .map(|set| games[0][if set & 3 == 2 { set ^ 3 } else { set }])
            .collect();
        let found = shares(4, 1, table(&[&value]));
        assert_close!(found[0], found[1], abs = 1e-11);
    });
}

#[test]
fn a_player_who_adds_nothing_gets_nothing() {
    check(200, games(4, 1), |games| {
        let value: Vec<f64> = (0..16_usize).map(|set| games[0][set & !4]).collect();
        assert_eq!(shares(4, 1, table(&[&value]))[2], [0.0]);
        assert_eq!(estimate(4, 20, table(&[&value])).shares[2], [0.0]);
    });
}

#[test]
fn shares_of_a_sum_are_sums_of_shares() {
    check(200, games(4, 2), |games| {
        let sum: Vec<f64> = games[0].iter().zip(&games[1]).map(|(a, b)| a + b).collect();
        let found = shares(4, 3, table(&[&games[0], &games[1], &sum]));
        for row in found {
            assert_close!(row[0] + row[1], row[2], abs = 1e-11);
        }
    });
}

#[test]
fn outputs_do_not_disturb_one_another() {
    check(50, games(4, 2), |games| {
        let both = shares(4, 2, table(&[&games[0], &games[1]]));
        let alone = shares(4, 1, table(&[&games[1]]));
        for (both, alone) in both.iter().zip(&alone) {
            assert_eq!(both[1], alone[0]);
        }
    });
}
