//! Points: where nobody can look once all is in place, this is settled before anything is driven.

use std::sync::Arc;

use super::Told;
use crate::drawing::sheet::groups::{Content, body_name};
use crate::joint::Fastener;
use crate::stock::FastenerKind;
use crate::trace::{self, Bodies, Holding, Run, Shank, What};
use crate::unit::length::{self, Rounding};

/// A point that stands out less than this does not show.
const SHOWS_MM: f64 = 0.5;

/// Into a space behind a member that is no wider than this, or whose far side is no farther off, nobody can look.
const HIDDEN_WITHIN_MM: f64 = 75.0;

/// What is to be verified of points, before work and when all is in place.
pub(super) struct Points {
    pub(super) before: Vec<String>,
    pub(super) after: Vec<String>,
}

/// Nothing in air, with the place to look.
pub(super) fn all(content: &Content<'_>) -> Points {
    let inputs = content.inputs;
    let (mut before, mut after) = (Told::default(), Told::default());
    let bodies = Bodies::of(inputs.joint);
    for (n, (fastener, shank)) in inputs.joint.fasteners.iter().zip(&inputs.trace.fasteners).enumerate() {
        // A bolt is meant to come out; so is nothing else.
        let is_bolt = matches!(fastener.spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
        if shank.length_mm <= 0.0 || is_bolt {
            continue;
        }
        let Some(holding) = shank.holding else {
            let words = "no wood holds it as drawn: look for its point and settle what is to be done";
            after.add(words.to_owned(), n);
            continue;
        };
        match behind(&bodies, fastener, shank, &holding) {
            Some(it) => before.add(hidden(content, &holding, it), n),
            None => after.add(seen(content, &holding), n),
        }
    }
    Points { before: before.sentences(), after: after.sentences() }
}

/// A point that can be looked for behind what holds it.
fn seen(content: &Content<'_>, holding: &Holding) -> String {
    let body = body_name(content.inputs, holding.body);
    if holding.point_out_mm < SHOWS_MM {
        return format!("look behind {body}: no point shows");
    }
    let out = length::at_least(holding.point_out_mm, content.inputs.joint.show_lengths_in);
    format!("look behind {body}: the point shows by {out} as drawn; settle whether it may")
}

/// One that something behind hides.
fn hidden(content: &Content<'_>, holding: &Holding, it: Behind) -> String {
    let (inputs, unit) = (content.inputs, content.inputs.joint.show_lengths_in);
    let body = body_name(inputs, holding.body);
    let hides = body_name(inputs, it.body);
    if holding.point_out_mm < SHOWS_MM {
        return format!(
            "{hides} hides its point behind {body}: hold its length against what it goes through"
        );
    }
    let out = length::at_least(holding.point_out_mm, unit);
    let room = length::format(it.gap_mm, unit, Rounding::Down);
    format!(
        "its point ends between {body} and {hides}, {out} into {room} as drawn, where nobody can look: settle whether it may"
    )
}

/// What lies behind the body that holds a shank, and how far off.
struct Behind {
    body: trace::BodyIx,
    gap_mm: f64,
}

/// What hides the point: the next thing that a longer shank would meet.
fn behind(bodies: &Bodies, fastener: &Fastener, shank: &Shank, holding: &Holding) -> Option<Behind> {
    let mut spec = (*fastener.spec).clone();
    // A longer shank must come out of the body that holds it and go on from there.
    spec.length_mm += HIDDEN_WITHIN_MM + through_mm(bodies, shank, holding);
    let longer = Fastener { spec: Arc::new(spec), ..fastener.clone() };
    let core = trace::shank(bodies, &longer).core;
    let is_holder = |it: &Run| it.body == Some(holding.body);
    let last = core.iter().position(|it| is_holder(it) && holding.enters_at_mm - 1e-6 <= it.from_mm)?;
    let out_at = core.get(last)?.to_mm;
    let next = core[last + 1..].iter().find(|it| it.body.is_some())?;
    let is_thing = matches!(next.what, What::Bearing | What::Filling | What::Steel) && !is_holder(next);
    let gap_mm = next.from_mm - out_at;
    is_thing.then_some(Behind { body: next.body?, gap_mm }).filter(|it| it.gap_mm <= HIDDEN_WITHIN_MM)
}

/// A length by which a shank surely comes out of the body that holds it.
fn through_mm(bodies: &Bodies, shank: &Shank, holding: &Holding) -> f64 {
    let Some(body) = bodies.list.get(holding.body.0) else { return 0.0 };
    let at = body.region.bounds();
    let deep = body.near_mm - body.far_mm;
    let corner = at.width().hypot(at.height()).hypot(deep);
    if shank.length_mm.is_finite() && corner.is_finite() { corner } else { 0.0 }
}
