//! The letters that tag holes: what each is for is told by a letter, never by an outline.

use kurbo::{Point, Rect, Vec2};

use crate::drawing::pen::{self, Scene, Words};
use crate::drawing::place::Taken;
use crate::drawing::steel::{tag, tag_place};
use crate::drawing::text::CAPITAL;
use crate::drawing::{Anchor, Fill, Item, Layer, Subject};

/// Font size of the letter that tags a hole.
const TAG_MM: f64 = 2.5;

/// The letters beside the holes, which tell what each hole is for.
pub(super) fn draw(scene: &Scene<'_>, taken: &mut Taken) -> Vec<Item> {
    let mut items = Vec::new();
    for trace in &scene.inputs.trace.holes {
        let Some(connector) = scene.inputs.joint.connectors.get(trace.connector) else { continue };
        let Some(hole) = connector.plates.get(trace.plate).and_then(|it| it.holes.get(trace.hole)) else {
            continue;
        };
        let (at, out) = tag_place(scene, trace);
        if !at.is_finite() || out.hypot() <= 0.0 {
            continue;
        }
        let (letter, _) = tag(hole.duty);
        let out = out.normalize();
        let aside = Vec2::new(-out.y, out.x);
        let width = scene.lettering.width_mm(letter, TAG_MM, true) + 0.8;
        let height = TAG_MM * CAPITAL + 0.8;
        let straight = [(2.4, 0.0), (3.4, 0.0), (5.0, 0.0)];
        let beside = [(2.0, 2.7), (2.0, -2.7), (2.0, 3.8), (2.0, -3.8)];
        // Straight out of a hole with something in it goes the leader of its mark.
        let places = if trace.filled_by.is_empty() {
            [straight.as_slice(), &beside].concat()
        } else {
            [beside.as_slice(), &straight].concat()
        };
        let boxed = |(o, a): (f64, f64)| Rect::from_center_size(at + out * o + aside * a, (width, height));
        let free = places.iter().copied().map(boxed).find(|it| taken.is_free_box(*it));
        let place = free.unwrap_or_else(|| boxed(places[0]));
        taken.add_box(place);
        let subject = Some(Subject::Hole(connector.id.clone(), hole.id.clone()));
        let base = Point::new(place.center().x, place.center().y + TAG_MM * CAPITAL / 2.0);
        items.push(pen::path(
            Layer::Marks,
            subject.clone(),
            pen::rounded(place, 0.3),
            Some(Fill::Paper),
            None,
        ));
        items.push(Words::new(letter, TAG_MM).bold().anchored(Anchor::Middle).at(
            Layer::Marks,
            subject,
            base,
        ));
    }
    items
}
