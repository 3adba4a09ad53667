//! The words of a name as they are set: in one line or two, level or upright.

use kurbo::{Line as Segment, Point, Rect, Vec2};

use super::Seen;
use crate::drawing::Anchor;
use crate::drawing::pen::{Scene, Words};
use crate::drawing::place::touches;
use crate::drawing::text::{CAPITAL, DESCENDER, WORDS_MM, turned_box};

/// Clear paper around a name.
const CLEAR_MM: f64 = 0.7;
/// From one line of a name to the next.
const LINE_MM: f64 = WORDS_MM * 1.3;
/// The level stroke between a name and its leader.
const SHOULDER_MM: f64 = 3.0;
/// What it costs to set a name beside its member.
const BESIDE: f64 = 5.0;

/// Where a name goes.
#[derive(Clone)]
pub(in crate::drawing) struct Place {
    pub(super) lines: Vec<(Words, Point)>,
    pub(super) turn_deg: f64,
    pub(super) room: Rect,
    /// From the name to the member; empty for a name in its member.
    pub(super) leader: Vec<Point>,
    pub(super) wish: f64,
}

impl Place {
    /// Whether a leader from here to that place stays clear of its own words.
    pub(super) fn may_lead_to(&self, dot: Point) -> bool {
        self.leader.last().is_none_or(|knee| !touches(self.room, Segment::new(*knee, dot)))
    }

    /// With its leader led on to a place.
    pub(super) fn led_to(mut self, dot: Point, wish: f64) -> Self {
        self.leader.push(dot);
        self.wish += wish;
        self
    }

    /// With its middle there.
    pub(super) fn moved_to(mut self, middle: Point) -> Self {
        let by = middle - self.room.center();
        self.lines.iter_mut().for_each(|it| it.1 += by);
        self.room = self.room + by;
        self
    }

    /// On a leader to that place, from the side that looks at it.
    pub(super) fn leading_to(mut self, dot: Point) -> Self {
        let middle = self.room.center();
        let side = if dot.x < middle.x { -1.0 } else { 1.0 };
        let start = Point::new(middle.x + side * self.room.width() / 2.0, middle.y);
        self.leader = vec![start, start + Vec2::new(side * SHOULDER_MM, 0.0), dot];
        self
    }
}

/// Words with their width.
pub(super) struct Setting {
    lines: Vec<String>,
    width: f64,
}

impl Setting {
    pub(super) fn new(scene: &Scene<'_>, lines: Vec<String>) -> Self {
        let width = lines.iter().map(|it| scene.lettering.width_mm(it, WORDS_MM, false));
        let width = width.fold(0.0, f64::max);
        Self { lines, width }
    }

    /// From the top of the first line to the foot of the last.
    fn height(&self) -> f64 {
        CAPITAL * WORDS_MM + self.below_first()
    }

    /// From the foot of the first line to that of the last.
    fn below_first(&self) -> f64 {
        LINE_MM * f64::from(u8::try_from(self.lines.len().saturating_sub(1)).unwrap_or(0))
    }

    /// The name with its middle at this place.
    pub(super) fn around(&self, middle: Point, turn_deg: f64) -> Place {
        self.set(middle, turn_deg, Anchor::Middle)
    }

    /// The same, its lines even on the side of its leader, which ends there.
    pub(super) fn facing(&self, middle: Point, turn_deg: f64, end: Point) -> Place {
        let anchor = match (turn_deg == 0.0, end.x < middle.x) {
            (false, _) => Anchor::Middle,
            (true, true) => Anchor::Start,
            (true, false) => Anchor::End,
        };
        self.set(middle, turn_deg, anchor)
    }

    fn set(&self, middle: Point, turn_deg: f64, anchor: Anchor) -> Place {
        let down = Vec2::new(turn_deg.to_radians().sin(), turn_deg.to_radians().cos());
        let half = (self.width / 2.0, self.height() / 2.0);
        let aside = match anchor {
            Anchor::Start => -half.0,
            Anchor::Middle => 0.0,
            Anchor::End => half.0,
        };
        let mut foot = CAPITAL * WORDS_MM - half.1;
        let mut lines = Vec::new();
        for line in &self.lines {
            let words = Words::new(line.as_str(), WORDS_MM).anchored(anchor).turned(turn_deg);
            // Only level words are set from one of their ends.
            lines.push((words, middle + down * foot + Vec2::new(aside, 0.0)));
            foot += LINE_MM;
        }
        let flat = Rect::new(-half.0, -half.1, half.0, half.1 + DESCENDER * WORDS_MM);
        let room = turned_box(middle, flat.inflate(CLEAR_MM, CLEAR_MM), turn_deg);
        Place { lines, turn_deg, room, leader: Vec::new(), wish: 0.0 }
    }

    /// In the member, level or upright.
    pub(super) fn inside<'a>(&'a self, seen: &'a Seen) -> impl Iterator<Item = Place> + 'a {
        const PARTS: [f64; 5] = [0.5, 0.35, 0.65, 0.22, 0.78];
        let bounds = seen.bounds;
        let turns: &[f64] = if bounds.width() < bounds.height() { &[0.0, 90.0] } else { &[0.0] };
        let tried = || PARTS.into_iter().flat_map(|y| PARTS.map(|x| (x, y)));
        turns.iter().flat_map(move |turn| tried().map(move |at| (*turn, at))).filter_map(
            move |(turn, (x, y))| {
                let middle = Point::new(bounds.x0 + bounds.width() * x, bounds.y0 + bounds.height() * y);
                let place = self.around(middle, turn);
                (bounds.union(place.room) == bounds && seen.has(middle)).then_some(place)
            },
        )
    }

    /// Above the joint, on a leader that is to end in the member.
    pub(super) fn above<'a>(&'a self, all: Rect, of: Rect) -> impl Iterator<Item = Place> + 'a {
        let foot = all.y0 - 9.0 - self.below_first();
        (0..7_u8).flat_map(move |level| self.on_level(of, (level, foot - WORDS_MM * 1.5 * f64::from(level))))
    }

    /// Below it.
    pub(super) fn below<'a>(&'a self, all: Rect, of: Rect) -> impl Iterator<Item = Place> + 'a {
        let foot = all.y1 + 9.0;
        (0..7_u8)
            .flat_map(move |level| self.on_level(of, (level + 1, foot + WORDS_MM * 1.5 * f64::from(level))))
    }

    fn on_level<'a>(&'a self, of: Rect, (n, y): (u8, f64)) -> impl Iterator<Item = Place> + 'a {
        const ASIDE_MM: [f64; 8] = [7.0, -7.0, 14.0, -14.0, 24.0, -24.0, 36.0, -36.0];
        ASIDE_MM.into_iter().map(move |aside| {
            let wish = f64::from(n) + aside.abs() / 20.0;
            self.beside(Point::new(of.center().x + aside, y), f64::signum(aside), wish)
        })
    }

    /// On the paper near the member, left and right of it, above and below it, each with how far off.
    pub(super) fn near(&self, of: Rect) -> impl Iterator<Item = (f64, Place)> {
        const OFF_MM: [f64; 4] = [7.0, 13.0, 20.0, 30.0];
        const PARTS: [f64; 5] = [0.5, 0.25, 0.75, 0.05, 0.95];
        OFF_MM.into_iter().flat_map(move |off| {
            let sides = PARTS.into_iter().flat_map(move |part| {
                let y = of.y0 + of.height() * part;
                [(Point::new(of.x1 + off, y), 1.0), (Point::new(of.x0 - off, y), -1.0)]
            });
            let ends = PARTS.into_iter().flat_map(move |part| {
                let x = of.x0 + of.width() * part;
                let (up, down) = (of.y0 - off - self.below_first(), of.y1 + off);
                [
                    (Point::new(x, up), 1.0),
                    (Point::new(x, up), -1.0),
                    (Point::new(x, down), 1.0),
                    (Point::new(x, down), -1.0),
                ]
            });
            sides.chain(ends).map(move |(knee, side)| (off, self.beside(knee, side, off / 10.0)))
        })
    }

    /// Beside the end of its shoulder, which meets its first line, to the right of it or to the left.
    fn beside(&self, knee: Point, side: f64, wish: f64) -> Place {
        let down = self.below_first() / 2.0;
        let middle = knee + Vec2::new(side * (SHOULDER_MM + CLEAR_MM + self.width / 2.0), down);
        let start = knee + Vec2::new(side * SHOULDER_MM, 0.0);
        let anchor = if side < 0.0 { Anchor::End } else { Anchor::Start };
        Place { leader: vec![start, knee], wish: BESIDE + wish, ..self.set(middle, 0.0, anchor) }
    }
}
