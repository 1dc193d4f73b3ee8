//! Any text as a pack or as the shared library.

use crate::assessment::{assess_text, refused};
use crate::bytes::Bytes;
use crate::edit::edit;
use oddment::{Pack, Text, new_case, packs};
use std::borrow::Cow;

/// First bytes that make an input a list of edits: of the pack, of the library.
const EDITED_PACK: u8 = 1;
const EDITED_LIBRARY: u8 = 2;

/// Reads the bytes as a pack beside the library that comes with the crate, and as a library beside
/// the drop-leaf pack (or, with a NUL between them, as both); when the first byte is 1 or 2 they are
/// edits of the pack or of the library. A valid pack's blank case must be valid, and give an
/// assessment or a typed error.
pub fn pack(bytes: &[u8]) {
    for (pack, library) in spelt(bytes) {
        check(Text::new("pack", &pack), Text::new("library", &library));
    }
}

/// The texts of pack and library that the bytes are or lead to.
pub(crate) fn spelt(bytes: &[u8]) -> Vec<(Cow<'_, str>, Cow<'_, str>)> {
    let Ok(form) = packs::text("drop-leaf-table") else {
        return Vec::new();
    };
    let (form, library) = (Cow::Borrowed(form.content), Cow::Borrowed(packs::LIBRARY));
    match bytes.split_first() {
        Some((&EDITED_PACK, script)) => {
            vec![(Cow::Owned(edit(&form, &mut Bytes::new(script))), library)]
        }
        Some((&EDITED_LIBRARY, script)) => {
            vec![(form, Cow::Owned(edit(&library, &mut Bytes::new(script))))]
        }
        _ => {
            let Ok(text) = std::str::from_utf8(bytes) else {
                return Vec::new();
            };
            match text.split_once('\0') {
                Some((one, other)) => vec![(Cow::Borrowed(one), Cow::Borrowed(other))],
                None => vec![(Cow::Borrowed(text), library), (form, Cow::Borrowed(text))],
            }
        }
    }
}

fn check(form: Text<'_>, library: Text<'_>) {
    match Pack::load(form, library) {
        Ok(pack) => {
            let _ = pack.lint();
            let text = new_case(&pack);
            let blank = oddment::Case::load(Text::new("new case", &text), &pack);
            if let Err(error) = blank {
                panic!("a valid pack's blank case is not valid: {error}");
            }
            assess_text(&pack, &text);
        }
        Err(error) => refused(&error),
    }
}
