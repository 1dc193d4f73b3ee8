//! From written pack and library to checked pack: composing, resolving ids, checking every number.

use super::file::{
    BySelector, Chance, CheckFile, Defaults, ExaminationFile, IncidentFile, LIBRARY_SCHEMA,
    LibraryFile, MeasureFile, Number, OriginFile, PACK_SCHEMA, PackFile, ReliabilityFile, SignFile,
    StatedNumber,
};
use super::limits;
use super::number::{Domain, ElicitedNumber, NumberId};
use super::{
    Check, DateGrid, Examination, Expectation, Group, History, Incident, Measure, Origin, Pack,
    Prior, PriorFactor, Reliability, Shows, Sign, VERDICTS,
};
use crate::density::{Density, DensityError};
use crate::error::Error;
use crate::text::{At, Kind, Problems, Text, figure, nearest, parse};
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

const PACK: usize = 0;
const LIBRARY: usize = 1;

/// How far chances of a row may miss a sum of one.
const ROW_TOLERANCE: f64 = 1e-6;

const UNITS: [&str; 9] = [
    "mm", "mm-per-m", "steps", "ratio", "degrees", "count", "years", "kg", "percent",
];

/// The years that curves and dates may speak of.
const YEARS: (i32, i32) = (1000, 2200);

/// Bounds that keep time and memory bounded on hostile input, generous for honest packs.
const MAX_BINS: usize = 400;
const MAX_LEVELS: usize = 9;
const MAX_PARENTS: usize = 8;
const MAX_POINTS: usize = 200;
/// How often one library entry may be taken into a pack.
const MAX_DRAWN: usize = 20;

/// What the texts should be.
const PACK_KIND: Kind = Kind {
    schema: PACK_SCHEMA,
    schema_code: "pack/schema",
    syntax_code: "pack/syntax",
};
const LIBRARY_KIND: Kind = Kind {
    schema: LIBRARY_SCHEMA,
    schema_code: "library/schema",
    syntax_code: "library/syntax",
};

impl Pack {
    /// Reads a pack and composes it with the shared library.
    ///
    /// # Errors
    /// [`Error::Invalid`] with every problem found (up to 50), each with file, line, column, the
    /// offending value and the remedy.
    pub fn load(pack: Text<'_>, library: Text<'_>) -> Result<Self, Error> {
        let library_file: LibraryFile = parse(&library, &LIBRARY_KIND).map_err(Error::Invalid)?;
        let pack_file: PackFile = parse(&pack, &PACK_KIND).map_err(Error::Invalid)?;
        let mut hash = Sha256::new();
        hash.update(pack.content.as_bytes());
        hash.update([0]);
        hash.update(library.content.as_bytes());
        let digest = hash
            .finalize()
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect();
        let mut loader = Loader {
            problems: Problems::new(vec![pack, library]),
            numbers: Vec::new(),
            number_ids: BTreeMap::new(),
            sources: BTreeMap::new(),
            selectors: Vec::new(),
            valid_selectors: BTreeSet::new(),
            astray: Vec::new(),
        };
        limits::check(
            &mut loader.problems,
            (&At::root(PACK), &pack_file),
            (&At::root(LIBRARY), &library_file),
        );
        if !loader.problems.is_empty() {
            return Err(Error::Invalid(loader.problems.finish()));
        }
        let loaded = loader.load(pack_file, library_file, digest);
        if loader.problems.is_empty() {
            Ok(loaded)
        } else {
            Err(Error::Invalid(loader.problems.finish()))
        }
    }
}

struct Loader<'a> {
    problems: Problems<'a>,
    numbers: Vec<ElicitedNumber>,
    number_ids: BTreeMap<String, NumberId>,
    sources: BTreeMap<String, usize>,
    /// For each history the selectors that fit it, most specific first.
    selectors: Vec<[String; 4]>,
    /// All of them, with those verdicts that no history has.
    valid_selectors: BTreeSet<String>,
    /// Where a selector is unknown: what is then missing there is most likely what it should say.
    astray: Vec<At>,
}

/// Ids of a list, with their places.
struct Index {
    what: &'static str,
    places: BTreeMap<String, usize>,
}

impl Index {
    fn get(&self, id: &str, at: &At, problems: &mut Problems<'_>) -> Option<usize> {
        let place = self.places.get(id).copied();
        if place.is_none() {
            let valid = self.places.keys().map(String::as_str);
            problems.unknown(at, "pack/unknown-id", (self.what, id), valid);
        }
        place
    }
}

impl Loader<'_> {
    fn note(&mut self, at: &At, code: &'static str, message: impl Into<String>) {
        self.problems.note(at, code, message);
    }

    fn index<'i>(
        &mut self,
        what: &'static str,
        at: &At,
        ids: impl Iterator<Item = &'i str>,
    ) -> Index {
        let mut places = BTreeMap::new();
        for (place, id) in ids.enumerate() {
            let here = at.then(place).then("id");
            self.id(&here, what, id);
            if places.contains_key(id) {
                let message = format!("{what} `{id}` is defined twice; rename or remove one");
                self.note(&here, "pack/duplicate-id", message);
            } else {
                places.insert(id.to_owned(), place);
            }
        }
        Index { what, places }
    }

    fn id(&mut self, at: &At, what: &str, id: &str) {
        limits::check_id(&mut self.problems, at, &format!("{what} id"), id);
    }

    fn load(&mut self, mut file: PackFile, mut library: LibraryFile, digest: String) -> Pack {
        let root = At::root(PACK);
        let library_root = At::root(LIBRARY);
        self.schema(&root, &file.schema, &PACK_KIND);
        self.schema(&library_root, &library.schema, &LIBRARY_KIND);
        self.id(&root.then("id"), "form", &file.id);

        let (sources, _) = join(
            &mut self.problems,
            (&root, std::mem::take(&mut file.sources), |entry| &entry.id),
            (&library_root, std::mem::take(&mut library.sources)),
            "source",
        );
        for (index, source) in sources.iter().enumerate() {
            self.sources.insert(source.id.clone(), index);
        }
        for (at, defaults) in [(&root, &file.defaults), (&library_root, &library.defaults)] {
            let at = at.then("defaults");
            self.strength(&at.then("strength"), defaults.strength);
            self.source(&at.then("source"), &defaults.source);
        }
        stamp_all(&mut file, &mut library);
        let (curves, curve_places) = join(
            &mut self.problems,
            (&root, std::mem::take(&mut file.curves), |entry| &entry.id),
            (&library_root, std::mem::take(&mut library.curves)),
            "curve",
        );
        let (cautions, _) = join(
            &mut self.problems,
            (&root, std::mem::take(&mut file.cautions), |entry| &entry.id),
            (&library_root, std::mem::take(&mut library.cautions)),
            "caution",
        );
        for (curve, at) in curves.iter().zip(&curve_places) {
            self.curve(at, curve);
        }
        let curve_index = Index {
            what: "curve",
            places: curves
                .iter()
                .enumerate()
                .map(|(i, c)| (c.id.clone(), i))
                .collect(),
        };
        let caution_index = Index {
            what: "caution",
            places: cautions
                .iter()
                .enumerate()
                .map(|(i, c)| (c.id.clone(), i))
                .collect(),
        };

        let dates = self.dates(&root.then("dates"), &file);
        let examination = self.examination(&root, &library_root, &file, &library);
        let ids = |at: &str| root.then(at);
        let variant_index = self.index(
            "variant",
            &ids("variant"),
            file.variants.iter().map(|v| v.id.as_str()),
        );
        let period_index = self.index(
            "period",
            &ids("period"),
            file.periods.iter().map(|v| v.id.as_str()),
        );
        let region_index = self.index(
            "region",
            &ids("region"),
            file.regions.iter().map(|v| v.id.as_str()),
        );
        let part_index = self.index(
            "part",
            &ids("part"),
            file.parts.iter().map(|v| v.id.as_str()),
        );
        let later_index = self.index(
            "later_work",
            &ids("later_work"),
            file.later_work.iter().map(|v| v.id.as_str()),
        );
        let history_index = self.index(
            "history",
            &ids("history"),
            file.histories.iter().map(|v| v.id.as_str()),
        );
        let group_index = self.index(
            "group",
            &ids("group"),
            file.groups.iter().map(|v| v.id.as_str()),
        );
        self.bounds(&root, &file);
        self.claims(&root, &file, &dates);
        self.later_work(&root, &file);
        self.selectors(&root, &file);

        let mut companions = vec![None; file.parts.len()];
        let histories = self.histories(
            &root,
            (&file, &dates),
            &part_index,
            &later_index,
            &mut companions,
        );
        self.companion_cycles(&root, &file, &companions);
        let priors = self.priors(&root, &file, &variant_index, &history_index);
        let prior_factors =
            self.prior_factors(&root, &file, &variant_index, &period_index, &region_index);
        let groups = self.groups(&root, &file);

        let (checks, check_index) =
            self.checks(&root, &library_root, &file, &library, &caution_index);
        let (incidents, incident_index) = self.incidents(&root, &library_root, &file, &library);
        let context = Context {
            dated: file.parts.iter().map(|part| part.dated).collect(),
            parts: &part_index,
            checks: &check_index,
            groups: &group_index,
            incidents: &incident_index,
            curves: &curve_index,
        };
        let signs = self.signs(&root, &library_root, &file, &library, &context);
        let measures = self.measures(&root, &file, &context);

        let mut pack = Pack {
            id: file.id,
            name: file.name,
            version: file.version,
            library_version: library.version,
            digest,
            summary: file.summary,
            dates,
            examination,
            variants: file.variants,
            periods: file.periods,
            regions: file.regions,
            parts: file.parts,
            later_work: file.later_work,
            histories,
            priors,
            prior_factors,
            groups,
            checks,
            cautions,
            incidents,
            signs,
            measures,
            curves,
            sources,
            numbers: std::mem::take(&mut self.numbers),
            companions,
        };
        keep_used_checks(&mut pack);
        pack
    }

    fn schema(&mut self, at: &At, given: &str, kind: &Kind) {
        if given != kind.schema {
            self.note(&at.then("schema"), kind.schema_code, kind.refusal(given));
        }
    }

    fn strength(&mut self, at: &At, strength: f64) {
        if !(strength > 0.0 && strength <= 1e6) {
            let message = format!(
                "strength {} must be a number of pieces above 0 and at most 1,000,000",
                figure(strength)
            );
            self.note(at, "pack/strength", message);
        }
    }

    fn source(&mut self, at: &At, id: &str) -> usize {
        match self.sources.get(id) {
            Some(index) => *index,
            None => {
                let valid = self.sources.keys().map(String::as_str);
                self.problems
                    .unknown(at, "pack/unknown-id", ("source", id), valid);
                0
            }
        }
    }

    /// Checks the strength and source of what stands at a place, noting what is wrong where it was
    /// written: there, at its entry or in the defaults.
    fn provenance(&mut self, at: &At, strength: Option<f64>, source: Option<&str>) -> (f64, usize) {
        let strength = strength.unwrap_or(1.0);
        if !(strength > 0.0 && strength <= 1e6) && !self.problems.full() {
            let at = self.problems.provenance(at, "strength");
            self.strength(&at, strength);
        }
        let source = source.unwrap_or_default();
        let index = match self.sources.get(source) {
            Some(index) => *index,
            None if self.problems.full() => 0,
            None => {
                let at = self.problems.provenance(at, "source");
                self.source(&at, source)
            }
        };
        (strength, index)
    }

    /// Registers a number; a number met again under the same id is the same number.
    fn number(&mut self, at: &At, id: String, number: &Number, domain: Domain) -> NumberId {
        if let Some(known) = self.number_ids.get(&id) {
            return *known;
        }
        let plain;
        let stated = match number {
            Number::Stated(stated) => stated,
            Number::Plain(mean) => {
                plain = StatedNumber {
                    mean: *mean,
                    strength: None,
                    source: None,
                    structural: false,
                };
                &plain
            }
        };
        let mean_at = match number {
            Number::Stated(_) => at.then("mean").or(at.clone()),
            Number::Plain(_) => at.clone(),
        };
        if let Some(message) = domain.refusal(stated.mean, stated.structural) {
            self.note(&mean_at, "pack/number", message);
        }
        let (strength, source) = self.provenance(at, stated.strength, stated.source.as_deref());
        let number = ElicitedNumber {
            id: id.clone(),
            mean: stated.mean,
            strength,
            source,
            structural: stated.structural,
            domain,
        };
        let place = NumberId(self.numbers.len() as u32);
        self.numbers.push(number);
        self.number_ids.insert(id, place);
        place
    }

    /// A row of chances, one for each level; a single chance stands for `[1 - p, p]`.
    fn row(
        &mut self,
        at: &At,
        id: &str,
        chance: &Chance,
        levels: usize,
        of: &SignFile,
    ) -> Vec<NumberId> {
        match chance {
            Chance::Number(number) => {
                if levels != 2 {
                    let message = format!(
                        "a single chance for a sign of {levels} levels; give a row of {levels} \
                         chances, one for each level"
                    );
                    self.note(at, "pack/row", message);
                }
                vec![self.number(at, id.to_owned(), number, Domain::Chance)]
            }
            Chance::Row(row) => {
                let sum: f64 = row.iter().sum();
                if levels == 2 {
                    let message = format!(
                        "a row of {} chances for a yes/no sign, which takes a single chance",
                        row.len()
                    );
                    self.note(at, "pack/row", message);
                    return Vec::new();
                }
                if row.len() != levels {
                    let message = format!(
                        "the row has {} chances, {levels} are needed, one for each level",
                        row.len()
                    );
                    self.note(at, "pack/row", message);
                    return Vec::new();
                }
                if (sum - 1.0).abs() > ROW_TOLERANCE {
                    let message = format!("the row sums to {}, must sum to 1", figure(sum));
                    self.note(at, "pack/row-sum", message);
                }
                let mut numbers = Vec::new();
                for (level, chance) in row.iter().enumerate() {
                    let at = at.then(level);
                    if !Domain::Chance.allows(*chance, false) {
                        let message = format!(
                            "{} must lie strictly between 0 and 1, as every chance of a row",
                            figure(*chance)
                        );
                        self.note(&at, "pack/number", message);
                        continue;
                    }
                    let number = stated(*chance, of.strength, of.source.as_ref());
                    numbers.push(self.number(
                        &at,
                        format!("{id}/{level}"),
                        &number,
                        Domain::Chance,
                    ));
                }
                numbers
            }
        }
    }

    fn check_selectors<T>(&mut self, at: &At, map: &BySelector<T>) {
        for selector in map.keys() {
            if self.valid_selectors.contains(selector) || self.problems.full() {
                continue;
            }
            self.astray.push(at.clone());
            let at = at.then(selector.as_str());
            let valid = self.valid_selectors.iter().map(String::as_str);
            self.problems
                .unknown(&at, "pack/unknown-id", ("selector", selector), valid);
        }
    }

    fn bounds(&mut self, root: &At, file: &PackFile) {
        let needed = [
            ("variant", file.variants.len()),
            ("period", file.periods.len()),
            ("region", file.regions.len()),
            ("part", file.parts.len()),
            ("history", file.histories.len()),
        ];
        for (what, count) in needed {
            if count == 0 {
                self.note(
                    root,
                    "pack/missing",
                    format!("the pack has no [[{what}]]; give at least one"),
                );
            }
        }
    }

    fn dates(&mut self, at: &At, file: &PackFile) -> DateGrid {
        let dates = &file.dates;
        let (from, to, step) = (
            i64::from(dates.from),
            i64::from(dates.to),
            i64::from(dates.step),
        );
        let bins = if step > 0 { (to - from) / step } else { 0 };
        let whole = step > 0 && (to - from) % step == 0;
        let (first, last) = (i64::from(YEARS.0), i64::from(YEARS.1));
        let sane = from >= first && to <= last && (1..=MAX_BINS as i64).contains(&bins) && whole;
        if !sane {
            let message = format!(
                "dates from {from} to {to} by {step} must be 1 to {MAX_BINS} whole steps between \
                 the years {first} and {last}"
            );
            self.note(at, "pack/dates", message);
        }
        if !(dates.shoulder >= 0.0 && dates.shoulder <= 200.0) {
            let message = format!("shoulder {} must be 0 to 200 years", figure(dates.shoulder));
            self.note(&at.then("shoulder"), "pack/dates", message);
        }
        if sane {
            DateGrid {
                from: dates.from,
                to: dates.to,
                step: dates.step,
                shoulder: dates.shoulder,
            }
        } else {
            DateGrid {
                from: YEARS.0,
                to: YEARS.1,
                step: 10,
                shoulder: 15.0,
            }
        }
    }

    fn examination(
        &mut self,
        root: &At,
        library_root: &At,
        file: &PackFile,
        library: &LibraryFile,
    ) -> Examination {
        let (given, at) = match (&file.examination, &library.examination) {
            (Some(given), _) => (given.clone(), root.then("examination")),
            (None, Some(given)) => (given.clone(), library_root.then("examination")),
            (None, None) => {
                let message = "neither pack nor library has an [examination]; give one";
                self.note(library_root, "pack/missing", message);
                let number = Number::Plain(0.5);
                let given = ExaminationFile {
                    poor: number.clone(),
                    poor_factor: number,
                    poor_instrument: 1.0,
                    sure: 1.0,
                    fairly_sure: 1.0,
                    doubtful: 1.0,
                };
                (given, library_root.clone())
            }
        };
        let poor = self.number(
            &at.then("poor"),
            "examination/poor".into(),
            &given.poor,
            Domain::Chance,
        );
        let poor_factor = self.number(
            &at.then("poor_factor"),
            "examination/poor-factor".into(),
            &given.poor_factor,
            Domain::Share,
        );
        if !(1.0..=100.0).contains(&given.poor_instrument) {
            let message = format!(
                "poor_instrument {} must be 1 to 100",
                figure(given.poor_instrument)
            );
            self.note(&at.then("poor_instrument"), "pack/number", message);
        }
        let weights = [given.sure, given.fairly_sure, given.doubtful];
        for (field, weight) in ["sure", "fairly_sure", "doubtful"].into_iter().zip(weights) {
            if !(0.0..=1.0).contains(&weight) {
                let message = format!("{field} {} must lie between 0 and 1", figure(weight));
                self.note(&at.then(field), "pack/number", message);
            }
        }
        Examination {
            poor,
            poor_factor,
            poor_instrument: given.poor_instrument,
            sureness: weights,
        }
    }

    fn curve(&mut self, at: &At, curve: &super::file::CurveFile) {
        self.points(&at.then("points"), &curve.points);
        for (place, (_, share)) in curve.points.iter().enumerate() {
            if !(*share > 0.0 && *share < 1.0) {
                let message = format!(
                    "share {} must lie strictly between 0 and 1; use `not_before` for a true 0",
                    figure(*share)
                );
                self.note(&at.then("points").then(place), "pack/curve", message);
            }
        }
        self.provenance(at, curve.strength, curve.source.as_deref());
    }

    /// Checks the number of points and their years.
    fn points(&mut self, at: &At, points: &[(i32, f64)]) {
        if points.is_empty() || points.len() > MAX_POINTS {
            let message = format!("has {} points; give 1 to {MAX_POINTS}", points.len());
            self.note(at, "pack/curve", message);
        }
        for (place, (year, _)) in points.iter().enumerate() {
            if !(YEARS.0..=YEARS.1).contains(year) {
                let message = format!("year {year} must be {} to {}", YEARS.0, YEARS.1);
                self.note(&at.then(place), "pack/curve", message);
            }
            if place > 0 && points[place - 1].0 >= *year {
                let message = format!(
                    "year {year} must come after {}, the one before it",
                    points[place - 1].0
                );
                self.note(&at.then(place), "pack/curve", message);
            }
        }
    }

    fn claims(&mut self, root: &At, file: &PackFile, dates: &DateGrid) {
        for (place, variant) in file.variants.iter().enumerate() {
            if !(variant.price_ratio >= 0.01 && variant.price_ratio <= 1000.0) {
                let message = format!(
                    "price ratio {} must be 0.01 to 1000",
                    figure(variant.price_ratio)
                );
                let at = root.then("variant").then(place).then("price_ratio");
                self.note(&at, "pack/number", message);
            }
        }
        for (place, period) in file.periods.iter().enumerate() {
            if period.from > period.to || period.from < dates.from || period.to >= dates.to {
                let message = format!(
                    "period {} to {} must run forward and lie within the dates {} to {}",
                    period.from, period.to, dates.from, dates.to
                );
                let late = period.from <= period.to && period.from >= dates.from;
                let at = root.then("period").then(place);
                let field = if late { "to" } else { "from" };
                self.note(&at.then(field), "pack/dates", message);
            }
        }
    }

    fn later_work(&mut self, root: &At, file: &PackFile) {
        for (place, later) in file.later_work.iter().enumerate() {
            let at = root.then("later_work").then(place);
            self.provenance(&at, later.strength, later.source.as_deref());
            let at = at.then("points");
            self.points(&at, &later.points);
            for (place, (_, weight)) in later.points.iter().enumerate() {
                if !(*weight >= 0.0 && *weight <= 1e6) {
                    let message = format!("weight {} must be 0 to 1,000,000", figure(*weight));
                    self.note(&at.then(place), "pack/curve", message);
                }
            }
            let nothing = later.points.iter().all(|(_, weight)| *weight == 0.0);
            if later.points.len() == 1 || (nothing && !later.points.is_empty()) {
                let message = format!(
                    "later work `{}` needs two points or more, not all of weight 0",
                    later.id
                );
                self.note(&at, "pack/curve", message);
            }
        }
    }

    fn selectors(&mut self, root: &At, file: &PackFile) {
        for (place, history) in file.histories.iter().enumerate() {
            let at = root.then("history").then(place);
            let kinds = file
                .histories
                .iter()
                .any(|other| other.kind == history.id && other.id != history.id);
            let verdict = VERDICTS.iter().any(|verdict| verdict.id() == history.id);
            if verdict || kinds || history.id == "any" {
                let message = format!(
                    "history id `{}` is also a verdict, a kind or `any`; give it a name that \
                     selects nothing else",
                    history.id
                );
                self.note(&at.then("id"), "pack/bad-id", message);
            }
            let verdict = VERDICTS.iter().find(|verdict| verdict.id() == history.kind);
            if verdict.is_some_and(|verdict| *verdict != history.verdict) || history.kind == "any" {
                let message = format!(
                    "kind `{}` selects other histories too; choose a word that is no verdict and \
                     not `any`",
                    history.kind
                );
                self.note(&at.then("kind"), "pack/bad-id", message);
            } else {
                limits::check_id(&mut self.problems, &at.then("kind"), "kind", &history.kind);
            }
            self.selectors.push([
                history.id.clone(),
                history.kind.clone(),
                history.verdict.id().to_owned(),
                "any".to_owned(),
            ]);
        }
        self.valid_selectors = self.selectors.iter().flatten().cloned().collect();
        let verdicts = VERDICTS.iter().map(|verdict| verdict.id().to_owned());
        self.valid_selectors.extend(verdicts);
    }

    fn histories(
        &mut self,
        root: &At,
        (file, dates): (&PackFile, &DateGrid),
        parts: &Index,
        later: &Index,
        companions: &mut [Option<usize>],
    ) -> Vec<History> {
        let mut histories = Vec::new();
        for (place, history) in file.histories.iter().enumerate() {
            let at = root.then("history").then(place);
            let elasticity = history.elasticity.as_ref().map(|number| {
                let id = format!("history/{}/elasticity", history.id);
                self.number(&at.then("elasticity"), id, number, Domain::NotNegative)
            });
            let mut origins = vec![None; file.parts.len()];
            let mut given = BTreeSet::new();
            for (part, origin) in &history.origin {
                let at = at.then("origin").then(part.as_str());
                let Some(index) = parts.get(part, &at, &mut self.problems) else {
                    // Whichever part was meant, it is said where the trouble is.
                    given.extend(0..file.parts.len());
                    continue;
                };
                given.insert(index);
                if !file.parts[index].dated {
                    let message = format!(
                        "part `{part}` has no date of its own; mark it `dated = true`, or leave its \
                         origin out"
                    );
                    self.note(&at, "pack/origin", message);
                }
                origins[index] =
                    self.origin(&at, origin, index, (file, dates), parts, later, companions);
            }
            for (index, part) in file.parts.iter().enumerate() {
                if part.dated && !given.contains(&index) {
                    let message = format!(
                        "history `{}` gives no origin for the dated part `{}`; give one",
                        history.id, part.id
                    );
                    self.note(&at.then("origin"), "pack/origin", message);
                }
            }
            histories.push(History {
                id: history.id.clone(),
                verdict: history.verdict,
                kind: history.kind.clone(),
                name: history.name.clone(),
                story: history.story.clone(),
                elasticity,
                origins,
            });
        }
        histories
    }

    #[allow(clippy::too_many_arguments)]
    fn origin(
        &mut self,
        at: &At,
        origin: &OriginFile,
        part: usize,
        (file, dates): (&PackFile, &DateGrid),
        parts: &Index,
        later: &Index,
        companions: &mut [Option<usize>],
    ) -> Option<Origin> {
        match origin {
            OriginFile::Claim => Some(Origin::Claim),
            OriginFile::Between(from, to) => {
                if from > to || *to < dates.from || *from >= dates.to {
                    let message = format!(
                        "between {from} and {to} must run forward and meet the dates {} to {}",
                        dates.from, dates.to
                    );
                    self.note(at, "pack/dates", message);
                }
                Some(Origin::Between(*from, *to))
            }
            OriginFile::Older(years) => {
                if !(1..=500).contains(years) {
                    let message = format!("older {years} must be 1 to 500 years");
                    self.note(at, "pack/dates", message);
                }
                if let Some(period) = file.periods.iter().find(|p| p.from <= dates.from) {
                    let message = format!(
                        "the dates begin in {}, leaving nothing older than the period `{}`, which \
                         begins in {}; begin the dates earlier",
                        dates.from, period.id, period.from
                    );
                    self.note(at, "pack/dates", message);
                }
                Some(Origin::Older(*years))
            }
            OriginFile::After(id) => {
                let index = later.get(id, at, &mut self.problems)?;
                let last = file.later_work[index].points.last()?.0;
                if let Some(period) = file
                    .periods
                    .iter()
                    .find(|period| period.to >= last.saturating_sub(1))
                {
                    let message = format!(
                        "later work `{id}` ends in {last}, leaving nothing after the period `{}`, \
                         which ends in {}; add a later point",
                        period.id, period.to
                    );
                    self.note(at, "pack/dates", message);
                }
                Some(Origin::After(index))
            }
            OriginFile::Shares(id) => {
                let other = parts.get(id, at, &mut self.problems)?;
                if other == part || !file.parts[other].dated {
                    let message = format!(
                        "a part cannot share the date of `{id}`, which {}; name another dated part",
                        if other == part {
                            "is the part itself"
                        } else {
                            "has none"
                        }
                    );
                    self.note(at, "pack/origin", message);
                    return None;
                }
                match companions[part] {
                    Some(known) if known != other => {
                        let message = format!(
                            "the part shares the date of `{id}` here and of `{}` in another history; \
                             let it share with one only",
                            file.parts[known].id
                        );
                        self.note(at, "pack/origin", message);
                    }
                    _ => companions[part] = Some(other),
                }
                Some(Origin::Shares(other))
            }
        }
    }

    fn companion_cycles(&mut self, root: &At, file: &PackFile, companions: &[Option<usize>]) {
        for start in 0..companions.len() {
            let mut at = start;
            for _ in 0..=companions.len() {
                match companions[at] {
                    Some(next) if next == start => {
                        let message = format!(
                            "part `{}` shares its date in a circle; let one part be the root",
                            file.parts[start].id
                        );
                        self.note(&root.then("part").then(start), "pack/origin", message);
                        return;
                    }
                    Some(next) => at = next,
                    None => break,
                }
            }
        }
    }

    fn priors(
        &mut self,
        root: &At,
        file: &PackFile,
        variants: &Index,
        histories: &Index,
    ) -> Vec<Prior> {
        let mut priors: Vec<Option<Prior>> = vec![None; file.variants.len()];
        let mut resolved = true;
        for (place, prior) in file.priors.iter().enumerate() {
            let at = root.then("prior").then(place);
            let variant = variants.get(&prior.variant, &at.then("variant"), &mut self.problems);
            let mut known = true;
            for id in prior.counts.keys() {
                let at = at.then("counts").then(id.as_str());
                known &= histories.get(id, &at, &mut self.problems).is_some();
            }
            let sum: f64 = prior.counts.values().sum();
            if (sum - 1000.0).abs() > 1e-6 {
                let message = format!("counts sum to {}, must sum to 1000", figure(sum));
                self.note(&at.then("counts"), "pack/row-sum", message);
            }
            let mut counts = Vec::new();
            for history in &file.histories {
                let count = prior.counts.get(&history.id).copied();
                if count.is_none() && known {
                    let message = format!(
                        "the prior of `{}` has no count for history `{}`; write 0 if it cannot be",
                        prior.variant, history.id
                    );
                    self.note(&at.then("counts"), "pack/missing", message);
                }
                let number = stated(count.unwrap_or(0.0), prior.strength, prior.source.as_ref());
                let id = format!("prior/{}/{}", prior.variant, history.id);
                let at = at.then("counts").then(history.id.as_str());
                counts.push(self.number(&at, id, &number, Domain::NotNegative));
            }
            let Some(variant) = variant else {
                resolved = false;
                continue;
            };
            if priors[variant].is_some() {
                let message = format!("variant `{}` has two priors; remove one", prior.variant);
                self.note(&at.then("variant"), "pack/duplicate-id", message);
                resolved = false;
            }
            priors[variant] = Some(Prior {
                counts,
                reason: prior.reason.clone(),
            });
        }
        for (place, prior) in priors.iter().enumerate() {
            if prior.is_none() && resolved {
                let message = format!(
                    "variant `{}` has no [[prior]]; give one",
                    file.variants[place].id
                );
                self.note(&root.then("variant").then(place), "pack/missing", message);
            }
        }
        priors.into_iter().flatten().collect()
    }

    fn prior_factors(
        &mut self,
        root: &At,
        file: &PackFile,
        variants: &Index,
        periods: &Index,
        regions: &Index,
    ) -> Vec<PriorFactor> {
        let list = root.then("prior_factor");
        self.index(
            "prior_factor",
            &list,
            file.prior_factors.iter().map(|f| f.id.as_str()),
        );
        let mut factors = Vec::new();
        for (place, factor) in file.prior_factors.iter().enumerate() {
            let at = list.then(place);
            self.check_selectors(&at.then("factor"), &factor.factor);
            let mut only = |field: &str, ids: &Option<Vec<String>>, index: &Index| {
                ids.as_ref().map(|ids| {
                    ids.iter()
                        .enumerate()
                        .filter_map(|(i, id)| {
                            index.get(id, &at.then(field).then(i), &mut self.problems)
                        })
                        .collect()
                })
            };
            let variants = only("variants", &factor.variants, variants);
            let periods = only("periods", &factor.periods, periods);
            let regions = only("regions", &factor.regions, regions);
            let mut multipliers = Vec::new();
            for history in 0..file.histories.len() {
                let found = select(&self.selectors[history], &factor.factor);
                multipliers.push(found.map(|(selector, value)| {
                    let id = format!("prior-factor/{}/{selector}", factor.id);
                    let number = stated(*value, factor.strength, factor.source.as_ref());
                    let at = at.then("factor").then(selector);
                    self.number(&at, id, &number, Domain::NotNegative)
                }));
            }
            factors.push(PriorFactor {
                id: factor.id.clone(),
                variants,
                periods,
                regions,
                factors: multipliers,
                reason: factor.reason.clone(),
            });
        }
        factors
    }

    fn groups(&mut self, root: &At, file: &PackFile) -> Vec<Group> {
        let mut groups = Vec::new();
        for (place, group) in file.groups.iter().enumerate() {
            let at = root.then("group").then(place).then("coupling");
            let id = format!("group/{}/coupling", group.id);
            groups.push(Group {
                id: group.id.clone(),
                name: group.name.clone(),
                coupling: self.number(&at, id, &group.coupling, Domain::Share),
                reason: group.reason.clone(),
            });
        }
        groups
    }

    fn checks(
        &mut self,
        root: &At,
        library_root: &At,
        file: &PackFile,
        library: &LibraryFile,
        cautions: &Index,
    ) -> (Vec<Check>, Index) {
        let base = self.base("check", library_root, &library.checks, |c| c.id.as_deref());
        self.drawn(root, "check", file.checks.iter().map(|c| c.from.as_deref()));
        let mut composed: Vec<(CheckFile, At)> = Vec::new();
        for (place, check) in file.checks.iter().enumerate() {
            let at = root.then("check").then(place);
            let from = self.base_of(&at, check.from.as_deref(), &base, "check");
            let merged = match from {
                Some(index) => merge_check(&library.checks[index], check),
                None => check.clone(),
            };
            composed.push((merged, fall_back(at, library_root, "check", from)));
        }
        let own: BTreeSet<Option<String>> =
            composed.iter().map(|(check, _)| check.id.clone()).collect();
        for (place, check) in library.checks.iter().enumerate() {
            if !own.contains(&check.id) {
                composed.push((check.clone(), library_root.then("check").then(place)));
            }
        }
        let mut checks = Vec::new();
        for (check, at) in &composed {
            let entry = Entry::new("check", check.id.as_deref(), at);
            let minutes = self.need(&entry, "minutes", check.minutes).unwrap_or(1.0);
            if !(minutes > 0.0 && minutes <= 100_000.0) {
                let message = format!(
                    "minutes {} must be above 0 and at most 100,000",
                    figure(minutes)
                );
                self.note(&at.then("minutes"), "pack/number", message);
            }
            let listed = check.cautions.clone().unwrap_or_default();
            let cautions = listed
                .iter()
                .enumerate()
                .filter_map(|(i, id)| {
                    cautions.get(id, &at.then("cautions").then(i), &mut self.problems)
                })
                .collect();
            checks.push(Check {
                id: self
                    .need(&entry, "id", check.id.clone())
                    .unwrap_or_default(),
                name: self
                    .need(&entry, "name", check.name.clone())
                    .unwrap_or_default(),
                how: self
                    .need(&entry, "how", check.how.clone())
                    .unwrap_or_default(),
                tools: check.tools.clone().unwrap_or_default(),
                minutes,
                access: self
                    .need(&entry, "access", check.access)
                    .unwrap_or(super::Access::WalkBy),
                leave: self
                    .need(&entry, "leave", check.leave)
                    .unwrap_or(super::Leave::Ask),
                cautions,
            });
        }
        let index = self.composed_index("check", &composed, |check| check.id.as_deref());
        (checks, index)
    }

    fn incidents(
        &mut self,
        root: &At,
        library_root: &At,
        file: &PackFile,
        library: &LibraryFile,
    ) -> (Vec<Incident>, Index) {
        let base = self.base("incident", library_root, &library.incidents, |i| {
            i.id.as_deref()
        });
        let drawn = file.incidents.iter().map(|i| i.from.as_deref());
        self.drawn(root, "incident", drawn);
        let mut composed: Vec<(IncidentFile, At)> = Vec::new();
        for (place, incident) in file.incidents.iter().enumerate() {
            let at = root.then("incident").then(place);
            if let Some(rate) = &incident.rate {
                self.check_selectors(&at.then("rate"), rate);
            }
            let from = self.base_of(&at, incident.from.as_deref(), &base, "incident");
            let merged = match from {
                Some(index) => merge_incident(&library.incidents[index], incident),
                None => incident.clone(),
            };
            composed.push((merged, fall_back(at, library_root, "incident", from)));
        }
        let mut incidents = Vec::new();
        let none = BTreeMap::new();
        for (incident, at) in &composed {
            let entry = Entry::new("incident", incident.id.as_deref(), at);
            let id = self
                .need(&entry, "id", incident.id.clone())
                .unwrap_or_default();
            let rate = self
                .need(&entry, "rate", incident.rate.as_ref())
                .unwrap_or(&none);
            let mut rates = Vec::new();
            for history in 0..self.selectors.len() {
                match select(&self.selectors[history], rate) {
                    Some((selector, number)) => {
                        let at = at.then("rate").then(selector);
                        let id = format!("incident/{id}/rate/{selector}");
                        rates.push(self.number(&at, id, number, Domain::Chance));
                    }
                    // Said already.
                    None if incident.rate.is_none() => {}
                    None => self.uncovered(&at.then("rate"), "rate", history),
                }
            }
            incidents.push(Incident {
                id,
                name: self
                    .need(&entry, "name", incident.name.clone())
                    .unwrap_or_default(),
                effect: self
                    .need(&entry, "effect", incident.effect.clone())
                    .unwrap_or_default(),
                rates,
            });
        }
        let index = self.composed_index("incident", &composed, |incident| incident.id.as_deref());
        (incidents, index)
    }

    fn signs(
        &mut self,
        root: &At,
        library_root: &At,
        file: &PackFile,
        library: &LibraryFile,
        context: &Context<'_>,
    ) -> Vec<Sign> {
        let base = self.base("sign", library_root, &library.signs, |s| s.id.as_deref());
        self.drawn(root, "sign", file.signs.iter().map(|s| s.from.as_deref()));
        let mut composed: Vec<(SignFile, At)> = Vec::new();
        for (place, sign) in file.signs.iter().enumerate() {
            let at = root.then("sign").then(place);
            if let Some(shows) = &sign.shows {
                self.check_selectors(&at.then("shows"), shows);
            }
            if let Some(dated) = &sign.dated {
                self.check_selectors(&at.then("dated").then("added"), &dated.added);
                self.check_selectors(&at.then("dated").then("removed"), &dated.removed);
            }
            let from = self.base_of(&at, sign.from.as_deref(), &base, "sign");
            let merged = match from {
                Some(index) => merge_sign(&library.signs[index], sign, context.incidents),
                None => sign.clone(),
            };
            composed.push((merged, fall_back(at, library_root, "sign", from)));
        }
        self.composed_index("sign", &composed, |sign| sign.id.as_deref());
        let mut signs = Vec::new();
        for (sign, at) in &composed {
            signs.extend(self.sign(at, sign, context));
        }
        signs
    }

    fn sign(&mut self, at: &At, sign: &SignFile, context: &Context<'_>) -> Option<Sign> {
        let entry = Entry::new("sign", sign.id.as_deref(), at);
        let id = self.need(&entry, "id", sign.id.clone())?;
        let name = self.need(&entry, "name", sign.name.clone());
        let check = self.need(&entry, "check", sign.check.as_ref());
        let check = check.and_then(|id| {
            let at = at.then("check");
            context.checks.get(id, &at, &mut self.problems)
        });
        let part_ids = self.need(&entry, "parts", sign.parts.as_ref())?;
        let parts: Vec<usize> = part_ids
            .iter()
            .enumerate()
            .filter_map(|(i, id)| {
                context
                    .parts
                    .get(id, &at.then("parts").then(i), &mut self.problems)
            })
            .collect();
        if part_ids.is_empty() {
            let message = format!("sign `{id}` is at no part; name at least one");
            self.note(&at.then("parts"), "pack/sign", message);
        }
        let mut seen = BTreeSet::new();
        for (place, part) in part_ids.iter().enumerate() {
            if !seen.insert(part) {
                let message = format!("part `{part}` is listed twice; remove one");
                self.note(&at.then("parts").then(place), "pack/sign", message);
            }
        }
        let group = sign.group.as_ref().and_then(|id| {
            context
                .groups
                .get(id, &at.then("group"), &mut self.problems)
        });
        let levels = sign
            .levels
            .clone()
            .unwrap_or_else(|| vec!["no".into(), "yes".into()]);
        let named: BTreeSet<&String> = levels.iter().collect();
        let reserved = levels
            .iter()
            .any(|level| level == "not-looked" || level == "no-access");
        if !(2..=MAX_LEVELS).contains(&levels.len()) || named.len() != levels.len() || reserved {
            let message = format!(
                "levels `{}` must be 2 to {MAX_LEVELS} different names, \"not there\" first, and \
                 not `not-looked` or `no-access`",
                levels.join(", ")
            );
            self.note(&at.then("levels"), "pack/sign", message);
            return None;
        }
        for (place, part) in part_ids.iter().enumerate() {
            let undated = context
                .parts
                .places
                .get(part)
                .is_some_and(|index| !context.dated[*index]);
            if sign.dated.is_some() && undated {
                let message =
                    format!("a dated sign needs a part with `dated = true`, which `{part}` is not");
                self.note(&at.then("parts").then(place), "pack/sign", message);
            }
        }
        let shows = self.shows(at, &id, sign, levels.len(), context)?;
        let mut causes = Vec::new();
        for (incident, chance) in sign.caused_by.iter().flatten() {
            let at = at.then("caused_by").then(incident.as_str());
            let Some(index) = context.incidents.get(incident, &at, &mut self.problems) else {
                continue;
            };
            let number = format!("sign/{id}/caused-by/{incident}");
            causes.push((index, self.row(&at, &number, chance, levels.len(), sign)));
        }
        let mut hides = Vec::new();
        for (incident, chance) in sign.hidden_by.iter().flatten() {
            let at = at.then("hidden_by").then(incident.as_str());
            let Some(index) = context.incidents.get(incident, &at, &mut self.problems) else {
                continue;
            };
            let number = format!("sign/{id}/hidden-by/{incident}");
            hides.push((index, self.number(&at, number, chance, Domain::Chance)));
        }
        if causes.len() + hides.len() > MAX_PARENTS {
            let message = format!(
                "sign `{id}` has {} causing and hiding incidents, at most {MAX_PARENTS} are allowed",
                causes.len() + hides.len()
            );
            self.note(at, "pack/sign", message);
        }
        let reliability = self.need(&entry, "reliability", sign.reliability.as_ref())?;
        let reliability = self.reliability(&at.then("reliability"), &id, reliability, levels.len());
        let points_to = self.need(&entry, "points_to", sign.points_to.clone());
        let innocent = self.need(&entry, "innocent", sign.innocent.clone());
        Some(Sign {
            id,
            parts,
            name: name?,
            check: check?,
            group,
            levels,
            shows,
            causes,
            hides,
            reliability,
            points_to: points_to?,
            innocent: innocent?,
        })
    }

    fn shows(
        &mut self,
        at: &At,
        id: &str,
        sign: &SignFile,
        levels: usize,
        context: &Context<'_>,
    ) -> Option<Shows> {
        match (&sign.shows, &sign.dated) {
            (Some(shows), None) => {
                let at = at.then("shows");
                let mut rows = Vec::new();
                for history in 0..self.selectors.len() {
                    match select(&self.selectors[history], shows) {
                        Some((selector, chance)) => {
                            let number = format!("sign/{id}/shows/{selector}");
                            let at = at.then(selector);
                            rows.push(self.row(&at, &number, chance, levels, sign));
                        }
                        None => self.uncovered(&at, "shows", history),
                    }
                }
                Some(Shows::History(rows))
            }
            (None, Some(dated)) => {
                let entry = at;
                let at = at.then("dated");
                if levels != 2 {
                    let message =
                        format!("`{id}` is dated and so a yes/no sign; leave out `levels`");
                    self.note(&entry.then("levels"), "pack/sign", message);
                }
                if let Some(group) = &sign.group {
                    let message = format!(
                        "`{id}` is dated and cannot share the clarity of group `{group}`; leave out \
                         `group`"
                    );
                    self.note(&entry.then("group"), "pack/sign", message);
                }
                let curve = context
                    .curves
                    .get(&dated.curve, &at.then("curve"), &mut self.problems);
                let visible = self.number(
                    &at.then("visible"),
                    format!("sign/{id}/dated/visible"),
                    &dated.visible,
                    Domain::Share,
                );
                let mut side = |field: &str, map: &BySelector<Number>| -> Vec<Option<NumberId>> {
                    (0..self.selectors.len())
                        .map(|history| {
                            let (selector, number) = select(&self.selectors[history], map)?;
                            let at = at.then(field).then(selector);
                            let number_id = format!("sign/{id}/dated/{field}/{selector}");
                            Some(self.number(&at, number_id, number, Domain::Chance))
                        })
                        .collect()
                };
                let added = side("added", &dated.added);
                let removed = side("removed", &dated.removed);
                Some(Shows::Dated {
                    curve: curve?,
                    visible,
                    added,
                    removed,
                })
            }
            (shows, _) => {
                let (has, remedy) = match shows {
                    Some(_) => ("both", "remove one"),
                    None => ("neither", "give one"),
                };
                let message = format!("sign `{id}` has {has} of `shows` and `dated`; {remedy}");
                self.note(at, "pack/sign", message);
                None
            }
        }
    }

    fn reliability(
        &mut self,
        at: &At,
        id: &str,
        given: &ReliabilityFile,
        levels: usize,
    ) -> Reliability {
        let fits = matches!(given, ReliabilityFile::YesNo { .. }) == (levels == 2);
        if !fits {
            let message = if levels == 2 {
                format!("`{id}` is a yes/no sign: give `found` and `cleared`, not `exact`")
            } else {
                format!(
                    "`{id}` is a sign of {levels} levels: give `exact`, not `found` and `cleared`"
                )
            };
            self.note(at, "pack/sign", message);
        }
        let mut number = |field: &str, number: &Number| {
            let id = format!("sign/{id}/reliability/{field}");
            self.number(&at.then(field), id, number, Domain::Chance)
        };
        match given {
            ReliabilityFile::YesNo { found, cleared } => Reliability::YesNo {
                found: number("found", found),
                cleared: number("cleared", cleared),
            },
            ReliabilityFile::Graded { exact } => Reliability::Graded {
                exact: number("exact", exact),
            },
        }
    }

    fn measures(&mut self, root: &At, file: &PackFile, context: &Context<'_>) -> Vec<Measure> {
        let list = root.then("measure");
        self.index(
            "measure",
            &list,
            file.measures.iter().map(|m| m.id.as_str()),
        );
        let mut measures = Vec::new();
        for (place, measure) in file.measures.iter().enumerate() {
            let at = list.then(place);
            let sign =
                |sign: &SignFile| sign.id.as_ref().or(sign.from.as_ref()) == Some(&measure.id);
            if file.signs.iter().any(sign) {
                let message = format!(
                    "`{}` is the id of a sign and of a measure; rename one",
                    measure.id
                );
                self.note(&at.then("id"), "pack/duplicate-id", message);
            }
            measures.extend(self.measure(&at, measure, context));
        }
        measures
    }

    fn measure(
        &mut self,
        at: &At,
        measure: &MeasureFile,
        context: &Context<'_>,
    ) -> Option<Measure> {
        let part = context
            .parts
            .get(&measure.part, &at.then("part"), &mut self.problems);
        let check = context
            .checks
            .get(&measure.check, &at.then("check"), &mut self.problems);
        if !UNITS.contains(&measure.unit.as_str()) {
            let unit = ("unit", measure.unit.as_str());
            self.problems
                .unknown(&at.then("unit"), "pack/unit", unit, UNITS.into_iter());
        }
        let (low, high) = measure.plausible;
        if !(low.is_finite() && high.is_finite() && low < high) {
            let message = format!(
                "plausible range {} to {} must run upward and be finite",
                figure(low),
                figure(high)
            );
            self.note(&at.then("plausible"), "pack/unit", message);
        } else if !(measure.error.is_finite() && measure.error >= 0.0 && measure.error < high - low)
        {
            let message = format!(
                "instrument error {} must be 0 or more and less than the width of the plausible \
                 range, {}",
                figure(measure.error),
                figure(high - low)
            );
            self.note(&at.then("error"), "pack/unit", message);
        }
        self.check_selectors(&at.then("density"), &measure.density);
        self.check_selectors(&at.then("movement"), &measure.movement);
        if measure.density.is_empty() == measure.movement.is_empty() {
            let (has, remedy) = match measure.density.is_empty() {
                true => ("neither", "give one"),
                false => ("both", "remove one"),
            };
            let message = format!(
                "measure `{}` has {has} of `density` and `movement`; {remedy}",
                measure.id
            );
            self.note(at, "pack/measure", message);
            return None;
        }
        let mut sound = true;
        for (selector, density) in &measure.density {
            let at = at.then("density").then(selector.as_str());
            sound &= self.density(&at, density);
            // A density may have no mean; then there is nothing to compare.
            let mean = density.mean().unwrap_or(low);
            if low < high && !(low..=high).contains(&mean) {
                let message = format!(
                    "the mean {} lies outside the plausible range {} to {}; is the unit right?",
                    figure(mean),
                    figure(low),
                    figure(high)
                );
                self.note(&at, "pack/unit", message);
            }
        }
        for (selector, movement) in &measure.movement {
            let at = at.then("movement").then(selector.as_str());
            let limits = [
                (
                    "moisture_fall",
                    movement.moisture_fall,
                    -30.0,
                    30.0,
                    "points",
                ),
                (
                    "moisture_fall_sd",
                    movement.moisture_fall_sd,
                    0.0,
                    15.0,
                    "points",
                ),
                ("set", movement.set, -100.0, 100.0, "mm per m"),
                ("sd", movement.sd, 0.001, 100.0, "mm per m"),
            ];
            for (field, value, least, most, unit) in limits {
                if !(least..=most).contains(&value) {
                    let message =
                        format!("{field} {} must be {least} to {most} {unit}", figure(value));
                    self.note(&at.then(field), "pack/measure", message);
                }
            }
            if measure.unit != "mm-per-m" {
                let message = format!(
                    "movement is in `mm-per-m`, not `{}`; change the unit, or give a `density`",
                    measure.unit
                );
                self.note(&at, "pack/unit", message);
            }
        }
        let mut overrides = Vec::new();
        for (place, over) in measure.overrides.iter().enumerate() {
            let at = at.then("override").then(place);
            sound &= self.density(&at.then("density"), &over.density);
            let incident =
                context
                    .incidents
                    .get(&over.incident, &at.then("incident"), &mut self.problems);
            if overrides.iter().any(|(known, _)| Some(*known) == incident) {
                let message = format!("incident `{}` overrides twice; remove one", over.incident);
                self.note(&at.then("incident"), "pack/measure", message);
            } else {
                overrides.extend(incident.map(|incident| (incident, over.density.clone())));
            }
        }
        if overrides.len() > MAX_PARENTS {
            let message = format!(
                "measure `{}` has {} overriding incidents, at most {MAX_PARENTS} are allowed",
                measure.id,
                overrides.len()
            );
            self.note(at, "pack/measure", message);
        }
        if !sound {
            return None;
        }
        let mut expectations = Vec::new();
        for history in 0..self.selectors.len() {
            let selectors = &self.selectors[history];
            let density =
                select(selectors, &measure.density).map(|(_, d)| Expectation::Density(d.clone()));
            let movement =
                select(selectors, &measure.movement).map(|(_, m)| Expectation::Movement(m.clone()));
            match density.or(movement) {
                Some(expectation) => expectations.push(expectation),
                None => {
                    let field = match measure.density.is_empty() {
                        true => "movement",
                        false => "density",
                    };
                    self.uncovered(&at.then(field), field, history);
                }
            }
        }
        let (strength, source) = self.provenance(at, measure.strength, measure.source.as_deref());
        Some(Measure {
            id: measure.id.clone(),
            part: part?,
            name: measure.name.clone(),
            unit: measure.unit.clone(),
            check: check?,
            error: measure.error,
            plausible: measure.plausible,
            expectations,
            overrides,
            points_to: measure.points_to.clone(),
            innocent: measure.innocent.clone(),
            strength,
            source,
        })
    }

    fn uncovered(&mut self, at: &At, field: &str, history: usize) {
        if self.problems.full() || self.astray.contains(&at.own()) {
            return;
        }
        let [id, kind, verdict, _] = self.selectors[history].clone();
        let message = format!(
            "`{field}` says nothing of history `{id}`; add `{id}`, its kind `{kind}`, its verdict \
             `{verdict}` or `any`"
        );
        self.note(at, "pack/missing", message);
    }

    /// Checks a density, noting what is wrong at the very parameter.
    fn density(&mut self, at: &At, density: &Density) -> bool {
        let Err(error) = density.validate() else {
            return true;
        };
        let path = match &error {
            DensityError::OutOfRange { parameter, .. }
            | DensityError::Reversed { parameter, .. }
            | DensityError::Parts { parameter, .. }
            | DensityError::TooDeep { parameter, .. }
            | DensityError::Weights { parameter, .. }
            | DensityError::NoMean { parameter, .. } => parameter,
            DensityError::Unbounded { .. } => "",
        };
        self.note(&at.along(path), "pack/density", error.to_string());
        false
    }

    fn need<T>(&mut self, entry: &Entry<'_>, field: &str, value: Option<T>) -> Option<T> {
        if value.is_none() {
            let message = match entry.id {
                Some(id) => format!("{} `{id}` has no `{field}`; give one", entry.what),
                None => format!("this {} has no `{field}`; give one", entry.what),
            };
            self.note(entry.at, "pack/missing", message);
        }
        value
    }

    /// The library's entries by id, each of which must be there once.
    fn base<'l, T>(
        &mut self,
        what: &'static str,
        library_root: &At,
        entries: &'l [T],
        id: impl Fn(&T) -> Option<&str>,
    ) -> BTreeMap<&'l str, usize> {
        let mut base = BTreeMap::new();
        for (place, entry) in entries.iter().enumerate() {
            let Some(id) = id(entry) else { continue };
            if base.insert(id, place).is_some() {
                let at = library_root.then(what).then(place).then("id");
                let message = format!("{what} `{id}` is defined twice; rename or remove one");
                self.note(&at, "pack/duplicate-id", message);
            }
        }
        base
    }

    /// Keeps a pack from taking one library entry very many times.
    fn drawn<'f>(&mut self, root: &At, what: &str, from: impl Iterator<Item = Option<&'f str>>) {
        let mut drawn = BTreeMap::new();
        for (place, from) in from.enumerate() {
            let Some(from) = from else { continue };
            let times = drawn.entry(from).or_insert(0);
            *times += 1;
            if *times > MAX_DRAWN {
                let at = root.then(what).then(place).then("from");
                let message = format!(
                    "library {what} `{from}` is taken more than {MAX_DRAWN} times, the most allowed"
                );
                self.note(&at, "pack/too-many", message);
            }
        }
    }

    fn base_of(
        &mut self,
        at: &At,
        from: Option<&str>,
        base: &BTreeMap<&str, usize>,
        what: &str,
    ) -> Option<usize> {
        let from = from?;
        if let Some(index) = base.get(from) {
            return Some(*index);
        }
        if self.problems.full() {
            return None;
        }
        let (what, valid) = (format!("library {what}"), base.keys().copied());
        let at = at.then("from");
        self.problems
            .unknown(&at, "pack/unknown-id", (&what, from), valid.clone());
        // Going on as if that had been written, what follows from the slip need not be listed too.
        nearest(from, valid).and_then(|near| base.get(near).copied())
    }

    fn composed_index<T>(
        &mut self,
        what: &'static str,
        composed: &[(T, At)],
        id: impl Fn(&T) -> Option<&str>,
    ) -> Index {
        let mut places = BTreeMap::new();
        for (place, (entry, at)) in composed.iter().enumerate() {
            let Some(id) = id(entry) else { continue };
            let own = at.own();
            let here = own.then("id").or(own.then("from"));
            self.id(&here, what, id);
            if places.contains_key(id) {
                let message = format!("{what} `{id}` is defined twice; rename or remove one");
                self.note(&here, "pack/duplicate-id", message);
            } else {
                places.insert(id.to_owned(), place);
            }
        }
        Index { what, places }
    }
}

/// The entry that fits a history, with the selector that found it.
fn select<'m, T>(selectors: &[String; 4], map: &'m BySelector<T>) -> Option<(&'m str, &'m T)> {
    selectors
        .iter()
        .find_map(|selector| map.get_key_value(selector.as_str()))
        .map(|(selector, value)| (selector.as_str(), value))
}

/// An entry, for saying what it lacks.
struct Entry<'a> {
    what: &'static str,
    id: Option<&'a str>,
    at: &'a At,
}

impl<'a> Entry<'a> {
    fn new(what: &'static str, id: Option<&'a str>, at: &'a At) -> Self {
        Self { what, id, at }
    }
}

struct Context<'a> {
    /// Whether each part has a making date.
    dated: Vec<bool>,
    parts: &'a Index,
    checks: &'a Index,
    groups: &'a Index,
    incidents: &'a Index,
    curves: &'a Index,
}

fn stated(mean: f64, strength: Option<f64>, source: Option<&String>) -> Number {
    Number::Stated(StatedNumber {
        mean,
        strength,
        source: source.cloned(),
        structural: false,
    })
}

fn fall_back(at: At, library_root: &At, list: &str, from: Option<usize>) -> At {
    match from {
        Some(index) => at.or(library_root.then(list).then(index)),
        None => at,
    }
}

/// Joins the pack's entries with the library's; the pack's replace the library's of the same id.
/// Returns the entries and where each stands.
fn join<T>(
    problems: &mut Problems<'_>,
    (root, own, id): (&At, Vec<T>, fn(&T) -> &String),
    (library_root, shared): (&At, Vec<T>),
    list: &str,
) -> (Vec<T>, Vec<At>) {
    let own_ids: BTreeSet<String> = own.iter().map(|entry| id(entry).clone()).collect();
    let (mut joined, mut places) = (Vec::new(), Vec::new());
    for (root, entries, replaceable) in [(root, own, false), (library_root, shared, true)] {
        let mut seen = BTreeSet::new();
        for (place, entry) in entries.into_iter().enumerate() {
            let at = root.then(list).then(place);
            limits::check_id(problems, &at.then("id"), &format!("{list} id"), id(&entry));
            if !seen.insert(id(&entry).clone()) {
                let message = format!(
                    "{list} `{}` is defined twice; rename or remove one",
                    id(&entry)
                );
                problems.note(&at.then("id"), "pack/duplicate-id", message);
            }
            if !replaceable || !own_ids.contains(id(&entry)) {
                joined.push(entry);
                places.push(at);
            }
        }
    }
    (joined, places)
}

/// Gives every number that states no strength or source those of its entry, or else its file's, so
/// that composing two files cannot lend a number another file's provenance.
fn stamp_all(file: &mut PackFile, library: &mut LibraryFile) {
    for (signs, incidents, defaults) in [
        (&mut file.signs, &mut file.incidents, &file.defaults),
        (
            &mut library.signs,
            &mut library.incidents,
            &library.defaults,
        ),
    ] {
        for sign in signs {
            stamp_sign(sign, defaults);
        }
        for incident in incidents {
            let block = block(incident.strength, incident.source.as_ref(), defaults);
            incident
                .rate
                .iter_mut()
                .flat_map(BTreeMap::values_mut)
                .for_each(|n| stamp(n, &block));
        }
    }
    for (curves, defaults) in [
        (&mut file.curves, &file.defaults),
        (&mut library.curves, &library.defaults),
    ] {
        for curve in curves {
            curve.strength.get_or_insert(defaults.strength);
            curve.source.get_or_insert_with(|| defaults.source.clone());
        }
    }
    for (examination, defaults) in [
        (&mut file.examination, &file.defaults),
        (&mut library.examination, &library.defaults),
    ] {
        if let Some(examination) = examination {
            stamp(&mut examination.poor, defaults);
            stamp(&mut examination.poor_factor, defaults);
        }
    }
    let defaults = &file.defaults;
    for history in &mut file.histories {
        history
            .elasticity
            .iter_mut()
            .for_each(|number| stamp(number, defaults));
    }
    for group in &mut file.groups {
        stamp(&mut group.coupling, defaults);
    }
    let blocks = file
        .priors
        .iter_mut()
        .map(|prior| (&mut prior.strength, &mut prior.source))
        .chain(
            file.prior_factors
                .iter_mut()
                .map(|f| (&mut f.strength, &mut f.source)),
        )
        .chain(
            file.later_work
                .iter_mut()
                .map(|l| (&mut l.strength, &mut l.source)),
        )
        .chain(
            file.measures
                .iter_mut()
                .map(|m| (&mut m.strength, &mut m.source)),
        );
    for (strength, source) in blocks {
        strength.get_or_insert(defaults.strength);
        source.get_or_insert_with(|| defaults.source.clone());
    }
}

fn block(strength: Option<f64>, source: Option<&String>, defaults: &Defaults) -> Defaults {
    Defaults {
        strength: strength.unwrap_or(defaults.strength),
        source: source.unwrap_or(&defaults.source).clone(),
    }
}

fn stamp(number: &mut Number, block: &Defaults) {
    let mut stated = match number {
        Number::Plain(mean) => StatedNumber {
            mean: *mean,
            strength: None,
            source: None,
            structural: false,
        },
        Number::Stated(stated) => stated.clone(),
    };
    stated.strength.get_or_insert(block.strength);
    stated.source.get_or_insert_with(|| block.source.clone());
    *number = Number::Stated(stated);
}

fn stamp_sign(sign: &mut SignFile, defaults: &Defaults) {
    let block = block(sign.strength, sign.source.as_ref(), defaults);
    let chances = sign
        .shows
        .iter_mut()
        .flat_map(BTreeMap::values_mut)
        .chain(sign.caused_by.iter_mut().flat_map(BTreeMap::values_mut));
    for chance in chances {
        if let Chance::Number(number) = chance {
            stamp(number, &block);
        }
    }
    sign.hidden_by
        .iter_mut()
        .flat_map(BTreeMap::values_mut)
        .for_each(|n| stamp(n, &block));
    if let Some(dated) = &mut sign.dated {
        stamp(&mut dated.visible, &block);
        dated
            .added
            .values_mut()
            .chain(dated.removed.values_mut())
            .for_each(|n| stamp(n, &block));
    }
    match &mut sign.reliability {
        Some(ReliabilityFile::YesNo { found, cleared }) => {
            stamp(found, &block);
            stamp(cleared, &block);
        }
        Some(ReliabilityFile::Graded { exact }) => stamp(exact, &block),
        None => {}
    }
    sign.strength = Some(block.strength);
    sign.source = Some(block.source);
}

fn merge_check(base: &CheckFile, over: &CheckFile) -> CheckFile {
    let (base, over) = (base.clone(), over.clone());
    CheckFile {
        id: over.id.or(base.id),
        from: None,
        name: over.name.or(base.name),
        how: over.how.or(base.how),
        tools: over.tools.or(base.tools),
        minutes: over.minutes.or(base.minutes),
        access: over.access.or(base.access),
        leave: over.leave.or(base.leave),
        cautions: over.cautions.or(base.cautions),
    }
}

fn merge_incident(base: &IncidentFile, over: &IncidentFile) -> IncidentFile {
    let (base, over) = (base.clone(), over.clone());
    IncidentFile {
        id: over.id.or(base.id),
        from: None,
        name: over.name.or(base.name),
        effect: over.effect.or(base.effect),
        rate: merge_maps(base.rate, over.rate),
        strength: over.strength.or(base.strength),
        source: over.source.or(base.source),
    }
}

fn merge_maps<T>(
    base: Option<BTreeMap<String, T>>,
    over: Option<BTreeMap<String, T>>,
) -> Option<BTreeMap<String, T>> {
    match (base, over) {
        (Some(mut base), Some(over)) => {
            base.extend(over);
            Some(base)
        }
        (base, over) => over.or(base),
    }
}

fn merge_sign(base: &SignFile, over: &SignFile, incidents: &Index) -> SignFile {
    let (mut base, over) = (base.clone(), over.clone());
    // What a shared sign says of incidents that this form does not have is beside the point.
    let known = |incident: &String| incidents.places.contains_key(incident);
    base.caused_by
        .iter_mut()
        .for_each(|map| map.retain(|incident, _| known(incident)));
    base.hidden_by
        .iter_mut()
        .for_each(|map| map.retain(|incident, _| known(incident)));
    if over.dated.is_some() {
        base.shows = None;
    }
    if over.shows.is_some() {
        base.dated = None;
    }
    SignFile {
        id: over.id.or(base.id),
        from: None,
        parts: over.parts.or(base.parts),
        name: over.name.or(base.name),
        check: over.check.or(base.check),
        group: over.group.or(base.group),
        levels: over.levels.or(base.levels),
        shows: merge_maps(base.shows, over.shows),
        dated: over.dated.or(base.dated),
        caused_by: merge_maps(base.caused_by, over.caused_by),
        hidden_by: merge_maps(base.hidden_by, over.hidden_by),
        reliability: over.reliability.or(base.reliability),
        points_to: over.points_to.or(base.points_to),
        innocent: over.innocent.or(base.innocent),
        strength: over.strength.or(base.strength),
        source: over.source.or(base.source),
    }
}

/// Leaves out library checks that no sign or measure of this form uses.
fn keep_used_checks(pack: &mut Pack) {
    let used: BTreeSet<usize> = pack
        .signs
        .iter()
        .map(|sign| sign.check)
        .chain(pack.measures.iter().map(|measure| measure.check))
        .collect();
    let place: BTreeMap<usize, usize> = used
        .iter()
        .enumerate()
        .map(|(new, old)| (*old, new))
        .collect();
    let mut index = 0;
    pack.checks.retain(|_| {
        index += 1;
        used.contains(&(index - 1))
    });
    for sign in &mut pack.signs {
        sign.check = place[&sign.check];
    }
    for measure in &mut pack.measures {
        measure.check = place[&measure.check];
    }
}
