//! A pack's network for one claim, and its circuit: the piece conditional on its history.

use crate::error::Error;
use crate::pack::{Pack, Shows, Sign};
use crate::prior::{bin_shares, date_row};
use oddment_circuit::{
    Cause, Circuit, CompileOptions, Copying, Distribution, Hide, Network, NetworkBuilder, NoisyMax,
    VariableId,
};

/// A sign at a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Leaf {
    /// Index of the sign.
    pub sign: usize,
    /// Index of the part.
    pub part: usize,
    /// Its variable.
    pub variable: VariableId,
}

/// The compiled model of a pack for one claim and one set of numbers.
///
/// Variables of its network: `history` (the lane variable), `incident/ID`, `date/PART`,
/// `clarity/GROUP`, `sign/ID@PART` and `measure/ID`.
#[derive(Debug, Clone)]
pub struct Model {
    pub(crate) network: Network,
    pub(crate) circuit: Circuit,
    pub(crate) history: VariableId,
    pub(crate) incidents: Vec<VariableId>,
    /// For each dated part.
    pub(crate) dates: Vec<Option<VariableId>>,
    pub(crate) leaves: Vec<Leaf>,
    pub(crate) measures: Vec<VariableId>,
}

/// The cumulative chances below each level but the last.
fn cumulative(chances: &[f64]) -> Vec<f64> {
    let total: f64 = chances.iter().sum();
    let mut sum = 0.0;
    chances[..chances.len() - 1]
        .iter()
        .map(|chance| {
            sum += chance;
            (sum / total).clamp(0.0, 1.0)
        })
        .collect()
}

impl Model {
    /// Builds and compiles the model for a claim of these years.
    ///
    /// # Errors
    /// [`Error::Circuit`] when the circuit would be too large.
    pub fn compile(pack: &Pack, years: (i32, i32), numbers: &[f64]) -> Result<Self, Error> {
        let (network, layout) = build_network(pack, years, numbers)?;
        let circuit = Circuit::compile(
            &network,
            &CompileOptions {
                tie_equal: true,
                ..CompileOptions::default()
            },
        )?;
        let Layout {
            history,
            incidents,
            dates,
            leaves,
            measures,
        } = layout;
        Ok(Self {
            network,
            circuit,
            history,
            incidents,
            dates,
            leaves,
            measures,
        })
    }

    /// The network, for export and inspection.
    pub fn network(&self) -> &Network {
        &self.network
    }

    /// The circuit, for inspection.
    pub fn circuit(&self) -> &Circuit {
        &self.circuit
    }

    /// The signs at their parts, in the order of the pack.
    pub fn leaves(&self) -> &[Leaf] {
        &self.leaves
    }
}

fn build_network(
    pack: &Pack,
    years: (i32, i32),
    numbers: &[f64],
) -> Result<(Network, Layout), Error> {
    let number = |id: crate::pack::NumberId| numbers[id.index()];
    let histories = pack.histories.len();
    let mut builder = NetworkBuilder::new(pack.id.clone());
    let names: Vec<&str> = pack
        .histories
        .iter()
        .map(|history| history.id.as_str())
        .collect();
    // The prior belongs to the case and weighs the lanes at the end.
    let even = vec![1.0 / histories as f64; histories];
    let history = builder.variable("history", &names, &[], Distribution::Table(even))?;
    builder.lane(history);

    let mut incidents = Vec::new();
    for incident in &pack.incidents {
        let table = incident
            .rates
            .iter()
            .flat_map(|rate| [1.0 - number(*rate), number(*rate)])
            .collect();
        let name = format!("incident/{}", incident.id);
        let distribution = Distribution::Table(table);
        incidents.push(builder.variable(name, &["no", "yes"], &[history], distribution)?);
    }

    let dates = build_dates(pack, years, &mut builder, history)?;

    let mut groups = Vec::new();
    for group in &pack.groups {
        let name = format!("clarity/{}", group.id);
        let half = Distribution::Table(vec![0.5, 0.5]);
        groups.push(builder.variable(name, &["plain", "faint"], &[], half)?);
    }

    let mut leaves = Vec::new();
    for (index, sign) in pack.signs.iter().enumerate() {
        for part in &sign.parts {
            let date = dates[*part];
            let noisy = noisy_max(pack, numbers, sign, history, date, &groups, &incidents);
            let mut parents = noisy.base_parents.clone();
            let others = noisy.causes.iter().map(|cause| cause.parent);
            for parent in others.chain(noisy.hides.iter().map(|hide| hide.parent)) {
                if !parents.contains(&parent) {
                    parents.push(parent);
                }
            }
            let name = format!("sign/{}@{}", sign.id, pack.parts[*part].id);
            let distribution = Distribution::NoisyMax(noisy);
            let variable = builder.variable(name, &sign.levels, &parents, distribution)?;
            leaves.push(Leaf {
                sign: index,
                part: *part,
                variable,
            });
        }
    }

    let mut measures = Vec::new();
    for measure in &pack.measures {
        let mut parents = vec![history];
        parents.extend(
            measure
                .overrides
                .iter()
                .map(|(incident, _)| incidents[*incident]),
        );
        let name = format!("measure/{}", measure.id);
        let none: [&str; 0] = [];
        measures.push(builder.variable(name, &none, &parents, Distribution::Likelihood)?);
    }
    let network = builder.finish()?;
    Ok((
        network,
        Layout {
            history,
            incidents,
            dates,
            leaves,
            measures,
        },
    ))
}

struct Layout {
    history: VariableId,
    incidents: Vec<VariableId>,
    dates: Vec<Option<VariableId>>,
    leaves: Vec<Leaf>,
    measures: Vec<VariableId>,
}

/// Making dates, each part after the one whose date it may share.
fn build_dates(
    pack: &Pack,
    years: (i32, i32),
    builder: &mut NetworkBuilder,
    history: VariableId,
) -> Result<Vec<Option<VariableId>>, Error> {
    let bins = pack.dates.bins();
    let names: Vec<String> = (0..bins)
        .map(|bin| pack.dates.years(bin))
        .map(|(from, _)| from.to_string())
        .collect();
    let mut dates = vec![None; pack.parts.len()];
    loop {
        let next = (0..pack.parts.len()).find(|part| {
            pack.parts[*part].dated
                && dates[*part].is_none()
                && pack.companions[*part].is_none_or(|other| dates[other].is_some())
        });
        let Some(part) = next else { return Ok(dates) };
        let (mut own, mut share) = (Vec::new(), Vec::new());
        for history in &pack.histories {
            let row = history.origins[part].and_then(|origin| date_row(pack, origin, years));
            share.push(if row.is_some() { 0.0 } else { 1.0 });
            // Where the date is shared the own row is never used; it must still be a distribution.
            own.extend(row.unwrap_or_else(|| {
                let mut first = vec![0.0; bins];
                first[0] = 1.0;
                first
            }));
        }
        let name = format!("date/{}", pack.parts[part].id);
        let variable = match pack.companions[part].and_then(|other| dates[other]) {
            Some(source) => {
                let copying = Distribution::Copying(Copying { source, share, own });
                builder.variable(name, &names, &[history, source], copying)?
            }
            None => builder.variable(name, &names, &[history], Distribution::Table(own))?,
        };
        dates[part] = Some(variable);
    }
}

#[allow(clippy::too_many_arguments)]
fn noisy_max(
    pack: &Pack,
    numbers: &[f64],
    sign: &Sign,
    history: VariableId,
    date: Option<VariableId>,
    groups: &[VariableId],
    incidents: &[VariableId],
) -> NoisyMax {
    let number = |id: crate::pack::NumberId| numbers[id.index()];
    let spread = |row: &[crate::pack::NumberId]| -> Vec<f64> {
        match row {
            [single] => vec![1.0 - number(*single), number(*single)],
            row => row.iter().map(|chance| number(*chance)).collect(),
        }
    };
    let mut hides = Vec::new();
    let (base_parents, base) = match &sign.shows {
        Shows::History(rows) => {
            let rows = rows.iter().map(|row| cumulative(&spread(row)));
            match sign.group {
                None => (vec![history], rows.flatten().collect()),
                Some(group) => {
                    let coupling = number(pack.groups[group].coupling);
                    let coupled = rows.flat_map(|row| {
                        let shift = |towards: f64| -> Vec<f64> {
                            row.iter()
                                .map(|below| below + towards * coupling * below.min(1.0 - below))
                                .collect()
                        };
                        // Plain traces show more: less chance of staying below a level.
                        let (plain, faint) = (shift(-1.0), shift(1.0));
                        plain.into_iter().chain(faint)
                    });
                    (vec![history, groups[group]], coupled.collect())
                }
            }
        }
        Shows::Dated {
            curve,
            visible,
            added,
            removed,
        } => {
            let shares = bin_shares(pack, *curve);
            let chance = |side: &Option<crate::pack::NumberId>| side.map_or(0.0, &number);
            if removed.iter().any(Option::is_some) {
                hides.push(Hide {
                    parent: history,
                    blank: removed.iter().map(chance).collect(),
                });
            }
            match date {
                Some(date) => {
                    let base = added.iter().flat_map(|added| {
                        let absent = 1.0 - chance(added);
                        shares
                            .iter()
                            .map(move |share| (1.0 - share * number(*visible)) * absent)
                    });
                    (vec![history, date], base.collect())
                }
                // Checked on loading: a dated sign stands on a dated part.
                None => (vec![history], vec![1.0; pack.histories.len()]),
            }
        }
    };
    let causes = sign
        .causes
        .iter()
        .map(|(incident, row)| {
            let below = cumulative(&spread(row));
            let cumulative = vec![1.0; below.len()].into_iter().chain(below).collect();
            Cause {
                parent: incidents[*incident],
                cumulative,
            }
        })
        .collect();
    hides.extend(sign.hides.iter().map(|(incident, blank)| Hide {
        parent: incidents[*incident],
        blank: vec![0.0, number(*blank)],
    }));
    NoisyMax {
        base_parents,
        base,
        causes,
        hides,
    }
}
