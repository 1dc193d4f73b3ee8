use oddment::*;
use std::time::Instant;
fn main() {
    let pack = packs::load("drop-leaf-table").unwrap();
    for f in std::fs::read_dir("priors/cases").unwrap() {
        let f = f.unwrap().path();
        let t = std::fs::read_to_string(&f).unwrap();
        let case = Case::load(Text::new("c", &t), &pack).unwrap();
        let small = Model::compile_reported(&pack, &case).unwrap();
        let a = Instant::now();
        let l = Inquiry::open(&pack, &case, &small)
            .unwrap()
            .leaning(&LeanOptions::default())
            .unwrap();
        let b = Instant::now();
        println!(
            "{:?} lean {:?} numbers {} unmoved {} verdict {:?} {:.3} {:?}",
            f.file_name().unwrap(),
            b - a,
            l.numbers.len(),
            l.unmoved,
            l.verdict,
            l.probability,
            l.bounds.iter().map(|b| (b.low, b.high)).collect::<Vec<_>>()
        );
        for n in l.numbers.iter().take(6) {
            println!(
                "    {:.4} {:.4}..{:.4} {:.3}->{:.3} {} {:?}",
                n.value, n.low, n.high, n.at_low, n.at_high, n.words, n.flips
            );
        }
        println!("  turns {:?}", l.sweep.turns);
    }
}
