//! Lengths, their notation, and vectors in space. Knows no wood.

pub mod compare;
pub mod length;
pub mod vector;

pub use length::LengthUnit;
pub use vector::Vec3;
