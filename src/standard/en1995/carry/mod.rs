//! What a fastener carries by section 8, a file for each theme.
//!
//! `shank` and `embedment` make the numbers that the equations of `johansen` take; `plane` picks the equations
//! and adds the `rope`; `axial` and `bolt_axial` are what a shank bears along itself; `limits` says when there
//! is no value, and `factors` makes a design value of it.

mod axial;
mod bolt_axial;
mod combined;
mod embedment;
mod factors;
mod johansen;
mod limits;
mod plane;
mod rope;
mod shank;
mod splitting;
mod stuff;
pub(super) mod table;
mod working;

use super::{En1995, ec5};
use crate::standard::Driven;
use crate::standard::capacity::{
    Across, Along, Amount, Axial, Combined, Demand, Factor, Lateral, Mode, NoValue,
};
use crate::stock::Material;
use plane::Sheared;
pub(super) use splitting::splitting;

/// There is no value.
fn none<T>(clause: &'static str, because: impl Into<String>) -> Result<T, NoValue> {
    Err(NoValue { because: because.into(), source: ec5(clause) })
}

/// Characteristic density in kg/m3, where it is known and may be one of wood.
fn density(material: &Material) -> Option<f64> {
    material.density_kg_m3.filter(|it| WOOD.contains(it))
}

/// No wood or board is lighter or heavier, kg/m3: another number is a slip of the pen.
const WOOD: std::ops::RangeInclusive<f64> = 50.0..=2000.0;

/// Every mode is a force. Measures that nothing can be made of may leave the range of numbers on the way.
fn forces(modes: &[Mode]) -> Result<(), NoValue> {
    if modes.iter().all(|it| it.newtons.is_finite() && 0.0 <= it.newtons) {
        return Ok(());
    }
    none("8.1.1", "the measures are so far from any that can be made that no force comes out")
}

/// What one plane carries. In double shear each plane is taken as part of three members alike on both sides
/// (8.1.3(1)), and the lesser of both stands for each.
pub(super) fn across(rules: &En1995, asked: &Across<'_>) -> Result<Lateral, NoValue> {
    limits::sound(asked)?;
    limits::rooms(&asked.rooms)?;
    let mut sheared = Sheared::of(rules, asked, (&asked.side, asked.gap_mm[0]))?;
    if let Some(beyond) = &asked.beyond {
        let other = Sheared::of(rules, asked, (beyond, asked.gap_mm[1]))?;
        let (near, far) = (sheared.reference_n, other.reference_n);
        if far < near {
            sheared = other;
        }
        if 1e-9 * near < (near - far).abs() {
            let inputs = [("F_near", Amount::Force(near)), ("F_far", Amount::Force(far))];
            let least = Amount::Force(near.min(far));
            sheared.working.put(("F_v,Rk", "min(F_near, F_far)"), &inputs, least, ec5("8.1.3(1)"));
            sheared.working.because("the two planes differ: the weaker stands for both");
        }
    }
    finished(rules, asked, sheared)
}

/// The design value.
fn finished(rules: &En1995, asked: &Across<'_>, sheared: Sheared<'_>) -> Result<Lateral, NoValue> {
    let Sheared { shank, modes, mode, reference_n, woods, is_predrilled, mut working, mut cautions } =
        sheared;
    forces(&modes)?;
    let row = factors::row(rules, (&shank, is_predrilled), asked.row, &mut working)?;
    working.given(("k_row", Amount::Number(row.value)), row.source);
    working.because(row.because.clone());
    let (part, because, source) = limits::end_grain(rules, &shank, asked, &mut cautions)?;
    working.given(("k_end", Amount::Number(part)), source);
    working.because(because.clone());
    let end = Factor { key: "end_grain", symbol: "k_end", value: part, because, source };
    let load = (asked.driven.service, asked.duration);
    let kmod = factors::kmod(rules, &woods, load, &mut working)?;
    let gamma = factors::gamma(rules, &asked.conditions, &mut working)?;
    let factors = vec![row, end, kmod, gamma];
    let adjusted_n = factors.iter().fold(reference_n, |so_far, it| so_far * it.value);
    let formula = "k_row k_end k_mod F_v,Rk / gamma_M";
    working.put(("F_v,Rd", formula), &[], Amount::Force(adjusted_n), ec5("2.4.3(1)"));
    limits::cautions(rules, &shank, asked, &mut cautions);
    Ok(Lateral { modes, mode, reference_n, factors, adjusted_n, working: working.lines, cautions })
}

/// What a shank carries along itself.
pub(super) fn along(rules: &En1995, asked: &Along<'_>) -> Result<Axial, NoValue> {
    axial::along(rules, asked)
}

/// Both at once.
pub(super) fn both_ways(rules: &En1995, driven: &Driven<'_>, across: Demand, along: Demand) -> Combined {
    combined::both_ways(rules, driven, across, along)
}
