//! Steps under headings, each timed; the first failure ends the run.

use crate::Result;
use std::time::{Duration, Instant};

/// What became of a step that did not fail.
#[derive(Debug)]
pub enum Outcome {
    /// All held.
    Passed,
    /// Not done, and why.
    Skipped(String),
}

/// The steps done so far.
#[derive(Debug)]
pub struct Steps {
    start: Instant,
    done: Vec<(String, Duration, String)>,
    skipped: usize,
}

impl Steps {
    /// Nothing done yet.
    pub fn new() -> Self {
        Self {
            start: Instant::now(),
            done: Vec::new(),
            skipped: 0,
        }
    }

    /// Does a step; once it fails, lists everything and returns the failure.
    pub fn step(&mut self, name: &str, work: impl FnOnce() -> Result<Outcome>) -> Result {
        println!("\n==== {}. {name}\n", self.done.len() + 1);
        let start = Instant::now();
        let outcome = work();
        let took = start.elapsed();
        let (word, failure) = match outcome {
            Ok(Outcome::Passed) => ("passed".to_owned(), None),
            Ok(Outcome::Skipped(why)) => {
                self.skipped += 1;
                println!("NOTE: left out: {why}");
                let first = why.lines().next().unwrap_or_default();
                (format!("left out: {first}"), None)
            }
            Err(message) => ("FAILED".to_owned(), Some(message)),
        };
        println!("\n{name}: {word}, {:.1} s", took.as_secs_f64());
        self.done.push((name.to_owned(), took, word));
        match failure {
            None => Ok(()),
            Some(message) => {
                self.list(1);
                Err(format!("{name}: {message}"))
            }
        }
    }

    /// Lists all steps.
    pub fn finish(&self) {
        self.list(0);
    }

    fn list(&self, failed: usize) {
        println!("\n==== Steps\n");
        for (name, took, word) in &self.done {
            println!("{:>8.1} s  {name}: {word}", took.as_secs_f64());
        }
        println!("{:>8.1} s  in all\n", self.start.elapsed().as_secs_f64());
        let passed = self.done.len() - failed - self.skipped;
        println!("{passed} passed, {failed} failed, {} skipped", self.skipped);
    }
}
