//! Dimensions that the user placed: they follow what they hold on to, and say so in numbers that follow too.

use kurbo::{BezPath, Point, Rect, Vec2};

use super::pen::Scene;
use super::place::Taken;
use super::text::{CAPITAL, WORDS_MM, turned_box};
use super::{Anchor, Ink, Item, Layer, Line, Shape};
use crate::joint::Look;
use crate::trace::{Measured, dimension};
use crate::unit::Vec3;
use crate::unit::length::{self, Rounding};

/// Clear paper between what is measured and its extension line.
const GAP_MM: f64 = 1.5;
/// How far an extension line runs past its dimension line.
const BEYOND_MM: f64 = 2.5;
/// Length of an oblique tick.
const TICK_MM: f64 = 3.0;
/// From the dimension line to the foot of its figure.
const LIFT_MM: f64 = 0.9;

/// The placed dimensions of a view from the front; the other views have none.
pub(super) fn draw(scene: &Scene<'_>, taken: &mut Taken) -> Vec<Item> {
    if scene.holder.is_some_and(|it| it.look != Look::Front) {
        return Vec::new();
    }
    let joint = scene.inputs.joint;
    let lying = joint.dimensions.iter().filter_map(|it| dimension(joint, scene.inputs.trace, it));
    lying.flat_map(|it| one(scene, &it, taken)).collect()
}

fn item(shape: Shape) -> Item {
    Item { layer: Layer::Dimensions, subject: None, shape }
}

fn stroke(from: Point, to: Point, line: Line) -> Item {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    item(Shape::Path { path, fill: None, line: Some(line) })
}

fn one(scene: &Scene<'_>, it: &Measured, taken: &mut Taken) -> Vec<Item> {
    let on_paper = |at: Point| scene.view.on_paper(Vec3::new(at.x, at.y, 0.0));
    let (from, to) = (on_paper(it.line.0), on_paper(it.line.1));
    let way = to - from;
    if way.hypot() < 0.05 || !way.is_finite() {
        return Vec::new();
    }
    let along = way.normalize();
    let mut items = vec![stroke(from, to, Line::Dimension)];
    taken.add_stroke(from, to, 0.2);
    for (place, end) in [(on_paper(it.from), from), (on_paper(it.to), to)] {
        let out = end - place;
        if GAP_MM < out.hypot() {
            let away = out.normalize();
            items.push(stroke(place + away * GAP_MM, end + away * BEYOND_MM, Line::Dimension));
            taken.add_stroke(place + away * GAP_MM, end + away * BEYOND_MM, 0.2);
        }
        let half = (along + Vec2::new(along.y, -along.x)) * (TICK_MM / 2.0 / std::f64::consts::SQRT_2);
        items.push(stroke(end - half, end + half, Line::Tick));
    }
    // Figures read from below or from the right.
    let reads = if along.x < -1e-9 || (along.x.abs() <= 1e-9 && 0.0 < along.y) { -along } else { along };
    let turn_deg = (-reads.y).atan2(reads.x).to_degrees();
    let up = Vec2::new(reads.y, -reads.x);
    let at = from.midpoint(to) + up * LIFT_MM;
    let words = length::format(it.mm, scene.inputs.joint.show_lengths_in, Rounding::Nearest);
    let half = scene.lettering.width_mm(&words, WORDS_MM, false) / 2.0;
    taken.add_box(turned_box(at, Rect::new(-half, -CAPITAL * WORDS_MM, half, 0.0), turn_deg));
    items.push(item(Shape::Text {
        at,
        words,
        size_mm: WORDS_MM,
        anchor: Anchor::Middle,
        turn_deg,
        bold: false,
        ink: Ink::Plain,
    }));
    items
}
