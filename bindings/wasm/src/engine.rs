//! One object that everything is asked of.

use crate::answer::{Answer, Refusal, hand_over, options, refusal};
use crate::options::{
    DecideOptions, ExplainOptions, LeanOptions, NextOptions, NoOptions, PracticeOptions,
    ReportFormat, ReportOptions, StudyOptions,
};
use oddment::decide::{Stakes, decide};
use oddment::pool::Subject;
use oddment::report::{self, ReportParts};
use oddment::study::{Study, StudyInTurns};
use oddment::{Case, Model, Pack, Problem, Text, form, packs, practice};
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::prelude::{JsValue, wasm_bindgen};

/// Packs kept composed: all that come with the engine, and some of the user's.
const KEPT: usize = 20;

/// The engine. Nothing asked of it changes what it answers later; it only remembers packs it has
/// composed before.
#[wasm_bindgen]
#[derive(Debug, Default)]
pub struct Engine {
    packs: RefCell<Vec<(PackKey, Rc<Pack>)>>,
}

/// What a pack was composed from.
#[derive(Debug, Clone, PartialEq, Eq)]
enum PackKey {
    Form(String),
    Texts(String, Option<String>),
}

/// A study under way.
#[wasm_bindgen]
#[derive(Debug)]
pub struct StudyRun {
    work: StudyInTurns,
    study: Option<Study>,
}

fn library(text: Option<&str>) -> Text<'_> {
    text.map_or(packs::library(), |text| Text::new("library", text))
}

impl Engine {
    fn pack(&self, key: PackKey) -> Result<Rc<Pack>, Refusal> {
        let mut kept = self.packs.borrow_mut();
        if let Some(place) = kept.iter().position(|(known, _)| *known == key) {
            // What was asked for last is let go last.
            let entry = kept.remove(place);
            let pack = Rc::clone(&entry.1);
            kept.push(entry);
            return Ok(pack);
        }
        let pack = Rc::new(match &key {
            PackKey::Form(form) => packs::load(form)?,
            PackKey::Texts(pack, shared) => {
                packs::compose(Text::new("pack", pack), library(shared.as_deref()))?
            }
        });
        if kept.len() >= KEPT {
            kept.remove(0);
        }
        kept.push((key, Rc::clone(&pack)));
        Ok(pack)
    }

    /// The pack for a form, or the user's own.
    fn form_pack(
        &self,
        form: Option<String>,
        pack: Option<String>,
        shared: Option<String>,
    ) -> Result<Rc<Pack>, Refusal> {
        match (form, pack) {
            (Some(form), None) => self.pack(PackKey::Form(form)),
            (None, Some(pack)) => self.pack(PackKey::Texts(pack, shared)),
            _ => Err(Refusal::option("give a form's id, or a pack of your own")),
        }
    }

    /// A case with the pack for it.
    fn case(
        &self,
        text: &str,
        pack: Option<String>,
        shared: Option<String>,
    ) -> Result<(Rc<Pack>, Case), Refusal> {
        let text = Text::new("case", text);
        let key = match (pack, shared) {
            (Some(pack), shared) => PackKey::Texts(pack, shared),
            (None, None) => {
                packs::text_for(text)?;
                PackKey::Form(Case::form(text)?)
            }
            (None, Some(shared)) => {
                let pack = packs::text_for(text)?.content.to_owned();
                PackKey::Texts(pack, Some(shared))
            }
        };
        let pack = self.pack(key)?;
        let case = Case::load(text, &pack)?;
        Ok((pack, case))
    }
}

/// Everything here but the constructor refuses with `{code, message, problems, contradiction}`.
/// `pack` and `library` are texts of the user's own, TOML or JSON, instead of those that come with
/// the engine.
#[wasm_bindgen]
impl Engine {
    /// An engine that has composed no pack yet.
    #[wasm_bindgen(constructor)]
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Version of the engine.
    #[must_use]
    pub fn version() -> String {
        env!("CARGO_PKG_VERSION").to_owned()
    }

    /// The forms that come with the engine.
    pub fn forms(&self) -> Answer {
        hand_over(Ok(packs::summaries()))
    }

    /// Everything a pack says of its form.
    pub fn describe(
        &self,
        form: Option<String>,
        pack: Option<String>,
        library: Option<String>,
    ) -> Answer {
        let pack = self.form_pack(form, pack, library);
        hand_over(pack.map(|pack| form::describe(&pack)))
    }

    /// A commented case to fill in, as text.
    #[wasm_bindgen(js_name = newCase)]
    pub fn new_case(
        &self,
        form: Option<String>,
        pack: Option<String>,
        library: Option<String>,
    ) -> Answer {
        let pack = self.form_pack(form, pack, library);
        hand_over(pack.map(|pack| oddment::new_case(&pack)))
    }

    /// A case as an object, checked.
    #[wasm_bindgen(js_name = readCase)]
    pub fn read_case(
        &self,
        case: &str,
        pack: Option<String>,
        library: Option<String>,
        given: JsValue,
    ) -> Answer {
        hand_over(options::<NoOptions>(given).and_then(|_| {
            let (_, case) = self.case(case, pack, library)?;
            Ok(case.file)
        }))
    }

    /// The odds of every history.
    pub fn assess(
        &self,
        case: &str,
        pack: Option<String>,
        library: Option<String>,
        given: JsValue,
    ) -> Answer {
        hand_over(options::<NoOptions>(given).and_then(|_| {
            let (pack, case) = self.case(case, pack, library)?;
            Ok(oddment::assess(&pack, &case)?)
        }))
    }

    /// How the findings built it up.
    pub fn explain(
        &self,
        case: &str,
        pack: Option<String>,
        library: Option<String>,
        given: JsValue,
    ) -> Answer {
        hand_over(options::<ExplainOptions>(given).and_then(|asked| {
            let between = asked.between()?;
            let (pack, case) = self.case(case, pack, library)?;
            Ok(oddment::explain(&pack, &case, between)?)
        }))
    }

    /// What is still worth looking at.
    pub fn next(
        &self,
        case: &str,
        pack: Option<String>,
        library: Option<String>,
        given: JsValue,
    ) -> Answer {
        hand_over(options::<NextOptions>(given).and_then(|asked| {
            let asked = asked.checked()?;
            let (pack, case) = self.case(case, pack, library)?;
            Ok(oddment::look_next(&pack, &case, &asked)?)
        }))
    }

    /// Which numbers it hangs on, and what other people's opinions come to.
    pub fn lean(
        &self,
        text: &str,
        pack: Option<String>,
        shared: Option<String>,
        given: JsValue,
    ) -> Answer {
        hand_over(options::<LeanOptions>(given).and_then(|asked| {
            let mut wanted = asked.checked()?;
            let (pack, case) = self.case(text, pack, shared.clone())?;
            let subject = Subject {
                pack: &pack,
                case: &case,
                text: Text::new("case", text),
                library: library(shared.as_deref()),
            };
            for (place, opinion) in asked.opinions.iter().enumerate() {
                if place == 0 {
                    wanted.opinions.push(subject.as_it_stands(1.0));
                }
                let name = format!("opinion {}", place + 1);
                let read = subject.opinion(Text::new(&name, &opinion.opinion), opinion.weight)?;
                wanted.opinions.push(read);
            }
            Ok(oddment::lean(&pack, &case, &wanted)?)
        }))
    }

    /// Starts a study, of which nothing is done yet.
    pub fn study(
        &self,
        case: &str,
        pack: Option<String>,
        library: Option<String>,
        given: JsValue,
    ) -> Result<StudyRun, JsValue> {
        let run = options::<StudyOptions>(given).and_then(|asked| {
            let asked = asked.checked()?;
            let (pack, case) = self.case(case, pack, library)?;
            Ok(StudyRun {
                work: StudyInTurns::new(pack, case, asked),
                study: None,
            })
        });
        run.map_err(|why| refusal(&why))
    }

    /// Whether to buy, on the user's own figures.
    pub fn decide(
        &self,
        case: &str,
        pack: Option<String>,
        library: Option<String>,
        given: JsValue,
    ) -> Answer {
        hand_over(options::<DecideOptions>(given).and_then(|asked| {
            let (pack, case) = self.case(case, pack, library)?;
            let stakes = match &asked.stakes {
                Some(written) => Stakes::new(written).map_err(of_stakes)?,
                None => case.stakes.clone().ok_or_else(|| {
                    let message = "no price is asked: give `stakes`, or put them into the case";
                    Refusal::of("decide/asking", message)
                })?,
            };
            let model = Model::compile(&pack, case.years, &case.numbers)?;
            let verdicts = model.verdicts(&pack, &case)?;
            let every = oddment::NextOptions::default();
            let checks = oddment::check_outlooks(&pack, &case, &model, &every)?;
            Ok(decide(&verdicts, &stakes, &checks).map_err(oddment::Error::from)?)
        }))
    }

    /// The written report, as text.
    pub fn report(
        &self,
        case: &str,
        pack: Option<String>,
        library: Option<String>,
        given: JsValue,
    ) -> Answer {
        hand_over(options::<ReportOptions>(given).and_then(|asked| {
            let (pack, case) = self.case(case, pack, library)?;
            let assessment = oddment::assess(&pack, &case)?;
            let argument = oddment::explain(&pack, &case, None)?;
            let outlook = oddment::look_next(&pack, &case, &oddment::NextOptions::default())?;
            let leaning = oddment::lean(&pack, &case, &oddment::LeanOptions::default())?;
            let parts = ReportParts {
                pack: &pack,
                case: &case,
                assessment: &assessment,
                argument: Some(&argument),
                outlook: Some(&outlook),
                leaning: Some(&leaning),
            };
            Ok(match asked.format {
                ReportFormat::Html => report::html(&parts),
                ReportFormat::Markdown => report::markdown(&parts),
            })
        }))
    }

    /// What is doubtful in a pack that loads.
    pub fn lint(&self, pack: String, library: Option<String>) -> Answer {
        let pack = self.form_pack(None, Some(pack), library);
        hand_over(pack.map(|pack| pack.lint()))
    }

    /// A piece to practise on.
    pub fn practice(
        &self,
        form: Option<String>,
        pack: Option<String>,
        library: Option<String>,
        given: JsValue,
    ) -> Answer {
        hand_over(options::<PracticeOptions>(given).and_then(|asked| {
            let asked = asked.checked()?;
            let pack = self.form_pack(form, pack, library)?;
            Ok(practice::practice(&pack, &asked)?)
        }))
    }

    /// Fails as nothing here should, so that it can be tried what happens then.
    #[wasm_bindgen(js_name = provokeCrash)]
    pub fn provoke_crash(&self) {
        panic!("provoked");
    }
}

#[wasm_bindgen]
impl StudyRun {
    /// Does one turn's work; whether the study is done.
    ///
    /// # Errors
    /// As the library's study.
    pub fn turn(&mut self) -> Result<bool, JsValue> {
        match self.work.turn() {
            None => {}
            Some(Ok(study)) => self.study = Some(study),
            Some(Err(error)) => return Err(refusal(&error.into())),
        }
        Ok(self.study.is_some())
    }

    /// Evaluations done.
    #[must_use]
    pub fn done(&self) -> f64 {
        self.work.progress().0 as f64
    }

    /// Evaluations in all; 0 before the first turn.
    #[must_use]
    pub fn all(&self) -> f64 {
        self.work.progress().1 as f64
    }

    /// Lets the next turn be the last that draws.
    pub fn stop(&self) {
        self.work.stop();
    }

    /// What was found, once it is done.
    pub fn report(&self) -> Answer {
        let study = self.study.as_ref();
        let report = study.map(|study| &study.report);
        hand_over(report.ok_or_else(|| Refusal::option("the study is not done")))
    }
}

fn of_stakes(problems: Vec<oddment::decide::StakesProblem>) -> Refusal {
    let problems = problems.into_iter().map(|problem| Problem {
        code: problem.code,
        file: "stakes".to_owned(),
        line: 0,
        column: 0,
        message: format!("{}: {}", problem.path.join("."), problem.message),
        excerpt: String::new(),
    });
    oddment::Error::Invalid(problems.collect()).into()
}
