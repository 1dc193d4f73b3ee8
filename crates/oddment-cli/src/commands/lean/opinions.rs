//! What several people's numbers come to.

use crate::page::{FAINT, PLAIN, Page, STRONG};
use crate::words::out_of;
use oddment::leaning::Pool;
use oddment::pack::VERDICTS;

pub(super) fn render(page: &mut Page, pool: &Pool) {
    page.heading("Several opinions on the same findings (of 1,000)");
    if !page.is_narrow() {
        page.row(FAINT, "  original  married  converted    faked");
    }
    for opinion in &pool.opinions {
        let weight = format!(
            "{} (weight {} in 100)",
            opinion.name,
            out_of(100, opinion.weight)
        );
        row(page, false, &opinion.verdicts, &weight);
        row(page, true, &opinion.priors, "before looking");
    }
    page.gap();
    page.paragraph(PLAIN, 0, "Put together:");
    row(page, false, &pool.linear, "mean of the answers");
    if pool.logarithmic.is_empty() {
        let text = "Between them these opinions rule out every verdict, so the mean of their \
                    log-odds says nothing.";
        page.paragraph(STRONG, 2, text);
    } else {
        row(page, false, &pool.logarithmic, "mean of the log-odds");
    }
    page.paragraph(
        FAINT,
        2,
        "By the second, one opinion certain against a verdict rules it out. Neither makes the \
         opinions independent: people taught by the same books err alike.",
    );
}

fn row(page: &mut Page, faint: bool, verdicts: &[f64], whose: &str) {
    let style = if faint { FAINT } else { PLAIN };
    if page.is_narrow() {
        let told: Vec<String> = VERDICTS
            .iter()
            .zip(verdicts)
            .map(|(verdict, probability)| {
                format!("{}\u{a0}{}", verdict.id(), out_of(1000, *probability))
            })
            .collect();
        page.hang(style, 2, "", &format!("{whose}: {}", told.join(", ")));
        return;
    }
    let counts: Vec<String> = verdicts.iter().map(|p| out_of(1000, *p)).collect();
    let mut label = String::new();
    for (count, width) in counts.iter().zip([10, 9, 11, 9]) {
        label += &format!("{count:>width$}");
    }
    page.hang(style, 0, &(label + "  "), whose);
}
