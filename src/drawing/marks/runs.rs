//! Runs of like fasteners in a row so close that each one's own mark would lie over the next: they are told by one
//! mark on a bracket from the first head to the last.

use kurbo::{BezPath, Point, Vec2};

use super::find::Head;
use super::{MARK_MM, arrow};
use crate::drawing::pen::{self, Scene};
use crate::joint::Fastener;

/// Heads in a row that are closer on paper than a mark is wide have no room for one each.
const CLOSE_MM: f64 = MARK_MM;
/// Fewer than this are marked each, however close.
const FEWEST: usize = 6;
/// A row may bend by this part of its pitch.
const STRAIGHT: f64 = 0.1;
/// From the heads to the bracket.
const OFF_MM: f64 = 3.2;
/// Clear paper round the bracket.
const CLEAR_MM: f64 = 0.3;
/// So near to the bracket a leader touches it.
const AT_BRACKET_MM: f64 = 1.2;

/// A run with the bracket over it.
pub(in crate::drawing) struct Run {
    /// Places of its first and last fastener in the joint.
    pub(super) first: usize,
    pub(super) last: usize,
    /// From the first head along the row to the last.
    bracket: [Point; 4],
    /// The middle of the bracket, from which a leader goes to the mark.
    pub(super) head: Head,
}

impl Run {
    /// Its fasteners as they are marked and listed.
    pub(super) fn number(&self) -> String {
        format!("{}–{}", self.first + 1, self.last + 1)
    }

    /// The bracket as drawn.
    pub(super) fn path(&self) -> BezPath {
        let [a, b, c, d] = self.bracket;
        let mut path = pen::open_line(&self.bracket);
        path.extend(arrow(b, a));
        path.extend(arrow(c, d));
        path
    }

    /// Its strokes, a little off the heads, with the paper that they want clear.
    pub(in crate::drawing) fn strokes(&self) -> [(Point, Point, f64); 3] {
        let [a, b, c, d] = self.bracket;
        [(a, b, CLEAR_MM), (b, c, CLEAR_MM), (c, d, CLEAR_MM)]
    }
}

/// The runs of a view on a sheet; none on the screen, which can be enlarged.
pub(in crate::drawing) fn runs(scene: &Scene<'_>) -> Vec<Run> {
    if scene.manner.puts.is_none() {
        return Vec::new();
    }
    let heads = super::heads(scene);
    let mut runs = Vec::new();
    let mut first = 0;
    while first < heads.len() {
        let mut last = first;
        while last + 1 < heads.len() && goes_on(scene, &heads, (first, last)) {
            last += 1;
        }
        if FEWEST <= last + 1 - first {
            runs.extend(run(&heads, first, last));
        }
        first = last + 1;
    }
    runs
}

/// Whether the fastener after the last one is like the first and stands on in the row, with no mark of its own that
/// the user has put somewhere.
fn goes_on(scene: &Scene<'_>, heads: &[Option<Head>], (first, last): (usize, usize)) -> bool {
    let all = &scene.inputs.joint.fasteners;
    let (Some(a), Some(b), Some(before)) = (&heads[last], &heads[last + 1], &heads[last.saturating_sub(1)])
    else {
        return false;
    };
    let step = b.at - a.at;
    let is_close = step.hypot() < CLOSE_MM && super::SAME_HEAD_MM < step.hypot();
    let is_straight = last == first || (step - (a.at - before.at)).hypot() < STRAIGHT * step.hypot();
    let (one, next) = (&all[first], &all[last + 1]);
    let is_put = scene.manner.put(&format!("mark {}", next.id), b.at).is_some();
    is_close && is_straight && !is_put && is_like(one, next) && scene.mood(first) == scene.mood(last + 1)
}

fn is_like(a: &Fastener, b: &Fastener) -> bool {
    a.spec == b.spec && a.finish == b.finish && a.existing == b.existing
}

fn run(heads: &[Option<Head>], first: usize, last: usize) -> Option<Run> {
    let (a, b) = (heads[first].as_ref()?, heads[last].as_ref()?);
    let along = (b.at - a.at).normalize();
    let square = Vec2::new(along.y, -along.x);
    let out = if a.out().dot(square) < 0.0 { -square } else { square };
    let off = |it: &Head, by: f64| it.at + out * (it.half() + by);
    let bracket = [off(a, 0.2), off(a, OFF_MM), off(b, OFF_MM), off(b, 0.2)];
    let middle = bracket[1].midpoint(bracket[2]);
    Some(Run { first, last, bracket, head: Head::on_line(middle, out, AT_BRACKET_MM) })
}
