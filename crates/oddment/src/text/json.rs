//! JSON as a tree of values with their places.

use super::tree::{Entry, Node, Value};
use std::borrow::Cow;

/// How deep lists and objects may stand in one another.
const DEEPEST: usize = 127;

/// What is said of an object without an end.
const IN_OBJECT: &str = "EOF while parsing an object";

/// What is wrong, and at which offset.
type Fault = (usize, &'static str);

/// Reads a text that begins, at an offset, with an object. Where it stops being JSON the tree ends
/// in [`Value::Wrong`], so that what is wrong with the values before can be said first; for what
/// follows the value it is given beside it.
pub(super) fn read(text: &str, start: usize) -> (Node<'_>, Option<Fault>) {
    let mut reader = Reader {
        text,
        at: start,
        depth: 0,
        fault: None,
    };
    reader.space();
    let start = reader.at;
    let node = reader.node(start);
    reader.space();
    if reader.fault.is_none() && reader.peek().is_some() {
        reader.fault = Some((reader.at, "trailing characters"));
    }
    (node, reader.fault)
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    depth: usize,
    fault: Option<Fault>,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    /// Passes over a byte if it is the next.
    fn take(&mut self, wanted: u8) -> bool {
        let there = self.peek() == Some(wanted);
        self.at += usize::from(there);
        there
    }

    fn space(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\n' | b'\t' | b'\r')) {
            self.at += 1;
        }
    }

    /// What is wrong here: one thing, or another when the text ends here.
    fn wrong(&self, message: &'static str, at_end: &'static str) -> Fault {
        let end = self.text.len();
        if self.at < end {
            return (self.text.floor_char_boundary(self.at), message);
        }
        // Shown is the last character, unless it ends a line.
        let last = self.text.char_indices().next_back();
        let last = last.filter(|(_, last)| *last != '\n');
        (last.map_or(end, |(place, _)| place), at_end)
    }

    /// The value here, or what is wrong with it.
    fn node(&mut self, start: usize) -> Node<'a> {
        match self.value() {
            Ok(value) => Node { start, value },
            Err(fault) => self.stop(fault),
        }
    }

    /// Ends the reading.
    fn stop(&mut self, fault: Fault) -> Node<'a> {
        self.fault = Some(fault);
        let (start, message) = fault;
        let value = Value::Wrong(message.into());
        Node { start, value }
    }

    fn value(&mut self) -> Result<Value<'a>, Fault> {
        match self.peek() {
            Some(b'{') => self.inside(Self::table).map(Value::Table),
            Some(b'[') => self.inside(Self::list).map(Value::List),
            Some(b'"') => self.string().map(Value::Text),
            Some(b'-' | b'0'..=b'9') => self.number(),
            Some(b'n') => self.word("null", Value::Null),
            Some(b't') => self.word("true", Value::Bool(true)),
            Some(b'f') => self.word("false", Value::Bool(false)),
            _ => Err(self.wrong("expected value", "EOF while parsing a value")),
        }
    }

    fn word(&mut self, word: &str, value: Value<'a>) -> Result<Value<'a>, Fault> {
        for byte in word.bytes() {
            if !self.take(byte) {
                return Err(self.wrong("expected ident", "EOF while parsing a value"));
            }
        }
        Ok(value)
    }

    /// What stands in a list or object, as far as it can be read.
    fn inside<T>(&mut self, read: fn(&mut Self, &mut Vec<T>)) -> Result<Vec<T>, Fault> {
        if self.depth == DEEPEST {
            return Err((self.at, "recursion limit exceeded"));
        }
        self.depth += 1;
        self.at += 1;
        self.space();
        let mut inside = Vec::new();
        read(self, &mut inside);
        self.depth -= 1;
        Ok(inside)
    }

    /// Passes over a comma or the end; whether something more follows.
    fn more(
        &mut self,
        end: u8,
        neither: &'static str,
        at_end: &'static str,
    ) -> Result<bool, Fault> {
        self.space();
        if self.take(end) {
            return Ok(false);
        }
        let comma = self.at;
        if !self.take(b',') {
            return Err(self.wrong(neither, at_end));
        }
        self.space();
        if self.peek() == Some(end) {
            return Err((comma, "trailing comma"));
        }
        Ok(true)
    }

    fn list(&mut self, items: &mut Vec<Node<'a>>) {
        if self.take(b']') {
            return;
        }
        loop {
            let item = self.node(self.at);
            items.push(item);
            if self.fault.is_some() {
                return;
            }
            match self.more(b']', "expected `,` or `]`", "EOF while parsing a list") {
                Ok(true) => {}
                Ok(false) => return,
                Err(fault) => {
                    let wrong = self.stop(fault);
                    return items.push(wrong);
                }
            }
        }
    }

    fn table(&mut self, entries: &mut Vec<Entry<'a>>) {
        if self.take(b'}') {
            return;
        }
        loop {
            let start = self.at;
            let more = self.key().and_then(|key| {
                let node = self.node(start);
                entries.push(Entry { key, start, node });
                if self.fault.is_some() {
                    return Ok(false);
                }
                self.more(b'}', "expected `,` or `}`", IN_OBJECT)
            });
            match more {
                Ok(true) => {}
                Ok(false) => return,
                Err(fault) => {
                    let (key, start) = (Cow::Borrowed(""), fault.0);
                    let node = self.stop(fault);
                    return entries.push(Entry { key, start, node });
                }
            }
        }
    }

    fn key(&mut self) -> Result<Cow<'a, str>, Fault> {
        if self.peek() != Some(b'"') {
            return Err(self.wrong("key must be a string", IN_OBJECT));
        }
        let key = self.string()?;
        self.space();
        if !self.take(b':') {
            return Err(self.wrong("expected `:`", IN_OBJECT));
        }
        self.space();
        Ok(key)
    }

    fn digits(&mut self) -> Result<(), Fault> {
        if !matches!(self.peek(), Some(b'0'..=b'9')) {
            return Err(self.wrong("invalid number", "EOF while parsing a value"));
        }
        while matches!(self.peek(), Some(b'0'..=b'9')) {
            self.at += 1;
        }
        Ok(())
    }

    fn number(&mut self) -> Result<Value<'a>, Fault> {
        let start = self.at;
        let negative = self.take(b'-');
        if self.take(b'0') {
            if matches!(self.peek(), Some(b'0'..=b'9')) {
                return Err((self.at, "invalid number"));
            }
        } else {
            self.digits()?;
        }
        let whole = self.at;
        if self.take(b'.') {
            self.digits()?;
        }
        if self.take(b'e') || self.take(b'E') {
            let _ = self.take(b'+') || self.take(b'-');
            self.digits()?;
        }
        let written = &self.text[start..self.at];
        // A zero keeps its sign only as a float.
        if self.at == whole && written != "-0" {
            if let Ok(value) = written.parse() {
                return Ok(Value::Whole(value));
            }
            if !negative && let Ok(value) = written.parse() {
                return Ok(Value::Large(value));
            }
        }
        match written.parse::<f64>() {
            Ok(value) if value.is_finite() => Ok(Value::Float(value)),
            _ => Err((start, "number out of range")),
        }
    }

    fn string(&mut self) -> Result<Cow<'a, str>, Fault> {
        self.at += 1;
        let mut start = self.at;
        let mut whole = String::new();
        loop {
            match self.peek() {
                Some(b'"') => {
                    let rest = &self.text[start..self.at];
                    self.at += 1;
                    if whole.is_empty() {
                        return Ok(Cow::Borrowed(rest));
                    }
                    whole.push_str(rest);
                    return Ok(Cow::Owned(whole));
                }
                Some(b'\\') => {
                    whole.push_str(&self.text[start..self.at]);
                    self.at += 1;
                    whole.push(self.escape()?);
                    start = self.at;
                }
                Some(0..=0x1f) | None => {
                    const CONTROL: &str =
                        "control character (\\u0000-\\u001F) found while parsing a string";
                    return Err(self.wrong(CONTROL, "EOF while parsing a string"));
                }
                Some(_) => self.at += 1,
            }
        }
    }

    fn escape(&mut self) -> Result<char, Fault> {
        let escaped = match self.peek() {
            Some(plain @ (b'"' | b'\\' | b'/')) => char::from(plain),
            Some(b'b') => '\u{8}',
            Some(b'f') => '\u{c}',
            Some(b'n') => '\n',
            Some(b'r') => '\r',
            Some(b't') => '\t',
            Some(b'u') => {
                self.at += 1;
                return self.character();
            }
            _ => return Err(self.wrong("invalid escape", "EOF while parsing a string")),
        };
        self.at += 1;
        Ok(escaped)
    }

    /// A character by its number; those beyond 16 bits stand as two.
    fn character(&mut self) -> Result<char, Fault> {
        let start = self.at;
        let first = self.hex()?;
        let code = match first {
            0xd800..=0xdbff => {
                if !(self.take(b'\\') && self.take(b'u')) {
                    const HALF: &str = "unexpected end of hex escape";
                    return Err(self.wrong(HALF, "EOF while parsing a string"));
                }
                let second = self.hex()?;
                if !(0xdc00..=0xdfff).contains(&second) {
                    return Err((start, "lone leading surrogate in hex escape"));
                }
                0x1_0000 + ((first - 0xd800) << 10) + (second - 0xdc00)
            }
            _ => first,
        };
        char::from_u32(code).ok_or((start, "lone leading surrogate in hex escape"))
    }

    fn hex(&mut self) -> Result<u32, Fault> {
        let mut code = 0;
        for _ in 0..4 {
            let digit = self.peek().and_then(|byte| char::from(byte).to_digit(16));
            let Some(digit) = digit else {
                return Err(self.wrong("invalid escape", "EOF while parsing a string"));
            };
            code = code * 16 + digit;
            self.at += 1;
        }
        Ok(code)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> Result<Value<'_>, Fault> {
        match read(text, 0) {
            (node, None) => Ok(node.value),
            (_, Some(fault)) => Err(fault),
        }
    }

    #[test]
    fn numbers_are_read_to_the_bit() {
        let float = |text| match value(text) {
            Ok(Value::Float(value)) => value.to_bits(),
            other => panic!("{text}: {other:?}"),
        };
        assert_eq!(float("-0"), (-0.0_f64).to_bits());
        assert_eq!(float("0.1"), 0.1_f64.to_bits());
        assert_eq!(float("5e-324"), 1);
        assert_eq!(
            float("-18446744073709551616"),
            (-18_446_744_073_709_551_616.0_f64).to_bits()
        );
        assert!(matches!(
            value("9223372036854775807"),
            Ok(Value::Whole(i64::MAX))
        ));
        assert!(matches!(
            value("18446744073709551615"),
            Ok(Value::Large(u64::MAX))
        ));
        for wrong in ["01", "1.", ".5", "1e", "+1", "-", "1e999", "0x1", "NaN"] {
            assert!(value(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn strings_lose_their_escapes() {
        let text = |written| match value(written) {
            Ok(Value::Text(text)) => text.into_owned(),
            other => panic!("{written}: {other:?}"),
        };
        assert_eq!(
            text(r#""a\"\\\/\b\f\n\r\té\u00e9\ud83e\ude91""#),
            "a\"\\/\u{8}\u{c}\n\r\téé🪑"
        );
        for wrong in [
            r#""\x""#,
            r#""\u12""#,
            r#""\ud800x""#,
            r#""\ud800\u0041""#,
            r#""\udc00""#,
            "\"",
            "\"\n\"",
        ] {
            assert!(value(wrong).is_err(), "{wrong}");
        }
    }

    /// Another parser of the same language takes and refuses the same.
    #[test]
    fn takes_what_is_json_and_refuses_what_is_not() {
        let seeds = [
            r#"{"a": [1, -2.5e3, true, null], "b": {"c": "d\n"}, "e": []}"#,
            r#" [ {} , [ [ ] ] , "x" , false ] "#,
        ];
        for seed in seeds {
            for place in 0..seed.len() {
                for piece in ["", ",", "]", "}", "\"", "1", "e", "\\", " ", "é", "n"] {
                    let mut text = seed.to_owned();
                    text.replace_range(place..=place, piece);
                    let taken = serde_json::from_str::<serde_json::Value>(&text);
                    assert_eq!(value(&text).is_ok(), taken.is_ok(), "{text}");
                }
            }
        }
    }

    #[test]
    fn what_is_too_deep_is_refused() {
        let nested = |depth| "[".repeat(depth) + &"]".repeat(depth);
        assert!(value(&nested(DEEPEST)).is_ok());
        let refused = value(&nested(DEEPEST + 1)).map(|_| ());
        assert_eq!(refused, Err((DEEPEST, "recursion limit exceeded")));
        assert!(value(&"{\"a\":[".repeat(200_000)).is_err());
    }
}
