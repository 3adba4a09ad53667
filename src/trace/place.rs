//! Where a fastener is: the seat of its head and the way of its point.

use super::HoleIx;
use super::clip::Axis;
use super::core::Washers;
use super::hole::Holes;
use crate::joint::{Fastener, Placement, Seat};
use crate::shape::sin_cos_deg;
use crate::stock::FastenerKind;
use crate::unit::Vec3;

/// Thickness of a fastener's washers.
pub(super) fn washers(fastener: &Fastener) -> Washers {
    let thickness = |it: &Option<std::sync::Arc<crate::stock::WasherSpec>>| {
        it.as_ref().map_or(0.0, |it| if it.thickness_mm.is_finite() { it.thickness_mm.max(0.0) } else { 0.0 })
    };
    let has_nut = matches!(fastener.spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
    Washers {
        head_mm: thickness(&fastener.head_washer),
        nut_mm: if has_nut { thickness(&fastener.nut_washer) } else { 0.0 },
    }
}

/// The axis of a fastener and the hole that it names; no axis when the hole is missing, or when there
/// is no direction or no length.
pub(super) fn place(fastener: &Fastener, holes: &Holes) -> (Option<Axis>, Option<HoleIx>) {
    let length = fastener.spec.length_mm;
    let driven = match fastener.seat {
        Seat::Flush => 0.0,
        Seat::Proud(by) => -by,
        Seat::Overdriven(by) => by,
    };
    match &fastener.place {
        Placement::Free { head, toward } => {
            let axis = toward.unit().and_then(|it| Axis::new(*head + it * driven, it, length));
            (axis, None)
        }
        Placement::Fills { connector, hole, angle_deg } => {
            let Some(named) = holes.named(connector, hole) else { return (None, None) };
            let hole = &holes.own[named.0];
            let toward = turned(hole.square, angle_deg.or(hole.angle_deg).unwrap_or(0.0));
            // The washer lies between the steel and the head.
            let head = hole.at + toward * (driven - washers(fastener).head_mm);
            (Axis::new(head, toward, length), Some(named))
        }
    }
}

/// A direction turned in the drawing plane, degrees anticlockwise.
fn turned(way: Vec3, degrees: f64) -> Vec3 {
    let (sin, cos) = sin_cos_deg(degrees);
    Vec3::new(way.x * cos - way.y * sin, way.x * sin + way.y * cos, way.z)
}
