//! What is doubtful in a pack that is otherwise well-formed.
//!
//! [`Pack::lint`] looks at every entry on its own, in closed form and at once; [`scan`] puts pieces
//! simulated from the pack to the engine, to see what no entry shows by itself.

mod blank;
mod dated;
mod entries;
pub(crate) mod marginal;
mod readings;
mod scan;
mod signs;

pub(crate) use blank::blank_case;
pub use scan::{Hardest, Scan, ScanOptions, Strongest, scan};

use crate::pack::{Pack, Shows};
use marginal::{MOST_CLAIMED, Marginals, Offered, some_of};
use schemars::JsonSchema;
use serde::Serialize;

/// A single unaided observation that can settle a case by itself claims more than examiners have
/// been shown to deliver: the highest likelihood ratio measured for experts' flat statements was
/// 376 (published summary of identification studies, read in abstract only).
pub(crate) const LIKELIHOOD_RATIO_CAP: f64 = 400.0;

/// Steps that the closed forms may take in all, so that the largest pack that loads takes seconds.
const MOST_STEPS: usize = 200_000_000;

/// Something doubtful.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(rename = "LintFinding")]
pub struct Finding {
    /// Stable code, such as `lint/unused`.
    pub code: &'static str,
    /// What it is about: an entry such as `sign/join-hollow`.
    pub about: String,
    /// What is doubtful, why it matters and what could be done.
    pub message: String,
}

/// Findings being gathered.
#[derive(Debug, Default)]
struct Notes(Vec<Finding>);

impl Notes {
    fn note(&mut self, code: &'static str, about: impl Into<String>, message: impl Into<String>) {
        self.0.push(Finding {
            code,
            about: about.into(),
            message: message.into(),
        });
    }
}

/// A pack with what follows from it for the periods that are looked at.
struct Subject<'a> {
    pack: &'a Pack,
    /// For each period: its chances, and how the pieces offered as of it divide over the histories.
    periods: Vec<(Marginals<'a>, Vec<f64>)>,
    /// How all pieces offered divide over the histories.
    priors: Vec<f64>,
}

impl<'a> Subject<'a> {
    /// `None` where nothing can be claimed at all.
    fn of(pack: &'a Pack) -> Option<Self> {
        let all = |length: usize| some_of(length, MOST_CLAIMED);
        let dated = pack.signs.iter().filter(|sign| is_dated(&sign.shows));
        let places: usize = dated.map(|sign| sign.parts.len()).sum();
        let steps = (places + pack.parts.len())
            .saturating_mul(pack.histories.len())
            .saturating_mul(pack.dates.bins());
        let periods = some_of(pack.periods.len(), MOST_STEPS / steps.max(1));
        let regions = all(pack.regions.len());
        let offered = Offered::of(pack, &all(pack.variants.len()), &periods, &regions)?;
        let priors = offered.histories();
        let of_period = |(period, weights): &(usize, Vec<f64>)| {
            let period = &pack.periods[*period];
            let total: f64 = weights.iter().sum();
            let weights = weights.iter().map(|weight| weight / total).collect();
            (Marginals::new(pack, (period.from, period.to)), weights)
        };
        let possible = |(_, weights): &&(usize, Vec<f64>)| weights.iter().sum::<f64>() > 0.0;
        Some(Self {
            pack,
            periods: offered
                .periods
                .iter()
                .filter(possible)
                .map(of_period)
                .collect(),
            priors,
        })
    }
}

fn is_dated(shows: &Shows) -> bool {
    matches!(shows, Shows::Dated { .. })
}

impl Pack {
    /// Looks for what is doubtful in single entries: histories and claims that cannot be, signs that
    /// tell nothing or too much, curves that miss every claim, entries that nothing uses.
    ///
    /// ```
    /// let pack = oddment::packs::load("drop-leaf-table")?;
    /// assert!(pack.lint().is_empty());
    /// # Ok::<(), oddment::Error>(())
    /// ```
    pub fn lint(&self) -> Vec<Finding> {
        let mut notes = Notes::default();
        entries::histories(self, &mut notes);
        entries::claims(self, &mut notes);
        if let Some(subject) = Subject::of(self) {
            signs::all(&subject, &mut notes);
            readings::all(&subject, &mut notes);
        }
        signs::reliability(self, &mut notes);
        entries::unused(self, &mut notes);
        notes.0
    }
}
