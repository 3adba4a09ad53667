//! What every list to pick from has round it: it is cut where its pane ends, and the keyboard comes to it.
//!
//! The software renderer cuts words by the bounds that the widget gives them. A list to pick from gives those of the whole
//! pane, which are never found to be cut, and so its words ran over what lies below. A layer of what is seen cuts them.
//!
//! The toolkit's list hears no keys. With the keyboard on it Up and Down pick the option before and after, Home and End
//! the first and the last, Enter and Space open it. While it is open no key goes on to the window.

use std::sync::atomic::{AtomicBool, Ordering};

use iced::advanced::widget::operation::{Focusable as _, Operation};
use iced::advanced::widget::tree;
use iced::advanced::{Renderer as _, Shell, renderer};
use iced::keyboard::key::{Key, Named};
use iced::{Background, Color, Event, Rectangle, Renderer, keyboard};

use super::Element;
use super::reach::{Focus, ring};
use super::wrap::{Around, Before, Place, wrapped};

/// Escape has closed a list, and means nothing else.
static ESCAPED: AtomicBool = AtomicBool::new(false);

/// Whether the Escape that was taken last closed a list; asked once for each Escape that was taken.
pub fn escape_closed_a_list() -> bool {
    ESCAPED.swap(false, Ordering::Relaxed)
}

/// What the keyboard can pick.
pub(super) struct Options<'a, M> {
    /// So many options.
    pub count: usize,
    /// The one that is picked.
    pub now: Option<usize>,
    /// What picking one of them asks for.
    pub pick: Box<dyn Fn(usize) -> Option<M> + 'a>,
    /// What the list shows, as a number that is another one for other words.
    pub seal: u64,
    /// The colour of the ring that shows where the keyboard is.
    pub ring: Color,
}

#[derive(Default)]
struct State {
    focus: Focus,
    /// Picked last by a key, for a list that shows no option as picked.
    last: Option<usize>,
}

impl<M> Options<'_, M> {
    /// The option that a key picks.
    fn by_key(&self, key: Named, last: Option<usize>) -> Option<usize> {
        let end = self.count.checked_sub(1)?;
        let now = self.now.or(last);
        #[expect(clippy::wildcard_enum_match_arm, reason = "all other keys pick nothing")]
        match key {
            Named::ArrowDown => Some(now.map_or(0, |it| (it + 1).min(end))),
            Named::ArrowUp => Some(now.map_or(end, |it| it.saturating_sub(1))),
            Named::Home => Some(0),
            Named::End => Some(end),
            _ => None,
        }
    }
}

impl<M> Around<M> for Options<'_, M> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<State>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(State::default())
    }

    fn cuts_overlay(&self) -> bool {
        true
    }

    fn operate(&self, state: &mut tree::State, bounds: Rectangle, operation: &mut dyn Operation) {
        operation.focusable(None, bounds, &mut state.downcast_mut::<State>().focus);
    }

    fn before(
        &self,
        state: &mut tree::State,
        event: &Event,
        is_open: &mut dyn FnMut() -> bool,
        shell: &mut Shell<'_, M>,
    ) -> Before {
        let state = state.downcast_mut::<State>();
        if let Event::Mouse(iced::mouse::Event::ButtonPressed(_)) = event {
            state.focus.let_go(shell);
            return Before::Pass;
        }
        let Event::Keyboard(keyboard::Event::KeyPressed { key, .. }) = event else { return Before::Pass };
        if shell.is_event_captured() {
            return Before::Pass;
        }
        let is_open = is_open();
        let named = if let Key::Named(it) = key { Some(*it) } else { None };
        let picked = named.and_then(|it| self.by_key(it, state.last));
        if !is_open && !state.focus.is_focused() {
            return Before::Pass;
        }
        if let Some(at) = picked {
            // A list that was opened by the mouse has the keyboard from here on, so that the next key is its too.
            state.focus.focus();
            state.last = Some(at);
            if self.now != Some(at)
                && let Some(message) = (self.pick)(at)
            {
                shell.publish(message);
            }
            shell.capture_event();
            shell.request_redraw();
            return if is_open { Before::Closes } else { Before::Taken };
        }
        let asks = matches!(named, Some(Named::Enter | Named::Space));
        let closes = asks || matches!(named, Some(Named::Escape | Named::Tab));
        if is_open {
            ESCAPED.store(named == Some(Named::Escape), Ordering::Relaxed);
            shell.capture_event();
            shell.request_redraw();
            return if closes { Before::Closes } else { Before::Taken };
        }
        if asks && 0 < self.count {
            shell.capture_event();
            shell.request_redraw();
            return Before::Opens;
        }
        Before::Pass
    }

    fn draw(
        &self,
        state: &tree::State,
        renderer: &mut Renderer,
        place: Place,
        content: &mut dyn FnMut(&mut Renderer),
    ) {
        let is_focused = state.downcast_ref::<State>().focus.is_focused();
        let mut all = |renderer: &mut Renderer| {
            // The renderer takes the box of words that stand in the middle of a line for half a line lower, and would
            // leave the upper half of the words before: a ground that nobody sees, but differs, has all painted anew.
            renderer.fill_quad(
                renderer::Quad { bounds: place.bounds, ..renderer::Quad::default() },
                Background::Color(unseen(self.seal)),
            );
            content(renderer);
            if is_focused {
                ring(renderer, place.bounds, self.ring);
            }
        };
        match place.seen {
            None => {}
            Some(seen) if seen == place.bounds => all(renderer),
            Some(seen) => renderer.with_layer(seen, all),
        }
    }
}

/// A colour that is not seen, another one for another number.
fn unseen(seal: u64) -> Color {
    let part = |at: u32| f32::from(u8::try_from(seal >> at & 0xff).unwrap_or(0)) / 255.0;
    Color { r: part(0), g: part(8), b: part(16), a: 0.0 }
}

/// A list whose words end where its pane ends, and which the keyboard comes to.
pub(super) fn picking<'a, M: 'a>(list: impl Into<Element<'a, M>>, options: Options<'a, M>) -> Element<'a, M> {
    wrapped(list, options)
}

#[cfg(test)]
mod tests {
    use iced::advanced::mouse;
    use iced::keyboard::Modifiers;
    use iced::widget::{column, container, scrollable, space};
    use iced::{Pixels, Point, Size, Theme};
    use iced_test::core::{clipboard, event};
    use iced_test::runtime::user_interface::{Cache, UserInterface};

    use super::*;
    use crate::window::theme::{ink, parts};

    type Ui<'a> = UserInterface<'a, &'static str, Theme, Renderer>;

    fn tiny() -> Renderer {
        iced_tiny_skia::Renderer::new(iced::Font::DEFAULT, Pixels(13.0))
    }

    #[test]
    fn a_list_that_its_pane_cuts_leaves_what_lies_below_alone() {
        let list = parts::picker(["one"], Some("one"), |_| (), |it| it.width(100.0), &ink::LIGHT);
        let pane = scrollable(column![space().height(18.0), list]).height(30.0);
        let all: Element<'_, ()> = container(pane).width(100.0).height(60.0).into();
        let mut renderer = tiny();
        let mut ui = UserInterface::build(all, Size::new(100.0, 60.0), Cache::default(), &mut renderer);
        let style = renderer::Style { text_color: Color::BLACK };
        ui.draw(&mut renderer, &Theme::Light, &style, mouse::Cursor::Unavailable);
        let below = 30.0;
        let words = renderer.layers().iter().filter(|it| !it.text.is_empty());
        let lowest = words.map(|it| it.bounds.y + it.bounds.height).fold(0.0, f32::max);
        assert!(0.0 < lowest && lowest <= below, "words are cut at {lowest}");
    }

    /// Where words in the middle of a line change, the whole list is painted anew, and not the lower half of it.
    #[test]
    fn another_option_is_painted_over_all_of_the_one_before() {
        let renderer = &mut tiny();
        let mut painted = |now| {
            let mut ui = built(Some(now), renderer);
            let style = renderer::Style { text_color: Color::BLACK };
            ui.draw(renderer, &Theme::Light, &style, mouse::Cursor::Unavailable);
            renderer.layers().to_vec()
        };
        let (before, after) = (painted("a"), painted("b"));
        let damage: Vec<Rectangle> =
            before.iter().zip(&after).flat_map(|it| iced_tiny_skia::Layer::damage(it.0, it.1)).collect();
        // The list is some 27 pixels high and stands at the top.
        let has_all = |it: &Rectangle| it.y <= 1.0 && 25.0 < it.y + it.height && 90.0 < it.width;
        assert!(damage.iter().any(has_all), "{damage:?}");
    }

    fn of_three(now: Option<&'static str>) -> Element<'static, &'static str> {
        let list = parts::picker(["a", "b", "c"], now, |it| it, |it| it.width(100.0), &ink::LIGHT);
        container(list).width(100.0).height(200.0).into()
    }

    fn built(now: Option<&'static str>, renderer: &mut Renderer) -> Ui<'static> {
        UserInterface::build(of_three(now), Size::new(100.0, 200.0), Cache::default(), renderer)
    }

    /// What a key asks for, and whether it went on to the window.
    fn press(ui: &mut Ui<'_>, key: Key, renderer: &mut Renderer) -> (Vec<&'static str>, bool) {
        let pressed = Event::Keyboard(keyboard::Event::KeyPressed {
            modified_key: key.clone(),
            key,
            physical_key: keyboard::key::Physical::Code(keyboard::key::Code::Abort),
            location: keyboard::Location::Standard,
            modifiers: Modifiers::empty(),
            text: None,
            repeat: false,
        });
        let mut messages = Vec::new();
        let cursor = mouse::Cursor::Unavailable;
        let (_, status) = ui.update(&[pressed], cursor, renderer, &mut clipboard::Null, &mut messages);
        (messages, status == [event::Status::Ignored])
    }

    fn click(ui: &mut Ui<'_>, renderer: &mut Renderer) {
        let at = mouse::Cursor::Available(Point::new(50.0, 10.0));
        let down = Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left));
        let _ = ui.update(&[down], at, renderer, &mut clipboard::Null, &mut Vec::new());
    }

    fn tab(ui: &mut Ui<'_>, renderer: &Renderer) {
        use iced::advanced::widget::operation::{Outcome, focusable};
        let mut operation: Box<dyn Operation> = Box::new(focusable::focus_next());
        loop {
            ui.operate(renderer, operation.as_mut());
            let Outcome::Chain(next) = operation.finish() else { break };
            operation = next;
        }
    }

    /// A list is scrolled by whole options, for the renderer paints all of one that is seen in part; and where it stood
    /// all is painted anew.
    #[test]
    fn an_open_list_shows_whole_options_however_it_is_scrolled() {
        let renderer = &mut tiny();
        let all: Vec<String> = (0..40).map(|it| format!("option {it}")).collect();
        let list = parts::picker(all, None, |_| "", |it| it.width(100.0), &ink::LIGHT);
        let all: Element<'_, &'static str> = container(list).width(100.0).height(400.0).into();
        let mut ui: Ui<'_> = UserInterface::build(all, Size::new(100.0, 400.0), Cache::default(), renderer);
        click(&mut ui, renderer);
        let over = mouse::Cursor::Available(Point::new(40.0, 150.0));
        let mut painted: Vec<iced_tiny_skia::Layer> = Vec::new();
        let (lines, pixels) =
            (|y| mouse::ScrollDelta::Lines { x: 0.0, y }, |y| mouse::ScrollDelta::Pixels { x: 0.0, y });
        for delta in
            [lines(-1.0), lines(-1.0), pixels(-11.0), pixels(-20.0), lines(1.0), pixels(7.0), lines(-90.0)]
        {
            let wheel = Event::Mouse(mouse::Event::WheelScrolled { delta });
            let _ = ui.update(&[wheel], over, renderer, &mut clipboard::Null, &mut Vec::new());
            let style = renderer::Style { text_color: Color::BLACK };
            ui.draw(renderer, &Theme::Light, &style, over);
            let layers = renderer.layers().to_vec();
            let top = 27.0;
            let items = layers.iter().flat_map(|it| &it.text);
            let seen = items.flat_map(|it| {
                let by = it.transformation();
                it.as_slice().iter().filter_map(move |it| it.visible_bounds().map(|seen| seen * by))
            });
            let middles: Vec<f32> = seen.map(|it| it.y).filter(|it| top < *it).collect();
            assert_eq!(middles.len(), 10, "{delta:?} {middles:?}");
            for middle in middles {
                let part = ((middle - top) / parts::OPTION_PX - 0.5).abs().fract();
                assert!((part - 0.5).abs() > 0.499, "{delta:?}: an option is seen in part at {middle}");
            }
            let damage: Vec<Rectangle> = painted
                .iter()
                .zip(&layers)
                .flat_map(|it| iced_tiny_skia::Layer::damage(it.0, it.1))
                .collect();
            let has_all = |it: &Rectangle| it.y <= 0.0 && 310.0 < it.y + it.height && 90.0 < it.width;
            assert!(painted.is_empty() || damage.iter().any(has_all), "{damage:?}");
            painted = layers;
        }
    }

    #[test]
    fn with_the_keyboard_on_it_keys_pick_and_nothing_else_hears_them() {
        let renderer = &mut tiny();
        let mut ui = built(Some("b"), renderer);
        let down = Key::Named(Named::ArrowDown);
        assert_eq!(press(&mut ui, down.clone(), renderer), (vec![], true), "it has no keyboard");
        tab(&mut ui, renderer);
        assert_eq!(press(&mut ui, down, renderer), (vec!["c"], false));
        assert_eq!(press(&mut ui, Key::Named(Named::ArrowUp), renderer), (vec!["a"], false));
        assert_eq!(press(&mut ui, Key::Named(Named::Home), renderer), (vec!["a"], false));
        assert_eq!(press(&mut ui, Key::Named(Named::End), renderer), (vec!["c"], false));
        let other = Key::Character("x".into());
        assert_eq!(press(&mut ui, other, renderer), (vec![], true), "other keys go on");
        click(&mut ui, renderer);
        let _ = press(&mut ui, Key::Named(Named::Escape), renderer);
        assert_eq!(
            press(&mut ui, Key::Named(Named::ArrowUp), renderer),
            (vec![], true),
            "the mouse took it away"
        );
    }

    #[test]
    fn a_list_that_shows_no_option_is_walked_through() {
        let renderer = &mut tiny();
        let mut ui = built(None, renderer);
        tab(&mut ui, renderer);
        let down = || Key::Named(Named::ArrowDown);
        assert_eq!(press(&mut ui, down(), renderer), (vec!["a"], false));
        assert_eq!(press(&mut ui, down(), renderer), (vec!["b"], false));
        assert_eq!(press(&mut ui, Key::Named(Named::ArrowUp), renderer), (vec!["a"], false));
    }

    #[test]
    fn an_open_list_lets_no_key_through_and_escape_closes_it() {
        let renderer = &mut tiny();
        let mut ui = built(Some("b"), renderer);
        let escape = || Key::Named(Named::Escape);
        assert_eq!(press(&mut ui, escape(), renderer), (vec![], true));
        click(&mut ui, renderer);
        assert_eq!(press(&mut ui, Key::Character("b".into()), renderer), (vec![], false));
        assert_eq!(press(&mut ui, escape(), renderer), (vec![], false));
        assert!(escape_closed_a_list());
        assert_eq!(press(&mut ui, escape(), renderer), (vec![], true), "it is closed");
        click(&mut ui, renderer);
        assert_eq!(press(&mut ui, Key::Named(Named::ArrowDown), renderer), (vec!["c"], false));
        assert_eq!(
            press(&mut ui, Key::Named(Named::ArrowUp), renderer),
            (vec!["a"], false),
            "it has the keyboard"
        );
        // Enter opens it, and closes it.
        let enter = || Key::Named(Named::Enter);
        assert_eq!(press(&mut ui, enter(), renderer), (vec![], false));
        assert_eq!(press(&mut ui, Key::Character("b".into()), renderer), (vec![], false), "it is open");
        assert_eq!(press(&mut ui, enter(), renderer), (vec![], false));
        assert_eq!(press(&mut ui, Key::Character("b".into()), renderer), (vec![], true), "it is closed");
    }
}
