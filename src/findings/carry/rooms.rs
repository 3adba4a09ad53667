//! Distances as drawn against those that the standard asks for, as far as they settle what is carried.
//!
//! The rules are those that the findings ask: what a standard demands is the least, what it recommends is
//! the distance of the full value.

use super::across::Asking;
use super::bodies::Crossing;
use crate::findings::scene::Fact;
use crate::standard::capacity::Room;
use crate::standard::{Border, Check, Force, Pair, Topic};
use crate::trace::{BodyIx, FaceDistances, Reach};
use crate::unit::Vec3;

/// A part of a push that is smaller than this does not load a border.
const NO_PART: f64 = 1e-6;

/// The word for the distance of neighbours along the grain.
const PITCH: &str = "pitch";

/// The least room of each sort at these planes.
///
/// A standard that only advises distances of such a shank settles no value by them, and is asked no more.
pub(super) fn rooms(asking: &Asking<'_, '_>, crossings: &[Crossing<'_>], toward: Option<Vec3>) -> Vec<Room> {
    let fact = asking.fact();
    let at = At { fact, thickness_mm: fact.bolt_thickness_mm, toward };
    let mut rooms = Vec::new();
    let mut bodies: Vec<BodyIx> = Vec::new();
    for (number, crossing) in crossings.iter().enumerate() {
        let Some(plane) = crossing.plane else { continue };
        // The shank pushes the side body against what it takes from it, and the main body along. In double
        // shear the second plane is pushed the other way.
        let push = if number == 0 { toward } else { toward.map(|it| -it) };
        let back = push.map(|it| -it);
        let sides =
            [(plane.side, plane.main, &plane.in_side, back), (plane.main, plane.side, &plane.in_main, push)];
        for (body, beside, face, push) in sides {
            if let Some(face) = face
                && !at.borders((body, beside), face, push, &mut rooms)
            {
                return Vec::new();
            }
            if !bodies.contains(&body) {
                bodies.push(body);
            }
        }
    }
    for body in bodies {
        at.neighbours(asking, body, &mut rooms);
    }
    rooms
}

struct At<'f, 'a> {
    fact: &'f Fact<'a>,
    thickness_mm: f64,
    toward: Option<Vec3>,
}

impl At<'_, '_> {
    /// Whether the standard demands any distance, and does not only advise it.
    fn borders(
        &self,
        (body, beside): (BodyIx, BodyIx),
        face: &FaceDistances,
        push: Option<Vec3>,
        rooms: &mut Vec<Room>,
    ) -> bool {
        let fact = self.fact;
        let Some(material) = fact.scene.material(body) else { return true };
        let angle = push.map(|it| in_face_deg(it, face.along[0].toward, face.across[0].toward));
        let row_spacing_mm = fact.scene.row_spacing(fact.ix, body);
        let family = fact.scene.material(beside).map(|it| it.family);
        let ask = |is_end: bool, reach: &Reach| {
            let border = Border {
                material,
                is_end,
                distance_mm: reach.mm,
                loaded: push.map(|it| NO_PART < it.dot(reach.toward)),
                load_to_grain_deg: angle,
                thickness_mm: self.thickness_mm,
                end_grain: face.end_grain,
                beside: family,
                row_spacing_mm,
                axial: false,
            };
            fact.scene.rules.border(&fact.driven, &border)
        };
        let along = face.along.iter().map(|it| (!face.end_grain, it));
        for (is_end, reach) in along.chain(face.across.iter().map(|it| (false, it))) {
            let checks = ask(is_end, reach);
            if !checks.is_empty() && checks.iter().all(|it| it.force == Force::Should) {
                return false;
            }
            for topic in [Topic::EndDistance, Topic::EdgeDistance] {
                keep(room(&checks, topic), rooms);
            }
        }
        true
    }

    /// Far enough along the grain or far enough across it is enough, so that the better of the two counts. What
    /// is asked for hangs on the body and the load alone, so that it is asked once for all neighbours in it.
    fn neighbours(&self, asking: &Asking<'_, '_>, body: BodyIx, rooms: &mut Vec<Room>) {
        let fact = self.fact;
        let Some(material) = fact.scene.material(body) else { return };
        let all = asking.solver.neighbours[asking.ix].iter().map(|it| &fact.scene.trace.neighbours[*it]);
        let mut asked: Option<Vec<Room>> = None;
        for pair in all.filter(|it| it.body == body) {
            let asked = asked.get_or_insert_with(|| {
                let pair = Pair {
                    material,
                    along_mm: pair.along_mm.abs(),
                    across_mm: pair.across_mm.abs(),
                    load_to_grain_deg: self.toward.map(|it| in_face_deg(it, pair.along, pair.across)),
                    thickness_mm: self.thickness_mm,
                    beside: fact.beside(body),
                    axial: false,
                };
                let checks = fact.scene.rules.spacing(&fact.driven, &pair);
                [Topic::Spacing, Topic::RowSpacing].into_iter().filter_map(|it| room(&checks, it)).collect()
            });
            let drawn = asked.iter().map(|it| Room {
                drawn_mm: if it.what == PITCH { pair.along_mm.abs() } else { pair.across_mm.abs() },
                ..it.clone()
            });
            keep(drawn.reduce(|a, b| if part(&a) < part(&b) { b } else { a }), rooms);
        }
    }
}

fn in_face_deg(push: Vec3, along: Vec3, across: Vec3) -> f64 {
    let (with, against) = (push.dot(along).abs(), push.dot(across).abs());
    if with <= NO_PART { 90.0 } else { against.atan2(with).to_degrees() }
}

/// What is demanded is the least, what is recommended the full distance. Advice alone settles no value.
fn room(checks: &[Check], topic: Topic) -> Option<Room> {
    let of = |force: Force| {
        let all = checks.iter().filter(move |it| it.topic == topic && it.force == force);
        all.max_by(|a, b| a.required.value().total_cmp(&b.required.value()))
    };
    let least = of(Force::Shall)?;
    let full = of(Force::Should).filter(|it| least.required.value() < it.required.value()).unwrap_or(least);
    let what = match topic {
        Topic::EndDistance => "end distance",
        Topic::EdgeDistance => "edge distance",
        Topic::Spacing => PITCH,
        Topic::Penetration
        | Topic::SidePenetration
        | Topic::NailAngle
        | Topic::NailStart
        | Topic::RowSpacing
        | Topic::LeadHole
        | Topic::HoleDepth
        | Topic::BoltHole
        | Topic::Washer
        | Topic::EndGrain
        | Topic::Finish
        | Topic::Kind => "row spacing",
    };
    Some(Room {
        what,
        drawn_mm: least.measured.value(),
        full_mm: full.required.value(),
        least_mm: least.required.value(),
        source: least.source,
        of: None,
    })
}

fn part(it: &Room) -> f64 {
    if 0.0 < it.full_mm { it.drawn_mm / it.full_mm } else { f64::INFINITY }
}

/// Of each sort the one that leaves least.
pub(super) fn keep(found: Option<Room>, rooms: &mut Vec<Room>) {
    let Some(found) = found else { return };
    match rooms.iter_mut().find(|it| it.what == found.what) {
        Some(known) if part(&found) < part(known) => *known = found,
        Some(_) => {}
        None => rooms.push(found),
    }
}
