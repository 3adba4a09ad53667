//! Things brought into line, and spread evenly.

use kurbo::Rect;

use super::{Chosen, moved, nothing};
use crate::joint::{Edit, Joint, Placement};
use crate::sketch::motion::Motion;
use crate::sketch::question::WishError;
use crate::trace::{Owner, Trace};
use crate::unit::Vec3;
use crate::unit::compare::SAME_MM;

/// What is brought into line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// Left sides, with the leftmost.
    Left,
    /// Middles from left to right, with the middle of all.
    Centre,
    /// Right sides, with the rightmost.
    Right,
    /// Tops, with the highest.
    Top,
    /// Middles in height, with the middle of all.
    Middle,
    /// Bottoms, with the lowest.
    Bottom,
}

/// The way in which things are spread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Along {
    /// From left to right.
    X,
    /// From bottom to top.
    Y,
}

/// One thing and its box in the drawing.
struct Boxed {
    id: String,
    bounds: Rect,
}

/// Brings things into line, each moved as a whole.
///
/// # Errors
/// Fewer than two things that can be moved.
pub fn aligned((joint, trace): (&Joint, &Trace), ids: &[String], line: Line) -> Result<Edit, WishError> {
    let things = boxes((joint, trace), ids, 2)?;
    let all = things.iter().map(|it| it.bounds).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    let by = |it: &Rect| match line {
        Line::Left => Vec3::new(all.x0 - it.x0, 0.0, 0.0),
        Line::Centre => Vec3::new(all.center().x - it.center().x, 0.0, 0.0),
        Line::Right => Vec3::new(all.x1 - it.x1, 0.0, 0.0),
        Line::Top => Vec3::new(0.0, all.y1 - it.y1, 0.0),
        Line::Middle => Vec3::new(0.0, all.center().y - it.center().y, 0.0),
        Line::Bottom => Vec3::new(0.0, all.y0 - it.y0, 0.0),
    };
    shifted(joint, &things, by)
}

/// Spreads things so that the gaps between them are equal; the outermost two stay.
///
/// # Errors
/// Fewer than three things that can be moved.
pub fn distributed(
    (joint, trace): (&Joint, &Trace),
    ids: &[String],
    along: Along,
) -> Result<Edit, WishError> {
    let mut things = boxes((joint, trace), ids, 3)?;
    let span = |it: &Rect| match along {
        Along::X => (it.x0, it.x1),
        Along::Y => (it.y0, it.y1),
    };
    let middle = |it: &Rect| f64::midpoint(span(it).0, span(it).1);
    things.sort_by(|a, b| middle(&a.bounds).total_cmp(&middle(&b.bounds)).then(a.id.cmp(&b.id)));
    let (first, last) = (span(&things[0].bounds), span(&things[things.len() - 1].bounds));
    let taken: f64 = things.iter().map(|it| span(&it.bounds).1 - span(&it.bounds).0).sum();
    #[expect(clippy::cast_precision_loss, reason = "a count of things")]
    let gap = (last.1 - first.0 - taken) / (things.len() - 1) as f64;
    let mut at = first.0;
    let mut starts = std::collections::BTreeMap::new();
    for it in &things {
        starts.insert(it.id.clone(), at);
        at += span(&it.bounds).1 - span(&it.bounds).0 + gap;
    }
    let mut edits = Vec::new();
    for it in &things {
        let by = starts[&it.id] - span(&it.bounds).0;
        let by = match along {
            Along::X => Vec3::new(by, 0.0, 0.0),
            Along::Y => Vec3::new(0.0, by, 0.0),
        };
        edits.extend(shift(joint, &it.id, by)?);
    }
    done(edits)
}

fn shifted(joint: &Joint, things: &[Boxed], by: impl Fn(&Rect) -> Vec3) -> Result<Edit, WishError> {
    let mut edits = Vec::new();
    for it in things {
        edits.extend(shift(joint, &it.id, by(&it.bounds))?);
    }
    done(edits)
}

fn shift(joint: &Joint, id: &str, by: Vec3) -> Result<Option<Edit>, WishError> {
    if by.length() < SAME_MM {
        return Ok(None);
    }
    moved(joint, &[id.to_owned()], &Motion::shift(by)).map(Some)
}

fn done(edits: Vec<Edit>) -> Result<Edit, WishError> {
    if edits.is_empty() {
        return Err(WishError::DoesNotFit("they are in line already".to_owned()));
    }
    Ok(Edit::All(edits))
}

/// The boxes of the things that can be moved: what fills a hole goes with its connector and counts with it.
fn boxes((joint, trace): (&Joint, &Trace), ids: &[String], least: usize) -> Result<Vec<Boxed>, WishError> {
    let chosen = Chosen::of(joint, ids);
    if chosen.is_empty() {
        return Err(nothing());
    }
    let of_bodies = |is_mine: &dyn Fn(Owner) -> bool| {
        let mine = trace.bodies.iter().filter(|it| is_mine(it.owner));
        mine.map(|it| it.region.bounds()).reduce(|a, b| a.union(b))
    };
    let mut found = Vec::new();
    let mut push = |id: &str, bounds: Option<Rect>| {
        found.extend(bounds.map(|bounds| Boxed { id: id.to_owned(), bounds }));
    };
    for at in &chosen.members {
        push(&joint.members[*at].id, of_bodies(&|it| it == Owner::Member(*at)));
    }
    for at in &chosen.connectors {
        let is_mine = |it: Owner| matches!(it, Owner::Plate { connector, .. } if connector == *at);
        push(&joint.connectors[*at].id, of_bodies(&is_mine));
    }
    for at in &chosen.fasteners {
        let it = &joint.fasteners[*at];
        if let (Placement::Free { head, .. }, Some(_)) = (&it.place, trace.fasteners.get(*at)) {
            // A fastener is brought into line by its head.
            push(&it.id, Some(Rect::from_points(head.plan(), head.plan())));
        }
    }
    if found.len() < least {
        let says = format!("select at least {least} things that can be moved");
        return Err(WishError::DoesNotFit(says));
    }
    Ok(found)
}
