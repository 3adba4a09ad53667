//! What every pattern owes: it stays inside, hangs on its region and keeps its spacing on paper.

use super::*;
use crate::drawing::pen;

fn field(path: &BezPath) -> Field<'_> {
    Field { visible: path, whole: path, seen: None }
}

fn ell() -> BezPath {
    let corner = |x: f64, y: f64| Point::new(x, y);
    pen::polygon(&[
        corner(10.0, 10.0),
        corner(70.0, 10.0),
        corner(70.0, 25.0),
        corner(30.0, 25.0),
        corner(30.0, 90.0),
        corner(10.0, 90.0),
    ])
}

const ALL: [Pattern; 12] = [
    Pattern::Cross,
    Pattern::Diagonal,
    Pattern::Grain(20.0),
    Pattern::Laminations,
    Pattern::LaminationsAlong(0.0),
    Pattern::Veneers,
    Pattern::Plies,
    Pattern::Flecks,
    Pattern::Aggregate,
    Pattern::Pairs,
    Pattern::Steel,
    Pattern::Filling,
];

#[test]
fn no_stroke_of_any_pattern_leaves_its_region() {
    let region = ell();
    for pattern in ALL {
        let strokes = hatch(pattern, &field(&region));
        assert!(!strokes.is_empty(), "{pattern:?} draws something");
        for segment in strokes.segments() {
            for t in [0.001, 0.25, 0.5, 0.75, 0.999] {
                let p = segment.start().lerp(segment.end(), t);
                assert!(region.winding(p) != 0, "{pattern:?} leaves at {p}");
            }
        }
    }
}

#[test]
fn an_x_goes_from_corner_to_corner_also_when_the_piece_is_turned() {
    let corners = [(0.0, 0.0), (30.0, 12.0), (22.0, 32.0), (-8.0, 20.0)].map(Point::from);
    let region = pen::polygon(&corners);
    let ends = |pattern| -> Vec<Point> {
        hatch(pattern, &field(&region)).segments().flat_map(|it| [it.start(), it.end()]).collect()
    };
    let cross = ends(Pattern::Cross);
    assert_eq!(cross.len(), 4);
    for corner in corners {
        assert!(cross.iter().any(|it| (*it - corner).hypot() < 1e-3), "{corner} in {cross:?}");
    }
    assert_eq!(ends(Pattern::Diagonal).len(), 2);
}

#[test]
fn rows_keep_their_spacing_on_paper_at_every_scale_and_hang_on_the_region() {
    for size in [20.0, 200.0, 2000.0] {
        for shift in [0.0, 13.7] {
            let region = Rect::new(shift, 5.0, shift + 30.0, 5.0 + size).to_path(0.1);
            let strokes = hatch(Pattern::LaminationsAlong(0.0), &field(&region));
            let mut rows: Vec<f64> = strokes.segments().map(|it| it.start().y).collect();
            rows.sort_by(f64::total_cmp);
            assert!(rows.windows(2).all(|it| (it[1] - it[0] - 2.8).abs() < 1e-6), "{size} {rows:?}");
            assert!(rows.iter().any(|it| (it - 5.0 - size / 2.0).abs() < 1e-9), "one row through the middle");
        }
    }
}

#[test]
fn no_row_thickens_the_edge_that_it_runs_along() {
    // Rows every 2.8 mm from the middle: at 5.8 mm one would lie 0.1 mm inside either edge, at 7.0 mm 0.7 mm.
    for (size, count) in [(5.8, 1), (7.0, 3)] {
        let region = Rect::new(0.0, 0.0, 40.0, size).to_path(0.1);
        let strokes = hatch(Pattern::LaminationsAlong(0.0), &field(&region));
        assert_eq!(strokes.segments().count(), count, "{size}");
    }
}

#[test]
fn what_is_not_seen_is_not_hatched_and_what_is_seen_does_not_change() {
    let region = Rect::new(-40_000.0, -10_000.0, 60_000.0, 20_000.0).to_path(0.1);
    let window = Rect::new(0.0, 0.0, 200.0, 100.0);
    let cut = |seen| hatch(Pattern::Filling, &Field { visible: &region, whole: &region, seen: Some(seen) });
    let strokes = cut(window);
    assert!(!strokes.elements().is_empty() && strokes.elements().len() < 20_000);
    let wider = cut(window.inflate(20.0, 20.0));
    let inner = Rect::new(10.0, 10.0, 190.0, 90.0);
    let inside = |path: &BezPath| -> usize {
        path.segments().filter(|it| inner.contains(it.start()) && inner.contains(it.end())).count()
    };
    assert_eq!(inside(&strokes), inside(&wider));
}

#[test]
fn nothing_and_rubbish_draw_nothing_and_do_not_panic() {
    let empty = BezPath::new();
    let flat = pen::polygon(&[(0.0, 0.0), (10.0, 0.0), (5.0, 0.0)].map(Point::from));
    let not_a_number = pen::polygon(&[(0.0, 0.0), (f64::NAN, 0.0), (5.0, 5.0)].map(Point::from));
    for pattern in ALL {
        for path in [&empty, &flat, &not_a_number] {
            assert!(hatch(pattern, &field(path)).is_empty(), "{pattern:?}");
        }
    }
}
