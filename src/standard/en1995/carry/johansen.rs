//! The equations of 8.2.2 and 8.2.3: what a shank yields at, mode by mode.
//!
//! Each mode is written twice. The printed equation holds where the members touch. Where a gap parts them
//! the shank is cut free at its hinges and the same stresses are put in balance, with the gap as one more
//! lever: each end gives terms A, B and C, and the load P is the root of A P^2 + (B + g) P = C. The factors
//! 1.05 and 1.15 that the standard prints, and its 0.4, stand before the root as they do before the printed one.

use crate::standard::Source;
use crate::standard::capacity::Amount;
use crate::standard::en1995::ec5;

use super::working::Given;
use End::{Clamped, Pinned, Turns, Yields};

/// One shear plane: embedment strengths and lengths of the first and the second member, and the shank.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plane {
    /// N/mm2; zero where the member is steel.
    pub(super) strength: [f64; 2],
    /// Millimetres.
    pub(super) length_mm: [f64; 2],
    /// Millimetres.
    pub(super) diameter_mm: f64,
    /// Newton millimetres.
    pub(super) yield_moment: f64,
    /// Millimetres.
    pub(super) gap_mm: f64,
}

/// How the shank ends on one side of the plane.
#[derive(Clone, Copy, Debug)]
enum End {
    /// It turns as a whole in this member.
    Turns(usize),
    /// It yields in this member.
    Yields(usize),
    /// A thin plate holds it without a moment.
    Pinned,
    /// A thick plate holds it until it yields.
    Clamped,
}

/// The balance of a mode across a gap.
#[derive(Clone, Copy, Debug)]
struct Open {
    factor: f64,
    ends: [End; 2],
    formula: &'static str,
}

/// One mode.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rule {
    /// As modes are named.
    pub(super) name: &'static str,
    /// Of the Johansen part.
    pub(super) symbol: &'static str,
    /// Of the mode with the rope effect, and its formula.
    pub(super) whole: (&'static str, &'static str),
    /// Whether the rope effect adds to it.
    pub(super) is_roped: bool,
    printed: &'static str,
    value: fn(&Plane) -> f64,
    open: Option<Open>,
    clause: &'static str,
}

impl Plane {
    /// Newtons per millimetre of a member when all of it bears.
    fn line(&self, member: usize) -> f64 {
        self.strength[member] * self.diameter_mm
    }

    fn beta(&self) -> f64 {
        self.strength[1] / self.strength[0]
    }

    /// The measures by symbol.
    pub(super) fn inputs(&self) -> [Given; 8] {
        [
            ("f_h,1,k", Amount::Stress(self.strength[0])),
            ("f_h,2,k", Amount::Stress(self.strength[1])),
            ("t_1", Amount::Length(self.length_mm[0])),
            ("t_2", Amount::Length(self.length_mm[1])),
            ("d", Amount::Length(self.diameter_mm)),
            ("M_y,Rk", Amount::Moment(self.yield_moment)),
            ("beta", Amount::Number(self.beta())),
            ("g", Amount::Length(self.gap_mm)),
        ]
    }

    fn terms(&self, end: End) -> [f64; 3] {
        match end {
            Turns(n) => {
                let (line, length) = (self.line(n), self.length_mm[n]);
                [1.0 / (4.0 * line), length / 2.0, line * length * length / 4.0]
            }
            Yields(n) => [1.0 / (2.0 * self.line(n)), 0.0, self.yield_moment],
            Pinned => [0.0; 3],
            Clamped => [0.0, 0.0, self.yield_moment],
        }
    }

    /// The load that balances both ends across the gap, newtons.
    fn balanced(&self, open: Open) -> f64 {
        let [near, far] = open.ends.map(|it| self.terms(it));
        let (a, b, c) = (near[0] + far[0], near[1] + far[1] + self.gap_mm, near[2] + far[2]);
        // The other form of the root, which loses nothing where B is much greater than A C.
        open.factor * 2.0 * c / (b + b.mul_add(b, 4.0 * a * c).sqrt())
    }
}

impl Rule {
    /// The Johansen part in newtons, and the formula that gave it.
    pub(super) fn yields_at(&self, plane: &Plane) -> (f64, &'static str) {
        match self.open {
            Some(open) if 0.0 < plane.gap_mm => (plane.balanced(open), open.formula),
            _ => ((self.value)(plane), self.printed),
        }
    }

    /// Where it is written.
    pub(super) fn source(&self) -> Source {
        ec5(self.clause)
    }
}

fn bears_first(it: &Plane) -> f64 {
    it.line(0) * it.length_mm[0]
}

fn bears_second(it: &Plane) -> f64 {
    it.line(1) * it.length_mm[1]
}

fn bears_half_second(it: &Plane) -> f64 {
    0.5 * bears_second(it)
}

fn turns_in_both(it: &Plane) -> f64 {
    let (beta, ratio) = (it.beta(), it.length_mm[1] / it.length_mm[0]);
    let within = beta + 2.0 * beta * beta * (1.0 + ratio + ratio * ratio) + beta.powi(3) * ratio * ratio;
    bears_first(it) / (1.0 + beta) * (within.sqrt() - beta * (1.0 + ratio))
}

fn turns_in_first(it: &Plane) -> f64 {
    let beta = it.beta();
    let hinge = 4.0 * beta * (2.0 + beta) * it.yield_moment / (it.line(0) * it.length_mm[0].powi(2));
    1.05 * bears_first(it) / (2.0 + beta) * ((2.0 * beta * (1.0 + beta) + hinge).sqrt() - beta)
}

fn turns_in_second(it: &Plane) -> f64 {
    let beta = it.beta();
    let hinge = 4.0 * beta * (1.0 + 2.0 * beta) * it.yield_moment / (it.line(0) * it.length_mm[1].powi(2));
    let within = 2.0 * beta * beta * (1.0 + beta) + hinge;
    1.05 * it.line(0) * it.length_mm[1] / (1.0 + 2.0 * beta) * (within.sqrt() - beta)
}

fn yields_in_both(it: &Plane) -> f64 {
    let beta = it.beta();
    1.15 * (2.0 * beta / (1.0 + beta)).sqrt() * (2.0 * it.yield_moment * it.line(0)).sqrt()
}

fn turns_at_thin(it: &Plane) -> f64 {
    0.4 * bears_first(it)
}

fn turns_at_thick(it: &Plane) -> f64 {
    let hinge = 4.0 * it.yield_moment / (it.line(0) * it.length_mm[0].powi(2));
    bears_first(it) * ((2.0 + hinge).sqrt() - 1.0)
}

fn yields_at_thin<const N: usize>(it: &Plane) -> f64 {
    1.15 * (2.0 * it.yield_moment * it.line(N)).sqrt()
}

fn yields_at_thick<const N: usize>(it: &Plane) -> f64 {
    2.3 * (it.yield_moment * it.line(N)).sqrt()
}

/// What the standard rounds to 0.4: a shank that turns in one member and is pinned at its face
/// bears with sqrt(2) - 1 of it.
const PINNED: f64 = 0.4 / (std::f64::consts::SQRT_2 - 1.0);

const TURN_TURN: &str = "(sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(4 f_h,1,k d) + 1/(4 f_h,2,k d), \
    B = t_1/2 + g + t_2/2, C = f_h,1,k d t_1^2/4 + f_h,2,k d t_2^2/4";
const TURN_YIELD: &str = "1.05 (sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(4 f_h,1,k d) + 1/(2 f_h,2,k d), \
    B = t_1/2 + g, C = f_h,1,k d t_1^2/4 + M_y,Rk";
const YIELD_TURN: &str = "1.05 (sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(2 f_h,1,k d) + 1/(4 f_h,2,k d), \
    B = g + t_2/2, C = M_y,Rk + f_h,2,k d t_2^2/4";
const YIELD_YIELD: &str = "1.15 (sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(2 f_h,1,k d) + 1/(2 f_h,2,k d), \
    B = g, C = 2 M_y,Rk";
const TURN_PIN: &str = "0.4/(sqrt(2) - 1) (sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(4 f_h,1,k d), \
    B = t_1/2 + g, C = f_h,1,k d t_1^2/4";
const TURN_CLAMP: &str = "(sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(4 f_h,1,k d), \
    B = t_1/2 + g, C = f_h,1,k d t_1^2/4 + M_y,Rk";
const YIELD_PIN: &str = "1.15 (sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(2 f_h,1,k d), B = g, C = M_y,Rk";
const YIELD_CLAMP: &str = "1.15 (sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(2 f_h,1,k d), B = g, C = 2 M_y,Rk";
const YIELD_PIN_SECOND: &str = "1.15 (sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(2 f_h,2,k d), B = g, C = M_y,Rk";
const YIELD_CLAMP_SECOND: &str =
    "1.15 (sqrt(B^2 + 4 A C) - B) / (2 A), A = 1/(2 f_h,2,k d), B = g, C = 2 M_y,Rk";

const TURN_FIRST_PRINTED: &str = "1.05 f_h,1,k t_1 d / (2 + beta) \
    (sqrt(2 beta (1 + beta) + 4 beta (2 + beta) M_y,Rk / (f_h,1,k d t_1^2)) - beta)";
const YIELD_BOTH_PRINTED: &str = "1.15 sqrt(2 beta / (1 + beta)) sqrt(2 M_y,Rk f_h,1,k d)";
const TURN_CLAMP_PRINTED: &str = "f_h,1,k t_1 d (sqrt(2 + 4 M_y,Rk / (f_h,1,k d t_1^2)) - 1)";

const fn open(factor: f64, near: End, far: End, formula: &'static str) -> Option<Open> {
    Some(Open { factor, ends: [near, far], formula })
}

/// A mode: number and letter of its equation, clause, whether it has a rope, printed formula and value, balance.
macro_rules! rule {
    ($number:literal $letter:literal, $clause:literal, $is_roped:literal, $printed:expr, $value:expr, $open:expr) => {
        Rule {
            name: concat!($number, " (", $letter, ")"),
            symbol: concat!("F_", $letter),
            whole: (
                concat!("R_", $letter),
                concat!("F_", $letter, " + min(F_ax,Rk / 4, k_rope F_", $letter, ")"),
            ),
            is_roped: $is_roped,
            printed: $printed,
            value: $value,
            open: $open,
            clause: $clause,
        }
    };
}

/// Timber or panel on timber, single shear, equation 8.6.
pub(super) const SINGLE: [Rule; 6] = [
    rule!("8.6" "a", "8.2.2(1)", false, "f_h,1,k t_1 d", bears_first, None),
    rule!("8.6" "b", "8.2.2(1)", false, "f_h,2,k t_2 d", bears_second, None),
    rule!(
        "8.6" "c", "8.2.2(1)", true,
        "f_h,1,k t_1 d / (1 + beta) (sqrt(beta + 2 beta^2 (1 + t_2/t_1 + (t_2/t_1)^2) + beta^3 (t_2/t_1)^2) \
         - beta (1 + t_2/t_1))",
        turns_in_both,
        open(1.0, Turns(0), Turns(1), TURN_TURN)
    ),
    rule!(
        "8.6" "d", "8.2.2(1)", true, TURN_FIRST_PRINTED, turns_in_first,
        open(1.05, Turns(0), Yields(1), TURN_YIELD)
    ),
    rule!(
        "8.6" "e", "8.2.2(1)", true,
        "1.05 f_h,1,k t_2 d / (1 + 2 beta) \
         (sqrt(2 beta^2 (1 + beta) + 4 beta (1 + 2 beta) M_y,Rk / (f_h,1,k d t_2^2)) - beta)",
        turns_in_second,
        open(1.05, Yields(0), Turns(1), YIELD_TURN)
    ),
    rule!(
        "8.6" "f", "8.2.2(1)", true, YIELD_BOTH_PRINTED, yields_in_both,
        open(1.15, Yields(0), Yields(1), YIELD_YIELD)
    ),
];

/// Timber or panel on timber, one plane of double shear, equation 8.7.
pub(super) const DOUBLE: [Rule; 4] = [
    rule!("8.7" "g", "8.2.2(1)", false, "f_h,1,k t_1 d", bears_first, None),
    rule!("8.7" "h", "8.2.2(1)", false, "0.5 f_h,2,k t_2 d", bears_half_second, None),
    rule!(
        "8.7" "j", "8.2.2(1)", true, TURN_FIRST_PRINTED, turns_in_first,
        open(1.05, Turns(0), Yields(1), TURN_YIELD)
    ),
    rule!(
        "8.7" "k", "8.2.2(1)", true, YIELD_BOTH_PRINTED, yields_in_both,
        open(1.15, Yields(0), Yields(1), YIELD_YIELD)
    ),
];

/// Thin steel plate, single shear, equation 8.9.
pub(super) const THIN: [Rule; 2] = [
    rule!(
        "8.9" "a", "8.2.3(3)", false, "0.4 f_h,1,k t_1 d", turns_at_thin,
        open(PINNED, Turns(0), Pinned, TURN_PIN)
    ),
    rule!(
        "8.9" "b", "8.2.3(3)", true, "1.15 sqrt(2 M_y,Rk f_h,1,k d)", yields_at_thin::<0>,
        open(1.15, Yields(0), Pinned, YIELD_PIN)
    ),
];

/// Thick steel plate, single shear, equation 8.10.
pub(super) const THICK: [Rule; 3] = [
    rule!("8.10" "c", "8.2.3(3)", false, "f_h,1,k t_1 d", bears_first, None),
    rule!(
        "8.10" "d", "8.2.3(3)", true, TURN_CLAMP_PRINTED, turns_at_thick,
        open(1.0, Turns(0), Clamped, TURN_CLAMP)
    ),
    rule!(
        "8.10" "e", "8.2.3(3)", true, "2.3 sqrt(M_y,Rk f_h,1,k d)", yields_at_thick::<0>,
        open(1.15, Yields(0), Clamped, YIELD_CLAMP)
    ),
];

/// Steel plate of any thickness in the middle of double shear, equation 8.11.
pub(super) const MIDDLE: [Rule; 3] = [
    rule!("8.11" "f", "8.2.3(3)", false, "f_h,1,k t_1 d", bears_first, None),
    rule!(
        "8.11" "g", "8.2.3(3)", true, TURN_CLAMP_PRINTED, turns_at_thick,
        open(1.0, Turns(0), Clamped, TURN_CLAMP)
    ),
    rule!(
        "8.11" "h", "8.2.3(3)", true, "2.3 sqrt(M_y,Rk f_h,1,k d)", yields_at_thick::<0>,
        open(1.15, Yields(0), Clamped, YIELD_CLAMP)
    ),
];

/// Thin steel plates outside of double shear, equation 8.12.
pub(super) const OUTSIDE_THIN: [Rule; 2] = [
    rule!("8.12" "j", "8.2.3(3)", false, "0.5 f_h,2,k t_2 d", bears_half_second, None),
    rule!(
        "8.12" "k", "8.2.3(3)", true, "1.15 sqrt(2 M_y,Rk f_h,2,k d)", yields_at_thin::<1>,
        open(1.15, Yields(1), Pinned, YIELD_PIN_SECOND)
    ),
];

/// Thick steel plates outside of double shear, equation 8.13.
pub(super) const OUTSIDE_THICK: [Rule; 2] = [
    rule!("8.13" "l", "8.2.3(3)", false, "0.5 f_h,2,k t_2 d", bears_half_second, None),
    rule!(
        "8.13" "m", "8.2.3(3)", true, "2.3 sqrt(M_y,Rk f_h,2,k d)", yields_at_thick::<1>,
        open(1.15, Yields(1), Clamped, YIELD_CLAMP_SECOND)
    ),
];
