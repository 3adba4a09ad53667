//! Notches and holes cut out of a member.

use kurbo::Shape as _;

use super::sound;
use crate::joint::edit::Change;
use crate::joint::{Edit, Joint, Member, Outline};
use crate::sketch::question::WishError;
use crate::trace::outline_region;
use crate::unit::compare::SAME_MM;

/// Cuts an outline out of a member: a notch where it reaches over its edge, a hole where it lies inside.
///
/// # Errors
/// No such member, an outline of nothing, one beside the member, and one that leaves nothing of it.
pub fn cut(joint: &Joint, member: &str, outline: &Outline) -> Result<Edit, WishError> {
    let refuse = |says: &str| Err(WishError::DoesNotFit(says.to_owned()));
    let Some(at) = joint.members.iter().position(|it| it.id == member) else {
        return refuse("there is no such member to cut");
    };
    let cutter = sound(outline)?;
    let old = &joint.members[at];
    let before = left_of(old).area_mm2();
    let new = Member { cutouts: old.cutouts.iter().chain([outline]).cloned().collect(), ..old.clone() };
    let left = left_of(&new);
    // What is taken away must be more than the rounding of the two areas.
    if before - left.area_mm2() <= SAME_MM * cutter.to_path().bounding_box().area().max(1.0) {
        return refuse("the cut does not meet the member");
    }
    if left.area_mm2() <= 1.0 {
        return refuse("the cut leaves nothing of the member");
    }
    Ok(Edit::Members(Change::Replace { at, new: Box::new(new) }))
}

/// Takes a cut back.
///
/// # Errors
/// No such member or cut.
pub fn uncut(joint: &Joint, member: &str, cutout: usize) -> Result<Edit, WishError> {
    let found = joint.members.iter().position(|it| it.id == member && cutout < it.cutouts.len());
    let Some(at) = found else {
        return Err(WishError::DoesNotFit("there is no such cut".to_owned()));
    };
    let mut new = joint.members[at].clone();
    new.cutouts.remove(cutout);
    Ok(Edit::Members(Change::Replace { at, new: Box::new(new) }))
}

fn left_of(member: &Member) -> crate::shape::Region {
    let cutouts: Vec<_> = member.cutouts.iter().map(outline_region).collect();
    outline_region(&member.outline).minus(&cutouts)
}
