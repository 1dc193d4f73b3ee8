//! What must hold of every form, whatever its numbers.

use oddment::pack::{Shows, Sign};
use oddment::predict::{PredictOptions, predict};
use oddment::{Case, Error, Model, NextOptions, Pack, Text, assess, look_next, packs};
use std::fmt::Write;

/// Rounding allowed in a comparison of natural logarithms.
const SLACK: f64 = 1e-9;

fn all() -> impl Iterator<Item = Pack> {
    packs::forms().map(|form| packs::load(form).unwrap_or_else(|error| panic!("{error}")))
}

/// A case of a form: its dearest variant, a period, its first region.
#[derive(Clone)]
struct Sketch<'p> {
    pack: &'p Pack,
    piece: String,
    known: String,
    findings: String,
}

impl<'p> Sketch<'p> {
    fn of(pack: &'p Pack, period: usize) -> Self {
        Self::of_variant(pack, Self::dearest(pack), period)
    }

    fn dearest(pack: &Pack) -> usize {
        (0..pack.variants.len())
            .max_by(|a, b| {
                let ratio = |place: &usize| pack.variants[*place].price_ratio;
                ratio(a).total_cmp(&ratio(b))
            })
            .unwrap_or(0)
    }

    fn of_variant(pack: &'p Pack, variant: usize, period: usize) -> Self {
        let piece = format!(
            "schema = \"oddment/case/1\"\n[piece]\nform = \"{}\"\nvariant = \"{}\"\nperiod = \"{}\"\n\
             region = \"{}\"\n",
            pack.id, pack.variants[variant].id, pack.periods[period].id, pack.regions[0].id
        );
        Self {
            pack,
            piece,
            known: String::new(),
            findings: String::new(),
        }
    }

    fn priced(mut self, price: f64) -> Self {
        let _ = writeln!(
            self.piece,
            "prices = {{ as_claimed = {price:?}, plainer = 100.0 }}"
        );
        self
    }

    fn known(&self, incident: usize, happened: bool) -> Self {
        let id = &self.pack.incidents[incident].id;
        let known = format!("[known]\n{id} = {happened}\n");
        Self {
            known,
            ..self.clone()
        }
    }

    /// With none of the incidents that could make a sign.
    fn unexplained(&self, sign: &Sign) -> Self {
        let ids = sign.causes.iter().map(|(i, _)| &self.pack.incidents[*i].id);
        let known: String = ids.map(|id| format!("{id} = false\n")).collect();
        let known = format!("[known]\n{known}");
        Self {
            known,
            ..self.clone()
        }
    }

    fn found(&self, sign: &Sign, part: usize, level: usize) -> Self {
        let (part, found) = (&self.pack.parts[part].id, &sign.levels[level]);
        let findings = format!(
            "[[finding]]\nsign = \"{}\"\npart = \"{part}\"\nfound = \"{found}\"\n",
            sign.id
        );
        Self {
            findings,
            ..self.clone()
        }
    }

    fn case(&self) -> Case {
        self.loaded().unwrap_or_else(|error| panic!("{error}"))
    }

    fn loaded(&self) -> Result<Case, Error> {
        let text = format!("{}{}{}", self.piece, self.known, self.findings);
        Case::load(Text::new("sketch", &text), self.pack)
    }
}

fn model(pack: &Pack, case: &Case) -> Model {
    Model::compile(pack, case.years, &case.numbers).unwrap_or_else(|error| panic!("{error}"))
}

fn histories(pack: &Pack, model: &Model, case: &Case) -> Vec<f64> {
    model
        .histories(pack, case)
        .unwrap_or_else(|error| panic!("{error}"))
}

/// How far apart a report sets the two histories it sets furthest apart, in natural logarithms.
fn reach(pack: &Pack, model: &Model, before: &Sketch<'_>, after: &Sketch<'_>) -> f64 {
    let (without, with) = (before.case(), after.case());
    let without = histories(pack, model, &without);
    let with = histories(pack, model, &with);
    let shifts = with.iter().zip(&without).filter(|(_, p)| **p > 0.0);
    let shifts: Vec<f64> = shifts.map(|(q, p)| libm::log(q / p)).collect();
    let high = shifts.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let low = shifts.iter().copied().fold(f64::INFINITY, f64::min);
    high - low
}

/// The signs that the dearest variant has.
fn signs(pack: &Pack) -> impl Iterator<Item = &Sign> {
    let dearest = Sketch::dearest(pack);
    pack.signs.iter().filter(move |sign| sign.concerns(dearest))
}

/// Every sign at every part with each of its incidents of one kind.
fn with_incidents(pack: &Pack, of: impl Fn(&Sign) -> Vec<usize>) -> Vec<(&Sign, usize, usize)> {
    let mut found = Vec::new();
    for sign in signs(pack) {
        for incident in of(sign) {
            found.extend(sign.parts.iter().map(|part| (sign, *part, incident)));
        }
    }
    found
}

#[test]
fn a_wider_price_gap_never_lowers_the_odds_of_a_history_that_profits() {
    for pack in all() {
        let priors = |price: f64| {
            let case = Sketch::of(&pack, 0).priced(price).case();
            oddment::prior::history_priors(&pack, &case)
        };
        let prices = [50.0, 100.0, 200.0, 500.0, 2_000.0];
        let elasticity = |history: usize| {
            let number = pack.histories[history].elasticity;
            number.map_or(0.0, |number| pack.number(number))
        };
        let profits = (0..pack.histories.len()).filter(|h| elasticity(*h) > 0.0);
        assert!(profits.clone().count() >= 3, "{}: who profits?", pack.id);
        for history in profits {
            for plain in (0..pack.histories.len()).filter(|h| elasticity(*h) == 0.0) {
                for pair in prices.windows(2) {
                    let odds = |price| {
                        let priors = priors(price);
                        (priors[history], priors[plain])
                    };
                    let (near, far) = (odds(pair[0]), odds(pair[1]));
                    assert!(
                        far.0 * near.1 >= near.0 * far.1 * (1.0 - 1e-12),
                        "{}: {} against {} from {} to {}",
                        pack.id,
                        pack.histories[history].id,
                        pack.histories[plain].id,
                        pair[0],
                        pair[1]
                    );
                }
            }
        }
    }
}

#[test]
fn a_sign_weighs_less_once_its_innocent_incident_is_certain() {
    for pack in all() {
        let sketch = Sketch::of(&pack, 0);
        let model = model(&pack, &sketch.case());
        let of = |sign: &Sign| sign.causes.iter().map(|(incident, _)| *incident).collect();
        let pairs = with_incidents(&pack, of);
        assert!(pairs.len() >= 8, "{}: {}", pack.id, pairs.len());
        for (sign, part, incident) in pairs {
            let reach = |happened| {
                let known = sketch.known(incident, happened);
                let top = sign.levels.len() - 1;
                reach(&pack, &model, &known, &known.found(sign, part, top))
            };
            let (with, without) = (reach(true), reach(false));
            assert!(
                with <= without + SLACK,
                "{}: `{}` reaches {with} once `{}` is certain, {without} when it is ruled out",
                pack.id,
                sign.id,
                pack.incidents[incident].id
            );
        }
    }
}

#[test]
fn a_hiding_incident_pulls_presence_and_absence_toward_nothing() {
    for pack in all() {
        let sketch = Sketch::of(&pack, 0);
        let model = model(&pack, &sketch.case());
        let of = |sign: &Sign| sign.hides.iter().map(|(incident, _)| *incident).collect();
        let pairs = with_incidents(&pack, of);
        assert!(pairs.len() >= 3, "{}: {}", pack.id, pairs.len());
        for (sign, part, incident) in pairs {
            for level in [0, sign.levels.len() - 1] {
                let reach = |happened| {
                    let known = sketch.known(incident, happened);
                    reach(&pack, &model, &known, &known.found(sign, part, level))
                };
                let (with, without) = (reach(true), reach(false));
                assert!(
                    with <= without + SLACK,
                    "{}: `{}` as `{}` reaches {with} once `{}` is certain, {without} when it is \
                     ruled out",
                    pack.id,
                    sign.id,
                    sign.levels[level],
                    pack.incidents[incident].id
                );
            }
        }
    }
}

/// A technology that came in after the claimed years, found on a part and explained by no incident,
/// makes the part younger; but not as young as the grid goes.
#[test]
fn a_feature_later_than_the_claim_moves_the_date_of_its_part() {
    for pack in all() {
        let sketch = Sketch::of(&pack, 0);
        let case = sketch.case();
        let model = model(&pack, &case);
        let claim_ends = case.years.1;
        let mut tried = 0;
        for sign in signs(&pack) {
            let Shows::Dated { curve, .. } = &sign.shows else {
                continue;
            };
            let points = &pack.curves[*curve].points;
            let late = points
                .iter()
                .all(|(year, share)| *year > claim_ends || *share < 0.02);
            let grows = points.last().is_some_and(|(_, share)| *share > 0.3);
            if !late || !grows {
                continue;
            }
            for part in &sign.parts {
                let top = sign.levels.len() - 1;
                let median = |sketch: &Sketch<'_>| {
                    let case = sketch.case();
                    let assessment = model
                        .assess(&pack, &case, true)
                        .unwrap_or_else(|error| panic!("{error}"));
                    let mut dates = assessment.dates.iter();
                    let dates = dates.find(|dates| dates.part == pack.parts[*part].id);
                    dates.map_or(f64::NAN, |dates| dates.median)
                };
                let sketch = sketch.unexplained(sign);
                let (before, after) = (median(&sketch), median(&sketch.found(sign, *part, top)));
                let of = format!("{}: {} at {}", pack.id, sign.id, pack.parts[*part].id);
                assert!(after > before, "{of}: {before} to {after}");
                let edge = f64::from(pack.dates.to - 2 * pack.dates.step);
                assert!(after < edge, "{of}: {after}");
                tried += 1;
            }
        }
        assert!(tried >= 3, "{}: {tried} late features", pack.id);
    }
}

/// A user has the sign looked at and told, at every part, without the engine failing.
#[test]
fn every_sign_can_be_found_and_cleared() {
    for pack in all() {
        let sketch = Sketch::of(&pack, pack.periods.len() - 1);
        let model = model(&pack, &sketch.case());
        for sign in signs(&pack) {
            for part in &sign.parts {
                for level in 0..sign.levels.len() {
                    let case = sketch.found(sign, *part, level).case();
                    let sum: f64 = histories(&pack, &model, &case).iter().sum();
                    assert!((sum - 1.0).abs() < 1e-9, "{}: {}", pack.id, sign.id);
                }
            }
        }
    }
}

/// What a piece of its variant cannot have is neither asked for nor taken.
#[test]
fn what_a_variant_cannot_have_is_not_asked_of_it() {
    let mut conditions = 0;
    for pack in all() {
        let text = oddment::new_case(&pack);
        for (variant, of) in pack.variants.iter().enumerate() {
            let sketch = Sketch::of_variant(&pack, variant, 0);
            let case = sketch.case();
            let outlook = look_next(&pack, &case, &NextOptions::default())
                .unwrap_or_else(|error| panic!("{error}"));
            let told = |id: &str| {
                let mut answers = outlook.checks.iter().flat_map(|check| &check.answers);
                answers.any(|answer| answer.id == id)
            };
            let places = outlook.checks.iter().flat_map(|check| &check.answers);
            for answer in places {
                let part = pack.parts.iter().position(|part| part.id == answer.part);
                let part = part.unwrap_or_else(|| panic!("{} is no part", answer.part));
                assert!(pack.has_part(part, variant), "{} {}", answer.id, of.id);
            }
            for sign in &pack.signs {
                assert_eq!(
                    told(&sign.id),
                    sign.concerns(variant),
                    "{} {}",
                    sign.id,
                    of.id
                );
                if sign.concerns(variant) {
                    continue;
                }
                conditions += 1;
                assert!(text.contains("# Only for: "), "{}", pack.id);
                let found = sketch.found(sign, sign.parts[0], 0);
                let error = found.loaded().expect_err("it cannot be looked for");
                assert!(
                    error.to_string().contains("is looked for only at"),
                    "{error}"
                );
            }
            let options = PredictOptions {
                variant: Some(of.id.clone()),
                pieces: 10,
                ..PredictOptions::default()
            };
            let prediction = predict(&pack, &options).unwrap_or_else(|error| panic!("{error}"));
            for sign in &pack.signs {
                let told = prediction.signs.iter().any(|told| told.id == sign.id);
                assert_eq!(told, sign.concerns(variant), "{} {}", sign.id, of.id);
            }
            for measure in &pack.measures {
                let asked = told(&measure.id);
                assert!(!asked || measure.concerns(variant), "{}", measure.id);
            }
        }
    }
    assert!(conditions > 0, "no pack makes use of it");
}

/// What an assessment says is there for every form: a piece not looked at is its prior.
#[test]
fn a_piece_not_looked_at_stands_at_its_prior() {
    for pack in all() {
        let case = Sketch::of(&pack, 0).case();
        let priors = oddment::prior::history_priors(&pack, &case);
        let assessment = assess(&pack, &case).unwrap_or_else(|error| panic!("{error}"));
        for history in &assessment.histories {
            let place = pack.histories.iter().position(|h| h.id == history.id);
            let prior = place.map_or(f64::NAN, |place| priors[place]);
            assert!(
                (history.probability - prior).abs() < 1e-9,
                "{}: {} {prior}",
                history.id,
                history.probability
            );
        }
    }
}
