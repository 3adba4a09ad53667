//! Fasteners in a view: as from the front where nothing hides them, dashed where something does.

use kurbo::{Point, Shape as _};

use super::Turned;
use super::pieces::hides;
use crate::drawing::pen::{self, Scene};
use crate::drawing::place::Taken;
use crate::drawing::shanks::{HEAD_ON_BELOW, draw_one, is_seen};
use crate::drawing::{Fill, Item, Line, Shape};
use crate::trace::Shank;

/// All fasteners.
pub(super) fn draw(scene: &Scene<'_>, turned: &Turned<'_>, taken: &mut Taken) -> Vec<Item> {
    let mut items = Vec::new();
    for (n, shank) in scene.inputs.trace.fasteners.iter().enumerate() {
        if !is_seen(scene, n) {
            continue;
        }
        let drawn = draw_one(scene, n, taken);
        if turned.in_sight.get(n).copied().unwrap_or(true) {
            items.extend(drawn);
        } else {
            items.extend(drawn.into_iter().filter_map(|it| behind(scene, turned, shank, it)));
        }
    }
    items
}

/// The item as it is, or dashed where a nearer piece lies over its middle.
fn behind(scene: &Scene<'_>, turned: &Turned<'_>, shank: &Shank, item: Item) -> Option<Item> {
    let Shape::Path { path, fill, line } = &item.shape else { return Some(item) };
    if path.is_empty() {
        return None;
    }
    let at = scene.view.in_model(path.bounding_box().center());
    let depth = depth_at(shank, at);
    if !turned.pieces.iter().any(|it| hides(it, at, depth)) {
        return Some(item);
    }
    match (fill, line) {
        // Centre lines are drawn over everything.
        (None, Some(Line::Dimension)) => Some(item),
        // Bright edges on a dark head.
        (Some(Fill::Paper), None) => None,
        _ => {
            let shape = Shape::Path { path: pen::hidden(path), fill: None, line: Some(Line::Hidden) };
            Some(Item { shape, ..item })
        }
    }
}

/// How near the shank's axis is where it passes this place; of one that looks at the viewer its nearest end.
fn depth_at(shank: &Shank, at: Point) -> f64 {
    let flat = kurbo::Vec2::new(shank.toward.x, shank.toward.y);
    let end = shank.head_at + shank.toward * shank.length_mm;
    if flat.hypot() < HEAD_ON_BELOW {
        return shank.head_at.z.max(end.z);
    }
    let s = ((at - shank.head_at.plan()).dot(flat) / flat.hypot2()).clamp(0.0, shank.length_mm);
    (shank.head_at + shank.toward * s).z
}
