//! Bodies of the fuzz targets: each takes any bytes and panics only when the engine is at fault.
//!
//! They are plain functions, so that what was once found is replayed on stable Rust by
//! `tests/replay.rs`, without a fuzzer.

mod assessment;
mod bytes;
mod case;
mod compile;
mod edit;
mod network;
mod oracle;
mod pack;

pub use case::case;
pub use compile::compile;
pub use network::network;
pub use pack::pack;

/// A target: any bytes in, a panic only when the engine is at fault.
pub type Target = fn(&[u8]);

/// The targets by name.
pub const TARGETS: [(&str, Target); 4] = [
    ("pack", pack),
    ("case", case),
    ("network", network),
    ("compile", compile),
];

/// What an input of a target spells, to look at.
pub fn describe(target: &str, bytes: &[u8]) -> String {
    match target {
        "pack" => pack::spelt(bytes)
            .into_iter()
            .map(|(pack, library)| format!("# pack\n{pack}\n# library\n{library}\n"))
            .collect(),
        "case" => case::spelt(bytes).unwrap_or_default().into_owned(),
        "compile" => compile::describe(bytes),
        _ => String::from_utf8_lossy(bytes).into_owned(),
    }
}
