//! A form's pack as a page to read and to argue with: every number in words, with its id.
//!
//! Nothing here computes; what a page says is what the pack says.

mod claims;
mod looking;
mod markdown;
mod measures;
mod signs;
#[cfg(test)]
mod tests;

use crate::pack::Pack;
use crate::pack::file::Standing;
use markdown::{Page, one_line, stopped};
use std::collections::BTreeSet;

/// How to renew what is written.
const WRITTEN: &str = "Written from the packs by `cargo xtask pages --write`: change a pack, not this \
                       page.";

/// The page of a form, in Markdown: what can be claimed, the rival stories with their starting
/// counts, incidents, checks, signs, measures, groups and sources, every number with its id,
/// strength and source, and how to dispute one.
///
/// ```
/// use oddment::form_page::form_page;
/// let pack = oddment::packs::load("drop-leaf-table")?;
/// let page = form_page(&pack);
/// assert!(page.starts_with("# Drop-leaf table\n"));
/// assert!(page.contains("`sign/tracks-stop-at-join/shows/pieced-out`"));
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn form_page(pack: &Pack) -> String {
    let mut page = Page::new(pack);
    head(&mut page);
    claims::write(&mut page);
    looking::write_incidents(&mut page);
    looking::write_checks(&mut page);
    signs::write(&mut page);
    measures::write(&mut page);
    looking::write_groups(&mut page);
    looking::write_examination(&mut page);
    looking::write_unused_curves(&mut page);
    sources(&mut page);
    dispute(&mut page);
    page.finish()
}

/// The list of all forms, in Markdown, with links to pages beside it.
///
/// ```
/// use oddment::form_page::form_index;
/// let pack = oddment::packs::load("drop-leaf-table")?;
/// assert!(form_index(&[pack]).contains("[Drop-leaf table](drop-leaf-table.md)"));
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn form_index(packs: &[Pack]) -> String {
    let mut text = String::from("# Forms\n\n");
    text += "What the packs that come with oddment say, number by number, to be read and argued with.\n\n";
    text += "| form | pack | stories | signs | measures | numbers |\n";
    text += "| --- | --- | ---: | ---: | ---: | ---: |\n";
    for pack in packs {
        text += &format!(
            "| [{}]({}.md) | `{}` {} | {} | {} | {} | {} |\n",
            one_line(&pack.name).replace('|', "\\|"),
            pack.id,
            pack.id,
            pack.version,
            pack.histories.len(),
            pack.signs.len(),
            pack.measures.len(),
            pack.numbers.len()
        );
    }
    text + "\n" + WRITTEN + "\n"
}

fn head(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(1, &pack.name);
    page.paragraph(&format!(
        "Pack `{}` {}, library {}. {WRITTEN}",
        pack.id, pack.version, pack.library_version
    ));
    page.paragraph(&pack.summary);
    page.paragraph(
        "Chances are in 100. Beside each number stands its id, by which a case or an opinion may \
         replace it (see [the end](#how-to-dispute-a-number)). What a number is worth is how many \
         pieces seen it counts for. A number stands under a *selector*: a story's id, a story's kind, \
         a verdict or `any`; where several fit a story, the first in that order holds. In a row of \
         levels the first id is written whole, and of the others only how they end.",
    );
    let parts = [
        ("What can be claimed", "what-can-be-claimed"),
        ("Parts", "parts"),
        ("Stories", "stories"),
        ("Starting counts", "starting-counts"),
        ("What shifts the counts", "what-shifts-the-counts"),
        ("Incidents", "incidents"),
        ("Checks", "checks"),
        ("Signs", "signs"),
        ("Measures", "measures"),
        ("Groups", "groups"),
        ("How looking goes wrong", "how-looking-goes-wrong"),
        ("Sources", "sources"),
        ("How to dispute a number", "how-to-dispute-a-number"),
    ];
    let links = parts.map(|(title, anchor)| format!("[{title}](#{anchor})"));
    page.paragraph(&format!("{}.", links.join(" · ")));
}

/// Sources that something of the pack rests on.
fn sources(page: &mut Page<'_>) {
    let pack = page.pack;
    let mut used: BTreeSet<usize> = pack.numbers.iter().map(|number| number.source).collect();
    used.extend(pack.measures.iter().map(|measure| measure.source));
    let named = pack
        .later_work
        .iter()
        .filter_map(|work| work.source.as_ref());
    for id in named {
        used.extend(pack.sources.iter().position(|source| source.id == *id));
    }
    page.heading(2, "Sources");
    for source in used.into_iter().filter_map(|place| pack.sources.get(place)) {
        page.heading(3, &format!("Source `{}`", source.id));
        page.paragraph(&format!(
            "*{}.* {} {}",
            standing(source.standing),
            stopped(&source.reference),
            source.note.as_deref().map(stopped).unwrap_or_default()
        ));
    }
}

/// How well a source supports what it is cited for.
fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Read => "Published, and read for this purpose",
        Standing::ReadInPart => "Published, and read in part or at second hand",
        Standing::FromMemory => "Published, recalled from memory, unverified",
        Standing::CommonPractice => "Common practice of the trade, no source",
        Standing::Elicited => "A working guess",
    }
}

fn dispute(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(2, "How to dispute a number");
    let Some(example) = pack.numbers.iter().find(|number| !number.structural) else {
        return;
    };
    // A sign's chance by choice, because that is what people argue about.
    let sign = pack
        .numbers
        .iter()
        .find(|n| n.id.contains("/shows/") && !n.structural);
    let example = sign.unwrap_or(example);
    page.paragraph(&format!(
        "Say which number is wrong by its id, what it should be, and what pieces you have in mind: \
         \"`{}` is too high\". Chances in 100 on this page are shares in files: 30 in 100 is 0.3. To \
         see what yours would do to a piece, put it into the case",
        example.id
    ));
    let value = crate::text::figure(example.mean);
    let assigned = format!("\"{}\" = {value}", example.id);
    page.code("toml", &format!("[numbers]\n{assigned}"));
    page.paragraph("or into an opinion file, to be set beside the pack's and other people's:");
    page.code(
        "toml",
        &format!("schema = \"oddment/opinion/1\"\nname = \"a restorer\"\n\n[numbers]\n{assigned}"),
    );
    page.code(
        "sh",
        "oddment lean mine.toml --expert restorer.toml   # beside the pack's answer\n\
         oddment lean mine.toml --all                    # which numbers matter to this piece at all\n\
         oddment elicit --quartiles 0.2 0.3 0.4          # from what you can say to a number and its worth",
    );
    page.paragraph(
        "In one row (levels of a sign, starting counts of a variant) the numbers sum to one or to \
         1,000, so a dispute about one is a dispute about the others.",
    );
}
