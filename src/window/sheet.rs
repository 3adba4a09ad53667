//! The sheet as it will be printed, page by page, over the window. Its paper is white in both themes.
//!
//! Marks, tags, names and figures are drawn aside with the mouse; they stay where they were put.

use iced::widget::canvas::{self, Cache, Canvas, Geometry};
use iced::widget::{button, column, container, opaque, row, space, text};
use iced::{Alignment, Color, Event, Length, Rectangle, Renderer, Theme, Vector, mouse};
use kurbo::{Point, Rect, Vec2};

use super::canvas::camera::PX_PER_MM;
use super::canvas::pen;
use super::look::{Action, Command, Look};
use super::theme::ink::LIGHT;
use super::theme::{self, Colours, Element, control, gap, parts, text_px};
use crate::drawing::{self, Drawing, Handle, Inputs};
use crate::joint::{Edit, Moved};

/// The colours of a sheet: those by day, on white paper.
const ON_PAPER: Colours = Colours { canvas: Color::WHITE, ..LIGHT };

/// The grab zone round a thing, in millimetres of paper.
const REACH_MM: f64 = 1.2;

/// Clear ground round the paper, in pixels.
const ROUND_PX: f64 = 18.0;

/// What the preview remembers.
#[derive(Debug, Default)]
pub struct Pane {
    is_open: bool,
    /// Whether the working of what is carried follows the pages.
    with_working: bool,
    version: Option<u64>,
    pages: Vec<Drawing>,
    at: usize,
    drag: Option<Drag>,
    /// What the arrow keys move.
    held: Option<String>,
    cache: Cache,
    over: Cache,
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
}

impl Pane {
    /// Opens or closes it.
    pub fn turn(&mut self) {
        self.is_open = !self.is_open;
        (self.drag, self.version) = (None, None);
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
    pub fn refresh(&mut self, version: u64, look: &Look<'_>) {
        if !self.is_open || self.version == Some(version) {
            return;
        }
        self.version = Some(version);
        self.pages = self.pages_of(&look.inputs());
        self.at = self.at.min(self.pages.len().saturating_sub(1));
        self.cache.clear();
        self.over.clear();
    }

    /// The pages of a joint, followed by the working where that is wanted: what is shown and exported.
    #[must_use]
    pub fn pages_of(&self, inputs: &Inputs<'_>) -> Vec<Drawing> {
        let mut pages = drawing::pages(inputs);
        if self.with_working {
            pages.extend(drawing::appendix(inputs));
        }
        pages
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
                (self.drag, self.version) = (None, None);
                Action::Again
            }
            Message::ExportPressed => Action::Do(Command::Export),
            Message::BackPressed => {
                let mut sheet = look.joint.sheet.clone();
                sheet.moved.clear();
                Action::Keep("Put all back on the sheet".to_owned(), Edit::Sheet(Box::new(sheet)))
            }
            Message::Pressed(at) => {
                self.held = self.handle_at(*at).map(|it| it.what.clone());
                self.drag =
                    self.handle_at(*at).map(|it| Drag { handle: it.clone(), from: *at, by: Vec2::ZERO });
                self.over.clear();
                Action::None
            }
            Message::Moved(at) => {
                if let Some(drag) = &mut self.drag {
                    drag.by = *at - drag.from;
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
                Some(what) => keep(&what, Vec2::new(f64::from(*right), -f64::from(*up)), look),
                None => Action::None,
            },
        }
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
        let handles = self.page()?.handles.iter().filter(|it| it.at.inflate(REACH_MM, REACH_MM).contains(at));
        handles.min_by(|a, b| a.at.area().total_cmp(&b.at.area()))
    }

    /// Keeps what was drawn aside where it is.
    fn put(&mut self, look: &Look<'_>) -> Action {
        let Some(drag) = self.drag.take() else { return Action::None };
        self.over.clear();
        if drag.by.hypot() < 0.3 {
            return Action::None;
        }
        keep(&drag.handle.what, drag.by, look)
    }

    /// The preview over the window; nothing while it is closed.
    #[must_use]
    pub fn view<'a>(&'a self, look: &Look<'a>) -> Element<'a, Message> {
        if !self.is_open {
            return space().into();
        }
        let colours = look.colours;
        let press = |words: &'static str, message: Option<Message>| {
            button(text(words).size(text_px::BODY).wrapping(text::Wrapping::None))
                .padding(gap::CONTROL)
                .style(control::plain_button(colours))
                .on_press_maybe(message)
        };
        let last = self.at + 1 == self.pages.len();
        let number = format!("Sheet {} of {}", self.at + 1, self.pages.len());
        let has_moved = !look.joint.sheet.moved.is_empty();
        let bar = row![
            text(number).size(text_px::TITLE).font(theme::BOLD).style(control::words(colours.text)),
            press("Before", (self.at != 0).then_some(Message::PagePressed(false))),
            press("Next", (!last).then_some(Message::PagePressed(true))),
            parts::soft(
                "Drag marks, names and figures, or Tab and arrows; they stay where you put them.",
                colours
            ),
            space().width(Length::Fill),
            press(
                if self.with_working { "Without working" } else { "With working" },
                Some(Message::WorkingPressed)
            ),
            press("Put all back", has_moved.then_some(Message::BackPressed)),
            press("Export", Some(Message::ExportPressed)),
            press("Close", Some(Message::ClosePressed)),
        ]
        .spacing(gap::ROW)
        .align_y(Alignment::Center);
        let paper = Canvas::new(Paper { pane: self, colours }).width(Length::Fill).height(Length::Fill);
        let all = column![container(bar).padding([gap::ROW, gap::PANE]), parts::rule(colours), paper];
        let ground =
            container(all).width(Length::Fill).height(Length::Fill).style(control::surface(colours.pane));
        opaque(ground)
    }
}

/// Moves a thing by so much more and keeps it there.
fn keep(what: &str, by: Vec2, look: &Look<'_>) -> Action {
    let mut sheet = look.joint.sheet.clone();
    match sheet.moved.iter_mut().find(|it| it.what == what) {
        Some(it) => it.by_mm = (it.by_mm.0 + by.x, it.by_mm.1 + by.y),
        None => sheet.moved.push(Moved { what: what.to_owned(), by_mm: (by.x, by.y) }),
    }
    Action::Keep("Move on the sheet".to_owned(), Edit::Sheet(Box::new(sheet)))
}

/// The page, as large as the window lets it be.
struct Paper<'a> {
    pane: &'a Pane,
    colours: &'static Colours,
}

/// How a page lies on the screen.
#[derive(Clone, Copy)]
struct Fit {
    scale: f64,
    origin: Point,
}

impl Fit {
    fn of(size_mm: (f64, f64), bounds: Rectangle) -> Self {
        let room = (f64::from(bounds.width) - 2.0 * ROUND_PX, f64::from(bounds.height) - 2.0 * ROUND_PX);
        let (width, height) = (size_mm.0 * PX_PER_MM, size_mm.1 * PX_PER_MM);
        let scale = (room.0 / width).min(room.1 / height).max(0.05);
        let left = (f64::from(bounds.width) - width * scale) / 2.0;
        let top = (f64::from(bounds.height) - height * scale) / 2.0;
        Self { scale, origin: Point::new(left, top) }
    }

    /// The place on the paper.
    fn paper(&self, at: iced::Point) -> Point {
        let at = Point::new(f64::from(at.x), f64::from(at.y));
        ((at - self.origin) / (self.scale * PX_PER_MM)).to_point()
    }

    /// A box of the paper on the screen.
    fn screen(&self, at: Rect) -> Rectangle {
        let per_mm = self.scale * PX_PER_MM;
        let corner = self.origin + at.origin().to_vec2() * per_mm;
        Rectangle {
            x: pen::short(corner.x),
            y: pen::short(corner.y),
            width: pen::short(at.width() * per_mm),
            height: pen::short(at.height() * per_mm),
        }
    }
}

impl canvas::Program<Message> for Paper<'_> {
    type State = ();

    fn update(
        &self,
        _state: &mut (),
        event: &Event,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> Option<canvas::Action<Message>> {
        let page = self.pane.page()?;
        let fit = Fit::of(page.size_mm, bounds);
        let Event::Mouse(event) = event else { return None };
        let message = match event {
            mouse::Event::ButtonPressed(mouse::Button::Left) => {
                Message::Pressed(fit.paper(cursor.position_in(bounds)?))
            }
            mouse::Event::CursorMoved { .. } if self.pane.drag.is_some() => {
                let at = cursor.position()?;
                Message::Moved(fit.paper(iced::Point::new(at.x - bounds.x, at.y - bounds.y)))
            }
            mouse::Event::ButtonReleased(mouse::Button::Left) if self.pane.drag.is_some() => {
                Message::Released
            }
            mouse::Event::CursorEntered
            | mouse::Event::CursorLeft
            | mouse::Event::CursorMoved { .. }
            | mouse::Event::ButtonPressed(_)
            | mouse::Event::ButtonReleased(_)
            | mouse::Event::WheelScrolled { .. } => return None,
        };
        Some(canvas::Action::publish(message).and_capture())
    }

    fn draw(
        &self,
        _state: &(),
        renderer: &Renderer,
        _theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<Geometry> {
        let Some(page) = self.pane.page() else { return Vec::new() };
        let fit = Fit::of(page.size_mm, bounds);
        let whole = Rect::new(0.0, 0.0, page.size_mm.0, page.size_mm.1);
        let painted = self.pane.cache.draw(renderer, bounds.size(), |frame| {
            let paper = fit.screen(whole);
            frame.fill_rectangle(paper.position(), paper.size(), Color::WHITE);
            let edge = canvas::Stroke::default().with_color(self.colours.edge).with_width(1.0);
            frame.stroke_rectangle(paper.position(), paper.size(), edge);
            frame.translate(Vector::new(pen::short(fit.origin.x), pen::short(fit.origin.y)));
            frame.scale(pen::short(fit.scale));
            let size_px = (page.size_mm.0 * PX_PER_MM, page.size_mm.1 * PX_PER_MM);
            pen::paint(
                frame,
                &page.items,
                &pen::Lay { origin_px: Point::ORIGIN, size_px },
                pen::Words::All,
                &ON_PAPER,
            );
        });
        let over = self.pane.over.draw(renderer, bounds.size(), |frame| {
            let held = page.handles.iter().find(|it| Some(&it.what) == self.pane.held.as_ref());
            let place = match (&self.pane.drag, held) {
                (Some(drag), _) => Some(drag.handle.at + drag.by),
                (None, held) => held.map(|it| it.at),
            };
            if let Some(place) = place {
                let at = fit.screen(place.inflate(0.6, 0.6));
                let line = canvas::Stroke::default().with_color(LIGHT.accent).with_width(2.0);
                frame.stroke_rectangle(at.position(), at.size(), line);
            }
        });
        vec![painted, over]
    }

    fn mouse_interaction(&self, _state: &(), bounds: Rectangle, cursor: mouse::Cursor) -> mouse::Interaction {
        if self.pane.drag.is_some() {
            return mouse::Interaction::Grabbing;
        }
        let (Some(page), Some(at)) = (self.pane.page(), cursor.position_in(bounds)) else {
            return mouse::Interaction::None;
        };
        match self.pane.handle_at(Fit::of(page.size_mm, bounds).paper(at)) {
            Some(_) => mouse::Interaction::Grab,
            None => mouse::Interaction::None,
        }
    }
}
