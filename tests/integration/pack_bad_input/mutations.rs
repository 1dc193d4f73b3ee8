//! Texts changed at random: what comes of it is a pack or a case, or a typed error with a place.

use super::{CASE, LIBRARY, PACK, STAKES, load, problems, small_pack};
use oddment::{Case, Pack, Text, packs};
use oddment_tests::generated_pack::Scatter;

/// What numbers and words are replaced with.
const VALUES: [&str; 24] = [
    "0",
    "1",
    "-1",
    "0.5",
    "1.0",
    "nan",
    "-inf",
    "1e308",
    "-1e-320",
    "2147483647",
    "-2147483648",
    "9223372036854775807",
    "99999999999999999999",
    "true",
    "\"\"",
    "\"x\"",
    "\"any\"",
    "\"faked\"",
    "[]",
    "{}",
    "[1640, 0.5]",
    "{ mean = 0.5 }",
    "1979-05-27",
    "'",
];

/// A text with some of its lines left out, doubled, moved, or given another value.
fn mutated(text: &str, scatter: &mut Scatter) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for _ in 0..=scatter.below(3) {
        let (one, other) = (scatter.below(lines.len()), scatter.below(lines.len()));
        match scatter.below(8) {
            0 => {
                lines.remove(one);
            }
            1 => lines.insert(other, lines[one].clone()),
            2 => lines.swap(one, other),
            // The value of one line under the key of another.
            3 => {
                if let (Some((key, _)), Some((_, value))) =
                    (lines[one].split_once('='), lines[other].split_once('='))
                {
                    lines[one] = format!("{key}={value}");
                }
            }
            4 => lines[one] = words(&lines[one], scatter, |_, new| new.to_owned()),
            5 => lines[one] = words(&lines[one], scatter, |old, _| format!("{old}x")),
            6 => {
                let end = scatter.below(lines[one].chars().count() + 1);
                lines[one] = lines[one].chars().take(end).collect();
            }
            _ => {
                if let Some((key, _)) = lines[one].split_once('=') {
                    lines[one] = format!("{key}= {}", VALUES[scatter.below(VALUES.len())]);
                }
            }
        }
    }
    lines.join("\n")
}

/// A line with one of its words or numbers changed.
fn words(line: &str, scatter: &mut Scatter, change: impl Fn(&str, &str) -> String) -> String {
    let word = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.');
    let starts: Vec<usize> = line
        .char_indices()
        .filter(|(at, c)| word(*c) && !line[..*at].ends_with(word))
        .map(|(at, _)| at)
        .collect();
    let Some(start) = starts.get(scatter.below(starts.len())) else {
        return line.to_owned();
    };
    let end = line[*start..]
        .find(|c| !word(c))
        .map_or(line.len(), |end| start + end);
    let new = change(&line[*start..end], VALUES[scatter.below(VALUES.len())]);
    format!("{}{new}{}", &line[..*start], &line[end..])
}

/// Loads so many mutations of a pack, a library and a case; returns how many were still valid.
fn mutate(seed: u64, times: usize, pack: &str, library: &str, case: &str) -> [usize; 3] {
    let mut scatter = Scatter(seed);
    let whole = load(pack, library).unwrap_or_else(|error| panic!("{error}"));
    let mut valid = [0; 3];
    for _ in 0..times {
        let changed = mutated(case, &mut scatter);
        let loaded = Case::load(Text::new("case", &changed), &whole);
        valid[0] += usize::from(problems(loaded, &[("case", &changed)]).is_empty());
        let changed = mutated(pack, &mut scatter);
        valid[1] += usize::from(loads(&changed, library));
        let changed = mutated(library, &mut scatter);
        valid[2] += usize::from(loads(pack, &changed));
    }
    valid
}

fn loads(pack: &str, library: &str) -> bool {
    let loaded: Result<Pack, _> = load(pack, library);
    problems(loaded, &[("pack", pack), ("library", library)]).is_empty()
}

#[test]
fn mutations_of_the_small_texts_are_refused_with_a_place() {
    let case = CASE.to_owned() + STAKES;
    let valid = mutate(1, 2_000, PACK, LIBRARY, &case);
    // Some changes do no harm, most do; were it otherwise the mutations would test little.
    assert!(
        valid.iter().all(|valid| (50..1_000).contains(valid)),
        "{valid:?}"
    );
}

#[test]
fn mutations_of_the_drop_leaf_table_are_refused_with_a_place() {
    let pack = packs::text("drop-leaf-table").map_or("", |text| text.content);
    let case = include_str!("../../../priors/cases/pieced-out-oval.toml");
    mutate(2, 150, pack, packs::LIBRARY, case);
}

#[test]
fn json_cut_short_or_changed_is_refused_with_a_place() {
    let (pack, base) = (small_pack(), super::json_case());
    let mut scatter = Scatter(3);
    for end in (0..base.len()).filter(|end| base.is_char_boundary(*end)) {
        let text = &base[..end];
        let loaded = Case::load(Text::new("case", text), &pack);
        assert!(!problems(loaded, &[("case", text)]).is_empty(), "{text}");
    }
    for _ in 0..1_500 {
        let text = mutated(&base, &mut scatter);
        let loaded = Case::load(Text::new("case", &text), &pack);
        problems(loaded, &[("case", &text)]);
    }
}
