//! A bolt in tension: the wood that its washers crush, and its steel.

use super::factors::{factor, of_crushing};
use super::withdrawal::Way;
use super::working::{MPA_PER_PSI, given, inch, inches, line, none, pound, psi, square_inch};
use crate::standard::Source;
use crate::standard::capacity::{Along, Amount, Bearing, Line, NoValue};
use crate::standard::nds2018::{Nds2018, nds};
use std::f64::consts::PI;

/// AISC 360 (from memory): nominal strength is this part of the ultimate over the nominal area, and the
/// safety factor is 2.
const TENSION_PART: f64 = 0.75;
const TENSION_SAFETY: f64 = 2.0;
/// What a hole in wood is wider than the bolt at most, 12.1.3.2, inches: taken where there is no washer.
const HOLE_OVER_IN: f64 = 0.0625;

/// A head or nut that bears on wood.
pub(super) struct Pressed<'a> {
    pub(super) name: &'static str,
    pub(super) on: Bearing<'a>,
    /// Outer and inner diameter of the washer.
    pub(super) washer_mm: Option<(f64, f64)>,
    /// Width of the head or nut.
    pub(super) width_mm: f64,
}

/// The wood under a washer, or under a bare head or nut, crushed across the grain: Fc-perp over the ring.
/// The gain of a short bearing length (`C_b`, 3.10.4) is not taken.
///
/// Steel and concrete do not give way so, and there is then no such mode.
///
/// # Errors
/// Where the strength across the grain is not known, or nothing bears.
pub(super) fn crushing(rules: &Nds2018, asked: &Along<'_>, at: &Pressed<'_>) -> Result<Option<Way>, NoValue> {
    let material = at.on.material;
    if !material.family.is_wood() {
        return Ok(None);
    }
    let source = nds("12.1.3.3");
    let Some(strength) = material.crushing_mpa.map(|it| it / MPA_PER_PSI) else {
        let because = format!(
            "the strength of {} across the grain is not known, which a washer bears on",
            material.label
        );
        return none(because, nds("Supplement Table 4A"));
    };
    let hole = inches(asked.driven.spec.diameter_mm) + HOLE_OVER_IN;
    let (outer, inner, why) = match at.washer_mm {
        Some((outer, inner)) => (inches(outer), inches(inner).max(hole), "of the washer"),
        None => (inches(at.width_mm), hole, "of the bare head or nut: NDS asks for a washer"),
    };
    let area = PI / 4.0 * outer.mul_add(outer, -(inner * inner));
    if area <= 0.0 || !area.is_finite() {
        return none(format!("nothing bears on {}", material.label), source);
    }
    let value = strength * area;
    let working = vec![
        given("F_c,perp", psi(strength), nds("Supplement Table 4A"), &material.source),
        Line {
            with: vec![("d_o", inch(outer)), ("d_i", inch(inner))],
            because: why.to_owned(),
            ..line("A_net", "pi (d_o^2 - d_i^2) / 4", square_inch(area), source)
        },
        line("P_perp", "F_c,perp A_net", pound(value), source),
    ];
    Ok(Some(Way { name: at.name, reference: value, factors: of_crushing(rules, asked), working }))
}

/// The steel of a bolt or rod in tension, where its ultimate strength is known.
pub(super) fn steel(asked: &Along<'_>) -> Option<Way> {
    let ultimate = asked.driven.spec.tensile_mpa? / MPA_PER_PSI;
    let diameter = inches(asked.driven.spec.diameter_mm);
    let source = Source::Clause { document: "AISC 360", clause: "J3.6" };
    let area = PI / 4.0 * diameter * diameter;
    let value = TENSION_PART * ultimate * area / TENSION_SAFETY;
    let working = vec![
        given("F_u", psi(ultimate), source, &asked.driven.spec.source),
        Line { with: vec![("D", inch(diameter))], ..line("A", "pi D^2 / 4", square_inch(area), source) },
        Line {
            with: vec![("Omega", Amount::Number(TENSION_SAFETY))],
            because: "the part 0.75 stands for the thread".to_owned(),
            ..line("T", "0.75 F_u A / Omega", pound(value), source)
        },
    ];
    let factors = vec![factor("load_duration", "C_D", 1.0, nds("11.2.3"), "steel does not go by duration")];
    Some(Way { name: "steel in tension", reference: value, factors, working })
}
