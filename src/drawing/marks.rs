//! Numbered marks on leaders, and the letters that tag holes.

mod find;
mod tags;

use std::collections::BTreeMap;

use kurbo::{BezPath, Point, Rect, Shape as _, Vec2};

use super::pen::{self, Scene, Words};
use super::place::Taken;
use super::text::{CAPITAL, Lettering};
use super::{Anchor, Fill, Ink, Item, Layer, Line, Mood, Subject};
use find::{Patience, edges, find_beside, find_place, heads};

pub(super) use find::edge_toward;

/// Edge of a mark of one or two figures on paper.
pub(super) const MARK_MM: f64 = 5.2;

/// Font size of the number in a mark.
const NUMBER_MM: f64 = 3.4;

/// Radius of its corners.
const CORNER_MM: f64 = 0.9;

/// Clear paper between a mark and what else is drawn.
const CLEAR_MM: f64 = 0.8;

/// Paper between marks that share one leader, a little more than what each keeps clear.
const LINK_MM: f64 = 2.0 * CLEAR_MM + 0.1;

/// Heads closer than this on paper are one: their shanks lie behind each other.
const SAME_HEAD_MM: f64 = 0.4;

/// Tags of holes, then a mark for each fastener.
pub(super) fn draw(scene: &Scene<'_>, taken: &mut Taken) -> Vec<Item> {
    let mut items = tags::draw(scene, taken);
    let edges = edges(scene);
    let heads = heads(scene);
    // All leaders lie under all marks, so that none runs through a number.
    let (mut leaders, mut marks) = (Vec::new(), Vec::new());
    let mut placed: Placed = BTreeMap::new();
    let mut patience = Patience::default();
    for (n, (fastener, head)) in scene.inputs.joint.fasteners.iter().zip(&heads).enumerate() {
        let Some(head) = head else { continue };
        let subject = Some(Subject::Fastener(fastener.id.clone()));
        let number = (n + 1).to_string();
        let mood = scene.mood(n);
        let size = mark_size(scene.lettering, &number);
        let group = placed.entry(whole(head.at)).or_default();
        let beside = group.iter().rev().find_map(|it| find_beside(*it, size, taken));
        let leader = beside.unwrap_or_else(|| find_place(head, size, (taken, &edges), &mut patience));
        group.push(leader.mark);
        taken.add_box(leader.mark.inflate(CLEAR_MM, CLEAR_MM));
        taken.add_stroke(leader.from, leader.to, CLEAR_MM / 2.0);
        let mut path = pen::stroke(leader.from, leader.to);
        if beside.is_none() {
            path.extend(arrow(leader.from, leader.to));
        }
        leaders.push(pen::path(Layer::Marks, subject.clone(), path, None, Some(Line::Leader(mood))));
        marks.extend(mark(&number, leader.mark, mood, (Layer::Marks, subject)));
    }
    items.extend(leaders);
    items.extend(marks);
    items
}

/// The marks of the heads at one place of the paper, by that place.
type Placed = BTreeMap<(i64, i64), Vec<Rect>>;

/// The place in steps within which heads are one.
fn whole(at: Point) -> (i64, i64) {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "beyond the range of the steps places are one, no harm"
    )]
    let step = |it: f64| (it / SAME_HEAD_MM).round() as i64;
    (step(at.x), step(at.y))
}

/// Width and height of the mark of this number.
pub(super) fn mark_size(lettering: &Lettering, number: &str) -> (f64, f64) {
    (MARK_MM.max(lettering.width_mm(number, NUMBER_MM, true) + 1.6), MARK_MM)
}

/// A mark: filled for a fault, dashed for a caution, plain otherwise.
pub(super) fn mark(number: &str, place: Rect, mood: Mood, of: (Layer, Option<Subject>)) -> Vec<Item> {
    let (layer, subject) = of;
    let outline = pen::rounded(place, CORNER_MM);
    let (fill, ink) = match mood {
        Mood::Fault => (Fill::Mark(mood), Ink::OnMark),
        Mood::Caution | Mood::Quiet => (Fill::Paper, Ink::Mood(mood)),
    };
    let line = Some(Line::Mark(mood));
    let mut items = Vec::new();
    if mood == Mood::Caution {
        items.push(pen::path(layer, subject.clone(), outline.clone(), Some(fill), None));
        items.push(pen::path(layer, subject.clone(), pen::dashed(&outline), None, line));
    } else {
        items.push(pen::path(layer, subject.clone(), outline, Some(fill), line));
    }
    let base = Point::new(place.center().x, place.center().y + NUMBER_MM * CAPITAL / 2.0);
    let words = Words::new(number, NUMBER_MM).bold().anchored(Anchor::Middle).ink(ink);
    items.push(words.at(layer, subject, base));
    items
}

/// An open arrow head at the end of a leader, as two strokes.
pub(super) fn arrow(from: Point, to: Point) -> BezPath {
    let back = (from - to).normalize() * 1.6;
    let turned = |deg: f64| to + Vec2::from_angle(back.angle() + f64::to_radians(deg)) * back.hypot();
    let mut path = BezPath::new();
    if back.is_finite() {
        path.extend(pen::open_line(&[turned(14.0), to, turned(-14.0)]).path_elements(pen::TRUE_WITHIN_MM));
    }
    path
}
