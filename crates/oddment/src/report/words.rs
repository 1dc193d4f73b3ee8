//! Every sentence of the report; titles and heads of columns stand in [`labels`](super::labels).
//!
//! Nothing is decided here but the wording; all figures are handed in.

pub(super) use super::labels::*;

use super::figures::{chance, count_of, odds, out_of, signed, size, thousands, year};
use crate::argument::{Behind, Question};
use crate::assessment::{Fit, HistoryOdds, PieceSummary, VerdictOdds, VisitQuality};
use crate::case::Sureness;
use crate::leaning::{Flip, Leaning, NumberUnit};
use crate::outlook::{CheckMethod, Plan};
use crate::pack::{Access, Leave, Standing, Verdict};
use crate::scale::{Direction, Strength};

pub(super) const NOT_A_CERTIFICATE: &str = "This is the arithmetic of an opinion, not a certificate \
    and not a valuation. It says how the findings written down here weigh against one another if the \
    stated numbers hold. It does not replace an inspection, and it promises nothing.";

// 1. The piece.

pub(super) const NO_VISITS: &str = "Who looked, when and how was not written down. One ordinary visit \
    is assumed.";

pub(super) fn subtitle(form: &str, piece: &PieceSummary) -> String {
    let (from, to) = piece.years;
    format!(
        "{form}; {}; {}, {from} to {to}; {}",
        piece.variant, piece.period, piece.region
    )
}

pub(super) fn years((from, to): (i32, i32)) -> String {
    format!("{from} to {to}")
}

// 2. The opinion.

pub(super) const NOTHING_FOUND: &str = "Nothing has been looked at yet, so there is no opinion. What \
    stands below is what is taken for granted before looking, and nothing more.";

pub(super) fn verdict_meaning(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Original => "original: made as it stands and honestly repaired at most",
        Verdict::Married => "married: made up of parts of different pieces",
        Verdict::Converted => "converted: its form, size or use was changed later",
        Verdict::Faked => "faked: made or dressed up to deceive",
    }
}

pub(super) fn leading(odds: &VerdictOdds) -> String {
    format!(
        "The leading verdict is {}. Of 1,000 pieces offered as this one is and showing just this, {} \
         are reckoned to be {} ({} before anything was looked at).",
        verdict_meaning(odds.verdict),
        count_of(1000, odds.in_thousand, odds.probability),
        odds.verdict.id(),
        count_of(1000, odds.prior_in_thousand, odds.prior),
    )
}

pub(super) const NOT_MORE_THAN_HALF: &str = "It leads, but not by enough to be called likely: taken \
    together the other verdicts are at least as likely.";

/// In place of [`leading`] where no story fits.
pub(super) fn least_bad(odds: &VerdictOdds) -> String {
    format!(
        "The verdict that fits least badly is {}. Of 1,000 pieces offered as this one is and showing \
         just this, the stories told here would have {} be {} ({} before anything was looked at).",
        verdict_meaning(odds.verdict),
        count_of(1000, odds.in_thousand, odds.probability),
        odds.verdict.id(),
        count_of(1000, odds.prior_in_thousand, odds.prior),
    )
}

pub(super) fn leading_strength(odds: &VerdictOdds) -> String {
    let strength = odds.strength.words();
    match odds.direction {
        Direction::Neither => format!(
            "Taken together the findings give {strength} for {} against all other verdicts: it leads \
             by the starting odds alone.",
            odds.verdict.id()
        ),
        Direction::First => format!(
            "Taken together the findings give {strength} for {} against all other verdicts ({} \
             decibans). These words describe the findings, by the published scale at the end of this \
             report; the counts also hold the starting odds.",
            odds.verdict.id(),
            size(odds.decibans)
        ),
        Direction::Second => format!(
            "Taken together the findings give {strength} against {} ({} decibans). It leads all the \
             same, because it started well ahead.",
            odds.verdict.id(),
            size(odds.decibans)
        ),
    }
}

/// The strength of the findings, for a table.
pub(super) fn support(odds: &VerdictOdds) -> String {
    support_of(odds.direction, odds.strength)
}

pub(super) fn support_of(direction: Direction, strength: Strength) -> String {
    let words = strength.words();
    match direction {
        Direction::Neither => words.to_owned(),
        Direction::First => format!("{words} for"),
        Direction::Second => format!("{words} against"),
    }
}

pub(super) const KEY_TEXT: &str = "Blank squares: original. Slanting lines: married. Level lines: \
    converted. Crossed lines: faked.";
pub(super) const FIELDS: &str = "Above, 1,000 pieces offered as this one is, before anything was \
    looked at; below, 1,000 such pieces that show just what this one shows. One square is one piece. \
    Read column by column: original (blank), married (slanting), converted (level), faked (crossed).";

pub(super) fn field_text(counts: &[(Verdict, u32)]) -> String {
    let counts: Vec<String> = counts
        .iter()
        .map(|(verdict, count)| format!("{} {}", thousands(*count), verdict.id()))
        .collect();
    format!("Of 1,000 pieces: {}.", counts.join(", "))
}

pub(super) const DECLARED: &str = "No one has counted how many such pieces have been altered. The \
    starting odds are declared, not measured; section 8 says what hangs on them.";

pub(super) fn no_story(fit: &Fit) -> String {
    format!(
        "Of {} pieces made up from the stories told here and looked at in the same places, no more than \
         {} had findings as unlikely as these. No verdict below should be believed on these figures \
         alone: they only say which story fits least badly. Look again at what stands oddly, and think \
         of a story that is not told here.",
        thousands(fit.simulated),
        chance(fit.share_as_rare)
    )
}

pub(super) fn unusual(fit: &Fit) -> String {
    format!(
        "These findings are unusual under every story told here: of {} pieces made up from them and \
         looked at in the same places, {} had findings as unlikely as these. Hold the verdict loosely.",
        thousands(fit.simulated),
        chance(fit.share_as_rare)
    )
}

pub(super) fn fits(fit: &Fit) -> String {
    format!(
        "The findings are of a kind the stories told here lead one to expect: of pieces made up from \
         them and looked at in the same places, {} had findings at least as unlikely.",
        chance(fit.share_as_rare)
    )
}

pub(super) fn doubted(visit: &VisitQuality) -> String {
    format!(
        "The findings of the visit \u{201c}{}\u{201d} do not hang together well: the chance that the \
         looking as a whole went badly is {} ({} before). Look again, in better light and without hurry.",
        visit.id,
        chance(visit.probability),
        chance(visit.prior)
    )
}

// 3. The argument.

pub(super) const DECIBANS_EXPLAINED: &str = "Weights are in decibans, ten to a factor of ten in the \
    odds: 3 doubles them, 10 makes them tenfold, 20 a hundredfold. A plus sign speaks for, a minus sign \
    against.";
pub(super) const NO_FINDINGS: &str = "There are no findings to argue from.";

pub(super) fn stair_intro(verdict: Verdict, before: f64, after: f64) -> String {
    format!(
        "The question is {} against all other verdicts together. It starts at odds of {} and ends at {}. \
         Each step is what one finding added when it came, in the order in which the findings were \
         written down; one step may be small only because an earlier one had already said the same.",
        verdict.id(),
        odds(before),
        odds(after)
    )
}

pub(super) fn stair_title(verdict: Verdict, first: usize, last: usize) -> String {
    format!(
        "Odds of {} step by step, findings {first} to {last}",
        verdict.id()
    )
}

pub(super) fn stair_text(from: f64, to: f64) -> String {
    format!(
        "From {} to {}. The table below has every step.",
        odds(from),
        odds(to)
    )
}

pub(super) fn stair_caption(verdict: Verdict) -> String {
    format!(
        "Odds of {} against all others. The scale is in decibans, evens at 0. A dark step speaks for, \
         a hollow one against; the odds reached stand on the right.",
        verdict.id()
    )
}

pub(super) fn steps_table(verdict: Verdict) -> String {
    format!(
        "What each finding weighed for {}, in decibans",
        verdict.id()
    )
}

pub(super) fn columns(exact: bool, orders: u64) -> String {
    let how = if exact {
        "worked out over every order".to_owned()
    } else {
        format!("worked out over {} orders drawn by lot", thousands(orders))
    };
    format!(
        "Step: what it added when it came. Fair share: its part of the total whatever the order ({how}). \
         Alone: what it would weigh were it the only finding. If withdrawn: what would be lost by \
         striking it out and keeping all others."
    )
}

pub(super) fn double_counting(question: &Question) -> String {
    let apart = question.naive - question.total;
    let same_side = question.naive * question.total > 0.0;
    let sentence = if apart.abs() < 0.5 {
        "Here the two hardly differ, so little is said twice.".to_owned()
    } else if same_side && question.naive.abs() > question.total.abs() {
        format!(
            "The difference of {} decibans is what adding up would have counted twice: several \
             findings that one act, one event or one making date explains are not so many witnesses.",
            size(apart)
        )
    } else {
        format!(
            "Adding up would be {} decibans out: these findings say something together that none \
             of them says alone, as when one takes away the innocent reading of another.",
            size(apart)
        )
    };
    format!(
        "Adding up the findings as though each had come alone would give {} decibans; weighed together \
         they give {}. {sentence}",
        signed(question.naive),
        signed(question.total)
    )
}

pub(super) fn without_argument(verdict: Verdict) -> String {
    format!(
        "The build-up finding by finding was not worked out for this report. What can be said is what \
         the odds of {} would lose if each finding alone were withdrawn. Findings with one cause share \
         their weight, so these do not add up.",
        verdict.id()
    )
}

pub(super) fn withdrawn_table(verdict: Verdict) -> String {
    format!(
        "What withdrawing each finding would cost {}, in decibans",
        verdict.id()
    )
}

pub(super) fn opposite(found: &str, decibans: f64) -> String {
    format!("{found}: {}", signed(decibans))
}

pub(super) const TOGETHER_INTRO: &str = "These findings have one thing behind them. Added up, they would \
    count it more than once.";

pub(super) fn behind(behind: Behind, name: &str) -> String {
    match behind {
        Behind::Act => format!("One act: {name}"),
        Behind::Incident => format!("An honest event: {name}"),
        Behind::Date => format!("One making date: {name}"),
    }
}

/// A finding in one line.
pub(super) fn finding(name: &str, part: &str, found: &str, sure: Sureness) -> String {
    format!("{}: {}", at(name, part), reported(found, sure))
}

/// What was reported and how surely.
pub(super) fn reported(found: &str, sure: Sureness) -> String {
    format!("{found}{}", sureness(sure))
}

pub(super) fn numbered(number: usize, finding: &str) -> String {
    format!("{number}. {finding}")
}

fn sureness(sure: Sureness) -> &'static str {
    match sure {
        Sureness::Sure => "",
        Sureness::FairlySure => ", fairly sure",
        Sureness::Doubtful => ", doubtful",
    }
}

// 4. The rival histories.

pub(super) const HISTORIES_INTRO: &str = "Every story told here was weighed against all the others. They \
    stand under their verdicts. Weights by finding are worked out for verdicts, not for single stories, \
    and are named so.";

pub(super) fn verdict_heading(verdict: Verdict, now: &str, before: &str) -> String {
    format!(
        "{}: {now} of 1,000 ({before} before looking)",
        capital(verdict.id())
    )
}

pub(super) fn most_for(verdict: Verdict) -> String {
    format!("Most for {}:", verdict.id())
}

pub(super) fn most_against(verdict: Verdict) -> String {
    format!("Most against {}:", verdict.id())
}

pub(super) const NO_SUCH_FINDING: &str = "no finding by itself says much.";

pub(super) fn weighed(finding: &str, decibans: f64) -> String {
    format!("{finding} ({})", signed(decibans))
}

pub(super) fn history_label(history: &HistoryOdds) -> String {
    format!("{}.", history.name.trim_end_matches('.'))
}

pub(super) fn history(history: &HistoryOdds, direction: Direction, strength: Strength) -> String {
    let standing = match direction {
        Direction::First => "It stands the better for the findings",
        Direction::Second => "It stands the worse for the findings",
        Direction::Neither => "Nothing found moves it",
    };
    format!(
        "{} {standing}: {} of 1,000 now, {} before looking ({} decibans, {}).",
        stopped(&history.story),
        out_of(1000, history.probability),
        out_of(1000, history.prior),
        signed(history.decibans),
        support_of(direction, strength)
    )
}

// 5. Innocent explanations.

pub(super) const INNOCENT_INTRO: &str = "Each finding that speaks against original by itself, the \
    heaviest first, with what an honest life could answer and how far that carries.";
pub(super) const NOTHING_DAMNING: &str =
    "No finding by itself speaks against original to any extent.";
pub(super) const NO_INCIDENT: &str = "No single event in the pack explains it.";

pub(super) fn damning(finding: &str, decibans: f64) -> String {
    format!("{finding}. {} decibans for original.", signed(decibans))
}

pub(super) fn innocent(reading: &str) -> String {
    format!("Innocent reading: {}", stopped(reading))
}

pub(super) fn incident(name: &str, without: f64, with: f64) -> String {
    let moved = if with - without > 0.02 {
        "The finding makes it likelier"
    } else if without - with > 0.02 {
        "The finding makes it less likely"
    } else {
        "The finding hardly moves it"
    };
    format!(
        "{}: {} such pieces, {} without this finding. {moved}.",
        name.trim_end_matches('.'),
        chance(with),
        chance(without)
    )
}

pub(super) fn if_happened(decibans: Option<f64>) -> String {
    match decibans {
        None => "All findings together rule it out.".to_owned(),
        Some(weight) if weight > -0.5 => format!(
            "Were it known to have happened, the finding would no longer speak against original ({}).",
            signed(weight)
        ),
        Some(weight) => format!(
            "Were it known to have happened, the finding would still weigh {} for original.",
            signed(weight)
        ),
    }
}

pub(super) fn carries(without: f64, with: f64) -> &'static str {
    match with {
        with if with < 0.05 => "It carries very little: the event itself is unlikely.",
        with if with < 0.5 && with >= without => {
            "It carries some way, but is likelier not to have happened."
        }
        with if with < 0.5 => {
            "It carries little: with all that was found it is likelier not to have happened."
        }
        _ => "It carries far: the event is likely anyway.",
    }
}

// 6. When each part was made.

pub(super) const NO_DATES: &str = "No part of this form is dated by its pack.";
pub(super) const STRIPS: &str = "For each part the upper strip is what the findings leave, the lower one \
    what was thought before looking; each is darkest where it is likeliest. The dot is the year it is as \
    likely to be older than as younger, the bar holds 90 chances in 100. Dashed lines: the years claimed.";

pub(super) fn strips_text(claim: (i32, i32)) -> String {
    format!(
        "The years claimed are {}. The table below has every part.",
        years(claim)
    )
}

pub(super) fn between_years(low: f64, high: f64) -> String {
    format!("{} and {}", year(low), year(high))
}

// 7. What was examined and what was not.

pub(super) const FOUR_MARKS: &str = "Four things are kept apart: what was found, what was looked for and is \
    not there, what could not be looked at, and what was not looked at. Only the first two are evidence.";
pub(super) const NONE: &str = "None.";

pub(super) fn at(name: &str, part: &str) -> String {
    format!("{} ({part})", name.trim_end_matches('.'))
}

pub(super) fn visit_note(visit: Option<&str>, note: Option<&str>) -> String {
    match (visit, note) {
        (Some(visit), Some(note)) => format!("{visit}: {note}"),
        (Some(visit), None) => visit.to_owned(),
        (None, Some(note)) => note.to_owned(),
        (None, None) => String::new(),
    }
}

// 8. Whose numbers it hangs on.

pub(super) fn standing_counts(counts: &[(Standing, usize)], all: usize) -> String {
    let counts: Vec<String> = counts
        .iter()
        .filter(|(_, count)| *count > 0)
        .map(|(standing, count)| {
            format!(
                "{} on {}",
                thousands(*count as u32),
                standing_words(*standing)
            )
        })
        .collect();
    format!(
        "The pack holds {} numbers. Of these rest {}. Section 10 lists the sources.",
        thousands(all as u32),
        counts.join("; ")
    )
}

pub(super) const OWN_NUMBERS: &str = "The case puts numbers of its own in place of the pack's:";

pub(super) fn own_number(id: &str, value: f64) -> String {
    format!("{id} = {}", super::figures::plain(value))
}

pub(super) fn known(name: &str, happened: bool) -> String {
    let happened = if happened {
        "happened"
    } else {
        "did not happen"
    };
    format!("{} ({happened})", name.trim_end_matches('.'))
}

pub(super) const WITHOUT_LEANING: &str = "How far the verdict would move with each of these numbers was \
    not worked out for this report.";

pub(super) fn leaning(leaning: &Leaning) -> String {
    let told = leaning.numbers.len();
    let unmoved = thousands(leaning.unmoved as u32);
    let flipping = leaning
        .numbers
        .iter()
        .filter(|number| !number.flips.is_empty())
        .count();
    let flips = match flipping {
        0 => "No number on its own, at any value it may take, would".to_owned(),
        1 => "One number on its own could".to_owned(),
        many => format!("{} numbers, each on its own, could", thousands(many as u32)),
    };
    let asked = match leaning.threshold {
        Some(threshold) => format!("take {} below {}", leaning.verdict.id(), chance(threshold)),
        None => format!("change which verdict leads, now {}", leaning.leading.id()),
    };
    format!(
        "What is looked at is the chance of {}, now {}. {} numbers bear on it and {unmoved} do not. {flips} \
         {asked}.",
        leaning.verdict.id(),
        chance(leaning.probability),
        thousands(told as u32)
    )
}

pub(super) fn swings_title(verdict: Verdict) -> String {
    format!(
        "How far the chance of {} swings with single numbers",
        verdict.id()
    )
}

pub(super) fn swings_text(shown: usize) -> String {
    format!("The {shown} numbers with the widest swing. The table below has the same figures.")
}

pub(super) fn swings_caption(verdict: Verdict) -> String {
    format!(
        "Pieces in 1,000 that are {} as one number moves over its own 90 in 100 range, all else as it is. \
         Ring: at the low end. Dot: at the high end. Dashed line: as it stands.",
        verdict.id()
    )
}

pub(super) fn value_range(value: &str, low: &str, high: &str) -> String {
    format!("{value} (from {low} to {high})")
}

pub(super) fn low_high(low: f64, high: f64) -> String {
    format!("{} and {}", out_of(1000, low), out_of(1000, high))
}

pub(super) fn number_value(value: f64, unit: NumberUnit) -> String {
    match unit {
        NumberUnit::Chance => chance(value),
        NumberUnit::Count => format!("{} of 1,000", super::figures::plain(value)),
        NumberUnit::Plain => super::figures::plain(value),
        NumberUnit::Shift => format!("a shift of {}", super::figures::plain(value)),
    }
}

pub(super) fn flip(flip: &Flip, unit: NumberUnit, leading: Verdict, threshold: bool) -> String {
    let side = if flip.above { "more" } else { "less" };
    let value = number_value(flip.at, unit);
    let side = match unit {
        NumberUnit::Shift if flip.above => format!("with {value} or above"),
        NumberUnit::Shift => format!("with {value} or below"),
        _ => format!("if {side} than {value}"),
    };
    if threshold && flip.leads == leading {
        format!("Would fall short of what was asked {side}.")
    } else {
        format!(
            "{} would no longer lead {side}; {} would.",
            capital(leading.id()),
            flip.leads.id()
        )
    }
}

pub(super) const NO_FLIP: &str = "No value it may take.";
pub(super) const SWEEP_CAPTION: &str = "The four verdicts given all findings, of 1,000 pieces, bottom to top \
    original (blank), married (slanting), converted (level), faked (crossed), as more or fewer pieces are \
    thought not to be original before looking. Heavy line: as taken here. Dashed: the lead changes.";

pub(super) fn sweep_here(here: f64) -> String {
    format!(
        "Before looking, {} of 1,000 are taken not to be original.",
        out_of(1000, here)
    )
}

pub(super) fn sweep_turn(at: f64, below: Verdict, above: Verdict) -> String {
    format!(
        "The lead passes from {} to {} where {} of 1,000 are taken not to be original.",
        below.id(),
        above.id(),
        out_of(1000, at)
    )
}

pub(super) const NO_TURN: &str = "The lead changes nowhere along the sweep.";
pub(super) const BOUNDS_TABLE: &str = "With every number free within its range at once, of 1,000";
pub(super) const BOUNDS: &str = "Lowest and highest found; the true spread is at least as wide.";

// 9. What to look at next.

pub(super) const ALL_LOOKED: &str = "Everything on the list has been looked at.";
pub(super) const NOTHING_LEFT: &str = "No check that is allowed has more than one chance in a thousand of \
    changing the leading verdict. For this question there is no need to look further.";
pub(super) const NEXT_INTRO: &str = "The most telling for the time it takes come first. The cautions stand \
    beside each check; local rules and the owner's leave come before anything said here.";
pub(super) const WITHOUT_OUTLOOK: &str = "What each check is expected to tell was not worked out for this \
    report; those with least trouble come first. The cautions stand beside each check; local rules and the \
    owner's leave come before anything said here.";

pub(super) fn check_label(number: usize, name: &str) -> String {
    format!("{number}. {}.", name.trim_end_matches('.'))
}

pub(super) fn trouble(minutes: f64, access: Access, leave: Leave, tools: &[String]) -> String {
    let minutes = super::figures::plain(minutes);
    let tools = if tools.is_empty() {
        String::new()
    } else {
        format!(" Bring: {}.", tools.join(", "))
    };
    format!(
        "{minutes} min; {}; {}.{tools}",
        access_words(access),
        leave_words(leave)
    )
}

pub(super) fn expected(bits: f64, changes: f64, right: f64) -> String {
    format!(
        "Chance that it changes the leading verdict: {}. It is expected to make the verdict {} bits less \
         open, and naming the leader right more often by {}.",
        chance(changes),
        super::figures::plain(bits),
        chance(right)
    )
}

pub(super) fn check_method(method: &CheckMethod) -> Option<String> {
    match method {
        CheckMethod::Exact { .. } => None,
        CheckMethod::Drawn {
            draws,
            standard_error,
            ..
        } => Some(format!(
            "Reckoned from {} draws; the bits are good to about {}.",
            thousands(*draws),
            super::figures::plain(*standard_error)
        )),
    }
}

pub(super) const NOT_ALLOWED: &str = "It lies beyond the access asked for.";

pub(super) fn telling(name: &str, part: &str, found: &str, likely: f64, then: &str) -> String {
    format!(
        "{} ({part}): {found}, {}, would leave, of 1,000, {then}",
        name.trim_end_matches('.'),
        chance(likely)
    )
}

pub(super) fn verdicts_then(verdicts: &[(Verdict, f64)]) -> String {
    let told: Vec<String> = verdicts
        .iter()
        .map(|(verdict, probability)| format!("{} {}", verdict.id(), out_of(1000, *probability)))
        .collect();
    told.join(", ")
}

pub(super) fn more_checks(more: usize) -> String {
    if more == 1 {
        "One more check is left; section 7 names it.".to_owned()
    } else {
        format!("{more} more checks are left; section 7 names them.")
    }
}

pub(super) fn plan(plan: &Plan) -> String {
    format!(
        "Of {} minutes it takes {}. Together the checks are expected to make the verdict {} bits less open, \
         of {} that all allowed checks could; the chance that they change the leading verdict is {}.",
        super::figures::plain(plan.minutes),
        super::figures::plain(plan.used),
        super::figures::plain(plan.bits),
        super::figures::plain(plan.bits_of_all),
        chance(plan.changes_verdict)
    )
}

pub(super) fn plan_step(name: &str, minutes: f64) -> String {
    format!(
        "{} ({} min)",
        name.trim_end_matches('.'),
        super::figures::plain(minutes)
    )
}

// 10. Limits, sources and signature.

pub(super) const MONEY: &str = "Odds are not a valuation. Do not buy, sell or describe a piece on this \
    arithmetic alone.";
pub(super) const SCALE_TABLE: &str = "The scale of words: European Network of Forensic Science Institutes, \
    Guideline for Evaluative Reporting in Forensic Science, 2015 (read at second hand)";
pub(super) const SCALE_NOTE: &str = "The words describe how much likelier the findings are under one verdict \
    than under all others; they do not say how likely the verdict is. The same words hold for and against.";

pub(super) fn band(strength: Strength) -> String {
    let (low, high) = strength.band();
    let whole = |ratio: f64| thousands(ratio as u32);
    if high <= 1.0 {
        "as likely either way".to_owned()
    } else if high.is_finite() {
        format!("over {}, up to {}", whole(low), whole(high))
    } else {
        format!("over {}", whole(low))
    }
}

pub(super) fn idle_sources(idle: usize) -> String {
    let sources = if idle == 1 {
        "One further source of the pack is".to_owned()
    } else {
        format!("{idle} further sources of the pack are")
    };
    format!("{sources} left out here: no number that matters to this case rests on them.")
}

/// The first of some things, and how many more there are.
pub(super) fn and_more(all: &[String], shown: usize) -> String {
    let named = all
        .iter()
        .take(shown)
        .cloned()
        .collect::<Vec<_>>()
        .join("; ");
    match all.len().saturating_sub(shown) {
        0 => stopped(&named),
        1 => stopped(&format!("{named}; and one more")),
        more => stopped(&format!("{named}; and {more} more")),
    }
}

pub(super) fn source(reference: &str, note: Option<&str>) -> String {
    match note {
        Some(note) => format!("{} {}", stopped(reference), stopped(note)),
        None => stopped(reference),
    }
}

pub(super) const DIGEST_NOTE: &str = "The digest of the case is taken of the case as it was read, written as \
    compact JSON. Equal inputs give an equal report, to the byte.";
pub(super) const SIGNED: &str = "To be filled in by hand by whoever answers for the findings.";
// Small things.

pub(super) fn engine(version: &str) -> String {
    format!("oddment {version}")
}

/// With a full stop to end with.
pub(super) fn stopped(text: &str) -> String {
    let text = text.trim();
    if text.is_empty() || text.ends_with(['.', '!', '?', '\u{2026}']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}
