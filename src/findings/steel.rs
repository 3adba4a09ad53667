//! A shank that crosses steel where there is no hole.

use crate::findings::scene::Fact;
use crate::findings::{Finding, Kind, Severity, words};
use crate::trace::{BodyIx, What};

/// Each plate, once.
pub(super) fn through_steel(fact: &Fact<'_>) -> Vec<Finding> {
    let mut told: Vec<BodyIx> = Vec::new();
    let mut findings = Vec::new();
    for run in fact.shank.core.iter().filter(|it| it.what == What::Steel && it.hole.is_none()) {
        let Some(body) = run.body.filter(|it| !told.contains(it)) else { continue };
        told.push(body);
        let length = run.to_mm - run.from_mm;
        let says = format!(
            "It goes through {} of steel of {} where there is no hole.",
            words::fine(length, fact.unit()),
            fact.scene.the(body)
        );
        findings.push(
            fact.tell_of(Kind::ThroughSteel, Severity::Fault, &[body], says)
                .lengths(length, 0.0)
                .at(fact.at(f64::midpoint(run.from_mm, run.to_mm))),
        );
    }
    findings
}
