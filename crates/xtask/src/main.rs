//! Project tasks, run as `cargo xtask COMMAND`. Each says what it runs, and what is missing where a
//! tool is.

mod bench;
mod connection;
mod content;
mod fuzz;
mod hygiene;
mod npm;
mod pages;
mod reference;
mod serve;
mod site;
mod steps;
mod test;
mod tools;
mod typescript;
mod unpack;
mod wasm;
mod wasm_test;

use std::process::ExitCode;

const USAGE: &str = "\
cargo xtask COMMAND

  test [--quick]            everything that must hold; --quick leaves out the slow steps
  reference [--write]       compare posteriors with two reference libraries (needs Python 3.11);
                            --write writes the fixtures anew
  pages [--write]           check that docs/forms says what the packs say; --write renews it
  bench [--peers | --wasm]  timings; --peers beside the two reference libraries, --wasm of the
                            package for JavaScript beside the library, each in one run
  wasm [--test | --types]   build and pack the package for JavaScript (needs Node 20 and npm);
                            --test also tests it in Node and Chromium; --types only writes its
                            TypeScript types anew
  demo [--port N] [--no-build | --test]
                            build the page in web-demo and serve it on this machine (needs Node 20
                            and npm), at port 8470 or the next free one unless told; --no-build
                            serves what was built last; --test tests it, also in Chromium
  fuzz [--minutes N] [TARGET ...]
                            run the fuzz targets (needs nightly Rust and a C++ compiler), each for
                            N minutes (5 unless told); targets: pack case network compile
";

/// What a task returns: on failure, what went wrong and what would help.
type Result<T = ()> = std::result::Result<T, String>;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let outcome = match words.split_first() {
        Some((&"test", [])) => test::run_all(false),
        Some((&"test", ["--quick"])) => test::run_all(true),
        Some((&"reference", [])) => reference::run_all(false),
        Some((&"reference", ["--write"])) => reference::run_all(true),
        Some((&"pages", [])) => pages::run_all(false),
        Some((&"pages", ["--write"])) => pages::run_all(true),
        Some((&"bench", [])) => bench::run_all(false),
        Some((&"bench", ["--peers"])) => bench::run_all(true),
        Some((&"wasm", [])) => wasm::build().map(|_| ()),
        Some((&"wasm", ["--test"])) => wasm_test::test().map(|outcome| println!("{outcome:?}")),
        Some((&"wasm", ["--types"])) => wasm::write_types(),
        Some((&"bench", ["--wasm"])) => wasm_test::bench(),
        Some((&"demo", ["--test"])) => site::test().map(|outcome| println!("{outcome:?}")),
        Some((&"demo", rest)) => site::demo(rest),
        Some((&"fuzz", rest)) => fuzz::run_all(rest),
        None | Some((&("help" | "--help" | "-h"), _)) => {
            print!("{USAGE}");
            Ok(())
        }
        Some(_) => Err(format!("unknown: {}\n\n{USAGE}", words.join(" "))),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("\nerror: {message}");
            ExitCode::FAILURE
        }
    }
}
