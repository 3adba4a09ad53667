//! Chains of dimensions through fasteners: from one edge of the member that holds them over each of them to its
//! other edge, so that edge distances, end distances and pitch can be read; and the bite itself.

use kurbo::{Point, Rect};

use super::Sized;
use super::layout::Measure;
use crate::drawing::pen::Scene;
use crate::drawing::shanks::HEAD_ON_BELOW;
use crate::trace::{Owner, Shank};

/// A shank that leaves the directions of the paper by more than this much of its length has no place in a chain.
const STRAIGHT: f64 = 0.02;

/// Places closer than this on paper are one.
const SAME_MM: f64 = 0.3;

/// Of more places than this in one member a chain would be a comb that nobody reads.
const MOST_PLACES: usize = 8;

/// A chain with a link shorter than this on paper would need leaders, and takes the room of marks.
const SHORTEST_LINK_MM: f64 = 7.0;

/// Measures to the right, and upward.
#[derive(Default)]
pub(super) struct Chains {
    pub(super) across: Vec<Measure>,
    pub(super) upward: Vec<Measure>,
}

/// The chains of all members that hold fasteners, and what each fastener bites.
pub(super) fn all(scene: &Scene<'_>, boxes: &[Sized]) -> Chains {
    let mut chains = Chains::default();
    for one in boxes.iter().filter(|it| it.is_upright) {
        let held: Vec<&Shank> = scene
            .inputs
            .trace
            .fasteners
            .iter()
            .filter(|shank| member_of(scene, shank) == Some(one.member) && shank.head_at.x.is_finite())
            .collect();
        if held.is_empty() {
            continue;
        }
        let axes = scene.dimensioned(one.member);
        let at = one.at;
        let (mut xs, mut ys, mut bites) = (Vec::new(), Vec::new(), Vec::new());
        for shank in held {
            let place = scene.view.on_paper(shank.head_at);
            let flat = scene.direction(shank.toward);
            if flat.hypot() < HEAD_ON_BELOW {
                xs.push(place.x);
                ys.push(place.y);
            } else if flat.x.abs() < STRAIGHT {
                xs.push(place.x);
                bites.extend(bite(scene, shank, at));
            } else if flat.y.abs() < STRAIGHT {
                ys.push(place.y);
                bites.extend(bite(scene, shank, at));
            }
        }
        if axes.0 {
            let link = |a: f64, b: f64| Measure::between(Point::new(a, at.y1), Point::new(b, at.y1));
            chains.across.extend(links(xs, (at.x0, at.x1)).into_iter().map(|(a, b)| link(a, b)));
        }
        if axes.1 {
            let link = |a: f64, b: f64| Measure::between(Point::new(at.x1, b), Point::new(at.x1, a));
            chains.upward.extend(links(ys, (at.y0, at.y1)).into_iter().map(|(a, b)| link(a, b)));
        }
        // Where bites differ the schedule tells them; here they would take the room of gaps.
        let first = bites.first().copied();
        let is_one =
            |it: &(bool, Measure)| first.is_some_and(|first| it.0 == first.0 && it.1.spans(&first.1));
        let one_bite = first.filter(|_| bites.iter().all(is_one));
        if let Some((is_level, measure)) = one_bite {
            if is_level && axes.0 {
                chains.across.push(measure);
            } else if !is_level && axes.1 {
                chains.upward.push(measure);
            }
        }
    }
    chains
}

fn member_of(scene: &Scene<'_>, shank: &Shank) -> Option<usize> {
    let body = scene.inputs.trace.bodies.get(shank.holding?.body.0)?;
    match body.owner {
        Owner::Member(n) => Some(n),
        Owner::Plate { .. } => None,
    }
}

/// From edge to edge over every place between; none where a place lies outside or there are too many.
fn links(mut places: Vec<f64>, (from, to): (f64, f64)) -> Vec<(f64, f64)> {
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < SAME_MM);
    let is_inside = |it: &f64| from + SAME_MM < *it && *it < to - SAME_MM;
    if places.is_empty() || MOST_PLACES < places.len() || !places.iter().all(is_inside) {
        return Vec::new();
    }
    places.insert(0, from);
    places.push(to);
    if places.windows(2).any(|it| it[1] - it[0] < SHORTEST_LINK_MM) {
        return Vec::new();
    }
    places.windows(2).map(|it| (it[0], it[1])).collect()
}

/// The bite of a shank that lies along the paper, and whether it is level; `None` where it goes all through the
/// member, whose own size says it, or where the head sits in it.
fn bite(scene: &Scene<'_>, shank: &Shank, at: Rect) -> Option<(bool, Measure)> {
    let holding = shank.holding?;
    if 0.0 < holding.point_out_mm || holding.enters_at_mm <= 0.0 {
        return None;
    }
    let end = |s: f64| scene.view.on_paper(shank.head_at + shank.toward * s);
    let (a, b) = (end(holding.enters_at_mm), end(shank.length_mm));
    let is_level = (a.y - b.y).abs() < (a.x - b.x).abs();
    let measure = if is_level {
        Measure::between(Point::new(a.x, at.y1), Point::new(b.x, at.y1))
    } else {
        Measure::between(Point::new(at.x1, a.y), Point::new(at.x1, b.y))
    };
    let long = if is_level { at.width() } else { at.height() };
    ((a - b).hypot() < long - SAME_MM).then_some((is_level, measure))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chain_runs_from_edge_to_edge_over_every_place_once() {
        let found = links(vec![30.0, 10.0, 10.1], (0.0, 50.0));
        assert_eq!(found, [(0.0, 10.0), (10.0, 30.0), (30.0, 50.0)]);
        assert!(links(vec![60.0], (0.0, 50.0)).is_empty(), "outside");
        assert!(links(Vec::new(), (0.0, 50.0)).is_empty());
        assert!(links(vec![47.0], (0.0, 50.0)).is_empty(), "a link too short for its figure");
        assert!(links((1..20).map(f64::from).collect(), (0.0, 50.0)).is_empty(), "a comb");
    }
}
