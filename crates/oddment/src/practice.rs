//! Practice pieces: drawn from a pack, with the truth to hold an examiner's opinion against.

use crate::assessment::PackStamp;
use crate::case::file::{
    CASE_SCHEMA, CaseFile, FindingFile, PieceFile, ReadingFile, Sureness, VisitFile,
};
use crate::case::{Case, Outcome, Value};
use crate::error::{Error, Problem};
use crate::inquiry::stamp;
use crate::model::Model;
use crate::pack::{Pack, Verdict};
use crate::prior::history_priors;
use crate::text::{Text, nearest};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The `schema` field of a practice piece.
pub const PRACTICE_SCHEMA: &str = "oddment/practice/1";

/// Which piece to draw.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PracticeOptions {
    /// Id of the variant it is offered as; drawn evenly when `None`.
    pub variant: Option<String>,
    /// Id of the period it is offered as; drawn evenly when `None`.
    pub period: Option<String>,
    /// Id of the region it is offered as; drawn evenly when `None`.
    pub region: Option<String>,
    /// Equal seeds give equal pieces.
    pub seed: u64,
}

/// A piece drawn from the model of a pack: what it is, and what an ordinary examiner who looks at
/// everything would write down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Practice {
    /// Always `oddment/practice/1`.
    pub schema: String,
    /// Version of the engine.
    pub engine: String,
    /// The pack it was drawn from.
    pub pack: PackStamp,
    /// The seed.
    pub seed: u64,
    /// What is to be found out.
    pub truth: Truth,
    /// Every sign and measure as reported, mistakes included. To practise, show what is asked for
    /// and leave out what is not.
    pub case: CaseFile,
}

/// What a practice piece is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Truth {
    /// Id of its history.
    pub history: String,
    /// The history's name.
    pub name: String,
    /// The verdict it belongs to.
    pub verdict: Verdict,
    /// What happened to it.
    pub story: String,
    /// Ids of the incidents that befell it.
    pub incidents: Vec<String>,
    /// When its dated parts were made.
    pub dates: Vec<TrueDate>,
    /// Every sign at every part as it is, whatever was reported.
    pub signs: Vec<TrueSign>,
}

/// When a part of a practice piece was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrueDate {
    /// Id of the part.
    pub part: String,
    /// First year it may have been made in.
    pub from: i32,
    /// The year after the last.
    pub to: i32,
}

/// A sign as it is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrueSign {
    /// Id of the sign.
    pub sign: String,
    /// Id of the part.
    pub part: String,
    /// The level, in the pack's word.
    pub level: String,
}

/// Draws a practice piece.
///
/// # Errors
/// [`Error::Invalid`] for a variant, period or region that the pack does not have;
/// [`Error::Circuit`] when the pack's model is too large.
///
/// ```
/// use oddment::practice::{PracticeOptions, practice};
/// let pack = oddment::packs::load("drop-leaf-table")?;
/// let piece = practice(&pack, &PracticeOptions { seed: 7, ..PracticeOptions::default() })?;
/// // All that a piece of its variant has was looked at, and not everything rightly.
/// assert_eq!(piece.case.findings.len(), piece.truth.signs.len());
/// assert_eq!(piece, practice(&pack, &PracticeOptions { seed: 7, ..PracticeOptions::default() })?);
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn practice(pack: &Pack, options: &PracticeOptions) -> Result<Practice, Error> {
    let mut rng = ChaCha8Rng::seed_from_u64(options.seed);
    let mut choose = |what: &str, given: Option<&String>, ids: Vec<&str>| {
        let drawn = rng.random_range(0..ids.len());
        match given {
            None => Ok(ids[drawn].to_owned()),
            Some(id) if ids.contains(&id.as_str()) => Ok(id.clone()),
            Some(id) => Err(unknown(what, id, &ids)),
        }
    };
    let variants = pack.variants.iter().map(|entry| entry.id.as_str());
    let periods = pack.periods.iter().map(|entry| entry.id.as_str());
    let regions = pack.regions.iter().map(|entry| entry.id.as_str());
    let variant = choose("variant", options.variant.as_ref(), variants.collect())?;
    let place = pack.variants.iter().position(|entry| entry.id == variant);
    let place = place.unwrap_or_default();
    let mut file = everything_looked_at(pack, place);
    file.piece.variant = variant;
    file.piece.period = choose("period", options.period.as_ref(), periods.collect())?;
    file.piece.region = choose("region", options.region.as_ref(), regions.collect())?;

    let case = of_file(&file, pack)?;
    let model = Model::compile(pack, case.years, &case.numbers)?;
    let piece = model.draw_piece(&history_priors(pack, &case), &[], &mut rng);
    let reported = model.report(pack, &case, &piece, &mut rng);
    write_down(pack, &reported, &mut file);

    let happened = |place: usize| piece.states[model.incidents[place].index()] == 1;
    let history = &pack.histories[piece.history];
    let dates = pack
        .parts
        .iter()
        .zip(&model.dates)
        .enumerate()
        .filter(|(part, _)| pack.has_part(*part, place))
        .filter_map(|(_, (part, date))| {
            let (from, to) = pack.dates.years(piece.states[(*date)?.index()]);
            let part = part.id.clone();
            Some(TrueDate { part, from, to })
        });
    let leaves = model.leaves.iter();
    let leaves = leaves.filter(|leaf| pack.asks(&pack.signs[leaf.sign], leaf.part, place));
    let signs = leaves.map(|leaf| {
        let sign = &pack.signs[leaf.sign];
        TrueSign {
            sign: sign.id.clone(),
            part: pack.parts[leaf.part].id.clone(),
            level: sign.levels[piece.states[leaf.variable.index()]].clone(),
        }
    });
    Ok(Practice {
        schema: PRACTICE_SCHEMA.into(),
        engine: env!("CARGO_PKG_VERSION").into(),
        pack: stamp(pack),
        seed: options.seed,
        truth: Truth {
            history: history.id.clone(),
            name: history.name.clone(),
            verdict: history.verdict,
            story: history.story.clone(),
            incidents: pack
                .incidents
                .iter()
                .enumerate()
                .filter(|(place, _)| happened(*place))
                .map(|(_, incident)| incident.id.clone())
                .collect(),
            dates: dates.collect(),
            signs: signs.collect(),
        },
        case: file,
    })
}

/// A case in which one ordinary visit reports every sign and takes every measure that the variant
/// has; what it reports is still to be drawn.
fn everything_looked_at(pack: &Pack, variant: usize) -> CaseFile {
    let findings = pack.signs.iter().flat_map(|sign| {
        pack.parts_of(sign, variant).map(|part| FindingFile {
            sign: sign.id.clone(),
            part: Some(pack.parts[part].id.clone()),
            found: sign.levels[0].clone(),
            sure: Sureness::Sure,
            visit: None,
            look: None,
            note: None,
        })
    });
    let measures = pack.measures.iter().filter(|m| m.concerns(variant));
    let readings = measures.map(|measure| ReadingFile {
        measure: measure.id.clone(),
        value: Some(measure.plausible.0 / 2.0 + measure.plausible.1 / 2.0),
        less_than: None,
        more_than: None,
        between: None,
        unit: None,
        error: None,
        visit: None,
        note: None,
    });
    CaseFile {
        schema: CASE_SCHEMA.into(),
        piece: PieceFile {
            form: pack.id.clone(),
            variant: String::new(),
            period: String::new(),
            region: String::new(),
            title: Some("A practice piece".into()),
            note: Some("Drawn from the pack's model; there is no such piece.".into()),
            claimed_years: None,
            prices: None,
            timber: BTreeMap::new(),
        },
        visits: vec![VisitFile {
            id: "practice".into(),
            by: None,
            date: None,
            how: None,
            poor: None,
            error_factor: None,
        }],
        findings: findings.collect(),
        readings: readings.collect(),
        known: BTreeMap::new(),
        prior: BTreeMap::new(),
        numbers: BTreeMap::new(),
        stakes: None,
    }
}

fn of_file(file: &CaseFile, pack: &Pack) -> Result<Case, Error> {
    // Plain data with text keys and finite numbers always serialises.
    let text = serde_json::to_string(file).unwrap_or_default();
    Case::load(Text::new("practice piece", &text), pack)
}

/// Puts what was reported into the written case, readings as fine as the instrument is good and
/// never where nobody would believe them.
fn write_down(pack: &Pack, reported: &Case, file: &mut CaseFile) {
    for (written, finding) in file.findings.iter_mut().zip(&reported.findings) {
        if let Outcome::Reported { level, .. } = finding.outcome {
            written
                .found
                .clone_from(&pack.signs[finding.sign].levels[level]);
        }
    }
    for (written, reading) in file.readings.iter_mut().zip(&reported.readings) {
        if let Value::Exactly(value) = reading.value {
            let (low, high) = pack.measures[reading.measure].plausible;
            let fine = to_step(value, reading.error).clamp(low, high);
            written.value = Some(fine);
        }
    }
}

/// Rounded to the power of ten below an instrument's error.
fn to_step(value: f64, error: f64) -> f64 {
    if error <= 0.0 {
        return value;
    }
    let digits = -libm::floor(libm::log10(error));
    // Multiplying by a whole power of ten and dividing again gives the nearest decimal.
    let scale = libm::pow(10.0, digits.abs());
    let fine = if digits >= 0.0 {
        (value * scale).round() / scale
    } else {
        (value / scale).round() * scale
    };
    if fine.is_finite() { fine } else { value }
}

fn unknown(what: &str, id: &str, valid: &[&str]) -> Error {
    let near = nearest(id, valid.iter().copied());
    let near = near.map_or_else(String::new, |near| format!(", perhaps `{near}`"));
    Error::Invalid(vec![Problem {
        code: "query/unknown-id",
        file: String::new(),
        line: 0,
        column: 0,
        message: format!("unknown {what} `{id}`{near}; valid: {}", valid.join(", ")),
        excerpt: String::new(),
    }])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs;

    #[test]
    fn a_practice_piece_of_every_form_is_a_valid_case() {
        for form in packs::forms() {
            let pack = packs::load(form).unwrap();
            let options = PracticeOptions {
                seed: 3,
                ..PracticeOptions::default()
            };
            let piece = practice(&pack, &options).unwrap();
            let case = of_file(&piece.case, &pack).unwrap();
            assert_eq!(case.file, piece.case, "{form}");
            assert_eq!(piece.truth.signs.len(), piece.case.findings.len(), "{form}");
            assert!(piece.truth.signs.len() > 30, "{form}");
        }
    }

    #[test]
    fn reports_are_mostly_right_and_sometimes_wrong() {
        let pack = packs::load("drop-leaf-table").unwrap();
        let (mut right, mut all) = (0, 0);
        for seed in 0..5 {
            let options = PracticeOptions {
                seed,
                ..PracticeOptions::default()
            };
            let piece = practice(&pack, &options).unwrap();
            for (truth, finding) in piece.truth.signs.iter().zip(&piece.case.findings) {
                assert_eq!(Some(&truth.part), finding.part.as_ref());
                right += usize::from(truth.level == finding.found);
                all += 1;
            }
        }
        assert!(right < all && right * 10 > all * 7, "{right} of {all}");
    }

    #[test]
    fn an_unknown_variant_is_refused_with_those_there_are() {
        let pack = packs::load("drop-leaf-table").unwrap();
        let options = PracticeOptions {
            variant: Some("ovall".into()),
            ..PracticeOptions::default()
        };
        let error = practice(&pack, &options).unwrap_err();
        assert_eq!(error.code(), "query/unknown-id");
        assert!(error.to_string().contains("perhaps `oval`"), "{error}");
    }

    #[test]
    fn readings_are_as_fine_as_the_instrument() {
        assert_eq!(to_step(12.345, 0.2), 12.3);
        assert_eq!(to_step(1234.5, 20.0), 1230.0);
        assert_eq!(to_step(1.25, 0.0), 1.25);
    }
}
