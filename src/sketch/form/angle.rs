//! An angle in the corner between two members: one leg on the face, one standing out of it.

use kurbo::Point;

use super::Form;
use super::holes::{Fixing, Grid};
use crate::joint::{Interval, Plate, PlateSide};
use crate::sketch::question::{Question, Sizes, WishError};

const THICK: Question =
    Question::length("thickness", "Thickness of the steel", [0.125, 0.03125, 0.5], [3.0, 0.8, 12.0]);
const FLAT: Question =
    Question::length("leg", "Length of the leg on the face", [5.0, 1.0, 24.0], [125.0, 25.0, 600.0]);
const UPRIGHT: Question =
    Question::length("other-leg", "Length of the other leg", [5.0, 1.0, 24.0], [125.0, 25.0, 600.0]);
const WIDE: Question = Question::length("width", "Width", [2.0, 0.5, 24.0], [50.0, 12.0, 600.0]);
const EACH: Question = Question::count("holes", "Holes in a row on each leg", [2.0, 1.0, 20.0]);
const ROWS: Question = Question::count("rows", "Rows of holes", [1.0, 1.0, 12.0]);
const PITCH: Question = Question::length("pitch", "From hole to hole", [2.0, 0.25, 12.0], [50.0, 6.0, 300.0]);
const END: Question = Question::length(
    "end",
    "From the end of each leg to its first hole",
    [0.75, 0.1875, 6.0],
    [20.0, 5.0, 150.0],
);
const BETWEEN: Question =
    Question::length("row-pitch", "From row to row", [1.0, 0.1875, 12.0], [25.0, 5.0, 300.0]);

/// An angle.
pub(super) const ANGLE: Form = Form {
    word: "angle",
    title: "Angle",
    says: "An angle with its corner at the place, one leg along the face and one out of it.",
    questions: &[THICK, FLAT, UPRIGHT, WIDE, EACH, ROWS, PITCH, END, BETWEEN],
    plates,
};

fn plates(sizes: &Sizes, fixing: &Fixing) -> Result<Vec<Plate>, WishError> {
    let (thick, wide) = (sizes.of(&THICK), sizes.of(&WIDE));
    let (flat, upright) = (sizes.of(&FLAT), sizes.of(&UPRIGHT));
    let (pitch, end) = (sizes.of(&PITCH), sizes.of(&END));
    let grid = Grid {
        along_mm: end,
        pitch_mm: pitch,
        count: sizes.count(&EACH),
        depth_mm: 0.0,
        row_pitch_mm: sizes.of(&BETWEEN),
        rows: sizes.count(&ROWS),
    };
    #[expect(clippy::cast_precision_loss, reason = "at most twenty")]
    let row = end + pitch * (grid.count.max(1) - 1) as f64;
    let least = flat.min(upright);
    if least < row + thick + fixing.diameter_mm / 2.0 {
        let says = format!("a row of {} does not fit on a leg of {}", sizes.shown(row), sizes.shown(least));
        return Err(WishError::DoesNotFit(says));
    }
    let half = thick / 2.0;
    let developed = (flat - half) + (upright - half);
    // Both legs are driven from inside the corner, which lies to the right of the profile.
    let mut holes = fixing.grid(&grid, PlateSide::Right);
    holes.extend(fixing.grid(&Grid { along_mm: developed - row, ..grid }, PlateSide::Right));
    Ok(vec![Plate {
        thickness_mm: thick,
        depth: Interval { from: -wide / 2.0, to: wide / 2.0 },
        profile: vec![Point::new(flat, half), Point::new(half, half), Point::new(half, upright)],
        bend_radius_mm: 0.0,
        holes,
    }])
}
