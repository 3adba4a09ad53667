//! What lies between the pieces on the way: air, or a filling.

use crate::findings::scene::{Fact, Stage};
use crate::findings::{Finding, Kind, Severity, words};
use crate::trace::{BodyIx, Run, What};

/// Each gap, with its width along the shank. A gap is a caution of itself: it bends the shank and costs
/// capacity. Where it makes the bite too short, that is a finding of its own.
pub(super) fn gap(fact: &Fact<'_>) -> Vec<Finding> {
    let core = &fact.shank.core;
    (0..core.len())
        .filter(|at| core[*at].what == What::Gap)
        .map(|at| {
            let (run, unit) = (&core[at], fact.unit());
            let width = run.to_mm - run.from_mm;
            let (before, after) = (solid(core[..at].iter().rev()), solid(core[at + 1..].iter()));
            let bodies: Vec<BodyIx> = [before, after].into_iter().flatten().collect();
            let shown = words::excess(width, unit);
            let lies = match (before, after) {
                (Some(a), Some(b)) if a == b => {
                    format!("A gap of {shown} lies in a notch or hole of {}.", fact.scene.the(a))
                }
                (Some(a), Some(b)) => {
                    format!("A gap of {shown} lies between {} and {}.", fact.scene.the(a), fact.scene.the(b))
                }
                (Some(a), None) | (None, Some(a)) => {
                    format!("A gap of {shown} lies against {}.", fact.scene.the(a))
                }
                (None, None) => format!("A gap of {shown} lies on the way."),
            };
            fact.tell_of(Kind::Gap, Severity::Caution, &bodies, lies)
                .lengths(width, 0.0)
                .worked([from_to(fact, run)])
                .at(fact.at(f64::midpoint(run.from_mm, run.to_mm)))
        })
        .collect()
}

/// Each filling. Between two pieces it is a caution, for it gives under load; before the first or
/// after the last it is a note.
pub(super) fn filling(fact: &Fact<'_>) -> Vec<Finding> {
    let core = &fact.shank.core;
    (0..core.len())
        .filter(|at| core[*at].what == What::Filling)
        .filter_map(|at| {
            let (run, unit) = (&core[at], fact.unit());
            let body = run.body?;
            let holds = |it: &Run| matches!(it.what, What::Bearing | What::Steel) && it.body.is_some();
            let between = core[..at].iter().any(holds) && core[at + 1..].iter().any(holds);
            let length = run.to_mm - run.from_mm;
            let (shown, the) = (words::measured(length, unit), fact.scene.the(body));
            let (severity, says) = if between {
                (Severity::Caution, format!("{shown} of {the} lies between the pieces; it is no bite."))
            } else {
                (Severity::Note, format!("{shown} of the shank is in {the}; it is no bite."))
            };
            Some(
                fact.tell_of(Kind::Filling, severity, &[body], says)
                    .lengths(length, 0.0)
                    .worked([from_to(fact, run)])
                    .at(fact.at(f64::midpoint(run.from_mm, run.to_mm))),
            )
        })
        .filter(|_| Stage::InAir < fact.stage)
        .collect()
}

fn solid<'a>(mut runs: impl Iterator<Item = &'a Run>) -> Option<BodyIx> {
    runs.find_map(|it| it.body)
}

/// Where a run lies on the shank.
pub(super) fn from_to(fact: &Fact<'_>, run: &Run) -> String {
    let unit = fact.unit();
    format!("from {} to {} below the head", words::fine(run.from_mm, unit), words::fine(run.to_mm, unit))
}
