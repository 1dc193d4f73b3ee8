//! What is not looked at yet, and what could be reported of it.

use crate::case::{Outcome, Reading, Sureness, Value};
use crate::density::Density;
use crate::examination::{expected_density, instrument_factor, report_likelihood, reported};
use crate::inquiry::Inquiry;
use crate::outlook::Unseen;
use crate::rough::rough_likelihood;
use oddment_circuit::{VariableId, Workspace};

/// Cells that a reading alone is told apart by.
const FINE: usize = 48;

/// Cells that a reading is told apart by where other answers come with it.
const COARSE: usize = 6;

/// Something that a check would answer.
#[derive(Debug, Clone)]
pub(super) struct Item {
    /// Index of the check.
    pub check: usize,
    pub variable: VariableId,
    pub id: String,
    pub name: String,
    pub part: String,
    /// States of the variable; of the joint overrides, for a measure.
    states: usize,
    measure: bool,
    pub answers: Vec<Answer>,
    /// The same in fewer, coarser answers.
    pub coarse: Vec<Answer>,
}

/// One thing that could be reported.
#[derive(Debug, Clone)]
pub(super) struct Answer {
    pub words: String,
    /// By sound and poor: likelihood of each state, or for a measure of each history and state.
    likelihood: [Vec<f64>; 2],
}

impl Item {
    /// Likelihood of an answer in one lane and state.
    pub fn weight(&self, answer: &Answer, poor: usize, lane: usize, state: usize) -> f64 {
        let place = if self.measure {
            lane * self.states + state
        } else {
            state
        };
        answer.likelihood[poor][place]
    }

    pub fn states(&self) -> usize {
        self.states
    }

    pub fn unseen(&self, bits: f64) -> Unseen {
        Unseen {
            id: self.id.clone(),
            name: self.name.clone(),
            part: self.part.clone(),
            bits,
        }
    }

    /// Puts an answer into a workspace, or takes it out again.
    pub fn put(
        &self,
        inquiry: &Inquiry<'_>,
        workspace: &mut Workspace,
        visit: usize,
        answer: Option<&Answer>,
    ) {
        let circuit = &inquiry.model.circuit;
        for quality in 0..workspace.batch() {
            let poor = quality >> visit & 1;
            for state in 0..self.states {
                let Some(answer) = answer.filter(|_| self.measure) else {
                    // A sign's answer weighs alike under every history.
                    let weight = answer.map_or(1.0, |answer| self.weight(answer, poor, 0, state));
                    circuit.set_likelihood_alike(workspace, self.variable, state, quality, weight);
                    continue;
                };
                for lane in 0..circuit.lanes() {
                    let weight = self.weight(answer, poor, lane, state);
                    circuit.set_likelihood(workspace, self.variable, state, quality, lane, weight);
                }
            }
        }
    }
}

/// Everything not looked at, in the order of the pack. What could not be got at is left out.
pub(super) fn unseen(inquiry: &Inquiry<'_>, visit: usize) -> Vec<Item> {
    let (pack, case, model) = (inquiry.pack, inquiry.case, inquiry.model);
    let mut items = Vec::new();
    for leaf in model.leaves() {
        let seen = case.findings.iter().any(|finding| {
            (finding.sign, finding.part) == (leaf.sign, leaf.part)
                && (reported(finding.outcome).is_some() || finding.outcome == Outcome::NoAccess)
        });
        let sign = &pack.signs[leaf.sign];
        if seen || !pack.asks(sign, leaf.part, case.variant) {
            continue;
        }
        let answers: Vec<Answer> = (0..sign.levels.len())
            .map(|level| Answer {
                words: sign.levels[level].clone(),
                likelihood: [false, true].map(|poor| {
                    let (numbers, sure) = (&case.numbers, Sureness::Sure);
                    let visit = &case.visits[visit];
                    report_likelihood(pack, numbers, sign, level, sure, visit, poor)
                }),
            })
            .collect();
        items.push(Item {
            check: sign.check,
            variable: leaf.variable,
            id: sign.id.clone(),
            name: sign.name.clone(),
            part: pack.parts[leaf.part].id.clone(),
            states: sign.levels.len(),
            measure: false,
            coarse: answers.clone(),
            answers,
        });
    }
    for (place, measure) in pack.measures.iter().enumerate() {
        let taken = case.readings.iter().any(|reading| reading.measure == place);
        let taken = taken || !measure.concerns(case.variant);
        let (false, Some(variable)) = (taken, model.measures[place]) else {
            continue;
        };
        let Some((answers, coarse)) = readings(inquiry, place) else {
            continue;
        };
        items.push(Item {
            check: measure.check,
            variable,
            id: measure.id.clone(),
            name: measure.name.clone(),
            part: pack.parts[measure.part].id.clone(),
            states: 1 << measure.overrides.len(),
            measure: true,
            answers,
            coarse,
        });
    }
    items
}

/// What a measure could read, in fine and in coarse cells of about equal chance.
fn readings(inquiry: &Inquiry<'_>, place: usize) -> Option<(Vec<Answer>, Vec<Answer>)> {
    let (pack, case) = (inquiry.pack, inquiry.case);
    let measure = &pack.measures[place];
    let numbers = &case.numbers;
    // Which density holds for each history and each joint state of the overriding incidents.
    let overrides = measure.overrides.len();
    let mut densities: Vec<Density> = Vec::new();
    let mut entries = Vec::new();
    for expected in &measure.expectations {
        for state in 0..1_usize << overrides {
            let first = (0..overrides).find(|o| state >> (overrides - 1 - o) & 1 == 1);
            let expectation = first.map_or(expected, |over| &measure.overrides[over].1);
            let density = expected_density(case, pack, numbers, measure, expectation);
            let known = densities.iter().position(|other| *other == density);
            entries.push(known.unwrap_or_else(|| {
                densities.push(density);
                densities.len() - 1
            }));
        }
    }
    let error = measure.error;
    let ends = densities.iter().map(|density| {
        let at = |share| density.quantile(share).ok();
        Some((at(0.001)? - 3.0 * error, at(0.999)? + 3.0 * error))
    });
    let (low, high) = ends
        .flatten()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |all, one| {
            (all.0.min(one.0), all.1.max(one.1))
        });
    let (low, high) = (low.max(measure.plausible.0), high.min(measure.plausible.1));
    if low >= high {
        return None;
    }
    let step = (high - low) / FINE as f64;
    // By density and quality, the chance of each cell.
    let cells: Vec<[Vec<f64>; 2]> = densities
        .iter()
        .map(|density| {
            [false, true].map(|poor| {
                let error = error * instrument_factor(pack, numbers, poor);
                let mut chances: Vec<f64> = (0..FINE)
                    .map(|cell| {
                        let reading = Reading {
                            measure: place,
                            value: Value::Exactly(low + step * (cell as f64 + 0.5)),
                            error,
                            visit: 0,
                            note: None,
                        };
                        rough_likelihood(density, &reading, error)
                    })
                    .collect();
                let total: f64 = chances.iter().sum();
                // A density that has nothing within the plausible range says nothing.
                for chance in &mut chances {
                    *chance = if total > 0.0 {
                        *chance / total
                    } else {
                        1.0 / FINE as f64
                    };
                }
                chances
            })
        })
        .collect();
    let unit = measure.unit.replace('-', " ");
    let answer = |from: usize, to: usize| Answer {
        words: format!(
            "{} to {} {unit}",
            crate::text::figure(rounded(low + step * from as f64, high - low)),
            crate::text::figure(rounded(low + step * to as f64, high - low))
        ),
        likelihood: [0, 1].map(|poor| {
            let of = |entry: &usize| cells[*entry][poor][from..to].iter().sum();
            entries.iter().map(of).collect()
        }),
    };
    let fine = (0..FINE).map(|cell| answer(cell, cell + 1)).collect();
    // Coarse cells of equal chance under the densities taken together.
    let mean = |cell: usize| -> f64 {
        cells.iter().map(|cells| cells[0][cell]).sum::<f64>() / cells.len() as f64
    };
    let mut coarse = Vec::new();
    let (mut from, mut sum) = (0, 0.0);
    for cell in 0..FINE {
        sum += mean(cell);
        let full = sum >= (coarse.len() + 1) as f64 / COARSE as f64 - 1e-9;
        if (full && coarse.len() + 1 < COARSE) || cell + 1 == FINE {
            coarse.push(answer(from, cell + 1));
            from = cell + 1;
        }
    }
    Some((fine, coarse))
}

/// A figure to a hundredth of the whole width.
fn rounded(value: f64, width: f64) -> f64 {
    let mut unit = 1.0;
    while unit > width / 100.0 {
        unit /= 10.0;
    }
    while unit * 10.0 <= width / 100.0 {
        unit *= 10.0;
    }
    let steps = (value / unit).round();
    // Dividing by the whole reciprocal keeps short decimals short.
    if unit < 1.0 {
        steps / (1.0 / unit).round()
    } else {
        steps * unit
    }
}
