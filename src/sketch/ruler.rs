//! Distance and angle between any two things: places, faces, shanks.

use kurbo::{Line, Point, Vec2};

/// A thing that is measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Thing {
    /// A place.
    Place(Point),
    /// A straight face, a middle line or a shank.
    Line(Line),
}

/// What lies between two things, in the drawing plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between {
    /// The least distance, millimetres; square to a face where one is measured from.
    pub mm: f64,
    /// From the one place to the other: to the right, and up.
    pub by: Vec2,
    /// The two places that lie nearest to each other.
    pub ends: (Point, Point),
    /// Between the two directions, from 0 to 90 degrees; of two places the rise of the way from one to the
    /// other, from -180 to 180. `None` where there is no direction.
    pub angle_deg: Option<f64>,
}

/// Lines that turn less than this against each other are parallel, in degrees.
const PARALLEL_DEG: f64 = 1e-6;

/// Measures from one thing to another.
///
/// From a place to a face, and between parallel faces, square to the face, which goes on beyond its ends;
/// between faces that are not parallel the least distance of what is drawn.
#[must_use]
pub fn between(one: Thing, other: Thing) -> Between {
    match (one, other) {
        (Thing::Place(a), Thing::Place(b)) => told((a, b), rise(b - a)),
        (Thing::Place(a), Thing::Line(line)) => told((a, foot(line, a)), None),
        (Thing::Line(line), Thing::Place(b)) => told((foot(line, b), b), None),
        (Thing::Line(a), Thing::Line(b)) => {
            let angle = angle(a, b);
            let ends = if angle.is_some_and(|it| it <= PARALLEL_DEG) {
                let from = a.midpoint();
                (from, foot(b, from))
            } else {
                nearest(a, b)
            };
            told(ends, angle)
        }
    }
}

fn told(ends: (Point, Point), angle_deg: Option<f64>) -> Between {
    let by = ends.1 - ends.0;
    Between { mm: by.hypot(), by, ends, angle_deg }
}

fn rise(way: Vec2) -> Option<f64> {
    (0.0 < way.hypot()).then(|| way.atan2().to_degrees())
}

/// The foot of a place on the whole line, or its one place where it has no length.
fn foot(line: Line, at: Point) -> Point {
    let way = line.p1 - line.p0;
    let size = way.hypot2();
    if size == 0.0 { line.p0 } else { line.p0 + way * ((at - line.p0).dot(way) / size) }
}

fn angle(a: Line, b: Line) -> Option<f64> {
    let (one, other) = (a.p1 - a.p0, b.p1 - b.p0);
    let (turn, along) = (one.cross(other).abs(), one.dot(other).abs());
    (0.0 < one.hypot() && 0.0 < other.hypot()).then(|| turn.atan2(along).to_degrees())
}

/// The nearest places of two stretches of line.
fn nearest(a: Line, b: Line) -> (Point, Point) {
    if let Some(at) = crossing(a, b) {
        return (at, at);
    }
    let clamped = |line: Line, at: Point| {
        let way = line.p1 - line.p0;
        let size = way.hypot2();
        if size == 0.0 { line.p0 } else { line.p0 + way * ((at - line.p0).dot(way) / size).clamp(0.0, 1.0) }
    };
    let pairs = [
        (a.p0, clamped(b, a.p0)),
        (a.p1, clamped(b, a.p1)),
        (clamped(a, b.p0), b.p0),
        (clamped(a, b.p1), b.p1),
    ];
    pairs
        .into_iter()
        .min_by(|x, y| (x.1 - x.0).hypot().total_cmp(&(y.1 - y.0).hypot()))
        .unwrap_or((a.p0, b.p0))
}

fn crossing(a: Line, b: Line) -> Option<Point> {
    let (one, other, between) = (a.p1 - a.p0, b.p1 - b.p0, b.p0 - a.p0);
    let turn = one.cross(other);
    if turn == 0.0 {
        return None;
    }
    let (s, t) = (between.cross(other) / turn, between.cross(one) / turn);
    ((0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t)).then(|| a.p0 + one * s)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(x: f64, y: f64) -> Thing {
        Thing::Place(Point::new(x, y))
    }

    fn line(x0: f64, y0: f64, x1: f64, y1: f64) -> Thing {
        Thing::Line(Line::new((x0, y0), (x1, y1)))
    }

    #[track_caller]
    fn case(one: Thing, other: Thing, mm: f64, degrees: Option<f64>) {
        for (a, b) in [(one, other), (other, one)] {
            let found = between(a, b);
            assert!((found.mm - mm).abs() < 1e-9, "{found:?}");
            match (found.angle_deg, degrees) {
                (Some(found), Some(wanted)) => {
                    // Seen the other way round, the way between two places rises the other way.
                    let turned = (found - wanted).abs().min((found.abs() + wanted.abs() - 180.0).abs());
                    assert!(turned < 1e-9, "{found} {wanted}");
                }
                (found, wanted) => assert_eq!(found, wanted),
            }
            assert!((found.by.hypot() - found.mm).abs() < 1e-9);
        }
    }

    #[test]
    fn distance_and_angle_by_hand() {
        case(place(0.0, 0.0), place(3.0, 4.0), 5.0, Some(4.0_f64.atan2(3.0).to_degrees()));
        case(place(1.0, 1.0), place(1.0, 1.0), 0.0, None);
        // The face goes on beyond its ends.
        case(place(50.0, 7.0), line(0.0, 0.0, 10.0, 0.0), 7.0, None);
        case(line(0.0, 0.0, 10.0, 0.0), line(100.0, 12.0, 20.0, 12.0), 12.0, Some(0.0));
        case(line(0.0, 0.0, 10.0, 0.0), line(5.0, 3.0, 5.0, 9.0), 3.0, Some(90.0));
        case(line(0.0, 0.0, 10.0, 0.0), line(5.0, -3.0, 5.0, 9.0), 0.0, Some(90.0));
        case(line(0.0, 0.0, 10.0, 0.0), line(13.0, 4.0, 20.0, 11.0), 5.0, Some(45.0));
        case(line(2.0, 2.0, 2.0, 2.0), place(2.0, 5.0), 3.0, None);
    }
}
