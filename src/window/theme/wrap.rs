//! One wrapper round something of the window: it passes everything through but what it is there for.

use std::sync::atomic::{AtomicI32, AtomicU8, Ordering};

use iced::advanced::layout::{self, Layout};
use iced::advanced::widget::Id;
use iced::advanced::widget::operation::{Operation, Scrollable, TextInput};
use iced::advanced::widget::tree::{self, Tree};
use iced::advanced::{Clipboard, Renderer as _, Shell, Widget, mouse, overlay, renderer};
use iced::{Event, Length, Rectangle, Renderer, Size, Theme, Vector, keyboard};

use super::Element;
use super::parts::OPTION_PX;

/// Where something is painted.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// All of it.
    pub bounds: Rectangle,
    /// What of it is seen.
    pub seen: Option<Rectangle>,
}

/// What becomes of an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Before {
    /// The content hears of it.
    Pass,
    /// It was meant for the wrapper.
    Taken,
    /// It was meant for the wrapper, and the list that is the content opens.
    Opens,
    /// It was meant for the wrapper, and the opened list that is the content closes.
    Closes,
}

/// What a wrapper does besides passing through.
pub trait Around<M> {
    /// The kind of state that it keeps.
    fn tag(&self) -> tree::Tag {
        tree::Tag::stateless()
    }

    /// The state that it begins with.
    fn state(&self) -> tree::State {
        tree::State::None
    }

    /// Whether the content is another one than before, so that it begins with a new state.
    fn begins_anew(&self, _state: &mut tree::State) -> bool {
        false
    }

    /// Whether the content is neither painted nor reached.
    fn is_covered(&self) -> bool {
        false
    }

    /// Whether what the content lays over the window, as an opened list, is cut where its box ends.
    fn cuts_overlay(&self) -> bool {
        false
    }

    /// Whether the keyboard does not come to the content, which is painted all the same.
    fn is_behind(&self) -> bool {
        false
    }

    /// What becomes of an event before the content hears of it; `is_open` tells whether the content has something
    /// laid over the window, as an opened list has.
    fn before(
        &self,
        _state: &mut tree::State,
        _event: &Event,
        _is_open: &mut dyn FnMut() -> bool,
        _shell: &mut Shell<'_, M>,
    ) -> Before {
        Before::Pass
    }

    /// Its own part in what is asked of all widgets, before the content's.
    fn operate(&self, _state: &mut tree::State, _bounds: Rectangle, _operation: &mut dyn Operation) {}

    /// What it does at an event, after the content.
    fn update(&self, _state: &mut tree::State, _event: &Event, _shell: &mut Shell<'_, M>) {}

    /// Paints, and lets the content paint itself.
    fn draw(
        &self,
        _state: &tree::State,
        renderer: &mut Renderer,
        _place: Place,
        content: &mut dyn FnMut(&mut Renderer),
    ) {
        content(renderer);
    }
}

struct Wrapped<'a, M, A> {
    content: Element<'a, M>,
    around: A,
}

/// Something with a wrapper round it.
pub fn wrapped<'a, M: 'a>(content: impl Into<Element<'a, M>>, around: impl Around<M> + 'a) -> Element<'a, M> {
    Element::new(Wrapped { content: content.into(), around })
}

/// Asks all widgets something, but none whether it has the keyboard or is to have it.
struct OutOfReach<'a>(&'a mut dyn Operation);

impl Operation for OutOfReach<'_> {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation)) {
        self.0.traverse(&mut |inner| operate(&mut OutOfReach(inner)));
    }

    fn container(&mut self, id: Option<&Id>, bounds: Rectangle) {
        self.0.container(id, bounds);
    }

    fn scrollable(
        &mut self,
        id: Option<&Id>,
        bounds: Rectangle,
        content_bounds: Rectangle,
        translation: Vector,
        state: &mut dyn Scrollable,
    ) {
        self.0.scrollable(id, bounds, content_bounds, translation, state);
    }

    fn text_input(&mut self, id: Option<&Id>, bounds: Rectangle, state: &mut dyn TextInput) {
        self.0.text_input(id, bounds, state);
    }

    fn text(&mut self, id: Option<&Id>, bounds: Rectangle, text: &str) {
        self.0.text(id, bounds, text);
    }

    fn custom(&mut self, id: Option<&Id>, bounds: Rectangle, state: &mut dyn std::any::Any) {
        self.0.custom(id, bounds, state);
    }
}

/// Frames in which an opened list was painted, round and round.
static FRAME: AtomicU8 = AtomicU8::new(0);
/// The bounds of the layer of an opened list differ by this at least from frame to frame, in pixels: less than is seen.
const STEP_PX: f32 = 1.0 / 4096.0;
/// So far round an opened list the window is painted anew with it: parts of its options may stand there.
const AROUND_PX: f32 = OPTION_PX + 1.0;
/// A notch of the wheel scrolls an opened list by so many options.
const OPTIONS_A_NOTCH: f32 = 2.0;
/// What the wheel of a touchpad was turned by, short of a whole option, in thousandths of a pixel.
static TURNED: AtomicI32 = AtomicI32::new(0);

/// The wheel as a turn by whole options: the renderer would paint all of an option that is seen in part.
fn by_options(delta: mouse::ScrollDelta) -> mouse::ScrollDelta {
    let y = match delta {
        mouse::ScrollDelta::Lines { y, .. } => (y * OPTIONS_A_NOTCH).round() * OPTION_PX,
        mouse::ScrollDelta::Pixels { y, .. } => {
            #[expect(clippy::cast_precision_loss, reason = "less than an option")]
            let all = y + TURNED.load(Ordering::Relaxed) as f32 / 1000.0;
            let whole = (all / OPTION_PX).trunc() * OPTION_PX;
            #[expect(clippy::cast_possible_truncation, reason = "less than an option")]
            TURNED.store(((all - whole) * 1000.0) as i32, Ordering::Relaxed);
            whole
        }
    };
    mouse::ScrollDelta::Pixels { x: 0.0, y }
}

/// Something laid over the window that is painted inside its box alone: words of an opened list that are seen in part
/// would otherwise run over what stands beside it.
struct Cut<'a, M>(overlay::Element<'a, M, Theme, Renderer>);

impl<M> overlay::Overlay<M, Theme, Renderer> for Cut<'_, M> {
    fn layout(&mut self, renderer: &Renderer, bounds: Size) -> layout::Node {
        self.0.as_overlay_mut().layout(renderer, bounds)
    }

    fn draw(
        &self,
        renderer: &mut Renderer,
        theme: &Theme,
        style: &renderer::Style,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
    ) {
        // Where an option is seen in part, the renderer paints all of its words. A layer that has other bounds than in
        // the frame before is painted whole, with all that lies below: so none of them stay there.
        let step = f32::from(FRAME.fetch_add(1, Ordering::Relaxed)) * STEP_PX;
        let around = layout.bounds().expand(AROUND_PX + step);
        renderer.with_layer(around, |renderer| {
            // The software renderer cuts no words whose pane is as large as the layer.
            renderer.with_layer(layout.bounds().shrink(0.1), |renderer| {
                self.0.as_overlay().draw(renderer, theme, style, layout, cursor);
            });
        });
    }

    fn operate(&mut self, layout: Layout<'_>, renderer: &Renderer, operation: &mut dyn Operation) {
        self.0.as_overlay_mut().operate(layout, renderer, operation);
    }

    fn update(
        &mut self,
        event: &Event,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        renderer: &Renderer,
        clipboard: &mut dyn Clipboard,
        shell: &mut Shell<'_, M>,
    ) {
        let list = self.0.as_overlay_mut();
        if let Event::Mouse(mouse::Event::WheelScrolled { delta }) = event {
            let whole = Event::Mouse(mouse::Event::WheelScrolled { delta: by_options(*delta) });
            return list.update(&whole, layout, cursor, renderer, clipboard, shell);
        }
        list.update(event, layout, cursor, renderer, clipboard, shell);
    }

    fn mouse_interaction(
        &self,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        renderer: &Renderer,
    ) -> mouse::Interaction {
        self.0.as_overlay().mouse_interaction(layout, cursor, renderer)
    }

    fn overlay<'a>(
        &'a mut self,
        layout: Layout<'a>,
        renderer: &Renderer,
    ) -> Option<overlay::Element<'a, M, Theme, Renderer>> {
        self.0.as_overlay_mut().overlay(layout, renderer)
    }
}

impl<M, A: Around<M>> Widget<M, Theme, Renderer> for Wrapped<'_, M, A> {
    fn tag(&self) -> tree::Tag {
        self.around.tag()
    }

    fn state(&self) -> tree::State {
        self.around.state()
    }

    fn children(&self) -> Vec<Tree> {
        vec![Tree::new(&self.content)]
    }

    fn diff(&self, tree: &mut Tree) {
        if self.around.begins_anew(&mut tree.state) {
            tree.children.clear();
        }
        tree.diff_children(std::slice::from_ref(&self.content));
    }

    fn size(&self) -> Size<Length> {
        self.content.as_widget().size()
    }

    fn layout(&mut self, tree: &mut Tree, renderer: &Renderer, limits: &layout::Limits) -> layout::Node {
        self.content.as_widget_mut().layout(&mut tree.children[0], renderer, limits)
    }

    fn operate(
        &mut self,
        tree: &mut Tree,
        layout: Layout<'_>,
        renderer: &Renderer,
        operation: &mut dyn Operation,
    ) {
        if !self.around.is_covered() {
            self.around.operate(&mut tree.state, layout.bounds(), operation);
            let content = self.content.as_widget_mut();
            if self.around.is_behind() {
                content.operate(&mut tree.children[0], layout, renderer, &mut OutOfReach(operation));
            } else {
                content.operate(&mut tree.children[0], layout, renderer, operation);
            }
        }
    }

    #[allow(clippy::too_many_arguments, reason = "the toolkit asks for them")]
    fn update(
        &mut self,
        tree: &mut Tree,
        event: &Event,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        renderer: &Renderer,
        clipboard: &mut dyn Clipboard,
        shell: &mut Shell<'_, M>,
        viewport: &Rectangle,
    ) {
        // Whoever is not told that a key such as Ctrl was let go would go on as if it were held.
        let is_held = matches!(event, Event::Keyboard(keyboard::Event::ModifiersChanged(_)));
        let is_key = !is_held && matches!(event, Event::Keyboard(_) | Event::InputMethod(_));
        let is_press = matches!(event, Event::Mouse(_) | Event::Touch(_));
        let (is_covered, is_behind) = (self.around.is_covered(), self.around.is_behind());
        if (is_covered && (is_key || is_press)) || (is_behind && is_key) {
            return;
        }
        let child = &mut tree.children[0];
        let content = self.content.as_widget_mut();
        let mut is_open = || content.overlay(child, layout, renderer, viewport, Vector::ZERO).is_some();
        // The toolkit's list opens at a press on it, closes at one beside it, and does neither in another way.
        let press = match self.around.before(&mut tree.state, event, &mut is_open, shell) {
            Before::Pass => None,
            Before::Taken => return,
            Before::Opens => Some(mouse::Cursor::Available(layout.bounds().center())),
            Before::Closes => Some(mouse::Cursor::Unavailable),
        };
        if let Some(cursor) = press {
            let event = Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left));
            return content.update(child, &event, layout, cursor, renderer, clipboard, shell, viewport);
        }
        content.update(child, event, layout, cursor, renderer, clipboard, shell, viewport);
        self.around.update(&mut tree.state, event, shell);
    }

    fn draw(
        &self,
        tree: &Tree,
        renderer: &mut Renderer,
        theme: &Theme,
        style: &renderer::Style,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
    ) {
        if self.around.is_covered() {
            return;
        }
        let content = self.content.as_widget();
        let mut paint = |renderer: &mut Renderer| {
            content.draw(&tree.children[0], renderer, theme, style, layout, cursor, viewport);
        };
        let bounds = layout.bounds();
        let place = Place { bounds, seen: bounds.intersection(viewport) };
        self.around.draw(&tree.state, renderer, place, &mut paint);
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
        renderer: &Renderer,
    ) -> mouse::Interaction {
        if self.around.is_covered() {
            return mouse::Interaction::None;
        }
        self.content.as_widget().mouse_interaction(&tree.children[0], layout, cursor, viewport, renderer)
    }

    fn overlay<'a>(
        &'a mut self,
        tree: &'a mut Tree,
        layout: Layout<'a>,
        renderer: &Renderer,
        viewport: &Rectangle,
        translation: Vector,
    ) -> Option<overlay::Element<'a, M, Theme, Renderer>> {
        if self.around.is_covered() {
            return None;
        }
        let child = &mut tree.children[0];
        let over = self.content.as_widget_mut().overlay(child, layout, renderer, viewport, translation)?;
        Some(if self.around.cuts_overlay() { overlay::Element::new(Box::new(Cut(over))) } else { over })
    }
}
