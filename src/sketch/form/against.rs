//! Where a connector that is held near a face snaps to: on the face, turned to it, in the corner or over the
//! joint that is near.

use kurbo::{Line, Point, Vec2};

use super::{Form, Seat};
use crate::joint::Joint;
use crate::shape::Edge;
use crate::trace::{Body, Owner, Stuff, Trace};
use crate::unit::compare::SAME_MM;

/// Faces that turn by more than this against each other (the cosine) make a corner.
const CORNER: f64 = 0.5;

/// A place for a connector.
#[derive(Clone, Debug, PartialEq)]
pub struct Against {
    /// Where it lies and how it is turned.
    pub seat: Seat,
    /// What it met: `face of the rim, in the corner with the joist`.
    pub says: String,
}

/// A straight face of a bearing body.
struct Faced<'a> {
    body: &'a Body,
    line: Line,
    way: Vec2,
    out: Vec2,
}

/// The place against a face near the pointer, within a distance; `None` where no straight face is near.
///
/// A face that the pointer stands before comes before one that it stands behind. In depth the connector lies in
/// the middle of the body, or of the one that it holds in the corner. Along the face it snaps, within the same
/// distance, to the corner with another body, then to the joint or the end of the face, then to its middle. In a
/// corner an angle turns its leg away from the other body; a hanger turns up along the joist that it carries.
#[must_use]
pub fn against(
    (joint, trace): (&Joint, &Trace),
    form: &Form,
    pointer: Point,
    within_mm: f64,
) -> Option<Against> {
    let faces = faces(trace);
    let rank = |it: &Faced<'_>| {
        let behind = (pointer - it.line.p0).dot(it.out) < 0.0;
        (foot(it, pointer) - pointer).hypot() + if behind { within_mm } else { 0.0 }
    };
    let near = faces.iter().filter(|it| (foot(it, pointer) - pointer).hypot() <= within_mm);
    let ranked: Vec<(f64, &Faced<'_>)> = near.map(|it| (rank(it), it)).collect();
    let least = ranked.iter().map(|it| it.0).reduce(f64::min)?;
    // Where several faces meet under the pointer, the one out of which another body stands farthest is meant: the
    // header's, not the underside of the joist that it carries.
    let stands_out = |it: &Faced<'_>| {
        corner(&faces, it, foot(it, pointer), within_mm).map_or(f64::NEG_INFINITY, |it| it.high_mm)
    };
    let equal = ranked.into_iter().filter(|it| it.0 <= least + SAME_MM).map(|it| it.1);
    let face = equal.reduce(|best, it| if stands_out(best) < stands_out(it) { it } else { best })?;
    let at = foot(face, pointer);
    let name = |it: &Body| match it.owner {
        Owner::Member(n) => {
            joint.members.get(n).map_or("member", crate::joint::Member::shown_name).to_owned()
        }
        Owner::Plate { connector, .. } => {
            joint.connectors.get(connector).map_or("plate", crate::joint::Connector::shown_name).to_owned()
        }
    };
    let on = format!("face of the {}", name(face.body));
    let middle = |it: &Body| f64::midpoint(it.far_mm, it.near_mm);
    if let Some(Corner { place, other, .. }) = corner(&faces, face, at, within_mm) {
        // A hanger goes up along what it carries; anything else away from what stands in the corner.
        let is_hanger = form.word == "joist-hanger";
        let wanted = if is_hanger { -other.out } else { other.out };
        let along = if 0.0 < face.way.dot(wanted) { face.way } else { -face.way };
        let depth_mm = middle(if is_hanger { other.body } else { face.body });
        let seat = Seat { at: place, along, out: face.out, depth_mm };
        return Some(Against { seat, says: format!("{on}, in the corner with the {}", name(other.body)) });
    }
    let seat = Seat::new(at, face.out, middle(face.body))?;
    let met = |place: Point| (place - at).hypot() <= within_mm;
    for end in [face.line.p0, face.line.p1] {
        if met(end) {
            let beside = faces.iter().find(|it| goes_on(it, face, end));
            let says = match beside {
                Some(it) => format!("{on}, over the joint with the {}", name(it.body)),
                None => format!("{on}, at its end"),
            };
            return Some(Against { seat: Seat { at: end, ..seat }, says });
        }
    }
    let half = face.line.midpoint();
    let (at, says) = if met(half) { (half, format!("{on}, in its middle")) } else { (at, on) };
    Some(Against { seat: Seat { at, ..seat }, says })
}

fn faces(trace: &Trace) -> Vec<Faced<'_>> {
    let mut found = Vec::new();
    for body in trace.bodies.iter().filter(|it| it.stuff == Stuff::Bearing) {
        for edge in body.region.loops.iter().flatten() {
            let Edge::Line(line) = *edge else { continue };
            let (way, length) = (line.p1 - line.p0, (line.p1 - line.p0).hypot());
            if 0.0 < length {
                let way = way / length;
                // The body lies to the left of its edges.
                found.push(Faced { body, line, way, out: Vec2::new(way.y, -way.x) });
            }
        }
    }
    found
}

/// The place on the face that is nearest.
fn foot(face: &Faced<'_>, at: Point) -> Point {
    let length = (face.line.p1 - face.line.p0).hypot();
    face.line.p0 + face.way * (at - face.line.p0).dot(face.way).clamp(0.0, length)
}

/// Where the face of another body meets a face.
struct Corner<'a, 'b> {
    place: Point,
    other: &'a Faced<'b>,
    /// How far the other one stands out.
    high_mm: f64,
}

/// The nearest place along a face where the face of another body meets it at an angle and stands out of it.
fn corner<'a, 'b>(
    faces: &'a [Faced<'b>],
    face: &Faced<'b>,
    at: Point,
    within_mm: f64,
) -> Option<Corner<'a, 'b>> {
    let mut best: Option<(f64, Corner<'a, 'b>)> = None;
    for other in faces.iter().filter(|it| it.body.owner != face.body.owner) {
        let turn = face.way.cross(other.way);
        if turn.abs() < CORNER {
            continue;
        }
        let place = face.line.p0 + face.way * ((other.line.p0 - face.line.p0).cross(other.way) / turn);
        // It comes up to the face, but for a gap that is no wider than the reach, or over it, and stands out.
        let reaches = [other.line.p0, other.line.p1].map(|it| (it - face.line.p0).dot(face.out));
        let (low, high) = (reaches[0].min(reaches[1]), reaches[0].max(reaches[1]));
        let stands_out = low <= within_mm && within_mm < high;
        let distance = (place - at).hypot();
        let on_face = (foot(face, place) - place).hypot() <= within_mm;
        if stands_out && on_face && distance <= within_mm && best.as_ref().is_none_or(|it| distance < it.0) {
            best = Some((distance, Corner { place, other, high_mm: high }));
        }
    }
    best.map(|it| it.1)
}

/// Whether a face of another body goes straight on from this one at an end of it.
fn goes_on(other: &Faced<'_>, face: &Faced<'_>, end: Point) -> bool {
    other.body.owner != face.body.owner
        && 1.0 - 1e-6 < other.out.dot(face.out)
        && (other.line.p0 - end).dot(face.out).abs() < 1.0
        && ((other.line.p0 - end).hypot() < 6.0 || (other.line.p1 - end).hypot() < 6.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::StandardId;
    use crate::sketch::question::Sizes;
    use crate::sketch::start::Starter;
    use crate::stock::Stock;
    use crate::trace::trace;

    #[track_caller]
    fn case(
        starter: &str,
        form: &str,
        pointer: (f64, f64),
        (at, along, out): ([f64; 2], [f64; 2], [f64; 2]),
        says: &str,
    ) {
        let sizes = Sizes::defaults(StandardId::Nds2018);
        let mut joint = Starter::named(starter).unwrap().start(&sizes, &Stock::built_in()).unwrap();
        joint.connectors.clear();
        joint.fasteners.clear();
        let traced = trace(&joint);
        let form = Form::named(form).unwrap();
        let found = against((&joint, &traced), form, Point::from(pointer), 12.0).unwrap();
        assert_eq!(found.says, says);
        let near = |a: Point, b: [f64; 2]| (a - Point::from((b[0], b[1]))).hypot() < 1e-9;
        assert!(near(found.seat.at, at), "{:?}", found.seat);
        assert!(near(found.seat.along.to_point(), along), "{:?}", found.seat);
        assert!(near(found.seat.out.to_point(), out), "{:?}", found.seat);
    }

    #[test]
    fn a_connector_snaps_to_its_face_and_turns_to_it() {
        // A plain face, its middle, and the joint of two ties.
        case(
            "splice",
            "strap",
            (-600.0, 190.0),
            ([-600.0, 184.15], [1.0, 0.0], [0.0, 1.0]),
            "face of the left tie",
        );
        case(
            "ledger",
            "strap",
            (-3.0, 95.0),
            ([0.0, 92.075], [0.0, 1.0], [-1.0, 0.0]),
            "face of the ledger, in its middle",
        );
        // In the corner below the beam an angle turns down the post; a hanger goes up along its joist, whose end
        // stands 1/8" off the header.
        case(
            "angle",
            "angle",
            (4.0, -5.0),
            ([0.0, 0.0], [0.0, -1.0], [1.0, 0.0]),
            "face of the post, in the corner with the beam",
        );
        case(
            "hanger",
            "joist-hanger",
            (-1.0, 4.0),
            ([0.0, 0.0], [0.0, 1.0], [-1.0, 0.0]),
            "face of the near ply, in the corner with the joist",
        );
        // In the very corner, where the header's side and its underside meet.
        case(
            "hanger",
            "joist-hanger",
            (0.0, 0.0),
            ([0.0, 0.0], [0.0, 1.0], [-1.0, 0.0]),
            "face of the near ply, in the corner with the joist",
        );
    }

    #[test]
    fn nothing_near_is_nothing() {
        let trace = trace(&Joint::default());
        let form = Form::named("strap").unwrap();
        assert_eq!(against((&Joint::default(), &trace), form, Point::ZERO, 50.0), None);
    }
}
