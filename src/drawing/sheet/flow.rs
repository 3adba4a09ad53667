//! Lists of rows that run from column to column and from page to page.

use kurbo::{Point, Rect};

use super::Page;
use crate::drawing::pen::Words;
use crate::drawing::text::{CAPITAL, WORDS_MM};
use crate::drawing::{Ink, Item, Layer};

/// Words of a heading: a capital of 3 mm.
const HEADING_LETTERS_MM: f64 = 3.0 / CAPITAL;
/// Height of a heading with the paper below it.
const HEADING_MM: f64 = 6.0;
/// Paper between two lists.
const BETWEEN_MM: f64 = 4.2;
/// A heading stands with at least so many rows of its list.
const LEAST_ROWS: usize = 2;
/// A list of at most so many rows is short.
const SHORT_LIST: usize = 8;
/// A column lower than this holds nothing that is worth a look.
pub(super) const LEAST_COLUMN_MM: f64 = 20.0;
/// So often the height of columns that are filled to one height is halved.
const LEVEL_STEPS: usize = 12;

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

/// A column that lists run into.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Column {
    pub(super) at: Rect,
    /// It is as high as a page lets it be: higher than any row.
    pub(super) is_whole: bool,
}

impl Column {
    pub(super) fn whole(at: Rect) -> Self {
        Self { at, is_whole: true }
    }

    pub(super) fn part(at: Rect) -> Self {
        Self { at, is_whole: false }
    }
}

/// What stands in columns, and how far the lists have come.
#[derive(Debug, Default)]
pub(super) struct Flowed {
    pub(super) items: Vec<Item>,
    /// The lists that stand in one piece, each with its heading and its box.
    pub(super) whole: Vec<(&'static str, Rect)>,
    pub(super) at: Place,
    /// In how many pieces lists stand there.
    pieces: usize,
}

impl Flowed {
    /// Nothing yet, from a place on.
    pub(super) fn from(at: Place) -> Self {
        Self { at, ..Self::default() }
    }

    /// The same with what stands in more columns.
    pub(super) fn and(mut self, more: Self) -> Self {
        self.items.extend(more.items);
        self.whole.extend(more.whole);
        Self { at: more.at, pieces: self.pieces + more.pieces, ..self }
    }
}

/// Draws from a place on into these columns, and says how far it came. `then` is the height of the column that lists go
/// on in after them.
pub(super) fn fill(
    page: &Page<'_>,
    lists: &[List<'_>],
    from: Place,
    (columns, then): (&[Column], Option<f64>),
) -> Flowed {
    let mut flowed = Flowed::from(from);
    for (n, Column { at: column, is_whole }) in columns.iter().enumerate() {
        let then = columns.get(n + 1).map(|it| it.at.height()).or(then);
        let mut top = column.y0;
        while let Some(list) = lists.get(flowed.at.list) {
            let at = flowed.at;
            // An empty column takes its first row however high that is: a row is lower than any whole column.
            let is_empty = top <= column.y0;
            // A short list is not broken where it can stand whole in the next column.
            let is_short = at.row == 0 && list.rows.len() <= SHORT_LIST;
            let fits = |room: f64| height_of(list) <= room;
            if !is_empty && is_short && !fits(column.y1 - top) && then.is_some_and(fits) {
                break;
            }
            let shown = rows_within(list, at.row, column.y1 - top, *is_whole && is_empty);
            if shown == 0 {
                break;
            }
            let (drawn, used) = draw(page, list, (at.row, shown), Point::new(column.x0, top));
            flowed.items.extend(drawn);
            flowed.pieces += 1;
            let is_end = list.rows.len() <= at.row + shown;
            if is_end && at.row == 0 {
                flowed.whole.push((list.heading, Rect { y0: top, y1: top + used, ..*column }));
            }
            top += used + BETWEEN_MM;
            flowed.at = if is_end {
                Place { list: at.list + 1, row: 0 }
            } else {
                Place { row: at.row + shown, ..at }
            };
            if !is_end {
                break;
            }
        }
    }
    flowed
}

/// The same; columns that hold all that is left are filled to one height as nearly as lists can be without
/// breaking one that would stand whole.
pub(super) fn fill_level(
    page: &Page<'_>,
    lists: &[List<'_>],
    from: Place,
    (columns, then): (&[Column], Option<f64>),
) -> Flowed {
    let mut best = fill(page, lists, from, (columns, then));
    let [first, _, ..] = columns else { return best };
    let is_one = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let is_even = columns.iter().all(|it| is_one(it.at.y0, first.at.y0) && is_one(it.at.y1, first.at.y1));
    if !is_even || !best.at.is_end(lists) {
        return best;
    }
    let (mut low, mut high) = (0.0, first.at.height());
    for _ in 0..LEVEL_STEPS {
        let height = f64::midpoint(low, high);
        let lower: Vec<Column> = columns
            .iter()
            .map(|it| Column { at: Rect { y1: it.at.y0 + height, ..it.at }, is_whole: false })
            .collect();
        let tried = fill(page, lists, from, (&lower, None));
        if tried.at.is_end(lists) && tried.pieces <= best.pieces {
            (best, high) = (tried, height);
        } else {
            low = height;
        }
    }
    best
}

/// One list whole, from its upper left corner.
pub(super) fn whole(page: &Page<'_>, list: &List<'_>, at: Point) -> Vec<Item> {
    draw(page, list, (0, list.rows.len()), at).0
}

/// The box round the heading of a list.
pub(super) fn heading_box(page: &Page<'_>, heading: &str, at: Point) -> Rect {
    let width = page.lettering.width_mm(heading, HEADING_LETTERS_MM, true);
    Rect::new(at.x, at.y, at.x + width, at.y + HEADING_LETTERS_MM * CAPITAL)
}

/// The height of a list that stands whole.
pub(super) fn height_of(list: &List<'_>) -> f64 {
    HEADING_MM + list.head.iter().chain(&list.rows).map(|it| it.height).sum::<f64>()
}

/// These columns without the room of a box that the user has put on the page.
pub(super) fn without(columns: Vec<Column>, room: Rect) -> Vec<Column> {
    let split = |it: Column| {
        let Rect { x0, x1, y0, y1 } = it.at;
        if x1 <= room.x0 || room.x1 <= x0 || y1 <= room.y0 || room.y1 <= y0 {
            return vec![it];
        }
        let above = Rect { y1: room.y0 - BETWEEN_MM, ..it.at };
        let below = Rect { y0: room.y1 + BETWEEN_MM, ..it.at };
        let is_room = |it: &Rect| LEAST_COLUMN_MM <= it.height();
        [above, below].into_iter().filter(is_room).map(Column::part).collect()
    };
    columns.into_iter().flat_map(split).collect()
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
    // Nor does one row stand alone where the list goes on.
    if count + 1 == rows.len() && LEAST_ROWS < count {
        count -= 1;
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
    let size = HEADING_LETTERS_MM;
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
