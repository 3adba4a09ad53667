//! The planes that cut the other views, as lines in this one, and where a hand drags them.

use kurbo::{Line, Point, Vec2};

use super::gesture::{Ground, clean, stepped};
use super::plane::{self, Cuts};
use super::{Pane, words};
use crate::joint::Look as From;
use crate::trace::Trace;
use crate::unit::Vec3;
use crate::window::look::Look;

/// How far the handle stands from the edge of the pane, pixels.
const ASIDE_PX: f64 = 34.0;

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
    /// What it is, and whether it goes through a fastener.
    pub(super) fn words(&self, look: &Look<'_>) -> String {
        let through = through(self.of, self.at_mm, &look.kept.trace, 0.01);
        let through = through.map_or(String::new(), |n| format!(", through fastener {}", n + 1));
        format!("cuts {} at {}{through}", plane::name(self.of), words::size(self.at_mm, look.unit()))
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

/// The fastener whose head a plane goes through, within reach.
fn through(of: From, at_mm: f64, trace: &Trace, reach_mm: f64) -> Option<usize> {
    let away = |n: &usize| (plane::along(of, trace.fasteners[*n].head_at) - at_mm).abs();
    let near = (0..trace.fasteners.len()).filter(|n| away(n) <= reach_mm);
    near.min_by(|a, b| away(a).total_cmp(&away(b)))
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
