//! The least distances of a group, where a standard lets them count for every fastener of it.

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::across::Asking;
use super::bodies::Group;
use super::rooms::{keep, rooms};
use crate::standard::capacity::Room;
use crate::unit::compare::at_least;

/// The case, what they join in which order, and how thick they are.
type Key = (Option<usize>, Vec<Group>, u64);

/// What is known of groups so far: each is looked through once.
#[derive(Default)]
pub(super) struct Fellows(RefCell<BTreeMap<Key, Vec<Room>>>);

/// The rooms of a fastener from a plane on, one plane or two in double shear; and where the least of a group counts,
/// those of the others that join the same bodies.
pub(super) fn with_fellows(asking: &Asking<'_, '_>, plane: usize, is_double: bool) -> Vec<Room> {
    let mut own = own(asking, plane, is_double);
    let fact = asking.fact();
    // What is asked outside of a case is asked of one fastener alone.
    let is_alone = asking.case.is_none() && asking.share.is_some();
    if is_alone || !fact.scene.rules.least_of_group_counts(&fact.driven) {
        return own;
    }
    let key = (asking.case, joins(asking, plane, is_double), fact.fastener.spec.diameter_mm.to_bits());
    let known = asking.solver.fellows.0.borrow().get(&key).cloned();
    let least = known.unwrap_or_else(|| {
        let found = least(asking, &key, is_double);
        asking.solver.fellows.0.borrow_mut().insert(key, found.clone());
        found
    });
    for room in least {
        keep(Some(room), &mut own);
    }
    own
}

fn own(asking: &Asking<'_, '_>, plane: usize, is_double: bool) -> Vec<Room> {
    let toward = asking.force(plane).and_then(crate::unit::Vec3::unit);
    rooms(asking, &asking.joined().crossings[plane..=plane + usize::from(is_double)], toward)
}

/// The bodies from this plane on, the same for a fastener that is driven from the other side.
fn joins(asking: &Asking<'_, '_>, plane: usize, is_double: bool) -> Vec<Group> {
    let stations = &asking.joined().stations[plane..=plane + 1 + usize::from(is_double)];
    let mut groups: Vec<Group> = stations.iter().map(|it| it.group).collect();
    if groups.last() < groups.first() {
        groups.reverse();
    }
    groups
}

/// The least room of each sort in a group, with the fastener that it is of. One that may carry nothing where it is
/// counts as nothing, and takes nothing from the others.
fn least(asking: &Asking<'_, '_>, key: &Key, is_double: bool) -> Vec<Room> {
    let solver = asking.solver;
    let mut least = Vec::new();
    for ix in solver.touching.get(&key.1[0]).into_iter().flatten().copied() {
        let other = asking.of_another(ix);
        let fact = other.fact();
        let is_alike = fact.fastener.spec.diameter_mm.to_bits() == key.2
            && fact.scene.rules.least_of_group_counts(&fact.driven)
            && other.is_double() == is_double;
        let last = other.joined().crossings.len().saturating_sub(usize::from(is_double));
        for plane in (0..last).filter(|it| is_alike && joins(&other, *it, is_double) == key.1) {
            let rooms = own(&other, plane, is_double);
            if rooms.iter().all(|it| at_least(it.drawn_mm, it.least_mm)) {
                for room in rooms {
                    keep(Some(Room { of: Some(fact.fastener.id.clone()), ..room }), &mut least);
                }
            }
        }
    }
    least
}
