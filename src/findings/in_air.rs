//! A shank that is nowhere in wood, or fills a hole that is not there.

use crate::findings::scene::{Fact, Stage, hole_is_missing};
use crate::findings::{Finding, Kind, Severity, words};
use crate::joint::Placement;
use crate::trace::What;

pub(super) fn no_such_hole(fact: &Fact<'_>) -> Vec<Finding> {
    let Placement::Fills { connector, hole, .. } = &fact.fastener.place else { return Vec::new() };
    if !hole_is_missing(fact.scene.joint, fact.fastener) {
        return Vec::new();
    }
    let says = format!("It is to fill hole {hole} of connector {connector}, which the joint does not have.");
    vec![fact.tell(Kind::NoSuchHole, Severity::Fault, says)]
}

pub(super) fn in_air(fact: &Fact<'_>) -> Vec<Finding> {
    if fact.stage != Stage::InAir {
        return Vec::new();
    }
    let unit = fact.unit();
    let length = words::measured(fact.shank.length_mm, unit);
    let in_air: f64 = fact
        .shank
        .core
        .iter()
        .filter(|it| matches!(it.what, What::Air | What::Gap))
        .map(|it| it.to_mm - it.from_mm)
        .sum();
    let says = format!("None of its {length} is in wood or other bearing material; it holds nothing.");
    vec![
        fact.tell(Kind::InAir, Severity::Fault, says)
            .at(fact.at(fact.shank.length_mm / 2.0))
            .worked([format!("{} of the shank is in air", words::fine(in_air, unit))])
            .bite_none(),
    ]
}

impl Finding {
    /// A bite of nothing where some is wanted; how much is a matter of the standard, so no number is asked for.
    fn bite_none(mut self) -> Self {
        (self.measured, self.unit) = (Some(0.0), "mm");
        self
    }
}
