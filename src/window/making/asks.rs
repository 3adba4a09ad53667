//! The numbers and names that a thing which is made is asked for: what each is called, what it is at first, and
//! how its text is read.

use kurbo::Rect;

use super::{Kind, Lies, Making, Shape};
use crate::drawing::Subject;
use crate::joint::{Grain, Look as From};
use crate::sketch::drive::toe::Rule;
use crate::sketch::form::Form;
use crate::sketch::question::Question;
use crate::trace::Owner;
use crate::unit::LengthUnit;
use crate::unit::length::MM_PER_INCH;
use crate::window::canvas::gesture::clean;
use crate::window::look::Look;
use crate::window::words;

/// What a field answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Key {
    /// The name of a member.
    Name,
    /// The length of a member that is seen lengthwise.
    Length,
    /// The far end of the depth.
    Far,
    /// The near end of the depth.
    Near,
    /// The left end, of what is placed in a view that looks along it.
    Left,
    /// The right end.
    Right,
    /// The lower end, of what is placed from above.
    Low,
    /// The upper end.
    High,
    /// The direction of the grain in the drawing plane.
    GrainDeg,
    /// The height of a flange.
    Flange,
    /// The thickness of a web.
    Web,
    /// Fasteners in a row.
    Count,
    /// From fastener to fastener.
    Pitch,
    /// Rows in depth.
    Rows,
    /// From row to row.
    RowPitch,
    /// Thickness of steel.
    Thickness,
    /// Radius of bends.
    Bend,
    /// The middle of the rows in depth; the middle of the steel where it is empty.
    Row,
    /// An angle that the steel forces; none where it is empty.
    Angle,
    /// Where a toe-nail starts, from the end along the face.
    Start,
    /// How much a toe-nail leans to the face.
    Slope,
    /// A measure that a connector form asks for: the words of the form and of its question.
    Asked(&'static str, &'static str),
}

/// What sort of text is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sort {
    Text,
    Length,
    Size,
    Degrees,
    Count,
}

/// A field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ask {
    /// What it answers.
    pub key: Key,
    /// What stands before it.
    pub words: &'static str,
}

impl Key {
    /// The two ends of what is placed in a view, along the axis that it looks along.
    #[must_use]
    pub fn ends(view: From) -> [Self; 2] {
        match view {
            From::Front => [Self::Far, Self::Near],
            From::Side => [Self::Left, Self::Right],
            From::Top => [Self::Low, Self::High],
        }
    }

    /// Whether the next thing that is made begins with the same answer.
    #[must_use]
    pub(super) fn is_kept(self) -> bool {
        match self {
            Self::Name | Self::GrainDeg | Self::Row | Self::Angle | Self::Start | Self::Slope => false,
            Self::Length
            | Self::Far
            | Self::Near
            | Self::Left
            | Self::Right
            | Self::Low
            | Self::High
            | Self::Flange
            | Self::Web
            | Self::Count
            | Self::Pitch
            | Self::Rows
            | Self::RowPitch
            | Self::Thickness
            | Self::Bend
            | Self::Asked(..) => true,
        }
    }

    /// What stands before its field.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Name => "Name",
            Self::Length => "Length",
            Self::Far => "Depth from",
            Self::Near => "Depth to",
            Self::Left => "Across (x) from",
            Self::Right => "Across (x) to",
            Self::Low => "Height (y) from",
            Self::High => "Height (y) to",
            Self::GrainDeg => "Grain direction",
            Self::Flange => "Flange height",
            Self::Web => "Web thickness",
            Self::Count => "In a row",
            Self::Pitch => "From one to the next",
            Self::Rows => "Rows in depth",
            Self::RowPitch => "From row to row",
            Self::Thickness => "Thickness",
            Self::Bend => "Bend radius",
            Self::Row => "Depth row",
            Self::Angle => "Angle the steel forces",
            Self::Start => "Start from the end",
            Self::Slope => "Slope to the face",
            Self::Asked(form, key) => question(form, key).map_or(key, |it| it.asks),
        }
    }

    fn sort(self) -> Sort {
        match self {
            Self::Thickness | Self::Start => Sort::Size,
            Self::Bend => Sort::Length,
            Self::Slope => Sort::Degrees,
            Self::Row | Self::Angle | Self::Asked(..) => Sort::Text,
            Self::Name => Sort::Text,
            Self::Far | Self::Near | Self::Left | Self::Right | Self::Low | Self::High => Sort::Length,
            Self::Length | Self::Flange | Self::Web | Self::Pitch | Self::RowPitch => Sort::Size,
            Self::GrainDeg => Sort::Degrees,
            Self::Count | Self::Rows => Sort::Count,
        }
    }

    /// The name by which its field is found among all widgets.
    #[must_use]
    pub fn name(self) -> String {
        format!("making {self:?}")
    }
}

/// The question of a connector form.
fn question(form: &str, key: &str) -> Option<&'static Question> {
    Form::named(form)?.questions.iter().find(|it| it.key == key)
}

/// The box of the chosen member in the drawing plane, else of the last one: what is new lies as far across.
fn beside(look: &Look<'_>) -> Rect {
    let members = &look.kept.joint.members;
    let is_chosen = |id: &str| matches!(look.chosen, Some(Subject::Member(it)) if it == id);
    let at = members.iter().position(|it| is_chosen(&it.id)).or(members.len().checked_sub(1));
    let body = at.and_then(|at| look.kept.trace.bodies.iter().find(|it| it.owner == Owner::Member(at)));
    let thick = usual(look.unit(), 1.5, 38.0);
    body.map_or(Rect::new(0.0, 0.0, thick, thick), |it| it.region.bounds())
}

/// A usual measure: in an inch joint, and in a metric one.
fn usual(unit: LengthUnit, inches: f64, mm: f64) -> f64 {
    match unit {
        LengthUnit::Inch => inches * MM_PER_INCH,
        LengthUnit::Millimetre => mm,
    }
}

impl Making {
    /// The fields, in their order.
    #[must_use]
    pub fn asks(&self, view: From) -> Vec<Key> {
        let mut all = Vec::new();
        let [begin, end] = Key::ends(view);
        match &self.kind {
            Kind::Member(shape) => {
                all.push(Key::Name);
                if *shape == Shape::ISection {
                    all.extend([Key::Flange, Key::Web]);
                }
                all.extend([begin, end]);
            }
            Kind::Stock(size) => {
                all.push(Key::Name);
                let lengthwise = self.settings.lies != Lies::EndOn;
                if lengthwise || size.depth_mm.is_none() {
                    all.push(Key::Length);
                }
                all.push(begin);
                if !lengthwise {
                    all.push(end);
                }
            }
            Kind::Form(word) => {
                let questions = Form::named(word).map_or(&[][..], |it| it.questions);
                all.extend(questions.iter().map(|it| Key::Asked(word, it.key)));
                all.push(Key::Angle);
            }
            Kind::Profile => all.extend([Key::Thickness, Key::Bend, Key::Far, Key::Near]),
            Kind::Holes => {
                all.extend([Key::Count, Key::Pitch, Key::Rows, Key::RowPitch, Key::Row, Key::Angle]);
            }
            Kind::Toe(_) => all.extend([Key::Start, Key::Slope]),
            Kind::Row(_) | Kind::HeadOn(_) => {
                all.extend([Key::Count, Key::Pitch, Key::Rows, Key::RowPitch]);
            }
            Kind::Cut(_) | Kind::Dimension | Kind::Measure(_) => {}
        }
        if matches!(self.settings.grain, Some(Grain::InPlane(_)))
            && matches!(self.kind, Kind::Member(_) | Kind::Stock(_))
        {
            all.push(Key::GrainDeg);
        }
        all
    }

    /// The text of a field: what was typed, or what it is at first.
    #[must_use]
    pub fn text(&self, key: Key, look: &Look<'_>) -> String {
        self.texts.get(&key).cloned().unwrap_or_else(|| self.at_first(key, look))
    }

    fn at_first(&self, key: Key, look: &Look<'_>) -> String {
        let unit = look.unit();
        let length = |inches: f64, mm: f64| words::exact(usual(unit, inches, mm), unit);
        let across = |mm: f64| words::exact(clean(mm), unit);
        let last = look.kept.joint.members.last();
        match key {
            Key::Name => String::new(),
            Key::Length => length(24.0, 600.0),
            Key::Far => last.map_or_else(|| length(0.0, 0.0), |it| words::exact(it.depth.from, unit)),
            Key::Near => last.map_or_else(|| length(24.0, 600.0), |it| words::exact(it.depth.to, unit)),
            Key::Left => across(beside(look).x0),
            Key::Right => across(beside(look).x1),
            Key::Low => across(beside(look).y0),
            Key::High => across(beside(look).y1),
            Key::GrainDeg => "0".into(),
            Key::Flange => length(1.5, 39.0),
            Key::Web => length(0.375, 9.0),
            Key::Count => if matches!(self.kind, Kind::Row(_)) { "3" } else { "1" }.into(),
            Key::Pitch => length(3.0, 75.0),
            Key::Rows => "1".into(),
            Key::RowPitch => length(3.0, 75.0),
            Key::Thickness => length(0.125, 3.0),
            Key::Bend => length(0.0, 0.0),
            Key::Row | Key::Angle => String::new(),
            Key::Start => self.rule(look).map_or(String::new(), |it| words::exact(it.start_mm, unit)),
            Key::Slope => self.rule(look).map_or(String::new(), |it| words::degrees(it.angle_deg)),
            Key::Asked(form, key) => {
                let by = look.kept.joint.standard;
                question(form, key).map_or(String::new(), |it| it.shown(it.default(by), by))
            }
        }
    }

    /// Start and slope of a toe-nail, as the standard of the joint has them.
    fn rule(&self, look: &Look<'_>) -> Option<Rule> {
        let Kind::Toe(spec) = &self.kind else { return None };
        Some(Rule::of(spec, look.kept.joint.standard))
    }

    /// Why the text of a field cannot be used, in words.
    #[must_use]
    pub fn error(&self, key: Key, look: &Look<'_>) -> Option<String> {
        if let Key::Asked(form, asked) = key {
            let by = look.kept.joint.standard;
            return question(form, asked)?.read(&self.text(key, look), by).err().map(|it| it.to_string());
        }
        if key == Key::Angle {
            return self.number_or_none(key, look).err();
        }
        if key == Key::Row {
            return self.number_or_none_length(key, look).err();
        }
        self.number(key, look).err()
    }

    /// Forgets what was typed and cannot be: the next thing does not begin with it.
    pub(in crate::window) fn forget_refused(&mut self, look: &Look<'_>) {
        let is_refused = |it: &Key| self.error(*it, look).is_some();
        let refused: Vec<Key> = self.texts.keys().copied().filter(is_refused).collect();
        self.texts.retain(|key, _| !refused.contains(key));
    }

    /// An angle, or none where nothing stands in the field.
    ///
    /// # Errors
    /// In words, when it cannot be read.
    pub fn number_or_none(&self, key: Key, look: &Look<'_>) -> Result<Option<f64>, String> {
        match self.text(key, look).trim() {
            "" => Ok(None),
            text => words::angle(text).map(Some),
        }
    }

    /// A length, or none where nothing stands in the field.
    ///
    /// # Errors
    /// In words, when it cannot be read.
    pub fn number_or_none_length(&self, key: Key, look: &Look<'_>) -> Result<Option<f64>, String> {
        match self.text(key, look).trim() {
            "" => Ok(None),
            text => words::length(text, look.unit()).map(Some),
        }
    }

    /// A count.
    ///
    /// # Errors
    /// In words, when it cannot be read or cannot be.
    pub fn count(&self, key: Key, look: &Look<'_>) -> Result<usize, String> {
        let count = self.number(key, look)?;
        #[expect(clippy::cast_possible_truncation, reason = "checked to be a small whole number")]
        #[expect(clippy::cast_sign_loss, reason = "checked to be at least one")]
        Ok(count as usize)
    }

    /// The number that a field holds: millimetres, degrees, a count; 0 for a text.
    ///
    /// # Errors
    /// In words, when it cannot be read or cannot be.
    pub fn number(&self, key: Key, look: &Look<'_>) -> Result<f64, String> {
        let text = self.text(key, look);
        match key.sort() {
            Sort::Text => Ok(0.0),
            Sort::Length => words::length(&text, look.unit()),
            Sort::Size => match words::length(&text, look.unit())? {
                mm if 0.0 < mm => Ok(mm),
                _ => Err("It must be more than nothing.".into()),
            },
            Sort::Degrees => words::angle(&text),
            Sort::Count => match text.trim().parse::<u32>() {
                Ok(count @ 1..=200) => Ok(f64::from(count)),
                Ok(_) => Err("From 1 to 200 are possible.".into()),
                Err(_) => Err(format!("\u{201c}{}\u{201d} is no count. Type a whole number.", text.trim())),
            },
        }
    }
}
