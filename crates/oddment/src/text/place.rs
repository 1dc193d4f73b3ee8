//! Where in a text something stands, and the problems found there.

use super::tree::{Node, Step};
use super::{Text, words};
use crate::error::Problem;
use crate::order::sort_by;
use std::collections::BTreeMap;

/// The most problems reported at once.
const MAX_PROBLEMS: usize = 50;

/// The longest line shown whole.
const MAX_EXCERPT: usize = 200;

/// Where something stands: a path in one of the texts, and further places to look when the path
/// does not exist there (an entry composed from two files).
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct At {
    candidates: Vec<(usize, Vec<Step>)>,
}

impl At {
    pub fn root(text: usize) -> Self {
        Self {
            candidates: vec![(text, Vec::new())],
        }
    }

    pub fn or(mut self, other: Self) -> Self {
        self.candidates.extend(other.candidates);
        self
    }

    pub fn then(&self, step: impl Into<Step>) -> Self {
        let step = step.into();
        let mut next = self.clone();
        for (_, path) in &mut next.candidates {
            path.push(step.clone());
        }
        next
    }

    /// Only the first place to look.
    pub fn own(&self) -> Self {
        Self {
            candidates: self.candidates.first().cloned().into_iter().collect(),
        }
    }

    /// A path as written in a message, such as `parts[1].density.sd`.
    pub fn along(&self, path: &str) -> Self {
        let steps = path.split(['.', '[', ']']).filter(|step| !step.is_empty());
        steps.fold(self.clone(), |at, step| match step.parse::<usize>() {
            Ok(item) => at.then(item),
            Err(_) => at.then(step),
        })
    }
}

/// Collects problems and places them.
#[derive(Debug)]
pub(crate) struct Problems<'a> {
    texts: Vec<(Text<'a>, Option<Node<'a>>)>,
    found: Vec<(usize, Problem)>,
    /// Entries that were written in one text and joined to another: where they are now, and where
    /// they were written.
    moved: BTreeMap<(usize, Vec<Step>), (usize, Vec<Step>)>,
}

impl<'a> Problems<'a> {
    pub fn new(texts: Vec<Text<'a>>) -> Self {
        Self {
            texts: texts.into_iter().map(|text| (text, None)).collect(),
            found: Vec::new(),
            moved: BTreeMap::new(),
        }
    }

    /// Says that what is now at one place was written at another.
    pub fn moved(&mut self, now: &At, written: &At) {
        if let (Some(now), Some(written)) = (now.candidates.first(), written.candidates.first()) {
            self.moved.insert(now.clone(), written.clone());
        }
    }

    /// The place where what is at a place was written.
    fn written(&self, at: &At) -> At {
        if self.moved.is_empty() {
            return at.clone();
        }
        let written = |(text, path): &(usize, Vec<Step>)| {
            let longest = (0..=path.len()).rev().find_map(|length| {
                let key = (*text, path[..length].to_vec());
                Some((length, self.moved.get(&key)?))
            });
            match longest {
                Some((length, (text, start))) => {
                    let path = start.iter().chain(&path[length..]).cloned().collect();
                    (*text, path)
                }
                None => (*text, path.clone()),
            }
        };
        At {
            candidates: at.candidates.iter().map(written).collect(),
        }
    }

    /// Where something stands, for another place's message: file and line.
    pub fn stands(&mut self, at: &At) -> String {
        let at = self.written(at);
        let Some((text, path)) = at.candidates.first() else {
            return String::new();
        };
        let (offset, _) = self.locate(*text, path);
        let text = self.texts[*text].0;
        let line = text
            .content
            .get(..offset)
            .unwrap_or("")
            .matches('\n')
            .count()
            + 1;
        format!("{}:{line}", text.name)
    }

    /// Whether there are as many problems as are reported at once.
    pub fn full(&self) -> bool {
        self.found.len() >= MAX_PROBLEMS
    }

    /// Notes a problem at a place.
    pub fn note(&mut self, at: &At, code: &'static str, message: impl Into<String>) {
        if self.full() {
            return;
        }
        let at = &self.written(at);
        let whole = at.candidates.iter().find_map(|(text, path)| {
            let (offset, whole) = self.locate(*text, path);
            whole.then_some((*text, offset))
        });
        let (text, offset) = whole.unwrap_or_else(|| match at.candidates.first() {
            Some((text, path)) => (*text, self.locate(*text, path).0),
            None => (0, 0),
        });
        self.put(text, offset, code, message.into());
    }

    /// Notes that an id does not resolve.
    pub fn unknown<'i>(
        &mut self,
        at: &At,
        code: &'static str,
        (what, given): (&str, &str),
        valid: impl Iterator<Item = &'i str> + Clone,
    ) {
        if !self.full() {
            // Many suggestions need not all be the best ones.
            let most_compared = words::MAX_COMPARED / (1 + self.found.len());
            let message = words::unknown((what, given), valid, most_compared);
            self.note(at, code, message);
        }
    }

    /// Where a number that stands at a place gets a field (`strength`, `source`) from: itself, its
    /// entry, or the defaults of its file.
    pub fn provenance(&mut self, at: &At, field: &str) -> At {
        let at = &self.written(at);
        let own = at
            .candidates
            .iter()
            .find(|(text, path)| self.locate(*text, path).1)
            .or(at.candidates.first());
        let Some((text, path)) = own else {
            return at.clone();
        };
        let entry = path.iter().take(2).cloned().collect();
        [path.clone(), entry, vec!["defaults".into()]]
            .into_iter()
            .map(|path| {
                At {
                    candidates: vec![(*text, path)],
                }
                .then(field)
            })
            .reduce(At::or)
            .unwrap_or_else(|| at.clone())
    }

    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// The problems in the order of the texts.
    pub fn finish(mut self) -> Vec<Problem> {
        let place = |(text, problem): &(usize, Problem)| (*text, problem.line, problem.column);
        sort_by(&mut self.found, |one, other| place(one).cmp(&place(other)));
        self.found.into_iter().map(|(_, problem)| problem).collect()
    }

    fn put(&mut self, text: usize, offset: usize, code: &'static str, message: String) {
        let problem = problem_at(&self.texts[text].0, offset, code, &message);
        if !self.found.iter().any(|(_, known)| *known == problem) {
            self.found.push((text, problem));
        }
    }

    fn locate(&mut self, text: usize, path: &[Step]) -> (usize, bool) {
        let (text, document) = &mut self.texts[text];
        document
            .get_or_insert_with(|| Node::read(text).0)
            .locate(path)
    }
}

/// A problem at an offset of a text.
pub(super) fn problem_at(
    text: &Text<'_>,
    offset: usize,
    code: &'static str,
    message: &str,
) -> Problem {
    let before = text.content.get(..offset).unwrap_or("");
    let start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let excerpt = text.content[start..].lines().next().unwrap_or("");
    Problem {
        code,
        file: text.name.to_owned(),
        line: before.matches('\n').count() + 1,
        column: before[start..].chars().count() + 1,
        message: words::readable(message),
        excerpt: excerpt.chars().take(MAX_EXCERPT).collect(),
    }
}
