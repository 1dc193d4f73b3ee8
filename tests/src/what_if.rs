//! The same case with something changed, answered from scratch: what the quick methods of the
//! engine are checked against.

use oddment::case::Outcome;
use oddment::pack::{NumberId, Shows};
use oddment::{Case, Model, Pack, Text};
use std::path::PathBuf;

/// The example cases of drop-leaf tables: name and text, in the order of their names.
pub fn examples() -> Vec<(String, String)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../priors/cases");
    let entries =
        std::fs::read_dir(&folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
    let mut cases: Vec<(String, String)> = entries
        .map(|entry| {
            let path = entry.unwrap_or_else(|error| panic!("{error}")).path();
            let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{error}"));
            let name = path.file_stem().map(|name| name.display().to_string());
            (name.unwrap_or_default(), text)
        })
        .filter(|(_, text)| text.contains("form = \"drop-leaf-table\""))
        .collect();
    cases.sort();
    cases
}

/// One example case.
pub fn example(pack: &Pack, name: &str) -> Case {
    let found = examples().into_iter().find(|(known, _)| known == name);
    load(
        pack,
        &found
            .unwrap_or_else(|| panic!("the example {name} is missing"))
            .1,
    )
}

/// A case from its text.
pub fn load(pack: &Pack, text: &str) -> Case {
    Case::load(Text::new("case", text), pack).unwrap_or_else(|error| panic!("{error}"))
}

/// A model of the whole pack for a case's claim and numbers.
pub fn whole_model(pack: &Pack, case: &Case) -> Model {
    Model::compile(pack, case.years, &case.numbers).unwrap_or_else(|error| panic!("{error}"))
}

/// The verdicts of a case by a whole model of its own.
pub fn verdicts(pack: &Pack, case: &Case) -> [f64; 4] {
    verdicts_by(&whole_model(pack, case), pack, case)
}

/// The verdicts of a case by a model compiled for its claim and numbers.
pub fn verdicts_by(model: &Model, pack: &Pack, case: &Case) -> [f64; 4] {
    let verdicts = model.verdicts(pack, case);
    verdicts.unwrap_or_else(|error| panic!("{error}"))
}

/// The histories of a case by a model compiled for its claim and numbers.
pub fn histories_by(model: &Model, pack: &Pack, case: &Case) -> Vec<f64> {
    let histories = model.histories(pack, case);
    histories.unwrap_or_else(|error| panic!("{error}"))
}

/// One thing a case says: a reported finding or a reading, by its index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Said {
    /// A finding.
    Finding(usize),
    /// A reading.
    Reading(usize),
}

/// Everything a case says, findings first, in the order written.
pub fn said(case: &Case) -> Vec<Said> {
    let reported =
        |place: &usize| matches!(case.findings[*place].outcome, Outcome::Reported { .. });
    let findings = (0..case.findings.len()).filter(reported);
    let readings = 0..case.readings.len();
    findings
        .map(Said::Finding)
        .chain(readings.map(Said::Reading))
        .collect()
}

/// The case with only some of what it says, by its place in [`said`].
pub fn only(case: &Case, keep: impl Fn(usize) -> bool) -> Case {
    let said = said(case);
    let mut less = case.clone();
    less.findings.clear();
    less.readings.clear();
    for (place, what) in said.into_iter().enumerate() {
        if keep(place) {
            match what {
                Said::Finding(index) => less.findings.push(case.findings[index].clone()),
                Said::Reading(index) => less.readings.push(case.readings[index].clone()),
            }
        }
    }
    less
}

/// What must keep its sum when one number of a pack is changed, that number among it: a row of
/// chances or the counts of a variant.
pub fn row_of(pack: &Pack, id: NumberId) -> Vec<NumberId> {
    let priors = pack.priors.iter().map(|prior| &prior.counts);
    let signs = pack.signs.iter();
    let shown = signs.clone().flat_map(|sign| match &sign.shows {
        Shows::History(rows) => rows.as_slice(),
        Shows::Dated { .. } => &[],
    });
    let caused = signs.flat_map(|sign| sign.causes.iter().map(|(_, row)| row));
    let mut rows = priors.chain(shown).chain(caused);
    let found = rows.find(|row| row.contains(&id));
    found.cloned().unwrap_or_else(|| vec![id])
}

/// The case with one number changed, the rest of its row giving way in proportion.
pub fn with_number(pack: &Pack, case: &Case, id: &str, value: f64) -> Case {
    let number = number(pack, id);
    let mut changed = case.clone();
    let others: Vec<usize> = row_of(pack, number)
        .iter()
        .map(|id| id.index())
        .filter(|other| *other != number.index())
        .collect();
    let rest: f64 = others.iter().map(|other| case.numbers[*other]).sum();
    let left = rest + case.numbers[number.index()] - value;
    for other in others {
        changed.numbers[other] = case.numbers[other] * left / rest;
    }
    changed.numbers[number.index()] = value;
    changed
}

/// A number's place.
pub fn number(pack: &Pack, id: &str) -> NumberId {
    let found = pack.find_number(id);
    found.unwrap_or_else(|| panic!("the pack has no number {id}"))
}

/// Odds of one verdict against all others, in decibans.
pub fn decibans(verdicts: &[f64; 4], verdict: usize) -> f64 {
    let others = (0..4).filter(|other| *other != verdict);
    let against: f64 = others.map(|other| verdicts[other]).sum();
    10.0 * libm::log10(verdicts[verdict] / against)
}

/// The place of the largest, the first of equals.
pub fn leader(verdicts: &[f64]) -> usize {
    let mut best = 0;
    for place in 1..verdicts.len() {
        if verdicts[place] > verdicts[best] {
            best = place;
        }
    }
    best
}
