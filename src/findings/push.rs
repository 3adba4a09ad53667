//! Which way a shank pushes the wood, from the loads of the joint.
//!
//! A load on a member pulls that member along; the fasteners hold it back. So in the loaded member
//! a shank pushes the wood against the load, and in every other body it pushes with the load. Each
//! load is taken by itself, as a case of its own; what they do together is not judged here.

use crate::findings::scene::{Fact, Scene};
use crate::joint::Joint;
use crate::trace::{BodyIx, FaceDistances, Neighbours, Owner, Reach};
use crate::unit::Vec3;

/// A part of a push that is smaller than this against the whole does not load a border. A load drawn
/// square to an edge must not load its end for the last bit of a sine.
const NO_PART: f64 = 1e-6;

/// The part of a load along the shank from which it counts as pulling it out: within 60 degrees of the
/// axis. A toe-nail under a load across the joint is then still laterally loaded. Common practice.
const PULLS_OUT: f64 = 0.5;

/// One load.
#[derive(Clone, Copy, Debug)]
pub(super) struct Push {
    /// Place in [`Joint::members`] of the loaded member.
    on: usize,
    /// The way the load acts, of unit length.
    toward: Vec3,
}

/// How a border or a pair stands to the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Case {
    /// The shank pushes towards the border.
    pub(super) loaded: bool,
    /// Degrees between load and grain.
    pub(super) to_grain_deg: f64,
    /// The load acts along the shank alone.
    pub(super) axial: bool,
}

/// What could be the case where no load is given. The standards run between load along and load
/// across the grain, so that these are the ends of what can be asked.
const IF_UNLOADED: [Case; 2] = [open(false, 0.0), open(false, 90.0)];
const IF_LOADED: [Case; 2] = [open(true, 0.0), open(true, 90.0)];

const fn open(loaded: bool, to_grain_deg: f64) -> Case {
    Case { loaded, to_grain_deg, axial: false }
}

/// The cases to judge: those that the loads make, or those that could be.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Cases {
    /// By the loads of the joint; each counts.
    Given(Vec<Case>),
    /// No load is given. What fails in the mildest fails whatever the load; what fails only in a
    /// harder one depends on it.
    Open(Vec<Case>),
}

pub(super) fn pushes(joint: &Joint) -> Vec<Push> {
    joint
        .loads
        .iter()
        .filter_map(|load| {
            let on = joint.members.iter().position(|it| it.id == load.on)?;
            Some(Push { on, toward: load.toward.unit()? })
        })
        .collect()
}

impl Push {
    /// The way a shank pushes this body.
    fn in_body(&self, scene: &Scene<'_>, body: BodyIx) -> Vec3 {
        match scene.body(body).map(|it| it.owner) {
            Some(Owner::Member(at)) if at == self.on => -self.toward,
            Some(Owner::Member(_) | Owner::Plate { .. }) | None => self.toward,
        }
    }
}

/// The cases of one border of a face.
pub(super) fn border_cases(fact: &Fact<'_>, body: BodyIx, face: &FaceDistances, border: &Reach) -> Cases {
    let scene = fact.scene;
    if scene.pushes.is_empty() {
        return Cases::Open([IF_UNLOADED, IF_LOADED].concat());
    }
    let case = |push: &Push| {
        let toward = push.in_body(scene, body);
        Case {
            loaded: NO_PART < toward.dot(border.toward),
            to_grain_deg: to_grain(toward, face.along[0].toward, face.across[0].toward),
            axial: is_axial(toward, fact.shank.toward),
        }
    };
    Cases::Given(scene.pushes.iter().map(case).collect())
}

/// The cases of two neighbours in a body, which do not tell a loaded side from another.
pub(super) fn pair_cases(fact: &Fact<'_>, pair: &Neighbours) -> Cases {
    let scene = fact.scene;
    if scene.pushes.is_empty() {
        return Cases::Open(IF_UNLOADED.to_vec());
    }
    let case = |push: &Push| {
        let toward = push.in_body(scene, pair.body);
        Case {
            loaded: false,
            to_grain_deg: to_grain(toward, pair.along, pair.across),
            axial: is_axial(toward, fact.shank.toward),
        }
    };
    Cases::Given(scene.pushes.iter().map(case).collect())
}

/// Whether some load pulls the shank out of its holding body; `None` when no load is given.
pub(super) fn withdraws(fact: &Fact<'_>, holding: BodyIx) -> Option<bool> {
    let pulls = |push: &Push| {
        let holding_is_pulled = matches!(
            fact.scene.body(holding).map(|it| it.owner),
            Some(Owner::Member(at)) if at == push.on
        );
        let along = push.toward.dot(fact.shank.toward);
        PULLS_OUT < if holding_is_pulled { along } else { -along }
    };
    (!fact.scene.pushes.is_empty()).then(|| fact.scene.pushes.iter().any(pulls))
}

fn is_axial(push: Vec3, axis: Vec3) -> bool {
    push.cross(axis).length() <= NO_PART
}

/// Degrees between a push and the grain as both lie in the face. A push along the shank has no
/// direction in the face; it is read as square to the grain.
fn to_grain(push: Vec3, along: Vec3, across: Vec3) -> f64 {
    let (with, against) = (push.dot(along).abs(), push.dot(across).abs());
    if with <= NO_PART { 90.0 } else { against.atan2(with).to_degrees() }
}
