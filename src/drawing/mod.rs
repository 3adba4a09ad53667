//! A display list in millimetres on paper: what is on the screen is what is exported.
//!
//! Knows no pixel, no theme, no mouse and no file format. All text is final, and all places
//! are millimetres on paper, x to the right, y DOWN from the top left corner.

mod annotate;
mod appendix;
mod detail;
mod dimension;
mod extent;
mod hatch;
mod labels;
mod marks;
mod members;
mod pen;
mod place;
mod placed;
mod projection;
mod put;
mod settle;
mod shanks;
mod sheet;
mod sizes;
mod steel;
mod strip;
mod text;
mod verdict;

use kurbo::{BezPath, Point, Rect, Shape as _, Vec2};

use crate::findings::{Findings, Severity};
use crate::joint::{Joint, Look, Paper, SheetView};
use crate::trace::Trace;
use crate::unit::{LengthUnit, Vec3};

pub use pen::MOST_TOLD;
pub use projection::Projection;

/// How wide a line of the bundled letters is, in the unit of their size.
#[must_use]
pub fn width(words: &str, size: f64) -> f64 {
    text::Lettering::bundled().width_mm(words, size, false)
}

/// A drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Width and height of the paper.
    pub size_mm: (f64, f64),
    /// What it shows, in one line, as plain text.
    pub title: String,
    /// What it shows, in sentences, as plain text.
    pub description: String,
    /// In the order of painting.
    pub items: Vec<Item>,
    /// What the user may draw aside; kept in [`crate::joint::SheetSettings::moved`].
    pub handles: Vec<Handle>,
    /// The room inside the frame and clear of the title block; what is drawn aside stays within it.
    pub room: Option<Rect>,
}

impl Drawing {
    /// The way by which something is drawn aside, cut short where it would leave the room. What is larger than the room
    /// keeps its upper left corner there.
    #[must_use]
    pub fn held(&self, at: Rect, by: Vec2) -> Vec2 {
        self.room.map_or(by, |room| by + back_into(room, at + by))
    }
}

/// The way back into a room of what reaches out of it. What is larger than the room has its upper left corner there.
fn back_into(room: Rect, place: Rect) -> Vec2 {
    let back = |from: f64, to: f64, low: f64, high: f64| (high - to).min(0.0).max(low - from);
    Vec2::new(back(place.x0, place.x1, room.x0, room.x1), back(place.y0, place.y1, room.y0, room.y1))
}

/// Something on a sheet that can be drawn aside.
#[derive(Clone, Debug, PartialEq)]
pub struct Handle {
    /// The view, the kind and the thing, such as `front mark s1`.
    pub what: String,
    /// The box round it.
    pub at: Rect,
    /// Where it is taken hold of: a list by its heading, all else anywhere.
    pub grip: Rect,
    /// What the place of its middle is kept from.
    pub anchor: Point,
}

/// One thing on the paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The named group that it belongs to.
    pub layer: Layer,
    /// What of the joint it shows, so that what is drawn can be picked.
    pub subject: Option<Subject>,
    /// What is painted.
    pub shape: Shape,
}

/// What of the joint an item shows.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Subject {
    /// A member by its id.
    Member(String),
    /// A connector by its id.
    Connector(String),
    /// A hole of a connector: the connector's id and the hole's.
    Hole(String, String),
    /// A fastener by its id.
    Fastener(String),
    /// A dimension that the user placed, by its place in the joint's list.
    Dimension(usize),
}

/// What is painted.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A path, filled, stroked or both. Even-odd.
    Path {
        /// Where it runs; dashes are already cut.
        path: BezPath,
        /// What fills it.
        fill: Option<Fill>,
        /// What draws its line.
        line: Option<Line>,
    },
    /// One line of text.
    Text {
        /// Its anchor on the base line.
        at: Point,
        /// The words, final.
        words: String,
        /// Font size in millimetres (the em, not the height of a capital).
        size_mm: f64,
        /// Which point of the line `at` is.
        anchor: Anchor,
        /// Degrees anticlockwise on the paper.
        turn_deg: f64,
        /// Bold or regular.
        bold: bool,
        /// Its colour by meaning.
        ink: Ink,
    },
}

/// Which point of a line of text is its anchor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// The named groups, in the order of painting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// Paper, border and title block.
    Frame,
    /// Members: fill and outline.
    Members,
    /// Hatching.
    Hatch,
    /// Steel and its holes.
    Connectors,
    /// Shanks, heads, nuts.
    Fasteners,
    /// Dimensions.
    Dimensions,
    /// Marks and leaders.
    Marks,
    /// Core strips.
    Cores,
    /// Words: labels, tables, notes, cautions.
    Notes,
    /// What is chosen or handled on the screen; never exported.
    Handles,
}

/// What a line means; a painter gives it width and colour. Widths on paper in [`Line::width_mm`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Line {
    /// Outline of a member that is cut.
    Cut,
    /// Edge that is seen beyond the cut.
    Seen,
    /// Edge that something nearer hides, dashed.
    Hidden,
    /// Where a member is broken off and goes on.
    Break,
    /// Edge of a filling.
    Filling,
    /// Outline of steel.
    Steel,
    /// Hatching of any material but steel.
    Hatch,
    /// Hatching of steel, which is dark.
    SteelHatch,
    /// Outline of a shank in solid material.
    Shank,
    /// Outline of a shank in air or a gap, dashed.
    ShankInAir(Mood),
    /// Edge of a hole.
    Hole,
    /// Dimension and extension lines.
    Dimension,
    /// The oblique tick at the end of a dimension.
    Tick,
    /// Leader to a mark.
    Leader(Mood),
    /// Outline of a mark.
    Mark(Mood),
    /// Frame of the sheet.
    Frame,
    /// Rules of tables and core strips.
    Rule,
    /// A handle or the halo of what is chosen; on the screen only.
    Handle,
}

/// What fills an area, by meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fill {
    /// The paper itself: white in every theme on a sheet, the canvas on the screen.
    Paper,
    /// Sawn lumber.
    Lumber,
    /// Glulam and other engineered wood.
    Engineered,
    /// Panels.
    Panel,
    /// Concrete and masonry.
    Concrete,
    /// Fillings.
    Filling,
    /// Steel of a connector: a slate blue-grey.
    Steel,
    /// A shank in solid material.
    Shank,
    /// A shank of a fastener that was there before.
    ExistingShank,
    /// A mark or a handle of this mood.
    Mark(Mood),
    /// A handle on the screen.
    Handle,
}

/// Colour of words by meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ink {
    /// Ordinary words.
    Plain,
    /// Words that stand back.
    Soft,
    /// Words in the colour of a mood.
    Mood(Mood),
    /// Words on a filled mark.
    OnMark,
}

/// What a mark, a leader or a word says about its fastener. Told by the outline of the mark too:
/// filled for a fault, dashed for a caution, outlined for a note or nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mood {
    /// A fault.
    Fault,
    /// A caution.
    Caution,
    /// A note, or nothing to tell.
    Quiet,
}

impl From<Option<Severity>> for Mood {
    fn from(severity: Option<Severity>) -> Self {
        match severity {
            Some(Severity::Fault) => Self::Fault,
            Some(Severity::Caution) => Self::Caution,
            Some(Severity::Note) | None => Self::Quiet,
        }
    }
}

impl Line {
    /// Plotted width in millimetres, of the series of ISO 128-2.
    #[must_use]
    pub fn width_mm(self) -> f64 {
        match self {
            Self::Frame | Self::Steel => 0.7,
            Self::Cut | Self::Mark(_) | Self::Tick => 0.5,
            Self::Seen | Self::Shank | Self::ShankInAir(_) => 0.35,
            Self::Hidden | Self::Filling | Self::Hole | Self::Rule | Self::Handle => 0.25,
            Self::Hatch | Self::SteelHatch | Self::Break | Self::Dimension | Self::Leader(_) => 0.18,
        }
    }
}

/// How model places fall on the paper in a view. One that is not from the front takes places as [`turned`]
/// gives them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Paper millimetres to one model millimetre: 0.2 for 1:5.
    pub scale: f64,
    /// Where the model's origin falls on the paper.
    pub origin: Point,
}

impl View {
    /// The model place on the paper.
    #[must_use]
    pub fn on_paper(&self, place: Vec3) -> Point {
        Point::new(self.origin.x + place.x * self.scale, self.origin.y - place.y * self.scale)
    }

    /// The model place in the drawing plane that falls on this place of the paper.
    #[must_use]
    pub fn in_model(&self, at: Point) -> Point {
        Point::new((at.x - self.origin.x) / self.scale, (self.origin.y - at.y) / self.scale)
    }
}

/// What a drawing is made from.
#[derive(Clone, Copy, Debug)]
pub struct Inputs<'a> {
    /// The joint.
    pub joint: &'a Joint,
    /// Its trace.
    pub trace: &'a Trace,
    /// What was found.
    pub findings: &'a Findings,
}

/// The number that a fastener is marked with on drawings and in lists: its place in the joint, from one.
#[must_use]
pub fn mark_of(joint: &Joint, fastener_id: &str) -> Option<usize> {
    joint.fasteners.iter().position(|it| it.id == fastener_id).map(|it| it + 1)
}

/// The joint seen from the front at a scale: members, hatches, steel, shanks, dimensions,
/// marks and the names of members.
/// The same items stand on the screen and on the sheet.
#[must_use]
pub fn front(inputs: &Inputs<'_>, view: &View) -> Vec<Item> {
    front_within(inputs, view, None)
}

/// As [`front`], but hatching is cut to the part of the paper that is `seen`.
///
/// At a great magnification a member is kilometres of paper, and its hatching, whose spacing is constant
/// on paper, would be millions of strokes that nobody sees. All other items are whole.
#[must_use]
pub fn front_within(inputs: &Inputs<'_>, view: &View, seen: Option<Rect>) -> Vec<Item> {
    front_as(inputs, view, seen, pen::Manner::on_screen()).sorted()
}

/// The same in the manner of a screen or of a sheet.
fn front_as(inputs: &Inputs<'_>, view: &View, seen: Option<Rect>, manner: pen::Manner<'_>) -> put::Drawn {
    let worst = inputs.findings.worst_by_id();
    let lettering = text::Lettering::bundled();
    draw_front(&pen::Scene { inputs, view, seen, lettering, worst, holder: None, window: None, manner })
}

/// Draws a scene that is seen from the front.
fn draw_front(scene: &pen::Scene<'_>) -> put::Drawn {
    let mut taken = place::Taken::default();
    let mut edges = annotate::edges(scene);
    // Leaders and dimension lines cross the frame round a detail, words do not stand on it.
    for (from, to) in scene.manner.frame.iter().flat_map(|it| pen::chords(&it.at.to_path(0.1))) {
        edges.add_stroke(from, to, 0.3);
    }
    let mut drawn = put::Drawn { items: members::draw(scene), ..put::Drawn::default() };
    drawn.items.extend(steel::draw(scene));
    drawn.items.extend(shanks::draw(scene, &mut taken));
    let by_user = placed::measured(scene.inputs, Look::Front);
    drawn.extend(placed::draw(scene, &by_user, &mut taken));
    drawn.extend(dimension::draw(scene, &by_user, &edges, &mut taken));
    drawn.extend(annotate::draw(scene, &edges, &mut taken));
    drawn
}

/// The joint from any side, seen whole or cut at a plane: members and steel with their hidden edges dashed,
/// shanks, dimensions, marks and the names of members.
///
/// `view` places what [`turned`] gives on the paper. The front without a plane is that of [`front_within`].
#[must_use]
pub fn view(inputs: &Inputs<'_>, projection: &Projection, view: &View, seen: Option<Rect>) -> Vec<Item> {
    if projection.is_front() {
        return front_within(inputs, view, seen);
    }
    let turned = projection::Turned::of(inputs, projection);
    turned.draw(view, seen, (true, true), pen::Manner::on_screen()).sorted()
}

/// Extent of the joint in the plane of a view, as [`turned`] has it; `None` where there is nothing to see.
#[must_use]
pub fn extent_of(inputs: &Inputs<'_>, projection: &Projection) -> Option<Rect> {
    if projection.is_front() {
        return extent::of(inputs);
    }
    projection::Turned::of(inputs, projection).extent()
}

/// The font file of the letters that drawings are measured with, regular or bold (Roboto, Apache License 2.0).
#[must_use]
pub fn font_file(bold: bool) -> &'static [u8] {
    text::file(bold)
}

/// Core strips, one for each fastener in `which`, from the top left corner `at` and `width_mm` wide:
/// mark, name, the runs to one scale for all of them, and at the right what there is to say.
#[must_use]
pub fn cores(inputs: &Inputs<'_>, which: &[usize], at: Point, width_mm: f64) -> Vec<Item> {
    strip::draw(inputs, which, at, width_mm)
}

/// The greatest height on paper of so many core strips.
#[must_use]
pub fn cores_height_mm(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX)) * strip::HIGHEST_MM
}

/// The exported detail as pages of one paper: views to a standard scale, schedules, core strips, findings, a
/// check list for the site and what was not checked, in a frame with a title block. What does not fit one page
/// goes on on the next and is never cut.
#[must_use]
pub fn pages(inputs: &Inputs<'_>) -> Vec<Drawing> {
    sheet::pages(inputs)
}

/// The views that a sheet shows: those that its settings name, else those that the joint needs.
#[must_use]
pub fn sheet_views(inputs: &Inputs<'_>) -> Vec<SheetView> {
    sheet::views(inputs)
}

/// The standard scales of this unit, as model millimetres to one paper millimetre, the largest drawing first.
pub fn standard_scales(unit: LengthUnit) -> impl Iterator<Item = f64> {
    sheet::standard_scales(unit)
}

/// A scale as a drawing writes it: `1:5`, or `3" = 1'-0" (1:4)`.
#[must_use]
pub fn scale_words(model_per_paper: f64, unit: LengthUnit) -> String {
    sheet::scale_words(model_per_paper, unit)
}

/// Width and height of a paper that lies on its long side, or stands on its short one.
#[must_use]
pub fn paper_mm(paper: Paper, is_portrait: bool) -> (f64, f64) {
    sheet::paper_mm(paper, is_portrait)
}

/// The working of what every fastener carries, as pages to go with the detail: each value with its formula, the
/// values put in, its clause and its reason. None where the joint has no fastener; nothing is cut.
#[must_use]
pub fn appendix(inputs: &Inputs<'_>) -> Vec<Drawing> {
    appendix::draw(inputs)
}

/// Extent of the joint in the drawing plane, heads and points included; `None` for an empty joint.
#[must_use]
pub fn extent(inputs: &Inputs<'_>) -> Option<Rect> {
    extent::of(inputs)
}
