//! Figures written out for reading.

/// A weight from here on rests on a chance of exactly 0 or 1.
pub(super) const BEYOND_MEASURE: f64 = 2_999.0;

/// A count of `whole` pieces, neither none nor all of them by rounding alone.
pub(super) fn count_of(whole: u32, count: u32, probability: f64) -> String {
    match count {
        0 if probability > 0.0 => "under 1".to_owned(),
        all if all >= whole && probability < 1.0 => format!("over {}", thousands(whole - 1)),
        count => thousands(count),
    }
}

/// A probability as a count of `whole` pieces.
pub(super) fn out_of(whole: u32, probability: f64) -> String {
    let count = (probability * f64::from(whole)).round() as u32;
    count_of(whole, count, probability)
}

/// A whole number, its thousands set apart.
pub(super) fn thousands(number: impl Into<u64>) -> String {
    let digits = number.into().to_string();
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// The size of a weight in decibans, in words.
pub(super) fn size(decibans: f64) -> String {
    let size = decibans.abs();
    if size >= BEYOND_MEASURE {
        "beyond measure".to_owned()
    } else if size < 0.05 {
        "0".to_owned()
    } else if size < 10.0 {
        format!("{size:.1}")
    } else {
        format!("{size:.0}")
    }
}

/// A weight in decibans with its sign.
pub(super) fn signed(decibans: f64) -> String {
    let size = size(decibans);
    match size.as_str() {
        "0" => size,
        _ if decibans < 0.0 => format!("\u{2212}{size}"),
        _ => format!("+{size}"),
    }
}

/// Odds told in decibans, as `so many to 1`.
pub(super) fn odds(decibans: f64) -> String {
    let ratio = libm::pow(10.0, decibans.abs() / 10.0);
    let many = if ratio < 1.05 {
        return "evens".to_owned();
    } else if ratio < 9.95 {
        format!("{ratio:.1}")
    } else if ratio < 999_999.5 {
        thousands(ratio.round() as u32)
    } else {
        "1,000,000+".to_owned()
    };
    if decibans > 0.0 {
        format!("{many} to 1")
    } else {
        format!("1 to {many}")
    }
}

/// A year to the nearest five: no reckoned date is closer.
pub(super) fn year(year: f64) -> String {
    format!("{:.0}", (year / 5.0).round() * 5.0)
}

/// A number with no more decimals than say something.
pub(super) fn plain(value: f64) -> String {
    let size = value.abs();
    let text = if size >= 100.0 {
        format!("{value:.0}")
    } else if size >= 10.0 {
        format!("{value:.1}")
    } else if size >= 0.01 || size == 0.0 {
        format!("{value:.2}")
    } else {
        return format!("{value:.0e}");
    };
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// A chance as so many in 100, or in 1,000 or 100,000 where it is small.
pub(super) fn chance(probability: f64) -> String {
    let far = probability.min(1.0 - probability);
    if probability == 0.0 {
        "none in 100".to_owned()
    } else if far >= 0.0095 || probability >= 1.0 {
        format!("{:.0} in 100", probability * 100.0)
    } else if far >= 0.00095 {
        format!("{:.0} in 1,000", probability * 1_000.0)
    } else if far < 0.000_005 && probability < 0.5 {
        "under 1 in 100,000".to_owned()
    } else if far < 0.000_005 {
        "over 99,999 in 100,000".to_owned()
    } else {
        let count = (probability * 100_000.0).round() as u32;
        format!("{} in 100,000", thousands(count))
    }
}

/// A text of at most so many characters, cut with a mark where it is longer.
pub(super) fn cut(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most.saturating_sub(1)).collect();
    format!("{}\u{2026}", kept.trim_end())
}

/// Lines of at most so many characters, and no more lines than wanted; words longer than a line
/// are broken.
pub(super) fn lines(text: &str, width: usize, most: usize) -> Vec<String> {
    let width = width.max(2);
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let mut rest: Vec<char> = word.chars().collect();
        loop {
            let used = line.chars().count();
            let gap = usize::from(used > 0);
            if used + gap + rest.len() <= width {
                if gap == 1 {
                    line.push(' ');
                }
                line.extend(&rest);
                break;
            }
            if used == 0 {
                line.extend(rest.drain(..width));
            }
            lines.push(std::mem::take(&mut line));
            if lines.len() > most {
                break;
            }
        }
        if lines.len() > most {
            break;
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            *last = format!(
                "{}\u{2026}",
                last.chars().take(width - 1).collect::<String>()
            );
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_and_chances_claim_no_certainty_by_rounding() {
        for (probability, words) in [
            (0.0, "none in 100"),
            (1e-9, "under 1 in 100,000"),
            (0.0004, "40 in 100,000"),
            (0.004, "4 in 1,000"),
            (0.34, "34 in 100"),
            (0.9962, "996 in 1,000"),
            (0.999_999_9, "over 99,999 in 100,000"),
            (1.0, "100 in 100"),
        ] {
            assert_eq!(chance(probability), words, "{probability}");
        }
        assert_eq!(out_of(1000, 0.9999), "over 999");
        assert_eq!(out_of(1000, 1e-9), "under 1");
        assert_eq!(thousands(1_234_567_u32), "1,234,567");
    }

    #[test]
    fn weights_and_odds() {
        assert_eq!(signed(-12.4), "\u{2212}12");
        assert_eq!(signed(0.01), "0");
        assert_eq!(signed(3000.0), "+beyond measure");
        assert_eq!(odds(0.0), "evens");
        assert_eq!(odds(20.0), "100 to 1");
        assert_eq!(odds(-5.0), "1 to 3.2");
        assert_eq!(odds(3000.0), "1,000,000+ to 1");
        assert_eq!(
            (plain(0.25), plain(3.0), plain(1234.5)),
            ("0.25".into(), "3".into(), "1234".into())
        );
    }

    #[test]
    fn lines_keep_to_their_width_and_number() {
        assert_eq!(lines("one two three", 7, 9), ["one two", "three"]);
        assert_eq!(lines("abcdefghij", 4, 9), ["abcd", "efgh", "ij"]);
        assert_eq!(
            lines("one two three four", 7, 2),
            ["one two", "three\u{2026}"]
        );
        assert_eq!(lines(&"x".repeat(10_000), 20, 3).len(), 3);
        assert_eq!(lines("", 20, 3), Vec::<String>::new());
        assert_eq!(cut("abcdef", 4), "abc\u{2026}");
    }
}
