//! Reads written types from the tree of a text.
//!
//! Whatever a type asks for, it is given what is there only when it can make something of it: the
//! refusals are made in one place, not once more in every type.

use super::tree::{Entry, Node, Value};
use serde::de::{
    DeserializeSeed, Deserializer, EnumAccess, Error, Expected, MapAccess, SeqAccess, Unexpected,
    VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;
use std::fmt;

/// Why nothing can be read, and at which offset, once that is known.
#[derive(Debug)]
pub(super) struct Refusal(Box<(String, Option<usize>)>);

impl Refusal {
    /// Where it was found and what it is.
    pub fn told(self) -> (usize, String) {
        let (message, start) = *self.0;
        (start.unwrap_or(0), message)
    }

    /// Places it, unless something further in has been.
    #[cold]
    fn at(mut self, start: usize) -> Self {
        self.0.1.get_or_insert(start);
        self
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.0.0)
    }
}

impl std::error::Error for Refusal {}

impl Error for Refusal {
    #[cold]
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self(Box::new((message.to_string(), None)))
    }

    #[cold]
    fn invalid_type(found: Unexpected<'_>, expected: &dyn Expected) -> Self {
        let message = format!("invalid type: {found}, expected {expected}");
        Self(Box::new((message, None)))
    }
}

impl Node<'_> {
    /// Says that something else is needed here.
    #[cold]
    fn refuse(&self, expected: &dyn Expected) -> Refusal {
        let found = match &self.value {
            Value::Null => Unexpected::Other("null"),
            Value::Bool(value) => Unexpected::Bool(*value),
            Value::Whole(value) => Unexpected::Signed(*value),
            Value::Large(value) => Unexpected::Unsigned(*value),
            Value::Float(value) => Unexpected::Float(*value),
            Value::Text(text) => Unexpected::Str(text),
            Value::List(_) => Unexpected::Seq,
            Value::Table(_) => Unexpected::Map,
            Value::Date => Unexpected::Other("date"),
            Value::Wrong(message) => return Refusal::custom(message).at(self.start),
            Value::TooLarge => return Refusal::custom("number out of range").at(self.start),
        };
        Refusal::invalid_type(found, expected).at(self.start)
    }
}

/// Numbers, of whatever type is asked for.
macro_rules! numbers {
    ($($method:ident)*) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
            self.deserialize_f64(visitor)
        }
    )*};
}

impl<'de> Deserializer<'de> for &'de Node<'de> {
    type Error = Refusal;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match &self.value {
            Value::Null => visitor.visit_unit(),
            Value::Bool(value) => visitor.visit_bool(*value),
            Value::Whole(value) => visitor.visit_i64(*value),
            Value::Large(value) => visitor.visit_u64(*value),
            Value::Float(value) => visitor.visit_f64(*value),
            Value::Text(text) => visitor.visit_str(text),
            Value::List(items) => visitor.visit_seq(Items(items)),
            Value::Table(entries) => visitor.visit_map(Entries(entries)),
            Value::Wrong(_) | Value::Date | Value::TooLarge => Err(self.refuse(&visitor)),
        }
        .map_err(|refusal: Refusal| refusal.at(self.start))
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match &self.value {
            Value::Bool(value) => visitor.visit_bool(*value),
            _ => Err(self.refuse(&visitor)),
        }
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match &self.value {
            Value::Whole(value) => visitor.visit_i64(*value),
            Value::Large(value) => visitor.visit_u64(*value),
            Value::Float(value) => visitor.visit_f64(*value),
            _ => Err(self.refuse(&visitor)),
        }
        .map_err(|refusal: Refusal| refusal.at(self.start))
    }

    numbers! {
        deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64
        deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64
        deserialize_f32
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match &self.value {
            Value::Text(text) => visitor
                .visit_str(text)
                .map_err(|refusal: Refusal| refusal.at(self.start)),
            _ => Err(self.refuse(&visitor)),
        }
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_str(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match &self.value {
            Value::Null => visitor.visit_none(),
            Value::Wrong(_) => Err(self.refuse(&visitor)),
            _ => visitor
                .visit_some(self)
                .map_err(|refusal: Refusal| refusal.at(self.start)),
        }
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match &self.value {
            Value::List(items) => visitor
                .visit_seq(Items(items))
                .map_err(|refusal: Refusal| refusal.at(self.start)),
            _ => Err(self.refuse(&visitor)),
        }
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match &self.value {
            Value::Table(entries) => visitor
                .visit_map(Entries(entries))
                .map_err(|refusal: Refusal| refusal.at(self.start)),
            _ => Err(self.refuse(&visitor)),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        self.deserialize_map(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        match &self.value {
            Value::Text(name) => visitor.visit_enum(Kind(name, self.start, None)),
            Value::Table(entries) => match &entries[..] {
                [entry] => visitor.visit_enum(Kind(&entry.key, entry.start, Some(&entry.node))),
                [] => Err(Refusal::custom(
                    "wanted exactly 1 element, found 0 elements",
                )),
                _ => Err(Refusal::custom(
                    "wanted exactly 1 element, more than 1 element",
                )),
            },
            Value::Wrong(_) => Err(self.refuse(&visitor)),
            _ => Err(Refusal::custom("wanted string or table")),
        }
        .map_err(|refusal: Refusal| refusal.at(self.start))
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        visitor.visit_unit()
    }

    forward_to_deserialize_any! {
        char bytes byte_buf unit unit_struct newtype_struct tuple_struct identifier
    }
}

/// The entries of a list that are still to be read.
struct Items<'n>(&'n [Node<'n>]);

impl<'de> SeqAccess<'de> for Items<'de> {
    type Error = Refusal;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Refusal> {
        let Some((node, rest)) = self.0.split_first() else {
            return Ok(None);
        };
        self.0 = rest;
        seed.deserialize(node)
            .map(Some)
            .map_err(|refusal| refusal.at(node.start))
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.0.len())
    }
}

/// The entries of a table that are still to be read; of the first perhaps the value only.
struct Entries<'n>(&'n [Entry<'n>]);

impl<'de> MapAccess<'de> for Entries<'de> {
    type Error = Refusal;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Refusal> {
        let Some(entry) = self.0.first() else {
            return Ok(None);
        };
        // The text ends in the middle: no key is there at all.
        if entry.key.is_empty() && matches!(entry.node.value, Value::Wrong(_)) {
            return Err(entry.node.refuse(&"a key"));
        }
        seed.deserialize(Name(&entry.key))
            .map(Some)
            .map_err(|refusal| refusal.at(entry.start))
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Refusal> {
        let Some((entry, rest)) = self.0.split_first() else {
            return Err(Refusal::custom("a value without a key"));
        };
        self.0 = rest;
        seed.deserialize(&entry.node)
            .map_err(|refusal| refusal.at(entry.node.start))
    }
}

/// A key.
struct Name<'n>(&'n str);

impl<'de> Deserializer<'de> for Name<'de> {
    type Error = Refusal;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        visitor.visit_str(self.0)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        visitor.visit_enum(Kind(self.0, 0, None))
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 u8 u16 u32 u64 f32 f64 char str string bytes byte_buf option unit
        unit_struct newtype_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

/// One of several kinds: its name, where that stands, and what is said of it.
struct Kind<'n>(&'n str, usize, Option<&'n Node<'n>>);

impl<'de> EnumAccess<'de> for Kind<'de> {
    type Error = Refusal;
    type Variant = Said<'de>;

    fn variant_seed<V: DeserializeSeed<'de>>(
        self,
        seed: V,
    ) -> Result<(V::Value, Said<'de>), Refusal> {
        let Self(name, start, said) = self;
        match seed.deserialize(Name(name)) {
            Ok(kind) => Ok((kind, Said(said))),
            // A bare name is placed by whoever holds it.
            Err(refusal) if said.is_none() => Err(refusal),
            Err(refusal) => Err(refusal.at(start)),
        }
    }
}

/// What is said of one of several kinds.
struct Said<'n>(Option<&'n Node<'n>>);

impl<'de> Said<'de> {
    fn something(self, expected: &str) -> Result<&'de Node<'de>, Refusal> {
        let bare = || Refusal::invalid_type(Unexpected::UnitVariant, &expected);
        self.0.ok_or_else(bare)
    }
}

impl<'de> VariantAccess<'de> for Said<'de> {
    type Error = Refusal;

    fn unit_variant(self) -> Result<(), Refusal> {
        match self.0 {
            None => Ok(()),
            Some(node) => match &node.value {
                Value::Null => Ok(()),
                Value::Table(entries) if entries.is_empty() => Ok(()),
                Value::Table(_) => Err(Refusal::custom("expected empty table").at(node.start)),
                _ => Err(node.refuse(&"an empty table")),
            },
        }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Refusal> {
        seed.deserialize(self.something("newtype variant")?)
    }

    fn tuple_variant<V: Visitor<'de>>(
        self,
        length: usize,
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        let node = self.something("tuple variant")?;
        match &node.value {
            Value::List(items) if items.len() != length => {
                let message = format!("expected tuple with length {length}");
                Err(Refusal::custom(message).at(node.start))
            }
            _ => node.deserialize_seq(visitor),
        }
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        self.something("struct variant")?.deserialize_map(visitor)
    }
}
