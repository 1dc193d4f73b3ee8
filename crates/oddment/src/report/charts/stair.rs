//! From the prior to the posterior, one step for each finding.

use super::{Canvas, WIDTH, between};
use crate::report::figures::{BEYOND_MEASURE, lines, odds};

/// One step.
#[derive(Debug)]
pub(in crate::report) struct Step {
    /// The sign or measure.
    pub label: String,
    /// What was reported.
    pub found: String,
    /// Odds before it, in decibans.
    pub from: f64,
    /// Odds once it had come.
    pub to: f64,
}

/// Letters in a line of a label.
const LETTERS: usize = 29;

/// Lines of a label, before the line of what was reported.
const LINES: usize = 3;

/// Between which the stair is drawn; labels stand on the left, odds on the right.
const STAIR: (f64, f64) = (202.0, 344.0);

/// Height of a line of a label.
const LINE: f64 = 14.0;

/// Height of the scale above the first step.
const SCALE: f64 = 20.0;

/// The scale that holds every one of these odds and evens, in whole tens of decibans.
pub(in crate::report) fn scale(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let known = values.filter(|value| value.abs() < BEYOND_MEASURE);
    let (low, high) = known.fold((-5.0_f64, 5.0_f64), |(low, high), value| {
        (low.min(value), high.max(value))
    });
    ((low / 10.0).floor() * 10.0, (high / 10.0).ceil() * 10.0)
}

/// A stretch of the stair, on a scale that all stretches share.
pub(in crate::report) fn stair(
    name: &str,
    title: &str,
    text: &str,
    steps: &[Step],
    range: (f64, f64),
) -> String {
    let label = |step: &Step| -> Vec<String> {
        let mut label = lines(&step.label, LETTERS, LINES);
        label.extend(lines(&step.found, LETTERS, 1));
        label
    };
    let labels: Vec<Vec<String>> = steps.iter().map(label).collect();
    let heights: Vec<f64> = labels
        .iter()
        .map(|label| label.len().max(1) as f64 * LINE + 8.0)
        .collect();
    let height = SCALE + heights.iter().sum::<f64>() + 6.0;
    let mut canvas = Canvas::new(name, height, title, text);
    let at = |value: f64| between(value, range, STAIR);
    let spacing = (1..)
        .map(|n| f64::from(n) * 10.0)
        .find(|d| (range.1 - range.0) / d <= 4.0);
    let spacing = spacing.unwrap_or(f64::INFINITY);
    let mut tick = (range.0 / spacing).ceil() * spacing;
    while tick <= range.1 {
        let x = at(tick);
        let class = if tick == 0.0 { "dashed" } else { "hair" };
        canvas.line(class, (x, SCALE - 4.0), (x, height - 2.0));
        let letters = match tick {
            0.0 => "0".to_owned(),
            tick if tick < 0.0 => format!("\u{2212}{:.0}", -tick),
            tick => format!("+{tick:.0}"),
        };
        canvas.text("middle", (x, 11.0), &letters);
        tick += spacing;
    }
    let mut y = SCALE;
    for (place, step) in steps.iter().enumerate() {
        let tall = heights.get(place).copied().unwrap_or(LINE);
        for (row, line) in labels.get(place).into_iter().flatten().enumerate() {
            canvas.text("start", (0.0, y + 12.0 + row as f64 * LINE), line);
        }
        let (from, to) = (at(step.from), at(step.to));
        let class = if step.to >= step.from {
            "solid"
        } else {
            "hollow"
        };
        let middle = y + tall / 2.0 - 2.0;
        if step.from == step.to {
            canvas.dot("solid", (to, middle));
        } else {
            canvas.rectangle(
                class,
                (from.min(to), middle - 4.0),
                ((to - from).abs().max(1.0), 8.0),
            );
        }
        if let Some(next) = heights.get(place + 1) {
            canvas.line("ink", (to, middle), (to, y + tall + next / 2.0 - 2.0));
        }
        canvas.text("end", (WIDTH, middle + 4.0), &odds(step.to));
        y += tall;
    }
    canvas.finish()
}
