//! Forces as people read them: pounds beside inches, newtons beside millimetres.

use super::length::{LengthUnit, Rounding};
use super::number::decimal;

/// Newtons in one pound-force, exactly: 0.45359237 kg times 9.80665 m/s2.
pub const NEWTONS_PER_POUND: f64 = 4.448_221_615_260_5;

/// Forces that differ by less than this, in newtons or pounds, count as equal when they are rounded.
const SAME_FORCE: f64 = 1e-6;

/// A force for people who read lengths in `unit`: `141 lb`, `628 N`, `12.4 kN`.
///
/// Whole pounds or newtons from ten upward, one decimal below; kilonewtons with two decimals from
/// ten thousand newtons. Never `-0`. A number that is not finite is said in words.
#[must_use]
pub fn format(newtons: f64, unit: LengthUnit, rounding: Rounding) -> String {
    if let Some(words) = super::number::not_finite(newtons) {
        return words.to_owned();
    }
    let (value, places, word) = match unit {
        LengthUnit::Inch => {
            let pounds = newtons / NEWTONS_PER_POUND;
            (pounds, places_of(pounds), "lb")
        }
        LengthUnit::Millimetre if 1e4 <= newtons.abs() => (newtons / 1e3, 2, "kN"),
        LengthUnit::Millimetre => (newtons, places_of(newtons), "N"),
    };
    format!("{} {word}", decimal(value, places, SAME_FORCE, rounding))
}

fn places_of(value: f64) -> u32 {
    u32::from(value.abs() < 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_force_is_shown_in_the_unit_that_goes_with_the_lengths() {
        let pounds = |n, r| format(n, LengthUnit::Inch, r);
        let newtons = |n, r| format(n, LengthUnit::Millimetre, r);
        assert_eq!(pounds(141.0 * NEWTONS_PER_POUND, Rounding::Down), "141 lb");
        assert_eq!(pounds(1870.0, Rounding::Down), "420 lb");
        assert_eq!(pounds(1870.0, Rounding::Up), "421 lb");
        assert_eq!(pounds(10.0, Rounding::Nearest), "2.2 lb");
        assert_eq!(newtons(627.9, Rounding::Nearest), "628 N");
        assert_eq!(newtons(12_437.0, Rounding::Down), "12.43 kN");
        assert_eq!(newtons(-0.01, Rounding::Nearest), "0 N");
        assert_eq!(newtons(f64::INFINITY, Rounding::Nearest), "infinity");
        assert_eq!(newtons(1e300, Rounding::Nearest), "1e297 kN");
    }
}
