//! Taking hold: which fastener is under a press and by which part, and what a new one is like.

use std::collections::BTreeSet;
use std::sync::Arc;

use kurbo::{Line, Point};

use super::camera::{Camera, PX_PER_MM};
use super::gesture::{Grip, Ground, Held, foot_on, nearest_face};
use super::{REACH_PX, hit};
use crate::drawing::{Item, Subject};
use crate::joint::{Fastener, Finish, Placement, Seat};
use crate::shape::Edge;
use crate::stock::FastenerSpec;
use crate::trace::{BodyIx, HoleTrace};
use crate::unit::Vec3;
use crate::window::look::Look;

/// The fastener under a press and the part of it that is held. The chosen one is asked first.
#[must_use]
pub(super) fn under(at: Point, camera: &Camera, items: &[Item], look: &Look<'_>) -> Option<Held> {
    let chosen = look.chosen_fastener();
    let order = chosen.into_iter().chain((0..look.joint.fasteners.len()).filter(|it| Some(*it) != chosen));
    for n in order {
        let Some(shank) = look.trace.fasteners.get(n) else { continue };
        let head = camera.on_screen(shank.head_at.plan());
        let point = camera.on_screen((shank.head_at + shank.toward * shank.length_mm).plan());
        let (to_head, to_point) = ((at - head).hypot(), (at - point).hypot());
        if to_head.min(to_point) <= REACH_PX {
            let grip = if to_head <= to_point { Grip::Head } else { Grip::Point };
            return held(n, grip, look);
        }
    }
    match hit::at(items, camera.on_paper(at), REACH_PX / PX_PER_MM)? {
        Subject::Fastener(id) => {
            let n = look.joint.fasteners.iter().position(|it| it.id == *id)?;
            held(n, Grip::Shank, look)
        }
        Subject::Member(_) | Subject::Connector(_) | Subject::Hole(..) => None,
    }
}

/// The fastener at a place of the joint's list, held by a part.
#[must_use]
pub(super) fn held(n: usize, grip: Grip, look: &Look<'_>) -> Option<Held> {
    let fastener = Arc::new(look.joint.fasteners.get(n)?.clone());
    let shank = look.trace.fasteners.get(n)?;
    let (head, toward, square) = match &fastener.place {
        Placement::Free { head, toward } => (*head, toward.unit()?, None),
        Placement::Fills { connector, hole, .. } => {
            let square = hole_named(look, connector, hole)?.square;
            (shank.head_at, shank.toward, Some(square))
        }
    };
    Some(Held { at: n, fastener, head, toward, grip, square })
}

fn hole_named<'a>(look: &Look<'a>, connector: &str, hole: &str) -> Option<&'a HoleTrace> {
    look.trace.holes.iter().find(|it| {
        let owner = &look.joint.connectors[it.connector];
        owner.id == connector && owner.plates[it.plate].holes[it.hole].id == hole
    })
}

/// The straight faces of all bodies, as lines in the drawing plane.
#[must_use]
pub(super) fn faces(look: &Look<'_>) -> Vec<Line> {
    let edges = look.trace.bodies.iter().flat_map(|it| it.region.loops.iter().flatten());
    edges
        .filter_map(|it| match it {
            Edge::Line(line) => Some(*line),
            Edge::Arc(_) | Edge::Curve(_) => None,
        })
        .collect()
}

/// A new fastener whose head is set at a place: in the hole that is there, on the face that is
/// near, or where the snap says.
#[must_use]
pub(super) fn new_fastener(spec: &Arc<FastenerSpec>, at: Point, ground: &Ground, look: &Look<'_>) -> Held {
    let fresh = |place| Fastener {
        id: free_id(look),
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
    if let Some(hole) = empty_hole_at(at, ground.catch_mm * 1.5, look) {
        let owner = &look.joint.connectors[hole.connector];
        let place = Placement::Fills {
            connector: owner.id.clone(),
            hole: owner.plates[hole.plate].holes[hole.hole].id.clone(),
            angle_deg: None,
        };
        let (head, toward) = (hole.at, hole.square);
        return Held {
            at: n,
            fastener: Arc::new(fresh(place)),
            head,
            toward,
            grip,
            square: Some(hole.square),
        };
    }
    let stepped =
        |it: f64| if 0.0 < ground.step_mm { (it / ground.step_mm).round() * ground.step_mm } else { it };
    let on_grid = Point::new(stepped(at.x), stepped(at.y));
    let face = nearest_face(&ground.faces, at, ground.catch_mm);
    let place = face.map_or(on_grid, |it| foot_on(it, on_grid));
    let toward = face.map_or(Vec3::X, inward);
    let head = Vec3::new(place.x, place.y, depth_at(place + toward.plan().to_vec2() * 0.5, look));
    let fastener = Arc::new(fresh(Placement::Free { head, toward }));
    Held { at: n, fastener, head, toward, grip, square: None }
}

/// Square to a face, into the body: a region lies to the left of its edges.
fn inward(face: &Line) -> Vec3 {
    let along = (face.p1 - face.p0).normalize();
    Vec3::new(-along.y, along.x, 0.0)
}

fn empty_hole_at<'a>(at: Point, reach_mm: f64, look: &Look<'a>) -> Option<&'a HoleTrace> {
    let near = |it: &&HoleTrace| it.filled_by.is_empty() && (it.at.plan() - at).hypot() <= reach_mm;
    look.trace
        .holes
        .iter()
        .filter(near)
        .min_by(|a, b| (a.at.plan() - at).hypot().total_cmp(&(b.at.plan() - at).hypot()))
}

/// The depth of a new fastener: the middle of the body at its head; else that of a chosen
/// fastener, else that of the first body.
fn depth_at(place: Point, look: &Look<'_>) -> f64 {
    let bodies = &look.trace.bodies;
    let middle = |ix: BodyIx| (bodies[ix.0].far_mm + bodies[ix.0].near_mm) / 2.0;
    let here = bodies.iter().rposition(|it| it.region.contains(place)).map(BodyIx);
    let chosen = look.chosen_fastener().and_then(|n| look.trace.fasteners.get(n)).map(|it| it.head_at.z);
    here.map(middle).or(chosen).unwrap_or_else(|| bodies.first().map_or(0.0, |_| middle(BodyIx(0))))
}

/// A name that nothing in the joint has.
#[must_use]
pub(crate) fn free_id(look: &Look<'_>) -> String {
    let joint = look.joint;
    let taken: BTreeSet<&str> = joint
        .fasteners
        .iter()
        .map(|it| it.id.as_str())
        .chain(joint.members.iter().map(|it| it.id.as_str()))
        .chain(joint.connectors.iter().map(|it| it.id.as_str()))
        .collect();
    (1..).map(|n| format!("f{n}")).find(|it| !taken.contains(it.as_str())).unwrap_or_default()
}
