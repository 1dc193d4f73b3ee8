//! `oddment elicit`: what it prints, and what it refuses.

use crate::{expect, oddment, oddment_with};
use oddment::elicit::{Elicitation, Fitted};

fn elicited(arguments: &[&str]) -> Elicitation {
    let mut all = vec!["elicit", "--json"];
    all.extend(arguments);
    serde_json::from_str(&oddment(&all).done()).unwrap()
}

fn only(arguments: &[&str]) -> Fitted {
    elicited(arguments).numbers.remove(0).result
}

#[test]
fn elicit() {
    let page = oddment(&["elicit", "--quartiles", "0.25", "0.30", "0.35"]).done();
    expect("elicit.txt", &page);
    let arguments = [
        "elicit",
        "--unit",
        "mm",
        "--positive",
        "--quantiles",
        "5%=2,50%=5,95%=11",
    ];
    expect("elicit-measure.txt", &oddment(&arguments).done());
}

#[test]
fn elicit_a_file() {
    let page = oddment(&["elicit", "judgements.toml"]).done();
    expect("elicit-file.txt", &page);
    let judgements = std::fs::read(crate::data().join("judgements.toml")).unwrap();
    assert_eq!(oddment_with(&["elicit", "-"], judgements).done(), page);
}

#[test]
fn the_same_said_in_other_ways() {
    let plain = only(&["--quartiles", "0.25", "0.30", "0.35"]);
    for other in [
        &["--quartiles", "25%", "30%", "35%"][..],
        &["--quartiles", "25", "30", "35", "--of", "100"],
        &["--quantiles", "25%=0.25,0.5=0.3,75%=35%"],
        &[
            "--about",
            "0.3",
            "--between",
            "0.25",
            "0.35",
            "--credible",
            "50%",
        ],
    ] {
        let Fitted::Chance { mean, strength } = only(other) else {
            panic!("{other:?}");
        };
        assert!((mean - plain.mean().unwrap()).abs() < 1e-9, "{other:?}");
        assert!(
            (strength - plain.strength().unwrap()).abs() < 1e-6,
            "{other:?}"
        );
    }
}

#[test]
fn counts_rows_factors_and_measures() {
    let uniform = only(&["--count", "3", "10", "--start", "uniform"]);
    assert_eq!(uniform.shapes(), Some((4.0, 8.0)));
    let counted = only(&["--counts", "14,4,2"]);
    assert_eq!(counted.strength(), Some(21.5));
    let row = [
        "--level",
        "none=0.5,0.6,0.7",
        "--level",
        "0.2,0.27,0.35",
        "--level",
        "7%,12%,19%",
    ];
    assert_eq!(only(&row).levels(), 3);
    assert!(matches!(
        only(&["--factor", "--between", "1", "3"]),
        Fitted::Factor { .. }
    ));
    let measure = only(&[
        "--unit",
        "mm",
        "--quartiles",
        "-2",
        "0",
        "2",
        "--family",
        "student-t3",
    ]);
    assert!(measure.toml().contains("degrees = 3"), "{}", measure.toml());
}

#[test]
fn what_is_printed_for_a_pack_is_read_by_a_pack() {
    let page = oddment(&["elicit", "--count", "0", "20"]).done();
    let number = page.lines().find(|line| line.contains("mean =")).unwrap();
    let pack = std::fs::read_to_string(crate::data().join("pack.toml")).unwrap();
    let pack = pack.replacen("elicited", "guess", 1).replacen(
        "caused_by = { refixed = 0.35 }",
        &format!(
            "caused_by = {{ refixed = {} }}",
            number.trim().replace("elicited", "guess")
        ),
        1,
    );
    let lint = ["lint", "-", "--library", "library.toml"];
    assert!(oddment_with(&lint, pack).stderr.is_empty());
}

#[test]
fn judgements_that_cannot_be() {
    for (arguments, message) in [
        (
            &["--quartiles", "25", "30", "35"][..],
            "25 is no chance, which lies strictly between 0 and 1; 25 in 100 is written 0.25 or, on \
             the command line, 25%; or say `of = 100` (--of 100) [judgement/chance]",
        ),
        (
            &["--quartiles", "0.3", "0.2", "0.4"],
            "the 25 % value 0.3 is above the 50 % value 0.2: values must rise with their levels \
             [judgement/order]",
        ),
        (
            &["--quartiles", "25%", "30%", "35%", "--unit", "mm"],
            "a percentage such as 30% is a chance by itself: leave out `%`, or --unit, --factor and \
             --of [judgement/chance]",
        ),
        (
            &["--quartiles", "nan", "0.2", "0.4"],
            "NaN is no chance, which lies strictly between 0 and 1 [judgement/chance]",
        ),
        (
            &["--count", "21", "20"],
            "21 in 20: give how many showed it, then how many were looked at, whole numbers with the \
             first at most the second and the second 1 to 1,000,000 [judgement/count]",
        ),
        (
            &[],
            "nothing is said of it: give quartiles, quantiles, a range, or a count \
             [judgement/missing]",
        ),
        (
            &["judgements.toml", "--count", "2", "20"],
            "a file and a judgement on the command line: give one of them (only --json goes with a \
             file) [judgement/kind]",
        ),
    ] {
        let mut all = vec!["elicit"];
        all.extend(arguments);
        let error = oddment(&all).failed(2);
        assert_eq!(error, format!("error: {message}\n"), "{arguments:?}");
    }
    let one = oddment(&["elicit", "--quartiles", "0.3"]).failed(2);
    assert!(one.contains("3 values required"), "{one}");
    let word = oddment(&["elicit", "--about", "rarely"]).failed(2);
    assert!(
        word.contains("`rarely` must be a number such as 0.3, or a percentage"),
        "{word}"
    );
}

#[test]
fn a_file_that_is_wrong_has_a_place() {
    let text = "schema = \"oddment/judgement/1\"\n[[judgement]]\ncount = [21, 20]\n";
    let error = oddment_with(&["elicit", "-"], text).failed(3);
    assert!(
        error.starts_with("error: 21 in 20: give how many") && error.contains("input:3:1"),
        "{error}"
    );
}
