//! Packs and libraries with signs or measures that do not hold together.
use super::{check_libraries, check_packs};

#[test]
fn in_a_pack_signs() {
    check_packs(&[
        (
            r#"parts = ["seat"]"#,
            "parts = []",
            "pack:129:1: sign `seat-fits` is at no part; name at least one [pack/sign]",
        ),
        (
            r#"parts = ["frame", "feet"]"#,
            r#"parts = ["frame", "frame"]"#,
            "pack:140:19: part `frame` is listed twice; remove one [pack/sign]",
        ),
        (
            r#"parts = ["seat", "frame"]"#,
            r#"parts = ["seat", "feet"]"#,
            "pack:154:18: a dated sign needs a part with `dated = true`, which `feet` is not [pack/sign]",
        ),
        (
            r#"parts = ["seat", "frame"]"#,
            "parts = [\"seat\", \"frame\"]\ngroup = \"seating\"",
            "pack:155:1: `saw-arcs` is dated and cannot share the clarity of group `seating`; leave out `group` [pack/sign]",
        ),
        (
            r#"parts = ["seat", "frame"]"#,
            "parts = [\"seat\", \"frame\"]\nlevels = [\"no\", \"some\", \"yes\"]",
            "pack:155:1: `saw-arcs` is dated and so a yes/no sign; leave out `levels` [pack/sign]",
        ),
        (
            r#"parts = ["seat", "frame"]"#,
            "",
            "pack:152:1: sign `saw-arcs` has no `parts`; give one [pack/missing]",
        ),
        (
            r#"parts = ["seat", "frame"]"#,
            "parts = [\"seat\", \"frame\"]\nhidden_by = { refinished = 7 }",
            "pack:155:15: 7 must lie strictly between 0 and 1; mark a true 0 or 1 with `structural = true` [pack/number]",
        ),
        (
            r#"points_to = "One making.""#,
            "points_to = \"One making.\"\ndated = { curve = \"circular-saw\", visible = 0.5 }",
            "pack:127:1: sign `seat-fits` has both of `shows` and `dated`; remove one [pack/sign]",
        ),
        (
            "shows = { original = 0.9, married = 0.2, made-up = 0.3 }\n",
            "",
            "pack:127:1: sign `seat-fits` has neither of `shows` and `dated`; give one [pack/sign]",
        ),
        (
            r#"levels = ["none", "some", "plain"]"#,
            r#"levels = ["none"]"#,
            r#"pack:143:1: levels `none` must be 2 to 9 different names, "not there" first, and not `not-looked` or `no-access` [pack/sign]"#,
        ),
        (
            r#"levels = ["none", "some", "plain"]"#,
            r#"levels = ["none", "some", "some"]"#,
            r#"pack:143:1: levels `none, some, some` must be 2 to 9 different names, "not there" first, and not `not-looked` or `no-access` [pack/sign]"#,
        ),
        (
            r#"levels = ["none", "some", "plain"]"#,
            r#"levels = ["none", "not-looked", "plain"]"#,
            r#"pack:143:1: levels `none, not-looked, plain` must be 2 to 9 different names, "not there" first, and not `not-looked` or `no-access` [pack/sign]"#,
        ),
        (
            "reliability = { exact = 0.75 }",
            "reliability = { found = 0.8, cleared = 0.9 }",
            "pack:148:1: `wear` is a sign of 3 levels: give `exact`, not `found` and `cleared` [pack/sign]",
        ),
        (
            "reliability = { found = 0.85, cleared = 0.9 }",
            "reliability = { exact = 0.75 }",
            "pack:134:1: `seat-fits` is a yes/no sign: give `found` and `cleared`, not `exact` [pack/sign]",
        ),
        (
            "reliability = { found = 0.85, cleared = 0.9 }",
            "reliability = { found = 0.85 }",
            "pack:134:15: reliability has found; give `found` and `cleared` for a yes/no sign, or `exact` for a sign of more levels [pack/syntax]",
        ),
        (
            "reliability = { found = 0.85, cleared = 0.9 }\n",
            "",
            "pack:127:1: sign `seat-fits` has no `reliability`; give one [pack/missing]",
        ),
        (
            "id = \"seat-fits\"\n",
            "",
            "pack:127:1: this sign has no `id`; give one [pack/missing]",
        ),
        (
            r#"innocent = "Re-pegged.""#,
            "",
            "pack:127:1: sign `seat-fits` has no `innocent`; give one [pack/missing]",
        ),
        (
            "rate = { any = 0.1 }\n",
            "",
            "pack:121:1: incident `flooded` has no `rate`; give one [pack/missing]",
        ),
    ]);
}

#[test]
fn in_a_library_signs() {
    check_libraries(&[
        (
            "check = \"turn-over\"\ndated",
            "dated",
            "pack:152:1: sign `saw-arcs` has no `check`; give one [pack/missing]",
        ),
        (
            "how = \"Look.\"\n",
            "",
            "library:42:1: check `look` has no `how`; give one [pack/missing]",
        ),
        (
            "name = \"Refinished\"\n",
            "",
            "pack:117:1: incident `refinished` has no `name`; give one [pack/missing]",
        ),
    ]);
}

#[test]
fn in_a_pack_measures() {
    check_packs(&[
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "normal", mean = 530.0, sd = 0.0 }"#,
            "pack:169:46: sd is 0.0: it must be a number from 1e-100 to 1e100 [pack/density]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "log-normal", median = 530.0, spread = 0.5 }"#,
            "pack:169:52: spread is 0.5: it must be a number from 1.000001 to 1000000.0 [pack/density]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "gamma", shape = 0.0, scale = 1.0 }"#,
            "pack:169:31: shape is 0.0: it must be a number from 0.01 to 1000000.0 [pack/density]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "student-t", location = 530.0, scale = 1.0, degrees = 0.1 }"#,
            "pack:169:66: degrees is 0.1: it must be a number from 0.5 to 1000000.0 [pack/density]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "half-normal", scale = -1.0 }"#,
            "pack:169:37: scale is -1.0: it must be a number from 1e-100 to 1e100 [pack/density]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "uniform", low = 700.0, high = 500.0 }"#,
            "pack:169:33: low is 700.0 but the upper limit is 500.0: it must be less [pack/density]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "mixture", parts = [] }"#,
            "pack:169:33: parts brings the whole to 0 densities: give from 1 to 64 [pack/density]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "mixture", parts = [{ weight = 0.5, density = { family = "normal", mean = 1.0, sd = -1.0 } }] }"#,
            "pack:169:101: parts[0].density.sd is -1.0: it must be a number from 1e-100 to 1e100 [pack/density]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "mixture", parts = [{ weight = 0.5, density = { family = "normal", mean = 1.0, sd = 1.0 } }] }"#,
            "pack:169:33: the weights of parts sum to 0.5: they must sum to 1 [pack/density]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "norml", mean = 530.0, sd = 40.0 }"#,
            "pack:169:22: unknown variant `norml`, expected one of `normal`, `log-normal`, `gamma`, `student-t`, `half-normal`, `uniform`, `mixture`; perhaps `normal` [pack/syntax]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "normal", mean = 530.0 }"#,
            "pack:169:11: missing field `sd` [pack/syntax]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "normal", mean = 530.0, sd = "40" }"#,
            r#"pack:169:51: invalid type: string "40", expected a number [pack/syntax]"#,
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "normal", mean = 530.0, sd = 40.0, scale = 1.0 }"#,
            "pack:169:57: unknown field `scale`, expected `mean` or `sd` [pack/syntax]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            "density = { mean = 530.0, sd = 40.0 }",
            "pack:169:11: missing field `family` [pack/syntax]",
        ),
        (
            r#"density = { family = "normal", mean = 530.0, sd = 40.0 }"#,
            r#"density = { family = "normal", mean = inf, sd = 40.0 }"#,
            "pack:169:32: mean is inf: it must be a number from -1e100 to 1e100 [pack/density]",
        ),
        (
            "mean = 560.0",
            "mean = 56.0",
            "pack:164:13: the mean 56 lies outside the plausible range 200 to 1000; is the unit right? [pack/unit]",
        ),
        (
            r#"faked = { family = "normal", mean = 540.0, sd = 40.0 }"#,
            r#"faked = { family = "uniform", low = 600.0, high = 600.0 }"#,
            "pack:164:97: low is 600.0 but the upper limit is 600.0: it must be less [pack/density]",
        ),
        (
            "plausible = [200.0, 1000.0]",
            "plausible = [1000.0, 200.0]",
            "pack:163:1: plausible range 1000 to 200 must run upward and be finite [pack/unit]",
        ),
        (
            "error = 2.0",
            "error = 900.0",
            "pack:162:1: instrument error 900 must be 0 or more and less than the width of the plausible range, 800 [pack/unit]",
        ),
        (
            "error = 2.0",
            "error = nan",
            "pack:162:1: instrument error NaN must be 0 or more and less than the width of the plausible range, 800 [pack/unit]",
        ),
        (
            r#"unit = "mm-per-m""#,
            r#"unit = "mm""#,
            "pack:182:1: movement is in `mm-per-m`, not `mm`; change the unit, or give a `density` [pack/unit]",
        ),
        (
            "set = 0.5",
            "set = 500",
            "pack:183:56: set 500 must be -100 to 100 mm per m [pack/measure]",
        ),
        (
            "{ moisture_fall = 4.0",
            "{ moisture_fall = 40.0",
            "pack:182:9: moisture_fall 40 must be -30 to 30 points [pack/measure]",
        ),
        (
            "set = 0.5, sd = 1.0",
            "set = 0.5, sd = 0",
            "pack:183:67: sd 0 must be 0.001 to 100 mm per m [pack/measure]",
        ),
        (
            "[[measure.override]]\nincident = \"flooded\"",
            "[[measure.override]]\nincident = \"flooded\"\ndensity = { family = \"half-normal\", scale = 500.0 }\n[[measure.override]]\nincident = \"flooded\"",
            "pack:171:1: incident `flooded` overrides twice; remove one [pack/measure]",
        ),
        (
            "[measure.movement]",
            "density = { any = { family = \"half-normal\", scale = 5.0 } }\n[measure.movement]",
            "pack:171:1: measure `out-of-square` has both of `density` and `movement`; remove one [pack/measure]",
        ),
    ]);
}

#[test]
fn in_a_pack_nothing_given() {
    check_packs(&[(
        "[[region]]\nid = \"england\"\nname = \"England\"\n",
        "",
        "pack:1:1: the pack has no [[region]]; give at least one [pack/missing]",
    )]);
}

#[test]
fn in_a_library_nothing_given() {
    check_libraries(&[(
        "[examination]\npoor = 0.05\npoor_factor = 0.2\npoor_instrument = 3.0\nsure = 1.0\nfairly_sure = 0.8\ndoubtful = 0.5\n",
        "",
        "library:1:1: neither pack nor library has an [examination]; give one [pack/missing]",
    )]);
}
