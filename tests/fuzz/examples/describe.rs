//! Prints what an input spells: `cargo run --no-default-features --example describe TARGET FILE`.

fn main() -> std::io::Result<()> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let [target, path] = arguments.as_slice() {
        println!("{}", oddment_fuzz::describe(target, &std::fs::read(path)?));
    }
    Ok(())
}
