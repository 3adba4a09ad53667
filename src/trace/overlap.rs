//! Bodies that take the same place, which wood and steel cannot.
//!
//! Faces that run into each other by no more than [`TOUCH_MM`] touch. So the common part must hold
//! a circle of that diameter; a sliver as long as a board but thinner is no overlap.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use kurbo::{Line, ParamCurveNearest, PathEl, Point, Rect};

use super::boxes::{Box3, Boxes};
use super::{Body, BodyIx, Overlap, TOUCH_MM};
use crate::shape::Region;
use crate::unit::Vec3;

/// Arcs and curves are replaced by chords that depart by no more than this.
const FLAT_MM: f64 = 0.001;

/// Squares in which a deep place is looked for before the common part counts as a sliver.
const MOST_CELLS: usize = 20_000;

/// Edges opposite which a deep place is looked for first.
const MOST_PROBES: usize = 256;

/// A closed ring of corners.
type Ring = Vec<[f64; 2]>;

/// All pairs of bodies that take the same place, by the lower body, then the higher.
pub(super) fn overlaps(bodies: &[Body]) -> Vec<Overlap> {
    let plans: Vec<Rect> = bodies.iter().map(|it| it.region.bounds()).collect();
    let boxes: Vec<Box3> = bodies.iter().zip(&plans).map(|(body, plan)| around(body, *plan)).collect();
    let index = Boxes::of(&boxes);
    let mut rings: Vec<Option<Vec<Ring>>> = vec![None; bodies.len()];
    let mut found = Vec::new();
    for (under, window) in boxes.iter().enumerate() {
        let mut near: Vec<usize> = Vec::new();
        index.visit(window, |it| {
            near.push(it as usize);
            true
        });
        near.retain(|over| {
            let common = plans[under].intersect(plans[*over]);
            under < *over && TOUCH_MM < common.width().min(common.height())
        });
        near.sort_unstable();
        for over in near {
            let depth = common_depth(&bodies[under], &bodies[over]);
            if depth.1 - depth.0 <= TOUCH_MM {
                continue;
            }
            for it in [under, over] {
                rings[it].get_or_insert_with(|| flat(&bodies[it].region));
            }
            let (Some(a), Some(b)) = (&rings[under], &rings[over]) else { continue };
            if let Some((area_mm2, place)) = common_area(a, b) {
                let at = Vec3::new(place.x, place.y, 0.5 * (depth.0 + depth.1));
                let (under, over) = (BodyIx(under), BodyIx(over));
                found.push(Overlap { under, over, area_mm2, depth_mm: depth.1 - depth.0, at });
            }
        }
    }
    found
}

fn around(body: &Body, plan: Rect) -> Box3 {
    Box3::around(Vec3::new(plan.x0, plan.y0, body.far_mm), Vec3::new(plan.x1, plan.y1, body.near_mm), 0.0)
}

fn common_depth(a: &Body, b: &Body) -> (f64, f64) {
    (a.far_mm.max(b.far_mm), a.near_mm.min(b.near_mm))
}

fn flat(region: &Region) -> Vec<Ring> {
    let mut rings: Vec<Ring> = Vec::new();
    kurbo::flatten(region.to_path(), FLAT_MM, |element| match element {
        PathEl::MoveTo(it) => rings.push(vec![[it.x, it.y]]),
        PathEl::LineTo(it) => {
            if let Some(ring) = rings.last_mut() {
                ring.push([it.x, it.y]);
            }
        }
        // Rings close themselves, and what was flattened holds no curve.
        PathEl::ClosePath | PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    rings
}

/// The area that two sections have in common, slivers left out, and a place well inside it.
fn common_area(a: &[Ring], b: &[Ring]) -> Option<(f64, Point)> {
    let shapes = a.to_vec().overlay_as::<i64>(&b.to_vec(), OverlayRule::Intersect, FillRule::EvenOdd);
    let mut area = 0.0;
    let mut deepest: Option<(f64, Point)> = None;
    for shape in &shapes {
        let Some((depth, place)) = deep_place(shape) else { continue };
        area += shape_area(shape);
        if deepest.is_none_or(|it| it.0 < depth) {
            deepest = Some((depth, place));
        }
    }
    deepest.map(|it| (area, it.1))
}

fn shape_area(shape: &[Ring]) -> f64 {
    let area =
        |ring: &Ring| Region::polygon(&ring.iter().map(|it| Point::from((it[0], it[1]))).collect::<Vec<_>>());
    let areas: Vec<f64> = shape.iter().map(|it| area(it).area_mm2()).collect();
    areas.first().map_or(0.0, |outer| outer - areas[1..].iter().sum::<f64>())
}

/// A place that lies about as deep in a shape as any, and how deep; `None` when none lies deeper
/// than half of [`TOUCH_MM`].
fn deep_place(shape: &[Ring]) -> Option<(f64, Point)> {
    let edges: Vec<Line> = shape
        .iter()
        .flat_map(|ring| ring.iter().zip(ring.iter().cycle().skip(1)))
        .map(|(a, b)| Line::new((a[0], a[1]), (b[0], b[1])))
        .collect();
    let bounds = edges.iter().map(|it| Rect::from_points(it.p0, it.p1)).reduce(|a, b| a.union(b))?;
    if thinnest(&edges) <= TOUCH_MM {
        return None;
    }
    // Squares that may hold a deeper place than the best so far are quartered.
    let side = bounds.width().min(bounds.height());
    let (columns, rows) =
        ((bounds.width() / side).ceil().min(64.0), (bounds.height() / side).ceil().min(64.0));
    let mut half = 0.5 * (bounds.width() / columns).max(bounds.height() / rows);
    let count = |it: f64| (0..64_u32).map(f64::from).take_while(move |n| *n < it);
    let mut cells: Vec<Point> = count(columns)
        .flat_map(|x| count(rows).map(move |y| (x, y)))
        .map(|(x, y)| {
            Point::new((2.0 * x + 1.0).mul_add(half, bounds.x0), (2.0 * y + 1.0).mul_add(half, bounds.y0))
        })
        .collect();
    let (mut best, mut place) = (0.5 * TOUCH_MM, None);
    for probe in edges.iter().take(MOST_PROBES).filter_map(|it| opposite(&edges, *it)) {
        let depth = depth_in(&edges, probe);
        if best < depth {
            (best, place) = (depth, Some(probe));
        }
    }
    let mut looked_at = 0;
    while !cells.is_empty() && looked_at < MOST_CELLS {
        looked_at += cells.len();
        let depths: Vec<f64> = cells.iter().map(|it| depth_in(&edges, *it)).collect();
        for (cell, depth) in cells.iter().zip(&depths) {
            if best < *depth {
                (best, place) = (*depth, Some(*cell));
            }
        }
        let reach = half * std::f64::consts::SQRT_2;
        let may_be_deeper = |depth: f64| 1.1 * best < depth + reach;
        let open = cells.iter().zip(&depths).filter(|it| may_be_deeper(*it.1)).map(|it| *it.0);
        half *= 0.5;
        let quarters = [(-half, -half), (half, -half), (half, half), (-half, half)];
        cells = open.flat_map(|it| quarters.map(|by| it + by)).collect();
    }
    place.map(|it| (best, it))
}

/// The place halfway between the middle of an edge and what lies opposite it: in a long thin part,
/// the deepest there is.
fn opposite(edges: &[Line], edge: Line) -> Option<Point> {
    let way = (edge.p1 - edge.p0).normalize();
    let (from, across) = (edge.p0.midpoint(edge.p1), kurbo::Vec2::new(-way.y, way.x));
    let hits = edges.iter().filter_map(|it| {
        let along = it.p1 - it.p0;
        let area = across.cross(along);
        let (far, share) = ((it.p0 - from).cross(along) / area, (it.p0 - from).cross(across) / area);
        ((0.0..=1.0).contains(&share) && 1e-9 < far.abs()).then_some(far)
    });
    // Both ways, for a ring may run either way round.
    let far = hits.min_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    Some(from + across * (0.5 * far))
}

/// How deep a place lies in a shape: the distance to its border, negative outside.
fn depth_in(edges: &[Line], place: Point) -> f64 {
    let mut is_inside = false;
    let mut nearest = f64::INFINITY;
    for edge in edges {
        nearest = nearest.min(edge.nearest(place, 0.0).distance_sq);
        if (edge.p0.y <= place.y) != (edge.p1.y <= place.y) {
            let share = (place.y - edge.p0.y) / (edge.p1.y - edge.p0.y);
            is_inside ^= place.x < (edge.p1.x - edge.p0.x).mul_add(share, edge.p0.x);
        }
    }
    if is_inside { nearest.sqrt() } else { -nearest.sqrt() }
}

/// The width of a shape square to the one of its longest edges' directions in which it is thinnest.
fn thinnest(edges: &[Line]) -> f64 {
    let longest = edges.iter().max_by(|a, b| (a.p1 - a.p0).hypot2().total_cmp(&(b.p1 - b.p0).hypot2()));
    let Some(longest) = longest else { return 0.0 };
    let way = (longest.p1 - longest.p0).normalize();
    let off = edges.iter().map(|it| way.cross(it.p0 - longest.p0));
    let (low, high) = off.fold((f64::INFINITY, f64::NEG_INFINITY), |a, it| (a.0.min(it), a.1.max(it)));
    high - low
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Grain;
    use crate::trace::{Owner, Stuff};

    fn body(region: Region, far_mm: f64, near_mm: f64) -> Body {
        Body { owner: Owner::Member(0), stuff: Stuff::Bearing, region, far_mm, near_mm, grain: Grain::None }
    }

    fn board(x: f64, width: f64) -> Region {
        Region::rectangle(Point::new(x, 0.0), (width, 3000.0), 0.0)
    }

    #[track_caller]
    fn check(a: &Body, b: &Body, by_hand: Option<(f64, f64)>) {
        let found = overlaps(&[a.clone(), b.clone()]);
        let Some((area, depth)) = by_hand else {
            assert_eq!(found, []);
            return;
        };
        let [it] = found[..] else { panic!("{found:?}") };
        assert!((it.area_mm2 - area).abs() < 1e-3 * area.sqrt(), "{} is not {area}", it.area_mm2);
        assert!((it.depth_mm - depth).abs() < 1e-9, "{} is not {depth}", it.depth_mm);
        assert_eq!((it.under, it.over), (BodyIx(0), BodyIx(1)));
        for body in [a, b] {
            assert!(body.region.contains(it.at.plan()) && body.far_mm < it.at.z && it.at.z < body.near_mm);
        }
    }

    #[test]
    fn boards_that_touch_do_not_overlap() {
        let first = body(board(0.0, 38.1), 0.0, 100.0);
        check(&first, &body(board(38.1, 38.1), 0.0, 100.0), None);
        check(&first, &body(board(38.1 - 0.009, 38.1), 0.0, 100.0), None);
        check(&first, &body(board(38.1 - 0.011, 38.1), 0.0, 100.0), Some((33.0, 100.0)));
        check(&first, &body(board(38.1 - 1.0, 38.1), 20.0, 150.0), Some((3000.0, 80.0)));
        check(&first, &body(board(0.0, 38.1), 99.995, 150.0), None);
        check(&first, &body(board(0.0, 38.1), 99.0, 150.0), Some((38.1 * 3000.0, 1.0)));
        check(&first, &first, Some((38.1 * 3000.0, 100.0)));
    }

    #[test]
    fn turned_boards_touch_as_well() {
        let turned = |off: f64| {
            let (sin, cos) = 30.0_f64.to_radians().sin_cos();
            let corner = Point::new(-sin * off, cos * off);
            body(Region::rectangle(corner, (3000.0, 38.1), 30.0), 0.0, 10.0)
        };
        check(&turned(0.0), &turned(38.1), None);
        check(&turned(0.0), &turned(38.1 - 0.009), None);
        check(&turned(0.0), &turned(38.1 - 0.02), Some((60.0, 10.0)));
        check(&turned(0.0), &turned(30.0), Some((3000.0 * 8.1, 10.0)));
    }

    #[test]
    fn a_post_in_its_hole_touches_and_a_thicker_one_does_not_fit() {
        let place = Point::new(50.0, 50.0);
        let plate = Region::rectangle(Point::ZERO, (100.0, 100.0), 0.0);
        let drilled = body(plate.minus(&[Region::round(place, 40.0)]), 0.0, 10.0);
        let post = |diameter: f64| body(Region::round(place, diameter), -500.0, 500.0);
        check(&drilled, &post(40.0), None);
        check(&drilled, &post(40.015), None);
        let ring = std::f64::consts::PI * (21.0_f64.powi(2) - 20.0_f64.powi(2));
        check(&drilled, &post(42.0), Some((ring, 10.0)));
    }

    #[test]
    fn pairs_come_in_order_and_far_bodies_not_at_all() {
        let bodies: Vec<Body> = [0.0, 200.0, 20.0, 210.0].map(|x| body(board(x, 38.1), 0.0, 9.0)).to_vec();
        let pairs: Vec<(usize, usize)> = overlaps(&bodies).iter().map(|it| (it.under.0, it.over.0)).collect();
        assert_eq!(pairs, [(0, 2), (1, 3)]);
        assert_eq!(overlaps(&[]), []);
        assert_eq!(overlaps(&[body(Region::default(), 0.0, 9.0), bodies[0].clone()]), []);
    }
}
