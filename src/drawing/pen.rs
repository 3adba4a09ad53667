//! Small tools of the draughtsman: strokes, polygons, dashes, and the scene they are drawn in.

use std::collections::{BTreeMap, BTreeSet};

use kurbo::{Affine, BezPath, ParamCurve as _, Point, Rect, RoundedRect, Shape as _, Vec2};

use super::put::Puts;
use super::text::Lettering;
use super::{Anchor, Fill, Handle, Ink, Inputs, Item, Layer, Line, Mood, Shape, Subject, View};
use crate::findings::Severity;
use crate::joint::{Joint, Look};
use crate::shape::Region;
use crate::unit::Vec3;

/// Curves on paper are true within this, in millimetres.
pub(super) const TRUE_WITHIN_MM: f64 = 0.01;

/// Half the height of the zigzag of a break line.
const ZIGZAG_MM: f64 = 1.6;

/// A dash and a gap of a broken line on paper, whatever the scale.
const DASH_MM: [f64; 2] = [1.6, 0.8];

/// A dash and a gap of a hidden edge: 12 and 3 times its width (ISO 128-2, from memory).
const HIDDEN_MM: [f64; 2] = [3.0, 0.75];

/// A member whose end lies nearer than this on paper to the border of what is shown is broken off there.
const BROKEN_OFF_MM: f64 = 0.3;

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
    /// Beyond what all is broken off.
    pub(super) window: Option<Window<'a>>,
    /// In what manner it is drawn.
    pub(super) manner: Manner<'a>,
}

/// The part of a joint that an enlarged detail shows.
#[derive(Clone, Copy)]
pub(super) struct Window<'a> {
    /// Where it lies on paper.
    pub(super) at: Rect,
    /// For each member whether it goes on to the left or right, and above or below.
    pub(super) broken: &'a [(bool, bool)],
}

/// In what manner a view is drawn: for a screen or for a sheet.
#[derive(Clone, Copy)]
pub(super) struct Manner<'a> {
    /// How long places for labels are looked for.
    pub(super) care: Care,
    /// Members that are named elsewhere.
    pub(super) named: Option<&'a BTreeSet<Subject>>,
    /// What the user has put somewhere.
    pub(super) puts: Option<&'a Puts<'a>>,
    /// What a detail shows larger.
    pub(super) frame: Option<Frame<'a>>,
}

/// The frame round what a detail shows larger, which no label lies on.
#[derive(Clone, Copy)]
pub(super) struct Frame<'a> {
    /// Where it lies on paper.
    pub(super) at: Rect,
    /// For each member whether the detail shows an end from which places to the right, and upward, can be measured.
    pub(super) has_end: &'a [(bool, bool)],
}

impl Manner<'_> {
    /// As while things are handled on the screen.
    pub(super) fn on_screen() -> Self {
        Self { care: Care::Quick, named: None, puts: None, frame: None }
    }

    /// Whether a member is named elsewhere.
    pub(super) fn is_named(&self, member: &Subject) -> bool {
        self.named.is_some_and(|it| it.contains(member))
    }

    /// Where the middle of a thing was put by the user.
    pub(super) fn put(&self, what: &str, anchor: Point) -> Option<Point> {
        self.puts?.place(what, anchor)
    }

    /// The handle of a thing; none on the screen.
    pub(super) fn handle(&self, what: &str, at: Rect, anchor: Point) -> Option<Handle> {
        Some(self.puts?.handle(what, at, anchor))
    }
}

/// How long places for labels are looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Care {
    /// One after the other, as while something is dragged on the screen.
    Quick,
    /// Then all together, as on a sheet.
    Full,
    /// The same with no name far from its member, where a page has no room for that.
    Close,
}

/// How a view other than the front as drawn is held.
#[derive(Clone, Copy)]
pub(super) struct Holder<'a> {
    /// Whether sizes to the right are dimensioned, and sizes upward.
    pub(super) axes: (bool, bool),
    /// By place in the joint: whether the near and the far end of a member are broken off, so that what is drawn is
    /// not its length.
    pub(super) broken: &'a [(bool, bool)],
    /// From where the joint is looked at.
    pub(super) look: Look,
    /// The joint as it was drawn.
    pub(super) joint: &'a Joint,
}

/// So many fasteners have room for their marks on a screen.
pub const MOST_TOLD: usize = 1_000;

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
        let Some(Holder { axes, broken, look, .. }) = self.holder else { return (true, true) };
        let is_whole = broken.get(member).is_none_or(|it| *it == (false, false));
        match look {
            Look::Front => axes,
            // Depth runs to the right in the one and upward in the other.
            Look::Side => (axes.0 && is_whole, axes.1),
            Look::Top => (axes.0, axes.1 && is_whole),
        }
    }

    /// Whether places to the right, and upward, are dimensioned in this view.
    pub(super) fn axes(&self) -> (bool, bool) {
        self.holder.map_or((true, true), |it| it.axes)
    }

    /// Whether a member, whose box on paper this is, ends at its sides and does not go on beyond what is shown: at the
    /// left and right, and at the upper and lower one.
    pub(super) fn ends(&self, member: usize, at: Rect) -> ([bool; 2], [bool; 2]) {
        if let Some(Window { at: window, broken }) = self.window {
            let goes_on = broken.get(member).copied().unwrap_or((false, false));
            let is_end =
                |goes_on: bool, end: f64, limit: f64| !goes_on || BROKEN_OFF_MM < (end - limit).abs();
            return (
                [is_end(goes_on.0, at.x0, window.x0), is_end(goes_on.0, at.x1, window.x1)],
                [is_end(goes_on.1, at.y0, window.y0), is_end(goes_on.1, at.y1, window.y1)],
            );
        }
        let Some(Holder { broken, look, .. }) = self.holder else { return ([true; 2], [true; 2]) };
        let (near, far) = broken.get(member).copied().unwrap_or((false, false));
        match look {
            Look::Front => ([true; 2], [true; 2]),
            // The near end lies at the left in the one and below in the other.
            Look::Side => ([!near, !far], [true; 2]),
            Look::Top => ([true; 2], [!far, !near]),
        }
    }

    /// Whether a screen shows more fasteners than can be told of: then figures are left out, and marks too until the eye
    /// is so near that few of them are seen. A sheet tells of all.
    pub(super) fn is_crowded(&self) -> bool {
        self.seen.is_some() && MOST_TOLD < self.inputs.joint.fasteners.len()
    }

    /// Whether a place of the paper may be seen.
    pub(super) fn sees(&self, at: Point) -> bool {
        self.seen.is_none_or(|it| it.contains(at))
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

/// A path of straight lines instead of curves, as true as what is drawn.
pub(super) fn flat(path: &BezPath) -> BezPath {
    crate::shape::straightened(path, TRUE_WITHIN_MM)
}

/// A path as straight pieces.
pub(super) fn chords(path: &BezPath) -> Vec<(Point, Point)> {
    flat(path).segments().map(|it| (it.start(), it.end())).collect()
}

/// A break line: straight, with one zigzag in its middle.
pub(super) fn zigzag(at: kurbo::Line) -> BezPath {
    let way = at.p1 - at.p0;
    if way.hypot() < 4.0 * ZIGZAG_MM {
        return stroke(at.p0, at.p1);
    }
    let along = way.normalize();
    let aside = Vec2::new(-along.y, along.x) * ZIGZAG_MM;
    let middle = at.midpoint();
    let step = along * ZIGZAG_MM;
    open_line(&[
        at.p0,
        middle - step,
        middle - step * 0.5 + aside,
        middle + step * 0.5 - aside,
        middle + step,
        at.p1,
    ])
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
