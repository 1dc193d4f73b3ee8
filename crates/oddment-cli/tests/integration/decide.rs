//! `oddment decide`: what it prints, and what it refuses.

use crate::{Run, case_with, expect, oddment, oddment_with, small};
use oddment::decide::{Action, Attitude, Decision};

const STAKES: &str = "\n[stakes]\nasking = 2500.0\n\
    worth = { original = 9000.0, married = 3000.0 }\n\
    share_of_original = { converted = 0.3, faked = 0.05 }\n\
    resale_cost = { share = 0.2, amount = 50.0 }\n";

const WORTH: &str = "original=9000,married=3000,converted=30%,faked=5%";

/// The small case with stakes, and further arguments.
fn with_stakes(arguments: &[&str]) -> Run {
    let mut all = vec!["decide", "-"];
    all.extend(arguments);
    oddment_with(&small(&all), case_with("schema", "schema") + STAKES)
}

/// The small case, which has no stakes.
fn without_stakes(arguments: &[&str]) -> Run {
    let mut all = vec!["decide", "stool.toml"];
    all.extend(arguments);
    oddment(&small(&all))
}

fn decision(run: Run) -> Decision {
    serde_json::from_str(&run.done()).unwrap()
}

#[test]
fn decide() {
    let page = with_stakes(&[]).done();
    expect("decide.txt", &page);
    // Checks that leave the decision as it is are worth nothing, so there is nothing to look for.
    let careful = ["--risk-aversion", "2", "--wealth", "20000"];
    let page = with_stakes(&[&careful[..], &["--asking", "1800"]].concat()).done();
    expect("decide-with-aversion.txt", &page);
    for line in page.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn figures_on_the_command_line_do_as_well_as_in_the_case() {
    let arguments = [
        "--asking",
        "2500",
        "--worth",
        WORTH,
        "--resale-cost",
        "20%+50",
    ];
    let page = without_stakes(&arguments).done();
    assert_eq!(page, with_stakes(&[]).done());
}

#[test]
fn the_command_line_goes_before_the_case() {
    let stakes = decision(with_stakes(&[
        "--json",
        "--asking",
        "100",
        "--worth",
        "married=10%,faked=7",
        "--resale-cost",
        "3",
        "--minute-cost",
        "4",
        "--chance-of-loss",
        "0.25",
        "--risk-aversion",
        "1",
        "--wealth",
        "5000",
    ]))
    .stakes;
    assert_eq!(stakes.asking, 100.0);
    assert_eq!(stakes.worth.to_array(), [9000.0, 900.0, 2700.0, 7.0]);
    assert_eq!((stakes.resale_share, stakes.resale_amount), (0.0, 3.0));
    assert_eq!((stakes.minute, stakes.chance_of_loss), (4.0, 0.25));
    let attitude = Attitude::ConstantRelative {
        aversion: 1.0,
        wealth: 5000.0,
    };
    assert_eq!(stakes.attitude, attitude);
}

#[test]
fn the_odds_are_those_of_the_assessment() {
    let decision = decision(with_stakes(&["--json"]));
    let json = oddment(&small(&["assess", "stool.toml", "--json"])).done();
    let assessment: oddment::Assessment = serde_json::from_str(&json).unwrap();
    for (odds, found) in assessment.verdicts.iter().zip(decision.verdicts.to_array()) {
        assert!((odds.probability - found).abs() < 1e-12, "{odds:?} {found}");
    }
    assert_eq!(
        (decision.action, decision.checks.len()),
        (Action::LookFurther, 2)
    );
    assert!(decision.caution.contains("no valuation and no advice"));
}

#[test]
fn the_stakes_of_a_new_case_can_be_filled_in() {
    let case = oddment(&small(&["new"])).done();
    let (before, stakes) = case.split_once("# [stakes]").unwrap();
    let case = format!("{before}[stakes]{}", stakes.replace("\n# ", "\n"));
    let decision = decision(oddment_with(&small(&["decide", "-", "--json"]), &case));
    assert_eq!(
        decision.stakes.worth.to_array(),
        [1200.0, 400.0, 350.0, 100.0]
    );
}

#[test]
fn the_greatest_amounts_stay_apart() {
    let page = with_stakes(&["--worth", "original=1e12,married=1e12"]).done();
    assert!(
        page.contains(" 1,000,000,000,000 799,999,999,950 "),
        "{page}"
    );
    assert!(
        page.lines().all(|line| line.chars().count() <= 80),
        "{page}"
    );
}

#[test]
fn figures_out_of_range() {
    for (arguments, message) in [
        (
            &["--asking", "-5"][..],
            "asking price -5 must be 0 to 1e12 [case/number]",
        ),
        (
            &["--worth", "faked=-5"],
            "worth if faked -5 must be 0 to 1e12 [case/number]",
        ),
        (
            &["--worth", "original=50%"],
            "`original` cannot be a share of itself; give its worth as an amount, in `worth` \
             [case/stakes]",
        ),
        (
            &["--resale-cost", "120%"],
            "share of resale cost 1.2 must be 0 to 1 [case/number]",
        ),
        (
            &["--risk-aversion", "2"],
            "an aversion to risk needs the wealth it refers to; add `wealth` [case/stakes]",
        ),
        (
            &["--risk-aversion", "2", "--wealth", "1000"],
            "wealth 1000 cannot bear the worst loss, 2190; with an aversion to risk something must \
             always be left: state a wealth above that, or leave the aversion out [case/wealth]",
        ),
        (
            &["--chance-of-loss", "nan"],
            "chance of loss NaN must be at least 0 and below 1 [case/number]",
        ),
    ] {
        let error = with_stakes(arguments).failed(2);
        assert_eq!(error, format!("error: {message}\n"), "{arguments:?}");
    }
}

#[test]
fn figures_that_are_missing() {
    assert_eq!(
        without_stakes(&["--worth", WORTH]).failed(2),
        "error: no price is asked: give it with --asking and what the piece is worth with --worth, \
         or put `[stakes]` into the case [decide/asking]\n"
    );
    assert_eq!(
        without_stakes(&["--asking", "100", "--worth", "original=9000,married=1"]).failed(2),
        "error: the worth if converted is missing; add it to `worth`, or as a share of the \
         original's [case/stakes]\nerror: the worth if faked is missing; add it to `worth`, or as a \
         share of the original's [case/stakes]\n2 problems\n"
    );
}

#[test]
fn figures_that_cannot_be_read() {
    for (arguments, message) in [
        (
            ["--worth", "orignal=9000"],
            "unknown verdict `orignal`; valid: original, married, converted, faked",
        ),
        (
            ["--worth", "original"],
            "give a verdict (original, married, converted, faked), `=` and an amount",
        ),
        (
            ["--worth", "original=dear"],
            "`dear` must be an amount such as 900, or a share such as 15%",
        ),
        (
            ["--resale-cost", "10%+x"],
            "`x` must be an amount such as 900",
        ),
        (["--asking", "dear"], "invalid float literal"),
    ] {
        let error = with_stakes(&arguments).failed(2);
        assert!(
            error.contains(message) && error.contains("--help"),
            "{error}"
        );
    }
}

#[test]
fn stakes_of_the_case_that_are_wrong_have_a_place() {
    let case = case_with("schema", "schema") + &STAKES.replace("2500.0", "-2500.0");
    assert_eq!(
        oddment_with(&small(&["decide", "-"]), &case).failed(3),
        "error: asking price -2500 must be 0 to 1e12\n  asking = -2500.0\n  ^\n  standard \
         input:42:1 [case/number]\n"
    );
}
