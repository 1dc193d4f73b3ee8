//! Reading a density as it is written: a table with `family`, and what that family needs.
//!
//! Read by hand, since a derived reader would first copy the table: what is wrong within could
//! then be placed at the table only, and the copy would be read by code of its own.

use super::{Density, Part};
use serde::Deserialize;
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, Visitor};
use std::fmt;

/// Which family, and with it what the table must hold besides.
#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Family {
    Normal,
    LogNormal,
    Gamma,
    StudentT,
    HalfNormal,
    Uniform,
    Mixture,
}

impl Family {
    fn needs(self) -> &'static [&'static str] {
        match self {
            Self::Normal => &["mean", "sd"],
            Self::LogNormal => &["median", "spread"],
            Self::Gamma => &["shape", "scale"],
            Self::StudentT => &["location", "scale", "degrees"],
            Self::HalfNormal => &["scale"],
            Self::Uniform => &["low", "high"],
            Self::Mixture => &["parts"],
        }
    }
}

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

/// A key of the table, refused where it stands unless it is `family` or something that the family,
/// once known, needs.
struct Key(Option<Family>);

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
        let allowed = self.0.map_or(&NAMES[..], Family::needs);
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
                    let named: Family = map.next_value()?;
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
fn assemble<E: Error>(
    family: Family,
    numbers: &[Option<f64>; PARTS],
    parts: Option<Vec<Part>>,
) -> Result<Density, E> {
    let needs = family.needs();
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
        Family::Normal => Density::Normal { mean, sd },
        Family::LogNormal => Density::LogNormal { median, spread },
        Family::Gamma => Density::Gamma { shape, scale },
        Family::StudentT => Density::StudentT {
            location,
            scale,
            degrees,
        },
        Family::HalfNormal => Density::HalfNormal { scale },
        Family::Uniform => Density::Uniform { low, high },
        Family::Mixture => Density::Mixture {
            parts: parts.unwrap_or_default(),
        },
    })
}
