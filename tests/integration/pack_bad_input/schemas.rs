//! The published JSON Schemas take what the loader takes, and refuse an unknown field as it does.

use super::round_trips::{example_cases, written};
use super::{CASE, LIBRARY, PACK, STAKES, edited, small_pack};
use oddment::case::file::CaseFile;
use oddment::decide::{Action, Attitude, CheckOutlook, Decision, Outlook, Stakes, decide};
use oddment::pack::file::{LibraryFile, PackFile};
use oddment::pool::OpinionFile;
use oddment::predict::{PredictOptions, predict};
use oddment::study::{StudyOptions, study};
use oddment::{
    Case, LeanOptions, NextOptions, Schema, Text, assess, explain, lean, look_next, packs, schema,
};
use serde_json::{Map, Value};

/// As much of JSON Schema (draft 2020-12) as the schemas use; any other keyword is an error.
struct Validator {
    root: Value,
}

impl Validator {
    fn new(of: Schema) -> Self {
        Self { root: schema(of) }
    }

    /// What is wrong with a document, by the path of the place.
    fn errors(&self, document: &Value) -> Vec<String> {
        let mut errors = Vec::new();
        self.visit(&self.root, document, "", &mut errors);
        errors
    }

    fn fits(&self, schema: &Value, value: &Value) -> bool {
        let mut errors = Vec::new();
        self.visit(schema, value, "", &mut errors);
        errors.is_empty()
    }

    fn visit(&self, schema: &Value, value: &Value, path: &str, errors: &mut Vec<String>) {
        let keywords = match schema {
            Value::Object(keywords) => keywords,
            Value::Bool(true) => return,
            _ => return errors.push(format!("{path}: nothing may stand here")),
        };
        for (keyword, rule) in keywords {
            let keeps = match keyword.as_str() {
                "$schema" | "$defs" | "title" | "description" | "default" | "format" => true,
                // Together with `properties` and `items`.
                "additionalProperties" | "prefixItems" => true,
                "type" => of_type(rule, value),
                "const" => rule == value,
                "minimum" => value.as_f64() >= rule.as_f64() || !value.is_number(),
                "minItems" => value
                    .as_array()
                    .is_none_or(|items| items.len() as u64 >= number(rule)),
                "maxItems" => value
                    .as_array()
                    .is_none_or(|items| items.len() as u64 <= number(rule)),
                "required" => value.as_object().is_none_or(|fields| {
                    list(rule)
                        .iter()
                        .all(|name| fields.contains_key(text(name)))
                }),
                "oneOf" => {
                    list(rule)
                        .iter()
                        .filter(|one| self.fits(one, value))
                        .count()
                        == 1
                }
                "anyOf" => list(rule).iter().any(|one| self.fits(one, value)),
                "$ref" => {
                    let at = text(rule)
                        .strip_prefix('#')
                        .and_then(|at| self.root.pointer(at));
                    let target = at.unwrap_or_else(|| panic!("{rule} leads nowhere"));
                    self.visit(target, value, path, errors);
                    true
                }
                "properties" | "items" => true,
                other => panic!("the keyword `{other}` is not known here"),
            };
            if !keeps {
                errors.push(format!("{path}: {value} against {keyword} {rule}"));
            }
        }
        match value {
            Value::Object(fields) => self.fields(keywords, fields, path, errors),
            Value::Array(items) => {
                let first = keywords.get("prefixItems").map_or(&[][..], list);
                for (place, item) in items.iter().enumerate() {
                    let rule = first.get(place).or(keywords.get("items"));
                    let rule = rule.unwrap_or(&Value::Bool(true));
                    self.visit(rule, item, &format!("{path}/{place}"), errors);
                }
            }
            _ => {}
        }
    }

    fn fields(
        &self,
        keywords: &Map<String, Value>,
        fields: &Map<String, Value>,
        path: &str,
        errors: &mut Vec<String>,
    ) {
        for (name, field) in fields {
            let known = keywords.get("properties").and_then(|known| known.get(name));
            let rule = known.or(keywords.get("additionalProperties"));
            let rule = rule.unwrap_or(&Value::Bool(true));
            self.visit(rule, field, &format!("{path}/{name}"), errors);
        }
    }
}

fn text(value: &Value) -> &str {
    value
        .as_str()
        .unwrap_or_else(|| panic!("{value} is no string"))
}

fn list(value: &Value) -> &[Value] {
    value
        .as_array()
        .unwrap_or_else(|| panic!("{value} is no list"))
}

fn number(value: &Value) -> u64 {
    value
        .as_u64()
        .unwrap_or_else(|| panic!("{value} is no count"))
}

fn of_type(rule: &Value, value: &Value) -> bool {
    match rule {
        Value::Array(any) => any.iter().any(|rule| of_type(rule, value)),
        rule => match text(rule) {
            "object" => value.is_object(),
            "array" => value.is_array(),
            "string" => value.is_string(),
            "boolean" => value.is_boolean(),
            "null" => value.is_null(),
            "number" => value.is_number(),
            "integer" => value.as_f64().is_some_and(|value| value.fract() == 0.0),
            other => panic!("the type `{other}` is not known here"),
        },
    }
}

/// Asserts that a document fits a schema, and with an unknown field anywhere, or without one that
/// it needs, does not.
fn fits(of: Schema, document: &Value) {
    let validator = Validator::new(of);
    let errors = validator.errors(document);
    assert!(errors.is_empty(), "{of:?}: {:?}", errors.first());
    let mut less = document.clone();
    less.as_object_mut()
        .and_then(|fields| fields.remove("schema"));
    assert!(
        !validator.errors(&less).is_empty(),
        "{of:?}: without `schema`"
    );
    // Where a table is by the ids of histories, parts or incidents, any name will do.
    let free = [
        "origin",
        "counts",
        "factor",
        "rate",
        "shows",
        "caused_by",
        "hidden_by",
        "added",
        "removed",
        "density",
        "movement",
        "timber",
        "known",
        "prior",
        "numbers",
        "check_cost",
    ];
    let mut tables = vec![String::new()];
    while let Some(path) = tables.pop() {
        let Some(value) = document.pointer(&path) else {
            continue;
        };
        match value {
            Value::Object(fields) => {
                tables.extend(
                    fields
                        .keys()
                        .map(|name| format!("{path}/{}", escaped(name))),
                );
                let name = path.rsplit('/').next().unwrap_or_default();
                // An override's density has a family and no selectors.
                if free.contains(&name) && !fields.contains_key("family") {
                    continue;
                }
                let mut more = document.clone();
                if let Some(Value::Object(fields)) = more.pointer_mut(&path) {
                    fields.insert("colour".into(), Value::from("green"));
                }
                assert!(
                    !validator.errors(&more).is_empty(),
                    "{of:?}: `colour` in {path}"
                );
            }
            // One of each kind of entry tells as much as all.
            Value::Array(items) => {
                tables.extend((0..items.len().min(2)).map(|place| format!("{path}/{place}")));
            }
            _ => {}
        }
    }
}

fn escaped(name: &str) -> String {
    name.replace('~', "~0").replace('/', "~1")
}

#[test]
fn packs_and_libraries_fit_their_schemas() {
    let pack = packs::text("drop-leaf-table").map_or("", |text| text.content);
    for pack in [pack, PACK] {
        fits(Schema::Pack, &written::<PackFile>(pack));
    }
    for library in [packs::LIBRARY, LIBRARY] {
        fits(Schema::Library, &written::<LibraryFile>(library));
    }
}

#[test]
fn cases_fit_their_schema() {
    fits(Schema::Case, &written::<CaseFile>(CASE));
    let with_stakes = CASE.to_owned() + STAKES;
    fits(Schema::Case, &written::<CaseFile>(&with_stakes));
    for (_, text) in example_cases() {
        fits(Schema::Case, &written::<CaseFile>(&text));
    }
}

#[test]
fn opinions_fit_their_schema() {
    let text = include_str!("opinion.toml");
    fits(Schema::Opinion, &written::<OpinionFile>(text));
}

#[test]
fn what_is_worked_out_fits_its_schema() {
    let pack = small_pack();
    let case = Case::load(Text::new("case", CASE), &pack);
    let case = case.unwrap_or_else(|error| panic!("{error}"));
    let value = |written: Result<serde_json::Value, _>| written.unwrap_or_default();
    let argument = explain(&pack, &case, Some(("as-made", "made-up")));
    let argument = argument.unwrap_or_else(|error| panic!("{error}"));
    fits(Schema::Argument, &value(serde_json::to_value(argument)));
    let options = LeanOptions {
        grid: Some((pack.numbers[0].id.clone(), pack.numbers[1].id.clone())),
        ..LeanOptions::default()
    };
    let leaning = lean(&pack, &case, &options).unwrap_or_else(|error| panic!("{error}"));
    fits(Schema::Leaning, &value(serde_json::to_value(leaning)));
    let options = StudyOptions {
        draws: 100,
        pairs: 20,
        ..StudyOptions::default()
    };
    let study = study(&pack, &case, &options, &|_, _| true);
    let study = study.unwrap_or_else(|error| panic!("{error}"));
    assert!(!study.report.groups.is_empty());
    fits(Schema::Study, &value(serde_json::to_value(study.report)));
    let options = NextOptions {
        minutes: Some(10.0),
        ..NextOptions::default()
    };
    let outlook = look_next(&pack, &case, &options).unwrap_or_else(|error| panic!("{error}"));
    fits(Schema::Outlook, &value(serde_json::to_value(outlook)));
    let options = PredictOptions {
        pieces: 10,
        ..PredictOptions::default()
    };
    let prediction = predict(&pack, &options).unwrap_or_else(|error| panic!("{error}"));
    fits(Schema::Prediction, &value(serde_json::to_value(prediction)));
}

#[test]
fn a_form_described_and_a_practice_piece_fit_their_schemas() {
    let pack = oddment::packs::load("drop-leaf-table").unwrap();
    let form = oddment::form::describe(&pack);
    fits(Schema::Form, &serde_json::to_value(form).unwrap());
    let options = oddment::practice::PracticeOptions::default();
    let piece = oddment::practice::practice(&pack, &options).unwrap();
    fits(Schema::Practice, &serde_json::to_value(piece).unwrap());
}

#[test]
fn assessments_fit_their_schema() {
    // Some of every sort: they take their time.
    for (path, text) in example_cases().iter().step_by(7) {
        let pack = packs::text_for(Text::new("case", text))
            .and_then(|pack| oddment::Pack::load(pack, packs::library()))
            .unwrap_or_else(|error| panic!("{error}"));
        let case = Case::load(Text::new("case", text), &pack);
        let case = case.unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let assessment = assess(&pack, &case).unwrap_or_else(|error| panic!("{error}"));
        let assessment = serde_json::to_value(assessment).unwrap_or_default();
        fits(Schema::Assessment, &assessment);
    }
}

#[test]
fn decisions_fit_their_schema() {
    let text = CASE.to_owned() + STAKES;
    let case = Case::load(Text::new("case", &text), &small_pack());
    let case = case.unwrap_or_else(|error| panic!("{error}"));
    let stakes = case.stakes.unwrap_or_else(|| panic!("no stakes"));
    let linear = Stakes {
        attitude: Attitude::Linear,
        ..stakes.clone()
    };
    let outlook = |chance, verdicts| Outlook { chance, verdicts };
    let check = CheckOutlook {
        id: "look".into(),
        name: "Look at it".into(),
        minutes: 4.0,
        outcomes: vec![
            outlook(0.5, [1.0, 0.0, 0.0, 0.0]),
            outlook(0.5, [0.0, 0.5, 0.25, 0.25]),
        ],
    };
    for stakes in [stakes, linear] {
        let verdicts = [0.5, 0.25, 0.125, 0.125];
        let decision = decide(&verdicts, &stakes, std::slice::from_ref(&check));
        let decision = decision.unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(decision.action, Action::LookFurther);
        let written = serde_json::to_value(&decision).unwrap_or_default();
        fits(Schema::Decision, &written);
        let again: Decision = serde_json::from_value(written).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(again, decision);
    }
}

#[test]
fn what_does_not_read_as_a_case_does_not_fit_its_schema() {
    let validator = Validator::new(Schema::Case);
    for (find, with) in [
        ("region = \"england\"\n", ""),
        ("poor = 0.1", "poor = \"little\""),
        ("sure = \"fairly-sure\"", "sure = \"fairly\""),
        ("cut = \"quarter-sawn\"", "cut = \"quarter\""),
        ("claimed_years = [1650, 1660]", "claimed_years = [1650]"),
        (
            "claimed_years = [1650, 1660]",
            "claimed_years = [1650, 1655, 1660]",
        ),
        (
            "claimed_years = [1650, 1660]",
            "claimed_years = [1650, 1660.5]",
        ),
        ("flooded = false", "flooded = 0"),
        ("found = \"some\"", "found = \"some\"\nlook = -1"),
        ("sign = \"seat-fits\"", "sign = 7"),
        ("sign = \"seat-fits\"", "sign = \"seat-fits\"\ncolour = 1"),
    ] {
        let text = edited(CASE, find, with);
        let document: Value = toml::from_str(&text).unwrap_or_else(|error| panic!("{error}"));
        assert!(!validator.errors(&document).is_empty(), "{with}");
        assert!(toml::from_str::<CaseFile>(&text).is_err(), "{with}");
    }
}
