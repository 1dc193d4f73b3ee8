//! What went wrong, for people: the problem, the offending line with a caret, the place.

use crate::input::Source;
use crate::page::{clean, tidy};
use anstyle::{AnsiColor, Style};
use oddment::{Error, Problem};
use std::fmt::Write as _;
use std::io::{ErrorKind, Write as _};
use std::process::ExitCode;

const LABEL: Style = Style::new()
    .bold()
    .fg_color(Some(anstyle::Color::Ansi(AnsiColor::Red)));
const FAINT: Style = Style::new().dimmed();

/// The widest stretch of a source line shown.
const EXCERPT_WIDTH: usize = 76;

/// How the command ends (see the crate's documentation).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Status {
    Done = 0,
    Doubtful = 1,
    Usage = 2,
    Invalid = 3,
    Impossible = 4,
    File = 5,
    Compile = 6,
    Stopped = 130,
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(status as u8)
    }
}

/// Something that stopped a command.
#[derive(Debug)]
pub(crate) struct Failure {
    pub status: Status,
    complaints: Vec<Complaint>,
}

/// One thing to put right.
#[derive(Debug)]
struct Complaint {
    message: String,
    code: &'static str,
    /// Further lines, one for each thing involved.
    details: Vec<String>,
    place: Option<Place>,
}

#[derive(Debug)]
struct Place {
    file: String,
    line: usize,
    column: usize,
    /// The whole offending line.
    source: String,
}

impl Failure {
    /// What the library refuses, with the texts it was given.
    pub fn engine(error: &Error, sources: &[&Source]) -> Self {
        let plain = |status, message: String, details| Self {
            status,
            complaints: vec![Complaint {
                message,
                code: error.code(),
                details,
                place: None,
            }],
        };
        match error {
            Error::Invalid(problems) => Self {
                status: Status::Invalid,
                complaints: problems
                    .iter()
                    .map(|problem| Complaint::placed(problem, sources))
                    .collect(),
            },
            Error::Impossible { contradiction } => plain(
                Status::Impossible,
                "these findings cannot be true together, whatever happened to the piece; look \
                 again, or say how sure you are"
                    .to_owned(),
                contradiction.clone(),
            ),
            Error::UnknownHistory { .. }
            | Error::UnknownNumber { .. }
            | Error::UnknownClaim { .. }
            | Error::NoOdds { .. } => plain(Status::Usage, error.to_string(), Vec::new()),
            // What the case says of the stakes.
            Error::Decide(_) => plain(Status::Invalid, error.to_string(), Vec::new()),
            // The list of kinds is open; what is left concerns the building of the model.
            other => plain(Status::Compile, other.to_string(), Vec::new()),
        }
    }

    /// Values on the command line that do not go together: code and message of each problem.
    pub fn usage(problems: impl IntoIterator<Item = (&'static str, String)>) -> Self {
        let complaint = |(code, message)| Complaint {
            message,
            code,
            details: Vec::new(),
            place: None,
        };
        Self {
            status: Status::Usage,
            complaints: problems.into_iter().map(complaint).collect(),
        }
    }

    /// Ended by the user before there was anything to show.
    pub fn stopped(message: &str) -> Self {
        Self::file(Status::Stopped, "stopped", message.to_owned())
    }

    /// A text that is not even text.
    pub fn unreadable(name: &str, message: String) -> Self {
        Self::file(Status::Invalid, "file/text", format!("`{name}` {message}"))
    }

    /// A file that cannot be read.
    pub fn read(name: &str, error: &std::io::Error) -> Self {
        let message = format!("cannot read `{name}`: {}", reason(error));
        Self::file(Status::File, "file/read", message)
    }

    /// A file that cannot be written.
    pub fn write(name: &str, error: &std::io::Error) -> Self {
        let message = format!("cannot write `{name}`: {}", reason(error));
        Self::file(Status::File, "file/write", message)
    }

    fn file(status: Status, code: &'static str, message: String) -> Self {
        Self {
            status,
            complaints: vec![Complaint {
                message,
                code,
                details: Vec::new(),
                place: None,
            }],
        }
    }

    /// Writes it to standard error; when that is closed too there is nobody left to tell.
    pub fn show(&self) {
        let _ = anstream::stderr().write_all(self.text().as_bytes());
    }

    fn text(&self) -> String {
        let mut text = String::new();
        for complaint in &self.complaints {
            complaint.write(&mut text);
        }
        if self.complaints.len() > 1 {
            let _ = writeln!(text, "{} problems", self.complaints.len());
        }
        text
    }
}

impl Complaint {
    fn placed(problem: &Problem, sources: &[&Source]) -> Self {
        let place = (problem.line > 0).then(|| {
            // The library keeps only the beginning of a long line.
            let whole = sources
                .iter()
                .find(|source| source.name == problem.file)
                .and_then(|source| source.content.lines().nth(problem.line - 1));
            Place {
                file: problem.file.clone(),
                line: problem.line,
                column: problem.column,
                source: whole.unwrap_or(&problem.excerpt).to_owned(),
            }
        });
        let message = if place.is_none() && !problem.file.is_empty() {
            format!("{}: {}", problem.file, problem.message)
        } else {
            problem.message.clone()
        };
        Self {
            message,
            code: problem.code,
            details: Vec::new(),
            place,
        }
    }

    fn write(&self, text: &mut String) {
        let Self {
            message,
            code,
            details,
            place,
        } = self;
        let message = tidy(message);
        let code = format!("{FAINT}[{code}]{FAINT:#}");
        let Some(place) = place else {
            let _ = writeln!(text, "{LABEL}error:{LABEL:#} {message} {code}");
            for detail in details {
                let _ = writeln!(text, "  {}", tidy(detail));
            }
            return;
        };
        let _ = writeln!(text, "{LABEL}error:{LABEL:#} {message}");
        if !place.source.trim().is_empty() {
            let (line, caret) = place.excerpt();
            let _ = writeln!(text, "  {line}");
            let _ = writeln!(text, "  {}{LABEL}^{LABEL:#}", " ".repeat(caret));
        }
        let file = clean(&place.file);
        let _ = writeln!(text, "  {file}:{}:{} {code}", place.line, place.column);
    }
}

impl Place {
    /// The part of the line around the column, and how far in the caret stands.
    fn excerpt(&self) -> (String, usize) {
        let line: Vec<char> = clean(&self.source).chars().collect();
        let column = self.column.saturating_sub(1).min(line.len());
        let from = if line.len() <= EXCERPT_WIDTH || column < EXCERPT_WIDTH / 2 {
            0
        } else {
            column - EXCERPT_WIDTH / 4
        };
        let to = line.len().min(from + EXCERPT_WIDTH);
        let mark = |cut: bool| if cut { "..." } else { "" };
        let part = |range: &[char]| range.iter().collect::<String>();
        let before = format!("{}{}", mark(from > 0), part(&line[from..column]));
        let after = format!("{}{}", part(&line[column..to]), mark(to < line.len()));
        let caret = textwrap::core::display_width(&before);
        (before + &after, caret)
    }
}

/// Why a file could not be used, without the system's number for it.
fn reason(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::PermissionDenied => "you are not allowed to".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::StorageFull => "there is no room left".to_owned(),
        _ => error.to_string(),
    }
}
