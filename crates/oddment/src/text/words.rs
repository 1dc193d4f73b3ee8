//! The words of messages: suggestions, lists of what is valid, values cut to a readable length.

/// The longest quoted value shown whole.
const MAX_SHOWN: usize = 80;

/// The longest message.
const MAX_MESSAGE: usize = 1_000;

/// How many valid names a message lists.
const MAX_LISTED: usize = 12;

/// How many names are put in order to list the first of them.
const MAX_SORTED: usize = 1_000;

/// How many pairs of letters are compared in search of a suggestion.
pub(super) const MAX_COMPARED: usize = 4_000_000;

/// The valid name closest to a mistyped one, unless all are far off.
pub(crate) fn nearest<'a>(name: &str, valid: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    nearest_within(name, valid, MAX_COMPARED)
}

/// As [`nearest`], with no more than so many pairs of letters compared.
fn nearest_within<'a>(
    name: &str,
    valid: impl Iterator<Item = &'a str>,
    mut left: usize,
) -> Option<&'a str> {
    let mut best: Option<(usize, &str)> = None;
    for candidate in valid {
        let slack = 1 + candidate.len().min(name.len()) / 3;
        let bound = best.map_or(slack, |(distance, _)| distance.min(slack));
        let work = candidate.len() * name.len();
        if work > left || least_distance(name, candidate) > bound {
            continue;
        }
        left -= work;
        let found = (strsim::damerau_levenshtein(name, candidate), candidate);
        if found.0 <= bound && best.is_none_or(|best| found < best) {
            best = Some(found);
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// How many edits it takes at the least to turn one name into the other, by the letters that only
/// one of them has.
fn least_distance(one: &str, other: &str) -> usize {
    let mut surplus = [0_i32; 256];
    one.bytes().for_each(|byte| surplus[usize::from(byte)] += 1);
    other
        .bytes()
        .for_each(|byte| surplus[usize::from(byte)] -= 1);
    let of = |sign: i32| -> usize {
        surplus
            .iter()
            .map(|count| (sign * count).max(0) as usize)
            .sum()
    };
    let letters = of(1).max(of(-1));
    // A letter may have up to four bytes.
    if one.is_ascii() && other.is_ascii() {
        letters
    } else {
        letters / 4
    }
}

/// "unknown `given`, perhaps ..., valid are ...": the message for an id that does not resolve.
pub(crate) fn unknown<'a>(
    (what, given): (&str, &str),
    valid: impl Iterator<Item = &'a str> + Clone,
    most_compared: usize,
) -> String {
    let near = nearest_within(given, valid.clone(), most_compared)
        .map_or(String::new(), |name| format!(", perhaps `{name}`"));
    let mut names: Vec<&str> = valid.take(MAX_SORTED).collect();
    if names.is_empty() {
        return format!("unknown {what} `{given}`; none is defined");
    }
    names.sort_unstable();
    let more = if names.len() > MAX_LISTED {
        ", ..."
    } else {
        ""
    };
    names.truncate(MAX_LISTED);
    format!(
        "unknown {what} `{given}`{near}; valid: {}{more}",
        names.join(", ")
    )
}

/// A number as one would write it, without the noise of its last bits.
pub(crate) fn figure(value: f64) -> String {
    let size = value.abs();
    if size != 0.0 && !(1e-4..1e9).contains(&size) {
        return format!("{value:e}");
    }
    let rounded = (value * 1e9).round() / 1e9;
    format!("{rounded}")
}

/// A message in which no quoted value is longer than a reader wants.
pub(super) fn readable(message: &str) -> String {
    let mut shown = String::new();
    let mut rest = message;
    while let Some(start) = rest.find(['`', '"']) {
        let mark = &rest[start..=start];
        let inner = &rest[start + 1..];
        let Some(length) = inner.find(mark) else {
            break;
        };
        shown.push_str(&rest[..=start]);
        shown.push_str(&cut(&inner[..length], MAX_SHOWN));
        shown.push_str(mark);
        rest = &inner[length + 1..];
    }
    shown.push_str(rest);
    cut(&shown, MAX_MESSAGE)
}

fn cut(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        None => text.to_owned(),
        Some((end, _)) => format!("{}...", &text[..end]),
    }
}

/// A parser's message in the words of a user, with the nearest valid name where it has one.
pub(super) fn of_parser(message: &str) -> String {
    let mut message = match message {
        "cannot recurse further; max recursion depth met"
        | "recursion limit"
        | "recursion limit exceeded" => "nested too deeply; make it flatter".to_owned(),
        "trailing comma" => "a comma with nothing after it; remove it".to_owned(),
        "expected tuple with length 2" => "must be a list of two years".to_owned(),
        "invalid basic string, expected `\"`" => {
            "the text in quotes has no end on its line; close it with `\"`".to_owned()
        }
        "number out of range" => "the number is too large".to_owned(),
        message if message.starts_with("EOF while parsing") => {
            format!("{message}: the text ends too soon; is it whole?")
        }
        message if message.starts_with("control character") => {
            "a control character in a string; remove it, or write it as an escape such as \\n"
                .to_owned()
        }
        message => message.to_owned(),
    };
    if let Some((given, expected)) = message.split_once(", expected ") {
        let plain = match expected {
            "f64" => Some("a number"),
            "i32" | "i64" => Some("a whole number"),
            "u32" => Some("a whole number, 0 or more"),
            "a string" => Some("a string in quotes"),
            "a boolean" => Some("`true` or `false`"),
            "a sequence" => Some("a list"),
            "a map" => Some("a table"),
            expected if expected.starts_with("struct ") => Some("a table"),
            _ => None,
        };
        if let Some(plain) = plain {
            message = format!("{given}, expected {plain}");
        }
    }
    if !message.starts_with("unknown ") {
        return message;
    }
    let mut names = message.split('`').skip(1).step_by(2);
    let near = names.next().and_then(|given| nearest(given, names));
    match near {
        Some(name) => format!("{message}; perhaps `{name}`"),
        None => message,
    }
}
