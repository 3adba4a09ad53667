//! One wrapper round something of the window: it passes everything through but what it is there for.

use iced::advanced::layout::{self, Layout};
use iced::advanced::widget::Operation;
use iced::advanced::widget::tree::{self, Tree};
use iced::advanced::{Clipboard, Shell, Widget, mouse, overlay, renderer};
use iced::{Event, Length, Rectangle, Renderer, Size, Theme, Vector};

use super::Element;

/// Where something is painted.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// All of it.
    pub bounds: Rectangle,
    /// What of it is seen.
    pub seen: Option<Rectangle>,
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

    /// Whether the content is neither painted nor reached.
    fn is_covered(&self) -> bool {
        false
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
            self.content.as_widget_mut().operate(&mut tree.children[0], layout, renderer, operation);
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
        let is_input =
            matches!(event, Event::Keyboard(_) | Event::Mouse(_) | Event::Touch(_) | Event::InputMethod(_));
        if self.around.is_covered() && is_input {
            return;
        }
        let child = &mut tree.children[0];
        let content = self.content.as_widget_mut();
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
        self.content.as_widget_mut().overlay(child, layout, renderer, viewport, translation)
    }
}
