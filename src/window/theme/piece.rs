//! Parts of the window that are painted in one piece.
//!
//! The software renderer compares a frame with the one before, thing by thing, and paints the window anew once for every
//! box in which something differs. Where most things differ at once, fifty small boxes cost more than
//! fifty times the whole. A layer that has other bounds than before is painted whole, once.

use iced::advanced::Renderer as _;
use iced::advanced::widget::tree;
use iced::{Rectangle, Renderer};

use super::Element;
use super::wrap::{Around, Place, wrapped};

/// So many states have bounds of their own.
const STATES: u64 = 251;
/// The bounds of two states differ by this at least, in pixels: far less than anything that is seen.
const STEP_PX: f32 = 1.0 / 4096.0;

struct Piece {
    nudge_px: f32,
}

/// Something that is painted in one piece whenever `state` is another number.
pub fn piece<'a, M: 'a>(content: impl Into<Element<'a, M>>, state: u64) -> Element<'a, M> {
    let step = u16::try_from(state % STATES).unwrap_or_default();
    wrapped(content, Piece { nudge_px: f32::from(step) * STEP_PX })
}

impl<M> Around<M> for Piece {
    fn draw(
        &self,
        _state: &tree::State,
        renderer: &mut Renderer,
        place: Place,
        content: &mut dyn FnMut(&mut Renderer),
    ) {
        let Some(seen) = place.seen else { return };
        let bounds = Rectangle { width: seen.width + self.nudge_px, ..seen };
        renderer.with_layer(bounds, content);
    }
}
