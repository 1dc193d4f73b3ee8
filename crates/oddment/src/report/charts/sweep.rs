//! The verdicts over a sweep of the prior.

use super::{Canvas, between, number};
use crate::leaning::PriorSweep;
use crate::pack::VERDICTS;
use std::fmt::Write as _;

/// The plot's left and right edge.
const ACROSS: (f64, f64) = (40.0, 412.0);

/// Its lower and upper edge.
const UP: (f64, f64) = (236.0, 36.0);

/// Bands of the four verdicts over the share not original before any finding; the share here and
/// the shares at which the lead changes marked.
pub(in crate::report) fn sweep(name: &str, title: &str, text: &str, sweep: &PriorSweep) -> String {
    let mut canvas = Canvas::new(name, 274.0, title, text);
    canvas.textures();
    let shares = sweep.points.iter().map(|point| point.not_original);
    let range = shares.fold((sweep.here, sweep.here), |(low, high), share| {
        (low.min(share), high.max(share))
    });
    let across = |share: f64| between(share, range, ACROSS);
    let up = |share: f64| between(share, (0.0, 1.0), UP);
    // The original lies lowest, so that its band shrinks as the share not original grows.
    let below = |verdicts: &[f64], place: usize| -> f64 { verdicts.iter().take(place).sum() };
    for (place, verdict) in VERDICTS.into_iter().enumerate() {
        let mut outline = String::new();
        let there = sweep.points.iter().map(|point| (point, place));
        let back = sweep.points.iter().rev().map(|point| (point, place + 1));
        for (point, place) in there.chain(back) {
            let letter = if outline.is_empty() { 'M' } else { 'L' };
            let (x, y) = (
                across(point.not_original),
                up(below(&point.verdicts, place)),
            );
            let _ = write!(outline, "{letter}{} {}", number(x), number(y));
        }
        if !outline.is_empty() {
            canvas.textured(verdict, outline + "z");
        }
    }
    for count in [0_u32, 250, 500, 750, 1000] {
        let y = up(f64::from(count) / 1000.0);
        canvas.line("ink", (ACROSS.0 - 4.0, y), (ACROSS.0, y));
        let letters = if count == 1000 {
            "1,000".to_owned()
        } else {
            count.to_string()
        };
        canvas.text("end", (ACROSS.0 - 6.0, y + 4.0), &letters);
    }
    let mut tenth = (range.0 * 10.0).ceil();
    while tenth <= range.1 * 10.0 {
        let x = across(tenth / 10.0);
        canvas.line("ink", (x, UP.0), (x, UP.0 + 4.0));
        canvas.text("middle", (x, UP.0 + 18.0), &format!("{:.0}", tenth * 100.0));
        tenth += 1.0;
    }
    canvas.text(
        "end",
        (ACROSS.1, UP.0 + 34.0),
        crate::report::words::SWEEP_AXIS,
    );
    for turn in &sweep.turns {
        marked(
            &mut canvas,
            "dashed",
            across(turn.at),
            32.0,
            crate::report::words::SWEEP_TURN,
        );
    }
    marked(
        &mut canvas,
        "heavy",
        across(sweep.here),
        18.0,
        crate::report::words::SWEEP_HERE,
    );
    canvas.finish()
}

/// A line through the plot with a word above it.
fn marked(canvas: &mut Canvas, class: &str, x: f64, y: f64, word: &str) {
    canvas.line(class, (x, y + 2.0), (x, UP.0));
    let anchor = if x > ACROSS.1 - 60.0 { "end" } else { "start" };
    let aside = if anchor == "end" { -4.0 } else { 4.0 };
    canvas.text(anchor, (x + aside, y - 4.0), word);
}
