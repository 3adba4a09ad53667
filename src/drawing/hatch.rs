//! Hatching by material: strokes at constant spacing on paper, cut exactly at the region's edge.
//!
//! The patterns are those of general architectural practice: an X for a piece that continues through
//! the cut, one diagonal for blocking, lines along the grain, laminations, plies, flecks, aggregate,
//! double strokes at 45 degrees for masonry, dense strokes for steel, broken strokes for a filling,
//! nothing for air. A pattern hangs on its region, so that it moves with it and never swims.

mod rows;

use kurbo::{BezPath, ParamCurve as _, Point, Rect, Shape as _, Vec2};

use super::Line;
use super::pen::{self, add_stroke, scatter};
use crate::joint::Grain;
use crate::stock::{Family, Material};
use rows::{Row, Rows};

/// A region on paper that is to be hatched.
pub(super) struct Field<'a> {
    /// What is seen of it.
    pub(super) visible: &'a BezPath,
    /// All of it, on which the pattern hangs.
    pub(super) whole: &'a BezPath,
    /// The part of the paper that is seen.
    pub(super) seen: Option<Rect>,
}

/// What kind of hatching a body gets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Pattern {
    /// Corner to corner twice: wood that continues through the cut.
    Cross,
    /// Corner to corner once: an interrupted piece.
    Diagonal,
    /// Broken lines along the grain, degrees anticlockwise.
    Grain(f64),
    /// Glue lines along the width of the piece, and the X of a piece that continues.
    Laminations,
    /// Glue lines along the grain, degrees anticlockwise.
    LaminationsAlong(f64),
    /// Even lines along the longer side: veneers or strands.
    Veneers,
    /// Plies along the sheet with short cross strokes in every other one.
    Plies,
    /// Short strokes scattered in three directions.
    Flecks,
    /// Dots and triangles.
    Aggregate,
    /// Pairs of strokes at 45 degrees.
    Pairs,
    /// Dense strokes at 45 degrees.
    Steel,
    /// Broken strokes, leaning the other way.
    Filling,
    /// Nothing.
    None,
}

impl Pattern {
    /// The pattern of a piece of this material.
    pub(super) fn of(material: &Material, grain: Grain, blocking: bool, bears: bool) -> Self {
        if !bears {
            return Self::Filling;
        }
        match (material.family, grain) {
            (Family::Concrete, _) => Self::Aggregate,
            (Family::Masonry, _) => Self::Pairs,
            (Family::Steel, _) => Self::Steel,
            (Family::Filling, _) => Self::Filling,
            (Family::Panel, _) if is_stranded(material) => Self::Flecks,
            (Family::Panel, _) => Self::Plies,
            (Family::Lumber, Grain::InPlane(deg)) => Self::Grain(deg),
            (Family::Glulam, Grain::InPlane(deg)) | (Family::Engineered, Grain::InPlane(deg)) => {
                Self::LaminationsAlong(deg)
            }
            (Family::Lumber | Family::Glulam | Family::Engineered, _) if blocking => Self::Diagonal,
            (Family::Lumber, Grain::AlongDepth) => Self::Cross,
            (Family::Glulam, Grain::AlongDepth) => Self::Laminations,
            (Family::Engineered, Grain::AlongDepth) => Self::Veneers,
            (Family::Lumber | Family::Glulam | Family::Engineered, Grain::None) => Self::None,
        }
    }
}

impl Pattern {
    /// The line that it is drawn with.
    pub(super) fn line(self) -> Line {
        if self == Self::Steel { Line::SteelHatch } else { Line::Hatch }
    }
}

/// Whether a panel is pressed from strands or chips and not from veneers.
fn is_stranded(material: &Material) -> bool {
    let words = format!("{} {}", material.id, material.label).to_lowercase();
    ["strand", "osb", "particle", "chip", "fibre", "fiber"].iter().any(|it| words.contains(it))
}

/// The strokes of a pattern.
pub(super) fn hatch(pattern: Pattern, field: &Field<'_>) -> BezPath {
    let bounds = field.whole.bounding_box();
    if !(bounds.width().is_finite() && bounds.height().is_finite()) || bounds.area() <= 0.0 {
        return BezPath::new();
    }
    let rows =
        |angle_deg: f64, spacing: &[f64]| Rows { field, angle_deg, spacing, anchor: bounds.center() }.cut();
    // Along the longer side of the piece.
    let long_deg = long_side_deg(field.whole, bounds);
    match pattern {
        Pattern::None => BezPath::new(),
        Pattern::Cross => diagonals(field, bounds, 2),
        Pattern::Diagonal => diagonals(field, bounds, 1),
        Pattern::Grain(deg) => broken(&rows(deg, &[3.4, 2.6]), 30.0, 2.2),
        Pattern::LaminationsAlong(deg) => whole(&rows(deg, &[2.8])),
        Pattern::Laminations => {
            let mut strokes = whole(&rows(long_deg + 90.0, &[4.0]));
            strokes.extend(diagonals(field, bounds, 2));
            strokes
        }
        Pattern::Veneers => whole(&rows(long_deg, &[1.3])),
        Pattern::Plies => plies(&rows(long_deg, &[PLY_MM]), &rows(long_deg + 90.0, &[2.2])),
        Pattern::Flecks => {
            let mut strokes = flecks(&rows(long_deg - 17.0, &[2.7]), 1);
            strokes.extend(flecks(&rows(long_deg + 5.0, &[2.3]), 2));
            strokes.extend(flecks(&rows(long_deg + 24.0, &[3.1]), 3));
            strokes
        }
        Pattern::Aggregate => aggregate(&rows(0.0, &[1.7]), field),
        Pattern::Pairs => whole(&rows(45.0, &[0.9, 3.1])),
        Pattern::Steel => whole(&rows(45.0, &[0.9])),
        Pattern::Filling => broken(&rows(-32.0, &[3.6]), 3.2, 1.6),
    }
}

const PLY_MM: f64 = 1.1;

/// Direction of the longest straight piece of the outline if it is as long as the box, else of the box.
fn long_side_deg(path: &BezPath, bounds: Rect) -> f64 {
    let longest = path
        .segments()
        .map(|it| it.end() - it.start())
        .max_by(|a, b| a.hypot2().total_cmp(&b.hypot2()))
        .unwrap_or_default();
    if longest.hypot() < bounds.width().max(bounds.height()) * 0.5 {
        return if bounds.width() < bounds.height() { 90.0 } else { 0.0 };
    }
    (-longest.y).atan2(longest.x).to_degrees()
}

fn whole(rows: &[Row]) -> BezPath {
    let mut strokes = BezPath::with_capacity(2 * rows.len());
    for row in rows {
        add_stroke(&mut strokes, row.place(row.from), row.place(row.to));
    }
    strokes
}

/// Rows cut into long strokes, each row shifted against its neighbour so that the gaps do not line up.
fn broken(rows: &[Row], on_mm: f64, off_mm: f64) -> BezPath {
    let mut strokes = BezPath::with_capacity(8 * rows.len());
    for row in rows {
        let period = on_mm + off_mm;
        let shift = scatter(row.number, 7) * period;
        let first = ((row.from - shift) / period).floor();
        let mut start = first.mul_add(period, shift);
        while start < row.to {
            let (from, to) = (start.max(row.from), (start + on_mm).min(row.to));
            if from < to {
                add_stroke(&mut strokes, row.place(from), row.place(to));
            }
            start += period;
        }
    }
    strokes
}

fn flecks(rows: &[Row], seed: i64) -> BezPath {
    let mut strokes = BezPath::new();
    for row in rows {
        let mut at = (row.from / 5.0).floor() * 5.0;
        let mut cell = 0;
        while at < row.to {
            let start = at + scatter(row.number, cell + seed * 1000) * 3.0;
            let (from, to) = (start.max(row.from), (start + 1.7).min(row.to));
            if from < to {
                add_stroke(&mut strokes, row.place(from), row.place(to));
            }
            at += 5.0;
            cell += 1;
        }
    }
    strokes
}

/// Lines between the plies, and short strokes across every other ply.
fn plies(along: &[Row], across: &[Row]) -> BezPath {
    let mut strokes = whole(along);
    for row in across {
        let mut ply = (row.from / PLY_MM).floor();
        while ply * PLY_MM < row.to {
            let (from, to) = ((ply * PLY_MM).max(row.from), ((ply + 1.0) * PLY_MM).min(row.to));
            if ply.rem_euclid(2.0) < 0.5 && from < to {
                add_stroke(&mut strokes, row.place(from), row.place(to));
            }
            ply += 1.0;
        }
    }
    strokes
}

/// Dots everywhere and a triangle here and there, none of which reaches over the edge.
fn aggregate(rows: &[Row], field: &Field<'_>) -> BezPath {
    let corners: Vec<Point> = field.visible.segments().map(|it| it.start()).collect();
    let visible = pen::flat(field.visible);
    let mut strokes = BezPath::new();
    for row in rows {
        let mut at = (row.from / 2.4).floor() * 2.4;
        let mut cell = (row.from / 2.4).floor();
        while at < row.to {
            let chance = scatter(row.number, cell_number(cell));
            let start = at + chance * 1.8;
            if chance < 0.24 {
                add_triangle(&mut strokes, row.place(start), chance * 1500.0, (&visible, &corners));
            } else if row.from <= start && start + DOT_MM <= row.to {
                add_stroke(&mut strokes, row.place(start), row.place(start + DOT_MM));
            }
            at += 2.4;
            cell += 1.0;
        }
    }
    strokes
}

const DOT_MM: f64 = 0.3;

#[expect(clippy::cast_possible_truncation, reason = "a whole number of cells on a sheet of paper")]
fn cell_number(cell: f64) -> i64 {
    cell as i64
}

fn add_triangle(strokes: &mut BezPath, centre: Point, turn_deg: f64, inside: (&BezPath, &[Point])) {
    let corner = |n: f64| {
        let angle = (turn_deg + 120.0 * n).to_radians();
        centre + Vec2::new(angle.cos(), angle.sin()) * 0.8
    };
    let corners = [corner(0.0), corner(1.0), corner(2.0)];
    let (path, region_corners) = inside;
    let holds = corners.iter().all(|it| path.contains(*it));
    let room = Rect::from_center_size(centre, (1.6, 1.6));
    if holds && !region_corners.iter().any(|it| room.contains(*it)) {
        strokes.move_to(corners[0]);
        strokes.line_to(corners[1]);
        strokes.line_to(corners[2]);
        strokes.close_path();
    }
}

/// One or two diagonals from corner to corner, cut at the outline.
fn diagonals(field: &Field<'_>, bounds: Rect, how_many: usize) -> BezPath {
    let [a, b, c, d] = four_corners(field.whole).unwrap_or([
        Point::new(bounds.x0, bounds.y1),
        Point::new(bounds.x1, bounds.y1),
        Point::new(bounds.x1, bounds.y0),
        Point::new(bounds.x0, bounds.y0),
    ]);
    let mut strokes = BezPath::new();
    for (from, to) in [(a, c), (b, d)].into_iter().take(how_many) {
        for row in rows::along(field, from, to) {
            add_stroke(&mut strokes, row.place(row.from), row.place(row.to));
        }
    }
    strokes
}

/// The corners of an outline of four straight sides without holes.
fn four_corners(path: &BezPath) -> Option<[Point; 4]> {
    let segments: Vec<_> = path.segments().filter(|it| (it.end() - it.start()).hypot() > 1e-9).collect();
    let straight = segments.iter().all(|it| matches!(it, kurbo::PathSeg::Line(_)));
    let loops = path.elements().iter().filter(|it| matches!(it, kurbo::PathEl::MoveTo(_))).count();
    match segments.as_slice() {
        [a, b, c, d] if straight && loops == 1 => Some([a.start(), b.start(), c.start(), d.start()]),
        _ => None,
    }
}

#[cfg(test)]
mod tests;
