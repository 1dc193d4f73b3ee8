//! A user's extension of a pack that comes with the crate.

use oddment::pack::NumberId;
use oddment::{Case, Error, Model, Pack, Text, assess, packs};

const HEAD: &str = "schema = \"oddment/extension/1\"\nextends = \"drop-leaf-table\"\nid = \"my-shop\"\n\
                    version = \"3\"\nsummary = \"What our shop sees.\"\n\
                    defaults = { strength = 30.0, source = \"elicited\" }\n";

/// A story the pack does not tell, told in full.
const CHILDS_TABLE: &str = r#"
[counts.cut-for-a-nursery]
any = 20
small-oval = 60

[[history]]
id = "cut-for-a-nursery"
verdict = "converted"
kind = "reduced"
name = "Legs cut down for a nursery"
story = "The legs were shortened by a hand's breadth for children."
[history.origin]
frame = "claim"
top = { shares = "frame" }
leaves = { shares = "top" }
outer-leaf = { shares = "leaves" }
drawer = { shares = "frame" }
fixings = { shares = "top" }

[[incident]]
id = "stood-in-a-school"
name = "Stood in a school"
effect = "Ink, carved names and kicked legs."
rate = { any = 0.03 }

[[sign]]
id = "ink-blots"
name = "Ink blots, soaked in and layered"
parts = ["top"]
check = "raking-light"
shows = { any = 0.02, cut-for-a-nursery = 0.4 }
caused_by = { stood-in-a-school = 0.8 }
reliability = { found = 0.9, cleared = 0.97 }
points_to = "Children wrote at it."
innocent = "An accident at a writing table."

[more."sign/foot-ends-worn"]
shows = { cut-for-a-nursery = 0.3 }
[more."sign/wear-where-due"]
caused_by = { stood-in-a-school = [0.5, 0.3, 0.2] }
"#;

fn extended(body: &str) -> Result<Pack, Error> {
    let text = format!("{HEAD}{body}");
    packs::compose(Text::new("mine.toml", &text), packs::library())
}

fn loaded(body: &str) -> Pack {
    extended(body).unwrap_or_else(|error| panic!("{error}"))
}

fn base() -> Pack {
    packs::load("drop-leaf-table").unwrap_or_else(|error| panic!("{error}"))
}

fn problems(body: &str) -> Vec<String> {
    let error = extended(body).expect_err("the extension is wrong");
    error
        .problems()
        .iter()
        .map(|problem| format!("{}:{} {}", problem.file, problem.line, problem.message))
        .collect()
}

fn value(pack: &Pack, id: &str) -> f64 {
    let number = pack.find_number(id);
    number.map_or(f64::NAN, |number: NumberId| pack.number(number))
}

const ROUND_OAK: &str = "schema = \"oddment/case/1\"\n[piece]\nform = \"drop-leaf-table\"\n\
    variant = \"oval\"\nperiod = \"bent-leg\"\nregion = \"britain\"\n\
    [[finding]]\nsign = \"own-arc\"\nfound = \"whole\"\n";

fn case(pack: &Pack, extra: &str) -> Case {
    let text = format!("{ROUND_OAK}{extra}");
    Case::load(Text::new("case.toml", &text), pack).unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn an_empty_extension_changes_nothing_but_the_version() {
    let (plain, mine) = (base(), loaded(""));
    assert_eq!(mine.version, format!("{} with my-shop 3", plain.version));
    assert_ne!(mine.digest, plain.digest);
    assert_eq!(mine.numbers, plain.numbers);
    let plain = assess(&plain, &case(&plain, "")).unwrap_or_else(|error| panic!("{error}"));
    let mine = assess(&mine, &case(&mine, "")).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(plain.verdicts, mine.verdicts);
}

#[test]
fn a_replaced_number_is_the_same_as_the_cases_own() {
    assert!(value(&base(), "incident/refinished/rate/any") > 0.31);
    let mine = loaded("[numbers]\n\"incident/refinished/rate/any\" = 0.31\n");
    assert_eq!(value(&mine, "incident/refinished/rate/any"), 0.31);
    let plain = base();
    let in_case = case(
        &plain,
        "[numbers]\n\"incident/refinished/rate/any\" = 0.31\n",
    );
    let in_pack = case(&mine, "");
    let ask = |pack: &Pack, case: &Case| {
        Model::compile(pack, case.years, &case.numbers)
            .and_then(|model| model.verdicts(pack, case))
            .unwrap_or_else(|error| panic!("{error}"))
    };
    assert_eq!(ask(&plain, &in_case), ask(&mine, &in_pack));
}

#[test]
fn a_replaced_number_carries_its_own_strength_and_source() {
    let mine = loaded(
        "[numbers]\n\"incident/refinished/rate/any\" = { mean = 0.4, strength = 55.0, source = \
         \"common-practice\" }\n\"incident/coloured/rate/any\" = 0.2\n",
    );
    let number = |id: &str| {
        let place = mine.find_number(id).unwrap_or_else(|| panic!("{id}"));
        let number = &mine.numbers[place.index()];
        (
            number.mean,
            number.strength,
            mine.sources[number.source].id.clone(),
        )
    };
    assert_eq!(
        number("incident/refinished/rate/any"),
        (0.4, 55.0, "common-practice".into())
    );
    assert_eq!(
        number("incident/coloured/rate/any"),
        (0.2, 30.0, "elicited".into())
    );
}

#[test]
fn a_new_history_takes_its_share_and_leaves_the_rest_in_proportion() {
    let (plain, mine) = (base(), loaded(CHILDS_TABLE));
    assert_eq!(mine.histories.len(), plain.histories.len() + 1);
    for (variant, count) in [("oval", 20.0), ("small-oval", 60.0)] {
        assert_eq!(
            value(&mine, &format!("prior/{variant}/cut-for-a-nursery")),
            count
        );
        for history in &plain.histories {
            let id = format!("prior/{variant}/{}", history.id);
            let expected = value(&plain, &id) * (1000.0 - count) / 1000.0;
            assert!((value(&mine, &id) - expected).abs() < 1e-9, "{id}");
        }
    }
}

#[test]
fn a_new_historys_signs_speak_for_it() {
    let mine = loaded(CHILDS_TABLE);
    let found = "[[finding]]\nsign = \"ink-blots\"\nfound = \"yes\"\n[[finding]]\n\
                 sign = \"foot-ends-worn\"\nfound = \"no\"\n";
    let chance = |case: &Case| {
        let assessment = assess(&mine, case).unwrap_or_else(|error| panic!("{error}"));
        let history = assessment
            .histories
            .iter()
            .find(|h| h.id == "cut-for-a-nursery");
        history.map_or(f64::NAN, |history| history.probability)
    };
    let (before, after) = (chance(&case(&mine, "")), chance(&case(&mine, found)));
    assert!(after > 3.0 * before, "{before} {after}");
    // A school explains the ink.
    let school = format!("{found}[known]\nstood-in-a-school = true\n");
    assert!(chance(&case(&mine, &school)) < 0.6 * after);
}

#[test]
fn a_conflict_names_both_places() {
    let told = problems(
        "[[sign]]\nfrom = \"hollow-at-join\"\nparts = [\"leaves\"]\n[[curve]]\nid = \"wire-nail\"\n\
         name = \"n\"\npoints = [[1900, 0.5]]\nnote = \"n\"\n[more.\"sign/own-arc\"]\n\
         shows = { original = [0.1, 0.1, 0.8] }\n",
    );
    assert_eq!(told.len(), 3, "{told:#?}");
    let at = |line: usize, words: &[&str]| {
        let place = format!("mine.toml:{line} ");
        let found = told.iter().any(|problem| {
            problem.starts_with(&place) && words.iter().all(|word| problem.contains(word))
        });
        assert!(found, "{line} {words:?}: {told:#?}");
    };
    at(
        8,
        &[
            "sign `hollow-at-join` stands already at priors/drop-leaf-table.toml:",
            "[numbers]",
        ],
    );
    at(
        11,
        &["curve `wire-nail` stands already at priors/shared/library.toml + sources.toml:"],
    );
    at(
        16,
        &["`shows` has `original` already, at priors/drop-leaf-table.toml:"],
    );
}

#[test]
fn what_is_wrong_in_an_extension_is_shown_there() {
    let told = |body: &str, place: &str, words: &str| {
        let told = problems(body);
        let found = told
            .iter()
            .any(|problem| problem.starts_with(place) && problem.contains(words));
        assert!(found, "{place} {words}: {told:#?}");
    };
    told(
        "[numbers]\n\"incident/refinishd/rate/any\" = 0.3\n",
        "mine.toml:8 ",
        "incident/refinished/rate/any",
    );
    told(
        "[numbers]\n\"incident/refinished/rate/any\" = 1.3\n",
        "mine.toml:8 ",
        "1.3",
    );
    told(
        "[numbers]\n\"incident/refinished/rate/any\" = { mean = 0.3, source = \"my-cat\" }\n",
        "mine.toml:8 ",
        "source `my-cat`",
    );
    told(
        "[numbers]\n\"sign/own-arc/shows/original/2\" = 0.01\n",
        "mine.toml:8 ",
        "must sum to 1; replace all of it",
    );
    told(
        "[more.\"sign/own-ark\"]\nshows = { original = 0.3 }\n",
        "mine.toml:7 ",
        "own-arc",
    );
    told(
        "[more.\"table/own-arc\"]\n",
        "mine.toml:7 ",
        "none of `sign/ID`",
    );
    told(
        "[more.\"sign/arc-saw-marks\"]\nshows = { original = 0.3 }\n",
        "mine.toml:8 ",
        "is dated",
    );
    told(
        "[more.\"incident/lined\"]\nrate = { original = 0.3 }\n",
        "mine.toml:7 ",
        "incident",
    );
    told(
        "[more.\"sign/own-arc\"]\nrate = { original = 0.3 }\n",
        "mine.toml:8 ",
        "`rate` goes with `incident/ID`",
    );
    told(
        &CHILDS_TABLE.replace("any = 20", "oval = 20"),
        "mine.toml:12 ",
        "no count for the variant",
    );
    told(
        &CHILDS_TABLE.replace("any = 20", "any = 1000"),
        "mine.toml:9 ",
        "below 1,000",
    );
    told(
        &CHILDS_TABLE.replace("any = 20", "any = 20\novel = 2"),
        "mine.toml:10 ",
        "oval",
    );
    told(
        "[counts.wide-boards]\nany = 3\n",
        "mine.toml:7 ",
        "the pack's own",
    );
    told(
        "[[sign]]\nid = \"x\"\nname = \"x\"\nparts = [\"top\", \"attic\"]\ncheck = \"look-under\"\n\
         shows = { any = 0.1 }\nreliability = { found = 0.8, cleared = 0.9 }\npoints_to = \"x\"\n\
         innocent = \"x\"\n",
        "mine.toml:10 ",
        "part `attic`",
    );
    let text = HEAD.replace("drop-leaf-table", "drop-leaf-tabel");
    let error = packs::compose(Text::new("mine.toml", &text), packs::library());
    let error = error.expect_err("no such form").to_string();
    assert!(
        error.contains("mine.toml:2") && error.contains("drop-leaf-table"),
        "{error}"
    );
}

#[test]
fn an_extension_can_date_a_part_that_the_pack_does_not() {
    let origins: String = base()
        .histories
        .iter()
        .map(|history| {
            let when = if history.id == "late-copy" {
                "{ between = [1930, 2000] }"
            } else {
                "\"claim\""
            };
            format!(
                "[more.\"history/{}\"]\norigin = {{ castors = {when} }}\n",
                history.id
            )
        })
        .collect();
    let part = "[[part]]\nid = \"castors\"\nname = \"Castors\"\ndated = true\n[[sign]]\n\
        id = \"wire-nails-in-castors\"\nfrom = \"wire-nails\"\nparts = [\"castors\"]\n";
    let mine = loaded(&format!("{part}{origins}"));
    assert!(mine.find_sign("wire-nails-in-castors").is_some());
    let told = problems(part);
    assert!(
        told.iter()
            .any(|problem| problem.contains("no origin for the dated part `castors`"))
    );
}
