//! Texts that users write: reading them, and saying what is wrong where.

mod json;
mod lists;
mod place;
mod read;
mod tree;
mod words;

pub(crate) use lists::{bounded, optional_pair, pair, pairs};
pub(crate) use place::{At, Problems};
pub(crate) use words::{figure, nearest};

use crate::error::Problem;
use place::problem_at;
use serde::de::DeserializeOwned;
use tree::Node;

/// The most bytes a pack, library or case may have.
pub const MAX_TEXT_BYTES: usize = 4 << 20;

/// A named text: a file, or what stands in for one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Text<'a> {
    /// Shown in errors.
    pub name: &'a str,
    /// TOML, or JSON when it begins with `{`.
    pub content: &'a str,
}

impl<'a> Text<'a> {
    /// A named text.
    pub fn new(name: &'a str, content: &'a str) -> Self {
        Self { name, content }
    }

    /// Where the text's `{` is looked for, if it is JSON.
    fn json(&self) -> Option<usize> {
        let marked = self.content.strip_prefix('\u{feff}');
        let body = marked.unwrap_or(self.content);
        let start = self.content.len() - body.len();
        body.trim_start().starts_with('{').then_some(start)
    }
}

/// What a text should be.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Kind {
    /// What its `schema` field says.
    pub schema: &'static str,
    /// The code of the problem that it says something else.
    pub schema_code: &'static str,
    /// The code of the problem that it is not well-formed.
    pub syntax_code: &'static str,
}

impl Kind {
    /// The message for another `schema`.
    fn refusal(&self, given: &str) -> String {
        format!(
            "schema `{given}` is not supported, must be `{}`",
            self.schema
        )
    }
}

/// Reads a document into its written form.
pub(crate) fn parse<T: DeserializeOwned>(text: &Text<'_>, kind: &Kind) -> Result<T, Vec<Problem>> {
    let problem = |offset, code, message: &str| vec![problem_at(text, offset, code, message)];
    let code = kind.syntax_code;
    if text.content.len() > MAX_TEXT_BYTES {
        let message = format!(
            "the text has {} bytes, at most {MAX_TEXT_BYTES} are allowed",
            text.content.len()
        );
        return Err(problem(0, code, &message));
    }
    let said = |(offset, message): (usize, &str)| {
        let message = words::of_parser(message);
        let message = match text.json() {
            Some(_) => message,
            None => plain(text, offset, message),
        };
        problem(offset, code, &message)
    };
    let (document, behind) = Node::read(text);
    // A document of another kind has all the wrong fields, of which nobody wants to hear.
    if let Some((offset, given)) = document.schema()
        && given != kind.schema
    {
        return Err(problem(offset, kind.schema_code, &kind.refusal(given)));
    }
    let value = T::deserialize(&document).map_err(|refusal| {
        let (offset, message) = refusal.told();
        said((offset, &message))
    })?;
    if let Some(fault) = behind {
        return Err(said(fault));
    }
    match document.twice() {
        None => Ok(value),
        Some((offset, key)) => {
            let message = format!("`{key}` is given twice; remove one");
            Err(problem(offset, code, &message))
        }
    }
}

/// Reads a text of the project's own; nothing where it is not as it must be.
pub(crate) fn parse_own<T: DeserializeOwned>(content: &str) -> Option<T> {
    T::deserialize(&Node::read(&Text::new("", content)).0).ok()
}

/// Reads a value in JSON that nobody looks for a place in.
///
/// # Errors
/// What is wrong with it.
pub(crate) fn parse_json<T: DeserializeOwned>(content: &str) -> Result<T, String> {
    let (node, behind) = json::read(content, 0);
    let value = T::deserialize(&node).map_err(|refusal| refusal.told().1)?;
    match behind {
        None => Ok(value),
        Some((_, message)) => Err(message.to_owned()),
    }
}

/// What a text says it is, if it can be read at all.
pub(crate) fn schema_of(text: &Text<'_>) -> Option<String> {
    if text.content.len() > MAX_TEXT_BYTES {
        return None;
    }
    let (document, _) = Node::read(text);
    document.schema().map(|(_, schema)| schema.to_owned())
}

/// Says plainly what the TOML parser's message at a place means.
fn plain(text: &Text<'_>, offset: usize, message: String) -> String {
    let rest = text.content.get(offset..).unwrap_or("");
    if let Some(control) = rest
        .chars()
        .next()
        .filter(|c| c.is_control() && *c != '\n' && *c != '\r')
    {
        return format!(
            "the character U+{:04X} cannot stand here; remove it",
            u32::from(control)
        );
    }
    let word: String = rest
        .chars()
        .take_while(|c| c.is_alphanumeric() || matches!(c, '-' | '_'))
        .collect();
    // Quotes left out: the slip most often made.
    let bare = [
        "string values must be quoted",
        "invalid float",
        "invalid boolean",
    ];
    if word.starts_with(char::is_alphabetic) && bare.iter().any(|bare| message.starts_with(bare)) {
        return format!("`{word}` must stand in quotes: \"{word}\"");
    }
    if message == "duplicate key" && !word.is_empty() {
        return format!("`{word}` is given twice; remove one");
    }
    if let Some(escapes) = message.strip_prefix("missing escaped value, expected ") {
        let shown: String = rest.chars().take(1).collect();
        return format!(
            "`\\{shown}` is no escape; write `\\\\` for a backslash, or one of {escapes}"
        );
    }
    message
}
