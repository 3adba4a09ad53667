//! Members that a load may split along their grain, held against what the standard of the joint says of that.

use std::collections::BTreeMap;

use super::Splits;
use super::bodies::Group;
use super::judged;
use super::loads::Share;
use super::solve::{Case, Solver};
use crate::standard::capacity::Split;
use crate::unit::Vec3;

/// What is known of one member in one case.
#[derive(Clone, Copy, Debug, Default)]
struct Pushed {
    /// All that the fasteners push it with.
    force: Vec3,
    /// The greatest length of a shank in it.
    width_mm: f64,
}

/// The hardest case of every member that is pushed across its grain. None where the standard has no rule for it.
pub(super) fn splits(solver: &Solver<'_>) -> Vec<Splits> {
    let mut worst: BTreeMap<usize, Splits> = BTreeMap::new();
    for (at, case) in solver.cases.iter().enumerate() {
        for (member, pushed) in pushed(solver, case) {
            let Some(found) = split(solver, (at, case), member, pushed) else { continue };
            if worst.get(&member).is_none_or(|it| it.ratio < found.ratio) {
                let _ = worst.insert(member, found);
            }
        }
    }
    worst.into_values().collect()
}

/// What the fasteners of a case push each member with, along the member's own depth and grain together.
fn pushed(solver: &Solver<'_>, case: &Case) -> BTreeMap<usize, Pushed> {
    let mut found: BTreeMap<usize, Pushed> = BTreeMap::new();
    for (ix, share) in &case.path.shares {
        for (at, station) in solver.joined[*ix].stations.iter().enumerate() {
            let Group::Member(member) = station.group else { continue };
            let it = found.entry(member).or_default();
            it.force = it.force + on_station(share, at);
            it.width_mm = it.width_mm.max(station.length_mm);
        }
    }
    found
}

/// What a shank pushes the body of a station with: what comes to it across the plane before, less what goes on
/// across the plane behind.
fn on_station(share: &Share, at: usize) -> Vec3 {
    let crossed = |plane: usize| {
        share.planes.get(plane).filter(|it| !it.is_at_most).map_or(Vec3::default(), |it| it.force)
    };
    let before = at.checked_sub(1).map_or(Vec3::default(), crossed);
    before - crossed(at)
}

fn split(solver: &Solver<'_>, (at, case): (usize, &Case), member: usize, pushed: Pushed) -> Option<Splits> {
    let scene = solver.scene;
    let of = scene.joint.members.get(member)?;
    let grain = of.grain.direction()?;
    let across = pushed.force - grain * pushed.force.dot(grain);
    let demand_n = across.length();
    let toward = across.unit().filter(|_| judged::LEAST_N < demand_n)?;
    let (low, high) = reach(solver, member, toward)?;
    let touching = solver.touching.get(&Group::Member(member))?;
    let in_case = touching.iter().filter(|it| case.path.shares.contains_key(it));
    // From the edge that it is pushed towards to the fastener that is farthest from it.
    let far_mm = in_case
        .flat_map(|ix| {
            let fact = &solver.facts[*ix];
            let stations = solver.joined[*ix].stations.iter();
            let of_it = stations.filter(|it| it.group == Group::Member(member));
            of_it.map(|it| high - fact.at((it.from_mm + it.to_mm) / 2.0).dot(toward)).collect::<Vec<_>>()
        })
        .fold(0.0, f64::max);
    let asked = Split {
        material: &of.material,
        far_mm,
        depth_mm: high - low,
        width_mm: pushed.width_mm,
        service: scene.joint.service,
        duration: case.told.duration,
        conditions: scene.joint.conditions,
    };
    let value = scene.rules.splitting(&asked)?;
    let ratio = value.as_ref().ok().map(|it| judged::ratio(demand_n, it.adjusted_n));
    Some(Splits { member: of.id.clone(), case: at, value, demand_n, ratio })
}

/// How far a member reaches along a direction.
fn reach(solver: &Solver<'_>, member: usize, toward: Vec3) -> Option<(f64, f64)> {
    let scene = solver.scene;
    let body = scene.trace.bodies.iter().find(|it| it.owner == crate::trace::Owner::Member(member))?;
    let flat = toward.x.hypot(toward.y);
    let (mut low, mut high) = (0.0, 0.0);
    if 0.0 < flat {
        // Turned so that the direction is the first axis.
        let turned = kurbo::Affine::rotate(-toward.y.atan2(toward.x)) * body.region.to_path();
        let bounds = kurbo::Shape::bounding_box(&turned);
        (low, high) = (bounds.x0 * flat, bounds.x1 * flat);
    }
    let ends = [body.far_mm * toward.z, body.near_mm * toward.z];
    Some((low + ends[0].min(ends[1]), high + ends[0].max(ends[1])))
}
