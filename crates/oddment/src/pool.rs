//! Several opinions, and what they come to together.

mod opinion;

pub use opinion::{AS_IT_STANDS, OPINION_SCHEMA, OpinionFile, Subject};

use crate::case::Case;
use crate::error::Error;
use crate::inquiry::{Inquiry, by_verdict};
use crate::leaning::{Opinion, Pool};
use crate::model::Model;
use crate::pack::Pack;
use crate::prior::history_priors;

/// One opinion: the same findings under somebody's own pack, prior or numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct OpinionCase {
    /// Whose.
    pub name: String,
    /// How much it counts, above 0; only the proportions matter.
    pub weight: f64,
    /// The pack it rests on.
    pub pack: Pack,
    /// The case as this opinion sees it: the same findings, with its own prior and numbers.
    pub case: Case,
}

/// Answers each opinion by itself and pools the answers.
///
/// ```text
/// linear       sum over opinions of w P(verdict)
/// logarithmic  product over opinions of P(verdict)^w, normalised
/// ```
///
/// The linear pool is a mean of opinions; the logarithmic one is what one gets by averaging their
/// log-odds, so that one opinion certain against a verdict rules it out.
///
/// # Errors
/// [`Error::Impossible`] or [`Error::Circuit`] where an opinion has no answer.
pub fn pool(opinions: &[OpinionCase]) -> Result<Pool, Error> {
    let total: f64 = opinions.iter().map(|opinion| opinion.weight).sum();
    let mut answers = Vec::new();
    for opinion in opinions {
        let (pack, case) = (&opinion.pack, &opinion.case);
        let model = Model::compile_reported(pack, case)?;
        let inquiry = Inquiry::open(pack, case, &model).map_err(|error| held_by(error, opinion))?;
        answers.push(Opinion {
            name: opinion.name.clone(),
            weight: opinion.weight / total,
            priors: by_verdict(pack, &history_priors(pack, case)).to_vec(),
            verdicts: inquiry.verdicts().to_vec(),
        });
    }
    Ok(of_answers(answers))
}

/// An error with whose opinion it came of.
fn held_by(error: Error, opinion: &OpinionCase) -> Error {
    match error {
        Error::Impossible { mut contradiction } => {
            if let Some(last) = contradiction.last_mut() {
                last.push_str(&format!(" (as {} sees it)", opinion.name));
            }
            Error::Impossible { contradiction }
        }
        other => other,
    }
}

fn of_answers(opinions: Vec<Opinion>) -> Pool {
    let linear = (0..4)
        .map(|verdict| {
            opinions
                .iter()
                .map(|o| o.weight * o.verdicts[verdict])
                .sum()
        })
        .collect();
    let logarithms: Vec<f64> = (0..4)
        .map(|verdict| {
            let logarithms = opinions
                .iter()
                .map(|o| o.weight * libm::log(o.verdicts[verdict]));
            logarithms.sum()
        })
        .collect();
    let most = logarithms.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let logarithmic = if most == f64::NEG_INFINITY {
        // Between them they rule everything out.
        Vec::new()
    } else {
        let weights: Vec<f64> = logarithms.iter().map(|l| libm::exp(l - most)).collect();
        let total: f64 = weights.iter().sum();
        weights.iter().map(|weight| weight / total).collect()
    };
    Pool {
        opinions,
        linear,
        logarithmic,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn opinion(weight: f64, verdicts: [f64; 4]) -> Opinion {
        Opinion {
            name: "somebody".into(),
            weight,
            priors: vec![0.25; 4],
            verdicts: verdicts.to_vec(),
        }
    }

    #[test]
    fn the_linear_pool_is_a_mean_and_the_logarithmic_a_geometric_one() {
        let pool = of_answers(vec![
            opinion(0.5, [0.9, 0.1, 0.0, 0.0]),
            opinion(0.5, [0.5, 0.5, 0.0, 0.0]),
        ]);
        assert!((pool.linear[0] - 0.7).abs() < 1e-15);
        // sqrt(0.45) against sqrt(0.05): three to one.
        assert!(
            (pool.logarithmic[0] - 0.75).abs() < 1e-15,
            "{:?}",
            pool.logarithmic
        );
        assert_eq!(pool.logarithmic[3], 0.0);
    }

    #[test]
    fn opinions_that_rule_one_another_out_have_no_logarithmic_pool() {
        let pool = of_answers(vec![
            opinion(0.5, [1.0, 0.0, 0.0, 0.0]),
            opinion(0.5, [0.0, 0.0, 0.0, 1.0]),
        ]);
        assert_eq!(pool.linear, [0.5, 0.0, 0.0, 0.5]);
        assert!(pool.logarithmic.is_empty());
    }

    #[test]
    fn one_opinion_pools_to_itself() {
        let pool = of_answers(vec![opinion(1.0, [0.4, 0.3, 0.2, 0.1])]);
        for (have, want) in pool.linear.iter().zip(&pool.logarithmic) {
            assert!((have - want).abs() < 1e-15);
        }
    }
}
