//! The one way in which a joint is changed. Every edit gives back the edit that undoes it.

use super::{
    Conditions, Connector, Dimension, Fastener, Joint, Load, Member, Service, SheetSettings, StandardId,
};
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
    /// What is around the connection is this.
    Conditions(Conditions),
    /// Take these notes in place of the old ones.
    Notes(Vec<String>),
    /// Lay the sheet out so.
    Sheet(Box<SheetSettings>),
    /// Change the list of members.
    Members(Change<Member>),
    /// Change the list of connectors.
    Connectors(Change<Connector>),
    /// Change the list of fasteners.
    Fasteners(Change<Fastener>),
    /// Change the list of loads.
    Loads(Change<Load>),
    /// Change the list of dimensions.
    Dimensions(Change<Dimension>),
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
        Edit::Conditions(it) => Edit::Conditions(std::mem::replace(&mut joint.conditions, *it)),
        Edit::Notes(it) => Edit::Notes(std::mem::replace(&mut joint.notes, it.clone())),
        Edit::Sheet(it) => Edit::Sheet(Box::new(std::mem::replace(&mut joint.sheet, (**it).clone()))),
        Edit::Members(it) => change(&mut joint.members, it).map_or(Edit::All(Vec::new()), Edit::Members),
        Edit::Connectors(it) => {
            change(&mut joint.connectors, it).map_or(Edit::All(Vec::new()), Edit::Connectors)
        }
        Edit::Fasteners(it) => {
            change(&mut joint.fasteners, it).map_or(Edit::All(Vec::new()), Edit::Fasteners)
        }
        Edit::Loads(it) => change(&mut joint.loads, it).map_or(Edit::All(Vec::new()), Edit::Loads),
        Edit::Dimensions(it) => {
            change(&mut joint.dimensions, it).map_or(Edit::All(Vec::new()), Edit::Dimensions)
        }
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

#[cfg(test)]
mod tests {
    use proptest::collection::vec;
    use proptest::prelude::*;

    use super::*;
    use crate::joint::file::{arbitrary, tests::stock};

    /// One of the changes that `place` (any number) can mean for a list, with things of another list.
    fn list_change<T: Clone>(from: &[T], (which, at, pick): (u8, usize, usize)) -> Change<T> {
        match (which % 3, from.get(pick % from.len().max(1))) {
            (0, Some(new)) => Change::Insert { at, new: Box::new(new.clone()) },
            (1, Some(new)) => Change::Replace { at, new: Box::new(new.clone()) },
            _ => Change::Remove { at },
        }
    }

    /// An edit that takes what is new from another joint.
    fn edit(other: &Joint, which: u8, how: (u8, usize, usize)) -> Edit {
        match which % 13 {
            0 => Edit::Title(other.title.clone()),
            1 => Edit::ShowLengthsIn(other.show_lengths_in),
            2 => Edit::Standard(other.standard),
            3 => Edit::Service(other.service),
            4 => Edit::Notes(other.notes.clone()),
            5 => Edit::Sheet(Box::new(other.sheet.clone())),
            6 => Edit::Members(list_change(&other.members, how)),
            7 => Edit::Connectors(list_change(&other.connectors, how)),
            8 => Edit::Fasteners(list_change(&other.fasteners, how)),
            9 => Edit::Loads(list_change(&other.loads, how)),
            10 => Edit::Conditions(other.conditions),
            11 => Edit::Dimensions(list_change(&other.dimensions, how)),
            _ => {
                let parts = [how.0 % 12, (how.0 / 3) % 12, (how.0 / 7) % 12];
                Edit::All(parts.iter().map(|it| edit(other, *it, how)).collect())
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn every_edit_can_be_undone_and_done_again(
            before in arbitrary::joint(&stock()),
            other in arbitrary::joint(&stock()),
            draws in vec((any::<u8>(), (any::<u8>(), 0_usize..5, any::<usize>())), 1..12),
        ) {
            let mut joint = before.clone();
            let mut undone = Vec::new();
            let mut states = vec![before];
            for (which, how) in draws {
                undone.push(apply(&mut joint, &edit(&other, which, how)));
                states.push(joint.clone());
            }
            // Back to the start step by step, and forward again by what undoing gave back.
            let mut redone = Vec::new();
            for (undo, state) in undone.iter().rev().zip(states.iter().rev().skip(1)) {
                redone.push(apply(&mut joint, undo));
                prop_assert_eq!(&joint, state);
            }
            for (redo, state) in redone.iter().rev().zip(states.iter().skip(1)) {
                let _ = apply(&mut joint, redo);
                prop_assert_eq!(&joint, state);
            }
        }

        #[test]
        fn no_edit_is_lost(
            mut joint in arbitrary::joint(&stock()),
            other in arbitrary::joint(&stock()),
            at in 0_usize..5,
        ) {
            let count = joint.members.len();
            if let Some(new) = other.members.first() {
                let change = Change::Insert { at, new: Box::new(new.clone()) };
                let undo = apply(&mut joint, &Edit::Members(change));
                if at <= count {
                    prop_assert_eq!(joint.members.len(), count + 1);
                    prop_assert_eq!(&joint.members[at], new);
                    prop_assert_eq!(undo, Edit::Members(Change::Remove { at }));
                } else {
                    prop_assert_eq!(joint.members.len(), count);
                    prop_assert_eq!(undo, Edit::All(Vec::new()));
                }
            }
            let all = [
                Edit::Title(other.title.clone()),
                Edit::ShowLengthsIn(other.show_lengths_in),
                Edit::Standard(other.standard),
                Edit::Service(other.service),
                Edit::Notes(other.notes.clone()),
                Edit::Sheet(Box::new(other.sheet.clone())),
            ];
            let _ = apply(&mut joint, &Edit::All(all.to_vec()));
            prop_assert_eq!((&joint.title, joint.show_lengths_in), (&other.title, other.show_lengths_in));
            prop_assert_eq!((joint.standard, joint.service), (other.standard, other.service));
            prop_assert_eq!((&joint.notes, &joint.sheet), (&other.notes, &other.sheet));
        }
    }
}
