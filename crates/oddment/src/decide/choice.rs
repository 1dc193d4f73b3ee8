//! Actions, states and payoffs; the worth of knowing more.

use super::DecideError;
use crate::density::special::ln_ratio;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The greatest aversion to risk: published estimates lie well below (R. Mehra and E. C. Prescott,
/// 1985, The equity premium: a puzzle, take 10 as the most anyone would argue for; from memory,
/// unverified).
pub const GREATEST_AVERSION: f64 = 10.0;

/// What must be left of a wealth in the worst case: with nothing left, constant relative risk
/// aversion has no answer.
pub(super) const LEAST_LEFT: f64 = 1e-6;

/// The greatest size of a payoff.
const GREATEST_PAYOFF: f64 = 1e13;

/// How far chances may miss their sum, or the mean of posteriors the prior, by rounding.
const SLACK: f64 = 1e-6;

/// Halvings of a bracket, after which its width is what rounding leaves of money.
const HALVINGS: u32 = 60;

/// What a person makes of risk.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Attitude {
    /// Money counts as money: expected amounts are compared.
    #[default]
    Linear,
    /// Constant relative risk aversion `a` over the wealth that results:
    ///
    /// ```text
    /// u(w) = w^(1 - a) / (1 - a),   ln w at a = 1,   w = wealth + payoff
    /// ```
    ///
    /// Pratt 1964 and Arrow 1965 (from memory, unverified).
    ConstantRelative {
        /// Aversion, 0 (none) to 10, no unit.
        aversion: f64,
        /// Wealth before the decision, in the currency of the payoffs, above 0.
        wealth: f64,
    },
}

impl Attitude {
    /// The utility of a payoff; `None` where it leaves no wealth. Only comparisons mean anything.
    ///
    /// ```
    /// use oddment::decide::Attitude;
    /// let careful = Attitude::ConstantRelative { aversion: 2.0, wealth: 100.0 };
    /// assert_eq!(careful.utility(100.0), Some(-1.0 / 200.0));
    /// assert_eq!(careful.utility(-100.0), None);
    /// ```
    #[must_use]
    pub fn utility(&self, payoff: f64) -> Option<f64> {
        match *self {
            Self::Linear => Some(payoff),
            Self::ConstantRelative { aversion, wealth } => {
                let left = wealth + payoff;
                let more = 1.0 - aversion;
                if aversion == 0.0 {
                    Some(left)
                } else if left.is_nan() || left <= 0.0 {
                    None
                } else if more == 0.0 {
                    Some(libm::log(left))
                } else {
                    Some(libm::pow(left, more) / more)
                }
            }
        }
    }

    /// The certain payoff that is as good as a lottery less something spent; `None` where that
    /// could leave no wealth. A lottery is pairs of chance and payoff; what has no chance is ignored.
    pub(crate) fn equivalent(
        &self,
        lottery: impl Iterator<Item = (f64, f64)> + Clone,
        spent: f64,
    ) -> Option<f64> {
        let lottery = lottery.filter(|(chance, _)| *chance > 0.0);
        let (aversion, wealth) = match *self {
            Self::ConstantRelative { aversion, wealth } if aversion > 0.0 => (aversion, wealth),
            _ => {
                let mean: f64 = lottery.map(|(chance, payoff)| chance * payoff).sum();
                return Some(mean - spent);
            }
        };
        // Everything relative to the best case: then no power of a wealth overflows, nothing cancels
        // where payoffs are small beside the wealth, and the utilities differ from those above only
        // by a factor and a constant.
        let best = lottery
            .clone()
            .map(|(_, payoff)| payoff)
            .fold(f64::NEG_INFINITY, f64::max);
        let most = wealth - spent + best;
        let more = 1.0 - aversion;
        let mut mean = 0.0;
        for (chance, payoff) in lottery {
            let left = wealth - spent + payoff;
            if left.is_nan() || left <= 0.0 {
                return None;
            }
            let ln = ln_ratio(left, most);
            mean += chance
                * if more == 0.0 {
                    ln
                } else {
                    libm::expm1(more * ln)
                };
        }
        let ln = if more == 0.0 {
            mean
        } else {
            libm::log1p(mean) / more
        };
        Some(best - spent + most * libm::expm1(ln))
    }
}

/// One outcome of an observation.
#[derive(Debug, Clone, PartialEq)]
pub struct Prospect {
    /// How probable the outcome is.
    pub chance: f64,
    /// The probability of each state after it.
    pub states: Vec<f64>,
}

impl Prospect {
    /// By Bayes' rule, from the states' probabilities before and the outcome's likelihood under each.
    ///
    /// ```
    /// use oddment::decide::Prospect;
    /// let prospect = Prospect::of(&[0.5, 0.5], &[0.9, 0.3]);
    /// assert!((prospect.chance - 0.6).abs() < 1e-15);
    /// assert!((prospect.states[0] - 0.75).abs() < 1e-15);
    /// ```
    #[must_use]
    pub fn of(prior: &[f64], likelihood: &[f64]) -> Self {
        let joint = prior.iter().zip(likelihood).map(|(p, l)| p * l);
        let chance: f64 = joint.clone().sum();
        let states = if chance > 0.0 {
            joint.map(|joint| joint / chance).collect()
        } else {
            prior.to_vec()
        };
        Self { chance, states }
    }
}

/// A choice between actions whose payoffs depend on a state that is not known.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    chances: Vec<f64>,
    payoffs: Vec<Vec<f64>>,
    attitude: Attitude,
}

impl Choice {
    /// A choice: the chance of each state, the payoff of each action (first index) in each state
    /// (second index) in one currency, and the attitude to risk.
    ///
    /// # Errors
    /// [`DecideError`] for chances that do not sum to 1 (within 1e-6), a table of another size,
    /// payoffs beyond 1e13, an aversion outside 0 to 10, and payoffs that could leave less than a
    /// millionth of the wealth.
    pub fn new(
        chances: Vec<f64>,
        payoffs: Vec<Vec<f64>>,
        attitude: Attitude,
    ) -> Result<Self, DecideError> {
        let chances = normalised(chances, "the states")?;
        if payoffs.is_empty() {
            let what = "the table of payoffs".to_owned();
            let (have, want) = (0, 1);
            return Err(DecideError::Shape { what, have, want });
        }
        for (action, row) in payoffs.iter().enumerate() {
            if row.len() != chances.len() {
                return Err(DecideError::Shape {
                    what: format!("the payoffs of action {action}"),
                    have: row.len(),
                    want: chances.len(),
                });
            }
            for value in row {
                number(*value, || format!("a payoff of action {action}"))?;
            }
        }
        let possible = payoffs.iter().flat_map(|row| row.iter().zip(&chances));
        let possible = possible.filter(|(_, chance)| **chance > 0.0);
        let worst = possible.map(|(payoff, _)| *payoff);
        bearable(attitude, worst.fold(f64::INFINITY, f64::min))?;
        Ok(Self {
            chances,
            payoffs,
            attitude,
        })
    }

    /// The expected payoff of each action, in money whatever the attitude.
    #[must_use]
    pub fn expectations(&self) -> Vec<f64> {
        let expected =
            |row: &Vec<f64>| Attitude::Linear.equivalent(lottery(&self.chances, row), 0.0);
        self.payoffs.iter().filter_map(expected).collect()
    }

    /// The certain payoff as good as each action. With a linear attitude, its expectation.
    #[must_use]
    pub fn certainty_equivalents(&self) -> Vec<f64> {
        self.payoffs
            .iter()
            .map(|row| {
                let certain = self.attitude.equivalent(lottery(&self.chances, row), 0.0);
                // Checked when the choice was made.
                certain.unwrap_or(f64::NEG_INFINITY)
            })
            .collect()
    }

    /// Index of the best action; of equally good ones the first.
    ///
    /// ```
    /// use oddment::decide::{Attitude, Choice};
    /// let payoffs = vec![vec![-60.0, 80.0], vec![0.0, 0.0]];
    /// let bold = Choice::new(vec![0.5, 0.5], payoffs.clone(), Attitude::Linear)?;
    /// let attitude = Attitude::ConstantRelative { aversion: 1.0, wealth: 100.0 };
    /// let careful = Choice::new(vec![0.5, 0.5], payoffs, attitude)?;
    /// assert_eq!((bold.best(), careful.best()), (0, 1));
    /// # Ok::<(), oddment::decide::DecideError>(())
    /// ```
    #[must_use]
    pub fn best(&self) -> usize {
        let mut best = 0;
        let certain = self.certainty_equivalents();
        for (action, value) in certain.iter().enumerate() {
            if *value > certain[best] {
                best = action;
            }
        }
        best
    }

    /// The most to pay for knowing the state before acting, in money, never below 0.
    ///
    /// With a linear attitude the expected best payoff less the best expected one; else the price
    /// at which paying and knowing is as good as neither.
    #[must_use]
    pub fn perfect_information(&self) -> f64 {
        let states = self.chances.len();
        let known: Vec<Prospect> = (0..states)
            .map(|state| {
                let mut sure = vec![0.0; states];
                sure[state] = 1.0;
                Prospect {
                    chance: self.chances[state],
                    states: sure,
                }
            })
            .collect();
        self.information(&known)
    }

    /// The most to pay for an observation before acting, in money, never below 0: as
    /// [`perfect_information`](Self::perfect_information), with the states' probabilities after each
    /// outcome in place of certainty.
    ///
    /// # Errors
    /// [`DecideError`] for outcomes whose chances do not sum to 1, or whose states have not one
    /// probability each, do not sum to 1, or do not average to the chances of this choice (within
    /// 1e-6).
    pub fn sample_information(&self, prospects: &[Prospect]) -> Result<f64, DecideError> {
        let chances = prospects.iter().map(|prospect| prospect.chance).collect();
        let chances = normalised(chances, "the outcomes")?;
        let mut whole = Vec::new();
        for (outcome, (prospect, chance)) in prospects.iter().zip(chances).enumerate() {
            let what = format!("the states after outcome {outcome}");
            if prospect.states.len() != self.chances.len() {
                let (have, want) = (prospect.states.len(), self.chances.len());
                return Err(DecideError::Shape { what, have, want });
            }
            let states = normalised(prospect.states.clone(), &what)?;
            whole.push(Prospect { chance, states });
        }
        for (state, prior) in self.chances.iter().enumerate() {
            let average: f64 = whole.iter().map(|p| p.chance * p.states[state]).sum();
            if (average - prior).abs() > SLACK {
                let prior = *prior;
                return Err(DecideError::Incoherent {
                    state,
                    average,
                    prior,
                });
            }
        }
        Ok(self.information(&whole))
    }

    /// The greatest price at which observing is still as good as not.
    fn information(&self, prospects: &[Prospect]) -> f64 {
        let certain = self.certainty_equivalents();
        let before = certain.into_iter().fold(f64::NEG_INFINITY, f64::max);
        // What observing and then acting for the best is as good as, the price paid.
        let after = |price: f64| -> Option<f64> {
            let mut outcomes = Vec::with_capacity(prospects.len());
            for prospect in prospects.iter().filter(|prospect| prospect.chance > 0.0) {
                let actions = self.payoffs.iter();
                let best = actions
                    .filter_map(|row| {
                        self.attitude
                            .equivalent(lottery(&prospect.states, row), price)
                    })
                    .reduce(f64::max)?;
                outcomes.push((prospect.chance, best));
            }
            self.attitude.equivalent(outcomes.into_iter(), 0.0)
        };
        if self.attitude == Attitude::Linear {
            // Paying just takes the price off.
            return (after(0.0).unwrap_or(before) - before).max(0.0);
        }
        // Nobody pays more than the best payoff is better than what there is for nothing.
        let most = self.payoffs.iter().flatten().copied();
        let most = (most.fold(f64::NEG_INFINITY, f64::max) - before).max(0.0);
        last_below((0.0, most), |price| {
            after(price).is_some_and(|after| after >= before)
        })
    }
}

/// The last point of a range at which something holds that holds up to some point and not beyond;
/// its lower end where it never does.
pub(super) fn last_below((mut low, mut high): (f64, f64), holds: impl Fn(f64) -> bool) -> f64 {
    if holds(high) {
        return high;
    }
    for _ in 0..HALVINGS {
        let middle = low + 0.5 * (high - low);
        if middle <= low || middle >= high {
            break;
        }
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// Pairs of chance and payoff.
pub(super) fn lottery<'a>(
    chances: &'a [f64],
    payoffs: &'a [f64],
) -> impl Iterator<Item = (f64, f64)> + Clone {
    chances.iter().copied().zip(payoffs.iter().copied())
}

/// Chances that sum to 1, the slack of rounding taken out.
pub(super) fn normalised(mut chances: Vec<f64>, what: &str) -> Result<Vec<f64>, DecideError> {
    let sum: f64 = chances.iter().sum();
    let fits = chances.iter().all(|chance| *chance >= 0.0) && (sum - 1.0).abs() <= SLACK;
    if !fits {
        let what = what.to_owned();
        return Err(DecideError::Chances { what, sum });
    }
    for chance in &mut chances {
        *chance /= sum;
    }
    Ok(chances)
}

/// Refuses a number beyond reckoning.
pub(super) fn number(value: f64, what: impl Fn() -> String) -> Result<(), DecideError> {
    if value.abs() <= GREATEST_PAYOFF {
        return Ok(());
    }
    let what = what();
    Err(DecideError::Number { what, value })
}

/// Refuses an aversion out of range, and a payoff that the wealth cannot bear.
pub(super) fn bearable(attitude: Attitude, payoff: f64) -> Result<(), DecideError> {
    let Attitude::ConstantRelative { aversion, wealth } = attitude else {
        return Ok(());
    };
    if !(0.0..=GREATEST_AVERSION).contains(&aversion) {
        return Err(DecideError::Aversion(aversion));
    }
    number(wealth, || "the wealth".to_owned())?;
    if aversion > 0.0 && (wealth <= 0.0 || wealth + payoff < LEAST_LEFT * wealth) {
        return Err(DecideError::Wealth { wealth, payoff });
    }
    Ok(())
}
