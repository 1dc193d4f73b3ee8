//! A case put to a model: everything that is asked of a piece is read off one of these.

use crate::answer::Answer;
use crate::assessment::{PackStamp, PieceSummary};
use crate::case::Case;
use crate::error::Error;
use crate::evidence::Likelihoods;
use crate::model::Model;
use crate::pack::{Pack, VERDICTS, Verdict};
use crate::prior::{applying_factors, history_priors};
use oddment_circuit::Workspace;

/// A case put to a model, evaluated and differentiated once.
///
/// ```
/// use oddment::{Case, Inquiry, Model, Text, packs};
/// let pack = packs::load("drop-leaf-table")?;
/// let text = include_str!("../../../priors/cases/pieced-out-oval.toml");
/// let case = Case::load(Text::new("pieced-out-oval.toml", text), &pack)?;
/// let model = Model::compile(&pack, case.years, &case.numbers)?;
/// let inquiry = Inquiry::open(&pack, &case, &model)?;
/// let verdicts = inquiry.verdicts();
/// assert!((verdicts.iter().sum::<f64>() - 1.0).abs() < 1e-12);
/// # Ok::<(), oddment::Error>(())
/// ```
#[derive(Debug)]
pub struct Inquiry<'a> {
    pub(crate) pack: &'a Pack,
    pub(crate) case: &'a Case,
    pub(crate) model: &'a Model,
    pub(crate) likelihoods: Likelihoods,
    pub(crate) workspace: Workspace,
    pub(crate) priors: Vec<f64>,
    /// Joint probability of each history and all evidence, over the workspace's power of two.
    pub(crate) joint: Vec<f64>,
}

impl<'a> Inquiry<'a> {
    /// Puts a case to a model compiled for its claim and its numbers.
    ///
    /// # Errors
    /// [`Error::Impossible`] with a minimal set of findings that contradict one another.
    pub fn open(pack: &'a Pack, case: &'a Case, model: &'a Model) -> Result<Self, Error> {
        Self::with_visit(pack, case, model, None)
    }

    /// As [`open`](Self::open), keeping the quality of one more visit open even if nothing was
    /// reported from it yet.
    pub(crate) fn with_visit(
        pack: &'a Pack,
        case: &'a Case,
        model: &'a Model,
        visit: Option<usize>,
    ) -> Result<Self, Error> {
        let priors = history_priors(pack, case);
        let likelihoods = Likelihoods::with_visit(pack, model, case, visit)?;
        let mut workspace = model.workspace(likelihoods.quality_chances.len());
        likelihoods.apply(pack, model, case, &mut workspace, |_| true);
        model.circuit.derivative(&mut workspace);
        let answer = Answer::new(pack, model, &likelihoods, &workspace, &priors);
        let joint = answer.histories();
        if joint.iter().sum::<f64>() <= 0.0 {
            return Err(model.contradiction(pack, case, &likelihoods, &priors));
        }
        Ok(Self {
            pack,
            case,
            model,
            likelihoods,
            workspace,
            priors,
            joint,
        })
    }

    pub(crate) fn answer(&self) -> Answer<'_> {
        Answer::new(
            self.pack,
            self.model,
            &self.likelihoods,
            &self.workspace,
            &self.priors,
        )
    }

    /// The probability of each history given all findings, in the pack's order.
    pub fn histories(&self) -> Vec<f64> {
        let total: f64 = self.joint.iter().sum();
        self.joint.iter().map(|joint| joint / total).collect()
    }

    /// The probability of each verdict given all findings, in the usual order.
    pub fn verdicts(&self) -> [f64; 4] {
        by_verdict(self.pack, &self.histories())
    }

    /// The leading verdict.
    pub fn leading(&self) -> Verdict {
        leading(&self.verdicts())
    }

    /// Natural logarithm of the probability of everything reported, under the pack and its prior.
    pub fn ln_evidence(&self) -> f64 {
        self.answer().ln_evidence()
    }

    pub(crate) fn stamp(&self) -> PackStamp {
        stamp(self.pack)
    }

    pub(crate) fn piece(&self) -> PieceSummary {
        piece_summary(self.pack, self.case)
    }
}

/// Sums over the histories of each verdict.
pub(crate) fn by_verdict(pack: &Pack, histories: &[f64]) -> [f64; 4] {
    let mut sums = [0.0; 4];
    for (history, weight) in pack.histories.iter().zip(histories) {
        sums[place_of(history.verdict)] += weight;
    }
    sums
}

/// A verdict's place in the usual order.
pub(crate) fn place_of(verdict: Verdict) -> usize {
    VERDICTS.iter().position(|v| *v == verdict).unwrap_or(0)
}

/// The verdict with the largest weight, the first of equals.
pub(crate) fn leading(verdicts: &[f64]) -> Verdict {
    let mut best = 0;
    for (place, weight) in verdicts.iter().enumerate().take(VERDICTS.len()) {
        if *weight > verdicts[best] {
            best = place;
        }
    }
    VERDICTS[best]
}

pub(crate) fn stamp(pack: &Pack) -> PackStamp {
    PackStamp {
        id: pack.id.clone(),
        name: pack.name.clone(),
        version: pack.version.clone(),
        library_version: pack.library_version.clone(),
        digest: pack.digest.clone(),
    }
}

pub(crate) fn piece_summary(pack: &Pack, case: &Case) -> PieceSummary {
    let mut prior_reasons = Vec::new();
    if case.prior.is_some() {
        prior_reasons.push("the user's own prior".to_owned());
    } else {
        prior_reasons.push(pack.priors[case.variant].reason.clone());
        prior_reasons.extend(applying_factors(pack, case).map(|factor| factor.reason.clone()));
    }
    PieceSummary {
        title: case.file.piece.title.clone(),
        variant: pack.variants[case.variant].name.clone(),
        period: pack.periods[case.period].name.clone(),
        years: case.years,
        region: pack.regions[case.region].name.clone(),
        prior_reasons,
    }
}
