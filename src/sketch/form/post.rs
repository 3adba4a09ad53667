//! A post seat: a plate under the post, bent up on both sides of it.

use kurbo::Point;

use super::Form;
use super::holes::{Fixing, Grid};
use crate::joint::{Interval, Plate, PlateSide};
use crate::sketch::question::{Question, Sizes, WishError};

const THICK: Question =
    Question::length("thickness", "Thickness of the steel", [0.125, 0.0625, 0.5], [3.0, 1.5, 12.0]);
const POST: Question =
    Question::length("post", "Width of the post between the legs", [3.5, 1.5, 16.0], [90.0, 38.0, 400.0]);
const WIDE: Question =
    Question::length("width", "Width of the steel", [3.0, 0.75, 16.0], [80.0, 20.0, 400.0]);
const HIGH: Question =
    Question::length("height", "Height of the legs", [5.0, 1.0, 24.0], [125.0, 25.0, 600.0]);
const EACH: Question = Question::count("holes", "Holes in each leg", [2.0, 1.0, 20.0]);
const PITCH: Question = Question::length("pitch", "From hole to hole", [1.5, 0.25, 12.0], [40.0, 6.0, 300.0]);
const END: Question = Question::length(
    "end",
    "From the top of each leg to the first hole",
    [1.0, 0.1875, 6.0],
    [25.0, 5.0, 150.0],
);

/// A post seat.
pub(super) const POST_SEAT: Form = Form {
    word: "post-seat",
    title: "Post seat",
    says: "A seat on a face with a leg on both sides of the post, its middle at the place.",
    questions: &[THICK, POST, WIDE, HIGH, EACH, PITCH, END],
    plates,
};

fn plates(sizes: &Sizes, fixing: &Fixing) -> Result<Vec<Plate>, WishError> {
    let (thick, post, wide, high) = (sizes.of(&THICK), sizes.of(&POST), sizes.of(&WIDE), sizes.of(&HIGH));
    let (pitch, end, count) = (sizes.of(&PITCH), sizes.of(&END), sizes.count(&EACH));
    #[expect(clippy::cast_precision_loss, reason = "at most twenty")]
    let row = end + pitch * (count.max(1) - 1) as f64;
    if high < row + thick + fixing.diameter_mm / 2.0 {
        let says = format!("a row of {} does not fit on a leg of {}", sizes.shown(row), sizes.shown(high));
        return Err(WishError::DoesNotFit(says));
    }
    let (half, out) = (thick / 2.0, (post + thick) / 2.0);
    let developed = 2.0 * (high - half) + 2.0 * out;
    // Both legs are driven from outside, which lies to the right of the profile.
    let row_at = |along| Grid::row(along, pitch, count, 0.0);
    let mut holes = fixing.grid(&row_at(end), PlateSide::Right);
    holes.extend(fixing.grid(&row_at(developed - row), PlateSide::Right));
    Ok(vec![Plate {
        thickness_mm: thick,
        depth: Interval { from: -wide / 2.0, to: wide / 2.0 },
        profile: vec![
            Point::new(-out, high),
            Point::new(-out, half),
            Point::new(out, half),
            Point::new(out, high),
        ],
        bend_radius_mm: 0.0,
        holes,
    }])
}
