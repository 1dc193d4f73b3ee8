//! The numbers, one by one and two by two.

use crate::page::{FAINT, PLAIN, Page};
use crate::words::{self, chance, count, figure, out_of};
use oddment::Verdict;
use oddment::leaning::{Flip, Leaning, NumberLeaning, NumberUnit, TwoWayGrid};
use oddment::pack::VERDICTS;

/// The most numbers shown unless all are asked for.
const SHOWN: usize = 12;

/// Columns of a bar.
const BAR: usize = 36;

pub(super) fn render(page: &mut Page, leaning: &Leaning, all: bool) {
    let numbers = &leaning.numbers;
    if numbers.is_empty() {
        page.heading("No number bears on it.");
        return;
    }
    page.heading("The numbers it hangs on most, widest swing first");
    let text = format!(
        "Each moved over its own range, in which it lies with 90 chances in 100, all else as it \
         is.{} {} on the case; {} of the pack do not.",
        if page.is_narrow() {
            ""
        } else {
            " Bars, of 1,000: L at the low end, H at the high end, | as it stands."
        },
        bearing(numbers.len()),
        leaning.unmoved
    );
    page.paragraph(FAINT, 0, &text);
    let shown = if all { numbers.len() } else { SHOWN };
    let shown = &numbers[..numbers.len().min(shown)];
    let scale = Scale::of(leaning.probability, shown);
    for (place, number) in shown.iter().enumerate() {
        one(page, leaning, place, number, scale, all);
    }
    let more = numbers.len() - shown.len();
    if more > 0 {
        page.gap();
        let flips = numbers[shown.len()..]
            .iter()
            .filter(|number| !number.flips.is_empty())
            .count();
        let flips = match flips {
            0 => "none of them can turn it".to_owned(),
            flips => format!("{flips} of them can turn it"),
        };
        let text = format!(
            "and {} with a narrower swing; {flips} (`--all` shows them)",
            count(more, "number", "numbers")
        );
        page.paragraph(PLAIN, 5, &text);
    }
}

fn bearing(numbers: usize) -> String {
    match numbers {
        1 => "1 number bears".to_owned(),
        many => format!("{many} numbers bear"),
    }
}

fn one(
    page: &mut Page,
    leaning: &Leaning,
    place: usize,
    number: &NumberLeaning,
    scale: Scale,
    all: bool,
) {
    page.gap();
    page.hang(PLAIN, 0, &format!("{:>3}. ", place + 1), &number.words);
    if all {
        page.paragraph(FAINT, 5, &number.id);
    }
    let range = format!(
        "{} (from {} to {}): {} {} at the low end, {} at the high end",
        words::number(number.value, number.unit),
        figure(number.low, number.unit),
        figure(number.high, number.unit),
        leaning.verdict.id(),
        out_of(1000, number.at_low),
        out_of(1000, number.at_high)
    );
    page.paragraph(PLAIN, 5, &range);
    if !page.is_narrow() {
        let bar = scale.bar(number.at_low, number.at_high, leaning.probability);
        page.row(FAINT, &bar);
    }
    page.paragraph(PLAIN, 5, &flips(leaning, number));
}

/// Where it stops to hold, in words.
fn flips(leaning: &Leaning, number: &NumberLeaning) -> String {
    let leading = leaning.leading.id();
    // A threshold is kept to from the side on which the probability is now.
    let leaves = leaning.threshold.map(|threshold| {
        if leaning.probability < threshold {
            format!("would rise above {}", chance(threshold))
        } else {
            format!("would fall below {}", chance(threshold))
        }
    });
    if number.flips.is_empty() {
        return "No value flips it.".to_owned();
    }
    let told: Vec<String> = number
        .flips
        .iter()
        .map(|flip| match &leaves {
            Some(leaves) if flip.leads == leaning.leading => {
                format!("{leaves} if {}", beyond(flip, number.unit))
            }
            Some(leaves) => format!(
                "{leaves} if {}, where {} leads",
                beyond(flip, number.unit),
                flip.leads.id()
            ),
            None => format!(
                "{leading} would no longer lead if {} ({} would)",
                beyond(flip, number.unit),
                flip.leads.id()
            ),
        })
        .collect();
    let text = told.join("; ");
    let mut letters = text.chars();
    let first: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    format!("{first}{}.", letters.as_str())
}

/// Beyond which value.
fn beyond(flip: &Flip, unit: NumberUnit) -> String {
    let value = words::number(flip.at, unit);
    match (unit, flip.above) {
        (NumberUnit::Chance | NumberUnit::Count, true) => format!("more than {value}"),
        (NumberUnit::Chance | NumberUnit::Count, false) => format!("fewer than {value}"),
        (_, true) => format!("it is above {value}"),
        (_, false) => format!("it is below {value}"),
    }
}

/// A scale of probabilities across the page.
#[derive(Debug, Clone, Copy)]
struct Scale {
    low: f64,
    high: f64,
}

impl Scale {
    fn of(here: f64, numbers: &[NumberLeaning]) -> Self {
        let ends = numbers.iter().flat_map(|n| [n.at_low, n.at_high]);
        let (low, high) = ends.fold((here, here), |(low, high), end| {
            (low.min(end), high.max(end))
        });
        Self { low, high }
    }

    fn column(self, probability: f64) -> usize {
        let width = self.high - self.low;
        if width <= 0.0 {
            return 0;
        }
        let share = ((probability - self.low) / width).clamp(0.0, 1.0);
        (share * (BAR - 1) as f64).round() as usize
    }

    /// `L` at the low end of the number, `H` at the high end, `|` as it stands; the ends of the
    /// scale stand beside it.
    fn bar(self, at_low: f64, at_high: f64, here: f64) -> String {
        let (low, high) = (self.column(at_low), self.column(at_high));
        let bar: String = (0..BAR)
            .map(|column| match column {
                _ if column == self.column(here) && column != low && column != high => '|',
                _ if column == low => 'L',
                _ if column == high => 'H',
                _ if (low.min(high)..low.max(high)).contains(&column) => '=',
                _ => '.',
            })
            .collect();
        format!(
            "{:>8} {bar} {}",
            out_of(1000, self.low),
            out_of(1000, self.high)
        )
    }
}

pub(super) fn render_grid(page: &mut Page, leaning: &Leaning, grid: &TwoWayGrid) {
    page.heading("Two numbers moved together");
    // Chances are told in 100, to keep the table narrow.
    let unit = |id: &str| {
        let known = leaning.numbers.iter().find(|number| number.id == id);
        known.map(|number| number.unit)
    };
    let units = (unit(&grid.ids.0), unit(&grid.ids.1));
    page.hang(PLAIN, 2, "Down:   ", &axis(&grid.words.0, units.0));
    page.hang(PLAIN, 2, "Across: ", &axis(&grid.words.1, units.1));
    page.gap();
    // Fewer values where the page is too narrow for all; the ends are always among them.
    let step = match page.is_narrow() {
        true if page.is_very_narrow() => 5,
        true => 2,
        false => 1,
    };
    let mut line = " ".repeat(8);
    for value in grid.second.iter().step_by(step) {
        line += &format!("{:>6}", short(*value, units.1));
    }
    page.row(FAINT, &line);
    let rows = grid
        .first
        .iter()
        .zip(&grid.probabilities)
        .zip(&grid.leading);
    for ((value, probabilities), leading) in rows.step_by(step) {
        let mut line = format!("{:>8}", short(*value, units.0));
        for (probability, leads) in probabilities.iter().zip(leading).step_by(step) {
            let cell = shortened(&out_of(100, *probability)) + letter(*leads);
            line += &format!("{cell:>6}");
        }
        page.row(PLAIN, &line);
    }
    let letters: Vec<String> = VERDICTS
        .iter()
        .map(|verdict| format!("{} {}", letter(*verdict), verdict.id()))
        .collect();
    let text = format!(
        "The figure is {} in 100; the letter says who leads: {}.",
        leaning.verdict.id(),
        letters.join(", ")
    );
    page.paragraph(FAINT, 2, &text);
}

fn axis(words: &str, unit: Option<NumberUnit>) -> String {
    match unit {
        Some(NumberUnit::Chance) => format!("{words} (in 100)"),
        Some(NumberUnit::Count) => format!("{words} (of 1,000)"),
        Some(NumberUnit::Plain | NumberUnit::Shift) => words.to_owned(),
        None => format!("{words} (which does not bear on this case)"),
    }
}

/// A value as short as it can be.
fn short(value: f64, unit: Option<NumberUnit>) -> String {
    let text = figure(value, unit.unwrap_or(NumberUnit::Plain));
    shortened(&text)
}

/// With signs for words, where there is no room for these.
pub(super) fn shortened(text: &str) -> String {
    text.replace("under ", "<").replace("over ", ">")
}

fn letter(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Original => "o",
        Verdict::Married => "m",
        Verdict::Converted => "c",
        Verdict::Faked => "f",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_have_both_ends_and_the_present() {
        let scale = Scale {
            low: 0.1,
            high: 0.8,
        };
        assert_eq!(
            scale.bar(0.7, 0.3, 0.6),
            "     100 ..........H==============|====L..... 800"
        );
        assert_eq!(
            scale.bar(0.1, 0.6, 0.6),
            "     100 L========================H.......... 800"
        );
    }

    #[test]
    fn flips_are_told_by_unit() {
        let flip = |at, above| Flip {
            at,
            above,
            leads: Verdict::Faked,
        };
        for (at, above, unit, words) in [
            (0.34, true, NumberUnit::Chance, "more than 34 in 100"),
            (0.004, false, NumberUnit::Chance, "fewer than 0.4 in 100"),
            (312.0, true, NumberUnit::Count, "more than 312 of 1,000"),
            (2.5, false, NumberUnit::Plain, "it is below 2.5"),
            (3.0, true, NumberUnit::Shift, "it is above +3"),
        ] {
            assert_eq!(beyond(&flip(at, above), unit), words);
        }
    }
}
