//! Where members stand to each other that nothing else tells of: neither an edge in common, nor a gap, nor a
//! fastener whose place in both is dimensioned.

use kurbo::{Point, Rect};

use super::heads::ByMember;
use super::layout::Measure;
use super::{Group, Sized, member_id};
use crate::drawing::pen::Scene;

/// Edges nearer to each other than this on paper are in line.
const IN_LINE_MM: f64 = 0.05;

/// Members that face each other nearer than this in the model stand against each other, with no more than steel between.
const CLOSE_MM: f64 = 7.0;

/// In a joint of more members than this nobody asks where each one stands.
const MOST_MEMBERS: usize = 60;

/// To the right, or upward.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Way {
    Right,
    Up,
}

impl Way {
    /// The two edges of a box, the left or upper one first.
    fn edges(self, at: Rect) -> [f64; 2] {
        match self {
            Self::Right => [at.x0, at.x1],
            Self::Up => [at.y0, at.y1],
        }
    }

    fn pick<T>(self, (right, up): (T, T)) -> T {
        match self {
            Self::Right => right,
            Self::Up => up,
        }
    }
}

/// One distance for each member, or each set of members that tell of each other, that stands nowhere this way.
/// `gaps` are pairs of members between which a gap is dimensioned this way.
pub(super) fn all(
    scene: &Scene<'_>,
    boxes: &[Sized],
    way: Way,
    (heads, gaps): (&(ByMember<'_>, ByMember<'_>), &[(usize, usize)]),
) -> Vec<Group> {
    let told: Vec<&Sized> = boxes.iter().filter(|it| it.is_upright).collect();
    if !way.pick(scene.axes()) || MOST_MEMBERS < told.len() {
        return Vec::new();
    }
    let mut sets: Vec<usize> = (0..told.len()).collect();
    for n in 1..told.len() {
        for before in 0..n {
            if is_told(scene, way, (told[before], told[n]), (heads, gaps)) {
                join(&mut sets, before, n);
            }
        }
    }
    let mut groups = Vec::new();
    while let Some((measure, a, b)) = nearest(scene, &told, &sets, way) {
        join(&mut sets, a, b);
        groups.push(Group::one(measure));
    }
    groups
}

fn join(sets: &mut [usize], a: usize, b: usize) {
    let (from, to) = (sets[b], sets[a]);
    sets.iter_mut().filter(|it| **it == from).for_each(|it| *it = to);
}

/// Whether something else tells where two members stand to each other.
fn is_told(
    scene: &Scene<'_>,
    way: Way,
    (a, b): (&Sized, &Sized),
    ((held, passing), gaps): (&(ByMember<'_>, ByMember<'_>), &[(usize, usize)]),
) -> bool {
    let is_in_line = |at: &f64| way.edges(b.at).iter().any(|other| (at - other).abs() < IN_LINE_MM);
    let is_close = facing(way, a.at, b.at).is_some_and(|it| it.1 - it.0 <= CLOSE_MM * scene.view.scale);
    let of = |member: usize| held.get(&member).into_iter().chain(passing.get(&member)).flatten();
    let in_both = || {
        of(a.member)
            .filter(|it| way.pick(it.tells))
            .any(|it| of(b.member).any(|other| way.pick(other.tells) && other.id == it.id))
    };
    let pair = (a.member, b.member);
    is_close
        || way.edges(a.at).iter().any(is_in_line)
        || gaps.iter().any(|it| *it == pair || (it.1, it.0) == pair)
        || in_both()
}

/// The distance between edges of two members of different sets: of those that touch, else of any, the shortest.
fn nearest(scene: &Scene<'_>, told: &[&Sized], sets: &[usize], way: Way) -> Option<(Measure, usize, usize)> {
    let mut best: Option<((bool, f64), Measure, usize, usize)> = None;
    for b in 1..told.len() {
        for a in (0..b).filter(|a| sets[*a] != sets[b]) {
            let (one, other) = (told[a], told[b]);
            let lies_apart = !one.at.inflate(IN_LINE_MM, IN_LINE_MM).overlaps(other.at);
            for ((from, is_end), (to, is_other_end)) in pairs(scene, way, one, other) {
                let cost = (lies_apart, (from - to).abs());
                if is_end && is_other_end && best.as_ref().is_none_or(|best| cost < best.0) {
                    let id = |it: &Sized| member_id(scene, it.member).to_owned();
                    let what = format!("{} from {}", id(other), id(one));
                    let measure = Measure::of_edges(edge(way, from, one.at), edge(way, to, other.at), what);
                    best = Some((cost, measure, a, b));
                }
            }
        }
    }
    best.map(|it| (it.1, it.2, it.3))
}

/// The facing edges of two boxes that lie one after the other this way.
fn facing(way: Way, a: Rect, b: Rect) -> Option<(f64, f64)> {
    let ([a0, a1], [b0, b1]) = (way.edges(a), way.edges(b));
    let is_after = |end: f64, start: f64| end <= start + IN_LINE_MM;
    if is_after(a1, b0) { Some((a1, b0)) } else { is_after(b1, a0).then_some((b1, a0)) }
}

/// An edge, and whether it is the end of its member.
type End = (f64, bool);

/// Edges of two members between which their distance can be told: those on one side, and those that face each other.
fn pairs(scene: &Scene<'_>, way: Way, one: &Sized, other: &Sized) -> Vec<(End, End)> {
    let ends = |it: &Sized| {
        let (at, is_end) = (way.edges(it.at), way.pick(scene.ends(it.member, it.at)));
        [(at[0], is_end[0]), (at[1], is_end[1])]
    };
    let ([a0, a1], [b0, b1]) = (ends(one), ends(other));
    let mut found = vec![(a0, b0), (a1, b1)];
    if facing(way, one.at, other.at).is_some() {
        found.push(if a1.0 <= b0.0 + IN_LINE_MM { (a1, b0) } else { (a0, b1) });
    }
    found
}

/// The edge of a box at this place.
fn edge(way: Way, at: f64, of: Rect) -> (Point, Point) {
    match way {
        Way::Right => (Point::new(at, of.y0), Point::new(at, of.y1)),
        Way::Up => (Point::new(of.x0, at), Point::new(of.x1, at)),
    }
}
