//! The lists of a sheet in their order: revisions, notes, schedules, cores, findings, checks for the site.

use kurbo::{Point, Rect};

use super::Page;
use super::checks;
use super::flow::{List, Row};
use super::groups::{self, Content, Group, Told, numbers, ranges};
use super::schedules;
use super::table::{self, Cell, wide};
use crate::drawing::marks::{MARK_MM, mark, mark_size};
use crate::drawing::pen::{self, Words};
use crate::drawing::strip;
use crate::drawing::text::WORDS_MM;
use crate::drawing::{Ink, Item, Layer, Line, Mood, Subject};
use crate::findings::Severity;

/// Leading of ordinary words.
const LINE_MM: f64 = 4.7;
/// A row of words has no more letters than this; longer words go on in another row, which begins with the same word
/// however wide the column is, so that a list can go on in a column of another width.
const MOST_LETTERS: usize = 420;
/// Indent of words behind a mark or a box.
const INDENT_MM: f64 = 8.0;
/// Edge of a box to be ticked.
const BOX_MM: f64 = 3.4;

/// All lists for a column of this width.
pub(super) fn all<'a>(page: &'a Page<'a>, width: f64, content: &'a Content<'a>) -> Vec<List<'a>> {
    let findings = content.inputs.findings;
    let told = groups::told(content.inputs).iter().flat_map(|it| finding(page, width, it)).collect();
    let not_checked = findings.not_checked.iter().flat_map(|it| plain(page, width, it)).collect();
    let plain_list =
        |heading, rows: Vec<Row<'a>>| (!rows.is_empty()).then_some(List { heading, rows, head: None });
    let lists = [
        revisions(page, width, content),
        schedules::fasteners(page, width, content),
        plain_list("CORE", cores(page, width, content)),
        schedules::drilling_list(page, width, content),
        schedules::holes_list(page, width, content),
        plain_list("FINDINGS", told),
        plain_list("CHECK ON SITE", check_rows(page, width, content)),
        plain_list("NOTES", notes(page, width, content)),
        plain_list("NOT CHECKED", not_checked),
    ];
    lists.into_iter().flatten().collect()
}

fn revisions<'a>(page: &'a Page<'a>, width: f64, content: &Content<'_>) -> Option<List<'a>> {
    let words = |it: &String| Cell::Words(it.clone());
    let rows: Vec<Vec<Cell>> = content
        .inputs
        .joint
        .sheet
        .revisions
        .iter()
        .map(|it| vec![words(&it.mark), words(&it.what), words(&it.by), words(&it.date)])
        .collect();
    let columns = [wide("Issue"), wide("What was changed"), wide("By"), wide("Date")];
    (!rows.is_empty()).then(|| table::list(page, width, "REVISIONS", &columns, rows))
}

fn cores<'a>(page: &'a Page<'a>, width: f64, content: &'a Content<'a>) -> Vec<Row<'a>> {
    let longest = content.inputs.trace.fasteners.iter().map(|it| it.length_mm).fold(0.0, f64::max);
    let words: Vec<String> = content.groups.iter().map(number_words).collect();
    // All bars begin at one place and share one scale, so that their lengths can be compared.
    let widest = words.iter().map(|it| mark_size(page.lettering, it).0).fold(MARK_MM, f64::max);
    let row = |(group, words): (&'a Group, String)| {
        let which = group.members.first().copied().unwrap_or(0);
        let height = strip::bar_height_mm(content.inputs, (which, &words, widest), (width, longest));
        let draw =
            move |at: Point| strip::draw_bar(content.inputs, (which, &words, widest), at, (width, longest));
        Row { height, draw: Box::new(draw), is_head: false }
    };
    content.groups.iter().zip(words).map(row).collect()
}

/// The numbers of a group in one mark.
fn number_words(group: &Group) -> String {
    match ranges(&group.members).as_slice() {
        [one] => one.clone(),
        [first, second] => format!("{first}, {second}"),
        [first, ..] => format!("{first}, …"),
        [] => String::new(),
    }
}

fn check_rows<'a>(page: &'a Page<'a>, width: f64, content: &'a Content<'a>) -> Vec<Row<'a>> {
    let mut rows = Vec::new();
    let mut last = None;
    for check in checks::of(content) {
        if last != Some(check.stage) {
            rows.push(stage(check.stage.words()));
            last = Some(check.stage);
        }
        rows.extend(boxed(page, width, &check.words));
    }
    rows
}

fn stage<'a>(words: &'static str) -> Row<'a> {
    let draw = move |at: Point| {
        vec![Words::new(words, WORDS_MM).bold().at(Layer::Notes, None, Point::new(at.x, at.y + 4.2))]
    };
    Row { height: 6.0, draw: Box::new(draw), is_head: true }
}

/// Words behind a box to be ticked.
fn boxed<'a>(page: &'a Page<'a>, width: f64, words: &str) -> Vec<Row<'a>> {
    let mut rows = Vec::new();
    for (n, piece) in pieces(words).into_iter().enumerate() {
        let chunk = page.lettering.wrapped(piece, WORDS_MM, width - INDENT_MM);
        let height = lines_height(chunk.len()) + 1.3;
        let draw = move |at: Point| {
            let mut items = lines_at(&chunk, Point::new(at.x + INDENT_MM, at.y + 3.7));
            if n == 0 {
                let place = Rect::new(at.x + 0.6, at.y + 0.9, at.x + 0.6 + BOX_MM, at.y + 0.9 + BOX_MM);
                let corners = [
                    Point::new(place.x0, place.y0),
                    Point::new(place.x1, place.y0),
                    Point::new(place.x1, place.y1),
                    Point::new(place.x0, place.y1),
                ];
                items.push(pen::path(Layer::Notes, None, pen::polygon(&corners), None, Some(Line::Seen)));
            }
            items
        };
        rows.push(Row { height, draw: Box::new(draw), is_head: false });
    }
    rows
}

/// A finding, told once of all fasteners of which it says the same.
fn finding<'a>(page: &'a Page<'a>, width: f64, told: &Told<'_>) -> Vec<Row<'a>> {
    let finding = told.finding;
    let word = match finding.severity {
        Severity::Fault => "Fault:",
        Severity::Caution => "Caution:",
        Severity::Note => "Note:",
    };
    let mood = Mood::from(Some(finding.severity));
    let after = page.lettering.width_mm(word, WORDS_MM, true) + 1.2;
    let ranges = ranges(&told.places);
    // Many numbers stand in the words, where they can be wrapped.
    let number = (ranges.len() <= 2).then(|| ranges.join(", "));
    let words = match &number {
        Some(_) => format!("{} ({})", finding.says, finding.source),
        None => format!("{}: {} ({})", numbers(&told.places), finding.says, finding.source),
    };
    let number = number.filter(|it| !it.is_empty());
    let size = number.as_ref().map(|it| mark_size(page.lettering, it));
    let indent = size.map_or(INDENT_MM, |it| it.0 + 2.0).max(INDENT_MM);
    let subject = told.places.first().and_then(|it| page.inputs.joint.fasteners.get(*it));
    let subject = subject.map(|it| Subject::Fastener(it.id.clone()));
    let mut rows = Vec::new();
    for (n, piece) in pieces(&words).into_iter().enumerate() {
        let after = if n == 0 { after } else { 0.0 };
        let chunk = page.lettering.wrapped_after(after, piece, WORDS_MM, width - indent);
        let height = (lines_height(chunk.len()) + 1.6).max(if n == 0 { MARK_MM + 1.0 } else { 0.0 });
        let mark_of_it = number.clone().zip(size).filter(|_| n == 0);
        let subject = subject.clone();
        let draw = move |at: Point| {
            let left = Point::new(at.x + indent, at.y + 3.9);
            if n != 0 {
                return lines_at(&chunk, left);
            }
            let mut items = lines_at(&chunk[1..], Point::new(left.x, left.y + LINE_MM));
            items.push(Words::new(word, WORDS_MM).bold().ink(Ink::Mood(mood)).at(Layer::Notes, None, left));
            items.extend(lines_at(&chunk[..1], Point::new(left.x + after, left.y)));
            if let Some((number, (wide, high))) = &mark_of_it {
                let place = Rect::new(at.x, at.y, at.x + wide, at.y + high);
                items.extend(mark(number, place, mood, (Layer::Notes, subject.clone())));
            }
            items
        };
        rows.push(Row { height, draw: Box::new(draw), is_head: false });
    }
    rows
}

fn notes<'a>(page: &'a Page<'a>, width: f64, content: &Content<'_>) -> Vec<Row<'a>> {
    let notes = content.inputs.joint.notes.iter().filter(|it| !it.trim().is_empty()).enumerate();
    notes.flat_map(|(n, it)| plain(page, width, &format!("{}. {it}", n + 1))).collect()
}

fn plain<'a>(page: &'a Page<'a>, width: f64, words: &str) -> Vec<Row<'a>> {
    let row = |piece: &str| {
        let lines = page.lettering.wrapped(piece, WORDS_MM, width);
        let height = lines_height(lines.len()) + 0.6;
        let draw = move |at: Point| lines_at(&lines, Point::new(at.x, at.y + 3.2));
        Row { height, draw: Box::new(draw), is_head: false }
    };
    pieces(words).into_iter().map(row).collect()
}

/// Words in pieces of one row each: long ones end with a sentence, else with a word.
fn pieces(words: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut rest = words.trim();
    while let Some((most, _)) = rest.char_indices().nth(MOST_LETTERS) {
        let room = &rest[..most];
        let sentence = room.rfind(". ").map(|it| it + 1).filter(|it| most / 2 < *it);
        let end = sentence.or_else(|| room.rfind(char::is_whitespace)).filter(|it| 0 < *it).unwrap_or(most);
        pieces.push(rest[..end].trim_end());
        rest = rest[end..].trim_start();
    }
    if !rest.is_empty() || pieces.is_empty() {
        pieces.push(rest);
    }
    pieces
}

/// Lines of words below each other, the first on this base line.
fn lines_at(lines: &[String], at: Point) -> Vec<Item> {
    let set = |(n, line): (usize, &String)| {
        Words::new(line.as_str(), WORDS_MM).at(Layer::Notes, None, Point::new(at.x, at.y + lines_height(n)))
    };
    lines.iter().enumerate().map(set).collect()
}

fn lines_height(count: usize) -> f64 {
    LINE_MM * f64::from(u16::try_from(count).unwrap_or(u16::MAX))
}
