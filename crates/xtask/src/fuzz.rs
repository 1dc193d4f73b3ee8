//! `cargo xtask fuzz`: the fuzz targets under libFuzzer, by way of cargo-fuzz.

use crate::Result;
use crate::steps::Outcome;
use crate::tools::{command, metadata, root, run, works};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The targets, with the folders of the project that hold valid inputs for them.
const TARGETS: [(&str, &[&str]); 4] = [
    ("pack", &["priors", "priors/shared"]),
    ("case", &["priors/cases"]),
    ("network", &["tests/reference/networks"]),
    ("compile", &[]),
];

const FOLDER: &str = "tests/fuzz";
const VERSION: &str = "0.13";

/// Everything here is safe Rust, so the address sanitizer would only slow the search down.
const PLAIN: [&str; 2] = ["--sanitizer", "none"];

/// Builds all targets where nightly Rust and cargo-fuzz are there.
pub fn build() -> Result<Outcome> {
    if let Some(missing) = missing() {
        return Ok(Outcome::Skipped(missing));
    }
    run(cargo_fuzz(["build", "--fuzz-dir", FOLDER]).args(PLAIN))?;
    Ok(Outcome::Passed)
}

/// Runs targets one after another; all of them when none is named.
pub fn run_all(arguments: &[&str]) -> Result {
    let (minutes, wanted) = read(arguments)?;
    if !nightly() {
        return Err("nightly Rust is missing: rustup toolchain install nightly".into());
    }
    if let Some(missing) = missing() {
        println!("{missing}; installing it");
        let cargo = [
            "run",
            "nightly",
            "cargo",
            "install",
            "cargo-fuzz",
            "--version",
        ];
        run(command("rustup", cargo)
            .args([VERSION, "--root"])
            .arg(tools_folder()?))?;
    }
    let mut crashed = Vec::new();
    for (target, folders) in TARGETS {
        if !wanted.is_empty() && !wanted.contains(&target) {
            continue;
        }
        let corpus = root().join(FOLDER).join("corpus").join(target);
        std::fs::create_dir_all(&corpus)
            .map_err(|error| format!("{}: {error}", corpus.display()))?;
        let mut command = cargo_fuzz(["run", "--fuzz-dir", FOLDER]);
        command.args(PLAIN).arg(target).arg(&corpus);
        let seeds = format!("{FOLDER}/seeds/{target}");
        let old = format!("{FOLDER}/regressions/{target}");
        let known = folders.iter().map(|folder| root().join(folder));
        for folder in known.chain([root().join(seeds), root().join(old)]) {
            if folder.is_dir() {
                command.arg(folder);
            }
        }
        command.args(["--", "-rss_limit_mb=3000", "-timeout=20", "-max_len=131072"]);
        command.arg(format!("-max_total_time={}", minutes * 60));
        command.arg("-print_final_stats=1");
        if let Err(error) = run(&mut command) {
            // Without an input left behind it was not built, or was ended from outside.
            if keep(target)? == 0 {
                return Err(error);
            }
            crashed.push(target);
        }
    }
    if crashed.is_empty() {
        println!("nothing found");
        Ok(())
    } else {
        Err(format!(
            "found something in: {}; the inputs are in {FOLDER}/regressions and replayed by `cargo \
             xtask test`",
            crashed.join(", ")
        ))
    }
}

/// Minutes and targets from the words behind `fuzz`.
fn read<'a>(arguments: &[&'a str]) -> Result<(u64, Vec<&'a str>)> {
    let (mut minutes, mut wanted) = (5, Vec::new());
    let mut words = arguments.iter();
    while let Some(word) = words.next() {
        if *word == "--minutes" {
            let number = words.next().ok_or("--minutes needs a number")?;
            minutes = number
                .parse()
                .map_err(|_| format!("--minutes `{number}` is not a whole number"))?;
        } else if TARGETS.iter().any(|(target, _)| target == word) {
            wanted.push(*word);
        } else {
            let names: Vec<&str> = TARGETS.iter().map(|(target, _)| *target).collect();
            return Err(format!(
                "unknown target `{word}`; valid: {}",
                names.join(", ")
            ));
        }
    }
    Ok((minutes, wanted))
}

fn nightly() -> bool {
    works(&mut command(
        "rustup",
        ["run", "nightly", "rustc", "--version"],
    ))
}

/// What keeps the targets from being built, if anything does.
fn missing() -> Option<String> {
    if !nightly() {
        return Some("nightly Rust is not installed".into());
    }
    if !works(&mut cargo_fuzz(["--version"])) {
        return Some("cargo-fuzz is not installed".into());
    }
    None
}

/// Where a cargo-fuzz of our own goes, so that nothing outside the project changes.
fn tools_folder() -> Result<PathBuf> {
    Ok(metadata()?.target.join("tools"))
}

/// `cargo fuzz` on nightly, with our own cargo-fuzz found where there is one.
fn cargo_fuzz<'a>(arguments: impl IntoIterator<Item = &'a str>) -> Command {
    let mut command = command("rustup", ["run", "nightly", "cargo", "fuzz"]);
    command.args(arguments);
    if let Ok(tools) = tools_folder() {
        let own = tools.join("bin");
        let paths = std::env::var_os("PATH").unwrap_or_default();
        let paths = std::env::split_paths(&paths).chain([own]);
        if let Ok(paths) = std::env::join_paths(paths) {
            command.env("PATH", paths);
        }
    }
    command
}

/// Copies what libFuzzer left behind to where it is replayed for ever; how many inputs that were.
fn keep(target: &str) -> Result<usize> {
    let found = root().join(FOLDER).join("artifacts").join(target);
    let kept = root().join(FOLDER).join("regressions").join(target);
    let fault = |path: &Path, error: std::io::Error| format!("{}: {error}", path.display());
    let mut count = 0;
    for entry in std::fs::read_dir(&found).into_iter().flatten().flatten() {
        let name = entry.file_name();
        if name.to_string_lossy().starts_with("slow-unit") {
            continue;
        }
        std::fs::create_dir_all(&kept).map_err(|error| fault(&kept, error))?;
        let to = kept.join(name);
        if !to.exists() {
            std::fs::copy(entry.path(), &to).map_err(|error| fault(&to, error))?;
            println!("kept {}", to.display());
            count += 1;
        }
    }
    Ok(count)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_read() {
        assert_eq!(read(&[]), Ok((5, vec![])));
        assert_eq!(read(&["--minutes", "20", "case"]), Ok((20, vec!["case"])));
        assert!(read(&["--minutes"]).is_err());
        assert!(read(&["--minutes", "x"]).is_err());
        assert!(read(&["chair"]).is_err_and(|error| error.contains("compile")));
    }
}
