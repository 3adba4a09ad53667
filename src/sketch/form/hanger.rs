//! A joist hanger, in section: two flanges on the header's face and a seat under the joist.

use kurbo::Point;

use super::Form;
use super::holes::{Fixing, Grid};
use crate::joint::{Interval, Plate, PlateSide};
use crate::sketch::question::{Question, Sizes, WishError};

const THICK: Question =
    Question::length("thickness", "Thickness of the steel", [0.0625, 0.03125, 0.25], [1.5, 0.8, 6.0]);
const JOIST: Question =
    Question::length("joist", "Thickness of the joist", [1.5, 1.0, 12.0], [45.0, 25.0, 300.0]);
const HIGH: Question =
    Question::length("height", "Height of the flanges", [7.5, 2.0, 30.0], [180.0, 50.0, 750.0]);
const FLANGE: Question =
    Question::length("flange", "Width of each flange", [1.5, 0.75, 6.0], [40.0, 20.0, 150.0]);
const SEAT: Question =
    Question::length("seat", "Length of the seat under the joist", [2.0, 1.0, 8.0], [60.0, 25.0, 200.0]);
const EACH: Question = Question::count("holes", "Holes in each flange", [4.0, 1.0, 30.0]);
const PITCH: Question =
    Question::length("pitch", "From hole to hole", [1.625, 0.25, 12.0], [40.0, 6.0, 300.0]);
const END: Question = Question::length(
    "end",
    "From the lower end of the flange to the first hole",
    [1.25, 0.1875, 6.0],
    [30.0, 5.0, 150.0],
);

/// A joist hanger.
pub(super) const HANGER: Form = Form {
    word: "joist-hanger",
    title: "Joist hanger",
    says: "A hanger on the face of a header, the bottom of its joist at the place, up along the face.",
    questions: &[THICK, JOIST, HIGH, FLANGE, SEAT, EACH, PITCH, END],
    plates,
};

fn plates(sizes: &Sizes, fixing: &Fixing) -> Result<Vec<Plate>, WishError> {
    let (thick, joist, flange) = (sizes.of(&THICK), sizes.of(&JOIST), sizes.of(&FLANGE));
    let (high, seat) = (sizes.of(&HIGH), sizes.of(&SEAT));
    let half = thick / 2.0;
    let beside = |side: f64| {
        let middle = side * (joist + flange) / 2.0;
        let grid = Grid::row(sizes.of(&END), sizes.of(&PITCH), sizes.count(&EACH), middle);
        Plate {
            thickness_mm: thick,
            depth: Interval { from: middle - flange / 2.0, to: middle + flange / 2.0 },
            profile: vec![Point::new(0.0, half), Point::new(high, half)],
            bend_radius_mm: 0.0,
            holes: fixing.grid(&grid, PlateSide::Left),
        }
    };
    let under = Plate {
        thickness_mm: thick,
        depth: Interval { from: -joist / 2.0, to: joist / 2.0 },
        profile: vec![Point::new(-half, 0.0), Point::new(-half, seat)],
        bend_radius_mm: 0.0,
        holes: Vec::new(),
    };
    Ok(vec![beside(-1.0), beside(1.0), under])
}
