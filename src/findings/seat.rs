//! What the head sits on, and how far it was driven.

use crate::findings::bite::capital;
use crate::findings::scene::Fact;
use crate::findings::tell::{COMMON_PRACTICE, DRAWING};
use crate::findings::{Finding, Kind, Severity, words};
use crate::joint::{Placement, Seat};
use crate::stock::FastenerKind;
use crate::trace::{BodyIx, Seating, TOUCH_MM};
use crate::unit::compare;
use crate::unit::length::Rounding;

/// The slope, in degrees off square, from which a hexagon head or a nut bears on one edge only and
/// wants a tapered washer. Common practice.
pub(super) const SQUARE_WITHIN_DEG: f64 = 5.0;

/// A head that stands off by less is seated: washers and coats of paint vary by more. Common practice.
const SEATED_WITHIN_MM: f64 = 0.1;

/// The head of a nail or a screw is sunk too far when it takes this part of the piece under it.
/// Common practice.
const SUNK_TOO_FAR: f64 = 0.5;

pub(super) fn head(fact: &Fact<'_>) -> Vec<Finding> {
    let head = &fact.shank.head;
    let stands_off = head.stands_off_mm;
    let is_proud = matches!(fact.fastener.seat, Seat::Proud(_));
    if SEATED_WITHIN_MM < stands_off {
        return vec![if is_proud { proud(fact, stands_off) } else { floats(fact, stands_off) }];
    }
    if let Some(driven_on) = into_steel(fact) {
        return vec![driven_on.at(fact.shank.head_at)];
    }
    match head.on {
        Seating::Air if fact.kind() == FastenerKind::ThreadedRod || 0.0 < stands_off => Vec::new(),
        Seating::Air => {
            let says = "Nothing lies under the head: it bears on air.".to_owned();
            vec![fact.tell(Kind::HeadSeat, Severity::Fault, says).counts(0.0, 1.0).at(fact.shank.head_at)]
        }
        Seating::Filling(body) => {
            let says = format!("The head bears on {}, which gives.", fact.scene.the(body));
            vec![
                fact.tell_of(Kind::HeadSeat, Severity::Caution, &[body], says)
                    .counts(0.0, 1.0)
                    .at(fact.shank.head_at),
            ]
        }
        Seating::Steel(_) | Seating::Washer | Seating::Bearing(_) => {
            let through = pulls_through(fact);
            let slope = not_square(fact, head.angle_to_face_deg);
            let sunk = (TOUCH_MM < head.sunk_mm).then(|| overdriven(fact, head.sunk_mm));
            through.or(slope).into_iter().chain(sunk).map(|it| it.at(fact.shank.head_at)).collect()
        }
    }
}

fn proud(fact: &Fact<'_>, stands_off: f64) -> Finding {
    let says = format!("The head stands {} proud.", words::excess(stands_off, fact.unit()));
    fact.tell(Kind::Proud, Severity::Caution, says).lengths(stands_off, 0.0).at(fact.shank.head_at)
}

fn floats(fact: &Fact<'_>, stands_off: f64) -> Finding {
    let shown = words::excess(stands_off, fact.unit());
    let says = format!("The head bears on nothing: {shown} of air lies under it.");
    fact.tell(Kind::HeadSeat, Severity::Fault, says).lengths(stands_off, 0.0).at(fact.shank.head_at)
}

/// A head over a hole of a connector that was driven on past the steel.
fn into_steel(fact: &Fact<'_>) -> Option<Finding> {
    let (Placement::Fills { connector, .. }, Seat::Overdriven(by)) =
        (&fact.fastener.place, fact.fastener.seat)
    else {
        return None;
    };
    let connector = fact.scene.joint.connectors.iter().find(|it| it.id == *connector)?;
    let shown = words::excess(by, fact.unit());
    let name = connector.shown_name();
    let says = format!("The head is driven {shown} past the face of the {name}: it bends or cuts the steel.");
    Some(fact.tell(Kind::Overdriven, Severity::Fault, says).lengths(by, 0.0).from(COMMON_PRACTICE))
}

fn overdriven(fact: &Fact<'_>, sunk: f64) -> Finding {
    let unit = fact.unit();
    let shown = words::excess(sunk, unit);
    let finding = |severity, bodies: &[BodyIx], says: String| {
        fact.tell_of(Kind::Overdriven, severity, bodies, says).lengths(sunk, 0.0)
    };
    match fact.shank.head.on {
        Seating::Bearing(body) => {
            let thickness = sunk + fact.length_in(body);
            let the = fact.scene.the(body);
            if compare::at_least(sunk, SUNK_TOO_FAR * thickness) {
                let says =
                    format!("The head is sunk {shown} into {the}, half of it or more: it will pull through.");
                finding(Severity::Fault, &[body], says).from(COMMON_PRACTICE)
            } else {
                let says = format!("The head is sunk {shown} into {the}; flush is asked for.");
                finding(Severity::Caution, &[body], says).from(COMMON_PRACTICE)
            }
        }
        Seating::Steel(body) => {
            let says =
                format!("The head is drawn {shown} into {}, where it cannot go.", fact.scene.the(body));
            finding(Severity::Fault, &[body], says)
        }
        Seating::Washer | Seating::Filling(_) | Seating::Air => {
            finding(Severity::Caution, &[], format!("The head is sunk {shown}; flush is asked for."))
                .from(COMMON_PRACTICE)
        }
    }
}

/// A head that is no wider than the hole that it sits over.
fn pulls_through(fact: &Fact<'_>) -> Option<Finding> {
    let hole = fact.scene.hole(fact.shank.head.hole?)?;
    let head = fact.fastener.spec.head_mm;
    let washer = fact.fastener.head_washer.as_ref().map_or(0.0, |it| it.outer_mm);
    let wide = head.max(washer);
    if wide <= 0.0 || !compare::at_most(wide, hole.diameter_mm) {
        return None;
    }
    let unit = fact.unit();
    let says = format!(
        "The head, {} across, goes through hole {}, {} wide.",
        words::fine(wide, unit),
        hole.id,
        words::fine(hole.diameter_mm, unit)
    );
    Some(fact.tell(Kind::HeadSeat, Severity::Fault, says).lengths(wide, hole.diameter_mm).from(DRAWING))
}

/// A hexagon head that bears on one edge.
fn not_square(fact: &Fact<'_>, angle_deg: Option<f64>) -> Option<Finding> {
    let hexagon = matches!(fact.kind(), FastenerKind::LagScrew | FastenerKind::Bolt);
    let angle = angle_deg.filter(|it| hexagon && !compare::at_least(*it, 90.0 - SQUARE_WITHIN_DEG))?;
    let on = match fact.shank.head.on {
        Seating::Bearing(body) | Seating::Steel(body) | Seating::Filling(body) => fact.scene.the(body),
        Seating::Washer | Seating::Air => "the face".to_owned(),
    };
    let says = format!(
        "{} meets the head at {}, not square: the head bears on one edge.",
        capital(&on),
        words::angle(angle, Rounding::Down)
    );
    Some(
        fact.tell(Kind::HeadSeat, Severity::Caution, says)
            .angles(angle, 90.0 - SQUARE_WITHIN_DEG)
            .from(COMMON_PRACTICE),
    )
}
