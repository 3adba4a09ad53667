//! Parallel rows across a region, each cut where the region begins and ends.

use kurbo::{BezPath, PathEl, PathSeg, Point, Rect, Shape as _, Vec2};
use lyon::algorithms::hatching::{HatchBuilder, HatchSegment, Hatcher, HatchingOptions};
use lyon::math::point;
use lyon::path::PathEvent;

use super::Field;

/// A curved outline is hatched as chords within this of the curve, millimetres on paper.
const CHORD_MM: f64 = 0.01;

/// A row closer to an edge along it than this cannot be told from the edge: half a cut line, and the clear paper that
/// parallel lines want (ISO 128-2: twice the thickest, from memory; less here, where one of them is thin).
const BESIDE_MM: f64 = 0.5;

/// An edge that leaves the direction of the rows by less than this lies along them.
const LEVEL_MM: f64 = 0.05;

/// More rows than this on one region are no hatching any more but a grey area that takes seconds.
const MOST_ROWS: f64 = 6000.0;

/// What of a row lies in the region: from one place to another along its direction.
pub(super) struct Row {
    /// Which row, counted from the one through the anchor.
    pub(super) number: i64,
    pub(super) from: f64,
    pub(super) to: f64,
    frame: Frame,
    v: f64,
}

impl Row {
    /// The place on paper so far along the row.
    pub(super) fn place(&self, u: f64) -> Point {
        self.frame.back(u, self.v)
    }
}

/// A turned pair of axes: u along the rows, v across them.
#[derive(Clone, Copy)]
struct Frame {
    anchor: Point,
    along: Vec2,
}

impl Frame {
    fn into(self, p: Point) -> (f64, f64) {
        let d = p - self.anchor;
        (d.dot(self.along), self.along.cross(d))
    }

    fn back(self, u: f64, v: f64) -> Point {
        self.anchor + self.along * u + Vec2::new(-self.along.y, self.along.x) * v
    }
}

/// Rows at repeated spacings, one of them through the anchor.
pub(super) struct Rows<'a> {
    pub(super) field: &'a Field<'a>,
    /// Degrees anticlockwise on paper.
    pub(super) angle_deg: f64,
    /// Distances from row to row, over and over.
    pub(super) spacing: &'a [f64],
    pub(super) anchor: Point,
}

impl Rows<'_> {
    pub(super) fn cut(&self) -> Vec<Row> {
        let angle = self.angle_deg.to_radians();
        let frame = Frame { anchor: self.anchor, along: Vec2::new(angle.cos(), -angle.sin()) };
        let grid = Grid { spacing: self.spacing, period: self.spacing.iter().sum() };
        let mut rows = sweep(self.field, frame, &grid);
        let beside = level_edges(self.field, frame);
        rows.retain(|row| !beside.iter().any(|edge| edge.is_beside(row)));
        rows
    }
}

/// A straight edge of the outline along the rows.
struct LevelEdge {
    from: f64,
    to: f64,
    v: f64,
}

impl LevelEdge {
    /// Whether most of a row runs so close beside the edge that it would only thicken its line.
    fn is_beside(&self, row: &Row) -> bool {
        let shared = row.to.min(self.to) - row.from.max(self.from);
        (row.v - self.v).abs() < BESIDE_MM && (row.to - row.from) / 2.0 < shared
    }
}

fn level_edges(field: &Field<'_>, frame: Frame) -> Vec<LevelEdge> {
    let edge = |it: PathSeg| {
        let PathSeg::Line(line) = it else { return None };
        let (a, b) = (frame.into(line.p0), frame.into(line.p1));
        ((a.1 - b.1).abs() < LEVEL_MM).then(|| LevelEdge { from: a.0.min(b.0), to: a.0.max(b.0), v: a.1 })
    };
    field.visible.segments().filter_map(edge).collect()
}

/// The parts of the straight line through two places that lie in the region.
pub(super) fn along(field: &Field<'_>, from: Point, to: Point) -> Vec<Row> {
    let d = to - from;
    if d.hypot() <= 0.0 {
        return Vec::new();
    }
    let frame = Frame { anchor: from, along: d / d.hypot() };
    sweep(field, frame, &Grid { spacing: &[], period: f64::INFINITY })
}

/// Where the rows lie across: at zero and onward by the spacings. Without spacings only at zero.
struct Grid<'a> {
    spacing: &'a [f64],
    period: f64,
}

impl Grid<'_> {
    /// The first row beyond `v` and its number.
    fn beyond(&self, v: f64) -> Option<(f64, i64)> {
        if self.spacing.is_empty() {
            return (v < 0.0).then_some((0.0, 0));
        }
        let round = (v / self.period).floor();
        let mut row = round * self.period;
        let count = i64::try_from(self.spacing.len()).ok()?;
        #[expect(clippy::cast_possible_truncation, reason = "MOST_ROWS keeps it small")]
        let mut number = round as i64 * count;
        for step in self.spacing.iter().cycle().take(self.spacing.len() + 1) {
            if v < row {
                return Some((row, number));
            }
            row += step;
            number += 1;
        }
        Some((row, number))
    }
}

fn sweep(field: &Field<'_>, frame: Frame, grid: &Grid<'_>) -> Vec<Row> {
    let loops = loops_in(field, frame);
    let places = || loops.iter().flatten();
    let least = places().map(|it| it.1).fold(f32::INFINITY, f32::min);
    let most = places().map(|it| it.1).fold(f32::NEG_INFINITY, f32::max);
    let mean = grid.period / f64::from(u16::try_from(grid.spacing.len().max(1)).unwrap_or(1));
    if !least.is_finite() || !most.is_finite() || MOST_ROWS * mean < f64::from(most - least) {
        return Vec::new();
    }
    let events =
        loops.iter().flat_map(|it| {
            let first = it.first().map_or(point(0.0, 0.0), |it| point(it.0, it.1));
            let last = it.last().map_or(first, |it| point(it.0, it.1));
            let lines = it
                .windows(2)
                .map(|it| PathEvent::Line { from: point(it[0].0, it[0].1), to: point(it[1].0, it[1].1) });
            std::iter::once(PathEvent::Begin { at: first })
                .chain(lines)
                .chain(std::iter::once(PathEvent::End { last, first, close: true }))
        });
    let mut found = Found { rows: Vec::new(), frame, grid, y: least, number: 0, v: 0.0 };
    let options = HatchingOptions::DEFAULT.with_tangents(false);
    Hatcher::new().hatch_path(events, &options, &mut found);
    found.rows
}

/// Collects the cut rows. The hatcher adds up its steps in single precision, so each step is
/// asked for from where it really is, and the rows do not drift.
struct Found<'a> {
    rows: Vec<Row>,
    frame: Frame,
    grid: &'a Grid<'a>,
    y: f32,
    number: i64,
    v: f64,
}

impl HatchBuilder for Found<'_> {
    fn add_segment(&mut self, segment: &HatchSegment) {
        let (from, to) = (f64::from(segment.a.position.x), f64::from(segment.b.position.x));
        if from < to {
            self.rows.push(Row { number: self.number, from, to, frame: self.frame, v: self.v });
        }
    }

    fn next_offset(&mut self, row: u32) -> f32 {
        let reached = if row == 0 { f64::from(self.y) } else { self.v + 1e-6 };
        // No step ends the sweep.
        let Some((v, number)) = self.grid.beyond(reached) else { return 0.0 };
        #[expect(clippy::cast_possible_truncation, reason = "the hatcher counts in single precision")]
        let step = (v - f64::from(self.y)) as f32;
        self.y += step;
        (self.v, self.number) = (v, number);
        step
    }
}

/// The region's loops as chords in the frame, cut to what is seen.
fn loops_in(field: &Field<'_>, frame: Frame) -> Vec<Vec<(f32, f32)>> {
    let mut loops: Vec<Vec<Point>> = Vec::new();
    kurbo::flatten(field.visible.iter(), CHORD_MM, |element| match element {
        PathEl::MoveTo(p) => loops.push(vec![p]),
        PathEl::LineTo(p) => {
            if let Some(last) = loops.last_mut() {
                last.push(p);
            }
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) | PathEl::ClosePath => {}
    });
    let seen = field.seen.filter(|it| !holds(*it, field.visible));
    #[expect(clippy::cast_possible_truncation, reason = "the hatcher counts in single precision")]
    let turned = |p: &Point| {
        let (u, v) = frame.into(*p);
        (u as f32, v as f32)
    };
    loops
        .into_iter()
        .map(|it| seen.map_or_else(|| it.clone(), |rect| cut_to(&it, rect)))
        .filter(|it| 2 < it.len() && it.iter().all(|it| it.is_finite()))
        .map(|it| it.iter().map(turned).collect())
        .collect()
}

fn holds(rect: Rect, path: &BezPath) -> bool {
    rect.union(path.bounding_box()) == rect
}

/// A loop cut at the four sides of a rectangle, after Sutherland and Hodgman. Where it falls apart,
/// the parts stay joined along the sides; an even-odd sweep does not see these joints.
fn cut_to(corners: &[Point], rect: Rect) -> Vec<Point> {
    let sides: [(Vec2, f64); 4] = [
        (Vec2::new(1.0, 0.0), rect.x0),
        (Vec2::new(-1.0, 0.0), -rect.x1),
        (Vec2::new(0.0, 1.0), rect.y0),
        (Vec2::new(0.0, -1.0), -rect.y1),
    ];
    let mut kept = corners.to_vec();
    for (normal, least) in sides {
        let depth = |p: Point| p.to_vec2().dot(normal) - least;
        let mut cut = Vec::with_capacity(kept.len() + 4);
        for (n, to) in kept.iter().enumerate() {
            let from = kept[(n + kept.len() - 1) % kept.len()];
            let (a, b) = (depth(from), depth(*to));
            if (a < 0.0) != (b < 0.0) {
                cut.push(from.lerp(*to, a / (a - b)));
            }
            if 0.0 <= b {
                cut.push(*to);
            }
        }
        kept = cut;
    }
    kept
}
