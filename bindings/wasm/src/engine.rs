//! One object that everything is asked of.

use crate::answer::{Answer, Refusal, hand_over, options, refusal};
use oddment::ask::{
    AssessOptions, DecideOptions, ExplainOptions, LeanOptions, NextOptions, NoOptions, OptionError,
    PracticeOptions, ReportOptions, StudyOptions,
};
use oddment::decide::{Decision, Stakes, decide};
use oddment::leaning::Leaning;
use oddment::pool::Subject;
use oddment::study::{Study, StudyInTurns};
use oddment::{
    Case, Model, Pack, Problem, Text, check_outlooks, explain, form, lean, look_next, packs,
    practice, report,
};
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
    last: RefCell<Option<Compiled>>,
}

/// The model of the last assessment: the next is as a rule of the same piece.
#[derive(Debug)]
struct Compiled {
    pack: Rc<Pack>,
    years: (i32, i32),
    numbers: Vec<f64>,
    model: Rc<Model>,
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
            _ => {
                let message = "give a form's id, or a pack of your own";
                Err(OptionError::out_of_bounds(message).into())
            }
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

    /// The model for a case's claim and numbers.
    fn model(&self, pack: &Rc<Pack>, case: &Case) -> Result<Rc<Model>, Refusal> {
        let mut last = self.last.borrow_mut();
        let same = |known: &&Compiled| {
            Rc::ptr_eq(&known.pack, pack)
                && known.years == case.years
                && known.numbers == case.numbers
        };
        if let Some(known) = last.as_ref().filter(same) {
            return Ok(Rc::clone(&known.model));
        }
        let model = Rc::new(Model::compile(pack, case.years, &case.numbers)?);
        *last = Some(Compiled {
            pack: Rc::clone(pack),
            years: case.years,
            numbers: case.numbers.clone(),
            model: Rc::clone(&model),
        });
        Ok(model)
    }
}

/// Everything here but the constructor refuses with `{code, message, problems, contradiction}`.
/// `pack` and `library` are texts of the user's own, TOML or JSON, instead of those that come with
/// the engine; `options` are an object in JSON, read as the type of [`oddment::ask`] for it.
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

    /// Answers a question about a form: `describe`, `newCase`, `lint` or `practice`.
    #[wasm_bindgen(js_name = askForm)]
    pub fn ask_form(
        &self,
        question: &str,
        form: Option<String>,
        pack: Option<String>,
        library: Option<String>,
        given: Option<String>,
    ) -> Answer {
        let pack = match self.form_pack(form, pack, library) {
            Ok(pack) => pack,
            Err(why) => return Err(refusal(&why)),
        };
        let given = given.as_deref();
        match question {
            "practice" => hand_over(options::<PracticeOptions>(given).and_then(|asked| {
                let asked = asked.checked()?;
                Ok(practice::practice(&pack, &asked)?)
            })),
            "describe" => hand_over(nothing(given).map(|()| form::describe(&pack))),
            "newCase" => hand_over(nothing(given).map(|()| oddment::new_case(&pack))),
            "lint" => hand_over(nothing(given).map(|()| pack.lint())),
            _ => unknown(question),
        }
    }

    /// Answers a question about a case: `readCase`, `assess`, `explain`, `next`, `lean`, `decide` or
    /// `report`.
    #[wasm_bindgen(js_name = askCase)]
    pub fn ask_case(
        &self,
        question: &str,
        text: &str,
        pack: Option<String>,
        shared: Option<String>,
        given: Option<String>,
    ) -> Answer {
        let (pack, case) = match self.case(text, pack, shared.clone()) {
            Ok(found) => found,
            Err(why) => return Err(refusal(&why)),
        };
        let (pack, case) = (&pack, &case);
        let given = given.as_deref();
        match question {
            "readCase" => hand_over(nothing(given).map(|()| &case.file)),
            "assess" => hand_over(options::<AssessOptions>(given).and_then(|asked| {
                let model = self.model(pack, case)?;
                Ok(model.assess(pack, case, asked.fit)?)
            })),
            "explain" => hand_over(options::<ExplainOptions>(given).and_then(|asked| {
                let between = asked.between()?;
                Ok(explain(pack, case, between)?)
            })),
            "next" => hand_over(options::<NextOptions>(given).and_then(|asked| {
                let asked = asked.checked()?;
                Ok(look_next(pack, case, &asked)?)
            })),
            "lean" => hand_over(options(given).and_then(|asked| {
                let subject = Subject {
                    pack,
                    case,
                    text: Text::new("case", text),
                    library: library(shared.as_deref()),
                };
                leaning(&subject, &asked)
            })),
            "decide" => hand_over(options(given).and_then(|asked| decision(pack, case, &asked))),
            "report" => hand_over(
                options::<ReportOptions>(given)
                    .and_then(|asked| Ok(report::write(pack, case, asked.format)?)),
            ),
            _ => unknown(question),
        }
    }

    /// Starts a study, of which nothing is done yet.
    pub fn study(
        &self,
        case: &str,
        pack: Option<String>,
        library: Option<String>,
        given: Option<String>,
    ) -> Result<StudyRun, JsValue> {
        let run = options::<StudyOptions>(given.as_deref()).and_then(|asked| {
            let asked = asked.checked()?;
            let (pack, case) = self.case(case, pack, library)?;
            Ok(StudyRun {
                work: StudyInTurns::new(pack, case, asked),
                study: None,
            })
        });
        run.map_err(|why| refusal(&why))
    }

    /// Fails as nothing here should, so that it can be tried what happens then.
    #[wasm_bindgen(js_name = provokeCrash)]
    pub fn provoke_crash(&self) {
        panic!("provoked");
    }
}

/// Where nothing may be asked for.
fn nothing(given: Option<&str>) -> Result<(), Refusal> {
    options::<NoOptions>(given).map(|_| ())
}

fn unknown(question: &str) -> Answer {
    let message = format!("there is no question `{question}`");
    Err(refusal(&OptionError::out_of_bounds(message).into()))
}

fn leaning(subject: &Subject<'_>, asked: &LeanOptions) -> Result<Leaning, Refusal> {
    let mut wanted = asked.checked()?;
    for (place, opinion) in asked.opinions.iter().enumerate() {
        if place == 0 {
            wanted.opinions.push(subject.as_it_stands(1.0));
        }
        let name = format!("opinion {}", place + 1);
        let read = subject.opinion(Text::new(&name, &opinion.opinion), opinion.weight)?;
        wanted.opinions.push(read);
    }
    Ok(lean(subject.pack, subject.case, &wanted)?)
}

fn decision(pack: &Pack, case: &Case, asked: &DecideOptions) -> Result<Decision, Refusal> {
    let stakes = match &asked.stakes {
        Some(written) => Stakes::new(written).map_err(of_stakes)?,
        None => case.stakes.clone().ok_or_else(|| {
            let message = "no price is asked: give `stakes`, or put them into the case";
            Refusal::of("decide/asking", message)
        })?,
    };
    let model = Model::compile(pack, case.years, &case.numbers)?;
    let verdicts = model.verdicts(pack, case)?;
    let every = oddment::NextOptions::default();
    let checks = check_outlooks(pack, case, &model, &every)?;
    Ok(decide(&verdicts, &stakes, &checks).map_err(oddment::Error::from)?)
}

#[wasm_bindgen]
impl StudyRun {
    /// Does one turn's work; whether the study is done.
    pub fn turn(&mut self) -> Result<bool, JsValue> {
        match self.work.turn() {
            None => {}
            Some(Ok(study)) => self.study = Some(study),
            Some(Err(error)) => return Err(refusal(&error.into())),
        }
        Ok(self.study.is_some())
    }

    /// Evaluations done.
    pub fn done(&self) -> f64 {
        self.work.progress().0 as f64
    }

    /// Evaluations in all; 0 before the first turn.
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
        let early = || OptionError::out_of_bounds("the study is not done").into();
        hand_over(report.ok_or_else(early))
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
