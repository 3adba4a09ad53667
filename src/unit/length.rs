//! Lengths as people type and read them. Knows no wood.

use super::compare::SAME_MM;
use super::number::{decimal, not_finite, steps};

pub use super::notation::{LengthError, parse};

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

/// The smallest step of a shown length.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Fineness {
    /// 1/8" or whole millimetres.
    Eighth,
    /// 1/16" or tenths of a millimetre.
    #[default]
    Sixteenth,
    /// 1/32" or tenths of a millimetre.
    ThirtySecond,
    /// 1/64" or hundredths of a millimetre.
    SixtyFourth,
}

impl Fineness {
    fn denominator(self) -> u64 {
        match self {
            Self::Eighth => 8,
            Self::Sixteenth => 16,
            Self::ThirtySecond => 32,
            Self::SixtyFourth => 64,
        }
    }

    fn decimals(self) -> u32 {
        match self {
            Self::Eighth => 0,
            Self::Sixteenth | Self::ThirtySecond => 1,
            Self::SixtyFourth => 2,
        }
    }
}

/// The millimetres of a length printed in inches, as one decimal number would give them.
///
/// A table prints 0.162 or 1.5; times 25.4 these have at most nine decimals in millimetres, and the f64
/// nearest to that decimal is returned, so that 1.5 in gives the very number that `38.1` reads as.
#[must_use]
pub fn from_inches(inches: f64) -> f64 {
    let exact = inches * MM_PER_INCH;
    let rounded = (exact * 1e9).round() / 1e9;
    if rounded.is_finite() { rounded } else { exact }
}

/// A length for people: `1 1/2"`, `3'-2 1/4"`, `38.1 mm`.
///
/// Inches are reduced fractions to 1/16", with feet from one foot upward; millimetres have one decimal
/// at most. Less than an inch that 32nds tell exactly is told so: panels come in 32nds, and one of 15/32" is
/// neither 7/16" nor 1/2". What is not zero is not shown as zero as long as 1/64", then 0.001" (or 0.001 mm) can tell
/// it: a gap of half a millimetre is a gap. Never `-0`; no number makes it panic.
#[must_use]
pub fn format(mm: f64, unit: LengthUnit, rounding: Rounding) -> String {
    let in_32nds = unit == LengthUnit::Inch
        && mm.abs() < MM_PER_INCH
        && sixty_fourths(mm).is_some_and(|count| count % 2 == 0);
    let fineness = if in_32nds { Fineness::ThirtySecond } else { Fineness::default() };
    format_to(mm, unit, rounding, fineness)
}

/// A length of which more is worse, rounded down, which is said: `1/8"`, `more than 1/8"`.
#[must_use]
pub fn at_least(mm: f64, unit: LengthUnit) -> String {
    let (low, high) = (format(mm, unit, Rounding::Down), format(mm, unit, Rounding::Up));
    if low == high { low } else { format!("more than {low}") }
}

/// Like [`format`], with a choice of the smallest step.
#[must_use]
pub fn format_to(mm: f64, unit: LengthUnit, rounding: Rounding, fineness: Fineness) -> String {
    if let Some(words) = not_finite(mm) {
        return words.to_owned();
    }
    match unit {
        LengthUnit::Inch => inch(mm, rounding, fineness),
        LengthUnit::Millimetre => {
            let places = (fineness.decimals()..3).find(|it| shows(mm, *it, rounding)).unwrap_or(3);
            format!("{} mm", decimal(mm, places, SAME_MM, rounding))
        }
    }
}

/// A size as stock is told by, of a diameter, a thickness or a fastener: `1/2"`, `0.162"`, `14"`, `4.11 mm`.
///
/// In inches a fraction where it is one of 64ths, else three decimals: a shank of 0.162" is not 3/16".
/// Never in feet. In millimetres two decimals at most.
#[must_use]
pub fn format_diameter(mm: f64, unit: LengthUnit) -> String {
    if let Some(words) = not_finite(mm) {
        return words.to_owned();
    }
    match unit {
        LengthUnit::Inch => match sixty_fourths(mm) {
            Some(count) => inches_only(mm < 0.0, count, 64),
            None => format!("{}\"", decimal(mm / MM_PER_INCH, 3, SAME_MM, Rounding::Nearest)),
        },
        LengthUnit::Millimetre => format!("{} mm", decimal(mm, 2, SAME_MM, Rounding::Nearest)),
    }
}

/// A length as it stands in a field that is edited: reading it gives the same length back.
///
/// A fraction where 64ths tell it exactly, else as many decimals as it takes.
#[must_use]
pub fn exact(mm: f64, unit: LengthUnit) -> String {
    if let Some(words) = not_finite(mm) {
        return words.to_owned();
    }
    // What no comparison can tell from zero needs no string of zeros, nor a sign.
    let mm = if mm.abs() < SAME_MM { 0.0 } else { mm };
    match unit {
        LengthUnit::Inch => match sixty_fourths(mm) {
            Some(count) => feet_and_inches(mm < 0.0, count, 64),
            None => format!("{}\"", mm / MM_PER_INCH),
        },
        LengthUnit::Millimetre => format!("{mm} mm"),
    }
}

/// What was typed, as it was understood, in both units: `1 1/2" = 38.1 mm`, `40 mm, about 1 37/64"`.
///
/// The first is exact, in the unit of the joint. The other is rounded to 1/64" or a hundredth of a millimetre,
/// and says `about` where it is.
#[must_use]
pub fn echo(mm: f64, unit: LengthUnit) -> String {
    let other = match unit {
        LengthUnit::Inch => LengthUnit::Millimetre,
        LengthUnit::Millimetre => LengthUnit::Inch,
    };
    let rounded = format_to(mm, other, Rounding::Nearest, Fineness::SixtyFourth);
    let is_exact = parse(&rounded, other).is_ok_and(|it| (it - mm).abs() < SAME_MM);
    format!("{}{}{rounded}", exact(mm, unit), if is_exact { " = " } else { ", about " })
}

/// Whether so many decimals show a value that is not zero as something other than zero.
fn shows(value: f64, places: u32, rounding: Rounding) -> bool {
    value.abs() < SAME_MM || decimal(value, places, SAME_MM, rounding) != "0"
}

fn inch(mm: f64, rounding: Rounding, fineness: Fineness) -> String {
    let mut denominator = fineness.denominator();
    loop {
        #[expect(clippy::cast_precision_loss, reason = "8 to 64")]
        let step = MM_PER_INCH / denominator as f64;
        match steps(mm, step, SAME_MM, rounding) {
            None => return format!("{:e}\"", mm / MM_PER_INCH),
            Some(0) if SAME_MM <= mm.abs() && denominator < 64 => denominator *= 2,
            Some(0) if SAME_MM <= mm.abs() => {
                let inches = mm / MM_PER_INCH;
                return format!("{}\"", decimal(inches, 3, SAME_MM / MM_PER_INCH, rounding));
            }
            Some(count) => return feet_and_inches(mm < 0.0, count, denominator),
        }
    }
}

/// How many 64ths of an inch make up the length exactly, up to the slack of every comparison.
fn sixty_fourths(mm: f64) -> Option<u64> {
    let step = MM_PER_INCH / 64.0;
    let count = steps(mm, step, SAME_MM, Rounding::Nearest)?;
    #[expect(clippy::cast_precision_loss, reason = "steps counts below 2^53")]
    let back = count as f64 * step;
    ((mm.abs() - back).abs() < SAME_MM).then_some(count)
}

/// So many parts of an inch, with feet from one foot upward.
fn feet_and_inches(negative: bool, count: u64, denominator: u64) -> String {
    let feet = count / (12 * denominator);
    if feet == 0 {
        return inches_only(negative, count, denominator);
    }
    let sign = if negative { "-" } else { "" };
    let rest = count % (12 * denominator);
    let (inches, parts) = (rest / denominator, rest % denominator);
    // Beside feet the whole inches are always told: 3'-0 1/4".
    match reduced(parts, denominator) {
        None => format!("{sign}{feet}'-{inches}\""),
        Some((above, below)) => format!("{sign}{feet}'-{inches} {above}/{below}\""),
    }
}

/// So many parts of an inch as whole inches and a reduced fraction.
fn inches_only(negative: bool, count: u64, denominator: u64) -> String {
    let sign = if negative && count != 0 { "-" } else { "" };
    let inches = count / denominator;
    match reduced(count % denominator, denominator) {
        None => format!("{sign}{inches}\""),
        Some((above, below)) if inches == 0 => format!("{sign}{above}/{below}\""),
        Some((above, below)) => format!("{sign}{inches} {above}/{below}\""),
    }
}

/// The fraction of a power of two, reduced; `None` for nothing.
fn reduced(parts: u64, denominator: u64) -> Option<(u64, u64)> {
    let shift = parts.trailing_zeros();
    (parts != 0).then(|| (parts >> shift, denominator >> shift))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn inch_case(inches: f64, fineness: Fineness, expected: &str) {
        let shown = format_to(from_inches(inches), LengthUnit::Inch, Rounding::Nearest, fineness);
        assert_eq!(shown, expected);
    }

    #[test]
    fn inches_are_reduced_carried_and_grow_feet() {
        // Written by hand after US drafting practice (common practice).
        use Fineness::{Eighth, Sixteenth, SixtyFourth, ThirtySecond};
        inch_case(1.5, Sixteenth, "1 1/2\"");
        inch_case(0.1875, Sixteenth, "3/16\"");
        inch_case(0.0, Sixteenth, "0\"");
        inch_case(38.25, Sixteenth, "3'-2 1/4\"");
        inch_case(36.25, Sixteenth, "3'-0 1/4\"");
        inch_case(60.0, Sixteenth, "5'-0\"");
        inch_case(11.96875, Sixteenth, "1'-0\""); // 11 31/32 carries into a foot
        inch_case(11.96875, ThirtySecond, "11 31/32\"");
        inch_case(11.96875, Eighth, "1'-0\"");
        inch_case(2.984375, SixtyFourth, "2 63/64\"");
        inch_case(-0.5, Sixteenth, "-1/2\"");
        inch_case(-38.25, Sixteenth, "-3'-2 1/4\"");
        inch_case(4.0, Eighth, "4\"");
    }

    #[test]
    fn a_measured_value_is_never_shown_larger_nor_a_required_one_smaller() {
        let down = |inches| format(from_inches(inches), LengthUnit::Inch, Rounding::Down);
        let up = |inches| format(from_inches(inches), LengthUnit::Inch, Rounding::Up);
        assert_eq!(down(1.499), "1 7/16\"");
        assert_eq!(up(1.501), "1 9/16\"");
        assert_eq!(down(1.5), "1 1/2\"");
        assert_eq!(up(1.5), "1 1/2\"");
        // The thickness of a panel (PS 1-22, from memory) stays what it is; what lies beside it does not.
        assert_eq!((down(0.46875), up(0.46875)), ("15/32\"".to_owned(), "15/32\"".to_owned()));
        assert_eq!((down(0.47), up(0.468)), ("7/16\"".to_owned(), "1/2\"".to_owned()));
        assert_eq!(down(1.46875), "1 7/16\"");
        // One bit short or over is no reason to lose a sixteenth.
        let short = 3.5_f64.mul_add(25.4, -(2.0 * 25.4)) - 1e-13;
        assert_eq!(format(short, LengthUnit::Inch, Rounding::Down), "1 1/2\"");
        assert_eq!(format(short + 2e-13, LengthUnit::Inch, Rounding::Up), "1 1/2\"");
        assert_eq!(format(37.99, LengthUnit::Millimetre, Rounding::Down), "37.9 mm");
        assert_eq!(format(38.01, LengthUnit::Millimetre, Rounding::Up), "38.1 mm");
    }

    #[test]
    fn millimetres_have_as_many_decimals_as_they_need() {
        let mm = |value| format(value, LengthUnit::Millimetre, Rounding::Nearest);
        assert_eq!(mm(38.1), "38.1 mm");
        assert_eq!(mm(38.0), "38 mm");
        assert_eq!(mm(971.55), "971.6 mm");
        assert_eq!(mm(-12.7), "-12.7 mm");
        assert_eq!(mm(0.0), "0 mm");
        assert_eq!(
            format_to(4.1148, LengthUnit::Millimetre, Rounding::Nearest, Fineness::SixtyFourth),
            "4.11 mm"
        );
        assert_eq!(format_to(38.6, LengthUnit::Millimetre, Rounding::Nearest, Fineness::Eighth), "39 mm");
    }

    #[test]
    fn what_is_not_zero_is_not_shown_as_zero() {
        assert_eq!(format(0.5, LengthUnit::Inch, Rounding::Down), "1/64\"");
        assert_eq!(format(0.2, LengthUnit::Inch, Rounding::Down), "0.007\"");
        assert_eq!(format(0.1, LengthUnit::Inch, Rounding::Nearest), "0.004\"");
        assert_eq!(format(0.04, LengthUnit::Millimetre, Rounding::Nearest), "0.04 mm");
        assert_eq!(format(-1e-9, LengthUnit::Inch, Rounding::Nearest), "0\"");
        assert_eq!(format(-1e-9, LengthUnit::Millimetre, Rounding::Down), "0 mm");
        assert_eq!(format(-0.000_1, LengthUnit::Millimetre, Rounding::Down), "0 mm");
    }

    #[test]
    fn an_entry_is_echoed_in_both_units() {
        assert_eq!(echo(38.1, LengthUnit::Inch), "1 1/2\" = 38.1 mm");
        assert_eq!(echo(38.1, LengthUnit::Millimetre), "38.1 mm = 1 1/2\"");
        assert_eq!(echo(40.0, LengthUnit::Millimetre), "40 mm, about 1 37/64\"");
        assert_eq!(echo(4.7625, LengthUnit::Inch), "3/16\", about 4.76 mm");
        assert_eq!(echo(1270.0, LengthUnit::Inch), "4'-2\" = 1270 mm");
        assert_eq!(echo(-12.7, LengthUnit::Inch), "-1/2\" = -12.7 mm");
        assert_eq!(echo(0.0, LengthUnit::Inch), "0\" = 0 mm");
        assert!(echo(f64::NAN, LengthUnit::Inch).contains("not a number"));
    }

    #[test]
    fn diameters_keep_their_thousandths() {
        assert_eq!(format_diameter(from_inches(0.162), LengthUnit::Inch), "0.162\"");
        assert_eq!(format_diameter(from_inches(0.5), LengthUnit::Inch), "1/2\"");
        assert_eq!(format_diameter(from_inches(0.162), LengthUnit::Millimetre), "4.11 mm");
        assert_eq!(format_diameter(12.0, LengthUnit::Millimetre), "12 mm");
        assert_eq!(format_diameter(12.0, LengthUnit::Inch), "0.472\"");
        assert_eq!(format_diameter(from_inches(14.5), LengthUnit::Inch), "14 1/2\"");
    }

    #[test]
    fn no_number_panics() {
        for mm in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::MAX, f64::MIN, f64::MIN_POSITIVE, -0.0] {
            for unit in [LengthUnit::Inch, LengthUnit::Millimetre] {
                for rounding in [Rounding::Nearest, Rounding::Down, Rounding::Up] {
                    let shown = format(mm, unit, rounding);
                    assert!(!shown.starts_with("-0"), "{shown}");
                    assert!(!format_diameter(mm, unit).is_empty() && !exact(mm, unit).is_empty());
                }
            }
        }
        assert_eq!(format(f64::NAN, LengthUnit::Inch, Rounding::Nearest), "not a number");
        assert_eq!(format(1e20, LengthUnit::Millimetre, Rounding::Nearest), "1e20 mm");
    }

    #[test]
    fn an_inch_is_the_decimal_that_a_file_would_hold() {
        for (inches, mm) in
            [(1.5, 38.1), (0.162, 4.1148), (3.5, 88.9), (0.131, 3.3274), (0.015_625, 0.396_875)]
        {
            #[expect(clippy::float_cmp, reason = "the very same number is what is promised")]
            let same = from_inches(inches) == mm;
            assert!(same, "{inches} in is {mm} mm");
        }
    }
}
