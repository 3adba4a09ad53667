//! Panels laid over the window: the question of unsaved changes, a path to type, what is wrong with a file, the keys.

mod safety;
mod steps;

use std::path::PathBuf;

use iced::widget::{button, center, column, container, mouse_area, opaque, row, space, text, text_input};
use iced::{Alignment, Length};

use super::files::Purpose;
use super::journal::Journal;
use super::keeper::Found;
use super::theme::{self, Colours, Element, control, gap, part_px, parts, text_px};
use super::{actions, keys};

/// Which panel is open.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Dialog {
    /// None.
    #[default]
    Closed,
    /// Changes would be lost: save them first?
    Unsaved(Then),
    /// A path is typed.
    Path {
        /// What for.
        purpose: Purpose,
        /// The text so far.
        text: String,
        /// Why it cannot be used.
        error: Option<String>,
    },
    /// A file could not be opened or written; a line for everything that is wrong.
    Problems {
        /// What failed.
        head: String,
        /// What is wrong.
        lines: Vec<String>,
    },
    /// The list of keys.
    Keys,
    /// The steps done and undone.
    Steps,
    /// Work of a window that ended before it was saved.
    Recover(Vec<Found>),
    /// Files that were open lately.
    Recent,
    /// Another program has changed the file; perhaps it was just to be saved.
    Changed {
        /// It was.
        saving: bool,
    },
    /// Every action, to be searched.
    Actions {
        /// What is searched.
        search: String,
        /// What it found.
        found: actions::Found,
        /// Which of it is in the hand.
        at: usize,
    },
}

/// What panels show besides.
#[derive(Clone, Copy, Debug)]
pub struct State<'a> {
    /// The steps.
    pub journal: &'a Journal,
    /// Files that were open lately.
    pub recent: &'a [PathBuf],
    /// The size of words and controls, and the most that the window has room for.
    pub scale: (f32, f32),
    /// The colours.
    pub colours: &'static Colours,
}

/// What was asked for when changes were found unsaved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Then {
    /// An empty joint.
    New,
    /// Another file.
    Open,
    /// The file there.
    OpenThis(PathBuf),
    /// The starting joint that is picked.
    Begin,
    /// The end.
    Close,
}

/// What happened in a panel.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// Save first, then go on.
    SavePressed,
    /// Go on without saving.
    DiscardPressed,
    /// Back to the joint.
    CancelPressed,
    /// The path has another text.
    PathTyped(String),
    /// The path is right.
    PathEntered,
    /// Larger or smaller words and controls are wanted.
    ScalePressed(bool),
    /// Open this one of the work that was found again.
    OpenFound(usize),
    /// Give this one of it up.
    DiscardFound(usize),
    /// Open this file.
    RecentPressed(PathBuf),
    /// Forget the files that were open.
    ClearRecentPressed,
    /// Read the file again and give up what is shown.
    ReadAgain,
    /// What is shown counts, not the file.
    KeepMine,
    /// Save what is shown in another file.
    SaveElsewhere,
    /// Something is searched among the actions.
    Searched(String),
    /// Do the action that is in the hand.
    SearchEntered,
    /// Do the action at this place of what was found.
    ActionPressed(usize),
    /// Back by so many steps, or forward where it is negative.
    StepPressed(i64),
}

/// The name of the field that a path is typed in.
pub const PATH_FIELD: &str = "path";

/// The panel over the window; nothing when none is open.
#[must_use]
pub fn view<'a>(dialog: &'a Dialog, state: State<'a>) -> Element<'a, Message> {
    let State { journal, recent, scale, colours } = state;
    let panel = match dialog {
        Dialog::Closed => return space().into(),
        Dialog::Unsaved(then) => unsaved(then, colours),
        Dialog::Path { purpose, text, error } => path(*purpose, text, error.as_deref(), colours),
        Dialog::Problems { head, lines } => problems(head, lines, colours),
        Dialog::Keys => key_list(scale, colours),
        Dialog::Steps => steps::steps(journal, colours),
        Dialog::Recover(found) => safety::recover(found, colours),
        Dialog::Recent => safety::recent(recent, colours),
        Dialog::Changed { saving } => safety::changed(*saving, journal.edited(), colours),
        Dialog::Actions { search, found, at } => actions::view(
            (search, found, *at),
            Message::Searched,
            Message::SearchEntered,
            Message::ActionPressed,
            colours,
        ),
    };
    let panel = container(panel)
        .padding(gap::PART)
        .max_width(part_px::DIALOG)
        .max_height(part_px::DIALOG_HIGH)
        .style(control::card(colours, false));
    let veil = center(opaque(panel)).style(control::surface(colours.veil));
    opaque(mouse_area(veil).on_press(Message::CancelPressed))
}

/// A panel that takes nearly the whole window.
#[must_use]
pub fn wide<'a, M: Clone + 'a>(content: Element<'a, M>, colours: &'static Colours) -> Element<'a, M> {
    let panel = container(content)
        .padding(gap::PART)
        .max_width(part_px::DIALOG_WIDE)
        .max_height(part_px::DIALOG_HIGH)
        .width(Length::Fill)
        .height(Length::Fill)
        .style(control::card(colours, false));
    let veil = center(container(opaque(panel)).padding(gap::PART)).style(control::surface(colours.veil));
    opaque(veil)
}

/// Over the whole window while a file is held over it.
#[must_use]
pub fn drop_here<'a, M: 'a>(colours: &'static Colours) -> Element<'a, M> {
    let words = container(text("Drop a joint file to open it").size(text_px::TITLE).font(theme::BOLD))
        .padding(gap::PART)
        .style(control::card(colours, true));
    center(words).style(control::surface(colours.veil)).into()
}

fn title<'a>(words: &'a str, colours: &'static Colours) -> Element<'a, Message> {
    text(words).size(text_px::TITLE).font(theme::BOLD).style(control::words(colours.text)).into()
}

fn press<'a>(
    words: &'a str,
    main: bool,
    message: Message,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let face = button(text(words).size(text_px::BODY)).padding(gap::CONTROL).on_press(message.clone());
    if main {
        theme::reach(face.style(control::main_button(colours)), Some(message), colours.text)
    } else {
        theme::reach(face.style(control::plain_button(colours)), Some(message), colours.accent)
    }
}

fn unsaved<'a>(then: &Then, colours: &'static Colours) -> Element<'a, Message> {
    let question = match then {
        Then::New | Then::Begin => "Save the changes before a new joint is begun?",
        Then::Open | Then::OpenThis(_) => "Save the changes before another joint is opened?",
        Then::Close => "Save the changes before the window closes?",
    };
    column![
        title(question, colours),
        parts::body("Changes that are not saved are lost.", colours),
        row![
            press("Don't save", false, Message::DiscardPressed, colours),
            space().width(Length::Fill),
            press("Cancel", false, Message::CancelPressed, colours),
            press("Save", true, Message::SavePressed, colours),
        ]
        .spacing(gap::ROW),
    ]
    .spacing(gap::PANE)
    .into()
}

fn path<'a>(
    purpose: Purpose,
    text_now: &'a str,
    error: Option<&'a str>,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let input = text_input("folder/name", text_now)
        .id(iced::widget::Id::new(PATH_FIELD))
        .size(text_px::BODY)
        .padding(gap::CONTROL)
        .style(control::field(colours, error.is_some()))
        .on_input(Message::PathTyped)
        .on_submit(Message::PathEntered);
    let below = text(
        error.unwrap_or("No file was picked in a dialog of the desktop. Type the path here, or cancel."),
    )
    .size(text_px::SMALL)
    .style(control::words(if error.is_some() { colours.fault } else { colours.soft }));
    column![
        title(purpose.words(), colours),
        input,
        below,
        row![
            space().width(Length::Fill),
            press("Cancel", false, Message::CancelPressed, colours),
            press(purpose.verb(), true, Message::PathEntered, colours),
        ]
        .spacing(gap::ROW),
    ]
    .spacing(gap::PANE)
    .into()
}

fn problems<'a>(head: &'a str, lines: &'a [String], colours: &'static Colours) -> Element<'a, Message> {
    let mut list = column![].spacing(gap::ROW);
    for line in lines {
        list = list.push(parts::body(line.as_str(), colours));
    }
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    column![
        title(head, colours),
        parts::scroll(inside, colours).height(Length::Shrink),
        row![
            text(if lines.len() == 1 { "1 problem".to_owned() } else { format!("{} problems", lines.len()) })
                .size(text_px::SMALL)
                .style(control::words(colours.soft)),
            space().width(Length::Fill),
            press("Close", true, Message::CancelPressed, colours),
        ]
        .align_y(Alignment::Center),
    ]
    .spacing(gap::PANE)
    .into()
}

fn key_list<'a>((now, most): (f32, f32), colours: &'static Colours) -> Element<'a, Message> {
    let mut list = column![].spacing(gap::TIGHT);
    for (what, by) in keys::LIST {
        list = list.push(
            row![
                text(what).size(text_px::SMALL).width(Length::FillPortion(5)),
                text(by).size(text_px::SMALL).font(theme::BOLD).width(Length::FillPortion(4)),
            ]
            .spacing(gap::ROW),
        );
    }
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    column![
        row![
            title("Keys", colours),
            space().width(Length::Fill),
            press("Close", true, Message::CancelPressed, colours)
        ],
        row![
            parts::body(format!("Size of words and controls: {:.0} %", 100.0 * now), colours),
            space().width(Length::Fill),
            press("Smaller", false, Message::ScalePressed(false), colours),
            press("Larger", false, Message::ScalePressed(true), colours),
        ]
        .spacing(gap::ROW)
        .align_y(Alignment::Center),
        parts::soft(format!("A window of this size has room for {:.0} %.", 100.0 * most), colours),
        parts::scroll(inside, colours).height(Length::Shrink),
    ]
    .spacing(gap::PANE)
    .into()
}
