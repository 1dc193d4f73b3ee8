//! Whether any story told here fits what was found.

use crate::answer::Answer;
use crate::assessment::{Fit, FitJudgement};
use crate::case::Case;
use crate::evidence::Likelihoods;
use crate::model::Model;
use crate::pack::Pack;
use oddment_circuit::Workspace;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

/// The most pieces simulated for one check.
const MOST_SIMULATED: u32 = 999;

/// Once this many simulated pieces are at least as rare, the findings are ordinary enough and the
/// simulation stops: the sequential rule of Besag and Clifford, 1991, Sequential Monte Carlo
/// p-values, Biometrika 78 (from memory, unverified), whose share is then hits over draws.
const ENOUGH_AS_RARE: u32 = 40;

/// The seed, fixed so that a case always gets the same answer.
const SEED: u64 = 1;

/// Findings rarer than this share of simulated ones are unusual.
const UNUSUAL: f64 = 0.05;

/// Findings rarer than this share of simulated ones fit no story.
const NO_STORY: f64 = 0.01;

/// In place of a check that was not asked for.
pub(crate) fn not_asked() -> Fit {
    Fit {
        share_as_rare: 1.0,
        simulated: 0,
        seed: SEED,
        judgement: FitJudgement::NotAsked,
    }
}

/// Simulates pieces looked at in the same places and asks how many have findings at least as rare.
///
/// ```text
/// share = (1 + r) / (1 + n)   after all n draws, or   r / n   when stopped early
/// ```
///
/// where `r` counts the draws whose findings have no greater probability than these.
pub(crate) fn check(
    pack: &Pack,
    model: &Model,
    case: &Case,
    likelihoods: &Likelihoods,
    priors: &[f64],
    ln_evidence: f64,
) -> Fit {
    if likelihoods.items.is_empty() {
        let judgement = FitJudgement::NothingToJudge;
        return Fit {
            share_as_rare: 1.0,
            simulated: 0,
            seed: SEED,
            judgement,
        };
    }
    let mut rng = ChaCha8Rng::seed_from_u64(SEED);
    let mut workspace = model.workspace(likelihoods.quality_chances.len());
    let (mut as_rare, mut simulated) = (0_u32, 0_u32);
    while simulated < MOST_SIMULATED && as_rare < ENOUGH_AS_RARE {
        let piece = model.draw_piece(priors, &case.known, &mut rng);
        let reported = model.report(pack, case, &piece, &mut rng);
        let ln = ln_evidence_of(pack, model, &reported, priors, &mut workspace);
        // Exact ties are common where all findings are yes/no; they count as equally rare.
        if ln <= ln_evidence + 1e-9 {
            as_rare += 1;
        }
        simulated += 1;
    }
    let share_as_rare = if as_rare == ENOUGH_AS_RARE {
        f64::from(as_rare) / f64::from(simulated)
    } else {
        f64::from(as_rare + 1) / f64::from(simulated + 1)
    };
    let judgement = if share_as_rare <= NO_STORY {
        FitJudgement::NoStoryFits
    } else if share_as_rare <= UNUSUAL {
        FitJudgement::Unusual
    } else {
        FitJudgement::Fits
    };
    Fit {
        share_as_rare,
        simulated,
        seed: SEED,
        judgement,
    }
}

/// Natural logarithm of the probability of a case's findings.
fn ln_evidence_of(
    pack: &Pack,
    model: &Model,
    case: &Case,
    priors: &[f64],
    workspace: &mut Workspace,
) -> f64 {
    let Ok(likelihoods) = Likelihoods::new(pack, model, case) else {
        // A reading no history gives any chance.
        return f64::NEG_INFINITY;
    };
    likelihoods.apply(pack, model, case, workspace, |_| true);
    model.circuit.value(workspace);
    Answer::new(pack, model, &likelihoods, workspace, priors).ln_evidence()
}
