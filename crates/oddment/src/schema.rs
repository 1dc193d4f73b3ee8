//! JSON Schemas of what goes in and comes out, generated from the types.

use crate::assessment::Assessment;
use crate::case::file::CaseFile;
use crate::decide::Decision;
use crate::pack::file::{LibraryFile, PackFile};

/// Which document a schema describes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Schema {
    /// A form's pack.
    Pack,
    /// The shared library.
    Library,
    /// A case.
    Case,
    /// An assessment.
    Assessment,
    /// A decision.
    Decision,
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
        Schema::Library => schemars::schema_for!(LibraryFile),
        Schema::Case => schemars::schema_for!(CaseFile),
        Schema::Assessment => schemars::schema_for!(Assessment),
        Schema::Decision => schemars::schema_for!(Decision),
    };
    schema.into()
}
