//! A plate of one's own: a profile drawn by its points, with bends and a thickness.

use kurbo::Point;

use crate::joint::{Interval, Plate, StandardId};
use crate::sketch::question::{WishError, shown};
use crate::unit::compare::SAME_MM;

/// Steel thinner than this cannot be drawn, and no leg may be shorter, millimetres.
const LEAST_MM: f64 = 0.01;

/// A plate by the points of its middle line, one bend at each inner point.
///
/// Points on the same place count once. Where `bend_radius_mm` is larger than the legs have room for, the
/// refusal says how much room there is.
///
/// # Errors
/// Fewer than two points, a profile that turns straight back, and bends that do not fit.
pub fn plate(
    points: &[Point],
    (thickness_mm, bend_radius_mm): (f64, f64),
    depth: Interval,
    by: StandardId,
) -> Result<Plate, WishError> {
    let refuse = |says: String| Err(WishError::DoesNotFit(says));
    let mut profile: Vec<Point> = Vec::with_capacity(points.len());
    for it in points {
        if profile.last().is_none_or(|last| LEAST_MM < (*it - *last).hypot()) {
            profile.push(*it);
        }
    }
    if profile.len() < 2 || profile.iter().any(|it| !it.is_finite()) {
        return refuse("a profile needs at least two points".to_owned());
    }
    if !(LEAST_MM <= thickness_mm && thickness_mm.is_finite()) {
        return refuse("steel needs a thickness".to_owned());
    }
    if !crate::unit::compare::at_least(depth.to - depth.from, LEAST_MM) {
        return refuse("a plate needs a width: its depth is empty".to_owned());
    }
    let turns = turns(&profile);
    if turns.iter().any(|it| std::f64::consts::PI - it.abs() < 1e-6) {
        return refuse("the profile turns straight back; give a fold as two bends".to_owned());
    }
    let room = room(&profile, &turns);
    if room + SAME_MM < bend_radius_mm {
        let says = format!(
            "a bend of {} does not fit: the legs have room for {}",
            shown(bend_radius_mm, by),
            shown((room * 1e3).floor() / 1e3, by)
        );
        return refuse(says);
    }
    let half = thickness_mm / 2.0;
    if !(bend_radius_mm == 0.0 || turns.is_empty() || half - SAME_MM <= bend_radius_mm) {
        let says = format!(
            "a bend of {} to the middle of steel {} thick leaves none inside; it is 0 or at least {}",
            shown(bend_radius_mm, by),
            shown(thickness_mm, by),
            shown(half, by)
        );
        return refuse(says);
    }
    Ok(Plate { thickness_mm, depth, profile, bend_radius_mm, holes: Vec::new() })
}

/// Length of the middle line with its bends, millimetres.
#[must_use]
pub fn developed_mm(plate: &Plate) -> f64 {
    let straight: f64 = plate.profile.windows(2).map(|it| (it[1] - it[0]).hypot()).sum();
    let radius = plate.bend_radius_mm;
    let bent = turns(&plate.profile).into_iter().map(|it| radius * (2.0 * (it / 2.0).abs().tan() - it.abs()));
    straight - bent.sum::<f64>()
}

/// The turn at each inner point, radians.
fn turns(profile: &[Point]) -> Vec<f64> {
    let legs: Vec<_> = profile.windows(2).map(|it| it[1] - it[0]).collect();
    legs.windows(2).map(|it| it[0].cross(it[1]).atan2(it[0].dot(it[1]))).collect()
}

/// The largest radius for which every leg has room for the bends at its ends.
fn room(profile: &[Point], turns: &[f64]) -> f64 {
    let taken = |at: Option<&f64>| at.map_or(0.0, |it| (it / 2.0).abs().tan());
    let mut room = f64::INFINITY;
    for (n, leg) in profile.windows(2).enumerate() {
        let both = taken(n.checked_sub(1).and_then(|it| turns.get(it))) + taken(turns.get(n));
        if 0.0 < both {
            room = room.min((leg[1] - leg[0]).hypot() / both);
        }
    }
    room
}
