//! Somebody's additions to a pack: written form, and joining them to the pack they extend.
//!
//! An extension names only what differs. It is joined to the *written* pack, before anything is
//! resolved, and every joined entry remembers which text it came from; so that one set of checks
//! serves both, and a problem is shown where it was written.

use super::file::{
    BySelector, CautionFile, Chance, CheckFile, CurveFile, Defaults, GroupFile, HistoryFile,
    IncidentFile, LaterWorkFile, LibraryFile, MeasureFile, MovementFile, Number, OriginFile,
    PackFile, PartFile, PeriodFile, PriorFactorFile, PriorFile, RegionFile, SignFile, SourceFile,
    VariantFile,
};
use super::limits::list;
use crate::density::Density;
use crate::order::map;
use crate::text::{At, Problems, figure};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The `schema` field of an extension.
pub const EXTENSION_SCHEMA: &str = "oddment/extension/1";

/// What somebody adds to, or changes in, a pack that comes with the crate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExtensionFile {
    /// Always `oddment/extension/1`.
    pub schema: String,
    /// Id of the form whose pack is extended.
    pub extends: String,
    /// Whose extension it is, kebab-case; shown beside the pack's version.
    pub id: String,
    /// Counts up with every change of content.
    pub version: String,
    /// What it changes, and why.
    pub summary: String,
    /// How strongly its numbers are held and where they come from, unless they say otherwise.
    pub defaults: Defaults,
    /// Other values for numbers of the pack, by number id.
    #[serde(default)]
    pub numbers: BTreeMap<String, Number>,
    /// For each new history, in how many of 1,000 pieces of a variant it is the story: by id of
    /// history, then of variant (or `any`). The pack's own counts share what is left.
    #[serde(default)]
    pub counts: BTreeMap<String, BTreeMap<String, f64>>,
    /// Additions to entries of the pack, by what they add to: `sign/ID`, `measure/ID`,
    /// `incident/ID` or `history/ID`.
    #[serde(default)]
    pub more: BTreeMap<String, MoreFile>,
    /// New variants; each needs a `prior` of its own.
    #[serde(default, rename = "variant", deserialize_with = "list")]
    pub variants: Vec<VariantFile>,
    /// New periods.
    #[serde(default, rename = "period", deserialize_with = "list")]
    pub periods: Vec<PeriodFile>,
    /// New regions.
    #[serde(default, rename = "region", deserialize_with = "list")]
    pub regions: Vec<RegionFile>,
    /// New parts. One with a date needs an origin from every history, new or old.
    #[serde(default, rename = "part", deserialize_with = "list")]
    pub parts: Vec<PartFile>,
    /// New tables of when later work was done.
    #[serde(default, rename = "later_work", deserialize_with = "list")]
    pub later_work: Vec<LaterWorkFile>,
    /// New histories; each needs its `counts`.
    #[serde(default, rename = "history", deserialize_with = "list")]
    pub histories: Vec<HistoryFile>,
    /// Counts for new variants, over all histories.
    #[serde(default, rename = "prior", deserialize_with = "list")]
    pub priors: Vec<PriorFile>,
    /// Further shifts of the counts.
    #[serde(default, rename = "prior_factor", deserialize_with = "list")]
    pub prior_factors: Vec<PriorFactorFile>,
    /// New groups.
    #[serde(default, rename = "group", deserialize_with = "list")]
    pub groups: Vec<GroupFile>,
    /// Further references.
    #[serde(default, rename = "source", deserialize_with = "list")]
    pub sources: Vec<SourceFile>,
    /// Further in-use curves.
    #[serde(default, rename = "curve", deserialize_with = "list")]
    pub curves: Vec<CurveFile>,
    /// Further cautions.
    #[serde(default, rename = "caution", deserialize_with = "list")]
    pub cautions: Vec<CautionFile>,
    /// Further checks.
    #[serde(default, rename = "check", deserialize_with = "list")]
    pub checks: Vec<CheckFile>,
    /// New incidents, or ones taken from the library.
    #[serde(default, rename = "incident", deserialize_with = "list")]
    pub incidents: Vec<IncidentFile>,
    /// New signs, or ones taken from the library.
    #[serde(default, rename = "sign", deserialize_with = "list")]
    pub signs: Vec<SignFile>,
    /// New measures.
    #[serde(default, rename = "measure", deserialize_with = "list")]
    pub measures: Vec<MeasureFile>,
}

/// What is added to an entry of the pack.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MoreFile {
    /// To a sign: chances for further selectors.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub shows: BySelector<Chance>,
    /// To a sign: further incidents that can make it.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub caused_by: BTreeMap<String, Chance>,
    /// To a sign: further incidents that can wipe it out.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub hidden_by: BTreeMap<String, Number>,
    /// To a measure: densities for further selectors.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub density: BySelector<Density>,
    /// To a measure of movement: expectations for further selectors.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub movement: BySelector<MovementFile>,
    /// To an incident: chances for further selectors.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub rate: BySelector<Number>,
    /// To a history: origins of new parts.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub origin: BTreeMap<String, OriginFile>,
}

impl ExtensionFile {
    /// Its lists and additions as a pack of their own, to be stamped with its own defaults.
    pub(super) fn as_pack(&mut self, base: &PackFile) -> PackFile {
        PackFile {
            defaults: self.defaults.clone(),
            variants: std::mem::take(&mut self.variants),
            periods: std::mem::take(&mut self.periods),
            regions: std::mem::take(&mut self.regions),
            parts: std::mem::take(&mut self.parts),
            later_work: std::mem::take(&mut self.later_work),
            histories: std::mem::take(&mut self.histories),
            priors: std::mem::take(&mut self.priors),
            prior_factors: std::mem::take(&mut self.prior_factors),
            groups: std::mem::take(&mut self.groups),
            sources: std::mem::take(&mut self.sources),
            curves: std::mem::take(&mut self.curves),
            cautions: std::mem::take(&mut self.cautions),
            checks: std::mem::take(&mut self.checks),
            incidents: std::mem::take(&mut self.incidents),
            signs: std::mem::take(&mut self.signs),
            measures: std::mem::take(&mut self.measures),
            examination: None,
            schema: base.schema.clone(),
            id: base.id.clone(),
            name: base.name.clone(),
            version: String::new(),
            summary: String::new(),
            dates: base.dates.clone(),
        }
    }
}

/// The ids that a kind of entry has already, in the pack and in the library.
struct Known {
    what: &'static str,
    own: BTreeMap<String, usize>,
    shared: Vec<String>,
}

/// An id that is given, with its place.
fn swapped((place, id): (usize, Option<String>)) -> Option<(String, usize)> {
    Some((id?, place))
}

/// Joins an extension to a written pack.
pub(super) struct Joining<'j, 'a> {
    pub problems: &'j mut Problems<'a>,
    pub pack_root: At,
    pub library_root: At,
    pub extension_root: At,
}

/// What a pack's new entry is, for the message that it is there already.
fn other_way(what: &str, id: &str) -> String {
    match what {
        "sign" | "measure" | "incident" | "history" => format!(
            "change its numbers under [numbers], add to it under [more.\"{what}/{id}\"], or choose \
             another id"
        ),
        _ => "change its numbers under [numbers], or choose another id".to_owned(),
    }
}

impl Joining<'_, '_> {
    /// Appends the extension's entries to the pack's. Both have been stamped.
    pub fn join(
        &mut self,
        base: &mut PackFile,
        mut added: PackFile,
        extension: &ExtensionFile,
        library: &LibraryFile,
    ) {
        let old_variants = base.variants.len();
        let shared = Vec::new;
        self.append(
            "variant",
            &mut base.variants,
            &mut added.variants,
            shared(),
            |e| Some(&e.id),
        );
        self.append(
            "period",
            &mut base.periods,
            &mut added.periods,
            shared(),
            |e| Some(&e.id),
        );
        self.append(
            "region",
            &mut base.regions,
            &mut added.regions,
            shared(),
            |e| Some(&e.id),
        );
        self.append("part", &mut base.parts, &mut added.parts, shared(), |e| {
            Some(&e.id)
        });
        let list = &mut base.later_work;
        self.append("later_work", list, &mut added.later_work, shared(), |e| {
            Some(&e.id)
        });
        let old_histories = base.histories.len();
        let list = &mut base.histories;
        self.append("history", list, &mut added.histories, shared(), |e| {
            Some(&e.id)
        });
        let old_priors = base.priors.len();
        self.append(
            "prior",
            &mut base.priors,
            &mut added.priors,
            shared(),
            |e| Some(&e.variant),
        );
        let list = &mut base.prior_factors;
        self.append(
            "prior_factor",
            list,
            &mut added.prior_factors,
            shared(),
            |e| Some(&e.id),
        );
        self.append(
            "group",
            &mut base.groups,
            &mut added.groups,
            shared(),
            |e| Some(&e.id),
        );
        let shared = ids(&library.sources, |e| &e.id);
        self.append(
            "source",
            &mut base.sources,
            &mut added.sources,
            shared,
            |e| Some(&e.id),
        );
        let shared = ids(&library.curves, |e| &e.id);
        self.append("curve", &mut base.curves, &mut added.curves, shared, |e| {
            Some(&e.id)
        });
        let shared = ids(&library.cautions, |e| &e.id);
        self.append(
            "caution",
            &mut base.cautions,
            &mut added.cautions,
            shared,
            |e| Some(&e.id),
        );
        let shared = library.checks.iter().filter_map(|e| e.id.clone()).collect();
        self.append("check", &mut base.checks, &mut added.checks, shared, |e| {
            e.id.as_ref().or(e.from.as_ref())
        });
        // A library entry that the pack does not use may well be taken in, or its name used.
        self.append(
            "incident",
            &mut base.incidents,
            &mut added.incidents,
            Vec::new(),
            |e| e.id.as_ref().or(e.from.as_ref()),
        );
        self.append("sign", &mut base.signs, &mut added.signs, Vec::new(), |e| {
            e.id.as_ref().or(e.from.as_ref())
        });
        let list = &mut base.measures;
        self.append("measure", list, &mut added.measures, Vec::new(), |e| {
            Some(&e.id)
        });
        self.more(base, extension, library);
        self.counts(base, extension, (old_histories, old_variants), old_priors);
    }

    fn append<T>(
        &mut self,
        what: &'static str,
        base: &mut Vec<T>,
        added: &mut Vec<T>,
        shared: Vec<String>,
        id: fn(&T) -> Option<&String>,
    ) {
        let ids: Vec<Option<String>> = base.iter().map(|entry| id(entry).cloned()).collect();
        let known = Known {
            what,
            own: map(ids.into_iter().enumerate().filter_map(swapped)),
            shared,
        };
        for (place, entry) in added.drain(..).enumerate() {
            let named = id(&entry).cloned().unwrap_or_default();
            if self.is_new(&known, &named, (place, base.len())) {
                base.push(entry);
            }
        }
    }

    /// Whether an entry's id stands nowhere yet; says where it came from and goes to.
    fn is_new(&mut self, known: &Known, named: &str, (from, to): (usize, usize)) -> bool {
        let what = known.what;
        let at = self.extension_root.then(what).then(from);
        let stands = match known.own.get(named) {
            Some(there) => Some(self.pack_root.then(what).then(*there)),
            None => known
                .shared
                .iter()
                .position(|id| id == named)
                .map(|there| self.library_root.then(what).then(there)),
        };
        let Some(stands) = stands else {
            let joined = self.pack_root.then(what).then(to);
            self.problems.moved(&joined, &at);
            return true;
        };
        let there = self.problems.stands(&stands);
        let message = format!(
            "{} `{named}` stands already at {there}; {}",
            what.replace('_', " "),
            other_way(what, named)
        );
        let field = if what == "prior" { "variant" } else { "id" };
        let place = at.then(field).or(at.then("from"));
        self.problems.note(&place, "pack/conflict", message);
        false
    }

    fn more(&mut self, base: &mut PackFile, extension: &ExtensionFile, library: &LibraryFile) {
        for (key, more) in &extension.more {
            let at = self.extension_root.then("more").then(key.as_str());
            let Some((what, id)) = key.split_once('/') else {
                self.not_an_entry(&at, key);
                continue;
            };
            let named = |own: &Option<String>, from: &Option<String>| {
                own.as_ref().or(from.as_ref()).is_some_and(|own| own == id)
            };
            let place = match what {
                "sign" => base.signs.iter().position(|e| named(&e.id, &e.from)),
                "incident" => base.incidents.iter().position(|e| named(&e.id, &e.from)),
                "measure" => base.measures.iter().position(|e| e.id == id),
                "history" => base.histories.iter().position(|e| e.id == id),
                _ => {
                    self.not_an_entry(&at, key);
                    continue;
                }
            };
            let Some(place) = place else {
                let valid: Vec<&str> = match what {
                    "sign" => base
                        .signs
                        .iter()
                        .filter_map(|e| e.id.as_deref().or(e.from.as_deref()))
                        .collect(),
                    "incident" => base
                        .incidents
                        .iter()
                        .filter_map(|e| e.id.as_deref().or(e.from.as_deref()))
                        .collect(),
                    "measure" => base.measures.iter().map(|e| &*e.id).collect(),
                    _ => base.histories.iter().map(|e| &*e.id).collect(),
                };
                let valid = valid.into_iter();
                self.problems
                    .unknown(&at, "pack/unknown-id", (what, id), valid);
                continue;
            };
            self.refuse_strange_fields(&at, what, more);
            let entry = self.pack_root.then(what).then(place);
            match what {
                "sign" => self.more_of_sign(&at, &entry, &mut base.signs[place], more, library),
                "incident" => {
                    let incident = &mut base.incidents[place];
                    let shared = incident.from.as_ref().and_then(|from| {
                        let place = library
                            .incidents
                            .iter()
                            .position(|e| e.id.as_ref() == Some(from))?;
                        Some((place, library.incidents[place].rate.as_ref()?))
                    });
                    let shared = shared.map(|(place, rate)| {
                        (self.library_root.then("incident").then(place), rate)
                    });
                    let own = incident.rate.get_or_insert_default();
                    self.add("rate", (&at, &entry), own, &more.rate, shared);
                }
                "measure" => {
                    let measure = &mut base.measures[place];
                    self.add(
                        "density",
                        (&at, &entry),
                        &mut measure.density,
                        &more.density,
                        None,
                    );
                    self.add(
                        "movement",
                        (&at, &entry),
                        &mut measure.movement,
                        &more.movement,
                        None,
                    );
                }
                _ => {
                    let origin = &mut base.histories[place].origin;
                    self.add("origin", (&at, &entry), origin, &more.origin, None);
                }
            }
        }
    }

    fn more_of_sign(
        &mut self,
        at: &At,
        entry: &At,
        sign: &mut SignFile,
        more: &MoreFile,
        library: &LibraryFile,
    ) {
        let base = sign.from.as_ref().and_then(|from| {
            let place = library
                .signs
                .iter()
                .position(|e| e.id.as_ref() == Some(from))?;
            Some((
                self.library_root.then("sign").then(place),
                &library.signs[place],
            ))
        });
        let dated = sign.dated.is_some()
            || (sign.shows.is_none() && base.as_ref().is_some_and(|(_, e)| e.dated.is_some()));
        if dated && !more.shows.is_empty() {
            let message = "this sign is dated, so its chances follow from its curve and the part's \
                           date; leave `shows` out";
            self.problems
                .note(&at.then("shows"), "pack/conflict", message);
        } else if !more.shows.is_empty() {
            let shared = base
                .as_ref()
                .and_then(|(place, e)| Some((place.clone(), e.shows.as_ref()?)));
            let own = sign.shows.get_or_insert_default();
            self.add("shows", (at, entry), own, &more.shows, shared);
        }
        if !more.caused_by.is_empty() {
            let shared = base
                .as_ref()
                .and_then(|(place, e)| Some((place.clone(), e.caused_by.as_ref()?)));
            let own = sign.caused_by.get_or_insert_default();
            self.add("caused_by", (at, entry), own, &more.caused_by, shared);
        }
        if !more.hidden_by.is_empty() {
            let shared = base
                .as_ref()
                .and_then(|(place, e)| Some((place.clone(), e.hidden_by.as_ref()?)));
            let own = sign.hidden_by.get_or_insert_default();
            self.add("hidden_by", (at, entry), own, &more.hidden_by, shared);
        }
    }

    /// Adds entries to a map of the pack's, refusing those that are there already, in the pack or
    /// in the library's entry that it takes in.
    fn add<T: Clone>(
        &mut self,
        field: &str,
        (at, entry): (&At, &At),
        own: &mut BTreeMap<String, T>,
        added: &BTreeMap<String, T>,
        shared: Option<(At, &BTreeMap<String, T>)>,
    ) {
        for (key, value) in added {
            let here = at.then(field).then(key.as_str());
            let stands = if own.contains_key(key) {
                Some(entry.clone())
            } else {
                shared
                    .as_ref()
                    .filter(|(_, map)| map.contains_key(key))
                    .map(|(place, _)| place.clone())
            };
            if let Some(stands) = stands {
                let there = self.problems.stands(&stands.then(field).then(key.as_str()));
                let message = format!(
                    "`{field}` has `{key}` already, at {there}; change the number under [numbers]"
                );
                self.problems.note(&here, "pack/conflict", message);
                continue;
            }
            self.problems
                .moved(&entry.then(field).then(key.as_str()), &here);
            own.insert(key.clone(), value.clone());
        }
    }

    fn not_an_entry(&mut self, at: &At, key: &str) {
        let message = format!(
            "`{key}` is none of `sign/ID`, `measure/ID`, `incident/ID` and `history/ID`, to which \
             something can be added"
        );
        self.problems.note(at, "pack/unknown-id", message);
    }

    fn refuse_strange_fields(&mut self, at: &At, what: &str, more: &MoreFile) {
        let fields = [
            ("shows", "sign", more.shows.is_empty()),
            ("caused_by", "sign", more.caused_by.is_empty()),
            ("hidden_by", "sign", more.hidden_by.is_empty()),
            ("density", "measure", more.density.is_empty()),
            ("movement", "measure", more.movement.is_empty()),
            ("rate", "incident", more.rate.is_empty()),
            ("origin", "history", more.origin.is_empty()),
        ];
        for (field, of, empty) in fields {
            if !empty && of != what {
                let message =
                    format!("`{field}` goes with `{of}/ID`, not with `{what}/ID`; leave it out");
                self.problems
                    .note(&at.then(field), "pack/conflict", message);
            }
        }
    }

    /// Puts the new histories' counts into the priors of the pack's own variants, whose counts
    /// share what is left.
    fn counts(
        &mut self,
        base: &mut PackFile,
        extension: &ExtensionFile,
        (old_histories, old_variants): (usize, usize),
        old_priors: usize,
    ) {
        let counts_at = self.extension_root.then("counts");
        let new: Vec<String> = base.histories[old_histories..]
            .iter()
            .map(|h| h.id.clone())
            .collect();
        for (history, by_variant) in &extension.counts {
            let at = counts_at.then(history.as_str());
            if base.histories[..old_histories]
                .iter()
                .any(|h| h.id == *history)
            {
                let message = format!(
                    "history `{history}` is the pack's own; change its counts under [numbers], as \
                     \"prior/VARIANT/{history}\""
                );
                self.problems.note(&at, "pack/conflict", message);
            } else if !new.contains(history) {
                let valid = new.iter().map(String::as_str);
                self.problems
                    .unknown(&at, "pack/unknown-id", ("history", history), valid);
            }
            for (variant, count) in by_variant {
                let at = at.then(variant.as_str());
                let valid = base.variants[..old_variants].iter().map(|v| &*v.id);
                if variant != "any" && !valid.clone().any(|id| id == variant) {
                    self.problems
                        .unknown(&at, "pack/unknown-id", ("variant", variant), valid);
                } else if !(*count >= 0.0 && *count < 1000.0) {
                    let message = format!("count {} must be 0 to below 1,000", figure(*count));
                    self.problems.note(&at, "pack/number", message);
                }
            }
        }
        if !self.problems.is_empty() {
            return;
        }
        for place in 0..old_priors {
            let variant = base.priors[place].variant.clone();
            let mut room = 1000.0;
            let mut joined = Vec::new();
            for history in &new {
                let given = extension.counts.get(history);
                let found = given.and_then(|counts| {
                    [variant.as_str(), "any"]
                        .into_iter()
                        .find_map(|key| Some((key, *counts.get(key)?)))
                });
                let Some((key, count)) = found else {
                    let place = base
                        .histories
                        .iter()
                        .position(|h| h.id == *history)
                        .unwrap_or(0);
                    let at = self.pack_root.then("history").then(place);
                    let message = format!(
                        "history `{history}` has no count for the variant `{variant}`; give one \
                         under [counts.{history}], or one for `any`"
                    );
                    self.problems.note(&at, "pack/missing", message);
                    continue;
                };
                let at = counts_at.then(history.as_str()).then(key);
                let prior = self.pack_root.then("prior").then(place).then("counts");
                self.problems.moved(&prior.then(history.as_str()), &at);
                room -= count;
                joined.push((history.clone(), count));
            }
            if room <= 0.0 {
                let message = format!(
                    "the new histories take {} of 1,000 pieces of the variant `{variant}` and leave \
                     none for the pack's own; give less",
                    figure(1000.0 - room)
                );
                self.problems.note(&counts_at, "pack/row-sum", message);
                continue;
            }
            let counts = &mut base.priors[place].counts;
            counts
                .values_mut()
                .for_each(|count| *count *= room / 1000.0);
            counts.extend(joined);
        }
    }
}

fn ids<T>(entries: &[T], id: impl Fn(&T) -> &String) -> Vec<String> {
    entries.iter().map(|entry| id(entry).clone()).collect()
}
