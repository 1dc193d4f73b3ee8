//! `cargo xtask demo`: the page in `web-demo`, built over the package for JavaScript, served and tested.

use crate::content::Site;
use crate::npm::{self, node, npm};
use crate::serve::{Server, listen};
use crate::steps::Outcome;
use crate::tools::{cargo, fault, metadata, relative, root, run, target};
use crate::unpack::unpack;
use crate::{Result, wasm};
use std::fs;
use std::path::{Path, PathBuf};

/// Where the package lies that `web-demo/package.json` names, wherever cargo builds.
const PACKAGE: &str = "target/npm/package";

/// Where the tests leave pictures of the page.
const PICTURES: &str = "target/demo-screenshots";

/// The page's folder.
fn folder() -> PathBuf {
    root().join("web-demo")
}

/// The built page.
fn built() -> PathBuf {
    folder().join("dist")
}

/// Builds the package, and the page over it.
///
/// # Errors
/// What is missing or fails.
pub fn build() -> Result {
    let packed = wasm::build()?;
    unpack(&packed.tarball, &root().join(PACKAGE))?;
    let folder = folder();
    npm::install(&folder)?;
    run(&mut npm(&folder, ["run", "build"]))
}

/// Builds the page and serves it on this machine, until it is stopped.
///
/// # Errors
/// What is missing or fails, and words that are not understood.
pub fn demo(arguments: &[&str]) -> Result {
    let options = read(arguments)?;
    // A taken port is better known before a long build.
    let listener = listen(options.port)?;
    if options.build {
        build()?;
    } else if !built().is_dir() {
        return Err(format!(
            "{} is not there; without --no-build it is built",
            relative(&built())
        ));
    }
    let server = serve(listener)?;
    println!("\nthe page is at {}/ (Ctrl+C stops it)", server.origin());
    server.wait()
}

fn serve(listener: std::net::TcpListener) -> Result<Server> {
    let built = built();
    let site = Site::read(&built)?;
    println!("{} files of {} read", site.len(), relative(&built));
    Server::start(listener, site)
}

/// What the words behind `demo` ask for.
#[derive(Debug, PartialEq, Eq)]
struct Options {
    port: Option<u16>,
    build: bool,
}

fn read(arguments: &[&str]) -> Result<Options> {
    let mut options = Options {
        port: None,
        build: true,
    };
    let mut words = arguments.iter();
    while let Some(word) = words.next() {
        match *word {
            "--no-build" => options.build = false,
            "--port" => {
                let number = words
                    .next()
                    .ok_or("--port needs a number from 0 (any free one) to 65535")?;
                let port = number.parse().map_err(|_| {
                    format!("--port `{number}` is no number from 0 (any free one) to 65535")
                })?;
                options.port = Some(port);
            }
            other => {
                return Err(format!(
                    "unknown option `{other}`; valid: --port N, --no-build, or --test alone"
                ));
            }
        }
    }
    Ok(options)
}

/// Builds the page, checks and tests it, and uses it in a browser; left out where Node or the target
/// cannot be had, and the part in the browser where there is none.
///
/// # Errors
/// What fails.
pub fn test() -> Result<Outcome> {
    if let Err(missing) = npm::check_node().and_then(|()| target(wasm::TARGET)) {
        return Ok(Outcome::Skipped(missing));
    }
    build()?;
    let folder = folder();
    run(&mut npm(&folder, ["run", "check"]))?;
    run(&mut npm(&folder, ["test"]))?;
    match npm::chromium() {
        Ok(chromium) => {
            test_in_browser(&folder, &chromium)?;
            Ok(Outcome::Passed)
        }
        Err(missing) => Ok(Outcome::Skipped(format!(
            "the page in a browser: {missing}"
        ))),
    }
}

/// Uses the page as it is served, beside the command that must say the same.
fn test_in_browser(folder: &Path, chromium: &Path) -> Result {
    run(&mut cargo([
        "build",
        "--release",
        "--package",
        "oddment-cli",
    ]))?;
    let command = format!("release/oddment{}", std::env::consts::EXE_SUFFIX);
    let pictures = root().join(PICTURES);
    if pictures.exists() {
        fs::remove_dir_all(&pictures).map_err(fault(&pictures))?;
    }
    fs::create_dir_all(&pictures).map_err(fault(&pictures))?;
    let server = serve(listen(Some(0))?)?;
    run(node(folder, ["--test"])
        .args(page_tests(folder)?)
        .env("ORIGIN", server.origin())
        .env("CHROMIUM", chromium)
        .env("ODDMENT", metadata()?.target.join(command))
        .env("ARTEFACTS", pictures))
}

/// The tests of the page, in the order of their names.
fn page_tests(folder: &Path) -> Result<Vec<String>> {
    const PLACE: &str = "tests/page";
    let place = folder.join(PLACE);
    let mut tests: Vec<String> = fs::read_dir(&place)
        .map_err(fault(&place))?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".test.mjs"))
        .map(|name| format!("{PLACE}/{name}"))
        .collect();
    tests.sort();
    if tests.is_empty() {
        return Err(format!("{} holds no *.test.mjs", relative(&place)));
    }
    Ok(tests)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_read() {
        let options = |port, build| Ok(Options { port, build });
        assert_eq!(read(&[]), options(None, true));
        assert_eq!(read(&["--port", "80"]), options(Some(80), true));
        assert_eq!(
            read(&["--no-build", "--port", "0"]),
            options(Some(0), false)
        );
        for wrong in [&["--port"][..], &["--port", "65536"], &["--port", "x"]] {
            assert!(read(wrong).is_err_and(|error| error.contains("65535")));
        }
        assert!(read(&["--open"]).is_err_and(|error| error.contains("--no-build")));
    }
}
