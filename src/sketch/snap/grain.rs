//! Lines along the grain that can be followed: through a fastener, through a hole, from where the hand began.

use kurbo::{Line, Point, Rect, Vec2};

use super::near::nearest;
use super::{Faced, Kind, Options, Snapper, Spot};
use crate::joint::Look;
use crate::shape::{Edge, Region};
use crate::trace::Body;

/// So many of the nearest lines are offered.
const MOST: usize = 4;

/// Lines that lie nearer to each other than this are one, millimetres.
const SAME_MM: f64 = 1e-6;

/// A head that lies so near to a face stands on it, millimetres.
const ON_FACE_MM: f64 = 0.1;

/// A body whose grain runs in the plane of the view.
#[derive(Clone, Debug)]
pub(super) struct Grained {
    /// Its box in the view.
    pub(super) area: Rect,
    /// Its outline, from the front.
    region: Option<Region>,
    /// The way of the grain, of unit length.
    way: Vec2,
    name: String,
    id: String,
}

impl Grained {
    pub(super) fn of(body: &Body, look: Look, way: Vec2, (name, id): (&str, &str)) -> Self {
        let bounds = body.region.bounds();
        let place = |x: f64, y: f64, z: f64| look.turned(crate::unit::Vec3::new(x, y, z)).plan();
        Self {
            area: Rect::from_points(
                place(bounds.x0, bounds.y0, body.far_mm),
                place(bounds.x1, bounds.y1, body.near_mm),
            ),
            region: (look == Look::Front).then(|| body.region.clone()),
            way,
            name: name.to_owned(),
            id: id.to_owned(),
        }
    }

    /// The line along the grain through a place, as far as the body reaches.
    pub(super) fn through(&self, at: Point) -> Line {
        let half = self.way * (self.area.width().hypot(self.area.height()) / 2.0);
        let middle = at + self.way * (self.area.center() - at).dot(self.way);
        Line::new(middle - half, middle + half)
    }

    /// Whether a place lies in the body, or so near to it.
    fn holds(&self, at: Point, within: f64) -> bool {
        let is_near = |it: &Edge| (nearest(it, at) - at).hypot() <= within;
        let in_outline = |it: &Region| it.contains(at) || it.loops.iter().flatten().any(is_near);
        self.area.inflate(within, within).contains(at) && self.region.as_ref().is_none_or(in_outline)
    }

    fn off(&self, pointer: Point, at: Point) -> f64 {
        (pointer - at).cross(self.way).abs()
    }
}

impl Snapper {
    /// The lines along the grain of the bodies under the pointer that pass near it: through the head or the point of a
    /// fastener, through a hole, and from where the hand began.
    pub(super) fn along_grain(&self, pointer: Point, within: f64, options: &Options) -> Vec<Faced> {
        let mut found: Vec<(f64, Faced)> = Vec::new();
        let is_free = |id: &str| !options.without.iter().any(|it| it == id);
        for body in self.grained.iter().filter(|it| it.holds(pointer, within) && is_free(&it.id)) {
            let mut offer = |at: Point, says: String| {
                let line = body.through(at);
                let off = body.off(pointer, at);
                if off <= within && !found.iter().any(|it| is_same(&it.1, &line)) {
                    let (edge, id) = (Edge::Line(line), body.id.clone());
                    found.push((off, Faced { edge, kind: Kind::Along, name: says, id, owner: None }));
                }
            };
            if let Some(from) = options.from.filter(|it| SAME_MM < (*it - pointer).hypot()) {
                offer(from, format!("along the grain of {} from where it began", body.name));
            }
            let can_lead = |it: &&Spot| {
                matches!(it.kind, Kind::Head | Kind::Tip | Kind::Hole)
                    && body.off(pointer, it.at) <= within
                    && is_free(&it.id)
                    && body.holds(it.at, ON_FACE_MM)
            };
            let mut leading: Vec<&Spot> = self.spots.iter().filter(can_lead).collect();
            leading.sort_by(|a, b| (a.at - pointer).hypot2().total_cmp(&(b.at - pointer).hypot2()));
            for it in leading {
                offer(it.at, format!("along the grain of {} through {}", body.name, of_its(&it.name)));
            }
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        found.into_iter().take(MOST).map(|it| it.1).collect()
    }
}

fn of_its(name: &str) -> String {
    if name.starts_with("hole") { name.to_owned() } else { format!("the {name}") }
}

/// Whether a line lies on another along the same grain.
fn is_same(one: &Faced, line: &Line) -> bool {
    let Edge::Line(other) = one.edge else { return false };
    let way = other.p1 - other.p0;
    let off = |at: Point| (at - other.p0).cross(way).abs() / way.hypot().max(SAME_MM);
    off(line.p0) < SAME_MM && off(line.p1) < SAME_MM
}
