//! Runs a property over generated inputs, the same ones every time.

use proptest::strategy::Strategy;
use proptest::test_runner::{Config, RngSeed, TestRunner};

/// Runs a property, a function that panics where the property fails, on a number of inputs drawn
/// from a fixed seed.
///
/// # Panics
/// With the smallest failing input that shrinking finds.
pub fn check<S: Strategy>(cases: u32, strategy: S, property: impl Fn(S::Value)) {
    let config = Config {
        cases,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(0x0DD_3E27),
        max_shrink_iters: 2000,
        ..Config::default()
    };
    let outcome = TestRunner::new(config).run(&strategy, |input| {
        property(input);
        Ok(())
    });
    if let Err(failure) = outcome {
        panic!("{failure}");
    }
}
