//! The numbers by which cases and ratios are compared.

use super::Carries;
use crate::joint::Duration;
use crate::unit::compare;

/// A force that is smaller, in newtons, is rounding and no load.
pub(super) const LEAST_N: f64 = 1e-6;

/// Demand over capacity. Nothing against nothing is nothing.
pub(super) fn ratio(demand_n: f64, adjusted_n: f64) -> f64 {
    if demand_n <= LEAST_N {
        0.0
    } else if adjusted_n <= 0.0 {
        f64::INFINITY
    } else {
        demand_n / adjusted_n
    }
}

/// Whether a ratio says that more is asked than there is.
pub(super) fn is_over(ratio: f64) -> bool {
    !compare::at_most(ratio, 1.0)
}

/// How hard a case is on a fastener: by its ratio, and hardest where there is no value.
pub(super) fn rank(it: &Carries) -> f64 {
    if it.unanswered().is_some() {
        return f64::INFINITY;
    }
    let certain = it.combined.as_ref().map_or(0.0, |it| it.ratio);
    // What may cross a farther plane counts where nothing else tells the cases apart.
    it.planes.iter().filter_map(|it| it.ratio).fold(certain, f64::max)
}

/// Longer before shorter.
pub(super) fn shortness(it: Duration) -> u8 {
    match it {
        Duration::Permanent => 0,
        Duration::TenYears => 1,
        Duration::TwoMonths => 2,
        Duration::SevenDays => 3,
        Duration::TenMinutes => 4,
        Duration::Impact => 5,
    }
}
