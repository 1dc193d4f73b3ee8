//! What is still worth looking at, against every report put into the case and asked anew.

use oddment::case::{Finding, Outcome, Reading, Sureness, Value};
use oddment::decide::{self, CheckOutlook, Outlook as Prospects, decide};
use oddment::outlook::{CheckMethod, CheckValue, Outlook};
use oddment::pack::{Access, Leave, VERDICTS};
use oddment::{Case, Inquiry, Model, NextOptions, Pack, check_outlooks, look_next};
use oddment_tests::assert_close;
use oddment_tests::drop_leaf::pack;
use oddment_tests::what_if::{example, examples, leader, load, verdicts, verdicts_by, whole_model};

fn look(pack: &Pack, case: &Case, options: &NextOptions) -> Outlook {
    look_next(pack, case, options).unwrap_or_else(|error| panic!("{error}"))
}

fn everything(pack: &Pack, case: &Case) -> Outlook {
    look(pack, case, &NextOptions::default())
}

/// Signs at parts that a check would answer and nobody reported or was kept from.
fn open_signs(pack: &Pack, case: &Case, check: &str) -> Vec<(usize, usize)> {
    let mut open = Vec::new();
    for (sign, of) in pack.signs.iter().enumerate() {
        for part in &of.parts {
            let done = case.findings.iter().any(|finding| {
                (finding.sign, finding.part) == (sign, *part)
                    && finding.outcome != Outcome::NotLooked
            });
            let asked = of.concerns(case.variant) && pack.checks[of.check].id == check;
            if asked && !done {
                open.push((sign, *part));
            }
        }
    }
    open
}

/// Measures that a check would read and nobody has.
fn open_measures(pack: &Pack, case: &Case, check: &str) -> Vec<usize> {
    (0..pack.measures.len())
        .filter(|place| pack.checks[pack.measures[*place].check].id == check)
        .filter(|place| pack.measures[*place].concerns(case.variant))
        .filter(|place| {
            case.readings
                .iter()
                .all(|reading| reading.measure != *place)
        })
        .collect()
}

/// The case with one more sure report, in the last visit.
fn reported(case: &Case, (sign, part): (usize, usize), level: usize) -> Case {
    let mut more = case.clone();
    let sure = Sureness::Sure;
    more.findings.push(Finding {
        sign,
        part,
        outcome: Outcome::Reported { level, sure },
        visit: case.visits.len() - 1,
        note: None,
    });
    more
}

/// Every combination of reports of some signs.
fn every_report(pack: &Pack, case: &Case, signs: &[(usize, usize)]) -> Vec<Case> {
    let mut cases = vec![case.clone()];
    for at in signs {
        let levels = pack.signs[at.0].levels.len();
        cases = cases
            .iter()
            .flat_map(|case| (0..levels).map(|level| reported(case, *at, level)))
            .collect();
    }
    cases
}

fn opened<'a>(model: &'a Model, pack: &'a Pack, case: &'a Case) -> Inquiry<'a> {
    Inquiry::open(pack, case, model).unwrap_or_else(|error| panic!("{error}"))
}

/// Chance and verdicts of each of several reports, over the evidence before.
fn asked(model: &Model, pack: &Pack, before: &Case, after: &[Case]) -> Vec<(f64, [f64; 4])> {
    let now = opened(model, pack, before).ln_evidence();
    let of = |case: &Case| {
        let then = opened(model, pack, case);
        (libm::exp(then.ln_evidence() - now), then.verdicts())
    };
    after.iter().map(of).collect()
}

fn entropy(verdicts: &[f64; 4]) -> f64 {
    let some = verdicts.iter().filter(|p| **p > 0.0);
    some.map(|p| -p * libm::log2(*p)).sum()
}

/// Bits, chance of changing the leader, and how much more often the leader is right. The bits as
/// the fall of the mean entropy, which for exact chances is the same as the mean divergence.
fn worth(now: &[f64; 4], prospects: &[(f64, [f64; 4])]) -> [f64; 3] {
    let lead = leader(now);
    let mean = |of: &dyn Fn(&[f64; 4]) -> f64| -> f64 {
        prospects
            .iter()
            .map(|(chance, then)| chance * of(then))
            .sum()
    };
    [
        entropy(now) - mean(&entropy),
        mean(&|then| f64::from(u8::from(leader(then) != lead))),
        mean(&|then| then[leader(then)]) - now[lead],
    ]
}

fn told(check: &CheckValue) -> [f64; 3] {
    [check.bits, check.changes_verdict, check.right_more_often]
}

/// Checks of signs only, of few enough reports to go through.
fn small_checks<'o>(pack: &Pack, case: &Case, outlook: &'o Outlook) -> Vec<&'o CheckValue> {
    let few = |check: &&CheckValue| {
        let signs = open_signs(pack, case, &check.id);
        let reports: usize = signs
            .iter()
            .map(|(sign, _)| pack.signs[*sign].levels.len())
            .product();
        reports <= 24 && open_measures(pack, case, &check.id).is_empty()
    };
    outlook.checks.iter().filter(few).collect()
}

#[test]
fn checks_of_signs_are_worth_what_every_report_says() {
    let pack = pack();
    let (mut single, mut graded, mut several) = (0, 0, 0);
    for name in ["hardly-looked-at", "clean-rectangular", "pieced-out-oval"] {
        let case = example(&pack, name);
        let model = whole_model(&pack, &case);
        let now = verdicts_by(&model, &pack, &case);
        let outlook = everything(&pack, &case);
        for check in small_checks(&pack, &case, &outlook) {
            let signs = open_signs(&pack, &case, &check.id);
            let after = every_report(&pack, &case, &signs);
            let prospects = asked(&model, &pack, &case, &after);
            let chances: f64 = prospects.iter().map(|prospect| prospect.0).sum();
            assert_close!(chances, 1.0, rel = 1e-9);
            let (have, want) = (told(check), worth(&now, &prospects));
            assert_close!(have, want, abs = 1e-9, "{name} {}", check.id);
            let answers = after.len() as u32;
            assert_eq!(check.method, CheckMethod::Exact { answers });
            assert_close!(check.bits_per_minute, want[0] / check.minutes, abs = 1e-9);
            assert_eq!(check.answers.len(), signs.len());
            for (answer, at) in check.answers.iter().zip(&signs) {
                let alone = asked(&model, &pack, &case, &every_report(&pack, &case, &[*at]));
                assert_eq!(answer.id, pack.signs[at.0].id);
                assert_close!(
                    answer.bits,
                    worth(&now, &alone)[0],
                    abs = 1e-9,
                    "{}",
                    answer.id
                );
            }
            // What it names as telling is among the reports of one sign, with these verdicts.
            for telling in &check.telling {
                let at = signs.iter().find(|at| {
                    (&pack.signs[at.0].id, &pack.parts[at.1].id) == (&telling.id, &telling.part)
                });
                let at = at.unwrap_or_else(|| panic!("{telling:?}"));
                let level = pack.signs[at.0]
                    .levels
                    .iter()
                    .position(|l| *l == telling.found);
                let then = [reported(&case, *at, level.unwrap_or(usize::MAX))];
                let (chance, verdicts) = asked(&model, &pack, &case, &then)[0];
                assert_close!(telling.chance, chance, rel = 1e-9);
                assert_close!(telling.verdicts, verdicts, abs = 1e-9);
            }
            match signs.len() {
                1 => single += 1,
                _ => several += 1,
            }
            let levels = signs.iter().map(|(sign, _)| pack.signs[*sign].levels.len());
            graded += usize::from(levels.max() > Some(2));
        }
    }
    assert!(
        single > 3 && graded > 0 && several > 3,
        "{single} {graded} {several}"
    );
}

/// The case with one more reading, in the last visit.
fn read(pack: &Pack, case: &Case, measure: usize, value: f64) -> Case {
    let mut more = case.clone();
    more.readings.push(Reading {
        measure,
        value: Value::Exactly(value),
        error: pack.measures[measure].error,
        visit: case.visits.len() - 1,
        note: None,
    });
    more
}

/// A reading's worth over a grid five times as fine, with the exact densities.
#[test]
fn checks_of_one_reading_are_worth_what_a_finer_grid_says() {
    const CELLS: usize = 240;
    let pack = pack();
    let mut checked = 0;
    let case = example(&pack, "hardly-looked-at");
    let model = whole_model(&pack, &case);
    let now = verdicts_by(&model, &pack, &case);
    for check in &everything(&pack, &case).checks {
        let measures = open_measures(&pack, &case, &check.id);
        let [measure] = measures.as_slice() else {
            continue;
        };
        if !open_signs(&pack, &case, &check.id).is_empty() {
            continue;
        }
        let (low, high) = pack.measures[*measure].plausible;
        let step = (high - low) / CELLS as f64;
        let after: Vec<Case> = (0..CELLS)
            .map(|cell| read(&pack, &case, *measure, low + step * (cell as f64 + 0.5)))
            .collect();
        let mut prospects = asked(&model, &pack, &case, &after);
        let total: f64 = prospects.iter().map(|prospect| step * prospect.0).sum();
        // Nearly all that can be read lies within what is plausible.
        assert!(total > 0.85 && total < 1.01, "{} {total}", check.id);
        for prospect in &mut prospects {
            prospect.0 *= step / total;
        }
        let (have, want) = (told(check), worth(&now, &prospects));
        assert_close!(have[0], want[0], rel = 0.03, "{}", check.id);
        assert_close!(have[1], want[1], abs = 0.03, "{}", check.id);
        assert_close!(have[2], want[2], abs = 0.003, "{}", check.id);
        checked += 1;
    }
    assert!(checked >= 2, "{checked}");
}

#[test]
fn information_is_never_negative_nor_more_than_is_open() {
    let pack = pack();
    for (name, text) in examples() {
        let case = load(&pack, &text);
        let outlook = everything(&pack, &case);
        let now = verdicts(&pack, &case);
        assert_close!(outlook.open_bits, entropy(&now), rel = 1e-9, "{name}");
        assert_eq!(outlook.leading, VERDICTS[leader(&now)], "{name}");
        for check in &outlook.checks {
            let of = format!("{name} {}", check.id);
            assert!(
                check.bits >= 0.0 && check.bits <= outlook.open_bits + 1e-9,
                "{of}"
            );
            assert!((0.0..=1.0 + 1e-9).contains(&check.changes_verdict), "{of}");
            assert!(check.right_more_often >= 0.0, "{of}");
            // Who never changes their mind is not right more often for it.
            if check.changes_verdict == 0.0 {
                assert_close!(check.right_more_often, 0.0, abs = 1e-9, "{of}");
            }
        }
    }
}

#[test]
fn a_check_tells_at_least_as_much_as_any_one_of_its_signs() {
    let pack = pack();
    for (name, text) in examples() {
        let case = load(&pack, &text);
        for check in &everything(&pack, &case).checks {
            for answer in &check.answers {
                let of = (&name, &check.id, &answer.id);
                assert!(
                    check.bits >= answer.bits - 1e-9,
                    "{of:?}: {} {}",
                    check.bits,
                    answer.bits
                );
            }
        }
    }
}

#[test]
fn what_was_reported_or_out_of_reach_is_not_asked_again() {
    let pack = pack();
    for (name, text) in examples() {
        let case = load(&pack, &text);
        let outlook = everything(&pack, &case);
        for of in &pack.checks {
            let open = open_signs(&pack, &case, &of.id).len();
            let open = open + open_measures(&pack, &case, &of.id).len();
            let told = outlook.checks.iter().find(|check| check.id == of.id);
            let told = told.map_or(0, |check| check.answers.len());
            assert_eq!(told, open, "{name} {}", of.id);
        }
    }
}

#[test]
fn access_and_leave_are_respected() {
    let pack = pack();
    let case = example(&pack, "hardly-looked-at");
    let full = everything(&pack, &case);
    assert!(full.checks.iter().all(|check| check.allowed));
    for (access, without_leave) in [
        (Access::WalkBy, false),
        (Access::Open, true),
        (Access::TurnOver, false),
        (Access::Dismantle, true),
    ] {
        let options = NextOptions {
            minutes: Some(60.0),
            access: Some(access),
            without_leave,
        };
        let outlook = look(&pack, &case, &options);
        assert_eq!(outlook.checks.len(), full.checks.len());
        for check in &outlook.checks {
            let near = check.access == Access::Papers || check.access <= access;
            let may = !without_leave || check.leave == Leave::NotNeeded;
            assert_eq!(check.allowed, near && may, "{}", check.id);
            // What it is worth does not hang on whether one may.
            let same = full.checks.iter().find(|other| other.id == check.id);
            assert_eq!(
                same.map(|other| other.bits),
                Some(check.bits),
                "{}",
                check.id
            );
        }
        assert!(outlook.checks.is_sorted_by_key(|check| !check.allowed));
        let steps = outlook.plan.map(|plan| plan.steps).unwrap_or_default();
        for step in steps {
            let check = outlook.checks.iter().find(|check| check.id == step.id);
            assert!(check.is_some_and(|check| check.allowed), "{}", step.id);
        }
    }
}

#[test]
fn a_plan_keeps_to_its_minutes_and_tells_more_with_more_of_them() {
    let pack = pack();
    let budgets = [
        ("hardly-looked-at", [3.0, 20.0]),
        ("signs-in-conflict", [0.5, 12.0]),
        ("pieced-out-oval", [5.0, 60.0]),
    ];
    for (name, budgets) in budgets {
        let case = example(&pack, name);
        let mut before = 0.0;
        for minutes in budgets {
            let options = NextOptions {
                minutes: Some(minutes),
                ..NextOptions::default()
            };
            let outlook = look(&pack, &case, &options);
            let plan = outlook.plan.unwrap_or_else(|| panic!("no plan"));
            let of = format!("{name} in {minutes}: {plan:?}");
            let used: f64 = plan.steps.iter().map(|step| step.minutes).sum();
            assert!(plan.used <= minutes, "{of}");
            assert_close!(plan.used, used, abs = 1e-12, "{of}");
            let mut ids: Vec<&str> = plan.steps.iter().map(|step| &*step.id).collect();
            ids.sort_unstable();
            ids.dedup();
            assert_eq!(ids.len(), plan.steps.len(), "{of}");
            let last = plan.steps.last().map_or(0.0, |step| step.bits_so_far);
            assert_close!(last, plan.bits, abs = 1e-12, "{of}");
            let fits = outlook
                .checks
                .iter()
                .filter(|check| check.minutes <= minutes);
            let best = fits.map(|check| check.bits).fold(0.0, f64::max);
            assert!(
                // A step that tells next to nothing is not taken.
                plan.bits >= best - 4.0 * plan.standard_error - 0.002,
                "{best} {of}"
            );
            assert!(
                plan.bits <= outlook.open_bits + 4.0 * plan.standard_error,
                "{of}"
            );
            assert!(plan.bits >= before - 1e-9, "{before} {of}");
            before = plan.bits;
        }
    }
}

/// All that may be seen in passing was seen: nothing is left, whatever else could be done.
#[test]
fn with_everything_allowed_looked_at_nothing_is_left() {
    let pack = pack();
    let mut case = example(&pack, "hardly-looked-at");
    let options = NextOptions {
        minutes: Some(30.0),
        access: Some(Access::WalkBy),
        without_leave: true,
    };
    assert!(!look(&pack, &case, &options).nothing_left);
    let checks = pack.checks.iter();
    let free = checks.filter(|c| c.access == Access::WalkBy && c.leave == Leave::NotNeeded);
    for check in free {
        for at in open_signs(&pack, &case, &check.id) {
            case = reported(&case, at, 0);
        }
        for measure in open_measures(&pack, &case, &check.id) {
            let value = match pack.measures[measure].id.as_str() {
                "leaf-width-ratio" => 0.96,
                _ => 4.0,
            };
            case = read(&pack, &case, measure, value);
        }
    }
    let outlook = look(&pack, &case, &options);
    assert!(outlook.nothing_left);
    assert!(outlook.checks.iter().all(|check| !check.allowed));
    assert_eq!(outlook.plan.map(|plan| plan.steps.len()), Some(0));
    assert!(!everything(&pack, &case).nothing_left);
}

const STAKES: &str = "\n[stakes]\nasking = 2500.0\nminute = 1.5\nworth = { original = 6000.0, \
    married = 2200.0, converted = 1500.0, faked = 400.0 }\nresale_cost = { share = 0.1 }\n\
    check_cost = { read-papers = 40.0 }\n";

#[test]
fn checks_in_money_are_what_deciding_over_every_report_gives() {
    let pack = pack();
    let (_, text) = examples()
        .into_iter()
        .find(|(name, _)| name == "hardly-looked-at")
        .unwrap_or_default();
    for (more, linear) in [
        ("", true),
        ("risk_aversion = 2.0\nwealth = 20000.0\n", false),
    ] {
        let case = load(
            &pack,
            &format!(
                "{text}{}",
                STAKES.replace("minute", &format!("{more}minute"))
            ),
        );
        let stakes = case.stakes.clone().unwrap_or_else(|| panic!("no stakes"));
        let model = whole_model(&pack, &case);
        let now = verdicts_by(&model, &pack, &case);
        let outlook = everything(&pack, &case);
        let perfect = decide(&now, &stakes, &[]).map(|decision| decision.perfect_information);
        let perfect = perfect.unwrap_or_else(|error| panic!("{error}"));
        let mut worth_something = 0;
        for check in &outlook.checks {
            let money = check
                .money
                .unwrap_or_else(|| panic!("{} has no price", check.id));
            assert!(money.value >= 0.0, "{}", check.id);
            if linear {
                assert!(money.value <= perfect * (1.0 + 1e-9), "{}", check.id);
            }
            assert_close!(money.net, money.value - money.cost, abs = 1e-9);
            let cost = 1.5 * check.minutes + if check.id == "read-papers" { 40.0 } else { 0.0 };
            assert_close!(money.cost, cost, rel = 1e-12);
            worth_something += usize::from(money.value > 1.0);
        }
        assert!(worth_something > 2, "{worth_something}");
        for check in small_checks(&pack, &case, &outlook) {
            let signs = open_signs(&pack, &case, &check.id);
            let prospects = asked(&model, &pack, &case, &every_report(&pack, &case, &signs));
            let total: f64 = prospects.iter().map(|prospect| prospect.0).sum();
            let outcomes = prospects.iter().map(|(chance, verdicts)| Prospects {
                chance: chance / total,
                verdicts: *verdicts,
            });
            let own = CheckOutlook {
                id: check.id.clone(),
                name: check.name.clone(),
                minutes: check.minutes,
                outcomes: outcomes.collect(),
            };
            let decision = decide::decide(&now, &stakes, &[own]);
            let want = decision.map(|decision| decision.checks[0].value);
            let want = want.unwrap_or_else(|error| panic!("{error}"));
            let have = check.money.map_or(f64::NAN, |money| money.value);
            assert_close!(have, want, abs = 1e-5, "{}", check.id);
        }
    }
}

#[test]
fn without_figures_no_check_has_a_price() {
    let pack = pack();
    let case = example(&pack, "hardly-looked-at");
    let checks = everything(&pack, &case).checks;
    assert!(checks.iter().all(|check| check.money.is_none()));
}

#[test]
fn outcomes_of_checks_average_to_the_verdicts_as_they_are() {
    let pack = pack();
    for (name, text) in examples() {
        let case = load(&pack, &text);
        let model = whole_model(&pack, &case);
        let now = verdicts_by(&model, &pack, &case);
        let outlooks = check_outlooks(&pack, &case, &model, &NextOptions::default());
        let outlooks = outlooks.unwrap_or_else(|error| panic!("{error}"));
        assert!(!outlooks.is_empty(), "{name}");
        for check in &outlooks {
            let of = format!("{name} {}", check.id);
            let outcomes = check.outcomes.iter();
            let chance: f64 = outcomes.clone().map(|outcome| outcome.chance).sum();
            assert_close!(chance, 1.0, rel = 1e-9, "{of}");
            for (place, now) in now.iter().enumerate() {
                let mean = outcomes.clone().map(|o| o.chance * o.verdicts[place]);
                assert_close!(mean.sum::<f64>(), *now, abs = 1e-9, "{of}");
            }
        }
        let options = NextOptions {
            access: Some(Access::WalkBy),
            without_leave: true,
            ..NextOptions::default()
        };
        let few = check_outlooks(&pack, &case, &model, &options);
        let few = few.unwrap_or_else(|error| panic!("{error}"));
        assert!(few.len() < outlooks.len(), "{name}");
    }
}
