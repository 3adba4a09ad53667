//! Lengths, angles and forces in their notation, and vectors in space. Knows no wood.

pub mod angle;
pub mod compare;
pub mod force;
pub mod length;
mod notation;
mod number;
pub mod vector;

pub use length::LengthUnit;
pub use vector::Vec3;
