//! Distances and angles between places, in words. Nothing of the joint changes.

use super::{Made, Measure, NotMade};
use crate::joint::edit::Change;
use crate::joint::{Dimension, Edit, Look as From, Measures};
use crate::sketch::snap::{Options, Snapper};
use crate::unit::LengthUnit;
use crate::window::canvas::draft::Corner;
use crate::window::canvas::plane;
use crate::window::look::Look;
use crate::window::words;

/// The measure of some places.
pub(super) fn words_of(measure: Measure, corners: &[Corner], unit: LengthUnit) -> Option<String> {
    match (measure, corners) {
        (Measure::Distance, [a, b, ..]) => {
            let by = b.at - a.at;
            let direction = words::degrees(by.y.atan2(by.x).to_degrees());
            let (across, up) = (words::size(by.x.abs(), unit), words::size(by.y.abs(), unit));
            let way = if by.y < 0.0 { "down" } else { "up" };
            Some(format!("{} at {direction}: across {across}, {way} {up}", words::in_both(by.hypot(), unit)))
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

/// How near a place must be to what it holds on to, millimetres: it was snapped there.
const ON_IT_MM: f64 = 0.01;

/// A dimension between two places, its line through a third; each end holds on to what it lies on. It tells the
/// straight distance, that across or that in height.
pub(super) fn dimension(measures: Measures, corners: &[Corner], look: &Look<'_>) -> Result<Made, NotMade> {
    let [from, to, line] = corners else { return Err(NotMade::new()) };
    let way = to.at - from.at;
    if way.hypot() < ON_IT_MM {
        return Err(NotMade::new());
    }
    // As `trace::dimension` reads it: to the left of the way, up from the upper end, to the left of the left one.
    let (mm, offset_mm) = match measures {
        Measures::Straight => (way.hypot(), way.normalize().cross(line.at - from.at)),
        Measures::Level => (way.x.abs(), line.at.y - from.at.y.max(to.at.y)),
        Measures::Upright => (way.y.abs(), from.at.x.min(to.at.x) - line.at.x),
    };
    if mm < ON_IT_MM {
        let other =
            if measures == Measures::Level { "One lies above the other" } else { "Both lie at one height" };
        return Err(format!("{other}: there is no such distance between them. C measures another one."));
    }
    let kept = &look.kept;
    let view = look.view;
    let snapper = Snapper::seen(&kept.joint, &kept.trace, view);
    let options = Options { within_mm: ON_IT_MM, ..Options::default() };
    let anchor = |at| {
        let met = snapper.snap(at, &options);
        met.map_or(crate::joint::Anchor::Place(at), |it| it.anchor(&kept.joint, &kept.trace, view))
    };
    let new = Dimension { look: view, from: anchor(from.at), to: anchor(to.at), measures, offset_mm };
    let told = words::size(mm, look.unit());
    Ok(Made {
        name: match view {
            From::Front => format!("Dimension of {told}"),
            From::Side | From::Top => format!("Dimension of {told} in {}", plane::name(view)),
        },
        edit: Edit::Dimensions(Change::Insert { at: kept.joint.dimensions.len(), new: Box::new(new) }),
        chosen: Vec::new(),
    })
}
