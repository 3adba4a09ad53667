//! Distances and angles between places, in words. Nothing of the joint changes.

use super::Measure;
use crate::unit::LengthUnit;
use crate::window::canvas::draft::Corner;
use crate::window::words;

/// The measure of some places.
pub(super) fn words_of(measure: Measure, corners: &[Corner], unit: LengthUnit) -> Option<String> {
    match (measure, corners) {
        (Measure::Distance, [a, b, ..]) => {
            let by = b.at - a.at;
            let direction = words::degrees(by.y.atan2(by.x).to_degrees());
            let (across, up) = (words::size(by.x.abs(), unit), words::size(by.y.abs(), unit));
            Some(format!("{} at {direction}: across {across}, up {up}", words::in_both(by.hypot(), unit)))
        }
        (Measure::Angle, [a, middle, b, ..]) => {
            let (one, other) = (a.at - middle.at, b.at - middle.at);
            if one.hypot() == 0.0 || other.hypot() == 0.0 {
                return None;
            }
            let deg = one.cross(other).atan2(one.dot(other)).to_degrees().abs();
            Some(format!("{} ({} to the other side)", words::degrees(deg), words::degrees(180.0 - deg)))
        }
        (Measure::Distance | Measure::Angle, _) => None,
    }
}
