//! What remains of a region when others are taken away.
//!
//! All edges are cut into pieces where they meet. Then each piece is asked whether there is
//! material on exactly one of its sides; if so it is border of what remains. Places that are
//! one by rounding become one, the corners of the outline first, so nothing drifts.

use std::collections::BTreeMap;
use std::ops::ControlFlow;

use kurbo::{Arc, Line, ParamCurve, Point, Rect, Vec2};

use super::build::{joined, tidy};
use super::measure::{corner, signed_area};
use super::meet::{SAME_MM, meetings};
use super::sweep::meeting_boxes;
use super::{Edge, Region};

/// Places closer than this become one.
const WELD_MM: f64 = 2.0 * SAME_MM;

/// Where on a piece it is asked what lies beside it: no even share, since regular drawings touch there.
const ASKED_AT: f64 = 0.471_3;

impl Region {
    /// What remains when the others are taken away: exact for notches that share a border with
    /// the outline, holes, and cut-outs that overlap each other or stick out.
    #[must_use]
    pub fn minus(&self, others: &[Self]) -> Self {
        let whole = self.bounds().inflate(SAME_MM, SAME_MM);
        let touching = others.iter().filter(|it| !it.loops.is_empty() && it.bounds().overlaps(whole));
        let regions: Vec<&Self> = std::iter::once(self).chain(touching).collect();
        if regions.len() == 1 {
            return self.clone();
        }
        let mut welded = Welded::default();
        let whole = edges_of(&regions, &mut welded);
        let borders = borders(&regions, split(&whole, &mut welded));
        let loops = chain(&borders).into_iter().map(|it| tidy(healed(it, &whole)));
        let loops = loops.filter(|it| !is_sliver(it)).collect();
        Self { loops }
    }
}

/// Places, each of which stands for all that are one with it by rounding.
#[derive(Default)]
struct Welded {
    places: Vec<Point>,
    cells: BTreeMap<(i64, i64), Vec<usize>>,
}

impl Welded {
    fn id(&mut self, place: Point) -> usize {
        const CELL: f64 = 4.0 * WELD_MM;
        #[allow(
            clippy::cast_possible_truncation,
            reason = "a cell too far out is still a cell: the cast saturates"
        )]
        let cell = |it: f64| (it / CELL).floor() as i64;
        let (x, y) = (cell(place.x), cell(place.y));
        for dx in -1..=1 {
            for dy in -1..=1 {
                let near = self.cells.get(&(x.saturating_add(dx), y.saturating_add(dy)));
                let same =
                    near.into_iter().flatten().find(|it| (self.places[**it] - place).hypot() <= WELD_MM);
                if let Some(id) = same {
                    return *id;
                }
            }
        }
        self.places.push(place);
        self.cells.entry((x, y)).or_default().push(self.places.len() - 1);
        self.places.len() - 1
    }
}

/// A stretch of an edge between two meetings.
#[derive(Clone, Copy)]
struct Piece {
    edge: Edge,
    /// The welded places of its ends.
    ends: (usize, usize),
    region: usize,
    /// The edge that it is part of, in the list of all edges.
    source: usize,
    /// Where on that edge it begins and ends; the other way round when it runs against it.
    shares: (f64, f64),
}

impl Piece {
    fn reversed(&self) -> Self {
        let (from, to) = self.ends;
        let (begin, end) = self.shares;
        Self { edge: self.edge.reversed(), ends: (to, from), shares: (end, begin), ..*self }
    }

    /// Whether `next` is the same edge, gone on with.
    #[allow(clippy::float_cmp, reason = "both are the very number at which the edge was cut")]
    fn goes_on_as(&self, next: &Self) -> bool {
        let is_forward = self.shares.0 < self.shares.1;
        self.source == next.source
            && self.shares.1 == next.shares.0
            && is_forward == (next.shares.0 < next.shares.1)
    }
}

/// All edges of all regions.
fn edges_of(regions: &[&Region], welded: &mut Welded) -> Vec<Piece> {
    let mut whole: Vec<Piece> = Vec::new();
    for (region, it) in regions.iter().enumerate() {
        for edges in &it.loops {
            for (n, edge) in edges.iter().enumerate() {
                let ends = (welded.id(corner(edges, n)), welded.id(corner(edges, (n + 1) % edges.len())));
                whole.push(Piece { edge: *edge, ends, region, source: whole.len(), shares: (0.0, 1.0) });
            }
        }
    }
    whole
}

/// The edges, cut where they meet.
fn split(whole: &[Piece], welded: &mut Welded) -> Vec<Piece> {
    let boxes: Vec<Rect> = whole.iter().map(|it| it.edge.bounds().inflate(SAME_MM, SAME_MM)).collect();
    let mut cuts: Vec<Vec<(f64, usize)>> = vec![Vec::new(); whole.len()];
    meeting_boxes(&boxes, |a, b| {
        for it in meetings(&whole[a].edge, &whole[b].edge) {
            let id = welded.id(it.at);
            cuts[a].push((it.on_a, id));
            cuts[b].push((it.on_b, id));
        }
        ControlFlow::Continue(())
    });
    let mut pieces = Vec::with_capacity(2 * whole.len());
    for (piece, mut cuts) in whole.iter().zip(cuts) {
        let length = piece.edge.toward(0.5).hypot();
        for (share, id) in &mut cuts {
            // At the seam of a full circle a place is both its start and its end.
            let is_near = |end: f64| (*share - end).abs() * length <= 100.0 * WELD_MM;
            *share = match *id {
                it if it == piece.ends.0 && is_near(0.0) => 0.0,
                it if it == piece.ends.1 && is_near(1.0) => 1.0,
                _ => *share,
            };
        }
        cuts.sort_by(|a, b| a.0.total_cmp(&b.0));
        cuts.push((1.0, piece.ends.1));
        let (mut share, mut id) = (0.0, piece.ends.0);
        for (next_share, next_id) in cuts {
            let cut = part(&piece.edge, (share, next_share), (welded.places[id], welded.places[next_id]));
            let goes_round = 100.0 * WELD_MM < (next_share - share) * length;
            if id != next_id || goes_round && !matches!(cut, Edge::Line(_)) {
                pieces.push(Piece { edge: cut, ends: (id, next_id), shares: (share, next_share), ..*piece });
                (share, id) = (next_share, next_id);
            }
        }
    }
    pieces
}

/// The part of an edge between two shares, with its ends put where they belong.
fn part(edge: &Edge, (from, to): (f64, f64), (start, end): (Point, Point)) -> Edge {
    match edge {
        Edge::Line(_) => Edge::Line(Line::new(start, end)),
        Edge::Arc(arc) => Edge::Arc(Arc {
            start_angle: arc.sweep_angle.mul_add(from, arc.start_angle),
            sweep_angle: arc.sweep_angle * (to - from),
            ..*arc
        }),
        Edge::Curve(curve) => {
            let mut cut = curve.subsegment(from..to);
            (cut.p0, cut.p3) = (start, end);
            Edge::Curve(cut)
        }
    }
}

/// The pieces with material on exactly one side, each once, run so that it lies to their left.
fn borders(regions: &[&Region], pieces: Vec<Piece>) -> Vec<Piece> {
    let boxes: Vec<Rect> = regions.iter().map(|it| it.bounds()).collect();
    let mut by_ends: BTreeMap<(usize, usize), Vec<Vec<Piece>>> = BTreeMap::new();
    for piece in pieces {
        let groups =
            by_ends.entry((piece.ends.0.min(piece.ends.1), piece.ends.0.max(piece.ends.1))).or_default();
        match groups.iter_mut().find(|it| lie_together(&it[0], &piece)) {
            Some(group) => group.push(piece),
            None => groups.push(vec![piece]),
        }
    }
    let mut kept = Vec::new();
    for group in by_ends.values().flatten() {
        let first = group[0];
        let beside = |region: usize| sides(regions[region], boxes[region], region, group);
        let own = beside(0);
        let taken = (1..regions.len()).map(beside);
        let taken = taken.fold((false, false), |a, b| (a.0 || b.0, a.1 || b.1));
        match (own.0 && !taken.0, own.1 && !taken.1) {
            (true, false) => kept.push(first),
            (false, true) => kept.push(first.reversed()),
            _ => {}
        }
    }
    kept
}

/// Whether two pieces with the same ends are the same stretch.
fn lie_together(a: &Piece, b: &Piece) -> bool {
    let middle = a.edge.at(0.5);
    let other = b.edge.at(0.5);
    let size = (middle - a.edge.start()).hypot();
    (middle - other).hypot() <= (10.0 * WELD_MM).max(1e-9 * size)
        || matches!((a.edge, b.edge), (Edge::Curve(_), Edge::Curve(_)))
            && super::meet::share_on(&b.edge, a.edge.at(ASKED_AT)).is_some()
}

/// Whether a region lies to the left and to the right of a group of pieces, seen along the first.
fn sides(region: &Region, bounds: Rect, index: usize, group: &[Piece]) -> (bool, bool) {
    let first = &group[0];
    let mut own = group.iter().filter(|it| it.region == index);
    let place = first.edge.at(ASKED_AT);
    match (own.next(), own.next()) {
        (None, _) => {
            let inside = bounds.contains(place) && region.contains(place);
            (inside, inside)
        }
        (Some(only), None) => {
            let with = only.edge.toward(0.5).dot(first.edge.toward(0.5)) >= 0.0;
            (with, !with)
        }
        // The region's own border runs here and back: a slit or a wall without thickness.
        (Some(_), Some(_)) => {
            let way = first.edge.toward(ASKED_AT).normalize();
            let off = Vec2::new(-way.y, way.x) * (1000.0 * WELD_MM);
            (region.contains(place + off), region.contains(place - off))
        }
    }
}

/// The pieces as closed loops. Where several meet in one place, each loop keeps to its own material.
fn chain(pieces: &[Piece]) -> Vec<Vec<Piece>> {
    let mut leaving: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (n, piece) in pieces.iter().enumerate() {
        leaving.entry(piece.ends.0).or_default().push(n);
    }
    let mut used = vec![false; pieces.len()];
    let mut loops = Vec::new();
    for first in 0..pieces.len() {
        if used[first] {
            continue;
        }
        let mut chained = Vec::new();
        let mut at = first;
        let is_closed = loop {
            used[at] = true;
            chained.push(pieces[at]);
            let ways = leaving.get(&pieces[at].ends.1).map_or(&[][..], Vec::as_slice);
            let open = ways.iter().copied().filter(|it| *it == first || !used[*it]);
            match next_of(pieces, at, open) {
                Some(next) if next == first => break true,
                Some(next) => at = next,
                None => break false,
            }
        };
        if is_closed {
            loops.push(chained);
        }
    }
    loops
}

/// Of the pieces that may follow, the one that goes on along the same face, so that a hole that
/// touches the border stays a loop of its own; or else the one that turns farthest to the left,
/// which bounds the same material.
fn next_of(pieces: &[Piece], at: usize, open: impl Iterator<Item = usize>) -> Option<usize> {
    let open: Vec<usize> = open.collect();
    if open.len() < 2 {
        return open.first().copied();
    }
    let own = &pieces[at];
    let goes_on =
        |it: &&usize| own.goes_on_as(&pieces[**it]) || joined(&own.edge, &pieces[**it].edge).is_some();
    if let Some(straight) = open.iter().find(goes_on) {
        return Some(*straight);
    }
    // All are looked at from the same short way off, so that ones that leave smoothly differ as well.
    let length = |it: &Edge| it.toward(0.5).hypot();
    let near = open.iter().map(|it| length(&pieces[*it].edge)).fold(length(&pieces[at].edge), f64::min);
    let off = (0.25 * near).min(0.05);
    let back = pieces[at].edge.reversed();
    let look = |it: &Edge| it.at(off / length(it).max(f64::MIN_POSITIVE)) - it.start();
    let backward = look(&back).atan2();
    let turn = |n: usize| {
        let clockwise = (backward - look(&pieces[n].edge).atan2()).rem_euclid(std::f64::consts::TAU);
        // Straight back is the last choice: that way lies no material.
        if clockwise < 1e-9 { std::f64::consts::TAU } else { clockwise }
    };
    open.into_iter().min_by(|a, b| turn(*a).total_cmp(&turn(*b)))
}

/// A loop's edges, those made whole again that were cut where they only touched something.
fn healed(chained: Vec<Piece>, whole: &[Piece]) -> Vec<Edge> {
    let mut kept: Vec<Piece> = Vec::with_capacity(chained.len());
    for piece in chained {
        match kept.last_mut() {
            Some(last) if last.goes_on_as(&piece) => *last = with(last, &piece, whole),
            _ => kept.push(piece),
        }
    }
    if 1 < kept.len() && kept[kept.len() - 1].goes_on_as(&kept[0]) {
        kept[0] = with(&kept[kept.len() - 1], &kept[0], whole);
        kept.truncate(kept.len() - 1);
    }
    kept.into_iter().map(|it| it.edge).collect()
}

/// Two pieces of one edge as one.
fn with(first: &Piece, second: &Piece, whole: &[Piece]) -> Piece {
    let (ends, shares) = ((first.ends.0, second.ends.1), (first.shares.0, second.shares.1));
    let (start, end) = (first.edge.start(), second.edge.end());
    let edge = if shares.0 < shares.1 {
        part(&whole[first.source].edge, shares, (start, end))
    } else {
        part(&whole[first.source].edge, (shares.1, shares.0), (end, start)).reversed()
    };
    Piece { edge, ends, shares, ..*first }
}

/// Whether a loop encloses nothing but what rounding has left.
fn is_sliver(edges: &[Edge]) -> bool {
    let around: f64 = edges.iter().map(|it| it.toward(0.5).hypot()).sum();
    edges.is_empty() || signed_area(edges).abs() <= 2.0 * WELD_MM * around
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    const BOARD: &str = "M0 0H10V10H0Z";

    fn path(data: &str) -> Region {
        Region::path(data).expect("the test's own path data is sound")
    }

    /// What is cut from what, the area that remains, and the edges of each loop, fewest first.
    #[track_caller]
    fn check(whole: &str, cut: &[&str], area: f64, edges: &[usize]) -> Region {
        let cuts: Vec<Region> = cut.iter().map(|it| path(it)).collect();
        let rest = path(whole).minus(&cuts);
        let measured = rest.area_mm2();
        assert!((measured - area).abs() < 1e-9, "{whole} less {cut:?}: {measured} is not {area}");
        let mut counts: Vec<usize> = rest.loops.iter().map(Vec::len).collect();
        counts.sort_unstable();
        assert_eq!(counts, edges, "{whole} less {cut:?}: {rest:?}");
        for edges in &rest.loops {
            for (n, edge) in edges.iter().enumerate() {
                let next = edges[(n + 1) % edges.len()].start();
                assert!((edge.end() - next).hypot() < 1e-9, "{whole} less {cut:?} is open: {rest:?}");
            }
        }
        rest
    }

    #[test]
    fn straight_notches() {
        check(BOARD, &[], 100.0, &[4]);
        // Flush with the border, sticking out of it, and of the same width as the board.
        check(BOARD, &["M4 8H6V10H4Z"], 96.0, &[8]);
        check(BOARD, &["M4 8H6V12H4Z"], 96.0, &[8]);
        check(BOARD, &["M0 8H10V10H0Z"], 80.0, &[4]);
        check(BOARD, &["M-1 8H11V10H-1Z"], 80.0, &[4]);
        // A corner, flush and over.
        check(BOARD, &["M7 7H10V10H7Z"], 91.0, &[6]);
        check(BOARD, &["M7 7H12V12H7Z"], 91.0, &[6]);
        // Beside the board, touching it along a face and in a corner.
        check(BOARD, &["M10 2H12V4H10Z"], 100.0, &[4]);
        check(BOARD, &["M10 10H12V12H10Z"], 100.0, &[4]);
        check(BOARD, &["M20 2H22V4H20Z"], 100.0, &[4]);
        // Through, in the middle, and all of it.
        check(BOARD, &["M4 -1H6V11H4Z"], 80.0, &[4, 4]);
        check(BOARD, &["M4 0H6V10H4Z"], 80.0, &[4, 4]);
        check(BOARD, &["M4 4H6V6H4Z"], 96.0, &[4, 4]);
        check(BOARD, &["M-1 -1H11V11H-1Z"], 0.0, &[]);
        check(BOARD, &[BOARD], 0.0, &[]);
    }

    #[test]
    fn cut_outs_that_overlap_each_other() {
        check(BOARD, &["M3 8H6V12H3Z", "M5 7H8V12H5Z"], 100.0 - 6.0 - 9.0 + 2.0, &[10]);
        // Side by side with a common face, one inside the other, and the same twice.
        check(BOARD, &["M3 8H5V10H3Z", "M5 8H7V10H5Z"], 92.0, &[8]);
        check(BOARD, &["M3 3H7V7H3Z", "M4 4H6V6H4Z"], 84.0, &[4, 4]);
        check(BOARD, &["M3 3H7V7H3Z", "M3 3H7V7H3Z"], 84.0, &[4, 4]);
        // Two holes that touch in a corner, and a hole that touches the border with one.
        check(BOARD, &["M3 3H5V5H3Z", "M5 5H7V7H5Z"], 92.0, &[4, 8]);
        check(BOARD, &["M10 5L8 6V4Z"], 98.0, &[3, 4]);
        // A hole with an island by even-odd.
        check(BOARD, &["M2 2H8V8H2Z M4 4H6V6H4Z"], 100.0 - 36.0 + 4.0, &[4, 4, 4]);
    }

    #[test]
    fn round_cuts() {
        let round = "M4 5A1 1 0 0 1 6 5A1 1 0 0 1 4 5Z";
        check(BOARD, &[round], 100.0 - PI, &[1, 4]);
        check(BOARD, &["M9 5A1 1 0 0 1 11 5A1 1 0 0 1 9 5Z"], 100.0 - PI / 2.0, &[6]);
        // A quarter at the corner.
        check(BOARD, &["M9 10A1 1 0 0 1 11 10A1 1 0 0 1 9 10Z"], 100.0 - PI / 4.0, &[5]);
        // A slot with a drilled end: a notch and a hole that overlap.
        check(BOARD, &["M4 5H6V12H4Z", round], 100.0 - 10.0 - PI / 2.0, &[8]);
        // A hole that touches the border from within, and one that fills the board.
        check(BOARD, &["M8 5A1 1 0 0 1 10 5A1 1 0 0 1 8 5Z"], 100.0 - PI, &[1, 4]);
        check(BOARD, &["M0 5A5 5 0 0 1 10 5A5 5 0 0 1 0 5Z"], 100.0 - 25.0 * PI, &[1, 4]);
        // Two holes that overlap: the lens of two circles of radius 1 whose centres are 1 apart.
        let lens = 2.0 * PI / 3.0 - 0.75_f64.sqrt();
        check(BOARD, &[round, "M5 5A1 1 0 0 1 7 5A1 1 0 0 1 5 5Z"], 100.0 - 2.0 * PI + lens, &[2, 4]);
    }

    #[test]
    fn round_posts() {
        let post = "M-5 0A5 5 0 0 1 5 0A5 5 0 0 1 -5 0Z";
        // A tube, half a post, a post with a slot, and nothing.
        check(post, &["M-3 0A3 3 0 0 1 3 0A3 3 0 0 1 -3 0Z"], 16.0 * PI, &[1, 1]);
        check(post, &["M-6 0H6V6H-6Z"], 12.5 * PI, &[2]);
        check(post, &[post], 0.0, &[]);
        // The housing for a board: a segment of half angle acos(3/5) is cut off.
        let segment = 25.0 * 0.6_f64.acos() - 12.0;
        check(post, &["M3 -5H6V5H3Z"], 25.0 * PI - segment, &[2]);
        // Flush: the cut-out has the post's own curve as its border.
        check(post, &["M3 -4A5 5 0 0 1 3 4Z"], 25.0 * PI - segment, &[2]);
        check(post, &["M3 4A5 5 0 0 0 3 -4Z"], 25.0 * PI - segment, &[2]);
    }

    #[test]
    fn ellipses_and_curves() {
        let ellipse = "M-8 0A8 3 0 0 1 8 0A8 3 0 0 1 -8 0Z";
        check(ellipse, &["M0 -9H9V9H0Z"], 12.0 * PI, &[2]);
        check(BOARD, &["M2 5A3 1 0 0 1 8 5A3 1 0 0 1 2 5Z"], 100.0 - 3.0 * PI, &[1, 4]);
        // Two ellipses crosswise: each quarter of what is common is a b / 2 * 2 atan(b / a), by
        // squeezing the plane so that one of the two becomes a circle.
        let common = 4.0 * 8.0 * 3.0 * (3.0_f64 / 8.0).atan();
        check(ellipse, &["M0 -8A8 3 90 0 1 0 8A8 3 90 0 1 0 -8Z"], 24.0 * PI - common, &[2, 2]);
        // A parabola's cap of 4 by 2, which just touches the top; and with half its height above it:
        // of 16/3 the upper half is 2/3 of 2 sqrt 2 by 1.
        check(BOARD, &["M3 8Q5 12 7 8Z"], 100.0 - 16.0 / 3.0, &[2, 4]);
        check(BOARD, &["M3 9Q5 13 7 9Z"], 100.0 - 16.0 / 3.0 + 4.0 / 3.0 * 2.0_f64.sqrt(), &[8]);
        // A curve along a curve: the lower part of the parabola is cut off flush.
        check("M1 0Q0 2 -1 0Z", &["M1 0Q0 2 -1 0L-1 -1H1Z"], 0.0, &[]);
        check("M0 0C0 6 6 6 6 0Z", &["M0 0C0 6 6 6 6 0H9V9H-9V0Z"], 648.0 / 30.0, &[2]);
    }

    #[test]
    fn turned_and_shifted_it_is_the_same() {
        for turn in [0.0, 30.0, 77.7, 90.0, 213.0] {
            let place = |x: f64, y: f64| {
                let (sin, cos) = f64::to_radians(turn).sin_cos();
                Point::new(1000.0 + x * cos - y * sin, -500.0 + x * sin + y * cos)
            };
            let rectangle = |x: f64, y: f64, w: f64, h: f64| Region::rectangle(place(x, y), (w, h), turn);
            let board = rectangle(0.0, 0.0, 38.1, 184.15);
            let rest = board.minus(&[
                rectangle(0.0, 100.0, 12.7, 25.4),
                rectangle(30.0, 180.0, 8.1, 4.15),
                Region::round(place(38.1, 50.0), 12.0),
                Region::round(place(20.0, 50.0), 12.0),
            ]);
            let by_hand = 38.1 * 184.15 - 12.7 * 25.4 - 8.1 * 4.15 - 36.0 * PI * 1.5;
            assert!((rest.area_mm2() - by_hand).abs() < 1e-8, "{turn}: {} is not {by_hand}", rest.area_mm2());
            assert_eq!(rest.self_crossing(), None, "{turn}");
            // 4 sides, 2 more and 4 more for the notches, 2 for the bite, and the hole.
            assert_eq!(
                rest.loops.iter().map(Vec::len).collect::<Vec<_>>().iter().sum::<usize>(),
                13,
                "{turn}"
            );
        }
    }
}
