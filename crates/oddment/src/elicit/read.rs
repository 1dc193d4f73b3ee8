//! Checking judgements and working them out, one by one and together.

use super::doubts;
use super::error::ElicitError;
use super::file::{
    JUDGEMENT_SCHEMA, JudgementEntry, JudgementFile, LevelEntry, MOST_JUDGEMENTS, Start,
};
use super::fit::{Fit, fit_chance, fit_factor, fit_measure, fit_measures, fit_row, row_of_counts};
use super::fitted::Fitted;
use super::pool::{Held, PoolKind, pool};
use super::quantiles::{CREDIBLE, Quantiles};
use super::{
    ELICITATION_SCHEMA, Elicitation, ElicitedOpinion, ElicitedValue, FamilyFit, Said, SaidQuantile,
};
use crate::error::Error;
use crate::pack::{Domain, Pack};
use crate::text::{At, Kind, Problems, Text, nearest, parse};
use std::collections::BTreeMap;

/// The most opinions of one number; a density may have no more parts.
const MOST_OPINIONS: usize = crate::density::MOST_PARTS;

/// So many problems are enough to put right at once.
const MOST_PROBLEMS: usize = 50;

/// The longest id of a number, name of an expert or of a level, in characters.
const MOST_LETTERS: usize = 300;

/// What the text should be.
const KIND: Kind = Kind {
    schema: JUDGEMENT_SCHEMA,
    schema_code: "judgement/schema",
    syntax_code: "judgement/syntax",
};

/// What is wrong with a judgement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JudgementProblem {
    /// Where it stands in the written judgements, such as `judgement[0].quartiles`.
    pub path: String,
    /// Stable code, such as `judgement/order`.
    pub code: &'static str,
    /// The offending value and the remedy.
    pub message: String,
}

/// Reads a judgement file, in TOML or JSON, and works it out.
///
/// # Errors
/// [`Error::Invalid`] with every problem found, placed in the text.
///
/// ```
/// use oddment::Text;
/// use oddment::elicit::elicit_text;
/// let text = Text::new("mine.toml", r#"
/// schema = "oddment/judgement/1"
/// form = "drop-leaf-table"
/// [[judgement]]
/// number = "sign/tracks-stop-at-join/shows/pieced-out"
/// quartiles = [0.7, 0.8, 0.88]
/// "#);
/// let elicited = elicit_text(text)?;
/// assert!((elicited.numbers[0].result.mean().unwrap() - 0.78).abs() < 0.01);
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn elicit_text(text: Text<'_>) -> Result<Elicitation, Error> {
    let file: JudgementFile = parse(&text, &KIND).map_err(Error::Invalid)?;
    elicit(&file).map_err(|found| {
        let mut problems = Problems::new(vec![text]);
        for problem in found {
            let at = At::root(0).along(&problem.path);
            problems.note(&at, problem.code, problem.message);
        }
        Error::Invalid(problems.finish())
    })
}

/// Works out all judgements: each opinion by itself, then those of one number together.
///
/// # Errors
/// Every problem found.
///
/// ```
/// use oddment::elicit::{Agreement, JudgementEntry, JudgementFile, elicit};
/// let of = |expert: &str, about, between| JudgementEntry {
///     expert: Some(expert.into()),
///     about: Some(about),
///     between: Some(between),
///     ..Default::default()
/// };
/// let judgements = vec![of("a", 0.15, (0.05, 0.4)), of("b", 0.2, (0.1, 0.35))];
/// let file = JudgementFile { judgements, ..Default::default() };
/// let elicited = elicit(&file).map_err(|problems| problems[0].message.clone())?;
/// assert_eq!(elicited.numbers[0].pool.as_ref().unwrap().agreement, Agreement::Agree);
/// # Ok::<(), String>(())
/// ```
pub fn elicit(file: &JudgementFile) -> Result<Elicitation, Vec<JudgementProblem>> {
    let mut reader = Reader::new(file);
    reader.limits();
    if reader.problems.is_empty() {
        let numbers = reader.numbers();
        if reader.problems.is_empty() {
            return Ok(Elicitation {
                schema: ELICITATION_SCHEMA.to_owned(),
                engine: env!("CARGO_PKG_VERSION").to_owned(),
                numbers,
            });
        }
    }
    Err(reader.problems)
}

struct Reader<'f> {
    file: &'f JudgementFile,
    pack: Option<Pack>,
    problems: Vec<JudgementProblem>,
}

/// Why a judgement was refused, and which field of it says so.
type Refusal = (String, ElicitError);

impl<'f> Reader<'f> {
    fn new(file: &'f JudgementFile) -> Self {
        let mut reader = Self {
            file,
            pack: None,
            problems: Vec::new(),
        };
        if let Some(form) = &file.form {
            match crate::packs::load(form) {
                Ok(pack) => reader.pack = Some(pack),
                Err(error) => reader.note("form", "judgement/unknown-form", error.to_string()),
            }
        }
        reader
    }

    fn note(&mut self, path: &str, code: &'static str, message: impl Into<String>) {
        self.problems.push(JudgementProblem {
            path: path.to_owned(),
            code,
            message: message.into(),
        });
    }

    /// What must hold before anything is worked out.
    fn limits(&mut self) {
        let file = self.file;
        for (what, count) in [
            ("expert", file.experts.len()),
            ("judgement", file.judgements.len()),
        ] {
            if count > MOST_JUDGEMENTS {
                let message = format!("more than {MOST_JUDGEMENTS} [[{what}]] entries, the most");
                self.note(what, "judgement/too-many", message);
            }
        }
        if file.judgements.is_empty() {
            let message = "there is no [[judgement]]; give at least one";
            self.note("", "judgement/missing", message);
        }
        let mut known = BTreeMap::new();
        for (place, expert) in file.experts.iter().enumerate().take(MOST_JUDGEMENTS) {
            let at = format!("expert[{place}]");
            self.name(&format!("{at}.id"), "expert", &expert.id);
            if known.insert(expert.id.as_str(), place).is_some() {
                let message = format!("expert `{}` is given twice; remove one", expert.id);
                self.note(&format!("{at}.id"), "judgement/duplicate", message);
            }
            let weight = expert.weight.unwrap_or(1.0);
            if !(1e-6..=1e6).contains(&weight) {
                let error = ElicitError::Weight { weight };
                self.note(&format!("{at}.weight"), error.code(), error.to_string());
            }
        }
    }

    fn name(&mut self, path: &str, what: &str, name: &str) {
        let sane = !name.trim().is_empty()
            && name.chars().count() <= MOST_LETTERS
            && !name.chars().any(char::is_control);
        if !sane {
            let message = format!(
                "the {what} must be named in 1 to {MOST_LETTERS} characters, none of them a control \
                 character"
            );
            self.note(path, "judgement/name", message);
        }
    }

    /// All numbers, in the order in which they are first judged.
    fn numbers(&mut self) -> Vec<ElicitedValue> {
        let mut order: Vec<Vec<usize>> = Vec::new();
        let mut places: BTreeMap<Option<&str>, usize> = BTreeMap::new();
        for (place, entry) in self.file.judgements.iter().enumerate() {
            let number = *places.entry(entry.number.as_deref()).or_insert_with(|| {
                order.push(Vec::new());
                order.len() - 1
            });
            order[number].push(place);
        }
        let values = order.iter().map(|entries| self.number(entries));
        values.collect::<Vec<_>>().into_iter().flatten().collect()
    }

    /// One number, from all entries that judge it.
    fn number(&mut self, places: &[usize]) -> Option<ElicitedValue> {
        let mut opinions = Vec::new();
        let mut judged_by: BTreeMap<&str, usize> = BTreeMap::new();
        if places.len() > MOST_OPINIONS {
            let message = format!("more than {MOST_OPINIONS} opinions of one number, the most");
            let path = format!("judgement[{}]", places[MOST_OPINIONS]);
            self.note(&path, "judgement/too-many", message);
            return None;
        }
        for place in places {
            if self.problems.len() >= MOST_PROBLEMS {
                return None;
            }
            let entry = &self.file.judgements[*place];
            let at = format!("judgement[{place}]");
            if let Some(expert) = &entry.expert {
                self.expert(&format!("{at}.expert"), expert);
                if judged_by.insert(expert, *place).is_some() {
                    let message = format!("`{expert}` judges this number twice; remove one");
                    self.note(&format!("{at}.expert"), "judgement/duplicate", message);
                }
            }
            if let Some(number) = &entry.number {
                self.name(&format!("{at}.number"), "number", number);
            }
            match self.opinion(entry) {
                Ok(opinion) => {
                    self.in_pack(&at, entry, &opinion.fitted);
                    opinions.push((*place, opinion));
                }
                Err((field, error)) => {
                    let path = match field.as_str() {
                        "" => at,
                        field => format!("{at}.{field}"),
                    };
                    self.note(&path, error.code(), error.to_string());
                }
            }
        }
        self.of_one_kind(&opinions);
        if opinions.is_empty() || !self.problems.is_empty() {
            return None;
        }
        let first = &self.file.judgements[places[0]];
        let opinions = opinions.into_iter().map(|(_, opinion)| opinion).collect();
        Some(self.together(first, opinions))
    }

    fn expert(&mut self, path: &str, expert: &str) {
        self.name(path, "expert", expert);
        let experts = &self.file.experts;
        if experts.is_empty() || experts.iter().any(|known| known.id == expert) {
            return;
        }
        let ids = experts.iter().map(|known| known.id.as_str());
        let near = nearest(expert, ids).map_or(String::new(), |id| format!(", perhaps `{id}`"));
        let message =
            format!("unknown expert `{expert}`{near}; add an [[expert]], or leave all out");
        self.note(path, "judgement/unknown-expert", message);
    }

    fn of_one_kind(&mut self, opinions: &[(usize, ElicitedOpinion)]) {
        let Some((_, first)) = opinions.first() else {
            return;
        };
        let one = first.fitted.kind();
        for (place, opinion) in opinions {
            let other = opinion.fitted.kind();
            if one != other {
                let one = one.clone();
                let error = ElicitError::Mixed { one, other };
                self.note(
                    &format!("judgement[{place}]"),
                    error.code(),
                    error.to_string(),
                );
            }
        }
    }

    /// Looks the number up in the form's pack, where one is named.
    fn in_pack(&mut self, at: &str, entry: &JudgementEntry, fitted: &Fitted) {
        let (Some(pack), Some(id)) = (&self.pack, &entry.number) else {
            return;
        };
        // Densities have no number of their own.
        if matches!(fitted, Fitted::Measure { .. }) {
            return;
        }
        let wanted = match fitted {
            Fitted::Row { means, .. } => format!("{id}/{}", means.len() - 1),
            _ => id.clone(),
        };
        let at = format!("{at}.number");
        let Some(found) = pack.find_number(&wanted) else {
            let ids = pack.numbers.iter().map(|number| number.id.as_str());
            let near = nearest(&wanted, ids);
            let near = near.map_or(String::new(), |id| format!(", perhaps `{id}`"));
            let message = format!(
                "the pack `{}` has no number `{wanted}`{near}; docs/forms lists them all",
                pack.id
            );
            self.note(&at, "judgement/unknown-number", message);
            return;
        };
        let is_chance = matches!(
            pack.numbers[found.index()].domain,
            Domain::Chance | Domain::Share
        );
        let message = match (is_chance, fitted) {
            (true, Fitted::Factor { .. }) => "is a chance; leave `factor` out",
            (false, Fitted::Chance { .. }) => {
                "is no chance but a positive number; say `factor = true`"
            }
            _ => return,
        };
        self.note(&at, "judgement/kind", format!("`{id}` {message}"));
    }

    /// Works out one judgement.
    fn opinion(&self, entry: &JudgementEntry) -> Result<ElicitedOpinion, Refusal> {
        said_once(entry)?;
        let start = entry.start.or(self.file.start).unwrap_or_default();
        let (fitted, said, families, sum) = if let Some(levels) = &entry.levels {
            self.row(entry, levels)?
        } else if let Some(counts) = &entry.counts {
            of_counts(counts, start)?
        } else if let Some((found, looked)) = entry.count {
            let fitted = Fitted::of_count([found, looked], start).map_err(at("count"))?;
            let said = Said {
                name: None,
                count: Some((found, looked)),
                quantiles: Vec::new(),
            };
            (fitted, vec![said], Vec::new(), 1.0)
        } else {
            let stated = self.stated(entry, &LevelEntry::of(entry), "")?;
            let (fitted, families) = fit(entry, &stated)?;
            let said = said_of(None, &stated, &fitted);
            (fitted, vec![said], families, 1.0)
        };
        let weight = entry.expert.as_ref().and_then(|id| {
            let expert = self.file.experts.iter().find(|expert| expert.id == *id)?;
            expert.weight
        });
        let mut opinion = ElicitedOpinion {
            expert: entry.expert.clone(),
            weight: weight.unwrap_or(1.0),
            said,
            fitted,
            families,
            doubts: Vec::new(),
        };
        opinion.doubts = doubts::of_opinion(&opinion, sum);
        Ok(opinion)
    }

    fn row(&self, entry: &JudgementEntry, levels: &[LevelEntry]) -> Result<Judged, Refusal> {
        let mut stated = Vec::new();
        for (place, level) in levels.iter().enumerate() {
            let at = format!("level[{place}]");
            let quantiles = self.stated(entry, level, &format!("{at}."))?;
            quantiles.of_chances().map_err(|error| (at, error))?;
            stated.push(quantiles);
        }
        let (Fit { fitted, .. }, sum) = fit_row(&stated).map_err(at("level"))?;
        let said = levels
            .iter()
            .zip(&stated)
            .enumerate()
            .map(|(place, (level, stated))| {
                let alone = fitted.level(place).unwrap_or_else(|| fitted.clone());
                said_of(level.name.clone(), stated, &alone)
            });
        let said = said.collect();
        Ok((fitted, said, Vec::new(), sum))
    }

    /// The quantile judgements of a number or a level, brought from so many in so many.
    fn stated(
        &self,
        entry: &JudgementEntry,
        level: &LevelEntry,
        within: &str,
    ) -> Result<Quantiles, Refusal> {
        let of = entry.of.unwrap_or(1.0);
        if !(of > 0.0 && of <= 1e6) {
            return Err(("of".to_owned(), ElicitError::Of { of }));
        }
        let is_chance = entry.unit.is_none() && !entry.factor;
        let share = |value: f64| -> Result<f64, ElicitError> {
            let share = value / of;
            if is_chance && entry.of.is_some() && !(share > 0.0 && share < 1.0) {
                return Err(ElicitError::NotOutOf { value, of });
            }
            if is_chance && !(share > 0.0 && share < 1.0) {
                return Err(ElicitError::NotAChance { value });
            }
            Ok(share)
        };
        let name = |field: &str| format!("{within}{field}");
        if let Some(values) = &level.quartiles {
            let at = |error| (name("quartiles"), error);
            let shares: Vec<f64> = values
                .iter()
                .map(|x| share(*x))
                .collect::<Result<_, _>>()
                .map_err(at)?;
            let three: [f64; 3] = shares.try_into().map_err(|_| {
                at(ElicitError::Quartiles {
                    given: values.len(),
                })
            })?;
            return Quantiles::quartiles(three).map_err(at);
        }
        if let Some(pairs) = &level.quantiles {
            let at = |error| (name("quantiles"), error);
            let mut points = Vec::new();
            for pair in pairs {
                let [level, value] = pair[..] else {
                    return Err(at(ElicitError::Pair { given: pair.len() }));
                };
                points.push((level, share(value).map_err(at)?));
            }
            return Quantiles::new(&points).map_err(at);
        }
        let Some((low, high)) = level.between else {
            let field = if level.about.is_some() { "about" } else { "" };
            let error = match level.about {
                Some(_) => ElicitError::HowMany { given: 1 },
                None => ElicitError::NothingSaid,
            };
            return Err((name(field).trim_end_matches('.').to_owned(), error));
        };
        let credible = entry.credible.or(self.file.credible).unwrap_or(CREDIBLE);
        let at = |error| {
            let field = match error {
                ElicitError::Credible { .. } if entry.credible.is_some() => "credible".to_owned(),
                _ => name("between"),
            };
            (field, error)
        };
        let about = level
            .about
            .map(share)
            .transpose()
            .map_err(|error| (name("about"), error))?;
        let ends = [share(low).map_err(at)?, share(high).map_err(at)?];
        Quantiles::range(about, ends, credible).map_err(at)
    }

    /// Puts the opinions of one number together.
    fn together(
        &self,
        first: &JudgementEntry,
        mut opinions: Vec<ElicitedOpinion>,
    ) -> ElicitedValue {
        let total: f64 = opinions.iter().map(|opinion| opinion.weight).sum();
        let names: Vec<String> = opinions
            .iter()
            .enumerate()
            .map(|(place, opinion)| match &opinion.expert {
                Some(expert) => expert.clone(),
                None => format!("opinion {}", place + 1),
            })
            .collect();
        if opinions.len() > 1 {
            for (opinion, name) in opinions.iter_mut().zip(&names) {
                opinion.expert.get_or_insert_with(|| name.clone());
            }
        }
        opinions
            .iter_mut()
            .for_each(|opinion| opinion.weight /= total);
        let held: Vec<Held<'_>> = opinions
            .iter()
            .zip(&names)
            .map(|(opinion, name)| (name.as_str(), opinion.weight, &opinion.fitted))
            .collect();
        let pooled = (held.len() > 1).then(|| pool(&held));
        let asked = self.file.pool.unwrap_or_default();
        let mut doubts = Vec::new();
        let (result, pooled_by) = match &pooled {
            None => (opinions[0].fitted.clone(), asked),
            Some(pool) => {
                doubts = doubts::of_pool(pool, asked);
                match (asked, &pool.logarithmic) {
                    (PoolKind::Logarithmic, Some(logarithmic)) => {
                        (logarithmic.clone(), PoolKind::Logarithmic)
                    }
                    _ => (pool.linear.clone(), PoolKind::Linear),
                }
            }
        };
        if pooled.is_some() {
            doubts.extend(doubts::worth(&result, true).filter(|_| {
                // A pool of opinions each worth a great deal was remarked on already.
                result.strength().is_some_and(|strength| strength < 100.0)
            }));
        }
        let levels = (0..result.levels()).filter_map(|level| result.level(level)?.pieces());
        ElicitedValue {
            number: first.number.clone(),
            unit: first.unit.clone(),
            pool: pooled,
            pooled_by,
            pieces: levels.collect(),
            doubts,
            toml: result.toml(),
            result,
            opinions,
        }
    }
}

/// A fit, what was said beside it, the families tried, and what levels summed to.
type Judged = (Fitted, Vec<Said>, Vec<FamilyFit>, f64);

impl LevelEntry {
    /// What an entry says of its number, as if of a level.
    fn of(entry: &JudgementEntry) -> Self {
        Self {
            name: None,
            quartiles: entry.quartiles.clone(),
            quantiles: entry.quantiles.clone(),
            about: entry.about,
            between: entry.between,
        }
    }

    /// The ways in which it says something.
    fn ways(&self) -> Vec<&'static str> {
        let ways = [
            ("quartiles", self.quartiles.is_some()),
            ("quantiles", self.quantiles.is_some()),
            ("between", self.between.is_some() || self.about.is_some()),
        ];
        given(&ways)
    }
}

fn given(ways: &[(&'static str, bool)]) -> Vec<&'static str> {
    let given = ways.iter().filter(|(_, given)| *given);
    given.map(|(way, _)| *way).collect()
}

fn at(field: &'static str) -> impl Fn(ElicitError) -> Refusal {
    move |error| (field.to_owned(), error)
}

/// Refuses what is said twice, and what does not go with the kind of number.
fn said_once(entry: &JudgementEntry) -> Result<(), Refusal> {
    let mut ways = LevelEntry::of(entry).ways();
    ways.extend(given(&[
        ("count", entry.count.is_some()),
        ("counts", entry.counts.is_some()),
        ("level", entry.levels.is_some()),
    ]));
    twice(&ways, "")?;
    for (place, level) in entry.levels.iter().flatten().enumerate() {
        twice(&level.ways(), &format!("level[{place}]."))?;
    }
    let not_for = |kind: &'static str, fields: &[(&'static str, bool)]| match given(fields).first()
    {
        Some(given) => Err(((*given).to_owned(), ElicitError::NotFor { given, kind })),
        None => Ok(()),
    };
    let counts = [
        ("count", entry.count.is_some()),
        ("counts", entry.counts.is_some()),
        ("level", entry.levels.is_some()),
        ("of", entry.of.is_some()),
    ];
    if entry.unit.is_some() {
        let unlike = entry.positive && entry.family.is_some_and(|family| !family.is_positive());
        not_for(
            "a positive measure unless it is log-normal or gamma",
            &[("family", unlike)],
        )?;
        not_for("a measure", &counts)?;
        not_for("a measure", &[("factor", entry.factor)])
    } else if entry.factor {
        not_for("a factor", &counts)?;
        not_for(
            "a factor",
            &[
                ("positive", entry.positive),
                ("family", entry.family.is_some()),
            ],
        )
    } else {
        let fields = [
            ("positive", entry.positive),
            ("family", entry.family.is_some()),
        ];
        not_for("a chance (a measure has a `unit`)", &fields)
    }
}

fn twice(ways: &[&'static str], within: &str) -> Result<(), Refusal> {
    match ways {
        [one, other, ..] => Err((
            format!("{within}{other}"),
            ElicitError::SaidTwice { one, other },
        )),
        _ => Ok(()),
    }
}

fn of_counts(counts: &[f64], start: Start) -> Result<Judged, Refusal> {
    let fitted = row_of_counts(counts, start).map_err(at("counts"))?;
    let looked: f64 = counts.iter().sum();
    let said = counts.iter().map(|count| Said {
        name: None,
        count: Some((*count, looked)),
        quantiles: Vec::new(),
    });
    Ok((fitted, said.collect(), Vec::new(), 1.0))
}

/// Fits what kind of number it is.
fn fit(entry: &JudgementEntry, stated: &Quantiles) -> Result<(Fitted, Vec<FamilyFit>), Refusal> {
    // What the values must be was said of the whole judgement.
    let refuse = at("");
    if entry.factor {
        return Ok((fit_factor(stated).map_err(refuse)?.fitted, Vec::new()));
    }
    if entry.unit.is_none() {
        return Ok((fit_chance(stated).map_err(refuse)?.fitted, Vec::new()));
    }
    let fits = match entry.family {
        Some(family) => vec![(family, fit_measure(stated, family).map_err(&refuse)?)],
        None => fit_measures(stated, entry.positive).map_err(&refuse)?,
    };
    let families: Vec<FamilyFit> = fits
        .into_iter()
        .map(|(family, Fit { fitted, squares })| FamilyFit {
            family,
            fitted,
            squares,
        })
        .collect();
    match families.first() {
        Some(best) => Ok((best.fitted.clone(), families)),
        None => Err(refuse(ElicitError::NothingSaid)),
    }
}

/// What was said beside what the fit makes of it.
fn said_of(name: Option<String>, stated: &Quantiles, fitted: &Fitted) -> Said {
    let quantiles = stated.points().iter().map(|(level, said)| SaidQuantile {
        level: *level,
        said: *said,
        fitted: fitted.quantile(*level),
        below: fitted.below(*said),
    });
    Said {
        name,
        count: None,
        quantiles: quantiles.collect(),
    }
}
