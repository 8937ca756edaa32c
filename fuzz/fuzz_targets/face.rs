#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| headlap_fuzz::face::run(bytes));
