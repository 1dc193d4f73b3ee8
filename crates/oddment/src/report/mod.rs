//! The written report: what was asked, what was found and what follows, for a client and for the
//! file.
//!
//! One self-contained page, with pictures that read in grey print, or the same in plain Markdown
//! with tables in the pictures' place. Nothing is computed here: every figure stands in the
//! inputs. Everything a user wrote is escaped, and equal inputs give equal bytes, so a report can
//! be made again from its case and compared with the one on file.
//!
//! It is the arithmetic of an opinion, not a certificate and not a valuation, and says so.

mod charts;
mod document;
mod figures;
mod html;
mod labels;
mod markdown;
mod sections;
#[cfg(test)]
mod tests;
mod words;

use crate::argument::Argument;
use crate::ask::ReportFormat;
use crate::assessment::Assessment;
use crate::case::Case;
use crate::error::Error;
use crate::leaning::Leaning;
use crate::outlook::Outlook;
use crate::pack::Pack;
use crate::{LeanOptions, NextOptions, assess, explain, lean, look_next};

/// What a report is made of.
///
/// All parts must come from the same pack and case. Where one of the last three is missing, the
/// report says what it can without it and names what was not worked out.
#[derive(Debug, Clone, Copy)]
pub struct ReportParts<'a> {
    /// The pack the case was assessed with: lends names, sources and cautions.
    pub pack: &'a Pack,
    /// The case: who looked, when and how, and what was written down.
    pub case: &'a Case,
    /// The odds with their reasons.
    pub assessment: &'a Assessment,
    /// What every finding weighed on the way, if worked out.
    pub argument: Option<&'a Argument>,
    /// What is still worth looking at, if worked out.
    pub outlook: Option<&'a Outlook>,
    /// How far the answer hangs on which numbers, if worked out.
    pub leaning: Option<&'a Leaning>,
}

/// The report as one HTML page: no script, nothing fetched, prints on A4 and Letter.
///
/// ```
/// use oddment::report::{self, ReportParts};
/// use oddment::{Case, Text, assess, packs};
/// let pack = packs::load("drop-leaf-table")?;
/// let text = include_str!("../../../../priors/cases/hardly-looked-at.toml");
/// let case = Case::load(Text::new("hardly-looked-at.toml", text), &pack)?;
/// let assessment = assess(&pack, &case)?;
/// let page = report::html(&ReportParts {
///     pack: &pack,
///     case: &case,
///     assessment: &assessment,
///     argument: None,
///     outlook: None,
///     leaning: None,
/// });
/// assert!(page.starts_with("<!DOCTYPE html>"));
/// assert!(page.contains("not a certificate"));
/// assert!(!page.contains("<script"));
/// # Ok::<(), oddment::Error>(())
/// ```
#[must_use]
pub fn html(parts: &ReportParts<'_>) -> String {
    html::render(&sections::document(parts))
}

/// The same report in plain Markdown (tables after the GitHub manner), a table or sentence in
/// every picture's place.
///
/// ```
/// use oddment::report::{self, ReportParts};
/// use oddment::{Case, Text, assess, packs};
/// let pack = packs::load("drop-leaf-table")?;
/// let text = include_str!("../../../../priors/cases/hardly-looked-at.toml");
/// let case = Case::load(Text::new("hardly-looked-at.toml", text), &pack)?;
/// let assessment = assess(&pack, &case)?;
/// let page = report::markdown(&ReportParts {
///     pack: &pack,
///     case: &case,
///     assessment: &assessment,
///     argument: None,
///     outlook: None,
///     leaning: None,
/// });
/// assert!(page.starts_with("# "));
/// assert!(page.contains("## 2. The opinion"));
/// # Ok::<(), oddment::Error>(())
/// ```
#[must_use]
pub fn markdown(parts: &ReportParts<'_>) -> String {
    markdown::render(&sections::document(parts))
}

/// The whole report of a case: everything is worked out as it is when nothing else is asked for, and
/// written in one of the two forms.
///
/// # Errors
/// As [`assess`].
///
/// ```
/// use oddment::{Case, Text, ask::ReportFormat, packs, report};
/// let pack = packs::load("drop-leaf-table")?;
/// let text = oddment::new_case(&pack);
/// let case = Case::load(Text::new("new case", &text), &pack)?;
/// let written = report::write(&pack, &case, ReportFormat::Markdown)?;
/// assert!(written.starts_with("# "));
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn write(pack: &Pack, case: &Case, format: ReportFormat) -> Result<String, Error> {
    let parts = ReportParts {
        pack,
        case,
        assessment: &assess(pack, case)?,
        argument: Some(&explain(pack, case, None)?),
        outlook: Some(&look_next(pack, case, &NextOptions::default())?),
        leaning: Some(&lean(pack, case, &LeanOptions::default())?),
    };
    Ok(match format {
        ReportFormat::Html => html(&parts),
        ReportFormat::Markdown => markdown(&parts),
    })
}
