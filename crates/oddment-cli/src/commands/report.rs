//! `oddment report`: the report of a case, for a client and for the file.

use crate::arguments::{ReportFile, ReportForm};
use crate::failure::Failure;
use crate::output::Output;
use oddment::report::{self, ReportParts};
use oddment::{Case, LeanOptions, NextOptions, Pack};
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
    let refuse = |error| Failure::engine(&error, &[]);
    let assessment = oddment::assess(pack, case).map_err(refuse)?;
    let argument = oddment::explain(pack, case, None).map_err(refuse)?;
    let outlook = oddment::look_next(pack, case, &NextOptions::default()).map_err(refuse)?;
    let leaning = oddment::lean(pack, case, &LeanOptions::default()).map_err(refuse)?;
    let parts = ReportParts {
        pack,
        case,
        assessment: &assessment,
        argument: Some(&argument),
        outlook: Some(&outlook),
        leaning: Some(&leaning),
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

/// A report may replace a file, but nothing else (a folder, a device) and not its own case.
fn may_write(path: &Path, source: &Path) -> Result<(), Failure> {
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
