//! A case as somebody else would write it.

use super::{Case, Loader};
use crate::pack::Pack;
use crate::pool::OpinionFile;
use crate::text::{At, Problems};

impl Case {
    /// The case with an opinion's prior and numbers in place of its own; notes what is wrong with
    /// them in the opinion's text.
    pub(crate) fn with_opinion(
        &self,
        pack: &Pack,
        opinion: &OpinionFile,
        problems: &mut Problems<'_>,
    ) -> Option<Self> {
        let mut file = self.file.clone();
        if !opinion.prior.is_empty() {
            file.prior = opinion.prior.clone();
        }
        let numbers = opinion.numbers.iter();
        file.numbers
            .extend(numbers.map(|(id, value)| (id.clone(), *value)));
        let root = At::root(0);
        let mut loader = Loader { pack, problems };
        // What the opinion leaves to the case is right already.
        let prior = loader.prior(&root, &file);
        let numbers = loader.numbers(&root, &file);
        let case = Self {
            prior,
            numbers,
            file,
            ..self.clone()
        };
        let at = if opinion.numbers.is_empty() {
            root.then("prior")
        } else {
            root.then("numbers")
        };
        loader.odds(&at, &case);
        problems.is_empty().then_some(case)
    }
}
