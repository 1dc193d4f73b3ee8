//! Packs and libraries that do not read, or are named amiss.
use super::{check_libraries, check_packs};

#[test]
fn in_a_pack_texts_that_do_not_read() {
    check_packs(&[
        (
            "id = \"stool\"\n",
            "id = \"stool\n",
            r#"pack:3:12: the text in quotes has no end on its line; close it with `"` [pack/syntax]"#,
        ),
        (
            "[defaults]",
            "[defaults",
            "pack:8:10: unclosed table, expected `]` [pack/syntax]",
        ),
        (
            r#"made_from = "planks""#,
            "made_from = planks",
            r#"pack:28:13: `planks` must stand in quotes: "planks" [pack/syntax]"#,
        ),
        (
            r#"name = "Joint stool""#,
            r#"name = "Joint\qstool""#,
            r#"pack:4:15: `\q` is no escape; write `\\` for a backslash, or one of `b`, `e`, `f`, `n`, `r`, `\`, `"`, `x`, `u`, `U` [pack/syntax]"#,
        ),
        (
            r#"name = "Joint stool""#,
            "name = \"Joint\0stool\"",
            "pack:4:14: the character U+0000 cannot stand here; remove it [pack/syntax]",
        ),
        (
            r#"version = "1""#,
            "version = 1",
            "pack:5:11: invalid type: integer `1`, expected a string in quotes [pack/syntax]",
        ),
        (
            "from = 1600",
            "from = 1600.5",
            "pack:13:8: invalid type: floating point `1600.5`, expected a whole number [pack/syntax]",
        ),
        (
            "shoulder = 15.0",
            r#"shoulder = "15""#,
            r#"pack:16:12: invalid type: string "15", expected a number [pack/syntax]"#,
        ),
        (
            "summary = \"Invented for tests.\"\n",
            "",
            "pack:1:1: missing field `summary` [pack/syntax]",
        ),
        (
            "made_from = \"planks\"\n",
            "",
            "pack:24:1: missing field `made_from` [pack/syntax]",
        ),
        (
            "name = \"Seat\"\ndated",
            "nmae = \"Seat\"\ndated",
            "pack:48:1: unknown field `nmae`, expected one of `id`, `name`, `dated`, `variants`, `note`; perhaps `name` [pack/syntax]",
        ),
        (
            r#"kind = "untouched""#,
            "kind = \"untouched\"\nmotive = \"none\"",
            "pack:69:1: unknown field `motive`, expected one of `id`, `verdict`, `kind`, `name`, `story`, `elasticity`, `origin` [pack/syntax]",
        ),
        (
            r#"verdict = "faked""#,
            r#"verdict = "fake""#,
            "pack:83:11: unknown variant `fake`, expected one of `original`, `married`, `converted`, `faked`; perhaps `faked` [pack/syntax]",
        ),
        (
            "reliability = { exact = 0.75 }",
            "reliability = { exact = 0.75, found = 0.8 }",
            "pack:148:15: reliability has found, exact; give `found` and `cleared` for a yes/no sign, or `exact` for a sign of more levels [pack/syntax]",
        ),
        (
            "reliability = { exact = 0.75 }",
            "reliability = { extact = 0.75 }",
            "pack:148:17: unknown field `extact`, expected one of `found`, `cleared`, `exact`; perhaps `exact` [pack/syntax]",
        ),
        (
            "reliability = { exact = 0.75 }",
            "reliability = {}",
            "pack:148:15: reliability has nothing; give `found` and `cleared` for a yes/no sign, or `exact` for a sign of more levels [pack/syntax]",
        ),
        (
            "{ mean = 0.3, strength = 20, source",
            "{ man = 0.3, strength = 20, source",
            "pack:119:23: unknown field `man`, expected one of `mean`, `strength`, `source`, `structural`; perhaps `mean` [pack/syntax]",
        ),
        (
            "married = 0.2, made-up = 0.3",
            r#"married = "0.2", made-up = 0.3"#,
            r#"pack:133:37: invalid type: string "0.2", expected a number, a table with `mean`, or a list of chances [pack/syntax]"#,
        ),
        (
            "married = 0.2, made-up = 0.3",
            "married = 0.2, married = 0.3",
            "pack:133:42: `married` is given twice; remove one [pack/syntax]",
        ),
        (
            "coupling = 0.5",
            "coupling = [0.5]",
            "pack:114:12: invalid type: sequence, expected a number or a table with `mean` [pack/syntax]",
        ),
        (
            r#"{ after = "revival" }"#,
            r#"{ later = "revival" }"#,
            "pack:79:21: unknown variant `later`, expected one of `claim`, `between`, `after`, `older`, `shares`; perhaps `after` [pack/syntax]",
        ),
        (
            "{ older = 40 }",
            r#""old""#,
            "pack:88:55: unknown variant `old`, expected one of `claim`, `between`, `after`, `older`, `shares`; perhaps `older` [pack/syntax]",
        ),
        (
            "origin = { seat = { between = [1880, 1930] }",
            "origin = { seat = { between = [1880] }",
            "pack:88:31: must be a list of two years [pack/syntax]",
        ),
        (
            "dated = true\n\n[[part]]\nid = \"frame\"",
            "dated = \"yes\"\n\n[[part]]\nid = \"frame\"",
            r#"pack:49:9: invalid type: string "yes", expected `true` or `false` [pack/syntax]"#,
        ),
        (
            "[1890, 1.0]",
            "[1890, 1.0, 2.0]",
            "pack:62:24: invalid length 3, expected a list of two numbers [pack/syntax]",
        ),
        (
            "plausible = [200.0, 1000.0]",
            "plausible = [200.0, 560.0, 1000.0]",
            "pack:163:13: invalid length 3, expected a list of two numbers [pack/syntax]",
        ),
        (
            "between = [1880, 1930]",
            "between = [1880, 1900, 1930]",
            "pack:88:31: must be a list of two years [pack/syntax]",
        ),
        (
            "[[period]]\nid = \"early\"",
            "[period]\nid = \"early\"",
            "pack:36:3: `period` is given twice; remove one [pack/syntax]",
        ),
    ]);
}

#[test]
fn in_a_library_texts_that_do_not_read() {
    check_libraries(&[
        (
            r#"standing = "elicited""#,
            r#"standing = "guessed""#,
            "library:20:12: unknown variant `guessed`, expected one of `read`, `read-in-part`, `from-memory`, `common-practice`, `elicited` [library/syntax]",
        ),
        (
            r#"access = "walk-by""#,
            r#"access = "walk""#,
            "library:47:10: unknown variant `walk`, expected one of `walk-by`, `open`, `turn-over`, `dismantle`, `laboratory`, `papers` [library/syntax]",
        ),
        (
            "points = [[1780, 0.02], [1830, 0.5]",
            "points = [[1780, 0.02], [1830]",
            "library:25:25: invalid length 1, expected a list of two numbers [library/syntax]",
        ),
    ]);
}

#[test]
fn in_a_pack_another_kind_of_file() {
    check_packs(&[(
        r#"schema = "oddment/pack/1""#,
        r#"schema = "oddment/pack/2""#,
        "pack:2:1: schema `oddment/pack/2` is not supported, must be `oddment/pack/1` [pack/schema]",
    )]);
}

#[test]
fn in_a_library_another_kind_of_file() {
    check_libraries(&[(
        r#"schema = "oddment/library/1""#,
        r#"schema = "oddment/libary/1""#,
        "library:2:1: schema `oddment/libary/1` is not supported, must be `oddment/library/1` [library/schema]",
    )]);
}

#[test]
fn in_a_pack_ids() {
    check_packs(&[
        (
            r#"id = "stool""#,
            r#"id = "Joint Stool""#,
            "pack:3:1: form id `Joint Stool` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            r#"id = "carved""#,
            r#"id = "carved!""#,
            "pack:19:1: variant id `carved!` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            r#"id = "england""#,
            r#"id = """#,
            "pack:43:1: region id `` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            "[[region]]\nid = \"england\"",
            "[[region]]\nid = \"eeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeee\"",
            "pack:43:1: region id `eeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeeee...` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            r#"id = "as-made""#,
            r#"id = "faked""#,
            "pack:66:1: history id `faked` is also a verdict, a kind or `any`; give it a name that selects nothing else [pack/bad-id]",
        ),
        (
            r#"id = "as-made""#,
            r#"id = "fabricated""#,
            "pack:66:1: history id `fabricated` is also a verdict, a kind or `any`; give it a name that selects nothing else [pack/bad-id]",
        ),
        (
            r#"kind = "untouched""#,
            r#"kind = "faked""#,
            "pack:68:1: kind `faked` selects other histories too; choose a word that is no verdict and not `any` [pack/bad-id]",
        ),
        (
            r#"kind = "untouched""#,
            r#"kind = "Untouched""#,
            "pack:68:1: kind `Untouched` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            r#"id = "flooded""#,
            r#"id = "Flooded""#,
            "pack:122:1: incident id `Flooded` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            r#"id = "seat-fits""#,
            r#"id = "seat_fits""#,
            "pack:128:1: sign id `seat_fits` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            r#"id = "height""#,
            r#"id = "Height""#,
            "pack:157:1: measure id `Height` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            r#"id = "plain""#,
            r#"id = "carved""#,
            "pack:25:1: variant `carved` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            r#"id = "late""#,
            r#"id = "early""#,
            "pack:37:1: period `early` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            r#"id = "feet""#,
            r#"id = "frame""#,
            "pack:57:1: part `frame` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            r#"id = "new-seat""#,
            r#"id = "as-made""#,
            "pack:74:1: history `as-made` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            r#"id = "out-of-square""#,
            r#"id = "height""#,
            "pack:172:1: measure `height` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            r#"id = "height""#,
            r#"id = "wear""#,
            "pack:157:1: `wear` is the id of a sign and of a measure; rename one [pack/duplicate-id]",
        ),
        (
            r#"id = "height""#,
            r#"id = "saw-arcs""#,
            "pack:157:1: `saw-arcs` is the id of a sign and of a measure; rename one [pack/duplicate-id]",
        ),
        (
            r#"id = "wear""#,
            r#"id = "seat-fits""#,
            "pack:139:1: sign `seat-fits` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            r#"id = "wear""#,
            r#"id = "saw-arcs""#,
            "pack:153:1: sign `saw-arcs` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            r#"id = "flooded""#,
            r#"id = "refinished""#,
            "pack:122:1: incident `refinished` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            "[[group]]",
            "[[source]]\nid = \"seen\"\nreference = \"a\"\nstanding = \"read\"\n[[source]]\nid = \"seen\"\nreference = \"b\"\nstanding = \"read\"\n\n[[group]]",
            "pack:116:1: source `seen` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
    ]);
}

#[test]
fn in_a_library_ids() {
    check_libraries(&[
        (
            r#"id = "lifting""#,
            r#"id = "Lifting""#,
            "library:30:1: caution id `Lifting` must be 1 to 80 lower-case letters, digits and hyphens [pack/bad-id]",
        ),
        (
            r#"id = "damp""#,
            r#"id = "refinished""#,
            "library:57:1: incident `refinished` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            r#"id = "foot-rot""#,
            r#"id = "saw-arcs""#,
            "library:73:1: sign `saw-arcs` is defined twice; rename or remove one [pack/duplicate-id]",
        ),
        (
            r#"id = "look""#,
            r#"id = "turn-over""#,
            "pack:142:1: unknown check `look`; valid: turn-over [pack/unknown-id]",
        ),
    ]);
}
