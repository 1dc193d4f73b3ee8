//! The packs that come with the crate.

use crate::Problem;
use crate::case::Case;
use crate::error::Error;
use crate::form::FormSummary;
use crate::pack::Pack;
use crate::pack::extension::{EXTENSION_SCHEMA, ExtensionFile};
use crate::text::{At, Problems, Text, nearest, parse_own, schema_of};

/// The shared library's text: what several forms have in common, and the references behind it.
pub const LIBRARY: &str = concat!(
    include_str!("../../../priors/shared/library.toml"),
    "\n",
    include_str!("../../../priors/shared/sources.toml"),
);

macro_rules! embedded {
    ($($form:literal),* $(,)?) => {
        &[$((
            $form,
            concat!("priors/", $form, ".toml"),
            include_str!(concat!("../../../priors/", $form, ".toml")),
        )),*]
    };
}

/// Form id, file name and text of each pack, in the order they are listed.
const EMBEDDED: &[(&str, &str, &str)] = embedded![
    "armchair",
    "card-table",
    "chest-of-drawers",
    "chest-on-chest",
    "drop-leaf-table",
    "kneehole-desk",
    "library-bookcase",
    "linen-press",
    "looking-glass",
    "side-chairs",
    "sideboard",
    "slant-front-desk",
    "tilt-top-table",
];

/// Ids of the forms whose packs come with the crate.
pub fn forms() -> impl Iterator<Item = &'static str> {
    EMBEDDED.iter().map(|(id, _, _)| *id)
}

/// What is said of each form that comes with the crate, without loading its pack.
///
/// ```
/// let list = oddment::packs::summaries();
/// assert!(list.iter().any(|form| form.name == "Drop-leaf table"));
/// assert_eq!(list.len(), oddment::packs::forms().count());
/// ```
pub fn summaries() -> Vec<FormSummary> {
    #[derive(serde::Deserialize)]
    struct Head {
        name: String,
        version: String,
        summary: String,
    }
    let summary = |(id, _, content): &(&str, &str, &str)| {
        // Whatever stands before the first table is a document of its own.
        let head = content.split("\n[").next()?;
        let head: Head = parse_own(head)?;
        Some(FormSummary {
            id: (*id).to_owned(),
            name: head.name,
            version: head.version,
            summary: head.summary,
        })
    };
    EMBEDDED.iter().filter_map(summary).collect()
}

/// The shared library as a named text.
pub fn library() -> Text<'static> {
    Text::new("priors/shared/library.toml + sources.toml", LIBRARY)
}

/// The text of a pack that comes with the crate.
///
/// # Errors
/// [`Error::Invalid`] for an unknown form, with the nearest valid one.
pub fn text(form: &str) -> Result<Text<'static>, Error> {
    match EMBEDDED.iter().find(|(id, _, _)| *id == form) {
        Some((_, name, content)) => Ok(Text::new(name, content)),
        None => {
            let near =
                nearest(form, forms()).map_or(String::new(), |name| format!(", perhaps `{name}`"));
            let all: Vec<&str> = forms().collect();
            let message = format!("unknown form `{form}`{near}; valid: {}", all.join(", "));
            Err(Error::Invalid(vec![Problem {
                code: "pack/unknown-form",
                file: String::new(),
                line: 0,
                column: 0,
                message,
                excerpt: String::new(),
            }]))
        }
    }
}

/// The text of the pack for the form that a case names.
///
/// # Errors
/// [`Error::Invalid`] when the text is not a case, or, placed at its `form`, when the form is
/// unknown.
pub fn text_for(case: Text<'_>) -> Result<Text<'static>, Error> {
    let form = Case::form(case)?;
    text(&form).map_err(|error| {
        let mut problems = Problems::new(vec![case]);
        let at = At::root(0).then("piece").then("form");
        for problem in error.problems() {
            problems.note(&at, problem.code, problem.message.clone());
        }
        Error::Invalid(problems.finish())
    })
}

/// Loads a user's own pack, or a user's extension of a pack that comes with the crate.
///
/// # Errors
/// [`Error::Invalid`] as [`Pack::load`] and [`Pack::load_extended`], and when the form that an
/// extension extends is unknown.
pub fn compose(text: Text<'_>, library: Text<'_>) -> Result<Pack, Error> {
    if schema_of(&text).as_deref() != Some(EXTENSION_SCHEMA) {
        return Pack::load(text, library);
    }
    let extends = ExtensionFile::read(&text)?.extends;
    let base = self::text(&extends).map_err(|error| {
        let mut problems = Problems::new(vec![text]);
        let at = At::root(0).then("extends");
        for problem in error.problems() {
            problems.note(&at, problem.code, problem.message.clone());
        }
        Error::Invalid(problems.finish())
    })?;
    Pack::load_extended(base, text, library)
}

/// Loads a pack that comes with the crate.
///
/// # Errors
/// [`Error::Invalid`] for an unknown form.
pub fn load(form: &str) -> Result<Pack, Error> {
    Pack::load(text(form)?, library())
}
