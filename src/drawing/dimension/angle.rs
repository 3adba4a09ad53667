//! Dimensions of angles: of a fastener to the face that it enters, and of a member that lies askew to the level.

use kurbo::{BezPath, Line as Segment, Point, Rect, Vec2};

use super::is_askew;
use crate::drawing::pen::{self, Scene, Words};
use crate::drawing::place::Taken;
use crate::drawing::put::Drawn;
use crate::drawing::text::{CAPITAL, WORDS_MM};
use crate::drawing::{Anchor, Fill, Item, Layer, Line};
use crate::joint::{Fastener, Look, Outline};
use crate::trace::Shank;
use crate::unit::angle;
use crate::unit::length::Rounding;

/// A shank that stands so nearly square to its face is told as square and has no figure here.
const SQUARE_DEG: f64 = 2.0;
/// An angle smaller than this has no room for a figure.
const LEAST_DEG: f64 = 8.0;
/// More angles than this are a crowd; the schedule tells them all.
const MOST: usize = 8;
/// A shank that leaves the paper by more than this part of its length shows another angle on it.
const IN_PLANE: f64 = 0.02;
/// Radii that are tried.
const RADII_MM: [f64; 7] = [9.0, 12.0, 16.0, 20.0, 25.0, 32.0, 40.0];
/// Outside of the wood an arc is no larger than this.
const MOST_OUTSIDE_MM: f64 = 17.0;
/// From the arc to the box of its figure.
const OFF_MM: f64 = 0.7;
/// Clear paper beside a figure, and above and below it.
const CLEAR_MM: (f64, f64) = (0.5, 1.0);
/// Half the length of a tick at the end of an arc.
const TICK_MM: f64 = 1.5;
/// The line along an open side begins so far from the corner: beyond a head that is there.
const CLEAR_OF_HEAD_MM: f64 = 3.0;
/// It runs so far beyond the arc.
const BEYOND_MM: f64 = 2.5;
/// An arc is followed in so many strokes where it is held against what is drawn.
const STROKES: u8 = 8;

/// An angle to be told: between two unit directions on paper.
struct Wedge {
    at: Point,
    from: Vec2,
    to: Vec2,
    degrees: f64,
    /// How long the side that it measures is on paper: an arc beyond it would end nowhere.
    reach: f64,
    /// Along which of the two a line is drawn, because nothing else runs there.
    open: Open,
}

/// A side of an angle along which nothing runs.
#[derive(Clone, Copy, PartialEq)]
enum Open {
    None,
    From,
    To,
}

/// What is told: its name, and the places where it can be, the best first.
struct Wanted {
    what: String,
    wedges: Vec<Wedge>,
}

/// The angles of a view: of members from the front, and of fasteners in the view in whose paper they lie.
pub(super) fn draw(scene: &Scene<'_>, edges: &Taken, taken: &mut Taken) -> Drawn {
    let mut drawn = Drawn::default();
    // In an enlarged detail the members are those of the view that it is of.
    let is_front = scene.holder.is_none_or(|it| it.look == Look::Front);
    let of_members = if scene.window.is_some() || !is_front { Vec::new() } else { members(scene) };
    for it in of_members.into_iter().chain(fasteners(scene)).take(MOST) {
        let Some(first) = it.wedges.first() else { continue };
        let put = scene.manner.put(&it.what, first.at);
        let places = it.wedges.iter().flat_map(|wedge| RADII_MM.map(|radius| (wedge, radius)));
        let places = places.filter(|(wedge, radius)| put.is_some() || *radius < wedge.reach);
        let mut arcs = places.map(|(wedge, radius)| Arc::new(scene, wedge, radius));
        // A figure that the user has put somewhere keeps its arc.
        let Some(arc) = arcs.find(|arc| put.is_some() || arc.is_free(edges, taken)) else { continue };
        let room = arc.draw(put, taken, &mut drawn);
        drawn.handles.extend(scene.manner.handle(&it.what, room, first.at));
    }
    drawn
}

/// Of fasteners at one angle to one face only the first is told.
fn fasteners(scene: &Scene<'_>) -> Vec<Wanted> {
    let inputs = scene.inputs;
    let mut told: Vec<(f64, Vec2)> = Vec::new();
    let one = |(fastener, shank): (&Fastener, &Shank)| {
        let run = shank.core.iter().find(|it| it.entered.is_some())?;
        let normal = run.entered?.normal;
        let (way, normal) = (scene.direction(shank.toward), Vec2::new(normal.x, -normal.y));
        let lies_in_paper = shank.toward.z.abs() < IN_PLANE && 1.0 - IN_PLANE < normal.hypot();
        if !lies_in_paper || way.hypot() <= 0.0 {
            return None;
        }
        let way = way.normalize();
        let face = Vec2::new(-normal.y, normal.x).normalize();
        let face = if face.dot(way) < 0.0 { -face } else { face };
        let degrees = face.dot(way).clamp(-1.0, 1.0).acos().to_degrees();
        let is_told = told.iter().any(|it| (it.0 - degrees).abs() < 0.05 && (it.1 - normal).hypot() < 0.01);
        if is_told || !(LEAST_DEG..90.0 - SQUARE_DEG).contains(&degrees) {
            return None;
        }
        let at = scene.view.on_paper(shank.head_at + shank.toward * run.from_mm);
        if !at.is_finite() {
            return None;
        }
        told.push((degrees, normal));
        let wedge = |from: Vec2, to: Vec2, reach, open| Wedge { at, from, to, degrees, reach, open };
        // Inside, or outside with the axis drawn on beyond the head.
        let inside = (shank.length_mm - run.from_mm) * scene.view.scale;
        let wedges =
            vec![wedge(face, way, inside, Open::None), wedge(-face, -way, MOST_OUTSIDE_MM, Open::To)];
        Some(Wanted { what: format!("figure angle {}", fastener.id), wedges })
    };
    inputs.joint.fasteners.iter().zip(&inputs.trace.fasteners).filter_map(one).take(MOST).collect()
}

/// Members that lie askew, each by its longer side.
fn members(scene: &Scene<'_>) -> Vec<Wanted> {
    let mut wanted = Vec::new();
    for member in &scene.inputs.joint.members {
        let (Outline::Rectangle { corner, size_mm, turn_deg }
        | Outline::ISection { corner, size_mm, turn_deg, .. }) = &member.outline
        else {
            continue;
        };
        if !is_askew(*turn_deg) {
            continue;
        }
        let angle = turn_deg.to_radians();
        let (x, y) = (Vec2::new(angle.cos(), -angle.sin()), Vec2::new(-angle.sin(), -angle.cos()));
        let at = scene.affine() * *corner;
        let (wide, high) = (size_mm.0 * scene.view.scale, size_mm.1 * scene.view.scale);
        let (long, length, across) = if high <= wide { (x, wide, y * high) } else { (y, high, x * wide) };
        // The four corners, each with the long side that leaves it.
        let ends = [
            (at, long),
            (at + across, long),
            (at + long * length, -long),
            (at + across + long * length, -long),
        ];
        let wedge = |(at, way): (Point, Vec2)| {
            let level = Vec2::new(if way.x < 0.0 { -1.0 } else { 1.0 }, 0.0);
            let degrees = level.dot(way).clamp(-1.0, 1.0).acos().to_degrees();
            Wedge { at, from: level, to: way, degrees, reach: length, open: Open::From }
        };
        let wedges: Vec<Wedge> = ends.into_iter().map(wedge).filter(|it| LEAST_DEG <= it.degrees).collect();
        wanted.push(Wanted { what: format!("figure angle {}", member.id), wedges });
    }
    wanted
}

/// An arc with its figure.
struct Arc<'a> {
    wedge: &'a Wedge,
    radius: f64,
    words: String,
    /// The middle of the figure.
    middle: Point,
    room: Rect,
}

impl<'a> Arc<'a> {
    fn new(scene: &Scene<'_>, wedge: &'a Wedge, radius: f64) -> Self {
        let words = angle::format(wedge.degrees, Rounding::Nearest);
        let half = Vec2::new(scene.lettering.width_mm(&words, WORDS_MM, false), CAPITAL * WORDS_MM) / 2.0;
        let out = (wedge.from + wedge.to).normalize();
        // So far out that all of the box clears the arc.
        let reach = (half.x + CLEAR_MM.0) * out.x.abs() + (half.y + CLEAR_MM.1) * out.y.abs();
        let middle = wedge.at + out * (radius + OFF_MM + reach);
        let room = room_at(middle, half);
        Self { wedge, radius, words, middle, room }
    }

    fn place(&self, share: f64) -> Point {
        // The way round is less than a half turn, whichever way it goes.
        let sweep = self.wedge.from.cross(self.wedge.to).atan2(self.wedge.from.dot(self.wedge.to));
        self.wedge.at + Vec2::from_angle(self.wedge.from.angle() + sweep * share) * self.radius
    }

    fn strokes(&self) -> impl Iterator<Item = Segment> + '_ {
        let share = |n: u8| f64::from(n) / f64::from(STROKES);
        (0..STROKES).map(move |n| Segment::new(self.place(share(n)), self.place(share(n + 1))))
    }

    /// The line along the open side.
    fn side(&self) -> Option<Segment> {
        let way = match self.wedge.open {
            Open::None => return None,
            Open::From => self.wedge.from,
            Open::To => self.wedge.to,
        };
        let along = |mm: f64| self.wedge.at + way * mm;
        Some(Segment::new(along(CLEAR_OF_HEAD_MM), along(self.radius + BEYOND_MM)))
    }

    fn is_free(&self, edges: &Taken, taken: &Taken) -> bool {
        let is_clear = taken.is_free_box(self.room) && edges.is_free_box(self.room);
        // The arc ends on the shank, or on the side that it measures.
        let last = usize::from(STROKES) - 1;
        let inner = self.strokes().take(last).skip(usize::from(self.wedge.open != Open::From));
        is_clear
            && inner.into_iter().all(|it| taken.is_free_stroke(it.p0, it.p1))
            && self.side().is_none_or(|it| taken.is_free_stroke(it.p0, it.p1))
    }

    /// Draws it, with its figure where it was put, and says where that stands.
    fn draw(&self, put: Option<Point>, taken: &mut Taken, drawn: &mut Drawn) -> Rect {
        let mut thin = BezPath::new();
        for it in self.strokes() {
            pen::add_stroke(&mut thin, it.p0, it.p1);
            taken.add_stroke(it.p0, it.p1, 0.1);
        }
        if let Some(it) = self.side() {
            pen::add_stroke(&mut thin, it.p0, it.p1);
            taken.add_stroke(it.p0, it.p1, 0.1);
        }
        let mut ticks = BezPath::new();
        for (share, before) in [(0.0, 0.02), (1.0, 0.98)] {
            let end = self.place(share);
            let along = (self.place(before) - end).normalize();
            let slant = (along + Vec2::new(-along.y, along.x)).normalize() * TICK_MM;
            pen::add_stroke(&mut ticks, end - slant, end + slant);
            taken.add_stroke(end - slant, end + slant, 0.3);
        }
        drawn.items.push(pen::path(Layer::Dimensions, None, thin, None, Some(Line::Dimension)));
        drawn.items.push(pen::path(Layer::Dimensions, None, ticks, None, Some(Line::Tick)));
        let middle = put.unwrap_or(self.middle);
        let room = self.room + (middle - self.middle);
        taken.add_box(room);
        drawn.add(figure(&self.words, middle, room), put.is_some());
        room
    }
}

fn room_at(middle: Point, half: Vec2) -> Rect {
    Rect::new(middle.x - half.x, middle.y - half.y, middle.x + half.x, middle.y + half.y)
        .inflate(CLEAR_MM.0, CLEAR_MM.1)
}

/// The words on their own ground, so that no hatching runs through them.
fn figure(words: &str, middle: Point, room: Rect) -> [Item; 2] {
    let ground = kurbo::Shape::to_path(&room, pen::TRUE_WITHIN_MM);
    let base = Point::new(middle.x, middle.y + CAPITAL * WORDS_MM / 2.0);
    [
        pen::path(Layer::Dimensions, None, ground, Some(Fill::Paper), None),
        Words::new(words, WORDS_MM).anchored(Anchor::Middle).at(Layer::Dimensions, None, base),
    ]
}
