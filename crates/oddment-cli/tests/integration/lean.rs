//! `oddment lean`: what it prints, and what it refuses.

use crate::explain::loaded;
use crate::{Run, case_with, data, expect, oddment, oddment_with, scratch, small};
use oddment::leaning::Leaning;
use oddment::pool::AS_IT_STANDS;
use oddment::{LeanOptions, Verdict};
use std::path::PathBuf;

const OPINION: &str = "schema = \"oddment/opinion/1\"\nname = \"a joiner\"\n\
    [prior]\nas-made = 60.0\nnew-seat = 40.0\n\
    [numbers]\n\"sign/top-fits/shows/original\" = 0.6\n";

fn lean(arguments: &[&str]) -> Run {
    oddment(&small(&[&["lean", "stool.toml"], arguments].concat()))
}

fn leaning(arguments: &[&str]) -> Leaning {
    let json = lean(&[&["--json"], arguments].concat()).done();
    serde_json::from_str(&json).unwrap()
}

/// Writes an opinion into a folder of its own.
fn opinion(folder: &str, text: &str) -> PathBuf {
    let path = scratch(folder).join("opinion.toml");
    std::fs::write(&path, text).unwrap();
    path
}

#[test]
fn the_page() {
    expect("lean.txt", &lean(&[]).done());
    // A path that is the same wherever the project lies.
    let arguments = [
        "--threshold",
        "80%",
        "--mix",
        "married=1,converted=2,faked=1",
        "--grid",
        "prior/carved/made-up",
        "sign/top-fits/shows/married",
        "--expert",
        "joiner.toml=3",
        "--expert",
        "pack.toml",
    ];
    let page = lean(&arguments).done();
    expect("lean-asked.txt", &page);
    for line in page.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn json_is_the_library_s_result() {
    let (pack, case) = loaded();
    let options = LeanOptions {
        verdict: Some(Verdict::Original),
        threshold: Some(0.02),
        mix: Some([1.0, 0.0, 3.0]),
        grid: Some((
            "prior/carved/as-made".into(),
            "incident/refixed/rate/any".into(),
        )),
        opinions: Vec::new(),
    };
    let found = leaning(&[
        "--verdict",
        "original",
        "--threshold",
        "0.02",
        "--mix",
        "married=1,faked=3",
        "--grid",
        "prior/carved/as-made",
        "incident/refixed/rate/any",
    ]);
    assert_eq!(found, oddment::lean(&pack, &case, &options).unwrap());
}

#[test]
fn all_numbers_are_shown_when_asked_for() {
    let numbers = leaning(&[]).numbers;
    assert!(numbers.len() > 12);
    let (page, all) = (lean(&[]).done(), lean(&["--all"]).done());
    for (place, number) in numbers.iter().enumerate() {
        let label = format!("\n{:>3}. ", place + 1);
        assert_eq!(page.contains(&label), place < 12, "{label} in {page}");
        assert!(all.contains(&label), "{label} in {all}");
        assert!(
            all.contains(&format!("\n     {}\n", number.id)),
            "{} in {all}",
            number.id
        );
    }
}

#[test]
fn the_case_counts_as_the_first_opinion() {
    let path = opinion("first-opinion", OPINION);
    let expert = format!("{}=3", path.display());
    let found = leaning(&["--expert", &expert]);
    let pool = found.pool.unwrap();
    assert_eq!(pool.opinions[0].name, AS_IT_STANDS);
    let weights: Vec<f64> = pool.opinions.iter().map(|opinion| opinion.weight).collect();
    assert_eq!(weights, [0.25, 0.75]);
    let leading = pool.opinions[0]
        .verdicts
        .iter()
        .copied()
        .fold(0.0, f64::max);
    assert!((leading - found.probability).abs() < 1e-12);
    // What the opinion says in the case itself gives its answer.
    let case = case_with(
        "[[visit]]",
        "[prior]\nas-made = 60.0\nnew-seat = 40.0\n\n[numbers]\n\
         \"sign/top-fits/shows/original\" = 0.6\n\n[[visit]]",
    );
    let json = oddment_with(&small(&["assess", "-", "--json"]), &case).done();
    let assessment: oddment::Assessment = serde_json::from_str(&json).unwrap();
    for (odds, found) in assessment.verdicts.iter().zip(&pool.opinions[1].verdicts) {
        assert!((odds.probability - found).abs() < 1e-12, "{odds:?} {found}");
    }
}

#[test]
fn opinions_that_rule_one_another_out() {
    let sure = |id: &str, history: &str| {
        opinion(
            id,
            &format!("schema = \"oddment/opinion/1\"\nname = \"{id}\"\n[prior]\n{history} = 1.0\n"),
        )
    };
    let (one, other) = (sure("all-made", "as-made"), sure("all-faked", "made-up"));
    let experts = [
        "--expert",
        one.to_str().unwrap(),
        "--expert",
        other.to_str().unwrap(),
    ];
    let page = lean(&experts).done();
    assert!(page.contains("rule out every verdict"), "{page}");
    assert!(!page.contains("NaN"), "{page}");
    let pool = leaning(&experts).pool.unwrap();
    assert!(pool.logarithmic.is_empty());
    assert!((pool.linear.iter().sum::<f64>() - 1.0).abs() < 1e-12);
}

#[test]
fn nothing_found_yet() {
    let case = oddment(&small(&["new"])).done();
    let page = oddment_with(&small(&["lean", "-"]), &case).done();
    assert!(
        page.contains("No base rates of altered furniture are published"),
        "{page}"
    );
    assert!(!page.contains("NaN"), "{page}");
}

#[test]
fn a_threshold_is_kept_to_from_either_side() {
    let found = leaning(&["--threshold", "0.95"]);
    assert!(found.probability < 0.95);
    assert!(found.numbers.iter().any(|number| !number.flips.is_empty()));
    let page = lean(&["--threshold", "0.95"]).done();
    assert!(
        page.contains("Looked for is where it would rise above 95 in 100."),
        "{page}"
    );
    assert!(page.contains("Would rise above 95 in 100 if"), "{page}");
    assert!(!page.contains("fall below"), "{page}");
    let page = lean(&["--threshold", "0.6"]).done();
    assert!(page.contains("Would fall below 60 in 100 if"), "{page}");
    assert!(!page.contains("rise above"), "{page}");
}

#[test]
fn wrong_usage() {
    let mix = "such as married=1,converted=2,faked=1";
    let weight = "must be a number from 0.000001 to 1,000,000";
    for (arguments, message) in [
        (
            &["--threshold", "0"][..],
            "`0` must be a probability above 0 and below 1",
        ),
        (
            &["--threshold", "90"],
            "`90` must be a probability above 0 and below 1, such as 0.9 or 90%",
        ),
        (&["--threshold", "-0.5"], "`-0.5` must be a probability"),
        (&["--threshold", "nan"], "`nan` must be a probability"),
        (
            &["--verdict", "real"],
            "unknown verdict `real`; valid: original",
        ),
        (
            &["--mix", "married"],
            &format!("`married` must be a verdict, `=` and a number, {mix}"),
        ),
        (
            &["--mix", "original=1"],
            "`original` has no part in the mix",
        ),
        (
            &["--mix", "wed=1"],
            "unknown verdict `wed`; valid: married, converted, faked",
        ),
        (
            &["--mix", "married=-1"],
            "`married=-1` must give a number from 0 to 1,000,000,000",
        ),
        (
            &["--mix", "married=inf"],
            "`married=inf` must give a number",
        ),
        (
            &["--mix", "married=1,married=2"],
            "`married` is given twice; remove one",
        ),
        (&["--mix", "married=0"], "at least one must be above 0"),
        (
            &["--grid", "prior/plain/made-up"],
            "2 values required for '--grid",
        ),
        (
            &["--expert", "pack.toml=much"],
            &format!("the weight `much` {weight}"),
        ),
        (
            &["--expert", "pack.toml=0"],
            &format!("the weight `0` {weight}"),
        ),
        (
            &["--expert", "pack.toml=1e300"],
            &format!("the weight `1e300` {weight}"),
        ),
        (
            &["--expert", "=2"],
            "give a file, or a file, `=` and its weight",
        ),
    ] {
        let error = lean(arguments).failed(2);
        assert!(error.contains(message), "{error}");
    }
    for (arguments, message) in [
        (
            ["--grid", "prior/plain/made-up", "prior/plain/made-up"],
            "error: `prior/plain/made-up` cannot be moved against itself; give two numbers \
             [query/same-number]\n",
        ),
        (
            ["--grid", "prior/plain/made-up", "prior/plain/as-mode"],
            "error: unknown number `prior/plain/as-mode`, perhaps `prior/plain/as-made`; `oddment \
             lean` lists those that matter to a case [query/unknown-number]\n",
        ),
    ] {
        assert_eq!(lean(&arguments).failed(2), message);
    }
}

#[test]
fn opinions_that_are_wrong_have_a_place() {
    let path = opinion(
        "wrong-opinion",
        &OPINION
            .replace("new-seat", "new-seats")
            .replace("0.6", "1.6"),
    );
    let path = path.to_str().unwrap();
    assert_eq!(
        lean(&["--expert", path]).failed(3),
        format!(
            "error: unknown history `new-seats`, perhaps `new-seat`; valid: as-made, cut-down, \
             made-up, new-seat\n  new-seats = 40.0\n  ^\n  {path}:5:1 [opinion/unknown-id]\n\
             error: 1.6 must lie strictly between 0 and 1\n  \"sign/top-fits/shows/original\" = \
             1.6\n  ^\n  {path}:7:1 [opinion/number]\n2 problems\n"
        )
    );
}

#[test]
fn what_is_no_opinion() {
    assert_eq!(
        lean(&["--expert", "stool.toml"]).failed(3),
        "error: schema `oddment/case/1` is not supported, must be `oddment/opinion/1`, or \
         `oddment/pack/1` or `oddment/extension/1` for a pack or an extension of one\n  schema = \"oddment/case/1\"\n  ^\n  \
         stool.toml:1:1 [opinion/schema]\n"
    );
    assert_eq!(
        lean(&["--expert", "none.toml"]).failed(5),
        "error: cannot read `none.toml`: there is no such file or folder [file/read]\n"
    );
}

#[test]
fn a_pack_that_the_case_does_not_go_with() {
    let pack = std::fs::read_to_string(data().join("pack.toml")).unwrap();
    let path = opinion("other-pack", &pack.replace("\"saw-arcs\"", "\"saw-lines\""));
    let path = path.to_str().unwrap();
    let error = lean(&["--expert", path]).failed(3);
    assert!(
        error.starts_with(&format!(
            "error: under the pack `{path}`: unknown sign `saw-arcs`"
        )),
        "{error}"
    );
    assert!(error.contains("\n  stool.toml:"), "{error}");
}
