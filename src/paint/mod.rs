//! Paints a drawing as SVG. Knows only `unit` and `drawing`: no joint, no trace.

mod svg;

use crate::drawing::Drawing;

/// The drawing as an SVG document with true millimetres: the same bytes for the same drawing.
#[must_use]
pub fn svg(drawing: &Drawing) -> String {
    svg::document(drawing)
}
