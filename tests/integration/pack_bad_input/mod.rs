//! Texts that are not right: each gets a typed error that names the place, the value and the remedy.
//!
//! Every row of the tables makes one small edit of a valid text (`library.toml`, `pack.toml`,
//! `case.toml` beside this file) and pins the first message, place and code included.

mod cases;
mod hostile;
mod mutations;
mod packs_histories;
mod packs_numbers;
mod packs_references;
mod packs_shape;
mod packs_signs;
mod round_trips;

use oddment::{Case, Error, Pack, Problem, Text};

pub(crate) const LIBRARY: &str = include_str!("library.toml");
pub(crate) const PACK: &str = include_str!("pack.toml");
pub(crate) const CASE: &str = include_str!("case.toml");

/// What stands once in a text, what is put in its place, and the first message then.
type Row = (&'static str, &'static str, &'static str);

/// The text after an edit.
fn edited(text: &str, find: &str, with: &str) -> String {
    assert_eq!(text.matches(find).count(), 1, "`{find}` must stand once");
    text.replacen(find, with, 1)
}

fn load(pack: &str, library: &str) -> Result<Pack, Error> {
    Pack::load(Text::new("pack", pack), Text::new("library", library))
}

fn small_pack() -> Pack {
    load(PACK, LIBRARY).unwrap_or_else(|error| panic!("{error}"))
}

/// The valid case in JSON.
fn json_case() -> String {
    let case = Case::load(Text::new("case", CASE), &small_pack());
    let case = case.unwrap_or_else(|error| panic!("{error}"));
    serde_json::to_string_pretty(&case.file).unwrap_or_default()
}

/// The problems, each of which must have a place in one of the texts and quote it.
fn problems<T>(result: Result<T, Error>, texts: &[(&str, &str)]) -> Vec<Problem> {
    let Err(error) = result else {
        return Vec::new();
    };
    let problems = error.problems().to_vec();
    assert!(!problems.is_empty(), "{error}");
    for problem in &problems {
        let text = texts.iter().find(|(name, _)| *name == problem.file);
        let line = text.and_then(|(_, text)| text.lines().nth(problem.line - 1));
        // An empty text has no line to quote.
        let line = line.unwrap_or_default();
        assert!(line.starts_with(&problem.excerpt), "{problem}");
        assert!(problem.column >= 1 && problem.column <= line.chars().count() + 1);
        assert!(problem.message.chars().count() < 1_100, "{problem}");
    }
    problems
}

/// Compares the first message after each edit with the one pinned, and lists all that differ.
fn check(rows: &[Row], first: impl Fn(&str, &str) -> Vec<Problem>) {
    let mut wrong = String::new();
    for (find, with, pinned) in rows {
        let found = first(find, with);
        let found = found.first().map_or_else(|| "no error".to_owned(), Problem::to_string);
        if found != *pinned {
            wrong += &format!("\n{with}\n   gives {found}\n  pinned {pinned}\n");
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

fn check_packs(rows: &[Row]) {
    check(rows, |find, with| {
        let pack = edited(PACK, find, with);
        problems(load(&pack, LIBRARY), &[("pack", &pack), ("library", LIBRARY)])
    });
}

fn check_libraries(rows: &[Row]) {
    check(rows, |find, with| {
        let library = edited(LIBRARY, find, with);
        problems(load(PACK, &library), &[("pack", PACK), ("library", &library)])
    });
}

fn check_cases(rows: &[Row]) {
    let pack = small_pack();
    check(rows, |find, with| {
        let case = edited(CASE, find, with);
        problems(Case::load(Text::new("case", &case), &pack), &[("case", &case)])
    });
}

fn check_json_cases(rows: &[Row]) {
    let (pack, base) = (small_pack(), json_case());
    check(rows, |find, with| {
        let case = edited(&base, find, with);
        let loaded = Case::load(Text::new("case.json", &case), &pack);
        problems(loaded, &[("case.json", &case)])
    });
}

#[test]
fn the_texts_to_break_are_whole() {
    let pack = small_pack();
    assert_eq!((pack.histories.len(), pack.signs.len(), pack.measures.len()), (3, 3, 2));
    json_case();
}
