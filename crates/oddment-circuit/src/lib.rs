//! Exact inference in discrete probabilistic networks, by compiling them to arithmetic circuits.
//!
//! ```
//! use oddment_circuit::{Circuit, CompileOptions, Evidence, Network};
//! // Tversky & Kahneman's taxicab problem: 15 % of the cabs are blue; the witness names the right
//! // colour in 80 % of cases and says blue. The published answer is 0.12 / 0.29, about 41 %.
//! let network = Network::from_json(r#"{"name": "taxicab", "variables": [
//!     {"name": "cab", "states": ["blue", "green"], "table": [0.15, 0.85]},
//!     {"name": "witness", "states": ["blue", "green"], "parents": ["cab"],
//!      "table": [0.8, 0.2, 0.2, 0.8]}]}"#)?;
//! let circuit = Circuit::compile(&network, &CompileOptions::default())?;
//! let evidence = Evidence::from_json(&network, r#"{"hard": {"witness": "blue"}}"#)?;
//! let mut workspace = circuit.workspace(1);
//! circuit.set_evidence(&mut workspace, 0, &evidence)?;
//! circuit.derivative(&mut workspace);
//! let cab = circuit.posterior(&workspace, 0, network.find("cab")?)?;
//! assert!((cab[0] - 0.12 / 0.29).abs() < 1e-15);
//! # Ok::<(), oddment_circuit::Error>(())
//! ```
//!
//! The joint distribution of a network with its evidence is one polynomial, multilinear in the
//! likelihoods and in the numbers of the network. [`Circuit::compile`] writes that polynomial once
//! as a flat tape of sums and products; [`Circuit::value`] evaluates it upward and
//! [`Circuit::derivative`] differentiates it downward, which gives every posterior and every
//! sensitivity in one pass.
//!
//! A network may name one *lane variable*: a root that everything else is conditional on. Each slot
//! of the tape then holds one value per state of it, side by side, and its prior weighs them at the
//! end.
//!
//! What it does not do: approximate inference, learning, continuous variables (a measurement enters
//! as a likelihood over its parents' states, see [`Distribution::Likelihood`]).
//!
//! Modules: [`Network`] and its distributions, [`Evidence`], [`Circuit`] and [`Workspace`]; JSON
//! and UAI forms are methods of the first two.

mod circuit;
mod compile;
mod error;
mod evaluate;
mod evidence;
mod factor;
mod json;
mod network;
mod nodes;
mod options;
mod order;
mod scaled;
mod uai;
mod workspace;

pub use circuit::{Circuit, Cone, Parameter, ParameterId, Role};
pub use error::Error;
pub use evidence::Evidence;
pub use network::{
    Cause, Copying, Distribution, Hide, MAX_STATES, MAX_VARIABLES, Network, NetworkBuilder,
    NoisyMax, ROW_SUM_TOLERANCE, Variable, VariableId,
};
pub use options::{CompileOptions, DEFAULT_LIMIT};
pub use workspace::Workspace;
