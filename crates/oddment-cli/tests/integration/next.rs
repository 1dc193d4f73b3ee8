//! `oddment next`: what it prints, and what it refuses.

use crate::explain::loaded;
use crate::{Run, expect, oddment, oddment_with, small};
use oddment::outlook::Outlook;
use oddment::pack::{Access, Leave};
use oddment::{NextOptions, look_next};

fn next(arguments: &[&str]) -> Run {
    oddment(&small(&[&["next", "stool.toml"], arguments].concat()))
}

fn outlook(arguments: &[&str]) -> Outlook {
    let json = next(&[&["--json"], arguments].concat()).done();
    serde_json::from_str(&json).unwrap()
}

#[test]
fn the_page() {
    expect("next.txt", &next(&[]).done());
    let page = next(&["--minutes", "7", "--access", "turn-over"]).done();
    expect("next-plan.txt", &page);
    for line in page.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn json_is_the_library_s_result() {
    let (pack, case) = loaded();
    let options = NextOptions {
        minutes: Some(6.5),
        access: Some(Access::TurnOver),
        without_leave: true,
    };
    let found = outlook(&[
        "--minutes",
        "6.5",
        "--access",
        "turn-over",
        "--without-leave",
    ]);
    assert_eq!(found, look_next(&pack, &case, &options).unwrap());
    assert!(
        found
            .checks
            .iter()
            .all(|check| !check.allowed || check.leave == Leave::NotNeeded)
    );
}

#[test]
fn what_lies_beyond_is_named_and_not_planned() {
    let page = next(&["--access", "walk-by", "--minutes", "60"]).done();
    assert!(page.contains("Beyond what is allowed: "), "{page}");
    assert!(page.contains("No check that is left is allowed."), "{page}");
    assert!(
        page.contains("Stop: nothing left that is allowed"),
        "{page}"
    );
    assert!(page.contains("can be done in that time"), "{page}");
}

#[test]
fn everything_looked_at() {
    let all = std::fs::read_to_string(crate::data().join("stool.toml"))
        .unwrap()
        .replace("\"no-access\"", "\"none\"")
        + "\n[[finding]]\nsign = \"pointed-screw\"\nfound = \"no\"\n\
           [[finding]]\nsign = \"saw-arcs\"\npart = \"frame\"\nfound = \"no\"\n";
    let page = oddment_with(&small(&["next", "-", "--minutes", "5"]), &all).done();
    assert!(
        page.contains("Everything on the list has been looked at."),
        "{page}"
    );
}

#[test]
fn nothing_found_yet() {
    let case = oddment(&small(&["new"])).done();
    let page = oddment_with(&small(&["next", "-", "--minutes", "15"]), &case).done();
    assert!(page.contains("\nA plan for 15 min\n"), "{page}");
    assert!(page.contains("- if `"), "{page}");
    assert!(!page.contains("NaN"), "{page}");
}

#[test]
fn wrong_usage() {
    let minutes = "must be minutes above 0, at most 10,080 (a week)";
    for (arguments, message) in [
        (["--minutes", "0"], format!("`0` {minutes}")),
        (["--minutes", "-5"], format!("`-5` {minutes}")),
        (["--minutes", "nan"], format!("`nan` {minutes}")),
        (["--minutes", "inf"], format!("`inf` {minutes}")),
        (["--minutes", "long"], format!("`long` {minutes}")),
        (
            ["--access", "inside"],
            "unknown access `inside`; valid: walk-by, open, turn-over, dismantle, laboratory, \
             papers"
                .into(),
        ),
    ] {
        let error = next(&arguments).failed(2);
        assert!(error.contains(&message), "{error}");
    }
}
