//! Heads, washers, nuts and holes, worked out by hand.

use kurbo::Point;

use super::scene::{
    NAIL_MM, check, close, close_to, cut, fastener, filling, hole, joint, line, nail, plate, rectangle, spec,
    washer, wood,
};
use crate::joint::{Fastener, Hole, Joint, Outline, Placement, PlateSide, Seat};
use crate::stock::FastenerKind;
use crate::trace::{BodyIx, HoleIx, Seating, shank, trace};

const RIGHT: [f64; 3] = [1.0, 0.0, 0.0];

fn bolt(head: [f64; 3], toward: [f64; 3]) -> Fastener {
    let place = Placement::Free { head: head.into(), toward: toward.into() };
    fastener(spec(FastenerKind::Bolt, 12.7, 150.0), place)
}

/// A strap on the left of a block of wood, its middle line upwards, and a nail in a hole of it.
fn strap(holes: Vec<Hole>, fasteners: Vec<Fastener>) -> Joint {
    Joint {
        members: vec![wood((0.0, 0.0), (100.0, 100.0))],
        connectors: vec![plate(&[(-0.75, 0.0), (-0.75, 100.0)], 0.0, holes)],
        fasteners,
        ..Joint::default()
    }
}

fn fills(hole: &str, angle_deg: Option<f64>) -> Fastener {
    let place = Placement::Fills { connector: "plate".to_owned(), hole: hole.to_owned(), angle_deg };
    fastener(spec(FastenerKind::Nail, NAIL_MM, 50.0), place)
}

#[test]
fn a_bolt_with_washers_at_both_ends() {
    let members = vec![wood((0.0, 0.0), (38.1, 100.0)), wood((38.1, 0.0), (76.2, 100.0))];
    let with =
        Fastener { head_washer: washer(2.8), nut_washer: washer(2.8), ..bolt([-2.8, 50.0, 50.0], RIGHT) };
    let shank = check(
        &joint(members.clone(), vec![with]),
        "washer 2.8 | wood 38.1 | wood 38.1 | washer 2.8 | air 68.2 | out 71.0",
    );
    assert_eq!(shank.head.on, Seating::Washer);
    close(shank.head.stands_off_mm, 0.0);
    close(shank.head.angle_to_face_deg.unwrap(), 90.0);
    let nut = shank.nut.unwrap();
    assert_eq!(nut.on, Seating::Washer);
    close(nut.projects_mm, 71.0);
    close(nut.angle_to_face_deg.unwrap(), 90.0);
    assert_eq!(shank.planes.len(), 1, "a washer makes no shear plane");
    let without = check(
        &joint(members, vec![bolt([0.0, 50.0, 50.0], RIGHT)]),
        "wood 38.1 | wood 38.1 | air 73.8 | out 73.8",
    );
    assert_eq!(without.head.on, Seating::Bearing(BodyIx(0)));
    assert_eq!(without.nut.unwrap().on, Seating::Bearing(BodyIx(1)));
}

#[test]
fn a_nut_on_a_slope_is_told_by_its_angle() {
    let wedge =
        Outline::Polygon([(0.0, 0.0), (100.0, 0.0), (60.0, 100.0), (0.0, 100.0)].map(Point::from).to_vec());
    let member = super::scene::member(wedge, (0.0, 100.0), crate::joint::Grain::AlongDepth);
    // The right side leans 40 in 100: the axis meets it at 90 - atan 0.4.
    let shank =
        check(&joint(vec![member], vec![bolt([0.0, 50.0, 50.0], RIGHT)]), "wood 80.0 | air 70.0 | out 70.0");
    close(shank.nut.unwrap().angle_to_face_deg.unwrap(), 90.0 - 0.4_f64.atan().to_degrees());
}

#[test]
fn a_head_in_the_air_with_and_without_a_washer() {
    let members = || vec![wood((10.0, 0.0), (60.0, 100.0))];
    let bare =
        check(&joint(members(), vec![nail([0.0, 50.0, 50.0], RIGHT, 50.0)]), "air 10.0 | wood 40.0 | holds");
    assert_eq!(bare.head.on, Seating::Air);
    close(bare.head.stands_off_mm, 10.0);
    assert_eq!(bare.head.angle_to_face_deg, None);
    let washer = Fastener { head_washer: washer(4.0), ..nail([0.0, 50.0, 50.0], RIGHT, 50.0) };
    let shank = check(&joint(members(), vec![washer]), "washer 4.0 | air 6.0 | wood 40.0 | holds");
    assert_eq!(shank.head.on, Seating::Washer);
    close(shank.head.stands_off_mm, 6.0);
}

#[test]
fn a_head_on_a_filling_and_one_sunk() {
    let members = vec![filling((0.0, 0.0), (12.0, 100.0)), wood((12.0, 0.0), (60.0, 100.0))];
    let shank = check(
        &joint(members.clone(), vec![nail([0.0, 50.0, 50.0], RIGHT, 50.0)]),
        "filling 12.0 | wood 38.0 | holds",
    );
    assert_eq!(shank.head.on, Seating::Filling(BodyIx(0)));
    let sunk = Fastener { seat: Seat::Overdriven(3.0), ..nail([0.0, 50.0, 50.0], RIGHT, 50.0) };
    let shank = check(&joint(members, vec![sunk]), "filling 9.0 | wood 41.0 | holds");
    close(shank.head.sunk_mm, 3.0);
    close_to(shank.head_at, [3.0, 50.0, 50.0]);
    close(shank.head.at_face.unwrap().at.x, 12.0);
}

#[test]
fn in_its_hole_the_head_sits_on_the_steel() {
    let holes = || vec![hole("h1", 40.0, PlateSide::Left), hole("h2", 60.0, PlateSide::Right)];
    let traced = trace(&strap(holes(), vec![fills("h1", None)]));
    let shank = &traced.fasteners[0];
    assert_eq!(line(&traced, shank), "steel 1.5 | wood 48.5 | holds");
    close_to(shank.head_at, [-1.5, 40.0, 50.0]);
    close_to(shank.toward, RIGHT);
    assert_eq!(shank.head.on, Seating::Steel(BodyIx(1)));
    assert_eq!((shank.head.hole, shank.core[0].hole), (Some(HoleIx(0)), Some(HoleIx(0))));
    assert_eq!(shank.planes[0].in_side, None);
    close_to(traced.holes[0].at, [-1.5, 40.0, 50.0]);
    close_to(traced.holes[0].square, RIGHT);
    // The second is driven from the wood's side and stays empty.
    close_to(traced.holes[1].at, [0.0, 60.0, 50.0]);
    assert!(traced.holes[1].filled_by.is_empty());
    let fill = traced.holes[0].filled_by[0];
    assert_eq!((traced.holes[0].filled_by.len(), fill.fastener), (1, 0));
    close(fill.play_mm, 5.0 - NAIL_MM);
    close(fill.off_centre_mm, 0.0);
    close(fill.tilt_deg, 0.0);
}

#[test]
fn an_angle_turns_the_shank_about_the_hole() {
    let forced = Hole { angle_deg: Some(-10.0), ..hole("h1", 40.0, PlateSide::Left) };
    for (own, degrees) in [(Some(20.0), 20.0_f64), (None, -10.0)] {
        let traced = trace(&strap(vec![forced.clone()], vec![fills("h1", own)]));
        let (sin, cos) = degrees.to_radians().sin_cos();
        close_to(traced.fasteners[0].toward, [cos, sin, 0.0]);
        let fill = traced.holes[0].filled_by[0];
        close(fill.tilt_deg, degrees);
        // The steel is 1.5 thick: its middle lies 0.75 below the head.
        close(fill.off_centre_mm, (0.75 * degrees.to_radians().tan()).abs());
    }
}

/// A strap that leans: its middle line runs 30 degrees off level, the nail is driven from its left, down to the right.
#[test]
fn an_angle_turns_the_shank_in_steel_that_leans() {
    let (sin, cos) = 30.0_f64.to_radians().sin_cos();
    let lean = plate(&[(0.0, 0.0), (100.0 * cos, 100.0 * sin)], 0.0, vec![hole("h1", 40.0, PlateSide::Left)]);
    for (own, degrees) in [(None, -60.0_f64), (Some(25.0), -35.0), (Some(-40.0), -100.0)] {
        let joint =
            Joint { connectors: vec![lean.clone()], fasteners: vec![fills("h1", own)], ..Joint::default() };
        let traced = trace(&joint);
        let (sin, cos) = degrees.to_radians().sin_cos();
        close_to(traced.fasteners[0].toward, [cos, sin, 0.0]);
    }
}

#[test]
fn seat_and_washer_move_the_head_along_the_axis() {
    let traced = |it: Fastener| {
        let trace = trace(&strap(vec![hole("h1", 40.0, PlateSide::Left)], vec![it]));
        (line(&trace, &trace.fasteners[0]), trace.fasteners[0].head)
    };
    let (core, head) = traced(Fastener { seat: Seat::Proud(3.0), ..fills("h1", None) });
    assert_eq!((core.as_str(), head.on), ("air 3.0 | steel 1.5 | wood 45.5 | holds", Seating::Air));
    close(head.stands_off_mm, 3.0);
    let (core, head) = traced(Fastener { seat: Seat::Overdriven(1.0), ..fills("h1", None) });
    assert_eq!((core.as_str(), head.hole), ("steel 0.5 | wood 49.5 | holds", Some(HoleIx(0))));
    close(head.sunk_mm, 1.0);
    let (core, head) = traced(Fastener { head_washer: washer(2.0), ..fills("h1", None) });
    assert_eq!((core.as_str(), head.on), ("washer 2.0 | steel 1.5 | wood 46.5 | holds", Seating::Washer));
    close(head.stands_off_mm, 0.0);
}

#[test]
fn a_free_shank_fills_the_hole_that_it_goes_through() {
    let at = |y: f64| {
        trace(&strap(vec![hole("h1", 40.0, PlateSide::Left)], vec![nail([-1.5, y, 50.0], RIGHT, 50.0)]))
    };
    let inside = at(41.0);
    assert_eq!(inside.fasteners[0].core[0].hole, Some(HoleIx(0)));
    close(inside.holes[0].filled_by[0].off_centre_mm, 1.0);
    let beside = at(43.0);
    assert_eq!(beside.fasteners[0].core[0].hole, None);
    assert!(beside.holes[0].filled_by.is_empty());
}

#[test]
fn a_hole_that_is_not_there_leaves_the_shank_nowhere() {
    let traced = trace(&strap(vec![hole("h1", 40.0, PlateSide::Left)], vec![fills("h9", None)]));
    assert!(traced.fasteners[0].core.is_empty());
    assert_eq!(traced.fasteners[0].holding, None);
}

#[test]
fn through_the_round_of_a_bend() {
    // The bend's middle line has radius 5 about (4.25, 95.75): the steel lies from 4.25 to 5.75 of it.
    let angle = plate(&[(-0.75, 0.0), (-0.75, 100.75), (60.0, 100.75)], 5.0, Vec::new());
    let half = std::f64::consts::FRAC_1_SQRT_2;
    let nail = nail([4.25 - 9.75 * half, 95.75 + 9.75 * half, 50.0], [half, -half, 0.0], 30.0);
    let shank = check(
        &Joint { connectors: vec![angle], fasteners: vec![nail], ..Joint::default() },
        "air 4.0 | steel 1.5 | air 24.5 | misses",
    );
    close_to(shank.core[1].entered.unwrap().normal, [-half, half, 0.0]);
}

#[test]
fn cut_outs_are_air_whether_notch_or_hole() {
    let nail = nail([0.0, 50.0, 50.0], RIGHT, 80.0);
    let notch = cut(wood((0.0, 0.0), (38.1, 100.0)), rectangle((20.0, 40.0), (60.0, 60.0)));
    let members = vec![notch, wood((38.1, 0.0), (138.1, 100.0))];
    check(&joint(members, vec![nail.clone()]), "wood 20.0 | gap 18.1 | wood 41.9 | holds");
    let round = Outline::Round { centre: Point::new(40.0, 50.0), diameter_mm: 24.0 };
    let drilled = cut(wood((0.0, 0.0), (100.0, 100.0)), round.clone());
    let shank = check(&joint(vec![drilled.clone()], vec![nail]), "wood 28.0 | gap 24.0 | wood 28.0 | holds");
    close(shank.holding.unwrap().bite_mm, 56.0);
    // A shank that passes 3 above the hole has that as its cover.
    let above = super::scene::nail([0.0, 65.0, 50.0], RIGHT, 80.0);
    let shank = check(&joint(vec![drilled], vec![above]), "wood 80.0 | holds");
    close(shank.holding.unwrap().cover_mm, 3.0);
}

#[test]
fn one_fastener_alone_is_traced_like_all() {
    let joint = strap(
        vec![hole("h1", 40.0, PlateSide::Left)],
        vec![fills("h1", None), nail([-1.5, 70.0, 50.0], RIGHT, 50.0)],
    );
    let bodies = crate::trace::Bodies::of(&joint);
    let all = trace(&joint);
    for (alone, traced) in joint.fasteners.iter().zip(&all.fasteners) {
        assert_eq!(&shank(&bodies, alone), traced);
    }
    assert_eq!(bodies.list, all.bodies);
}
