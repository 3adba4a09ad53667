//! Numbers as the window reads and shows them: lengths through `unit::length`, angles in degrees.

use crate::unit::LengthUnit;
use crate::unit::length::{self, Rounding};

/// A drawn size, to the nearest step.
#[must_use]
pub fn size(mm: f64, unit: LengthUnit) -> String {
    length::format(mm, unit, Rounding::Nearest)
}

/// A length in both units, the joint's own first: `1 1/2" (38.1 mm)`.
#[must_use]
pub fn in_both(mm: f64, unit: LengthUnit) -> String {
    let other = match unit {
        LengthUnit::Inch => LengthUnit::Millimetre,
        LengthUnit::Millimetre => LengthUnit::Inch,
    };
    format!("{} ({})", size(mm, unit), size(mm, other))
}

/// A measured value, never more than it is.
#[must_use]
pub fn measured(mm: f64, unit: LengthUnit) -> String {
    length::format(mm, unit, Rounding::Down)
}

/// A required value, never less than it is.
#[must_use]
pub fn required(mm: f64, unit: LengthUnit) -> String {
    length::format(mm, unit, Rounding::Up)
}

/// A small diameter or thickness.
#[must_use]
pub fn diameter(mm: f64, unit: LengthUnit) -> String {
    length::format_diameter(mm, unit)
}

/// A fastener in words: its label, and its measures where the label does not tell them in this unit.
#[must_use]
pub fn fastener(spec: &crate::stock::FastenerSpec, unit: LengthUnit) -> String {
    let told = spec.label.contains(&size(spec.length_mm, unit));
    if told { spec.label.clone() } else { format!("{}, {}", spec.label, measures(spec, unit)) }
}

/// The diameter and the length of a fastener.
#[must_use]
pub fn measures(spec: &crate::stock::FastenerSpec, unit: LengthUnit) -> String {
    format!("{} \u{d7} {}", diameter(spec.diameter_mm, unit), size(spec.length_mm, unit))
}

/// `1 hole`, `2 holes`.
#[must_use]
pub fn count(number: usize, what: &str) -> String {
    if number == 1 { format!("1 {what}") } else { format!("{number} {what}s") }
}

/// The same words with no line break inside a number and between a number and its unit: `1 1/2"`, `24.8 mm`.
#[must_use]
pub fn unbroken(text: &str) -> String {
    let mut whole = String::with_capacity(text.len() + 8);
    let mut before = ' ';
    let mut rest = text.chars().peekable();
    while let Some(it) = rest.next() {
        let next = rest.peek().copied().unwrap_or(' ');
        let holds = it == ' ' && before.is_ascii_digit() && (next.is_ascii_digit() || next == 'm');
        whole.push(if holds { '\u{a0}' } else { it });
        before = it;
    }
    whole
}

/// Words as a sentence: with a capital letter, and a full stop where none is.
#[must_use]
pub fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().map(|it| it.to_uppercase().collect()).unwrap_or_default();
    let ends = words.ends_with(['.', ')', '?']);
    format!("{first}{}{}", letters.as_str(), if ends { "" } else { "." })
}

/// A length as it stands in a field: reading it gives the same length back, or one within a
/// thousandth of a millimetre where the exact one would take a dozen digits (1.5 mm in inches).
#[must_use]
pub fn exact(mm: f64, unit: LengthUnit) -> String {
    let whole = length::exact(mm, unit);
    if whole.chars().count() <= LONGEST {
        return whole;
    }
    let short = match unit {
        LengthUnit::Inch => format!("{:.5}\"", mm / length::MM_PER_INCH),
        LengthUnit::Millimetre => format!("{mm:.3} mm"),
    };
    if short.chars().count() < whole.chars().count() { short } else { whole }
}

/// More letters than this are more than anybody wants to read in a field.
const LONGEST: usize = 12;

/// An angle with its sign, to a tenth of a degree.
#[must_use]
pub fn degrees(deg: f64) -> String {
    let tenths = (deg * 10.0).round() / 10.0 + 0.0;
    format!("{tenths}\u{b0}")
}

/// Reads a length.
///
/// # Errors
/// In words, when the text is no length.
pub fn length(text: &str, unit: LengthUnit) -> Result<f64, String> {
    length::parse(text, unit).map_err(|it| it.to_string())
}

/// Reads an angle in degrees, anticlockwise; a degree sign may follow.
///
/// # Errors
/// In words, when the text is no angle.
pub fn angle(text: &str) -> Result<f64, String> {
    let bare = text.trim().trim_end_matches(['\u{b0}', 'd', 'e', 'g']).trim().replace(',', ".");
    match bare.parse::<f64>() {
        Ok(deg) if deg.is_finite() && deg.abs() <= 360.0 => Ok(deg),
        Ok(_) => Err("An angle lies between -360 and 360 degrees.".into()),
        Err(_) => Err(format!("\u{201c}{}\u{201d} is no angle. Type degrees, as 90 or 22.5.", text.trim())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn angles_are_read_and_refused_in_words() {
        assert_eq!(angle("22.5"), Ok(22.5));
        assert_eq!(angle(" -30\u{b0} "), Ok(-30.0));
        assert_eq!(angle("12,5 deg"), Ok(12.5));
        assert!(angle("steep").is_err_and(|it| it.contains("steep")));
        assert!(angle("NaN").is_err());
        assert!(angle("1e9").is_err());
    }

    #[test]
    fn a_field_shows_no_tail_of_digits_and_reads_back_within_a_thousandth() {
        assert_eq!(exact(1.5, LengthUnit::Inch), "0.05906\"");
        assert_eq!(exact(38.1, LengthUnit::Inch), "1 1/2\"");
        assert_eq!(exact(1.5, LengthUnit::Millimetre), "1.5 mm");
        assert_eq!(exact(100.0 / 3.0, LengthUnit::Millimetre), "33.333 mm");
        for mm in [1.5, -40.0, 0.9, 1_234.567_891, 100.0 / 3.0] {
            for unit in [LengthUnit::Inch, LengthUnit::Millimetre] {
                let back = length(&exact(mm, unit), unit).unwrap();
                assert!((back - mm).abs() < 1e-3, "{mm} {unit:?} {back}");
            }
        }
    }

    #[test]
    fn numbers_are_not_broken_over_lines() {
        assert_eq!(unbroken("a nail 2 1/2\" long"), "a nail 2\u{a0}1/2\" long");
        assert_eq!(unbroken("only 16 mm of it"), "only 16\u{a0}mm of it");
        assert_eq!(unbroken("fastener 2, plate"), "fastener 2, plate");
    }

    #[test]
    fn no_angle_is_shown_as_minus_nothing() {
        assert_eq!(degrees(-0.01), "0\u{b0}");
        assert_eq!(degrees(89.96), "90\u{b0}");
        assert_eq!(degrees(-22.54), "-22.5\u{b0}");
    }
}
