//! The written form of an opinion, and putting one to a case.

use super::OpinionCase;
use crate::case::Case;
use crate::error::{Error, Problem};
use crate::pack::Pack;
use crate::pack::extension::EXTENSION_SCHEMA;
use crate::pack::file::PACK_SCHEMA;
use crate::packs;
use crate::text::{At, Kind, Problems, Text, parse, schema_of};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The `schema` field of an opinion file.
pub const OPINION_SCHEMA: &str = "oddment/opinion/1";

/// The name of the opinion that the case itself holds.
pub const AS_IT_STANDS: &str = "the case as it stands";

/// The longest name.
const MAX_NAME: usize = 200;

/// What the text should be.
const KIND: Kind = Kind {
    schema: OPINION_SCHEMA,
    schema_code: "opinion/schema",
    syntax_code: "opinion/syntax",
};

/// What somebody else would put into a case: another prior, other numbers, the same findings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OpinionFile {
    /// Always `oddment/opinion/1`.
    pub schema: String,
    /// Whose opinion (initials or a role).
    pub name: String,
    /// Prior counts by history id, instead of the case's and the pack's; they are normalised, and a
    /// history left out counts 0.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub prior: BTreeMap<String, f64>,
    /// Values for numbers of the pack, by number id, before those of the case.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub numbers: BTreeMap<String, f64>,
}

/// What opinions are held about: a case with the texts it came from.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// The pack of the case.
    pub pack: &'a Pack,
    /// The case.
    pub case: &'a Case,
    /// The text of the case, in which what another pack refuses can be placed.
    pub text: Text<'a>,
    /// The library that further packs are composed with.
    pub library: Text<'a>,
}

impl Subject<'_> {
    /// The opinion that the case itself holds.
    pub fn as_it_stands(&self, weight: f64) -> OpinionCase {
        OpinionCase {
            name: AS_IT_STANDS.into(),
            weight,
            pack: self.pack.clone(),
            case: self.case.clone(),
        }
    }

    /// Reads an opinion, in TOML or JSON: an [`OpinionFile`], or a whole pack or an extension of one,
    /// under which the same case is put.
    ///
    /// # Errors
    /// [`Error::Invalid`] with every problem found in the opinion or, where the case does not go
    /// with the pack, in the case.
    ///
    /// ```
    /// use oddment::pool::{Subject, pool};
    /// use oddment::{Case, Text, packs};
    /// let pack = packs::load("drop-leaf-table")?;
    /// let text = include_str!("../../../../priors/cases/hardly-looked-at.toml");
    /// let text = Text::new("hardly-looked-at.toml", text);
    /// let case = Case::load(text, &pack)?;
    /// let subject = Subject { pack: &pack, case: &case, text, library: packs::library() };
    /// let opinion = Text::new("other.toml", r#"
    /// schema = "oddment/opinion/1"
    /// name = "a restorer"
    /// [prior]
    /// wide-boards = 900.0
    /// made-up-from-old = 100.0
    /// "#);
    /// let pooled = pool(&[subject.as_it_stands(1.0), subject.opinion(opinion, 2.0)?])?;
    /// assert_eq!(pooled.opinions[1].name, "a restorer");
    /// assert!(pooled.opinions[1].verdicts[0] > pooled.opinions[0].verdicts[0]);
    /// # Ok::<(), oddment::Error>(())
    /// ```
    pub fn opinion(&self, text: Text<'_>, weight: f64) -> Result<OpinionCase, Error> {
        if matches!(
            schema_of(&text).as_deref(),
            Some(PACK_SCHEMA | EXTENSION_SCHEMA)
        ) {
            return self.under_pack(text, weight);
        }
        let file: OpinionFile = parse(&text, &KIND).map_err(|mut problems| {
            for problem in &mut problems {
                if problem.code == KIND.schema_code {
                    let or = format!(", or `{PACK_SCHEMA}` or `{EXTENSION_SCHEMA}` for a pack or an extension of one");
                    problem.message.push_str(&or);
                }
            }
            Error::Invalid(problems)
        })?;
        let mut problems = Problems::new(vec![text]);
        let name = file.name.trim();
        if name.is_empty() || name.chars().count() > MAX_NAME {
            let message =
                format!("the name must say whose opinion it is, in 1 to {MAX_NAME} characters");
            problems.note(&At::root(0).then("name"), "opinion/name", message);
        }
        let case = self.case.with_opinion(self.pack, &file, &mut problems);
        match case {
            Some(case) if problems.is_empty() => Ok(OpinionCase {
                name: name.to_owned(),
                weight,
                pack: self.pack.clone(),
                case,
            }),
            _ => Err(Error::Invalid(
                problems.finish().into_iter().map(of_an_opinion).collect(),
            )),
        }
    }

    fn under_pack(&self, text: Text<'_>, weight: f64) -> Result<OpinionCase, Error> {
        let pack = packs::compose(text, self.library)?;
        let case = Case::load(self.text, &pack).map_err(|error| {
            let mut problems = error.problems().to_vec();
            for problem in &mut problems {
                // What stands in the case is right under its own pack.
                problem.message = format!("under the pack `{}`: {}", text.name, problem.message);
            }
            Error::Invalid(problems)
        })?;
        Ok(OpinionCase {
            name: format!("the pack {}", text.name),
            weight,
            pack,
            case,
        })
    }
}

/// The checks are those of a case; what they find stands in an opinion.
fn of_an_opinion(problem: Problem) -> Problem {
    let code = match problem.code {
        "case/unknown-id" => "opinion/unknown-id",
        "case/number" => "opinion/number",
        code => code,
    };
    Problem { code, ..problem }
}
