//! What begins anew whenever it shows something else: a part that scrolls, from its top.

use iced::advanced::widget::tree;

use super::Element;
use super::wrap::{Around, wrapped};

struct Afresh<K> {
    what: K,
}

impl<M, K: Copy + PartialEq + 'static> Around<M> for Afresh<K> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<K>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(self.what)
    }

    fn begins_anew(&self, state: &mut tree::State) -> bool {
        let shown = state.downcast_mut::<K>();
        std::mem::replace(shown, self.what) != self.what
    }
}

/// Something whose state is given up whenever `what` is another one.
pub(super) fn afresh<'a, K: Copy + PartialEq + 'static, M: 'a>(
    what: K,
    content: impl Into<Element<'a, M>>,
) -> Element<'a, M> {
    wrapped(content, Afresh { what })
}
