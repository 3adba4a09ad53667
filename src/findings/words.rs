//! How measures and things are named in a sentence. Decides nothing.

use crate::standard::{Check, Quantity, Sense, Source, Step};
use crate::unit::compare::SAME_MM;
use crate::unit::length::{self, MM_PER_INCH, Rounding};
use crate::unit::{LengthUnit, Vec3};

/// A measured length, rounded down.
pub(super) fn measured(mm: f64, unit: LengthUnit) -> String {
    length::format(mm, unit, Rounding::Down)
}

/// A measured length of which more is worse, in a sentence: never rounded down without a word of it.
pub(super) fn excess(mm: f64, unit: LengthUnit) -> String {
    length::at_least(mm, unit)
}

/// A required length, rounded up.
pub(super) fn required(mm: f64, unit: LengthUnit) -> String {
    length::format(mm, unit, Rounding::Up)
}

/// A diameter, a play, a step of a working: a fraction where it is one, else thousandths of an inch or
/// hundredths of a millimetre.
pub(super) fn fine(mm: f64, unit: LengthUnit) -> String {
    length::format_diameter(mm, unit)
}

/// A value of a working, fine enough to follow the sum.
pub(super) fn exact(value: Quantity, unit: LengthUnit) -> String {
    match value {
        Quantity::Length(mm) => fine(mm, unit),
        Quantity::Angle(degrees) => angle(degrees, Rounding::Nearest),
        Quantity::Number(number) => trimmed(number, 3),
    }
}

/// The two sides of a check as a sentence says them: what is drawn and what is asked for, each
/// rounded to its unfavourable side, so that rounding never makes a fail look like a pass.
pub(super) fn both(check: &Check, unit: LengthUnit) -> (String, String) {
    let (drawn, asked) = match check.sense {
        Sense::AtLeast => (Rounding::Down, Rounding::Up),
        Sense::AtMost => (Rounding::Up, Rounding::Down),
    };
    (quantity(check.measured, unit, drawn), quantity(check.required, unit, asked))
}

/// The same for diameters.
pub(super) fn both_fine(check: &Check, unit: LengthUnit) -> (String, String) {
    (exact(check.measured, unit), exact(check.required, unit))
}

fn quantity(value: Quantity, unit: LengthUnit, rounding: Rounding) -> String {
    match (value, rounding) {
        (Quantity::Length(mm), _) => length::format(mm, unit, rounding),
        (Quantity::Angle(degrees), _) => angle(degrees, rounding),
        (Quantity::Number(number), _) => trimmed(number, 3),
    }
}

/// An angle, to one decimal.
pub(super) fn angle(degrees: f64, rounding: Rounding) -> String {
    crate::unit::angle::format(degrees, rounding)
}

/// An area, rounded down.
pub(super) fn area(mm2: f64, unit: LengthUnit) -> String {
    let (value, name) = match unit {
        LengthUnit::Inch => (mm2 / (MM_PER_INCH * MM_PER_INCH), "sq in"),
        LengthUnit::Millimetre => (mm2, "mm\u{b2}"),
    };
    let hundredths = stepped(value * 100.0, Rounding::Down) / 100.0;
    if hundredths <= 0.0 {
        return format!("less than 0.01 {name}");
    }
    format!("{} {name}", trimmed(hundredths, 2))
}

/// Where a requirement is written, in words.
pub(super) fn source(source: Source) -> String {
    match source {
        Source::Clause { document, clause } => format!("{document} {clause}"),
        Source::CommonPractice => "common practice".to_owned(),
    }
}

/// How the required value came about, a line each.
pub(super) fn working(check: &Check, unit: LengthUnit) -> Vec<String> {
    // A bare yes or no is told by the sentence.
    let tells = |it: &&Step| !matches!(it.symbol, "wanted" | "allowed");
    check
        .working
        .iter()
        .filter(tells)
        .map(|step| {
            let value = exact(step.value, unit);
            if step.formula.is_empty() {
                format!("{} = {value}", step.symbol)
            } else {
                format!("{} = {} = {value}", step.symbol, step.formula)
            }
        })
        .collect()
}

/// The formula that the required value comes from, in brackets with a space before it, where it is as
/// short as `4 D` or `L / 3`; empty for any other, which the working tells.
pub(super) fn formula(check: &Check) -> String {
    let Some(step) = check.working.last().filter(|it| !it.formula.is_empty()) else { return String::new() };
    let mut shown = String::with_capacity(16);
    for word in step.formula.split(' ') {
        shown.push_str(if shown.is_empty() { " (" } else { " " });
        match number_of(word, check) {
            Some(value) => shown.push_str(&trimmed(value, 2)),
            None if matches!(word, "D" | "d" | "L" | "/") || word.parse::<f64>().is_ok() => {
                shown.push_str(word);
            }
            None => return String::new(),
        }
    }
    shown.push(')');
    shown
}

/// The bare number that stands for a symbol in the working: 4 for the `k` of `k D`.
fn number_of(symbol: &str, check: &Check) -> Option<f64> {
    match check.working.iter().rev().find(|it| it.symbol == symbol)?.value {
        Quantity::Number(value) => Some(value),
        Quantity::Length(_) | Quantity::Angle(_) => None,
    }
}

/// A direction in the front view, by its greatest part.
pub(super) fn side(toward: Vec3) -> &'static str {
    let (x, y, z) = (toward.x.abs(), toward.y.abs(), toward.z.abs());
    if y <= x && z <= x {
        if toward.x < 0.0 { "left" } else { "right" }
    } else if z <= y {
        if toward.y < 0.0 { "lower" } else { "upper" }
    } else if toward.z < 0.0 {
        "far"
    } else {
        "near"
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [many @ .., last] => format!("{} and {last}", many.join(", ")),
    }
}

/// A part of a whole, to two decimals, rounded down: `0.62`.
pub(super) fn part(value: f64) -> String {
    trimmed((value * 100.0 + 1e-6).floor() / 100.0, 2)
}

/// `1 hole`, `2 holes`.
pub(super) fn count(number: usize, what: &str) -> String {
    if number == 1 { format!("1 {what}") } else { format!("{number} {what}s") }
}

/// A whole number of steps. What lies within [`SAME_MM`] of a whole one is that one: 25.4 is no
/// binary fraction, and 1 1/2" must not be shown as 1 7/16" for its last bit.
fn stepped(steps: f64, rounding: Rounding) -> f64 {
    match rounding {
        Rounding::Nearest => steps.round(),
        Rounding::Down => (steps + SAME_MM).floor(),
        Rounding::Up => (steps - SAME_MM).ceil(),
    }
}

fn trimmed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn things_are_listed_as_one_speaks() {
        let names = |it: &[&str]| list(&it.iter().map(|it| (*it).to_owned()).collect::<Vec<_>>());
        assert_eq!(names(&["a"]), "a");
        assert_eq!(names(&["a", "b"]), "a and b");
        assert_eq!(names(&["a", "b", "c"]), "a, b and c");
        assert_eq!(count(1, "hole"), "1 hole");
        assert_eq!(side(Vec3::new(-1.0, 0.2, 0.0)), "left");
        assert_eq!(side(Vec3::new(0.0, 0.2, 0.9)), "near");
    }
}
