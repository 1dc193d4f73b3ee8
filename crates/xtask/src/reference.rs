//! `cargo xtask reference`: posteriors against two general-purpose Python libraries.

use crate::Result;
use crate::tools::{
    capture, cargo, command, example_cases, metadata, relative, root, run, shown, stem, works,
};
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

/// The oldest Python that the pinned libraries run on.
const PYTHON: (u32, u32) = (3, 11);

/// The endings of the two files that make up an exported case.
const EXPORTED: [&str; 2] = ["network.json", "evidence.json"];

const GENERATE: &str = "tests/reference/generate.py";
const CASES: &str = "tests/reference/cases";

/// Checks (or writes) the published networks' fixtures and the exported example cases.
pub fn run_all(write: bool) -> Result {
    let python = environment()?;
    let mode = if write { "--write" } else { "--check" };
    run(&mut command(&python, [GENERATE, mode]))?;
    let committed = root().join(CASES);
    if write {
        clear_exports(&committed)?;
        export_all(&committed)?;
    } else {
        let fresh = metadata()?.target.join("reference-cases");
        clear_exports(&fresh)?;
        export_all(&fresh)?;
        same_exports(&committed, &fresh)?;
    }
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

fn export_all(folder: &Path) -> Result {
    for case in example_cases()? {
        export(&case, &folder.join(stem(&case)))?;
    }
    Ok(())
}

/// Files of a folder that an export makes; what answers them stays.
fn exports(folder: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            EXPORTED.iter().any(|ending| name.ends_with(ending))
        })
        .collect();
    paths.sort();
    paths
}

fn clear_exports(folder: &Path) -> Result {
    let fault = |error: std::io::Error| format!("{}: {error}", folder.display());
    std::fs::create_dir_all(folder).map_err(fault)?;
    for path in exports(folder) {
        std::fs::remove_file(path).map_err(fault)?;
    }
    Ok(())
}

/// Fails where committed exports are not what the binary writes today.
fn same_exports(committed: &Path, fresh: &Path) -> Result {
    let names = |folder: &Path| -> Vec<_> {
        let names = exports(folder).into_iter();
        names
            .filter_map(|path| path.file_name().map(OsStr::to_owned))
            .collect()
    };
    let remedy = "run `cargo xtask reference --write` and look at the difference";
    let (old, new) = (names(committed), names(fresh));
    let missing = new.iter().filter(|name| !old.contains(name));
    let stray = old.iter().filter(|name| !new.contains(name));
    let odd: Vec<_> = missing
        .chain(stray)
        .map(|name| name.to_string_lossy())
        .collect();
    if !odd.is_empty() {
        let odd = odd.join(", ");
        return Err(format!(
            "{CASES} and the examples differ in {odd}; {remedy}"
        ));
    }
    for name in new {
        let read = |folder: &Path| std::fs::read(folder.join(&name)).unwrap_or_default();
        if read(committed) != read(fresh) {
            return Err(format!(
                "{CASES}/{} is stale; {remedy}",
                name.to_string_lossy()
            ));
        }
    }
    println!("the exported cases are as committed");
    Ok(())
}
