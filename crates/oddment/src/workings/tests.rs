//! The numbers' side of a case beside models compiled anew.

use super::*;
use crate::{Text, packs};

fn pack() -> Pack {
    packs::load("drop-leaf-table").unwrap_or_else(|error| panic!("{error}"))
}

fn case(pack: &Pack) -> Case {
    let text = include_str!("../../../../priors/cases/pieced-out-oval.toml");
    Case::load(Text::new("pieced-out-oval.toml", text), pack)
        .unwrap_or_else(|error| panic!("{error}"))
}

/// Posteriors of the verdicts.
fn shares(pack: &Pack, joint: &[f64]) -> [f64; 4] {
    let sums = crate::inquiry::by_verdict(pack, joint);
    let total: f64 = sums.iter().sum();
    sums.map(|sum| sum / total)
}

#[test]
fn other_numbers_give_what_a_model_compiled_for_them_gives() {
    let pack = pack();
    let mut case = case(&pack);
    let model = Model::compile_reported(&pack, &case).unwrap_or_else(|e| panic!("{e}"));
    let workings = Workings::new(&pack, &case, &model).unwrap_or_else(|e| panic!("{e}"));
    let mut desk = workings.desk();
    let mut numbers = case.numbers.clone();
    for (place, id) in workings.numbers().iter().enumerate() {
        if pack.numbers[id.index()].id.starts_with("measure/") {
            continue;
        }
        // Up and down in turn, rows left to normalise themselves.
        let factor = if place % 2 == 0 { 0.8 } else { 1.15 };
        let number = &mut numbers[id.index()];
        *number = if *number < 0.85 {
            *number * factor
        } else {
            *number
        };
    }
    let here = shares(&pack, &workings.histories(&mut desk, &numbers));
    case.numbers = numbers;
    let whole = Model::compile(&pack, case.years, &case.numbers)
        .and_then(|model| model.histories(&pack, &case))
        .unwrap_or_else(|e| panic!("{e}"));
    let there = shares(&pack, &whole);
    for (here, there) in here.iter().zip(there) {
        assert!((here / there - 1.0).abs() < 1e-11, "{here} {there}");
    }
}

#[test]
fn slopes_equal_central_differences() {
    let pack = pack();
    let case = case(&pack);
    let model = Model::compile_reported(&pack, &case).unwrap_or_else(|e| panic!("{e}"));
    let workings = Workings::new(&pack, &case, &model).unwrap_or_else(|e| panic!("{e}"));
    let mut desk = workings.desk();
    let slopes = workings.slopes(&mut desk, &case.numbers);
    let total: f64 = slopes.joint.iter().sum();
    let mut checked = 0;
    for id in workings.numbers() {
        let step = 1e-5;
        let direction = workings.spreads.direction(*id, &case.numbers);
        let kinks = workings.course(&direction).kinks;
        if kinks.iter().any(|kink| kink.abs() < 2.0 * step) {
            continue;
        }
        let joint_at = |by: f64, desk: &mut Desk| {
            let mut numbers = case.numbers.clone();
            for (other, slope) in &direction {
                numbers[other.index()] += by * slope;
            }
            let joint = workings.histories(desk, &numbers);
            crate::inquiry::by_verdict(&pack, &joint)
        };
        let (up, down) = (joint_at(step, &mut desk), joint_at(-step, &mut desk));
        for verdict in 0..4 {
            let want = (up[verdict] - down[verdict]) / (2.0 * step) / total;
            let along = direction.iter();
            let have: f64 = along
                .map(|(other, slope)| slope * slopes.by[verdict][other.index()] / total)
                .sum();
            let slack = 1e-6 + 1e-3 * want.abs();
            assert!(
                (have - want).abs() < slack,
                "{}: {have} {want}",
                pack.numbers[id.index()].id
            );
            checked += usize::from(want.abs() > 1e-3);
        }
    }
    // Most numbers of this case make a difference that can be seen.
    assert!(checked > 200, "{checked}");
}
