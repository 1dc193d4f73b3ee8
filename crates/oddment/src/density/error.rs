//! What can be wrong with a density or a question put to it.

use super::{DEEPEST_MIXTURE, LARGEST, MOST_PARTS, SMALLEST_SCALE};

/// Why a density cannot be evaluated.
///
/// Every `parameter` is the path of the number from the density asked about,
/// such as `sd` or `parts[1].density.sd`, or the name of an argument.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DensityError {
    /// A number is outside its range, infinite or not a number.
    #[error("{parameter} is {value:?}: it must be a number from {least:?} to {most:?}")]
    OutOfRange {
        /// What is wrong, by its path.
        parameter: String,
        /// The offending value.
        value: f64,
        /// The least that will do.
        least: f64,
        /// The most that will do.
        most: f64,
    },
    /// Two limits are equal, or nearly, or the wrong way round.
    #[error("{parameter} is {low:?} but the upper limit is {high:?}: it must be less")]
    Reversed {
        /// What is wrong, by its path.
        parameter: String,
        /// The lower limit given.
        low: f64,
        /// The upper limit given.
        high: f64,
    },
    /// A mixture has no parts, or the whole has too many.
    #[error("{parameter} brings the whole to {count} densities: give from 1 to {MOST_PARTS}")]
    Parts {
        /// What is wrong, by its path.
        parameter: String,
        /// How many densities there are so far.
        count: usize,
    },
    /// Mixtures are nested too deeply.
    #[error("{parameter} is at depth {depth}: nest mixtures at most {DEEPEST_MIXTURE} deep")]
    TooDeep {
        /// What is wrong, by its path.
        parameter: String,
        /// Its depth, the outermost being 1.
        depth: usize,
    },
    /// The weights of a mixture do not sum to 1.
    #[error("the weights of {parameter} sum to {sum:?}: they must sum to 1")]
    Weights {
        /// What is wrong, by its path.
        parameter: String,
        /// Their sum.
        sum: f64,
    },
    /// Student's t has no mean with so few degrees of freedom.
    #[error("{parameter} is {degrees:?}, so there is no mean: it must be above 1")]
    NoMean {
        /// What is wrong, by its path.
        parameter: String,
        /// The degrees of freedom given.
        degrees: f64,
    },
    /// The density is infinite at this reading.
    #[error("the density at {value:?} is infinite: give a sigma above 0")]
    Unbounded {
        /// The offending value.
        value: f64,
    },
}

impl DensityError {
    /// The same error seen from the mixture the density is a part of.
    pub(super) fn within(mut self, index: usize, field: &str) -> Self {
        match &mut self {
            Self::OutOfRange { parameter, .. }
            | Self::Reversed { parameter, .. }
            | Self::Parts { parameter, .. }
            | Self::TooDeep { parameter, .. }
            | Self::Weights { parameter, .. }
            | Self::NoMean { parameter, .. } => {
                *parameter = format!("parts[{index}].{field}{parameter}");
            }
            Self::Unbounded { .. } => {}
        }
        self
    }
}

pub(super) const LOCATION: (f64, f64) = (-LARGEST, LARGEST);
pub(super) const SCALE: (f64, f64) = (SMALLEST_SCALE, LARGEST);

pub(super) fn check(
    parameter: &str,
    value: f64,
    (least, most): (f64, f64),
) -> Result<f64, DensityError> {
    if value >= least && value <= most {
        return Ok(value);
    }
    Err(DensityError::OutOfRange {
        parameter: parameter.to_owned(),
        value,
        least,
        most,
    })
}

pub(super) fn check_order(low: f64, high: f64) -> Result<(), DensityError> {
    if high - low >= SMALLEST_SCALE {
        return Ok(());
    }
    Err(DensityError::Reversed {
        parameter: "low".to_owned(),
        low,
        high,
    })
}

pub(super) fn check_sigma(sigma: f64) -> Result<f64, DensityError> {
    if sigma == 0.0 {
        return Ok(0.0);
    }
    check("sigma", sigma, SCALE)
}
