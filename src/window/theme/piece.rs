//! Parts of the window that are painted in one piece.
//!
//! The software renderer compares a frame with the one before, thing by thing, and paints the window anew once for every
//! box in which something differs. Where most things differ at once, fifty small boxes cost more than
//! fifty times the whole. A layer that has other bounds than before is painted whole, once.

use iced::advanced::layout::{self, Layout};
use iced::advanced::widget::{Operation, Tree};
use iced::advanced::{Clipboard, Renderer as _, Shell, Widget, mouse, overlay, renderer};
use iced::{Event, Length, Rectangle, Renderer, Size, Theme, Vector};

use super::Element;

/// So many states have bounds of their own.
const STATES: u64 = 251;
/// The bounds of two states differ by this at least, in pixels: far less than anything that is seen.
const STEP_PX: f32 = 1.0 / 4096.0;

struct Piece<'a, M> {
    content: Element<'a, M>,
    nudge_px: f32,
}

/// Something that is painted in one piece whenever `state` is another number.
pub fn piece<'a, M: 'a>(content: impl Into<Element<'a, M>>, state: u64) -> Element<'a, M> {
    let step = u16::try_from(state % STATES).unwrap_or_default();
    Element::new(Piece { content: content.into(), nudge_px: f32::from(step) * STEP_PX })
}

impl<M> Widget<M, Theme, Renderer> for Piece<'_, M> {
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
        self.content.as_widget_mut().operate(&mut tree.children[0], layout, renderer, operation);
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
        let Some(seen) = layout.bounds().intersection(viewport) else { return };
        let bounds = Rectangle { width: seen.width + self.nudge_px, ..seen };
        renderer.with_layer(bounds, |renderer| {
            let content = self.content.as_widget();
            content.draw(&tree.children[0], renderer, theme, style, layout, cursor, viewport);
        });
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
        renderer: &Renderer,
    ) -> mouse::Interaction {
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
        let child = &mut tree.children[0];
        self.content.as_widget_mut().overlay(child, layout, renderer, viewport, translation)
    }
}
