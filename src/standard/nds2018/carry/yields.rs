//! The yield modes of one shear plane, by the general dowel equations with a gap.
//!
//! In each member the shank either turns stiffly or bends at a hinge; the moments that the two members
//! give at the faces of the gap carry the load across it. Modes II, `IIIm`, `IIIs` and IV are the four pairs of
//! turning and bending, and each is one quadratic equation. With no gap they are the equations of NDS
//! 12.3.1 (Table 12.3.1A): one implementation serves both.

use super::reduction::Reduction;
use super::working::{inch, inch_pound, line, per_inch, pound, tr12};
use crate::standard::Source;
use crate::standard::capacity::{Amount, Line};
use crate::standard::nds2018::nds;

/// One shear plane in inches and pounds.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plane {
    /// Bearing length in the side member.
    pub(super) side_in: f64,
    /// Bearing length in the main member.
    pub(super) main_in: f64,
    /// Dowel bearing strength of the side member.
    pub(super) side_psi: f64,
    /// Dowel bearing strength of the main member.
    pub(super) main_psi: f64,
    /// Between them.
    pub(super) gap_in: f64,
    /// The diameter that bends.
    pub(super) diameter_in: f64,
    /// Bending yield strength.
    pub(super) yield_psi: f64,
    /// One of two planes alike.
    pub(super) is_double: bool,
}

/// What carries the moment in one member.
#[derive(Clone, Copy, Debug)]
enum Held {
    /// The shank turns stiffly over the bearing length.
    Turns(f64),
    /// The shank bends at a hinge of this moment.
    Bends(f64),
}

impl Held {
    /// What it adds to A (per bearing q), B and the moment of the quadratic equation.
    fn terms(self, q: f64) -> (f64, f64, f64) {
        match self {
            Self::Turns(length) => (0.25 / q, length / 2.0, q * length * length / 4.0),
            Self::Bends(moment) => (0.5 / q, 0.0, moment),
        }
    }
}

/// The symbols and formulas of a mode with moments.
struct Named {
    mode: &'static str,
    arm: &'static str,
    arm_rule: &'static str,
    moment: &'static str,
    moment_rule: &'static str,
    value: &'static str,
    value_rule: &'static str,
}

const TWO: Named = Named {
    mode: "II",
    arm: "B_II",
    arm_rule: "l_s/2 + g + l_m/2",
    moment: "M_II",
    moment_rule: "q_s l_s^2/4 + q_m l_m^2/4",
    value: "Z_II",
    value_rule: "(sqrt(B_II^2 + 4 A M_II) - B_II) / (2 A R_d), A = 1/(4 q_s) + 1/(4 q_m)",
};
const THREE_MAIN: Named = Named {
    mode: "IIIm",
    arm: "B_IIIm",
    arm_rule: "g + l_m/2",
    moment: "M_IIIm",
    moment_rule: "M + q_m l_m^2/4",
    value: "Z_IIIm",
    value_rule: "(sqrt(B_IIIm^2 + 4 A M_IIIm) - B_IIIm) / (2 A R_d), A = 1/(2 q_s) + 1/(4 q_m)",
};
const THREE_SIDE: Named = Named {
    mode: "IIIs",
    arm: "B_IIIs",
    arm_rule: "l_s/2 + g",
    moment: "M_IIIs",
    moment_rule: "q_s l_s^2/4 + M",
    value: "Z_IIIs",
    value_rule: "(sqrt(B_IIIs^2 + 4 A M_IIIs) - B_IIIs) / (2 A R_d), A = 1/(4 q_s) + 1/(2 q_m)",
};
const FOUR: Named = Named {
    mode: "IV",
    arm: "B_IV",
    arm_rule: "g",
    moment: "M_IV",
    moment_rule: "M + M",
    value: "Z_IV",
    value_rule: "(sqrt(B_IV^2 + 4 A M_IV) - B_IV) / (2 A R_d), A = 1/(2 q_s) + 1/(2 q_m)",
};

/// The load at which the moments are used up: the positive root of A P^2 + B P = M, in the form that
/// loses no digits where B is large.
fn balance(a: f64, b: f64, moment: f64) -> f64 {
    2.0 * moment / (b + (b * b + 4.0 * a * moment).sqrt())
}

/// Every mode with its reference value for one plane, in pounds: Im, Is, II, `IIIm`, `IIIs`, IV, and in double
/// shear Im, Is, `IIIs`, IV, half of what the shank carries.
pub(super) fn modes(plane: Plane, by: Reduction, working: &mut Vec<Line>) -> Vec<(&'static str, f64)> {
    let (q_s, q_m) = (plane.side_psi * plane.diameter_in, plane.main_psi * plane.diameter_in);
    let moment = plane.yield_psi * plane.diameter_in.powi(3) / 6.0;
    let general = tr12("Table 1-1");
    working.push(line("q_s", "F_es D", per_inch(q_s), general));
    working.push(line("q_m", "F_em D", per_inch(q_m), general));
    working.push(line("M", "F_yb D^3 / 6", inch_pound(moment), general));
    let because = if plane.gap_in <= 0.0 {
        "the members touch: these are the equations of NDS 12.3.1"
    } else {
        "air and fillings between the members: the shank has no bearing there"
    };
    working.push(Line { because: because.to_owned(), ..line("g", "", inch(plane.gap_in), general) });
    let source = if plane.gap_in <= 0.0 { nds("Table 12.3.1A") } else { general };
    let (turns_s, turns_m) = (Held::Turns(plane.side_in), Held::Turns(plane.main_in));
    let bends = Held::Bends(moment);
    let mut found = crushing(plane, by, (q_s, q_m), source, working);
    let pairs: &[(Named, Held, Held, f64)] = if plane.is_double {
        &[(THREE_SIDE, turns_s, bends, by.three), (FOUR, bends, bends, by.three)]
    } else {
        &[
            (TWO, turns_s, turns_m, by.two),
            (THREE_MAIN, bends, turns_m, by.three),
            (THREE_SIDE, turns_s, bends, by.three),
            (FOUR, bends, bends, by.three),
        ]
    };
    for (named, side, main, reduction) in pairs {
        let ((a_s, b_s, m_s), (a_m, b_m, m_m)) = (side.terms(q_s), main.terms(q_m));
        let (a, b, m) = (a_s + a_m, b_s + plane.gap_in + b_m, m_s + m_m);
        let value = balance(a, b, m) / reduction;
        working.push(line(named.arm, named.arm_rule, inch(b), source));
        working.push(line(named.moment, named.moment_rule, inch_pound(m), source));
        working.push(Line {
            with: vec![("R_d", Amount::Number(*reduction))],
            ..line(named.value, named.value_rule, pound(value), source)
        });
        found.push((named.mode, value));
    }
    found
}

/// Modes Im and Is: the wood gives way along the whole length.
fn crushing(
    plane: Plane,
    by: Reduction,
    (q_s, q_m): (f64, f64),
    source: Source,
    working: &mut Vec<Line>,
) -> Vec<(&'static str, f64)> {
    let with = || vec![("R_d", Amount::Number(by.one))];
    let (main, rule, because) = if plane.is_double {
        (q_m * plane.main_in / (2.0 * by.one), "q_m l_m / (2 R_d)", "half of what the middle member bears")
    } else {
        (q_m * plane.main_in / by.one, "q_m l_m / R_d", "")
    };
    let side = q_s * plane.side_in / by.one;
    working.push(Line {
        with: with(),
        because: because.to_owned(),
        ..line("Z_Im", rule, pound(main), source)
    });
    working.push(Line { with: with(), ..line("Z_Is", "q_s l_s / R_d", pound(side), source) });
    vec![("Im", main), ("Is", side)]
}
