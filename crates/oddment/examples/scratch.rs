use oddment::study::*;
use oddment::*;
use std::time::Instant;
fn main() {
    let pack = packs::load("drop-leaf-table").unwrap();
    for f in std::fs::read_dir("priors/cases").unwrap() {
        let f = f.unwrap().path();
        let t = std::fs::read_to_string(&f).unwrap();
        let case = Case::load(Text::new("c", &t), &pack).unwrap();
        for threads in [1, 2] {
            let a = Instant::now();
            let s = study(
                &pack,
                &case,
                &StudyOptions {
                    draws: 20_000,
                    pairs: 2000,
                    threads,
                    seed: 1,
                },
                &|_, _| true,
            )
            .unwrap();
            let b = Instant::now();
            println!(
                "{:?} {:?} numbers {} {:?}",
                f.file_name().unwrap(),
                b - a,
                s.report.numbers,
                s.report
                    .verdicts
                    .iter()
                    .map(|v| (v.probability, v.spread.low, v.spread.high, v.leads))
                    .collect::<Vec<_>>()
            );
            if threads == 2 {
                for g in s.report.groups {
                    println!(
                        "   {:?} {} {:.3} {:.3}..{:.3} total {:.3} {:.3}..{:.3}",
                        g.group,
                        g.numbers,
                        g.first,
                        g.first_low,
                        g.first_high,
                        g.total,
                        g.total_low,
                        g.total_high
                    );
                }
            }
        }
    }
}
