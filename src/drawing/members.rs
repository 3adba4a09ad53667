//! Members: filled by material, hatched and outlined, the nearer over the farther.

use kurbo::{BezPath, Line as Segment, ParamCurve as _, Point, Rect, Shape as _};

use super::hatch::{Field, Pattern, hatch};
use super::pen::{self, Scene};
use super::projection::inside;
use super::{Fill, Item, Layer, Line, Subject};
use crate::joint::{Grain, Member};
use crate::shape::Region;
use crate::stock::Family;
use crate::trace::{Body, Owner, Stuff, TOUCH_MM};

/// An edge this near to the border of an enlarged detail lies on it.
const ON_THE_WINDOW_MM: f64 = 0.02;

/// A member with its body and its outline on paper.
struct Piece<'a> {
    member: &'a Member,
    body: &'a Body,
    outline: BezPath,
    bounds: Rect,
}

/// All members with their hatching, and the hidden edges of what lies behind another.
pub(super) fn draw(scene: &Scene<'_>) -> Vec<Item> {
    let mut pieces: Vec<Piece<'_>> = scene
        .inputs
        .trace
        .bodies
        .iter()
        .filter_map(|body| {
            let Owner::Member(number) = body.owner else { return None };
            let member = scene.inputs.joint.members.get(number)?;
            let outline = scene.outline(&body.region);
            let bounds = outline.bounding_box();
            Some(Piece { member, body, outline, bounds })
        })
        .collect();
    // The sort is stable: of two pieces in one depth the later one takes the place, as in the trace.
    pieces.sort_by(|a, b| a.body.near_mm.total_cmp(&b.body.near_mm));
    let mut items = Vec::new();
    let mut hidden = Vec::new();
    for (n, piece) in pieces.iter().enumerate() {
        let covers: Vec<&Piece<'_>> =
            pieces[n + 1..].iter().filter(|it| share(piece.bounds, it.bounds, scene.view.scale)).collect();
        items.extend(draw_piece(scene, piece, &covers));
        let edges = hidden_edges(piece, &covers);
        if !edges.is_empty() {
            let subject = Some(subject(piece));
            hidden.push(pen::path(Layer::Members, subject, pen::dashed(&edges), None, Some(Line::Hidden)));
        }
    }
    items.extend(hidden);
    items
}

fn subject(piece: &Piece<'_>) -> Subject {
    Subject::Member(piece.member.id.clone())
}

/// Whether two boxes on paper have more in common than a touch.
fn share(a: Rect, b: Rect, scale: f64) -> bool {
    let common = a.intersect(b);
    TOUCH_MM * scale < common.width() && TOUCH_MM * scale < common.height()
}

fn draw_piece(scene: &Scene<'_>, piece: &Piece<'_>, covers: &[&Piece<'_>]) -> Vec<Item> {
    let bears = piece.body.stuff != Stuff::Filling;
    let line = if bears { Line::Cut } else { Line::Filling };
    let area = piece.outline.clone();
    let colour = fill(piece.body.stuff, piece.member.material.family);
    let mut items = match scene.window {
        Some(window) => broken_off(piece, (colour, line), window.at),
        None => vec![pen::path(Layer::Members, Some(subject(piece)), area, Some(colour), Some(line))],
    };
    let visible = if covers.is_empty() {
        piece.outline.clone()
    } else {
        let others: Vec<Region> = covers.iter().map(|it| it.body.region.clone()).collect();
        scene.outline(&piece.body.region.minus(&others))
    };
    let field = Field { visible: &visible, whole: &piece.outline, seen: scene.seen };
    let Member { material, grain, blocking, .. } = piece.member;
    let mut pattern = Pattern::of(material, *grain, *blocking, bears);
    if pattern == Pattern::Plies && lies_flat(piece) {
        // Plies are seen on the edge of a panel; on its face only the grain of the outer one.
        pattern = Pattern::Grain(face_grain_deg(piece));
    }
    let strokes = hatch(pattern, &field);
    if !strokes.is_empty() {
        items.push(pen::path(Layer::Hatch, Some(subject(piece)), strokes, None, Some(pattern.line())));
    }
    items
}

/// Whether a piece is thinner in depth than it is wide and high.
fn lies_flat(piece: &Piece<'_>) -> bool {
    let (at, depth) = (piece.body.region.bounds(), piece.body.near_mm - piece.body.far_mm);
    depth < at.width().min(at.height())
}

/// The way of the grain on the face of a panel: as it is given, else along its longer side.
fn face_grain_deg(piece: &Piece<'_>) -> f64 {
    match piece.member.grain {
        Grain::InPlane(deg) => deg,
        Grain::AlongDepth | Grain::None if piece.bounds.width() < piece.bounds.height() => 90.0,
        Grain::AlongDepth | Grain::None => 0.0,
    }
}

/// A piece in an enlarged detail: where it goes on it ends in a break line.
fn broken_off(piece: &Piece<'_>, (colour, line): (Fill, Line), window: Rect) -> Vec<Item> {
    let is_on = |p: Point| {
        let near = |a: f64, b: f64| (a - b).abs() < ON_THE_WINDOW_MM;
        (near(p.x, window.x0), near(p.x, window.x1), near(p.y, window.y0), near(p.y, window.y1))
    };
    let (mut edges, mut breaks) = (BezPath::new(), BezPath::new());
    for (from, to) in pen::chords(&piece.outline) {
        let (a, b) = (is_on(from), is_on(to));
        if (a.0 && b.0) || (a.1 && b.1) || (a.2 && b.2) || (a.3 && b.3) {
            breaks.extend(pen::zigzag(Segment::new(from, to)).iter());
        } else {
            pen::add_stroke(&mut edges, from, to);
        }
    }
    let item = |path, fill, line| pen::path(Layer::Members, Some(subject(piece)), path, fill, line);
    vec![
        item(piece.outline.clone(), Some(colour), None),
        item(edges, None, Some(line)),
        item(breaks, None, Some(Line::Break)),
    ]
}

/// What fills a member.
pub(super) fn fill(stuff: Stuff, family: Family) -> Fill {
    if stuff == Stuff::Filling {
        return Fill::Filling;
    }
    match family {
        Family::Lumber => Fill::Lumber,
        Family::Glulam | Family::Engineered => Fill::Engineered,
        Family::Panel => Fill::Panel,
        Family::Concrete | Family::Masonry => Fill::Concrete,
        Family::Steel => Fill::Steel,
        Family::Filling => Fill::Filling,
    }
}

/// The edges of a piece that lie behind a nearer one. Pieces of one depth that overlap are a fault of
/// the drawing, and there the dashes show where the covered one goes on.
fn hidden_edges(piece: &Piece<'_>, covers: &[&Piece<'_>]) -> BezPath {
    let mut edges = BezPath::new();
    for cover in covers {
        for (start, end) in pen::chords(&piece.outline) {
            let segment = Segment::new(start, end);
            for (from, to) in inside(segment, &cover.outline) {
                pen::add_stroke(&mut edges, segment.eval(from), segment.eval(to));
            }
        }
    }
    edges
}
