//! The reduction term `R_d` of each yield mode (Tables 12.3.1A and 12.3.1B).

use super::bearing::angle;
use super::shank::Shank;
use super::working::line;
use crate::standard::capacity::{Across, Amount, Bearing, Line};
use crate::standard::nds2018::nds;
use crate::unit::compare::at_least;

/// `R_d` by mode.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reduction {
    /// Of modes Im and Is.
    pub(super) one: f64,
    /// Of mode II.
    pub(super) two: f64,
    /// Of modes `IIIm`, `IIIs` and IV.
    pub(super) three: f64,
}

/// The greatest angle between load and grain of any wooden body.
fn greatest_angle(asked: &Across<'_>) -> f64 {
    let bodies = [Some(&asked.side), Some(&asked.main), asked.beyond.as_ref()];
    let is_wood = |it: &&Bearing<'_>| it.material.family.is_wood();
    bodies.into_iter().flatten().filter(is_wood).map(angle).fold(0.0, f64::max)
}

/// Works `R_d` out. It jumps where the diameter in the yield equations passes 1/4 in (from 3.0 to 4, 3.6 and
/// 3.2): the table does so.
pub(super) fn reduction(shank: Shank, asked: &Across<'_>, working: &mut Vec<Line>) -> Reduction {
    let diameter = shank.bending_in;
    let is_thin = !at_least(diameter, 0.25);
    let theta = greatest_angle(asked);
    let k_theta = 0.25_f64.mul_add(theta / 90.0, 1.0);
    if shank.is_large || !is_thin {
        working.push(Line {
            with: vec![("theta", Amount::Angle(theta))],
            because: "theta is the greatest angle between load and grain of any wooden body".to_owned(),
            ..line("K_theta", "1 + 0.25 theta / 90", Amount::Number(k_theta), nds("Table 12.3.1B"))
        });
    }
    let found = |symbol, formula, value| line(symbol, formula, Amount::Number(value), nds("Table 12.3.1B"));
    if !is_thin {
        let all = Reduction { one: 4.0 * k_theta, two: 3.6 * k_theta, three: 3.2 * k_theta };
        working.push(found("R_d,I", "4 K_theta", all.one));
        working.push(found("R_d,II", "3.6 K_theta", all.two));
        working.push(found("R_d,III,IV", "3.2 K_theta", all.three));
        return all;
    }
    let (k_d, formula) =
        if diameter <= 0.17 + 1e-9 { (2.2, "") } else { (10.0_f64.mul_add(diameter, 0.5), "10 D + 0.5") };
    let because =
        if formula.is_empty() { "D is at most 0.17 in" } else { "D is above 0.17 in and below 1/4 in" };
    working.push(Line { because: because.to_owned(), ..found("K_D", formula, k_d) });
    let (all, formula) = if shank.is_large { (k_d * k_theta, "K_D K_theta") } else { (k_d, "K_D") };
    let because =
        if shank.is_large { "nominal 1/4 in or more, and less at the root" } else { "of every mode" };
    working.push(Line { because: because.to_owned(), ..found("R_d", formula, all) });
    Reduction { one: all, two: all, three: all }
}
