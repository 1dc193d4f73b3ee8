//! A piece assessed by going through every history, incident, clarity, quality of examination and
//! making date in turn: slow, plain, and independent of the engine's network and circuit.
//!
//! Written from the model's definition; it shares with the engine only the reading of packs and
//! cases and the densities.

use oddment::case::{Case, Finding, Outcome, Reading, Sureness, Value};
use oddment::density::Density;
use oddment::pack::{ExpectedValues, NumberId, Origin, Pack, Reliability, Shows, Sign};

/// The joint probability of all evidence with one joint state of what is not seen.
#[derive(Debug, Clone)]
pub struct World {
    /// Index of the history.
    pub history: usize,
    /// Whether each incident happened.
    pub incidents: Vec<bool>,
    /// Whether each visit was poor.
    pub poor: Vec<bool>,
    /// The joint probability.
    pub joint: f64,
}

/// All worlds of a case, dates and clarities summed out.
///
/// `dated` restricts one part to one date bin; findings and readings are those of the case.
pub fn worlds(pack: &Pack, case: &Case, dated: Option<(usize, usize)>) -> Vec<World> {
    let priors = priors(pack, case);
    let (incidents, visits) = (pack.incidents.len(), case.visits.len());
    let mut worlds = Vec::new();
    for (history, prior) in priors.iter().enumerate() {
        for happened in subsets(incidents) {
            let mut chance = *prior;
            for (index, incident) in pack.incidents.iter().enumerate() {
                let rate = case.numbers[incident.rates[history].index()];
                chance *= if happened[index] { rate } else { 1.0 - rate };
                if case
                    .known
                    .iter()
                    .any(|(known, was)| *known == index && *was != happened[index])
                {
                    chance = 0.0;
                }
            }
            for poor in subsets(visits) {
                let mut joint = chance;
                for (visit, poor) in case.visits.iter().zip(&poor) {
                    let rate = visit.poor.unwrap_or(number(case, pack.examination.poor));
                    joint *= if *poor { rate } else { 1.0 - rate };
                }
                for reading in &case.readings {
                    joint *= reading_density(pack, reading, history, &happened, &poor);
                }
                joint *= signs(pack, case, history, &happened, &poor, dated);
                worlds.push(World {
                    history,
                    incidents: happened.clone(),
                    poor,
                    joint,
                });
            }
        }
    }
    worlds
}

fn subsets(count: usize) -> impl Iterator<Item = Vec<bool>> {
    (0..1_usize << count).map(move |set| (0..count).map(|bit| set >> bit & 1 == 1).collect())
}

fn number(case: &Case, id: NumberId) -> f64 {
    case.numbers[id.index()]
}

/// Prior probabilities of the histories.
pub fn priors(pack: &Pack, case: &Case) -> Vec<f64> {
    let weights: Vec<f64> = (0..pack.histories.len())
        .map(|history| {
            if let Some(prior) = &case.prior {
                return prior[history];
            }
            let mut weight = number(case, pack.priors[case.variant].counts[history]);
            for factor in &pack.prior_factors {
                let fits = |only: &Option<Vec<usize>>, own| match only {
                    None => true,
                    Some(only) => only.contains(&own),
                };
                if fits(&factor.variants, case.variant)
                    && fits(&factor.periods, case.period)
                    && fits(&factor.regions, case.region)
                {
                    weight *= factor.factors[history].map_or(1.0, |id| number(case, id));
                }
            }
            if let Some(prices) = &case.file.piece.prices {
                let ratio = prices.as_claimed / prices.plainer;
                let reference = pack.variants[case.variant].price_ratio;
                let power = pack.histories[history]
                    .elasticity
                    .map_or(0.0, |id| number(case, id));
                weight *= libm::exp(power * (libm::log(ratio) - libm::log(reference)));
            }
            weight
        })
        .collect();
    let total: f64 = weights.iter().sum();
    weights.iter().map(|weight| weight / total).collect()
}

fn reading_density(
    pack: &Pack,
    reading: &Reading,
    history: usize,
    happened: &[bool],
    poor: &[bool],
) -> f64 {
    let measure = &pack.measures[reading.measure];
    let over = measure
        .overrides
        .iter()
        .find(|(incident, _)| happened[*incident]);
    let density: &Density = match (over, &measure.expectations[history]) {
        (Some((_, expected)), _) | (None, expected) => match &expected.values {
            ExpectedValues::Density(density) => density,
            ExpectedValues::Movement(_) => panic!("the oracle does not know wood movement"),
        },
    };
    let times = if poor[reading.visit] {
        pack.number(pack.examination.poor_instrument)
    } else {
        1.0
    };
    let error = reading.error * times;
    let result = match reading.value {
        Value::Exactly(value) => density.density_at(value, error),
        Value::Between(low, high) => density.probability_between(low, high, error),
    };
    result.unwrap_or_else(|error| panic!("{error}"))
}

/// Probability of all reports, clarities and dates summed out.
fn signs(
    pack: &Pack,
    case: &Case,
    history: usize,
    happened: &[bool],
    poor: &[bool],
    dated: Option<(usize, usize)>,
) -> f64 {
    let mut total = 0.0;
    for plain in subsets(pack.groups.len()) {
        let mut product = libm::pow(0.5, pack.groups.len() as f64);
        for (index, sign) in pack.signs.iter().enumerate() {
            let Shows::History(rows) = &sign.shows else {
                continue;
            };
            let shift = sign.group.map(|group| {
                let coupling = number(case, pack.groups[group].coupling);
                if plain[group] { coupling } else { -coupling }
            });
            // Chance of more than each level but the last.
            let row = spread(case, &rows[history]);
            let above: Vec<f64> = (0..row.len() - 1)
                .map(|level| {
                    let above: f64 = row[level + 1..].iter().sum::<f64>() / row.iter().sum::<f64>();
                    above + shift.unwrap_or(0.0) * above.min(1.0 - above)
                })
                .collect();
            let below: Vec<f64> = above.iter().map(|above| 1.0 - above).collect();
            for part in &sign.parts {
                let chances = level_chances(case, sign, &below, happened, 0.0);
                product *= reports(pack, case, index, *part, &chances, poor);
            }
        }
        total += product;
    }
    total * dated_signs(pack, case, history, happened, poor, dated)
}

fn spread(case: &Case, row: &[NumberId]) -> Vec<f64> {
    match row {
        [single] => vec![1.0 - number(case, *single), number(case, *single)],
        row => row.iter().map(|id| number(case, *id)).collect(),
    }
}

/// Chance of each level, from the chances of staying at or below them by the base cause alone.
fn level_chances(
    case: &Case,
    sign: &Sign,
    below: &[f64],
    happened: &[bool],
    removed: f64,
) -> Vec<f64> {
    let mut keep = 1.0 - removed;
    for (incident, hides) in &sign.hides {
        if happened[*incident] {
            keep *= 1.0 - number(case, *hides);
        }
    }
    let upto: Vec<f64> = below
        .iter()
        .enumerate()
        .map(|(level, base)| {
            let mut caused = *base;
            for (incident, row) in &sign.causes {
                if happened[*incident] {
                    let row = spread(case, row);
                    caused *= row[..=level].iter().sum::<f64>() / row.iter().sum::<f64>();
                }
            }
            1.0 - (1.0 - caused) * keep
        })
        .chain([1.0])
        .collect();
    (0..upto.len())
        .map(|l| {
            if l == 0 {
                upto[0]
            } else {
                upto[l] - upto[l - 1]
            }
        })
        .collect()
}

/// Probability of all reports on one sign at one part, given the chances of its levels.
fn reports(
    pack: &Pack,
    case: &Case,
    sign: usize,
    part: usize,
    chances: &[f64],
    poor: &[bool],
) -> f64 {
    (0..chances.len())
        .map(|level| {
            let reported: f64 = case
                .findings
                .iter()
                .filter(|finding| finding.sign == sign && finding.part == part)
                .map(|finding| report_chance(pack, case, finding, level, poor[finding.visit]))
                .product();
            chances[level] * reported
        })
        .sum()
}

/// Chance of one report at a true level.
pub fn report_chance(pack: &Pack, case: &Case, finding: &Finding, truth: usize, poor: bool) -> f64 {
    let Outcome::Reported { level, sure } = finding.outcome else {
        return 1.0;
    };
    let sign = &pack.signs[finding.sign];
    let levels = sign.levels.len() as f64;
    let factor = case.visits[finding.visit].error_factor;
    let better = |id: NumberId| (1.0 - factor * (1.0 - number(case, id))).max(1.0 / levels);
    let right = match sign.reliability {
        Reliability::YesNo { found, .. } if truth == 1 => better(found),
        Reliability::YesNo { cleared, .. } => better(cleared),
        Reliability::Graded { exact } => better(exact),
    };
    let informed = if level == truth {
        right
    } else if level.abs_diff(truth) > 1 {
        0.0
    } else {
        let at_end = truth == 0 || truth + 1 == sign.levels.len();
        (1.0 - right) * if at_end { 1.0 } else { 0.5 }
    };
    let keep = if poor {
        number(case, pack.examination.poor_factor)
    } else {
        1.0
    };
    let seen = keep * informed + (1.0 - keep) / levels;
    let weight = match sure {
        Sureness::Sure => number(case, pack.examination.sureness[0]),
        Sureness::FairlySure => number(case, pack.examination.sureness[1]),
        Sureness::Doubtful => number(case, pack.examination.sureness[2]),
    };
    weight * seen + (1.0 - weight) / levels
}

/// Probability of the reports on dated signs, dates summed out: parts that share a date under the
/// history are summed together.
fn dated_signs(
    pack: &Pack,
    case: &Case,
    history: usize,
    happened: &[bool],
    poor: &[bool],
    dated: Option<(usize, usize)>,
) -> f64 {
    let root = |mut part: usize| {
        while let Some(Origin::Shares(other)) = pack.histories[history].origins[part] {
            part = other;
        }
        part
    };
    let mut product = 1.0;
    for start in 0..pack.parts.len() {
        if !pack.parts[start].dated || root(start) != start {
            continue;
        }
        let Some(origin) = pack.histories[history].origins[start] else {
            continue;
        };
        let years = year_weights(pack, origin, case.years);
        let all: f64 = years.iter().map(|(_, weight)| weight).sum();
        let mut sum = 0.0;
        for bin in 0..pack.dates.bins() {
            if dated.is_some_and(|(part, only)| root(part) == start && only != bin) {
                continue;
            }
            let (from, to) = pack.dates.years(bin);
            let within = years.iter().filter(|(year, _)| (from..to).contains(year));
            let mut weight: f64 = within.map(|(_, weight)| weight / all).sum();
            for (index, sign) in pack.signs.iter().enumerate() {
                let Shows::Dated {
                    curve,
                    visible,
                    added,
                    removed,
                } = &sign.shows
                else {
                    continue;
                };
                let share: f64 = (from..to)
                    .map(|year| in_use(pack, *curve, f64::from(year) + 0.5))
                    .sum::<f64>()
                    / f64::from(to - from);
                let of =
                    |side: &[Option<NumberId>]| side[history].map_or(0.0, |id| number(case, id));
                let absent = (1.0 - share * number(case, *visible)) * (1.0 - of(added));
                for part in sign.parts.iter().filter(|part| root(**part) == start) {
                    let chances = level_chances(case, sign, &[absent], happened, of(removed));
                    weight *= reports(pack, case, index, *part, &chances, poor);
                }
            }
            sum += weight;
        }
        product *= sum;
    }
    product
}

fn year_weights(pack: &Pack, origin: Origin, (from, to): (i32, i32)) -> Vec<(i32, f64)> {
    (pack.dates.from..pack.dates.to)
        .map(|year| {
            let weight = match origin {
                Origin::Claim if year < from => {
                    1.0 - (f64::from(from - year) - 0.5) / pack.dates.shoulder
                }
                Origin::Claim if year > to => {
                    1.0 - (f64::from(year - to) - 0.5) / pack.dates.shoulder
                }
                Origin::Claim => 1.0,
                Origin::Between(first, last) if year >= first && year <= last => 1.0,
                Origin::Older(span) if year >= from - span && year < from => 1.0,
                Origin::After(later) if year > to => {
                    let (points, middle) = (&pack.later_work[later].points, f64::from(year) + 0.5);
                    let mut weight = 0.0;
                    for pair in points.windows(2) {
                        let (a, b) = (f64::from(pair[0].0), f64::from(pair[1].0));
                        if middle >= a && middle <= b {
                            weight = pair[0].1 + (middle - a) / (b - a) * (pair[1].1 - pair[0].1);
                        }
                    }
                    weight
                }
                _ => 0.0,
            };
            (year, weight.max(0.0))
        })
        .collect()
}

/// Share of new work showing a technology: straight lines in log-odds.
fn in_use(pack: &Pack, curve: usize, year: f64) -> f64 {
    let curve = &pack.curves[curve];
    if curve
        .not_before
        .is_some_and(|first| year < f64::from(first))
    {
        return 0.0;
    }
    let mut share = curve.points[0].1;
    for pair in curve.points.windows(2) {
        let (a, b) = (f64::from(pair[0].0), f64::from(pair[1].0));
        if year >= a {
            let odds = |share: f64| share / (1.0 - share);
            let along = ((year - a) / (b - a)).min(1.0);
            let mixed = libm::pow(odds(pair[0].1), 1.0 - along) * libm::pow(odds(pair[1].1), along);
            share = mixed / (1.0 + mixed);
        }
    }
    share
}
