//! Distances on a face, from the axis to the borders of the face, both ways along and across the grain.

use kurbo::{Point, Rect, Vec2};

use super::clip::{Cut, ON_MM, OnLine, Scratch, bernstein, bernstein_turns, spans, spans_as_if};
use super::flat::{Bend, FAR, Flat, FlatEdge, NEAR};
use super::{FaceDistances, Reach};
use crate::unit::Vec3;

/// Distances on the face of `body` that the axis crosses at `cut`, in the place `at`.
pub(super) fn on_face(flat: &Flat, body: usize, cut: &Cut, at: Vec3, scratch: &mut Scratch) -> FaceDistances {
    if cut.edge == FAR || cut.edge == NEAR {
        on_cap(flat, body, at, scratch)
    } else {
        on_side(flat, body, cut, at, scratch)
    }
}

fn both(way: Vec3, ahead: f64, behind: f64) -> [Reach; 2] {
    [Reach { toward: way, mm: ahead.max(0.0) }, Reach { toward: -way, mm: behind.max(0.0) }]
}

fn on_side(flat: &Flat, body: usize, cut: &Cut, at: Vec3, scratch: &mut Scratch) -> FaceDistances {
    let prism = &flat.prisms[body];
    let edge = &flat.edges_of(body)[cut.edge as usize];
    let way = edge.toward(&flat.bends, cut.share);
    let (ahead, behind) = along_side(flat, body, edge, (at.plan(), way), scratch);
    let depth = both(Vec3::Z, prism.near - at.z, at.z - prism.far);
    let tangent = Vec3::new(way.x, way.y, 0.0);
    let normal = Vec3::new(way.y, -way.x, 0.0);
    let grain = prism.grain;
    let (along, across) = match grain {
        Some(it) if it == Vec3::Z => (depth, both(tangent, ahead, behind)),
        Some(it) if it.dot(tangent) < 0.0 => (both(-tangent, behind, ahead), depth),
        _ => (both(tangent, ahead, behind), depth),
    };
    let end_grain = grain.is_some_and(|it| it.dot(tangent).abs().max(it.z.abs()) < it.dot(normal).abs());
    FaceDistances { at, along, across, end_grain }
}

/// How far the body reaches from a place on a side face, along that face, on and back.
fn along_side(
    flat: &Flat,
    body: usize,
    edge: &FlatEdge,
    (at, way): (Point, Vec2),
    scratch: &mut Scratch,
) -> (f64, f64) {
    if edge.bend != u32::MAX {
        return (silhouette(flat, body, at, way), silhouette(flat, body, at, -way));
    }
    if edge.is_convex {
        return (way.dot(edge.p1 - at), way.dot(at - edge.p0));
    }
    // The region lies to the left of its edge: moved a hair that way the line runs inside, and on
    // into the wood where the face ends at an inner corner.
    spans_as_if(flat, body, (at, way), OnLine::Right, scratch);
    from_here(scratch)
}

/// The two ends of the span that the line's origin lies in.
fn from_here(scratch: &Scratch) -> (f64, f64) {
    let here = scratch.spans.iter().filter(|it| it.from.at <= ON_MM && -ON_MM <= it.to.at);
    let widest = here.max_by(|a, b| (a.to.at - a.from.at).total_cmp(&(b.to.at - b.from.at)));
    widest.map_or((0.0, 0.0), |it| (it.to.at, -it.from.at))
}

/// How far the outline reaches beyond a place, seen square to `way`.
fn silhouette(flat: &Flat, body: usize, at: Point, way: Vec2) -> f64 {
    let mut most = 0.0_f64;
    let mut take = |place: Point| most = most.max(way.dot(place - at));
    for edge in flat.edges_of(body) {
        take(edge.p0);
        match flat.bends.get(edge.bend as usize) {
            None => {}
            Some(Bend::Arc(arc)) => {
                let angle = arc.farthest(way);
                if arc.has(angle) {
                    take(arc.at(angle));
                }
            }
            Some(Bend::Curve(curve)) => {
                let corners = [curve.p0, curve.p1, curve.p2, curve.p3];
                let along = corners.map(|it| way.dot(it - at));
                for share in bernstein_turns(along).into_iter().filter(|it| 0.0 < *it && *it < 1.0) {
                    take(at + way * bernstein(along, share));
                }
            }
        }
    }
    most
}

/// From the middle of a round body to a place: the way to its nearest border.
fn outward(round: Rect, at: Point) -> Vec2 {
    let off = at - round.center();
    let length = off.hypot();
    if ON_MM < length { off * (1.0 / length) } else { Vec2::new(1.0, 0.0) }
}

fn on_cap(flat: &Flat, body: usize, at: Vec3, scratch: &mut Scratch) -> FaceDistances {
    let prism = &flat.prisms[body];
    let end_grain = prism.grain == Some(Vec3::Z);
    let own = prism.grain.filter(|_| !end_grain).map(|it| Vec2::new(it.x, it.y)).or(prism.axis);
    let way = own.unwrap_or_else(|| outward(prism.bounds, at.plan()));
    let mut reach = |way: Vec2| {
        spans(flat, body, (at.plan(), way), scratch);
        let (ahead, behind) = from_here(scratch);
        both(Vec3::new(way.x, way.y, 0.0), ahead, behind)
    };
    let along = reach(way);
    let across = reach(Vec2::new(-way.y, way.x));
    FaceDistances { at, along, across, end_grain }
}
