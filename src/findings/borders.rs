//! End and edge distances at the shear planes.
//!
//! Each body tells at most one end and one edge for a fastener: the one that misses most. Where no
//! load is given, a distance that is too short however the shank pushes is told as its source has it;
//! one that is too short only for some direction of the load is a caution that says so.

use crate::findings::push::{Case, Cases, border_cases};
use crate::findings::scene::Fact;
use crate::findings::tell::{severity, worse, worst};
use crate::findings::{Finding, Kind, Severity, words};
use crate::standard::{Border, Check, Topic};
use crate::trace::{BodyIx, FaceDistances, Reach, ShearPlane};
use crate::unit::compare::at_least;

/// Whether a finding depends on a load that nobody gave.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Depends {
    /// It is so whatever the load.
    OnNothing,
    /// It is so only for some direction of the load.
    OnTheLoad,
}

/// One border that is too near.
struct TooNear<'a> {
    body: BodyIx,
    face: &'a FaceDistances,
    reach: &'a Reach,
    check: Check,
    depends: Depends,
}

pub(super) fn borders(fact: &Fact<'_>) -> Vec<Finding> {
    let mut told: Vec<TooNear<'_>> = Vec::new();
    for plane in &fact.shank.planes {
        for (body, face) in [(plane.side, &plane.in_side), (plane.main, &plane.in_main)] {
            let Some(face) = face.as_ref().filter(|_| !fact.already_out_of(body)) else { continue };
            for found in too_near(fact, plane, body, face) {
                keep_worst(&mut told, found);
            }
        }
    }
    told.iter().map(|it| finding(fact, it)).collect()
}

/// Of several findings on one body and topic the worst is kept, in the place of the first.
fn keep_worst<'a>(told: &mut Vec<TooNear<'a>>, found: TooNear<'a>) {
    let same = |it: &&mut TooNear<'a>| it.body == found.body && it.check.topic == found.check.topic;
    match told.iter_mut().find(same) {
        Some(old) if found.depends < old.depends => *old = found,
        Some(old) if found.depends == old.depends && worse(&found.check, &old.check) => *old = found,
        Some(_) => {}
        None => told.push(found),
    }
}

fn too_near<'a>(
    fact: &Fact<'_>,
    plane: &ShearPlane,
    body: BodyIx,
    face: &'a FaceDistances,
) -> Vec<TooNear<'a>> {
    let along = face.along.iter().map(|it| (!face.end_grain, it));
    let across = face.across.iter().map(|it| (false, it));
    let enough_mm = fact.scene.rules.enough_mm(&fact.driven, fact.scene.row_spacing(fact.ix, body));
    along
        .chain(across)
        .filter(|(_, reach)| !at_least(reach.mm, enough_mm))
        .filter_map(|(is_end, reach)| {
            let ask = |case: &Case| ask(fact, plane, body, (face, is_end, reach), case);
            let (check, depends) = match border_cases(fact, body, face, reach) {
                Cases::Given(cases) => (worst(cases.iter().flat_map(ask))?, Depends::OnNothing),
                Cases::Open(cases) => {
                    let worst_of_each: Vec<Option<Check>> = cases.iter().map(|it| worst(ask(it))).collect();
                    let (check, depends) = by_any_load(worst_of_each.iter().map(Option::as_ref))?;
                    (check.clone(), depends)
                }
            };
            Some(TooNear { body, face, reach, check, depends })
        })
        .collect()
}

/// Of the worst that fails in each case of the load: what fails in every case is told as such by its
/// mildest requirement; what fails in some is open.
pub(super) fn by_any_load<'c>(
    worst_of_each: impl Iterator<Item = Option<&'c Check>> + Clone,
) -> Option<(&'c Check, Depends)> {
    let failed = worst_of_each.clone().flatten();
    if worst_of_each.clone().all(|it| it.is_some()) {
        let mildest = failed.reduce(|a, b| if worse(a, b) { b } else { a });
        return mildest.map(|it| (it, Depends::OnNothing));
    }
    failed.reduce(|a, b| if worse(b, a) { b } else { a }).map(|it| (it, Depends::OnTheLoad))
}

/// What is asked of one border in each case of the load.
pub(super) fn asks(
    fact: &Fact<'_>,
    plane: &ShearPlane,
    body: BodyIx,
    (face, is_end, reach): (&FaceDistances, bool, &Reach),
) -> Vec<Vec<Check>> {
    let (Cases::Given(cases) | Cases::Open(cases)) = border_cases(fact, body, face, reach);
    cases.iter().map(|case| ask(fact, plane, body, (face, is_end, reach), case)).collect()
}

fn ask(
    fact: &Fact<'_>,
    plane: &ShearPlane,
    body: BodyIx,
    (face, is_end, reach): (&FaceDistances, bool, &Reach),
    case: &Case,
) -> Vec<Check> {
    let Some(material) = fact.scene.material(body) else { return Vec::new() };
    let beside = if body == plane.side { plane.main } else { plane.side };
    let border = Border {
        material,
        is_end,
        distance_mm: reach.mm,
        loaded: Some(case.loaded),
        load_to_grain_deg: Some(case.to_grain_deg),
        thickness_mm: fact.bolt_thickness_mm,
        end_grain: face.end_grain,
        beside: fact.scene.material(beside).map(|it| it.family),
        row_spacing_mm: fact.scene.row_spacing(fact.ix, body),
        axial: case.axial,
    };
    fact.scene.rules.border(&fact.driven, &border)
}

fn finding(fact: &Fact<'_>, near: &TooNear<'_>) -> Finding {
    let unit = fact.unit();
    let (kind, border) = match near.check.topic {
        Topic::EndDistance => (Kind::EndDistance, "end"),
        Topic::Penetration
        | Topic::SidePenetration
        | Topic::NailAngle
        | Topic::NailStart
        | Topic::EdgeDistance
        | Topic::Spacing
        | Topic::RowSpacing
        | Topic::LeadHole
        | Topic::HoleDepth
        | Topic::BoltHole
        | Topic::Washer
        | Topic::EndGrain
        | Topic::Finish
        | Topic::Kind => (Kind::EdgeDistance, "edge"),
    };
    let (drawn, asked) = words::both(&near.check, unit);
    let (side, the) = (words::side(near.reach.toward), fact.scene.the(near.body));
    let formula = words::formula(&near.check);
    let severity = if near.depends == Depends::OnTheLoad { Severity::Caution } else { severity(&near.check) };
    let says = if near.depends == Depends::OnTheLoad {
        format!(
            "The shank lies {drawn} from the {side} {border} of {the}. No load is given: \
             should it be pushed that way, {asked}{formula} is asked for."
        )
    } else {
        format!("The shank lies {drawn} from the {side} {border} of {the}; {asked}{formula} is asked for.")
    };
    fact.tell_of(kind, severity, &[near.body], says).by(&near.check, unit).at(near.face.at)
}
