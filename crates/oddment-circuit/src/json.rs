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
use serde::de::{Error as _, MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::marker::PhantomData;

#[derive(Serialize, Deserialize)]
#[serde(
    deny_unknown_fields,
    expecting = "an object with `name` and `variables`"
)]
struct NetworkFile {
    name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lane: Option<String>,
    variables: Vec<VariableFile>,
}

#[derive(Serialize, Deserialize)]
#[serde(
    deny_unknown_fields,
    expecting = "a variable: an object with `name`, `states`, `parents` and `table`"
)]
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
#[serde(
    deny_unknown_fields,
    expecting = "an object with `base_parents`, `base`, `causes` and `hides`"
)]
struct NoisyMaxFile {
    base_parents: Vec<String>,
    base: Vec<f64>,
    #[serde(default)]
    causes: Vec<CauseFile>,
    #[serde(default)]
    hides: Vec<HideFile>,
}

#[derive(Serialize, Deserialize)]
#[serde(
    deny_unknown_fields,
    expecting = "a cause: an object with `parent` and `cumulative`"
)]
struct CauseFile {
    parent: String,
    cumulative: Vec<f64>,
}

#[derive(Serialize, Deserialize)]
#[serde(
    deny_unknown_fields,
    expecting = "a hide: an object with `parent` and `blank`"
)]
struct HideFile {
    parent: String,
    blank: Vec<f64>,
}

#[derive(Serialize, Deserialize)]
#[serde(
    deny_unknown_fields,
    expecting = "an object with `source`, `share` and `own`"
)]
struct CopyingFile {
    source: String,
    share: Vec<f64>,
    own: Vec<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, expecting = "an object with `hard` and `soft`")]
struct EvidenceFile {
    #[serde(default)]
    hard: Findings<String>,
    #[serde(default)]
    soft: Findings<Vec<f64>>,
}

/// An object by variable name. A name given twice is an error, for one of its values would be lost.
struct Findings<T>(Vec<(String, T)>);

impl<T> Default for Findings<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Findings<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Pairs<T>(PhantomData<T>);

        impl<'de, T: Deserialize<'de>> Visitor<'de> for Pairs<T> {
            type Value = Findings<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object with a finding for each variable")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let (mut names, mut pairs) = (BTreeSet::new(), Vec::new());
                while let Some((name, finding)) = map.next_entry::<String, T>()? {
                    if !names.insert(name.clone()) {
                        return Err(A::Error::custom(format!("`{name}` is observed twice")));
                    }
                    pairs.push((name, finding));
                }
                Ok(Findings(pairs))
            }
        }

        deserializer.deserialize_map(Pairs(PhantomData))
    }
}

fn read<'a, T: Deserialize<'a>>(document: &'static str, text: &'a str) -> Result<T, Error> {
    // A list would be taken for the fields in order, and an empty one for no evidence.
    let start = text.find(|c: char| !c.is_ascii_whitespace());
    if let Some(start) = start.filter(|start| text[*start..].starts_with('[')) {
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
        return Err(Error::Syntax {
            document,
            line: before.matches('\n').count() + 1,
            column: start - line_start + 1,
            message: "is a list, must be an object".into(),
        });
    }
    serde_json::from_str(text).map_err(|error| syntax(document, &error))
}

fn syntax(document: &'static str, error: &serde_json::Error) -> Error {
    let text = error.to_string();
    let message = text
        .rsplit_once(" at line ")
        .map_or(text.as_str(), |(message, _)| message);
    Error::Syntax {
        document,
        line: error.line(),
        column: error.column().max(1),
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
        let file: NetworkFile = read("network", text)?;
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
                            nearest.first().map_or_else(
                                || "; declare it, too".into(),
                                |near| format!(", perhaps `{near}`")
                            )
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
            let fields = ["table", "noisy_max", "copying", "likelihood"].iter();
            let given: Vec<String> = fields
                .zip(given)
                .filter(|(_, given)| *given)
                .map(|(field, _)| format!("`{field}`"))
                .collect();
            if given.len() != 1 {
                let given = match given.as_slice() {
                    [] => "no distribution".into(),
                    given => given.join(" and "),
                };
                return Err(fault(format!(
                    "has {given}, needs exactly one of `table`, `noisy_max`, `copying`, `likelihood`"
                )));
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
            let id = builder.find(&lane).map_err(|error| Error::Whole {
                message: format!("`lane` names an {error}"),
            })?;
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
    /// Reads evidence from JSON: `{"hard": {"VAR": "state"}, "soft": {"VAR": [likelihoods]}}`. A
    /// variable may be in both, and then both count.
    ///
    /// # Errors
    /// [`Error::Syntax`], or the name or likelihood that does not fit the network.
    pub fn from_json(network: &Network, text: &str) -> Result<Self, Error> {
        let file: EvidenceFile = read("evidence", text)?;
        let mut evidence = Evidence::new();
        for (name, state) in &file.hard.0 {
            let id = network.find(name)?;
            evidence.observe(network, id, network.find_state(id, state)?)?;
        }
        for (name, likelihood) in &file.soft.0 {
            evidence.likelihood(network, network.find(name)?, likelihood)?;
        }
        Ok(evidence)
    }
}
