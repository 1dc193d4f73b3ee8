//! A text as a tree of values with their places, whichever of the two notations it is written in.
//!
//! There is one tree, and one reader of it (see [`super::read`]), so that every written type is
//! taken apart by one piece of code only.

use super::{Text, json};
use std::borrow::Cow;
use std::collections::BTreeSet;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A value and where it stands.
#[derive(Debug)]
pub(super) struct Node<'a> {
    /// The offset that a problem with it is shown at: in TOML its own, in JSON that of its key.
    pub start: usize,
    pub value: Value<'a>,
}

/// A value as written.
#[derive(Debug)]
pub(super) enum Value<'a> {
    Null,
    Bool(bool),
    Whole(i64),
    /// A whole number above all that are [`Self::Whole`].
    Large(u64),
    Float(f64),
    Text(Cow<'a, str>),
    List(Vec<Node<'a>>),
    Table(Vec<Entry<'a>>),
    /// What does not read, and why.
    Wrong(Cow<'static, str>),
    /// A number that cannot be held.
    TooLarge,
    /// A date or time, which nothing here is.
    Date,
}

/// A value under its key.
#[derive(Debug)]
pub(super) struct Entry<'a> {
    pub key: Cow<'a, str>,
    /// The offset of the key.
    pub start: usize,
    pub node: Node<'a>,
}

/// A step into a document.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
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

impl<'a> Node<'a> {
    /// Reads a text. What is wrong with it stands where the tree ends; what is wrong behind its end,
    /// beside the tree.
    pub fn read(text: &Text<'a>) -> (Self, Option<(usize, &'static str)>) {
        if let Some(start) = text.json() {
            return json::read(text.content, start);
        }
        let node = match DeTable::parse(text.content) {
            Ok(table) => Self {
                start: 0,
                value: from_table(table.into_inner()),
            },
            Err(error) => Self {
                start: error.span().map_or(0, |span| span.start),
                value: Value::Wrong(error.message().replace('\n', "; ").into()),
            },
        };
        (node, None)
    }

    /// The offset of the deepest part of the path that exists, and whether that is all of it.
    pub fn locate(&self, path: &[Step]) -> (usize, bool) {
        let (mut node, mut offset) = (self, self.start);
        for step in path {
            let next = match (&node.value, step) {
                (Value::Table(entries), Step::Key(key)) => entries
                    .iter()
                    .find(|entry| entry.key == *key)
                    .map(|entry| (entry.start, &entry.node)),
                (Value::List(items), Step::Item(item)) => {
                    items.get(*item).map(|item| (item.start, item))
                }
                _ => None,
            };
            match next {
                Some(next) => (offset, node) = next,
                None => return (offset, false),
            }
        }
        (offset, true)
    }

    /// What the document says it is, and where.
    pub fn schema(&self) -> Option<(usize, &str)> {
        let Value::Table(entries) = &self.value else {
            return None;
        };
        let entry = entries.iter().find(|entry| entry.key == "schema")?;
        match &entry.node.value {
            Value::Text(schema) => Some((entry.start, schema)),
            _ => None,
        }
    }

    /// The first key that is given twice in one table. TOML with such a key is not even well-formed.
    pub fn twice(&self) -> Option<(usize, &str)> {
        let (mut left, mut first) = (vec![self], None);
        while let Some(node) = left.pop() {
            match &node.value {
                Value::Table(entries) => {
                    let mut seen = BTreeSet::new();
                    for entry in entries {
                        if !seen.insert(&*entry.key)
                            && first.is_none_or(|(known, _)| entry.start < known)
                        {
                            first = Some((entry.start, &*entry.key));
                        }
                        left.push(&entry.node);
                    }
                }
                Value::List(items) => left.extend(items),
                _ => {}
            }
        }
        first
    }
}

fn from_table(table: DeTable<'_>) -> Value<'_> {
    let mut entries = Vec::with_capacity(table.len());
    for (key, value) in table {
        let start = key.span().start;
        let (key, node) = (key.into_inner(), from_value(value));
        entries.push(Entry { key, start, node });
    }
    Value::Table(entries)
}

fn from_value(value: Spanned<DeValue<'_>>) -> Node<'_> {
    let start = value.span().start;
    let value = match value.into_inner() {
        DeValue::String(text) => Value::Text(text),
        DeValue::Integer(digits) => whole(digits.as_str(), digits.radix()),
        DeValue::Float(written) => match written.as_str().parse::<f64>() {
            Ok(value) if !value.is_infinite() || written.as_str().contains("inf") => {
                Value::Float(value)
            }
            _ => Value::TooLarge,
        },
        DeValue::Boolean(value) => Value::Bool(value),
        DeValue::Datetime(_) => Value::Date,
        DeValue::Array(items) => Value::List(items.into_iter().map(from_value).collect()),
        DeValue::Table(table) => from_table(table),
    };
    Node { start, value }
}

/// A whole number, if one can be held.
fn whole(digits: &str, radix: u32) -> Value<'static> {
    if let Ok(value) = i64::from_str_radix(digits, radix) {
        return Value::Whole(value);
    }
    match u64::from_str_radix(digits, radix) {
        Ok(value) => Value::Large(value),
        Err(_) => Value::TooLarge,
    }
}
