//! Arithmetic with about 32 digits, so that an oracle may follow a documented formula literally
//! and still be exact where the formula cancels.

use std::ops::{Add, AddAssign, Mul, Sub};

/// An unevaluated sum of two f64, the second at most half a unit in the last place of the first.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Twofold {
    high: f64,
    low: f64,
}

/// Zero.
pub const ZERO: Twofold = Twofold {
    high: 0.0,
    low: 0.0,
};

/// One.
pub const ONE: Twofold = Twofold {
    high: 1.0,
    low: 0.0,
};

impl Twofold {
    /// The nearest f64.
    pub fn value(self) -> f64 {
        self.high
    }

    /// Whether it is exactly zero.
    pub fn is_zero(self) -> bool {
        self == ZERO
    }
}

impl From<f64> for Twofold {
    fn from(high: f64) -> Self {
        Self { high, low: 0.0 }
    }
}

/// Sum and rounding error (Knuth).
fn two_sum(a: f64, b: f64) -> (f64, f64) {
    let sum = a + b;
    let part = sum - a;
    (sum, (a - (sum - part)) + (b - part))
}

/// Product and rounding error (Dekker, with Veltkamp's splitting).
fn two_product(a: f64, b: f64) -> (f64, f64) {
    let split = |x: f64| {
        let scaled = 134_217_729.0 * x;
        let high = scaled - (scaled - x);
        (high, x - high)
    };
    let product = a * b;
    let ((a_high, a_low), (b_high, b_low)) = (split(a), split(b));
    let error = ((a_high * b_high - product) + a_high * b_low + a_low * b_high) + a_low * b_low;
    (product, error)
}

impl Add for Twofold {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        let (sum, error) = two_sum(self.high, other.high);
        let (low, rest) = two_sum(self.low, other.low);
        let (sum, error) = two_sum(sum, error + low);
        let (high, low) = two_sum(sum, error + rest);
        Self { high, low }
    }
}

impl Sub for Twofold {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        self + Self {
            high: -other.high,
            low: -other.low,
        }
    }
}

impl Mul for Twofold {
    type Output = Self;

    fn mul(self, other: Self) -> Self {
        let (product, error) = two_product(self.high, other.high);
        let error = error + (self.high * other.low + self.low * other.high);
        let (high, low) = two_sum(product, error);
        Self { high, low }
    }
}

impl AddAssign for Twofold {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cancellation_costs_no_digits() {
        // (1 + x)(1 - x) - 1 = -x^2, lost entirely in f64 for x = 1e-10.
        let x = Twofold::from(1e-10);
        let difference = (ONE + x) * (ONE - x) - ONE;
        crate::assert_close!(difference.value(), -(1e-10 * 1e-10), rel = 1e-11);
        assert_eq!((1.0 + 1e-10) * (1.0 - 1e-10) - 1.0, 0.0);
        // 0.1 has no exact form in binary; its own square does to twice the digits.
        let tenth = Twofold::from(0.1);
        let square = tenth * tenth;
        assert_ne!(square, Twofold::from(0.1 * 0.1));
        assert!((square - tenth * tenth).is_zero());
    }
}
