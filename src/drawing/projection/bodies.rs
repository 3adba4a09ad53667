//! Bodies in a view: the farther before the nearer, cut faces hatched, hidden edges dashed.

use kurbo::{BezPath, Line as Segment, ParamCurve as _, Point, Rect};

use super::pieces::{Edge, Piece, gaps_between, sight};
use crate::drawing::hatch::{Field, Pattern, hatch};
use crate::drawing::members::fill;
use crate::drawing::pen::{self, Scene};
use crate::drawing::{Fill, Item, Layer, Line, Subject};
use crate::trace::{Body, Owner, Stuff};

/// Steel thinner than this on paper is solid where it is cut; thicker steel is hatched.
const SOLID_BELOW_MM: f64 = 2.0;

/// Lines closer than this on paper are one.
const SAME_LINE_MM: f64 = 0.05;

/// Of more edges than this nobody could tell which hides which: hidden ones are left out.
const MOST_EDGES: usize = 3_000;

/// All bodies.
pub(super) fn draw(scene: &Scene<'_>, pieces: &[Piece]) -> Vec<Item> {
    let mut order: Vec<&Piece> = pieces.iter().collect();
    order.sort_by(|a, b| a.near.total_cmp(&b.near));
    let mut items: Vec<Item> = order.iter().flat_map(|it| draw_face(scene, it)).collect();
    items.extend(draw_edges(scene, pieces));
    items
}

fn of<'a>(scene: &Scene<'a>, piece: &Piece) -> Option<(&'a Body, Layer, Subject)> {
    let body = scene.inputs.trace.bodies.get(piece.body)?;
    let joint = scene.inputs.joint;
    let (layer, subject) = match body.owner {
        Owner::Member(n) => (Layer::Members, Subject::Member(joint.members.get(n)?.id.clone())),
        Owner::Plate { connector, .. } => {
            (Layer::Connectors, Subject::Connector(joint.connectors.get(connector)?.id.clone()))
        }
    };
    Some((body, layer, subject))
}

/// The face of a piece, hatched where it is cut. What is only seen stays plain, so that it stands back.
fn draw_face(scene: &Scene<'_>, piece: &Piece) -> Vec<Item> {
    let Some((body, layer, subject)) = of(scene, piece) else { return Vec::new() };
    let outline = scene.outline(&piece.region);
    let member = match body.owner {
        Owner::Member(n) => scene.inputs.joint.members.get(n),
        Owner::Plate { .. } => None,
    };
    let colour = member.map_or(Fill::Steel, |it| fill(body.stuff, it.material.family));
    let mut items = vec![pen::path(layer, Some(subject.clone()), outline.clone(), Some(colour), None)];
    if !piece.is_cut {
        return items;
    }
    let pattern = match member {
        Some(it) => Pattern::of(&it.material, body.grain, it.blocking, body.stuff != Stuff::Filling),
        None if is_thin(scene, piece) => Pattern::None,
        None => Pattern::Steel,
    };
    let strokes = hatch(pattern, &Field { visible: &outline, whole: &outline, seen: scene.seen });
    if !strokes.is_empty() {
        // A nearer piece covers the hatching too, so it lies with its own face.
        items.push(pen::path(layer, Some(subject), strokes, None, Some(pattern.line())));
    }
    items
}

fn is_thin(scene: &Scene<'_>, piece: &Piece) -> bool {
    let bounds = piece.region.bounds();
    bounds.width().min(bounds.height()) * scene.view.scale < SOLID_BELOW_MM
}

/// What lines of one kind of one body come to.
struct Drawn {
    layer: Layer,
    subject: Subject,
    line: Line,
    path: BezPath,
}

fn draw_edges(scene: &Scene<'_>, pieces: &[Piece]) -> Vec<Item> {
    let mut seen_lines: Vec<Segment> = Vec::new();
    let mut hidden: Vec<(Segment, Layer, Subject)> = Vec::new();
    let mut drawn: Vec<Drawn> = Vec::new();
    let count: usize = pieces.iter().map(|it| it.edges.len()).sum();
    for piece in pieces {
        let Some((body, layer, subject)) = of(scene, piece) else { continue };
        let line = line_of(scene, piece, body);
        for edge in &piece.edges {
            let (free, covered) =
                if count <= MOST_EDGES { sight(edge, pieces) } else { (vec![(0.0, 1.0)], Vec::new()) };
            for stretch in free {
                let at = on_paper(scene, part(edge, stretch));
                let kind = if edge.is_break { Line::Break } else { line };
                let path = if edge.is_break { pen::zigzag(at) } else { pen::stroke(at.p0, at.p1) };
                add(&mut drawn, (layer, &subject, kind), &path);
                seen_lines.push(at);
            }
            if !edge.is_break && body.stuff != Stuff::Filling {
                let parts = covered.into_iter().map(|it| on_paper(scene, part(edge, it)));
                hidden.extend(parts.map(|it| (it, layer, subject.clone())));
            }
        }
    }
    // A line that is seen goes before one that is hidden, and of two hidden ones one is enough.
    for (at, layer, subject) in hidden {
        for stretch in not_along(at, &seen_lines) {
            let at = Segment::new(at.eval(stretch.0), at.eval(stretch.1));
            let path = pen::hidden(&pen::stroke(at.p0, at.p1));
            add(&mut drawn, (layer, &subject, Line::Hidden), &path);
            seen_lines.push(at);
        }
    }
    drawn.into_iter().map(|it| pen::path(it.layer, Some(it.subject), it.path, None, Some(it.line))).collect()
}

fn line_of(scene: &Scene<'_>, piece: &Piece, body: &Body) -> Line {
    match (body.stuff, piece.is_cut) {
        (Stuff::Filling, _) => Line::Filling,
        (Stuff::Steel, true) if is_thin(scene, piece) => Line::Hole,
        (Stuff::Steel, true) => Line::Steel,
        (Stuff::Bearing, true) => Line::Cut,
        (Stuff::Bearing | Stuff::Steel, false) => Line::Seen,
    }
}

fn add(drawn: &mut Vec<Drawn>, (layer, subject, line): (Layer, &Subject, Line), path: &BezPath) {
    let same = drawn.iter_mut().find(|it| it.layer == layer && it.line == line && it.subject == *subject);
    match same {
        Some(it) => it.path.extend(path.iter()),
        None => drawn.push(Drawn { layer, subject: subject.clone(), line, path: path.clone() }),
    }
}

fn part(edge: &Edge, (from, to): (f64, f64)) -> Segment {
    Segment::new(edge.at.eval(from), edge.at.eval(to))
}

fn on_paper(scene: &Scene<'_>, it: Segment) -> Segment {
    scene.affine() * it
}

/// The stretches of a line along which none of the others lies.
fn not_along(at: Segment, others: &[Segment]) -> Vec<(f64, f64)> {
    let way = at.p1 - at.p0;
    let long = way.hypot();
    if long < SAME_LINE_MM {
        return Vec::new();
    }
    let bounds = Rect::from_points(at.p0, at.p1).inflate(SAME_LINE_MM, SAME_LINE_MM);
    let read = |p: Point| ((p - at.p0).dot(way) / (long * long), (p - at.p0).cross(way).abs() / long);
    let mut taken: Vec<(f64, f64)> = others
        .iter()
        .filter(|it| bounds.overlaps(Rect::from_points(it.p0, it.p1).inflate(SAME_LINE_MM, SAME_LINE_MM)))
        .filter_map(|it| {
            let ((s, off), (t, also)) = (read(it.p0), read(it.p1));
            let is_along = off < SAME_LINE_MM && also < SAME_LINE_MM;
            is_along.then(|| (s.min(t).clamp(0.0, 1.0), s.max(t).clamp(0.0, 1.0)))
        })
        .filter(|it| it.0 < it.1)
        .collect();
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    gaps_between(&taken).into_iter().filter(|it| SAME_LINE_MM < (it.1 - it.0) * long).collect()
}
