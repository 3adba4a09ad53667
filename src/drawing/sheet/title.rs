//! The title block, the title of the view, the cautions, and the words that tell the drawing to those
//! who cannot see it.

use kurbo::{Point, Rect, Shape as _};

use super::{Page, Setting, scale, standard_name};
use crate::drawing::pen::{self, Words};
use crate::drawing::steel::tag;
use crate::drawing::text::{CAPITAL, WORDS_MM};
use crate::drawing::verdict;
use crate::drawing::{Anchor, Ink, Inputs, Item, Layer, Line, Mood};
use crate::joint::Duty;
use crate::unit::LengthUnit;

/// Size of the title block: ISO 7200 allows 180 mm.
pub(super) const WIDTH_MM: f64 = 180.0;
pub(super) const HEIGHT_MM: f64 = 30.0;

/// Words of a field's name.
const FIELD_MM: f64 = 1.8 / CAPITAL;
/// The title of the view.
const TITLE_MM: f64 = 5.0 / CAPITAL;
const LONG_TITLE_MM: f64 = 3.5 / CAPITAL;
/// Leading of ordinary words.
const LINE_MM: f64 = 4.7;

/// What every sheet says.
const CAUTION: &str = "Checks geometry and published formulas, as drawn. Local code, the connector \
                       maker's instructions and a licensed designer decide.";

/// The title block: three rows of three fields. What was not filled in stays blank.
pub(super) fn block(page: &Page<'_>, setting: &Setting) -> Vec<Item> {
    let joint = page.inputs.joint;
    let scale = setting.scale.words(joint.show_lengths_in);
    let fields: [[(&str, &str); 3]; 3] = [
        [("Owner", &joint.sheet.owner), ("Title", &joint.title), ("Detail", &joint.sheet.detail)],
        [("Drawn", &joint.sheet.drawn), ("Checked", &joint.sheet.checked), ("Scale", &scale)],
        [("Standard", standard_name(joint.standard)), ("Date", &joint.sheet.date), ("View", "front")],
    ];
    let place = page.title_block;
    let outline = place.to_path(pen::TRUE_WITHIN_MM);
    let mut items = vec![pen::path(Layer::Frame, None, outline, None, Some(Line::Frame))];
    let widths = [0.24, 0.51, 0.25];
    let height = place.height() / 3.0;
    let mut rules = kurbo::BezPath::new();
    for (row, names) in fields.iter().enumerate() {
        let y0 = place.y0 + height * f64::from(u8::try_from(row).unwrap_or(0));
        if row != 0 {
            pen::add_stroke(&mut rules, Point::new(place.x0, y0), Point::new(place.x1, y0));
        }
        let mut x0 = place.x0;
        for (n, ((name, value), part)) in names.iter().zip(widths).enumerate() {
            let width = place.width() * part;
            if row == 0 && n != 0 {
                pen::add_stroke(&mut rules, Point::new(x0, place.y0), Point::new(x0, place.y1));
            }
            items.extend(field(page, (name, value), Rect::new(x0, y0, x0 + width, y0 + height)));
            x0 += width;
        }
    }
    items.push(pen::path(Layer::Frame, None, rules, None, Some(Line::Rule)));
    items
}

fn field(page: &Page<'_>, (name, value): (&str, &str), place: Rect) -> Vec<Item> {
    let at = Point::new(place.x0 + 1.8, place.y0 + 3.4);
    let mut items = vec![Words::new(name, FIELD_MM).ink(Ink::Soft).at(Layer::Frame, None, at)];
    let room = place.width() - 3.6;
    if let Some(value) = page.lettering.shortened(value, WORDS_MM, false, room).filter(|it| !it.is_empty()) {
        let at = Point::new(at.x, place.y1 - 2.0);
        items.push(Words::new(value, WORDS_MM).at(Layer::Frame, None, at));
    }
    items
}

/// The number of the detail, its title, its scale and a scale bar.
pub(super) fn of_view(page: &Page<'_>, setting: &Setting) -> Vec<Item> {
    let joint = page.inputs.joint;
    let place = page.view_title;
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
    let scale = setting.scale.words(joint.show_lengths_in);
    let words = Words::new(format!("Front, {scale}"), WORDS_MM);
    items.push(words.at(Layer::Notes, None, Point::new(left, base + 6.2)));
    let bar_at = Point::new(place.x1 - 62.0, base + 4.4);
    items.extend(scale::bar(setting.scale, joint.show_lengths_in, bar_at));
    items
}

/// Cautions, the letters of the holes, and the unit of figures, to the left of the title block.
pub(super) fn cautions(page: &Page<'_>, setting: &Setting) -> Vec<Item> {
    let place = Rect::new(page.frame.x0, page.title_block.y0, page.title_block.x0, page.frame.y1).inset(-3.0);
    let mut notes = vec![CAUTION.to_owned()];
    if page.inputs.joint.show_lengths_in == LengthUnit::Millimetre {
        notes.push("Dimensions in millimetres.".to_owned());
    }
    if setting.is_smaller_than_asked {
        notes.push("The scale asked for does not fit this paper.".to_owned());
    }
    let holes = page.inputs.joint.connectors.iter().flat_map(|it| &it.plates).flat_map(|it| &it.holes);
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
    let mut items = Vec::new();
    let lines = notes.iter().flat_map(|it| page.lettering.wrapped(it, WORDS_MM, place.width()));
    let mut base = place.y0 + WORDS_MM * CAPITAL;
    for line in lines {
        if place.y1 < base {
            break;
        }
        items.push(Words::new(line, WORDS_MM).at(Layer::Notes, None, Point::new(place.x0, base)));
        base += LINE_MM - 0.3;
    }
    items
}

/// One line that says what the drawing is.
pub(super) fn of_drawing(inputs: &Inputs<'_>) -> String {
    let title = &inputs.joint.title;
    if title.is_empty() { "Joint detail".to_owned() } else { format!("Joint detail: {title}") }
}

/// What the drawing shows, in sentences.
pub(super) fn description(inputs: &Inputs<'_>, setting: &Setting) -> String {
    let joint = inputs.joint;
    let members: Vec<String> =
        joint.members.iter().map(|it| format!("{} ({})", it.shown_name(), it.material.label)).collect();
    let unit = match joint.show_lengths_in {
        LengthUnit::Inch => "inches",
        LengthUnit::Millimetre => "millimetres",
    };
    let mut sentences = vec![format!(
        "Front view at {} with lengths in {unit}, checked by {}.",
        setting.scale.words(joint.show_lengths_in),
        standard_name(joint.standard)
    )];
    if !members.is_empty() {
        sentences.push(format!("Members: {}.", members.join(", ")));
    }
    for (n, fastener) in joint.fasteners.iter().enumerate() {
        let mood = Mood::from(inputs.findings.worst_of(&fastener.id));
        let word = match mood {
            Mood::Fault => "fault, ",
            Mood::Caution => "caution, ",
            Mood::Quiet => "",
        };
        let told = verdict::verdict(inputs, n);
        sentences.push(format!("Fastener {}, {}: {word}{told}.", n + 1, fastener.spec.label));
    }
    sentences.extend(inputs.findings.list.iter().map(|it| format!("{} ({})", it.says, it.source)));
    sentences.push(CAUTION.to_owned());
    sentences.join(" ")
}
