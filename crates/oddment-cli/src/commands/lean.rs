//! `oddment lean`: which of the numbers the verdict hangs on.

mod numbers;
mod opinions;

use crate::arguments::{Leanings, PackChoice};
use crate::failure::Failure;
use crate::frame;
use crate::input::Source;
use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words::{chance, figure, list, out_of};
use oddment::leaning::{Leaning, NumberUnit};
use oddment::pack::VERDICTS;
use oddment::pool::Subject;
use oddment::{Case, LeanOptions, Pack, lean};

/// Shares not original told in the table of the sweep, in 100.
const SHARES: [f64; 9] = [1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0];

/// Shares closer than this are the same.
const SAME: f64 = 1e-9;

pub(super) fn work_out(
    pack: &Pack,
    case: &Case,
    source: &Source,
    asked: &Leanings,
    choice: &PackChoice,
) -> Result<Leaning, Failure> {
    let grid = match asked.grid.as_deref() {
        Some([one, other]) if one == other => {
            let message = format!("`{one}` cannot be moved against itself; give two numbers");
            return Err(Failure::usage([("query/same-number", message)]));
        }
        Some([one, other]) => Some((one.clone(), other.clone())),
        _ => None,
    };
    let library = choice.library()?;
    let subject = Subject {
        pack,
        case,
        text: source.text(),
        library: library.text(),
    };
    let mut opinions = Vec::new();
    if !asked.expert.is_empty() {
        opinions.push(subject.as_it_stands(1.0));
    }
    for expert in &asked.expert {
        let file = Source::read(&expert.path)?;
        let opinion = subject.opinion(file.text(), expert.weight);
        let texts = [&file, source, &library];
        opinions.push(opinion.map_err(|error| Failure::engine(&error, &texts))?);
    }
    let options = LeanOptions {
        verdict: asked.verdict,
        threshold: asked.threshold,
        mix: asked.mix.map(|mix| mix.0),
        grid,
        opinions,
    };
    lean(pack, case, &options).map_err(|error| Failure::engine(&error, &[]))
}

/// The whole page.
pub(super) fn render(leaning: &Leaning, all: bool) -> String {
    let mut page = Page::new();
    fill(&mut page, leaning, all);
    page.finish()
}

pub(super) fn fill(page: &mut Page, leaning: &Leaning, all: bool) {
    frame::head(page, &leaning.pack, &leaning.piece);
    question(page, leaning);
    numbers::render(page, leaning, all);
    bounds(page, leaning);
    sweep(page, leaning);
    if let Some(grid) = &leaning.grid {
        numbers::render_grid(page, leaning, grid);
    }
    if let Some(pool) = &leaning.pool {
        opinions::render(page, pool);
    }
    frame::foot(page, &leaning.pack, &leaning.engine, &leaning.limits);
}

/// What is looked at, and what should hold.
fn question(page: &mut Page, leaning: &Leaning) {
    let (verdict, leading) = (leaning.verdict.id(), leaning.leading.id());
    page.heading(&format!(
        "What {verdict} hangs on: now {} of 1,000",
        out_of(1000, leaning.probability)
    ));
    let text = match leaning.threshold {
        Some(threshold) if leaning.probability < threshold => format!(
            "Looked for is where it would rise above {}.",
            chance(threshold)
        ),
        Some(threshold) => format!(
            "Looked for is where it would fall below {}.",
            chance(threshold)
        ),
        None => format!("Looked for is where {leading} would no longer lead."),
    };
    page.paragraph(PLAIN, 0, &text);
}

fn bounds(page: &mut Page, leaning: &Leaning) {
    page.heading("With every number free within its range at once (of 1,000)");
    for bounds in &leaning.bounds {
        let line = format!(
            "  {:10}{:>9} to {}",
            bounds.verdict.id(),
            out_of(1000, bounds.low),
            out_of(1000, bounds.high)
        );
        page.row(PLAIN, &line);
    }
    page.paragraph(
        FAINT,
        2,
        "Found by climbing from several starts, so that the true spread is at least as wide. Every \
         number at its worst at once is far-fetched: `oddment study` tells how far the verdicts \
         stray when all are drawn.",
    );
}

/// The verdicts over the starting odds.
fn sweep(page: &mut Page, leaning: &Leaning) {
    let sweep = &leaning.sweep;
    page.heading("Over the starting odds");
    page.paragraph(
        PLAIN,
        0,
        "No base rates of altered furniture are published: how many pieces are not original before \
         looking is declared, never measured. So see what hangs on it.",
    );
    for turn in &sweep.turns {
        let text = format!(
            "The lead passes from {} to {} where {} are not original before looking; here {} are \
             taken not to be.",
            turn.below.id(),
            turn.above.id(),
            chance(turn.at),
            chance(sweep.here)
        );
        page.paragraph(STRONG, 0, &text);
    }
    if sweep.turns.is_empty() {
        let text = format!(
            "No share turns the lead between original and the rest; here {} are taken not to be \
             original.",
            chance(sweep.here)
        );
        page.paragraph(STRONG, 0, &text);
    }
    page.gap();
    if page.is_narrow() {
        page.row(FAINT, "  not");
        page.row(FAINT, "  orig.  orig. marr. conv. faked");
    } else {
        page.row(FAINT, "  before looking      then, of 1,000");
        page.row(
            FAINT,
            "  not original      original   married converted     faked",
        );
    }
    for point in &sweep.points {
        let share = point.not_original;
        let here = (share - sweep.here).abs() < SAME;
        let turns = sweep
            .turns
            .iter()
            .any(|turn| (share - turn.at).abs() < SAME);
        let plain = SHARES.iter().any(|of| (share - of / 100.0).abs() < SAME);
        if !(here || turns || plain) {
            continue;
        }
        let note = match (here, turns) {
            (true, _) if page.is_narrow() => "  here",
            (true, _) => "  taken here",
            (_, true) if page.is_narrow() => "  turns",
            (_, true) => "  the lead turns",
            _ => "",
        };
        let mut line = if page.is_narrow() {
            format!("{:>7}", figure(share, NumberUnit::Chance) + " %")
        } else {
            format!("  {:14}", chance(share))
        };
        for probability in &point.verdicts {
            let count = out_of(1000, *probability);
            line += &if page.is_narrow() {
                // Too narrow for words.
                format!("{:>6}", numbers::shortened(&count))
            } else {
                format!("{count:>10}")
            };
        }
        let style = if here { STRONG } else { PLAIN };
        page.row(style, &(line + note));
    }
    let mix: Vec<String> = VERDICTS
        .iter()
        .skip(1)
        .zip(&sweep.mix)
        .map(|(verdict, share)| format!("{} {}", verdict.id(), out_of(100, *share)))
        .collect();
    let text = format!("Of 100 not original: {}.", list(&mix));
    page.paragraph(FAINT, 2, &text);
}
