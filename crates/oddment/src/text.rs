//! Texts that users write, and where in them a key stands.

use crate::error::Problem;
use jsonc_parser::ast;
use serde::de::DeserializeOwned;
use toml::de::{DeTable, DeValue};

/// The most bytes a pack, library or case may have.
pub const MAX_TEXT_BYTES: usize = 4 << 20;

/// The most problems reported at once.
const MAX_PROBLEMS: usize = 50;

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

    fn is_json(&self) -> bool {
        self.content.trim_start().starts_with('{')
    }
}

/// A step into a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Step {
    Key(String),
    Item(usize),
}

impl From<&str> for Step {
    fn from(key: &str) -> Self {
        Self::Key(key.to_owned())
    }
}

impl From<usize> for Step {
    fn from(item: usize) -> Self {
        Self::Item(item)
    }
}

/// Where something stands: a path in one of the texts, and further places to look when the path
/// does not exist there (an entry composed from two files).
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct At {
    candidates: Vec<(usize, Vec<Step>)>,
}

impl At {
    pub fn root(text: usize) -> Self {
        Self {
            candidates: vec![(text, Vec::new())],
        }
    }

    pub fn or(mut self, other: Self) -> Self {
        self.candidates.extend(other.candidates);
        self
    }

    pub fn then(&self, step: impl Into<Step>) -> Self {
        let step = step.into();
        let mut next = self.clone();
        for (_, path) in &mut next.candidates {
            path.push(step.clone());
        }
        next
    }
}

/// Collects problems and places them.
#[derive(Debug)]
pub(crate) struct Problems<'a> {
    texts: Vec<Text<'a>>,
    found: Vec<(usize, Problem)>,
}

impl<'a> Problems<'a> {
    pub fn new(texts: Vec<Text<'a>>) -> Self {
        Self {
            texts,
            found: Vec::new(),
        }
    }

    /// Notes a problem at a place.
    pub fn note(&mut self, at: &At, code: &'static str, message: impl Into<String>) {
        if self.found.len() >= MAX_PROBLEMS {
            return;
        }
        let placed = at.candidates.iter().find_map(|(text, path)| {
            let (offset, whole) = locate(&self.texts[*text], path);
            whole.then_some((*text, offset))
        });
        let (text, offset) = placed.unwrap_or_else(|| match at.candidates.first() {
            Some((text, path)) => (*text, locate(&self.texts[*text], path).0),
            None => (0, 0),
        });
        let problem = problem_at(&self.texts[text], offset, code, message.into());
        self.found.push((text, problem));
    }

    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// The problems in the order of the texts.
    pub fn finish(mut self) -> Vec<Problem> {
        self.found
            .sort_by_key(|(text, problem)| (*text, problem.line, problem.column));
        self.found.into_iter().map(|(_, problem)| problem).collect()
    }
}

fn problem_at(text: &Text<'_>, offset: usize, code: &'static str, message: String) -> Problem {
    let before = text.content.get(..offset).unwrap_or("");
    let start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let excerpt = text.content[start..].lines().next().unwrap_or("");
    Problem {
        code,
        file: text.name.to_owned(),
        line: before.matches('\n').count() + 1,
        column: before[start..].chars().count() + 1,
        message,
        excerpt: excerpt.chars().take(200).collect(),
    }
}

/// The offset of the deepest part of the path that exists, and whether that is all of it.
fn locate(text: &Text<'_>, path: &[Step]) -> (usize, bool) {
    if text.is_json() {
        let options = jsonc_parser::ParseOptions::default();
        let collect = jsonc_parser::CollectOptions::default();
        match jsonc_parser::parse_to_ast(text.content, &collect, &options) {
            Ok(parsed) => parsed
                .value
                .map_or((0, false), |value| locate_json(&value, path)),
            Err(_) => (0, false),
        }
    } else {
        match DeTable::parse(text.content) {
            Ok(table) => locate_toml(table.get_ref(), path),
            Err(_) => (0, false),
        }
    }
}

fn locate_json(value: &ast::Value<'_>, path: &[Step]) -> (usize, bool) {
    use jsonc_parser::common::Ranged;
    let mut offset = value.range().start;
    let mut value = value;
    for step in path {
        let next = match (value, step) {
            (ast::Value::Object(object), Step::Key(key)) => object
                .properties
                .iter()
                .find(|property| property.name.as_str() == key)
                .map(|property| (property.range.start, &property.value)),
            (ast::Value::Array(array), Step::Item(item)) => array
                .elements
                .get(*item)
                .map(|element| (element.range().start, element)),
            _ => None,
        };
        match next {
            Some((start, inner)) => (offset, value) = (start, inner),
            None => return (offset, false),
        }
    }
    (offset, true)
}

fn locate_toml(table: &DeTable<'_>, path: &[Step]) -> (usize, bool) {
    let mut offset = 0;
    let mut table = Some(table);
    let mut value: Option<&DeValue<'_>> = None;
    for step in path {
        let next = match step {
            Step::Key(key) => {
                let holder = table.or(match value {
                    Some(DeValue::Table(inner)) => Some(inner),
                    _ => None,
                });
                holder
                    .and_then(|holder| holder.get_key_value(key.as_str()))
                    .map(|(key, value)| (key.span().start, value.get_ref()))
            }
            Step::Item(item) => match value {
                Some(DeValue::Array(array)) => array
                    .get(*item)
                    .map(|value| (value.span().start, value.get_ref())),
                _ => None,
            },
        };
        let Some((start, inner)) = next else {
            return (offset, false);
        };
        offset = start;
        table = None;
        value = Some(inner);
    }
    (offset, true)
}

/// Reads a document into its written form.
pub(crate) fn parse<T: DeserializeOwned>(
    text: &Text<'_>,
    code: &'static str,
) -> Result<T, Vec<Problem>> {
    if text.content.len() > MAX_TEXT_BYTES {
        let message = format!(
            "has {} bytes, at most {MAX_TEXT_BYTES} are allowed",
            text.content.len()
        );
        return Err(vec![problem_at(text, 0, code, message)]);
    }
    let (offset, message) = if text.is_json() {
        match serde_json::from_str(text.content) {
            Ok(value) => return Ok(value),
            Err(error) => {
                let line_start = text
                    .content
                    .split_inclusive('\n')
                    .take(error.line().saturating_sub(1))
                    .map(str::len)
                    .sum::<usize>();
                let mut offset =
                    (line_start + error.column().saturating_sub(1)).min(text.content.len());
                while !text.content.is_char_boundary(offset) {
                    offset -= 1;
                }
                let whole = error.to_string();
                let message = whole
                    .rsplit_once(" at line ")
                    .map_or(whole.as_str(), |(m, _)| m);
                (offset, message.to_owned())
            }
        }
    } else {
        match toml::from_str(text.content) {
            Ok(value) => return Ok(value),
            Err(error) => {
                let offset = error.span().map_or(0, |span| span.start);
                (
                    offset,
                    unquoted(text, offset, error.message().replace('\n', " ")),
                )
            }
        }
    };
    Err(vec![problem_at(
        text,
        offset,
        code,
        with_suggestion(message),
    )])
}

/// Says plainly what the parser's message for a bare word means: quotes left out, the slip most
/// often made.
fn unquoted(text: &Text<'_>, offset: usize, message: String) -> String {
    let word: String = text
        .content
        .get(offset..)
        .unwrap_or("")
        .chars()
        .take_while(|c| c.is_alphanumeric() || matches!(c, '-' | '_'))
        .collect();
    let bare = [
        "string values must be quoted",
        "invalid float",
        "invalid boolean",
    ];
    if word.starts_with(char::is_alphabetic) && bare.iter().any(|bare| message.starts_with(bare)) {
        format!("`{word}` must stand in quotes: \"{word}\"")
    } else {
        message
    }
}

/// Adds the nearest valid name to serde's "unknown field" and "unknown variant" messages.
fn with_suggestion(message: String) -> String {
    if !message.starts_with("unknown ") {
        return message;
    }
    let mut names = message.split('`').skip(1).step_by(2);
    let Some(given) = names.next() else {
        return message;
    };
    match nearest(given, names) {
        Some(name) => format!("{message}; perhaps `{name}`"),
        None => message,
    }
}

/// The valid name closest to a mistyped one, unless all are far off.
pub(crate) fn nearest<'a>(name: &str, valid: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    valid
        .map(|candidate| (strsim::damerau_levenshtein(name, candidate), candidate))
        .filter(|(distance, candidate)| *distance <= 1 + candidate.len().min(name.len()) / 3)
        .min()
        .map(|(_, candidate)| candidate)
}

/// "unknown `given`, perhaps ..., valid are ...": the message for an id that does not resolve.
pub(crate) fn unknown<'a>(
    what: &str,
    given: &str,
    valid: impl Iterator<Item = &'a str> + Clone,
) -> String {
    let near =
        nearest(given, valid.clone()).map_or(String::new(), |name| format!(", perhaps `{name}`"));
    let mut names: Vec<&str> = valid.collect();
    names.sort_unstable();
    let more = if names.len() > 12 { ", ..." } else { "" };
    names.truncate(12);
    format!(
        "unknown {what} `{given}`{near}; valid: {}{more}",
        names.join(", ")
    )
}
