//! What is done with things already drawn: move, copy, delete, order, align, and the clipboard.
//!
//! Things are named by their ids; ids that nothing has are passed over. What fills a hole goes with its
//! connector. Every answer is one edit, and so one step to undo.

pub mod align;
pub mod clip;
pub mod order;
pub mod rename;
#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, BTreeSet};

use super::fresh::Ids;
use super::motion::Motion;
use super::question::WishError;
use crate::joint::edit::Change;
use crate::joint::{Anchor, Connector, Edit, Fastener, Hole, Joint, Member, Placement};
use crate::unit::Vec3;

/// Most copies that one step makes.
const MOST_COPIES: usize = 1_000;

/// The places in a joint of the things with these ids.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Chosen {
    /// Places of members.
    pub members: Vec<usize>,
    /// Places of connectors.
    pub connectors: Vec<usize>,
    /// Places of fasteners.
    pub fasteners: Vec<usize>,
    /// Holes: connector, plate, hole.
    pub holes: Vec<(usize, usize, usize)>,
}

impl Chosen {
    /// The things with these ids, each list in the order of the joint. A hole is called by its connector and its own
    /// id: `strap/h1`.
    #[must_use]
    pub fn of(joint: &Joint, ids: &[String]) -> Self {
        let ids: BTreeSet<&str> = ids.iter().map(String::as_str).collect();
        let has = |id: &String| ids.contains(id.as_str());
        Self {
            members: places(&joint.members, |it| has(&it.id)),
            connectors: places(&joint.connectors, |it| has(&it.id)),
            fasteners: places(&joint.fasteners, |it| has(&it.id)),
            holes: holes(joint, &ids),
        }
    }

    /// How many things are chosen.
    #[must_use]
    pub fn len(&self) -> usize {
        self.members.len() + self.connectors.len() + self.fasteners.len() + self.holes.len()
    }

    /// Whether nothing is chosen.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The ids of the things, but for holes.
    pub fn ids<'a>(&self, joint: &'a Joint) -> impl Iterator<Item = &'a str> {
        let members = self.members.iter().map(|at| joint.members[*at].id.as_str());
        let connectors = self.connectors.iter().map(|at| joint.connectors[*at].id.as_str());
        members.chain(connectors).chain(self.fasteners.iter().map(|at| joint.fasteners[*at].id.as_str()))
    }

    /// The same with every fastener in a hole of a chosen connector.
    #[must_use]
    pub fn with_fills(self, joint: &Joint) -> Self {
        let chosen: BTreeSet<&str> =
            self.connectors.iter().map(|at| joint.connectors[*at].id.as_str()).collect();
        let fills = |it: &Fastener| match &it.place {
            Placement::Fills { connector, .. } => chosen.contains(connector.as_str()),
            Placement::Free { .. } => false,
        };
        self.add(joint, fills)
    }

    /// The same without holes: what can stand by itself.
    #[must_use]
    fn without_holes(self) -> Self {
        Self { holes: Vec::new(), ..self }
    }

    /// The same with every fastener in a chosen hole.
    #[must_use]
    fn with_fills_of_holes(self, joint: &Joint) -> Self {
        let chosen: BTreeSet<(&str, &str)> = self.holes.iter().map(|it| hole_ids(joint, *it)).collect();
        let fills = |it: &Fastener| match &it.place {
            Placement::Fills { connector, hole, .. } => chosen.contains(&(connector.as_str(), hole.as_str())),
            Placement::Free { .. } => false,
        };
        self.add(joint, fills)
    }

    fn add(mut self, joint: &Joint, fills: impl Fn(&Fastener) -> bool) -> Self {
        self.fasteners.extend(places(&joint.fasteners, fills));
        self.fasteners.sort_unstable();
        self.fasteners.dedup();
        self
    }
}

/// The holes with these ids, in the order of the joint.
fn holes(joint: &Joint, ids: &BTreeSet<&str>) -> Vec<(usize, usize, usize)> {
    let mut found = Vec::new();
    for (connector, owner) in joint.connectors.iter().enumerate() {
        for (plate, it) in owner.plates.iter().enumerate() {
            let called = |hole: &Hole| ids.contains(format!("{}/{}", owner.id, hole.id).as_str());
            found.extend(places(&it.holes, called).into_iter().map(|hole| (connector, plate, hole)));
        }
    }
    found
}

/// The ids of a hole: of its connector, and its own.
fn hole_ids(joint: &Joint, (connector, plate, hole): (usize, usize, usize)) -> (&str, &str) {
    let owner = &joint.connectors[connector];
    (&owner.id, &owner.plates[plate].holes[hole].id)
}

fn places<T>(list: &[T], is_meant: impl Fn(&T) -> bool) -> Vec<usize> {
    list.iter().enumerate().filter(|it| is_meant(it.1)).map(|it| it.0).collect()
}

fn nothing() -> WishError {
    WishError::DoesNotFit("nothing is selected".to_owned())
}

fn replace_members(joint: &Joint, at: &[usize], new: impl Fn(&Member) -> Member) -> Vec<Edit> {
    let replace = |at: usize| Edit::Members(Change::Replace { at, new: Box::new(new(&joint.members[at])) });
    at.iter().map(|it| replace(*it)).collect()
}

/// Moves, turns or mirrors things together.
///
/// # Errors
/// Nothing selected, or only fasteners in holes, which stay where their holes are.
pub fn moved(joint: &Joint, ids: &[String], motion: &Motion) -> Result<Edit, WishError> {
    let chosen = Chosen::of(joint, ids);
    if chosen.is_empty() {
        return Err(nothing());
    }
    let mut edits = replace_members(joint, &chosen.members, |it| motion.member(it));
    for at in &chosen.connectors {
        let new = Box::new(motion.connector(&joint.connectors[*at]));
        edits.push(Edit::Connectors(Change::Replace { at: *at, new }));
    }
    let carried = chosen.clone().with_fills(joint);
    let carriers: BTreeSet<&str> =
        chosen.connectors.iter().map(|at| joint.connectors[*at].id.as_str()).collect();
    for at in carried.fasteners {
        let old = &joint.fasteners[at];
        let new = motion.fastener(old);
        let goes_along = match &old.place {
            Placement::Free { .. } => true,
            Placement::Fills { connector, .. } => carriers.contains(connector.as_str()),
        };
        if goes_along && new != *old {
            edits.push(Edit::Fasteners(Change::Replace { at, new: Box::new(new) }));
        }
    }
    if edits.is_empty() {
        let says = if chosen.fasteners.is_empty() {
            "a hole stays where it is in its steel"
        } else {
            "a fastener in a hole stays where the hole is; move the connector, or drive it freely"
        };
        return Err(WishError::DoesNotFit(says.to_owned()));
    }
    Ok(Edit::All(edits))
}

/// Copies things once for each motion. Gives the ids of the copies too, to select them.
///
/// A copied fastener in a hole goes into the copied connector; without that it is left out, for its hole is
/// filled already. Loads are not copied.
///
/// # Errors
/// Nothing selected that can be copied, or more copies than anybody wants.
pub fn copied(joint: &Joint, ids: &[String], motions: &[Motion]) -> Result<(Edit, Vec<String>), WishError> {
    let chosen = Chosen::of(joint, ids).without_holes().with_fills(joint);
    if chosen.is_empty() {
        return Err(nothing());
    }
    if MOST_COPIES < motions.len() {
        return Err(WishError::DoesNotFit(format!("at most {MOST_COPIES} copies are made in one step")));
    }
    let mut taken = Ids::of(joint);
    let mut adding = Adding::new(joint);
    for motion in motions {
        let mut renamed = BTreeMap::new();
        for at in &chosen.members {
            let it = &joint.members[*at];
            adding.member(Member { id: taken.like(&it.id), ..motion.member(it) });
        }
        for at in &chosen.connectors {
            let it = &joint.connectors[*at];
            let id = taken.like(&it.id);
            renamed.insert(it.id.as_str(), id.clone());
            adding.connector(Connector { id, ..motion.connector(it) });
        }
        for at in &chosen.fasteners {
            let mut new = motion.fastener(&joint.fasteners[*at]);
            if let Placement::Fills { connector, .. } = &mut new.place {
                let Some(id) = renamed.get(connector.as_str()) else { continue };
                connector.clone_from(id);
            }
            new.id = next_fastener(&mut taken, &new.id);
            adding.fastener(new);
        }
    }
    if adding.ids.is_empty() {
        let says = "a fastener in a hole cannot be copied without its connector";
        return Err(WishError::DoesNotFit(says.to_owned()));
    }
    Ok((Edit::All(adding.edits), adding.ids))
}

/// The shifts of an array: so many in a row, each by a step from the one before, in each of the ways, the first way
/// first; without the original place.
#[must_use]
pub fn grid(ways: &[(usize, Vec3)]) -> Vec<Motion> {
    let mut places = vec![Vec3::default()];
    for (count, step) in ways {
        let row = places.clone();
        for n in 1..(*count).min(MOST_COPIES + 2) {
            // One too many is enough to be refused.
            if MOST_COPIES + 1 < places.len() {
                break;
            }
            #[expect(clippy::cast_precision_loss, reason = "counts of copies")]
            let by = *step * n as f64;
            places.extend(row.iter().map(|it| *it + by));
        }
    }
    places.into_iter().skip(1).map(Motion::shift).collect()
}

/// The turns of an array about a place: `count` in all, `step_deg` apart, without the original.
#[must_use]
pub fn around(about: kurbo::Point, count: usize, step_deg: f64) -> Vec<Motion> {
    #[expect(clippy::cast_precision_loss, reason = "counts of copies")]
    let turn = |it: usize| Motion::turn(about, step_deg * it as f64);
    (1..count.min(MOST_COPIES + 1)).map(turn).collect()
}

/// Takes things away, with the fasteners in the holes of a connector or in a hole, the loads on a member, and the
/// dimensions that held on to any of them; and dimensions by their places in the list.
///
/// # Errors
/// Nothing selected.
pub fn deleted(joint: &Joint, ids: &[String], dimensions: &[usize]) -> Result<Edit, WishError> {
    let chosen = Chosen::of(joint, ids).with_fills(joint).with_fills_of_holes(joint);
    let named: BTreeSet<usize> =
        dimensions.iter().copied().filter(|it| *it < joint.dimensions.len()).collect();
    if chosen.is_empty() && named.is_empty() {
        return Err(nothing());
    }
    let ids: BTreeSet<&str> = chosen.ids(joint).collect();
    let gone: BTreeSet<(&str, &str)> = chosen.holes.iter().map(|it| hole_ids(joint, *it)).collect();
    let held = |it: &Anchor| {
        let in_hole = matches!(it, Anchor::Hole { connector, hole } if gone.contains(&(connector.as_str(), hole.as_str())));
        in_hole || it.id().is_some_and(|id| ids.contains(id))
    };
    // From behind, so that the places before stay what they are.
    let mut edits = Vec::new();
    let mut dimensions: BTreeSet<usize> =
        places(&joint.dimensions, |it| held(&it.from) || held(&it.to)).into_iter().collect();
    dimensions.extend(named);
    edits.extend(dimensions.iter().rev().map(|at| Edit::Dimensions(Change::Remove { at: *at })));
    let on_gone = |on: &String| chosen.members.iter().any(|at| joint.members[*at].id == *on);
    let loads = places(&joint.loads, |it| on_gone(&it.on));
    edits.extend(loads.iter().rev().map(|at| Edit::Loads(Change::Remove { at: *at })));
    edits.extend(chosen.fasteners.iter().rev().map(|at| Edit::Fasteners(Change::Remove { at: *at })));
    edits.extend(without_holes(joint, &chosen));
    edits.extend(chosen.connectors.iter().rev().map(|at| Edit::Connectors(Change::Remove { at: *at })));
    edits.extend(chosen.members.iter().rev().map(|at| Edit::Members(Change::Remove { at: *at })));
    Ok(Edit::All(edits))
}

/// Connectors that lose some of their holes and stay otherwise.
fn without_holes(joint: &Joint, chosen: &Chosen) -> Vec<Edit> {
    let mut new: BTreeMap<usize, Connector> = BTreeMap::new();
    // From behind, so that the places before stay what they are.
    for (connector, plate, hole) in chosen.holes.iter().rev() {
        if !chosen.connectors.contains(connector) {
            let it = new.entry(*connector).or_insert_with(|| joint.connectors[*connector].clone());
            let _ = it.plates[*plate].holes.remove(*hole);
        }
    }
    new.into_iter().map(|(at, it)| Edit::Connectors(Change::Replace { at, new: Box::new(it) })).collect()
}

/// The next id of a fastener: `n7` where `n1` to `n6` are taken.
fn next_fastener(taken: &mut Ids, id: &str) -> String {
    let letters = id.trim_end_matches(|it: char| it.is_ascii_digit());
    if letters.len() < id.len() && !letters.is_empty() && !letters.ends_with('-') {
        if taken.has(id) { taken.numbered(letters) } else { taken.like(id) }
    } else {
        taken.like(id)
    }
}

/// New things behind those of a joint.
struct Adding<'a> {
    joint: &'a Joint,
    edits: Vec<Edit>,
    ids: Vec<String>,
    counts: [usize; 3],
}

impl<'a> Adding<'a> {
    fn new(joint: &'a Joint) -> Self {
        Self { joint, edits: Vec::new(), ids: Vec::new(), counts: [0; 3] }
    }

    fn next(&mut self, id: &str, which: usize, from: usize) -> usize {
        self.ids.push(id.to_owned());
        self.counts[which] += 1;
        from + self.counts[which] - 1
    }

    fn member(&mut self, new: Member) {
        let at = self.next(&new.id, 0, self.joint.members.len());
        self.edits.push(Edit::Members(Change::Insert { at, new: Box::new(new) }));
    }

    fn connector(&mut self, new: Connector) {
        let at = self.next(&new.id, 1, self.joint.connectors.len());
        self.edits.push(Edit::Connectors(Change::Insert { at, new: Box::new(new) }));
    }

    fn fastener(&mut self, new: Fastener) {
        let at = self.next(&new.id, 2, self.joint.fasteners.len());
        self.edits.push(Edit::Fasteners(Change::Insert { at, new: Box::new(new) }));
    }
}
