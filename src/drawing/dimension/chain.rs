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
        let shanks = scene.inputs.joint.fasteners.iter().zip(&scene.inputs.trace.fasteners);
        let is_held =
            |shank: &Shank| member_of(scene, shank) == Some(one.member) && shank.head_at.x.is_finite();
        let held: Vec<(&str, &Shank)> = shanks
            .filter(|it| is_held(it.1))
            .map(|(fastener, shank)| (fastener.id.as_str(), shank))
            .collect();
        if held.is_empty() {
            continue;
        }
        let axes = scene.dimensioned(one.member);
        let goes_on = scene.goes_on(one.member);
        let at = one.at;
        let id = super::member_id(scene, one.member);
        let (mut xs, mut ys, mut bites) = (Vec::new(), Vec::new(), Vec::new());
        for (fastener, shank) in held {
            let place = scene.view.on_paper(shank.head_at);
            let flat = scene.direction(shank.toward);
            if flat.hypot() < HEAD_ON_BELOW {
                xs.push((place.x, fastener));
                ys.push((place.y, fastener));
            } else if flat.x.abs() < STRAIGHT {
                xs.push((place.x, fastener));
                bites.extend(bite(scene, shank, (at, id)));
            } else if flat.y.abs() < STRAIGHT {
                ys.push((place.y, fastener));
                bites.extend(bite(scene, shank, (at, id)));
            }
        }
        if axes.0 {
            let link = |it: Link<'_>| {
                let ends = (Point::new(it.from, at.y1), Point::new(it.to, at.y1));
                Measure::between(ends.0, ends.1, format!("{id} across {}", it.words()))
            };
            chains.across.extend(links(xs, (at.x0, at.x1), !goes_on.0).into_iter().map(link));
        }
        if axes.1 {
            let link = |it: Link<'_>| {
                let ends = (Point::new(at.x1, it.to), Point::new(at.x1, it.from));
                Measure::between(ends.0, ends.1, format!("{id} up {}", it.words()))
            };
            chains.upward.extend(links(ys, (at.y0, at.y1), !goes_on.1).into_iter().map(link));
        }
        // Where bites differ the schedule tells them; here they would take the room of gaps.
        let is_one = |it: &(bool, Measure)| it.0 == bites[0].0 && it.1.spans(&bites[0].1);
        let is_single = !bites.is_empty() && bites.iter().all(is_one);
        if let Some((is_level, measure)) = bites.into_iter().next().filter(|_| is_single) {
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

/// One link of a chain: between which places, and of which fasteners these are; none of an edge.
#[derive(Debug, PartialEq)]
struct Link<'a> {
    from: f64,
    to: f64,
    of: (&'a str, &'a str),
}

impl Link<'_> {
    /// Its ends in words, the same however long it is.
    fn words(&self) -> String {
        let word = |it: &str| if it.is_empty() { "edge".to_owned() } else { it.to_owned() };
        format!("{} to {}", word(self.of.0), word(self.of.1))
    }
}

/// From edge to edge over every place between, or from place to place where there are no edges; none where a place
/// lies outside or there are too many.
fn links<'a>(mut places: Vec<(f64, &'a str)>, (from, to): (f64, f64), has_edges: bool) -> Vec<Link<'a>> {
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places.dedup_by(|a, b| (a.0 - b.0).abs() < SAME_MM);
    let is_inside = |it: &(f64, &str)| from + SAME_MM < it.0 && it.0 < to - SAME_MM;
    if places.is_empty() || MOST_PLACES < places.len() || !places.iter().all(is_inside) {
        return Vec::new();
    }
    if has_edges {
        places.insert(0, (from, ""));
        places.push((to, ""));
    }
    if places.windows(2).any(|it| it[1].0 - it[0].0 < SHORTEST_LINK_MM) {
        return Vec::new();
    }
    let link = |it: &[(f64, &'a str)]| Link { from: it[0].0, to: it[1].0, of: (it[0].1, it[1].1) };
    places.windows(2).map(link).collect()
}

/// The bite of a shank that lies along the paper, and whether it is level; `None` where it goes all through the
/// member, whose own size says it, or where the head sits in it.
fn bite(scene: &Scene<'_>, shank: &Shank, (at, id): (Rect, &str)) -> Option<(bool, Measure)> {
    let holding = shank.holding?;
    if 0.0 < holding.point_out_mm || holding.enters_at_mm <= 0.0 {
        return None;
    }
    let end = |s: f64| scene.view.on_paper(shank.head_at + shank.toward * s);
    let (a, b) = (end(holding.enters_at_mm), end(shank.length_mm));
    let is_level = (a.y - b.y).abs() < (a.x - b.x).abs();
    let measure = if is_level {
        Measure::between(Point::new(a.x, at.y1), Point::new(b.x, at.y1), format!("{id} bite"))
    } else {
        Measure::between(Point::new(at.x1, a.y), Point::new(at.x1, b.y), format!("{id} bite"))
    };
    let long = if is_level { at.width() } else { at.height() };
    ((a - b).hypot() < long - SAME_MM).then_some((is_level, measure))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chain_runs_from_edge_to_edge_over_every_place_once() {
        let found = links(vec![(30.0, "b"), (10.0, "a"), (10.1, "c")], (0.0, 50.0), true);
        let link = |from, to, of| Link { from, to, of };
        assert_eq!(
            found,
            [link(0.0, 10.0, ("", "a")), link(10.0, 30.0, ("a", "b")), link(30.0, 50.0, ("b", ""))]
        );
        assert_eq!(found[0].words(), "edge to a");
        let links =
            |places: Vec<f64>, ends| links(places.into_iter().map(|it| (it, "")).collect(), ends, true);
        assert!(links(vec![60.0], (0.0, 50.0)).is_empty(), "outside");
        assert!(links(Vec::new(), (0.0, 50.0)).is_empty());
        assert!(links(vec![47.0], (0.0, 50.0)).is_empty(), "a link too short for its figure");
        assert!(links((1..20).map(f64::from).collect(), (0.0, 50.0)).is_empty(), "a comb");
    }
}
