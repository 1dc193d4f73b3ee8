//! Opinions that do not read, or do not go with the case.
use super::{CASE, LIBRARY, PACK, Row, check, edited, problems, small_pack};
use oddment::pool::{AS_IT_STANDS, OpinionCase, OpinionFile, Subject, pool};
use oddment::{Case, Error, Text};

const OPINION: &str = include_str!("opinion.toml");

fn opinion_of(case: &str, text: &str) -> Result<OpinionCase, Error> {
    let pack = small_pack();
    let text_of_case = Text::new("case", case);
    let case = Case::load(text_of_case, &pack).unwrap_or_else(|error| panic!("{error}"));
    let subject = Subject {
        pack: &pack,
        case: &case,
        text: text_of_case,
        library: Text::new("library", LIBRARY),
    };
    subject.opinion(Text::new("opinion", text), 1.0)
}

fn opinion(text: &str) -> Result<OpinionCase, Error> {
    opinion_of(CASE, text)
}

fn check_opinions(rows: &[Row]) {
    check(rows, |find, with| {
        let text = edited(OPINION, find, with);
        problems(opinion(&text), &[("opinion", &text)])
    });
}

#[test]
fn the_opinion_to_break_is_whole() {
    let pack = small_pack();
    let found = opinion(OPINION).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(found.name, "a joiner");
    assert_eq!(found.case.prior, Some(vec![60.0, 30.0, 10.0]));
    // The numbers named are the opinion's, all others the case's.
    let number = |id: &str| {
        let number = pack
            .find_number(id)
            .map(|id| found.case.numbers[id.index()]);
        number.unwrap_or_else(|| panic!("{id}"))
    };
    assert_eq!(number("sign/seat-fits/shows/original"), 0.7);
    let case = Case::load(Text::new("case", CASE), &pack).unwrap_or_else(|e| panic!("{e}"));
    let differ = case.numbers.iter().zip(&found.case.numbers);
    assert!(differ.filter(|(case, opinion)| case != opinion).count() <= 2);
    assert_eq!(found.case.findings, case.findings);
    // As JSON and as TOML they are the same.
    let file: OpinionFile = toml::from_str(OPINION).unwrap_or_else(|error| panic!("{error}"));
    for again in [
        serde_json::to_string(&file).unwrap_or_default(),
        toml::to_string(&file).unwrap_or_default(),
    ] {
        assert_eq!(opinion(&again).as_ref(), Ok(&found));
    }
}

#[test]
fn what_an_opinion_leaves_out_is_the_case_s() {
    let bare = "schema = \"oddment/opinion/1\"\nname = \"nobody\"\n";
    let found = opinion(bare).unwrap_or_else(|error| panic!("{error}"));
    let pack = small_pack();
    let text = Text::new("case", CASE);
    let case = Case::load(text, &pack).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(found.case, case);
    let subject = Subject {
        pack: &pack,
        case: &case,
        text,
        library: Text::new("library", LIBRARY),
    };
    let pooled = pool(&[subject.as_it_stands(1.0), found]).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(pooled.opinions[0].name, AS_IT_STANDS);
    assert_eq!(pooled.opinions[0].verdicts, pooled.opinions[1].verdicts);
}

#[test]
fn in_an_opinion_texts_that_do_not_read() {
    check_opinions(&[
        (
            "name = \"a joiner\"\n",
            "",
            "opinion:1:1: missing field `name` [opinion/syntax]",
        ),
        (
            "name =",
            "nmae =",
            "opinion:3:1: unknown field `nmae`, expected one of `schema`, `name`, `prior`, `numbers`; perhaps `name` [opinion/syntax]",
        ),
        (
            "as-made = 60.0",
            "as-made = \"many\"",
            r#"opinion:6:11: invalid type: string "many", expected a number [opinion/syntax]"#,
        ),
        (
            "as-made = 60.0",
            "as-made = many",
            r#"opinion:6:11: `many` must stand in quotes: "many" [opinion/syntax]"#,
        ),
        (
            "[prior]",
            "[prior",
            "opinion:5:7: unclosed table, expected `]` [opinion/syntax]",
        ),
        (
            "oddment/opinion/1",
            "oddment/case/1",
            "opinion:2:1: schema `oddment/case/1` is not supported, must be `oddment/opinion/1`, or `oddment/pack/1` or `oddment/extension/1` for a pack or an extension of one [opinion/schema]",
        ),
        (
            "oddment/opinion/1",
            "oddment/opinion/2",
            "opinion:2:1: schema `oddment/opinion/2` is not supported, must be `oddment/opinion/1`, or `oddment/pack/1` or `oddment/extension/1` for a pack or an extension of one [opinion/schema]",
        ),
    ]);
}

#[test]
fn in_an_opinion_values_that_are_not_right() {
    check_opinions(&[
        (
            "\"a joiner\"",
            "\"  \"",
            "opinion:3:1: the name must say whose opinion it is, in 1 to 200 characters [opinion/name]",
        ),
        (
            "new-seat",
            "new-seats",
            "opinion:7:1: unknown history `new-seats`, perhaps `new-seat`; valid: as-made, made-up, new-seat [opinion/unknown-id]",
        ),
        (
            "as-made = 60.0",
            "as-made = -1.0",
            "opinion:6:1: count -1 must be 0 to 1,000,000,000 [opinion/number]",
        ),
        (
            "as-made = 60.0",
            "as-made = inf",
            "opinion:6:1: count inf must be 0 to 1,000,000,000 [opinion/number]",
        ),
        (
            "as-made = 60.0\nnew-seat = 30.0\nmade-up = 10.0",
            "as-made = 0.0",
            "opinion:5:2: the counts are all 0; at least one history needs a count above 0 [opinion/number]",
        ),
        (
            "sign/seat-fits/shows/original",
            "sign/seat-fits/shows/orignal",
            "opinion:11:1: unknown number `sign/seat-fits/shows/orignal`, perhaps `sign/seat-fits/shows/original`; valid: curve/circular-saw/half, examination/doubtful, examination/fairly-sure, examination/poor, examination/poor-factor, examination/poor-instrument, examination/sure, group/seating/coupling, history/made-up/elasticity, incident/flooded/rate/any, incident/refinished/rate/any, incident/refinished/rate/faked, ... [opinion/unknown-id]",
        ),
        (
            "= 0.7",
            "= 1.5",
            "opinion:11:1: 1.5 must lie strictly between 0 and 1 [opinion/number]",
        ),
        (
            "= 0.7",
            "= nan",
            "opinion:11:1: NaN must lie strictly between 0 and 1 [opinion/number]",
        ),
        (
            "= 0.5",
            "= 1e300",
            "opinion:12:1: 1e300 must be finite, not negative and at most 1,000,000 [opinion/number]",
        ),
    ]);
}

/// Where neither the case nor the opinion has counts of its own, those of the pack must do.
#[test]
fn numbers_that_leave_no_odds() {
    let case = edited(
        CASE,
        "as-made = 50.0\nnew-seat = 30.0\nmade-up = 20.0\n",
        "",
    );
    let prior = "as-made = 60.0\nnew-seat = 30.0\nmade-up = 10.0\n";
    let text = edited(OPINION, prior, "");
    let text = edited(&text, "elasticity\" = 0.5", "elasticity\" = 1e6");
    let found = problems(opinion_of(&case, &text), &[("opinion", &text)]);
    let first = found.first().map(ToString::to_string).unwrap_or_default();
    assert!(
        first.starts_with("opinion:7:2: the prior counts of `carved`, with their factors")
            && first.ends_with("[opinion/number]"),
        "{first}"
    );
}

#[test]
fn an_opinion_is_not_too_long() {
    let text = edited(OPINION, "a joiner", &"a".repeat(201));
    let found = problems(opinion(&text), &[("opinion", &text)]);
    assert_eq!(found.first().map(|p| p.code), Some("opinion/name"));
    let text = edited(OPINION, "a joiner", &"a".repeat(200));
    assert!(opinion(&text).is_ok());
}

#[test]
fn a_whole_pack_is_an_opinion() {
    let found = opinion(PACK).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(found.name, "the pack opinion");
    let pack = edited(PACK, "strength = 8.0", "strength = 0.0");
    let broken = problems(opinion(&pack), &[("opinion", &pack), ("library", LIBRARY)]);
    assert_eq!(broken.first().map(|p| p.code), Some("pack/strength"));
}

#[test]
fn a_pack_that_the_case_does_not_go_with() {
    let pack = PACK.replace("\"out-of-square\"", "\"off-square\"");
    let found = problems(opinion(&pack), &[("case", CASE)]);
    let first = found.first().map(ToString::to_string).unwrap_or_default();
    assert!(
        first.starts_with(
            "case:50:1: under the pack `opinion`: unknown measure `out-of-square`, perhaps \
             `off-square`"
        ),
        "{first}"
    );
}

/// Two opinions, each sure of what the other rules out.
#[test]
fn opinions_that_leave_nothing_between_them() {
    let sure = |id: &str| {
        let text =
            format!("schema = \"oddment/opinion/1\"\nname = \"{id}\"\n[prior]\n{id} = 1.0\n");
        opinion(&text).unwrap_or_else(|error| panic!("{error}"))
    };
    let pooled = pool(&[sure("as-made"), sure("made-up")]);
    let pooled = pooled.unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(pooled.linear, [0.5, 0.0, 0.0, 0.5]);
    assert!(pooled.logarithmic.is_empty());
}
