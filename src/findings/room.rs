//! What stands in the way of a shank's side, and of a head, a washer or a nut.
//!
//! The axis is traced exactly; what lies about it is looked at in many places, along it and all round. What reaches in
//! by less than [`CLEAR_MM`] goes unsaid: wood gives that much.

use std::collections::BTreeSet;
use std::f64::consts::TAU;

use crate::findings::scene::{Fact, Scene};
use crate::findings::tell::DRAWING;
use crate::findings::{Finding, Kind, Severity};
use crate::stock::FastenerKind;
use crate::trace::{Body, BodyIx, Stuff};
use crate::unit::Vec3;

/// So little room is enough. Common practice.
const CLEAR_MM: f64 = 0.3;
/// Axes whose sine is no more than this run the same way.
const PARALLEL: f64 = 0.01;
/// Places looked at round the axis.
const ROUND: u8 = 24;
/// Places looked at along a shank.
const ALONG: u16 = 64;

/// A round body about the axis, from one place on it to another.
#[derive(Clone, Copy)]
struct Disc {
    what: &'static str,
    kind: Kind,
    from_mm: f64,
    to_mm: f64,
    radius_mm: f64,
    /// The body that it is seated on.
    seat: Option<BodyIx>,
}

/// Heads, washers and nuts that a body is in the way of, each told once.
pub(super) fn of_head_and_nut(fact: &Fact<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for disc in discs(fact) {
        if found.iter().any(|it: &Finding| it.kind == disc.kind) {
            continue;
        }
        let places =
            [disc.from_mm + CLEAR_MM, f64::midpoint(disc.from_mm, disc.to_mm), disc.to_mm - CLEAR_MM];
        let is_in_the_way =
            |it: BodyIx| Some(it) != disc.seat && reaches_in(fact, it, &places, disc.radius_mm);
        if let Some(body) = bodies(fact).find(|it| is_in_the_way(*it)) {
            let says = format!("{} has no room: {} is in its way.", disc.what, fact.scene.the(body));
            let told = fact.tell_of(disc.kind, Severity::Fault, &[body], says).counts(0.0, 1.0).from(DRAWING);
            found.push(told.at(fact.at(disc.from_mm)));
        }
    }
    found
}

/// Wood beside the shank that its side cuts into, though its axis misses it.
pub(super) fn of_shank(fact: &Fact<'_>) -> Vec<Finding> {
    // What is beside the washer is in the way of that.
    let from = fact.fastener.head_washer.as_ref().map_or(0.0, |it| it.thickness_mm);
    let step = (fact.shank.length_mm - from) / f64::from(ALONG);
    let places: Vec<f64> = (0..ALONG).map(|n| (f64::from(n) + 0.5).mul_add(step, from)).collect();
    let is_met = |it: BodyIx| fact.shank.core.iter().any(|run| run.body == Some(it));
    let bears = |it: BodyIx| fact.scene.body(it).is_some_and(|it| it.stuff == Stuff::Bearing);
    let beside = bodies(fact).filter(|it| bears(*it) && !is_met(*it));
    let radius_mm = 0.5 * fact.fastener.spec.diameter_mm;
    beside
        .filter(|it| reaches_in(fact, *it, &places, radius_mm))
        .map(|body| {
            let the = fact.scene.the(body);
            let says = format!("The side of the shank cuts into {the}, which its axis misses.");
            fact.tell_of(Kind::BreaksOut, Severity::Fault, &[body], says)
                .lengths(0.0, radius_mm)
                .from(DRAWING)
                .at(fact.at(0.5 * fact.shank.length_mm))
        })
        .collect()
}

/// Heads, washers and nuts of neighbours that are driven the same way and would lie in one another: for each pair what
/// reaches in farthest.
pub(super) fn between(scene: &Scene<'_>, facts: &[Fact<'_>]) -> Vec<(usize, Finding)> {
    let all: Vec<Vec<Disc>> = facts.iter().map(discs).collect();
    let pairs: BTreeSet<(usize, usize)> = scene.trace.neighbours.iter().map(|it| (it.a, it.b)).collect();
    let told = |(a, b): (usize, usize)| {
        let (one, other) = (facts.get(a)?, facts.get(b)?);
        if one.fastener.existing && other.fastener.existing {
            return None;
        }
        let meet = |(disc, mate): &(Disc, Disc)| disc.radius_mm + mate.radius_mm;
        let mates = |it: Disc| all[b].iter().map(move |mate| (it, *mate));
        let found = all[a].iter().copied().flat_map(mates).filter(|it| lie_in_each_other(one, other, it));
        let (disc, mate) = found.reduce(|best, it| if meet(&best) < meet(&it) { it } else { best })?;
        let says =
            format!("{} has no room: {} of {} is in its way.", disc.what, small(mate.what), other.called());
        let subjects = vec![one.fastener.id.clone(), other.fastener.id.clone()];
        let apart_mm = apart(one, other).length();
        let finding = Finding::drawn(disc.kind, Severity::Fault, subjects, says)
            .lengths(apart_mm, disc.radius_mm + mate.radius_mm)
            .from(DRAWING)
            .at(one.at(disc.from_mm));
        Some((a, finding))
    };
    pairs.into_iter().filter_map(told).collect()
}

/// All that stands out of a fastener and is thick enough to be in the way.
fn discs(fact: &Fact<'_>) -> Vec<Disc> {
    let solid = |it: &Disc| 2.0 * CLEAR_MM <= it.to_mm - it.from_mm;
    head(fact).into_iter().chain(nut(fact)).filter(solid).collect()
}

/// From one axis square to the other, which runs the same way or back.
fn apart(one: &Fact<'_>, other: &Fact<'_>) -> Vec3 {
    let (axis, between) = (one.shank.toward, other.shank.head_at - one.shank.head_at);
    between - axis * between.dot(axis)
}

fn lie_in_each_other(one: &Fact<'_>, other: &Fact<'_>, (disc, mate): &(Disc, Disc)) -> bool {
    let axis = one.shank.toward;
    if axis.cross(other.shank.toward).length() > PARALLEL {
        return false;
    }
    let ends = [mate.from_mm, mate.to_mm].map(|it| (other.at(it) - one.shank.head_at).dot(axis));
    let common = disc.to_mm.min(ends[0].max(ends[1])) - disc.from_mm.max(ends[0].min(ends[1]));
    CLEAR_MM < common && apart(one, other).length() + CLEAR_MM < disc.radius_mm + mate.radius_mm
}

/// `The nut` within a sentence.
fn small(what: &str) -> String {
    what.replacen("The", "the", 1)
}

fn bodies(fact: &Fact<'_>) -> impl Iterator<Item = BodyIx> {
    (0..fact.scene.trace.bodies.len()).map(BodyIx)
}

/// What stands out on the head's side.
fn head(fact: &Fact<'_>) -> Vec<Disc> {
    let spec = &fact.fastener.spec;
    let seat = fact.shank.core.iter().find_map(|it| it.body);
    let disc = |what, (from_mm, to_mm), wide_mm: f64| Disc {
        what,
        kind: Kind::HeadSeat,
        from_mm,
        to_mm,
        radius_mm: 0.5 * wide_mm,
        seat,
    };
    let washer = fact.fastener.head_washer.as_ref();
    let washer = washer.map(|it| disc("The washer under the head", (0.0, it.thickness_mm), it.outer_mm));
    // The heads of nails and wood screws lie in the wood.
    let stands = matches!(spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod | FastenerKind::LagScrew);
    let head = (stands && fact.shank.head.sunk_mm <= 0.0)
        .then(|| disc("The head", (-spec.head_height_mm, 0.0), spec.head_mm));
    washer.into_iter().chain(head).collect()
}

/// The same on the side of the nut.
fn nut(fact: &Fact<'_>) -> Vec<Disc> {
    let (Some(nut), Some(size)) = (fact.shank.nut, fact.fastener.spec.nut) else { return Vec::new() };
    let seat = fact.shank.core.iter().rev().find_map(|it| it.body);
    let at_mm = fact.shank.length_mm - nut.projects_mm;
    let washer = fact.fastener.nut_washer.as_ref();
    let thick_mm = washer.map_or(0.0, |it| it.thickness_mm);
    let disc = |what, (from_mm, to_mm), wide_mm: f64| Disc {
        what,
        kind: Kind::NutSeat,
        from_mm,
        to_mm,
        radius_mm: 0.5 * wide_mm,
        seat,
    };
    let own = disc("The nut", (at_mm + thick_mm, at_mm + thick_mm + size.height_mm), size.across_flats_mm);
    let washer = washer.map(|it| disc("The washer under the nut", (at_mm, at_mm + thick_mm), it.outer_mm));
    washer.into_iter().chain([own]).collect()
}

/// Whether a body reaches into a round about the axis at some of these places on it.
fn reaches_in(fact: &Fact<'_>, body: BodyIx, places: &[f64], radius_mm: f64) -> bool {
    let (Some(solid), Some(bounds)) = (fact.scene.body(body), fact.scene.bounds.get(body.0)) else {
        return false;
    };
    let radius_mm = radius_mm - CLEAR_MM;
    let (Some(first), Some(last)) = (places.first(), places.last()) else { return false };
    let (a, b) = (fact.at(*first), fact.at(*last));
    let misses =
        |low: f64, high: f64, a: f64, b: f64| a.max(b) + radius_mm < low || high < a.min(b) - radius_mm;
    if radius_mm <= 0.0
        || misses(bounds.x0, bounds.x1, a.x, b.x)
        || misses(bounds.y0, bounds.y1, a.y, b.y)
        || misses(solid.far_mm, solid.near_mm, a.z, b.z)
    {
        return false;
    }
    let axis = fact.shank.toward;
    let aside = if axis.z.abs() < 0.9 { Vec3::Z } else { Vec3::X };
    let Some(one) = axis.cross(aside).unit() else { return false };
    let other = axis.cross(one);
    let round: Vec<Vec3> = (0..ROUND)
        .map(|n| (TAU * f64::from(n) / f64::from(ROUND)).sin_cos())
        .map(|(sin, cos)| (one * cos + other * sin) * radius_mm)
        .collect();
    let room = bounds.inflate(radius_mm, radius_mm);
    let is_near = |it: &Vec3| {
        room.contains(it.plan()) && solid.far_mm - radius_mm < it.z && it.z < solid.near_mm + radius_mm
    };
    let mut near = places.iter().map(|it| fact.at(*it)).filter(is_near);
    near.any(|centre| {
        round.iter().any(|out| is_in(solid, centre + *out) || is_in(solid, centre + *out * 0.5))
    })
}

fn is_in(body: &Body, place: Vec3) -> bool {
    body.far_mm < place.z && place.z < body.near_mm && body.region.contains(place.plan())
}
