//! A shank that breaks out sideways, or runs along a face.

use crate::findings::scene::Fact;
use crate::findings::{Finding, Kind, Severity, words};
use crate::trace::BodyIx;
use crate::unit::compare;

/// The cover in the body, when it is less than the radius of the shank.
pub(super) fn breaks_out(fact: &Fact<'_>, body: BodyIx) -> Option<f64> {
    let radius = fact.fastener.spec.diameter_mm / 2.0;
    fact.cover_in(body).filter(|cover| !compare::at_least(*cover, radius))
}

/// Each body that bears and that the shank breaks out of sideways. Where the axis lies in a face,
/// that is told instead.
pub(super) fn cover(fact: &Fact<'_>) -> Vec<Finding> {
    let unit = fact.unit();
    let radius = fact.fastener.spec.diameter_mm / 2.0;
    fact.bearing_bodies()
        .into_iter()
        .filter(|body| !fact.along_face_in(*body))
        .filter_map(|body| Some((body, breaks_out(fact, body)?)))
        .map(|(body, cover)| {
            let the = fact.scene.the(body);
            let says = format!(
                "It breaks out of the side of {the}: the axis lies {} from the face, and the shank is {} to each side.",
                words::fine(cover, unit),
                words::fine(radius, unit)
            );
            let place = fact
                .bearing_runs()
                .filter(|it| it.0 == body)
                .reduce(|a, b| if b.1.cover_mm < a.1.cover_mm { b } else { a })
                .map_or(0.0, |it| f64::midpoint(it.1.from_mm, it.1.to_mm));
            fact.tell_of(Kind::BreaksOut, Severity::Fault, &[body], says)
                .lengths(cover, radius)
                .worked([
                    format!("radius = {} / 2 = {}", words::fine(2.0 * radius, unit), words::fine(radius, unit)),
                    format!("{} < {}", words::fine(cover, unit), words::fine(radius, unit)),
                ])
                .at(fact.at(place))
        })
        .collect()
}

/// Each body in whose face the axis lies.
pub(super) fn along_face(fact: &Fact<'_>) -> Vec<Finding> {
    let unit = fact.unit();
    fact.bearing_bodies()
        .into_iter()
        .filter_map(|body| {
            let runs = || fact.bearing_runs().filter(move |it| it.0 == body && it.1.along_a_face);
            let (first, length) = (runs().next()?, runs().map(|it| it.1.to_mm - it.1.from_mm).sum::<f64>());
            let says = format!(
                "For {} the axis lies in a face of {}: half the shank is outside it.",
                words::measured(length, unit),
                fact.scene.the(body)
            );
            Some(
                fact.tell_of(Kind::AlongFace, Severity::Fault, &[body], says)
                    .lengths(0.0, fact.fastener.spec.diameter_mm / 2.0)
                    .worked(["cover = 0".to_owned()])
                    .at(fact.at(f64::midpoint(first.1.from_mm, first.1.to_mm))),
            )
        })
        .collect()
}
