//! Runs `oddment_fuzz::compile` under libFuzzer.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| oddment_fuzz::compile(bytes));
