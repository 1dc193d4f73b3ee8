//! From written pack and library to checked pack: composing, resolving ids, checking every number.

use super::extension::{EXTENSION_SCHEMA, ExtensionFile, Joining};
use super::file::{
    BySelector, Chance, CheckFile, Defaults, ExaminationFile, IncidentFile, LIBRARY_SCHEMA,
    LibraryFile, MeasureFile, Number, OriginFile, PACK_SCHEMA, PackFile, ReliabilityFile, SignFile,
    StatedNumber,
};
use super::limits;
use super::number::{Domain, ElicitedNumber, NumberId};
use super::{
    Check, DateGrid, Examination, Expectation, ExpectedValues, Group, History, Incident, Measure,
    Origin, Pack, Prior, PriorFactor, Reliability, Shows, Sign, VERDICTS,
};
use crate::density::{Density, DensityError};
use crate::error::Error;
use crate::order::map;
use crate::text::{At, Kind, Problems, Text, figure, nearest, parse};
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

mod claims;
mod compose;
mod signs;

use compose::{join, keep_used_checks, stamp_library, stamp_more, stamp_pack, stated};

const PACK: usize = 0;
const LIBRARY: usize = 1;
const EXTENSION: usize = 2;

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
const EXTENSION_KIND: Kind = Kind {
    schema: EXTENSION_SCHEMA,
    schema_code: "extension/schema",
    syntax_code: "extension/syntax",
};

impl Pack {
    /// Reads a pack and composes it with the shared library.
    ///
    /// # Errors
    /// [`Error::Invalid`] with every problem found (up to 50), each with file, line, column, the
    /// offending value and the remedy.
    pub fn load(pack: Text<'_>, library: Text<'_>) -> Result<Self, Error> {
        let mut library_file: LibraryFile =
            parse(&library, &LIBRARY_KIND).map_err(Error::Invalid)?;
        let mut pack_file: PackFile = parse(&pack, &PACK_KIND).map_err(Error::Invalid)?;
        stamp_library(&mut library_file);
        stamp_pack(&mut pack_file);
        let digest = digest(&[pack, library]);
        let loader = Loader::new(Problems::new(vec![pack, library]));
        loader.run((pack_file, library_file), digest, &BTreeMap::new())
    }

    /// Reads somebody's extension of a pack, the pack it extends, and composes both with the shared
    /// library. The form stays the pack's, so that cases of the one are cases of the other.
    ///
    /// # Errors
    /// [`Error::Invalid`] as [`load`](Self::load), and when the extension defines anew what the pack
    /// or the library has already, each with the places of both.
    ///
    /// ```
    /// use oddment::{Pack, Text, packs};
    /// let mine = Text::new("mine.toml", r#"
    /// schema = "oddment/extension/1"
    /// extends = "drop-leaf-table"
    /// id = "my-shop"
    /// version = "1"
    /// summary = "Fewer refinished tables come to us."
    /// defaults = { strength = 40, source = "elicited" }
    /// [numbers]
    /// "incident/refinished/rate/any" = 0.3
    /// "#);
    /// let pack = Pack::load_extended(packs::text("drop-leaf-table")?, mine, packs::library())?;
    /// let number = pack.find_number("incident/refinished/rate/any").unwrap();
    /// assert_eq!(pack.number(number), 0.3);
    /// # Ok::<(), oddment::Error>(())
    /// ```
    pub fn load_extended(
        pack: Text<'_>,
        extension: Text<'_>,
        library: Text<'_>,
    ) -> Result<Self, Error> {
        let mut library_file: LibraryFile =
            parse(&library, &LIBRARY_KIND).map_err(Error::Invalid)?;
        let mut pack_file: PackFile = parse(&pack, &PACK_KIND).map_err(Error::Invalid)?;
        let mut file = ExtensionFile::read(&extension)?;
        stamp_library(&mut library_file);
        stamp_pack(&mut pack_file);
        stamp_more(&mut file);
        let mut added = file.as_pack(&pack_file);
        stamp_pack(&mut added);
        let digest = digest(&[pack, library, extension]);
        let mut loader = Loader::new(Problems::new(vec![pack, library, extension]));
        let root = At::root(EXTENSION);
        if file.extends != pack_file.id {
            let message = format!(
                "extends `{}`, but the pack given is for `{}`",
                file.extends, pack_file.id
            );
            loader.note(&root.then("extends"), "extension/form", message);
        }
        loader.id(&root.then("id"), "extension", &file.id);
        limits::check_list(
            &mut loader.problems,
            &root.then("numbers"),
            file.numbers.len(),
        );
        limits::check_list(&mut loader.problems, &root.then("more"), file.more.len());
        limits::check_list(
            &mut loader.problems,
            &root.then("counts"),
            file.counts.len(),
        );
        let defaults = &file.defaults;
        loader.strength(&root.then("defaults").then("strength"), defaults.strength);
        let mut joining = Joining {
            problems: &mut loader.problems,
            pack_root: At::root(PACK),
            library_root: At::root(LIBRARY),
            extension_root: root,
        };
        joining.join(&mut pack_file, added, &file, &library_file);
        pack_file.version = format!("{} with {} {}", pack_file.version, file.id, file.version);
        pack_file.summary = format!("{}\n\n{}", pack_file.summary.trim(), file.summary.trim());
        if !loader.problems.is_empty() {
            return Err(Error::Invalid(loader.problems.finish()));
        }
        loader.run((pack_file, library_file), digest, &file.numbers)
    }
}

impl ExtensionFile {
    /// Reads the written form.
    pub(crate) fn read(text: &Text<'_>) -> Result<Self, Error> {
        parse(text, &EXTENSION_KIND).map_err(Error::Invalid)
    }
}

/// A fingerprint of what a pack was composed from.
fn digest(texts: &[Text<'_>]) -> String {
    let mut hash = Sha256::new();
    for (place, text) in texts.iter().enumerate() {
        if place > 0 {
            hash.update([0]);
        }
        hash.update(text.content.as_bytes());
    }
    hash.finalize()
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
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
    /// Of ids that have been checked already.
    fn of<'i>(what: &'static str, ids: impl Iterator<Item = &'i String>) -> Self {
        let places = ids.enumerate().map(|(place, id)| (id.clone(), place));
        Self {
            what,
            places: map(places.collect::<Vec<_>>()),
        }
    }

    fn get(&self, id: &str, at: &At, problems: &mut Problems<'_>) -> Option<usize> {
        let place = self.places.get(id).copied();
        if place.is_none() {
            let valid = self.places.keys().map(String::as_str);
            problems.unknown(at, "pack/unknown-id", (self.what, id), valid);
        }
        place
    }
}

impl<'a> Loader<'a> {
    fn new(problems: Problems<'a>) -> Self {
        Self {
            problems,
            numbers: Vec::new(),
            number_ids: BTreeMap::new(),
            sources: BTreeMap::new(),
            selectors: Vec::new(),
            valid_selectors: BTreeSet::new(),
            astray: Vec::new(),
        }
    }

    /// Checks and composes what was read, and puts other values in place of some numbers.
    fn run(
        mut self,
        (pack, library): (PackFile, LibraryFile),
        digest: String,
        numbers: &BTreeMap<String, Number>,
    ) -> Result<Pack, Error> {
        limits::check(
            &mut self.problems,
            (&At::root(PACK), &pack),
            (&At::root(LIBRARY), &library),
        );
        if !self.problems.is_empty() {
            return Err(Error::Invalid(self.problems.finish()));
        }
        let mut loaded = self.load(pack, library, digest);
        if self.problems.is_empty() {
            self.replace_numbers(&mut loaded, numbers);
        }
        if self.problems.is_empty() {
            Ok(loaded)
        } else {
            Err(Error::Invalid(self.problems.finish()))
        }
    }

    /// Puts an extension's values in place of the pack's.
    fn replace_numbers(&mut self, pack: &mut Pack, numbers: &BTreeMap<String, Number>) {
        let root = At::root(EXTENSION).then("numbers");
        for (id, number) in numbers {
            let at = root.then(id.as_str());
            let Some(place) = self.number_ids.get(id).copied() else {
                let valid = self.number_ids.keys().map(String::as_str);
                self.problems
                    .unknown(&at, "pack/unknown-id", ("number", id), valid);
                continue;
            };
            let Number::Stated(stated) = number else {
                continue;
            };
            let known = &pack.numbers[place.index()];
            if known.structural && !stated.structural {
                let message = format!(
                    "`{id}` is {} by the nature of the thing; say `structural = true` with another \
                     0 or 1 if that is meant",
                    figure(known.mean)
                );
                self.note(&at, "pack/number", message);
                continue;
            }
            if let Some(message) = known.domain.refusal(stated.mean, stated.structural) {
                self.note(&at.then("mean").or(at.clone()), "pack/number", message);
                continue;
            }
            let (strength, source) =
                self.provenance(&at, stated.strength, stated.source.as_deref());
            let number = &mut pack.numbers[place.index()];
            number.mean = stated.mean;
            number.strength = strength;
            number.source = source;
            number.structural = stated.structural;
        }
        self.whole_rows(pack, numbers, &root);
    }

    /// Notes rows over levels that no longer sum to one because not all of them was replaced.
    fn whole_rows(&mut self, pack: &Pack, numbers: &BTreeMap<String, Number>, root: &At) {
        let shown = pack.signs.iter().flat_map(|sign| match &sign.shows {
            Shows::History(rows) => rows.as_slice(),
            Shows::Dated { .. } => &[],
        });
        let caused = pack.signs.iter().flat_map(|sign| &sign.causes);
        let rows = shown.chain(caused.map(|(_, row)| row));
        let mut told = BTreeSet::new();
        for row in rows.filter(|row| row.len() > 1) {
            let ids = row.iter().map(|number| &*pack.numbers[number.index()].id);
            let Some(replaced) = ids.clone().find(|id| numbers.contains_key(*id)) else {
                continue;
            };
            let sum: f64 = row.iter().map(|number| pack.number(*number)).sum();
            if (sum - 1.0).abs() > ROW_TOLERANCE && told.insert(row[0]) {
                let ids: Vec<&str> = ids.collect();
                let message = format!(
                    "with it the row {} sums to {}, must sum to 1; replace all of it",
                    ids.join(", "),
                    figure(sum)
                );
                self.note(&root.then(replaced), "pack/row-sum", message);
            }
        }
    }

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
        let curve_halves = curves
            .iter()
            .zip(&curve_places)
            .map(|(curve, at)| self.curve(at, curve))
            .collect();
        let curve_index = Index::of("curve", curves.iter().map(|entry| &entry.id));
        let caution_index = Index::of("caution", cautions.iter().map(|entry| &entry.id));

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

        let part_variants = self.part_variants(&root, &file, &variant_index);
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
            part_variants: &part_variants,
            variants: &variant_index,
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
            part_variants,
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
            curve_halves,
            sources,
            numbers: std::mem::take(&mut self.numbers),
            companions,
        };
        keep_used_checks(&mut pack);
        pack
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
        let sane = strength > 0.0 && strength <= 1e6;
        if !sane && !self.problems.full() {
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
    part_variants: &'a [Option<Vec<usize>>],
    variants: &'a Index,
    checks: &'a Index,
    groups: &'a Index,
    incidents: &'a Index,
    curves: &'a Index,
}
