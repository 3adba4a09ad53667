//! Cores: which runs a shank has, where the point ends, and how near it comes to the faces.

use kurbo::Point;

use super::scene::{check, close, filling, joint, member, nail, plate, rectangle, wood};
use crate::joint::{Grain, Joint, Outline};
use crate::trace::{FaceKind, trace};

#[test]
fn a_nail_through_ply_and_gap_into_a_post() {
    let members = vec![wood((0.0, 0.0), (38.1, 100.0)), wood((39.1, 0.0), (139.1, 100.0))];
    let shank = check(
        &joint(members, vec![nail([0.0, 40.0, 50.0], [1.0, 0.0, 0.0], 88.9)]),
        "wood 38.1 | gap 1.0 | wood 49.8 | holds",
    );
    let holding = shank.holding.unwrap();
    // 88.9 - 38.1 - 1.0 = 49.8; the nearest face is the lower edge, 40 below the axis.
    close(holding.bite_mm, 49.8);
    close(holding.cover_mm, 40.0);
    close(holding.angle_to_face_deg.unwrap(), 90.0);
    assert_eq!(shank.planes.len(), 1);
    close(shank.planes[0].gap_mm, 1.0);
    close(shank.planes[0].at_mm, 38.1);
}

#[test]
fn faces_nearer_than_a_hundredth_touch() {
    let nail = nail([0.0, 40.0, 50.0], [1.0, 0.0, 0.0], 80.0);
    let with_gap = |gap: f64| {
        let members = vec![wood((0.0, 0.0), (38.1, 100.0)), wood((38.1 + gap, 0.0), (139.1, 100.0))];
        joint(members, vec![nail.clone()])
    };
    check(&with_gap(0.009), "wood 38.1 | wood 41.9 | holds");
    check(&with_gap(0.011), "wood 38.1 | gap 0.0 | wood 41.9 | holds");
    // Drawn over each other by less than that: they touch as well, and the later is entered by its face.
    let shank = check(&with_gap(-0.009), "wood 38.1 | wood 41.9 | holds");
    assert!(shank.core[1].entered.is_some());
}

#[test]
fn the_point_comes_out_and_a_miss_is_air() {
    let members = vec![wood((10.0, 0.0), (48.1, 100.0))];
    let at = |y: f64| joint(members.clone(), vec![nail([0.0, y, 50.0], [1.0, 0.0, 0.0], 60.0)]);
    check(&at(50.0), "air 10.0 | wood 38.1 | air 11.9 | out 11.9");
    check(&at(150.0), "air 60.0 | misses");
}

#[test]
fn gap_needs_something_before_and_wood_after() {
    let members = vec![
        filling((0.0, 0.0), (10.0, 100.0)),
        wood((20.0, 0.0), (30.0, 100.0)),
        filling((40.0, 0.0), (50.0, 100.0)),
    ];
    let nail = nail([0.0, 50.0, 50.0], [1.0, 0.0, 0.0], 60.0);
    check(
        &joint(members, vec![nail]),
        "filling 10.0 | air 10.0 | wood 10.0 | air 10.0 | filling 10.0 | air 10.0 | out 30.0",
    );
}

#[test]
fn filling_between_two_plies_is_crossed_and_counted() {
    let members = vec![
        wood((0.0, 0.0), (38.1, 100.0)),
        filling((38.1, 0.0), (63.5, 100.0)),
        wood((63.5, 0.0), (101.6, 100.0)),
    ];
    let shank = check(
        &joint(members, vec![nail([0.0, 50.0, 50.0], [1.0, 0.0, 0.0], 88.9)]),
        "wood 38.1 | filling 25.4 | wood 25.4 | holds",
    );
    close(shank.planes[0].filling_mm, 25.4);
    close(shank.planes[0].gap_mm, 0.0);
}

#[test]
fn exactly_along_the_common_face_of_two_plies_the_later_has_it() {
    let lower = wood((0.0, 0.0), (100.0, 40.0));
    let upper = wood((0.0, 40.0), (100.0, 80.0));
    for (toward, head) in [(1.0, 0.0), (-1.0, 100.0)] {
        let nail = nail([head, 40.0, 50.0], [toward, 0.0, 0.0], 60.0);
        for members in [vec![lower.clone(), upper.clone()], vec![upper.clone(), lower.clone()]] {
            let shank = check(&joint(members, vec![nail.clone()]), "wood 60.0 along | holds");
            assert_eq!(shank.core[0].body.unwrap().0, 1);
            close(shank.holding.unwrap().cover_mm, 0.0);
        }
    }
}

#[test]
fn along_an_outer_face_a_turned_member_has_all_of_it_or_a_hair_off_none() {
    for turn_deg in [0.0, 17.0, 90.0, 123.4] {
        let (sin, cos) = f64::to_radians(turn_deg).sin_cos();
        let turned = |x: f64, y: f64| [x * cos - y * sin, x * sin + y * cos, 50.0];
        let beam = Outline::Rectangle { corner: Point::ZERO, size_mm: (1000.0, 40.0), turn_deg };
        let members = vec![member(beam, (0.0, 100.0), Grain::None)];
        for y in [0.0, 40.0] {
            let nail = nail(turned(100.0, y), [cos, sin, 0.0], 60.0);
            check(&joint(members.clone(), vec![nail]), "wood 60.0 along | holds");
        }
        let off = nail(turned(100.0, -0.001), [cos, sin, 0.0], 60.0);
        check(&joint(members.clone(), vec![off]), "air 60.0 | misses");
    }
}

#[test]
fn a_round_post_by_its_middle_and_by_a_chord() {
    let post = || {
        let round = Outline::Round { centre: Point::new(100.0, 0.0), diameter_mm: 100.0 };
        member(round, (0.0, 200.0), Grain::AlongDepth)
    };
    let radial = nail([50.0, 0.0, 80.0], [1.0, 0.0, 0.0], 76.2);
    let shank = check(&joint(vec![post()], vec![radial]), "wood 76.2 | holds");
    // The round is one face, entered by the nail: the ends of the post are what is left.
    close(shank.holding.unwrap().cover_mm, 80.0);
    close(shank.holding.unwrap().angle_to_face_deg.unwrap(), 90.0);
    // At 30 above the middle the chord is 2 sqrt(50^2 - 30^2) = 80 long, from x = 60 to 140; the
    // sine of the angle to the face is 40/50.
    let chord = nail([40.0, 30.0, 80.0], [1.0, 0.0, 0.0], 130.0);
    let shank = check(&joint(vec![post()], vec![chord]), "air 20.0 | wood 80.0 | air 30.0 | out 30.0");
    close(shank.holding.unwrap().angle_to_face_deg.unwrap(), 0.8_f64.asin().to_degrees());
    close(shank.holding.unwrap().bite_square_mm, 80.0 * 0.8);
    let grazing = nail([40.0, 50.001, 80.0], [1.0, 0.0, 0.0], 130.0);
    check(&joint(vec![post()], vec![grazing]), "air 130.0 | misses");
}

#[test]
fn a_notch_is_air_and_its_bottom_is_a_face() {
    let corners = [
        (0.0, 0.0),
        (38.1, 0.0),
        (38.1, 40.0),
        (20.0, 40.0),
        (20.0, 60.0),
        (38.1, 60.0),
        (38.1, 100.0),
        (0.0, 100.0),
    ];
    let notched = Outline::Polygon(corners.map(Point::from).to_vec());
    let notched = member(notched, (0.0, 100.0), Grain::AlongDepth);
    let members = vec![notched, wood((38.1, 0.0), (138.1, 100.0))];
    let through = nail([0.0, 50.0, 50.0], [1.0, 0.0, 0.0], 80.0);
    check(&joint(members.clone(), vec![through]), "wood 20.0 | gap 18.1 | wood 41.9 | holds");
    // 4 below the notch: the corner of the notch is a vertical 4 away from the axis.
    let below = nail([0.0, 36.0, 50.0], [1.0, 0.0, 0.0], 80.0);
    let shank = check(&joint(members, vec![below]), "wood 38.1 | wood 41.9 | holds");
    close(shank.core[0].cover_mm.unwrap(), 4.0);
}

#[test]
fn the_web_of_an_i_section_is_missed_and_the_flanges_are_met() {
    let section = Outline::ISection {
        corner: Point::ZERO,
        size_mm: (60.0, 240.0),
        flange_mm: 36.0,
        web_mm: 10.0,
        turn_deg: 0.0,
    };
    let joist = || vec![member(section.clone(), (0.0, 100.0), Grain::AlongDepth)];
    // The web stands from x = 25 to 35.
    let at_web = nail([0.0, 120.0, 50.0], [1.0, 0.0, 0.0], 76.2);
    let shank = check(&joint(joist(), vec![at_web]), "air 25.0 | wood 10.0 | air 41.2 | out 41.2");
    // The flanges begin at y = 36 and 204, the depth ends are 50 away.
    close(shank.holding.unwrap().cover_mm, 50.0);
    let down_the_flange = nail([10.0, 240.0, 50.0], [0.0, -1.0, 0.0], 240.0);
    let shank = check(&joint(joist(), vec![down_the_flange]), "wood 36.0 | gap 168.0 | wood 36.0 | holds");
    close(shank.holding.unwrap().bite_mm, 72.0);
    assert_eq!(shank.planes.len(), 0, "both flanges are one body");
}

/// The same section turned about its corner, and the nail with it.
#[test]
fn a_turned_i_section_has_its_web_where_it_was_turned_to() {
    for turn_deg in [90.0, 30.0, -135.0_f64] {
        let (sin, cos) = turn_deg.to_radians().sin_cos();
        let turned = |x: f64, y: f64, z: f64| [x * cos - y * sin, x * sin + y * cos, z];
        let section = Outline::ISection {
            corner: Point::ZERO,
            size_mm: (60.0, 240.0),
            flange_mm: 36.0,
            web_mm: 10.0,
            turn_deg,
        };
        let joist = || vec![member(section.clone(), (0.0, 100.0), Grain::AlongDepth)];
        let at_web = nail(turned(0.0, 120.0, 50.0), turned(1.0, 0.0, 0.0), 76.2);
        check(&joint(joist(), vec![at_web]), "air 25.0 | wood 10.0 | air 41.2 | out 41.2");
        let down = nail(turned(10.0, 240.0, 50.0), turned(0.0, -1.0, 0.0), 240.0);
        check(&joint(joist(), vec![down]), "wood 36.0 | gap 168.0 | wood 36.0 | holds");
    }
}

#[test]
fn a_bolt_along_the_depth_passes_members_stacked_by_depth() {
    let ply =
        |from: f64, to: f64| member(rectangle((0.0, 0.0), (400.0, 140.0)), (from, to), Grain::InPlane(0.0));
    let members = vec![ply(0.0, 38.0), ply(38.0, 76.0), ply(80.0, 118.0)];
    let bolt = nail([90.0, 50.0, 118.0], [0.0, 0.0, -1.0], 130.0);
    let shank = check(
        &joint(members, vec![bolt]),
        "wood 38.0 | gap 4.0 | wood 38.0 | wood 38.0 | air 12.0 | out 12.0",
    );
    assert_eq!(shank.planes.len(), 2);
    assert_eq!(shank.core[0].entered.unwrap().which, FaceKind::Near);
    assert_eq!(shank.core[0].left.unwrap().which, FaceKind::Far);
    close(shank.holding.unwrap().cover_mm, 50.0);
}

#[test]
fn along_the_depth_on_a_shared_face_or_corner_one_body_has_it() {
    let four = [
        ((0.0, 0.0), (50.0, 50.0)),
        ((50.0, 0.0), (100.0, 50.0)),
        ((0.0, 50.0), (50.0, 100.0)),
        ((50.0, 50.0), (100.0, 100.0)),
    ];
    for (x, y) in [(50.0, 20.0), (20.0, 50.0), (50.0, 50.0), (0.0, 0.0), (100.0, 100.0), (100.0, 0.0)] {
        for sense in [1.0, -1.0] {
            let members = four.iter().map(|it| wood(it.0, it.1)).collect();
            let nail = nail([x, y, 50.0], [0.0, 0.0, sense], 40.0);
            check(&joint(members, vec![nail]), "wood 40.0 along | holds");
        }
    }
}

#[test]
fn in_the_plane_between_two_plies_stacked_by_depth_the_later_has_it() {
    let ply =
        |from: f64, to: f64| member(rectangle((0.0, 0.0), (400.0, 140.0)), (from, to), Grain::InPlane(0.0));
    let nail = nail([0.0, 70.0, 38.0], [1.0, 0.0, 0.0], 90.0);
    let shank = check(&joint(vec![ply(0.0, 38.0), ply(38.0, 76.0)], vec![nail]), "wood 90.0 along | holds");
    assert_eq!(shank.core[0].body.unwrap().0, 1);
}

#[test]
fn a_toe_nail_at_thirty_degrees_by_hand() {
    // A stud from x = 0 to 38.1 on a plate whose top is y = 0. The nail starts in the stud's left
    // face 25.4 up and runs down at 30 degrees from that face: it is in the plate after
    // 25.4 / cos 30 = 29.329 and has gone 25.4 tan 30 = 14.665 to the right.
    let members = vec![wood((0.0, 0.0), (38.1, 400.0)), wood((-20.0, -38.1), (300.0, 0.0))];
    let (sin, cos) = 30.0_f64.to_radians().sin_cos();
    let shank = check(
        &joint(members, vec![nail([0.0, 25.4, 50.0], [sin, -cos, 0.0], 63.5)]),
        "wood 29.3 | wood 34.2 | holds",
    );
    let holding = shank.holding.unwrap();
    close(holding.bite_mm, 63.5 - 25.4 / cos);
    close(holding.bite_square_mm, (63.5 - 25.4 / cos) * cos);
    close(holding.angle_to_face_deg.unwrap(), 60.0);
    close(shank.head.angle_to_face_deg.unwrap(), 30.0);
    // The stud's far face x = 38.1 is 38.1 - 14.665 away where the nail leaves the stud.
    close(shank.core[0].cover_mm.unwrap(), 38.1 - 25.4 * 30.0_f64.to_radians().tan());
}

#[test]
fn starting_inside_there_is_no_face_entered() {
    let shank = check(
        &joint(vec![wood((0.0, 0.0), (100.0, 100.0))], vec![nail([30.0, 50.0, 50.0], [1.0, 0.0, 0.0], 40.0)]),
        "wood 40.0 | holds",
    );
    assert_eq!(shank.core[0].entered, None);
    assert_eq!(shank.core[0].left, None);
    assert_eq!(shank.holding.unwrap().angle_to_face_deg, None);
    close(shank.head.sunk_mm, 30.0);
    // The faces before and behind are looked at square and do not count.
    close(shank.holding.unwrap().cover_mm, 50.0);
}

#[test]
fn through_a_corner_and_past_a_corner() {
    let diamond = Outline::Polygon(vec![
        Point::new(0.0, 50.0),
        Point::new(50.0, 0.0),
        Point::new(100.0, 50.0),
        Point::new(50.0, 100.0),
    ]);
    let members = vec![member(diamond, (0.0, 100.0), Grain::None)];
    let at = |y: f64| joint(members.clone(), vec![nail([-10.0, y, 50.0], [1.0, 0.0, 0.0], 120.0)]);
    check(&at(50.0), "air 10.0 | wood 100.0 | air 10.0 | out 10.0");
    check(&at(100.0), "air 120.0 | misses");
    check(&at(0.0), "air 120.0 | misses");
    check(&at(99.0), "air 59.0 | wood 2.0 | air 59.0 | out 59.0");
}

#[test]
fn past_an_inner_corner_it_does_not_leave() {
    // An L: the nail runs through the inner corner (50, 50).
    let l = Outline::Polygon(
        [(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (50.0, 50.0), (50.0, 100.0), (0.0, 100.0)]
            .map(Point::from)
            .to_vec(),
    );
    let members = vec![member(l, (0.0, 100.0), Grain::None)];
    let half = std::f64::consts::FRAC_1_SQRT_2;
    let across = nail([0.0, 100.0, 50.0], [half, -half, 0.0], 100.0 / half);
    check(&joint(members.clone(), vec![across]), "wood 141.4 | holds");
    let along = nail([0.0, 50.0, 50.0], [1.0, 0.0, 0.0], 80.0);
    check(&joint(members, vec![along]), "wood 80.0 | holds");
}

#[test]
fn the_body_drawn_later_takes_the_run() {
    let members = vec![wood((0.0, 0.0), (60.0, 100.0)), filling((20.0, 0.0), (40.0, 100.0))];
    let nail = nail([0.0, 50.0, 50.0], [1.0, 0.0, 0.0], 70.0);
    let shank =
        check(&joint(members, vec![nail]), "wood 20.0 | filling 20.0 | wood 20.0 | air 10.0 | out 10.0");
    assert_eq!(shank.core[0].left, None, "the wood goes on under the filling");
    assert!(shank.core[1].entered.is_some() && shank.core[1].left.is_some());
}

#[test]
fn a_slanted_shank_leaves_by_the_near_face() {
    // From z = 50 the near face at 100 is reached after 50 / sin 45.
    let half = std::f64::consts::FRAC_1_SQRT_2;
    let nail = nail([0.0, 50.0, 50.0], [half, 0.0, half], 90.0);
    let shank =
        check(&joint(vec![wood((0.0, 0.0), (200.0, 100.0))], vec![nail]), "wood 70.7 | air 19.3 | out 19.3");
    assert_eq!(shank.core[0].left.unwrap().which, FaceKind::Near);
}

#[test]
fn the_leg_of_an_angle_and_its_bend() {
    // The middle line runs up x = -0.75 and at y = 100.75 turns right over the wood.
    let angle = plate(&[(-0.75, 0.0), (-0.75, 100.75), (60.0, 100.75)], 0.0, Vec::new());
    let traced = |head: [f64; 3], toward: [f64; 3]| Joint {
        members: vec![wood((0.0, 0.0), (100.0, 100.0))],
        connectors: vec![angle.clone()],
        fasteners: vec![nail(head, toward, 50.0)],
        ..Joint::default()
    };
    check(&traced([-1.5, 50.0, 50.0], [1.0, 0.0, 0.0]), "steel 1.5 | wood 48.5 | holds");
    check(&traced([30.0, 101.5, 50.0], [0.0, -1.0, 0.0]), "steel 1.5 | wood 48.5 | holds");
}

#[test]
fn nothing_to_trace_is_no_trouble() {
    assert_eq!(trace(&Joint::default()).fasteners, Vec::new());
    let lost = [
        nail([f64::NAN, 0.0, 0.0], [1.0, 0.0, 0.0], 50.0),
        nail([0.0; 3], [0.0; 3], 50.0),
        nail([0.0; 3], [1.0, 0.0, 0.0], 0.0),
        nail([0.0; 3], [1.0, 0.0, 0.0], -5.0),
        nail([0.0; 3], [1.0, 0.0, 0.0], f64::INFINITY),
    ];
    let traced = trace(&joint(vec![wood((0.0, 0.0), (10.0, 10.0))], lost.to_vec()));
    assert!(traced.fasteners.iter().all(|it| it.core.is_empty() && it.holding.is_none()));
}
