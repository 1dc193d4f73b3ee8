//! A thousand pieces as a thousand small squares.

use super::{Canvas, INSET, TILE, WIDTH, number};
use crate::pack::{VERDICTS, Verdict};
use std::fmt::Write as _;

/// Squares in a column.
const ROWS: u32 = 20;

/// Squares in a row.
const COLUMNS: u32 = 50;

/// From one square to the next.
const PITCH: f64 = 2.0 * TILE;

/// Side of a square.
const SIDE: f64 = 7.0;

/// A field of 20 by 50 squares, column after column, one for each piece.
pub(in crate::report) fn field(
    name: &str,
    title: &str,
    text: &str,
    counts: &[(Verdict, u32)],
) -> String {
    let mut canvas = Canvas::new(name, f64::from(ROWS) * PITCH, title, text);
    canvas.textures();
    let mut place = 0;
    for (verdict, count) in counts {
        let mut squares = String::new();
        // Counts that exceed a thousand are not drawn beyond it.
        let end = (place + (*count).min(ROWS * COLUMNS)).min(ROWS * COLUMNS);
        for square in place..end {
            let corner = |at: u32| number(f64::from(at) * PITCH + INSET);
            let (x, y) = (corner(square / ROWS), corner(square % ROWS));
            let _ = write!(squares, "M{x} {y}h{SIDE}v{SIDE}h-{SIDE}z");
        }
        place = end;
        if !squares.is_empty() {
            canvas.textured(*verdict, squares);
        }
    }
    canvas.finish()
}

/// What the textures mean.
pub(in crate::report) fn key(name: &str, title: &str, text: &str) -> String {
    let mut canvas = Canvas::new(name, 22.0, title, text);
    canvas.textures();
    let step = WIDTH / VERDICTS.len() as f64;
    for (place, verdict) in VERDICTS.into_iter().enumerate() {
        let x = place as f64 * step + INSET;
        canvas.textured(verdict, format!("M{} 3h16v16h-16z", number(x)));
        canvas.text("start", (x + 22.0, 16.0), verdict.id());
    }
    canvas.finish()
}
