//! Dimensions that the user placed, as a joint file has them.

use kurbo::Point;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::measure::{Coordinate, Share};
use super::types::is_default;
use super::words::Look;
use crate::joint;

/// A dimension in a view. It follows what it holds on to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Dimension {
    /// The view that it stands in; the front where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) look: Option<Look>,
    /// Where it is measured from.
    pub(super) from: Anchor,
    /// Where it is measured to.
    pub(super) to: Anchor,
    /// Which distance is told.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) measures: Measures,
    /// How far the line lies off, to the left of the way from one to the other.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) offset: Coordinate,
}

/// Which distance a dimension tells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(super) enum Measures {
    /// Straight from one to the other.
    #[default]
    Straight,
    /// Across only.
    Level,
    /// In height only.
    Upright,
}

/// What a dimension holds on to; of a thing that is not there any more it is not drawn.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(super) enum Anchor {
    /// A place on an edge of a member or of a plate.
    Edge(OnEdge),
    /// The middle of a member, a cut-out or a plate.
    Centre(PartOf),
    /// The id of a fastener, for its head.
    Head(#[schemars(length(max = 200))] String),
    /// The id of a fastener, for its point.
    Tip(#[schemars(length(max = 200))] String),
    /// A hole, as `connector/hole`.
    Hole(#[schemars(length(max = 401))] String),
    /// A place in the plane of the view, which follows nothing.
    Place([Coordinate; 2]),
}

/// A place on an edge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct OnEdge {
    /// The id of a member or connector.
    #[schemars(length(min = 1, max = 200))]
    pub(super) of: String,
    /// Of a member 0 for its outline and n for its cut-out n; of a connector its plate, counted from 0.
    #[serde(default, skip_serializing_if = "is_default")]
    #[schemars(range(max = 10_000))]
    pub(super) part: u32,
    /// The loop, counted from 0.
    #[serde(default, skip_serializing_if = "is_default")]
    #[schemars(range(max = 10_000))]
    pub(super) ring: u32,
    /// The edge of the loop, counted from 0.
    #[schemars(range(max = 10_000))]
    pub(super) edge: u32,
    /// How far along it, from 0 to 1.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) share: Share,
    /// How far from the far to the near end of the depth, from 0 to 1; it counts in views that see the depth.
    #[serde(default, skip_serializing_if = "is_default")]
    pub(super) deep: Share,
}

/// A part of a member or connector.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct PartOf {
    /// The id of a member or connector.
    #[schemars(length(min = 1, max = 200))]
    pub(super) of: String,
    /// Of a member 0 for its outline and n for its cut-out n; of a connector its plate, counted from 0.
    #[serde(default, skip_serializing_if = "is_default")]
    #[schemars(range(max = 10_000))]
    pub(super) part: u32,
}

fn count(it: u32) -> usize {
    usize::try_from(it).unwrap_or(usize::MAX)
}

fn number(it: usize) -> u32 {
    u32::try_from(it).unwrap_or(u32::MAX)
}

impl From<Dimension> for joint::Dimension {
    fn from(it: Dimension) -> Self {
        Self {
            look: it.look.map_or(joint::Look::Front, Into::into),
            from: it.from.into(),
            to: it.to.into(),
            measures: match it.measures {
                Measures::Straight => joint::Measures::Straight,
                Measures::Level => joint::Measures::Level,
                Measures::Upright => joint::Measures::Upright,
            },
            offset_mm: it.offset.0,
        }
    }
}

impl From<Anchor> for joint::Anchor {
    fn from(it: Anchor) -> Self {
        match it {
            Anchor::Edge(OnEdge { of, part, ring, edge, share, deep }) => Self::Edge {
                of,
                part: count(part),
                ring: count(ring),
                edge: count(edge),
                share: share.0,
                deep: deep.0,
            },
            Anchor::Centre(PartOf { of, part }) => Self::Centre { of, part: count(part) },
            Anchor::Head(id) => Self::Head(id),
            Anchor::Tip(id) => Self::Tip(id),
            // What names no hole holds on to nothing.
            Anchor::Hole(fills) => {
                let (connector, hole) = fills.split_once('/').unwrap_or((&fills, ""));
                Self::Hole { connector: connector.to_owned(), hole: hole.to_owned() }
            }
            Anchor::Place([x, y]) => Self::Place(Point::new(x.0, y.0)),
        }
    }
}

impl From<&joint::Dimension> for Dimension {
    fn from(it: &joint::Dimension) -> Self {
        Self {
            look: (it.look != joint::Look::Front).then(|| it.look.into()),
            from: (&it.from).into(),
            to: (&it.to).into(),
            measures: match it.measures {
                joint::Measures::Straight => Measures::Straight,
                joint::Measures::Level => Measures::Level,
                joint::Measures::Upright => Measures::Upright,
            },
            offset: Coordinate(it.offset_mm),
        }
    }
}

impl From<&joint::Anchor> for Anchor {
    fn from(it: &joint::Anchor) -> Self {
        match it.clone() {
            joint::Anchor::Edge { of, part, ring, edge, share, deep } => Self::Edge(OnEdge {
                of,
                part: number(part),
                ring: number(ring),
                edge: number(edge),
                share: Share(share),
                deep: Share(deep),
            }),
            joint::Anchor::Centre { of, part } => Self::Centre(PartOf { of, part: number(part) }),
            joint::Anchor::Head(id) => Self::Head(id),
            joint::Anchor::Tip(id) => Self::Tip(id),
            joint::Anchor::Hole { connector, hole } => Self::Hole(format!("{connector}/{hole}")),
            joint::Anchor::Place(at) => Self::Place([Coordinate(at.x), Coordinate(at.y)]),
        }
    }
}
