//! Placeholder.
use crate::stock::Stock;
pub(super) fn list(_stock: &Stock, _kind: Option<&str>, _json: bool) -> Result<String, String> {
    Ok(String::new())
}
