//! Toe-nails by rule: so far from the end of the piece, so steep to its face.

use std::sync::Arc;

use kurbo::{Point, Vec2};

use super::{added, letter, new};
use crate::joint::{Edit, Finish, Joint, Placement, Seat, Service, StandardId};
use crate::shape::Edge;
use crate::sketch::drive::Outfit;
use crate::sketch::fresh::Ids;
use crate::sketch::question::WishError;
use crate::standard::{Angled, Driven, Sense, Topic, by_id};
use crate::stock::FastenerSpec;
use crate::trace::{Body, FaceKind, Stuff, Trace, What};
use crate::unit::Vec3;
use crate::unit::length::MM_PER_INCH;

/// Start and slope of a toe-nail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// From the end of the piece along its face.
    pub start_mm: f64,
    /// Degrees between the nail and the face.
    pub angle_deg: f64,
}

impl Rule {
    /// What the standard asks for, in the middle of what it allows: NDS 2018 12.1.6.3 a third of the length
    /// and 30 degrees; EN 1995-1-1 8.3.2(10) a third of the length, and not less than 10 d. Where it is silent
    /// common practice has the slope, and a third the start.
    #[must_use]
    pub fn of(spec: &FastenerSpec, by: StandardId) -> Self {
        let rules = by_id(by);
        let driven =
            Driven { spec, finish: Finish::Bright, seat: Seat::Flush, service: Service::Dry, hole_mm: None };
        let angled = Angled { angle_to_face_deg: 30.0, start_mm: spec.length_mm / 3.0 };
        let mut checks = rules.angled(&driven, &angled);
        if checks.is_empty() {
            checks = rules.practice().angled(&driven, &angled);
        }
        // In the middle of two limits; with one of them as is common, or that one where it is not kept.
        let within = |topic: Topic, common: f64| {
            let of = |sense: Sense| {
                let fits = checks.iter().find(|it| it.topic == topic && it.sense == sense);
                fits.map(|it| it.required.value())
            };
            match (of(Sense::AtLeast), of(Sense::AtMost)) {
                (Some(least), Some(most)) => f64::midpoint(least, most),
                (least, most) => common.max(least.unwrap_or(0.0)).min(most.unwrap_or(f64::INFINITY)),
            }
        };
        Self {
            start_mm: within(Topic::NailStart, spec.length_mm / 3.0),
            angle_deg: within(Topic::NailAngle, 30.0),
        }
    }
}

/// A toe-nail in the corner that is nearest to `near`: from the side of one piece into the piece that its end
/// stands on.
///
/// The corner is where a straight side of a bearing member ends on the face of another, within 1/4" of it.
///
/// # Errors
/// No such corner within a hand's breadth, or a rule that does not stay on the face.
pub fn toe_nail(
    (joint, trace): (&Joint, &Trace),
    spec: &Arc<FastenerSpec>,
    (near, depth_mm): (Point, f64),
    rule: Rule,
) -> Result<Edit, WishError> {
    let refuse = |says: &str| Err(WishError::DoesNotFit(says.to_owned()));
    if !(0.0 < rule.angle_deg && rule.angle_deg < 90.0 && 0.0 < rule.start_mm) {
        return refuse("a toe-nail starts away from the end and leans by more than 0° and less than 90°");
    }
    let Some(corner) = corner(trace, near, depth_mm) else {
        return refuse("no piece stands on another here; point at the corner between them");
    };
    if corner.length_mm <= rule.start_mm {
        return refuse("the face is shorter than the distance from its end to the start");
    }
    let (sin, cos) = crate::shape::sin_cos_deg(rule.angle_deg);
    let head = corner.at - corner.towards_end * rule.start_mm;
    let way = corner.towards_end * cos - corner.out * sin;
    let place =
        Placement::Free { head: Vec3::new(head.x, head.y, depth_mm), toward: Vec3::new(way.x, way.y, 0.0) };
    let id = Ids::of(joint).numbered(letter(spec));
    Ok(added(joint, vec![new(id, spec, place, Outfit::default())]))
}

/// A place where the side of a piece ends on another.
struct Corner {
    at: Point,
    /// Along the side, towards its end.
    towards_end: Vec2,
    /// Out of the piece.
    out: Vec2,
    length_mm: f64,
}

/// How far from the pointer a corner is looked for, and how far the end may stand off.
const REACH_MM: f64 = 4.0 * MM_PER_INCH;
const STANDS_OFF_MM: f64 = MM_PER_INCH / 4.0;

fn corner(trace: &Trace, near: Point, depth_mm: f64) -> Option<Corner> {
    let stands = |it: &&Body| it.stuff == Stuff::Bearing && it.far_mm <= depth_mm && depth_mm <= it.near_mm;
    let bodies: Vec<&Body> = trace.bodies.iter().filter(stands).collect();
    let mut best: Option<(f64, Corner)> = None;
    for body in &bodies {
        for edge in body.region.loops.iter().flatten() {
            let Edge::Line(line) = edge else { continue };
            let Some(way) = unit(line.p1 - line.p0) else { continue };
            // The body lies to the left of its edges.
            let out = Vec2::new(way.y, -way.x);
            for (at, towards_end) in [(line.p1, way), (line.p0, -way)] {
                let distance = (at - near).hypot();
                let beyond = at + towards_end * STANDS_OFF_MM;
                let inside = beyond - out * 1.0;
                let held = bodies.iter().any(|it| it.owner != body.owner && it.region.contains(inside));
                // Of two sides that meet there, the one that looks at the pointer.
                let behind = (near - at).dot(out) < 0.0;
                let rank = distance + if behind { REACH_MM } else { 0.0 };
                if distance <= REACH_MM && held && best.as_ref().is_none_or(|it| rank < it.0) {
                    let length_mm = (line.p1 - line.p0).hypot();
                    best = Some((rank, Corner { at, towards_end, out, length_mm }));
                }
            }
        }
    }
    best.map(|it| it.1)
}

fn unit(way: Vec2) -> Option<Vec2> {
    let length = way.hypot();
    (0.0 < length && length.is_finite()).then(|| way / length)
}

/// The same toe-nail by another rule: its start is moved along the face, and it is turned there.
///
/// # Errors
/// A fastener that fills a hole, that goes into no side face, or a rule that leans by nothing.
pub fn adjust((joint, trace): (&Joint, &Trace), fastener: usize, rule: Rule) -> Result<Edit, WishError> {
    let refuse = |says: &str| Err(WishError::DoesNotFit(says.to_owned()));
    let (Some(old), Some(shank)) = (joint.fasteners.get(fastener), trace.fasteners.get(fastener)) else {
        return refuse("there is no such fastener");
    };
    let Placement::Free { head, .. } = old.place else {
        return refuse("a fastener in a hole is guided by it");
    };
    let run = shank.core.iter().find(|it| it.what == What::Bearing);
    let face = run.and_then(|it| it.entered).filter(|it| matches!(it.which, FaceKind::Side { .. }));
    let distances = shank.head.at_face;
    let (Some(face), Some(distances)) = (face, distances) else {
        return refuse("it goes into no face that it could lean to");
    };
    let reaches = distances.along.iter().chain(&distances.across);
    let Some(to_end) =
        reaches.max_by(|a, b| a.toward.dot(shank.toward).total_cmp(&b.toward.dot(shank.toward)))
    else {
        return refuse("it goes into no face that it could lean to");
    };
    let (sin, cos) = crate::shape::sin_cos_deg(rule.angle_deg);
    if !(0.0 < rule.angle_deg && rule.angle_deg < 90.0) {
        return refuse("a toe-nail leans by more than 0° and less than 90°");
    }
    let mut new = old.clone();
    new.place = Placement::Free {
        head: head + to_end.toward * (to_end.mm - rule.start_mm),
        toward: to_end.toward * cos - face.normal * sin,
    };
    Ok(Edit::Fasteners(crate::joint::edit::Change::Replace { at: fastener, new: Box::new(new) }))
}
