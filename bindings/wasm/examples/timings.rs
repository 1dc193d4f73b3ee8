//! Times the library natively on a case, as `tests/timings.mjs` does the module: prints
//! milliseconds of each question as JSON.

use oddment::study::{StudyOptions, study};
use oddment::{
    Case, LeanOptions, NextOptions, Pack, Text, assess, explain, lean, look_next, packs,
};
use serde_json::json;
use std::error::Error;
use std::hint::black_box;
use std::time::Instant;

/// The least of several runs: what else the machine does only ever adds.
fn least(mut work: impl FnMut() -> Result<(), oddment::Error>) -> Result<f64, oddment::Error> {
    work()?;
    let mut least = f64::INFINITY;
    for _ in 0..7 {
        let start = Instant::now();
        work()?;
        least = least.min(start.elapsed().as_secs_f64() * 1000.0);
    }
    Ok(least)
}

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args().nth(1).ok_or("give a case")?;
    let text = std::fs::read_to_string(path)?;
    let text = Text::new("case", &text);
    let pack: Pack = packs::load(&Case::form(text)?)?;
    // The module reads the case anew for each question, so this does too.
    let case = || Case::load(text, &pack);
    let drawn = StudyOptions {
        pairs: 0,
        ..StudyOptions::default()
    };
    let times = json!({
        "assess": least(|| assess(&pack, &case()?).map(|answer| drop(black_box(answer))))?,
        "explain": least(|| explain(&pack, &case()?, None).map(|answer| drop(black_box(answer))))?,
        "next": least(|| {
            look_next(&pack, &case()?, &NextOptions::default()).map(|answer| drop(black_box(answer)))
        })?,
        "lean": least(|| {
            lean(&pack, &case()?, &LeanOptions::default()).map(|answer| drop(black_box(answer)))
        })?,
        "10,000 draws": least(|| {
            study(&pack, &case()?, &drawn, &|_, _| true).map(|answer| drop(black_box(answer)))
        })?,
    });
    println!("{times}");
    Ok(())
}
