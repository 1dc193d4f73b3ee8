//! `oddment study`: how sure the answer is, over many draws of the numbers.

use crate::arguments::Drawn;
use crate::commands::report::may_write;
use crate::failure::Failure;
use crate::frame;
use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words::{count, out_of, thousands};
use oddment::pack::VERDICTS;
use oddment::study::{NumberGroup, Study, StudyOptions, StudyReport, study};
use oddment::{Case, Pack};
use std::fs::{File, OpenOptions};
use std::io::{BufWriter, IsTerminal, Write};
use std::num::NonZero;
use std::path::Path;
use std::sync::atomic::{AtomicU32, AtomicU64, Ordering};

/// The most histories told.
const HISTORIES: usize = 5;

/// A history less likely than this, even at the high end, is not told.
const WORTH_TELLING: f64 = 0.02;

/// How often Ctrl-C was pressed.
static INTERRUPTS: AtomicU32 = AtomicU32::new(0);

pub(super) fn work_out(
    pack: &Pack,
    case: &Case,
    path: &Path,
    drawn: &Drawn,
) -> Result<Study, Failure> {
    // A study takes its time: what cannot be written is better known before.
    let csv = drawn
        .csv
        .as_deref()
        .map(|csv| open(csv, path))
        .transpose()?;
    watch_for_interrupts();
    let threads = drawn
        .threads
        .or_else(|| std::thread::available_parallelism().ok().map(NonZero::get));
    let options = StudyOptions {
        draws: drawn.draws,
        seed: drawn.seed,
        pairs: drawn.pairs.min(drawn.draws / 2),
        threads: threads.unwrap_or(1),
    };
    let progress = Progress::new();
    let study = study(pack, case, &options, &|done, all| progress.told(done, all))
        .map_err(|error| Failure::engine(&error, &[]))?;
    progress.clear();
    if study.report.draws < 2 {
        return Err(Failure::stopped(
            "stopped before enough was drawn to say anything",
        ));
    }
    if let (Some(file), Some(path)) = (csv, &drawn.csv) {
        let written = write_draws(&file, &study);
        written.map_err(|error| Failure::write(&path.display().to_string(), &error))?;
    }
    Ok(study)
}

/// The first Ctrl-C lets the draws under way finish, the second ends at once.
fn watch_for_interrupts() {
    // Without a handler Ctrl-C ends at once, as it does elsewhere.
    let _ = ctrlc::set_handler(|| {
        if INTERRUPTS.fetch_add(1, Ordering::Relaxed) > 0 {
            std::process::exit(crate::failure::Status::Stopped as i32);
        }
    });
}

/// Opens a file for draws, leaving what is in it until there is something to write.
fn open(csv: &Path, source: &Path) -> Result<File, Failure> {
    may_write(csv, source)?;
    let file = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(false)
        .open(csv);
    file.map_err(|error| Failure::write(&csv.display().to_string(), &error))
}

/// One line for each draw, in full precision.
fn write_draws(file: &File, study: &Study) -> std::io::Result<()> {
    file.set_len(0)?;
    let mut out = BufWriter::new(file);
    writeln!(out, "{}", VERDICTS.map(|verdict| verdict.id()).join(","))?;
    for [original, married, converted, faked] in &study.draws {
        writeln!(out, "{original},{married},{converted},{faked}")?;
    }
    out.flush()
}

/// How far it is, on standard error, when that is a terminal.
#[derive(Debug)]
struct Progress {
    shown: bool,
    /// Hundredths told last, so that the line is not written anew for nothing.
    last: AtomicU64,
}

impl Progress {
    fn new() -> Self {
        Self {
            shown: std::io::stderr().is_terminal(),
            last: AtomicU64::new(u64::MAX),
        }
    }

    /// Tells how far it is, and whether to go on.
    fn told(&self, done: u64, all: u64) -> bool {
        let hundredths = 100 * done / all.max(1);
        if self.shown && self.last.swap(hundredths, Ordering::Relaxed) != hundredths {
            let marks = (hundredths / 10) as usize;
            let line = format!(
                "\r[{}{}] {hundredths:>3} % of {}",
                "=".repeat(marks),
                " ".repeat(10_usize.saturating_sub(marks)),
                thousands(all)
            );
            // Nobody is left to tell that it cannot be told.
            let _ = std::io::stderr().write_all(line.as_bytes());
        }
        INTERRUPTS.load(Ordering::Relaxed) == 0
    }

    fn clear(&self) {
        if self.shown {
            let line = format!("\r{}\r", " ".repeat(38));
            let _ = std::io::stderr().write_all(line.as_bytes());
        }
    }
}

/// The whole page.
pub(super) fn render(study: &StudyReport) -> String {
    let mut page = Page::new();
    fill(&mut page, study);
    page.finish()
}

pub(super) fn fill(page: &mut Page, study: &StudyReport) {
    frame::head(page, &study.pack, &study.piece);
    if study.draws < study.asked {
        page.gap();
        let text = format!(
            "Stopped after {} of {} draws.",
            thousands(study.draws),
            thousands(study.asked)
        );
        page.paragraph(STRONG, 0, &text);
    }
    verdicts(page, study);
    histories(page, study);
    groups(page, study);
    page.gap();
    let text = format!(
        "{} of {} at once, seed {}. Each number is drawn about its own value, the more narrowly \
         the more pieces it is worth.",
        count_of_draws(study.draws),
        count(study.numbers, "number", "numbers"),
        study.seed
    );
    page.paragraph(FAINT, 0, &text);
    frame::foot(page, &study.pack, &study.engine, &study.limits);
}

fn count_of_draws(draws: u64) -> String {
    format!("{} draws", thousands(draws))
}

fn verdicts(page: &mut Page, study: &StudyReport) {
    page.heading("How sure the answer is, the numbers being guesses (of 1,000)");
    if page.is_narrow() {
        for odds in &study.verdicts {
            let text = format!(
                "{}: {} to {} in 9 draws of 10; leads in {} of 100 draws",
                odds.verdict.id(),
                out_of(1000, odds.spread.low),
                out_of(1000, odds.spread.high),
                out_of(100, odds.leads)
            );
            let label = format!("{:>8}  ", out_of(1000, odds.probability));
            page.hang(PLAIN, 0, &label, &text);
        }
        return;
    }
    page.row(
        FAINT,
        "              as stated   9 draws of 10 between   half below   leads, of 100",
    );
    for odds in &study.verdicts {
        let between = format!(
            "{} and {}",
            out_of(1000, odds.spread.low),
            out_of(1000, odds.spread.high)
        );
        let line = format!(
            "  {:10}{:>11}{between:>24}{:>13}{:>16}",
            odds.verdict.id(),
            out_of(1000, odds.probability),
            out_of(1000, odds.spread.median),
            out_of(100, odds.leads)
        );
        let leads = odds.verdict == study.leading;
        page.row(if leads { STRONG } else { PLAIN }, &line);
    }
}

fn histories(page: &mut Page, study: &StudyReport) {
    page.heading("The main stories (of 1,000; in 9 draws of 10)");
    let told = study
        .histories
        .iter()
        .enumerate()
        .filter(|(place, history)| *place == 0 || history.spread.high >= WORTH_TELLING)
        .take(HISTORIES);
    for (_, history) in told {
        let text = format!(
            "{}: {} ({} to {})",
            history.name,
            history.verdict.id(),
            out_of(1000, history.spread.low),
            out_of(1000, history.spread.high)
        );
        let label = format!("{:>8}  ", out_of(1000, history.probability));
        page.hang(PLAIN, 0, &label, &text);
    }
}

fn groups(page: &mut Page, study: &StudyReport) {
    if study.groups.is_empty() {
        return;
    }
    let leading = study.leading.id();
    page.heading(&format!("Where the spread of {leading} comes from"));
    if page.is_narrow() {
        for group in &study.groups {
            let text = format!(
                "{} ({}): by itself {} ({} to {}), with the rest {} ({} to {})",
                words(group.group),
                group.numbers,
                share(group.first),
                share(group.first_low),
                share(group.first_high),
                share(group.total),
                share(group.total_low),
                share(group.total_high)
            );
            page.hang(PLAIN, 2, "- ", &text);
        }
    } else {
        page.row(FAINT, "        by itself  with the rest");
        for group in &study.groups {
            let label = format!(
                "{:>17}{:>15}  ",
                interval(group.first, group.first_low, group.first_high),
                interval(group.total, group.total_low, group.total_high)
            );
            let text = format!("{} ({})", words(group.group), group.numbers);
            page.hang(PLAIN, 0, &label, &text);
        }
    }
    let text = format!(
        "Parts in 100 of the spread (the variance), with the range in which they lie 9 times in \
         10, from {} pairs of draws. By itself: what would go if these numbers alone were known. \
         With the rest: what would stay if all others were known. How many numbers there are \
         stands in brackets.",
        thousands(study.pairs)
    );
    page.paragraph(FAINT, 2, &text);
}

/// A share of the variance in 100. What an estimate misses below none or above all is not shown.
fn share(share: f64) -> String {
    format!("{:.0}", (100.0 * share).clamp(0.0, 100.0))
}

fn interval(value: f64, low: f64, high: f64) -> String {
    format!("{} ({}-{})", share(value), share(low), share(high))
}

fn words(group: NumberGroup) -> &'static str {
    match group {
        NumberGroup::Prior => "the starting counts, by variant, period and region",
        NumberGroup::Temptation => "the pull of the price gap",
        NumberGroup::Incidents => "how often honest events happen",
        NumberGroup::Signs => "what stories and events show and hide",
        NumberGroup::Dates => "when techniques were in use, and how they show",
        NumberGroup::Reports => "how far reports can be relied on",
        NumberGroup::Measures => "what is expected of measures",
    }
}
