//! The page itself: painted as large as its room, and pressed, dragged and let go.

use iced::widget::canvas::{self, Geometry};
use iced::{Color, Event, Rectangle, Renderer, Theme, Vector, mouse};
use kurbo::{Point, Rect};

use super::{Message, Pane};
use crate::window::canvas::camera::PX_PER_MM;
use crate::window::canvas::pen;
use crate::window::theme::Colours;
use crate::window::theme::ink::LIGHT;

/// The colours of a sheet: those by day, on white paper.
const ON_PAPER: Colours = Colours { canvas: Color::WHITE, ..LIGHT };

/// Clear ground round the paper, in pixels.
const ROUND_PX: f64 = 18.0;

/// The page, as large as the window lets it be.
pub(super) struct Paper<'a> {
    pub(super) pane: &'a Pane,
    pub(super) colours: &'static Colours,
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
            let lay = pen::Lay { origin_px: Point::ORIGIN, size_px };
            pen::paint(frame, &page.items, &lay, pen::Words::All, &ON_PAPER);
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
