//! Small cases on the embedded drop-leaf pack, for tests of how it reasons.

use oddment::{Assessment, Case, Pack, Text, Verdict, assess, packs};
use std::fmt::Write;

/// The embedded pack.
pub fn pack() -> Pack {
    packs::load("drop-leaf-table").unwrap_or_else(|error| panic!("{error}"))
}

/// A case on it: an oval, bent-leg table claimed British, until told otherwise.
#[derive(Debug, Clone)]
pub struct Sketch {
    piece: String,
    rest: String,
}

impl Sketch {
    /// A table of one variant.
    pub fn of(variant: &str) -> Self {
        let piece = format!(
            "schema = \"oddment/case/1\"\n[piece]\nform = \"drop-leaf-table\"\nvariant = \"{variant}\"\n\
             period = \"bent-leg\"\nregion = \"britain\"\n"
        );
        Self {
            piece,
            rest: String::new(),
        }
    }

    /// With a price as claimed, a plainer one costing 100.
    #[must_use]
    pub fn priced(mut self, price: f64) -> Self {
        let _ = writeln!(
            self.piece,
            "prices = {{ as_claimed = {price:?}, plainer = 100.0 }}"
        );
        self
    }

    /// With a report; the part may be empty where the sign has one only.
    #[must_use]
    pub fn found(mut self, sign: &str, part: &str, found: &str) -> Self {
        let _ = writeln!(
            self.rest,
            "[[finding]]\nsign = \"{sign}\"\nfound = \"{found}\""
        );
        if !part.is_empty() {
            let _ = writeln!(self.rest, "part = \"{part}\"");
        }
        self
    }

    /// With an incident known for certain.
    #[must_use]
    pub fn known(mut self, incident: &str, happened: bool) -> Self {
        let _ = writeln!(self.rest, "[known]\n{incident} = {happened}");
        self
    }

    /// The checked case.
    pub fn case(&self, pack: &Pack) -> Case {
        let text = format!("{}{}", self.piece, self.rest);
        Case::load(Text::new("sketch", &text), pack).unwrap_or_else(|error| panic!("{error}"))
    }

    /// Its assessment.
    pub fn assess(&self, pack: &Pack) -> Assessment {
        assess(pack, &self.case(pack)).unwrap_or_else(|error| panic!("{error}"))
    }
}

/// Odds of a verdict against all others.
pub fn odds(assessment: &Assessment, verdict: Verdict) -> f64 {
    let found = assessment
        .verdicts
        .iter()
        .find(|odds| odds.verdict == verdict);
    found.map_or(f64::NAN, |odds| odds.odds)
}

/// Probability of a history.
pub fn history(assessment: &Assessment, id: &str) -> f64 {
    let found = assessment.histories.iter().find(|history| history.id == id);
    found.map_or(f64::NAN, |history| history.probability)
}

/// Probability of an incident.
pub fn incident(assessment: &Assessment, id: &str) -> f64 {
    let found = assessment
        .incidents
        .iter()
        .find(|incident| incident.id == id);
    found.map_or(f64::NAN, |incident| incident.probability)
}
