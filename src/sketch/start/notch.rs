//! A beam let into a notched post and bolted.

use super::build::{Build, Spot, polygon, rectangle};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Grain, Interval};
use crate::unit::Vec3;

const POST: Question =
    Question::length("post", "Side of the square post", [5.5, 3.5, 12.0], [140.0, 90.0, 300.0]);
const THICK: Question =
    Question::length("beam-thickness", "Thickness of the beam", [3.0, 1.5, 8.0], [80.0, 45.0, 200.0]);
const HIGH: Question =
    Question::length("beam-depth", "Depth of the beam", [9.25, 5.5, 20.0], [220.0, 140.0, 500.0]);
const BOLT: Question =
    Question::length("bolt", "Diameter of the bolts", [0.5, 0.375, 1.0], [12.0, 8.0, 24.0]);
const DOWN: Question = Question::length(
    "post-length",
    "Length of the post that is drawn below the beam",
    [24.0, 6.0, 120.0],
    [600.0, 150.0, 3000.0],
);

/// A notched post with a beam in it.
pub(super) const NOTCH: Starter = Starter {
    word: "notch",
    title: "Beam in a notched post",
    says: "A beam seated in the notch of a post and bolted through what is left of it, seen in section.",
    questions: &[POST, THICK, HIGH, BOLT, DOWN],
    draw,
};

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (post, thick, high) = (sizes.of(&POST), sizes.of(&THICK), sizes.of(&HIGH));
    let (bolt, down) = (sizes.of(&BOLT), sizes.of(&DOWN));
    let tongue = post - thick;
    if tongue < build.length(1.0, 25.0) {
        let says = format!(
            "a notch of {} leaves less than {} of a post of {}",
            build.shown(thick),
            build.shown(build.length(1.0, 25.0)),
            build.shown(post)
        );
        return Err(WishError::DoesNotFit(says));
    }
    // Four diameters below the top edge that the load presses on; the other as far below it as the
    // depth has room for, but at most 5", so that the wood may shrink (NDS 2018 12.5.1.3).
    let upper = high - 4.0 * bolt;
    let lower = (4.0 * bolt).max(upper - 120.0);
    if upper - lower < 3.0 * bolt {
        let says =
            format!("two bolts of {} do not fit on a depth of {}", build.shown(bolt), build.shown(high));
        return Err(WishError::DoesNotFit(says));
    }
    let wood = build.lumber()?;
    let outline =
        polygon(&[(0.0, -down), (post, -down), (post, 0.0), (tongue, 0.0), (tongue, high), (0.0, high)]);
    let half = post / 2.0;
    build.member("post", wood.clone(), outline, (Interval { from: -half, to: half }, Grain::InPlane(90.0)));
    let over = build.length(24.0, 600.0);
    let beam = rectangle((tongue, 0.0), (thick, high));
    build.member("beam", wood, beam, (Interval { from: -over, to: over }, Grain::AlongDepth));
    for (id, y) in [("b1", upper), ("b2", lower)] {
        build.bolt(id, Spot::new([0.0, y, 0.0], Vec3::X), (bolt, post))?;
    }
    build.load("beam", -Vec3::Y);
    Ok(())
}
