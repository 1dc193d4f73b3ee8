//! A case file to fill in.

use crate::case::file::CASE_SCHEMA;
use crate::order::sort_by;
use crate::pack::Pack;
use std::collections::BTreeMap;
use std::fmt::Write;

/// A comment that says which variants have something to look for, where not all do.
fn only(pack: &Pack, has: impl Fn(usize) -> bool) -> String {
    let variants = pack.variants.iter().enumerate();
    let having = variants.filter(|(place, _)| has(*place));
    let ids: Vec<&str> = having.map(|(_, variant)| &*variant.id).collect();
    if ids.len() == pack.variants.len() {
        return String::new();
    }
    format!("# Only for: {}\n", ids.join(", "))
}

/// A commented case file for a form: every sign and measure, sorted by check, all "not looked".
///
/// It is valid as it stands; the examiner replaces `not-looked` by what was found.
pub fn new_case(pack: &Pack) -> String {
    let mut text = String::new();
    let first = |names: Vec<&str>| {
        names
            .first()
            .map_or(String::new(), |name| (*name).to_owned())
    };
    let variants: Vec<&str> = pack
        .variants
        .iter()
        .map(|entry| entry.id.as_str())
        .collect();
    let periods: Vec<&str> = pack.periods.iter().map(|entry| entry.id.as_str()).collect();
    let regions: Vec<&str> = pack.regions.iter().map(|entry| entry.id.as_str()).collect();
    let _ = writeln!(
        text,
        "# A case for oddment: {}. Replace `not-looked` by what you found.\n\
         # A sign you leave at `not-looked` says nothing; `no` means looked for and not there;\n\
         # `no-access` means you tried and could not see.\n\
         schema = \"{CASE_SCHEMA}\"\n\n\
         [piece]\n\
         form = \"{}\"\n\
         variant = \"{}\"  # {}\n\
         period = \"{}\"  # {}\n\
         region = \"{}\"  # {}\n\
         title = \"\"\n\
         # claimed_years = [1750, 1760]\n\
         # prices = {{ as_claimed = 2500, plainer = 1000 }}  # sets the temptation\n\n\
         [[visit]]\n\
         id = \"first\"\n\
         # by = \"initials\"\n\
         # date = \"2026-01-31\"\n\
         # how = \"daylight and torch, not turned over\"\n\
         # poor = 0.05          # chance that the examination as a whole was poor\n\
         # error_factor = 1.0   # 0.5 for a skilled hand",
        pack.name,
        pack.id,
        first(variants.clone()),
        variants.join(", "),
        first(periods.clone()),
        periods.join(", "),
        first(regions.clone()),
        regions.join(", "),
    );
    let mut by_check: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    for sign in &pack.signs {
        for part in &sign.parts {
            let part_line = if sign.parts.len() > 1 {
                format!("part = \"{}\"\n", pack.parts[*part].id)
            } else {
                String::new()
            };
            by_check.entry(sign.check).or_default().push(format!(
                "# {} ({}): {}\n{}# Innocent reading: {}\n[[finding]]\nsign = \"{}\"\n{part_line}found = \
                 \"not-looked\"  # {}, no-access\n# sure = \"fairly-sure\"  # sure, fairly-sure, doubtful\n",
                sign.name,
                pack.parts[*part].name,
                sign.points_to,
                only(pack, |v| pack.asks(sign, *part, v)),
                sign.innocent,
                sign.id,
                sign.levels.join(", "),
            ));
        }
    }
    for measure in &pack.measures {
        by_check.entry(measure.check).or_default().push(format!(
            "# {} ({}), in {}\n{}# Innocent reading: {}\n# [[reading]]\n# measure = \"{}\"\n# value = 0.0  \
             # or less_than, more_than, between = [low, high]\n",
            measure.name, pack.parts[measure.part].name, measure.unit, only(pack, |v| measure.concerns(v)), measure.innocent, measure.id,
        ));
    }
    let mut checks: Vec<usize> = by_check.keys().copied().collect();
    sort_by(&mut checks, |one, other| {
        let (one, other) = (&pack.checks[*one], &pack.checks[*other]);
        one.access
            .cmp(&other.access)
            .then(one.minutes.total_cmp(&other.minutes))
    });
    for check in checks {
        let entry = &pack.checks[check];
        let _ = write!(
            text,
            "\n# ---- {} ({} min; {}) ----\n# {}\n",
            entry.name,
            entry.minutes,
            if entry.tools.is_empty() {
                "no tools".to_owned()
            } else {
                entry.tools.join(", ")
            },
            entry.how,
        );
        for caution in &entry.cautions {
            let _ = writeln!(text, "# CAUTION: {}", pack.cautions[*caution].text);
        }
        for item in &by_check[&check] {
            let _ = write!(text, "\n{item}");
        }
    }
    let _ = write!(
        text,
        "\n# ---- For `oddment decide`: your own figures, in one currency ----\n\
         # [stakes]\n\
         # asking = 500\n\
         # worth = {{ original = 1200, married = 400, converted = 350, faked = 100 }}\n\
         # resale_cost = {{ share = 0.15, amount = 0 }}\n\
         # minute = 0.5          # what a minute of the examiner costs\n\
         # risk_aversion = 2     # 0: money counts as money; needs wealth\n\
         # wealth = 20000\n\
         # chance_of_loss = 0.1  # to state a price for\n",
    );
    text
}
