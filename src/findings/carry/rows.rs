//! Rows: fasteners of one pair of bodies, in a line along the load.

use std::collections::BTreeMap;

use super::bodies::{Group, Joined};
use super::loads::Path;
use crate::findings::scene::Fact;
use crate::standard::capacity::Row;
use crate::unit::Vec3;

/// Shanks whose directions differ by less stand side by side; the numbers are parts of a unit vector.
const SAME_WAY: f64 = 1e-3;

/// The rows of one case.
#[derive(Clone, Debug, Default)]
pub(super) struct Rows(BTreeMap<(usize, usize), Row>);

impl Rows {
    /// The row that the plane of this fastener stands in; `None` for a row of one.
    pub(super) fn of(&self, fastener: usize, plane: usize) -> Option<Row> {
        self.0.get(&(fastener, plane)).copied()
    }
}

/// Fasteners that may stand in one row: same bodies, same size, same direction, pushed the same way.
type Alike = (Group, Group, [i64; 7]);

struct Stood {
    key: (usize, usize),
    across_mm: f64,
    along_mm: f64,
}

/// The rows along what a case asks of each plane.
pub(super) fn rows(facts: &[Fact<'_>], joined: &[Joined<'_>], path: &Path) -> Rows {
    let mut alike: BTreeMap<Alike, (Vec<Stood>, f64, f64)> = BTreeMap::new();
    for (ix, share) in &path.shares {
        let (fact, joined) = (&facts[*ix], &joined[*ix]);
        let axis = fact.shank.toward;
        for (plane, crossed) in share.planes.iter().enumerate() {
            let Some(toward) = (crossed.force - axis * crossed.force.dot(axis)).unit() else { continue };
            let (side, main) = (&joined.stations[plane], &joined.stations[plane + 1]);
            let toward = same_sense(toward);
            let at = fact.at(side.to_mm);
            let key = (side.group, main.group, sort(fact, axis, toward));
            let to_grain = [side.last, main.first]
                .into_iter()
                .filter_map(|it| fact.scene.body(it).and_then(|it| it.grain.direction()))
                .map(|it| toward.cross(it).length().atan2(toward.dot(it).abs()).to_degrees())
                .fold(90.0, f64::min);
            let stood =
                Stood { key: (*ix, plane), across_mm: at.dot(axis.cross(toward)), along_mm: at.dot(toward) };
            let entry = alike.entry(key).or_insert((Vec::new(), fact.fastener.spec.diameter_mm, to_grain));
            entry.0.push(stood);
            entry.2 = entry.2.min(to_grain);
        }
    }
    let mut rows = BTreeMap::new();
    for (_, (mut list, diameter_mm, to_grain_deg)) in alike {
        list.sort_by(|a, b| a.across_mm.total_cmp(&b.across_mm));
        let mut rest = list.as_mut_slice();
        while let Some(first) = rest.first().map(|it| it.across_mm) {
            // Out of line by less than a diameter is in one row. Common practice.
            let in_row = rest.partition_point(|it| it.across_mm - first < diameter_mm);
            let (row, others) = rest.split_at_mut(in_row);
            row.sort_by(|a, b| a.along_mm.total_cmp(&b.along_mm));
            let pitch_mm =
                row.windows(2).map(|it| it[1].along_mm - it[0].along_mm).fold(f64::INFINITY, f64::min);
            if 1 < row.len() {
                let found = Row { count: row.len(), pitch_mm, to_grain_deg };
                rows.extend(row.iter().map(|it| (it.key, found)));
            }
            rest = others;
        }
    }
    Rows(rows)
}

/// A load up and a load down make the same row.
fn same_sense(toward: Vec3) -> Vec3 {
    let first = [toward.x, toward.y, toward.z].into_iter().find(|it| SAME_WAY < it.abs());
    if first.is_some_and(|it| it < 0.0) { -toward } else { toward }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "unit vectors in thousandths, and diameters in hundredths"
)]
fn sort(fact: &Fact<'_>, axis: Vec3, toward: Vec3) -> [i64; 7] {
    let step = |it: f64| (it / SAME_WAY).round() as i64;
    let axis = same_sense(axis);
    [
        step(axis.x),
        step(axis.y),
        step(axis.z),
        step(toward.x),
        step(toward.y),
        step(toward.z),
        (fact.fastener.spec.diameter_mm * 100.0).round() as i64,
    ]
}
