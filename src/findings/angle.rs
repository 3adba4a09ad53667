//! Angled nails and screws: slope and start.
//!
//! A shank counts as a toe-nail when it comes into the first piece by one face at a slope and leaves
//! it by a face that meets that one, as from the side of a stud out of its end. One that is driven at a
//! slope through both wide faces is no toe-nail, and no standard asks a slope of it.

use crate::findings::scene::Fact;
use crate::findings::tell::{severity, worst};
use crate::findings::{Finding, Kind, words};
use crate::standard::{Angled, Check, Quantity, Sense, Topic};
use crate::stock::FastenerKind;
use crate::trace::{BodyIx, Face, FaceDistances};
use crate::unit::Vec3;

/// Two faces whose normals are nearer to square than this cosine meet at a corner.
const FACES_MEET: f64 = 0.5;

/// Off square by less than this, in degrees, a shank is not at a slope. Common practice.
const SLOPE_FROM_DEG: f64 = 10.0;
/// Off a face by less than this, in degrees, a shank lies along it. One that leans a little more starts in it all the
/// same, at a slope that is too small.
const ALONG_DEG: f64 = 1.0;

pub(super) fn angle(fact: &Fact<'_>) -> Vec<Finding> {
    let Some((body, checks)) = asks(fact) else { return Vec::new() };
    [Topic::NailAngle, Topic::NailStart]
        .into_iter()
        .filter_map(|topic| worst(checks.iter().filter(|it| it.topic == topic).cloned()))
        .map(|check| finding(fact, body, &check))
        .collect()
}

/// The body that an angled nail or screw starts in, and what is asked there of its slope and start; `None` for
/// one that is not angled.
pub(super) fn asks(fact: &Fact<'_>) -> Option<(BodyIx, Vec<Check>)> {
    if !matches!(fact.kind(), FastenerKind::Nail | FastenerKind::WoodScrew) {
        return None;
    }
    let (body, angled) = toe_nail(fact)?;
    let checks = fact.scene.ask(
        |it| it.angled(&fact.driven, &angled),
        || fact.scene.rules.practice().angled(&fact.driven, &angled),
    );
    Some((body, checks))
}

pub(super) fn toe_nail(fact: &Fact<'_>) -> Option<(BodyIx, Angled)> {
    let (body, run) = fact.bearing_runs().next()?;
    let (entered, left) = (run.entered?, run.left?);
    let slope = fact.shank.head.angle_to_face_deg.unwrap_or_else(|| to_face(fact.shank.toward, &entered));
    let sloped = ALONG_DEG < slope && slope < 90.0 - SLOPE_FROM_DEG;
    let corner = entered.normal.dot(left.normal).abs() < FACES_MEET;
    if !sloped || !corner {
        return None;
    }
    let start_mm = reach_towards(&fact.shank.head.at_face?, fact.shank.toward)?;
    Some((body, Angled { angle_to_face_deg: slope, start_mm }))
}

/// Degrees between the axis and a face.
fn to_face(axis: Vec3, face: &Face) -> f64 {
    axis.dot(face.normal).abs().min(1.0).asin().to_degrees()
}

/// From the start along the face the way that the shank leans, to where the piece ends.
fn reach_towards(face: &FaceDistances, axis: Vec3) -> Option<f64> {
    let reaches = face.along.iter().chain(&face.across);
    reaches.reduce(|a, b| if a.toward.dot(axis) < b.toward.dot(axis) { b } else { a }).map(|it| it.mm)
}

fn finding(fact: &Fact<'_>, body: BodyIx, check: &Check) -> Finding {
    let unit = fact.unit();
    let (drawn, asked) = words::both(check, unit);
    let the = fact.scene.the(body);
    let bound = match check.sense {
        Sense::AtLeast => "or more",
        Sense::AtMost => "or less",
    };
    let (kind, says) = if check.topic == Topic::NailStart {
        let formula = words::formula(check);
        (
            Kind::WrongStart,
            format!("It starts {drawn} from the end of {the}; {asked}{formula} {bound} is asked for."),
        )
    } else {
        (
            Kind::WrongAngle,
            format!("It stands at {drawn} to the face of {the}; {asked} {bound} is asked for."),
        )
    };
    let finding = fact.tell_of(kind, severity(check), &[body], says).by(check, unit);
    let is_angle = matches!(check.measured, Quantity::Angle(_));
    finding
        .at(fact.at(0.0))
        .worked(is_angle.then(|| format!("as drawn {}", words::exact(check.measured, unit))))
}
