//! `oddment report`: the report of a case, for a client and for the file.

use crate::arguments::ReportFile;
use crate::failure::Failure;
use crate::output::Output;
use oddment::ask::ReportFormat;
use oddment::{Case, Pack, report};
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
    let format = output.map_or(ReportFormat::Html, |file| file.format);
    let text = report::write(pack, case, format).map_err(|error| Failure::engine(&error, &[]))?;
    let Some(ReportFile { path, .. }) = output else {
        return Ok(Output::data(text));
    };
    let name = path.display().to_string();
    std::fs::write(path, text).map_err(|error| Failure::write(&name, &error))?;
    Ok(Output::data(format!("report {name}\n")))
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
