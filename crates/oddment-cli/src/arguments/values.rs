//! Values given on the command line, and what is said of those given wrongly.

use oddment::Verdict;
use oddment::elicit::{Family, Start};
use oddment::pack::{Access, VERDICTS};
use std::fmt::Display;
use std::ops::RangeInclusive;
use std::path::PathBuf;
use std::str::FromStr;

/// The weights an opinion may have.
const WEIGHTS: RangeInclusive<f64> = 1e-6..=1e6;

/// The most parts a mix may give one verdict.
const MOST_PARTS: f64 = 1e9;

/// The longest time there may be for looking, in minutes: a week.
const MOST_MINUTES: f64 = 10_080.0;

/// All verdicts, for messages.
fn verdicts() -> String {
    VERDICTS.map(Verdict::id).join(", ")
}

/// Reads a verdict by its id.
pub(crate) fn verdict(text: &str) -> Result<Verdict, String> {
    let found = VERDICTS.into_iter().find(|verdict| verdict.id() == text);
    found.ok_or_else(|| format!("unknown verdict `{text}`; valid: {}", verdicts()))
}

/// Reads `0.9`, `90%`.
pub(crate) fn threshold(text: &str) -> Result<f64, String> {
    let (number, whole) = match text.strip_suffix('%') {
        Some(number) => (number, 100.0),
        None => (text, 1.0),
    };
    let value = number.trim().parse::<f64>().map(|value| value / whole);
    value
        .ok()
        .filter(|value| *value > 0.0 && *value < 1.0)
        .ok_or_else(|| {
            format!("`{text}` must be a probability above 0 and below 1, such as 0.9 or 90%")
        })
}

/// How the share not original is divided over married, converted and faked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Mix(pub [f64; 3]);

impl FromStr for Mix {
    type Err = String;

    /// Reads `married=1,converted=2,faked=1`.
    fn from_str(text: &str) -> Result<Self, String> {
        let right = "such as married=1,converted=2,faked=1";
        let mut mix: [Option<f64>; 3] = [None; 3];
        for part in text.split(',') {
            let Some((id, parts)) = part.split_once('=') else {
                return Err(format!(
                    "`{part}` must be a verdict, `=` and a number, {right}"
                ));
            };
            let place = VERDICTS
                .iter()
                .position(|verdict| verdict.id() == id.trim());
            let place = match place {
                Some(0) => {
                    return Err(format!(
                        "`original` has no part in the mix: it divides what is not original, {right}"
                    ));
                }
                Some(place) => place - 1,
                None => {
                    return Err(format!(
                        "unknown verdict `{}`; valid: married, converted, faked",
                        id.trim()
                    ));
                }
            };
            let parts = parts.trim().parse::<f64>().ok();
            let Some(parts) = parts.filter(|parts| (0.0..=MOST_PARTS).contains(parts)) else {
                return Err(format!(
                    "`{part}` must give a number from 0 to 1,000,000,000, {right}"
                ));
            };
            if mix[place].replace(parts).is_some() {
                return Err(format!("`{}` is given twice; remove one", id.trim()));
            }
        }
        let mix = mix.map(Option::unwrap_or_default);
        if mix.iter().all(|parts| *parts == 0.0) {
            return Err(format!("at least one must be above 0, {right}"));
        }
        Ok(Self(mix))
    }
}

/// A file with somebody's opinion, and how much it counts.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Expert {
    pub path: PathBuf,
    pub weight: f64,
}

impl FromStr for Expert {
    type Err = String;

    /// Reads `FILE` or `FILE=WEIGHT`.
    fn from_str(text: &str) -> Result<Self, String> {
        let (path, weight) = match text.rsplit_once('=') {
            None => (text, 1.0),
            Some((path, weight)) => {
                let number = weight.trim().parse::<f64>().ok();
                let number = number.filter(|weight| WEIGHTS.contains(weight));
                let number = number.ok_or_else(|| {
                    format!(
                        "the weight `{weight}` must be a number from 0.000001 to 1,000,000, such as \
                         2 (what follows the last `=` is the weight)"
                    )
                })?;
                (path, number)
            }
        };
        if path.is_empty() {
            return Err("give a file, or a file, `=` and its weight".to_owned());
        }
        Ok(Self {
            path: PathBuf::from(path),
            weight,
        })
    }
}

/// A whole number within bounds.
fn whole<T>(text: &str, bounds: RangeInclusive<T>, right: &str) -> Result<T, String>
where
    T: FromStr + PartialOrd + Display,
{
    let number = text.replace([',', '_'], "").parse::<T>().ok();
    number
        .filter(|number| bounds.contains(number))
        .ok_or_else(|| format!("`{text}` must be a whole number from {right}"))
}

/// How many draws.
pub(crate) fn draws(text: &str) -> Result<u64, String> {
    whole(text, 2..=10_000_000, "2 to 10,000,000")
}

/// How many pairs of draws.
pub(crate) fn pairs(text: &str) -> Result<u64, String> {
    whole(text, 0..=5_000_000, "0 to 5,000,000")
}

/// How many pieces.
pub(crate) fn pieces(text: &str) -> Result<u32, String> {
    whole(text, 1..=oddment::predict::MOST_PIECES, "1 to 1,000,000")
}

/// How many threads.
pub(crate) fn threads(text: &str) -> Result<usize, String> {
    whole(text, 1..=256, "1 to 256")
}

/// A seed.
pub(crate) fn seed(text: &str) -> Result<u64, String> {
    whole(text, 0..=u64::MAX, "0 to 18,446,744,073,709,551,615")
}

/// A time for looking.
pub(crate) fn minutes(text: &str) -> Result<f64, String> {
    let number = text.trim().parse::<f64>().ok();
    number
        .filter(|minutes| *minutes > 0.0 && *minutes <= MOST_MINUTES)
        .ok_or_else(|| format!("`{text}` must be minutes above 0, at most 10,080 (a week)"))
}

/// How far one may go: the ids of the packs.
const ACCESSES: [(&str, Access); 6] = [
    ("walk-by", Access::WalkBy),
    ("open", Access::Open),
    ("turn-over", Access::TurnOver),
    ("dismantle", Access::Dismantle),
    ("laboratory", Access::Laboratory),
    ("papers", Access::Papers),
];

/// Reads how far one may go.
pub(crate) fn access(text: &str) -> Result<Access, String> {
    let found = ACCESSES.iter().find(|(id, _)| *id == text);
    found.map(|(_, access)| *access).ok_or_else(|| {
        let ids = ACCESSES.map(|(id, _)| id).join(", ");
        format!("unknown access `{text}`; valid: {ids}")
    })
}

/// A value of a judgement: `0.3`, or `30%` for a chance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Value {
    pub value: f64,
    /// Whether it was written as a percentage.
    pub percent: bool,
}

impl FromStr for Value {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let (number, percent) = match text.strip_suffix('%') {
            Some(number) => (number, true),
            None => (text, false),
        };
        let whole = if percent { 100.0 } else { 1.0 };
        let value = number.trim().parse::<f64>().map(|value| value / whole);
        value.map(|value| Self { value, percent }).map_err(|_| {
            format!("`{text}` must be a number such as 0.3, or a percentage such as 30%")
        })
    }
}

/// A quantile judgement: `5%=0.1` or `0.05=0.1`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Quantile {
    pub level: Value,
    pub value: Value,
}

impl FromStr for Quantile {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let Some((level, value)) = text.split_once('=') else {
            return Err(format!(
                "`{text}` must be a level, `=` and the value below which it lies so often, such as \
                 5%=0.1"
            ));
        };
        Ok(Self {
            level: level.parse()?,
            value: value.parse()?,
        })
    }
}

/// Quartiles of a level: `slight=0.2,0.25,0.3`, the name being optional.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct RowLevel {
    pub name: Option<String>,
    pub quartiles: Vec<Value>,
}

impl FromStr for RowLevel {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let (name, values) = match text.split_once('=') {
            Some((name, values)) => (Some(name.trim().to_owned()), values),
            None => (None, text),
        };
        let quartiles = values.split(',').map(str::parse);
        Ok(Self {
            name,
            quartiles: quartiles.collect::<Result<_, _>>()?,
        })
    }
}

/// One of several by its id.
fn one_of<T: Copy>(what: &str, text: &str, all: &[(&str, T)]) -> Result<T, String> {
    let found = all.iter().find(|(id, _)| *id == text);
    found.map(|(_, one)| *one).ok_or_else(|| {
        let ids: Vec<&str> = all.iter().map(|(id, _)| *id).collect();
        format!("unknown {what} `{text}`; valid: {}", ids.join(", "))
    })
}

/// Reads what counts are added to.
pub(crate) fn start(text: &str) -> Result<Start, String> {
    let all = [("jeffreys", Start::Jeffreys), ("uniform", Start::Uniform)];
    one_of("start", text, &all)
}

/// Reads a family of densities.
pub(crate) fn family(text: &str) -> Result<Family, String> {
    let all = [
        ("normal", Family::Normal),
        ("log-normal", Family::LogNormal),
        ("gamma", Family::Gamma),
        ("student-t10", Family::StudentT10),
        ("student-t3", Family::StudentT3),
    ];
    one_of("family", text, &all)
}
