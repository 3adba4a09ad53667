//! Small tools of the draughtsman: strokes, polygons, dashes, and the scene they are drawn in.

use std::collections::BTreeMap;

use kurbo::{Affine, BezPath, Point, Rect, RoundedRect, Shape as _, Vec2};

use super::text::Lettering;
use super::{Anchor, Fill, Ink, Inputs, Item, Layer, Line, Mood, Shape, Subject, View};
use crate::findings::Severity;
use crate::joint::Look;
use crate::shape::Region;
use crate::unit::Vec3;

/// Curves on paper are true within this, in millimetres.
pub(super) const TRUE_WITHIN_MM: f64 = 0.01;

/// A dash and a gap of a broken line on paper, whatever the scale.
const DASH_MM: [f64; 2] = [1.6, 0.8];

/// A dash and a gap of a hidden edge: 12 and 3 times its width (ISO 128-2, from memory).
const HIDDEN_MM: [f64; 2] = [3.0, 0.75];

/// Long dash, gap, dot, gap of a centre line on paper.
const CENTRE_LINE_MM: [f64; 4] = [4.0, 0.7, 0.4, 0.7];

/// What is drawn, how it falls on paper, and the letters at hand.
pub(super) struct Scene<'a> {
    pub(super) inputs: &'a Inputs<'a>,
    pub(super) view: &'a View,
    /// The part of the paper that is seen; all of it where absent.
    pub(super) seen: Option<Rect>,
    pub(super) lettering: &'static Lettering,
    /// The worst that is said about each thing, by id.
    pub(super) worst: BTreeMap<&'a str, Severity>,
    /// What is to know of a view other than the front as drawn.
    pub(super) holder: Option<Holder<'a>>,
}

/// How a view other than the front as drawn is held.
#[derive(Clone, Copy)]
pub(super) struct Holder<'a> {
    /// Whether sizes to the right are dimensioned, and sizes upward.
    pub(super) axes: (bool, bool),
    /// By place in the joint: members that are broken off, so that what is drawn is not their length.
    pub(super) broken: &'a [bool],
    /// From where the joint is looked at.
    pub(super) look: Look,
}

impl Scene<'_> {
    /// From model to paper.
    pub(super) fn affine(&self) -> Affine {
        let View { scale, origin } = *self.view;
        Affine::new([scale, 0.0, 0.0, -scale, origin.x, origin.y])
    }

    /// The region's loops on paper.
    pub(super) fn outline(&self, region: &Region) -> BezPath {
        self.affine() * region.to_path()
    }

    /// A direction of the model on paper, not of unit length where it leans out of the plane.
    pub(super) fn direction(&self, toward: Vec3) -> Vec2 {
        Vec2::new(toward.x, -toward.y)
    }

    /// Whether the width and the height of a member as drawn are dimensioned.
    pub(super) fn dimensioned(&self, member: usize) -> (bool, bool) {
        let Some(Holder { axes, broken, look }) = self.holder else { return (true, true) };
        let is_whole = !broken.get(member).copied().unwrap_or(false);
        match look {
            Look::Front => axes,
            // Depth runs to the right in the one and upward in the other.
            Look::Side => (axes.0 && is_whole, axes.1),
            Look::Top => (axes.0, axes.1 && is_whole),
        }
    }

    /// The mood of the fastener at this place of the joint.
    pub(super) fn mood(&self, fastener: usize) -> Mood {
        let id = self.inputs.joint.fasteners.get(fastener).map(|it| it.id.as_str());
        Mood::from(id.and_then(|it| self.worst.get(it).copied()))
    }
}

/// A path as an item.
pub(super) fn path(
    layer: Layer,
    subject: Option<Subject>,
    path: BezPath,
    fill: Option<Fill>,
    line: Option<Line>,
) -> Item {
    Item { layer, subject, shape: Shape::Path { path, fill, line } }
}

/// A line of words before it is set: level, regular, plain.
#[derive(Clone, Debug)]
pub(super) struct Words {
    pub(super) words: String,
    pub(super) size_mm: f64,
    pub(super) anchor: Anchor,
    pub(super) turn_deg: f64,
    pub(super) bold: bool,
    pub(super) ink: Ink,
}

impl Words {
    pub(super) fn new(words: impl Into<String>, size_mm: f64) -> Self {
        Self {
            words: words.into(),
            size_mm,
            anchor: Anchor::Start,
            turn_deg: 0.0,
            bold: false,
            ink: Ink::Plain,
        }
    }

    pub(super) fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    pub(super) fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub(super) fn ink(self, ink: Ink) -> Self {
        Self { ink, ..self }
    }

    pub(super) fn turned(self, turn_deg: f64) -> Self {
        Self { turn_deg, ..self }
    }

    /// Sets the words at this place of their base line.
    pub(super) fn at(self, layer: Layer, subject: Option<Subject>, at: Point) -> Item {
        let Self { words, size_mm, anchor, turn_deg, bold, ink } = self;
        Item { layer, subject, shape: Shape::Text { at, words, size_mm, anchor, turn_deg, bold, ink } }
    }
}

/// One straight stroke.
pub(super) fn stroke(from: Point, to: Point) -> BezPath {
    let mut path = BezPath::new();
    add_stroke(&mut path, from, to);
    path
}

/// Adds one straight stroke.
pub(super) fn add_stroke(path: &mut BezPath, from: Point, to: Point) {
    path.move_to(from);
    path.line_to(to);
}

/// A closed polygon.
pub(super) fn polygon(corners: &[Point]) -> BezPath {
    let mut path = open_line(corners);
    if !corners.is_empty() {
        path.close_path();
    }
    path
}

/// An open line through these places.
pub(super) fn open_line(places: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (n, place) in places.iter().enumerate() {
        if n == 0 {
            path.move_to(*place);
        } else {
            path.line_to(*place);
        }
    }
    path
}

/// A circle.
pub(super) fn circle(centre: Point, radius: f64) -> BezPath {
    kurbo::Circle::new(centre, radius).to_path(TRUE_WITHIN_MM)
}

/// A rectangle with rounded corners.
pub(super) fn rounded(rect: Rect, radius: f64) -> BezPath {
    RoundedRect::from_rect(rect, radius).to_path(TRUE_WITHIN_MM)
}

/// The path cut into dashes that are the same on paper at every scale.
pub(super) fn dashed(path: &BezPath) -> BezPath {
    kurbo::dash(path.iter(), 0.0, &DASH_MM).collect()
}

/// The path cut into the dashes of a hidden edge.
pub(super) fn hidden(path: &BezPath) -> BezPath {
    kurbo::dash(path.iter(), 0.0, &HIDDEN_MM).collect()
}

/// The path cut into the long dashes and dots of a centre line.
pub(super) fn centre_line(path: &BezPath) -> BezPath {
    kurbo::dash(path.iter(), 0.0, &CENTRE_LINE_MM).collect()
}

/// A number in 0..1 that is always the same for the same two: scatter without chance.
pub(super) fn scatter(a: i64, b: i64) -> f64 {
    let mixed = a.wrapping_mul(0x9E37_79B9_7F4A_7C15_u64.cast_signed()).wrapping_add(b).cast_unsigned();
    let mixed = (mixed ^ (mixed >> 29)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let mixed = (mixed ^ (mixed >> 32)).wrapping_mul(0x94D0_49BB_1331_11EB);
    f64::from(u32::try_from(mixed >> 40).unwrap_or(0)) / f64::from(1_u32 << 24)
}
