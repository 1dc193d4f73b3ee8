//! Placeholder of the crate skeleton.

fn main() {}
