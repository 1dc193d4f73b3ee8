//! `oddment signs`: the checks as a list to take along under the table.

use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words;
use oddment::Pack;
use oddment::pack::{Access, Check, Measure, Sign};

pub(super) fn render(pack: &Pack) -> String {
    let mut page = Page::new();
    page.paragraph(
        STRONG,
        0,
        &format!("{}: what to look for, least trouble first", pack.name),
    );
    page.paragraph(
        FAINT,
        0,
        &format!(
            "Tick what you looked for, whatever you found: a sign looked for and not there counts, \
             a sign not looked for says nothing. Below each stand its id and the answers that the \
             case file takes (`oddment new {}`). Pack {}, library {}.",
            pack.id, pack.version, pack.library_version
        ),
    );
    let mut reached: Option<Access> = None;
    for (place, check) in in_order(pack) {
        if reached != Some(check.access) {
            reached = Some(check.access);
            page.heading(&words::access(check.access).to_uppercase());
        }
        render_check(&mut page, pack, place, check);
    }
    page.finish()
}

/// The checks with their places, from least trouble to most.
fn in_order(pack: &Pack) -> Vec<(usize, &Check)> {
    let mut checks: Vec<(usize, &Check)> = pack.checks.iter().enumerate().collect();
    checks.sort_by(|(_, one), (_, other)| {
        let shorter = one.minutes.total_cmp(&other.minutes);
        one.access.cmp(&other.access).then(shorter)
    });
    checks
}

fn render_check(page: &mut Page, pack: &Pack, place: usize, check: &Check) {
    page.gap();
    let mut needs = vec![words::minutes(check.minutes)];
    if !check.tools.is_empty() {
        needs.push(check.tools.join(", "));
    }
    needs.extend(words::leave(check.leave).map(str::to_owned));
    page.paragraph(STRONG, 0, &format!("{} ({})", check.name, needs.join("; ")));
    page.paragraph(PLAIN, 2, &check.how);
    for caution in check.cautions.iter().filter_map(|c| pack.cautions.get(*c)) {
        page.hang(PLAIN, 2, "Caution: ", &caution.text);
    }
    for sign in pack.signs.iter().filter(|sign| sign.check == place) {
        render_sign(page, pack, sign);
    }
    for measure in pack
        .measures
        .iter()
        .filter(|measure| measure.check == place)
    {
        render_measure(page, pack, measure);
    }
}

fn part_name(pack: &Pack, part: usize) -> &str {
    pack.parts.get(part).map_or("", |part| part.name.as_str())
}

fn render_sign(page: &mut Page, pack: &Pack, sign: &Sign) {
    page.gap();
    match sign.parts.as_slice() {
        [only] => {
            page.hang(PLAIN, 2, "[ ] ", &sign.name);
            page.hang(PLAIN, 6, "Where: ", part_name(pack, *only));
        }
        parts => {
            page.paragraph(PLAIN, 6, &sign.name);
            let boxes = parts.iter().map(|part| {
                // A box must not be parted from its name.
                let name = part_name(pack, *part).replace(' ', "\u{a0}");
                format!("[\u{a0}]\u{a0}{name}")
            });
            let boxes: Vec<String> = boxes.collect();
            page.hang(PLAIN, 6, "Where: ", &boxes.join(" "));
        }
    }
    only(page, pack, sign.variants.as_deref());
    readings(page, &sign.points_to, &sign.innocent);
    page.paragraph(
        FAINT,
        6,
        &format!("{} = {}", sign.id, sign.levels.join(" | ")),
    );
}

fn render_measure(page: &mut Page, pack: &Pack, measure: &Measure) {
    page.gap();
    page.hang(PLAIN, 2, "[ ] ", &measure.name);
    page.hang(PLAIN, 6, "Where: ", part_name(pack, measure.part));
    only(page, pack, measure.variants.as_deref());
    readings(page, &measure.points_to, &measure.innocent);
    let unit = words::unit(&measure.unit);
    let answer = format!(
        "{} = ______ {unit}, to about {} {unit}",
        measure.id, measure.error
    );
    page.paragraph(FAINT, 6, &answer);
}

/// Which variants have it to look for, where not all do.
fn only(page: &mut Page, pack: &Pack, variants: Option<&[usize]>) {
    if let Some(variants) = variants {
        let names: Vec<&str> = variants
            .iter()
            .map(|variant| &*pack.variants[*variant].name)
            .collect();
        page.hang(PLAIN, 6, "Only: ", &names.join("; "));
    }
}

fn readings(page: &mut Page, points_to: &str, innocent: &str) {
    page.hang(PLAIN, 6, "Points to: ", points_to);
    page.hang(PLAIN, 6, "Innocent: ", innocent);
}
