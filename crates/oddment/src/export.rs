//! A case's whole network as plain tables, for checking with any other library.

use crate::case::Case;
use crate::error::Error;
use crate::evidence::{Item, Likelihoods};
use crate::model::Model;
use crate::pack::Pack;
use crate::prior::history_priors;
use oddment_circuit::{Distribution, Evidence, Network, NetworkBuilder, VariableId};

/// The largest table spelt out.
const TABLE_LIMIT: usize = 1 << 22;

/// A plain network with its evidence.
#[derive(Debug, Clone)]
pub struct Export {
    /// Only plain tables.
    pub network: Network,
    /// Every report observed as made, known incidents as known.
    pub evidence: Evidence,
    /// Natural logarithm of what the reported probability of the evidence must be multiplied by to
    /// give that of the findings (readings' densities are scaled to at most 1).
    pub ln_scale: f64,
}

/// Spells a case out as plain tables: the model's variables, one `examination/VISIT` for the quality
/// of each visit, and for each finding and reading a variable `report/N` whose state `as-made` has the
/// finding's likelihood as its chance.
///
/// # Errors
/// [`Error::Circuit`] when a table would be too large; [`Error::Impossible`] for a reading that no
/// history gives any chance.
pub fn export(pack: &Pack, case: &Case) -> Result<Export, Error> {
    let model = Model::compile(pack, case.years, &case.numbers)?;
    let likelihoods = Likelihoods::new(pack, &model, case)?;
    let mut builder = NetworkBuilder::new(format!("{}-case", pack.id));
    let source = &model.network;
    for id in source.ids() {
        let variable = source.variable(id);
        // Likelihood variables have no states; what stands for them are the reports below.
        let (states, parents, table) = if id == model.history {
            (
                variable.states.clone(),
                Vec::new(),
                history_priors(pack, case),
            )
        } else {
            match source.expanded_table(id, TABLE_LIMIT)? {
                Some(table) => (variable.states.clone(), variable.parents.clone(), table),
                None => (vec!["unused".to_owned()], Vec::new(), vec![1.0]),
            }
        };
        builder.variable(
            variable.name.clone(),
            &states,
            &parents,
            Distribution::Table(normalised_rows(table, states.len())),
        )?;
    }
    let mut qualities = Vec::new();
    for (position, visit) in likelihoods.visits.iter().enumerate() {
        let poor: f64 = likelihoods
            .quality_chances
            .iter()
            .enumerate()
            .filter(|(state, _)| state >> position & 1 == 1)
            .map(|(_, chance)| chance)
            .sum();
        let name = format!("examination/{}", case.visits[*visit].id);
        let table = Distribution::Table(vec![1.0 - poor, poor]);
        qualities.push(builder.variable(name, &["sound", "poor"], &[], table)?);
    }
    let mut reports = Vec::new();
    for (number, item) in likelihoods.items.iter().enumerate() {
        let quality = qualities[item.visit];
        let mut parents: Vec<VariableId> = vec![quality];
        match item.item {
            Item::Finding(_) => parents.push(model.leaves[item.place].variable),
            Item::Reading(_) => {
                parents.extend(&source.variable(item.variable).parents);
            }
        }
        let table = item
            .by_quality
            .iter()
            .flatten()
            .flat_map(|chance| [*chance, 1.0 - chance])
            .collect();
        let name = format!("report/{}", number + 1);
        let distribution = Distribution::Table(table);
        reports.push(builder.variable(name, &["as-made", "otherwise"], &parents, distribution)?);
    }
    let network = builder.finish()?;
    let mut evidence = Evidence::new();
    for report in reports {
        evidence.observe(&network, report, 0)?;
    }
    for (incident, happened) in &case.known {
        evidence.observe(&network, model.incidents[*incident], usize::from(*happened))?;
    }
    Ok(Export {
        network,
        evidence,
        ln_scale: likelihoods.ln_scale,
    })
}

/// Takes out the rounding of products and sums, so that every row adds up to one.
fn normalised_rows(mut table: Vec<f64>, states: usize) -> Vec<f64> {
    for row in table.chunks_mut(states.max(1)) {
        let sum: f64 = row.iter().sum();
        row.iter_mut().for_each(|entry| *entry /= sum);
    }
    table
}
