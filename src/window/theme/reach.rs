//! What can be pressed by the keyboard too: Tab comes to it, a ring shows where it is, Enter or Space presses it.
//!
//! The toolkit's own buttons cannot be reached by Tab; this wraps one, or anything else.

use iced::advanced::widget::operation::{Focusable, Operation};
use iced::advanced::widget::tree;
use iced::advanced::{Renderer as _, Shell, renderer};
use iced::keyboard::key::{Key, Named};
use iced::{Background, Color, Event, Rectangle, Renderer, border, keyboard};

use super::Element;
use super::wrap::{Around, Place, wrapped};

/// Width of the ring in pixels.
const RING_PX: f32 = 2.0;

/// Something that can be reached by Tab.
struct Reach<M> {
    pressed: M,
    ring: Color,
}

/// Whether it has the keyboard.
#[derive(Default)]
pub(super) struct Focus {
    focused: bool,
}

impl Focus {
    /// A press of the pointer takes the keyboard away.
    pub(super) fn let_go<M>(&mut self, shell: &mut Shell<'_, M>) {
        if self.focused {
            self.focused = false;
            shell.request_redraw();
        }
    }
}

impl Focusable for Focus {
    fn is_focused(&self) -> bool {
        self.focused
    }

    fn focus(&mut self) {
        self.focused = true;
    }

    fn unfocus(&mut self) {
        self.focused = false;
    }
}

/// Wraps something that can be pressed, so that the keyboard comes to it; as it is where there is nothing to press.
pub fn reach<'a, M: Clone + 'a>(
    content: impl Into<Element<'a, M>>,
    pressed: Option<M>,
    ring: Color,
) -> Element<'a, M> {
    let content = content.into();
    match pressed {
        Some(pressed) => wrapped(content, Reach { pressed, ring }),
        None => content,
    }
}

impl<M: Clone> Around<M> for Reach<M> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<Focus>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(Focus::default())
    }

    fn operate(&self, state: &mut tree::State, bounds: Rectangle, operation: &mut dyn Operation) {
        operation.focusable(None, bounds, state.downcast_mut::<Focus>());
    }

    fn update(&self, state: &mut tree::State, event: &Event, shell: &mut Shell<'_, M>) {
        let state = state.downcast_mut::<Focus>();
        if let Event::Mouse(iced::mouse::Event::ButtonPressed(_)) = event {
            state.let_go(shell);
            return;
        }
        let Event::Keyboard(keyboard::Event::KeyPressed { key, .. }) = event else { return };
        let presses = matches!(key, Key::Named(Named::Enter | Named::Space));
        if state.focused && presses && !shell.is_event_captured() {
            shell.publish(self.pressed.clone());
            shell.capture_event();
        }
    }

    fn draw(
        &self,
        state: &tree::State,
        renderer: &mut Renderer,
        place: Place,
        content: &mut dyn FnMut(&mut Renderer),
    ) {
        content(renderer);
        if state.downcast_ref::<Focus>().focused {
            ring(renderer, place.bounds, self.ring);
        }
    }
}

/// Paints the ring round what has the keyboard.
pub(super) fn ring(renderer: &mut Renderer, bounds: Rectangle, colour: Color) {
    let quad = renderer::Quad {
        bounds,
        border: border::rounded(4.0).color(colour).width(RING_PX),
        ..renderer::Quad::default()
    };
    renderer.fill_quad(quad, Background::Color(Color::TRANSPARENT));
}

#[cfg(test)]
mod tests {
    use iced::advanced::mouse;
    use iced::advanced::widget::operation::{Outcome, focusable};
    use iced::widget::{button, column, text};
    use iced::{Size, Theme};
    use iced_test::core::clipboard;
    use iced_test::runtime::user_interface::{Cache, UserInterface};

    use super::*;

    const RING: Color = Color::from_rgb(0.2, 0.4, 0.6);

    fn two<'a>() -> Element<'a, &'static str> {
        let one = |words| reach(button(text(words)).on_press(words), Some(words), RING);
        column![one("first"), one("second")].into()
    }

    /// The boxes of the rings that are painted.
    fn rings(
        ui: &mut UserInterface<'_, &'static str, Theme, Renderer>,
        renderer: &mut Renderer,
    ) -> Vec<Rectangle> {
        let style = renderer::Style { text_color: Color::BLACK };
        ui.draw(renderer, &Theme::Light, &style, mouse::Cursor::Unavailable);
        let quads = renderer.layers().iter().flat_map(|it| &it.quads);
        quads.filter(|it| it.0.border.color == RING).map(|it| it.0.bounds).collect()
    }

    fn on_to_the_next(ui: &mut UserInterface<'_, &'static str, Theme, Renderer>, renderer: &Renderer) {
        let mut operation: Box<dyn Operation> = Box::new(focusable::focus_next());
        loop {
            ui.operate(renderer, operation.as_mut());
            match operation.finish() {
                Outcome::Chain(next) => operation = next,
                Outcome::None | Outcome::Some(()) => break,
            }
        }
    }

    fn press(
        ui: &mut UserInterface<'_, &'static str, Theme, Renderer>,
        renderer: &mut Renderer,
    ) -> Vec<&'static str> {
        let key = Key::Named(Named::Enter);
        let pressed = Event::Keyboard(keyboard::Event::KeyPressed {
            modified_key: key.clone(),
            key,
            physical_key: keyboard::key::Physical::Code(keyboard::key::Code::Enter),
            location: keyboard::Location::Standard,
            modifiers: keyboard::Modifiers::empty(),
            text: None,
            repeat: false,
        });
        let mut messages = Vec::new();
        let cursor = mouse::Cursor::Unavailable;
        let _ = ui.update(&[pressed], cursor, renderer, &mut clipboard::Null, &mut messages);
        messages
    }

    #[test]
    fn the_keyboard_comes_to_a_button_a_ring_shows_it_and_enter_presses_it() {
        let mut renderer = iced_tiny_skia::Renderer::new(iced::Font::DEFAULT, iced::Pixels(13.0));
        let mut ui = UserInterface::build(two(), Size::new(300.0, 200.0), Cache::default(), &mut renderer);
        assert!(rings(&mut ui, &mut renderer).is_empty());
        assert!(press(&mut ui, &mut renderer).is_empty(), "nothing has the keyboard");
        on_to_the_next(&mut ui, &renderer);
        let first = rings(&mut ui, &mut renderer);
        assert_eq!(press(&mut ui, &mut renderer), ["first"]);
        on_to_the_next(&mut ui, &renderer);
        let second = rings(&mut ui, &mut renderer);
        assert_eq!((first.len(), second.len()), (1, 1));
        assert!(first[0].y < second[0].y, "the ring goes on to the button below");
        assert_eq!(press(&mut ui, &mut renderer), ["second"]);
        // A press of the pointer takes it away again.
        let pressed = Event::Mouse(iced::mouse::Event::ButtonPressed(iced::mouse::Button::Left));
        let mut messages = Vec::new();
        let cursor = mouse::Cursor::Unavailable;
        let _ = ui.update(&[pressed], cursor, &mut renderer, &mut clipboard::Null, &mut messages);
        assert!(rings(&mut ui, &mut renderer).is_empty());
    }
}
