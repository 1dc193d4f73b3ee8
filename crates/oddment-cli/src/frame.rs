//! What stands at the head and the foot of every page about a case.

use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words::stopped;
use oddment::assessment::{PackStamp, PieceSummary};

/// The piece and what is claimed of it.
pub(crate) fn head(page: &mut Page, pack: &PackStamp, piece: &PieceSummary) {
    let title = piece.title.as_deref().map(str::trim);
    let title = title.filter(|title| !title.is_empty());
    page.paragraph(STRONG, 0, title.unwrap_or(&pack.name));
    let (from, to) = piece.years;
    let claim = format!(
        "{}; {}; {}, {from} to {to}; {}",
        pack.name, piece.variant, piece.period, piece.region
    );
    page.hang(PLAIN, 0, "Offered as: ", &claim);
}

/// What the page is not, and what it rests on.
pub(crate) fn foot(page: &mut Page, pack: &PackStamp, engine: &str, limits: &str) {
    page.gap();
    page.paragraph(PLAIN, 0, &stopped(limits));
    let digest: String = pack.digest.chars().take(12).collect();
    let stamp = format!(
        "Pack {} {}, library {}, digest {digest}; oddment {engine}.",
        pack.id, pack.version, pack.library_version
    );
    page.paragraph(FAINT, 0, &stamp);
}
