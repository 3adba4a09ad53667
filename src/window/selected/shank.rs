//! The fields of a fastener: what each shows, and what its text changes.

use super::field::plain_deg;
use super::named::positive;
use crate::joint::{Fastener, LeadHole, Placement, Seat};
use crate::unit::{LengthUnit, Vec3};
use crate::window::canvas::gesture::direction;
use crate::window::words;

/// Fields of a fastener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FastenerField {
    /// Its head, to the right.
    HeadX,
    /// Its head, upward.
    HeadY,
    /// Its head, towards the viewer.
    HeadZ,
    /// The way it points in the drawing plane.
    Direction,
    /// How far it leans out of the drawing plane, towards the viewer.
    Lean,
    /// In a hole: degrees from square to the steel.
    Tilt,
    /// How far its head stands off or is sunk.
    SeatBy,
    /// Diameter of its drilled hole.
    LeadDiameter,
    /// Depth of its drilled hole.
    LeadDepth,
}

impl FastenerField {
    /// The words before it.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::HeadX => "Head, to the right",
            Self::HeadY => "Head, up",
            Self::HeadZ => "Depth row",
            Self::Direction => "Direction",
            Self::Lean => "Lean in depth",
            Self::Tilt => "From square",
            Self::SeatBy => "Head off by",
            Self::LeadDiameter => "Lead hole",
            Self::LeadDepth => "Lead hole depth",
        }
    }
}

/// What stands in a field; empty where the fastener has no such thing.
pub(super) fn read(field: FastenerField, of: &Fastener, unit: LengthUnit) -> String {
    let length = |mm| words::exact(mm, unit);
    match (field, &of.place) {
        (FastenerField::HeadX, Placement::Free { head, .. }) => length(head.x),
        (FastenerField::HeadY, Placement::Free { head, .. }) => length(head.y),
        (FastenerField::HeadZ, Placement::Free { head, .. }) => length(head.z),
        (FastenerField::Direction, Placement::Free { toward, .. }) => {
            plain_deg(toward.y.atan2(toward.x).to_degrees())
        }
        (FastenerField::Lean, Placement::Free { toward, .. }) => {
            plain_deg(toward.z.atan2(toward.x.hypot(toward.y)).to_degrees())
        }
        (FastenerField::Tilt, Placement::Fills { angle_deg, .. }) => {
            angle_deg.map_or(String::new(), plain_deg)
        }
        (FastenerField::SeatBy, _) => match of.seat {
            Seat::Flush => String::new(),
            Seat::Proud(mm) | Seat::Overdriven(mm) => length(mm),
        },
        (FastenerField::LeadDiameter, _) => of.lead_hole.map_or(String::new(), |it| length(it.diameter_mm)),
        (FastenerField::LeadDepth, _) => of.lead_hole.map_or(String::new(), |it| length(it.depth_mm)),
        (
            FastenerField::HeadX
            | FastenerField::HeadY
            | FastenerField::HeadZ
            | FastenerField::Direction
            | FastenerField::Lean,
            Placement::Fills { .. },
        )
        | (FastenerField::Tilt, Placement::Free { .. }) => String::new(),
    }
}

/// Changes what a field shows.
///
/// # Errors
/// What is wrong with the text, in words.
pub(super) fn write(
    field: FastenerField,
    of: &mut Fastener,
    text: &str,
    unit: LengthUnit,
) -> Result<(), String> {
    match field {
        FastenerField::HeadX => head_mut(of)?.x = words::length(text, unit)?,
        FastenerField::HeadY => head_mut(of)?.y = words::length(text, unit)?,
        FastenerField::HeadZ => head_mut(of)?.z = words::length(text, unit)?,
        FastenerField::Direction => turn_to(of, words::angle(text)?)?,
        FastenerField::Lean => lean_by(of, words::angle(text)?)?,
        FastenerField::Tilt => {
            let wanted = if text.trim().is_empty() { None } else { Some(words::angle(text)?) };
            if let Placement::Fills { angle_deg, .. } = &mut of.place {
                *angle_deg = wanted;
            }
        }
        FastenerField::SeatBy => match &mut of.seat {
            Seat::Proud(mm) | Seat::Overdriven(mm) => *mm = positive(text, unit)?,
            Seat::Flush => return Err("Pick first whether it stands proud or is overdriven.".into()),
        },
        FastenerField::LeadDiameter | FastenerField::LeadDepth if text.trim().is_empty() => {
            of.lead_hole = None;
        }
        FastenerField::LeadDiameter => {
            let depth_mm = of.lead_hole.map_or(of.spec.length_mm, |it| it.depth_mm);
            of.lead_hole = Some(LeadHole { diameter_mm: positive(text, unit)?, depth_mm });
        }
        FastenerField::LeadDepth => {
            let diameter_mm = of.lead_hole.map_or(of.spec.diameter_mm, |it| it.diameter_mm);
            of.lead_hole = Some(LeadHole { diameter_mm, depth_mm: positive(text, unit)? });
        }
    }
    Ok(())
}

const IN_A_HOLE: &str = "It fills a hole and stays there.";

fn head_mut(of: &mut Fastener) -> Result<&mut Vec3, String> {
    match &mut of.place {
        Placement::Free { head, .. } => Ok(head),
        Placement::Fills { .. } => Err(IN_A_HOLE.into()),
    }
}

fn turn_to(of: &mut Fastener, degrees: f64) -> Result<(), String> {
    let Placement::Free { toward, .. } = &mut of.place else { return Err(IN_A_HOLE.into()) };
    let in_plane = toward.x.hypot(toward.y);
    if in_plane == 0.0 {
        return Err("It runs along the depth and has no direction in the drawing plane.".into());
    }
    let way = direction(degrees) * in_plane;
    (toward.x, toward.y) = (way.x, way.y);
    Ok(())
}

/// Leans so far out of the drawing plane; its direction there stays, to the right where it had none.
fn lean_by(of: &mut Fastener, degrees: f64) -> Result<(), String> {
    let Placement::Free { toward, .. } = &mut of.place else { return Err(IN_A_HOLE.into()) };
    if 90.0 < degrees.abs() {
        return Err("A lean is between -90 degrees, straight away, and 90, straight at the viewer.".into());
    }
    let flat = Vec3::new(toward.x, toward.y, 0.0).unit().unwrap_or(Vec3::X);
    let lean = direction(degrees);
    // Adding zero turns minus zero into zero.
    *toward = Vec3::new(flat.x * lean.x + 0.0, flat.y * lean.x + 0.0, lean.y);
    Ok(())
}
