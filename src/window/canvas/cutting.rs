//! The planes that cut the other views, as lines in this one, and where a hand drags them.

use kurbo::{Line, Point, Vec2};

use super::gesture::{Ground, clean, stepped};
use super::overlay::wide_px;
use super::plane::{self, Cuts};
use super::{Pane, words};
use crate::joint::Look as From;
use crate::trace::Trace;
use crate::unit::Vec3;
use crate::window::look::Look;

/// How far the handle stands from the edge of the pane, pixels.
const ASIDE_PX: f64 = 34.0;
/// How far the words stand beside the handle, pixels.
const BESIDE_PX: f64 = 16.0;
/// So many fasteners that it goes through are named.
const MOST_NAMED: usize = 4;

/// The plane that cuts another view, as it lies in this one; places in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct CutLine {
    /// The view that it cuts.
    pub(super) of: From,
    /// Where on its axis.
    at_mm: f64,
    /// Across the pane.
    pub(super) line: Line,
    /// Where it is taken hold of.
    pub(super) handle: Point,
}

impl CutLine {
    /// What it is, and which fasteners it goes through, as far as a pane of this width has room for it; and where that
    /// stands, in pixels: beside the handle, never on it.
    pub(super) fn label(&self, width_px: f64, look: &Look<'_>) -> (String, Point) {
        let mut through = all_through(self.of, self.at_mm, &look.kept.trace, 0.01);
        let more = through.len().saturating_sub(MOST_NAMED);
        through.truncate(MOST_NAMED);
        let marks = through.iter().map(|n| (n + 1).to_string()).collect::<Vec<_>>().join(", ");
        let through = match (through.len(), more) {
            (0, _) => String::new(),
            (1, _) => format!(", through fastener {marks}"),
            (_, 0) => format!(", through fasteners {marks}"),
            (_, more) => format!(", through fasteners {marks} and {more} more"),
        };
        let short = format!("cuts {} at {}", plane::name(self.of), words::size(self.at_mm, look.unit()));
        let wide = |words: &str| wide_px(words) + 2.0 * BESIDE_PX;
        let whole = short.clone() + &through;
        let said = if wide(&whole) + ASIDE_PX <= width_px { whole } else { short };
        let right = self.handle.x + BESIDE_PX;
        let at = if right + wide(&said) <= width_px {
            Point::new(right, self.handle.y + 5.0)
        } else if 0.0 < self.handle.x - wide(&said) {
            Point::new(self.handle.x - wide(&said) + BESIDE_PX, self.handle.y + 5.0)
        } else {
            Point::new(self.handle.x, self.handle.y + 2.0 * BESIDE_PX)
        };
        (said, at)
    }
}

/// The axis that a view looks along, as another view has it.
fn axis(of: From, view: From) -> Vec2 {
    let along = match of {
        From::Front => Vec3::Z,
        From::Side => Vec3::X,
        From::Top => Vec3::new(0.0, 1.0, 0.0),
    };
    plane::flat(view, along).to_vec2()
}

impl Pane {
    /// The planes of the other views.
    pub(super) fn cut_lines(&self, look: &Look<'_>) -> Vec<CutLine> {
        let line = |of: From| {
            let at_mm = look.cuts.of(of).filter(|_| of != self.view)?;
            let way = axis(of, self.view);
            let px = self.camera.on_screen((way * at_mm).to_point());
            let (width, height) = self.camera.viewport_px;
            let (line, handle) = if way.y.abs() < way.x.abs() {
                (Line::new((px.x, 0.0), (px.x, height)), Point::new(px.x, ASIDE_PX))
            } else {
                (Line::new((0.0, px.y), (width, px.y)), Point::new(ASIDE_PX, px.y))
            };
            Some(CutLine { of, at_mm, line, handle })
        };
        plane::ALL.into_iter().filter_map(line).collect()
    }

    /// The plane whose handle is under the pointer.
    pub(super) fn cut_under(&self, px: Point, look: &Look<'_>) -> Option<From> {
        self.cut_lines(look).into_iter().find(|it| (it.handle - px).hypot() <= 14.0).map(|it| it.of)
    }

    /// Where the plane of another view is dragged to: through a fastener that is near, else whole steps.
    pub(super) fn cut_at(&self, of: From, at: Point, ground: &Ground, look: &Look<'_>) -> f64 {
        let wanted = at.to_vec2().dot(axis(of, self.view));
        let trace = &look.kept.trace;
        match through(of, wanted, trace, ground.catch_mm) {
            Some(n) => clean(plane::along(of, trace.fasteners[n].head_at)),
            None => stepped(wanted, ground.step_mm),
        }
    }
}

/// How far the head of a fastener is from a plane.
fn away(of: From, at_mm: f64, trace: &Trace, n: usize) -> f64 {
    (plane::along(of, trace.fasteners[n].head_at) - at_mm).abs()
}

/// The fasteners whose heads a plane goes through, within reach.
fn all_through(of: From, at_mm: f64, trace: &Trace, reach_mm: f64) -> Vec<usize> {
    (0..trace.fasteners.len()).filter(|n| away(of, at_mm, trace, *n) <= reach_mm).collect()
}

/// The nearest of them.
fn through(of: From, at_mm: f64, trace: &Trace, reach_mm: f64) -> Option<usize> {
    let near = all_through(of, at_mm, trace, reach_mm).into_iter();
    near.min_by(|a, b| away(of, at_mm, trace, *a).total_cmp(&away(of, at_mm, trace, *b)))
}

/// Where a plane lies first: through the chosen fastener, else through the middle of the joint.
#[must_use]
pub(super) fn first_cut(of: From, look: &Look<'_>) -> f64 {
    let trace = &look.kept.trace;
    let chosen = look.chosen_fastener().and_then(|n| trace.fasteners.get(n));
    if let Some(shank) = chosen {
        return clean(plane::along(of, shank.head_at));
    }
    let mid = |it: &crate::trace::Body| {
        let area = it.region.bounds();
        let place = |share: f64| {
            Vec3::new(
                area.x0 + area.width() * share,
                area.y0 + area.height() * share,
                it.far_mm + (it.near_mm - it.far_mm) * share,
            )
        };
        (plane::along(of, place(0.0)), plane::along(of, place(1.0)))
    };
    let all = trace.bodies.iter().map(mid).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
    all.map_or(0.0, |it| clean(((it.0 + it.1) / 2.0 * 1e3).round() / 1e3))
}

/// The cuts with the plane of one view taken away, or put where it lies first.
#[must_use]
pub(super) fn toggled(cuts: Cuts, of: From, look: &Look<'_>) -> Cuts {
    cuts.with(of, if cuts.of(of).is_some() { None } else { Some(first_cut(of, look)) })
}
