//! Cases: a piece with its findings, checked against a pack.

pub mod file;
mod opinion;

pub use file::Sureness;

use crate::decide::Stakes;
use crate::error::Error;
use crate::order::{map, set};
use crate::pack::Pack;
use crate::text::{At, Kind, Problems, Text, figure, parse};
use file::{CASE_SCHEMA, CaseFile, FindingFile, ReadingFile, TimberFile};
use std::collections::{BTreeMap, BTreeSet};

/// The most visits with findings: every one doubles the work.
pub const MAX_VISITS: usize = 6;

/// The most findings and readings together.
pub const MAX_FINDINGS: usize = 2_000;

/// The least and the greatest price, in any currency.
const PRICES: (f64, f64) = (0.001, 1e12);

/// The most visits, with findings or without.
const MAX_LISTED_VISITS: usize = 100;

/// What the text should be.
const KIND: Kind = Kind {
    schema: CASE_SCHEMA,
    schema_code: "case/schema",
    syntax_code: "case/syntax",
};

/// One visit: one pair of eyes in one light.
#[derive(Debug, Clone, PartialEq)]
pub struct Visit {
    /// Unique in the case.
    pub id: String,
    /// Who looked.
    pub by: Option<String>,
    /// When.
    pub date: Option<String>,
    /// Light, access, haste: in words.
    pub how: Option<String>,
    /// Chance that the examination as a whole was poor, where the case gives one.
    pub poor: Option<f64>,
    /// The examiner's error rates over an average examiner's.
    pub error_factor: f64,
}

/// What was reported of a sign at a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Index of the sign.
    pub sign: usize,
    /// Index of the part.
    pub part: usize,
    /// What came of it.
    pub outcome: Outcome,
    /// Index of the visit.
    pub visit: usize,
    /// Anything else.
    pub note: Option<String>,
}

/// What came of looking.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outcome {
    /// A level was reported; 0 is "looked for and not there".
    Reported {
        /// The level.
        level: usize,
        /// How sure.
        sure: Sureness,
    },
    /// Not looked for.
    NotLooked,
    /// Could not be looked at.
    NoAccess,
}

/// A measurement.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Index of the measure.
    pub measure: usize,
    /// The value or the bounds.
    pub value: Value,
    /// Standard error of the instrument.
    pub error: f64,
    /// Index of the visit.
    pub visit: usize,
    /// Anything else.
    pub note: Option<String>,
}

/// A reading's value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// Read exactly, within the instrument's error.
    Exactly(f64),
    /// Known only to lie above the first and below the second.
    Between(Option<f64>, Option<f64>),
}

/// A case, checked against a pack.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// As written.
    pub file: CaseFile,
    /// Index of the variant.
    pub variant: usize,
    /// Index of the claimed period.
    pub period: usize,
    /// Index of the claimed region.
    pub region: usize,
    /// First and last year of the claim.
    pub years: (i32, i32),
    /// At least one.
    pub visits: Vec<Visit>,
    /// All findings, in the order written.
    pub findings: Vec<Finding>,
    /// All readings, in the order written.
    pub readings: Vec<Reading>,
    /// Incidents known for certain: index and whether it happened.
    pub known: Vec<(usize, bool)>,
    /// The user's own prior weights, one for each history.
    pub prior: Option<Vec<f64>>,
    /// All numbers of the pack with the user's own values put in.
    pub numbers: Vec<f64>,
    /// What is at stake in buying it, where the case says so.
    pub stakes: Option<Stakes>,
}

impl Case {
    /// The id of the form that a case is about, so that the right pack can be found for it.
    ///
    /// # Errors
    /// [`Error::Invalid`] when the text is not a case at all.
    pub fn form(text: Text<'_>) -> Result<String, Error> {
        let file: CaseFile = parse(&text, &KIND).map_err(Error::Invalid)?;
        Ok(file.piece.form)
    }

    /// Reads a case, in TOML or JSON, and checks it against a pack.
    ///
    /// # Errors
    /// [`Error::Invalid`] with every problem found (up to 50), each with line, column, the offending
    /// value and the remedy.
    pub fn load(text: Text<'_>, pack: &Pack) -> Result<Self, Error> {
        let file: CaseFile = parse(&text, &KIND).map_err(Error::Invalid)?;
        let mut problems = Problems::new(vec![text]);
        let mut loader = Loader {
            pack,
            problems: &mut problems,
        };
        loader.limits(&file);
        let case = if loader.problems.is_empty() {
            loader.case(file)
        } else {
            None
        };
        match case {
            Some(case) if problems.is_empty() => Ok(case),
            _ => Err(Error::Invalid(problems.finish())),
        }
    }
}

struct Loader<'a, 'text> {
    pack: &'a Pack,
    problems: &'a mut Problems<'text>,
}

impl Loader<'_, '_> {
    fn note(&mut self, at: &At, code: &'static str, message: impl Into<String>) {
        self.problems.note(at, code, message);
    }

    fn find<'i>(
        &mut self,
        at: &At,
        what: &str,
        id: &str,
        ids: impl Iterator<Item = &'i str> + Clone,
    ) -> Option<usize> {
        let place = ids.clone().position(|valid| valid == id);
        if place.is_none() {
            self.problems
                .unknown(at, "case/unknown-id", (what, id), ids);
        }
        place
    }

    /// Keeps the lists to what can be checked quickly.
    fn limits(&mut self, file: &CaseFile) {
        let root = At::root(0);
        if file.findings.len() + file.readings.len() > MAX_FINDINGS {
            let at = match file.findings.len() > MAX_FINDINGS {
                true => root.then("finding").then(MAX_FINDINGS),
                false => root
                    .then("reading")
                    .then(MAX_FINDINGS - file.findings.len()),
            };
            let message =
                format!("more than {MAX_FINDINGS} findings and readings, the most allowed");
            self.note(&at, "case/too-many", message);
        }
        if file.visits.len() > MAX_LISTED_VISITS {
            let at = root.then("visit").then(MAX_LISTED_VISITS);
            let message = format!("more than {MAX_LISTED_VISITS} visits, the most allowed");
            self.note(&at, "case/too-many", message);
        }
    }

    fn case(&mut self, file: CaseFile) -> Option<Case> {
        let pack = self.pack;
        let root = At::root(0);
        let at = root.then("piece");
        let piece = &file.piece;
        if piece.form != pack.id {
            let message = format!(
                "form `{}` needs its own pack, this one is `{}`",
                piece.form, pack.id
            );
            self.note(&at.then("form"), "case/form", message);
        }
        let variants = pack.variants.iter().map(|entry| entry.id.as_str());
        let variant = self.find(&at.then("variant"), "variant", &piece.variant, variants);
        let periods = pack.periods.iter().map(|entry| entry.id.as_str());
        let period = self.find(&at.then("period"), "period", &piece.period, periods);
        let regions = pack.regions.iter().map(|entry| entry.id.as_str());
        let region = self.find(&at.then("region"), "region", &piece.region, regions);
        if let Some(prices) = &piece.prices {
            for (field, price) in [
                ("as_claimed", prices.as_claimed),
                ("plainer", prices.plainer),
            ] {
                if !(PRICES.0..=PRICES.1).contains(&price) {
                    let at = at.then("prices").then(field);
                    let message = format!(
                        "price {} must be {} to {}",
                        figure(price),
                        figure(PRICES.0),
                        figure(PRICES.1)
                    );
                    self.note(&at, "case/number", message);
                }
            }
        }
        for (part, timber) in &piece.timber {
            self.timber(&at.then("timber").then(part.as_str()), part, timber);
        }
        let years = period.map(|period| self.years(&at, &file, period));
        let visits = self.visits(&root, &file);
        let findings = self.findings(&root, &file, (variant, &visits));
        let readings = self.readings(&root, &file, (variant, &visits));
        let used = findings
            .iter()
            .filter(|finding| matches!(finding.outcome, Outcome::Reported { .. }))
            .map(|finding| finding.visit)
            .chain(readings.iter().map(|reading| reading.visit));
        let used = set(used);
        if used.len() > MAX_VISITS {
            let message = format!(
                "{} visits have findings, at most {MAX_VISITS} are allowed",
                used.len()
            );
            let first_above = used.iter().nth(MAX_VISITS).copied().unwrap_or_default();
            self.note(
                &root.then("visit").then(first_above),
                "case/too-many",
                message,
            );
        }
        let mut known = Vec::new();
        for (id, happened) in &file.known {
            let incidents = pack.incidents.iter().map(|entry| entry.id.as_str());
            let at = root.then("known").then(id.as_str());
            known.extend(
                self.find(&at, "incident", id, incidents)
                    .map(|index| (index, *happened)),
            );
        }
        let prior = self.prior(&root, &file);
        let numbers = self.numbers(&root, &file);
        let stakes = self.stakes(&root, &file);
        let case = Case {
            variant: variant?,
            period: period?,
            region: region?,
            years: years?,
            visits,
            findings,
            readings,
            known,
            prior,
            numbers,
            stakes,
            file,
        };
        let at = if case.file.numbers.is_empty() {
            root.then("piece")
        } else {
            root.then("numbers")
        };
        self.odds(&at, &case);
        Some(case)
    }

    /// Refuses numbers and prices that leave no history any odds, or any beyond all bounds.
    fn odds(&mut self, at: &At, case: &Case) {
        let priors = crate::prior::history_priors(self.pack, case);
        if self.problems.is_empty() && priors.iter().any(|prior| !prior.is_finite()) {
            let message = format!(
                "the prior counts of `{}`, with their factors and the price gap, come to 0 for every \
                 history or to more than a number can hold; give at least one a count above 0 and \
                 keep factors and elasticities small",
                case.file.piece.variant
            );
            self.note(at, "case/number", message);
        }
    }

    fn years(&mut self, at: &At, file: &CaseFile, period: usize) -> (i32, i32) {
        let period = &self.pack.periods[period];
        let Some((from, to)) = file.piece.claimed_years else {
            return (period.from, period.to);
        };
        if from > to || from < period.from || to > period.to {
            let message = format!(
                "claimed years {from} to {to} must run forward and lie within the period `{}`, {} \
                 to {}",
                period.id, period.from, period.to
            );
            self.note(&at.then("claimed_years"), "case/years", message);
            return (period.from, period.to);
        }
        (from, to)
    }

    fn timber(&mut self, at: &At, part: &str, timber: &TimberFile) {
        let parts = self.pack.parts.iter().map(|entry| entry.id.as_str());
        self.find(at, "part", part, parts);
        if crate::wood::species(&timber.species).is_err() {
            let species = ("species", timber.species.as_str());
            let valid = crate::wood::SPECIES.iter().map(|species| species.id);
            self.problems
                .unknown(&at.then("species"), "case/unknown-id", species, valid);
        }
    }

    fn visits(&mut self, root: &At, file: &CaseFile) -> Vec<Visit> {
        let mut visits: Vec<Visit> = Vec::new();
        for (place, visit) in file.visits.iter().enumerate() {
            let at = root.then("visit").then(place);
            if visits.iter().any(|known| known.id == visit.id) {
                let message = format!("visit `{}` is listed twice; rename one", visit.id);
                self.note(&at.then("id"), "case/duplicate", message);
            }
            if let Some(poor) = visit.poor.filter(|poor| !(*poor > 0.0 && *poor < 1.0)) {
                let message = format!("poor {} must lie strictly between 0 and 1", figure(poor));
                self.note(&at.then("poor"), "case/number", message);
            }
            let error_factor = visit.error_factor.unwrap_or(1.0);
            if !(0.1..=2.0).contains(&error_factor) {
                let message = format!("error factor {} must be 0.1 to 2", figure(error_factor));
                self.note(&at.then("error_factor"), "case/number", message);
            }
            visits.push(Visit {
                id: visit.id.clone(),
                by: visit.by.clone(),
                date: visit.date.clone(),
                how: visit.how.clone(),
                poor: visit.poor,
                error_factor,
            });
        }
        if visits.is_empty() {
            visits.push(Visit {
                id: "visit".into(),
                by: None,
                date: None,
                how: None,
                poor: None,
                error_factor: 1.0,
            });
        }
        visits
    }

    fn visit(&mut self, at: &At, id: Option<&String>, visits: &[Visit]) -> Option<usize> {
        match id {
            Some(id) => {
                let ids = visits.iter().map(|visit| visit.id.as_str());
                self.find(&at.then("visit"), "visit", id, ids)
            }
            None if visits.len() == 1 => Some(0),
            None => {
                let ids: Vec<&str> = visits.iter().map(|visit| visit.id.as_str()).collect();
                let message = format!(
                    "there are several visits; add `visit`, one of {}",
                    ids.join(", ")
                );
                self.note(at, "case/visit", message);
                None
            }
        }
    }

    fn findings(
        &mut self,
        root: &At,
        file: &CaseFile,
        (variant, visits): (Option<usize>, &[Visit]),
    ) -> Vec<Finding> {
        let mut findings = Vec::new();
        let mut seen = BTreeSet::new();
        for (place, written) in file.findings.iter().enumerate() {
            let at = root.then("finding").then(place);
            let visit = self.visit(&at, written.visit.as_ref(), visits);
            let Some(finding) = self.finding(&at, written, visit) else {
                continue;
            };
            let sign = &self.pack.signs[finding.sign];
            if matches!(finding.outcome, Outcome::Reported { .. }) {
                let asked = ("is looked for only at", &*sign.id, sign.variants.as_ref());
                if self.concerns(&at.then("sign"), asked, variant) {
                    let only = self.pack.part_variants[finding.part].as_ref();
                    let part = (
                        "is a part only of",
                        &*self.pack.parts[finding.part].id,
                        only,
                    );
                    self.concerns(&at.then("part"), part, variant);
                }
            }
            if !seen.insert((finding.sign, finding.part, finding.visit, written.look)) {
                let message = format!(
                    "`{}` is reported twice in one visit; remove one, give them different visits, or \
                     number them with `look`",
                    written.sign
                );
                self.note(&at, "case/duplicate", message);
            }
            findings.push(finding);
        }
        findings
    }

    /// Whether a piece of this variant has such a thing; notes where it has not.
    fn concerns(
        &mut self,
        at: &At,
        (what, id, variants): (&str, &str, Option<&Vec<usize>>),
        variant: Option<usize>,
    ) -> bool {
        let (Some(variants), Some(variant)) = (variants, variant) else {
            return true;
        };
        if variants.contains(&variant) {
            return true;
        }
        let name = |variant: &usize| &*self.pack.variants[*variant].id;
        let only: Vec<&str> = variants.iter().map(name).collect();
        let message = format!(
            "`{id}` {what} {}, and this piece is offered as `{}`; leave it \
             out",
            only.join(", "),
            name(&variant)
        );
        self.note(at, "case/variant", message);
        false
    }

    fn finding(&mut self, at: &At, written: &FindingFile, visit: Option<usize>) -> Option<Finding> {
        let pack = self.pack;
        let signs = pack.signs.iter().map(|sign| sign.id.as_str());
        let index = self.find(&at.then("sign"), "sign", &written.sign, signs)?;
        let sign = &pack.signs[index];
        let names = || sign.parts.iter().map(|part| pack.parts[*part].id.as_str());
        let part = match (&written.part, sign.parts.as_slice()) {
            (None, [only]) => *only,
            (None, _) => {
                let parts: Vec<&str> = names().collect();
                let message = format!(
                    "`{}` can be at several parts; add `part`, one of {}",
                    sign.id,
                    parts.join(", ")
                );
                self.note(at, "case/part", message);
                return None;
            }
            (Some(part), parts) => {
                parts[self.find(&at.then("part"), "part of this sign", part, names())?]
            }
        };
        let outcome = match written.found.as_str() {
            "not-looked" => Outcome::NotLooked,
            "no-access" => Outcome::NoAccess,
            level => {
                let words = sign
                    .levels
                    .iter()
                    .map(String::as_str)
                    .chain(["not-looked", "no-access"]);
                let level = self.find(&at.then("found"), "outcome", level, words)?;
                Outcome::Reported {
                    level,
                    sure: written.sure,
                }
            }
        };
        Some(Finding {
            sign: index,
            part,
            outcome,
            visit: visit?,
            note: written.note.clone(),
        })
    }

    fn readings(
        &mut self,
        root: &At,
        file: &CaseFile,
        (variant, visits): (Option<usize>, &[Visit]),
    ) -> Vec<Reading> {
        let mut readings = Vec::new();
        let mut seen = BTreeSet::new();
        for (place, written) in file.readings.iter().enumerate() {
            let at = root.then("reading").then(place);
            let visit = self.visit(&at, written.visit.as_ref(), visits);
            let Some(reading) = self.reading(&at, written, visit) else {
                continue;
            };
            let measure = &self.pack.measures[reading.measure];
            let asked = (
                "is looked for only at",
                &*measure.id,
                measure.variants.as_ref(),
            );
            self.concerns(&at.then("measure"), asked, variant);
            if !seen.insert((reading.measure, reading.visit)) {
                let message = format!(
                    "`{}` is measured twice in one visit; write down the mean",
                    written.measure
                );
                self.note(&at, "case/duplicate", message);
            }
            readings.push(reading);
        }
        readings
    }

    fn reading(&mut self, at: &At, written: &ReadingFile, visit: Option<usize>) -> Option<Reading> {
        let pack = self.pack;
        let measures = pack.measures.iter().map(|measure| measure.id.as_str());
        let index = self.find(&at.then("measure"), "measure", &written.measure, measures)?;
        let measure = &pack.measures[index];
        if let Some(unit) = written.unit.as_ref().filter(|unit| **unit != measure.unit) {
            let message = format!(
                "unit `{unit}` must be `{}`, that of the measure",
                measure.unit
            );
            self.note(&at.then("unit"), "case/unit", message);
        }
        let mut plausible = |field: &str, value: f64| {
            let (low, high) = measure.plausible;
            if !(low..=high).contains(&value) {
                let message = format!(
                    "{} {} is outside {} to {}, what `{}` can be; a slip of the pen, or another \
                     unit?",
                    figure(value),
                    measure.unit,
                    figure(low),
                    figure(high),
                    measure.id
                );
                self.note(&at.then(field), "case/implausible", message);
            }
        };
        let value = match (
            written.value,
            written.less_than,
            written.more_than,
            written.between,
        ) {
            (Some(value), None, None, None) => {
                plausible("value", value);
                Value::Exactly(value)
            }
            (None, Some(high), None, None) => {
                plausible("less_than", high);
                Value::Between(None, Some(high))
            }
            (None, None, Some(low), None) => {
                plausible("more_than", low);
                Value::Between(Some(low), None)
            }
            (None, None, None, Some((low, high))) => {
                plausible("between", low);
                plausible("between", high);
                if low >= high {
                    let message = format!(
                        "between {} and {} must run upward",
                        figure(low),
                        figure(high)
                    );
                    self.note(&at.then("between"), "case/number", message);
                }
                Value::Between(Some(low), Some(high))
            }
            _ => {
                let given = [
                    ("`value`", written.value.is_some()),
                    ("`less_than`", written.less_than.is_some()),
                    ("`more_than`", written.more_than.is_some()),
                    ("`between`", written.between.is_some()),
                ];
                let given: Vec<&str> = given
                    .into_iter()
                    .filter_map(|(field, given)| given.then_some(field))
                    .collect();
                let message = format!(
                    "the reading of `{}` has {}; give exactly one of `value`, `less_than`, \
                     `more_than`, `between`",
                    measure.id,
                    match given.as_slice() {
                        [] => "no value".to_owned(),
                        given => given.join(" and "),
                    }
                );
                self.note(at, "case/reading", message);
                return None;
            }
        };
        let error = written.error.unwrap_or(measure.error);
        let most = measure.plausible.1 - measure.plausible.0;
        if !(0.0..=most).contains(&error) {
            let message = format!(
                "instrument error {} must be 0 to {} {}, the width of what `{}` can be",
                figure(error),
                figure(most),
                measure.unit,
                measure.id
            );
            self.note(&at.then("error"), "case/number", message);
        }
        Some(Reading {
            measure: index,
            value,
            error,
            visit: visit?,
            note: written.note.clone(),
        })
    }

    fn prior(&mut self, root: &At, file: &CaseFile) -> Option<Vec<f64>> {
        if file.prior.is_empty() {
            return None;
        }
        let at = root.then("prior");
        let mut prior = vec![0.0; self.pack.histories.len()];
        for (id, count) in &file.prior {
            let at = at.then(id.as_str());
            let histories = self.pack.histories.iter().map(|entry| entry.id.as_str());
            let index = self.find(&at, "history", id, histories);
            if !(count.is_finite() && (0.0..=1e9).contains(count)) {
                let message = format!("count {} must be 0 to 1,000,000,000", figure(*count));
                self.note(&at, "case/number", message);
            }
            if let Some(index) = index {
                prior[index] = *count;
            }
        }
        if file.prior.values().all(|count| *count == 0.0) {
            let message = "the counts are all 0; at least one history needs a count above 0";
            self.note(&at, "case/number", message);
        }
        Some(prior)
    }

    fn stakes(&mut self, root: &At, file: &CaseFile) -> Option<Stakes> {
        let written = file.stakes.as_ref()?;
        let at = root.then("stakes");
        for id in written.check_cost.keys() {
            let checks = self.pack.checks.iter().map(|check| check.id.as_str());
            self.find(
                &at.then("check_cost").then(id.as_str()),
                "check",
                id,
                checks,
            );
        }
        match Stakes::new(written) {
            Ok(stakes) => Some(stakes),
            Err(problems) => {
                for problem in problems {
                    let path = problem.path.iter();
                    let at = path.fold(at.clone(), |at, key| at.then(key.as_str()));
                    self.note(&at, problem.code, problem.message);
                }
                None
            }
        }
    }

    fn numbers(&mut self, root: &At, file: &CaseFile) -> Vec<f64> {
        let mut numbers = self.pack.means();
        let places: BTreeMap<&str, usize> = if file.numbers.is_empty() {
            BTreeMap::new()
        } else {
            let ids = self.pack.numbers.iter().map(|number| number.id.as_str());
            map(ids.enumerate().map(|(place, id)| (id, place)))
        };
        for (id, value) in &file.numbers {
            let at = root.then("numbers").then(id.as_str());
            let Some(&index) = places.get(id.as_str()) else {
                self.problems.unknown(
                    &at,
                    "case/unknown-id",
                    ("number", id),
                    places.keys().copied(),
                );
                continue;
            };
            let number = &self.pack.numbers[index];
            if number.structural {
                let message = format!(
                    "`{id}` is {} by the nature of the thing and cannot be changed; leave it out",
                    number.mean
                );
                self.note(&at, "case/number", message);
            } else if let Some(message) = number.domain.refusal(*value, false) {
                // A case has no say in what is structural.
                let message = message.split(';').next().unwrap_or_default();
                self.note(&at, "case/number", message);
            } else {
                numbers[index] = *value;
            }
        }
        numbers
    }
}
