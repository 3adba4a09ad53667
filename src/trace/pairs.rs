//! Which shanks come near each other: neighbours in a common body, and shanks that collide.
//!
//! # Crowds
//! What a drawing holds is looked at whole. So that a file made to be slow stays near linear, each
//! fastener keeps the nearest [`MOST_KEPT`] of the pairs that it leads, and looks at no more than
//! [`MOST_SEEN`] shanks whose boxes come near. Where that cuts something off, nearer ones were kept.

use super::boxes::{Box3, Boxes};
use super::clash::clash;
use super::neighbours::{Stay, neighbours, stays};
use super::{Body, Clash, Neighbours, Shank};
use crate::unit::Vec3;

/// Neighbours are looked for within so many times the greater of the two diameters: more than the
/// greatest spacing that any rule asks for, fifteen diameters along the grain.
pub(super) const REACH_IN_DIAMETERS: f64 = 16.0;

/// Pairs that one fastener keeps, the nearest.
const MOST_KEPT: usize = 24;

/// Shanks that one fastener looks at.
const MOST_SEEN: u32 = 4096;

/// A shank as its neighbours see it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rod {
    /// The seat of its head.
    pub(super) head: Vec3,
    /// The way of its point, of unit length.
    pub(super) toward: Vec3,
    /// Its length.
    pub(super) length: f64,
    /// Its diameter.
    pub(super) diameter: f64,
}

/// All pairs of fasteners that are neighbours in a bearing body, and all that collide.
pub(super) fn pairs(bodies: &[Body], shanks: &[Shank], diameters: &[f64]) -> (Vec<Neighbours>, Vec<Clash>) {
    let rods: Vec<Rod> = shanks
        .iter()
        .zip(diameters)
        .map(|(it, diameter)| Rod {
            head: it.head_at,
            toward: it.toward,
            length: it.length_mm,
            diameter: if diameter.is_finite() { diameter.max(0.0) } else { 0.0 },
        })
        .collect();
    // A shank without a core is nowhere and has no neighbours.
    let placed: Vec<usize> = (0..shanks.len()).filter(|it| !shanks[*it].core.is_empty()).collect();
    let boxes: Vec<Box3> = placed.iter().map(|it| rods[*it].bounds(0.0)).collect();
    let index = Boxes::of(&boxes);
    let stays = stays(shanks);
    let (mut near, mut hits) = (Vec::new(), Vec::new());
    let (mut own_near, mut own_hits) = (Vec::new(), Vec::new());
    for &i in &placed {
        let reach = rods[i].reach();
        let mut seen = 0;
        index.visit(&rods[i].bounds(reach), |found| {
            let j = placed[found as usize];
            // The one that reaches farther leads the pair, or else the first.
            if i != j && (rods[j].reach(), i) < (reach, j) {
                look(bodies, &rods, &stays, (i, j), (&mut own_near, &mut own_hits));
            }
            seen += 1;
            seen < MOST_SEEN
        });
        keep_nearest(&mut own_near, |it: &Neighbours| it.along_mm.hypot(it.across_mm));
        keep_nearest(&mut own_hits, |it: &Clash| it.axes_apart_mm);
        near.append(&mut own_near);
        hits.append(&mut own_hits);
    }
    near.sort_unstable_by_key(|it| (it.a, it.b, it.body));
    hits.sort_unstable_by_key(|it| (it.a, it.b));
    (near, hits)
}

fn look(
    bodies: &[Body],
    rods: &[Rod],
    stays: &[Vec<Stay>],
    (i, j): (usize, usize),
    (near, hits): (&mut Vec<Neighbours>, &mut Vec<Clash>),
) {
    let (a, b) = (i.min(j), i.max(j));
    let (rod_a, rod_b) = (&rods[a], &rods[b]);
    let reach = rod_a.reach().max(rod_b.reach());
    for stay_a in &stays[a] {
        for stay_b in stays[b].iter().filter(|it| it.body == stay_a.body) {
            let grain = bodies[stay_a.body].grain;
            let split = neighbours((rod_a, stay_a), (rod_b, stay_b), grain);
            if split.along_mm.hypot(split.across_mm) <= reach {
                near.push(Neighbours { a, b, ..split });
            }
        }
    }
    hits.extend(clash(rod_a, rod_b).map(|it| Clash { a, b, ..it }));
}

fn keep_nearest<T>(list: &mut Vec<T>, apart: impl Fn(&T) -> f64) {
    if MOST_KEPT < list.len() {
        list.sort_by(|a, b| apart(a).total_cmp(&apart(b)));
        list.truncate(MOST_KEPT);
    }
}

impl Rod {
    /// The place so far along.
    pub(super) fn at(&self, along: f64) -> Vec3 {
        self.head + self.toward * along
    }

    fn reach(&self) -> f64 {
        REACH_IN_DIAMETERS * self.diameter
    }

    fn bounds(&self, margin: f64) -> Box3 {
        Box3::around(self.head, self.at(self.length), margin)
    }
}
