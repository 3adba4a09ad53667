//! Lists of rows that run from column to column and from page to page.

use kurbo::{Point, Rect};

use super::Page;
use crate::drawing::pen::Words;
use crate::drawing::text::{CAPITAL, WORDS_MM};
use crate::drawing::{Ink, Item, Layer};

/// Height of a heading with the paper below it.
const HEADING_MM: f64 = 6.0;
/// Paper between two lists.
const BETWEEN_MM: f64 = 4.2;
/// A heading stands with at least so many rows of its list.
const LEAST_ROWS: usize = 2;

/// One row of a list: how high it is, and its items when its upper left corner is known.
pub(super) struct Row<'a> {
    pub(super) height: f64,
    pub(super) draw: Box<dyn Fn(Point) -> Vec<Item> + 'a>,
    /// It stands on one page with the row after it.
    pub(super) is_head: bool,
}

/// One list with its heading.
pub(super) struct List<'a> {
    pub(super) heading: &'static str,
    pub(super) rows: Vec<Row<'a>>,
    /// The heading row of a table, drawn again wherever the list goes on.
    pub(super) head: Option<Row<'a>>,
}

/// How far lists have been drawn: the next list and the next of its rows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Place {
    list: usize,
    row: usize,
}

impl Place {
    /// Whether nothing is left.
    pub(super) fn is_end(self, lists: &[List<'_>]) -> bool {
        lists.len() <= self.list
    }
}

/// Draws from a place on into these columns, and says how far it came.
pub(super) fn fill(page: &Page<'_>, lists: &[List<'_>], from: Place, columns: &[Rect]) -> (Vec<Item>, Place) {
    let mut at = from;
    let mut items = Vec::new();
    for column in columns {
        let mut top = column.y0;
        while let Some(list) = lists.get(at.list) {
            let before = at;
            let room = column.y1 - top;
            // An empty column takes its first row however high that is: a row is lower than any column.
            let shown = rows_within(list, at.row, room, top <= column.y0);
            if shown == 0 {
                break;
            }
            let (drawn, used) = draw(page, list, (at.row, shown), Point::new(column.x0, top));
            items.extend(drawn);
            top += used + BETWEEN_MM;
            at.row += shown;
            if list.rows.len() <= at.row {
                at = Place { list: at.list + 1, row: 0 };
            }
            if before == at || before.list == at.list {
                break;
            }
        }
    }
    (items, at)
}

/// How many rows fit below the heading; none rather than a heading with almost nothing below it.
fn rows_within(list: &List<'_>, from: usize, room: f64, is_empty: bool) -> usize {
    let mut left = room - HEADING_MM - list.head.as_ref().map_or(0.0, |it| it.height);
    let rows = &list.rows[from.min(list.rows.len())..];
    let mut count = 0;
    for row in rows {
        left -= row.height;
        if left < -1e-6 {
            break;
        }
        count += 1;
    }
    while 0 < count && count < rows.len() && rows[count - 1].is_head {
        count -= 1;
    }
    if is_empty {
        return count.max(1.min(rows.len()));
    }
    if count < rows.len().min(LEAST_ROWS) { 0 } else { count }
}

fn draw(page: &Page<'_>, list: &List<'_>, (from, count): (usize, usize), at: Point) -> (Vec<Item>, f64) {
    let size = 3.0 / CAPITAL;
    let base = Point::new(at.x, at.y + size * CAPITAL);
    let heading = if from == 0 { list.heading.to_owned() } else { format!("{}, CONTINUED", list.heading) };
    let words = page.lettering.shortened(&heading, size, true, page.area.width());
    let mut items = vec![Words::new(words.unwrap_or_default(), size).bold().at(Layer::Notes, None, base)];
    let mut y = at.y + HEADING_MM;
    for row in list.head.iter().chain(list.rows.iter().skip(from).take(count)) {
        items.extend((row.draw)(Point::new(at.x, y)));
        y += row.height;
    }
    (items, y - at.y)
}

/// A line at the foot of the last page that there may be, where rows are left.
pub(super) fn left_over(page: &Page<'_>, lists: &[List<'_>], from: Place) -> Vec<Item> {
    let rows = |(n, it): (usize, &List<'_>)| if n == 0 { it.rows.len() - from.row } else { it.rows.len() };
    let missing: usize = lists.iter().skip(from.list).enumerate().map(rows).sum();
    if missing == 0 {
        return Vec::new();
    }
    let words = format!("and {missing} more rows in the check report");
    let at = Point::new(page.area.x0, page.area.y1 + 3.6);
    vec![Words::new(words, WORDS_MM).ink(Ink::Soft).at(Layer::Notes, None, at)]
}
