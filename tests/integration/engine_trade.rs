//! The drop-leaf pack reasons as the trade does (common practice, no source).

use oddment::Verdict::{Converted, Faked, Married, Original};
use oddment_tests::drop_leaf::{Sketch, history, incident, odds, pack};

#[test]
fn holes_that_run_on_are_innocent_and_holes_that_stop_blind_are_not() {
    let pack = pack();
    let before = Sketch::of("oval").assess(&pack);
    let run_on = Sketch::of("oval")
        .found("holes-run-on", "", "yes")
        .assess(&pack);
    let blind = Sketch::of("oval")
        .found("holes-stop-blind", "", "yes")
        .assess(&pack);
    assert!(odds(&run_on, Original) > odds(&before, Original));
    assert!(odds(&run_on, Married) < odds(&before, Married));
    assert!(odds(&blind, Original) < 0.6 * odds(&before, Original));
    assert!(odds(&blind, Married) > 2.0 * odds(&before, Married));
}

#[test]
fn a_hollow_along_the_join_speaks_for_later_joining_and_its_absence_against() {
    let pack = pack();
    let joined = Sketch::of("oval").found("leaf-joined", "", "yes");
    let (before, alone) = (Sketch::of("oval").assess(&pack), joined.assess(&pack));
    let hollow = joined
        .clone()
        .found("hollow-at-join", "", "plain")
        .assess(&pack);
    let level = joined
        .clone()
        .found("hollow-at-join", "", "none")
        .assess(&pack);
    let pieced = |assessment| history(assessment, "outline-pieced-out");
    let joined_when_made = |assessment| history(assessment, "joined-boards");
    assert!(pieced(&hollow) > 2.0 * pieced(&alone));
    assert!(pieced(&level) < 0.7 * pieced(&alone));
    assert!(joined_when_made(&level) > joined_when_made(&alone));
    // A joined leaf alone says little: less than a factor of two either way.
    let shift = odds(&alone, Original) / odds(&before, Original);
    assert!((0.5..2.0).contains(&shift), "{shift}");
}

#[test]
fn ovals_start_worse_than_rectangles_and_worse_still_as_the_price_gap_grows() {
    let pack = pack();
    let original = |sketch: Sketch| odds(&sketch.assess(&pack), Original);
    assert!(original(Sketch::of("oval")) < original(Sketch::of("rectangular")));
    let mut last = f64::INFINITY;
    for price in [150.0, 250.0, 400.0, 800.0, 1600.0] {
        let now = original(Sketch::of("oval").priced(price));
        assert!(now < last, "at {price}: {now} after {last}");
        last = now;
    }
    let oval = pack
        .variants
        .iter()
        .find(|variant| variant.id == "oval")
        .map(|v| v.price_ratio);
    let reference = 100.0 * oval.unwrap_or(f64::NAN);
    let unpriced = original(Sketch::of("oval"));
    let at_reference = original(Sketch::of("oval").priced(reference));
    assert!(
        (at_reference / unpriced - 1.0).abs() < 1e-12,
        "{at_reference} {unpriced}"
    );
}

#[test]
fn a_wider_price_gap_never_lowers_the_odds_of_a_history_that_profits_most() {
    let pack = pack();
    for variant in pack.variants.iter().map(|variant| variant.id.as_str()) {
        let low = Sketch::of(variant).priced(200.0).assess(&pack);
        let high = Sketch::of(variant).priced(600.0).assess(&pack);
        for rival in ["outline-pieced-out", "made-up-from-old", "two-old-halves"] {
            let against_honest =
                |assessment| history(assessment, rival) / history(assessment, "wide-boards");
            let (low, high) = (against_honest(&low), against_honest(&high));
            // 0 against 0 where a variant cannot have the history.
            assert!(
                high >= low || (low == 0.0 && high == 0.0),
                "{variant} {rival}"
            );
        }
    }
}

#[test]
fn darkness_where_air_could_not_reach_speaks_for_staining() {
    let pack = pack();
    let before = Sketch::of("oval").assess(&pack);
    let dark = Sketch::of("oval")
        .found("dark-where-sealed", "", "yes")
        .assess(&pack);
    assert!(odds(&dark, Faked) > 1.5 * odds(&before, Faked));
    assert!(odds(&dark, Original) < odds(&before, Original));
}

#[test]
fn the_pale_shadow_of_a_lost_block_is_innocent() {
    let pack = pack();
    let before = Sketch::of("oval").assess(&pack);
    let ghost = Sketch::of("oval")
        .found("block-ghost-expected", "", "yes")
        .assess(&pack);
    assert!(odds(&ghost, Original) > odds(&before, Original));
}

#[test]
fn refinishing_weakens_the_contrasts_it_hides_and_their_absence() {
    let pack = pack();
    // Signs of oxidation and wear that refinishing can wipe out, with a level that is "there".
    for (sign, part, there) in [
        ("wear-where-due", "", "long"),
        ("rim-follows-edge", "", "yes"),
    ] {
        for found in [there, absent(&pack, sign)] {
            let shift = |known: bool| {
                let with = Sketch::of("oval")
                    .found(sign, part, found)
                    .known("refinished", known);
                let without = Sketch::of("oval").known("refinished", known);
                let (with, without) = (with.assess(&pack), without.assess(&pack));
                libm::log(odds(&with, Original) / odds(&without, Original)).abs()
            };
            let (refinished, untouched) = (shift(true), shift(false));
            if found == there {
                // A sign that survived refinishing is as good as one on an untouched piece, never
                // better.
                assert!(refinished <= untouched * 1.02, "{sign} {found}");
            } else {
                assert!(
                    refinished < untouched,
                    "{sign} {found}: {refinished} {untouched}"
                );
            }
        }
    }
}

fn absent<'p>(pack: &'p oddment::Pack, sign: &str) -> &'p str {
    let sign = pack.signs.iter().find(|entry| entry.id == sign);
    sign.map_or("no", |sign| sign.levels[0].as_str())
}

#[test]
fn an_incident_known_to_have_happened_explains_its_sign_away() {
    let pack = pack();
    let mut checked = 0;
    for sign in &pack.signs {
        for (cause, _) in &sign.causes {
            let top = &sign.levels[sign.levels.len() - 1];
            let part = &pack.parts[sign.parts[0]].id;
            let name = &pack.incidents[*cause].id;
            let weight = |known: bool| {
                let with = Sketch::of("oval")
                    .found(&sign.id, part, top)
                    .known(name, known);
                let without = Sketch::of("oval").known(name, known);
                let (with, without) = (with.assess(&pack), without.assess(&pack));
                libm::log(odds(&with, Original) / odds(&without, Original)).abs()
            };
            // An incident that makes the sign makes finding it say less, whichever way it spoke.
            assert!(weight(true) <= weight(false) + 1e-9, "{} {name}", sign.id);
            checked += 1;
        }
    }
    assert!(checked >= 10, "only {checked} causes checked");
}

#[test]
fn a_sign_raises_the_incident_that_would_explain_it() {
    let pack = pack();
    let before = Sketch::of("oval").assess(&pack);
    let crisp = Sketch::of("oval")
        .found("edge-crisp", "", "plain")
        .assess(&pack);
    assert!(incident(&crisp, "edge-trimmed") > incident(&before, "edge-trimmed"));
    assert!(odds(&crisp, Converted) > odds(&before, Converted));
}

#[test]
fn a_later_technology_on_one_part_dates_that_part() {
    let pack = pack();
    let dated = |sketch: Sketch, part: &str| {
        let assessment = sketch.assess(&pack);
        let found = assessment.dates.iter().find(|date| date.part == part);
        found.map_or(f64::NAN, |date| date.median)
    };
    let before = dated(Sketch::of("oval"), "leaves");
    let sawn = Sketch::of("oval").found("arc-saw-marks", "leaves", "yes");
    assert!(dated(sawn.clone(), "leaves") > before + 20.0, "{before}");
    let last = f64::from(pack.dates.to - pack.dates.step);
    assert!(
        dated(sawn, "leaves") < last,
        "pushed to the edge of the grid"
    );
}
