//! How lists are shared out over the pages: beside the views, below them where that saves a page, and on pages of
//! their own; and where the user has put a list.

use std::collections::BTreeSet;

use kurbo::{Point, Rect, Vec2};

use super::compose::{self, Composed};
use super::flow::{self, Column, Flowed, List, Place};
use super::groups::Content;
use super::page::{Packed, Page};
use super::{MOST_PAGES, lists};
use crate::drawing::put::Puts;
use crate::drawing::{Handle, Item, back_into};
use crate::joint::Moved;

/// So many pages of lists are many.
const MANY_PAGES: usize = 6;

/// In which way views make room for lists: not at all, or in one of those of [`Page::packed`].
type Way = Option<usize>;

/// The views of one page and the columns of lists beside them.
pub(super) struct Leaf {
    pub(super) composed: Composed,
    pub(super) view_title: Rect,
    columns: Vec<Column>,
    /// Ways to make room for lists: below, and beside.
    packed: [Option<Packed>; 2],
}

impl Leaf {
    /// Views as they were composed for this page.
    pub(super) fn new(page: &Page<'_>, composed: Composed) -> Self {
        let taken = compose::bounds(page.lettering, &composed.items);
        let packed = taken.map_or([None, None], |it| page.packed(it));
        Self { composed, view_title: page.view_title, columns: page.lists(), packed }
    }

    fn packed(&self, way: Way) -> Option<&Packed> {
        way.and_then(|it| self.packed.get(it)?.as_ref())
    }

    fn columns(&self, way: Way) -> &[Column] {
        self.packed(way).map_or(&self.columns, |it| &it.columns)
    }

    /// The views as they stand where they make room for lists in this way.
    fn pack(mut self, way: Way) -> Self {
        if let Some(it) = way.and_then(|it| self.packed.get_mut(it)?.take()) {
            compose::shift(&mut self.composed.items, it.by);
            compose::shift_handles(&mut self.composed.handles, it.by);
            self.view_title = it.view_title;
        }
        self
    }
}

/// What stands on one page before it knows its number.
pub(super) struct Shared {
    pub(super) leaf: Option<Leaf>,
    pub(super) items: Vec<Item>,
    pub(super) handles: Vec<Handle>,
}

/// All lists on the pages of the views and after them.
pub(super) fn share(page: &Page<'_>, content: &Content<'_>, leaves: Vec<Leaf>) -> Vec<Shared> {
    let asked = asked(&content.inputs.joint.sheet.moved);
    let mut setter = Setter { page, content, asked: Vec::new(), known: Vec::new() };
    // Where views and lists stand does not hang on what the user has put somewhere.
    let (ways, natural) = fewest(&mut setter, &leaves);
    let pages = if asked.is_empty() {
        natural
    } else {
        let most = natural.len() + 1;
        let there = setter.headings();
        let is_there = |it: &Asked| there.iter().any(|heading| it.heading.eq_ignore_ascii_case(heading));
        setter.asked = asked.into_iter().filter(|it| it.page <= most && is_there(it)).collect();
        setter.leave_what_is_too_high();
        setter.known.clear();
        setter.flow(&leaves, &ways)
    };
    let mut leaves = leaves.into_iter().zip(ways).map(|(it, way)| it.pack(way));
    let mut shared = Vec::new();
    for (n, flowed) in pages.into_iter().enumerate() {
        let (items, handles) = setter.finish(n + 1, flowed);
        shared.push(Shared { leaf: leaves.next(), items, handles });
    }
    shared
}

/// The ways of packing the first page and the later ones that need the fewest pages; of those that need as many the one
/// that moves the least.
fn fewest(setter: &mut Setter<'_>, leaves: &[Leaf]) -> (Vec<Way>, Vec<Flowed>) {
    const WAYS: [Way; 3] = [None, Some(0), Some(1)];
    let mut best: Option<(Vec<Way>, Vec<Flowed>)> = None;
    let both = WAYS.into_iter().flat_map(|first| WAYS.map(|later| (first, later)));
    for (first, later) in both {
        // There is a page for each leaf at least; and of many pages one less is not worth the search.
        let is_settled = best
            .as_ref()
            .is_some_and(|it| it.1.len() == leaves.len() || leaves.len() + MANY_PAGES < it.1.len());
        let ways: Vec<Way> = (0..leaves.len()).map(|n| if n == 0 { first } else { later }).collect();
        let is_way = |(way, leaf): (&Way, &Leaf)| way.is_none() || leaf.packed(*way).is_some();
        let is_none = later.is_some() && leaves.len() < 2;
        if is_settled || is_none || !ways.iter().zip(leaves).all(is_way) {
            continue;
        }
        let pages = setter.flow(leaves, &ways);
        if best.as_ref().is_none_or(|best| pages.len() < best.1.len()) {
            best = Some((ways, pages));
        }
    }
    best.unwrap_or_default()
}

/// A list that the user has put somewhere.
#[derive(Clone, Debug, PartialEq)]
struct Asked {
    page: usize,
    /// Its heading in small letters.
    heading: String,
    /// Where its upper left corner is, from that of the room inside the frame.
    by: Vec2,
}

/// The name by which a list is put somewhere.
fn name_of(heading: &str) -> String {
    format!("list {}", heading.to_ascii_lowercase())
}

/// A list that was put somewhere, held within the room of a page: it lies neither on the title block nor on the frame.
fn held_within(place: Rect, room: Rect) -> Rect {
    place + back_into(room, place)
}

fn asked(moved: &[Moved]) -> Vec<Asked> {
    let mut found: Vec<Asked> = Vec::new();
    for it in moved {
        let named = it.what.strip_prefix("sheet ").and_then(|it| it.split_once(" list "));
        let Some((page, heading)) = named else { continue };
        let (Ok(page), by) = (page.parse::<usize>(), Vec2::new(it.by_mm.0, it.by_mm.1)) else { continue };
        if 0 < page && by.is_finite() && !found.iter().any(|it| it.heading == heading) {
            found.push(Asked { page, heading: heading.to_owned(), by });
        }
    }
    found
}

/// Sets lists in columns of any width.
struct Setter<'a> {
    page: &'a Page<'a>,
    content: &'a Content<'a>,
    asked: Vec<Asked>,
    /// The lists for each width that was wanted, without those that the user has put somewhere.
    known: Vec<(f64, Vec<List<'a>>)>,
}

impl<'a> Setter<'a> {
    fn lists(&mut self, width: f64) -> &[List<'a>] {
        let at = self.known.iter().position(|it| (it.0 - width).abs() < 1e-6).unwrap_or_else(|| {
            let mut lists = lists::all(self.page, width, self.content);
            lists.retain(|it| !self.asked.iter().any(|put| put.heading.eq_ignore_ascii_case(it.heading)));
            self.known.push((width, lists));
            self.known.len() - 1
        });
        &self.known[at].1
    }

    /// The headings of all lists.
    fn headings(&mut self) -> Vec<&'static str> {
        let width = self.page.columns()[0].at.width();
        self.lists(width).iter().map(|it| it.heading).collect()
    }

    /// A list that is higher than a page runs on from column to column, wherever it was put.
    fn leave_what_is_too_high(&mut self) {
        let room = self.page.area.height();
        let pages: BTreeSet<usize> = self.asked.iter().map(|it| it.page).collect();
        let placed = pages.into_iter().flat_map(|it| self.put_on(it));
        let too_high: Vec<&str> = placed.filter(|it| room < it.1.height()).map(|it| it.0.heading).collect();
        self.asked.retain(|it| !too_high.iter().any(|heading| it.heading.eq_ignore_ascii_case(heading)));
    }

    /// Every page: those of the views, then as many as are needed, to the last one on which a list was put.
    fn flow(&mut self, leaves: &[Leaf], ways: &[Way]) -> Vec<Flowed> {
        let mut pages: Vec<Flowed> = Vec::new();
        let mut at = Place::default();
        let of_lists = self.page.columns()[0].at.height();
        for (n, (leaf, way)) in leaves.iter().zip(ways).enumerate() {
            let next = leaves.get(n + 1).zip(ways.get(n + 1)).and_then(|it| it.0.columns(*it.1).first());
            let then = next.map_or(of_lists, |it| it.at.height());
            let flowed = self.fill(pages.len() + 1, (leaf.columns(*way).to_vec(), then), at);
            at = flowed.at;
            pages.push(flowed);
        }
        let last = self.asked.iter().map(|it| it.page).max().unwrap_or(0);
        while pages.len() < MOST_PAGES {
            let columns = self.page.columns();
            let is_end = at.is_end(self.lists(columns[0].at.width()));
            let number = pages.len() + 1;
            if is_end && last < number {
                break;
            }
            let mut flowed = self.fill(number, (columns, of_lists), at);
            let is_stuck = flowed.at == at && last < number;
            if is_stuck {
                break;
            }
            at = flowed.at;
            if number == MOST_PAGES {
                let page = self.page;
                flowed.items.extend(flow::left_over(page, self.lists(page.columns()[0].at.width()), at));
            }
            pages.push(flowed);
        }
        pages
    }

    /// One page, its columns clear of what was put there; those of one width are filled together. `after` is the height of
    /// the first column of the next page.
    fn fill(&mut self, number: usize, (mut columns, after): (Vec<Column>, f64), from: Place) -> Flowed {
        for it in self.put_on(number) {
            columns = flow::without(columns, it.1);
        }
        let mut flowed = Flowed::from(from);
        let page = self.page;
        let mut groups = columns.chunk_by(|a, b| (a.at.width() - b.at.width()).abs() < 1e-6).peekable();
        while let Some(of_one) = groups.next() {
            let Some(first) = of_one.first() else { continue };
            let at = flowed.at;
            let then = groups.peek().and_then(|it| it.first()).map_or(after, |it| it.at.height());
            let more = flow::fill_level(page, self.lists(first.at.width()), at, (of_one, Some(then)));
            flowed = flowed.and(more);
        }
        flowed
    }

    /// The lists that were put on this page, each with its place among those that were put and its box.
    fn put_on(&self, number: usize) -> Vec<(List<'a>, Rect)> {
        let asked: Vec<&Asked> = self.asked.iter().filter(|it| it.page == number).collect();
        if asked.is_empty() {
            return Vec::new();
        }
        let width = self.put_width(number);
        let lists = lists::all(self.page, width, self.content);
        let room = self.page.area;
        let placed = |it: List<'a>| {
            let asked = asked.iter().find(|asked| asked.heading.eq_ignore_ascii_case(it.heading))?;
            let place = Rect::from_origin_size(room.origin() + asked.by, (width, flow::height_of(&it)));
            Some((it, held_within(place, room)))
        };
        lists.into_iter().filter_map(placed).collect()
    }

    /// How wide a list stands that was put on a page: as beside the views, or as on a page of lists.
    fn put_width(&self, number: usize) -> f64 {
        let beside = self.page.lists.first().filter(|_| number == 1).map(Rect::width);
        beside.unwrap_or_else(|| self.page.columns()[0].at.width())
    }

    /// What stands on a page with what was put there, and what can be taken hold of.
    fn finish(&self, number: usize, flowed: Flowed) -> (Vec<Item>, Vec<Handle>) {
        let sheet = format!("sheet {number}");
        let puts = Puts::of(&sheet, &[]);
        let mut items = flowed.items;
        let mut whole = flowed.whole;
        for (list, place) in self.put_on(number) {
            let at = Point::new(place.x0, place.y0);
            items.extend(flow::whole(self.page, &list, at));
            whole.push((list.heading, place));
        }
        let corner = self.page.area.origin();
        // Kept from the corner by its own corner, so that it stays there when it has more lines.
        let handle = |(heading, at): (&str, Rect)| {
            let grip = flow::heading_box(self.page, heading, at.origin());
            Handle { grip, ..puts.handle(&name_of(heading), at, corner + at.size().to_vec2() / 2.0) }
        };
        (items, whole.into_iter().map(handle).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_that_was_put_somewhere_is_found_by_its_page_and_heading() {
        let moved = |what: &str| Moved { what: what.to_owned(), by_mm: (3.0, 4.0) };
        let found = asked(&[
            moved("sheet 2 list notes"),
            moved("sheet 1 list notes"),
            moved("sheet 0 list core"),
            moved("sheet x list core"),
            moved("front mark a"),
            moved("sheet 1 title"),
        ]);
        assert_eq!(found, [Asked { page: 2, heading: "notes".to_owned(), by: Vec2::new(3.0, 4.0) }]);
        assert_eq!(name_of("CHECK ON SITE"), "list check on site");
    }
}
