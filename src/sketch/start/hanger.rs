//! A joist on a hanger at a doubled header, with a gap between the plies.

use super::build::{Build, rectangle};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Grain, Interval};
use crate::sketch::form::holes::Fixing;
use crate::sketch::form::{Form, Seat};
use crate::unit::Vec3;

const JOIST_THICK: Question =
    Question::length("joist-thickness", "Thickness of the joist", [1.5, 1.0, 4.0], [45.0, 25.0, 100.0]);
const HIGH: Question =
    Question::length("depth", "Depth of joist and header", [9.25, 5.5, 16.0], [220.0, 140.0, 400.0]);
const PLY: Question =
    Question::length("ply", "Thickness of each ply of the header", [1.5, 1.0, 4.0], [45.0, 25.0, 100.0]);
const GAP: Question = Question::length("gap", "Gap between the plies", [0.125, 0.0, 2.0], [3.0, 0.0, 50.0]);
const END_GAP: Question = Question::length(
    "end-gap",
    "Gap between the end of the joist and the header",
    [0.125, 0.0, 1.0],
    [3.0, 0.0, 25.0],
);
const HOLES: Question = Question::count("holes", "Holes in each flange", [4.0, 1.0, 12.0]);

/// A hanger on a doubled header.
pub(super) const HANGER: Starter = Starter {
    word: "hanger",
    title: "Hanger on a doubled header",
    says: "A joist on a hanger at a header of two plies with a gap between, seen in section.",
    questions: &[JOIST_THICK, HIGH, PLY, GAP, END_GAP, HOLES],
    draw,
};

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (thick, high, ply) = (sizes.of(&JOIST_THICK), sizes.of(&HIGH), sizes.of(&PLY));
    let (gap, end_gap) = (sizes.of(&GAP), sizes.of(&END_GAP));
    let wood = build.lumber()?;
    let long = build.length(16.0, 400.0);
    let half = Interval { from: -thick / 2.0, to: thick / 2.0 };
    let joist = rectangle((-long, 0.0), (long - end_gap, high));
    build.member("joist", wood.clone(), joist, (half, Grain::InPlane(0.0)));
    let over = build.length(24.0, 600.0);
    let whole = Interval { from: -over, to: over };
    let near = rectangle((0.0, 0.0), (ply, high));
    build.member("near ply", wood.clone(), near, (whole, Grain::AlongDepth));
    let far = rectangle((ply + gap, 0.0), (ply, high));
    build.member("far ply", wood, far, (whole, Grain::AlongDepth));
    hanger(build, sizes)?;
    build.load("joist", -Vec3::Y);
    build.note("The joist's own nails stand across the drawing and are not drawn.");
    Ok(())
}

/// The hanger up to four fifths of the header, its holes as far apart as that allows, and a nail in each.
fn hanger(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (ply, gap, high) = (sizes.of(&PLY), sizes.of(&GAP), sizes.of(&HIGH));
    // Through both plies, and not out of the far one.
    let spec = build.nail_up_to(build.pick("nail/common", "nail/metric"), 2.0 * ply + gap)?;
    let form = Form::named("joist-hanger")
        .ok_or_else(|| WishError::NotInStock("there is no form of a joist hanger".to_owned()))?;
    let (end, tall) = (build.length(1.25, 30.0), 0.8 * high);
    let count = sizes.count(&HOLES);
    #[expect(clippy::cast_precision_loss, reason = "at most twelve")]
    let pitch = (tall - 2.0 * end) / count.saturating_sub(1).max(1) as f64;
    #[expect(clippy::cast_precision_loss, reason = "at most twelve")]
    let asked = [
        ("joist", sizes.of(&JOIST_THICK)),
        ("height", tall),
        ("holes", count as f64),
        ("pitch", pitch),
        ("end", end),
    ];
    let measures = Sizes::new(form.questions, build.by(), asked)?;
    let fixing = Fixing::for_fastener(&spec, build.by());
    let seat = Seat {
        at: kurbo::Point::ZERO,
        along: kurbo::Vec2::new(0.0, 1.0),
        out: kurbo::Vec2::new(-1.0, 0.0),
        depth_mm: 0.0,
    };
    let steel = build.material("steel/plate")?;
    build.fill_all(form.connector(&measures, &fixing, &seat, ("hanger", steel))?, &spec);
    Ok(())
}
