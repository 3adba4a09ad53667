//! The page itself: painted as large as its room, and pressed, dragged and let go.

use iced::widget::canvas::{self, Geometry};
use iced::{Color, Event, Rectangle, Renderer, Theme, Vector, mouse};
use kurbo::{Point, Rect};

use super::{Closer, Message, Pane};
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

/// What the pointer is doing.
#[derive(Default)]
pub(super) struct Hand {
    /// The paper is shifted: from where, and how far it was then.
    shifting: Option<(iced::Point, kurbo::Vec2)>,
}

/// How a page lies on the screen.
#[derive(Clone, Copy)]
struct Fit {
    scale: f64,
    origin: Point,
    /// The middle of the room.
    middle: Point,
}

impl Fit {
    fn of(size_mm: (f64, f64), bounds: Rectangle, closer: Closer) -> Self {
        let room = (f64::from(bounds.width) - 2.0 * ROUND_PX, f64::from(bounds.height) - 2.0 * ROUND_PX);
        let (width, height) = (size_mm.0 * PX_PER_MM, size_mm.1 * PX_PER_MM);
        let scale = (room.0 / width).min(room.1 / height).max(0.05) * closer.zoom;
        let left = (f64::from(bounds.width) - width * scale) / 2.0;
        let top = (f64::from(bounds.height) - height * scale) / 2.0;
        let middle = Point::new(f64::from(bounds.width) / 2.0, f64::from(bounds.height) / 2.0);
        Self { scale, origin: Point::new(left, top) + closer.by, middle }
    }

    /// A closer look, or one from farther off, by which the place of the paper under the pointer stays there.
    fn closer(&self, now: Closer, pointer: iced::Point, is_closer: bool) -> Closer {
        let next = now.zoomed(is_closer);
        if next.zoom <= 1.0 {
            return next;
        }
        let pointer = Point::new(f64::from(pointer.x), f64::from(pointer.y));
        // Where the page would stand without a shift, before and after.
        let middle = self.origin - now.by;
        let half = self.middle - middle;
        let factor = next.zoom / now.zoom;
        let origin = self.middle - half * factor;
        let by = (pointer - origin) - (pointer - self.origin) * factor;
        Closer { by, ..next }
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
    type State = Hand;

    fn update(
        &self,
        state: &mut Hand,
        event: &Event,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> Option<canvas::Action<Message>> {
        let page = self.pane.page()?;
        let closer = self.pane.closer;
        let fit = Fit::of(page.size_mm, bounds, closer);
        let Event::Mouse(event) = event else { return None };
        let message = match event {
            mouse::Event::ButtonPressed(button @ (mouse::Button::Left | mouse::Button::Middle)) => {
                let at = cursor.position_in(bounds)?;
                let is_free = self.pane.handle_at(fit.paper(at)).is_none();
                if 1.0 < closer.zoom && (is_free || *button == mouse::Button::Middle) {
                    state.shifting = Some((at, closer.by));
                }
                if *button == mouse::Button::Middle {
                    return Some(canvas::Action::capture());
                }
                Message::Pressed(fit.paper(at))
            }
            mouse::Event::CursorMoved { .. } if state.shifting.is_some() => {
                let (from, by) = state.shifting?;
                let at = cursor.position()?;
                let moved = iced::Point::new(at.x - bounds.x, at.y - bounds.y) - from;
                let by = by + kurbo::Vec2::new(f64::from(moved.x), f64::from(moved.y));
                Message::Looked(Closer { by, ..closer })
            }
            mouse::Event::ButtonReleased(_) if state.shifting.is_some() => {
                state.shifting = None;
                return Some(canvas::Action::capture());
            }
            mouse::Event::WheelScrolled { delta } => {
                let (mouse::ScrollDelta::Lines { y, .. } | mouse::ScrollDelta::Pixels { y, .. }) = *delta;
                let at = cursor.position_in(bounds).filter(|_| y != 0.0)?;
                Message::Looked(fit.closer(closer, at, 0.0 < y))
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
            | mouse::Event::ButtonReleased(_) => return None,
        };
        Some(canvas::Action::publish(message).and_capture())
    }

    fn draw(
        &self,
        _state: &Hand,
        renderer: &Renderer,
        _theme: &Theme,
        bounds: Rectangle,
        _cursor: mouse::Cursor,
    ) -> Vec<Geometry> {
        let Some(page) = self.pane.page() else { return Vec::new() };
        let fit = Fit::of(page.size_mm, bounds, self.pane.closer);
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

    fn mouse_interaction(
        &self,
        state: &Hand,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> mouse::Interaction {
        if self.pane.drag.is_some() || state.shifting.is_some() {
            return mouse::Interaction::Grabbing;
        }
        let (Some(page), Some(at)) = (self.pane.page(), cursor.position_in(bounds)) else {
            return mouse::Interaction::None;
        };
        match self.pane.handle_at(Fit::of(page.size_mm, bounds, self.pane.closer).paper(at)) {
            Some(_) => mouse::Interaction::Grab,
            None => mouse::Interaction::None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_place_under_the_pointer_stays_there_and_all_the_way_back_is_the_whole_page() {
        let bounds = Rectangle { x: 0.0, y: 0.0, width: 940.0, height: 740.0 };
        let size = (297.0, 210.0);
        let pointer = iced::Point::new(200.0, 500.0);
        let mut closer = Closer::default();
        let place = Fit::of(size, bounds, closer).paper(pointer);
        for is_closer in [true, true, true, false, true] {
            closer = Fit::of(size, bounds, closer).closer(closer, pointer, is_closer);
            let now = Fit::of(size, bounds, closer).paper(pointer);
            assert!((now - place).hypot() < 1e-6, "{now:?} {place:?}");
        }
        for _ in 0..5 {
            closer = Fit::of(size, bounds, closer).closer(closer, pointer, false);
        }
        assert_eq!(closer, Closer::default());
    }
}
