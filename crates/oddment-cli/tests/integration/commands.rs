//! Each command and what it prints.

use crate::{case_with, data, expect, oddment, oddment_with, small};
use oddment::assessment::FitJudgement;
use oddment::{Assessment, Verdict};
use std::path::Path;

fn assessment_of(case: &str) -> Assessment {
    let json = oddment_with(&small(&["assess", "-", "--json"]), case).done();
    serde_json::from_str(&json).unwrap()
}

fn page_of(case: &str) -> String {
    oddment_with(&small(&["assess", "-"]), case).done()
}

#[test]
fn assess() {
    let page = oddment(&small(&["assess", "stool.toml"])).done();
    expect("assess.txt", &page);
    for line in page.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn assess_from_standard_input_is_the_same() {
    let case = case_with("schema", "schema");
    assert_eq!(
        page_of(&case),
        oddment(&small(&["assess", "stool.toml"])).done()
    );
    // A byte-order mark and line ends of another system change nothing.
    let foreign = format!("\u{feff}{}", case.replace('\n', "\r\n"));
    assert_eq!(page_of(&foreign), page_of(&case));
}

#[test]
fn assess_json_reads_back() {
    let assessment = assessment_of(&case_with("schema", "schema"));
    assert_eq!(assessment.pack.id, "joint-stool");
    let counts: Vec<(Verdict, u32)> = assessment
        .verdicts
        .iter()
        .map(|v| (v.verdict, v.in_thousand))
        .collect();
    let (original, married) = (Verdict::Original, Verdict::Married);
    assert_eq!(counts[..2], [(original, 52), (married, 883)]);
    assert_eq!(counts.iter().map(|(_, count)| count).sum::<u32>(), 1000);
}

#[test]
fn a_case_in_json() {
    let case = r#"{"schema": "oddment/case/1", "piece": {"form": "joint-stool",
        "variant": "plain", "period": "charles-ii", "region": "england"}}"#;
    let page = page_of(case);
    assert!(
        page.starts_with("Joint stool\nOffered as: Joint stool; plain frieze;"),
        "{page}"
    );
    expect("assess-nothing-found.txt", &page);
}

#[test]
fn findings_that_fit_no_story_are_announced_first() {
    let case = case_with("value = 545.0", "value = 930.0");
    assert_eq!(
        assessment_of(&case).fit.judgement,
        FitJudgement::NoStoryFits
    );
    let page = page_of(&case);
    let loud = page.find("NO STORY TOLD HERE FITS WELL").unwrap();
    assert!(
        loud < page.find("Of 1,000 pieces offered").unwrap(),
        "{page}"
    );
}

#[test]
fn findings_that_do_not_hang_together_are_remarked_on() {
    let case = case_with("id = \"view-day\"", "id = \"view-day\"\npoor = 0.1");
    let case = case
        + "\n[[finding]]\nsign = \"dark-stain\"\npart = \"seat\"\nfound = \"heavy\"\nlook = 2\n";
    let visit = assessment_of(&case).visits.remove(0);
    assert!(visit.probability > 0.2, "{visit:?}");
    let page = page_of(&case);
    assert!(
        page.contains("The findings of the visit `view-day` do not hang together"),
        "{page}"
    );
    assert!(!page_of(&case_with("schema", "schema")).contains("hang together"));
}

#[test]
fn unusual_findings_are_said_to_be() {
    let case = case_with("value = 545.0", "value = 490.0");
    assert_eq!(assessment_of(&case).fit.judgement, FitJudgement::Unusual);
    let page = page_of(&case);
    assert!(
        page.contains("Unusual findings under every story told here"),
        "{page}"
    );
    assert!(!page.contains("NO STORY"), "{page}");
}

#[test]
fn several_visits_are_named() {
    let case = case_with(
        "id = \"view-day\"",
        "id = \"view-day\"\n[[visit]]\nid = \"workshop\"",
    );
    let case = case
        .replace("found =", "visit = \"view-day\"\nfound =")
        .replace("value =", "visit = \"workshop\"\nvalue =");
    let page = page_of(&case);
    assert!(page.contains("(seat, visit view-day): yes"), "{page}");
}

#[test]
fn certainty_is_not_written_as_a_number() {
    let case = case_with("[[visit]]", "[prior]\nas-made = 1.0\n\n[[visit]]");
    let page = page_of(&case);
    assert!(page.contains("original      1,000        1,000"), "{page}");
    assert!(!page.contains("inf") && !page.contains("NaN"), "{page}");
}

#[test]
fn forms() {
    let page = oddment(&["forms"]).done();
    for form in oddment::packs::forms() {
        let pack = oddment::packs::load(form).unwrap();
        assert!(
            page.contains(&format!("{}: {}", pack.id, pack.name)),
            "{page}"
        );
        let ids = pack.variants.iter().map(|v| &v.id);
        let ids = ids.chain(pack.periods.iter().map(|p| &p.id));
        for id in ids.chain(pack.regions.iter().map(|r| &r.id)) {
            assert!(page.contains(&format!("    {id} ")), "{id} in {page}");
        }
    }
}

#[test]
fn signs() {
    expect("signs.txt", &oddment(&small(&["signs"])).done());
}

#[test]
fn signs_lists_every_check_sign_and_measure_of_every_form() {
    for form in oddment::packs::forms() {
        let page = oddment(&["signs", form]).done();
        let pack = oddment::packs::load(form).unwrap();
        let ids = pack.signs.iter().map(|sign| &sign.id);
        for id in ids.chain(pack.measures.iter().map(|measure| &measure.id)) {
            let times = page.matches(&format!("      {id} = ")).count();
            assert_eq!(times, 1, "{id}");
        }
        assert_eq!(
            page.matches("Points to: ").count(),
            pack.signs.len() + pack.measures.len()
        );
    }
}

#[test]
fn new_prints_a_case_that_can_be_assessed() {
    let case = oddment(&small(&["new"])).done();
    for id in [
        "top-fits",
        "dark-stain",
        "spare-holes",
        "saw-arcs",
        "pointed-screw",
        "height",
    ] {
        assert!(case.contains(&format!("= \"{id}\"\n")), "{id}");
    }
    assert!(page_of(&case).contains("Nothing has been looked at yet"));
}

#[test]
fn new_for_every_form() {
    for form in oddment::packs::forms() {
        let case = oddment(&["new", form]).done();
        let page = oddment_with(&["assess", "-"], &case).done();
        assert!(page.contains("Nothing has been looked at yet"), "{page}");
    }
}

#[test]
fn lint_clean() {
    let pack = std::fs::read_to_string(data().join("pack.toml")).unwrap();
    let pack = pack.replace("mean = 600, sd = 60", "mean = 560, sd = 30");
    let arguments = ["lint", "-", "--library", "library.toml", "--quick"];
    assert_eq!(
        oddment_with(&arguments, pack).done(),
        "standard input is clean; 4 histories, 2 incidents, 7 signs at parts, 1 measure,\n\
         3 checks; 60 numbers by standing of source: 14 common practice and 46 working\n\
         guess\nSingle entries only; without --quick pieces are simulated as well.\n"
    );
}

#[test]
fn lint_doubtful() {
    let pack = std::fs::read_to_string(data().join("pack.toml")).unwrap();
    let pack = pack + "\n[[part]]\nid = \"shelf\"\nname = \"shelf\"\n";
    let lint = |threads: &str| {
        let run = oddment_with(
            &[
                "lint",
                "-",
                "--library",
                "library.toml",
                "--threads",
                threads,
            ],
            &pack,
        );
        assert_eq!((run.status, run.stderr.as_str()), (1, ""));
        run.stdout
    };
    expect("lint-doubtful.txt", &lint("1"));
    assert_eq!(lint("1"), lint("3"));
}

#[test]
fn lint_predicts() {
    let predict = |more: &[&'static str]| {
        let mut arguments = vec![
            "lint",
            "pack.toml",
            "--library",
            "library.toml",
            "--predict",
        ];
        arguments.extend(["--pieces", "2000"]);
        arguments.extend(more);
        oddment(&arguments).done()
    };
    let page = predict(&["--variant", "carved", "--period", "charles-ii"]);
    expect("lint-predict.txt", &page);
    assert!(page.lines().all(|line| line.chars().count() <= 100));
    let all: serde_json::Value =
        serde_json::from_str(&predict(&["--json", "--seed", "7"])).unwrap();
    assert_eq!(all["schema"], "oddment/prediction/1");
    assert_eq!(
        (&all["variant"], &all["seed"]),
        (&serde_json::Value::Null, &7.into())
    );
    // Half plain and half carved.
    assert!((all["verdicts"][0]["share"].as_f64().unwrap() - 0.4).abs() < 1e-12);
}

#[test]
fn lint_predicts_only_what_there_is() {
    let lint = |more: &[&'static str], status| {
        let mut arguments = vec!["lint", "pack.toml", "--library", "library.toml"];
        arguments.extend(more);
        oddment(&arguments).failed(status)
    };
    let error = lint(&["--predict", "--variant", "carven"], 2);
    assert!(
        error.contains("unknown variant `carven`, perhaps `carved`; valid: plain, carved"),
        "{error}"
    );
    let error = lint(&["--predict", "--pieces", "0"], 2);
    assert!(
        error.contains("`0` must be a whole number from 1 to 1,000,000"),
        "{error}"
    );
    for arguments in [["--json", "--quick"], ["--quick", "--predict"]] {
        lint(&arguments, 2);
    }
}

#[test]
fn embedded_packs_load() {
    for form in oddment::packs::forms() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let file = root.join(oddment::packs::text(form).unwrap().name);
        let run = oddment(&["lint", file.to_str().unwrap(), "--quick"]);
        assert!(run.status <= 1, "{}", run.stderr);
    }
}

#[test]
fn schemas() {
    for (document, title) in [
        ("pack", "PackFile"),
        ("library", "LibraryFile"),
        ("case", "CaseFile"),
        ("assessment", "Assessment"),
        ("decision", "Decision"),
        ("opinion", "OpinionFile"),
        ("argument", "Argument"),
        ("prediction", "Prediction"),
        ("leaning", "Leaning"),
        ("study", "StudyReport"),
        ("outlook", "Outlook"),
        ("form", "FormDescription"),
        ("practice", "Practice"),
    ] {
        let text = oddment(&["schema", document]).done();
        let schema: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(schema["title"], title);
    }
}

#[test]
fn help_and_version() {
    let help = oddment(&["--help"]).done();
    assert!(help.contains("Exit status:"), "{help}");
    let version = oddment(&["--version"]).done();
    assert_eq!(version, format!("oddment {}\n", env!("CARGO_PKG_VERSION")));
}

/// The example cases that come with the packs, by name.
fn examples() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../priors/cases");
    let entries = std::fs::read_dir(folder).into_iter().flatten();
    let paths = entries.map(|entry| entry.unwrap().path());
    let toml = paths.filter(|path| path.extension().is_some_and(|ending| ending == "toml"));
    let mut names: Vec<String> = toml.map(|path| path.to_str().unwrap().to_owned()).collect();
    names.sort();
    names
}

/// The longer pages of the example cases.
#[test]
fn example_cases_at_length() {
    let examples = examples();
    assert!(examples.len() > 3);
    for (command, more, every) in [
        ("explain", &[][..], 1),
        ("lean", &[], 1),
        ("study", &["--draws", "300", "--pairs", "20"], 2),
        ("next", &["--minutes", "15", "--access", "open"], 2),
    ] {
        for case in examples.iter().step_by(every) {
            let page = oddment(&[&[command, case.as_str()], more].concat()).done();
            assert!(!page.contains("NaN") && !page.contains("inf "), "{page}");
            for line in page.lines() {
                assert!(line.chars().count() <= 80, "{case}: {line}");
            }
        }
    }
}

#[test]
fn example_cases() {
    for case in examples() {
        let case = case.as_str();
        let page = oddment(&["assess", case]).done();
        for line in page.lines() {
            assert!(line.chars().count() <= 80, "{case}: {line}");
        }
        for verdict in oddment::pack::VERDICTS {
            assert!(page.contains(&format!("\n  {} ", verdict.id())), "{page}");
        }
    }
}
