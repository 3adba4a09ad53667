//! Another place, or another slope.

use crate::findings::remedy::{Asked, Nearer, Place, Way};
use crate::findings::words;
use crate::joint::{Fastener, Placement};
use crate::trace::What;
use crate::unit::compare::SAME_MM;
use crate::unit::length::{MM_PER_INCH, Rounding};
use crate::unit::{LengthUnit, Vec3};

/// Shifts tried beyond the least one, in diameters: the distances that the standards ask for.
const DIAMETERS: [f64; 7] = [1.5, 2.5, 4.0, 5.0, 7.0, 10.0, 15.0];

/// The parts of a direction smaller than this are rounding.
const NO_PART: f64 = 1e-6;

/// Shifts square to the shank, the nearest first, each a whole step of what can be set out.
pub(super) fn sideways(asked: &Asked<'_>) -> Vec<Way> {
    let Some((old, head, toward)) = free(asked) else { return Vec::new() };
    let (Some(measured), Some(required)) = (asked.finding.measured, asked.finding.required) else {
        return Vec::new();
    };
    let step = step(asked.joint.show_lengths_in);
    let least = (required - measured).abs().max(step);
    let mut distances = vec![up_to_step(least, step)];
    for times in DIAMETERS {
        let distance = up_to_step(times * old.spec.diameter_mm, step);
        if distances.iter().all(|it| *it + SAME_MM < distance) {
            distances.push(distance);
        }
    }
    let mut ways = Vec::new();
    let mut too_short_mm = 0.0;
    for distance_mm in distances {
        for direction in square_to(toward) {
            let place = Shift { old: old.clone(), head, toward, direction };
            let nearer = Nearer {
                distance_mm,
                too_short_mm,
                step_mm: step,
                way: Box::new({
                    let place = place.clone();
                    move |it| place.by(it)
                }),
            };
            ways.push(Way { nearer: Some(nearer), ..place.by(distance_mm) });
        }
        too_short_mm = distance_mm;
    }
    ways
}

/// A shift along the shank by what is measured: a head that floats comes down on its seat.
pub(super) fn down(asked: &Asked<'_>) -> Vec<Way> {
    let Some((old, head, toward)) = free(asked) else { return Vec::new() };
    let Some(measured) = asked.finding.measured.filter(|_| asked.finding.unit == "mm") else {
        return Vec::new();
    };
    vec![Way {
        place: Place::Instead,
        nearer: None,
        fastener: placed(old, head + toward * measured, toward),
        says: Box::new(move |it| {
            let by = words::required(measured, it.joint.show_lengths_in);
            format!("Moved {by} along its axis, the head is seated.")
        }),
    }]
}

/// The angle that is asked for: of a hole, or of an angled nail against the face that it starts in.
pub(super) fn turned(asked: &Asked<'_>) -> Vec<Way> {
    let Some(old) = asked.fastener.and_then(|it| asked.joint.fasteners.get(it)) else { return Vec::new() };
    match &old.place {
        Placement::Fills { connector, hole, .. } => {
            let place =
                Placement::Fills { connector: connector.clone(), hole: hole.clone(), angle_deg: None };
            vec![Way {
                place: Place::Instead,
                nearer: None,
                fastener: Fastener { place, ..old.clone() },
                says: Box::new(|_| "Driven as the hole guides it, the angle is right.".to_owned()),
            }]
        }
        Placement::Free { head, .. } => sloped(asked, old, *head),
    }
}

fn sloped(asked: &Asked<'_>, old: &Fastener, head: Vec3) -> Vec<Way> {
    let shank = asked.fastener.and_then(|it| asked.trace.fasteners.get(it));
    let face = shank.and_then(|it| it.core.iter().find(|run| run.what == What::Bearing)?.entered);
    let (Some(shank), Some(face)) = (shank, face) else { return Vec::new() };
    let in_face = shank.toward - face.normal * shank.toward.dot(face.normal);
    let Some(in_face) = in_face.unit() else { return Vec::new() };
    // A toe-nail is asked for 30 degrees and for a stretch about it; the middle leaves room.
    [30.0_f64, 45.0]
        .into_iter()
        .chain(asked.finding.required)
        .map(|degrees| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            Way {
                place: Place::Instead,
                nearer: None,
                fastener: placed(old, head, in_face * cos - face.normal * sin),
                says: Box::new(move |_| {
                    format!(
                        "Turned to {} to the face, it is right.",
                        words::angle(degrees, Rounding::Nearest)
                    )
                }),
            }
        })
        .collect()
}

/// A fastener that may be moved one way.
#[derive(Clone)]
struct Shift {
    old: Fastener,
    head: Vec3,
    toward: Vec3,
    direction: Vec3,
}

impl Shift {
    fn by(&self, distance: f64) -> Way {
        let shift = self.direction * distance;
        Way {
            place: Place::Instead,
            nearer: None,
            fastener: placed(&self.old, self.head + shift, self.toward),
            says: Box::new(move |it| {
                let shown = words::measured(distance, it.joint.show_lengths_in);
                format!("Moved {shown} {}, it has the room that is asked for.", way_word(shift))
            }),
        }
    }
}

fn placed(old: &Fastener, head: Vec3, toward: Vec3) -> Fastener {
    Fastener { place: Placement::Free { head, toward }, ..old.clone() }
}

fn free<'a>(asked: &Asked<'a>) -> Option<(&'a Fastener, Vec3, Vec3)> {
    let old = asked.joint.fasteners.get(asked.fastener?)?;
    match old.place {
        Placement::Free { head, toward } => Some((old, head, toward.unit()?)),
        Placement::Fills { .. } => None,
    }
}

/// Both ways along the two directions square to the axis that lie nearest to the axes of the joint.
fn square_to(axis: Vec3) -> Vec<Vec3> {
    let mut parts: Vec<Vec3> = [Vec3::X, Vec3::Y, Vec3::Z]
        .into_iter()
        .map(|it| it - axis * it.dot(axis))
        .filter(|it| NO_PART < it.length())
        .collect();
    parts.sort_by(|a, b| b.length().total_cmp(&a.length()));
    let Some(first) = parts.first().and_then(|it| it.unit()) else { return Vec::new() };
    let second = axis.cross(first);
    vec![first, -first, second, -second]
}

fn way_word(by: Vec3) -> &'static str {
    match words::side(by) {
        "left" => "to the left",
        "right" => "to the right",
        "upper" => "up",
        "lower" => "down",
        "far" => "away from the viewer",
        _ => "towards the viewer",
    }
}

/// What one sets out on site: sixteenths of an inch or whole millimetres.
fn step(unit: LengthUnit) -> f64 {
    match unit {
        LengthUnit::Inch => MM_PER_INCH / 16.0,
        LengthUnit::Millimetre => 1.0,
    }
}

fn up_to_step(mm: f64, step: f64) -> f64 {
    (mm / step - SAME_MM).ceil() * step
}
