//! What the pointer can meet: made once for each joint that is kept, asked at every move.

use kurbo::Point;

use super::gesture::Gesture;
use super::{CATCH_PX, Pane};
use crate::joint::Look as From;
use crate::sketch::snap::{Options, Snap, Snapper};
use crate::window::look::Look;

/// The places of the joint that is kept.
#[derive(Debug, Default)]
pub(super) struct Snaps {
    made: Option<(u64, From, Snapper)>,
}

impl Snaps {
    /// Makes them anew if another joint is kept, or it is looked at from elsewhere.
    pub(super) fn renew(&mut self, view: From, look: &Look<'_>) {
        if self.made.as_ref().is_some_and(|it| (it.0, it.1) == (look.kept_version, view)) {
            return;
        }
        let (joint, trace) = (&look.kept.joint, &look.kept.trace);
        self.made = Some((look.kept_version, view, Snapper::seen(joint, trace, view)));
    }

    fn snap(&self, at: Point, options: &Options) -> Option<Snap> {
        self.made.as_ref()?.2.snap(at, options)
    }

    /// The corner, middle or centre of what is held that is nearest to a place, within reach.
    pub(super) fn own(&self, held: &[String], at: Point, within_mm: f64, look: &Look<'_>) -> Option<Point> {
        let joint = &look.kept.joint;
        let others = joint.members.iter().map(|it| &it.id).chain(joint.connectors.iter().map(|it| &it.id));
        let others = others.chain(joint.fasteners.iter().map(|it| &it.id));
        let without = others.filter(|it| !held.contains(it)).cloned().collect();
        self.snap(at, &Options { within_mm, without, ..Options::default() }).map(|it| it.at)
    }
}

impl Pane {
    /// What lies near the place that the hand asks for: the pointer, or the corner of what it carries.
    pub(super) fn met(&self, look: &Look<'_>) -> Option<(Point, Snap)> {
        if self.held.ctrl {
            return None;
        }
        let (at, without, from) = match &self.gesture {
            Gesture::Moving { held, from, .. } => {
                let head = held.head.plan();
                (head + (self.pointer_mm()? - *from), vec![held.fastener.id.clone()], Some(head))
            }
            Gesture::Carrying(carry) => {
                let place = carry.corner + (self.pointer_mm()? - carry.from);
                (place, carry.own_ids(&look.kept.joint), Some(carry.corner))
            }
            Gesture::Drawing(draft) => (self.pointer_mm()?, Vec::new(), draft.corners.last().map(|it| it.at)),
            Gesture::Idle if look.making.is_some() || look.driving.is_some() => {
                (self.pointer_mm()?, Vec::new(), None)
            }
            Gesture::Idle
            | Gesture::Pressed { .. }
            | Gesture::Turning { .. }
            | Gesture::Driving { .. }
            | Gesture::Cutting { .. }
            | Gesture::Boxing { .. } => return None,
        };
        let within_mm = CATCH_PX / self.camera.px_per_model_mm();
        let options = Options { within_mm, without, from, ..Options::default() };
        let snap = self.snaps.snap(at, &options)?;
        Some((at, snap))
    }
}
