//! What a pointer meets, by places worked out by hand, and beside a search of everything.

use kurbo::{Point, Vec2};
use proptest::prelude::*;

use super::*;
use crate::joint::edit::apply;
use crate::joint::{Dimension, Measures, StandardId};
use crate::sketch::arrange::moved;
use crate::sketch::motion::Motion;
use crate::sketch::question::Sizes;
use crate::sketch::start::{STARTERS, Starter};
use crate::stock::Stock;
use crate::trace::{anchor, dimension, trace};
use crate::unit::Vec3;

fn started(word: &str) -> (Joint, Trace) {
    let sizes = Sizes::defaults(StandardId::Nds2018);
    let joint = Starter::named(word).unwrap().start(&sizes, &Stock::built_in()).unwrap();
    let traced = trace(&joint);
    (joint, traced)
}

#[test]
fn from_the_side_the_boxes_of_bodies_and_the_heads_are_met() {
    let (joint, traced) = started("splice");
    let flat = |it: Vec3| Point::new(-it.z, it.y);
    let side = Snapper::seen(&joint, &traced, Look::Side);
    for (body, member) in traced.bodies.iter().zip(&joint.members) {
        let area = body.region.bounds();
        let corner = Point::new(-body.near_mm, area.y1);
        let found = side.snap(corner + Vec2::new(0.4, 0.3), &options(1.0, 0.0)).expect("a corner is near");
        assert_eq!(found.kind, Kind::Corner);
        assert!((found.at - corner).hypot() < 1e-9);
        // Where boards lie on each other the corner of either is met.
        assert!(joint.members.iter().any(|it| found.says == format!("corner of the {}", it.shown_name())));
        assert!((member.depth.to - body.near_mm).abs() < 1e-9);
    }
    let head = flat(traced.fasteners[0].head_at);
    let found = side.snap(head + Vec2::new(0.2, 0.1), &options(0.5, 0.0)).expect("a head is near");
    assert!((found.at - head).hypot() < 1e-9, "{found:?}");
}

fn options(within_mm: f64, step_mm: f64) -> Options {
    Options { within_mm, step_mm, ..Options::default() }
}

#[track_caller]
fn meets(
    snapper: &Snapper,
    options: &Options,
    (pointer, at): ((f64, f64), (f64, f64)),
    (kind, says): (Kind, &str),
) {
    let found = snapper.snap(Point::from(pointer), options).expect("something is near");
    assert_eq!((found.kind, found.says.as_str()), (kind, says));
    assert!((found.at - Point::from(at)).hypot() < 1e-6, "{:?}", found.at);
}

#[test]
fn each_kind_of_place_is_met_and_named() {
    // The ledger: x 0 to 38.1, y 0 to 184.15; upper bolts at y 184.15 - 4 x 12.7 = 133.35, lower ones at 50.8.
    let (joint, traced) = started("ledger");
    let snapper = Snapper::new(&joint, &traced);
    let near = options(3.0, 1.5875);
    meets(&snapper, &near, ((1.0, -1.0), (0.0, 0.0)), (Kind::Corner, "corner of the ledger"));
    meets(&snapper, &near, ((0.5, 93.0), (0.0, 92.075)), (Kind::Middle, "middle of a face of the ledger"));
    meets(&snapper, &near, ((1.0, 30.0), (0.0, 30.0)), (Kind::Face, "face of the ledger"));
    meets(&snapper, &near, ((-100.2, 31.0), (-100.0125, 31.75)), (Kind::Step, "step of 1/16\""));
    // The heads lie 0.109" (2.77 mm) before the ledger, under their washers.
    meets(&snapper, &options(2.0, 0.0), ((-4.0, 134.0), (-2.7686, 133.35)), (Kind::Head, "head of b1"));
    assert_eq!(snapper.snap(Point::new(-100.0, 30.0), &options(3.0, 0.0)), None);
    assert_eq!(snapper.snap(Point::new(f64::NAN, 0.0), &near), None);
    let without = Options { without: vec!["ledger".to_owned()], ..near.clone() };
    assert_ne!(snapper.snap(Point::new(1.0, -1.0), &without).unwrap().kind, Kind::Corner);
}

#[test]
fn holes_middle_lines_crossings_and_equal_spacing_are_met() {
    let (joint, traced) = started("strap");
    let snapper = Snapper::new(&joint, &traced);
    let hole = traced.holes[2].at.plan();
    let found = snapper.snap(hole + Vec2::new(-0.2, 0.3), &options(1.0, 0.0)).unwrap();
    assert_eq!((found.kind, found.says.as_str()), (Kind::Hole, "hole h3 of the strap"));
    let (joint, traced) = started("brace");
    let snapper = Snapper::new(&joint, &traced);
    // The middle line of the post, x 69.85, below the brace.
    let found = snapper.snap(Point::new(70.5, -1000.0), &options(3.0, 0.0)).unwrap();
    assert_eq!(found.says, "middle line of the post along its grain");
    assert!((found.at.x - 69.85).abs() < 1e-9 && found.along.is_some());
    // The left side of the post and a bolt's row: the brace crosses the inner side of the post, x 139.7.
    let crossing = snapper.snap(Point::new(139.0, -547.0), &options(60.0, 0.0)).unwrap();
    assert!(
        matches!(crossing.kind, Kind::Crossing | Kind::Head | Kind::Middle | Kind::Corner),
        "{crossing:?}"
    );
    // Two heads in the splice, 50.8 apart along; the next stands as far again.
    let (joint, traced) = started("splice");
    let snapper = Snapper::new(&joint, &traced);
    let (one, other) = (traced.fasteners[0].head_at.plan(), traced.fasteners[1].head_at.plan());
    let next = other + (other - one);
    let found = snapper.snap(next + Vec2::new(0.3, 0.2), &options(1.0, 0.0)).unwrap();
    assert!((found.at - next).hypot() < 1e-9 || found.kind != Kind::Equal, "{found:?}");
    assert_eq!(found.kind, Kind::Equal, "{found:?}");
}

#[test]
fn lines_along_the_grain_are_met_through_fasteners_and_from_where_the_hand_began() {
    // Members along x, bolts seen head on: the row through a bolt is the grain line through it.
    let (joint, traced) = started("splice");
    let snapper = Snapper::new(&joint, &traced);
    let head = traced.fasteners[0].head_at.plan();
    let found = snapper.snap(head + Vec2::new(17.3, 0.3), &options(1.0, 0.0)).unwrap();
    assert_eq!(found.kind, Kind::Along, "{found:?}");
    assert!(found.says.starts_with("along the grain of the "), "{}", found.says);
    assert!(
        found.says.ends_with(&format!("through the head of {}", joint.fasteners[0].id)),
        "{}",
        found.says
    );
    assert!((found.at - (head + Vec2::new(17.3, 0.0))).hypot() < 1e-9 && found.along.is_some());
    assert_eq!(
        found.anchor(&joint, &traced, Look::Front),
        Anchor::Place(found.at),
        "nothing is there to hold on to"
    );
    let from = head + Vec2::new(-11.0, 9.0);
    let begun = Options { from: Some(from), ..options(1.0, 0.0) };
    let found = snapper.snap(from + Vec2::new(23.0, -0.4), &begun).unwrap();
    assert!(found.says.ends_with("from where it began"), "{found:?}");
    assert!((found.at.y - from.y).abs() < 1e-9);
    // Where it runs out at the end of the board it crosses the end.
    let left =
        traced.bodies.iter().map(|it| it.region.bounds()).min_by(|a, b| a.x0.total_cmp(&b.x0)).unwrap();
    let found = snapper.snap(Point::new(left.x0 + 0.2, head.y + 0.2), &options(1.0, 0.0)).unwrap();
    assert_eq!(found.kind, Kind::Crossing, "{found:?}");
    assert!(found.says.contains("the head of "), "{}", found.says);
    assert!((found.at - Point::new(left.x0, head.y)).hypot() < 1e-9, "{found:?}");
    // From the side this grain looks at the viewer.
    let side = Snapper::seen(&joint, &traced, Look::Side);
    let at = Look::Side.turned(traced.fasteners[0].head_at).plan();
    let found = side.snap(at + Vec2::new(-3.3, 0.3), &options(1.0, 0.0));
    assert!(found.is_none_or(|it| it.kind != Kind::Along));
    // Grain along the depth is followed from the side.
    let (joint, traced) = started("ledger");
    let side = Snapper::seen(&joint, &traced, Look::Side);
    let at = Look::Side.turned(traced.fasteners[0].head_at).plan();
    let found = side.snap(at + Vec2::new(33.3, 0.3), &options(1.0, 0.0)).unwrap();
    assert_eq!(found.kind, Kind::Along, "{found:?}");
}

#[test]
fn dimensions_from_the_side_and_from_above_follow_depth_shoulders_and_heads() {
    let (mut joint, traced) = started("notch");
    let stock = Stock::built_in();
    for look in [Look::Side, Look::Top] {
        let snapper = Snapper::seen(&joint, &traced, look);
        let mut held = 0;
        for body in &traced.bodies {
            for edge in body.region.loops.iter().flatten() {
                for depth in [body.far_mm, body.near_mm] {
                    let corner = edge.start();
                    let at = look.turned(Vec3::new(corner.x, corner.y, depth)).plan();
                    let found = snapper.snap(at + Vec2::new(0.02, -0.01), &options(0.05, 0.0)).unwrap();
                    assert!((found.at - at).hypot() < 1e-9, "{look:?} {found:?} {at:?}");
                    let anchor_of = found.anchor(&joint, &traced, look);
                    if found.kind == Kind::Corner {
                        assert!(anchor_of.id().is_some(), "{look:?} {found:?}");
                        held += 1;
                    }
                    let back = anchor(&joint, &traced, look, &anchor_of).unwrap();
                    assert!((back - at).hypot() < 1e-6, "{look:?} {anchor_of:?} {back:?} {at:?}");
                }
            }
        }
        assert!(8 < held, "{held} corners");
    }
    // From one end of the first member to the other, from above; then it is made longer.
    let id = joint.members[0].id.clone();
    let end = |deep: f64| Anchor::Edge { of: id.clone(), part: 0, ring: 0, edge: 0, share: 0.0, deep };
    let placed = Dimension {
        look: Look::Top,
        from: end(0.0),
        to: end(1.0),
        measures: Measures::Upright,
        offset_mm: 12.0,
    };
    joint.dimensions.push(placed.clone());
    let depth = joint.members[0].depth;
    let mm = |joint: &Joint| dimension(joint, &trace(joint), &placed).unwrap().mm;
    assert!((mm(&joint) - (depth.to - depth.from)).abs() < 1e-9);
    joint.members[0].depth.to += 25.0;
    assert!((mm(&joint) - (depth.to - depth.from) - 25.0).abs() < 1e-9);
    let text = crate::joint::file::write(&joint);
    assert!(text.contains("\"look\": \"top\"") && text.contains("\"deep\": 1"), "{text}");
    assert_eq!(crate::joint::file::read(&text, &stock).as_ref(), Ok(&joint));
}

#[test]
fn a_dimension_follows_what_it_holds_on_to() {
    let (mut joint, traced) = started("ledger");
    let snapper = Snapper::new(&joint, &traced);
    let corner = snapper.snap(Point::new(0.0, 184.15), &options(1.0, 0.0)).unwrap();
    let head = snapper.snap(traced.fasteners[0].head_at.plan(), &options(0.5, 0.0)).unwrap();
    let placed = Dimension {
        look: Look::Front,
        from: head.anchor(&joint, &traced, Look::Front),
        to: corner.anchor(&joint, &traced, Look::Front),
        measures: Measures::Upright,
        offset_mm: 20.0,
    };
    let edit = crate::joint::Edit::Dimensions(crate::joint::edit::Change::Insert {
        at: 0,
        new: Box::new(placed.clone()),
    });
    let _ = apply(&mut joint, &edit);
    // Four diameters: 50.8 mm.
    assert!((dimension(&joint, &traced, &placed).unwrap().mm - 50.8).abs() < 1e-9);
    let up = Motion::shift(Vec3::new(0.0, 10.0, 0.0));
    let edit = moved(&joint, &["ledger".to_owned()], &up).unwrap();
    let _ = apply(&mut joint, &edit);
    let after = dimension(&joint, &trace(&joint), &placed).unwrap();
    assert!((after.mm - 60.8).abs() < 1e-9);
    // The line stands 20 mm to the left of the farther left of the two.
    assert!((after.line.0.x - after.line.1.x).abs() < 1e-9 && (after.line.0.x + 22.7686).abs() < 1e-6);
    let stock = Stock::built_in();
    let text = crate::joint::file::write(&joint);
    assert_eq!(crate::joint::file::read(&text, &stock).as_ref(), Ok(&joint));
    // What it holds on to is gone: it is not drawn, and the joint can still be saved.
    joint.fasteners.clear();
    assert_eq!(dimension(&joint, &trace(&joint), &placed), None);
    assert!(crate::joint::file::read(&crate::joint::file::write(&joint), &stock).is_ok());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is met lies as near as was asked, holds on to the place where it is, and no corner is nearer.
    #[test]
    fn what_is_met_is_near_and_can_be_held_on_to(
        which in 0_usize..10,
        x in -700.0..900.0_f64,
        y in -900.0..700.0_f64,
        within in 1.0..80.0_f64,
    ) {
        let sizes = Sizes::defaults(StandardId::Nds2018);
        let joint = STARTERS[which].start(&sizes, &Stock::built_in()).unwrap();
        let traced = trace(&joint);
        let snapper = Snapper::new(&joint, &traced);
        let pointer = Point::new(x, y);
        let corners = traced.bodies.iter().flat_map(|it| it.region.loops.iter().flatten());
        let nearest = corners.map(|it| (it.start() - pointer).hypot()).fold(f64::INFINITY, f64::min);
        match snapper.snap(pointer, &options(within, 0.0)) {
            None => prop_assert!(within < nearest),
            Some(found) => {
                let distance = (found.at - pointer).hypot();
                prop_assert!(distance <= within + 1e-9);
                if nearest <= within {
                    prop_assert!(distance <= nearest + 1e-6, "{:?} {}", found, nearest);
                }
                let held = anchor(&joint, &traced, Look::Front, &found.anchor(&joint, &traced, Look::Front)).unwrap();
                prop_assert!((held - found.at).hypot() < 1e-3, "{:?} {:?}", found, held);
            }
        }
    }
}
