//! `oddment explain`: how the findings built up the verdict.

mod apart;
mod together;

use crate::failure::Failure;
use crate::frame;
use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::report::part_name;
use crate::words::{chance, count, odds, signed, sureness, thousands};
use oddment::argument::{Argument, InnocentReading, Question, WeighedFinding, Weights};
use oddment::pack::VERDICTS;
use oddment::{Case, Pack, Verdict};

/// Columns of a bar.
const BAR: usize = 33;

/// Weights beyond this many decibans are drawn at it.
const WIDEST: f64 = 60.0;

/// An honest event less likely than this does not explain a finding.
const WORTH_TELLING: f64 = 0.05;

/// One that would change a finding's weight by less does not either.
const LEAST_CHANGE: f64 = 0.5;

/// The most honest events told for one finding.
const EVENTS: usize = 2;

pub(super) fn work_out(
    pack: &Pack,
    case: &Case,
    between: Option<&[String]>,
) -> Result<Argument, Failure> {
    let between = match between {
        Some([one, other]) if one == other => {
            let message = format!("`{one}` cannot be set against itself; give two histories");
            return Err(Failure::usage([("query/same-history", message)]));
        }
        Some([one, other]) => Some((one.as_str(), other.as_str())),
        _ => None,
    };
    oddment::explain(pack, case, between).map_err(|error| Failure::engine(&error, &[]))
}

/// The whole page.
pub(super) fn render(argument: &Argument, pack: &Pack, verdict: Option<Verdict>) -> String {
    let mut page = Page::new();
    fill(&mut page, argument, pack, verdict);
    page.finish()
}

pub(super) fn fill(page: &mut Page, argument: &Argument, pack: &Pack, verdict: Option<Verdict>) {
    frame::head(page, &argument.pack, &argument.piece);
    let told = Told {
        argument,
        pack,
        place: asked(argument, verdict),
    };
    told.render(page);
    frame::foot(page, &argument.pack, &argument.engine, &argument.limits);
}

/// The place of the verdict asked for, or of the one whose odds are best.
fn asked(argument: &Argument, verdict: Option<Verdict>) -> usize {
    let place = verdict.and_then(|verdict| VERDICTS.iter().position(|v| *v == verdict));
    place.unwrap_or_else(|| {
        let verdicts = argument.questions.iter().take(VERDICTS.len()).enumerate();
        // The first of equals, as everywhere.
        verdicts
            .rev()
            .max_by(|(_, one), (_, other)| one.after.total_cmp(&other.after))
            .map_or(0, |(place, _)| place)
    })
}

/// An argument told for one of its questions.
#[derive(Clone, Copy)]
struct Told<'a> {
    argument: &'a Argument,
    pack: &'a Pack,
    place: usize,
}

impl<'a> Told<'a> {
    fn question(self) -> Option<&'a Question> {
        self.argument.questions.get(self.place)
    }

    fn weights(self, finding: &WeighedFinding) -> Weights {
        let none = Weights {
            alone: 0.0,
            withdrawn: 0.0,
            in_order: 0.0,
            running: 0.0,
            share: 0.0,
            share_error: 0.0,
        };
        finding.weights.get(self.place).copied().unwrap_or(none)
    }

    fn render(self, page: &mut Page) {
        let Some(question) = self.question() else {
            return;
        };
        let favoured = &question.favoured_name;
        page.heading(&format!(
            "Is it {favoured}? Before looking {}; now {}",
            odds(question.before),
            odds(question.after)
        ));
        if self.argument.findings.is_empty() {
            page.paragraph(
                PLAIN,
                0,
                "Nothing has been looked at yet, so nothing has been built up.",
            );
        } else {
            let text = format!(
                "For {favoured} against all else together. Weights in decibans: 10 make the odds \
                 tenfold, 3 double them; + speaks for {favoured}, - against."
            );
            page.paragraph(FAINT, 0, &text);
            self.build_up(page, question);
            self.in_all(page, question);
            together::render(page, self);
            self.innocence(page);
        }
        apart::render(page, self);
    }

    /// The findings in the order found.
    fn build_up(self, page: &mut Page, question: &Question) {
        page.heading("Finding by finding, in the order of the case");
        let scale = Scale::of(self, question);
        if !page.is_narrow() {
            page.row(FAINT, &format!("             {}", scale.ends()));
            page.row(
                PLAIN,
                &format!(
                    "     before  {}  {}",
                    scale.bar(question.before, question.before),
                    odds(question.before)
                ),
            );
        }
        let mut before = question.before;
        let (several, mut visit) = (self.several_visits(), None);
        for (place, finding) in self.argument.findings.iter().enumerate() {
            let weights = self.weights(finding);
            if several && visit.replace(&finding.visit) != Some(&finding.visit) {
                page.paragraph(STRONG, 0, &format!("Visit {}", finding.visit));
            }
            page.hang(PLAIN, 0, &numbered(place), &self.told(finding));
            let step = signed(weights.in_order);
            let then = odds(weights.running);
            if page.is_narrow() {
                let text = format!("{step}, then {then}");
                page.paragraph(STRONG, 5, &text);
            } else {
                let bar = scale.bar(before, weights.running);
                page.row(PLAIN, &format!("{step:>11}  {bar}  {then}"));
            }
            let error = if weights.share_error >= 0.05 {
                format!(" (give or take {:.1})", 2.0 * weights.share_error)
            } else {
                String::new()
            };
            let text = format!(
                "if withdrawn {}; alone {}; fair share {}{error}",
                signed(weights.withdrawn),
                signed(weights.alone),
                signed(weights.share)
            );
            page.paragraph(FAINT, if page.is_narrow() { 5 } else { 13 }, &text);
            before = weights.running;
        }
        page.gap();
        let shares = &self.argument.shares;
        let how = if shares.exact {
            "worked out over every order".to_owned()
        } else {
            let orders = count(shares.orders as usize, "order", "orders");
            format!("worked out over {orders} drawn with seed {}", shares.seed)
        };
        let text = format!(
            "If withdrawn: what the odds would lose without that finding alone. Alone: what it \
             would weigh as the only finding. Fair share: its part of the whole, whichever was \
             found first ({how})."
        );
        page.paragraph(FAINT, 0, &text);
    }

    fn in_all(self, page: &mut Page, question: &Question) {
        page.heading("All together");
        row(page, question.total, "weighed together");
        row(page, question.naive, "added up, as if each had come alone");
        row(page, question.in_common, "said in common by several");
        page.gap();
        page.paragraph(PLAIN, 0, &double_counting(question));
    }

    /// How far honest events explain the findings.
    fn innocence(self, page: &mut Page) {
        let mut lines = Vec::new();
        for (place, finding) in self.argument.findings.iter().enumerate() {
            let withdrawn = self.weights(finding).withdrawn;
            let mut readings: Vec<(&InnocentReading, f64)> = finding
                .readings
                .iter()
                .filter_map(|reading| {
                    let weights = reading.if_happened.as_ref()?;
                    let then = *weights.get(self.place)?;
                    let told =
                        reading.with >= WORTH_TELLING && (then - withdrawn).abs() >= LEAST_CHANGE;
                    told.then_some((reading, then))
                })
                .collect();
            readings.sort_by(|(one, _), (other, _)| other.with.total_cmp(&one.with));
            for (reading, then) in readings.into_iter().take(EVENTS) {
                let text = format!(
                    "`{}` is {} likely with this finding, {} without; were it certain, the \
                     finding would weigh {} instead of {}.",
                    reading.name.trim_end_matches('.'),
                    chance(reading.with),
                    chance(reading.without),
                    signed(then),
                    signed(withdrawn)
                );
                lines.push((place, text));
            }
        }
        page.heading("How far honest events explain the findings");
        if lines.is_empty() {
            page.paragraph(
                PLAIN,
                2,
                "No honest event would change what a finding weighs.",
            );
        }
        let mut last = None;
        for (place, text) in lines {
            if last.replace(place) != Some(place) {
                let finding = &self.argument.findings[place];
                page.hang(PLAIN, 0, &numbered(place), &self.told(finding));
            }
            page.paragraph(PLAIN, 7, &text);
        }
    }

    fn several_visits(self) -> bool {
        let mut visits = self.argument.findings.iter().map(|finding| &finding.visit);
        let first = visits.next();
        visits.any(|visit| Some(visit) != first)
    }

    /// A finding in one line.
    fn told(self, finding: &WeighedFinding) -> String {
        format!(
            "{} ({}): {}{}",
            finding.name.trim_end_matches('.'),
            part_name(self.pack, &finding.part),
            finding.found,
            sureness(finding.sure)
        )
    }
}

/// The label of a finding by its place.
fn numbered(place: usize) -> String {
    format!("{:>3}. ", place + 1)
}

/// One plain sentence on what adding up would have done.
fn double_counting(question: &Question) -> String {
    let (naive, total) = (question.naive, question.total);
    let apart = format!("{:.1}", (naive - total).abs());
    if (naive - total).abs() < 0.5 {
        "The two hardly differ: these findings are nearly so many separate witnesses.".to_owned()
    } else if naive * total > 0.0 && naive.abs() > total.abs() {
        format!(
            "Adding up would count {apart} decibans twice: findings with one act, one event or one \
             making date behind them are not so many witnesses."
        )
    } else if naive * total < 0.0 {
        "Adding up would even point the other way: together these findings say what none of them \
         says alone."
            .to_owned()
    } else {
        format!(
            "Adding up would miss {apart} decibans: together these findings say more than each \
             alone, as when one takes away the innocent reading of another."
        )
    }
}

fn row(page: &mut Page, decibans: f64, text: &str) {
    page.hang(PLAIN, 0, &format!("{:>10}  ", signed(decibans)), text);
}

/// A scale of decibans across the page.
#[derive(Debug, Clone, Copy)]
struct Scale {
    low: f64,
    high: f64,
}

impl Scale {
    /// Wide enough for all odds on the way, evens among them.
    fn of(told: Told<'_>, question: &Question) -> Self {
        let findings = told.argument.findings.iter();
        let on_the_way = findings.map(|finding| told.weights(finding).running);
        let (mut low, mut high) = (-5.0_f64, 5.0_f64);
        for odds in on_the_way.chain([question.before, question.after]) {
            low = low.min(odds.max(-WIDEST));
            high = high.max(odds.min(WIDEST));
        }
        Self {
            low: 5.0 * (low / 5.0).floor(),
            high: 5.0 * (high / 5.0).ceil(),
        }
    }

    fn column(self, decibans: f64) -> usize {
        let share = (decibans - self.low) / (self.high - self.low);
        (share.clamp(0.0, 1.0) * (BAR - 1) as f64).round() as usize
    }

    /// The values at both ends and where the odds are even.
    fn ends(self) -> String {
        let (low, high) = (format!("{:+.0}", self.low), format!("{:+.0}", self.high));
        let mut line: Vec<char> = vec![' '; BAR];
        let evens = self.column(0.0);
        let mut put = |from: usize, text: &str| {
            for (place, c) in text.chars().enumerate() {
                if let Some(cell) = line.get_mut(from + place) {
                    *cell = c;
                }
            }
        };
        put(0, &low);
        put(BAR - high.len(), &high);
        let word = "evens";
        let from = evens.saturating_sub(word.len() / 2);
        if from > low.len() && from + word.len() < BAR - high.len() {
            put(from, word);
        }
        line.into_iter().collect()
    }

    /// From one odds to another: `+` towards, `-` away, `o` where it ends, `|` at evens.
    fn bar(self, from: f64, to: f64) -> String {
        let mark = if to > from { '+' } else { '-' };
        let (start, end) = (self.column(from), self.column(to));
        (0..BAR)
            .map(|column| match column {
                _ if column == end => 'o',
                _ if (start.min(end)..=start.max(end)).contains(&column) => mark,
                _ if column == self.column(0.0) => '|',
                _ => ' ',
            })
            .collect()
    }
}

/// The numbers of findings, for reading.
fn numbers(members: &[usize]) -> String {
    let numbers: Vec<String> = members
        .iter()
        .map(|member| thousands(*member as u64 + 1))
        .collect();
    crate::words::list(&numbers)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_run_from_one_odds_to_another() {
        let scale = Scale {
            low: -16.0,
            high: 16.0,
        };
        assert_eq!(scale.bar(-16.0, -6.0), "++++++++++o     |                ");
        assert_eq!(scale.bar(3.0, 1.0), "                |o--             ");
        assert_eq!(scale.bar(16.0, 16.0), "                |               o");
        // Beyond the ends it stays at the end.
        assert_eq!(scale.bar(0.0, 3000.0), "                ++++++++++++++++o");
    }

    #[test]
    fn adding_up_is_told_plainly() {
        let question = |naive, total| Question {
            favoured: String::new(),
            favoured_name: String::new(),
            against: None,
            against_name: None,
            before: 0.0,
            after: total,
            total,
            naive,
            in_common: 0.0,
        };
        for (naive, total, words) in [
            (10.0, 10.2, "hardly differ"),
            (14.0, 9.0, "would count 5.0 decibans twice"),
            (-14.0, -9.0, "would count 5.0 decibans twice"),
            (9.0, 14.0, "would miss 5.0 decibans"),
            (-3.0, 3.0, "point the other way"),
        ] {
            let told = double_counting(&question(naive, total));
            assert!(told.contains(words), "{told}");
        }
    }
}
