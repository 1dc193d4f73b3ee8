//! Typed errors of the crate.

use thiserror::Error;

/// What can go wrong when a network is read, compiled or queried.
///
/// Every message names the thing, the offending value and what would be right.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum Error {
    /// The text is not well-formed JSON or does not have the expected fields.
    #[error("{document}: line {line}, column {column}: {message}")]
    Syntax {
        /// Which document was being read ("network", "evidence", ...).
        document: &'static str,
        /// One-based line.
        line: usize,
        /// One-based column.
        column: usize,
        /// What was wrong, as the parser says it.
        message: String,
    },
    /// A network breaks a rule that every network must keep.
    #[error("variable `{variable}`: {message}")]
    Network {
        /// The variable at fault.
        variable: String,
        /// The rule, the offending value and the remedy.
        message: String,
    },
    /// A network as a whole is unusable.
    #[error("network: {message}")]
    Whole {
        /// The rule, the offending value and the remedy.
        message: String,
    },
    /// Evidence names a variable that the network does not have.
    #[error("unknown variable `{name}`{}", perhaps(.nearest))]
    UnknownVariable {
        /// The unknown name.
        name: String,
        /// The closest valid names, best first.
        nearest: Vec<String>,
    },
    /// Evidence names a state that the variable does not have.
    #[error("variable `{variable}` has no state `{state}`; {}", choices(.states))]
    UnknownState {
        /// The variable.
        variable: String,
        /// The unknown state.
        state: String,
        /// The valid states, in order.
        states: Vec<String>,
    },
    /// A likelihood vector has the wrong length or an entry that is no likelihood.
    #[error("likelihood of `{variable}`: {message}")]
    Likelihood {
        /// The variable the likelihood is about.
        variable: String,
        /// The rule, the offending value and the remedy.
        message: String,
    },
    /// The evidence has probability zero.
    #[error("impossible evidence: {}", cannot_be(.contradiction))]
    Impossible {
        /// A minimal set of observed variables that contradict one another:
        /// withdrawing any one of them makes the rest possible. Empty where nobody asked.
        contradiction: Vec<String>,
    },
    /// The circuit would be larger than the caller allows.
    #[error(
        "too large: about 10^{log10_operations:.1} operations estimated, limit {limit}; raise the limit or compile with the evidence given"
    )]
    TooLarge {
        /// Base-10 logarithm of the estimated number of arithmetic operations.
        log10_operations: f64,
        /// The limit in force, in operations.
        limit: u64,
    },
}

fn choices(states: &[String]) -> String {
    match states {
        [] => "it is a likelihood over its parents' states and takes a likelihood only".into(),
        states => format!("its states are {}", quoted(states)),
    }
}

fn cannot_be(contradiction: &[String]) -> String {
    match contradiction {
        [] => "its probability is zero".into(),
        [one] => format!("what is observed of `{one}` cannot be true"),
        several => format!("{} cannot be true together", quoted(several)),
    }
}

fn perhaps(names: &[String]) -> String {
    if names.is_empty() {
        "; no name is like it".into()
    } else {
        format!("; nearest: {}", quoted(names))
    }
}

fn quoted(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    quoted.join(", ")
}

/// The valid names closest to `name`, best first, at most three, none that is far off.
pub(crate) fn nearest_names<'a>(name: &str, valid: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut scored: Vec<(usize, &str)> = valid
        .map(|candidate| (strsim::damerau_levenshtein(name, candidate), candidate))
        .filter(|(distance, candidate)| *distance <= 2 + candidate.len().min(name.len()) / 3)
        .collect();
    scored.sort();
    scored
        .into_iter()
        .take(3)
        .map(|(_, name)| name.to_owned())
        .collect()
}
