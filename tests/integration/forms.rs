//! Every form: the mistakes a beginner makes are not the pack's, and the example cases beside what a
//! careful examiner concluded before the engine was run.

use oddment::{Case, Model, Pack, Text, assess, packs};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// What `tests/forms/FORM.toml` holds.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Form {
    form: String,
    mistake: Vec<Mistake>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Mistake {
    /// What the beginner thinks.
    says: String,
    /// Why it is wrong.
    answer: String,
    claim: Claim,
    findings: Vec<Finding>,
    #[serde(default)]
    readings: Vec<Reading>,
    expect: Expect,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Claim {
    variant: String,
    period: String,
    region: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Finding {
    sign: String,
    part: Option<String>,
    found: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Reading {
    measure: String,
    value: f64,
}

/// By how many decibans the findings may move the odds of a verdict.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Expect {
    verdict: oddment::Verdict,
    at_most: Option<f64>,
    at_least: Option<f64>,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The TOML files of a folder, in the order of their names.
fn files(folder: &str) -> Vec<PathBuf> {
    let folder = root().join(folder);
    let entries =
        std::fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    let mut files: Vec<PathBuf> = entries
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    files.sort();
    files
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn stem(path: &Path) -> String {
    path.file_stem()
        .map(|stem| stem.to_string_lossy().into_owned())
        .unwrap_or_default()
}

fn written(form: &str, mistake: &Mistake) -> String {
    let claim = &mistake.claim;
    let mut text = format!(
        "schema = \"oddment/case/1\"\n[piece]\nform = \"{form}\"\nvariant = \"{}\"\nperiod = \"{}\"\n\
         region = \"{}\"\n",
        claim.variant, claim.period, claim.region
    );
    for finding in &mistake.findings {
        let _ = writeln!(text, "[[finding]]\nsign = \"{}\"", finding.sign);
        if let Some(part) = &finding.part {
            let _ = writeln!(text, "part = \"{part}\"");
        }
        let _ = writeln!(text, "found = \"{}\"", finding.found);
    }
    for reading in &mistake.readings {
        let _ = writeln!(
            text,
            "[[reading]]\nmeasure = \"{}\"\nvalue = {:?}",
            reading.measure, reading.value
        );
    }
    text
}

#[test]
fn no_form_makes_its_beginners_mistakes() {
    let mut told = BTreeMap::new();
    for path in files("forms") {
        let form: Form = toml::from_str(&read(&path))
            .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let pack = packs::load(&form.form).unwrap_or_else(|error| panic!("{error}"));
        for mistake in &form.mistake {
            assert!(!mistake.answer.is_empty(), "{}", mistake.says);
            let text = written(&form.form, mistake);
            let case = Case::load(Text::new(&mistake.says, &text), &pack)
                .unwrap_or_else(|error| panic!("{}: {error}", form.form));
            let assessment = assess(&pack, &case)
                .unwrap_or_else(|error| panic!("{}: {}: {error}", form.form, mistake.says));
            let expect = &mistake.expect;
            let odds = assessment
                .verdicts
                .iter()
                .find(|odds| odds.verdict == expect.verdict);
            let moved = odds.map_or(f64::NAN, |odds| odds.decibans);
            let (low, high) = (
                expect.at_least.unwrap_or(f64::NEG_INFINITY),
                expect.at_most.unwrap_or(f64::INFINITY),
            );
            assert!(
                low > f64::NEG_INFINITY || high < f64::INFINITY,
                "{}",
                mistake.says
            );
            assert!(
                (low..=high).contains(&moved),
                "{}: \u{201c}{}\u{201d}: the findings move {} by {moved:.2} decibans",
                form.form,
                mistake.says,
                expect.verdict.id()
            );
        }
        told.insert(form.form, form.mistake.len());
    }
    for form in packs::forms() {
        let mistakes = told.get(form).copied().unwrap_or(0);
        assert!(
            mistakes >= 3,
            "{form}: {mistakes} mistakes are told, at least 3 are needed"
        );
    }
}

/// The bands in the comments at the head of a case: `original 0.60 to 0.90`, `faked under 0.03`.
fn bands(text: &str) -> Vec<(oddment::Verdict, f64, f64)> {
    let head: Vec<&str> = text
        .lines()
        .take_while(|line| line.starts_with('#'))
        .collect();
    let mut bands = Vec::new();
    for line in head {
        let words: Vec<&str> = line
            .trim_start_matches('#')
            .split([' ', ',', ';'])
            .filter(|word| !word.is_empty())
            .collect();
        for (place, word) in words.iter().enumerate() {
            let Some(verdict) = oddment::pack::VERDICTS
                .into_iter()
                .find(|v| v.id() == *word)
            else {
                continue;
            };
            let number = |at: usize| words.get(place + at).and_then(|w| w.parse::<f64>().ok());
            match words.get(place + 1) {
                Some(&"under") => bands.extend(number(2).map(|high| (verdict, 0.0, high))),
                Some(&"over") => bands.extend(number(2).map(|low| (verdict, low, 1.0))),
                _ if words.get(place + 2) == Some(&"to") => {
                    bands.extend(
                        number(1)
                            .zip(number(3))
                            .map(|(low, high)| (verdict, low, high)),
                    );
                }
                _ => {}
            }
        }
    }
    bands
}

fn load(path: &Path) -> (Pack, Case, String) {
    let text = read(path);
    let name = stem(path);
    let pack = packs::text_for(Text::new(&name, &text))
        .and_then(|pack| Pack::load(pack, packs::library()))
        .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let case = Case::load(Text::new(&name, &text), &pack).unwrap_or_else(|error| panic!("{error}"));
    (pack, case, text)
}

#[test]
fn cases_outside_the_examiners_bands_are_discussed() {
    let discussed = read(&root().join("../docs/cases.md"));
    let (mut within, mut outside, mut without) = (0, Vec::new(), 0);
    for path in files("../priors/cases") {
        let (pack, case, text) = load(&path);
        let bands = bands(&text);
        if bands.is_empty() {
            without += 1;
            continue;
        }
        let verdicts = Model::compile(&pack, case.years, &case.numbers)
            .and_then(|model| model.verdicts(&pack, &case))
            .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let misses: Vec<String> = bands
            .iter()
            .filter_map(|(verdict, low, high)| {
                let place = oddment::pack::VERDICTS.iter().position(|v| v == verdict)?;
                let have = verdicts[place];
                let out = have < *low || have > *high;
                out.then(|| format!("{} {have:.4}, not {low} to {high}", verdict.id()))
            })
            .collect();
        if misses.is_empty() {
            within += 1;
        } else {
            outside.push((stem(&path), misses.join("; ")));
        }
    }
    println!(
        "{within} cases in all their bands, {} not, {without} without bands",
        outside.len()
    );
    let mut undiscussed = Vec::new();
    for (name, misses) in &outside {
        println!("  {name}: {misses}");
        if !discussed.contains(&format!("- `{name}`")) {
            undiscussed.push(name);
        }
    }
    assert!(
        undiscussed.is_empty(),
        "docs/cases.md does not discuss {undiscussed:?}"
    );
    assert!(within > 0 && without <= 1, "{within} {without}");
}

#[test]
fn a_case_discussed_as_outside_its_bands_exists() {
    let discussed = read(&root().join("../docs/cases.md"));
    let names: Vec<String> = files("../priors/cases")
        .iter()
        .map(|path| stem(path))
        .collect();
    for line in discussed
        .lines()
        .filter_map(|line| line.strip_prefix("- `"))
    {
        let name = line.split('`').next().unwrap_or_default();
        assert!(names.iter().any(|known| known == name), "no case `{name}`");
    }
}
