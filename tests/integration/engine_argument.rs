//! The argument against what it says of itself, recomputed by taking findings out of the case.

use oddment::argument::{Argument, Behind};
use oddment::case::file::CaseFile;
use oddment::pack::VERDICTS;
use oddment::{Case, Error, Model, Pack, assess, explain};
use oddment_tests::assert_close;
use oddment_tests::drop_leaf::{Sketch, incident, pack};
use oddment_tests::what_if::{
    decibans, example, examples, histories_by, load, only, said, verdicts_by, whole_model,
};

/// Weights are compared to a millionth of a deciban.
const FINE: f64 = 1e-6;

fn argue(pack: &Pack, case: &Case, between: Option<(&str, &str)>) -> Argument {
    explain(pack, case, between).unwrap_or_else(|error| panic!("{error}"))
}

/// Odds of each verdict against all others given some of a case, in decibans.
fn odds(model: &Model, pack: &Pack, case: &Case, keep: impl Fn(usize) -> bool) -> [f64; 4] {
    let verdicts = verdicts_by(model, pack, &only(case, keep));
    [0, 1, 2, 3].map(|verdict| decibans(&verdicts, verdict))
}

#[test]
fn weights_add_up_to_what_they_say() {
    let pack = pack();
    for (name, text) in examples() {
        let case = load(&pack, &text);
        let between = Some(("wide-boards", "two-old-halves"));
        let argument = argue(&pack, &case, between);
        assert_eq!(argument.findings.len(), said(&case).len(), "{name}");
        assert_eq!(argument.questions.len(), 5, "{name}");
        for (place, question) in argument.questions.iter().enumerate() {
            let weights = argument.findings.iter().map(|f| f.weights[place]);
            let (mut in_order, mut share, mut alone, mut withdrawn) = (0.0, 0.0, 0.0, 0.0);
            let mut running = question.before;
            for weights in weights {
                in_order += weights.in_order;
                share += weights.share;
                alone += weights.alone;
                withdrawn += weights.withdrawn;
                running += weights.in_order;
                assert_close!(weights.running, running, abs = FINE, "{name}");
            }
            let of = format!("{name}, {}", question.favoured);
            assert_close!(in_order, question.total, abs = FINE, "in order: {of}");
            assert_close!(share, question.total, abs = FINE, "shares: {of}");
            assert_close!(alone, question.naive, abs = FINE, "alone: {of}");
            let kept = withdrawn + question.in_common;
            assert_close!(kept, question.total, abs = FINE, "withdrawn: {of}");
            let after = question.before + question.total;
            assert_close!(after, question.after, abs = FINE, "after: {of}");
        }
    }
}

#[test]
fn each_weight_is_what_the_case_without_or_with_only_that_finding_gives() {
    let pack = pack();
    for (name, text) in examples() {
        let case = load(&pack, &text);
        let argument = argue(&pack, &case, None);
        let model = whole_model(&pack, &case);
        let (nothing, all) = (
            odds(&model, &pack, &case, |_| false),
            odds(&model, &pack, &case, |_| true),
        );
        for (verdict, question) in argument.questions.iter().enumerate() {
            assert_eq!(question.favoured, VERDICTS[verdict].id());
            assert_close!(question.before, nothing[verdict], abs = FINE, "{name}");
            assert_close!(question.after, all[verdict], abs = FINE, "{name}");
        }
        for (place, finding) in argument.findings.iter().enumerate() {
            let alone = odds(&model, &pack, &case, |other| other == place);
            let without = odds(&model, &pack, &case, |other| other != place);
            let running = odds(&model, &pack, &case, |other| other <= place);
            for verdict in 0..4 {
                let (weights, of) = (finding.weights[verdict], (&name, &finding.id));
                let want = alone[verdict] - nothing[verdict];
                assert_close!(weights.alone, want, abs = FINE, "alone: {of:?}");
                let want = all[verdict] - without[verdict];
                assert_close!(weights.withdrawn, want, abs = FINE, "withdrawn: {of:?}");
                let want = running[verdict];
                assert_close!(weights.running, want, abs = FINE, "running: {of:?}");
            }
        }
    }
}

/// Goes through every order of some players; gives each the mean of what it adds when it comes.
fn over_all_orders(players: usize, value: &dyn Fn(usize) -> f64) -> Vec<f64> {
    fn go(at: usize, order: &mut Vec<usize>, visit: &mut dyn FnMut(&[usize])) {
        if at == order.len() {
            return visit(order);
        }
        for next in at..order.len() {
            order.swap(at, next);
            go(at + 1, order, visit);
            order.swap(at, next);
        }
    }
    let values: Vec<f64> = (0..1 << players).map(value).collect();
    let (mut sums, mut orders) = (vec![0.0; players], 0.0);
    go(0, &mut (0..players).collect(), &mut |order| {
        orders += 1.0;
        let mut set = 0;
        for player in order {
            let with = set | 1 << player;
            sums[*player] += values[with] - values[set];
            set = with;
        }
    });
    sums.iter().map(|sum| sum / orders).collect()
}

#[test]
fn fair_shares_are_the_mean_over_all_orders() {
    let pack = pack();
    for (name, chosen) in [
        // Signs of one act, one of them graded and seen in two visits, with a reading.
        ("pieced-out-oval", [0, 1, 2, 10, 12, 34]),
        // Two visits that disagree.
        ("signs-in-conflict", [0, 1, 2, 3, 9, 17]),
    ] {
        let whole = example(&pack, name);
        let case = only(&whole, |place| chosen.contains(&place));
        let argument = argue(&pack, &case, None);
        assert!(argument.shares.exact, "{name}");
        assert_eq!(argument.findings.len(), 6, "{name}");
        let model = whole_model(&pack, &case);
        for verdict in 0..4 {
            let value = |set: usize| odds(&model, &pack, &case, |p| set >> p & 1 == 1)[verdict];
            let want = over_all_orders(6, &value);
            for (finding, want) in argument.findings.iter().zip(want) {
                let have = finding.weights[verdict];
                assert_close!(have.share, want, abs = FINE, "{name} {}", finding.id);
                assert_eq!(have.share_error, 0.0);
            }
        }
    }
}

#[test]
fn a_finding_made_twice_is_two_equal_players() {
    let pack = pack();
    let case = load(
        &pack,
        "schema = \"oddment/case/1\"\n[piece]\nform = \"drop-leaf-table\"\nvariant = \"oval\"\n\
         period = \"bent-leg\"\nregion = \"britain\"\n\
         [[finding]]\nsign = \"stranger-arc\"\nfound = \"yes\"\nlook = 1\n\
         [[finding]]\nsign = \"holes-run-on\"\nfound = \"yes\"\n\
         [[finding]]\nsign = \"stranger-arc\"\nfound = \"yes\"\nlook = 2\n",
    );
    let argument = argue(&pack, &case, None);
    for verdict in 0..4 {
        let [one, _, other] = [0, 1, 2].map(|place| argument.findings[place].weights[verdict]);
        assert_close!(one.share, other.share, abs = FINE);
        assert_close!(one.alone, other.alone, abs = FINE);
        assert_close!(one.withdrawn, other.withdrawn, abs = FINE);
    }
    // The second look adds less than the first did, and the shares hide neither.
    let [one, _, other] = [0, 1, 2].map(|place| argument.findings[place].weights[1]);
    assert!(other.in_order > 0.0 && other.in_order < one.in_order);
    assert!(one.share < one.alone && one.share > other.withdrawn);
}

#[test]
fn between_two_histories_the_total_is_the_change_of_their_ratio() {
    let pack = pack();
    for (name, text) in examples() {
        let case = load(&pack, &text);
        let model = whole_model(&pack, &case);
        let after = histories_by(&model, &pack, &case);
        // Before any finding, but given the incidents known from elsewhere.
        let before = histories_by(&model, &pack, &only(&case, |_| false));
        if case.known.is_empty() {
            assert_close!(
                before,
                oddment::prior::history_priors(&pack, &case),
                rel = 1e-12
            );
        }
        for (one, other) in [
            ("joined-boards", "outline-pieced-out"),
            ("late-copy", "wide-boards"),
        ] {
            let place = |id| pack.histories.iter().position(|history| history.id == id);
            let (Some(a), Some(b)) = (place(one), place(other)) else {
                panic!("no such history")
            };
            let argument = argue(&pack, &case, Some((one, other)));
            let question = &argument.questions[4];
            assert_eq!(
                (question.favoured.as_str(), question.against.as_deref()),
                (one, Some(other))
            );
            let want = 10.0 * libm::log10(after[a] / after[b] * before[b] / before[a]);
            assert_close!(question.total, want, abs = FINE, "{name}");
            let want = 10.0 * libm::log10(before[a] / before[b]);
            assert_close!(question.before, want, abs = FINE, "{name}");
        }
    }
}

#[test]
fn an_unknown_history_is_named_with_those_there_are() {
    let pack = pack();
    let case = Sketch::of("oval").case(&pack);
    for between in [("wide-bords", "late-copy"), ("late-copy", "wide-bords")] {
        match explain(&pack, &case, Some(between)) {
            Err(Error::UnknownHistory { id, valid }) => {
                assert_eq!(id, "wide-bords");
                assert_eq!(valid.len(), pack.histories.len());
            }
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn what_findings_weigh_together_is_what_a_case_of_just_those_gives() {
    let pack = pack();
    let mut behind = Vec::new();
    for (name, text) in examples() {
        let case = load(&pack, &text);
        let argument = argue(&pack, &case, None);
        let model = whole_model(&pack, &case);
        let (nothing, all) = (
            odds(&model, &pack, &case, |_| false),
            odds(&model, &pack, &case, |_| true),
        );
        for together in &argument.together {
            let of = (&name, &together.id);
            behind.push(together.behind);
            let members = &together.members;
            assert!(members.len() > 1 && members.is_sorted(), "{of:?}");
            let joint = odds(&model, &pack, &case, |place| members.contains(&place));
            let rest = odds(&model, &pack, &case, |place| !members.contains(&place));
            for verdict in 0..4 {
                let weights = together.weights[verdict];
                let alone = members
                    .iter()
                    .map(|member| argument.findings[*member].weights[verdict].alone);
                assert_close!(weights.naive, alone.sum::<f64>(), abs = FINE, "{of:?}");
                let want = joint[verdict] - nothing[verdict];
                assert_close!(weights.joint, want, abs = FINE, "{of:?}");
                let want = all[verdict] - rest[verdict];
                assert_close!(weights.withdrawn, want, abs = FINE, "{of:?}");
            }
        }
    }
    for kind in [Behind::Act, Behind::Incident, Behind::Date] {
        assert!(behind.contains(&kind), "no example has {kind:?}");
    }
}

#[test]
fn findings_of_one_act_are_put_together() {
    let pack = pack();
    let case = example(&pack, "pieced-out-oval");
    let argument = argue(&pack, &case, None);
    let group = |id: &str| pack.find_sign(id).and_then(|sign| pack.signs[sign].group);
    let acts = argument.together.iter().filter(|t| t.behind == Behind::Act);
    for act in acts {
        let wanted = pack.groups.iter().position(|group| group.id == act.id);
        let members: Vec<usize> = (0..argument.findings.len())
            .filter(|place| group(&argument.findings[*place].id) == wanted)
            .collect();
        assert_eq!(act.members, members, "{}", act.id);
    }
}

/// A case with an incident known for certain.
fn with_known(pack: &Pack, case: &Case, id: &str) -> Case {
    let place = pack.incidents.iter().position(|incident| incident.id == id);
    let place = place.unwrap_or_else(|| panic!("no incident {id}"));
    let mut known = case.clone();
    known.known.retain(|(incident, _)| *incident != place);
    known.known.push((place, true));
    known
}

#[test]
fn innocent_readings_are_the_incident_with_and_without_the_finding() {
    let pack = pack();
    let mut checked = 0;
    for (name, step) in [
        ("innocent-holes", 1),
        ("pieced-out-oval", 3),
        ("clean-rectangular", 2),
    ] {
        let case = example(&pack, name);
        let argument = argue(&pack, &case, None);
        let model = whole_model(&pack, &case);
        let assessed = |case: &Case| assess(&pack, case).unwrap_or_else(|error| panic!("{error}"));
        let all = assessed(&case);
        let findings = argument.findings.iter().enumerate();
        for (place, finding) in findings
            .filter(|(_, f)| !f.readings.is_empty())
            .step_by(step)
        {
            let less = assessed(&only(&case, |other| other != place));
            for reading in &finding.readings {
                let of = (name, &finding.id, &reading.id);
                let (with, without) = (incident(&all, &reading.id), incident(&less, &reading.id));
                assert_close!(reading.with, with, rel = 1e-9, "{of:?}");
                assert_close!(reading.without, without, rel = 1e-9, "{of:?}");
                let known = with_known(&pack, &case, &reading.id);
                let (with, without) = (
                    odds(&model, &pack, &known, |_| true),
                    odds(&model, &pack, &known, |other| other != place),
                );
                let have = reading.if_happened.as_deref().unwrap_or_default();
                let want: Vec<f64> = (0..4).map(|v| with[v] - without[v]).collect();
                assert_close!(*have, want, abs = FINE, "{of:?}");
                checked += 1;
            }
        }
    }
    assert!(checked > 20, "{checked}");
}

#[test]
fn an_incident_known_not_to_have_happened_explains_nothing() {
    let pack = pack();
    let case = Sketch::of("square")
        .found("foot-built-up", "", "yes")
        .known("feet-pieced", false)
        .case(&pack);
    let argument = argue(&pack, &case, None);
    let reading = &argument.findings[0].readings[0];
    assert_eq!(reading.id, "feet-pieced");
    assert_eq!((reading.with, reading.without), (0.0, 0.0));
    assert_eq!(reading.if_happened, None);
}

/// Fifteen findings are too many for every order, yet few enough to go through every subset here.
#[test]
fn sampled_shares_lie_within_their_standard_errors_of_the_exact_ones() {
    const PLAYERS: usize = 15;
    let pack = pack();
    let whole = example(&pack, "innocent-holes");
    let case = only(&whole, |place| place < PLAYERS);
    let argument = argue(&pack, &case, None);
    assert!(!argument.shares.exact);
    // A model of what is reported only, so that 32,768 cases are quickly asked; that it answers as
    // the whole one does is checked on the way.
    let model = Model::compile_reported(&pack, &case).unwrap_or_else(|error| panic!("{error}"));
    let small = odds(&model, &pack, &case, |_| true);
    let large = odds(&whole_model(&pack, &case), &pack, &case, |_| true);
    assert_close!(small, large, abs = FINE);
    let values: Vec<[f64; 4]> = (0..1_usize << PLAYERS)
        .map(|set| odds(&model, &pack, &case, |place| set >> place & 1 == 1))
        .collect();
    // |S|! (n - |S| - 1)! / n!, by multiplying up.
    let weight = |size: usize| {
        (1..=size).fold(1.0 / PLAYERS as f64, |weight, k| {
            weight * k as f64 / (PLAYERS - k) as f64
        })
    };
    let weights: Vec<f64> = (0..PLAYERS).map(weight).collect();
    let mut uncertain = 0;
    for (player, finding) in argument.findings.iter().enumerate() {
        for verdict in 0..4 {
            let mut exact = 0.0;
            for set in (0..values.len()).filter(|set| set >> player & 1 == 0) {
                let adds = values[set | 1 << player][verdict] - values[set][verdict];
                exact += weights[set.count_ones() as usize] * adds;
            }
            let have = finding.weights[verdict];
            assert!(
                (have.share - exact).abs() <= 5.0 * have.share_error + FINE,
                "{}: {have:?}, exactly {exact}",
                finding.id
            );
            // As sure as was asked for.
            assert!(have.share_error <= 0.1, "{have:?}");
            uncertain += usize::from(have.share_error > 0.0);
        }
    }
    assert!(uncertain > 2 * PLAYERS, "{uncertain}");
}

#[test]
fn nothing_found_is_no_argument() {
    let pack = pack();
    let argument = argue(&pack, &Sketch::of("round").case(&pack), None);
    assert!(argument.findings.is_empty() && argument.together.is_empty());
    for question in &argument.questions {
        assert_eq!((question.total, question.naive), (0.0, 0.0));
        assert_eq!(question.before, question.after);
    }
}

#[test]
fn a_verdict_that_cannot_be_weighs_nothing() {
    let pack = pack();
    let case = example(&pack, "clean-rectangular");
    let mut sure = case.clone();
    let mut prior = vec![0.0; pack.histories.len()];
    prior[0] = 1.0;
    sure.prior = Some(prior);
    for finding in argue(&pack, &sure, None).findings {
        for weights in finding.weights {
            assert_eq!(
                (weights.alone, weights.withdrawn, weights.share),
                (0.0, 0.0, 0.0)
            );
        }
    }
}

#[test]
fn the_case_as_json_argues_as_the_case_as_toml() {
    let pack = pack();
    let case = example(&pack, "signs-in-conflict");
    let json = serde_json::to_string(&case.file).unwrap_or_else(|error| panic!("{error}"));
    let back: CaseFile = serde_json::from_str(&json).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(back, case.file);
    assert_eq!(
        argue(&pack, &load(&pack, &json), None),
        argue(&pack, &case, None)
    );
}
