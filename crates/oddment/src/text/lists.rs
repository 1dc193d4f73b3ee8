//! Lists as written in texts: of no more than so many entries, or of exactly two numbers.

use serde::de::{Deserialize, Deserializer, Error, IgnoredAny, SeqAccess, Visitor};
use std::fmt;
use std::marker::PhantomData;

/// Reads a list, passing over what comes after the first `most`, so that a short text cannot ask
/// for very much memory.
pub(crate) fn bounded<'de, D, T>(deserializer: D, most: usize) -> Result<Vec<T>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
{
    deserializer.deserialize_seq(Bounded {
        most,
        entry: PhantomData,
    })
}

struct Bounded<T> {
    most: usize,
    entry: PhantomData<T>,
}

impl<'de, T: Deserialize<'de>> Visitor<'de> for Bounded<T> {
    type Value = Vec<T>;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a sequence")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut entries: A) -> Result<Vec<T>, A::Error> {
        let mut list = Vec::new();
        while list.len() < self.most {
            match entries.next_element()? {
                Some(entry) => list.push(entry),
                None => return Ok(list),
            }
        }
        while entries.next_element::<IgnoredAny>()?.is_some() {}
        Ok(list)
    }
}

/// Reads two numbers. (Read as a tuple, a TOML list may go on unnoticed.)
pub(crate) fn pair<'de, D, T, U>(deserializer: D) -> Result<(T, U), D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
    U: Deserialize<'de>,
{
    Pair::deserialize(deserializer).map(|Pair(pair)| pair)
}

/// As [`pair`], for a field that may be absent.
pub(crate) fn optional_pair<'de, D, T, U>(deserializer: D) -> Result<Option<(T, U)>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
    U: Deserialize<'de>,
{
    let pair = Option::<Pair<T, U>>::deserialize(deserializer)?;
    Ok(pair.map(|Pair(pair)| pair))
}

/// Reads a list of pairs.
pub(crate) fn pairs<'de, D, T, U>(deserializer: D) -> Result<Vec<(T, U)>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
    U: Deserialize<'de>,
{
    let pairs = Vec::<Pair<T, U>>::deserialize(deserializer)?;
    Ok(pairs.into_iter().map(|Pair(pair)| pair).collect())
}

struct Pair<T, U>((T, U));

impl<'de, T: Deserialize<'de>, U: Deserialize<'de>> Deserialize<'de> for Pair<T, U> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_seq(PairVisitor(PhantomData))
    }
}

struct PairVisitor<T, U>(PhantomData<(T, U)>);

impl<'de, T: Deserialize<'de>, U: Deserialize<'de>> Visitor<'de> for PairVisitor<T, U> {
    type Value = Pair<T, U>;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a list of two numbers")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Self::Value, A::Error> {
        let first = items.next_element()?;
        let first = first.ok_or_else(|| A::Error::invalid_length(0, &self))?;
        let second = items.next_element()?;
        let second = second.ok_or_else(|| A::Error::invalid_length(1, &self))?;
        let mut length = 2;
        while items.next_element::<IgnoredAny>()?.is_some() {
            length += 1;
        }
        if length > 2 {
            return Err(A::Error::invalid_length(length, &self));
        }
        Ok(Pair((first, second)))
    }
}
