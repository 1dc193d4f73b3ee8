//! Answers one query about a network: `query NETWORK.json EVIDENCE.json [--limit OPERATIONS]`.
//!
//! Prints `{"log_p_e": ..., "marginals": {"VAR": [..in state order..]}}` for every variable that is
//! not observed for certain.

use oddment_circuit::{Circuit, CompileOptions, DEFAULT_LIMIT, Error, Evidence, Network};
use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match run(&arguments) {
        Ok(answer) => {
            // A reader that closes the pipe early is no error of ours.
            let _ = writeln!(std::io::stdout(), "{answer}");
            ExitCode::SUCCESS
        }
        Err(message) => {
            eprintln!("query: {message}");
            ExitCode::FAILURE
        }
    }
}

fn run(arguments: &[String]) -> Result<String, String> {
    let (paths, limit) = match arguments {
        [network, evidence] => ([network, evidence], DEFAULT_LIMIT),
        [network, evidence, flag, limit] if flag == "--limit" => (
            [network, evidence],
            limit
                .parse()
                .map_err(|_| format!("`{limit}` is not a number of operations"))?,
        ),
        _ => return Err("usage: query NETWORK.json EVIDENCE.json [--limit OPERATIONS]".into()),
    };
    let read =
        |path: &String| std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"));
    let (network, evidence) = (read(paths[0])?, read(paths[1])?);
    answer(&network, &evidence, limit).map_err(|error| error.to_string())
}

fn answer(network: &str, evidence: &str, limit: u64) -> Result<String, Error> {
    let network = Network::from_json(network)?;
    let evidence = Evidence::from_json(&network, evidence)?;
    let options = CompileOptions {
        keep_parameters: false,
        limit,
        evidence: Some(&evidence),
        ..CompileOptions::default()
    };
    let circuit = Circuit::compile(&network, &options)?;
    let mut workspace = circuit.workspace(1);
    circuit.set_evidence(&mut workspace, 0, &evidence)?;
    circuit.derivative(&mut workspace);
    let log_p_e = circuit.ln_evidence(&workspace, 0);
    if log_p_e == f64::NEG_INFINITY {
        // The contradiction is found by withdrawing evidence, so none may be compiled in.
        let options = CompileOptions {
            evidence: None,
            ..options
        };
        let ids = Circuit::compile(&network, &options)?.contradiction(&evidence)?;
        let names = ids
            .into_iter()
            .flatten()
            .map(|id| network.variable(id).name.clone());
        return Err(Error::Impossible {
            contradiction: names.collect(),
        });
    }
    let mut marginals = serde_json::Map::new();
    for id in network.ids() {
        let certain = evidence
            .get(id)
            .is_some_and(|likelihood| likelihood.iter().filter(|entry| **entry > 0.0).count() == 1);
        if !certain && !network.variable(id).states.is_empty() {
            let posterior = circuit.posterior(&workspace, 0, id)?;
            marginals.insert(network.variable(id).name.clone(), posterior.into());
        }
    }
    Ok(serde_json::json!({ "log_p_e": log_p_e, "marginals": marginals }).to_string())
}
