#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| headlap_fuzz::rule_file::run(bytes));
