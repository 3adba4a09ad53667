//! Random joints that can be moved as a whole, and a plain reading of what lies where in them.

use std::sync::Arc;

use geo::Contains;
use kurbo::{Affine, BezPath, CubicBez, Line, ParamCurveNearest, Point, Shape, Vec2};
use shankline::joint::{
    Connector, Fastener, Finish, Grain, Interval, Joint, Member, Outline, Placement, Plate, Seat, Treatment,
};
use shankline::stock::{Family, FastenerKind, FastenerSpec, Material};
use shankline::unit::Vec3;

use crate::dice::Dice;

/// How a joint is moved: mirrored in x, turned about the origin, shifted, and the same for depth.
#[derive(Clone, Copy)]
pub(crate) struct Move {
    pub(crate) mirrors: bool,
    pub(crate) turn_deg: f64,
    pub(crate) shift: Vec3,
    pub(crate) flips_depth: bool,
}

impl Move {
    pub(crate) const NONE: Self =
        Self { mirrors: false, turn_deg: 0.0, shift: Vec3::new(0.0, 0.0, 0.0), flips_depth: false };

    fn plane(&self) -> Affine {
        let mirror = if self.mirrors { Affine::FLIP_X } else { Affine::IDENTITY };
        let (sin, cos) = sin_cos(self.turn_deg);
        let turn = Affine::new([cos, sin, -sin, cos, 0.0, 0.0]);
        Affine::translate((self.shift.x, self.shift.y)) * turn * mirror
    }

    /// Where a place comes to lie.
    pub(crate) fn place(&self, it: Vec3) -> Vec3 {
        let plan = self.plane() * Point::new(it.x, it.y);
        Vec3::new(plan.x, plan.y, self.depth(it.z))
    }

    /// How a direction is turned.
    pub(crate) fn way(&self, it: Vec3) -> Vec3 {
        self.place(it) - self.place(Vec3::default())
    }

    fn depth(&self, z: f64) -> f64 {
        self.shift.z + if self.flips_depth { -z } else { z }
    }
}

/// Exact at the quarter turns.
fn sin_cos(degrees: f64) -> (f64, f64) {
    let quarters = [(0.0, (0.0, 1.0)), (90.0, (1.0, 0.0)), (180.0, (0.0, -1.0)), (270.0, (-1.0, 0.0))];
    let exact = quarters.iter().find(|it| f64::abs(it.0 - degrees) <= 0.0);
    exact.map_or_else(|| degrees.to_radians().sin_cos(), |it| it.1)
}

/// A form in the drawing plane.
#[derive(Clone, Debug)]
pub(crate) enum Form {
    Rectangle {
        corner: Point,
        size: (f64, f64),
        turn_deg: f64,
    },
    Polygon(Vec<Point>),
    Round {
        centre: Point,
        diameter: f64,
    },
    /// Cubic curves end to end.
    Curved(Vec<CubicBez>),
}

impl Form {
    fn outline(&self, by: &Move) -> Outline {
        let plane = by.plane();
        match self {
            Self::Rectangle { size, turn_deg, corner } if !by.mirrors => Outline::Rectangle {
                corner: plane * *corner,
                size_mm: *size,
                turn_deg: turn_deg + by.turn_deg,
            },
            Self::Rectangle { .. } => Outline::Polygon(self.corners().iter().map(|it| plane * *it).collect()),
            Self::Polygon(corners) => Outline::Polygon(corners.iter().map(|it| plane * *it).collect()),
            Self::Round { centre, diameter } => {
                Outline::Round { centre: plane * *centre, diameter_mm: *diameter }
            }
            Self::Curved(curves) => {
                let moved: Vec<CubicBez> = curves.iter().map(|it| plane * *it).collect();
                let mut data = format!("M{} {}", moved[0].p0.x, moved[0].p0.y);
                for (n, it) in moved.iter().enumerate() {
                    let end = if n + 1 == moved.len() { moved[0].p0 } else { it.p3 };
                    data += &format!("C{} {} {} {} {} {}", it.p1.x, it.p1.y, it.p2.x, it.p2.y, end.x, end.y);
                }
                Outline::Path(data + "Z")
            }
        }
    }

    /// The corners of a form that has only straight edges.
    pub(crate) fn corners(&self) -> Vec<Point> {
        match self {
            Self::Rectangle { corner, size, turn_deg } => {
                let (sin, cos) = sin_cos(*turn_deg);
                let (along, up) = (Vec2::new(cos, sin) * size.0, Vec2::new(-sin, cos) * size.1);
                vec![*corner, *corner + along, *corner + along + up, *corner + up]
            }
            Self::Polygon(corners) => corners.clone(),
            Self::Round { .. } | Self::Curved(_) => Vec::new(),
        }
    }

    /// Whether a place lies in it, each kind by its plain definition.
    pub(crate) fn contains(&self, place: Point) -> bool {
        match self {
            Self::Rectangle { corner, size, turn_deg } => {
                let (sin, cos) = sin_cos(*turn_deg);
                let off = place - *corner;
                let (x, y) = (off.dot(Vec2::new(cos, sin)), off.dot(Vec2::new(-sin, cos)));
                0.0 < x && x < size.0 && 0.0 < y && y < size.1
            }
            Self::Polygon(_) => for_geo(&self.corners()).contains(&geo::Point::new(place.x, place.y)),
            Self::Round { centre, diameter } => (place - *centre).hypot() < 0.5 * diameter,
            Self::Curved(curves) => {
                let mut path = BezPath::new();
                path.move_to(curves[0].p0);
                curves.iter().for_each(|it| path.curve_to(it.p1, it.p2, it.p3));
                path.close_path();
                path.winding(place) != 0
            }
        }
    }
}

/// A polygon for `geo`.
pub(crate) fn for_geo(corners: &[Point]) -> geo::Polygon {
    let ring: geo::LineString = corners.iter().map(|it| geo::Coord { x: it.x, y: it.y }).collect();
    geo::Polygon::new(ring, Vec::new())
}

/// A piece of wood or of filling.
#[derive(Clone, Debug)]
pub(crate) struct Piece {
    pub(crate) form: Form,
    pub(crate) cutouts: Vec<Form>,
    pub(crate) depth: (f64, f64),
    pub(crate) grain: Grain,
    pub(crate) bearing: bool,
}

impl Piece {
    /// Whether a place lies in it.
    pub(crate) fn contains(&self, it: Vec3) -> bool {
        let plan = it.plan();
        self.depth.0 < it.z
            && it.z < self.depth.1
            && self.form.contains(plan)
            && !self.cutouts.iter().any(|cut| cut.contains(plan))
    }
}

/// A plate of thickness 3, bent with radius 6.
#[derive(Clone, Debug)]
pub(crate) struct Strap {
    pub(crate) profile: Vec<Point>,
    pub(crate) depth: (f64, f64),
}

pub(crate) const STRAP_MM: f64 = 3.0;
pub(crate) const STRAP_BEND_MM: f64 = 6.0;

impl Strap {
    /// Whether a place lies in it: no farther from the middle line than half the thickness, and not beyond its ends.
    pub(crate) fn contains(&self, it: Vec3) -> bool {
        if it.z <= self.depth.0 || self.depth.1 <= it.z {
            return false;
        }
        let [a, b, c] = self.profile[..] else { return false };
        let (first, second) = ((b - a).normalize(), (c - b).normalize());
        let turn = first.cross(second).atan2(first.dot(second));
        let cut = STRAP_BEND_MM * (0.5 * turn.abs()).tan();
        let (begin, end) = (b - first * cut, b + second * cut);
        let inward = Vec2::new(-first.y, first.x) * turn.signum();
        let centre = begin + inward * STRAP_BEND_MM;
        let place = it.plan();
        let beside = |line: Line, way: Vec2| {
            let along = (place - line.p0).dot(way);
            let is_beside = 0.0 < along && along < (line.p1 - line.p0).hypot();
            is_beside && line.nearest(place, 0.0).distance_sq.sqrt() < 0.5 * STRAP_MM
        };
        let off = place - centre;
        // In the bend: between the two radii that end it.
        let is_in_bend = 0.0 <= off.cross(second) * -turn.signum() || 0.0 > off.dot(second);
        let is_in_wedge = 0.0 <= off.dot(first) && off.dot(second) <= 0.0 && is_in_bend;
        beside(Line::new(a, begin), first)
            || beside(Line::new(end, c), second)
            || is_in_wedge && (off.hypot() - STRAP_BEND_MM).abs() < 0.5 * STRAP_MM
    }
}

/// A shank.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shot {
    pub(crate) head: Vec3,
    pub(crate) toward: Vec3,
    pub(crate) length: f64,
    pub(crate) diameter: f64,
}

impl Shot {
    /// The place so far along it.
    pub(crate) fn at(&self, along: f64) -> Vec3 {
        self.head + self.toward * along
    }
}

/// A joint to be.
#[derive(Clone, Debug, Default)]
pub(crate) struct Scene {
    pub(crate) pieces: Vec<Piece>,
    pub(crate) straps: Vec<Strap>,
    pub(crate) shots: Vec<Shot>,
}

impl Scene {
    /// Members of every kind, whole or cut, a strap now and then, and shanks of every direction.
    pub(crate) fn random(dice: &mut Dice) -> Self {
        let pieces = (0..2 + dice.below(5)).map(|_| piece(dice, true)).collect();
        let straps = (0..dice.below(2)).map(|_| strap(dice)).collect();
        let shots = (0..6).map(|_| shot(dice)).collect();
        Self { pieces, straps, shots }
    }

    /// The same with straight edges only and nothing cut out.
    pub(crate) fn straight(dice: &mut Dice) -> Self {
        let pieces = (0..2 + dice.below(5)).map(|_| piece(dice, false)).collect();
        Self { pieces, straps: Vec::new(), shots: (0..6).map(|_| shot(dice)).collect() }
    }

    /// The last drawn of the bodies that hold a place.
    pub(crate) fn owner(&self, place: Vec3) -> Option<usize> {
        let strap = self.straps.iter().rposition(|it| it.contains(place));
        strap
            .map(|it| self.pieces.len() + it)
            .or_else(|| self.pieces.iter().rposition(|it| it.contains(place)))
    }

    /// The joint, moved.
    pub(crate) fn joint(&self, by: &Move) -> Joint {
        let depth = |it: (f64, f64)| {
            let (a, b) = (by.depth(it.0), by.depth(it.1));
            Interval { from: a.min(b), to: a.max(b) }
        };
        let members = self.pieces.iter().enumerate().map(|(n, it)| Member {
            id: format!("m{n}"),
            name: String::new(),
            material: material(if it.bearing { Family::Lumber } else { Family::Filling }),
            outline: it.form.outline(by),
            cutouts: it.cutouts.iter().map(|cut| cut.outline(by)).collect(),
            depth: depth(it.depth),
            grain: moved_grain(it.grain, by),
            treatment: Treatment::None,
            bearing: it.bearing,
            blocking: false,
        });
        let plates = self.straps.iter().map(|it| Plate {
            thickness_mm: STRAP_MM,
            depth: depth(it.depth),
            profile: it.profile.iter().map(|at| by.plane() * *at).collect(),
            bend_radius_mm: STRAP_BEND_MM,
            holes: Vec::new(),
        });
        let connector = Connector {
            id: "straps".to_owned(),
            name: String::new(),
            material: material(Family::Steel),
            plates: plates.collect(),
            rating: None,
        };
        let fasteners = self.shots.iter().enumerate().map(|(n, it)| fastener(n, it, by));
        Joint {
            members: members.collect(),
            connectors: vec![connector],
            fasteners: fasteners.collect(),
            ..Joint::default()
        }
    }
}

fn moved_grain(grain: Grain, by: &Move) -> Grain {
    match grain {
        Grain::InPlane(degrees) if by.mirrors => Grain::InPlane(180.0 - degrees + by.turn_deg),
        Grain::InPlane(degrees) => Grain::InPlane(degrees + by.turn_deg),
        other => other,
    }
}

fn piece(dice: &mut Dice, may_be_round: bool) -> Piece {
    let middle = dice.place(70.0);
    let form = form(dice, middle, may_be_round);
    let cuts = if may_be_round { dice.below(3) } else { 0 };
    let cutouts = (0..cuts)
        .map(|_| {
            let at = middle + dice.place(60.0).to_vec2();
            match dice.below(2) {
                0 => Form::Round { centre: at, diameter: dice.between(5.0, 40.0) },
                _ => Form::Rectangle {
                    corner: at,
                    size: (dice.between(5.0, 40.0), dice.between(5.0, 40.0)),
                    turn_deg: dice.between(0.0, 360.0),
                },
            }
        })
        .collect();
    let far = dice.between(-60.0, 30.0);
    let grain = [Grain::AlongDepth, Grain::InPlane(dice.between(0.0, 360.0)), Grain::None][dice.below(3)];
    Piece { form, cutouts, depth: (far, far + dice.between(20.0, 90.0)), grain, bearing: dice.below(5) != 0 }
}

fn form(dice: &mut Dice, middle: Point, may_be_round: bool) -> Form {
    match dice.below(if may_be_round { 4 } else { 2 }) {
        0 => Form::Rectangle {
            corner: middle,
            size: (dice.between(20.0, 120.0), dice.between(10.0, 60.0)),
            turn_deg: dice.between(0.0, 360.0),
        },
        1 => {
            let corners = 3 + dice.below(6);
            Form::Polygon(dice.star(middle, 70.0, corners))
        }
        2 => Form::Round { centre: middle, diameter: dice.between(20.0, 120.0) },
        _ => {
            // A pebble: three curves that bulge outward from a triangle.
            let corners = dice.star(middle, 60.0, 3);
            let bulge = |a: Point, b: Point, share: f64| {
                let out = (a.lerp(b, share) - middle) * 1.3;
                middle + out
            };
            let curve = |a: Point, b: Point| CubicBez::new(a, bulge(a, b, 0.3), bulge(a, b, 0.7), b);
            Form::Curved((0..3).map(|n| curve(corners[n], corners[(n + 1) % 3])).collect())
        }
    }
}

fn strap(dice: &mut Dice) -> Strap {
    let corner = dice.place(60.0);
    let first = dice.between(0.0, 360.0).to_radians();
    let second = first + dice.between(30.0, 120.0).to_radians() * [1.0, -1.0][dice.below(2)];
    let (a, c) = (Vec2::from_angle(first) * -dice.between(30.0, 90.0), Vec2::from_angle(second));
    let far = dice.between(-50.0, 0.0);
    Strap {
        profile: vec![corner + a, corner, corner + c * dice.between(30.0, 90.0)],
        depth: (far, far + dice.between(20.0, 80.0)),
    }
}

fn shot(dice: &mut Dice) -> Shot {
    let plan = dice.place(130.0);
    let head = Vec3::new(plan.x, plan.y, dice.between(-40.0, 50.0));
    let toward = match dice.below(4) {
        // Level, as in a drawn section; along the depth; and aslant.
        0 | 1 => {
            let aim = dice.place(50.0);
            Vec3::new(aim.x - head.x, aim.y - head.y, 0.0)
        }
        2 => Vec3::new(0.0, 0.0, [1.0, -1.0][dice.below(2)]),
        _ => {
            let aim = dice.place(50.0);
            Vec3::new(aim.x - head.x, aim.y - head.y, dice.between(-30.0, 30.0) - head.z)
        }
    };
    let toward = toward.unit().expect("no head lies where it aims");
    Shot { head, toward, length: dice.between(30.0, 220.0), diameter: dice.between(2.0, 12.0) }
}

pub(crate) fn material(family: Family) -> Arc<Material> {
    Arc::new(Material {
        id: String::new(),
        label: String::new(),
        family,
        wood: None,
        specific_gravity: None,
        density_kg_m3: None,
        elastic_mpa: None,
        dowel_bearing_mpa: None,
        crushing_mpa: None,
        source: String::new(),
    })
}

fn fastener(n: usize, shot: &Shot, by: &Move) -> Fastener {
    let spec = FastenerSpec {
        id: String::new(),
        label: String::new(),
        kind: FastenerKind::Nail,
        diameter_mm: shot.diameter,
        root_mm: None,
        length_mm: shot.length,
        head_mm: 2.0 * shot.diameter,
        head_height_mm: 0.0,
        thread_mm: None,
        point_mm: shot.diameter,
        bending_yield_mpa: None,
        tensile_mpa: None,
        nut: None,
        source: String::new(),
    };
    Fastener {
        id: format!("f{n}"),
        spec: Arc::new(spec),
        place: Placement::Free { head: by.place(shot.head), toward: by.way(shot.toward) },
        seat: Seat::Flush,
        finish: Finish::Bright,
        lead_hole: None,
        head_washer: None,
        nut_washer: None,
        existing: false,
    }
}
