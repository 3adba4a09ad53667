//! Members: outlines to draw, cuts, and the sizes of stock by their tables.

use std::sync::Arc;

use iced::widget::{column, container};

use super::list::{kind_line, table_head};
use super::{Message, Pane};
use crate::stock::{SectionSize, Stock};
use crate::window::look::Look;
use crate::window::making::{Kind, Shape};
use crate::window::theme::{gap, parts};
use crate::window::words;

const DRAWN: [(Kind, &str, &str); 5] = [
    (Kind::Member(Shape::Box), "Rectangle", "from corner to corner"),
    (Kind::Member(Shape::Polygon), "Polygon", "corner after corner"),
    (Kind::Member(Shape::Path), "Outline with arcs", "corner after corner"),
    (Kind::Member(Shape::Round), "Round", "from its middle to the rim"),
    (Kind::Member(Shape::ISection), "I-section", "from corner to corner"),
];
const CUTS: [(Kind, &str, &str); 3] = [
    (Kind::Cut(Shape::Box), "Notch", "a rectangle, cut out"),
    (Kind::Cut(Shape::Polygon), "Notch by corners", "a polygon, cut out"),
    (Kind::Cut(Shape::Round), "Round hole", "cut out of a member"),
];

/// The list.
pub(super) fn list<'a>(pane: &'a Pane, look: &Look<'a>) -> iced::widget::Column<'a, Message> {
    let colours = look.colours;
    let mut list = column![parts::soft("Sizes of stock", colours)].spacing(1.0);
    for (table, name) in tables(look.stock) {
        let open = pane.open.as_ref() == Some(&table);
        list = list.push(table_head(table.clone(), name, open, colours));
        if open {
            for size in look.stock.sections.iter().filter(|it| table_of(it) == table) {
                list = list.push(kind_line(
                    Kind::Stock(Arc::new(size.clone())),
                    size.nominal.as_str(),
                    actual(size, look),
                    look,
                ));
            }
        }
    }
    for (head, kinds) in [("Draw", DRAWN.as_slice()), ("Cut", CUTS.as_slice())] {
        list = list.push(container(parts::part_head(head, colours)).padding([gap::TIGHT, 0.0]));
        for (kind, name, how) in kinds {
            list = list.push(kind_line(kind.clone(), *name, *how, look));
        }
    }
    list
}

/// The table of a size: its name without the last part.
pub(in crate::window) fn table_of(size: &SectionSize) -> &str {
    // A panel is named by a fraction, whose stroke is no part of the path.
    let mut parts = size.id.splitn(2, '/');
    let first = parts.next().unwrap_or_default();
    let second = parts.next().unwrap_or_default();
    let has_second = second.starts_with("metric/");
    if has_second { &size.id[..first.len() + "/metric".len()] } else { first }
}

/// The tables in their order, each once, with words for people.
fn tables(stock: &Stock) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = Vec::new();
    for size in &stock.sections {
        let table = table_of(size);
        if all.iter().all(|it| it.0 != table) {
            let words = table.replace('/', ", ").replace('-', " ");
            let mut letters = words.chars();
            let first = letters.next().map_or(String::new(), |it| it.to_uppercase().to_string());
            all.push((table.to_owned(), first + letters.as_str()));
        }
    }
    all
}

/// A size by its name; where that is a bare thickness or depth, with what it is: `1/2 panel`, `1 foam`.
pub(in crate::window) fn nominal(size: &SectionSize) -> String {
    let mut parts = size.id.split('/');
    let what = match (parts.next(), parts.next()) {
        _ if size.i_section_mm.is_some() => "I-section",
        (Some("filling"), Some(what)) => what,
        (Some(what), _) => what,
        (None, _) => "",
    };
    if size.depth_mm.is_none() || size.i_section_mm.is_some() {
        format!("{} {what}", size.nominal)
    } else {
        size.nominal.clone()
    }
}

/// The actual size, in the unit of the joint.
pub(in crate::window) fn actual(size: &SectionSize, look: &Look<'_>) -> String {
    let told = |mm: f64| words::size(mm, look.unit());
    match size.depth_mm {
        Some(deep) => words::unbroken(&format!("{} \u{d7} {}", told(size.thickness_mm), told(deep))),
        None => format!("{} thick", told(size.thickness_mm)),
    }
}
