//! What a piece can claim to be, and the histories with their prior counts.

use super::compose::stated;
use super::*;
use crate::order::set;

impl Loader<'_> {
    pub(super) fn bounds(&mut self, root: &At, file: &PackFile) {
        let needed = [
            ("variant", file.variants.len()),
            ("period", file.periods.len()),
            ("region", file.regions.len()),
            ("part", file.parts.len()),
            ("history", file.histories.len()),
        ];
        for (what, count) in needed {
            if count == 0 {
                self.note(
                    root,
                    "pack/missing",
                    format!("the pack has no [[{what}]]; give at least one"),
                );
            }
        }
    }

    pub(super) fn dates(&mut self, at: &At, file: &PackFile) -> DateGrid {
        let dates = &file.dates;
        let (from, to, step) = (
            i64::from(dates.from),
            i64::from(dates.to),
            i64::from(dates.step),
        );
        let bins = if step > 0 { (to - from) / step } else { 0 };
        let whole = step > 0 && (to - from) % step == 0;
        let (first, last) = (i64::from(YEARS.0), i64::from(YEARS.1));
        let sane = from >= first && to <= last && (1..=MAX_BINS as i64).contains(&bins) && whole;
        if !sane {
            let message = format!(
                "dates from {from} to {to} by {step} must be 1 to {MAX_BINS} whole steps between \
                 the years {first} and {last}"
            );
            self.note(at, "pack/dates", message);
        }
        if !(dates.shoulder >= 0.0 && dates.shoulder <= 200.0) {
            let message = format!("shoulder {} must be 0 to 200 years", figure(dates.shoulder));
            self.note(&at.then("shoulder"), "pack/dates", message);
        }
        if sane {
            DateGrid {
                from: dates.from,
                to: dates.to,
                step: dates.step,
                shoulder: dates.shoulder,
            }
        } else {
            DateGrid {
                from: YEARS.0,
                to: YEARS.1,
                step: 10,
                shoulder: 15.0,
            }
        }
    }

    pub(super) fn examination(
        &mut self,
        root: &At,
        library_root: &At,
        file: &PackFile,
        library: &LibraryFile,
    ) -> Examination {
        let (given, at) = match (&file.examination, &library.examination) {
            (Some(given), _) => (given.clone(), root.then("examination")),
            (None, Some(given)) => (given.clone(), library_root.then("examination")),
            (None, None) => {
                let message = "neither pack nor library has an [examination]; give one";
                self.note(library_root, "pack/missing", message);
                let number = Number::Plain(0.5);
                let given = ExaminationFile {
                    poor: number.clone(),
                    poor_factor: number.clone(),
                    poor_instrument: Number::Plain(1.0),
                    sure: number.clone(),
                    fairly_sure: number.clone(),
                    doubtful: number,
                };
                (given, library_root.clone())
            }
        };
        let mut number = |field: &str, number: &Number, domain| {
            let id = format!("examination/{}", field.replace('_', "-"));
            self.number(&at.then(field), id, number, domain)
        };
        let examination = Examination {
            poor: number("poor", &given.poor, Domain::Chance),
            poor_factor: number("poor_factor", &given.poor_factor, Domain::Share),
            poor_instrument: number(
                "poor_instrument",
                &given.poor_instrument,
                Domain::NotNegative,
            ),
            sureness: [
                number("sure", &given.sure, Domain::Share),
                number("fairly_sure", &given.fairly_sure, Domain::Share),
                number("doubtful", &given.doubtful, Domain::Share),
            ],
        };
        let times = self.numbers[examination.poor_instrument.index()].mean;
        if !(1.0..=100.0).contains(&times) {
            let message = format!("poor_instrument {} must be 1 to 100", figure(times));
            self.note(&at.then("poor_instrument"), "pack/number", message);
        }
        examination
    }

    pub(super) fn curve(&mut self, at: &At, curve: &crate::pack::file::CurveFile) -> NumberId {
        self.points(&at.then("points"), &curve.points);
        for (place, (_, share)) in curve.points.iter().enumerate() {
            if !(*share > 0.0 && *share < 1.0) {
                let message = format!(
                    "share {} must lie strictly between 0 and 1; use `not_before` for a true 0",
                    figure(*share)
                );
                self.note(&at.then("points").then(place), "pack/curve", message);
            }
        }
        let half = stated(0.5, curve.strength, curve.source.as_ref());
        self.number(
            at,
            format!("curve/{}/half", curve.id),
            &half,
            Domain::Chance,
        )
    }

    /// Checks the number of points and their years.
    pub(super) fn points(&mut self, at: &At, points: &[(i32, f64)]) {
        if points.is_empty() || points.len() > MAX_POINTS {
            let message = format!("has {} points; give 1 to {MAX_POINTS}", points.len());
            self.note(at, "pack/curve", message);
        }
        for (place, (year, _)) in points.iter().enumerate() {
            if !(YEARS.0..=YEARS.1).contains(year) {
                let message = format!("year {year} must be {} to {}", YEARS.0, YEARS.1);
                self.note(&at.then(place), "pack/curve", message);
            }
            if place > 0 && points[place - 1].0 >= *year {
                let message = format!(
                    "year {year} must come after {}, the one before it",
                    points[place - 1].0
                );
                self.note(&at.then(place), "pack/curve", message);
            }
        }
    }

    pub(super) fn claims(&mut self, root: &At, file: &PackFile, dates: &DateGrid) {
        for (place, variant) in file.variants.iter().enumerate() {
            if !(variant.price_ratio >= 0.01 && variant.price_ratio <= 1000.0) {
                let message = format!(
                    "price ratio {} must be 0.01 to 1000",
                    figure(variant.price_ratio)
                );
                let at = root.then("variant").then(place).then("price_ratio");
                self.note(&at, "pack/number", message);
            }
        }
        for (place, period) in file.periods.iter().enumerate() {
            if period.from > period.to || period.from < dates.from || period.to >= dates.to {
                let message = format!(
                    "period {} to {} must run forward and lie within the dates {} to {}",
                    period.from, period.to, dates.from, dates.to
                );
                let late = period.from <= period.to && period.from >= dates.from;
                let at = root.then("period").then(place);
                let field = if late { "to" } else { "from" };
                self.note(&at.then(field), "pack/dates", message);
            }
        }
    }

    pub(super) fn later_work(&mut self, root: &At, file: &PackFile) {
        for (place, later) in file.later_work.iter().enumerate() {
            let at = root.then("later_work").then(place);
            self.provenance(&at, later.strength, later.source.as_deref());
            let at = at.then("points");
            self.points(&at, &later.points);
            for (place, (_, weight)) in later.points.iter().enumerate() {
                if !(*weight >= 0.0 && *weight <= 1e6) {
                    let message = format!("weight {} must be 0 to 1,000,000", figure(*weight));
                    self.note(&at.then(place), "pack/curve", message);
                }
            }
            let nothing = later.points.iter().all(|(_, weight)| *weight == 0.0);
            if later.points.len() == 1 || (nothing && !later.points.is_empty()) {
                let message = format!(
                    "later work `{}` needs two points or more, not all of weight 0",
                    later.id
                );
                self.note(&at, "pack/curve", message);
            }
        }
    }

    pub(super) fn selectors(&mut self, root: &At, file: &PackFile) {
        for (place, history) in file.histories.iter().enumerate() {
            let at = root.then("history").then(place);
            let kinds = file
                .histories
                .iter()
                .any(|other| other.kind == history.id && other.id != history.id);
            let verdict = VERDICTS.iter().any(|verdict| verdict.id() == history.id);
            if verdict || kinds || history.id == "any" {
                let message = format!(
                    "history id `{}` is also a verdict, a kind or `any`; give it a name that \
                     selects nothing else",
                    history.id
                );
                self.note(&at.then("id"), "pack/bad-id", message);
            }
            let verdict = VERDICTS.iter().find(|verdict| verdict.id() == history.kind);
            if verdict.is_some_and(|verdict| *verdict != history.verdict) || history.kind == "any" {
                let message = format!(
                    "kind `{}` selects other histories too; choose a word that is no verdict and \
                     not `any`",
                    history.kind
                );
                self.note(&at.then("kind"), "pack/bad-id", message);
            } else {
                limits::check_id(&mut self.problems, &at.then("kind"), "kind", &history.kind);
            }
            self.selectors.push([
                history.id.clone(),
                history.kind.clone(),
                history.verdict.id().to_owned(),
                "any".to_owned(),
            ]);
        }
        self.valid_selectors = set(self.selectors.iter().flatten().cloned());
        let verdicts = VERDICTS.iter().map(|verdict| verdict.id().to_owned());
        self.valid_selectors.extend(verdicts);
    }

    pub(super) fn histories(
        &mut self,
        root: &At,
        (file, dates): (&PackFile, &DateGrid),
        parts: &Index,
        later: &Index,
        companions: &mut [Option<usize>],
    ) -> Vec<History> {
        let mut histories = Vec::new();
        for (place, history) in file.histories.iter().enumerate() {
            let at = root.then("history").then(place);
            let elasticity = history.elasticity.as_ref().map(|number| {
                let id = format!("history/{}/elasticity", history.id);
                self.number(&at.then("elasticity"), id, number, Domain::NotNegative)
            });
            let mut origins = vec![None; file.parts.len()];
            let mut given = BTreeSet::new();
            for (part, origin) in &history.origin {
                let at = at.then("origin").then(part.as_str());
                let Some(index) = parts.get(part, &at, &mut self.problems) else {
                    // Whichever part was meant, it is said where the trouble is.
                    given.extend(0..file.parts.len());
                    continue;
                };
                given.insert(index);
                if !file.parts[index].dated {
                    let message = format!(
                        "part `{part}` has no date of its own; mark it `dated = true`, or leave its \
                         origin out"
                    );
                    self.note(&at, "pack/origin", message);
                }
                origins[index] =
                    self.origin(&at, origin, index, (file, dates), parts, later, companions);
            }
            for (index, part) in file.parts.iter().enumerate() {
                if part.dated && !given.contains(&index) {
                    let message = format!(
                        "history `{}` gives no origin for the dated part `{}`; give one",
                        history.id, part.id
                    );
                    self.note(&at.then("origin"), "pack/origin", message);
                }
            }
            histories.push(History {
                id: history.id.clone(),
                verdict: history.verdict,
                kind: history.kind.clone(),
                name: history.name.clone(),
                story: history.story.clone(),
                elasticity,
                origins,
            });
        }
        histories
    }

    #[allow(clippy::too_many_arguments)]
    pub(super) fn origin(
        &mut self,
        at: &At,
        origin: &OriginFile,
        part: usize,
        (file, dates): (&PackFile, &DateGrid),
        parts: &Index,
        later: &Index,
        companions: &mut [Option<usize>],
    ) -> Option<Origin> {
        let at = &match origin {
            OriginFile::Claim => at.clone(),
            OriginFile::Between(..) => at.then("between"),
            OriginFile::Older(_) => at.then("older"),
            OriginFile::After(_) => at.then("after"),
            OriginFile::Shares(_) => at.then("shares"),
        };
        match origin {
            OriginFile::Claim => Some(Origin::Claim),
            OriginFile::Between(from, to) => {
                if from > to || *to < dates.from || *from >= dates.to {
                    let message = format!(
                        "between {from} and {to} must run forward and meet the dates {} to {}",
                        dates.from, dates.to
                    );
                    self.note(at, "pack/dates", message);
                }
                Some(Origin::Between(*from, *to))
            }
            OriginFile::Older(years) => {
                if !(1..=500).contains(years) {
                    let message = format!("older {years} must be 1 to 500 years");
                    self.note(at, "pack/dates", message);
                }
                if let Some(period) = file.periods.iter().find(|p| p.from <= dates.from) {
                    let message = format!(
                        "the dates begin in {}, leaving nothing older than the period `{}`, which \
                         begins in {}; begin the dates earlier",
                        dates.from, period.id, period.from
                    );
                    self.note(at, "pack/dates", message);
                }
                Some(Origin::Older(*years))
            }
            OriginFile::After(id) => {
                let index = later.get(id, at, &mut self.problems)?;
                let last = file.later_work[index].points.last()?.0;
                if let Some(period) = file
                    .periods
                    .iter()
                    .find(|period| period.to >= last.saturating_sub(1))
                {
                    let message = format!(
                        "later work `{id}` ends in {last}, leaving nothing after the period `{}`, \
                         which ends in {}; add a later point",
                        period.id, period.to
                    );
                    self.note(at, "pack/dates", message);
                }
                Some(Origin::After(index))
            }
            OriginFile::Shares(id) => {
                let other = parts.get(id, at, &mut self.problems)?;
                if other == part || !file.parts[other].dated {
                    let message = format!(
                        "a part cannot share the date of `{id}`, which {}; name another dated part",
                        if other == part {
                            "is the part itself"
                        } else {
                            "has none"
                        }
                    );
                    self.note(at, "pack/origin", message);
                    return None;
                }
                match companions[part] {
                    Some(known) if known != other => {
                        let message = format!(
                            "the part shares the date of `{id}` here and of `{}` in another history; \
                             let it share with one only",
                            file.parts[known].id
                        );
                        self.note(at, "pack/origin", message);
                    }
                    _ => companions[part] = Some(other),
                }
                Some(Origin::Shares(other))
            }
        }
    }

    pub(super) fn companion_cycles(
        &mut self,
        root: &At,
        file: &PackFile,
        companions: &[Option<usize>],
    ) {
        for start in 0..companions.len() {
            let mut at = start;
            for _ in 0..=companions.len() {
                match companions[at] {
                    Some(next) if next == start => {
                        let message = format!(
                            "part `{}` shares its date in a circle; let one part be the root",
                            file.parts[start].id
                        );
                        self.note(&root.then("part").then(start), "pack/origin", message);
                        return;
                    }
                    Some(next) => at = next,
                    None => break,
                }
            }
        }
    }

    pub(super) fn priors(
        &mut self,
        root: &At,
        file: &PackFile,
        variants: &Index,
        histories: &Index,
    ) -> Vec<Prior> {
        let mut priors: Vec<Option<Prior>> = vec![None; file.variants.len()];
        let mut resolved = true;
        for (place, prior) in file.priors.iter().enumerate() {
            let at = root.then("prior").then(place);
            let variant = variants.get(&prior.variant, &at.then("variant"), &mut self.problems);
            let mut known = true;
            for id in prior.counts.keys() {
                let at = at.then("counts").then(id.as_str());
                known &= histories.get(id, &at, &mut self.problems).is_some();
            }
            let sum: f64 = prior.counts.values().sum();
            if (sum - 1000.0).abs() > 1e-6 {
                let message = format!("counts sum to {}, must sum to 1000", figure(sum));
                self.note(&at.then("counts"), "pack/row-sum", message);
            }
            let mut counts = Vec::new();
            for history in &file.histories {
                let count = prior.counts.get(&history.id).copied();
                if count.is_none() && known {
                    let message = format!(
                        "the prior of `{}` has no count for history `{}`; write 0 if it cannot be",
                        prior.variant, history.id
                    );
                    self.note(&at.then("counts"), "pack/missing", message);
                }
                let number = stated(count.unwrap_or(0.0), prior.strength, prior.source.as_ref());
                let id = format!("prior/{}/{}", prior.variant, history.id);
                let at = at.then("counts").then(history.id.as_str());
                counts.push(self.number(&at, id, &number, Domain::NotNegative));
            }
            let Some(variant) = variant else {
                resolved = false;
                continue;
            };
            if priors[variant].is_some() {
                let message = format!("variant `{}` has two priors; remove one", prior.variant);
                self.note(&at.then("variant"), "pack/duplicate-id", message);
                resolved = false;
            }
            priors[variant] = Some(Prior {
                counts,
                reason: prior.reason.clone(),
            });
        }
        for (place, prior) in priors.iter().enumerate() {
            if prior.is_none() && resolved {
                let message = format!(
                    "variant `{}` has no [[prior]]; give one",
                    file.variants[place].id
                );
                self.note(&root.then("variant").then(place), "pack/missing", message);
            }
        }
        priors.into_iter().flatten().collect()
    }

    pub(super) fn prior_factors(
        &mut self,
        root: &At,
        file: &PackFile,
        variants: &Index,
        periods: &Index,
        regions: &Index,
    ) -> Vec<PriorFactor> {
        let list = root.then("prior_factor");
        self.index(
            "prior_factor",
            &list,
            file.prior_factors.iter().map(|f| f.id.as_str()),
        );
        let mut factors = Vec::new();
        for (place, factor) in file.prior_factors.iter().enumerate() {
            let at = list.then(place);
            self.check_selectors(&at.then("factor"), &factor.factor);
            let mut only = |field: &str, ids: &Option<Vec<String>>, index: &Index| {
                ids.as_ref().map(|ids| {
                    ids.iter()
                        .enumerate()
                        .filter_map(|(i, id)| {
                            index.get(id, &at.then(field).then(i), &mut self.problems)
                        })
                        .collect()
                })
            };
            let variants = only("variants", &factor.variants, variants);
            let periods = only("periods", &factor.periods, periods);
            let regions = only("regions", &factor.regions, regions);
            let mut multipliers = Vec::new();
            for history in 0..file.histories.len() {
                let found = select(&self.selectors[history], &factor.factor);
                multipliers.push(found.map(|(selector, value)| {
                    let id = format!("prior-factor/{}/{selector}", factor.id);
                    let number = stated(*value, factor.strength, factor.source.as_ref());
                    let at = at.then("factor").then(selector);
                    self.number(&at, id, &number, Domain::NotNegative)
                }));
            }
            factors.push(PriorFactor {
                id: factor.id.clone(),
                variants,
                periods,
                regions,
                factors: multipliers,
                reason: factor.reason.clone(),
            });
        }
        factors
    }

    pub(super) fn groups(&mut self, root: &At, file: &PackFile) -> Vec<Group> {
        let mut groups = Vec::new();
        for (place, group) in file.groups.iter().enumerate() {
            let at = root.then("group").then(place).then("coupling");
            let id = format!("group/{}/coupling", group.id);
            groups.push(Group {
                id: group.id.clone(),
                name: group.name.clone(),
                coupling: self.number(&at, id, &group.coupling, Domain::Share),
                reason: group.reason.clone(),
            });
        }
        groups
    }
}
