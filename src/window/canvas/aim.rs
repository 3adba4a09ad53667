//! Driving by numbers alone: where the head of a new fastener goes, then the way it points.

use super::draft::{Draft, Figure, Step};
use super::gesture::{Event, Gesture, Ground};
use super::typed::Typed;
use super::{Pane, grip};
use crate::stock::FastenerSpec;
use crate::window::look::{Action, Look};
use std::sync::Arc;

/// A head whose place was typed lies on a face, or in a hole, that is this near: lengths are read to the micrometre.
const TYPED_MM: f64 = 1e-3;

impl Pane {
    /// The next numbers say where the head goes.
    pub fn begin_to_aim(&mut self) {
        let mut draft = Draft::new(Figure::One, self.view);
        if let Some(at) = self.pointer_mm() {
            (draft.to, draft.seen) = (at, true);
        }
        self.gesture = Gesture::Drawing(Box::new(draft));
    }

    /// One step of that. With its head set the fastener points squarely into the face there until a direction is
    /// typed or shown.
    pub(super) fn aim(&mut self, event: &Event, spec: &Arc<FastenerSpec>, look: &Look<'_>) -> Action {
        let ground = self.ground(look);
        let Gesture::Drawing(draft) = &mut self.gesture else { return Action::None };
        let step = draft.step(event, &ground);
        let head = draft.corners.first().map(|it| it.at);
        let is_empty = matches!(event, Event::Erased) && draft.typed.is_empty();
        match (step, head) {
            (Step::Done, Some(at)) => {
                let exact = Ground { step_mm: 0.0, catch_mm: TYPED_MM, met: None, ..ground };
                let held = grip::new_fastener(spec, (at, self.view), &exact, look);
                let to = held.head.plan() + held.toward.plan().to_vec2();
                self.gesture = Gesture::Driving { to, typed: Typed::for_turn(), held };
                return self.step(&Event::Moved(to), look);
            }
            (Step::GivenUp, _) => self.gesture = Gesture::Idle,
            (Step::Going, _) if is_empty => self.gesture = Gesture::Idle,
            (Step::Going | Step::Done, _) => {}
        }
        self.lay_over(look);
        Action::None
    }
}
