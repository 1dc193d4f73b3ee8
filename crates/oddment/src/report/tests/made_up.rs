//! Made-up arguments, outlooks and leanings, written by hand to show every part of a report. Their
//! figures mean nothing.

use crate::argument::{
    ARGUMENT_SCHEMA, Argument, Behind, InnocentReading, Question, ShareMethod, Together,
    TogetherWeight, WeighedFinding, Weights,
};
use crate::assessment::Assessment;
use crate::leaning::{
    Curve, Flip, LEANING_SCHEMA, Leaning, NumberLeaning, NumberUnit, PriorSweep, RobustBounds,
    SweepPoint, SweepTurn,
};
use crate::outlook::{
    CheckMethod, CheckValue, OUTLOOK_SCHEMA, Outlook, Plan, PlanStep, TellingAnswer, Unseen,
};
use crate::pack::{Pack, VERDICTS, Verdict};

/// A step that goes up twice and down once.
fn step(place: usize) -> f64 {
    [2.4, 3.1, -1.7][place % 3]
}

pub(super) fn argument(assessment: &Assessment) -> Argument {
    let count = assessment.findings.len();
    let total: f64 = (0..count).map(step).sum();
    let question = |verdict: Verdict| Question {
        favoured: verdict.id().to_owned(),
        favoured_name: verdict.id().to_owned(),
        against: None,
        against_name: None,
        before: -5.0,
        after: total - 5.0,
        total,
        naive: total + 9.0,
        in_common: 9.0,
    };
    let mut running = -5.0;
    let findings = assessment
        .findings
        .iter()
        .enumerate()
        .map(|(place, finding)| {
            running += step(place);
            let weights = Weights {
                alone: step(place) + 0.4,
                withdrawn: step(place) - 0.3,
                in_order: step(place),
                running,
                share: step(place),
                share_error: 0.0,
            };
            WeighedFinding {
                id: finding.id.clone(),
                name: finding.name.clone(),
                part: finding.part.clone(),
                visit: finding.visit.clone(),
                found: finding.found.clone(),
                sure: finding.sure,
                points_to: finding.points_to.clone(),
                innocent: finding.innocent.clone(),
                weights: vec![weights; VERDICTS.len()],
                readings: vec![
                    InnocentReading {
                        id: "made-up".to_owned(),
                        name: "A made-up event".to_owned(),
                        without: 0.1,
                        with: 0.3,
                        if_happened: Some(vec![-0.2; VERDICTS.len()]),
                    },
                    InnocentReading {
                        id: "ruled-out".to_owned(),
                        name: "An event ruled out".to_owned(),
                        without: 0.2,
                        with: 0.0,
                        if_happened: None,
                    },
                ],
            }
        });
    let findings: Vec<WeighedFinding> = findings.collect();
    let together = (count >= 2).then(|| Together {
        behind: Behind::Act,
        id: "made-up-act".to_owned(),
        name: "a made-up act".to_owned(),
        members: vec![0, 1],
        weights: vec![
            TogetherWeight {
                naive: 8.0,
                joint: 5.0,
                withdrawn: 4.0,
            };
            VERDICTS.len()
        ],
    });
    Argument {
        schema: ARGUMENT_SCHEMA.to_owned(),
        engine: assessment.engine.clone(),
        pack: assessment.pack.clone(),
        piece: assessment.piece.clone(),
        questions: VERDICTS.map(question).into(),
        findings,
        together: together.into_iter().collect(),
        shares: ShareMethod {
            exact: false,
            orders: 2000,
            seed: 1,
        },
        limits: assessment.limits.clone(),
    }
}

pub(super) fn outlook(pack: &Pack, assessment: &Assessment) -> Outlook {
    let check = |(place, check): (usize, &crate::pack::Check)| CheckValue {
        id: check.id.clone(),
        name: check.name.clone(),
        how: check.how.clone(),
        tools: check.tools.clone(),
        minutes: check.minutes,
        access: check.access,
        leave: check.leave,
        allowed: place != 2,
        answers: vec![Unseen {
            id: "made-up".to_owned(),
            name: "A made-up sign".to_owned(),
            part: pack.parts[0].id.clone(),
            bits: 0.1,
        }],
        bits: 0.25,
        bits_per_minute: 0.05,
        changes_verdict: 0.12,
        right_more_often: 0.03,
        money: None,
        method: CheckMethod::Drawn {
            draws: 4000,
            seed: 1,
            standard_error: 0.02,
        },
        telling: vec![TellingAnswer {
            id: "made-up".to_owned(),
            part: pack.parts[0].id.clone(),
            found: "yes".to_owned(),
            chance: 0.2,
            verdicts: vec![0.1, 0.2, 0.3, 0.4],
        }],
    };
    let checks: Vec<CheckValue> = pack.checks.iter().enumerate().map(check).collect();
    let step = PlanStep {
        id: checks[0].id.clone(),
        name: checks[0].name.clone(),
        minutes: checks[0].minutes,
        bits_so_far: 0.25,
    };
    Outlook {
        schema: OUTLOOK_SCHEMA.to_owned(),
        engine: assessment.engine.clone(),
        pack: assessment.pack.clone(),
        piece: assessment.piece.clone(),
        leading: Verdict::Converted,
        probability: 0.9,
        open_bits: 0.6,
        checks,
        plan: Some(Plan {
            minutes: 30.0,
            used: 12.0,
            steps: vec![step],
            bits: 0.3,
            standard_error: 0.01,
            changes_verdict: 0.1,
            right_more_often: 0.02,
            bits_of_all: 0.5,
            all_change_verdict: 0.2,
            draws: 4000,
            seed: 1,
        }),
        nothing_left: false,
        cautions: assessment.cautions.clone(),
        limits: assessment.limits.clone(),
    }
}

pub(super) fn leaning(pack: &Pack, assessment: &Assessment) -> Leaning {
    let units = [
        NumberUnit::Chance,
        NumberUnit::Count,
        NumberUnit::Plain,
        NumberUnit::Shift,
    ];
    let number = |place: usize| {
        let number = &pack.numbers[place * 7];
        let wide = 0.02 * (12 - place) as f64;
        NumberLeaning {
            id: number.id.clone(),
            words: format!("How often a made-up thing number {place} shows where it is looked for"),
            unit: units[place % 4],
            value: 0.2,
            low: 0.1,
            high: 0.3,
            strength: number.strength,
            source: pack.sources[number.source].id.clone(),
            curve: Curve::Points { points: Vec::new() },
            slope: 1.0,
            at_low: 0.9 - wide,
            at_high: (0.9 + wide).min(0.99),
            holds_from: 0.0,
            holds_to: 0.34,
            flips: vec![Flip {
                at: 0.34,
                above: place.is_multiple_of(2),
                leads: Verdict::Original,
            }],
        }
    };
    let point = |share: u32| {
        let not_original = f64::from(share) / 100.0;
        let converted = not_original * 0.7;
        SweepPoint {
            not_original,
            verdicts: vec![
                1.0 - not_original,
                not_original * 0.2,
                converted,
                not_original * 0.1,
            ],
        }
    };
    Leaning {
        schema: LEANING_SCHEMA.to_owned(),
        engine: assessment.engine.clone(),
        pack: assessment.pack.clone(),
        piece: assessment.piece.clone(),
        verdict: Verdict::Converted,
        probability: 0.9,
        leading: Verdict::Converted,
        threshold: None,
        numbers: (0..12).map(number).collect(),
        unmoved: 345,
        bounds: vec![RobustBounds {
            verdict: Verdict::Converted,
            low: 0.4,
            high: 0.99,
        }],
        sweep: PriorSweep {
            here: 0.56,
            mix: vec![0.3, 0.4, 0.3],
            points: [1, 5, 10, 20, 30, 40, 50, 60]
                .into_iter()
                .map(point)
                .collect(),
            turns: vec![SweepTurn {
                at: 0.585,
                below: Verdict::Original,
                above: Verdict::Converted,
            }],
        },
        grid: None,
        pool: None,
        limits: assessment.limits.clone(),
    }
}
