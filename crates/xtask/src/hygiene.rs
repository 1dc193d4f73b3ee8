//! What must not stand in the project's files.

use crate::Result;
use crate::tools::{capture, command, relative, root};
use std::path::{Path, PathBuf};

/// The most lines of a Rust file.
const MAX_LINES: usize = 800;

/// Larger files are data and not read.
const MAX_BYTES: u64 = 2 << 20;

/// What must not stand in any file, and why. Pieced together, or this file would be the first found.
const FORBIDDEN: [(&str, &str); 10] = [
    (concat!("/wo", "rk/"), "a path of one machine"),
    (concat!("/ro", "ot/"), "a path of one machine"),
    (concat!("/ho", "me/"), "a path of one machine"),
    (concat!("TO", "DO"), "unfinished"),
    (concat!("FIX", "ME"), "unfinished"),
    (concat!("to", "do!("), "unfinished"),
    (concat!("unimple", "mented!("), "unfinished"),
    (
        concat!("registry.npm", "js.org"),
        "the host of a package registry",
    ),
    (concat!("py", "pi.org"), "the host of a package registry"),
    (
        concat!("pythonhost", "ed.org"),
        "the host of a package registry",
    ),
];

/// Looks through every file that git tracks or would track; without git, every file outside build
/// folders.
pub fn check() -> Result {
    let files = files()?;
    let mut faults = Vec::new();
    let mut read = 0;
    for file in &files {
        let small = std::fs::metadata(file).is_ok_and(|known| known.len() <= MAX_BYTES);
        if !small {
            continue;
        }
        // What is not text is not judged.
        if let Ok(text) = std::fs::read_to_string(file) {
            read += 1;
            faults.extend(faults_of(&relative(file), &text));
        }
    }
    println!("{read} text files of {} looked through", files.len());
    if faults.is_empty() {
        Ok(())
    } else {
        Err(format!("{} found:\n{}", faults.len(), faults.join("\n")))
    }
}

/// Everything wrong with one file.
fn faults_of(name: &str, text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    for (place, line) in text.lines().enumerate() {
        for (word, why) in FORBIDDEN {
            if line.contains(word) {
                faults.push(format!("{name}:{}: `{word}`: {why}", place + 1));
            }
        }
    }
    let lines = text.lines().count();
    if name.ends_with(".rs") && lines > MAX_LINES {
        faults.push(format!(
            "{name}: {lines} lines, at most {MAX_LINES}; split it"
        ));
    }
    faults
}

fn files() -> Result<Vec<PathBuf>> {
    let listed = capture(&mut command(
        "git",
        [
            "ls-files",
            "-z",
            "--cached",
            "--others",
            "--exclude-standard",
        ],
    ));
    match listed {
        Ok(names) => {
            let mut files: Vec<PathBuf> = names
                .split('\0')
                .filter(|name| !name.is_empty())
                .map(|name| root().join(name))
                .filter(|path| path.is_file())
                .collect();
            files.sort();
            files.dedup();
            Ok(files)
        }
        Err(_) => {
            println!("no git here: walking the folders");
            let mut files = Vec::new();
            walk(&root(), &mut files)?;
            files.sort();
            Ok(files)
        }
    }
}

fn walk(folder: &Path, files: &mut Vec<PathBuf>) -> Result {
    const BUILT: [&str; 7] = [
        "target",
        "node_modules",
        ".venv",
        ".git",
        "corpus",
        "artifacts",
        "dist",
    ];
    let entries = std::fs::read_dir(folder).map_err(|error| format!("{folder:?}: {error}"))?;
    for path in entries.filter_map(|entry| entry.ok().map(|entry| entry.path())) {
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        if path.is_dir() {
            if !BUILT.contains(&name.as_str()) {
                walk(&path, files)?;
            }
        } else {
            files.push(path);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_of_one_machine_is_found_with_its_line() {
        let text = format!("one\ntwo {}x\n", FORBIDDEN[0].0);
        let faults = faults_of("a.md", &text);
        assert_eq!(faults.len(), 1);
        assert!(faults[0].starts_with("a.md:2: "), "{}", faults[0]);
    }

    #[test]
    fn an_unfinished_mark_is_found() {
        assert_eq!(
            faults_of("a.rs", &format!("// {} later", FORBIDDEN[3].0)).len(),
            1
        );
        assert_eq!(
            faults_of("a.rs", &format!("    {}\"later\")", FORBIDDEN[5].0)).len(),
            1
        );
    }

    #[test]
    fn only_rust_files_are_counted() {
        let long = "x\n".repeat(MAX_LINES + 1);
        assert_eq!(faults_of("a.rs", &long).len(), 1);
        assert!(faults_of("a.md", &long).is_empty());
        assert!(faults_of("a.rs", &"x\n".repeat(MAX_LINES)).is_empty());
    }

    #[test]
    fn this_file_is_clean() {
        assert!(faults_of("hygiene.rs", include_str!("hygiene.rs")).is_empty());
    }
}
