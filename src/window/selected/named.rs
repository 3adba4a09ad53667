//! What a thing is called, and what a hole takes.

use super::field::{GONE, Written};
use crate::drawing::Subject;
use crate::joint::edit::Change;
use crate::joint::{Connector, Edit, Hole};
use crate::sketch::arrange::rename::{Whose, renamed};
use crate::unit::LengthUnit;
use crate::window::look::Look;
use crate::window::words;

/// What a thing is called by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NameField {
    /// Its id: by it everything names it, in the file too.
    Id,
    /// The name of a connector for people.
    Name,
}

/// Fields of what a hole takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TakesField {
    /// The diameter of the shank.
    Diameter,
    /// The least length; none where it is empty.
    Least,
}

impl NameField {
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Id => "Id",
            Self::Name => "Name",
        }
    }
}

impl TakesField {
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Diameter => "Of diameter",
            Self::Least => "Not shorter than",
        }
    }

    pub(super) fn read(self, of: &Hole, unit: LengthUnit) -> String {
        let mm = match self {
            Self::Diameter => of.takes.map(|it| it.diameter_mm),
            Self::Least => of.takes.and_then(|it| it.min_length_mm),
        };
        mm.map_or(String::new(), |it| words::exact(it, unit))
    }

    pub(super) fn write(self, of: &mut Hole, text: &str, unit: LengthUnit) -> Result<(), String> {
        let takes = of.takes.as_mut().ok_or("It takes anything: pick first what it takes.")?;
        match self {
            Self::Diameter => takes.diameter_mm = positive(text, unit)?,
            Self::Least if text.trim().is_empty() => takes.min_length_mm = None,
            Self::Least => takes.min_length_mm = Some(positive(text, unit)?),
        }
        Ok(())
    }
}

/// A length of more than nothing.
pub(super) fn positive(text: &str, unit: LengthUnit) -> Result<f64, String> {
    match words::length(text, unit)? {
        mm if 0.0 < mm => Ok(mm),
        _ => Err("It must be more than nothing.".into()),
    }
}

fn connector<'a>(subject: &Subject, look: &Look<'a>) -> Option<(usize, &'a Connector)> {
    let Subject::Connector(id) = subject else { return None };
    look.joint.connectors.iter().enumerate().find(|it| it.1.id == *id)
}

pub(super) fn read(subject: &Subject, field: NameField, look: &Look<'_>) -> String {
    match (field, subject) {
        (NameField::Name, _) => connector(subject, look).map_or(String::new(), |it| it.1.name.clone()),
        (NameField::Id, Subject::Member(id) | Subject::Connector(id) | Subject::Fastener(id)) => id.clone(),
        (NameField::Id, Subject::Hole(_, hole)) => hole.clone(),
        (NameField::Id, Subject::Dimension(_)) => String::new(),
    }
}

pub(super) fn write(subject: &Subject, field: NameField, text: &str, look: &Look<'_>) -> Written {
    if field == NameField::Name {
        let (at, old) = connector(subject, look).ok_or(GONE)?;
        let new = Box::new(Connector { name: text.to_owned(), ..old.clone() });
        return Ok((format!("Name of {}", old.id), Edit::Connectors(Change::Replace { at, new })));
    }
    let whose = match subject {
        Subject::Member(id) | Subject::Connector(id) | Subject::Fastener(id) => Whose::Thing(id),
        Subject::Hole(connector, hole) => Whose::Hole(connector, hole),
        Subject::Dimension(_) => return Err(GONE.into()),
    };
    let old = read(subject, field, look);
    let edit = renamed(look.joint, whose, text).map_err(|it| words::sentence(&it.to_string()))?;
    Ok((format!("Call {old} {}", text.trim()), edit))
}

/// The same thing by another id.
pub(super) fn called(subject: &Subject, id: &str) -> Subject {
    let id = id.trim().to_owned();
    match subject {
        Subject::Member(_) => Subject::Member(id),
        Subject::Connector(_) => Subject::Connector(id),
        Subject::Fastener(_) => Subject::Fastener(id),
        Subject::Hole(connector, _) => Subject::Hole(connector.clone(), id),
        Subject::Dimension(at) => Subject::Dimension(*at),
    }
}
