//! Random draws and quantiles with the same bits on every platform.
//!
//! Only `+ - * /`, square roots and `libm` are used, and uniform numbers of a generator that is
//! itself portable (ChaCha): what is drawn natively is drawn in WebAssembly too.
//!
//! Beta distributions are given as elicited numbers are in packs, by their mean and a strength, the
//! number of pieces the figure is worth:
//!
//! ```text
//! Beta(a, b)   with   a = mean * strength,   b = (1 - mean) * strength
//! ```
//!
//! Draws never fail: figures out of their range are brought to its nearest end, what is not a
//! number to its lower one, so that a bad figure can spoil an answer but not the program. What
//! users write is refused long before.
//!
//! ```
//! use oddment::draw::{beta, beta_quantile};
//! use rand::SeedableRng;
//!
//! let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(1);
//! let mean: f64 = (0..10_000).map(|_| beta(0.3, 10.0, &mut rng)).sum::<f64>() / 10_000.0;
//! assert!((mean - 0.3).abs() < 0.006); // four standard errors
//! // 3 of 10 on top of an even start, Beta(4, 8): 95 in 100 between .1093 and .6098.
//! assert!((beta_quantile(0.025, 4.0 / 12.0, 12.0) - 0.1093).abs() < 5e-5);
//! ```

mod ziggurat;

use crate::density::special::{
    LN_SQRT_TWO_PI, beta_fraction, exp_rest, gamma_tails, stirling_rest,
};
use rand::{Rng, RngExt};

/// The least shape of a gamma or beta distribution drawn from; a smaller one is drawn as this. (Its
/// draws are spread over a thousand million powers of ten already.)
const LEAST_SHAPE: f64 = 1e-9;

/// The greatest shape; a greater one is drawn as this. (Its draws are all equal to 14 digits.)
const GREATEST_SHAPE: f64 = 1e30;

/// The number next below 1.
const BELOW_ONE: f64 = 1.0 - f64::EPSILON / 2.0;

/// The most steps of a search for a quantile; bisection alone needs fewer.
const MOST_STEPS: u32 = 200;

/// A shape within range.
fn shape_in_range(shape: f64) -> f64 {
    // Not `clamp`, which lets what is not a number through.
    if shape > LEAST_SHAPE {
        shape.min(GREATEST_SHAPE)
    } else {
        LEAST_SHAPE
    }
}

/// The shapes of a beta distribution.
fn shapes(mean: f64, strength: f64) -> (f64, f64) {
    (
        shape_in_range(mean * strength),
        shape_in_range((1.0 - mean) * strength),
    )
}

/// Strictly between 0 and 1.
fn open(share: f64) -> f64 {
    share.clamp(f64::MIN_POSITIVE, BELOW_ONE)
}

/// The natural logarithm of a uniform number above 0 and not above 1.
fn ln_uniform(rng: &mut impl Rng) -> f64 {
    libm::log(1.0 - rng.random::<f64>())
}

/// A standard normal number: mean 0, standard deviation 1, no unit.
///
/// ```
/// use oddment::draw::standard_normal;
/// use rand::SeedableRng;
/// let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(1);
/// assert!(standard_normal(&mut rng).abs() < 10.0);
/// ```
pub fn standard_normal(rng: &mut impl Rng) -> f64 {
    ziggurat::normal(rng)
}

/// A gamma number of a shape of at least 1.
///
/// ```text
/// d = shape - 1/3,  c = 1 / sqrt(9 d),  v = (1 + c x)^3
/// take d v when v > 0 and ln u < x^2 / 2 + d - d v + d ln v
/// ```
///
/// G. Marsaglia and W. W. Tsang, 2000, A simple method for generating gamma variables (from memory,
/// unverified; the squeeze 0.0331 is theirs, and only saves logarithms).
fn gamma_from(shape: f64, rng: &mut impl Rng) -> f64 {
    let d = shape - 1.0 / 3.0;
    let c = 1.0 / (9.0 * d).sqrt();
    loop {
        let x = ziggurat::normal(rng);
        let root = 1.0 + c * x;
        if root > 0.0 {
            let v = root * root * root;
            let u: f64 = rng.random();
            let square = x * x;
            if u < 1.0 - 0.0331 * square * square
                || libm::log(u) < 0.5 * square + d * (1.0 - v + libm::log(v))
            {
                return d * v;
            }
        }
    }
}

/// The natural logarithm of a gamma number of any shape.
///
/// Below shape 1, a number of one shape higher times `u^(1 / shape)`: as a logarithm, because the
/// number itself soon underflows. (Marsaglia and Tsang 2000, from memory, unverified.)
fn ln_gamma_from(shape: f64, rng: &mut impl Rng) -> f64 {
    if shape >= 1.0 {
        libm::log(gamma_from(shape, rng))
    } else {
        libm::log(gamma_from(shape + 1.0, rng)) + ln_uniform(rng) / shape
    }
}

/// A gamma number of any shape, which may underflow to 0 below shape 1.
fn gamma_any(shape: f64, rng: &mut impl Rng) -> f64 {
    if shape >= 1.0 {
        gamma_from(shape, rng)
    } else {
        gamma_from(shape + 1.0, rng) * libm::exp(ln_uniform(rng) / shape)
    }
}

/// The natural logarithm of a gamma number of a shape (above 0, no unit) and scale 1.
///
/// Finite however small the shape, where the number itself would underflow to 0.
///
/// ```
/// use oddment::draw::ln_gamma_draw;
/// use rand::SeedableRng;
/// let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(1);
/// assert!(ln_gamma_draw(1e-6, &mut rng).is_finite());
/// ```
pub fn ln_gamma_draw(shape: f64, rng: &mut impl Rng) -> f64 {
    ln_gamma_from(shape_in_range(shape), rng)
}

/// A gamma number of a shape (above 0, no unit) and scale 1: mean and variance are the shape.
///
/// Never 0: what would underflow is the smallest normal number instead. See [`ln_gamma_draw`].
///
/// ```
/// use oddment::draw::gamma;
/// use rand::SeedableRng;
/// let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(1);
/// let mean: f64 = (0..10_000).map(|_| gamma(4.0, &mut rng)).sum::<f64>() / 10_000.0;
/// assert!((mean - 4.0).abs() < 0.08); // four standard errors
/// ```
pub fn gamma(shape: f64, rng: &mut impl Rng) -> f64 {
    let shape = shape_in_range(shape);
    gamma_any(shape, rng).max(f64::MIN_POSITIVE)
}

/// A number from the beta distribution of a mean (strictly between 0 and 1) and a strength (above
/// 0, in pieces).
///
/// ```text
/// x / (x + y),   x ~ Gamma(mean * strength),   y ~ Gamma((1 - mean) * strength)
/// ```
///
/// Variance `mean (1 - mean) / (strength + 1)`. Never exactly 0 or 1: a draw beyond what a double
/// can tell from them is the nearest it can.
///
/// ```
/// use oddment::draw::beta;
/// use rand::SeedableRng;
/// let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(1);
/// for _ in 0..1_000 {
///     let share = beta(1e-6, 1.0, &mut rng);
///     assert!(share > 0.0 && share < 1.0);
/// }
/// ```
pub fn beta(mean: f64, strength: f64, rng: &mut impl Rng) -> f64 {
    let (a, b) = shapes(mean, strength);
    if a < 1.0 && b < 1.0 {
        // Both could underflow, and then their ratio would be lost.
        let (x, y) = (ln_gamma_from(a, rng), ln_gamma_from(b, rng));
        open(1.0 / (1.0 + libm::exp(y - x)))
    } else {
        let (x, y) = (gamma_any(a, rng), gamma_any(b, rng));
        open(x / (x + y))
    }
}

/// Shares that sum to 1, from the Dirichlet distribution of their means (0 or more, summing to 1)
/// and a strength (above 0, in pieces), written to `out`.
///
/// ```text
/// x_i / sum of x,   x_i ~ Gamma(mean_i * strength)
/// ```
///
/// A mean of exactly 0 (or none, where `out` is longer) gives exactly 0, and any other at least the
/// smallest normal number; where no mean is above 0, all of `out` is 0.
///
/// ```
/// use oddment::draw::dirichlet;
/// use rand::SeedableRng;
/// let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(1);
/// let mut shares = [0.0; 3];
/// dirichlet(&[0.7, 0.3, 0.0], 20.0, &mut rng, &mut shares);
/// assert!((shares[0] + shares[1] - 1.0).abs() < 1e-15 && shares[2] == 0.0);
/// ```
pub fn dirichlet(means: &[f64], strength: f64, rng: &mut impl Rng, out: &mut [f64]) {
    out.fill(f64::NEG_INFINITY);
    let mut greatest = f64::NEG_INFINITY;
    for (ln, mean) in out.iter_mut().zip(means).filter(|(_, mean)| **mean > 0.0) {
        *ln = ln_gamma_draw(mean * strength, rng);
        greatest = greatest.max(*ln);
    }
    let mut total = 0.0;
    for share in out.iter_mut() {
        *share = if *share == f64::NEG_INFINITY {
            0.0
        } else {
            libm::exp(*share - greatest).max(f64::MIN_POSITIVE)
        };
        total += *share;
    }
    if total > 0.0 {
        for share in out.iter_mut().filter(|share| **share > 0.0) {
            *share = (*share / total).max(f64::MIN_POSITIVE);
        }
    }
}

/// Finds where a distribution function reaches `p`, within a bracket of a coordinate in which it
/// rises: Newton's method on the logarithm of the nearer tail, which is nearly straight in the
/// coordinates used here, and bisection wherever that would leave the bracket.
///
/// `tails` gives, at a coordinate, the mass below, the mass above, and the slope of the former.
fn search(
    p: f64,
    (mut low, mut high): (f64, f64),
    start: f64,
    tails: impl Fn(f64) -> (f64, f64, f64),
) -> f64 {
    let mut at = start.clamp(low, high);
    for _ in 0..MOST_STEPS {
        let (below, above, slope) = tails(at);
        let (mass, wanted, slope) = if p <= 0.5 {
            (below, p, slope)
        } else {
            (above, 1.0 - p, -slope)
        };
        if (mass < wanted) == (p <= 0.5) {
            low = at;
        } else {
            high = at;
        }
        let step = libm::log(mass / wanted) * mass / slope;
        let next = at - step;
        // Not a number where the tail has vanished: the comparison fails, as it should.
        let next = if next > low && next < high {
            next
        } else {
            0.5 * (low + high)
        };
        if (next - at).abs() <= 1e-15 * at.abs().max(1.0) {
            return next;
        }
        at = next;
    }
    at
}

/// The quantile of the beta distribution of a mean (strictly between 0 and 1) and a strength (above
/// 0, in pieces): the share that a draw stays below with probability `p`.
///
/// The regularised incomplete beta function by its continued fraction (modified Lentz), inverted in
/// log-odds. Relative error below 1e-11 for strengths to 10,000 (checked against 40-digit
/// arithmetic). Strictly between 0 and 1, as for [`beta`]; `p` of 0 or less gives the least share,
/// 1 or more the greatest, and not a number the least.
///
/// ```
/// use oddment::draw::beta_quantile;
/// // Beta(1, 3): 1 - (1 - p)^(1/3).
/// assert!((beta_quantile(0.875, 0.25, 4.0) - 0.5).abs() < 1e-14);
/// ```
pub fn beta_quantile(p: f64, mean: f64, strength: f64) -> f64 {
    let (a, b) = shapes(mean, strength);
    if p.is_nan() || p <= 0.0 {
        return f64::MIN_POSITIVE;
    }
    if p >= 1.0 {
        return BELOW_ONE;
    }
    let middle = libm::log(a / b);
    let tails = BetaTails::of(a, b);
    let log_odds = search(p, (-709.0, 37.0), middle, |log_odds| tails.at(log_odds));
    open(libm::exp(-ln_one_plus_exp(-log_odds)))
}

/// The share of draws of the beta distribution of a mean (strictly between 0 and 1) and a strength
/// (above 0, in pieces) that stay below `x`: the regularised incomplete beta function.
///
/// 0 to 1; 0 at and below 0 and for what is not a number, 1 at and above 1. As accurate as
/// [`beta_quantile`], whose inverse it is.
///
/// ```
/// use oddment::draw::beta_below;
/// // Beta(1, 3): 1 - (1 - x)^3.
/// assert!((beta_below(0.5, 0.25, 4.0) - 0.875).abs() < 1e-14);
/// ```
pub fn beta_below(x: f64, mean: f64, strength: f64) -> f64 {
    if x.is_nan() || x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let (a, b) = shapes(mean, strength);
    let log_odds = libm::log(x) - libm::log1p(-x);
    BetaTails::of(a, b).at(log_odds).0
}

/// The two tails of a beta distribution, with what they need only once.
struct BetaTails {
    a: f64,
    b: f64,
    /// ln of sqrt(a b / (2 pi (a + b))) and what Stirling's formula leaves over.
    constant: f64,
    ln_a_share: f64,
    ln_b_share: f64,
}

impl BetaTails {
    fn of(a: f64, b: f64) -> Self {
        let both = a + b;
        let constant = 0.5 * libm::log(a / both * b) - LN_SQRT_TWO_PI + stirling_rest(both)
            - stirling_rest(a)
            - stirling_rest(b);
        Self {
            a,
            b,
            constant,
            ln_a_share: -libm::log1p(b / a),
            ln_b_share: -libm::log1p(a / b),
        }
    }

    /// The mass below and above these log-odds, and the slope of the former.
    fn at(&self, log_odds: f64) -> (f64, f64, f64) {
        let Self { a, b, .. } = *self;
        let (ln_x, ln_rest) = (-ln_one_plus_exp(-log_odds), -ln_one_plus_exp(log_odds));
        let x = libm::exp(ln_x);
        // x^a (1 - x)^b / B(a, b): also the slope, since dx = x (1 - x) d(log-odds).
        let front = libm::exp(
            a * (ln_x - self.ln_a_share) + b * (ln_rest - self.ln_b_share) + self.constant,
        );
        if x < (a + 1.0) / (a + b + 2.0) {
            let below = (front / a * beta_fraction(a, b, x)).min(1.0);
            (below, 1.0 - below, front)
        } else {
            let above = (front / b * beta_fraction(b, a, libm::exp(ln_rest))).min(1.0);
            (1.0 - above, above, front)
        }
    }
}

/// ln(1 + exp(z)) without overflow.
fn ln_one_plus_exp(z: f64) -> f64 {
    if z > 0.0 {
        z + libm::log1p(libm::exp(-z))
    } else {
        libm::log1p(libm::exp(z))
    }
}

/// The quantile of the gamma distribution of a shape (above 0, no unit) and scale 1: what a draw
/// stays below with probability `p`. Twice that of shape `k / 2` is the chi-square quantile of `k`
/// degrees of freedom.
///
/// The regularised incomplete gamma function by its series or continued fraction, inverted in the
/// logarithm. Relative error below 1e-11 for shapes from 0.1 to 10,000. Above 0, as for [`gamma`];
/// `p` of 0 or less, and not a number, give the least, 1 or more the largest finite number.
///
/// ```
/// use oddment::draw::gamma_quantile;
/// // Shape 1 is exponential: -ln(1 - p).
/// assert!((gamma_quantile(0.5, 1.0) - std::f64::consts::LN_2).abs() < 1e-15);
/// ```
pub fn gamma_quantile(p: f64, shape: f64) -> f64 {
    let shape = shape_in_range(shape);
    if p.is_nan() || p <= 0.0 {
        return f64::MIN_POSITIVE;
    }
    if p >= 1.0 {
        return f64::MAX;
    }
    let constant = 0.5 * libm::log(shape) - LN_SQRT_TWO_PI - stirling_rest(shape);
    let tails = |w: f64| {
        // x^shape exp(-x) / gamma(shape) at x = shape exp(w): also the slope, since dx = x dw.
        let weight = libm::exp(constant - shape * exp_rest(w));
        let (below, above) = gamma_tails(shape, w, weight);
        (below, above, weight)
    };
    let lowest = libm::log(f64::MIN_POSITIVE) - libm::log(shape);
    // No quantile of a double's `p` lies more than 40 below or 800 above in x.
    let highest = libm::log1p(800.0 / shape + 40.0 / shape.sqrt());
    let w = search(p, (lowest, highest), 0.0, tails);
    (shape * libm::exp(w)).max(f64::MIN_POSITIVE)
}

#[cfg(test)]
mod tests;
