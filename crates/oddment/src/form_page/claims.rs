//! What a piece can claim to be, its parts, the rival stories and their counts.

use super::markdown::{Page, cite, stopped};
use super::signs::only;
use crate::pack::{History, NumberId, Origin, PriorFactor, VERDICTS, Verdict};
use crate::text::figure;

pub(super) fn write(page: &mut Page<'_>) {
    claims(page);
    parts(page);
    stories(page);
    counts(page);
    factors(page);
}

fn claims(page: &mut Page<'_>) {
    let pack = page.pack;
    let noted = |note: &Option<String>| {
        let note = note.as_deref().map(stopped).unwrap_or_default();
        if note.is_empty() {
            note
        } else {
            format!(" {note}")
        }
    };
    page.heading(2, "What can be claimed");
    page.heading(3, "Variants");
    page.paragraph(
        "The price ratio is that to the plainer thing it could be made from, and that at which the \
         starting counts hold.",
    );
    page.list(pack.variants.iter().map(|variant| {
        format!(
            "**{}** (`{}`), price ratio {}; could be made from {}{}",
            variant.name,
            variant.id,
            figure(variant.price_ratio),
            stopped(&variant.made_from),
            noted(&variant.note)
        )
    }));
    page.heading(3, "Periods");
    page.list(pack.periods.iter().map(|period| {
        format!(
            "**{}** (`{}`), {} to {}.{}",
            period.name,
            period.id,
            period.from,
            period.to,
            noted(&period.note)
        )
    }));
    page.heading(3, "Regions");
    page.list(pack.regions.iter().map(|region| {
        format!(
            "**{}** (`{}`).{}",
            region.name,
            region.id,
            noted(&region.note)
        )
    }));
}

fn parts(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(2, "Parts");
    let parts = pack.parts.iter().zip(&pack.part_variants);
    let lines: Vec<String> = parts
        .map(|(part, variants)| {
            let dated = if part.dated {
                ", with a making date of its own"
            } else {
                ""
            };
            let note = part.note.as_deref().map(stopped).unwrap_or_default();
            let only = only(page, variants.as_deref());
            format!("**{}** (`{}`){dated}.{only} {note}", part.name, part.id)
        })
        .collect();
    page.list(lines);
}

/// A verdict as a title.
fn verdict_title(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Original => "Original",
        Verdict::Married => "Married",
        Verdict::Converted => "Converted",
        Verdict::Faked => "Faked",
    }
}

fn stories(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(2, "Stories");
    for verdict in VERDICTS {
        let of = pack.histories.iter().filter(|h| h.verdict == verdict);
        let stories: Vec<&History> = of.collect();
        if stories.is_empty() {
            continue;
        }
        page.heading(3, verdict_title(verdict));
        for history in stories {
            story(page, history);
        }
    }
    later_work(page);
}

fn story(page: &mut Page<'_>, history: &History) {
    page.heading(4, &format!("Story `{}`", history.id));
    page.paragraph(&format!(
        "**{}** (kind `{}`). {}",
        history.name,
        history.kind,
        stopped(&history.story)
    ));
    if let Some(elasticity) = history.elasticity {
        page.paragraph(&format!(
            "Its count grows with the price ratio over that at which the counts hold, to the power \
             of {}.",
            page.number(elasticity)
        ));
    }
    let pack = page.pack;
    let dates = history.origins.iter().zip(&pack.parts);
    let dates = dates.filter_map(|(origin, part)| {
        let origin = origin.as_ref()?;
        Some(format!("`{}` {}", part.id, origin_words(page, *origin)))
    });
    let dates: Vec<String> = dates.collect();
    if !dates.is_empty() {
        page.paragraph(&format!("Parts date from: {}.", dates.join("; ")));
    }
}

fn origin_words(page: &Page<'_>, origin: Origin) -> String {
    let pack = page.pack;
    match origin {
        Origin::Claim => "the claimed period".to_owned(),
        Origin::Between(from, to) => format!("between {from} and {to}"),
        Origin::After(work) => {
            let id = pack.later_work.get(work).map_or("", |work| &work.id);
            format!("after the claim, as [{id}](#later-work-{id})")
        }
        Origin::Older(years) => format!("up to {years} years before the claim"),
        Origin::Shares(part) => {
            let id = pack.parts.get(part).map_or("", |part| &part.id);
            format!("with `{id}`")
        }
    }
}

/// When later work was done: weights that no number can replace.
fn later_work(page: &mut Page<'_>) {
    let pack = page.pack;
    if pack.later_work.is_empty() {
        return;
    }
    page.heading(3, "When later work was done");
    page.paragraph(
        "Weights by year, straight between the years given and nothing outside; only years after the \
         claim count. They have no ids: they can be disputed, but not replaced by a case.",
    );
    for work in &pack.later_work {
        page.heading(4, &format!("Later work `{}`", work.id));
        page.paragraph(&stopped(&work.reason));
        let points = work.points.iter();
        let points = points.map(|(year, weight)| format!("{year}: {}", figure(*weight)));
        page.paragraph(&format!("{}.", points.collect::<Vec<String>>().join(", ")));
        let source = work.source.as_ref();
        let source = source.and_then(|id| pack.sources.iter().position(|s| s.id == *id));
        if let Some(source) = source {
            page.paragraph(&format!("Source {}.", cite(pack, source)));
        }
    }
}

fn counts(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(2, "Starting counts");
    page.paragraph(
        "How many in 1,000 pieces offered as such have each story, before anybody looks. No such counts \
         are published.",
    );
    let mut head = vec!["story".to_owned()];
    head.extend(
        pack.variants
            .iter()
            .map(|variant| format!(" {}", variant.id)),
    );
    let rows = pack.histories.iter().enumerate().map(|(place, history)| {
        let mut row = vec![format!("`{}`", history.id)];
        row.extend(
            pack.priors
                .iter()
                .map(|prior| count(page, &prior.counts, place)),
        );
        row
    });
    let rows: Vec<Vec<String>> = rows.collect();
    page.table(&head, &rows);
    for (variant, prior) in pack.variants.iter().zip(&pack.priors) {
        page.heading(3, &format!("Counts `{}`", variant.id));
        page.paragraph(&stopped(&prior.reason));
        let rows = pack.histories.iter().zip(&prior.counts);
        let rows = rows.map(|(history, id)| (format!("`{}`", history.id), vec![*id]));
        let rows: Vec<_> = rows.collect();
        page.numbers("story", &["of 1,000".to_owned()], &rows);
    }
}

fn count(page: &Page<'_>, counts: &[NumberId], place: usize) -> String {
    let id = counts.get(place);
    id.map_or_else(String::new, |id| figure(page.pack.number(*id)))
}

fn factors(page: &mut Page<'_>) {
    let pack = page.pack;
    page.heading(2, "What shifts the counts");
    if pack.prior_factors.is_empty() {
        page.paragraph("Nothing: neither period nor region does.");
    }
    for factor in &pack.prior_factors {
        page.heading(3, &format!("Shift `{}`", factor.id));
        page.paragraph(&format!(
            "{} {}",
            scope(page, factor),
            stopped(&factor.reason)
        ));
        let numbers = factor.factors.iter().map(|id| id.iter().copied().collect());
        let numbers: Vec<Vec<NumberId>> = numbers.collect();
        let rows = page.by_selector(&format!("prior-factor/{}/", factor.id), &numbers);
        page.numbers("stories", &["times".to_owned()], &rows);
    }
}

/// For which claims a factor holds.
fn scope(page: &Page<'_>, factor: &PriorFactor) -> String {
    let pack = page.pack;
    let named = |places: &Option<Vec<usize>>, id: &dyn Fn(usize) -> String| {
        let places = places.as_ref()?;
        let ids: Vec<String> = places
            .iter()
            .map(|place| format!("`{}`", id(*place)))
            .collect();
        Some(ids.join(", "))
    };
    let parts = [
        named(&factor.variants, &|place| pack.variants[place].id.clone()),
        named(&factor.periods, &|place| pack.periods[place].id.clone()),
        named(&factor.regions, &|place| pack.regions[place].id.clone()),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    if parts.is_empty() {
        "For every claim.".to_owned()
    } else {
        format!("For {}.", parts.join(" and "))
    }
}
