//! The part of a joint round its fasteners, to be drawn larger beside a view whose scale is small. What lies
//! beyond is broken off.

use kurbo::{Point, Rect};

use super::pen::{Manner, Scene, Window};
use super::put::Drawn;
use super::text::Lettering;
use super::{Inputs, View, draw_front, extent};
use crate::joint::Joint;
use crate::shape::Region;
use crate::trace::{Body, Owner, TOUCH_MM, Trace};

/// Beside the fasteners at least so much is shown.
const LEAST_BESIDE_MM: f64 = 40.0;
/// Beside the fasteners this part of how far they reach is shown.
const BESIDE: f64 = 0.3;
/// Beyond an end that is shown it goes on by this part of what is shown beside the fasteners, so that what goes on
/// there can be told from what ends.
const BEYOND_AN_END: f64 = 0.4;
/// A detail that shows more of the joint than this shows nothing larger.
const MOST: f64 = 0.5;

/// A joint cut off round its fasteners.
pub(super) struct Detail<'a> {
    original: Inputs<'a>,
    joint: Joint,
    trace: Trace,
    /// What is shown, in the model.
    window: Rect,
    /// For each member whether it goes on to the left or right, and above or below.
    broken: Vec<(bool, bool)>,
    /// For each member whether an end is shown from which places to the right, and upward, can be measured.
    has_end: Vec<(bool, bool)>,
}

impl<'a> Detail<'a> {
    /// `None` where there is nothing to show larger.
    pub(super) fn of(inputs: &Inputs<'a>) -> Option<Self> {
        let all = extent::of(inputs)?;
        let window = window(inputs, all)?;
        let (mut joint, mut trace) = (inputs.joint.clone(), inputs.trace.clone());
        joint.dimensions.clear();
        let shown = Region::rectangle(window.origin(), (window.width(), window.height()), 0.0);
        let mut broken = vec![(false, false); joint.members.len()];
        let mut has_end = vec![(true, true); joint.members.len()];
        for body in &mut trace.bodies {
            let at = body.region.bounds();
            let beyond = (
                [at.x0 < window.x0 - TOUCH_MM, window.x1 + TOUCH_MM < at.x1],
                [at.y0 < window.y0 - TOUCH_MM, window.y1 + TOUCH_MM < at.y1],
            );
            let goes_on = (beyond.0.contains(&true), beyond.1.contains(&true));
            if let Owner::Member(n) = body.owner
                && let Some(it) = has_end.get_mut(n)
            {
                *it = (beyond.0.contains(&false), beyond.1.contains(&false));
            }
            if goes_on == (false, false) {
                continue;
            }
            let beyond = body.region.minus(std::slice::from_ref(&shown));
            body.region = body.region.minus(&[beyond]);
            if let Owner::Member(n) = body.owner
                && let Some(it) = broken.get_mut(n)
            {
                *it = goes_on;
            }
        }
        Some(Self { original: *inputs, joint, trace, window, broken, has_end })
    }

    /// What is shown, in the model, and for each member whether an end is shown from which places to the right, and
    /// upward, can be measured.
    pub(super) fn window(&self) -> (Rect, Vec<(bool, bool)>) {
        (self.window, self.has_end.clone())
    }

    pub(super) fn extent(&self) -> Option<Rect> {
        extent::of(&self.inputs())
    }

    fn inputs(&self) -> Inputs<'_> {
        Inputs { joint: &self.joint, trace: &self.trace, findings: self.original.findings }
    }

    /// Draws it as the front is drawn.
    pub(super) fn draw(&self, view: &View, manner: Manner<'_>) -> Drawn {
        let inputs = self.inputs();
        let worst = inputs.findings.worst_by_id();
        let window = Some(Window { at: on_paper(self.window, view), broken: &self.broken });
        let lettering = Lettering::bundled();
        draw_front(&Scene {
            inputs: &inputs,
            view,
            seen: None,
            lettering,
            worst,
            holder: None,
            window,
            manner,
        })
    }
}

/// A box of the model on paper.
pub(super) fn on_paper(it: Rect, view: &View) -> Rect {
    let place = |x: f64, y: f64| Point::new(view.origin.x + x * view.scale, view.origin.y - y * view.scale);
    Rect::from_points(place(it.x0, it.y0), place(it.x1, it.y1))
}

/// Round all fasteners and all steel, and to the ends of what ends near them.
fn window(inputs: &Inputs<'_>, all: Rect) -> Option<Rect> {
    let shanks = inputs.trace.fasteners.iter().filter(|it| 0.0 < it.length_mm).map(|it| {
        let end = it.head_at + it.toward * it.length_mm;
        Rect::from_points(it.head_at.plan(), end.plan())
    });
    let is_steel = |it: &&Body| matches!(it.owner, Owner::Plate { .. });
    let steel = inputs.trace.bodies.iter().filter(is_steel).map(|it| it.region.bounds());
    let is_finite = |it: &Rect| it.is_finite();
    let core = shanks.chain(steel).filter(is_finite).reduce(|a, b| a.union(b))?;
    let beside = (core.width().max(core.height()) * BESIDE).max(LEAST_BESIDE_MM);
    let near = core.inflate(beside, beside);
    let mut window = near;
    let beyond = beside * BEYOND_AN_END;
    for at in inputs.trace.bodies.iter().map(|it| it.region.bounds()).filter(|it| near.overlaps(*it)) {
        let ends_near = |end: f64, limit: f64| (end - limit).abs() <= beside;
        if ends_near(at.x0, near.x0) {
            window.x0 = window.x0.min(at.x0 - beyond);
        }
        if ends_near(at.x1, near.x1) {
            window.x1 = window.x1.max(at.x1 + beyond);
        }
        if ends_near(at.y0, near.y0) {
            window.y0 = window.y0.min(at.y0 - beyond);
        }
        if ends_near(at.y1, near.y1) {
            window.y1 = window.y1.max(at.y1 + beyond);
        }
    }
    let shown = window.intersect(all);
    (shown.area() <= MOST * all.area() && 0.0 < shown.area()).then_some(window)
}
