//! Packs and libraries that name what is not there.
use super::{check_libraries, check_packs};

#[test]
fn in_a_pack_references() {
    check_packs(&[
        (
            "source = \"elicited\"\n\n[dates]",
            "source = \"elicted\"\n\n[dates]",
            "pack:10:1: unknown source `elicted`, perhaps `elicited`; valid: elicited [pack/unknown-id]",
        ),
        (
            r#"strength = 20, source = "elicited""#,
            r#"strength = 20, source = "elicits""#,
            "pack:119:50: unknown source `elicits`, perhaps `elicited`; valid: elicited [pack/unknown-id]",
        ),
        (
            r#"part = "seat""#,
            r#"part = "seats""#,
            "pack:173:1: unknown part `seats`, perhaps `seat`; valid: feet, frame, seat [pack/unknown-id]",
        ),
        (
            r#"parts = ["frame", "feet"]"#,
            r#"parts = ["frame", "foot"]"#,
            "pack:140:19: unknown part `foot`, perhaps `feet`; valid: feet, frame, seat [pack/unknown-id]",
        ),
        (
            r#"check = "turn-over""#,
            r#"check = "turn-ovr""#,
            "pack:131:1: unknown check `turn-ovr`, perhaps `turn-over`; valid: look, turn-over [pack/unknown-id]",
        ),
        (
            "unit = \"mm\"\ncheck = \"look\"",
            "unit = \"mm\"\ncheck = \"lok\"",
            "pack:161:1: unknown check `lok`, perhaps `look`; valid: look, turn-over [pack/unknown-id]",
        ),
        (
            "levels = [\"none\", \"some\", \"plain\"]\ngroup = \"seating\"",
            "levels = [\"none\", \"some\", \"plain\"]\ngroup = \"seats\"",
            "pack:144:1: unknown group `seats`; valid: seating [pack/unknown-id]",
        ),
        (
            "caused_by = { flooded",
            "caused_by = { flodded",
            "pack:146:15: unknown incident `flodded`, perhaps `flooded`; valid: flooded, refinished [pack/unknown-id]",
        ),
        (
            "hidden_by = { refinished",
            "hidden_by = { refinish",
            "pack:147:15: unknown incident `refinish`, perhaps `refinished`; valid: flooded, refinished [pack/unknown-id]",
        ),
        (
            r#"incident = "flooded""#,
            r#"incident = "flood""#,
            "pack:168:1: unknown incident `flood`, perhaps `flooded`; valid: flooded, refinished [pack/unknown-id]",
        ),
        (
            r#"shares = "frame""#,
            r#"shares = "fame""#,
            "pack:71:21: unknown part `fame`, perhaps `frame`; valid: feet, frame, seat [pack/unknown-id]",
        ),
        (
            "frame = { older = 40 }",
            "fraem = { older = 40 }",
            "pack:88:47: unknown part `fraem`, perhaps `frame`; valid: feet, frame, seat [pack/unknown-id]",
        ),
        (
            r#"after = "revival""#,
            r#"after = "revivals""#,
            "pack:79:21: unknown later_work `revivals`, perhaps `revival`; valid: revival [pack/unknown-id]",
        ),
        (
            r#"variant = "plain""#,
            r#"variant = "plane""#,
            "pack:99:1: unknown variant `plane`, perhaps `plain`; valid: carved, plain [pack/unknown-id]",
        ),
        (
            "as-made = 700",
            "as-mode = 700",
            "pack:101:12: unknown history `as-mode`, perhaps `as-made`; valid: as-made, made-up, new-seat [pack/unknown-id]",
        ),
        (
            r#"variants = ["plain"]"#,
            r#"variants = ["carved", "plainer"]"#,
            "pack:105:23: unknown variant `plainer`, perhaps `plain`; valid: carved, plain [pack/unknown-id]",
        ),
        (
            r#"periods = ["late"]"#,
            r#"periods = ["later"]"#,
            "pack:106:12: unknown period `later`, perhaps `late`; valid: early, late [pack/unknown-id]",
        ),
        (
            r#"regions = ["england"]"#,
            r#"regions = ["wales"]"#,
            "pack:107:12: unknown region `wales`; valid: england [pack/unknown-id]",
        ),
        (
            "factor = { faked",
            "factor = { fake",
            "pack:108:12: unknown selector `fake`, perhaps `faked`; valid: any, as-made, converted, fabricated, faked, later-top, made-up, married, new-seat, original, untouched [pack/unknown-id]",
        ),
        (
            "married = 0.2, made-up = 0.3",
            "married = 0.2, made-down = 0.3",
            "pack:133:42: unknown selector `made-down`; valid: any, as-made, converted, fabricated, faked, later-top, made-up, married, new-seat, original, untouched [pack/unknown-id]",
        ),
        (
            "rate = { original",
            "rate = { as-maed",
            "pack:119:10: unknown selector `as-maed`, perhaps `as-made`; valid: any, as-made, converted, fabricated, faked, later-top, made-up, married, new-seat, original, untouched [pack/unknown-id]",
        ),
        (
            "faked = { family",
            "fakes = { family",
            "pack:164:67: unknown selector `fakes`, perhaps `faked`; valid: any, as-made, converted, fabricated, faked, later-top, made-up, married, new-seat, original, untouched [pack/unknown-id]",
        ),
        (
            "faked = { moisture_fall",
            "fabricate = { moisture_fall",
            "pack:183:1: unknown selector `fabricate`, perhaps `fabricated`; valid: any, as-made, converted, fabricated, faked, later-top, made-up, married, new-seat, original, untouched [pack/unknown-id]",
        ),
        (
            r#"from = "saw-arcs""#,
            r#"from = "saw-arc""#,
            "pack:153:1: unknown library sign `saw-arc`, perhaps `saw-arcs`; valid: foot-rot, saw-arcs [pack/unknown-id]",
        ),
        (
            r#"from = "refinished""#,
            r#"from = "refinish""#,
            "pack:118:1: unknown library incident `refinish`, perhaps `refinished`; valid: damp, refinished [pack/unknown-id]",
        ),
        (
            "[[sign]]\nfrom",
            "[[check]]\nfrom = \"turn-it-over\"\n\n[[sign]]\nfrom",
            "pack:153:1: unknown library check `turn-it-over`, perhaps `turn-over`; valid: look, turn-over [pack/unknown-id]",
        ),
        (
            r#"unit = "mm""#,
            r#"unit = "cm""#,
            "pack:160:1: unknown unit `cm`, perhaps `mm`; valid: count, degrees, kg, mm, mm-per-m, percent, ratio, steps, years [pack/unit]",
        ),
    ]);
}

#[test]
fn in_a_library_references() {
    check_libraries(&[
        (
            r#"cautions = ["lifting"]"#,
            r#"cautions = ["lift"]"#,
            "library:40:13: unknown caution `lift`; valid: lifting [pack/unknown-id]",
        ),
        (
            r#"curve = "circular-saw""#,
            r#"curve = "circlar-saw""#,
            "library:66:11: unknown curve `circlar-saw`, perhaps `circular-saw`; valid: circular-saw [pack/unknown-id]",
        ),
        (
            r#"note = "Invented.""#,
            "note = \"Invented.\"\nsource = \"nobody\"",
            "library:28:1: unknown source `nobody`; valid: elicited [pack/unknown-id]",
        ),
    ]);
}
