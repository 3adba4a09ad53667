//! Fields of what is asked of a joint: the size and way of a load, a typed-in rating, a partial factor.

use super::field::Written;
use crate::joint::edit::Change;
use crate::joint::{Conditions, Connector, Edit, Load, RatedHoles, Rating};
use crate::unit::force;
use crate::unit::{LengthUnit, Vec3};
use crate::window::canvas::gesture::direction;
use crate::window::look::Look;
use crate::window::words;

/// A field of what is asked. Loads are known by their place in the joint's list, connectors by their id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AskedField {
    /// How large a load is.
    Size(usize),
    /// The way a load acts in the drawing plane.
    Direction(usize),
    /// What the maker of a connector says that it carries.
    Rating(String),
    /// The way that rating is for, in the drawing plane.
    RatingDirection(String),
    /// Where that rating is written.
    RatingNote(String),
    /// The partial factor of connections.
    Partial,
}

const GONE: &str = "It is no longer in the joint.";

/// The longest note that a joint file takes, in letters.
const LONGEST_NOTE: usize = 1000;

/// The bounds of a partial factor in a joint file.
const PARTIALS: std::ops::RangeInclusive<f64> = 1.0..=10.0;

impl AskedField {
    pub(super) fn words(&self) -> &'static str {
        match self {
            Self::Size(_) => "Size",
            Self::Direction(_) | Self::RatingDirection(_) => "Direction",
            Self::Rating(_) => "Rating, as typed",
            Self::RatingNote(_) => "Where it is written",
            Self::Partial => "Partial factor",
        }
    }

    pub(super) fn empty_words(&self) -> &'static str {
        match self {
            Self::Size(_) => "not known",
            Self::Rating(_) => "none",
            Self::RatingNote(_) => "page, date, what else it presumes",
            Self::Partial => "as recommended",
            Self::Direction(_) | Self::RatingDirection(_) => "",
        }
    }

    pub(super) fn name(&self) -> String {
        format!("asked {self:?}")
    }

    pub(super) fn read(&self, look: &Look<'_>) -> String {
        let unit = look.unit();
        let text = match self {
            Self::Size(n) => {
                load(look, *n).and_then(|it| it.newtons).map(|newtons| force::exact(newtons, unit))
            }
            Self::Direction(n) => load(look, *n).and_then(|it| in_plane_deg(it.toward)).map(degrees),
            Self::Rating(id) => rating(look, id).map(|it| force::exact(it.newtons, unit)),
            Self::RatingDirection(id) => rating(look, id).and_then(|it| in_plane_deg(it.toward)).map(degrees),
            Self::RatingNote(id) => rating(look, id).map(|it| it.note.clone()),
            Self::Partial => look.joint.conditions.gamma_m.map(|it| it.to_string()),
        };
        text.unwrap_or_default()
    }

    pub(super) fn write(&self, text: &str, look: &Look<'_>) -> Written {
        let unit = look.unit();
        match self {
            Self::Size(n) => {
                let newtons = optional_force(text, unit)?;
                change_load(look, *n, self.words(), |it| Load { newtons, ..it })
            }
            Self::Direction(n) => {
                let toward = toward(text)?;
                change_load(look, *n, self.words(), |it| Load { toward, ..it })
            }
            Self::Rating(id) => match optional_force(text, unit)? {
                Some(newtons) => change_rating(look, id, self.words(), |it| {
                    let old = it.unwrap_or(Rating {
                        newtons,
                        toward: -Vec3::Y,
                        holes: RatedHoles::default(),
                        spec: None,
                        note: String::new(),
                    });
                    Some(Rating { newtons, ..old })
                }),
                None => change_rating(look, id, self.words(), |_| None),
            },
            Self::RatingDirection(id) => {
                let toward = toward(text)?;
                change_rating(look, id, self.words(), |it| it.map(|it| Rating { toward, ..it }))
            }
            Self::RatingNote(id) if text.chars().count() <= LONGEST_NOTE => {
                change_rating(look, id, self.words(), |it| {
                    it.map(|it| Rating { note: text.to_owned(), ..it })
                })
            }
            Self::RatingNote(_) => Err(format!("A note has at most {LONGEST_NOTE} letters.")),
            Self::Partial => {
                let gamma_m = partial(text)?;
                Ok((
                    self.words().to_owned(),
                    Edit::Conditions(Conditions { gamma_m, ..look.joint.conditions }),
                ))
            }
        }
    }
}

fn load<'a>(look: &Look<'a>, n: usize) -> Option<&'a Load> {
    look.joint.loads.get(n)
}

fn rating<'a>(look: &Look<'a>, id: &str) -> Option<&'a Rating> {
    look.joint.connectors.iter().find(|it| it.id == id)?.rating.as_ref()
}

/// A load with a change, as a step.
fn change_load(look: &Look<'_>, n: usize, what: &str, change: impl FnOnce(Load) -> Load) -> Written {
    let old = load(look, n).ok_or(GONE)?;
    let new = Box::new(change(old.clone()));
    Ok((format!("{what} of load {}", n + 1), Edit::Loads(Change::Replace { at: n, new })))
}

/// A connector with another rating, as a step.
fn change_rating(
    look: &Look<'_>,
    id: &str,
    what: &str,
    change: impl FnOnce(Option<Rating>) -> Option<Rating>,
) -> Written {
    let at = look.joint.connectors.iter().position(|it| it.id == id).ok_or(GONE)?;
    let old = &look.joint.connectors[at];
    let new = Box::new(Connector { rating: change(old.rating.clone()), ..old.clone() });
    Ok((format!("{what} of {id}"), Edit::Connectors(Change::Replace { at, new })))
}

/// Degrees anticlockwise from the right; `None` for what leaves the drawing plane.
pub(super) fn in_plane_deg(toward: Vec3) -> Option<f64> {
    (toward.z == 0.0 && 0.0 < toward.x.hypot(toward.y)).then(|| toward.y.atan2(toward.x).to_degrees())
}

fn degrees(deg: f64) -> String {
    format!("{}\u{b0}", (deg * 1e6).round() / 1e6 + 0.0)
}

fn toward(text: &str) -> Result<Vec3, String> {
    let way = direction(words::angle(text)?);
    Ok(Vec3::new(way.x, way.y, 0.0))
}

fn optional_force(text: &str, unit: LengthUnit) -> Result<Option<f64>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    force::parse(text, unit).map(Some).map_err(|it| it.to_string())
}

fn partial(text: &str) -> Result<Option<f64>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    match text.trim().replace(',', ".").parse::<f64>() {
        Ok(it) if PARTIALS.contains(&it) => Ok(Some(it)),
        Ok(_) | Err(_) => Err("A partial factor is a number from 1 to 10, as 1.3.".into()),
    }
}
