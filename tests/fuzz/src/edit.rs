//! Edits of a valid text, so that short inputs reach far into a parser.

use crate::bytes::Bytes;

const NUMBERS: [&str; 20] = [
    "0",
    "1",
    "-1",
    "0.0",
    "1.0",
    "0.5",
    "-0.0",
    "1e-320",
    "1e308",
    "-1e308",
    "nan",
    "inf",
    "-inf",
    "9223372036854775807",
    "-9223372036854775808",
    "2147483647",
    "-2147483648",
    "1e-9",
    "0.999999999999",
    "1700",
];

const SNIPPETS: [&str; 12] = [
    "]",
    "[",
    "{",
    "}",
    "\"",
    "=",
    "[[sign]]",
    "[[history]]",
    "id = \"x\"",
    "# ",
    "\u{feff}",
    "ä\u{0301}",
];

/// The most edits made of one input.
const MAX_EDITS: usize = 8;

/// Applies the edits that the bytes spell.
pub fn edit(text: &str, bytes: &mut Bytes<'_>) -> String {
    let mut text = text.to_owned();
    for _ in 0..MAX_EDITS {
        if bytes.is_empty() {
            break;
        }
        text = edit_once(text, bytes);
    }
    text
}

fn edit_once(text: String, bytes: &mut Bytes<'_>) -> String {
    match bytes.below(10) {
        0 => lines(&text, bytes, |lines, at, _| {
            lines.remove(at);
        }),
        1 => lines(&text, bytes, |lines, at, other| {
            lines.insert(other, lines[at]);
        }),
        2 => lines(&text, bytes, |lines, at, other| lines.swap(at, other)),
        3 => {
            let words = numbers(&text);
            let new = NUMBERS[bytes.below(NUMBERS.len())];
            replace(text, &words, bytes, new)
        }
        4 => {
            let words = numbers(&text);
            let new = format!("{}", bytes.chance() * 1.2 - 0.1);
            replace(text, &words, bytes, &new)
        }
        5 | 6 => {
            let words = strings(&text);
            let new = match words.get(bytes.below(words.len())) {
                Some(range) => text[range.clone()].to_owned(),
                None => return text,
            };
            replace(text, &words, bytes, &new)
        }
        7 => {
            let words = strings(&text);
            replace(text, &words, bytes, "")
        }
        8 => {
            let at = boundary(&text, bytes);
            let mut text = text;
            text.insert_str(at, SNIPPETS[bytes.below(SNIPPETS.len())]);
            text
        }
        // Whole sections, from one header to the next.
        _ => {
            let starts: Vec<usize> = text.match_indices("\n[").map(|(at, _)| at + 1).collect();
            let place = bytes.below(starts.len());
            let Some(start) = starts.get(place).copied() else {
                return text;
            };
            let end = starts.get(place + 1).copied().unwrap_or(text.len());
            let section = text[start..end].to_owned();
            let mut text = text;
            match bytes.below(3) {
                0 => text.replace_range(start..end, ""),
                1 => text.push_str(&format!("\n{section}")),
                _ => {
                    text.replace_range(start..end, "");
                    text.push_str(&format!("\n{section}"));
                }
            }
            text
        }
    }
}

fn lines(
    text: &str,
    bytes: &mut Bytes<'_>,
    change: impl FnOnce(&mut Vec<&str>, usize, usize),
) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    if !lines.is_empty() {
        let (at, other) = (bytes.below(lines.len()), bytes.below(lines.len()));
        change(&mut lines, at, other);
    }
    lines.join("\n")
}

fn replace(
    mut text: String,
    places: &[std::ops::Range<usize>],
    bytes: &mut Bytes<'_>,
    new: &str,
) -> String {
    if let Some(range) = places.get(bytes.below(places.len())) {
        text.replace_range(range.clone(), new);
    }
    text
}

fn boundary(text: &str, bytes: &mut Bytes<'_>) -> usize {
    let mut at = bytes.below(text.len().max(1));
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// Ranges of what looks like numbers.
fn numbers(text: &str) -> Vec<std::ops::Range<usize>> {
    let part = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | 'e' | '+');
    let mut found = Vec::new();
    let mut start = None;
    for (at, c) in text.char_indices().chain([(text.len(), ' ')]) {
        match start {
            None if c.is_ascii_digit() || c == '-' => start = Some(at),
            Some(from) if !part(c) => {
                found.push(from..at);
                start = None;
            }
            _ => {}
        }
    }
    found
}

/// Ranges of the insides of quoted strings.
fn strings(text: &str) -> Vec<std::ops::Range<usize>> {
    let mut found = Vec::new();
    let mut offset = 0;
    for line in text.split_inclusive('\n') {
        let quotes: Vec<usize> = line.match_indices('"').map(|(at, _)| offset + at).collect();
        for pair in quotes.chunks_exact(2) {
            found.push(pair[0] + 1..pair[1]);
        }
        offset += line.len();
    }
    found
}
