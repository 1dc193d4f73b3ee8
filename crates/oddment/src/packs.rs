//! The packs that come with the crate.

use crate::Problem;
use crate::error::Error;
use crate::pack::Pack;
use crate::text::{Text, nearest};

/// The shared library's text.
pub const LIBRARY: &str = include_str!("../../../priors/shared/library.toml");

/// Form id, file name and text of each pack.
const EMBEDDED: [(&str, &str, &str); 1] = [(
    "drop-leaf-table",
    "priors/drop-leaf-table.toml",
    include_str!("../../../priors/drop-leaf-table.toml"),
)];

/// Ids of the forms whose packs come with the crate.
pub fn forms() -> impl Iterator<Item = &'static str> {
    EMBEDDED.iter().map(|(id, _, _)| *id)
}

/// The shared library as a named text.
pub fn library() -> Text<'static> {
    Text::new("priors/shared/library.toml", LIBRARY)
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

/// Loads a pack that comes with the crate.
///
/// # Errors
/// [`Error::Invalid`] for an unknown form.
pub fn load(form: &str) -> Result<Pack, Error> {
    Pack::load(text(form)?, library())
}
