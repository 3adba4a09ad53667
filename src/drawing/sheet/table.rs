//! The table of fasteners: what each is, its bite, the bite asked for, and how it is as drawn.

use kurbo::Point;

use super::Page;
use crate::drawing::text::{CAPITAL, WORDS_MM};
use crate::drawing::{Item, Layer, Line, pen, pen::Words, verdict};
use crate::findings::Kind;
use crate::unit::length::{self, Rounding};

/// Height of a row of one line.
pub(super) const ROW_MM: f64 = 6.8;
/// Leading in a row of two lines.
const LINE_MM: f64 = 4.4;
/// Width of the column of marks.
const MARKS_MM: f64 = 9.0;
/// Clear paper at the right of a cell.
const GUTTER_MM: f64 = 2.2;
/// Of what the two columns of words share, the last one takes at most this part.
const MOST_FOR_LAST: f64 = 0.45;

const HEADS: [&str; 5] = ["No.", "Fastener", "Bite", "Needs", "As drawn"];

/// All cells as lines that fit their columns, and the left edges of these.
pub(super) struct Table {
    lefts: [f64; 5],
    rows: Vec<[Vec<String>; 5]>,
}

impl Table {
    pub(super) fn of(page: &Page<'_>) -> Self {
        let count = page.inputs.joint.fasteners.len();
        let cells: Vec<[String; 5]> = (0..count).filter_map(|it| cells(page, it)).collect();
        let natural = |n: usize| {
            let width = |words: &str, bold| page.lettering.width_mm(words, WORDS_MM, bold);
            cells.iter().map(|it| width(&it[n], false)).fold(width(HEADS[n], true), f64::max) + GUTTER_MM
        };
        let (bite, needs) = (natural(2), natural(3));
        let shared = page.column.width() - MARKS_MM - bite - needs;
        let last = natural(4).min((shared - natural(1)).max(shared * MOST_FOR_LAST));
        let widths = [MARKS_MM, shared - last, bite, needs, last];
        let mut lefts = [0.0; 5];
        for n in 1..5 {
            lefts[n] = lefts[n - 1] + widths[n - 1];
        }
        let fit = |row: [String; 5]| {
            let mut n = 0;
            row.map(|cell| {
                n += 1;
                in_two_lines(page, &cell, widths[n - 1] - GUTTER_MM + 0.01)
            })
        };
        Self { lefts, rows: cells.into_iter().map(fit).collect() }
    }

    /// Height of the row of this fastener.
    pub(super) fn height_of(&self, row: usize) -> f64 {
        let lines = self.rows.get(row).map_or(1, |it| it.iter().map(Vec::len).max().unwrap_or(1));
        if 1 < lines { ROW_MM + LINE_MM } else { ROW_MM }
    }

    pub(super) fn draw_head(&self, page: &Page<'_>, at: Point) -> Vec<Item> {
        let base = at.y + (ROW_MM + WORDS_MM * CAPITAL) / 2.0;
        let mut items: Vec<Item> = HEADS
            .iter()
            .zip(self.lefts)
            .map(|(head, left)| {
                Words::new(*head, WORDS_MM).bold().at(Layer::Notes, None, Point::new(at.x + left, base))
            })
            .collect();
        items.push(rule(page, at, ROW_MM, Line::Seen));
        items
    }

    pub(super) fn draw_row(&self, page: &Page<'_>, row: usize, at: Point) -> Vec<Item> {
        let Some(cells) = self.rows.get(row) else { return Vec::new() };
        let height = self.height_of(row);
        let mut items = Vec::new();
        for (lines, left) in cells.iter().zip(self.lefts) {
            let above = LINE_MM * if lines.len() == 2 { 0.5 } else { 0.0 };
            let mut base = at.y + (height + WORDS_MM * CAPITAL) / 2.0 - above;
            for line in lines {
                let place = Point::new(at.x + left, base);
                items.push(Words::new(line.as_str(), WORDS_MM).at(Layer::Notes, None, place));
                base += LINE_MM;
            }
        }
        items.push(rule(page, at, height, Line::Rule));
        items
    }
}

fn rule(page: &Page<'_>, at: Point, below: f64, line: Line) -> Item {
    let y = at.y + below;
    let path = pen::stroke(Point::new(at.x, y), Point::new(at.x + page.column.width(), y));
    pen::path(Layer::Notes, None, path, None, Some(line))
}

/// One line or two; what does not fit the second is shortened.
fn in_two_lines(page: &Page<'_>, words: &str, width: f64) -> Vec<String> {
    let mut lines = page.lettering.wrapped(words, WORDS_MM, width);
    if 2 < lines.len() {
        let rest = lines.split_off(1).join(" ");
        lines.extend(page.lettering.shortened(&rest, WORDS_MM, false, width));
    }
    lines
}

/// The words of a row; the first cell is the mark's.
fn cells(page: &Page<'_>, which: usize) -> Option<[String; 5]> {
    let inputs = page.inputs;
    let fastener = inputs.joint.fasteners.get(which)?;
    let shank = inputs.trace.fasteners.get(which)?;
    let unit = inputs.joint.show_lengths_in;
    let bite = shank.holding.map(|it| length::format(it.bite_mm, unit, Rounding::Down));
    let of_it = || inputs.findings.list.iter().filter(|it| it.subjects.first() == Some(&fastener.id));
    let asked = of_it().find(|it| it.kind == Kind::ShortBite && it.unit == "mm");
    let needs = asked.and_then(|it| it.required).map(|it| length::format(it, unit, Rounding::Up));
    let worst = of_it().min_by_key(|it| it.severity);
    Some([
        String::new(),
        fastener.spec.label.clone(),
        bite.unwrap_or_else(|| "none".to_owned()),
        needs.unwrap_or_default(),
        worst.map_or_else(|| "no finding".to_owned(), |it| verdict::short_name(it.kind)),
    ])
}
