//! Angles as people read them.

use super::length::Rounding;
use super::number::decimal;

/// An angle in degrees, to one decimal at most: `30°`, `27.5°`.
///
/// Never `-0`. A number that is not finite is said in words.
#[must_use]
pub fn format(degrees: f64, rounding: Rounding) -> String {
    let shown = decimal(degrees, 1, super::compare::SAME_MM, rounding);
    if degrees.is_finite() { shown + "°" } else { shown }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn degrees_have_one_decimal_at_most() {
        assert_eq!(format(30.0, Rounding::Nearest), "30°");
        assert_eq!(format(27.46, Rounding::Nearest), "27.5°");
        assert_eq!(format(27.46, Rounding::Down), "27.4°");
        assert_eq!(format(27.41, Rounding::Up), "27.5°");
        assert_eq!(format(29.999_999_999_9, Rounding::Down), "30°");
        assert_eq!(format(-0.01, Rounding::Nearest), "0°");
        assert_eq!(format(-45.0, Rounding::Nearest), "-45°");
        assert_eq!(format(f64::NAN, Rounding::Nearest), "not a number");
    }
}
