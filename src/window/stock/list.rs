//! Parts that the lists of the pane have in common, and the list of measures.

use iced::Length;
use iced::widget::{button, column, container, row, text};

use super::Message;
use crate::sketch::form::FORMS;
use crate::window::look::Look;
use crate::window::making::{Kind, Measure};
use crate::window::theme::{Colours, Element, control, gap, parts, reach, text_px};

/// The head of a list of sizes, pressed to open it.
pub(super) fn table_head<'a>(
    table: String,
    name: String,
    open: bool,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let sign = if open { "\u{2013}" } else { "+" };
    let line = row![
        text(sign).size(text_px::BODY).width(12.0).style(control::words(colours.soft)),
        text(name).size(text_px::BODY).width(Length::Fill),
    ]
    .spacing(gap::TIGHT);
    let message = Message::TablePressed(table);
    let line = button(line)
        .width(Length::Fill)
        .padding(gap::LINE)
        .style(control::line_button(colours, false))
        .on_press(message.clone());
    reach(line, Some(message), colours.accent)
}

/// Something that can be made, in two lines: what, and how.
pub(super) fn kind_line<'a>(
    kind: Kind,
    words: impl text::IntoFragment<'a>,
    more: impl text::IntoFragment<'a>,
    look: &Look<'a>,
) -> Element<'a, Message> {
    let now = look.making.is_some_and(|it| it.kind == kind);
    let message = Message::KindPressed(kind);
    let line = button(column![text(words).size(text_px::BODY), parts::soft(more, look.colours)])
        .width(Length::Fill)
        .padding(gap::LINE)
        .style(control::line_button(look.colours, now))
        .on_press(message.clone());
    reach(line, Some(message), look.colours.accent)
}

/// What can be measured.
pub(super) fn measures<'a>(look: &Look<'a>) -> iced::widget::Column<'a, Message> {
    column![
        kind_line(Kind::Measure(Measure::Distance), "Distance", "from one place to another", look),
        kind_line(Kind::Dimension, "Dimension", "stays, and follows what it holds on to", look),
        kind_line(Kind::Measure(Measure::Angle), "Angle", "a place, its corner, another place", look),
    ]
    .spacing(1.0)
}

/// Connectors by their forms, and drawn by hand.
pub(super) fn steel<'a>(look: &Look<'a>) -> iced::widget::Column<'a, Message> {
    let mut list = column![parts::soft("Forms, by their measures", look.colours)].spacing(1.0);
    for form in &FORMS {
        list = list.push(kind_line(Kind::Form(form.word), form.title, form.says, look));
    }
    let head = container(parts::part_head("Draw", look.colours)).padding([gap::TIGHT, 0.0]);
    list.push(head)
        .push(kind_line(Kind::Profile, "Plate", "its profile, bend after bend", look))
        .push(kind_line(Kind::Holes, "Holes", "one, a row or a grid, in steel", look))
}
