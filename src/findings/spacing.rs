//! Neighbours too near each other, and shanks that run into each other.
//!
//! A pair is told once, in the body where it misses most. A pair that clashes is not told again as
//! too near. Two fasteners that were there before are not judged as a pair at all.

use std::collections::{BTreeMap, BTreeSet};

use crate::findings::borders::{Depends, by_any_load};
use crate::findings::push::{Case, Cases, pair_cases};
use crate::findings::scene::{Fact, Scene, Stage};
use crate::findings::tell::{fails, severity, shortfall, worse};
use crate::findings::{Finding, Kind, Severity, words};
use crate::standard::{Check, Force, Pair, Quantity, Topic};
use crate::trace::{Clash, Neighbours};
use crate::unit::compare::at_least;

/// One pair that is too near.
struct TooNear<'a> {
    pair: &'a Neighbours,
    check: Check,
    depends: Depends,
    /// The other way to satisfy the source: the distance across where `check` is along, or the reverse.
    other: Option<Check>,
}

pub(super) fn spacing(scene: &Scene<'_>, facts: &[Fact<'_>]) -> Vec<(usize, Finding)> {
    let clashing: BTreeSet<(usize, usize)> = scene.trace.clashes.iter().map(|it| (it.a, it.b)).collect();
    let mut told: BTreeMap<(usize, usize), TooNear<'_>> = BTreeMap::new();
    for pair in &scene.trace.neighbours {
        let (Some(a), Some(b)) = (facts.get(pair.a), facts.get(pair.b)) else { continue };
        let judged = a.stage == Stage::Holds && b.stage == Stage::Holds;
        let old = a.fastener.existing && b.fastener.existing;
        if !judged || old || clashing.contains(&(pair.a, pair.b)) {
            continue;
        }
        let Some(found) = too_near(a, b, pair) else { continue };
        match told.get(&(pair.a, pair.b)) {
            Some(known) if !worse_pair(&found, known) => {}
            Some(_) | None => {
                told.insert((pair.a, pair.b), found);
            }
        }
    }
    told.into_values()
        .filter_map(|it| Some((it.pair.a, finding(facts.get(it.pair.a)?, facts.get(it.pair.b)?, &it))))
        .collect()
}

fn worse_pair(one: &TooNear<'_>, other: &TooNear<'_>) -> bool {
    one.depends < other.depends || one.depends == other.depends && worse(&one.check, &other.check)
}

fn too_near<'a>(a: &Fact<'_>, b: &Fact<'_>, pair: &'a Neighbours) -> Option<TooNear<'a>> {
    let thick = thicker(a, b);
    let enough_mm = a.scene.rules.enough_mm(&thick.driven, None);
    // Of along and across any one is enough.
    if [pair.along_mm, pair.across_mm].iter().any(|it| at_least(it.abs(), enough_mm)) {
        return None;
    }
    let cases = pair_cases(a, pair);
    let asked = asks_of(a, b, pair, &cases);
    let unmet = asked.iter().map(|it| unmet(it));
    let (check, depends) = match cases {
        Cases::Given(_) => {
            let hardest = unmet.flatten().reduce(|x, y| if worse(y, x) { y } else { x });
            (hardest?, Depends::OnNothing)
        }
        Cases::Open(_) => by_any_load(unmet)?,
    };
    let other = asked
        .iter()
        .flatten()
        .filter(|it| it.topic != check.topic && it.force == check.force && fails(it))
        .reduce(|x, y| if shortfall(x) < shortfall(y) { y } else { x });
    Some(TooNear { pair, check: check.clone(), depends, other: other.cloned() })
}

/// What is asked of a pair in each case of the load.
pub(super) fn asks(a: &Fact<'_>, b: &Fact<'_>, pair: &Neighbours) -> Vec<Vec<Check>> {
    asks_of(a, b, pair, &pair_cases(a, pair))
}

/// The thicker of the two asks for more room.
fn thicker<'f, 'a>(a: &'f Fact<'a>, b: &'f Fact<'a>) -> &'f Fact<'a> {
    if a.fastener.spec.diameter_mm < b.fastener.spec.diameter_mm { b } else { a }
}

fn asks_of(a: &Fact<'_>, b: &Fact<'_>, pair: &Neighbours, cases: &Cases) -> Vec<Vec<Check>> {
    let thick = thicker(a, b);
    let Some(material) = a.scene.material(pair.body) else { return Vec::new() };
    let asked = |case: &Case| Pair {
        material,
        along_mm: pair.along_mm.abs(),
        across_mm: pair.across_mm.abs(),
        load_to_grain_deg: Some(case.to_grain_deg),
        thickness_mm: thick.bolt_thickness_mm,
        beside: thick.beside(pair.body),
        axial: case.axial,
    };
    let (Cases::Given(cases) | Cases::Open(cases)) = cases;
    cases.iter().map(|it| a.scene.rules.spacing(&thick.driven, &asked(it))).collect()
}

/// Of the answers of one force any one met is enough; else the one that misses by the least part.
pub(super) fn unmet(checks: &[Check]) -> Option<&Check> {
    [Force::Shall, Force::Should].into_iter().find_map(|force| {
        let of_force = || checks.iter().filter(|it| it.force == force);
        if of_force().any(|it| !fails(it)) {
            return None;
        }
        of_force().reduce(|a, b| if part(a) < part(b) { b } else { a })
    })
}

/// How much of the required distance is there.
fn part(check: &Check) -> f64 {
    match (check.measured, check.required) {
        (Quantity::Length(measured), Quantity::Length(required)) if 0.0 < required => measured / required,
        _ => 0.0,
    }
}

fn finding(a: &Fact<'_>, b: &Fact<'_>, near: &TooNear<'_>) -> Finding {
    let (unit, pair) = (a.unit(), near.pair);
    let way = |check: &Check| {
        let (_, asked) = words::both(check, unit);
        let way = if check.topic == Topic::RowSpacing { "across" } else { "along" };
        format!("{asked}{} {way} the grain", words::formula(check))
    };
    let asked = match &near.other {
        Some(other) => format!("{} or {}", way(&near.check), way(other)),
        None => way(&near.check),
    };
    let open = if near.depends == Depends::OnTheLoad { " under some loads, and none is given" } else { "" };
    let says = format!(
        "It is {} from {} along the grain of {} and {} across it; {asked} is asked for{open}.",
        words::measured(pair.along_mm.abs(), unit),
        b.called(),
        a.scene.the(pair.body),
        words::measured(pair.across_mm.abs(), unit),
    );
    let severity = if near.depends == Depends::OnTheLoad { Severity::Caution } else { severity(&near.check) };
    let subjects = vec![a.fastener.id.clone(), b.fastener.id.clone(), a.scene.id_of(pair.body)];
    let place = (nearest_place(a, pair) + nearest_place(b, pair)) * 0.5;
    Finding::drawn(Kind::Spacing, severity, subjects, says).by(&near.check, unit).at(place)
}

/// Where the shank comes into the common body.
fn nearest_place(fact: &Fact<'_>, pair: &Neighbours) -> crate::unit::Vec3 {
    let enters = fact.bearing_runs().find(|it| it.0 == pair.body).map_or(0.0, |it| it.1.from_mm);
    fact.at(enters)
}

pub(super) fn clash(scene: &Scene<'_>, facts: &[Fact<'_>]) -> Vec<(usize, Finding)> {
    let told = |clash: &Clash| {
        let (a, b) = (facts.get(clash.a)?, facts.get(clash.b)?);
        if a.fastener.existing && b.fastener.existing || a.stage == Stage::Lost || b.stage == Stage::Lost {
            return None;
        }
        let unit = scene.unit;
        let says = format!(
            "It runs into {}: the axes pass {} apart, and the shanks need {}.",
            b.called(),
            words::fine(clash.axes_apart_mm, unit),
            words::fine(clash.touch_mm, unit)
        );
        let subjects = vec![a.fastener.id.clone(), b.fastener.id.clone()];
        let working = [
            format!(
                "needed = {} / 2 + {} / 2 = {}",
                words::fine(a.fastener.spec.diameter_mm, unit),
                words::fine(b.fastener.spec.diameter_mm, unit),
                words::fine(clash.touch_mm, unit)
            ),
            format!("{} < {}", words::fine(clash.axes_apart_mm, unit), words::fine(clash.touch_mm, unit)),
        ];
        Some((
            clash.a,
            Finding::drawn(Kind::Clash, Severity::Fault, subjects, says)
                .lengths(clash.axes_apart_mm, clash.touch_mm)
                .worked(working)
                .at(clash.at),
        ))
    };
    scene.trace.clashes.iter().filter_map(told).collect()
}
