//! Any text as a case for the drop-leaf pack.

use crate::assessment::assess_text;
use crate::bytes::Bytes;
use crate::edit::edit;
use oddment::{Pack, new_case, packs};
use std::borrow::Cow;
use std::sync::LazyLock;

/// The embedded pack; the oddment tests say what is wrong when it does not load.
pub(crate) static PACK: LazyLock<Option<Pack>> =
    LazyLock::new(|| packs::load("drop-leaf-table").ok());

/// Valid cases to edit: the blank one, and one that answers every sign in turn.
static TEMPLATES: LazyLock<Vec<String>> = LazyLock::new(|| {
    PACK.as_ref()
        .map(|pack| vec![new_case(pack), filled_case(pack)])
        .unwrap_or_default()
});

/// The first bytes that make an input a list of edits instead of a text.
const EDITED: u8 = 1;

/// Reads the bytes as a case, or, when the first is 1, as edits of a valid one; assesses it when it
/// is valid.
pub fn case(bytes: &[u8]) {
    if let (Some(pack), Some(text)) = (PACK.as_ref(), spelt(bytes)) {
        assess_text(pack, &text);
    }
}

/// The text that the bytes are or lead to.
pub(crate) fn spelt(bytes: &[u8]) -> Option<Cow<'_, str>> {
    match bytes.split_first() {
        Some((&EDITED, script)) => {
            let mut script = Bytes::new(script);
            let template = TEMPLATES.get(script.below(TEMPLATES.len()))?;
            Some(Cow::Owned(edit(template, &mut script)))
        }
        _ => std::str::from_utf8(bytes).ok().map(Cow::Borrowed),
    }
}

/// The first twelve signs answered, each with another of its levels.
fn filled_case(pack: &Pack) -> String {
    let blank = new_case(pack);
    let head = blank.split("# ----").next().unwrap_or_default();
    let mut text = head.to_owned();
    for (place, sign) in pack.signs.iter().take(12).enumerate() {
        let level = &sign.levels[place % sign.levels.len()];
        let part = &pack.parts[sign.parts[0]].id;
        text.push_str(&format!(
            "[[finding]]\nsign = \"{}\"\npart = \"{part}\"\nfound = \"{level}\"\nsure = \"fairly-sure\"\n",
            sign.id
        ));
    }
    for measure in pack.measures.iter().take(3) {
        let (low, high) = measure.plausible;
        text.push_str(&format!(
            "[[reading]]\nmeasure = \"{}\"\nvalue = {:?}\n",
            measure.id,
            low + (high - low) / 3.0
        ));
    }
    if let Some(incident) = pack.incidents.first() {
        text.push_str(&format!("[known]\n{} = true\n", incident.id));
    }
    if let Some(history) = pack.histories.first() {
        text.push_str(&format!("[prior]\n{} = 100.0\n", history.id));
    }
    text
}
