//! Numbered marks on leaders, and the letters that tag holes.

use kurbo::{BezPath, ParamCurve as _, Point, Rect, Shape as _, Vec2};

use super::pen::{self, Scene, Words};
use super::place::Taken;
use super::shanks::HEAD_ON_BELOW;
use super::steel::{tag, tag_place};
use super::text::{CAPITAL, Lettering};
use super::{Anchor, Fill, Ink, Item, Layer, Line, Mood, Subject};
use crate::joint::Fastener;
use crate::trace::Shank;

/// Edge of a mark of one or two figures on paper.
pub(super) const MARK_MM: f64 = 5.2;

/// Font size of the number in a mark.
const NUMBER_MM: f64 = 3.4;

/// Radius of its corners.
const CORNER_MM: f64 = 0.9;

/// Clear paper between a mark and what else is drawn.
const CLEAR_MM: f64 = 0.8;

/// Font size of the letter that tags a hole.
const TAG_MM: f64 = 2.5;

/// Directions of leaders in degrees away from the way that the head looks out, best first.
const TURNS_DEG: [f64; 13] =
    [30.0, -30.0, 45.0, -45.0, 15.0, -15.0, 0.0, 60.0, -60.0, 90.0, -90.0, 135.0, -135.0];

/// Lengths of leaders, shortest first.
const LENGTHS_MM: [f64; 8] = [8.0, 11.0, 15.0, 20.0, 26.0, 34.0, 44.0, 56.0];

/// Tags of holes, then a mark for each fastener.
pub(super) fn draw(scene: &Scene<'_>, taken: &mut Taken) -> Vec<Item> {
    let mut items = tags(scene, taken);
    let joint = scene.inputs.joint;
    let edges = edges(scene);
    let heads = heads(scene);
    // All leaders lie under all marks, so that none runs through a number.
    let (mut leaders, mut marks) = (Vec::new(), Vec::new());
    let mut placed: Vec<(Point, Rect)> = Vec::new();
    for (n, (fastener, head)) in joint.fasteners.iter().zip(&heads).enumerate() {
        let Some(head) = head else { continue };
        let subject = Some(Subject::Fastener(fastener.id.clone()));
        let number = (n + 1).to_string();
        let mood = scene.mood(n);
        let size = mark_size(&scene.lettering, &number);
        if let Some(place) = beside_its_pile(head.at, size, (&placed, taken)) {
            taken.add_box(place.inflate(CLEAR_MM, CLEAR_MM));
            placed.push((head.at, place));
            marks.extend(mark(&number, place, mood, (Layer::Marks, subject)));
            continue;
        }
        let leader = find_place(head, size, (taken, &edges));
        taken.add_box(leader.mark.inflate(CLEAR_MM, CLEAR_MM));
        taken.add_stroke(leader.from, leader.to, CLEAR_MM / 2.0);
        placed.push((head.at, leader.mark));
        let mut path = pen::stroke(leader.from, leader.to);
        path.extend(arrow(leader.from, leader.to));
        leaders.push(pen::path(Layer::Marks, subject.clone(), path, None, Some(Line::Leader(mood))));
        marks.extend(mark(&number, leader.mark, mood, (Layer::Marks, subject)));
    }
    items.extend(leaders);
    items.extend(marks);
    items
}

/// Heads closer than this on paper lie one behind the other and share one leader.
const ONE_BEHIND_MM: f64 = 0.4;

/// The place beside a mark whose head lies at the same place of the view, one behind the other in depth: the
/// marks then stand in a row at the end of one leader. `None` where no such mark has room beside it.
fn beside_its_pile(
    head: Point,
    (width, height): (f64, f64),
    (placed, taken): (&[(Point, Rect)], &Taken),
) -> Option<Rect> {
    // What is taken has its clear paper round it already.
    let gap = CLEAR_MM + 0.01;
    placed.iter().rev().filter(|it| (it.0 - head).hypot() < ONE_BEHIND_MM).find_map(|(_, other)| {
        let corners = [
            (other.x1 + gap, other.y0),
            (other.x0 - gap - width, other.y0),
            (other.x0, other.y0 - gap - height),
            (other.x0, other.y1 + gap),
        ];
        let boxed = |(x, y): (f64, f64)| Rect::new(x, y, x + width, y + height);
        corners.map(boxed).into_iter().find(|it| taken.is_free_box(*it))
    })
}

/// The heads of all fasteners on paper; `None` for one that is nowhere.
fn heads(scene: &Scene<'_>) -> Vec<Option<Head>> {
    let inputs = scene.inputs;
    let one = |(fastener, shank): (&Fastener, &Shank)| {
        let spec = &fastener.spec;
        let at = scene.view.on_paper(shank.head_at - shank.toward * spec.head_height_mm);
        let flat = scene.direction(shank.toward);
        let (out, half) = if HEAD_ON_BELOW < flat.hypot() {
            (-flat.normalize(), 0.0)
        } else {
            let half = spec.head_mm.max(spec.diameter_mm) / 2.0 * scene.view.scale;
            (Vec2::new(-0.5_f64.sqrt(), -0.5_f64.sqrt()), half)
        };
        at.is_finite().then_some(Head { at, out, half, has_neighbour: false })
    };
    let mut heads: Vec<Option<Head>> =
        inputs.joint.fasteners.iter().zip(&inputs.trace.fasteners).map(one).collect();
    let mut along: Vec<(f64, Point, usize)> =
        heads.iter().enumerate().filter_map(|(n, it)| it.as_ref().map(|it| (it.at.y, it.at, n))).collect();
    along.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (n, (y, at, one)) in along.iter().enumerate() {
        let near = along[n + 1..].iter().take_while(|it| it.0 - y < IN_A_ROW_MM);
        for (_, _, other) in near.filter(|it| (it.1 - *at).hypot() < IN_A_ROW_MM) {
            for which in [*one, *other] {
                if let Some(head) = &mut heads[which] {
                    head.has_neighbour = true;
                    head.out = squared(head.out);
                }
            }
        }
    }
    turn_head_on_rows(&mut heads);
    heads
}

/// Heads that are seen head on in a row: their leaders leave the row square to it, those of the upper row
/// upward and those of the lower row downward, so that no leader runs through a neighbour.
fn turn_head_on_rows(heads: &mut [Option<Head>]) {
    let seen: Vec<Point> = heads.iter().flatten().filter(|it| 0.0 < it.half).map(|it| it.at).collect();
    let Some(around) = seen.iter().map(|it| Rect::from_points(*it, *it)).reduce(|a, b| a.union(b)) else {
        return;
    };
    for head in heads.iter_mut().flatten().filter(|it| it.has_neighbour && 0.0 < it.half) {
        let away = |it: &&Point| ONE_BEHIND_MM < (**it - head.at).hypot();
        let distance = |it: &&Point| (**it - head.at).hypot();
        let nearest = seen.iter().filter(away).min_by(|a, b| distance(a).total_cmp(&distance(b)));
        let Some(nearest) = nearest else { continue };
        let (along, middle) = (*nearest - head.at, around.center());
        let side = |at: f64, middle: f64| if at <= middle { -1.0 } else { 1.0 };
        head.out = if along.x.abs() < along.y.abs() {
            Vec2::new(side(head.at.x, middle.x), 0.0)
        } else {
            Vec2::new(0.0, side(head.at.y, middle.y))
        };
    }
}

/// The nearest of the four ways along the sides of the paper: in a row all leaders start from one way, even
/// where the shanks do not quite.
fn squared(out: Vec2) -> Vec2 {
    if out.x.abs() < out.y.abs() { Vec2::new(0.0, out.y.signum()) } else { Vec2::new(out.x.signum(), 0.0) }
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

/// Where a mark and its leader go.
struct Leader {
    mark: Rect,
    /// On the mark's edge.
    from: Point,
    /// On the head.
    to: Point,
}

/// The first place, near before far and straight out of the head before aside, that hides nothing and
/// lies on no edge; else one on an edge; else a place from a finer search; and where the paper is so full
/// that there is none, the one that hides least.
fn find_place(head: &Head, size: (f64, f64), (taken, edges): (&Taken, &Taken)) -> Leader {
    let mut best: Option<(u8, Leader)> = None;
    let coarse = match (head.has_neighbour, 0.0 < head.half) {
        (true, false) => in_a_row(),
        (true, true) => head_on_in_a_row(),
        (false, _) => alone(),
    };
    let coarse_count = coarse.len();
    let fine = (0..56_u8).flat_map(|n| {
        let length = f64::from(n).mul_add(2.0, 8.0);
        (0..38_u8).map(move |m| (length, f64::from(m / 2 + 1) * 5.0 * if m % 2 == 0 { 1.0 } else { -1.0 }))
    });
    for (n, (length, turn)) in coarse.into_iter().chain(fine).enumerate() {
        // The finer search is only for a head that found nothing at all.
        if coarse_count <= n && best.as_ref().is_some_and(|it| it.0 <= ON_AN_EDGE) {
            break;
        }
        let leader = head.leader(length, turn, size);
        let cost = leader.cost(taken, edges);
        if best.as_ref().is_none_or(|it| cost < it.0) {
            best = Some((cost, leader));
        }
        if cost == 0 {
            break;
        }
    }
    best.map_or_else(|| head.leader(LENGTHS_MM[0], 0.0, size), |it| it.1)
}

/// Places for a head that stands alone: near before far.
fn alone() -> Vec<(f64, f64)> {
    LENGTHS_MM.iter().flat_map(|length| TURNS_DEG.map(|turn| (*length, turn))).collect()
}

/// Places for a head in a row: its leader beside those of its neighbours, because parallels do not cross.
fn in_a_row() -> Vec<(f64, f64)> {
    let turns = [0.0, 15.0, -15.0, 30.0, -30.0, 45.0, -45.0];
    turns.iter().flat_map(|turn| (0..14_u8).map(|n| (f64::from(n).mul_add(3.5, 8.0), *turn))).collect()
}

/// Places for one of a row that is seen head on: near before far, because round such a row lie dimensions.
fn head_on_in_a_row() -> Vec<(f64, f64)> {
    let turns = [0.0, 30.0, -30.0, 45.0, -45.0, 15.0, -15.0, 60.0, -60.0];
    LENGTHS_MM.iter().flat_map(|length| turns.map(|turn| (*length, turn))).collect()
}

/// Heads closer than this on paper stand in a row.
const IN_A_ROW_MM: f64 = 9.0;

/// The cost of a mark that hides nothing but the edge of a member.
const ON_AN_EDGE: u8 = 1;

/// A head as marks see it.
struct Head {
    at: Point,
    /// The way it looks out.
    out: Vec2,
    /// How far its outline is from there.
    half: f64,
    /// Another head is so near that their marks get in each other's way.
    has_neighbour: bool,
}

impl Head {
    fn leader(&self, length: f64, turn_deg: f64, size: (f64, f64)) -> Leader {
        let toward = Vec2::from_angle(self.out.angle() + turn_deg.to_radians());
        let to = self.at + toward * self.half;
        let mark = Rect::from_center_size(self.at + toward * (length + self.half), size);
        Leader { mark, from: edge_toward(mark, to), to }
    }
}

impl Leader {
    fn cost(&self, taken: &Taken, edges: &Taken) -> u8 {
        let room = self.mark.inflate(CLEAR_MM, CLEAR_MM);
        // The first stretch of the leader may touch its own head, and nothing else.
        let start = self.to.lerp(self.from, (1.0 / (self.from - self.to).hypot()).min(0.9));
        let hides = !taken.is_free_box(room);
        let crosses = !taken.is_free_stroke(self.from, start);
        if hides || crosses {
            return u8::from(hides) * 4 + u8::from(crosses) * 2;
        }
        if edges.is_free_box(self.mark) { 0 } else { ON_AN_EDGE }
    }
}

/// The edges of the members, across which a mark had better not lie.
fn edges(scene: &Scene<'_>) -> Taken {
    let mut edges = Taken::default();
    for body in &scene.inputs.trace.bodies {
        for segment in scene.outline(&body.region).segments() {
            edges.add_stroke(segment.start(), segment.end(), 0.2);
        }
    }
    edges
}

/// The place where the straight line from the middle of a box to a place outside leaves it.
fn edge_toward(mark: Rect, to: Point) -> Point {
    let middle = mark.center();
    let d = to - middle;
    let along = |d: f64, half: f64| if d == 0.0 { f64::INFINITY } else { half / d.abs() };
    let t = along(d.x, mark.width() / 2.0).min(along(d.y, mark.height() / 2.0)).min(1.0);
    middle + d * t
}

/// An open arrow head at the end of a leader, as two strokes.
fn arrow(from: Point, to: Point) -> BezPath {
    let back = (from - to).normalize() * 1.6;
    let turned = |deg: f64| to + Vec2::from_angle(back.angle() + f64::to_radians(deg)) * back.hypot();
    let mut path = BezPath::new();
    if back.is_finite() {
        path.extend(pen::open_line(&[turned(14.0), to, turned(-14.0)]).path_elements(pen::TRUE_WITHIN_MM));
    }
    path
}

/// The letters beside the holes, which tell what each hole is for.
fn tags(scene: &Scene<'_>, taken: &mut Taken) -> Vec<Item> {
    let mut items = Vec::new();
    for trace in &scene.inputs.trace.holes {
        let Some(connector) = scene.inputs.joint.connectors.get(trace.connector) else { continue };
        let Some(hole) = connector.plates.get(trace.plate).and_then(|it| it.holes.get(trace.hole)) else {
            continue;
        };
        let (at, out) = tag_place(scene, trace);
        if !at.is_finite() || out.hypot() <= 0.0 {
            continue;
        }
        let (letter, _) = tag(hole.duty);
        let out = out.normalize();
        let aside = Vec2::new(-out.y, out.x);
        let width = scene.lettering.width_mm(letter, TAG_MM, true) + 0.8;
        let height = TAG_MM * CAPITAL + 0.8;
        // Aside before straight out: straight out of a filled hole goes the leader of its fastener.
        let places = [(2.2, 2.4), (2.2, -2.4), (2.4, 0.0), (3.4, 0.0), (2.2, 3.6), (2.2, -3.6), (5.0, 0.0)];
        let boxed = |(o, a): (f64, f64)| Rect::from_center_size(at + out * o + aside * a, (width, height));
        let free = places.into_iter().map(boxed).find(|it| taken.is_free_box(*it));
        let place = free.unwrap_or_else(|| boxed(places[0]));
        taken.add_box(place);
        let subject = Some(Subject::Hole(connector.id.clone(), hole.id.clone()));
        let base = Point::new(place.center().x, place.center().y + TAG_MM * CAPITAL / 2.0);
        items.push(pen::path(
            Layer::Marks,
            subject.clone(),
            pen::rounded(place, 0.3),
            Some(Fill::Paper),
            None,
        ));
        items.push(Words::new(letter, TAG_MM).bold().anchored(Anchor::Middle).at(
            Layer::Marks,
            subject,
            base,
        ));
    }
    items
}
