//! Prints the JSON Schemas of everything that goes in and out, for the TypeScript types and for the
//! package's own `schemas`.

use oddment::ask::{
    AssessOptions, DecideOptions, ExplainOptions, LeanOptions, NextOptions, PracticeOptions,
    ReportOptions, StudyOptions,
};
use oddment::case::file::CaseFile;
use oddment::pack::extension::ExtensionFile;
use oddment::pack::file::{LibraryFile, PackFile};
use oddment::pool::OpinionFile;
use oddment::{Schema, schema};
use oddment_wasm::PlacedProblem;
use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::{Value, json};

/// As one may write it: what has a default may be left out.
fn taken<T: JsonSchema>() -> Value {
    let settings = SchemaSettings::draft2020_12();
    settings.into_generator().into_root_schema_for::<T>().into()
}

/// As it comes out: nothing is left out but what is never written empty.
fn given<T: JsonSchema>() -> Value {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<T>().into()
}

fn main() {
    let documents = json!({
        "pack": schema(Schema::Pack),
        "extension": schema(Schema::Extension),
        "library": schema(Schema::Library),
        "case": schema(Schema::Case),
        "opinion": schema(Schema::Opinion),
        "assessment": schema(Schema::Assessment),
        "decision": schema(Schema::Decision),
        "argument": schema(Schema::Argument),
        "leaning": schema(Schema::Leaning),
        "study": schema(Schema::Study),
        "outlook": schema(Schema::Outlook),
        "form": schema(Schema::Form),
        "practice": schema(Schema::Practice),
    });
    let types = [
        taken::<CaseFile>(),
        taken::<PackFile>(),
        taken::<ExtensionFile>(),
        taken::<LibraryFile>(),
        taken::<OpinionFile>(),
        taken::<AssessOptions>(),
        taken::<ExplainOptions>(),
        taken::<NextOptions>(),
        taken::<LeanOptions>(),
        taken::<StudyOptions>(),
        taken::<DecideOptions>(),
        taken::<ReportOptions>(),
        taken::<PracticeOptions>(),
        given::<PlacedProblem>(),
        given::<oddment::Assessment>(),
        given::<oddment::argument::Argument>(),
        given::<oddment::outlook::Outlook>(),
        given::<oddment::leaning::Leaning>(),
        given::<oddment::decide::Decision>(),
        given::<oddment::study::StudyReport>(),
        given::<oddment::form::FormSummary>(),
        given::<oddment::form::FormDescription>(),
        given::<oddment::pack::LintFinding>(),
        given::<oddment::practice::Practice>(),
    ];
    println!("{}", json!({ "documents": documents, "types": types }));
}
