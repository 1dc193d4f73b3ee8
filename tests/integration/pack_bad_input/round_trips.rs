//! What is written as JSON reads back the same, and fits the published schema.

use super::{CASE, LIBRARY, PACK, edited};
use oddment::case::file::CaseFile;
use oddment::pack::file::{LibraryFile, PackFile};
use oddment::{Case, Schema, Text, assess, packs, schema};
use serde_json::Value;
use std::path::{Path, PathBuf};

fn example_cases() -> Vec<(PathBuf, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../priors/cases");
    let mut cases: Vec<_> = std::fs::read_dir(&folder)
        .unwrap_or_else(|error| panic!("{}: {error}", folder.display()))
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .map(|path| {
            let text = std::fs::read_to_string(&path).unwrap_or_default();
            (path, text)
        })
        .collect();
    cases.sort();
    assert!(cases.len() >= 6, "{cases:?}");
    cases
}

fn written<T: serde::de::DeserializeOwned + serde::Serialize>(toml: &str) -> Value {
    let file: T = toml::from_str(toml).unwrap_or_else(|error| panic!("{error}"));
    serde_json::to_value(file).unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn a_case_in_json_is_the_same_case() {
    for (path, text) in example_cases() {
        let text = Text::new("case.toml", &text);
        let pack = packs::text_for(text).and_then(|pack| oddment::Pack::load(pack, packs::library()));
        let pack = pack.unwrap_or_else(|error| panic!("{error}"));
        let case = Case::load(text, &pack).unwrap_or_else(|error| panic!("{error}"));
        for json in [
            serde_json::to_string(&case.file).unwrap_or_default(),
            serde_json::to_string_pretty(&case.file).unwrap_or_default(),
            // As some editors save it.
            format!("\u{feff}{}", serde_json::to_string(&case.file).unwrap_or_default()),
        ] {
            let again = Case::load(Text::new("case.json", &json), &pack);
            assert_eq!(again.as_ref(), Ok(&case), "{}", path.display());
        }
        let toml = toml::to_string(&case.file).unwrap_or_default();
        let again = Case::load(Text::new("again.toml", &toml), &pack);
        assert_eq!(again.as_ref(), Ok(&case), "{}", path.display());
    }
}

#[test]
fn a_pack_and_library_in_json_are_the_same() {
    let pack = packs::text("drop-leaf-table").map_or("", |text| text.content);
    for (pack, library) in [(pack, packs::LIBRARY), (PACK, LIBRARY)] {
        let json = (
            written::<PackFile>(pack).to_string(),
            written::<LibraryFile>(library).to_string(),
        );
        let load = |pack, library| {
            super::load(pack, library).unwrap_or_else(|error| panic!("{error}"))
        };
        let (mut one, other) = (load(&json.0, &json.1), load(pack, library));
        // The digest is that of the text.
        assert_ne!(one.digest, other.digest);
        one.digest.clone_from(&other.digest);
        assert_eq!(one, other);
    }
}

/// Asserts that a document fits a schema, and that with an unknown field, at the top or in the
/// last object in it, it does not.
fn fits(of: Schema, document: &Value) {
    let schema = schema(of);
    let validator = jsonschema::draft202012::new(&schema).unwrap_or_else(|error| panic!("{error}"));
    let errors: Vec<String> = validator
        .iter_errors(document)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .take(3)
        .collect();
    assert!(errors.is_empty(), "{of:?}: {errors:?}");
    let mut with_more = document.clone();
    if let Some(fields) = with_more.as_object_mut() {
        fields.insert("colour".into(), Value::Bool(true));
    }
    assert!(!validator.is_valid(&with_more), "{of:?}: an unknown field");
    let mut with_less = document.clone();
    if let Some(fields) = with_less.as_object_mut() {
        fields.remove("schema");
    }
    assert!(!validator.is_valid(&with_less), "{of:?}: without `schema`");
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
fn cases_and_assessments_fit_their_schemas() {
    fits(Schema::Case, &written::<CaseFile>(CASE));
    let pack = packs::load("drop-leaf-table").unwrap_or_else(|error| panic!("{error}"));
    for (place, (path, text)) in example_cases().iter().enumerate() {
        fits(Schema::Case, &written::<CaseFile>(text));
        // One assessment of each kind is enough: they take their time.
        if place % 3 == 0 {
            let case = Case::load(Text::new("case", text), &pack);
            let case = case.unwrap_or_else(|error| panic!("{}: {error}", path.display()));
            let assessment = assess(&pack, &case).unwrap_or_else(|error| panic!("{error}"));
            let assessment = serde_json::to_value(assessment).unwrap_or_default();
            fits(Schema::Assessment, &assessment);
        }
    }
}

#[test]
fn what_the_loader_refuses_at_sight_the_schema_refuses() {
    let validator = jsonschema::draft202012::new(&schema(Schema::Case));
    let validator = validator.unwrap_or_else(|error| panic!("{error}"));
    for (find, with) in [
        ("region = \"england\"\n", ""),
        ("poor = 0.1", "poor = \"little\""),
        ("sure = \"fairly-sure\"", "sure = \"fairly\""),
        ("claimed_years = [1650, 1660]", "claimed_years = [1650]"),
        ("flooded = false", "flooded = 0"),
        ("sign = \"seat-fits\"", "sign = 7"),
        ("sign = \"seat-fits\"", "sign = \"seat-fits\"\ncolour = 1"),
    ] {
        let text = edited(CASE, find, with);
        let document: Value = toml::from_str(&text).unwrap_or_else(|error| panic!("{error}"));
        assert!(!validator.is_valid(&document), "{with}");
        assert!(toml::from_str::<CaseFile>(&text).is_err(), "{with}");
    }
}
