//! What is cut where its pane ends, with all of its words.
//!
//! The software renderer cuts words by the bounds that the widget gives them. A list to pick from gives those of the whole
//! pane, which are never found to be cut, and so its words ran over what lies below. A layer of what is seen cuts them.

use iced::Renderer;
use iced::advanced::Renderer as _;
use iced::advanced::widget::tree;

use super::Element;
use super::wrap::{Around, Place, wrapped};

struct Clip;

impl<M> Around<M> for Clip {
    fn draw(
        &self,
        _state: &tree::State,
        renderer: &mut Renderer,
        place: Place,
        content: &mut dyn FnMut(&mut Renderer),
    ) {
        match place.seen {
            None => {}
            Some(seen) if seen == place.bounds => content(renderer),
            Some(seen) => renderer.with_layer(seen, content),
        }
    }
}

/// Something whose words end where its pane ends.
pub fn clipped<'a, M: 'a>(content: impl Into<Element<'a, M>>) -> Element<'a, M> {
    wrapped(content, Clip)
}

#[cfg(test)]
mod tests {
    use iced::advanced::{mouse, renderer};
    use iced::widget::{column, container, scrollable, space};
    use iced::{Color, Pixels, Size, Theme};
    use iced_test::runtime::user_interface::{Cache, UserInterface};

    use super::*;
    use crate::window::theme::{ink, parts};

    #[test]
    fn a_list_that_its_pane_cuts_leaves_what_lies_below_alone() {
        let list = clipped(parts::picker(["one"], Some("one"), |_| (), &ink::LIGHT).width(100.0));
        let pane = scrollable(column![space().height(18.0), list]).height(30.0);
        let all: Element<'_, ()> = container(pane).width(100.0).height(60.0).into();
        let mut renderer = iced_tiny_skia::Renderer::new(iced::Font::DEFAULT, Pixels(13.0));
        let mut ui = UserInterface::build(all, Size::new(100.0, 60.0), Cache::default(), &mut renderer);
        let style = renderer::Style { text_color: Color::BLACK };
        ui.draw(&mut renderer, &Theme::Light, &style, mouse::Cursor::Unavailable);
        let below = 30.0;
        let words = renderer.layers().iter().filter(|it| !it.text.is_empty());
        let lowest = words.map(|it| it.bounds.y + it.bounds.height).fold(0.0, f32::max);
        assert!(0.0 < lowest && lowest <= below, "words are cut at {lowest}");
    }
}
