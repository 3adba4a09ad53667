//! Bolt holes (12.1.3.2) and lead holes (12.1.4.2, 12.1.5.2, 12.1.5.3, 12.1.6.2).

use super::{Nds2018, nds};
use crate::standard::table::{Band, ask, given, length};
use crate::standard::{Check, Driven, Quantity, Source, Step, Topic};
use crate::stock::{Family, FastenerKind, Material};
use crate::unit::compare::at_most;

/// The hole of one fastener in one body. A hole that was not drilled measures zero where one is wanted.
pub(super) fn hole(nds: &Nds2018, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
    let is_wood = material.family.is_wood();
    match driven.spec.kind {
        FastenerKind::Bolt | FastenerKind::ThreadedRod if is_wood || material.family == Family::Steel => {
            bolt(nds, driven)
        }
        FastenerKind::LagScrew if is_wood => lag_screw(nds, driven, material),
        FastenerKind::WoodScrew if is_wood => wood_screw(nds, driven, material),
        FastenerKind::Nail if is_wood => nail(nds, driven, material),
        FastenerKind::Bolt
        | FastenerKind::ThreadedRod
        | FastenerKind::LagScrew
        | FastenerKind::WoodScrew
        | FastenerKind::Nail
        | FastenerKind::MasonryScrew => Vec::new(),
    }
}

/// The row for a material. Without a specific gravity the rows are taken together, the least of
/// them and the greatest, so that nothing is called wrong that some wood allows.
fn band(bands: &[Band], material: &Material) -> Band {
    let all = |pick: fn(f64, f64) -> f64, of: fn(&Band) -> f64| bands.iter().map(of).reduce(pick);
    let together = Band {
        gravity_to: f64::INFINITY,
        least: all(f64::min, |it| it.least).unwrap_or(0.0),
        most: all(f64::max, |it| it.most).unwrap_or(1.0),
    };
    material
        .specific_gravity
        .and_then(|gravity| bands.iter().find(|it| at_most(gravity, it.gravity_to)))
        .copied()
        .unwrap_or(together)
}

/// A part of a diameter, worked out.
fn part(symbol: &'static str, of: Step, factor: f64) -> Vec<Step> {
    let mm = of.value.value() * factor;
    let formula = if of.symbol == "D_r" { "k D_r" } else { "k D" };
    vec![of, given("k", Quantity::Number(factor)), length(symbol, formula, mm)]
}

fn nominal(driven: &Driven<'_>) -> Step {
    given("D", Quantity::Length(driven.spec.diameter_mm))
}

/// The hole as drilled, zero where there is none.
fn drilled(driven: &Driven<'_>) -> Quantity {
    Quantity::Length(driven.hole_mm.map_or(0.0, |it| it.0))
}

fn lead(clause: Source) -> crate::standard::table::Asked {
    ask(Topic::LeadHole, clause)
}

/// 12.1.3.2, in wood and in steel side plates alike: 1/32 in to 1/16 in wider than the bolt.
fn bolt(nds_2018: &Nds2018, driven: &Driven<'_>) -> Vec<Check> {
    if driven.hole_mm.is_none() {
        return Vec::new();
    }
    let over = &nds_2018.table.bolt_hole;
    let asked = ask(Topic::BoltHole, nds("12.1.3.2"));
    let working = |symbol, over_mm: f64| {
        let wide_mm = driven.spec.diameter_mm + over_mm;
        vec![nominal(driven), given("c", Quantity::Length(over_mm)), length(symbol, "D + c", wide_mm)]
    };
    vec![
        asked.at_least(drilled(driven), working("h_min", over.least_over_mm)),
        asked.at_most(drilled(driven), working("h_max", over.most_over_mm)),
    ]
}

/// 12.1.4.2: by specific gravity, and at least as deep as the thread reaches. 12.1.4.3: not needed for
/// 3/8 in and less in withdrawal from light wood; the load is not known here, so it is recommended.
fn lag_screw(nds_2018: &Nds2018, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
    let row = band(&nds_2018.table.lag_lead.bands, material);
    let free = &nds_2018.table.lag_lead_free;
    let may_go_without = at_most(driven.spec.diameter_mm, free.diameter_to_mm)
        && material.specific_gravity.is_some_and(|it| at_most(it, free.gravity_to));
    let (wide, narrow) = (nds("12.1.4.2"), if may_go_without { nds("12.1.4.3") } else { nds("12.1.4.2") });
    let mut needed = vec![lead(narrow).at_least(drilled(driven), part("h_min", nominal(driven), row.least))];
    if let Some((_, depth_mm)) = driven.hole_mm {
        let thread_end = vec![given("L", Quantity::Length(driven.spec.length_mm))];
        needed.push(ask(Topic::HoleDepth, narrow).at_least(Quantity::Length(depth_mm), thread_end));
    }
    if may_go_without {
        needed = needed.into_iter().map(Check::recommended).collect();
    }
    if driven.hole_mm.is_some() {
        needed.push(lead(wide).at_most(drilled(driven), part("h_max", nominal(driven), row.most)));
    }
    needed
}

/// 12.1.5.2 for withdrawal gives the lesser hole, 12.1.5.3 for a load across the screw the greater
/// one, both of the root diameter: whatever lies between serves. In wood up to gravity 0.5 a screw in
/// withdrawal needs none, and one loaded sideways has 12.1.5.3; the load is not known here.
fn wood_screw(nds_2018: &Nds2018, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
    let Some(root_mm) = driven.spec.root_mm else { return Vec::new() };
    let row = band(&nds_2018.table.screw_lead.bands, material);
    let root = || given("D_r", Quantity::Length(root_mm));
    let mut checks = Vec::new();
    if 0.0 < row.least {
        checks.push(lead(nds("12.1.5.2")).at_least(drilled(driven), part("h_min", root(), row.least)));
    } else if driven.hole_mm.is_none() {
        let check = lead(nds("12.1.5.3")).at_least(drilled(driven), part("h", root(), row.most));
        checks.push(check.recommended());
    }
    if driven.hole_mm.is_some() {
        checks.push(lead(nds("12.1.5.3")).at_most(drilled(driven), part("h_max", root(), row.most)));
    }
    checks
}

/// 12.1.6.2: a bored hole is never needed, and never wider than this.
fn nail(nds_2018: &Nds2018, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
    if driven.hole_mm.is_none() {
        return Vec::new();
    }
    let row = band(&nds_2018.table.nail_hole.bands, material);
    vec![lead(nds("12.1.6.2")).at_most(drilled(driven), part("h_max", nominal(driven), row.most))]
}
