//! What lint finds: every code in a pack made doubtful by one edit, and nothing in packs that are not;
//! and what a pack predicts, against figures worked out by hand and against simulated pieces.

use crate::pack_bad_input::{LIBRARY, PACK};
use oddment::lint::{Finding, Scan, ScanOptions, scan};
use oddment::predict::{PredictOptions, Prediction, predict};
use oddment::{Case, Error, Model, Pack, Text, new_case, packs};
use oddment_tests::generated_pack::{self, Size};
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

/// What is doubtful in the small stool as it stands: nothing later than the claim ever made its frame,
/// and its seat shrinks too punctually.
const DOUBTFUL: [(&str, &str); 2] = [
    (
        "from = \"saw-arcs\"\nparts = [\"seat\", \"frame\"]",
        "from = \"saw-arcs\"\nparts = [\"seat\"]",
    ),
    (
        "faked = { moisture_fall = 2.0,",
        "faked = { moisture_fall = 3.0,",
    ),
];

/// A pack of the small stool without that, with edits of its text and of its library's.
fn stool(edits: &[(&str, &str)]) -> Pack {
    stool_with("", edits)
}

/// The stool with one more entry.
fn stool_with(entry: &str, edits: &[(&str, &str)]) -> Pack {
    let (mut pack, mut library) = (format!("{PACK}\n{entry}"), LIBRARY.to_owned());
    for (find, with) in DOUBTFUL.iter().chain(edits) {
        let text = if pack.contains(find) {
            &mut pack
        } else {
            &mut library
        };
        assert_eq!(text.matches(find).count(), 1, "`{find}` must stand once");
        *text = text.replacen(find, with, 1);
    }
    load(&pack, &library)
}

fn load(pack: &str, library: &str) -> Pack {
    Pack::load(Text::new("pack", pack), Text::new("library", library))
        .unwrap_or_else(|error| panic!("{error}"))
}

/// A sign of the stool with these chances and this reliability.
fn sign(chances: &str, reliability: &str, more: &str) -> String {
    format!(
        "[[sign]]\nid = \"added\"\nparts = [\"feet\"]\nname = \"Added\"\ncheck = \"look\"\n\
         points_to = \"Invented.\"\ninnocent = \"Invented.\"\nshows = {{ {chances} }}\n\
         reliability = {{ {reliability} }}\n{more}"
    )
}

/// Code and entry of what lint finds, but for what the stool, which has no conversions, always has.
fn found(pack: &Pack) -> Vec<(&'static str, String)> {
    codes(pack.lint())
}

fn codes(findings: Vec<Finding>) -> Vec<(&'static str, String)> {
    findings
        .into_iter()
        .filter(|finding| finding.code != "lint/verdict")
        .map(|finding| (finding.code, finding.about))
        .collect()
}

/// The message of the only finding with a code.
#[track_caller]
fn message(pack: &Pack, code: &str) -> String {
    let mut findings = pack
        .lint()
        .into_iter()
        .filter(|finding| finding.code == code);
    let message = findings.next().map(|finding| finding.message);
    assert!(findings.next().is_none(), "{code} twice");
    message.unwrap_or_else(|| panic!("no {code}"))
}

#[track_caller]
fn only(pack: &Pack, code: &'static str, about: &str) {
    assert_eq!(found(pack), [(code, about.to_owned())]);
}

fn quick_scan(pack: &Pack) -> Scan {
    let options = ScanOptions {
        pieces: 20,
        examined: 12,
        ..ScanOptions::default()
    };
    scan(pack, &options, &|_, _| true).unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn nothing_is_wrong_with_packs_that_are_right() {
    assert_eq!(found(&stool(&[])), []);
    let findings = stool(&[]).lint();
    assert_eq!(findings[0].about, "verdict/converted");
    for form in packs::forms() {
        let pack = packs::load(form).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(pack.lint(), [], "{form}");
        assert_eq!(quick_scan(&pack).findings, [], "{form}");
    }
}

#[test]
fn signs_that_say_nothing() {
    let alike = sign("any = 0.3, faked = 0.31", "found = 0.8, cleared = 0.9", "");
    only(&stool_with(&alike, &[]), "lint/says-nothing", "sign/added");
    // A sign of a rare history says next to nothing on average; that is what it is for.
    let rare = [
        (
            "as-made = 500\nnew-seat = 300\nmade-up = 200",
            "as-made = 599\nnew-seat = 400\nmade-up = 1",
        ),
        (
            "as-made = 700, new-seat = 200, made-up = 100",
            "as-made = 599, new-seat = 400, made-up = 1",
        ),
        (
            "[[measure]]\nid = \"height\"",
            "[[sign]]\nid = \"added\"\nparts = [\"feet\"]\nname = \"Added\"\n\
          check = \"look\"\npoints_to = \"Invented.\"\ninnocent = \"Invented.\"\n\
          shows = { any = 0.01, faked = 0.6 }\nreliability = { found = 0.8, cleared = 0.97 }\n\
          [[measure]]\nid = \"height\"",
        ),
    ];
    assert_eq!(found(&stool(&rare)), []);
    // A dated sign whose curve hardly changes.
    let flat = stool(&[
        (
            "[[1780, 0.02], [1830, 0.5], [1870, 0.9]]\nnot_before = 1777",
            "[[1780, 0.5], [1870, 0.53]]",
        ),
        (
            "added = { faked = 0.05 }, removed = { faked = 0.3 }",
            "added = { faked = 0.05 }",
        ),
    ]);
    only(&flat, "lint/says-nothing", "sign/saw-arcs");
}

#[test]
fn measures_that_say_nothing() {
    let edit = ("mean = 540.0, sd = 40.0 } }", "mean = 560.1, sd = 30.0 } }");
    only(&stool(&[edit]), "lint/says-nothing", "measure/height");
}

#[test]
fn curves_that_miss_every_claim() {
    let curve = "[[1780, 0.02], [1830, 0.5], [1870, 0.9]]\nnot_before = 1777";
    for (points, why) in [
        ("[[1780, 0.001], [2000, 0.004]]", "stays below 2 in 100"),
        ("[[1500, 0.99], [1900, 0.995]]", "stays above 98 in 100"),
        ("[[1600, 0.9], [1638, 0.01]]", "before every claimed period"),
        (
            "[[1780, 0.02], [1830, 0.5]]\nnot_before = 2030",
            "begins in 2030",
        ),
    ] {
        let pack = stool(&[(curve, points)]);
        only(&pack, "lint/curve", "sign/saw-arcs");
        assert!(message(&pack, "lint/curve").contains(why), "{points}");
    }
    let step = stool(&[("not_before = 1777", "not_before = 1850")]);
    only(&step, "lint/curve-step", "sign/saw-arcs");
}

#[test]
fn incidents_that_drown_a_sign() {
    let more = "caused_by = { flooded = 0.97 }";
    let entry = sign(
        "any = 0.05, faked = 0.6",
        "found = 0.9, cleared = 0.9",
        more,
    );
    assert_eq!(found(&stool_with(&entry, &[])), []);
    // Flooded stools all have one height, too, which is another matter.
    let heights = (
        "[[measure.override]]\nincident = \"flooded\"\n\
         density = { family = \"normal\", mean = 530.0, sd = 40.0 }\n",
        "",
    );
    let often = ("rate = { any = 0.1 }", "rate = { any = 0.98 }");
    let pack = stool_with(&entry, &[heights, often]);
    only(&pack, "lint/drowned", "sign/added");
    assert!(message(&pack, "lint/drowned").contains("`flooded`"));
}

#[test]
fn levels_that_are_never_there() {
    let pack = stool(&[(
        "{ any = [0.2, 0.3, 0.5], faked = [0.5, 0.3, 0.2] }\ncaused_by = { flooded = [0.5, 0.4, 0.1] }",
        "{ any = [0.2, 0.799, 0.001], faked = [0.5, 0.499, 0.001] }\n\
         caused_by = { flooded = [0.5, 0.499, 0.001] }",
    )]);
    only(&pack, "lint/level", "sign/wear");
    assert!(message(&pack, "lint/level").contains("`plain`"));
    // What an incident can bring about is not out of reach.
    let pack = stool(&[(
        "{ any = [0.2, 0.3, 0.5], faked = [0.5, 0.3, 0.2] }",
        "{ any = [0.2, 0.799, 0.001], faked = [0.5, 0.499, 0.001] }",
    )]);
    assert_eq!(found(&pack), []);
}

#[test]
fn claims_and_histories_out_of_reach() {
    let factor = "variants = [\"plain\"]\nperiods = [\"late\"]\nregions = [\"england\"]\nfactor = { faked = 0.5 }";
    let of = |text: &str| stool(&[(factor, text)]);
    only(
        &of("periods = [\"late\"]\nfactor = { any = 0.0 }"),
        "lint/unclaimable",
        "period/late",
    );
    let pack = of("variants = [\"plain\"]\nfactor = { original = 0.0 }");
    only(&pack, "lint/unclaimable", "variant/plain");
    assert!(message(&pack, "lint/unclaimable").contains("can be right"));
    only(
        &of("factor = { faked = 0.0 }"),
        "lint/unreachable",
        "history/made-up",
    );
    only(
        &of("periods = []\nfactor = { faked = 2.0 }"),
        "lint/unused",
        "prior_factor/few-late-fakes",
    );
    only(
        &of("factor = { converted = 2.0 }"),
        "lint/unused",
        "prior_factor/few-late-fakes",
    );
}

#[test]
fn single_findings_that_settle_a_case() {
    let extreme = |more: &str| {
        sign(
            "any = 0.001, faked = 0.9",
            "found = 0.95, cleared = 0.9995",
            more,
        )
    };
    let argued = "settles = \"Nobody but this forger used a laser.\"";
    let pack = stool_with(&extreme(""), &[]);
    only(&pack, "lint/overwhelming", "sign/added");
    assert!(message(&pack, "lint/overwhelming").contains("`made-up` against"));
    assert_eq!(found(&stool_with(&extreme(argued), &[])), []);
    let mild = sign(
        "any = 0.1, faked = 0.9",
        "found = 0.95, cleared = 0.95",
        argued,
    );
    only(&stool_with(&mild, &[]), "lint/argument", "sign/added");

    let far = ("mean = 540.0, sd = 40.0 } }", "mean = 900.0, sd = 20.0 } }");
    let pack = stool(&[far]);
    only(&pack, "lint/overwhelming", "measure/height");
    let argued = format!("{}\n{argued}", far.1);
    assert_eq!(found(&stool(&[(far.0, &argued)])), []);
    let mild = format!(
        "{}\nsettles = \"A long argument for nothing at all.\"",
        far.0
    );
    only(&stool(&[(far.0, &mild)]), "lint/argument", "measure/height");
}

#[test]
fn an_argument_is_at_least_a_sentence() {
    let text = format!(
        "{PACK}\n{}",
        sign(
            "any = 0.5",
            "found = 0.9, cleared = 0.9",
            "settles = \"so\""
        )
    );
    let loaded = Pack::load(Text::new("pack", &text), Text::new("library", LIBRARY));
    let Err(Error::Invalid(problems)) = loaded else {
        panic!("loads")
    };
    assert_eq!(problems[0].code, "pack/settles");
    assert_eq!(problems[0].excerpt, "settles = \"so\"");
}

/// The married seat in all but what tells it from the stool as made.
const NEARLY_ALIKE: [(&str, &str); 3] = [
    (
        "origin = { seat = { after = \"revival\" }, frame = \"claim\" }",
        "origin = { seat = { shares = \"frame\" }, frame = \"claim\" }",
    ),
    (
        "{ original = 0.9, married = 0.2, made-up = 0.3 }",
        "{ original = 0.05, married = 0.02, made-up = 0.3 }",
    ),
    (
        "[[later_work]]\nid = \"revival\"\npoints = [[1700, 0.0], [1890, 1.0], [1930, 0.2]]\n\
         reason = \"Invented.\"\n",
        "",
    ),
];

/// No variant that can be both.
const NEVER_BOTH: [(&str, &str); 2] = [
    (
        "as-made = 500\nnew-seat = 300\nmade-up = 200",
        "as-made = 800\nnew-seat = 0\nmade-up = 200",
    ),
    (
        "as-made = 700, new-seat = 200, made-up = 100",
        "as-made = 0, new-seat = 900, made-up = 100",
    ),
];

/// How many pairs of histories a scan finds alike.
fn alike(scan: &Scan) -> usize {
    let codes = scan.findings.iter().map(|finding| finding.code);
    codes.filter(|code| *code == "lint/indistinct").count()
}

#[test]
fn histories_that_no_findings_tell_apart() {
    let pack = stool(&NEARLY_ALIKE);
    // Written differently, by a factor of more than 1.5: only whole pieces show it.
    assert_eq!(found(&pack), []);
    let scan = quick_scan(&pack);
    let history = "history/as-made".to_owned();
    assert_eq!(alike(&scan), 1);
    assert_eq!(scan.findings[0].about, history);
    let hardest = scan.hardest.unwrap_or_else(|| panic!("none is hardest"));
    let ids = ("as-made".to_owned(), "new-seat".to_owned());
    assert_eq!(hardest.histories, ids);
    assert!((0.5..0.6).contains(&hardest.picked), "{}", hardest.picked);
    // Where no variant can be both, they never have to be told apart.
    let apart: Vec<(&str, &str)> = NEARLY_ALIKE.into_iter().chain(NEVER_BOTH).collect();
    assert_eq!(alike(&quick_scan(&stool(&apart))), 0);
    // Written alike, it shows at once, and is told once.
    let mut same = NEARLY_ALIKE;
    same[1].1 = "{ original = 0.05, married = 0.05, made-up = 0.3 }";
    let pack = stool(&same);
    assert_eq!(found(&pack), [("lint/indistinct", history)]);
    assert_eq!(alike(&quick_scan(&pack)), 0);
}

#[test]
fn numbers_that_dominate() {
    // The counts of one variant held as if a tenth of a piece stood behind them.
    let text = packs::text("drop-leaf-table").unwrap_or_else(|error| panic!("{error}"));
    let counts = "strength = 15.0\nsource = \"elicited\"\n[prior.counts]";
    assert_eq!(text.content.matches(counts).count(), 1);
    let weak = text.content.replace(counts, &counts.replace("15.0", "0.1"));
    let scan = quick_scan(&load(&weak, packs::library().content));
    assert_eq!(scan.findings.len(), 1, "{:?}", scan.findings);
    let finding = &scan.findings[0];
    assert_eq!(finding.code, "lint/dominant");
    assert!(
        finding.about.starts_with("number/prior/round/"),
        "{finding:?}"
    );
    assert!(finding.message.contains("strength 0.1"), "{finding:?}");
}

#[test]
fn a_scan_is_the_same_each_time_and_for_any_number_of_threads() {
    let pack = stool(&[]);
    let of = |threads, seed| {
        let options = ScanOptions {
            pieces: 10,
            examined: 6,
            seed,
            threads,
        };
        scan(&pack, &options, &|_, _| true).unwrap_or_else(|error| panic!("{error}"))
    };
    assert_eq!(of(1, 1), of(1, 1));
    assert_eq!(of(1, 1), of(3, 1));
    assert_ne!(of(1, 1).hardest, of(1, 2).hardest);
    let stopped = scan(&pack, &ScanOptions::default(), &|done, _| done < 1);
    let stopped = stopped.unwrap_or_else(|error| panic!("{error}"));
    assert!(stopped.stopped && stopped.hardest.is_none());
}

fn predicted(pack: &Pack, options: &PredictOptions) -> Prediction {
    predict(pack, options).unwrap_or_else(|error| panic!("{error}"))
}

/// Plain stools of the early period, 700 of 1,000 as made, 200 with a new seat, 100 made up.
fn plain_early() -> PredictOptions {
    PredictOptions {
        variant: Some("plain".into()),
        period: Some("early".into()),
        pieces: 4_000,
        ..PredictOptions::default()
    }
}

#[track_caller]
fn near(value: f64, expected: f64) {
    assert!(
        (value - expected).abs() < 1e-12,
        "{value} instead of {expected}"
    );
}

#[test]
fn predicted_shares_are_those_worked_out_by_hand() {
    let prediction = predicted(&stool(&[]), &plain_early());
    let shares: Vec<f64> = prediction.verdicts.iter().map(|of| of.share).collect();
    for (share, expected) in shares.iter().zip([0.7, 0.2, 0.0, 0.1]) {
        near(*share, expected);
    }
    let of = |id: &str, part: &str| {
        let found = prediction
            .signs
            .iter()
            .find(|sign| sign.id == id && sign.part == part);
        found.unwrap_or_else(|| panic!("{id}")).clone()
    };
    // 0.7 * 0.9 + 0.2 * 0.2 + 0.1 * 0.3.
    let fits = &of("seat-fits", "seat").levels[1];
    near(fits.there.all, 0.7);
    let by: Vec<Option<f64>> = fits.there.by_verdict.clone();
    assert_eq!(by[2], None);
    near(by[0].unwrap_or(0.0), 0.9);
    near(by[3].unwrap_or(0.0), 0.3);
    // Found 0.95 * 0.85 + 0.05 * (0.2 * 0.85 + 0.8 / 2) = 0.836 of those there, and of the others
    // 0.95 * 0.1 + 0.05 * (0.2 * 0.1 + 0.8 / 2) = 0.116.
    near(fits.reported.all, 0.7 * 0.836 + 0.3 * 0.116);
    // As made: flooded 1 in 10, refinished 3 in 10, which hides 1 in 10.
    let wear = of("wear", "feet");
    near(
        wear.levels[0].there.by_verdict[0].unwrap_or(0.0),
        1.0 - 0.97 + 0.2 * 0.95 * 0.97,
    );
    near(
        wear.levels[2].there.by_verdict[0].unwrap_or(0.0),
        0.97 - 0.5 * 0.99 * 0.97,
    );
    // Nothing was sawn by a circular saw before 1777; false reports are 0.95 * 0.05 + 0.05 * 0.41.
    let arcs = &of("saw-arcs", "seat").levels[1];
    near(arcs.there.by_verdict[0].unwrap_or(1.0), 0.0);
    near(arcs.reported.by_verdict[0].unwrap_or(0.0), 0.068);
    // Refinished: 0.7 * 0.3 + 0.2 * 0.4 + 0.1 * 0.6.
    near(prediction.incidents[0].happened.all, 0.35);
    // Height of stools as made: normal about 560, but for the flooded.
    let height = &prediction.measures[0];
    let quartiles = height.by_verdict[0].unwrap_or_else(|| panic!("none was measured"));
    assert!((quartiles.median - 557.3).abs() < 3.0, "{quartiles:?}");
    assert!(
        (quartiles.upper - quartiles.lower - 1.349 * 32.0).abs() < 5.0,
        "{quartiles:?}"
    );
}

#[test]
fn all_claims_in_equal_parts() {
    let pack = stool(&[]);
    // Carved 500, 300, 200 in both periods; plain 700, 200, 100 and, late, 700, 200, 50 of 950.
    let prediction = predicted(
        &pack,
        &PredictOptions {
            pieces: 10,
            ..PredictOptions::default()
        },
    );
    near(
        prediction.verdicts[0].share,
        (0.5 + 0.5 + 0.7 + 700.0 / 950.0) / 4.0,
    );
}

#[test]
fn predictions_agree_with_simulated_pieces() {
    let size = Size {
        histories: 5,
        incidents: 4,
        dated_parts: 3,
        signs: 24,
        measures: 1,
    };
    let generated = load(&generated_pack::pack(size, 11), &generated_pack::library());
    let shipped = packs::load("drop-leaf-table").unwrap_or_else(|error| panic!("{error}"));
    for pack in [generated, shipped] {
        let text = new_case(&pack);
        let mut case =
            Case::load(Text::new("case", &text), &pack).unwrap_or_else(|e| panic!("{e}"));
        look_everywhere(&pack, &mut case);
        let claim = &case.file.piece;
        let prediction = predicted(
            &pack,
            &PredictOptions {
                variant: Some(claim.variant.clone()),
                period: Some(claim.period.clone()),
                region: Some(claim.region.clone()),
                pieces: 10,
                seed: 1,
            },
        );
        compare(&pack, &case, &prediction);
    }
}

/// A finding of every sign at every part.
fn look_everywhere(pack: &Pack, case: &mut Case) {
    case.findings.clear();
    let signs = pack.signs.iter().enumerate();
    for (index, sign) in signs.filter(|(_, sign)| sign.concerns(case.variant)) {
        for part in &sign.parts {
            case.findings.push(oddment::case::Finding {
                sign: index,
                part: *part,
                outcome: oddment::case::Outcome::Reported {
                    level: 0,
                    sure: oddment::case::Sureness::Sure,
                },
                visit: 0,
                note: None,
            });
        }
    }
}

fn compare(pack: &Pack, case: &Case, prediction: &Prediction) {
    const PIECES: usize = 3_000;
    let model = Model::compile(pack, case.years, &case.numbers).unwrap_or_else(|e| panic!("{e}"));
    let priors = oddment::prior::history_priors(pack, case);
    let mut rng = ChaCha8Rng::seed_from_u64(5);
    let mut there: Vec<Vec<f64>> = prediction
        .signs
        .iter()
        .map(|s| vec![0.0; s.levels.len()])
        .collect();
    let mut told = there.clone();
    for _ in 0..PIECES {
        let piece = model.draw_piece(&priors, &[], &mut rng);
        let leaves = model.leaves().iter();
        let leaves = leaves.filter(|leaf| pack.signs[leaf.sign].concerns(case.variant));
        for (leaf, counts) in leaves.zip(&mut there) {
            counts[piece.states[leaf.variable.index()]] += 1.0;
        }
        let report = model.report(pack, case, &piece, &mut rng);
        for (finding, counts) in report.findings.iter().zip(&mut told) {
            if let oddment::case::Outcome::Reported { level, .. } = finding.outcome {
                counts[level] += 1.0;
            }
        }
    }
    for ((sign, there), told) in prediction.signs.iter().zip(&there).zip(&told) {
        for ((level, there), told) in sign.levels.iter().zip(there).zip(told) {
            for (share, count) in [(level.there.all, there), (level.reported.all, told)] {
                // Five standard errors: one of a thousand honest figures in a million would fail.
                let error = (share * (1.0 - share) / PIECES as f64).sqrt();
                let seen = count / PIECES as f64;
                assert!(
                    (share - seen).abs() <= 5.0 * error + 1e-9,
                    "{} {}: {share} {seen}",
                    sign.id,
                    level.level
                );
            }
        }
    }
}

#[test]
fn what_cannot_be_predicted_says_why() {
    let pack = stool(&[]);
    let unknown = PredictOptions {
        variant: Some("carven".into()),
        ..PredictOptions::default()
    };
    let error = predict(&pack, &unknown)
        .err()
        .map(|error| error.to_string());
    assert_eq!(
        error.as_deref(),
        Some("unknown variant `carven`, perhaps `carved`; valid: carved, plain")
    );
    let none = stool(&[(
        "variants = [\"plain\"]\nperiods = [\"late\"]\nregions = [\"england\"]\nfactor = { faked = 0.5 }",
        "periods = [\"late\"]\nfactor = { any = 0.0 }",
    )]);
    let late = PredictOptions {
        period: Some("late".into()),
        ..PredictOptions::default()
    };
    assert_eq!(
        predict(&none, &late).err().map(|error| error.code()),
        Some("query/no-odds")
    );
}
