use oddment::*;
use std::time::Instant;
fn main() {
    let pack = packs::load("drop-leaf-table").unwrap();
    for name in ["innocent-holes", "clean-rectangular"] {
        let t = std::fs::read_to_string(format!("priors/cases/{name}.toml")).unwrap();
        let case = Case::load(Text::new("c", &t), &pack).unwrap();
        let model = Model::compile_reported(&pack, &case).unwrap();
        let a = Instant::now();
        for _ in 0..20 {
            let i = Inquiry::open(&pack, &case, &model).unwrap();
            std::hint::black_box(i.leaning(&LeanOptions::default()).unwrap());
        }
        println!("{name} lean {:?}", a.elapsed() / 20);
    }
}
