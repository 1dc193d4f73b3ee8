//! Runs `oddment_fuzz::case` under libFuzzer.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| oddment_fuzz::case(bytes));
