//! Bodies that take the same place.

use crate::findings::bite::capital;
use crate::findings::scene::Scene;
use crate::findings::{Finding, Kind, Severity, words};

pub(super) fn overlap(scene: &Scene<'_>) -> Vec<Finding> {
    scene
        .trace
        .overlaps
        .iter()
        .map(|it| {
            let (under, over) = (scene.the(it.under), scene.the(it.over));
            let says = format!(
                "{} and {under} take the same place: {} of the drawing, {} deep. Shanks there count as in {over}; \
                 until one gives way, distances and bites near there are not those of the built joint.",
                capital(&over),
                words::area(it.area_mm2, scene.unit),
                words::measured(it.depth_mm, scene.unit)
            );
            let mut subjects = vec![scene.id_of(it.over)];
            let other = scene.id_of(it.under);
            if subjects[0] != other {
                subjects.push(other);
            }
            let mut finding = Finding::drawn(Kind::Overlap, Severity::Fault, subjects, says).at(it.at);
            (finding.measured, finding.required, finding.unit) = (Some(it.area_mm2), Some(0.0), "mm2");
            finding
        })
        .collect()
}
