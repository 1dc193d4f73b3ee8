//! JSON Schemas of what goes in and comes out, generated from the types.

use crate::argument::Argument;
use crate::assessment::Assessment;
use crate::case::file::CaseFile;
use crate::decide::Decision;
use crate::elicit::{Elicitation, JudgementFile};
use crate::form::FormDescription;
use crate::leaning::Leaning;
use crate::outlook::Outlook;
use crate::pack::extension::ExtensionFile;
use crate::pack::file::{LibraryFile, PackFile};
use crate::pool::OpinionFile;
use crate::practice::Practice;
use crate::predict::Prediction;
use crate::study::StudyReport;

/// Which document a schema describes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Schema {
    /// A form's pack.
    Pack,
    /// Somebody's extension of a pack.
    Extension,
    /// The shared library.
    Library,
    /// A case.
    Case,
    /// Somebody else's prior and numbers for a case.
    Opinion,
    /// What people judge of numbers of a pack.
    Judgement,
    /// An assessment.
    Assessment,
    /// A decision.
    Decision,
    /// What every finding weighed.
    Argument,
    /// How far the answer hangs on which numbers.
    Leaning,
    /// How sure the answer is, over many draws of the numbers.
    Study,
    /// What is still worth looking at.
    Outlook,
    /// What a pack's pieces would show.
    Prediction,
    /// What judgements come to.
    Elicitation,
    /// Everything a pack says of its form.
    Form,
    /// A piece to practise on.
    Practice,
}

/// The JSON Schema (draft 2020-12) of a document.
///
/// ```
/// let schema = oddment::schema(oddment::Schema::Case);
/// assert_eq!(schema["title"], "CaseFile");
/// ```
pub fn schema(of: Schema) -> serde_json::Value {
    let schema = match of {
        Schema::Pack => schemars::schema_for!(PackFile),
        Schema::Extension => schemars::schema_for!(ExtensionFile),
        Schema::Library => schemars::schema_for!(LibraryFile),
        Schema::Case => schemars::schema_for!(CaseFile),
        Schema::Opinion => schemars::schema_for!(OpinionFile),
        Schema::Judgement => schemars::schema_for!(JudgementFile),
        Schema::Assessment => schemars::schema_for!(Assessment),
        Schema::Decision => schemars::schema_for!(Decision),
        Schema::Argument => schemars::schema_for!(Argument),
        Schema::Leaning => schemars::schema_for!(Leaning),
        Schema::Study => schemars::schema_for!(StudyReport),
        Schema::Outlook => schemars::schema_for!(Outlook),
        Schema::Prediction => schemars::schema_for!(Prediction),
        Schema::Elicitation => schemars::schema_for!(Elicitation),
        Schema::Form => schemars::schema_for!(FormDescription),
        Schema::Practice => schemars::schema_for!(Practice),
    };
    schema.into()
}
