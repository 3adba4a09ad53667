//! Bolts along their axis, 8.5.2: what their washers bear on, and their steel.

use std::f64::consts::PI;

use crate::standard::capacity::{Along, Amount, Bearing, Factor, NoValue};
use crate::standard::en1995::{En1995, ec5};
use crate::standard::{Driven, Source};
use crate::stock::{Family, Material, WoodType};

use super::axial::{Pull, STEEL, WASHER, thickness};
use super::stuff::Stuff;
use super::{density, none};

/// A clause of the steel standard that 8.5.2 and 8.7.2 send the reader to.
fn ec3() -> Source {
    Source::Clause { document: "EN 1993-1-8", clause: "Table 3.4" }
}

/// The lesser of what bears under the head and under the nut, and the steel.
pub(super) fn bolt(rules: &En1995, asked: &Along<'_>, pull: &mut Pull) -> Result<(), NoValue> {
    let spec = asked.driven.spec;
    let nut_mm = spec.nut.map_or(0.0, |it| it.across_flats_mm);
    let head_mm = if 0.0 < spec.head_mm { spec.head_mm } else { nut_mm };
    let ends = [
        ("head", asked.under_head.as_ref(), asked.head_washer_mm, head_mm),
        (
            "nut",
            asked.under_nut.as_ref().map(|it| &it.0),
            asked.under_nut.as_ref().and_then(|it| it.1),
            nut_mm,
        ),
    ];
    let mut least: Option<f64> = None;
    for (what, under, washer, flats_mm) in ends {
        let Some(under) = under else {
            pull.unknown = Some("what the head and the nut of the bolt bear on is not known");
            pull.cautions.push(format!("What the {what} bears on is not known and is not counted."));
            continue;
        };
        let newtons = bearing(rules, (asked, under), (washer, flats_mm), (what, pull))?;
        least = Some(least.map_or(newtons, |it| it.min(newtons)));
    }
    if let Some(newtons) = least {
        pull.add(WASHER, newtons);
    }
    steel(rules, &asked.driven, pull);
    Ok(())
}

/// What one end bears: `3 f_c,90,k A` (8.5.2(2)); of a steel plate a washer of min(12 t, 4 d) (8.5.2(3)).
fn bearing(
    rules: &En1995,
    (asked, under): (&Along<'_>, &Bearing<'_>),
    (washer, flats_mm): (Option<(f64, f64)>, f64),
    (what, pull): (&str, &mut Pull),
) -> Result<f64, NoValue> {
    let (terms, d) = (&rules.table.carry.bearing, asked.driven.spec.diameter_mm);
    let is_plate = under.material.family == Family::Steel;
    let (material, outer_mm, inner_mm, clause) = if is_plate {
        let thickness_mm = thickness(under);
        let outer_mm = (terms.plate_thicknesses * thickness_mm).min(terms.plate_diameters * d);
        let inputs = [("t", Amount::Length(thickness_mm))];
        let source = ec5("8.5.2(3)");
        pull.working.put(("D_plate", "min(12 t, 4 d)"), &inputs, Amount::Length(outer_mm), source);
        (asked.holding.material, outer_mm, under.drilled_mm.unwrap_or(d), "8.5.2(3)")
    } else if let Some((outer_mm, inner_mm)) = washer {
        (under.material, outer_mm, inner_mm, "8.5.2(2)")
    } else {
        pull.cautions.push(format!("There is no washer under the {what}, which 10.4.3(2) asks for."));
        (under.material, flats_mm, under.drilled_mm.unwrap_or(d), "8.5.2(2)")
    };
    let stuff = Stuff::of(material)?;
    let (strength, formula, why) = across_grain(rules, material, stuff)?;
    if !pull.woods.contains(&stuff) {
        pull.woods.push(stuff);
    }
    let inputs = [("rho_k", Amount::Density(material.density_kg_m3.unwrap_or(0.0)))];
    pull.working.put(("f_c,90,k", formula), &inputs, Amount::Stress(strength), ec5("8.5.2(2)"));
    pull.working.because(format!("{}: {why}", material.label));
    let area = (PI / 4.0 * (outer_mm * outer_mm - inner_mm * inner_mm)).max(0.0);
    let newtons = terms.times * strength * area;
    let inputs = [("A", Amount::Area(area))];
    pull.working.put(("F_c", "3 f_c,90,k A"), &inputs, Amount::Force(newtons), ec5(clause));
    pull.working.because(format!("under the {what}, {outer_mm:.1} mm across"));
    Ok(newtons)
}

/// Characteristic strength across the grain, by EN 384 from the density, or by EN 14080.
fn across_grain(
    rules: &En1995,
    material: &Material,
    stuff: Stuff,
) -> Result<(f64, &'static str, &'static str), NoValue> {
    let terms = &rules.table.carry.bearing;
    let density = density(material);
    match (material.family, density) {
        (Family::Glulam, Some(_)) if material.wood != Some(WoodType::Hardwood) => {
            Ok((terms.glulam, "", "EN 14080"))
        }
        (Family::Lumber, Some(density)) if stuff == Stuff::Softwood => {
            Ok((terms.softwood * density, "0.007 rho_k", "EN 384"))
        }
        (Family::Lumber, Some(density)) if density < terms.dense_from => {
            Ok((terms.hardwood * density, "0.010 rho_k", "EN 384"))
        }
        (Family::Lumber, Some(density)) => Ok((terms.dense_hardwood * density, "0.015 rho_k", "EN 384")),
        _ => none(
            "8.5.2(2)",
            format!(
                "{}: its strength across the grain, on which the washer bears, is not known",
                material.label
            ),
        ),
    }
}

/// The steel of a bolt or screw at the root of its thread, as far as both are known.
pub(super) fn steel(rules: &En1995, driven: &Driven<'_>, pull: &mut Pull) {
    let known = driven.spec.tensile_mpa.zip(driven.spec.root_mm).filter(|it| 0.0 < it.0 && 0.0 < it.1);
    let Some((strength, root_mm)) = known else {
        pull.unknown = pull.unknown.or(Some("the strength of the steel in tension is not known"));
        pull.cautions
            .push("The strength of the steel in tension is not known and is not counted.".to_owned());
        return;
    };
    let newtons = rules.table.carry.steel.part * strength * PI / 4.0 * root_mm * root_mm;
    let inputs = [("f_u", Amount::Stress(strength)), ("d_1", Amount::Length(root_mm))];
    pull.working.put(("F_t,Rk", "0.9 f_u pi d_1^2 / 4"), &inputs, Amount::Force(newtons), ec3());
    pull.add(STEEL, newtons);
}

/// The factors of the steel: it has no `k_mod`.
pub(super) fn steel_factors(rules: &En1995) -> Vec<Factor> {
    let gamma_m2 = rules.table.carry.steel.gamma_m2;
    let (source, because) = (ec3(), format!("gamma_M2 = {gamma_m2}, steel in tension"));
    vec![
        Factor {
            key: "k_mod",
            symbol: "k_mod",
            value: 1.0,
            because: "steel does not tire of a load".to_owned(),
            source,
        },
        Factor { key: "gamma_m", symbol: "1 / gamma_M2", value: 1.0 / gamma_m2, because, source },
    ]
}
