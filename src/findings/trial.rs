//! What would be found about a fastener if it were another, tried among those near it.

use crate::findings::remedy::Local;
use crate::findings::{Finding, judge_by};
use crate::joint::{Fastener, Joint};
use crate::standard::Standard;
use crate::trace::{Trace, trace};

/// The part of a joint around one fastener, made ready for many trials.
pub struct Trial {
    local: Local,
    rules: &'static dyn Standard,
    id: String,
}

impl std::fmt::Debug for Trial {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Trial").field("id", &self.id).finish_non_exhaustive()
    }
}

impl Trial {
    /// Around the fastener at this place of the joint; `None` where there is none.
    #[must_use]
    pub fn around(joint: &Joint, trace: &Trace, fastener: usize) -> Option<Self> {
        let id = joint.fasteners.get(fastener)?.id.clone();
        let local = Local::around(joint, trace, Some(fastener), None)?;
        Some(Self { local, rules: crate::standard::by_id(joint.standard), id })
    }

    /// What would be found about the fastener, with others in the places that `new` answers for. It is
    /// asked for every fastener near by, by its place in the whole joint.
    ///
    /// A finding about a pair counts whichever of the two it is told of.
    #[must_use]
    pub fn findings(&self, new: &impl Fn(usize) -> Option<Fastener>) -> Vec<Finding> {
        let mut joint = self.local.joint.clone();
        for (own, whole) in joint.fasteners.iter_mut().zip(&self.local.places) {
            if let Some(new) = new(*whole) {
                *own = new;
            }
        }
        let found = judge_by(&joint, &trace(&joint), self.rules, self.local.loads());
        found.list.into_iter().filter(|it| it.subjects.contains(&self.id)).collect()
    }
}
