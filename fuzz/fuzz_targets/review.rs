//! The target `review`: any bytes, as the library of this package tries them.

#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| headlap_fuzz::review::run(bytes));
