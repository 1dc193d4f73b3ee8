//! Comparisons that can fail: one stated tolerance, of one stated kind.

/// How far an actual value may lie from the expected one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tolerance {
    /// `|actual - expected| <= tolerance * |expected|`: an expected zero must be met exactly.
    Rel(f64),
    /// `|actual - expected| <= tolerance`.
    Abs(f64),
    /// Both values are natural logarithms, and so their difference is the relative difference of
    /// what they are logarithms of. Negative infinity only equals itself.
    Ln(f64),
}

/// The distance in the tolerance's own measure; infinite where a NaN or one infinity is involved.
pub fn distance(actual: f64, expected: f64, tolerance: Tolerance) -> f64 {
    if actual == expected {
        return 0.0;
    }
    let gap = (actual - expected).abs();
    let distance = match tolerance {
        Tolerance::Rel(_) => gap / expected.abs(),
        Tolerance::Abs(_) | Tolerance::Ln(_) => gap,
    };
    if distance.is_finite() {
        distance
    } else {
        f64::INFINITY
    }
}

/// Compares two values.
///
/// # Errors
/// A description with both values, when they lie further apart than the tolerance, or when the
/// tolerance is so wide or so odd that the comparison could not fail.
pub fn compare(actual: f64, expected: f64, tolerance: Tolerance) -> Result<(), String> {
    let (Tolerance::Rel(limit) | Tolerance::Abs(limit) | Tolerance::Ln(limit)) = tolerance;
    let widest = match tolerance {
        Tolerance::Abs(_) => f64::MAX,
        Tolerance::Rel(_) | Tolerance::Ln(_) => 0.1,
    };
    if !(limit > 0.0 && limit <= widest) {
        return Err(format!("{tolerance:?} is no tolerance"));
    }
    let distance = distance(actual, expected, tolerance);
    if distance <= limit {
        return Ok(());
    }
    Err(format!(
        "{actual:?} is not {expected:?}: apart by {distance:e}, allowed {tolerance:?}"
    ))
}

/// Compares two lists of equal length, entry by entry.
///
/// # Errors
/// As [`compare`], for the first entry that differs, or for different lengths.
pub fn compare_all(actual: &[f64], expected: &[f64], tolerance: Tolerance) -> Result<(), String> {
    if actual.len() != expected.len() {
        return Err(format!("{actual:?} and {expected:?} differ in length"));
    }
    if let ([actual], [expected]) = (actual, expected) {
        return compare(*actual, *expected, tolerance);
    }
    for (place, (one, other)) in actual.iter().zip(expected).enumerate() {
        compare(*one, *other, tolerance)
            .map_err(|why| format!("entry {place} of {actual:?} against {expected:?}: {why}"))?;
    }
    Ok(())
}

/// Asserts that two numbers, or two slices of numbers, are close: `rel = 1e-12`, `abs = 1e-12`, or
/// `ln = 1e-12` for two natural logarithms. Exactly one must be given. A context in the form of
/// `format!` arguments may follow and is printed on failure.
///
/// ```
/// use oddment_tests::assert_close;
/// assert_close!(0.1 + 0.2, 0.3, rel = 1e-15);
/// assert_close!([0.1 + 0.2, 1.0], [0.3, 1.0], rel = 1e-15, "sum of {}", 0.1);
/// ```
#[macro_export]
macro_rules! assert_close {
    ($actual:expr, $expected:expr, rel = $limit:expr $(, $($context:tt)+)?) => {
        $crate::assert_close!(@ $actual, $expected, $crate::close::Tolerance::Rel($limit) $(, $($context)+)?)
    };
    ($actual:expr, $expected:expr, abs = $limit:expr $(, $($context:tt)+)?) => {
        $crate::assert_close!(@ $actual, $expected, $crate::close::Tolerance::Abs($limit) $(, $($context)+)?)
    };
    ($actual:expr, $expected:expr, ln = $limit:expr $(, $($context:tt)+)?) => {
        $crate::assert_close!(@ $actual, $expected, $crate::close::Tolerance::Ln($limit) $(, $($context)+)?)
    };
    (@ $actual:expr, $expected:expr, $tolerance:expr) => {
        $crate::assert_close!(@ $actual, $expected, $tolerance, "")
    };
    (@ $actual:expr, $expected:expr, $tolerance:expr, $($context:tt)+) => {{
        let (actual, expected) = (&$actual, &$expected);
        let (actual, expected) = (
            $crate::close::Numbers::numbers(actual),
            $crate::close::Numbers::numbers(expected),
        );
        if let Err(why) = $crate::close::compare_all(actual, expected, $tolerance) {
            panic!(
                "{} against {}: {why}\n{}",
                stringify!($actual),
                stringify!($expected),
                format_args!($($context)+)
            );
        }
    }};
}

/// What [`assert_close`] compares: a number or a list of numbers.
pub trait Numbers {
    /// The numbers.
    fn numbers(&self) -> &[f64];
}

impl Numbers for f64 {
    fn numbers(&self) -> &[f64] {
        std::slice::from_ref(self)
    }
}

impl Numbers for Vec<f64> {
    fn numbers(&self) -> &[f64] {
        self
    }
}

impl Numbers for [f64] {
    fn numbers(&self) -> &[f64] {
        self
    }
}

impl<T: Numbers + ?Sized> Numbers for &T {
    fn numbers(&self) -> &[f64] {
        (**self).numbers()
    }
}

impl<const N: usize> Numbers for [f64; N] {
    fn numbers(&self) -> &[f64] {
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tolerance_of_one_kind_never_stands_in_for_the_other() {
        // The first pair passes where a relative tolerance silently keeps an absolute one beside it.
        for (actual, expected, tolerance, close) in [
            (4.53e-23, 1e-10, Tolerance::Rel(1e-14), false),
            (0.0, 4.53e-23, Tolerance::Rel(1e-9), false),
            (4.53e-23, 0.0, Tolerance::Rel(1e-9), false),
            (4.53e-23, 0.0, Tolerance::Abs(1e-22), true),
            (1.0 + 1e-9, 1.0, Tolerance::Rel(1e-8), true),
            (1e9 + 1.0, 1e9, Tolerance::Abs(0.5), false),
            (-9210.0, -9210.0 + 1e-9, Tolerance::Ln(1e-12), false),
            (
                f64::NEG_INFINITY,
                f64::NEG_INFINITY,
                Tolerance::Ln(1e-12),
                true,
            ),
            (f64::NEG_INFINITY, -1e300, Tolerance::Ln(1e-12), false),
            (f64::NAN, f64::NAN, Tolerance::Abs(1.0), false),
            (f64::INFINITY, 1.0, Tolerance::Rel(0.1), false),
            (1.0, 1.0, Tolerance::Rel(1.0), false),
            (1.0, 1.0, Tolerance::Abs(f64::NAN), false),
        ] {
            let outcome = compare(actual, expected, tolerance);
            assert_eq!(
                outcome.is_ok(),
                close,
                "{actual} {expected} {tolerance:?}: {outcome:?}"
            );
        }
    }
}
