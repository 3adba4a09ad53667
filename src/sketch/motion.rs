//! Moves, turns and mirrors of what is drawn, in the drawing plane and in depth.

mod path;

use kurbo::{Point, Vec2};

use crate::joint::{
    Connector, Fastener, Grain, Hole, Interval, Member, Outline, Placement, Plate, PlateSide,
};
use crate::shape::sin_cos_deg;
use crate::unit::Vec3;

/// A move that changes no size: mirrored or not, then turned, then shifted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// Mirrored across the x axis first.
    mirrored: bool,
    /// Then turned about the origin, degrees anticlockwise.
    turn_deg: f64,
    /// Then shifted, millimetres.
    shift: Vec3,
}

impl Motion {
    /// A shift, in depth too.
    #[must_use]
    pub fn shift(by: Vec3) -> Self {
        Self { mirrored: false, turn_deg: 0.0, shift: by }
    }

    /// A turn about a place in the drawing, degrees anticlockwise.
    #[must_use]
    pub fn turn(about: Point, degrees: f64) -> Self {
        Self::about(about, false, degrees)
    }

    /// A mirror image across the line through a place that rises by so many degrees: 90 swaps left and right.
    #[must_use]
    pub fn mirror(through: Point, line_deg: f64) -> Self {
        Self::about(through, true, 2.0 * line_deg)
    }

    fn about(fixed: Point, mirrored: bool, turn_deg: f64) -> Self {
        let bare = Self { mirrored, turn_deg: straight(turn_deg), shift: Vec3::default() };
        let moved = fixed - bare.point(fixed);
        Self { shift: Vec3::new(moved.x, moved.y, 0.0), ..bare }
    }

    /// Where a place in the drawing goes.
    #[must_use]
    pub fn point(&self, it: Point) -> Point {
        (self.way(it.to_vec2()) + Vec2::new(self.shift.x, self.shift.y)).to_point()
    }

    /// Where a place in space goes.
    #[must_use]
    pub fn place(&self, it: Vec3) -> Vec3 {
        let plan = self.point(it.plan());
        Vec3::new(plan.x, plan.y, it.z + self.shift.z)
    }

    /// Where a direction looks afterwards.
    #[must_use]
    pub fn direction(&self, it: Vec3) -> Vec3 {
        let plan = self.way(Vec2::new(it.x, it.y));
        Vec3::new(plan.x, plan.y, it.z)
    }

    fn way(&self, it: Vec2) -> Vec2 {
        let it = if self.mirrored { Vec2::new(it.x, -it.y) } else { it };
        if self.turn_deg == 0.0 {
            return it;
        }
        let (sin, cos) = sin_cos_deg(self.turn_deg);
        Vec2::new(it.x * cos - it.y * sin, it.x * sin + it.y * cos)
    }

    fn degrees(&self, it: f64) -> f64 {
        straight(if self.mirrored { self.turn_deg - it } else { self.turn_deg + it })
    }

    fn interval(&self, it: Interval) -> Interval {
        Interval { from: it.from + self.shift.z, to: it.to + self.shift.z }
    }

    /// An outline moved.
    #[must_use]
    pub fn outline(&self, it: &Outline) -> Outline {
        match it {
            Outline::Rectangle { corner, size_mm, turn_deg } => {
                let (corner, turn_deg) = self.boxed(*corner, *size_mm, *turn_deg);
                Outline::Rectangle { corner, size_mm: *size_mm, turn_deg }
            }
            Outline::ISection { corner, size_mm, flange_mm, web_mm, turn_deg } => {
                let (corner, turn_deg) = self.boxed(*corner, *size_mm, *turn_deg);
                let (flange_mm, web_mm) = (*flange_mm, *web_mm);
                Outline::ISection { corner, size_mm: *size_mm, flange_mm, web_mm, turn_deg }
            }
            Outline::Polygon(corners) => Outline::Polygon(corners.iter().map(|it| self.point(*it)).collect()),
            Outline::Round { centre, diameter_mm } => {
                Outline::Round { centre: self.point(*centre), diameter_mm: *diameter_mm }
            }
            Outline::Path(data) => Outline::Path(path::moved(data, self)),
        }
    }

    /// The lower-left corner and the turn of a shape that is alike both ways, moved. Of the turns that
    /// give the same shape the one nearest to upright is taken.
    fn boxed(&self, corner: Point, (width, height): (f64, f64), turn_deg: f64) -> (Point, f64) {
        let (sin, cos) = sin_cos_deg(turn_deg);
        let (along, up) = (Vec2::new(cos, sin) * width, Vec2::new(-sin, cos) * height);
        if !self.mirrored {
            return (self.point(corner), self.degrees(turn_deg));
        }
        let (over, under) = (self.degrees(turn_deg), straight(self.degrees(turn_deg) + 180.0));
        if over.abs() <= under.abs() {
            (self.point(corner + up), over)
        } else {
            (self.point(corner + along), under)
        }
    }

    /// A member moved, its grain with it.
    #[must_use]
    pub fn member(&self, it: &Member) -> Member {
        Member {
            outline: self.outline(&it.outline),
            cutouts: it.cutouts.iter().map(|it| self.outline(it)).collect(),
            depth: self.interval(it.depth),
            grain: match it.grain {
                Grain::InPlane(degrees) => Grain::InPlane(self.degrees(degrees)),
                Grain::AlongDepth | Grain::None => it.grain,
            },
            ..it.clone()
        }
    }

    /// A connector moved; in a mirror its holes are driven from the other side of their line.
    #[must_use]
    pub fn connector(&self, it: &Connector) -> Connector {
        let mut new = it.clone();
        new.plates = it.plates.iter().map(|it| self.plate(it)).collect();
        if let Some(rating) = &mut new.rating {
            rating.toward = self.direction(rating.toward);
        }
        new
    }

    fn plate(&self, it: &Plate) -> Plate {
        let hole = |it: &Hole| Hole {
            depth_mm: it.depth_mm + self.shift.z,
            angle_deg: it.angle_deg.map(|it| self.lean(it)),
            driven_from: match (it.driven_from, self.mirrored) {
                (PlateSide::Left, false) | (PlateSide::Right, true) => PlateSide::Left,
                (PlateSide::Right, false) | (PlateSide::Left, true) => PlateSide::Right,
            },
            ..it.clone()
        };
        Plate {
            depth: self.interval(it.depth),
            profile: it.profile.iter().map(|it| self.point(*it)).collect(),
            holes: it.holes.iter().map(hole).collect(),
            ..it.clone()
        }
    }

    fn lean(&self, degrees: f64) -> f64 {
        if self.mirrored { -degrees } else { degrees }
    }

    /// A fastener moved; one in a hole goes with its connector and only leans the other way in a mirror.
    #[must_use]
    pub fn fastener(&self, it: &Fastener) -> Fastener {
        let place = match &it.place {
            Placement::Free { head, toward } => {
                Placement::Free { head: self.place(*head), toward: self.direction(*toward) }
            }
            Placement::Fills { connector, hole, angle_deg } => Placement::Fills {
                connector: connector.clone(),
                hole: hole.clone(),
                angle_deg: angle_deg.map(|it| self.lean(it)),
            },
        };
        Fastener { place, ..it.clone() }
    }
}

/// The same angle from above -180 up to 180 degrees.
fn straight(degrees: f64) -> f64 {
    let turn = degrees.rem_euclid(360.0);
    // A turn of a hair less than nothing must not become a full one.
    if turn >= 360.0 {
        0.0
    } else if 180.0 < turn {
        turn - 360.0
    } else {
        turn
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::joint::{Joint, file};
    use crate::shape::Region;
    use crate::stock::Stock;
    use crate::trace::trace;

    fn samples() -> Vec<Joint> {
        let stock = Stock::built_in();
        [
            include_str!("../../sample-projects/alder-court-hanger.joint.json"),
            include_str!("../../sample-projects/weir-gate-post.joint.json"),
            include_str!("../../sample-projects/osier-lane-strap.joint.json"),
            include_str!("../../sample-projects/quay-house-sill.joint.json"),
        ]
        .map(|text| file::read(text, &stock).unwrap())
        .to_vec()
    }

    fn moved(joint: &Joint, by: &Motion) -> Joint {
        Joint {
            members: joint.members.iter().map(|it| by.member(it)).collect(),
            connectors: joint.connectors.iter().map(|it| by.connector(it)).collect(),
            fasteners: joint.fasteners.iter().map(|it| by.fastener(it)).collect(),
            ..joint.clone()
        }
    }

    fn lengths(joint: &Joint) -> Vec<(f64, Option<usize>)> {
        let traced = trace(joint);
        let runs = traced.fasteners.iter().flat_map(|it| &it.core);
        runs.map(|it| (it.to_mm - it.from_mm, it.body.map(|it| it.0))).collect()
    }

    #[test]
    fn a_mirrored_rectangle_stays_upright() {
        let board =
            Outline::Rectangle { corner: Point::new(10.0, 5.0), size_mm: (30.0, 20.0), turn_deg: 0.0 };
        let flipped = Motion::mirror(Point::ZERO, 90.0).outline(&board);
        let wanted =
            Outline::Rectangle { corner: Point::new(-40.0, 5.0), size_mm: (30.0, 20.0), turn_deg: 0.0 };
        assert_eq!(flipped, wanted);
        let turned = Motion::turn(Point::new(10.0, 5.0), 90.0).outline(&board);
        let wanted =
            Outline::Rectangle { corner: Point::new(10.0, 5.0), size_mm: (30.0, 20.0), turn_deg: 90.0 };
        assert_eq!(turned, wanted);
        assert!((Motion::mirror(Point::ZERO, 0.0).degrees(30.0) + 30.0).abs() < 1e-12);
        assert!((Motion::mirror(Point::ZERO, 90.0).degrees(30.0) - 150.0).abs() < 1e-12);
    }

    #[test]
    fn a_path_with_arcs_and_a_full_circle_keeps_its_area() {
        let path =
            "M 0,0 L 100,0 A 50 50 0 0 1 100 100 L 0,100 Z M 30 50 A 10 10 0 0 1 50 50 A 10 10 0 0 1 30 50 Z";
        let area = Region::path(path).unwrap().area_mm2();
        for motion in [Motion::turn(Point::new(3.0, 4.0), 33.0), Motion::mirror(Point::new(3.0, 4.0), 20.0)] {
            let Outline::Path(data) = motion.outline(&Outline::Path(path.to_owned())) else {
                panic!("a path")
            };
            assert!((Region::path(&data).unwrap().area_mm2() - area).abs() < 1e-6, "{data}");
        }
    }

    #[test]
    fn an_outline_that_is_moved_again_and_again_does_not_grow() {
        let mut outline = Outline::Path("M 0 0 H 20 V 10 A 10 10 0 0 1 10 20 L 0 20 Z".into());
        for _ in 0..5 {
            outline = Motion::shift(Vec3::new(3.0, 4.0, 0.0)).outline(&outline);
        }
        assert_eq!(outline, Outline::Path("M 15 20 L 35 20 L 35 30 A 10 10 0 0 1 25 40 L 15 40 Z".into()));
        let mut half = Outline::Path("M 0 0 A 10 10 0 0 1 20 0 Z".into());
        for _ in 0..5 {
            half = Motion::turn(Point::new(10.0, 0.0), 30.0).outline(&half);
        }
        let Outline::Path(data) = half else { panic!("a path") };
        assert_eq!(data.matches('A').count(), 4, "{data}");
    }

    fn region(it: &Outline) -> Region {
        match it {
            Outline::Rectangle { corner, size_mm, turn_deg } => {
                Region::rectangle(*corner, *size_mm, *turn_deg)
            }
            Outline::Polygon(corners) => Region::polygon(corners),
            Outline::Round { centre, diameter_mm } => Region::round(*centre, *diameter_mm),
            Outline::Path(data) => Region::path(data).unwrap(),
            Outline::ISection { .. } => panic!("not asked here"),
        }
    }

    /// Every kind of outline, moved, holds the images of the places that it held, and no others.
    #[test]
    fn an_outline_goes_where_its_places_go() {
        let outlines = [
            Outline::Rectangle { corner: Point::new(3.0, -2.0), size_mm: (20.0, 8.0), turn_deg: 30.0 },
            Outline::Polygon(vec![Point::new(0.0, 0.0), Point::new(30.0, 4.0), Point::new(5.0, 22.0)]),
            Outline::Round { centre: Point::new(6.0, 5.0), diameter_mm: 14.0 },
            Outline::Path("m 0 0 h 20 v 10 a 10 10 0 0 1 -10 10 l -10 0 z".into()),
        ];
        let moves = [
            Motion::shift(Vec3::new(7.0, -3.0, 0.0)),
            Motion::turn(Point::new(4.0, 4.0), 37.0),
            Motion::mirror(Point::new(11.0, 0.0), 90.0),
            Motion::mirror(Point::new(1.0, 2.0), 25.0),
        ];
        for outline in &outlines {
            let before = region(outline);
            for it in &moves {
                let after = region(&it.outline(outline));
                assert!((before.area_mm2() - after.area_mm2()).abs() < 1e-6, "{outline:?} {it:?}");
                for n in 0..400 {
                    let at = Point::new(f64::from(n % 20) * 1.73 - 3.1, f64::from(n / 20) * 1.61 - 5.3);
                    assert_eq!(
                        before.contains(at),
                        after.contains(it.point(at)),
                        "{outline:?} {it:?} {at:?}"
                    );
                }
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

        /// Turned, mirrored or shifted as a whole, a joint has the same cores, and back again the same places.
        #[test]
        fn a_joint_that_is_moved_as_a_whole_is_the_same_joint(
            x in -500.0..500.0_f64, y in -500.0..500.0_f64, degrees in -180.0..180.0_f64, which in 0_usize..3,
        ) {
            let at = Point::new(x, y);
            let (there, back) = match which {
                0 => (Motion::turn(at, degrees), Motion::turn(at, -degrees)),
                1 => (Motion::mirror(at, degrees), Motion::mirror(at, degrees)),
                _ => (Motion::shift(Vec3::new(x, y, degrees)), Motion::shift(Vec3::new(-x, -y, -degrees))),
            };
            for joint in samples() {
                let new = moved(&joint, &there);
                for (old, new) in lengths(&joint).iter().zip(lengths(&new)) {
                    prop_assert_eq!(old.1, new.1);
                    prop_assert!((old.0 - new.0).abs() < 1e-6, "{:?} {:?}", old, new);
                }
                let again = trace(&moved(&new, &back));
                for (old, new) in trace(&joint).fasteners.iter().zip(&again.fasteners) {
                    prop_assert!((old.head_at - new.head_at).length() < 1e-6);
                    prop_assert!((old.toward - new.toward).length() < 1e-9);
                }
            }
        }
    }
}
