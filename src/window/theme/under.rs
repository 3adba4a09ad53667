//! What lies under something that covers all of it: neither painted nor reached, but kept as it is.
//!
//! Without this the keyboard would go from the panel above to controls that nobody sees.

use iced::advanced::layout::{self, Layout};
use iced::advanced::widget::{Operation, Tree};
use iced::advanced::{Clipboard, Shell, Widget, mouse, overlay, renderer};
use iced::{Event, Length, Rectangle, Renderer, Size, Theme, Vector};

use super::Element;

struct Under<'a, M> {
    content: Element<'a, M>,
    is_covered: bool,
}

/// Something that is out of reach and of sight while it is covered.
pub fn under<'a, M: 'a>(content: impl Into<Element<'a, M>>, is_covered: bool) -> Element<'a, M> {
    Element::new(Under { content: content.into(), is_covered })
}

impl<M> Widget<M, Theme, Renderer> for Under<'_, M> {
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
        if !self.is_covered {
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
        if self.is_covered && is_input {
            return;
        }
        let child = &mut tree.children[0];
        let content = self.content.as_widget_mut();
        content.update(child, event, layout, cursor, renderer, clipboard, shell, viewport);
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
        if !self.is_covered {
            let content = self.content.as_widget();
            content.draw(&tree.children[0], renderer, theme, style, layout, cursor, viewport);
        }
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
        renderer: &Renderer,
    ) -> mouse::Interaction {
        if self.is_covered {
            return mouse::Interaction::None;
        }
        let child = &tree.children[0];
        self.content.as_widget().mouse_interaction(child, layout, cursor, viewport, renderer)
    }

    fn overlay<'a>(
        &'a mut self,
        tree: &'a mut Tree,
        layout: Layout<'a>,
        renderer: &Renderer,
        viewport: &Rectangle,
        translation: Vector,
    ) -> Option<overlay::Element<'a, M, Theme, Renderer>> {
        if self.is_covered {
            return None;
        }
        let child = &mut tree.children[0];
        self.content.as_widget_mut().overlay(child, layout, renderer, viewport, translation)
    }
}
