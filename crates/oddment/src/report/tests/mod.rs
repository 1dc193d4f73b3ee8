//! What must hold of every report.

mod made_up;
mod page;

use super::{ReportParts, html, markdown};
use crate::assessment::FitJudgement;
use crate::pack::Verdict;
use crate::{Assessment, Case, Pack, Text, assess, new_case, packs};
use page::Page;

/// A case with everything a report can be made of.
struct Whole {
    pack: Pack,
    case: Case,
    assessment: Assessment,
}

impl Whole {
    fn of(text: &str) -> Self {
        let pack = packs::load("drop-leaf-table").unwrap();
        let case = Case::load(Text::new("case", text), &pack).unwrap();
        let assessment = assess(&pack, &case).unwrap();
        Self {
            pack,
            case,
            assessment,
        }
    }

    fn plain(&self) -> ReportParts<'_> {
        ReportParts {
            pack: &self.pack,
            case: &self.case,
            assessment: &self.assessment,
            argument: None,
            outlook: None,
            leaning: None,
        }
    }

    /// With a title, a note and names put in.
    fn titled(title: &str) -> Self {
        let mut whole = Self::of(OVAL);
        whole.case.file.piece.note = Some(title.to_owned());
        whole.assessment.piece.title = Some(title.to_owned());
        whole.assessment.findings[0].name = title.to_owned();
        whole.assessment.dates[0].name = title.to_owned();
        whole
    }

    /// Hands over the parts with made-up further ones.
    fn full<T>(&self, use_them: impl FnOnce(&ReportParts<'_>) -> T) -> T {
        let argument = made_up::argument(&self.assessment);
        let outlook = made_up::outlook(&self.pack, &self.assessment);
        let leaning = made_up::leaning(&self.pack, &self.assessment);
        use_them(&ReportParts {
            argument: Some(&argument),
            outlook: Some(&outlook),
            leaning: Some(&leaning),
            ..self.plain()
        })
    }
}

const OVAL: &str = include_str!("../../../../../priors/cases/pieced-out-oval.toml");
const NO_STORY: &str = include_str!("../../../../../priors/cases/no-story-fits.toml");

/// A case in which nothing was looked at.
fn nothing() -> String {
    new_case(&packs::load("drop-leaf-table").unwrap())
}

/// Texts that would break out of what they stand in.
const HOSTILE: &str = "</title><script>alert(1)</script> & \"it's\" <b>| `x` | [a](http://b) \
                       \u{202e}turned\u{1b}[2J \u{5e9}\u{5d5}\u{5dc}\u{5d7}\u{5df} \u{fffe}";

#[test]
fn pages_are_well_formed_and_need_nothing_else() {
    for text in [OVAL, NO_STORY, &nothing()] {
        let whole = Whole::of(text);
        for page in [html(&whole.plain()), whole.full(html)] {
            let page = Page::read(&page);
            assert_eq!(page.errors, Vec::<String>::new());
            page.ids_are_unique_and_refer();
            page.fetches_nothing();
            page.pictures_are_described();
        }
    }
}

#[test]
fn sections_come_in_order() {
    let whole = Whole::of(OVAL);
    let page = Page::read(&whole.full(html));
    let headings: Vec<String> = page.texts("h2");
    let numbers: Vec<&str> = headings
        .iter()
        .filter_map(|title| title.split('.').next())
        .collect();
    assert_eq!(numbers, ["1", "2", "3", "4", "5", "6", "7", "8", "9", "10"]);
    let markdown = whole.full(markdown);
    let titles: Vec<&str> = markdown
        .lines()
        .filter_map(|line| line.strip_prefix("## "))
        .collect();
    assert_eq!(titles, headings);
}

#[test]
fn hostile_texts_stay_texts() {
    let whole = Whole::titled(HOSTILE);
    let page = Page::read(&whole.full(html));
    assert_eq!(page.errors, Vec::<String>::new());
    page.fetches_nothing();
    let title = page.texts("h1").remove(0);
    assert!(
        title.starts_with("</title><script>alert(1)</script> & \"it's\" <b>|"),
        "{title}"
    );
    assert!(title.contains("\u{fffd}turned\u{fffd}[2J"), "{title}");
    assert!(
        !title.contains(['\u{202e}', '\u{1b}', '\u{fffe}']),
        "{title}"
    );
    assert!(
        page.texts("bdi")
            .iter()
            .any(|text| text.contains('\u{5e9}'))
    );

    let page = whole.full(markdown);
    assert!(!page.contains('<') && !page.contains("://"), "{page}");
    assert!(!page.replace("\\]", "").contains("]("), "{page}");
    assert!(!page.contains(['\u{202e}', '\u{1b}', '\u{fffe}']));
    assert!(page.contains("&lt;script&gt;alert(1)"));
}

#[test]
fn endless_titles_are_cut_above_and_whole_below() {
    let title = "Tallboy".repeat(1_430) + "end";
    let whole = Whole::titled(&title);
    let page = Page::read(&html(&whole.plain()));
    assert_eq!(page.errors, Vec::<String>::new());
    assert!(page.texts("h1")[0].chars().count() <= 160);
    assert!(page.texts("td").contains(&title));
    let page = markdown(&whole.plain());
    assert!(page.lines().next().unwrap().chars().count() < 200);
    assert!(page.contains(&title));
}

#[test]
fn tables_of_markdown_keep_their_columns() {
    for whole in [Whole::titled(HOSTILE), Whole::of(&nothing())] {
        let page = whole.full(markdown);
        let mut columns = 0;
        for line in page.lines() {
            if !line.starts_with('|') {
                columns = 0;
                continue;
            }
            let bars = line.replace("\\|", "").matches('|').count();
            assert!(columns == 0 || bars == columns, "{line}");
            columns = bars;
        }
    }
}

#[test]
fn equal_inputs_give_equal_bytes() {
    let (one, other) = (Whole::of(OVAL), Whole::of(OVAL));
    assert_eq!(one.full(html), other.full(html));
    assert_eq!(one.full(markdown), other.full(markdown));
    let mut changed = Whole::of(OVAL);
    changed.case.file.findings[0].note = Some("another".to_owned());
    // Only the digest of the case tells the two apart.
    let one = one.full(markdown);
    let changed = changed.full(markdown);
    let differing = one
        .lines()
        .zip(changed.lines())
        .filter(|(one, other)| one != other);
    let differing: Vec<(&str, &str)> = differing.collect();
    assert_eq!(differing.len(), 1, "{differing:?}");
    assert!(differing[0].0.starts_with("| SHA-256 of the case |"));
}

#[test]
fn a_field_has_a_thousand_squares() {
    let whole = Whole::of(OVAL);
    let page = Page::read(&html(&whole.plain()));
    for field in ["before-title", "now-title"] {
        let outlines = page.outlines(field);
        let squares: usize = outlines.iter().map(|d| d.matches('z').count()).sum();
        assert_eq!(squares, 1000, "{field}");
    }
    let counts = whole
        .assessment
        .verdicts
        .iter()
        .filter(|odds| odds.in_thousand > 0);
    assert_eq!(page.outlines("now-title").len(), counts.count() + TEXTURES);
}

/// Textures that are drawn with a path: all but that of the original.
const TEXTURES: usize = 3;

#[test]
fn the_stair_has_every_finding_and_its_figures_stand_in_the_table() {
    let whole = Whole::of(OVAL);
    let page = Page::read(&whole.full(html));
    let count = whole.assessment.findings.len();
    assert!(count >= 40, "{count}");
    let letters = page.texts("text");
    let cells = page.texts("td");
    for number in 1..=count {
        let begins = format!("{number}. ");
        assert!(
            letters.iter().any(|text| text.starts_with(&begins)),
            "{begins}"
        );
    }
    let odds = letters
        .iter()
        .filter(|text| text.contains(" to 1") || text.starts_with("1 to "));
    let mut told = 0;
    for odds in odds {
        assert!(cells.contains(odds), "{odds}");
        told += 1;
    }
    assert!(told >= count, "{told}");
}

#[test]
fn without_findings_there_is_no_opinion_and_no_stair() {
    let whole = Whole::of(&nothing());
    let page = whole.full(html);
    assert!(page.contains("Nothing has been looked at yet"));
    assert!(!page.contains("The leading verdict is"));
    assert!(!page.contains("id=\"stair-1-title\""));
    assert!(
        whole
            .full(markdown)
            .contains("There are no findings to argue from.")
    );
}

#[test]
fn a_case_that_fits_no_story_is_announced_before_its_verdict() {
    let whole = Whole::of(NO_STORY);
    assert_eq!(whole.assessment.fit.judgement, FitJudgement::NoStoryFits);
    for page in [html(&whole.plain()), markdown(&whole.plain())] {
        let loud = page.find("No story told here fits").unwrap();
        assert!(loud < page.find("The verdict that fits least badly is").unwrap());
        assert!(!page.contains("The leading verdict is"));
    }
    let mut fits = Whole::of(NO_STORY);
    fits.assessment.fit.judgement = FitJudgement::Fits;
    assert!(!html(&fits.plain()).contains("No story told here fits"));
}

#[test]
fn a_leader_that_is_not_likely_is_not_called_so() {
    let conflict = include_str!("../../../../../priors/cases/signs-in-conflict.toml");
    assert!(html(&Whole::of(conflict).plain()).contains("not by enough to be called likely"));
    assert!(!html(&Whole::of(OVAL).plain()).contains("not by enough to be called likely"));
}

#[test]
fn doubts_on_a_visit_are_told() {
    let mut whole = Whole::of(OVAL);
    assert!(!html(&whole.plain()).contains("do not hang together well"));
    whole.assessment.visits[1].probability = 0.4;
    let page = html(&whole.plain());
    assert!(page.contains("\u{201c}trestles\u{201d} do not hang together well"));
    assert!(!page.contains("\u{201c}viewing\u{201d} do not hang together well"));
}

#[test]
fn figures_out_of_all_bounds_end() {
    let mut whole = Whole::of(OVAL);
    whole.assessment.piece.years = (i32::MIN, i32::MAX);
    for odds in &mut whole.assessment.verdicts {
        odds.in_thousand = u32::MAX;
    }
    let page = Page::read(&html(&whole.plain()));
    assert_eq!(page.errors, Vec::<String>::new());
    let squares: usize = page
        .outlines("now-title")
        .iter()
        .map(|d| d.matches('z').count())
        .sum();
    assert_eq!(squares, 1000);
}

#[test]
fn certainty_and_impossibility_have_figures_too() {
    let mut whole = Whole::of(OVAL);
    for odds in &mut whole.assessment.verdicts {
        let sure = odds.verdict == Verdict::Original;
        (odds.prior, odds.probability) = (0.0, if sure { 1.0 } else { 0.0 });
        (odds.prior_in_thousand, odds.in_thousand) = (0, if sure { 1000 } else { 0 });
        odds.decibans = if sure { 3000.0 } else { -3000.0 };
    }
    for finding in &mut whole.assessment.findings {
        finding.decibans.insert(Verdict::Original, -3000.0);
    }
    let mut argument = made_up::argument(&whole.assessment);
    for finding in &mut argument.findings {
        for weights in &mut finding.weights {
            (weights.running, weights.in_order) = (-3000.0, f64::NEG_INFINITY);
        }
    }
    let parts = ReportParts {
        argument: Some(&argument),
        ..whole.plain()
    };
    let page = Page::read(&html(&parts));
    assert_eq!(page.errors, Vec::<String>::new());
    let cells = page.texts("td");
    assert!(cells.iter().any(|cell| cell == "\u{2212}beyond measure"));
    assert!(cells.iter().any(|cell| cell == "1,000"));
    for number in page.geometry() {
        assert!(
            !number.contains("NaN") && !number.contains("inf"),
            "{number}"
        );
    }
}

#[test]
fn what_was_looked_for_and_what_was_not_stay_apart() {
    let whole = Whole::of(OVAL);
    let page = markdown(&whole.plain());
    let rows = |mark: &str| {
        let begins = format!("| {mark} |");
        page.lines()
            .filter(|line| line.starts_with(&begins))
            .count()
    };
    assert_eq!(
        (
            rows("found"),
            rows("looked for, not there"),
            rows("could not be looked at")
        ),
        (20, 16, 3)
    );
    let checks: std::collections::BTreeSet<&str> = whole
        .assessment
        .not_looked
        .iter()
        .filter(|item| !item.no_access)
        .map(|item| item.check.as_str())
        .collect();
    assert_eq!(rows("not looked at"), checks.len());
    assert!(page.contains("**Checks made:** "));
    assert!(!markdown(&Whole::of(&nothing()).plain()).contains("**Checks made:** "));
    // The readings, with their units.
    assert!(page.contains("| 0.8 mm | 0.1 mm |"));
}

#[test]
fn what_turns_the_verdict_is_told_in_words() {
    let page = Whole::of(OVAL).full(markdown);
    for sentence in [
        "Converted would no longer lead if more than 34 in 100; original would.",
        "Converted would no longer lead if less than 0.34 of 1,000; original would.",
        "Converted would no longer lead if more than 0.34; original would.",
        "Converted would no longer lead with a shift of 0.34 or below; original would.",
        "The lead passes from original to converted where 585 of 1,000 are taken not to be original.",
    ] {
        assert!(page.contains(sentence), "{sentence}");
    }
}

#[test]
fn own_numbers_and_known_incidents_are_disclosed() {
    let mut whole = Whole::of(OVAL);
    assert!(!markdown(&whole.plain()).contains("the user's own"));
    whole.case.file.prior.insert("as-made".to_owned(), 250.0);
    whole
        .case
        .file
        .numbers
        .insert("some/number".to_owned(), 0.125);
    whole.case.known.push((0, false));
    let page = markdown(&whole.plain());
    assert!(page.contains("**The starting odds are the user's own:** as-made = 250."));
    assert!(page.contains("some/number = 0.12."), "{page}");
    assert!(page.contains("(did not happen)"));
}

#[test]
fn cautions_stand_beside_the_checks() {
    let whole = Whole::of(OVAL);
    for page in [markdown(&whole.plain()), whole.full(markdown)] {
        let next = page
            .split("\n## 9.")
            .nth(1)
            .unwrap()
            .split("\n## 10.")
            .next()
            .unwrap();
        let mut seen = 0;
        for check in &whole.pack.checks {
            // Up to the next numbered check.
            let label = format!(" {}.**", check.name);
            let Some(beside) = next.split(&label).nth(1) else {
                continue;
            };
            let numbered = |block: &&str| !block.starts_with(|c: char| c.is_ascii_digit());
            let beside: Vec<&str> = beside.split("\n\n**").take_while(numbered).collect();
            let beside = beside.join("\n");
            for caution in &check.cautions {
                let opening: String = whole.pack.cautions[*caution]
                    .text
                    .chars()
                    .take(25)
                    .collect();
                assert!(beside.contains(&opening), "{}: {next}", check.name);
                seen += 1;
            }
        }
        assert!(seen > 0, "{next}");
    }
}

#[test]
fn the_scale_and_the_signature_close_the_report() {
    let page = Whole::of(OVAL).full(markdown);
    let scale = page
        .find("over 10,000, up to 1,000,000 | very strong support")
        .unwrap();
    assert!(scale < page.find("Capacity: ").unwrap());
    assert!(page.contains("not a certificate and not a valuation"));
}

#[test]
fn double_counting_is_told_from_findings_that_need_one_another() {
    let whole = Whole::of(OVAL);
    let mut question = made_up::argument(&whole.assessment).questions.remove(0);
    for (naive, total, says) in [
        (
            24.0,
            15.0,
            "9.0 decibans is what adding up would have counted twice",
        ),
        (
            -24.0,
            -15.0,
            "9.0 decibans is what adding up would have counted twice",
        ),
        (15.0, 24.0, "Adding up would be 9.0 decibans out"),
        (-2.0, 7.0, "Adding up would be 9.0 decibans out"),
        (15.0, 15.2, "hardly differ"),
    ] {
        (question.naive, question.total) = (naive, total);
        let said = super::words::double_counting(&question);
        assert!(said.contains(says), "{said}");
    }
}
