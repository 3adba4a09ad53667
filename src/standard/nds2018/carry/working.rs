//! Inches and pounds in, newtons and millimetres out; and how a line of working is written.

use crate::standard::Source;
use crate::standard::capacity::{Amount, Line, NoValue};
use crate::unit::force::NEWTONS_PER_POUND;
use crate::unit::length::MM_PER_INCH;

/// N/mm2 in one pound per square inch.
pub(super) const MPA_PER_PSI: f64 = NEWTONS_PER_POUND / (MM_PER_INCH * MM_PER_INCH);

/// A length given in inches.
pub(super) fn inch(value: f64) -> Amount {
    Amount::Length(value * MM_PER_INCH)
}

/// An area given in square inches.
pub(super) fn square_inch(value: f64) -> Amount {
    Amount::Area(value * MM_PER_INCH * MM_PER_INCH)
}

/// A force given in pounds.
pub(super) fn pound(value: f64) -> Amount {
    Amount::Force(value * NEWTONS_PER_POUND)
}

/// A stress given in pounds per square inch.
pub(super) fn psi(value: f64) -> Amount {
    Amount::Stress(value * MPA_PER_PSI)
}

/// A moment given in inch-pounds.
pub(super) fn inch_pound(value: f64) -> Amount {
    Amount::Moment(value * NEWTONS_PER_POUND * MM_PER_INCH)
}

/// A force along a length, given in pounds per inch.
pub(super) fn per_inch(value: f64) -> Amount {
    Amount::ForcePerLength(value * NEWTONS_PER_POUND / MM_PER_INCH)
}

/// Newtons of so many pounds.
pub(super) fn newtons(pounds: f64) -> f64 {
    pounds * NEWTONS_PER_POUND
}

/// Inches of so many millimetres.
pub(super) fn inches(mm: f64) -> f64 {
    mm / MM_PER_INCH
}

/// A line that needs no value but those of the lines before it, and no reason.
pub(super) fn line(symbol: &'static str, formula: &'static str, value: Amount, source: Source) -> Line {
    Line { symbol, formula, with: Vec::new(), value, source, because: String::new() }
}

/// A value that is given and not worked out, with why it is that one.
pub(super) fn given(symbol: &'static str, value: Amount, source: Source, because: &str) -> Line {
    Line { because: because.to_owned(), ..line(symbol, "", value, source) }
}

/// A clause or table of Technical Report 12.
pub(super) fn tr12(clause: &'static str) -> Source {
    Source::Clause { document: "AWC TR 12", clause }
}

/// The standard gives no value.
pub(super) fn none<T>(because: String, source: Source) -> Result<T, NoValue> {
    Err(NoValue { because, source })
}

/// A length as a sentence about inches shows it.
pub(super) fn said(mm: f64) -> String {
    format!("{:.3} in", inches(mm))
}
