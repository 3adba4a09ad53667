//! The sheet as it will be printed, page by page, over the window. Its paper is white in both themes.
//!
//! Marks, tags, names, figures and lists are drawn aside with the mouse; they stay where they were put. Its settings
//! stand beside it.

pub mod fields;
mod paper;
mod put;
mod settings;

use iced::widget::canvas::{Cache, Canvas};
use iced::widget::{button, column, container, opaque, row, space, stack, text};
use iced::{Alignment, Length};
use kurbo::{Point, Vec2};

use self::fields::Field;
use self::paper::Paper;
use super::document::is_vast;
use super::look::{Action, Command, Judgement, Look};
use super::theme::{self, Element, control, gap, parts, text_px};
use crate::drawing::{self, Drawing, Handle, Inputs};
use crate::joint::{Edit, Joint};

/// One turn of the wheel, and the closest look.
const ZOOM_STEP: f64 = 1.25;
const MOST_ZOOM: f64 = 10.0;

/// The grab zone round a thing, in millimetres of paper.
const REACH_MM: f64 = 1.2;

/// What the preview remembers.
#[derive(Debug, Default)]
pub struct Pane {
    is_open: bool,
    /// Whether the working of what is carried follows the pages.
    with_working: bool,
    version: Option<u64>,
    /// The pages of this state are still to be drawn, beside the window.
    owed: Option<u64>,
    /// The joint whose pages are being drawn there, unless it is a very large one.
    beside: Option<(u64, Option<Joint>)>,
    /// Pages of a joint that is about to be kept.
    ready: Option<(Joint, Vec<Drawing>)>,
    /// The joint that the pages are of, unless it is a very large one.
    drawn: Option<Joint>,
    pages: Vec<Drawing>,
    at: usize,
    drag: Option<Drag>,
    /// What the arrow keys move.
    held: Option<String>,
    /// The field that is being typed in.
    typing: Option<Typing>,
    /// How it is looked at: larger than the room, and shifted.
    closer: Closer,
    cache: Cache,
    over: Cache,
}

/// How much larger than its room a page is looked at, and how far it is shifted, in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closer {
    /// 1 where the whole page is seen.
    pub zoom: f64,
    /// From where the page would stand in the middle.
    pub by: Vec2,
}

impl Default for Closer {
    fn default() -> Self {
        Self { zoom: 1.0, by: Vec2::ZERO }
    }
}

impl Closer {
    /// So much larger, about the middle of the room.
    fn zoomed(self, closer: bool) -> Self {
        let factor = if closer { ZOOM_STEP } else { 1.0 / ZOOM_STEP };
        let zoom = (self.zoom * factor).clamp(1.0, MOST_ZOOM);
        if zoom <= 1.0 { Self::default() } else { Self { zoom, by: self.by * (zoom / self.zoom) } }
    }
}

/// A field while it is typed in.
#[derive(Clone, Debug, PartialEq)]
struct Typing {
    field: Field,
    text: String,
    /// Why it cannot be taken, in words.
    error: Option<String>,
}

/// Something that is being drawn aside.
#[derive(Clone, Debug, PartialEq)]
struct Drag {
    handle: Handle,
    from: Point,
    by: Vec2,
}

/// What happened in the preview.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// It is to be closed.
    ClosePressed,
    /// The next page, or the one before.
    PagePressed(bool),
    /// The detail is to be exported.
    ExportPressed,
    /// The working is to follow the pages, or no longer.
    WorkingPressed,
    /// All that was drawn aside is to go back.
    BackPressed,
    /// The paper was pressed here.
    Pressed(Point),
    /// The pointer moved here.
    Moved(Point),
    /// The button was let go.
    Released,
    /// The next thing that can be drawn aside, or the one before.
    Stepped(bool),
    /// What is held is to go so many millimetres to the right and up.
    Nudged(i32, i32),
    /// A field has another text.
    Typed(Field, String),
    /// Enter was pressed in a field.
    Entered(Field),
    /// The page is to be looked at so.
    Looked(Closer),
    /// Closer to the page, or back.
    Zoomed(bool),
    /// All of the page is to be seen.
    FitPressed,
    /// Something was picked, ticked, added or taken away: the step's name and its edit.
    Picked(String, Edit),
}

impl Pane {
    /// Opens or closes it.
    pub fn turn(&mut self) {
        self.is_open = !self.is_open;
        self.forget();
    }

    /// Whatever pages there are, they are to be set anew.
    fn forget(&mut self) {
        (self.drag, self.version, self.ready, self.drawn) = (None, None, None, None);
    }

    /// Ends the typing: what can be taken is kept, what cannot is dropped.
    #[must_use]
    pub fn settle(&mut self) -> Action {
        match self.typing.take() {
            Some(Typing { error: None, .. }) => Action::KeepPreview,
            Some(Typing { error: Some(_), .. }) => Action::DropPreview,
            None => Action::None,
        }
    }

    /// Ends the typing and drops it. Whether there was any.
    pub fn cancel(&mut self) -> bool {
        self.typing.take().is_some()
    }

    /// Closes it; whether it was open.
    pub fn close(&mut self) -> bool {
        let was_open = self.is_open;
        (self.is_open, self.drag) = (false, None);
        was_open
    }

    /// Whether it is open.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.is_open
    }

    /// The pages.
    #[must_use]
    pub fn pages(&self) -> &[Drawing] {
        &self.pages
    }

    /// The page that is shown.
    #[must_use]
    pub fn page(&self) -> Option<&Drawing> {
        self.pages.get(self.at)
    }

    /// Goes to the next page, or to the one before.
    pub fn go(&mut self, forward: bool) {
        let last = self.pages.len().saturating_sub(1);
        self.at = if forward { (self.at + 1).min(last) } else { self.at.saturating_sub(1) };
        self.drag = None;
        self.cache.clear();
        self.over.clear();
    }

    /// Sets the pages anew while it is open and the joint is another one. `version` changes with the joint.
    ///
    /// While a field is typed in they are drawn beside the window, so that no letter waits for them.
    pub fn refresh(&mut self, version: u64, look: &Look<'_>) {
        // Of a very large joint they are not drawn again for each part of what would mend its findings.
        let is_vast = is_vast(look.joint);
        let version = if is_vast { look.picture } else { version };
        if !self.is_open || self.version == Some(version) {
            return;
        }
        self.version = Some(version);
        self.owed = None;
        if self.drawn.as_ref() == Some(look.joint) {
            return;
        }
        if let Some((joint, pages)) = self.ready.take_if(|it| it.0 == *look.joint) {
            self.show(pages, Some(joint));
            return;
        }
        // The pages tell the findings: of a joint that is not judged yet there are none.
        let is_judged = look.judgement == Judgement::Done;
        let is_typing = self.typing.is_some() && !self.pages.is_empty();
        if is_judged && (is_vast || is_typing) {
            self.owed = Some(version);
            if !is_vast {
                return;
            }
        }
        let pages = if is_judged && !is_vast { self.pages_of(&look.inputs()) } else { Vec::new() };
        self.show(pages, (is_judged && !is_vast).then(|| look.joint.clone()));
    }

    /// Shows the pages of a joint.
    fn show(&mut self, pages: Vec<Drawing>, of: Option<Joint>) {
        (self.pages, self.drawn) = (pages, of);
        self.at = self.at.min(self.pages.len().saturating_sub(1));
        self.cache.clear();
        self.over.clear();
    }

    /// The pages of a joint, followed by the working where that is wanted: what is shown and exported.
    #[must_use]
    pub fn pages_of(&self, inputs: &Inputs<'_>) -> Vec<Drawing> {
        self.pages_later()(inputs)
    }

    /// The state whose pages are to be drawn beside the window, once; none while others are being drawn there.
    pub(super) fn take_owed(&mut self, joint: &Joint) -> Option<u64> {
        if self.beside.is_some() {
            return None;
        }
        let version = self.owed.take()?;
        self.beside = Some((version, (!is_vast(joint)).then(|| joint.clone())));
        Some(version)
    }

    /// Takes the pages of a state that were drawn beside the window. Those of a state that is gone are dropped, unless
    /// more is being typed: then they are newer than what is shown.
    pub(super) fn paged(&mut self, version: u64, pages: Vec<Drawing>) {
        let joint = self.beside.take().and_then(|it| it.1);
        if self.is_open && (self.version == Some(version) || (self.typing.is_some() && joint.is_some())) {
            self.show(pages, joint);
        }
    }

    /// The same, to be made beside the window.
    pub(super) fn pages_later(&self) -> impl FnOnce(&Inputs<'_>) -> Vec<Drawing> + Send + use<> {
        let with_working = self.with_working;
        move |inputs| {
            let mut pages = drawing::pages(inputs);
            if with_working {
                pages.extend(drawing::appendix(inputs));
            }
            pages
        }
    }

    /// What is asked for by what happened.
    pub fn update(&mut self, message: &Message, look: &Look<'_>) -> Action {
        match message {
            Message::ClosePressed => {
                self.close();
                Action::Again
            }
            Message::PagePressed(forward) => {
                self.go(*forward);
                Action::Again
            }
            Message::WorkingPressed => {
                self.with_working = !self.with_working;
                self.forget();
                Action::Again
            }
            Message::ExportPressed => Action::Do(Command::Export),
            Message::BackPressed => {
                let mut sheet = look.joint.sheet.clone();
                sheet.moved.clear();
                Action::Keep("Put all back on the sheet".to_owned(), Edit::Sheet(Box::new(sheet)))
            }
            Message::Pressed(at) => {
                let settled = self.settle();
                self.held = self.handle_at(*at).map(|it| it.what.clone());
                self.drag =
                    self.handle_at(*at).map(|it| Drag { handle: it.clone(), from: *at, by: Vec2::ZERO });
                self.over.clear();
                // The keys belong to what is held from here on.
                Action::All(vec![settled, Action::Leave])
            }
            Message::Moved(at) => {
                if let (Some(drag), Some(page)) = (&mut self.drag, self.pages.get(self.at)) {
                    drag.by = page.held(drag.handle.at, *at - drag.from);
                    self.over.clear();
                }
                Action::None
            }
            Message::Released => self.put(look),
            Message::Stepped(forward) => {
                self.step(*forward);
                Action::None
            }
            Message::Nudged(right, up) => match self.held.clone() {
                Some(what) => {
                    let handle = self.page().and_then(|it| it.handles.iter().find(|it| it.what == what));
                    let by = Vec2::new(f64::from(*right), -f64::from(*up));
                    let handle = handle.cloned();
                    handle.map_or(Action::None, |it| self.aside(&it, by, look))
                }
                None => Action::None,
            },
            Message::Looked(closer) => self.look_closer(*closer),
            Message::Zoomed(closer) => self.look_closer(self.closer.zoomed(*closer)),
            Message::FitPressed => self.look_closer(Closer::default()),
            Message::Typed(field, text) => self.typed(*field, text, look),
            Message::Entered(field) => self.entered(*field, look),
            Message::Picked(name, edit) => {
                Action::All(vec![self.settle(), Action::Keep(name.clone(), edit.clone())])
            }
        }
    }

    fn look_closer(&mut self, closer: Closer) -> Action {
        self.closer = closer;
        self.cache.clear();
        self.over.clear();
        Action::None
    }

    fn typed(&mut self, field: Field, text: &str, look: &Look<'_>) -> Action {
        // Typing in another field keeps what was typed in the one before.
        let before = match &self.typing {
            Some(typing) if typing.field != field => self.settle(),
            Some(_) | None => Action::None,
        };
        let (error, then) = match field.write(text, look) {
            Ok((name, edit)) => (None, Action::Preview(name, edit)),
            Err(words) => (Some(words), Action::DropPreview),
        };
        self.typing = Some(Typing { field, text: text.to_owned(), error });
        Action::All(vec![before, then])
    }

    fn entered(&mut self, field: Field, look: &Look<'_>) -> Action {
        let Some(typing) = self.typing.take_if(|it| it.field == field && it.error.is_none()) else {
            return Action::None;
        };
        field.write(&typing.text, look).map_or(Action::DropPreview, |(name, edit)| Action::Keep(name, edit))
    }

    /// Holds the next thing of the page that can be drawn aside, or the one before.
    fn step(&mut self, forward: bool) {
        let Some(page) = self.page() else { return };
        let count = page.handles.len();
        let at = page.handles.iter().position(|it| Some(&it.what) == self.held.as_ref());
        let next = match (at, forward) {
            (None, true) => 0,
            (None, false) => count.saturating_sub(1),
            (Some(at), true) => (at + 1) % count.max(1),
            (Some(at), false) => (at + count.saturating_sub(1)) % count.max(1),
        };
        self.held = page.handles.get(next).map(|it| it.what.clone());
        self.over.clear();
    }

    /// The smallest thing at a place that can be drawn aside.
    fn handle_at(&self, at: Point) -> Option<&Handle> {
        let is_near = |it: &&Handle| it.grip.inflate(REACH_MM, REACH_MM).contains(at);
        let handles = self.page()?.handles.iter().filter(is_near);
        handles.min_by(|a, b| a.grip.area().total_cmp(&b.grip.area()))
    }

    /// Keeps what was drawn aside where it is.
    fn put(&mut self, look: &Look<'_>) -> Action {
        let Some(drag) = self.drag.take() else { return Action::None };
        self.over.clear();
        if drag.by.hypot() < 0.3 {
            return Action::None;
        }
        self.aside(&drag.handle, drag.by, look)
    }

    fn aside(&mut self, handle: &Handle, by: Vec2, look: &Look<'_>) -> Action {
        let by = self.page().map_or(by, |it| it.held(handle.at, by));
        let (joint, pages) = put::aside(handle, by, self, look);
        let sheet = joint.sheet.clone();
        self.ready = pages.map(|it| (joint, it));
        Action::Keep("Move on the sheet".to_owned(), Edit::Sheet(Box::new(sheet)))
    }

    /// The preview over the window, with what was done last in words; nothing while it is closed.
    #[must_use]
    pub fn view<'a>(&'a self, said: Option<&'a str>, look: &Look<'a>) -> Element<'a, Message> {
        if !self.is_open {
            return space().into();
        }
        let colours = look.colours;
        let paper = Canvas::new(Paper { pane: self, colours }).width(Length::Fill).height(Length::Fill);
        // Words on a canvas are clipped only in layers above the first one of a clipped stack.
        let paper = stack![space().width(Length::Fill).height(Length::Fill), paper].clip(true);
        let below = row![paper, parts::upright(colours), settings::view(self, look)].height(Length::Fill);
        let bar = container(self.bar(said, look)).padding([gap::ROW, gap::PANE]);
        let ground = container(column![bar, parts::rule(colours), below])
            .width(Length::Fill)
            .height(Length::Fill)
            .style(control::surface(colours.pane));
        opaque(ground)
    }

    fn bar<'a>(&'a self, said: Option<&'a str>, look: &Look<'a>) -> Element<'a, Message> {
        let colours = look.colours;
        let press = |words: &'static str, message: Option<Message>| {
            let face = button(text(words).size(text_px::BODY).wrapping(text::Wrapping::None))
                .padding(gap::CONTROL)
                .style(control::plain_button(colours))
                .on_press_maybe(message.clone());
            theme::reach(face, message, colours.accent)
        };
        let last = self.pages.len() <= self.at + 1;
        let number = if !self.pages.is_empty() {
            format!("Sheet {} of {}", self.at + 1, self.pages.len())
        } else if look.judgement == Judgement::Done {
            "Drawing the sheet\u{2026}".to_owned()
        } else {
            format!("The joint is {}", look.judgement.word())
        };
        let has_moved = !look.joint.sheet.moved.is_empty();
        let hint = said.unwrap_or(
            "Drag marks, names, figures, lists by their headings; or Tab and arrows. Wheel: closer; drag the paper.",
        );
        row![
            text(number).size(text_px::TITLE).font(theme::BOLD).style(control::words(colours.text)),
            press("Before", (self.at != 0).then_some(Message::PagePressed(false))),
            press("Next", (!last).then_some(Message::PagePressed(true))),
            container(parts::soft(hint, colours)).width(Length::Fill).clip(true),
            press("Closer", Some(Message::Zoomed(true))),
            press("Whole page", (1.0 < self.closer.zoom).then_some(Message::FitPressed)),
            press("Put all back", has_moved.then_some(Message::BackPressed)),
            press("Export", Some(Message::ExportPressed)),
            press("Close", Some(Message::ClosePressed)),
        ]
        .spacing(gap::ROW)
        .align_y(Alignment::Center)
        .into()
    }
}
