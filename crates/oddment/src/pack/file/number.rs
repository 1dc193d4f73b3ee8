//! Numbers as written: plain, or with their own strength and source.

use super::ReliabilityFile;
use schemars::JsonSchema;
use serde::{Deserialize, Deserializer, Serialize};

/// An elicited number: a plain mean, or a mean with its own strength and source.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Number {
    /// The mean; strength and source as stated for the entry or the file.
    Plain(f64),
    /// With more said about it.
    Stated(StatedNumber),
}

/// A number that states its own strength or source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StatedNumber {
    /// The mean.
    pub mean: f64,
    /// Equivalent sample size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strength: Option<f64>,
    /// Id of a source.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// True for a 0 or 1 that is so by the nature of the thing.
    #[serde(default)]
    pub structural: bool,
}

/// A chance (yes/no sign) or a row of chances, one for each level (graded sign).
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Chance {
    /// For a yes/no sign.
    Number(Number),
    /// For a graded sign: one chance for each level, summing to 1.
    Row(Vec<f64>),
}

struct NumberVisitor;

impl<'de> serde::de::Visitor<'de> for NumberVisitor {
    type Value = Number;

    fn expecting(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str("a number or a table with `mean`")
    }

    fn visit_f64<E>(self, value: f64) -> Result<Number, E> {
        Ok(Number::Plain(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Number, E> {
        Ok(Number::Plain(value as f64))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Number, E> {
        Ok(Number::Plain(value as f64))
    }

    fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<Number, A::Error> {
        let stated = StatedNumber::deserialize(serde::de::value::MapAccessDeserializer::new(map))?;
        Ok(Number::Stated(stated))
    }
}

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(NumberVisitor)
    }
}

struct ChanceVisitor;

impl<'de> serde::de::Visitor<'de> for ChanceVisitor {
    type Value = Chance;

    fn expecting(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str("a number, a table with `mean`, or a list of chances")
    }

    fn visit_f64<E>(self, value: f64) -> Result<Chance, E> {
        Ok(Chance::Number(Number::Plain(value)))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Chance, E> {
        Ok(Chance::Number(Number::Plain(value as f64)))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Chance, E> {
        Ok(Chance::Number(Number::Plain(value as f64)))
    }

    fn visit_map<A: serde::de::MapAccess<'de>>(self, map: A) -> Result<Chance, A::Error> {
        NumberVisitor.visit_map(map).map(Chance::Number)
    }

    fn visit_seq<A: serde::de::SeqAccess<'de>>(self, seq: A) -> Result<Chance, A::Error> {
        let row = Vec::deserialize(serde::de::value::SeqAccessDeserializer::new(seq))?;
        Ok(Chance::Row(row))
    }
}

impl<'de> Deserialize<'de> for Chance {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(ChanceVisitor)
    }
}

impl<'de> Deserialize<'de> for ReliabilityFile {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        /// All fields of either.
        #[derive(Deserialize)]
        #[serde(deny_unknown_fields)]
        struct Either {
            found: Option<Number>,
            cleared: Option<Number>,
            exact: Option<Number>,
        }
        match Either::deserialize(deserializer)? {
            Either {
                found: Some(found),
                cleared: Some(cleared),
                exact: None,
            } => Ok(Self::YesNo { found, cleared }),
            Either {
                found: None,
                cleared: None,
                exact: Some(exact),
            } => Ok(Self::Graded { exact }),
            given => {
                let fields = [
                    ("found", given.found.is_some()),
                    ("cleared", given.cleared.is_some()),
                    ("exact", given.exact.is_some()),
                ];
                let has: Vec<&str> = fields
                    .into_iter()
                    .filter_map(|(field, given)| given.then_some(field))
                    .collect();
                let has = if has.is_empty() {
                    "nothing".to_owned()
                } else {
                    has.join(", ")
                };
                Err(serde::de::Error::custom(format!(
                    "reliability has {has}; give `found` and `cleared` for a yes/no sign, or `exact` \
                     for a sign of more levels"
                )))
            }
        }
    }
}
