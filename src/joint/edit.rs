//! The one way in which a joint is changed. Every edit gives back the edit that undoes it.

use super::{Connector, Fastener, Joint, Load, Member, Service, SheetSettings, StandardId};
use crate::unit::LengthUnit;

/// A change to a joint, as wanted.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Call the joint so.
    Title(String),
    /// Show lengths in this unit.
    ShowLengthsIn(LengthUnit),
    /// Check by this standard.
    Standard(StandardId),
    /// The place is so damp.
    Service(Service),
    /// Take these notes in place of the old ones.
    Notes(Vec<String>),
    /// Lay the sheet out so.
    Sheet(SheetSettings),
    /// Change the list of members.
    Members(Change<Member>),
    /// Change the list of connectors.
    Connectors(Change<Connector>),
    /// Change the list of fasteners.
    Fasteners(Change<Fastener>),
    /// Change the list of loads.
    Loads(Change<Load>),
    /// All of these, in order, as one step.
    All(Vec<Edit>),
}

/// A change to a list.
#[derive(Clone, Debug, PartialEq)]
pub enum Change<T> {
    /// Put a new one before the place `at`.
    Insert {
        /// Place in the list.
        at: usize,
        /// The new one.
        new: Box<T>,
    },
    /// Put `new` in place of the one at `at`.
    Replace {
        /// Place in the list.
        at: usize,
        /// The new one.
        new: Box<T>,
    },
    /// Take the one at `at` away.
    Remove {
        /// Place in the list.
        at: usize,
    },
}

/// Makes the change and gives back the edit that undoes it.
///
/// A place beyond the end of its list changes nothing and undoes to nothing.
pub fn apply(joint: &mut Joint, edit: &Edit) -> Edit {
    match edit {
        Edit::Title(it) => Edit::Title(std::mem::replace(&mut joint.title, it.clone())),
        Edit::ShowLengthsIn(it) => Edit::ShowLengthsIn(std::mem::replace(&mut joint.show_lengths_in, *it)),
        Edit::Standard(it) => Edit::Standard(std::mem::replace(&mut joint.standard, *it)),
        Edit::Service(it) => Edit::Service(std::mem::replace(&mut joint.service, *it)),
        Edit::Notes(it) => Edit::Notes(std::mem::replace(&mut joint.notes, it.clone())),
        Edit::Sheet(it) => Edit::Sheet(std::mem::replace(&mut joint.sheet, it.clone())),
        Edit::Members(it) => change(&mut joint.members, it).map_or(Edit::All(Vec::new()), Edit::Members),
        Edit::Connectors(it) => {
            change(&mut joint.connectors, it).map_or(Edit::All(Vec::new()), Edit::Connectors)
        }
        Edit::Fasteners(it) => {
            change(&mut joint.fasteners, it).map_or(Edit::All(Vec::new()), Edit::Fasteners)
        }
        Edit::Loads(it) => change(&mut joint.loads, it).map_or(Edit::All(Vec::new()), Edit::Loads),
        Edit::All(edits) => {
            let mut undo: Vec<Edit> = edits.iter().map(|it| apply(joint, it)).collect();
            undo.reverse();
            Edit::All(undo)
        }
    }
}

fn change<T: Clone>(list: &mut Vec<T>, change: &Change<T>) -> Option<Change<T>> {
    match change {
        Change::Insert { at, new } => (*at <= list.len()).then(|| {
            list.insert(*at, (**new).clone());
            Change::Remove { at: *at }
        }),
        Change::Replace { at, new } => list
            .get_mut(*at)
            .map(|it| Change::Replace { at: *at, new: Box::new(std::mem::replace(it, (**new).clone())) }),
        Change::Remove { at } => {
            (*at < list.len()).then(|| Change::Insert { at: *at, new: Box::new(list.remove(*at)) })
        }
    }
}
