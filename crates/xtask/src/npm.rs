//! Node and npm, for what goes to JavaScript.

use crate::Result;
use crate::tools::{capture, command, root, run};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The oldest Node that will do.
const OLDEST: u32 = 20;

/// The package's folder.
pub fn folder() -> PathBuf {
    root().join("bindings/wasm")
}

/// `npm` in a folder.
pub fn npm<'a>(folder: &Path, arguments: impl IntoIterator<Item = &'a str>) -> Command {
    let program = if cfg!(windows) { "npm.cmd" } else { "npm" };
    let mut command = command(program, arguments);
    command.current_dir(folder);
    command
}

/// `node` in a folder.
pub fn node<'a>(folder: &Path, arguments: impl IntoIterator<Item = &'a str>) -> Command {
    let mut command = command("node", arguments);
    command.current_dir(folder);
    command
}

/// Makes sure that Node is there and new enough, and npm with it.
///
/// # Errors
/// What is missing, in words.
pub fn check_node() -> Result {
    let remedy = format!("install Node {OLDEST} or newer, with npm");
    let version = capture(&mut command("node", ["--version"]))
        .map_err(|error| format!("{remedy}: {error}"))?;
    let major = version.trim().trim_start_matches('v').split('.').next();
    let major: u32 = major.and_then(|major| major.parse().ok()).unwrap_or(0);
    if major < OLDEST {
        return Err(format!("{remedy}: Node is {}", version.trim()));
    }
    capture(&mut npm(&root(), ["--version"]))
        .map(|_| ())
        .map_err(|error| format!("{remedy}: {error}"))
}

/// Installs what a folder's lock file names, unless that is there already.
///
/// # Errors
/// When npm cannot be run or cannot fetch something.
pub fn install(folder: &Path) -> Result {
    let read = |path: &str| std::fs::read(folder.join(path)).ok();
    let (wanted, there) = ("package-lock.json", "node_modules/.installed-lock.json");
    if read(wanted).is_some() && read(wanted) == read(there) {
        return Ok(());
    }
    let remedy = "npm has to fetch packages once; try again with a connection";
    run(&mut npm(folder, ["ci", "--no-audit", "--no-fund"]))
        .map_err(|error| format!("{remedy}: {error}"))?;
    let copied = std::fs::copy(folder.join(wanted), folder.join(there));
    copied
        .map(|_| ())
        .map_err(|error| format!("{there}: {error}"))
}

/// Where Chromium is, or could be put.
///
/// # Errors
/// What is missing, in words.
pub fn chromium() -> Result<PathBuf> {
    if let Some(named) = std::env::var_os("CHROMIUM") {
        return Ok(named.into());
    }
    let usual = [
        "chromium",
        "chromium-browser",
        "google-chrome",
        "google-chrome-stable",
    ];
    let find = || {
        let paths = std::env::var_os("PATH").unwrap_or_default();
        let all = std::env::split_paths(&paths);
        let mut all = all.flat_map(|folder| usual.map(|name| folder.join(name)));
        all.find(|path| path.is_file())
    };
    if let Some(found) = find() {
        return Ok(found);
    }
    let remedy = "install Chromium (Debian: `apt-get install chromium`) or set CHROMIUM to it";
    // Elsewhere it is the user's to install.
    let alone = |program: &str, argument: &str| capture(&mut command(program, [argument]));
    let is_root = alone("id", "-u").is_ok_and(|id| id.trim() == "0");
    if !is_root || alone("apt-get", "--version").is_err() {
        return Err(remedy.to_owned());
    }
    println!("Chromium is not installed; trying apt-get");
    let install = [
        "install",
        "-y",
        "-qq",
        "--no-install-recommends",
        "chromium",
    ];
    run(&mut command("apt-get", ["update", "-qq"]))
        .map_err(|error| format!("{remedy}: {error}"))?;
    run(command("apt-get", install).env("DEBIAN_FRONTEND", "noninteractive"))
        .map_err(|error| format!("{remedy}: {error}"))?;
    find().ok_or_else(|| remedy.to_owned())
}
