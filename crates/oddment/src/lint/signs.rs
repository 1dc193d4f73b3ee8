//! Signs that tell nothing, too much, or only what incidents make of them.

use super::marginal::{Care, Events, information, reported, reports};
use super::{LIKELIHOOD_RATIO_CAP, Notes, Subject, dated, is_dated};
use crate::pack::{Pack, Reliability, Shows};

/// A sign says nothing when what it is expected to tell of the history is less than this, in bits,
/// at the odds of the pack ...
const LEAST_BITS: f64 = 0.001;

/// ... and less than this where all histories are equally likely: a sign of a rare history may tell
/// next to nothing on average and still be what gives that history away.
const LEAST_BITS_EVEN: f64 = 0.005;

/// Incidents drown a sign that tells less than this share of what it would tell without them ...
const DROWNED_SHARE: f64 = 0.1;

/// ... if that would be worth having, in bits.
const WORTH_HAVING: f64 = 0.01;

/// A level less likely than this under every history and incident is as good as never there.
const LEAST_CHANCE: f64 = 0.005;

pub(super) fn all(subject: &Subject<'_>, notes: &mut Notes) {
    for sign in 0..subject.pack.signs.len() {
        settling(subject, sign, notes);
        levels(subject, sign, notes);
        // A curve that misses every claim is why such a sign says nothing.
        if !dated::sign(subject, sign, notes) {
            telling(subject, sign, notes);
        }
    }
}

/// What a sign at one part tells.
#[derive(Debug, Clone, Copy, Default)]
struct Telling {
    /// At the odds of the pack, in the period in which it tells most, in bits.
    bits: f64,
    /// Where all histories are equally likely.
    even: f64,
}

impl Telling {
    fn of(subject: &Subject<'_>, sign: usize, part: usize, events: Events) -> Self {
        let pack = subject.pack;
        let even = vec![1.0 / pack.histories.len() as f64; pack.histories.len()];
        let channel = reports(pack, sign, Care::Usual);
        let mut most = Self::default();
        for (marginals, priors) in periods_of(subject, sign) {
            let rows: Vec<Vec<f64>> = (0..pack.histories.len())
                .map(|history| reported(&marginals.levels(sign, part, history, events), &channel))
                .collect();
            most.bits = most.bits.max(information(priors, &rows));
            most.even = most.even.max(information(&even, &rows));
        }
        most
    }

    fn is_nothing(self) -> bool {
        self.bits < LEAST_BITS && self.even < LEAST_BITS_EVEN
    }
}

/// The periods that make a difference to a sign, each with the odds of the histories in it.
fn periods_of<'s>(
    subject: &'s Subject<'_>,
    sign: usize,
) -> impl Iterator<Item = (&'s super::Marginals<'s>, &'s [f64])> {
    let dated = is_dated(&subject.pack.signs[sign].shows);
    let all = subject.periods.iter();
    all.take(if dated { usize::MAX } else { 1 })
        .map(move |(marginals, priors)| {
            (
                marginals,
                if dated { priors } else { &subject.priors }.as_slice(),
            )
        })
}

/// The parts that make a difference to a sign: all of a dated one, whose dates differ.
fn places_of(pack: &Pack, sign: usize) -> &[usize] {
    let sign = &pack.signs[sign];
    let dated = is_dated(&sign.shows);
    &sign.parts[..if dated { sign.parts.len() } else { 1 }]
}

fn about(pack: &Pack, sign: usize, part: Option<usize>) -> String {
    let id = &pack.signs[sign].id;
    match part {
        Some(part) => format!("sign/{id}@{}", pack.parts[part].id),
        None => format!("sign/{id}"),
    }
}

/// Notes a sign that says nothing, at all or at one of its parts, or that incidents drown.
fn telling(subject: &Subject<'_>, sign: usize, notes: &mut Notes) {
    let pack = subject.pack;
    let places: Vec<(usize, Telling)> = places_of(pack, sign)
        .iter()
        .map(|part| (*part, Telling::of(subject, sign, *part, Events::All)))
        .collect();
    let silent = places.iter().all(|(_, telling)| telling.is_nothing());
    let several = places.len() > 1;
    let mut told = false;
    for (part, telling) in places {
        let about = about(pack, sign, (several && !silent).then_some(part));
        if drowned(subject, (sign, part), telling, &about, notes) {
            told = true;
            continue;
        }
        if !telling.is_nothing() || (silent && told) {
            continue;
        }
        told = true;
        let remedy = if several && !silent {
            "do not ask for it at this part"
        } else if is_dated(&pack.signs[sign].shows) {
            "choose a curve that changes between the claims and later work, or leave it out"
        } else {
            "let its chances differ more between histories, or leave it out"
        };
        let message = format!(
            "looking is expected to tell {} of a bit about the history at the pack's own odds and \
             {} were all histories equally likely, which is nothing: every look costs time and \
             adds noise; {remedy}",
            small(telling.bits),
            small(telling.even)
        );
        notes.note("lint/says-nothing", about, message);
    }
}

/// A small figure, to two digits that count.
fn small(bits: f64) -> String {
    if bits < 1e-5 {
        "less than 0.00001".to_owned()
    } else if bits < 1e-3 {
        format!("{bits:.5}")
    } else {
        format!("{bits:.4}")
    }
}

/// Notes a sign whose information is nearly gone because incidents cause or hide it.
fn drowned(
    subject: &Subject<'_>,
    (sign, part): (usize, usize),
    telling: Telling,
    about: &str,
    notes: &mut Notes,
) -> bool {
    let pack = subject.pack;
    let of = &pack.signs[sign];
    if of.causes.is_empty() && of.hides.is_empty() {
        return false;
    }
    let without = Telling::of(subject, sign, part, Events::None);
    if without.bits < WORTH_HAVING || telling.bits >= DROWNED_SHARE * without.bits {
        return false;
    }
    let incidents = of.causes.iter().map(|(incident, _)| *incident);
    let incidents = incidents.chain(of.hides.iter().map(|(incident, _)| *incident));
    let most = incidents
        .map(|incident| {
            let left = Telling::of(subject, sign, part, Events::AllBut(incident));
            (incident, left.bits)
        })
        .max_by(|one, other| one.1.total_cmp(&other.1));
    let Some((incident, left)) = most else {
        return false;
    };
    let message = format!(
        "incidents cause or hide it so often that it tells {:.0} in 100 of what it would tell \
         without them ({} bits instead of {:.3}); most is due to `{}` (without that one {:.3}): \
         lower its rate or what it does here",
        100.0 * telling.bits / without.bits,
        small(telling.bits),
        without.bits,
        pack.incidents[incident].id,
        left
    );
    notes.note("lint/drowned", about, message);
    true
}

/// Notes a sign of which one report settles a case, and an argument for that where there is no need.
fn settling(subject: &Subject<'_>, sign: usize, notes: &mut Notes) {
    let pack = subject.pack;
    let of = &pack.signs[sign];
    let channel = reports(pack, sign, Care::Sound);
    let mut widest: (f64, usize, [usize; 2]) = (1.0, 0, [0; 2]);
    for part in places_of(pack, sign) {
        for (marginals, _) in periods_of(subject, sign) {
            let rows: Vec<Vec<f64>> = (0..pack.histories.len())
                .filter(|history| subject.priors[*history] > 0.0)
                .map(|history| {
                    let mut row = reported(
                        &marginals.levels(sign, *part, history, Events::All),
                        &channel,
                    );
                    row.push(history as f64);
                    row
                })
                .collect();
            for report in 0..of.levels.len() {
                let by = |one: &&Vec<f64>, other: &&Vec<f64>| one[report].total_cmp(&other[report]);
                let (Some(most), Some(least)) = (rows.iter().max_by(by), rows.iter().min_by(by))
                else {
                    continue;
                };
                let ratio = most[report] / least[report];
                if ratio > widest.0 {
                    let history = |row: &[f64]| row[of.levels.len()] as usize;
                    widest = (ratio, report, [history(most), history(least)]);
                }
            }
        }
    }
    let (ratio, report, [most, least]) = widest;
    if ratio > LIKELIHOOD_RATIO_CAP && of.settles.is_none() {
        let message = format!(
            "one sure report of `{}` shifts the odds of `{}` against `{}` by a factor of {}: above \
             {LIKELIHOOD_RATIO_CAP} a single unaided look settles the case; make the chances or the \
             reliability less extreme, or argue for it in `settles`",
            of.levels[report],
            pack.histories[most].id,
            pack.histories[least].id,
            factor(ratio)
        );
        notes.note("lint/overwhelming", about(pack, sign, None), message);
    } else if ratio <= LIKELIHOOD_RATIO_CAP && of.settles.is_some() {
        let message = format!(
            "`settles` argues for more than it says: no report shifts two histories by more than a \
             factor of {}, and up to {LIKELIHOOD_RATIO_CAP} needs no argument; leave it out",
            factor(ratio)
        );
        notes.note("lint/argument", about(pack, sign, None), message);
    }
}

/// A factor in words short enough for a sentence.
pub(super) fn factor(ratio: f64) -> String {
    if ratio < 10.0 {
        format!("{ratio:.1}")
    } else if ratio < 1e6 {
        format!("{ratio:.0}")
    } else {
        "more than a million".to_owned()
    }
}

/// Notes levels of a graded sign that are as good as never there.
fn levels(subject: &Subject<'_>, sign: usize, notes: &mut Notes) {
    let pack = subject.pack;
    let of = &pack.signs[sign];
    let (Shows::History(_), 3..) = (&of.shows, of.levels.len()) else {
        return;
    };
    let Some((marginals, _)) = subject.periods.first() else {
        return;
    };
    let mut highest = vec![0.0_f64; of.levels.len()];
    let mut raise = |levels: &[f64]| {
        for (highest, chance) in highest.iter_mut().zip(levels) {
            *highest = highest.max(*chance);
        }
    };
    for history in 0..pack.histories.len() {
        raise(&marginals.levels(sign, of.parts[0], history, Events::All));
        raise(&marginals.levels(sign, of.parts[0], history, Events::None));
    }
    for (_, row) in &of.causes {
        raise(&pack.spread(row));
    }
    for (level, highest) in highest.iter().enumerate() {
        if *highest < LEAST_CHANCE {
            let message = format!(
                "level `{}` is as good as never there: at most {} in 1,000 under any history or \
                 incident, so that nearly every report of it would be a slip; leave it out, or say \
                 what brings it about",
                of.levels[level],
                figure_in_thousand(*highest)
            );
            notes.note("lint/level", about(pack, sign, None), message);
        }
    }
}

fn figure_in_thousand(chance: f64) -> String {
    format!("{:.1}", 1000.0 * chance)
}

/// Notes signs that are reported no better than by chance.
pub(super) fn reliability(pack: &Pack, notes: &mut Notes) {
    for sign in &pack.signs {
        let weak = match sign.reliability {
            Reliability::YesNo { found, cleared } => {
                pack.number(found) + pack.number(cleared) <= 1.0
            }
            Reliability::Graded { exact } => pack.number(exact) <= 1.0 / sign.levels.len() as f64,
        };
        if weak {
            let message = "is reported no better than by chance, so no report of it says anything; \
                           raise its reliability or leave it out";
            notes.note("lint/reliability", format!("sign/{}", sign.id), message);
        }
    }
}
