//! Snapping: the place near the pointer that is worth meeting, and what it is called.
//!
//! A [`Snapper`] is made once for a joint as drawn; each question looks only at what lies near. Corners, heads,
//! holes, middles and crossings come before places in line, those before faces, and all before the step.

mod equal;
mod grain;
mod made;
mod near;
#[cfg(test)]
mod tests;

use kurbo::{Line, Point};

use self::grain::Grained;
use self::near::Cells;
use crate::joint::{Anchor, Joint, Look};
use crate::shape::Edge;
use crate::trace::{Owner, Trace, anchor_seen};

/// What a pointer snapped to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A corner of a body.
    Corner,
    /// The centre of a hole.
    Hole,
    /// The head of a fastener.
    Head,
    /// The point of a fastener.
    Tip,
    /// The centre of a round outline.
    Centre,
    /// The middle of a face.
    Middle,
    /// Where two faces or lines cross.
    Crossing,
    /// As far from one as that is from another.
    Equal,
    /// The middle line of a member along its grain.
    Grain,
    /// A face.
    Face,
    /// A line along the grain through a fastener, a hole or the place where the hand began.
    Along,
    /// The snap step.
    Step,
}

/// A place to meet.
#[derive(Clone, Debug, PartialEq)]
pub struct Snap {
    /// Where.
    pub at: Point,
    /// What it is.
    pub kind: Kind,
    /// What it is called: `corner of the ledger`.
    pub says: String,
    /// The straight face or line that it lies on, to measure from.
    pub along: Option<Line>,
    /// The body that it belongs to.
    pub body: Option<Owner>,
    /// The fastener, or the connector and its hole.
    thing: Option<Thing>,
}

/// What is snapped to beside bodies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Thing {
    Head(String),
    Tip(String),
    Hole(String, String),
}

/// How to snap.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Options {
    /// How near a place must be, millimetres: some pixels at the scale of the window.
    pub within_mm: f64,
    /// The snap step, millimetres; 0 for none.
    pub step_mm: f64,
    /// Ids of what is dragged: it does not snap to itself.
    pub without: Vec<String>,
    /// Where the hand began: the grain through it can be followed.
    pub from: Option<Point>,
}

/// The places of a joint that can be met.
#[derive(Clone, Debug)]
pub struct Snapper {
    spots: Vec<Spot>,
    lines: Vec<Faced>,
    grained: Vec<Grained>,
    cells: Cells,
    step_name: fn(f64) -> String,
}

#[derive(Clone, Debug)]
struct Spot {
    at: Point,
    kind: Kind,
    /// Of a body: its name with its article; else the whole text.
    name: String,
    id: String,
    owner: Option<Owner>,
    thing: Option<Thing>,
}

#[derive(Clone, Debug)]
struct Faced {
    edge: Edge,
    kind: Kind,
    name: String,
    id: String,
    owner: Option<Owner>,
}

impl Snapper {
    /// The place worth meeting near the pointer; `None` where nothing is near and there is no step.
    #[must_use]
    pub fn snap(&self, pointer: Point, options: &Options) -> Option<Snap> {
        if !pointer.is_finite() {
            return None;
        }
        let within = options.within_mm.max(0.0);
        let (spots, lines) = self.cells.near(pointer, within);
        let free = |id: &str| !options.without.iter().any(|it| it == id);
        let spots: Vec<&Spot> =
            spots.into_iter().map(|it| &self.spots[it]).filter(|it| free(&it.id)).collect();
        let along = self.along_grain(pointer, within, options);
        let lines = lines.into_iter().map(|it| &self.lines[it]).filter(|it| free(&it.id));
        let lines: Vec<&Faced> = lines.chain(&along).collect();
        spot(&spots, pointer, within)
            .or_else(|| crossing(&lines, pointer, within))
            .or_else(|| {
                let around = self.cells.near(pointer, equal::REACH_MM).0;
                equal::equal(around.iter().map(|it| &self.spots[*it]), pointer, within, &free)
            })
            .or_else(|| face(&lines, pointer, within))
            .or_else(|| self.step(pointer, options.step_mm))
    }

    fn step(&self, pointer: Point, step: f64) -> Option<Snap> {
        if !(0.0 < step && step.is_finite()) {
            return None;
        }
        let round = |it: f64| (it / step).round() * step;
        let at = Point::new(round(pointer.x), round(pointer.y));
        let says = format!("step of {}", (self.step_name)(step));
        Some(Snap { at, kind: Kind::Step, says, along: None, body: None, thing: None })
    }
}

impl Snap {
    /// What a dimension from here, in the view that was snapped in, holds on to.
    #[must_use]
    pub fn anchor(&self, joint: &Joint, trace: &Trace, look: Look) -> Anchor {
        match (&self.thing, self.body, self.kind) {
            (Some(Thing::Head(id)), ..) => Anchor::Head(id.clone()),
            (Some(Thing::Tip(id)), ..) => Anchor::Tip(id.clone()),
            (Some(Thing::Hole(connector, hole)), ..) => {
                Anchor::Hole { connector: connector.clone(), hole: hole.clone() }
            }
            (None, Some(owner), Kind::Centre) => centre(joint, owner, self.at),
            (None, Some(owner), _) => {
                let body = trace.bodies.iter().find(|it| it.owner == owner);
                let held = body.and_then(|it| anchor_seen(joint, it, look, self.at));
                held.unwrap_or(Anchor::Place(self.at))
            }
            (None, None, _) => Anchor::Place(self.at),
        }
    }
}

/// The round outline or cut-out with its centre there.
fn centre(joint: &Joint, owner: Owner, at: Point) -> Anchor {
    let found = match owner {
        Owner::Member(n) => joint.members.get(n).and_then(|member| {
            let outlines = std::iter::once(&member.outline).chain(&member.cutouts);
            let is_it = |it: &crate::joint::Outline| {
                (crate::trace::outline_region(it).bounds().center() - at).hypot() < 1e-6
            };
            let part = outlines.into_iter().position(is_it)?;
            Some(Anchor::Centre { of: member.id.clone(), part })
        }),
        Owner::Plate { .. } => None,
    };
    found.unwrap_or(Anchor::Place(at))
}

fn spot(spots: &[&Spot], pointer: Point, within: f64) -> Option<Snap> {
    let near = spots.iter().filter(|it| (it.at - pointer).hypot() <= within);
    let found = near.min_by(|a, b| {
        let (one, other) = ((a.at - pointer).hypot(), (b.at - pointer).hypot());
        // Of two in one place the more telling one: a corner before the head that stands on it.
        if (one - other).abs() < 1e-6 { a.kind.cmp(&b.kind) } else { one.total_cmp(&other) }
    })?;
    let says = match found.kind {
        Kind::Corner => format!("corner of {}", found.name),
        Kind::Middle => format!("middle of a face of {}", found.name),
        Kind::Centre => format!("centre of {}", found.name),
        Kind::Hole
        | Kind::Head
        | Kind::Tip
        | Kind::Crossing
        | Kind::Equal
        | Kind::Grain
        | Kind::Face
        | Kind::Along
        | Kind::Step => found.name.clone(),
    };
    let thing = found.thing.clone();
    Some(Snap { at: found.at, kind: found.kind, says, along: None, body: found.owner, thing })
}

/// Where two straight lines of different bodies, or a face and a line along the grain, cross near the pointer.
fn crossing(lines: &[&Faced], pointer: Point, within: f64) -> Option<Snap> {
    let mut best: Option<(f64, Snap)> = None;
    for (n, one) in lines.iter().enumerate() {
        let Edge::Line(a) = one.edge else { continue };
        for other in &lines[n + 1..] {
            let Edge::Line(b) = other.edge else { continue };
            let Some(at) = meet(a, b) else { continue };
            let distance = (at - pointer).hypot();
            if within < distance || best.as_ref().is_some_and(|it| it.0 <= distance) {
                continue;
            }
            let called = |it: &Faced| {
                let middle = if it.kind == Kind::Grain { "the middle line of " } else { "" };
                format!("{middle}{}", it.name)
            };
            let says = format!("where {} and {} cross", called(one), called(other));
            let body = if one.kind == Kind::Face { one.owner } else { other.owner };
            let body = body.filter(|_| [one.kind, other.kind].contains(&Kind::Face));
            best = Some((distance, Snap { at, kind: Kind::Crossing, says, along: None, body, thing: None }));
        }
    }
    best.map(|it| it.1)
}

/// Where two stretches of line cross.
fn meet(a: Line, b: Line) -> Option<Point> {
    let (one, other, between) = (a.p1 - a.p0, b.p1 - b.p0, b.p0 - a.p0);
    let turn = one.cross(other);
    if turn.abs() <= 1e-9 * one.hypot() * other.hypot() {
        return None;
    }
    let (s, t) = (between.cross(other) / turn, between.cross(one) / turn);
    let inside = |it: f64| (-1e-9..=1.0 + 1e-9).contains(&it);
    (inside(s) && inside(t)).then(|| a.p0 + one * s)
}

/// The nearest place on a face or a middle line.
fn face(lines: &[&Faced], pointer: Point, within: f64) -> Option<Snap> {
    let mut best: Option<(f64, &Faced, Point)> = None;
    for it in lines {
        let at = near::nearest(&it.edge, pointer);
        let distance = (at - pointer).hypot();
        // A middle line that lies on a face is told as such; a face before the grain line of what stands on it.
        let rank = distance
            + if it.kind == Kind::Grain {
                -1e-6
            } else if it.kind == Kind::Along {
                within * 0.25
            } else {
                0.0
            };
        if distance <= within && best.is_none_or(|it| rank < it.0) {
            best = Some((rank, it, at));
        }
    }
    let (_, it, at) = best?;
    let along = match it.edge {
        Edge::Line(line) => Some(line),
        Edge::Arc(_) | Edge::Curve(_) => None,
    };
    let says = if it.kind == Kind::Grain {
        format!("middle line of {} along its grain", it.name)
    } else if it.kind == Kind::Along {
        it.name.clone()
    } else {
        format!("face of {}", it.name)
    };
    Some(Snap { at, kind: it.kind, says, along, body: it.owner, thing: None })
}
