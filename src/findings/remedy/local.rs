//! The part of a joint around one finding, so that a change can be tried cheaply in a large joint.

use kurbo::{Rect, Shape};

use crate::findings::Loads;
use crate::findings::remedy::MOST_NEIGHBOURS;
use crate::joint::{Joint, Placement};
use crate::trace::{Body, Owner, Trace};
use crate::unit::Vec3;

/// Up to so many bodies all are kept, and nobody has to look which are near.
const FEW_BODIES: usize = 64;

/// How far beyond the reach of a shank a body may matter: more than any distance a standard asks for.
const BEYOND_MM: f64 = 600.0;

/// The part of the joint that matters to one finding.
pub(in crate::findings) struct Local {
    pub(in crate::findings) joint: Joint,
    /// Place in it of the fastener that the finding is about.
    pub(super) fastener: Option<usize>,
    /// For each of its fasteners, the place in the whole joint.
    pub(in crate::findings) places: Vec<usize>,
    /// Every fastener of the joint is in it.
    is_whole: bool,
}

impl Local {
    /// Around a fastener, or around a place where there is none.
    pub(in crate::findings) fn around(
        joint: &Joint,
        trace: &Trace,
        own: Option<usize>,
        at: Option<Vec3>,
    ) -> Option<Self> {
        let shank = own.and_then(|it| trace.fasteners.get(it));
        let centre = shank.map(|it| it.head_at).or(at)?;
        let reach = shank.map_or(0.0, |it| it.length_mm) + BEYOND_MM;
        let places = nearest(trace, centre, own);
        let mut local = Joint {
            fasteners: places.iter().filter_map(|it| joint.fasteners.get(*it).cloned()).collect(),
            ..shell(joint)
        };
        keep_bodies(&mut local, joint, trace, (centre, reach));
        let fastener = own.and_then(|own| places.iter().position(|it| *it == own));
        let is_whole = places.len() == joint.fasteners.len();
        Some(Self { joint: local, fastener, places, is_whole })
    }

    /// Only among all fasteners is the share of each known.
    pub(in crate::findings) fn loads(&self) -> Loads {
        if self.is_whole { Loads::Count } else { Loads::DoNotCount }
    }
}

/// The joint without what is in it.
fn shell(joint: &Joint) -> Joint {
    Joint {
        title: joint.title.clone(),
        show_lengths_in: joint.show_lengths_in,
        standard: joint.standard,
        service: joint.service,
        loads: joint.loads.clone(),
        conditions: joint.conditions,
        ..Joint::default()
    }
}

/// The nearest fasteners by their heads, in the order of the joint, with the one in question.
fn nearest(trace: &Trace, centre: Vec3, own: Option<usize>) -> Vec<usize> {
    let mut by_distance: Vec<(f64, usize)> = trace
        .fasteners
        .iter()
        .enumerate()
        .map(|(ix, it)| if Some(ix) == own { (-1.0, ix) } else { ((it.head_at - centre).length(), ix) })
        .collect();
    by_distance.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    by_distance.truncate(MOST_NEIGHBOURS + 1);
    let mut near: Vec<usize> = by_distance.into_iter().map(|it| it.1).collect();
    near.sort_unstable();
    near
}

/// Takes over the bodies near the centre, those that are loaded, and the connectors whose holes are filled.
fn keep_bodies(local: &mut Joint, joint: &Joint, trace: &Trace, (centre, reach): (Vec3, f64)) {
    if trace.bodies.len() <= FEW_BODIES {
        local.members.clone_from(&joint.members);
        local.connectors.clone_from(&joint.connectors);
        return;
    }
    let near: Vec<&Body> = trace.bodies.iter().filter(|it| is_near(it, centre, reach)).collect();
    let member_near = |at: usize| near.iter().any(|it| it.owner == Owner::Member(at));
    let plate_near = |at: usize| {
        near.iter().any(|it| matches!(it.owner, Owner::Plate { connector, .. } if connector == at))
    };
    let loaded = |id: &str| joint.loads.iter().any(|it| it.on == id);
    let filled = |id: &str| {
        local
            .fasteners
            .iter()
            .any(|it| matches!(&it.place, Placement::Fills { connector, .. } if connector == id))
    };
    let members = joint.members.iter().enumerate().filter(|(at, it)| member_near(*at) || loaded(&it.id));
    let connectors = joint.connectors.iter().enumerate().filter(|(at, it)| plate_near(*at) || filled(&it.id));
    let (members, connectors) =
        (members.map(|it| it.1.clone()).collect(), connectors.map(|it| it.1.clone()).collect());
    (local.members, local.connectors) = (members, connectors);
}

fn is_near(body: &Body, centre: Vec3, reach: f64) -> bool {
    let bounds: Rect = body.region.to_path().bounding_box();
    let within = |low: f64, high: f64, at: f64| low - reach <= at && at <= high + reach;
    within(bounds.x0, bounds.x1, centre.x)
        && within(bounds.y0, bounds.y1, centre.y)
        && within(body.far_mm, body.near_mm, centre.z)
}
