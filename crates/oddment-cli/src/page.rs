//! Laying text out for people: wrapped, indented, sparingly styled.

use anstyle::Style;
use textwrap::{Options, WordSplitter};

/// The widest page; narrower on a narrow terminal.
const WIDTH: usize = 80;

/// What the widest table needs.
const TABLE_WIDTH: usize = 78;

/// What a table with short words needs.
const NARROW_TABLE: usize = 48;

/// No page is laid out narrower than this.
const LEAST_WIDTH: usize = 40;

pub(crate) const PLAIN: Style = Style::new();
pub(crate) const STRONG: Style = Style::new().bold();
pub(crate) const FAINT: Style = Style::new().dimmed();

/// A text being laid out.
#[derive(Debug)]
pub(crate) struct Page {
    width: usize,
    text: String,
}

impl Page {
    pub fn new() -> Self {
        Self {
            width: textwrap::termwidth().clamp(LEAST_WIDTH, WIDTH),
            text: String::new(),
        }
    }

    /// A page of a given width, to see what becomes of it on a narrow terminal.
    #[cfg(test)]
    pub fn of_width(width: usize) -> Self {
        Self {
            width,
            text: String::new(),
        }
    }

    /// Columns there are.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Whether there is hardly room for a table at all.
    pub fn is_very_narrow(&self) -> bool {
        self.width < NARROW_TABLE
    }

    /// Whether tables that need most of the full width must be laid out as text.
    pub fn is_narrow(&self) -> bool {
        self.width < TABLE_WIDTH
    }

    /// Whether there is room for a table of so many columns.
    pub fn has_room(&self, columns: usize) -> bool {
        columns <= self.width
    }

    /// An empty line, except at the top.
    pub fn gap(&mut self) {
        if !self.text.is_empty() {
            self.text.push('\n');
        }
    }

    /// An empty line and a line that stands out.
    pub fn heading(&mut self, title: &str) {
        self.gap();
        self.paragraph(STRONG, 0, title);
    }

    /// Wrapped text.
    pub fn paragraph(&mut self, style: Style, indent: usize, text: &str) {
        self.hang(style, indent, "", text);
    }

    /// Wrapped text behind a label that stands at `indent`; further lines begin below the text.
    pub fn hang(&mut self, style: Style, indent: usize, label: &str, text: &str) {
        let first = format!("{}{label}", " ".repeat(indent));
        let rest = " ".repeat(textwrap::core::display_width(&first));
        let options = Options::new(self.width)
            .initial_indent(&first)
            .subsequent_indent(&rest)
            .word_splitter(WordSplitter::NoHyphenation);
        for line in textwrap::wrap(&tidy(text), options) {
            // No-break spaces have done their work.
            let line = line.trim_end().replace('\u{a0}', " ");
            self.text.push_str(&format!("{style}{line}{style:#}\n"));
        }
    }

    /// A line that must stay as it is, such as a row of a table.
    pub fn row(&mut self, style: Style, line: &str) {
        let line = clean(line);
        let line = line.trim_end();
        self.text.push_str(&format!("{style}{line}{style:#}\n"));
    }

    pub fn finish(self) -> String {
        self.text
    }
}

/// Text that cannot steer the terminal: control characters and marks that turn the reading
/// direction round are replaced.
pub(crate) fn clean(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\t' => ' ',
            '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {
                '\u{fffd}'
            }
            c if c.is_control() => '\u{fffd}',
            c => c,
        })
        .collect()
}

/// One line of clean text, runs of breakable white space made single.
pub(crate) fn tidy(text: &str) -> String {
    let words: Vec<&str> = text.split_ascii_whitespace().collect();
    clean(&words.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_cannot_steer_the_terminal() {
        assert_eq!(clean("a\u{1b}[2Jb\u{202e}c\td"), "a\u{fffd}[2Jb\u{fffd}c d");
        assert_eq!(tidy(" two\n  words\t"), "two words");
    }

    #[test]
    fn labels_hang_and_ids_stay_whole() {
        let mut page = Page {
            width: 30,
            text: String::new(),
        };
        page.hang(
            PLAIN,
            2,
            "* ",
            "a few words and then some-long-id-of-a-sign",
        );
        assert_eq!(
            page.finish(),
            "  * a few words and then\n    some-long-id-of-a-sign\n"
        );
    }

    #[test]
    fn styles_close_on_every_line() {
        let mut page = Page {
            width: 40,
            text: String::new(),
        };
        page.paragraph(STRONG, 0, &"word ".repeat(12));
        for line in page.finish().lines() {
            assert!(
                line.starts_with("\u{1b}[1m") && line.ends_with("\u{1b}[0m"),
                "{line:?}"
            );
        }
    }
}
