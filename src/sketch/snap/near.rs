//! Which spots and lines lie near a place: cells of a fixed size, each with what reaches into it.

use std::collections::BTreeMap;

use kurbo::{ParamCurveNearest as _, Point, Rect};

use super::{Faced, Spot};
use crate::shape::Edge;

/// Side of a cell, millimetres.
const CELL_MM: f64 = 50.0;

/// A line that reaches into more cells than this is looked at for every question.
const MOST_CELLS: f64 = 400.0;

/// A question that covers more cells than this looks at everything.
const MOST_ASKED: f64 = 4_000.0;

/// Spots and lines by their cells.
#[derive(Clone, Debug, Default)]
pub(super) struct Cells {
    spots: BTreeMap<(i64, i64), Vec<usize>>,
    lines: BTreeMap<(i64, i64), Vec<usize>>,
    long: Vec<usize>,
    counts: (usize, usize),
}

impl Cells {
    pub(super) fn of(spots: &[Spot], lines: &[Faced]) -> Self {
        let mut made = Self { counts: (spots.len(), lines.len()), ..Self::default() };
        for (n, it) in spots.iter().enumerate() {
            made.spots.entry(cell(it.at)).or_default().push(n);
        }
        for (n, it) in lines.iter().enumerate() {
            let bounds = it.edge.bounds();
            if MOST_CELLS < covered(bounds) {
                made.long.push(n);
                continue;
            }
            for at in cells(bounds) {
                // A slanted line reaches only into the cells near it.
                let middle = Point::new(middle_of(at.0), middle_of(at.1));
                if (nearest(&it.edge, middle) - middle).hypot() <= CELL_MM {
                    made.lines.entry(at).or_default().push(n);
                }
            }
        }
        made
    }

    /// The spots and lines whose cells lie within a distance, each once, in their order.
    pub(super) fn near(&self, at: Point, within: f64) -> (Vec<usize>, Vec<usize>) {
        let asked = Rect::from_center_size(at, (2.0 * within, 2.0 * within));
        if MOST_ASKED < covered(asked) {
            return ((0..self.counts.0).collect(), (0..self.counts.1).collect());
        }
        let of = |map: &BTreeMap<(i64, i64), Vec<usize>>| {
            let found = cells(asked).filter_map(|it| map.get(&it)).flatten().copied();
            found.collect::<Vec<usize>>()
        };
        let (mut spots, mut lines) = (of(&self.spots), of(&self.lines));
        lines.extend(&self.long);
        for list in [&mut spots, &mut lines] {
            list.sort_unstable();
            list.dedup();
        }
        (spots, lines)
    }
}

#[expect(clippy::cast_possible_truncation, reason = "coordinates lie within a kilometre of the origin")]
fn index(mm: f64) -> i64 {
    (mm / CELL_MM).floor() as i64
}

#[expect(clippy::cast_precision_loss, reason = "an index of a cell within a kilometre")]
fn middle_of(index: i64) -> f64 {
    (index as f64 + 0.5) * CELL_MM
}

fn cell(at: Point) -> (i64, i64) {
    (index(at.x), index(at.y))
}

fn covered(bounds: Rect) -> f64 {
    (bounds.width() / CELL_MM + 1.0) * (bounds.height() / CELL_MM + 1.0)
}

fn cells(bounds: Rect) -> impl Iterator<Item = (i64, i64)> {
    let (low, high) = (cell(Point::new(bounds.x0, bounds.y0)), cell(Point::new(bounds.x1, bounds.y1)));
    (low.0..=high.0).flat_map(move |x| (low.1..=high.1).map(move |y| (x, y)))
}

/// The place on an edge that is nearest.
pub(super) fn nearest(edge: &Edge, to: Point) -> Point {
    let share = match edge {
        Edge::Line(line) => line.nearest(to, 1e-9).t,
        Edge::Curve(curve) => curve.nearest(to, 1e-6).t,
        Edge::Arc(arc) => {
            // Of an ellipse the angle is that of its own circle: near enough to meet it by eye, and on it.
            let way = (to - arc.center).atan2() - arc.x_rotation - arc.start_angle;
            let way = (way * arc.sweep_angle.signum()).rem_euclid(std::f64::consts::TAU);
            let (share, sweep) = (way / arc.sweep_angle.abs(), arc.sweep_angle.abs());
            // Beyond its end the nearer of its two ends.
            let beyond = std::f64::consts::TAU - sweep;
            match share {
                it if it <= 1.0 => it,
                it if (it - 1.0) * sweep <= beyond / 2.0 => 1.0,
                _ => 0.0,
            }
        }
    };
    edge.at(share)
}
