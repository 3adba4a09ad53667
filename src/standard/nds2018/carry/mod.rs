//! What a fastener carries by NDS 2018, chapters 10 to 12, with gaps by AWC Technical Report 12.
//!
//! Formulas work in inches and pounds, as both documents print them; what comes in and what goes out is
//! newtons and millimetres. "Adjusted" is allowable stress design. Net section, row and group tear-out of
//! the wood, and steel parts, are not counted here and the answers say so.

mod axial;
mod bearing;
mod combined;
mod factors;
mod group;
mod lateral;
mod reduction;
mod seat;
mod shank;
mod withdrawal;
mod working;
mod yields;

pub(super) use axial::along;
pub(super) use combined::both_ways;
pub(super) use lateral::across;
