//! A shank that misses what it should hold.

use crate::findings::scene::{Fact, Stage};
use crate::findings::{Finding, Kind, Severity, words};
use crate::trace::{BodyIx, Run, What};

pub(super) fn shiner(fact: &Fact<'_>) -> Vec<Finding> {
    let Some((first, last_run)) = (fact.stage == Stage::Shiner).then(|| first_body(fact)).flatten() else {
        return Vec::new();
    };
    let unit = fact.unit();
    let beyond = fact.shank.length_mm - last_run.to_mm;
    let the = fact.scene.the(first);
    let says = if 0.0 < beyond {
        format!("It meets no member after {the}: its last {} holds nothing.", words::measured(beyond, unit))
    } else {
        format!("It ends in {the} and meets no other member: it joins nothing.")
    };
    let mut finding = fact
        .tell_of(Kind::Shiner, Severity::Fault, &[first], says)
        .worked([format!(
            "{} of {} is in {the}",
            words::fine(fact.length_in(first), unit),
            words::fine(fact.shank.length_mm, unit)
        )])
        .at(fact.at(f64::midpoint(last_run.to_mm, fact.shank.length_mm)));
    // The bite in a body after the first is nothing.
    (finding.measured, finding.unit) = (Some(0.0), "mm");
    vec![finding]
}

/// The one body that it bears in, and its last run there.
fn first_body<'a>(fact: &Fact<'a>) -> Option<(BodyIx, &'a Run)> {
    let last = fact.shank.core.iter().rev().find(|it| it.what == What::Bearing)?;
    Some((last.body?, last))
}
