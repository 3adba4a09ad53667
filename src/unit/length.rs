//! Lengths as people type and read them. Knows no wood.

/// Millimetres in one inch, exactly.
pub const MM_PER_INCH: f64 = 25.4;

/// The unit in which a joint's lengths are shown and typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LengthUnit {
    /// Inches with fractions, feet from one foot upward.
    #[default]
    Inch,
    /// Millimetres with a decimal point.
    Millimetre,
}

/// How a shown length departs from the exact one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// To the nearest step: a drawn size.
    Nearest,
    /// Towards zero: a measured value, so that rounding never turns a fail into a pass.
    Down,
    /// Away from zero: a required value.
    Up,
}
