//! Taking hold: which fastener is under a press and by which part, and what a new one is like.

use std::sync::Arc;

use kurbo::{Line, Point, Rect, Vec2};

use super::camera::{Camera, PX_PER_MM};
use super::gesture::{Grip, Ground, Held, foot_on, nearest_face};
use super::{REACH_PX, hit, plane};
use crate::drawing::{Item, Subject};
use crate::joint::{Fastener, Finish, Look as From, Placement, Seat};
use crate::sketch::arrange::Chosen;
use crate::sketch::fresh::Ids;
use crate::stock::{FastenerKind, FastenerSpec};
use crate::trace::{Body, HoleTrace, Owner};
use crate::unit::Vec3;
use crate::window::look::Look;

/// The fastener under a press and the part of it that is held. The chosen one is asked first.
#[must_use]
pub(super) fn under(
    at: Point,
    (camera, view): (&Camera, From),
    items: &[Item],
    look: &Look<'_>,
) -> Option<Held> {
    let chosen = look.chosen_fastener();
    let order = chosen.into_iter().chain((0..look.joint.fasteners.len()).filter(|it| Some(*it) != chosen));
    for n in order {
        let Some(shank) = look.trace.fasteners.get(n) else { continue };
        let head = camera.on_screen(plane::flat(view, shank.head_at));
        let point = camera.on_screen(plane::flat(view, shank.head_at + shank.toward * shank.length_mm));
        let (to_head, to_point) = ((at - head).hypot(), (at - point).hypot());
        if to_head.min(to_point) <= REACH_PX {
            let grip = if to_head <= to_point { Grip::Head } else { Grip::Point };
            return held(n, grip, view, look);
        }
    }
    match hit::at(items, camera.on_paper(at), REACH_PX / PX_PER_MM)? {
        Subject::Fastener(id) => {
            let n = look.joint.fasteners.iter().position(|it| it.id == *id)?;
            held(n, Grip::Shank, view, look)
        }
        Subject::Member(_) | Subject::Connector(_) | Subject::Hole(..) | Subject::Dimension(_) => None,
    }
}

/// The fastener at a place of the joint's list, held by a part.
#[must_use]
pub(super) fn held(n: usize, grip: Grip, view: From, look: &Look<'_>) -> Option<Held> {
    let fastener = Arc::new(look.joint.fasteners.get(n)?.clone());
    let shank = look.trace.fasteners.get(n)?;
    let (head, toward, square) = match &fastener.place {
        Placement::Free { head, toward } => (*head, toward.unit()?, None),
        Placement::Fills { connector, hole, .. } => {
            let square = hole_named(look, connector, hole)?.square;
            (shank.head_at, shank.toward, Some(square))
        }
    };
    let as_seen = |it| view.turned(it);
    let (head, toward) = (as_seen(head), as_seen(toward));
    Some(Held { at: n, fastener, view, head, toward, grip, square: square.map(as_seen) })
}

fn hole_named<'a>(look: &Look<'a>, connector: &str, hole: &str) -> Option<&'a HoleTrace> {
    look.trace.holes.iter().find(|it| {
        let owner = &look.joint.connectors[it.connector];
        owner.id == connector && owner.plates[it.plate].holes[it.hole].id == hole
    })
}

/// A new fastener whose head is set at a place: in the hole that is there, on the face that is
/// near, or where the snap says.
#[must_use]
pub(super) fn new_fastener(
    spec: &Arc<FastenerSpec>,
    (at, view): (Point, From),
    ground: &Ground,
    look: &Look<'_>,
) -> Held {
    let fresh = |place| Fastener {
        id: free_id(spec, look),
        spec: spec.clone(),
        place,
        seat: Seat::Flush,
        finish: Finish::default(),
        lead_hole: None,
        head_washer: None,
        nut_washer: None,
        existing: false,
    };
    let (n, grip) = (look.joint.fasteners.len(), Grip::Point);
    if let Some(hole) = empty_hole_at((at, view), ground.catch_mm * 1.5, look) {
        let owner = &look.joint.connectors[hole.connector];
        let place = Placement::Fills {
            connector: owner.id.clone(),
            hole: owner.plates[hole.plate].holes[hole.hole].id.clone(),
            angle_deg: None,
        };
        let (head, toward) = (view.turned(hole.at), view.turned(hole.square));
        let fastener = Arc::new(fresh(place));
        return Held { at: n, fastener, view, head, toward, grip, square: Some(toward) };
    }
    let stepped =
        |it: f64| if 0.0 < ground.step_mm { (it / ground.step_mm).round() * ground.step_mm } else { it };
    let on_grid = Point::new(stepped(at.x), stepped(at.y));
    let face = nearest_face(&ground.faces, at, ground.catch_mm);
    let place = face.map_or(on_grid, |it| foot_on(it, on_grid));
    let toward = face.map_or(Vec3::X, inward);
    let depth = depth_at((place + toward.plan().to_vec2() * 0.5, view), look);
    let head = Vec3::new(place.x, place.y, depth);
    let placed = Placement::Free { head: view.turned_back(head), toward: view.turned_back(toward) };
    Held { at: n, fastener: Arc::new(fresh(placed)), view, head, toward, grip, square: None }
}

/// The direction of the face that a place lies on, of unit length; `None` where it lies on none.
#[must_use]
pub(crate) fn face_at(place: Point, look: &Look<'_>) -> Option<Vec2> {
    let all = plane::faces(From::Front, &look.kept.trace);
    nearest_face(&all, place, 0.05).map(|it| (it.p1 - it.p0).normalize())
}

/// Square to a face, into the body: a region lies to the left of its edges.
fn inward(face: &Line) -> Vec3 {
    let along = (face.p1 - face.p0).normalize();
    Vec3::new(-along.y, along.x, 0.0)
}

fn empty_hole_at<'a>((at, view): (Point, From), reach_mm: f64, look: &Look<'a>) -> Option<&'a HoleTrace> {
    let away = |it: &HoleTrace| (plane::flat(view, it.at) - at).hypot();
    let near = |it: &&HoleTrace| it.filled_by.is_empty() && away(it) <= reach_mm;
    look.trace.holes.iter().filter(near).min_by(|a, b| away(a).total_cmp(&away(b)))
}

/// How near the viewer a new fastener lies: the middle of the body at its head; else that of a chosen
/// fastener, else that of the first body.
#[must_use]
pub(crate) fn depth_at((place, view): (Point, From), look: &Look<'_>) -> f64 {
    let bodies = &look.kept.trace.bodies;
    let middle = |it: &Body| {
        let (far, near) = plane::reach(view, it);
        (far + near) / 2.0
    };
    let is_here = |it: &&Body| match view {
        From::Front => it.region.contains(place),
        From::Side | From::Top => plane::bounds(view, it).contains(place),
    };
    let here = bodies.iter().rev().find(is_here).map(middle);
    let chosen = look.chosen_fastener().and_then(|n| look.trace.fasteners.get(n));
    let chosen = chosen.map(|it| view.turned(it.head_at).z);
    here.or(chosen).unwrap_or_else(|| bodies.first().map_or(0.0, middle))
}

/// The lower left corner of the box round a group, heads of free fasteners counted as places.
#[must_use]
pub(super) fn lower_left(group: &Chosen, view: From, look: &Look<'_>) -> Option<Point> {
    let (bodies, heads) = places(group, view, look);
    bodies.map(|it| it.origin()).chain(heads).reduce(|a, b| Point::new(a.x.min(b.x), a.y.min(b.y)))
}

/// The middle of the box round a group, heads of free fasteners counted as places.
#[must_use]
pub(crate) fn middle_of(group: &Chosen, look: &Look<'_>) -> Option<Point> {
    let (bodies, heads) = places(group, From::Front, look);
    let heads = heads.map(|it| Rect::from_points(it, it));
    bodies.chain(heads).reduce(|a, b| a.union(b)).map(|it| it.center())
}

/// The boxes of the bodies of a group, and the heads of its fasteners.
fn places<'a>(
    group: &'a Chosen,
    view: From,
    look: &Look<'a>,
) -> (impl Iterator<Item = Rect> + use<'a>, impl Iterator<Item = Point> + use<'a>) {
    let of_group = move |it: &Owner| match it {
        Owner::Member(n) => group.members.contains(n),
        Owner::Plate { connector, .. } => group.connectors.contains(connector),
    };
    let trace = look.trace;
    let bodies =
        trace.bodies.iter().filter(move |it| of_group(&it.owner)).map(move |it| plane::bounds(view, it));
    let heads = group
        .fasteners
        .iter()
        .filter_map(|it| trace.fasteners.get(*it))
        .map(move |it| plane::flat(view, it.head_at));
    (bodies, heads)
}

/// A name that nothing in the joint has, by the kind of the fastener: `n1` of nails, `s1` of screws, `b1` of bolts.
#[must_use]
fn free_id(spec: &FastenerSpec, look: &Look<'_>) -> String {
    let letter = match spec.kind {
        FastenerKind::Nail => "n",
        FastenerKind::WoodScrew | FastenerKind::LagScrew | FastenerKind::MasonryScrew => "s",
        FastenerKind::Bolt | FastenerKind::ThreadedRod => "b",
    };
    Ids::of(&look.kept.joint).numbered(letter)
}
