//! A document written out as plain Markdown.

use super::document::{Block, Cell, Document, Table};
use super::words;

pub(super) fn render(document: &Document) -> String {
    let mut page = format!("# {}\n", escape(&document.title));
    paragraph(&mut page, &line(&document.subtitle));
    for section in &document.sections {
        page.push_str(&format!("\n## {}\n", escape(&section.title)));
        for piece in &section.blocks {
            block(&mut page, piece);
        }
    }
    page
}

fn paragraph(page: &mut String, text: &str) {
    page.push('\n');
    page.push_str(text);
    page.push('\n');
}

fn block(page: &mut String, block: &Block) {
    match block {
        Block::Paragraph(text) | Block::Aside(text) => paragraph(page, &line(text)),
        Block::Loud(headline, text) => {
            paragraph(page, &format!("**{}**", escape(headline)));
            paragraph(page, &format!("**{}**", escape(text)));
        }
        Block::Heading(text) => paragraph(page, &format!("### {}", escape(text))),
        Block::Entry(label, text) => {
            paragraph(page, &format!("**{}** {}", escape(label), escape(text)));
        }
        Block::List(texts) => {
            let items: Vec<String> = texts
                .iter()
                .map(|text| format!("- {}", line(text)))
                .collect();
            if !items.is_empty() {
                paragraph(page, &items.join("\n"));
            }
        }
        Block::Table(table) => rows(page, table),
        // What a picture shows stands beside it in words.
        Block::Figure { .. } => {}
        Block::Blanks(labels) => {
            for label in labels {
                paragraph(page, &format!("{}: {}", escape(label), "\\_".repeat(30)));
            }
        }
    }
}

fn rows(page: &mut String, table: &Table) {
    if !table.caption.is_empty() {
        paragraph(page, &format!("*{}*", escape(&table.caption)));
    }
    page.push('\n');
    let titles: Vec<String> = table.head.iter().map(|title| escape(title)).collect();
    row(page, &titles);
    let rules: Vec<String> = (0..table.head.len())
        .map(|column| {
            if table.is_figures(column) {
                "---:"
            } else {
                "---"
            }
            .to_owned()
        })
        .collect();
    row(page, &rules);
    for cells in &table.rows {
        let cells: Vec<String> = cells
            .iter()
            .map(|cell| match cell {
                Cell::Text(text) | Cell::Figure(text) => escape(text),
                Cell::Mark(mark) => escape(words::mark(*mark)),
            })
            .collect();
        row(page, &cells);
    }
}

fn row(page: &mut String, cells: &[String]) {
    page.push_str(&format!("| {} |\n", cells.join(" | ")));
}

/// Text that stays text at the beginning of a line, where more is markup than elsewhere.
fn line(text: &str) -> String {
    let text = escape(text);
    let number = text.chars().take_while(char::is_ascii_digit).count();
    let rest = &text[number..];
    match rest.chars().next() {
        // These would make a list or a rule.
        Some('-' | '+' | '=') if number == 0 => format!("\\{text}"),
        Some('.' | ')') if number > 0 => format!("{}\\{rest}", &text[..number]),
        _ => text,
    }
}

/// Text that stays text within a line: nothing in it is markup or ends a table cell.
fn escape(text: &str) -> String {
    let clean = Document::clean(text);
    let mut escaped = String::with_capacity(clean.len());
    for (place, c) in clean.char_indices() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '~' | '#' | '!' | '$' => {
                escaped.push('\\');
                escaped.push(c);
            }
            // Addresses are not to become links by themselves.
            ':' if clean[place..].starts_with("://") => escaped.push_str("&#58;"),
            '@' => escaped.push_str("&#64;"),
            'w' | 'W'
                if clean[place..]
                    .get(..4)
                    .is_some_and(|w| w.eq_ignore_ascii_case("www.")) =>
            {
                escaped.push_str(if c == 'w' { "&#119;" } else { "&#87;" });
            }
            c => escaped.push(c),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::{escape, line};

    #[test]
    fn text_stays_text() {
        for (text, escaped) in [
            ("a | b", "a \\| b"),
            ("<b>&", "&lt;b&gt;&amp;"),
            ("two\n\n# lines", "two \\# lines"),
            ("![x](y)", "\\!\\[x\\](y)"),
            ("http://x", "http&#58;//x"),
            ("www.x", "&#119;ww.x"),
        ] {
            assert_eq!(escape(text), escaped);
        }
        for (text, escaped) in [
            ("- no list", "\\- no list"),
            ("12. no list", "12\\. no list"),
            ("in 12. line", "in 12. line"),
        ] {
            assert_eq!(line(text), escaped);
        }
    }
}
