//! An angle in the corner of a post and the beam that it carries.

use super::build::{Build, rectangle};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Grain, Interval};
use crate::sketch::form::holes::Fixing;
use crate::sketch::form::{Form, Seat};
use crate::unit::Vec3;

const POST: Question =
    Question::length("post", "Side of the square post", [3.5, 3.5, 12.0], [90.0, 90.0, 300.0]);
const BEAM: Question =
    Question::length("beam-depth", "Depth of the beam", [9.25, 5.5, 20.0], [220.0, 140.0, 500.0]);
const BEAM_THICK: Question =
    Question::length("beam-thickness", "Thickness of the beam", [3.5, 1.5, 12.0], [90.0, 45.0, 300.0]);
const LEG: Question =
    Question::length("leg", "Length of each leg of the angle", [5.0, 3.0, 12.0], [150.0, 75.0, 300.0]);
const EACH: Question = Question::count("holes", "Screws in each leg", [2.0, 1.0, 4.0]);

/// An angle on a post and a beam.
pub(super) const ANGLE: Starter = Starter {
    word: "angle",
    title: "Angle on post and beam",
    says: "A beam on a post, held by an angle in the corner below it, seen from the side.",
    questions: &[POST, BEAM, BEAM_THICK, LEG, EACH],
    draw,
};

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (post, beam, thick) = (sizes.of(&POST), sizes.of(&BEAM), sizes.of(&BEAM_THICK));
    let wood = build.lumber()?;
    let tall = sizes.of(&LEG) + build.length(12.0, 300.0);
    let square = Interval { from: -post / 2.0, to: post / 2.0 };
    let upright = rectangle((-post, -tall), (post, tall));
    build.member("post", wood.clone(), upright, (square, Grain::InPlane(90.0)));
    let over = build.length(18.0, 450.0);
    let across = rectangle((-post - over, 0.0), (post + 2.0 * over, beam));
    let middle = Interval { from: -thick / 2.0, to: thick / 2.0 };
    build.member("beam", wood, across, (middle, Grain::InPlane(0.0)));
    angle(build, sizes)?;
    build.load("beam", Vec3::Y);
    Ok(())
}

fn angle(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let leg = sizes.of(&LEG);
    let spec = build.spec(build.pick("wood-screw/10x2", "wood-screw/metric/5x60"))?;
    let form = Form::named("angle")
        .ok_or_else(|| WishError::NotInStock("there is no form of an angle".to_owned()))?;
    let each = sizes.count(&EACH);
    // From the corner what a loaded end asks for, 10 D or 15 d (NDS 2018 Commentary Table C12.1.5.7,
    // EN 1995-1-1 Table 8.2), where the leg has room for it.
    let (end, corner) = (build.length(0.75, 20.0), build.length(2.0, 75.0));
    let least = build.length(0.5, 12.0);
    #[expect(clippy::cast_precision_loss, reason = "at most four")]
    let pitch = ((leg - end - corner) / (each.max(2) - 1) as f64).max(least);
    #[expect(clippy::cast_precision_loss, reason = "at most four")]
    let asked = [("leg", leg), ("other-leg", leg), ("holes", each as f64), ("pitch", pitch), ("end", end)];
    let measures = Sizes::new(form.questions, build.by(), asked)?;
    let fixing = Fixing::for_fastener(&spec, build.by());
    // In the corner: along the post downward, out of it along the underside of the beam.
    let seat = Seat {
        at: kurbo::Point::ZERO,
        along: kurbo::Vec2::new(0.0, -1.0),
        out: kurbo::Vec2::new(1.0, 0.0),
        depth_mm: 0.0,
    };
    let steel = build.material("steel/plate")?;
    build.fill_all(form.connector(&measures, &fixing, &seat, ("angle", steel))?, &spec);
    Ok(())
}
