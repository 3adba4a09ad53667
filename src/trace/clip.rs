//! A shank's axis against prisms: where it comes in and where it goes out. Knows no fastener.
//!
//! Lines and arcs are solved, curves by brackets that hold exactly one crossing each; nothing is
//! sampled. The corners of an outline are sorted to the left or the right of the axis once, alike
//! for both edges that meet there and for every body that has that corner, so that a crossing is
//! neither lost nor counted twice.
//!
//! A body is closed: an axis that lies in a face is in the body. Where two bodies share that face
//! the one drawn later takes the run, as for any two bodies in one place; so never do both have it
//! and never neither, and turning or mirroring the joint changes nothing.

use kurbo::{CubicBez, Point, Vec2};

use super::flat::{ArcFrame, Bend, FAR, Flat, FlatEdge, NEAR, Prism};
use super::{Face, FaceKind, TOUCH_MM};
use crate::unit::Vec3;

/// A corner nearer than this to the axis, in millimetres, lies on it. Far above the rounding of
/// places in a building and far below anything that can be measured.
pub(super) const ON_MM: f64 = 1e-7;

/// The axis of a shank.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    /// The seat of the head.
    pub(super) head: Vec3,
    /// The way the point looks, of unit length.
    pub(super) toward: Vec3,
    /// Length below the head.
    pub(super) length: f64,
    /// Direction in the drawing plane, of unit length; to the right for an upright axis.
    plan: Vec2,
    /// Length in the drawing plane of a millimetre of axis; zero when it is upright.
    slope: f64,
}

/// Where a line in the drawing plane crosses an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Crossing {
    /// Along the line.
    pub(super) at: f64,
    /// Place of the edge among its body's edges.
    pub(super) edge: u32,
    /// Where on the edge: the angle of an arc, the parameter of a curve, nothing for a line.
    pub(super) share: f64,
}

/// A stretch of a line inside a region.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Span {
    /// Where it begins.
    pub(super) from: Crossing,
    /// Where it ends.
    pub(super) to: Crossing,
}

/// Where an axis, drawn on without end, crosses the surface of a body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cut {
    /// Along the axis; may lie before the head or beyond the point, even infinitely far.
    pub(super) at: f64,
    /// Place of the edge among its body's edges, or [`FAR`] or [`NEAR`].
    pub(super) edge: u32,
    /// As in [`Crossing`].
    pub(super) share: f64,
}

/// A stretch of an axis in one body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Piece {
    /// Where it begins, from zero on.
    pub(super) from: f64,
    /// Where it ends, up to the length.
    pub(super) to: f64,
    /// The body.
    pub(super) body: usize,
    /// Where the axis comes in.
    pub(super) entry: Cut,
    /// Where it goes out.
    pub(super) exit: Cut,
}

/// Lists that are used again for every shank, so that the hot path does not allocate.
#[derive(Clone, Debug, Default)]
pub(super) struct Scratch {
    crossings: Vec<Crossing>,
    /// The spans of the last line asked for.
    pub(super) spans: Vec<Span>,
}

/// On which side of a line a corner counts that lies on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OnLine {
    /// To the left, as if the line ran a hair to the right.
    Left,
    /// To the right, as if the line ran a hair to the left.
    Right,
}

impl OnLine {
    /// Whether something so far to the left of the line counts as left of it.
    fn is_left(self, off: f64) -> bool {
        match self {
            Self::Left => -ON_MM <= off,
            Self::Right => ON_MM < off,
        }
    }
}

impl Axis {
    /// An axis; `None` without length or direction.
    pub(super) fn new(head: Vec3, toward: Vec3, length: f64) -> Option<Self> {
        let toward = toward.unit()?;
        let sound = head.to_array().iter().all(|it| it.is_finite()) && length.is_finite() && ON_MM < length;
        let flat = Vec2::new(toward.x, toward.y);
        let slope = flat.hypot();
        let is_upright = slope * length <= ON_MM;
        sound.then(|| Self {
            head,
            toward,
            length,
            plan: if is_upright { Vec2::new(1.0, 0.0) } else { flat * (1.0 / slope) },
            slope: if is_upright { 0.0 } else { slope },
        })
    }

    /// The place so far along.
    pub(super) fn at(&self, along: f64) -> Vec3 {
        self.head + self.toward * along
    }

    /// Whether it runs along the depth.
    pub(super) fn is_upright(&self) -> bool {
        self.slope <= 0.0
    }

    /// Appends the stretches in one body.
    pub(super) fn clip(&self, flat: &Flat, body: usize, scratch: &mut Scratch, pieces: &mut Vec<Piece>) {
        let prism = &flat.prisms[body];
        let Some((enters, leaves)) = self.slab(prism) else { return };
        let (from, to) = (enters.at.max(0.0), leaves.at.min(self.length));
        if to - from <= ON_MM {
            return;
        }
        spans(flat, body, (self.head.plan(), self.plan), scratch);
        for span in &scratch.spans {
            let Some((start, end)) = self.along(span) else { continue };
            let entry = if enters.at < start.at { start } else { enters };
            let exit = if end.at < leaves.at { end } else { leaves };
            let (from, to) = (entry.at.max(0.0), exit.at.min(self.length));
            if ON_MM < to - from {
                pieces.push(Piece { from, to, body, entry, exit });
            }
        }
    }

    /// Where it enters and leaves the depth of a body, drawn on without end.
    fn slab(&self, prism: &Prism) -> Option<(Cut, Cut)> {
        let (z, rise) = (self.head.z, self.toward.z);
        if rise.abs() * self.length <= ON_MM {
            let inside = prism.far - ON_MM <= z && z <= prism.near + ON_MM;
            let cut = |at: f64, edge: u32| Cut { at, edge, share: 0.0 };
            return inside.then(|| (cut(f64::NEG_INFINITY, FAR), cut(f64::INFINITY, NEAR)));
        }
        let far = Cut { at: (prism.far - z) / rise, edge: FAR, share: 0.0 };
        let near = Cut { at: (prism.near - z) / rise, edge: NEAR, share: 0.0 };
        Some(if rise < 0.0 { (near, far) } else { (far, near) })
    }

    /// A span of the plan as cuts along the axis. An upright axis is inside for ever or not at all.
    fn along(&self, span: &Span) -> Option<(Cut, Cut)> {
        let cut = |it: &Crossing, at: f64| Cut { at, edge: it.edge, share: it.share };
        if self.is_upright() {
            let inside = span.from.at <= ON_MM && -ON_MM <= span.to.at;
            return inside.then(|| (cut(&span.from, f64::NEG_INFINITY), cut(&span.to, f64::INFINITY)));
        }
        Some((cut(&span.from, span.from.at / self.slope), cut(&span.to, span.to.at / self.slope)))
    }
}

impl Cut {
    /// The number of the face within the body.
    pub(super) fn face_number(&self, edges: &[FlatEdge]) -> u32 {
        if self.edge == FAR || self.edge == NEAR { self.edge } else { edges[self.edge as usize].face }
    }

    /// The face with its outward normal.
    pub(super) fn face(&self, edges: &[FlatEdge], bends: &[Bend]) -> Face {
        match self.edge {
            FAR => Face { which: FaceKind::Far, normal: -Vec3::Z },
            NEAR => Face { which: FaceKind::Near, normal: Vec3::Z },
            side => {
                let edge = &edges[side as usize];
                Face { which: edge.kind(), normal: edge.normal(bends, self.share) }
            }
        }
    }

    /// Whether it lies on the shank: between its head and its point, the ends counted in.
    pub(super) fn is_on(&self, axis: &Axis) -> bool {
        -TOUCH_MM <= self.at && self.at <= axis.length + TOUCH_MM
    }
}

/// The stretches of a line, drawn on without end, inside a closed region, in `scratch.spans`, in order.
pub(super) fn spans(flat: &Flat, body: usize, line: (Point, Vec2), scratch: &mut Scratch) {
    let touches = spans_as_if(flat, body, line, OnLine::Left, scratch);
    if touches {
        let left = std::mem::take(&mut scratch.spans);
        spans_as_if(flat, body, line, OnLine::Right, scratch);
        scratch.spans.extend(left);
        scratch.spans.sort_by(|a, b| a.from.at.total_cmp(&b.from.at).then(b.to.at.total_cmp(&a.to.at)));
        join(&mut scratch.spans);
    }
}

/// The same for the line moved a hair to one side; and whether the line touches a corner, an edge or
/// an arc, so that the other side may have another answer.
pub(super) fn spans_as_if(
    flat: &Flat,
    body: usize,
    (origin, way): (Point, Vec2),
    on: OnLine,
    scratch: &mut Scratch,
) -> bool {
    let edges = flat.edges_of(body);
    scratch.crossings.clear();
    scratch.spans.clear();
    let mut touches = false;
    for (n, edge) in edges.iter().enumerate() {
        let (c0, c1) = (way.cross(edge.p0 - origin), way.cross(edge.p1 - origin));
        let (left0, left1) = (on.is_left(c0), on.is_left(c1));
        let number = u32::try_from(n).unwrap_or(u32::MAX);
        let mut push = |at: f64, share: f64| scratch.crossings.push(Crossing { at, edge: number, share });
        touches |= c0.abs() <= ON_MM;
        match flat.bends.get(edge.bend as usize) {
            None if left0 != left1 => push(on_line(edge, (c0, c1), (origin, way)), 0.0),
            None => {}
            Some(Bend::Arc(arc)) => touches |= arc_crossings(arc, (origin, way), (on, left0, left1), push),
            Some(Bend::Curve(curve)) => curve_crossings(curve, (origin, way), (on, left0, left1), push),
        }
    }
    scratch.crossings.sort_unstable_by(|a, b| a.at.total_cmp(&b.at).then(a.edge.cmp(&b.edge)));
    for pair in scratch.crossings.chunks_exact(2) {
        scratch.spans.push(Span { from: pair[0], to: pair[1] });
    }
    join(&mut scratch.spans);
    touches
}

/// Joins spans, sorted by their beginning, that overlap or meet: where a line passes a corner from
/// inside it does not leave the body.
fn join(spans: &mut Vec<Span>) {
    spans.dedup_by(|next, kept| {
        let meets = next.from.at <= kept.to.at + ON_MM;
        if meets && kept.to.at < next.to.at {
            kept.to = next.to;
        }
        meets
    });
}

/// Where the line crosses a straight edge, worked out from the corner on its left, so that two
/// bodies that share the edge find the same place to the last bit.
fn on_line(edge: &FlatEdge, (c0, c1): (f64, f64), (origin, way): (Point, Vec2)) -> f64 {
    let (a, b, ca, cb) = if c1 < c0 { (edge.p0, edge.p1, c0, c1) } else { (edge.p1, edge.p0, c1, c0) };
    let share = if ca - cb <= 0.0 { 0.0 } else { (ca / (ca - cb)).clamp(0.0, 1.0) };
    way.dot(a - origin) + share * way.dot(b - a)
}

/// Crossings of an arc: one in each stretch between its ends and its two places farthest from the
/// line, when these lie on different sides. Says whether the line touches the circle.
fn arc_crossings(
    arc: &ArcFrame,
    (origin, way): (Point, Vec2),
    (on, left0, left1): (OnLine, bool, bool),
    mut push: impl FnMut(f64, f64),
) -> bool {
    use std::f64::consts::{PI, TAU};
    // The distance to the left of the line is A cos + B sin + C at an angle.
    let (a, b, c) = (way.cross(arc.a), way.cross(arc.b), way.cross(arc.centre - origin));
    let most = a.hypot(b);
    if left0 == left1 && most + ON_MM < c.abs() {
        return false;
    }
    let top = b.atan2(a);
    let (sense, sweep) = (arc.sweep.signum(), arc.sweep.abs());
    let way_to_top = ((top - arc.start) * sense).rem_euclid(TAU);
    let way_to_bottom = ((top + PI - arc.start) * sense).rem_euclid(TAU);
    let (first, second) = if way_to_top < way_to_bottom {
        ((way_to_top, on.is_left(c + most)), (way_to_bottom, on.is_left(c - most)))
    } else {
        ((way_to_bottom, on.is_left(c - most)), (way_to_top, on.is_left(c + most)))
    };
    let cos = (-c / most).clamp(-1.0, 1.0);
    let sin = ((1.0 - cos) * (1.0 + cos)).sqrt();
    let turn = sin.atan2(cos);
    let (mut from, mut was_left) = (0.0, left0);
    for (to, is_left) in [first, second, (sweep, left1)] {
        if sweep < to {
            continue;
        }
        if was_left != is_left {
            // From the top on anticlockwise the distance falls, after the bottom it rises.
            let middle = sense.mul_add(0.5 * (from + to), arc.start) - top;
            let side = if middle.sin() < 0.0 { -1.0 } else { 1.0 };
            let (along_a, along_b) = (way.dot(arc.a), way.dot(arc.b));
            let (root_cos, root_sin) = ((a * cos - b * side * sin) / most, (b * cos + a * side * sin) / most);
            let at = way.dot(arc.centre - origin) + along_a * root_cos + along_b * root_sin;
            push(at, top + side * turn);
        }
        (from, was_left) = (to, is_left);
    }
    (c.abs() - most).abs() <= ON_MM
}

/// Crossings of a curve: one in each stretch between its ends and the places where it runs along
/// the line, when these lie on different sides.
fn curve_crossings(
    curve: &CubicBez,
    (origin, way): (Point, Vec2),
    (on, left0, left1): (OnLine, bool, bool),
    mut push: impl FnMut(f64, f64),
) {
    let off = [curve.p0, curve.p1, curve.p2, curve.p3].map(|it| way.cross(it - origin));
    let mut turns = bernstein_turns(off);
    turns.sort_unstable_by(f64::total_cmp);
    let (mut from, mut was_left) = (0.0, left0);
    let inner = turns.into_iter().filter(|it| 0.0 < *it && *it < 1.0);
    for (to, is_left) in inner.map(|it| (it, on.is_left(bernstein(off, it)))).chain([(1.0, left1)]) {
        if was_left != is_left {
            let share = bracketed(off, from, to);
            let along = [curve.p0, curve.p1, curve.p2, curve.p3].map(|it| way.dot(it - origin));
            push(bernstein(along, share), share);
        }
        (from, was_left) = (to, is_left);
    }
}

/// Value at `t` of a cubic given by its four Bezier numbers.
pub(super) fn bernstein(c: [f64; 4], t: f64) -> f64 {
    let r = 1.0 - t;
    r * r * r * c[0] + 3.0 * r * r * t * c[1] + 3.0 * r * t * t * c[2] + t * t * t * c[3]
}

/// Where such a cubic has its highest and lowest value; outside of 0 to 1 when it has none.
pub(super) fn bernstein_turns(c: [f64; 4]) -> [f64; 2] {
    let (d0, d1, d2) = (c[1] - c[0], c[2] - c[1], c[3] - c[2]);
    let roots = kurbo::common::solve_quadratic(d0, 2.0 * (d1 - d0), d0 - 2.0 * d1 + d2);
    let mut both = [-1.0; 2];
    for (slot, root) in both.iter_mut().zip(roots) {
        *slot = root;
    }
    both
}

/// The one zero of a cubic between two places, by halving: it cannot fail and ends at the last bit.
fn bracketed(c: [f64; 4], mut low: f64, mut high: f64) -> f64 {
    let rises = bernstein(c, low) < bernstein(c, high);
    for _ in 0..64 {
        let middle = 0.5 * (low + high);
        if (bernstein(c, middle) < 0.0) == rises {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
