//! Everything of a joint that can be met, gathered once: from the front as drawn, from other sides by how far each
//! part of an outline reaches.

use kurbo::{Line, Point, Vec2};

use super::grain::Grained;
use super::near::Cells;
use super::{Faced, Kind, Snapper, Spot, Thing};
use crate::joint::{Grain, Joint, Look};
use crate::shape::Edge;
use crate::trace::{Body, Owner, Trace};
use crate::unit::Vec3;
use crate::unit::length::{Fineness, Rounding, format_to};

/// Heights of an outline that are nearer to each other than this are one, millimetres.
const SAME_MM: f64 = 1e-6;

impl Snapper {
    /// Everything of a joint that can be met from the front.
    #[must_use]
    pub fn new(joint: &Joint, trace: &Trace) -> Self {
        Self::seen(joint, trace, Look::Front)
    }

    /// The same in the plane of a view. From the side and from above a body is met by its ends in depth and by a line
    /// at each height of its corners.
    #[must_use]
    pub fn seen(joint: &Joint, trace: &Trace, look: Look) -> Self {
        let mut made = Self {
            spots: Vec::new(),
            lines: Vec::new(),
            grained: Vec::new(),
            cells: Cells::default(),
            step_name: match joint.show_lengths_in {
                crate::unit::LengthUnit::Inch => inch_step,
                crate::unit::LengthUnit::Millimetre => mm_step,
            },
        };
        for body in &trace.bodies {
            let Some(named) = Named::of(joint, body.owner) else { continue };
            if look == Look::Front {
                made.body(&named, body);
            } else {
                made.turned_body(&named, body, look);
            }
            made.grain(&named, body, look);
        }
        made.holes(joint, trace, look);
        made.fasteners(joint, trace, look);
        made.cells = Cells::of(&made.spots, &made.lines);
        made
    }

    fn body(&mut self, named: &Named, body: &Body) {
        for edges in &body.region.loops {
            for edge in edges {
                match edge {
                    // Only a whole circle has no corner; its centre is worth meeting instead.
                    Edge::Arc(arc) if edges.len() == 1 => {
                        self.spots.push(named.spot(arc.center, Kind::Centre));
                    }
                    Edge::Arc(_) | Edge::Curve(_) => self.spots.push(named.spot(edge.start(), Kind::Corner)),
                    Edge::Line(_) => {
                        self.spots.push(named.spot(edge.start(), Kind::Corner));
                        self.spots.push(named.spot(edge.at(0.5), Kind::Middle));
                    }
                }
                self.lines.push(named.line(*edge, Kind::Face));
            }
        }
    }

    /// A body seen from the side or from above: its ends in depth, and a line at each height of its corners.
    fn turned_body(&mut self, named: &Named, body: &Body, look: Look) {
        let height = |it: Point| if look == Look::Top { it.x } else { it.y };
        let area = body.region.bounds();
        let (low, high) = (height(area.origin()), height(Point::new(area.x1, area.y1)));
        let mut heights: Vec<f64> = body.region.loops.iter().flatten().map(|it| height(it.start())).collect();
        heights.extend([low, high]);
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| (*a - *b).abs() < SAME_MM);
        let place = |height: f64, depth: f64| look.turned(Vec3::new(height, height, depth)).plan();
        let ends = [body.far_mm, body.near_mm];
        for level in heights {
            let line = Line::new(place(level, ends[0]), place(level, ends[1]));
            self.spots.push(named.spot(line.midpoint(), Kind::Middle));
            self.spots.extend(ends.map(|it| named.spot(place(level, it), Kind::Corner)));
            self.lines.push(named.line(Edge::Line(line), Kind::Face));
        }
        for end in ends {
            let line = Line::new(place(low, end), place(high, end));
            self.spots.push(named.spot(line.midpoint(), Kind::Middle));
            self.lines.push(named.line(Edge::Line(line), Kind::Face));
        }
    }

    /// The grain of a body, where it runs in the plane of the view, and its middle line.
    fn grain(&mut self, named: &Named, body: &Body, look: Look) {
        let Some(way) = in_view(body.grain, look) else { return };
        let found = Grained::of(body, look, way, (&named.name, &named.id));
        self.lines.push(named.line(Edge::Line(found.through(found.area.center())), Kind::Grain));
        self.grained.push(found);
    }

    fn holes(&mut self, joint: &Joint, trace: &Trace, look: Look) {
        for it in &trace.holes {
            let Some(connector) = joint.connectors.get(it.connector) else { continue };
            let Some(hole) = connector.plates.get(it.plate).and_then(|plate| plate.holes.get(it.hole)) else {
                continue;
            };
            self.spots.push(Spot {
                at: look.turned(it.at).plan(),
                kind: Kind::Hole,
                name: format!("hole {} of the {}", hole.id, connector.shown_name()),
                id: connector.id.clone(),
                owner: None,
                thing: Some(Thing::Hole(connector.id.clone(), hole.id.clone())),
            });
        }
    }

    fn fasteners(&mut self, joint: &Joint, trace: &Trace, look: Look) {
        for (it, shank) in joint.fasteners.iter().zip(&trace.fasteners) {
            if shank.length_mm <= 0.0 {
                continue;
            }
            let (head, tip) = (shank.head_at, shank.head_at + shank.toward * shank.length_mm);
            let id = || it.id.clone();
            for (at, kind, word, thing) in
                [(head, Kind::Head, "head", Thing::Head(id())), (tip, Kind::Tip, "point", Thing::Tip(id()))]
            {
                self.spots.push(Spot {
                    at: look.turned(at).plan(),
                    kind,
                    name: format!("{word} of {}", it.id),
                    id: id(),
                    owner: None,
                    thing: Some(thing),
                });
            }
        }
    }
}

/// A body by the id of what it belongs to and its name with its article.
struct Named {
    id: String,
    name: String,
    owner: Owner,
}

impl Named {
    fn of(joint: &Joint, owner: Owner) -> Option<Self> {
        let (id, name) = match owner {
            Owner::Member(at) => joint.members.get(at).map(|it| (&it.id, it.shown_name()))?,
            Owner::Plate { connector, .. } => {
                joint.connectors.get(connector).map(|it| (&it.id, it.shown_name()))?
            }
        };
        Some(Self { id: id.clone(), name: format!("the {name}"), owner })
    }

    fn spot(&self, at: Point, kind: Kind) -> Spot {
        let (name, id, owner) = (self.name.clone(), self.id.clone(), Some(self.owner));
        Spot { at, kind, name, id, owner, thing: None }
    }

    fn line(&self, edge: Edge, kind: Kind) -> Faced {
        Faced { edge, kind, name: self.name.clone(), id: self.id.clone(), owner: Some(self.owner) }
    }
}

/// The way the grain runs in the plane of a view, of unit length; `None` where it does not run there.
fn in_view(grain: Grain, look: Look) -> Option<Vec2> {
    if let (Grain::InPlane(degrees), Look::Front) = (grain, look) {
        let (sin, cos) = crate::shape::sin_cos_deg(degrees);
        return Some(Vec2::new(cos, sin));
    }
    let way = look.turned(grain.direction()?);
    // What runs towards the viewer, or leans, is no line to follow.
    (way.z.abs() < SAME_MM).then(|| way.plan().to_vec2())
}

fn inch_step(mm: f64) -> String {
    format_to(mm, crate::unit::LengthUnit::Inch, Rounding::Nearest, Fineness::SixtyFourth)
}

fn mm_step(mm: f64) -> String {
    format_to(mm, crate::unit::LengthUnit::Millimetre, Rounding::Nearest, Fineness::SixtyFourth)
}
