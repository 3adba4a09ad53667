//! A strap that ties the stud of a storey to the one below, across the floor between.

use super::build::{Build, rectangle};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Grain, Interval};
use crate::sketch::form::holes::Fixing;
use crate::sketch::form::{Form, Seat};
use crate::unit::Vec3;

const STUD: Question = Question::length("stud", "Depth of the studs", [5.5, 3.5, 9.25], [145.0, 90.0, 240.0]);
const STUD_THICK: Question =
    Question::length("stud-thickness", "Thickness of the studs", [1.5, 1.25, 4.0], [45.0, 32.0, 100.0]);
const JOIST: Question =
    Question::length("joist-depth", "Depth of the floor joists", [9.25, 5.5, 16.0], [220.0, 140.0, 400.0]);
const DECK: Question =
    Question::length("deck", "Thickness of the floor sheathing", [23.0 / 32.0, 0.25, 1.5], [22.0, 6.0, 38.0]);
const EACH: Question = Question::count("holes", "Nails in each stud", [6.0, 1.0, 20.0]);

/// A strap across a floor.
pub(super) const STRAP: Starter = Starter {
    word: "strap",
    title: "Strap over a floor joint",
    says: "A flat strap that ties a stud to the one in the storey below, across plates, rim and floor.",
    questions: &[STUD, STUD_THICK, JOIST, DECK, EACH],
    draw,
};

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (stud, thick, deck) = (sizes.of(&STUD), sizes.of(&STUD_THICK), sizes.of(&DECK));
    let (joist, plate) = (sizes.of(&JOIST), build.length(1.5, 45.0));
    let wood = build.lumber()?;
    let over = build.length(12.0, 300.0);
    let whole = Interval { from: -over, to: over };
    let long = Interval { from: -thick / 2.0, to: thick / 2.0 };
    // Heights are measured from the underside of the rim.
    let (floor, sole) = (joist + deck, joist + deck + plate);
    let tall = strap_end(build, sizes)? + build.length(6.0, 150.0);
    let mut layer = |name: &str, (x, y): (f64, f64), (wide, high): (f64, f64)| {
        let outline = rectangle((x, y), (wide, high));
        build.member(name, wood.clone(), outline, (whole, Grain::AlongDepth));
    };
    layer("lower plate", (0.0, -2.0 * plate), (stud, plate));
    layer("upper plate", (0.0, -plate), (stud, plate));
    layer("rim", (0.0, 0.0), (plate, joist));
    layer("sole plate", (0.0, floor), (stud, plate));
    let panel = build.material("panel/plywood")?;
    let sheet = rectangle((0.0, joist), (2.0 * stud, deck));
    build.member("floor", panel, sheet, (whole, Grain::InPlane(0.0)));
    for (name, y) in [("lower stud", -2.0 * plate - tall), ("upper stud", sole)] {
        let outline = rectangle((0.0, y), (stud, tall));
        build.member(name, wood.clone(), outline, (long, Grain::InPlane(90.0)));
    }
    strap(build, sizes, (-2.0 * plate, sole))?;
    build.load("upper-stud", Vec3::Y);
    Ok(())
}

/// The nail, and the distances that hold in full under steel: to the loaded end, and in a row.
///
/// NDS 2018 Commentary Table C12.1.6.6, 10 D each, not bored; EN 1995-1-1 Table 8.2, 15 d and, under
/// steel (8.3.1.4(1)), 0.7 times 10 d.
fn nails(build: &Build<'_>) -> Result<(std::sync::Arc<crate::stock::FastenerSpec>, f64, f64), WishError> {
    let spec = build.spec(build.pick("nail/common/8d", "nail/metric/3.1x65"))?;
    let (end, row) = build.pick((10.0, 10.0), (15.0, 7.0));
    // Rounded up to what can be set out.
    let step = build.length(1.0 / 8.0, 5.0);
    let up = |mm: f64| (mm / step - 1e-6).ceil() * step;
    Ok((spec.clone(), up(end * spec.diameter_mm), up(row * spec.diameter_mm)))
}

/// How far the strap reaches over the end of each stud.
fn strap_end(build: &Build<'_>, sizes: &Sizes) -> Result<f64, WishError> {
    let (_, end, row) = nails(build)?;
    #[expect(clippy::cast_precision_loss, reason = "at most twenty")]
    let rows = (sizes.count(&EACH) - 1) as f64;
    Ok(end + row * rows + build.length(0.5, 15.0))
}

fn strap(build: &mut Build<'_>, sizes: &Sizes, (low, high): (f64, f64)) -> Result<(), WishError> {
    let (spec, _, row) = nails(build)?;
    let reach = strap_end(build, sizes)?;
    let form = Form::named("strap")
        .ok_or_else(|| WishError::NotInStock("there is no form of a strap".to_owned()))?;
    #[expect(clippy::cast_precision_loss, reason = "at most twenty")]
    let each = sizes.count(&EACH) as f64;
    let asked = [
        ("length", high - low + 2.0 * reach),
        ("width", build.length(1.25, 30.0)),
        ("holes", each),
        ("pitch", row),
        ("end", build.length(0.5, 15.0)),
    ];
    let measures = Sizes::new(form.questions, build.by(), asked)?;
    let fixing = Fixing::for_fastener(&spec, build.by());
    let seat = Seat {
        at: kurbo::Point::new(0.0, f64::midpoint(low, high)),
        along: kurbo::Vec2::new(0.0, 1.0),
        out: kurbo::Vec2::new(-1.0, 0.0),
        depth_mm: 0.0,
    };
    let steel = build.material("steel/plate")?;
    build.fill_all(form.connector(&measures, &fixing, &seat, ("strap", steel))?, &spec);
    Ok(())
}
