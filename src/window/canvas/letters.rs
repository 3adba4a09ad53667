//! Words over a canvas, each clipped to its own box.
//!
//! Words that a canvas paints itself have no box that the software renderer knows of: for each line it makes the mask
//! of the whole pane anew, and paints it also where nobody sees it. With a box of its own a line that lies inside
//! the pane needs no mask, and one outside costs nothing.

use std::borrow::Cow;

use iced::advanced::text::{LineHeight, Renderer as _, Shaping, Text, Wrapping};
use iced::advanced::widget::tree;
use iced::{Rectangle, Renderer, Size, Vector, alignment};
use kurbo::Point;

use super::pen::{LINE_HEIGHT, Lettering, lettering, short};
use crate::drawing::Item;
use crate::window::theme::wrap::{Around, Place, wrapped};
use crate::window::theme::{Colours, Element};

/// The widest letter of the bundled fonts, as a part of the font size, with something to spare.
const WIDEST: f32 = 0.95;

/// Room that no line fills. It is not infinite: the renderer would make a place of it that is like no other, not even
/// itself, and paint the line again in every frame.
const FAR_PX: f32 = 10_000.0;

/// The words of a canvas.
struct Letters<'a> {
    items: Cow<'a, [Item]>,
    origin_px: Point,
    colours: &'static Colours,
}

/// A canvas with the level words of `items`, which its own pen leaves out. `origin_px` is where the origin of the paper
/// lies in it.
pub fn on<'a, M: 'a>(
    canvas: impl Into<Element<'a, M>>,
    items: impl Into<Cow<'a, [Item]>>,
    origin_px: Point,
    colours: &'static Colours,
) -> Element<'a, M> {
    wrapped(canvas, Letters { items: items.into(), origin_px, colours })
}

impl Letters<'_> {
    fn paint(&self, line: &Lettering<'_>, origin: Vector, seen: &Rectangle, renderer: &mut Renderer) {
        let size = short(line.size_px);
        let at = line.top(self.origin_px);
        let at = iced::Point::new(at.x + origin.x, at.y + origin.y);
        let clip_bounds = boxed(line, at, size);
        if !clip_bounds.intersects(seen) {
            return;
        }
        let text = Text {
            content: line.words.to_owned(),
            bounds: Size::new(FAR_PX, FAR_PX),
            size: size.into(),
            line_height: LineHeight::Relative(LINE_HEIGHT),
            font: line.font(),
            align_x: line.align(),
            align_y: alignment::Vertical::Top,
            shaping: Shaping::Advanced,
            wrapping: Wrapping::None,
        };
        renderer.fill_text(text, at, line.colour, clip_bounds);
    }
}

/// The box that a line takes up at most.
fn boxed(line: &Lettering<'_>, at: iced::Point, size: f32) -> Rectangle {
    use crate::drawing::Anchor;
    let letters = u16::try_from(line.words.chars().count()).unwrap_or(u16::MAX);
    let width = (f32::from(letters) * WIDEST + 0.5) * size;
    let left = match line.anchor {
        Anchor::Start => at.x - 0.5 * size,
        Anchor::Middle => at.x - width / 2.0,
        Anchor::End => at.x - width + 0.5 * size,
    };
    Rectangle { x: left, y: at.y - 0.25 * size, width, height: 1.75 * size }
}

impl<M> Around<M> for Letters<'_> {
    fn draw(
        &self,
        _state: &tree::State,
        renderer: &mut Renderer,
        place: Place,
        content: &mut dyn FnMut(&mut Renderer),
    ) {
        content(renderer);
        let Some(seen) = place.seen else { return };
        let origin = Vector::new(place.bounds.x, place.bounds.y);
        for line in self.items.iter().filter_map(|it| lettering(it, self.colours)) {
            if line.turn_deg == 0.0 {
                self.paint(&line, origin, &seen, renderer);
            }
        }
    }
}
