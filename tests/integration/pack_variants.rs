//! Parts that only some variants have: what is looked for there is asked of those alone.

use oddment::ask::PracticeOptions;
use oddment::practice::practice;
use oddment::{Case, Error, NextOptions, Pack, Text, assess, look_next, packs};

const PACK: &str = include_str!("pack_bad_input/pack.toml");
const LIBRARY: &str = include_str!("pack_bad_input/library.toml");
const FEET: &str = "id = \"feet\"\nname = \"Feet\"\n";

fn read(pack: &str) -> Result<Pack, Error> {
    packs::compose(Text::new("pack", pack), Text::new("library", LIBRARY))
}

/// The pack with something more said of its part `feet`.
fn feet(more: &str) -> String {
    assert!(PACK.contains(FEET));
    PACK.replace(FEET, &format!("{FEET}{more}\n"))
}

/// What is wrong, which must be one thing.
fn problem(result: Result<Pack, Error>) -> String {
    let error = result.expect_err("it cannot load");
    let [only] = error.problems() else {
        panic!("more than one thing: {error}");
    };
    only.to_string()
}

fn case(pack: &Pack, variant: &str, rest: &str) -> Result<Case, Error> {
    let text = format!(
        "schema = \"oddment/case/1\"\n[piece]\nform = \"stool\"\nvariant = \"{variant}\"\n\
         period = \"early\"\nregion = \"england\"\n{rest}"
    );
    Case::load(Text::new("case", &text), pack)
}

const WORN_FEET: &str = "[[finding]]\nsign = \"wear\"\npart = \"feet\"\nfound = \"some\"\n";

#[test]
fn a_variant_that_is_not_there_is_refused_where_it_stands() {
    let said = problem(read(&feet("variants = [\"plane\"]")));
    assert!(said.starts_with("pack:59:13: "), "{said}");
    assert!(said.contains("perhaps `plain`"), "{said}");
}

#[test]
fn a_part_of_no_variant_is_refused() {
    let said = problem(read(&feet("variants = []")));
    assert_eq!(
        said,
        "pack:59:1: `variants` names none, so nothing would have it; leave it out for all \
         [pack/variants]"
    );
}

#[test]
fn a_sign_asked_only_of_variants_without_its_part_is_refused() {
    let pack = feet("variants = [\"plain\"]").replace(
        "parts = [\"frame\", \"feet\"]",
        "parts = [\"frame\", \"feet\"]\nvariants = [\"carved\"]",
    );
    let said = problem(read(&pack));
    assert!(
        said.contains("none of the `variants` here has one of the parts here"),
        "{said}"
    );
    assert!(said.ends_with("[pack/variants]"), "{said}");
}

#[test]
fn a_sign_at_several_parts_is_asked_at_those_a_piece_has() {
    let pack = read(&feet("variants = [\"plain\"]")).expect("it is valid");
    let [carved, plain] = ["carved", "plain"].map(|id| {
        let place = pack.variants.iter().position(|variant| variant.id == id);
        place.expect("a variant of the pack")
    });
    let wear = &pack.signs[pack.find_sign("wear").expect("a sign of the pack")];
    let parts = |variant| {
        let parts = pack.parts_of(wear, variant);
        parts.map(|part| &*pack.parts[part].id).collect::<Vec<_>>()
    };
    assert_eq!(parts(carved), ["frame"]);
    assert_eq!(parts(plain), ["frame", "feet"]);
    // A measure has one part, so it goes with it.
    let height = pack.measures.iter().find(|measure| measure.id == "height");
    assert_eq!(
        height.expect("a measure of the pack").variants,
        Some(vec![plain])
    );
}

#[test]
fn what_stands_in_a_case_of_a_piece_without_the_part_is_refused() {
    let pack = read(&feet("variants = [\"plain\"]")).expect("it is valid");
    assert!(case(&pack, "plain", WORN_FEET).is_ok());
    let error = case(&pack, "carved", WORN_FEET).expect_err("it has no such part");
    assert_eq!(
        error.problems()[0].to_string(),
        "case:9:1: `feet` is a part only of plain, and this piece is offered as `carved`; leave it \
         out [case/variant]"
    );
    // That it could not be looked at says nothing, whatever it is.
    let none = WORN_FEET.replace("\"some\"", "\"no-access\"");
    assert!(case(&pack, "carved", &none).is_ok());
}

#[test]
fn nothing_is_suggested_or_dated_where_the_part_is_missing() {
    let text = PACK.replace(
        "id = \"frame\"\nname = \"Frame\"\n",
        "id = \"frame\"\nname = \"Frame\"\nvariants = [\"plain\"]\n",
    );
    let pack = read(&text).expect("it is valid");
    for (variant, has) in [("carved", false), ("plain", true)] {
        let case = case(&pack, variant, "").expect("it is valid");
        let answer = assess(&pack, &case).expect("nothing is found that could contradict");
        assert_eq!(
            answer.not_looked.iter().any(|look| look.part == "frame"),
            has
        );
        assert_eq!(answer.dates.iter().any(|date| date.part == "frame"), has);
        let outlook = look_next(&pack, &case, &NextOptions::default()).expect("there is something");
        let mut answers = outlook.checks.iter().flat_map(|check| &check.answers);
        assert_eq!(answers.any(|answer| answer.part == "frame"), has);
        let options = PracticeOptions {
            variant: Some(variant.into()),
            ..PracticeOptions::default()
        };
        let asked = options.checked().expect("these options are valid");
        let piece = practice(&pack, &asked).expect("a piece can be drawn");
        assert_eq!(
            piece.truth.signs.iter().any(|sign| sign.part == "frame"),
            has
        );
        assert_eq!(
            piece.truth.dates.iter().any(|date| date.part == "frame"),
            has
        );
    }
    let page = oddment::new_case(&pack);
    assert!(page.contains("# Only for: plain"), "{page}");
}
