//! The pane at the left: fasteners of stock by kind and size, and the things of the joint to choose from.

use std::collections::BTreeMap;
use std::sync::Arc;

use iced::widget::{button, column, container, row, text, tooltip};
use iced::{Alignment, Length};

use super::look::{Action, Look};
use super::theme::{Colours, Element, control, gap, part_px, parts, text_px};
use super::words;
use crate::drawing::Subject;
use crate::joint::edit::Change;
use crate::joint::{Edit, Fastener};
use crate::stock::{FastenerKind, FastenerSpec, Stock};

/// What the pane remembers: which table of sizes is open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pane {
    open: Option<String>,
}

/// What happened in the pane.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// The head of a table of sizes was pressed.
    TablePressed(String),
    /// A size was pressed.
    SizePressed(Arc<FastenerSpec>),
    /// The plus sign beside a size was pressed.
    NewPressed(Arc<FastenerSpec>),
    /// A thing of the joint was pressed.
    ThingPressed(Subject),
}

impl Pane {
    /// What is asked for by what happened.
    pub fn update(&mut self, message: Message, look: &Look<'_>) -> Action {
        match message {
            Message::TablePressed(table) => {
                self.open = if self.open.as_ref() == Some(&table) { None } else { Some(table) };
                Action::None
            }
            Message::SizePressed(spec) => swap(&spec, look).unwrap_or(Action::Drive(Some(spec))),
            Message::NewPressed(spec) => Action::Drive(Some(spec)),
            Message::ThingPressed(subject) => Action::Show(Some(subject), None),
        }
    }

    /// The pane.
    #[must_use]
    pub fn view<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let both = column![self.stock_list(look), parts::rule(colours), joint_list(look)];
        container(both)
            .width(part_px::STOCK)
            .height(Length::Fill)
            .style(control::surface(colours.pane))
            .into()
    }

    fn stock_list<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let does = match look.chosen_fastener() {
            Some(at) => format!("Swap fastener {} for", at + 1),
            None => "Press a size, then the joint.".to_owned(),
        };
        let mut list = column![parts::soft(does, colours)].spacing(1.0);
        for (table, specs) in tables(look.stock) {
            let open = self.open.as_ref() == Some(&table);
            list = list.push(table_head(table, specs[0].kind, open, colours));
            if open {
                for spec in specs {
                    list = list.push(size_line(spec, look));
                }
            }
        }
        half("STOCK", list, colours)
    }
}

fn joint_list<'a>(look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let mut list = column![].spacing(1.0);
    let all = things(look);
    if all.is_empty() {
        list = list.push(parts::soft("Nothing yet. Open a joint file to begin with.", colours));
    }
    for (head, things) in all {
        list = list.push(container(parts::part_head(head, colours)).padding([gap::TIGHT, 0.0]));
        for thing in things {
            list = list.push(thing_line(thing, look));
        }
    }
    half("IN THIS JOINT", list, colours)
}

/// One half of the pane: its head stays, its list scrolls.
fn half<'a>(
    head: &'a str,
    list: iced::widget::Column<'a, Message>,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    let content = column![parts::head(head, String::new(), colours), parts::scroll(inside, colours)];
    container(content.spacing(gap::TIGHT))
        .padding(iced::Padding::from([gap::PANE, 0.0]).left(gap::PANE))
        .width(Length::Fill)
        .height(Length::FillPortion(1))
        .into()
}

/// The edit that makes the chosen fastener one of this kind and size; `None` when no fastener is chosen.
fn swap(spec: &Arc<FastenerSpec>, look: &Look<'_>) -> Option<Action> {
    let at = look.chosen_fastener()?;
    let old = &look.joint.fasteners[at];
    if old.spec == *spec {
        return Some(Action::None);
    }
    let new = Box::new(Fastener { spec: spec.clone(), ..old.clone() });
    let name = format!("Make fastener {} a {}", at + 1, spec.label);
    Some(Action::Keep(name, Edit::Fasteners(Change::Replace { at, new })))
}

/// The fasteners of stock by table: the entry's name without its size.
fn tables(stock: &Stock) -> Vec<(String, Vec<&Arc<FastenerSpec>>)> {
    let mut tables: BTreeMap<(FastenerKind, &str), Vec<&Arc<FastenerSpec>>> = BTreeMap::new();
    for (id, spec) in &stock.fasteners {
        let table = id.rsplit_once('/').map_or(id.as_str(), |it| it.0);
        tables.entry((spec.kind, table)).or_default().push(spec);
    }
    let mut all: Vec<_> = tables.into_iter().map(|(key, specs)| (key.1.to_owned(), specs)).collect();
    for (_, specs) in &mut all {
        specs.sort_by(|a, b| {
            a.diameter_mm.total_cmp(&b.diameter_mm).then(a.length_mm.total_cmp(&b.length_mm))
        });
    }
    all
}

/// The sizes of the table that a fastener stands in, in the order of the list.
#[must_use]
pub fn same_table<'a>(stock: &'a Stock, spec: &FastenerSpec) -> Vec<&'a Arc<FastenerSpec>> {
    let table = spec.id.rsplit_once('/').map_or(spec.id.as_str(), |it| it.0).to_owned();
    tables(stock).into_iter().find(|it| it.0 == table).map(|it| it.1).unwrap_or_default()
}

/// The kind in words for people.
#[must_use]
pub fn kind_words(kind: FastenerKind) -> &'static str {
    match kind {
        FastenerKind::Nail => "Nail",
        FastenerKind::WoodScrew => "Wood screw",
        FastenerKind::LagScrew => "Lag screw",
        FastenerKind::Bolt => "Bolt",
        FastenerKind::ThreadedRod => "Threaded rod",
        FastenerKind::MasonryScrew => "Masonry screw",
    }
}

fn table_head<'a>(
    table: String,
    kind: FastenerKind,
    open: bool,
    colours: &'static Colours,
) -> Element<'a, Message> {
    let more = table.split('/').skip(1).collect::<Vec<_>>().join(" ");
    let name = match more.as_str() {
        "" => kind_words(kind).to_owned(),
        more => format!("{}, {more}", kind_words(kind)),
    };
    let sign = if open { "\u{2013}" } else { "+" };
    let line = row![
        text(sign).size(text_px::BODY).width(12.0).style(control::words(colours.soft)),
        text(name).size(text_px::BODY).width(Length::Fill),
    ]
    .spacing(gap::TIGHT);
    button(line)
        .width(Length::Fill)
        .padding(gap::LINE)
        .style(control::line_button(colours, false))
        .on_press(Message::TablePressed(table))
        .into()
}

fn size_line<'a>(spec: &'a Arc<FastenerSpec>, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let now = look.chosen_fastener().is_some_and(|at| look.joint.fasteners[at].spec == *spec);
    let driven = look.driving == Some(spec);
    let mut line = column![text(words::unbroken(&spec.label)).size(text_px::BODY)];
    if !spec.label.contains(&words::size(spec.length_mm, look.unit())) {
        line = line.push(parts::soft(words::measures(spec, look.unit()), colours));
    }
    let tip = container(parts::soft("Drive a new one", colours)).padding(gap::CONTROL);
    let plus = button(text("+").size(text_px::BODY).center())
        .width(26.0)
        .padding(gap::LINE)
        .style(control::line_button(colours, driven))
        .on_press(Message::NewPressed(spec.clone()));
    row![
        button(line)
            .width(Length::Fill)
            .padding(gap::LINE)
            .style(control::line_button(colours, now))
            .on_press(Message::SizePressed(spec.clone())),
        tooltip(plus, tip.style(control::card(colours, false)), tooltip::Position::Right),
    ]
    .align_y(Alignment::Center)
    .into()
}

/// One thing of the joint in the list.
struct Thing<'a> {
    subject: Subject,
    number: Option<usize>,
    name: &'a str,
    more: String,
}

fn things<'a>(look: &Look<'a>) -> Vec<(&'static str, Vec<Thing<'a>>)> {
    let joint = look.joint;
    let members = joint.members.iter().map(|it| Thing {
        subject: Subject::Member(it.id.clone()),
        number: None,
        name: it.shown_name(),
        more: it.material.label.clone(),
    });
    let connectors = joint.connectors.iter().map(|it| Thing {
        subject: Subject::Connector(it.id.clone()),
        number: None,
        name: it.shown_name(),
        more: format!("{} holes", it.plates.iter().map(|plate| plate.holes.len()).sum::<usize>()),
    });
    let fasteners = joint.fasteners.iter().enumerate().map(|(at, it)| Thing {
        subject: Subject::Fastener(it.id.clone()),
        number: Some(at + 1),
        name: it.spec.label.as_str(),
        more: String::new(),
    });
    let parts = [
        ("Members", members.collect::<Vec<_>>()),
        ("Connectors", connectors.collect()),
        ("Fasteners", fasteners.collect()),
    ];
    parts.into_iter().filter(|it| !it.1.is_empty()).collect()
}

fn thing_line<'a>(thing: Thing<'a>, look: &Look<'a>) -> Element<'a, Message> {
    let colours = look.colours;
    let name = text(words::unbroken(thing.name)).size(text_px::BODY);
    let words: Element<'a, Message> = match thing.number {
        Some(number) => {
            let id = match &thing.subject {
                Subject::Fastener(id) => id.as_str(),
                Subject::Member(_) | Subject::Connector(_) | Subject::Hole(..) => "",
            };
            let mood = look.findings.worst_of(id).into();
            row![parts::mark(number.to_string(), mood, colours), name]
                .spacing(gap::ROW)
                .align_y(Alignment::Center)
                .into()
        }
        None => column![name, parts::soft(thing.more, colours)].into(),
    };
    button(words)
        .width(Length::Fill)
        .padding(gap::LINE)
        .style(control::line_button(colours, look.chosen == Some(&thing.subject)))
        .on_press(Message::ThingPressed(thing.subject))
        .into()
}
