//! Which load comes to which fastener: equal shares, and on through the steel of connectors.
//!
//! A load on a member is shared equally by the fasteners that join it to anything. What goes into a
//! connector is passed on, again in equal shares, by the connector's other fasteners, and so on. What comes
//! to another member stays there: it is held by what is not drawn. Eccentricity, stiffness, prying, friction
//! and bearing are not counted.

use std::collections::{BTreeMap, BTreeSet};

use super::bodies::{Group, Joined};
use crate::unit::Vec3;

/// A load is followed through so many connectors at most; no joint that is built has more in a row.
const MOST_STEPS: usize = 16;

/// What crosses one plane of a shank: the force by which what lies on its head side pushes it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Crossed {
    pub(super) force: Vec3,
    /// Not for sure: what the body before this plane keeps is not known.
    pub(super) is_at_most: bool,
}

/// What a load asks of one fastener.
#[derive(Clone, Debug, Default)]
pub(super) struct Share {
    /// For each plane.
    pub(super) planes: Vec<Crossed>,
    /// The pull of loads on a body in the middle, which head or nut must hold whichever way it acts.
    pub(super) middle_pull_n: f64,
}

/// Where one load goes.
#[derive(Clone, Debug, Default)]
pub(super) struct Path {
    pub(super) shares: BTreeMap<usize, Share>,
    /// What goes into each connector.
    pub(super) through: BTreeMap<usize, Vec3>,
    /// A group from which it does not go on.
    pub(super) ends: Vec<Group>,
    /// The members that it comes to, and is taken to stay in.
    pub(super) stays: BTreeSet<usize>,
}

/// Follows a load from the group that it acts on. `touching` lists the fasteners of each group.
pub(super) fn follow(
    joined: &[Joined<'_>],
    axes: &[Vec3],
    touching: &BTreeMap<Group, Vec<usize>>,
    (on, force): (Group, Vec3),
) -> Path {
    let mut path = Path::default();
    let mut used = BTreeSet::new();
    let mut seen = BTreeSet::new();
    let mut open = BTreeMap::from([(on, force)]);
    for _ in 0..MOST_STEPS {
        let mut next: BTreeMap<Group, Vec3> = BTreeMap::new();
        for (group, force) in std::mem::take(&mut open) {
            seen.insert(group);
            if let Group::Connector(at) = group {
                *path.through.entry(at).or_default() = force;
            }
            let takers: Vec<usize> =
                touching.get(&group).into_iter().flatten().copied().filter(|it| !used.contains(it)).collect();
            if takers.is_empty() {
                path.ends.push(group);
                continue;
            }
            #[expect(clippy::cast_precision_loss, reason = "fasteners are counted far below 2^53")]
            let each = force * (1.0 / takers.len() as f64);
            for ix in takers {
                used.insert(ix);
                let (share, on_to) = applied(&joined[ix], axes[ix], (group, each));
                path.shares.insert(ix, share);
                for (to, part) in on_to {
                    if let Group::Member(at) = to
                        && to != on
                    {
                        path.stays.insert(at);
                    }
                    if matches!(to, Group::Connector(_)) && !seen.contains(&to) {
                        let sum = next.entry(to).or_default();
                        *sum = *sum + part;
                    }
                }
            }
        }
        if next.is_empty() {
            break;
        }
        open = next;
    }
    path
}

/// What a force that a group puts on a shank does at each plane, and which groups it goes on to.
pub(super) fn applied(
    joined: &Joined<'_>,
    axis: Vec3,
    (loaded, force): (Group, Vec3),
) -> (Share, Vec<(Group, Vec3)>) {
    let groups: Vec<Group> = joined.stations.iter().map(|it| it.group).collect();
    let planes = groups.len().saturating_sub(1);
    let is_loaded: Vec<bool> = groups.iter().map(|it| *it == loaded).collect();
    let at_one_end = is_loaded.iter().filter(|it| **it).count() == 1
        && (is_loaded.first() == Some(&true) || is_loaded.last() == Some(&true));
    if at_one_end {
        let from_head = is_loaded.first() == Some(&true);
        let force_at = if from_head { force } else { -force };
        // The plane next to the loaded body carries all; those beyond it that or less.
        let nearest = if from_head { 0 } else { planes.saturating_sub(1) };
        let crossed = (0..planes).map(|it| Crossed { force: force_at, is_at_most: it != nearest }).collect();
        let next =
            if from_head { groups.get(1) } else { planes.checked_sub(1).and_then(|it| groups.get(it)) };
        let on_to = next.map(|it| (*it, force)).into_iter().collect();
        return (Share { planes: crossed, middle_pull_n: 0.0 }, on_to);
    }
    let pull = force.dot(axis);
    #[expect(clippy::cast_precision_loss, reason = "a shank has few planes")]
    let each = (force - axis * pull) * (1.0 / planes.max(1) as f64);
    let crossed = is_loaded
        .windows(2)
        .map(|it| Crossed { force: if it[1] && !it[0] { -each } else { each }, is_at_most: false })
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "a shank has few planes")]
    let parts = is_loaded.windows(2).filter(|it| it[0] != it[1]).count().max(1) as f64;
    let to = |from: usize, to: usize| {
        (is_loaded[from] && !is_loaded[to]).then(|| (groups[to], force * (1.0 / parts)))
    };
    let on_to = (0..planes).flat_map(|it| [to(it, it + 1), to(it + 1, it)]).flatten().collect();
    (Share { planes: crossed, middle_pull_n: pull.abs() }, on_to)
}

impl Share {
    /// Takes another load on top.
    pub(super) fn add(&mut self, other: &Self) {
        self.planes.resize(self.planes.len().max(other.planes.len()), Crossed::default());
        for (sum, it) in self.planes.iter_mut().zip(&other.planes) {
            sum.force = sum.force + it.force;
            sum.is_at_most |= it.is_at_most;
        }
        self.middle_pull_n += other.middle_pull_n;
    }

    /// What pulls along the shank, at the plane where it pulls most; a push bears and does not count.
    pub(super) fn pull_n(&self, axis: Vec3) -> f64 {
        let apart = self.planes.iter().map(|it| -it.force.dot(axis)).fold(0.0, f64::max);
        apart + self.middle_pull_n
    }
}
