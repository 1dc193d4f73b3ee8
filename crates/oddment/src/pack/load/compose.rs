//! Composing a pack with the shared library: joining lists, merging entries, stamping provenance.

use super::*;
use crate::order::{map, set};

pub(super) fn stated(mean: f64, strength: Option<f64>, source: Option<&String>) -> Number {
    Number::Stated(StatedNumber {
        mean,
        strength,
        source: source.cloned(),
        structural: false,
    })
}

pub(super) fn fall_back(at: At, library_root: &At, list: &str, from: Option<usize>) -> At {
    match from {
        Some(index) => at.or(library_root.then(list).then(index)),
        None => at,
    }
}

/// Joins the pack's entries with the library's; the pack's replace the library's of the same id.
/// Returns the entries and where each stands.
pub(super) fn join<T>(
    problems: &mut Problems<'_>,
    (root, own, id): (&At, Vec<T>, fn(&T) -> &String),
    (library_root, shared): (&At, Vec<T>),
    list: &str,
) -> (Vec<T>, Vec<At>) {
    let own_ids: Vec<String> = own.iter().map(|entry| id(entry).clone()).collect();
    let own_ids = set(own_ids);
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

/// Gives every number of a pack that states no strength or source those of its entry, or else its
/// file's, so that composing files cannot lend a number another file's provenance.
pub(super) fn stamp_pack(file: &mut PackFile) {
    let defaults = &file.defaults;
    stamp_shared(
        (&mut file.signs, &mut file.incidents, &mut file.curves),
        file.examination.as_mut(),
        defaults,
    );
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

/// The same for the shared library.
pub(super) fn stamp_library(library: &mut LibraryFile) {
    stamp_shared(
        (
            &mut library.signs,
            &mut library.incidents,
            &mut library.curves,
        ),
        library.examination.as_mut(),
        &library.defaults,
    );
}

/// The same for what an extension adds to a pack's entries or puts in place of its numbers.
pub(super) fn stamp_more(extension: &mut ExtensionFile) {
    let defaults = &extension.defaults;
    for more in extension.more.values_mut() {
        for chance in more.shows.values_mut().chain(more.caused_by.values_mut()) {
            if let Chance::Number(number) = chance {
                stamp(number, defaults);
            }
        }
        let numbers = more.hidden_by.values_mut().chain(more.rate.values_mut());
        numbers.for_each(|number| stamp(number, defaults));
    }
    extension
        .numbers
        .values_mut()
        .for_each(|number| stamp(number, defaults));
}

fn stamp_shared(
    (signs, incidents, curves): (
        &mut [SignFile],
        &mut [IncidentFile],
        &mut [crate::pack::file::CurveFile],
    ),
    examination: Option<&mut ExaminationFile>,
    defaults: &Defaults,
) {
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
    for curve in curves {
        curve.strength.get_or_insert(defaults.strength);
        curve.source.get_or_insert_with(|| defaults.source.clone());
    }
    if let Some(examination) = examination {
        let numbers = [
            &mut examination.poor,
            &mut examination.poor_factor,
            &mut examination.poor_instrument,
            &mut examination.sure,
            &mut examination.fairly_sure,
            &mut examination.doubtful,
        ];
        numbers.into_iter().for_each(|n| stamp(n, defaults));
    }
}

pub(super) fn block(
    strength: Option<f64>,
    source: Option<&String>,
    defaults: &Defaults,
) -> Defaults {
    Defaults {
        strength: strength.unwrap_or(defaults.strength),
        source: source.unwrap_or(&defaults.source).clone(),
    }
}

pub(super) fn stamp(number: &mut Number, block: &Defaults) {
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

pub(super) fn stamp_sign(sign: &mut SignFile, defaults: &Defaults) {
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

pub(super) fn merge_check(base: &CheckFile, over: &CheckFile) -> CheckFile {
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

pub(super) fn merge_incident(base: &IncidentFile, over: &IncidentFile) -> IncidentFile {
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

pub(super) fn merge_maps<T>(
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

pub(super) fn merge_sign(base: &SignFile, over: &SignFile, incidents: &Index) -> SignFile {
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
        variants: over.variants.or(base.variants),
        levels: over.levels.or(base.levels),
        shows: merge_maps(base.shows, over.shows),
        dated: over.dated.or(base.dated),
        caused_by: merge_maps(base.caused_by, over.caused_by),
        hidden_by: merge_maps(base.hidden_by, over.hidden_by),
        reliability: over.reliability.or(base.reliability),
        points_to: over.points_to.or(base.points_to),
        innocent: over.innocent.or(base.innocent),
        settles: over.settles.or(base.settles),
        strength: over.strength.or(base.strength),
        source: over.source.or(base.source),
    }
}

/// Leaves out library checks that no sign or measure of this form uses.
pub(super) fn keep_used_checks(pack: &mut Pack) {
    let mut used = set(pack.signs.iter().map(|sign| sign.check));
    used.extend(pack.measures.iter().map(|measure| measure.check));
    let place = map(used.iter().enumerate().map(|(new, old)| (*old, new)));
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
