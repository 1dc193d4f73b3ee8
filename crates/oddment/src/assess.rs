//! From pack and case to assessment.

use crate::answer::Answer;
use crate::assessment::{
    ASSESSMENT_SCHEMA, Assessment, CautionNote, DateBin, FindingWeight, HistoryOdds, IncidentOdds,
    IncidentShift, NotLooked, ODDS_LIMIT, Opposite, PartDate, VerdictOdds, VisitQuality,
};
use crate::case::{Case, Outcome, Sureness, Value};
use crate::error::Error;
use crate::evidence::{Item, ItemLikelihood, Likelihoods};
use crate::examination::{opposite, reported};
use crate::fit;
use crate::inquiry::Inquiry;
use crate::model::Model;
use crate::order::{map, set, sort_by};
use crate::pack::{Pack, VERDICTS, Verdict};
use crate::prior::history_priors;
use crate::scale;
use oddment_circuit::Workspace;
use std::collections::{BTreeMap, BTreeSet};

/// What an assessment is not; shown with every one.
pub const LIMITS: &str = "Arithmetic on stated findings and elicited numbers: an opinion's workings, \
not a certificate of authenticity and not a valuation. Most numbers are working guesses by \
practitioners, not counts.";

/// Assesses a case.
///
/// # Errors
/// [`Error::Impossible`] with a minimal set of findings that contradict one another;
/// [`Error::Circuit`] when the pack's model is too large to compile.
///
/// ```
/// use oddment::{Case, Text, assess, packs};
/// let pack = packs::load("drop-leaf-table")?;
/// let text = oddment::new_case(&pack);
/// let case = Case::load(Text::new("new case", &text), &pack)?;
/// let assessment = assess(&pack, &case)?;
/// // Nothing has been looked at yet, so every verdict stays at its prior.
/// for verdict in &assessment.verdicts {
///     assert!((verdict.probability - verdict.prior).abs() < 1e-12);
/// }
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn assess(pack: &Pack, case: &Case) -> Result<Assessment, Error> {
    let model = Model::compile(pack, case.years, &case.numbers)?;
    model.assess(pack, case, true)
}

impl Model {
    /// Assesses a case with a model compiled for its claim and its numbers, so that many what-ifs
    /// share one compilation.
    ///
    /// Whether any story fits is found by simulation, which takes most of the time; with `judge_fit`
    /// false it is left out, and the judgement is [`FitJudgement::NotAsked`].
    ///
    /// # Errors
    /// [`Error::Impossible`] with a minimal set of findings that contradict one another.
    ///
    /// [`FitJudgement::NotAsked`]: crate::assessment::FitJudgement::NotAsked
    pub fn assess(&self, pack: &Pack, case: &Case, judge_fit: bool) -> Result<Assessment, Error> {
        let inquiry = Inquiry::open(pack, case, self)?;
        let answer = inquiry.answer();
        let (priors, joint) = (&inquiry.priors, &inquiry.joint);
        let ln_evidence = answer.ln_evidence();

        let mut before = self.workspace(1);
        self.circuit.derivative(&mut before);
        let nothing = Likelihoods::none();
        let unseen = Answer::new(pack, self, &nothing, &before, priors);

        let fit = if judge_fit {
            fit::check(pack, self, case, &inquiry.likelihoods, priors, ln_evidence)
        } else {
            fit::not_asked()
        };
        Ok(Assessment {
            schema: ASSESSMENT_SCHEMA.into(),
            engine: env!("CARGO_PKG_VERSION").into(),
            pack: inquiry.stamp(),
            piece: inquiry.piece(),
            verdicts: verdicts(pack, priors, joint),
            histories: histories(pack, priors, joint),
            incidents: answer.incidents(&unseen),
            dates: answer.dates(case, &unseen),
            findings: answer.findings(case, joint),
            visits: answer.visits(case),
            not_looked: not_looked(pack, case),
            fit,
            ln_evidence,
            cautions: cautions(pack, |_| true),
            limits: LIMITS.into(),
        })
    }

    /// The probability of each history given all findings, in the pack's order: the short answer,
    /// for many cases in a row.
    ///
    /// # Errors
    /// [`Error::Impossible`] with a minimal set of findings that contradict one another.
    pub fn histories(&self, pack: &Pack, case: &Case) -> Result<Vec<f64>, Error> {
        let priors = history_priors(pack, case);
        let likelihoods = Likelihoods::new(pack, self, case)?;
        let mut workspace = self.workspace(likelihoods.quality_chances.len());
        likelihoods.apply(pack, self, case, &mut workspace, |_| true);
        self.circuit.value(&mut workspace);
        let joint = Answer::new(pack, self, &likelihoods, &workspace, &priors).histories();
        let total: f64 = joint.iter().sum();
        if total <= 0.0 {
            return Err(self.contradiction(pack, case, &likelihoods, &priors));
        }
        Ok(joint.iter().map(|joint| joint / total).collect())
    }

    /// The probability of each verdict given all findings, in the order of [`VERDICTS`].
    ///
    /// # Errors
    /// [`Error::Impossible`] with a minimal set of findings that contradict one another.
    pub fn verdicts(&self, pack: &Pack, case: &Case) -> Result<[f64; 4], Error> {
        let histories = self.histories(pack, case)?;
        Ok(VERDICTS.map(|verdict| {
            let of = pack.histories.iter().zip(&histories);
            of.filter(|(history, _)| history.verdict == verdict)
                .fold(0.0, |sum, (_, probability)| sum + probability)
        }))
    }

    /// A minimal set of items that cannot be true together, by withdrawing one after another for as
    /// long as the rest stays impossible.
    pub(crate) fn contradiction(
        &self,
        pack: &Pack,
        case: &Case,
        likelihoods: &Likelihoods,
        priors: &[f64],
    ) -> Error {
        let mut workspace = self.workspace(likelihoods.quality_chances.len());
        let mut kept: Vec<bool> = vec![true; likelihoods.items.len()];
        for index in 0..kept.len() {
            kept[index] = false;
            likelihoods.apply(pack, self, case, &mut workspace, |item| kept[item]);
            self.circuit.value(&mut workspace);
            let answer = Answer::new(pack, self, likelihoods, &workspace, priors);
            if answer.histories().iter().sum::<f64>() > 0.0 {
                kept[index] = true;
            }
        }
        let contradiction = likelihoods
            .items
            .iter()
            .zip(&kept)
            .filter(|(_, kept)| **kept)
            .map(|(item, _)| format!("`{}`", item_label(pack, case, item.item)))
            .chain(case.known.iter().map(|(incident, happened)| {
                let id = &pack.incidents[*incident].id;
                format!(
                    "`{id}` known {}",
                    if *happened {
                        "to have happened"
                    } else {
                        "not to"
                    }
                )
            }))
            .collect();
        Error::Impossible { contradiction }
    }
}

fn item_label(pack: &Pack, case: &Case, item: Item) -> String {
    match item {
        Item::Finding(index) => {
            let finding = &case.findings[index];
            format!(
                "{} at {}",
                pack.signs[finding.sign].id, pack.parts[finding.part].id
            )
        }
        Item::Reading(index) => pack.measures[case.readings[index].measure].id.clone(),
    }
}

impl Answer<'_> {
    fn incidents(&self, unseen: &Answer<'_>) -> Vec<IncidentOdds> {
        let incidents = self.pack.incidents.iter().zip(&self.model.incidents);
        incidents
            .map(|(incident, variable)| IncidentOdds {
                id: incident.id.clone(),
                name: incident.name.clone(),
                prior: unseen.states_of(*variable, 2)[1],
                probability: self.states_of(*variable, 2)[1],
            })
            .collect()
    }

    /// When each part was made, of those that a piece offered so has.
    fn dates(&self, case: &Case, unseen: &Answer<'_>) -> Vec<PartDate> {
        let grid = &self.pack.dates;
        let mut dates = Vec::new();
        let parts = self.pack.parts.iter().zip(&self.model.dates).enumerate();
        for (place, (part, variable)) in parts {
            let Some(variable) = *variable else { continue };
            if !self.pack.has_part(place, case.variant) {
                continue;
            }
            let (now, before) = (
                self.states_of(variable, grid.bins()),
                unseen.states_of(variable, grid.bins()),
            );
            let quantile = |share: f64| {
                let mut sum = 0.0;
                for (bin, probability) in now.iter().enumerate() {
                    let (from, to) = grid.years(bin);
                    if sum + probability >= share && *probability > 0.0 {
                        let along = ((share - sum) / probability).clamp(0.0, 1.0);
                        return f64::from(from) + along * f64::from(to - from);
                    }
                    sum += probability;
                }
                f64::from(grid.to)
            };
            dates.push(PartDate {
                part: part.id.clone(),
                name: part.name.clone(),
                median: quantile(0.5),
                low: quantile(0.05),
                high: quantile(0.95),
                bins: (0..grid.bins())
                    .map(|bin| DateBin {
                        from: grid.years(bin).0,
                        to: grid.years(bin).1,
                        prior: before[bin],
                        probability: now[bin],
                    })
                    .collect(),
            });
        }
        dates
    }

    fn visits(&self, case: &Case) -> Vec<VisitQuality> {
        let joint: Vec<f64> = self
            .likelihoods
            .quality_chances
            .iter()
            .enumerate()
            .map(|(state, chance)| {
                let lanes = self.priors.iter().enumerate();
                let sum: f64 = lanes
                    .map(|(lane, prior)| {
                        prior * self.model.circuit.lane_value(self.workspace, state, lane)
                    })
                    .sum();
                chance * sum
            })
            .collect();
        let total: f64 = joint.iter().sum();
        let poor_share = |weights: &[f64], visit: usize| -> f64 {
            weights
                .iter()
                .enumerate()
                .filter(|(state, _)| state >> visit & 1 == 1)
                .map(|(_, weight)| weight)
                .sum()
        };
        self.likelihoods
            .visits
            .iter()
            .enumerate()
            .map(|(position, visit)| VisitQuality {
                id: case.visits[*visit].id.clone(),
                prior: poor_share(&self.likelihoods.quality_chances, position),
                probability: poor_share(&joint, position) / total,
            })
            .collect()
    }

    fn findings(&self, case: &Case, joint: &[f64]) -> Vec<FindingWeight> {
        let mut scratch = self.workspace.clone();
        let items = self.likelihoods.items.iter().enumerate();
        items
            .map(|(index, item)| self.finding(case, joint, index, item, &mut scratch))
            .collect()
    }

    fn finding(
        &self,
        case: &Case,
        joint: &[f64],
        index: usize,
        item: &ItemLikelihood,
        scratch: &mut Workspace,
    ) -> FindingWeight {
        let reading = matches!(item.item, Item::Reading(_));
        let width = item.by_quality[0].len();
        let histories = self.priors.len();
        let variable = item.variable;
        let states = if reading { width / histories } else { width };
        let others: Vec<Option<Vec<f64>>> = (0..self.likelihoods.quality_chances.len())
            .map(|state| {
                self.likelihoods
                    .product(reading, item.place, state, &|i| i != index)
            })
            .collect();
        // A finding's entries hold for all lanes, a reading's differ by lane.
        let entry = |lane: usize, state: usize| {
            if reading {
                lane * states + state
            } else {
                state
            }
        };
        let rest = |quality: usize, lane: usize, state: usize| {
            others[quality]
                .as_ref()
                .map_or(1.0, |others| others[entry(lane, state)])
        };
        let without = self.joint_with(variable, states, rest);
        let weigh = |with: &[f64]| -> BTreeMap<Verdict, f64> {
            map(VERDICTS.iter().map(|verdict| {
                let odds = |joint: &[f64]| ln_odds(self.pack, *verdict, joint);
                (*verdict, decibans(odds(with) - odds(&without)))
            }))
        };
        let opposite_weight = item.opposite.as_ref().map(|likelihood| {
            weigh(&self.joint_with(variable, states, |quality, lane, state| {
                let quality_bit = self.likelihoods.quality(item, quality);
                rest(quality, lane, state) * likelihood[quality_bit][entry(lane, state)]
            }))
        });
        let decibans = weigh(joint);
        match item.item {
            Item::Finding(finding) => {
                let finding = &case.findings[finding];
                let sign = &self.pack.signs[finding.sign];
                let (level, sure) = reported(finding.outcome).unwrap_or((0, Sureness::Sure));
                FindingWeight {
                    id: sign.id.clone(),
                    name: sign.name.clone(),
                    part: self.pack.parts[finding.part].id.clone(),
                    visit: case.visits[finding.visit].id.clone(),
                    found: sign.levels[level].clone(),
                    sure,
                    decibans,
                    opposite: opposite_weight.map(|decibans| Opposite {
                        found: sign.levels[opposite(sign, level)].clone(),
                        decibans,
                    }),
                    innocent: sign.innocent.clone(),
                    points_to: sign.points_to.clone(),
                    incident: self.incident_shift(case, (finding.sign, level), index, scratch),
                }
            }
            Item::Reading(reading) => {
                let reading = &case.readings[reading];
                let measure = &self.pack.measures[reading.measure];
                FindingWeight {
                    id: measure.id.clone(),
                    name: measure.name.clone(),
                    part: self.pack.parts[measure.part].id.clone(),
                    visit: case.visits[reading.visit].id.clone(),
                    found: reading_words(reading.value, &measure.unit),
                    sure: Sureness::Sure,
                    decibans,
                    opposite: None,
                    innocent: measure.innocent.clone(),
                    points_to: measure.points_to.clone(),
                    incident: None,
                }
            }
        }
    }

    /// The most likely incident that could by itself explain a report, with and without it.
    fn incident_shift(
        &self,
        case: &Case,
        (sign, level): (usize, usize),
        index: usize,
        scratch: &mut Workspace,
    ) -> Option<IncidentShift> {
        let sign = &self.pack.signs[sign];
        // What could make a sign explains its presence, what could hide it explains its absence.
        let candidates: BTreeSet<usize> = if level > 0 {
            set(sign.causes.iter().map(|(incident, _)| *incident))
        } else {
            set(sign.hides.iter().map(|(incident, _)| *incident))
        };
        if candidates.is_empty() {
            return None;
        }
        self.likelihoods
            .apply(self.pack, self.model, case, scratch, |i| i != index);
        self.model.circuit.derivative(scratch);
        let without = Answer {
            workspace: scratch,
            ..*self
        };
        candidates
            .into_iter()
            .map(|incident| {
                let variable = self.model.incidents[incident];
                IncidentShift {
                    id: self.pack.incidents[incident].id.clone(),
                    name: self.pack.incidents[incident].name.clone(),
                    without: without.states_of(variable, 2)[1],
                    with: self.states_of(variable, 2)[1],
                }
            })
            .max_by(|one, other| one.with.total_cmp(&other.with))
    }
}

/// Decibans kept within what the odds are kept within.
pub(crate) fn decibans(ln_ratio: f64) -> f64 {
    if ln_ratio.is_nan() {
        // Both odds infinite the same way: nothing moved.
        return 0.0;
    }
    scale::decibans(ln_ratio).clamp(-3000.0, 3000.0)
}

/// Natural logarithm of the odds of a verdict against all others.
pub(crate) fn ln_odds(pack: &Pack, verdict: Verdict, joint: &[f64]) -> f64 {
    let (mut for_it, mut against) = (0.0, 0.0);
    for (history, joint) in pack.histories.iter().zip(joint) {
        if history.verdict == verdict {
            for_it += joint;
        } else {
            against += joint;
        }
    }
    libm::log(for_it) - libm::log(against)
}

fn verdicts(pack: &Pack, priors: &[f64], joint: &[f64]) -> Vec<VerdictOdds> {
    let total: f64 = joint.iter().sum();
    let share = |weights: &[f64], verdict: Verdict| -> f64 {
        let weights = pack.histories.iter().zip(weights);
        weights
            .filter(|(history, _)| history.verdict == verdict)
            // A sum over nothing is -0, which would be shown as such.
            .fold(0.0, |sum, (_, weight)| sum + weight)
    };
    let probabilities: Vec<f64> = VERDICTS
        .iter()
        .map(|verdict| share(joint, *verdict) / total)
        .collect();
    let counts = counts_of_thousand(&probabilities);
    let before: Vec<f64> = VERDICTS
        .iter()
        .map(|verdict| share(priors, *verdict))
        .collect();
    let counts_before = counts_of_thousand(&before);
    VERDICTS
        .iter()
        .enumerate()
        .map(|(place, verdict)| {
            let ln = ln_odds(pack, *verdict, joint);
            let shift = ln - ln_odds(pack, *verdict, priors);
            let shift = if shift.is_nan() { 0.0 } else { shift };
            let (direction, strength) = scale::strength(shift)
                .unwrap_or((scale::Direction::Neither, scale::Strength::NoSupport));
            VerdictOdds {
                verdict: *verdict,
                prior: before[place],
                prior_in_thousand: counts_before[place],
                probability: probabilities[place],
                in_thousand: counts[place],
                odds: libm::exp(ln).clamp(1.0 / ODDS_LIMIT, ODDS_LIMIT),
                log10_odds: (ln / std::f64::consts::LN_10).clamp(-300.0, 300.0),
                decibans: decibans(shift),
                direction,
                strength,
            }
        })
        .collect()
}

/// Whole counts that sum to 1,000: rounded down, the rest to the largest remainders.
fn counts_of_thousand(probabilities: &[f64]) -> Vec<u32> {
    let exact: Vec<f64> = probabilities.iter().map(|p| p * 1000.0).collect();
    let mut counts: Vec<u32> = exact.iter().map(|e| e.floor() as u32).collect();
    let mut order: Vec<usize> = (0..exact.len()).collect();
    sort_by(&mut order, |a, b| {
        (exact[*b] - exact[*b].floor()).total_cmp(&(exact[*a] - exact[*a].floor()))
    });
    let missing = 1000_u32.saturating_sub(counts.iter().sum());
    for place in order.into_iter().take(missing as usize) {
        counts[place] += 1;
    }
    counts
}

fn histories(pack: &Pack, priors: &[f64], joint: &[f64]) -> Vec<HistoryOdds> {
    let total: f64 = joint.iter().sum();
    let mut histories: Vec<HistoryOdds> = pack
        .histories
        .iter()
        .enumerate()
        .map(|(place, history)| {
            let ln = |weights: &[f64]| {
                let all: f64 = weights.iter().sum();
                libm::log(weights[place]) - libm::log(all - weights[place])
            };
            HistoryOdds {
                id: history.id.clone(),
                name: history.name.clone(),
                verdict: history.verdict,
                story: history.story.clone(),
                prior: priors[place],
                probability: joint[place] / total,
                decibans: decibans(ln(joint) - ln(priors)),
            }
        })
        .collect();
    sort_by(&mut histories, |one, other| {
        other.probability.total_cmp(&one.probability)
    });
    histories
}

/// A reading in words.
pub(crate) fn reading_words(value: Value, unit: &str) -> String {
    let unit = unit.replace('-', " ");
    match value {
        Value::Exactly(value) => format!("{value} {unit}"),
        Value::Between(None, Some(high)) => format!("less than {high} {unit}"),
        Value::Between(Some(low), None) => format!("more than {low} {unit}"),
        Value::Between(Some(low), Some(high)) => format!("between {low} and {high} {unit}"),
        Value::Between(None, None) => "no reading".to_owned(),
    }
}

fn not_looked(pack: &Pack, case: &Case) -> Vec<NotLooked> {
    let mut missing = Vec::new();
    let mut push = |id: &String, name: &String, part: usize, check: usize, no_access: bool| {
        let check = &pack.checks[check];
        missing.push(NotLooked {
            id: id.clone(),
            name: name.clone(),
            part: pack.parts[part].id.clone(),
            check: check.id.clone(),
            check_name: check.name.clone(),
            access: check.access,
            minutes: check.minutes,
            no_access,
        });
    };
    let signs = pack.signs.iter().enumerate();
    for (index, sign) in signs {
        for part in pack.parts_of(sign, case.variant) {
            let here = || {
                case.findings
                    .iter()
                    .filter(move |f| f.sign == index && f.part == part)
            };
            if here().any(|finding| reported(finding.outcome).is_some()) {
                continue;
            }
            let tried = here().any(|finding| finding.outcome == Outcome::NoAccess);
            push(&sign.id, &sign.name, part, sign.check, tried);
        }
    }
    let measures = pack.measures.iter().enumerate();
    for (index, measure) in measures.filter(|(_, measure)| measure.concerns(case.variant)) {
        if !case.readings.iter().any(|reading| reading.measure == index) {
            push(
                &measure.id,
                &measure.name,
                measure.part,
                measure.check,
                false,
            );
        }
    }
    sort_by(&mut missing, |one, other| {
        one.access
            .cmp(&other.access)
            .then(one.minutes.total_cmp(&other.minutes))
    });
    missing
}

/// The cautions of some checks, each once, in the pack's order.
pub(crate) fn cautions(pack: &Pack, concerns: impl Fn(&str) -> bool) -> Vec<CautionNote> {
    let of = |caution: usize| {
        let checks = pack
            .checks
            .iter()
            .filter(|check| check.cautions.contains(&caution) && concerns(&check.id));
        checks.map(|check| check.id.clone()).collect::<Vec<_>>()
    };
    pack.cautions
        .iter()
        .enumerate()
        .map(|(index, caution)| CautionNote {
            text: caution.text.clone(),
            checks: of(index),
        })
        .filter(|note| !note.checks.is_empty())
        .collect()
}
