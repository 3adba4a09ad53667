//! Whether an outline is sound: no two of its edges cross, touch or lie on each other.

use std::ops::ControlFlow;

use kurbo::{Point, Rect};

use super::measure::corner;
use super::meet::{Meeting, SAME_MM, meetings, own_crossing};
use super::sweep::meeting_boxes;
use super::{Edge, Region};

/// Neighbours that run into each other smoothly seem to meet, by rounding, close beside their
/// common corner too; so near to it, in millimetres, nothing is made of it.
const SMOOTH_MM: f64 = 1e-3;

impl Region {
    /// A place where two edges cross, touch or lie on each other, other than at the common end of
    /// neighbours; `None` for a sound outline. Edges of different loops count as well.
    ///
    /// A place where two arcs or curves only graze each other may pass.
    #[must_use]
    pub fn self_crossing(&self) -> Option<Point> {
        let own = self.loops.iter().flatten().find_map(|edge| match edge {
            Edge::Curve(curve) => own_crossing(curve),
            Edge::Line(_) | Edge::Arc(_) => None,
        });
        if own.is_some() {
            return own;
        }
        let edges: Vec<(usize, usize)> = self
            .loops
            .iter()
            .enumerate()
            .flat_map(|(ring, it)| (0..it.len()).map(move |n| (ring, n)))
            .collect();
        let boxes: Vec<Rect> =
            self.loops.iter().flatten().map(|it| it.bounds().inflate(SAME_MM, SAME_MM)).collect();
        let mut found = None;
        meeting_boxes(&boxes, |a, b| {
            found = self.crossing_of(edges[a], edges[b]);
            if found.is_some() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        found
    }

    fn crossing_of(&self, (ring, a): (usize, usize), (other_ring, b): (usize, usize)) -> Option<Point> {
        let edges = &self.loops[ring];
        let count = edges.len();
        let follows = |first: usize, second: usize| ring == other_ring && (first + 1) % count == second;
        let found = meetings(&edges[a], &self.loops[other_ring][b]);
        let is_at_corner = |it: &Meeting| {
            (follows(a, b)
                && (it.at - corner(edges, b)).hypot() <= SMOOTH_MM
                && 0.5 < it.on_a
                && it.on_b < 0.5)
                || (follows(b, a)
                    && (it.at - corner(edges, a)).hypot() <= SMOOTH_MM
                    && it.on_a < 0.5
                    && 0.5 < it.on_b)
        };
        found.iter().find(|it| !is_at_corner(it)).map(|it| it.at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn crosses(data: &str, at: Option<(f64, f64)>) {
        let found = Region::path(data).unwrap().self_crossing();
        match (found, at) {
            (None, None) => {}
            (Some(found), Some(at)) => {
                assert!((found - Point::from(at)).hypot() < 1e-6, "{data}: {found} is not {at:?}");
            }
            (found, at) => panic!("{data}: {found:?} is not {at:?}"),
        }
    }

    #[test]
    fn a_sound_outline_has_no_crossing() {
        crosses("M0 0H9V9H0Z", None);
        crosses("M0 0H9V9H0Z M3 3H6V6H3Z", None);
        crosses("M0 0H40A10 10 0 0 1 40 20H0A10 10 0 0 0 0 0Z", None);
        crosses("M-5 0A5 5 0 0 1 5 0A5 5 0 0 1 -5 0Z", None);
        crosses("M-5 0A5 5 0 0 1 5 0Z", None);
        crosses("M0 0C0 9 9 9 9 0Z", None);
        crosses("M0 0C0 9 9 9 9 0C9 -9 0 -9 0 0Z", None);
        // Rounded corners run smoothly into their sides.
        crosses(
            "M10 0H90A10 10 0 0 1 100 10V40A10 10 0 0 1 90 50H10A10 10 0 0 1 0 40V10A10 10 0 0 1 10 0Z",
            None,
        );
        // The closing line of rounding only.
        crosses("m0.1 0.2l0.3 0l0.1 0.7l-0.1 0.1l-0.3 -0.8z", None);
    }

    #[test]
    fn a_crossing_a_touch_and_an_overlap_are_found() {
        crosses("M0 0L4 4V0L0 4Z", Some((2.0, 2.0)));
        // A spike that runs back on itself.
        crosses("M0 0H9V9H4V12V9H0Z", Some((4.0, 9.0)));
        // A hole across the border, and one that touches it from within with a corner.
        crosses("M0 0H9V9H0Z M8 3H12V3.5H8Z", Some((9.0, 3.0)));
        crosses("M0 0H9V9H0Z M5 5L9 6L5 7Z", Some((9.0, 6.0)));
        // Round and straight.
        crosses("M0 0H20V5A5 5 0 0 1 10 5V-5L9 0.5L0 1Z", Some((10.0, 0.0)));
        // A curve with a loop in it: B(t) = B(1 - t) on the axis of its mirror.
        let curve = Region::path("M0 0C30 20 -20 20 10 0Z").unwrap();
        let at = curve.self_crossing().unwrap();
        assert!((at.x - 5.0).abs() < 1e-9, "{at}");
        // Two holes, one on the other.
        assert!(Region::path("M0 0H9V9H0Z M2 2H5V5H2Z M2 2H5V5H2Z").unwrap().self_crossing().is_some());
    }

    #[test]
    fn a_long_comb_is_looked_through_in_good_time() {
        let mut comb = String::from("M0 0");
        for n in 0..20_000 {
            comb += &format!("V{}h1V1h1", 100 + n % 7);
        }
        comb += "V-5H0Z";
        let begun = std::time::Instant::now();
        assert_eq!(Region::path(&comb).unwrap().self_crossing(), None);
        assert!(begun.elapsed().as_secs() < 10, "{:?}", begun.elapsed());
    }
}
