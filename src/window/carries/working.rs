//! The working, to be read: formula, values put in, result and clause, row by row.

use iced::Length;
use iced::widget::{button, column, container, row, text};

use super::{Message, Told};
use crate::drawing::Subject;
use crate::findings::carry::{Carrying, Detail, carry, written};
use crate::unit::force;
use crate::unit::length::Rounding;
use crate::window::look::Look;
use crate::window::selected::carries::is_told;
use crate::window::theme::{self, Element, control, gap, parts, text_px};

/// So many rows are shown; all of them are copied.
const MOST_ROWS: usize = 300;

/// The rows of what was worked out: of the chosen fastener, or the sums of every connection and what splits.
pub(super) fn rows(carrying: &Carrying, look: &Look<'_>) -> Vec<written::Row> {
    let joint = look.joint;
    match look.chosen_fastener() {
        Some(_) => carrying.fasteners.iter().flat_map(|it| written::rows(it, joint)).collect(),
        None => {
            let sums = carrying.connections.iter().flat_map(|it| written::sum_rows(carrying, it, joint));
            sums.chain(carrying.splits.iter().flat_map(|it| written::split_rows(it, joint))).collect()
        }
    }
}

/// All of it as lines of text; of a whole joint the working of every fastener too.
pub(super) fn all_lines(told: &Told, look: &Look<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    if look.chosen_fastener().is_none() {
        let whole = carry(look.joint, look.trace, Detail::Working);
        for (number, it) in whole.fasteners.iter().enumerate() {
            let label = look.joint.fasteners.get(number).map_or("", |it| it.spec.label.as_str());
            lines.push(format!("\nFastener {}, {}, {label}", number + 1, it.id));
            lines.extend(written::lines(it, look.joint));
        }
        lines.push(String::new());
    } else {
        lines.push(format!("\n{}", super::chosen_title(look)));
    }
    lines.extend(told.rows.iter().map(written::Row::text));
    lines
}

/// The rows under each other.
pub(super) fn view<'a>(told: &'a Told, zoom: f32, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let mut list = column![].spacing(gap::TIGHT * zoom);
    if told.is_left_out {
        list = list.push(parts::soft(super::left_out(look.joint), colours));
    }
    for it in told.rows.iter().take(MOST_ROWS) {
        list = list.push(one(it, zoom, look));
    }
    if MOST_ROWS < told.rows.len() {
        let more = format!("and {} more rows; they are copied with the rest", told.rows.len() - MOST_ROWS);
        list = list.push(text(more).size(text_px::SMALL * zoom).style(control::words(colours.soft)));
    }
    if look.chosen_fastener().is_none() {
        list = fasteners(list, told, zoom, look);
    }
    for it in told.carrying.not_counted.iter().map(String::as_str).chain([is_told(look.joint.standard)]) {
        list = list.push(text(it).size(text_px::SMALL * zoom).style(control::words(colours.soft)));
    }
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    parts::scroll(inside, colours).into()
}

/// Of a whole joint: each fastener with its value; a press shows how it came about.
fn fasteners<'a>(
    mut list: iced::widget::Column<'a, Message>,
    told: &'a Told,
    zoom: f32,
    look: &Look<'a>,
) -> iced::widget::Column<'a, Message> {
    let colours = look.colours;
    list = list.push(
        text("Fasteners: press one to see how its values come about")
            .size(text_px::CARD * zoom)
            .font(theme::BOLD)
            .style(control::words(colours.text)),
    );
    for (number, it) in told.carrying.fasteners.iter().enumerate().take(MOST_ROWS) {
        let value = it.governing().map_or_else(
            || it.cautions.first().cloned().unwrap_or_default(),
            |plane| match &plane.value {
                Ok(value) => {
                    let adjusted = force::format(value.adjusted_n, look.unit(), Rounding::Down);
                    format!("{adjusted} across, mode {}", value.mode)
                }
                Err(why) => format!("no value: {}", why.because),
            },
        );
        let label = look.joint.fasteners.get(number).map_or("", |it| it.spec.label.as_str());
        let words = format!("{}  {label}: {value}", number + 1);
        let line = button(text(words).size(text_px::BODY * zoom))
            .width(Length::Fill)
            .padding(gap::LINE)
            .style(control::line_button(colours, false))
            .on_press(Message::ThingPressed(Subject::Fastener(it.id.clone())));
        list = list.push(line);
    }
    list
}

fn one<'a>(it: &'a written::Row, zoom: f32, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let words = |it: String, px: f32, colour| text(it).size(px * zoom).style(control::words(colour));
    match it {
        written::Row::Title(it) => {
            column![parts::rule(colours), words(it.clone(), text_px::CARD, colours.text).font(theme::BOLD),]
                .spacing(gap::TIGHT)
                .into()
        }
        written::Row::Step(it) | written::Row::Factor(it) => step(it, zoom, look),
        written::Row::Result(it) => words(it.clone(), text_px::BODY, colours.accent).font(theme::BOLD).into(),
        written::Row::NoValue(it) => {
            words(it.clone(), text_px::BODY, colours.caution).font(theme::BOLD).into()
        }
        written::Row::Caution(it) => row![
            words("Caution".to_owned(), text_px::SMALL, colours.caution).font(theme::BOLD),
            words(it.clone(), text_px::SMALL, colours.text).width(Length::Fill),
        ]
        .spacing(gap::ROW)
        .into(),
    }
}

fn step<'a>(it: &'a written::Step, zoom: f32, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let words = |it: String, px: f32, colour| text(it).size(px * zoom).style(control::words(colour));
    let formula =
        if it.formula.is_empty() { it.symbol.clone() } else { format!("{} = {}", it.symbol, it.formula) };
    let mut how = column![words(formula, text_px::BODY, colours.text)].width(Length::FillPortion(6));
    if !it.with.is_empty() {
        how = how.push(words(format!("with {}", it.with), text_px::SMALL, colours.soft));
    }
    let mut why =
        column![words(it.source.clone(), text_px::SMALL, colours.soft)].width(Length::FillPortion(5));
    if !it.because.is_empty() {
        why = why.push(words(it.because.clone(), text_px::SMALL, colours.text));
    }
    let value = words(format!("= {}", it.value), text_px::BODY, colours.text)
        .font(theme::BOLD)
        .width(Length::FillPortion(3));
    row![how, value, why].spacing(gap::PANE).into()
}
