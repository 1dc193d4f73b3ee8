//! Integration tests of the workspace.
mod circuit_formats;
mod circuit_laws;
mod circuit_limits;
mod circuit_naive;
mod circuit_noisy_max;
mod circuit_published;
mod circuit_reference;
mod circuit_round_trips;
mod engine_calibration;
mod engine_laws;
mod engine_oracle;
mod engine_reference;
mod engine_shapley;
mod engine_sobol;
mod engine_trade;
mod pack_bad_input;
mod pack_generated;
