//! Packs whose histories or dates do not hold together.
use super::{check_libraries, check_packs};

#[test]
fn in_a_pack_histories_left_out() {
    check_packs(&[
        (
            "shows = { original = 0.9, married = 0.2, made-up = 0.3 }",
            "shows = { original = 0.9, made-up = 0.3 }",
            "pack:133:1: `shows` says nothing of history `new-seat`; add `new-seat`, its kind `later-top`, its verdict `married` or `any` [pack/missing]",
        ),
        (
            "rate = { any = 0.1 }",
            "rate = { original = 0.1 }",
            "pack:125:1: `rate` says nothing of history `new-seat`; add `new-seat`, its kind `later-top`, its verdict `married` or `any` [pack/missing]",
        ),
        (
            "density = { any = {",
            "density = { original = {",
            "pack:164:1: `density` says nothing of history `new-seat`; add `new-seat`, its kind `later-top`, its verdict `married` or `any` [pack/missing]",
        ),
        (
            "[measure.movement]\nany = {",
            "[measure.movement]\noriginal = {",
            "pack:181:10: `movement` says nothing of history `new-seat`; add `new-seat`, its kind `later-top`, its verdict `married` or `any` [pack/missing]",
        ),
    ]);
}

#[test]
fn in_a_pack_origins() {
    check_packs(&[
        (
            r#"origin = { seat = { shares = "frame" }, frame"#,
            "origin = { frame",
            "pack:71:1: history `as-made` gives no origin for the dated part `seat`; give one [pack/origin]",
        ),
        (
            "origin = { seat = { shares = \"frame\" }, frame = \"claim\" }\n",
            "",
            "pack:65:1: history `as-made` gives no origin for the dated part `seat`; give one [pack/origin]",
        ),
        (
            r#"origin = { seat = { shares = "frame" }"#,
            r#"origin = { feet = "claim", seat = { shares = "frame" }"#,
            "pack:71:12: part `feet` has no date of its own; mark it `dated = true`, or leave its origin out [pack/origin]",
        ),
        (
            r#"{ shares = "frame" }"#,
            r#"{ shares = "feet" }"#,
            "pack:71:21: a part cannot share the date of `feet`, which has none; name another dated part [pack/origin]",
        ),
        (
            r#"{ shares = "frame" }"#,
            r#"{ shares = "seat" }"#,
            "pack:71:21: a part cannot share the date of `seat`, which is the part itself; name another dated part [pack/origin]",
        ),
        (
            "frame = { older = 40 }",
            r#"frame = { shares = "seat" }"#,
            "pack:46:1: part `seat` shares its date in a circle; let one part be the root [pack/origin]",
        ),
        (
            "older = 40",
            "older = 0",
            "pack:88:57: older 0 must be 1 to 500 years [pack/dates]",
        ),
        (
            "older = 40",
            "older = 900",
            "pack:88:57: older 900 must be 1 to 500 years [pack/dates]",
        ),
        (
            "between = [1880, 1930]",
            "between = [1930, 1880]",
            "pack:88:21: between 1930 and 1880 must run forward and meet the dates 1600 to 2030 [pack/dates]",
        ),
        (
            "between = [1880, 1930]",
            "between = [2040, 2050]",
            "pack:88:21: between 2040 and 2050 must run forward and meet the dates 1600 to 2030 [pack/dates]",
        ),
        (
            "points = [[1700, 0.0], [1890, 1.0], [1930, 0.2]]",
            "points = [[1640, 0.0], [1690, 1.0]]",
            "pack:79:21: later work `revival` ends in 1690, leaving nothing after the period `late`, which ends in 1699; add a later point [pack/dates]",
        ),
        (
            "from = 1600",
            "from = 1640",
            "pack:88:57: the dates begin in 1640, leaving nothing older than the period `early`, which begins in 1640; begin the dates earlier [pack/dates]",
        ),
    ]);
}

#[test]
fn in_a_pack_dates_and_curves() {
    check_packs(&[
        (
            "step = 10",
            "step = 0",
            "pack:12:2: dates from 1600 to 2030 by 0 must be 1 to 400 whole steps between the years 1000 and 2200 [pack/dates]",
        ),
        (
            "step = 10",
            "step = 7",
            "pack:12:2: dates from 1600 to 2030 by 7 must be 1 to 400 whole steps between the years 1000 and 2200 [pack/dates]",
        ),
        (
            "to = 2030",
            "to = 1500",
            "pack:12:2: dates from 1600 to 1500 by 10 must be 1 to 400 whole steps between the years 1000 and 2200 [pack/dates]",
        ),
        (
            "from = 1600",
            "from = -2147483648",
            "pack:12:2: dates from -2147483648 to 2030 by 10 must be 1 to 400 whole steps between the years 1000 and 2200 [pack/dates]",
        ),
        (
            "shoulder = 15.0",
            "shoulder = -1.0",
            "pack:16:1: shoulder -1 must be 0 to 200 years [pack/dates]",
        ),
        (
            "to = 1669",
            "to = 1630",
            "pack:33:1: period 1640 to 1630 must run forward and lie within the dates 1600 to 2030 [pack/dates]",
        ),
        (
            "from = 1640",
            "from = 1540",
            "pack:33:1: period 1540 to 1669 must run forward and lie within the dates 1600 to 2030 [pack/dates]",
        ),
        (
            "to = 1699",
            "to = 2147483647",
            "pack:40:1: period 1670 to 2147483647 must run forward and lie within the dates 1600 to 2030 [pack/dates]",
        ),
        (
            "[1890, 1.0]",
            "[1690, 1.0]",
            "pack:62:24: year 1690 must come after 1700, the one before it [pack/curve]",
        ),
        (
            "[1890, 1.0]",
            "[1890, -1.0]",
            "pack:62:24: weight -1 must be 0 to 1,000,000 [pack/curve]",
        ),
        (
            "points = [[1700, 0.0], [1890, 1.0], [1930, 0.2]]",
            "points = [[1700, 0.0], [1890, 0.0]]",
            "pack:62:1: later work `revival` needs two points or more, not all of weight 0 [pack/curve]",
        ),
        (
            "points = [[1700, 0.0], [1890, 1.0], [1930, 0.2]]",
            "points = []",
            "pack:62:1: has 0 points; give 1 to 200 [pack/curve]",
        ),
        (
            "[1930, 0.2]]",
            "[2147483647, 0.2]]",
            "pack:62:37: year 2147483647 must be 1000 to 2200 [pack/curve]",
        ),
        (
            "[[group]]",
            "[[curve]]\nid = \"planer\"\nname = \"Planer\"\nnote = \"a\"\npoints = [[-2147483648, 0.5], [2147483647, 0.6]]\n\n[[group]]",
            "pack:115:11: year -2147483648 must be 1000 to 2200 [pack/curve]",
        ),
    ]);
}

#[test]
fn in_a_library_dates_and_curves() {
    check_libraries(&[
        (
            "[1830, 0.5]",
            "[1730, 0.5]",
            "library:25:25: year 1730 must come after 1780, the one before it [pack/curve]",
        ),
        (
            "[1830, 0.5]",
            "[1830, 0.0]",
            "library:25:25: share 0 must lie strictly between 0 and 1; use `not_before` for a true 0 [pack/curve]",
        ),
        (
            "points = [[1780, 0.02], [1830, 0.5], [1870, 0.9]]",
            "points = []",
            "library:25:1: has 0 points; give 1 to 200 [pack/curve]",
        ),
    ]);
}
