//! Dimensions that the user placed: they follow what they hold on to, and say so in numbers that follow too.

use kurbo::{BezPath, Point, Rect, Shape as _, Vec2};

use super::pen::{Scene, TRUE_WITHIN_MM, Words};
use super::place::Taken;
use super::put::Drawn;
use super::text::{CAPITAL, WORDS_MM, turned_box};
use super::{Anchor, Fill, Inputs, Item, Layer, Line, Shape, Subject};
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
/// Clear paper around a figure.
const CLEAR_MM: f64 = 0.4;

/// The dimensions that the user placed in this view, as they lie now in its plane, each with its place in the
/// joint's list.
pub(super) fn measured(inputs: &Inputs<'_>, look: Look) -> Vec<(usize, Measured)> {
    let all = inputs.joint.dimensions.iter().enumerate().filter(|it| it.1.look == look);
    all.filter_map(|(n, it)| Some((n, dimension(inputs.joint, inputs.trace, it)?))).collect()
}

/// Draws them in their view.
pub(super) fn draw(scene: &Scene<'_>, measured: &[(usize, Measured)], taken: &mut Taken) -> Drawn {
    let mut drawn = Drawn::default();
    for (n, it) in measured {
        let before = (drawn.items.len(), drawn.put.len());
        one(scene, (*n, it), taken, &mut drawn);
        let new = drawn.items[before.0..].iter_mut().chain(&mut drawn.put[before.1..]);
        new.for_each(|it| it.subject = Some(Subject::Dimension(*n)));
    }
    drawn
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

fn one(scene: &Scene<'_>, (n, it): (usize, &Measured), taken: &mut Taken, drawn: &mut Drawn) {
    let on_paper = |at: Point| scene.view.on_paper(Vec3::new(at.x, at.y, 0.0));
    let (from, to) = (on_paper(it.line.0), on_paper(it.line.1));
    let way = to - from;
    if way.hypot() < 0.05 || !way.is_finite() {
        return;
    }
    let along = way.normalize();
    drawn.items.push(stroke(from, to, Line::Dimension));
    taken.add_stroke(from, to, 0.2);
    for (place, end) in [(on_paper(it.from), from), (on_paper(it.to), to)] {
        let out = end - place;
        if GAP_MM < out.hypot() {
            let away = out.normalize();
            drawn.items.push(stroke(place + away * GAP_MM, end + away * BEYOND_MM, Line::Dimension));
            taken.add_stroke(place + away * GAP_MM, end + away * BEYOND_MM, 0.2);
        }
        let half = (along + Vec2::new(along.y, -along.x)) * (TICK_MM / 2.0 / std::f64::consts::SQRT_2);
        drawn.items.push(stroke(end - half, end + half, Line::Tick));
        taken.add_box(Rect::from_center_size(end, (TICK_MM * 0.7, TICK_MM * 0.7)));
    }
    // Figures read from below or from the right.
    let reads = if along.x < -1e-9 || (along.x.abs() <= 1e-9 && 0.0 < along.y) { -along } else { along };
    let turn_deg = (-reads.y).atan2(reads.x).to_degrees();
    let up = Vec2::new(reads.y, -reads.x);
    let words = length::format(it.mm, scene.inputs.joint.show_lengths_in, Rounding::Nearest);
    // The sheet says once that lengths are in millimetres.
    let words = words.strip_suffix(" mm").map_or_else(|| words.clone(), str::to_owned);
    let half = scene.lettering.width_mm(&words, WORDS_MM, false) / 2.0;
    let flat = Rect::new(-half, -CAPITAL * WORDS_MM, half, 0.0).inflate(CLEAR_MM, CLEAR_MM);
    let what = format!("figure placed {}", n + 1);
    let anchor = from.midpoint(to) + up * (LIFT_MM + CAPITAL * WORDS_MM / 2.0);
    let put = scene.manner.put(&what, anchor);
    let at = put.unwrap_or(anchor) - up * (CAPITAL * WORDS_MM / 2.0);
    let room = turned_box(at, flat, turn_deg);
    taken.add_box(room);
    drawn.handles.extend(scene.manner.handle(&what, room, anchor));
    // A dimension that the user lays over the joint must be read on its hatching.
    let ground = Shape::Path { path: room.to_path(TRUE_WITHIN_MM), fill: Some(Fill::Paper), line: None };
    let words = Words::new(words, WORDS_MM).anchored(Anchor::Middle).turned(turn_deg);
    drawn.add([item(ground), words.at(Layer::Dimensions, None, at)], put.is_some());
}
