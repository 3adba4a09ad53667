//! Cover: how near the axis comes to the faces of its body on the way.
//!
//! A stretch of axis inside a prism is never above or below it, so the nearest place of a side face
//! lies in the same depth, and the distance is that of the plan; to the far and the near face it
//! is the depth between.

use super::TOUCH_MM;
use super::clip::{Axis, Cut, ON_MM, Piece};
use super::flat::{Bend, FAR, Flat, FlatEdge, NEAR};
use super::near::{Stroke, place_to_arc};

/// Least cosine of the angle to a face's normal at which a shank looks at the face: 45 degrees.
const LOOKS_AT: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// A run shorter than this, in millimetres, is too short to say that it lies along a face.
const SHORTEST_ALONG_MM: f64 = 100.0 * TOUCH_MM;

/// Faces of one body that do not count for the cover of one shank.
#[derive(Clone, Debug, Default)]
pub(super) struct Crossed {
    faces: Vec<u32>,
}

impl Crossed {
    /// Takes in the faces of `body` that the axis enters or leaves by on its way, and those that it
    /// looks at: drawn on beyond its point, or back beyond its head, it would cross them at 45
    /// degrees or more, so that it cannot break out of them sideways.
    pub(super) fn gather(&mut self, axis: &Axis, body: usize, pieces: &[Piece], flat: &Flat) {
        self.faces.clear();
        let edges = flat.edges_of(body);
        for piece in pieces.iter().filter(|it| it.body == body) {
            for cut in [&piece.entry, &piece.exit] {
                if cut.is_on(axis) || looks_at(axis, cut, edges, &flat.bends) {
                    self.faces.push(cut.face_number(edges));
                }
            }
        }
    }

    fn has(&self, face: u32) -> bool {
        self.faces.contains(&face)
    }
}

fn looks_at(axis: &Axis, cut: &Cut, edges: &[FlatEdge], bends: &[Bend]) -> bool {
    let normal = cut.face(edges, bends).normal;
    cut.at.is_finite() && LOOKS_AT <= axis.toward.dot(normal).abs()
}

/// What the faces of its body are to a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Nearness {
    /// The cover.
    pub(super) cover_mm: f64,
    /// Both ends of the run lie in one face, within [`TOUCH_MM`].
    pub(super) is_along_a_face: bool,
}

/// Least distance between a run, which must lie in the body, and the faces that count.
pub(super) fn nearness(
    axis: &Axis,
    (from, to): (f64, f64),
    body: usize,
    crossed: &Crossed,
    flat: &Flat,
) -> Nearness {
    let (start, end) = (axis.at(from), axis.at(to));
    let prism = &flat.prisms[body];
    let mut least = f64::INFINITY;
    let mut lies = false;
    for (face, a, b) in
        [(FAR, start.z - prism.far, end.z - prism.far), (NEAR, prism.near - start.z, prism.near - end.z)]
    {
        lies |= a.abs().max(b.abs()) <= TOUCH_MM;
        if !crossed.has(face) {
            least = least.min(a.min(b).max(0.0));
        }
    }
    let stroke = Stroke::new(start.plan(), end.plan());
    let mut square = least * least;
    for edge in flat.edges_of(body) {
        let counts = !crossed.has(edge.face);
        match flat.bends.get(edge.bend as usize) {
            None => lies |= line(edge, &stroke, counts, &mut square),
            Some(Bend::Arc(arc)) => {
                let ends = [edge.p0, edge.p1];
                lies |= axis.is_upright() && place_to_arc(stroke.a, arc, ends) <= TOUCH_MM;
                if counts {
                    square = square.min(stroke.to_arc(arc, ends).powi(2));
                }
            }
            Some(Bend::Curve(curve)) if counts => square = square.min(stroke.to_curve(curve).powi(2)),
            Some(Bend::Curve(_)) => {}
        }
    }
    let cover_mm = square.sqrt();
    let is_along_a_face = lies && SHORTEST_ALONG_MM <= to - from;
    // What lies on a face within rounding has no cover at all.
    Nearness { cover_mm: if cover_mm <= ON_MM { 0.0 } else { cover_mm }, is_along_a_face }
}

/// A straight edge: brings `square` down to the square of its distance, and says whether the stroke
/// lies in it.
fn line(edge: &FlatEdge, stroke: &Stroke, counts: bool, square: &mut f64) -> bool {
    let way = edge.p1 - edge.p0;
    let (ca, cb) = (way.cross(stroke.a - edge.p0), way.cross(stroke.b - edge.p0));
    let length2 = way.hypot2();
    // Square of the distance to the whole line the edge lies in, times the square of its length.
    let (nearer, farther) = (ca.abs().min(cb.abs()), ca.abs().max(cb.abs()));
    let may_lie = farther * farther <= TOUCH_MM * TOUCH_MM * length2;
    let may_be_nearer = counts && (ca * cb <= 0.0 || nearer * nearer < *square * length2);
    if !may_lie && !may_be_nearer {
        return false;
    }
    let own = Stroke::new(edge.p0, edge.p1);
    let (a, b) = (own.square_to_place(stroke.a), own.square_to_place(stroke.b));
    if may_be_nearer {
        let corners = stroke.square_to_place(edge.p0).min(stroke.square_to_place(edge.p1));
        *square = square.min(a.min(b).min(corners));
    }
    may_lie && a.max(b) <= TOUCH_MM * TOUCH_MM
}
