//! What has the keyboard is scrolled into sight; of a field all is selected, so that what is typed takes its place.

use iced::advanced::widget::Id;
use iced::advanced::widget::operation::{Focusable, Operation, Outcome, Scrollable, TextInput};
use iced::widget::scrollable::AbsoluteOffset;
use iced::{Rectangle, Vector};

/// Kept free above and below what is scrolled to, pixels.
const ROOM_PX: f32 = 12.0;

/// A pane that scrolls.
#[derive(Clone, Copy)]
struct Pane {
    /// Its place among all that scroll.
    at: usize,
    /// What is seen of it.
    bounds: Rectangle,
    /// How far it is scrolled.
    by: Vector,
}

/// Finds what has the keyboard and the pane that it stands in, then scrolls that pane as far as it takes.
#[derive(Default)]
pub(super) struct Reveal {
    /// Panes met so far.
    count: usize,
    /// The one whose content is asked next.
    entered: Option<Pane>,
    /// The one whose content is asked now.
    inside: Option<Pane>,
    /// What is typed in is left as it is.
    is_typed: bool,
    /// The box of what has the keyboard, as it lies in its pane.
    focused: Option<Rectangle>,
    /// Which pane is to be scrolled, and how far down then.
    wanted: Option<(usize, f32)>,
}

/// Scrolls what has the keyboard into sight.
pub(in crate::window) fn reveal<T: Send + 'static>() -> iced::Task<T> {
    iced::advanced::widget::operate(Reveal::default())
}

/// Keeps what is typed in in sight, when what stands above it has become another.
pub(in crate::window) fn stay_in_sight<T: Send + 'static>() -> iced::Task<T> {
    iced::advanced::widget::operate(Reveal { is_typed: true, ..Reveal::default() })
}

/// Scrolls the pane of the thing with this name so far that it is seen in the middle.
pub(in crate::window) fn bring<T: Send + 'static>(name: &'static str) -> iced::Task<T> {
    iced::advanced::widget::operate(Bring { name: Id::new(name), panes: Reveal::default() })
}

/// Finds a thing by its name and the pane that it stands in, then scrolls that pane.
struct Bring {
    name: Id,
    panes: Reveal,
}

impl<T: 'static> Operation<T> for Bring {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation<T>)) {
        let around = self.panes.inside;
        self.panes.inside = self.panes.entered.take().or(around);
        operate(self);
        self.panes.inside = around;
    }

    fn scrollable(
        &mut self,
        id: Option<&Id>,
        bounds: Rectangle,
        content_bounds: Rectangle,
        by: Vector,
        state: &mut dyn Scrollable,
    ) {
        Operation::<T>::scrollable(&mut self.panes, id, bounds, content_bounds, by, state);
    }

    fn container(&mut self, id: Option<&Id>, bounds: Rectangle) {
        if id == Some(&self.name) {
            // The content lies as if it were not scrolled.
            self.panes.wanted = self.panes.inside.map(|pane| {
                let free = (pane.bounds.height - bounds.height).max(0.0) / 2.0;
                (pane.at, (bounds.y - pane.bounds.y - free).max(0.0))
            });
        }
    }

    fn finish(&self) -> Outcome<T> {
        match self.panes.wanted {
            Some(_) => Outcome::Chain(Box::new(Scroll {
                focused: Rectangle::default(),
                selects: false,
                wanted: self.panes.wanted,
                count: 0,
            })),
            None => Outcome::None,
        }
    }
}

impl<T: 'static> Operation<T> for Reveal {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation<T>)) {
        let around = self.inside;
        self.inside = self.entered.take().or(around);
        operate(self);
        self.inside = around;
    }

    fn scrollable(
        &mut self,
        _id: Option<&Id>,
        bounds: Rectangle,
        _content_bounds: Rectangle,
        by: Vector,
        _state: &mut dyn Scrollable,
    ) {
        self.entered = Some(Pane { at: self.count, bounds, by });
        self.count += 1;
    }

    fn focusable(&mut self, _id: Option<&Id>, bounds: Rectangle, state: &mut dyn Focusable) {
        if !state.is_focused() {
            return;
        }
        self.focused = Some(bounds);
        // The content lies as if it were not scrolled.
        self.wanted = self.inside.and_then(|pane| {
            let (top, low) = (bounds.y - pane.bounds.y, bounds.y + bounds.height - pane.bounds.y);
            let to = if top - ROOM_PX < pane.by.y {
                top - ROOM_PX
            } else if pane.by.y + pane.bounds.height < low + ROOM_PX {
                low + ROOM_PX - pane.bounds.height
            } else {
                return None;
            };
            Some((pane.at, to.max(0.0)))
        });
    }

    fn finish(&self) -> Outcome<T> {
        match self.focused {
            Some(focused) if self.wanted.is_some() || !self.is_typed => {
                let selects = !self.is_typed;
                Outcome::Chain(Box::new(Scroll { focused, selects, wanted: self.wanted, count: 0 }))
            }
            Some(_) | None => Outcome::None,
        }
    }
}

/// Whether something has the keyboard.
pub(in crate::window) fn has_keyboard() -> iced::Task<bool> {
    iced::advanced::widget::operate(Asks(false))
}

/// Asks all whether they have the keyboard.
struct Asks(bool);

impl Operation<bool> for Asks {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation<bool>)) {
        operate(self);
    }

    fn focusable(&mut self, _id: Option<&Id>, _bounds: Rectangle, state: &mut dyn Focusable) {
        self.0 |= state.is_focused();
    }

    fn finish(&self) -> Outcome<bool> {
        Outcome::Some(self.0)
    }
}

/// Selects what stands in a field, and scrolls one pane.
struct Scroll {
    focused: Rectangle,
    selects: bool,
    wanted: Option<(usize, f32)>,
    count: usize,
}

impl<T> Operation<T> for Scroll {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation<T>)) {
        operate(self);
    }

    fn scrollable(
        &mut self,
        _id: Option<&Id>,
        _bounds: Rectangle,
        _content_bounds: Rectangle,
        _translation: Vector,
        state: &mut dyn Scrollable,
    ) {
        if let Some((at, to)) = self.wanted
            && self.count == at
        {
            state.scroll_to(AbsoluteOffset { x: None, y: Some(to) });
        }
        self.count += 1;
    }

    fn text_input(&mut self, _id: Option<&Id>, bounds: Rectangle, state: &mut dyn TextInput) {
        if self.selects && bounds == self.focused {
            state.select_all();
        }
    }
}

#[cfg(test)]
mod tests {
    use iced::advanced::widget::operation::focusable;
    use iced::widget::{column, container, row, scrollable, space, text};
    use iced::{Color, Pixels, Renderer, Size};
    use iced_test::runtime::user_interface::{Cache, UserInterface};

    use super::*;
    use crate::window::theme::{Element, reach};

    type Ui<'a> = UserInterface<'a, (), iced::Theme, Renderer>;

    fn asked(ui: &mut Ui<'_>, renderer: &Renderer, operation: Box<dyn Operation>) {
        let mut operation = operation;
        loop {
            ui.operate(renderer, operation.as_mut());
            let Outcome::Chain(next) = operation.finish() else { break };
            operation = next;
        }
    }

    /// How far each pane is scrolled.
    #[derive(Default)]
    struct Scrolled(Vec<f32>);

    impl Operation for Scrolled {
        fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation)) {
            operate(self);
        }

        fn scrollable(
            &mut self,
            _id: Option<&Id>,
            _bounds: Rectangle,
            _content_bounds: Rectangle,
            by: Vector,
            _state: &mut dyn Scrollable,
        ) {
            self.0.push(by.y);
        }
    }

    fn scrolled(ui: &mut Ui<'_>, renderer: &Renderer) -> Vec<f32> {
        let mut all = Scrolled::default();
        ui.operate(renderer, &mut all);
        all.0
    }

    #[test]
    fn the_pane_of_what_has_the_keyboard_is_scrolled_to_it_and_no_other() {
        let mut renderer = iced_tiny_skia::Renderer::new(iced::Font::DEFAULT, Pixels(13.0));
        let press = || reach(container(text("press")).height(20.0), Some(()), Color::BLACK);
        let pane = |high: f32| scrollable(column![press(), space().height(high), press()]).height(100.0);
        let all: Element<'_, ()> = row![pane(10.0), pane(500.0)].into();
        let mut ui = UserInterface::build(all, Size::new(300.0, 100.0), Cache::default(), &mut renderer);
        let on = |ui: &mut Ui<'_>| {
            asked(ui, &renderer, Box::new(focusable::focus_next()));
            asked(ui, &renderer, Box::new(Reveal::default()));
            scrolled(ui, &renderer)
        };
        assert_eq!(on(&mut ui), [0.0, 0.0]);
        assert_eq!(on(&mut ui), [0.0, 0.0], "all of the first pane is seen");
        assert_eq!(on(&mut ui), [0.0, 0.0]);
        // 540 high, of which 100 are seen.
        assert_eq!(on(&mut ui), [0.0, 440.0], "its end is as far as it goes");
        // After the last one nothing has the keyboard, then the first one again.
        assert_eq!(on(&mut ui), [0.0, 440.0]);
        assert_eq!(on(&mut ui), [0.0, 440.0], "the other pane stays as it was");
        assert_eq!(on(&mut ui), [0.0, 440.0]);
        assert_eq!(on(&mut ui), [0.0, 0.0], "and back at the beginning");
    }
}
