//! What a number says, in the pack's own words.

use crate::leaning::NumberUnit;
use crate::pack::{Domain, NumberId, Pack, VERDICTS};

/// Who a selector speaks of.
fn pieces(pack: &Pack, selector: &str) -> String {
    if selector == "any" {
        return "pieces of any history".to_owned();
    }
    if let Some(verdict) = VERDICTS.iter().find(|verdict| verdict.id() == selector) {
        return format!("{} pieces", verdict.id());
    }
    let history = pack.histories.iter().find(|history| history.id == selector);
    match history {
        Some(history) => format!("pieces with the history \u{201c}{}\u{201d}", history.name),
        None => format!(
            "pieces of the kind \u{201c}{}\u{201d}",
            selector.replace('-', " ")
        ),
    }
}

/// What a number says.
pub(crate) fn words(pack: &Pack, id: NumberId) -> String {
    let id = pack.numbers[id.index()].id.as_str();
    let parts: Vec<&str> = id.split('/').collect();
    let quoted = |name: Option<&String>, or: &str| -> String {
        format!("\u{201c}{}\u{201d}", name.map_or(or, String::as_str))
    };
    let sign = |id: &str| {
        let found = pack.signs.iter().find(|sign| sign.id == id);
        quoted(found.map(|sign| &sign.name), id)
    };
    let level = |of: &str, level: Option<&&str>| -> String {
        let levels = pack
            .signs
            .iter()
            .find(|sign| sign.id == of)
            .map(|sign| &sign.levels);
        let named = level
            .and_then(|level| level.parse::<usize>().ok())
            .and_then(|level| levels.and_then(|levels| levels.get(level)));
        named.map_or_else(String::new, |level| format!(" as \u{201c}{level}\u{201d}"))
    };
    let incident = |id: &str| {
        let found = pack.incidents.iter().find(|incident| incident.id == id);
        quoted(found.map(|incident| &incident.name), id)
    };
    let history = |id: &str| {
        let found = pack.histories.iter().find(|history| history.id == id);
        quoted(found.map(|history| &history.name), id)
    };
    let measure = |id: &str| {
        let found = pack.measures.iter().find(|measure| measure.id == id);
        quoted(found.map(|measure| &measure.name), id)
    };
    match parts.as_slice() {
        ["prior", variant, of] => {
            let found = pack.variants.iter().find(|v| v.id == *variant);
            let variant = found.map_or(*variant, |variant| variant.name.as_str());
            format!("of 1,000 pieces offered as {variant}: {}", history(of))
        }
        ["prior-factor", factor, selector] => format!(
            "factor \u{201c}{}\u{201d} on the count of {}",
            factor.replace('-', " "),
            pieces(pack, selector)
        ),
        ["history", of, "elasticity"] => {
            format!("pull of the price gap on {}", history(of))
        }
        ["group", of, "coupling"] => {
            let found = pack.groups.iter().find(|group| group.id == *of);
            let name = quoted(found.map(|group| &group.name), of);
            format!("how far the traces of one act hang together: {name}")
        }
        ["incident", of, "rate", selector] => {
            format!(
                "{} to which this happened: {}",
                pieces(pack, selector),
                incident(of)
            )
        }
        ["sign", of, "shows", selector, rest @ ..] => format!(
            "{} that show {}{}",
            pieces(pack, selector),
            sign(of),
            level(of, rest.first())
        ),
        ["sign", of, "caused-by", by, rest @ ..] => format!(
            "pieces to which {} happened that show {}{} by it",
            incident(by),
            sign(of),
            level(of, rest.first())
        ),
        ["sign", of, "hidden-by", by] => format!(
            "pieces to which {} happened that lost {} by it",
            incident(by),
            sign(of)
        ),
        ["sign", of, "dated", "visible"] => {
            format!("pieces made in that way that still show {}", sign(of))
        }
        ["sign", of, "dated", "added", selector] => {
            format!(
                "{} on which it was put on later: {}",
                pieces(pack, selector),
                sign(of)
            )
        }
        ["sign", of, "dated", "removed", selector] => {
            format!(
                "{} from which it was taken off: {}",
                pieces(pack, selector),
                sign(of)
            )
        }
        ["sign", of, "reliability", "found"] => {
            format!("pieces that have it on which it is reported: {}", sign(of))
        }
        ["sign", of, "reliability", "cleared"] => {
            format!(
                "pieces without it on which its absence is reported: {}",
                sign(of)
            )
        }
        ["sign", of, "reliability", _] => {
            format!("reports at the right level: {}", sign(of))
        }
        ["curve", of, "half"] => {
            let found = pack.curves.iter().find(|curve| curve.id == *of);
            let name = quoted(found.map(|curve| &curve.name), of);
            format!("share in use in the year the curve puts at one half: {name}")
        }
        ["measure", of, "shift", selector] => {
            format!(
                "what is added to {} in {}",
                measure(of),
                moved(pack, selector)
            )
        }
        ["measure", of, "stretch", selector] => {
            format!(
                "what {} is multiplied by in {}",
                measure(of),
                moved(pack, selector)
            )
        }
        ["examination", "poor"] => "examinations that go badly as a whole".to_owned(),
        ["examination", "poor-factor"] => {
            "what a poor examination leaves of a report's reliability".to_owned()
        }
        ["examination", "poor-instrument"] => {
            "how much larger an instrument's error is in a poor examination".to_owned()
        }
        ["examination", sureness] => {
            format!("weight of a report called {}", sureness.replace('-', " "))
        }
        _ => id.to_owned(),
    }
}

/// Who the expectation of a measure speaks of: a selector, or pieces to which an incident happened.
fn moved(pack: &Pack, selector: &str) -> String {
    let incident = pack
        .incidents
        .iter()
        .find(|incident| incident.id == selector);
    match incident {
        Some(incident) => format!("pieces to which \u{201c}{}\u{201d} happened", incident.name),
        None => pieces(pack, selector),
    }
}

/// In what a number is told.
pub(crate) fn unit(pack: &Pack, id: NumberId) -> NumberUnit {
    let number = &pack.numbers[id.index()];
    match number.domain {
        Domain::Chance => NumberUnit::Chance,
        // Weights and couplings are shares, but not of pieces.
        Domain::Share if number.id.ends_with("/visible") => NumberUnit::Chance,
        Domain::NotNegative if number.id.starts_with("prior/") => NumberUnit::Count,
        Domain::Share | Domain::NotNegative | Domain::Stretch => NumberUnit::Plain,
        Domain::Shift { .. } => NumberUnit::Shift,
    }
}
