//! `oddment report`: the report of a case, for a client and for the file.

use crate::arguments::{ReportFile, ReportForm};
use crate::failure::Failure;
use crate::output::Output;
use oddment::argument::Argument;
use oddment::leaning::Leaning;
use oddment::outlook::Outlook;
use oddment::report::{self, ReportParts};
use oddment::{Assessment, Case, Pack};
use std::io::{Error, ErrorKind};
use std::path::Path;

pub(super) fn run(
    pack: &Pack,
    case: &Case,
    source: &Path,
    output: Option<&ReportFile>,
) -> Result<Output, Failure> {
    if let Some(file) = output {
        may_write(&file.path, source)?;
    }
    let assessment = oddment::assess(pack, case).map_err(|error| Failure::engine(&error, &[]))?;
    let further = Further::work_out(pack, case, &assessment);
    let parts = ReportParts {
        pack,
        case,
        assessment: &assessment,
        argument: further.argument.as_ref(),
        outlook: further.outlook.as_ref(),
        leaning: further.leaning.as_ref(),
    };
    let Some(ReportFile { path, form }) = output else {
        return Ok(Output::data(report::html(&parts)));
    };
    let text = match form {
        ReportForm::Html => report::html(&parts),
        ReportForm::Markdown => report::markdown(&parts),
    };
    let name = path.display().to_string();
    std::fs::write(path, text).map_err(|error| Failure::write(&name, &error))?;
    Ok(Output::data(format!("report {name}\n")))
}

/// What a report can say beyond the assessment.
#[derive(Debug)]
struct Further {
    argument: Option<Argument>,
    outlook: Option<Outlook>,
    leaning: Option<Leaning>,
}

impl Further {
    /// The one place to fill in what is worked out beyond the assessment; the report names what is
    /// missing.
    fn work_out(_pack: &Pack, _case: &Case, _assessment: &Assessment) -> Self {
        Self {
            argument: None,
            outlook: None,
            leaning: None,
        }
    }
}

/// A report may replace a file, but nothing else (a folder, a device) and not its own case.
pub(super) fn may_write(path: &Path, source: &Path) -> Result<(), Failure> {
    let refuse = |error: &Error| Err(Failure::write(&path.display().to_string(), error));
    match std::fs::metadata(path) {
        Ok(found) if found.is_dir() => refuse(&Error::from(ErrorKind::IsADirectory)),
        Ok(found) if !found.is_file() => refuse(&Error::other("it is there and is no file")),
        Ok(_) => match (path.canonicalize(), source.canonicalize()) {
            (Ok(path), Ok(source)) if path == source => {
                refuse(&Error::other("it is the case itself"))
            }
            _ => Ok(()),
        },
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
        Err(error) => refuse(&error),
    }
}
