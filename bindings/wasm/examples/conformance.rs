//! Answers the questions of `tests/conformance.json` natively and prints questions and answers, to
//! be compared bit for bit with what the module answers in Node and in a browser.
//!
//! Asks the library directly, so that the binding is checked as well.

use oddment::ask::ReportFormat;
use oddment::case::file::StakesFile;
use oddment::decide::{Stakes, decide};
use oddment::pack::Verdict;
use oddment::practice::{PracticeOptions, practice};
use oddment::study::{StudyOptions, study};
use oddment::{
    Case, LeanOptions, Model, NextOptions, Pack, Text, assess, check_outlooks, explain, form, lean,
    look_next, new_case, packs, report,
};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::path::{Path, PathBuf};

type Result<T> = std::result::Result<T, Box<dyn Error>>;

fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_owned()
}

/// Reads one option; nothing when it is not there.
fn option<T: DeserializeOwned>(options: &Value, name: &str) -> Result<Option<T>> {
    match options.get(name) {
        Some(value) => Ok(Some(serde_json::from_value(value.clone())?)),
        None => Ok(None),
    }
}

fn of_case(ask: &str, pack: &Pack, case: &Case, options: &Value) -> Result<Value> {
    Ok(match ask {
        "readCase" => json!(case.file),
        "assess" => json!(assess(pack, case)?),
        "explain" => json!(explain(pack, case, None)?),
        "next" => {
            let options = NextOptions {
                minutes: option(options, "minutes")?,
                access: option(options, "access")?,
                without_leave: option(options, "without_leave")?.unwrap_or(false),
            };
            json!(look_next(pack, case, &options)?)
        }
        "lean" => {
            let mix: Option<BTreeMap<Verdict, f64>> = option(options, "mix")?;
            let of = |mix: BTreeMap<Verdict, f64>| {
                [Verdict::Married, Verdict::Converted, Verdict::Faked]
                    .map(|verdict| mix.get(&verdict).copied().unwrap_or(0.0))
            };
            let options = LeanOptions {
                threshold: option(options, "threshold")?,
                mix: mix.map(of),
                grid: option(options, "grid")?,
                ..LeanOptions::default()
            };
            json!(lean(pack, case, &options)?)
        }
        "study" => {
            let options = StudyOptions {
                draws: option(options, "draws")?.unwrap_or(10_000),
                pairs: option(options, "pairs")?.unwrap_or(1_000),
                seed: option(options, "seed")?.unwrap_or(1),
                threads: 2,
            };
            json!(study(pack, case, &options, &|_, _| true)?.report)
        }
        "decide" => {
            let written: StakesFile = option(options, "stakes")?.ok_or("no stakes")?;
            let stakes = Stakes::new(&written).map_err(|problems| format!("{problems:?}"))?;
            let model = Model::compile(pack, case.years, &case.numbers)?;
            let verdicts = model.verdicts(pack, case)?;
            let checks = check_outlooks(pack, case, &model, &NextOptions::default())?;
            json!(decide(&verdicts, &stakes, &checks)?)
        }
        "report" => json!(report::write(pack, case, ReportFormat::Markdown)?),
        _ => return Err(format!("nobody knows how to {ask}").into()),
    })
}

fn of_form(ask: &str, pack: &Pack, options: &Value) -> Result<Value> {
    Ok(match ask {
        "describe" => json!(form::describe(pack)),
        "newCase" => json!(new_case(pack)),
        "lint" => json!(pack.lint()),
        "practice" => {
            let seed = option(options, "seed")?.unwrap_or(0);
            let options = PracticeOptions {
                seed,
                ..PracticeOptions::default()
            };
            json!(practice(pack, &options)?)
        }
        _ => return Err(format!("nobody knows how to {ask}").into()),
    })
}

/// The functions named in a list of the corpus.
fn asks<'a>(corpus: &'a Value, list: &str) -> impl Iterator<Item = &'a str> {
    let asks = corpus[list].as_array().into_iter().flatten();
    asks.filter_map(Value::as_str)
}

fn main() -> Result<()> {
    let corpus = std::fs::read_to_string(root().join("tests/conformance.json"))?;
    let corpus: Value = serde_json::from_str(&corpus)?;
    let mut paths: Vec<PathBuf> = std::fs::read_dir(root().join("priors/cases"))?
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    paths.sort();
    let mut asked = Vec::new();
    let mut forms = BTreeSet::new();
    for path in paths {
        let text = std::fs::read_to_string(&path)?;
        let pack = packs::load(&Case::form(Text::new("case", &text))?)?;
        let case = Case::load(Text::new("case", &text), &pack)?;
        let first = forms.insert(pack.id.clone());
        let rest = asks(&corpus, "a case of each form").filter(|_| first);
        for ask in asks(&corpus, "every case").chain(rest) {
            let options = &corpus["options"][ask];
            let answer = of_case(ask, &pack, &case, options)?;
            asked.push(json!({"ask": ask, "of": text, "options": options, "answer": answer}));
        }
    }
    for id in packs::forms() {
        let pack = packs::load(id)?;
        for ask in asks(&corpus, "each form") {
            let options = &corpus["options"][ask];
            let of = if ask == "lint" {
                packs::text(id)?.content
            } else {
                id
            };
            let answer = of_form(ask, &pack, options)?;
            asked.push(json!({"ask": ask, "of": of, "options": options, "answer": answer}));
        }
        if !forms.contains(id) {
            return Err(format!("no example case of {id}").into());
        }
    }
    for text in asks(&corpus, "refused") {
        let case = Text::new("case", text);
        let refused = packs::text_for(case).and_then(|pack| {
            let pack = Pack::load(pack, packs::library())?;
            Case::load(case, &pack)
        });
        let error = refused.err().ok_or("a case to be refused is taken")?;
        let answer = json!({"code": error.code(), "message": error.to_string()});
        asked.push(json!({"ask": "assess", "of": text, "options": null, "refused": answer}));
    }
    println!("{}", json!(asked));
    Ok(())
}
