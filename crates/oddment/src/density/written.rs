//! Reading a density as it is written: a table with `family`, and what that family needs.
//!
//! Read by hand, since a derived reader would first copy the table: what is wrong within could
//! then be placed at the table only, and the copy would be read by code of its own.

use super::{Density, Part};
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, Visitor};
use serde::{Deserialize, de};
use std::fmt;

const FAMILIES: [&str; 7] = [
    "normal",
    "log-normal",
    "gamma",
    "student-t",
    "half-normal",
    "uniform",
    "mixture",
];

/// What each family needs.
const NEEDS: [&[&str]; 7] = [
    &["mean", "sd"],
    &["median", "spread"],
    &["shape", "scale"],
    &["location", "scale", "degrees"],
    &["scale"],
    &["low", "high"],
    &["parts"],
];

/// All that any family needs; the last is a list.
const NAMES: [&str; 11] = [
    "mean", "sd", "median", "spread", "shape", "scale", "location", "degrees", "low", "high",
    "parts",
];

const FAMILY: &str = "family";
const PARTS: usize = NAMES.len() - 1;

impl<'de> Deserialize<'de> for Density {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(Table)
    }
}

/// Which family, by its place in [`FAMILIES`].
struct Family(usize);

impl<'de> Deserialize<'de> for Family {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Word;
        impl Visitor<'_> for Word {
            type Value = Family;

            fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                formatter.write_str("the name of a family")
            }

            fn visit_str<E: Error>(self, name: &str) -> Result<Family, E> {
                let place = FAMILIES.iter().position(|family| *family == name);
                place
                    .map(Family)
                    .ok_or_else(|| E::unknown_variant(name, &FAMILIES))
            }
        }
        deserializer.deserialize_str(Word)
    }
}

/// A key of the table, refused where it stands unless it is `family` or something that the family,
/// once known, needs.
struct Key(Option<usize>);

impl<'de> DeserializeSeed<'de> for Key {
    /// The place in [`NAMES`]; nothing for `family` itself.
    type Value = Option<usize>;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Self::Value, D::Error> {
        deserializer.deserialize_str(self)
    }
}

impl Visitor<'_> for Key {
    type Value = Option<usize>;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a key")
    }

    fn visit_str<E: Error>(self, name: &str) -> Result<Option<usize>, E> {
        if name == FAMILY {
            return Ok(None);
        }
        let allowed = self.0.map_or(&NAMES[..], |family| NEEDS[family]);
        let place = NAMES.iter().position(|known| *known == name);
        place
            .filter(|place| allowed.contains(&NAMES[*place]))
            .map(Some)
            .ok_or_else(|| E::unknown_field(name, allowed))
    }
}

struct Table;

impl<'de> Visitor<'de> for Table {
    type Value = Density;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a table with `family`")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Density, A::Error> {
        let mut family = None;
        let mut numbers = [None; PARTS];
        let mut parts = None;
        while let Some(key) = map.next_key_seed(Key(family))? {
            let (name, again) = match key {
                None => {
                    let Family(named) = map.next_value()?;
                    (FAMILY, family.replace(named).is_some())
                }
                Some(PARTS) => {
                    let given: Vec<Part> = map.next_value()?;
                    (NAMES[PARTS], parts.replace(given).is_some())
                }
                Some(place) => {
                    let given: f64 = map.next_value()?;
                    (NAMES[place], numbers[place].replace(given).is_some())
                }
            };
            if again {
                return Err(A::Error::duplicate_field(name));
            }
        }
        let family = family.ok_or_else(|| A::Error::missing_field(FAMILY))?;
        assemble(family, &numbers, parts)
    }
}

/// Puts together what was given, in whatever order.
fn assemble<E: de::Error>(
    family: usize,
    numbers: &[Option<f64>; PARTS],
    parts: Option<Vec<Part>>,
) -> Result<Density, E> {
    let needs = NEEDS[family];
    let given = |place: usize| match numbers.get(place) {
        Some(number) => number.is_some(),
        None => parts.is_some(),
    };
    for (place, name) in NAMES.into_iter().enumerate() {
        match (given(place), needs.contains(&name)) {
            (true, false) => return Err(E::unknown_field(name, needs)),
            (false, true) => return Err(E::missing_field(name)),
            _ => {}
        }
    }
    let [
        mean,
        sd,
        median,
        spread,
        shape,
        scale,
        location,
        degrees,
        low,
        high,
    ] = numbers.map(Option::unwrap_or_default);
    Ok(match family {
        0 => Density::Normal { mean, sd },
        1 => Density::LogNormal { median, spread },
        2 => Density::Gamma { shape, scale },
        3 => Density::StudentT {
            location,
            scale,
            degrees,
        },
        4 => Density::HalfNormal { scale },
        5 => Density::Uniform { low, high },
        _ => Density::Mixture {
            parts: parts.unwrap_or_default(),
        },
    })
}
