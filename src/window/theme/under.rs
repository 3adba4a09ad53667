//! What lies under something that covers all of it: neither painted nor reached, but kept as it is.
//!
//! Without this the keyboard would go from the panel above to controls that nobody sees.

use super::Element;
use super::wrap::{Around, wrapped};

struct Under {
    is_covered: bool,
}

struct Behind {
    is_behind: bool,
}

impl<M> Around<M> for Under {
    fn is_covered(&self) -> bool {
        self.is_covered
    }
}

impl<M> Around<M> for Behind {
    fn is_behind(&self) -> bool {
        self.is_behind
    }
}

/// Something that the keyboard does not come to while a panel lies over it; it is seen all the same.
pub fn behind<'a, M: 'a>(content: impl Into<Element<'a, M>>, is_behind: bool) -> Element<'a, M> {
    wrapped(content, Behind { is_behind })
}

/// Something that is out of reach and of sight while it is covered.
pub fn under<'a, M: 'a>(content: impl Into<Element<'a, M>>, is_covered: bool) -> Element<'a, M> {
    wrapped(content, Under { is_covered })
}
