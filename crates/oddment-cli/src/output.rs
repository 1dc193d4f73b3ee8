//! What a command leaves on standard output.

use crate::failure::{Failure, Status};
use std::io::{ErrorKind, Write};

/// The result of a command.
#[derive(Debug)]
pub(crate) struct Output {
    text: String,
    /// Written for people, with styles that only a terminal is shown.
    styled: bool,
    status: Status,
}

impl Output {
    /// Text for people.
    pub fn page(text: String) -> Self {
        Self {
            text,
            styled: true,
            status: Status::Done,
        }
    }

    /// Text for programs, written as it is.
    pub fn data(text: String) -> Self {
        Self {
            text,
            styled: false,
            status: Status::Done,
        }
    }

    /// Ends with another status.
    pub fn ending(self, status: Status) -> Self {
        Self { status, ..self }
    }

    /// Writes everything at once. A reader that went away is no failure.
    pub fn emit(self) -> Result<Status, Failure> {
        let bytes = self.text.as_bytes();
        let written = if self.styled {
            let mut stream = anstream::stdout();
            stream.write_all(bytes).and_then(|()| stream.flush())
        } else {
            let mut stream = std::io::stdout();
            stream.write_all(bytes).and_then(|()| stream.flush())
        };
        match written {
            Err(error) if error.kind() != ErrorKind::BrokenPipe => {
                Err(Failure::write("standard output", &error))
            }
            _ => Ok(self.status),
        }
    }
}
