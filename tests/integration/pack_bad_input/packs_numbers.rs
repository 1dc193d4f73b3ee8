//! Packs and libraries with numbers that cannot be.
use super::{check_libraries, check_packs};

#[test]
fn in_a_pack_numbers() {
    check_packs(&[
        (
            "married = 0.2, made-up = 0.3",
            "married = 0.0, made-up = 0.3",
            "pack:133:27: 0 must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = true` [pack/number]",
        ),
        (
            "married = 0.2, made-up = 0.3",
            "married = 1.2, made-up = 0.3",
            "pack:133:27: 1.2 must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = true` [pack/number]",
        ),
        (
            "married = 0.2, made-up = 0.3",
            "married = nan, made-up = 0.3",
            "pack:133:27: NaN must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = true` [pack/number]",
        ),
        (
            "married = 0.2, made-up = 0.3",
            "married = { mean = 0.5, structural = true }, made-up = 0.3",
            "pack:133:39: 0.5 is marked `structural = true`, which only a true 0 or 1 can be; leave `structural` out [pack/number]",
        ),
        (
            "rate = { any = 0.1 }",
            "rate = { any = inf }",
            "pack:125:10: inf must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = true` [pack/number]",
        ),
        (
            "coupling = 0.5",
            "coupling = 1.5",
            "pack:114:1: 1.5 must lie between 0 and 1 [pack/number]",
        ),
        (
            "elasticity = 0.5",
            "elasticity = -0.5",
            "pack:87:1: -0.5 must be finite, not negative and at most 1,000,000 [pack/number]",
        ),
        (
            "factor = { faked = 0.5 }",
            "factor = { faked = -1 }",
            "pack:108:12: -1 must be finite, not negative and at most 1,000,000 [pack/number]",
        ),
        (
            "any = [0.2, 0.3, 0.5]",
            "any = [0.2, 0.8]",
            "pack:145:11: the row has 2 chances, 3 are needed, one for each level [pack/row]",
        ),
        (
            "any = [0.2, 0.3, 0.5]",
            "any = [0.2, 0.3, 0.4]",
            "pack:145:11: the row sums to 0.9, must sum to 1 [pack/row-sum]",
        ),
        (
            "any = [0.2, 0.3, 0.5]",
            "any = [0.0, 0.5, 0.5]",
            "pack:145:18: 0 must lie strictly between 0 and 1, as every chance of a row [pack/number]",
        ),
        (
            "any = [0.2, 0.3, 0.5]",
            "any = 0.5",
            "pack:145:11: a single chance for a sign of 3 levels; give a row of 3 chances, one for each level [pack/row]",
        ),
        (
            "married = 0.2, made-up = 0.3",
            "married = [0.8, 0.2], made-up = 0.3",
            "pack:133:27: a row of 2 chances for a yes/no sign, which takes a single chance [pack/row]",
        ),
        (
            "flooded = [0.5, 0.4, 0.1]",
            "flooded = [0.5, 0.4, 0.3]",
            "pack:146:15: the row sums to 1.2, must sum to 1 [pack/row-sum]",
        ),
        (
            "strength = 8.0",
            "strength = 0",
            "pack:9:1: strength 0 must be a number of pieces above 0 and at most 1,000,000 [pack/strength]",
        ),
        (
            r#"points_to = "One making.""#,
            "points_to = \"One making.\"\nstrength = 0.0",
            "pack:136:1: strength 0 must be a number of pieces above 0 and at most 1,000,000 [pack/strength]",
        ),
        (
            r#"points_to = "Age.""#,
            "points_to = \"Age.\"\nstrength = -3",
            "pack:180:1: strength -3 must be a number of pieces above 0 and at most 1,000,000 [pack/strength]",
        ),
        (
            "refinished = { mean = 0.1, strength = 4 }",
            "refinished = { mean = 0.1, strength = nan }",
            "pack:147:42: strength NaN must be a number of pieces above 0 and at most 1,000,000 [pack/strength]",
        ),
        (
            "price_ratio = 1.0",
            "price_ratio = 0.0",
            "pack:27:1: price ratio 0 must be 0.01 to 1000 [pack/number]",
        ),
        (
            "variant = \"carved\"\nreason = \"Invented.\"",
            "variant = \"carved\"\nreason = \"Invented.\"\nstrength = 2e6",
            "pack:93:1: strength 2000000 must be a number of pieces above 0 and at most 1,000,000 [pack/strength]",
        ),
    ]);
}

#[test]
fn in_a_library_numbers() {
    check_libraries(&[
        (
            r#"points_to = "Wood sawn after about 1830.""#,
            "points_to = \"Wood sawn after about 1830.\"\nsource = \"nobody\"",
            "library:70:1: unknown source `nobody`; valid: elicited [pack/unknown-id]",
        ),
        (
            "poor_factor = 0.2",
            "poor_factor = 1.2",
            "library:11:1: 1.2 must lie between 0 and 1 [pack/number]",
        ),
        (
            "poor_instrument = 3.0",
            "poor_instrument = 0.5",
            "library:12:1: poor_instrument 0.5 must be 1 to 100 [pack/number]",
        ),
        (
            "doubtful = 0.5",
            "doubtful = -0.5",
            "library:15:1: -0.5 must lie between 0 and 1 [pack/number]",
        ),
        (
            "minutes = 15.0",
            "minutes = 0",
            "library:37:1: minutes 0 must be above 0 and at most 100,000 [pack/number]",
        ),
        (
            "visible = 0.6",
            "visible = 1.6",
            "library:66:35: 1.6 must lie between 0 and 1 [pack/number]",
        ),
        (
            "hidden_by = { refinished = 0.3",
            "hidden_by = { refinished = 3.0",
            "library:67:15: 3 must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = true` [pack/number]",
        ),
        (
            "reliability = { found = 0.8",
            "reliability = { found = 8",
            "library:68:17: 8 must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = true` [pack/number]",
        ),
        (
            "[examination]\npoor = 0.05",
            "[examination]\npoor = 0.0",
            "library:10:1: 0 must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = true` [pack/number]",
        ),
    ]);
}

#[test]
fn in_a_pack_priors() {
    check_packs(&[
        (
            "as-made = 700",
            "as-made = 600",
            "pack:101:1: counts sum to 900, must sum to 1000 [pack/row-sum]",
        ),
        (
            "made-up = 200\n",
            "",
            "pack:93:8: counts sum to 800, must sum to 1000 [pack/row-sum]",
        ),
        (
            "as-made = 500",
            "as-made = nan",
            "pack:94:1: NaN must be finite, not negative and at most 1,000,000 [pack/number]",
        ),
        (
            "[[prior]]\nvariant = \"plain\"",
            "[[prior]]\nvariant = \"carved\"",
            "pack:99:1: variant `carved` has two priors; remove one [pack/duplicate-id]",
        ),
        (
            "[[prior]]\nvariant = \"plain\"\nreason = \"Invented.\"\ncounts = { as-made = 700, new-seat = 200, made-up = 100 }\n",
            "",
            "pack:24:1: variant `plain` has no [[prior]]; give one [pack/missing]",
        ),
    ]);
}
