//! `oddment lint`: what is wrong or doubtful in a pack.

use crate::failure::{Failure, Status};
use crate::input::{Source, load_pack};
use crate::output::Output;
use crate::page::{PLAIN, Page, STRONG};
use crate::words::{count, list};
use oddment::Pack;
use oddment::pack::Standing;
use std::path::Path;

pub(super) fn run(source: &Source, library: Option<&Path>) -> Result<Output, Failure> {
    let pack = load_pack(source, library)?;
    let findings = pack.lint();
    let mut page = Page::new();
    if findings.is_empty() {
        page.row(
            PLAIN,
            &format!("{} is clean: {}", source.name, counts(&pack)),
        );
        return Ok(Output::page(page.finish()));
    }
    for finding in &findings {
        page.paragraph(STRONG, 0, &format!("{} [{}]", finding.about, finding.code));
        page.paragraph(PLAIN, 2, &finding.message);
    }
    page.gap();
    let found = count(findings.len(), "doubtful thing", "doubtful things");
    page.paragraph(
        PLAIN,
        0,
        &format!("{}: {found}; {}", source.name, counts(&pack)),
    );
    Ok(Output::page(page.finish()).ending(Status::Doubtful))
}

/// What the pack holds, and how well its numbers are supported.
fn counts(pack: &Pack) -> String {
    let standings = [
        (Standing::Read, "read"),
        (Standing::ReadInPart, "read in part"),
        (Standing::FromMemory, "from memory"),
        (Standing::CommonPractice, "common practice"),
        (Standing::Elicited, "working guess"),
    ];
    let numbers: Vec<String> = standings
        .into_iter()
        .filter_map(|(standing, words)| {
            let rest_on_it = pack
                .numbers
                .iter()
                .filter(|number| {
                    let source = pack.sources.get(number.source);
                    source.is_some_and(|source| source.standing == standing)
                })
                .count();
            (rest_on_it > 0).then(|| format!("{rest_on_it} {words}"))
        })
        .collect();
    format!(
        "{}, {}, {} at parts, {}, {}; {} by standing of source: {}",
        count(pack.histories.len(), "history", "histories"),
        count(pack.incidents.len(), "incident", "incidents"),
        count(pack.sign_places(), "sign", "signs"),
        count(pack.measures.len(), "measure", "measures"),
        count(pack.checks.len(), "check", "checks"),
        count(pack.numbers.len(), "number", "numbers"),
        list(&numbers),
    )
}
