//! The panel of steps done and undone.

use iced::Length;
use iced::widget::{button, column, container, row, space, text};

use super::{Message, press, title};
use crate::window::journal::Journal;
use crate::window::theme::{Colours, Element, control, gap, parts, text_px};

/// The steps, the newest at the top. A press goes back, or forward again, to where the step was the last one.
pub(super) fn steps<'a>(journal: &'a Journal, colours: &'static Colours) -> Element<'a, Message> {
    let line = |words: String, colour, steps: i64, now: bool| {
        let words = text(words).size(text_px::BODY).width(Length::Fill).style(control::words(colour));
        button(words)
            .width(Length::Fill)
            .padding(gap::LINE)
            .style(control::line_button(colours, now))
            .on_press(Message::StepPressed(steps))
    };
    let mut list = column![].spacing(1.0);
    let undone: Vec<&str> = journal.undone().collect();
    for (steps, name) in (1_i64..).zip(undone).collect::<Vec<_>>().into_iter().rev() {
        list = list.push(line(format!("{name} (undone)"), colours.soft, -steps, false));
    }
    let mut all: i64 = 0;
    for (steps, name) in (0_i64..).zip(journal.done().rev()) {
        list = list.push(line(name.to_owned(), colours.text, steps, steps == 0));
        all = steps + 1;
    }
    list = list.push(line("As it was opened".to_owned(), colours.text, all, all == 0));
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    column![
        row![
            title("Steps", colours),
            space().width(Length::Fill),
            press("Close", true, Message::CancelPressed, colours)
        ],
        parts::soft("Press a step to go back to it, or forward again; Down and Up go one by one.", colours),
        parts::scroll(inside, colours).height(Length::Shrink),
    ]
    .spacing(gap::PANE)
    .into()
}
