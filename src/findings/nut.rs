//! The nut of a bolt or a rod.

use crate::findings::scene::Fact;
use crate::findings::seat::SQUARE_WITHIN_DEG;
use crate::findings::tell::{COMMON_PRACTICE, DRAWING};
use crate::findings::{Finding, Kind, Severity, words};
use crate::trace::{Nut, Seating};
use crate::unit::compare;
use crate::unit::length::Rounding;

/// Length, seat and squareness at the nut. Too short is told first; then there is no seat to judge.
pub(super) fn nut(fact: &Fact<'_>) -> Vec<Finding> {
    if !fact.has_nut() {
        return Vec::new();
    }
    let Some(nut) = fact.shank.nut else { return Vec::new() };
    if let Some(short) = too_short(fact, &nut) {
        return vec![short];
    }
    [seat(fact, &nut), not_square(fact, &nut), beyond_thread(fact, &nut)]
        .into_iter()
        .flatten()
        .map(|it| it.at(fact.at(fact.shank.length_mm - nut.projects_mm)))
        .collect()
}

fn washer_mm(fact: &Fact<'_>) -> f64 {
    fact.fastener.nut_washer.as_ref().map_or(0.0, |it| it.thickness_mm)
}

fn too_short(fact: &Fact<'_>, nut: &Nut) -> Option<Finding> {
    let unit = fact.unit();
    let height = fact.fastener.spec.nut.map_or(0.0, |it| it.height_mm);
    let (washer, projects) = (washer_mm(fact), nut.projects_mm.max(0.0));
    let needed = washer + height;
    if compare::at_least(projects, needed) {
        return None;
    }
    let for_what = if 0.0 < washer { "washer and nut need" } else { "the nut needs" };
    let says = format!(
        "{} stands out for the nut; {for_what} {}.",
        words::measured(projects, unit),
        words::required(needed, unit)
    );
    Some(
        fact.tell(Kind::BoltShort, Severity::Fault, says)
            .lengths(projects, needed)
            .worked([
                format!(
                    "needed = washer {} + nut {} = {}",
                    words::fine(washer, unit),
                    words::fine(height, unit),
                    words::fine(needed, unit)
                ),
                format!("{} < {}", words::fine(projects, unit), words::fine(needed, unit)),
            ])
            .from(DRAWING)
            .at(fact.at(fact.shank.length_mm)),
    )
}

fn seat(fact: &Fact<'_>, nut: &Nut) -> Option<Finding> {
    match nut.on {
        Seating::Air => {
            let says = "Nothing lies under the nut: it bears on air.".to_owned();
            Some(fact.tell(Kind::NutSeat, Severity::Fault, says).counts(0.0, 1.0))
        }
        Seating::Filling(body) => {
            let says = format!("The nut bears on {}, which gives.", fact.scene.the(body));
            Some(fact.tell_of(Kind::NutSeat, Severity::Fault, &[body], says).counts(0.0, 1.0))
        }
        // A nut on bare wood is told once, as the washer that is missing.
        Seating::Bearing(_) | Seating::Washer | Seating::Steel(_) => None,
    }
}

fn not_square(fact: &Fact<'_>, nut: &Nut) -> Option<Finding> {
    let least = 90.0 - SQUARE_WITHIN_DEG;
    let angle = nut.angle_to_face_deg.filter(|it| !compare::at_least(*it, least))?;
    let says = format!(
        "The nut meets its face at {}, not square: it bears on one edge.",
        words::angle(angle, Rounding::Down)
    );
    Some(fact.tell(Kind::NutSeat, Severity::Caution, says).angles(angle, least).from(COMMON_PRACTICE))
}

/// A nut that would have to go farther up the shank than the thread does.
fn beyond_thread(fact: &Fact<'_>, nut: &Nut) -> Option<Finding> {
    let unit = fact.unit();
    let thread = fact.fastener.spec.thread_mm?;
    let wanted = nut.projects_mm - washer_mm(fact);
    if compare::at_least(thread, wanted) {
        return None;
    }
    let says = format!(
        "The thread is {} long; to come down on its seat the nut needs {}.",
        words::measured(thread, unit),
        words::required(wanted, unit)
    );
    Some(fact.tell(Kind::NutSeat, Severity::Fault, says).lengths(thread, wanted).from(DRAWING))
}
