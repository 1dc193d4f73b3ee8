//! `oddment study`: what it prints and writes, and what it refuses.

use crate::explain::loaded;
use crate::{Run, expect, oddment, oddment_with, scratch, small};
use oddment::study::{StudyOptions, StudyReport};

fn study(arguments: &[&str]) -> Run {
    oddment(&small(&[&["study", "stool.toml"], arguments].concat()))
}

fn report(run: Run) -> StudyReport {
    serde_json::from_str(&run.done()).unwrap()
}

#[test]
fn the_page() {
    let page = study(&["--draws", "3000", "--pairs", "500"]).done();
    expect("study.txt", &page);
    for line in page.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    // Without pairs nothing is said of where the spread comes from.
    let page = study(&["--draws", "50", "--pairs", "0"]).done();
    assert!(!page.contains("comes from"), "{page}");
}

#[test]
fn json_is_the_library_s_result() {
    let (pack, case) = loaded();
    let options = StudyOptions {
        draws: 600,
        seed: 7,
        pairs: 100,
        threads: 1,
    };
    let found = report(study(&[
        "--json", "--draws", "600", "--seed", "7", "--pairs", "100",
    ]));
    let study = oddment::study::study(&pack, &case, &options, &|_, _| true).unwrap();
    assert_eq!(found, study.report);
}

#[test]
fn the_same_seed_gives_the_same_bytes_on_any_number_of_threads() {
    let folder = scratch("study-bytes");
    let written = |name: &str, arguments: &[&str]| {
        let path = folder.join(name);
        let draws = ["--draws", "1200", "--pairs", "200", "--csv"];
        let all = [&draws[..], &[path.to_str().unwrap()], arguments].concat();
        let page = study(&all).done();
        (page, std::fs::read(path).unwrap())
    };
    let one = written("one.csv", &["--seed", "3", "--threads", "1"]);
    assert_eq!(
        one,
        written("again.csv", &["--seed", "3", "--threads", "1"])
    );
    assert_eq!(one, written("two.csv", &["--seed", "3", "--threads", "2"]));
    assert_eq!(one, written("default.csv", &["--seed", "3"]));
    assert_ne!(one.1, written("other.csv", &["--seed", "4"]).1);
}

#[test]
fn every_draw_is_written_in_full() {
    let path = scratch("study-draws").join("draws.csv");
    // What was there before goes.
    std::fs::write(&path, "x".repeat(1 << 20)).unwrap();
    let found = report(study(&[
        "--json",
        "--draws",
        "700",
        "--pairs",
        "0",
        "--csv",
        path.to_str().unwrap(),
    ]));
    let text = std::fs::read_to_string(path).unwrap();
    let mut lines = text.lines();
    assert_eq!(lines.next(), Some("original,married,converted,faked"));
    let draws: Vec<Vec<f64>> = lines
        .map(|line| line.split(',').map(|p| p.parse().unwrap()).collect())
        .collect();
    assert_eq!(draws.len(), 700);
    for (place, odds) in found.verdicts.iter().enumerate() {
        let mean = draws.iter().map(|draw| draw[place]).sum::<f64>() / 700.0;
        assert_eq!(mean, odds.spread.mean);
    }
}

#[test]
fn nothing_found_yet() {
    let case = oddment(&small(&["new"])).done();
    let page = oddment_with(&small(&["study", "-", "--draws", "500"]), &case).done();
    assert!(page.contains("How sure the answer is"), "{page}");
    assert!(!page.contains("NaN"), "{page}");
}

#[test]
fn the_least_there_may_be_drawn() {
    let found = report(study(&["--json", "--draws", "2", "--pairs", "4000"]));
    assert_eq!((found.draws, found.pairs), (2, 1));
    assert!(found.groups.is_empty());
}

#[test]
fn wrong_usage() {
    let draws = "must be a whole number from 2 to 10,000,000";
    for (arguments, message) in [
        (["--draws", "1"], format!("`1` {draws}")),
        (["--draws", "10000001"], format!("`10000001` {draws}")),
        (["--draws", "-5"], format!("`-5` {draws}")),
        (["--draws", "many"], format!("`many` {draws}")),
        (["--draws", "1e3"], format!("`1e3` {draws}")),
        (
            ["--pairs", "-1"],
            "`-1` must be a whole number from 0 to 5,000,000".into(),
        ),
        (
            ["--threads", "0"],
            "`0` must be a whole number from 1 to 256".into(),
        ),
        (
            ["--seed", "-1"],
            "`-1` must be a whole number from 0 to ".into(),
        ),
    ] {
        let error = study(&arguments).failed(2);
        assert!(error.contains(&message), "{error}");
    }
}

#[test]
fn a_place_that_cannot_be_written_is_known_before() {
    let folder = scratch("study-nowhere");
    let path = folder.join("none/draws.csv");
    let path = path.to_str().unwrap();
    assert_eq!(
        study(&["--draws", "10000000", "--csv", path]).failed(5),
        format!("error: cannot write `{path}`: there is no such file or folder [file/write]\n")
    );
    assert_eq!(
        study(&["--csv", "stool.toml"]).failed(5),
        "error: cannot write `stool.toml`: it is the case itself [file/write]\n"
    );
}

/// The first Ctrl-C keeps what is done.
#[cfg(target_os = "linux")]
#[test]
fn a_study_that_is_stopped_shows_what_is_done() {
    use std::process::{Command, Stdio};
    use std::time::Duration;
    let path = scratch("study-stopped").join("draws.csv");
    let arguments = small(&[
        "study",
        "stool.toml",
        "--json",
        "--draws",
        "10000000",
        "--csv",
        path.to_str().unwrap(),
    ]);
    let child = crate::command(&arguments)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    std::thread::sleep(Duration::from_secs(2));
    let id = child.id().to_string();
    let sent = Command::new("kill").args(["-INT", &id]).status().unwrap();
    assert!(sent.success());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    let found: StudyReport = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(found.asked, 10_000_000);
    assert!((2..10_000_000).contains(&found.draws), "{}", found.draws);
    let lines = std::fs::read_to_string(path).unwrap().lines().count() as u64;
    assert_eq!(lines, found.draws + 1);
}
