//! Everything that the fuzzers kept, asked once more of what must hold of any input.
//!
//! The corpora lie in `tests/fuzz/corpus`, a folder for each check; DEVELOPERS.md tells how they grow.

use std::panic::catch_unwind;
use std::path::Path;

#[path = "../../fuzz/checks/mod.rs"]
mod checks;

fn all_hold(name: &str, check: fn(&[u8])) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus").join(name);
    let mut paths: Vec<_> = std::fs::read_dir(&folder)
        .expect("the corpus is there")
        .map(|it| it.expect("the entry can be read").path())
        .collect();
    paths.sort();
    assert!(8 <= paths.len(), "{} inputs are no corpus", paths.len());
    for path in paths {
        let bytes = std::fs::read(&path).expect("it can be read");
        assert!(catch_unwind(|| check(&bytes)).is_ok(), "{} does not hold", path.display());
    }
}

#[test]
fn joint_files_are_read_or_refused_with_words() {
    all_hold("joint_file", checks::joint_file);
}

#[test]
fn typed_lengths_are_numbers_or_refused() {
    all_hold("length", checks::length);
}

#[test]
fn path_data_is_an_outline_or_refused() {
    all_hold("path_data", checks::path_data);
}

#[test]
fn every_made_up_joint_is_traced_and_judged() {
    all_hold("trace", checks::trace);
}

#[test]
fn every_made_up_joint_is_drawn_and_nothing_in_it_acts() {
    all_hold("drawing", checks::drawing);
}
