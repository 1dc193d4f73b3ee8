//! `oddment lint`: what is wrong or doubtful in a pack.

use crate::arguments::Linting;
use crate::failure::{Failure, Status};
use crate::output::Output;
use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words::{count, list, thousands};
use oddment::Pack;
use oddment::lint::{Scan, ScanOptions, scan};
use oddment::pack::Standing;
use std::num::NonZero;

pub(super) fn run(name: &str, pack: &Pack, asked: &Linting) -> Result<Output, Failure> {
    let mut findings = pack.lint();
    let simulated = match asked.quick {
        true => None,
        false => Some(simulate(pack, asked)?),
    };
    findings.extend(simulated.iter().flat_map(|scan| scan.findings.clone()));
    let mut page = Page::new();
    for finding in &findings {
        page.paragraph(STRONG, 0, &format!("{} [{}]", finding.about, finding.code));
        page.paragraph(PLAIN, 2, &finding.message);
    }
    page.gap();
    let (found, status) = match findings.len() {
        0 => (" is clean".to_owned(), Status::Done),
        found => (
            format!(": {}", count(found, "doubtful thing", "doubtful things")),
            Status::Doubtful,
        ),
    };
    page.paragraph(PLAIN, 0, &format!("{name}{found}; {}", counts(pack)));
    page.paragraph(FAINT, 0, &done(simulated.as_ref()));
    Ok(Output::page(page.finish()).ending(status))
}

fn simulate(pack: &Pack, asked: &Linting) -> Result<Scan, Failure> {
    let threads = asked
        .threads
        .or_else(|| std::thread::available_parallelism().ok().map(NonZero::get));
    let options = ScanOptions {
        seed: asked.seed,
        threads: threads.unwrap_or(1),
        ..ScanOptions::default()
    };
    scan(pack, &options, &|_, _| true).map_err(|error| Failure::engine(&error, &[]))
}

/// What was done, and what came nearest to being doubtful.
fn done(simulated: Option<&Scan>) -> String {
    let Some(scan) = simulated else {
        return "Single entries only; without --quick pieces are simulated as well.".to_owned();
    };
    let mut told = format!(
        "Simulated {} pieces with everything looked at",
        thousands(scan.pieces)
    );
    if let Some(hardest) = &scan.hardest {
        let (one, other) = &hardest.histories;
        told += &format!(
            ": hardest to tell apart are `{one}` and `{other}`, of which the right one would be \
             picked {:.0} times in 100",
            100.0 * hardest.picked
        );
    }
    told += &format!(
        ". Tried the numbers on {} pieces with half of it looked at",
        thousands(scan.examined)
    );
    if let Some(strongest) = &scan.strongest {
        told += &format!(
            ": `{}` moves the leading verdict most, by {:.0} in 100 on average",
            strongest.number,
            100.0 * strongest.swing
        );
    }
    told + "."
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
