//! The arithmetic under [`super::Density`]: each family in a coordinate in which
//! its density is free of kinks, and the error of the instrument folded in.

use super::quadrature::integrate;
use super::special::{
    HALF_LN_PI, INVERSE_SQRT_TWO_PI, LN_SQRT_TWO_PI, exp_rest, gamma_tails, ln_cosh, ln_ratio,
    normal_below, normal_between, normal_density, stirling_rest, student_tail,
};

/// exp(-REACH^2 / 2) is about the smallest positive `f64`.
const REACH: f64 = 38.6;

/// A family seen through a coordinate `u` in which its density is smooth over
/// its whole range.
#[derive(Clone, Copy, Debug)]
pub(super) enum Leaf {
    /// `t = mean + sd u`.
    Normal { mean: f64, sd: f64 },
    /// `t = median exp(spread u)`.
    LogNormal { median: f64, spread: f64 },
    /// `t = mean exp(u)`.
    Gamma { shape: f64, mean: f64, ln_c: f64 },
    /// `t = location + stretch sinh u`, where stretch = scale sqrt(degrees).
    StudentT {
        location: f64,
        scale: f64,
        stretch: f64,
        degrees: f64,
        ln_c: f64,
    },
    /// `t = scale u`.
    HalfNormal { scale: f64 },
    /// `t = low + width u`.
    Uniform { low: f64, high: f64, width: f64 },
}

impl Leaf {
    pub(super) fn gamma(shape: f64, scale: f64) -> Leaf {
        Leaf::Gamma {
            shape,
            mean: shape * scale,
            ln_c: 0.5 * libm::log(shape) - LN_SQRT_TWO_PI - stirling_rest(shape),
        }
    }

    pub(super) fn student_t(location: f64, scale: f64, degrees: f64) -> Leaf {
        let a = 0.5 * degrees;
        let ratio = if a < 10.0 {
            libm::lgamma(a + 0.5) - libm::lgamma(a)
        } else {
            a * libm::log1p(0.5 / a) - 0.5 + 0.5 * libm::log(a) + stirling_rest(a + 0.5)
                - stirling_rest(a)
        };
        Leaf::StudentT {
            location,
            scale,
            stretch: scale * degrees.sqrt(),
            degrees,
            ln_c: ratio - HALF_LN_PI,
        }
    }

    /// The measurement at coordinate `u`, held finite.
    fn value(&self, u: f64) -> f64 {
        let t = match *self {
            Leaf::Normal { mean, sd } => mean + sd * u,
            Leaf::LogNormal { median, spread } => median * libm::exp(spread * u),
            Leaf::Gamma { mean, .. } => mean * libm::exp(u),
            Leaf::StudentT {
                location, stretch, ..
            } => location + stretch * libm::sinh(u),
            Leaf::HalfNormal { scale } => scale * u,
            Leaf::Uniform { low, width, .. } => low + width * u,
        };
        t.clamp(-1e300, 1e300)
    }

    /// The coordinate of the measurement `t`; negative infinity or NaN where a
    /// positive family has no such measurement.
    fn coordinate(&self, t: f64) -> f64 {
        match *self {
            Leaf::Normal { mean, sd } => (t - mean) / sd,
            Leaf::LogNormal { median, spread } => ln_ratio(t, median) / spread,
            Leaf::Gamma { mean, .. } => ln_ratio(t, mean),
            Leaf::StudentT {
                location, stretch, ..
            } => libm::asinh((t - location) / stretch),
            Leaf::HalfNormal { scale } => t / scale,
            Leaf::Uniform { low, width, .. } => (t - low) / width,
        }
    }

    /// Log of the density with respect to `u`.
    fn ln_weight(&self, u: f64) -> f64 {
        match *self {
            Leaf::Normal { .. } | Leaf::LogNormal { .. } => -0.5 * u * u - LN_SQRT_TWO_PI,
            Leaf::Gamma { shape, ln_c, .. } => ln_c - shape * exp_rest(u),
            Leaf::StudentT { degrees, ln_c, .. } => ln_c - degrees * ln_cosh(u),
            Leaf::HalfNormal { .. } => std::f64::consts::LN_2 - LN_SQRT_TWO_PI - 0.5 * u * u,
            Leaf::Uniform { .. } => 0.0,
        }
    }

    /// How far below and above zero the coordinate carries representable mass.
    fn reach(&self) -> (f64, f64) {
        match *self {
            Leaf::Normal { .. } | Leaf::LogNormal { .. } => (REACH, REACH),
            Leaf::Gamma { shape, .. } => {
                let r = 745.0 / shape;
                let below = if r < 1.0 / 3.0 {
                    (3.0 * r).sqrt()
                } else {
                    r + 1.0
                };
                let above = (2.0 * r).sqrt().min(libm::log(2.0 + 2.0 * r) + 2.0);
                (below, above)
            }
            Leaf::StudentT { degrees, .. } => {
                let r = 745.0 / degrees;
                let side = if r < 1.0 / 3.0 {
                    (3.0 * r).sqrt()
                } else {
                    r + 1.0
                };
                // Beyond 460 a mass of at most 1e-100, at distances near f64::MAX.
                (side.min(460.0), side.min(460.0))
            }
            Leaf::HalfNormal { .. } => (0.0, REACH),
            Leaf::Uniform { .. } => (0.0, 1.0),
        }
    }

    /// The mean; for Student's t the centre, which is the mean where there is one.
    pub(super) fn mean(&self) -> f64 {
        match *self {
            Leaf::Normal { mean, .. } | Leaf::Gamma { mean, .. } => mean,
            Leaf::LogNormal { median, spread } => median * libm::exp(0.5 * spread * spread),
            Leaf::StudentT { location, .. } => location,
            Leaf::HalfNormal { scale } => scale * std::f64::consts::FRAC_2_PI.sqrt(),
            Leaf::Uniform { low, high, .. } => 0.5 * low + 0.5 * high,
        }
    }

    /// Density at `t` without instrument error; may be infinite at the edge of
    /// a gamma density of shape below one.
    pub(super) fn pdf(&self, t: f64) -> f64 {
        let u = self.coordinate(t);
        let slope = match *self {
            Leaf::Normal { sd, .. } => sd,
            Leaf::LogNormal { spread, .. } => spread * t,
            Leaf::Gamma { shape, mean, .. } if t == 0.0 => {
                return match shape.total_cmp(&1.0) {
                    std::cmp::Ordering::Less => f64::INFINITY,
                    std::cmp::Ordering::Equal => 1.0 / mean,
                    std::cmp::Ordering::Greater => 0.0,
                };
            }
            Leaf::Gamma { .. } => t,
            // The derivative of sinh, folded into the exponent.
            Leaf::StudentT {
                stretch,
                degrees,
                ln_c,
                ..
            } => return libm::exp(ln_c - (degrees + 1.0) * ln_cosh(u)) / stretch,
            Leaf::HalfNormal { scale } => scale,
            Leaf::Uniform { width, .. } => width,
        };
        let inside = match *self {
            Leaf::Uniform { .. } => (0.0..=1.0).contains(&u),
            Leaf::HalfNormal { .. } => t >= 0.0,
            Leaf::Normal { .. } => true,
            _ => t > 0.0,
        };
        if inside {
            libm::exp(self.ln_weight(u)) / slope
        } else {
            0.0
        }
    }

    /// Mass below and above `t`, each to full relative accuracy where it is the
    /// smaller of the two.
    pub(super) fn tails(&self, t: f64) -> (f64, f64) {
        let u = self.coordinate(t);
        match *self {
            Leaf::LogNormal { .. } | Leaf::Gamma { .. } | Leaf::HalfNormal { .. } if t <= 0.0 => {
                (0.0, 1.0)
            }
            Leaf::Normal { .. } | Leaf::LogNormal { .. } => (normal_below(u), normal_below(-u)),
            Leaf::HalfNormal { .. } => {
                let z = u * std::f64::consts::FRAC_1_SQRT_2;
                (libm::erf(z), libm::erfc(z))
            }
            Leaf::Uniform { .. } => {
                let below = u.clamp(0.0, 1.0);
                (below, 1.0 - below)
            }
            Leaf::Gamma { shape, .. } => gamma_tails(shape, u, libm::exp(self.ln_weight(u))),
            Leaf::StudentT { degrees, ln_c, .. } => {
                let outer = student_tail(degrees, ln_c, u.abs());
                if u < 0.0 {
                    (outer, 1.0 - outer)
                } else {
                    (1.0 - outer, outer)
                }
            }
        }
    }

    /// Density of the observed value, `sigma > 0`.
    pub(super) fn density(&self, x: f64, sigma: f64) -> f64 {
        match *self {
            Leaf::Normal { mean, sd } => {
                let both = libm::hypot(sd, sigma);
                return normal_density((x - mean) / both) / both;
            }
            Leaf::HalfNormal { scale } => {
                let both = libm::hypot(scale, sigma);
                let skew = (x / sigma) * (scale / both);
                return 2.0 * normal_density(x / both) / both * normal_below(skew);
            }
            Leaf::Uniform { low, high, width } => {
                let from = (x - high) / sigma;
                let to = (x - low) / sigma;
                return normal_between(from, to, width / sigma) / width;
            }
            Leaf::LogNormal { .. } | Leaf::Gamma { .. } | Leaf::StudentT { .. } => {}
        }
        // Where the instrument is finer than the family, integrate over the
        // error: the coordinate would round it away. Never across t = 0.
        let over_error = match *self {
            Leaf::LogNormal { spread, .. } => x > 40.0 * sigma && sigma < spread * x,
            Leaf::Gamma { shape, .. } => x > 40.0 * sigma && sigma < x / shape.max(1.0).sqrt(),
            Leaf::StudentT { scale, .. } => sigma < scale,
            _ => false,
        };
        let mut points = Vec::with_capacity(48);
        if over_error {
            around(&mut points, (REACH, REACH));
            let mut own = Vec::with_capacity(24);
            around(&mut own, self.reach());
            points.extend(own.iter().map(|&u| (self.value(u) - x) / sigma));
            integrate(points, (-REACH, REACH), |z| {
                normal_density(z) * self.pdf(x + sigma * z)
            })
        } else {
            around(&mut points, self.reach());
            self.images(&mut points, x, sigma);
            integrate(points, self.range(), |u| {
                let z = (x - self.value(u)) / sigma;
                libm::exp(self.ln_weight(u) - 0.5 * z * z)
            }) * INVERSE_SQRT_TWO_PI
                / sigma
        }
    }

    /// Probability that the true value lies between the bounds, either of which
    /// may be infinite.
    pub(super) fn mass(&self, low: f64, high: f64) -> f64 {
        let from = if low.is_finite() {
            self.tails(low)
        } else {
            (0.0, 1.0)
        };
        let to = if high.is_finite() {
            self.tails(high)
        } else {
            (1.0, 0.0)
        };
        if from.0 > 0.5 {
            from.1 - to.1
        } else {
            to.0 - from.0
        }
    }

    /// The same for the observed value, `sigma > 0`.
    pub(super) fn between(&self, low: f64, high: f64, sigma: f64) -> f64 {
        if let Leaf::Normal { mean, sd } = *self {
            let both = libm::hypot(sd, sigma);
            let (from, to) = ((low - mean) / both, (high - mean) / both);
            return normal_between(from, to, (high - low) / both);
        }
        let width = (high - low) / sigma;
        let mut points = Vec::with_capacity(64);
        around(&mut points, self.reach());
        self.images(&mut points, low, sigma);
        self.images(&mut points, high, sigma);
        integrate(points, self.range(), |u| {
            let t = self.value(u);
            let mass = normal_between((low - t) / sigma, (high - t) / sigma, width);
            mass * libm::exp(self.ln_weight(u))
        })
    }

    fn range(&self) -> (f64, f64) {
        let (below, above) = self.reach();
        (-below, above)
    }

    /// Coordinates of the places where an error about `x` changes character.
    fn images(&self, points: &mut Vec<f64>, x: f64, sigma: f64) {
        for step in [
            -REACH, -20.0, -9.0, -4.0, -1.5, 0.0, 1.5, 4.0, 9.0, 20.0, REACH,
        ] {
            points.push(self.coordinate(x + step * sigma));
        }
    }
}

/// Zero, and points at 1, 1/2, 1/4, ... 1/64 of the reach on either side.
fn around(points: &mut Vec<f64>, (below, above): (f64, f64)) {
    points.push(0.0);
    let mut share = 1.0;
    for _ in 0..7 {
        points.push(-below * share);
        points.push(above * share);
        share *= 0.5;
    }
}
