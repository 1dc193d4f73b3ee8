//! Generated packs load, compile and assess.

use oddment::{Case, Pack, Text, assess};
use oddment_tests::generated_pack::{self, LARGE};

#[test]
fn the_large_generated_piece_is_assessed() {
    let (library, pack) = (generated_pack::library(), generated_pack::pack(LARGE, 7));
    let pack = Pack::load(Text::new("pack", &pack), Text::new("library", &library))
        .unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(
        (
            pack.histories.len(),
            pack.incidents.len(),
            pack.sign_places()
        ),
        (14, 12, 60)
    );
    let text = generated_pack::case(LARGE, 2, 7);
    let case = Case::load(Text::new("case", &text), &pack).unwrap_or_else(|e| panic!("{e}"));
    let assessment = assess(&pack, &case).unwrap_or_else(|error| panic!("{error}"));
    let total: f64 = assessment
        .verdicts
        .iter()
        .map(|verdict| verdict.probability)
        .sum();
    assert!((total - 1.0).abs() < 1e-12, "{total}");
}
