//! Two ties end to end between two boards, bolted.

use super::build::{Build, Spot, rectangle, spread};
use super::{Question, Sizes, Starter, WishError};
use crate::joint::{Grain, Interval, StandardId};
use crate::unit::Vec3;

const THICK: Question =
    Question::length("thickness", "Thickness of the ties", [1.5, 1.0, 8.0], [45.0, 25.0, 200.0]);
const HIGH: Question =
    Question::length("depth", "Depth of ties and boards", [7.25, 3.5, 16.0], [195.0, 90.0, 400.0]);
const BOARD: Question =
    Question::length("board", "Thickness of each board", [1.5, 0.75, 4.0], [45.0, 19.0, 100.0]);
const GAP: Question =
    Question::length("gap", "Gap between the ends of the ties", [0.0, 0.0, 2.0], [0.0, 0.0, 50.0]);
const BOLT: Question =
    Question::length("bolt", "Diameter of the bolts", [0.5, 0.375, 1.0], [12.0, 8.0, 24.0]);
const ROWS: Question = Question::count("rows", "Rows of bolts along the ties", [2.0, 1.0, 4.0]);
const COLUMNS: Question = Question::count("bolts", "Bolts in each row on each side", [2.0, 1.0, 8.0]);

/// A bolted splice.
pub(super) const SPLICE: Starter = Starter {
    word: "splice",
    title: "Bolted splice",
    says: "Two ties end to end between two boards, bolted through, seen from the side.",
    questions: &[THICK, HIGH, BOARD, GAP, BOLT, ROWS, COLUMNS],
    draw,
};

/// The distances that hold in full along the grain, in diameters: to a loaded end, and in a row.
///
/// NDS 2018 Tables 12.5.1A and 12.5.1B; EN 1995-1-1 Table 8.4.
fn distances(by: StandardId, bolt: f64) -> (f64, f64, f64) {
    match by {
        StandardId::Nds2018 => (7.0 * bolt, 4.0 * bolt, 1.5 * bolt),
        StandardId::En199511 => ((7.0 * bolt).max(80.0), 5.0 * bolt, 4.0 * bolt),
    }
}

fn draw(build: &mut Build<'_>, sizes: &Sizes) -> Result<(), WishError> {
    let (thick, high, board) = (sizes.of(&THICK), sizes.of(&HIGH), sizes.of(&BOARD));
    let (gap, bolt) = (sizes.of(&GAP), sizes.of(&BOLT));
    let (rows, columns) = (sizes.count(&ROWS), sizes.count(&COLUMNS));
    let (end, in_row, between) = distances(build.by(), bolt);
    #[expect(clippy::cast_precision_loss, reason = "at most eight")]
    let row = in_row * columns.saturating_sub(1) as f64;
    #[expect(clippy::cast_precision_loss, reason = "at most four")]
    let tall = between * rows.saturating_sub(1) as f64;
    if high < tall + 3.0 * bolt {
        let says = format!("{rows} rows of these bolts do not fit on a depth of {}", build.shown(high));
        return Err(WishError::DoesNotFit(says));
    }
    let half = gap / 2.0 + 2.0 * end + row;
    let long = half + build.length(18.0, 450.0);
    let wood = build.lumber()?;
    let grain = Grain::InPlane(0.0);
    let layer = |from: f64, thick: f64| (Interval { from, to: from + thick }, grain);
    let boards = rectangle((-half, 0.0), (2.0 * half, high));
    build.member("back board", wood.clone(), boards.clone(), layer(-board, board));
    let tie = (long - gap / 2.0, high);
    build.member("left tie", wood.clone(), rectangle((-long, 0.0), tie), layer(0.0, thick));
    build.member("right tie", wood.clone(), rectangle((gap / 2.0, 0.0), tie), layer(0.0, thick));
    build.member("front board", wood, boards, layer(thick, board));
    // The rows share the depth evenly, but no farther apart than they need where that is plenty.
    let apart = (high / 2.0).max(tall).min(high - 3.0 * bolt);
    let heights = spread((high - apart) / 2.0, f64::midpoint(high, apart), rows);
    let mut number = 0;
    for y in heights {
        for side in [-1.0, 1.0] {
            for x in spread(gap / 2.0 + end, gap / 2.0 + end + row, columns) {
                number += 1;
                let spot = Spot::new([side * x, y, thick + board], -Vec3::Z);
                build.bolt(&format!("b{number}"), spot, (bolt, thick + 2.0 * board))?;
            }
        }
    }
    build.load("right-tie", Vec3::X);
    Ok(())
}
