//! A rafter seated on a wall plate and toe-nailed to it.

use super::build::{Build, Spot, polygon, rectangle, spread};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Grain, Interval};
use crate::unit::Vec3;

const THICK: Question =
    Question::length("rafter-thickness", "Thickness of the rafter", [1.5, 1.0, 4.0], [45.0, 25.0, 100.0]);
const HIGH: Question =
    Question::length("rafter-depth", "Depth of the rafter", [7.25, 3.5, 14.0], [195.0, 90.0, 360.0]);
const SLOPE: Question = Question::degrees("slope", "Slope of the roof", [30.0, 10.0, 55.0]);
const PLATE: Question = Question::length(
    "plate-thickness",
    "Thickness of each of the two plates",
    [1.5, 1.0, 3.5],
    [45.0, 25.0, 90.0],
);
const WALL: Question =
    Question::length("wall", "Width of the plates", [5.5, 3.5, 9.25], [145.0, 90.0, 240.0]);
const EACH: Question = Question::count("nails", "Nails on each side", [1.0, 1.0, 3.0]);

/// A toe-nailed rafter.
pub(super) const RAFTER: Starter = Starter {
    word: "rafter",
    title: "Toe-nailed rafter",
    says: "A rafter with a level seat on two wall plates, toe-nailed from both sides, seen from the side.",
    questions: &[THICK, HIGH, SLOPE, PLATE, WALL, EACH],
    draw,
};

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (thick, high, wall) = (sizes.of(&THICK), sizes.of(&HIGH), sizes.of(&WALL));
    let (plate, slope, each) = (sizes.of(&PLATE), sizes.of(&SLOPE), sizes.count(&EACH));
    let (sin, cos) = crate::shape::sin_cos_deg(slope);
    // The seat is cut over the whole plate; more than half of the rafter square to its length must stay.
    let notch = wall * sin;
    if high / 2.0 < notch {
        let says = format!(
            "a seat of {} at {slope}° cuts more than half of a rafter of {}",
            build.shown(wall),
            build.shown(high)
        );
        return Err(WishError::DoesNotFit(says));
    }
    let wood = build.lumber()?;
    let half = build.length(12.0, 300.0);
    let along = |y: f64| (Interval { from: -half, to: half }, y);
    for (name, top) in [("lower plate", -plate), ("upper plate", 0.0)] {
        let (depth, top) = along(top);
        let outline = rectangle((0.0, top - plate), (wall, plate));
        build.member(name, wood.clone(), outline, (depth, Grain::AlongDepth));
    }
    let outline = rafter((high, wall), (sin, cos), build.length(24.0, 600.0));
    let depth = Interval { from: -thick / 2.0, to: thick / 2.0 };
    build.member("rafter", wood, outline, (depth, Grain::InPlane(slope)));
    nails(build, (thick, wall, plate), (each, (sin, cos)))?;
    // The thrust; what lifts the roof is another load.
    build.load("rafter", -Vec3::X);
    Ok(())
}

/// The rafter from the side: its lower edge meets the inner top corner of the plate, a level seat over the
/// plate, a plumb cut on its outer face, then on to the eaves.
fn rafter((high, wall): (f64, f64), (sin, cos): (f64, f64), reach: f64) -> crate::joint::Outline {
    let tan = sin / cos;
    // The lower edge goes through (wall, 0); the outer face of the wall is x = 0.
    let low = |x: f64| (x - wall) * tan;
    let up = high / cos;
    let (eaves, ridge) = (-reach / 2.0, wall + reach);
    polygon(&[
        (eaves, low(eaves)),
        (0.0, low(0.0)),
        (0.0, 0.0),
        (wall, 0.0),
        (ridge, low(ridge)),
        (ridge, low(ridge) + up),
        (eaves, low(eaves) + up),
    ])
}

/// From each side face down into the upper plate, at 30 degrees and a third of the length from the seat (NDS
/// 2018 12.1.6.3), by EN 1995-1-1 8.3.2(10) at least ten diameters.
///
/// `across` and `along` are sine and cosine of the slope; the start is measured across or along the grain,
/// whichever looks more nearly down.
fn nails(
    build: &mut Build<'_>,
    (thick, wall, plate): (f64, f64, f64),
    (each, (across, along)): (usize, (f64, f64)),
) -> Result<(), WishError> {
    let (sin, cos) = crate::shape::sin_cos_deg(30.0);
    let steep = across.max(along);
    // A third above the seat, and no farther down than the upper plate is thick.
    let spec = build.nail_up_to(build.pick("nail/common", "nail/metric"), plate / (cos - 1.0 / 3.0))?;
    let wide = spec.diameter_mm;
    // By EN 1995-1-1 the nail must be five diameters inside of the rafter at the seat, too.
    let least = build.pick(0.0, (10.0 * wide).max(5.0 * wide * cos / sin / steep));
    let start = (spec.length_mm / 3.0).max(least);
    let above = start * steep;
    let places = 2 * each;
    // Seven diameters to the edge of the plate, and fifteen to the corner of the seat.
    let (from, to) = ((7.0 * wide).min(wall / 3.0), (wall - 15.0 * wide / along).max(wall / 2.0));
    for (number, x) in spread(from, to, places).into_iter().enumerate() {
        let side = if number % 2 == 0 { 1.0 } else { -1.0 };
        let spot = Spot::new([x, above, side * thick / 2.0], Vec3::new(0.0, -cos, -side * sin));
        build.free(&format!("n{}", number + 1), spec.clone(), spot);
    }
    Ok(())
}
