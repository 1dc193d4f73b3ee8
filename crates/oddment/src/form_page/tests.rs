//! That pages say what packs say, each number where it belongs.

use super::*;
use crate::pack::{ElicitedNumber, Shows};
use crate::text::Text;
use std::collections::{BTreeMap, BTreeSet};

const SMALL: &str = include_str!("../../../oddment-cli/tests/data/pack.toml");
const LIBRARY: &str = include_str!("../../../oddment-cli/tests/data/library.toml");

fn small(change: impl Fn(&str) -> String) -> Pack {
    let text = change(SMALL);
    Pack::load(Text::new("pack", &text), Text::new("library", LIBRARY)).unwrap()
}

/// The titles under which each number's id stands, the advice at the end left out.
fn places(page: &str) -> BTreeMap<String, BTreeSet<String>> {
    let mut places: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut title = "";
    for line in page.lines() {
        if line.starts_with('#') {
            title = line.trim_start_matches('#').trim();
        }
        if title == "How to dispute a number" {
            break;
        }
        let mut before = "";
        // What stands between accents.
        for token in line.split('`').skip(1).step_by(2) {
            let id = match (token.strip_prefix('/'), before.rsplit_once('/')) {
                (Some(level), Some((row, _))) => format!("{row}/{level}"),
                _ => {
                    before = token;
                    token.to_owned()
                }
            };
            if id.contains('/') {
                places.entry(id).or_default().insert(title.to_owned());
            }
        }
    }
    places
}

/// The titles under which a number belongs.
fn belongs(pack: &Pack, number: &ElicitedNumber) -> BTreeSet<String> {
    let parts: Vec<&str> = number.id.split('/').collect();
    let of = |what: &str| BTreeSet::from([format!("{what} `{}`", parts[1])]);
    match parts[0] {
        "history" => of("Story"),
        "prior" => of("Counts"),
        "prior-factor" => of("Shift"),
        "incident" => of("Incident"),
        "sign" => of("Sign"),
        "measure" => of("Measure"),
        "group" => of("Group"),
        "examination" => BTreeSet::from(["How looking goes wrong".to_owned()]),
        "curve" => {
            let with = pack.signs.iter().filter(|sign| match sign.shows {
                Shows::Dated { curve, .. } => pack.curves[curve].id == parts[1],
                Shows::History(_) => false,
            });
            let titles: BTreeSet<String> = with.map(|sign| format!("Sign `{}`", sign.id)).collect();
            if titles.is_empty() {
                BTreeSet::from(["Dated technologies that no sign here uses".to_owned()])
            } else {
                titles
            }
        }
        other => panic!("a number of an unknown sort: {other}"),
    }
}

#[track_caller]
fn every_number_is_where_it_belongs(pack: &Pack) {
    let places = places(&form_page(pack));
    for number in &pack.numbers {
        let found = places.get(&number.id).cloned().unwrap_or_default();
        assert_eq!(found, belongs(pack, number), "{}: {}", pack.id, number.id);
    }
    let known: BTreeSet<&str> = pack.numbers.iter().map(|n| n.id.as_str()).collect();
    for id in places.keys() {
        assert!(known.contains(id.as_str()), "{}: no number `{id}`", pack.id);
    }
}

#[test]
fn every_number_of_every_form_is_where_it_belongs() {
    for form in crate::packs::forms() {
        every_number_is_where_it_belongs(&crate::packs::load(form).unwrap());
    }
    every_number_is_where_it_belongs(&small(str::to_owned));
}

/// Links within a page lead to titles of it.
#[test]
fn links_lead_somewhere() {
    let mut packs = vec![small(str::to_owned)];
    packs.extend(crate::packs::forms().map(|form| crate::packs::load(form).unwrap()));
    for pack in &packs {
        let page = form_page(pack);
        let titles = page.lines().filter(|line| line.starts_with('#'));
        // As GitHub makes them, of titles without anything but letters, hyphens and accents.
        let anchors: BTreeSet<String> = titles
            .map(|title| {
                let title = title.trim_start_matches('#').trim();
                title.replace('`', "").replace(' ', "-").to_lowercase()
            })
            .collect();
        for link in page.split("](#").skip(1) {
            let anchor = link.split(')').next().unwrap();
            assert!(anchors.contains(anchor), "{}: #{anchor}", pack.id);
        }
    }
}

#[test]
fn a_small_pack() {
    let page = form_page(&small(str::to_owned));
    for text in [
        "# Joint stool\n\nPack `joint-stool` 3, library 2.",
        "- **carved frieze** (`carved`), price ratio 3; could be made from a plain stool.\n",
        "Parts date from: `seat` up to 60 years before the claim; `frame` after the claim, as \
         [revival](#later-work-revival).\n",
        "to the power of 0.5 (`history/made-up/elasticity`; worth 10 pieces; source \
         [guess](#source-guess)).",
        "| `made-up` | 100 | 400 |\n",
        "| `any` | 30 | `incident/refixed/rate/any` |\n| `faked` | 10 | `incident/refixed/rate/faked` |\n",
        "Bring: torch, blanket. 5 min; underneath, or turned over; ask the owner first.\n\n\
         - **Caution.** Turn over with two people on a blanket.\n",
        "| stories | none | slight | heavy | number |\n",
        "| `faked` | 15 | 35 | 50 | `sign/dark-stain/shows/faked/0` `/1` `/2` |\n",
        "Worth 10 pieces; source [habit](#source-habit).\n",
        "| 1780 | 1850 | 1900 |\n| ---: | ---: | ---: |\n| 1 | 40 | 90 |\n",
        "Before 1777 there was none.",
        "Work done in that way still shows it in 60 in 100 (`sign/saw-arcs/dated/visible`;",
        "| `any` | 499 to 581 (normal) | `measure/height/shift/any` |\n",
        "Coupling 0.5 (`group/colouring/coupling`;",
        "*Common practice of the trade, no source.* Invented for tests, as a habit of the trade.\n",
        "[numbers]\n\"sign/top-fits/shows/original\" = 0.9\n",
    ] {
        assert!(page.contains(text), "{text}\n\n{page}");
    }
    // Nothing in Markdown is left open or doubled.
    assert!(!page.contains("\n\n\n") && page.ends_with(".\n"));
}

#[test]
fn what_deviates_says_so() {
    let number = "caused_by = { refixed = { mean = 0.35, strength = 3, source = \"habit\" } }";
    let pack = small(|text| text.replace("caused_by = { refixed = 0.35 }", number));
    let page = form_page(&pack);
    assert!(
        page.contains("`sign/spare-holes/caused-by/refixed` |\n\nWorth 3 pieces; source [habit]")
    );
    let number = "{ original = { mean = 0.03, strength = 4 }, married = 0.8";
    let pack = small(|text| text.replace("{ original = 0.03, married = 0.8", number));
    let page = form_page(&pack);
    assert!(
        page.contains("`sign/spare-holes/shows/original` | Worth 4 pieces; source [guess]"),
        "{page}"
    );
    assert!(page.contains("Worth 10 pieces; source [guess](#source-guess), unless a row says"));
}

#[test]
fn tables_hold_whatever_is_in_a_name() {
    let pack = small(|text| text.replace("levels = [\"none\"", "levels = [\"no|ne\""));
    assert!(form_page(&pack).contains("| stories | no\\|ne | slight | heavy | number |\n"));
}
