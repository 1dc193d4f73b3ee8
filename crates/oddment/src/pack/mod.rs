//! Packs: the elicited numbers for a form, with sources, in checked form.

pub mod extension;
pub mod file;
mod limits;
mod load;
mod number;

pub use crate::lint::Finding as LintFinding;
pub use file::{Access, Leave, Standing, Verdict};
pub use number::{Domain, ElicitedNumber, NumberId};

use crate::density::Density;
use file::{
    CautionFile, CurveFile, LaterWorkFile, MovementFile, PartFile, PeriodFile, RegionFile,
    SourceFile, VariantFile,
};

/// All verdicts, in the order they are always shown.
pub const VERDICTS: [Verdict; 4] = [
    Verdict::Original,
    Verdict::Married,
    Verdict::Converted,
    Verdict::Faked,
];

impl Verdict {
    /// The verdict's id, as written in packs and cases.
    pub fn id(self) -> &'static str {
        match self {
            Self::Original => "original",
            Self::Married => "married",
            Self::Converted => "converted",
            Self::Faked => "faked",
        }
    }
}

/// The grid of making dates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DateGrid {
    /// First year of the first bin.
    pub from: i32,
    /// The year after the last bin.
    pub to: i32,
    /// Width of a bin in years.
    pub step: i32,
    /// Years over which the chance of making falls off on either side of a claim.
    pub shoulder: f64,
}

impl DateGrid {
    /// Number of bins.
    pub fn bins(&self) -> usize {
        ((self.to - self.from) / self.step).max(0) as usize
    }

    /// First year of a bin and the year after its last.
    pub fn years(&self, bin: usize) -> (i32, i32) {
        let start = self.from + bin as i32 * self.step;
        (start, start + self.step)
    }
}

/// What a poor examination does to reports, and what the words of sureness weigh.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Examination {
    /// Chance that an examination as a whole is poor.
    pub poor: NumberId,
    /// What a report's reliability above chance is multiplied by when it is.
    pub poor_factor: NumberId,
    /// How much larger an instrument's error then is.
    pub poor_instrument: NumberId,
    /// Weights of sure, fairly sure and doubtful reports.
    pub sureness: [NumberId; 3],
}

/// One rival story.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// Kebab-case.
    pub id: String,
    /// The verdict it belongs to.
    pub verdict: Verdict,
    /// A word shared with histories of other forms.
    pub kind: String,
    /// A few words.
    pub name: String,
    /// What happened, and what it would have left behind.
    pub story: String,
    /// How the count grows with the price gap.
    pub elasticity: Option<NumberId>,
    /// For each part, when it was made (`None` for parts without a date).
    pub origins: Vec<Option<Origin>>,
}

/// When a part was made under a history.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Within the claim, with soft shoulders.
    Claim,
    /// Uniform between two years.
    Between(i32, i32),
    /// After the claim, weighted by a [`LaterWorkFile`].
    After(usize),
    /// Before the claim, uniform over this many years.
    Older(i32),
    /// At the same time as another part.
    Shares(usize),
}

/// Prior counts of one variant, out of 1,000.
#[derive(Debug, Clone, PartialEq)]
pub struct Prior {
    /// One for each history.
    pub counts: Vec<NumberId>,
    /// Why these counts.
    pub reason: String,
}

/// A shift of the counts by period, region or variant.
#[derive(Debug, Clone, PartialEq)]
pub struct PriorFactor {
    /// Kebab-case.
    pub id: String,
    /// Only for these variants; all when `None`.
    pub variants: Option<Vec<usize>>,
    /// Only for these periods.
    pub periods: Option<Vec<usize>>,
    /// Only for these regions.
    pub regions: Option<Vec<usize>>,
    /// For each history its multiplier; 1 where `None`.
    pub factors: Vec<Option<NumberId>>,
    /// Why.
    pub reason: String,
}

/// Signs left by one act.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Kebab-case.
    pub id: String,
    /// The act.
    pub name: String,
    /// 0 independent, 1 standing and falling together.
    pub coupling: NumberId,
    /// Why these hang together.
    pub reason: String,
}

/// A way of looking.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// Kebab-case.
    pub id: String,
    /// A few words.
    pub name: String,
    /// How to do it.
    pub how: String,
    /// What to bring.
    pub tools: Vec<String>,
    /// Minutes it takes.
    pub minutes: f64,
    /// How far one must go.
    pub access: Access,
    /// Whether the owner must be asked.
    pub leave: Leave,
    /// Indices of cautions.
    pub cautions: Vec<usize>,
}

/// An honest event of a long life.
#[derive(Debug, Clone, PartialEq)]
pub struct Incident {
    /// Kebab-case.
    pub id: String,
    /// A few words.
    pub name: String,
    /// What it does to a piece.
    pub effect: String,
    /// Its chance, one for each history.
    pub rates: Vec<NumberId>,
}

/// What the history itself contributes to a sign.
#[derive(Debug, Clone, PartialEq)]
pub enum Shows {
    /// For each history a row of chances, one for each level.
    History(Vec<Vec<NumberId>>),
    /// By the making date of the sign's part.
    Dated {
        /// Index of the in-use curve.
        curve: usize,
        /// Chance that work done in that way still shows it.
        visible: NumberId,
        /// For each history, the chance that it was put on.
        added: Vec<Option<NumberId>>,
        /// For each history, the chance that it was taken off.
        removed: Vec<Option<NumberId>>,
    },
}

/// How often an average examiner reports a sign rightly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reliability {
    /// Sensitivity and specificity.
    YesNo {
        /// Share of present signs reported.
        found: NumberId,
        /// Share of absent signs reported as absent.
        cleared: NumberId,
    },
    /// Share of reports at the true level.
    Graded {
        /// The rest goes to the levels beside it.
        exact: NumberId,
    },
}

/// Something that can be seen or felt.
#[derive(Debug, Clone, PartialEq)]
pub struct Sign {
    /// Kebab-case.
    pub id: String,
    /// Indices of the parts it is looked for at.
    pub parts: Vec<usize>,
    /// The sign in one line.
    pub name: String,
    /// Index of the check that answers it.
    pub check: usize,
    /// Index of its group.
    pub group: Option<usize>,
    /// Names of its levels, "not there" first.
    pub levels: Vec<String>,
    /// What the history contributes.
    pub shows: Shows,
    /// Incidents that can cause it, each with a row of chances, one for each level.
    pub causes: Vec<(usize, Vec<NumberId>)>,
    /// Incidents that can hide it, with the chance that they do.
    pub hides: Vec<(usize, NumberId)>,
    /// How often it is reported rightly.
    pub reliability: Reliability,
    /// What it points to.
    pub points_to: String,
    /// The innocent reading.
    pub innocent: String,
    /// Why a single look at it may settle a case alone, where the pack argues so.
    pub settles: Option<String>,
    /// The variants that have it to look for at one of its parts at least; all when `None`.
    pub variants: Option<Vec<usize>>,
}

impl Sign {
    /// Whether a piece offered as a variant has it to look for.
    pub fn concerns(&self, variant: usize) -> bool {
        concerns(self.variants.as_ref(), variant)
    }
}

fn concerns(variants: Option<&Vec<usize>>, variant: usize) -> bool {
    variants.is_none_or(|variants| variants.contains(&variant))
}

/// What a history or an incident says of a measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Expectation {
    /// What values are expected.
    pub values: ExpectedValues,
    /// By how much they are shifted or stretched: 0 or 1 as elicited.
    pub moved: NumberId,
}

/// Values expected of a measure.
#[derive(Debug, Clone, PartialEq)]
pub enum ExpectedValues {
    /// A density.
    Density(Density),
    /// Movement across the grain, by the dimensional-change equation.
    Movement(MovementFile),
}

/// Something that can be measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// Kebab-case.
    pub id: String,
    /// Index of the part.
    pub part: usize,
    /// What is measured.
    pub name: String,
    /// Its unit.
    pub unit: String,
    /// Index of the check.
    pub check: usize,
    /// Standard error of an ordinary instrument.
    pub error: f64,
    /// Readings outside are refused.
    pub plausible: (f64, f64),
    /// One for each history.
    pub expectations: Vec<Expectation>,
    /// Incidents that override them, the first that happened deciding.
    pub overrides: Vec<(usize, Expectation)>,
    /// What it points to.
    pub points_to: String,
    /// The innocent reading.
    pub innocent: String,
    /// Why a single reading may settle a case alone, where the pack argues so.
    pub settles: Option<String>,
    /// Equivalent sample size of its densities.
    pub strength: f64,
    /// Index of their source.
    pub source: usize,
    /// The variants that have it to measure; all when `None`.
    pub variants: Option<Vec<usize>>,
}

impl Measure {
    /// Whether a piece offered as a variant has it to measure.
    pub fn concerns(&self, variant: usize) -> bool {
        concerns(self.variants.as_ref(), variant)
    }
}

/// A form's pack, composed with the shared library and checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Pack {
    /// The form's id.
    pub id: String,
    /// The form's name.
    pub name: String,
    /// The pack's version.
    pub version: String,
    /// The library's version.
    pub library_version: String,
    /// SHA-256 of the pack's and the library's text, in hexadecimal.
    pub digest: String,
    /// What it covers.
    pub summary: String,
    /// The grid of making dates.
    pub dates: DateGrid,
    /// How reports go wrong.
    pub examination: Examination,
    /// Kinds of the form.
    pub variants: Vec<VariantFile>,
    /// Claimed periods.
    pub periods: Vec<PeriodFile>,
    /// Claimed regions.
    pub regions: Vec<RegionFile>,
    /// Named components.
    pub parts: Vec<PartFile>,
    /// The variants that have each part; all when `None`.
    pub part_variants: Vec<Option<Vec<usize>>>,
    /// When later work was done.
    pub later_work: Vec<LaterWorkFile>,
    /// The rival stories.
    pub histories: Vec<History>,
    /// One for each variant.
    pub priors: Vec<Prior>,
    /// Shifts of the counts.
    pub prior_factors: Vec<PriorFactor>,
    /// Groups of signs.
    pub groups: Vec<Group>,
    /// Ways of looking, those that some sign or measure uses.
    pub checks: Vec<Check>,
    /// Cautions.
    pub cautions: Vec<CautionFile>,
    /// Honest events.
    pub incidents: Vec<Incident>,
    /// What can be seen or felt.
    pub signs: Vec<Sign>,
    /// What can be measured.
    pub measures: Vec<Measure>,
    /// In-use curves.
    pub curves: Vec<CurveFile>,
    /// For each curve, the share in use in the year that the curve puts at one half.
    pub curve_halves: Vec<NumberId>,
    /// References.
    pub sources: Vec<SourceFile>,
    /// Every elicited number.
    pub numbers: Vec<ElicitedNumber>,
    /// The part whose date another part may share, for each part.
    pub companions: Vec<Option<usize>>,
}

impl Pack {
    /// The mean of a number.
    pub fn number(&self, id: NumberId) -> f64 {
        self.numbers[id.index()].mean
    }

    /// The chances of all levels that a written row or single chance stands for.
    pub(crate) fn spread(&self, row: &[NumberId]) -> Vec<f64> {
        match row {
            [single] => vec![1.0 - self.number(*single), self.number(*single)],
            row => row.iter().map(|chance| self.number(*chance)).collect(),
        }
    }

    /// Finds a number by id.
    pub fn find_number(&self, id: &str) -> Option<NumberId> {
        let index = self.numbers.iter().position(|number| number.id == id)?;
        Some(NumberId(index as u32))
    }

    /// The means of all numbers, to be changed and handed to
    /// [`Model`](crate::Model) queries.
    pub fn means(&self) -> Vec<f64> {
        self.numbers.iter().map(|number| number.mean).collect()
    }

    /// Whether pieces offered as a variant have a part.
    pub fn has_part(&self, part: usize, variant: usize) -> bool {
        concerns(self.part_variants[part].as_ref(), variant)
    }

    /// Whether a sign is looked for at a part on pieces offered as a variant.
    pub fn asks(&self, sign: &Sign, part: usize, variant: usize) -> bool {
        sign.concerns(variant) && self.has_part(part, variant)
    }

    /// The parts at which a sign is looked for on pieces offered as a variant; none where they do
    /// not have it to look for.
    pub fn parts_of<'a>(
        &'a self,
        sign: &'a Sign,
        variant: usize,
    ) -> impl Iterator<Item = usize> + 'a {
        let parts = sign.parts.iter().copied();
        parts.filter(move |part| self.asks(sign, *part, variant))
    }

    /// Finds a sign by id.
    pub fn find_sign(&self, id: &str) -> Option<usize> {
        self.signs.iter().position(|sign| sign.id == id)
    }

    /// Number of things that can be found: each sign once for each of its parts.
    pub fn sign_places(&self) -> usize {
        self.signs.iter().map(|sign| sign.parts.len()).sum()
    }
}
