use oddment::*;
use std::time::Instant;
fn main() {
    let pack = packs::load("drop-leaf-table").unwrap();
    let only = std::env::args().nth(1);
    for f in std::fs::read_dir("priors/cases").unwrap() {
        let f = f.unwrap().path();
        let t = std::fs::read_to_string(&f).unwrap();
        if only
            .as_ref()
            .is_some_and(|o| !f.display().to_string().contains(o.as_str()))
        {
            continue;
        }
        let case = Case::load(Text::new("c", &t), &pack).unwrap();
        let a = Instant::now();
        let model = Model::compile(&pack, case.years, &case.numbers).unwrap();
        let b = Instant::now();
        let n = model
            .look_next(&pack, &case, &NextOptions::default())
            .unwrap();
        let c = Instant::now();
        let arg = Inquiry::open(&pack, &case, &model)
            .unwrap()
            .argument(None)
            .unwrap();
        let d = Instant::now();
        let l = lean(&pack, &case, &LeanOptions::default()).unwrap();
        let e = Instant::now();
        println!(
            "{:?} compile {:?} next {:?} explain {:?} lean {:?} findings {} {}",
            f.file_name().unwrap(),
            b - a,
            c - b,
            d - c,
            e - d,
            arg.findings.len(),
            l.numbers.len()
        );
        println!(
            "   lead {:?} {:.3} open {:.3} nothing {}",
            n.leading, n.probability, n.open_bits, n.nothing_left
        );
        for k in n.checks.iter().take(30) {
            println!(
                "   {} {} items bits {:.4} alone-sum {:.4} changes {:.3} right {:.4} {:?} {} {}",
                k.id,
                k.answers.len(),
                k.bits,
                k.answers.iter().map(|a| a.bits).sum::<f64>(),
                k.changes_verdict,
                k.right_more_often,
                k.method,
                k.telling[0].id,
                k.telling[0].found
            );
        }
        if only.is_some() {
            let a = Instant::now();
            let n = model
                .look_next(
                    &pack,
                    &case,
                    &NextOptions {
                        minutes: Some(20.0),
                        access: Some(oddment::pack::Access::TurnOver),
                        without_leave: false,
                    },
                )
                .unwrap();
            println!("plan {:?} {:#?}", a.elapsed(), n.plan);
        }
    }
}
