//! Where fasteners are told of: in which members, and which of their places on paper.

use std::collections::BTreeMap;

use kurbo::Point;

use super::member_of;
use crate::drawing::pen::Scene;
use crate::drawing::shanks::HEAD_ON_BELOW;
use crate::joint::Fastener;
use crate::stock::FastenerSpec;
use crate::trace::{Run, Shank, Stuff};
use crate::unit::Vec3;

/// A shank that leaves a direction by more than this much of its length leans.
const STRAIGHT: f64 = 0.02;

/// A face whose normal lies along a direction of the paper by so much says itself where along it a head is.
const SQUARE: f64 = 0.98;

/// A fastener with its place in a view.
#[derive(Clone, Copy)]
pub(super) struct Placed<'a> {
    pub(super) id: &'a str,
    pub(super) spec: &'a FastenerSpec,
    pub(super) shank: &'a Shank,
    pub(super) at: Point,
    /// Whether its place to the right, and its place upward, is worth telling.
    pub(super) tells: (bool, bool),
    /// It lies in no direction of the paper, nor square to it.
    pub(super) leans: bool,
}

/// Fasteners by the member that they tell of.
pub(super) type ByMember<'a> = BTreeMap<usize, Vec<Placed<'a>>>;

/// The fasteners by the member that holds each, and by those that each passes through before. One that leans in both
/// directions of the paper is told of where it enters, by its place on that face.
pub(super) fn by_member<'a>(scene: &Scene<'a>) -> (ByMember<'a>, ByMember<'a>) {
    let (mut held, mut passing) = (ByMember::new(), ByMember::new());
    let inputs = scene.inputs;
    for (fastener, shank) in inputs.joint.fasteners.iter().zip(&inputs.trace.fasteners) {
        let Some(holder) = holder(scene, shank).filter(|_| shank.head_at.x.is_finite()) else { continue };
        let told = told(scene, fastener, shank);
        let entered = told.leans.then(|| entered(scene, shank)).flatten();
        let mut members: Vec<usize> = vec![holder];
        for run in &shank.core {
            members.extend(member(scene, run).filter(|it| !members.contains(it)));
        }
        for n in members {
            let one = match &entered {
                Some(it) if it.0 == n => {
                    let tells = (told.tells.0 || it.2.0, told.tells.1 || it.2.1);
                    Placed { at: it.1, tells, ..told }
                }
                _ => told,
            };
            if one.tells != (false, false) {
                let of = if n == holder { &mut held } else { &mut passing };
                of.entry(n).or_default().push(one);
            }
        }
    }
    (held, passing)
}

/// The fastener as its direction has it: its place is told across the directions in which it lies.
fn told<'a>(scene: &Scene<'a>, fastener: &'a Fastener, shank: &'a Shank) -> Placed<'a> {
    let flat = scene.direction(shank.toward);
    let is_head_on = flat.hypot() < HEAD_ON_BELOW;
    let tells = if is_head_on { (true, true) } else { (flat.x.abs() < STRAIGHT, flat.y.abs() < STRAIGHT) };
    let lies_in_paper = shank.toward.z.abs() < STRAIGHT;
    let leans = !is_head_on && (tells == (false, false) || !lies_in_paper);
    let at = scene.view.on_paper(shank.head_at);
    Placed { id: &fastener.id, spec: &fastener.spec, shank, at, tells, leans }
}

/// The member that a shank enters first, where that is on paper, and which places tell where on its face.
fn entered(scene: &Scene<'_>, shank: &Shank) -> Option<(usize, Point, (bool, bool))> {
    let (run, n) = shank.core.iter().find_map(|it| Some((it, member(scene, it)?)))?;
    let at = scene.view.on_paper(shank.head_at + shank.toward * run.from_mm);
    let normal = run.entered.map_or(Vec3::default(), |it| it.normal);
    Some((n, at, (normal.x.abs() < SQUARE, normal.y.abs() < SQUARE)))
}

/// The member that a run is in, where it bears.
fn member(scene: &Scene<'_>, run: &Run) -> Option<usize> {
    let body = scene.inputs.trace.bodies.get(run.body?.0)?;
    member_of(body).filter(|_| body.stuff == Stuff::Bearing)
}

fn holder(scene: &Scene<'_>, shank: &Shank) -> Option<usize> {
    member_of(scene.inputs.trace.bodies.get(shank.holding?.body.0)?)
}
