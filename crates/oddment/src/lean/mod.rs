//! How far the verdict hangs on each elicited number.

mod bounds;
mod curve;
mod sweep;
mod words;

use crate::assess::LIMITS;
use crate::case::Case;
use crate::error::Error;
use crate::inquiry::{Inquiry, by_verdict, piece_summary, place_of, stamp};
use crate::leaning::{LEANING_SCHEMA, Leaning, NumberLeaning, TwoWayGrid};
use crate::model::Model;
use crate::order::{sort_by, sort_numbers};
use crate::pack::{NumberId, Pack, VERDICTS, Verdict};
use crate::workings::{Course, Desk, Slopes, Workings};
use curve::{Keep, Piece, Verdicts, places};
pub(crate) use words::{unit, words};

/// A curve that is no polynomial, or one of a higher degree than this, is computed at points.
const HIGHEST_DEGREE: u32 = 6;

/// At how many.
const POINTS: usize = 17;

/// A number whose whole 90 % range moves the probability by less than this does not matter.
const NEGLIGIBLE: f64 = 1e-9;

/// What to ask.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LeanOptions {
    /// The verdict to look at; the leading one when `None`.
    pub verdict: Option<Verdict>,
    /// A probability whose side it should stay on; what must hold is that the leading verdict goes on
    /// leading when `None`.
    pub threshold: Option<f64>,
    /// How the share not original is divided over married, converted and faked in the prior sweep;
    /// as in the case's prior when `None`.
    pub mix: Option<[f64; 3]>,
    /// Ids of two numbers to move together.
    pub grid: Option<(String, String)>,
    /// Opinions to pool.
    pub opinions: Vec<crate::pool::OpinionCase>,
}

/// How far a case's verdict hangs on each elicited number, on all of them together, and on the
/// prior.
///
/// With everything else as it is, and the other numbers of a row or of the prior counts giving way
/// in proportion, the probability of a verdict is a ratio of two polynomials in any one number: of
/// two straight lines for most, and of higher degree where a number is used at several places; with
/// a kink where a coupling or a reliability has one.
///
/// # Errors
/// [`Error::Impossible`] when the findings contradict one another; [`Error::UnknownNumber`];
/// [`Error::Circuit`].
///
/// ```
/// use oddment::{Case, LeanOptions, Text, lean, packs};
/// let pack = packs::load("drop-leaf-table")?;
/// let text = include_str!("../../../../priors/cases/pieced-out-oval.toml");
/// let case = Case::load(Text::new("pieced-out-oval.toml", text), &pack)?;
/// let leaning = lean(&pack, &case, &LeanOptions::default())?;
/// // The widest swing comes first.
/// let swing = |n: &oddment::leaning::NumberLeaning| (n.at_high - n.at_low).abs();
/// assert!(swing(&leaning.numbers[0]) >= swing(&leaning.numbers[1]));
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn lean(pack: &Pack, case: &Case, options: &LeanOptions) -> Result<Leaning, Error> {
    let model = Model::compile_reported(pack, case)?;
    Inquiry::open(pack, case, &model)?.leaning(options)
}

impl Inquiry<'_> {
    /// The leaning; see [`lean`].
    ///
    /// # Errors
    /// [`Error::UnknownNumber`] for an id that the pack does not have.
    pub fn leaning(&self, options: &LeanOptions) -> Result<Leaning, Error> {
        let reduced;
        let model = if self.model.is_reduced() {
            self.model
        } else {
            reduced = Model::compile_reported(self.pack, self.case)?;
            &reduced
        };
        let workings = Workings::new(self.pack, self.case, model)?;
        let verdicts = self.verdicts();
        let leading = self.leading();
        let verdict = options.verdict.unwrap_or(leading);
        let place = place_of(verdict);
        let keep = match options.threshold {
            Some(threshold) if verdicts[place] < threshold => Keep::AtMost(place, threshold),
            Some(threshold) => Keep::AtLeast(place, threshold),
            None => Keep::Leads(place_of(leading)),
        };
        let mut leaner = Leaner {
            desk: workings.desk(),
            workings: &workings,
        };
        let (numbers, unmoved) = leaner.numbers(place, keep);
        let grid = match &options.grid {
            Some(ids) => Some(leaner.grid(place, ids)?),
            None => None,
        };
        let pool = match options.opinions.as_slice() {
            [] => None,
            opinions => Some(crate::pool::pool(opinions)?),
        };
        Ok(Leaning {
            schema: LEANING_SCHEMA.into(),
            engine: env!("CARGO_PKG_VERSION").into(),
            pack: stamp(self.pack),
            piece: piece_summary(self.pack, self.case),
            verdict,
            probability: verdicts[place],
            leading,
            threshold: options.threshold,
            numbers,
            unmoved,
            bounds: leaner.bounds(),
            sweep: self.sweep(options.mix),
            grid,
            pool,
            limits: LIMITS.into(),
        })
    }
}

/// By how much each number that matters, moved through its 90 % range, moves the probability of the
/// leading verdict.
pub(crate) fn swings(
    pack: &Pack,
    case: &Case,
    model: &Model,
) -> Result<Vec<(NumberId, f64)>, Error> {
    let workings = Workings::new(pack, case, model)?;
    let numbers = &case.numbers;
    let mut desk = workings.desk();
    let slopes = workings.slopes(&mut desk, numbers);
    let total: f64 = slopes.joint.iter().sum();
    if !(total > 0.0 && total.is_finite()) {
        return Err(Error::Impossible {
            contradiction: Vec::new(),
        });
    }
    let leading = place_of(crate::inquiry::leading(&slopes.joint));
    let mut swings = Vec::new();
    for id in workings.numbers() {
        let (low, high) = workings.spreads.range(pack, *id, numbers);
        let direction = workings.spreads.direction(*id, numbers);
        let course = workings.course(&direction);
        if high <= low || course.is_still() {
            continue;
        }
        let mut share = |end: f64| {
            let joint = workings.along(&mut desk, &slopes, &course, end - numbers[id.index()]);
            joint[leading] / joint.iter().sum::<f64>()
        };
        let swing = (share(high) - share(low)).abs();
        if swing.is_finite() {
            swings.push((*id, swing));
        }
    }
    Ok(swings)
}

pub(crate) struct Leaner<'a> {
    workings: &'a Workings<'a>,
    desk: Desk,
}

impl Leaner<'_> {
    fn numbers(&mut self, verdict: usize, keep: Keep) -> (Vec<NumberLeaning>, usize) {
        let workings = self.workings;
        let (pack, numbers) = (workings.pack, &workings.case.numbers);
        let slopes = workings.slopes(&mut self.desk, numbers);
        let mut leanings = Vec::new();
        for id in workings.numbers() {
            let range = workings.spreads.range(pack, *id, numbers);
            if range.1 <= range.0 {
                continue;
            }
            let Some(curve) = self.curve(*id, range, &slopes) else {
                continue;
            };
            let value = numbers[id.index()];
            let (at_low, at_high) = (
                curve.share(verdict, range.0 - value),
                curve.share(verdict, range.1 - value),
            );
            if (at_high - at_low).abs() < NEGLIGIBLE {
                continue;
            }
            let [below, above] = curve.stops(keep);
            let reach = curve.reach();
            let number = &pack.numbers[id.index()];
            leanings.push(NumberLeaning {
                id: number.id.clone(),
                words: words(pack, *id),
                unit: words::unit(pack, *id),
                value,
                low: range.0,
                high: range.1,
                strength: number.strength,
                source: pack.sources[number.source].id.clone(),
                slope: self.slope(*id, verdict, &slopes),
                at_low,
                at_high,
                holds_from: value + below.map_or(reach.0, |(t, _)| t),
                holds_to: value + above.map_or(reach.1, |(t, _)| t),
                flips: curve.flips(keep, value),
                curve: curve.curve(verdict, value),
            });
        }
        sort_by(&mut leanings, |one, other| {
            let swing = |n: &NumberLeaning| (n.at_high - n.at_low).abs();
            swing(other)
                .total_cmp(&swing(one))
                .then_with(|| one.id.cmp(&other.id))
        });
        let unmoved = pack.numbers.len() - leanings.len();
        (leanings, unmoved)
    }

    /// Slope of a verdict's probability by one number, from the side where it is defined.
    fn slope(&self, id: NumberId, verdict: usize, slopes: &Slopes) -> f64 {
        let direction = self
            .workings
            .spreads
            .direction(id, &self.workings.case.numbers);
        let by = [0, 1, 2, 3].map(|verdict: usize| -> f64 {
            let along = direction.iter();
            along
                .map(|(id, by)| by * slopes.by[verdict][id.index()])
                .sum()
        });
        let (total, total_by): (f64, f64) = (slopes.joint.iter().sum(), by.iter().sum());
        (by[verdict] - slopes.joint[verdict] / total * total_by) / total
    }

    /// The verdicts as functions of one number; `None` where nothing depends on it.
    fn curve(&mut self, id: NumberId, range: (f64, f64), slopes: &Slopes) -> Option<Verdicts> {
        let workings = self.workings;
        let (pack, numbers) = (workings.pack, &workings.case.numbers);
        let value = numbers[id.index()];
        let direction = workings.spreads.direction(id, numbers);
        let course = workings.course(&direction);
        let limits = workings.spreads.limits(pack, id, numbers);
        let (from, to) = (limits.0 - value, limits.1 - value);
        if course.is_still() {
            return None;
        }
        let (low, high) = (range.0 - value, range.1 - value);
        if course.moves_readings() {
            // Only so far as the likelihoods are tabulated.
            let (from, to) = ((2.0 * low).max(from), (2.0 * high).min(to));
            return Some(self.points(&course, slopes, [from, low, high, to]));
        }
        if !course.polynomial || course.degree > HIGHEST_DEGREE {
            return Some(self.points(&course, slopes, [from, low, high, to]));
        }
        let mut ends = vec![from];
        let kinks = course.kinks.iter().copied();
        ends.extend(kinks.filter(|kink| *kink > from && *kink < to));
        ends.push(to);
        // A kink at the very value has no slope.
        let at_kink = ends.iter().any(|end| end.abs() < 1e-12);
        let pieces = ends
            .windows(2)
            .map(|pair| {
                let (from, to) = (pair[0], pair[1]);
                if course.degree == 1 && from < 0.0 && to > 0.0 && !at_kink {
                    let joint = [0, 1, 2, 3].map(|verdict| {
                        let along = direction.iter();
                        let slope = along.map(|(id, by)| by * slopes.by[verdict][id.index()]);
                        vec![slopes.joint[verdict], slope.sum()]
                    });
                    return Piece { from, to, joint };
                }
                let values: Vec<(f64, [f64; 4])> = places(course.degree as usize, from, to)
                    .into_iter()
                    .map(|t| (t, workings.along(&mut self.desk, slopes, &course, t)))
                    .collect();
                Piece::through(from, to, &values)
            })
            .collect();
        Some(Verdicts::Pieces(pieces))
    }

    /// Values at the ends and the range between them, at the number as it is, and evenly over all.
    fn points(
        &mut self,
        course: &Course<'_>,
        slopes: &Slopes,
        [from, low, high, to]: [f64; 4],
    ) -> Verdicts {
        let mut places: Vec<f64> = (0..POINTS)
            .map(|place| from + (to - from) * place as f64 / (POINTS - 1) as f64)
            .collect();
        places.extend([0.0, low, high].iter().filter(|t| (from..=to).contains(*t)));
        sort_numbers(&mut places);
        places.dedup();
        let values = places
            .into_iter()
            .map(|t| (t, self.workings.along(&mut self.desk, slopes, course, t)))
            .collect();
        Verdicts::Points(values)
    }

    fn grid(&mut self, verdict: usize, ids: &(String, String)) -> Result<TwoWayGrid, Error> {
        /// Values of each number.
        const SIDE: usize = 11;
        let workings = self.workings;
        let (pack, numbers) = (workings.pack, &workings.case.numbers);
        let find = |id: &String| {
            pack.find_number(id).ok_or_else(|| Error::UnknownNumber {
                id: id.clone(),
                nearest: crate::text::nearest(id, pack.numbers.iter().map(|n| n.id.as_str()))
                    .map(str::to_owned),
            })
        };
        let (one, other) = (find(&ids.0)?, find(&ids.1)?);
        let values = |id: NumberId| -> Vec<f64> {
            let (low, high) = workings.spreads.range(pack, id, numbers);
            let step = (high - low) / (SIDE - 1) as f64;
            (0..SIDE).map(|place| low + step * place as f64).collect()
        };
        let (first, second) = (values(one), values(other));
        let mut probabilities = Vec::new();
        let mut leading = Vec::new();
        for a in &first {
            let mut row = Vec::new();
            let mut leads = Vec::new();
            for b in &second {
                let moved = workings.spreads.with_two((one, *a), (other, *b), numbers);
                let joint = by_verdict(pack, &workings.histories(&mut self.desk, &moved));
                row.push(joint[verdict] / joint.iter().sum::<f64>());
                leads.push(crate::inquiry::leading(&joint));
            }
            probabilities.push(row);
            leading.push(leads);
        }
        Ok(TwoWayGrid {
            ids: ids.clone(),
            words: (words(pack, one), words(pack, other)),
            first,
            second,
            probabilities,
            leading,
        })
    }
}

/// All verdicts with their places.
fn verdict_places() -> impl Iterator<Item = (usize, Verdict)> {
    VERDICTS.into_iter().enumerate()
}
