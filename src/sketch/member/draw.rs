//! Outlines drawn by hand: rectangles, polygons, paths with arcs, rounds.

use kurbo::{Point, Vec2};

use super::sound;
use crate::joint::Outline;
use crate::sketch::question::WishError;

/// One side of a path that is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Side {
    /// Straight to a place.
    Line(Point),
    /// Round, through a place to another.
    Arc {
        /// A place on the way.
        through: Point,
        /// Where it ends.
        to: Point,
    },
}

/// The upright rectangle between two corners, in whatever order they were dragged.
///
/// # Errors
/// Corners above or beside each other.
pub fn rectangle(one: Point, other: Point) -> Result<Outline, WishError> {
    let outline = Outline::Rectangle {
        corner: Point::new(one.x.min(other.x), one.y.min(other.y)),
        size_mm: ((one.x - other.x).abs(), (one.y - other.y).abs()),
        turn_deg: 0.0,
    };
    sound(&outline).map(|_| outline)
}

/// A polygon through corners; the last side closes it.
///
/// # Errors
/// Fewer than three corners, or sides that cross.
pub fn polygon(corners: &[Point]) -> Result<Outline, WishError> {
    let mut kept: Vec<Point> = Vec::with_capacity(corners.len());
    for it in corners {
        if kept.last().is_none_or(|last| 0.01 < (*it - *last).hypot()) {
            kept.push(*it);
        }
    }
    // The first corner may be pressed again to close it.
    while 1 < kept.len() && (kept[kept.len() - 1] - kept[0]).hypot() <= 0.01 {
        kept.truncate(kept.len() - 1);
    }
    if kept.len() < 3 {
        return Err(WishError::DoesNotFit("a polygon needs at least three corners".to_owned()));
    }
    let outline = Outline::Polygon(kept);
    sound(&outline).map(|_| outline)
}

/// A round outline by its centre and a place on it.
///
/// # Errors
/// A place on the centre.
pub fn round(centre: Point, on: Point) -> Result<Outline, WishError> {
    let outline = Outline::Round { centre, diameter_mm: 2.0 * (on - centre).hypot() };
    sound(&outline).map(|_| outline)
}

/// A path from a place on, side by side; a straight side closes it where it does not end where it began.
///
/// # Errors
/// Sides that cross, or that enclose nothing.
pub fn path(begin: Point, sides: &[Side]) -> Result<Outline, WishError> {
    use std::fmt::Write as _;
    let mut data = format!("M {} {}", begin.x, begin.y);
    let mut at = begin;
    for side in sides {
        match *side {
            Side::Line(to) => {
                let _ = write!(data, " L {} {}", to.x, to.y);
                at = to;
            }
            Side::Arc { through, to } => {
                data.push_str(&arc(at, through, to));
                at = to;
            }
        }
    }
    data.push_str(" Z");
    let outline = Outline::Path(data);
    sound(&outline).map(|_| outline)
}

/// The arc of a circle from a place through another to a third; straight where the three lie in line.
fn arc(from: Point, through: Point, to: Point) -> String {
    use std::fmt::Write as _;
    let (a, b) = (through - from, to - from);
    let area = a.cross(b);
    if area.abs() <= 1e-9 * a.hypot() * b.hypot() {
        return format!(" L {} {} L {} {}", through.x, through.y, to.x, to.y);
    }
    // The middle of the circle lies on the middle normals of both chords.
    let (aa, bb) = (a.hypot2(), b.hypot2());
    let middle = Vec2::new(b.y * aa - a.y * bb, a.x * bb - b.x * aa) / (2.0 * area);
    let (centre, radius) = (from + middle, middle.hypot());
    let begin = (from - centre).atan2();
    let turn = ((to - centre).atan2() - begin) * area.signum();
    let sweep = turn.rem_euclid(std::f64::consts::TAU) * area.signum();
    let flag = u8::from(0.0 < area);
    // In quarters, so that none of them is near half a circle, where the middle would be lost in rounding.
    let mut data = String::new();
    for share in [0.25, 0.5, 0.75, 1.0] {
        let end = if share < 1.0 { centre + Vec2::from_angle(begin + share * sweep) * radius } else { to };
        let _ = write!(data, " A {radius} {radius} 0 0 {flag} {} {}", end.x, end.y);
    }
    data
}

/// An outline dragged out as a line with a width: a board in any direction.
///
/// The line is its lower edge, seen along its direction; the turn is that of the line.
///
/// # Errors
/// A line or a width of nothing.
pub fn board(from: Point, to: Point, width_mm: f64) -> Result<Outline, WishError> {
    let along: Vec2 = to - from;
    let outline = Outline::Rectangle {
        corner: from,
        size_mm: (along.hypot(), width_mm),
        turn_deg: along.y.atan2(along.x).to_degrees(),
    };
    if !(0.0 < width_mm && 0.0 < along.hypot()) {
        return Err(WishError::DoesNotFit("a board needs a length and a width".to_owned()));
    }
    sound(&outline).map(|_| outline)
}
