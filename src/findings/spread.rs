//! Rows too far apart across the grain: steel or wood of another grain holds the outer rows where they
//! are while the wood between them shrinks, and it splits.

use std::collections::BTreeMap;

use crate::findings::scene::{Fact, Scene, Stage};
use crate::findings::tell::{fails, severity};
use crate::findings::{Finding, Kind, words};
use crate::standard::{Check, Pair};
use crate::trace::{BodyIx, FaceDistances, Stuff};
use crate::unit::Vec3;

/// Grains that differ by less shrink together. Common practice.
const SAME_GRAIN: f64 = 0.985;

/// Where one fastener crosses a face of a body on its way into another.
struct Crossing {
    fastener: usize,
    at: Vec3,
    across: Vec3,
}

/// Each body and each other one that holds it is asked by itself, over its outermost fasteners.
pub(super) fn spread(scene: &Scene<'_>, facts: &[Fact<'_>]) -> Vec<(usize, Finding)> {
    let mut crossings: BTreeMap<(BodyIx, BodyIx), Vec<Crossing>> = BTreeMap::new();
    for fact in facts.iter().filter(|it| it.stage == Stage::Holds) {
        for plane in &fact.shank.planes {
            let sides = [(plane.side, plane.main, &plane.in_side), (plane.main, plane.side, &plane.in_main)];
            for (body, by, face) in sides {
                let Some(face) = face else { continue };
                if !face.end_grain && scene.is_wood(body) && restrains(scene, body, by) {
                    crossings.entry((body, by)).or_default().push(crossing(fact, face));
                }
            }
        }
    }
    let mut told: BTreeMap<(usize, usize), (usize, Finding)> = BTreeMap::new();
    for ((body, _), crossings) in &crossings {
        let Some((a, b)) = outermost(crossings) else { continue };
        let (Some(one), Some(other)) = (facts.get(a.fastener), facts.get(b.fastener)) else { continue };
        let old = one.fastener.existing && other.fastener.existing;
        let Some(check) = ask(one, other, *body, across_mm(a, b)).into_iter().find(fails) else { continue };
        if !old {
            let pair = (a.fastener.min(b.fastener), a.fastener.max(b.fastener));
            told.entry(pair).or_insert_with(|| finding(&[one, other], *body, &check, (a.at + b.at) * 0.5));
        }
    }
    told.into_values().collect()
}

fn crossing(fact: &Fact<'_>, face: &FaceDistances) -> Crossing {
    Crossing { fastener: fact.ix, at: face.at, across: face.across[0].toward }
}

/// Whether `by` keeps its size while `body` shrinks across its grain.
fn restrains(scene: &Scene<'_>, body: BodyIx, by: BodyIx) -> bool {
    if !scene.is_wood(by) {
        return scene.body(by).is_some_and(|it| it.stuff != Stuff::Filling);
    }
    let grain = |ix| scene.body(ix).and_then(|it| it.grain.direction()).unwrap_or_default();
    grain(body).dot(grain(by)).abs() < SAME_GRAIN
}

fn across_mm(a: &Crossing, b: &Crossing) -> f64 {
    (b.at - a.at).dot(a.across).abs()
}

/// The first and the last across the grain; one row has none.
fn outermost(crossings: &[Crossing]) -> Option<(&Crossing, &Crossing)> {
    let across = crossings.first()?.across;
    let place = |it: &&Crossing| it.at.dot(across);
    let low = crossings.iter().min_by(|a, b| place(a).total_cmp(&place(b)))?;
    let high = crossings.iter().max_by(|a, b| place(a).total_cmp(&place(b)))?;
    (low.fastener != high.fastener).then_some((low, high))
}

fn ask(a: &Fact<'_>, b: &Fact<'_>, body: BodyIx, across_mm: f64) -> Vec<Check> {
    let Some(material) = a.scene.material(body) else { return Vec::new() };
    let thick = if a.fastener.spec.diameter_mm < b.fastener.spec.diameter_mm { b } else { a };
    let pair = Pair {
        material,
        along_mm: 0.0,
        across_mm,
        load_to_grain_deg: None,
        thickness_mm: thick.bolt_thickness_mm,
        beside: thick.beside(body),
        axial: false,
    };
    a.scene.rules.spread(&thick.driven, &pair)
}

fn finding(pair: &[&Fact<'_>; 2], body: BodyIx, check: &Check, at: Vec3) -> (usize, Finding) {
    let [one, other] = pair;
    let (first, second) = if one.ix < other.ix { (one, other) } else { (other, one) };
    let (drawn, asked) = words::both(check, first.unit());
    let says = format!(
        "It is {drawn} from {} across the grain of {}, which may split as it dries; {asked} is the most \
         unless the joint lets the wood move.",
        second.called(),
        first.scene.the(body)
    );
    let subjects = vec![first.fastener.id.clone(), second.fastener.id.clone(), first.scene.id_of(body)];
    let finding = Finding::drawn(Kind::Spread, severity(check), subjects, says);
    (first.ix, finding.by(check, first.unit()).at(at))
}
