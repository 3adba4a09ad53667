//! Joint files: text to joint and joint to text.

use super::Joint;
use crate::stock::Stock;

/// One thing that is wrong in a joint file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Line in the file, from one.
    pub line: usize,
    /// Column in the line, in characters, from one.
    pub column: usize,
    /// Which part: `members[2].outline`.
    pub part: String,
    /// What is wrong, and what to do.
    pub says: String,
}

/// Reads a joint file.
///
/// # Errors
/// Everything that is wrong with it, in the order of the file.
pub fn read(_text: &str, _stock: &Stock) -> Result<Joint, Vec<Problem>> {
    Ok(Joint::default())
}

/// Writes a joint as a file; [`read`] gives the same joint back.
#[must_use]
pub fn write(_joint: &Joint) -> String {
    String::new()
}

/// The JSON Schema of a joint file.
#[must_use]
pub fn schema() -> String {
    String::new()
}
