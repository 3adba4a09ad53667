//! What every check looks at: the joint, its trace, the rules, and one fastener's facts.

use std::collections::BTreeMap;

use crate::findings::push::{Push, pushes, withdraws};
use crate::joint::{Fastener, Joint, Member, Placement, Treatment};
use crate::standard::{Check, Driven, Hold, Standard};
use crate::stock::{Family, FastenerKind, Material};
use crate::trace::{Body, BodyIx, Holding, Owner, Run, Shank, ShearPlane, Stuff, Trace, What};
use crate::unit::{LengthUnit, Vec3};

/// A joint, its trace and the standard that it is judged by.
pub(super) struct Scene<'a> {
    pub(super) joint: &'a Joint,
    pub(super) trace: &'a Trace,
    pub(super) rules: &'a dyn Standard,
    pub(super) unit: LengthUnit,
    pub(super) pushes: Vec<Push>,
    /// The box round every body in the drawing plane.
    pub(super) bounds: Vec<kurbo::Rect>,
    /// For a fastener and a body: the distance across the grain to the nearest other row.
    row_spacings: BTreeMap<(usize, BodyIx), f64>,
}

/// How far a fastener can be judged. A later stage may be judged by more checks: what is in the air
/// has no bite to be short, and what misses has no edge distance in the member that it misses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Stage {
    /// It fills a hole that the joint does not have, so nobody knows where it is.
    Lost,
    /// No part of it is in a bearing body.
    InAir,
    /// It meets no bearing body after the first body.
    Shiner,
    /// It joins something.
    Holds,
}

/// One fastener and what is known of it.
pub(super) struct Fact<'a> {
    pub(super) scene: &'a Scene<'a>,
    pub(super) ix: usize,
    pub(super) fastener: &'a Fastener,
    pub(super) shank: &'a Shank,
    pub(super) driven: Driven<'a>,
    pub(super) stage: Stage,
    /// The length in the main member or in all side members together, whichever is less, steel left
    /// out. Of three wooden pieces the middle one is the main member, else the last.
    pub(super) bolt_thickness_mm: f64,
}

impl<'a> Scene<'a> {
    pub(super) fn new(joint: &'a Joint, trace: &'a Trace, rules: &'a dyn Standard) -> Self {
        Self {
            joint,
            trace,
            rules,
            unit: joint.show_lengths_in,
            pushes: pushes(joint),
            bounds: trace.bodies.iter().map(|it| it.region.bounds()).collect(),
            row_spacings: row_spacings(joint, trace),
        }
    }

    /// What is known of every fastener, in the joint's order.
    pub(super) fn facts(&'a self) -> Vec<Fact<'a>> {
        let all = self.joint.fasteners.iter().zip(&self.trace.fasteners).enumerate();
        all.map(|(ix, (fastener, shank))| Fact::new(self, ix, fastener, shank)).collect()
    }

    /// The distance across the grain to the nearest other row in the body; `None` where there is one row.
    pub(super) fn row_spacing(&self, fastener: usize, body: BodyIx) -> Option<f64> {
        self.row_spacings.get(&(fastener, body)).copied()
    }

    /// What the standard asks; where it is silent, what common practice does.
    pub(super) fn ask(
        &self,
        rules: impl FnOnce(&dyn Standard) -> Vec<Check>,
        practice: impl FnOnce() -> Vec<Check>,
    ) -> Vec<Check> {
        let asked = rules(self.rules);
        if asked.is_empty() { practice() } else { asked }
    }

    pub(super) fn body(&self, ix: BodyIx) -> Option<&'a Body> {
        self.trace.bodies.get(ix.0)
    }

    pub(super) fn member(&self, ix: BodyIx) -> Option<&'a Member> {
        match self.body(ix)?.owner {
            Owner::Member(at) => self.joint.members.get(at),
            Owner::Plate { .. } => None,
        }
    }

    pub(super) fn material(&self, ix: BodyIx) -> Option<&'a Material> {
        match self.body(ix)?.owner {
            Owner::Member(at) => self.joint.members.get(at).map(|it| &*it.material),
            Owner::Plate { connector, .. } => self.joint.connectors.get(connector).map(|it| &*it.material),
        }
    }

    pub(super) fn treatment(&self, ix: BodyIx) -> Treatment {
        self.member(ix).map_or(Treatment::None, |it| it.treatment)
    }

    /// The id of the member or connector that the body belongs to.
    pub(super) fn id_of(&self, ix: BodyIx) -> String {
        self.owner_text(ix, |it| &it.id, |it| &it.id).to_owned()
    }

    /// `the rim`: the body's name for people, with its article.
    pub(super) fn the(&self, ix: BodyIx) -> String {
        format!("the {}", self.name(ix))
    }

    /// `rim`: the body's name for people.
    pub(super) fn name(&self, ix: BodyIx) -> &'a str {
        self.owner_text(ix, Member::shown_name, crate::joint::Connector::shown_name)
    }

    fn owner_text(
        &self,
        ix: BodyIx,
        member: impl Fn(&'a Member) -> &'a str,
        connector: impl Fn(&'a crate::joint::Connector) -> &'a str,
    ) -> &'a str {
        let owner = match self.body(ix).map(|it| it.owner) {
            Some(Owner::Member(at)) => self.joint.members.get(at).map(member),
            Some(Owner::Plate { connector: at, .. }) => self.joint.connectors.get(at).map(connector),
            None => None,
        };
        owner.unwrap_or("body")
    }

    pub(super) fn is_wood(&self, ix: BodyIx) -> bool {
        self.material(ix).is_some_and(|it| it.family.is_wood())
    }
}

impl<'a> Fact<'a> {
    pub(super) fn new(scene: &'a Scene<'a>, ix: usize, fastener: &'a Fastener, shank: &'a Shank) -> Self {
        let driven = Driven {
            spec: &fastener.spec,
            finish: fastener.finish,
            seat: fastener.seat,
            service: scene.joint.service,
            hole_mm: fastener.lead_hole.map(|it| (it.diameter_mm, it.depth_mm)),
        };
        let stage = stage(scene.joint, fastener, shank);
        let mut fact = Self { scene, ix, fastener, shank, driven, stage, bolt_thickness_mm: 0.0 };
        fact.bolt_thickness_mm = fact.bolt_thickness();
        fact
    }

    /// Its name in a sentence: an id may be any word, and the drawing shows its number.
    pub(super) fn called(&self) -> String {
        format!("fastener {}", self.ix + 1)
    }

    pub(super) fn unit(&self) -> LengthUnit {
        self.scene.unit
    }

    pub(super) fn kind(&self) -> FastenerKind {
        self.fastener.spec.kind
    }

    /// Whether it goes right through and is held by a nut.
    pub(super) fn has_nut(&self) -> bool {
        matches!(self.kind(), FastenerKind::Bolt | FastenerKind::ThreadedRod)
    }

    /// The place on the axis so far from the seat of the head.
    pub(super) fn at(&self, from_head_mm: f64) -> Vec3 {
        self.shank.head_at + self.shank.toward * from_head_mm
    }

    /// Its runs in a body that bears.
    pub(super) fn bearing_runs(&self) -> impl Iterator<Item = (BodyIx, &'a Run)> {
        self.shank.core.iter().filter(|it| it.what == What::Bearing).filter_map(|it| Some((it.body?, it)))
    }

    /// The bodies that bear, each once, head to point.
    pub(super) fn bearing_bodies(&self) -> Vec<BodyIx> {
        let mut bodies: Vec<BodyIx> = Vec::new();
        for (body, _) in self.bearing_runs() {
            if !bodies.contains(&body) {
                bodies.push(body);
            }
        }
        bodies
    }

    /// Length of axis in a body.
    pub(super) fn length_in(&self, body: BodyIx) -> f64 {
        self.shank.core.iter().filter(|it| it.body == Some(body)).map(|it| it.to_mm - it.from_mm).sum()
    }

    /// The least cover in a body that bears.
    pub(super) fn cover_in(&self, body: BodyIx) -> Option<f64> {
        self.bearing_runs().filter(|it| it.0 == body).filter_map(|it| it.1.cover_mm).reduce(f64::min)
    }

    /// Whether the axis lies in a face of the body somewhere.
    pub(super) fn along_face_in(&self, body: BodyIx) -> bool {
        self.bearing_runs().any(|(it, run)| it == body && run.along_a_face)
    }

    /// Whether something graver is already said about where the shank lies in the body, so that its
    /// end and edge distances there would only repeat it.
    pub(super) fn already_out_of(&self, body: BodyIx) -> bool {
        self.along_face_in(body) || crate::findings::cover::breaks_out(self, body).is_some()
    }

    fn bolt_thickness(&self) -> f64 {
        let lengths: Vec<f64> = self.bearing_bodies().into_iter().map(|it| self.length_in(it)).collect();
        let main = if lengths.len() == 3 { 1 } else { lengths.len().saturating_sub(1) };
        let whole: f64 = lengths.iter().sum();
        match lengths.get(main) {
            Some(length) if 1 < lengths.len() => length.min(whole - length),
            Some(length) => *length,
            None => 0.0,
        }
    }

    /// What lies on the other side of the shear plane by which the body is entered or left.
    pub(super) fn beside(&self, body: BodyIx) -> Option<Family> {
        let plane = self.shank.planes.iter().find(|it| it.main == body || it.side == body)?;
        let other = if plane.main == body { plane.side } else { plane.main };
        self.scene.material(other).map(|it| it.family)
    }

    /// The plane by which the holding body is entered.
    pub(super) fn holding_plane(&self) -> Option<&'a ShearPlane> {
        let body = self.shank.holding.as_ref()?.body;
        self.shank.planes.iter().rev().find(|it| it.main == body)
    }

    /// The holding body as a standard asks about it.
    pub(super) fn hold(&self) -> Option<(Holding, Hold<'a>)> {
        let holding = self.shank.holding?;
        let material = self.scene.material(holding.body)?;
        let plane = self.holding_plane();
        let side = plane.map(|it| it.side);
        let side_wood = side.filter(|it| self.scene.is_wood(*it));
        let end_grain = match plane {
            Some(plane) => plane.in_main.is_some_and(|it| it.end_grain),
            None => self.shank.head.at_face.is_some_and(|it| it.end_grain),
        };
        let hold = Hold {
            material,
            bite_mm: holding.bite_mm,
            bite_without_point_mm: holding.bite_without_point_mm,
            side_mm: side_wood.map(|it| self.length_in(it)),
            side_is_steel: side.and_then(|it| self.scene.body(it)).is_some_and(|it| it.stuff == Stuff::Steel),
            end_grain,
            withdrawal: withdraws(self, holding.body),
        };
        Some((holding, hold))
    }
}

/// Distances to other rows. Only bolts and lag screws are asked for them, and a neighbour is of another
/// row when it stands off by more than a diameter across the grain.
fn row_spacings(joint: &Joint, trace: &Trace) -> BTreeMap<(usize, BodyIx), f64> {
    let mut spacings = BTreeMap::new();
    let spec = |ix: usize| joint.fasteners.get(ix).map(|it| &it.spec);
    for pair in &trace.neighbours {
        let across = pair.across_mm.abs();
        for ix in [pair.a, pair.b] {
            let rowed = spec(ix).is_some_and(|it| {
                let small = matches!(it.kind, FastenerKind::Nail | FastenerKind::WoodScrew);
                !small && it.diameter_mm < across
            });
            if rowed {
                let known = spacings.entry((ix, pair.body)).or_insert(across);
                *known = known.min(across);
            }
        }
    }
    spacings
}

/// How far a fastener can be judged.
fn stage(joint: &Joint, fastener: &Fastener, shank: &Shank) -> Stage {
    if hole_is_missing(joint, fastener) {
        return Stage::Lost;
    }
    let bodies: Vec<(BodyIx, What)> =
        shank.core.iter().filter_map(|run| Some((run.body?, run.what))).collect();
    if !bodies.iter().any(|it| it.1 == What::Bearing) {
        return Stage::InAir;
    }
    let first = bodies.first().map(|it| it.0);
    let another = |it: &(BodyIx, What)| Some(it.0) != first;
    let held_by_nut = matches!(fastener.spec.kind, FastenerKind::Bolt | FastenerKind::ThreadedRod);
    let joins = bodies.iter().any(|it| {
        // A bolt through a member also holds the steel on the nut's side of it.
        another(it) && (it.1 == What::Bearing || held_by_nut && it.1 == What::Steel)
    });
    if joins { Stage::Holds } else { Stage::Shiner }
}

/// Whether it fills a hole that the joint does not have.
pub(super) fn hole_is_missing(joint: &Joint, fastener: &Fastener) -> bool {
    match &fastener.place {
        Placement::Free { .. } => false,
        Placement::Fills { connector, hole, .. } => !joint
            .connectors
            .iter()
            .filter(|it| it.id == *connector)
            .flat_map(|it| &it.plates)
            .flat_map(|it| &it.holes)
            .any(|it| it.id == *hole),
    }
}
