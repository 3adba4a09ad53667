//! One edge: its ends, a place on it, its direction and its box.

use std::f64::consts::{PI, TAU};

use kurbo::{Arc, ParamCurve, ParamCurveDeriv, ParamCurveExtrema, Point, Rect, Vec2};

use super::Edge;

impl Edge {
    /// Where the edge begins.
    #[must_use]
    pub fn start(&self) -> Point {
        match self {
            Self::Line(line) => line.p0,
            Self::Arc(arc) => on_arc(arc, arc.start_angle),
            Self::Curve(curve) => curve.p0,
        }
    }

    /// Where the edge ends.
    #[must_use]
    pub fn end(&self) -> Point {
        match self {
            Self::Line(line) => line.p1,
            Self::Arc(arc) if is_full(arc) => on_arc(arc, arc.start_angle),
            Self::Arc(arc) => on_arc(arc, arc.start_angle + arc.sweep_angle),
            Self::Curve(curve) => curve.p3,
        }
    }

    /// The place at `share` of the edge's own parameter, 0 at its start and 1 at its end.
    #[must_use]
    pub fn at(&self, share: f64) -> Point {
        match self {
            Self::Line(line) => line.eval(share),
            Self::Arc(arc) => on_arc(arc, arc.sweep_angle.mul_add(share, arc.start_angle)),
            Self::Curve(curve) => curve.eval(share),
        }
    }

    /// The way the edge runs at `share`: the derivative by the parameter, not of unit length.
    #[must_use]
    pub fn toward(&self, share: f64) -> Vec2 {
        match self {
            Self::Line(line) => line.p1 - line.p0,
            Self::Arc(arc) => {
                let (sin, cos) = arc.sweep_angle.mul_add(share, arc.start_angle).sin_cos();
                turned(Vec2::new(-arc.radii.x * sin, arc.radii.y * cos), arc.x_rotation) * arc.sweep_angle
            }
            Self::Curve(curve) => curve.deriv().eval(share).to_vec2(),
        }
    }

    /// The same edge run the other way, so that the region lies on its other side.
    #[must_use]
    pub fn reversed(&self) -> Self {
        match self {
            Self::Line(line) => Self::Line(line.reversed()),
            Self::Arc(arc) => Self::Arc(arc.reversed()),
            Self::Curve(c) => Self::Curve(kurbo::CubicBez::new(c.p3, c.p2, c.p1, c.p0)),
        }
    }

    /// The least upright box that holds the edge.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        match self {
            Self::Line(line) => Rect::from_points(line.p0, line.p1),
            Self::Arc(arc) => arc_bounds(arc),
            Self::Curve(curve) => curve.bounding_box(),
        }
    }
}

/// Whether an arc goes all the way round.
pub(super) fn is_full(arc: &Arc) -> bool {
    TAU - 1e-12 <= arc.sweep_angle.abs()
}

/// The place on an arc's ellipse at an angle of its own frame.
pub(super) fn on_arc(arc: &Arc, angle: f64) -> Point {
    let (sin, cos) = angle.sin_cos();
    arc.center + turned(Vec2::new(arc.radii.x * cos, arc.radii.y * sin), arc.x_rotation)
}

/// A vector turned anticlockwise, left untouched by a turn of nothing.
pub(super) fn turned(it: Vec2, angle: f64) -> Vec2 {
    if angle.abs() <= 0.0 {
        return it;
    }
    let (sin, cos) = angle.sin_cos();
    Vec2::new(it.x * cos - it.y * sin, it.x * sin + it.y * cos)
}

/// The place in the frame where the arc's ellipse is the unit circle.
pub(super) fn in_unit_frame(arc: &Arc, place: Point) -> Vec2 {
    let it = turned(place - arc.center, -arc.x_rotation);
    Vec2::new(it.x / arc.radii.x, it.y / arc.radii.y)
}

/// The arc's own angle of a place on (or near) its ellipse.
pub(super) fn angle_of(arc: &Arc, place: Point) -> f64 {
    let it = in_unit_frame(arc, place);
    it.y.atan2(it.x)
}

/// How far along an arc, as a share of its sweep, an angle of its frame lies; may lie outside 0..1.
pub(super) fn share_of_angle(arc: &Arc, angle: f64) -> f64 {
    let way = (angle - arc.start_angle) * arc.sweep_angle.signum();
    let sweep = arc.sweep_angle.abs();
    // Seen from the middle of the arc, so that a place just before its start is not taken
    // for one almost a full turn later.
    let from_middle = (way - 0.5 * sweep + PI).rem_euclid(TAU) - PI;
    0.5 + from_middle / sweep
}

/// The angle of the frame at which the ellipse is highest, and the one at which it reaches farthest right.
pub(super) fn extreme_angles(arc: &Arc) -> (f64, f64) {
    let (sin, cos) = arc.x_rotation.sin_cos();
    let top = (arc.radii.y * cos).atan2(arc.radii.x * sin);
    let right = (-arc.radii.y * sin).atan2(arc.radii.x * cos);
    (top, right)
}

fn arc_bounds(arc: &Arc) -> Rect {
    let edge = Edge::Arc(*arc);
    let mut bounds = Rect::from_points(edge.start(), edge.end());
    let (top, right) = extreme_angles(arc);
    for angle in [top, top + PI, right, right + PI] {
        let share = share_of_angle(arc, angle);
        if is_full(arc) || (0.0..=1.0).contains(&share) {
            bounds = bounds.union_pt(on_arc(arc, angle));
        }
    }
    bounds
}
