//! What must stay the same whatever is done to the whole joint: shifted, turned, mirrored.

use shankline::trace::{FaceDistances, Shank, Trace, trace};
use shankline::unit::Vec3;

use crate::dice::Dice;
use crate::scenes::{Move, Scene};

/// A millimetre has nine places in a scene a metre across.
const SAME_MM: f64 = 1e-6;

#[track_caller]
fn same(seed: u64, what: &str, a: f64, b: f64) {
    let is_same = (a - b).abs() <= SAME_MM || a.is_infinite() && b.is_infinite();
    assert!(is_same, "seed {seed}: {what} {a} became {b}");
}

#[track_caller]
fn same_place(seed: u64, what: &str, a: Vec3, b: Vec3) {
    assert!((a - b).length() <= SAME_MM, "seed {seed}: {what} {a:?} became {b:?}");
}

fn same_distances(seed: u64, a: Option<FaceDistances>, b: Option<FaceDistances>, by: &Move) {
    let (Some(a), Some(b)) = (a, b) else {
        assert_eq!(a.is_some(), b.is_some(), "seed {seed}");
        return;
    };
    assert_eq!(a.end_grain, b.end_grain, "seed {seed}");
    same_place(seed, "a place on a face", by.place(a.at), b.at);
    // Mirroring may name the two ways in the other order.
    for (a, b) in [(a.along, b.along), (a.across, b.across)] {
        let sorted = |it: [f64; 2]| [it[0].min(it[1]), it[0].max(it[1])];
        let (a, b) = (sorted(a.map(|it| it.mm)), sorted(b.map(|it| it.mm)));
        same(seed, "a distance on a face", a[0], b[0]);
        same(seed, "a distance on a face", a[1], b[1]);
    }
}

fn same_shank(seed: u64, a: &Shank, b: &Shank, by: &Move) {
    assert_eq!(a.core.len(), b.core.len(), "seed {seed}: {:#?} became {:#?}", a.core, b.core);
    for (a, b) in a.core.iter().zip(&b.core) {
        same(seed, "a run's begin", a.from_mm, b.from_mm);
        same(seed, "a run's end", a.to_mm, b.to_mm);
        same(seed, "a cover", a.cover_mm.unwrap_or(-1.0), b.cover_mm.unwrap_or(-1.0));
        assert_eq!((a.body, a.what, a.along_a_face), (b.body, b.what, b.along_a_face), "seed {seed}");
        for (a, b) in [(a.entered, b.entered), (a.left, b.left)] {
            assert_eq!(a.is_some(), b.is_some(), "seed {seed}");
            if let (Some(a), Some(b)) = (a, b) {
                same_place(seed, "a normal", by.way(a.normal), b.normal);
            }
        }
    }
    assert_eq!(a.holding.is_some(), b.holding.is_some(), "seed {seed}");
    if let (Some(a), Some(b)) = (a.holding, b.holding) {
        assert_eq!(a.body, b.body, "seed {seed}");
        same(seed, "the bite", a.bite_mm, b.bite_mm);
        same(seed, "the bite less the point", a.bite_without_point_mm, b.bite_without_point_mm);
        same(seed, "the bite square to the face", a.bite_square_mm, b.bite_square_mm);
        same(seed, "the cover of the bite", a.cover_mm, b.cover_mm);
        same(seed, "what stands out", a.point_out_mm, b.point_out_mm);
    }
    assert_eq!(a.planes.len(), b.planes.len(), "seed {seed}");
    for (a, b) in a.planes.iter().zip(&b.planes) {
        assert_eq!((a.side, a.main), (b.side, b.main), "seed {seed}");
        same(seed, "a plane's place", a.at_mm, b.at_mm);
        same(seed, "a plane's gap", a.gap_mm, b.gap_mm);
        same(seed, "a plane's filling", a.filling_mm, b.filling_mm);
        same_place(seed, "a plane's normal", by.way(a.normal), b.normal);
        same_distances(seed, a.in_side, b.in_side, by);
        same_distances(seed, a.in_main, b.in_main, by);
    }
    assert_eq!(a.head.on, b.head.on, "seed {seed}");
    same(seed, "air under the head", a.head.stands_off_mm, b.head.stands_off_mm);
    same(seed, "the head's depth", a.head.sunk_mm, b.head.sunk_mm);
    same_distances(seed, a.head.at_face, b.head.at_face, by);
}

fn same_trace(seed: u64, a: &Trace, b: &Trace, by: &Move) {
    for (a, b) in a.fasteners.iter().zip(&b.fasteners) {
        same_shank(seed, a, b, by);
    }
    assert_eq!(a.neighbours.len(), b.neighbours.len(), "seed {seed}");
    for (a, b) in a.neighbours.iter().zip(&b.neighbours) {
        assert_eq!((a.a, a.b, a.body), (b.a, b.b, b.body), "seed {seed}");
        same(seed, "a spacing along", a.along_mm, b.along_mm);
        same(seed, "a spacing across", a.across_mm, b.across_mm);
    }
    assert_eq!(a.clashes.len(), b.clashes.len(), "seed {seed}");
    for (a, b) in a.clashes.iter().zip(&b.clashes) {
        assert_eq!((a.a, a.b), (b.a, b.b), "seed {seed}");
        same(seed, "two axes' distance", a.axes_apart_mm, b.axes_apart_mm);
        same_place(seed, "a collision", by.place(a.at), b.at);
    }
    let pairs = |it: &Trace| it.overlaps.iter().map(|it| (it.under, it.over)).collect::<Vec<_>>();
    assert_eq!(pairs(a), pairs(b), "seed {seed}");
    for (a, b) in a.overlaps.iter().zip(&b.overlaps) {
        // Round forms are flattened for it, in other places once they are turned.
        assert!((a.area_mm2 - b.area_mm2).abs() < 0.5, "seed {seed}: {a:?} became {b:?}");
        same(seed, "the common depth", a.depth_mm, b.depth_mm);
    }
}

/// Moves every one of many random joints and compares what is traced.
fn law(moves: impl Fn(&mut Dice) -> Move) {
    for seed in 0..1200 {
        let mut dice = Dice::new(seed);
        let scene = Scene::random(&mut dice);
        let by = moves(&mut dice);
        same_trace(seed, &trace(&scene.joint(&Move::NONE)), &trace(&scene.joint(&by)), &by);
    }
}

#[test]
fn shifting_the_joint_changes_nothing() {
    law(|dice| {
        let plan = dice.place(900.0);
        Move { shift: Vec3::new(plan.x, plan.y, dice.between(-900.0, 900.0)), ..Move::NONE }
    });
}

#[test]
fn turning_the_joint_by_any_angle_changes_nothing() {
    law(|dice| Move { turn_deg: dice.between(-360.0, 360.0), ..Move::NONE });
}

#[test]
fn mirroring_the_joint_changes_nothing() {
    law(|_| Move { mirrors: true, ..Move::NONE });
}

#[test]
fn looking_at_it_from_behind_changes_nothing() {
    law(|dice| Move { mirrors: true, flips_depth: true, turn_deg: dice.between(0.0, 90.0), ..Move::NONE });
    law(|_| Move { flips_depth: true, ..Move::NONE });
}
