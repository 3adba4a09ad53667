//! A measure as a table prints it: a number, or a text with a fraction, in the unit of its table.

use serde::Deserialize;
use serde::de::{Deserializer, Error, Visitor};

use super::read::StockError;
use crate::unit::{LengthUnit, length};

/// N/mm2 in one pound-force per square inch.
pub(super) const MPA_PER_PSI: f64 =
    crate::unit::force::NEWTONS_PER_POUND / (length::MM_PER_INCH * length::MM_PER_INCH);

/// The unit that a table prints its measures in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub(super) enum Unit {
    #[serde(rename = "inch")]
    Inch,
    #[serde(rename = "mm")]
    Millimetre,
}

impl Unit {
    pub(super) fn of_lengths(self) -> LengthUnit {
        match self {
            Self::Inch => LengthUnit::Inch,
            Self::Millimetre => LengthUnit::Millimetre,
        }
    }
}

/// How a number came into a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub(super) enum Provenance {
    /// Seen in public text that quotes the source.
    #[serde(rename = "quoted")]
    Quoted,
    /// Recalled, not seen in print.
    #[serde(rename = "from memory")]
    FromMemory,
    /// A habit of the trade, with no table behind it.
    #[serde(rename = "common practice")]
    CommonPractice,
}

/// The source as it is shown, with how the number came here unless it was quoted.
pub(super) fn sourced(source: &str, provenance: Provenance) -> String {
    match provenance {
        Provenance::Quoted => source.to_owned(),
        Provenance::FromMemory => format!("{source} (from memory)"),
        Provenance::CommonPractice => format!("common practice: {source}"),
    }
}

/// A measure as printed.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Measure {
    Number(f64),
    Text(String),
}

impl Measure {
    /// The measure in millimetres; it must be larger than zero.
    pub(super) fn mm(&self, unit: Unit) -> Result<f64, StockError> {
        let mm = match (self, unit) {
            (Self::Number(number), Unit::Inch) => length::from_inches(*number),
            (Self::Number(number), Unit::Millimetre) => *number,
            (Self::Text(text), _) => length::parse(text, unit.of_lengths())
                .map_err(|why| StockError::new(format!("`{text}`: {why}")))?,
        };
        if mm.is_finite() && 0.0 < mm {
            Ok(mm)
        } else {
            Err(StockError::new(format!("{self:?} must be larger than zero")))
        }
    }
}

/// A measure that may be missing.
pub(super) fn mm_of(measure: Option<&Measure>, unit: Unit) -> Result<Option<f64>, StockError> {
    measure.map(|it| it.mm(unit)).transpose()
}

/// A length in the unit of its table as it stands in a name: `0.375`, `3.1`, `4`.
pub(super) fn in_name(mm: f64, unit: Unit) -> String {
    let value = match unit {
        Unit::Inch => mm / length::MM_PER_INCH,
        Unit::Millimetre => mm,
    };
    format!("{}", (value * 1e6).round() / 1e6)
}

/// A length in the unit of its table without the mark of the unit: `3 1/2`, `90`.
pub(super) fn unmarked(mm: f64, unit: Unit) -> String {
    let shown = length::format_diameter(mm, unit.of_lengths());
    shown.trim_end_matches('"').trim_end_matches(" mm").to_owned()
}

/// Two lengths as a size in the unit of their table: `3/8" x 4"`, `3.1 x 90 mm`.
pub(super) fn by(first: f64, second: f64, unit: Unit) -> String {
    let (first, second) = (unmarked(first, unit), unmarked(second, unit));
    match unit {
        Unit::Inch => format!("{first}\" x {second}\""),
        Unit::Millimetre => format!("{first} x {second} mm"),
    }
}

impl<'de> Deserialize<'de> for Measure {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Reader;
        impl Visitor<'_> for Reader {
            type Value = Measure;

            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("a number, or a text with a fraction such as \"2 1/4\"")
            }

            fn visit_f64<E: Error>(self, number: f64) -> Result<Measure, E> {
                Ok(Measure::Number(number))
            }

            fn visit_i64<E: Error>(self, number: i64) -> Result<Measure, E> {
                i32::try_from(number).map(|it| Measure::Number(f64::from(it))).map_err(E::custom)
            }

            fn visit_str<E: Error>(self, text: &str) -> Result<Measure, E> {
                Ok(Measure::Text(text.to_owned()))
            }
        }
        from.deserialize_any(Reader)
    }
}
