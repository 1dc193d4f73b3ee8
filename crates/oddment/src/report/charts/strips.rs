//! When each part was made, as shaded strips.

use super::{Canvas, WIDTH, between};
use crate::assessment::{DateBin, PartDate};
use crate::report::figures::{cut, year};

/// Height of one part.
const ROW: f64 = 60.0;

/// Height of the line of years above and below.
const YEARS: f64 = 18.0;

/// Bins less likely than this, before and after, for every part, are left off at the ends.
const NEXT_TO_NOTHING: f64 = 0.002;

/// Letters in a part's name.
const LETTERS: usize = 44;

/// First and last year worth drawing, the claim among them.
pub(in crate::report) fn span(dates: &[PartDate], claim: (i32, i32)) -> (i32, i32) {
    let bins = dates.iter().flat_map(|date| &date.bins);
    let likely = bins.filter(|bin| bin.prior.max(bin.probability) > NEXT_TO_NOTHING);
    likely.fold(claim, |(from, to), bin| {
        (from.min(bin.from), to.max(bin.to))
    })
}

/// A strip for each part: given all findings above, before any below, the median and the middle
/// 90 in 100 marked, the claim between dashed lines.
pub(in crate::report) fn strips(
    name: &str,
    title: &str,
    text: &str,
    dates: &[PartDate],
    claim: (i32, i32),
    span: (i32, i32),
) -> String {
    let height = 2.0 * YEARS + ROW * dates.len() as f64;
    let mut canvas = Canvas::new(name, height, title, text);
    let range = (f64::from(span.0), f64::from(span.1));
    let at = |value: f64| between(value, range, (1.0, WIDTH - 1.0));
    let (from, to) = (i64::from(span.0), i64::from(span.1));
    let step = match to - from {
        short if short <= 250 => 50,
        ordinary if ordinary <= 1_000 => 100,
        // Ten years named at most, whatever the span.
        long => long / 10,
    };
    let mut named = from + (step - from.rem_euclid(step)) % step;
    while named <= to {
        let x = at(named as f64);
        canvas.line("hair", (x, YEARS - 3.0), (x, height - YEARS + 3.0));
        let anchor = if x < 20.0 {
            "start"
        } else if x > WIDTH - 20.0 {
            "end"
        } else {
            "middle"
        };
        canvas.text(anchor, (x, 12.0), &named.to_string());
        canvas.text(anchor, (x, height - 4.0), &named.to_string());
        named += step;
    }
    for (place, date) in dates.iter().enumerate() {
        let top = YEARS + ROW * place as f64;
        canvas.rectangle("paper", (0.0, top + 2.0), (WIDTH, 16.0));
        canvas.text("start", (0.0, top + 14.0), &cut(&date.name, LETTERS));
        let years = format!(
            "{} ({}\u{2013}{})",
            year(date.median),
            year(date.low),
            year(date.high)
        );
        canvas.text("end", (WIDTH, top + 14.0), &years);
        strip(
            &mut canvas,
            &date.bins,
            |bin| bin.probability,
            (top + 21.0, 16.0),
            at,
        );
        strip(
            &mut canvas,
            &date.bins,
            |bin| bin.prior,
            (top + 39.0, 8.0),
            at,
        );
        canvas.rectangle(
            "ink",
            (at(range.0), top + 21.0),
            (at(range.1) - at(range.0), 16.0),
        );
        canvas.rectangle(
            "ink",
            (at(range.0), top + 39.0),
            (at(range.1) - at(range.0), 8.0),
        );
        for year in [claim.0, claim.1] {
            let x = at(f64::from(year));
            canvas.line("dashed", (x, top + 19.0), (x, top + 53.0));
        }
        let below = top + 51.0;
        canvas.line("ink", (at(date.low), below), (at(date.high), below));
        for end in [date.low, date.high] {
            canvas.line("ink", (at(end), below - 2.5), (at(end), below + 2.5));
        }
        canvas.dot("solid", (at(date.median), below));
    }
    canvas.finish()
}

/// Shades bins by how likely they are beside the likeliest of them.
fn strip(
    canvas: &mut Canvas,
    bins: &[DateBin],
    of: impl Fn(&DateBin) -> f64,
    (top, height): (f64, f64),
    at: impl Fn(f64) -> f64,
) {
    let most = bins.iter().map(&of).fold(0.0, f64::max);
    for bin in bins.iter().filter(|bin| of(bin) > 0.004 * most) {
        let (from, to) = (at(f64::from(bin.from)), at(f64::from(bin.to)));
        canvas.shaded((from, top), (to - from, height), of(bin) / most);
    }
}
