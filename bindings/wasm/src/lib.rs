//! The engine for JavaScript: texts and plain values in, plain values out.
//!
//! Nothing is computed here. What the JavaScript around this module adds is loading, typed errors
//! and beginning anew after a crash.

mod answer;
mod engine;

pub use answer::PlacedProblem;
pub use engine::{Engine, StudyRun};

use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen(raw_module = "./crash.js")]
extern "C" {
    /// Told what a crash was about before the instance is lost.
    #[wasm_bindgen(js_name = noteCrash)]
    fn note_crash(message: &str);
}

/// Runs whenever the module is put to work, anew after a crash as well.
#[wasm_bindgen(start)]
fn start() {
    std::panic::set_hook(Box::new(|crash| note_crash(&crash.to_string())));
}
