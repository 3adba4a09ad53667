//! What the user has put somewhere on a sheet: marks with their leaders, tags, names, figures.
//!
//! A place is kept from what the thing belongs to: a mark's from its head, a tag's from its hole, a name's from
//! the middle of its member, a figure's from the middle of its dimension line. So it stays there whatever else
//! moves, and follows what it tells of. All that was not put anywhere makes room for it.

use std::collections::BTreeMap;

use kurbo::{Point, Rect, Vec2};

use super::{Handle, Item};
use crate::joint::Moved;

/// Where the things of one view were put.
#[derive(Clone, Debug, Default)]
pub(super) struct Puts<'a> {
    /// The view among those of the sheet, so that the same mark in two views is told apart; none on the screen,
    /// where nothing is put.
    view: &'a str,
    by: BTreeMap<&'a str, Vec2>,
}

impl<'a> Puts<'a> {
    /// What was put in this view.
    pub(super) fn of(view: &'a str, moved: &'a [Moved]) -> Self {
        let one = |it: &'a Moved| {
            let what = it.what.strip_prefix(view)?.strip_prefix(' ')?;
            let by = Vec2::new(it.by_mm.0, it.by_mm.1);
            by.is_finite().then_some((what, by))
        };
        Self { view, by: moved.iter().filter_map(one).collect() }
    }

    /// Where the middle of a thing was put; `None` where it stands where it finds room.
    pub(super) fn place(&self, what: &str, anchor: Point) -> Option<Point> {
        self.by.get(what).map(|by| anchor + *by)
    }

    /// The handle of a thing.
    pub(super) fn handle(&self, what: &str, at: Rect, anchor: Point) -> Handle {
        Handle { what: format!("{} {what}", self.view), at, grip: at, anchor }
    }
}

/// What was drawn of a view.
#[derive(Debug, Default)]
pub(super) struct Drawn {
    /// What found its place by itself.
    pub(super) items: Vec<Item>,
    /// What stands where the user put it.
    pub(super) put: Vec<Item>,
    /// What can be drawn aside.
    pub(super) handles: Vec<Handle>,
}

impl Drawn {
    /// Takes in what was drawn besides.
    pub(super) fn extend(&mut self, other: Self) {
        self.items.extend(other.items);
        self.put.extend(other.put);
        self.handles.extend(other.handles);
    }

    /// Adds a thing.
    pub(super) fn add(&mut self, items: impl IntoIterator<Item = Item>, is_put: bool) {
        if is_put { self.put.extend(items) } else { self.items.extend(items) }
    }

    /// All of it, in the order of painting.
    pub(super) fn sorted(mut self) -> Vec<Item> {
        self.items.append(&mut self.put);
        self.items.sort_by_key(|it| it.layer);
        self.items
    }
}
