//! Texts that users write: reading them, and saying what is wrong where.

mod lists;
mod place;
mod words;

pub(crate) use lists::{bounded, optional_pair, pair, pairs};
pub(crate) use place::{At, Problems};
pub(crate) use words::{figure, nearest};

use crate::error::Problem;
use place::{Document, problem_at};
use serde::de::DeserializeOwned;

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

    /// The text from its `{` on, if it is JSON, and where that stands.
    fn json(&self) -> Option<(usize, &'a str)> {
        let marked = self.content.strip_prefix('\u{feff}');
        let body = marked.unwrap_or(self.content);
        let start = self.content.len() - body.len();
        body.trim_start().starts_with('{').then_some((start, body))
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
    let problem = |offset, code, message: &str| Err(vec![problem_at(text, offset, code, message)]);
    let code = kind.syntax_code;
    if text.content.len() > MAX_TEXT_BYTES {
        let message = format!(
            "the text has {} bytes, at most {MAX_TEXT_BYTES} are allowed",
            text.content.len()
        );
        return problem(0, code, &message);
    }
    // A document of another kind has all the wrong fields, of which nobody wants to hear.
    let document = match Document::read(text) {
        Ok(document) => document,
        Err((offset, message)) => {
            return problem(
                offset,
                code,
                &plain(text, offset, words::of_parser(&message)),
            );
        }
    };
    if let Some((offset, given)) = document.schema()
        && given != kind.schema
    {
        return problem(offset, kind.schema_code, &kind.refusal(given));
    }
    match text.json() {
        Some((start, body)) => match serde_json::from_str(body) {
            Ok(value) => match document.twice() {
                None => Ok(value),
                Some((offset, key)) => {
                    problem(offset, code, &format!("`{key}` is given twice; remove one"))
                }
            },
            Err(error) => {
                let offset = start + json_offset(body, error.line(), error.column());
                let whole = error.to_string();
                let message = whole.rsplit_once(" at line ").map_or(&*whole, |(m, _)| m);
                let place = match error.classify() {
                    serde_json::error::Category::Data => document.around(offset),
                    _ => back(text, offset, message),
                };
                problem(place.unwrap_or(offset), code, &words::of_parser(message))
            }
        },
        None => document.toml(|offset, message| {
            let message = plain(text, offset, words::of_parser(message));
            vec![problem_at(text, offset, code, &message)]
        }),
    }
}

/// What a text says it is, if it can be read at all.
pub(crate) fn schema_of(text: &Text<'_>) -> Option<String> {
    if text.content.len() > MAX_TEXT_BYTES {
        return None;
    }
    let document = Document::read(text).ok()?;
    document.schema().map(|(_, schema)| schema.to_owned())
}

/// Where in a text the parser's line and column (both counted from one, in bytes) are.
fn json_offset(body: &str, line: usize, column: usize) -> usize {
    let before: usize = body
        .split_inclusive('\n')
        .take(line.saturating_sub(1))
        .map(str::len)
        .sum();
    let offset = (before + column.saturating_sub(1)).min(body.len());
    body.floor_char_boundary(offset)
}

/// Where the thing began at whose end the parser of JSON found it wrong.
fn back(text: &Text<'_>, offset: usize, message: &str) -> Option<usize> {
    let before = text.content.get(..offset)?;
    match message {
        "trailing comma" => before.rfind(','),
        "number out of range" => {
            let number = |c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | 'e' | 'E');
            Some(before.trim_end_matches(number).len())
        }
        _ => None,
    }
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
