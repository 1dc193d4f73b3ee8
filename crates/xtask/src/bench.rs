//! `cargo xtask bench`: timings, on request beside two reference libraries on the same networks.

use crate::tools::{self, capture, command, example_cases, metadata, root, run, stem};
use crate::{Result, reference};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// Published networks timed on both sides.
const PUBLISHED: [&str; 2] = ["alarm", "hailfinder"];

/// The case that the benchmark asks about.
const CASE: &str = "pieced-out-oval";

/// How often the libraries answer.
const REPEAT: &str = "20";

/// Runs the benchmarks and, with `peers`, prints how much longer the libraries take.
pub fn run_all(peers: bool) -> Result {
    let metadata = metadata()?;
    let python = if peers {
        Some(reference::environment()?)
    } else {
        None
    };
    match tools::bench(&metadata, &[]) {
        Some(mut command) => run(&mut command)?,
        None => return Err("no crate has benchmarks".into()),
    }
    match python {
        Some(python) => compare(&python, &metadata.target),
        None => Ok(()),
    }
}

/// One line of the comparison.
struct Line {
    name: String,
    ours: f64,
    peers: [(&'static str, f64); 2],
}

fn compare(python: &Path, target: &Path) -> Result {
    let folder = target.join("peers");
    std::fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let mut lines = Vec::new();
    for name in PUBLISHED {
        let network = root().join(format!("tests/reference/networks/{name}.json"));
        let evidence = folder.join(format!("{name}.evidence.json"));
        write_evidence(&network, &evidence)?;
        let ours = estimate(target, name)?;
        lines.push(ask(python, name, ours, &network, &evidence)?);
    }
    let cases = example_cases()?;
    let case = cases
        .iter()
        .find(|case| stem(case) == CASE)
        .or(cases.first())
        .ok_or("no example case")?;
    let exported = folder.join(CASE);
    reference::export(case, &exported)?;
    // With the quality of one visit, as in the exported network, where that is timed.
    let ours =
        estimate(target, "drop-leaf-one-visit").or_else(|_| estimate(target, "drop-leaf"))?;
    let file = |ending: &str| folder.join(format!("{CASE}.{ending}.json"));
    lines.push(ask(
        python,
        "drop-leaf",
        ours,
        &file("network"),
        &file("evidence"),
    )?);
    print_table(&lines);
    Ok(())
}

/// The evidence that our benchmark sets: every third variable leans ten to one to its first state.
fn write_evidence(network: &Path, to: &Path) -> Result {
    let network = read_json(network)?;
    let variables = network["variables"]
        .as_array()
        .ok_or("a network without variables")?;
    let soft: serde_json::Map<String, Value> = variables
        .iter()
        .step_by(3)
        .filter_map(|variable| {
            let states = variable["states"].as_array()?.len();
            let mut likelihood = vec![0.1; states];
            *likelihood.first_mut()? = 1.0;
            Some((variable["name"].as_str()?.to_owned(), json!(likelihood)))
        })
        .collect();
    let text = json!({"hard": {}, "soft": soft}).to_string();
    std::fs::write(to, text).map_err(|error| format!("{}: {error}", to.display()))
}

fn read_json(path: &Path) -> Result<Value> {
    let fault = |error: String| format!("{}: {error}", path.display());
    let text = std::fs::read_to_string(path).map_err(|error| fault(error.to_string()))?;
    serde_json::from_str(&text).map_err(|error| fault(error.to_string()))
}

/// Milliseconds of our derivative pass, the median of criterion's run.
fn estimate(target: &Path, group: &str) -> Result<f64> {
    let path: PathBuf = ["criterion", group, "derivative", "new", "estimates.json"]
        .iter()
        .collect();
    let estimates = read_json(&target.join(&path))?;
    estimates["median"]["point_estimate"]
        .as_f64()
        .map(|nanoseconds| nanoseconds / 1e6)
        .ok_or_else(|| format!("{}: no median", path.display()))
}

fn ask(python: &Path, name: &str, ours: f64, network: &Path, evidence: &Path) -> Result<Line> {
    println!("timing the reference libraries on {name}");
    let mut question = command(python, ["tests/reference/generate.py", "bench"]);
    question
        .args([network, evidence])
        .args(["--repeat", REPEAT]);
    let answer: Value = serde_json::from_str(&capture(&mut question)?)
        .map_err(|error| format!("generate.py bench: {error}"))?;
    let time = |peer: &'static str| {
        let time = answer[peer]["all_marginals_ms"].as_f64();
        time.map(|time| (peer, time))
            .ok_or_else(|| format!("generate.py bench: no time of {peer}"))
    };
    Ok(Line {
        name: name.to_owned(),
        ours,
        peers: [time("pyagrum")?, time("pgmpy")?],
    })
}

fn print_table(lines: &[Line]) {
    println!(
        "\nP(evidence) and every posterior, evidence changed each time; milliseconds, medians"
    );
    println!("(ours: setting evidence and one derivative pass; theirs: answers as arrays)\n");
    println!(
        "{:<12}{:>12}{:>14}{:>10}{:>14}{:>10}",
        "network", "oddment", "pyagrum", "ratio", "pgmpy", "ratio"
    );
    for line in lines {
        print!("{:<12}{:>12.4}", line.name, line.ours);
        for (_, time) in line.peers {
            print!("{time:>14.3}{:>9.0}x", time / line.ours);
        }
        println!();
    }
}
