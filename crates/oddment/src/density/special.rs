//! Distribution functions and the small differences that must not cancel.

pub(crate) const LN_SQRT_TWO_PI: f64 = 0.918_938_533_204_672_8;
pub(super) const INVERSE_SQRT_TWO_PI: f64 = 0.398_942_280_401_432_7;
pub(super) const HALF_LN_PI: f64 = 0.572_364_942_924_700_1;
/// Most terms of a series or continued fraction; the largest shape needs half.
const MOST_TERMS: u32 = 40_000;

/// The standard normal density.
pub(super) fn normal_density(z: f64) -> f64 {
    INVERSE_SQRT_TWO_PI * libm::exp(-0.5 * z * z)
}

/// The standard normal distribution function, accurate in the lower tail.
pub(super) fn normal_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// Standard normal mass between `low` and `high`. `width` is `high - low`
/// computed by the caller before it was rounded away.
pub(super) fn normal_between(low: f64, high: f64, width: f64) -> f64 {
    let half = 0.5 * width;
    let middle = 0.5 * (low + high);
    if half * middle.abs().max(1.0) < 0.1 {
        if middle.abs() > 40.0 {
            return 0.0;
        }
        // Taylor series about the middle: the Hermite polynomials of even order.
        let m = middle * middle;
        let h = half * half;
        let four = m * (m - 6.0) + 3.0;
        let six = m * (m * (m - 15.0) + 45.0) - 15.0;
        let eight = m * (m * (m * (m - 28.0) + 210.0) - 420.0) + 105.0;
        let terms =
            (m - 1.0) / 6.0 + h * (four / 120.0 + h * (six / 5_040.0 + h * eight / 362_880.0));
        return width * normal_density(middle) * (1.0 + h * terms);
    }
    let mass = if low > 0.0 {
        normal_below(-low) - normal_below(-high)
    } else {
        normal_below(high) - normal_below(low)
    };
    mass.max(0.0)
}

/// ln gamma(a) - [(a - 1/2) ln a - a + ln sqrt(2 pi)], without cancellation.
pub(crate) fn stirling_rest(a: f64) -> f64 {
    if a < 10.0 {
        return libm::lgamma(a) - (a - 0.5) * libm::log(a) + a - LN_SQRT_TWO_PI;
    }
    let r = 1.0 / a;
    let q = r * r;
    let tail = 1.0 / 1_680.0 - q * (1.0 / 1_188.0 - q * 691.0 / 360_360.0);
    r * (1.0 / 12.0 - q * (1.0 / 360.0 - q * (1.0 / 1_260.0 - q * tail)))
}

/// exp(w) - 1 - w without cancellation near zero.
pub(crate) fn exp_rest(w: f64) -> f64 {
    if w.abs() > 0.1 {
        return libm::expm1(w) - w;
    }
    let mut sum = 0.0;
    for n in (3..=12).rev() {
        sum = (sum + 1.0) * w / f64::from(n);
    }
    0.5 * w * w * (sum + 1.0)
}

/// ln cosh z without overflow or cancellation.
pub(super) fn ln_cosh(z: f64) -> f64 {
    if z.abs() > 20.0 {
        return z.abs() - std::f64::consts::LN_2;
    }
    let s = libm::sinh(z);
    0.5 * libm::log1p(s * s)
}

/// ln(t / base), accurate when the two are close and when the ratio would
/// leave the range of `f64`.
pub(crate) fn ln_ratio(t: f64, base: f64) -> f64 {
    let ratio = t / base;
    if ratio > 0.5 && ratio < 2.0 {
        libm::log1p((t - base) / base)
    } else if ratio.is_normal() {
        libm::log(ratio)
    } else {
        libm::log(t) - libm::log(base)
    }
}

/// Regularised incomplete gamma functions (lower, upper) at `shape exp(w)`;
/// `weight` is x^shape exp(-x) / gamma(shape).
pub(crate) fn gamma_tails(shape: f64, w: f64, weight: f64) -> (f64, f64) {
    let x = shape * libm::exp(w);
    if x < shape + 1.0 {
        let mut term = 1.0 / shape;
        let mut sum = term;
        let mut n = shape;
        for _ in 0..MOST_TERMS {
            n += 1.0;
            term *= x / n;
            sum += term;
            if term < sum * 1e-17 {
                break;
            }
        }
        let below = (weight * sum).min(1.0);
        (below, 1.0 - below)
    } else if weight == 0.0 || !x.is_finite() {
        (1.0, 0.0)
    } else {
        // Modified Lentz on 1/(x+1-a- 1(1-a)/(x+3-a- 2(2-a)/(x+5-a- ...
        let tiny = 1e-300;
        let mut b = x + 1.0 - shape;
        let mut c = 1.0 / tiny;
        let mut d = 1.0 / b;
        let mut h = d;
        for i in 1..=MOST_TERMS {
            let n = f64::from(i);
            let a = -n * (n - shape);
            b += 2.0;
            d = 1.0 / away_from_zero(a * d + b, tiny);
            c = away_from_zero(b + a / c, tiny);
            let step = d * c;
            h *= step;
            if (step - 1.0).abs() < 1e-16 {
                break;
            }
        }
        let above = (weight * h).clamp(0.0, 1.0);
        (1.0 - above, above)
    }
}

/// Student's upper tail at `sqrt(degrees) sinh u`, `u >= 0`: half the incomplete
/// beta function of sech^2 u.
pub(super) fn student_tail(degrees: f64, ln_c: f64, u: f64) -> f64 {
    let a = 0.5 * degrees;
    let lc = ln_cosh(u);
    let outer = libm::exp(-2.0 * lc);
    let tanh = libm::tanh(u);
    let front = libm::exp(ln_c - degrees * lc) * tanh;
    if outer < (a + 1.0) / (a + 2.5) {
        (0.5 * front / a * beta_fraction(a, 0.5, outer)).min(0.5)
    } else {
        0.5 - front * beta_fraction(0.5, a, tanh * tanh)
    }
}

/// The continued fraction of the incomplete beta function, by modified Lentz.
pub(crate) fn beta_fraction(a: f64, b: f64, x: f64) -> f64 {
    let tiny = 1e-300;
    let mut c = 1.0;
    let mut d = 1.0 / away_from_zero(1.0 - (a + b) * x / (a + 1.0), tiny);
    let mut h = d;
    for i in 1..=MOST_TERMS {
        let m = f64::from(i);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / away_from_zero(1.0 + even * d, tiny);
        c = away_from_zero(1.0 + even / c, tiny);
        h *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / away_from_zero(1.0 + odd * d, tiny);
        c = away_from_zero(1.0 + odd / c, tiny);
        let step = d * c;
        h *= step;
        if (step - 1.0).abs() < 1e-16 {
            break;
        }
    }
    h
}

fn away_from_zero(x: f64, tiny: f64) -> f64 {
    if x.abs() < tiny { tiny } else { x }
}
