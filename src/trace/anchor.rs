//! Where what a user's dimension holds on to lies now, and what the dimension measures.

use kurbo::{Point, Vec2};

use super::body::region;
use super::plate;
use super::{Body, Owner, Trace};
use crate::joint::{Anchor, Dimension, Joint, Look, Measures, Outline};
use crate::shape::{Edge, Region};
use crate::unit::Vec3;

/// A user's dimension as it lies now, in the plane of its view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// The place that it is measured from.
    pub from: Point,
    /// The place that it is measured to.
    pub to: Point,
    /// The two ends of its line, each beside its place.
    pub line: (Point, Point),
    /// The distance, millimetres, never negative.
    pub mm: f64,
}

/// Where an anchor lies in the plane of a view; `None` when what it holds on to is not there.
#[must_use]
pub fn anchor(joint: &Joint, trace: &Trace, look: Look, anchor: &Anchor) -> Option<Point> {
    let lifted = |at: Point, of: &str, part: usize, deep: f64| {
        let (far, near) = depth_of(joint, of, part)?;
        Some(Vec3::new(at.x, at.y, far + (near - far) * deep))
    };
    let place = match anchor {
        Anchor::Edge { of, part, ring, edge, share, deep } => {
            let region = part_of(joint, of, *part)?;
            let edge = region.loops.get(*ring)?.get(*edge)?;
            lifted(edge.at(share.clamp(0.0, 1.0)), of, *part, deep.clamp(0.0, 1.0))?
        }
        Anchor::Centre { of, part } => {
            let region = part_of(joint, of, *part)?;
            let centre = (!region.loops.is_empty()).then(|| region.bounds().center())?;
            lifted(centre, of, *part, 0.5)?
        }
        Anchor::Head(id) => shank(joint, trace, id)?.head_at,
        Anchor::Tip(id) => shank(joint, trace, id).map(|it| it.head_at + it.toward * it.length_mm)?,
        Anchor::Hole { connector, hole } => {
            let is_it = |it: &&super::HoleTrace| {
                let Some(of) = joint.connectors.get(it.connector) else { return false };
                let drawn = of.plates.get(it.plate).and_then(|plate| plate.holes.get(it.hole));
                of.id == *connector && drawn.is_some_and(|it| it.id == *hole)
            };
            trace.holes.iter().find(is_it)?.at
        }
        Anchor::Place(at) => return Some(*at),
    };
    Some(look.turned(place).plan())
}

/// A dimension as it lies now; `None` when one of its ends is not there.
#[must_use]
pub fn dimension(joint: &Joint, trace: &Trace, it: &Dimension) -> Option<Measured> {
    let end = |held: &Anchor| anchor(joint, trace, it.look, held);
    let (from, to) = (end(&it.from)?, end(&it.to)?);
    let (line, mm) = match it.measures {
        Measures::Straight => {
            let way = to - from;
            let length = way.hypot();
            let left = if length == 0.0 { Vec2::new(0.0, 1.0) } else { Vec2::new(-way.y, way.x) / length };
            ((from + left * it.offset_mm, to + left * it.offset_mm), length)
        }
        Measures::Level => {
            let y = f64::max(from.y, to.y) + it.offset_mm;
            ((Point::new(from.x, y), Point::new(to.x, y)), (to.x - from.x).abs())
        }
        Measures::Upright => {
            let x = f64::min(from.x, to.x) - it.offset_mm;
            ((Point::new(x, from.y), Point::new(x, to.y)), (to.y - from.y).abs())
        }
    };
    Some(Measured { from, to, line, mm })
}

/// The anchor that holds on to a place on an edge of a traced body.
///
/// A corner that a cut has made is a corner of no outline; it is held on the edge of the outline, or of the
/// cut, that it lies on. `None` where it lies on none.
#[must_use]
pub fn anchor_at(joint: &Joint, owner: Owner, at: Point) -> Option<Anchor> {
    let (of, parts): (&str, Vec<(usize, Region)>) = match owner {
        Owner::Member(n) => {
            let member = joint.members.get(n)?;
            let outlines = std::iter::once(&member.outline).chain(&member.cutouts);
            (&member.id, outlines.enumerate().map(|(n, it)| (n, region(it))).collect())
        }
        Owner::Plate { connector, plate: n } => {
            let connector = joint.connectors.get(connector)?;
            (&connector.id, vec![(n, plate::region(connector.plates.get(n)?))])
        }
    };
    let mut best: Option<(f64, Anchor)> = None;
    for (part, region) in &parts {
        for (ring, edges) in region.loops.iter().enumerate() {
            for (edge, it) in edges.iter().enumerate() {
                let Some((share, off)) = nearest_share(it, at) else { continue };
                // Corners before other places, so that what is a corner stays one.
                let rank = off + if share == 0.0 { 0.0 } else { 1e-7 };
                if off < 1e-4 && best.as_ref().is_none_or(|it| rank < it.0) {
                    let of = of.to_owned();
                    best = Some((rank, Anchor::Edge { of, part: *part, ring, edge, share, deep: 0.0 }));
                }
            }
        }
    }
    best.map(|it| it.1)
}

/// The anchor that holds on to a place of a traced body as a view has it.
///
/// From the side and from above a place lies as high, or as far across, as some place of the outline, at a share of
/// the depth; corners are held before other places. `None` where the outline has no such place.
#[must_use]
pub fn anchor_seen(joint: &Joint, body: &Body, look: Look, at: Point) -> Option<Anchor> {
    if look == Look::Front {
        return anchor_at(joint, body.owner, at);
    }
    let place = look.turned_back(Vec3::new(at.x, at.y, 0.0));
    let level = if look == Look::Side { place.y } else { place.x };
    let share = (place.z - body.far_mm) / (body.near_mm - body.far_mm);
    let edges = || body.region.loops.iter().flatten();
    let corner = edges().map(Edge::start).find(|it| (height(look, *it) - level).abs() < ON_IT_MM);
    let on_outline = corner.or_else(|| edges().find_map(|it| at_height(it, look, level)))?;
    let mut held = anchor_at(joint, body.owner, on_outline)?;
    if let Anchor::Edge { deep, .. } = &mut held {
        *deep = share.clamp(0.0, 1.0);
    }
    Some(held)
}

/// Two places that are so near to each other are one, millimetres.
const ON_IT_MM: f64 = 1e-6;

/// The coordinate of the drawing plane that another view sees too.
fn height(look: Look, at: Point) -> f64 {
    if look == Look::Top { at.x } else { at.y }
}

/// A place of an edge at a height; of curves that are no circle only their ends are known.
fn at_height(edge: &Edge, look: Look, level: f64) -> Option<Point> {
    match edge {
        Edge::Line(line) => {
            let (a, b) = (height(look, line.p0), height(look, line.p1));
            let share = (level - a) / (b - a);
            (0.0..=1.0).contains(&share).then(|| edge.at(share))
        }
        Edge::Arc(arc) => {
            let (radius, off) = (arc.radii.x, level - height(look, arc.center));
            let is_circle = (arc.radii.x - arc.radii.y).abs() < ON_IT_MM;
            if !is_circle || radius + ON_IT_MM < off.abs() {
                return None;
            }
            let aside = (radius * radius - off * off).max(0.0).sqrt();
            let by =
                |aside: f64| if look == Look::Top { Vec2::new(off, aside) } else { Vec2::new(aside, off) };
            let is_on = |at: &Point| nearest_share(edge, *at).is_some_and(|it| it.1 < 1e-4);
            [by(aside), by(-aside)].into_iter().map(|it| arc.center + it).find(is_on)
        }
        Edge::Curve(_) => None,
    }
}

/// How far along an edge its nearest place lies, and how far off it is.
fn nearest_share(edge: &Edge, at: Point) -> Option<(f64, f64)> {
    if (edge.start() - at).hypot() < 1e-6 {
        return Some((0.0, 0.0));
    }
    let share = match edge {
        Edge::Line(line) => {
            let way = line.p1 - line.p0;
            let size = way.hypot2();
            (0.0 < size).then(|| ((at - line.p0).dot(way) / size).clamp(0.0, 1.0))?
        }
        Edge::Arc(arc) => {
            let way = (at - arc.center).atan2() - arc.x_rotation - arc.start_angle;
            let way = (way * arc.sweep_angle.signum()).rem_euclid(std::f64::consts::TAU);
            (way / arc.sweep_angle.abs()).min(1.0)
        }
        Edge::Curve(curve) => kurbo::ParamCurveNearest::nearest(curve, at, 1e-6).t,
    };
    Some((share, (edge.at(share) - at).hypot()))
}

/// How deep a part of a member or a connector reaches, from its far to its near end.
fn depth_of(joint: &Joint, of: &str, part: usize) -> Option<(f64, f64)> {
    let member = joint.members.iter().find(|it| it.id == of).map(|it| it.depth);
    let plate = || joint.connectors.iter().find(|it| it.id == of)?.plates.get(part).map(|it| it.depth);
    member.or_else(plate).map(|it| (it.from, it.to))
}

/// A part of a member or a connector as a region.
fn part_of(joint: &Joint, of: &str, part: usize) -> Option<Region> {
    if let Some(member) = joint.members.iter().find(|it| it.id == of) {
        let outline: &Outline = match part.checked_sub(1) {
            None => &member.outline,
            Some(cutout) => member.cutouts.get(cutout)?,
        };
        return Some(region(outline));
    }
    let connector = joint.connectors.iter().find(|it| it.id == of)?;
    connector.plates.get(part).map(plate::region)
}

fn shank<'a>(joint: &Joint, trace: &'a Trace, id: &str) -> Option<&'a super::Shank> {
    let at = joint.fasteners.iter().position(|it| it.id == id)?;
    // One that fills a hole which is not there is nowhere.
    trace.fasteners.get(at).filter(|it| 0.0 < it.length_mm)
}
