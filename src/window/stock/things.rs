//! The things of the joint, to choose from.

use iced::widget::{button, column, container, row, space, text};
use iced::{Alignment, Length};

use super::{Message, half};
use crate::drawing::Subject;
use crate::window::look::{Look, id_of};
use crate::window::part;
use crate::window::theme::{Element, control, gap, parts, reach, text_px};
use crate::window::words;

/// The list.
pub(super) fn list<'a>(look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let mut list = column![].spacing(1.0);
    let all = things(look);
    if all.is_empty() {
        list = list.push(parts::soft("Nothing yet. Place a member, or open a joint file.", colours));
    }
    for (head, count, chosen, thing) in all {
        list = list.push(container(parts::part_head(head, colours)).padding([gap::TIGHT, 0.0]));
        let part = part::part(count, chosen);
        let press = |at: usize| Message::ThingPressed(thing(at).subject);
        list = list.push(part::before(&part, press, colours));
        for at in part.clone() {
            list = list.push(thing_line(thing(at), look));
        }
        list = list.push(part::after(&part, count, press, colours));
    }
    half("IN THIS JOINT", space().height(0.0).into(), (list, None, 2), colours)
}

/// One thing of the joint in the list.
struct Thing<'a> {
    subject: Subject,
    number: Option<usize>,
    name: &'a str,
    more: String,
}

/// A kind of thing: its name, how many there are, which one is chosen, and each of them.
type Kind<'a> = (&'static str, usize, Option<usize>, Box<dyn Fn(usize) -> Thing<'a> + 'a>);

fn things<'a>(look: &Look<'a>) -> Vec<Kind<'a>> {
    let joint = look.joint;
    let chosen = look.chosen.map(id_of).unwrap_or_default();
    let member = move |at: usize| {
        let it = &joint.members[at];
        Thing {
            subject: Subject::Member(it.id.clone()),
            number: None,
            name: it.shown_name(),
            more: it.material.label.clone(),
        }
    };
    let connector = move |at: usize| {
        let it = &joint.connectors[at];
        Thing {
            subject: Subject::Connector(it.id.clone()),
            number: None,
            name: it.shown_name(),
            more: format!("{} holes", it.plates.iter().map(|plate| plate.holes.len()).sum::<usize>()),
        }
    };
    let fastener = move |at: usize| {
        let it = &joint.fasteners[at];
        Thing {
            subject: Subject::Fastener(it.id.clone()),
            number: Some(at + 1),
            name: it.spec.label.as_str(),
            more: String::new(),
        }
    };
    let kinds: [Kind<'a>; 3] = [
        (
            "Members",
            joint.members.len(),
            joint.members.iter().position(|it| it.id == chosen),
            Box::new(member),
        ),
        (
            "Connectors",
            joint.connectors.len(),
            joint.connectors.iter().position(|it| it.id == chosen),
            Box::new(connector),
        ),
        ("Fasteners", joint.fasteners.len(), look.known.number(&chosen).map(|it| it - 1), Box::new(fastener)),
    ];
    kinds.into_iter().filter(|it| 0 < it.1).collect()
}

fn thing_line<'a>(thing: Thing<'a>, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let name = text(words::unbroken(thing.name)).size(text_px::BODY);
    let words: Element<'a, Message> = match thing.number {
        Some(number) => {
            let id = match &thing.subject {
                Subject::Fastener(id) => id.as_str(),
                Subject::Member(_) | Subject::Connector(_) | Subject::Hole(..) | Subject::Dimension(_) => "",
            };
            let mood = look.known.worst_of(id).into();
            row![parts::mark(number.to_string(), mood, colours), name]
                .spacing(gap::ROW)
                .align_y(Alignment::Center)
                .into()
        }
        None => column![name, parts::soft(thing.more, colours)].into(),
    };
    let message = Message::ThingPressed(thing.subject.clone());
    let line = button(words)
        .width(Length::Fill)
        .padding(gap::LINE)
        .style(control::line_button(colours, look.all_chosen().any(|it| *it == thing.subject)))
        .on_press(message.clone());
    reach(line, Some(message), colours.accent)
}
