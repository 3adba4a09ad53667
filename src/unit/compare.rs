//! The one comparison of a measured length with a required one. Knows no wood.

/// Lengths that differ by less than this, in millimetres, count as equal in a comparison.
///
/// 25.4 is no binary fraction, so 3 1/2" less 2" may miss 1 1/2" by the last bit of an f64.
/// A millionth of a millimetre is far above that rounding and far below anything that can
/// be made or measured in wood.
pub const SAME_MM: f64 = 1e-6;

/// Whether `measured` is at least `required`, both in millimetres (or both in degrees).
#[must_use]
pub fn at_least(measured: f64, required: f64) -> bool {
    required - SAME_MM <= measured
}

/// Whether `measured` is at most `allowed`, both in millimetres (or both in degrees).
#[must_use]
pub fn at_most(measured: f64, allowed: f64) -> bool {
    at_least(allowed, measured)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_that_misses_by_rounding_only_is_met() {
        let three_and_a_half_less_two = 3.5_f64.mul_add(25.4, -(2.0 * 25.4));
        assert!(at_least(three_and_a_half_less_two, 1.5 * 25.4));
        assert!(at_least(38.099_999_999, 38.1));
        assert!(!at_least(38.099_9, 38.1));
        assert!(at_most(38.1, 38.099_999_999));
    }
}
