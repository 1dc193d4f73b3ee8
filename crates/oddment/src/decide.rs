//! Money and risk: whether to buy, on the user's own figures.
//!
//! The engine knows no prices. The user states what is asked and what the piece would be worth under
//! each verdict ([`Stakes`]); this module adds the probabilities of the verdicts and does the
//! arithmetic of decisions under uncertainty: expected gain, certainty equivalent, the most to pay,
//! and what further looking would be worth ([`decide`]). It values nothing and advises nothing.
//!
//! Underneath lies a small general core, [`Choice`]: actions, states, payoffs, an [`Attitude`] to
//! risk, and the worth of information. Sources: H. Raiffa and R. Schlaifer, 1961, Applied statistical
//! decision theory (worth of perfect and of sample information); J. W. Pratt, 1964, Risk aversion in
//! the small and in the large (constant relative risk aversion; both from memory, unverified).
//!
//! The oil wildcatter (H. Raiffa, 1968, Decision analysis, as given by P. P. Shenoy, 1992): a
//! sounding for 10 is worth more than it costs.
//!
//! ```
//! use oddment::decide::{Attitude, Choice, Prospect};
//!
//! // Dry, wet, soaking; to drill, or not to.
//! let drill = Choice::new(
//!     vec![0.5, 0.3, 0.2],
//!     vec![vec![-70.0, 50.0, 200.0], vec![0.0; 3]],
//!     Attitude::Linear,
//! )?;
//! assert!((drill.certainty_equivalents()[0] - 20.0).abs() < 1e-12);
//! assert!((drill.perfect_information() - 35.0).abs() < 1e-12);
//! // How often the sounding says no structure, an open one, a closed one; and what is there then.
//! let sounding = [[0.6, 0.3, 0.1], [0.3, 0.4, 0.4], [0.1, 0.3, 0.5]];
//! let prospects: Vec<Prospect> = sounding
//!     .map(|likelihood| Prospect::of(&[0.5, 0.3, 0.2], &likelihood))
//!     .to_vec();
//! assert!((drill.sample_information(&prospects)? - 12.5).abs() < 1e-12);
//! # Ok::<(), oddment::decide::DecideError>(())
//! ```

mod choice;
mod decision;
mod stakes;

pub use choice::{Attitude, Choice, GREATEST_AVERSION, Prospect};
pub use decision::{
    Action, CAUTION, CheckOutlook, CheckValue, DECISION_SCHEMA, Decision, Outlook, decide,
};
pub use stakes::{ByVerdict, CHANCE_OF_LOSS, Stakes, StakesProblem};

use thiserror::Error;

/// Why a decision cannot be worked out.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum DecideError {
    /// Chances that are none.
    #[error("the chances of {what} sum to {sum}; each must be 0 or more, and their sum 1")]
    Chances {
        /// What they are the chances of.
        what: String,
        /// Their sum, or not a number.
        sum: f64,
    },
    /// A table that has not one number for each action and state.
    #[error("{what} needs {want} entries and has {have}")]
    Shape {
        /// What is of the wrong size.
        what: String,
        /// The entries there are.
        have: usize,
        /// The entries there must be.
        want: usize,
    },
    /// A number beyond reckoning.
    #[error("{what} is {value}; it must be a number from -1e13 to 1e13")]
    Number {
        /// What it is.
        what: String,
        /// Its value.
        value: f64,
    },
    /// An aversion to risk out of range.
    #[error("risk aversion {0} must be 0 to {GREATEST_AVERSION}; 0 means none")]
    Aversion(f64),
    /// A loss that would leave nothing.
    #[error(
        "a wealth of {wealth} cannot bear a payoff of {payoff}: with an aversion to risk something \
         must always be left; state a wealth above the worst loss, or leave the aversion out"
    )]
    Wealth {
        /// The wealth stated.
        wealth: f64,
        /// The worst payoff.
        payoff: f64,
    },
    /// Outcomes of an observation that do not go with what is believed before it.
    #[error(
        "the states after all outcomes average to {average} for state {state}, which is {prior} \
         before: weighed by their chances they must come to the same"
    )]
    Incoherent {
        /// Index of the state.
        state: usize,
        /// Its mean probability over the outcomes.
        average: f64,
        /// Its probability before.
        prior: f64,
    },
}

impl DecideError {
    /// A stable code for programs.
    ///
    /// ```
    /// assert_eq!(oddment::decide::DecideError::Aversion(-1.0).code(), "decide/aversion");
    /// ```
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Chances { .. } => "decide/chances",
            Self::Shape { .. } => "decide/shape",
            Self::Number { .. } => "decide/number",
            Self::Aversion(_) => "decide/aversion",
            Self::Wealth { .. } => "decide/wealth",
            Self::Incoherent { .. } => "decide/incoherent",
        }
    }
}
