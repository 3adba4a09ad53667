//! Numbered marks on leaders, and the letters that tag holes.

mod find;
mod runs;
pub(super) mod tags;

use std::collections::BTreeMap;

use kurbo::{BezPath, Line, Point, Rect, Shape as _, Vec2};

use super::annotate::Label;
use super::pen::{self, Scene, Words};
use super::place::{Taken, touches};
use super::put::Drawn;
use super::settle::{Choice, Fixed};
use super::text::{CAPITAL, Lettering};
use super::{Anchor, Fill, Ink, Item, Layer, Mood, Subject};
use find::{Head, Leader, Patience, find_beside, find_place, heads, in_a_line};

pub(super) use find::edge_toward;
pub(super) use runs::{Run, runs};

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

/// The marks of all fasteners whose heads lie in one place of the paper.
pub(super) struct Group {
    head: Head,
    of: Vec<Marked>,
    /// The first one leads to the head.
    set: Set,
    /// The user has put it there; it is a group of its own.
    is_put: bool,
    /// The bracket over a run of fasteners that one mark tells of.
    bracket: Option<BezPath>,
}

/// A fastener that is marked.
struct Marked {
    fastener: usize,
    number: String,
    size: (f64, f64),
}

impl Marked {
    /// The name by which it is put somewhere.
    fn what(&self, scene: &Scene<'_>) -> Option<String> {
        Some(format!("mark {}", scene.inputs.joint.fasteners.get(self.fastener)?.id))
    }
}

/// A place for each mark of a group. Those that do not lead to the head share the leader of another.
#[derive(Clone)]
pub(super) struct Set {
    leaders: Vec<(Leader, bool)>,
}

/// A group for each place with heads and for each run, placed one after the other.
pub(super) fn place(scene: &Scene<'_>, runs: &[Run], edges: &Taken, taken: &mut Taken) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    let mut by_place: BTreeMap<(i64, i64), usize> = BTreeMap::new();
    let mut runs = runs.iter().peekable();
    for (n, head) in heads(scene).into_iter().enumerate() {
        runs.next_if(|it| it.last < n);
        let run = runs.peek().filter(|it| it.first <= n);
        if run.is_some_and(|it| it.first < n) {
            continue;
        }
        let Some(head) = run.map(|it| it.head).or(head) else { continue };
        let number = run.map_or_else(|| (n + 1).to_string(), |it| it.number());
        let bracket = run.map(|it| it.path());
        let marked = Marked { fastener: n, size: mark_size(scene.lettering, &number), number };
        if let Some(middle) = marked.what(scene).and_then(|it| scene.manner.put(&it, head.at)) {
            let leader = head.put(middle, marked.size);
            taken.add_box(leader.mark.inflate(CLEAR_MM, CLEAR_MM));
            taken.add_stroke(leader.from, leader.to, CLEAR_MM / 2.0);
            let set = Set { leaders: vec![(leader, true)] };
            groups.push(Group { head, of: vec![marked], set, is_put: true, bracket });
            continue;
        }
        let new = Group { head, of: Vec::new(), set: Set { leaders: Vec::new() }, is_put: false, bracket };
        if run.is_some() {
            groups.push(Group { of: vec![marked], ..new });
            continue;
        }
        let at = *by_place.entry(whole(head.at)).or_insert_with(|| {
            groups.push(new);
            groups.len() - 1
        });
        groups[at].of.push(marked);
    }
    let mut patience = Patience::of(scene.manner.care);
    for group in groups.iter_mut().filter(|it| !it.is_put) {
        for it in &group.of {
            let leaders = &mut group.set.leaders;
            let beside = leaders.iter().rev().find_map(|(other, _)| find_beside(other.mark, it.size, taken));
            let leader =
                beside.unwrap_or_else(|| find_place(&group.head, it.size, (taken, edges), &mut patience));
            taken.add_box(leader.mark.inflate(CLEAR_MM, CLEAR_MM));
            taken.add_stroke(leader.from, leader.to, CLEAR_MM / 2.0);
            leaders.push((leader, beside.is_none()));
        }
    }
    groups
}

impl Label for Group {
    type Place = Set;

    fn place(&self) -> &Set {
        &self.set
    }

    fn put(&mut self, place: Set) {
        self.set = place;
    }

    /// Leaders of every length and turn, with the other marks of the group in a line from the first.
    fn others(&self) -> Vec<Set> {
        let Some((first, rest)) = self.of.split_first().filter(|_| !self.is_put) else { return Vec::new() };
        let sizes: Vec<(f64, f64)> = rest.iter().map(|it| it.size).collect();
        let mut all = Vec::new();
        for leader in self.head.leaders(first.size) {
            if rest.is_empty() {
                all.push(Set { leaders: vec![(leader, true)] });
                continue;
            }
            for line in in_a_line(leader.mark, &sizes) {
                let stroke = Line::new(leader.from, leader.to);
                if line.iter().all(|it| !touches(it.mark, stroke)) {
                    let shared = line.into_iter().map(|it| (it, false));
                    all.push(Set { leaders: std::iter::once((leader, true)).chain(shared).collect() });
                }
            }
        }
        all
    }

    fn choice(&self, place: &Set, fixed: &Fixed<'_>) -> Choice {
        let clear = CLEAR_MM / 2.0;
        let boxes = place.leaders.iter().map(|it| it.0.mark.inflate(clear, clear)).collect();
        let led = || place.leaders.iter().filter(|it| it.1).map(|it| it.0);
        // Strokes between marks that share a leader are not to be crossed either.
        let strokes = place.leaders.iter().map(|it| Line::new(it.0.from, it.0.to)).collect();
        Choice::new(boxes, strokes, (led().map(|it| it.wish).sum(), self.head.clear), fixed)
    }
}

/// The marks as drawn. All leaders lie under all marks, so that none runs through a number.
pub(super) fn draw(scene: &Scene<'_>, groups: &[Group]) -> Drawn {
    let mut drawn = Drawn::default();
    let subject = |it: &Marked| {
        let fastener = scene.inputs.joint.fasteners.get(it.fastener);
        fastener.map(|it| Subject::Fastener(it.id.clone()))
    };
    for (group, path) in groups.iter().filter_map(|it| it.bracket.clone().map(|path| (it, path))) {
        let Some(first) = group.of.first() else { continue };
        let line = Some(super::Line::Leader(scene.mood(first.fastener)));
        drawn.items.push(pen::path(Layer::Marks, subject(first), path, None, line));
    }
    let each = || groups.iter().flat_map(|it| it.of.iter().zip(&it.set.leaders).map(move |of| (it, of)));
    for (group, (it, (leader, is_led))) in each() {
        let mut path = pen::stroke(leader.from, leader.to);
        // On a bracket a leader ends without a terminator.
        if *is_led && group.bracket.is_none() {
            path.extend(arrow(leader.from, leader.to));
        }
        let line = Some(super::Line::Leader(scene.mood(it.fastener)));
        drawn.add([pen::path(Layer::Marks, subject(it), path, None, line)], group.is_put);
    }
    for (group, (it, (leader, _))) in each() {
        let of = (Layer::Marks, subject(it));
        drawn.add(mark(&it.number, leader.mark, scene.mood(it.fastener), of), group.is_put);
        let what = it.what(scene);
        drawn.handles.extend(what.and_then(|it| scene.manner.handle(&it, leader.mark, group.head.at)));
    }
    drawn
}

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
    let line = Some(super::Line::Mark(mood));
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
