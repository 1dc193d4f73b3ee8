//! `cargo xtask reference`: posteriors against two general-purpose Python libraries.

use crate::Result;
use crate::tools::{
    capture, cargo, command, example_cases, relative, root, run, shown, stem, works,
};
use std::path::{Path, PathBuf};

/// The oldest Python that the pinned libraries run on.
const PYTHON: (u32, u32) = (3, 11);

/// The endings of the two files that make up an exported case, and of the libraries' answers.
const EXPORTED: [&str; 2] = [".network.json", ".evidence.json"];
const ANSWERS: &str = ".expected.json";

const GENERATE: &str = "tests/reference/generate.py";
const CASES: &str = "tests/reference/cases";

/// Checks (or writes) the published networks' fixtures and the exported example cases.
pub fn run_all(write: bool) -> Result {
    let python = environment()?;
    let mode = if write { "--write" } else { "--check" };
    run(&mut command(&python, [GENERATE, mode]))?;
    let folder = root().join(CASES);
    // The networks are large and made anew; only the answers are kept with the sources.
    std::fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    for path in files(&folder, &EXPORTED) {
        std::fs::remove_file(&path).map_err(|error| format!("{}: {error}", path.display()))?;
    }
    let cases = example_cases()?;
    for case in &cases {
        export(case, &folder.join(stem(case)))?;
    }
    answers_without_a_case(&folder, &cases, write)?;
    run(&mut command(&python, [GENERATE, "cases", CASES, mode]))
}

/// The Python of an environment that holds the pinned libraries; made when it is not there.
pub fn environment() -> Result<PathBuf> {
    let folder = root().join("tests/reference/.venv");
    let python = if cfg!(windows) {
        folder.join("Scripts/python.exe")
    } else {
        folder.join("bin/python")
    };
    if !works(&mut command(&python, ["--version"])) {
        let system = system_python()?;
        let made = run(command(system, ["-m", "venv", "--clear"]).arg(&folder));
        made.map_err(|error| {
            format!(
                "{error}\nPython's venv module may be missing (Debian: apt install python3-venv)"
            )
        })?;
    }
    // Which requirements were installed, so that nothing is fetched when nothing changed.
    let wanted_path = root().join("tests/reference/requirements.txt");
    let wanted = std::fs::read_to_string(&wanted_path)
        .map_err(|error| format!("{}: {error}", wanted_path.display()))?;
    let stamp = folder.join("installed.txt");
    if std::fs::read_to_string(&stamp).ok().as_ref() != Some(&wanted) {
        let pip = [
            "-m",
            "pip",
            "install",
            "--quiet",
            "--disable-pip-version-check",
            "-r",
        ];
        run(command(&python, pip).arg(&wanted_path))
            .map_err(|error| format!("{error}\nthe reference libraries could not be installed"))?;
        std::fs::write(&stamp, wanted).map_err(|error| format!("{}: {error}", stamp.display()))?;
    }
    Ok(python)
}

fn system_python() -> Result<&'static str> {
    let names = [
        "python3",
        "python3.14",
        "python3.13",
        "python3.12",
        "python3.11",
        "python",
    ];
    let ask = "import sys; print(*sys.version_info[:2])";
    let mut seen = Vec::new();
    for name in names {
        let Ok(answer) = capture(&mut command(name, ["-c", ask])) else {
            continue;
        };
        let numbers: Vec<u32> = answer
            .split_whitespace()
            .filter_map(|n| n.parse().ok())
            .collect();
        if let [major, minor] = numbers[..] {
            if (major, minor) >= PYTHON {
                return Ok(name);
            }
            seen.push(format!("{name} is {major}.{minor}"));
        }
    }
    let found = if seen.is_empty() {
        "none was found".to_owned()
    } else {
        seen.join(", ")
    };
    Err(format!(
        "Python {}.{} or later is needed for the reference libraries; {found}",
        PYTHON.0, PYTHON.1
    ))
}

/// Exports one case as `TO.network.json` and `TO.evidence.json`.
pub fn export(case: &Path, to: &Path) -> Result {
    let words = [
        "run",
        "--release",
        "-q",
        "--package",
        "oddment-cli",
        "--",
        "export",
    ];
    let mut command = cargo(words);
    command
        .arg(relative(case))
        .args(["--format", "json", "-o"])
        .arg(to);
    println!("$ {}", shown(&command));
    capture(&mut command).map(|_| ())
}

/// Files of a folder with one of these endings.
fn files(folder: &Path, endings: &[&str]) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            endings.iter().any(|ending| name.ends_with(ending))
        })
        .collect();
    paths.sort();
    paths
}

/// Removes (or, when only checking, refuses) answers to cases that are no longer there.
fn answers_without_a_case(folder: &Path, cases: &[PathBuf], write: bool) -> Result {
    for answer in files(folder, &[ANSWERS]) {
        let name = answer.file_name().unwrap_or_default().to_string_lossy();
        let case = name.trim_end_matches(ANSWERS);
        if cases.iter().any(|known| stem(known) == case) {
            continue;
        }
        if !write {
            return Err(format!(
                "{CASES}/{name} answers no example case; run `cargo xtask reference --write`"
            ));
        }
        std::fs::remove_file(&answer).map_err(|error| format!("{}: {error}", answer.display()))?;
    }
    Ok(())
}
