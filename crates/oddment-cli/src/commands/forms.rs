//! `oddment forms`: what comes with the command.

use crate::failure::Failure;
use crate::output::Output;
use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words::count;
use oddment::{Pack, packs};

pub(super) fn run() -> Result<Output, Failure> {
    let mut page = Page::new();
    for form in packs::forms() {
        let pack = packs::load(form).map_err(|error| Failure::engine(&error, &[]))?;
        render(&mut page, &pack);
    }
    Ok(Output::page(page.finish()))
}

fn render(page: &mut Page, pack: &Pack) {
    page.gap();
    page.paragraph(STRONG, 0, &format!("{}: {}", pack.id, pack.name));
    page.paragraph(PLAIN, 2, &pack.summary);
    let variants = pack
        .variants
        .iter()
        .map(|v| (v.id.as_str(), v.name.clone()));
    list(page, "Variants", variants.collect());
    let periods = pack.periods.iter().map(|p| {
        let years = format!("{} ({} to {})", p.name, p.from, p.to);
        (p.id.as_str(), years)
    });
    list(page, "Periods", periods.collect());
    let regions = pack.regions.iter().map(|r| (r.id.as_str(), r.name.clone()));
    list(page, "Regions", regions.collect());
    let counts = format!(
        "{}, {} ({} with the parts they can be at), {}, {}, {}. Pack {}, library {}.",
        count(pack.histories.len(), "history", "histories"),
        count(pack.signs.len(), "sign", "signs"),
        pack.sign_places(),
        count(pack.measures.len(), "measure", "measures"),
        count(pack.checks.len(), "check", "checks"),
        count(pack.incidents.len(), "incident", "incidents"),
        pack.version,
        pack.library_version,
    );
    page.gap();
    page.paragraph(FAINT, 2, &counts);
}

fn list(page: &mut Page, title: &str, entries: Vec<(&str, String)>) {
    page.gap();
    page.paragraph(STRONG, 2, title);
    let widest = entries.iter().map(|(id, _)| id.len()).max().unwrap_or(0);
    for (id, name) in entries {
        page.hang(PLAIN, 4, &format!("{id:widest$}  "), &name);
    }
}
