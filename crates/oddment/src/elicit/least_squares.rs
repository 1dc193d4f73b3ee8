//! The least sum of squares of a handful of differences, in two numbers.

/// The most steps; a fit that goes well takes ten.
const MOST_STEPS: u32 = 100;

/// The most differences: two to five judgements.
pub(super) const MOST: usize = 5;

/// A sum of squares that only rounding keeps from 0.
const PERFECT: f64 = 1e-26;

/// Half the step over which a slope is taken, in coordinates of about unit size.
const SLOPE_STEP: f64 = 1e-5;

/// The differences at a point; those beyond the number of judgements are 0.
pub(super) type Differences = [f64; MOST];

/// Where the search may go.
pub(super) type Bounds = [(f64, f64); 2];

/// The least sum of squares near a start, and where it is: the method of Levenberg and Marquardt
/// with central differences for slopes. Always ends, and never gets worse than the start.
pub(super) fn minimise(
    start: [f64; 2],
    bounds: Bounds,
    differences: &impl Fn([f64; 2]) -> Differences,
) -> ([f64; 2], f64) {
    let mut at = within(start, bounds);
    let mut here = differences(at);
    let mut sum = squares(&here);
    let (mut damping, mut stalled) = (1e-3, 0);
    for _ in 0..MOST_STEPS {
        let slopes = [0, 1].map(|side| slope(at, side, differences));
        let Some(step) = damped_step(&slopes, &here, damping) else {
            break;
        };
        let next = within([at[0] + step[0], at[1] + step[1]], bounds);
        let there = differences(next);
        let sum_there = squares(&there);
        // What is not a number is no better.
        if sum_there < sum {
            let moved = (next[0] - at[0]).abs().max((next[1] - at[1]).abs());
            // At a bound, steps may go on gaining next to nothing.
            stalled = if sum - sum_there < 1e-15 * sum {
                stalled + 1
            } else {
                0
            };
            (at, here, sum) = (next, there, sum_there);
            damping = (damping * 0.1).max(1e-12);
            if moved < 1e-12 || stalled > 2 || sum < PERFECT {
                break;
            }
        } else {
            damping *= 10.0;
            if damping > 1e12 {
                break;
            }
        }
    }
    (at, sum)
}

/// The best of several starts.
pub(super) fn minimise_from(
    starts: &[[f64; 2]],
    bounds: Bounds,
    differences: &impl Fn([f64; 2]) -> Differences,
) -> ([f64; 2], f64) {
    let mut best = ([f64::NAN; 2], f64::INFINITY);
    for start in starts {
        let found = minimise(*start, bounds, differences);
        if found.1 < best.1 || best.0[0].is_nan() {
            best = found;
        }
        if best.1 < PERFECT {
            break;
        }
    }
    best
}

/// Where a function of one number is least between two limits: a coarse look, then golden sections.
pub(super) fn least_along((low, high): (f64, f64), of: &impl Fn(f64) -> f64) -> f64 {
    const STEPS: u32 = 100;
    const GOLDEN: f64 = 0.618_033_988_749_894_8;
    let width = (high - low) / f64::from(STEPS);
    let place = |step: u32| low + f64::from(step) * width;
    let mut best = (0, f64::INFINITY);
    for step in 0..=STEPS {
        let value = of(place(step));
        if value < best.1 {
            best = (step, value);
        }
    }
    let (mut from, mut to) = (
        place(best.0.saturating_sub(1)),
        place((best.0 + 1).min(STEPS)),
    );
    for _ in 0..60 {
        let (left, right) = (to - GOLDEN * (to - from), from + GOLDEN * (to - from));
        if of(left) <= of(right) {
            to = right;
        } else {
            from = left;
        }
    }
    0.5 * (from + to)
}

fn squares(differences: &Differences) -> f64 {
    differences.iter().map(|x| x * x).sum()
}

fn within(at: [f64; 2], bounds: Bounds) -> [f64; 2] {
    [0, 1].map(|side| at[side].clamp(bounds[side].0, bounds[side].1))
}

fn slope(at: [f64; 2], side: usize, differences: &impl Fn([f64; 2]) -> Differences) -> Differences {
    let (mut above, mut below) = (at, at);
    above[side] += SLOPE_STEP;
    below[side] -= SLOPE_STEP;
    let (above, below) = (differences(above), differences(below));
    let mut slope = [0.0; MOST];
    for (place, slope) in slope.iter_mut().enumerate() {
        *slope = (above[place] - below[place]) / (2.0 * SLOPE_STEP);
    }
    slope
}

/// The step that solves the damped normal equations; none where they say nothing.
fn damped_step(slopes: &[Differences; 2], here: &Differences, damping: f64) -> Option<[f64; 2]> {
    let product =
        |a: &Differences, b: &Differences| -> f64 { a.iter().zip(b).map(|(x, y)| x * y).sum() };
    let [one, other] = slopes;
    let (a, b, c) = (
        product(one, one) * (1.0 + damping) + 1e-300,
        product(one, other),
        product(other, other) * (1.0 + damping) + 1e-300,
    );
    let (d, e) = (product(one, here), product(other, here));
    let determinant = a * c - b * b;
    let step = [(b * e - c * d) / determinant, (b * d - a * e) / determinant];
    step.iter().all(|x| x.is_finite()).then_some(step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_known_least_is_found() {
        // (x - 2)^2 + (x y - 6)^2: least at x = 2, y = 3.
        let of = |[x, y]: [f64; 2]| [x - 2.0, x * y - 6.0, 0.0, 0.0, 0.0];
        let ([x, y], sum) = minimise([1.0, 1.0], [(-10.0, 10.0); 2], &of);
        assert!((x - 2.0).abs() < 1e-9 && (y - 3.0).abs() < 1e-9, "{x} {y}");
        assert!(sum < 1e-18);
    }

    #[test]
    fn bounds_hold_and_what_is_not_a_number_ends_it() {
        let of = |[x, y]: [f64; 2]| [x - 20.0, y, 0.0, 0.0, 0.0];
        let (at, _) = minimise([1.0, 1.0], [(-10.0, 10.0); 2], &of);
        assert!((at[0] - 10.0).abs() < 1e-9, "{at:?}");
        let (at, _) = minimise([1.0, 1.0], [(-10.0, 10.0); 2], &|_| [f64::NAN; MOST]);
        assert_eq!(at, [1.0, 1.0]);
    }

    #[test]
    fn along_a_line() {
        let at = least_along((-5.0, 9.0), &|x| (x - 1.25) * (x - 1.25));
        assert!((at - 1.25).abs() < 1e-7, "{at}");
    }
}
