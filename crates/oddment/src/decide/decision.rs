//! Whether to buy: verdicts and stakes put together.

use super::DecideError;
use super::choice::{Attitude, Choice, Prospect, last_below, lottery, normalised, number};
use super::stakes::{ByVerdict, Stakes};
use crate::order::sort_by;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The `schema` field of a decision.
pub const DECISION_SCHEMA: &str = "oddment/decision/1";

/// What a decision is not; shown with every one.
pub const CAUTION: &str = "Arithmetic on your own figures and on elicited odds: no valuation and no \
advice. What a piece is worth, what you can afford to lose and whether to buy are yours to judge.";

/// Rounding allowed when a sum of chances is compared with the chance of loss stated.
const SLACK: f64 = 1e-12;

/// Worth below this share of the greatest gain or loss is rounding.
const ROUNDING: f64 = 1e-12;

/// What a check could bring to light.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckOutlook {
    /// The check's id.
    pub id: String,
    /// The check's name.
    pub name: String,
    /// Minutes it takes.
    pub minutes: f64,
    /// Everything it could show; their chances sum to 1.
    pub outcomes: Vec<Outlook>,
}

/// One thing a check could show.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// How probable it is that it shows this.
    pub chance: f64,
    /// The probabilities of the verdicts then, in the order of [`VERDICTS`](crate::pack::VERDICTS).
    pub verdicts: [f64; 4],
}

/// What can be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Action {
    /// Buy at the asking price.
    Buy,
    /// Do the check that is worth most beyond its cost, and decide then.
    LookFurther,
    /// Leave it.
    WalkAway,
}

/// What a check is worth before deciding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CheckValue {
    /// The check's id.
    pub id: String,
    /// The check's name.
    pub name: String,
    /// Minutes it takes.
    pub minutes: f64,
    /// The most to pay for what it may show, in money, never below 0.
    pub value: f64,
    /// What it costs, the examiner's time included.
    pub cost: f64,
    /// Value less cost.
    pub net: f64,
}

/// Whether to buy, on the user's own figures; amounts in the user's currency.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Decision {
    /// Always `oddment/decision/1`.
    pub schema: String,
    /// Probability of each verdict.
    pub verdicts: ByVerdict,
    /// The figures it rests on.
    pub stakes: Stakes,
    /// What a sale would leave under each verdict, resale cost taken off.
    pub after_resale: ByVerdict,
    /// What buying at the asking price would gain under each verdict.
    pub gains: ByVerdict,
    /// Expected gain of buying at the asking price.
    pub expected_gain: f64,
    /// The certain gain that buying at the asking price is as good as; with a linear attitude the
    /// expected gain.
    pub certainty_equivalent: f64,
    /// Probability that buying at the asking price loses money.
    pub chance_of_loss: f64,
    /// The price at which the expected gain is 0; below 0 when not even a gift would do.
    pub break_even: f64,
    /// The price at which buying is as good as walking away; with a linear attitude the same.
    pub break_even_in_utility: f64,
    /// The greatest price at which the probability of a loss is at most the chance stated.
    pub price_at_chance_of_loss: f64,
    /// The most to pay for knowing the verdict for certain before deciding.
    pub perfect_information: f64,
    /// What each check is worth, the greatest net value first.
    pub checks: Vec<CheckValue>,
    /// What comes out best.
    pub action: Action,
    /// Id of the check to do, when the action is to look further.
    pub check: Option<String>,
    /// By how much it beats the next best, in money.
    pub margin: f64,
    /// What this is not.
    pub caution: String,
}

/// Works out whether to buy a piece, walk away, or look further first.
///
/// `verdicts` are the probabilities of the verdicts in the order of
/// [`VERDICTS`](crate::pack::VERDICTS); `checks` what could still be looked at, and with what
/// outcome.
///
/// ```text
/// left(v)  = worth(v) (1 - share) - amount         what a sale leaves
/// gain(v)  = left(v) - asking                      walking away gains 0
/// break even      sum of P(v) left(v);             in utility: the price b with E u(W + left - b) = u(W)
/// chance of loss  sum of P(v) over gain(v) < 0
/// price at chance of loss  the greatest b with sum of P(v) over left(v) < b at most the chance stated
/// ```
///
/// Buying counts as its certainty equivalent, walking away as 0, and looking further as the better
/// of the two plus the greatest net value of a check, where that is above 0. Of equally good ones
/// walking away goes before buying, and buying before looking.
///
/// # Errors
/// [`DecideError`] for probabilities that do not sum to 1, outcomes of a check that do not average to
/// them, figures that are no numbers, and a wealth that could not bear the worst loss.
///
/// ```
/// use oddment::decide::{Action, CheckOutlook, Outlook, Stakes, decide};
/// let written = serde_json::from_value(serde_json::json!({
///     "asking": 2500.0, "minute": 2.0,
///     "worth": { "original": 9000.0, "married": 3000.0, "converted": 2500.0, "faked": 500.0 },
///     "resale_cost": { "share": 0.2 }
/// }))?;
/// let stakes = Stakes::new(&written).map_err(|problems| problems[0].message.clone())?;
/// let decision = decide(&[0.1, 0.3, 0.2, 0.4], &stakes, &[])?;
/// assert!((decision.break_even - 2000.0).abs() < 1e-9);
/// assert_eq!(decision.action, Action::WalkAway);
///
/// // A look that would tell whether it is original is worth 0.1 times the gain then, 4700.
/// let outlook = |chance, verdicts| Outlook { chance, verdicts };
/// let check = CheckOutlook {
///     id: "turn-over".into(),
///     name: "Turn it over".into(),
///     minutes: 10.0,
///     outcomes: vec![
///         outlook(0.1, [1.0, 0.0, 0.0, 0.0]),
///         outlook(0.9, [0.0, 0.3 / 0.9, 0.2 / 0.9, 0.4 / 0.9]),
///     ],
/// };
/// let decision = decide(&[0.1, 0.3, 0.2, 0.4], &stakes, &[check])?;
/// assert_eq!(decision.action, Action::LookFurther);
/// assert!((decision.margin - (470.0 - 20.0)).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn decide(
    verdicts: &[f64; 4],
    stakes: &Stakes,
    checks: &[CheckOutlook],
) -> Result<Decision, DecideError> {
    let chances = normalised(verdicts.to_vec(), "the verdicts")?;
    number(stakes.asking, || "the asking price".to_owned())?;
    let (left, gains) = (stakes.after_resale(), stakes.gains());
    let payoffs = vec![gains.to_array().to_vec(), vec![0.0; 4]];
    let choice = Choice::new(chances.clone(), payoffs, stakes.attitude)?;
    let after_resale = left.to_array();
    let certainty_equivalent = choice.certainty_equivalents()[0];
    let chance_of_loss = lottery(&chances, &gains.to_array())
        .filter(|(_, gain)| *gain < 0.0)
        // A sum over nothing is -0, which would be shown as such.
        .fold(0.0, |sum, (chance, _)| sum + chance);
    let break_even: f64 = lottery(&chances, &after_resale).map(|(p, x)| p * x).sum();

    let mut values = Vec::new();
    for check in checks {
        values.push(value_of(check, &choice, stakes)?);
    }
    sort_by(&mut values, |one, other| other.net.total_cmp(&one.net));

    let now = certainty_equivalent.max(0.0);
    let mut actions = vec![(Action::WalkAway, 0.0), (Action::Buy, certainty_equivalent)];
    let best_check = values.first();
    actions.extend(best_check.map(|check| (Action::LookFurther, now + check.net)));
    // A stable sort: equally good ones stay in the order above.
    sort_by(&mut actions, |one, other| other.1.total_cmp(&one.1));
    let action = actions[0].0;
    let check = best_check
        .filter(|_| action == Action::LookFurther)
        .map(|check| check.id.clone());
    Ok(Decision {
        schema: DECISION_SCHEMA.into(),
        verdicts: [chances[0], chances[1], chances[2], chances[3]].into(),
        stakes: stakes.clone(),
        after_resale: left,
        gains,
        expected_gain: choice.expectations()[0],
        certainty_equivalent,
        chance_of_loss,
        break_even,
        break_even_in_utility: break_even_in_utility(&chances, &after_resale, stakes.attitude)
            .unwrap_or(break_even),
        price_at_chance_of_loss: price_at(stakes.chance_of_loss, &chances, &after_resale),
        perfect_information: choice.perfect_information(),
        checks: values,
        action,
        check,
        margin: actions[0].1 - actions[1].1,
        caution: CAUTION.into(),
    })
}

fn value_of(
    check: &CheckOutlook,
    choice: &Choice,
    stakes: &Stakes,
) -> Result<CheckValue, DecideError> {
    let prospects: Vec<Prospect> = check
        .outcomes
        .iter()
        .map(|outlook| Prospect {
            chance: outlook.chance,
            states: outlook.verdicts.to_vec(),
        })
        .collect();
    let value = choice.sample_information(&prospects)?;
    // A check that leaves the decision as it is is worth nothing, not what rounding left of it.
    let gains = stakes.gains().to_array();
    let largest = gains
        .iter()
        .fold(0.0_f64, |most, gain| most.max(gain.abs()));
    let value = if value <= ROUNDING * largest {
        0.0
    } else {
        value
    };
    let cost = stakes.cost_of_check(&check.id, check.minutes);
    number(cost, || format!("the cost of `{}`", check.id))?;
    Ok(CheckValue {
        id: check.id.clone(),
        name: check.name.clone(),
        minutes: check.minutes,
        value,
        cost,
        net: value - cost,
    })
}

/// The price at which buying is as good as walking away; `None` with a linear attitude, where it is
/// the expectation.
fn break_even_in_utility(chances: &[f64], left: &[f64; 4], attitude: Attitude) -> Option<f64> {
    if attitude == Attitude::Linear {
        return None;
    }
    // At the least that could be left nothing is ever lost, at the most nothing is ever gained.
    let possible = lottery(chances, left).filter(|(chance, _)| *chance > 0.0);
    let ends = possible.fold((f64::INFINITY, f64::NEG_INFINITY), |ends, (_, left)| {
        (ends.0.min(left), ends.1.max(left))
    });
    Some(last_below(ends, |price| {
        let certain = attitude.equivalent(lottery(chances, left), price);
        certain.is_some_and(|certain| certain >= 0.0)
    }))
}

/// The greatest price such that less than it is left with no more than a chance: the least amount
/// that together with all lesser ones is likelier than that.
fn price_at(chance: f64, chances: &[f64], left: &[f64; 4]) -> f64 {
    let mut amounts: Vec<(f64, f64)> = lottery(chances, left)
        .filter(|(chance, _)| *chance > 0.0)
        .collect();
    sort_by(&mut amounts, |one, other| one.1.total_cmp(&other.1));
    let mut below = 0.0;
    let mut price = 0.0;
    for (part, amount) in amounts {
        below += part;
        price = amount;
        if below > chance + SLACK {
            break;
        }
    }
    price
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_price_for_a_chance_of_loss_is_a_quantile() {
        let chances = [0.5, 0.2, 0.25, 0.05];
        let left = [900.0, 300.0, 250.0, 40.0];
        for (chance, price) in [
            (0.0, 40.0),
            (0.049, 40.0),
            (0.05, 250.0),
            (0.1, 250.0),
            (0.3, 300.0),
            (0.499, 300.0),
            (0.5, 900.0),
            (0.99, 900.0),
        ] {
            assert_eq!(price_at(chance, &chances, &left), price, "{chance}");
        }
        // What cannot be does not count, and equal amounts count together.
        assert_eq!(price_at(0.0, &[0.5, 0.5, 0.0, 0.0], &left), 300.0);
        assert_eq!(
            price_at(0.1, &[0.8, 0.1, 0.1, 0.0], &[9.0, 4.0, 4.0, 1.0]),
            4.0
        );
    }
}
