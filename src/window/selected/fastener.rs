//! A fastener's numbers: where it is, what holds it, how far it is from borders and neighbours.

use iced::widget::row;

use super::field::{FastenerField, Field};
use super::rows::{Rows, field, head, id_field, measure, press, rows, tick, value};
use super::{Message, Pane};
use crate::drawing::Subject;
use crate::findings::Measure;
use crate::joint::edit::Change;
use crate::joint::{Edit, Fastener, Finish, Placement, Seat};
use crate::trace::{BodyIx, Owner, Seating, Shank};
use crate::window::look::{Command, Look};
use crate::window::theme::{Element, gap, parts};
use crate::window::top::Named;
use crate::window::words;

/// Every finish by its name.
pub(in crate::window) const FINISHES: [Named<Finish>; 7] = [
    Named { it: Finish::Bright, name: "bright" },
    Named { it: Finish::Electroplated, name: "electroplated zinc" },
    Named { it: Finish::HotDipGalvanized, name: "hot-dip galvanized" },
    Named { it: Finish::MechanicallyGalvanized, name: "mechanically galvanized" },
    Named { it: Finish::Stainless, name: "stainless" },
    Named { it: Finish::SiliconBronze, name: "silicon bronze" },
    Named { it: Finish::Copper, name: "copper" },
];

/// What a seat that is newly picked stands off or is sunk by.
const SEAT_MM: f64 = 1.0;

/// Every way a head sits, by its name.
pub(in crate::window) const SEATS: [Named<Seat>; 3] = [
    Named { it: Seat::Flush, name: "flush" },
    Named { it: Seat::Proud(SEAT_MM), name: "proud" },
    Named { it: Seat::Overdriven(SEAT_MM), name: "overdriven" },
];

pub(super) fn view<'a>(pane: &'a Pane, look: &Look<'a>) -> Element<'a, Message> {
    let Some(n) = look.chosen_fastener() else { return rows().into() };
    let (of, shank) = (&look.joint.fasteners[n], look.trace.fasteners.get(n));
    let colours = look.colours;
    let mut list = rows().push(value("Fastener", words::fastener(&of.spec, look.unit()), colours));
    list = list.push(id_field(pane, Subject::Fastener(of.id.clone()), look));
    list = placement(list, pane, of, look);
    if let Some(shank) = shank {
        list = traced(list, pane.measures.as_ref().map_or(&[], |it| it.2.as_slice()), shank, look);
    }
    list = making(list, pane, n, look);
    list = list.push(
        row![
            press("Duplicate", Command::Duplicate, colours),
            press("Shorter", Command::NextSize(false), colours),
            press("Longer", Command::NextSize(true), colours),
            press("Take away", Command::Delete, colours),
        ]
        .spacing(gap::TIGHT),
    );
    list.into()
}

fn placement<'a>(mut list: Rows<'a>, pane: &Pane, of: &Fastener, look: &Look<'a>) -> Rows<'a> {
    let it = |which| Field::Fastener(of.id.clone(), which);
    match &of.place {
        Placement::Free { toward, .. } => {
            for which in [FastenerField::HeadX, FastenerField::HeadY, FastenerField::HeadZ] {
                list = list.push(field(pane, it(which), look));
            }
            // One seen head on has no direction in the drawing plane that could be typed.
            list = if toward.x.hypot(toward.y) == 0.0 {
                list.push(value("Direction", "along the depth".into(), look.colours))
            } else {
                list.push(field(pane, it(FastenerField::Direction), look))
            };
            list = list.push(field(pane, it(FastenerField::Lean), look));
        }
        Placement::Fills { connector, hole, .. } => {
            list = list
                .push(value("Fills hole", format!("{connector}/{hole}; it turns but stays"), look.colours))
                .push(field(pane, it(FastenerField::Tilt), look));
        }
    }
    list
}

/// Each measure with what is asked of it, then what else the trace says.
fn traced<'a>(mut list: Rows<'a>, measures: &'a [Measure], shank: &Shank, look: &Look<'a>) -> Rows<'a> {
    let (unit, colours) = (look.unit(), look.colours);
    if measures.is_empty() {
        let held = shank.holding.map_or("nothing holds it".to_owned(), |it| name_of(it.body, look));
        list = list.push(value("Held by", held, colours));
    } else {
        list = list.push(head("Measures, and what is asked of them", colours));
    }
    for it in measures {
        list = list.push(measure(it, colours));
    }
    if let Some(holding) = shank.holding {
        let square = words::measured(holding.bite_square_mm, unit);
        if square != words::measured(holding.bite_mm, unit) {
            list = list.push(value("Bite, square", square, colours));
        }
        if let Some(angle) = holding.angle_to_face_deg {
            list = list.push(value("Angle to face", words::degrees(angle), colours));
        }
        if 0.0 < holding.point_out_mm {
            list = list.push(value("Point out", words::measured(holding.point_out_mm, unit), colours));
        }
    }
    list.push(value("Head on", seating(shank.head.on, look), colours))
}

fn name_of(body: BodyIx, look: &Look<'_>) -> String {
    let name = match look.trace.bodies.get(body.0).map(|it| it.owner) {
        Some(Owner::Member(at)) => look.joint.members.get(at).map(crate::joint::Member::shown_name),
        Some(Owner::Plate { connector, .. }) => {
            look.joint.connectors.get(connector).map(crate::joint::Connector::shown_name)
        }
        None => None,
    };
    name.unwrap_or("a body").to_owned()
}

fn seating(on: Seating, look: &Look<'_>) -> String {
    match on {
        Seating::Washer => "a washer".into(),
        Seating::Steel(body) | Seating::Bearing(body) | Seating::Filling(body) => name_of(body, look),
        Seating::Air => "nothing".into(),
    }
}

fn making<'a>(mut list: Rows<'a>, pane: &Pane, n: usize, look: &Look<'a>) -> Rows<'a> {
    let colours = look.colours;
    let of = &look.joint.fasteners[n];
    let with = move |new: Fastener| Edit::Fasteners(Change::Replace { at: n, new: Box::new(new) });
    let it = |which| Field::Fastener(of.id.clone(), which);
    list = list.push(head("How it is made and driven", colours));
    let finish = FINISHES.iter().find(|it| it.it == of.finish).copied();
    let old = of.clone();
    let picked = move |it: Named<Finish>| {
        Message::Picked(format!("Finish {it}"), with(Fastener { finish: it.it, ..old.clone() }))
    };
    list = list.push(parts::pick("Finish", FINISHES.to_vec(), finish, picked, colours));
    let seat =
        SEATS.iter().find(|it| std::mem::discriminant(&it.it) == std::mem::discriminant(&of.seat)).copied();
    let old = of.clone();
    let picked = move |it: Named<Seat>| {
        Message::Picked(format!("Head {it}"), with(Fastener { seat: it.it, ..old.clone() }))
    };
    list = list.push(parts::pick("Head", SEATS.to_vec(), seat, picked, colours));
    if of.seat != Seat::Flush {
        list = list.push(field(pane, it(FastenerField::SeatBy), look));
    }
    list = list.push(field(pane, it(FastenerField::LeadDiameter), look)).push(field(
        pane,
        it(FastenerField::LeadDepth),
        look,
    ));
    let washer = look.stock.washer_for(of.spec.diameter_mm).cloned().map(std::sync::Arc::new);
    if washer.is_some() || of.head_washer.is_some() || of.nut_washer.is_some() {
        let at_head = if of.head_washer.is_some() { None } else { washer.clone() };
        let edit = with(Fastener { head_washer: at_head, ..of.clone() });
        list = list.push(tick(
            "Washer under the head",
            of.head_washer.is_some(),
            "Washer under the head",
            edit,
            colours,
        ));
        if of.spec.nut.is_some() {
            let at_nut = if of.nut_washer.is_some() { None } else { washer };
            let edit = with(Fastener { nut_washer: at_nut, ..of.clone() });
            list = list.push(tick(
                "Washer under the nut",
                of.nut_washer.is_some(),
                "Washer under the nut",
                edit,
                colours,
            ));
        }
    }
    let edit = with(Fastener { existing: !of.existing, ..of.clone() });
    list.push(tick("It was there before", of.existing, "Existing or new", edit, colours))
}
