//! Typed lengths against values worked out by hand, and print-parse round trips.

use proptest::prelude::*;

use super::*;
use crate::unit::length::{Fineness, MM_PER_INCH, Rounding, exact, format_to};

#[track_caller]
fn reads(text: &str, unit: LengthUnit, mm: f64) {
    match parse(text, unit) {
        // The value must be the f64 that the decimal itself reads as.
        Ok(read) => assert!((read - mm).abs() <= mm.abs() * f64::EPSILON, "{text}: {read}, not {mm}"),
        Err(error) => panic!("{text}: {error}"),
    }
}

#[track_caller]
fn refuses(text: &str, unit: LengthUnit, expected: &LengthError) {
    assert_eq!(parse(text, unit).as_ref(), Err(expected), "{text}");
}

#[test]
fn inches_in_every_notation() {
    for text in ["1-1/2\"", "1 1/2 in", "1.5\"", "1½\"", "1 ½\"", "1-½ in", "1 1\u{2044}2\""] {
        reads(text, LengthUnit::Millimetre, 38.1);
        reads(text, LengthUnit::Inch, 38.1);
    }
    for text in [
        "1 1/2",
        "1-1/2",
        "1.5",
        "1,5",
        "1½",
        " 1\u{a0}1/2 ",
        "3/2",
        "1 1/2 Inches",
        "1 1/2''",
        "1 1/2”",
        "1 1/2″",
        "1 1/2 in.",
    ] {
        reads(text, LengthUnit::Inch, 38.1);
    }
    reads("3/16\"", LengthUnit::Millimetre, 4.7625);
    reads("-1/2\"", LengthUnit::Millimetre, -12.7);
    reads("\u{2212}1/2\"", LengthUnit::Millimetre, -12.7);
    reads(".5\"", LengthUnit::Inch, 12.7);
    reads("5.\"", LengthUnit::Inch, 127.0);
    reads("0,250", LengthUnit::Inch, 6.35);
    reads("1/3\"", LengthUnit::Inch, 25.4 / 3.0);
    reads("⅞", LengthUnit::Inch, 22.225);
}

#[test]
fn feet_and_inches() {
    for text in
        ["3'-2 1/4\"", "3' 2-1/4", "3ft2.25in", "3 feet 2 1/4 inches", "3′2¼″", "3’ - 2 1/4”", "3' 2 1/4''"]
    {
        reads(text, LengthUnit::Millimetre, 971.55);
    }
    reads("5'", LengthUnit::Inch, 1524.0);
    reads("5'-0\"", LengthUnit::Inch, 1524.0);
    reads("1' - 2\"", LengthUnit::Inch, 355.6);
    reads("3' 14\"", LengthUnit::Inch, 1270.0);
    reads("-1'-2\"", LengthUnit::Inch, -355.6);
    reads("3'-0 1/4\"", LengthUnit::Inch, 920.75);
    reads("3' 1/4", LengthUnit::Inch, 920.75);
    reads("2.5 ft", LengthUnit::Inch, 762.0);
}

#[test]
fn metric_units() {
    for text in ["38 mm", "38mm", "3.8cm", "3,8 cm", "0.038 m", "38 MM", "38"] {
        reads(text, LengthUnit::Millimetre, 38.0);
    }
    reads("38 mm", LengthUnit::Inch, 38.0);
    reads("12,5", LengthUnit::Millimetre, 12.5);
    reads("-4.5 mm", LengthUnit::Millimetre, -4.5);
}

#[test]
fn sums_begin_with_an_equal_sign() {
    reads("=1 1/2\" + 3/16\"", LengthUnit::Millimetre, 42.8625);
    reads("=1 1/2+3/16", LengthUnit::Inch, 42.8625);
    reads("= 3' - 2\"", LengthUnit::Inch, 863.6);
    reads("=3'-2\"", LengthUnit::Inch, 965.2);
    reads("=38 mm + 1/2\"", LengthUnit::Millimetre, 50.7);
    reads("=-1\" + 2\"", LengthUnit::Inch, 25.4);
    reads("=1-1/2\" - 1/2\"", LengthUnit::Inch, 25.4);
    reads("=2\" - -1\"", LengthUnit::Inch, 76.2);
    reads("=0.1 + 0.2", LengthUnit::Millimetre, 0.3);
    refuses("1\" + 2\"", LengthUnit::Inch, &LengthError::SumWithoutEqual);
    refuses("=1\" +", LengthUnit::Inch, &LengthError::NumberMissing);
    refuses("=", LengthUnit::Inch, &LengthError::NumberMissing);
    refuses("=10-2", LengthUnit::Inch, &LengthError::HyphenAsMinus);
    refuses("=+1\"", LengthUnit::Inch, &LengthError::NumberMissing);
}

/// The table that the notation was drawn up with, whole; every entry reads the same in both units.
#[test]
fn the_table_of_the_notation() {
    for (entries, mm) in [
        ("1-1/2\" ; 1 1/2 in ; 1.5\" ; 1½\"", 38.1),
        ("38 mm ; 3.8cm ; 0.038 m", 38.0),
        ("3/16\"", 4.7625),
        ("1' - 2\"", 355.6),
        ("3'-2 1/4\" ; 3' 2-1/4 ; 3ft2.25in", 971.55),
        ("5' ; 5'-0\"", 1524.0),
        ("-1/2\"", -12.7),
        ("3' 14\"", 1270.0),
        ("=1 1/2\" + 3/16\"", 42.8625),
    ] {
        for entry in entries.split(" ; ") {
            reads(entry, LengthUnit::Inch, mm);
            reads(entry, LengthUnit::Millimetre, mm);
        }
    }
    for entry in ["1/0", "1/2/3", "5'6'7\"", "2x10", "10d", ""] {
        for unit in [LengthUnit::Inch, LengthUnit::Millimetre] {
            let why = parse(entry, unit).expect_err("an error, its reason named").to_string();
            assert!(10 < why.len(), "{entry}: {why}");
        }
    }
}

#[test]
fn what_cannot_be_read_is_named() {
    use LengthError as E;
    for (text, expected) in [
        ("", E::Empty),
        (" \u{a0} ", E::Empty),
        ("1/0", E::ZeroDenominator),
        ("1 1/0\"", E::ZeroDenominator),
        ("1/2/3", E::TwoFractionLines),
        ("1 1/2/3\"", E::TwoFractionLines),
        ("5'6'7\"", E::FeetTwice),
        ("2x10", E::NominalSize),
        ("2 × 10", E::NominalSize),
        ("10d", E::PennySize),
        ("1/", E::BrokenFraction),
        ("/2", E::BrokenFraction),
        ("1.5/2", E::BrokenFraction),
        ("1/2.5", E::BrokenFraction),
        ("1.5 1/2\"", E::DecimalAndFraction),
        ("1.5-1/2\"", E::DecimalAndFraction),
        ("1.5½\"", E::DecimalAndFraction),
        ("- 1/2\"", E::SignApart),
        ("--1", E::HyphenAsMinus),
        ("1 - 1/2\"", E::HyphenAsMinus),
        ("10-2", E::HyphenAsMinus),
        ("1 2\"", E::TwoNumbers),
        ("½½", E::TwoNumbers),
        ("3' 1 2\"", E::TwoNumbers),
        ("6\" 5'", E::AfterTheEnd),
        ("3 mm 2\"", E::AfterTheEnd),
        ("3' 2 mm", E::AfterTheEnd),
        ("'", E::NumberMissing),
        ("3' -", E::NumberMissing),
        ("mm", E::NumberMissing),
        ("3 yd", E::UnknownUnit("yd".to_owned())),
        ("1e5", E::UnknownUnit("e".to_owned())),
        ("3 $", E::Stray('$')),
        ("1.2.3", E::TwoDecimalMarks("1.2.3".to_owned())),
        ("1 1/2 mm", E::MetricFraction),
        ("1234567890123456789", E::TooManyDigits),
    ] {
        refuses(text, LengthUnit::Inch, &expected);
    }
    refuses(&"1".repeat(300), LengthUnit::Inch, &E::TooLong);
}

#[test]
fn what_is_in_doubt_is_asked() {
    let doubt = |text: &str, a: &str, b: &str| {
        LengthError::DoubtfulComma(text.to_owned(), a.to_owned(), b.to_owned())
    };
    refuses("1,250", LengthUnit::Millimetre, &doubt("1,250", "1250", "1.250"));
    refuses("1,250 mm", LengthUnit::Inch, &doubt("1,250", "1250", "1.250"));
    refuses("12,000", LengthUnit::Millimetre, &doubt("12,000", "12000", "12.000"));
    refuses("1,250.5", LengthUnit::Millimetre, &LengthError::TwoDecimalMarks("1,250.5".to_owned()));
    refuses("1/2", LengthUnit::Millimetre, &LengthError::DoubtfulFraction);
    refuses("1 1/2", LengthUnit::Millimetre, &LengthError::DoubtfulFraction);
    refuses("½", LengthUnit::Millimetre, &LengthError::DoubtfulFraction);
    assert_eq!(
        doubt("1,250", "1250", "1.250").to_string(),
        "`1,250` can be read in two ways; type 1250 or 1.250"
    );
}

proptest! {
    #[test]
    fn what_is_printed_reads_back(
        ticks in -100_000_i32..100_000,
        fineness in prop::sample::select(vec![
            Fineness::Eighth, Fineness::Sixteenth, Fineness::ThirtySecond, Fineness::SixtyFourth,
        ]),
    ) {
        let denominator = match fineness {
            Fineness::Eighth => 8.0,
            Fineness::Sixteenth => 16.0,
            Fineness::ThirtySecond => 32.0,
            Fineness::SixtyFourth => 64.0,
        };
        let mm = f64::from(ticks) / denominator * MM_PER_INCH;
        for rounding in [Rounding::Nearest, Rounding::Down, Rounding::Up] {
            let shown = format_to(mm, LengthUnit::Inch, rounding, fineness);
            let read = parse(&shown, LengthUnit::Millimetre);
            prop_assert!(read.as_ref().is_ok_and(|it| (it - mm).abs() < 1e-9), "{shown} {read:?}");
        }
        let tenths = f64::from(ticks) / 10.0;
        let shown = format_to(tenths, LengthUnit::Millimetre, Rounding::Down, Fineness::Sixteenth);
        prop_assert_eq!(parse(&shown, LengthUnit::Inch), Ok(tenths));
    }

    #[test]
    fn rounding_keeps_its_side(mm in -5000.0_f64..5000.0) {
        for unit in [LengthUnit::Inch, LengthUnit::Millimetre] {
            let read = |rounding| {
                parse(&format_to(mm, unit, rounding, Fineness::Sixteenth), unit).map(f64::abs)
            };
            let (down, near, up) =
                (read(Rounding::Down), read(Rounding::Nearest), read(Rounding::Up));
            prop_assert!(down.is_ok_and(|it| it <= mm.abs() + 1e-6));
            prop_assert!(up.is_ok_and(|it| mm.abs() - 1e-6 <= it));
            prop_assert!(near.is_ok_and(|it| (it - mm.abs()).abs() <= MM_PER_INCH / 32.0 + 1e-6));
        }
    }

    #[test]
    fn an_edited_field_keeps_the_length(mm in -5000.0_f64..5000.0) {
        for unit in [LengthUnit::Inch, LengthUnit::Millimetre] {
            let shown = exact(mm, unit);
            let read = parse(&shown, unit);
            prop_assert!(read.as_ref().is_ok_and(|it| (it - mm).abs() < 1e-6), "{shown} {read:?}");
        }
    }

    #[test]
    fn no_entry_panics(text in "[-+=0-9 ./,'\"xdimcft½⅞⁄]{0,24}") {
        for unit in [LengthUnit::Inch, LengthUnit::Millimetre] {
            if let Ok(mm) = parse(&text, unit) {
                prop_assert!(mm.is_finite());
            }
        }
    }
}
