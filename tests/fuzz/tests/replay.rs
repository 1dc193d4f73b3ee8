//! Replays, on stable Rust, what the fuzzers once found, then mutations of valid seeds from a fixed
//! seed: no input may panic, and each must be quick.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// No single input may take longer, even unoptimised on a busy machine.
const PATIENCE: Duration = Duration::from_secs(20);

fn here() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// All files of a folder, in the order of their names; none when there is no folder.
fn files(folder: PathBuf) -> Vec<(PathBuf, Vec<u8>)> {
    let Ok(entries) = std::fs::read_dir(&folder) else {
        return Vec::new();
    };
    let mut paths: Vec<PathBuf> = entries
        .map(|entry| entry.expect("a readable folder").path())
        .filter(|path| path.is_file())
        .collect();
    paths.sort();
    paths
        .into_iter()
        .map(|path| {
            let bytes = std::fs::read(&path).expect("a readable file");
            (path, bytes)
        })
        .collect()
}

/// Valid inputs of a target.
fn seeds(target: &str) -> Vec<Vec<u8>> {
    let mut folders = vec![here().join("seeds").join(target)];
    let root = here().join("../..");
    match target {
        "network" => folders.push(root.join("tests/reference/networks")),
        "case" => folders.push(root.join("priors/cases")),
        _ => {}
    }
    folders
        .into_iter()
        .flat_map(files)
        .map(|(_, bytes)| bytes)
        .filter(|bytes| bytes.len() <= 20_000)
        .collect()
}

fn run(target: fn(&[u8]), what: &str, bytes: &[u8]) {
    let start = Instant::now();
    if let Err(panic) = std::panic::catch_unwind(|| target(bytes)) {
        let kept = std::env::temp_dir().join("oddment-fuzz-found");
        let _ = std::fs::write(&kept, bytes);
        eprintln!("{what}: the input is kept as {}", kept.display());
        std::panic::resume_unwind(panic);
    }
    let took = start.elapsed();
    assert!(took < PATIENCE, "{what} took {took:?}");
}

/// A small xorshift generator.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, bound: usize) -> usize {
        (self.next() >> 16) as usize % bound.max(1)
    }
}

/// Bytes as they come, a seed with some of its bytes changed, or a seed cut, doubled or crossed.
fn mutated(seeds: &[Vec<u8>], dice: &mut Dice) -> Vec<u8> {
    let noise = |dice: &mut Dice, most: usize| -> Vec<u8> {
        (0..dice.below(most)).map(|_| dice.next() as u8).collect()
    };
    if seeds.is_empty() || dice.below(8) == 0 {
        return noise(dice, 400);
    }
    let mut bytes = seeds[dice.below(seeds.len())].clone();
    for _ in 0..=dice.below(4) {
        let at = dice.below(bytes.len() + 1);
        match dice.below(6) {
            0 => bytes.truncate(at),
            1 => {
                let insert = noise(dice, 8);
                bytes.splice(at..at, insert);
            }
            2 => {
                let end = (at + dice.below(40)).min(bytes.len());
                bytes.drain(at..end);
            }
            3 => {
                let end = (at + dice.below(200)).min(bytes.len());
                let copy = bytes[at..end].to_vec();
                let to = dice.below(bytes.len() + 1);
                bytes.splice(to..to, copy);
            }
            4 => {
                let other = &seeds[dice.below(seeds.len())];
                let from = dice.below(other.len() + 1);
                bytes.truncate(at);
                bytes.extend(&other[from..]);
            }
            _ => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte = b"0129-+.e\"[]{},= \n\0z"[dice.below(19)];
                }
            }
        }
    }
    bytes
}

/// Edit scripts: a leading 1 or 2 and noise.
fn script(kinds: u64, dice: &mut Dice) -> Vec<u8> {
    let mut bytes = vec![1 + (dice.next() % kinds) as u8];
    let length = 3 + dice.below(30);
    bytes.extend((0..length).map(|_| (dice.next() >> 24) as u8));
    bytes
}

fn target(name: &str) -> oddment_fuzz::Target {
    let found = oddment_fuzz::TARGETS
        .iter()
        .find(|(known, _)| *known == name);
    found.expect("a target of that name").1
}

fn replay(name: &str, mutations: usize, scripts: usize, kinds: u64) {
    let target = target(name);
    for (path, bytes) in files(here().join("regressions").join(name)) {
        run(target, &path.display().to_string(), &bytes);
    }
    let seeds = seeds(name);
    for seed in &seeds {
        run(target, "a seed", seed);
    }
    let mut dice = Dice(0x0dd0_9a11_5eed_0001);
    for number in 0..mutations {
        run(
            target,
            &format!("mutation {number}"),
            &mutated(&seeds, &mut dice),
        );
    }
    for number in 0..scripts {
        run(
            target,
            &format!("script {number}"),
            &script(kinds, &mut dice),
        );
    }
}

#[test]
fn packs() {
    replay("pack", 1_000, 300, 2);
}

#[test]
fn cases() {
    replay("case", 1_000, 300, 1);
}

#[test]
fn networks() {
    replay("network", 3_000, 0, 1);
}

#[test]
fn compilations() {
    replay("compile", 20_000, 0, 1);
}
