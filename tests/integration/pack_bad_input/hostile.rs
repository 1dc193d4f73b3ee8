//! Texts made to exhaust memory, time or the stack: all end soon, in an error with a place.

use super::{CASE, LIBRARY, PACK, edited, json_case, load, problems, small_pack};
use oddment::{Case, Error, MAX_TEXT_BYTES, Problem, Text};

/// The longest beginning of a message that is pinned.
const SHOWN: usize = 120;

fn first<T>(result: Result<T, Error>, texts: &[(&str, &str)]) -> String {
    let problems = problems(result, texts);
    assert!(problems.len() <= 50, "{}", problems.len());
    let first = problems.first().map(Problem::to_string);
    first.map_or_else(
        || "no error".to_owned(),
        |first| first.chars().take(SHOWN).collect(),
    )
}

fn of_pack(pack: &str) -> String {
    first(load(pack, LIBRARY), &[("pack", pack), ("library", LIBRARY)])
}

fn of_library(library: &str) -> String {
    first(load(PACK, library), &[("pack", PACK), ("library", library)])
}

fn of_case(case: &str) -> String {
    let loaded = Case::load(Text::new("case", case), &small_pack());
    first(loaded, &[("case", case)])
}

/// A piece of text so many times, its `{}` replaced by the count.
fn repeated(piece: &str, times: usize) -> String {
    (0..times)
        .map(|time| piece.replace("{}", &time.to_string()))
        .collect()
}

/// Compares messages, up to their first [`SHOWN`] characters, with those pinned.
fn check(rows: &[(String, &str)]) {
    let wrong: String = rows
        .iter()
        .filter(|(found, pinned)| found != pinned)
        .map(|(found, pinned)| format!("\n   gives {found}\n  pinned {pinned}\n"))
        .collect();
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn ten_thousand_levels() {
    let (open, close) = ("[".repeat(10_000), "]".repeat(10_000));
    let tables = format!("x = {}1{}", "{a = ".repeat(10_000), "}".repeat(10_000));
    let file: oddment::pack::file::PackFile =
        toml::from_str(PACK).unwrap_or_else(|error| panic!("{error}"));
    let json = serde_json::to_string(&file).unwrap_or_default();
    let simple = r#"{"family":"normal","mean":530.0,"sd":40.0}"#;
    let mixture = |levels: usize| {
        let open = r#"{"family": "mixture", "parts": [{"weight": 1.0, "density": "#.repeat(levels);
        edited(
            &json,
            simple,
            &format!("{open}{simple}{}", "}]}".repeat(levels)),
        )
    };
    check(&[
        (
            of_pack(&format!("x = {open}{close}")),
            "pack:1:85: nested too deeply; make it flatter [pack/syntax]",
        ),
        (
            of_case(&tables),
            "case:1:405: nested too deeply; make it flatter [case/syntax]",
        ),
        (
            of_library(&format!("{}a = 1", "a.".repeat(10_000))),
            "library:1:1: nested too deeply; make it flatter [library/syntax]",
        ),
        (
            of_library(&format!("[{}a]", "a.".repeat(10_000))),
            "library:1:1: nested too deeply; make it flatter [library/syntax]",
        ),
        (
            of_case(&format!(
                r#"{{"schema": "oddment/case/1", "piece": {open}{close}}}"#
            )),
            "case:1:30: invalid type: sequence, expected a table [case/syntax]",
        ),
        (
            of_pack(&mixture(10_000)),
            "pack:1:5379: nested too deeply; make it flatter [pack/syntax]",
        ),
        (
            of_pack(&mixture(4)),
            "pack:1:3186: parts[0].density.parts[0].density.parts[0].density.parts is at depth 4: nest mixtures at most 3 deep [pack/",
        ),
        (of_pack(&mixture(3)), "no error"),
    ]);
}

#[test]
fn too_long_a_text() {
    let long = " ".repeat(MAX_TEXT_BYTES + 1);
    check(&[
        (
            of_case(&long),
            "case:1:1: the text has 4194305 bytes, at most 4194304 are allowed [case/syntax]",
        ),
        (
            of_library(&long),
            "library:1:1: the text has 4194305 bytes, at most 4194304 are allowed [library/syntax]",
        ),
    ]);
}

#[test]
fn too_many_entries() {
    let region = "[[region]]\nid = \"region-{}\"\nname = \"Region\"\n";
    let history = "[[history]]\nid = \"more-{}\"\nverdict = \"faked\"\nkind = \"k\"\nname = \"\"\n\
                   story = \"\"\n";
    let drawn = "[[sign]]\nfrom = \"saw-arcs\"\nid = \"more-{}\"\nparts = [\"seat\"]\n";
    let visit = "[[visit]]\nid = \"visit-{}\"\n";
    let finding =
        "[[finding]]\nsign = \"seat-fits\"\nfound = \"no\"\nvisit = \"home\"\nlook = {}\n";
    let visited = "[[visit]]\nid = \"visit-{}\"\n[[finding]]\nsign = \"seat-fits\"\nfound = \"no\"\n\
                   visit = \"visit-{}\"\n";
    let pack = |more: &str, times| of_pack(&format!("{PACK}{}", repeated(more, times)));
    let case = |more: &str, times| of_case(&format!("{CASE}{}", repeated(more, times)));
    let json = r#"{"sign": "seat-fits", "found": "no", "visit": "home"},"#.repeat(20_000);
    check(&[
        (
            pack(region, 1_000),
            "pack:3181:1: more than 1000 [[region]] entries, the most allowed [pack/too-many]",
        ),
        (
            pack(history, 62),
            "pack:550:1: more than 64 [[history]] entries, the most allowed [pack/too-many]",
        ),
        (
            pack(drawn, 20),
            "pack:261:1: library sign `saw-arcs` is taken more than 20 times, the most allowed [pack/too-many]",
        ),
        (
            pack("[[sign]]\n", 100_000),
            "pack:1181:1: more than 1000 [[sign]] entries, the most allowed [pack/too-many]",
        ),
        (
            case(visit, 99),
            "case:260:1: more than 100 visits, the most allowed [case/too-many]",
        ),
        (
            case(finding, 1_996),
            "case:49:1: more than 2000 findings and readings, the most allowed [case/too-many]",
        ),
        (
            of_case(&edited(
                &json_case(),
                "\"finding\": [",
                &format!("\"finding\": [{json}"),
            )),
            "case:34:108015: more than 2000 findings and readings, the most allowed [case/too-many]",
        ),
        (
            case(visited, 5),
            "case:88:1: 7 visits have findings, at most 6 are allowed [case/too-many]",
        ),
    ]);
}

/// Where each problem, each id or each pair of them costs time, there are as many as fit.
#[test]
fn a_pack_full_of_mistakes() {
    let long = "s".repeat(60);
    let sign = format!(
        "{PACK}[[sign]]\nid = \"s\"\nshows = {{ {}x = 1 }}\n",
        repeated(&format!("{long}-{{}} = 0.5, "), 12_000)
    );
    let parts = format!("[{}]", repeated("\"seats-{}\", ", 60_000));
    let part = "{weight=0,density={family=\"half-normal\",scale=1}},";
    let mixture = format!(
        "density = {{ family = \"mixture\", parts = [{}] }}",
        part.repeat(15_000)
    );
    let mega = |character: &str| character.repeat(1_000_000);
    let normal = "density = { family = \"normal\", mean = 530.0, sd = 40.0 }";
    check(&[
        (
            of_pack(&format!(
                "{PACK}{}",
                "[[region]]\nid = \"R\"\nname = \"r\"\n".repeat(990)
            )),
            "pack:185:1: region id `R` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            of_pack(&sign),
            "pack:186:11: unknown selector `ssssssssssssssssssssssssssssssssssssssssssssssssssssssssssss-0`; valid: any, as-made, con",
        ),
        (
            of_pack(&edited(PACK, "[\"frame\", \"feet\"]", &parts)),
            "pack:140:10: unknown part `seats-0`; valid: feet, frame, seat [pack/unknown-id]",
        ),
        (
            of_pack(&edited(
                PACK,
                "[0.2, 0.3, 0.5]",
                &format!("[{}]", "0.1,".repeat(200_000)),
            )),
            "pack:145:11: the row has 200000 chances, 3 are needed, one for each level [pack/row]",
        ),
        (
            of_pack(&edited(PACK, normal, &mixture)),
            "pack:169:33: parts brings the whole to 15000 densities: give from 1 to 64 [pack/density]",
        ),
        (
            of_pack(&edited(
                PACK,
                "\"as-made\"\nverdict",
                &format!("\"{}\"\nverdict", mega("h")),
            )),
            "pack:66:1: history id `hhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhhh...` must be 1 to",
        ),
        (
            of_pack(&edited(
                PACK,
                "shoulder = 15.0",
                &format!("shoulder = \"{}\"", mega("x")),
            )),
            r#"pack:16:12: invalid type: string "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx...", "#,
        ),
        (
            of_pack(&format!("{} = 1", mega("k"))),
            "pack:1:1: unknown field `kkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkkk...`, expected ",
        ),
        (
            of_pack(&"a = 1\n".repeat(150_000)),
            "pack:2:1: `a` is given twice; remove one [pack/syntax]",
        ),
        (
            of_pack(&"\"\n".repeat(500_000)),
            "pack:1:2: key with no value, expected `=` [pack/syntax]",
        ),
        (
            of_pack(&mega("[")),
            "pack:1:3: unquoted keys cannot be empty, expected letters, numbers, `-`, `_` [pack/syntax]",
        ),
        (
            of_pack(&mega("=")),
            "pack:1:2: extra `=`, expected nothing [pack/syntax]",
        ),
        (
            of_pack(&repeated("[a{}.b.c]\n", 70_000)),
            "pack:1:2: unknown field `a0`, expected one of `schema`, `id`, `name`, `version`, `summary`, `defaults`, `dates`, `examin",
        ),
        (
            of_pack(&"{\"a\":[".repeat(200_000)),
            "pack:1:2: unknown field `a`, expected one of `schema`, `id`, `name`, `version`, `summary`, `defaults`, `dates`, `examina",
        ),
    ]);
}

#[test]
fn a_case_full_of_mistakes() {
    let long = format!(
        "[[finding]]\nsign = \"{}{{}}\"\nfound = \"no\"\n",
        "s".repeat(60)
    );
    let put = |find: &str, piece: &str, times| {
        of_case(&edited(
            CASE,
            find,
            &format!("{find}{}", repeated(piece, times)),
        ))
    };
    let json = edited(
        &json_case(),
        "\"prior\": {",
        &format!("\"prior\": {{{}", "\"as-made\": 1,".repeat(70_000)),
    );
    check(&[
        (
            of_case(&format!("{CASE}{}", repeated("\"{}\" = 0.5\n", 70_000))),
            "case:64:1: unknown number `0`; valid: curve/circular-saw/half, examination/doubtful, examination/fairly-sure, examinatio",
        ),
        (
            of_case(&format!(
                "{CASE}{}",
                repeated("[[visit]]\nid = \"v{}\"\n", 50_000)
            )),
            "case:260:1: more than 100 visits, the most allowed [case/too-many]",
        ),
        (
            of_case(&format!("{CASE}{}", repeated(&long, 1_900))),
            "case:64:1: there are several visits; add `visit`, one of shop, home [case/visit]",
        ),
        (
            put("[piece.timber]\n", "t{} = { species = \"oak\" }\n", 40_000),
            "case:13:1: unknown part `t0`; valid: feet, frame, seat [case/unknown-id]",
        ),
        (
            put("[known]\n", "i{} = true\n", 70_000),
            "case:55:1: unknown incident `i0`; valid: flooded, refinished [case/unknown-id]",
        ),
        (
            put("[prior]\n", "h{} = 1\n", 90_000),
            "case:58:1: unknown history `h0`; valid: as-made, made-up, new-seat [case/unknown-id]",
        ),
        (
            of_case(&json),
            "case:71:26: `as-made` is given twice; remove one [case/syntax]",
        ),
    ]);
}
