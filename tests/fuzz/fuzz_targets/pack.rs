//! Runs `oddment_fuzz::pack` under libFuzzer.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| oddment_fuzz::pack(bytes));
