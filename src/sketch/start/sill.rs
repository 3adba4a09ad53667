//! A treated sill on concrete, held by masonry screws.

use std::sync::Arc;

use super::build::{Build, Spot, rectangle, spread, steps};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Finish, Grain, Interval, LeadHole, Treatment};
use crate::sketch::drive::{Outfit, Under};
use crate::stock::FastenerSpec;
use crate::unit::Vec3;
use crate::unit::length::from_inches;

const THICK: Question =
    Question::length("sill-thickness", "Thickness of the sill", [1.5, 1.0, 3.5], [45.0, 25.0, 90.0]);
const WIDE: Question =
    Question::length("sill-width", "Width of the sill", [5.5, 3.5, 12.0], [145.0, 90.0, 300.0]);
const SLAB: Question =
    Question::length("slab", "Thickness of the concrete", [8.0, 4.0, 24.0], [200.0, 100.0, 600.0]);
const BACK: Question = Question::length(
    "setback",
    "Distance of the sill from the edge of the concrete",
    [0.0, 0.0, 12.0],
    [0.0, 0.0, 300.0],
);
const PITCH: Question =
    Question::length("spacing", "Distance of the screws", [16.0, 4.0, 72.0], [400.0, 100.0, 1800.0]);
const LENGTH: Question =
    Question::length("length", "Length that is drawn", [48.0, 12.0, 240.0], [1200.0, 300.0, 6000.0]);

/// A sill on concrete.
pub(super) const SILL: Starter = Starter {
    word: "sill",
    title: "Sill on concrete",
    says: "A treated sill held on concrete by masonry screws, seen in section.",
    questions: &[THICK, WIDE, SLAB, BACK, PITCH, LENGTH],
    draw,
};

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (thick, wide, slab, back) = (sizes.of(&THICK), sizes.of(&WIDE), sizes.of(&SLAB), sizes.of(&BACK));
    let length = sizes.of(&LENGTH);
    let depth = Interval { from: 0.0, to: length };
    let concrete = build.material("concrete/normal")?;
    let outline = rectangle((-back, -slab), (back + 3.0 * wide, slab));
    build.member("concrete", concrete, outline, (depth, Grain::None));
    let wood = build.material(build.pick("lumber/southern-pine", "lumber/C24"))?;
    let outline = rectangle((0.0, 0.0), (wide, thick));
    build.member("sill", wood, outline, (depth, Grain::AlongDepth)).treatment = Treatment::Preservative;
    let (spec, hole) = screw(build, thick, slab)?;
    // Ten diameters from each end of the sill.
    let end = (sizes.of(&PITCH) / 2.0).max(10.0 * spec.diameter_mm).min(length / 2.0);
    let count = steps(length - 2.0 * end, sizes.of(&PITCH)) + 1;
    for (number, along) in spread(end, length - end, count).into_iter().enumerate() {
        let spot = Spot::new([wide / 2.0, thick, along], -Vec3::Y);
        let new = build.free(&format!("s{}", number + 1), spec.clone(), spot);
        new.finish = Finish::Stainless;
        new.lead_hole = Some(hole);
    }
    build.load("sill", Vec3::Z);
    build.note("Drill diameter and depth follow the instructions for the screw at hand.");
    Ok(())
}

/// The shortest screw with 1 1/2" (40 mm) in the concrete, and its hole.
fn screw(build: &Build<'_>, sill: f64, slab: f64) -> Result<(Arc<FastenerSpec>, LeadHole), WishError> {
    let (table, wide) = build.pick(("masonry-screw", from_inches(0.25)), ("masonry-screw/metric", 7.5));
    let bite = build.length(1.5, 40.0);
    let fits = |it: &Arc<FastenerSpec>| sill + bite <= it.length_mm;
    let spec = build.lengths(table, wide).into_iter().find(fits).ok_or_else(|| {
        WishError::NotInStock(format!("stock has no masonry screw for a sill of {}", build.shown(sill)))
    })?;
    let hole = Outfit::of(&spec, build.by(), Under::Member, build.stock).lead_hole;
    match hole.filter(|it| it.depth_mm - sill < slab) {
        Some(hole) => Ok((spec, hole)),
        None => {
            let says = format!("a hole for this screw goes through concrete of {}", build.shown(slab));
            Err(WishError::DoesNotFit(says))
        }
    }
}
