//! Distances on faces, neighbours and collisions, worked out by hand.

use kurbo::Point;

use super::scene::{NAIL_MM, check, close, close_to, joint, member, nail, rectangle, wood};
use crate::joint::{Fastener, Grain, Member, Outline};
use crate::trace::{FaceDistances, Neighbours, Reach, trace};

/// Each direction to the nearest hundredth, and the distance that way.
#[track_caller]
fn reaches(measured: [Reach; 2], expected: [([f64; 3], f64); 2]) {
    for (measured, (toward, mm)) in measured.iter().zip(expected) {
        close_to(measured.toward, toward);
        close(measured.mm, mm);
    }
}

fn at_face(members: Vec<Member>, fastener: Fastener) -> FaceDistances {
    let trace = trace(&joint(members, vec![fastener]));
    trace.fasteners[0].head.at_face.expect("it enters wood by a face")
}

const UP: [f64; 3] = [0.0, 1.0, 0.0];
const DOWN: [f64; 3] = [0.0, -1.0, 0.0];
const RIGHT: [f64; 3] = [1.0, 0.0, 0.0];
const LEFT: [f64; 3] = [-1.0, 0.0, 0.0];
const NEAR: [f64; 3] = [0.0, 0.0, 1.0];
const FAR: [f64; 3] = [0.0, 0.0, -1.0];

#[test]
fn on_a_side_face_with_the_grain_along_the_depth() {
    let found = at_face(vec![wood((0.0, 0.0), (38.1, 100.0))], nail([0.0, 40.0, 30.0], RIGHT, 30.0));
    reaches(found.along, [(NEAR, 70.0), (FAR, 30.0)]);
    // The left side of an outline that runs anticlockwise goes down.
    reaches(found.across, [(DOWN, 40.0), (UP, 60.0)]);
    assert!(!found.end_grain);
}

#[test]
fn on_the_top_of_a_beam_and_in_its_end() {
    let beam = || member(rectangle((0.0, 0.0), (400.0, 140.0)), (0.0, 38.0), Grain::InPlane(0.0));
    let top = at_face(vec![beam()], nail([90.0, 140.0, 10.0], DOWN, 60.0));
    reaches(top.along, [(RIGHT, 310.0), (LEFT, 90.0)]);
    reaches(top.across, [(NEAR, 28.0), (FAR, 10.0)]);
    assert!(!top.end_grain);
    let end = at_face(vec![beam()], nail([0.0, 40.0, 10.0], RIGHT, 60.0));
    assert!(end.end_grain);
    let mut four: Vec<f64> = end.along.iter().chain(&end.across).map(|it| it.mm).collect();
    four.sort_by(f64::total_cmp);
    assert_eq!(four, [10.0, 28.0, 40.0, 100.0]);
}

#[test]
fn on_the_near_face_of_a_splice_straight_and_turned() {
    for turn_deg in [0.0, 30.0, 90.0] {
        let (sin, cos) = f64::to_radians(turn_deg).sin_cos();
        let outline = Outline::Rectangle { corner: Point::ZERO, size_mm: (400.0, 140.0), turn_deg };
        let ply = member(outline, (0.0, 38.0), Grain::InPlane(turn_deg));
        let head = [90.0 * cos - 50.0 * sin, 90.0 * sin + 50.0 * cos, 38.0];
        let found = at_face(vec![ply], nail(head, FAR, 30.0));
        let (along, across) = ([cos, sin, 0.0], [-sin, cos, 0.0]);
        let back = |it: [f64; 3]| [-it[0], -it[1], 0.0];
        reaches(found.along, [(along, 310.0), (back(along), 90.0)]);
        reaches(found.across, [(across, 90.0), (back(across), 50.0)]);
        assert!(!found.end_grain);
    }
    let post = at_face(vec![wood((0.0, 0.0), (90.0, 90.0))], nail([20.0, 30.0, 100.0], FAR, 60.0));
    assert!(post.end_grain, "the grain looks out of the near face");
}

#[test]
fn on_a_round_post_to_its_silhouette() {
    let round = Outline::Round { centre: Point::new(100.0, 0.0), diameter_mm: 100.0 };
    let post = || vec![member(round.clone(), (0.0, 200.0), Grain::AlongDepth)];
    for y in [0.0, 30.0] {
        let found = at_face(post(), nail([0.0, y, 80.0], RIGHT, 120.0));
        // Seen along the tangent the post reaches one radius either way, wherever on it the nail goes in.
        close(found.across[0].mm, 50.0);
        close(found.across[1].mm, 50.0);
        reaches(found.along, [(NEAR, 120.0), (FAR, 80.0)]);
    }
}

#[test]
fn past_an_inner_corner_the_wood_goes_on() {
    let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (50.0, 50.0), (50.0, 100.0), (0.0, 100.0)];
    let l = member(Outline::Polygon(corners.map(Point::from).to_vec()), (0.0, 100.0), Grain::AlongDepth);
    let found = at_face(vec![l], nail([50.0, 80.0, 50.0], LEFT, 30.0));
    reaches(found.across, [(UP, 20.0), (DOWN, 80.0)]);
}

#[test]
fn both_sides_of_a_shear_plane() {
    // Side grain upright, main grain along the depth; the plane is x = 38.
    let side = member(rectangle((0.0, -100.0), (38.0, 200.0)), (0.0, 89.0), Grain::InPlane(90.0));
    let main = wood((38.0, 0.0), (138.0, 140.0));
    let shank = check(
        &joint(vec![side, main], vec![nail([0.0, 60.0, 20.0], RIGHT, 88.9)]),
        "wood 38.0 | wood 50.9 | holds",
    );
    let plane = &shank.planes[0];
    close_to(plane.normal, LEFT);
    let (side, main) = (plane.in_side.unwrap(), plane.in_main.unwrap());
    reaches(side.along, [(UP, 140.0), (DOWN, 160.0)]);
    reaches(side.across, [(NEAR, 69.0), (FAR, 20.0)]);
    reaches(main.along, [(NEAR, 80.0), (FAR, 20.0)]);
    reaches(main.across, [(DOWN, 60.0), (UP, 80.0)]);
}

/// The neighbours of two nails in one beam 400 by 140, 100 deep, its grain to the right.
fn neighbours(a: Fastener, b: Fastener) -> Vec<Neighbours> {
    let beam = member(rectangle((0.0, 0.0), (400.0, 140.0)), (0.0, 100.0), Grain::InPlane(0.0));
    trace(&joint(vec![beam], vec![a, b])).neighbours
}

#[test]
fn spacing_is_split_along_and_across_the_grain() {
    let found = neighbours(nail([160.0, 140.0, 30.0], DOWN, 60.0), nail([120.0, 140.0, 50.0], DOWN, 60.0));
    assert_eq!((found.len(), found[0].a, found[0].b), (1, 0, 1));
    close(found[0].along_mm, 40.0);
    close(found[0].across_mm, 20.0);
    close_to(found[0].along, LEFT);
    close_to(found[0].across, NEAR);
    // Sixteen diameters of 4.1148 are 65.8 and the two would be 100 apart.
    assert!(
        neighbours(nail([160.0, 140.0, 30.0], DOWN, 60.0), nail([60.0, 140.0, 30.0], DOWN, 60.0)).is_empty()
    );
}

#[test]
fn slanted_shanks_are_spaced_square_to_themselves() {
    // 40 apart on the face, both at 30 degrees from square: 40 cos 30 square to the shanks.
    let (sin, cos) = 30.0_f64.to_radians().sin_cos();
    let way = [sin, -cos, 0.0];
    let found = neighbours(nail([160.0, 140.0, 30.0], way, 60.0), nail([200.0, 140.0, 30.0], way, 60.0));
    close(found[0].along_mm, 40.0 * cos);
    close(found[0].across_mm, 0.0);
}

#[test]
fn shanks_at_an_angle_are_spaced_on_the_face_that_both_cross() {
    let (sin, cos) = 30.0_f64.to_radians().sin_cos();
    let found = neighbours(
        nail([160.0, 140.0, 30.0], [sin, -cos, 0.0], 60.0),
        nail([200.0, 140.0, 50.0], [-sin, -cos, 0.0], 60.0),
    );
    close(found[0].along_mm, 40.0);
    close(found[0].across_mm, 20.0);
}

#[test]
fn shanks_from_opposite_faces_that_do_not_pass_each_other_keep_their_distance() {
    // From above to y = 90, from below to y = 50: the points are 40 apart, across the grain.
    let found = neighbours(nail([160.0, 140.0, 30.0], DOWN, 50.0), nail([160.0, 0.0, 30.0], UP, 50.0));
    close(found[0].along_mm, 0.0);
    close(found[0].across_mm, 40.0);
    // Driven past each other they stand side by side.
    let found = neighbours(nail([160.0, 140.0, 30.0], DOWN, 80.0), nail([180.0, 0.0, 30.0], UP, 80.0));
    close(found[0].along_mm, 20.0);
    close(found[0].across_mm, 0.0);
}

#[test]
fn in_end_grain_all_spacing_is_across() {
    let found = neighbours(nail([0.0, 40.0, 30.0], RIGHT, 60.0), nail([0.0, 80.0, 60.0], RIGHT, 60.0));
    close(found[0].along_mm, 0.0);
    close(found[0].across_mm, 50.0);
}

#[test]
fn shanks_collide_when_their_axes_are_nearer_than_both_radii() {
    let cross = |z: f64| {
        let up = nail([50.0, 0.0, 30.0 + z], UP, 60.0);
        trace(&joint(Vec::new(), vec![nail([0.0, 20.0, 30.0], RIGHT, 80.0), up])).clashes
    };
    let found = cross(3.0);
    assert_eq!((found.len(), found[0].a, found[0].b), (1, 0, 1));
    close(found[0].axes_apart_mm, 3.0);
    close(found[0].touch_mm, NAIL_MM);
    close_to(found[0].at, [50.0, 20.0, 31.5]);
    assert!(cross(NAIL_MM).is_empty(), "they just touch");
    assert!(cross(5.0).is_empty());
}

#[test]
fn shanks_end_to_end_and_on_each_other_collide() {
    let clashes = |second: Fastener| {
        trace(&joint(Vec::new(), vec![nail([0.0, 20.0, 30.0], RIGHT, 80.0), second])).clashes
    };
    close(clashes(nail([0.0, 20.0, 30.0], RIGHT, 80.0))[0].axes_apart_mm, 0.0);
    close(clashes(nail([163.0, 20.0, 30.0], LEFT, 80.0))[0].axes_apart_mm, 3.0);
    assert!(clashes(nail([165.0, 20.0, 30.0], LEFT, 80.0)).is_empty());
}

#[test]
fn a_crowd_on_one_spot_is_told_without_every_pair() {
    let crowd: Vec<Fastener> = (0..3000).map(|_| nail([160.0, 140.0, 30.0], DOWN, 60.0)).collect();
    let beam = member(rectangle((0.0, 0.0), (400.0, 140.0)), (0.0, 100.0), Grain::InPlane(0.0));
    let found = trace(&joint(vec![beam], crowd));
    assert!(found.clashes.len() <= 3000 * 24 && found.neighbours.len() <= 3000 * 24);
    let mut hit: Vec<usize> = found.clashes.iter().flat_map(|it| [it.a, it.b]).collect();
    hit.sort_unstable();
    hit.dedup();
    assert_eq!(hit.len(), 3000, "every one of them is told");
}
