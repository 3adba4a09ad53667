//! What is looked at when all is in place and before it is covered: seats, nuts, points, wood, finish.

use super::Told;
use crate::drawing::sheet::groups::{Content, body_name, numbers};
use crate::joint::{Finish, Seat};
use crate::stock::FastenerKind;
use crate::trace::Seating;
use crate::unit::length::{self, Rounding};

pub(super) fn all(content: &Content<'_>, points: Vec<String>) -> Vec<String> {
    let mut checks = seats(content);
    checks.extend(nuts(content));
    checks.extend(points);
    let joint = content.inputs.joint;
    if joint.members.iter().any(|it| it.material.family.is_wood()) {
        checks.push("no split or loose knot in the wood at any fastener".to_owned());
    }
    let coated: Vec<usize> = (0..joint.fasteners.len())
        .filter(|it| {
            let is_coated = |it: Finish| {
                matches!(
                    it,
                    Finish::Electroplated | Finish::HotDipGalvanized | Finish::MechanicallyGalvanized
                )
            };
            joint.fasteners.get(*it).is_some_and(|it| !it.existing && is_coated(it.finish))
        })
        .collect();
    if !coated.is_empty() {
        checks.push(format!("{}: coating whole where it was driven", numbers(&coated)));
    }
    let count = joint.fasteners.len();
    checks.push(format!("{count} {} in all", if count == 1 { "fastener" } else { "fasteners" }));
    checks
}

/// How the heads sit.
fn seats(content: &Content<'_>) -> Vec<String> {
    let inputs = content.inputs;
    let unit = inputs.joint.show_lengths_in;
    let mut told = Told::default();
    for (n, (fastener, shank)) in inputs.joint.fasteners.iter().zip(&inputs.trace.fasteners).enumerate() {
        let on = match shank.head.on {
            Seating::Washer => "its washer".to_owned(),
            Seating::Steel(it) | Seating::Bearing(it) | Seating::Filling(it) => body_name(inputs, it),
            Seating::Air => {
                told.add("head bears on nothing as drawn: look under it".to_owned(), n);
                continue;
            }
        };
        told.add(
            match fastener.seat {
                Seat::Flush => format!("head tight on {on}, not sunk"),
                Seat::Proud(by) => {
                    format!("head stands {} off {on}", length::format(by, unit, Rounding::Nearest))
                }
                Seat::Overdriven(by) => {
                    format!("head sunk into {on} by {}", length::format(by, unit, Rounding::Nearest))
                }
            },
            n,
        );
    }
    told.sentences()
}

fn nuts(content: &Content<'_>) -> Option<String> {
    let joint = content.inputs.joint;
    let has_nut =
        |it: &crate::joint::Fastener| matches!(it.spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
    let places: Vec<usize> =
        (0..joint.fasteners.len()).filter(|it| joint.fasteners.get(*it).is_some_and(has_nut)).collect();
    (!places.is_empty()).then(|| format!("{}: nut on and tight", numbers(&places)))
}
