//! Views from the side and the top: what is cut, what is seen and what is hidden, by sums done by hand.

use std::path::Path;

use kurbo::{ParamCurveArclen as _, Point, Rect, Shape as _};
use shankline::drawing::{self, Drawing, Item, Layer, Line, Projection, Shape, Subject, View};
use shankline::findings;
use shankline::joint::{self, Grain, Interval, Look};
use shankline::stock::{Family, Stock};
use shankline::unit::Vec3;
use shankline::{paint, trace};

use super::sample::{Sample, bolt, nail, rect};
use crate::dice::Dice;

const AT_SCALE_ONE: View = View { scale: 1.0, origin: Point::ORIGIN };

/// A low block before and under a high one: 40 wide and 60 high from depth 0 to 100, and at its right a post
/// 90 high from depth 20 to 60.
fn blocks() -> Sample {
    let mut it = Sample::default();
    let lumber = (Family::Lumber, "hem-fir");
    let depth = |from, to| Interval { from, to };
    it.member_at("low", lumber, rect(0.0, 0.0, 40.0, 60.0), Grain::InPlane(0.0), depth(0.0, 100.0));
    it.member_at("post", lumber, rect(50.0, 0.0, 30.0, 90.0), Grain::InPlane(90.0), depth(20.0, 60.0));
    it
}

/// Length of all strokes of this line that show this member; those of a dashed line without their gaps.
fn drawn(items: &[Item], id: &str, wanted: Line) -> f64 {
    items
        .iter()
        .filter(|it| it.subject == Some(Subject::Member(id.to_owned())))
        .filter_map(|it| match &it.shape {
            Shape::Path { path, line, .. } if *line == Some(wanted) => Some(path),
            _ => None,
        })
        .flat_map(|it| it.segments().map(|it| it.arclen(1e-9)).collect::<Vec<_>>())
        .sum()
}

#[test]
fn turning_a_place_keeps_lengths_and_handedness_and_can_be_undone() {
    for look in [Look::Front, Look::Side, Look::Top] {
        let turn = |it| look.turned(it);
        let (a, b) = (Vec3::new(1.0, 2.0, 3.0), Vec3::new(-4.0, 5.0, 0.5));
        assert_eq!(turn(a).cross(turn(b)), turn(a.cross(b)), "{look:?}");
        assert_eq!(turn(a).dot(turn(b)), a.dot(b), "{look:?}");
        assert_eq!(look.turned_back(turn(a)), a, "{look:?}");
    }
    // Third angle: from the right the near end lies at the left, from above it lies below.
    assert_eq!(Look::Side.turned(Vec3::Z), -Vec3::X);
    assert_eq!(Look::Side.turned(Vec3::X), Vec3::Z);
    assert_eq!(Look::Top.turned(Vec3::Z), -Vec3::Y);
    assert_eq!(Look::Top.turned(Vec3::Y), Vec3::Z);
}

#[test]
fn from_the_side_the_post_hides_what_lies_behind_it() {
    let sample = blocks();
    let items = drawing::view(&sample.inputs(), &Projection::of(Look::Side), &AT_SCALE_ONE, None);
    // The post is 40 deep and 90 high; nothing lies before it.
    assert!((drawn(&items, "post", Line::Seen) - 260.0).abs() < 0.01);
    assert!(drawn(&items, "post", Line::Hidden) < 0.01);
    // The low block: two ends of 60, a bottom of 100 that the post meets at its own bottom edge, and a top of
    // 100 of which the post hides 40.
    assert!((drawn(&items, "low", Line::Seen) - (60.0 + 60.0 + 100.0 + 60.0)).abs() < 0.01);
    let hidden = drawn(&items, "low", Line::Hidden);
    // Dashes of 3 with gaps of 0.75 over 40: ten whole ones and the rest of an eleventh.
    assert!((hidden - (10.0 * 3.0 + 2.5)).abs() < 0.01, "{hidden}");
}

#[test]
fn a_plane_takes_away_what_is_nearer_and_hatches_what_it_cuts() {
    let sample = blocks();
    let cut = |at| {
        let projection = Projection::of(Look::Side).cut_at(at);
        drawing::view(&sample.inputs(), &projection, &AT_SCALE_ONE, None)
    };
    let between = cut(45.0);
    assert!(!between.iter().any(|it| it.subject == Some(Subject::Member("post".to_owned()))));
    assert!((drawn(&between, "low", Line::Seen) - 320.0).abs() < 0.01);
    assert!(drawn(&between, "low", Line::Hatch) < 0.01);
    let through = cut(20.0);
    assert!((drawn(&through, "low", Line::Cut) - 320.0).abs() < 0.01);
    // The grain looks at the viewer, so that the cut face has its two diagonals.
    assert!((drawn(&through, "low", Line::Hatch) - 2.0 * 100.0_f64.hypot(60.0)).abs() < 0.01);
    // From above at 75 only the post is cut; the block lies below the plane and is seen.
    let above = drawing::view(&sample.inputs(), &Projection::of(Look::Top).cut_at(75.0), &AT_SCALE_ONE, None);
    assert!((drawn(&above, "post", Line::Cut) - 140.0).abs() < 0.01);
    assert!((drawn(&above, "low", Line::Seen) - 280.0).abs() < 0.01);
}

#[test]
fn a_front_cut_in_depth_leaves_out_what_is_nearer() {
    let sample = blocks();
    let cut = Projection::FRONT.cut_at(80.0);
    let items = drawing::view(&sample.inputs(), &cut, &AT_SCALE_ONE, None);
    assert!((drawn(&items, "low", Line::Cut) - 200.0).abs() < 0.01);
    assert!((drawn(&items, "post", Line::Seen) - 240.0).abs() < 0.01);
}

#[test]
fn a_shank_is_hidden_in_the_whole_view_and_shown_in_the_plane_that_runs_along_it() {
    let mut sample = blocks();
    sample.fastener(bolt("bolt", 12.0, 120.0), Vec3::new(-10.0, 30.0, 40.0), Vec3::X);
    let shanks = |projection: &Projection| {
        let items = drawing::view(&sample.inputs(), projection, &AT_SCALE_ONE, None);
        let of = |wanted: fn(&Option<Line>) -> bool| {
            items
                .iter()
                .filter(|it| it.layer == Layer::Fasteners)
                .filter(|it| matches!(&it.shape, Shape::Path { line, .. } if wanted(line)))
                .count()
        };
        (of(|it| *it == Some(Line::Hidden)), of(|it| *it != Some(Line::Hidden)))
    };
    assert!(0 < shanks(&Projection::of(Look::Top)).0);
    assert_eq!(shanks(&Projection::of(Look::Top).cut_at(30.0)).0, 0);
    // A plane below the shank takes it away.
    assert_eq!(shanks(&Projection::of(Look::Top).cut_at(10.0)), (0, 0));
}

#[test]
fn a_long_member_is_broken_off_at_the_reach_and_not_dimensioned() {
    let mut sample = blocks();
    sample.fastener(nail("nail", 4.0, 60.0), Vec3::new(-1.0, 30.0, 40.0), Vec3::X);
    let whole = Projection::of(Look::Top);
    let reach = Projection { reach_mm: Some((10.0, 70.0)), ..whole };
    let items = drawing::view(&sample.inputs(), &reach, &AT_SCALE_ONE, None);
    assert!(0.0 < drawn(&items, "low", Line::Break));
    let bounds = drawing::extent_of(&sample.inputs(), &reach).expect("there is something");
    assert!((bounds.y0 + 70.0).abs() < 1e-9 && (bounds.y1 + 10.0).abs() < 1e-9, "{bounds:?}");
    let figures = |items: &[Item]| -> Vec<String> {
        let of = |it: &Item| match (&it.shape, it.layer) {
            (Shape::Text { words, .. }, Layer::Dimensions) => Some(words.clone()),
            _ => None,
        };
        items.iter().filter_map(of).collect()
    };
    let has = |items: &[Item], inches: &str| figures(items).iter().any(|it| it == inches);
    // 100 mm is 3 15/16 in to the nearest sixteenth, 60 mm 2 3/8 in.
    let all = drawing::view(&sample.inputs(), &whole, &AT_SCALE_ONE, None);
    assert!(has(&all, "3 15/16\""), "{:?}", figures(&all));
    assert!(!has(&items, "3 15/16\"") && !has(&items, "2 3/8\""), "{:?}", figures(&items));
}

/// What is seen at a place by asking every box of a joint of boxes in turn.
fn nearest(boxes: &[[f64; 6]], look: Look, at: Point) -> Option<usize> {
    let over = |it: &[f64; 6]| match look {
        Look::Front => (Rect::new(it[0], it[2], it[1], it[3]), it[5]),
        Look::Side => (Rect::new(-it[5], it[2], -it[4], it[3]), it[1]),
        Look::Top => (Rect::new(it[0], -it[5], it[1], -it[4]), it[3]),
    };
    let met = boxes.iter().enumerate().filter(|it| over(it.1).0.contains(at));
    met.max_by(|a, b| over(a.1).1.total_cmp(&over(b.1).1)).map(|it| it.0)
}

#[test]
fn the_face_painted_last_at_a_place_is_that_of_the_nearest_box() {
    let mut dice = Dice::new(0x51DE);
    for round in 0..200 {
        let mut sample = Sample::default();
        let mut boxes: Vec<[f64; 6]> = Vec::new();
        for n in 0..2 + dice.below(5) {
            // Each box has its own ends, so that no two faces lie in one plane.
            let side = |dice: &mut Dice| {
                let from = dice.between(0.0, 90.0);
                (from, from + dice.between(5.0, 60.0))
            };
            let (x, y, z) = (side(&mut dice), side(&mut dice), side(&mut dice));
            boxes.push([x.0, x.1, y.0, y.1, z.0, z.1]);
            let depth = Interval { from: z.0, to: z.1 };
            let outline = rect(x.0, y.0, x.1 - x.0, y.1 - y.0);
            sample.member_at(&n.to_string(), (Family::Lumber, ""), outline, Grain::AlongDepth, depth);
        }
        for look in [Look::Side, Look::Top] {
            let items = drawing::view(&sample.inputs(), &Projection::of(look), &AT_SCALE_ONE, None);
            for _ in 0..40 {
                let at = Point::new(dice.between(-150.0, 150.0), dice.between(-150.0, 150.0));
                let painted = items.iter().rev().find_map(|it| match (&it.shape, &it.subject) {
                    (Shape::Path { path, fill: Some(_), .. }, Some(Subject::Member(id)))
                        if it.layer == Layer::Members && path.winding(Point::new(at.x, -at.y)) != 0 =>
                    {
                        id.parse::<usize>().ok()
                    }
                    _ => None,
                });
                assert_eq!(painted, nearest(&boxes, look, at), "round {round}, {look:?} at {at:?}");
            }
        }
    }
}

#[test]
fn every_sample_can_be_seen_from_every_side_and_cut_through_every_fastener() {
    let stock = Stock::built_in();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects");
    let mut names: Vec<_> = std::fs::read_dir(folder)
        .expect("there are samples")
        .map(|it| it.expect("it is read").path())
        .collect();
    names.sort();
    for path in names {
        let text = std::fs::read_to_string(&path).expect("the sample is there");
        let joint = joint::file::read(&text, &stock).expect("it is sound");
        let trace = trace::trace(&joint);
        let findings = findings::judge(&joint, &trace);
        let inputs = drawing::Inputs { joint: &joint, trace: &trace, findings: &findings };
        for look in [Look::Front, Look::Side, Look::Top] {
            let mut projections = vec![Projection::of(look)];
            projections.extend(trace.fasteners.iter().take(3).map(|it| {
                let middle = it.head_at + it.toward * (it.length_mm / 2.0);
                Projection::of(look).cut_at(look.turned(middle).z)
            }));
            for (n, projection) in projections.iter().enumerate() {
                let extent = drawing::extent_of(&inputs, projection).expect("something is left");
                let scale = 120.0 / extent.width().max(extent.height());
                let origin = Point::new(100.0 - extent.center().x * scale, 100.0 + extent.center().y * scale);
                let items = drawing::view(&inputs, projection, &View { scale, origin }, None);
                assert!(items.iter().any(|it| it.layer == Layer::Members), "{path:?} {look:?}");
                if let Ok(folder) = std::env::var("LOOK_DIR") {
                    let page = Drawing { size_mm: (200.0, 200.0), items, ..Drawing::default() };
                    let name = path.file_stem().expect("it has a name").to_string_lossy().into_owned();
                    let file = format!("{folder}/view-{name}-{look:?}-{n}.svg");
                    std::fs::write(file, paint::svg(&page)).expect("it can be written");
                }
            }
        }
    }
}
