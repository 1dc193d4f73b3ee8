use oddment::study::*;
use oddment::*;
use std::time::Instant;
fn main() {
    let pack = packs::load("drop-leaf-table").unwrap();
    for f in std::fs::read_dir("priors/cases").unwrap() {
        let f = f.unwrap().path();
        let t = std::fs::read_to_string(&f).unwrap();
        let case = Case::load(Text::new("c", &t), &pack).unwrap();
        for threads in [1] {
            let a = Instant::now();
            let s = study(
                &pack,
                &case,
                &StudyOptions {
                    draws: 20_000,
                    pairs: 0,
                    threads,
                    seed: 1,
                },
                &|_, _| true,
            )
            .unwrap();
            let b = Instant::now();
            println!(
                "{:?} threads {} {:?} per draw {:?} numbers {} {:?}",
                f.file_name().unwrap(),
                threads,
                b - a,
                (b - a) / 20000,
                s.report.numbers,
                s.report
                    .verdicts
                    .iter()
                    .map(|v| (v.probability, v.spread.low))
                    .collect::<Vec<_>>()
            );
        }
    }
}
