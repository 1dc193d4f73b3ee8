//! The user's own figures, checked.

use super::choice::{Attitude, GREATEST_AVERSION, LEAST_LEFT};
use crate::case::file::StakesFile;
use crate::pack::{VERDICTS, Verdict};
use crate::text::figure;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The chance of loss a price is stated for where the user names none (a choice of this project, no
/// source).
pub const CHANCE_OF_LOSS: f64 = 0.1;

/// The greatest amount of money, in any currency.
const GREATEST_AMOUNT: f64 = 1e12;

/// The least wealth that an aversion to risk can refer to.
const LEAST_WEALTH: f64 = 0.001;

/// One number for each verdict.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ByVerdict {
    /// As first made, honest wear and repair included.
    pub original: f64,
    /// Parts of different pieces put together.
    pub married: f64,
    /// Form, size or use changed later.
    pub converted: f64,
    /// Made or dressed up to deceive.
    pub faked: f64,
}

impl ByVerdict {
    /// The numbers in the order of [`VERDICTS`].
    ///
    /// ```
    /// use oddment::decide::ByVerdict;
    /// let worth = ByVerdict::from([9000.0, 3000.0, 2500.0, 400.0]);
    /// assert_eq!(worth.to_array()[2], worth.converted);
    /// ```
    #[must_use]
    pub fn to_array(self) -> [f64; 4] {
        [self.original, self.married, self.converted, self.faked]
    }
}

impl From<[f64; 4]> for ByVerdict {
    /// From numbers in the order of [`VERDICTS`].
    fn from([original, married, converted, faked]: [f64; 4]) -> Self {
        Self {
            original,
            married,
            converted,
            faked,
        }
    }
}

/// What is at stake in buying a piece: the user's own figures, all in one currency.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stakes {
    /// The price asked.
    pub asking: f64,
    /// What the piece would sell for under each verdict.
    pub worth: ByVerdict,
    /// What selling takes of the price, as a share of it.
    pub resale_share: f64,
    /// What selling takes besides, as an amount.
    pub resale_amount: f64,
    /// What a minute of the examiner costs.
    pub minute: f64,
    /// What a check costs beside the examiner's time, by check id; one that is not here costs nothing.
    pub check_cost: BTreeMap<String, f64>,
    /// The buyer's attitude to risk.
    pub attitude: Attitude,
    /// The chance of loss to state a price for, 0 up to 1.
    pub chance_of_loss: f64,
}

/// What is wrong with a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StakesProblem {
    /// Where it stands within the written stakes: keys from the outermost.
    pub path: Vec<String>,
    /// Stable code, such as `case/number`.
    pub code: &'static str,
    /// The offending value and the remedy.
    pub message: String,
}

impl Stakes {
    /// Checks what was written.
    ///
    /// # Errors
    /// Every problem found: numbers out of range (`case/number`), a verdict without a worth or with
    /// two, an aversion without a wealth (`case/stakes`), and a wealth that could not bear the worst
    /// loss (`case/wealth`).
    ///
    /// ```
    /// use oddment::decide::Stakes;
    /// let written = serde_json::from_value(serde_json::json!({
    ///     "asking": 2500.0,
    ///     "worth": { "original": 9000.0, "married": 3000.0 },
    ///     "share_of_original": { "converted": 0.3, "faked": 0.05 },
    ///     "resale_cost": { "share": 0.2 }
    /// }))?;
    /// let stakes = Stakes::new(&written).map_err(|problems| problems[0].message.clone())?;
    /// assert_eq!(stakes.worth.converted, 2700.0);
    /// assert_eq!(stakes.after_resale().original, 7200.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(written: &StakesFile) -> Result<Self, Vec<StakesProblem>> {
        let mut check = Check::default();
        check.amount(&["asking"], "asking price", written.asking);
        let worth = check.worth(written);
        let resale = written.resale_cost.unwrap_or_default();
        check.share(
            &["resale_cost", "share"],
            "share of resale cost",
            resale.share,
        );
        check.amount(
            &["resale_cost", "amount"],
            "amount of resale cost",
            resale.amount,
        );
        let minute = written.minute.unwrap_or(0.0);
        check.amount(&["minute"], "cost of a minute", minute);
        for (id, cost) in &written.check_cost {
            check.amount(&["check_cost", id], &format!("cost of `{id}`"), *cost);
        }
        let chance_of_loss = written.chance_of_loss.unwrap_or(CHANCE_OF_LOSS);
        if !(0.0..1.0).contains(&chance_of_loss) {
            let message = format!(
                "chance of loss {} must be at least 0 and below 1",
                figure(chance_of_loss)
            );
            check.note(&["chance_of_loss"], "case/number", message);
        }
        let attitude = check.attitude(written);
        let stakes = Self {
            asking: written.asking,
            worth: worth.into(),
            resale_share: resale.share,
            resale_amount: resale.amount,
            minute,
            check_cost: written.check_cost.clone(),
            attitude,
            chance_of_loss,
        };
        if check.problems.is_empty() {
            check.bearable(&stakes);
        }
        if check.problems.is_empty() {
            Ok(stakes)
        } else {
            Err(check.problems)
        }
    }

    /// What a sale would leave under each verdict.
    ///
    /// ```text
    /// worth (1 - share) - amount
    /// ```
    #[must_use]
    pub fn after_resale(&self) -> ByVerdict {
        let left = |worth: f64| worth * (1.0 - self.resale_share) - self.resale_amount;
        self.worth.to_array().map(left).into()
    }

    /// What buying at the asking price would gain under each verdict; below 0, lose.
    #[must_use]
    pub fn gains(&self) -> ByVerdict {
        let gain = |left: f64| left - self.asking;
        self.after_resale().to_array().map(gain).into()
    }

    /// What a check costs: minutes times the cost of one, and what the check costs besides.
    #[must_use]
    pub fn cost_of_check(&self, id: &str, minutes: f64) -> f64 {
        minutes * self.minute + self.check_cost.get(id).copied().unwrap_or(0.0)
    }
}

/// Collects problems.
#[derive(Debug, Default)]
struct Check {
    problems: Vec<StakesProblem>,
}

impl Check {
    fn note(&mut self, path: &[&str], code: &'static str, message: String) {
        let path = path.iter().map(|key| (*key).to_owned()).collect();
        self.problems.push(StakesProblem {
            path,
            code,
            message,
        });
    }

    fn amount(&mut self, path: &[&str], what: &str, amount: f64) {
        if !(0.0..=GREATEST_AMOUNT).contains(&amount) {
            let message = format!(
                "{what} {} must be 0 to {}",
                figure(amount),
                figure(GREATEST_AMOUNT)
            );
            self.note(path, "case/number", message);
        }
    }

    fn share(&mut self, path: &[&str], what: &str, share: f64) {
        if !(0.0..=1.0).contains(&share) {
            let message = format!("{what} {} must be 0 to 1", figure(share));
            self.note(path, "case/number", message);
        }
    }

    /// The worth under each verdict, 0 where there is a problem.
    fn worth(&mut self, written: &StakesFile) -> [f64; 4] {
        let original = written.worth.get(&Verdict::Original).copied();
        VERDICTS.map(|verdict| {
            let id = verdict.id();
            let amount = written.worth.get(&verdict).copied();
            let share = written.share_of_original.get(&verdict).copied();
            let shared = ["share_of_original", id];
            match (amount, share) {
                (_, Some(_)) if verdict == Verdict::Original => {
                    let message = "`original` cannot be a share of itself; give its worth as an \
                                   amount, in `worth`";
                    self.note(&shared, "case/stakes", message.to_owned());
                    0.0
                }
                (Some(_), Some(_)) => {
                    let message =
                        format!("`{id}` has a worth and a share of the original's; leave one out");
                    self.note(&shared, "case/stakes", message);
                    0.0
                }
                (Some(amount), None) => {
                    self.amount(&["worth", id], &format!("worth if {id}"), amount);
                    amount
                }
                (None, Some(share)) => {
                    let what = format!("share of the original's worth if {id}");
                    self.share(&shared, &what, share);
                    share * original.unwrap_or(0.0)
                }
                (None, None) => {
                    let message = match verdict {
                        Verdict::Original => {
                            "the worth if original is missing; add it to `worth`".to_owned()
                        }
                        _ => format!(
                            "the worth if {id} is missing; add it to `worth`, or as a share of the \
                             original's"
                        ),
                    };
                    self.note(&["worth"], "case/stakes", message);
                    0.0
                }
            }
        })
    }

    fn attitude(&mut self, written: &StakesFile) -> Attitude {
        if let Some(wealth) = written.wealth
            && !(LEAST_WEALTH..=GREATEST_AMOUNT).contains(&wealth)
        {
            let message = format!(
                "wealth {} must be {} to {}",
                figure(wealth),
                figure(LEAST_WEALTH),
                figure(GREATEST_AMOUNT)
            );
            self.note(&["wealth"], "case/number", message);
        }
        let aversion = written.risk_aversion.unwrap_or(0.0);
        if !(0.0..=GREATEST_AVERSION).contains(&aversion) {
            let message = format!(
                "risk aversion {} must be 0 to {}",
                figure(aversion),
                figure(GREATEST_AVERSION)
            );
            self.note(&["risk_aversion"], "case/number", message);
        }
        match written.wealth {
            // Without any aversion the wealth does not matter.
            _ if aversion == 0.0 => Attitude::Linear,
            Some(wealth) => Attitude::ConstantRelative { aversion, wealth },
            None => {
                let message = "an aversion to risk needs the wealth it refers to; add `wealth`";
                self.note(&["risk_aversion"], "case/stakes", message.to_owned());
                Attitude::Linear
            }
        }
    }

    /// Refuses a wealth that the worst outcome would use up.
    fn bearable(&mut self, stakes: &Stakes) {
        let Attitude::ConstantRelative { wealth, .. } = stakes.attitude else {
            return;
        };
        let gains = stakes.gains().to_array();
        let worst = gains.into_iter().fold(f64::INFINITY, f64::min);
        if wealth + worst < LEAST_LEFT * wealth {
            let message = format!(
                "wealth {} cannot bear the worst loss, {}; with an aversion to risk something must \
                 always be left: state a wealth above that, or leave the aversion out",
                figure(wealth),
                figure(-worst)
            );
            self.note(&["wealth"], "case/wealth", message);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(change: impl Fn(&mut StakesFile)) -> StakesFile {
        let mut file = StakesFile {
            asking: 2500.0,
            minute: Some(2.0),
            risk_aversion: None,
            wealth: None,
            chance_of_loss: None,
            worth: BTreeMap::from([(Verdict::Original, 9000.0), (Verdict::Married, 3000.0)]),
            share_of_original: BTreeMap::from([(Verdict::Converted, 0.3), (Verdict::Faked, 0.05)]),
            resale_cost: Some(crate::case::file::ResaleCostFile {
                share: 0.2,
                amount: 50.0,
            }),
            check_cost: BTreeMap::from([("turn-over".to_owned(), 20.0)]),
        };
        change(&mut file);
        file
    }

    #[test]
    fn figures_are_put_together() {
        let stakes = Stakes::new(&written(|_| ())).unwrap();
        assert_eq!(stakes.worth.to_array(), [9000.0, 3000.0, 2700.0, 450.0]);
        assert_eq!(
            stakes.after_resale().to_array(),
            [7150.0, 2350.0, 2110.0, 310.0]
        );
        assert_eq!(stakes.gains().married, -150.0);
        assert_eq!(stakes.cost_of_check("turn-over", 5.0), 30.0);
        assert_eq!(stakes.cost_of_check("walk-by", 5.0), 10.0);
        assert_eq!(
            (stakes.chance_of_loss, stakes.attitude),
            (0.1, Attitude::Linear)
        );
    }

    #[test]
    fn the_wealth_must_outlast_the_worst_loss() {
        let of = |wealth| {
            Stakes::new(&written(|file| {
                file.risk_aversion = Some(2.0);
                file.wealth = Some(wealth);
            }))
        };
        // A fake bought at 2500 leaves 310.
        assert!(of(2200.0).is_ok());
        let problems = of(2190.0).unwrap_err();
        assert_eq!((problems.len(), problems[0].code), (1, "case/wealth"));
        assert_eq!(problems[0].path, ["wealth"]);
    }

    #[test]
    fn every_problem_is_found() {
        let problems = Stakes::new(&written(|file| {
            file.asking = -1.0;
            file.worth.remove(&Verdict::Original);
            file.share_of_original.insert(Verdict::Faked, 1.5);
            file.minute = Some(f64::NAN);
            file.chance_of_loss = Some(1.0);
            file.risk_aversion = Some(2.0);
        }))
        .unwrap_err();
        let paths: Vec<String> = problems.iter().map(|p| p.path.join("/")).collect();
        assert_eq!(
            paths,
            [
                "asking",
                "worth",
                "share_of_original/faked",
                "minute",
                "chance_of_loss",
                "risk_aversion"
            ]
        );
    }
}
