//! Checks, incidents, signs and measures.

use super::compose::{fall_back, merge_check, merge_incident, merge_sign};
use super::*;
use crate::order::set;

/// The fewest words that can be an argument.
const LEAST_ARGUMENT: usize = 5;

/// A sign of the pack with what it takes from the library.
struct Composed<'f> {
    whole: SignFile,
    own: &'f SignFile,
    base: Option<&'f SignFile>,
}

impl Composed<'_> {
    /// Which of the two an entry of a map is from, whose strength and source it therefore has.
    fn file_of<T>(
        &self,
        map: impl Fn(&SignFile) -> Option<&BTreeMap<String, T>>,
        key: &str,
    ) -> &SignFile {
        let own = map(self.own).is_some_and(|map| map.contains_key(key));
        self.base.filter(|_| !own).unwrap_or(self.own)
    }
}

impl Loader<'_> {
    pub(super) fn checks(
        &mut self,
        root: &At,
        library_root: &At,
        file: &PackFile,
        library: &LibraryFile,
        cautions: &Index,
    ) -> (Vec<Check>, Index) {
        let base = self.base("check", library_root, &library.checks, |c| c.id.as_deref());
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
        let own = set(composed.iter().map(|(check, _)| check.id.clone()));
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
                    .unwrap_or(crate::pack::Access::WalkBy),
                leave: self
                    .need(&entry, "leave", check.leave)
                    .unwrap_or(crate::pack::Leave::Ask),
                cautions,
            });
        }
        let index = self.composed_index("check", &composed, |check| check.id.as_deref());
        (checks, index)
    }

    pub(super) fn incidents(
        &mut self,
        root: &At,
        library_root: &At,
        file: &PackFile,
        library: &LibraryFile,
    ) -> (Vec<Incident>, Index) {
        let base = self.base("incident", library_root, &library.incidents, |i| {
            i.id.as_deref()
        });
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

    pub(super) fn signs(
        &mut self,
        root: &At,
        library_root: &At,
        file: &PackFile,
        library: &LibraryFile,
        context: &Context<'_>,
    ) -> Vec<Sign> {
        let base = self.base("sign", library_root, &library.signs, |s| s.id.as_deref());
        let mut composed: Vec<(Composed<'_>, At)> = Vec::new();
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
            let base = from.map(|index| &library.signs[index]);
            let sign = Composed {
                whole: base.map_or_else(
                    || sign.clone(),
                    |base| merge_sign(base, sign, context.incidents),
                ),
                own: sign,
                base,
            };
            composed.push((sign, fall_back(at, library_root, "sign", from)));
        }
        self.composed_index("sign", &composed, |sign| sign.whole.id.as_deref());
        let mut signs = Vec::new();
        for (sign, at) in &composed {
            signs.extend(self.sign(at, sign, context));
        }
        signs
    }

    fn sign(&mut self, at: &At, composed: &Composed<'_>, context: &Context<'_>) -> Option<Sign> {
        let sign = &composed.whole;
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
        let named = set(&levels);
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
        let shows = self.shows(at, &id, composed, levels.len(), context)?;
        let mut causes = Vec::new();
        for (incident, chance) in sign.caused_by.iter().flatten() {
            let at = at.then("caused_by").then(incident.as_str());
            let Some(index) = context.incidents.get(incident, &at, &mut self.problems) else {
                continue;
            };
            let number = format!("sign/{id}/caused-by/{incident}");
            let of = composed.file_of(|sign| sign.caused_by.as_ref(), incident);
            causes.push((index, self.row(&at, &number, chance, levels.len(), of)));
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
        let settles = self.argument(at, sign.settles.as_ref());
        let variants = self.only(at, sign.variants.as_ref(), context.variants);
        let variants = self.at_parts(at, (&parts, variants), context);
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
            settles,
            variants,
        })
    }

    /// The variants that have each part.
    pub(super) fn part_variants(
        &mut self,
        root: &At,
        file: &PackFile,
        variants: &Index,
    ) -> Vec<Option<Vec<usize>>> {
        let parts = file.parts.iter().enumerate();
        parts
            .map(|(place, part)| {
                let at = root.then("part").then(place);
                let only = self.only(&at, part.variants.as_ref(), variants);
                // Where none is known that has been said: its signs have no fault of their own.
                only.filter(|only| !only.is_empty())
            })
            .collect()
    }

    /// The variants among those given (all when `None`) that have one of some parts; each part must
    /// be of use to one of them.
    fn at_parts(
        &mut self,
        at: &At,
        (parts, variants): (&[usize], Option<Vec<usize>>),
        context: &Context<'_>,
    ) -> Option<Vec<usize>> {
        let has = |part: usize, variant: usize| {
            let only = context.part_variants[part].as_ref();
            only.is_none_or(|only| only.contains(&variant))
        };
        if parts
            .iter()
            .all(|part| context.part_variants[*part].is_none())
        {
            return variants;
        }
        let asked = variants.unwrap_or_else(|| (0..context.variants.places.len()).collect());
        let of_use = |part: &usize| asked.iter().any(|variant| has(*part, *variant));
        if !asked.is_empty() && !parts.iter().all(of_use) {
            let message = "none of the `variants` here has one of the parts here; leave that part out, or name \
                           variants that have it";
            self.note(&at.then("variants"), "pack/variants", message);
        }
        let has_one = |variant: &usize| parts.iter().any(|part| has(*part, *variant));
        Some(asked.into_iter().filter(has_one).collect())
    }

    /// The variants that have a part, sign or measure.
    fn only(
        &mut self,
        at: &At,
        variants: Option<&Vec<String>>,
        index: &Index,
    ) -> Option<Vec<usize>> {
        let at = at.then("variants");
        let ids = variants?;
        if ids.is_empty() {
            let message = "`variants` names none, so nothing would have it; leave it out for all";
            self.note(&at, "pack/variants", message);
        }
        let ids = ids.iter().enumerate();
        Some(
            ids.filter_map(|(i, id)| index.get(id, &at.then(i), &mut self.problems))
                .collect(),
        )
    }

    /// Why a single observation may settle a case: a word or two are no argument.
    fn argument(&mut self, at: &At, settles: Option<&String>) -> Option<String> {
        let argument = settles?;
        if argument.split_whitespace().count() < LEAST_ARGUMENT {
            let message = format!(
                "`settles` must say in at least a sentence ({LEAST_ARGUMENT} words) why one look \
                 may settle a case; argue it, or leave it out"
            );
            self.note(&at.then("settles"), "pack/settles", message);
        }
        Some(argument.clone())
    }

    fn shows(
        &mut self,
        at: &At,
        id: &str,
        composed: &Composed<'_>,
        levels: usize,
        context: &Context<'_>,
    ) -> Option<Shows> {
        let sign = &composed.whole;
        match (&sign.shows, &sign.dated) {
            (Some(shows), None) => {
                let at = at.then("shows");
                let mut rows = Vec::new();
                for history in 0..self.selectors.len() {
                    match select(&self.selectors[history], shows) {
                        Some((selector, chance)) => {
                            let number = format!("sign/{id}/shows/{selector}");
                            let at = at.then(selector);
                            let of = composed.file_of(|sign| sign.shows.as_ref(), selector);
                            rows.push(self.row(&at, &number, chance, levels, of));
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

    pub(super) fn reliability(
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

    pub(super) fn measures(
        &mut self,
        root: &At,
        file: &PackFile,
        context: &Context<'_>,
    ) -> Vec<Measure> {
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

    /// The number that shifts or stretches what is expected of a measure.
    fn moved(
        &mut self,
        at: &At,
        measure: &MeasureFile,
        selector: &str,
        density: &Density,
    ) -> NumberId {
        let (what, mean, domain) = if density.is_located() {
            let deviation = density.widest_scale();
            ("shift", 0.0, Domain::Shift { deviation })
        } else {
            ("stretch", 1.0, Domain::Stretch)
        };
        let number = stated(mean, measure.strength, measure.source.as_ref());
        self.number(
            at,
            format!("measure/{}/{what}/{selector}", measure.id),
            &number,
            domain,
        )
    }

    pub(super) fn measure(
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
                let moved = self.moved(&at, measure, &over.incident, &over.density);
                let values = ExpectedValues::Density(over.density.clone());
                let expectation = Expectation { values, moved };
                overrides.extend(incident.map(|incident| (incident, expectation)));
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
            let density = select(selectors, &measure.density)
                .map(|(selector, density)| (selector, ExpectedValues::Density(density.clone())));
            let movement = select(selectors, &measure.movement)
                .map(|(selector, movement)| (selector, ExpectedValues::Movement(movement.clone())));
            match density.or(movement) {
                Some((selector, values)) => {
                    let moved = match &values {
                        ExpectedValues::Density(density) => self.moved(
                            &at.then("density").then(selector),
                            measure,
                            selector,
                            density,
                        ),
                        ExpectedValues::Movement(movement) => {
                            let density = crate::examination::any_movement(movement);
                            let at = at.then("movement").then(selector);
                            self.moved(&at, measure, selector, &density)
                        }
                    };
                    expectations.push(Expectation { values, moved });
                }
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
        let settles = self.argument(at, measure.settles.as_ref());
        let variants = self.only(at, measure.variants.as_ref(), context.variants);
        let part = part?;
        let variants = self.at_parts(at, (&[part], variants), context);
        Some(Measure {
            id: measure.id.clone(),
            part,
            name: measure.name.clone(),
            unit: measure.unit.clone(),
            check: check?,
            error: measure.error,
            plausible: measure.plausible,
            expectations,
            overrides,
            points_to: measure.points_to.clone(),
            innocent: measure.innocent.clone(),
            settles,
            variants,
            strength,
            source,
        })
    }
}
