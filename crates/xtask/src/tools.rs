//! Running other programs, and finding out whether they are there.

use crate::Result;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// The workspace's folder.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_owned()
}

/// The cargo that runs this task.
pub fn cargo<S: AsRef<OsStr>>(arguments: impl IntoIterator<Item = S>) -> Command {
    let program = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    command(program, arguments)
}

/// A program in the workspace's folder.
pub fn command<S: AsRef<OsStr>>(
    program: impl AsRef<OsStr>,
    arguments: impl IntoIterator<Item = S>,
) -> Command {
    let mut command = Command::new(program);
    command.args(arguments).current_dir(root());
    command
}

/// A command as one would type it.
pub fn shown(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let name = program.file_stem().unwrap_or(program.as_os_str());
    let arguments = command.get_args().map(OsStr::to_string_lossy);
    let words = std::iter::once(name.to_string_lossy()).chain(arguments);
    words.collect::<Vec<_>>().join(" ")
}

/// Runs a command with its output shown.
pub fn run(command: &mut Command) -> Result {
    println!("$ {}", shown(command));
    let status = command.status().map_err(|error| cannot(command, &error))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!("`{}` failed: {status}", shown(command)))
    }
}

/// Runs a command and returns what it prints; on failure also what it complains.
pub fn capture(command: &mut Command) -> Result<String> {
    let output = command
        .stdin(Stdio::null())
        .output()
        .map_err(|error| cannot(command, &error))?;
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    if output.status.success() {
        Ok(text(&output.stdout))
    } else {
        let (out, complaint) = (text(&output.stdout), text(&output.stderr));
        let status = output.status;
        Err(format!(
            "`{}` failed: {status}\n{out}{complaint}",
            shown(command)
        ))
    }
}

/// Whether a command runs and succeeds; nothing is shown.
pub fn works(command: &mut Command) -> bool {
    capture(command).is_ok()
}

fn cannot(command: &Command, error: &std::io::Error) -> String {
    format!("`{}` cannot be run: {error}", shown(command))
}

/// Makes sure that a component of the toolchain (`rustfmt`, `clippy`) is there.
///
/// # Errors
/// What is missing, in words.
pub fn component(name: &str, probe: &str) -> Result {
    let present = || works(&mut cargo([probe, "--version"]));
    if present() {
        return Ok(());
    }
    println!("{name} is not installed; trying rustup");
    let added = run(&mut command("rustup", ["component", "add", name]));
    match added {
        Ok(()) if present() => Ok(()),
        Ok(()) => Err(format!("{name} is still missing after installing it")),
        Err(error) => Err(format!("{name} is missing and could not be added: {error}")),
    }
}

/// Makes sure that a compilation target is there.
///
/// # Errors
/// What is missing, in words.
pub fn target(name: &str) -> Result {
    let present = || {
        let library = capture(&mut command(
            "rustc",
            ["--print", "target-libdir", "--target", name],
        ));
        library.is_ok_and(|path| Path::new(path.trim()).is_dir())
    };
    if present() {
        return Ok(());
    }
    println!("the target {name} is not installed; trying rustup");
    match run(&mut command("rustup", ["target", "add", name])) {
        Ok(()) if present() => Ok(()),
        Ok(()) => Err(format!(
            "the target {name} is still missing after adding it"
        )),
        Err(error) => Err(format!(
            "the target {name} is missing and could not be added: {error}"
        )),
    }
}

/// What cargo knows of the workspace.
#[derive(Debug)]
pub struct Metadata {
    /// Where cargo builds.
    pub target: PathBuf,
    /// Package and name of each bench target.
    pub benches: Vec<(String, String)>,
}

/// Asks cargo.
pub fn metadata() -> Result<Metadata> {
    let text = capture(&mut cargo([
        "metadata",
        "--no-deps",
        "--format-version",
        "1",
    ]))?;
    let unread = |what: &str| format!("cargo metadata: {what}");
    let known: serde_json::Value =
        serde_json::from_str(&text).map_err(|error| unread(&error.to_string()))?;
    let target = known["target_directory"]
        .as_str()
        .ok_or_else(|| unread("no target directory"))?;
    let mut benches = Vec::new();
    for package in known["packages"].as_array().into_iter().flatten() {
        for target in package["targets"].as_array().into_iter().flatten() {
            let kinds = target["kind"].as_array().into_iter().flatten();
            let is_bench = kinds.into_iter().any(|kind| kind == "bench");
            let names = (package["name"].as_str(), target["name"].as_str());
            if let (true, (Some(package), Some(bench))) = (is_bench, names) {
                benches.push((package.to_owned(), bench.to_owned()));
            }
        }
    }
    Ok(Metadata {
        target: PathBuf::from(target),
        benches,
    })
}

/// `cargo bench` of all bench targets, with these arguments for criterion; `None` without any.
pub fn bench(metadata: &Metadata, arguments: &[&str]) -> Option<Command> {
    if metadata.benches.is_empty() {
        return None;
    }
    let mut command = cargo(["bench"]);
    for (package, bench) in &metadata.benches {
        command.args(["--package", package, "--bench", bench]);
    }
    command.arg("--").args(arguments);
    Some(command)
}

/// The example cases, in the order of their names.
///
/// # Errors
/// When there are none.
pub fn example_cases() -> Result<Vec<PathBuf>> {
    let folder = root().join("priors/cases");
    let mut cases: Vec<PathBuf> = std::fs::read_dir(&folder)
        .map_err(|error| format!("{}: {error}", folder.display()))?
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension() == Some(OsStr::new("toml")))
        .collect();
    cases.sort();
    if cases.is_empty() {
        return Err("priors/cases holds no example case".into());
    }
    Ok(cases)
}

/// The name of a file without its folder and ending.
pub fn stem(path: &Path) -> String {
    let stem = path.file_stem().unwrap_or_default();
    stem.to_string_lossy().into_owned()
}

/// What went wrong with a file or folder.
pub fn fault(path: &Path) -> impl Fn(std::io::Error) -> String {
    let path = path.display().to_string();
    move |error| format!("{path}: {error}")
}

/// A path as seen from the workspace's folder.
pub fn relative(path: &Path) -> String {
    let root = root();
    let inside = path.strip_prefix(&root).unwrap_or(path);
    inside.to_string_lossy().replace('\\', "/")
}
