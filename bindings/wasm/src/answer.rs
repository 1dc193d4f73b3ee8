//! What goes back to JavaScript: plain values, and refusals with stable codes.

use oddment::ask::{self, OptionError};
use oddment::{Error, Problem};
use schemars::JsonSchema;
use serde::Serialize;
use serde::de::DeserializeOwned;
use wasm_bindgen::prelude::{JsValue, wasm_bindgen};

/// What every call returns.
pub(crate) type Answer = Result<JsValue, JsValue>;

/// Why a call was refused; becomes an `OddmentError` on the other side.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub(crate) struct Refusal {
    pub code: String,
    pub message: String,
    pub problems: Vec<PlacedProblem>,
    pub contradiction: Vec<String>,
}

/// One thing wrong with a text.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Problem")]
pub struct PlacedProblem {
    /// Stable code, such as `case/unknown-id`.
    pub code: String,
    /// What it stands in: `case`, `pack`, `library`, `opinion 1` ...; for a pack or library that
    /// comes with the engine, its file.
    pub file: String,
    /// One-based line; 0 when it cannot be placed. A value given as an object is read as JSON with
    /// one field on a line.
    pub line: usize,
    /// One-based column in characters; 0 when it cannot be placed.
    pub column: usize,
    /// The offending value and the remedy.
    pub message: String,
    /// The line itself.
    pub excerpt: String,
}

impl From<&Problem> for PlacedProblem {
    fn from(problem: &Problem) -> Self {
        Self {
            code: problem.code.to_owned(),
            file: problem.file.clone(),
            line: problem.line,
            column: problem.column,
            message: problem.message.clone(),
            excerpt: problem.excerpt.clone(),
        }
    }
}

impl Refusal {
    pub fn of(code: &str, message: impl Into<String>) -> Self {
        Self {
            code: code.to_owned(),
            message: message.into(),
            ..Self::default()
        }
    }
}

impl From<OptionError> for Refusal {
    fn from(error: OptionError) -> Self {
        Self::of(error.code, error.message)
    }
}

impl From<Error> for Refusal {
    fn from(error: Error) -> Self {
        let contradiction = match &error {
            Error::Impossible { contradiction } => contradiction.clone(),
            _ => Vec::new(),
        };
        Self {
            code: error.code().to_owned(),
            message: error.to_string(),
            problems: error.problems().iter().map(PlacedProblem::from).collect(),
            contradiction,
        }
    }
}

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = JSON, catch)]
    fn parse(text: &str) -> Result<JsValue, JsValue>;
}

/// As plain a value as JSON makes it. (It goes over as text, which a browser reads faster than
/// values can be put together from here, and takes less code.)
pub(crate) fn plain(value: &impl Serialize) -> Answer {
    match serde_json::to_string(value) {
        Ok(text) => parse(&text),
        Err(error) => Err(refusal(&Refusal::of("engine/value", error.to_string()))),
    }
}

/// Hands over a result or a refusal.
pub(crate) fn hand_over<T: Serialize>(done: Result<T, Refusal>) -> Answer {
    match done {
        Ok(value) => plain(&value),
        Err(why) => Err(refusal(&why)),
    }
}

pub(crate) fn refusal(why: &Refusal) -> JsValue {
    // Texts and whole numbers always serialise.
    let text = serde_json::to_string(why).unwrap_or_default();
    parse(&text).unwrap_or(JsValue::NULL)
}

/// Reads options, an object in JSON; none given are all left out. (Read as a JavaScript value, a
/// misspelt option would be passed over in silence.)
pub(crate) fn options<T: DeserializeOwned + Default>(given: Option<&str>) -> Result<T, Refusal> {
    Ok(ask::read(given)?)
}
