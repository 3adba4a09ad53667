//! What a region measures: its area and its box; and its outline as one path.

use kurbo::{BezPath, ParamCurveArea, PathEl, Point, Rect, Vec2};

use super::{Edge, Region};

/// The path for drawing departs from an arc by no more than this.
const PATH_MM: f64 = 0.001;

impl Region {
    /// The enclosed area in square millimetres, never negative. Exact up to rounding, arcs and curves included.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        self.loops.iter().map(|it| signed_area(it)).sum::<f64>().max(0.0)
    }

    /// The least upright box that holds the region; a box of no size at the origin when it is empty.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let boxes = self.loops.iter().flatten().map(Edge::bounds);
        boxes.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO)
    }

    /// The loops as one path for drawing; arcs become curves within a thousandth of a millimetre.
    #[must_use]
    pub fn to_path(&self) -> BezPath {
        let mut path = BezPath::new();
        for edges in &self.loops {
            if edges.is_empty() {
                continue;
            }
            path.move_to(corner(edges, 0));
            for (n, edge) in edges.iter().enumerate() {
                let end = corner(edges, (n + 1) % edges.len());
                append(&mut path, edge, end, n + 1 == edges.len());
            }
            path.close_path();
        }
        path
    }
}

fn append(path: &mut BezPath, edge: &Edge, end: Point, is_last: bool) {
    match edge {
        // The last straight piece is the closing one.
        Edge::Line(_) if is_last => {}
        Edge::Line(_) => path.line_to(end),
        Edge::Curve(curve) => path.curve_to(curve.p1, curve.p2, end),
        Edge::Arc(arc) => {
            // On a huge circle the step is kept within what a path can hold.
            let tolerance = PATH_MM.max(1e-9 * arc.radii.x.max(arc.radii.y));
            let mut pieces: Vec<PathEl> = arc.append_iter(tolerance).collect();
            if let Some(PathEl::CurveTo(_, _, last)) = pieces.last_mut() {
                *last = end;
            }
            path.extend(pieces);
        }
    }
}

/// The corner where edge `n` of a loop begins, the same to the last bit for both edges that meet there.
///
/// Lines and curves hold their ends; an arc is calculated from its angles and so takes its
/// corners from its neighbours.
#[must_use]
pub(super) fn corner(edges: &[Edge], n: usize) -> Point {
    let before = &edges[(n + edges.len() - 1) % edges.len()];
    match (before, &edges[n]) {
        (_, Edge::Line(line)) => line.p0,
        (Edge::Line(line), _) => line.p1,
        (_, Edge::Curve(curve)) => curve.p0,
        (Edge::Curve(curve), _) => curve.p3,
        (Edge::Arc(_), own @ Edge::Arc(_)) => own.start(),
    }
}

/// The area inside a closed loop, positive when it runs anticlockwise: Green's theorem, edge by edge.
pub(super) fn signed_area(edges: &[Edge]) -> f64 {
    if edges.is_empty() {
        return 0.0;
    }
    // Measured from a corner of the loop, so that nothing is lost far from the origin.
    let origin = corner(edges, 0);
    let mut sum = 0.0;
    for (n, edge) in edges.iter().enumerate() {
        let (start, end) = (corner(edges, n) - origin, corner(edges, (n + 1) % edges.len()) - origin);
        sum += match edge {
            Edge::Line(_) => 0.5 * start.cross(end),
            Edge::Arc(arc) => {
                let centre: Vec2 = arc.center - origin;
                0.5 * (arc.radii.x * arc.radii.y).mul_add(arc.sweep_angle, centre.cross(end - start))
            }
            Edge::Curve(curve) => (kurbo::Affine::translate(-origin.to_vec2()) * *curve).signed_area(),
        };
    }
    sum
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    #[track_caller]
    fn area(region: &Region, by_hand: f64) {
        let area = region.area_mm2();
        assert!((area - by_hand).abs() <= 1e-12 * by_hand.abs().max(1.0), "{area} is not {by_hand}");
    }

    #[track_caller]
    fn path(data: &str) -> Region {
        Region::path(data).expect("the test's own path data is sound")
    }

    // The formulas of plane geometry: common practice.
    #[test]
    fn areas_are_those_of_the_formulas() {
        let at = |x: f64, y: f64| Point::new(x, y);
        area(&Region::rectangle(at(3.0, -2.0), (38.1, 184.15), 0.0), 38.1 * 184.15);
        area(&Region::rectangle(at(3.0, -2.0), (38.0, 184.0), 33.0), 38.0 * 184.0);
        area(&Region::polygon(&[at(0.0, 0.0), at(4.0, 0.0), at(0.0, 3.0)]), 6.0);
        area(&Region::polygon(&[at(0.0, 3.0), at(4.0, 0.0), at(0.0, 0.0)]), 6.0);
        area(&Region::round(at(7e4, -3e4), 12.0), PI * 36.0);
        // A half circle, both ways of the sweep flag.
        area(&path("M -5 0 A 5 5 0 0 1 5 0 Z"), 12.5 * PI);
        area(&path("M -5 0 A 5 5 0 0 0 5 0 Z"), 12.5 * PI);
        // A three-quarter circle with a square corner.
        area(&path("M 5 0 A 5 5 0 1 1 0 -5 L 0 0 Z"), 0.75 * 25.0 * PI);
        // A whole ellipse of two arcs, turned.
        area(&path("M -8 0 A 8 3 0 0 1 8 0 A 8 3 0 0 1 -8 0 Z"), 24.0 * PI);
        area(
            &path("M -3 4 a 5 2 126.86989764584402 0 1 6 -8 a 5 2 126.86989764584402 0 1 -6 8 z"),
            10.0 * PI,
        );
        // Under a parabola y = 1 - x^2 from -1 to 1: 4/3.
        area(&path("M 1 0 Q 0 2 -1 0 Z"), 4.0 / 3.0);
        // Under B(t) with control heights 0 1 1 0 over 0..3: 3 * 3/4 * 2/3 = 3/2 at even spacing.
        area(&path("M 0 0 C 1 1 2 1 3 0 Z"), 1.5);
        // Even-odd: a square with a square hole with a square island.
        area(&path("M0 0H9V9H0Z M3 3H6V6H3Z M4 4v1h1v-1z"), 81.0 - 9.0 + 1.0);
    }

    #[test]
    fn outer_loops_run_anticlockwise_and_holes_clockwise() {
        for data in [
            "M0 0H9V9H0Z M3 3H6V6H3Z M4 4v1h1v-1z",
            "M0 0V9H9V0Z M3 3V6H6V3Z M4 4h1v1h-1z",
            "M4 4h1v1h-1z M3 3V6H6V3Z M0 0H9V9H0Z",
        ] {
            let mut areas: Vec<f64> = path(data).loops.iter().map(|it| signed_area(it)).collect();
            areas.sort_by(f64::total_cmp);
            assert_eq!(areas, [-9.0, 1.0, 81.0], "{data}");
        }
    }

    #[test]
    fn a_path_for_drawing_keeps_the_area_and_the_corners() {
        let region = path("M 0 0 H 40 A 10 10 0 0 1 40 20 L 0 20 Q -5 10 0 0 Z");
        let drawn = region.to_path();
        assert!((kurbo::Shape::area(&drawn) - region.area_mm2()).abs() < 0.02);
        assert_eq!(drawn.elements().first(), Some(&PathEl::MoveTo(Point::new(0.0, 0.0))));
        assert_eq!(drawn.elements().last(), Some(&PathEl::ClosePath));
        let round = Region::round(Point::new(1.0, 2.0), 10.0);
        assert!((kurbo::Shape::area(&round.to_path()) - 25.0 * PI).abs() < 0.03);
    }

    #[test]
    fn a_box_holds_the_bulge_of_an_arc() {
        let close = |a: Rect, b: Rect| {
            let d = [a.x0 - b.x0, a.y0 - b.y0, a.x1 - b.x1, a.y1 - b.y1];
            assert!(d.iter().all(|it| it.abs() < 1e-12), "{a:?} is not {b:?}");
        };
        close(path("M 0 0 H 40 A 10 10 0 0 1 40 20 H 0 Z").bounds(), Rect::new(0.0, 0.0, 50.0, 20.0));
        close(path("M 0 0 H 40 A 10 10 0 0 0 40 20 H 0 Z").bounds(), Rect::new(0.0, 0.0, 40.0, 20.0));
        close(Region::round(Point::new(3.0, 4.0), 10.0).bounds(), Rect::new(-2.0, -1.0, 8.0, 9.0));
        close(path("M 1 0 Q 0 2 -1 0 Z").bounds(), Rect::new(-1.0, 0.0, 1.0, 1.0));
        // An ellipse 5 by 3 turned by 90 degrees.
        close(path("M0 -5A5 3 90 0 1 0 5A5 3 90 0 1 0 -5Z").bounds(), Rect::new(-3.0, -5.0, 3.0, 5.0));
    }
}
