//! Typed errors: what is wrong, where it stands, and what would be right.

use std::fmt;
use thiserror::Error;

/// One thing wrong with something a user wrote.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Stable code, such as `pack/unknown-id`.
    pub code: &'static str,
    /// Name of the text it stands in.
    pub file: String,
    /// One-based line; 0 when it cannot be placed.
    pub line: usize,
    /// One-based column in characters; 0 when it cannot be placed.
    pub column: usize,
    /// The offending value and the remedy.
    pub message: String,
    /// The line itself.
    pub excerpt: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}", self.file)?;
        if self.line > 0 {
            write!(formatter, ":{}:{}", self.line, self.column)?;
        }
        write!(formatter, ": {} [{}]", self.message, self.code)
    }
}

/// What can go wrong between a text and its assessment.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum Error {
    /// A pack, library or case is not as it must be; all problems found, in the order of the text.
    #[error("{}", list(.0))]
    Invalid(Vec<Problem>),
    /// The findings cannot be true together under any history.
    #[error("impossible findings: {} cannot be true together", .contradiction.join(", "))]
    Impossible {
        /// A minimal set of findings that contradict one another.
        contradiction: Vec<String>,
    },
    /// A history that the pack does not have.
    #[error("unknown history `{id}`{}; valid: {}", nearest(.id, .valid), .valid.join(", "))]
    UnknownHistory {
        /// The id given.
        id: String,
        /// The ids there are.
        valid: Vec<String>,
    },
    /// A number that the pack does not have.
    #[error("unknown number `{id}`{}; `oddment lean` lists those that matter to a case", nearest.as_ref().map_or_else(String::new, |near| format!(", perhaps `{near}`")))]
    UnknownNumber {
        /// The id given.
        id: String,
        /// The most alike of those there are.
        nearest: Option<String>,
    },
    /// A variant, period or region that the pack does not have.
    #[error("unknown {what} `{id}`{}; valid: {}", nearest(.id, .valid), .valid.join(", "))]
    UnknownClaim {
        /// `variant`, `period` or `region`.
        what: &'static str,
        /// The id given.
        id: String,
        /// The ids there are.
        valid: Vec<String>,
    },
    /// What is asked about cannot be claimed: the pack gives it no odds.
    #[error(
        "the counts and factors of `{claim}` leave no history any odds; ask about another, or raise them (`oddment lint` tells more)"
    )]
    NoOdds {
        /// What was asked about.
        claim: String,
    },
    /// The figures put to a decision cannot be worked with.
    #[error(transparent)]
    Decide(#[from] crate::decide::DecideError),
    /// The circuit could not be built.
    #[error("the model cannot be compiled: {0}")]
    Circuit(#[from] oddment_circuit::Error),
}

impl Error {
    /// A stable code for programs.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Invalid(problems) => problems.first().map_or("invalid", |problem| problem.code),
            Self::Impossible { .. } => "case/impossible",
            Self::UnknownHistory { .. } => "query/unknown-history",
            Self::UnknownNumber { .. } => "query/unknown-number",
            Self::UnknownClaim { .. } => "query/unknown-claim",
            Self::NoOdds { .. } => "query/no-odds",
            Self::Decide(error) => error.code(),
            Self::Circuit(_) => "engine/circuit",
        }
    }

    /// The problems with the user's texts, if that is what is wrong.
    pub fn problems(&self) -> &[Problem] {
        match self {
            Self::Invalid(problems) => problems,
            _ => &[],
        }
    }
}

fn nearest(id: &str, valid: &[String]) -> String {
    crate::text::nearest(id, valid.iter().map(String::as_str))
        .map_or_else(String::new, |near| format!(", perhaps `{near}`"))
}

fn list(problems: &[Problem]) -> String {
    let lines: Vec<String> = problems.iter().map(Problem::to_string).collect();
    lines.join("\n")
}
