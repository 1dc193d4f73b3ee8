//! Titles of sections, tables and pictures, heads of columns, and terms.

use super::document::Mark;
use crate::pack::{Access, Leave, Standing};

pub(super) const PAGE_TITLE: &str = "Report on a piece of furniture";
pub(super) const UNTITLED: &str = "A piece without a title";

// The sections.

pub(super) const PIECE: &str = "1. The piece";
pub(super) const OPINION: &str = "2. The opinion";
pub(super) const ARGUMENT: &str = "3. The argument";
pub(super) const HISTORIES: &str = "4. The rival histories";
pub(super) const INNOCENT: &str = "5. Innocent explanations";
pub(super) const DATES: &str = "6. When each part was made";
pub(super) const EXAMINED: &str = "7. What was examined and what was not";
pub(super) const NUMBERS: &str = "8. Whose numbers it hangs on";
pub(super) const NEXT: &str = "9. What to look at next";
pub(super) const LIMITS: &str = "10. Limits, sources and signature";

// 1. The piece.

pub(super) const OFFERED_AS: &str = "The piece as it is offered";
pub(super) const FIELD: &str = "What";
pub(super) const CONTENT: &str = "As written";
pub(super) const FULL_TITLE: &str = "Title in full";
pub(super) const FORM: &str = "Form";
pub(super) const VARIANT: &str = "Kind";
pub(super) const PERIOD: &str = "Period claimed";
pub(super) const YEARS: &str = "Years claimed";
pub(super) const REGION: &str = "Region claimed";
pub(super) const NOTE: &str = "Note";
pub(super) const VISITS: &str = "Who examined it, when and how";
pub(super) const VISIT: &str = "Visit";
pub(super) const BY: &str = "By";
pub(super) const DATE: &str = "Date";
pub(super) const HOW: &str = "How";
pub(super) const NOT_STATED: &str = "not stated";

// 2. The opinion.

pub(super) const NO_STORY: &str = "No story told here fits";
pub(super) const VERDICT_TABLE: &str = "The verdicts, of 1,000 pieces";
pub(super) const VERDICT: &str = "Verdict";
pub(super) const BEFORE: &str = "Before looking";
pub(super) const NOW: &str = "Given the findings";
pub(super) const FINDINGS_SAY: &str = "What the findings give";
pub(super) const DECIBANS: &str = "Decibans";
pub(super) const KEY_TITLE: &str = "Key to the textures";
pub(super) const FIELD_BEFORE: &str = "Before looking";
pub(super) const FIELD_NOW: &str = "Given the findings";
pub(super) const PRIOR_REASONS: &str = "Why the starting odds are as they are";

// 3. The argument.

pub(super) const FINDING: &str = "Finding";
pub(super) const STEP: &str = "Step";
pub(super) const RUNNING: &str = "Odds reached";
pub(super) const SHARE: &str = "Fair share";
pub(super) const ALONE: &str = "Alone";
pub(super) const WITHDRAWN: &str = "If withdrawn";
pub(super) const ALL_TOGETHER: &str = "All together";
pub(super) const OPPOSITE: &str = "Had it been otherwise";
pub(super) const TOGETHER: &str = "Things that hang together";
pub(super) const TOGETHER_TABLE: &str = "Findings with one thing behind them, in decibans";
pub(super) const BEHIND: &str = "Behind them";
pub(super) const MEMBERS: &str = "Findings";
pub(super) const NAIVE: &str = "Added up";
pub(super) const JOINT: &str = "Together";

// 6. When each part was made.

pub(super) const STRIPS_TITLE: &str = "When each part was made";
pub(super) const DATE_TABLE: &str = "Making dates, to the nearest five years";
pub(super) const PART: &str = "Part";
pub(super) const ABOUT: &str = "About";
pub(super) const NINETY: &str = "90 chances in 100 between";

// 7. What was examined and what was not.

pub(super) const CHECKS_MADE: &str = "Checks made:";
pub(super) const OUTCOME: &str = "Mark";
pub(super) const SIGN: &str = "Sign and where";
pub(super) const REPORTED: &str = "Reported";
pub(super) const REMARK: &str = "Visit and remark";
pub(super) const CHECK: &str = "Check";
pub(super) const WHAT: &str = "What it would answer";
pub(super) const READINGS: &str = "Readings taken";
pub(super) const MEASURE: &str = "Measure and where";
pub(super) const READING: &str = "Reading";
pub(super) const ERROR: &str = "Instrument good to about";

// 8. Whose numbers it hangs on.

pub(super) const OWN_PRIOR: &str = "The starting odds are the user's own:";
pub(super) const KNOWN: &str = "Taken as known from elsewhere:";
pub(super) const SWINGS_TABLE: &str = "The numbers that move it most";
pub(super) const NUMBER: &str = "Number";
pub(super) const VALUE: &str = "Value and range";
pub(super) const CHANCE_THEN: &str = "Of 1,000, at low and high end";
pub(super) const WHAT_FLIPS: &str = "What would turn it";
pub(super) const SWEEP_TITLE: &str = "The verdicts over a sweep of the starting odds";
pub(super) const SWEEP_AXIS: &str = "of 1,000 not original before looking";
pub(super) const SWEEP_TURN: &str = "lead changes";
pub(super) const SWEEP_HERE: &str = "here";
pub(super) const SWEEP_TABLE: &str = "The sweep in figures, of 1,000";
pub(super) const NOT_ORIGINAL: &str = "Not original before";
pub(super) const LOWEST: &str = "Lowest";
pub(super) const HIGHEST: &str = "Highest";

// 9. What to look at next.

pub(super) const CAUTION: &str = "Caution:";
pub(super) const ANSWERS: &str = "It would answer:";
pub(super) const TELLING: &str = "Most telling answers:";
pub(super) const PLAN: &str = "A plan for the time there is";

// 10. Limits, sources and signature.

pub(super) const CAUTIONS: &str = "Cautions";
pub(super) const RATIO: &str = "How many times likelier the findings are";
pub(super) const WORDS: &str = "Words";
pub(super) const SOURCES: &str = "Sources of the pack";
pub(super) const SOURCE: &str = "Source";
pub(super) const RESTING: &str = "Numbers and curves";
pub(super) const STAMPS: &str = "Made with";
pub(super) const ENGINE: &str = "Engine";
pub(super) const PACK: &str = "Pack";
pub(super) const LIBRARY: &str = "Shared library, version";
pub(super) const PACK_DIGEST: &str = "SHA-256 of pack and library";
pub(super) const CASE_DIGEST: &str = "SHA-256 of the case";
pub(super) const SIGNATURE: &str = "Signature";

// Terms.

pub(super) fn access_words(access: Access) -> &'static str {
    match access {
        Access::WalkBy => "standing beside it",
        Access::Open => "opening it, working its parts",
        Access::TurnOver => "underneath, or turned over",
        Access::Dismantle => "drawing a screw, taking off a part",
        Access::Laboratory => "a sample, or an instrument elsewhere",
        Access::Papers => "papers, not the piece",
    }
}

pub(super) fn leave_words(leave: Leave) -> &'static str {
    match leave {
        Leave::NotNeeded => "no leave needed",
        Leave::Ask => "ask the owner first",
        Leave::Written => "only with the owner's written leave",
    }
}

/// What a source is, with a capital.
pub(super) fn source_standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Read => "Published, read for this purpose",
        Standing::ReadInPart => "Published, read in part or at second hand",
        Standing::FromMemory => "Published, recalled from memory, unverified",
        Standing::CommonPractice => "Common practice, no source",
        Standing::Elicited => "Working guess",
    }
}

/// What a number rests on, after "on".
pub(super) fn standing_words(standing: Standing) -> &'static str {
    match standing {
        Standing::Read => "a publication read for this purpose",
        Standing::ReadInPart => "a publication read in part or at second hand",
        Standing::FromMemory => "a publication recalled from memory, unverified",
        Standing::CommonPractice => "common practice of the trade, without a source",
        Standing::Elicited => "a working guess",
    }
}

pub(super) fn mark_heading(mark: Mark, count: usize) -> String {
    match mark {
        Mark::Found => format!("Found ({count})"),
        Mark::NotThere => format!("Looked for and not there ({count})"),
        Mark::NoAccess => format!("Could not be looked at ({count})"),
        Mark::NotLooked => format!("Not looked at ({count})"),
    }
}

pub(super) fn mark(mark: Mark) -> &'static str {
    match mark {
        Mark::Found => "found",
        Mark::NotThere => "looked for, not there",
        Mark::NoAccess => "could not be looked at",
        Mark::NotLooked => "not looked at",
    }
}

pub(super) const BLANKS: [&str; 5] = ["Name", "Capacity", "Place", "Date", "Signature"];
