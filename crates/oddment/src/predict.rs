//! What a pack says its pieces would show: a check of the elicited numbers by how they look together.
//!
//! Of 100 ovals, how many would have a hollow at the join, how many would be reported to have one, and
//! how do they divide over the verdicts? Whoever knows the form sees at once what cannot be.

use crate::assessment::PackStamp;
use crate::error::Error;
use crate::examination::{expected_density, instrument_factor};
use crate::inquiry::{place_of, stamp};
use crate::lint::blank_case;
use crate::lint::marginal::{
    Care, Events, MOST_CLAIMED, Marginals, Offered, reported, reports, some_of,
};
use crate::order::sort_by;
use crate::pack::{Pack, VERDICTS, Verdict};
use crate::simulate::draw;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The `schema` field of a prediction.
pub const PREDICTION_SCHEMA: &str = "oddment/prediction/1";

/// The most pieces simulated.
pub const MOST_PIECES: u32 = 1_000_000;

/// Which pieces to predict.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PredictOptions {
    /// Id of a variant; all in equal parts when `None` (24 of them where there are more).
    pub variant: Option<String>,
    /// Id of a claimed period; all in equal parts when `None`.
    pub period: Option<String>,
    /// Id of a claimed region; all in equal parts when `None`.
    pub region: Option<String>,
    /// How many pieces are measured, at most a million.
    pub pieces: u32,
    /// The seed of what is drawn: equal seeds give equal bits.
    pub seed: u64,
}

impl Default for PredictOptions {
    fn default() -> Self {
        Self {
            variant: None,
            period: None,
            region: None,
            pieces: 10_000,
            seed: 1,
        }
    }
}

/// What pieces offered as something would show.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Prediction {
    /// Always `oddment/prediction/1`.
    pub schema: String,
    /// Version of the engine.
    pub engine: String,
    /// The pack it rests on.
    pub pack: PackStamp,
    /// Id of the variant; all in equal parts when null.
    pub variant: Option<String>,
    /// Id of the claimed period; all in equal parts when null.
    pub period: Option<String>,
    /// Id of the claimed region; all in equal parts when null.
    pub region: Option<String>,
    /// How many pieces were simulated for the measures. All other shares are exact.
    pub pieces: u32,
    /// The seed.
    pub seed: u64,
    /// How the pieces divide over the verdicts, in the usual order.
    pub verdicts: Vec<PredictedVerdict>,
    /// The signs at their parts, in the order of the pack.
    pub signs: Vec<PredictedSign>,
    /// The measures, as read by an average examiner.
    pub measures: Vec<PredictedMeasure>,
    /// The incidents.
    pub incidents: Vec<PredictedIncident>,
}

/// A verdict's share of the pieces.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PredictedVerdict {
    /// The verdict.
    pub verdict: Verdict,
    /// Its share.
    pub share: f64,
}

/// A share of all pieces, and of those of each verdict.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Shares {
    /// Of all pieces.
    pub all: f64,
    /// Of the pieces of each verdict, in the usual order; null for a verdict without any odds.
    pub by_verdict: Vec<Option<f64>>,
}

/// A sign at a part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PredictedSign {
    /// Id of the sign.
    pub id: String,
    /// The sign in one line.
    pub name: String,
    /// Id of the part.
    pub part: String,
    /// Its levels, "not there" first.
    pub levels: Vec<PredictedLevel>,
}

/// A level of a sign.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PredictedLevel {
    /// Its name.
    pub level: String,
    /// How often it is there.
    pub there: Shares,
    /// How often an average examiner, sound or poor, would report it.
    pub reported: Shares,
}

/// A measure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PredictedMeasure {
    /// Its id.
    pub id: String,
    /// What is measured.
    pub name: String,
    /// Id of the part.
    pub part: String,
    /// Its unit.
    pub unit: String,
    /// Quartiles of the readings of all pieces; null where none was simulated.
    pub all: Option<Quartiles>,
    /// Of the pieces of each verdict, in the usual order.
    pub by_verdict: Vec<Option<Quartiles>>,
    /// Share of the true values outside the range of readings that the pack calls plausible.
    pub implausible: f64,
}

/// A quarter, half and three quarters of the readings lie below.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Quartiles {
    /// A quarter.
    pub lower: f64,
    /// Half.
    pub median: f64,
    /// Three quarters.
    pub upper: f64,
}

/// An incident.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PredictedIncident {
    /// Its id.
    pub id: String,
    /// A few words.
    pub name: String,
    /// How often it happened.
    pub happened: Shares,
}

/// What pieces of a pack would show, and what an average examiner would report of them.
///
/// The shares of signs and incidents are exact. Measures are taken of simulated pieces.
///
/// # Errors
/// [`Error::UnknownClaim`] for an id that the pack does not have; [`Error::NoOdds`] where the pack
/// gives what is asked about no odds at all.
///
/// ```
/// use oddment::predict::{PredictOptions, predict};
/// let pack = oddment::packs::load("drop-leaf-table")?;
/// let options = PredictOptions {
///     variant: Some("oval".into()),
///     pieces: 100,
///     ..PredictOptions::default()
/// };
/// let prediction = predict(&pack, &options)?;
/// let hollow = prediction.signs.iter().find(|sign| sign.id == "hollow-at-join").unwrap();
/// let converted = 2; // original, married, converted, faked
/// assert!(hollow.levels[1].there.by_verdict[converted] > hollow.levels[1].there.by_verdict[0]);
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn predict(pack: &Pack, options: &PredictOptions) -> Result<Prediction, Error> {
    let ids = |list: usize| -> Vec<&str> {
        match list {
            0 => pack
                .variants
                .iter()
                .map(|entry| entry.id.as_str())
                .collect(),
            1 => pack.periods.iter().map(|entry| entry.id.as_str()).collect(),
            _ => pack.regions.iter().map(|entry| entry.id.as_str()).collect(),
        }
    };
    let variants = chosen("variant", &ids(0), options.variant.as_deref())?;
    let periods = chosen("period", &ids(1), options.period.as_deref())?;
    let regions = chosen("region", &ids(2), options.region.as_deref())?;
    let offered = Offered::of(pack, &variants, &periods, &regions).ok_or_else(|| {
        let asked = [&options.variant, &options.period, &options.region];
        let asked: Vec<&str> = asked.into_iter().flatten().map(String::as_str).collect();
        Error::NoOdds {
            claim: if asked.is_empty() {
                pack.id.clone()
            } else {
                asked.join(", ")
            },
        }
    })?;
    let crowd = Crowd::new(pack, offered);
    // What no piece offered so has is not predicted of it.
    let asked = |predicted: &PredictedSign, variant: usize| {
        let sign = pack.find_sign(&predicted.id);
        let part = pack.parts.iter().position(|part| part.id == predicted.part);
        sign.zip(part)
            .is_some_and(|(sign, part)| pack.asks(&pack.signs[sign], part, variant))
    };
    let mut signs = crowd.signs();
    signs.retain(|sign| variants.iter().any(|variant| asked(sign, *variant)));
    let mut measures = crowd.measures(options.pieces.min(MOST_PIECES), options.seed);
    measures.retain(|measure| {
        let of = pack.measures.iter().find(|of| of.id == measure.id);
        of.is_none_or(|of| variants.iter().any(|v| of.concerns(*v)))
    });
    let pieces = options.pieces.min(MOST_PIECES);
    Ok(Prediction {
        schema: PREDICTION_SCHEMA.into(),
        engine: env!("CARGO_PKG_VERSION").into(),
        pack: stamp(pack),
        variant: options.variant.clone(),
        period: options.period.clone(),
        region: options.region.clone(),
        pieces,
        seed: options.seed,
        verdicts: VERDICTS
            .into_iter()
            .zip(crowd.verdicts)
            .map(|(verdict, share)| PredictedVerdict { verdict, share })
            .collect(),
        signs,
        measures,
        incidents: crowd.incidents(),
    })
}

/// The one asked for, or all.
fn chosen(what: &'static str, ids: &[&str], asked: Option<&str>) -> Result<Vec<usize>, Error> {
    let Some(asked) = asked else {
        return Ok(some_of(ids.len(), MOST_CLAIMED));
    };
    let place = ids.iter().position(|id| *id == asked);
    place
        .map(|place| vec![place])
        .ok_or_else(|| Error::UnknownClaim {
            what,
            id: asked.to_owned(),
            valid: ids.iter().map(|id| (*id).to_owned()).collect(),
        })
}

/// Pieces offered as what was asked for.
struct Crowd<'a> {
    pack: &'a Pack,
    /// For each period its chances, and the weight of each history; all together come to 1.
    periods: Vec<(Marginals<'a>, Vec<f64>)>,
    histories: Vec<f64>,
    verdicts: [f64; 4],
}

impl<'a> Crowd<'a> {
    fn new(pack: &'a Pack, offered: Offered) -> Self {
        let histories = offered.histories();
        let periods = offered.periods.into_iter().map(|(period, weights)| {
            let period = &pack.periods[period];
            (Marginals::new(pack, (period.from, period.to)), weights)
        });
        Self {
            pack,
            periods: periods.collect(),
            verdicts: crate::inquiry::by_verdict(pack, &histories),
            histories,
        }
    }

    /// Shares from the weight of a history that shows something, summed up.
    fn shares(&self, shown: impl Iterator<Item = (usize, f64)>) -> Shares {
        let mut sums = [0.0; 4];
        for (history, weight) in shown {
            sums[place_of(self.pack.histories[history].verdict)] += weight;
        }
        Shares {
            all: sums.iter().sum(),
            by_verdict: sums
                .iter()
                .zip(self.verdicts)
                .map(|(sum, whole)| (whole > 0.0).then(|| sum / whole))
                .collect(),
        }
    }

    fn signs(&self) -> Vec<PredictedSign> {
        let pack = self.pack;
        let mut signs = Vec::new();
        for (index, sign) in pack.signs.iter().enumerate() {
            let channel = reports(pack, index, Care::Usual);
            for part in &sign.parts {
                // One row for each period and history: the history, its weight, what is there and
                // what is reported.
                let mut rows = Vec::new();
                for (marginals, weights) in &self.periods {
                    for (history, weight) in weights.iter().enumerate() {
                        let there = marginals.levels(index, *part, history, Events::All);
                        let reported = reported(&there, &channel);
                        rows.push((history, *weight, there, reported));
                    }
                }
                let levels = sign.levels.iter().enumerate().map(|(level, name)| {
                    let there = rows.iter().map(|(h, w, there, _)| (*h, w * there[level]));
                    let told = rows.iter().map(|(h, w, _, told)| (*h, w * told[level]));
                    PredictedLevel {
                        level: name.clone(),
                        there: self.shares(there),
                        reported: self.shares(told),
                    }
                });
                signs.push(PredictedSign {
                    id: sign.id.clone(),
                    name: sign.name.clone(),
                    part: pack.parts[*part].id.clone(),
                    levels: levels.collect(),
                });
            }
        }
        signs
    }

    fn incidents(&self) -> Vec<PredictedIncident> {
        let weights = || self.histories.iter().enumerate();
        self.pack
            .incidents
            .iter()
            .map(|incident| {
                let rate = |history: usize| self.pack.number(incident.rates[history]);
                PredictedIncident {
                    id: incident.id.clone(),
                    name: incident.name.clone(),
                    happened: self.shares(weights().map(|(h, weight)| (h, weight * rate(h)))),
                }
            })
            .collect()
    }

    /// Measures simulated pieces: one history, one set of incidents and one visit for each.
    fn measures(&self, pieces: u32, seed: u64) -> Vec<PredictedMeasure> {
        let pack = self.pack;
        let case = blank_case(pack, [0; 3]);
        let numbers = &case.numbers;
        let expect =
            |measure, expectation| expected_density(&case, pack, numbers, measure, expectation);
        let expected: Vec<_> = pack
            .measures
            .iter()
            .map(|of| {
                let expected: Vec<_> = of.expectations.iter().map(|e| expect(of, e)).collect();
                let over: Vec<_> = of.overrides.iter().map(|(_, e)| expect(of, e)).collect();
                (expected, over)
            })
            .collect();
        let poor_chance = pack.number(pack.examination.poor);
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let mut readings: Vec<Vec<(usize, f64)>> = vec![Vec::new(); pack.measures.len()];
        let mut implausible = vec![0_u32; pack.measures.len()];
        let pieces = if pack.measures.is_empty() { 0 } else { pieces };
        for _ in 0..pieces {
            let history = draw(&self.histories, &mut rng);
            let verdict = place_of(pack.histories[history].verdict);
            let happened: Vec<bool> = pack
                .incidents
                .iter()
                .map(|incident| rng.random::<f64>() < pack.number(incident.rates[history]))
                .collect();
            let factor = instrument_factor(pack, numbers, rng.random::<f64>() < poor_chance);
            for (place, of) in pack.measures.iter().enumerate() {
                let densities = &expected[place];
                let first = of
                    .overrides
                    .iter()
                    .position(|(incident, _)| happened[*incident]);
                let density = match first {
                    Some(over) => &densities.1[over],
                    None => &densities.0[history],
                };
                let share = rng.random::<f64>().max(f64::MIN_POSITIVE);
                let noise = crate::draw::standard_normal(&mut rng);
                let Ok(truth) = density.quantile(share) else {
                    continue;
                };
                let read = truth + of.error * factor * noise;
                if read.is_finite() {
                    readings[place].push((verdict, read));
                    let plausible = of.plausible.0..=of.plausible.1;
                    implausible[place] += u32::from(!plausible.contains(&truth));
                }
            }
        }
        pack.measures
            .iter()
            .zip(readings)
            .zip(implausible)
            .map(|((of, mut readings), implausible)| {
                sort_by(&mut readings, |one, other| one.1.total_cmp(&other.1));
                let by = |verdict: usize| {
                    let own = readings.iter().filter(|(of, _)| *of == verdict);
                    Quartiles::of(&own.map(|(_, read)| *read).collect::<Vec<f64>>())
                };
                PredictedMeasure {
                    id: of.id.clone(),
                    name: of.name.clone(),
                    part: pack.parts[of.part].id.clone(),
                    unit: of.unit.clone(),
                    all: Quartiles::of(&readings.iter().map(|(_, read)| *read).collect::<Vec<_>>()),
                    by_verdict: (0..VERDICTS.len()).map(by).collect(),
                    implausible: f64::from(implausible) / readings.len().max(1) as f64,
                }
            })
            .collect()
    }
}

impl Quartiles {
    /// Of readings in rising order.
    fn of(readings: &[f64]) -> Option<Self> {
        let last = readings.len().checked_sub(1)?;
        let at = |share: f64| {
            let place = share * last as f64;
            let (below, within) = (place.floor() as usize, place - place.floor());
            let above = (below + 1).min(last);
            readings[below] + within * (readings[above] - readings[below])
        };
        Some(Self {
            lower: at(0.25),
            median: at(0.5),
            upper: at(0.75),
        })
    }
}
