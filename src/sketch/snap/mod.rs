//! Snapping: the place near the pointer that is worth meeting, and what it is called.
//!
//! A [`Snapper`] is made once for a joint as drawn; each question looks only at what lies near. Corners, heads,
//! holes, middles and crossings come before places in line, those before faces, and all before the step.

mod equal;
mod near;
#[cfg(test)]
mod tests;

use kurbo::{Line, Point, Vec2};

use self::near::Cells;
use crate::joint::{Anchor, Grain, Joint};
use crate::shape::Edge;
use crate::trace::{Body, Owner, Trace, anchor_at};
use crate::unit::Vec3;
use crate::unit::length::{Fineness, Rounding, format_to};

/// What a pointer snapped to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A corner of a body.
    Corner,
    /// The centre of a hole.
    Hole,
    /// The head of a fastener.
    Head,
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
    Fastener(String),
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
}

/// The places of a joint that can be met.
#[derive(Clone, Debug)]
pub struct Snapper {
    spots: Vec<Spot>,
    lines: Vec<Faced>,
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
    /// Everything of a joint that can be met.
    #[must_use]
    pub fn new(joint: &Joint, trace: &Trace) -> Self {
        let mut made = Self::empty(joint);
        for body in &trace.bodies {
            made.body(joint, body);
        }
        made.things(joint, trace, Vec3::plan);
        made
    }

    /// The same of a view from another side, in which a place of the joint lies where `flat` puts it. Bodies are met by
    /// their boxes there.
    #[must_use]
    pub fn seen(joint: &Joint, trace: &Trace, flat: impl Fn(Vec3) -> Point) -> Self {
        let mut made = Self::empty(joint);
        for body in &trace.bodies {
            made.boxed(joint, body, &flat);
        }
        made.things(joint, trace, flat);
        made
    }

    fn empty(joint: &Joint) -> Self {
        Self {
            spots: Vec::new(),
            lines: Vec::new(),
            cells: Cells::default(),
            step_name: match joint.show_lengths_in {
                crate::unit::LengthUnit::Inch => inch_step,
                crate::unit::LengthUnit::Millimetre => mm_step,
            },
        }
    }

    /// Holes and heads; after that nothing is added.
    fn things(&mut self, joint: &Joint, trace: &Trace, flat: impl Fn(Vec3) -> Point) {
        self.holes(joint, trace, &flat);
        self.heads(joint, trace, &flat);
        self.cells = Cells::of(&self.spots, &self.lines);
    }

    /// The box of a body in a view: its corners, the middles of its sides, and its sides.
    fn boxed(&mut self, joint: &Joint, body: &Body, flat: &impl Fn(Vec3) -> Point) {
        let Some((id, name)) = named(joint, body.owner) else { return };
        let area = body.region.bounds();
        let (low, high) =
            (flat(Vec3::new(area.x0, area.y0, body.far_mm)), flat(Vec3::new(area.x1, area.y1, body.near_mm)));
        let corners = [low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)];
        for (n, from) in corners.into_iter().enumerate() {
            let line = Line::new(from, corners[(n + 1) % 4]);
            for (at, kind) in [(from, Kind::Corner), (line.midpoint(), Kind::Middle)] {
                let (name, id, owner) = (name.clone(), id.clone(), Some(body.owner));
                self.spots.push(Spot { at, kind, name, id, owner, thing: None });
            }
            let (name, id, owner) = (name.clone(), id.clone(), Some(body.owner));
            self.lines.push(Faced { edge: Edge::Line(line), kind: Kind::Face, name, id, owner });
        }
    }

    fn body(&mut self, joint: &Joint, body: &Body) {
        let Some((id, name)) = named(joint, body.owner) else { return };
        let spot = |at, kind| Spot {
            at,
            kind,
            name: name.clone(),
            id: id.clone(),
            owner: Some(body.owner),
            thing: None,
        };
        for edges in &body.region.loops {
            for edge in edges {
                match edge {
                    // Only a whole circle has no corner; its centre is worth meeting instead.
                    Edge::Arc(arc) if edges.len() == 1 => self.spots.push(spot(arc.center, Kind::Centre)),
                    Edge::Arc(_) | Edge::Curve(_) => self.spots.push(spot(edge.start(), Kind::Corner)),
                    Edge::Line(_) => {
                        self.spots.push(spot(edge.start(), Kind::Corner));
                        self.spots.push(spot(edge.at(0.5), Kind::Middle));
                    }
                }
                self.lines.push(Faced {
                    edge: *edge,
                    kind: Kind::Face,
                    name: name.clone(),
                    id: id.clone(),
                    owner: Some(body.owner),
                });
            }
        }
        if let Some(line) = grain_line(body) {
            let edge = Edge::Line(line);
            self.lines.push(Faced { edge, kind: Kind::Grain, name, id, owner: Some(body.owner) });
        }
    }

    fn holes(&mut self, joint: &Joint, trace: &Trace, flat: &impl Fn(Vec3) -> Point) {
        for it in &trace.holes {
            let Some(connector) = joint.connectors.get(it.connector) else { continue };
            let Some(hole) = connector.plates.get(it.plate).and_then(|plate| plate.holes.get(it.hole)) else {
                continue;
            };
            self.spots.push(Spot {
                at: flat(it.at),
                kind: Kind::Hole,
                name: format!("hole {} of the {}", hole.id, connector.shown_name()),
                id: connector.id.clone(),
                owner: None,
                thing: Some(Thing::Hole(connector.id.clone(), hole.id.clone())),
            });
        }
    }

    fn heads(&mut self, joint: &Joint, trace: &Trace, flat: &impl Fn(Vec3) -> Point) {
        for (it, shank) in joint.fasteners.iter().zip(&trace.fasteners) {
            if shank.length_mm <= 0.0 {
                continue;
            }
            self.spots.push(Spot {
                at: flat(shank.head_at),
                kind: Kind::Head,
                name: format!("head of {}", it.id),
                id: it.id.clone(),
                owner: None,
                thing: Some(Thing::Fastener(it.id.clone())),
            });
        }
    }

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
        let lines: Vec<&Faced> =
            lines.into_iter().map(|it| &self.lines[it]).filter(|it| free(&it.id)).collect();
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
    /// What a dimension from here holds on to.
    #[must_use]
    pub fn anchor(&self, joint: &Joint) -> Anchor {
        match (&self.thing, self.body, self.kind) {
            (Some(Thing::Fastener(id)), ..) => Anchor::Head(id.clone()),
            (Some(Thing::Hole(connector, hole)), ..) => {
                Anchor::Hole { connector: connector.clone(), hole: hole.clone() }
            }
            (None, Some(owner), Kind::Centre) => centre(joint, owner, self.at),
            (None, Some(owner), _) => anchor_at(joint, owner, self.at).unwrap_or(Anchor::Place(self.at)),
            (None, None, _) => Anchor::Place(self.at),
        }
    }
}

/// The id of what a body belongs to, and its name with its article.
fn named(joint: &Joint, owner: Owner) -> Option<(String, String)> {
    let (id, name) = match owner {
        Owner::Member(at) => joint.members.get(at).map(|it| (&it.id, it.shown_name()))?,
        Owner::Plate { connector, .. } => {
            joint.connectors.get(connector).map(|it| (&it.id, it.shown_name()))?
        }
    };
    Some((id.clone(), format!("the {name}")))
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

fn inch_step(mm: f64) -> String {
    format_to(mm, crate::unit::LengthUnit::Inch, Rounding::Nearest, Fineness::SixtyFourth)
}

fn mm_step(mm: f64) -> String {
    format_to(mm, crate::unit::LengthUnit::Millimetre, Rounding::Nearest, Fineness::SixtyFourth)
}

/// The middle line of a body along its grain, as far as its box reaches.
fn grain_line(body: &Body) -> Option<Line> {
    let Grain::InPlane(degrees) = body.grain else { return None };
    let bounds = body.region.bounds();
    let (sin, cos) = crate::shape::sin_cos_deg(degrees);
    let half = Vec2::new(cos, sin) * (bounds.width().hypot(bounds.height()) / 2.0);
    Some(Line::new(bounds.center() - half, bounds.center() + half))
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
        Kind::Hole | Kind::Head | Kind::Crossing | Kind::Equal | Kind::Grain | Kind::Face | Kind::Step => {
            found.name.clone()
        }
    };
    let thing = found.thing.clone();
    Some(Snap { at: found.at, kind: found.kind, says, along: None, body: found.owner, thing })
}

/// Where two straight lines of different bodies, or a face and a middle line, cross near the pointer.
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
        // A middle line that lies on a face is told as such.
        let rank = distance - if it.kind == Kind::Grain { 1e-6 } else { 0.0 };
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
    } else {
        format!("face of {}", it.name)
    };
    Some(Snap { at, kind: it.kind, says, along, body: it.owner, thing: None })
}
