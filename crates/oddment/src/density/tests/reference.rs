//! Values computed elsewhere.

use super::super::special::{exp_rest, normal_between, stirling_rest};
use super::*;

/// Computed with mpmath at 50 digits: the convolution integral by tanh-sinh
/// quadrature in the measurement (or its logarithm), not by this module's route.
#[test]
fn readings_match_fifty_digit_convolutions() {
    let table = [
        (log_normal(6.0, 1.8), 5.0, 1.0, 0.123103233781252),
        (log_normal(6.0, 1.8), -1.0, 1.0, 0.0006125026504881712),
        (log_normal(6.0, 1.8), 20.0, 0.01, 0.0041648458724101315),
        (log_normal(6.0, 1.8), 6.0, 50.0, 0.007944287573272578),
        (log_normal(6.0, 1.8), 60.0, 1.5, 5.368741624826714e-06),
        (log_normal(100.0, 1.001), 100.2, 1e-05, 0.54017877478587),
        (log_normal(100.0, 1.001), 103.0, 1.0, 0.004611319352436269),
        (gamma(2.5, 3.0), 5.0, 1.0, 0.09882279737050957),
        (gamma(2.5, 3.0), -2.0, 0.8, 4.2090970220093724e-05),
        (gamma(2.5, 3.0), 40.0, 2.0, 2.3491907029037123e-05),
        (gamma(2.5, 3.0), 7.5, 1e-06, 0.08136101423292456),
        (gamma(2.5, 3.0), 10.0, 100.0, 0.003983699267433806),
        (gamma(0.3, 2.0), 0.05, 0.1, 1.9503811706369474),
        (gamma(0.3, 2.0), -0.4, 0.1, 0.00035425261308286485),
        (gamma(0.3, 2.0), 3.0, 0.001, 0.028077957438177547),
        (gamma(4000.0, 0.002), 8.1, 0.05, 2.2213980111071203),
        (gamma(4000.0, 0.002), 8.1, 3.0, 0.13278904603861758),
        (student_t(8.0, 2.0, 4.0), 9.0, 1.0, 0.14827294164615942),
        (student_t(8.0, 2.0, 4.0), 30.0, 0.5, 3.4595627503218674e-05),
        (student_t(8.0, 2.0, 4.0), 8.0, 200.0, 0.001994512175053175),
        (student_t(8.0, 2.0, 4.0), 8.5, 1e-07, 0.18037145782629485),
        (student_t(0.0, 1.0, 1.0), 4.0, 0.3, 0.01900445190034143),
        (
            student_t(0.0, 1.0, 1.0),
            -300.0,
            2.0,
            3.5372088736274885e-06,
        ),
        (student_t(5.0, 0.01, 30.0), 5.4, 0.1, 0.001449256688409402),
        (student_t(0.0, 1.0, 200000.0), 2.0, 1.5, 0.1195942361490474),
        (half_normal(1.5), 0.5, 0.3, 0.4691957679495003),
        (half_normal(1.5), -2.0, 0.4, 1.521130690253483e-07),
        (half_normal(1.5), 4.0, 2.0, 0.07852576864973919),
        (uniform(2.0, 9.0), 5.0, 0.5, 0.14285714271620167),
        (uniform(2.0, 9.0), 12.0, 1.0, 0.00019284257594715635),
        (uniform(2.0, 9.0), -20.0, 1.0, 2.0569891930643986e-108),
    ];
    for (density, x, sigma, want) in table {
        near(density.density_at(x, sigma).unwrap(), want, 1e-12);
    }
}

/// Computed with mpmath at 50 digits, as above.
#[test]
fn censored_readings_match_fifty_digit_convolutions() {
    let table = [
        (
            log_normal(6.0, 1.8),
            None,
            Some(3.0),
            0.7,
            0.12827664095675062,
        ),
        (
            log_normal(6.0, 1.8),
            Some(12.0),
            None,
            2.0,
            0.13405721711233906,
        ),
        (
            log_normal(6.0, 1.8),
            Some(4.0),
            Some(6.0),
            0.0001,
            0.2548452943179825,
        ),
        (
            log_normal(6.0, 1.8),
            Some(5.0),
            Some(5.001),
            1.0,
            0.0001230998204638084,
        ),
        (gamma(2.5, 3.0), None, Some(1.0), 0.5, 0.02006874254800309),
        (gamma(2.5, 3.0), Some(25.0), None, 1.0, 0.005378839103369164),
        (
            gamma(2.5, 3.0),
            Some(3.0),
            Some(9.0),
            20.0,
            0.1158806380174052,
        ),
        (gamma(0.3, 2.0), None, Some(0.1), 0.2, 0.35346743255687707),
        (gamma(0.3, 2.0), None, Some(-1.0), 0.2, 8.66226250545844e-08),
        (
            gamma(4000.0, 0.002),
            Some(8.3),
            None,
            0.1,
            0.03184666667929165,
        ),
        (
            student_t(8.0, 2.0, 4.0),
            None,
            Some(2.0),
            1.0,
            0.02313807744007596,
        ),
        (
            student_t(8.0, 2.0, 4.0),
            Some(40.0),
            None,
            3.0,
            4.879575331615549e-05,
        ),
        (
            student_t(8.0, 2.0, 4.0),
            Some(7.0),
            Some(9.0),
            0.001,
            0.35666998942669753,
        ),
        (
            student_t(0.0, 1.0, 1.0),
            Some(10.0),
            Some(20.0),
            1.0,
            0.016104966311368065,
        ),
        (half_normal(1.5), None, Some(0.5), 0.2, 0.25912217692084527),
        (half_normal(1.5), Some(3.0), None, 1.0, 0.09589471344761323),
        (
            half_normal(1.5),
            None,
            Some(-1.5),
            0.4,
            4.459117263961272e-06,
        ),
        (
            half_normal(1.5),
            Some(1.0),
            Some(2.0),
            10.0,
            0.03969747778729186,
        ),
        (uniform(2.0, 9.0), None, Some(2.5), 1.0, 0.09968522248505578),
        (
            uniform(2.0, 9.0),
            Some(10.0),
            None,
            0.5,
            0.0006064787583449741,
        ),
        (
            uniform(2.0, 9.0),
            Some(4.0),
            Some(5.0),
            0.01,
            0.14285714285714285,
        ),
        (
            uniform(2.0, 9.0),
            None,
            Some(-3.0),
            1.0,
            7.637379334046879e-09,
        ),
    ];
    for (density, low, high, sigma, want) in table {
        let got = density.probability_between(low, high, sigma).unwrap();
        near(got, want, 1e-12);
    }
}

/// Computed with mpmath at 50 digits (incomplete gamma and beta functions).
#[test]
fn distribution_functions_match_fifty_digit_values() {
    let table = [
        (gamma(2.5, 3.0), 5.0, 0.3512576413324066),
        (gamma(0.3, 2.0), 0.001, 0.11392541451789882),
        (gamma(0.01, 1.0), 1e-09, 0.8174689566624787),
        (gamma(50.0, 1.0), 20.0, 1.245892607971938e-08),
        (gamma(50.0, 1.0), 80.0, 0.9998692160234086),
        (gamma(1000000.0, 1e-06), 0.999, 0.1586552135743144),
        (gamma(4000.0, 0.002), 8.2, 0.9421881762120617),
        (student_t(8.0, 2.0, 4.0), 3.0, 0.03338327240599407),
        (student_t(8.0, 2.0, 4.0), 8.001, 0.5001874999902343),
        (student_t(0.0, 1.0, 1.0), -1000.0, 0.0003183097800805589),
        (student_t(0.0, 1.0, 0.5), -3.0, 0.18365407799297173),
        (student_t(0.0, 1.0, 30.0), -9.0, 2.507415958073939e-10),
        (student_t(0.0, 1.0, 200000.0), -5.0, 2.8689324583921395e-07),
        (student_t(0.0, 1.0, 1000000.0), 0.5, 0.6914624062638143),
    ];
    for (density, x, want) in table {
        near(density.cdf(x).unwrap(), want, 1e-12);
    }
}

/// A second route that shares nothing with the quadrature: the trapezoid rule
/// over the error, on families that are smooth there.
#[test]
fn readings_match_a_fine_trapezoid_rule() {
    for (density, x, sigma) in [
        (log_normal(6.0, 1.3), 7.0, 0.4),
        (log_normal(30.0, 1.8), 25.0, 1.0),
        (gamma(40.0, 0.5), 18.0, 1.2),
        (student_t(2.0, 1.5, 5.0), 4.0, 0.9),
        (student_t(2.0, 1.5, 2.0), -7.0, 3.0),
        (normal(8.0, 4.0), 3.0, 3.0),
    ] {
        let step = 1.0 / 512.0;
        let mut sum = 0.0;
        for i in -4608..=4608 {
            let z = f64::from(i) * step;
            sum += density.pdf(x + sigma * z).unwrap() * libm::exp(-0.5 * z * z);
        }
        let want = sum * step / (2.0 * std::f64::consts::PI).sqrt();
        near(density.density_at(x, sigma).unwrap(), want, 1e-10);
    }
}

/// Computed with mpmath at 50 digits: the differences that must not cancel.
#[test]
fn small_differences_keep_their_digits() {
    for (low, high, want) in [
        (0.5, 0.65, 0.05069142792012218),
        (-0.09, 0.09, 0.07171278517034421),
        (8.0, 8.02, 9.337023028405736e-17),
        (-20.001, -20.0, 5.466104202324237e-91),
        (1.0, 1.000000001, 2.4197074441890547e-10),
        (-1.0, 3.0, 0.8399948480369128),
    ] {
        near(normal_between(low, high, high - low), want, 2e-13);
    }
    for (a, want) in [
        (0.5, 0.15342640972002736),
        (9.5, 0.008768700134139386),
        (10.0, 0.00833056343336287),
        (1000.0, 8.333333055555635e-05),
    ] {
        assert!((stirling_rest(a) - want).abs() < 5e-15, "{a}");
    }
    for (w, want) in [
        (1e-05, 5.000016666708334e-11),
        (-1e-05, 4.999983333375001e-11),
        (0.09, 0.004174283705210358),
        (-0.5, 0.10653065971263342),
        (3.0, 16.085536923187668),
    ] {
        near(exp_rest(w), want, 1e-15);
    }
    // Far above the middle, where one minus nearly one would be noise.
    let far = normal(0.0, 1.0).probability_between(Some(20.0), None, 0.0);
    near(far.unwrap(), 2.7536241186062337e-89, 1e-13);
    let far = log_normal(6.0, 1.8).probability_between(Some(400.0), Some(500.0), 0.0);
    near(far.unwrap(), 4.2370551740868696e-13, 1e-13);
}
