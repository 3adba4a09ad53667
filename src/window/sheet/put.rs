//! Drawing a thing aside on the sheet: it stays where it was put, and so does all that need not make room for it.

use kurbo::{Rect, Vec2};

use super::Pane;
use crate::drawing::{Drawing, Handle, Inputs};
use crate::joint::{Joint, Moved};
use crate::window::document::is_vast;
use crate::window::look::Look;

/// So often what has moved is looked for: what is held in its place may push others aside.
const ROUNDS: usize = 3;
/// Nearer than this to where it stood, a thing has not moved, in millimetres of paper.
const SAME_MM: f64 = 0.1;

/// Puts a thing so much beside where it is on the pages, and keeps it there: the joint with its new sheet, and its
/// pages where they were drawn for this.
pub(super) fn aside(
    handle: &Handle,
    by: Vec2,
    pane: &Pane,
    look: &Look<'_>,
) -> (Joint, Option<Vec<Drawing>>) {
    let mut joint = look.joint.clone();
    put(&mut joint, handle, by);
    let taken = handle.at + by;
    // Of a very large joint the pages take too long to be looked at here.
    let rounds = if is_vast(&joint) { 0 } else { ROUNDS };
    for _ in 0..rounds {
        let after = pane.pages_of(&Inputs { joint: &joint, ..look.inputs() });
        let moved = pushed(&pane.pages, &after, &joint.sheet.moved, taken);
        if moved.is_empty() {
            return (joint, Some(after));
        }
        moved.into_iter().for_each(|it| put(&mut joint, it, Vec2::ZERO));
    }
    (joint, None)
}

fn put(joint: &mut Joint, handle: &Handle, by: Vec2) {
    let place = handle.at.center() + by - handle.anchor;
    let by_mm = (place.x, place.y);
    match joint.sheet.moved.iter_mut().find(|it| it.what == handle.what) {
        Some(it) => it.by_mm = by_mm,
        None => joint.sheet.moved.push(Moved { what: handle.what.clone(), by_mm }),
    }
}

/// What stands elsewhere than before without having been put there, and would be in nobody's way where it stood.
fn pushed<'a>(before: &'a [Drawing], after: &[Drawing], put: &[Moved], taken: Rect) -> Vec<&'a Handle> {
    let from = |it: &Handle| it.at.center() - it.anchor;
    let has_moved = |it: &&Handle| {
        let now = after.iter().flat_map(|it| &it.handles).find(|now| now.what == it.what);
        now.is_some_and(|now| SAME_MM < (from(now) - from(it)).hypot())
    };
    let all = before.iter().flat_map(|it| &it.handles);
    // Lists run on where one was taken out.
    let own = all.filter(|it| !put.iter().any(|put| put.what == it.what) && !it.what.contains(" list "));
    own.filter(has_moved).filter(|it| it.at.intersect(taken).area() <= 0.0).collect()
}
