//! Every kind of error: its status, its message, its place.

use crate::{Run, case_with, data, oddment, oddment_with, scratch, small};
use std::fmt::Write;

fn assess(case: &str) -> Run {
    oddment_with(&small(&["assess", "-"]), case)
}

fn lint(pack: &str) -> Run {
    oddment_with(&["lint", "-", "--library", "library.toml"], pack)
}

fn pack_with(old: &str, new: &str) -> String {
    let pack = std::fs::read_to_string(data().join("pack.toml")).unwrap();
    assert!(pack.contains(old), "{old}");
    pack.replacen(old, new, 1)
}

#[test]
fn case_with_an_unknown_sign() {
    assert_eq!(
        assess(&case_with("\"spare-holes\"", "\"spare-hole\"")).failed(3),
        "error: unknown sign `spare-hole`, perhaps `spare-holes`; valid: dark-stain, \
         pointed-screw, saw-arcs, spare-holes, top-fits\n  \
         sign = \"spare-hole\"\n  ^\n  standard input:28:1 [case/unknown-id]\n"
    );
}

#[test]
fn all_problems_of_a_case_are_listed() {
    let case = case_with("value = 545.0", "value = 54.5").replace("\"carved\"", "\"carven\"");
    let case = case.replacen("found = \"yes\"", "found = \"maybe\"", 1);
    assert_eq!(
        assess(&case).failed(3),
        "error: unknown variant `carven`, perhaps `carved`; valid: carved, plain\n  \
         variant = \"carven\"\n  ^\n  standard input:5:1 [case/unknown-id]\n\
         error: unknown outcome `maybe`; valid: no, no-access, not-looked, yes\n  \
         found = \"maybe\"\n  ^\n  standard input:29:1 [case/unknown-id]\n\
         error: 54.5 mm is outside 200 to 1000, what `height` can be; a slip of the pen, or \
         another unit?\n  \
         value = 54.5\n  ^\n  standard input:39:1 [case/implausible]\n\
         3 problems\n"
    );
}

#[test]
fn case_that_is_not_toml() {
    assert_eq!(
        assess(&case_with("found = \"no\"", "found = no")).failed(3),
        "error: `no` must stand in quotes: \"no\"\n  \
         found = no\n          ^\n  standard input:15:9 [case/syntax]\n"
    );
}

#[test]
fn an_empty_case() {
    assert_eq!(
        assess("").failed(3),
        "error: missing field `schema`\n  standard input:1:1 [case/syntax]\n"
    );
}

#[test]
fn case_with_a_misspelt_key() {
    let error = assess(&case_with("region =", "regoin =")).failed(3);
    assert!(error.contains("perhaps `region`"), "{error}");
    assert!(error.contains("\n  regoin = \"england\"\n  ^\n"), "{error}");
}

#[test]
fn case_on_one_long_line() {
    let case = format!(
        r#"{{"schema": "oddment/case/1", "piece": {{"form": "joint-stool", "note": "{}", "variant": "carven", "period": "charles-ii", "region": "england"}}}}"#,
        "so on ".repeat(60)
    );
    assert_eq!(
        assess(&case).failed(3),
        "error: unknown variant `carven`, perhaps `carved`; valid: carved, plain\n  \
         ... on so on so on \", \"variant\": \"carven\", \"period\": \"charles-ii\", \"region\": \"e...\n  \
         \u{20}                     ^\n  standard input:1:435 [case/unknown-id]\n"
    );
}

#[test]
fn case_of_another_form_than_the_pack() {
    let error = assess(&case_with("\"joint-stool\"", "\"chest\"")).failed(3);
    assert_eq!(
        error,
        "error: form `chest` needs its own pack, this one is `joint-stool`\n  \
         form = \"chest\"\n  ^\n  standard input:4:1 [case/form]\n"
    );
}

/// All forms, as errors list them.
fn forms() -> String {
    let forms: Vec<&str> = oddment::packs::forms().collect();
    forms.join(", ")
}

#[test]
fn case_of_an_unknown_form() {
    let case = case_with("\"joint-stool\"", "\"drop-leaf-tabel\"");
    assert_eq!(
        oddment_with(&["assess", "-"], &case).failed(3),
        format!(
            "error: unknown form `drop-leaf-tabel`, perhaps `drop-leaf-table`; valid: {}\n  \
             form = \"drop-leaf-tabel\"\n  ^\n  standard input:4:1 [pack/unknown-form]\n",
            forms()
        )
    );
}

#[test]
fn unknown_form_as_an_argument() {
    for command in ["signs", "new"] {
        assert_eq!(
            oddment(&[command, "drop-leaf"]).failed(3),
            format!(
                "error: unknown form `drop-leaf`; valid: {} [pack/unknown-form]\n",
                forms()
            )
        );
    }
}

#[test]
fn pack_with_a_problem() {
    let pack = pack_with("married = 0.8, converted", "married = 1.8, converted");
    assert_eq!(
        lint(&pack).failed(3),
        "error: 1.8 must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = \
         true`\n  shows = { original = 0.03, married = 1.8, converted = 0.4, faked = 0.3 }\n  \
         \u{20}                          ^\n  standard input:139:28 [pack/number]\n"
    );
}

#[test]
fn pack_that_is_not_toml() {
    assert_eq!(
        lint("[pack\n").failed(3),
        "error: unclosed table, expected `]`\n  [pack\n       ^\n  standard input:1:6 [pack/syntax]\n"
    );
}

#[test]
fn library_with_a_problem_is_named() {
    let folder = scratch("library");
    let path = folder.join("broken.toml");
    let library = std::fs::read_to_string(data().join("library.toml")).unwrap();
    std::fs::write(&path, library.replace("version = \"2\"", "vresion = \"2\"")).unwrap();
    let path = path.to_str().unwrap();
    let error = oddment(&["lint", "pack.toml", "--library", path]).failed(3);
    assert!(error.contains("perhaps `version`"), "{error}");
    assert!(
        error.contains(&format!("\n  {path}:3:1 [library/syntax]\n")),
        "{error}"
    );
}

#[test]
fn impossible_findings() {
    // The pack says that no stool as made was ever fixed afresh; a bill says that this one was.
    let pack = pack_with(
        "from = \"refixed\"",
        "from = \"refixed\"\nrate = { original = { mean = 0.0, structural = true }, any = 0.3 }",
    );
    let folder = scratch("impossible");
    std::fs::write(folder.join("pack.toml"), pack).unwrap();
    let pack = folder.join("pack.toml");
    let case = case_with(
        "[[visit]]",
        "[prior]\nas-made = 1.0\n\n[known]\nrefixed = true\n\n[[visit]]",
    );
    let arguments = [
        "assess",
        "-",
        "--pack",
        pack.to_str().unwrap(),
        "--library",
        "library.toml",
    ];
    assert_eq!(
        oddment_with(&arguments, &case).failed(4),
        "error: these findings cannot be true together, whatever happened to the piece; look \
         again, or say how sure you are [case/impossible]\n  `refixed` known to have happened\n"
    );
}

#[test]
fn files_that_are_not_there() {
    for arguments in [
        vec!["assess", "none.toml"],
        vec!["assess", "stool.toml", "--pack", "none.toml"],
        vec![
            "assess",
            "stool.toml",
            "--pack",
            "pack.toml",
            "--library",
            "none.toml",
        ],
        vec!["lint", "none.toml"],
        vec!["signs", "--pack", "none.toml"],
    ] {
        assert_eq!(
            oddment(&arguments).failed(5),
            "error: cannot read `none.toml`: there is no such file or folder [file/read]\n"
        );
    }
}

#[cfg(unix)]
#[test]
fn a_folder_is_no_file() {
    let error = oddment(&["lint", "."]).failed(5);
    assert_eq!(
        error,
        "error: cannot read `.`: it is a folder [file/read]\n"
    );
}

#[test]
fn a_place_that_cannot_be_written() {
    let arguments = small(&[
        "export",
        "stool.toml",
        "--format",
        "json",
        "-o",
        "none/stool",
    ]);
    assert_eq!(
        oddment(&arguments).failed(5),
        "error: cannot write `none/stool.network.json`: there is no such file or folder \
         [file/write]\n"
    );
}

#[test]
fn bytes_that_are_no_text() {
    assert_eq!(
        oddment_with(&["assess", "-"], b"schema = 1\ntitle = \"\xff\"").failed(3),
        "error: `standard input` is not UTF-8 text at line 2; save it as UTF-8 [file/text]\n"
    );
}

#[test]
fn too_long_a_text() {
    let error = oddment_with(&["assess", "-"], " ".repeat(5 << 20)).failed(3);
    assert_eq!(
        error,
        "error: `standard input` has more than 4194304 bytes, the most allowed [file/text]\n"
    );
}

#[cfg(target_os = "linux")]
#[test]
fn an_endless_file_ends() {
    let error = oddment(&["lint", "/dev/zero"]).failed(3);
    assert!(error.contains("more than 4194304 bytes"), "{error}");
}

/// Sixty incidents, each pair of them mixed by some sign: no order of elimination is small.
#[test]
fn a_model_that_is_too_large() {
    let mut pack = std::fs::read_to_string(data().join("pack.toml")).unwrap();
    for incident in 0..60 {
        let _ = write!(
            pack,
            "\n[[incident]]\nid = \"event-{incident}\"\nname = \"event\"\neffect = \"some\"\n\
             rate = {{ any = 0.3 }}\n"
        );
    }
    for sign in 0..240_usize {
        let causes: Vec<String> = (0..6)
            .map(|cause| format!("event-{} = 0.4", (sign * (2 * cause + 1) + 7 * cause) % 60))
            .collect::<std::collections::BTreeSet<_>>()
            .into_iter()
            .collect();
        let _ = write!(
            pack,
            "\n[[sign]]\nid = \"sign-{sign}\"\nparts = [\"seat\"]\nname = \"sign\"\n\
             check = \"turn-over\"\nshows = {{ any = 0.2 }}\ncaused_by = {{ {} }}\n\
             reliability = {{ found = 0.9, cleared = 0.9 }}\npoints_to = \"it\"\ninnocent = \"it\"\n",
            causes.join(", ")
        );
    }
    let folder = scratch("too-large");
    std::fs::write(folder.join("pack.toml"), pack).unwrap();
    let pack = folder.join("pack.toml");
    let pack = pack.to_str().unwrap();
    let error = oddment(&[
        "assess",
        "stool.toml",
        "--pack",
        pack,
        "--library",
        "library.toml",
    ])
    .failed(6);
    assert!(
        error.starts_with("error: the model cannot be compiled: too large"),
        "{error}"
    );
    assert!(error.ends_with("[engine/circuit]\n"), "{error}");
}

#[test]
fn wrong_usage() {
    for arguments in [
        vec![],
        vec!["asess", "stool.toml"],
        vec!["assess"],
        vec!["signs"],
        vec!["signs", "drop-leaf-table", "--pack", "pack.toml"],
        vec!["export", "stool.toml", "--format", "xml"],
        vec!["schema", "table"],
        vec!["assess", "stool.toml", "--colour"],
    ] {
        let run = oddment(&arguments);
        assert_eq!((run.status, run.stdout.as_str()), (2, ""), "{arguments:?}");
        assert!(run.stderr.contains("--help"), "{}", run.stderr);
    }
}
