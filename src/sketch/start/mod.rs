//! Starting joints: asked for a few sizes, they give a joint that can be edited.
//!
//! At its default sizes none has a fault by its standard. Other sizes are drawn as they are given; what is
//! wrong with them is for the findings to say. Only what cannot be drawn at all is refused.

mod angle;
mod brace;
mod build;
mod hanger;
mod ledger;
mod notch;
mod rafter;
mod sill;
mod sister;
mod splice;
mod strap;
#[cfg(test)]
mod tests;

use self::build::Build;
use super::question::{Question, Sizes, WishError};
use crate::joint::Joint;
use crate::stock::Stock;

/// A starting joint and what it asks for.
#[derive(Clone, Copy, Debug)]
pub struct Starter {
    /// The word for it on the command line.
    pub word: &'static str,
    /// What it is called.
    pub title: &'static str,
    /// What it draws, in one plain sentence.
    pub says: &'static str,
    /// The sizes that it asks for.
    pub questions: &'static [Question],
    draw: fn(&mut Build<'_>, &Sizes) -> Result<(), WishError>,
}

/// Every starting joint, in the order of the lists.
pub const STARTERS: [Starter; 10] = [
    ledger::LEDGER,
    hanger::HANGER,
    strap::STRAP,
    angle::ANGLE,
    sill::SILL,
    splice::SPLICE,
    rafter::RAFTER,
    notch::NOTCH,
    brace::BRACE,
    sister::SISTER,
];

impl Starter {
    /// The starting joint of this word.
    #[must_use]
    pub fn named(word: &str) -> Option<&'static Self> {
        STARTERS.iter().find(|it| it.word == word)
    }

    /// Draws it, checked by the standard of the sizes and in its unit.
    ///
    /// # Errors
    /// Sizes that cannot be drawn together, or for which stock holds no fastener.
    pub fn start(&self, sizes: &Sizes, stock: &Stock) -> Result<Joint, WishError> {
        let mut build = Build::new(self.title, sizes.by(), stock);
        (self.draw)(&mut build, sizes)?;
        Ok(build.joint)
    }
}
