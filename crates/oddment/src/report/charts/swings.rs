//! How far one probability swings when one thing moves.

use super::{Canvas, WIDTH, between};
use crate::report::figures::lines;

/// One swing.
#[derive(Debug)]
pub(in crate::report) struct Swing {
    /// What moves.
    pub label: String,
    /// The probability at the low end.
    pub at_low: f64,
    /// At the high end.
    pub at_high: f64,
}

/// Letters in a line of a label.
const LETTERS: usize = 29;

/// Lines of a label.
const LINES: usize = 3;

/// Between which the swings are drawn.
const BARS: (f64, f64) = (204.0, 408.0);

/// Height of the scale above the first.
const SCALE: f64 = 20.0;

/// One bar for each, the widest first as given; a ring at the low end, a dot at the high, a line
/// where the probability stands.
pub(in crate::report) fn swings(
    name: &str,
    title: &str,
    text: &str,
    all: &[Swing],
    now: f64,
) -> String {
    let labels: Vec<Vec<String>> = all
        .iter()
        .map(|swing| lines(&swing.label, LETTERS, LINES))
        .collect();
    let tall = |label: &Vec<String>| label.len().max(1) as f64 * 14.0 + 8.0;
    let height = SCALE + labels.iter().map(tall).sum::<f64>() + 4.0;
    let mut canvas = Canvas::new(name, height, title, text);
    let at = |value: f64| between(value, (0.0, 1.0), BARS);
    for quarter in 0..=4_u32 {
        let x = at(f64::from(quarter) / 4.0);
        canvas.line("hair", (x, SCALE - 4.0), (x, height));
        let count = if quarter == 4 {
            "1,000".to_owned()
        } else {
            (quarter * 250).to_string()
        };
        let anchor = if quarter == 4 { "end" } else { "middle" };
        let x = if quarter == 4 { WIDTH } else { x };
        canvas.text(anchor, (x, 11.0), &count);
    }
    canvas.line("dashed", (at(now), SCALE - 4.0), (at(now), height));
    let mut y = SCALE;
    for (swing, label) in all.iter().zip(&labels) {
        for (row, line) in label.iter().enumerate() {
            canvas.text("start", (0.0, y + 12.0 + row as f64 * 14.0), line);
        }
        let middle = y + tall(label) / 2.0 - 1.0;
        let (low, high) = (at(swing.at_low), at(swing.at_high));
        canvas.line("ink", (low, middle), (high, middle));
        canvas.dot("ring", (low, middle));
        canvas.dot("solid", (high, middle));
        y += tall(label);
    }
    canvas.finish()
}
