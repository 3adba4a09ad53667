//! The names of members: in the member where there is room, else beside the joint on a leader with a dot;
//! with their material where there is room for that, else alone.
//!
//! A name that would hide anything is left out; the core strips name every member again.

use kurbo::{BezPath, ParamCurve as _, Point, Rect, Shape as _, Vec2};

use super::pen::{self, Scene, Words};
use super::place::Taken;
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

/// A name with the place found for it.
struct Name {
    words: Words,
    at: Point,
    room: Rect,
    /// From the name to the dot; empty for a name in its member.
    leader: Vec<Point>,
}

/// A name for every member.
pub(super) fn draw(scene: &Scene<'_>, taken: &mut Taken) -> Vec<Item> {
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
    let mut edges = Taken::default();
    for segment in outlines.iter().flat_map(BezPath::segments) {
        edges.add_stroke(segment.start(), segment.end(), 0.2);
    }
    let all = outlines.iter().map(BezPath::bounding_box).reduce(|a, b| a.union(b)).unwrap_or_default();
    let mut items = Vec::new();
    for (body, outline) in members.iter().zip(&outlines) {
        let Owner::Member(number) = body.owner else { continue };
        let Some(member) = scene.inputs.joint.members.get(number) else { continue };
        let material = &member.material.label;
        let name = member.shown_name();
        let tells_nothing = material.is_empty() || material.eq_ignore_ascii_case(name);
        let words = if tells_nothing { name.to_owned() } else { format!("{name}, {material}") };
        let set = Setting::new(scene, words);
        let short = Setting::new(scene, name.to_owned());
        let places = Places { taken, edges: &edges };
        let found = set
            .inside(outline, &places)
            .or_else(|| set.beside(outline, all, &places))
            .or_else(|| short.inside(outline, &places));
        let Some(found) = found else { continue };
        taken.add_box(found.room);
        for pair in found.leader.windows(2) {
            taken.add_stroke(pair[0], pair[1], 0.2);
        }
        items.extend(items_of(found, Subject::Member(member.id.clone())));
    }
    items
}

fn items_of(name: Name, subject: Subject) -> Vec<Item> {
    let subject = Some(subject);
    let mut items = Vec::new();
    if let Some(end) = name.leader.last() {
        let line = pen::open_line(&name.leader);
        items.push(pen::path(Layer::Notes, subject.clone(), line, None, Some(Line::Dimension)));
        items.push(pen::path(
            Layer::Notes,
            subject.clone(),
            pen::circle(*end, DOT_MM),
            Some(Fill::Shank),
            None,
        ));
    } else {
        // Hatching must not run through words.
        let room = name.room.to_path(pen::TRUE_WITHIN_MM);
        items.push(pen::path(Layer::Notes, subject.clone(), room, Some(Fill::Paper), None));
    }
    items.push(name.words.at(Layer::Notes, subject, name.at));
    items
}

/// What a name must not hide: what is drawn already, and the edges of members.
struct Places<'a> {
    taken: &'a Taken,
    edges: &'a Taken,
}

impl Places<'_> {
    fn are_free(&self, room: Rect) -> bool {
        self.taken.is_free_box(room) && self.edges.is_free_box(room)
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
    fn around(&self, middle: Point, turn_deg: f64) -> Name {
        let down =
            Vec2::new(turn_deg.to_radians().sin(), turn_deg.to_radians().cos()) * (CAPITAL * WORDS_MM / 2.0);
        let at = middle + down;
        let half = self.width / 2.0;
        let flat = Rect::new(-half, -CAPITAL * WORDS_MM, half, DESCENDER * WORDS_MM);
        let room = turned_box(at, flat.inflate(CLEAR_MM, CLEAR_MM), turn_deg);
        let words = Words::new(self.words.as_str(), WORDS_MM).anchored(Anchor::Middle).turned(turn_deg);
        Name { words, at, room, leader: Vec::new() }
    }

    /// In the member, level or upright, where nothing else is and no edge runs.
    fn inside(&self, outline: &BezPath, places: &Places<'_>) -> Option<Name> {
        let bounds = outline.bounding_box();
        let turns: &[f64] = if bounds.width() < bounds.height() { &[0.0, 90.0] } else { &[0.0] };
        let parts = [0.5, 0.35, 0.65, 0.22, 0.78];
        let tried = parts.iter().flat_map(|y| parts.map(|x| (x, *y)));
        for turn in turns {
            for (x, y) in tried.clone() {
                let middle = Point::new(bounds.x0 + bounds.width() * x, bounds.y0 + bounds.height() * y);
                let name = self.around(middle, *turn);
                let is_in = bounds.union(name.room) == bounds && outline.winding(middle) != 0;
                if is_in && places.are_free(name.room) {
                    return Some(name);
                }
            }
        }
        None
    }

    /// Above the joint, or below it, on a leader that ends with a dot in the member.
    fn beside(&self, outline: &BezPath, all: Rect, places: &Places<'_>) -> Option<Name> {
        let (bounds, taken) = (outline.bounding_box(), places.taken);
        let mut dots = dots(outline);
        dots.retain(|it| taken.is_free_box(Rect::from_center_size(*it, (4.0 * DOT_MM, 4.0 * DOT_MM))));
        dots.truncate(MOST_DOTS);
        let height = WORDS_MM * 1.5;
        for level in 0..7_u8 {
            let up = all.y0 - 9.0 - height * f64::from(level);
            for aside in [7.0, -7.0, 14.0, -14.0, 24.0, -24.0, 36.0, -36.0] {
                let sign = f64::signum(aside);
                let knee = Point::new(bounds.center().x + aside, up);
                let middle = knee + Vec2::new(sign * (SHOULDER_MM + CLEAR_MM + self.width / 2.0), 0.0);
                let name = self.around(middle, 0.0);
                if !places.are_free(name.room) {
                    continue;
                }
                let start = knee + Vec2::new(sign * SHOULDER_MM, 0.0);
                if !taken.is_free_stroke(start, knee) {
                    continue;
                }
                if let Some(dot) = dots.iter().find(|it| taken.is_free_stroke(knee, **it)) {
                    return Some(Name { leader: vec![start, knee, *dot], ..name });
                }
            }
        }
        None
    }
}

/// Places well inside an outline, those at the top first.
fn dots(outline: &BezPath) -> Vec<Point> {
    let bounds = outline.bounding_box();
    let parts = [0.12, 0.25, 0.4, 0.5, 0.6, 0.75, 0.88];
    let places = parts.iter().flat_map(|y| [0.5, 0.3, 0.7].map(|x| (x, *y)));
    places
        .map(|(x, y)| Point::new(bounds.x0 + bounds.width() * x, bounds.y0 + bounds.height() * y))
        .filter(|it| outline.winding(*it) != 0)
        .collect()
}
