//! What the pointer can meet: made once for each joint that is kept, asked at every move.

use kurbo::Point;

use super::gesture::Gesture;
use super::{CATCH_PX, Pane};
use crate::joint::Look as From;
use crate::joint::group::Group;
use crate::sketch::snap::{Options, Snap, Snapper};
use crate::window::look::Look;

/// The places of the joint that is kept.
#[derive(Debug, Default)]
pub(super) struct Snaps {
    made: Option<(u64, Snapper)>,
}

impl Snaps {
    /// Makes them anew if another joint is kept.
    pub(super) fn renew(&mut self, look: &Look<'_>) {
        if self.made.as_ref().is_none_or(|it| it.0 != look.kept_version) {
            self.made = Some((look.kept_version, Snapper::new(&look.kept.joint, &look.kept.trace)));
        }
    }

    fn snap(&self, at: Point, options: &Options) -> Option<Snap> {
        self.made.as_ref()?.1.snap(at, options)
    }

    /// The corner, middle or centre of a group that is nearest to a place, within reach.
    pub(super) fn own(&self, group: &Group, at: Point, within_mm: f64, look: &Look<'_>) -> Option<Point> {
        let held = ids_of(group, look);
        let joint = &look.kept.joint;
        let others = joint.members.iter().map(|it| &it.id).chain(joint.connectors.iter().map(|it| &it.id));
        let others = others.chain(joint.fasteners.iter().map(|it| &it.id));
        let without = others.filter(|it| !held.contains(it)).cloned().collect();
        self.snap(at, &Options { within_mm, step_mm: 0.0, without }).map(|it| it.at)
    }
}

fn ids_of(group: &Group, look: &Look<'_>) -> Vec<String> {
    let joint = &look.kept.joint;
    let members = group.members.iter().filter_map(|it| joint.members.get(*it)).map(|it| it.id.clone());
    let connectors =
        group.connectors.iter().filter_map(|it| joint.connectors.get(*it)).map(|it| it.id.clone());
    let fasteners = group.fasteners.iter().filter_map(|it| joint.fasteners.get(*it)).map(|it| it.id.clone());
    members.chain(connectors).chain(fasteners).collect()
}

impl Pane {
    /// What lies near the place that the hand asks for: the pointer, or the corner of what it carries.
    pub(super) fn met(&self, look: &Look<'_>) -> Option<(Point, Snap)> {
        if self.view != From::Front || self.held.ctrl {
            return None;
        }
        let (at, without) = match &self.gesture {
            Gesture::Moving { held, from, .. } => {
                (held.head.plan() + (self.pointer_mm()? - *from), vec![held.fastener.id.clone()])
            }
            Gesture::Carrying(carry) => {
                let all = carry.group.clone().with_fillings(&look.kept.joint);
                (carry.corner + (self.pointer_mm()? - carry.from), ids_of(&all, look))
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
