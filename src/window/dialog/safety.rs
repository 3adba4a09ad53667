//! Panels for work found again, files open lately, and a file that another program has changed.

use iced::widget::{button, column, container, row, space, text};
use iced::{Alignment, Length};
use std::path::PathBuf;

use super::{Message, press, title};
use crate::window::keeper::Found;
use crate::window::theme::{self, Colours, Element, control, gap, parts, text_px};

/// Work that was found again. Nothing of it goes unless somebody says so.
pub(super) fn recover<'a>(found: &'a [Found], colours: &'static Colours) -> Element<'a, Message> {
    let mut list = column![].spacing(gap::ROW);
    for (n, it) in found.iter().enumerate() {
        let words =
            column![parts::body(it.words(), colours), parts::soft(it.kept.display().to_string(), colours),]
                .width(Length::Fill);
        list = list.push(
            row![
                words,
                press("Discard", false, Message::DiscardFound(n), colours),
                press("Open", n == 0, Message::OpenFound(n), colours),
            ]
            .spacing(gap::ROW)
            .align_y(Alignment::Center),
        );
    }
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    let why = found.iter().find_map(|it| it.why.as_deref());
    let says = match why {
        Some(why) => format!(
            "Shankline had to begin again because of a fault of its own: {why}. \
             All that you did is in the first of these. Your own files are as they were."
        ),
        None => "Shankline ended before this was saved. Your own files are as they were.".to_owned(),
    };
    column![
        title("Unsaved work was found", colours),
        parts::body(says, colours),
        parts::scroll(inside, colours).height(Length::Shrink),
        row![space().width(Length::Fill), press("Later", false, Message::CancelPressed, colours)],
    ]
    .spacing(gap::PANE)
    .into()
}

/// Files that were open lately. One that is gone stands back and cannot be pressed.
pub(super) fn recent<'a>(files: &'a [PathBuf], colours: &'static Colours) -> Element<'a, Message> {
    let mut list = column![].spacing(1.0);
    if files.is_empty() {
        list = list.push(parts::soft("No file was open yet.", colours));
    }
    for path in files {
        let is_there = crate::disk::stamp(path).is_some();
        let name = path.file_name().map_or(String::new(), |it| it.to_string_lossy().into_owned());
        let folder = path.parent().map_or(String::new(), |it| it.display().to_string());
        let more = if is_there { folder } else { format!("{folder} (no longer there)") };
        let colour = if is_there { colours.text } else { colours.soft };
        let words = column![
            text(name).size(text_px::BODY).style(control::words(colour)),
            parts::soft(more, colours),
        ];
        let pressed = is_there.then(|| Message::RecentPressed(path.clone()));
        let face = button(words)
            .width(Length::Fill)
            .padding(gap::LINE)
            .style(control::line_button(colours, false))
            .on_press_maybe(pressed.clone());
        list = list.push(theme::reach(face, pressed, colours.accent));
    }
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    column![
        title("Recent files", colours),
        parts::soft("Tab goes from one to the next, Enter opens it.", colours),
        parts::scroll(inside, colours).height(Length::Shrink),
        row![
            press("Clear the list", false, Message::ClearRecentPressed, colours),
            space().width(Length::Fill),
            press("Close", true, Message::CancelPressed, colours),
        ],
    ]
    .spacing(gap::PANE)
    .into()
}

/// Another program has changed the file.
pub(super) fn changed<'a>(saving: bool, edited: bool, colours: &'static Colours) -> Element<'a, Message> {
    let says = match (saving, edited) {
        (true, _) => "Saving now would write over what the other program wrote.",
        (false, true) => "What is shown here has changes of its own. Reading the file again gives them up.",
        (false, false) => "What is shown here is older than the file.",
    };
    let go_on = if saving { "Save over it" } else { "Keep what is shown" };
    column![
        title("Another program has changed the file", colours),
        parts::body(says, colours),
        row![
            press("Save as", false, Message::SaveElsewhere, colours),
            space().width(Length::Fill),
            press("Read it again", !saving && !edited, Message::ReadAgain, colours),
            press(go_on, saving || edited, Message::KeepMine, colours),
        ]
        .spacing(gap::ROW),
    ]
    .spacing(gap::PANE)
    .into()
}
