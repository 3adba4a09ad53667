//! A new joist beside an old one, nailed together.

use super::build::{Build, Spot, rectangle, spread, steps};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Grain, Interval};
use crate::unit::Vec3;

const OLD: Question =
    Question::length("joist-thickness", "Thickness of the old joist", [1.5, 1.0, 4.0], [45.0, 25.0, 100.0]);
const NEW: Question =
    Question::length("sister-thickness", "Thickness of the sister", [1.5, 1.0, 4.0], [45.0, 25.0, 100.0]);
const HIGH: Question = Question::length("depth", "Depth of both", [9.25, 3.5, 16.0], [220.0, 90.0, 400.0]);
const LENGTH: Question =
    Question::length("sister-length", "Length of the sister", [48.0, 24.0, 240.0], [1200.0, 600.0, 6000.0]);
const PITCH: Question =
    Question::length("spacing", "Distance of the nails in a row", [12.0, 3.0, 24.0], [300.0, 75.0, 600.0]);
const ROWS: Question = Question::count("rows", "Rows of nails", [2.0, 1.0, 4.0]);

/// A sistered joist.
pub(super) const SISTER: Starter = Starter {
    word: "sister",
    title: "Sistered joist",
    says: "A new joist nailed beside an old one, seen from the side.",
    questions: &[OLD, NEW, HIGH, LENGTH, PITCH, ROWS],
    draw,
};

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (old, new, high) = (sizes.of(&OLD), sizes.of(&NEW), sizes.of(&HIGH));
    let (length, rows) = (sizes.of(&LENGTH), sizes.count(&ROWS));
    let wood = build.lumber()?;
    let grain = Grain::InPlane(0.0);
    let over = build.length(12.0, 300.0);
    let joist = rectangle((-over, 0.0), (length + 2.0 * over, high));
    build.member("joist", wood.clone(), joist, (Interval { from: 0.0, to: old }, grain));
    let sister = rectangle((0.0, 0.0), (length, high));
    build.member("sister", wood, sister, (Interval { from: old, to: old + new }, grain));
    let spec = build.nail_up_to(build.pick("nail/common", "nail/metric"), old + new)?;
    // Both standards ask for 15 diameters to a loaded end; a quarter of the depth is plenty to the edges.
    let end = (15.0 * spec.diameter_mm).min(length / 2.0);
    let edge = high / 4.0;
    let count = steps(length - 2.0 * end, sizes.of(&PITCH)) + 1;
    let places = spread(end, length - end, count);
    let step = if 1 < count { places[1] - places[0] } else { 0.0 };
    let mut number = 0;
    for (row, y) in spread(edge, high - edge, rows).into_iter().enumerate() {
        // Every other row stands half a step along.
        let shift = if row % 2 == 0 { 0.0 } else { step / 2.0 };
        for x in places.iter().map(|it| it + shift).filter(|it| *it <= length - end + 1e-9) {
            number += 1;
            let spot = Spot::new([x, y, old + new], -Vec3::Z);
            build.free(&format!("n{number}"), spec.clone(), spot);
        }
    }
    build.load("sister", -Vec3::Y);
    Ok(())
}
