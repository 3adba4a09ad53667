//! Choices side by side: what can be added above, the table below.

use iced::widget::{button, column, container, row, text, text_input};
use iced::{Alignment, Length};

use super::choices::{Choices, MOST, Message, Variant, other, pieces};
use super::table::{Column, Table, Value};
use super::{Told, press};
use crate::stock::{FastenerSpec, Material};
use crate::window::look::Look;
use crate::window::selected::carries::is_told;
use crate::window::theme::{self, Colours, Element, control, gap, parts, text_px};
use crate::window::{stock, words};
use std::sync::Arc;

/// Something of stock by its label, as lists to pick from want it.
#[derive(Clone, PartialEq)]
struct Labelled {
    id: String,
    label: String,
}

impl std::fmt::Display for Labelled {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.label)
    }
}

impl From<&Arc<FastenerSpec>> for Labelled {
    fn from(it: &Arc<FastenerSpec>) -> Self {
        Self { id: it.id.clone(), label: it.label.clone() }
    }
}

impl From<&Arc<Material>> for Labelled {
    fn from(it: &Arc<Material>) -> Self {
        Self { id: it.id.clone(), label: it.label.clone() }
    }
}

/// Widths in pixels.
mod px {
    pub(super) const LIST: f32 = 170.0;
    pub(super) const NUMBER: f32 = 92.0;
    /// What is compared, before the choices.
    pub(super) const WHAT: f32 = 146.0;
}

pub(super) fn view<'a>(
    choices: &'a Choices,
    told: &'a Told,
    zoom: f32,
    look: &Look<'a>,
) -> Element<'a, Message> {
    let colours = look.colours;
    let mut list = column![adding(choices, look), below(choices, look)].spacing(gap::ROW);
    match &told.table {
        Some(table) => list = list.push(table_view(table, zoom, colours)),
        None => {
            list =
                list.push(parts::soft("Worked out when the mouse is let go: the joint is large.", colours));
        }
    }
    list = list.push(
        text(is_told(look.joint.standard)).size(text_px::SMALL * zoom).style(control::words(colours.soft)),
    );
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    parts::scroll(inside, colours).into()
}

/// What can be put beside the joint as drawn.
fn adding<'a>(choices: &'a Choices, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let none: Option<Labelled> = None;
    let list = |all: Vec<Labelled>, words: &'static str, add: fn(Labelled) -> Message| {
        parts::picker(all, none.clone(), add, |it| it.placeholder(words).width(px::LIST), colours)
    };
    let number = |words: &'static str, name: &'static str, now: &str| {
        text_input(words, now)
            .id(iced::widget::Id::new(name))
            .width(px::NUMBER)
            .size(text_px::BODY)
            .padding(gap::CONTROL)
            .style(control::field(colours, false))
    };
    let mut line = row![
        list(sizes(look), "Another size", |it| Message::Added(Variant::Size(it.id))),
        number("Gap", "compare gap", &choices.gap).on_input(Message::GapTyped).on_submit(Message::GapEntered),
        press("Gap closed", Message::Added(Variant::Gap(0.0)), colours),
    ]
    .spacing(gap::ROW)
    .align_y(Alignment::Center);
    if look.chosen_fastener().is_some() {
        line = line.push(
            number("Angle", "compare angle", &choices.angle)
                .on_input(Message::AngleTyped)
                .on_submit(Message::AngleEntered),
        );
    }
    let of = pieces(look);
    let piece = choices.piece.clone().filter(|it| of.contains(it)).or_else(|| of.last().cloned());
    if let Some(piece) = piece {
        let woods =
            look.stock.materials.values().filter(|it| it.family.bears()).map(Labelled::from).collect();
        let member = piece.clone();
        let wood: Vec<Labelled> = woods;
        let of_wood = move |it: Labelled| Message::Added(Variant::Wood(member.clone(), it.id));
        let of_another = "of another wood";
        line = line.push(parts::picker(of, Some(piece), Message::PiecePicked, |it| it, colours)).push(
            parts::picker(wood, none, of_wood, |it| it.placeholder(of_another).width(px::LIST), colours),
        );
    }
    let standard = Variant::Standard(other(look.joint.standard));
    line.push(press("By the other standard", Message::Added(standard), colours)).wrap().into()
}

/// Sizes of the kind that is chosen, or of the kinds that the joint has.
fn sizes(look: &Look<'_>) -> Vec<Labelled> {
    let chosen = look.chosen_fastener().and_then(|at| look.joint.fasteners.get(at)).map(|it| &*it.spec);
    let mut list: Vec<Labelled> = Vec::new();
    // Those of its own table first, then the others of its kind.
    if let Some(spec) = chosen {
        list.extend(stock::same_table(look.stock, spec).into_iter().map(Labelled::from));
    }
    let is_wanted = |it: &&Arc<FastenerSpec>| match chosen {
        Some(spec) => it.kind == spec.kind,
        None => look.joint.fasteners.iter().any(|of| of.spec.kind == it.kind),
    };
    let mut others: Vec<&Arc<FastenerSpec>> = look.stock.fasteners.values().filter(is_wanted).collect();
    others.sort_by(|a, b| a.table().cmp(b.table()).then_with(|| a.by_size(b)));
    for it in others.into_iter().map(Labelled::from) {
        if !list.contains(&it) {
            list.push(it);
        }
    }
    list
}

/// A change in words, and what is wrong with what was entered last.
fn below<'a>(choices: &'a Choices, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let typed = text_input("or in words: all lag-screw/0.375x5; gap 1/8\"", &choices.typed)
        .id(iced::widget::Id::new("compare words"))
        .size(text_px::BODY)
        .padding(gap::CONTROL)
        .style(control::field(colours, choices.error.is_some()))
        .on_input(Message::Typed)
        .on_submit(Message::Entered);
    let words = match &choices.error {
        Some(why) => text(why.as_str()).style(control::words(colours.fault)),
        None => {
            text(format!("Up to {MOST} choices stand beside the joint as drawn; differences are to that."))
                .style(control::words(colours.soft))
        }
    };
    column![typed, words.size(text_px::SMALL)].spacing(gap::TIGHT).into()
}

fn table_view<'a>(table: &'a Table, zoom: f32, colours: &'static Colours) -> Element<'a, Message> {
    let label = |words: &'a str, colour| {
        container(text(words).size(text_px::SMALL * zoom).style(control::words(colour)))
            .width(px::WHAT * zoom.min(1.6))
    };
    let mut heads = row![label("", colours.soft)].spacing(gap::ROW);
    for (at, it) in table.columns.iter().enumerate() {
        heads = heads.push(head(at, it, zoom, colours));
    }
    let mut list = column![heads, parts::rule(colours)].spacing(gap::TIGHT);
    for it in &table.rows {
        let mut line = row![label(it.what.as_str(), colours.soft)].spacing(gap::ROW);
        for value in &it.cells {
            line = line.push(cell(value, zoom, colours));
        }
        list = list.push(line).push(parts::rule(colours));
    }
    list.into()
}

fn head<'a>(at: usize, it: &'a Column, zoom: f32, colours: &'static Colours) -> Element<'a, Message> {
    let name = text(it.name.as_str()).size(text_px::BODY * zoom).font(theme::BOLD);
    let mut head = column![name.style(control::words(colours.text))].spacing(gap::TIGHT);
    if let Some(why) = &it.refused {
        head =
            head.push(text(why.as_str()).size(text_px::SMALL * zoom).style(control::words(colours.caution)));
    }
    if let Some(choice) = at.checked_sub(1) {
        let bare = |words: &'static str, message, colour| {
            button(text(words).size(text_px::SMALL))
                .padding([0.0, gap::TIGHT])
                .style(control::bare_button(colours, colour))
                .on_press(message)
        };
        let mut what = row![].spacing(gap::TIGHT);
        if it.refused.is_none() {
            what = what.push(bare("Choose it", Message::KeepPressed(choice), colours.accent));
        }
        head = head.push(what.push(bare("Not this", Message::Removed(choice), colours.soft)));
    }
    head.width(Length::FillPortion(1)).into()
}

fn cell<'a>(it: &'a Value, zoom: f32, colours: &'static Colours) -> Element<'a, Message> {
    let says = text(words::unbroken(&it.says))
        .size(text_px::BODY * zoom)
        .font(if it.is_main { theme::BOLD } else { theme::REGULAR })
        .style(control::words(colours.text));
    let mut cell = column![says];
    if !it.differs.is_empty() {
        let differs = text(words::unbroken(&it.differs)).size(text_px::SMALL * zoom);
        cell = cell.push(differs.style(control::words(colours.accent)));
    }
    cell.width(Length::FillPortion(1)).into()
}
