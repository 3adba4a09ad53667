//! A table of words: columns as wide as they need to be, the widest ones wrapped.

use std::rc::Rc;

use kurbo::Point;

use super::Page;
use super::flow::{List, Row};
use crate::drawing::marks::{MARK_MM, mark, mark_size};
use crate::drawing::pen::{self, Words};
use crate::drawing::text::{CAPITAL, WORDS_MM};
use crate::drawing::{Item, Layer, Line, Mood, Subject};

/// Height of a row of one line.
const ROW_MM: f64 = 6.8;
/// Leading in a row of several lines.
const LINE_MM: f64 = 4.4;
/// Clear paper at the right of a cell.
const GUTTER_MM: f64 = 2.4;
/// Where there is room a heading has some for letters that are wider by this, as where a file is read without the
/// letters that it brings.
const OTHER_LETTERS: f64 = 1.1;
/// Of what the columns that wrap share, the last one keeps at least this part.
const LEAST_FOR_LAST: f64 = 0.38;
/// A column of numbers is wrapped from this width on.
const MOST_NUMBERS_MM: f64 = 26.0;
/// No cell is higher than this: longer words are shortened.
const MOST_LINES: usize = 9;

/// What stands in a cell.
pub(super) enum Cell {
    /// Marks, one below the other, of this mood.
    Marks(Vec<String>, Mood, Option<Subject>),
    /// Words; each line of theirs begins anew.
    Words(String),
}

/// A column: its heading, and whether its words may be wrapped.
pub(super) struct Column {
    pub(super) head: &'static str,
    pub(super) wraps: bool,
    /// No more than this, however wide its cells would be.
    most_mm: f64,
}

/// A column of numbers of fasteners.
pub(super) fn numbers() -> Column {
    Column { head: "No.", wraps: true, most_mm: MOST_NUMBERS_MM }
}

/// A column whose words stand on one line.
pub(super) fn narrow(head: &'static str) -> Column {
    Column { head, wraps: false, most_mm: f64::INFINITY }
}

/// A column whose words are wrapped where the page is narrow.
pub(super) fn wide(head: &'static str) -> Column {
    Column { head, wraps: true, most_mm: f64::INFINITY }
}

struct Set {
    lefts: Vec<f64>,
    width: f64,
}

/// A list that is a table.
pub(super) fn list<'a>(
    page: &'a Page<'a>,
    width: f64,
    heading: &'static str,
    columns: &[Column],
    rows: Vec<Vec<Cell>>,
) -> List<'a> {
    let widths = widths(page, width, columns, &rows);
    let mut lefts = Vec::new();
    let mut left = 0.0;
    for it in &widths {
        lefts.push(left);
        left += it;
    }
    let set = Rc::new(Set { lefts, width });
    let heads: Vec<Vec<String>> = columns.iter().map(|it| lines(it.head)).collect();
    let head = head_row(&set, heads);
    let rows = rows.into_iter().map(|it| body_row(page, &set, it, &widths)).collect();
    List { heading, rows, head: Some(head) }
}

fn lines(words: &str) -> Vec<String> {
    words.lines().map(str::to_owned).collect()
}

fn natural(page: &Page<'_>, cell: &Cell) -> f64 {
    match cell {
        Cell::Marks(marks, ..) => marks.iter().map(|it| mark_size(page.lettering, it).0).fold(0.0, f64::max),
        Cell::Words(words) => {
            words.lines().map(|it| page.lettering.width_mm(it, WORDS_MM, false)).fold(0.0, f64::max)
        }
    }
}

/// Each column as wide as its widest cell; where that is too much, those that wrap share what is left.
fn widths(page: &Page<'_>, width: f64, columns: &[Column], rows: &[Vec<Cell>]) -> Vec<f64> {
    let wanted = |letters: f64| -> Vec<f64> {
        let one = |(n, column): (usize, &Column)| {
            let head = column.head.lines().map(|it| page.lettering.width_mm(it, WORDS_MM, true) * letters);
            let cells = rows.iter().filter_map(|it| it.get(n)).map(|it| natural(page, it));
            head.chain(cells).fold(0.0, f64::max).min(column.most_mm) + GUTTER_MM
        };
        columns.iter().enumerate().map(one).collect()
    };
    let roomy = wanted(OTHER_LETTERS);
    let mut widths = if roomy.iter().sum::<f64>() <= width { roomy } else { wanted(1.0) };
    let fixed: f64 = columns.iter().zip(&widths).filter(|it| !it.0.wraps).map(|it| it.1).sum();
    let room = (width - fixed).max(0.0);
    let wrapping: Vec<usize> = (0..columns.len()).filter(|it| columns[*it].wraps).collect();
    let Some((last, others)) = wrapping.split_last() else { return widths };
    let wanted: f64 = others.iter().map(|it| widths[*it]).sum();
    if room < wanted + widths[*last] {
        // The last column keeps its part, or all that it wants where that is less.
        let for_last = widths[*last].min((room - wanted).max(room * LEAST_FOR_LAST));
        share_out(others, &mut widths, room - for_last, |it| least(page, &columns[it], rows, it));
        widths[*last] = (room - others.iter().map(|it| widths[*it]).sum::<f64>()).min(widths[*last]);
    }
    widths
}

/// Gives these columns as much of the room as each wants in proportion, and none less than it needs.
fn share_out(of: &[usize], widths: &mut [f64], room: f64, least: impl Fn(usize) -> f64) {
    let mut open: Vec<(usize, f64)> = of.iter().map(|it| (*it, least(*it).min(widths[*it]))).collect();
    let mut left = room;
    loop {
        let wanted: f64 = open.iter().map(|it| widths[it.0]).sum();
        let share = if 0.0 < wanted { (left / wanted).clamp(0.0, 1.0) } else { 1.0 };
        // Those that need more than their share get what they need, and the others share the rest.
        let (tight, loose): (Vec<_>, Vec<_>) = open.iter().partition(|it| widths[it.0] * share < it.1);
        if tight.is_empty() {
            open.iter().for_each(|it| widths[it.0] *= share);
            return;
        }
        for (which, needs) in tight {
            widths[which] = needs;
            left -= needs;
        }
        open = loose;
    }
}

/// The least width of a column: its marks and its longest word.
fn least(page: &Page<'_>, column: &Column, rows: &[Vec<Cell>], which: usize) -> f64 {
    let word = |words: &str, bold: bool| {
        words.split_whitespace().map(|it| page.lettering.width_mm(it, WORDS_MM, bold)).fold(0.0, f64::max)
    };
    let cell = |it: &Cell| match it {
        Cell::Marks(..) => natural(page, it),
        Cell::Words(words) => word(words, false),
    };
    let cells = rows.iter().filter_map(|it| it.get(which)).map(cell).fold(0.0, f64::max);
    cells.max(word(column.head, true)).min(column.most_mm) + GUTTER_MM
}

fn head_row<'a>(set: &Rc<Set>, heads: Vec<Vec<String>>) -> Row<'a> {
    let count = heads.iter().map(Vec::len).max().unwrap_or(1);
    let height = row_height(count);
    let set = Rc::clone(set);
    let draw = move |at: Point| {
        let mut items = Vec::new();
        for (lines, left) in heads.iter().zip(&set.lefts) {
            // Headings stand on the foot of their row.
            let first =
                at.y + height - (ROW_MM - WORDS_MM * CAPITAL) / 2.0 - leading(lines.len().saturating_sub(1));
            for (n, line) in lines.iter().enumerate() {
                let place = Point::new(at.x + left, first + leading(n));
                items.push(Words::new(line.as_str(), WORDS_MM).bold().at(Layer::Notes, None, place));
            }
        }
        items.push(rule(&set, at, height, Line::Seen));
        items
    };
    Row { height, draw: Box::new(draw), is_head: true }
}

fn body_row<'a>(page: &'a Page<'a>, set: &Rc<Set>, cells: Vec<Cell>, widths: &[f64]) -> Row<'a> {
    let fit = |(cell, width): (Cell, &f64)| match cell {
        Cell::Words(words) => {
            let room = width - GUTTER_MM + 0.01;
            let mut lines: Vec<String> =
                words.lines().flat_map(|it| page.lettering.wrapped(it, WORDS_MM, room)).collect();
            if MOST_LINES < lines.len() {
                let rest = lines.split_off(MOST_LINES - 1).join(" ");
                lines.extend(page.lettering.shortened(&rest, WORDS_MM, false, room));
            }
            Fitted::Lines(lines)
        }
        Cell::Marks(marks, mood, subject) => Fitted::Marks(marks, mood, subject),
    };
    let cells: Vec<Fitted> = cells.into_iter().zip(widths).map(fit).collect();
    let height = cells.iter().map(Fitted::height).fold(ROW_MM, f64::max);
    let set = Rc::clone(set);
    let draw = move |at: Point| {
        let mut items: Vec<Item> = cells
            .iter()
            .zip(&set.lefts)
            .flat_map(|(cell, left)| cell.draw(page, Point::new(at.x + left, at.y), height))
            .collect();
        items.push(rule(&set, at, height, Line::Rule));
        items
    };
    Row { height, draw: Box::new(draw), is_head: false }
}

/// A cell's words in lines that fit.
enum Fitted {
    Lines(Vec<String>),
    Marks(Vec<String>, Mood, Option<Subject>),
}

impl Fitted {
    fn height(&self) -> f64 {
        match self {
            Self::Lines(lines) => row_height(lines.len().max(1)),
            Self::Marks(marks, ..) => (MARK_MM + 0.8) * count(marks.len()) + 0.8,
        }
    }

    fn draw(&self, page: &Page<'_>, at: Point, height: f64) -> Vec<Item> {
        match self {
            Self::Lines(lines) => {
                let block = leading(lines.len().saturating_sub(1)) + WORDS_MM * CAPITAL;
                let first = at.y + (height - block) / 2.0 + WORDS_MM * CAPITAL;
                let set = |(n, line): (usize, &String)| {
                    let place = Point::new(at.x, first + leading(n));
                    Words::new(line.as_str(), WORDS_MM).at(Layer::Notes, None, place)
                };
                lines.iter().enumerate().map(set).collect()
            }
            Self::Marks(marks, mood, subject) => {
                let block = (MARK_MM + 0.8) * count(marks.len()) - 0.8;
                let mut top = at.y + (height - block) / 2.0;
                let mut items = Vec::new();
                for words in marks {
                    let (wide, high) = mark_size(page.lettering, words);
                    let place = kurbo::Rect::new(at.x, top, at.x + wide, top + high);
                    items.extend(mark(words, place, *mood, (Layer::Notes, subject.clone())));
                    top += MARK_MM + 0.8;
                }
                items
            }
        }
    }
}

fn rule(set: &Set, at: Point, below: f64, line: Line) -> Item {
    let y = at.y + below;
    let path = pen::stroke(Point::new(at.x, y), Point::new(at.x + set.width, y));
    pen::path(Layer::Notes, None, path, None, Some(line))
}

fn row_height(lines: usize) -> f64 {
    ROW_MM + leading(lines.saturating_sub(1))
}

fn leading(lines: usize) -> f64 {
    LINE_MM * count(lines)
}

fn count(it: usize) -> f64 {
    f64::from(u16::try_from(it).unwrap_or(u16::MAX))
}
