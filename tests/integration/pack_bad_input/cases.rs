//! Cases that do not read, or do not go with their pack.
use super::{check_cases, check_json_cases};

#[test]
fn in_a_case_texts_that_do_not_read() {
    check_cases(&[
        (
            r#"found = "no""#,
            "found = no",
            r#"case:26:9: `no` must stand in quotes: "no" [case/syntax]"#,
        ),
        (
            "[piece]",
            "[piece",
            "case:4:7: unclosed table, expected `]` [case/syntax]",
        ),
        (
            r#"variant = "carved""#,
            "variant = \"car\0ved\"",
            "case:6:15: the character U+0000 cannot stand here; remove it [case/syntax]",
        ),
        (
            "region = \"england\"\n",
            "",
            "case:4:1: missing field `region` [case/syntax]",
        ),
        (
            r#"region = "england""#,
            r#"regoin = "england""#,
            "case:8:1: unknown field `regoin`, expected one of `form`, `variant`, `period`, `region`, `title`, `note`, `claimed_years`, `prices`, `timber`; perhaps `region` [case/syntax]",
        ),
        (
            r#"sure = "fairly-sure""#,
            r#"sure = "fairly""#,
            "case:33:8: unknown variant `fairly`, expected one of `sure`, `fairly-sure`, `doubtful` [case/syntax]",
        ),
        (
            r#"cut = "quarter-sawn""#,
            r#"cut = "quarter""#,
            "case:13:38: unknown variant `quarter`, expected one of `flat-sawn`, `quarter-sawn`, `unknown` [case/syntax]",
        ),
        (
            "poor = 0.1",
            r#"poor = "little""#,
            r#"case:18:8: invalid type: string "little", expected a number [case/syntax]"#,
        ),
        (
            "flooded = false",
            r#"flooded = "no""#,
            r#"case:55:11: invalid type: string "no", expected `true` or `false` [case/syntax]"#,
        ),
        (
            "claimed_years = [1650, 1660]",
            "claimed_years = [1650]",
            "case:9:17: invalid length 1, expected a list of two numbers [case/syntax]",
        ),
        (
            "claimed_years = [1650, 1660]",
            "claimed_years = [1650, 1655, 1660]",
            "case:9:17: invalid length 3, expected a list of two numbers [case/syntax]",
        ),
        (
            "claimed_years = [1650, 1660]",
            "claimed_years = [1650.0, 1660]",
            "case:9:18: invalid type: floating point `1650.0`, expected a whole number [case/syntax]",
        ),
        (
            "value = 551.0",
            "between = [540.0, 550.0, 560.0]",
            "case:44:11: invalid length 3, expected a list of two numbers [case/syntax]",
        ),
        (
            "claimed_years = [1650, 1660]",
            r#"claimed_years = "1650-1660""#,
            r#"case:9:17: invalid type: string "1650-1660", expected a list of two numbers [case/syntax]"#,
        ),
        (
            r#"found = "some""#,
            "found = \"some\"\nlook = -1",
            "case:33:8: invalid value: integer `-1`, expected a whole number, 0 or more [case/syntax]",
        ),
        (
            "[known]",
            "[known]\nflooded = true",
            "case:56:1: `flooded` is given twice; remove one [case/syntax]",
        ),
        (
            r#"schema = "oddment/case/1""#,
            r#"schema = "oddment/case/9""#,
            "case:2:1: schema `oddment/case/9` is not supported, must be `oddment/case/1` [case/schema]",
        ),
    ]);
}

#[test]
fn in_a_json_case_texts_that_do_not_read() {
    check_json_cases(&[
        (
            "\"region\": \"england\",\n",
            "",
            "case.json:3:3: missing field `region` [case/syntax]",
        ),
        (
            r#""region": "england","#,
            r#""regoin": "england","#,
            "case.json:7:5: unknown field `regoin`, expected one of `form`, `variant`, `period`, `region`, `title`, `note`, `claimed_years`, `prices`, `timber`; perhaps `region` [case/syntax]",
        ),
        (
            r#""poor": 0.1"#,
            r#""poor": "little""#,
            r#"case.json:27:7: invalid type: string "little", expected a number [case/syntax]"#,
        ),
        (
            r#""poor": 0.1"#,
            r#""poor": 0.1,"#,
            "case.json:27:18: a comma with nothing after it; remove it [case/syntax]",
        ),
        (
            "\"visit\": \"shop\"\n    }\n  ],\n  \"reading\"",
            "\"visit\": \"shop\"\n    },\n  ],\n  \"reading\"",
            "case.json:52:6: a comma with nothing after it; remove it [case/syntax]",
        ),
        (
            r#""sign": "seat-fits""#,
            r#""sign": "seat-fits" "x""#,
            "case.json:36:27: expected `,` or `}` [case/syntax]",
        ),
        (
            r#""sign": "seat-fits""#,
            r#""sign": "seat\qfits""#,
            "case.json:36:21: invalid escape [case/syntax]",
        ),
        (
            r#""sign": "seat-fits""#,
            "\"sign\": \"seat\0fits\"",
            r#"case.json:36:20: a control character in a string; remove it, or write it as an escape such as \n [case/syntax]"#,
        ),
        (
            r#""sign": "seat-fits""#,
            r#""sign": "\ud800""#,
            "case.json:36:22: unexpected end of hex escape [case/syntax]",
        ),
        (
            r#""sign": "seat-fits""#,
            r#""sign": null"#,
            "case.json:36:7: invalid type: null, expected a string in quotes [case/syntax]",
        ),
        (
            r#""sign": "seat-fits""#,
            r#""sign": ["seat-fits"]"#,
            "case.json:36:7: invalid type: sequence, expected a string in quotes [case/syntax]",
        ),
        (
            "    {\n      \"sign\": \"seat-fits\",\n      \"found\": \"no\",\n      \"visit\": \"home\"\n    },\n",
            "    7,\n",
            "case.json:35:5: invalid type: integer `7`, expected a table [case/syntax]",
        ),
        (
            r#""made-up": 20.0"#,
            "\"made-up\": 20.0,\n    \"as-made\": 1.0",
            "case.json:74:5: `as-made` is given twice; remove one [case/syntax]",
        ),
        (
            r#""value": 551.0"#,
            r#""value": 1e999"#,
            "case.json:57:16: the number is too large [case/syntax]",
        ),
        (
            r#""fairly-sure""#,
            r#""fairly""#,
            "case.json:44:7: unknown variant `fairly`, expected one of `sure`, `fairly-sure`, `doubtful` [case/syntax]",
        ),
        (
            r#""more_than": 3.0,"#,
            "",
            "case.json:62:5: the reading of `out-of-square` has no value; give exactly one of `value`, `less_than`, `more_than`, `between` [case/reading]",
        ),
        (
            r#""flooded": false"#,
            r#""flooded": 0"#,
            "case.json:69:5: invalid type: integer `0`, expected `true` or `false` [case/syntax]",
        ),
    ]);
}

#[test]
fn in_a_case_ids() {
    check_cases(&[
        (
            r#"form = "stool""#,
            r#"form = "stoll""#,
            "case:5:1: form `stoll` needs its own pack, this one is `stool` [case/form]",
        ),
        (
            r#"variant = "carved""#,
            r#"variant = "craved""#,
            "case:6:1: unknown variant `craved`, perhaps `carved`; valid: carved, plain [case/unknown-id]",
        ),
        (
            r#"period = "early""#,
            r#"period = "erly""#,
            "case:7:1: unknown period `erly`, perhaps `early`; valid: early, late [case/unknown-id]",
        ),
        (
            r#"region = "england""#,
            r#"region = "wales""#,
            "case:8:1: unknown region `wales`; valid: england [case/unknown-id]",
        ),
        (
            "[piece.timber]\nseat",
            "[piece.timber]\nseats",
            "case:13:1: unknown part `seats`, perhaps `seat`; valid: feet, frame, seat [case/unknown-id]",
        ),
        (
            r#"species = "mahogany""#,
            r#"species = "mahagony""#,
            "case:13:10: unknown species `mahagony`, perhaps `mahogany`; valid: african-mahogany, american-beech, american-chestnut, american-elm, american-sycamore, atlantic-white-cedar, basswood, black-cherry, black-walnut, butternut, eastern-redcedar, eastern-white-pine, ... [case/unknown-id]",
        ),
        (
            r#"sign = "seat-fits""#,
            r#"sign = "seat-fit""#,
            "case:25:1: unknown sign `seat-fit`, perhaps `seat-fits`; valid: saw-arcs, seat-fits, wear [case/unknown-id]",
        ),
        (
            r#"part = "frame""#,
            r#"part = "seat""#,
            "case:31:1: unknown part of this sign `seat`, perhaps `feet`; valid: feet, frame [case/unknown-id]",
        ),
        (
            "part = \"frame\"\n",
            "",
            "case:29:1: `wear` can be at several parts; add `part`, one of frame, feet [case/part]",
        ),
        (
            r#"found = "some""#,
            r#"found = "sone""#,
            "case:32:1: unknown outcome `sone`, perhaps `none`; valid: no-access, none, not-looked, plain, some [case/unknown-id]",
        ),
        (
            "found = \"no\"\nvisit = \"home\"",
            "found = \"no\"\nvisit = \"hone\"",
            "case:27:1: unknown visit `hone`, perhaps `home`; valid: home, shop [case/unknown-id]",
        ),
        (
            "found = \"no\"\nvisit = \"home\"",
            r#"found = "no""#,
            "case:24:1: there are several visits; add `visit`, one of shop, home [case/visit]",
        ),
        (
            r#"measure = "height""#,
            r#"measure = "hight""#,
            "case:43:1: unknown measure `hight`, perhaps `height`; valid: height, out-of-square [case/unknown-id]",
        ),
        (
            "error = 1.0\nvisit = \"home\"",
            "error = 1.0",
            "case:42:1: there are several visits; add `visit`, one of shop, home [case/visit]",
        ),
        (
            "flooded = false",
            "floded = false",
            "case:55:1: unknown incident `floded`, perhaps `flooded`; valid: flooded, refinished [case/unknown-id]",
        ),
        (
            "as-made = 50.0",
            "as-mad = 50.0",
            "case:58:1: unknown history `as-mad`, perhaps `as-made`; valid: as-made, made-up, new-seat [case/unknown-id]",
        ),
        (
            r#""sign/seat-fits/shows/original""#,
            r#""sign/seat-fits/shows/orignal""#,
            "case:63:1: unknown number `sign/seat-fits/shows/orignal`, perhaps `sign/seat-fits/shows/original`; valid: curve/circular-saw/half, examination/doubtful, examination/fairly-sure, examination/poor, examination/poor-factor, examination/poor-instrument, examination/sure, group/seating/coupling, history/made-up/elasticity, incident/flooded/rate/any, incident/refinished/rate/any, incident/refinished/rate/faked, ... [case/unknown-id]",
        ),
    ]);
}

#[test]
fn in_a_json_case_ids() {
    check_json_cases(&[
        (
            r#""variant": "carved""#,
            r#""variant": "craved""#,
            "case.json:5:5: unknown variant `craved`, perhaps `carved`; valid: carved, plain [case/unknown-id]",
        ),
        (
            r#""found": "some""#,
            r#""found": "sone""#,
            "case.json:43:7: unknown outcome `sone`, perhaps `none`; valid: no-access, none, not-looked, plain, some [case/unknown-id]",
        ),
        (
            r#""as-made": 50.0"#,
            r#""as-mad": 50.0"#,
            "case.json:72:5: unknown history `as-mad`, perhaps `as-made`; valid: as-made, made-up, new-seat [case/unknown-id]",
        ),
    ]);
}

#[test]
fn in_a_case_values() {
    check_cases(&[
        (
            r#"id = "home""#,
            r#"id = "shop""#,
            "case:21:1: visit `shop` is listed twice; rename one [case/duplicate]",
        ),
        (
            "part = \"feet\"\nfound = \"not-looked\"\nvisit = \"shop\"",
            "part = \"frame\"\nfound = \"plain\"\nvisit = \"home\"",
            "case:36:1: `wear` is reported twice in one visit; remove one, give them different visits, or number them with `look` [case/duplicate]",
        ),
        (
            "measure = \"out-of-square\"\nmore_than = 3.0\nvisit = \"shop\"",
            "measure = \"height\"\nvalue = 550\nvisit = \"home\"",
            "case:49:1: `height` is measured twice in one visit; write down the mean [case/duplicate]",
        ),
        (
            "value = 551.0",
            "value = 551.0\nless_than = 600.0",
            "case:42:1: the reading of `height` has `value` and `less_than`; give exactly one of `value`, `less_than`, `more_than`, `between` [case/reading]",
        ),
        (
            "value = 551.0\n",
            "",
            "case:42:1: the reading of `height` has no value; give exactly one of `value`, `less_than`, `more_than`, `between` [case/reading]",
        ),
        (
            "value = 551.0",
            "value = 55.1",
            "case:44:1: 55.1 mm is outside 200 to 1000, what `height` can be; a slip of the pen, or another unit? [case/implausible]",
        ),
        (
            "value = 551.0",
            "value = nan",
            "case:44:1: NaN mm is outside 200 to 1000, what `height` can be; a slip of the pen, or another unit? [case/implausible]",
        ),
        (
            "value = 551.0",
            "between = [560.0, 540.0]",
            "case:44:1: between 560 and 540 must run upward [case/number]",
        ),
        (
            r#"unit = "mm""#,
            r#"unit = "cm""#,
            "case:45:1: unit `cm` must be `mm`, that of the measure [case/unit]",
        ),
        (
            "error = 1.0",
            "error = -1.0",
            "case:46:1: instrument error -1 must be 0 to 800 mm, the width of what `height` can be [case/number]",
        ),
        (
            "error = 1.0",
            "error = inf",
            "case:46:1: instrument error inf must be 0 to 800 mm, the width of what `height` can be [case/number]",
        ),
        (
            "as_claimed = 900.0",
            "as_claimed = -900.0",
            "case:10:12: price -900 must be 0.001 to 1e12 [case/number]",
        ),
        (
            "plainer = 300.0",
            "plainer = 0.0",
            "case:10:32: price 0 must be 0.001 to 1e12 [case/number]",
        ),
        (
            "plainer = 300.0",
            "plainer = 1e-300",
            "case:10:32: price 1e-300 must be 0.001 to 1e12 [case/number]",
        ),
        (
            "claimed_years = [1650, 1660]",
            "claimed_years = [1630, 1660]",
            "case:9:1: claimed years 1630 to 1660 must run forward and lie within the period `early`, 1640 to 1669 [case/years]",
        ),
        (
            "claimed_years = [1650, 1660]",
            "claimed_years = [1660, 1650]",
            "case:9:1: claimed years 1660 to 1650 must run forward and lie within the period `early`, 1640 to 1669 [case/years]",
        ),
        (
            "poor = 0.1",
            "poor = 0",
            "case:18:1: poor 0 must lie strictly between 0 and 1 [case/number]",
        ),
        (
            "error_factor = 0.7",
            "error_factor = 5",
            "case:22:1: error factor 5 must be 0.1 to 2 [case/number]",
        ),
        (
            "as-made = 50.0\nnew-seat = 30.0\nmade-up = 20.0",
            "as-made = 0.0\nnew-seat = 0.0",
            "case:57:2: the counts are all 0; at least one history needs a count above 0 [case/number]",
        ),
        (
            "as-made = 50.0",
            "as-made = -50.0",
            "case:58:1: count -50 must be 0 to 1,000,000,000 [case/number]",
        ),
        (
            r#""sign/seat-fits/shows/original" = 0.8"#,
            r#""sign/seat-fits/shows/original" = 1.0"#,
            "case:63:1: 1 must lie strictly between 0 and 1 [case/number]",
        ),
        (
            r#""sign/seat-fits/shows/original" = 0.8"#,
            r#""prior/carved/as-made" = -5.0"#,
            "case:63:1: -5 must be finite, not negative and at most 1,000,000 [case/number]",
        ),
        (
            "as-made = 50.0\nnew-seat = 30.0\nmade-up = 20.0\n\n[numbers]\n\"sign/seat-fits/shows/original\" = 0.8",
            "\n[numbers]\n\"prior/carved/as-made\" = 0\n\"prior/carved/new-seat\" = 0\n\"prior/carved/made-up\" = 0",
            "case:59:2: the prior counts of `carved`, with their factors and the price gap, come to 0 for every history or to more than a number can hold; give at least one a count above 0 and keep factors and elasticities small [case/number]",
        ),
        (
            "as-made = 50.0\nnew-seat = 30.0\nmade-up = 20.0\n\n[numbers]\n\"sign/seat-fits/shows/original\" = 0.8",
            "\n[numbers]\n\"history/made-up/elasticity\" = 1e6",
            "case:59:2: the prior counts of `carved`, with their factors and the price gap, come to 0 for every history or to more than a number can hold; give at least one a count above 0 and keep factors and elasticities small [case/number]",
        ),
    ]);
}

#[test]
fn in_a_json_case_values() {
    check_json_cases(&[
        (
            r#""value": 551.0"#,
            r#""value": 55.1"#,
            "case.json:57:7: 55.1 mm is outside 200 to 1000, what `height` can be; a slip of the pen, or another unit? [case/implausible]",
        ),
        (
            r#""error_factor": 0.7"#,
            r#""error_factor": 5"#,
            "case.json:31:7: error factor 5 must be 0.1 to 2 [case/number]",
        ),
    ]);
}
