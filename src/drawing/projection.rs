//! The orthographic views beside the front: from the right side and from the top, each seen or cut at a plane.
//!
//! A joint is turned so that what looked along an axis looks at the viewer; then everything that draws the
//! front draws this view too. Only bodies are drawn by their own rules: what the plane cuts is hatched, what
//! lies behind it is seen, and what something nearer hides is dashed.

mod bands;
mod bodies;
mod pieces;
mod shanks;
mod turned;

use kurbo::Rect;

use super::pen::{Holder, Manner, Scene};
use super::place::Taken;
use super::put::Drawn;
use super::text::Lettering;
use super::{Inputs, View, annotate, dimension, extent, placed, steel};
use crate::joint::{Joint, Look};
use crate::trace::Trace;
use pieces::Piece;

pub(super) use pieces::inside;

/// A way to look at a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Projection {
    /// From where.
    pub look: Look,
    /// The plane that cuts, as a place on the axis that is looked along: z for the front, x for the side,
    /// y for the top. What lies nearer is taken away. `None` shows the joint whole.
    pub cut_mm: Option<f64>,
    /// The part of the depth, as places on z, that a view from the side or the top shows: longer members are
    /// broken off there.
    pub reach_mm: Option<(f64, f64)>,
}

impl Projection {
    /// The joint from the front, as it is drawn on the screen.
    pub const FRONT: Self = Self { look: Look::Front, cut_mm: None, reach_mm: None };

    /// The joint seen whole from this side.
    #[must_use]
    pub fn of(look: Look) -> Self {
        Self { look, ..Self::FRONT }
    }

    /// The same, cut at a plane.
    #[must_use]
    pub fn cut_at(self, cut_mm: f64) -> Self {
        Self { cut_mm: Some(cut_mm), ..self }
    }

    /// Whether this is nothing but the front as drawn.
    #[must_use]
    pub fn is_front(&self) -> bool {
        self.look == Look::Front && self.cut_mm.is_none()
    }
}

/// A joint turned for one view, ready to be drawn at any scale.
pub(super) struct Turned<'a> {
    projection: Projection,
    original: Inputs<'a>,
    joint: Joint,
    trace: Trace,
    pieces: Vec<Piece>,
    /// Fasteners that lie in the cut or before everything: nothing hides them.
    in_sight: Vec<bool>,
    /// For each member whether it is broken off at the near and at the far end of the reach.
    broken: Vec<(bool, bool)>,
}

impl<'a> Turned<'a> {
    pub(super) fn inputs(&self) -> Inputs<'_> {
        Inputs { joint: &self.joint, trace: &self.trace, findings: self.original.findings }
    }

    pub(super) fn extent(&self) -> Option<Rect> {
        extent::of(&self.inputs())
    }

    /// Draws the view: with sizes to the right, and sizes upward, where these are wanted.
    pub(super) fn draw(
        &self,
        view: &View,
        seen: Option<Rect>,
        axes: (bool, bool),
        manner: Manner<'_>,
    ) -> Drawn {
        let inputs = self.inputs();
        let worst = inputs.findings.worst_by_id();
        let look = self.projection.look;
        let holder = Some(Holder { axes, broken: &self.broken, look, joint: self.original.joint });
        let lettering = Lettering::bundled();
        let scene = Scene { inputs: &inputs, view, seen, lettering, worst, holder, window: None, manner };
        let mut taken = Taken::default();
        let edges = annotate::edges(&scene);
        let mut drawn = Drawn { items: bodies::draw(&scene, &self.pieces), ..Drawn::default() };
        drawn.items.extend(steel::draw_holes(&scene));
        drawn.items.extend(shanks::draw(&scene, self, &mut taken));
        let by_user = placed::measured(&self.original, look);
        drawn.extend(placed::draw(&scene, &by_user, &mut taken));
        drawn.extend(dimension::draw(&scene, &by_user, &edges, &mut taken));
        drawn.extend(annotate::draw(&scene, &edges, &mut taken));
        drawn
    }

    pub(super) fn of(inputs: &Inputs<'a>, projection: &Projection) -> Self {
        turned::turn(inputs, projection)
    }
}
