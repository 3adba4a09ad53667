//! The check result as other programs read it, and every finding on hand-made joints.

use std::path::Path;

/// Compares a stored text with the fresh one; `UPDATE=1` stores the fresh one.
#[track_caller]
fn same_as_stored(path: &str, fresh: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(&path, fresh).expect("the stored text can be written");
    }
    let stored = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(stored == fresh, "{} is not current; run with UPDATE=1 and read what changed", path.display());
}

#[test]
fn the_schema_of_a_check_result_is_current() {
    same_as_stored("resources/schema/check.schema.json", &shankline::findings::report::schema());
}
