//! The `oddment` command: how likely each rival history of a piece of furniture is, given what
//! was found on it.
//!
//! Everything is computed by the `oddment` library; this crate reads files, lays results out for
//! people and says what is wrong with an input and where. Nothing but the result goes to standard
//! output; errors go to standard error.
//!
//! # Exit status
//!
//! | status | meaning |
//! | --- | --- |
//! | 0 | done |
//! | 1 | `lint` found something doubtful in a pack that loads |
//! | 2 | wrong usage |
//! | 3 | a case, pack or library is not as it must be |
//! | 4 | the findings cannot be true together |
//! | 5 | a file cannot be read or written |
//! | 6 | the model cannot be compiled, as a rule because it is too large |
//! | 130 | stopped by Ctrl-C before there was anything to show |
//!
//! A reader that closes the pipe early (`oddment signs FORM | head`) is no error.

mod arguments;
mod commands;
mod failure;
mod frame;
mod input;
mod output;
mod page;
mod report;
mod words;

use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments = arguments::Arguments::parse();
    let done = commands::run(&arguments.command).and_then(|output| output.emit());
    match done {
        Ok(status) => status.into(),
        Err(failure) => {
            failure.show();
            failure.status.into()
        }
    }
}
