//! Limits, the scale of words, sources, what it was made with, and the signature.

use super::numbers::STANDINGS;
use crate::report::document::{Block, Table, figure, head, text};
use crate::report::figures::thousands;
use crate::report::{ReportParts, words};
use crate::scale::Strength;
use sha2::{Digest, Sha256};

pub(super) fn blocks(parts: &ReportParts<'_>) -> Vec<Block> {
    let assessment = parts.assessment;
    let mut blocks = vec![
        Block::Paragraph(words::NOT_A_CERTIFICATE.to_owned()),
        Block::Paragraph(words::stopped(&assessment.limits)),
        Block::Paragraph(words::MONEY.to_owned()),
    ];
    if !assessment.cautions.is_empty() {
        blocks.push(Block::Heading(words::CAUTIONS.to_owned()));
        let cautions = assessment
            .cautions
            .iter()
            .map(|note| words::stopped(&note.text));
        blocks.push(Block::List(cautions.collect()));
    }
    blocks.push(scale());
    blocks.push(Block::Aside(words::SCALE_NOTE.to_owned()));
    blocks.extend(sources(parts));
    blocks.push(stamps(parts));
    blocks.push(Block::Aside(words::DIGEST_NOTE.to_owned()));
    blocks.push(Block::Heading(words::SIGNATURE.to_owned()));
    blocks.push(Block::Paragraph(words::SIGNED.to_owned()));
    blocks.push(Block::Blanks(words::BLANKS.to_vec()));
    blocks
}

fn scale() -> Block {
    let rows =
        Strength::ALL.map(|strength| vec![text(words::band(strength)), text(strength.words())]);
    Block::Table(Table {
        caption: words::SCALE_TABLE.to_owned(),
        head: head(&[words::RATIO, words::WORDS]),
        rows: rows.into(),
    })
}

/// The sources that something that matters to this case rests on, by standing, the best supported
/// first.
fn sources(parts: &ReportParts<'_>) -> Vec<Block> {
    let pack = parts.pack;
    let titles = [words::SOURCE, words::RESTING];
    let mut blocks = vec![Block::Heading(words::SOURCES.to_owned())];
    let mut idle = 0;
    for standing in STANDINGS {
        let mut rows = Vec::new();
        for (place, source) in pack.sources.iter().enumerate() {
            if source.standing != standing {
                continue;
            }
            let numbers = pack.numbers.iter().filter(|number| number.source == place);
            let measures = pack
                .measures
                .iter()
                .filter(|measure| measure.source == place);
            let named = |id: &Option<String>| id.as_deref() == Some(source.id.as_str());
            let curves = pack.curves.iter().filter(|curve| named(&curve.source));
            let later = pack.later_work.iter().filter(|later| named(&later.source));
            let resting = numbers.count() + measures.count() + curves.count() + later.count();
            let matters = parts.leaning.is_none_or(|leaning| {
                let mut numbers = leaning.numbers.iter();
                numbers.any(|number| number.source == source.id)
            });
            if resting == 0 || !matters {
                idle += 1;
                continue;
            }
            let row = vec![
                text(words::source(&source.reference, source.note.as_deref())),
                figure(thousands(resting as u32)),
            ];
            rows.push(row);
        }
        if !rows.is_empty() {
            blocks.push(Block::Table(Table {
                caption: words::source_standing(standing).to_owned(),
                head: head(&titles),
                rows,
            }));
        }
    }
    if idle > 0 {
        blocks.push(Block::Aside(words::idle_sources(idle)));
    }
    blocks
}

fn stamps(parts: &ReportParts<'_>) -> Block {
    let pack = &parts.assessment.pack;
    let row = |name: &str, value: String| vec![text(name), text(value)];
    Block::Table(Table {
        caption: words::STAMPS.to_owned(),
        head: head(&[words::FIELD, words::CONTENT]),
        rows: vec![
            row(words::ENGINE, words::engine(&parts.assessment.engine)),
            row(words::PACK, format!("{} {}", pack.id, pack.version)),
            row(words::LIBRARY, pack.library_version.clone()),
            row(words::PACK_DIGEST, pack.digest.clone()),
            row(words::CASE_DIGEST, case_digest(parts)),
        ],
    })
}

/// The case's text is not kept; what was read from it is, and its written form is always the same.
fn case_digest(parts: &ReportParts<'_>) -> String {
    // Plain data with text keys and finite numbers always serialises.
    let text = serde_json::to_string(&parts.case.file).unwrap_or_default();
    let digest = Sha256::digest(text.as_bytes());
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}
