//! Regions from what a user draws: rectangle, polygon, circle, closed loops.

use kurbo::{Arc, Line, Point, Vec2};

use super::edge::is_full;
use super::measure::{corner, signed_area};
use super::meet::SAME_MM;
use super::{Edge, Region};

impl Region {
    /// A rectangle from its lower-left corner, then turned about that corner, degrees anticlockwise.
    #[must_use]
    pub fn rectangle(corner: Point, size: (f64, f64), turn_deg: f64) -> Self {
        let (width, height) = size;
        if turn_deg.abs() <= 0.0 {
            let far = Point::new(corner.x + width, corner.y + height);
            let (right, up) = (Point::new(far.x, corner.y), Point::new(corner.x, far.y));
            return Self::polygon(&[corner, right, far, up]);
        }
        let (sin, cos) = sin_cos_deg(turn_deg);
        let (along, up) = (Vec2::new(width * cos, width * sin), Vec2::new(-height * sin, height * cos));
        Self::polygon(&[corner, corner + along, corner + (along + up), corner + up])
    }

    /// A polygon, given in either winding.
    #[must_use]
    pub fn polygon(corners: &[Point]) -> Self {
        let next = corners.iter().skip(1).chain(corners.first());
        let edges = corners.iter().zip(next).map(|(a, b)| Edge::Line(Line::new(*a, *b))).collect();
        Self::from_loops(vec![edges])
    }

    /// A full circle.
    #[must_use]
    pub fn round(centre: Point, diameter_mm: f64) -> Self {
        let radius = 0.5 * diameter_mm.abs();
        let arc = Arc::new(centre, (radius, radius), 0.0, std::f64::consts::TAU, 0.0);
        Self::from_loops(vec![vec![Edge::Arc(arc)]])
    }

    /// A region of closed loops in any winding, even-odd: what lies in an odd number of loops is inside.
    ///
    /// In each loop an edge must begin where the one before it ends. Edges of no length are
    /// dropped, and edges that go straight on (or on along the same circle) become one, so that
    /// one face is one edge. Loops that cross are kept as they are; [`Region::self_crossing`] finds them.
    #[must_use]
    pub fn from_loops(loops: Vec<Vec<Edge>>) -> Self {
        let mut loops: Vec<Vec<Edge>> =
            loops.into_iter().map(tidy).filter(|it| 1 < it.len() || it.iter().all(is_round)).collect();
        loops.retain(|it| !it.is_empty());
        let singles: Vec<Self> = loops.iter().map(|it| Self { loops: vec![it.clone()] }).collect();
        let boxes: Vec<_> = singles.iter().map(Self::bounds).collect();
        for (n, edges) in loops.iter_mut().enumerate() {
            let place = edges[0].at(0.5);
            let depth = (0..singles.len())
                .filter(|it| *it != n && boxes[*it].contains(place) && singles[*it].contains(place))
                .count();
            let is_outer = depth % 2 == 0;
            if (0.0 <= signed_area(edges)) != is_outer {
                *edges = edges.iter().rev().map(Edge::reversed).collect();
            }
        }
        Self { loops }
    }
}

fn is_round(edge: &Edge) -> bool {
    match edge {
        Edge::Arc(arc) => is_full(arc),
        Edge::Line(_) | Edge::Curve(_) => true,
    }
}

/// Sine and cosine of an angle in degrees, exact at the quarter turns.
pub fn sin_cos_deg(degrees: f64) -> (f64, f64) {
    let turn = degrees.rem_euclid(360.0);
    let quarter = (turn / 90.0).round();
    let (sin, cos) = 90.0_f64.mul_add(-quarter, turn).to_radians().sin_cos();
    match (turn / 90.0).round().rem_euclid(4.0) {
        it if it < 0.5 => (sin, cos),
        it if it < 1.5 => (cos, -sin),
        it if it < 2.5 => (-sin, -cos),
        _ => (-cos, sin),
    }
}

/// One loop without edges of no length, and with one edge for each face.
pub(super) fn tidy(edges: Vec<Edge>) -> Vec<Edge> {
    let mut kept: Vec<Edge> = edges.into_iter().filter(|it| !has_no_length(it)).collect();
    weld(&mut kept);
    let mut whole: Vec<Edge> = Vec::with_capacity(kept.len());
    for edge in kept {
        match whole.last().and_then(|last| joined(last, &edge)) {
            Some(both) => *whole.last_mut().expect("a last edge was joined") = both,
            None => whole.push(edge),
        }
    }
    while 1 < whole.len() {
        let Some(both) = joined(&whole[whole.len() - 1], &whole[0]) else { break };
        whole[0] = both;
        whole.truncate(whole.len() - 1);
    }
    if let [Edge::Arc(arc)] = &mut whole[..] {
        // One arc alone closes a loop only by going all the way round.
        arc.sweep_angle = std::f64::consts::TAU.copysign(arc.sweep_angle);
    }
    whole
}

/// Closes what a dropped edge has left open, by rounding at most: each edge ends where the next begins.
fn weld(edges: &mut [Edge]) {
    for n in 0..edges.len() {
        let end = corner(edges, (n + 1) % edges.len());
        match &mut edges[n] {
            Edge::Line(line) => line.p1 = end,
            Edge::Curve(curve) => curve.p3 = end,
            Edge::Arc(_) => {}
        }
    }
}

fn has_no_length(edge: &Edge) -> bool {
    let (length, is_closed) = match edge {
        Edge::Line(line) => return (line.p1 - line.p0).hypot() <= SAME_MM,
        Edge::Arc(arc) => {
            let least = arc.radii.x.min(arc.radii.y);
            (least * arc.sweep_angle.abs(), least <= SAME_MM)
        }
        Edge::Curve(curve) => {
            let hull = [curve.p1, curve.p2, curve.p3];
            (hull.iter().map(|it| (*it - curve.p0).hypot()).fold(0.0, f64::max), false)
        }
    };
    is_closed || length.is_nan() || length <= SAME_MM
}

/// The two as one edge, when the second goes straight on from the first or on along its circle.
pub(super) fn joined(first: &Edge, second: &Edge) -> Option<Edge> {
    match (first, second) {
        (Edge::Line(a), Edge::Line(b)) => {
            let whole = b.p1 - a.p0;
            let (before, after) = (a.p1 - a.p0, b.p1 - b.p0);
            let off = whole.cross(before).abs();
            let goes_on = 0.0 < before.dot(whole) && 0.0 < after.dot(whole);
            // The bend is no more than rounding: the middle corner lies on the chord.
            (goes_on && off <= rounding(a.p0, b.p1) * whole.hypot())
                .then(|| Edge::Line(Line::new(a.p0, b.p1)))
        }
        (Edge::Arc(a), Edge::Arc(b)) => {
            let same = (a.center - b.center).hypot() <= SAME_MM
                && (a.radii - b.radii).hypot() <= SAME_MM
                && (a.x_rotation - b.x_rotation).abs() <= 1e-12
                && 0.0 < a.sweep_angle * b.sweep_angle
                && (first.end() - second.start()).hypot() <= SAME_MM;
            let sweep = a.sweep_angle + b.sweep_angle;
            let limit = std::f64::consts::TAU;
            let over = (sweep.abs() - limit).abs() * a.radii.x.max(a.radii.y);
            let sweep = if over <= 4.0 * SAME_MM { limit.copysign(sweep) } else { sweep };
            (same && sweep.abs() <= limit).then_some(Edge::Arc(Arc { sweep_angle: sweep, ..*a }))
        }
        _ => None,
    }
}

/// What rounding may move a place by, so far from the origin.
fn rounding(a: Point, b: Point) -> f64 {
    let far = a.x.abs().max(a.y.abs()).max(b.x.abs()).max(b.y.abs());
    1e-10_f64.max(8.0 * f64::EPSILON * far)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    #[test]
    fn a_quarter_turn_is_exact() {
        for (turn, far) in
            [(0.0, (2.0, 1.0)), (90.0, (-1.0, 2.0)), (180.0, (-2.0, -1.0)), (-90.0, (1.0, -2.0))]
        {
            let region = Region::rectangle(at(0.0, 0.0), (2.0, 1.0), turn);
            assert_eq!(region.loops[0][2].start(), Point::from(far), "{turn}");
        }
        let (sin, cos) = sin_cos_deg(30.0);
        assert!((sin - 0.5).abs() < 1e-15 && (cos - 0.75_f64.sqrt()).abs() < 1e-15);
        let (sin, cos) = sin_cos_deg(-390.0);
        assert!((sin + 0.5).abs() < 1e-15 && (cos - 0.75_f64.sqrt()).abs() < 1e-15);
    }

    #[test]
    fn one_face_is_one_edge() {
        let count = |corners: &[(f64, f64)]| {
            let corners: Vec<Point> = corners.iter().map(|it| Point::from(*it)).collect();
            Region::polygon(&corners).loops.first().map_or(0, Vec::len)
        };
        assert_eq!(count(&[(0.0, 0.0), (1.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0)]), 4);
        // The seam lies in the middle of a face, and a corner is given twice.
        assert_eq!(count(&[(1.0, 0.0), (3.0, 0.0), (3.0, 2.0), (3.0, 2.0), (0.0, 2.0), (0.0, 0.0)]), 4);
        // A slope in thirds, which are no binary fractions.
        assert_eq!(count(&[(0.0, 0.0), (3.0, 1.0), (1.0, 1.0), (1.0 / 3.0, 1.0 / 3.0)]), 3);
        // A real corner of a tenth of a degree stays.
        assert_eq!(count(&[(0.0, 0.0), (50.0, 0.05), (100.0, 0.0), (0.0, 50.0)]), 4);
        assert_eq!(count(&[(0.0, 0.0), (0.0, 0.0)]), 0);
        assert_eq!(count(&[]), 0);
    }

    #[test]
    fn two_half_circles_are_one_round_face() {
        let region = Region::path("M -5 0 A 5 5 0 0 1 5 0 A 5 5 0 0 1 -5 0 Z").unwrap();
        assert_eq!(region.loops.len(), 1);
        assert_eq!(region.loops[0].len(), 1);
        assert!((region.area_mm2() - 25.0 * std::f64::consts::PI).abs() < 1e-12);
        assert!(Region::round(at(0.0, 0.0), 0.0).loops.is_empty());
    }
}
