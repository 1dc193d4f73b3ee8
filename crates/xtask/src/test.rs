//! `cargo xtask test`: everything that must hold.

use crate::steps::{Outcome, Steps};
use crate::tools::{bench, capture, cargo, component, example_cases, metadata, relative, run};
use crate::{Result, fuzz, hygiene, pages, site, wasm_test};
use std::time::Instant;

/// The fuzz bodies are a workspace of their own, so that its nightly needs stay out of ours.
const FUZZ_MANIFEST: [&str; 2] = ["--manifest-path", "tests/fuzz/Cargo.toml"];

/// Runs the steps in order and stops at the first failure; with `quick`, without the slow ones.
pub fn run_all(quick: bool) -> Result {
    let metadata = metadata()?;
    let target_dir = metadata.target.to_string_lossy();
    // The bodies of the fuzz targets build on stable Rust, beside everything else.
    let on_stable = ["--no-default-features", "--target-dir", &target_dir];
    let mut steps = Steps::new();
    steps.step("files", || {
        hygiene::check()?;
        Ok(Outcome::Passed)
    })?;
    steps.step("format", || {
        if let Err(missing) = component("rustfmt", "fmt") {
            return Ok(Outcome::Skipped(missing));
        }
        run(&mut cargo(["fmt", "--all", "--check"]))?;
        run(cargo(["fmt", "--check"]).args(FUZZ_MANIFEST))?;
        Ok(Outcome::Passed)
    })?;
    steps.step("lints", || {
        if let Err(missing) = component("clippy", "clippy") {
            return Ok(Outcome::Skipped(missing));
        }
        let strict = ["--", "-D", "warnings"];
        run(cargo(["clippy", "--workspace", "--all-targets"]).args(strict))?;
        let fuzz = ["clippy", "--all-targets"].iter().chain(&FUZZ_MANIFEST);
        run(cargo(fuzz).args(on_stable).args(strict))?;
        Ok(Outcome::Passed)
    })?;
    steps.step("tests", || {
        run(&mut cargo(["test", "--workspace"]))?;
        Ok(Outcome::Passed)
    })?;
    steps.step("pages of the forms", || {
        pages::run_all(false)?;
        Ok(Outcome::Passed)
    })?;
    steps.step("documentation", || {
        let mut flags = std::env::var("RUSTDOCFLAGS").unwrap_or_default();
        flags.push_str(" -D warnings");
        run(cargo(["doc", "--workspace", "--no-deps"]).env("RUSTDOCFLAGS", flags.trim()))?;
        Ok(Outcome::Passed)
    })?;
    if quick {
        println!("\n--quick: the slow steps are left out");
        steps.finish();
        return Ok(());
    }
    steps.step("hostile input", || {
        run(cargo(["test"]).args(FUZZ_MANIFEST).args(on_stable))?;
        Ok(Outcome::Passed)
    })?;
    steps.step("fuzz targets", fuzz::build)?;
    steps.step("example cases", || {
        for case in example_cases()? {
            let start = Instant::now();
            let case = relative(&case);
            let words = ["run", "--release", "-q", "--", "assess", &case];
            let answer = capture(&mut cargo(words))?;
            if answer.trim().is_empty() {
                return Err(format!("`oddment assess {case}` prints nothing"));
            }
            println!(
                "oddment assess {case}: {:.1} s",
                start.elapsed().as_secs_f64()
            );
        }
        Ok(Outcome::Passed)
    })?;
    steps.step("benchmarks, once each", || {
        match bench(&metadata, &["--test"]) {
            Some(mut command) => {
                run(&mut command)?;
                Ok(Outcome::Passed)
            }
            None => Ok(Outcome::Skipped("no crate has benchmarks".into())),
        }
    })?;
    steps.step("package for JavaScript", wasm_test::test)?;
    steps.step("page", site::test)?;
    steps.finish();
    Ok(())
}
