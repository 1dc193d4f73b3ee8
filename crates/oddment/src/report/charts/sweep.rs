//! The verdicts over a sweep of the prior.

use super::{Canvas, between, number};
use crate::leaning::{PriorSweep, SweepTurn};
use crate::pack::VERDICTS;
use crate::report::words;
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
    canvas.text("end", (ACROSS.1, UP.0 + 34.0), words::SWEEP_AXIS);
    // Names only at the first turn, as several may lie close; the page tells all of them.
    for (place, turn) in sweep.turns.iter().enumerate() {
        let x = across(turn.at);
        canvas.line("dashed", (x, UP.1 - 16.0), (x, UP.0));
        if place == 0 {
            let leaves_room = x < ACROSS.1 - 80.0;
            beside(&mut canvas, x, UP.1 - 18.0, leaves_room, words::SWEEP_TURN);
        }
    }
    let here = across(sweep.here);
    let distance = |turn: &SweepTurn| (turn.at - sweep.here).abs();
    let nearest = sweep
        .turns
        .iter()
        .min_by(|one, other| distance(one).total_cmp(&distance(other)));
    // On the side away from where the lead changes.
    let right = nearest.is_some_and(|turn| turn.at < sweep.here) && here < ACROSS.1 - 30.0;
    canvas.line("heavy", (here, UP.1 - 4.0), (here, UP.0));
    beside(&mut canvas, here, UP.1 - 4.0, right, words::SWEEP_HERE);
    canvas.finish()
}

/// A word to the right or the left of a line.
fn beside(canvas: &mut Canvas, x: f64, y: f64, right: bool, word: &str) {
    let (anchor, aside) = if right { ("start", 4.0) } else { ("end", -4.0) };
    canvas.text(anchor, (x + aside, y), word);
}
