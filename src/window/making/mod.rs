//! What the next presses on the canvas make: a member, a cut, steel, fasteners, a measure. Its settings stand in
//! the pane of numbers while it is made.

mod asks;
mod driven;
mod measure;
mod settings;
mod steel;
mod view;
mod wood;

use std::collections::BTreeMap;
use std::sync::Arc;

pub use self::asks::{Ask, Key};
pub(super) use self::driven::outfitted;
pub use self::settings::{Hold, Lies, Settings};
pub(super) use self::view::DISTANCES;
use super::canvas::draft::{Corner, Draft, Figure};
use super::canvas::plane;
use super::canvas::typed::Slot;
use super::look::{Action, Look};
use crate::drawing::Subject;
use crate::joint::{Edit, Look as From, Measures};
use crate::sketch::form::Form;
use crate::stock::{FastenerSpec, SectionSize};

/// The outline of something that is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A rectangle from corner to corner.
    Box,
    /// Corner after corner.
    Polygon,
    /// Corner after corner, with arcs between some of them.
    Path,
    /// From the centre to the rim.
    Round,
    /// An I-section in a rectangle from corner to corner.
    ISection,
}

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// From one place to another.
    Distance,
    /// Between two ways from one place.
    Angle,
}

/// What is made.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// A member, drawn.
    Member(Shape),
    /// A member of a stock size.
    Stock(Arc<SectionSize>),
    /// A notch or a hole in a member.
    Cut(Shape),
    /// A connector of the form with this word.
    Form(&'static str),
    /// A connector with a plate along a drawn profile.
    Profile,
    /// Holes in steel.
    Holes,
    /// Fasteners in a row, or in rows.
    Row(Arc<FastenerSpec>),
    /// Fasteners seen head on, in rows.
    HeadOn(Arc<FastenerSpec>),
    /// A toe-nail by rule.
    Toe(Arc<FastenerSpec>),
    /// A dimension that follows what it holds on to.
    Dimension,
    /// A measure, which changes nothing.
    Measure(Measure),
}

/// What can be made by a word alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thing {
    /// A member of this outline.
    Member(Shape),
    /// This, cut out of a member.
    Cut(Shape),
    /// A connector of the form with this word.
    Form(&'static str),
    /// A plate by its profile.
    Profile,
    /// Holes in steel.
    Holes,
    /// A dimension.
    Dimension,
    /// A measure.
    Measure(Measure),
}

impl Thing {
    /// What is made.
    #[must_use]
    pub fn kind(self) -> Kind {
        match self {
            Self::Member(shape) => Kind::Member(shape),
            Self::Cut(shape) => Kind::Cut(shape),
            Self::Form(word) => Kind::Form(word),
            Self::Profile => Kind::Profile,
            Self::Holes => Kind::Holes,
            Self::Dimension => Kind::Dimension,
            Self::Measure(measure) => Kind::Measure(measure),
        }
    }
}

/// What is made, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct Making {
    /// What.
    pub kind: Kind,
    /// What was picked.
    pub settings: Settings,
    /// What was typed, by what it answers.
    pub texts: BTreeMap<Key, String>,
}

/// What has been made.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// The name of the step.
    pub name: String,
    /// The edit that makes it.
    pub edit: Edit,
    /// What is chosen then.
    pub chosen: Vec<Subject>,
}

/// Why nothing can be made of what is drawn so far, in words; empty where only places are missing.
pub type NotMade = String;

/// What happened in the pane of what is made.
#[derive(Clone, Debug, PartialEq)]
pub enum Message {
    /// A field has another text.
    Typed(Key, String),
    /// Enter was pressed in a field: back to the canvas.
    Entered,
    /// Something was picked or ticked.
    Set(Settings),
    /// It is given up.
    EndPressed,
}

impl Making {
    /// Something to make, with the settings that were used last.
    #[must_use]
    pub fn new(kind: Kind, last: Option<&Self>) -> Self {
        let settings = last.map_or_else(Settings::default, |it| it.settings.clone());
        let mut texts = last.map_or_else(BTreeMap::new, |it| it.texts.clone());
        texts.retain(|key, _| key.is_kept());
        Self { kind, settings, texts }
    }

    /// What is asked for by what happened in the pane.
    pub fn update(&mut self, message: Message) -> Action {
        match message {
            Message::Typed(key, text) => {
                let _ = self.texts.insert(key, text);
            }
            Message::Entered => return Action::Leave,
            Message::Set(settings) => self.settings = settings,
            Message::EndPressed => return Action::Make(None),
        }
        Action::Redraft
    }

    /// Whether it only measures.
    #[must_use]
    pub fn is_measure(&self) -> bool {
        matches!(self.kind, Kind::Measure(_))
    }

    /// A quarter turn of what is placed, anticlockwise or back.
    pub fn turn(&mut self, quarters: i32) {
        self.settings.quarters = (i32::from(self.settings.quarters) + quarters)
            .rem_euclid(4)
            .unsigned_abs()
            .try_into()
            .unwrap_or(0);
    }

    /// Whether it can be placed in a view: what is drawn as a box, dimensions and measures in each, the rest in Front.
    #[must_use]
    pub fn can_stand_in(&self, view: From) -> bool {
        view == From::Front
            || match &self.kind {
                Kind::Member(Shape::Box) | Kind::Dimension | Kind::Measure(_) => true,
                // Its section is no box, and stands in the drawing plane alone.
                Kind::Stock(size) => size.i_section_mm.is_none() || self.settings.lies != Lies::EndOn,
                Kind::Member(_)
                | Kind::Cut(_)
                | Kind::Form(_)
                | Kind::Profile
                | Kind::Holes
                | Kind::Row(_)
                | Kind::HeadOn(_)
                | Kind::Toe(_) => false,
            }
    }

    /// The drawing of it, before anything is set.
    #[must_use]
    pub fn draft(&self, view: From) -> Draft {
        let figure = match &self.kind {
            Kind::Member(shape) | Kind::Cut(shape) => match shape {
                Shape::Box | Shape::ISection => Figure::Box,
                Shape::Polygon => Figure::Closed { arcs: false },
                Shape::Path => Figure::Closed { arcs: true },
                Shape::Round => Figure::Round,
            },
            Kind::Stock(_) | Kind::Form(_) | Kind::Holes | Kind::HeadOn(_) | Kind::Toe(_) => Figure::One,
            Kind::Profile => Figure::Open,
            Kind::Row(_) | Kind::Measure(Measure::Distance) => Figure::Line,
            Kind::Measure(Measure::Angle) | Kind::Dimension => Figure::Three,
        };
        Draft::new(figure, view)
    }

    /// What it is called.
    #[must_use]
    pub fn words(&self) -> String {
        match &self.kind {
            Kind::Member(Shape::Box) => "a rectangle".into(),
            Kind::Member(Shape::Polygon) => "a polygon".into(),
            Kind::Member(Shape::Path) => "an outline with arcs".into(),
            Kind::Member(Shape::Round) => "a round".into(),
            Kind::Member(Shape::ISection) => "an I-section".into(),
            Kind::Stock(size) => format!("a {}", crate::window::stock::nominal(size)),
            Kind::Cut(Shape::Round) => "a round hole in a member".into(),
            Kind::Cut(_) => "a notch".into(),
            Kind::Form(word) => Form::named(word).map_or(*word, |it| it.title).to_lowercase(),
            Kind::Profile => "a plate".into(),
            Kind::Holes => "holes".into(),
            Kind::HeadOn(spec) => format!("{}, head on", spec.label),
            Kind::Toe(spec) => format!("a toe-nail, {}", spec.label),
            Kind::Row(spec) => format!("a row of {}", spec.label),
            Kind::Dimension => "a dimension".into(),
            Kind::Measure(Measure::Distance) => "a distance".into(),
            Kind::Measure(Measure::Angle) => "an angle".into(),
        }
    }

    /// What a press does now, for the line at the foot.
    #[must_use]
    pub fn hint(&self, draft: &Draft) -> String {
        let typing = "or type numbers, Tab for the next, Enter";
        if !self.can_stand_in(draft.view) {
            return format!("In {} nothing is made of it: 1 shows Front. Esc ends.", plane::name(draft.view));
        }
        let [across, up] = Slot::place_in(draft.view);
        match (draft.figure, draft.corners.len()) {
            (Figure::One, _) => {
                let turns = match self.kind {
                    Kind::Stock(_) => " Comma and full stop turn it, C holds it by another corner.",
                    Kind::Form(_) => " Comma and full stop turn it, C mirrors it.",
                    Kind::Toe(_) => " The corner between two pieces that is nearest counts.",
                    Kind::Member(_)
                    | Kind::Cut(_)
                    | Kind::Profile
                    | Kind::Holes
                    | Kind::Row(_)
                    | Kind::HeadOn(_)
                    | Kind::Dimension
                    | Kind::Measure(_) => "",
                };
                format!("Press where it goes, {typing}.{turns} Esc ends.")
            }
            (Figure::Box, 0) if draft.view != From::Front => {
                let (x, y) = (across.word(), up.word());
                format!(
                    "Drag its depth and its {}, or type {x}, Tab, {y}, Enter. {} stand at the right. Esc ends.",
                    if draft.view == From::Side { "height" } else { "width" },
                    if draft.view == From::Side { "Its ends across (x)" } else { "Its ends in height (y)" },
                )
            }
            (_, 0) => {
                let (x, y) = (across.word(), up.word());
                let other = self.other_measure();
                format!("Press where it begins, or type {x}, Tab, {y}, Enter.{other} Esc ends.")
            }
            (Figure::Box, _) => {
                format!("Press the opposite corner, {typing}. Shift makes it square, Esc begins anew.")
            }
            (Figure::Round, _) => "Press on the rim, or type the diameter and Enter. Esc begins anew.".into(),
            (Figure::Line, _) => {
                format!("Press where it ends, {typing}. Shift keeps an axis, Esc begins anew.")
            }
            (Figure::Three, _) => {
                format!("Press the next place, {typing}.{} Esc begins anew.", self.other_measure())
            }
            (Figure::Closed { arcs: true }, _) if draft.arc && draft.through.is_none() => {
                "Press a place on the arc, then its end. A makes it straight again.".into()
            }
            (Figure::Closed { arcs }, n) => {
                let arc = if arcs { " A makes the next piece an arc." } else { "" };
                let end = if 2 < n { " Press the first corner or Enter to close." } else { "" };
                format!("Press the next corner, {typing}.{arc}{end} Backspace takes one back.")
            }
            (Figure::Open, _) => {
                format!("Press the next bend, {typing}. Enter ends it. Backspace takes one back.")
            }
        }
    }

    /// What is made of the places that are set.
    ///
    /// # Errors
    /// In words, when nothing can be made of them; in none, while some are missing.
    pub fn made(&self, corners: &[Corner], look: &Look<'_>) -> Result<Made, NotMade> {
        match &self.kind {
            Kind::Member(shape) => wood::member(self, *shape, corners, look),
            Kind::Stock(size) => wood::of_stock(self, size, corners, look),
            Kind::Cut(shape) => wood::cut(self, *shape, corners, look),
            Kind::Form(word) => match Form::named(word) {
                Some(form) => steel::form(self, form, corners, look),
                None => Err(NotMade::new()),
            },
            Kind::Profile => steel::profile(self, corners, look),
            Kind::Holes => steel::holes(self, corners, look),
            Kind::Row(spec) => driven::row(self, spec, corners, look),
            Kind::HeadOn(spec) => driven::head_on(self, spec, corners, look),
            Kind::Toe(spec) => driven::toe(self, spec, corners, look),
            Kind::Dimension => measure::dimension(self.settings.measures, corners, look),
            Kind::Measure(_) => Err(NotMade::new()),
        }
    }

    /// The measure of the places that are set, in words; `None` while some are missing, or where nothing is measured.
    #[must_use]
    pub fn measured(&self, corners: &[Corner], look: &Look<'_>) -> Option<String> {
        match self.kind {
            Kind::Measure(measure) => measure::words_of(measure, corners, look.unit()),
            Kind::Member(_)
            | Kind::Stock(_)
            | Kind::Cut(_)
            | Kind::Form(_)
            | Kind::Profile
            | Kind::Holes
            | Kind::Row(_)
            | Kind::HeadOn(_)
            | Kind::Dimension
            | Kind::Toe(_) => None,
        }
    }

    /// The key that holds a thing elsewhere: by another corner, in a mirror, or a dimension to another distance.
    pub fn hold_elsewhere(&mut self) {
        if matches!(self.kind, Kind::Form(_)) {
            self.settings.mirrored = !self.settings.mirrored;
        } else if matches!(self.kind, Kind::Dimension) {
            self.settings.measures = match self.settings.measures {
                Measures::Straight => Measures::Level,
                Measures::Level => Measures::Upright,
                Measures::Upright => Measures::Straight,
            };
        } else {
            self.settings.hold = self.settings.hold.next();
        }
    }

    /// What the key for another distance does now, for the line at the foot.
    fn other_measure(&self) -> &'static str {
        match (&self.kind, self.settings.measures) {
            (Kind::Dimension, Measures::Straight) => " C makes it level, then upright.",
            (Kind::Dimension, Measures::Level) => " It is level: C makes it upright, then straight.",
            (Kind::Dimension, Measures::Upright) => " It is upright: C makes it straight, then level.",
            (_, Measures::Straight | Measures::Level | Measures::Upright) => "",
        }
    }
}
