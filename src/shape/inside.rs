//! Whether a place lies in a region, with one answer for every place on a border.
//!
//! A ray from the place to the right is followed; the place is inside when it crosses an odd
//! number of edges. An edge owns its lower end and not its upper one, and a place on the edge
//! counts as lying to the right of it. Both are found by the same arithmetic for the region on
//! either side of a shared edge, so exactly one of the two contains a place on it.

use std::f64::consts::{PI, TAU};

use kurbo::{Arc, CubicBez, Line, ParamCurve, Point};

use super::edge::{extreme_angles, in_unit_frame, on_arc};
use super::measure::corner;
use super::{Edge, Region};

impl Region {
    /// Whether the place lies inside. Half-open: of two regions that share an edge, exactly one
    /// contains a place on it, the one that lies to the right of it (above it, when it is level).
    #[must_use]
    pub fn contains(&self, place: Point) -> bool {
        let mut is_inside = false;
        for edges in &self.loops {
            for (n, edge) in edges.iter().enumerate() {
                is_inside ^= match edge {
                    Edge::Line(line) => line_lies_right_of(*line, place),
                    Edge::Arc(arc) => {
                        let ends = (corner(edges, n), corner(edges, (n + 1) % edges.len()));
                        crosses_arc(arc, ends, place)
                    }
                    Edge::Curve(curve) => crosses_curve(*curve, place),
                };
            }
        }
        is_inside
    }
}

/// Whether a stretch between two heights owns this height: the lower end, not the upper one.
fn spans(a: f64, b: f64, height: f64) -> bool {
    (a <= height) != (b <= height)
}

fn line_lies_right_of(line: Line, place: Point) -> bool {
    if !spans(line.p0.y, line.p1.y, place.y) {
        return false;
    }
    // Always from the lower end to the upper one, whichever way the region runs it.
    let (low, high) = if line.p0.y < line.p1.y { (line.p0, line.p1) } else { (line.p1, line.p0) };
    let coord = |it: Point| robust::Coord { x: it.x, y: it.y };
    0.0 < robust::orient2d(coord(low), coord(high), coord(place))
}

/// Whether the ray crosses an arc an odd number of times. `ends` are its corners in the loop.
fn crosses_arc(arc: &Arc, ends: (Point, Point), place: Point) -> bool {
    let (top, _) = extreme_angles(arc);
    // Seen as run anticlockwise, and measured from the top of the ellipse.
    let (first, last, start) = if arc.sweep_angle < 0.0 {
        (ends.1, ends.0, arc.start_angle + arc.sweep_angle)
    } else {
        (ends.0, ends.1, arc.start_angle)
    };
    let (highest, lowest) = (on_arc(arc, top), on_arc(arc, top + PI));
    let from = (start - top).rem_euclid(TAU);
    let to = from + arc.sweep_angle.abs().min(TAU);
    let mut crosses = false;
    let mut at = first.y;
    // From the top down the left side, from the bottom up the right side.
    let mut half = if from < PI { Half::Left } else { Half::Right };
    let mut turn = if from < PI { PI } else { TAU };
    while turn < to {
        let next = if half == Half::Left { lowest.y } else { highest.y };
        crosses ^= spans(at, next, place.y) && half_lies_right_of(arc, half, (lowest, highest), place);
        at = next;
        half = if half == Half::Left { Half::Right } else { Half::Left };
        turn += PI;
    }
    crosses ^ (spans(at, last.y, place.y) && half_lies_right_of(arc, half, (lowest, highest), place))
}

/// The halves of an ellipse on either side of its highest and lowest place.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Half {
    Left,
    Right,
}

fn half_lies_right_of(arc: &Arc, half: Half, (low, high): (Point, Point), place: Point) -> bool {
    let outward = beyond(arc, place);
    // The middle of the ellipse at this height.
    let share = (place.y - low.y) / (high.y - low.y);
    let middle = (high.x - low.x).mul_add(share, low.x);
    match half {
        Half::Right => outward < 0.0 || place.x < middle,
        Half::Left => 0.0 < outward && place.x < middle,
    }
}

/// Negative inside the arc's ellipse, zero on it, positive outside; the same for an arc run either way.
pub(super) fn beyond(arc: &Arc, place: Point) -> f64 {
    if (arc.radii.x - arc.radii.y).abs() <= 0.0 {
        let it = place - arc.center;
        return it.x * it.x + it.y * it.y - arc.radii.x * arc.radii.x;
    }
    in_unit_frame(arc, place).hypot2() - 1.0
}

/// Whether the ray crosses a curve an odd number of times.
fn crosses_curve(curve: CubicBez, place: Point) -> bool {
    let hull = [curve.p0, curve.p1, curve.p2, curve.p3];
    let right = hull.iter().fold(f64::NEG_INFINITY, |a, it| a.max(it.x));
    let left = hull.iter().fold(f64::INFINITY, |a, it| a.min(it.x));
    if right <= place.x {
        return false;
    }
    if place.x < left {
        return spans(curve.p0.y, curve.p3.y, place.y);
    }
    let curve = run_upward(curve);
    let mut crosses = false;
    let (mut from, mut at) = (0.0, curve.p0.y);
    for to in level_shares(&curve).into_iter().chain([1.0]) {
        let next = if to < 1.0 { curve.eval(to).y } else { curve.p3.y };
        if spans(at, next, place.y) {
            crosses ^= place.x < curve.eval(share_at_height(&curve, (from, to), place.y)).x;
        }
        (from, at) = (to, next);
    }
    crosses
}

/// The curve run in the one sense that both of its sides agree on.
fn run_upward(curve: CubicBez) -> CubicBez {
    let key = |it: Point| (it.y, it.x);
    let keys = (key(curve.p0), key(curve.p1));
    let other = (key(curve.p3), key(curve.p2));
    if other < keys { CubicBez::new(curve.p3, curve.p2, curve.p1, curve.p0) } else { curve }
}

/// Shares, in order, at which the curve runs level.
fn level_shares(curve: &CubicBez) -> Vec<f64> {
    let (a, b, c) = (curve.p1.y - curve.p0.y, curve.p2.y - curve.p1.y, curve.p3.y - curve.p2.y);
    let mut shares: Vec<f64> = kurbo::common::solve_quadratic(a, 2.0 * (b - a), a - 2.0 * b + c)
        .into_iter()
        .filter(|it| 0.0 < *it && *it < 1.0)
        .collect();
    shares.sort_by(f64::total_cmp);
    shares
}

/// Where a stretch that only rises or only falls meets a height, by halving to the last bit.
fn share_at_height(curve: &CubicBez, (from, to): (f64, f64), height: f64) -> f64 {
    let rises = curve.eval(from).y < curve.eval(to).y;
    let (mut low, mut high) = (from, to);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if (curve.eval(middle).y <= height) == rises {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn path(data: &str) -> Region {
        Region::path(data).expect("the test's own path data is sound")
    }

    #[test]
    fn a_border_belongs_to_the_region_to_its_right_and_above() {
        let unit = path("M0 0H1V1H0Z");
        for (x, y, owns) in [
            (0.5, 0.5, true),
            (0.0, 0.5, true),
            (1.0, 0.5, false),
            (0.5, 0.0, true),
            (0.5, 1.0, false),
            (0.0, 0.0, true),
            (1.0, 0.0, false),
            (0.0, 1.0, false),
            (1.0, 1.0, false),
        ] {
            assert_eq!(unit.contains(Point::new(x, y)), owns, "{x} {y}");
        }
    }

    /// Pairs that fill the square from -10 to 10 between them.
    const SHARED: &[(&str, &str)] = &[
        ("M-10 -10H2V10H-10Z", "M2 -10H10V10H2Z"),
        ("M-10 -10H10V-2H-10Z", "M-10 -2H10V10H-10Z"),
        ("M-10 -10H10L-10 10Z", "M10 -10V10H-10Z"),
        ("M-10 -10H-7L3 1L7 10H-10Z", "M-7 -10H10V10H7L3 1Z"),
        // A round post of radius 5 in its hole: 3-4-5 places lie exactly on it.
        ("M-5 0A5 5 0 0 1 5 0A5 5 0 0 1 -5 0Z", "M-10 -10H10V10H-10Z M-5 0A5 5 0 0 1 5 0A5 5 0 0 1 -5 0Z"),
        // Half circles shared, run both ways.
        ("M-10 -10H0V-5A5 5 0 0 1 0 5V10H-10Z", "M0 -10H10V10H0V5A5 5 0 0 0 0 -5Z"),
        ("M-10 -10H10V0H5A5 5 0 0 0 -5 0H-10Z", "M-10 0H-5A5 5 0 0 1 5 0H10V10H-10Z"),
        // A turned ellipse and a curve.
        (
            "M-10 -10H-3V-4A5 2 53.13010235415598 0 1 3 4V10H-10Z",
            "M-3 -10H10V10H3V4A5 2 53.13010235415598 0 0 -3 -4Z",
        ),
        ("M-10 -10H-6C9 -2 -9 5 6 10H-10Z", "M-6 -10H10V10H6C-9 5 9 -2 -6 -10Z"),
    ];

    #[test]
    fn of_two_regions_that_share_an_edge_exactly_one_contains_a_place_on_it() {
        for (a, b) in SHARED {
            let (one, other) = (path(a), path(b));
            let whole = path("M-10 -10H10V10H-10Z");
            let grid =
                (-44..=44).flat_map(|x| (-44..=44).map(move |y| (f64::from(x) / 4.0, f64::from(y) / 4.0)));
            let on_edges = one
                .loops
                .iter()
                .flatten()
                .flat_map(|edge| (0..=64).map(|n| edge.at(f64::from(n) / 64.0)).map(|it| (it.x, it.y)));
            for (x, y) in grid.chain(on_edges) {
                let place = Point::new(x, y);
                let owners = usize::from(one.contains(place)) + usize::from(other.contains(place));
                assert_eq!(owners, usize::from(whole.contains(place)), "{a} | {b} at {x} {y}");
            }
        }
    }

    #[test]
    fn a_full_circle_is_asked_by_its_equation() {
        let round = Region::round(Point::new(1.0, 2.0), 10.0);
        for n in 0..3600 {
            let angle = f64::from(n).to_radians() * 0.1;
            let at = |r: f64| Point::new(1.0 + r * angle.cos(), 2.0 + r * angle.sin());
            assert!(round.contains(at(5.0 - 1e-9)), "{n}");
            assert!(!round.contains(at(5.0 + 1e-9)), "{n}");
        }
        assert!(round.contains(Point::new(-4.0, 2.0)) && !round.contains(Point::new(6.0, 2.0)));
    }
}
