//! The fields: what each shows, and the edit that its text asks for.

use kurbo::Point;

pub use super::asked::AskedField;
use super::named::{self, positive};
pub use super::named::{NameField, TakesField};
use super::shank;
pub use super::shank::FastenerField;
use crate::drawing::Subject;
use crate::joint::edit::Change;
use crate::joint::{Connector, Edit, Fastener, Grain, Hole, Interval, Member, Outline, Plate};
use crate::unit::LengthUnit;
use crate::window::look::Look;
use crate::window::words;

/// A field of the pane.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Field {
    /// Of the joint.
    Joint(JointField),
    /// Of the fastener with this id.
    Fastener(String, FastenerField),
    /// Of the member with this id.
    Member(String, MemberField),
    /// Of a plate of the connector with this id.
    Plate(String, usize, PlateField),
    /// Of a hole: the ids of connector and hole.
    Hole(String, String, HoleField),
    /// What a hole takes: the ids of connector and hole.
    Takes(String, String, TakesField),
    /// What a thing is called.
    Called(Subject, NameField),
    /// Of what is asked of the joint.
    Asked(AskedField),
}

/// Fields of the joint itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointField {
    /// Its title.
    Title,
    /// The number of the detail.
    Detail,
    /// Who owns the document.
    Owner,
    /// Who drew it.
    Drawn,
    /// Who checked it.
    Checked,
    /// The date of issue.
    Date,
}

/// Fields of a member.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MemberField {
    /// Its name.
    Name,
    /// Its corner or centre, to the right.
    X,
    /// Its corner or centre, upward.
    Y,
    /// Its width.
    Width,
    /// Its height.
    Height,
    /// Its turn.
    Turn,
    /// Diameter of a round one.
    Diameter,
    /// Flange height of an I-section.
    Flange,
    /// Web thickness of an I-section.
    Web,
    /// The far end of its depth.
    Far,
    /// The near end of its depth.
    Near,
    /// The direction of its grain in the drawing plane.
    GrainDeg,
}

/// Fields of a plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlateField {
    /// Thickness of the steel.
    Thickness,
    /// Radius of its bends.
    Bend,
    /// The far end of its depth.
    Far,
    /// The near end of its depth.
    Near,
}

/// Fields of a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleField {
    /// Place along the profile.
    Along,
    /// Place in depth.
    Depth,
    /// Diameter.
    Diameter,
    /// A forced angle.
    Angle,
}

/// The name of a step and its edit, or why there is none, in words.
pub type Written = Result<(String, Edit), String>;

pub(super) const GONE: &str = "It is no longer in the joint.";

impl Field {
    /// What stands before the field.
    #[must_use]
    pub fn words(&self) -> &'static str {
        match self {
            Self::Joint(it) => match it {
                JointField::Title => "Title",
                JointField::Detail => "Detail number",
                JointField::Owner => "Owner",
                JointField::Drawn => "Drawn by",
                JointField::Checked => "Checked by",
                JointField::Date => "Date",
            },
            Self::Fastener(_, it) => it.words(),
            Self::Member(_, it) => match it {
                MemberField::Name => "Name",
                MemberField::X => "Place, to the right",
                MemberField::Y => "Place, up",
                MemberField::Width => "Width",
                MemberField::Height => "Height",
                MemberField::Turn => "Turned by",
                MemberField::Diameter => "Diameter",
                MemberField::Flange => "Flange height",
                MemberField::Web => "Web thickness",
                MemberField::Far => "Depth from",
                MemberField::Near => "Depth to",
                MemberField::GrainDeg => "Grain direction",
            },
            Self::Plate(_, _, it) => match it {
                PlateField::Thickness => "Thickness",
                PlateField::Bend => "Bend radius",
                PlateField::Far => "Depth from",
                PlateField::Near => "Depth to",
            },
            Self::Hole(_, _, it) => match it {
                HoleField::Along => "Along the steel",
                HoleField::Depth => "Depth row",
                HoleField::Diameter => "Diameter",
                HoleField::Angle => "Forced angle",
            },
            Self::Takes(_, _, it) => it.words(),
            Self::Called(_, it) => it.words(),
            Self::Asked(it) => it.words(),
        }
    }

    /// What an empty field means.
    #[must_use]
    pub fn empty_words(&self) -> &'static str {
        match self {
            Self::Fastener(_, FastenerField::LeadDiameter | FastenerField::LeadDepth) => "none",
            Self::Hole(_, _, HoleField::Angle) => "none",
            Self::Fastener(_, FastenerField::Tilt) => "as the hole",
            Self::Member(_, MemberField::Name) | Self::Called(_, NameField::Name) => "as its id",
            Self::Takes(..) => "any",
            Self::Asked(it) => it.empty_words(),
            Self::Joint(_)
            | Self::Fastener(..)
            | Self::Member(..)
            | Self::Plate(..)
            | Self::Hole(..)
            | Self::Called(..) => "",
        }
    }

    /// The name by which the field is found among all widgets.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::Joint(it) => format!("joint {it:?}"),
            Self::Fastener(id, it) => format!("fastener {id} {it:?}"),
            Self::Member(id, it) => format!("member {id} {it:?}"),
            Self::Plate(id, n, it) => format!("plate {id} {n} {it:?}"),
            Self::Hole(id, hole, it) => format!("hole {id}/{hole} {it:?}"),
            Self::Takes(id, hole, it) => format!("takes {id}/{hole} {it:?}"),
            Self::Called(subject, it) => format!("called {subject:?} {it:?}"),
            Self::Asked(it) => it.name(),
        }
    }

    /// The value as text that reads back as the same value.
    #[must_use]
    pub fn read(&self, look: &Look<'_>) -> String {
        let unit = look.unit();
        let text = match self {
            Self::Joint(it) => Some(read_joint(*it, look)),
            Self::Fastener(id, it) => fastener(look, id).map(|(_, of)| shank::read(*it, of, unit)),
            Self::Member(id, it) => member(look, id).map(|(_, of)| read_member(*it, of, unit)),
            Self::Plate(id, n, it) => {
                connector(look, id).and_then(|(_, of)| of.plates.get(*n)).map(|of| read_plate(*it, of, unit))
            }
            Self::Hole(id, hole, it) => hole_of(look, id, hole).map(|(_, _, _, of)| read_hole(*it, of, unit)),
            Self::Takes(id, hole, it) => hole_of(look, id, hole).map(|(_, _, _, of)| it.read(of, unit)),
            Self::Called(subject, it) => Some(named::read(subject, *it, look)),
            Self::Asked(it) => Some(it.read(look)),
        };
        text.unwrap_or_default()
    }

    /// The edit that the text asks for.
    ///
    /// # Errors
    /// In words, when the text cannot be read or the value cannot be.
    pub fn write(&self, text: &str, look: &Look<'_>) -> Written {
        let unit = look.unit();
        match self {
            Self::Joint(it) => Ok(write_joint(*it, text, look)),
            Self::Fastener(id, it) => {
                let (at, old) = fastener(look, id).ok_or(GONE)?;
                let mut new = Box::new(old.clone());
                shank::write(*it, &mut new, text, unit)?;
                Ok((
                    format!("{} of fastener {}", self.words(), at + 1),
                    Edit::Fasteners(Change::Replace { at, new }),
                ))
            }
            Self::Member(id, it) => {
                let (at, old) = member(look, id).ok_or(GONE)?;
                let mut new = Box::new(old.clone());
                write_member(*it, &mut new, text, unit)?;
                Ok((format!("{} of {id}", self.words()), Edit::Members(Change::Replace { at, new })))
            }
            Self::Plate(id, n, it) => {
                let (at, old) = connector(look, id).ok_or(GONE)?;
                let mut new = Box::new(old.clone());
                write_plate(*it, new.plates.get_mut(*n).ok_or(GONE)?, text, unit)?;
                Ok((format!("{} of {id}", self.words()), Edit::Connectors(Change::Replace { at, new })))
            }
            Self::Hole(id, hole, it) => {
                let (at, plate, n, _) = hole_of(look, id, hole).ok_or(GONE)?;
                let mut new = Box::new(look.joint.connectors[at].clone());
                write_hole(*it, &mut new.plates[plate].holes[n], text, unit)?;
                let name = format!("{} of hole {id}/{hole}", self.words());
                Ok((name, Edit::Connectors(Change::Replace { at, new })))
            }
            Self::Takes(id, hole, it) => {
                let (at, plate, n, _) = hole_of(look, id, hole).ok_or(GONE)?;
                let mut new = Box::new(look.joint.connectors[at].clone());
                it.write(&mut new.plates[plate].holes[n], text, unit)?;
                let name = format!("{} of hole {id}/{hole}", self.words());
                Ok((name, Edit::Connectors(Change::Replace { at, new })))
            }
            Self::Called(subject, it) => named::write(subject, *it, text, look),
            Self::Asked(it) => it.write(text, look),
        }
    }
}

fn fastener<'a>(look: &Look<'a>, id: &str) -> Option<(usize, &'a Fastener)> {
    look.joint.fasteners.iter().enumerate().find(|it| it.1.id == id)
}

fn member<'a>(look: &Look<'a>, id: &str) -> Option<(usize, &'a Member)> {
    look.joint.members.iter().enumerate().find(|it| it.1.id == id)
}

fn connector<'a>(look: &Look<'a>, id: &str) -> Option<(usize, &'a Connector)> {
    look.joint.connectors.iter().enumerate().find(|it| it.1.id == id)
}

/// The place of a hole: connector, plate, hole, and the hole itself.
pub(super) fn hole_of<'a>(look: &Look<'a>, id: &str, hole: &str) -> Option<(usize, usize, usize, &'a Hole)> {
    let (at, owner) = connector(look, id)?;
    owner.plates.iter().enumerate().find_map(|(plate, of)| {
        let (n, found) = of.holes.iter().enumerate().find(|it| it.1.id == hole)?;
        Some((at, plate, n, found))
    })
}

pub(super) fn plain_deg(deg: f64) -> String {
    format!("{}\u{b0}", (deg * 1e6).round() / 1e6 + 0.0)
}

fn not_negative(text: &str, unit: LengthUnit) -> Result<f64, String> {
    match words::length(text, unit)? {
        mm if 0.0 <= mm => Ok(mm),
        _ => Err("It must not be less than nothing.".into()),
    }
}

fn read_joint(field: JointField, look: &Look<'_>) -> String {
    let (joint, sheet) = (look.joint, &look.joint.sheet);
    match field {
        JointField::Title => &joint.title,
        JointField::Detail => &sheet.detail,
        JointField::Owner => &sheet.owner,
        JointField::Drawn => &sheet.drawn,
        JointField::Checked => &sheet.checked,
        JointField::Date => &sheet.date,
    }
    .clone()
}

fn write_joint(field: JointField, text: &str, look: &Look<'_>) -> (String, Edit) {
    let mut sheet = look.joint.sheet.clone();
    let text = text.to_owned();
    match field {
        JointField::Title => return ("Title".into(), Edit::Title(text)),
        JointField::Detail => sheet.detail = text,
        JointField::Owner => sheet.owner = text,
        JointField::Drawn => sheet.drawn = text,
        JointField::Checked => sheet.checked = text,
        JointField::Date => sheet.date = text,
    }
    (Field::Joint(field).words().to_owned(), Edit::Sheet(Box::new(sheet)))
}

fn read_member(field: MemberField, of: &Member, unit: LengthUnit) -> String {
    let length = |mm| words::exact(mm, unit);
    let shown = match field {
        MemberField::Name => return of.name.clone(),
        MemberField::Far => Some(length(of.depth.from)),
        MemberField::Near => Some(length(of.depth.to)),
        MemberField::GrainDeg => match of.grain {
            Grain::InPlane(deg) => Some(plain_deg(deg)),
            Grain::AlongDepth | Grain::None => None,
        },
        MemberField::X => place(&of.outline).map(|it| length(it.x)),
        MemberField::Y => place(&of.outline).map(|it| length(it.y)),
        MemberField::Width
        | MemberField::Height
        | MemberField::Turn
        | MemberField::Diameter
        | MemberField::Flange
        | MemberField::Web => return read_outline(field, &of.outline, unit),
    };
    shown.unwrap_or_default()
}

fn place(outline: &Outline) -> Option<Point> {
    match outline {
        Outline::Rectangle { corner, .. } | Outline::ISection { corner, .. } => Some(*corner),
        Outline::Round { centre, .. } => Some(*centre),
        Outline::Polygon(_) | Outline::Path(_) => None,
    }
}

fn read_outline(field: MemberField, outline: &Outline, unit: LengthUnit) -> String {
    let length = |mm: &f64| words::exact(*mm, unit);
    match (field, outline) {
        (MemberField::Width, Outline::Rectangle { size_mm, .. } | Outline::ISection { size_mm, .. }) => {
            length(&size_mm.0)
        }
        (MemberField::Height, Outline::Rectangle { size_mm, .. } | Outline::ISection { size_mm, .. }) => {
            length(&size_mm.1)
        }
        (MemberField::Turn, Outline::Rectangle { turn_deg, .. } | Outline::ISection { turn_deg, .. }) => {
            plain_deg(*turn_deg)
        }
        (MemberField::Diameter, Outline::Round { diameter_mm, .. }) => length(diameter_mm),
        (MemberField::Flange, Outline::ISection { flange_mm, .. }) => length(flange_mm),
        (MemberField::Web, Outline::ISection { web_mm, .. }) => length(web_mm),
        _ => String::new(),
    }
}

fn write_member(field: MemberField, of: &mut Member, text: &str, unit: LengthUnit) -> Result<(), String> {
    match field {
        MemberField::Name => of.name = text.to_owned(),
        MemberField::Far => of.depth = depth(Interval { from: words::length(text, unit)?, ..of.depth })?,
        MemberField::Near => of.depth = depth(Interval { to: words::length(text, unit)?, ..of.depth })?,
        MemberField::GrainDeg => of.grain = Grain::InPlane(words::angle(text)?),
        MemberField::X | MemberField::Y => {
            let mm = words::length(text, unit)?;
            let (Outline::Rectangle { corner: at, .. }
            | Outline::ISection { corner: at, .. }
            | Outline::Round { centre: at, .. }) = &mut of.outline
            else {
                return Err("Its outline is drawn point by point.".into());
            };
            *(if field == MemberField::X { &mut at.x } else { &mut at.y }) = mm;
        }
        MemberField::Width
        | MemberField::Height
        | MemberField::Turn
        | MemberField::Diameter
        | MemberField::Flange
        | MemberField::Web => write_outline(field, &mut of.outline, text, unit)?,
    }
    Ok(())
}

fn write_outline(
    field: MemberField,
    outline: &mut Outline,
    text: &str,
    unit: LengthUnit,
) -> Result<(), String> {
    match (field, outline) {
        (MemberField::Width, Outline::Rectangle { size_mm, .. }) => size_mm.0 = positive(text, unit)?,
        (MemberField::Height, Outline::Rectangle { size_mm, .. }) => size_mm.1 = positive(text, unit)?,
        (MemberField::Turn, Outline::Rectangle { turn_deg, .. } | Outline::ISection { turn_deg, .. }) => {
            *turn_deg = words::angle(text)?;
        }
        (MemberField::Diameter, Outline::Round { diameter_mm, .. }) => *diameter_mm = positive(text, unit)?,
        (_, Outline::ISection { size_mm, flange_mm, web_mm, .. }) => {
            let (mut size, mut flange, mut web) = (*size_mm, *flange_mm, *web_mm);
            let wanted = positive(text, unit)?;
            let measure = match field {
                MemberField::Width => &mut size.0,
                MemberField::Height => &mut size.1,
                MemberField::Flange => &mut flange,
                MemberField::Web
                | MemberField::Name
                | MemberField::X
                | MemberField::Y
                | MemberField::Turn
                | MemberField::Diameter
                | MemberField::Far
                | MemberField::Near
                | MemberField::GrainDeg => &mut web,
            };
            *measure = wanted;
            if size.0 <= web || size.1 <= 2.0 * flange {
                return Err("Web and flanges must fit into its width and height.".into());
            }
            (*size_mm, *flange_mm, *web_mm) = (size, flange, web);
        }
        _ => return Err("Its outline has no such measure.".into()),
    }
    Ok(())
}

fn depth(wanted: Interval) -> Result<Interval, String> {
    if wanted.from < wanted.to { Ok(wanted) } else { Err("Depth must begin before it ends.".into()) }
}

fn read_plate(field: PlateField, of: &Plate, unit: LengthUnit) -> String {
    let mm = match field {
        PlateField::Thickness => of.thickness_mm,
        PlateField::Bend => of.bend_radius_mm,
        PlateField::Far => of.depth.from,
        PlateField::Near => of.depth.to,
    };
    words::exact(mm, unit)
}

fn write_plate(field: PlateField, of: &mut Plate, text: &str, unit: LengthUnit) -> Result<(), String> {
    match field {
        PlateField::Thickness => of.thickness_mm = positive(text, unit)?,
        PlateField::Bend => of.bend_radius_mm = not_negative(text, unit)?,
        PlateField::Far => of.depth = depth(Interval { from: words::length(text, unit)?, ..of.depth })?,
        PlateField::Near => of.depth = depth(Interval { to: words::length(text, unit)?, ..of.depth })?,
    }
    Ok(())
}

fn read_hole(field: HoleField, of: &Hole, unit: LengthUnit) -> String {
    match field {
        HoleField::Along => words::exact(of.along_mm, unit),
        HoleField::Depth => words::exact(of.depth_mm, unit),
        HoleField::Diameter => words::exact(of.diameter_mm, unit),
        HoleField::Angle => of.angle_deg.map_or(String::new(), plain_deg),
    }
}

fn write_hole(field: HoleField, of: &mut Hole, text: &str, unit: LengthUnit) -> Result<(), String> {
    match field {
        HoleField::Along => of.along_mm = not_negative(text, unit)?,
        HoleField::Depth => of.depth_mm = words::length(text, unit)?,
        HoleField::Diameter => of.diameter_mm = positive(text, unit)?,
        HoleField::Angle => {
            of.angle_deg = if text.trim().is_empty() { None } else { Some(words::angle(text)?) }
        }
    }
    Ok(())
}
