//! What the pointer can meet: made once for each joint that is kept, asked at every move.

use kurbo::Point;

use super::gesture::Gesture;
use super::{CATCH_PX, Pane, plane};
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
        let snapper = match view {
            From::Front => Snapper::new(joint, trace),
            From::Side | From::Top => Snapper::seen(joint, trace, |it| plane::flat(view, it)),
        };
        self.made = Some((look.kept_version, view, snapper));
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
        self.snap(at, &Options { within_mm, step_mm: 0.0, without }).map(|it| it.at)
    }
}

impl Pane {
    /// What lies near the place that the hand asks for: the pointer, or the corner of what it carries.
    pub(super) fn met(&self, look: &Look<'_>) -> Option<(Point, Snap)> {
        if self.held.ctrl {
            return None;
        }
        let (at, without) = match &self.gesture {
            Gesture::Moving { held, from, .. } => {
                (held.head.plan() + (self.pointer_mm()? - *from), vec![held.fastener.id.clone()])
            }
            Gesture::Carrying(carry) => {
                let place = carry.corner + (self.pointer_mm()? - carry.from);
                (place, carry.own_ids(&look.kept.joint))
            }
            Gesture::Drawing(_) => (self.pointer_mm()?, Vec::new()),
            Gesture::Idle if look.making.is_some() || look.driving.is_some() => {
                (self.pointer_mm()?, Vec::new())
            }
            Gesture::Idle
            | Gesture::Pressed { .. }
            | Gesture::Turning { .. }
            | Gesture::Driving { .. }
            | Gesture::Cutting { .. }
            | Gesture::Boxing { .. } => return None,
        };
        let within_mm = CATCH_PX / self.camera.px_per_model_mm();
        let snap = self.snaps.snap(at, &Options { within_mm, step_mm: 0.0, without })?;
        Some((at, snap))
    }
}
