//! Least distance in the drawing plane between a stretch of axis and an edge. Knows no body.

use kurbo::{CubicBez, ParamCurve, ParamCurveNearest, Point, Vec2};

use super::clip::{bernstein, bernstein_turns};
use super::flat::ArcFrame;

/// A straight stretch in the drawing plane; of no length where the axis is upright.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stroke {
    /// Where it begins.
    pub(super) a: Point,
    /// Where it ends.
    pub(super) b: Point,
    way: Vec2,
    /// One over the square of its length; zero where it has none.
    per_square: f64,
}

impl Stroke {
    /// From one place to another.
    pub(super) fn new(a: Point, b: Point) -> Self {
        let way = b - a;
        let square = way.hypot2();
        Self { a, b, way, per_square: if 1e-18 < square { 1.0 / square } else { 0.0 } }
    }

    /// Square of the distance to a place.
    pub(super) fn square_to_place(&self, place: Point) -> f64 {
        let share = (self.way.dot(place - self.a) * self.per_square).clamp(0.0, 1.0);
        (self.a + self.way * share - place).hypot2()
    }

    /// The foot of a place on it, when that is not an end.
    fn foot(&self, place: Point) -> Option<Point> {
        let share = self.way.dot(place - self.a) * self.per_square;
        (0.0 < share && share < 1.0).then(|| self.a + self.way * share)
    }

    /// Least distance to an arc that it does not cross, given with its ends.
    pub(super) fn to_arc(self, arc: &ArcFrame, ends: [Point; 2]) -> f64 {
        let corners = ends.map(|it| self.square_to_place(it).sqrt());
        let own = place_to_arc(self.a, arc, ends).min(place_to_arc(self.b, arc, ends));
        let least = own.min(corners[0]).min(corners[1]);
        // From within a circle the middle of a stroke is farther from it than its ends.
        let is_within = arc.radius.is_some_and(|it| {
            let square = it * it;
            (self.a - arc.centre).hypot2() <= square && (self.b - arc.centre).hypot2() <= square
        });
        if self.per_square <= 0.0 || is_within {
            return least;
        }
        // Inside both, the nearest places are where the arc runs along the stroke.
        let top = arc.farthest(Vec2::new(-self.way.y, self.way.x));
        let along = [top, top + std::f64::consts::PI].into_iter().filter(|it| arc.has(*it));
        along
            .map(|it| arc.at(it))
            .filter_map(|it| self.foot(it).map(|foot| (foot - it).hypot()))
            .fold(least, f64::min)
    }

    /// Least distance to a curve that it does not cross.
    pub(super) fn to_curve(self, curve: &CubicBez) -> f64 {
        let ends = [curve.p0, curve.p3].map(|it| self.square_to_place(it).sqrt());
        let own = [self.a, self.b].map(|it| place_to_curve(it, curve));
        let least = ends[0].min(ends[1]).min(own[0]).min(own[1]);
        if self.per_square <= 0.0 {
            return least;
        }
        let off = [curve.p0, curve.p1, curve.p2, curve.p3].map(|it| self.way.cross(it - self.a));
        let turns = bernstein_turns(off).into_iter().filter(|it| 0.0 < *it && *it < 1.0);
        turns
            .map(|it| curve.eval(it))
            .filter_map(|it| self.foot(it).map(|foot| (foot - it).hypot()))
            .fold(least, f64::min)
    }
}

/// Distance from a place to an arc, given with its ends.
pub(super) fn place_to_arc(place: Point, arc: &ArcFrame, ends: [Point; 2]) -> f64 {
    let off = place - arc.centre;
    if let (Some(radius), true) = (arc.radius, arc.is_full) {
        return (off.hypot() - radius).abs();
    }
    let ends = ends.map(|it| (place - it).hypot());
    let least = ends[0].min(ends[1]);
    match arc.radius {
        Some(radius) => {
            let away = off.hypot();
            // At the centre every place of the arc is as near as every other.
            let angle = off.dot(arc.b).atan2(off.dot(arc.a));
            if away <= 0.0 || arc.has(angle) { (away - radius).abs().min(least) } else { least }
        }
        None => square_angles(off, arc)
            .into_iter()
            .filter(|it| arc.has(*it))
            .map(|it| (place - arc.at(it)).hypot())
            .fold(least, f64::min),
    }
}

/// Angles of an ellipse where the line from a place meets it square: up to four, and no place of the
/// whole ellipse is nearer than the nearest of them.
fn square_angles(off: Vec2, arc: &ArcFrame) -> Vec<f64> {
    let (a, b) = (arc.a.hypot(), arc.b.hypot());
    let (x, y) = (off.dot(arc.a) / a, off.dot(arc.b) / b);
    let bulge = b * b - a * a;
    // bulge sin cos + a x sin - b y cos = 0, written in the tangent of the half angle.
    let (p, q) = (b * y, a * x);
    let roots = kurbo::common::solve_quartic(-p, 2.0 * (bulge + q), 0.0, 2.0 * (q - bulge), p);
    let mut angles: Vec<f64> = roots.iter().map(|it| 2.0 * it.atan()).collect();
    // On an axis of the ellipse the quartic loses the far vertex, so all four are tried.
    angles.extend((0..4_u8).map(|it| f64::from(it) * std::f64::consts::FRAC_PI_2));
    for angle in &mut angles {
        for _ in 0..3 {
            let (sin, cos) = angle.sin_cos();
            let value = bulge * sin * cos + q * sin - p * cos;
            let slope = bulge * (cos * cos - sin * sin) + q * cos + p * sin;
            let step = value / slope;
            if step.is_finite() && step.abs() < 0.1 {
                *angle -= step;
            }
        }
    }
    angles
}

fn place_to_curve(place: Point, curve: &CubicBez) -> f64 {
    let mut share = curve.nearest(place, 1e-4).t;
    let x = [curve.p0, curve.p1, curve.p2, curve.p3].map(|it| it.x - place.x);
    let y = [curve.p0, curve.p1, curve.p2, curve.p3].map(|it| it.y - place.y);
    let square = |t: f64| bernstein(x, t).powi(2) + bernstein(y, t).powi(2);
    // Kurbo's answer is near; a few steps of the secant on the slope of the square make it exact.
    let slope = |c: [f64; 4], t: f64| {
        let r = 1.0 - t;
        3.0 * (r * r * (c[1] - c[0]) + 2.0 * r * t * (c[2] - c[1]) + t * t * (c[3] - c[2]))
    };
    let rise = |t: f64| bernstein(x, t) * slope(x, t) + bernstein(y, t) * slope(y, t);
    for _ in 0..4 {
        let (low, high) = ((share - 1e-5).max(0.0), (share + 1e-5).min(1.0));
        let bend = (rise(high) - rise(low)) / (high - low);
        let next = (share - rise(share) / bend).clamp(0.0, 1.0);
        if next.is_finite() && square(next) < square(share) {
            share = next;
        }
    }
    square(share).sqrt()
}
