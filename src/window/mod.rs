//! The window: shows a joint, lets it be handled, and hands every change to the chain.

use std::path::PathBuf;

/// Opens the window, on a joint file where one is named, and returns when it is closed.
///
/// # Errors
/// When no window can be opened; the text says why.
pub fn run(_file: Option<PathBuf>) -> Result<(), String> {
    Ok(())
}
