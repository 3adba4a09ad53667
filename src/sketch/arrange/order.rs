//! Which member is drawn over which, and how deep each lies.

use super::{Chosen, nothing, replace_members};
use crate::joint::edit::Change;
use crate::joint::{Edit, Interval, Joint, Member};
use crate::sketch::question::WishError;
use crate::unit::Vec3;

/// Where to in the order of drawing; where two overlap, the later one takes the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// Over all others.
    Front,
    /// One step up.
    Forward,
    /// One step down.
    Back,
    /// Under all others.
    Behind,
}

/// Brings members and steel forward or back, each among its own kind; those selected keep their order among themselves.
///
/// # Errors
/// No member or connector selected, or they lie there already.
pub fn ordered(joint: &Joint, ids: &[String], order: Order) -> Result<Edit, WishError> {
    let chosen = Chosen::of(joint, ids);
    if chosen.members.is_empty() && chosen.connectors.is_empty() {
        return Err(nothing());
    }
    let members = replaced(&joint.members, &chosen.members, order).into_iter().map(Edit::Members);
    let connectors = replaced(&joint.connectors, &chosen.connectors, order).into_iter().map(Edit::Connectors);
    let edits: Vec<Edit> = members.chain(connectors).collect();
    if edits.is_empty() {
        return Err(WishError::DoesNotFit("it lies there already".to_owned()));
    }
    Ok(Edit::All(edits))
}

/// The changes that bring some of a list forward or back.
fn replaced<T: Clone>(list: &[T], chosen: &[usize], order: Order) -> Vec<Change<T>> {
    let count = list.len();
    let mut places: Vec<usize> = (0..count).collect();
    let is_chosen = |it: &usize| chosen.contains(it);
    match order {
        Order::Front => places.sort_by_key(is_chosen),
        Order::Behind => places.sort_by_key(|it| !is_chosen(it)),
        // From the end that they go to, so that a row of chosen ones moves as one.
        Order::Forward => {
            for at in (0..count.saturating_sub(1)).rev() {
                if is_chosen(&places[at]) && !is_chosen(&places[at + 1]) {
                    places.swap(at, at + 1);
                }
            }
        }
        Order::Back => {
            for at in 1..count {
                if is_chosen(&places[at]) && !is_chosen(&places[at - 1]) {
                    places.swap(at - 1, at);
                }
            }
        }
    }
    let moved = places.iter().enumerate().filter(|(to, from)| to != *from);
    moved.map(|(at, from)| Change::Replace { at, new: Box::new(list[*from].clone()) }).collect()
}

/// Gives members this stretch of depth.
///
/// # Errors
/// No member selected, or a stretch of nothing.
pub fn deep(joint: &Joint, ids: &[String], depth: Interval) -> Result<Edit, WishError> {
    let chosen = Chosen::of(joint, ids).members;
    if chosen.is_empty() {
        return Err(nothing());
    }
    let thick = depth.to - depth.from;
    if !(1e-3..=1e6).contains(&thick) {
        return Err(WishError::DoesNotFit("the near end of a depth lies nearer than its far end".to_owned()));
    }
    Ok(Edit::All(replace_members(joint, &chosen, |it| Member { depth, ..it.clone() })))
}

/// Stacks members in depth as rows, in the order of drawing, the first at `from_mm`, with gaps between.
/// Each keeps its own thickness in depth. Fasteners stay where they are.
///
/// # Errors
/// Fewer than two members selected.
pub fn stacked(joint: &Joint, ids: &[String], from_mm: f64, gap_mm: f64) -> Result<Edit, WishError> {
    let chosen = Chosen::of(joint, ids).members;
    if chosen.len() < 2 {
        return Err(WishError::DoesNotFit("select two members or more to stack".to_owned()));
    }
    let mut edits = Vec::new();
    let mut from = from_mm;
    for at in chosen {
        let by = Vec3::new(0.0, 0.0, from - joint.members[at].depth.from);
        let new = super::Motion::shift(by).member(&joint.members[at]);
        from = new.depth.to + gap_mm;
        edits.push(Edit::Members(Change::Replace { at, new: Box::new(new) }));
    }
    Ok(Edit::All(edits))
}
