//! A report before it is written out: sections of blocks, plain text throughout.
//!
//! Both forms are written from this, so they cannot say different things. No text here is escaped;
//! that is the business of whoever writes it out, once.

/// A whole report.
#[derive(Debug)]
pub(super) struct Document {
    /// What the piece is called.
    pub title: String,
    /// A line under the title.
    pub subtitle: String,
    /// In the order they are read.
    pub sections: Vec<Section>,
}

/// One numbered section.
#[derive(Debug)]
pub(super) struct Section {
    /// Unique in the document; an anchor.
    pub id: &'static str,
    /// With its number.
    pub title: String,
    /// What it says.
    pub blocks: Vec<Block>,
}

/// One piece of a section.
#[derive(Debug)]
pub(super) enum Block {
    /// A paragraph.
    Paragraph(String),
    /// A paragraph that nobody may overlook, with its headline.
    Loud(String, String),
    /// A remark on how to read what stands before it.
    Aside(String),
    /// A heading within the section.
    Heading(String),
    /// A paragraph with a label run in.
    Entry(String, String),
    /// Short texts, one below another.
    List(Vec<String>),
    /// A table.
    Table(Table),
    /// Pictures that belong together; what they show always stands in words or a table as well.
    Figure {
        /// SVG elements, ready to be written out.
        pictures: Vec<String>,
        /// Below them.
        caption: String,
    },
    /// Labels with room to write by hand.
    Blanks(Vec<&'static str>),
}

/// A table.
#[derive(Debug)]
pub(super) struct Table {
    /// What it shows; empty below a heading that says so.
    pub caption: String,
    /// Titles of the columns.
    pub head: Vec<String>,
    /// As many cells in each row as there are titles.
    pub rows: Vec<Vec<Cell>>,
}

/// A cell.
#[derive(Debug)]
pub(super) enum Cell {
    /// Words.
    Text(String),
    /// A figure, set to the right.
    Figure(String),
    /// What came of looking.
    Mark(Mark),
}

/// What came of looking, told by four marks that stay apart in any print.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// Found.
    Found,
    /// Looked for and not there.
    NotThere,
    /// Could not be looked at.
    NoAccess,
    /// Not looked at.
    NotLooked,
}

impl Table {
    /// Whether a column holds figures.
    pub fn is_figures(&self, column: usize) -> bool {
        let first = self.rows.first().and_then(|cells| cells.get(column));
        matches!(first, Some(Cell::Figure(_)))
    }
}

impl Mark {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Found, Self::NotThere, Self::NoAccess, Self::NotLooked];
}

impl Document {
    /// Text that cannot steer what shows it: control characters and marks that turn the reading
    /// direction round are replaced, runs of white space made single.
    pub fn clean(text: &str) -> String {
        let mut clean = String::with_capacity(text.len());
        for word in text.split_whitespace() {
            if !clean.is_empty() {
                clean.push(' ');
            }
            clean.extend(word.chars().map(|c| match c {
                '\u{200e}' | '\u{200f}' | '\u{61c}' => '\u{fffd}',
                '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => '\u{fffd}',
                // Not characters, which HTML forbids.
                '\u{fdd0}'..='\u{fdef}' => '\u{fffd}',
                c if u32::from(c) & 0xfffe == 0xfffe => '\u{fffd}',
                c if c.is_control() => '\u{fffd}',
                c => c,
            }));
        }
        clean
    }
}

/// A cell of words.
pub(super) fn text(text: impl Into<String>) -> Cell {
    Cell::Text(text.into())
}

/// A cell with a figure.
pub(super) fn figure(text: impl Into<String>) -> Cell {
    Cell::Figure(text.into())
}

/// Titles of columns.
pub(super) fn head(titles: &[&str]) -> Vec<String> {
    titles.iter().map(|title| (*title).to_owned()).collect()
}
