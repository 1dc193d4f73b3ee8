//! Networks and evidence as plain JSON.
//!
//! ```json
//! {"name": "...", "variables": [{"name": "...", "states": ["..."], "parents": ["..."], "table": [0.5, 0.5]}]}
//! ```
//!
//! `table` is flat: the first parent slowest, the variable's own state fastest. Instead of a table
//! a variable may have `noisy_max` (`base_parents`, `base`, `causes`, `hides`), `copying`
//! (`source`, `share`, `own`) or, without states, `"likelihood": true`. An optional top-level
//! `lane` names the lane variable.

use crate::error::Error;
use crate::evidence::Evidence;
use crate::network::{
    Cause, Copying, Distribution, Hide, Network, NetworkBuilder, NoisyMax, VariableId,
};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct NetworkFile {
    name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lane: Option<String>,
    variables: Vec<VariableFile>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct VariableFile {
    name: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    states: Vec<String>,
    #[serde(default)]
    parents: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    table: Option<Vec<f64>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    noisy_max: Option<NoisyMaxFile>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    copying: Option<CopyingFile>,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    likelihood: bool,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct NoisyMaxFile {
    base_parents: Vec<String>,
    base: Vec<f64>,
    #[serde(default)]
    causes: Vec<CauseFile>,
    #[serde(default)]
    hides: Vec<HideFile>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CauseFile {
    parent: String,
    cumulative: Vec<f64>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HideFile {
    parent: String,
    blank: Vec<f64>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CopyingFile {
    source: String,
    share: Vec<f64>,
    own: Vec<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct EvidenceFile {
    #[serde(default)]
    hard: BTreeMap<String, String>,
    #[serde(default)]
    soft: BTreeMap<String, Vec<f64>>,
}

fn syntax(document: &'static str, error: &serde_json::Error) -> Error {
    let text = error.to_string();
    let message = text
        .rsplit_once(" at line ")
        .map_or(text.as_str(), |(message, _)| message);
    Error::Syntax {
        document,
        line: error.line(),
        column: error.column(),
        message: message.to_owned(),
    }
}

impl Network {
    /// Reads a network from JSON (the form is in the crate's documentation).
    ///
    /// # Errors
    /// [`Error::Syntax`] with the line, or the rule that the network breaks.
    ///
    /// ```
    /// let network = oddment_circuit::Network::from_json(
    ///     r#"{"name": "coin", "variables": [{"name": "toss", "states": ["head", "tail"], "table": [0.5, 0.5]}]}"#,
    /// )?;
    /// assert_eq!(network.variables()[0].states, ["head", "tail"]);
    /// # Ok::<(), oddment_circuit::Error>(())
    /// ```
    pub fn from_json(text: &str) -> Result<Self, Error> {
        let file: NetworkFile =
            serde_json::from_str(text).map_err(|error| syntax("network", &error))?;
        let mut builder = NetworkBuilder::new(file.name);
        let mut ids = BTreeMap::new();
        for variable in &file.variables {
            let id = builder.declare(variable.name.clone(), variable.states.clone())?;
            ids.insert(variable.name.clone(), id);
        }
        for (index, variable) in file.variables.into_iter().enumerate() {
            let fault = |message: String| Error::Network {
                variable: variable.name.clone(),
                message,
            };
            let resolve = |name: &String| {
                ids.get(name)
                    .copied()
                    .ok_or_else(|| match builder.find(name) {
                        Err(Error::UnknownVariable { name, nearest }) => fault(format!(
                            "names the unknown variable `{name}`{}",
                            nearest
                                .first()
                                .map_or(String::new(), |near| format!(", perhaps `{near}`"))
                        )),
                        _ => fault(format!("names the unknown variable `{name}`")),
                    })
            };
            let parents = variable
                .parents
                .iter()
                .map(resolve)
                .collect::<Result<Vec<_>, _>>()?;
            let given = [
                variable.table.is_some(),
                variable.noisy_max.is_some(),
                variable.copying.is_some(),
                variable.likelihood,
            ];
            if given.iter().filter(|given| **given).count() != 1 {
                return Err(fault(
                    "needs exactly one of `table`, `noisy_max`, `copying`, `likelihood`".into(),
                ));
            }
            let distribution = if let Some(table) = variable.table {
                Distribution::Table(table)
            } else if let Some(noisy) = variable.noisy_max {
                Distribution::NoisyMax(NoisyMax {
                    base_parents: noisy
                        .base_parents
                        .iter()
                        .map(resolve)
                        .collect::<Result<_, _>>()?,
                    base: noisy.base,
                    causes: noisy
                        .causes
                        .into_iter()
                        .map(|cause| {
                            Ok(Cause {
                                parent: resolve(&cause.parent)?,
                                cumulative: cause.cumulative,
                            })
                        })
                        .collect::<Result<_, Error>>()?,
                    hides: noisy
                        .hides
                        .into_iter()
                        .map(|hide| {
                            Ok(Hide {
                                parent: resolve(&hide.parent)?,
                                blank: hide.blank,
                            })
                        })
                        .collect::<Result<_, Error>>()?,
                })
            } else if let Some(copying) = variable.copying {
                Distribution::Copying(Copying {
                    source: resolve(&copying.source)?,
                    share: copying.share,
                    own: copying.own,
                })
            } else {
                Distribution::Likelihood
            };
            builder.define(VariableId(index as u32), parents, distribution);
        }
        if let Some(lane) = file.lane {
            let id = builder.find(&lane)?;
            builder.lane(id);
        }
        builder.finish()
    }

    /// Writes the network as JSON that [`from_json`](Self::from_json) reads back unchanged.
    pub fn to_json(&self) -> String {
        let name_of = |id: &VariableId| self.variable(*id).name.clone();
        let variables = self.variables().iter().map(|variable| {
            let mut file = VariableFile {
                name: variable.name.clone(),
                states: variable.states.clone(),
                parents: variable.parents.iter().map(name_of).collect(),
                table: None,
                noisy_max: None,
                copying: None,
                likelihood: false,
            };
            match &variable.distribution {
                Distribution::Table(table) => file.table = Some(table.clone()),
                Distribution::NoisyMax(noisy) => {
                    file.noisy_max = Some(NoisyMaxFile {
                        base_parents: noisy.base_parents.iter().map(name_of).collect(),
                        base: noisy.base.clone(),
                        causes: noisy
                            .causes
                            .iter()
                            .map(|cause| CauseFile {
                                parent: name_of(&cause.parent),
                                cumulative: cause.cumulative.clone(),
                            })
                            .collect(),
                        hides: noisy
                            .hides
                            .iter()
                            .map(|hide| HideFile {
                                parent: name_of(&hide.parent),
                                blank: hide.blank.clone(),
                            })
                            .collect(),
                    });
                }
                Distribution::Copying(copying) => {
                    file.copying = Some(CopyingFile {
                        source: name_of(&copying.source),
                        share: copying.share.clone(),
                        own: copying.own.clone(),
                    });
                }
                Distribution::Likelihood => file.likelihood = true,
            }
            file
        });
        let file = NetworkFile {
            name: self.name().to_owned(),
            lane: self.lane().as_ref().map(name_of),
            variables: variables.collect(),
        };
        // Plain structs of strings and finite numbers always serialise.
        serde_json::to_string(&file).unwrap_or_default()
    }
}

impl Evidence {
    /// Reads evidence from JSON: `{"hard": {"VAR": "state"}, "soft": {"VAR": [likelihoods]}}`.
    ///
    /// # Errors
    /// [`Error::Syntax`], or the name or likelihood that does not fit the network.
    pub fn from_json(network: &Network, text: &str) -> Result<Self, Error> {
        let file: EvidenceFile =
            serde_json::from_str(text).map_err(|error| syntax("evidence", &error))?;
        let mut evidence = Evidence::new();
        for (name, state) in &file.hard {
            let id = network.find(name)?;
            evidence.observe(network, id, network.find_state(id, state)?)?;
        }
        for (name, likelihood) in &file.soft {
            evidence.likelihood(network, network.find(name)?, likelihood)?;
        }
        Ok(evidence)
    }
}
