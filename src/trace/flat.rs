//! Bodies laid out for speed: every edge of every body in one flat list.
//!
//! Corners are the same to the last bit for both edges that meet there, and each edge carries the
//! number of its face: all pieces of one plane or of one circle are one face.

use kurbo::{CubicBez, Point, Rect, Vec2};

use super::clip::ON_MM;
use super::{Body, FaceKind};
use crate::shape::Edge;
use crate::unit::Vec3;

/// Number of the far face among a body's faces.
pub(super) const FAR: u32 = u32::MAX - 1;
/// Number of the near face among a body's faces.
pub(super) const NEAR: u32 = u32::MAX;

/// One edge of a body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct FlatEdge {
    /// Where it begins; the region lies to its left.
    pub(super) p0: Point,
    /// Where it ends.
    pub(super) p1: Point,
    /// The direction from the one to the other, of unit length.
    chord: Vec2,
    /// Place in [`Flat::bends`]; `u32::MAX` for a straight edge.
    pub(super) bend: u32,
    /// Number of its face within the body.
    pub(super) face: u32,
    /// Place of its loop in the region.
    pub(super) ring: u32,
    /// Place in its loop.
    pub(super) edge: u32,
    /// Straight, and the outline turns left at both ends: the face ends where the edge ends.
    pub(super) is_convex: bool,
}

/// What is not straight about an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Bend {
    /// Part of a circle or an ellipse.
    Arc(ArcFrame),
    /// A Bezier curve.
    Curve(CubicBez),
}

/// An arc as `centre + a cos + b sin`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ArcFrame {
    /// Its centre.
    pub(super) centre: Point,
    /// The half axis at angle zero.
    pub(super) a: Vec2,
    /// The half axis a quarter turn on.
    pub(super) b: Vec2,
    /// Its first angle, radians.
    pub(super) start: f64,
    /// Radians from its first to its last angle, anticlockwise positive.
    pub(super) sweep: f64,
    /// The radius when it is a circle.
    pub(super) radius: Option<f64>,
    /// It goes all the way round.
    pub(super) is_full: bool,
}

/// One body's share of the flat lists, and its box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Prism {
    /// First edge.
    pub(super) first: u32,
    /// One past its last edge.
    pub(super) end: u32,
    /// Box of the outline.
    pub(super) bounds: Rect,
    /// Its far end.
    pub(super) far: f64,
    /// Its near end.
    pub(super) near: f64,
    /// The way its grain runs, of unit length; `None` without grain.
    pub(super) grain: Option<Vec3>,
    /// Direction of its longest straight edge, or else of its longest chord or half axis: the axis of a
    /// face that has no grain. `None` for a circle, which has no direction of its own.
    pub(super) axis: Option<Vec2>,
}

/// All bodies.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Flat {
    /// One for each body.
    pub(super) prisms: Vec<Prism>,
    /// The edges of all.
    pub(super) edges: Vec<FlatEdge>,
    /// What is not straight about them.
    pub(super) bends: Vec<Bend>,
}

impl ArcFrame {
    fn of(arc: &kurbo::Arc) -> Self {
        let (sin, cos) = if arc.x_rotation.abs() <= 0.0 { (0.0, 1.0) } else { arc.x_rotation.sin_cos() };
        let is_circle = (arc.radii.x - arc.radii.y).abs() <= 1e-12 * arc.radii.x.abs();
        Self {
            centre: arc.center,
            a: Vec2::new(arc.radii.x * cos, arc.radii.x * sin),
            b: Vec2::new(-arc.radii.y * sin, arc.radii.y * cos),
            start: arc.start_angle,
            sweep: arc.sweep_angle,
            radius: is_circle.then_some(arc.radii.x.abs()),
            is_full: std::f64::consts::TAU <= arc.sweep_angle.abs() + 1e-12,
        }
    }

    /// The place at an angle.
    pub(super) fn at(&self, angle: f64) -> Point {
        let (sin, cos) = angle.sin_cos();
        self.centre + self.a * cos + self.b * sin
    }

    /// The way the arc runs at an angle, not of unit length.
    pub(super) fn toward(&self, angle: f64) -> Vec2 {
        let (sin, cos) = angle.sin_cos();
        (self.b * cos - self.a * sin) * self.sweep.signum()
    }

    /// Whether the arc passes the angle.
    pub(super) fn has(&self, angle: f64) -> bool {
        use std::f64::consts::TAU;
        if self.is_full {
            return true;
        }
        let sweep = self.sweep.abs();
        let way = ((angle - self.start) * self.sweep.signum()).rem_euclid(TAU);
        way <= sweep || TAU - way <= 1e-12
    }

    /// The angle at which the whole ellipse reaches farthest towards `way`.
    pub(super) fn farthest(&self, way: Vec2) -> f64 {
        way.dot(self.b).atan2(way.dot(self.a))
    }
}

impl FlatEdge {
    /// The way the edge runs at `share`, of unit length: see [`super::clip::Crossing::share`].
    pub(super) fn toward(&self, bends: &[Bend], share: f64) -> Vec2 {
        match bends.get(self.bend as usize) {
            None => self.chord,
            Some(Bend::Arc(arc)) => unit(arc.toward(share)),
            Some(Bend::Curve(curve)) => unit(curve_toward(curve, share)),
        }
    }

    /// The outward normal at `share`.
    pub(super) fn normal(&self, bends: &[Bend], share: f64) -> Vec3 {
        let way = self.toward(bends, share);
        // Adding zero makes a negative zero positive.
        Vec3::new(way.y, 0.0 - way.x, 0.0)
    }

    /// Which face of the region it is, as others name it.
    pub(super) fn kind(&self) -> FaceKind {
        FaceKind::Side { ring: self.ring as usize, edge: self.edge as usize }
    }
}

fn unit(way: Vec2) -> Vec2 {
    let length = way.hypot();
    if 0.0 < length { way * (1.0 / length) } else { Vec2::new(1.0, 0.0) }
}

fn curve_toward(curve: &CubicBez, share: f64) -> Vec2 {
    let (a, b, c) = (curve.p1 - curve.p0, curve.p2 - curve.p1, curve.p3 - curve.p2);
    let rest = 1.0 - share;
    let way = a * (rest * rest) + b * (2.0 * rest * share) + c * (share * share);
    // A handle of no length leaves no direction at that end: the chord is the next best.
    if way.hypot() <= ON_MM { curve.p3 - curve.p0 } else { way }
}

impl Flat {
    /// Lays out the bodies.
    pub(super) fn of(bodies: &[Body]) -> Self {
        let mut flat = Self::default();
        for body in bodies {
            flat.push(body);
        }
        flat
    }

    /// The edges of a body.
    pub(super) fn edges_of(&self, body: usize) -> &[FlatEdge] {
        let prism = &self.prisms[body];
        &self.edges[prism.first as usize..prism.end as usize]
    }

    fn push(&mut self, body: &Body) {
        let first = self.edges.len();
        for (ring, edges) in body.region.loops.iter().enumerate() {
            for (n, edge) in edges.iter().enumerate() {
                let bend = self.bend(edge);
                let (p0, p1) = (corner(edges, n), corner(edges, (n + 1) % edges.len()));
                self.edges.push(FlatEdge {
                    p0,
                    p1,
                    chord: unit(p1 - p0),
                    bend,
                    face: 0,
                    ring: index(ring),
                    edge: index(n),
                    is_convex: false,
                });
            }
            let begin = self.edges.len() - edges.len();
            mark_convex(&mut self.edges[begin..], &self.bends);
        }
        number_faces(&mut self.edges[first..], &self.bends);
        self.prisms.push(Prism {
            first: index(first),
            end: index(self.edges.len()),
            bounds: body.region.bounds(),
            far: body.far_mm,
            near: body.near_mm,
            grain: body.grain.direction(),
            axis: own_axis(&self.edges[first..], &self.bends),
        });
    }

    fn bend(&mut self, edge: &Edge) -> u32 {
        let bend = match edge {
            Edge::Line(_) => return u32::MAX,
            Edge::Arc(arc) => Bend::Arc(ArcFrame::of(arc)),
            Edge::Curve(curve) => Bend::Curve(*curve),
        };
        self.bends.push(bend);
        index(self.bends.len() - 1)
    }
}

/// A place in a list; no drawing reaches four thousand million edges.
fn index(place: usize) -> u32 {
    u32::try_from(place).unwrap_or(u32::MAX)
}

/// The corner where edge `n` of a loop begins: lines and curves hold their ends, and an arc, which
/// is worked out from its angles, takes its corners from its neighbours.
fn corner(edges: &[Edge], n: usize) -> Point {
    let before = &edges[(n + edges.len() - 1) % edges.len()];
    match (before, &edges[n]) {
        (_, Edge::Line(line)) => line.p0,
        (Edge::Line(line), _) => line.p1,
        (_, Edge::Curve(curve)) => curve.p0,
        (Edge::Curve(curve), _) => curve.p3,
        (Edge::Arc(_), own @ Edge::Arc(_)) => own.start(),
    }
}

/// Marks the straight edges of one loop between two corners at which the outline turns left.
fn mark_convex(ring: &mut [FlatEdge], bends: &[Bend]) {
    let len = ring.len();
    for n in 0..len {
        let (before, own, after) = (ring[(n + len - 1) % len], ring[n], ring[(n + 1) % len]);
        if own.bend != u32::MAX {
            continue;
        }
        let way = own.toward(bends, 0.0);
        let comes = before.toward(bends, last_share(&before, bends));
        let goes = after.toward(bends, first_share(&after, bends));
        ring[n].is_convex = 1e-9 < comes.cross(way) && 1e-9 < way.cross(goes);
    }
}

fn first_share(edge: &FlatEdge, bends: &[Bend]) -> f64 {
    match bends.get(edge.bend as usize) {
        Some(Bend::Arc(arc)) => arc.start,
        Some(Bend::Curve(_)) | None => 0.0,
    }
}

fn last_share(edge: &FlatEdge, bends: &[Bend]) -> f64 {
    match bends.get(edge.bend as usize) {
        Some(Bend::Arc(arc)) => arc.start + arc.sweep,
        Some(Bend::Curve(_)) | None => 1.0,
    }
}

/// Gives all edges that lie in one plane and look the same way, or on one circle, one number.
fn number_faces(edges: &mut [FlatEdge], bends: &[Bend]) {
    for (n, edge) in edges.iter_mut().enumerate() {
        edge.face = index(n);
    }
    // Of up to four edges only two arcs can share a face; straight ones cannot and stay closed.
    if edges.len() <= 4 && edges.iter().filter(|it| it.bend != u32::MAX).count() < 2 {
        return;
    }
    let mut keys: Vec<([f64; 5], usize)> =
        edges.iter().enumerate().filter_map(|(n, it)| face_key(it, bends).map(|key| (key, n))).collect();
    keys.sort_by(|a, b| {
        a.0.iter().zip(&b.0).map(|(x, y)| x.total_cmp(y)).find(|it| it.is_ne()).map_or(a.1.cmp(&b.1), |it| it)
    });
    let mut last: Option<([f64; 5], u32)> = None;
    for (key, n) in keys {
        let same = last.filter(|it| it.0.iter().zip(&key).all(|(a, b)| (a - b).abs() <= 0.0));
        let face = same.map_or(edges[n].face, |it| it.1);
        edges[n].face = face;
        last = Some((key, face));
    }
}

/// Rounded so that what is one plane or one circle has one key: directions to a millionth of
/// themselves, lengths to a thousandth of a millimetre.
fn face_key(edge: &FlatEdge, bends: &[Bend]) -> Option<[f64; 5]> {
    // Adding zero makes a negative zero positive.
    let round = |it: f64, step: f64| (it / step).round() + 0.0;
    match bends.get(edge.bend as usize) {
        None => {
            let way = edge.toward(bends, 0.0);
            let off = way.cross(edge.p0.to_vec2());
            Some([0.0, round(way.x, 1e-6), round(way.y, 1e-6), round(off, 1e-3), 0.0])
        }
        Some(Bend::Arc(arc)) => {
            let way = arc.sweep.signum();
            let (x, y) = (round(arc.centre.x, 1e-3), round(arc.centre.y, 1e-3));
            Some([way, x, y, round(arc.a.hypot(), 1e-3), round(arc.b.hypot(), 1e-3)])
        }
        Some(Bend::Curve(_)) => None,
    }
}

fn own_axis(edges: &[FlatEdge], bends: &[Bend]) -> Option<Vec2> {
    let straight = edges.iter().filter(|it| it.bend == u32::MAX).map(|it| it.p1 - it.p0);
    let chords = edges.iter().map(|it| it.p1 - it.p0);
    let half_axes = edges.iter().filter_map(|it| match bends.get(it.bend as usize) {
        Some(Bend::Arc(arc)) if arc.radius.is_none() => Some(arc.a),
        Some(Bend::Arc(_) | Bend::Curve(_)) | None => None,
    });
    longest(straight).or_else(|| longest(chords)).or_else(|| longest(half_axes))
}

fn longest(ways: impl Iterator<Item = Vec2>) -> Option<Vec2> {
    let mut best = None;
    let mut length = 0.0;
    for way in ways {
        // The first of equals, so that rounding does not choose.
        if length + ON_MM < way.hypot() {
            length = way.hypot();
            best = Some(way * (1.0 / length));
        }
    }
    best
}
