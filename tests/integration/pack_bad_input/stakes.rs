//! Stakes that do not read, or do not go together.
use super::{CASE, STAKES, check_stakes, small_pack};
use oddment::decide::{Attitude, Stakes};
use oddment::{Case, Text};

#[test]
fn the_stakes_to_break_are_whole() {
    let text = CASE.to_owned() + STAKES;
    let pack = small_pack();
    let case = Case::load(Text::new("case", &text), &pack).unwrap_or_else(|e| panic!("{e}"));
    let stakes: Option<&Stakes> = case.stakes.as_ref();
    let worth = stakes.map(|stakes| stakes.worth.to_array());
    assert_eq!(worth, Some([900.0, 360.0, 310.0, 112.5]));
    let aversion = Attitude::ConstantRelative {
        aversion: 2.0,
        wealth: 20_000.0,
    };
    assert_eq!(stakes.map(|stakes| stakes.attitude), Some(aversion));
    assert_eq!(
        stakes.map(|stakes| stakes.cost_of_check("look", 5.0)),
        Some(7.5)
    );
    // As JSON and as TOML they are the same.
    for again in [
        serde_json::to_string(&case.file).unwrap_or_default(),
        toml::to_string(&case.file).unwrap_or_default(),
    ] {
        let again = Case::load(Text::new("again", &again), &pack);
        assert_eq!(again.as_ref(), Ok(&case));
    }
    let without = Case::load(Text::new("case", CASE), &pack).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(without.stakes, None);
}

#[test]
fn in_stakes_texts_that_do_not_read() {
    check_stakes(&[
        (
            "asking = 500.0\n",
            "",
            "case:65:1: missing field `asking` [case/syntax]",
        ),
        (
            "asking = 500.0",
            "askign = 500.0",
            "case:66:1: unknown field `askign`, expected one of `asking`, `minute`, `risk_aversion`, `wealth`, `chance_of_loss`, `worth`, `share_of_original`, `resale_cost`, `check_cost`; perhaps `asking` [case/syntax]",
        ),
        (
            "asking = 500.0",
            "asking = \"dear\"",
            r#"case:66:10: invalid type: string "dear", expected a number [case/syntax]"#,
        ),
        (
            "worth = { original = 900.0, converted = 310.0 }\n",
            "",
            "case:65:1: missing field `worth` [case/syntax]",
        ),
        (
            "converted = 310.0",
            "convrted = 310.0",
            "case:70:29: unknown variant `convrted`, expected one of `original`, `married`, `converted`, `faked`; perhaps `converted` [case/syntax]",
        ),
        (
            "share = 0.15, amount",
            "share = 0.15, amuont",
            "case:72:31: unknown field `amuont`, expected `share` or `amount`; perhaps `amount` [case/syntax]",
        ),
    ]);
}

#[test]
fn in_stakes_values() {
    check_stakes(&[
        (
            "asking = 500.0",
            "asking = -500.0",
            "case:66:1: asking price -500 must be 0 to 1e12 [case/number]",
        ),
        (
            "asking = 500.0",
            "asking = nan",
            "case:66:1: asking price NaN must be 0 to 1e12 [case/number]",
        ),
        (
            "minute = 0.5",
            "minute = -1",
            "case:67:1: cost of a minute -1 must be 0 to 1e12 [case/number]",
        ),
        (
            "original = 900.0",
            "original = 1e13",
            "case:70:11: worth if original 1e13 must be 0 to 1e12 [case/number]",
        ),
        (
            "married = 0.4",
            "married = 40",
            "case:71:23: share of the original's worth if married 40 must be 0 to 1 [case/number]",
        ),
        (
            "share = 0.15",
            "share = 15",
            "case:72:17: share of resale cost 15 must be 0 to 1 [case/number]",
        ),
        (
            "amount = 25.0",
            "amount = -25.0",
            "case:72:31: amount of resale cost -25 must be 0 to 1e12 [case/number]",
        ),
        (
            "look = 5.0",
            "look = -5.0",
            "case:73:16: cost of `look` -5 must be 0 to 1e12 [case/number]",
        ),
        (
            "look = 5.0",
            "lok = 5.0",
            "case:73:16: unknown check `lok`, perhaps `look`; valid: look, turn-over [case/unknown-id]",
        ),
        (
            "risk_aversion = 2.0",
            "risk_aversion = 20.0",
            "case:68:1: risk aversion 20 must be 0 to 10 [case/number]",
        ),
        (
            "wealth = 20000.0",
            "wealth = 0",
            "case:69:1: wealth 0 must be 0.001 to 1e12 [case/number]",
        ),
        (
            "wealth = 20000.0",
            "wealth = 400.0",
            "case:69:1: wealth 400 cannot bear the worst loss, 429.375; with an aversion to risk something must always be left: state a wealth above that, or leave the aversion out [case/wealth]",
        ),
        (
            "wealth = 20000.0\n",
            "",
            "case:68:1: an aversion to risk needs the wealth it refers to; add `wealth` [case/stakes]",
        ),
        (
            "wealth = 20000.0",
            "wealth = 20000.0\nchance_of_loss = 1.0",
            "case:70:1: chance of loss 1 must be at least 0 and below 1 [case/number]",
        ),
    ]);
}

#[test]
fn in_stakes_verdicts() {
    check_stakes(&[
        (
            "original = 900.0, ",
            "",
            "case:70:1: the worth if original is missing; add it to `worth` [case/stakes]",
        ),
        (
            ", converted = 310.0",
            "",
            "case:70:1: the worth if converted is missing; add it to `worth`, or as a share of the original's [case/stakes]",
        ),
        (
            ", faked = 0.125",
            "",
            "case:70:1: the worth if faked is missing; add it to `worth`, or as a share of the original's [case/stakes]",
        ),
        (
            "married = 0.4",
            "married = 0.4, converted = 0.3",
            "case:71:38: `converted` has a worth and a share of the original's; leave one out [case/stakes]",
        ),
        (
            "married = 0.4",
            "married = 0.4, original = 1.0",
            "case:71:38: `original` cannot be a share of itself; give its worth as an amount, in `worth` [case/stakes]",
        ),
    ]);
}
