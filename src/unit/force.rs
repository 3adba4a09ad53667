//! Forces as people read them: pounds beside inches, newtons beside millimetres.

use thiserror::Error;

use super::length::{LengthUnit, Rounding};
use super::number::decimal;

/// Newtons in one pound-force, exactly: 0.45359237 kg times 9.80665 m/s2.
pub const NEWTONS_PER_POUND: f64 = 4.448_221_615_260_5;

/// Forces that differ by less than this, in newtons or pounds, count as equal when they are rounded.
const SAME_FORCE: f64 = 1e-6;

/// The greatest force that is read, newtons: as a joint file has it.
const GREATEST_N: f64 = 1e9;

/// Why a typed force was not read, in words for whoever typed it.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ForceError {
    /// Nothing but spaces.
    #[error("type a force, for example 420 lb or 1.87 kN")]
    Empty,
    /// It does not begin with a number.
    #[error("`{0}` is no number; type a force, for example 420 lb or 1.87 kN")]
    NoNumber(String),
    /// `1,250 lb`.
    #[error("a comma can be read in two ways; leave it out, or type a decimal point")]
    DoubtfulComma,
    /// A word that is no unit.
    #[error("`{0}` is no unit of force; use lb, kip, N or kN")]
    UnknownUnit(String),
    /// Less than nothing, or more than anything that is built.
    #[error("a force is from 0 to 1,000,000 kN; which way it acts is typed beside it")]
    OutOfRange,
}

/// Reads a typed force; the answer is in newtons. A number without a unit is pounds beside inches, and newtons
/// beside millimetres.
///
/// # Errors
/// The first thing that cannot be read.
pub fn parse(text: &str, unit: LengthUnit) -> Result<f64, ForceError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(ForceError::Empty);
    }
    if text.contains(',') {
        return Err(ForceError::DoubtfulComma);
    }
    let split = text.find(|it: char| it.is_alphabetic() && !matches!(it, 'e' | 'E')).unwrap_or(text.len());
    let (number, word) = (text[..split].trim(), text[split..].trim().trim_end_matches('.'));
    let value: f64 = number.parse().map_err(|_| ForceError::NoNumber(text.to_owned()))?;
    let per_unit = match (word.to_ascii_lowercase().as_str(), unit) {
        ("lb" | "lbs" | "lbf" | "pound" | "pounds", _) | ("", LengthUnit::Inch) => NEWTONS_PER_POUND,
        ("kip" | "kips", _) => 1e3 * NEWTONS_PER_POUND,
        ("n", _) | ("", LengthUnit::Millimetre) => 1.0,
        ("kn", _) => 1e3,
        _ => return Err(ForceError::UnknownUnit(word.to_owned())),
    };
    let newtons = value * per_unit;
    if (0.0..=GREATEST_N).contains(&newtons) { Ok(newtons) } else { Err(ForceError::OutOfRange) }
}

/// A force as it stands in a field: reading it gives the same force back, within a thousandth
/// of a newton or a pound.
#[must_use]
pub fn exact(newtons: f64, unit: LengthUnit) -> String {
    let pounds = newtons / NEWTONS_PER_POUND;
    let short = |it: f64| (it * 1e3).round() / 1e3;
    let is_whole = |it: f64| (it - short(it)).abs() <= 1e-9 * it.abs();
    if unit == LengthUnit::Inch && (is_whole(pounds) || !is_whole(newtons)) {
        return format!("{} lb", short(pounds) + 0.0);
    }
    format!("{} N", short(newtons) + 0.0)
}

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

    #[test]
    fn a_typed_force_is_read_with_its_unit_or_refused_in_words() {
        let inch = |text| parse(text, LengthUnit::Inch);
        let mm = |text| parse(text, LengthUnit::Millimetre);
        assert_eq!(inch("420"), Ok(420.0 * NEWTONS_PER_POUND));
        assert_eq!(inch(" 420 lbs. "), Ok(420.0 * NEWTONS_PER_POUND));
        assert_eq!(inch("1.5kip"), Ok(1500.0 * NEWTONS_PER_POUND));
        assert_eq!(inch("1870 N"), Ok(1870.0));
        assert_eq!(mm("1870"), Ok(1870.0));
        assert_eq!(mm("1.87 kN"), Ok(1870.0));
        assert_eq!(mm("1e3"), Ok(1000.0));
        assert_eq!(mm(""), Err(ForceError::Empty));
        assert_eq!(mm("1,250"), Err(ForceError::DoubtfulComma));
        assert_eq!(mm("12 kg"), Err(ForceError::UnknownUnit("kg".into())));
        assert_eq!(mm("heavy"), Err(ForceError::NoNumber("heavy".into())));
        assert_eq!(mm("-5"), Err(ForceError::OutOfRange));
        assert_eq!(mm("1e12"), Err(ForceError::OutOfRange));
        assert_eq!(mm("NaN"), Err(ForceError::NoNumber("NaN".into())));
    }

    #[test]
    fn a_force_in_a_field_reads_back() {
        assert_eq!(exact(1870.0, LengthUnit::Inch), "1870 N");
        assert_eq!(exact(4000.0, LengthUnit::Inch), "4000 N");
        assert_eq!(exact(420.0 * NEWTONS_PER_POUND, LengthUnit::Inch), "420 lb");
        assert_eq!(exact(1870.0, LengthUnit::Millimetre), "1870 N");
        assert_eq!(exact(0.0, LengthUnit::Millimetre), "0 N");
        for newtons in [0.125, 1870.0, 1234.567, 8.0e6, 420.0 * NEWTONS_PER_POUND] {
            for unit in [LengthUnit::Inch, LengthUnit::Millimetre] {
                let back = parse(&exact(newtons, unit), unit).unwrap();
                assert!((back - newtons).abs() <= 1e-3 * NEWTONS_PER_POUND, "{newtons} {unit:?} {back}");
            }
        }
    }
}
