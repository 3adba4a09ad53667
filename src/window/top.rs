//! The bar at the top: the title, the file, undo and redo, and the settings of the joint.

use iced::widget::{button, container, row, space, text, tooltip};
use iced::{Alignment, Length};

use super::look::{Action, Command, Look};
use super::theme::{self, Colours, Element, control, gap, part_px, parts, text_px};
use crate::joint::{Edit, Service, StandardId};
use crate::unit::LengthUnit;

/// What happened in the bar.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// A button was pressed.
    Pressed(Command),
    /// A standard was picked.
    Standard(Named<StandardId>),
    /// A unit was picked.
    Unit(Named<LengthUnit>),
    /// A service condition was picked.
    Service(Named<Service>),
}

/// A choice with its name, as lists to pick from want it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Named<T> {
    /// The choice.
    pub it: T,
    /// Its name.
    pub name: &'static str,
}

impl<T> std::fmt::Display for Named<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name)
    }
}

/// The standards by name.
pub(super) const STANDARDS: [Named<StandardId>; 2] = [
    Named { it: StandardId::Nds2018, name: "NDS 2018" },
    Named { it: StandardId::En199511, name: "EN 1995-1-1" },
];
/// The units by name.
pub(super) const UNITS: [Named<LengthUnit>; 2] =
    [Named { it: LengthUnit::Inch, name: "inch" }, Named { it: LengthUnit::Millimetre, name: "mm" }];
/// How damp a place can be, by name.
pub const SERVICES: [Named<Service>; 3] = [
    Named { it: Service::Dry, name: "dry" },
    Named { it: Service::Humid, name: "humid" },
    Named { it: Service::Wet, name: "wet" },
];

/// Where the tip of a list stands: its menu opens below it and must not be covered.
const BESIDE: tooltip::Position = tooltip::Position::Left;

/// What the bar shows besides the joint.
#[derive(Clone, Copy, Debug)]
pub struct State<'a> {
    /// The document differs from its file.
    pub edited: bool,
    /// The file's name.
    pub file: Option<&'a str>,
    /// The width of the window in pixels.
    pub width_px: f32,
    /// What undo would take back.
    pub undo: Option<&'a str>,
    /// What redo would take again.
    pub redo: Option<&'a str>,
}

/// What is asked for by what happened.
#[must_use]
pub fn update(message: &Message) -> Action {
    match message {
        Message::Pressed(command) => Action::Do(*command),
        Message::Standard(it) => Action::Keep(format!("Check by {it}"), Edit::Standard(it.it)),
        Message::Unit(it) => Action::Keep(format!("Lengths in {it}"), Edit::ShowLengthsIn(it.it)),
        Message::Service(it) => Action::Keep(format!("Service {it}"), Edit::Service(it.it)),
    }
}

/// The bar.
#[must_use]
pub fn view<'a>(state: State<'a>, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let undo = state.undo.map_or("Undo (Ctrl+Z)".to_owned(), |it| format!("Undo: {it} (Ctrl+Z)"));
    let redo = state.redo.map_or("Redo (Ctrl+Y)".to_owned(), |it| format!("Redo: {it} (Ctrl+Y)"));
    let bar = row![
        title(state, look),
        bare("New", Some(Command::New), "New joint (Ctrl+N)".into(), colours),
        bare("Open", Some(Command::Open), "Open a joint file (Ctrl+O)".into(), colours),
        bare("Save", Some(Command::Save), "Save (Ctrl+S)".into(), colours),
        bare("Save as", Some(Command::SaveAs), "Save under another name (Ctrl+Shift+S)".into(), colours),
        bare("Undo", state.undo.map(|_| Command::Undo), undo, colours),
        bare("Redo", state.redo.map(|_| Command::Redo), redo, colours),
        bare("Steps", Some(Command::Steps), "Every step by its name (Ctrl+H)".into(), colours),
        space().width(gap::ROW),
        tipped(
            pick(&STANDARDS, look.joint.standard, Message::Standard, colours),
            "The standard that the joint is checked by",
            BESIDE,
            colours
        ),
        tipped(
            pick(&UNITS, look.unit(), Message::Unit, colours),
            "The unit in which lengths are shown and typed",
            BESIDE,
            colours
        ),
        tipped(
            pick(&SERVICES, look.joint.service, Message::Service, colours),
            "How damp the place is: service class 1, 2 or 3",
            BESIDE,
            colours
        ),
        bare(
            if colours.dark { "Light" } else { "Dark" },
            Some(Command::Lights),
            "Light or dark window".into(),
            colours
        ),
        bare("Sheet", Some(Command::Sheet), "The sheet as it will be printed (Ctrl+P)".into(), colours),
        bare("Keys", Some(Command::Keys), "The list of keys (F1)".into(), colours),
        theme::reach(
            button(
                text("Export detail").size(text_px::BODY).font(theme::BOLD).wrapping(text::Wrapping::None)
            )
            .padding(gap::CONTROL)
            .style(control::main_button(colours))
            .on_press(Message::Pressed(Command::Export)),
            Some(Message::Pressed(Command::Export)),
            colours.text,
        ),
    ]
    .spacing(gap::TIGHT)
    .align_y(Alignment::Center);
    container(bar)
        .padding([0.0, gap::PANE])
        .height(part_px::TOP)
        .width(Length::Fill)
        .align_y(Alignment::Center)
        .clip(true)
        .style(control::surface(colours.raised))
        .into()
}

fn title<'a>(state: State<'a>, look: &Look<'a>) -> Element<'a, Message> {
    let joint = look.joint;
    let title = if joint.title.is_empty() { "Untitled joint" } else { joint.title.as_str() };
    let room_px = state.width_px - part_px::TOP_TAKEN;
    let title = cut(title, room_px, text_px::TITLE);
    let edited = if state.edited { " \u{2013} edited" } else { "" };
    #[expect(clippy::cast_precision_loss, reason = "letters of a word")]
    let edited_px = edited.chars().count() as f32 * LETTER * text_px::SMALL;
    let file = cut(state.file.unwrap_or("not saved yet"), room_px - edited_px, text_px::SMALL);
    let below = file + edited;
    let line = |words: String, px, font, colour| {
        text(words).size(px).font(font).wrapping(text::Wrapping::None).style(control::words(colour))
    };
    let words = iced::widget::column![
        line(title, text_px::TITLE, theme::BOLD, look.colours.text),
        line(below, text_px::SMALL, theme::REGULAR, look.colours.soft),
    ];
    container(words).width(Length::Fill).clip(true).into()
}

/// A bold letter is on average a little over half its size wide.
const LETTER: f32 = 0.56;

/// Words of this size that are too long for their room, cut with three dots.
fn cut(title: &str, room_px: f32, size_px: f32) -> String {
    let fits = (room_px / (LETTER * size_px)).max(4.0);
    let count = title.chars().count();
    #[expect(clippy::cast_precision_loss, reason = "letters of a title")]
    if count as f32 <= fits {
        return title.to_owned();
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few dozen letters")]
    let kept: String = title.chars().take(fits as usize - 1).collect();
    kept.trim_end().to_owned() + "\u{2026}"
}

fn bare<'a>(
    words: &'a str,
    command: Option<Command>,
    tip: String,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let press = button(text(words).size(text_px::BODY).wrapping(text::Wrapping::None))
        .padding(gap::CONTROL)
        .style(control::bare_button(colours, colours.text))
        .on_press_maybe(command.map(Message::Pressed));
    let press = theme::reach(press, command.map(Message::Pressed), colours.accent);
    tipped(press, tip, tooltip::Position::Bottom, colours)
}

fn tipped<'a>(
    what: Element<'a, Message>,
    tip: impl text::IntoFragment<'a>,
    at: tooltip::Position,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let tip = container(text(tip).size(text_px::SMALL).style(control::words(colours.text)))
        .padding(gap::CONTROL)
        .style(control::card(colours, false));
    tooltip(what, tip, at).into()
}

fn pick<'a, T: Copy + PartialEq + 'a>(
    all: &'static [Named<T>],
    now: T,
    message: fn(Named<T>) -> Message,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let chosen = all.iter().find(|it| it.it == now).copied();
    parts::picker(all, chosen, message, |it| it, colours)
}
