//! What every shank passes through: exact geometry of a joint.
//!
//! Knows no standard, no language, no colour and no tolerance of practice. It cannot fail and
//! never samples. Places are [`Vec3`] in millimetres; `at_mm`, `from_mm` and `to_mm` are measured
//! along a shank's axis from the seat of its head.
//!
//! # Corners
//! A body is closed: an axis that lies in a face is in the body, with no cover. Where two bodies share
//! that face the one drawn later has the run, as wherever two bodies are in one place. So never do
//! both have it and never neither, and turning or mirroring a joint changes nothing.

mod anchor;
mod body;
mod boxes;
mod clash;
mod clip;
mod core;
mod cover;
mod flat;
mod head;
mod holding;
mod hole;
mod near;
mod neighbours;
mod overlap;
mod pairs;
mod place;
mod plate;
mod reach;
mod shank;
#[cfg(test)]
mod tests;

use crate::joint::{Fastener, Grain, Joint};
use crate::shape::Region;
use crate::unit::Vec3;

pub use anchor::{Measured, anchor, anchor_at, anchor_seen, dimension};
pub use body::{Bodies, region as outline_region};

/// Faces closer than this, in millimetres, touch: no gap is made of rounding.
pub const TOUCH_MM: f64 = 0.01;

/// A joint traced.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// Members first, then plates, each in the joint's order; a later one takes the run.
    pub bodies: Vec<Body>,
    /// One for each fastener of the joint, in its order.
    pub fasteners: Vec<Shank>,
    /// Pairs of fasteners that are neighbours in one bearing body, sorted, the first index the lower.
    ///
    /// Looked for within 16 times the greater diameter, which is more than any rule asks for. In a
    /// crowd thicker than any drawing each fastener keeps the 24 nearest of the pairs that it leads.
    pub neighbours: Vec<Neighbours>,
    /// Pairs of shanks that run into each other, sorted, the first index the lower; of a crowd as
    /// with the neighbours.
    pub clashes: Vec<Clash>,
    /// Pairs of bodies that take the same place.
    pub overlaps: Vec<Overlap>,
    /// One for each hole of each connector, in the joint's order.
    pub holes: Vec<HoleTrace>,
}

/// Place of a body in [`Trace::bodies`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BodyIx(pub usize);

/// Place of a hole in [`Trace::holes`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HoleIx(pub usize);

/// Anything solid: a right prism, its region carried through its depth.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// What it is in the joint.
    pub owner: Owner,
    /// Whether it bears, only fills, or is steel.
    pub stuff: Stuff,
    /// Its section in the drawing plane, cut-outs taken away.
    pub region: Region,
    /// Its far end.
    pub far_mm: f64,
    /// Its near end.
    pub near_mm: f64,
    /// The way its grain runs.
    pub grain: Grain,
}

/// What a body is in the joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Owner {
    /// The member at this place of [`Joint::members`].
    Member(usize),
    /// A plate of a connector.
    Plate {
        /// Place in [`Joint::connectors`].
        connector: usize,
        /// Place in its plates.
        plate: usize,
    },
}

/// What a body does for a shank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stuff {
    /// Solid and meant to hold.
    Bearing,
    /// Drawn and named, never bite.
    Filling,
    /// A connector's steel.
    Steel,
}

/// One fastener traced.
///
/// A fastener that names a hole which is not there, or has no length or direction, is nowhere: its
/// shank is the default one, with no length and no core.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shank {
    /// The seat of the head, after its seat setting is applied, on the axis.
    pub head_at: Vec3,
    /// The way the point looks, of unit length.
    pub toward: Vec3,
    /// Length below the head.
    pub length_mm: f64,
    /// The core: runs that partition the length, head to point.
    pub core: Vec<Run>,
    /// What its point side ends in; `None` for a shank in no bearing body.
    pub holding: Option<Holding>,
    /// Where it crosses from one body that bears or is steel to the next.
    pub planes: Vec<ShearPlane>,
    /// What the head sits on.
    pub head: Head,
    /// For a bolt or a rod: what the nut sits on.
    pub nut: Option<Nut>,
}

/// One stretch of a shank's axis in one body, or in air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// Where it begins.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
    /// The body; `None` in air, a gap or a washer.
    pub body: Option<BodyIx>,
    /// What it is in.
    pub what: What,
    /// The face by which the axis comes in; `None` when it starts inside or in air.
    pub entered: Option<Face>,
    /// The face by which it goes out; `None` when it ends inside or in air.
    pub left: Option<Face>,
    /// In bearing: the cover over this run. See [`Holding::cover_mm`].
    pub cover_mm: Option<f64>,
    /// The axis lies in a face of the body all along (within [`TOUCH_MM`]).
    pub along_a_face: bool,
    /// In steel: the hole that the axis goes through.
    pub hole: Option<HoleIx>,
}

/// What a run is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A bearing body.
    Bearing,
    /// A filling.
    Filling,
    /// Steel of a connector, or a washer (then without a body). A washer takes the first air under the
    /// head, or beyond the last body for one under a nut, up to its thickness.
    Steel,
    /// Air with steel or bearing material somewhere before it and bearing material somewhere after it.
    /// A washer is part of the fastener and does not count as steel here.
    Gap,
    /// Other air.
    Air,
}

/// A face that an axis crosses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// Which face.
    pub which: FaceKind,
    /// Outward, of unit length, where the axis crosses it.
    pub normal: Vec3,
}

/// Which face of a prism.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaceKind {
    /// A side, over the edge at `edge` of the region's loop `ring`.
    Side {
        /// Place of the loop.
        ring: usize,
        /// Place of the edge in it.
        edge: usize,
    },
    /// The face away from the viewer.
    Far,
    /// The face towards the viewer.
    Near,
}

/// What must hold the point side: the last bearing body on the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Holding {
    /// The body.
    pub body: BodyIx,
    /// Where the axis first comes into it.
    pub enters_at_mm: f64,
    /// Where the axis last leaves it, or the length when it ends inside.
    pub leaves_at_mm: f64,
    /// Length of axis in it, the point included; a notch in between does not count.
    pub bite_mm: f64,
    /// The same without what lies in the tapered point.
    pub bite_without_point_mm: f64,
    /// The bite, point included, square to the face entered.
    pub bite_square_mm: f64,
    /// Degrees between the axis and the face entered: 90 is square. `None` when the axis starts inside.
    pub angle_to_face_deg: Option<f64>,
    /// Least distance from the axis, over its bite, to any face of the body that it neither enters nor
    /// leaves by. Zero if the axis lies in such a face; never negative.
    ///
    /// A face that the shank looks at does not count either, since it cannot break out of it sideways:
    /// one that the axis, drawn on beyond the point or back beyond a head inside the body, would
    /// cross at 45 degrees or more. Pieces of one plane or one circle are one face.
    pub cover_mm: f64,
    /// Length beyond the holding body; zero when the point stays in.
    pub point_out_mm: f64,
}

/// Where a shank crosses from one body to the next, both bearing or steel; fillings and gaps lie between.
#[derive(Clone, Debug, PartialEq)]
pub struct ShearPlane {
    /// The body on the head side.
    pub side: BodyIx,
    /// The body on the point side.
    pub main: BodyIx,
    /// Where the axis leaves the side body.
    pub at_mm: f64,
    /// Length of axis in air between the two.
    pub gap_mm: f64,
    /// Length of axis in fillings between the two.
    pub filling_mm: f64,
    /// Unit normal of the face by which the main body is entered, outward (towards the head).
    pub normal: Vec3,
    /// Distances in the side body on the face that the axis leaves by; `None` for steel.
    pub in_side: Option<FaceDistances>,
    /// Distances in the main body on the face that the axis enters by; `None` for steel.
    pub in_main: Option<FaceDistances>,
}

/// Distances on a face of a body, from the axis to the borders of the face, both ways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceDistances {
    /// Where the axis crosses the face.
    pub at: Vec3,
    /// Along the grain as it lies in the face: to the ends.
    pub along: [Reach; 2],
    /// Across the grain in the face: to the edges.
    pub across: [Reach; 2],
    /// The face cuts the grain (more across than along), so that the shank is in end grain
    /// and all four distances are to edges. Without grain in the face `along` and `across` follow the
    /// face itself: its edge and the depth, or the longest side of the outline.
    pub end_grain: bool,
}

/// A distance in a direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// The direction, of unit length.
    pub toward: Vec3,
    /// How far the body reaches that way from the axis: along a plane face to its end, past an inner
    /// corner on into the wood; on a round face to the silhouette; on a near or far face to the outline.
    pub mm: f64,
}

/// What the head sits on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Head {
    /// What lies directly under it.
    pub on: Seating,
    /// Air under the head beyond the thickness of a washer; zero when it is seated. A washer for which
    /// no room was drawn counts as seated.
    pub stands_off_mm: f64,
    /// How deep it lies below the surface of the body that it is in; zero when it is not sunk.
    pub sunk_mm: f64,
    /// Degrees between the axis and the face that the head sits on; 90 is square.
    pub angle_to_face_deg: Option<f64>,
    /// The hole that the head sits over.
    pub hole: Option<HoleIx>,
    /// Distances on the face of the first bearing body, where the axis enters it; for a sunk head where
    /// the axis, drawn back, came in.
    pub at_face: Option<FaceDistances>,
}

/// What a head or a nut sits on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Seating {
    /// A washer.
    Washer,
    /// Steel of a connector.
    Steel(BodyIx),
    /// A bearing body.
    Bearing(BodyIx),
    /// A filling.
    Filling(BodyIx),
    /// Nothing.
    #[default]
    Air,
}

/// What the nut of a bolt or a rod sits on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nut {
    /// What the nut or its washer is tightened against: the last body on the axis.
    pub on: Seating,
    /// Length that stands out beyond that body.
    pub projects_mm: f64,
    /// Degrees between the axis and the face it is tightened against; 90 is square.
    pub angle_to_face_deg: Option<f64>,
}

/// Two fasteners that are neighbours in one body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Neighbours {
    /// The fastener of lower index.
    pub a: usize,
    /// The other.
    pub b: usize,
    /// The body that both pass.
    pub body: BodyIx,
    /// From `a` to `b` at the body, the distance between the axes split: along the grain.
    ///
    /// Parallel shanks side by side are measured square to them, shanks at an angle on the nearest
    /// face that both cross. Without such a face, and for shanks that share no depth of the body,
    /// the distance is that of their nearest places in it. In end grain, and without grain, all of it
    /// is across.
    pub along_mm: f64,
    /// Across the grain.
    pub across_mm: f64,
    /// Direction of `along`, of unit length, looking from `a` to `b`.
    pub along: Vec3,
    /// Direction of `across`, of unit length, looking from `a` to `b`.
    pub across: Vec3,
}

/// Two shanks that run into each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clash {
    /// The fastener of lower index.
    pub a: usize,
    /// The other.
    pub b: usize,
    /// Least distance between the two axes.
    pub axes_apart_mm: f64,
    /// The distance at which the two shanks would just touch.
    pub touch_mm: f64,
    /// Midway between the two axes where they are nearest.
    pub at: Vec3,
}

/// Two bodies that take the same place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overlap {
    /// The body drawn first.
    pub under: BodyIx,
    /// The body drawn later, which takes the runs.
    pub over: BodyIx,
    /// Common area in the drawing plane, square millimetres.
    pub area_mm2: f64,
    /// Common depth.
    pub depth_mm: f64,
    /// A place in the common part.
    pub at: Vec3,
}

/// A connector's hole and what is in it.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleTrace {
    /// Place in [`Joint::connectors`].
    pub connector: usize,
    /// Place in the connector's plates.
    pub plate: usize,
    /// Place in the plate's holes.
    pub hole: usize,
    /// Its centre on the surface of the side that it is driven from.
    pub at: Vec3,
    /// Into the steel from that side, square to it, of unit length.
    pub square: Vec3,
    /// The fasteners that go through it, in order.
    pub filled_by: Vec<Fill>,
}

/// A fastener in a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fill {
    /// Place in [`Joint::fasteners`].
    pub fastener: usize,
    /// Hole diameter less shank diameter: negative when it does not go in.
    pub play_mm: f64,
    /// Distance of the axis from the centre of the hole where it crosses the middle of the steel.
    pub off_centre_mm: f64,
    /// Degrees between the direction square to the steel, the way the shank goes through it, and the
    /// axis, in the drawing plane, anticlockwise positive: the angle that a placement or a hole gives.
    pub tilt_deg: f64,
}

impl Default for Head {
    fn default() -> Self {
        Self {
            on: Seating::Air,
            stands_off_mm: 0.0,
            sunk_mm: 0.0,
            angle_to_face_deg: None,
            hole: None,
            at_face: None,
        }
    }
}

/// Traces every fastener of a joint against every body of it.
#[must_use]
pub fn trace(joint: &Joint) -> Trace {
    let bodies = Bodies::of(joint);
    let mut tracer = shank::Tracer::new(&bodies);
    let mut holes = bodies.holes.list.clone();
    let mut fasteners = Vec::with_capacity(joint.fasteners.len());
    for (n, fastener) in joint.fasteners.iter().enumerate() {
        let (shank, fills) = tracer.trace(n, fastener);
        for (hole, fill) in fills {
            holes[hole.0].filled_by.push(fill);
        }
        fasteners.push(shank);
    }
    let diameters: Vec<f64> = joint.fasteners.iter().map(|it| it.spec.diameter_mm).collect();
    let (neighbours, clashes) = pairs::pairs(&bodies.flat.prisms, &fasteners, &diameters);
    let overlaps = overlap::overlaps(&bodies.list);
    Trace { fasteners, neighbours, clashes, overlaps, holes, bodies: bodies.list }
}

/// Traces one fastener against bodies made ready: what [`trace`] says of it, without its neighbours.
///
/// A pure function of its two arguments; the fastener need not be one of the joint, so that a longer
/// or a turned one can be tried without a changed joint.
#[must_use]
pub fn shank(bodies: &Bodies, fastener: &Fastener) -> Shank {
    shank::Tracer::new(bodies).trace(0, fastener).0
}
