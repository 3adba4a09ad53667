//! The lists beside the view: fasteners, cores, findings, what was not checked. What does not fit is counted.

use std::rc::Rc;

use kurbo::{Point, Rect};

use super::Page;
use super::table::{self, Table};
use crate::drawing::marks::{MARK_MM, mark, mark_size};
use crate::drawing::pen::Words;
use crate::drawing::strip::{self, STRIP_MM};
use crate::drawing::text::{CAPITAL, WORDS_MM};
use crate::drawing::{Ink, Item, Layer, Mood, Subject, mark_of};
use crate::findings::{Finding, Severity};

/// Leading of ordinary words.
const LINE_MM: f64 = 4.7;
/// Height of a heading with the paper below it.
const HEADING_MM: f64 = 6.0;
/// Paper between two lists.
const BETWEEN_MM: f64 = 4.2;

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
    let table = Rc::new(Table::of(page));
    let mut rows: Vec<Row<'a>> = Vec::new();
    if 0 < count {
        let head = Rc::clone(&table);
        rows.push(Row { height: table::ROW_MM, draw: Box::new(move |at| head.draw_head(page, at)) });
    }
    rows.extend((0..count).map(|n| {
        let table = Rc::clone(&table);
        let height = table.height_of(n);
        let draw = move |at: Point| {
            let mut items = table.draw_row(page, n, at);
            let id = page.inputs.joint.fasteners.get(n).map_or("", |it| it.id.as_str());
            let mood = Mood::from(page.inputs.findings.worst_of(id));
            items.extend(mark_at(page, n + 1, mood, (at, height)));
            items
        };
        Row { height, draw: Box::new(draw) }
    }));
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
        List { heading: "FASTENERS", rows, at_least: 3, has_head: true },
        List { heading: "CORE", rows: cores, at_least: 2, has_head: false },
        List { heading: "FINDINGS", rows: told, at_least: 3, has_head: false },
        List { heading: "NOT CHECKED", rows: not_checked, at_least: 2, has_head: false },
    ]
}

/// A mark at the left of a row of this height.
fn mark_at(page: &Page<'_>, number: usize, mood: Mood, (at, height): (Point, f64)) -> Vec<Item> {
    let number_words = number.to_string();
    let (width, _) = mark_size(page.lettering, &number_words);
    let top = at.y + (height - MARK_MM) / 2.0;
    let place = Rect::new(at.x, top, at.x + width, top + MARK_MM);
    let id = page.inputs.joint.fasteners.get(number - 1).map(|it| Subject::Fastener(it.id.clone()));
    mark(&number_words, place, mood, (Layer::Notes, id))
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
