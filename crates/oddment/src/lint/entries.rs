//! Histories, claims and entries that cannot be, or that nothing uses.

use super::marginal::{MOST_CLAIMED, some_of};
use super::{Notes, is_dated};
use crate::order::set;
use crate::pack::{Domain, ExpectedValues, Origin, Pack, Shows, VERDICTS, Verdict};
use crate::prior::claim_weights;

/// Two histories that no sign's chances tell apart by more than this ratio are in effect one.
const TELLING_RATIO: f64 = 1.5;

pub(super) fn histories(pack: &Pack, notes: &mut Notes) {
    for verdict in VERDICTS {
        if !pack
            .histories
            .iter()
            .any(|history| history.verdict == verdict)
        {
            let message = "no history has this verdict, so it can never be given; add one";
            notes.note("lint/verdict", format!("verdict/{}", verdict.id()), message);
        }
    }
    for (place, history) in pack.histories.iter().enumerate() {
        let about = format!("history/{}", history.id);
        if pack
            .priors
            .iter()
            .all(|prior| pack.number(prior.counts[place]) == 0.0)
        {
            let message = "has a count of 0 for every variant, so it can never be; give it a count or leave it out";
            notes.note("lint/unreachable", about.clone(), message);
        }
        for (other, rival) in pack.histories.iter().enumerate().skip(place + 1) {
            if !told_apart(pack, place, other) {
                let message = format!(
                    "nothing tells it from `{}`: no chance differs by a factor of \
                     {TELLING_RATIO}, no origin and no density differs; merge them or add a \
                     sign",
                    rival.id
                );
                notes.note("lint/indistinct", about.clone(), message);
            }
        }
    }
}

/// Whether anything written differs between two histories.
pub(super) fn told_apart(pack: &Pack, one: usize, other: usize) -> bool {
    let chances = |sign: usize, history: usize| match &pack.signs[sign].shows {
        Shows::History(rows) => Some(pack.spread(&rows[history])),
        Shows::Dated { .. } => None,
    };
    let dated = pack.signs.iter().any(|sign| {
        is_dated(&sign.shows)
            && sign.parts.iter().any(|part| {
                pack.histories[one].origins[*part] != pack.histories[other].origins[*part]
            })
    });
    let shown =
        (0..pack.signs.len()).any(|sign| match (chances(sign, one), chances(sign, other)) {
            (Some(a), Some(b)) => a
                .iter()
                .zip(&b)
                .any(|(a, b)| a.max(*b) > TELLING_RATIO * a.min(*b)),
            _ => false,
        });
    let measured = pack
        .measures
        .iter()
        .any(|m| m.expectations[one].values != m.expectations[other].values);
    // Taken off or put on, and by what befalls it.
    let treated = pack.signs.iter().any(|sign| match &sign.shows {
        Shows::Dated { added, removed, .. } => {
            added[one] != added[other] || removed[one] != removed[other]
        }
        Shows::History(_) => false,
    });
    let befallen = pack.incidents.iter().any(|incident| {
        let (a, b) = (
            pack.number(incident.rates[one]),
            pack.number(incident.rates[other]),
        );
        a.max(b) > TELLING_RATIO * a.min(b)
    });
    dated || shown || measured || treated || befallen
}

/// Variants, periods and regions that nothing can claim, or that nothing right can.
pub(super) fn claims(pack: &Pack, notes: &mut Notes) {
    let lengths = [pack.variants.len(), pack.periods.len(), pack.regions.len()];
    let chosen = lengths.map(|length| some_of(length, MOST_CLAIMED));
    let complete = lengths.iter().all(|length| *length <= MOST_CLAIMED);
    // For each entry of the three lists: whether some claim has any odds, and any odds of being right.
    let mut possible = chosen.clone().map(|places| vec![[false; 2]; places.len()]);
    let mut reached = vec![false; pack.histories.len()];
    for (v, variant) in chosen[0].iter().enumerate() {
        for (p, period) in chosen[1].iter().enumerate() {
            for (r, region) in chosen[2].iter().enumerate() {
                let weights = claim_weights(pack, [*variant, *period, *region]);
                let mut right = false;
                for (place, weight) in weights.iter().enumerate() {
                    reached[place] |= *weight > 0.0;
                    right |= *weight > 0.0 && pack.histories[place].verdict == Verdict::Original;
                }
                let total: f64 = weights.iter().sum();
                let odds = total > 0.0 && total.is_finite();
                for (list, place) in [v, p, r].into_iter().enumerate() {
                    possible[list][place][0] |= odds;
                    possible[list][place][1] |= right;
                }
            }
        }
    }
    let ids = |list: usize, place: usize| match list {
        0 => format!("variant/{}", pack.variants[place].id),
        1 => format!("period/{}", pack.periods[place].id),
        _ => format!("region/{}", pack.regions[place].id),
    };
    let has_original = pack
        .histories
        .iter()
        .any(|history| history.verdict == Verdict::Original);
    for list in 0..3 {
        for (place, [odds, right]) in chosen[list].iter().zip(&possible[list]) {
            if !odds {
                let message = "the counts and factors leave no history any odds, so no piece can \
                               be claimed to be of it; raise a count or a factor above 0, or \
                               leave it out";
                notes.note("lint/unclaimable", ids(list, *place), message);
            } else if !right && has_original {
                let message = "no history of the verdict original has any odds, so nothing claimed \
                               to be of it can be right; give one a count and no factor of 0";
                notes.note("lint/unclaimable", ids(list, *place), message);
            }
        }
    }
    for (place, history) in pack.histories.iter().enumerate() {
        let counted = pack
            .priors
            .iter()
            .any(|prior| pack.number(prior.counts[place]) > 0.0);
        if complete && counted && !reached[place] {
            let message = "factors of 0 take it away from every claim, so it can never be; raise one \
                           of them, or leave it out";
            notes.note(
                "lint/unreachable",
                format!("history/{}", history.id),
                message,
            );
        }
    }
}

pub(super) fn unused(pack: &Pack, notes: &mut Notes) {
    let mut unused = |about: String, message: &str| notes.note("lint/unused", about, message);
    for (place, part) in pack.parts.iter().enumerate() {
        let seen = pack.signs.iter().any(|sign| sign.parts.contains(&place))
            || pack.measures.iter().any(|measure| measure.part == place);
        if !seen {
            unused(
                format!("part/{}", part.id),
                "no sign or measure is at this part; look for something there, or leave it out",
            );
        }
        let dated = pack
            .signs
            .iter()
            .any(|sign| sign.parts.contains(&place) && is_dated(&sign.shows));
        if part.dated && !dated && !pack.companions.contains(&Some(place)) {
            unused(
                format!("part/{}", part.id),
                "has a date of its own that no dated sign bears on; add one, or leave out `dated`",
            );
        }
    }
    for (place, group) in pack.groups.iter().enumerate() {
        let members: usize = pack
            .signs
            .iter()
            .filter(|sign| sign.group == Some(place))
            .map(|sign| sign.parts.len())
            .sum();
        if members < 2 {
            unused(
                format!("group/{}", group.id),
                "has fewer than two signs to couple; put another in, or leave it out",
            );
        }
    }
    for (place, incident) in pack.incidents.iter().enumerate() {
        let acts = pack.signs.iter().any(|sign| {
            sign.causes.iter().any(|(i, _)| *i == place)
                || sign.hides.iter().any(|(i, _)| *i == place)
        }) || pack
            .measures
            .iter()
            .any(|m| m.overrides.iter().any(|(i, _)| *i == place));
        if !acts {
            unused(
                format!("incident/{}", incident.id),
                "neither causes nor hides anything; say what it does, or leave it out",
            );
        }
    }
    let used = set(pack.numbers.iter().map(|number| number.source));
    let shares = pack
        .numbers
        .iter()
        .filter(|number| number.domain == Domain::Chance)
        .count();
    if used.is_empty() || shares == 0 {
        unused("pack".into(), "holds no chances at all; give it a sign");
    }
    for (place, later) in pack.later_work.iter().enumerate() {
        let after = pack
            .histories
            .iter()
            .any(|history| history.origins.contains(&Some(Origin::After(place))));
        if !after {
            unused(
                format!("later_work/{}", later.id),
                "no history refers to it; let an origin name it, or leave it out",
            );
        }
    }
    for measure in &pack.measures {
        let all_same = measure
            .expectations
            .windows(2)
            .all(|pair| pair[0].values == pair[1].values);
        if all_same
            && !matches!(
                measure
                    .expectations
                    .first()
                    .map(|expected| &expected.values),
                Some(ExpectedValues::Movement(_))
            )
        {
            unused(
                format!("measure/{}", measure.id),
                "expects the same under every history; say where it differs, or leave it out",
            );
        }
    }
    for factor in &pack.prior_factors {
        let lists = [&factor.variants, &factor.periods, &factor.regions];
        if lists.into_iter().flatten().any(Vec::is_empty) {
            unused(
                format!("prior_factor/{}", factor.id),
                "an empty list leaves it nothing to apply to; name what it is for, or leave the list \
                 out where it is for all",
            );
        } else if factor.factors.iter().all(Option::is_none) {
            unused(
                format!("prior_factor/{}", factor.id),
                "its selectors fit no history; name a history, kind or verdict of this pack",
            );
        }
    }
}
