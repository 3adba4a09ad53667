//! Holes drilled in wood and masonry.

use crate::findings::scene::Fact;
use crate::findings::tell::{severity, worst};
use crate::findings::{Finding, Kind, words};
use crate::standard::{Check, Force, Quantity, Sense, Source, Step, Topic};
use crate::trace::{BodyIx, TOUCH_MM};

/// What is asked of the drilled hole in each body: a screw is asked in the body that must hold it, a bolt in
/// every body that it passes.
pub(super) fn asks(fact: &Fact<'_>) -> Vec<(BodyIx, Vec<Check>)> {
    let bodies = if fact.has_nut() {
        fact.bearing_bodies()
    } else {
        fact.shank.holding.iter().map(|it| it.body).collect()
    };
    let in_body = |body: BodyIx| {
        let material = fact.scene.material(body)?;
        let mut checks = fact.scene.ask(
            |it| it.hole(&fact.driven, material),
            || fact.scene.rules.practice().hole(&fact.driven, material),
        );
        for check in checks.iter_mut().filter(|it| it.topic == Topic::HoleDepth) {
            up_to_the_end(fact, check);
        }
        Some((body, checks))
    };
    bodies.into_iter().filter_map(in_body).chain(all_the_way(fact)).collect()
}

/// A hole can be no deeper than there is something to drill.
fn up_to_the_end(fact: &Fact<'_>, check: &mut Check) {
    let Some(holding) = fact.shank.holding.filter(|it| TOUCH_MM < it.point_out_mm) else { return };
    let end = right_through(fact, holding.leaves_at_mm);
    if end.value.value() < check.required.value() {
        check.required = end.value;
        check.working.push(end);
    }
}

/// The hole of a bolt goes through all that it clamps, or the bolt does not.
fn all_the_way(fact: &Fact<'_>) -> Option<(BodyIx, Vec<Check>)> {
    let (_, depth_mm) = fact.driven.hole_mm.filter(|_| fact.has_nut())?;
    let (body, last) = fact.bearing_runs().last()?;
    if fact.shank.length_mm <= last.to_mm + TOUCH_MM {
        return None;
    }
    let through = right_through(fact, last.to_mm);
    let check = Check {
        topic: Topic::HoleDepth,
        measured: Quantity::Length(depth_mm),
        required: through.value,
        sense: Sense::AtLeast,
        force: Force::Shall,
        source: Source::CommonPractice,
        working: vec![through],
    };
    Some((body, vec![check]))
}

/// How deep a hole goes that ends where the last piece does. Whether its depth is told from the washer or from the
/// wood under it is the same to a drill that comes out.
fn right_through(fact: &Fact<'_>, ends_mm: f64) -> Step {
    let washer = fact.fastener.head_washer.as_ref().map_or(0.0, |it| it.thickness_mm);
    let formula = "where the last piece ends, less the washer";
    Step { symbol: "h", formula, value: Quantity::Length(ends_mm - washer) }
}

/// The worst of each topic: lead hole, depth, bolt hole.
pub(super) fn drilling(fact: &Fact<'_>) -> Vec<Finding> {
    let mut told: Vec<(BodyIx, Check)> = Vec::new();
    for (body, checks) in asks(fact) {
        for topic in [Topic::LeadHole, Topic::HoleDepth, Topic::BoltHole] {
            let found = worst(checks.iter().filter(|it| it.topic == topic).cloned());
            let known = told.iter().any(|it| it.1.topic == topic);
            told.extend(found.filter(|_| !known).map(|it| (body, it)));
        }
    }
    told.iter().map(|(body, check)| finding(fact, *body, check)).collect()
}

fn finding(fact: &Fact<'_>, body: BodyIx, check: &Check) -> Finding {
    let unit = fact.unit();
    let is_depth = check.topic == Topic::HoleDepth;
    let (drawn, asked) = if is_depth { words::both(check, unit) } else { words::both_fine(check, unit) };
    let kind = match (check.topic, check.sense) {
        (Topic::HoleDepth, _) => Kind::HoleDepth,
        (Topic::BoltHole, Sense::AtMost) => Kind::OversizeHole,
        _ => Kind::LeadHole,
    };
    let the = fact.scene.the(body);
    let formula = words::formula(check);
    let none = fact.driven.hole_mm.is_none();
    let asked_for = match (check.required, check.sense) {
        (Quantity::Number(_), _) => "one is asked for".to_owned(),
        (_, Sense::AtLeast) => format!("{asked}{formula} or more is asked for"),
        (_, Sense::AtMost) => format!("{asked}{formula} is the most allowed"),
    };
    let says = match (kind, none) {
        (Kind::HoleDepth, true) => format!("No hole is drilled in {the}; a depth of {asked} is asked for."),
        (_, true) => format!("No hole is drilled in {the}; {asked_for}."),
        (Kind::HoleDepth, false) => format!("The hole is {drawn} deep from the head; {asked_for} in {the}."),
        (_, false) => format!("The hole in {the} is {drawn} wide; {asked_for}."),
    };
    let place = fact.bearing_runs().find(|it| it.0 == body).map_or(0.0, |it| it.1.from_mm);
    fact.tell_of(kind, severity(check), &[body], says).by(check, unit).at(fact.at(place))
}
