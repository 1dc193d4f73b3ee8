//! What shows only when whole pieces are put to the engine: histories that no findings tell apart,
//! and numbers that decide by themselves.

use super::blank::look_at;
use super::entries::told_apart;
use super::marginal::some_of;
use super::{Finding, Notes, blank_case};
use crate::answer::Answer;
use crate::error::Error;
use crate::evidence::Likelihoods;
use crate::lean::swings;
use crate::model::Model;
use crate::order::sort_by;
use crate::pack::{ElicitedNumber, NumberId, Pack};
use crate::prior::history_priors;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

/// The most claimed periods that pieces are simulated for, evenly chosen where there are more.
const MOST_PERIODS: usize = 6;

/// Two histories of different verdicts of which the right one is picked less often than this with
/// everything looked at are in effect one; a toss of a coin picks it half the time.
const PICKED: f64 = 0.6;

/// The same for two histories of one verdict, between which no verdict hangs.
const PICKED_OF_ONE_VERDICT: f64 = 0.55;

/// A number is strong in a piece when moving it through its 90 % range moves the probability of the
/// leading verdict by at least this much ...
const STRONG: f64 = 0.4;

/// ... and dominates when it is strong in at least this share of the pieces it takes part in: those
/// of its variant, or with its sign looked at.
const DOMINATES: f64 = 0.6;

/// In fewer pieces than this a number has not been tried.
const TRIED: u64 = 6;

/// Sets of things looked at, for each period, that numbers are tried on.
const SETS: u32 = 3;

/// The fewest pieces simulated of a history, however large the pack.
const FEWEST: u32 = 8;

/// Steps of a circuit that all pieces of one period may take together, so that the largest packs
/// take seconds as well.
const MOST_STEPS: u64 = 1_000_000_000;

/// The same for trying the numbers on pieces of which one set is looked at.
const MOST_STEPS_OF_NUMBERS: u64 = 5_000_000_000;

/// What to simulate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ScanOptions {
    /// Pieces of each history, for each period, with everything looked at; fewer are simulated of a
    /// very large pack.
    pub pieces: u32,
    /// Pieces for each period of which about half is looked at, to try the numbers on.
    pub examined: u32,
    /// The seed: equal seeds give equal bits.
    pub seed: u64,
    /// Threads; the result is the same for any number.
    pub threads: usize,
}

impl Default for ScanOptions {
    fn default() -> Self {
        Self {
            pieces: 60,
            examined: 12,
            seed: 1,
            threads: 1,
        }
    }
}

/// What simulated pieces showed.
#[derive(Debug, Clone, PartialEq)]
pub struct Scan {
    /// What is doubtful.
    pub findings: Vec<Finding>,
    /// Claimed periods that pieces were simulated for.
    pub periods: usize,
    /// Pieces simulated with everything looked at.
    pub pieces: u64,
    /// The two histories that are hardest to tell apart, of those possible for one variant.
    pub hardest: Option<Hardest>,
    /// Pieces that the numbers were tried on.
    pub examined: u64,
    /// The number that moves the leading verdict most.
    pub strongest: Option<Strongest>,
    /// Whether it was stopped before it was done: then what it found is left out.
    pub stopped: bool,
}

/// Two histories with everything looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct Hardest {
    /// Their ids.
    pub histories: (String, String),
    /// How often the right one of the two would be picked at even odds, in the period in which they
    /// are told apart best.
    pub picked: f64,
}

/// A number and what it moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Strongest {
    /// Its id.
    pub number: String,
    /// By how much its 90 % range moves the probability of the leading verdict, on average over the
    /// pieces it takes part in.
    pub swing: f64,
    /// Share of them in which it moves it by 40 in 100 or more.
    pub strong: f64,
}

/// Simulates pieces from a pack and puts them to the engine.
///
/// - Pieces of every history with every sign and measure looked at by an average examiner: how often
///   the engine, at even odds, would pick the right one of any two histories.
/// - Pieces of the pack's own odds with about half of it looked at: how far each number, moved
///   through its 90 % range, moves the probability of the verdict that leads.
///
/// `progress` is told how many parts are done of how many, and stops the scan by returning false.
///
/// # Errors
/// [`Error::Circuit`] when the model would be too large.
///
/// ```
/// use oddment::lint::{ScanOptions, scan};
/// let pack = oddment::packs::load("drop-leaf-table")?;
/// let options = ScanOptions { pieces: 10, examined: 3, ..ScanOptions::default() };
/// let scan = scan(&pack, &options, &|_, _| true)?;
/// assert_eq!(scan.pieces, 5 * 16 * 10); // periods, histories, pieces of each
/// # Ok::<(), oddment::Error>(())
/// ```
pub fn scan(
    pack: &Pack,
    options: &ScanOptions,
    progress: &(dyn Fn(u64, u64) -> bool + Sync),
) -> Result<Scan, Error> {
    let periods = some_of(pack.periods.len(), MOST_PERIODS);
    let jobs: Vec<Job> = periods
        .iter()
        .flat_map(|period| [Job::Apart(*period), Job::Numbers(*period)])
        .collect();
    let results = run(pack, options, &jobs, progress);
    let stopped = results.len() < jobs.len();
    let (mut apart, mut tried) = (Vec::new(), Tried::default());
    for result in results {
        match result? {
            Outcome::Apart(picked) => apart.push(picked),
            Outcome::Numbers(more) => tried.join(more),
        }
    }
    let mut notes = Notes::default();
    let (mut hardest, mut strongest) = (None, None);
    if !stopped {
        hardest = tell_apart(pack, &apart, &mut notes);
        strongest = tell_numbers(pack, &tried, &mut notes);
    }
    Ok(Scan {
        findings: notes.0,
        periods: periods.len(),
        pieces: apart.iter().map(|picked| picked.pieces).sum(),
        hardest,
        examined: tried.pieces,
        strongest,
        stopped,
    })
}

/// A part of the work, with a stream of random numbers of its own, so that the result does not
/// depend on who does it.
#[derive(Debug, Clone, Copy)]
enum Job {
    Apart(usize),
    Numbers(usize),
}

enum Outcome {
    Apart(Picked),
    Numbers(Tried),
}

/// Does all jobs on some threads; gives back the results in order, up to the first that is missing.
fn run(
    pack: &Pack,
    options: &ScanOptions,
    jobs: &[Job],
    progress: &(dyn Fn(u64, u64) -> bool + Sync),
) -> Vec<Result<Outcome, Error>> {
    let all = jobs.len() as u64;
    let (next, done) = (AtomicU64::new(0), AtomicU64::new(0));
    let stopped = AtomicBool::new(!progress(0, all));
    let work = || {
        let mut results = Vec::new();
        while !stopped.load(Ordering::Relaxed) {
            let place = next.fetch_add(1, Ordering::Relaxed);
            let Some(job) = jobs.get(place as usize) else {
                break;
            };
            let mut rng = ChaCha8Rng::seed_from_u64(options.seed);
            rng.set_stream(place);
            let result = match *job {
                Job::Apart(period) => apart(pack, options, period, &mut rng).map(Outcome::Apart),
                Job::Numbers(period) => {
                    numbers(pack, options, period, &mut rng).map(Outcome::Numbers)
                }
            };
            results.push((place, result));
            let done = done.fetch_add(1, Ordering::Relaxed) + 1;
            if done < all && !progress(done, all) {
                stopped.store(true, Ordering::Relaxed);
            }
        }
        results
    };
    let mut results: Vec<(u64, Result<Outcome, Error>)> = if options.threads <= 1 {
        work()
    } else {
        std::thread::scope(|scope| {
            let hands: Vec<_> = (0..options.threads.min(jobs.len()))
                .map(|_| scope.spawn(work))
                .collect();
            // A thread that panicked has nothing to give; its jobs count as not done.
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
        .take_while(|(at, (place, _))| *at as u64 == *place)
        .map(|(_, (_, result))| result)
        .collect()
}

/// How often the right one of two histories would be picked, in one period.
#[derive(Debug, Clone)]
struct Picked {
    pieces: u64,
    /// For pieces of the first history, over all rivals: the sum of the larger of the two
    /// probabilities, and how many pieces it is over.
    sums: Vec<Vec<(f64, u32)>>,
}

impl Picked {
    /// Share of the pieces of two histories of which the right one is picked. The mean of the larger
    /// probability is that share, and varies less from piece to piece than counting who was right.
    fn right(&self, one: usize, other: usize) -> f64 {
        let (a, b) = (self.sums[one][other], self.sums[other][one]);
        let mean = |(sum, count): (f64, u32)| match count {
            // No piece of it could be looked at: nothing speaks against telling them apart.
            0 => 1.0,
            count => sum / f64::from(count),
        };
        0.5 * (mean(a) + mean(b))
    }
}

/// Simulates pieces of every history with everything looked at.
fn apart(
    pack: &Pack,
    options: &ScanOptions,
    period: usize,
    rng: &mut ChaCha8Rng,
) -> Result<Picked, Error> {
    let histories = pack.histories.len();
    let mut template = blank_case(pack, [0, period, 0]);
    // Two histories may be rivals for another variant only, and apart by what that one has.
    look_at(pack, &mut template, None, || true);
    let model = Model::compile_folded(pack, &template)?;
    let steps = model.circuit.steps() as u64 * histories as u64;
    let affordable = MOST_STEPS / (steps * histories as u64).max(1);
    let pieces = options.pieces.min((affordable as u32).max(FEWEST)).max(1);
    let mut picked = Picked {
        pieces: 0,
        sums: vec![vec![(0.0, 0); histories]; histories],
    };
    let even = vec![1.0; histories];
    let mut workspace = model.workspace(2);
    for history in 0..histories {
        let mut only = vec![0.0; histories];
        only[history] = 1.0;
        for _ in 0..pieces {
            let piece = model.draw_piece(&only, &[], rng);
            let case = model.report(pack, &template, &piece, rng);
            // A reading that no history gives any chance says nothing about two of them.
            let Ok(likelihoods) = Likelihoods::rough(pack, &model, &case) else {
                continue;
            };
            if workspace.batch() != likelihoods.quality_chances.len() {
                workspace = model.workspace(likelihoods.quality_chances.len());
            }
            likelihoods.apply(pack, &model, &case, &mut workspace, |_| true);
            model.circuit.value(&mut workspace);
            let joint = Answer::new(pack, &model, &likelihoods, &workspace, &even).histories();
            picked.pieces += 1;
            for (other, sum) in picked.sums[history].iter_mut().enumerate() {
                let (own, rival) = (joint[history], joint[other]);
                if own + rival > 0.0 {
                    sum.0 += own.max(rival) / (own + rival);
                    sum.1 += 1;
                }
            }
        }
    }
    Ok(picked)
}

/// Whether two histories are ever both possible of one piece, that is for one variant.
fn compete(pack: &Pack, one: usize, other: usize) -> bool {
    pack.priors
        .iter()
        .any(|prior| pack.number(prior.counts[one]) > 0.0 && pack.number(prior.counts[other]) > 0.0)
}

/// Notes pairs of histories that no findings tell apart in any period.
fn tell_apart(pack: &Pack, apart: &[Picked], notes: &mut Notes) -> Option<Hardest> {
    let mut hardest: Option<Hardest> = None;
    for (one, history) in pack.histories.iter().enumerate() {
        for (other, rival) in pack.histories.iter().enumerate().skip(one + 1) {
            if !compete(pack, one, other) {
                continue;
            }
            let best = apart
                .iter()
                .map(|picked| picked.right(one, other))
                .fold(0.5, f64::max);
            if hardest.as_ref().is_none_or(|known| best < known.picked) {
                hardest = Some(Hardest {
                    histories: (history.id.clone(), rival.id.clone()),
                    picked: best,
                });
            }
            let bound = if history.verdict == rival.verdict {
                PICKED_OF_ONE_VERDICT
            } else {
                PICKED
            };
            // Where nothing written differs that has been said.
            if best < bound && told_apart(pack, one, other) {
                let message = format!(
                    "no findings tell it from `{}`: with every sign looked at and every measure \
                     taken the right one of the two would be picked {:.0} times in 100, a toss of a \
                     coin being 50; merge them, or add what tells them apart",
                    rival.id,
                    100.0 * best
                );
                notes.note(
                    "lint/indistinct",
                    format!("history/{}", history.id),
                    message,
                );
            }
        }
    }
    hardest
}

/// What one number moved.
#[derive(Debug, Clone, Copy, Default)]
struct Moved {
    /// Pieces it took part in.
    pieces: u64,
    /// The sum of its swings.
    swings: f64,
    /// In how many of them it was strong.
    strong: u64,
}

impl Moved {
    fn swing(self) -> f64 {
        self.swings / self.pieces.max(1) as f64
    }

    fn share(self) -> f64 {
        self.strong as f64 / self.pieces.max(1) as f64
    }
}

/// What the numbers moved.
#[derive(Debug, Clone, Default)]
struct Tried {
    pieces: u64,
    /// By number.
    numbers: Vec<Moved>,
}

impl Tried {
    fn add(&mut self, swings: &[(NumberId, f64)]) {
        self.pieces += 1;
        for (id, swing) in swings {
            let place = id.index();
            if self.numbers.len() <= place {
                self.numbers.resize(place + 1, Moved::default());
            }
            let moved = &mut self.numbers[place];
            moved.pieces += 1;
            moved.swings += swing;
            moved.strong += u64::from(*swing >= STRONG);
        }
    }

    fn join(&mut self, other: Self) {
        self.pieces += other.pieces;
        if self.numbers.len() < other.numbers.len() {
            self.numbers.resize(other.numbers.len(), Moved::default());
        }
        for (moved, more) in self.numbers.iter_mut().zip(other.numbers) {
            moved.pieces += more.pieces;
            moved.swings += more.swings;
            moved.strong += more.strong;
        }
    }
}

/// Simulates pieces of the pack's own odds, looks at about half of each and tries the numbers.
fn numbers(
    pack: &Pack,
    options: &ScanOptions,
    period: usize,
    rng: &mut ChaCha8Rng,
) -> Result<Tried, Error> {
    let mut tried = Tried::default();
    for set in 0..SETS.min(options.examined) {
        // Variants and regions take turns.
        let turn = |length: usize| (period * SETS as usize + set as usize) % length.max(1);
        let claim = [turn(pack.variants.len()), period, turn(pack.regions.len())];
        let mut template = blank_case(pack, claim);
        look_at(pack, &mut template, Some(claim[0]), || rng.random::<bool>());
        let priors = history_priors(pack, &template);
        if priors.iter().any(|prior| !prior.is_finite()) {
            continue;
        }
        let model = Model::compile_reported(pack, &template)?;
        let pieces = options.examined / SETS + u32::from(set < options.examined % SETS);
        // Every number may need two more evaluations; of a pack too large for that none is tried.
        let steps = model.circuit.steps() as u64 * pack.histories.len() as u64;
        let affordable = MOST_STEPS_OF_NUMBERS / (steps * pack.numbers.len() as u64).max(1);
        let pieces = u64::from(pieces).min(affordable);
        for _ in 0..pieces {
            let piece = model.draw_piece(&priors, &[], rng);
            let case = model.report(pack, &template, &piece, rng);
            // A piece that the pack calls impossible has no verdict to be moved.
            if let Ok(swings) = swings(pack, &case, &model) {
                tried.add(&swings);
            }
        }
    }
    Ok(tried)
}

/// What a number is one of: the counts of a variant, what a sign shows, what a measure expects.
fn family(id: &str) -> &str {
    id.rsplit_once('/').map_or(id, |(family, _)| family)
}

/// Notes numbers that decide by themselves, of every family the strongest.
fn tell_numbers(pack: &Pack, tried: &Tried, notes: &mut Notes) -> Option<Strongest> {
    let numbers = pack.numbers.iter().zip(&tried.numbers);
    let mut strongest: BTreeMap<&str, (&ElicitedNumber, Moved)> = BTreeMap::new();
    for (number, moved) in numbers.filter(|(_, moved)| moved.pieces >= TRIED) {
        let known = strongest
            .entry(family(&number.id))
            .or_insert((number, *moved));
        if moved.swing() > known.1.swing() {
            *known = (number, *moved);
        }
    }
    for (number, moved) in strongest.values() {
        if moved.share() < DOMINATES {
            continue;
        }
        let message = format!(
            "moved through its own 90 % range it moves the leading verdict by {:.0} in 100 or more in \
             {:.0} of 100 simulated pieces that it takes part in, half of each looked at, so that it \
             decides more than what is found; it is held with strength {}: raise that if more pieces \
             stand behind it, or make what rests on it less sharp",
            100.0 * STRONG,
            100.0 * moved.share(),
            crate::text::figure(number.strength)
        );
        notes.note("lint/dominant", format!("number/{}", number.id), message);
    }
    let most = strongest
        .into_values()
        .max_by(|one, other| one.1.swing().total_cmp(&other.1.swing()))?;
    Some(Strongest {
        number: most.0.id.clone(),
        swing: most.1.swing(),
        strong: most.1.share(),
    })
}
