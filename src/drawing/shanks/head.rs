//! Heads, nuts and washers of a fastener that is seen from the side.

use kurbo::{ParamCurve as _, Point, Rect, Shape as _};

use super::Laid;
use crate::drawing::{Item, Line, pen};
use crate::stock::{FastenerKind, WasherSpec};

/// Least thickness on paper of a flat nail head, so that it is seen at any scale.
const NAIL_HEAD_MM: f64 = 0.5;

/// A nail head is about so many shank diameters thick (common practice).
const NAIL_HEAD_IN_DIAMETERS: f64 = 0.35;

/// Half the angle of a countersunk head, as the tangent: 82 degrees in all (ASME B18.6.1, from memory).
const COUNTERSINK: f64 = 0.869;

/// The head with its washer, and the nut with its own.
pub(super) fn draw(laid: &Laid<'_>) -> Vec<Item> {
    let spec = &laid.fastener.spec;
    let mut items = Vec::new();
    if let Some(washer) = &laid.fastener.head_washer {
        // The seat of the head is the top of its washer.
        items.push(slab(laid, (0.0, washer.thickness_mm), washer.outer_mm));
    }
    match spec.kind {
        FastenerKind::Nail => items.push(nail_head(laid)),
        FastenerKind::WoodScrew if spec.head_height_mm <= 0.0 => items.push(countersunk(laid)),
        FastenerKind::ThreadedRod => {
            if let Some(nut) = spec.nut {
                items.extend(hexagon(laid, (-nut.height_mm, 0.0), nut.across_flats_mm));
            }
        }
        FastenerKind::WoodScrew
        | FastenerKind::LagScrew
        | FastenerKind::Bolt
        | FastenerKind::MasonryScrew => {
            items.extend(hexagon(laid, (-spec.head_height_mm, 0.0), spec.head_mm));
        }
    }
    items.extend(nut(laid));
    items
}

/// The box around the head on paper.
pub(super) fn bounds(laid: &Laid<'_>) -> Rect {
    let spec = &laid.fastener.spec;
    let half = spec.head_mm.max(spec.diameter_mm) / 2.0;
    let top = spec.head_height_mm.max(NAIL_HEAD_MM / laid.scale);
    [(-top, half), (-top, -half), (0.0, half), (0.0, -half)]
        .iter()
        .map(|(s, side)| Rect::from_points(laid.beside(*s, *side), laid.beside(*s, *side)))
        .reduce(|a, b| a.union(b))
        .map_or(Rect::ZERO, |it| it.inflate(0.4, 0.4))
}

/// Washers and nut as strokes across the axis, each with half its thickness on paper.
pub(super) fn washers_and_nut(laid: &Laid<'_>) -> Vec<(Point, Point, f64)> {
    let across = |from: f64, to: f64, width: f64| {
        let (middle, half) = (f64::midpoint(from, to), width / 2.0);
        (laid.beside(middle, half), laid.beside(middle, -half), (to - from) / 2.0 * laid.along.hypot())
    };
    let head = laid.fastener.head_washer.as_deref();
    let mut found: Vec<_> = head.map(|it| across(0.0, it.thickness_mm, it.outer_mm)).into_iter().collect();
    if let (Some(nut), Some(seat)) = (laid.fastener.spec.nut, laid.shank.nut) {
        let at = laid.shank.length_mm - seat.projects_mm;
        let washer = laid.fastener.nut_washer.as_deref();
        let top = at + washer.map_or(0.0, |it| it.thickness_mm);
        found.extend(washer.map(|it| across(at, top, it.outer_mm)));
        found.push(across(top, top + nut.height_mm, nut.across_flats_mm));
    }
    found
}

/// A plate square to the axis between two stations.
fn slab(laid: &Laid<'_>, (from, to): (f64, f64), width: f64) -> Item {
    let half = width / 2.0;
    let corners =
        [laid.beside(from, half), laid.beside(to, half), laid.beside(to, -half), laid.beside(from, -half)];
    laid.item(pen::polygon(&corners), Some(laid.solid()), Some(Line::Shank))
}

fn nail_head(laid: &Laid<'_>) -> Item {
    let spec = &laid.fastener.spec;
    let height = spec
        .head_height_mm
        .max(NAIL_HEAD_IN_DIAMETERS * spec.diameter_mm)
        .max(NAIL_HEAD_MM / laid.along.hypot());
    let mut head = slab(laid, (-height, 0.0), spec.head_mm.max(spec.diameter_mm));
    if let crate::drawing::Shape::Path { line, .. } = &mut head.shape {
        // Its outline alone would be as thick as the head.
        *line = laid.fastener.existing.then_some(Line::Shank);
    }
    head
}

fn countersunk(laid: &Laid<'_>) -> Item {
    let spec = &laid.fastener.spec;
    let (wide, narrow) = (spec.head_mm.max(spec.diameter_mm) / 2.0, spec.diameter_mm / 2.0);
    let depth = (wide - narrow) / COUNTERSINK;
    let corners = [
        laid.beside(0.0, wide),
        laid.beside(depth, narrow),
        laid.beside(depth, -narrow),
        laid.beside(0.0, -wide),
    ];
    laid.item(pen::polygon(&corners), Some(laid.solid()), Some(Line::Shank))
}

/// A hexagon seen square to two of its corners' edges: a slab with two edge lines, where they can be told.
fn hexagon(laid: &Laid<'_>, (from, to): (f64, f64), across_flats: f64) -> Vec<Item> {
    if across_flats <= 0.0 {
        return Vec::new();
    }
    let least = NAIL_HEAD_MM / laid.along.hypot();
    let from = from.min(to - least);
    let mut items = vec![slab(laid, (from, to), across_flats)];
    // Seen on a flat: the two edges stand at a quarter of the width across corners from the axis.
    let edge = across_flats / 3.0_f64.sqrt() / 2.0;
    if 4.0 <= across_flats * laid.scale {
        let edges: Vec<(Point, Point)> =
            [edge, -edge].iter().map(|it| (laid.beside(from, *it), laid.beside(to, *it))).collect();
        let mut path = kurbo::BezPath::new();
        for (a, b) in edges {
            // Light strokes on a dark head.
            pen::add_stroke(&mut path, a, b);
        }
        items.push(laid.item(outline_of(&path), Some(crate::drawing::Fill::Paper), None));
    }
    items
}

/// Thin light bars along strokes, which a line in the colour of the shank could not show on a shank.
fn outline_of(strokes: &kurbo::BezPath) -> kurbo::BezPath {
    let half = Line::Hatch.width_mm() / 2.0;
    let mut bars = kurbo::BezPath::new();
    for segment in strokes.segments() {
        let (a, b) = (segment.start(), segment.end());
        let d = (b - a).normalize();
        let n = kurbo::Vec2::new(-d.y, d.x) * half;
        bars.extend(pen::polygon(&[a + n, b + n, b - n, a - n]).path_elements(pen::TRUE_WITHIN_MM));
    }
    bars
}

/// The nut, tightened against the last body, over its washer.
fn nut(laid: &Laid<'_>) -> Vec<Item> {
    let (Some(spec), Some(seat)) = (laid.fastener.spec.nut, laid.shank.nut) else { return Vec::new() };
    let at = laid.shank.length_mm - seat.projects_mm;
    let washer: Option<&WasherSpec> = laid.fastener.nut_washer.as_deref();
    let thickness = washer.map_or(0.0, |it| it.thickness_mm);
    let mut items = Vec::new();
    if let Some(washer) = washer {
        items.push(slab(laid, (at, at + thickness), washer.outer_mm));
    }
    items.extend(hexagon(laid, (at + thickness, at + thickness + spec.height_mm), spec.across_flats_mm));
    items
}
