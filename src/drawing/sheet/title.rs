//! The title block, the title of the view, the cautions, and the words that tell the drawing to those
//! who cannot see it.

use kurbo::{Point, Rect, Shape as _, Vec2};

use super::compose::{self, Composed};
use super::groups::{self, Content};
use super::{Page, fingerprint, scale, standard_name};
use crate::drawing::pen::{self, Words};
use crate::drawing::put::{Drawn, Puts};
use crate::drawing::steel::tag;
use crate::drawing::text::{CAPITAL, WORDS_MM};
use crate::drawing::{Anchor, Fill, Ink, Inputs, Item, Layer, Line};
use crate::joint::Duty;
use crate::unit::LengthUnit;

/// Size of the title block: ISO 7200 allows 180 mm.
pub(super) const WIDTH_MM: f64 = 180.0;
pub(super) const HEIGHT_MM: f64 = 30.0;

/// Words of a field that are too long for the usual size.
const SMALLER_MM: f64 = 2.1 / CAPITAL;
/// Words of a field's name.
const FIELD_MM: f64 = 1.8 / CAPITAL;
/// The title of the view.
const TITLE_MM: f64 = 5.0 / CAPITAL;
const LONG_TITLE_MM: f64 = 3.5 / CAPITAL;
/// Side of the triangle round the mark of a revision.
const TRIANGLE_MM: f64 = 7.0;
/// Leading of small words, in their size.
const LEADING: f64 = 1.25;

/// Height and width of the bars that tell whether printing changed the scale, and the least that is left above them.
const CHECK_BAR_MM: f64 = 8.0;
const CHECK_BAR_WIDTH_MM: f64 = 106.0;
const LEAST_CAUTIONS_MM: f64 = 12.0;

/// What every sheet says.
const CAUTION: &str = "Checks geometry and published formulas, as drawn. Local code, the connector \
                       maker's instructions and a licensed designer decide.";

/// The title block, after the fields of ISO 7200. What was not filled in stays blank.
pub(super) fn block(page: &Page<'_>, composed: Option<&Composed>, (n, count): (usize, usize)) -> Vec<Item> {
    let joint = page.inputs.joint;
    let sheet = &joint.sheet;
    let scale = composed.map_or_else(String::new, |it| it.scale.words(joint.show_lengths_in));
    let issue = sheet.revisions.last().map_or("", |it| it.mark.as_str());
    let number = format!("{n} / {count}");
    let fingerprint = fingerprint::of(joint);
    let rows: [&[(&str, &str, f64)]; 3] = [
        &[
            ("Owner", &sheet.owner, 54.0),
            ("Title", &joint.title, 81.0),
            ("Document no.", &sheet.number, 45.0),
        ],
        &[
            ("Drawn", &sheet.drawn, 27.0),
            ("Checked", &sheet.checked, 27.0),
            ("Supplementary title", &sheet.supplement, 54.0),
            ("Detail", &sheet.detail, 27.0),
            ("Scale", &scale, 45.0),
        ],
        &[
            ("Approved", &sheet.approved, 27.0),
            ("Date of issue", &sheet.date, 27.0),
            ("Document type", "Connection detail", 33.0),
            ("Standard", standard_name(joint.standard), 27.0),
            ("Joint file", &fingerprint, 25.0),
            ("Issue", issue, 16.0),
            ("Sheet", &number, 25.0),
        ],
    ];
    let place = page.title_block;
    let outline = place.to_path(pen::TRUE_WITHIN_MM);
    let mut items = vec![pen::path(Layer::Frame, None, outline, None, Some(Line::Frame))];
    let (height, stretch) = (place.height() / 3.0, place.width() / WIDTH_MM);
    let mut rules = kurbo::BezPath::new();
    for (row, fields) in rows.iter().enumerate() {
        let y0 = place.y0 + height * f64::from(u8::try_from(row).unwrap_or(0));
        if row != 0 {
            pen::add_stroke(&mut rules, Point::new(place.x0, y0), Point::new(place.x1, y0));
        }
        let mut x0 = place.x0;
        for (n, (name, value, width)) in fields.iter().enumerate() {
            if n != 0 {
                pen::add_stroke(&mut rules, Point::new(x0, y0), Point::new(x0, y0 + height));
            }
            let x1 = x0 + width * stretch;
            items.extend(field(page, (name, value), Rect::new(x0, y0, x1, y0 + height)));
            x0 = x1;
        }
    }
    items.push(pen::path(Layer::Frame, None, rules, None, Some(Line::Rule)));
    items
}

/// The name of a field, and what stands in it: on one line, a little smaller where it is long, or smaller still on
/// two.
fn field(page: &Page<'_>, (name, value): (&str, &str), place: Rect) -> Vec<Item> {
    let at = Point::new(place.x0 + 1.8, place.y0 + 3.2);
    let mut items = vec![Words::new(name, FIELD_MM).ink(Ink::Soft).at(Layer::Frame, None, at)];
    let room = place.width() - 3.0;
    let fits = |size: &f64| page.lettering.width_mm(value, *size, false) <= room;
    if let Some(size) = [WORDS_MM, SMALLER_MM].into_iter().find(fits) {
        if !value.is_empty() {
            let at = Point::new(at.x, place.y1 - 2.0);
            items.push(Words::new(value, size).at(Layer::Frame, None, at));
        }
        return items;
    }
    let mut lines = page.lettering.wrapped(value, FIELD_MM, room);
    if 2 < lines.len() {
        let rest = lines.split_off(1).join(" ");
        lines.extend(page.lettering.shortened(&rest, FIELD_MM, false, room));
    }
    for (n, line) in lines.into_iter().rev().enumerate() {
        let up = 2.75 * f64::from(u8::try_from(n).unwrap_or(0));
        let at = Point::new(at.x, place.y1 - 1.2 - up);
        items.push(Words::new(line, FIELD_MM).at(Layer::Frame, None, at));
    }
    items
}

/// The title of the views, their scale bar and the mark of the last revision, each where the user has put it or where it usually stands.
pub(super) fn of_views(page: &Page<'_>, composed: &Composed, place: Rect, number: usize) -> Drawn {
    let sheet = format!("sheet {number}");
    let puts = Puts::of(&sheet, &page.inputs.joint.sheet.moved);
    let bar_at = Point::new(place.x1 - 62.0, place.y0 + 14.6);
    let bar = scale::bar(composed.scale, page.inputs.joint.show_lengths_in, bar_at);
    let mut drawn = Drawn::default();
    let revision = if number == 1 { revision_mark(page, place) } else { Vec::new() };
    let things =
        [("title", title_of(page, composed, place)), ("scale bar", bar), ("revision mark", revision)];
    for (what, mut items) in things {
        let Some(at) = compose::bounds(page.lettering, &items) else { continue };
        let put = puts.place(what, at.center());
        let by = put.map_or(Vec2::ZERO, |it| it - at.center());
        compose::shift(&mut items, by);
        drawn.add(items, put.is_some());
        drawn.handles.push(puts.handle(what, at + by, at.center()));
    }
    drawn
}

/// The number of the detail, its title, and what is shown at what scale.
fn title_of(page: &Page<'_>, composed: &Composed, place: Rect) -> Vec<Item> {
    let joint = page.inputs.joint;
    let mut items = Vec::new();
    let mut left = place.x0;
    let base = place.y0 + 9.0;
    let number = page.lettering.shortened(&joint.sheet.detail, WORDS_MM, true, 8.5);
    if let Some(number) = number.filter(|it| !it.is_empty()) {
        let centre = Point::new(left + 6.0, base + 1.2);
        items.push(pen::path(Layer::Notes, None, pen::circle(centre, 6.0), None, Some(Line::Cut)));
        let at = Point::new(centre.x, centre.y + WORDS_MM * CAPITAL / 2.0);
        items.push(Words::new(number, WORDS_MM).bold().anchored(Anchor::Middle).at(Layer::Notes, None, at));
        left += 15.0;
    }
    let room = place.x1 - left;
    let title = if joint.title.is_empty() { "Untitled joint" } else { &joint.title };
    // A long title is set smaller before it is shortened.
    let is_long = room < page.lettering.width_mm(title, TITLE_MM, true);
    let size = if is_long { LONG_TITLE_MM } else { TITLE_MM };
    if let Some(title) = page.lettering.shortened(title, size, true, room) {
        items.push(Words::new(title, size).bold().at(Layer::Notes, None, Point::new(left, base)));
    }
    let scale = composed.scale.words(joint.show_lengths_in);
    let shown = match composed.captions.as_slice() {
        // A detail tells its own scale.
        [one] if one.contains(&scale) => one.clone(),
        [one] => format!("{one}, {scale}"),
        _ => scale,
    };
    let room = place.x1 - 64.0 - left - if last_revision(page).is_some() { 2.0 * TRIANGLE_MM } else { 0.0 };
    if let Some(words) = page.lettering.shortened(&shown, WORDS_MM, false, room) {
        items.push(Words::new(words, WORDS_MM).at(Layer::Notes, None, Point::new(left, base + 6.2)));
    }
    items
}

/// The mark of the last revision.
fn last_revision<'a>(page: &Page<'a>) -> Option<&'a str> {
    let mark = page.inputs.joint.sheet.revisions.last()?.mark.trim();
    (!mark.is_empty()).then_some(mark)
}

/// The mark of the last revision in a triangle (common practice), beside the scale bar until it is drawn to what was
/// changed.
fn revision_mark(page: &Page<'_>, place: Rect) -> Vec<Item> {
    let Some(mark) = last_revision(page) else { return Vec::new() };
    let foot = Point::new(place.x1 - 64.0 - TRIANGLE_MM, place.y0 + 16.2);
    let top = Point::new(foot.x, foot.y - TRIANGLE_MM * 0.75_f64.sqrt());
    let half = Vec2::new(TRIANGLE_MM / 2.0, 0.0);
    let outline = pen::polygon(&[foot - half, foot + half, top]);
    let mut items = vec![pen::path(Layer::Notes, None, outline, Some(Fill::Paper), Some(Line::Seen))];
    // In the triangle where it fits, else below it.
    let fits = |it: &&f64| page.lettering.width_mm(mark, **it, true) < TRIANGLE_MM * 0.55;
    let (size, base) = match [2.4 / CAPITAL, FIELD_MM].iter().find(fits) {
        Some(size) => (*size, foot.y - 1.1),
        None => (FIELD_MM, foot.y + 0.8 + FIELD_MM * CAPITAL),
    };
    let words = page.lettering.shortened(mark, size, true, 2.0 * TRIANGLE_MM).unwrap_or_default();
    let at = Point::new(foot.x, base);
    items.push(Words::new(words, size).bold().anchored(Anchor::Middle).at(Layer::Notes, None, at));
    items
}

/// Cautions, the letters of the holes, and the unit of figures, to the left of the title block.
pub(super) fn cautions(page: &Page<'_>, composed: Option<&Composed>) -> Vec<Item> {
    let (place, mut items) = check_bar(page.cautions);
    let mut notes = vec![CAUTION.to_owned()];
    if let Some(composed) = composed {
        notes.extend(of_scale(page, composed));
    }
    let wide = |size: f64| -> Vec<String> {
        notes.iter().flat_map(|it| page.lettering.wrapped(it, size, place.width())).collect()
    };
    // All of it has to be said: smaller where there is much of it.
    let room = |size: f64| place.height() / (size * LEADING);
    let fits = |size: &f64| f64::from(u16::try_from(wide(*size).len()).unwrap_or(u16::MAX)) <= room(*size);
    let sizes = [WORDS_MM, 2.2 / CAPITAL, FIELD_MM, 1.5 / CAPITAL, 1.2 / CAPITAL];
    let size = sizes.into_iter().find(fits).unwrap_or(1.0 / CAPITAL);
    let mut base = place.y0 + size * CAPITAL;
    for line in wide(size) {
        if place.y1 + 2.0 < base {
            break;
        }
        items.push(Words::new(line, size).at(Layer::Notes, None, Point::new(place.x0, base)));
        base += size * LEADING;
    }
    items
}

/// Two bars that are so long on paper as they say, at the foot of the cautions where there is room for them; and the
/// room that is left.
fn check_bar(place: Rect) -> (Rect, Vec<Item>) {
    if place.height() < CHECK_BAR_MM + LEAST_CAUTIONS_MM || place.width() < CHECK_BAR_WIDTH_MM {
        return (place, Vec::new());
    }
    let base = place.y1 - 1.0;
    let mut strokes = kurbo::BezPath::new();
    let mut ticks = kurbo::BezPath::new();
    pen::add_stroke(&mut strokes, Point::new(place.x0, base), Point::new(place.x0 + 101.6, base));
    for at in [0.0, 100.0, 101.6] {
        let at = Point::new(place.x0 + at, base);
        pen::add_stroke(&mut ticks, Point::new(at.x, at.y - 2.2), at);
    }
    let words = "First two strokes 100 mm apart, first and last 4 in: if not, printing changed the scale.";
    let at = Point::new(place.x0, base - 3.6);
    let items = vec![
        pen::path(Layer::Notes, None, strokes, None, Some(Line::Rule)),
        pen::path(Layer::Notes, None, ticks, None, Some(Line::Rule)),
        Words::new(words, FIELD_MM).ink(Ink::Soft).at(Layer::Notes, None, at),
    ];
    (Rect { y1: place.y1 - CHECK_BAR_MM, ..place }, items)
}

/// What a reader of the views has to know.
fn of_scale(page: &Page<'_>, composed: &Composed) -> Vec<String> {
    let joint = page.inputs.joint;
    let mut notes = Vec::new();
    if joint.show_lengths_in == LengthUnit::Millimetre {
        notes.push("Dimensions in millimetres.".to_owned());
    }
    if 1 < composed.captions.iter().filter(|it| !it.starts_with("Detail")).count() {
        notes.push("Third-angle projection.".to_owned());
    }
    if composed.is_smaller_than_asked {
        notes.push("The scale asked for does not fit this paper.".to_owned());
    }
    let holes = joint.connectors.iter().flat_map(|it| &it.plates).flat_map(|it| &it.holes);
    let mut duties: Vec<Duty> = Vec::new();
    for hole in holes {
        if !duties.contains(&hole.duty) {
            duties.push(hole.duty);
        }
    }
    let legend: Vec<String> = [Duty::Required, Duty::Extra, Duty::HoldingUp]
        .into_iter()
        .filter(|it| duties.contains(it))
        .map(|it| format!("{} {}", tag(it).0, tag(it).1))
        .collect();
    if !legend.is_empty() {
        notes.push(format!("{}.", legend.join("; ")));
    }
    notes
}

/// One line that says what the drawing is.
pub(super) fn of_drawing(inputs: &Inputs<'_>, (n, count): (usize, usize)) -> String {
    let title = &inputs.joint.title;
    let name = if title.is_empty() { "Joint detail".to_owned() } else { format!("Joint detail: {title}") };
    if count == 1 { name } else { format!("{name}, sheet {n} of {count}") }
}

/// What the drawing shows, in sentences.
pub(super) fn description(
    inputs: &Inputs<'_>,
    composed: Option<&Composed>,
    (n, count): (usize, usize),
) -> String {
    let joint = inputs.joint;
    let unit = match joint.show_lengths_in {
        LengthUnit::Inch => "inches",
        LengthUnit::Millimetre => "millimetres",
    };
    let standard = standard_name(joint.standard);
    let shown = match composed {
        Some(it) => {
            format!("{} at {}", it.captions.join("; "), it.scale.words(joint.show_lengths_in))
        }
        None => "Lists that go on from the sheet before".to_owned(),
    };
    let mut sentences = vec![format!("{shown}, with lengths in {unit}, checked by {standard}.")];
    // The whole is told once.
    if n == 1 {
        sentences.extend(told(inputs));
    } else {
        sentences.push(format!("Sheet {n} of {count}; the first one tells the joint."));
    }
    sentences.push(CAUTION.to_owned());
    sentences.join(" ")
}

/// Members, fasteners and findings in sentences.
fn told(inputs: &Inputs<'_>) -> Vec<String> {
    let joint = inputs.joint;
    let members: Vec<String> =
        joint.members.iter().map(|it| format!("{} ({})", it.shown_name(), it.material.label)).collect();
    let mut sentences = Vec::new();
    if !members.is_empty() {
        sentences.push(format!("Members: {}.", members.join(", ")));
    }
    for group in &Content::of(inputs).groups {
        let Some(fastener) = group.members.first().and_then(|it| joint.fasteners.get(*it)) else { continue };
        let numbers = groups::numbers(&group.members);
        sentences.push(format!("{numbers}, {}: {}.", fastener.spec.label, group.verdict));
    }
    sentences.extend(inputs.findings.list.iter().map(|it| format!("{} ({})", it.says, it.source)));
    sentences
}
