//! Which views a joint needs: the front, and those that show what it cannot.

use super::compose;
use crate::drawing::Inputs;
use crate::drawing::shanks::HEAD_ON_BELOW;
use crate::joint::{Look, SheetView};
use crate::trace::{Body, Owner, Shank, Stuff};

/// Places closer than this in the model are one: heads nearer to each other on the front are behind each other, and
/// depths that differ by less are one depth.
const SAME_MM: f64 = 2.0;

/// A shank that leaves the paper by more than this part of its length leans out of it.
const LEANS: f64 = 0.02;

/// A shank that leaves the paper of a view by less than this part of its length lies across it.
const ACROSS: f64 = 0.7;

/// So many fasteners at most are looked through.
const MOST: usize = 400;

/// The front, and sections that show what it cannot: the slope of fasteners that lean in the depth, those that it sees
/// head on or one behind the other, and where in the depth things are.
pub(super) fn views(inputs: &Inputs<'_>) -> Vec<SheetView> {
    let mut views = vec![SheetView { look: Look::Front, cut_mm: None }];
    let is_there = |it: &&Shank| 0.0 < it.length_mm && it.head_at.x.is_finite();
    let shanks: Vec<&Shank> = inputs.trace.fasteners.iter().filter(is_there).collect();
    for look in [Look::Side, Look::Top] {
        let is_wanted = shanks.iter().any(|it| leans(it) && across(it) == look);
        views.extend(is_wanted.then(|| cut_through_the_nearest(&shanks, look)));
    }
    if views.len() == 1 {
        let head_on = || shanks.iter().find(|it| is_head_on(it));
        let few = &shanks[..shanks.len().min(MOST)];
        let behind = || few.iter().find(|it| has_twin(it, few));
        if let Some(it) = head_on().or_else(behind) {
            views.push(cut_through(it, across(it)));
        } else {
            let reach = compose::reach(inputs);
            let deep = few.iter().find(|it| differs_in_depth(it, few) || joins_depths(inputs, it, reach));
            views.extend(deep.map(|it| cut_through_the_nearest(&shanks, across(it))));
        }
    }
    // What the user has dimensioned in a view is to be read there.
    for look in [Look::Side, Look::Top] {
        let is_wanted = inputs.joint.dimensions.iter().any(|it| it.look == look);
        if is_wanted && !views.iter().any(|it| it.look == look) {
            views.push(SheetView { look, cut_mm: None });
        }
    }
    views
}

fn is_head_on(it: &Shank) -> bool {
    it.toward.x.hypot(it.toward.y) < HEAD_ON_BELOW
}

/// Whether the front shows neither the slope of a shank nor its length.
fn leans(it: &Shank) -> bool {
    LEANS < it.toward.z.abs() && !is_head_on(it)
}

/// The view across the depth that shows a shank best: that which it leaves the least.
fn across(it: &Shank) -> Look {
    if it.toward.y.abs() <= it.toward.x.abs() || is_head_on(it) { Look::Top } else { Look::Side }
}

/// A view cut through the middle of a shank.
fn cut_through(it: &Shank, look: Look) -> SheetView {
    let middle = it.head_at + it.toward * (it.length_mm / 2.0);
    SheetView { look, cut_mm: Some(look.turned(middle).z) }
}

/// A view cut through the middle of that shank of all that lie across it which is nearest to the viewer: the cut takes
/// none of them away.
fn cut_through_the_nearest(all: &[&Shank], look: Look) -> SheetView {
    let depth = |it: &&Shank| look.turned(it.head_at + it.toward * (it.length_mm / 2.0)).z;
    let lies_across = |it: &&&Shank| look.turned(it.toward).z.abs() < ACROSS;
    let nearest = all.iter().filter(lies_across).map(depth).max_by(f64::total_cmp);
    SheetView { look, cut_mm: nearest }
}

/// Whether another fastener lies behind this one.
fn has_twin(it: &Shank, all: &[&Shank]) -> bool {
    all.iter().any(|other| {
        let apart = other.head_at - it.head_at;
        apart.x.hypot(apart.y) < SAME_MM && SAME_MM < apart.z.abs()
    })
}

/// Whether others lie in another depth.
fn differs_in_depth(it: &Shank, all: &[&Shank]) -> bool {
    all.iter().any(|other| SAME_MM < (other.head_at.z - it.head_at.z).abs())
}

/// Whether it joins members of which one lies somewhere along the depth of another, an end of which is within the reach
/// of a view: from the front nobody sees where.
fn joins_depths(inputs: &Inputs<'_>, it: &Shank, reach: Option<(f64, f64)>) -> bool {
    let bodies = it.core.iter().filter_map(|it| inputs.trace.bodies.get(it.body?.0));
    let is_member = |it: &&Body| matches!(it.owner, Owner::Member(_)) && it.stuff == Stuff::Bearing;
    let members: Vec<&Body> = bodies.filter(is_member).collect();
    let is_same =
        |a: &Body, b: &Body| (a.far_mm - b.far_mm).abs() < SAME_MM || (a.near_mm - b.near_mm).abs() < SAME_MM;
    let has_end = |it: &Body| reach.is_none_or(|(low, high)| low <= it.far_mm || it.near_mm <= high);
    members.iter().any(|a| members.iter().any(|b| !is_same(a, b) && has_end(a) && has_end(b)))
}
