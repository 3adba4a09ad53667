//! Some things of a joint, taken together: moved, taken away, or lifted out to be put into a joint again.

use std::collections::{BTreeMap, BTreeSet};

use super::edit::Change;
use super::rigid::Rigid;
use super::{Edit, Joint, Placement};

/// Some things of one joint, by their places in its lists, ascending.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Group {
    /// Places in [`Joint::members`].
    pub members: BTreeSet<usize>,
    /// Places in [`Joint::connectors`].
    pub connectors: BTreeSet<usize>,
    /// Places in [`Joint::fasteners`].
    pub fasteners: BTreeSet<usize>,
    /// Holes: connector, plate, hole.
    pub holes: BTreeSet<(usize, usize, usize)>,
}

impl Group {
    /// How many things it holds.
    #[must_use]
    pub fn len(&self) -> usize {
        self.members.len() + self.connectors.len() + self.fasteners.len() + self.holes.len()
    }

    /// Whether it holds nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// With the fasteners that fill the holes of its connectors.
    #[must_use]
    pub fn with_fillings(mut self, joint: &Joint) -> Self {
        let ids: BTreeSet<&str> = self
            .connectors
            .iter()
            .filter_map(|it| joint.connectors.get(*it))
            .map(|it| it.id.as_str())
            .collect();
        let fills = |it: &Placement| matches!(it, Placement::Fills { connector, .. } if ids.contains(connector.as_str()));
        let more = joint.fasteners.iter().enumerate().filter(|it| fills(&it.1.place)).map(|it| it.0);
        self.fasteners.extend(more);
        self
    }

    /// All of it moved. A fastener in a hole goes along with its connector and stays otherwise.
    #[must_use]
    pub fn moved(&self, joint: &Joint, by: &Rigid) -> Edit {
        let all = self.clone().with_fillings(joint);
        let mut edits = Vec::with_capacity(all.len());
        for at in all.members.iter().copied() {
            let Some(old) = joint.members.get(at) else { continue };
            edits.push(Edit::Members(Change::Replace { at, new: Box::new(by.member(old)) }));
        }
        for at in all.connectors.iter().copied() {
            let Some(old) = joint.connectors.get(at) else { continue };
            edits.push(Edit::Connectors(Change::Replace { at, new: Box::new(by.connector(old)) }));
        }
        for at in all.fasteners.iter().copied() {
            let Some(old) = joint.fasteners.get(at) else { continue };
            let stays = |id: &str| !all.connectors.iter().any(|it| joint.connectors[*it].id == id);
            if matches!(&old.place, Placement::Fills { connector, .. } if stays(connector)) {
                continue;
            }
            let new = by.fastener(old);
            if new != *old {
                edits.push(Edit::Fasteners(Change::Replace { at, new: Box::new(new) }));
            }
        }
        Edit::All(edits)
    }

    /// All of it taken away, with what cannot be without it: fasteners in its holes, loads on its members.
    #[must_use]
    pub fn taken_away(&self, joint: &Joint) -> Edit {
        let all = self.clone().with_fillings(joint);
        let mut edits = Vec::new();
        let gone: BTreeSet<&str> =
            all.members.iter().filter_map(|it| joint.members.get(*it)).map(|it| it.id.as_str()).collect();
        let loads =
            joint.loads.iter().enumerate().filter(|it| gone.contains(it.1.on.as_str())).map(|it| it.0);
        let loads: Vec<usize> = loads.collect();
        edits.extend(loads.into_iter().rev().map(|at| Edit::Loads(Change::Remove { at })));
        let mut fasteners = all.fasteners.clone();
        for (connector, plate, hole) in &all.holes {
            let Some(owner) = joint.connectors.get(*connector) else { continue };
            let Some(hole) = owner.plates.get(*plate).and_then(|it| it.holes.get(*hole)) else { continue };
            let in_it = |it: &Placement| matches!(it, Placement::Fills { connector, hole: id, .. } if *connector == owner.id && *id == hole.id);
            fasteners
                .extend(joint.fasteners.iter().enumerate().filter(|it| in_it(&it.1.place)).map(|it| it.0));
        }
        edits.extend(fasteners.iter().rev().map(|at| Edit::Fasteners(Change::Remove { at: *at })));
        edits.extend(self.holes_taken_away(joint));
        edits.extend(all.connectors.iter().rev().map(|at| Edit::Connectors(Change::Remove { at: *at })));
        edits.extend(all.members.iter().rev().map(|at| Edit::Members(Change::Remove { at: *at })));
        Edit::All(edits)
    }

    /// Connectors that lose some of their holes.
    fn holes_taken_away(&self, joint: &Joint) -> Vec<Edit> {
        let mut of: BTreeMap<usize, Vec<(usize, usize)>> = BTreeMap::new();
        for (connector, plate, hole) in &self.holes {
            if !self.connectors.contains(connector) {
                of.entry(*connector).or_default().push((*plate, *hole));
            }
        }
        let mut edits = Vec::new();
        for (at, holes) in of {
            let Some(old) = joint.connectors.get(at) else { continue };
            let mut new = Box::new(old.clone());
            for (plate, hole) in holes.into_iter().rev() {
                if let Some(plate) = new.plates.get_mut(plate).filter(|it| hole < it.holes.len()) {
                    let _ = plate.holes.remove(hole);
                }
            }
            edits.push(Edit::Connectors(Change::Replace { at, new }));
        }
        edits
    }

    /// A joint that holds these things alone, in the unit and by the standard of theirs.
    ///
    /// A fastener that fills a hole comes only with its connector.
    #[must_use]
    pub fn lifted(&self, joint: &Joint) -> Joint {
        let all = self.clone().with_fillings(joint);
        let connectors: Vec<_> =
            all.connectors.iter().filter_map(|it| joint.connectors.get(*it)).cloned().collect();
        let has = |id: &str| connectors.iter().any(|it| it.id == id);
        let comes = |it: &Placement| match it {
            Placement::Free { .. } => true,
            Placement::Fills { connector, .. } => has(connector),
        };
        let fasteners = all.fasteners.iter().filter_map(|it| joint.fasteners.get(*it));
        Joint {
            show_lengths_in: joint.show_lengths_in,
            standard: joint.standard,
            members: all.members.iter().filter_map(|it| joint.members.get(*it)).cloned().collect(),
            fasteners: fasteners.filter(|it| comes(&it.place)).cloned().collect(),
            connectors,
            ..Joint::default()
        }
    }
}

/// Everything of `part` put into a joint after what is there, moved, under ids that are still free: the edit, and
/// the ids that the things have got, in the order members, connectors, fasteners.
#[must_use]
pub fn put_in(joint: &Joint, part: &Joint, by: &Rigid) -> (Edit, Vec<String>) {
    let mut taken = ids(joint);
    let mut edits = Vec::new();
    let mut given = Vec::new();
    let mut renamed: BTreeMap<&str, String> = BTreeMap::new();
    let mut fresh = |id: &str, taken: &mut BTreeSet<String>| {
        let letters = id.trim_end_matches(|it: char| it.is_ascii_digit());
        let is_numbered = letters.chars().count() == 1 && letters.len() < id.len();
        let new = if is_numbered { numbered_id(taken, letters) } else { free_id(taken, id) };
        let _ = taken.insert(new.clone());
        given.push(new.clone());
        new
    };
    for (n, old) in part.members.iter().enumerate() {
        let mut new = Box::new(by.member(old));
        new.id = fresh(&old.id, &mut taken);
        edits.push(Edit::Members(Change::Insert { at: joint.members.len() + n, new }));
    }
    for (n, old) in part.connectors.iter().enumerate() {
        let mut new = Box::new(by.connector(old));
        new.id = fresh(&old.id, &mut taken);
        let _ = renamed.insert(&old.id, new.id.clone());
        edits.push(Edit::Connectors(Change::Insert { at: joint.connectors.len() + n, new }));
    }
    for (n, old) in part.fasteners.iter().enumerate() {
        let mut new = Box::new(by.fastener(old));
        new.id = fresh(&old.id, &mut taken);
        if let Placement::Fills { connector, .. } = &mut new.place
            && let Some(now) = renamed.get(connector.as_str())
        {
            connector.clone_from(now);
        }
        edits.push(Edit::Fasteners(Change::Insert { at: joint.fasteners.len() + n, new }));
    }
    (Edit::All(edits), given)
}

/// Every id of a joint.
#[must_use]
pub fn ids(joint: &Joint) -> BTreeSet<String> {
    let members = joint.members.iter().map(|it| &it.id);
    let connectors = joint.connectors.iter().map(|it| &it.id);
    members.chain(connectors).chain(joint.fasteners.iter().map(|it| &it.id)).cloned().collect()
}

/// An id that is not taken: the one that is wanted, or the same with a number behind it: `rim`, `rim-2`, `rim-3`.
#[must_use]
pub fn free_id(taken: &BTreeSet<String>, wanted: &str) -> String {
    if !taken.contains(wanted) && !wanted.is_empty() {
        return wanted.to_owned();
    }
    let counted = wanted.rsplit_once('-').and_then(|(stem, n)| n.parse::<usize>().ok().map(|n| (stem, n)));
    let (stem, first) = counted.filter(|it| !it.0.is_empty()).unwrap_or((wanted, 1));
    let next = |n: usize| format!("{stem}-{n}");
    (first.saturating_add(1)..).map(next).find(|it| !taken.contains(it)).unwrap_or_default()
}

/// The first of `f1`, `f2`, ... that is not taken, for the letters `f`.
#[must_use]
pub fn numbered_id(taken: &BTreeSet<String>, letters: &str) -> String {
    (1..).map(|n: usize| format!("{letters}{n}")).find(|it| !taken.contains(it)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::joint::edit::apply;
    use crate::joint::file::{self, arbitrary, tests::stock};

    fn all(joint: &Joint) -> Group {
        Group {
            members: (0..joint.members.len()).collect(),
            connectors: (0..joint.connectors.len()).collect(),
            fasteners: (0..joint.fasteners.len()).collect(),
            holes: BTreeSet::new(),
        }
    }

    #[test]
    fn an_id_that_is_taken_gets_the_next_number() {
        let taken: BTreeSet<String> = ["f1", "f2", "rim"].map(str::to_owned).into();
        assert_eq!(numbered_id(&taken, "f"), "f3");
        assert_eq!(free_id(&taken, "rim"), "rim-2");
        assert_eq!(free_id(&taken, "post"), "post");
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn what_is_taken_away_leaves_a_joint_that_can_be_saved_and_read(
            joint in arbitrary::joint(&stock()),
            keep in any::<u64>(),
        ) {
            let mut group = all(&joint);
            group.members.retain(|it| keep >> (it % 16) & 1 == 1);
            group.connectors.retain(|it| keep >> (16 + it % 16) & 1 == 1);
            group.fasteners.retain(|it| keep >> (32 + it % 16) & 1 == 1);
            let mut left = joint.clone();
            let undo = apply(&mut left, &group.taken_away(&joint));
            prop_assert!(file::read(&file::write(&left), &stock()).is_ok());
            let _ = apply(&mut left, &undo);
            prop_assert_eq!(left, joint);
        }

        #[test]
        fn what_is_lifted_out_and_put_in_again_stands_twice(joint in arbitrary::joint(&stock())) {
            let part = all(&joint).lifted(&joint);
            let text = file::write(&part);
            let read = file::read(&text, &stock());
            prop_assert!(read.is_ok(), "the clipboard holds a joint file");
            let mut twice = joint.clone();
            let (edit, ids) = put_in(&joint, &part, &Rigid::default());
            let _ = apply(&mut twice, &edit);
            prop_assert_eq!(twice.members.len(), 2 * joint.members.len());
            prop_assert_eq!(twice.fasteners.len(), 2 * joint.fasteners.len());
            prop_assert_eq!(ids.len(), part.members.len() + part.connectors.len() + part.fasteners.len());
            prop_assert!(file::read(&file::write(&twice), &stock()).is_ok());
        }
    }
}
