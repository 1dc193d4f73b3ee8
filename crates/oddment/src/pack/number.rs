//! The register of elicited numbers: every number of a pack with its id, strength and source.

/// A number's place in [`Pack::numbers`](super::Pack::numbers).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NumberId(pub(crate) u32);

impl NumberId {
    /// The place as an index.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// What values a number may take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Domain {
    /// A chance: strictly between 0 and 1 unless structural.
    Chance,
    /// A chance where 0 and 1 are ordinary values too (a coupling).
    Share,
    /// Zero or more (a count, a factor, an elasticity).
    NotNegative,
    /// Above zero: what all values of a measure are multiplied by; 1 changes nothing.
    Stretch,
    /// What is added to all values of a measure, in its unit; 0 changes nothing.
    Shift {
        /// Standard deviation of one piece, in the measure's unit.
        deviation: f64,
    },
}

impl Domain {
    /// Whether a value is allowed.
    pub fn allows(self, value: f64, structural: bool) -> bool {
        match self {
            Self::Chance if structural => value == 0.0 || value == 1.0,
            Self::Chance => value > 0.0 && value < 1.0,
            Self::Share => (0.0..=1.0).contains(&value),
            Self::NotNegative => (0.0..=1e6).contains(&value),
            Self::Stretch => (1e-6..=1e6).contains(&value),
            Self::Shift { .. } => value.abs() <= 1e6,
        }
    }

    /// What is wrong with a value and what would be right; nothing if it is allowed.
    pub(crate) fn refusal(self, value: f64, structural: bool) -> Option<String> {
        if self.allows(value, structural) {
            return None;
        }
        let shown = crate::text::figure(value);
        Some(if structural && self == Self::Chance {
            format!(
                "{shown} is marked `structural = true`, which only a true 0 or 1 can be; leave \
                 `structural` out"
            )
        } else {
            format!("{shown} {}", self.rule())
        })
    }

    /// The rule in words.
    pub fn rule(self) -> &'static str {
        match self {
            Self::Chance => {
                "must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = true`"
            }
            Self::Share => "must lie between 0 and 1",
            Self::NotNegative => "must be finite, not negative and at most 1,000,000",
            Self::Stretch => "must be 0.000001 to 1,000,000",
            Self::Shift { .. } => "must be -1,000,000 to 1,000,000",
        }
    }
}

/// An elicited number.
#[derive(Debug, Clone, PartialEq)]
pub struct ElicitedNumber {
    /// Stable: section, entry, field and selector, such as `sign/join-hollow/shows/pieced-out`.
    pub id: String,
    /// The mean.
    pub mean: f64,
    /// Equivalent sample size.
    pub strength: f64,
    /// Index into [`Pack::sources`](super::Pack::sources).
    pub source: usize,
    /// Exactly 0 or 1 by the nature of the thing.
    pub structural: bool,
    /// What values it may take.
    pub domain: Domain,
}
