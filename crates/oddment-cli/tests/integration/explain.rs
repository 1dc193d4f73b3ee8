//! `oddment explain`: what it prints, and what it refuses.

use crate::{case_with, data, expect, oddment, oddment_with, small};
use oddment::argument::Argument;
use oddment::{Case, Pack, Text};

/// The small pack and case, as the library reads them.
pub fn loaded() -> (Pack, Case) {
    let read = |name: &str| std::fs::read_to_string(data().join(name)).unwrap();
    let (pack, library, case) = (read("pack.toml"), read("library.toml"), read("stool.toml"));
    let pack = Pack::load(
        Text::new("pack.toml", &pack),
        Text::new("library.toml", &library),
    );
    let pack = pack.unwrap();
    let case = Case::load(Text::new("stool.toml", &case), &pack).unwrap();
    (pack, case)
}

fn explain(arguments: &[&str]) -> crate::Run {
    oddment(&small(&[&["explain", "stool.toml"], arguments].concat()))
}

#[test]
fn the_page() {
    expect("explain.txt", &explain(&[]).done());
    let between = ["--verdict", "faked", "--between", "as-made", "new-seat"];
    let page = explain(&between).done();
    expect("explain-between.txt", &page);
    for line in page.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn json_is_the_library_s_result() {
    let (pack, case) = loaded();
    let between = Some(("new-seat", "as-made"));
    let json = explain(&["--json", "--between", "new-seat", "as-made"]).done();
    let argument: Argument = serde_json::from_str(&json).unwrap();
    assert_eq!(argument, oddment::explain(&pack, &case, between).unwrap());
}

#[test]
fn what_hangs_together_is_told() {
    // The same sign at two parts, and both parts hidden by one stain.
    let case = std::fs::read_to_string(data().join("../../../../priors/cases/innocent-holes.toml"));
    let page = oddment_with(&["explain", "-"], case.unwrap()).done();
    assert!(page.contains("  - One act, "), "{page}");
    assert!(page.contains("  - One honest event, "), "{page}");
    assert!(
        page.contains("were it certain, the finding would"),
        "{page}"
    );
    assert!(page.contains("decibans twice"), "{page}");
}

#[test]
fn nothing_found_yet() {
    let case = oddment(&small(&["new"])).done();
    let arguments = small(&["explain", "-", "--between", "as-made", "new-seat"]);
    let page = oddment_with(&arguments, &case).done();
    assert!(page.contains("nothing has been built up"), "{page}");
    assert!(page.contains("Before looking, and still: "), "{page}");
}

#[test]
fn certainty_is_not_written_as_a_number() {
    let case = case_with("[[visit]]", "[prior]\nas-made = 1.0\n\n[[visit]]");
    let page = oddment_with(&small(&["explain", "-"]), &case).done();
    assert!(
        page.contains("Is it original? Before looking certain; now certain"),
        "{page}"
    );
    assert!(!page.contains("inf") && !page.contains("NaN"), "{page}");
}

#[test]
fn visits_are_told_where_there_are_several() {
    let case = case_with(
        "id = \"view-day\"",
        "id = \"view-day\"\n[[visit]]\nid = \"workshop\"",
    );
    let case = case
        .replace("found =", "visit = \"view-day\"\nfound =")
        .replace("value =", "visit = \"workshop\"\nvalue =");
    let page = oddment_with(&small(&["explain", "-"]), &case).done();
    assert_eq!(page.matches("\nVisit view-day\n").count(), 1, "{page}");
    assert_eq!(page.matches("\nVisit workshop\n").count(), 1, "{page}");
    assert!(!explain(&[]).done().contains("\nVisit "));
}

#[test]
fn wrong_usage() {
    for (arguments, message) in [
        (
            &["--between", "as-made", "new-seats"][..],
            "error: unknown history `new-seats`, perhaps `new-seat`; valid: as-made, \
             new-seat, cut-down, made-up [query/unknown-history]\n",
        ),
        (
            &["--between", "as-made", "as-made"],
            "error: `as-made` cannot be set against itself; give two histories \
             [query/same-history]\n",
        ),
        (
            &["--verdict", "fake"],
            "error: invalid value 'fake' for '--verdict <VERDICT>': unknown verdict `fake`; valid: \
             original, married, converted, faked\n",
        ),
        (
            &["--between", "as-made"],
            "error: 2 values required for '--between",
        ),
    ] {
        let error = explain(arguments).failed(2);
        assert!(error.starts_with(message), "{error}");
    }
}
