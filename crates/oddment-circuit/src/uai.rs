//! The open UAI text format: networks (preamble `BAYES`) and evidence.
//!
//! A network file lists the numbers of states, for each variable a scope whose last entry is the
//! variable itself, and the tables with the last variable fastest. An evidence file is a count
//! followed by pairs of variable and state numbers. Names are not part of the format; read
//! variables are called `x0`, `x1`, ... and their states `0`, `1`, ...

use crate::error::Error;
use crate::evidence::Evidence;
use crate::network::{
    Distribution, MAX_STATES, MAX_VARIABLES, Network, NetworkBuilder, VariableId,
};
use std::fmt::Write;

/// The most entries written when structured distributions are spelt out, all together.
const TABLE_LIMIT: usize = 1 << 22;

struct Words<'a> {
    document: &'static str,
    text: &'a str,
    at: usize,
    word_start: usize,
}

impl<'a> Words<'a> {
    fn new(document: &'static str, text: &'a str) -> Self {
        Self {
            document,
            text,
            at: 0,
            word_start: 0,
        }
    }

    fn fault(&self, message: String) -> Error {
        let before = &self.text[..self.word_start];
        let line = before.matches('\n').count() + 1;
        let start = before.rfind('\n').map_or(0, |newline| newline + 1);
        let column = before[start..].chars().count() + 1;
        Error::Syntax {
            document: self.document,
            line,
            column,
            message,
        }
    }

    fn word(&mut self) -> Option<&'a str> {
        let rest = &self.text[self.at..];
        let start = self.at + (rest.len() - rest.trim_start().len());
        let word = self.text[start..].split_whitespace().next();
        self.word_start = start;
        self.at = start + word.map_or(0, str::len);
        word
    }

    fn number<T: std::str::FromStr>(&mut self, what: &str) -> Result<T, Error> {
        match self.word() {
            None => Err(self.fault(format!("the file ends where {what} should stand"))),
            Some(word) => word
                .parse()
                .map_err(|_| self.fault(format!("`{word}` is not {what}"))),
        }
    }

    fn end(&mut self) -> Result<(), Error> {
        match self.word() {
            None => Ok(()),
            Some(word) => Err(self.fault(format!("`{word}` stands after the end"))),
        }
    }
}

impl Network {
    /// Reads a network in UAI format with the preamble `BAYES`.
    ///
    /// # Errors
    /// [`Error::Syntax`] with line and column, or the rule that the network breaks.
    ///
    /// ```
    /// let text = "BAYES\n2\n2 2\n2\n1 0\n2 0 1\n2 0.15 0.85\n4 0.8 0.2 0.2 0.8\n";
    /// let network = oddment_circuit::Network::from_uai("taxicab", text)?;
    /// assert_eq!(network.variables()[1].name, "x1");
    /// # Ok::<(), oddment_circuit::Error>(())
    /// ```
    pub fn from_uai(name: &str, text: &str) -> Result<Self, Error> {
        let mut words = Words::new("network", text);
        match words.word() {
            Some("BAYES") => {}
            Some(other) => {
                let message = format!("preamble `{other}` is not supported, must be `BAYES`");
                return Err(words.fault(message));
            }
            None => return Err(words.fault("the file is empty, must begin with `BAYES`".into())),
        }
        let count: usize = words.number("the number of variables")?;
        if count == 0 || count > MAX_VARIABLES {
            let message = format!("{count} variables; between 1 and {MAX_VARIABLES} are allowed");
            return Err(words.fault(message));
        }
        let mut builder = NetworkBuilder::new(name);
        let mut sizes = Vec::with_capacity(count);
        let mut total = 0;
        for index in 0..count {
            let states: usize = words.number("a number of states")?;
            if states == 0 || states > MAX_STATES {
                let message = format!("{states} states; between 1 and {MAX_STATES} are allowed");
                return Err(words.fault(message));
            }
            // Every state takes at least a digit and a space in some table.
            total += states;
            if total > text.len() {
                let message =
                    format!("{total} states so far; the file is too short for their tables");
                return Err(words.fault(message));
            }
            sizes.push(states);
            let names = (0..states).map(|state| state.to_string()).collect();
            builder.declare(format!("x{index}"), names)?;
        }
        let tables: usize = words.number("the number of tables")?;
        if tables != count {
            let message =
                format!("the number of tables is {tables}, must be {count}, one for each variable");
            return Err(words.fault(message));
        }
        let mut scopes: Vec<Vec<usize>> = Vec::with_capacity(count);
        for _ in 0..count {
            let length: usize = words.number("the length of a scope")?;
            if length == 0 || length > count {
                return Err(words.fault(format!(
                    "a scope of {length} variables; between 1 and {count} are possible"
                )));
            }
            let mut scope = Vec::new();
            for _ in 0..length {
                let variable: usize = words.number("a variable number")?;
                if variable >= count {
                    let message = format!(
                        "variable {variable} does not exist, the last is {}",
                        count - 1
                    );
                    return Err(words.fault(message));
                }
                scope.push(variable);
            }
            scopes.push(scope);
        }
        let mut defined = vec![false; count];
        for scope in &scopes {
            let entries: usize = words.number("the length of a table")?;
            let expected = scope
                .iter()
                .try_fold(1_usize, |size, v| size.checked_mul(sizes[*v]));
            if expected != Some(entries) {
                let expected = expected.map_or_else(
                    || "more than can be counted".into(),
                    |expected| expected.to_string(),
                );
                return Err(words.fault(format!(
                    "the table over the scope {scope:?} has length {entries}, must be {expected}"
                )));
            }
            let mut table = Vec::new();
            for _ in 0..entries {
                table.push(words.number::<f64>("a probability")?);
            }
            let Some((own, parents)) = scope.split_last() else {
                continue;
            };
            if std::mem::replace(&mut defined[*own], true) {
                return Err(words.fault(format!(
                    "variable {own} has two tables; each has exactly one"
                )));
            }
            let parents = parents
                .iter()
                .map(|parent| VariableId(*parent as u32))
                .collect();
            builder.define(VariableId(*own as u32), parents, Distribution::Table(table));
        }
        words.end()?;
        builder.finish()
    }

    /// Writes the network in UAI format; structured distributions are spelt out as tables.
    ///
    /// # Errors
    /// [`Error::Network`] for a likelihood variable, which the format cannot express, or for a
    /// table that would be too large.
    pub fn to_uai(&self) -> Result<String, Error> {
        let mut text = format!("BAYES\n{}\n", self.variables().len());
        let join = |numbers: Vec<String>| numbers.join(" ");
        let sizes = self
            .variables()
            .iter()
            .map(|variable| variable.states.len().to_string());
        let _ = writeln!(text, "{}", join(sizes.collect()));
        let _ = writeln!(text, "{}", self.variables().len());
        for id in self.ids() {
            let parents = &self.variable(id).parents;
            let scope = parents.iter().chain([&id]).map(|v| v.index().to_string());
            let _ = writeln!(text, "{} {}", parents.len() + 1, join(scope.collect()));
        }
        let mut left = TABLE_LIMIT;
        for id in self.ids() {
            let plain = matches!(self.variable(id).distribution, Distribution::Table(_));
            let limit = if plain { usize::MAX } else { left };
            let Some(table) = self.expanded_table(id, limit)? else {
                return Err(Error::Network {
                    variable: self.variable(id).name.clone(),
                    message: "is a likelihood, which the UAI format cannot express".into(),
                });
            };
            if !plain {
                left -= table.len();
            }
            let entries = table.iter().map(|entry| format!("{entry:?}"));
            let _ = writeln!(text, "\n{}\n{}", table.len(), join(entries.collect()));
        }
        Ok(text)
    }
}

impl Evidence {
    /// Reads evidence in UAI format: a count, then pairs of variable and state numbers.
    ///
    /// # Errors
    /// [`Error::Syntax`] with line and column.
    pub fn from_uai(network: &Network, text: &str) -> Result<Self, Error> {
        let mut words = Words::new("evidence", text);
        let count: usize = words.number("the number of observations")?;
        let mut evidence = Evidence::new();
        for _ in 0..count {
            let variable: usize = words.number("a variable number")?;
            if variable >= network.variables().len() {
                return Err(words.fault(format!(
                    "variable {variable} does not exist, the last is {}",
                    network.variables().len() - 1
                )));
            }
            let id = VariableId(variable as u32);
            if evidence.get(id).is_some() {
                return Err(words.fault(format!("variable {variable} is observed twice")));
            }
            let state: usize = words.number("a state number")?;
            evidence
                .observe(network, id, state)
                .map_err(|error| words.fault(error.to_string()))?;
        }
        words.end()?;
        Ok(evidence)
    }

    /// Writes evidence in UAI format.
    ///
    /// # Errors
    /// [`Error::Likelihood`] for an observation that is not of one state for certain, which the
    /// format cannot express.
    pub fn to_uai(&self, network: &Network) -> Result<String, Error> {
        let mut pairs = Vec::new();
        for (id, likelihood) in self.iter() {
            let possible: Vec<usize> = (0..likelihood.len())
                .filter(|state| likelihood[*state] > 0.0)
                .collect();
            match possible.as_slice() {
                [state] if likelihood[*state] == 1.0 && !network.variable(id).states.is_empty() => {
                    pairs.push(format!(" {} {state}", id.index()));
                }
                _ => {
                    let message = "is not of one state for certain, which is all that the UAI \
                                   format can express";
                    return Err(Error::Likelihood {
                        variable: network.variable(id).name.clone(),
                        message: message.into(),
                    });
                }
            }
        }
        Ok(format!("{}{}\n", pairs.len(), pairs.concat()))
    }
}
