//! Sobol indices of a function that has them in closed form.

use oddment::sobol::{Index, Row, indices};
use oddment_tests::assert_close;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use std::f64::consts::PI;

const A: f64 = 7.0;
const B: f64 = 0.1;

/// Ishigami and Homma, 1990 (from memory, unverified).
fn ishigami([x, y, z]: [f64; 3]) -> f64 {
    let sine = libm::sin(y);
    libm::sin(x) + A * sine * sine + B * z * z * z * z * libm::sin(x)
}

fn rows(count: usize, seed: u64) -> Vec<Row> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let mut inputs = || -> [f64; 3] {
        let uniform: [f64; 3] = rng.random();
        uniform.map(|u| PI * (2.0 * u - 1.0))
    };
    (0..count)
        .map(|_| {
            let (one, other) = (inputs(), inputs());
            let mixed = (0..3).map(|group| {
                let mut inputs = one;
                inputs[group] = other[group];
                ishigami(inputs)
            });
            Row {
                a: ishigami(one),
                b: ishigami(other),
                mixed: mixed.collect(),
            }
        })
        .collect()
}

/// Variance, first and total indices: V1 = (1 + b pi^4 / 5)^2 / 2, V2 = a^2 / 8,
/// V13 = 8 b^2 pi^8 / 225.
fn analytic() -> (f64, [f64; 3], [f64; 3]) {
    let one = 1.0 + B * libm::pow(PI, 4.0) / 5.0;
    let (x, y) = (0.5 * one * one, A * A / 8.0);
    let both = 8.0 * B * B * libm::pow(PI, 8.0) / 225.0;
    let all = x + y + both;
    (
        all,
        [x / all, y / all, 0.0],
        [(x + both) / all, y / all, both / all],
    )
}

#[test]
fn the_closed_forms_are_those_published() {
    let (variance, first, total) = analytic();
    assert_close!(variance, 13.844588, abs = 5e-7);
    assert_close!(first, [0.313905, 0.442411, 0.0], abs = 5e-7);
    assert_close!(total, [0.557589, 0.442411, 0.243684], abs = 5e-7);
}

#[test]
fn intervals_cover_the_known_indices() {
    let (_, first, total) = analytic();
    let found = indices(&rows(8_192, 1), 3, 300, 1);
    for (found, (first, total)) in found.iter().zip(first.into_iter().zip(total)) {
        assert!(
            found.first_low <= first && first <= found.first_high,
            "{first} {found:?}"
        );
        assert!(
            found.total_low <= total && total <= found.total_high,
            "{total} {found:?}"
        );
        // And are no wider than 8,192 rows warrant.
        assert!(found.first_high - found.first_low < 0.08, "{found:?}");
        assert!(found.total_high - found.total_low < 0.05, "{found:?}");
    }
}

/// Over forty studies of 500 rows, nine intervals in ten cover; a binomial count of 120 with chance
/// 0.9 lies within 108 +- 13 (four standard deviations).
#[test]
fn intervals_cover_as_often_as_they_claim() {
    let (_, first, total) = analytic();
    let (mut firsts, mut totals) = (0, 0);
    for seed in 0..40 {
        let found = indices(&rows(500, 100 + seed), 3, 200, seed);
        for (found, (first, total)) in found.iter().zip(first.into_iter().zip(total)) {
            firsts += u32::from((found.first_low..=found.first_high).contains(&first));
            totals += u32::from((found.total_low..=found.total_high).contains(&total));
        }
    }
    assert!(firsts.abs_diff(108) <= 13, "{firsts}");
    assert!(totals.abs_diff(108) <= 13, "{totals}");
}

#[test]
fn equal_seeds_give_equal_bits_and_others_other_intervals() {
    let rows = rows(300, 2);
    let of = |seed| -> Vec<Index> { indices(&rows, 3, 50, seed) };
    assert_eq!(of(4), of(4));
    assert_ne!(of(4)[0].first_low, of(5)[0].first_low);
    assert_eq!(of(4)[0].first, of(5)[0].first);
}

#[test]
fn a_shift_of_the_answer_changes_no_index() {
    let rows = rows(300, 3);
    let shifted: Vec<Row> = rows
        .iter()
        .map(|row| Row {
            a: row.a + 1000.0,
            b: row.b + 1000.0,
            mixed: row.mixed.iter().map(|answer| answer + 1000.0).collect(),
        })
        .collect();
    for (one, other) in indices(&rows, 3, 0, 1)
        .iter()
        .zip(&indices(&shifted, 3, 0, 1))
    {
        assert_close!(
            [one.first, one.total],
            [other.first, other.total],
            abs = 1e-9
        );
    }
}
