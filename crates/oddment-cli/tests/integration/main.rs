//! The command as its users meet it: run as a process, read as text.
//!
//! Numbers come from a small pack in `tests/data`, so that they stay when the real packs change.
//! Pages are compared with the files in `tests/data/expected`; `ODDMENT_UPDATE=1 cargo test` writes
//! them anew.

mod commands;
mod decide;
mod elicit;
mod errors;
mod explain;
mod export;
mod lean;
mod next;
mod report;
mod study;
mod terminal;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// What came of running the command.
#[derive(Debug)]
pub struct Run {
    /// The exit status.
    pub status: i32,
    /// All of standard output.
    pub stdout: String,
    /// All of standard error.
    pub stderr: String,
}

impl Run {
    /// Standard output of a run that must have gone well.
    #[track_caller]
    pub fn done(self) -> String {
        assert_eq!(
            (self.status, self.stderr.as_str()),
            (0, ""),
            "{}",
            self.stdout
        );
        self.stdout
    }

    /// Standard error of a run that must have failed with a status and left nothing on standard
    /// output.
    #[track_caller]
    pub fn failed(self, status: i32) -> String {
        assert_eq!(
            (self.status, self.stdout.as_str()),
            (status, ""),
            "{}",
            self.stderr
        );
        self.stderr
    }
}

/// The folder of the small pack.
pub fn data() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data")
}

/// A folder to write in, empty at first.
pub fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// The command, run from the folder of the small pack, no colour asked for or forbidden.
pub fn command(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_oddment"));
    command.current_dir(data()).args(arguments);
    for variable in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS"] {
        command.env_remove(variable);
    }
    command
}

/// Runs the command with nothing on standard input.
pub fn oddment(arguments: &[&str]) -> Run {
    oddment_with(arguments, "")
}

/// Runs the command with a text on standard input.
pub fn oddment_with(arguments: &[&str], input: impl AsRef<[u8]>) -> Run {
    let mut child = command(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let input = input.as_ref().to_vec();
    // A command that refuses its arguments does not read what it is given.
    let writer = std::thread::spawn(move || drop(stdin.write_all(&input)));
    let output = child.wait_with_output().unwrap();
    writer.join().unwrap();
    Run {
        status: output.status.code().unwrap(),
        stdout: String::from_utf8(output.stdout).unwrap(),
        stderr: String::from_utf8(output.stderr).unwrap(),
    }
}

/// The small pack and library as arguments, after others.
pub fn small<'a>(arguments: &[&'a str]) -> Vec<&'a str> {
    let mut all = arguments.to_vec();
    all.extend(["--pack", "pack.toml", "--library", "library.toml"]);
    all
}

/// Compares with a file in `tests/data/expected`.
#[track_caller]
pub fn expect(name: &str, found: &str) {
    let path = data().join("expected").join(name);
    if std::env::var_os("ODDMENT_UPDATE").is_some() {
        std::fs::write(&path, found).unwrap();
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(
        found, expected,
        "{name} differs; ODDMENT_UPDATE=1 writes it anew"
    );
}

/// The small case with a text in it replaced.
#[track_caller]
pub fn case_with(old: &str, new: &str) -> String {
    let case = std::fs::read_to_string(data().join("stool.toml")).unwrap();
    assert!(case.contains(old), "{old}");
    case.replacen(old, new, 1)
}
