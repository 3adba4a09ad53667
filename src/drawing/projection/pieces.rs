//! What of each body a view shows: pieces of plane surface with how near they are, and edges.

use kurbo::{Line as Segment, ParamCurve as _, Point, Shape as _};

use super::Projection;
use super::bands::{Corner, bands};
use crate::drawing::pen;
use crate::joint::Look;
use crate::shape::Region;
use crate::trace::{Body, TOUCH_MM};
use crate::unit::Vec3;

/// A part of a body as the view has it.
pub(super) struct Piece {
    /// The body's place in the trace that is drawn.
    pub(super) body: usize,
    /// What is seen of it, in model millimetres of the view.
    pub(super) region: Region,
    /// The nearest that it comes.
    pub(super) near: f64,
    /// The plane cuts it.
    pub(super) is_cut: bool,
    /// Its edges.
    pub(super) edges: Vec<Edge>,
}

/// Parts of a line, each from its beginning, 0, to its end, 1.
pub(super) type Stretches = Vec<(f64, f64)>;

/// A straight edge of a piece.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    pub(super) at: Segment,
    pub(super) depth: f64,
    /// Where a long member is broken off and really goes on.
    pub(super) is_break: bool,
}

/// The pieces of one body; none where the cut leaves nothing of it.
pub(super) fn pieces(body: usize, of: &Body, projection: &Projection) -> Vec<Piece> {
    match projection.look {
        Look::Front => from_the_front(body, of, projection.cut_mm).into_iter().collect(),
        Look::Side | Look::Top => from_aside(body, of, projection),
    }
}

fn from_the_front(body: usize, of: &Body, cut: Option<f64>) -> Option<Piece> {
    if cut.is_some_and(|it| it <= of.far_mm + TOUCH_MM) {
        return None;
    }
    let near = cut.map_or(of.near_mm, |it| it.min(of.near_mm));
    let edges = pen::flat(&of.region.to_path())
        .segments()
        .map(|it| Edge { at: Segment::new(it.start(), it.end()), depth: near, is_break: false })
        .collect();
    Some(Piece { body, region: of.region.clone(), near, is_cut: near + TOUCH_MM < of.near_mm, edges })
}

fn from_aside(body: usize, of: &Body, projection: &Projection) -> Vec<Piece> {
    let look = projection.look;
    // Across and depth of a place of the outline, whatever its own depth.
    let read = |it: Point| {
        let it = look.turned(Vec3::new(it.x, it.y, 0.0));
        if look == Look::Side { (it.y, it.z) } else { (it.x, it.z) }
    };
    let (low, high) = projection.reach_mm.unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
    let (far, near) = (of.far_mm.max(low), of.near_mm.min(high));
    if near - far < TOUCH_MM {
        return Vec::new();
    }
    // On the paper depth runs from the near end of the members to their far end, right or up.
    let ends = [(-near, near < of.near_mm), (-far, of.far_mm < far)];
    let place = |across: f64, along: f64| {
        if look == Look::Side { Point::new(along, across) } else { Point::new(across, along) }
    };
    let found = bands(&of.region, read, projection.cut_mm);
    let mut pieces = Vec::new();
    for band in &found.list {
        let corners = [
            place(band.from, ends[0].0),
            place(band.to, ends[0].0),
            place(band.to, ends[1].0),
            place(band.from, ends[1].0),
        ];
        let mut edges: Vec<Edge> = ends
            .iter()
            .map(|(along, is_break)| Edge {
                at: Segment::new(place(band.from, *along), place(band.to, *along)),
                depth: band.near,
                is_break: *is_break,
            })
            .collect();
        let along = |across: f64, depth: f64| Edge {
            at: Segment::new(place(across, ends[0].0), place(across, ends[1].0)),
            depth,
            is_break: false,
        };
        edges.extend([band.from, band.to].map(|it| along(it, band.near)));
        let is_inner = |it: &&Corner| band.from + TOUCH_MM < it.across && it.across < band.to - TOUCH_MM;
        edges.extend(found.corners.iter().filter(is_inner).map(|it| {
            let depth = if it.is_on_surface { band.near } else { it.depth };
            along(it.across, depth)
        }));
        let region = Region::polygon(&corners);
        pieces.push(Piece { body, region, near: band.near, is_cut: band.is_cut, edges });
    }
    pieces
}

/// The body as this view has it: the outline of all that is seen of it, carried from the far to the near end
/// that its bands have.
pub(super) fn silhouette(pieces: &[Piece]) -> Region {
    match pieces {
        [] => Region::default(),
        [one] => one.region.clone(),
        [first, ..] => {
            // Bands lie side by side: those that touch are one rectangle.
            let mut boxes: Vec<kurbo::Rect> = Vec::new();
            for at in pieces.iter().map(|it| it.region.bounds()) {
                match boxes.last_mut() {
                    Some(last) if last.inflate(TOUCH_MM, TOUCH_MM).overlaps(at) => *last = last.union(at),
                    _ => boxes.push(at),
                }
            }
            if boxes.is_empty() {
                return first.region.clone();
            }
            let loops = boxes
                .iter()
                .flat_map(|it| Region::rectangle(it.origin(), (it.width(), it.height()), 0.0).loops)
                .collect();
            Region::from_loops(loops)
        }
    }
}

/// Whether a piece lies over a place at this depth.
pub(super) fn hides(piece: &Piece, place: Point, depth: f64) -> bool {
    depth + TOUCH_MM < piece.near && piece.region.bounds().contains(place) && piece.region.contains(place)
}

/// The parts of a straight edge that no piece nearer than it covers, then those that one does.
pub(super) fn sight(edge: &Edge, pieces: &[Piece]) -> (Stretches, Stretches) {
    let mut hidden: Vec<(f64, f64)> = pieces
        .iter()
        .filter(|it| edge.depth + TOUCH_MM < it.near)
        .filter(|it| it.region.bounds().overlaps(edge.at.bounding_box().inflate(TOUCH_MM, TOUCH_MM)))
        .flat_map(|it| inside(edge.at, &it.region.to_path()))
        .collect();
    hidden.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut merged: Vec<(f64, f64)> = Vec::new();
    for (from, to) in hidden {
        match merged.last_mut() {
            Some(last) if from <= last.1 + 1e-9 => last.1 = last.1.max(to),
            _ => merged.push((from, to)),
        }
    }
    (gaps_between(&merged), merged)
}

/// What sorted stretches leave of the way from 0 to 1.
pub(super) fn gaps_between(taken: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut free = Vec::new();
    let mut from = 0.0;
    for stretch in taken {
        if 1e-9 < stretch.0 - from {
            free.push((from, stretch.0));
        }
        from = stretch.1.max(from);
    }
    if 1e-9 < 1.0 - from {
        free.push((from, 1.0));
    }
    free
}

/// The parts of a straight piece that lie inside a closed path and not on its edge.
pub(in crate::drawing) fn inside(segment: Segment, path: &kurbo::BezPath) -> Vec<(f64, f64)> {
    let mut cuts: Vec<f64> =
        path.segments().flat_map(|it| it.intersect_line(segment)).map(|it| it.line_t).collect();
    cuts.extend([0.0, 1.0]);
    cuts.retain(|it| (0.0..=1.0).contains(it));
    cuts.sort_by(f64::total_cmp);
    let normal = (segment.p1 - segment.p0).normalize();
    let beside = kurbo::Vec2::new(-normal.y, normal.x) * 0.05;
    let path = pen::flat(path);
    let is_inside = |t: f64| {
        let p = segment.eval(t);
        path.winding(p + beside) != 0 && path.winding(p - beside) != 0
    };
    cuts.windows(2)
        .filter(|it| 1e-9 < it[1] - it[0] && is_inside(f64::midpoint(it[0], it[1])))
        .map(|it| (it[0], it[1]))
        .collect()
}
