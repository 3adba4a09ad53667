//! What lies under the pointer: a place on the paper to the subject of the nearest item.
//!
//! Reads the very items that are drawn, so whatever is drawn can be picked and nothing else can.

use std::collections::BTreeMap;

use kurbo::{ParamCurveNearest as _, Point, Rect, Shape as _};

use crate::drawing::{Anchor, Item, Layer, Shape, Subject};
use crate::shape::straightened;

/// The subject under a place on the paper, among items not farther away than `reach_mm`.
///
/// A thin thing goes before the large one that it lies on: a shank, then a hole, then steel,
/// then a member. Among equals the nearest, and of two as near the one painted later.
#[must_use]
pub fn at(items: &[Item], place: Point, reach_mm: f64) -> Option<&Subject> {
    let mut best: Option<((u8, f64), &Subject)> = None;
    for item in items {
        let Some(subject) = &item.subject else { continue };
        let away = distance(&item.shape, place, reach_mm);
        if reach_mm < away {
            continue;
        }
        let rank = (order(subject), away);
        if best.is_none_or(|(so_far, _)| rank.0 < so_far.0 || rank.0 == so_far.0 && rank.1 <= so_far.1) {
            best = Some((rank, subject));
        }
    }
    best.map(|it| it.1)
}

/// The subjects of which everything that is filled lies inside a box of the paper, each once.
#[must_use]
pub fn wholly_inside(items: &[Item], area: Rect) -> Vec<Subject> {
    let mut all: BTreeMap<&Subject, bool> = BTreeMap::new();
    for item in items {
        let (Some(subject), Shape::Path { path, fill: Some(_), .. }) = (&item.subject, &item.shape) else {
            continue;
        };
        if !matches!(item.layer, Layer::Members | Layer::Connectors | Layer::Fasteners) {
            continue;
        }
        *all.entry(subject).or_insert(true) &= area.contains_rect(path.bounding_box());
    }
    all.into_iter().filter(|it| it.1).map(|it| it.0.clone()).collect()
}

fn order(subject: &Subject) -> u8 {
    match subject {
        Subject::Fastener(_) => 0,
        Subject::Hole(..) | Subject::Dimension(_) => 1,
        Subject::Connector(_) => 2,
        Subject::Member(_) => 3,
    }
}

/// Distance from a place to a shape: zero inside a filled path; infinite for one that is far off.
fn distance(shape: &Shape, place: Point, reach_mm: f64) -> f64 {
    match shape {
        Shape::Path { path, fill, .. } => {
            if !path.bounding_box().inflate(reach_mm, reach_mm).contains(place) {
                return f64::INFINITY;
            }
            if fill.is_some() && straightened(path, 1e-3).winding(place) % 2 != 0 {
                return 0.0;
            }
            path.segments().map(|it| it.nearest(place, 1e-3).distance_sq.sqrt()).fold(f64::INFINITY, f64::min)
        }
        Shape::Text { at, turn_deg, .. } => {
            let turned = kurbo::Affine::rotate(turn_deg.to_radians()) * (place - at.to_vec2());
            let body = lying(shape);
            let (dx, dy) = (
                (body.x0 - turned.x).max(turned.x - body.x1).max(0.0),
                (body.y0 - turned.y).max(turned.y - body.y1).max(0.0),
            );
            dx.hypot(dy)
        }
    }
}

/// The box of a text about its anchor before it is turned, by the average width of a letter.
fn lying(shape: &Shape) -> Rect {
    let Shape::Text { words, size_mm, anchor, .. } = shape else { return Rect::ZERO };
    let width = 0.55 * size_mm * f64::from(u32::try_from(words.chars().count()).unwrap_or(u32::MAX));
    let left = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    };
    Rect::new(left, -0.75 * size_mm, left + width, 0.2 * size_mm)
}

/// The box of a shape on the paper; of a text, by the average width of a letter.
#[must_use]
pub fn bounds(shape: &Shape) -> Rect {
    match shape {
        Shape::Path { path, .. } => path.bounding_box(),
        Shape::Text { at, turn_deg, .. } => {
            let place =
                kurbo::Affine::translate(at.to_vec2()) * kurbo::Affine::rotate(-turn_deg.to_radians());
            place.transform_rect_bbox(lying(shape))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Fill, Ink, Line};

    fn area(subject: Subject, rect: Rect) -> Item {
        let path = rect.to_path(0.1);
        Item {
            layer: Layer::Members,
            subject: Some(subject),
            shape: Shape::Path { path, fill: Some(Fill::Lumber), line: Some(Line::Cut) },
        }
    }

    fn scene() -> Vec<Item> {
        let rim = Subject::Member("rim".into());
        let nail = Subject::Fastener("n1".into());
        vec![
            area(nail, Rect::new(10.0, 10.0, 50.0, 11.0)),
            area(rim.clone(), Rect::new(0.0, 0.0, 40.0, 40.0)),
            Item {
                layer: Layer::Notes,
                subject: Some(rim),
                shape: Shape::Text {
                    at: Point::new(100.0, 20.0),
                    words: "rim".into(),
                    size_mm: 3.0,
                    anchor: Anchor::Start,
                    turn_deg: 90.0,
                    bold: false,
                    ink: Ink::Plain,
                },
            },
        ]
    }

    #[test]
    fn thin_things_go_before_what_they_lie_on() {
        let items = scene();
        #[track_caller]
        fn case(items: &[Item], x: f64, y: f64, expected: &str) {
            let found = match at(items, Point::new(x, y), 2.0) {
                Some(Subject::Fastener(id) | Subject::Member(id) | Subject::Connector(id)) => id.as_str(),
                Some(Subject::Hole(..)) => "a hole",
                Some(Subject::Dimension(_)) => "a dimension",
                None => "nothing",
            };
            assert_eq!(found, expected, "at {x}, {y}");
        }
        case(&items, 20.0, 10.5, "n1"); // on the shank
        case(&items, 20.0, 12.5, "n1"); // in the grab zone of the shank, over the member
        case(&items, 20.0, 14.0, "rim"); // the member beside it
        case(&items, 41.5, 30.0, "rim"); // just outside the outline
        case(&items, 49.9, 12.9, "n1"); // the point, in air
        case(&items, 60.0, 60.0, "nothing");
        case(&items, 99.0, 18.0, "rim"); // on the turned word: it reads upward from its anchor
        case(&items, 99.0, 24.0, "nothing"); // beyond where the word begins
    }
}
