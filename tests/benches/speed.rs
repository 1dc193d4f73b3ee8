//! Compile, value and derivative, for the drop-leaf pack, two published networks and a large
//! generated piece. Read the ratios within one run, not the times across machines.

use criterion::{Criterion, criterion_group, criterion_main};
use oddment::study::{StudyOptions, study};
use oddment::{Case, Inquiry, LeanOptions, Model, NextOptions, Pack, Text, packs};
use oddment_circuit::{Circuit, CompileOptions, Evidence, Network, Workspace};
use oddment_tests::generated_pack;
use std::hint::black_box;
use std::path::Path;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: &str) -> String {
    let path = root().join(path);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Value and derivative with the evidence set anew each time, as a what-if does.
fn query(
    criterion: &mut Criterion,
    name: &str,
    circuit: &Circuit,
    mut set: impl FnMut(&mut Workspace),
    batch: usize,
) {
    let mut workspace = circuit.workspace(batch);
    let mut group = criterion.benchmark_group(name);
    println!(
        "{name}: {} steps ({} prelude), {} operations, {} parameters, {} lanes",
        circuit.steps(),
        circuit.prelude_steps(),
        circuit.operations(),
        circuit.parameters().len(),
        circuit.lanes() * batch
    );
    group.bench_function("value", |bencher| {
        bencher.iter(|| {
            set(&mut workspace);
            circuit.value(&mut workspace);
            black_box(circuit.lane_value(&workspace, 0, 0))
        });
    });
    group.bench_function("derivative", |bencher| {
        bencher.iter(|| {
            set(&mut workspace);
            circuit.derivative(&mut workspace);
            black_box(circuit.lane_value(&workspace, 0, 0))
        });
    });
    group.finish();
}

fn published(criterion: &mut Criterion) {
    for name in ["alarm", "hailfinder"] {
        let text = read(&format!("reference/networks/{name}.json"));
        let network = Network::from_json(&text).expect("a published network");
        let options = CompileOptions::default();
        let circuit = Circuit::compile(&network, &options).expect("a published network compiles");
        criterion.bench_function(&format!("{name}/compile"), |bencher| {
            bencher.iter(|| Circuit::compile(black_box(&network), &options));
        });
        // A third of the variables observed in their first state, as likelihoods so that the
        // evidence is possible whatever the tables say.
        let mut evidence = Evidence::new();
        for id in network.ids().step_by(3) {
            let mut likelihood = vec![0.1; network.variable(id).states.len()];
            likelihood[0] = 1.0;
            evidence
                .likelihood(&network, id, &likelihood)
                .expect("a likelihood of the right length");
        }
        let set = |workspace: &mut Workspace| {
            circuit
                .set_evidence(workspace, 0, &evidence)
                .expect("evidence of this network");
        };
        query(criterion, name, &circuit, set, 1);
    }
}

fn pieces(criterion: &mut Criterion) {
    let library = generated_pack::library();
    let generated = generated_pack::pack(generated_pack::LARGE, 7);
    let case = generated_pack::case(generated_pack::LARGE, 2, 7);
    let generated = Pack::load(
        Text::new("generated", &generated),
        Text::new("library", &library),
    )
    .expect("a generated pack is valid");
    piece(criterion, "generated", &generated, &case);
    let drop_leaf = packs::load("drop-leaf-table").expect("the embedded pack is valid");
    let case = read("../priors/cases/pieced-out-oval.toml");
    piece(criterion, "drop-leaf", &drop_leaf, &case);
}

fn piece(criterion: &mut Criterion, name: &str, pack: &Pack, case: &str) {
    let case = Case::load(Text::new("case", case), pack).expect("a valid case");
    let model = Model::compile(pack, case.years, &case.numbers).expect("a compilable model");
    criterion.bench_function(&format!("{name}/compile"), |bencher| {
        bencher.iter(|| Model::compile(black_box(pack), case.years, &case.numbers));
    });
    let circuit = model.circuit();
    for (label, batch) in [("", 1), ("-one-visit", 2)] {
        // Likelihoods of some leaves change from query to query; the rest stay.
        let leaves: Vec<_> = model
            .leaves()
            .iter()
            .step_by(4)
            .map(|leaf| leaf.variable)
            .collect();
        let set = |workspace: &mut Workspace| {
            for leaf in &leaves {
                for batch in 0..batch {
                    for lane in 0..circuit.lanes() {
                        circuit.set_likelihood(workspace, *leaf, 0, batch, lane, 0.3);
                    }
                }
            }
        };
        query(criterion, &format!("{name}{label}"), circuit, set, batch);
    }
    criterion.bench_function(&format!("{name}/assess"), |bencher| {
        bencher.iter(|| model.assess(black_box(pack), black_box(&case), true));
    });
}

/// What one user's question costs: the argument, the next check, what the answer leans on; and a
/// study, on one and on two threads.
fn questions(criterion: &mut Criterion) {
    let pack = packs::load("drop-leaf-table").expect("an embedded pack");
    // About twenty reports from one visit, and about forty from two.
    for name in ["innocent-holes", "pieced-out-oval"] {
        let text = read(&format!("../priors/cases/{name}.toml"));
        let case = Case::load(Text::new(name, &text), &pack).expect("an example case");
        let model = Model::compile(&pack, case.years, &case.numbers).expect("a model");
        let reported = Model::compile_reported(&pack, &case).expect("a model");
        let mut group = criterion.benchmark_group(format!("questions/{name}"));
        group.sample_size(10);
        group.bench_function("explain", |bencher| {
            bencher.iter(|| {
                let inquiry = Inquiry::open(&pack, &case, &model).expect("possible findings");
                black_box(inquiry.argument(None))
            });
        });
        group.bench_function("next", |bencher| {
            bencher.iter(|| model.look_next(&pack, &case, &NextOptions::default()));
        });
        group.bench_function("lean", |bencher| {
            bencher.iter(|| {
                let inquiry = Inquiry::open(&pack, &case, &reported).expect("possible findings");
                black_box(inquiry.leaning(&LeanOptions::default()))
            });
        });
        for threads in [1, 2] {
            let options = StudyOptions {
                draws: 10_000,
                pairs: 0,
                threads,
                seed: 1,
            };
            group.bench_function(format!("10,000 draws, {threads} threads"), |bencher| {
                bencher.iter(|| study(&pack, &case, &options, &|_, _| true));
            });
        }
        group.finish();
    }
}

/// Sixteen cases one at a time, and side by side in lanes.
fn lanes(criterion: &mut Criterion) {
    const CASES: usize = 16;
    let text = read("reference/networks/hailfinder.json");
    let network = Network::from_json(&text).expect("a published network");
    let circuit = Circuit::compile(&network, &CompileOptions::default()).expect("it compiles");
    let mut group = criterion.benchmark_group("lanes");
    let mut alone = circuit.workspace(1);
    group.bench_function("16 cases one at a time", |bencher| {
        bencher.iter(|| {
            for _ in 0..CASES {
                circuit.value(&mut alone);
                black_box(circuit.lane_value(&alone, 0, 0));
            }
        });
    });
    let mut abreast = circuit.workspace(CASES);
    group.bench_function("16 cases side by side", |bencher| {
        bencher.iter(|| {
            circuit.value(&mut abreast);
            black_box(circuit.lane_value(&abreast, CASES - 1, 0))
        });
    });
    group.finish();
}

criterion_group!(benches, published, pieces, questions, lanes);
criterion_main!(benches);
