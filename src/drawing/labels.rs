//! The names of members: in the member where there is room, else beside the joint on a leader with a dot;
//! with their material where there is room for that, else alone.
//!
//! A name that would hide anything is left out; the core strips name every member again. A member that nearer
//! ones hide altogether is named in a view that shows it.

use kurbo::{BezPath, Line as Segment, Point, Rect, Shape as _, Vec2};

use super::annotate::Label;
use super::pen::{self, Scene, Words};
use super::place::{Taken, touches};
use super::put::Drawn;
use super::settle::{Choice, Fixed};
use super::text::{CAPITAL, DESCENDER, WORDS_MM, turned_box};
use super::{Anchor, Fill, Item, Layer, Line, Subject};
use crate::trace::{Body, Owner};

/// Clear paper around a name.
const CLEAR_MM: f64 = 0.7;
/// A joint of more members than this is named by its strips alone.
const MOST_NAMES: usize = 16;
/// Radius of the dot in the member at the end of a leader.
const DOT_MM: f64 = 0.5;
/// So many free places for the dot are tried.
const MOST_DOTS: usize = 6;
/// The level stroke between a name and its leader.
const SHOULDER_MM: f64 = 3.0;
/// What it costs to leave a name out, to leave its material out, and to set it beside the joint.
const LEFT_OUT: f64 = 60.0;
const ALONE: f64 = 18.0;
const BESIDE: f64 = 5.0;

/// A member with its name.
pub(super) struct Name {
    subject: Subject,
    /// With its material, and alone.
    long: Setting,
    short: Setting,
    at: Option<Place>,
    /// Free places for the dot of a leader.
    dots: Vec<Point>,
    seen: Seen,
    /// The box round all members.
    all: Rect,
    what: String,
    is_put: bool,
}

/// Where a name goes.
#[derive(Clone)]
pub(super) struct Place {
    words: Words,
    at: Point,
    room: Rect,
    /// From the name to the dot; empty for a name in its member.
    leader: Vec<Point>,
    wish: f64,
}

impl Place {
    /// Whether a leader from here to that dot stays clear of its own words.
    fn may_lead_to(&self, dot: Point) -> bool {
        self.leader.last().is_none_or(|knee| !touches(self.room, Segment::new(*knee, dot)))
    }

    /// With its leader led on to a dot.
    fn led_to(mut self, dot: Point) -> Self {
        self.leader.push(dot);
        self
    }
}

/// The part of a member that can be seen.
struct Seen {
    outline: BezPath,
    bounds: Rect,
    /// Outlines that lie nearer to the viewer.
    nearer: Vec<BezPath>,
}

impl Seen {
    fn has(&self, place: Point) -> bool {
        self.outline.winding(place) != 0 && self.nearer.iter().all(|it| it.winding(place) == 0)
    }
}

/// A name for every member that is not named yet, placed one after the other.
pub(super) fn place(scene: &Scene<'_>, edges: &Taken, taken: &mut Taken) -> Vec<Name> {
    let members: Vec<&Body> = scene
        .inputs
        .trace
        .bodies
        .iter()
        .filter(|it| matches!(it.owner, Owner::Member(_)))
        .take(MOST_NAMES + 1)
        .collect();
    if MOST_NAMES < members.len() {
        return Vec::new();
    }
    let outlines: Vec<BezPath> = members.iter().map(|it| scene.outline(&it.region)).collect();
    let all = outlines.iter().map(BezPath::bounding_box).reduce(|a, b| a.union(b)).unwrap_or_default();
    let mut names: Vec<Name> = Vec::new();
    for (n, (body, outline)) in members.iter().zip(&outlines).enumerate() {
        let Owner::Member(number) = body.owner else { continue };
        let Some(member) = scene.inputs.joint.members.get(number) else { continue };
        let subject = Subject::Member(member.id.clone());
        if scene.manner.is_named(&subject) {
            continue;
        }
        let material = &member.material.label;
        let name = member.shown_name();
        let tells_nothing = material.is_empty() || material.eq_ignore_ascii_case(name);
        let long = if tells_nothing { name.to_owned() } else { format!("{name}, {material}") };
        let bounds = outline.bounding_box();
        // Of two in one depth the later one takes the place, as in the trace.
        let is_nearer =
            |(m, it): &(usize, &&Body)| body.near_mm < it.near_mm || (body.near_mm <= it.near_mm && n < *m);
        let nearer = members.iter().enumerate().filter(is_nearer).map(|(m, _)| &outlines[m]);
        let nearer = nearer.filter(|it| it.bounding_box().overlaps(bounds)).cloned().collect();
        let seen = Seen { outline: outline.clone(), bounds, nearer };
        let dots = dots(&seen, edges, taken);
        let (long, short) = (Setting::new(scene, long), Setting::new(scene, name.to_owned()));
        let what = format!("name {}", member.id);
        let put = scene.manner.put(&what, seen.bounds.center());
        let is_put = put.is_some();
        let mut name = Name { subject, long, short, at: None, dots, seen, all, what, is_put };
        name.at = name.find(edges, taken);
        if let Some(middle) = put {
            name.at = Some(name.put_at(middle));
        }
        if let Some(found) = &name.at {
            taken.add_box(found.room);
            for pair in found.leader.windows(2) {
                taken.add_stroke(pair[0], pair[1], 0.2);
            }
        }
        names.push(name);
    }
    names
}

/// The names as drawn.
pub(super) fn draw(scene: &Scene<'_>, names: &[Name]) -> Drawn {
    let mut drawn = Drawn::default();
    for it in names {
        let Some(place) = &it.at else { continue };
        drawn.add(items_of((place, &it.subject)), it.is_put);
        drawn.handles.extend(scene.manner.handle(&it.what, place.room, it.seen.bounds.center()));
    }
    drawn
}

fn items_of((name, subject): (&Place, &Subject)) -> Vec<Item> {
    let subject = Some(subject.clone());
    let mut items = Vec::new();
    if let Some(end) = name.leader.last() {
        let line = pen::open_line(&name.leader);
        items.push(pen::path(Layer::Notes, subject.clone(), line, None, Some(Line::Dimension)));
        let dot = pen::circle(*end, DOT_MM);
        items.push(pen::path(Layer::Notes, subject.clone(), dot, Some(Fill::Shank), None));
    } else {
        // Hatching must not run through words.
        let room = name.room.to_path(pen::TRUE_WITHIN_MM);
        items.push(pen::path(Layer::Notes, subject.clone(), room, Some(Fill::Paper), None));
    }
    items.push(name.words.clone().at(Layer::Notes, subject, name.at));
    items
}

impl Name {
    /// Where the user has put its middle, turned as it was; on a leader where that is beside the member.
    fn put_at(&self, middle: Point) -> Place {
        let turn_deg = self.at.as_ref().map_or(0.0, |it| it.words.turn_deg);
        let mut place = self.long.around(middle, turn_deg);
        let by = middle - place.room.center();
        place.at += by;
        place.room = place.room + by;
        if !self.seen.has(middle)
            && let Some(dot) = self.dots.first().copied().or_else(|| Some(self.seen.bounds.center()))
        {
            let side = if dot.x < middle.x { -1.0 } else { 1.0 };
            let start = Point::new(middle.x + side * place.room.width() / 2.0, middle.y);
            place.leader = vec![start, start + Vec2::new(side * SHOULDER_MM, 0.0), dot];
        }
        place
    }

    /// The first place that hides nothing.
    fn find(&self, edges: &Taken, taken: &Taken) -> Option<Place> {
        let is_free = |it: &Place| {
            let off = |pair: &[Point]| taken.is_free_stroke(pair[0], pair[1]);
            taken.is_free_box(it.room) && edges.is_free_box(it.room) && it.leader.windows(2).all(off)
        };
        let led = |it: Place| {
            let knee = *it.leader.last()?;
            let is_free = |dot: &&Point| it.may_lead_to(**dot) && taken.is_free_stroke(knee, **dot);
            let dot = self.dots.iter().find(is_free)?;
            Some(it.led_to(*dot))
        };
        let above = || self.long.above(self).filter(is_free).find_map(led);
        let inside = self.long.inside(&self.seen).find(is_free);
        inside.or_else(above).or_else(|| self.short.inside(&self.seen).find(is_free))
    }
}

impl Label for Name {
    type Place = Option<Place>;

    fn place(&self) -> &Option<Place> {
        &self.at
    }

    fn put(&mut self, place: Option<Place>) {
        self.at = place;
    }

    fn others(&self) -> Vec<Option<Place>> {
        if self.is_put {
            return Vec::new();
        }
        let alone = |it: Place| Place { wish: it.wish + ALONE, ..it };
        let led = |it: Place| {
            let dots: Vec<Point> = self.dots.iter().copied().filter(|dot| it.may_lead_to(*dot)).collect();
            dots.into_iter().map(move |dot| it.clone().led_to(dot))
        };
        let beside = self.long.above(self).chain(self.long.below(self)).flat_map(led);
        let long = self.long.inside(&self.seen).chain(beside);
        let short = self.short.inside(&self.seen).chain(self.short.above(self).flat_map(led)).map(alone);
        std::iter::once(None).chain(long.chain(short).map(Some)).collect()
    }

    fn choice(&self, place: &Option<Place>, fixed: &Fixed<'_>) -> Choice {
        let Some(it) = place else { return Choice::none(LEFT_OUT) };
        let strokes = it.leader.windows(2).map(|pair| Segment::new(pair[0], pair[1])).collect();
        Choice::new(vec![it.room], strokes, (it.wish, 0.0), fixed)
    }
}

struct Setting {
    words: String,
    width: f64,
}

impl Setting {
    fn new(scene: &Scene<'_>, words: String) -> Self {
        let width = scene.lettering.width_mm(&words, WORDS_MM, false);
        Self { words, width }
    }

    /// The name with the middle of its capitals at this place.
    fn around(&self, middle: Point, turn_deg: f64) -> Place {
        let down =
            Vec2::new(turn_deg.to_radians().sin(), turn_deg.to_radians().cos()) * (CAPITAL * WORDS_MM / 2.0);
        let at = middle + down;
        let half = self.width / 2.0;
        let flat = Rect::new(-half, -CAPITAL * WORDS_MM, half, DESCENDER * WORDS_MM);
        let room = turned_box(at, flat.inflate(CLEAR_MM, CLEAR_MM), turn_deg);
        let words = Words::new(self.words.as_str(), WORDS_MM).anchored(Anchor::Middle).turned(turn_deg);
        Place { words, at, room, leader: Vec::new(), wish: 0.0 }
    }

    /// In the member, level or upright.
    fn inside<'a>(&'a self, seen: &'a Seen) -> impl Iterator<Item = Place> + 'a {
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

    /// Above the joint, on a leader that is to end with a dot in the member.
    fn above<'a>(&'a self, name: &'a Name) -> impl Iterator<Item = Place> + 'a {
        let levels = (0..7_u8).map(|level| name.all.y0 - 9.0 - WORDS_MM * 1.5 * f64::from(level));
        levels.enumerate().flat_map(move |(n, y)| self.beside(name, (n, y)))
    }

    /// Below it.
    fn below<'a>(&'a self, name: &'a Name) -> impl Iterator<Item = Place> + 'a {
        let levels = (0..7_u8).map(|level| name.all.y1 + 9.0 + WORDS_MM * 1.5 * f64::from(level));
        levels.enumerate().flat_map(move |(n, y)| self.beside(name, (n + 1, y)))
    }

    fn beside<'a>(&'a self, name: &'a Name, (n, y): (usize, f64)) -> impl Iterator<Item = Place> + 'a {
        const ASIDE_MM: [f64; 8] = [7.0, -7.0, 14.0, -14.0, 24.0, -24.0, 36.0, -36.0];
        ASIDE_MM.into_iter().map(move |aside| {
            let sign = f64::signum(aside);
            let knee = Point::new(name.seen.bounds.center().x + aside, y);
            let middle = knee + Vec2::new(sign * (SHOULDER_MM + CLEAR_MM + self.width / 2.0), 0.0);
            let start = knee + Vec2::new(sign * SHOULDER_MM, 0.0);
            #[expect(clippy::cast_precision_loss, reason = "a few levels")]
            let wish = BESIDE + n as f64 + aside.abs() / 20.0;
            Place { leader: vec![start, knee], wish, ..self.around(middle, 0.0) }
        })
    }
}

/// Free places well inside what is seen of a member, those at the top first.
fn dots(seen: &Seen, edges: &Taken, taken: &Taken) -> Vec<Point> {
    let bounds = seen.bounds;
    let parts = [0.12, 0.25, 0.4, 0.5, 0.6, 0.75, 0.88];
    let places = parts.iter().flat_map(|y| [0.5, 0.3, 0.7].map(|x| (x, *y)));
    let room = |it: &Point| Rect::from_center_size(*it, (4.0 * DOT_MM, 4.0 * DOT_MM));
    places
        .map(|(x, y)| Point::new(bounds.x0 + bounds.width() * x, bounds.y0 + bounds.height() * y))
        .filter(|it| seen.has(*it) && taken.is_free_box(room(it)))
        .filter(|it| edges.is_free_box(room(it)) || bounds.width().min(bounds.height()) < 6.0 * DOT_MM)
        .take(MOST_DOTS)
        .collect()
}
