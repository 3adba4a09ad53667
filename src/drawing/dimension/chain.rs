//! Chains of dimensions through fasteners: from one edge of the member that holds them over each of them to its
//! other edge, so that edge distances, end distances and pitch can be read; and the bite itself.

use kurbo::{Point, Rect};

use super::heads::{ByMember, Placed};
use super::layout::Measure;
use super::{Group, Sized};
use crate::drawing::pen::Scene;
use crate::stock::FastenerKind;
use crate::trace::Shank;

/// Places closer than this on paper are one.
const SAME_MM: f64 = 0.3;

/// Of more links than this in one member a chain would be a comb that nobody reads.
const MOST_LINKS: usize = 9;

/// Steps are equal that differ by less than this part.
const SAME_STEP: f64 = 1e-3;

/// A link shorter than this on paper needs a leader, and takes the room of marks.
const SHORTEST_LINK_MM: f64 = 7.0;

/// Heads closer than this on paper lie behind each other.
const BEHIND_MM: f64 = 2.0;

/// Of more than this in one member some are taken to lie behind each other.
const CROWD: usize = 100;

/// So many short links of a chain have leaders; a chain with more of them is a comb too.
const MOST_SHORT: usize = 2;

/// A link shorter than this on paper cannot be told from a line.
const LEAST_LINK_MM: f64 = 1.0;

/// Chains to the right, and upward.
#[derive(Default)]
pub(super) struct Chains {
    pub(super) across: Vec<Group>,
    pub(super) upward: Vec<Group>,
}

/// The chains of all members that fasteners end in or pass through, and what each fastener bites.
pub(super) fn all(
    scene: &Scene<'_>,
    boxes: &[Sized],
    (held, passing): &(ByMember<'_>, ByMember<'_>),
) -> Chains {
    let mut chains = Chains::default();
    for one in boxes.iter().filter(|it| it.is_upright) {
        if let Some(held) = held.get(&one.member) {
            of_member(scene, one, held, &mut chains);
            if !is_framed(scene, held) {
                bites(scene, one, held, &mut chains);
            }
        }
    }
    // What they pass through before: only where its edges lie elsewhere this tells more.
    for one in boxes.iter().filter(|it| it.is_upright) {
        if let Some(passing) = passing.get(&one.member) {
            let known = (chains.across.len(), chains.upward.len());
            of_member(scene, one, passing, &mut chains);
            let gives_way = has_one_behind_another(passing);
            let new = chains.across[known.0..].iter_mut().chain(&mut chains.upward[known.1..]);
            new.for_each(|it| it.gives_way = gives_way);
        }
    }
    chains
}

/// Whether the heads of two lie behind each other; of a crowd, whatever it is.
fn has_one_behind_another(of: &[Placed<'_>]) -> bool {
    let is_one = |a: &Placed<'_>, b: &Placed<'_>| (a.at - b.at).hypot() < BEHIND_MM;
    CROWD < of.len() || (1..of.len()).any(|n| of[..n].iter().any(|it| is_one(it, &of[n])))
}

/// Whether a detail shows all of these larger.
fn is_framed(scene: &Scene<'_>, of: &[Placed<'_>]) -> bool {
    scene.manner.frame.is_some_and(|frame| of.iter().all(|it| frame.at.contains(it.at)))
}

/// Which places of these in a member are told in this view, to the right and upward: not those that a detail shows
/// larger from an end of the member.
fn told_here(scene: &Scene<'_>, member: usize, of: &[Placed<'_>]) -> (bool, bool) {
    let axes = scene.axes();
    let Some(frame) = scene.manner.frame.filter(|_| is_framed(scene, of)) else { return axes };
    let has_end = frame.has_end.get(member).copied().unwrap_or((true, true));
    (axes.0 && !has_end.0, axes.1 && !has_end.1)
}

/// Chains through these fasteners from edge to edge of a member.
fn of_member(scene: &Scene<'_>, one: &Sized, of: &[Placed<'_>], chains: &mut Chains) {
    let axes = told_here(scene, one.member, of);
    let is_end = scene.ends(one.member, one.at);
    let (at, id) = (one.at, super::member_id(scene, one.member));
    if axes.0 {
        let places = of.iter().filter(|it| it.tells.0).map(|it| (it.at.x, *it)).collect();
        let ends = [(at.x0, is_end.0[0]), (at.x1, is_end.0[1])];
        chains.across.extend(chain(places, ends, |link| {
            let edge = |x: f64| (Point::new(x, at.y0), Point::new(x, at.y1));
            let what = format!("{id} across {}", link.words());
            Measure::of_edges(edge(link.from), edge(link.to), what).of_steps(link.steps)
        }));
    }
    if axes.1 {
        let places = of.iter().filter(|it| it.tells.1).map(|it| (it.at.y, *it)).collect();
        let ends = [(at.y0, is_end.1[0]), (at.y1, is_end.1[1])];
        chains.upward.extend(chain(places, ends, |link| {
            let edge = |y: f64| (Point::new(at.x0, y), Point::new(at.x1, y));
            let what = format!("{id} up {}", link.words());
            Measure::of_edges(edge(link.to), edge(link.from), what).of_steps(link.steps)
        }));
    }
}

/// A way to set links over places between the ends of a member.
type Through = for<'p> fn(Vec<(f64, &'p str)>, [End; 2]) -> Vec<Link<'p>>;

/// One chain through all places. Where that would be a comb, one whose equal steps are told together, or one without
/// those that lean; else one for slender fasteners and one for thick ones, where there are several; and at least where
/// the first and the last of them are.
fn chain<'a>(
    places: Vec<(f64, Placed<'a>)>,
    ends: [End; 2],
    measure: impl Fn(&Link<'a>) -> Measure,
) -> Vec<Group> {
    let group = |of: &[(f64, Placed<'a>)], ways: &[Through]| {
        let places: Vec<(f64, &str)> = of.iter().map(|it| (it.0, it.1.id)).collect();
        let links = ways.iter().map(|way| way(places.clone(), ends)).find(|it| !it.is_empty())?;
        let measures: Vec<Measure> = links.iter().map(&measure).collect();
        let heads = of.iter().map(|it| it.1.at).collect();
        Some(Group { measures, heads, gives_way: false })
    };
    let each: [Through; 2] = [links, joined];
    if let Some(all) = group(&places, &each) {
        return vec![all];
    }
    let straight: Vec<(f64, Placed<'a>)> = places.iter().filter(|it| !it.1.leans).copied().collect();
    if straight.len() < places.len()
        && let Some(all) = group(&straight, &each)
    {
        return vec![all];
    }
    let mut kinds: Vec<Vec<(f64, Placed<'a>)>> = Vec::new();
    for it in &places {
        let is_like = |other: &Vec<(f64, Placed<'_>)>| is_slender(other[0].1) == is_slender(it.1);
        match kinds.iter_mut().find(|kind| is_like(kind)) {
            Some(kind) => kind.push(*it),
            None => kinds.push(vec![*it]),
        }
    }
    if 1 < kinds.len() {
        let several = kinds.iter().filter(|it| 1 < it.len());
        let found: Vec<Group> = several.filter_map(|it| group(it, &each)).collect();
        if !found.is_empty() {
            return found;
        }
    }
    group(&places, &[outermost, nearest]).into_iter().collect()
}

/// Nails and screws that share the holes of nails, told apart from bolts and the like.
fn is_slender(it: Placed<'_>) -> bool {
    use FastenerKind::{Bolt, LagScrew, ThreadedRod};
    !matches!(it.spec.kind, Bolt | LagScrew | ThreadedRod)
}

/// What fasteners bite, where all bite alike. Where bites differ the schedule tells them; here they would take the
/// room of gaps.
fn bites(scene: &Scene<'_>, one: &Sized, held: &[Placed<'_>], chains: &mut Chains) {
    let (axes, at) = (scene.dimensioned(one.member), one.at);
    let lying = held.iter().filter(|it| !it.leans && it.tells != (true, true));
    let bites: Vec<Bite> = lying.filter_map(|it| bite(scene, it.shank, at)).collect();
    let Some(first) = bites.first() else { return };
    let is_one = |it: &Bite| {
        let apart = (it.from - first.from).abs() + (it.to - first.to).abs();
        it.is_level == first.is_level && apart < SAME_MM
    };
    if !bites.iter().all(is_one) {
        return;
    }
    let reach = bites.iter().map(|it| it.beside);
    let (low, high) = reach.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), it| (a.min(it), b.max(it)));
    let what = format!("{} bite", super::member_id(scene, one.member));
    // From the face that it enters, and from the points that are outermost.
    if first.is_level && axes.0 {
        let edge = |x: f64, (a, b): (f64, f64)| (Point::new(x, a), Point::new(x, b));
        let measure = Measure::of_edges(edge(first.from, (at.y0, at.y1)), edge(first.to, (low, high)), what);
        chains.across.push(Group::one(measure.ending_inside()));
    } else if !first.is_level && axes.1 {
        let edge = |y: f64, (a, b): (f64, f64)| (Point::new(a, y), Point::new(b, y));
        let measure = Measure::of_edges(edge(first.from, (at.x0, at.x1)), edge(first.to, (low, high)), what);
        chains.upward.push(Group::one(measure.ending_inside()));
    }
}

/// One link of a chain: between which places, and of which fasteners these are; none of an edge.
#[derive(Debug, PartialEq)]
struct Link<'a> {
    from: f64,
    to: f64,
    of: (&'a str, &'a str),
    /// Equal steps that it goes over, one for each fastener.
    steps: usize,
}

impl Link<'_> {
    /// Whether its steps are so long.
    fn is_of_steps(&self, step: f64) -> bool {
        let own = (self.to - self.from) / f64::from(u32::try_from(self.steps).unwrap_or(u32::MAX));
        (own - step).abs() < SAME_STEP * own
    }

    /// Its ends in words, the same however long it is.
    fn words(&self) -> String {
        let word = |it: &str| if it.is_empty() { "edge".to_owned() } else { it.to_owned() };
        format!("{} to {}", word(self.of.0), word(self.of.1))
    }
}

/// An end of a member: where it is, and whether it is an edge and not broken off.
type End = (f64, bool);

/// From edge to edge over every place between, or from place to place where there is no edge; none where no place lies
/// between or there are too many.
fn links<'a>(places: Vec<(f64, &'a str)>, ends: [End; 2]) -> Vec<Link<'a>> {
    in_order(places, ends).map_or_else(Vec::new, |it| readable(steps(&it)))
}

/// The same with steps that are equal and follow each other told as one: `5 × 1 1/2"`.
fn joined<'a>(places: Vec<(f64, &'a str)>, ends: [End; 2]) -> Vec<Link<'a>> {
    let Some(places) = in_order(places, ends) else { return Vec::new() };
    let mut links: Vec<Link<'a>> = Vec::new();
    for it in places.windows(2) {
        let (from, to) = (it[0].0, it[1].0);
        // Distances from an edge are no pitch.
        let is_pitch = !it[0].1.is_empty() && !it[1].1.is_empty();
        match links.last_mut() {
            Some(last) if is_pitch && !last.of.0.is_empty() && last.is_of_steps(to - from) => {
                (last.to, last.of.1, last.steps) = (to, it[1].1, last.steps + 1);
            }
            _ => links.push(Link { from, to, of: (it[0].1, it[1].1), steps: 1 }),
        }
    }
    readable(links)
}

/// From edge to edge over the first and the last place, whatever lies between.
fn outermost<'a>(places: Vec<(f64, &'a str)>, ends: [End; 2]) -> Vec<Link<'a>> {
    let Some(places) = in_order(places, ends) else { return Vec::new() };
    let is_place = |it: &&(f64, &str)| !it.1.is_empty();
    let mut of = places.iter().filter(is_place);
    let (Some(first), last) = (of.next(), of.next_back()) else { return Vec::new() };
    let mut kept = vec![*first];
    kept.extend(last);
    readable(in_order(kept, ends).map_or_else(Vec::new, |it| steps(&it)))
}

/// From the nearest edge to the place next to it that leaves room for its figure.
fn nearest<'a>(places: Vec<(f64, &'a str)>, ends: [End; 2]) -> Vec<Link<'a>> {
    let Some(places) = in_order(places, ends) else { return Vec::new() };
    let links = steps(&places);
    let of_edge = links.into_iter().filter(|it| it.of.0.is_empty() || it.of.1.is_empty());
    let readable = of_edge.filter(|it| SHORTEST_LINK_MM <= it.to - it.from);
    readable.min_by(|a, b| (a.to - a.from).total_cmp(&(b.to - b.from))).into_iter().collect()
}

/// From each place to the next.
fn steps<'a>(places: &[(f64, &'a str)]) -> Vec<Link<'a>> {
    let link = |it: &[(f64, &'a str)]| Link { from: it[0].0, to: it[1].0, of: (it[0].1, it[1].1), steps: 1 };
    places.windows(2).map(link).collect()
}

/// The places inside rising, each once, with the edges; none where no place lies inside.
fn in_order(
    mut places: Vec<(f64, &str)>,
    [(from, has_first), (to, has_last)]: [End; 2],
) -> Option<Vec<(f64, &str)>> {
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places.dedup_by(|a, b| (a.0 - b.0).abs() < SAME_MM);
    let is_inside = |it: &(f64, &str)| from + SAME_MM < it.0 && it.0 < to - SAME_MM;
    places.retain(is_inside);
    if places.is_empty() {
        return None;
    }
    if has_first {
        places.insert(0, (from, ""));
    }
    if has_last {
        places.push((to, ""));
    }
    Some(places)
}

/// The links of a chain that can be read; none of one that would be a comb.
fn readable(links: Vec<Link<'_>>) -> Vec<Link<'_>> {
    let short: Vec<f64> =
        links.iter().map(|it| it.to - it.from).filter(|it| *it < SHORTEST_LINK_MM).collect();
    let is_comb = MOST_LINKS < links.len() || MOST_SHORT < short.len() || links.len() <= 2 * short.len();
    if is_comb || short.iter().any(|it| *it < LEAST_LINK_MM) { Vec::new() } else { links }
}

/// The bite of a shank that lies along the paper.
struct Bite {
    is_level: bool,
    /// Where it enters the member and where its point ends, along the shank.
    from: f64,
    to: f64,
    /// Where it lies beside.
    beside: f64,
}

/// `None` where it goes all through the member, whose own size says it, or where the head sits in it.
fn bite(scene: &Scene<'_>, shank: &Shank, at: Rect) -> Option<Bite> {
    let holding = shank.holding?;
    if 0.0 < holding.point_out_mm || holding.enters_at_mm <= 0.0 {
        return None;
    }
    let end = |s: f64| scene.view.on_paper(shank.head_at + shank.toward * s);
    let (a, b) = (end(holding.enters_at_mm), end(shank.length_mm));
    let is_level = (a.y - b.y).abs() < (a.x - b.x).abs();
    let (from, to, beside) = if is_level { (a.x, b.x, b.y) } else { (a.y, b.y, b.x) };
    let long = if is_level { at.width() } else { at.height() };
    ((a - b).hypot() < long - SAME_MM).then_some(Bite { is_level, from, to, beside })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn whole((from, to): (f64, f64)) -> [End; 2] {
        [(from, true), (to, true)]
    }

    #[test]
    fn a_chain_begins_at_an_edge_that_is_shown_and_not_where_the_member_is_broken_off() {
        let found = links(vec![(10.0, "a"), (20.0, "b")], [(0.0, false), (38.0, true)]);
        let told: Vec<(f64, f64)> = found.iter().map(|it| (it.from, it.to)).collect();
        assert_eq!(told, [(10.0, 20.0), (20.0, 38.0)]);
    }

    #[test]
    fn a_chain_runs_from_edge_to_edge_over_every_place_once() {
        let found = links(vec![(30.0, "b"), (10.0, "a"), (10.1, "c")], whole((0.0, 50.0)));
        let link = |from, to, of| Link { from, to, of, steps: 1 };
        assert_eq!(
            found,
            [link(0.0, 10.0, ("", "a")), link(10.0, 30.0, ("a", "b")), link(30.0, 50.0, ("b", ""))]
        );
        assert_eq!(found[0].words(), "edge to a");
        let links = |places: Vec<f64>, ends| links(places.into_iter().map(|it| (it, "")).collect(), ends);
        assert!(links(vec![60.0], whole((0.0, 50.0))).is_empty(), "outside");
        assert!(links(Vec::new(), whole((0.0, 50.0))).is_empty());
        assert!(links(vec![47.0], whole((0.0, 50.0))).is_empty(), "a link too short for its figure");
        assert!(links((1..20).map(f64::from).collect(), whole((0.0, 50.0))).is_empty(), "a comb");
        assert_eq!(links(vec![10.0, 60.0], whole((0.0, 50.0))).len(), 2, "one of them is inside");
    }

    #[test]
    fn of_a_comb_at_least_the_first_and_the_last_place_are_told() {
        let comb: Vec<(f64, &str)> = (0..20).map(|it| (30.0 + f64::from(it * it) / 9.0, "n")).collect();
        assert!(links(comb.clone(), whole((0.0, 100.0))).is_empty());
        assert!(joined(comb.clone(), whole((0.0, 100.0))).is_empty());
        let told = |links: Vec<Link<'_>>| links.iter().map(|it| (it.from, it.to)).collect::<Vec<_>>();
        let last = 30.0 + 361.0 / 9.0;
        assert_eq!(told(outermost(comb, whole((0.0, 100.0)))), [(0.0, 30.0), (30.0, last), (last, 100.0)]);
        // Too near to an edge for its figure, a place is told from the other one.
        assert!(outermost(vec![(47.0, "a")], whole((0.0, 50.0))).is_empty());
        assert_eq!(told(nearest(vec![(47.0, "a")], whole((0.0, 50.0)))), [(0.0, 47.0)]);
        assert_eq!(told(nearest(vec![(38.0, "a")], whole((0.0, 50.0)))), [(38.0, 50.0)]);
        assert!(
            nearest(vec![(38.0, "a")], [(0.0, false), (50.0, false)]).is_empty(),
            "broken off at both ends"
        );
    }

    #[test]
    fn equal_steps_of_a_row_are_told_together_and_its_distances_from_edges_are_not() {
        let places: Vec<(f64, &str)> = (1..=12).map(|it| (f64::from(it) * 5.0, "n")).collect();
        let found = joined(places.clone(), whole((-2.5, 62.5)));
        let told: Vec<(f64, f64, usize)> = found.iter().map(|it| (it.from, it.to, it.steps)).collect();
        assert_eq!(told, [(-2.5, 5.0, 1), (5.0, 60.0, 11), (60.0, 62.5, 1)]);
        // An edge as far off as the pitch is none the less told by itself.
        let found = joined(places.clone(), whole((0.0, 70.0)));
        assert_eq!(found.iter().map(|it| it.steps).collect::<Vec<_>>(), [1, 11, 1]);
        let uneven =
            places.iter().enumerate().map(|(n, it)| (it.0 + if n % 2 == 0 { 1.0 } else { 0.0 }, it.1));
        assert!(joined(uneven.collect(), whole((0.0, 70.0))).is_empty(), "a comb");
    }
}
