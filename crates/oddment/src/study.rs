//! How sure the answer is, given that the numbers are guesses: the same circuit over many draws of
//! all of them.

mod turns;

pub use turns::StudyInTurns;

use crate::assess::LIMITS;
use crate::assessment::{PackStamp, PieceSummary};
use crate::case::Case;
use crate::error::Error;
use crate::inquiry::{Inquiry, by_verdict, leading, piece_summary, place_of, stamp};
use crate::model::Model;
use crate::order::{sort_by, sort_numbers};
use crate::pack::{NumberId, Pack, VERDICTS, Verdict};
use crate::sobol::{self, Row};
use crate::workings::{Desk, Workings};
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

/// The `schema` field of a study.
pub const STUDY_SCHEMA: &str = "oddment/study/1";

/// Draws evaluated by one thread at a time; each block has a stream of random numbers of its own,
/// so that the result does not depend on how many threads there are.
const BLOCK: u64 = 250;

/// Bootstrap resamples for the intervals of the indices.
const BOOTSTRAP: usize = 200;

/// What to draw.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StudyOptions {
    /// How many draws, at least 2.
    pub draws: u64,
    /// The seed: equal seeds give equal bits.
    pub seed: u64,
    /// Pairs of draws used for the sensitivity indices; 0 leaves them out.
    pub pairs: u64,
    /// Threads; the result is the same for any number.
    pub threads: usize,
}

impl Default for StudyOptions {
    fn default() -> Self {
        Self {
            draws: 10_000,
            seed: 1,
            pairs: 1_000,
            threads: 1,
        }
    }
}

/// What a study found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StudyReport {
    /// Always `oddment/study/1`.
    pub schema: String,
    /// Version of the engine.
    pub engine: String,
    /// The pack it rests on.
    pub pack: PackStamp,
    /// The piece, as claimed.
    pub piece: PieceSummary,
    /// Draws asked for.
    pub asked: u64,
    /// Draws done; fewer when it was stopped.
    pub draws: u64,
    /// The seed.
    pub seed: u64,
    /// How many numbers were drawn.
    pub numbers: usize,
    /// The verdicts, in the usual order.
    pub verdicts: Vec<VerdictSpread>,
    /// The histories, most likely first.
    pub histories: Vec<HistorySpread>,
    /// The verdict that leads at the numbers as elicited, whose probability the indices explain.
    pub leading: Verdict,
    /// How much of the spread of its probability comes from which numbers, most first; empty when
    /// left out or when too few draws were done.
    pub groups: Vec<GroupShare>,
    /// Pairs of draws used for that.
    pub pairs: u64,
    /// What this is not.
    pub limits: String,
}

/// The spread of a verdict's probability.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VerdictSpread {
    /// The verdict.
    pub verdict: Verdict,
    /// Its probability at the numbers as elicited.
    pub probability: f64,
    /// The spread over the draws.
    pub spread: Spread,
    /// The share of draws in which it leads.
    pub leads: f64,
}

/// The spread of a history's probability.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HistorySpread {
    /// Id of the history.
    pub id: String,
    /// Its name.
    pub name: String,
    /// The verdict it belongs to.
    pub verdict: Verdict,
    /// Its probability at the numbers as elicited.
    pub probability: f64,
    /// The spread over the draws.
    pub spread: Spread,
}

/// Mean and quantiles of a probability over the draws.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Spread {
    /// The mean.
    pub mean: f64,
    /// 5 in 100 draws are below.
    pub low: f64,
    /// A quarter are below.
    pub lower_quartile: f64,
    /// Half are below.
    pub median: f64,
    /// A quarter are above.
    pub upper_quartile: f64,
    /// 5 in 100 are above.
    pub high: f64,
}

/// Which part of a case's numbers.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum NumberGroup {
    /// Prior counts, and their shifts by period, region and variant.
    Prior,
    /// The pull of the price gap.
    Temptation,
    /// How often incidents happen.
    Incidents,
    /// What histories and incidents show and hide, and how it hangs together.
    Signs,
    /// When techniques were in use and how they show.
    Dates,
    /// How well reports can be relied on.
    Reports,
    /// What is expected of measures.
    Measures,
}

impl NumberGroup {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Prior,
        Self::Temptation,
        Self::Incidents,
        Self::Signs,
        Self::Dates,
        Self::Reports,
        Self::Measures,
    ];

    /// The group of a number.
    pub fn of(pack: &Pack, id: NumberId) -> Self {
        let id = pack.numbers[id.index()].id.as_str();
        let mut parts = id.split('/');
        match parts.next().unwrap_or_default() {
            "prior" | "prior-factor" => Self::Prior,
            "history" => Self::Temptation,
            "incident" => Self::Incidents,
            "curve" => Self::Dates,
            "examination" => Self::Reports,
            "measure" => Self::Measures,
            "sign" => match parts.nth(1).unwrap_or_default() {
                "dated" => Self::Dates,
                "reliability" => Self::Reports,
                _ => Self::Signs,
            },
            _ => Self::Signs,
        }
    }
}

/// How much of the spread of the leading verdict's probability comes from one group of numbers.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GroupShare {
    /// The group.
    pub group: NumberGroup,
    /// How many of the case's numbers are in it.
    pub numbers: usize,
    /// Share of the variance that the group explains by itself (first Sobol index), and its 90 %
    /// interval.
    pub first: f64,
    /// Low end.
    pub first_low: f64,
    /// High end.
    pub first_high: f64,
    /// Share that would go if all else were known (total Sobol index), and its 90 % interval.
    pub total: f64,
    /// Low end.
    pub total_low: f64,
    /// High end.
    pub total_high: f64,
}

/// A study with its draws.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// What it found.
    pub report: StudyReport,
    /// For each draw the probabilities of the verdicts, in the usual order.
    pub draws: Vec<[f64; 4]>,
}

/// Draws all numbers that matter to a case, many times, and answers the case for each draw.
///
/// Chances are Beta and rows of chances and prior counts Dirichlet with the mean and the equivalent
/// sample size elicited; factors, elasticities and stretches gamma with the sample size as shape;
/// shifts of a measure normal. `progress` is told how many evaluations are done of how many, and
/// stops the study by returning false: what is done by then is reported.
///
/// # Errors
/// [`Error::Impossible`] when the findings contradict one another; [`Error::Circuit`].
///
/// ```
/// use oddment::study::{StudyOptions, study};
/// use oddment::{Case, Text, packs};
/// let pack = packs::load("drop-leaf-table")?;
/// let text = include_str!("../../../priors/cases/hardly-looked-at.toml");
/// let case = Case::load(Text::new("hardly-looked-at.toml", text), &pack)?;
/// let options = StudyOptions { draws: 500, pairs: 0, ..StudyOptions::default() };
/// let study = study(&pack, &case, &options, &|_, _| true)?;
/// let original = &study.report.verdicts[0];
/// assert!(original.spread.low < original.probability);
/// assert!(original.probability < original.spread.high);
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn study(
    pack: &Pack,
    case: &Case,
    options: &StudyOptions,
    progress: &(dyn Fn(u64, u64) -> bool + Sync),
) -> Result<Study, Error> {
    let model = Model::compile_reported(pack, case)?;
    let inquiry = Inquiry::open(pack, case, &model)?;
    let workings = Workings::new(pack, case, &model)?;
    let plan = Plan::new(&workings, &inquiry, options);
    let blocks = plan.run(options.threads.max(1), progress);
    Ok(plan.report(blocks, &inquiry))
}

/// What every thread needs.
struct Plan<'a> {
    workings: &'a Workings<'a>,
    options: StudyOptions,
    /// The groups that some number is in, and the numbers of each.
    groups: Vec<(NumberGroup, Vec<NumberId>)>,
    leading: usize,
}

/// The draws of one block: for each the joint over all histories, normalised; and for each pair of
/// draws the leading verdict's probability with each group exchanged.
#[derive(Debug, Clone, Default)]
struct Block {
    histories: Vec<f64>,
    mixed: Vec<Vec<f64>>,
}

impl<'a> Plan<'a> {
    fn new(workings: &'a Workings<'a>, inquiry: &Inquiry<'_>, options: &StudyOptions) -> Self {
        let groups = NumberGroup::ALL
            .into_iter()
            .map(|group| {
                let numbers = workings.numbers().iter().copied();
                let numbers = numbers.filter(|id| NumberGroup::of(workings.pack, *id) == group);
                (group, numbers.collect::<Vec<_>>())
            })
            .filter(|(_, numbers)| !numbers.is_empty())
            .collect();
        Self {
            workings,
            options: *options,
            groups,
            leading: place_of(inquiry.leading()),
        }
    }

    fn blocks(&self) -> u64 {
        self.options.draws.div_ceil(BLOCK)
    }

    /// Evaluations of one block: its draws, and the exchanges of its pairs.
    fn evaluations(&self, block: u64) -> u64 {
        self.draws_of(block) + self.pairs_of(block) * self.groups.len() as u64
    }

    /// Evaluations of all blocks.
    fn all(&self) -> u64 {
        let blocks = 0..self.blocks();
        blocks.map(|block| self.evaluations(block)).sum()
    }

    fn draws_of(&self, block: u64) -> u64 {
        BLOCK.min(self.options.draws - block * BLOCK)
    }

    fn pairs_of(&self, block: u64) -> u64 {
        let before = block * (BLOCK / 2);
        let left = self.options.pairs.saturating_sub(before);
        left.min(self.draws_of(block) / 2)
    }

    /// Runs blocks on some threads until all are done or `progress` says no; gives back the blocks
    /// done, in order, up to the first that is missing.
    fn run(&self, threads: usize, progress: &(dyn Fn(u64, u64) -> bool + Sync)) -> Vec<Block> {
        let blocks = self.blocks();
        let all = self.all();
        let (next, done) = (AtomicU64::new(0), AtomicU64::new(0));
        let stopped = AtomicBool::new(!progress(0, all));
        let work = || {
            let mut results: Vec<(u64, Block)> = Vec::new();
            let mut desk = self.workings.desk();
            while !stopped.load(Ordering::Relaxed) {
                let block = next.fetch_add(1, Ordering::Relaxed);
                if block >= blocks {
                    break;
                }
                results.push((block, self.block(block, &mut desk)));
                let more = self.evaluations(block);
                let done = done.fetch_add(more, Ordering::Relaxed) + more;
                if !progress(done, all) {
                    stopped.store(true, Ordering::Relaxed);
                }
            }
            results
        };
        let mut results: Vec<(u64, Block)> = if threads == 1 {
            work()
        } else {
            std::thread::scope(|scope| {
                let hands: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
                // A thread that panicked has nothing to give; its blocks count as not done.
                hands
                    .into_iter()
                    .flat_map(|hand| hand.join().unwrap_or_default())
                    .collect()
            })
        };
        sort_by(&mut results, |one, other| one.0.cmp(&other.0));
        results
            .into_iter()
            .enumerate()
            .take_while(|(place, (block, _))| *place as u64 == *block)
            .map(|(_, (_, block))| block)
            .collect()
    }

    fn block(&self, block: u64, desk: &mut Desk) -> Block {
        let workings = self.workings;
        let mut rng = ChaCha8Rng::seed_from_u64(self.options.seed);
        rng.set_stream(block);
        let centre = &workings.case.numbers;
        let mut of = Block::default();
        let draws = self.draws_of(block);
        let sets: Vec<Vec<f64>> = (0..draws)
            .map(|_| {
                let mut numbers = centre.clone();
                let (pack, ids) = (workings.pack, workings.numbers());
                workings
                    .spreads
                    .draw(pack, ids, centre, &mut rng, &mut numbers);
                numbers
            })
            .collect();
        for joint in workings.histories_of_many(desk, &sets) {
            let total: f64 = joint.iter().sum();
            of.histories.extend(joint.iter().map(|joint| joint / total));
        }
        for pair in sets.chunks_exact(2).take(self.pairs_of(block) as usize) {
            let exchanged: Vec<Vec<f64>> = self
                .groups
                .iter()
                .map(|(_, ids)| {
                    let mut mixed = pair[0].clone();
                    for id in ids {
                        mixed[id.index()] = pair[1][id.index()];
                    }
                    mixed
                })
                .collect();
            let joints = workings.histories_of_many(desk, &exchanged);
            let shares = joints.iter().map(|joint| {
                by_verdict(workings.pack, joint)[self.leading] / joint.iter().sum::<f64>()
            });
            of.mixed.push(shares.collect());
        }
        of
    }

    fn report(&self, blocks: Vec<Block>, inquiry: &Inquiry<'_>) -> Study {
        let (pack, case) = (self.workings.pack, self.workings.case);
        let width = pack.histories.len();
        let mut rows = Vec::new();
        for block in &blocks {
            for (pair, mixed) in block.histories.chunks(2 * width).zip(&block.mixed) {
                let share = |draw: &[f64]| by_verdict(pack, draw)[self.leading];
                rows.push(Row {
                    a: share(&pair[..width]),
                    b: share(&pair[width..]),
                    mixed: mixed.clone(),
                });
            }
        }
        let draws: Vec<&[f64]> = blocks
            .iter()
            .flat_map(|block| block.histories.chunks(width))
            .collect();
        let by_verdicts: Vec<[f64; 4]> = draws.iter().map(|draw| by_verdict(pack, draw)).collect();
        let here = inquiry.verdicts();
        let verdicts = VERDICTS
            .into_iter()
            .enumerate()
            .map(|(place, verdict)| VerdictSpread {
                verdict,
                probability: here[place],
                spread: Spread::of(by_verdicts.iter().map(|draw| draw[place])),
                leads: by_verdicts
                    .iter()
                    .filter(|draw| leading(*draw) == verdict)
                    .count() as f64
                    / by_verdicts.len().max(1) as f64,
            })
            .collect();
        let now = inquiry.histories();
        let mut histories: Vec<HistorySpread> = pack
            .histories
            .iter()
            .enumerate()
            .map(|(place, history)| HistorySpread {
                id: history.id.clone(),
                name: history.name.clone(),
                verdict: history.verdict,
                probability: now[place],
                spread: Spread::of(draws.iter().map(|draw| draw[place])),
            })
            .collect();
        sort_by(&mut histories, |one, other| {
            other.probability.total_cmp(&one.probability)
        });
        Study {
            report: StudyReport {
                schema: STUDY_SCHEMA.into(),
                engine: env!("CARGO_PKG_VERSION").into(),
                pack: stamp(pack),
                piece: piece_summary(pack, case),
                asked: self.options.draws,
                draws: by_verdicts.len() as u64,
                seed: self.options.seed,
                numbers: self.workings.numbers().len(),
                verdicts,
                histories,
                leading: VERDICTS[self.leading],
                groups: self.shares(&rows),
                pairs: rows.len() as u64,
                limits: LIMITS.into(),
            },
            draws: by_verdicts,
        }
    }

    fn shares(&self, rows: &[Row]) -> Vec<GroupShare> {
        if rows.len() < 2 {
            return Vec::new();
        }
        let indices = sobol::indices(rows, self.groups.len(), BOOTSTRAP, self.options.seed);
        let mut shares: Vec<GroupShare> = self
            .groups
            .iter()
            .zip(indices)
            .map(|((group, numbers), index)| GroupShare {
                group: *group,
                numbers: numbers.len(),
                first: index.first,
                first_low: index.first_low,
                first_high: index.first_high,
                total: index.total,
                total_low: index.total_low,
                total_high: index.total_high,
            })
            .collect();
        sort_by(&mut shares, |one, other| other.total.total_cmp(&one.total));
        shares
    }
}

impl Spread {
    fn of(values: impl Iterator<Item = f64>) -> Self {
        let mut values: Vec<f64> = values.collect();
        if values.is_empty() {
            values.push(0.0);
        }
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        sort_numbers(&mut values);
        // Straight between neighbours, the ends at 0 and 1.
        let at = |share: f64| {
            let place = share * (values.len() - 1) as f64;
            let (below, within) = (place.floor() as usize, place - place.floor());
            let above = (below + 1).min(values.len() - 1);
            values[below] + within * (values[above] - values[below])
        };
        Self {
            mean,
            low: at(0.05),
            lower_quartile: at(0.25),
            median: at(0.5),
            upper_quartile: at(0.75),
            high: at(0.95),
        }
    }
}
