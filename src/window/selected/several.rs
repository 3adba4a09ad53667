//! Several things are chosen: what they are, and what can be done to all of them.

use iced::widget::{button, row, text};

use super::Message;
use super::rows::{Rows, head, press, rows};
use crate::drawing::Subject;
use crate::window::look::{Command, Look, name_of};
use crate::window::theme::{Element, control, gap, text_px};

/// So many of them are listed by name.
const MOST_LISTED: usize = 40;

pub(super) fn view<'a>(look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let pair = |a: Element<'a, Message>, b: Element<'a, Message>| row![a, b].spacing(gap::ROW).wrap();
    let mut list: Rows<'a> = rows()
        .push(pair(
            press("Duplicate", Command::Duplicate, colours),
            press("Take away", Command::Delete, colours),
        ))
        .push(pair(
            press("Mirror", Command::Mirror, colours),
            press("Turn by 90\u{b0}", Command::TurnBy(90), colours),
        ))
        .push(press("Arrange: rows, line up, spread", Command::Arrange, colours))
        .push(head("Chosen", colours));
    let all: Vec<&Subject> = look.all_chosen().collect();
    for subject in all.iter().take(MOST_LISTED) {
        let words = name_of(look.joint, subject);
        let line = button(text(words).size(text_px::BODY))
            .width(iced::Length::Fill)
            .padding(gap::LINE)
            .style(control::line_button(colours, false))
            .on_press(Message::ThingPressed((*subject).clone()));
        list = list.push(line);
    }
    if MOST_LISTED < all.len() {
        let more = format!("and {} more", all.len() - MOST_LISTED);
        list = list.push(text(more).size(text_px::SMALL).style(control::words(colours.soft)));
    }
    list.into()
}
