//! Embedment strengths: 8.3.1.1(5) and 8.3.1.3(3) for nails and thin screws, 8.5.1 for bolts and thick ones.

use crate::standard::capacity::{Amount, Bearing, NoValue};
use crate::standard::en1995::{En1995, ec5};
use crate::unit::compare::at_most;

use super::shank::Shank;
use super::stuff::Stuff;
use super::working::Working;
use super::{density, none};

/// Symbols that differ by the member, the first and the second.
type Pair = [&'static str; 2];

const STRENGTH: Pair = ["f_h,1,k", "f_h,2,k"];
const ALONG: Pair = ["f_h,0,1,k", "f_h,0,2,k"];
const DENSITY: Pair = ["rho_k,1", "rho_k,2"];
const ANGLE: Pair = ["a_1", "a_2"];
const K90: Pair = ["k_90,1", "k_90,2"];
const BOARD: Pair = ["t_1", "t_2"];

/// A bearing member at its place in the equations: 0 for the first, 1 for the second.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bears<'a> {
    pub(super) bearing: &'a Bearing<'a>,
    pub(super) stuff: Stuff,
    pub(super) place: usize,
}

impl Bears<'_> {
    fn density(&self, clause: &'static str) -> Result<f64, NoValue> {
        match density(self.bearing.material) {
            Some(known) => Ok(known),
            None => {
                none(clause, format!("{}: no characteristic density is known", self.bearing.material.label))
            }
        }
    }

    /// Characteristic embedment strength, N/mm2.
    pub(super) fn strength(
        &self,
        rules: &En1995,
        shank: &Shank<'_>,
        working: &mut Working,
    ) -> Result<f64, NoValue> {
        let by_nails =
            shank.is_like_nail && at_most(shank.diameter_mm, rules.table.carry.diameter.nail_to_mm);
        match (by_nails, self.stuff.is_board()) {
            (true, false) => self.nail_in_timber(shank, working),
            (true, true) => self.nail_in_board(shank, working),
            (false, false) => self.bolt_in_timber(rules, shank, working),
            (false, true) => self.bolt_in_board(shank, working),
        }
    }

    fn say(&self, working: &mut Working, formula: Pair, value: f64, clause: &'static str) {
        let at = self.place;
        let inputs = [
            (DENSITY[at], Amount::Density(self.bearing.material.density_kg_m3.unwrap_or(0.0))),
            (BOARD[at], Amount::Length(self.bearing.length_mm)),
        ];
        working.put((STRENGTH[at], formula[at]), &inputs, Amount::Stress(value), ec5(clause));
    }

    /// 8.15 without predrilling and 8.16 with it.
    fn nail_in_timber(&self, shank: &Shank<'_>, working: &mut Working) -> Result<f64, NoValue> {
        let (density, diameter_mm) = (self.density("8.3.1.1(5)")?, shank.effective_mm);
        if self.bearing.drilled_mm.is_some() {
            let (value, formula) = drilled(shank, density);
            self.say(working, formula, value, "8.3.1.1(5)");
            working.because("predrilled");
            return Ok(value);
        }
        let value = 0.082 * density * diameter_mm.powf(-0.3);
        let formula = shank.written(
            ["0.082 rho_k,1 d^-0.3", "0.082 rho_k,2 d^-0.3"],
            ["0.082 rho_k,1 d_ef^-0.3", "0.082 rho_k,2 d_ef^-0.3"],
        );
        self.say(working, formula, value, "8.3.1.1(5)");
        working.because("not predrilled");
        Ok(value)
    }

    /// 8.20 plywood, 8.21 hardboard, 8.22 particle board and strand board.
    fn nail_in_board(&self, shank: &Shank<'_>, working: &mut Working) -> Result<f64, NoValue> {
        let (diameter_mm, thickness_mm) = (shank.effective_mm, self.bearing.length_mm);
        let clause = "8.3.1.3(3)";
        let (value, formula) = match self.stuff {
            Stuff::Plywood => (
                0.11 * self.density(clause)? * diameter_mm.powf(-0.3),
                shank.written(
                    ["0.11 rho_k,1 d^-0.3", "0.11 rho_k,2 d^-0.3"],
                    ["0.11 rho_k,1 d_ef^-0.3", "0.11 rho_k,2 d_ef^-0.3"],
                ),
            ),
            Stuff::HardBoard => (
                30.0 * diameter_mm.powf(-0.3) * thickness_mm.powf(0.6),
                shank.written(
                    ["30 d^-0.3 t_1^0.6", "30 d^-0.3 t_2^0.6"],
                    ["30 d_ef^-0.3 t_1^0.6", "30 d_ef^-0.3 t_2^0.6"],
                ),
            ),
            Stuff::StrandBoard
            | Stuff::ParticleBoard
            | Stuff::Softwood
            | Stuff::Hardwood
            | Stuff::Veneer
            | Stuff::Steel => (
                65.0 * diameter_mm.powf(-0.7) * thickness_mm.powf(0.1),
                shank.written(
                    ["65 d^-0.7 t_1^0.1", "65 d^-0.7 t_2^0.1"],
                    ["65 d_ef^-0.7 t_1^0.1", "65 d_ef^-0.7 t_2^0.1"],
                ),
            ),
        };
        self.say(working, formula, value, clause);
        Ok(value)
    }

    /// 8.31 to 8.33: along the grain, and at an angle to it.
    fn bolt_in_timber(
        &self,
        rules: &En1995,
        shank: &Shank<'_>,
        working: &mut Working,
    ) -> Result<f64, NoValue> {
        let (clause, at) = ("8.5.1.1(2)", self.place);
        if self.bearing.end_grain {
            return none(
                clause,
                format!(
                    "{}: no embedment strength is given for a bolt or thick screw along the grain",
                    self.bearing.material.label
                ),
            );
        }
        let (density, diameter_mm) = (self.density(clause)?, shank.effective_mm);
        let (along, formula) = drilled(shank, density);
        let inputs = [(DENSITY[at], Amount::Density(density))];
        working.put((ALONG[at], formula[at]), &inputs, Amount::Stress(along), ec5(clause));
        let terms = &rules.table.carry.k90;
        let (constant, plain, of_screw) = match self.stuff {
            Stuff::Hardwood => (terms.hardwood, "0.90 + 0.015 d", "0.90 + 0.015 d_ef"),
            Stuff::Veneer => (terms.lvl, "1.30 + 0.015 d", "1.30 + 0.015 d_ef"),
            Stuff::Softwood
            | Stuff::Plywood
            | Stuff::StrandBoard
            | Stuff::ParticleBoard
            | Stuff::HardBoard
            | Stuff::Steel => (terms.softwood, "1.35 + 0.015 d", "1.35 + 0.015 d_ef"),
        };
        let k90 = terms.per_mm.mul_add(diameter_mm, constant);
        working.put((K90[at], shank.written(plain, of_screw)), &[], Amount::Number(k90), ec5(clause));
        let angle_deg = angle(self.bearing);
        let (sine, cosine) = angle_deg.to_radians().sin_cos();
        let value = along / (k90 * sine * sine + cosine * cosine);
        let formula =
            ["f_h,0,1,k / (k_90,1 sin^2 a_1 + cos^2 a_1)", "f_h,0,2,k / (k_90,2 sin^2 a_2 + cos^2 a_2)"];
        let inputs = [(ANGLE[at], Amount::Angle(angle_deg))];
        working.put((STRENGTH[at], formula[at]), &inputs, Amount::Stress(value), ec5(clause));
        Ok(value)
    }

    /// 8.36 plywood, 8.37 particle board and strand board; nothing for hardboard.
    fn bolt_in_board(&self, shank: &Shank<'_>, working: &mut Working) -> Result<f64, NoValue> {
        let (diameter_mm, thickness_mm) = (shank.effective_mm, self.bearing.length_mm);
        let clause = "8.5.1.2(2)";
        let (value, formula) = match self.stuff {
            Stuff::Plywood => (
                0.11 * 0.01f64.mul_add(-diameter_mm, 1.0) * self.density(clause)?,
                shank.written(
                    ["0.11 (1 - 0.01 d) rho_k,1", "0.11 (1 - 0.01 d) rho_k,2"],
                    ["0.11 (1 - 0.01 d_ef) rho_k,1", "0.11 (1 - 0.01 d_ef) rho_k,2"],
                ),
            ),
            Stuff::HardBoard => {
                return none(clause, "no embedment strength of bolts is given for hardboard");
            }
            Stuff::StrandBoard
            | Stuff::ParticleBoard
            | Stuff::Softwood
            | Stuff::Hardwood
            | Stuff::Veneer
            | Stuff::Steel => (
                50.0 * diameter_mm.powf(-0.6) * thickness_mm.powf(0.2),
                shank.written(
                    ["50 d^-0.6 t_1^0.2", "50 d^-0.6 t_2^0.2"],
                    ["50 d_ef^-0.6 t_1^0.2", "50 d_ef^-0.6 t_2^0.2"],
                ),
            ),
        };
        self.say(working, formula, value, clause);
        Ok(value)
    }
}

/// 8.16 and 8.32, which are one formula: timber with a hole drilled for the shank, along the grain of a bolt.
fn drilled(shank: &Shank<'_>, density: f64) -> (f64, Pair) {
    let value = 0.082 * 0.01f64.mul_add(-shank.effective_mm, 1.0) * density;
    let formula = shank.written(
        ["0.082 (1 - 0.01 d) rho_k,1", "0.082 (1 - 0.01 d) rho_k,2"],
        ["0.082 (1 - 0.01 d_ef) rho_k,1", "0.082 (1 - 0.01 d_ef) rho_k,2"],
    );
    (value, formula)
}

/// Degrees between the load and the grain, from 0 to 90; 90 where it is no number.
pub(super) fn angle(bearing: &Bearing<'_>) -> f64 {
    let angle_deg = bearing.load_to_grain_deg.abs();
    if angle_deg.is_nan() { 90.0 } else { angle_deg.min(90.0) }
}
