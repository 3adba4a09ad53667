//! The pane at the left: what can be placed, by its sort, and the things of the joint to choose from.

mod fasteners;
mod list;
mod things;
mod wood;

use std::sync::Arc;

use iced::Length;
use iced::widget::{button, column, container, row, text};

pub(super) use self::fasteners::{HOWS, swap, swap_those_like};
pub use self::fasteners::{How, kind_words, same_table};
pub(super) use self::wood::{actual, nominal, table_of};
use super::look::{Action, Look};
use super::making::Kind;
use super::theme::{Colours, Element, control, gap, part_px, parts, reach, text_px};
use crate::drawing::Subject;
use crate::joint::Joint;
use crate::stock::FastenerSpec;

/// The name of the line of the size that the chosen fastener has.
pub const SIZE_NOW: &str = "size of what is chosen";

/// What the pane remembers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pane {
    /// The sort that is shown.
    tab: Tab,
    /// Which list of sizes is open.
    open: Option<String>,
    /// How fasteners are driven.
    how: How,
    /// A swap is for all that are alike.
    alike: bool,
    /// The fastener whose table of sizes was opened.
    opened_for: Option<String>,
    /// How each size of the open table would do in the place of what is chosen.
    told: fasteners::Told,
}

/// A sort of things that can be placed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Tab {
    /// Members, drawn and of stock sizes.
    Wood,
    /// Connectors, by their forms and drawn.
    Steel,
    /// Fasteners.
    #[default]
    Drive,
    /// Measures.
    Measure,
}

const TABS: [(Tab, &str); 4] =
    [(Tab::Wood, "Wood"), (Tab::Steel, "Steel"), (Tab::Drive, "Drive"), (Tab::Measure, "Measure")];

/// What happened in the pane.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// Another sort is to be shown.
    TabPressed(Tab),
    /// The head of a table of sizes was pressed.
    TablePressed(String),
    /// A size was pressed.
    SizePressed(Arc<FastenerSpec>),
    /// The plus sign beside a size was pressed.
    NewPressed(Arc<FastenerSpec>),
    /// A swap is for all that are alike, or for the chosen ones alone.
    AlikeToggled,
    /// How fasteners are driven was picked.
    HowPicked(How),
    /// Something to make was pressed.
    KindPressed(Kind),
    /// A thing of the joint was pressed.
    ThingPressed(Subject),
}

impl Pane {
    /// As it is shown first: members where there is none yet, fasteners where there are some.
    #[must_use]
    pub fn of(joint: &Joint) -> Self {
        let tab = if joint.members.is_empty() { Tab::Wood } else { Tab::Drive };
        Self { tab, ..Self::default() }
    }

    /// What is asked for by what happened.
    pub fn update(&mut self, message: Message, look: &Look<'_>) -> Action {
        match message {
            Message::TabPressed(tab) => {
                self.tab = tab;
                Action::None
            }
            Message::TablePressed(table) => {
                self.open = if self.open.as_ref() == Some(&table) { None } else { Some(table) };
                Action::Again
            }
            Message::SizePressed(spec) => {
                swap(&spec, self.alike, look).unwrap_or_else(|| self.how.drives(spec))
            }
            Message::NewPressed(spec) => self.how.drives(spec),
            Message::HowPicked(how) => {
                self.how = how;
                Action::None
            }
            Message::AlikeToggled => {
                self.alike = !self.alike;
                Action::None
            }
            Message::KindPressed(kind) => Action::Make(Some(kind)),
            Message::ThingPressed(subject) => Action::Show(Some(subject), None),
        }
    }

    /// The fastener whose sizes are shown to swap it for.
    #[must_use]
    pub fn swaps(&self) -> Option<&str> {
        self.opened_for.as_deref().filter(|_| self.tab == Tab::Drive)
    }

    /// Judges the sizes of the open table in the place of what is chosen, if that was not done yet.
    pub fn judge(&mut self, version: u64, look: &Look<'_>) {
        let chosen = look.chosen_fastener().and_then(|n| look.joint.fasteners.get(n));
        let id = chosen.map(|it| it.id.clone());
        if self.opened_for != id {
            // The sizes that the chosen fastener may be swapped for are there at once.
            if let Some(chosen) = chosen.filter(|it| !it.spec.table().is_empty()) {
                self.open = Some(chosen.spec.table().to_owned());
            }
            self.opened_for = id;
        }
        fasteners::judge(&mut self.told, self.open.as_deref(), version, look);
    }

    /// The pane.
    #[must_use]
    pub fn view<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let list = match self.tab {
            Tab::Wood => wood::list(self, look),
            Tab::Steel => list::steel(look),
            Tab::Drive => fasteners::list(self, look),
            Tab::Measure => list::measures(look),
        };
        let both = column![
            half("STOCK", self.tabs(colours), (list, Some(self.tab), 3), colours),
            parts::rule(colours),
            things::list(look)
        ];
        container(both).width(part_px::STOCK).height(Length::Fill).into()
    }

    fn tabs<'a>(&self, colours: &'static Colours) -> Element<'a, Message> {
        let tab = |(tab, words): (Tab, &'a str)| {
            let press = button(text(words).size(text_px::SMALL).wrapping(text::Wrapping::None))
                .padding(gap::LINE)
                .style(control::line_button(colours, self.tab == tab))
                .on_press(Message::TabPressed(tab));
            reach(press, Some(Message::TabPressed(tab)), colours.accent)
        };
        row(TABS.map(tab)).spacing(1.0).into()
    }
}

/// One half of the pane: its head stays, its list scrolls.
fn half<'a>(
    head: &'a str,
    below: Element<'a, Message>,
    (list, tab, portion): (iced::widget::Column<'a, Message>, Option<Tab>, u16),
    colours: &'static Colours,
) -> Element<'a, Message> {
    let inside = container(list).padding(iced::Padding::default().right(gap::PANE)).width(Length::Fill);
    let content =
        column![parts::head(head, String::new(), colours), below, parts::scroll_of(tab, inside, colours)];
    container(content.spacing(gap::TIGHT))
        .padding(iced::Padding::from([gap::PANE, 0.0]).left(gap::PANE))
        .width(Length::Fill)
        .height(Length::FillPortion(portion))
        .into()
}
