//! Moves that keep every size: shifted, turned, mirrored. What a hand does to a part of a joint.

use kurbo::{Point, Vec2};
use svgtypes::{PathParser, PathSegment};

use super::{Connector, Fastener, Grain, Interval, Member, Outline, Placement, PlateSide};
use crate::shape::sin_cos_deg;
use crate::unit::Vec3;

/// A move that keeps sizes: mirrored left to right about a place, then turned about it, then shifted.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rigid {
    /// The place of the drawing plane that mirror and turn leave where it is.
    pub about: Point,
    /// Whether left and right change places.
    pub mirrored: bool,
    /// Degrees anticlockwise in the drawing plane.
    pub turn_deg: f64,
    /// The shift, millimetres.
    pub by: Vec3,
}

impl Rigid {
    /// A shift alone.
    #[must_use]
    pub fn shift(by: Vec3) -> Self {
        Self { by, ..Self::default() }
    }

    /// A turn about a place alone.
    #[must_use]
    pub fn turn(about: Point, turn_deg: f64) -> Self {
        Self { about, turn_deg, ..Self::default() }
    }

    /// A mirror about the upright line through a place.
    #[must_use]
    pub fn mirror(about: Point) -> Self {
        Self { about, mirrored: true, ..Self::default() }
    }

    fn is_shift(&self) -> bool {
        !self.mirrored && self.turn_deg.abs() <= 0.0
    }

    /// A direction of the drawing plane, moved.
    #[must_use]
    pub fn way(&self, way: Vec2) -> Vec2 {
        if self.is_shift() {
            return way;
        }
        let x = if self.mirrored { -way.x } else { way.x };
        let (sin, cos) = sin_cos_deg(self.turn_deg);
        Vec2::new(x * cos - way.y * sin, x * sin + way.y * cos)
    }

    /// A place of the drawing plane, moved. A bare shift adds and does nothing else, so that it can be taken back.
    #[must_use]
    pub fn place(&self, at: Point) -> Point {
        let by = Vec2::new(self.by.x, self.by.y);
        if self.is_shift() { at + by } else { self.about + self.way(at - self.about) + by }
    }

    fn vector(&self, it: Vec3) -> Vec3 {
        let way = self.way(Vec2::new(it.x, it.y));
        Vec3::new(way.x, way.y, it.z)
    }

    fn depth(&self, it: Interval) -> Interval {
        Interval { from: it.from + self.by.z, to: it.to + self.by.z }
    }

    /// The turn of something drawn at `deg`, between -180 and 180.
    fn deg(&self, deg: f64) -> f64 {
        if self.is_shift() {
            return deg;
        }
        let turned = self.turn_deg + if self.mirrored { -deg } else { deg };
        let around = turned.rem_euclid(360.0);
        if 180.0 < around { around - 360.0 } else { around }
    }

    /// An outline, moved.
    #[must_use]
    pub fn outline(&self, it: &Outline) -> Outline {
        // Mirrored, the lower right corner becomes the lower left one.
        let corner_of = |corner: Point, width: f64, turn_deg: f64| {
            let (sin, cos) = sin_cos_deg(turn_deg);
            let along = if self.mirrored { width } else { 0.0 };
            self.place(Point::new(corner.x + along * cos, corner.y + along * sin))
        };
        match it {
            Outline::Rectangle { corner, size_mm, turn_deg } => Outline::Rectangle {
                corner: corner_of(*corner, size_mm.0, *turn_deg),
                size_mm: *size_mm,
                turn_deg: self.deg(*turn_deg),
            },
            Outline::ISection { corner, size_mm, flange_mm, web_mm, turn_deg } => Outline::ISection {
                corner: corner_of(*corner, size_mm.0, *turn_deg),
                size_mm: *size_mm,
                flange_mm: *flange_mm,
                web_mm: *web_mm,
                turn_deg: self.deg(*turn_deg),
            },
            Outline::Round { centre, diameter_mm } => {
                Outline::Round { centre: self.place(*centre), diameter_mm: *diameter_mm }
            }
            Outline::Polygon(corners) => Outline::Polygon(corners.iter().map(|it| self.place(*it)).collect()),
            Outline::Path(data) => Outline::Path(self.path(data)),
        }
    }

    /// Path data, moved. Data that cannot be read stay as they are: the joint says so elsewhere.
    fn path(&self, data: &str) -> String {
        let mut out = String::new();
        let (mut at, mut start) = (Point::ORIGIN, Point::ORIGIN);
        for segment in PathParser::from(data) {
            let Ok(segment) = segment else { return data.to_owned() };
            let moved = self.segment(&segment, &mut at, &mut start);
            if !out.is_empty() {
                out.push(' ');
            }
            out.push_str(&moved);
        }
        out
    }

    /// One segment, moved, in absolute form; `at` follows the pen.
    fn segment(&self, segment: &PathSegment, at: &mut Point, start: &mut Point) -> String {
        let from = *at;
        let absolute = |abs: bool, x: f64, y: f64| {
            if abs { Point::new(x, y) } else { Point::new(from.x + x, from.y + y) }
        };
        let said = |it: Point| {
            let it = self.place(it);
            format!("{} {}", tidy(it.x), tidy(it.y))
        };
        let (to, text) = match *segment {
            PathSegment::MoveTo { abs, x, y } => {
                *start = absolute(abs, x, y);
                (*start, format!("M {}", said(*start)))
            }
            PathSegment::LineTo { abs, x, y } => {
                let to = absolute(abs, x, y);
                (to, format!("L {}", said(to)))
            }
            PathSegment::HorizontalLineTo { abs, x } => {
                let to = Point::new(if abs { x } else { from.x + x }, from.y);
                (to, format!("L {}", said(to)))
            }
            PathSegment::VerticalLineTo { abs, y } => {
                let to = Point::new(from.x, if abs { y } else { from.y + y });
                (to, format!("L {}", said(to)))
            }
            PathSegment::CurveTo { abs, x1, y1, x2, y2, x, y } => {
                let (a, b, to) = (absolute(abs, x1, y1), absolute(abs, x2, y2), absolute(abs, x, y));
                (to, format!("C {} {} {}", said(a), said(b), said(to)))
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => {
                let (a, to) = (absolute(abs, x1, y1), absolute(abs, x, y));
                (to, format!("Q {} {}", said(a), said(to)))
            }
            PathSegment::EllipticalArc { abs, rx, ry, x_axis_rotation, large_arc, sweep, x, y } => {
                let to = absolute(abs, x, y);
                let (turn, sweep) = (self.deg(x_axis_rotation), sweep != self.mirrored);
                let flag = |it: bool| u8::from(it);
                let text =
                    format!("A {rx} {ry} {} {} {} {}", tidy(turn), flag(large_arc), flag(sweep), said(to));
                (to, text)
            }
            PathSegment::ClosePath { .. } => (*start, "Z".to_owned()),
            // Outlines have no smooth curves: a file with one is refused.
            PathSegment::SmoothCurveTo { abs, x, y, .. } | PathSegment::SmoothQuadratic { abs, x, y } => {
                let to = absolute(abs, x, y);
                (to, format!("L {}", said(to)))
            }
        };
        *at = to;
        text
    }

    /// A member, moved.
    #[must_use]
    pub fn member(&self, it: &Member) -> Member {
        Member {
            outline: self.outline(&it.outline),
            cutouts: it.cutouts.iter().map(|it| self.outline(it)).collect(),
            depth: self.depth(it.depth),
            grain: match it.grain {
                Grain::InPlane(deg) => Grain::InPlane(self.deg(deg)),
                Grain::AlongDepth | Grain::None => it.grain,
            },
            ..it.clone()
        }
    }

    /// A connector, moved. Mirrored, the left side of its steel becomes the right one.
    #[must_use]
    pub fn connector(&self, it: &Connector) -> Connector {
        let mut new = it.clone();
        for plate in &mut new.plates {
            plate.profile.iter_mut().for_each(|at| *at = self.place(*at));
            plate.depth = self.depth(plate.depth);
            for hole in &mut plate.holes {
                hole.depth_mm += self.by.z;
                if self.mirrored {
                    hole.angle_deg = hole.angle_deg.map(|it| -it);
                    hole.driven_from = match hole.driven_from {
                        PlateSide::Left => PlateSide::Right,
                        PlateSide::Right => PlateSide::Left,
                    };
                }
            }
        }
        new
    }

    /// A fastener, moved. One that fills a hole goes where its connector goes; mirrored, it leans the other way.
    #[must_use]
    pub fn fastener(&self, it: &Fastener) -> Fastener {
        let mut new = it.clone();
        match &mut new.place {
            Placement::Free { head, toward } => {
                let at = self.place(Point::new(head.x, head.y));
                *head = Vec3::new(at.x, at.y, head.z + self.by.z);
                *toward = self.vector(*toward);
            }
            Placement::Fills { angle_deg, .. } if self.mirrored => *angle_deg = angle_deg.map(|it| -it),
            Placement::Fills { .. } => {}
        }
        new
    }
}

/// Without the crumbs of a sum: to a millionth of a millimetre.
fn tidy(mm: f64) -> f64 {
    (mm * 1e6).round() / 1e6 + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::Region;

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
            Rigid::shift(Vec3::new(7.0, -3.0, 0.0)),
            Rigid::turn(Point::new(4.0, 4.0), 37.0),
            Rigid::mirror(Point::new(11.0, 0.0)),
            Rigid {
                about: Point::new(1.0, 2.0),
                mirrored: true,
                turn_deg: 90.0,
                by: Vec3::new(5.0, 6.0, 7.0),
            },
        ];
        for outline in &outlines {
            let before = region(outline);
            for it in &moves {
                let after = region(&it.outline(outline));
                // Path data are written to a millionth of a millimetre, along some eighty of outline.
                assert!((before.area_mm2() - after.area_mm2()).abs() < 1e-3, "{outline:?} {it:?}");
                for n in 0..400 {
                    let at = Point::new(f64::from(n % 20) * 1.73 - 3.1, f64::from(n / 20) * 1.61 - 5.3);
                    assert_eq!(
                        before.contains(at),
                        after.contains(it.place(at)),
                        "{outline:?} {it:?} {at:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn mirrored_twice_everything_is_back() {
        let it = Rigid::mirror(Point::new(11.0, 0.0));
        let rectangle =
            Outline::Rectangle { corner: Point::new(3.0, -2.0), size_mm: (20.0, 8.0), turn_deg: 0.0 };
        assert_eq!(it.outline(&it.outline(&rectangle)), rectangle);
    }
}
