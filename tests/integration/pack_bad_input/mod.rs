//! Texts that are not right: each gets a typed error that names the place, the value and the remedy.
//!
//! Every row of the tables makes one small edit of a valid text (`library.toml`, `pack.toml`,
//! `case.toml` beside this file) and pins the first message, place and code included.

mod cases;
mod hostile;
mod mutations;
mod opinions;
mod packs_histories;
mod packs_numbers;
mod packs_references;
mod packs_shape;
mod packs_signs;
mod round_trips;
mod schemas;
mod stakes;

use oddment::{Case, Error, Pack, Problem, Text};

pub(crate) const LIBRARY: &str = include_str!("library.toml");
pub(crate) const PACK: &str = include_str!("pack.toml");
pub(crate) const CASE: &str = include_str!("case.toml");
/// What may follow the case.
pub(crate) const STAKES: &str = include_str!("stakes.toml");

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
        let found = found
            .first()
            .map_or_else(|| "no error".to_owned(), Problem::to_string);
        if found != *pinned {
            wrong += &format!("\n{with}\n   gives {found}\n  pinned {pinned}\n");
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

fn check_packs(rows: &[Row]) {
    check(rows, |find, with| {
        let pack = edited(PACK, find, with);
        problems(
            load(&pack, LIBRARY),
            &[("pack", &pack), ("library", LIBRARY)],
        )
    });
}

fn check_libraries(rows: &[Row]) {
    check(rows, |find, with| {
        let library = edited(LIBRARY, find, with);
        problems(
            load(PACK, &library),
            &[("pack", PACK), ("library", &library)],
        )
    });
}

fn check_cases(rows: &[Row]) {
    let pack = small_pack();
    check(rows, |find, with| {
        let case = edited(CASE, find, with);
        problems(
            Case::load(Text::new("case", &case), &pack),
            &[("case", &case)],
        )
    });
}

/// As [`check_cases`], with stakes at the end of the case.
fn check_stakes(rows: &[Row]) {
    let pack = small_pack();
    check(rows, |find, with| {
        let case = CASE.to_owned() + &edited(STAKES, find, with);
        problems(
            Case::load(Text::new("case", &case), &pack),
            &[("case", &case)],
        )
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
    assert_eq!(
        (pack.histories.len(), pack.signs.len(), pack.measures.len()),
        (3, 3, 2)
    );
    json_case();
}

#[test]
fn texts_of_another_kind() {
    let first = |found: Vec<Problem>| found.first().map_or_else(String::new, Problem::to_string);
    for (pack, pinned) in [
        (
            CASE,
            "pack:2:1: schema `oddment/case/1` is not supported, must be `oddment/pack/1` [pack/schema]",
        ),
        (
            LIBRARY,
            "pack:2:1: schema `oddment/library/1` is not supported, must be `oddment/pack/1` [pack/schema]",
        ),
        ("", "pack:1:1: missing field `schema` [pack/syntax]"),
        (
            "[1, 2, 3]",
            "pack:1:3: unclosed table, expected `]` [pack/syntax]",
        ),
        ("{}", "pack:1:1: missing field `schema` [pack/syntax]"),
        (
            "\u{feff}{}",
            "pack:1:2: missing field `schema` [pack/syntax]",
        ),
        (
            "{",
            "pack:1:1: EOF while parsing an object: the text ends too soon; is it whole? [pack/syntax]",
        ),
        (
            "\u{feff}schema = 1",
            "pack:1:11: invalid type: integer `1`, expected a string in quotes [pack/syntax]",
        ),
    ] {
        assert_eq!(
            first(problems(load(pack, LIBRARY), &[("pack", pack)])),
            pinned
        );
    }
    let json = r#"{"schema": "oddment/pack/1", "id": "stool"}"#;
    for (case, pinned) in [
        (
            PACK,
            "case:2:1: schema `oddment/pack/1` is not supported, must be `oddment/case/1` [case/schema]",
        ),
        (
            json,
            "case:1:2: schema `oddment/pack/1` is not supported, must be `oddment/case/1` [case/schema]",
        ),
    ] {
        let loaded = Case::load(Text::new("case", case), &small_pack());
        assert_eq!(first(problems(loaded, &[("case", case)])), pinned);
        assert!(Case::form(Text::new("case", case)).is_err());
    }
}

#[test]
fn a_part_that_shares_with_two_others() {
    let pack = edited(PACK, "name = \"Feet\"", "name = \"Feet\"\ndated = true");
    let pack = edited(
        &pack,
        "seat = { shares = \"frame\" }",
        "feet = \"claim\", seat = { shares = \"frame\" }",
    );
    let pack = edited(
        &pack,
        "seat = { after = \"revival\" }",
        "feet = \"claim\", seat = { shares = \"feet\" }",
    );
    let found = problems(load(&pack, LIBRARY), &[("pack", &pack)]);
    assert_eq!(
        found.first().map(Problem::to_string).as_deref(),
        Some(
            "pack:80:37: the part shares the date of `feet` here and of `frame` in another history; \
             let it share with one only [pack/origin]"
        )
    );
}

#[test]
fn a_number_that_is_so_by_the_nature_of_the_thing() {
    let pack = edited(
        PACK,
        "original = 0.9",
        "original = { mean = 1.0, structural = true }",
    );
    let pack = load(&pack, LIBRARY).unwrap_or_else(|error| panic!("{error}"));
    let found = problems(
        Case::load(Text::new("case", CASE), &pack),
        &[("case", CASE)],
    );
    assert_eq!(
        found.first().map(Problem::to_string).as_deref(),
        Some(
            "case:63:1: `sign/seat-fits/shows/original` is 1 by the nature of the thing and cannot be \
             changed; leave it out [case/number]"
        )
    );
}

/// All problems are listed, in the order of the texts, and each once: a strength in the defaults is
/// one mistake however many numbers it is the strength of.
#[test]
fn all_problems_in_the_order_of_the_texts() {
    let pack = edited(PACK, "strength = 8.0", "strength = 0.0");
    let pack = edited(&pack, "part = \"seat\"", "part = \"seats\"");
    let pack = edited(
        &pack,
        "married = 0.2, made-up = 0.3",
        "married = 2, made-up = 3",
    );
    let library = edited(LIBRARY, "minutes = 15.0", "minutes = 0");
    let found: Vec<String> = problems(
        load(&pack, &library),
        &[("pack", &pack), ("library", &library)],
    )
    .iter()
    .map(|problem| {
        format!(
            "{}:{}:{} {}",
            problem.file, problem.line, problem.column, problem.code
        )
    })
    .collect();
    assert_eq!(
        found,
        [
            "pack:9:1 pack/strength",
            "pack:133:27 pack/number",
            "pack:133:40 pack/number",
            "pack:173:1 pack/unknown-id",
            "library:37:1 pack/number",
        ]
    );
}
