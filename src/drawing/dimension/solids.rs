//! What extension lines must not run through: the bodies and the shanks of a view.

use kurbo::{Point, Rect, Shape as _, Vec2};

use super::layout::Side;
use crate::drawing::pen::{self, Scene};

/// A line along an edge, or nearer to it than this on paper, does not run through what the edge bounds.
const ALONG_AN_EDGE_MM: f64 = 0.05;
/// An extension line that would end within so much of what it runs through starts where it would.
const LEAST_LINE_MM: f64 = 2.0;

/// In a joint of more bodies and shanks than this nobody reads single lines, and they are not weighed one by one.
const CROWD: usize = 1_000;

/// Outlines on paper, each with the box round it.
pub(super) struct Solids {
    /// In the order of the bodies of the trace.
    pub(super) bodies: Vec<Solid>,
    shanks: Vec<Solid>,
    is_crowd: bool,
}

/// One of them.
pub(super) struct Solid {
    pub(super) bounds: Rect,
    chords: Vec<(Point, Point)>,
}

impl Solids {
    pub(super) fn of(scene: &Scene<'_>) -> Self {
        let body = |it: &crate::trace::Body| {
            let outline = scene.outline(&it.region);
            Solid { bounds: outline.bounding_box(), chords: pen::chords(&outline) }
        };
        let bodies: Vec<Solid> = scene.inputs.trace.bodies.iter().map(body).collect();
        let is_crowd = CROWD < bodies.len() + scene.inputs.trace.fasteners.len();
        Self { bodies, shanks: if is_crowd { Vec::new() } else { shanks(scene) }, is_crowd }
    }

    /// Whether a box lies on a body.
    pub(super) fn overlap(&self, room: Rect) -> bool {
        self.bodies.iter().any(|it| it.bounds.overlaps(room))
    }

    /// How far a line from this place out to this side runs through bodies.
    pub(super) fn run_through_mm(&self, side: &Side, from: Point) -> f64 {
        if self.is_crowd {
            return 0.0;
        }
        let (s, start) = side.read(from);
        let one = |it: &Solid| {
            let mut at = it.crossed(side, s);
            at.sort_by(f64::total_cmp);
            let inside = |pair: &[f64]| match pair {
                [a, b] => (b - a.max(start)).max(0.0),
                _ => 0.0,
            };
            at.chunks(2).map(inside).sum::<f64>()
        };
        self.bodies.iter().map(one).sum()
    }

    /// Where a line along `s` that ends at `end` starts so that it runs through nothing: at its own start, or beyond
    /// the last thing that it would run through.
    pub(super) fn clear_of(&self, side: &Side, (s, start): (f64, f64), end: f64) -> f64 {
        if self.is_crowd {
            return start;
        }
        let crossed = self.bodies.iter().chain(&self.shanks).flat_map(|it| it.crossed(side, s));
        crossed.filter(|it| *it < end - LEAST_LINE_MM).fold(start, f64::max)
    }
}

impl Solid {
    fn new(corners: [Point; 4]) -> Self {
        let bounds = Rect::from_points(corners[0], corners[2]);
        let bounds = bounds.union(Rect::from_points(corners[1], corners[3]));
        let [a, b, c, d] = corners;
        Self { bounds, chords: vec![(a, b), (b, c), (c, d), (d, a)] }
    }

    /// How far out to this side a line along `s` crosses the outline.
    fn crossed(&self, side: &Side, s: f64) -> Vec<f64> {
        let corners = [self.bounds.origin(), Point::new(self.bounds.x1, self.bounds.y1)];
        let other = [Point::new(self.bounds.x0, self.bounds.y1), Point::new(self.bounds.x1, self.bounds.y0)];
        let reach = corners.into_iter().chain(other).map(|it| side.read(it).0);
        let (low, high) = reach.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), it| (a.min(it), b.max(it)));
        // This much off the edges at both ends: what only touches is not run through.
        if !(low + ALONG_AN_EDGE_MM < s && s < high - ALONG_AN_EDGE_MM) {
            return Vec::new();
        }
        let crossing = |(a, b): &(Point, Point)| {
            let ((sa, ta), (sb, tb)) = (side.read(*a), side.read(*b));
            // Half open, so that a corner between two pieces counts once.
            ((sa <= s) != (sb <= s)).then(|| ta + (tb - ta) * (s - sa) / (sb - sa))
        };
        self.chords.iter().filter_map(crossing).collect()
    }
}

/// Shanks with their heads as boxes along their axes.
fn shanks(scene: &Scene<'_>) -> Vec<Solid> {
    let inputs = scene.inputs;
    let one = |(fastener, shank): (&crate::joint::Fastener, &crate::trace::Shank)| {
        let spec = &fastener.spec;
        let half = spec.head_mm.max(spec.diameter_mm) / 2.0 * scene.view.scale;
        let top = scene.view.on_paper(shank.head_at - shank.toward * spec.head_height_mm);
        let point = scene.view.on_paper(shank.head_at + shank.toward * shank.length_mm);
        let way = point - top;
        let along = if way.hypot() < half { Vec2::new(half, 0.0) } else { way.normalize() * half };
        let aside = Vec2::new(-along.y, along.x);
        // Seen head on it is as long as it is wide.
        let ends = if way.hypot() < half { (top - along, point + along) } else { (top, point) };
        let corners = [ends.0 + aside, ends.1 + aside, ends.1 - aside, ends.0 - aside];
        (0.0 < shank.length_mm && corners.iter().all(|it| it.is_finite())).then(|| Solid::new(corners))
    };
    inputs.joint.fasteners.iter().zip(&inputs.trace.fasteners).filter_map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn below() -> Side {
        let (along, away) = (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0));
        Side { origin: Point::new(0.0, 100.0), along, away, turn_deg: 0.0 }
    }

    #[test]
    fn a_line_starts_beyond_what_it_would_run_through_and_keeps_its_start_along_an_edge() {
        let slab = Solid::new([
            Point::new(0.0, 20.0),
            Point::new(50.0, 20.0),
            Point::new(50.0, 60.0),
            Point::new(0.0, 60.0),
        ]);
        let all = Solids { bodies: vec![slab], shanks: Vec::new(), is_crowd: false };
        assert!((all.run_through_mm(&below(), Point::new(10.0, 5.0)) - 40.0).abs() < 1e-9);
        assert!((all.run_through_mm(&below(), Point::new(10.0, 45.0)) - 15.0).abs() < 1e-9);
        assert!(all.run_through_mm(&below(), Point::new(50.0, 5.0)) < 1e-9, "along its edge");
        // Measured from the first line: the slab ends 40 above it.
        assert!((all.clear_of(&below(), (10.0, -95.0), 7.0) + 40.0).abs() < 1e-9);
        assert!((all.clear_of(&below(), (50.0, -95.0), 7.0) + 95.0).abs() < 1e-9);
        assert!((all.clear_of(&below(), (10.0, -30.0), 7.0) + 30.0).abs() < 1e-9, "it starts below it");
    }
}
