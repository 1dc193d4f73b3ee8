//! Dated signs at odds with what can be claimed.

use super::{Notes, Subject};
use crate::pack::Shows;

/// A share below this is as good as nobody, one as far below 1 as good as everybody.
const NEXT_TO_NONE: f64 = 0.02;

/// A curve that jumps further than this from nothing is a step, not a slope.
const GREATEST_STEP: f64 = 0.3;

/// A date bin less likely than this under every history is not reached.
const REACHED: f64 = 1e-9;

/// Notes what is wrong with a dated sign's curve; whether the sign can tell anything at all is then
/// answered.
pub(super) fn sign(subject: &Subject<'_>, sign: usize, notes: &mut Notes) -> bool {
    let pack = subject.pack;
    let Shows::Dated { curve, .. } = pack.signs[sign].shows else {
        return false;
    };
    let about = format!("sign/{}", pack.signs[sign].id);
    let of = &pack.curves[curve];
    if let Some(first) = of.not_before.filter(|first| *first >= pack.dates.to) {
        let message = format!(
            "curve `{}` begins in {first}, when the dates have ended ({}), so the sign is never \
             there; let the dates run on, or choose another curve",
            of.id, pack.dates.to
        );
        notes.note("lint/curve", about, message);
        return true;
    }
    step(subject, curve, &about, notes);
    let reached = Reached::of(subject, sign, curve);
    let (low, high) = reached.anywhere;
    let message = if high < low {
        return false;
    } else if high < NEXT_TO_NONE {
        format!(
            "curve `{}` stays below {} in 100 wherever a history can date its parts, so the sign is \
             hardly ever there; choose another curve, or give the parts a date that it reaches",
            of.id,
            100.0 * NEXT_TO_NONE
        )
    } else if low > 1.0 - NEXT_TO_NONE {
        format!(
            "curve `{}` stays above {} in 100 wherever a history can date its parts, so the sign \
             tells no date from another; choose another curve, or begin this one with the share \
             before everybody did it",
            of.id,
            100.0 * (1.0 - NEXT_TO_NONE)
        )
    } else if reached.is_over_before_every_claim() {
        format!(
            "curve `{}` has fallen below {} in 100 before every claimed period and does not rise \
             again, so it marks neither pieces of the claim nor later work; choose another curve, or \
             correct its years",
            of.id,
            100.0 * NEXT_TO_NONE
        )
    } else {
        return false;
    };
    notes.note("lint/curve", about, message);
    true
}

/// Notes a curve that begins with a step.
fn step(subject: &Subject<'_>, curve: usize, about: &str, notes: &mut Notes) {
    let of = &subject.pack.curves[curve];
    let Some(first) = of.not_before else { return };
    let share = crate::prior::share_in_use(of, f64::from(first));
    if share > GREATEST_STEP {
        let message = format!(
            "curve `{}` jumps from nothing to {:.0} in 100 in {first}, its `not_before`, so that one \
             year decides; sources differ by more than that: let the curve rise from there, or put \
             `not_before` earlier",
            of.id,
            100.0 * share
        );
        notes.note("lint/curve-step", about, message);
    }
}

/// The lowest and highest share in use in the years that matter.
#[derive(Debug, Clone, Copy)]
struct Reached {
    /// In all years that some history gives one of the sign's parts.
    anywhere: (f64, f64),
    /// In the years of the claimed periods, and from the earliest of them on.
    claimed: (f64, f64),
    since: (f64, f64),
}

impl Reached {
    fn of(subject: &Subject<'_>, sign: usize, curve: usize) -> Self {
        let pack = subject.pack;
        let none = (f64::INFINITY, f64::NEG_INFINITY);
        let mut of = Self {
            anywhere: none,
            claimed: none,
            since: none,
        };
        let widen = |range: &mut (f64, f64), share: f64| {
            *range = (range.0.min(share), range.1.max(share));
        };
        for (marginals, _) in &subject.periods {
            let shares = marginals.in_use(curve);
            for history in 0..pack.histories.len() {
                for part in &pack.signs[sign].parts {
                    let dates = marginals.dates(history, *part).unwrap_or_default();
                    for (chance, share) in dates.iter().zip(shares) {
                        if *chance > REACHED {
                            widen(&mut of.anywhere, *share);
                        }
                    }
                }
            }
        }
        let first = pack.periods.iter().map(|period| period.from).min();
        for bin in 0..pack.dates.bins() {
            let (from, to) = pack.dates.years(bin);
            let share = subject
                .periods
                .first()
                .map_or(0.0, |(marginals, _)| marginals.in_use(curve)[bin]);
            let claims =
                |period: &&crate::pack::file::PeriodFile| from <= period.to && to > period.from;
            if pack.periods.iter().any(|period| claims(&period)) {
                widen(&mut of.claimed, share);
            }
            if first.is_some_and(|first| to > first) {
                widen(&mut of.since, share);
            }
        }
        of
    }

    fn is_over_before_every_claim(self) -> bool {
        self.claimed.1 < NEXT_TO_NONE && self.since.1 < NEXT_TO_NONE
    }
}
