//! The packed package for JavaScript, tested where its users have it: installed from the tarball, in
//! Node and in a browser.

use crate::npm::{self, folder, node, npm};
use crate::steps::Outcome;
use crate::tools::{capture, cargo, fault, metadata, root, run, target};
use crate::{Result, wasm};
use serde_json::Value;
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What the types are compiled with: all that is strict, and nothing skipped.
const STRICT: [&str; 10] = [
    "--noEmit",
    "--strict",
    "--exactOptionalPropertyTypes",
    "--noUncheckedIndexedAccess",
    "--module",
    "nodenext",
    "--target",
    "es2022",
    "--lib",
    "es2022,dom",
];

/// Builds, packs, installs and tests; left out where Node, the target or what npm fetches cannot be
/// had, and the part in the browser where there is none.
///
/// # Errors
/// What fails.
pub fn test() -> Result<Outcome> {
    let ready = npm::check_node()
        .and_then(|()| target(wasm::TARGET))
        .and_then(|()| npm::install(&folder()));
    if let Err(missing) = ready {
        return Ok(Outcome::Skipped(missing));
    }
    let place = installed(&wasm::build()?.tarball)?;
    let answers = native_answers()?;
    let tools = folder().join("package.json");
    let in_place = |arguments: &[&str]| -> Command {
        let mut command = node(&place, arguments.iter().copied());
        command
            .env("ODDMENT_CONFORMANCE", &answers)
            .env("ODDMENT_TOOLS", &tools);
        command
    };
    let root = root();
    run(in_place(&["prepare.mjs"])
        .arg(root.join("docs/javascript.md"))
        .arg(root.join("priors/cases/pieced-out-oval.toml")))?;
    let compiler = folder().join("node_modules/typescript/bin/tsc");
    run(in_place(&[]).arg(compiler).args(STRICT).arg("types.ts"))?;
    run(&mut in_place(&["--test", "node.test.mjs", "base.test.mjs"]))?;
    let shown = capture(&mut in_place(&[
        "examples/node/main.mjs",
        "examples/node/table.toml",
    ]))?;
    if !shown.contains("original ") {
        return Err(format!("the example for Node prints `{shown}`"));
    }
    match npm::chromium() {
        Ok(chromium) => {
            run(in_place(&["--test", "browser.test.mjs"]).env("CHROMIUM", chromium))?;
            Ok(Outcome::Passed)
        }
        Err(missing) => Ok(Outcome::Skipped(format!(
            "the part in a browser: {missing}"
        ))),
    }
}

/// Times the package in Node and Chromium beside the library, in one run.
///
/// # Errors
/// What is missing or fails.
pub fn bench() -> Result {
    let place = installed(&wasm::build()?.tarball)?;
    let case = root().join("priors/cases/pieced-out-oval.toml");
    let chromium = npm::chromium()?;
    let read = |command: &mut Command| -> Result<Value> {
        let told = capture(command)?;
        serde_json::from_str(&told).map_err(|error| format!("timings: {error}"))
    };
    let script = |kind: &str| {
        let mut command = node(&place, ["bench.mjs"]);
        command.arg(&case).arg(kind);
        command.env("ODDMENT_TOOLS", folder().join("package.json"));
        command.env("CHROMIUM", &chromium);
        command
    };
    let words = ["run", "--release", "--quiet", "--package", "oddment-wasm"];
    let mut native = cargo(words);
    native.args(["--example", "timings", "--"]).arg(&case);
    let native = read(&mut native)?;
    let others = [
        ("Node", read(&mut script("simd"))?),
        ("Node, no SIMD", read(&mut script("base"))?),
        ("Chromium", read(&mut script("chromium"))?),
    ];
    println!("\nmilliseconds, the least of 7 runs, and how many times native that is\n");
    print!("{:<14}{:>10}", "", "native");
    others.iter().for_each(|(name, _)| print!("{name:>18}"));
    println!();
    for (question, time) in native.as_object().into_iter().flatten() {
        let native = time.as_f64().unwrap_or(f64::NAN);
        print!("{question:<14}{native:>10.1}");
        for (_, times) in &others {
            let time = times[question].as_f64().unwrap_or(f64::NAN);
            print!("{time:>11.1}{:>6.2}x", time / native);
        }
        println!();
    }
    Ok(())
}

/// A folder of its own in which the package is installed as a user would, with the tests beside it.
pub fn installed(tarball: &Path) -> Result<PathBuf> {
    let place = metadata()?.target.join("npm/installed");
    if place.exists() {
        fs::remove_dir_all(&place).map_err(fault(&place))?;
    }
    fs::create_dir_all(&place).map_err(fault(&place))?;
    let manifest = place.join("package.json");
    let own = "{ \"name\": \"somebodys-own\", \"private\": true, \"type\": \"module\" }\n";
    fs::write(&manifest, own).map_err(fault(&manifest))?;
    copy_all(&folder().join("tests"), &place)?;
    copy_all(
        &root().join("tests/integration/pack_bad_input"),
        &place.join("small"),
    )?;
    let words = [
        "install",
        "--offline",
        "--no-save",
        "--no-audit",
        "--no-fund",
    ];
    run(npm(&place, words).arg(tarball))?;
    Ok(place)
}

/// Copies the scripts and texts of a folder.
fn copy_all(from: &Path, to: &Path) -> Result {
    fs::create_dir_all(to).map_err(fault(to))?;
    for entry in fs::read_dir(from).map_err(fault(from))?.flatten() {
        let path = entry.path();
        let ending = path.extension().and_then(OsStr::to_str);
        if matches!(ending, Some("mjs" | "ts" | "toml")) {
            let copy = to.join(entry.file_name());
            fs::copy(&path, &copy).map_err(fault(&path))?;
        }
    }
    Ok(())
}

/// The questions of the corpus with the answers of the library itself.
pub fn native_answers() -> Result<PathBuf> {
    let path = metadata()?.target.join("npm/conformance.json");
    let words = [
        "run",
        "--release",
        "--quiet",
        "--package",
        "oddment-wasm",
        "--example",
        "conformance",
    ];
    fs::write(&path, capture(&mut cargo(words))?).map_err(fault(&path))?;
    Ok(path)
}
