//! A knee brace lapped onto a post and a beam and bolted.

use super::build::{Build, Spot, polygon, rectangle};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Grain, Interval};
use crate::unit::Vec3;

const POST: Question =
    Question::length("post", "Side of the square post", [5.5, 3.5, 12.0], [140.0, 90.0, 300.0]);
const BEAM: Question =
    Question::length("beam-depth", "Depth of the beam", [9.25, 5.5, 20.0], [220.0, 140.0, 500.0]);
const THICK: Question =
    Question::length("brace-thickness", "Thickness of the brace", [1.5, 1.0, 4.0], [45.0, 25.0, 100.0]);
const WIDE: Question =
    Question::length("brace-width", "Width of the brace", [5.5, 3.5, 9.25], [145.0, 90.0, 240.0]);
const REACH: Question = Question::length(
    "reach",
    "From the middle of the post to the bolt in the beam",
    [30.0, 12.0, 96.0],
    [750.0, 300.0, 2400.0],
);
const SLOPE: Question = Question::degrees("slope", "Slope of the brace", [45.0, 30.0, 60.0]);
const BOLT: Question =
    Question::length("bolt", "Diameter of the bolts", [0.5, 0.375, 0.75], [12.0, 8.0, 20.0]);

/// A knee brace.
pub(super) const BRACE: Starter = Starter {
    word: "brace",
    title: "Knee brace",
    says: "A brace lapped onto a post and a beam, bolted through at each end, seen from the side.",
    questions: &[POST, BEAM, THICK, WIDE, REACH, SLOPE, BOLT],
    draw,
};

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (post, beam, wide) = (sizes.of(&POST), sizes.of(&BEAM), sizes.of(&WIDE));
    let (thick, reach, bolt) = (sizes.of(&THICK), sizes.of(&REACH), sizes.of(&BOLT));
    let slope = sizes.of(&SLOPE);
    let (sin, cos) = crate::shape::sin_cos_deg(slope);
    // The middle line of the brace runs through both bolts; the one in the beam stands at mid-depth.
    let in_beam = (post / 2.0 + reach, beam / 2.0);
    let in_post = (post / 2.0, beam / 2.0 - reach * sin / cos);
    if in_post.1 > -wide {
        let says = format!(
            "a brace with a reach of {} at {slope}° meets the post too near the beam",
            build.shown(reach)
        );
        return Err(WishError::DoesNotFit(says));
    }
    let wood = build.lumber()?;
    let down = in_post.1 - build.length(18.0, 450.0);
    let back = Interval { from: 0.0, to: post };
    let upright = rectangle((0.0, down), (post, -down));
    build.member("post", wood.clone(), upright, (back, Grain::InPlane(90.0)));
    let over = build.length(18.0, 450.0);
    let across = rectangle((-over, 0.0), (in_beam.0 + 2.0 * over, beam));
    build.member("beam", wood.clone(), across, (back, Grain::InPlane(0.0)));
    // Cut flush with the outer face of the post and with the top of the beam.
    let outline = polygon(&brace((in_post, (sin, cos)), wide, (0.0, beam)));
    let front = Interval { from: post, to: post + thick };
    build.member("brace", wood, outline, (front, Grain::InPlane(slope)));
    for (id, (x, y)) in [("b1", in_post), ("b2", in_beam)] {
        build.bolt(id, Spot::new([x, y, post + thick], -Vec3::Z), (bolt, post + thick))?;
    }
    build.load("brace", Vec3::new(cos, sin, 0.0));
    Ok(())
}

/// A board along a line, cut off upright at `left` and level at `top`.
fn brace(
    ((x, y), (sin, cos)): ((f64, f64), (f64, f64)),
    wide: f64,
    (left, top): (f64, f64),
) -> [(f64, f64); 4] {
    let edge = |side: f64| (x - side * sin * wide / 2.0, y + side * cos * wide / 2.0);
    let at_left = |(ex, ey): (f64, f64)| (left, ey + (left - ex) * sin / cos);
    let at_top = |(ex, ey): (f64, f64)| (ex + (top - ey) * cos / sin, top);
    [at_left(edge(-1.0)), at_top(edge(-1.0)), at_top(edge(1.0)), at_left(edge(1.0))]
}
