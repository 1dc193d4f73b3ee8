//! Studies of uncertain numbers, against draws of its own and the laws they keep.

use oddment::case::Outcome;
use oddment::draw;
use oddment::pack::{Domain, Shows};
use oddment::study::{NumberGroup, Study, StudyOptions, study};
use oddment::{Case, Pack};
use oddment_tests::assert_close;
use oddment_tests::drop_leaf::pack;
use oddment_tests::what_if::{example, leader, verdicts};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Draws without indices.
fn plain(draws: u64, seed: u64) -> StudyOptions {
    StudyOptions {
        draws,
        seed,
        pairs: 0,
        threads: 1,
    }
}

fn run(pack: &Pack, case: &Case, options: StudyOptions) -> Study {
    study(pack, case, &options, &|_, _| true).unwrap_or_else(|error| panic!("{error}"))
}

fn bits(study: &Study) -> Vec<u64> {
    let draws = study.draws.iter().flatten();
    draws.map(|share| share.to_bits()).collect()
}

#[test]
fn equal_seeds_give_equal_bits_on_any_number_of_threads() {
    let pack = pack();
    let case = example(&pack, "hardly-looked-at");
    // Four blocks, the last of them short, with pairs that end within the second.
    let options = |seed, threads| StudyOptions {
        draws: 901,
        seed,
        pairs: 200,
        threads,
    };
    let one = run(&pack, &case, options(5, 1));
    let text = |study: &Study| serde_json::to_string(&study.report).unwrap_or_default();
    for other in [
        run(&pack, &case, options(5, 1)),
        run(&pack, &case, options(5, 3)),
    ] {
        assert_eq!(bits(&one), bits(&other));
        assert_eq!(text(&one), text(&other));
    }
    let other = run(&pack, &case, options(6, 1));
    assert_ne!(bits(&one), bits(&other));
    assert_eq!((one.report.draws, one.report.pairs), (901, 200));
}

#[test]
fn stopping_gives_the_first_of_the_same_draws() {
    let pack = pack();
    let case = example(&pack, "hardly-looked-at");
    let full = run(&pack, &case, plain(1_500, 3));
    for threads in [1, 3] {
        let options = StudyOptions {
            threads,
            ..plain(1_500, 3)
        };
        let part = study(&pack, &case, &options, &|done, all| {
            assert_eq!(all, 1_500);
            done < 500
        });
        let part = part.unwrap_or_else(|error| panic!("{error}"));
        let count = part.draws.len();
        assert!(count > 0 && count < 1_500, "{count}");
        assert_eq!(part.report.draws, count as u64);
        assert_eq!(part.report.asked, 1_500);
        assert_eq!(bits(&part), bits(&full)[..4 * count]);
    }
    let none = study(&pack, &case, &plain(1_500, 3), &|_, _| false);
    let none = none.unwrap_or_else(|error| panic!("{error}"));
    assert!(none.draws.is_empty());
}

#[test]
fn what_is_told_of_the_draws_is_read_off_them() {
    let pack = pack();
    let case = example(&pack, "hardly-looked-at");
    let study = run(&pack, &case, plain(401, 9));
    let here = verdicts(&pack, &case);
    for (place, told) in study.report.verdicts.iter().enumerate() {
        assert_close!(told.probability, here[place], rel = 1e-10);
        let mut values: Vec<f64> = study.draws.iter().map(|draw| draw[place]).collect();
        let mean = values.iter().sum::<f64>() / 401.0;
        assert_close!(told.spread.mean, mean, rel = 1e-12);
        values.sort_by(f64::total_cmp);
        // With 401 draws the quantiles stand at draws.
        let of = |share: f64| values[(400.0 * share) as usize];
        let spread = told.spread;
        assert_close!(
            [spread.low, spread.lower_quartile, spread.median],
            [of(0.05), of(0.25), of(0.5)],
            rel = 1e-12
        );
        assert_close!(
            [spread.upper_quartile, spread.high],
            [of(0.75), of(0.95)],
            rel = 1e-12
        );
        let leads = study.draws.iter().filter(|draw| leader(*draw) == place);
        assert_close!(told.leads, leads.count() as f64 / 401.0, abs = 1e-12);
    }
    for draw in &study.draws {
        assert_close!(draw.iter().sum::<f64>(), 1.0, rel = 1e-12);
    }
}

#[test]
fn numbers_surely_known_leave_no_spread() {
    let mut pack = pack();
    for number in &mut pack.numbers {
        number.strength *= 1e6;
    }
    for name in ["hardly-looked-at", "signs-in-conflict"] {
        let case = example(&pack, name);
        let study = run(&pack, &case, plain(250, 1));
        let here = verdicts(&pack, &case);
        for (told, here) in study.report.verdicts.iter().zip(here) {
            let spread = told.spread;
            assert!(spread.high - spread.low < 1e-2, "{name} {told:?}");
            assert_close!(spread.mean, here, abs = 1e-2, "{name}");
        }
    }
}

/// Rows of numbers that are drawn whole: what histories show, what incidents cause, prior counts.
fn rows(pack: &Pack) -> Vec<Vec<usize>> {
    let mut rows: Vec<Vec<usize>> = Vec::new();
    let mut add = |row: &[oddment::pack::NumberId]| {
        let row: Vec<usize> = row.iter().map(|id| id.index()).collect();
        if row.len() > 1 && !rows.contains(&row) {
            rows.push(row);
        }
    };
    for sign in &pack.signs {
        if let Shows::History(shown) = &sign.shows {
            shown.iter().for_each(|row| add(row));
        }
        sign.causes.iter().for_each(|(_, row)| add(row));
    }
    pack.priors.iter().for_each(|prior| add(&prior.counts));
    rows
}

/// All numbers of a pack drawn anew around those of a case.
fn drawn(pack: &Pack, case: &Case, rows: &[Vec<usize>], rng: &mut impl Rng) -> Vec<f64> {
    let mut numbers = case.numbers.clone();
    for (place, number) in pack.numbers.iter().enumerate() {
        let mean = case.numbers[place];
        if number.structural || rows.iter().any(|row| row.contains(&place)) {
            continue;
        }
        numbers[place] = match number.domain {
            Domain::Chance | Domain::Share => match mean > 0.0 && mean < 1.0 {
                true => draw::beta(mean, number.strength, rng),
                false => mean,
            },
            Domain::NotNegative | Domain::Stretch => match mean > 0.0 {
                true => mean * draw::gamma(number.strength, rng) / number.strength,
                false => mean,
            },
            Domain::Shift { deviation } => {
                mean + deviation / number.strength.sqrt() * draw::standard_normal(rng)
            }
        };
    }
    for row in rows {
        let total: f64 = row.iter().map(|place| case.numbers[*place]).sum();
        let means: Vec<f64> = row
            .iter()
            .map(|place| case.numbers[*place] / total)
            .collect();
        let mut shares = vec![0.0; row.len()];
        draw::dirichlet(&means, pack.numbers[row[0]].strength, rng, &mut shares);
        for (place, share) in row.iter().zip(shares) {
            numbers[*place] = share * total;
        }
    }
    numbers
}

#[test]
fn draws_made_elsewhere_fall_within_the_intervals_as_often_as_they_should() {
    const OWN: usize = 150;
    const STUDIED: u64 = 3_000;
    let pack = pack();
    let rows = rows(&pack);
    for name in ["hardly-looked-at", "signs-in-conflict"] {
        let case = example(&pack, name);
        let report = run(&pack, &case, plain(STUDIED, 2)).report;
        let mut rng = ChaCha8Rng::seed_from_u64(77);
        let mut inside = [0.0; 4];
        for _ in 0..OWN {
            let mut other = case.clone();
            other.numbers = drawn(&pack, &case, &rows, &mut rng);
            let there = verdicts(&pack, &other);
            for (place, told) in report.verdicts.iter().enumerate() {
                let within = (told.spread.low..=told.spread.high).contains(&there[place]);
                inside[place] += f64::from(u8::from(within));
            }
        }
        // The interval's own ends are uncertain too.
        let error = (0.9 * 0.1 * (1.0 / OWN as f64 + 1.0 / STUDIED as f64)).sqrt();
        for inside in inside {
            let share = inside / OWN as f64;
            assert_close!(share, 0.9, abs = 4.0 * error, "{name}");
        }
    }
}

#[test]
fn two_seeds_agree_on_the_means() {
    let pack = pack();
    for name in ["hardly-looked-at", "innocent-holes"] {
        let case = example(&pack, name);
        let [one, other] = [1, 2].map(|seed| run(&pack, &case, plain(1_000, seed)));
        for place in 0..4 {
            let of = |study: &Study| {
                let values = study.draws.iter().map(|draw| draw[place]);
                let mean = values.clone().sum::<f64>() / 1_000.0;
                let squares = values.map(|value| (value - mean) * (value - mean));
                (mean, squares.sum::<f64>() / 999.0 / 1_000.0)
            };
            let (a, b) = (of(&one), of(&other));
            assert_close!(a.0, b.0, abs = 4.0 * (a.1 + b.1).sqrt(), "{name} {place}");
        }
    }
}

fn with_indices(pack: &Pack, case: &Case) -> Study {
    let options = StudyOptions {
        pairs: 400,
        ..plain(1_000, 4)
    };
    run(pack, case, options)
}

#[test]
fn groups_that_cannot_matter_have_no_index() {
    let pack = pack();
    let mut case = example(&pack, "hardly-looked-at");
    let groups = |case: &Case| {
        let shares = with_indices(&pack, case).report.groups;
        let mut groups: Vec<NumberGroup> = shares.iter().map(|share| share.group).collect();
        groups.sort_unstable();
        groups
    };
    // No prices, no readings, nothing dated.
    let plain = [
        NumberGroup::Prior,
        NumberGroup::Incidents,
        NumberGroup::Signs,
        NumberGroup::Reports,
    ];
    assert_eq!(groups(&case), plain);
    // The user's own prior replaces the pack's.
    case.prior = Some(oddment::prior::history_priors(&pack, &case));
    assert_eq!(groups(&case), plain[1..]);
    case.findings
        .retain(|finding| !matches!(finding.outcome, Outcome::Reported { .. }));
    let study = run(&pack, &case, plain_with_pairs());
    assert!(
        study
            .report
            .groups
            .iter()
            .all(|share| share.group != NumberGroup::Prior)
    );
    let full = with_indices(&pack, &example(&pack, "pieced-out-oval"))
        .report
        .groups;
    assert_eq!(full.len(), NumberGroup::ALL.len());
}

fn plain_with_pairs() -> StudyOptions {
    StudyOptions {
        pairs: 20,
        ..plain(40, 1)
    }
}

#[test]
fn first_indices_sum_to_no_more_than_all_and_none_exceeds_its_total() {
    let pack = pack();
    for name in ["hardly-looked-at", "signs-in-conflict", "pieced-out-oval"] {
        let report = with_indices(&pack, &example(&pack, name)).report;
        let shares = report.groups;
        assert_eq!(report.pairs, 400, "{name}");
        let lowest: f64 = shares.iter().map(|share| share.first_low).sum();
        assert!(lowest <= 1.0, "{name}: {lowest}");
        let all: f64 = shares.iter().map(|share| share.total_high).sum();
        assert!(all >= 1.0, "{name}: {all}");
        for share in &shares {
            assert!(
                share.first_low <= share.first && share.first <= share.first_high,
                "{name}"
            );
            assert!(
                share.total_low <= share.total && share.total <= share.total_high,
                "{name}"
            );
            assert!(share.first_low <= share.total_high, "{name} {share:?}");
            assert!(share.total >= 0.0 && share.numbers > 0, "{name} {share:?}");
        }
        assert!(
            shares.is_sorted_by(|one, other| one.total >= other.total),
            "{name}"
        );
    }
}

/// Only one group uncertain: it explains everything.
#[test]
fn a_group_uncertain_alone_explains_all() {
    let mut pack = pack();
    let prior: Vec<bool> = pack
        .numbers
        .iter()
        .map(|n| n.id.starts_with("prior"))
        .collect();
    for (number, prior) in pack.numbers.iter_mut().zip(prior) {
        number.strength *= if prior { 1.0 } else { 1e9 };
    }
    let case = example(&pack, "hardly-looked-at");
    for share in with_indices(&pack, &case).report.groups {
        let want = f64::from(u8::from(share.group == NumberGroup::Prior));
        assert_close!(share.total, want, abs = 0.25, "{share:?}");
        assert!(
            share.first_low <= want + 1e-3 && share.first_high >= want - 1e-3,
            "{share:?}"
        );
    }
}
