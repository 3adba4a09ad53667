//! Washers under heads and nuts.

use crate::findings::scene::Fact;
use crate::findings::tell::{severity, worst};
use crate::findings::{Finding, Kind, words};
use crate::standard::{Check, Quantity, Under};
use crate::stock::{FastenerKind, WasherSpec};
use crate::trace::{BodyIx, Seating};
use crate::unit::Vec3;

/// One end of a fastener at which a washer may lie.
struct End<'a> {
    name: &'static str,
    washer: Option<&'a WasherSpec>,
    on: BodyIx,
    at: Vec3,
}

/// The worst at each end.
pub(super) fn washers(fact: &Fact<'_>) -> Vec<Finding> {
    ends(fact)
        .into_iter()
        .filter_map(|end| {
            let check = worst(asks_of(fact, &end))?;
            Some(finding(fact, &end, &check))
        })
        .collect()
}

/// What is asked at each end, by its name, and whether a washer lies there.
pub(super) fn asks(fact: &Fact<'_>) -> Vec<(&'static str, bool, Vec<Check>)> {
    ends(fact).into_iter().map(|end| (end.name, end.washer.is_some(), asks_of(fact, &end))).collect()
}

/// The ends that are asked for a washer: a lag screw, a bolt and a rod have them; a nail and a wood screw
/// hold by their own head.
fn ends<'a>(fact: &Fact<'a>) -> Vec<End<'a>> {
    if matches!(fact.kind(), FastenerKind::Nail | FastenerKind::WoodScrew) {
        return Vec::new();
    }
    [head_end(fact), nut_end(fact)].into_iter().flatten().collect()
}

fn asks_of(fact: &Fact<'_>, end: &End<'_>) -> Vec<Check> {
    let Some(material) = fact.scene.material(end.on) else { return Vec::new() };
    let washer_mm = end.washer.map(|it| (it.outer_mm, it.thickness_mm));
    let under = Under { material, washer_mm };
    fact.scene.ask(
        |it| it.washer(&fact.driven, &under),
        || fact.scene.rules.practice().washer(&fact.driven, &under),
    )
}

fn head_end<'a>(fact: &Fact<'a>) -> Option<End<'a>> {
    let on = match fact.shank.head.on {
        Seating::Bearing(body) | Seating::Steel(body) | Seating::Filling(body) => body,
        Seating::Washer => fact.shank.core.iter().find_map(|it| it.body)?,
        Seating::Air => return None,
    };
    let washer = fact.fastener.head_washer.as_deref();
    Some(End { name: "head", washer, on, at: fact.shank.head_at })
}

fn nut_end<'a>(fact: &Fact<'a>) -> Option<End<'a>> {
    let nut = fact.shank.nut?;
    let on = match nut.on {
        Seating::Bearing(body) | Seating::Steel(body) | Seating::Filling(body) => body,
        Seating::Washer => fact.shank.core.iter().rev().find_map(|it| it.body)?,
        Seating::Air => return None,
    };
    let at = fact.at(fact.shank.length_mm - nut.projects_mm);
    Some(End { name: "nut", washer: fact.fastener.nut_washer.as_deref(), on, at })
}

fn finding(fact: &Fact<'_>, end: &End<'_>, check: &Check) -> Finding {
    let unit = fact.unit();
    let the = fact.scene.the(end.on);
    let says = match (end.washer, check.required) {
        (None, Quantity::Length(least)) => format!(
            "No washer lies under the {} on {the}; one of {} is asked for.",
            end.name,
            words::required(least, unit)
        ),
        (None, _) => format!("No washer lies under the {} on {the}; one is asked for.", end.name),
        (Some(_), _) => {
            let (drawn, asked) = words::both(check, unit);
            let least = check.working.last().map_or("", |it| it.symbol);
            let what = if least.starts_with('t') { "thick" } else { "across" };
            format!("The washer under the {} is {drawn} {what}; {asked} is asked for.", end.name)
        }
    };
    fact.tell_of(Kind::Washer, severity(check), &[end.on], says).by(check, unit).at(end.at)
}
