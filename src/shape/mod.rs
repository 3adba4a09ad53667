//! Plane regions bounded by straight lines, arcs and curves, in millimetres. Knows no wood.
//!
//! A region is what a drawn outline, with its cut-outs taken away, comes to. Its edges are
//! its true boundary: no edge lies inside the region, and none is drawn twice.
//!
//! Angles inside an arc are radians, as kurbo has them; what a user gives is in degrees.
//! An arc of a circle always has equal radii and no rotation of its own.

mod bernstein;
mod build;
mod crossing;
mod cut;
mod edge;
mod inside;
mod measure;
mod meet;
mod path;
pub mod sweep;

use kurbo::{Arc, BezPath, CubicBez, Line};

pub use build::sin_cos_deg;

/// One piece of a region's boundary. The region lies to its left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Edge {
    /// A straight piece.
    Line(Line),
    /// A piece of a circle or an ellipse, solved as such and never replaced by chords.
    Arc(Arc),
    /// A Bezier curve of the third degree (one of the second degree is raised to it).
    Curve(CubicBez),
}

/// A part of the drawing plane: closed loops of edges, the outer ones anticlockwise.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Region {
    /// Closed loops; in each, an edge ends where the next begins.
    pub loops: Vec<Vec<Edge>>,
}

/// Why path data is no outline.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PathError {
    /// The text is not path data; the byte offset says where.
    #[error("path data cannot be read at character {at}: {why}")]
    Unreadable {
        /// Offset in the path data.
        at: usize,
        /// What was found and what was expected.
        why: String,
    },
    /// An arc that no digits are left for: one radius is a hair beside the other.
    #[error("the arc to {x}, {y} cannot be drawn exactly: its radii are too far apart; write it with C or L")]
    Arc {
        /// Where it should end.
        x: f64,
        /// The same upward.
        y: f64,
    },
    /// A loop does not end where it began.
    #[error("loop {number} of the path is not closed: end it with Z")]
    Open {
        /// Which loop, counted from one.
        number: usize,
    },
}

/// A drawn path with straight lines in place of its curves, true within so many units of its own.
///
/// Whether a place lies within a drawn path is asked of such a one only: at the height of a curve's end the library's
/// answer for the curve itself hangs on rounding, and a build with debug assertions stops there.
#[must_use]
pub fn straightened(path: &BezPath, within: f64) -> BezPath {
    let mut straight = BezPath::new();
    kurbo::flatten(path.iter(), within, |it| straight.push(it));
    straight
}
