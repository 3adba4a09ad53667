//! Dimensions that the user placed. They hold on to what is drawn, so that they follow it.

use kurbo::Point;

use super::Look;

/// A dimension that the user placed in a view.
#[derive(Clone, Debug, PartialEq)]
pub struct Dimension {
    /// The view that it stands in: across and upward are meant in its plane.
    pub look: Look,
    /// Where it is measured from.
    pub from: Anchor,
    /// Where it is measured to.
    pub to: Anchor,
    /// Which distance between the two is told.
    pub measures: Measures,
    /// How far the dimension line lies off, to the left of the way from `from` to `to`; of a level one up,
    /// of an upright one to the left.
    pub offset_mm: f64,
}

/// What a dimension holds on to.
///
/// What holds on to a thing that is not there any more is not drawn; it comes back with the thing.
#[derive(Clone, Debug, PartialEq)]
pub enum Anchor {
    /// A place on an edge of a member's outline or cut-out, or of a connector's plate.
    Edge {
        /// The member's or connector's id.
        of: String,
        /// Of a member 0 for its outline and n for its cut-out n, counted from one; of a connector its plate,
        /// counted from zero.
        part: usize,
        /// Which loop of that.
        ring: usize,
        /// Which edge of the loop.
        edge: usize,
        /// How far along the edge: 0 is the corner where it begins, 0.5 its middle.
        share: f64,
        /// How far from the far to the near end of the depth: 0 is the far end. The front does not see it.
        deep: f64,
    },
    /// The middle of the box around such a part: the centre of a round hole.
    Centre {
        /// The member's or connector's id.
        of: String,
        /// As for an edge.
        part: usize,
    },
    /// The head of a fastener.
    Head(String),
    /// The point of a fastener.
    Tip(String),
    /// A hole of a connector.
    Hole {
        /// The connector's id.
        connector: String,
        /// The hole's id.
        hole: String,
    },
    /// A place in the plane of the view, which follows nothing.
    Place(Point),
}

/// Which distance a dimension tells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Measures {
    /// Straight from one to the other.
    #[default]
    Straight,
    /// Across only.
    Level,
    /// In height only.
    Upright,
}

impl Anchor {
    /// The id of the thing that it holds on to; `None` for a bare place.
    #[must_use]
    pub fn id(&self) -> Option<&str> {
        match self {
            Self::Edge { of, .. } | Self::Centre { of, .. } => Some(of),
            Self::Head(id) | Self::Tip(id) => Some(id),
            Self::Hole { connector, .. } => Some(connector),
            Self::Place(_) => None,
        }
    }

    /// The same on the thing with another id.
    #[must_use]
    pub fn on(&self, id: &str) -> Self {
        let mut new = self.clone();
        match &mut new {
            Self::Edge { of, .. } | Self::Centre { of, .. } => id.clone_into(of),
            Self::Head(of) | Self::Tip(of) => id.clone_into(of),
            Self::Hole { connector, .. } => id.clone_into(connector),
            Self::Place(_) => {}
        }
        new
    }
}
