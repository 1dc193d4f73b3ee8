//! An assessment laid out to be read in a saleroom.
//!
//! Nothing is computed here: every figure stands in the assessment, and the pack lends names only.

mod findings;
mod further;
mod verdicts;

use crate::frame;
use crate::page::{PLAIN, Page, STRONG};
use crate::words::{out_of, short_part};
use oddment::Pack;
use oddment::assessment::{Assessment, FitJudgement, VisitQuality};

/// A visit whose findings are likelier than this to come of a poor examination is remarked on.
const DOUBTED: f64 = 0.2;

/// So is one whose chance of having been poor has grown by this factor.
const DOUBT_GROWN: f64 = 3.0;

/// The whole page.
pub(crate) fn render(assessment: &Assessment, pack: &Pack) -> String {
    let mut page = Page::new();
    frame::head(&mut page, &assessment.pack, &assessment.piece);
    if assessment.fit.judgement == FitJudgement::NoStoryFits {
        no_story(&mut page, assessment);
    }
    verdicts::render(&mut page, assessment);
    if assessment.fit.judgement == FitJudgement::Unusual {
        unusual(&mut page, assessment);
    }
    for visit in assessment.visits.iter().filter(|visit| is_doubted(visit)) {
        doubted(&mut page, visit);
    }
    verdicts::render_histories(&mut page, assessment);
    findings::render(&mut page, assessment, pack);
    further::dates(&mut page, assessment);
    further::incidents(&mut page, assessment);
    further::not_looked(&mut page, assessment, pack);
    frame::foot(
        &mut page,
        &assessment.pack,
        &assessment.engine,
        &assessment.limits,
    );
    page.finish()
}

fn no_story(page: &mut Page, assessment: &Assessment) {
    page.gap();
    page.paragraph(STRONG, 0, "*** NO STORY TOLD HERE FITS WELL ***");
    let text = format!(
        "Of pieces made up from these stories and looked at in the same places, no more than {} in \
         1,000 had findings as unlikely as these. The counts below only say which story fits least badly: \
         look again at what stands oddly, and think of a story that is not told here.",
        out_of(1000, assessment.fit.share_as_rare)
    );
    page.paragraph(STRONG, 0, &text);
}

fn unusual(page: &mut Page, assessment: &Assessment) {
    let text = format!(
        "Unusual findings under every story told here: of pieces made up from them and looked at \
         in the same places, {} in 1,000 had findings as unlikely as these.",
        out_of(1000, assessment.fit.share_as_rare)
    );
    page.gap();
    page.paragraph(PLAIN, 0, &text);
}

fn is_doubted(visit: &VisitQuality) -> bool {
    visit.probability > visit.prior
        && (visit.probability > DOUBTED || visit.probability > DOUBT_GROWN * visit.prior)
}

fn doubted(page: &mut Page, visit: &VisitQuality) {
    let text = format!(
        "The findings of the visit `{}` do not hang together well: the chance that the looking as \
         a whole went badly is {} in 100 ({} before). Look again, in better light and without \
         hurry.",
        visit.id,
        out_of(100, visit.probability),
        out_of(100, visit.prior)
    );
    page.gap();
    page.paragraph(PLAIN, 0, &text);
}

/// A part's name, short, by its id.
pub(crate) fn part_name(pack: &Pack, id: &str) -> String {
    let part = pack.parts.iter().find(|part| part.id == id);
    short_part(part.map_or(id, |part| part.name.as_str()))
}
