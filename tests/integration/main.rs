//! Integration tests of the workspace.
mod circuit_laws;
mod circuit_limits;
mod pack_generated;
mod engine_oracle;
mod engine_trade;
mod engine_laws;
