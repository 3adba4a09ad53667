//! A ledger bolted to a rim, with the layers between.

use super::build::{Build, Spot, rectangle, spread, steps};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Finish, Grain, Interval};
use crate::unit::Vec3;

const THICK: Question =
    Question::length("ledger-thickness", "Thickness of the ledger", [1.5, 1.0, 6.0], [45.0, 25.0, 150.0]);
const HIGH: Question =
    Question::length("ledger-depth", "Depth of the ledger", [7.25, 3.5, 16.0], [195.0, 90.0, 400.0]);
const SHEATHING: Question = Question::length(
    "sheathing",
    "Thickness of the structural sheathing on the rim, 0 for none",
    [15.0 / 32.0, 0.0, 1.5],
    [12.0, 0.0, 38.0],
);
const SOFT: Question = Question::length(
    "soft-layer",
    "Thickness of foam or cladding outside of it, 0 for none",
    [0.0, 0.0, 4.0],
    [0.0, 0.0, 100.0],
);
const RIM_THICK: Question =
    Question::length("rim-thickness", "Thickness of the rim", [1.5, 1.0, 6.0], [45.0, 25.0, 150.0]);
const RIM_HIGH: Question =
    Question::length("rim-depth", "Depth of the rim", [9.25, 3.5, 24.0], [220.0, 90.0, 600.0]);
const DROP: Question = Question::length(
    "drop",
    "How far the ledger lies below the top of the rim",
    [0.0, 0.0, 12.0],
    [0.0, 0.0, 300.0],
);
const BOLT: Question =
    Question::length("bolt", "Diameter of the bolts", [0.5, 0.375, 0.75], [12.0, 8.0, 20.0]);
const PITCH: Question = Question::length(
    "spacing",
    "Distance of the bolts along the ledger",
    [16.0, 4.0, 48.0],
    [400.0, 100.0, 1200.0],
);
const LENGTH: Question =
    Question::length("length", "Length that is drawn", [48.0, 12.0, 240.0], [1200.0, 300.0, 6000.0]);

/// A ledger bolted to a rim.
pub(super) const LEDGER: Starter = Starter {
    word: "ledger",
    title: "Ledger on a rim",
    says: "A ledger bolted to a rim, with sheathing or foam between, seen in section.",
    questions: &[THICK, HIGH, SHEATHING, SOFT, RIM_THICK, RIM_HIGH, DROP, BOLT, PITCH, LENGTH],
    draw,
};

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (thick, high) = (sizes.of(&THICK), sizes.of(&HIGH));
    let (rim_thick, rim_high, drop) = (sizes.of(&RIM_THICK), sizes.of(&RIM_HIGH), sizes.of(&DROP));
    let (sheathing, soft, bolt) = (sizes.of(&SHEATHING), sizes.of(&SOFT), sizes.of(&BOLT));
    let length = sizes.of(&LENGTH);
    if rim_high <= drop {
        let says = format!("a drop of {} leaves nothing of the rim beside the ledger", build.shown(drop));
        return Err(WishError::DoesNotFit(says));
    }
    let depth = Interval { from: 0.0, to: length };
    let wood = build.lumber()?;
    let rim_bottom = high + drop - rim_high;
    build.member("ledger", wood.clone(), rectangle((0.0, 0.0), (thick, high)), (depth, Grain::AlongDepth));
    let (low, tall) = (rim_bottom.min(0.0), rim_high.max(high + drop - rim_bottom.min(0.0)));
    let mut x = thick;
    if 0.0 < soft {
        let foam = build.material("filling/foam")?;
        build.member("foam", foam, rectangle((x, low), (soft, tall)), (depth, Grain::None));
        x += soft;
    }
    if 0.0 < sheathing {
        let panel = build.material("panel/plywood")?;
        let outline = rectangle((x, low), (sheathing, tall));
        build.member("sheathing", panel, outline, (depth, Grain::AlongDepth));
        x += sheathing;
    }
    let rim = rectangle((x, rim_bottom), (rim_thick, rim_high));
    build.member("rim", wood, rim, (depth, Grain::AlongDepth));
    bolts(build, sizes, (rows(high, rim_bottom, bolt), x + rim_thick))?;
    build.load("ledger", -Vec3::Y);
    Ok(())
}

/// The heights of the lower and the upper row: four diameters from the edges that the load presses on, the
/// top of the ledger and the bottom of the rim, and at most 5" apart (NDS 2018 Table 12.5.1C and 12.5.1.3).
fn rows(high: f64, rim_bottom: f64, bolt: f64) -> (f64, f64) {
    let upper = high - 4.0 * bolt;
    let lower = (4.0 * bolt).max(rim_bottom + 4.0 * bolt).min(upper).max(upper - 127.0);
    (lower, upper)
}

/// Staggered: by turns in the upper and the lower row.
fn bolts(
    build: &mut Build<'_>,
    sizes: &Sizes,
    ((lower, upper), grip): ((f64, f64), f64),
) -> Result<(), WishError> {
    let (bolt, length) = (sizes.of(&BOLT), sizes.of(&LENGTH));
    // Half a spacing from each end, and no nearer to it than a bolt may be in any case.
    let end = (sizes.of(&PITCH) / 2.0).max(7.0 * bolt).min(length / 2.0);
    let count = steps(length - 2.0 * end, sizes.of(&PITCH)) + 1;
    for (number, along) in spread(end, length - end, count).into_iter().enumerate() {
        let y = if number % 2 == 0 { upper } else { lower };
        let spot = Spot::new([0.0, y, along], Vec3::X);
        build.bolt(&format!("b{}", number + 1), spot, (bolt, grip))?;
    }
    for it in &mut build.joint.fasteners {
        it.finish = Finish::HotDipGalvanized;
    }
    Ok(())
}
