//! Heads, washers and nuts that have no room, and shanks that cut into what their axis misses.

use shankline::findings::{Finding, Kind};
use shankline::joint::{Interval, Joint, Placement};
use shankline::unit::Vec3;

use super::build::*;
use super::judged;

fn kinds(joint: &Joint) -> Vec<(Kind, String)> {
    let found: Vec<Finding> = judged(joint).list;
    found
        .into_iter()
        .filter(|it| matches!(it.kind, Kind::HeadSeat | Kind::NutSeat | Kind::BreaksOut))
        .map(|it| (it.kind, it.says))
        .collect()
}

/// A piece that stands on the ledger's left side, its top so far below the axis of what is driven at y = 120.
fn with_a_piece_below(mut joint: Joint, below_mm: f64, x: [f64; 2]) -> Joint {
    joint.members.push(block("cleat", x, [0.0, 120.0 - below_mm]));
    joint
}

/// The washer is 1 in across: 12.7 mm to each side; it ends 2.1 mm off the ledger, where the head begins, 14.3 mm
/// across: 7.1 mm to each side.
#[test]
fn a_washer_needs_room_beside_it() {
    for (below_mm, has_room) in [(20.0, true), (12.8, true), (12.0, false), (5.0, false), (1.6, false)] {
        let told = kinds(&with_a_piece_below(lagged(4.0), below_mm, [-60.0, 0.0]));
        assert_eq!(told.is_empty(), has_room, "{below_mm}: {told:?}");
        if !has_room {
            assert_eq!(told[0].1, "The washer under the head has no room: the cleat is in its way.");
        }
    }
    // In depth as well: the piece ends 12 mm or 13 mm before the lag at z = 600.
    for (ends_mm, has_room) in [(588.0, false), (587.0, true)] {
        let mut joint = with_a_piece_below(lagged(4.0), -100.0, [-60.0, 0.0]);
        joint.members[2].depth = Interval { from: 0.0, to: ends_mm };
        assert_eq!(kinds(&joint).is_empty(), has_room, "{ends_mm}");
    }
}

/// The nut is 3/4 in across flats: 9.5 mm to each side; its washer 1.375 in: 17.5 mm.
#[test]
fn a_nut_and_its_washer_need_room_too() {
    for (below_mm, has_room) in [(17.8, true), (17.0, false), (9.0, false)] {
        let told = kinds(&with_a_piece_below(bolted(), below_mm, [mm(5.0), 200.0]));
        assert_eq!(told.is_empty(), has_room, "{below_mm}: {told:?}");
        if !has_room {
            assert_eq!(told.iter().map(|it| it.0).collect::<Vec<_>>(), [Kind::NutSeat]);
        }
    }
}

/// A piece 12.7 mm thick between ledger and rim ends 1 mm below the axis of a nail of 4.1148 mm: half of it is
/// 2.0574 mm. From 2.0574 mm on it has room; a hair of 0.3 mm goes unsaid.
#[test]
fn the_side_of_a_shank_cuts_into_what_its_axis_misses() {
    for (below_mm, is_clear) in [(1.0, false), (1.7, false), (1.8, true), (2.1, true), (10.0, true)] {
        let mut joint = nailed();
        joint.members[1] = block("rim", [50.8, 139.7], [0.0, 234.95]);
        joint.members.push(block("shim", [38.1, 50.8], [0.0, 120.0 - below_mm]));
        let told = kinds(&joint);
        assert_eq!(told.is_empty(), is_clear, "{below_mm}: {told:?}");
        if !is_clear {
            assert_eq!(told[0].1, "The side of the shank cuts into the shim, which its axis misses.");
        }
    }
    // A point that ends just before a piece does not cut into it.
    let mut joint = nailed();
    joint.members[1] = block("rim", [38.1, 200.0], [0.0, 234.95]);
    joint.members.push(block("back", [200.5, 300.0], [0.0, 234.95]));
    let head = Vec3::new(200.0 - 88.9, 300.0, 600.0);
    joint.fasteners[0].place = Placement::Free { head, toward: Vec3::X };
    joint.members[1].depth = Interval { from: 0.0, to: 1200.0 };
    assert!(kinds(&joint).iter().all(|it| it.0 != Kind::BreaksOut));
}

/// Two lag screws with washers of 25.4 mm, one above the other: 25 mm apart they lie in one another, 25.4 mm apart
/// they touch. Driven from the two sides nothing of theirs meets.
#[test]
fn washers_of_neighbours_need_room_between_them() {
    let two = |apart_mm: f64| {
        let mut joint = lagged(4.0);
        let mut other = joint.fasteners[0].clone();
        other.id = "s2".to_owned();
        other.place =
            Placement::Free { head: Vec3::new(-mm(0.083), 120.0 + apart_mm, 600.0), toward: Vec3::X };
        joint.fasteners.push(other);
        kinds(&joint)
    };
    assert!(two(25.4).is_empty() && two(40.0).is_empty());
    for apart_mm in [25.0, 15.0] {
        let told = two(apart_mm);
        assert_eq!(told.len(), 1, "{told:?}");
        assert_eq!(
            told[0].1,
            "The washer under the head has no room: the washer under the head of fastener 2 is in its way."
        );
    }
    let mut back = lagged(4.0);
    let mut other = back.fasteners[0].clone();
    other.id = "s2".to_owned();
    let head = Vec3::new(127.0 + mm(0.083), 135.0, 600.0);
    other.place = Placement::Free { head, toward: -Vec3::X };
    back.fasteners.push(other);
    assert!(kinds(&back).is_empty());
}
