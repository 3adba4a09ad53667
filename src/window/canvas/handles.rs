//! The handles of what is chosen: a member's sides, corners and ends in depth.

use std::sync::Arc;

use kurbo::Point;

use super::carry::{Carry, Load};
use super::gesture::Gesture;
use super::typed::Typed;
use super::{Pane, REACH_PX, plane};
use crate::drawing::Subject;
use crate::joint::{Joint, Look as From};
use crate::sketch::member::resize::{Handle, handles};
use crate::window::look::{Action, Look};

/// A handle that can be taken hold of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Held {
    /// The member's place in the joint's list.
    pub(super) member: usize,
    /// Which handle of it.
    pub(super) handle: Handle,
    /// Where it lies in the plane of the view.
    pub(super) at: Point,
}

impl Pane {
    /// The handles of the chosen member in this view: from the front those of its outline, from the side and from above
    /// its ends in depth.
    pub(super) fn handles(&self, look: &Look<'_>) -> Vec<Held> {
        let Some(Subject::Member(id)) = look.chosen.filter(|_| look.also.is_empty()) else {
            return Vec::new();
        };
        let Some(member) = look.joint.members.iter().position(|it| it.id == *id) else { return Vec::new() };
        let is_shown = |it: &Handle| {
            let in_depth = matches!(it, Handle::Far | Handle::Near);
            in_depth == (self.view != From::Front)
        };
        let all = handles(&look.joint.members[member]).into_iter().filter(|it| is_shown(&it.0));
        all.map(|(handle, place)| Held { member, handle, at: plane::flat(self.view, place) }).collect()
    }

    /// The handle under a pixel: a corner before the middle of a side.
    pub(super) fn handle_under(&self, at: Point, look: &Look<'_>) -> Option<Held> {
        let away = |it: &Held| (self.camera.on_screen(it.at) - at).hypot();
        let near = self.handles(look).into_iter().filter(|it| away(it) <= REACH_PX);
        near.min_by(|a, b| away(a).total_cmp(&away(b)))
    }

    /// Takes hold of a handle.
    pub(super) fn take_handle(&mut self, it: Held, from: Point, look: &Look<'_>) -> Action {
        let typed = Typed::for_move(self.view);
        self.take(Load::Handle(it.member, it.handle), (it.at, from), typed, look)
    }

    /// Takes hold of something of the chosen member that is at a place, by a press beside it.
    pub(super) fn take(
        &mut self,
        load: Load,
        (at, from): (Point, Point),
        typed: Typed,
        look: &Look<'_>,
    ) -> Action {
        let Some(pressed) = look.chosen.cloned() else { return Action::None };
        self.gesture = Gesture::Carrying(Box::new(Carry {
            joint: Arc::new(look.joint.clone()),
            load,
            pressed,
            view: self.view,
            corner: at,
            anchor: at,
            from,
            to: from,
            moved: false,
            typed,
        }));
        Action::None
    }
}

/// A hole of a connector, to be held.
pub(super) fn hole_load(joint: &Joint, connector: &str, hole: &str) -> Option<Load> {
    let at = joint.connectors.iter().position(|it| it.id == connector)?;
    joint.connectors[at].plates.iter().enumerate().find_map(|(plate, it)| {
        it.holes.iter().position(|it| it.id == hole).map(|n| Load::Hole(at, plate, n))
    })
}
