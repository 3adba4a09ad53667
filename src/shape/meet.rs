//! Where two edges meet. Lines and arcs are solved; two curves are halved until they part.

use kurbo::{Arc, CubicBez, Line, ParamCurve, ParamCurveNearest, Point, Rect, Vec2};

use super::Edge;
use super::bernstein::{product, roots};
use super::edge::{angle_of, in_unit_frame, is_full, on_arc, share_of_angle};
use super::inside::beyond;

/// Places closer than this, in millimetres, are one: far above rounding, far below all that can be made.
pub(super) const SAME_MM: f64 = 1e-7;

/// Two crossings closer than this, in millimetres, are one place where the edges graze: edges that
/// touch smoothly seem, by rounding, to cross twice.
const GRAZE_MM: f64 = 1e-5;

/// Pairs of pieces of two curves that are looked at before the two count as touching all along.
const MOST_PAIRS: usize = 20_000;

/// A place that two edges have in common, and where it lies on each of them (0 at the start, 1 at the end).
#[derive(Clone, Copy, Debug)]
pub(super) struct Meeting {
    pub(super) on_a: f64,
    pub(super) on_b: f64,
    pub(super) at: Point,
}

/// All places at which two edges cross, and every end of one that lies on the other.
///
/// Edges that lie on each other thus have the ends of the common stretch. A place where they
/// only touch, at no end of either, may be missing.
pub(super) fn meetings(a: &Edge, b: &Edge) -> Vec<Meeting> {
    let mut found = Vec::new();
    for (on_a, at) in [(0.0, a.start()), (1.0, a.end())] {
        found.extend(share_on(b, at).map(|on_b| Meeting { on_a, on_b, at }));
    }
    for (on_b, at) in [(0.0, b.start()), (1.0, b.end())] {
        if let Some(on_a) = share_on(a, at) {
            add(&mut found, Meeting { on_a, on_b, at });
        }
    }
    if !lie_on_each_other(a, b, &found) {
        for it in crossings(a, b) {
            add(&mut found, it);
        }
    }
    found
}

fn add(found: &mut Vec<Meeting>, new: Meeting) {
    if found.iter().all(|it| SAME_MM < (it.at - new.at).hypot()) {
        found.push(new);
    }
}

fn lie_on_each_other(a: &Edge, b: &Edge, found: &[Meeting]) -> bool {
    match (a, b) {
        (Edge::Arc(a), Edge::Arc(b)) => {
            let same = (a.center - b.center).hypot() + (a.radii - b.radii).hypot() <= SAME_MM;
            same && (a.x_rotation - b.x_rotation).abs() <= 1e-12
        }
        _ => found.iter().enumerate().any(|(n, first)| {
            found[..n].iter().any(|second| {
                let apart = (first.at - second.at).hypot();
                let middle = a.at(0.5 * (first.on_a + second.on_a));
                SAME_MM < apart && share_on(b, middle).is_some()
            })
        }),
    }
}

/// Where on an edge a place lies, when it lies on it.
pub(super) fn share_on(edge: &Edge, place: Point) -> Option<f64> {
    match edge {
        Edge::Line(line) => {
            let way = line.p1 - line.p0;
            let share = ((place - line.p0).dot(way) / way.hypot2()).clamp(0.0, 1.0);
            ((line.p0 + way * share - place).hypot() <= SAME_MM).then_some(share)
        }
        Edge::Arc(arc) => {
            let share = share_of_angle(arc, angle_of(arc, place));
            let share = if is_full(arc) { share.rem_euclid(1.0) } else { share.clamp(0.0, 1.0) };
            ((edge.at(share) - place).hypot() <= SAME_MM
                || is_full(arc) && off_ellipse(arc, place).abs() <= SAME_MM)
                .then_some(share)
        }
        Edge::Curve(curve) => {
            let hull = hull(curve).inflate(SAME_MM, SAME_MM);
            if !hull.contains(place) {
                return None;
            }
            let nearest = curve.nearest(place, 1e-10);
            (nearest.distance_sq <= SAME_MM * SAME_MM).then(|| nearest.t.clamp(0.0, 1.0))
        }
    }
}

/// Distance from an ellipse for a place close to it.
fn off_ellipse(arc: &Arc, place: Point) -> f64 {
    let least = arc.radii.x.min(arc.radii.y);
    if (arc.radii.x - arc.radii.y).abs() <= 0.0 {
        return beyond(arc, place) / (2.0 * least);
    }
    (place - on_arc(arc, angle_of(arc, place))).hypot()
}

fn crossings(a: &Edge, b: &Edge) -> Vec<Meeting> {
    match (a, b) {
        (Edge::Line(a), Edge::Line(b)) => lines_cross(*a, *b).into_iter().collect(),
        (Edge::Curve(first), Edge::Curve(second)) => curves_cross(first, second),
        // A curve is followed past an arc or a line, an arc past a line or an arc.
        (Edge::Curve(_), _) | (Edge::Arc(_), Edge::Line(_) | Edge::Arc(_)) => follow(a, b),
        (Edge::Line(_), _) | (Edge::Arc(_), Edge::Curve(_)) => {
            let turn = |it: Meeting| Meeting { on_a: it.on_b, on_b: it.on_a, at: it.at };
            follow(b, a).into_iter().map(turn).collect()
        }
    }
}

fn lines_cross(a: Line, b: Line) -> Option<Meeting> {
    let (along_a, along_b) = (a.p1 - a.p0, b.p1 - b.p0);
    let area = along_a.cross(along_b);
    let between = b.p0 - a.p0;
    let on_a = between.cross(along_b) / area;
    let on_b = between.cross(along_a) / area;
    // Parallel lines have no number here, or one that is infinite.
    let crosses = (0.0..=1.0).contains(&on_a) && (0.0..=1.0).contains(&on_b);
    crosses.then(|| Meeting { on_a, on_b, at: a.p0 + along_a * on_a })
}

/// Follows an arc or a curve past a line or an arc and solves for the places where it changes sides.
fn follow(moving: &Edge, still: &Edge) -> Vec<Meeting> {
    let mut found: Vec<Meeting> = Vec::new();
    for piece in rational_pieces(moving) {
        for share in roots(&side_of(&piece, still)) {
            let at = piece.at(share);
            let on_moving = match moving {
                Edge::Arc(arc) => share_of_angle(arc, angle_of(arc, at)).clamp(0.0, 1.0),
                Edge::Line(_) | Edge::Curve(_) => share,
            };
            let Some(on_b) = share_on(still, at) else { continue };
            match found.iter_mut().find(|it| (it.at - at).hypot() <= GRAZE_MM) {
                Some(same) => *same = halfway(same, &Meeting { on_a: on_moving, on_b, at }),
                None => found.push(Meeting { on_a: on_moving, on_b, at }),
            }
        }
    }
    found
}

fn halfway(a: &Meeting, b: &Meeting) -> Meeting {
    // On a full circle the two may lie on either side of its seam.
    let mean = |a: f64, b: f64| if (a - b).abs() < 0.5 { 0.5 * (a + b) } else { a };
    Meeting { on_a: mean(a.on_a, b.on_a), on_b: mean(a.on_b, b.on_b), at: a.at.midpoint(b.at) }
}

/// A stretch as quotient of polynomials by their Bernstein coefficients: exact for lines, curves and arcs.
struct Rational {
    /// Numerators, relative to `origin`.
    places: Vec<Vec2>,
    /// Denominator.
    weights: Vec<f64>,
    origin: Point,
}

impl Rational {
    fn at(&self, share: f64) -> Point {
        let x: Vec<f64> = self.places.iter().map(|it| it.x).collect();
        let y: Vec<f64> = self.places.iter().map(|it| it.y).collect();
        let value = |it: &[f64]| super::bernstein::value(it, share);
        let weight = value(&self.weights);
        self.origin + Vec2::new(value(&x) / weight, value(&y) / weight)
    }
}

fn rational_pieces(edge: &Edge) -> Vec<Rational> {
    let plain = |places: &[Point]| {
        let origin = places[0];
        let weights = vec![1.0; places.len()];
        vec![Rational { places: places.iter().map(|it| *it - origin).collect(), weights, origin }]
    };
    match edge {
        Edge::Line(line) => plain(&[line.p0, line.p1]),
        Edge::Curve(it) => plain(&[it.p0, it.p1, it.p2, it.p3]),
        Edge::Arc(arc) => {
            let quarters = (arc.sweep_angle.abs() / std::f64::consts::FRAC_PI_2).ceil().clamp(1.0, 4.0);
            let half = 0.5 * arc.sweep_angle / quarters;
            let starts = (0..4_u32).map(f64::from).take_while(|it| *it < quarters);
            starts.map(|n| arc_piece(arc, 2.0_f64.mul_add(n * half, arc.start_angle), half)).collect()
        }
    }
}

/// The arc from an angle over twice `half`, at most a quarter turn, as a quotient of second degree.
fn arc_piece(arc: &Arc, from: f64, half: f64) -> Rational {
    let weight = half.cos();
    let off = |angle: f64| on_arc(arc, angle) - arc.center;
    // The middle place lies where the tangents meet, at 1 / cos; its weight is cos.
    Rational {
        places: vec![off(from), off(from + half), off(2.0_f64.mul_add(half, from))],
        weights: vec![1.0, weight, 1.0],
        origin: arc.center,
    }
}

/// The side of a line or an arc on which a stretch lies, as a polynomial: zero on it.
fn side_of(piece: &Rational, still: &Edge) -> Vec<f64> {
    match still {
        Edge::Line(line) => {
            let way = (line.p1 - line.p0).normalize();
            let base = way.cross(piece.origin - line.p0);
            let terms = piece.places.iter().zip(&piece.weights);
            terms.map(|(place, weight)| base.mul_add(*weight, way.cross(*place))).collect()
        }
        Edge::Arc(arc) => {
            let base = in_unit_frame(arc, piece.origin);
            let terms = piece.places.iter().zip(&piece.weights);
            let unit: Vec<Vec2> = terms
                .map(|(place, weight)| in_unit_frame(arc, arc.center + *place) + base * *weight)
                .collect();
            let x: Vec<f64> = unit.iter().map(|it| it.x).collect();
            let y: Vec<f64> = unit.iter().map(|it| it.y).collect();
            let squares = product(&x, &x).into_iter().zip(product(&y, &y));
            let weights = product(&piece.weights, &piece.weights);
            squares.zip(weights).map(|((x, y), w)| x + y - w).collect()
        }
        Edge::Curve(_) => Vec::new(),
    }
}

fn hull(curve: &CubicBez) -> Rect {
    Rect::from_points(curve.p0, curve.p1).union(Rect::from_points(curve.p2, curve.p3))
}

fn curves_cross(a: &CubicBez, b: &CubicBez) -> Vec<Meeting> {
    let mut found: Vec<Meeting> = Vec::new();
    let mut open = vec![((*a, 0.0, 1.0), (*b, 0.0, 1.0))];
    let mut looked_at = 0;
    while let Some(((a_piece, a_from, a_to), (b_piece, b_from, b_to))) = open.pop() {
        looked_at += 1;
        if MOST_PAIRS < looked_at {
            break;
        }
        let (a_hull, b_hull) = (hull(&a_piece), hull(&b_piece));
        let (a_size, b_size) = (a_hull.width().max(a_hull.height()), b_hull.width().max(b_hull.height()));
        if !a_hull.inflate(1e-10, 1e-10).overlaps(b_hull) {
            continue;
        }
        if a_size.max(b_size) < 1e-5 {
            let guess = (0.5 * (a_from + a_to), 0.5 * (b_from + b_to));
            if let Some(it) = polished(a, b, guess) {
                add(&mut found, it);
            }
            continue;
        }
        // The larger of the two is halved.
        if b_size < a_size {
            let middle = 0.5 * (a_from + a_to);
            let (first, second) = a_piece.subdivide();
            let other = (b_piece, b_from, b_to);
            open.extend([((first, a_from, middle), other), ((second, middle, a_to), other)]);
        } else {
            let middle = 0.5 * (b_from + b_to);
            let (first, second) = b_piece.subdivide();
            let other = (a_piece, a_from, a_to);
            open.extend([(other, (first, b_from, middle)), (other, (second, middle, b_to))]);
        }
    }
    found
}

/// Newton's method on the difference of two curves; `None` where it leads away.
fn polished(a: &CubicBez, b: &CubicBez, (mut on_a, mut on_b): (f64, f64)) -> Option<Meeting> {
    let (edge_a, edge_b) = (Edge::Curve(*a), Edge::Curve(*b));
    for _ in 0..6 {
        let apart = b.eval(on_b) - a.eval(on_a);
        let (way_a, way_b) = (edge_a.toward(on_a), edge_b.toward(on_b));
        let area = way_a.cross(way_b);
        if area.abs() <= 1e-12 * way_a.hypot() * way_b.hypot() {
            break;
        }
        on_a = (on_a + apart.cross(way_b) / area).clamp(0.0, 1.0);
        on_b = (on_b + apart.cross(way_a) / area).clamp(0.0, 1.0);
    }
    let at = a.eval(on_a);
    ((b.eval(on_b) - at).hypot() <= SAME_MM).then_some(Meeting { on_a, on_b, at })
}

/// The place at which a curve crosses itself.
pub(super) fn own_crossing(curve: &CubicBez) -> Option<Point> {
    // B(s) = B(t) for s and t that differ means, in powers of the parameter,
    // a (s^2 + s t + t^2) + b (s + t) + c = 0 in x and in y: two equations, linear in the two sums.
    let a = curve.p3 - curve.p0 - 3.0 * (curve.p2 - curve.p1);
    let b = 3.0 * ((curve.p2 - curve.p1) - (curve.p1 - curve.p0));
    let c = 3.0 * (curve.p1 - curve.p0);
    let area = a.cross(b);
    if area.abs() <= 1e-12 * a.hypot() * b.hypot() {
        return None;
    }
    let squares = b.cross(c) / area;
    let sum = c.cross(a) / area;
    let times = sum * sum - squares;
    let root = (sum * sum - 4.0 * times).sqrt();
    let (first, second) = (0.5 * (sum - root), 0.5 * (sum + root));
    let is_inside = 1e-9 < root && 0.0 <= first && second <= 1.0;
    // A curve that only closes on itself has its common place at both ends.
    let is_closing = first <= 1e-9 && 1.0 - 1e-9 <= second;
    (is_inside && !is_closing).then(|| curve.eval(first))
}
