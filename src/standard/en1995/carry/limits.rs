//! What must hold before an equation of 8.2 may be used, and what it leaves out.

use crate::joint::Heat;
use crate::standard::capacity::{Across, Amount, Bearing, NoValue, Room};
use crate::standard::en1995::{En1995, ec5};
use crate::standard::{Driven, Source};
use crate::unit::compare::{at_least, at_most};

use super::embedment::angle;
use super::shank::{Kind, Shank};
use super::stuff::Stuff;
use super::working::Working;
use super::{density, none};

/// Every measure is sound: lengths above zero, gaps not below it.
pub(super) fn sound(asked: &Across<'_>) -> Result<(), NoValue> {
    let bodies = [Some(&asked.side), Some(&asked.main), asked.beyond.as_ref()];
    for body in bodies.into_iter().flatten() {
        if !(0.0 < body.length_mm && body.length_mm.is_finite()) {
            return none("8.2.1", format!("no length of the shank is in {}", body.material.label));
        }
    }
    if asked.gap_mm.iter().any(|it| !(0.0 <= *it && it.is_finite())) {
        return none("8.2.1", "a gap is no length");
    }
    Ok(())
}

/// No distance is below the least: EN 1995-1-1 knows no reduction for it.
pub(super) fn rooms(rooms: &[Room]) -> Result<(), NoValue> {
    let short = |it: &&Room| !at_least(it.drawn_mm, it.full_mm.min(it.least_mm));
    match rooms.iter().find(short) {
        None => Ok(()),
        Some(it) => Err(NoValue {
            because: format!(
                "{} {:.1} mm is less than the {:.1} mm that it must have at least",
                it.what,
                it.drawn_mm,
                it.full_mm.min(it.least_mm)
            ),
            source: it.source,
        }),
    }
}

/// The body that the point or the far end is in.
pub(super) fn last<'a, 'b>(asked: &'b Across<'a>) -> &'b Bearing<'a> {
    asked.beyond.as_ref().unwrap_or(&asked.main)
}

/// Length on the point side: nails 8 d or 6 d, thin screws 6 d, thick ones 4 d.
pub(super) fn penetration(
    rules: &En1995,
    shank: &Shank<'_>,
    last: &Bearing<'_>,
    working: &mut Working,
) -> Result<(), NoValue> {
    let (nails, screws) = (&rules.table.nail_penetration, &rules.table.screw_penetration);
    let (factor, formula, clause) = match (shank.kind, shank.is_like_nail) {
        (Kind::Bolt, _) => return Ok(()),
        (Kind::SmoothNail, _) => (nails.smooth, "8 d", "8.3.1.2(1)"),
        (Kind::ThreadedNail, _) => (nails.threaded, "6 d", "8.3.1.2(2)"),
        (Kind::Screw, true) => (nails.threaded, "6 d", "8.7.1(5)"),
        (Kind::Screw, false) => (screws.sideways, "4 d", "8.7.1(2)"),
    };
    if !last.material.family.is_wood() {
        return none(clause, format!("the point ends in {}, which does not hold it", last.material.label));
    }
    let least_mm = factor * shank.diameter_mm;
    if !at_least(last.length_mm, least_mm) {
        let has = format!("{:.1} mm in the {} on the point side is less than", last.length_mm, last.name);
        return none(clause, format!("{has} the {least_mm:.1} mm ({formula}) from which on it counts"));
    }
    working.put(("t_pen,min", formula), &[], Amount::Length(least_mm), ec5(clause));
    working.because(format!("{:.1} mm is there", last.length_mm));
    Ok(())
}

/// Timber so thin that a nail or thin screw would split it unless it is predrilled, 8.3.1.2(6).
pub(super) fn splitting(
    rules: &En1995,
    shank: &Shank<'_>,
    asked: &Across<'_>,
    (working, cautions): (&mut Working, &mut Vec<String>),
) {
    if !shank.is_like_nail {
        return;
    }
    // Of the body with the point only the bite is known and not the thickness.
    let inner = asked.beyond.is_some().then_some(&asked.main);
    for body in [Some(&asked.side), inner].into_iter().flatten() {
        let is_timber = Stuff::of(body.material).is_ok_and(|it| !it.is_board() && !it.is_steel());
        let Some(density) = density(body.material) else { continue };
        if !is_timber || body.drilled_mm.is_some() {
            continue;
        }
        let (terms, d) = (&rules.table.nail_thickness, shank.diameter_mm);
        let by_density = terms.slope.mul_add(d, -terms.offset_mm) * density / terms.density;
        let least_mm = (terms.diameters * d).max(by_density);
        let inputs = [("rho_k", Amount::Density(density))];
        let formula = "max(7 d, (13 d - 30) rho_k / 400)";
        working.put(("t_min", formula), &inputs, Amount::Length(least_mm), ec5("8.3.1.2(6)"));
        working.because(format!("{} is {:.1} mm thick", body.material.label, body.length_mm));
        if !at_least(body.length_mm, least_mm) {
            cautions.push(format!(
                "{} is {:.1} mm thick and should be predrilled below {least_mm:.1} mm, lest it split \
                 (8.3.1.2(6)); the value holds for wood that does not split.",
                body.material.label, body.length_mm
            ));
        }
    }
}

/// What remains to be looked at.
pub(super) fn cautions(rules: &En1995, shank: &Shank<'_>, asked: &Across<'_>, cautions: &mut Vec<String>) {
    let bodies = || [Some(&asked.side), Some(&asked.main), asked.beyond.as_ref()].into_iter().flatten();
    if asked.gap_mm.iter().any(|it| 0.0 < *it) {
        cautions.push(
            "The members do not touch. EN 1995-1-1 does not cover that; the gap is counted by the balance \
             of the same stresses, as mechanics and not as the standard's."
                .to_owned(),
        );
    }
    let is_timber = |it: &Bearing<'_>| it.material.family.is_wood() && !is_panel(it);
    if bodies().any(|it| is_timber(it) && 0.0 < angle(it)) {
        cautions.push(
            "A part of the load acts across the grain; whether the member splits (8.1.4) is held against the \
             member as a whole and is not in this value."
                .to_owned(),
        );
    }
    for body in bodies() {
        hole(rules, shank, body, cautions);
    }
    let head = asked.driven.spec.head_mm;
    if shank.is_like_nail && is_panel(&asked.side) && !at_least(head, 2.0 * shank.diameter_mm) {
        cautions.push(
            "The head is narrower than 2 d; the embedment strength of panels is printed for wider ones \
             (8.3.1.3(3))."
                .to_owned(),
        );
    }
    if asked.toe.is_some() {
        cautions.push(
            "The shank is slanted. Its value across itself is worked out with its lengths in the members, \
             as if it were square to them."
                .to_owned(),
        );
    }
    hot(asked.conditions.heat, cautions);
}

fn is_panel(it: &Bearing<'_>) -> bool {
    Stuff::of(it.material).is_ok_and(Stuff::is_board)
}

/// EN 1995-1-1 has no factor for heat.
pub(super) fn hot(heat: Heat, cautions: &mut Vec<String>) {
    if heat != Heat::Ordinary {
        cautions.push("It gets hot; EN 1995-1-1 has no factor for that and nothing is taken off.".to_owned());
    }
}

/// A hole that is wider than its rule, and timber that wants one.
fn hole(rules: &En1995, shank: &Shank<'_>, body: &Bearing<'_>, cautions: &mut Vec<String>) {
    if !body.material.family.is_wood() {
        return;
    }
    let (label, d) = (&body.material.label, shank.diameter_mm);
    let rule = &rules.table.predrill;
    match (shank.kind, body.drilled_mm) {
        (Kind::Bolt, Some(hole_mm)) if !at_most(hole_mm, d + rules.table.bolt_hole.timber_over_mm) => {
            cautions.push(format!(
                "{label}: the hole of {hole_mm:.1} mm is wider than d + 1 mm (10.4.3(1)); it slips first."
            ));
        }
        (Kind::SmoothNail | Kind::ThreadedNail, Some(hole_mm)) if !at_most(hole_mm, rule.most * d) => {
            cautions.push(format!(
                "{label}: the hole of {hole_mm:.1} mm is wider than 0.8 d (10.4.2(3)); the value is for a \
                 tight one."
            ));
        }
        (Kind::SmoothNail | Kind::ThreadedNail, None) => {
            let is_dense = body.material.density_kg_m3.is_some_and(|it| at_least(it, rule.density_from));
            if !is_panel(body) && (is_dense || !at_most(d, rule.nail_above_mm)) {
                cautions.push(format!("{label} should be predrilled for this nail (8.3.1.1(2))."));
            }
        }
        (Kind::Bolt | Kind::Screw | Kind::SmoothNail | Kind::ThreadedNail, _) => {}
    }
}

/// What part of the value is left where a nail or thin screw enters end grain, and why.
pub(super) fn end_grain(
    rules: &En1995,
    shank: &Shank<'_>,
    asked: &Across<'_>,
    cautions: &mut Vec<String>,
) -> Result<(f64, String, Source), NoValue> {
    let bodies = [Some(&asked.side), Some(&asked.main), asked.beyond.as_ref()];
    let source = ec5("8.3.1.2(4)");
    if !bodies.into_iter().flatten().any(|it| it.end_grain && it.material.family.is_wood()) {
        return Ok((1.0, "side grain".to_owned(), source));
    }
    // Bolts and thick screws in end grain have no embedment strength, and do not come this far.
    if shank.kind != Kind::SmoothNail {
        let least_mm = rules.table.carry.nail_axial.end_grain_penetration * shank.diameter_mm;
        if is_wet(shank.driven) || !at_least(last(asked).length_mm, least_mm) {
            return none(
                "8.3.1.2(4)",
                format!(
                    "end grain counts only in service class 1 or 2 and with {least_mm:.1} mm (10 d) in it"
                ),
            );
        }
    }
    cautions.push(
        "It stands in end grain. EN 1995-1-1 recommends to count nothing there (8.3.1.2(3)); a third is \
         counted, which a country may allow: smooth nails in secondary structures only, others with three \
         nails at least and no pull."
            .to_owned(),
    );
    Ok((rules.table.end_grain.nail_sideways, "end grain".to_owned(), source))
}

fn is_wet(driven: &Driven<'_>) -> bool {
    driven.service == crate::joint::Service::Wet
}
