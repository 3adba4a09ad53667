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

/// Classes of shanks by how far they reach; the last holds all that reach farther.
const MOST_CLASSES: usize = 16;

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
    pub(super) fastener: usize,
    /// Its first stay and one past its last.
    stays: (usize, usize),
}

/// Shanks that reach equally far, packed so that what is near in space is near in memory. Where a
/// joint has very many diameters, a class holds several that follow each other.
struct Class {
    /// Place of its first shank in the list of all, and one past its last.
    first: usize,
    end: usize,
    index: Boxes,
    is_uniform: bool,
}

/// All shanks, class after class, those that reach least first.
struct Rods {
    list: Vec<Rod>,
    stays: Vec<Stay>,
    classes: Vec<Class>,
}

/// Neighbours while they are looked for: short, since most are only counted and sorted.
#[derive(Clone, Copy)]
struct Near {
    /// Fasteners and body, by which they are sorted in the end.
    key: [u32; 3],
    /// Places of the two stays, and of the two shanks in the list.
    stays: [u32; 2],
    rods: [u32; 2],
    /// Square of the distance.
    square: f64,
}

/// What is found about the pairs that one fastener leads.
#[derive(Default)]
struct Found {
    near: Vec<Near>,
    hits: Vec<Clash>,
}

/// All pairs of fasteners that are neighbours in a bearing body, and all that collide.
pub(super) fn pairs(prisms: &[Prism], shanks: &[Shank], diameters: &[f64]) -> (Vec<Neighbours>, Vec<Clash>) {
    let rods = Rods::of(shanks, diameters);
    let (mut all, mut own) = (Found::default(), Found::default());
    for (n, class) in rods.classes.iter().enumerate() {
        for i in class.first..class.end {
            rods.lead((n, i), &mut own);
            keep_nearest(&mut own.near, |it| it.square);
            keep_nearest(&mut own.hits, |it| it.axes_apart_mm);
            all.near.append(&mut own.near);
            all.hits.append(&mut own.hits);
        }
    }
    all.near.sort_unstable_by_key(|it| it.key);
    all.hits.sort_unstable_by_key(|it| (it.a, it.b));
    (all.near.iter().map(|it| rods.told(it, prisms)).collect(), all.hits)
}

/// A place in a list as a short number; no joint has four thousand million of anything.
fn short(it: usize) -> u32 {
    u32::try_from(it).unwrap_or(u32::MAX)
}

fn keep_nearest<T>(list: &mut Vec<T>, apart: impl Fn(&T) -> f64) {
    if MOST_KEPT < list.len() {
        list.sort_by(|a, b| apart(a).total_cmp(&apart(b)));
        list.truncate(MOST_KEPT);
    }
}

impl Rods {
    fn of(shanks: &[Shank], diameters: &[f64]) -> Self {
        let mut loose = Vec::with_capacity(2 * shanks.len());
        let rod = |fastener: usize| {
            let (shank, diameter) = (&shanks[fastener], diameters[fastener]);
            let begin = loose.len();
            neighbours::stays(shank, &mut loose);
            let stays = (begin, loose.len());
            let diameter = if diameter.is_finite() { diameter.max(0.0) } else { 0.0 };
            let (head, toward, length) = (shank.head_at, shank.toward, shank.length_mm);
            Rod { head, toward, length, diameter, fastener, stays }
        };
        // A shank without a core is nowhere and has no neighbours.
        let mut placed: Vec<Rod> =
            (0..shanks.len()).filter(|it| !shanks[*it].core.is_empty()).map(rod).collect();
        placed.sort_by(|a, b| a.diameter.total_cmp(&b.diameter));
        let mut rods =
            Self { list: Vec::with_capacity(placed.len()), stays: Vec::new(), classes: Vec::new() };
        let mut rest = &placed[..];
        while let Some(least) = rest.first() {
            let is_last = rods.classes.len() + 1 == MOST_CLASSES;
            let same = rest.partition_point(|it| it.diameter <= least.diameter);
            let (class, others) = rest.split_at(if is_last { rest.len() } else { same });
            rods.pack(class, &loose);
            rest = others;
        }
        rods
    }

    fn pack(&mut self, rods: &[Rod], loose: &[Stay]) {
        let boxes: Vec<Box3> = rods.iter().map(|it| it.bounds(0.0)).collect();
        let (index, first) = (Boxes::of(&boxes), self.list.len());
        for place in index.order() {
            let rod = rods[*place as usize];
            let begin = self.stays.len();
            self.stays.extend_from_slice(&loose[rod.stays.0..rod.stays.1]);
            self.list.push(Rod { stays: (begin, self.stays.len()), ..rod });
        }
        let is_uniform = rods.windows(2).all(|it| (it[0].diameter - it[1].diameter).abs() <= 0.0);
        self.classes.push(Class { first, end: self.list.len(), index, is_uniform });
    }

    /// Looks at the pairs that a shank leads: those with shanks that reach less far, and those with
    /// shanks that reach equally far and come later in the list.
    fn lead(&self, (class, i): (usize, usize), found: &mut Found) {
        let rod = &self.list[i];
        let window = rod.bounds(rod.reach());
        let mut seen = 0;
        for (n, other) in self.classes[..=class].iter().enumerate() {
            let is_own = n == class;
            let first = if is_own && other.is_uniform { i + 1 - other.first } else { 0 };
            other.index.visit_places((&window, first), |place| {
                let j = other.first + place;
                let leads = !is_own || (i != j && (self.list[j].reach(), i) < (rod.reach(), j));
                if leads {
                    self.look((i, j), found);
                }
                seen += 1;
                seen < MOST_SEEN
            });
        }
    }

    fn look(&self, (i, j): (usize, usize), found: &mut Found) {
        let is_in_order = self.list[i].fastener < self.list[j].fastener;
        let (i, j) = if is_in_order { (i, j) } else { (j, i) };
        let (a, b) = (&self.list[i], &self.list[j]);
        let places = nearest((a, 0.0, a.length), (b, 0.0, b.length));
        let (apart, reach) = (places.1 - places.0, a.reach().max(b.reach()));
        // However neighbours are measured, they are no nearer than the shanks themselves.
        if reach * reach < apart.dot(apart) {
            return;
        }
        for m in a.stays.0..a.stays.1 {
            for n in b.stays.0..b.stays.1 {
                let (stay_a, stay_b) = (&self.stays[m], &self.stays[n]);
                if stay_a.body != stay_b.body {
                    continue;
                }
                let way = neighbours::apart((a, stay_a), (b, stay_b)).way;
                let square = way.dot(way);
                if square <= reach * reach {
                    found.near.push(Near {
                        key: [short(a.fastener), short(b.fastener), short(stay_a.body)],
                        stays: [short(m), short(n)],
                        rods: [short(i), short(j)],
                        square,
                    });
                }
            }
        }
        found.hits.extend(clash(a, b, places).map(|it| Clash { a: a.fastener, b: b.fastener, ..it }));
    }

    /// Neighbours as others see them.
    fn told(&self, near: &Near, prisms: &[Prism]) -> Neighbours {
        let [a, b] = near.rods.map(|it| &self.list[it as usize]);
        let [stay_a, stay_b] = near.stays.map(|it| &self.stays[it as usize]);
        let apart = neighbours::apart((a, stay_a), (b, stay_b));
        neighbours::split((a, stay_a), b, apart, prisms[stay_a.body].grain)
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
