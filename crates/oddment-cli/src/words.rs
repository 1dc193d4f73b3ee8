//! Numbers and terms in plain words.

use oddment::case::Sureness;
use oddment::leaning::NumberUnit;
use oddment::pack::{Access, Leave};
use oddment::scale;

/// A weight from here on rests on a chance of exactly 0 or 1.
const BEYOND_MEASURE: f64 = 2_999.0;

/// A probability as a count of `whole` pieces; neither none nor all unless it is so exactly.
pub(crate) fn out_of(whole: u32, probability: f64) -> String {
    count_out_of(
        whole,
        (probability * f64::from(whole)).round() as u32,
        probability,
    )
}

/// A given whole count, qualified where rounding made none or all of it.
pub(crate) fn count_out_of(whole: u32, count: u32, probability: f64) -> String {
    match count {
        0 if probability > 0.0 => "under 1".to_owned(),
        all if all >= whole && probability < 1.0 => format!("over {}", whole - 1),
        1000 => "1,000".to_owned(),
        count => count.to_string(),
    }
}

/// The size of a weight in whole decibans.
pub(crate) fn size(decibans: f64) -> String {
    let size = decibans.abs();
    if size >= BEYOND_MEASURE {
        "no end".to_owned()
    } else if size < 0.5 {
        "under 1".to_owned()
    } else {
        format!("{:.0}", size.round())
    }
}

/// A weight in decibans to the tenth, with its sign.
pub(crate) fn signed(decibans: f64) -> String {
    let sign = if decibans < 0.0 { '-' } else { '+' };
    let size = decibans.abs();
    if size >= BEYOND_MEASURE {
        format!("{sign}endless")
    } else if size < 0.05 {
        "0".to_owned()
    } else {
        format!("{sign}{size:.1}")
    }
}

/// Odds told in decibans, in words: `3 to 1 against`.
pub(crate) fn odds(decibans: f64) -> String {
    if decibans.abs() >= BEYOND_MEASURE {
        let words = if decibans > 0.0 {
            "certain"
        } else {
            "ruled out"
        };
        return words.to_owned();
    }
    let ratio = scale::ratio(decibans.abs());
    let many = if ratio < 1.05 {
        return "evens".to_owned();
    } else if ratio < 9.95 {
        let text = format!("{ratio:.1}");
        text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
    } else if ratio < 999_999.5 {
        thousands(ratio.round() as u64)
    } else {
        "over 1,000,000".to_owned()
    };
    let side = if decibans > 0.0 { "for" } else { "against" };
    format!("{many} to 1 {side}")
}

/// A whole number, its thousands set apart.
pub(crate) fn thousands(number: u64) -> String {
    grouped(&number.to_string())
}

fn grouped(digits: &str) -> String {
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// A number with no more decimals than say something.
pub(crate) fn plain(value: f64) -> String {
    let size = value.abs();
    let text = if size >= 99.95 {
        format!("{value:.0}")
    } else if size >= 9.995 {
        format!("{value:.1}")
    } else if size >= 0.0095 || size == 0.0 {
        format!("{value:.2}")
    } else {
        return format!("{value:.0e}");
    };
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// A chance as so many in 100, or of more where it is close to none or all.
pub(crate) fn chance(probability: f64) -> String {
    let far = probability.min(1.0 - probability);
    if probability <= 0.0 {
        "none in 100".to_owned()
    } else if probability >= 1.0 {
        "all of 100".to_owned()
    } else if far >= 0.0095 {
        format!("{:.0} in 100", probability * 100.0)
    } else if far >= 0.00095 {
        format!("{:.0} in 1,000", probability * 1_000.0)
    } else if far < 0.000_005 {
        let words = if probability < 0.5 {
            "under 1"
        } else {
            "over 99,999"
        };
        format!("{words} in 100,000")
    } else {
        let count = (probability * 100_000.0).round() as u64;
        format!("{} in 100,000", thousands(count))
    }
}

/// The value of a number of a pack, in its unit.
pub(crate) fn number(value: f64, unit: NumberUnit) -> String {
    let figure = figure(value, unit);
    match unit {
        NumberUnit::Chance => format!("{figure} in 100"),
        NumberUnit::Count => format!("{figure} of 1,000"),
        NumberUnit::Plain | NumberUnit::Shift => figure,
    }
}

/// The same without its unit: a chance in 100, a count of 1,000.
pub(crate) fn figure(value: f64, unit: NumberUnit) -> String {
    match unit {
        NumberUnit::Chance if value <= 0.0 => "0".to_owned(),
        NumberUnit::Chance if value < 0.000_05 => "under 0.01".to_owned(),
        NumberUnit::Chance if value >= 1.0 => "100".to_owned(),
        NumberUnit::Chance if value > 0.999_95 => "over 99.99".to_owned(),
        NumberUnit::Chance if !(0.0095..=0.9905).contains(&value) => {
            let text = format!("{:.2}", 100.0 * value);
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        }
        NumberUnit::Chance => format!("{:.0}", 100.0 * value),
        NumberUnit::Count if value >= 9.95 => thousands(value.round() as u64),
        NumberUnit::Shift if value > 0.0 => format!("+{}", plain(value)),
        NumberUnit::Count | NumberUnit::Plain | NumberUnit::Shift => plain(value),
    }
}

/// `1 sign`, `2 signs`.
pub(crate) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// Joined for reading: `a, b and c`.
pub(crate) fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// How far one must go.
pub(crate) fn access(access: Access) -> &'static str {
    match access {
        Access::WalkBy => "standing beside it",
        Access::Open => "opening it, working its parts",
        Access::TurnOver => "underneath, or turned over",
        Access::Dismantle => "drawing a screw, taking off a part",
        Access::Laboratory => "a sample, or an instrument elsewhere",
        Access::Papers => "papers, not the piece",
    }
}

/// How far one must go, in a word or two.
pub(crate) fn reach(access: Access) -> &'static str {
    match access {
        Access::WalkBy => "beside it",
        Access::Open => "opening it",
        Access::TurnOver => "underneath",
        Access::Dismantle => "taking apart",
        Access::Laboratory => "sample or instrument",
        Access::Papers => "papers",
    }
}

/// Whether the owner must be asked.
pub(crate) fn leave(leave: Leave) -> Option<&'static str> {
    match leave {
        Leave::NotNeeded => None,
        Leave::Ask => Some("ask first"),
        Leave::Written => Some("written leave"),
    }
}

/// How sure a report is, as an aside.
pub(crate) fn sureness(sure: Sureness) -> &'static str {
    match sure {
        Sureness::Sure => "",
        Sureness::FairlySure => ", fairly sure",
        Sureness::Doubtful => ", doubtful",
    }
}

/// Minutes without a useless fraction.
pub(crate) fn minutes(minutes: f64) -> String {
    format!("{minutes} min")
}

/// An amount of money without its currency: whole from 100 on, to the hundredth below.
pub(crate) fn amount(amount: f64) -> String {
    let decimals = if amount.abs() < 99.995 { 2 } else { 0 };
    let text = format!("{:.decimals$}", amount.abs());
    let (whole, cents) = text.split_once('.').unwrap_or((&text, ""));
    let mut grouped = grouped(whole);
    if !cents.trim_matches('0').is_empty() {
        grouped.push('.');
        grouped.push_str(cents);
    }
    let sign = if amount < 0.0 && grouped != "0" {
        "-"
    } else {
        ""
    };
    format!("{sign}{grouped}")
}

/// A year to the nearest five: no reckoned date is closer.
pub(crate) fn year(year: f64) -> String {
    format!("{:.0}", (year / 5.0).round() * 5.0)
}

/// A unit for reading.
pub(crate) fn unit(unit: &str) -> String {
    match unit {
        "percent" => "%".to_owned(),
        other => other.replace('-', " "),
    }
}

/// A text's first sentence: up to a full stop (or the like) before a capital.
pub(crate) fn first_sentence(text: &str) -> &str {
    let text = text.trim();
    let ends = text
        .match_indices(['.', '!', '?', ';'])
        .map(|(at, stop)| at + stop.len());
    for end in ends {
        let (head, tail) = text.split_at(end);
        let next = tail.trim_start().chars().next();
        let word = head
            .trim_end_matches('.')
            .rsplit(' ')
            .next()
            .unwrap_or_default();
        let abbreviated = head.ends_with('.') && (word.chars().count() == 1 || word.contains('.'));
        let capital = next.is_none_or(|c| c.is_uppercase() || c == '\'');
        if tail.starts_with(char::is_whitespace) && capital && !abbreviated {
            return head;
        }
    }
    text
}

/// A part's name for use within a line: without what follows a comma or colon, and without the
/// capital of its first word.
pub(crate) fn short_part(name: &str) -> String {
    let name = name.split([',', ':']).next().unwrap_or_default().trim();
    let mut chars = name.chars();
    match (chars.next(), chars.next()) {
        // A word in capitals stays.
        (Some(first), Some(second)) if !second.is_uppercase() => {
            first.to_lowercase().chain(name.chars().skip(1)).collect()
        }
        _ => name.to_owned(),
    }
}

/// With a full stop to end with.
pub(crate) fn stopped(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['.', '!', '?']) || text.is_empty() {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_never_claim_certainty_by_rounding() {
        for (probability, words) in [
            (0.0, "0"),
            (1e-9, "under 1"),
            (0.0621, "62"),
            (0.9999, "over 999"),
            (1.0, "1,000"),
        ] {
            assert_eq!(out_of(1000, probability), words, "{probability}");
        }
        assert_eq!(count_out_of(1000, 1, 0.0006), "1");
    }

    #[test]
    fn weights() {
        for (decibans, words) in [
            (0.2, "under 1"),
            (-0.5, "1"),
            (11.6, "12"),
            (-3000.0, "no end"),
        ] {
            assert_eq!(size(decibans), words, "{decibans}");
        }
    }

    #[test]
    fn odds_in_words() {
        for (decibans, words) in [
            (0.1, "evens"),
            (-0.2, "evens"),
            (10.0 * std::f64::consts::LOG10_2, "2 to 1 for"),
            (-5.0, "3.2 to 1 against"),
            (10.0, "10 to 1 for"),
            (-31.0, "1,259 to 1 against"),
            (75.0, "over 1,000,000 to 1 for"),
            (3000.0, "certain"),
            (-3000.0, "ruled out"),
        ] {
            assert_eq!(odds(decibans), words, "{decibans}");
        }
        let decibans = [12.34, -0.06, 0.04, -0.04, 3000.0].map(signed);
        assert_eq!(decibans, ["+12.3", "-0.1", "0", "0", "+endless"]);
    }

    #[test]
    fn numbers_in_their_units() {
        for (value, unit, words) in [
            (0.34, NumberUnit::Chance, "34 in 100"),
            (0.004, NumberUnit::Chance, "0.4 in 100"),
            (0.9992, NumberUnit::Chance, "99.92 in 100"),
            (1e-9, NumberUnit::Chance, "under 0.01 in 100"),
            (1.0 - 1e-9, NumberUnit::Chance, "over 99.99 in 100"),
            (0.0, NumberUnit::Chance, "0 in 100"),
            (1.0, NumberUnit::Chance, "100 in 100"),
            (7.84, NumberUnit::Count, "7.84 of 1,000"),
            (221.4, NumberUnit::Count, "221 of 1,000"),
            (1.50, NumberUnit::Plain, "1.5"),
            (0.0004, NumberUnit::Plain, "4e-4"),
            (2.25, NumberUnit::Shift, "+2.25"),
            (-12.04, NumberUnit::Shift, "-12"),
        ] {
            assert_eq!(number(value, unit), words, "{value}");
        }
    }

    #[test]
    fn chances_that_are_small_keep_a_figure() {
        for (probability, words) in [
            (0.0, "none in 100"),
            (0.004, "4 in 1,000"),
            (0.000_21, "21 in 100,000"),
            (0.999_6, "99,960 in 100,000"),
            (1e-9, "under 1 in 100,000"),
            (1.0 - 1e-9, "over 99,999 in 100,000"),
            (1.0, "all of 100"),
        ] {
            assert_eq!(chance(probability), words, "{probability}");
        }
    }

    #[test]
    fn sentences_end_before_a_capital() {
        for (text, first) in [
            ("Made so. And kept.", "Made so."),
            ("Made c. 1750 in oak. Cut later.", "Made c. 1750 in oak."),
            ("No stop at all", "No stop at all"),
            (
                "Cut, e.g. at J. Smith's. Then sold.",
                "Cut, e.g. at J. Smith's.",
            ),
            ("", ""),
        ] {
            assert_eq!(first_sentence(text), first);
        }
    }

    #[test]
    fn amounts_have_no_useless_digits() {
        for (value, words) in [
            (0.0, "0"),
            (-0.001, "0"),
            (0.5, "0.50"),
            (-7.0, "-7"),
            (99.994, "99.99"),
            (99.996, "100"),
            (999.6, "1,000"),
            (-1234567.4, "-1,234,567"),
        ] {
            assert_eq!(amount(value), words, "{value}");
        }
    }

    #[test]
    fn lists_and_endings() {
        let names = |n: usize| -> Vec<String> { (0..n).map(|i| format!("n{i}")).collect() };
        assert_eq!(list(&names(3)), "n0, n1 and n2");
        assert_eq!(list(&names(1)), "n0");
        assert_eq!(stopped("so"), "so.");
        assert_eq!(stopped("so!"), "so!");
        assert_eq!(short_part("Fixing of top: screws, blocks"), "fixing of top");
        assert_eq!(short_part("Élan"), "élan");
        assert_eq!(short_part("MDF back"), "MDF back");
        assert_eq!(
            (year(1757.4), year(1757.6)),
            ("1755".to_owned(), "1760".to_owned())
        );
        assert_eq!(count(1, "sign", "signs"), "1 sign");
    }
}
