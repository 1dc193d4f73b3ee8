//! Discrete probabilistic networks compiled to arithmetic circuits.
