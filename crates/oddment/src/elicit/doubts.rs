//! What to doubt about judgements and what they came to, in words.

use super::fitted::{Fitted, figures};
use super::{Agreement, ElicitedOpinion, ElicitedPool, PoolKind, Said};

/// A difference in level from which on a fit is bad: 5 in 100, and in a row, which has to make do
/// with one strength for all its levels, 10.
const BAD_FIT: f64 = 0.05;
const BAD_FIT_OF_ROW: f64 = 0.1;

/// More pieces than a person has plausibly seen with one question in mind.
const MANY_PIECES: f64 = 100.0;

/// Fewer pieces than an opinion is worth.
const FEW_PIECES: f64 = 2.0;

/// How far chances of a row may be from summing to 1 as judged.
const ROW_SUM: f64 = 0.05;

/// The share of a measure below 0 from which on one should ask whether it can be.
const BELOW_ZERO: f64 = 0.005;

/// What to doubt about one opinion; `sum` is what the levels of a row summed to.
pub(super) fn of_opinion(opinion: &ElicitedOpinion, sum: f64) -> Vec<String> {
    let mut doubts = Vec::new();
    doubts.extend(bad_fit(&opinion.said));
    let counted = opinion.said.iter().any(|said| said.count.is_some());
    doubts.extend(worth(&opinion.fitted, counted));
    if (sum - 1.0).abs() > ROW_SUM {
        doubts.push(format!(
            "The chances of the levels sum to {} as judged, and were brought to 1; see whether one \
             of them should change.",
            figures(sum)
        ));
    }
    doubts.extend(below_zero(opinion));
    let alone = opinion.said.len() == 1;
    if alone && opinion.said[0].quantiles.len() == 2 {
        doubts.push(
            "Two values always fit, whatever they are; a third would show whether they go together."
                .to_owned(),
        );
    }
    doubts
}

/// The judgement missed by most, if it is missed badly.
fn bad_fit(said: &[Said]) -> Option<String> {
    let missed = |said: &Said| -> Vec<(f64, f64, f64)> {
        let quantiles = said.quantiles.iter();
        quantiles
            .map(|q| ((q.below - q.level).abs(), q.level, q.below))
            .collect()
    };
    let worst = said
        .iter()
        .flat_map(missed)
        .max_by(|one, other| one.0.total_cmp(&other.0))?;
    let most = if said.len() > 1 {
        BAD_FIT_OF_ROW
    } else {
        BAD_FIT
    };
    (worst.0 > most).then(|| {
        format!(
            "The judgements fit badly: what was said to be the {} % value is one for {} % at the \
             best. Think again about the value that surprises most.",
            figures(100.0 * worst.1),
            figures(100.0 * worst.2)
        )
    })
}

/// Whether a number is worth more or fewer pieces than seems right.
pub(super) fn worth(fitted: &Fitted, counted: bool) -> Option<String> {
    let strength = fitted.strength()?;
    let pieces = figures(strength);
    if strength > MANY_PIECES && counted {
        Some(format!(
            "Worth {pieces} pieces: count only pieces that were really looked at with this question \
             in mind."
        ))
    } else if strength > MANY_PIECES {
        Some(format!(
            "Worth {pieces} pieces, more than most people have seen with this question in mind. \
             Ranges are as a rule stated too narrowly: would it surprise you to be outside?"
        ))
    } else if strength < FEW_PIECES {
        Some(format!(
            "Worth {pieces} pieces, which is hardly an opinion: a pack needs one worth 2 or more."
        ))
    } else {
        None
    }
}

/// Whether a measure that was only judged above 0 goes below in earnest.
fn below_zero(opinion: &ElicitedOpinion) -> Option<String> {
    let Fitted::Measure { .. } = opinion.fitted else {
        return None;
    };
    let mut quantiles = opinion.said.iter().flat_map(|said| &said.quantiles);
    let below = opinion.fitted.below(0.0);
    (quantiles.all(|q| q.said > 0.0) && below > BELOW_ZERO).then(|| {
        format!(
            "It gives {} in 100 to values below 0; if there are none, say that it is positive.",
            figures(100.0 * below)
        )
    })
}

/// What to doubt about a pool.
pub(super) fn of_pool(pool: &ElicitedPool, asked: PoolKind) -> Vec<String> {
    let mut doubts = Vec::new();
    if asked == PoolKind::Logarithmic && pool.logarithmic.is_none() {
        doubts.push(
            "The logarithmic pool of these densities is of no family that a pack can state, so the \
             linear one stands."
                .to_owned(),
        );
    }
    doubts
}

impl ElicitedPool {
    /// How far the opinions agree, in a sentence or two.
    pub fn words(&self) -> String {
        let share = format!("{:.0} in 100", 100.0 * self.between);
        let (one, other) = self.apart.clone().unwrap_or_default();
        match self.agreement {
            Agreement::Agree => format!(
                "They agree: everybody's middle lies within everybody else's 90 % range, and \
                 {share} of the spread is between them."
            ),
            Agreement::Differ => format!(
                "They differ: the middle of {one} or {other} lies outside the other's 90 % range, \
                 and {share} of the spread is between opinions. Let each say what pieces they have \
                 in mind before pooling."
            ),
            Agreement::Contradict => format!(
                "They contradict each other: the 90 % ranges of {one} and {other} have nothing in \
                 common, and {share} of the spread is between opinions. Most likely they answer \
                 different questions; a pool of such opinions is nobody's."
            ),
        }
    }
}
