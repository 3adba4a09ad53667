//! The distance of two fasteners in a common body, split along and across the grain.

use super::clash::nearest;
use super::pairs::Rod;
use super::{BodyIx, Face, FaceKind, Neighbours, Shank, What};
use crate::unit::Vec3;

/// Two axes whose directions differ by less than this sine are parallel.
const PARALLEL: f64 = 1e-9;

/// A shank nearer to the grain than this sine runs along it.
const ALONG_GRAIN: f64 = 1e-6;

/// The stretch of a shank in one bearing body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stay {
    /// The body.
    pub(super) body: usize,
    from: f64,
    to: f64,
    entered: FaceCode,
    left: FaceCode,
}

/// A face in one number, so that stays are short; zero for none.
type FaceCode = u64;

fn code(face: Option<Face>) -> FaceCode {
    match face.map(|it| it.which) {
        None => 0,
        Some(FaceKind::Far) => 1,
        Some(FaceKind::Near) => 2,
        // No loop and no edge has a number beyond four thousand million.
        Some(FaceKind::Side { ring, edge }) => ((ring as u64) << 32 | edge as u64) + 3,
    }
}

/// Appends the stays of a shank, one for each bearing body.
pub(super) fn stays(shank: &Shank, out: &mut Vec<Stay>) {
    let first = out.len();
    for run in shank.core.iter().filter(|it| it.what == What::Bearing) {
        let Some(BodyIx(body)) = run.body else { continue };
        let (to, left) = (run.to_mm, code(run.left));
        match out[first..].iter_mut().find(|it| it.body == body) {
            Some(own) => (own.to, own.left) = (to, left),
            None => out.push(Stay { body, from: run.from_mm, to, entered: code(run.entered), left }),
        }
    }
}

/// From the one shank to the other at a body.
#[derive(Clone, Copy, Debug)]
pub(super) struct Apart {
    /// The way and the distance.
    pub(super) way: Vec3,
    /// The two are parallel and side by side, and measured square to them.
    is_beside: bool,
}

/// Two shanks in one body.
///
/// Parallel shanks side by side are measured square to them. Shanks at an angle are measured on the
/// face that both cross, the nearest where there are two; without such a face, and for shanks that
/// share no depth of the body, between their nearest places.
pub(super) fn apart((a, stay_a): (&Rod, &Stay), (b, stay_b): (&Rod, &Stay)) -> Apart {
    if let Some(way) = side_by_side((a, stay_a), (b, stay_b)) {
        return Apart { way, is_beside: true };
    }
    let way = on_a_common_face((a, stay_a), (b, stay_b)).unwrap_or_else(|| {
        let (on_a, on_b) = nearest((a, stay_a.from, stay_a.to), (b, stay_b.from, stay_b.to));
        on_b - on_a
    });
    Apart { way, is_beside: false }
}

/// The distance split along and across the grain of the body.
pub(super) fn split((a, stay_a): (&Rod, &Stay), b: &Rod, apart: Apart, grain: Option<Vec3>) -> Neighbours {
    let Apart { way, is_beside } = apart;
    let grain = grain.and_then(|it| {
        let square = if is_beside { it - a.toward * it.dot(a.toward) } else { it };
        // Shanks along the grain, in end grain, have all their neighbours across.
        if square.length() < ALONG_GRAIN { None } else { square.unit() }
    });
    let signed = grain.map_or(0.0, |it| it.dot(way));
    let along = grain.unwrap_or(a.toward) * if signed < 0.0 { -1.0 } else { 1.0 };
    let rest = way - along * signed.abs();
    let across = rest.unit().filter(|_| 1e-12 < rest.length());
    Neighbours {
        a: a.fastener,
        b: b.fastener,
        body: BodyIx(stay_a.body),
        along_mm: signed.abs(),
        across_mm: rest.length(),
        along,
        across: across.or(a.toward.cross(along).unit()).unwrap_or(Vec3::X),
    }
}

fn side_by_side((a, stay_a): (&Rod, &Stay), (b, stay_b): (&Rod, &Stay)) -> Option<Vec3> {
    if PARALLEL < a.toward.cross(b.toward).length() {
        return None;
    }
    let off = b.head - a.head;
    let along = off.dot(a.toward);
    let sense = if a.toward.dot(b.toward) < 0.0 { -1.0 } else { 1.0 };
    let (one, other) = (along + sense * stay_b.from, along + sense * stay_b.to);
    let is_beside = one.min(other) <= stay_a.to && stay_a.from <= one.max(other);
    is_beside.then(|| off - a.toward * along)
}

fn on_a_common_face((a, stay_a): (&Rod, &Stay), (b, stay_b): (&Rod, &Stay)) -> Option<Vec3> {
    let crossings =
        |rod: &Rod, stay: &Stay| [(stay.entered, rod.at(stay.from)), (stay.left, rod.at(stay.to))];
    let mut best: Option<Vec3> = None;
    for (face_a, at_a) in crossings(a, stay_a) {
        for (face_b, at_b) in crossings(b, stay_b) {
            let apart = at_b - at_a;
            let is_common = face_a != 0 && face_a == face_b;
            if is_common && best.is_none_or(|it| apart.length() < it.length()) {
                best = Some(apart);
            }
        }
    }
    best
}
