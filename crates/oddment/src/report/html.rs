//! A document written out as one HTML page.

use super::charts;
use super::document::{Block, Cell, Document, Section, Table};
use super::words;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Paper and ink; one line weight; nothing that needs a background to be printed.
const STYLE: &str = include_str!("report.css");

/// Tables with more columns than this are laid out row by row on a narrow screen.
const NARROW: usize = 2;

/// A longer word may be broken anywhere.
const LONG_WORD: usize = 24;

pub(super) fn render(document: &Document) -> String {
    let title = Document::clean(&document.title);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light";
                title { (words::PAGE_TITLE) ": " (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main {
                    header {
                        p.kind { (words::PAGE_TITLE) }
                        h1 dir="auto" { (title) }
                        p.subtitle { (said(&document.subtitle)) }
                    }
                    @for part in &document.sections { (section(part)) }
                }
            }
        }
    };
    page.into_string() + "\n"
}

fn section(part: &Section) -> Markup {
    html! {
        section aria-labelledby=(part.id) {
            h2 id=(part.id) { (part.title) }
            @for piece in &part.blocks { (block(piece)) }
        }
    }
}

/// A text, its reading direction kept to itself where it is not plain Latin.
fn said(text: &str) -> Markup {
    let text = Document::clean(text);
    html! {
        @if text.chars().all(|c| c < '\u{590}' || ('\u{2000}'..'\u{2c00}').contains(&c)) {
            (text)
        } @else {
            bdi { (text) }
        }
    }
}

fn block(block: &Block) -> Markup {
    match block {
        Block::Paragraph(text) => html! { p { (said(text)) } },
        Block::Loud(headline, text) => html! {
            div.loud role="note" {
                p.headline { (said(headline)) }
                p { (said(text)) }
            }
        },
        Block::Aside(text) => html! { p.aside { (said(text)) } },
        Block::Heading(text) => html! { h3 { (said(text)) } },
        Block::Entry(label, text) => html! {
            p.entry { b { (said(label)) } " " (said(text)) }
        },
        Block::List(texts) => html! {
            ul { @for text in texts { li { (said(text)) } } }
        },
        Block::Table(table) => rows(table),
        Block::Figure { pictures, caption } => html! {
            figure {
                div.pictures { @for picture in pictures { (PreEscaped(picture)) } }
                figcaption { (said(caption)) }
            }
        },
        Block::Blanks(labels) => html! {
            div.blanks { @for label in labels { p { span { (label) } } } }
        },
    }
}

fn rows(table: &Table) -> Markup {
    let wide = table.head.len() > NARROW;
    html! {
        // The roles hold when a narrow screen lays the rows out as blocks.
        table.wide[wide] role="table" {
            @if !table.caption.is_empty() { caption { (said(&table.caption)) } }
            thead role="rowgroup" {
                tr role="row" {
                    @for (column, title) in table.head.iter().enumerate() {
                        th.figure[table.is_figures(column)] scope="col" role="columnheader" {
                            (title)
                        }
                    }
                }
            }
            tbody role="rowgroup" {
                @for row in &table.rows {
                    tr role="row" {
                        @for (title, content) in table.head.iter().zip(row) {
                            (cell(title, content))
                        }
                    }
                }
            }
        }
    }
}

/// Whether a word may have to be broken to fit into its column.
fn has_long_word(text: &str) -> bool {
    text.split_whitespace()
        .any(|word| word.chars().count() > LONG_WORD)
}

/// The content of a cell, which stays without any when there is nothing to say.
fn filled(content: Markup) -> Markup {
    html! { @if !content.0.is_empty() { span { (content) } } }
}

fn cell(title: &str, cell: &Cell) -> Markup {
    match cell {
        Cell::Text(text) => html! {
            td.long[has_long_word(text)] role="cell" data-label=(title) { (filled(said(text))) }
        },
        Cell::Figure(text) => html! {
            td.figure role="cell" data-label=(title) { (filled(html! { (text) })) }
        },
        Cell::Mark(mark) => html! {
            td.mark role="cell" data-label=(title) {
                span { (PreEscaped(charts::mark(*mark))) }
            }
        },
    }
}
