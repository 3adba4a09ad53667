//! Regions against general-purpose libraries: `geo` for polygons, kurbo's own paths for curves.

use geo::{Area, BooleanOps, Contains, Coord, LineString, Polygon};
use kurbo::{Point, Shape};
use shankline::shape::{Edge, Region};

use crate::dice::Dice;

fn for_geo(corners: &[Point]) -> Polygon {
    let ring: LineString = corners.iter().map(|it| Coord { x: it.x, y: it.y }).collect();
    Polygon::new(ring, Vec::new())
}

/// Distance from a place to the nearest border, by dense sampling: good to about a hundredth of an edge.
fn near_border(region: &Region, place: Point) -> f64 {
    let edges = region.loops.iter().flatten();
    let samples = edges.flat_map(|edge| (0..=200).map(|n| edge.at(f64::from(n) / 200.0)));
    samples.map(|it| (it - place).hypot()).fold(f64::INFINITY, f64::min)
}

#[test]
fn a_polygon_has_the_area_and_the_inside_that_geo_finds() {
    for seed in 0..1500 {
        let mut dice = Dice::new(seed);
        let corners = 3 + dice.below(9);
        let middle = dice.place(1000.0);
        let corners = dice.star(middle, 200.0, corners);
        let (ours, other) = (Region::polygon(&corners), for_geo(&corners));
        assert!((ours.area_mm2() - other.unsigned_area()).abs() < 1e-8, "seed {seed}");
        assert_eq!(ours.self_crossing(), None, "seed {seed}");
        for _ in 0..40 {
            let place = middle + dice.place(220.0).to_vec2();
            assert_eq!(
                ours.contains(place),
                other.contains(&geo::Point::new(place.x, place.y)),
                "seed {seed}"
            );
        }
    }
}

#[test]
fn cut_polygons_have_the_area_that_geo_finds() {
    for seed in 0..1500 {
        let mut dice = Dice::new(seed);
        let whole = {
            let corners = 3 + dice.below(9);
            dice.star(Point::ZERO, 200.0, corners)
        };
        let cuts: Vec<Vec<Point>> = (0..1 + dice.below(4))
            .map(|_| {
                let (corners, middle) = (3 + dice.below(5), dice.place(160.0));
                dice.star(middle, 90.0, corners)
            })
            .collect();
        let regions: Vec<Region> = cuts.iter().map(|it| Region::polygon(it)).collect();
        let ours = Region::polygon(&whole).minus(&regions);
        let start = geo::MultiPolygon::new(vec![for_geo(&whole)]);
        let other = cuts.iter().fold(start, |rest, it| rest.difference(&for_geo(it)));
        let (a, b) = (ours.area_mm2(), other.unsigned_area());
        assert!((a - b).abs() < 1e-4 * (1.0 + b.sqrt()), "seed {seed}: {a} is not {b}");
    }
}

/// Cuts of every kind; many share a border or a corner with what they are cut from.
fn cuts(dice: &mut Dice, whole: &Region) -> Vec<Region> {
    (0..1 + dice.below(4))
        .map(|_| {
            let ring = dice.below(whole.loops.len());
            let edge = whole.loops[ring][dice.below(whole.loops[ring].len())];
            let middle = match dice.below(3) {
                0 => dice.place(150.0),
                1 => edge.start(),
                _ => edge.at(dice.share()),
            };
            match (edge, dice.below(3)) {
                // Flush: a notch with one side along an edge of the outline.
                (Edge::Line(line), 0) => {
                    let way = (line.p1 - line.p0).normalize();
                    let size = (dice.between(5.0, 60.0), dice.between(5.0, 60.0));
                    Region::rectangle(middle, size, way.atan2().to_degrees())
                }
                _ => dice.region(middle, 70.0),
            }
        })
        .collect()
}

#[test]
fn what_remains_holds_exactly_what_was_in_the_whole_and_in_no_cut() {
    let mut asked = 0;
    for seed in 0..3000 {
        let mut dice = Dice::new(seed);
        let whole = dice.region(Point::ZERO, 150.0);
        let cuts = cuts(&mut dice, &whole);
        let rest = whole.minus(&cuts);
        for _ in 0..60 {
            let place = dice.place(230.0);
            let by_parts = whole.contains(place) && !cuts.iter().any(|it| it.contains(place));
            if rest.contains(place) != by_parts {
                let off =
                    cuts.iter().map(|it| near_border(it, place)).fold(near_border(&whole, place), f64::min);
                assert!(off < 1.0, "seed {seed}: {place} is {off} from any border");
                // So near a border it must be rounding: a hair off, both agree again.
                let agree = (0..8).any(|n| {
                    let turn = f64::from(n) * std::f64::consts::FRAC_PI_4;
                    let beside = place + kurbo::Vec2::from_angle(turn) * 1e-6;
                    let by_parts = whole.contains(beside) && !cuts.iter().any(|it| it.contains(beside));
                    rest.contains(beside) == by_parts
                });
                assert!(agree, "seed {seed}: {place}");
            }
            asked += 1;
        }
        for edges in &rest.loops {
            for (n, edge) in edges.iter().enumerate() {
                let gap = (edge.end() - edges[(n + 1) % edges.len()].start()).hypot();
                assert!(gap < 1e-6, "seed {seed}: open by {gap}");
            }
        }
    }
    assert_eq!(asked, 180_000);
}

#[test]
fn cutting_and_adding_up_loses_no_area() {
    // What is cut off and what remains are together what was there.
    for seed in 0..2000 {
        let mut dice = Dice::new(seed);
        let whole = dice.region(Point::ZERO, 150.0);
        let middle = dice.place(150.0);
        let cut = dice.region(middle, 90.0);
        let rest = whole.minus(std::slice::from_ref(&cut));
        let common = whole.minus(std::slice::from_ref(&rest));
        let cut_only = cut.minus(std::slice::from_ref(&whole));
        let sum = rest.area_mm2() + common.area_mm2();
        assert!((sum - whole.area_mm2()).abs() < 1e-3, "seed {seed}: {sum} is not {}", whole.area_mm2());
        let sum = cut_only.area_mm2() + common.area_mm2();
        assert!((sum - cut.area_mm2()).abs() < 1e-3, "seed {seed}: {sum} is not {}", cut.area_mm2());
    }
}

#[test]
fn a_region_with_curves_has_the_area_and_the_inside_that_kurbo_finds() {
    for seed in 0..2000 {
        let mut dice = Dice::new(seed);
        let middle = dice.place(300.0);
        let region = dice.region(middle, 120.0);
        let path = region.to_path();
        let around: f64 = path.perimeter(0.1);
        assert!((path.area() - region.area_mm2()).abs() < 1e-3 * around, "seed {seed}");
        for _ in 0..40 {
            let place = middle + dice.place(150.0).to_vec2();
            if region.contains(place) != path.contains(place) {
                // The path departs from the arc by a thousandth at most.
                assert!(near_border(&region, place) < 4.0, "seed {seed}: {place}");
                let beside = |by: f64| place + (place - middle).normalize() * by;
                let ours = [region.contains(beside(-0.002)), region.contains(beside(0.002))];
                assert_ne!(ours[0], ours[1], "seed {seed}: {place}");
            }
        }
    }
}
