//! Rows of the pane: a label and a value, a field, a list to pick from or a box to tick.

use iced::widget::{button, checkbox, column, container, row, text, text_input};
use iced::{Alignment, Length};

use super::field::{Field, NameField};
use super::{Message, Pane};
use crate::drawing::Subject;
use crate::findings::{Measure, Stands};
use crate::joint::Edit;
use crate::window::look::{Command, Look};
use crate::window::theme::{self, Colours, Element, control, gap, parts, text_px};
use crate::window::words;

/// A list of rows.
pub(super) type Rows<'a> = iced::widget::Column<'a, Message>;

pub(super) fn rows<'a>() -> Rows<'a> {
    column![].spacing(gap::TIGHT)
}

/// A value that is only shown.
pub(super) fn value<'a>(
    label_words: &'a str,
    value: String,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let line = row![
        parts::label(label_words, colours),
        text(words::unbroken(&value)).size(text_px::BODY).width(Length::Fill)
    ]
    .spacing(gap::ROW)
    .align_y(Alignment::Center);
    column![container(line).padding([3.0, 0.0]), parts::rule(colours)].into()
}

/// A measure with what is asked of it below it, and by a word how the two stand.
pub(super) fn measure<'a>(it: &'a Measure, colours: &'static Colours) -> Element<'a, Message> {
    let (word, colour) = match it.stands {
        Stands::Unasked => ("", colours.soft),
        Stands::Met => ("met", colours.accent),
        Stands::MetUnlessLoaded => ("depends", colours.caution),
        Stands::Missed => ("missed", colours.fault),
    };
    let stands = text(word).size(text_px::SMALL).font(theme::BOLD).style(control::words(colour));
    let mut said = column![text(words::unbroken(&it.drawn)).size(text_px::BODY)].width(Length::Fill);
    if !it.asked.is_empty() {
        let small = |words: String, colour| text(words).size(text_px::SMALL).style(control::words(colour));
        let quiet = it.stands == Stands::Met;
        let asked = words::unbroken(&format!("needs {}", it.asked));
        said = said.push(small(asked, if quiet { colours.soft } else { colour }));
        said = said.push(small(it.source.clone(), colours.soft));
    }
    let line = row![column![parts::label(it.what.as_str(), colours), stands], said].spacing(gap::ROW);
    column![container(line).padding([3.0, 0.0]), parts::rule(colours)].into()
}

/// A head inside the pane.
pub(super) fn head<'a>(
    words: impl text::IntoFragment<'a>,
    colours: &'static Colours,
) -> Element<'a, Message> {
    container(parts::part_head(words, colours)).padding([gap::TIGHT, 0.0]).width(Length::Fill).into()
}

/// A field to type in; what is wrong with it stands below in words.
pub(super) fn field<'a>(pane: &Pane, field: Field, look: &Look<'a>) -> Element<'a, Message> {
    let (words, colours) = (field.words(), look.colours);
    let (input, below) = input(pane, field, look);
    let line = row![parts::label(words, colours), input].spacing(gap::ROW).align_y(Alignment::Center);
    column![line, below].into()
}

/// The field of the id of a thing.
pub(super) fn id_field<'a>(pane: &Pane, of: Subject, look: &Look<'a>) -> Element<'a, Message> {
    field(pane, Field::Called(of, NameField::Id), look)
}

/// The same with its label above it, for a long text.
pub(super) fn wide_field<'a>(pane: &Pane, field: Field, look: &Look<'a>) -> Element<'a, Message> {
    let (words, colours) = (field.words(), look.colours);
    let (input, below) = input(pane, field, look);
    column![parts::label(words, colours), input, below].spacing(gap::TIGHT).into()
}

fn input<'a>(pane: &Pane, field: Field, look: &Look<'a>) -> (Element<'a, Message>, Element<'a, Message>) {
    let colours = look.colours;
    let typing = pane.typing().filter(|it| it.field == field);
    let error = typing.and_then(|it| it.error.clone());
    let text_now = typing.map_or_else(|| field.read(look), |it| it.text.clone());
    let input = text_input(field.empty_words(), &text_now)
        .id(iced::widget::Id::from(field.name()))
        .size(text_px::BODY)
        .padding(gap::CONTROL)
        .style(control::field(colours, error.is_some()))
        .on_submit(Message::Entered(field.clone()))
        .on_input(move |it| Message::Typed(field.clone(), it));
    // The row is there with and without words below, so that the field keeps its cursor.
    let below: Element<'a, Message> = match error {
        Some(error) => text(error).size(text_px::SMALL).style(control::words(colours.fault)).into(),
        None => iced::widget::space().height(0.0).into(),
    };
    (input.into(), below)
}

/// A box to tick.
pub(super) fn tick<'a>(
    words: &'a str,
    now: bool,
    name: &'static str,
    edit: Edit,
    colours: &'static Colours,
) -> Element<'a, Message> {
    checkbox(now)
        .label(words)
        .size(16.0)
        .text_size(text_px::BODY)
        .style(control::tick(colours))
        .on_toggle(move |_| Message::Picked(name.to_owned(), edit.clone()))
        .into()
}

/// A button that changes the joint: the step's name and its edit.
pub(super) fn change<'a>(
    words: &'a str,
    name: String,
    edit: Edit,
    colours: &'static Colours,
) -> Element<'a, Message> {
    button(text(words).size(text_px::SMALL))
        .padding(gap::CONTROL)
        .style(control::plain_button(colours))
        .on_press_with(move || Message::Picked(name.clone(), edit.clone()))
        .into()
}

/// A value with what stands behind it below, in small words.
pub(super) fn figure<'a>(
    label_words: impl text::IntoFragment<'a>,
    (value, colour): (String, iced::Color),
    below: Vec<String>,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let big = text(words::unbroken(&value)).size(text_px::BODY).font(theme::BOLD);
    let mut said = column![big.style(control::words(colour))].width(Length::Fill);
    for it in below {
        said = said.push(text(words::unbroken(&it)).size(text_px::SMALL).style(control::words(colours.soft)));
    }
    let line = row![parts::label(label_words, colours), said].spacing(gap::ROW);
    column![container(line).padding([3.0, 0.0]), parts::rule(colours)].into()
}

/// A button.
pub(super) fn press<'a>(words: &'a str, command: Command, colours: &'static Colours) -> Element<'a, Message> {
    let face = button(text(words).size(text_px::SMALL))
        .padding(gap::CONTROL)
        .style(control::plain_button(colours))
        .on_press(Message::Pressed(command));
    theme::reach(face, Some(Message::Pressed(command)), colours.accent)
}
