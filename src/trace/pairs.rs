//! Which shanks come near each other: neighbours in a common body, and shanks that collide.
//!
//! # Crowds
//! What a drawing holds is looked at whole. So that a file made to be slow stays near linear, each
//! fastener keeps the nearest [`MOST_KEPT`] of the pairs that it leads, and looks at no more than
//! [`MOST_SEEN`] shanks whose boxes come near. Where that cuts something off, nearer ones were kept.

use super::boxes::{Box3, Boxes};
use super::clash::{clash, nearest};
use super::flat::Prism;
use super::neighbours::{self, Stay};
use super::{Clash, Neighbours, Shank};
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
    /// Place among the joint's fasteners.
    fastener: usize,
    /// Its first stay and one past its last.
    stays: (usize, usize),
}

/// The shanks, packed so that what is near in space is near in memory.
struct Rods {
    list: Vec<Rod>,
    stays: Vec<Stay>,
    index: Boxes,
    /// All reach equally far, so that a pair need be looked at from one side only.
    is_uniform: bool,
}

/// What is found about the pairs that one fastener leads.
#[derive(Default)]
struct Found {
    near: Vec<Neighbours>,
    hits: Vec<Clash>,
}

/// All pairs of fasteners that are neighbours in a bearing body, and all that collide.
pub(super) fn pairs(prisms: &[Prism], shanks: &[Shank], diameters: &[f64]) -> (Vec<Neighbours>, Vec<Clash>) {
    let rods = Rods::of(shanks, diameters);
    let (mut all, mut own) = (Found::default(), Found::default());
    for (i, rod) in rods.list.iter().enumerate() {
        let window = rod.bounds(rod.reach());
        let first = if rods.is_uniform { i + 1 } else { 0 };
        let mut seen = 0;
        rods.index.visit_places((&window, first), |j| {
            // The one that reaches farther leads the pair, or else the first.
            if i != j && (rods.list[j].reach(), i) < (rod.reach(), j) {
                rods.look(prisms, (i, j), &mut own);
            }
            seen += 1;
            seen < MOST_SEEN
        });
        keep_nearest(&mut own.near, |it| it.along_mm.hypot(it.across_mm));
        keep_nearest(&mut own.hits, |it| it.axes_apart_mm);
        all.near.append(&mut own.near);
        all.hits.append(&mut own.hits);
    }
    (sorted(&all.near, |it| [it.a, it.b, it.body.0]), sorted(&all.hits, |it| [it.a, it.b, 0]))
}

/// The same in the order of their keys. Keys are sorted, not the pairs, which are ten times as large.
fn sorted<T: Copy>(list: &[T], key: impl Fn(&T) -> [usize; 3]) -> Vec<T> {
    let short = |it: usize| u32::try_from(it).unwrap_or(u32::MAX);
    let mut keys: Vec<([u32; 3], u32)> = (0_u32..).zip(list).map(|(n, it)| (key(it).map(short), n)).collect();
    keys.sort_unstable();
    keys.iter().map(|it| list[it.1 as usize]).collect()
}

fn keep_nearest<T>(list: &mut Vec<T>, apart: impl Fn(&T) -> f64) {
    if MOST_KEPT < list.len() {
        list.sort_by(|a, b| apart(a).total_cmp(&apart(b)));
        list.truncate(MOST_KEPT);
    }
}

impl Rods {
    fn of(shanks: &[Shank], diameters: &[f64]) -> Self {
        let rod = |fastener: usize| {
            let (shank, diameter) = (&shanks[fastener], diameters[fastener]);
            let diameter = if diameter.is_finite() { diameter.max(0.0) } else { 0.0 };
            let (head, toward, length) = (shank.head_at, shank.toward, shank.length_mm);
            Rod { head, toward, length, diameter, fastener, stays: (0, 0) }
        };
        // A shank without a core is nowhere and has no neighbours.
        let placed: Vec<Rod> = (0..shanks.len()).filter(|it| !shanks[*it].core.is_empty()).map(rod).collect();
        let boxes: Vec<Box3> = placed.iter().map(|it| it.bounds(0.0)).collect();
        let index = Boxes::of(&boxes);
        let mut stays = Vec::with_capacity(2 * placed.len());
        let list: Vec<Rod> = index
            .order()
            .iter()
            .map(|it| {
                let rod = placed[*it as usize];
                let first = stays.len();
                neighbours::stays(&shanks[rod.fastener], &mut stays);
                Rod { stays: (first, stays.len()), ..rod }
            })
            .collect();
        let is_uniform = list.windows(2).all(|it| (it[0].diameter - it[1].diameter).abs() <= 0.0);
        Self { list, stays, index, is_uniform }
    }

    fn look(&self, prisms: &[Prism], (i, j): (usize, usize), found: &mut Found) {
        let (one, other) = (&self.list[i], &self.list[j]);
        let (a, b) = if one.fastener < other.fastener { (one, other) } else { (other, one) };
        let places = nearest((a, 0.0, a.length), (b, 0.0, b.length));
        let (apart, reach) = (places.1 - places.0, a.reach().max(b.reach()));
        // However neighbours are measured, they are no nearer than the shanks themselves.
        if reach * reach < apart.dot(apart) {
            return;
        }
        for stay_a in self.stays_of(a) {
            for stay_b in self.stays_of(b).iter().filter(|it| it.body == stay_a.body) {
                let grain = prisms[stay_a.body].grain;
                let split = neighbours::neighbours((a, stay_a), (b, stay_b), grain);
                if split.along_mm.hypot(split.across_mm) <= reach {
                    found.near.push(Neighbours { a: a.fastener, b: b.fastener, ..split });
                }
            }
        }
        found.hits.extend(clash(a, b, places).map(|it| Clash { a: a.fastener, b: b.fastener, ..it }));
    }

    fn stays_of(&self, rod: &Rod) -> &[Stay] {
        &self.stays[rod.stays.0..rod.stays.1]
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
