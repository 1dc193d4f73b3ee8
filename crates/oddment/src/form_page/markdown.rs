//! Writing Markdown, and numbers of a pack with their ids in it.

use crate::pack::{Domain, NumberId, Pack};
use crate::text::figure;

/// A page being written.
#[derive(Debug)]
pub(super) struct Page<'p> {
    pub pack: &'p Pack,
    text: String,
}

/// Numbers that stand in one row of a table under a label: one, or one for each level.
pub(super) type Row = (String, Vec<NumberId>);

impl<'p> Page<'p> {
    pub fn new(pack: &'p Pack) -> Self {
        Self {
            pack,
            text: String::new(),
        }
    }

    pub fn finish(self) -> String {
        self.text.trim_end().to_owned() + "\n"
    }

    pub fn heading(&mut self, level: usize, title: &str) {
        self.paragraph(&format!("{} {title}", "#".repeat(level)));
    }

    /// A paragraph; nothing where there is no text.
    pub fn paragraph(&mut self, text: &str) {
        let text = one_line(text);
        if !text.is_empty() {
            self.text += &format!("{text}\n\n");
        }
    }

    /// A list; nothing where there are no items.
    pub fn list(&mut self, items: impl IntoIterator<Item = String>) {
        let mut any = false;
        for item in items {
            self.text += &format!("- {}\n", one_line(&item));
            any = true;
        }
        if any {
            self.text.push('\n');
        }
    }

    /// A block of code, kept as it is.
    pub fn code(&mut self, language: &str, code: &str) {
        self.text += &format!("```{language}\n{}\n```\n\n", code.trim_end());
    }

    /// A table; columns of figures are those whose head begins with a space.
    pub fn table(&mut self, head: &[String], rows: &[Vec<String>]) {
        let line = |cells: &[String]| {
            let cells: Vec<String> = cells.iter().map(|cell| cell_text(cell)).collect();
            format!("| {} |\n", cells.join(" | "))
        };
        let rule = head.iter().map(|title| {
            if title.starts_with(' ') {
                "---:"
            } else {
                "---"
            }
            .to_owned()
        });
        let rule: Vec<String> = rule.collect();
        self.text += &line(head);
        self.text += &line(&rule);
        rows.iter().for_each(|row| self.text += &line(row));
        self.text.push('\n');
    }

    /// A table of numbers with their ids, and below it what they are worth and rest on; nothing
    /// where there are no rows.
    pub fn numbers(&mut self, what: &str, columns: &[String], rows: &[Row]) {
        if rows.is_empty() {
            return;
        }
        let ids: Vec<NumberId> = rows.iter().flat_map(|(_, ids)| ids.clone()).collect();
        let usual = self.usual(&ids);
        let deviates = |row: &Row| row.1.iter().any(|id| self.stands(*id) != usual);
        let any = rows.iter().any(deviates);
        let mut head = vec![what.to_owned()];
        head.extend(columns.iter().map(|column| format!(" {column}")));
        head.push("number".to_owned());
        if any {
            head.push("otherwise".to_owned());
        }
        let lines: Vec<Vec<String>> = rows
            .iter()
            .map(|row| {
                let mut cells = vec![row.0.clone()];
                cells.extend(row.1.iter().map(|id| self.value(*id)));
                cells.push(self.ids(&row.1));
                if any {
                    let worth = row.1.first().map(|id| worth(self.pack, self.stands(*id)));
                    let told = worth.filter(|_| deviates(row));
                    cells.push(told.unwrap_or_default());
                }
                cells
            })
            .collect();
        self.table(&head, &lines);
        let unless = match any {
            true => ", unless a row says otherwise",
            false => "",
        };
        self.paragraph(&format!("{}{unless}.", worth(self.pack, usual)));
    }

    /// One number in a sentence: its value, id and worth.
    pub fn number(&self, id: NumberId) -> String {
        self.told(id, &self.value(id))
    }

    /// As [`Page::number`], of a number that is a chance, whatever values it may take.
    pub fn chance(&self, id: NumberId) -> String {
        let mean = self.pack.number(id);
        self.told(id, &format!("{} in 100", figure(100.0 * mean)))
    }

    fn told(&self, id: NumberId, value: &str) -> String {
        let worth = worth(self.pack, self.stands(id));
        let worth = worth.replacen("Worth", "worth", 1);
        format!("{value} ({}; {worth})", self.ids(&[id]))
    }

    /// Strength and source.
    fn stands(&self, id: NumberId) -> (f64, usize) {
        let number = &self.pack.numbers[id.index()];
        (number.strength, number.source)
    }

    /// The strength and source that most of these have, the first of them where several do.
    fn usual(&self, ids: &[NumberId]) -> (f64, usize) {
        let mut best = ((0.0, 0), 0);
        for id in ids {
            let stands = self.stands(*id);
            let count = ids
                .iter()
                .filter(|other| self.stands(**other) == stands)
                .count();
            if count > best.1 {
                best = (stands, count);
            }
        }
        best.0
    }

    /// A chance in 100, anything else as it is.
    fn value(&self, id: NumberId) -> String {
        let number = &self.pack.numbers[id.index()];
        let shown = match number.domain {
            Domain::Chance => figure(100.0 * number.mean),
            _ => figure(number.mean),
        };
        match number.structural {
            true => format!("{shown} (by nature)"),
            false => shown,
        }
    }

    /// Ids of numbers; of one row, the first whole and of the others only what is different.
    fn ids(&self, ids: &[NumberId]) -> String {
        let all = ids
            .iter()
            .map(|id| self.pack.numbers[id.index()].id.as_str());
        let shown = all
            .enumerate()
            .map(|(place, id)| match id.rsplit_once('/') {
                Some((_, level)) if place > 0 => format!("`/{level}`"),
                _ => format!("`{id}`"),
            });
        shown.collect::<Vec<String>>().join(" ")
    }

    /// Rows of numbers by the selector they were written under, each once, in the order of the
    /// histories.
    pub fn by_selector(&self, prefix: &str, numbers: &[Vec<NumberId>]) -> Vec<Row> {
        let mut rows: Vec<Row> = Vec::new();
        for ids in numbers {
            let Some(first) = ids.first() else { continue };
            if rows.iter().any(|(_, known)| known == ids) {
                continue;
            }
            let id = &self.pack.numbers[first.index()].id;
            let rest = id.strip_prefix(prefix).unwrap_or(id);
            let selector = match ids.len() {
                1 => rest,
                _ => rest.rsplit_once('/').map_or(rest, |(selector, _)| selector),
            };
            rows.push((format!("`{selector}`"), ids.clone()));
        }
        rows
    }
}

/// What numbers are worth and rest on, as a sentence without its stop.
pub(super) fn worth(pack: &Pack, (strength, source): (f64, usize)) -> String {
    let pieces = match strength {
        1.0 => "1 piece".to_owned(),
        many => format!("{} pieces", figure(many)),
    };
    format!("Worth {pieces}; source {}", cite(pack, source))
}

/// A source, linked.
pub(super) fn cite(pack: &Pack, source: usize) -> String {
    let id = pack.sources.get(source).map_or("", |source| &source.id);
    format!("[{id}](#source-{id})")
}

/// Text on one line.
pub(super) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<&str>>().join(" ")
}

/// Text within a cell of a table.
fn cell_text(text: &str) -> String {
    one_line(text).replace('|', "\\|")
}

/// With a full stop to end with.
pub(super) fn stopped(text: &str) -> String {
    let text = text.trim();
    if text.is_empty() || text.ends_with(['.', '!', '?']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}
