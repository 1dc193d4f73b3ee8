//! Decisions: the published oil wildcatter, closed forms of logarithmic utility, and laws.

use oddment::case::file::StakesFile;
use oddment::decide::{
    Action, Attitude, CheckOutlook, Choice, DecideError, Decision, Outlook, Prospect, Stakes,
    decide,
};
use oddment_tests::assert_close;
use oddment_tests::property::check;
use proptest::collection::vec;
use proptest::prelude::Strategy;

fn choice(chances: &[f64], payoffs: &[&[f64]], attitude: Attitude) -> Choice {
    let payoffs = payoffs.iter().map(|row| row.to_vec()).collect();
    Choice::new(chances.to_vec(), payoffs, attitude).unwrap_or_else(|error| panic!("{error}"))
}

fn careful(aversion: f64, wealth: f64) -> Attitude {
    Attitude::ConstantRelative { aversion, wealth }
}

const WELL: [f64; 3] = [0.5, 0.3, 0.2];

/// How often a sounding says diffuse (no structure), open or closed where it is dry, wet or soaking.
const SOUNDING: [[f64; 3]; 3] = [[0.6, 0.3, 0.1], [0.3, 0.4, 0.4], [0.1, 0.3, 0.5]];

/// Raiffa, 1968, Decision analysis, with the numbers of Shenoy, 1992, Valuation-based systems for
/// Bayesian decision analysis.
#[test]
fn oil_wildcatter() {
    let drill = choice(&WELL, &[&[-70.0, 50.0, 200.0], &[0.0; 3]], Attitude::Linear);
    assert_close!(drill.expectations(), [20.0, 0.0], abs = 1e-12);
    assert_eq!(drill.best(), 0);
    let prospects = SOUNDING.map(|likelihood| Prospect::of(&WELL, &likelihood));
    let chances = prospects.clone().map(|prospect| prospect.chance);
    assert_close!(chances, [0.41, 0.35, 0.24], rel = 1e-14);
    let drilling = prospects.clone().map(|prospect| {
        let payoffs: [&[f64]; 1] = [&[-70.0, 50.0, 200.0]];
        choice(&prospect.states, &payoffs, Attitude::Linear).expectations()[0]
    });
    // As printed: -30.488, 32.857, 87.50.
    assert_close!(drilling, [-30.488, 32.857, 87.50], abs = 5e-4);
    let free: f64 = chances
        .iter()
        .zip(drilling)
        .map(|(p, x)| p * x.max(0.0))
        .sum();
    assert_close!(free, 32.5, rel = 1e-14);
    let worth = drill.sample_information(&prospects).unwrap_or(f64::NAN);
    assert_close!(worth, 12.5, rel = 1e-13);
    assert_close!(free - 10.0, 22.5, rel = 1e-13);
    assert_close!(drill.perfect_information(), 35.0, rel = 1e-14);
}

/// At aversion 1 the certain wealth is the geometric mean, at 2 the harmonic one.
#[test]
fn certainty_equivalents_with_closed_forms() {
    let of = |aversion| {
        choice(&[0.5, 0.5], &[&[50.0, -50.0]], careful(aversion, 100.0)).certainty_equivalents()[0]
    };
    assert_close!(of(0.0), 0.0, abs = 1e-12);
    assert_close!(of(1.0), 7_500.0_f64.sqrt() - 100.0, rel = 1e-13);
    assert_close!(of(2.0), -25.0, rel = 1e-13);
    // Nothing special happens on the way past 1.
    assert_close!(of(1.0 - 1e-9), of(1.0), rel = 1e-8);
    assert_close!(of(1.0 + 1e-9), of(1.0), rel = 1e-8);
}

/// Small stakes in a great wealth are worth their mean less half the aversion times the variance
/// over the wealth (Pratt 1964), which a power of the wealth itself would lose in rounding.
#[test]
fn small_stakes_keep_their_figures() {
    let wealth = 1e9;
    for aversion in [0.5, 1.0, 4.0] {
        let tiny = choice(&[0.5, 0.5], &[&[3.0, -1.0]], careful(aversion, wealth));
        let premium = 1.0 - tiny.certainty_equivalents()[0];
        assert_close!(premium, aversion * 4.0 / (2.0 * wealth), rel = 1e-5);
    }
}

/// Log utility, wealth 100, even chances of winning or losing 50, knowing which: the price solves
/// (150 - b)(100 - b) = 100^2.
#[test]
fn the_buying_price_of_perfect_information_in_closed_form() {
    let bet = choice(
        &[0.5, 0.5],
        &[&[50.0, -50.0], &[0.0, 0.0]],
        careful(1.0, 100.0),
    );
    assert_eq!(bet.best(), 1);
    let want = (250.0 - 42_500.0_f64.sqrt()) / 2.0;
    assert_close!(bet.perfect_information(), want, rel = 1e-12);
}

#[test]
fn what_makes_no_choice_is_refused() {
    let new = |chances: &[f64], payoffs: &[&[f64]], attitude| {
        let payoffs = payoffs.iter().map(|row| row.to_vec()).collect();
        Choice::new(chances.to_vec(), payoffs, attitude).map_err(|error| error.code())
    };
    let linear = Attitude::Linear;
    let even: &[f64] = &[0.5, 0.5];
    for (chances, payoffs, attitude, code) in [
        (
            &[0.5, 0.6][..],
            &[&[1.0, 2.0][..]][..],
            linear,
            "decide/chances",
        ),
        (&[1.5, -0.5], &[&[1.0, 2.0]], linear, "decide/chances"),
        (&[f64::NAN, 0.5], &[&[1.0, 2.0]], linear, "decide/chances"),
        (&[], &[&[]], linear, "decide/chances"),
        (even, &[], linear, "decide/shape"),
        (even, &[&[1.0]], linear, "decide/shape"),
        (even, &[&[1.0, f64::INFINITY]], linear, "decide/number"),
        (even, &[&[1.0, f64::NAN]], linear, "decide/number"),
        (even, &[&[1.0, 2.0]], careful(-1.0, 9.0), "decide/aversion"),
        (even, &[&[1.0, 2.0]], careful(11.0, 9.0), "decide/aversion"),
        (even, &[&[1.0, -9.0]], careful(0.5, 9.0), "decide/wealth"),
        (even, &[&[1.0, 2.0]], careful(0.5, 0.0), "decide/wealth"),
    ] {
        let refused = new(chances, payoffs, attitude);
        assert_eq!(refused.err(), Some(code), "{chances:?} {payoffs:?}");
    }
    // What has no chance of coming about need not be borne.
    assert!(new(&[1.0, 0.0], &[&[1.0, -9.0]], careful(0.5, 9.0)).is_ok());
}

#[test]
fn an_observation_that_contradicts_what_is_believed_is_refused() {
    let bet = choice(
        &[0.5, 0.5],
        &[&[50.0, -50.0], &[0.0, 0.0]],
        Attitude::Linear,
    );
    let prospect = |chance, states: &[f64]| Prospect {
        chance,
        states: states.to_vec(),
    };
    let refused = bet.sample_information(&[prospect(1.0, &[0.6, 0.4])]);
    assert!(matches!(
        refused,
        Err(DecideError::Incoherent { state: 0, .. })
    ));
    for prospects in [
        vec![],
        vec![prospect(0.5, &[0.5, 0.5])],
        vec![prospect(1.0, &[1.0])],
        vec![prospect(1.0, &[0.7, 0.7])],
    ] {
        assert!(bet.sample_information(&prospects).is_err(), "{prospects:?}");
    }
}

/// A prior, a likelihood of each of three outcomes, payoffs of two actions beside doing nothing, an
/// aversion.
type Drawn = (Vec<f64>, Vec<Vec<f64>>, Vec<Vec<f64>>, f64);

fn drawn() -> impl Strategy<Value = Drawn> {
    let shares = |count| {
        vec(0.01..1.0_f64, count).prop_map(|weights: Vec<f64>| {
            let total: f64 = weights.iter().sum();
            weights
                .iter()
                .map(|weight| weight / total)
                .collect::<Vec<f64>>()
        })
    };
    (
        shares(4),
        vec(shares(3), 4),
        vec(vec(-90.0..150.0_f64, 4), 2),
        0.0..6.0_f64,
    )
}

fn drawn_choice((prior, _, payoffs, _): &Drawn, attitude: Attitude) -> Choice {
    choice(prior, &[&payoffs[0], &payoffs[1], &[0.0; 4]], attitude)
}

fn drawn_prospects((prior, likelihoods, ..): &Drawn) -> Vec<Prospect> {
    (0..3)
        .map(|outcome| {
            let likelihood: Vec<f64> = likelihoods.iter().map(|row| row[outcome]).collect();
            Prospect::of(prior, &likelihood)
        })
        .collect()
}

#[test]
fn information_is_worth_something_and_no_more_than_certainty() {
    check(300, drawn(), |drawn| {
        for attitude in [Attitude::Linear, careful(drawn.3, 100.0)] {
            let choice = drawn_choice(&drawn, attitude);
            let sample = choice.sample_information(&drawn_prospects(&drawn));
            let sample = sample.unwrap_or_else(|error| panic!("{error}"));
            let perfect = choice.perfect_information();
            assert!(
                sample >= 0.0 && sample <= perfect + 1e-9,
                "{sample} {perfect}"
            );
            // Beside doing nothing, no more than the best payoff there is.
            assert!(perfect <= 150.0, "{perfect}");
        }
    });
}

#[test]
fn an_observation_that_tells_nothing_is_worth_nothing() {
    check(100, drawn(), |drawn| {
        let nothing: Vec<Prospect> = [0.25, 0.75]
            .map(|chance| Prospect {
                chance,
                states: drawn.0.clone(),
            })
            .to_vec();
        for attitude in [Attitude::Linear, careful(drawn.3, 100.0)] {
            let worth = drawn_choice(&drawn, attitude).sample_information(&nothing);
            assert_close!(worth.unwrap_or(f64::NAN), 0.0, abs = 1e-9);
        }
    });
}

#[test]
fn a_certainty_equivalent_has_the_lotterys_utility() {
    check(300, drawn(), |drawn| {
        let attitude = careful(drawn.3, 100.0);
        let utility = |payoff| attitude.utility(payoff).unwrap_or(f64::NAN);
        let certain = drawn_choice(&drawn, attitude).certainty_equivalents();
        for (certain, payoffs) in certain.iter().zip(&drawn.2) {
            let mean: f64 = drawn
                .0
                .iter()
                .zip(payoffs)
                .map(|(p, x)| p * utility(*x))
                .sum();
            assert_close!(utility(*certain), mean, rel = 1e-9);
        }
    });
}

#[test]
fn more_aversion_is_worth_less_and_none_is_linear() {
    check(200, drawn(), |drawn| {
        let of = |attitude| drawn_choice(&drawn, attitude).certainty_equivalents();
        let linear = of(Attitude::Linear);
        assert_eq!(of(careful(0.0, 100.0)), linear);
        let (less, more) = (
            of(careful(drawn.3, 100.0)),
            of(careful(drawn.3 + 0.5, 100.0)),
        );
        for ((linear, less), more) in linear.iter().zip(&less).zip(&more) {
            assert!(
                more <= less && *less <= linear + 1e-9,
                "{more} {less} {linear}"
            );
        }
    });
}

fn stakes(change: &str) -> Stakes {
    let text = format!(
        "asking = 2500.0\nminute = 2.0\nworth = {{ original = 9000.0, married = 3000.0, converted = \
         2500.0, faked = 500.0 }}\nresale_cost = {{ share = 0.2 }}\n{change}"
    );
    let written: StakesFile = toml::from_str(&text).unwrap_or_else(|error| panic!("{error}"));
    Stakes::new(&written).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn decided(verdicts: [f64; 4], stakes: &Stakes, checks: &[CheckOutlook]) -> Decision {
    decide(&verdicts, stakes, checks).unwrap_or_else(|error| panic!("{error}"))
}

/// A check that tells the verdict for certain.
fn telling(id: &str, minutes: f64, verdicts: [f64; 4]) -> CheckOutlook {
    let outcomes = (0..4).map(|place| {
        let mut sure = [0.0; 4];
        sure[place] = 1.0;
        Outlook {
            chance: verdicts[place],
            verdicts: sure,
        }
    });
    CheckOutlook {
        id: id.into(),
        name: id.into(),
        minutes,
        outcomes: outcomes.collect(),
    }
}

/// By hand: sales leave 7200, 2400, 2000 and 400.
#[test]
fn a_decision_by_hand() {
    let decision = decided([0.25, 0.25, 0.25, 0.25], &stakes(""), &[]);
    assert_close!(
        decision.after_resale.to_array(),
        [7200.0, 2400.0, 2000.0, 400.0],
        rel = 1e-14
    );
    assert_close!(
        decision.gains.to_array(),
        [4700.0, -100.0, -500.0, -2100.0],
        rel = 1e-14
    );
    assert_close!(decision.expected_gain, 500.0, rel = 1e-13);
    assert_eq!(decision.certainty_equivalent, decision.expected_gain);
    assert_close!(decision.break_even, 3000.0, rel = 1e-14);
    assert_eq!(decision.break_even_in_utility, decision.break_even);
    assert_close!(decision.chance_of_loss, 0.75, rel = 1e-14);
    assert_close!(decision.price_at_chance_of_loss, 400.0, rel = 1e-14);
    // Buying only when it is original: 0.25 * 4700 - 500.
    assert_close!(decision.perfect_information, 675.0, rel = 1e-13);
    assert_eq!(
        (decision.action, decision.check.as_deref()),
        (Action::Buy, None)
    );
    assert_close!(decision.margin, 500.0, rel = 1e-13);
}

/// Log utility: the price at which (W + left - b) has the geometric mean W.
#[test]
fn the_price_to_break_even_with_aversion_in_closed_form() {
    let stakes = stakes("risk_aversion = 1.0\nwealth = 10000.0");
    let decision = decided([0.5, 0.0, 0.0, 0.5], &stakes, &[]);
    // (17200 - b)(10400 - b) = 10000^2.
    let half: f64 = (17_200.0 + 10_400.0) / 2.0;
    let want = half - (half * half - (17_200.0 * 10_400.0 - 1e8)).sqrt();
    assert_close!(decision.break_even_in_utility, want, rel = 1e-12);
    assert_close!(decision.break_even, 3800.0, rel = 1e-14);
    assert!(decision.certainty_equivalent < decision.expected_gain);
}

#[test]
fn a_check_is_done_when_it_is_worth_more_than_it_costs() {
    let verdicts = [0.25, 0.25, 0.25, 0.25];
    let quick = telling("quick", 10.0, verdicts);
    let slow = telling("slow", 300.0, verdicts);
    let decision = decided(verdicts, &stakes(""), &[slow.clone(), quick]);
    assert_eq!(decision.action, Action::LookFurther);
    assert_eq!(decision.check.as_deref(), Some("quick"));
    let order: Vec<&str> = decision.checks.iter().map(|check| &*check.id).collect();
    assert_eq!(order, ["quick", "slow"]);
    assert_close!(
        decision.checks[0].value,
        decision.perfect_information,
        rel = 1e-13
    );
    assert_close!(decision.checks[0].net, 655.0, rel = 1e-13);
    assert_close!(decision.checks[1].net, 75.0, rel = 1e-12);
    // Looking beats buying by what the look is worth.
    assert_close!(decision.margin, 655.0, rel = 1e-12);

    // Too dear with what it costs besides; then it is the next best.
    let dear = stakes("check_cost = { slow = 100.0 }");
    let decision = decided(verdicts, &dear, &[slow]);
    assert_eq!((decision.action, decision.check), (Action::Buy, None));
    assert_close!(decision.checks[0].net, -25.0, rel = 1e-11);
    assert_close!(decision.margin, 25.0, rel = 1e-11);
}

#[test]
fn aversion_can_turn_a_purchase_down() {
    let verdicts = [0.25, 0.25, 0.25, 0.25];
    let decision = decided(
        verdicts,
        &stakes("risk_aversion = 4.0\nwealth = 5000.0"),
        &[],
    );
    assert_eq!(decision.action, Action::WalkAway);
    assert_close!(decision.margin, -decision.certainty_equivalent, rel = 1e-14);
    assert!(decision.break_even_in_utility < 2500.0 && decision.break_even > 2500.0);
}

#[test]
fn prices_are_what_they_say() {
    let strategy = (vec(0.01..1.0_f64, 4), vec(0.0..9000.0_f64, 4), 0.0..5.0_f64);
    check(200, strategy, |(weights, worth, aversion)| {
        let total: f64 = weights.iter().sum();
        let verdicts = [0, 1, 2, 3].map(|place: usize| weights[place] / total);
        let mut stakes = stakes("risk_aversion = 1.0\nwealth = 20000.0");
        stakes.worth = [worth[0], worth[1], worth[2], worth[3]].into();
        stakes.attitude = careful(aversion, 20_000.0);
        let decision = decided(verdicts, &stakes, &[]);
        let at = |price| {
            let stakes = Stakes {
                asking: price,
                ..stakes.clone()
            };
            decided(verdicts, &stakes, &[])
        };
        assert_close!(at(decision.break_even).expected_gain, 0.0, abs = 1e-8);
        let even = at(decision.break_even_in_utility).certainty_equivalent;
        assert_close!(even, 0.0, abs = 1e-7);
        assert!(decision.break_even_in_utility <= decision.break_even + 1e-7);
        let limit = decision.price_at_chance_of_loss;
        assert!(at(limit).chance_of_loss <= stakes.chance_of_loss + 1e-9);
        assert!(at(limit + 0.01).chance_of_loss > stakes.chance_of_loss - 1e-9);
    });
}
