//! Makes up inputs for the check of this name.

#![no_main]

#[path = "../checks/mod.rs"]
#[allow(dead_code, reason = "every target uses one of the checks")]
mod checks;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| checks::path_data(bytes));
