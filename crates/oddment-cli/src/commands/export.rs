//! `oddment export`: a case's network for checking elsewhere.

use crate::arguments::Format;
use crate::failure::Failure;
use crate::output::Output;
use oddment::{Case, Export, Pack};
use serde_json::{Map, Value, json};
use std::path::{Path, PathBuf};

pub(super) fn run(
    pack: &Pack,
    case: &Case,
    format: Format,
    prefix: Option<&Path>,
) -> Result<Output, Failure> {
    let refuse = |error: oddment::Error| Failure::engine(&error, &[]);
    let export = oddment::export(pack, case).map_err(refuse)?;
    match (format, prefix) {
        (Format::Json, None) => {
            let network = export.network.to_json();
            let (evidence, ln_scale) = (evidence_json(&export), json!(export.ln_scale));
            Ok(Output::data(format!(
                "{{\"network\":{network},\"evidence\":{evidence},\"ln_scale\":{ln_scale}}}\n"
            )))
        }
        (Format::Json, Some(prefix)) => {
            let network = write(prefix, ".network.json", &export.network.to_json())?;
            let evidence = write(
                prefix,
                ".evidence.json",
                &evidence_json(&export).to_string(),
            )?;
            Ok(written(&export, &network, &evidence, ""))
        }
        (Format::Uai, prefix) => {
            // The parser asks for a prefix here.
            let prefix = prefix.unwrap_or(Path::new("case"));
            let uai = |text: Result<String, _>| {
                text.map_err(|error| refuse(oddment::Error::Circuit(error)))
            };
            let network = write(prefix, ".uai", &uai(export.network.to_uai())?)?;
            let evidence = uai(export.evidence.to_uai(&export.network))?;
            let evidence = write(prefix, ".uai.evid", &evidence)?;
            // The format has numbers only, so say where to look for the answer.
            Ok(written(
                &export,
                &network,
                &evidence,
                &history_line(&export),
            ))
        }
    }
}

fn written(export: &Export, network: &Path, evidence: &Path, more: &str) -> Output {
    Output::data(format!(
        "network {}\nevidence {}\nln_scale {}\n{more}",
        network.display(),
        evidence.display(),
        json!(export.ln_scale),
    ))
}

/// Which variable is the history, and what its states are.
fn history_line(export: &Export) -> String {
    match export.network.find("history") {
        Ok(id) => {
            let states = export.network.variable(id).states.join(" ");
            format!("history {} {states}\n", id.index())
        }
        Err(_) => String::new(),
    }
}

fn write(prefix: &Path, ending: &str, content: &str) -> Result<PathBuf, Failure> {
    let mut path = prefix.as_os_str().to_owned();
    path.push(ending);
    let path = PathBuf::from(path);
    match std::fs::write(&path, content) {
        Ok(()) => Ok(path),
        Err(error) => Err(Failure::write(&path.display().to_string(), &error)),
    }
}

/// `{"hard": {variable: state}, "soft": {variable: likelihoods}}`.
fn evidence_json(export: &Export) -> Value {
    let (mut hard, mut soft) = (Map::new(), Map::new());
    for (id, likelihood) in export.evidence.iter() {
        let variable = export.network.variable(id);
        let possible = || {
            likelihood
                .iter()
                .zip(&variable.states)
                .filter(|(l, _)| **l > 0.0)
        };
        match (possible().next(), possible().count()) {
            (Some((_, state)), 1) => hard.insert(variable.name.clone(), json!(state)),
            _ => soft.insert(variable.name.clone(), json!(likelihood)),
        };
    }
    json!({"hard": hard, "soft": soft})
}
