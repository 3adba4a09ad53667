//! What is carried: the values, their working and choices side by side, each worked out only while it is shown.
//!
//! The values stand in the pane of what is chosen. Working and choices stand in a panel of their own, below the
//! drawing or, made large, over the whole window: large enough to be read from the last row of a class.

mod beside;
mod choices;
mod table;
mod working;

use iced::widget::{button, column, container, opaque, row, space, text};
use iced::{Alignment, Length};

pub use self::choices::{Message as ChoiceMessage, Variant};
pub use self::table::{Column, Row, Table, Value};
use super::look::{Action, Look};
use super::selected::carries::is_told;
use super::selected::chosen_words;
use super::theme::{self, Colours, Element, control, gap, part_px, text_px};
use crate::drawing::Subject;
use crate::findings::carry::{Carrying, Detail, carry, carry_one, written};
use crate::joint::Joint;

/// Beyond so many fasteners a joint as a whole is worked out only at rest, and not while something is dragged.
const MOST_IN_HAND: usize = 200;

/// Beyond so many a joint as a whole is not worked out in the window at all: each fastener is when it is chosen.
const MOST_AT_REST: usize = 2_000;

/// Why a joint as a whole is not worked out.
pub(crate) fn left_out(joint: &Joint) -> &'static str {
    if MOST_AT_REST < joint.fasteners.len() {
        "Choose a fastener: in so large a joint they are worked out one by one. The sheet and the check hold all."
    } else {
        "Worked out when the mouse is let go: the joint is large."
    }
}

/// The sizes of words in the panel, as parts of the usual ones.
const ZOOMS: [f32; 7] = [1.0, 1.2, 1.45, 1.75, 2.1, 2.5, 3.0];

/// What the panel shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Panel {
    /// How the values came about.
    Working,
    /// Choices side by side.
    Compare,
}

/// What the pane remembers.
#[derive(Clone, Debug, Default)]
pub struct Pane {
    /// The values are shown in the pane of what is chosen, and not its numbers.
    is_shown: bool,
    panel: Option<Panel>,
    is_large: bool,
    zoom: usize,
    choices: choices::Choices,
    told: Told,
    of: Option<Of>,
}

/// What was worked out.
#[derive(Clone, Debug, Default)]
pub struct Told {
    /// The chosen fastener alone, or every fastener where none is chosen.
    pub carrying: Carrying,
    /// Its working, while that is shown.
    pub rows: Vec<written::Row>,
    /// The choices, while they are shown.
    pub table: Option<Table>,
    /// The joint is large and something is dragged: nothing was worked out.
    pub is_left_out: bool,
}

/// What the told was worked out for.
#[derive(Clone, Debug, PartialEq)]
struct Of {
    version: u64,
    chosen: Option<Subject>,
    is_shown: bool,
    panel: Option<Panel>,
    choices: Vec<Variant>,
}

/// What happened in the panel.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// The panel is to be closed.
    ClosePressed,
    /// Over the whole window, or below the drawing again.
    LargePressed,
    /// Larger or smaller words.
    ZoomPressed(bool),
    /// All of it as text, please.
    CopyPressed,
    /// The other side of the panel.
    PanelPressed(Panel),
    /// A fastener was pressed in the working of a whole joint.
    ThingPressed(Subject),
    /// Among the choices.
    Choices(ChoiceMessage),
}

impl Pane {
    /// Lets go of what was worked out and chosen for another document; what is shown stays shown.
    pub fn forget(&mut self) {
        (self.told, self.of, self.choices) = (Told::default(), None, choices::Choices::default());
    }

    /// Values or numbers in the pane of what is chosen.
    pub fn turn(&mut self) {
        self.is_shown = !self.is_shown;
    }

    /// Opens the panel on one of its sides, or closes it where that is shown already.
    pub fn open(&mut self, panel: Panel, look: &Look<'_>) {
        self.panel = if self.panel == Some(panel) { None } else { Some(panel) };
        if self.panel == Some(Panel::Compare) {
            self.choices.begin(look);
        }
        self.is_large = self.is_large && self.panel.is_some();
    }

    /// One step back: from large to small, from small to closed. Whether there was one.
    pub fn step_back(&mut self) -> bool {
        let was_open = self.panel.is_some();
        if self.is_large {
            self.is_large = false;
        } else {
            self.panel = None;
        }
        was_open
    }

    /// The values, where they are shown in the pane of what is chosen.
    #[must_use]
    pub fn values(&self) -> Option<&Told> {
        self.is_shown.then_some(&self.told)
    }

    /// What was worked out last.
    #[must_use]
    pub fn told(&self) -> &Told {
        &self.told
    }

    /// The panel that is open.
    #[must_use]
    pub fn panel(&self) -> Option<Panel> {
        self.panel
    }

    /// Whether the panel stands over the whole window.
    #[must_use]
    pub fn is_large(&self) -> bool {
        self.is_large && self.panel.is_some()
    }

    /// What is asked for by what happened.
    pub fn update(&mut self, message: Message, look: &Look<'_>) -> Action {
        match message {
            Message::ClosePressed => {
                (self.panel, self.is_large) = (None, false);
                Action::Again
            }
            Message::LargePressed => {
                self.is_large = !self.is_large;
                Action::Again
            }
            Message::ZoomPressed(larger) => {
                let last = ZOOMS.len() - 1;
                self.zoom = if larger { (self.zoom + 1).min(last) } else { self.zoom.saturating_sub(1) };
                Action::Again
            }
            Message::CopyPressed => Action::CopyText(self.text(look)),
            Message::PanelPressed(panel) => {
                if self.panel != Some(panel) {
                    self.open(panel, look);
                }
                Action::Again
            }
            Message::ThingPressed(subject) => Action::Show(Some(subject), None),
            Message::Choices(it) => self.choices.update(it, look),
        }
    }

    /// Works out anew what is shown, where it is not what was worked out last. `version` changes with the joint.
    pub fn refresh(&mut self, version: u64, in_hand: bool, look: &Look<'_>) {
        let of = Of {
            version,
            chosen: look.chosen.cloned(),
            is_shown: self.is_shown,
            panel: self.panel,
            choices: if self.panel == Some(Panel::Compare) { self.choices.list.clone() } else { Vec::new() },
        };
        if self.of.as_ref() == Some(&of) {
            return;
        }
        self.of = Some(of);
        self.told = Told::default();
        let count = look.joint.fasteners.len();
        let is_large = (in_hand && MOST_IN_HAND < count) || MOST_AT_REST < count;
        if self.is_shown || self.panel == Some(Panel::Working) {
            let detail = if self.panel == Some(Panel::Working) { Detail::Working } else { Detail::Values };
            match look.chosen_fastener() {
                Some(at) => {
                    self.told.carrying = carry_one(look.joint, look.trace, at, detail).unwrap_or_default();
                }
                None if is_large => self.told.is_left_out = true,
                None => self.told.carrying = carry(look.joint, look.trace, detail),
            }
        }
        if self.panel == Some(Panel::Working) {
            self.told.rows = working::rows(&self.told.carrying, look);
        }
        if self.panel == Some(Panel::Compare) {
            self.told.is_left_out = is_large;
            self.told.table = (!is_large).then(|| Table::of(&self.choices.list, look));
        }
    }

    /// All that the panel shows as text; of a whole joint the working of every fastener.
    fn text(&self, look: &Look<'_>) -> String {
        let mut lines = vec![title(look.joint).to_owned(), is_told(look.joint.standard).to_owned()];
        match (self.panel, &self.told.table) {
            (Some(Panel::Compare), Some(table)) => lines.extend(table.lines()),
            _ => lines.extend(working::all_lines(&self.told, look)),
        }
        lines.extend(self.told.carrying.not_counted.iter().cloned());
        lines.join("\n") + "\n"
    }

    /// The panel, as large as it is let be.
    #[must_use]
    pub fn view<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        let zoom = ZOOMS[self.zoom.min(ZOOMS.len() - 1)];
        let content = match self.panel {
            Some(Panel::Working) => working::view(&self.told, zoom, look),
            Some(Panel::Compare) => beside::view(&self.choices, &self.told, zoom, look).map(Message::Choices),
            None => return space().into(),
        };
        let inside = column![self.head(look), content].spacing(gap::ROW);
        container(inside)
            .padding([gap::ROW, gap::PANE])
            .width(Length::Fill)
            .height(Length::Fill)
            .style(control::surface(look.colours.raised))
            .into()
    }

    /// The panel over the whole window below its bar; nothing where it is not large.
    #[must_use]
    pub fn view_large<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        if !self.is_large() {
            return space().into();
        }
        column![space().height(part_px::TOP + 1.0), opaque(self.view(look))].into()
    }

    fn head<'a>(&self, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let side = |words: &'static str, panel| {
            let is_on = self.panel == Some(panel);
            button(text(words).size(text_px::SMALL).font(if is_on { theme::BOLD } else { theme::REGULAR }))
                .padding(gap::LINE)
                .style(control::line_button(colours, is_on))
                .on_press(Message::PanelPressed(panel))
        };
        let what = text(chosen_title(look))
            .size(text_px::BODY)
            .font(theme::BOLD)
            .wrapping(text::Wrapping::None)
            .style(control::words(colours.text));
        row![
            side("Working", Panel::Working),
            side("Compare", Panel::Compare),
            container(what).width(Length::Fill).clip(true),
            press("Smaller", Message::ZoomPressed(false), colours),
            press("Larger", Message::ZoomPressed(true), colours),
            press("Copy", Message::CopyPressed, colours),
            press(
                if self.is_large { "Below the drawing" } else { "Whole window" },
                Message::LargePressed,
                colours
            ),
            press("Close", Message::ClosePressed, colours),
        ]
        .spacing(gap::ROW)
        .align_y(Alignment::Center)
        .into()
    }
}

fn press<'a, M: Clone + 'a>(words: &'a str, message: M, colours: &'static Colours) -> Element<'a, M> {
    button(text(words).size(text_px::SMALL).wrapping(text::Wrapping::None))
        .padding(gap::CONTROL)
        .style(control::plain_button(colours))
        .on_press(message)
        .into()
}

fn title(joint: &Joint) -> &str {
    if joint.title.is_empty() { "Untitled joint" } else { &joint.title }
}

/// What the panel is about: `fastener 2, 16d common nail`.
fn chosen_title(look: &Look<'_>) -> String {
    match look.chosen_fastener().and_then(|at| look.joint.fasteners.get(at)) {
        Some(it) => format!("{}, {}", chosen_words(look), super::words::fastener(&it.spec, look.unit())),
        None => format!("{}, all its fasteners", title(look.joint)),
    }
}
