//! A connector's plates in section, with their holes.

use kurbo::{BezPath, Point, Vec2};

use super::hatch::{Field, Pattern, hatch};
use super::pen::{self, Scene};
use super::shanks::HEAD_ON_BELOW;
use super::{Fill, Item, Layer, Line, Subject};
use crate::joint::{Connector, Duty, Plate};
use crate::trace::{HoleTrace, Owner};

/// Steel thinner than this on paper is solid; thicker steel is hatched.
const SOLID_BELOW_MM: f64 = 2.0;

/// Steel thinner than this on paper is drawn as one heavy line.
const SEEN_FROM_MM: f64 = 0.5;

/// All plates, then their holes.
pub(super) fn draw(scene: &Scene<'_>) -> Vec<Item> {
    let mut items = Vec::new();
    for body in &scene.inputs.trace.bodies {
        let Owner::Plate { connector, plate } = body.owner else { continue };
        let Some((connector, plate)) = find(scene, connector, plate) else { continue };
        items.extend(draw_plate(scene, connector, plate, &scene.outline(&body.region)));
    }
    items.extend(draw_holes(scene));
    items
}

/// The holes of all plates.
pub(super) fn draw_holes(scene: &Scene<'_>) -> Vec<Item> {
    scene.inputs.trace.holes.iter().flat_map(|it| draw_hole(scene, it)).collect()
}

fn find<'a>(scene: &Scene<'a>, connector: usize, plate: usize) -> Option<(&'a Connector, &'a Plate)> {
    let connector = scene.inputs.joint.connectors.get(connector)?;
    Some((connector, connector.plates.get(plate)?))
}

fn draw_plate(scene: &Scene<'_>, connector: &Connector, plate: &Plate, outline: &BezPath) -> Vec<Item> {
    let subject = Some(Subject::Connector(connector.id.clone()));
    let line = edge_line(plate.thickness_mm * scene.view.scale);
    let mut items =
        vec![pen::path(Layer::Connectors, subject.clone(), outline.clone(), Some(Fill::Steel), Some(line))];
    if SOLID_BELOW_MM <= plate.thickness_mm * scene.view.scale {
        let strokes = hatch(Pattern::Steel, &Field { visible: outline, whole: outline, seen: scene.seen });
        items.push(pen::path(Layer::Connectors, subject, strokes, None, Some(Pattern::Steel.line())));
    }
    items
}

/// The outline of a plate so thick on paper. Between the two limits a heavy outline would make the plate
/// several times as thick as it is; a still thinner one is nothing but its outline and must be seen.
fn edge_line(thickness_mm: f64) -> Line {
    if (SEEN_FROM_MM..SOLID_BELOW_MM).contains(&thickness_mm) { Line::Hole } else { Line::Steel }
}

/// A hole in section: the steel is interrupted, and its two walls are seen.
fn draw_hole(scene: &Scene<'_>, trace: &HoleTrace) -> Vec<Item> {
    let Some((connector, plate)) = find(scene, trace.connector, trace.plate) else { return Vec::new() };
    let Some(hole) = plate.holes.get(trace.hole) else { return Vec::new() };
    let subject = Subject::Hole(connector.id.clone(), hole.id.clone());
    let at = scene.view.on_paper(trace.at);
    let through = scene.direction(trace.square) * (plate.thickness_mm * scene.view.scale);
    if !at.is_finite() {
        return Vec::new();
    }
    if through.hypot() < HEAD_ON_BELOW * plate.thickness_mm * scene.view.scale || through.hypot() <= 0.0 {
        let rim = pen::circle(at, hole.diameter_mm * scene.view.scale / 2.0);
        return vec![pen::path(Layer::Connectors, Some(subject), rim, Some(Fill::Paper), Some(Line::Hole))];
    }
    let along = Vec2::new(-through.y, through.x).normalize() * (hole.diameter_mm * scene.view.scale / 2.0);
    // A little more than the steel, so that its edge line is interrupted too.
    let beyond = through.normalize() * (edge_line(through.hypot()).width_mm() / 2.0);
    let corner = |side: Vec2, end: Vec2| at + side + end;
    let gap = pen::polygon(&[
        corner(along, -beyond),
        corner(along, through + beyond),
        corner(-along, through + beyond),
        corner(-along, -beyond),
    ]);
    let mut walls = pen::stroke(at + along, at + along + through);
    pen::add_stroke(&mut walls, at - along, at - along + through);
    vec![
        pen::path(Layer::Connectors, Some(subject.clone()), gap, Some(Fill::Paper), None),
        pen::path(Layer::Connectors, Some(subject), walls, None, Some(Line::Hole)),
    ]
}

/// The letter that tags a hole, and its words in a legend.
pub(super) fn tag(duty: Duty) -> (&'static str, &'static str) {
    match duty {
        Duty::Required => ("R", "required hole"),
        Duty::Extra => ("E", "extra hole, for the higher of two ratings"),
        Duty::HoldingUp => ("H", "holding-up hole, carries nothing"),
    }
}

/// Where a hole's tag would best stand: the hole on the paper, and the way out of the steel there.
pub(super) fn tag_place(scene: &Scene<'_>, trace: &HoleTrace) -> (Point, Vec2) {
    (scene.view.on_paper(trace.at), -scene.direction(trace.square))
}
