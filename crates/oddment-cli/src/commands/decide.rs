//! `oddment decide`: whether to buy, on the user's own figures.

use crate::arguments::{Figures, Sum};
use crate::failure::Failure;
use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words::{amount, minutes, out_of, stopped};
use oddment::case::file::StakesFile;
use oddment::decide::{Action, Attitude, Decision, Stakes, decide};
use oddment::pack::VERDICTS;
use oddment::{Case, Model, NextOptions, Pack, Verdict, check_outlooks};
use std::collections::BTreeMap;

/// The most checks shown; the JSON has them all.
const CHECKS: usize = 6;

/// Puts the odds and the figures together.
pub(super) fn work_out(pack: &Pack, case: &Case, figures: &Figures) -> Result<Decision, Failure> {
    let stakes = stakes(case, figures)?;
    let refuse = |error| Failure::engine(&error, &[]);
    let model = Model::compile(pack, case.years, &case.numbers).map_err(refuse)?;
    let verdicts = model.verdicts(pack, case).map_err(refuse)?;
    let checks = check_outlooks(pack, case, &model, &NextOptions::default()).map_err(refuse)?;
    decide(&verdicts, &stakes, &checks)
        .map_err(|error| Failure::usage([(error.code(), error.to_string())]))
}

/// The case's figures with those of the command line put over them.
fn stakes(case: &Case, figures: &Figures) -> Result<Stakes, Failure> {
    let mut written = match (&case.file.stakes, figures.asking) {
        (Some(stakes), _) => stakes.clone(),
        (None, Some(asking)) => StakesFile {
            asking,
            minute: None,
            risk_aversion: None,
            wealth: None,
            chance_of_loss: None,
            worth: BTreeMap::new(),
            share_of_original: BTreeMap::new(),
            resale_cost: None,
            check_cost: BTreeMap::new(),
        },
        (None, None) => {
            let message = "no price is asked: give it with --asking and what the piece is worth with \
                           --worth, or put `[stakes]` into the case";
            return Err(Failure::usage([("decide/asking", message.to_owned())]));
        }
    };
    written.asking = figures.asking.unwrap_or(written.asking);
    written.minute = figures.minute_cost.or(written.minute);
    written.risk_aversion = figures.risk_aversion.or(written.risk_aversion);
    written.wealth = figures.wealth.or(written.wealth);
    written.chance_of_loss = figures.chance_of_loss.or(written.chance_of_loss);
    written.resale_cost = figures.resale_cost.or(written.resale_cost);
    for (verdict, worth) in &figures.worth {
        written.worth.remove(verdict);
        written.share_of_original.remove(verdict);
        match worth {
            Sum::Amount(amount) => written.worth.insert(*verdict, *amount),
            Sum::Share(share) => written.share_of_original.insert(*verdict, *share),
        };
    }
    // What the case says was checked when it was read, so what is wrong now came with the command.
    Stakes::new(&written).map_err(|problems| {
        let problems = problems.into_iter();
        Failure::usage(problems.map(|problem| (problem.code, problem.message)))
    })
}

/// The whole page.
pub(super) fn render(decision: &Decision, pack: &Pack, case: &Case) -> String {
    let mut page = Page::new();
    head(&mut page, pack, case);
    action(&mut page, decision);
    verdicts(&mut page, decision);
    buying(&mut page, decision);
    most_to_pay(&mut page, decision);
    knowing_more(&mut page, decision);
    figures(&mut page, decision);
    page.gap();
    page.paragraph(PLAIN, 0, &stopped(&decision.caution));
    let stamp = format!(
        "Pack {} {}, library {}; oddment {}.",
        pack.id,
        pack.version,
        pack.library_version,
        env!("CARGO_PKG_VERSION")
    );
    page.paragraph(FAINT, 0, &stamp);
    page.finish()
}

fn head(page: &mut Page, pack: &Pack, case: &Case) {
    let title = case.file.piece.title.as_deref().map(str::trim);
    let title = title.filter(|title| !title.is_empty());
    page.paragraph(STRONG, 0, title.unwrap_or(&pack.name));
    let (from, to) = case.years;
    let claim = format!(
        "{}; {}; {}, {from} to {to}; {}",
        pack.name,
        pack.variants[case.variant].name,
        pack.periods[case.period].name,
        pack.regions[case.region].name
    );
    page.hang(PLAIN, 0, "Offered as: ", &claim);
}

fn action(page: &mut Page, decision: &Decision) {
    let words = match decision.action {
        Action::Buy => "buy",
        Action::LookFurther => "look further first",
        Action::WalkAway => "walk away",
    };
    let asking = amount(decision.stakes.asking);
    page.heading(&format!("At {asking}, on your own figures: {words}"));
    let margin = amount(decision.margin);
    let chosen = decision.check.as_ref();
    let check = chosen.and_then(|id| decision.checks.iter().find(|check| check.id == *id));
    let text = match (decision.action, check) {
        (_, Some(check)) => format!(
            "The check `{}` comes out {margin} better than deciding now.",
            check.name
        ),
        (Action::Buy, None) if decision.checks.is_empty() => {
            format!("Buying comes out {margin} better than walking away.")
        }
        (Action::WalkAway, None) if decision.checks.is_empty() => {
            format!("Walking away comes out {margin} better than buying.")
        }
        _ => format!("It comes out {margin} better than the next best."),
    };
    page.paragraph(PLAIN, 0, &text);
}

fn verdicts(page: &mut Page, decision: &Decision) {
    page.heading("By what it turns out to be:");
    let rows = VERDICTS.iter().enumerate().map(|(place, verdict)| {
        (
            *verdict,
            out_of(1000, decision.verdicts.to_array()[place]),
            amount(decision.stakes.worth.to_array()[place]),
            amount(decision.after_resale.to_array()[place]),
            amount(decision.gains.to_array()[place]),
        )
    });
    let rows: Vec<(Verdict, String, String, String, String)> = rows.collect();
    if page.is_narrow() {
        for (verdict, count, worth, left, gain) in rows {
            let text = format!(
                "{}: sells for {worth}, which leaves {left}, a gain of {gain}",
                verdict.id()
            );
            page.hang(PLAIN, 0, &format!("{count:>8}  "), &text);
        }
        return;
    }
    page.row(
        PLAIN,
        "              of 1,000       sells for    which leaves         a gain of",
    );
    for (verdict, count, worth, left, gain) in rows {
        let line = format!(
            "  {:10}{count:>10} {worth:>15} {left:>15} {gain:>17}",
            verdict.id()
        );
        page.row(PLAIN, &line);
    }
}

fn is_averse(decision: &Decision) -> bool {
    decision.stakes.attitude != Attitude::Linear
}

fn buying(page: &mut Page, decision: &Decision) {
    let asking = amount(decision.stakes.asking);
    page.heading(&format!("Buying at {asking}"));
    let expected = amount(decision.expected_gain);
    row(page, &expected, "gained on average (below 0: lost)");
    if is_averse(decision) {
        let certain = amount(decision.certainty_equivalent);
        let text = "the certain gain it is as good as, with your aversion to risk";
        row(page, &certain, text);
    }
    let loss = format!("{} in 100", out_of(100, decision.chance_of_loss));
    row(page, &loss, "the chance of a loss");
}

fn most_to_pay(page: &mut Page, decision: &Decision) {
    page.heading("The most to pay");
    row(
        page,
        &price(decision.break_even),
        "to break even on average",
    );
    if is_averse(decision) {
        let text = "to be no worse off than walking away, with your aversion to risk";
        row(page, &price(decision.break_even_in_utility), text);
    }
    let text = format!(
        "for a chance of loss of at most {} in 100",
        amount(100.0 * decision.stakes.chance_of_loss)
    );
    row(page, &price(decision.price_at_chance_of_loss), &text);
}

/// A price to pay at most.
fn price(most: f64) -> String {
    if most > 0.0 {
        amount(most)
    } else {
        "nothing".to_owned()
    }
}

fn knowing_more(page: &mut Page, decision: &Decision) {
    page.heading("Knowing more before deciding");
    let certain = amount(decision.perfect_information);
    row(
        page,
        &certain,
        "the most that being told the verdict is worth",
    );
    for check in decision.checks.iter().take(CHECKS) {
        let text = format!(
            "{} ({}): worth {}, costs {}",
            check.name,
            minutes(check.minutes),
            amount(check.value),
            amount(check.cost)
        );
        row(page, &amount(check.net), &text);
    }
    if decision.checks.len() > CHECKS {
        let text = format!("and {} checks worth less", decision.checks.len() - CHECKS);
        page.paragraph(PLAIN, 16, &text);
    }
    if decision.checks.is_empty() {
        let text = "What single checks would be worth is not worked out here.";
        page.paragraph(PLAIN, 2, text);
    }
}

/// Figures that stand in no table.
fn figures(page: &mut Page, decision: &Decision) {
    let stakes = &decision.stakes;
    let mut parts = Vec::new();
    let mut selling = Vec::new();
    if stakes.resale_share > 0.0 {
        selling.push(format!("{} %", amount(100.0 * stakes.resale_share)));
    }
    if stakes.resale_amount > 0.0 {
        selling.push(amount(stakes.resale_amount));
    }
    if !selling.is_empty() {
        parts.push(format!("selling costs {}", selling.join(" and ")));
    }
    if stakes.minute > 0.0 {
        parts.push(format!("a minute costs {}", amount(stakes.minute)));
    }
    if let Attitude::ConstantRelative { aversion, wealth } = stakes.attitude {
        parts.push(format!(
            "constant relative risk aversion {} on a wealth of {}",
            amount(aversion),
            amount(wealth)
        ));
    }
    if !parts.is_empty() {
        page.gap();
        page.paragraph(
            FAINT,
            0,
            &stopped(&format!("Reckoned with: {}", parts.join("; "))),
        );
    }
}

fn row(page: &mut Page, figure: &str, text: &str) {
    page.hang(PLAIN, 0, &format!("{figure:>14}  "), text);
}
