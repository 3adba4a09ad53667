//! Rounding to a step, and decimals as they are shown. Knows no unit.

use super::length::Rounding;

/// Beyond this many steps an f64 no longer tells neighbouring steps apart.
const MOST_STEPS: f64 = 9.0e15;

/// A number that is no number, in words: no caller has to guard against it.
pub(super) fn not_finite(value: f64) -> Option<&'static str> {
    if value.is_nan() {
        Some("not a number")
    } else if value.is_infinite() {
        Some(if value < 0.0 { "minus infinity" } else { "infinity" })
    } else {
        None
    }
}

/// How many whole steps `value` has, not negative; `None` when it has more than can be counted.
///
/// A value that misses a step by less than `slack` (in the unit of the value) is on that step: 1 1/2"
/// that arithmetic left one bit short must not be shown as 1 7/16" because it is rounded down.
pub(super) fn steps(value: f64, step: f64, slack: f64, rounding: Rounding) -> Option<u64> {
    let exact = value.abs() / step;
    if !exact.is_finite() || MOST_STEPS < exact {
        return None;
    }
    let nearest = exact.round();
    let whole = if (exact - nearest).abs() * step < slack {
        nearest
    } else {
        match rounding {
            // A half goes up, also one that a bit is missing from: 971.55 to one decimal is 971.6.
            Rounding::Nearest => (exact + 0.5 + slack / step).floor(),
            Rounding::Down => exact.floor(),
            Rounding::Up => exact.ceil(),
        }
    };
    #[expect(clippy::cast_possible_truncation, reason = "a whole number between 0 and MOST_STEPS")]
    #[expect(clippy::cast_sign_loss, reason = "a whole number between 0 and MOST_STEPS")]
    Some(whole as u64)
}

/// The decimal with at most so many places, no trailing zero, and never `-0`.
pub(super) fn decimal(value: f64, places: u32, slack: f64, rounding: Rounding) -> String {
    if let Some(words) = not_finite(value) {
        return words.to_owned();
    }
    let per_unit = 10_u64.pow(places.min(9));
    #[expect(clippy::cast_precision_loss, reason = "at most 10^9")]
    let Some(count) = steps(value, 1.0 / per_unit as f64, slack, rounding) else {
        return format!("{value:e}");
    };
    let sign = if value < 0.0 && count != 0 { "-" } else { "" };
    let whole = count / per_unit;
    let (mut rest, mut width) = (count % per_unit, places.min(9) as usize);
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    while rest.is_multiple_of(10) {
        (rest, width) = (rest / 10, width - 1);
    }
    format!("{sign}{whole}.{rest:0width$}")
}
