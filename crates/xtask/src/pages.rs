//! `cargo xtask pages`: the pages of the forms, written from their packs.

use crate::Result;
use crate::tools::{capture, cargo, root};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Where the pages stand.
const FOLDER: &str = "docs/forms";

/// Compares the pages with what the packs say or, with `write`, writes them anew.
pub fn run_all(write: bool) -> Result {
    let pages = pages()?;
    let folder = root().join(FOLDER);
    let stale = stale(&folder, &pages);
    if stale.is_empty() {
        println!("{} pages in {FOLDER} are up to date", pages.len());
        return Ok(());
    }
    if !write {
        return Err(format!(
            "not as the packs say: {}; run `cargo xtask pages --write` and look through what changed",
            stale.join(", ")
        ));
    }
    let failed = |path: &Path, error| format!("{}: {error}", path.display());
    std::fs::create_dir_all(&folder).map_err(|error| failed(&folder, error))?;
    for name in &stale {
        let path = root().join(name);
        let file = path.file_name().unwrap_or_default().to_string_lossy();
        match pages.get(&*file) {
            Some(text) => std::fs::write(&path, text).map_err(|error| failed(&path, error))?,
            None => std::fs::remove_file(&path).map_err(|error| failed(&path, error))?,
        }
        println!(
            "{name}: {}",
            if path.exists() { "written" } else { "removed" }
        );
    }
    Ok(())
}

/// Every page by its file's name, as the library makes it. In a process of its own, so that these
/// tasks need not be built with the library.
fn pages() -> Result<BTreeMap<String, String>> {
    let words = [
        "run",
        "-q",
        "--package",
        "oddment",
        "--example",
        "form_pages",
    ];
    let text = capture(&mut cargo(words))?;
    serde_json::from_str(&text).map_err(|error| format!("the pages cannot be read: {error}"))
}

/// Pages that are missing, different or of no form, as seen from the workspace's folder.
fn stale(folder: &Path, pages: &BTreeMap<String, String>) -> Vec<String> {
    let mut stale = Vec::new();
    for (name, text) in pages {
        let written = std::fs::read_to_string(folder.join(name)).unwrap_or_default();
        // Line ends are git's business.
        if written.replace("\r\n", "\n") != *text {
            stale.push(format!("{FOLDER}/{name}"));
        }
    }
    let mut others: Vec<PathBuf> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .collect();
    others.sort();
    for path in others {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if name.ends_with(".md") && !pages.contains_key(&*name) {
            stale.push(format!("{FOLDER}/{name}"));
        }
    }
    stale
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_missing_or_different_is_stale() {
        let nowhere = Path::new("no such folder");
        let pages = BTreeMap::from([("a.md".to_owned(), "text\n".to_owned())]);
        assert_eq!(stale(nowhere, &pages), ["docs/forms/a.md"]);
        assert!(stale(nowhere, &BTreeMap::new()).is_empty());
    }
}
