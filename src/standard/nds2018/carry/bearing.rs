//! Dowel bearing: how strong a body is under a shank, and over what length (12.3.3 to 12.3.5).

use super::shank::Shank;
use super::working::{MPA_PER_PSI, given, inch, inches, line, none, psi};
use crate::standard::Source;
use crate::standard::capacity::{Amount, Bearing, Line, NoValue, Toe};
use crate::standard::nds2018::{Nds2018, nds};
use crate::stock::Family;
use crate::unit::compare::{at_least, at_most};
use crate::unit::length::MM_PER_INCH;

/// Table 12.3.3 prints strengths in steps of so many psi, and the tables of chapter 12 are made of those.
const STEP_PSI: f64 = 50.0;
/// The greatest diameter of Table 12.3.3B (from memory), inches.
const PANEL_TO_IN: f64 = 0.25;

/// The symbols of one body: of the main member or of the side member.
#[derive(Clone, Copy, Debug)]
pub(super) struct Symbols {
    gravity: &'static str,
    along: &'static str,
    across: &'static str,
    angle: &'static str,
    strength: &'static str,
    hankinson: &'static str,
    length: &'static str,
    into: &'static str,
    tip: &'static str,
    point_rule: &'static str,
    toe_rule: &'static str,
}

/// The body on the head side.
pub(super) const SIDE: Symbols = Symbols {
    gravity: "G_s",
    along: "F_es,par",
    across: "F_es,perp",
    angle: "theta_s",
    strength: "F_es",
    hankinson: "F_es,par F_es,perp / (F_es,par sin(theta_s)^2 + F_es,perp cos(theta_s)^2)",
    length: "l_s",
    into: "p_s",
    tip: "E_s",
    point_rule: "p_s - E_s / 2",
    toe_rule: "min(s, p_s cos(a))",
};

/// The body on the point side, or the one in the middle.
pub(super) const MAIN: Symbols = Symbols {
    gravity: "G_m",
    along: "F_em,par",
    across: "F_em,perp",
    angle: "theta_m",
    strength: "F_em",
    hankinson: "F_em,par F_em,perp / (F_em,par sin(theta_m)^2 + F_em,perp cos(theta_m)^2)",
    length: "l_m",
    into: "p",
    tip: "E",
    point_rule: "p - E / 2",
    toe_rule: "p cos(a)",
};

/// Dowel bearing strength in psi, 12.3.3 and 12.3.4.
///
/// Of wood by its specific gravity: 16600 G^1.84 below 1/4 in in any direction; from 1/4 in on 11200 G
/// along the grain, 6100 G^1.45 / sqrt(D) across it, and between them by Hankinson's formula. D is nominal.
/// Each is rounded to 50 psi as Table 12.3.3 prints it, because the values of Tables 12A to 12R are worked
/// out with the printed strengths and some are missed without (590 lb of Table 12A for a 3/4 in bolt).
///
/// # Errors
/// Where the gravity, or the strength of concrete or masonry, is not known; for fillings; for panels
/// under a shank thicker than 1/4 in, which Table 12.3.3B does not hold.
pub(super) fn strength(
    rules: &Nds2018,
    shank: Shank,
    body: &Bearing<'_>,
    named: Symbols,
    working: &mut Vec<Line>,
) -> Result<f64, NoValue> {
    let material = body.material;
    if let Some(known) = material.dowel_bearing_mpa {
        let strength = known / MPA_PER_PSI;
        working.push(given(named.strength, psi(strength), nds("12.3.3"), &material.source));
        return Ok(strength);
    }
    match material.family {
        Family::Steel => Ok(steel(rules, body, named, working)),
        Family::Lumber | Family::Glulam | Family::Engineered | Family::Panel => {
            wood(shank, body, named, working)
        }
        Family::Concrete | Family::Masonry => none(
            format!("the bearing strength of {} under a dowel is not known", material.label),
            nds("12.3.3"),
        ),
        Family::Filling => none(format!("{} does not bear", material.label), nds("12.3.3")),
    }
}

fn steel(rules: &Nds2018, body: &Bearing<'_>, named: Symbols, working: &mut Vec<Line>) -> f64 {
    let known = &rules.table.steel_bearing;
    let (strength, why) = if at_least(body.length_mm, known.plate_from_mm) {
        (known.plate_psi, "steel plate of 1/4 in or more, ASTM A36: 2.4 Fu / 1.6")
    } else {
        (known.sheet_psi, "sheet steel below 1/4 in, ASTM A653 SS grade 33: 2.4 Fu / 1.6")
    };
    working.push(given(named.strength, psi(strength), nds("Table 12M"), why));
    strength
}

fn printed(strength: f64) -> f64 {
    (strength / STEP_PSI).round() * STEP_PSI
}

fn wood(shank: Shank, body: &Bearing<'_>, named: Symbols, working: &mut Vec<Line>) -> Result<f64, NoValue> {
    let material = body.material;
    let Some(gravity) = material.specific_gravity.filter(|it| 0.0 < *it && it.is_finite()) else {
        return none(
            format!("the specific gravity of {} is not known", material.label),
            nds("Table 12.3.3A"),
        );
    };
    let is_panel = material.family == Family::Panel;
    if is_panel && !at_most(shank.nominal_in, PANEL_TO_IN) {
        let because =
            format!("NDS gives no bearing strength of {} under a shank thicker than 1/4 in", material.label);
        return none(because, nds("Table 12.3.3B"));
    }
    working.push(given(named.gravity, Amount::Number(gravity), nds("Table 12.3.3A"), &material.source));
    if !shank.is_large || is_panel {
        let strength = printed(16600.0 * gravity.powf(1.84));
        working.push(Line {
            with: vec![("G", Amount::Number(gravity))],
            because: "rounded to 50 psi; a shank below 1/4 in bears alike along and across the grain"
                .to_owned(),
            ..line(named.strength, "16600 G^1.84", psi(strength), nds("Table 12.3.3"))
        });
        return Ok(strength);
    }
    let along = printed(11200.0 * gravity);
    let across = printed(6100.0 * gravity.powf(1.45) / shank.nominal_in.sqrt());
    let rounded = |symbol, formula, value| Line {
        with: vec![("G", Amount::Number(gravity))],
        because: "rounded to 50 psi".to_owned(),
        ..line(symbol, formula, psi(value), nds("Table 12.3.3"))
    };
    working.push(rounded(named.along, "11200 G", along));
    working.push(rounded(named.across, "6100 G^1.45 / sqrt(D_nom)", across));
    let degrees = angle(body);
    let (sine, cosine) = degrees.to_radians().sin_cos();
    let strength = along * across / (along * sine).mul_add(sine, across * cosine * cosine);
    working.push(Line {
        with: vec![(named.angle, Amount::Angle(degrees))],
        because: if body.end_grain {
            "a shank along the grain bears across it".to_owned()
        } else {
            String::new()
        },
        ..line(named.strength, named.hankinson, psi(strength), nds("12.3.4"))
    });
    Ok(strength)
}

/// Degrees between load and grain, 0 to 90. A shank in end grain bears across the grain whatever the load.
pub(super) fn angle(body: &Bearing<'_>) -> f64 {
    if body.end_grain || !body.load_to_grain_deg.is_finite() {
        return 90.0;
    }
    let turned = body.load_to_grain_deg.abs() % 180.0;
    if 90.0 < turned { 180.0 - turned } else { turned }
}

/// Length that bears, in inches: as long as the shank is in the body, less half of the tapered point
/// (12.3.5.3). Where the point comes out, half of what is left of it in the wood is taken off: so we
/// read it. Of a toe-nail the lengths are those along the face that it starts in, and the Commentary takes
/// nothing off for the point.
///
/// # Errors
/// Where nothing is left.
pub(super) fn length(
    body: &Bearing<'_>,
    toe: Option<Toe>,
    named: Symbols,
    working: &mut Vec<Line>,
) -> Result<f64, NoValue> {
    let (into, tip) = (inches(body.length_mm), inches(body.point_mm));
    let (bears, mut written) = match toe {
        Some(toe) => along_the_face(into, toe, named),
        None if 0.0 < tip => {
            let bears = into - tip / 2.0;
            let rule = line(named.length, named.point_rule, inch(bears), nds("12.3.5.3"));
            (bears, Line { with: vec![(named.into, inch(into)), (named.tip, inch(tip))], ..rule })
        }
        None => (into, line(named.length, "", inch(into), nds("12.3.5"))),
    };
    if bears <= 0.0 || !bears.is_finite() {
        let because = format!("the shank has no length to bear on in {}", body.material.label);
        return none(because, written.source);
    }
    if written.because.is_empty() && written.formula.is_empty() {
        "length of the shank in the body".clone_into(&mut written.because);
    }
    working.push(written);
    Ok(bears)
}

fn along_the_face(into: f64, toe: Toe, named: Symbols) -> (f64, Line) {
    let along = into * toe.angle_to_face_deg.to_radians().cos();
    let mut with = vec![(named.into, inch(into)), ("a", Amount::Angle(toe.angle_to_face_deg))];
    let is_side = named.length == SIDE.length;
    let bears = if is_side {
        with.push(("s", Amount::Length(toe.start_mm)));
        along.min(toe.start_mm / MM_PER_INCH)
    } else {
        along
    };
    let source: Source = nds(if is_side { "12.1.6.3" } else { "Commentary C12.5.4" });
    let rule = line(named.length, named.toe_rule, inch(bears), source);
    (bears, Line { with, because: "of a toe-nail, along the face that it starts in".to_owned(), ..rule })
}
