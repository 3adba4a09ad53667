//! Flat steel on a face: a strap with rows of holes at both ends, and a wide tie plate with a grid.

use kurbo::Point;

use super::Form;
use super::holes::{Fixing, Grid};
use crate::joint::{Interval, Plate, PlateSide};
use crate::sketch::question::{Question, Sizes, WishError};

const THICK: Question =
    Question::length("thickness", "Thickness of the steel", [0.0625, 0.03125, 0.5], [1.5, 0.8, 12.0]);
const LENGTH: Question = Question::length("length", "Length", [18.0, 3.0, 96.0], [450.0, 80.0, 2400.0]);
const WIDE: Question = Question::length("width", "Width", [1.25, 0.5, 12.0], [40.0, 12.0, 300.0]);
const EACH: Question = Question::count("holes", "Holes in a row at each end", [4.0, 1.0, 40.0]);
const ROWS: Question = Question::count("rows", "Rows of holes", [1.0, 1.0, 12.0]);
const PITCH: Question = Question::length("pitch", "From hole to hole", [1.5, 0.25, 12.0], [40.0, 6.0, 300.0]);
const END: Question = Question::length(
    "end",
    "From the end of the steel to the first hole",
    [0.5, 0.1875, 6.0],
    [15.0, 5.0, 150.0],
);
const BETWEEN: Question =
    Question::length("row-pitch", "From row to row", [0.625, 0.1875, 6.0], [20.0, 5.0, 150.0]);
const TIE_LENGTH: Question = Question::length("length", "Length", [9.0, 2.0, 48.0], [220.0, 50.0, 1200.0]);
const TIE_WIDE: Question = Question::length("width", "Width", [3.0, 1.0, 24.0], [80.0, 25.0, 600.0]);
const TIE_EACH: Question = Question::count("holes", "Holes in a row at each end", [2.0, 1.0, 40.0]);
const TIE_ROWS: Question = Question::count("rows", "Rows of holes", [2.0, 1.0, 24.0]);
const TIE_BETWEEN: Question =
    Question::length("row-pitch", "From row to row", [1.5, 0.1875, 12.0], [40.0, 5.0, 300.0]);

/// A flat strap.
pub(super) const STRAP: Form = Form {
    word: "strap",
    title: "Flat strap",
    says: "A flat strap along a face, its middle at the place.",
    questions: &[THICK, LENGTH, WIDE, EACH, ROWS, PITCH, END, BETWEEN],
    plates: |sizes, fixing| flat(sizes, fixing, &[&LENGTH, &WIDE, &EACH, &ROWS, &BETWEEN]),
};

/// A tie plate.
pub(super) const TIE: Form = Form {
    word: "tie-plate",
    title: "Tie plate",
    says: "A wide plate with a grid of holes at both ends, its middle at the place.",
    questions: &[THICK, TIE_LENGTH, TIE_WIDE, TIE_EACH, TIE_ROWS, PITCH, END, TIE_BETWEEN],
    plates: |sizes, fixing| {
        flat(sizes, fixing, &[&TIE_LENGTH, &TIE_WIDE, &TIE_EACH, &TIE_ROWS, &TIE_BETWEEN])
    },
};

fn flat(
    sizes: &Sizes,
    fixing: &Fixing,
    [length, wide, each, rows, between]: &[&Question; 5],
) -> Result<Vec<Plate>, WishError> {
    let (thick, length, wide) = (sizes.of(&THICK), sizes.of(length), sizes.of(wide));
    let (pitch, end) = (sizes.of(&PITCH), sizes.of(&END));
    let grid = Grid {
        along_mm: end,
        pitch_mm: pitch,
        count: sizes.count(each),
        depth_mm: 0.0,
        row_pitch_mm: sizes.of(between),
        rows: sizes.count(rows),
    };
    #[expect(clippy::cast_precision_loss, reason = "at most forty")]
    let row = pitch * (grid.count.max(1) - 1) as f64;
    if length / 2.0 < end + row {
        let says = format!(
            "a row of {} from each end does not fit on {}",
            sizes.shown(end + row),
            sizes.shown(length)
        );
        return Err(WishError::DoesNotFit(says));
    }
    let mut holes = fixing.grid(&grid, PlateSide::Left);
    holes.extend(fixing.grid(&Grid { along_mm: length - end - row, ..grid }, PlateSide::Left));
    let half = length / 2.0;
    Ok(vec![Plate {
        thickness_mm: thick,
        depth: Interval { from: -wide / 2.0, to: wide / 2.0 },
        profile: vec![Point::new(-half, thick / 2.0), Point::new(half, thick / 2.0)],
        bend_radius_mm: 0.0,
        holes,
    }])
}
