//! The lists beside the view: fasteners, cores, findings, what was not checked. What does not fit is counted.

use kurbo::{Point, Rect};

use super::Page;
use crate::drawing::marks::{MARK_MM, mark, mark_size};
use crate::drawing::pen::{self, Words};
use crate::drawing::strip::{self, STRIP_MM};
use crate::drawing::text::{CAPITAL, WORDS_MM};
use crate::drawing::verdict;
use crate::drawing::{Ink, Item, Layer, Line, Mood, Subject, mark_of};
use crate::findings::{Finding, Kind, Severity};
use crate::unit::length::{self, Rounding};

/// Leading of ordinary words.
const LINE_MM: f64 = 4.7;
/// Height of a heading with the paper below it.
const HEADING_MM: f64 = 6.0;
/// Paper between two lists.
const BETWEEN_MM: f64 = 4.2;
/// Height of a row of the table.
const ROW_MM: f64 = 6.8;

/// One row of a list: how high it is, and its items when its upper left corner is known.
struct Row<'a> {
    height: f64,
    draw: Box<dyn Fn(Point) -> Vec<Item> + 'a>,
}

/// One list with its heading.
struct List<'a> {
    heading: &'static str,
    rows: Vec<Row<'a>>,
    /// How many of its rows are shown before another list is.
    at_least: usize,
    /// A heading row of a table is drawn before the others and does not count.
    has_head: bool,
}

impl List<'_> {
    fn height_of(&self, rows: usize) -> f64 {
        if self.rows.is_empty() {
            return 0.0;
        }
        let more = if rows < self.rows.len() { LINE_MM } else { 0.0 };
        HEADING_MM + BETWEEN_MM + more + self.rows.iter().take(rows).map(|it| it.height).sum::<f64>()
    }

    /// The most rows that fit into this height, with the line that counts the others.
    fn rows_within(&self, height: f64) -> usize {
        (0..=self.rows.len()).rev().find(|it| self.height_of(*it) <= height).unwrap_or(0)
    }
}

/// Whether all lists fit the page.
pub(super) fn is_whole(page: &Page<'_>) -> bool {
    let needed: f64 = lists(page).iter().map(|it| it.height_of(it.rows.len())).sum();
    needed <= page.column.height() + BETWEEN_MM
}

/// The lists one below the other. Each first gets a few rows, then what room is left in turn.
pub(super) fn draw(page: &Page<'_>) -> Vec<Item> {
    let lists = lists(page);
    let least: Vec<f64> = lists.iter().map(|it| it.height_of(it.at_least.min(it.rows.len()))).collect();
    let mut room = page.column.height() + BETWEEN_MM;
    let mut top = page.column.y0;
    let mut items = Vec::new();
    for (n, list) in lists.iter().enumerate() {
        let later: f64 = least[n + 1..].iter().sum();
        let shown = list.rows_within(room - later);
        let height = list.height_of(shown);
        if list.rows.is_empty() || room < height {
            continue;
        }
        items.extend(draw_list(page, list, shown, top));
        top += height;
        room -= height;
    }
    items
}

fn draw_list(page: &Page<'_>, list: &List<'_>, shown: usize, top: f64) -> Vec<Item> {
    let left = page.column.x0;
    let size = 3.0 / CAPITAL;
    let at = Point::new(left, top + size * CAPITAL);
    let mut items = vec![Words::new(list.heading, size).bold().at(Layer::Notes, None, at)];
    let mut y = top + HEADING_MM;
    for row in list.rows.iter().take(shown) {
        items.extend((row.draw)(Point::new(left, y)));
        y += row.height;
    }
    let missing = list.rows.len() - shown;
    if 0 < missing {
        let missing = if list.has_head && shown == 0 { missing - 1 } else { missing };
        let words = format!("and {missing} more in the check report");
        let at = Point::new(left, y + 3.6);
        items.push(Words::new(words, WORDS_MM).ink(Ink::Soft).at(Layer::Notes, None, at));
    }
    items
}

fn lists<'a>(page: &'a Page<'a>) -> Vec<List<'a>> {
    let findings = page.inputs.findings;
    let count = page.inputs.joint.fasteners.len();
    let mut table: Vec<Row<'a>> = Vec::new();
    if 0 < count {
        table.push(Row { height: ROW_MM, draw: Box::new(|at| table_head(page, at)) });
    }
    table
        .extend((0..count).map(|n| Row { height: ROW_MM, draw: Box::new(move |at| table_row(page, n, at)) }));
    let all: Vec<usize> = (0..count).collect();
    let cores: Vec<Row<'a>> = all
        .iter()
        .map(|n| {
            let n = *n;
            Row { height: STRIP_MM, draw: Box::new(move |at| core(page, n, at)) }
        })
        .collect();
    let told = findings.list.iter().map(|it| finding(page, it)).collect();
    let not_checked = findings.not_checked.iter().map(|it| plain(page, it)).collect();
    vec![
        List { heading: "FASTENERS", rows: table, at_least: 3, has_head: true },
        List { heading: "CORE", rows: cores, at_least: 2, has_head: false },
        List { heading: "FINDINGS", rows: told, at_least: 3, has_head: false },
        List { heading: "NOT CHECKED", rows: not_checked, at_least: 2, has_head: false },
    ]
}

/// Left edges of the columns of the table, as parts of its width, and its heads.
const COLUMNS: [(f64, &str); 5] =
    [(0.0, "No."), (0.09, "Fastener"), (0.43, "Bite"), (0.57, "Needs"), (0.71, "As drawn")];

fn table_head(page: &Page<'_>, at: Point) -> Vec<Item> {
    let cells = COLUMNS.map(|it| it.1.to_owned());
    cells_row(page, at, &cells, true)
}

/// Cells in their columns, with a rule below.
fn cells_row(page: &Page<'_>, at: Point, cells: &[String; 5], is_head: bool) -> Vec<Item> {
    let width = page.column.width();
    let base = at.y + (ROW_MM + WORDS_MM * CAPITAL) / 2.0;
    let mut items = Vec::new();
    for (n, cell) in cells.iter().enumerate() {
        let from = COLUMNS[n].0 * width;
        let to = COLUMNS.get(n + 1).map_or(width, |it| it.0 * width);
        let fitted = page.lettering.shortened(cell, WORDS_MM, is_head, to - from - 1.2);
        if let Some(words) = fitted.filter(|it| !it.is_empty()) {
            let words = Words { bold: is_head, ..Words::new(words, WORDS_MM) };
            items.push(words.at(Layer::Notes, None, Point::new(at.x + from, base)));
        }
    }
    let y = at.y + ROW_MM;
    let rule = pen::stroke(Point::new(at.x, y), Point::new(at.x + width, y));
    let line = if is_head { Line::Seen } else { Line::Rule };
    items.push(pen::path(Layer::Notes, None, rule, None, Some(line)));
    items
}

fn table_row(page: &Page<'_>, which: usize, at: Point) -> Vec<Item> {
    let inputs = page.inputs;
    let (Some(fastener), Some(shank)) =
        (inputs.joint.fasteners.get(which), inputs.trace.fasteners.get(which))
    else {
        return Vec::new();
    };
    let unit = inputs.joint.show_lengths_in;
    let bite = shank.holding.map(|it| length::format(it.bite_mm, unit, Rounding::Down));
    let asked = inputs.findings.list.iter().find(|it| {
        it.kind == Kind::ShortBite && it.subjects.first() == Some(&fastener.id) && it.unit == "mm"
    });
    let needs = asked.and_then(|it| it.required).map(|it| length::format(it, unit, Rounding::Up));
    let mood = Mood::from(inputs.findings.worst_of(&fastener.id));
    let mut items = cells_row(
        page,
        at,
        &[
            String::new(),
            fastener.spec.label.clone(),
            bite.unwrap_or_else(|| "none".to_owned()),
            needs.unwrap_or_default(),
            as_drawn(page, &fastener.id),
        ],
        false,
    );
    items.extend(mark_at(page, which + 1, mood, (at, ROW_MM)));
    items
}

/// A mark at the left of a row of this height.
fn mark_at(page: &Page<'_>, number: usize, mood: Mood, (at, height): (Point, f64)) -> Vec<Item> {
    let number_words = number.to_string();
    let (width, _) = mark_size(&page.lettering, &number_words);
    let top = at.y + (height - MARK_MM) / 2.0;
    let place = Rect::new(at.x, top, at.x + width, top + MARK_MM);
    let id = page.inputs.joint.fasteners.get(number - 1).map(|it| Subject::Fastener(it.id.clone()));
    mark(&number_words, place, mood, (Layer::Notes, id))
}

/// The worst of a fastener in two or three words.
fn as_drawn(page: &Page<'_>, id: &str) -> String {
    let of_it = page.inputs.findings.list.iter().filter(|it| it.subjects.first().is_some_and(|it| it == id));
    let worst = of_it.min_by_key(|it| it.severity);
    worst.map_or_else(|| "no finding".to_owned(), |it| verdict::short_name(it.kind))
}

fn core(page: &Page<'_>, which: usize, at: Point) -> Vec<Item> {
    // All strips share one scale, so that their lengths can be compared.
    let longest = page.inputs.trace.fasteners.iter().map(|it| it.length_mm).fold(0.0, f64::max);
    strip::draw_bar(page.inputs, which, at, (page.column.width(), longest))
}

fn finding<'a>(page: &'a Page<'a>, finding: &'a Finding) -> Row<'a> {
    let word = match finding.severity {
        Severity::Fault => "Fault:",
        Severity::Caution => "Caution:",
        Severity::Note => "Note:",
    };
    let mood = Mood::from(Some(finding.severity));
    let indent = 8.0;
    let after = page.lettering.width_mm(word, WORDS_MM, true) + 1.2;
    let words = format!("{} ({})", finding.says, finding.source);
    let lines = page.lettering.wrapped_after(after, &words, WORDS_MM, page.column.width() - indent);
    let number = finding.subjects.first().and_then(|it| mark_of(page.inputs.joint, it));
    let height = (lines_height(lines.len()) + 1.6).max(MARK_MM + 1.0);
    let draw = move |at: Point| {
        let base = at.y + 3.9;
        let left = at.x + indent;
        let head = Words::new(word, WORDS_MM).bold().ink(Ink::Mood(mood));
        let mut items = vec![head.at(Layer::Notes, None, Point::new(left, base))];
        for (n, line) in lines.iter().enumerate() {
            let x = if n == 0 { left + after } else { left };
            let at = Point::new(x, base + lines_height(n));
            items.push(Words::new(line.as_str(), WORDS_MM).at(Layer::Notes, None, at));
        }
        if let Some(number) = number {
            items.extend(mark_at(page, number, mood, (at, MARK_MM)));
        }
        items
    };
    Row { height, draw: Box::new(draw) }
}

fn plain<'a>(page: &'a Page<'a>, words: &'a str) -> Row<'a> {
    let lines = page.lettering.wrapped(words, WORDS_MM, page.column.width());
    let height = lines_height(lines.len()) + 0.6;
    let draw = move |at: Point| {
        let set = |(n, line): (usize, &String)| {
            let at = Point::new(at.x, at.y + 3.2 + lines_height(n));
            Words::new(line.as_str(), WORDS_MM).at(Layer::Notes, None, at)
        };
        lines.iter().enumerate().map(set).collect()
    };
    Row { height, draw: Box::new(draw) }
}

fn lines_height(count: usize) -> f64 {
    LINE_MM * f64::from(u16::try_from(count).unwrap_or(u16::MAX))
}
