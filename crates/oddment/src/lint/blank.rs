//! Cases made up for simulated pieces to be reported in.

use crate::case::file::{CASE_SCHEMA, CaseFile, PieceFile};
use crate::case::{Case, Finding, Outcome, Reading, Sureness, Value, Visit};
use crate::pack::{Pack, Sign};
use std::collections::BTreeMap;

/// A case of one ordinary visit in which nothing has been looked at yet.
pub(crate) fn blank_case(pack: &Pack, [variant, period, region]: [usize; 3]) -> Case {
    let (claimed, from) = (&pack.periods[period], &pack.regions[region]);
    let piece = PieceFile {
        form: pack.id.clone(),
        variant: pack.variants[variant].id.clone(),
        period: claimed.id.clone(),
        region: from.id.clone(),
        title: None,
        note: None,
        claimed_years: None,
        prices: None,
        timber: BTreeMap::new(),
    };
    Case {
        file: CaseFile {
            schema: CASE_SCHEMA.into(),
            piece,
            visits: Vec::new(),
            findings: Vec::new(),
            readings: Vec::new(),
            known: BTreeMap::new(),
            prior: BTreeMap::new(),
            numbers: BTreeMap::new(),
            stakes: None,
        },
        variant,
        period,
        region,
        years: (claimed.from, claimed.to),
        visits: vec![Visit {
            id: "simulated".into(),
            by: None,
            date: None,
            how: None,
            poor: None,
            error_factor: 1.0,
        }],
        findings: Vec::new(),
        readings: Vec::new(),
        known: Vec::new(),
        prior: None,
        numbers: pack.means(),
        stakes: None,
    }
}

/// Puts what there is to look at into a case, of one variant or of any, as far as `look` says so of
/// each thing in turn.
pub(super) fn look_at(
    pack: &Pack,
    case: &mut Case,
    variant: Option<usize>,
    mut look: impl FnMut() -> bool,
) {
    let asked = |sign: &Sign, part| variant.is_none_or(|v| pack.asks(sign, part, v));
    for (index, sign) in pack.signs.iter().enumerate() {
        for part in &sign.parts {
            if asked(sign, *part) && look() {
                case.findings.push(Finding {
                    sign: index,
                    part: *part,
                    outcome: Outcome::Reported {
                        level: 0,
                        sure: Sureness::Sure,
                    },
                    visit: 0,
                    note: None,
                });
            }
        }
    }
    let measures = pack.measures.iter().enumerate();
    for (index, measure) in
        measures.filter(|(_, measure)| variant.is_none_or(|v| measure.concerns(v)))
    {
        if look() {
            let (low, high) = measure.plausible;
            case.readings.push(Reading {
                measure: index,
                value: Value::Exactly(0.5 * (low + high)),
                error: measure.error,
                visit: 0,
                note: None,
            });
        }
    }
}
