//! The same work with general-purpose libraries: an R-tree (`rstar`) to find what is near, `geo`'s line
//! intersection, `contains` and distance for the rest. Written as one would who knows them well:
//! polygons and trees are made ready once and not counted, nothing is allocated that need not be.
//!
//! It does a little less than the trace: no shear planes by kind, no holes, no seats. Round outlines
//! are polygons of 64 sides, since `geo` has no arcs, and all sides of one circle are one face.

use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{Contains, Coord, Distance, Euclidean, Line, Point, Polygon};
use rstar::{AABB, RTree, RTreeObject};
use shankline::joint::{Interval, Joint, Placement};
use shankline::shape::Region;
use shankline::trace::Bodies;
use shankline::unit::Vec3;

/// A body as `geo` has it.
struct Solid {
    polygon: Polygon,
    /// Its edges, each with the number of its face.
    edges: Vec<(Line, usize)>,
    depth: Interval,
    bears: bool,
}

/// A box in space with what it stands for.
struct Boxed {
    bounds: AABB<[f64; 3]>,
    index: usize,
}

impl RTreeObject for Boxed {
    type Envelope = AABB<[f64; 3]>;
    fn envelope(&self) -> Self::Envelope {
        self.bounds
    }
}

/// A shank's axis.
struct Axis {
    head: Vec3,
    toward: Vec3,
    length: f64,
    diameter: f64,
}

impl Axis {
    fn at(&self, along: f64) -> Vec3 {
        self.head + self.toward * along
    }

    fn bounds(&self, margin: f64) -> AABB<[f64; 3]> {
        let (a, b) = (self.head.to_array(), self.at(self.length).to_array());
        let low = [0, 1, 2].map(|n| a[n].min(b[n]) - margin);
        let high = [0, 1, 2].map(|n| a[n].max(b[n]) + margin);
        AABB::from_corners(low, high)
    }
}

/// A scene made ready for the libraries.
pub(crate) struct Ready {
    solids: Vec<Solid>,
    tree: RTree<Boxed>,
    axes: Vec<Axis>,
}

/// What comes out of it, so that nothing is left out as unused.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Sum {
    pub(crate) runs: usize,
    pub(crate) solid_mm: f64,
    pub(crate) cover_mm: f64,
    pub(crate) distances_mm: f64,
    pub(crate) neighbours: usize,
}

fn coord(it: Vec3) -> Coord {
    Coord { x: it.x, y: it.y }
}

fn solid(region: &Region, depth: Interval, bears: bool) -> Solid {
    let mut edges = Vec::new();
    let mut rings: Vec<geo::LineString> = Vec::new();
    let mut face = 0;
    for ring in &region.loops {
        let mut corners = Vec::new();
        for edge in ring {
            let sides = if matches!(edge, shankline::shape::Edge::Line(_)) { 1 } else { 64_u32 };
            for n in 0..sides {
                let at = |n: u32| edge.at(f64::from(n) / f64::from(sides));
                let (a, b) = (at(n), at(n + 1));
                edges.push((Line::new(Coord { x: a.x, y: a.y }, Coord { x: b.x, y: b.y }), face));
                corners.push(Coord { x: a.x, y: a.y });
            }
            face += 1;
        }
        rings.push(corners.into_iter().collect());
    }
    let mut rings = rings.into_iter();
    let outer = rings.next().unwrap_or_else(|| geo::LineString::new(Vec::new()));
    Solid { polygon: Polygon::new(outer, rings.collect()), edges, depth, bears }
}

/// Makes a joint ready.
pub(crate) fn ready(joint: &Joint) -> Ready {
    let bodies = Bodies::of(joint);
    let solids: Vec<Solid> = bodies
        .list
        .iter()
        .map(|it| {
            let bears = it.stuff == shankline::trace::Stuff::Bearing;
            solid(&it.region, Interval { from: it.far_mm, to: it.near_mm }, bears)
        })
        .collect();
    let boxes = bodies.list.iter().enumerate().map(|(index, it)| {
        let plan = it.region.bounds();
        let bounds = AABB::from_corners([plan.x0, plan.y0, it.far_mm], [plan.x1, plan.y1, it.near_mm]);
        Boxed { bounds, index }
    });
    let tree = RTree::bulk_load(boxes.collect());
    let axes = joint.fasteners.iter().filter_map(|it| match &it.place {
        Placement::Free { head, toward } => toward.unit().map(|toward| Axis {
            head: *head,
            toward,
            length: it.spec.length_mm,
            diameter: it.spec.diameter_mm,
        }),
        Placement::Fills { .. } => None,
    });
    Ready { axes: axes.collect(), solids, tree }
}

/// A run of an axis in a body and the faces by which it comes and goes.
#[derive(Clone, Copy)]
struct Stay {
    from: f64,
    to: f64,
    body: usize,
    faces: [usize; 2],
}

/// Cores, covers, distances at the shear planes and spacings of the whole scene.
pub(crate) fn run(ready: &Ready) -> Sum {
    let mut sum = Sum::default();
    let (mut stays, mut hits) = (Vec::new(), Vec::new());
    let mut bearing: Vec<(usize, usize)> = Vec::new();
    for (n, axis) in ready.axes.iter().enumerate() {
        stays.clear();
        for found in ready.tree.locate_in_envelope_intersecting(&axis.bounds(0.0)) {
            clip(axis, found.index, &ready.solids[found.index], &mut hits, &mut stays);
        }
        stays.sort_by(|a: &Stay, b: &Stay| a.from.total_cmp(&b.from));
        sum.runs += 2 * stays.len() + 1;
        for stay in &stays {
            sum.solid_mm += stay.to - stay.from;
            let solid = &ready.solids[stay.body];
            if solid.bears {
                sum.cover_mm += cover(axis, stay, solid);
                bearing.push((stay.body, n));
            }
        }
        for pair in stays.windows(2) {
            for (stay, along, face) in
                [(&pair[0], pair[0].to, pair[0].faces[1]), (&pair[1], pair[1].from, pair[1].faces[0])]
            {
                let solid = &ready.solids[stay.body];
                if solid.bears {
                    sum.distances_mm += on_face(axis.at(along), face, solid);
                }
            }
        }
    }
    sum.neighbours = spacings(ready, &bearing);
    sum
}

/// Where the axis is in one body: each edge is crossed, each stretch asked by its middle.
fn clip(axis: &Axis, body: usize, solid: &Solid, hits: &mut Vec<(f64, usize)>, stays: &mut Vec<Stay>) {
    let (a, b) = (axis.head, axis.at(axis.length));
    let line = Line::new(coord(a), coord(b));
    let slope = axis.toward.x.hypot(axis.toward.y);
    hits.clear();
    hits.extend([(0.0, usize::MAX), (axis.length, usize::MAX)]);
    for (edge, face) in &solid.edges {
        match line_intersection(line, *edge) {
            Some(LineIntersection::SinglePoint { intersection: it, .. }) => {
                hits.push(((it.x - a.x).hypot(it.y - a.y) / slope, *face));
            }
            Some(LineIntersection::Collinear { intersection: it }) => {
                let share = |c: Coord| (c.x - a.x).hypot(c.y - a.y) / slope;
                hits.extend([(share(it.start), *face), (share(it.end), *face)]);
            }
            None => {}
        }
    }
    if 1e-12 < axis.toward.z.abs() {
        for z in [solid.depth.from, solid.depth.to] {
            let along = (z - a.z) / axis.toward.z;
            if 0.0 < along && along < axis.length {
                hits.push((along, usize::MAX - 1));
            }
        }
    }
    hits.sort_by(|a, b| a.0.total_cmp(&b.0));
    for pair in hits.windows(2) {
        if pair[1].0 - pair[0].0 <= 1e-9 {
            continue;
        }
        let middle = axis.at(0.5 * (pair[0].0 + pair[1].0));
        let is_deep = solid.depth.from < middle.z && middle.z < solid.depth.to;
        if is_deep && solid.polygon.contains(&Point::new(middle.x, middle.y)) {
            stays.push(Stay { from: pair[0].0, to: pair[1].0, body, faces: [pair[0].1, pair[1].1] });
        }
    }
}

/// Least distance to the faces that the run neither comes in nor goes out by.
fn cover(axis: &Axis, stay: &Stay, solid: &Solid) -> f64 {
    let (a, b) = (axis.at(stay.from), axis.at(stay.to));
    let line = Line::new(coord(a), coord(b));
    let sides = solid.edges.iter().filter(|it| !stay.faces.contains(&it.1));
    let least = sides.map(|it| Euclidean.distance(&line, &it.0)).fold(f64::INFINITY, f64::min);
    let depth = a.z.min(b.z) - solid.depth.from;
    least.min(depth).min(solid.depth.to - a.z.max(b.z))
}

/// End and edge distances both ways on the face that the axis crosses there.
fn on_face(at: Vec3, face: usize, solid: &Solid) -> f64 {
    let Some(edge) = solid.edges.iter().find(|it| it.1 == face) else { return 0.0 };
    let way = edge.0.delta();
    let long = 1e4 / way.x.hypot(way.y);
    let middle = coord(at);
    // A hair inside, so that the face itself is not met all along.
    let inside = Coord { x: middle.x - way.y * 1e-6, y: middle.y + way.x * 1e-6 };
    let mut sum = (at.z - solid.depth.from) + (solid.depth.to - at.z);
    for sense in [1.0, -1.0] {
        let ray = Line::new(
            inside,
            Coord { x: inside.x + way.x * long * sense, y: inside.y + way.y * long * sense },
        );
        let mut least = f64::INFINITY;
        for (other, _) in &solid.edges {
            if let Some(LineIntersection::SinglePoint { intersection: it, .. }) =
                line_intersection(ray, *other)
            {
                least = least.min(Euclidean.distance(Point::from(middle), Point::from(it)));
            }
        }
        sum += least;
    }
    sum
}

/// Pairs of fasteners in one bearing body within sixteen diameters.
fn spacings(ready: &Ready, bearing: &[(usize, usize)]) -> usize {
    let boxed =
        bearing.iter().enumerate().map(|(index, it)| Boxed { bounds: ready.axes[it.1].bounds(0.0), index });
    let tree = RTree::bulk_load(boxed.collect());
    let mut pairs = 0;
    for (n, (body, fastener)) in bearing.iter().enumerate() {
        let axis = &ready.axes[*fastener];
        let reach = 16.0 * axis.diameter;
        for found in tree.locate_in_envelope_intersecting(&axis.bounds(reach)) {
            let (other_body, other) = bearing[found.index];
            if found.index <= n || other_body != *body || other == *fastener {
                continue;
            }
            pairs += usize::from(apart(axis, &ready.axes[other]) <= reach);
        }
    }
    pairs
}

/// Least distance between two axes (closest places of two segments: Ericson, Real-Time Collision Detection, 5.1.9).
fn apart(a: &Axis, b: &Axis) -> f64 {
    let between = a.head - b.head;
    let cosine = a.toward.dot(b.toward);
    let (c, f) = (a.toward.dot(between), b.toward.dot(between));
    let area = 1.0 - cosine * cosine;
    let free = if 1e-12 < area { ((cosine * f - c) / area).clamp(0.0, a.length) } else { 0.0 };
    let on_b = (cosine * free + f).clamp(0.0, b.length);
    let on_a = (cosine * on_b - c).clamp(0.0, a.length);
    (a.at(on_a) - b.at(on_b)).length()
}
