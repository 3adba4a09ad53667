//! Generic connector forms by their measures, drawn against a face. No maker's part.
//!
//! A form is drawn in lines of its own: `u` along the face and `v` out of it, depth about zero. A
//! [`Seat`] lays these lines into the drawing, so that a connector snaps to its face and aligns by itself.

pub mod against;
mod angle;
mod hanger;
pub mod holes;
pub mod own;
mod post;
mod seat;
mod strap;
#[cfg(test)]
mod tests;

use std::sync::Arc;

pub use seat::Seat;

use self::holes::Fixing;
use super::question::{Question, Sizes, WishError};
use crate::joint::{Connector, Plate};
use crate::stock::Material;

/// A connector form and what it asks for.
#[derive(Clone, Copy, Debug)]
pub struct Form {
    /// The word for it.
    pub word: &'static str,
    /// What it is called.
    pub title: &'static str,
    /// How it lies against its face, in one plain sentence.
    pub says: &'static str,
    /// The measures that it asks for.
    pub questions: &'static [Question],
    plates: fn(&Sizes, &Fixing) -> Result<Vec<Plate>, WishError>,
}

/// Every form, in the order of the lists.
pub const FORMS: [Form; 5] = [strap::STRAP, angle::ANGLE, hanger::HANGER, post::POST_SEAT, strap::TIE];

impl Form {
    /// The form of this word.
    #[must_use]
    pub fn named(word: &str) -> Option<&'static Self> {
        FORMS.iter().find(|it| it.word == word)
    }

    /// The connector of this form: its steel, laid against `seat`, with holes for `fixing`.
    ///
    /// # Errors
    /// Measures that do not go together: holes that run into each other or out of the steel.
    pub fn connector(
        &self,
        sizes: &Sizes,
        fixing: &Fixing,
        seat: &Seat,
        (id, material): (&str, Arc<Material>),
    ) -> Result<Connector, WishError> {
        let mut plates = (self.plates)(sizes, fixing)?;
        let mut number = 0;
        for plate in &mut plates {
            holes::check(plate, sizes)?;
            for hole in &mut plate.holes {
                number += 1;
                hole.id = format!("h{number}");
            }
        }
        let plates = plates.iter().map(|it| seat.lay(it)).collect();
        Ok(Connector { id: id.to_owned(), name: String::new(), material, plates, rating: None })
    }
}
