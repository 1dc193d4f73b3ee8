//! What must hold of every report.

mod made_up;

use super::{ReportParts, html, markdown};
use crate::assessment::FitJudgement;
use crate::{Assessment, Case, Pack, Text, assess, new_case, packs};

/// A case with everything a report can be made of.
struct Whole {
    pack: Pack,
    case: Case,
    assessment: Assessment,
}

impl Whole {
    fn of(text: &str) -> Self {
        let pack = packs::load("drop-leaf-table").unwrap();
        let case = Case::load(Text::new("case", text), &pack).unwrap();
        let assessment = assess(&pack, &case).unwrap();
        Self {
            pack,
            case,
            assessment,
        }
    }

    fn plain(&self) -> ReportParts<'_> {
        ReportParts {
            pack: &self.pack,
            case: &self.case,
            assessment: &self.assessment,
            argument: None,
            outlook: None,
            leaning: None,
        }
    }

    /// Hands over the parts with made-up further ones.
    fn full<T>(&self, use_them: impl FnOnce(&ReportParts<'_>) -> T) -> T {
        let argument = made_up::argument(&self.assessment);
        let outlook = made_up::outlook(&self.pack, &self.assessment);
        let leaning = made_up::leaning(&self.pack, &self.assessment);
        use_them(&ReportParts {
            argument: Some(&argument),
            outlook: Some(&outlook),
            leaning: Some(&leaning),
            ..self.plain()
        })
    }
}

const OVAL: &str = include_str!("../../../../../priors/cases/pieced-out-oval.toml");

#[test]
fn dump() {
    for (name, text) in [
        ("oval", OVAL.to_owned()),
        ("none", new_case(&packs::load("drop-leaf-table").unwrap())),
        (
            "nofit",
            include_str!("../../../../../priors/cases/no-story-fits.toml").to_owned(),
        ),
    ] {
        let whole = Whole::of(&text);
        whole.full(|parts| {
            std::fs::write(format!("/tmp/rep/full-{name}.html"), html(parts)).unwrap();
            std::fs::write(format!("/tmp/rep/full-{name}.md"), markdown(parts)).unwrap();
        });
    }
}
