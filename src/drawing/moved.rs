//! What the user has drawn aside on a sheet: marks with their leaders, tags, names, figures.

use std::collections::BTreeMap;

use kurbo::{Affine, BezPath, ParamCurve as _, Point, Rect, Shape as _, Vec2};

use super::marks::{arrow, edge_toward};
use super::pen;
use super::text::Lettering;
use super::{Handle, Item, Layer, Line, Shape, Subject};
use crate::joint::Moved;

/// Puts what was drawn aside where it was put, and says what else can be. `view` names the view among those of
/// the sheet, so that the same mark in two views is told apart.
pub(super) fn apply(items: &mut [Item], view: &str, moved: &[Moved], lettering: &Lettering) -> Vec<Handle> {
    let by: BTreeMap<&str, Vec2> =
        moved.iter().map(|it| (it.what.as_str(), Vec2::new(it.by_mm.0, it.by_mm.1))).collect();
    let names = names(items, view);
    let mut things: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (n, name) in names.iter().enumerate() {
        if let Some(name) = name {
            things.entry(name).or_default().push(n);
        }
    }
    let mut handles = Vec::new();
    for (name, places) in things {
        if let Some(by) = by.get(name).filter(|it| it.is_finite()) {
            shift(items, &places, *by);
        }
        let boxes = places.iter().filter_map(|it| items.get(*it)).filter_map(|it| handle_box(it, lettering));
        if let Some(at) = boxes.reduce(|a, b| a.union(b)) {
            handles.push(Handle { what: name.to_owned(), at });
        }
    }
    handles
}

/// The name of the thing that each item is part of; `None` for what stays where it is.
fn names(items: &[Item], view: &str) -> Vec<Option<String>> {
    let mut figures: BTreeMap<String, usize> = BTreeMap::new();
    let name = |item: &Item| match (item.layer, &item.subject, &item.shape) {
        (Layer::Marks, Some(Subject::Fastener(id)), _) => Some(format!("{view} mark {id}")),
        (Layer::Marks, Some(Subject::Hole(connector, hole)), _) => {
            Some(format!("{view} tag {connector}/{hole}"))
        }
        (Layer::Notes, Some(Subject::Member(id)), _) => Some(format!("{view} name {id}")),
        (Layer::Dimensions, None, Shape::Text { words, .. }) => {
            let count = figures.entry(words.clone()).or_default();
            *count += 1;
            Some(if *count == 1 {
                format!("{view} figure {words}")
            } else {
                format!("{view} figure {words} #{count}")
            })
        }
        _ => None,
    };
    items.iter().map(name).collect()
}

/// Shifts a thing; a leader keeps hold of what it leads to.
fn shift(items: &mut [Item], places: &[usize], by: Vec2) {
    let mark = places.iter().filter_map(|it| items.get(*it)).find_map(|it| match &it.shape {
        Shape::Path { path, line: Some(Line::Mark(_)), .. } => Some(path.bounding_box() + by),
        Shape::Path { .. } | Shape::Text { .. } => None,
    });
    for place in places {
        let Some(item) = items.get_mut(*place) else { continue };
        let is_name = item.layer == Layer::Notes;
        match &mut item.shape {
            Shape::Text { at, .. } => *at += by,
            Shape::Path { path, line: Some(Line::Leader(_)), .. } => {
                if let Some(mark) = mark {
                    *path = led(path, mark);
                }
            }
            Shape::Path { path, line: Some(Line::Dimension), .. } if is_name => *path = hung(path, by),
            // The dot at the end of the leader of a name.
            Shape::Path { line: None, fill: Some(super::Fill::Shank), .. } if is_name => {}
            Shape::Path { path, .. } => path.apply_affine(Affine::translate(by)),
        }
    }
}

/// The leader of a mark that now stands there; its other end and its arrow stay.
fn led(path: &BezPath, mark: Rect) -> BezPath {
    let mut segments = path.segments();
    let Some(first) = segments.next() else { return path.clone() };
    let to = first.end();
    let from = edge_toward(mark, to);
    let mut led = pen::stroke(from, to);
    if segments.next().is_some() {
        led.extend(arrow(from, to).iter());
    }
    led
}

/// The leader of a name, shifted but for its last place.
fn hung(path: &BezPath, by: Vec2) -> BezPath {
    let mut places: Vec<Point> = path.segments().map(|it| it.start()).collect();
    places.extend(path.segments().last().map(|it| it.end()));
    let last = places.len().saturating_sub(1);
    for it in &mut places[..last] {
        *it += by;
    }
    pen::open_line(&places)
}

/// Where a thing is taken hold of: not by its leader.
fn handle_box(item: &Item, lettering: &Lettering) -> Option<Rect> {
    match &item.shape {
        Shape::Text { .. } => lettering.bounds(&item.shape),
        Shape::Path { path, line: Some(Line::Mark(_)), .. } => Some(path.bounding_box()),
        Shape::Path { .. } => None,
    }
}
