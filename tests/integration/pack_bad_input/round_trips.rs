//! What is written as JSON reads back the same, and what two files say keeps its provenance.

use super::{LIBRARY, PACK, edited};
use oddment::pack::file::{LibraryFile, PackFile};
use oddment::{Case, Text, packs};
use serde_json::Value;
use std::path::{Path, PathBuf};

pub(super) fn example_cases() -> Vec<(PathBuf, String)> {
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

pub(super) fn written<T: serde::de::DeserializeOwned + serde::Serialize>(toml: &str) -> Value {
    let file: T = toml::from_str(toml).unwrap_or_else(|error| panic!("{error}"));
    serde_json::to_value(file).unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn a_case_in_json_is_the_same_case() {
    for (path, text) in example_cases() {
        let text = Text::new("case.toml", &text);
        let pack =
            packs::text_for(text).and_then(|pack| oddment::Pack::load(pack, packs::library()));
        let pack = pack.unwrap_or_else(|error| panic!("{error}"));
        let case = Case::load(text, &pack).unwrap_or_else(|error| panic!("{error}"));
        for json in [
            serde_json::to_string(&case.file).unwrap_or_default(),
            serde_json::to_string_pretty(&case.file).unwrap_or_default(),
            // As some editors save it.
            format!(
                "\u{feff}{}",
                serde_json::to_string(&case.file).unwrap_or_default()
            ),
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
        let load =
            |pack, library| super::load(pack, library).unwrap_or_else(|error| panic!("{error}"));
        let (mut one, other) = (load(&json.0, &json.1), load(pack, library));
        // The digest is that of the text.
        assert_ne!(one.digest, other.digest);
        one.digest.clone_from(&other.digest);
        assert_eq!(one, other);
    }
}

/// Composing two files must not lend a number of one the strength and source of the other.
#[test]
fn numbers_keep_the_strength_and_source_of_their_file() {
    let library = edited(LIBRARY, "strength = 8.0", "strength = 5.0");
    let library = edited(
        &library,
        "points_to = \"Long standing on stone.\"",
        "levels = [\"none\", \"some\", \"all\"]\npoints_to = \"Long standing on stone.\"",
    );
    let library = edited(
        &library,
        "shows = { any = 0.05 }",
        "shows = { any = [0.9, 0.06, 0.04] }",
    );
    let library = edited(&library, "damp = 0.8", "damp = [0.2, 0.5, 0.3]");
    let library = edited(&library, "found = 0.9, cleared = 0.9", "exact = 0.7");
    let pack = edited(
        PACK,
        "[[measure]]\nid = \"height\"",
        "[[incident]]\nfrom = \"damp\"\n\n[[sign]]\nfrom = \"foot-rot\"\nparts = [\"feet\"]\n\
         shows = { faked = [0.5, 0.3, 0.2] }\nstrength = 3\n\n[[measure]]\nid = \"height\"",
    );
    let pack = super::load(&pack, &library).unwrap_or_else(|error| panic!("{error}"));
    for (id, strength) in [
        ("sign/foot-rot/shows/any/1", 5.0),
        ("sign/foot-rot/shows/faked/1", 3.0),
        ("sign/foot-rot/caused-by/damp/2", 5.0),
        ("sign/foot-rot/reliability/exact", 5.0),
        ("sign/saw-arcs/dated/visible", 5.0),
        ("incident/damp/rate/any", 5.0),
        ("incident/refinished/rate/original", 20.0),
        ("incident/flooded/rate/any", 8.0),
        ("examination/poor", 5.0),
        ("prior/plain/as-made", 8.0),
    ] {
        let number = pack.find_number(id).unwrap_or_else(|| panic!("{id}"));
        assert_eq!(pack.numbers[number.index()].strength, strength, "{id}");
    }
}
