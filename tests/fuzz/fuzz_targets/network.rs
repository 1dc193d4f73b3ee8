//! Runs `oddment_fuzz::network` under libFuzzer.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| oddment_fuzz::network(bytes));
