//! Bolt holes (10.4.3(1)), predrilling of nails (8.3.1.1(2), 10.4.2(3)), lead holes of screws (10.4.5).

use super::{En1995, ec5};
use crate::standard::table::{ask, given, length};
use crate::standard::{Check, Driven, Quantity, Source, Step, Topic};
use crate::stock::{Family, FastenerKind, Material, WoodType};
use crate::unit::compare::{at_least, at_most};

/// The hole of one fastener in one body.
pub(super) fn hole(ec5: &En1995, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
    let is_wood = material.family.is_wood();
    match driven.spec.kind {
        FastenerKind::Bolt | FastenerKind::ThreadedRod if is_wood => bolt_in_timber(ec5, driven),
        FastenerKind::Bolt | FastenerKind::ThreadedRod if material.family == Family::Steel => {
            bolt_in_steel(ec5, driven)
        }
        FastenerKind::Nail if is_wood => nail(ec5, driven, material),
        FastenerKind::WoodScrew | FastenerKind::LagScrew if is_wood => screw(ec5, driven, material),
        FastenerKind::Bolt
        | FastenerKind::ThreadedRod
        | FastenerKind::Nail
        | FastenerKind::WoodScrew
        | FastenerKind::LagScrew
        | FastenerKind::MasonryScrew => Vec::new(),
    }
}

fn diameter(driven: &Driven<'_>) -> Step {
    given("d", Quantity::Length(driven.spec.diameter_mm))
}

/// A part of the diameter, worked out.
fn part(symbol: &'static str, driven: &Driven<'_>, factor: f64) -> Vec<Step> {
    let mm = factor * driven.spec.diameter_mm;
    vec![diameter(driven), given("k", Quantity::Number(factor)), length(symbol, "k d", mm)]
}

/// A bolt goes into its hole only when that is no narrower.
fn goes_in(driven: &Driven<'_>, hole_mm: f64) -> Check {
    ask(Topic::BoltHole, Source::CommonPractice).at_least(Quantity::Length(hole_mm), vec![diameter(driven)])
}

/// Timber: at most d + 1 mm.
fn bolt_in_timber(ec5_2004: &En1995, driven: &Driven<'_>) -> Vec<Check> {
    let Some((hole_mm, _)) = driven.hole_mm else { return Vec::new() };
    let over_mm = ec5_2004.table.bolt_hole.timber_over_mm;
    let working = vec![
        diameter(driven),
        given("c", Quantity::Length(over_mm)),
        length("h_max", "d + c", driven.spec.diameter_mm + over_mm),
    ];
    let asked = ask(Topic::BoltHole, ec5("10.4.3(1)"));
    vec![goes_in(driven, hole_mm), asked.at_most(Quantity::Length(hole_mm), working)]
}

/// Steel: at most d + max(2 mm, 0.1 d).
fn bolt_in_steel(ec5_2004: &En1995, driven: &Driven<'_>) -> Vec<Check> {
    let Some((hole_mm, _)) = driven.hole_mm else { return Vec::new() };
    let over = &ec5_2004.table.bolt_hole;
    let diameter_mm = driven.spec.diameter_mm;
    let over_mm = over.steel_over_mm.max(over.steel_over_part * diameter_mm);
    let working = vec![
        diameter(driven),
        length("c", "max(2 mm, 0.1 d)", over_mm),
        length("h_max", "d + c", diameter_mm + over_mm),
    ];
    let asked = ask(Topic::BoltHole, ec5("10.4.3(1)"));
    vec![goes_in(driven, hole_mm), asked.at_most(Quantity::Length(hole_mm), working)]
}

/// Predrilled from 500 kg/m3 on and for nails over 6 mm, at most 0.8 d.
fn nail(ec5_2004: &En1995, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
    let rule = &ec5_2004.table.predrill;
    if let Some((hole_mm, _)) = driven.hole_mm {
        let asked = ask(Topic::LeadHole, ec5("10.4.2(3)"));
        return vec![asked.at_most(Quantity::Length(hole_mm), part("h_max", driven, rule.most))];
    }
    let is_dense = material.density_kg_m3.is_some_and(|it| at_least(it, rule.density_from));
    if is_dense || !at_most(driven.spec.diameter_mm, rule.nail_above_mm) {
        return vec![ask(Topic::LeadHole, ec5("8.3.1.1(2)")).wanted(false)];
    }
    Vec::new()
}

/// Hardwood always, softwood over 6 mm: about 0.7 d for the thread. Above 500 kg/m3 tests decide how
/// wide, and no number is asked for. How far "about" reaches is ours.
fn screw(ec5_2004: &En1995, driven: &Driven<'_>, material: &Material) -> Vec<Check> {
    let rule = &ec5_2004.table.screw_lead;
    let is_needed =
        material.wood == Some(WoodType::Hardwood) || !at_most(driven.spec.diameter_mm, rule.free_to_mm);
    let asked = ask(Topic::LeadHole, ec5("10.4.5"));
    let Some((hole_mm, _)) = driven.hole_mm else {
        return if is_needed { vec![asked.wanted(false)] } else { Vec::new() };
    };
    if material.density_kg_m3.is_some_and(|it| !at_most(it, rule.tests_above)) {
        return Vec::new();
    }
    let (hole, reach) = (Quantity::Length(hole_mm), ec5_2004.practice.about.hole_part);
    let about = |symbol, formula, factor: f64| {
        let mut steps = part("h", driven, rule.thread);
        steps.push(given("t", Quantity::Number(reach)));
        steps.push(length(symbol, formula, factor * rule.thread * driven.spec.diameter_mm));
        steps
    };
    let mut checks = vec![asked.at_most(hole, about("h_max", "h (1 + t)", 1.0 + reach))];
    if is_needed {
        checks.push(asked.at_least(hole, about("h_min", "h (1 - t)", 1.0 - reach)));
    }
    checks
}
