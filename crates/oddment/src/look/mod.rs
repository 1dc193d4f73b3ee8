//! Which check is worth doing next.

mod answers;
mod plan;

use crate::assess::{LIMITS, cautions};
use crate::case::Case;
use crate::decide::{self, CheckOutlook};
use crate::error::Error;
use crate::inquiry::{Inquiry, by_verdict, leading, piece_summary, stamp};
use crate::model::Model;
use crate::order::sort_by;
use crate::outlook::{CheckMethod, CheckMoney, CheckValue, OUTLOOK_SCHEMA, Outlook, TellingAnswer};
use crate::pack::{Access, Leave, Pack};
use answers::{Answer, Item, unseen};
use oddment_circuit::{Cone, VariableId, Workspace};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Up to this many combinations of answers all are gone through (ten yes/no answers).
const MOST_EXACT: usize = 1024;

/// Otherwise this many are drawn.
const DRAWS: u32 = 128;

/// Fixed, so that a case always gets the same answer.
const SEED: u64 = 1;

/// Telling answers kept for each check.
const TELLING: usize = 3;

/// A chance of changing the leading verdict that is not worth getting up for.
const NOT_WORTH: f64 = 1e-3;

/// What to allow.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct NextOptions {
    /// Minutes there are; a plan is made for them.
    pub minutes: Option<f64>,
    /// How far one may go; as far as it takes when `None`. Reading papers is always allowed.
    pub access: Option<Access>,
    /// Whether only checks that need nobody's leave are allowed.
    pub without_leave: bool,
}

impl NextOptions {
    fn allow(&self, access: Access, leave: Leave) -> bool {
        let near = access == Access::Papers || self.access.is_none_or(|most| access <= most);
        near && !(self.without_leave && leave != Leave::NotNeeded)
    }
}

/// What every check still to do is expected to tell about the verdict.
///
/// ```text
/// bits              sum over answers r of P(r) sum over verdicts v of P(v | r) log2(P(v | r) / P(v))
/// right more often  sum over r of P(r) max P(v | r), less max P(v)
/// ```
///
/// A check's answers are valued together: every combination of them, or a seeded draw where there
/// are too many. The same examiner is assumed to go on looking, and to report what is seen without
/// doubt.
///
/// # Errors
/// [`Error::Impossible`] when the findings contradict one another; [`Error::Circuit`].
///
/// ```
/// use oddment::{Case, NextOptions, Text, look_next, packs};
/// let pack = packs::load("drop-leaf-table")?;
/// let text = include_str!("../../../../priors/cases/hardly-looked-at.toml");
/// let case = Case::load(Text::new("hardly-looked-at.toml", text), &pack)?;
/// let outlook = look_next(&pack, &case, &NextOptions::default())?;
/// assert!(!outlook.nothing_left);
/// assert!(outlook.checks.iter().all(|check| check.bits >= 0.0));
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn look_next(pack: &Pack, case: &Case, options: &NextOptions) -> Result<Outlook, Error> {
    let model = Model::compile(pack, case.years, &case.numbers)?;
    outlook(pack, case, &model, options)
}

impl Model {
    /// As [`look_next`], with a model compiled for the case's claim and numbers.
    ///
    /// # Errors
    /// [`Error::Impossible`] when the findings contradict one another.
    pub fn look_next(
        &self,
        pack: &Pack,
        case: &Case,
        options: &NextOptions,
    ) -> Result<Outlook, Error> {
        outlook(pack, case, self, options)
    }
}

/// One thing that could come out: its chance and the verdicts then.
#[derive(Debug, Clone, Copy)]
pub(super) struct Prospect {
    pub chance: f64,
    pub verdicts: [f64; 4],
}

/// What a set of answers is expected to do.
#[derive(Debug, Clone, Copy)]
pub(super) struct Worth {
    pub bits: f64,
    pub changes: f64,
    pub right: f64,
}

struct Looker<'a> {
    inquiry: &'a Inquiry<'a>,
    /// Position of the visit among those whose quality is open.
    visit: usize,
    items: Vec<Item>,
    /// What depends on each item.
    cones: Vec<Cone>,
    now: [f64; 4],
}

/// The same examiner goes on looking: the quality of the last visit is open.
fn last_visit<'a>(pack: &'a Pack, case: &'a Case, model: &'a Model) -> Result<Inquiry<'a>, Error> {
    Inquiry::with_visit(pack, case, model, Some(case.visits.len() - 1))
}

fn outlook(
    pack: &Pack,
    case: &Case,
    model: &Model,
    options: &NextOptions,
) -> Result<Outlook, Error> {
    let inquiry = last_visit(pack, case, model)?;
    let looker = Looker::new(&inquiry);
    let mut checks = looker.checks(options);
    looker.money(&mut checks)?;
    let mut checks: Vec<CheckValue> = checks.into_iter().map(|(check, _)| check).collect();
    sort_by(&mut checks, |one, other| {
        let telling = other.bits_per_minute.total_cmp(&one.bits_per_minute);
        other.allowed.cmp(&one.allowed).then(telling)
    });
    let plan = options.minutes.map(|minutes| looker.plan(minutes, &checks));
    let allowed = checks.iter().filter(|check| check.allowed);
    let worth_doing = allowed.clone().any(|check| {
        check.changes_verdict > NOT_WORTH || check.money.is_some_and(|money| money.net > 0.0)
    });
    let together = plan
        .as_ref()
        .is_some_and(|plan: &crate::outlook::Plan| plan.all_change_verdict > NOT_WORTH);
    let concerned: Vec<String> = allowed.map(|check| check.id.clone()).collect();
    let lead = leading(&looker.now);
    Ok(Outlook {
        schema: OUTLOOK_SCHEMA.into(),
        engine: env!("CARGO_PKG_VERSION").into(),
        pack: stamp(pack),
        piece: piece_summary(pack, case),
        leading: lead,
        probability: looker.now[crate::inquiry::place_of(lead)],
        open_bits: looker.now.iter().map(|p| entropy(*p)).sum(),
        checks,
        plan,
        nothing_left: !worth_doing && !together,
        cautions: cautions(pack, |id| concerned.iter().any(|check| check == id)),
        limits: LIMITS.into(),
    })
}

fn entropy(p: f64) -> f64 {
    if p > 0.0 { -p * libm::log2(p) } else { 0.0 }
}

/// How far probabilities have moved from others, in bits.
fn divergence(then: &[f64; 4], now: &[f64; 4]) -> f64 {
    then.iter()
        .zip(now)
        .filter(|(then, now)| **then > 0.0 && **now > 0.0)
        .map(|(then, now)| then * libm::log2(then / now))
        .sum()
}

impl<'a> Looker<'a> {
    fn new(inquiry: &'a Inquiry<'a>) -> Self {
        let visit = inquiry.case.visits.len() - 1;
        let items = unseen(inquiry, visit);
        let circuit = &inquiry.model.circuit;
        let cones = items.iter().map(|item| circuit.cone(&[item.variable]));
        let mut visits = inquiry.likelihoods.visits.iter();
        Self {
            visit: visits.position(|v| *v == visit).unwrap_or(0),
            cones: cones.collect(),
            items,
            now: inquiry.verdicts(),
            inquiry,
        }
    }

    /// Reads the joints of the verdicts off what a workspace holds.
    pub fn verdicts(&self, workspace: &Workspace) -> [f64; 4] {
        let answer = crate::answer::Answer {
            workspace,
            ..self.inquiry.answer()
        };
        let scale = libm::exp2(f64::from(
            workspace.exponent() - self.inquiry.workspace.exponent(),
        ));
        by_verdict(self.inquiry.pack, &answer.histories()).map(|joint| scale * joint)
    }

    /// Prospects from joints of the verdicts with each answer.
    fn prospects(&self, joints: impl Iterator<Item = [f64; 4]>) -> Vec<Prospect> {
        let total: f64 = self.inquiry.joint.iter().sum();
        joints
            .filter_map(|joint| {
                let sum: f64 = joint.iter().sum();
                (sum > 0.0).then(|| Prospect {
                    chance: sum / total,
                    verdicts: joint.map(|joint| joint / sum),
                })
            })
            .collect()
    }

    pub fn worth(&self, prospects: &[Prospect]) -> Worth {
        let lead = leading(&self.now);
        let most = self.now.iter().copied().fold(0.0, f64::max);
        let (mut bits, mut changes, mut right) = (0.0, 0.0, -most);
        for prospect in prospects {
            bits += prospect.chance * divergence(&prospect.verdicts, &self.now);
            if leading(&prospect.verdicts) != lead {
                changes += prospect.chance;
            }
            right += prospect.chance * prospect.verdicts.iter().copied().fold(0.0, f64::max);
        }
        // Rounding alone could take them below nothing.
        Worth {
            bits: bits.max(0.0),
            changes,
            right: right.max(0.0),
        }
    }

    /// What one thing to look at could show: off the derivative pass already done.
    fn of_item(&self, item: &Item, answers: &[Answer]) -> Vec<Prospect> {
        let answer = self.inquiry.answer();
        let joints = answers.iter().map(|possible| {
            let joint = answer.joint_with(item.variable, item.states(), |quality, lane, state| {
                item.weight(possible, quality >> self.visit & 1, lane, state)
            });
            by_verdict(self.inquiry.pack, &joint)
        });
        // The chances of all answers sum to one, those told apart by a grid nearly.
        normalised(self.prospects(joints))
    }

    fn checks(&self, options: &NextOptions) -> Vec<(CheckValue, Vec<Prospect>)> {
        let mut workspace = self.inquiry.workspace.clone();
        (0..self.inquiry.pack.checks.len())
            .filter_map(|check| self.check(check, options, &mut workspace))
            .collect()
    }

    fn check(
        &self,
        check: usize,
        options: &NextOptions,
        workspace: &mut Workspace,
    ) -> Option<(CheckValue, Vec<Prospect>)> {
        let places: Vec<usize> = (0..self.items.len())
            .filter(|place| self.items[*place].check == check)
            .collect();
        if places.is_empty() {
            return None;
        }
        let alone: Vec<Vec<Prospect>> = places
            .iter()
            .map(|place| self.of_item(&self.items[*place], &self.items[*place].answers))
            .collect();
        let combinations = places.iter().try_fold(1_usize, |product, place| {
            let answers = match places.len() {
                1 => self.items[*place].answers.len(),
                _ => self.items[*place].coarse.len(),
            };
            let product = product.checked_mul(answers)?;
            (product <= MOST_EXACT).then_some(product)
        });
        let (prospects, method) = match combinations {
            Some(answers) if places.len() == 1 => {
                let answers = answers as u32;
                (alone[0].clone(), CheckMethod::Exact { answers })
            }
            Some(answers) => {
                let answers = answers as u32;
                (
                    self.all_of(&places, workspace),
                    CheckMethod::Exact { answers },
                )
            }
            None => {
                let prospects = self.drawn(&places, workspace);
                let method = CheckMethod::Drawn {
                    draws: DRAWS,
                    seed: SEED,
                    standard_error: standard_error(&prospects, &self.now),
                };
                (prospects, method)
            }
        };
        let mut worth = self.worth(&prospects);
        // Several answers are told apart more coarsely, or drawn; but no more can be learned from
        // one of them than from all.
        for one in alone.iter().map(|prospects| self.worth(prospects)) {
            worth.bits = worth.bits.max(one.bits);
            if one.right > worth.right + 1e-12 {
                worth.right = one.right;
                worth.changes = worth.changes.max(one.changes);
            }
        }
        let of = &self.inquiry.pack.checks[check];
        let mut telling: Vec<(f64, TellingAnswer)> = Vec::new();
        for item in places.iter().map(|place| &self.items[*place]) {
            let prospects = self.of_item(item, &item.coarse);
            for (answer, prospect) in item.coarse.iter().zip(prospects) {
                let moved = prospect.chance * divergence(&prospect.verdicts, &self.now);
                telling.push((
                    moved,
                    TellingAnswer {
                        id: item.id.clone(),
                        part: item.part.clone(),
                        found: answer.words.clone(),
                        chance: prospect.chance,
                        verdicts: prospect.verdicts.to_vec(),
                    },
                ));
            }
        }
        sort_by(&mut telling, |one, other| other.0.total_cmp(&one.0));
        let value = CheckValue {
            id: of.id.clone(),
            name: of.name.clone(),
            how: of.how.clone(),
            tools: of.tools.clone(),
            minutes: of.minutes,
            access: of.access,
            leave: of.leave,
            allowed: options.allow(of.access, of.leave),
            answers: places
                .iter()
                .zip(&alone)
                .map(|(place, prospects)| self.items[*place].unseen(self.worth(prospects).bits))
                .collect(),
            bits: worth.bits,
            bits_per_minute: worth.bits / of.minutes,
            changes_verdict: worth.changes,
            right_more_often: worth.right,
            money: None,
            method,
            telling: telling
                .into_iter()
                .take(TELLING)
                .map(|(_, answer)| answer)
                .collect(),
        };
        Some((value, prospects))
    }

    /// Every combination of answers, one changed at a time.
    fn all_of(&self, places: &[usize], workspace: &mut Workspace) -> Vec<Prospect> {
        let circuit = &self.inquiry.model.circuit;
        let variables: Vec<VariableId> = places
            .iter()
            .map(|place| self.items[*place].variable)
            .collect();
        let together = circuit.cone(&variables);
        let mut digits = vec![0_usize; places.len()];
        for place in places {
            let item = &self.items[*place];
            item.put(self.inquiry, workspace, self.visit, item.coarse.first());
        }
        circuit.value_in_cone(workspace, &together);
        let mut joints = vec![self.verdicts(workspace)];
        // The next combination: the last digit that can still rise, those after it begin anew.
        while let Some(rising) = (0..digits.len())
            .rev()
            .find(|d| digits[*d] + 1 < self.items[places[*d]].coarse.len())
        {
            digits[rising] += 1;
            digits[rising + 1..].fill(0);
            for place in rising..digits.len() {
                let item = &self.items[places[place]];
                let answer = &item.coarse[digits[place]];
                item.put(self.inquiry, workspace, self.visit, Some(answer));
            }
            let cone = match digits.len() - rising {
                1 => &self.cones[places[rising]],
                _ => &together,
            };
            circuit.value_in_cone(workspace, cone);
            joints.push(self.verdicts(workspace));
        }
        self.take_out(places, workspace, &together);
        normalised(self.prospects(joints.into_iter()))
    }

    /// Takes the answers of some items out again.
    fn take_out(&self, places: &[usize], workspace: &mut Workspace, together: &Cone) {
        for place in places {
            self.items[*place].put(self.inquiry, workspace, self.visit, None);
        }
        let circuit = &self.inquiry.model.circuit;
        circuit.value_in_cone(workspace, together);
    }

    /// Some combinations of answers.
    fn drawn(&self, places: &[usize], workspace: &mut Workspace) -> Vec<Prospect> {
        let mut joints = Vec::new();
        self.draw_reports(places, DRAWS, workspace, |_, joint| joints.push(joint));
        self.of_draws(&joints)
    }

    /// Draws reports for some items, each given those before it and all that was found; `take` is
    /// given the place of every item's answer and the joints of the verdicts with all of them.
    fn draw_reports(
        &self,
        places: &[usize],
        draws: u32,
        workspace: &mut Workspace,
        mut take: impl FnMut(&[usize], [f64; 4]),
    ) {
        let circuit = &self.inquiry.model.circuit;
        let mut rng = ChaCha8Rng::seed_from_u64(SEED);
        let variables: Vec<VariableId> = places
            .iter()
            .map(|place| self.items[*place].variable)
            .collect();
        let together = circuit.cone(&variables);
        for _ in 0..draws {
            let mut answers = Vec::new();
            let mut verdicts = self.verdicts(workspace);
            for place in places {
                let item = &self.items[*place];
                let total: f64 = verdicts.iter().sum();
                let mut left = rng.random::<f64>() * total;
                // The last answer takes what rounding leaves.
                let last = item.coarse.len() - 1;
                for (chosen, answer) in item.coarse.iter().enumerate() {
                    item.put(self.inquiry, workspace, self.visit, Some(answer));
                    circuit.value_in_cone(workspace, &self.cones[*place]);
                    verdicts = self.verdicts(workspace);
                    left -= verdicts.iter().sum::<f64>();
                    if left < 0.0 || chosen == last {
                        answers.push(chosen);
                        break;
                    }
                }
            }
            take(&answers, verdicts);
            self.take_out(places, workspace, &together);
        }
    }

    /// Prospects from joints of the verdicts with answers that were drawn, weighed so that the
    /// verdicts come to what they are now on average, as they do over all answers.
    pub fn of_draws(&self, joints: &[[f64; 4]]) -> Vec<Prospect> {
        let mut ratios: Vec<[f64; 4]> = joints
            .iter()
            .map(|joint| {
                let total: f64 = joint.iter().sum();
                [0, 1, 2, 3].map(|v| match self.now[v] > 0.0 {
                    true => joint[v] / total / self.now[v],
                    false => 0.0,
                })
            })
            .collect();
        for verdict in 0..4 {
            let mean = ratios.iter().map(|r| r[verdict]).sum::<f64>() / ratios.len() as f64;
            for ratio in &mut ratios {
                // A verdict that no draw gave any chance stays where it is.
                ratio[verdict] = if mean > 0.0 {
                    ratio[verdict] / mean
                } else {
                    1.0
                };
            }
        }
        ratios
            .iter()
            .map(|ratio| {
                let joint = [0, 1, 2, 3].map(|v| ratio[v] * self.now[v] / ratios.len() as f64);
                let chance: f64 = joint.iter().sum();
                Prospect {
                    chance,
                    verdicts: joint.map(|joint| joint / chance),
                }
            })
            .collect()
    }

    /// What each check is worth on the user's own figures.
    fn money(&self, checks: &mut [(CheckValue, Vec<Prospect>)]) -> Result<(), Error> {
        let Some(stakes) = &self.inquiry.case.stakes else {
            return Ok(());
        };
        let outlooks: Vec<CheckOutlook> = checks
            .iter()
            .map(|(check, prospects)| outlook_of(check, prospects))
            .collect();
        let decision = decide::decide(&self.now, stakes, &outlooks)?;
        for (check, _) in checks {
            let value = decision.checks.iter().find(|value| value.id == check.id);
            check.money = value.map(|value| CheckMoney {
                value: value.value,
                cost: value.cost,
                net: value.net,
            });
        }
        Ok(())
    }
}

fn outlook_of(check: &CheckValue, prospects: &[Prospect]) -> CheckOutlook {
    CheckOutlook {
        id: check.id.clone(),
        name: check.name.clone(),
        minutes: check.minutes,
        outcomes: prospects
            .iter()
            .map(|prospect| decide::Outlook {
                chance: prospect.chance,
                verdicts: prospect.verdicts,
            })
            .collect(),
    }
}

/// What each check still to do could bring to light, for [`decide`](crate::decide::decide).
///
/// # Errors
/// [`Error::Impossible`] when the findings contradict one another.
pub fn check_outlooks(
    pack: &Pack,
    case: &Case,
    model: &Model,
    options: &NextOptions,
) -> Result<Vec<CheckOutlook>, Error> {
    let inquiry = last_visit(pack, case, model)?;
    let looker = Looker::new(&inquiry);
    let checks = looker.checks(options);
    Ok(checks
        .into_iter()
        .filter(|(check, _)| check.allowed)
        .map(|(check, prospects)| outlook_of(&check, &prospects))
        .collect())
}

/// Chances that sum to one, and verdicts unchanged.
fn normalised(mut prospects: Vec<Prospect>) -> Vec<Prospect> {
    let total: f64 = prospects.iter().map(|prospect| prospect.chance).sum();
    for prospect in &mut prospects {
        prospect.chance /= total;
    }
    prospects
}

/// Standard error of the expected bits of drawn answers.
pub(super) fn standard_error(prospects: &[Prospect], now: &[f64; 4]) -> f64 {
    let count = prospects.len() as f64;
    let bits: Vec<f64> = prospects
        .iter()
        .map(|prospect| divergence(&prospect.verdicts, now))
        .collect();
    let mean = bits.iter().sum::<f64>() / count;
    let square: f64 = bits.iter().map(|bit| (bit - mean) * (bit - mean)).sum();
    (square / (count - 1.0) / count).sqrt()
}
