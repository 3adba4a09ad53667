//! Where marks go: places round a head that hide nothing.

use std::collections::BTreeMap;

use kurbo::{Point, Rect, Vec2};

use super::{CLEAR_MM, LINK_MM, SAME_HEAD_MM};
use crate::drawing::pen::{Care, MOST_TOLD, Scene};
use crate::drawing::place::Taken;
use crate::drawing::shanks::HEAD_ON_BELOW;
use crate::joint::Fastener;
use crate::trace::Shank;

/// Directions of leaders in degrees away from the way that the head looks out, best first.
const TURNS_DEG: [f64; 13] =
    [30.0, -30.0, 45.0, -45.0, 15.0, -15.0, 0.0, 60.0, -60.0, 90.0, -90.0, 135.0, -135.0];

/// Lengths of leaders, shortest first.
const LENGTHS_MM: [f64; 8] = [8.0, 11.0, 15.0, 20.0, 26.0, 34.0, 44.0, 56.0];

/// The heads of all fasteners on paper; `None` for one that is nowhere.
pub(super) fn heads(scene: &Scene<'_>) -> Vec<Option<Head>> {
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
        // The head itself lies this far round the place, and a leader may touch it.
        let (side, top) = (spec.head_mm.max(spec.diameter_mm) / 2.0, spec.head_height_mm);
        let clear = if half == 0.0 { side.hypot(top) * scene.view.scale + 1.6 } else { 1.4 };
        at.is_finite().then_some(Head { at, out, half, clear, has_neighbour: false })
    };
    let mut heads: Vec<Option<Head>> =
        inputs.joint.fasteners.iter().zip(&inputs.trace.fasteners).map(one).collect();
    if scene.is_crowded() {
        heads.iter_mut().for_each(|it| *it = it.take().filter(|it| scene.sees(it.at)));
        if MOST_TOLD < heads.iter().flatten().count() {
            heads.iter_mut().for_each(|it| *it = None);
        }
    }
    turn_rows(&mut heads);
    heads
}

/// Heads that have another one near: their leaders leave one of the four ways along the sides of the paper.
/// Of heads seen head on in a row they leave square to the row, those of the upper row upward and those of
/// the lower row downward, so that no leader runs through a neighbour.
fn turn_rows(heads: &mut [Option<Head>]) {
    let head_on = heads.iter().flatten().filter(|it| 0.0 < it.half).map(|it| Rect::from_points(it.at, it.at));
    let middle = head_on.reduce(|a, b| a.union(b)).unwrap_or_default().center();
    for (n, to_nearest) in neighbours(heads) {
        let Some(head) = &mut heads[n] else { continue };
        head.has_neighbour = true;
        let side = |at: f64, middle: f64| if at <= middle { -1.0 } else { 1.0 };
        head.out = if head.half <= 0.0 {
            squared(head.out)
        } else if to_nearest.x.abs() < to_nearest.y.abs() {
            Vec2::new(side(head.at.x, middle.x), 0.0)
        } else {
            Vec2::new(0.0, side(head.at.y, middle.y))
        };
    }
}

/// The heads that have another one near, each with the way to the nearest.
fn neighbours(heads: &[Option<Head>]) -> Vec<(usize, Vec2)> {
    let mut cells: BTreeMap<(i64, i64), Vec<(usize, Point)>> = BTreeMap::new();
    #[expect(
        clippy::cast_possible_truncation,
        reason = "beyond the range of the cells heads are near, no harm"
    )]
    let cell = |at: Point| ((at.x / IN_A_ROW_MM).floor() as i64, (at.y / IN_A_ROW_MM).floor() as i64);
    let places = || heads.iter().enumerate().filter_map(|(n, it)| it.as_ref().map(|it| (n, it.at)));
    // Of heads one behind the other one stands for all.
    for (n, at) in places() {
        let known = cells.entry(cell(at)).or_default();
        if !known.iter().any(|it| (it.1 - at).hypot() <= SAME_HEAD_MM) {
            known.push((n, at));
        }
    }
    let to_nearest = |(n, at): (usize, Point)| {
        let (x, y) = cell(at);
        let around = (-1..=1).flat_map(|i| (-1..=1).map(move |j| (x.saturating_add(i), y.saturating_add(j))));
        let ways = around.filter_map(|it| cells.get(&it)).flatten().map(|it| it.1 - at);
        let near = ways.filter(|it| SAME_HEAD_MM < it.hypot() && it.hypot() < IN_A_ROW_MM);
        near.min_by(|a, b| a.hypot2().total_cmp(&b.hypot2())).map(|it| (n, it))
    };
    places().filter_map(to_nearest).collect()
}

/// The nearest of the four ways along the sides of the paper: in a row all leaders start from one way, even
/// where the shanks do not quite.
fn squared(out: Vec2) -> Vec2 {
    if out.x.abs() < out.y.abs() { Vec2::new(0.0, out.y.signum()) } else { Vec2::new(out.x.signum(), 0.0) }
}

/// Where a mark and its leader go.
#[derive(Clone, Copy)]
pub(super) struct Leader {
    pub(super) mark: Rect,
    /// On the mark's edge.
    pub(super) from: Point,
    /// On the head.
    pub(super) to: Point,
    /// How much it is liked less than the shortest that leaves the head straight.
    pub(super) wish: f64,
}

/// The first place, near before far and straight out of the head before aside, that hides nothing and
/// lies on no edge; else one on an edge; else a place from a finer search; and where the paper is so full
/// that there is none, the one that hides least.
pub(super) fn find_place(
    head: &Head,
    size: (f64, f64),
    (taken, edges): (&Taken, &Taken),
    patience: &mut Patience,
) -> Leader {
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
        if !patience.has_more(coarse_count <= n) {
            break;
        }
        let leader = head.leader(length, turn, size);
        let cost = leader.cost(head.clear, taken, edges);
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

/// So many lengths of leaders are tried when marks are settled together.
const LENGTHS_SETTLED: u8 = 13;
/// What a longer leader costs, and one that leaves the head at an angle.
const COST_OF_A_MM: f64 = 0.25;
const COST_OF_A_DEGREE: f64 = 0.06;

/// How many places may still be tried in one drawing, and how many of these in a finer search. Where hundreds
/// of marks find no room, no search finds it, and the drawing must not wait for that.
pub(super) struct Patience {
    any: u32,
    fine: u32,
}

impl Patience {
    pub(super) fn of(care: Care) -> Self {
        match care {
            Care::Quick => Self { any: 3_000, fine: 600 },
            Care::Full | Care::Close => Self { any: 12_000, fine: 8_000 },
        }
    }

    /// Uses up one try where there is one.
    fn has_more(&mut self, is_fine: bool) -> bool {
        let left = if is_fine { &mut self.fine } else { &mut self.any };
        let has_more = 0 < *left;
        *left = left.saturating_sub(1);
        has_more
    }
}

/// Heads closer than this on paper stand in a row.
const IN_A_ROW_MM: f64 = 9.0;

/// The cost of a mark that hides nothing but the edge of a member.
const ON_AN_EDGE: u8 = 1;
/// The cost of a leader that crosses something.
const CROSSES: u8 = 2;
/// The cost of a mark that lies on something.
const HIDES: u8 = 4;

/// A head as marks see it.
#[derive(Clone, Copy)]
pub(super) struct Head {
    pub(super) at: Point,
    /// The way it looks out.
    out: Vec2,
    /// How far its outline is from there.
    half: f64,
    /// How far round its place it hides what is drawn.
    pub(super) clear: f64,
    /// Another head is so near that their marks get in each other's way.
    has_neighbour: bool,
}

impl Head {
    /// A place on a line, from which leaders go out to one side of it.
    pub(super) fn on_line(at: Point, out: Vec2, clear: f64) -> Self {
        Self { at, out, half: 0.0, clear, has_neighbour: false }
    }

    /// The way it looks out.
    pub(super) fn out(&self) -> Vec2 {
        self.out
    }

    /// How far its outline is from its place.
    pub(super) fn half(&self) -> f64 {
        self.half
    }

    fn leader(&self, length: f64, turn_deg: f64, size: (f64, f64)) -> Leader {
        let toward = Vec2::from_angle(self.out.angle() + turn_deg.to_radians());
        let to = self.at + toward * self.half;
        let mark = Rect::from_center_size(self.at + toward * (length + self.half), size);
        let wish = (length - LENGTHS_MM[0]) * COST_OF_A_MM + turn_deg.abs() * COST_OF_A_DEGREE;
        Leader { mark, from: edge_toward(mark, to), to, wish }
    }

    /// The leader of a mark that the user has put with its middle here.
    pub(super) fn put(&self, middle: Point, size: (f64, f64)) -> Leader {
        let mark = Rect::from_center_size(middle, size);
        let toward = (middle - self.at).normalize();
        let to = if toward.is_finite() { self.at + toward * self.half } else { self.at };
        Leader { mark, from: edge_toward(mark, to), to, wish: 0.0 }
    }

    /// All places that are looked at when marks are settled together.
    pub(super) fn leaders(&self, size: (f64, f64)) -> Vec<Leader> {
        let lengths = (0..LENGTHS_SETTLED).map(|n| f64::from(n).mul_add(4.0, LENGTHS_MM[0]));
        let turns = || (-9..=9_i8).map(|n| f64::from(n) * 15.0);
        lengths.flat_map(|length| turns().map(move |turn| self.leader(length, turn, size))).collect()
    }
}

impl Leader {
    fn cost(&self, clear: f64, taken: &Taken, edges: &Taken) -> u8 {
        let room = self.mark.inflate(CLEAR_MM, CLEAR_MM);
        // The first stretch of the leader may touch its own head, and nothing else.
        let start = self.to.lerp(self.from, (clear / (self.from - self.to).hypot()).min(0.9));
        if !taken.is_free_box(room) {
            return HIDES;
        }
        if !taken.is_free_stroke(self.from, start) {
            return CROSSES;
        }
        if edges.is_free_box(self.mark) { 0 } else { ON_AN_EDGE }
    }
}

/// A place right beside the mark of another fastener with the same head: they share its leader.
pub(super) fn find_beside(other: Rect, size: (f64, f64), taken: &Taken) -> Option<Leader> {
    let middle = other.center();
    let (across, down) =
        ((other.width() + size.0) / 2.0 + LINK_MM, (other.height() + size.1) / 2.0 + LINK_MM);
    let ways = [(across, 0.0), (-across, 0.0), (0.0, -down), (0.0, down)];
    let at = |(x, y): (f64, f64)| {
        let mark = Rect::from_center_size(middle + Vec2::new(x, y), size);
        beside(other, mark)
    };
    ways.into_iter().map(at).find(|it| taken.is_free_box(it.mark.inflate(CLEAR_MM, CLEAR_MM)))
}

/// A mark at this place that shares the leader of the one beside it.
fn beside(other: Rect, mark: Rect) -> Leader {
    Leader { mark, from: edge_toward(mark, other.center()), to: edge_toward(other, mark.center()), wish: 0.0 }
}

/// Marks one after the other from the first on, in each of the four ways.
pub(super) fn in_a_line(first: Rect, sizes: &[(f64, f64)]) -> [Vec<Leader>; 4] {
    [(1.0, 0.0), (-1.0, 0.0), (0.0, -1.0), (0.0, 1.0)].map(|(x, y): (f64, f64)| {
        let mut last = first;
        let one = |size: &(f64, f64)| {
            let (across, down) =
                ((last.width() + size.0) / 2.0 + LINK_MM, (last.height() + size.1) / 2.0 + LINK_MM);
            let mark = Rect::from_center_size(last.center() + Vec2::new(x * across, y * down), *size);
            let leader = beside(last, mark);
            last = mark;
            leader
        };
        sizes.iter().map(one).collect()
    })
}

/// The place where the straight line from the middle of a box to a place outside leaves it.
pub(in crate::drawing) fn edge_toward(mark: Rect, to: Point) -> Point {
    let middle = mark.center();
    let d = to - middle;
    let along = |d: f64, half: f64| if d == 0.0 { f64::INFINITY } else { half / d.abs() };
    let t = along(d.x, mark.width() / 2.0).min(along(d.y, mark.height() / 2.0)).min(1.0);
    middle + d * t
}
