//! How much a pack and its library may hold, checked before anything is built from them.

use super::file::{LibraryFile, PackFile};
use crate::text::{At, Problems, bounded};
use serde::de::{Deserialize, Deserializer};
use std::collections::BTreeMap;

/// The longest id, in bytes.
const MAX_ID: usize = 80;

/// How often one library entry may be taken into a pack.
const MAX_DRAWN: usize = 20;

/// The most histories.
const MAX_HISTORIES: usize = 64;

/// The most entries of any other kind.
const MAX_ENTRIES: usize = 1_000;

/// Reads a list of entries, but no more than one above what [`check`] then lets pass, so that a
/// short text cannot ask for very much memory.
pub(super) fn list<'de, D, T>(deserializer: D) -> Result<Vec<T>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
{
    bounded(deserializer, MAX_ENTRIES + 1)
}

/// Notes lists that are too long, and ids so long that what is built of them would be.
pub(super) fn check(
    problems: &mut Problems<'_>,
    (root, pack): (&At, &PackFile),
    (library_root, library): (&At, &LibraryFile),
) {
    let counts = [
        (root, "variant", pack.variants.len()),
        (root, "period", pack.periods.len()),
        (root, "region", pack.regions.len()),
        (root, "part", pack.parts.len()),
        (root, "later_work", pack.later_work.len()),
        (root, "prior", pack.priors.len()),
        (root, "prior_factor", pack.prior_factors.len()),
        (root, "group", pack.groups.len()),
        (root, "source", pack.sources.len()),
        (root, "curve", pack.curves.len()),
        (root, "caution", pack.cautions.len()),
        (root, "check", pack.checks.len()),
        (root, "incident", pack.incidents.len()),
        (root, "sign", pack.signs.len()),
        (root, "measure", pack.measures.len()),
        (library_root, "source", library.sources.len()),
        (library_root, "curve", library.curves.len()),
        (library_root, "caution", library.cautions.len()),
        (library_root, "check", library.checks.len()),
        (library_root, "incident", library.incidents.len()),
        (library_root, "sign", library.signs.len()),
    ];
    for (root, what, count) in counts {
        too_many(problems, &root.then(what), what, count, MAX_ENTRIES);
    }
    let histories = pack.histories.len();
    too_many(
        problems,
        &root.then("history"),
        "history",
        histories,
        MAX_HISTORIES,
    );

    let checks = pack.checks.iter().map(|check| check.from.as_deref());
    drawn(problems, &root.then("check"), "check", checks);
    let incidents = pack
        .incidents
        .iter()
        .map(|incident| incident.from.as_deref());
    drawn(problems, &root.then("incident"), "incident", incidents);
    let signs = pack.signs.iter().map(|sign| sign.from.as_deref());
    drawn(problems, &root.then("sign"), "sign", signs);

    let ids: [(&At, &'static str, Vec<Option<&str>>); 12] = [
        (
            root,
            "variant",
            pack.variants.iter().map(|e| Some(&*e.id)).collect(),
        ),
        (
            root,
            "part",
            pack.parts.iter().map(|e| Some(&*e.id)).collect(),
        ),
        (
            root,
            "history",
            pack.histories.iter().map(|e| Some(&*e.id)).collect(),
        ),
        (
            root,
            "prior_factor",
            pack.prior_factors.iter().map(|e| Some(&*e.id)).collect(),
        ),
        (
            root,
            "group",
            pack.groups.iter().map(|e| Some(&*e.id)).collect(),
        ),
        (
            root,
            "check",
            pack.checks.iter().map(|e| e.id.as_deref()).collect(),
        ),
        (
            root,
            "incident",
            pack.incidents.iter().map(|e| e.id.as_deref()).collect(),
        ),
        (
            root,
            "sign",
            pack.signs.iter().map(|e| e.id.as_deref()).collect(),
        ),
        (
            root,
            "measure",
            pack.measures.iter().map(|e| Some(&*e.id)).collect(),
        ),
        (
            library_root,
            "check",
            library.checks.iter().map(|e| e.id.as_deref()).collect(),
        ),
        (
            library_root,
            "incident",
            library.incidents.iter().map(|e| e.id.as_deref()).collect(),
        ),
        (
            library_root,
            "sign",
            library.signs.iter().map(|e| e.id.as_deref()).collect(),
        ),
    ];
    let long = |id: &str| id.len() > MAX_ID;
    for (root, what, ids) in ids {
        for (place, id) in ids.into_iter().enumerate() {
            if let Some(id) = id.filter(|id| long(id)) {
                let at = root.then(what).then(place).then("id");
                check_id(problems, &at, &format!("{what} id"), id);
            }
        }
    }
    for (place, history) in pack.histories.iter().enumerate() {
        if long(&history.kind) {
            let at = root.then("history").then(place).then("kind");
            check_id(problems, &at, "kind", &history.kind);
        }
    }
}

/// Checks that an id is in kebab-case and of a readable length.
pub(super) fn check_id(problems: &mut Problems<'_>, at: &At, what: &str, id: &str) {
    let kebab = id
        .bytes()
        .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
    if !kebab || id.is_empty() || id.len() > MAX_ID {
        let message =
            format!("{what} `{id}` must be 1 to {MAX_ID} lower-case letters, digits and hyphens");
        problems.note(at, "pack/bad-id", message);
    }
}

/// Keeps a pack from taking one library entry, which may be large, very many times.
fn drawn<'f>(
    problems: &mut Problems<'_>,
    list: &At,
    what: &str,
    from: impl Iterator<Item = Option<&'f str>>,
) {
    let mut drawn = BTreeMap::new();
    for (place, from) in from.enumerate() {
        let Some(from) = from else { continue };
        let times = drawn.entry(from).or_insert(0);
        *times += 1;
        if *times == MAX_DRAWN + 1 {
            let message = format!(
                "library {what} `{from}` is taken more than {MAX_DRAWN} times, the most allowed"
            );
            problems.note(&list.then(place).then("from"), "pack/too-many", message);
        }
    }
}

/// Notes a table that is too long.
pub(super) fn check_list(problems: &mut Problems<'_>, at: &At, count: usize) {
    if count > MAX_ENTRIES {
        let message = format!("more than {MAX_ENTRIES} entries, the most allowed");
        problems.note(at, "pack/too-many", message);
    }
}

fn too_many(problems: &mut Problems<'_>, at: &At, what: &str, count: usize, most: usize) {
    if count > most {
        let message = format!("more than {most} [[{what}]] entries, the most allowed");
        problems.note(&at.then(most), "pack/too-many", message);
    }
}
