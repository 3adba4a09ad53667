//! A joint and its trace turned so that a view from the side or the top becomes one from the front.

use std::sync::Arc;

use super::pieces::{Piece, pieces, silhouette};
use super::{Projection, Turned};
use crate::drawing::Inputs;
use crate::drawing::shanks::HEAD_ON_BELOW;
use crate::joint::{Fastener, Grain, Joint, Look, Outline};
use crate::trace::{Body, BodyIx, Face, HoleTrace, Owner, Run, Shank, TOUCH_MM, Trace};
use crate::unit::Vec3;

/// A grain that leans out of a view by less than this much of its length lies in it.
const IN_PLANE: f64 = 0.7;

/// Turns all that is left by the cut.
pub(super) fn turn<'a>(inputs: &Inputs<'a>, projection: &Projection) -> Turned<'a> {
    let (trace, look) = (inputs.trace, projection.look);
    let reach = projection.reach_mm.filter(|_| look != Look::Front);
    let mut joint: Joint = inputs.joint.clone();
    let mut all: Vec<Piece> = Vec::new();
    let mut bodies: Vec<Body> = Vec::new();
    let mut new_places: Vec<Option<BodyIx>> = Vec::new();
    let mut broken = vec![(false, false); joint.members.len()];
    for body in &trace.bodies {
        let found = pieces(bodies.len(), body, projection);
        if found.is_empty() {
            new_places.push(None);
            forget_outline(&mut joint, body.owner);
            continue;
        }
        new_places.push(Some(BodyIx(bodies.len())));
        bodies.push(Body {
            owner: body.owner,
            stuff: body.stuff,
            region: silhouette(&found),
            far_mm: found.iter().map(|it| it.near).fold(f64::INFINITY, f64::min),
            near_mm: found.iter().map(|it| it.near).fold(f64::NEG_INFINITY, f64::max),
            grain: grain(look, body.grain),
        });
        if let Owner::Member(n) = body.owner {
            if look != Look::Front {
                forget_outline(&mut joint, body.owner);
            }
            if let (Some(it), Some((low, high))) = (broken.get_mut(n), reach) {
                *it = (high < body.near_mm, body.far_mm < low);
            }
        }
        all.extend(found);
    }
    let shanks: Vec<Shank> = trace.fasteners.iter().map(|it| shank(it, projection, &new_places)).collect();
    let shanks: Vec<Shank> = shanks
        .into_iter()
        .zip(&mut joint.fasteners)
        .map(|(shank, fastener)| left_of(shank, fastener, projection.cut_mm))
        .collect();
    let in_sight = shanks
        .iter()
        .zip(&joint.fasteners)
        .map(|(shank, fastener)| is_in_sight(shank, fastener, projection.cut_mm))
        .collect();
    let holes = trace.holes.iter().filter_map(|it| hole(inputs.joint, it, projection, &all)).collect();
    let trace = Trace { bodies, fasteners: shanks, holes, ..Trace::default() };
    Turned { projection: *projection, original: *inputs, joint, trace, pieces: all, in_sight, broken }
}

/// A member's own outline has no meaning in another view; what is drawn is in the trace.
fn forget_outline(joint: &mut Joint, owner: Owner) {
    if let Owner::Member(n) = owner
        && let Some(member) = joint.members.get_mut(n)
    {
        member.outline = Outline::Polygon(Vec::new());
    }
}

fn grain(look: Look, grain: Grain) -> Grain {
    let Some(way) = grain.direction() else { return Grain::None };
    let way = look.turned(way);
    if way.x.hypot(way.y) < IN_PLANE {
        Grain::AlongDepth
    } else {
        Grain::InPlane(way.y.atan2(way.x).to_degrees())
    }
}

fn shank(of: &Shank, projection: &Projection, new_places: &[Option<BodyIx>]) -> Shank {
    let look = projection.look;
    let place = |it: BodyIx| new_places.get(it.0).copied().flatten();
    let face = |it: Face| Face { normal: look.turned(it.normal), ..it };
    let run = |it: &Run| Run {
        body: it.body.and_then(place),
        entered: it.entered.map(face),
        left: it.left.map(face),
        ..*it
    };
    let is_reached = projection.reach_mm.is_none_or(|(low, high)| {
        let end = of.head_at + of.toward * of.length_mm;
        low <= of.head_at.z.max(end.z) && of.head_at.z.min(end.z) <= high
    });
    Shank {
        head_at: if is_reached { look.turned(of.head_at) } else { NOWHERE },
        toward: look.turned(of.toward),
        length_mm: of.length_mm,
        core: of.core.iter().map(run).collect(),
        holding: of.holding.and_then(|it| Some(crate::trace::Holding { body: place(it.body)?, ..it })),
        planes: Vec::new(),
        head: of.head,
        nut: of.nut,
    }
}

/// Where something is that is not drawn.
const NOWHERE: Vec3 = Vec3::new(f64::NAN, f64::NAN, f64::NAN);

/// Nearest and farthest depth of a shank with its thickness.
fn depths(shank: &Shank, fastener: &Fastener) -> (f64, f64) {
    let (a, b) = (shank.head_at.z, (shank.head_at + shank.toward * shank.length_mm).z);
    let half = fastener.spec.diameter_mm / 2.0 * shank.toward.x.hypot(shank.toward.y);
    (a.max(b) + half, a.min(b) - half)
}

/// The shank, nowhere if all of it lies nearer than the cut. The cut takes the head or the nut of one that
/// looks at the viewer; one that lies across is never cut along, as is usual on drawings.
fn left_of(mut shank: Shank, fastener: &mut Fastener, cut: Option<f64>) -> Shank {
    let Some(cut) = cut else { return shank };
    let (near, far) = depths(&shank, fastener);
    if cut <= far + TOUCH_MM {
        shank.head_at = NOWHERE;
    } else if cut < near && shank.toward.x.hypot(shank.toward.y) < HEAD_ON_BELOW {
        let looks_away = shank.toward.z < 0.0;
        let mut spec = (*fastener.spec).clone();
        if looks_away {
            fastener.head_washer = None;
            spec.head_mm = 0.0;
            spec.head_height_mm = 0.0;
        } else {
            fastener.nut_washer = None;
        }
        spec.nut = None;
        fastener.spec = Arc::new(spec);
    }
    shank
}

/// Whether the plane runs through the shank, or along it within its thickness.
fn is_in_sight(shank: &Shank, fastener: &Fastener, cut: Option<f64>) -> bool {
    let (near, far) = depths(shank, fastener);
    cut.is_some_and(|it| far < it && it <= near)
}

/// A hole that is seen head on, or that the plane cuts; others would be dashes in a steel line.
fn hole(joint: &Joint, of: &HoleTrace, projection: &Projection, all: &[Piece]) -> Option<HoleTrace> {
    let look = projection.look;
    let (at, square) = (look.turned(of.at), look.turned(of.square));
    let plate = joint.connectors.get(of.connector)?.plates.get(of.plate)?;
    let hole = plate.holes.get(of.hole)?;
    let is_left = projection.reach_mm.is_none_or(|(low, high)| (low..=high).contains(&of.at.z));
    let is_head_on = square.x.hypot(square.y) < HEAD_ON_BELOW;
    let nearest = at.z.max((at + square * plate.thickness_mm).z);
    let is_shown = if is_head_on {
        let is_cut_off = projection.cut_mm.is_some_and(|it| it < nearest - plate.thickness_mm);
        !is_cut_off && !all.iter().any(|it| super::pieces::hides(it, at.plan(), nearest))
    } else {
        projection.cut_mm.is_some_and(|it| (at.z - it).abs() < hole.diameter_mm / 2.0)
    };
    (is_left && is_shown).then(|| HoleTrace { at, square, ..of.clone() })
}
